//! Whose plate it is that is put right: told behind the amount, or in front of it with what they did.

use crate::lang::command::share::party::verb;
use crate::lang::person::person;
use crate::lang::syntax::Words;
use crate::lang::tokens::Tokens;

/// "130 leek soup for Ana", "130 for mine"
pub fn for_owner(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let told = |at: usize| {
        let who = input.after(at + 1);
        match person(who) {
            Some((length, named)) if length == who.len() => Some(named),
            _ => (who.len() == 1 && who.norm(0) == "mine").then(|| who.words()),
        }
    };
    let at = input.slice.iter().rposition(|token| token.norm() == "for");
    match at.and_then(|at| Some((at, told(at)?))) {
        Some((at, who)) => (input.range(0, at), Some(who)),
        None => (input, None),
    }
}

/// "Ana had 200 chilli", "Tom only ate 130": what somebody named had.
pub fn led_owner(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let (length, who) = person(input)?;
    let rest = input.after(length);
    let rest = rest.after(verb(rest).0);
    (rest.first()?.is_numeric()).then_some((rest, who))
}
