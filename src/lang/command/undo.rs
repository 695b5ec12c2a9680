//! "undo": the sender's latest entry is reversed; "cancel": the open question is dropped.

use crate::lang::command::fix::without_excuse;
use crate::lang::command::whole_phrase;
use crate::lang::name;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{moves, reopening};

/// Whoever says more behind it tells something else.
const WHY_TOKENS_MAX: usize = 12;
const DISH_WORDS_MAX: usize = 4;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) =
        whole_phrase("undo", input).or_else(|_| whole_phrase("undo", without_excuse(input)))?;
    Ok((rest, Command::Undo))
}

/// "forget that", "ignore the last one": taken back right after it was booked, and talk at any other time.
pub fn read_lately(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("undo lately", without_excuse(input))?;
    Ok((rest, Command::Undo))
}

/// "scrap the freezing, the dal never left the fridge", "undo the sauce move": what is told behind it says why.
pub fn read_move(input: Tokens<'_>) -> Read<'_, Command> {
    let called = |rest: Tokens<'_>| moves().longest_of(rest.slice, "a move");
    match taken_back(input, called) {
        Some(name) => Ok((input.after(input.len()), Command::UndoMove { name })),
        None => input.no(),
    }
}

/// "undo my recount, the lid was still on", "scrap the salsa count".
pub fn read_count(input: Tokens<'_>) -> Read<'_, Command> {
    let called = |rest: Tokens<'_>| reopening().longest_of(rest.slice, "counting");
    match taken_back(input, called) {
        Some(name) => Ok((input.after(input.len()), Command::UndoCount { name })),
        None => input.no(),
    }
}

/// What is taken back by what it is called, and of which dish, if one is named; what is told behind it says why.
fn taken_back<'a>(
    input: Tokens<'a>,
    called: impl Fn(Tokens<'a>) -> Option<usize>,
) -> Option<Option<Words>> {
    let body = without_excuse(input).trimmed();
    let rest = body.after(moves().longest_of(body.slice, "taken back")?);
    let rest = rest.after(usize::from(matches!(
        rest.norm(0),
        "the" | "that" | "my" | "this"
    )));
    let end = rest.find(is_mark).unwrap_or(rest.len());
    let (said, why) = (rest.range(0, end).trimmed_end(), rest.after(end));
    let asked = why.slice.iter().any(|token| token.is('?'));
    if why.len() > WHY_TOKENS_MAX || why.has_number() || asked {
        return None;
    }
    let at = (0..said.len()).find_map(|at| {
        let length = called(said.after(at))?;
        (at + length == said.len()).then_some(at)
    })?;
    match (at, name::of_batch(said.range(0, at))) {
        (0, _) => Some(named_in(why)),
        (_, name) => name.map(Some),
    }
}

/// "no, the rice wasn't binned", "we didn't bin the rice after all", "undo that bin".
pub fn read_waste(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_excuse(input).trimmed();
    let no = matches!(body.norm(0), "no" | "nope" | "nah");
    let body = body.after(usize::from(no)).trimmed();
    let of = |part, rest: Tokens<'_>| reopening().longest_of(rest.slice, part);
    let body = body.after(of("lead", body).unwrap_or(0)).without_lead();
    let all = (1..body.len()).find(|&at| of("after all", body.after(at)) == Some(body.len() - at));
    let body = body.range(0, all.unwrap_or(body.len())).trimmed_end();
    let named = |said: Tokens<'_>| {
        let it = said.len() == 1 && matches!(said.norm(0), "it" | "that" | "they" | "them");
        match it {
            true => Some(None),
            false => name::of_batch(said).map(Some),
        }
    };
    let behind = |at: usize| of("unbinned", body.after(at)) == Some(body.len() - at);
    let denied = || named(body.range(0, (1..body.len()).find(|&at| behind(at))?));
    let denies = || {
        let who = matches!(body.norm(0), "i" | "we" | "nobody");
        let rest = body.after(usize::from(who));
        named(rest.after(of("not binning", rest)?).trimmed())
    };
    let undone = || {
        let rest = body.after(moves().longest_of(body.slice, "taken back")?);
        let the = matches!(rest.norm(0), "the" | "that" | "my" | "this");
        let rest = rest.after(usize::from(the));
        let at =
            (0..rest.len()).find(|&at| of("binning", rest.after(at)) == Some(rest.len() - at))?;
        match at {
            0 => Some(None),
            at => name::of_batch(rest.range(0, at)).map(Some),
        }
    };
    match denied().or_else(denies).or_else(undone) {
        Some(name) => Ok((input.after(input.len()), Command::UndoWaste { name })),
        None => input.no(),
    }
}

/// The one dish that the reason tells of.
fn named_in(why: Tokens<'_>) -> Option<Words> {
    let dish = |at: usize| {
        let longest = (1..=DISH_WORDS_MAX.min(why.len() - at)).rev();
        let name = |length: usize| name::of_batch(why.range(at, at + length));
        longest.into_iter().find_map(name)
    };
    (0..why.len()).find_map(dish)
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | '.' | ';' | '!' | '-' | ':' | '?')
    )
}

/// "redo": the last undo is undone.
pub fn read_redo(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) =
        whole_phrase("redo", input).or_else(|_| whole_phrase("redo", without_excuse(input)))?;
    Ok((rest, Command::Redo))
}

pub fn read_drop(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("drop", input)?;
    Ok((rest, Command::Drop))
}
