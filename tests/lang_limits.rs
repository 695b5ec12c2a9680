//! The language takes anything: no text makes it panic, none makes it slow.

mod spoken;

use std::time::{Duration, Instant};

use hobside::lang::parse;
use proptest::prelude::*;
use spoken::household;

/// Words that mean something to the grammar, so that random runs of them go deep into it.
const WORDS: &[&str] = &[
    "140",
    "1,240",
    "1.240",
    "½",
    "2 1/2",
    "1.2.3",
    "0",
    "200 kg",
    "g",
    "kg",
    "tbsp",
    "cup",
    "dal",
    "rice",
    "mac",
    "and",
    "cheese",
    "D7",
    "NDB",
    "16069",
    "half",
    "the",
    "of",
    "a",
    "an",
    "one",
    "thirty",
    "rest",
    "all",
    "batch",
    "raw",
    "cooked",
    "weighed",
    "pot",
    "blue",
    "bowl",
    "bags",
    "each",
    "less",
    "tare",
    "gross",
    "net",
    "in",
    "freezer",
    "made",
    "yesterday",
    "marinade:",
    "rest:",
    ",",
    ";",
    "\n",
    ":",
    "(",
    ")",
    "+",
    "-",
    "->",
    "=",
    "/",
    "x",
    "×",
    "?",
    "!",
    ".",
    "add",
    "to",
    "line",
    "3",
    "off",
    "poured",
    "for",
    "Ana",
    "me",
    "two",
    "60/40",
    "lunch",
    "had",
    "not",
    "no",
    "make",
    "it",
    "packet",
    "per",
    "100 g",
    "kcal",
    "protein",
    "12",
    "salt",
    "pinch",
    "taste",
    "some",
    "binned",
    "recount",
    "how",
    "much",
    "many",
    "is",
    "left",
    "what",
    "undo",
    "2%",
    "$",
    "19:30",
    "2 x 400 g",
    "cans",
    "tin",
    "clove",
    "ladle",
    "@hobside",
    "anyway",
    "same",
    "as",
    "usual",
    "put",
    "back",
    "take",
    "was",
    "that",
];

#[track_caller]
fn quick(text: &str, most: Duration) {
    let vocabulary = household();
    parse("140 dal", &vocabulary);
    let start = Instant::now();
    let parsed = parse(text, &vocabulary);
    let taken = start.elapsed();
    assert!(!parsed.readings.is_empty());
    assert!(
        taken < most,
        "{taken:?} for {:?}...",
        text.chars().take(60).collect::<String>()
    );
}

/// Far above what a text takes, so that only one that hangs fails here, however busy the machine: how
/// fast the language is, a benchmark tells.
const MOST: Duration = Duration::from_secs(5);

#[test]
fn no_repetition_is_slow() {
    let units = WORDS.iter().map(|word| (*word).to_owned());
    let pairs = WORDS
        .iter()
        .enumerate()
        .map(|(at, word)| format!("{word} {}", WORDS[(at * 7 + 3) % WORDS.len()]));
    let triples = WORDS.iter().enumerate().map(|(at, word)| {
        let second = WORDS[(at * 11 + 5) % WORDS.len()];
        let third = WORDS[(at * 13 + 1) % WORDS.len()];
        format!("{word} {second} {third}")
    });
    let known = [
        "140 dal, ",
        "140 dal\n",
        "dal 140 ",
        "a a ",
        "and a ",
        "5 x and 5 ",
        "1 stick ",
        "2 bags 9 each, ",
        "cooked 1 + ",
        "me 5 of ",
        "Ana 5, ",
        "(",
        "1 (",
        "((1)) ",
        "- 5 ",
        "1 - ",
        "1 + ",
        "one ",
        "hundred ",
        "half ",
        "half a ",
        "1/2 ",
        "not ",
        "31 not 13 ",
        "put back ",
        "1.",
        "1,",
        "1'",
        ",",
        "\n",
        "é",
        "\u{200b}",
        "1\u{200b}",
        "🍲 ",
        "a:",
        "1:",
        "line 3 ",
        "dal + ",
        "batch dal ",
        "packet a per 100 g: 1 kcal ",
        "kcal in ",
        "1 kcal ",
    ];
    for unit in units
        .chain(pairs)
        .chain(triples)
        .chain(known.iter().map(|unit| (*unit).to_owned()))
    {
        for lead in ["", "batch x: ", "dal + ", "packet x: ", "140 dal, "] {
            let count = 4096 / (unit.len() + 1);
            let text = format!("{lead}{}", format!("{unit} ").repeat(count));
            quick(&text, MOST);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn anything_parses(text in "\\PC{0,200}") {
        let parsed = parse(&text, &household());
        prop_assert!(!parsed.readings.is_empty());
    }

    #[test]
    fn any_bytes_parse(bytes in proptest::collection::vec(any::<char>(), 0..120)) {
        let text: String = bytes.into_iter().collect();
        let parsed = parse(&text, &household());
        for reading in &parsed.readings {
            for error in &reading.errors {
                prop_assert!(text.get(error.span.clone()).is_some(), "{:?} in {text:?}", error.span);
            }
        }
    }

    #[test]
    fn any_run_of_words_parses(words in proptest::collection::vec(proptest::sample::select(WORDS), 0..40), glue in "[ ]{0,1}") {
        let text = words.join(if glue.is_empty() { "" } else { " " });
        let parsed = parse(&text, &household());
        for reading in &parsed.readings {
            prop_assert!(!(reading.sure && reading.commands.is_empty()), "{text:?}");
            for error in &reading.errors {
                prop_assert!(text.get(error.span.clone()).is_some(), "{:?} in {text:?}", error.span);
            }
        }
    }
}
