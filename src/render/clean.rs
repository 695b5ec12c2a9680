//! Texts from people, made fit to be said again: one line, nothing invisible, of bounded length.
//!
//! A name or a quotation may hold anything that a keyboard (or a program) can send. Control
//! characters would garble a terminal, marks of direction turn the rest of an answer around, and
//! stacked accents run over the lines above.

/// The longest quotation of a message, in characters.
const QUOTE_CHARS_MAX: usize = 60;

/// The longest description of a food, in characters: two lines of a phone with its weight.
const DESCRIPTION_CHARS_MAX: usize = 56;

/// Parts of the table's descriptions that tell a cook nothing.
const IDLE_PARTS: [&str; 8] = [
    "all commercial varieties",
    "all varieties",
    "all grades",
    "broilers or fryers",
    "enriched",
    "regular",
    "unenriched",
    "year round average",
];

/// The longest name of a dish, a person or a place in an answer, in characters.
const NAME_CHARS_MAX: usize = 40;

/// How many accents may stand on one letter; Vietnamese needs two.
const MARKS_MAX: usize = 2;

/// On one line, without control, invisible and direction characters; white space is folded.
pub fn clean(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    let mut marks = 0;
    for character in text.chars() {
        if character.is_whitespace() {
            if !clean.is_empty() && !clean.ends_with(' ') {
                clean.push(' ');
            }
            continue;
        }
        if !is_shown(character) {
            continue;
        }
        marks = if is_mark(character) { marks + 1 } else { 0 };
        if marks <= MARKS_MAX {
            clean.push(character);
        }
    }
    clean.truncate(clean.trim_end().len());
    clean
}

/// In quotation marks and cut to a bearable length.
pub fn quote(text: &str) -> String {
    format!(
        "\"{}\"",
        cut(&clean(text).replace('"', "'"), QUOTE_CHARS_MAX)
    )
}

/// The name of a dish, a food, a person or a place.
pub fn name(text: &str) -> String {
    cut(&clean(text), NAME_CHARS_MAX)
}

/// The first so many characters, with an ellipsis as the last of them if something is missing.
pub fn cut(text: &str, chars_max: usize) -> String {
    if text.chars().count() <= chars_max {
        return text.to_string();
    }
    let kept: String = text.chars().take(chars_max - 1).collect();
    format!("{}…", kept.trim_end())
}

/// First parts of descriptions that only tell the shelf.
const SHELVES: [&str; 4] = ["Beverages", "Nuts", "Seeds", "Spices"];

/// A description of the table as short as it stays clear: without brackets and idle parts, and with
/// no more of the others than fit; what it was made into (raw, dry, cooked) is never left out.
pub fn short(description: &str) -> String {
    short_within(description, DESCRIPTION_CHARS_MAX)
}

/// As [`short`], in about so many characters.
pub fn short_within(description: &str, chars_max: usize) -> String {
    let plain = without_brackets(&clean(description));
    let mut parts: Vec<&str> = plain
        .split(',')
        .map(str::trim)
        .filter(|part| !part.is_empty() && !IDLE_PARTS.contains(part))
        .collect();
    // The table files some foods under a shelf: "Spices, cumin seed" is cumin seed.
    if parts.len() > 1 && SHELVES.contains(&parts[0]) {
        parts.remove(0);
    }
    let state = parts
        .iter()
        .rposition(|part| is_state(part))
        .filter(|at| *at > 0);
    let reserved = state.map_or(0, |at| parts[at].chars().count() + 2);
    let mut kept = 0;
    let mut chars = 0;
    while kept < parts.len() {
        chars += parts[kept].chars().count() + if kept == 0 { 0 } else { 2 };
        let reserve = if state.is_some_and(|at| at > kept) {
            reserved
        } else {
            0
        };
        if kept > 0 && chars + reserve > chars_max {
            break;
        }
        kept += 1;
    }
    let mut short = cut(&parts[..kept].join(", "), chars_max);
    if let Some(at) = state.filter(|at| *at >= kept) {
        short.push_str(", ");
        short.push_str(&cut(parts[at], chars_max));
    }
    short
}

/// What a description begins with: "Rice" of "Rice, white, long-grain".
pub fn head(description: &str) -> String {
    name(description.split(',').next().unwrap_or(description))
}

fn is_state(part: &str) -> bool {
    let first = part.split(' ').next().unwrap_or(part);
    let words = [
        "raw", "dry", "dried", "cooked", "canned", "frozen", "boiled", "roasted", "uncooked",
    ];
    words.contains(&first)
}

