//! A new batch in a sentence, with what it weighs: "made pea soup this arvo, came out at 2100 g".
//!
//! ```text
//! pot := [cooked] name [cooked] { word } amount { word }
//! ```
//! The name stands behind what was done to make it, or right before; the one amount of the message is
//! the net weight, so a pot that may be in it gives no reading.

use super::evidence::forbids;
use super::mark::Mark;
use super::sentence::Sentence;
use crate::lang::syntax::{Amount, Command, Day, NewBatch, Weighing, Words};
use crate::lang::words::{fillers, pots, talk};

/// A bare number below this is no pot.
const POT_GRAMS_MIN: f64 = 100.0;
const NAME_MARKS_MAX: usize = 4;
/// Nothing of another kind may be told in the same message.
const OTHER: [&str; 5] = ["eat", "share", "waste", "amends", "story"];

pub fn read(sentence: &Sentence<'_>) -> Option<Command> {
    let (at, grams) = the_amount(sentence)?;
    let (cue, length) = (0..sentence.marks.len())
        .find_map(|at| sentence.cue(at, "cooked").map(|length| (at, length)))?;
    let name =
        name_behind(sentence, cue + length, at).or_else(|| name_before(sentence, cue, at))?;
    let clauses = 0..sentence.clause_count();
    let other = clauses
        .clone()
        .any(|clause| OTHER.iter().any(|key| sentence.tells(clause, key)));
    let forbidden = clauses.clone().any(|clause| forbids(sentence, clause));
    let bare = clauses.clone().any(|clause| sentence.tells(clause, "bare"));
    let in_a_pot = (cue + length..sentence.marks.len())
        .any(|at| sentence.mark(at) == Some(&Mark::Word) && pots().has(sentence.norm(at)));
    if other || forbidden || in_a_pot && !bare {
        return None;
    }
    let span = sentence
        .input
        .range(sentence.marks[at].from, sentence.marks[at].to)
        .span();
    Some(Command::Batch(NewBatch {
        name,
        weighings: vec![Weighing::net(grams, span)],
        made: sentence.day().filter(|day| *day != Day::Today),
        ..NewBatch::default()
    }))
}

/// The only number of the message.
fn the_amount(sentence: &Sentence<'_>) -> Option<(usize, f64)> {
    let mut found = None;
    for (at, marked) in sentence.marks.iter().enumerate() {
        match &marked.mark {
            Mark::Stray | Mark::Aside => return None,
            Mark::Amount(Amount::Mass(grams)) if found.is_none() => found = Some((at, *grams)),
            Mark::Amount(Amount::Bare(grams)) if found.is_none() && *grams >= POT_GRAMS_MIN => {
                found = Some((at, *grams));
            }
            // "a new batch": an article is no number.
            Mark::Amount(Amount::Pieces { .. }) if sentence.norm(at).starts_with('a') => {}
            Mark::Amount(_) => return None,
            _ => {}
        }
    }
    found.filter(|(_, grams)| *grams >= POT_GRAMS_MIN)
}

/// "made a big pot of pea soup"
fn name_behind(sentence: &Sentence<'_>, from: usize, amount: usize) -> Option<Words> {
    let mut from = from;
    while from < amount
        && (matches!(sentence.mark(from), Some(Mark::Day(_)))
            || sentence.cue(from, "link").is_some()
            || sentence.cue(from, "cooked").is_some()
            || sentence.norm(from).is_empty())
    {
        from += sentence.cue(from, "cooked").unwrap_or(1);
    }
    let to = (from..amount)
        .find(|&at| !is_of_name(sentence, at))
        .unwrap_or(amount);
    name(sentence, from, to)
}

/// "hummus made!!"
fn name_before(sentence: &Sentence<'_>, cue: usize, amount: usize) -> Option<Words> {
    let from = (0..cue)
        .rev()
        .take_while(|&at| is_of_name(sentence, at))
        .last()?;
    (amount > cue).then(|| name(sentence, from, cue)).flatten()
}

fn is_of_name(sentence: &Sentence<'_>, at: usize) -> bool {
    match sentence.mark(at) {
        Some(Mark::Food(_) | Mark::Foods | Mark::Dish(_)) => true,
        Some(Mark::Word) => {
            let norm = sentence.norm(at);
            !norm.is_empty()
                && !talk().has(norm)
                && !fillers().has(norm)
                && sentence.cue(at, "ends").is_none()
                && sentence.cue(at, "me").is_none()
        }
        _ => false,
    }
}

fn name(sentence: &Sentence<'_>, from: usize, to: usize) -> Option<Words> {
    if from >= to || to - from > NAME_MARKS_MAX {
        return None;
    }
    let tokens = sentence
        .input
        .range(sentence.marks[from].from, sentence.marks[to - 1].to);
    Some(tokens.words())
}
