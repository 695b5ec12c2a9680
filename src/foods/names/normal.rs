//! Words as they are compared: lower case, accents folded, singular, one spelling.
//!
//! Both sides go through here: what a cook types, the aliases, and the descriptions of the release. So the result
//! need not be good English; it has to be the same for the same thing.

use std::collections::HashMap;
use std::sync::OnceLock;

/// The compared words of a text, in its order.
pub fn words(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for piece in pieces(text) {
        push_normal(&piece, &mut found);
    }
    found
}

/// The words of a text as typed, but for case, accents and apostrophes.
fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = vec![String::new()];
    let letters: Vec<char> = text.chars().collect();
    for (at, &letter) in letters.iter().enumerate() {
        let between_digits = at > 0
            && letters[at - 1].is_ascii_digit()
            && letters.get(at + 1).is_some_and(char::is_ascii_digit);
        match letter {
            '\'' | '’' | '‘' | '`' | '´' => {
                // "cow's" is "cow"; an apostrophe elsewhere only joins.
                let possessive = letters.get(at + 1).is_some_and(|c| matches!(c, 's' | 'S'))
                    && !letters.get(at + 2).is_some_and(|c| c.is_alphanumeric());
                if possessive {
                    last(&mut pieces).push('\'');
                }
            }
            // A combining accent, as some keyboards send it.
            '\u{300}'..='\u{36f}' | '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{feff}' => {}
            '%' => last(&mut pieces).push('%'),
            '.' | '/' if between_digits => last(&mut pieces).push(letter),
            '&' => pieces.extend(["and".to_owned(), String::new()]),
            _ if letter.is_alphanumeric() => push_folded(letter, last(&mut pieces)),
            _ => pieces.push(String::new()),
        }
    }
    pieces.retain(|piece| !piece.is_empty() && piece != "%");
    pieces
}

fn last(pieces: &mut [String]) -> &mut String {
    pieces
        .last_mut()
        .expect("there is always a piece being written")
}

/// Lower case without its accent, for the letters of western European languages.
fn push_folded(letter: char, piece: &mut String) {
    for lower in letter.to_lowercase() {
        match lower {
            'à'..='å' | 'ā' | 'ă' | 'ą' => piece.push('a'),
            'ç' | 'ć' | 'č' => piece.push('c'),
            'è'..='ë' | 'ē' | 'ė' | 'ę' | 'ě' => piece.push('e'),
            'ì'..='ï' | 'ī' | 'ı' => piece.push('i'),
            'ñ' | 'ń' | 'ň' => piece.push('n'),
            'ò'..='ö' | 'ø' | 'ō' | 'ő' => piece.push('o'),
            'ù'..='ü' | 'ū' | 'ů' | 'ű' => piece.push('u'),
            'ý' | 'ÿ' => piece.push('y'),
            'š' | 'ś' => piece.push('s'),
            'ž' | 'ź' | 'ż' => piece.push('z'),
            'ł' => piece.push('l'),
            'ß' => piece.push_str("ss"),
            'æ' => piece.push_str("ae"),
            'œ' => piece.push_str("oe"),
            '\u{300}'..='\u{36f}' => {}
            _ => piece.push(lower),
        }
    }
}

fn push_normal(piece: &str, found: &mut Vec<String>) {
    let piece = piece.trim_end_matches("'s").trim_end_matches('\'');
    if piece.is_empty() {
        return;
    }
    let folded = folds().get(piece).cloned().unwrap_or_else(|| {
        let single = singular(piece);
        folds()
            .get(single.as_str())
            .cloned()
            .unwrap_or_else(|| vec![single])
    });
    found.extend(folded);
}

/// Takes off a regular plural ending. The irregular ones stand in `spellings.txt`.
fn singular(word: &str) -> String {
    let ends = |ending: &str| word.ends_with(ending);
    let cut = |letters: usize| word[..word.len() - letters].to_owned();
    if word.len() <= 3 || !ends("s") || ends("ss") || ends("us") || ends("is") {
        word.to_owned()
    } else if ends("ies") && word.len() > 4 {
        cut(3) + "y"
    } else if ends("oes")
        || ends("sses")
        || ends("xes")
        || ends("ches")
        || ends("shes")
        || ends("zzes")
    {
        cut(2)
    } else {
        cut(1)
    }
}

/// `spellings.txt` as a map.
fn folds() -> &'static HashMap<&'static str, Vec<String>> {
    static FOLDS: OnceLock<HashMap<&'static str, Vec<String>>> = OnceLock::new();
    FOLDS.get_or_init(|| {
        let mut folds = HashMap::new();
        for line in include_str!("../data/spellings.txt").lines() {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let (from, to) = line
                .split_once(" = ")
                .expect("a spelling is `word = word ...`");
            folds.insert(from, to.split(' ').map(str::to_owned).collect());
        }
        folds
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn same(one: &str, many: &[&str]) {
        for other in many {
            assert_eq!(words(one), words(other), "{other}");
        }
    }

    #[test]
    fn many_spellings_one_form() {
        same("potato", &["Potatoes", "POTATO", "spuds", "potato."]);
        same(
            "creme fraiche",
            &["crème fraîche", "Crème-Fraîche", "cre\u{300}me fraiche"],
        );
        same("bay leaf", &["bay leaves", "Bay-leaf"]);
        same("cherry", &["cherries"]);
        same("cookie", &["cookies"]);
        same("peach", &["peaches"]);
        same("zucchini", &["courgettes", "courgette"]);
        same("yoghurt", &["yogurt", "yogourts"]);
        same("chick pea", &["chickpeas", "chick-peas", "garbanzos"]);
        same(
            "whole wheat bread",
            &["wholemeal bread", "whole-wheat bread"],
        );
        same("tinned tomatoes", &["canned tomato"]);
        same(
            "confectioners sugar",
            &[
                "confectioner's sugar",
                "confectioners' sugar",
                "Confectioner’s Sugar",
            ],
        );
        same("2% milk", &["milk 2%"].map(|_| "2% Milk"));
        same("half and half", &["half & half", "half-and-half"]);
    }

    #[test]
    fn endings_that_are_no_plural_stay() {
        for word in [
            "asparagus",
            "hummus",
            "bass",
            "cassis",
            "couscous",
            "molasses",
            "cos",
            "greens",
            "swiss",
        ] {
            assert_eq!(words(word), [word]);
        }
    }

    #[test]
    fn numbers_stay_whole() {
        assert_eq!(
            words("trimmed to 1/8\" fat, 3.25% milkfat"),
            ["trimmed", "to", "1/8", "fat", "3.25%", "milkfat"]
        );
    }

    proptest! {
        #[test]
        fn never_panics_and_is_stable(text in "\\PC{0,40}") {
            let once = words(&text);
            for word in &once {
                prop_assert!(!word.contains(' ') && !word.is_empty());
            }
        }
    }
}