fn without_brackets(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut depth = 0;
    for character in text.chars() {
        match character {
            '(' => depth += 1,
            ')' if depth > 0 => depth -= 1,
            _ if depth == 0 => plain.push(character),
            _ => {}
        }
    }
    clean(&plain)
}

/// A character that may stand in an answer; white space is another matter.
pub fn is_shown(character: char) -> bool {
    !character.is_control() && !is_invisible(character)
}

/// Zero-width, filling, tagging and direction characters, which nobody sees.
fn is_invisible(character: char) -> bool {
    matches!(
        character,
        '\u{00AD}'
            | '\u{034F}'
            | '\u{061C}'
            | '\u{115F}'
            | '\u{1160}'
            | '\u{17B4}'
            | '\u{17B5}'
            | '\u{180B}'..='\u{180F}'
            | '\u{200B}'..='\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}'
            | '\u{3164}'
            | '\u{FEFF}'
            | '\u{FFA0}'
            | '\u{FFF9}'..='\u{FFFB}'
            | '\u{E0000}'..='\u{E0FFF}'
    )
}

fn is_mark(character: char) -> bool {
    matches!(
        character,
        '\u{0300}'..='\u{036F}'
            | '\u{1AB0}'..='\u{1AFF}'
            | '\u{1DC0}'..='\u{1DFF}'
            | '\u{20D0}'..='\u{20FF}'
            | '\u{FE20}'..='\u{FE2F}'
    )
}

pub fn capital(text: &str) -> String {
    let (first, rest) = text.split_at(text.len().min(1));
    format!("{}{rest}", first.to_uppercase())
}

/// "On" of what food is put on, and "in" of what it is put into.
pub fn stands_on(place: &str) -> bool {
    let on = [
        "counter",
        "worktop",
        "countertop",
        "shelf",
        "sideboard",
        "windowsill",
        "sill",
        "ledge",
        "hob",
        "stovetop",
        "table",
    ];
    place
        .rsplit(' ')
        .next()
        .is_some_and(|noun| on.contains(&noun))
}

/// A place with its article: "the freezer", "mum's freezer", "my fridge".
pub fn the(place: &str) -> String {
    let first = place.split(' ').next().unwrap_or_default();
    let owned = first.ends_with("'s") || first.ends_with("\u{2019}s");
    match owned || matches!(first, "my" | "our") {
        true => place.to_owned(),
        false => format!("the {place}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn cleaned(text: &str, expected: &str) {
        assert_eq!(clean(text), expected);
    }

    #[test]
    fn nothing_invisible_comes_out() {
        cleaned("  dal \t\r\n with\u{a0}rice ", "dal with rice");
        cleaned("da\u{0}l\u{7}\u{1b}[31m", "dal[31m");
        cleaned("a\u{202e}b\u{200b}c\u{feff}d\u{e0041}", "abcd");
        cleaned("line\u{2028}two\u{85}three", "line two three");
        cleaned("z\u{301}\u{302}\u{303}\u{304}", "z\u{301}\u{302}");
    }

    #[test]
    fn letters_of_any_script_stay() {
        for text in [
            "Käsespätzle",
            "crème fraîche",
            "味噌",
            "дал",
            "دال",
            "ph\u{1edf}",
            "½ dal",
        ] {
            cleaned(text, text);
        }
    }

    #[test]
    fn quotations_are_bounded_and_closed() {
        assert_eq!(quote("140 \"big\" dal"), "\"140 'big' dal\"");
        let long = quote(&"ab ".repeat(2000));
        assert!(long.chars().count() <= QUOTE_CHARS_MAX + 2);
        assert!(long.ends_with("…\""));
    }

    #[test]
    fn descriptions_lose_brackets_and_tails() {
        for (whole, expected) in [
            ("Lentils, raw", "Lentils, raw"),
            (
                "Oil, sunflower, linoleic, (approx. 65%)",
                "Oil, sunflower, linoleic",
            ),
            (
                "Nuts, coconut milk, canned (liquid expressed from grated meat and water)",
                "coconut milk, canned",
            ),
            (
                "Rice, white, long-grain, regular, raw, enriched",
                "Rice, white, long-grain, raw",
            ),
            (
                "Chicken, broilers or fryers, dark meat, thigh, meat only, raw",
                "Chicken, dark meat, thigh, meat only, raw",
            ),
            (
                "Beef, chuck, under blade steak, boneless, separable lean and fat, trimmed to 0\" fat, all grades, raw",
                "Beef, chuck, under blade steak, boneless, raw",
            ),
            ("(odd", ""),
        ] {
            assert_eq!(short(whole), expected);
        }
        assert!(short(&"x".repeat(900)).chars().count() < 120);
    }
}
