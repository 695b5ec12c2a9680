//! What a reading is worth that leaves out the talk beside it.

use super::bought::SHOPPED_GRAMS_MIN;
use super::plate::{SCALE_GRAMS_MIN, is_terse, mentions_household};
use crate::lang::command::kept_back;
use crate::lang::gist::tells_of_pots;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{Amount, Command, Item, Reading, Reason};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;

/// What a reading is worth that leaves out the talk beside it.
pub fn beside_talk(reading: Reading, whole: Tokens<'_>, talk_words: usize) -> Reading {
    let weighs = reading.commands.iter().all(|command| match command {
        Command::Portion(_)
        | Command::Waste { .. }
        | Command::Count { .. }
        | Command::Weigh { .. }
        | Command::PourOff { .. }
        | Command::Move(_)
        | Command::Spread(_)
        | Command::Keeps(_)
        | Command::TopUp(_)
        | Command::Boxes(_)
        | Command::Receive(_)
        | Command::Take(_)
        | Command::Dates { .. } => true,
        Command::Fix(_) => mentions_household(whole),
        _ => false,
    });
    let told = talk_words == 0 || is_told(&reading.commands, whole);
    let of_pots = reading.only_eaten() && tells_of_pots(whole);
    // "took some dal to mum's, she loved it": nothing of it was on a scale.
    let unmeasured = talk_words > 0 && reading.commands.iter().all(is_unmeasured);
    // "froze the dal, left some out": nobody knows how much was frozen.
    let whole_moved = |command: &Command| matches!(command, Command::Move(it) if it.kept.is_none());
    let kept_back = reading.commands.iter().any(whole_moved) && kept_back::is_told(whole);
    let weighs = weighs && !unmeasured && !kept_back;
    let sure = reading.is_certain() && weighs && told && !of_pots;
    // What is put right may be put right further in what was taken for talk.
    let puts_right = |command: &Command| matches!(command, Command::Fix(_));
    let whole_first = reading.commands.iter().any(puts_right);
    let worth_asking =
        told && mentions_household(whole) && (is_misspelt(&reading, whole) || is_terse(whole));
    // "reminder dentist at 9, soup in the fridge": beside talk, where a dish stands tells nothing.
    let stated = |reason: &Reason| matches!(reason, Reason::Verb("stated" | "put there"));
    let mut reading = reading;
    if talk_words > 0 && reading.reasons.iter().any(stated) {
        reading.reasons.push(Reason::Veto("talk beside it"));
    }
    Reading {
        // What is certain without the talk comes before what is not with it.
        rank: if sure && !whole_first {
            reading.rank.max(CERTAIN_RANK)
        } else {
            reading.rank - TALK_COST
        },
        sure,
        weighing_like: sure || reading.weighing_like && weighs && worth_asking,
        ..reading
    }
}

/// A plate with no amount on it that could be weighed or counted.
fn is_unmeasured(command: &Command) -> bool {
    let vague = |item: &Item| matches!(item.amount, Amount::Uncounted(_));
    matches!(command, Command::Portion(portion) if portion.items.iter().all(vague))
}

/// Nothing is strange in it but the spelling of names.
fn is_misspelt(reading: &Reading, input: Tokens<'_>) -> bool {
    let mut strange = reading.reasons.iter().filter_map(|reason| match reason {
        Reason::UnknownName(name) => Some(name),
        _ => None,
    });
    reading.errors.is_empty() && strange.all(|name| input.vocabulary.is_spelled_nearly(name))
}

const CERTAIN_RANK: i32 = 1000;
const TALK_COST: i32 = 10;

/// Beside talk, foods of the table are a weighing only where somebody says that they were eaten, and a bowl
/// that nobody weighed is as much talk as the rest: "10 minutes sat down and a bowl of soup".
fn is_told(commands: &[Command], whole: Tokens<'_>) -> bool {
    let eaten = || {
        whole
            .slice
            .iter()
            .any(|token| matches!(token.norm(), "had" | "ate" | "eaten" | "having" | "eating"))
    };
    let ours = |item: &Item| familiarity(&item.name.text, whole) == Familiarity::Household;
    let weighed = |item: &Item| !is_by_eye(item, ours(item), whole);
    commands.iter().all(|command| match command {
        Command::Portion(portion) => {
            let told = portion.items.iter().any(ours)
                || portion.meal.is_some()
                || portion.items.iter().all(is_on_scale);
            eaten() || told && portion.items.iter().any(weighed)
        }
        _ => true,
    })
}

/// "a bowl of soup", "half a biscuit": neither weighed nor counted in digits; a share of a pot is exact.
pub fn is_by_eye(item: &Item, ours: bool, input: Tokens<'_>) -> bool {
    let taught = |measure: &[String]| {
        let words: Vec<&str> = measure.iter().map(String::as_str).collect();
        input.vocabulary.is(Sense::Measure, &words)
    };
    let by_eye = match &item.amount {
        Amount::Pieces { measure, .. } if taught(measure) => false,
        Amount::Mass(_) | Amount::Weighed { .. } => false,
        Amount::Bare(count) => *count < SCALE_GRAMS_MIN,
        Amount::Share(_) => !ours,
        _ => true,
    };
    by_eye && !input.text[item.span.clone()].contains(|c: char| c.is_numeric())
}

/// Grams that a scale shows of something that is not counted.
fn is_on_scale(item: &Item) -> bool {
    let counted = item.name.text.ends_with(['s', 'S']);
    match item.amount {
        Amount::Bare(grams) => (SCALE_GRAMS_MIN..SHOPPED_GRAMS_MIN).contains(&grams) && !counted,
        Amount::Mass(grams) => grams < SHOPPED_GRAMS_MIN,
        _ => false,
    }
}
