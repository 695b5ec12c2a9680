//! Which reading is meant, whether it may book unasked, and why.
//!
//! A reading is sure when it covers the message, every name in it is known, and nothing forbids it. A
//! message that only looks like a weighing may be asked about.

use super::lexicon;
use super::name::{Familiarity, familiarity};
use super::syntax::{Command, Error, ErrorKind, LineContent, Portion, Reading, Reason};
use super::token::Kind;
use super::tokens::Tokens;
use super::veto::vetoes_in;

/// Words that a message may hold beside names and numbers and still look like a weighing.
const STRAY_WORDS_MAX: usize = 2;

/// A complete reading of one command.
pub fn complete(input: Tokens<'_>, verb: &'static str, rank: i32, command: Command) -> Reading {
    let mut reasons = vec![Reason::Verb(verb), Reason::Complete];
    let (known, sure, like) = match &command {
        Command::Batch(batch) => {
            let lines = batch.lines.iter().any(|line| {
                matches!(
                    &line.content,
                    LineContent::Ingredient {
                        amount: Some(_),
                        ..
                    }
                )
            });
            let told = lines || batch.weighing.is_some();
            let strong = verb == "batch" && (told || names_food(&batch.name.text));
            let weak = verb != "batch"
                && told
                && lines
                && (batch.weighing.is_some() || batch.lines.len() > 1)
                && vetoes_in(input).is_empty();
            (0, strong || weak, strong || weak)
        }
        Command::Add { batch, .. }
        | Command::Amend { batch, .. }
        | Command::Weigh { batch, .. } => by_name(&batch.text, input, &mut reasons),
        Command::PourOff { batch, poured, .. } => {
            let named = batch
                .as_ref()
                .is_none_or(|batch| familiarity(&batch.text, input) >= Familiarity::Food);
            let told = matches!(
                poured.amount,
                super::syntax::Amount::Mass(_)
                    | super::syntax::Amount::Volume { .. }
                    | super::syntax::Amount::Bare(_)
            );
            let sure = named && told && vetoes_in(input).is_empty();
            (0, sure, sure)
        }
        Command::Portion(portion) => {
            return portion_reading(input, rank, portion.clone(), Vec::new());
        }
        Command::Count { items, .. } => all_known(
            items.iter().map(|item| item.name.text.as_str()),
            input,
            &mut reasons,
        ),
        Command::Waste { items, .. } => all_known(
            items.iter().map(|item| item.name.text.as_str()),
            input,
            &mut reasons,
        ),
        Command::HowMuch { name } | Command::Show { name } | Command::Portions { name } => {
            by_name(&name.text, input, &mut reasons)
        }
        Command::Fact { amount, name, .. } => match familiarity(&name.text, input) {
            Familiarity::Household | Familiarity::Food => (20, true, true),
            _ => (0, false, amount.is_some() && verb == "fact"),
        },
        Command::Packet(packet) => (0, packet.values.len() > 1, true),
        Command::TeachMeasure { .. }
        | Command::TeachContainer { .. }
        | Command::ContainerHolds { .. }
        | Command::Setting(_) => {
            let sure = vetoes_in(input).is_empty();
            (0, sure, sure)
        }
        Command::Stock { .. }
        | Command::Eaten { .. }
        | Command::Due
        | Command::Fix(_)
        | Command::Again(_)
        | Command::Done
        | Command::Help { .. }
        | Command::Undo
        | Command::Redo
        | Command::Drop
        | Command::Choose(_)
        | Command::Start { .. }
        | Command::NotYet { .. } => (0, true, false),
    };
    Reading {
        commands: vec![command],
        errors: Vec::new(),
        reasons,
        rank: rank + known,
        sure,
        weighing_like: like,
    }
}

fn names_food(name: &str) -> bool {
    let folded = super::token::folded_words(name);
    !folded.is_empty()
        && folded.len() <= 4
        && folded
            .iter()
            .all(|word| lexicon::is_food_word(word) || lexicon::describes(word))
}

/// A command on one batch stands or falls with its name.
fn by_name(name: &str, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let quiet = vetoes_in(input).iter().all(|reason| *reason == "question");
    match familiarity(name, input) {
        Familiarity::Household => {
            reasons.push(Reason::Known(name.to_owned()));
            (40, quiet, quiet)
        }
        Familiarity::Food => {
            reasons.push(Reason::Food(name.to_owned()));
            (-60, false, false)
        }
        _ => {
            reasons.push(Reason::UnknownName(name.to_owned()));
            (-120, false, false)
        }
    }
}

