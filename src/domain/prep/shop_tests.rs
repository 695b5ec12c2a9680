//! What becomes of a list by what is said of it.

use super::*;
use crate::domain::ledger::Account;

/// A list that was told so much of, one entry a fact: "+onions 500", "+milk", "x onions", "end".
fn list(told: &[&str]) -> ShopBooks {
    let mut books = ShopBooks::default();
    remember(&mut books, 1, ListTold::Begun);
    for (told, id) in told.iter().zip(2..) {
        let words: Vec<&str> = told.split(' ').collect();
        let fact = match words.as_slice() {
            ["end"] => ListTold::Closed,
            ["x", name] => ListTold::Ticked(good(name)),
            ["+", name] => ListTold::Wanted(want(name, None)),
            ["+", name, grams] => ListTold::Wanted(want(name, grams.parse().ok())),
            _ => panic!("{told}"),
        };
        remember(&mut books, id, fact);
    }
    books
}

fn remember(books: &mut ShopBooks, id: i64, told: ListTold) {
    let mut entry = Entry::fact(
        EntryId(id),
        MemberId(1),
        (DateTime::default(), DateTime::default()),
    );
    entry.from = Account::Bought;
    let list = EntryId(1);
    books.remember(EntryId(id), &entry, ListFact { list, told });
}

fn good(name: &str) -> Good {
    Good {
        food: None,
        key: name.to_owned(),
        words: name.to_owned(),
    }
}

fn want(name: &str, grams: Option<i64>) -> Want {
    Want {
        good: good(name),
        mass: grams.map(|grams| Mass::from_mg(grams * 1000)),
        said: None,
        planned: false,
    }
}

/// The lines as they are shown: "onions 700", "milk x".
#[track_caller]
fn shows(books: &ShopBooks, expected: &[&str]) {
    let list = books.newest().expect("it was begun");
    let name = |_| "Ana".to_owned();
    let view = list.view(&Goods::default(), &books.shelves(), name);
    let line = |line: &ListLineView| {
        let grams = line
            .buy
            .buy
            .map_or(String::new(), |mass| format!(" {}", mass.mg() / 1000));
        let tick = if line.ticked_by.is_some() { " x" } else { "" };
        format!("{}{grams}{tick}", line.buy.good.words)
    };
    let lines: Vec<String> = view.lines.iter().map(line).collect();
    assert_eq!(lines, expected);
}

#[test]
fn a_thing_put_on_twice_is_one_line() {
    shows(
        &list(&["+ onions 500", "+ milk", "+ onions 703"]),
        &["milk", "onions 1203"],
    );
}

#[test]
fn a_tick_stands_until_it_is_wanted_anew() {
    let told = ["+ onions 500", "+ milk", "x onions"];
    let mut books = list(&told);
    shows(&books, &["milk", "onions 500 x"]);
    assert!(books.open().is_some());
    books.forget(EntryId(4));
    shows(&books, &["milk", "onions 500"]);
    let again = list(&["+ onions 500", "x onions", "+ onions 200"]);
    shows(&again, &["onions 200"]);
}

#[test]
fn a_list_is_done_with_when_all_is_bought_or_it_is_closed() {
    assert!(list(&[]).open().is_some());
    assert!(list(&["+ milk", "x milk"]).open().is_none());
    assert!(list(&["+ milk", "end"]).open().is_none());
    let mut taken_back = list(&["+ milk", "x milk"]);
    taken_back.forget(EntryId(3));
    assert!(taken_back.open().is_some());
}

#[test]
fn the_order_is_that_of_the_last_walks() {
    let mut books = list(&["+ apples", "+ bread", "+ milk", "+ tea"]);
    shows(&books, &["apples", "bread", "milk", "tea"]);
    let walk = |keys: &[&str]| keys.iter().map(ToString::to_string).collect();
    books.walks = vec![walk(&["milk", "bread"])];
    shows(&books, &["milk", "bread", "apples", "tea"]);
    // The last walks count for more.
    books.walks.push(walk(&["bread", "apples", "milk"]));
    books.walks.push(walk(&["bread", "apples", "milk"]));
    shows(&books, &["bread", "apples", "milk", "tea"]);
}
