//! A reading of the scale, or another number, of what was just booked is put right: "sorry, after was 398 not 388" of a jar,
//! "no, barley 630" of a plate that fills up, "480 not 450" of what was divided.
//!
//! The number stands in the words by which the message is in the books, and on no plate. So the message is carried out
//! again with the right one. Where it went on from what stood on the scale before, the line differs by what the reading does.

use super::super::act::Act;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::in_hand;
use super::super::kitchen::Kitchen;
use super::super::ledger::EntryKind;
use super::super::mass::Mass;
use super::fix::{Target, label, names};
use super::{Decision, Input, OnProblem, Outcome, carry_out, scale};
use crate::lang::syntax::{Amount, Command, Cue, Figure, Fix, Line, Remark, Said, Words};
use crate::lang::{self, Parsed};

/// A number that is further from what was said was said of something else.
const DIFFERS_MOST: f64 = 0.35;
/// By so much the number that is meant is nearer than any other.
const NEARER_TIMES: f64 = 3.0;
/// Less is no reading.
const SHOWN_GRAMS_MIN: f64 = 20.0;

/// What is said to be right, and to be wrong.
struct Right {
    new: f64,
    old: Option<f64>,
    name: Option<Words>,
}

pub fn reworded(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    if in_hand::is_asked(kitchen, input) {
        return None;
    }
    let act = input.pointed.as_ref().filter(|act| act.stands());
    let act = act.or_else(|| {
        let mut recent = kitchen.recent.iter();
        recent.find(|act| act.stands() && in_hand::holds(input, act.sent_at))
    })?;
    if act.member != input.sender {
        return None;
    }
    let said = numerals(act);
    let right = parsed.remarks.iter().find_map(|it| right(it, &said))?;
    let draft = Draft::new(kitchen, input);
    let own = Target::of(&draft, act)?.own();
    let lies = |grams: f64| {
        let mass = Mass::from_grams(grams);
        own.iter().any(|(_, line)| Some(line.mass) == mass)
    };
    if own.is_empty() || lies(right.new) || right.old.is_some_and(lies) {
        return None;
    }
    let (at, old) = meant(&said, &right, &own_grams(&own))?;
    let mut text = act.text.clone();
    text.replace_range(said[at].1.clone(), &right.new.to_string());
    said_again(kitchen, input, act, &text).or_else(|| {
        let named = |line: &&super::fix::Found| {
            right
                .name
                .as_ref()
                .is_none_or(|name| names(&draft, &line.1, name))
        };
        let mut lines = own.iter().filter(named);
        let (Some((_, line)), None) = (lines.next(), lines.next()) else {
            return None;
        };
        let mut draft = Draft::new(kitchen, input);
        let more = scale::read_as(&mut draft, (old, right.new))?;
        let grams = line.mass.grams() + more;
        let fix = Fix::Amount {
            new: Figure::Is(Amount::Mass(grams)),
            line: Line {
                old: Some(Amount::Mass(line.mass.grams())),
                name: Some(Words::plain(label(&draft, line))),
                ..Line::default()
            },
        };
        let decision = carry_out(draft, &[Command::Fix(fix)], OnProblem::Forget);
        (grams > 0.0 && decision.outcome == Outcome::Recorded).then_some(decision)
    })
}

fn own_grams(own: &[super::fix::Found]) -> Vec<f64> {
    own.iter().map(|(_, line)| line.mass.grams()).collect()
}

/// The one number that is told to be right, by words that put something right. Of two, one is in the message that was
/// booked: "the 80 should be 90".
fn right(remark: &Remark, said: &[(f64, lang::Span)]) -> Option<Right> {
    let (mut told, mut old, mut name) = (Vec::new(), None, None);
    for term in remark.chunks.iter().flat_map(|chunk| &chunk.terms) {
        match &term.said {
            Said::Amount(Amount::Bare(grams) | Amount::Mass(grams), _) if term.denied => {
                old.replace(*grams).is_none().then_some(())?;
            }
            Said::Amount(Amount::Bare(grams) | Amount::Mass(grams), _) => told.push(*grams),
            // "no, barley 630" denies no barley.
            Said::Name(words) if name.is_none() => name = Some(words.clone()),
            _ => return None,
        }
    }
    let stands = |grams: &f64| said.iter().any(|(other, _)| other == grams);
    let new = match (told.as_slice(), old) {
        ([new], _) => *new,
        ([was, new], None) if stands(was) && !stands(new) => {
            old = Some(*was);
            *new
        }
        ([new, was], None) if stands(was) && !stands(new) => {
            old = Some(*was);
            *new
        }
        _ => return None,
    };
    let has = |cue| remark.chunks.iter().any(|chunk| chunk.has(cue));
    let claims = remark.wrong || old.is_some() || has(Cue::Sets) || has(Cue::No);
    (claims && new >= SHOWN_GRAMS_MIN).then_some(Right { new, old, name })
}

/// The number of the message that was booked which is put right: it is said to be wrong, or it is nearer to the right one
/// than anything on the plates, and much nearer than any other.
fn meant(said: &[(f64, lang::Span)], right: &Right, own: &[f64]) -> Option<(usize, f64)> {
    let off = |grams: f64| (grams - right.new).abs();
    let fits = |grams: f64| match right.old {
        Some(old) => grams == old,
        None => {
            let nearer = own.iter().all(|stands| off(grams) < off(*stands));
            grams >= SHOWN_GRAMS_MIN && off(grams) <= grams * DIFFERS_MOST && nearer
        }
    };
    let fitting = said
        .iter()
        .enumerate()
        .filter(|(_, (grams, _))| fits(*grams));
    let mut found: Vec<(usize, f64)> = fitting.map(|(at, (grams, _))| (at, *grams)).collect();
    found.sort_by(|one, other| off(one.1).total_cmp(&off(other.1)));
    match found.as_slice() {
        [only] => Some(*only),
        [first, second, ..] if off(first.1) * NEARER_TIMES <= off(second.1) => Some(*first),
        _ => None,
    }
}

fn numerals(act: &Act) -> Vec<(f64, lang::Span)> {
    lang::answer::numerals(&act.text)
}

/// The act as if it had been said so, if what it was booked by tells all of it.
fn said_again(kitchen: &Kitchen, input: &Input, act: &Act, text: &str) -> Option<Decision> {
    let before = booked_by(kitchen, input, act, &act.text)?;
    let stood: Mass = eaten(&before);
    let standing = act.standing().into_iter();
    let eats = standing.filter(|entry| entry.entry.kind == EntryKind::Portion);
    let stands: Mass = eats.map(|entry| entry.entry.mass).sum();
    (stood == stands && before.outcome == Outcome::Recorded).then_some(())?;
    let decision = booked_by(kitchen, input, act, text)?;
    (decision.outcome == Outcome::Recorded).then_some(decision)
}

fn eaten(decision: &Decision) -> Mass {
    let booked = decision.changes.iter().filter_map(|change| match change {
        Change::Entry { entry, .. } if entry.kind == EntryKind::Portion => Some(entry.mass),
        _ => None,
    });
    booked.sum()
}

/// The act taken back and carried out by these words, at its own moment.
fn booked_by(kitchen: &Kitchen, input: &Input, act: &Act, text: &str) -> Option<Decision> {
    let parsed = lang::parse(text, &kitchen.vocabulary());
    let reading = parsed.readings.iter().find(|it| it.is_certain())?;
    let mut base = Draft::new(kitchen, input);
    base.reverse_own(act);
    base.settle();
    base.occurred_at = act.sent_at;
    Some(carry_out(base, &reading.commands, OnProblem::Forget))
}
