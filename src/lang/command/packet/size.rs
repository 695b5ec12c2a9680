//! What the figures of a label are for: the sizes of a serving, what one of them weighs, how many are in a pack;
//! and energy that is printed in two units at once.

use super::is_figure;
use crate::lang::amount::{Stands, amount, is_metric};
use crate::lang::number::digits;
use crate::lang::syntax::Amount;
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::unit::{Unit, unit};

/// How many words say that a serving's size follows: "serving size", "portion of", "serving" before a number.
pub fn sizes(input: Tokens<'_>) -> usize {
    if !matches!(input.norm(0), "serving" | "portion") {
        return 0;
    }
    match input.norm(1) {
        "size" | "of" | "is" => 2,
        _ => usize::from(input.after(1).without_lead().first().is_some_and(is_figure)),
    }
}

/// Two figures and their two units, the units before or after.
pub fn two_energies(input: Tokens<'_>) -> Option<(Tokens<'_>, [(&'static str, f64); 2])> {
    let slash = |at: Tokens<'_>| at.first().is_some_and(|token| token.is('/'));
    let units = |at: Tokens<'_>| {
        let open = usize::from(at.first().is_some_and(|token| token.is('(')));
        let keys = match (at.norm(open), at.norm(open + 2)) {
            ("kj", "kcal") => ["kj", "kcal"],
            ("kcal", "kj") => ["kcal", "kj"],
            _ => return None,
        };
        slash(at.after(open + 1)).then(|| (open * 2 + 3, keys))
    };
    let values = |at: Tokens<'_>| {
        if let Kind::Ratio(first, second) = at.first()?.kind {
            return Some((1, [first, second]));
        }
        let (rest, first) = digits(at).ok()?;
        let (rest, second) = digits(rest.after(usize::from(slash(rest)))).ok()?;
        slash(at.after(1)).then_some((at.len() - rest.len(), [first.value, second.value]))
    };
    let (length, keys, said) = match units(input) {
        Some((length, keys)) => {
            let rest = input.after(length).without_lead();
            let (more, said) = values(rest)?;
            (input.len() - rest.len() + more, keys, said)
        }
        None => {
            let (length, said) = values(input)?;
            let (more, keys) = units(input.after(length))?;
            (length + more, keys, said)
        }
    };
    Some((
        input.after(length),
        [(keys[0], said[0]), (keys[1], said[1])],
    ))
}

/// "servings per container 28", "about 8 servings per pack": how many are in it is no figure of the label.
pub fn servings_told(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let servings = |at: usize| {
        matches!(input.norm(at), "servings" | "portions") && input.norm(at + 1) == "per"
    };
    if servings(0) {
        let rest = input.after(3).without_lead();
        let rest = rest.after(usize::from(rest.norm(0) == "about"));
        return Some(rest.after(usize::from(rest.first().is_some_and(is_figure))));
    }
    let about = usize::from(input.norm(0) == "about");
    let counted = input.get(about).is_some_and(is_figure);
    (counted && servings(about + 1)).then(|| input.after(about + 4))
}

/// "(3/4 cup, 170 g)", "3 cookies (34 g)": of several sizes the weight, else the millilitres.
pub fn bracketed(input: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    let measured = |said: &Amount| {
        matches!(said, Amount::Mass(_)) || matches!(said, Amount::Volume { .. }) && is_metric(said)
    };
    if amount(input, Stands::AfterName).is_ok_and(|(_, said)| measured(&said)) {
        return None;
    }
    let counted = usize::from(input.first().is_some_and(is_figure));
    let words = input.after(counted).slice.iter();
    let words = words
        .take_while(|token| matches!(token.kind, Kind::Word(_)))
        .count();
    let rest = input.after(counted + words);
    if words > 3 || !rest.first()?.is('(') {
        return None;
    }
    let close = rest.find(|token| token.is(')'))?;
    let parts = rest
        .range(1, close)
        .split(|token| matches!(token.kind, Kind::Symbol(',' | '/' | ';')) || token.norm() == "or");
    let sizes: Vec<Amount> = parts
        .into_iter()
        .filter_map(|part| amount(part, Stands::AfterName).ok())
        .map(|(_, said)| said)
        .collect();
    let weight = sizes.iter().find(|said| matches!(said, Amount::Mass(_)));
    let volume = || {
        sizes
            .iter()
            .rev()
            .find(|said| matches!(said, Amount::Volume { .. }))
    };
    Some((rest.after(close + 1), weight.or_else(volume)?.clone()))
}

/// "per tbsp (20 g)": what a measure of it weighs.
pub fn measured_one(input: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    let (rest, count) = match digits(input) {
        Ok((rest, count)) => (rest, count.value),
        Err(_) => (input, 1.0),
    };
    let (rest, unit) = unit(rest).ok()?;
    let Unit::Volume(unit) = unit else {
        return None;
    };
    let (after, weight) = bracketed(rest)?;
    let Amount::Mass(grams) = weight else {
        return None;
    };
    let said = Box::new(Amount::Volume {
        count,
        unit,
        qualifiers: Vec::new(),
    });
    Some((after, Amount::Weighed { grams, said }))
}

/// "1 bar = 40 g".
pub fn one_of_them(input: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    let (rest, count) = digits(input).ok()?;
    let equals = rest.find(|token| token.is('='))?;
    let named = (1..=2).contains(&equals) && rest.range(0, equals).is_wordy();
    let (rest, said) = amount(rest.after(equals + 1), Stands::AfterName).ok()?;
    (named && count.value == 1.0 && matches!(said, Amount::Mass(_))).then_some((rest, said))
}

/// "per naan 130 g", "per 1/2 can (200 g)": past the words for one of them, where its weight follows.
pub fn of_one(input: Tokens<'_>) -> Tokens<'_> {
    let counted = usize::from(input.first().is_some_and(is_figure));
    let words = input
        .after(counted)
        .slice
        .iter()
        .take_while(|token| matches!(token.kind, Kind::Word(_)))
        .count();
    let rest = input.after(counted + words);
    let open = usize::from(rest.first().is_some_and(|token| token.is('(')));
    let weighed = amount(rest.after(open), Stands::AfterName).is_ok_and(|(_, said)| match said {
        Amount::Mass(_) => true,
        Amount::Volume { .. } => open == 1,
        _ => false,
    });
    let plain = counted == 1 && words == 1 && open == 0;
    match (1..=2).contains(&words) && weighed && !plain {
        true => rest,
        false => input,
    }
}
