//! One way to read a message: the commands, what could not be read, and why the reading was kept.

use super::syntax::{Command, Prep, Span};

/// Why words could not be read, with the place to point at.
#[derive(Debug, Clone)]
pub struct Error {
    pub kind: ErrorKind,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub enum ErrorKind {
    /// No verb, no weighing: nothing that the language knows.
    NotUnderstood,
    /// "12 quonks flour": the word stands where a unit should.
    UnknownUnit(String),
    /// Zero, negative, over 100 kg, not finite, or a number that cannot be read whole ("1.2.3").
    NotAMass(String),
    /// An amount with nothing named.
    MissingName,
    /// A name where an amount is needed.
    MissingAmount,
    /// Words or numbers left over after an otherwise complete reading.
    LeftOver(String),
    /// A verb was said, and what must follow it was not; the form that would be right.
    Malformed { form: &'static str },
    /// A packet without any figure, or a figure without its nutrient.
    MissingFigures,
    /// A running total that is below the one before.
    ScaleFell { last_grams: f64, now_grams: f64 },
    /// A reading above the one before it, and no word of whether it holds that.
    OnTop { below_grams: f64, grams: f64 },
    /// A jar that weighs more than before.
    JarGained { before_grams: f64, after_grams: f64 },
    /// Less on the scale than the empty vessel weighs.
    BelowTare { gross_grams: f64, tare_grams: f64 },
    /// It was weighed with a vessel whose tare nobody has told.
    UnknownTare(String),
    /// A day or month that no calendar has.
    NoSuchDate(String),
}

/// Why a reading was kept, preferred or set back; shown by `explain`.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// The message begins with this verb.
    Verb(&'static str),
    /// The words are a batch, container, person or place of this household.
    Known(String),
    /// The words are a food of the table.
    Food(String),
    /// Neither: the name could be anything.
    UnknownName(String),
    /// Every number is explained and no word is left over.
    Complete,
    LeftOver(String),
    /// A price, a time, a plan, a question, talk about the past: nothing may be booked.
    Veto(&'static str),
    /// Several ways to cut the text; the sign that decided.
    Cut(&'static str),
    /// The scale goes on showing so many grams: the next reading may come in another message.
    ScaleShows(f64),
    /// So does a jar that goes back on it: the next may take from it in another message.
    JarShows(f64),
    /// Why the marks in it do not hold together.
    NoGist(&'static str),
}

/// One way to read the whole message.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub commands: Vec<Command>,
    /// What in the message this reading does not cover; empty for a complete one.
    pub errors: Vec<Error>,
    pub reasons: Vec<Reason>,
    /// Higher is better; readings are sorted by it.
    pub rank: i32,
    /// May book when nobody addressed the bot: complete, a known name, no veto.
    pub sure: bool,
    /// Looks like a weighing even if it cannot be read whole: worth a question in a group.
    pub weighing_like: bool,
}

impl Reading {
    /// Gathered from the marks in a sentence, not read word by word.
    pub fn is_gist(&self) -> bool {
        self.reasons.contains(&Reason::Cut("gist"))
    }

    /// What the scale goes on showing.
    pub fn scale_shows(&self) -> Option<f64> {
        self.reasons.iter().find_map(|reason| match reason {
            Reason::ScaleShows(grams) => Some(*grams),
            _ => None,
        })
    }

    /// What the jar weighs that was taken from.
    pub fn jar_shows(&self) -> Option<f64> {
        self.reasons.iter().find_map(|reason| match reason {
            Reason::JarShows(grams) => Some(*grams),
            _ => None,
        })
    }

    /// It puts right, repeats or takes back what was booked just now.
    pub fn corrects(&self) -> bool {
        let verb =
            |reason: &Reason| matches!(reason, Reason::Verb("fix" | "again" | "undo lately"));
        self.reasons.iter().any(verb)
    }

    /// Every word of it tells what was put where, or how long something is cooked.
    pub fn tells_no_plate(&self) -> bool {
        self.errors.is_empty()
            && matches!(
                self.commands.as_slice(),
                [Command::Move(_) | Command::Spread(_) | Command::Prep(Prep::StepLasts { .. })]
            )
    }

    /// It tells of plates and nothing else.
    pub fn only_eaten(&self) -> bool {
        let eaten = |command: &Command| matches!(command, Command::Portion(_));
        !self.commands.is_empty() && self.commands.iter().all(eaten)
    }

    /// It passes over what it must not, so it books nothing, and any other goes before it by so much.
    pub fn refute(&mut self, error: Error, by: i32) {
        self.errors.push(error);
        self.commands.clear();
        self.sure = false;
        self.rank -= by;
    }

    /// Covers the whole, and may book.
    pub fn is_certain(&self) -> bool {
        self.errors.is_empty() && self.sure
    }
}

/// That of the one that ranks highest.
pub fn best_rank(readings: &[Reading]) -> i32 {
    readings
        .iter()
        .map(|reading| reading.rank)
        .max()
        .unwrap_or(0)
}

impl PartialEq for Error {
    fn eq(&self, other: &Self) -> bool {
        self.kind == other.kind
    }
}
