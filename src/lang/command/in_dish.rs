//! What is in a dish of what somebody cannot have.
//!
//! ```text
//! in dish := "allergens in" dish | ("which allergens does" dish "have") | dish "allergens"
//!          | "does" dish "contain" thing ["in it"] | "is there any" thing "in" dish
//!          | "is" dish (thing "free" | "free of" thing)
//! dishes  := "which dishes contain" thing | "what can" who "eat" | "is there anything" who "can't eat"
//! ```
//! The phrases stand in data/avoid.txt, the things are those of avoid.rs.

use super::avoid::{is, lead, somebody, thing, whole_dish, without};
use crate::lang::syntax::{Avoid, Command, Eats, Sought, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked)).trimmed();
    match of_dish(body).or_else(|| of_stock(body)) {
        Some(said) => Ok((input.after(input.len()), Command::Avoid(said))),
        None => input.no(),
    }
}

fn of_dish(body: Tokens<'_>) -> Option<Avoid> {
    let (dish, what) = allergens(body)
        .map(|dish| (dish, None))
        .or_else(|| contains(body).map(|(dish, what)| (dish, Some(what))))?;
    Some(Avoid::InDish { dish, what })
}

fn allergens(body: Tokens<'_>) -> Option<Words> {
    if let Some(rest) = lead("allergens in", body) {
        return whole_dish(rest);
    }
    if let Some(rest) = lead("allergens does", body) {
        return ends(rest, "has").and_then(whole_dish);
    }
    let dish = ends(body, "allergens")?;
    whole_dish(dish)
}

fn contains(body: Tokens<'_>) -> Option<(Words, Words)> {
    if let Some(rest) = lead("does", body) {
        return parted(without("in it", rest), "has");
    }
    if let Some(rest) = lead("is there", body) {
        let (what, dish) = halves(rest, "in")?;
        return Some((whole_dish(dish)?, thing(what)?));
    }
    if !matches!(body.norm(0), "is" | "are") {
        return None;
    }
    let rest = body.after(1);
    if let Some(found) = parted(rest, "free of") {
        return Some(found);
    }
    let rest = ends(rest, "free")?;
    let rest = match rest.last()?.kind {
        // "gluten-free"
        Kind::Symbol('-') => rest.range(0, rest.len() - 1),
        _ => rest,
    };
    let named = |at: &usize| whole_dish(rest.range(0, *at)).is_some();
    let at = (1..rest.len()).rev().find(named)?;
    Some((whole_dish(rest.range(0, at))?, thing(rest.after(at))?))
}

/// A dish, a phrase of this part, and a thing behind it.
fn parted(body: Tokens<'_>, part: &str) -> Option<(Words, Words)> {
    let (dish, what) = halves(body, part)?;
    Some((whole_dish(dish)?, thing(what)?))
}

fn of_stock(body: Tokens<'_>) -> Option<Avoid> {
    let stock = |by: Sought| Some(Avoid::InStock { by });
    if let Some(rest) = lead("dishes with", body) {
        return stock(Sought::What(thing(without("in it", rest))?));
    }
    if let Some((who, rest)) = lead("what can", body).and_then(somebody) {
        // "what can I eat" asks for all that stands here.
        let eats = is("can eat", rest) && who != Eats::Me;
        return eats.then_some(Avoid::InStock {
            by: Sought::Person(who),
        });
    }
    let fit = || lead("whats fit for", body).and_then(somebody);
    let not = || lead("anything", body).and_then(somebody);
    let (who, _) = fit()
        .filter(|(_, rest)| rest.is_empty())
        .or_else(|| not().filter(|(_, rest)| is("cannot eat", *rest)))?;
    stock(Sought::Person(who))
}

/// What stands before and behind a phrase of this part.
fn halves<'a>(body: Tokens<'a>, part: &str) -> Option<(Tokens<'a>, Tokens<'a>)> {
    (1..body.len()).find_map(|at| {
        let behind = lead(part, body.after(at))?;
        (!behind.is_empty()).then(|| (body.range(0, at), behind))
    })
}

/// Without a phrase of this part, with which it ends.
fn ends<'a>(body: Tokens<'a>, part: &str) -> Option<Tokens<'a>> {
    let rest = without(part, body);
    (rest.len() < body.len()).then_some(rest)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Avoid, Command, Sense, Vocabulary};

    fn table() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Person, "Ana")
            .with(Sense::Person, "Tom")
            .with(Sense::Batch, "lasagne")
            .with(Sense::Batch, "plain rice")
    }

    #[test]
    fn what_is_in_a_dish_is_asked_in_many_words() {
        for (text, printed) in [
            ("allergens in lasagne", "allergens in lasagne"),
            ("what allergens are in the lasagne?", "allergens in lasagne"),
            (
                "which allergens does the lasagne have",
                "allergens in lasagne",
            ),
            ("lasagne allergens", "allergens in lasagne"),
            (
                "does the lasagne have milk in it",
                "does lasagne contain milk",
            ),
            (
                "does the lasagne contain sesame?",
                "does lasagne contain sesame",
            ),
            (
                "is there any milk in the lasagne",
                "does lasagne contain milk",
            ),
            (
                "is the plain rice gluten free",
                "does plain rice contain gluten",
            ),
            (
                "is the plain rice gluten-free?",
                "does plain rice contain gluten",
            ),
            (
                "is the lasagne free of sesame",
                "does lasagne contain sesame",
            ),
            ("which dishes have milk", "which dishes contain milk"),
            ("what can Tom eat?", "is there anything Tom can't eat"),
            ("what's safe for Tom", "is there anything Tom can't eat"),
            (
                "is there anything Ana can't eat",
                "is there anything Ana can't eat",
            ),
            ("anything I can't eat?", "is there anything I can't eat"),
        ] {
            surely_means(text, &table(), printed);
        }
        assert!(!means(
            "what has milk",
            &table(),
            "which dishes contain milk"
        ));
    }

    #[test]
    fn talk_of_what_is_in_things_asks_nothing() {
        for text in [
            "is there milk in the fridge",
            "does the car have petrol in it",
            "is Tom free on Sunday",
            "is the lasagne free",
            "what can Tom do",
            "what can we eat",
            "which dishes are dirty",
            "is there anything Tom can do",
            "does Ana have milk",
        ] {
            is_no(text, &table(), |command| {
                matches!(
                    command,
                    Command::Avoid(Avoid::InDish { .. } | Avoid::InStock { .. })
                )
            });
        }
    }
}