fn all_known<'n>(
    names: impl Iterator<Item = &'n str>,
    input: Tokens<'_>,
    reasons: &mut Vec<Reason>,
) -> (i32, bool, bool) {
    let mut all = true;
    for name in names {
        let known = familiarity(name, input) >= Familiarity::Food;
        reasons.push(if known {
            Reason::Known(name.to_owned())
        } else {
            Reason::UnknownName(name.to_owned())
        });
        all &= known;
    }
    let sure = all && vetoes_in(input).is_empty();
    (if all { 20 } else { -40 }, sure, sure)
}

/// A verb was said, and what follows it cannot be read.
pub fn malformed(input: Tokens<'_>, verb: &'static str, rank: i32, error: Error) -> Reading {
    let like = mentions_household(input) && vetoes_in(input).is_empty() && input.has_number();
    Reading {
        commands: Vec::new(),
        errors: vec![error],
        reasons: vec![Reason::Verb(verb)],
        rank: rank - 300,
        sure: false,
        weighing_like: like,
    }
}

/// A plate, whole or in part.
pub fn portion_reading(
    input: Tokens<'_>,
    rank: i32,
    portion: Portion,
    errors: Vec<Error>,
) -> Reading {
    let mut reasons = Vec::new();
    let mut score = rank;
    let mut all_known = true;
    let mut household = false;
    let mut talk = 0;
    for item in &portion.items {
        let name = &item.name.text;
        match familiarity(name, input) {
            Familiarity::Household => {
                household = true;
                score += 20;
                reasons.push(Reason::Known(name.clone()));
            }
            Familiarity::Food => {
                score += 10;
                reasons.push(Reason::Food(name.clone()));
            }
            lesser => {
                all_known = false;
                talk += usize::from(lesser == Familiarity::Talk || name.split(' ').count() > 4);
                score -= if lesser == Familiarity::Talk { 80 } else { 20 };
                reasons.push(Reason::UnknownName(name.clone()));
            }
        }
    }
    let mut vetoes = vetoes_in(input);
    if !portion.items.is_empty() && portion.anyway {
        vetoes.retain(|reason| *reason != "question");
    }
    reasons.extend(vetoes.iter().map(|reason| Reason::Veto(reason)));
    score -= 60 * vetoes.len() as i32 + 100 * errors.len() as i32;
    for error in &errors {
        if let ErrorKind::LeftOver(words) = &error.kind {
            reasons.push(Reason::LeftOver(words.clone()));
        }
    }
    let whole = errors.is_empty() && !portion.items.is_empty();
    if whole {
        reasons.push(Reason::Complete);
    }
    let quiet = vetoes.is_empty();
    let sure = whole && all_known && quiet;
    let like = quiet && talk == 0 && (sure || looks_weighed(input, household));
    Reading {
        commands: if whole {
            vec![Command::Portion(portion)]
        } else {
            Vec::new()
        },
        errors,
        reasons,
        rank: score,
        sure,
        weighing_like: like,
    }
}

/// A name of the household beside a number, and hardly another word.
fn looks_weighed(input: Tokens<'_>, household: bool) -> bool {
    let stray = input
        .slice
        .iter()
        .filter(|token| match &token.kind {
            Kind::Word(norm) => {
                !(super::name::is_filler(token)
                    || input.vocabulary.has_word(norm)
                    || lexicon::is_food_word(norm)
                    || lexicon::describes(norm)
                    || super::words::units().has(norm)
                    || super::words::measures().has(norm))
            }
            _ => false,
        })
        .count();
    input.has_number() && (household || mentions_household(input)) && stray <= STRAY_WORDS_MAX
}

/// Whether a word of a batch's name stands in the message.
fn mentions_household(input: Tokens<'_>) -> bool {
    input
        .slice
        .iter()
        .any(|token| !token.norm().is_empty() && input.vocabulary.is_batch(&[token.norm()]))
}

/// Nothing could be read.
pub fn not_understood(input: Tokens<'_>) -> Reading {
    Reading {
        commands: Vec::new(),
        errors: vec![input.error(ErrorKind::NotUnderstood)],
        reasons: Vec::new(),
        rank: -1000,
        sure: false,
        weighing_like: vetoes_in(input).is_empty() && looks_weighed(input, false),
    }
}
