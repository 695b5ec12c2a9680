//! A dish that was thought to be finished stands after all: "reopen the dal", "there is still 200 dal after all",
//! "found 300 of the old stew at the back of the fridge".
//!
//! ```text
//! reopen := verb dish [grams] [where]
//!         | [there] grams dish [where] "after all" | there [some] dish ["left"] [where] "after all"
//!         | found grams dish [where] ["after all"] | found dish ["again"] grams
//! where  := [back] ("in" | "of" | "from") place
//! ```
//! Its words are in `data/reopen.txt`. What is found of anything else is talk.

use crate::lang::amount::grams;
use crate::lang::command::whither;
use crate::lang::name;
use crate::lang::syntax::{Command, Reopen, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::reopening;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    // "hang on, there's still 60 g of rice"
    let lead = key("lead", body).unwrap_or(0);
    let body = body.after(lead).without_lead();
    told(input, by_verb(body).or_else(|| after_all(body)))
}

/// "found 300 of the old stew"
pub fn read_found(input: Tokens<'_>) -> Read<'_, Command> {
    told(input, found(input.trimmed().trimmed_end()))
}

fn told<'a>(input: Tokens<'a>, said: Option<Reopen>) -> Read<'a, Command> {
    match said {
        Some(said) => Ok((input.after(input.len()), Command::Reopen(said))),
        None => input.no(),
    }
}

fn key(key: &str, input: Tokens<'_>) -> Option<usize> {
    reopening().longest_of(input.slice, key)
}

/// "reopen the dal", "reopen dal, 200 g"
fn by_verb(body: Tokens<'_>) -> Option<Reopen> {
    let rest = body.after(key("verb", body)?);
    let (rest, place) = place(rest);
    if let Some(dish) = name::all_of_batch(rest) {
        let grams = None;
        return Some(Reopen { dish, grams, place });
    }
    (1..rest.len()).find_map(|at| {
        let dish = name::all_of_batch(rest.range(0, at))?;
        let (left, told) = grams(rest.after(at).without_lead()).ok()?;
        let grams = left.trimmed().is_empty().then_some(told)?;
        Some(Reopen {
            dish,
            grams: Some(grams),
            place: place.clone(),
        })
    })
}

/// "there is still 200 dal after all"
fn after_all(body: Tokens<'_>) -> Option<Reopen> {
    let turned_out = key("after all", body).unwrap_or(0);
    let told = without_after_all(body.after(turned_out));
    let told = told.or_else(|| (turned_out > 0).then(|| body.after(turned_out)))?;
    weighed(told, "there").or_else(|| unweighed(told))
}

/// "there's more dal", "we still have some soup left": nobody has weighed it yet.
fn unweighed(told: Tokens<'_>) -> Option<Reopen> {
    let mut rest = told.after(key("there", told)?);
    rest = rest.after(key("some", rest).unwrap_or(0));
    let (rest, place) = place(rest);
    let left = rest.last().is_some_and(|last| last.norm() == "left");
    let dish = rest.range(0, rest.len() - usize::from(left));
    Some(Reopen {
        dish: name::of_batch(dish.trimmed())?,
        grams: None,
        place,
    })
}

/// "found 300 of the old stew", "found the stew again, 300"
fn found(body: Tokens<'_>) -> Option<Reopen> {
    let rest = body.after(key("found", body)?);
    // "behind the milk"
    let stood =
        |token: &Token| matches!(token.norm(), "behind" | "under" | "underneath" | "beside");
    let body = body.range(0, body.find(stood).unwrap_or(body.len()));
    let rest = rest.range(0, rest.find(stood).unwrap_or(rest.len()));
    let told = weighed(without_after_all(body).unwrap_or(body), "found");
    told.or_else(|| {
        let again = rest.find(|token| token.norm() == "again" || token.is(','))?;
        let dish = name::all_of_batch(rest.range(0, again))?;
        let behind = rest.after(again + 1).without_lead();
        let (left, told) = grams(behind).ok()?;
        let (left, place) = place(left);
        left.trimmed().is_empty().then_some(Reopen {
            dish,
            grams: Some(told),
            place,
        })
    })
}

fn without_after_all(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let ends = |at: &usize| key("after all", body.after(*at)) == Some(body.len() - at);
    let at = (1..body.len()).find(ends)?;
    Some(body.range(0, at).trimmed_end())
}

/// So much of a dish, behind these words.
fn weighed(body: Tokens<'_>, lead: &str) -> Option<Reopen> {
    let rest = body.after(key(lead, body).unwrap_or(0));
    let (rest, place) = place(rest);
    let (dish, told) = grams(rest).ok()?;
    Some(Reopen {
        dish: name::of_batch(dish.trimmed())?,
        grams: Some(told),
        place,
    })
}

/// "at the back of the fridge", at the end.
fn place(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let (rest, place) = whither::place(input, &["in", "of", "from"]);
    let back = |at: &usize| key("back", rest.after(*at)) == Some(rest.len() - at);
    let end = (1..rest.len()).find(back).unwrap_or(rest.len());
    (rest.range(0, end).trimmed_end(), place)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "chicken stew"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn reopens(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_tell_that_it_stands_after_all() {
        reopens("reopen the dal", "reopen dal");
        reopens("Reopen dal, 200 g", "reopen dal 200 g");
        reopens("there is still 200 dal after all", "reopen dal 200 g");
        reopens("still 200 g of the dal after all", "reopen dal 200 g");
        reopens(
            "turns out we still have 150 dal, after all",
            "reopen dal 150 g",
        );
        reopens("there's more dal after all", "reopen dal");
        reopens("we still have some of the dal left after all", "reopen dal");
        reopens("found 300 of the old stew", "reopen old stew 300 g");
        reopens("found the stew again, 300", "reopen stew 300 g");
        reopens("found 300 stew behind the milk", "reopen stew 300 g");
        reopens(
            "found the stew, 300 g in the fridge",
            "reopen stew 300 g in the fridge",
        );
        reopens(
            "found 300 g stew at the back of the fridge",
            "reopen stew 300 g in the fridge",
        );
    }

    #[test]
    fn other_finds_and_remainders_are_none() {
        let such = |it: &Command| matches!(it, Command::Reopen(_) | Command::Portion(_));
        for text in [
            "found 20 euro in my coat",
            "found 300 photos of the old kitchen",
            "reopen the bakery",
            "the pub reopened after all",
            "did you find 300 dal in the freezer?",
            "if there is still 200 dal after all we can eat it",
            "found 200 dal on ana's shirt",
            "we went after all",
        ] {
            is_no(text, &kitchen(), such);
        }
    }
}
