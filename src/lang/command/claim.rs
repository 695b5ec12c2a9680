//! What a count found missing, claimed: "the missing dal was mine", "Ana had the missing rice".
//!
//! ```text
//! claim := [grams "of"] "the missing" (dish | "food") "was" whose | who "ate" [grams "of"] "the missing" (dish | "food")
//! whose := "mine" | person
//! ```
//! "that was me" says so only right after a count (`domain/decide/claim.rs`).

use crate::lang::amount::grams;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::syntax::{Claim, Command, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::claims;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_idle(input.trimmed().trimmed_end());
    match owned(body).or_else(|| eaten(body)) {
        Some(claim) => Ok((input.after(input.len()), Command::Claim(claim))),
        None => input.no(),
    }
}

/// "that was me", "it was Ana"
pub fn read_bare(input: Tokens<'_>) -> Read<'_, Command> {
    let (body, grams) = so_much(without_idle(input.trimmed().trimmed_end()));
    let body = without_idle(body);
    let rest = match claims().longest_of(body.slice, "was") {
        Some(length) => body.after(length),
        None => return input.no(),
    };
    let mine = matches!(rest.norm(0), "me" | "mine").then_some((1, None));
    let theirs = || person(rest).map(|(length, who)| (length, Some(who)));
    match mine.or_else(theirs) {
        Some((length, who)) if rest.len() == length => {
            let claim = Claim {
                dish: None,
                who,
                grams,
            };
            Ok((input.after(input.len()), Command::Claim(claim)))
        }
        _ => input.no(),
    }
}

/// "the missing dal was mine"
fn owned(body: Tokens<'_>) -> Option<Claim> {
    let at =
        (1..body.len()).find(|&at| claims().longest_of(body.after(at).slice, "was").is_some())?;
    let (said, grams) = so_much(body.range(0, at));
    let dish = missing(said)?;
    let length = claims().longest_of(body.after(at).slice, "was")?;
    let rest = body.after(at + length);
    let mine = claims()
        .longest_of(rest.slice, "mine")
        .map(|length| (length, None));
    let theirs = || person(rest).map(|(length, who)| (length, Some(who)));
    let (length, who) = mine.or_else(theirs)?;
    without_idle(rest.after(length))
        .is_empty()
        .then_some(Claim { dish, who, grams })
}

/// "I ate the missing dal"
fn eaten(body: Tokens<'_>) -> Option<Claim> {
    let (rest, who) = match body.norm(0) {
        "i" | "we" | "it" => (body.after(1), None),
        _ => match person(body) {
            Some((length, who)) => (body.after(length), Some(who)),
            None => (body, None),
        },
    };
    let length = claims().longest_of(rest.slice, "ate")?;
    let (said, grams) = so_much(rest.after(length));
    let dish = missing(said)?;
    Some(Claim { dish, who, grams })
}

/// Without "about 100 g of" at the front, and how much that is.
fn so_much(body: Tokens<'_>) -> (Tokens<'_>, Option<f64>) {
    let about = usize::from(matches!(body.norm(0), "about" | "around" | "roughly"));
    match grams(body.after(about)) {
        Ok((rest, grams)) if rest.norm(0) == "of" => (rest.after(1), Some(grams)),
        _ => (body, None),
    }
}

/// What is missing: a dish of the household, or whatever was counted last.
fn missing(said: Tokens<'_>) -> Option<Option<Words>> {
    let said = said.trimmed();
    let length = claims().longest_of(said.slice, "missing")?;
    let rest = without_idle(said.after(length));
    if rest.is_empty() {
        return Some(None);
    }
    let of_it = claims().longest_of(rest.slice, "of it") == Some(rest.len());
    match of_it {
        true => Some(None),
        false => name::of_batch(rest).map(Some),
    }
}

/// "put it on mine" behind it says no more.
fn without_tail(input: Tokens<'_>) -> Tokens<'_> {
    let tail =
        |at: &usize| claims().longest_of(input.after(*at).slice, "tail") == Some(input.len() - at);
    let end = (1..input.len()).find(tail).unwrap_or(input.len());
    input.range(0, end)
}

/// Without what is said beside it, at both ends.
fn without_idle(input: Tokens<'_>) -> Tokens<'_> {
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Symbol(',' | '.' | '!' | '-') | Kind::Newline
        )
    };
    let idle = |token: &Token| mark(token) || claims().get(token.norm()) == Some("idle");
    let front = input.slice.iter().take_while(|token| idle(token)).count();
    let rest = without_tail(input.after(front));
    let back = rest
        .slice
        .iter()
        .rev()
        .take_while(|token| idle(token))
        .count();
    rest.range(0, rest.len() - back)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        words.add(Sense::Batch, "lentil dal");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn claims(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_own_up() {
        for text in [
            "the missing dal was mine",
            "The missing dal was me, sorry",
            "missing dal is mine",
            "I ate the missing dal",
            "i had the missing dal",
            "it was me who ate the missing dal",
            "oops, the missing dal is on me",
            "the unweighed dal was mine",
            "the missing dal was all me, put it on mine",
            "ok ok I took the missing dal!",
        ] {
            claims(text, "the missing dal was mine");
        }
        claims("Ana had the missing dal", "the missing dal was Ana's");
        claims("the missing dal was Ana", "the missing dal was Ana's");
        claims("the missing food was mine", "the missing food was mine");
        claims("the missing bit was mine", "the missing food was mine");
        for text in [
            "100 of the missing dal was me",
            "about 100 g of the missing dal was mine",
            "I had 100 of the missing dal",
        ] {
            claims(text, "100 g of the missing dal was mine");
        }
    }

    #[test]
    fn talk_of_what_is_missing_is_no_claim() {
        for text in [
            "that was me",
            "it was Ana",
            "is the missing dal yours?",
            "was the missing dal mine",
            "the missing link was mine",
            "who ate the missing dal",
            "missing you",
            "the missing sock was mine",
            "if the missing dal was mine I'd say so",
        ] {
            let parsed = parse(text, &kitchen());
            let best = parsed.best();
            let claimed = best.sure && matches!(best.commands[..], [Command::Claim(_), ..]);
            assert!(!claimed, "{text}: {:?}", best.commands);
        }
    }
}
