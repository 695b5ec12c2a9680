//! A stocktake: "recount: soup 1210", "count dal 1840 in the pot, pot 470; beans 400".
//!
//! ```text
//! count := verb [":"] thing { sep thing } ["anyway"]
//! thing := name [":" | "is"] (weighing | "0" ["g"]) | mass name
//! ```

use crate::lang::amount::grams;
use crate::lang::aside::begins_name;
use crate::lang::command::{anyway, key_phrase};
use crate::lang::item::tricky_length;
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind, Weighed, Weighing};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::weighing::weighing;

const FORM: &str = "recount: soup 1210";

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
    let (rest, ()) = key_phrase("count", input)?;
    let mut rest = rest.without_lead();
    if matches!(rest.norm(0), "everything" | "all") {
        rest = rest.after(1).without_lead();
    }
    let mut items = Vec::new();
    while !rest.is_empty() {
        let skip = rest
            .slice
            .iter()
            .take_while(|token| {
                matches!(
                    token.kind,
                    Kind::Newline | Kind::Symbol(',' | ';' | '.' | '+' | '&')
                ) || token.norm() == "and"
            })
            .count();
        rest = rest.after(skip);
        if rest.is_empty() {
            break;
        }
        let (next, item) = thing(rest)?;
        items.push(item);
        rest = next;
    }
    if items.is_empty() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    Ok((rest, Command::Count { items, anyway }))
}

fn thing(input: Tokens<'_>) -> Read<'_, Weighed> {
    if let Ok((rest, grams)) = grams(input) {
        let end = rest.find(separates).unwrap_or(rest.len());
        let name = name::bare(rest.range(0, end));
        if name.is_wordy() && name.len() <= 6 {
            let said = input.range(0, input.len() - rest.len());
            let weighing = Weighing::net(grams, said.span());
            return Ok((
                rest.after(end),
                Weighed {
                    name: name.words(),
                    weighing,
                },
            ));
        }
    }
    let number = input
        .find(|token| token.is_numeric() || token.norm() == "in")
        .unwrap_or(input.len());
    let name = name::bare(input.range(0, number));
    let name = strip_is(name);
    // "mac and cheese" holds a joining word.
    let tricky = tricky_length(input) >= name.len();
    if !name.is_wordy() || name.len() > 6 || !tricky && name.slice.iter().any(separates) {
        return input.no();
    }
    if number == input.len() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let (rest, weighing) = zero(input.after(number)).or_else(|_| weighing(input.after(number)))?;
    if rest
        .first()
        .is_some_and(|token| !separates(token) && token.norm() != "and")
        && !begins_name(rest)
    {
        let odd = rest.range(0, 1);
        return rest.fail(ErrorKind::LeftOver(odd.words().text));
    }
    Ok((
        rest,
        Weighed {
            name: name.words(),
            weighing,
        },
    ))
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
        Some("is" | "now" | "at" | "weighs" | "left" | "has") => {
            name::bare(name.range(0, name.len() - 1))
        }
        _ => name,
    }
}

fn separates(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '+' | '&')
    ) || token.norm() == "and"
}
