//! Lists: merging, the cupboard, packs, and the order of the shop.

use super::*;
use crate::domain::ids::EntryId;
use crate::domain::prep::goods::GoodFact;
use crate::foods::Code;

fn good(food: u32, words: &str) -> Good {
    Good {
        food: (food > 0).then_some(Code(food)),
        key: words.to_lowercase(),
        words: words.to_owned(),
    }
}

fn grams(grams: i64) -> Mass {
    Mass::from_mg(grams * 1000)
}

fn wanted(food: u32, words: &str, mass: i64) -> Wanted {
    Wanted {
        good: good(food, words),
        mass: (mass > 0).then(|| grams(mass)),
        as_bought: false,
    }
}

fn told(facts: &[(Good, GoodFact)]) -> Goods {
    let mut goods = Goods::default();
    for (at, (good, fact)) in facts.iter().enumerate() {
        goods.remember(EntryId(at as i64), good.clone(), fact.clone());
    }
    goods
}

#[track_caller]
fn buys(wanted: &[Wanted], goods: &Goods, expected: &[(&str, Option<i64>)]) {
    let list = list(wanted, goods, &Shelves::default());
    let found: Vec<(&str, Option<Mass>)> = list
        .iter()
        .map(|line| (line.good.words.as_str(), line.buy))
        .collect();
    let expected: Vec<(&str, Option<Mass>)> = expected
        .iter()
        .map(|(words, mass)| (*words, mass.map(grams)))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn one_food_under_two_words_is_one_line_and_keeps_the_newer() {
    let lines = [
        wanted(1, "red lentils", 400),
        wanted(0, "asafoetida", 0),
        wanted(1, "lentils", 250),
        wanted(0, "Asafoetida", 3),
    ];
    buys(
        &lines,
        &Goods::default(),
        &[("Asafoetida", Some(3)), ("lentils", Some(650))],
    );
}

#[test]
fn what_the_cupboard_has_is_not_bought() {
    let facts = [
        (good(0, "salt"), GoodFact::Cupboard(Cupboard::Always)),
        (
            good(0, "flour"),
            GoodFact::Cupboard(Cupboard::Holds(grams(2000))),
        ),
        (
            good(0, "rice"),
            GoodFact::Cupboard(Cupboard::Holds(grams(300))),
        ),
        (good(0, "oil"), GoodFact::Cupboard(Cupboard::Out)),
    ];
    let lines = [
        wanted(0, "salt", 20),
        wanted(0, "flour", 1500),
        wanted(0, "rice", 500),
        wanted(0, "oil", 40),
    ];
    buys(
        &lines,
        &told(&facts),
        &[("oil", Some(40)), ("rice", Some(200))],
    );
}

#[test]
fn order_is_use_until_the_next_delivery_less_stock() {
    // A term of the trade: 5 x 10 - 28 = 22.
    let facts = [(
        good(0, "eggs"),
        GoodFact::Cupboard(Cupboard::Holds(grams(28))),
    )];
    buys(
        &[wanted(0, "eggs", 50)],
        &told(&facts),
        &[("eggs", Some(22))],
    );
}

#[test]
fn packs_are_bought_whole() {
    let pack = GoodFact::Pack {
        mass: grams(500),
        word: "bag".into(),
    };
    let facts = [(good(1, "lentils"), pack)];
    for (need, count) in [(1, 1), (500, 1), (501, 2), (1000, 2)] {
        let list = list(
            &[wanted(1, "red lentils", need)],
            &told(&facts),
            &Shelves::default(),
        );
        assert_eq!(
            list[0].packs.as_ref().map(|packs| packs.count),
            Some(count),
            "{need}"
        );
        assert_eq!(list[0].buy, Some(grams(500 * i64::from(count))));
    }
}

#[test]
fn what_is_weighed_as_bought_has_its_trimmings() {
    let trimmed = GoodFact::Trimmed {
        bought: grams(1000),
        trimmed: grams(800),
    };
    let goods = told(&[(good(1, "parsnips"), trimmed)]);
    buys(
        &[wanted(1, "parsnips", 400)],
        &goods,
        &[("parsnips", Some(500))],
    );
    let as_bought = Wanted {
        as_bought: true,
        ..wanted(1, "parsnips", 400)
    };
    buys(&[as_bought], &goods, &[("parsnips", Some(400))]);
}

#[test]
fn amounts_are_rounded_up_to_what_one_asks_for() {
    for (need, buy) in [(7, 7), (101, 110), (995, 1000), (1183, 1200), (2000, 2000)] {
        buys(
            &[wanted(0, "onions", need)],
            &Goods::default(),
            &[("onions", Some(buy))],
        );
    }
}

#[test]
fn the_list_follows_the_last_walk_through_the_shop() {
    let lines: Vec<Wanted> = ["apples", "bread", "cumin", "dates"]
        .map(|words| wanted(0, words, 100))
        .to_vec();
    let order = |shelves: &Shelves| -> Vec<String> {
        let list = list(&lines, &Goods::default(), shelves);
        list.into_iter().map(|line| line.good.words).collect()
    };
    let keys = |words: &[&str]| {
        words
            .iter()
            .map(|word| (*word).to_owned())
            .collect::<Vec<_>>()
    };
    let mut shelves = Shelves::default();
    assert_eq!(order(&shelves), ["apples", "bread", "cumin", "dates"]);
    shelves.walked(&keys(&["dates", "cumin", "bread"]));
    // What was not there when it was last walked comes last.
    assert_eq!(order(&shelves), ["dates", "cumin", "bread", "apples"]);
    shelves.walked(&keys(&["apples", "bread", "cumin", "dates"]));
    shelves.walked(&keys(&["apples", "bread", "cumin", "dates"]));
    assert_eq!(order(&shelves), ["apples", "bread", "cumin", "dates"]);
    let before = shelves.clone();
    shelves.walked(&keys(&["dates"]));
    assert_eq!(shelves, before);
}

#[test]
fn currencies_are_not_added_up() {
    let money = |hundredths, currency: &str| Money {
        hundredths,
        currency: currency.into(),
    };
    let costs = [money(120, "€"), money(300, "£"), money(5, "€")];
    assert_eq!(total(costs.iter()), [money(125, "€"), money(300, "£")]);
}
