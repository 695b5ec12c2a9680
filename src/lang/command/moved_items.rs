//! What is put elsewhere: dishes with their amounts, or whole.
//!
//! ```text
//! items := item { ("," | "&" | "and") item }
//! item  := amount ["of"] dish | ["the" | "all" | "the rest of"] dish
//! ```

use crate::lang::amount::grams;
use crate::lang::item::list;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Item};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::{boxes, containers, moves};

/// A bag that is told by its weight holds as much.
const BAG_GRAMS_MIN: f64 = 50.0;

/// What is moved; a dish without an amount is all of it, or what was parted.
pub fn items(input: Tokens<'_>, parts_grams: &[f64], strange: bool) -> Option<Vec<Item>> {
    let input = input.trimmed();
    // "260 rice for me, and the rest": what is somebody's is on a plate.
    let somebodys = |at: usize| {
        let behind = input.after(at + 1);
        let own = matches!(behind.norm(0), "me" | "myself" | "us") || person(behind).is_some();
        input.norm(at) == "for" && own
    };
    let joins = |token: &Token| token.is(',') || token.is('&') || token.norm() == "and";
    // "300 dal and had 140 dal": what was eaten of it is a plate.
    let eaten = |at: usize| {
        let behind = input.after(at + 1);
        let who = usize::from(matches!(behind.norm(0), "i" | "we" | "then" | "also"));
        let verb = matches!(
            behind.norm(who),
            "had" | "ate" | "eaten" | "eating" | "having"
        );
        joins(&input.slice[at]) && verb && behind.has_number()
    };
    if (0..input.len()).any(|at| somebodys(at) || eaten(at)) {
        return None;
    }
    let each = input.split(joins);
    let each = each.iter().map(|one| all_of(*one).or_else(|| bag_of(*one)));
    if let Some(all) = each.collect::<Option<Vec<Item>>>() {
        return (parts_grams.is_empty() || all.len() == 1).then_some(all);
    }
    let read = list(input);
    let whole = read.errors.is_empty() && read.comments.is_empty() && !read.items.is_empty();
    let known = |item: &Item| {
        strange || name::familiarity(&item.name.text, input) >= name::Familiarity::Household
    };
    let fits = parts_grams.is_empty() || read.items.len() == 1;
    (whole && fits && read.items.iter().all(known)).then_some(read.items)
}

/// "the 640 bag of dal": a bag is told by its weight.
fn bag_of(input: Tokens<'_>) -> Option<Item> {
    let input = input.trimmed();
    let the = usize::from(matches!(input.norm(0), "the" | "that" | "our"));
    let (rest, weight) = grams(input.after(the)).ok()?;
    // So many bags nobody has.
    if weight < BAG_GRAMS_MIN {
        return None;
    }
    let bag = containers().has(rest.norm(0)) || boxes().get(rest.norm(0)).is_some();
    let dish = name::of_batch(rest.after(2)).filter(|_| bag && rest.norm(1) == "of")?;
    Some(Item::new(Amount::Mass(weight), dish).at(input.span()))
}

/// "the dal", "all the rice", "the rest of the rice"
fn all_of(input: Tokens<'_>) -> Option<Item> {
    name::all_of_batch(input).map(|name| Item::new(Amount::Share(1.0), name).at(input.span()))
}

/// Without ", all of it" at the end, and whether that was said.
pub fn without_all_of_it(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let input = input.trimmed_end();
    let ends = |at: &usize| {
        let tail = input.after(*at);
        input.slice[at - 1].is(',') && moves().longest_of(tail.slice, "all") == Some(tail.len())
    };
    match (1..input.len()).find(ends) {
        Some(at) => (input.range(0, at - 1).trimmed_end(), true),
        None => (input, false),
    }
}

pub fn is_whole(said: Tokens<'_>) -> bool {
    let whole = |at| matches!(said.norm(at), "whole" | "everything");
    said.norm(0) == "all" || whole(0) || whole(1)
}
