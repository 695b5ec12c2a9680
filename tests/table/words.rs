//! Near spellings, known words, the alias table, and that nothing typed can make the table panic.

use std::collections::HashMap;

use hobside::foods::{Code, Food, Found, How, Match, table};
use proptest::prelude::*;

#[track_caller]
fn taken(name: &str) -> Match {
    match table().find(name) {
        Found::Taken(found) => found,
        other => panic!("{name}: {other:?}"),
    }
}

#[test]
fn near_names_are_spelt_nearly_so() {
    for (typed, code) in [
        ("lentl", 16069),
        ("parsnp", 11298),
        ("onoin", 11282),
        ("corriander", 11165),
        ("zuchini", 11477),
        ("smoked paprkia", 2028),
        ("courgete", 11477),
        ("chikpeas", 16056),
        ("tumeric", 2043),
        ("cauliflwoer", 11135),
    ] {
        let near = table().near(typed, 3);
        assert_eq!(
            near.first().map(|near| near.code),
            Some(Code(code)),
            "{typed}: {near:?}"
        );
    }
    for typed in [
        "gochujang paste",
        "asdfgh",
        "xyzzy",
        "the",
        "",
        "halloumi",
        "table",
        "monday",
    ] {
        assert_eq!(table().near(typed, 3), [], "{typed}");
    }
    assert!(table().near("bean", 2).len() <= 2);
}

#[test]
fn words_of_food_are_known_and_others_are_not() {
    for word in [
        "onion",
        "Onions",
        "courgette",
        "prawns",
        "lentils",
        "rice",
        "chicken",
        "halibut",
        "yoghurt",
    ] {
        assert!(table().knows_word(word), "{word}");
    }
    for word in [
        "the",
        "of",
        "chopped",
        "monday",
        "kitchen",
        "7",
        "500",
        "",
        "please",
        "yesterday",
        "with",
    ] {
        assert!(!table().knows_word(word), "{word}");
    }
}

#[test]
fn aliases_name_each_food_once() {
    let mut seen = HashMap::new();
    for alias in table().aliases() {
        for code in alias.codes() {
            assert!(table().get(code).is_some(), "{:?} {code}", alias.names);
        }
        let first = table().get(alias.code).unwrap();
        assert!(
            first.manufacturer.is_empty(),
            "{:?} is branded",
            alias.names
        );
        for name in &alias.names {
            assert_eq!(*name, name.to_lowercase(), "lower case");
            assert_eq!(seen.insert(*name, alias.code), None, "{name} stands twice");
            assert_eq!(taken(name).how, How::Alias, "{name}");
            assert_eq!(
                taken(name).code,
                alias.code,
                "{name} is hidden by another name"
            );
        }
    }
    assert!(seen.len() > 200);
}

#[test]
fn brands_are_never_taken_unasked() {
    for food in table()
        .foods()
        .iter()
        .filter(|food| !food.manufacturer.is_empty())
        .step_by(7)
    {
        if let Found::Taken(found) = table().find(&food.description) {
            let by_alias = found.how == How::Alias;
            let other = table().get(found.code).unwrap();
            assert!(
                by_alias || other.manufacturer.is_empty(),
                "{}",
                food.description
            );
        }
    }
}

/// The description itself finds its food, or is at least among the choices, for most plain foods.
#[test]
fn descriptions_find_their_foods() {
    let (mut taken, mut offered, mut other) = (0, 0, Vec::new());
    let plain = |food: &&Food| food.manufacturer.is_empty() && food.code < Code(21000);
    for food in table().foods().iter().filter(plain).step_by(11) {
        match table().find(&food.description) {
            Found::Taken(found) if found.code == food.code => taken += 1,
            Found::Several(codes) if codes.contains(&food.code) => offered += 1,
            found => other.push((&food.description, found)),
        }
    }
    let all = taken + offered + other.len();
    assert!(
        taken * 100 > all * 60,
        "{taken} taken, {offered} offered of {all}: {other:#?}"
    );
    assert!(
        (taken + offered) * 100 > all * 85,
        "{taken} taken, {offered} offered of {all}: {other:#?}"
    );
}

proptest! {
    #[test]
    fn finding_never_panics(text in "\\PC{0,60}") {
        table().find(&text);
        table().near(&text, 5);
        table().knows_word(&text);
    }

    #[test]
    fn finding_food_words_never_panics(words in prop::collection::vec(prop::sample::select(WORDS), 0..6)) {
        let text = words.join(" ");
        if let Found::Several(codes) = table().find(&text) {
            prop_assert!((1..=5).contains(&codes.len()));
        }
        table().near(&text, 5);
    }

    #[test]
    fn measuring_never_panics(at in 0..8_789_usize, count in 0.0..100.0_f64, text in "\\PC{0,20}") {
        let food = &table().foods()[at];
        let words: Vec<&str> = text.split(' ').collect();
        for found in [food.weigh_measure(count, &words), food.weigh_measure(count, &[])].into_iter().flatten() {
            prop_assert!(found.grams >= 0.0);
        }
        food.measure_qualifiers(&text);
        if let Some(density) = food.grams_per_ml(&words) {
            prop_assert!(density.grams_per_ml > 0.0);
        }
    }
}

const WORDS: &[&str] = &[
    "chicken",
    "cooked",
    "raw",
    "thigh",
    "of",
    "rice",
    ",",
    "chopped",
    "fresh",
    "dried",
    "canned",
    "onion",
    "with",
    "ground",
    "leaf",
    "oil",
    "skinless",
    "2%",
    "fried",
    "soup",
    "ndb",
    "16069",
    "milk",
    "chocolate",
    "(",
    "large",
];
