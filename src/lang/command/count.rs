//! A stocktake: "recount: soup 1210", "count dal 1840 in the pot, pot 470; beans 400".
//!
//! ```text
//! count := verb [":"] { [place ":"] thing sep } ["anyway"]
//! thing := dish [":" | "is"] (weighing | "0" ["g"]) | mass dish
//! dish  := name ["in" place] | place name
//! ```
//! A place at the head of a list is that of all that follows: "recount freezer: rice 560, dal 300".

use crate::lang::amount::grams;
use crate::lang::aside::begins_name;
use crate::lang::command::{anyway, key_phrase};
use crate::lang::item::tricky_length;
use crate::lang::name;
use crate::lang::place::{by_name, dish_in, inside, is_place};
use crate::lang::syntax::{Command, ErrorKind, Weighed, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::weighing::weighing;

const FORM: &str = "recount: soup 1210";
const NAME_WORDS_MAX: usize = 6;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
    let (rest, ()) = key_phrase("count", input)?;
    let mut rest = rest.without_lead();
    if matches!(rest.norm(0), "everything" | "all") {
        rest = rest.after(1).without_lead();
    }
    let mut items = Vec::new();
    let mut heading = None;
    while !rest.is_empty() {
        let skip = rest
            .slice
            .iter()
            .take_while(|token| separates(token))
            .count();
        rest = rest.after(skip);
        if let Some((next, place)) = headed(rest) {
            heading = Some(place);
            rest = next;
            continue;
        }
        if rest.is_empty() {
            break;
        }
        let (next, mut item) = thing(rest)?;
        item.place = item.place.or_else(|| heading.clone());
        items.push(item);
        rest = next;
    }
    if items.is_empty() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    Ok((rest, Command::Count { items, anyway }))
}

/// "freezer:", "in the freezer:"
fn headed(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let end = input.find(|token| token.is(':'))?;
    let said = input.range(0, end);
    let bare = match said.norm(0) {
        "in" => said.after(1),
        _ => said,
    };
    let bare = bare.after(usize::from(matches!(bare.norm(0), "the" | "our" | "my")));
    is_place(bare).then(|| (input.after(end + 1), bare.words()))
}

fn thing(input: Tokens<'_>) -> Read<'_, Weighed> {
    if let Ok((rest, grams)) = grams(input) {
        let end = rest.find(separates).unwrap_or(rest.len());
        let (name, place) = named(rest.range(0, end));
        if name.is_wordy() && name.len() <= NAME_WORDS_MAX {
            let said = input.range(0, input.len() - rest.len());
            let weighing = Weighing::net(grams, said.span());
            return Ok((
                rest.after(end),
                Weighed {
                    name: name.words(),
                    place,
                    weighing,
                },
            ));
        }
    }
    let placed = (1..input.len()).find_map(|at| {
        let (rest, place) = inside(input.after(at))?;
        Some((at, rest, place))
    });
    let number = input
        .find(|token| token.is_numeric() || token.norm() == "in")
        .unwrap_or(input.len());
    // "rice in the freezer 560", and not "rice 560, dal in the freezer 300"
    let (said, rest, place) = match placed {
        Some((at, rest, place)) if at <= number => {
            let number = rest.find(Token::is_numeric).unwrap_or(rest.len());
            let idle = strip_is(rest.range(0, number).without_lead());
            let idle = idle.is_empty() || idle.len() == 1 && is_idle(idle.norm(0));
            let number = if idle { number } else { 0 };
            (input.range(0, at), rest.after(number), Some(place))
        }
        _ => (input.range(0, number), input.after(number), None),
    };
    let (name, before) = named(strip_is(name::bare(said)));
    // "mac and cheese" holds a joining word.
    let tricky = tricky_length(input) >= name.len();
    if !name.is_wordy()
        || name.len() > NAME_WORDS_MAX
        || !tricky && name.slice.iter().any(separates)
    {
        return input.no();
    }
    if rest.is_empty() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let (rest, weighing) = zero(rest).or_else(|_| weighing(rest))?;
    // "rice 560 in the freezer"
    let (rest, behind) = match inside(rest) {
        Some((after, place)) => (after, Some(place)),
        None => (rest, None),
    };
    if rest.first().is_some_and(|token| !separates(token)) && !begins_name(rest) {
        let odd = rest.range(0, 1);
        return rest.fail(ErrorKind::LeftOver(odd.words().text));
    }
    Ok((
        rest,
        Weighed {
            name: name.words(),
            place: place.or(before).or(behind),
            weighing,
        },
    ))
}

/// The name without the place that it stands in.
fn named(said: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let whole = name::bare(said);
    let alone = by_name(whole).is_none();
    let split = alone.then(|| dish_in(whole)).flatten();
    let Some((dish, place)) = split else {
        return (whole, None);
    };
    // A word that was put there has no place in the text.
    let of_dish = |token: &&Token| !token.span.is_empty() && dish.span.contains(&token.span.start);
    let from = whole.find(|token| of_dish(&token)).unwrap_or(0);
    let length = whole.slice.iter().filter(of_dish).count();
    (whole.range(from, from + length), Some(place))
}

/// Nothing is left: the one weighing of nothing that there is.
fn zero(input: Tokens<'_>) -> Read<'_, Weighing> {
    let first = input.first();
    let zero =
        first.filter(|token| matches!(token.kind, Kind::Number(numeral) if numeral.value == 0.0));
    let Some(zero) = zero else {
        return input.no();
    };
    let unit = usize::from(matches!(input.norm(1), "g" | "grams" | "gram"));
    Ok((input.after(1 + unit), Weighing::net(0.0, zero.span.clone())))
}

fn strip_is(name: Tokens<'_>) -> Tokens<'_> {
    match name.last().map(Token::norm) {
        Some(last) if is_idle(last) && name.len() > 1 => name::bare(name.range(0, name.len() - 1)),
        _ => name,
    }
}

fn is_idle(word: &str) -> bool {
    matches!(word, "is" | "now" | "at" | "weighs" | "left" | "has")
}

fn separates(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '+' | '&')
    ) || token.norm() == "and"
}
