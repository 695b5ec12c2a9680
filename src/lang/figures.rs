//! Numbers that a reading passes over. Layers that leave words out must leave no weight out: each has to be an amount
//! of what is booked, or be reckoned into one together with others ("702 -> 655", "388, 561, 700", "80+80+35").
//!
//! ```text
//! explained := amount of what is booked | their sum | several times one | what differs by one, or adds up to one, with
//!            others that are told | "60/40" | a number that is no weight (gist/aside.rs)
//! ```

use super::amount::{Stands, amount};
use super::date::day;
use super::gist::aside;
use super::number::number;
use super::rank::SCALE_GRAMS_MIN;
use super::syntax::{Amount, Command, Item, PartSize, Portion, Share};
use super::token::Token;
use super::tokens::Tokens;
use super::unit::{Unit, unit};
use super::vocabulary::Sense;

/// So far off is what was rounded.
const SLACK_GRAMS: f64 = 0.51;
/// Between what denies a number and the number.
const DENIED_TOKENS_MAX: usize = 4;
const NAME_WORDS_MAX: usize = 5;
/// Nobody takes so many of one.
const TIMES_MAX: f64 = 12.0;
/// Of more numbers not every sum is tried.
const NUMBERS_MAX: usize = 8;

struct Figure {
    at: usize,
    length: usize,
    value: f64,
    /// It stands in an amount that is booked.
    known: bool,
}

/// The first number that nothing explains, of a message that is booked as plates, losses and counts.
pub fn passed_over<'a>(commands: &[Command], body: Tokens<'a>) -> Option<Tokens<'a>> {
    let booked = booked(commands)?;
    if let Some(at) = below_nothing(body) {
        return Some(body.range(at, at + 1));
    }
    let figures = figures(body, &booked);
    let strange = figures.iter().find(|figure| {
        figure.value >= SCALE_GRAMS_MIN
            && !figure.known
            && !is_denied(body, figure.at)
            && !explained(figure, &figures, &booked)
    })?;
    // "took a spoon off, 505": what it was before is in no difference.
    let lifted = (0..body.len()).any(|at| matches!(body.norm(at), "off" | "out" | "back"));
    let later = figures.iter().filter(|other| other.at > strange.at);
    let falls = later.into_iter().any(|other| other.value < strange.value);
    (!(lifted && falls)).then(|| body.range(strange.at, strange.at + strange.length))
}

/// "set the chilli to minus 500": nothing stands before it that it could be taken off.
fn below_nothing(body: Tokens<'_>) -> Option<usize> {
    let first = body.find(Token::is_numeric)?;
    let before = first.checked_sub(1)?;
    matches!(body.norm(before), "minus" | "negative").then_some(first)
}

/// "not 180 like it says", "was going to have 250", "all 650".
fn is_denied(body: Tokens<'_>, at: usize) -> bool {
    let denies = |at: usize| {
        matches!(
            body.norm(at),
            "not" | "instead" | "than" | "all" | "wasnt" | "isnt" | "planned"
        ) || matches!(
            (body.norm(at), body.norm(at + 1)),
            ("going" | "meant" | "supposed" | "wanted", "to")
        )
    };
    (at.saturating_sub(DENIED_TOKENS_MAX)..at).any(denies)
}

/// Every amount that is booked, and their sums; nothing where something else is done.
fn booked(commands: &[Command]) -> Option<Vec<f64>> {
    let mut out = Vec::new();
    for command in commands {
        match command {
            Command::Portion(portion) => of_portion(portion, &mut out),
            Command::Waste { items, .. } => of_items(items, &mut out),
            // Beside a count what the books say may be told.
            _ => return None,
        }
    }
    let sum: f64 = out.iter().sum();
    out.push(sum);
    Some(out)
}

fn of_portion(portion: &Portion, out: &mut Vec<f64>) {
    let mut grams = Vec::new();
    of_items(&portion.items, &mut grams);
    let whole: f64 = grams.iter().sum();
    out.append(&mut grams);
    if portion.items.len() > 1 {
        out.push(whole);
    }
    let Some(Share::Parts(parts)) = &portion.share else {
        return;
    };
    let mut rest = whole;
    for part in parts {
        let grams = match part.size {
            PartSize::Grams(grams) => grams,
            PartSize::Of(share) => {
                out.push(share * 100.0);
                share * whole
            }
            PartSize::Rest => continue,
        };
        rest -= grams;
        out.push(grams);
    }
    out.push(rest);
}

fn of_items(items: &[Item], out: &mut Vec<f64>) {
    items.iter().for_each(|item| of_amount(&item.amount, out));
}

