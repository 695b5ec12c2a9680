//! Which reading of a message to go by, and what stands in its way.

use super::super::mass::Mass;
use super::super::problem::{Problem, ProblemKind};
use super::Input;
use crate::lang::Parsed;
use crate::lang::syntax::{self, ErrorKind, Reading};

/// The reading to go by: for talk among people, only one that is sure, or one that looks like a
/// weighing and is worth a question; when the bot was spoken to, the best there is.
pub fn choose_reading<'a>(input: &Input, parsed: &'a Parsed) -> Option<&'a Reading> {
    let best = parsed.readings.first()?;
    if input.addressed || best.sure || best.weighing_like {
        return Some(best);
    }
    parsed.readings.iter().find(|reading| reading.sure)
}

/// What corrects nothing that stands may be read as something else.
pub fn otherwise<'a>(input: &Input, parsed: &'a Parsed, tried: &'a Reading) -> Option<&'a Reading> {
    let chosen = choose_reading(input, parsed)?;
    if chosen != tried || input.addressed {
        return Some(chosen);
    }
    let mut others = parsed.readings.iter().filter(|other| *other != tried);
    others.find(|other| other.sure)
}

/// What stands in the way of a reading, if anything.
pub fn problem_of(reading: &Reading) -> Option<Problem> {
    match reading.errors.first() {
        Some(error) => Some(problem(error)),
        None if reading.commands.is_empty() => Some(ProblemKind::NotUnderstood.anywhere()),
        None => None,
    }
}

/// What the language could not read, as a problem.
pub fn problem(error: &syntax::Error) -> Problem {
    let kind = match &error.kind {
        ErrorKind::NotUnderstood => ProblemKind::NotUnderstood,
        ErrorKind::UnknownUnit(word) => ProblemKind::UnknownUnit { word: word.clone() },
        ErrorKind::NotAMass(text) => ProblemKind::NotAMass { text: text.clone() },
        ErrorKind::MissingName => ProblemKind::MissingName,
        ErrorKind::MissingAmount => ProblemKind::MissingAmount {
            name: String::new(),
        },
        ErrorKind::LeftOver(text) => ProblemKind::LeftOver { text: text.clone() },
        ErrorKind::Malformed { form } => ProblemKind::Malformed { form },
        ErrorKind::MissingFigures => ProblemKind::MissingFigures,
        ErrorKind::NoSuchDate(text) => ProblemKind::NoSuchDate { text: text.clone() },
        ErrorKind::ScaleFell { last_grams, .. } => ProblemKind::ScaleFell {
            last: shown(*last_grams),
        },
        ErrorKind::OnTop { below_grams, grams } => ProblemKind::OnTop {
            below: shown(*below_grams),
            reading: shown(*grams),
        },
        ErrorKind::JarGained {
            before_grams,
            after_grams,
        } => ProblemKind::JarGained {
            before: shown(*before_grams),
            after: shown(*after_grams),
        },
        ErrorKind::BelowTare {
            gross_grams,
            tare_grams,
        } => ProblemKind::BelowTare {
            gross: shown(*gross_grams),
            tare: shown(*tare_grams),
        },
        ErrorKind::UnknownTare(name) => ProblemKind::UnknownTare { name: name.clone() },
    };
    kind.at(error.span.clone())
}

/// A mass as it is shown; what is too heavy for the books is nothing to show.
fn shown(grams: f64) -> Mass {
    Mass::from_grams(grams).unwrap_or_default()
}
