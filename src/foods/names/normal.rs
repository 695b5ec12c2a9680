//! Words as they are compared: lower case, accents folded, singular, one spelling.
//!
//! Both sides go through here: what a cook types, the aliases, and the descriptions of the release. So the result
//! need not be good English; it has to be the same for the same thing.

use std::borrow::Cow;
use std::sync::OnceLock;

use super::hash::WordMap;

/// The compared words of a text, in its order.
pub fn words(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut piece = String::new();
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        let mut after = text[at + letter.len_utf8()..].chars();
        match letter {
            '\'' | '’' | '‘' | '`' | '´' => {
                // "cow's" is "cow"; an apostrophe elsewhere only joins.
                let is_s = matches!(after.next(), Some('s' | 'S'));
                if is_s && !after.next().is_some_and(char::is_alphanumeric) {
                    piece.push('\'');
                }
            }
            // Accents that combine with the letter before, and marks that nobody sees.
            '\u{300}'..='\u{36f}' | '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{feff}' => {}
            '%' => piece.push('%'),
            '.' | '/'
                if before.is_ascii_digit() && after.next().is_some_and(|c| c.is_ascii_digit()) =>
            {
                piece.push(letter);
            }
            '&' => {
                push_normal(&mut piece, &mut found);
                found.push("and".to_owned());
            }
            _ if letter.is_alphanumeric() => push_folded(letter, &mut piece),
            _ => push_normal(&mut piece, &mut found),
        }
        before = letter;
    }
    push_normal(&mut piece, &mut found);
    found
}

/// The compared form of a word of small letters, where it is one word and has no other spelling: the quick way
/// for most.
pub fn word(text: &str) -> Option<Cow<'_, str>> {
    let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_lowercase());
    let single = plain.then(|| singular(text))?;
    let respelled = folds().contains_key(text) || folds().contains_key(&*single);
    (!respelled).then_some(single)
}

/// Lower case without its accent, for the letters of western European languages.
fn push_folded(letter: char, piece: &mut String) {
    if letter.is_ascii() {
        piece.push(letter.to_ascii_lowercase());
        return;
    }
    for lower in letter.to_lowercase() {
        match lower {
            'à'..='å' | 'ā' | 'ă' | 'ą' => piece.push('a'),
            'ａ'..='ｚ' => piece.push(char::from(b'a' + (lower as u32 - 'ａ' as u32) as u8)),
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

/// Ends the piece and adds the words that it stands for.
fn push_normal(piece: &mut String, found: &mut Vec<String>) {
    let word = piece.trim_end_matches("'s").trim_end_matches('\'');
    if !word.is_empty() && word != "%" {
        let single = singular(word);
        match folds().get(word).or_else(|| folds().get(&*single)) {
            Some(folded) => found.extend(folded.iter().map(|&word| word.to_owned())),
            None => found.push(single.into_owned()),
        }
    }
    piece.clear();
}

/// Takes off a regular plural ending. The irregular ones stand in `spellings.txt`.
fn singular(word: &str) -> Cow<'_, str> {
    let ends = |ending: &str| word.ends_with(ending);
    let cut = |letters: usize| Cow::from(&word[..word.len() - letters]);
    if word.len() <= 3 || !ends("s") || ends("ss") || ends("us") || ends("is") {
        word.into()
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
fn folds() -> &'static WordMap<&'static str, Vec<&'static str>> {
    static FOLDS: OnceLock<WordMap<&'static str, Vec<&'static str>>> = OnceLock::new();
    FOLDS.get_or_init(|| {
        let mut folds = WordMap::default();
        for line in include_str!("../data/spellings.txt").lines() {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let (from, to) = line
                .split_once(" = ")
                .expect("a spelling is `word = word ...`");
            folds.insert(from, to.split(' ').collect());
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
