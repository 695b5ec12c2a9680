//! "how much dal", "how much dal is left", "dal left?", "any rice left?".
//!
//! ```text
//! how-much := ("how much" | "how many portions of" | "any") name ["is" | "do we have" | "have we got"] ["left"]
//!           | name "left" "?" | "how much" name ("is frozen" | "in" place)
//! ```

use crate::lang::command::whither;
use crate::lang::name;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.trimmed();
    let body = if asked {
        body.range(0, body.len() - 1).trimmed_end()
    } else {
        body
    };
    let (start, open) = match (body.norm(0), body.norm(1)) {
        ("how", "much") => (2, true),
        ("how", "many") if matches!(body.norm(2), "grams" | "g") => (3, true),
        ("any" | "is", _) => (1, false),
        ("do", "we") | ("have", "we") => (2, false),
        _ => (0, false),
    };
    let mut rest = body.after(start);
    while !open
        && start > 0
        && matches!(
            rest.norm(0),
            "there" | "any" | "have" | "got" | "still" | "much"
        )
    {
        rest = rest.after(1);
    }
    while open && matches!(rest.norm(0), "of" | "is" | "the" | "left") && rest.len() > 1 {
        rest = rest.after(1);
    }
    let priced = start == 2 && matches!(body.norm(2), "is" | "are");
    let (name, left) = without_ending(rest);
    // "how much is the rice" asks its price.
    if priced && !left {
        return input.no();
    }
    if !(open || left && (asked || start > 0)) {
        return input.no();
    }
    let name = name::bare(name);
    if let Some(name) = frozen(name) {
        return Ok((input.after(input.len()), Command::HowMuch { name }));
    }
    let coded = name.len() <= 3 && name.slice.iter().all(|token| !token.norm().is_empty());
    if name.is_empty() || name.len() > 6 || !(name.is_wordy() || coded) {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::HowMuch { name: name.words() },
    ))
}

/// "of the sauce is still frozen", "the sauce in the freezer": what of it stands in a freezer.
fn frozen(said: Tokens<'_>) -> Option<Words> {
    let (dish, place) = whither::place(said, &["in"]);
    let last = said.last()?.norm();
    let (dish, place) = match place {
        Some(place) => (dish, place.text),
        None if last == "frozen" => (said.range(0, said.len() - 1), "frozen".to_owned()),
        None => return None,
    };
    let linked =
        |token: &&Token| matches!(token.norm(), "is" | "are" | "still" | "we" | "have" | "got");
    let links = dish.slice.iter().rev().take_while(linked).count();
    let dish = name::of_batch(dish.range(0, dish.len() - links))?;
    Some(Words::new(format!("{place} {}", dish.text), dish.span))
}

/// Split off "is left", "do we have", "have we got left".
fn without_ending(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let at = input.slice.iter().position(|token| {
        matches!(
            token.norm(),
            "is" | "are"
                | "left"
                | "remains"
                | "remaining"
                | "do"
                | "have"
                | "got"
                | "still"
                | "theres"
        )
    });
    let Some(at) = at else {
        return (input, false);
    };
    let tail = input.after(at);
    let idle = tail.slice.iter().all(|token| {
        matches!(
            token.norm(),
            "is" | "are"
                | "left"
                | "remains"
                | "remaining"
                | "do"
                | "have"
                | "got"
                | "still"
                | "we"
                | "i"
                | "there"
                | "over"
                | "theres"
                | "now"
                | "in"
                | "stock"
        )
    });
    let left = tail
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "left" | "remaining" | "remains"));
    if idle {
        (input.range(0, at), left)
    } else {
        (input, false)
    }
}

/// "how many portions of dal", "how many servings of dal are left"
pub fn read_portions(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = matches!((input.norm(0), input.norm(1)), ("how", "many"))
        && matches!(
            input.norm(2),
            "portions" | "servings" | "meals" | "plates" | "helpings"
        );
    if !asked {
        return input.no();
    }
    let end = input.len() - usize::from(input.last().is_some_and(|token| token.is('?')));
    // "how many portions of soup at 300 each"
    let at = input
        .range(0, end)
        .find(|token| token.norm() == "at" || token.is('@'))
        .unwrap_or(end);
    let (name, _) = without_ending(input.range(3, at));
    let name = match name.norm(0) {
        "of" | "in" => name.after(1),
        _ => name,
    };
    let name = name::bare(name);
    if name.is_empty() || name.len() > 6 || !name.is_wordy() {
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::Portions { name: name.words() },
    ))
}
