//! Corrections and repeats: most of them are everyday words as well, and count only right after a
//! booking (`Reading::sure` is false); some that nobody utters in talk count at any time.

use super::plate::SCALE_GRAMS_MIN;
use crate::lang::command::fix::{Corrections, is_excused};
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{
    Again, AgainOf, Amount, Command, Figure, Fix, Line, Of, Reading, Reason, Words,
};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;

/// Behind every other reading that is complete, or a portion that lacks its name.
const WEAK_RANK: i32 = 600;

/// What talk of a plate says as well as talk of anything.
const IDLE: [&str; 4] = ["negation", "past talk", "conditional", "stock talk"];

pub fn corrections(input: Tokens<'_>, rank: i32, corrections: Corrections) -> Reading {
    // "seconds" are no time here.
    let words = input.slice.iter().filter(|token| token.norm() != "seconds");
    let told: Vec<Token> = words.cloned().collect();
    let vetoes = vetoes_in(input.with_tokens(&told));
    let quiet = vetoes.iter().all(|reason| IDLE.contains(reason));
    let plain = |command: &Command| match command {
        Command::Fix(fix) => is_plain_fix(fix, input),
        Command::Portion(portion) => portion
            .items
            .iter()
            .all(|item| familiarity(&item.name.text, input) >= Familiarity::Food),
        _ => true,
    };
    let sure = quiet && !corrections.talk && corrections.commands.iter().all(plain);
    Reading {
        commands: corrections.commands,
        errors: Vec::new(),
        reasons: vec![Reason::Verb("fix"), Reason::Complete],
        rank: if corrections.weak { WEAK_RANK } else { rank },
        sure: sure && !corrections.weak,
        weighing_like: false,
    }
}

/// Beside talk they may be of what is talked about: "5 min, stir, 5 more" of an oven.
pub fn correct_talk(commands: &[Command], input: Tokens<'_>) -> bool {
    let more = |command: &Command| matches!(command, Command::Fix(Fix::More(_)));
    let timed = || {
        let vetoes = vetoes_in(input);
        let mut vetoes = vetoes.iter();
        vetoes.any(|reason| matches!(*reason, "clock time" | "oven setting"))
    };
    correct_blindly(commands) || commands.iter().any(more) && timed()
}

/// They name nothing of what was booked: beside talk they may be of anything.
fn correct_blindly(commands: &[Command]) -> bool {
    let blind = |command: &Command| match command {
        Command::Fix(Fix::Amount { line, .. }) => *line == Line::default(),
        Command::Fix(Fix::Whose { of, .. } | Fix::When { of, .. }) => *of == Of::Last,
        Command::Fix(Fix::Name { old, .. }) => old.is_none(),
        Command::Fix(Fix::Swapped | Fix::Each { .. }) | Command::Again(_) => true,
        _ => false,
    };
    !commands.is_empty() && commands.iter().all(blind)
}

/// Corrections that nobody utters in talk.
fn is_plain_fix(fix: &Fix, input: Tokens<'_>) -> bool {
    let known = |words: &Words| familiarity(&words.text, input) >= Familiarity::Food;
    let ours = |words: &Words| familiarity(&words.text, input) == Familiarity::Household;
    match fix {
        Fix::Amount { new, line } => is_plain_amount(new, line, input),
        Fix::Name { new, old, .. } => known(new) && old.as_ref().is_some_and(known),
        Fix::Remove(line) => line.owner.is_none() && line.name.as_ref().is_some_and(ours),
        Fix::PutBack(items) => items.iter().all(|item| known(&item.name)),
        Fix::Left(item) => known(&item.name),
        Fix::Whose { of, .. } | Fix::Shared { of, .. } => match of {
            Of::Last => input.trimmed().len() > 1,
            Of::Named(name) | Of::AllBut(name) | Of::Part(_, Some(name)) => ours(name),
            Of::Plate | Of::Part(_, None) => false,
        },
        Fix::When { of, .. } => *of == Of::Last && input.trimmed().len() > 1,
        // "another 60" may be anything; seconds are of a plate.
        Fix::More(_) => input.slice.iter().any(|token| token.norm() == "seconds"),
        Fix::Swapped | Fix::Each { .. } => false,
    }
}

fn is_plain_amount(new: &Figure, line: &Line, input: Tokens<'_>) -> bool {
    let scaled = match new {
        Figure::Is(Amount::Bare(grams)) => *grams >= SCALE_GRAMS_MIN,
        Figure::Is(_) => true,
        Figure::Times(_) | Figure::Retyped(_) => false,
    };
    let familiar = |name: &Words| familiarity(&name.text, input);
    let told = line.old.is_some() || scaled;
    let named = line.name.as_ref().is_some_and(|name| {
        familiar(name) == Familiarity::Household || scaled && familiar(name) >= Familiarity::Food
    });
    if line.owner.is_some() {
        return told && named;
    }
    let opens = matches!(input.trimmed().norm(0), "make" | "change") || is_excused(input);
    let known = line
        .name
        .as_ref()
        .is_none_or(|name| familiar(name) >= Familiarity::Food);
    let should = input
        .slice
        .iter()
        .any(|token| token.norm().starts_with("should"));
    told && (opens && known || named && (line.old.is_some() || should))
}

/// "same" alone is a reaction.
pub fn is_plain_again(again: &Again) -> bool {
    match again.of {
        AgainOf::Day(_) | AgainOf::Person(_) => true,
        AgainOf::Last => again.who.is_empty(),
        AgainOf::Usual => true,
        AgainOf::Theirs | AgainOf::JustNow => false,
    }
}
