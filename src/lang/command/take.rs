//! Food that somebody took and did not weigh: "took some dal", "had a bit of the rice, didn't weigh it".
//!
//! ```text
//! take  := [who] "took" [some] dish { "and" dish } ["from" place] { tail }
//!        | [who] "helped myself to" dish { tail }
//!        | [who] "ate" [some] dish ["from" place] { tail }, one of the tails "not weighed"
//!        | "unweighed" dish | dish "unweighed"
//! tail  := "not weighed" | day | meal | idle
//! ```
//! Every word has its place, so that a story about food ("took some dal to mum's, she loved it") is none: what
//! it tells is not for the books. Without grams there is nothing in it that could be wrong.

use crate::lang::date::{day, meal};
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::place;
use crate::lang::syntax::{Command, Day, Taking, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::takings;

/// A longer name is a sentence.
const DISH_WORDS_MAX: usize = 6;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    match taken(body).or_else(|| marked(body)) {
        Some(taking) => Ok((input.after(input.len()), Command::Take(taking))),
        None => input.no(),
    }
}

fn taken(body: Tokens<'_>) -> Option<Taking> {
    let mut rest = idle(body);
    let mut who = None;
    if let Some((length, name)) = person(rest).filter(|(length, _)| !is_verb(rest, *length - 1)) {
        who = Some(name);
        rest = idle(rest.after(length));
    } else if let Some(length) = takings().longest_of(rest.slice, "nobody") {
        who = Some(Words::plain(SOMEBODY));
        rest = idle(rest.after(length));
    }
    let (length, verb) = takings().longest(rest.slice)?;
    let (ate, helped) = match verb {
        "took" => (false, false),
        "helped" => (false, true),
        "ate" => (true, false),
        _ => return None,
    };
    let rest = rest.after(length);
    let (rest, amount) = amount(rest);
    let (rest, dishes, place) = dishes(rest)?;
    let tail = tail(rest)?;
    // "had some dal" is a plate whose grams are asked for, "took dal" may be told of anything.
    let holds = tail.unweighed || helped || !ate && amount.is_some();
    holds.then(|| Taking {
        dishes,
        place,
        amount: amount.unwrap_or_else(|| "some".into()),
        who,
        day: tail.day,
    })
}

/// Whoever it was.
pub const SOMEBODY: &str = "somebody";

/// "unweighed dal", "some dal, unweighed"
fn marked(body: Tokens<'_>) -> Option<Taking> {
    let before = takings().longest_of(body.slice, "unweighed");
    let rest = body.after(before.unwrap_or(0)).without_lead();
    let (rest, amount) = amount(rest);
    let (rest, dishes, place) = dishes(rest)?;
    let tail = tail(rest)?;
    (before.is_some() || tail.unweighed).then(|| Taking {
        dishes,
        place,
        amount: amount.unwrap_or_else(|| "some".into()),
        who: None,
        day: tail.day,
    })
}

fn is_verb(input: Tokens<'_>, at: usize) -> bool {
    let says = |key| takings().longest_of(input.after(at).slice, key).is_some();
    says("took") || says("helped")
}

fn idle(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some(length) = takings().longest_of(rest.slice, "idle") {
        rest = rest.after(length).without_lead();
    }
    rest
}

fn amount(input: Tokens<'_>) -> (Tokens<'_>, Option<String>) {
    match takings().longest_of(input.slice, "some") {
        Some(length) => {
            let said = input.range(0, length).words().text.to_lowercase();
            let said = said.trim_end_matches(" of").to_owned();
            (input.after(length), Some(said))
        }
        None => (input, None),
    }
}

type Dishes<'a> = (Tokens<'a>, Vec<Words>, Option<Words>);

