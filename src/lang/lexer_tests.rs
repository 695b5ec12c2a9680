//! Tables of texts and the tokens that they are cut into.

use super::*;

#[track_caller]
fn shape(text: &str, expected: &str) {
    let shown: Vec<String> = lex(text)
        .iter()
        .map(|token| match &token.kind {
            Kind::Word(norm) => norm.clone(),
            Kind::Number(numeral) => match numeral.other {
                Some(other) => format!("#{}|{other}", numeral.value),
                None => format!("#{}", numeral.value),
            },
            Kind::Unreadable => "#bad".into(),
            Kind::Percent(value) => format!("{value}%"),
            Kind::Ratio(a, b) => format!("{a}:{b}"),
            Kind::Clock => "clock".into(),
            Kind::Date(day, month, year) => format!("{year}-{month}-{day}"),
            Kind::Ordinal(n) => format!("{n}."),
            Kind::Symbol(c) => format!("'{c}'"),
            Kind::Newline => "/".into(),
        })
        .collect();
    assert_eq!(shown.join(" "), expected, "{text:?}");
}

#[test]
fn numbers_are_read_whole() {
    shape("1,240 g", "#1240 g");
    shape("1,5", "#1.5");
    shape("0,5", "#0.5");
    shape("1.240,5", "#1240.5");
    shape("1,240.5", "#1240.5");
    shape("1,240,000", "#1240000");
    shape("1\u{a0}240 g", "#1240 g");
    shape("1\u{2009}240,5", "#1240.5");
    shape("1\u{202f}240", "#1240");
    shape("1 240", "#1 #240");
    shape("1 000 g", "#1000 g");
    shape("1 050 000", "#1050000");
    shape("1 0", "#1 #0");
    shape("2 0000", "#2 #0");
    shape("1234 000", "#1234 #0");
    shape("1'240", "#1240");
    shape("1’240.50", "#1240.5");
    shape("1.240", "#1.24|1240");
    shape("½", "#0.5");
    shape("2½", "#2.5");
    shape("2 ½", "#2.5");
    shape("2 1/2", "#2.5");
    shape("2-1/2", "#2.5");
    shape("1/3", "#0.3333333333333333");
    shape("3⁄4", "#0.75");
    shape("١٣٠ g", "#130 g");
    shape("１３０ｇ", "#130 g");
    shape("1\u{200b}30 g", "#130 g");
    shape("1\u{2060}2\u{feff}40", "#1240");
    shape(".5", "#0.5");
}

#[test]
fn what_is_no_number_is_never_a_fragment() {
    for text in [
        "1.2.3",
        "1e400",
        "1e3",
        "1E+5",
        "0x10",
        "1,24,5",
        "12.34.56,7",
        "1''2",
        "1_240",
        "10²",
        "①",
        "1.2,3.4",
        "1..5",
        "1/0",
        "1/2/3/4",
    ] {
        shape(text, "#bad");
    }
}

#[test]
fn numbers_that_are_no_masses() {
    shape("at 19:30", "at clock");
    shape("80/20 mince", "80:20 mince");
    shape("2% milk", "2% milk");
    shape("the 2nd", "the 2.");
    shape("2026-10-14", "2026-10-14");
    shape("14/10/2026", "2026-10-14");
}

#[test]
fn words_and_glue() {
    shape("130g soup+90g beans", "#130 g soup '+' #90 g beans");
    shape("soup130", "soup #130");
    shape("140 D7", "#140 d7");
    shape("2x400g", "#2 x #400 g");
    shape("2×400 g", "#2 '×' #400 g");
    shape("eggs x2", "eggs x #2");
    shape("Sunday’s stir-fry", "sundays stir fry");
    shape("Crème fraîche", "creme fraiche");
    shape("688-402", "#688 '-' #402");
    shape("- 130 soup\n• 90 beans", "#130 soup / #90 beans");
    shape("702 -> 655", "#702 '→' #655");
    shape("130 soup 🍲, 90 beans", "#130 soup ',' #90 beans");
    shape("a\r\nb\rc", "a / b / c");
    shape("so... yes", "so '.' yes");
    shape("14-oz can", "#14 oz can");
    shape("15-ounce", "#15 ounce");
    shape("130-beans", "#130 '-' beans");
    shape("beans.", "beans '.'");
}