fn of_amount(amount: &Amount, out: &mut Vec<f64>) {
    match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => out.push(*grams),
        Amount::Volume { count, .. } | Amount::Pieces { count, .. } => out.push(*count),
        Amount::Weighed { grams, said } => {
            out.push(*grams);
            of_amount(said, out);
        }
        Amount::Each { count, grams, .. } => out.extend([*count, *grams, count * grams]),
        Amount::Share(share) => out.push(share * 100.0),
        Amount::Between { low, high } => {
            of_amount(low, out);
            of_amount(high, out);
        }
        Amount::Sum(several) => several.iter().for_each(|one| of_amount(one, out)),
        Amount::Uncounted(_) => {}
    }
}

/// The numbers of the message that may be weights, in grams where their unit is told.
fn figures(body: Tokens<'_>, booked: &[f64]) -> Vec<Figure> {
    let mut out = Vec::new();
    let mut at = 0;
    // Where the amount that is read here ends.
    let mut known = 0;
    while at < body.len() {
        let rest = body.after(at);
        let dated = day(rest).map(|(after, _)| rest.len() - after.len());
        if let Some(length) = named(body, at).or(aside(body, at)).or(dated.ok()) {
            at += length.max(1);
            continue;
        }
        // "a pound and a half", "2x180 + 40": an amount of several numbers.
        if let Ok((after, Amount::Bare(grams) | Amount::Mass(grams))) =
            amount(rest, Stands::AfterName)
            && booked.iter().any(|of| is_near(*of, grams))
        {
            known = known.max(at + rest.len() - after.len());
        }
        let Ok((after, said)) = number(rest) else {
            at += 1;
            continue;
        };
        let length = (rest.len() - after.len()).max(1);
        let (length, value) = match unit(after) {
            Ok((behind, Unit::Mass(grams))) => (rest.len() - behind.len(), said.value * grams),
            _ => (length, said.value),
        };
        out.push(Figure {
            at,
            length,
            value,
            known: at < known,
        });
        at += length;
    }
    out
}

/// A number in a name: "NDB 01145", "7 bean stew". How many tokens the name takes.
fn named(body: Tokens<'_>, at: usize) -> Option<usize> {
    if at > 0 && body.norm(at - 1) == "ndb" {
        return Some(1);
    }
    let (length, ()) = body.after(at).longest_run(NAME_WORDS_MAX, |said| {
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        let known = body.vocabulary.is_batch(&words) || body.vocabulary.is(Sense::Packet, &words);
        (said.has_number() && known).then_some(())
    })?;
    Some(length)
}

fn is_near(one: f64, other: f64) -> bool {
    (one - other).abs() <= SLACK_GRAMS.max(other.abs() * 1e-3)
}

fn explained(figure: &Figure, all: &[Figure], booked: &[f64]) -> bool {
    let value = figure.value;
    let times = |more: f64, less: f64| {
        let times = (more / less).round();
        (2.0..=TIMES_MAX).contains(&times) && is_near(less * times, more)
    };
    let told = |grams: &f64| is_near(value, *grams) || times(*grams, value) || times(value, *grams);
    if booked.iter().any(told) {
        return true;
    }
    let others: Vec<f64> = all
        .iter()
        .filter(|other| other.at != figure.at)
        .map(|other| other.value)
        .collect();
    // "430, then 418, then 409"
    let between = |more: &f64| {
        let ends = |less: &f64| {
            let within = *less < value && value < *more;
            within && booked.iter().any(|grams| is_near(more - less, *grams))
        };
        others.iter().any(ends)
    };
    let ratio = others.iter().any(|other| is_near(value + other, 100.0));
    ratio || others.iter().any(between) || adds_up(value, &others, booked)
}

/// With others, taken to it or off it, it makes something that is booked.
fn adds_up(value: f64, others: &[f64], booked: &[f64]) -> bool {
    let Some((first, rest)) = others.split_first() else {
        return booked.iter().any(|grams| is_near(value.abs(), *grams));
    };
    if others.len() > NUMBERS_MAX {
        return true;
    }
    [0.0, *first, -first]
        .iter()
        .any(|other| adds_up(value + other, rest, booked))
}

/// What was thrown away or counted, as far as it is told in grams.
pub fn weights(command: &Command) -> Vec<f64> {
    let grams = |amount: &Amount| match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => Some(*grams),
        _ => None,
    };
    match command {
        Command::Waste { items, .. } => items
            .iter()
            .filter_map(|item| grams(&item.amount))
            .collect(),
        Command::Count { items, .. } => items
            .iter()
            .flat_map(|item| item.weighing.readings_grams.clone())
            .collect(),
        _ => Vec::new(),
    }
}