/// Dishes of the household, and where they were taken from.
fn dishes(input: Tokens<'_>) -> Option<Dishes<'_>> {
    let (mut rest, first) = dish(input)?;
    let mut dishes = vec![first];
    loop {
        let joined = rest.after(rest.slice.iter().take_while(|token| joins(token)).count());
        let (joined, _) = amount(joined);
        match dish(joined).filter(|_| joined.len() < rest.len()) {
            Some((after, next)) => {
                dishes.push(next);
                rest = after;
            }
            None => break,
        }
    }
    let (rest, place) = match place::inside(rest) {
        Some((after, place)) => (after, Some(place)),
        None => (rest, None),
    };
    Some((rest, dishes, place))
}

fn dish(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    (1..=DISH_WORDS_MAX.min(input.len()))
        .rev()
        .find_map(|length| {
            let said = input.range(0, length);
            let dish = name::of_batch(said)?;
            (dish.span.end == said.span().end).then(|| (input.after(length), dish))
        })
}

fn joins(token: &Token) -> bool {
    matches!(token.kind, Kind::Symbol(',' | '&' | '+')) || token.norm() == "and"
}

struct Tail {
    unweighed: bool,
    day: Option<Day>,
}

/// What may be said behind it; nothing where any other word stands.
fn tail(input: Tokens<'_>) -> Option<Tail> {
    let mut tail = Tail {
        unweighed: false,
        day: None,
    };
    let mut rest = input;
    while let Some(first) = rest.first() {
        if is_mark(first) {
            rest = rest.after(1);
        } else if let Some(length) = takings().longest_of(rest.slice, "unweighed") {
            tail.unweighed = true;
            rest = rest.after(length);
        } else if let Ok((after, day)) = day(rest) {
            if tail.day.replace(day).is_some() {
                return None;
            }
            rest = after;
        } else if let Ok((after, _)) = meal(rest) {
            rest = after;
        } else if let Some(length) = takings().longest_of(rest.slice, "idle") {
            rest = rest.after(length);
        } else {
            return None;
        }
    }
    (tail.day != Some(Day::Ahead)).then_some(tail)
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | '.' | ';' | '!' | '-' | '(' | ')' | '…')
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "beef chilli"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn takes(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_say_that_nobody_weighed_it() {
        for text in [
            "took some dal",
            "Took some of the dal",
            "took some dal, sorry",
            "i took some dal for lunch",
            "just took some dal, didn't weigh it",
            "helped myself to some dal",
            "grabbed some dal for work",
            "had some dal, forgot to weigh it",
            "ate some of the dal without weighing",
            "had some dal but no idea how much",
            "dal, unweighed",
            "unweighed dal",
            "took dal, no scale",
            "sorry, nicked some dal",
            "took some dal!",
        ] {
            takes(text, "took some dal");
        }
        takes("took a bit of the dal", "took a bit dal");
        takes(
            "Ana took some chilli last night",
            "Ana took some chilli yesterday",
        );
        takes("someone took some rice", "somebody took some rice");
        takes(
            "the kids had some rice, not weighed",
            "somebody took some rice",
        );
        takes("took some rice and dal", "took some rice and dal");
        takes(
            "took some rice from the freezer",
            "took some rice from the freezer",
        );
        takes(
            "took a lot of the chilli on Monday",
            "took a lot chilli Monday",
        );
    }

    #[test]
    fn gossip_is_no_entry() {
        for text in [
            "took some dal to mum's, she loved it",
            "took some dal round to Pete's",
            "took some time off",
            "had some dal",
            "can I take some dal?",
            "took some dal?",
            "took some dal out of the freezer",
            "i'll take some dal tomorrow",
            "who took some dal",
            "if you took some dal tell me",
            "dal took some time",
            "took some photos of the dal",
            "took the dal",
            "someone has been at the dal",
            "took some dal, it was lovely",
            "remember when we took some dal to the party",
            "took some convincing but dal won",
        ] {
            let parsed = parse(text, &kitchen());
            let best = parsed.best();
            let taken = best.sure && matches!(best.commands[..], [Command::Take(_), ..]);
            assert!(!taken, "{text}: {:?}", best.commands);
        }
    }
}
