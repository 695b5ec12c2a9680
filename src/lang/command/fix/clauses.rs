//! A message that puts something right in several clauses.
//!
//! ```text
//! message := { undo | clause | rest | absent | restated | forgotten amount | idle | portion }
//! absent  := ["there was"] "no" name
//! restated := item { item }      after a swap: what it comes to
//! ```
//! What takes back is dropped where the next clause puts right: "undo that, it was chilli". An idle clause that
//! names a dish ("too much rice, put 50 back") gives the next its name.

use super::{Corrections, clause, figure, listed, off, remainder, without_excuse};
use crate::lang::command::{again, portion, takes_back};
use crate::lang::lexicon::is_food_word;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Command, Fix, Item, Line, Of, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::{remarks, sharing};

/// "one" may count anything.
const SPOKEN_MIN: f64 = 10.0;
const IDLE_TOKENS_MAX: usize = 9;

/// What was read so far.
#[derive(Default)]
struct Reading {
    out: Corrections,
    /// The dish that an idle clause has named.
    about: Option<Words>,
    /// "forgot the cheddar": the next clause tells its amount.
    forgotten: Option<Words>,
    /// "the dal is wrong": the next clause may tell what is right.
    doubted: Option<Words>,
    /// It begins with what there was none of.
    without: bool,
    /// "the rice is right": what is told of the others puts them right.
    affirmed: bool,
    /// "undo that": the next clause tells what there was instead, if anything.
    undone: bool,
}

/// Clause by clause; `None` when one of them says what cannot be read.
pub fn read(clauses: &[Tokens<'_>]) -> Option<Corrections> {
    let mut reading = Reading {
        affirmed: clauses.iter().any(|piece| affirms(*piece)),
        ..Reading::default()
    };
    for piece in clauses.iter().map(|piece| piece.trimmed()) {
        if without_excuse(piece).is_empty() && takes_back(piece).is_none() {
            continue;
        }
        reading.take(piece)?;
    }
    let first = reading.out.commands.first()?;
    let begins = matches!(first, Command::Fix(_) | Command::Undo) || goes_with(first);
    let told = reading.out.commands != [Command::Undo];
    // "no rice, 140 dal" is a plate.
    let fixes = reading
        .out
        .commands
        .iter()
        .filter(|it| matches!(it, Command::Fix(_)));
    if reading.without && (fixes.count() < 2 || clauses.iter().any(|piece| is_plate(*piece))) {
        return None;
    }
    (reading.forgotten.is_none() && clauses.len() > 1 && begins && told).then_some(reading.out)
}

/// "beans are right": said of a line beside those that are put right.
pub fn affirms(piece: Tokens<'_>) -> bool {
    super::before("right", piece.trimmed()).is_some_and(|name| super::known_name(name).is_some())
}

fn is_plate(piece: Tokens<'_>) -> bool {
    listed::items(piece, 1).is_some()
}

/// "forgot the cheddar, 25": it goes on the plate before.
fn goes_with(command: &Command) -> bool {
    match command {
        Command::Portion(portion) => portion.with_last,
        Command::Again(_) => true,
        _ => false,
    }
}

impl Reading {
    fn take(&mut self, piece: Tokens<'_>) -> Option<()> {
        if let Some(name) = self.forgotten.take() {
            self.out.commands.push(off::added(piece, name)?);
        } else if self.out.commands.is_empty()
            && let Some(surely) = takes_back(piece)
        {
            self.undone = true;
            self.out.talk |= !surely;
            self.out.commands.push(Command::Undo);
        } else if let Some(fix) = remainder::read(self.out.commands.last(), piece) {
            self.out.commands.pop();
            self.out.commands.push(Command::Fix(fix));
        } else if super::whole_of(without_excuse(piece), "not after all") {
            self.out.commands.pop()?;
        } else if matches!(
            self.out.commands.last(),
            Some(Command::Fix(Fix::Whose { .. }))
        ) && let Ok((_, again)) = again::read(piece)
        {
            // "that's Ana's plate. I had the same but only 100 rice"
            self.out.commands.push(again);
        } else if let Some(command) = self.correction(piece) {
            self.correct(command);
        } else if let Some(Command::Fix(Fix::Name { amount, .. })) = self.out.commands.last_mut()
            && let Some(told) = figure::alone(piece)
            && amount.is_none()
        {
            *amount = Some(told);
        } else if let Some(parts) = self.joined(piece) {
            for part in parts {
                self.take(part)?;
            }
        } else if let Some(name) = off::absent(piece) {
            self.without |= self.out.commands.is_empty();
            self.correct(Command::Fix(Fix::Remove(Line::named(name))));
        } else if self.affirmed
            && let Some(items) = listed::items(piece, 1)
        {
            self.out.commands.extend(items);
        } else if self.is_swapped() && figure::retells(piece) {
            // "swap them, I had the 60" swaps once.
        } else if self.is_swapped()
            && let Some(restated) = listed::items(piece, 1)
        {
            self.out.commands.extend(restated);
        } else if let Some(name) = off::forgotten(piece) {
            self.forgotten = Some(name);
        } else if let Some(name) = self.doubted.take()
            && let Some(amount) = figure::alone(piece)
        {
            self.correct(listed::of_line(name, amount));
        } else if let Some(told) = beside(piece) {
            if super::before("wrong", piece).is_some() {
                self.doubted.clone_from(&told);
            }
            self.about = told.or(self.about.take());
            self.out.talk = true;
        } else if !self.out.commands.is_empty() {
            self.out.commands.extend(plates(piece)?);
        } else {
            return None;
        }
        Some(())
    }

    fn correction(&self, piece: Tokens<'_>) -> Option<Command> {
        let elliptic = || match self.out.commands.last() {
            Some(Command::Fix(Fix::Amount { .. })) => figure::elliptic(piece),
            _ => None,
        };
        let found = clause(piece).filter(|command| !figure::is_retyped(command));
        found.or_else(elliptic)
    }

    /// "the dal was 90 and no rice": corrections that a word joins.
    fn joined<'a>(&self, piece: Tokens<'a>) -> Option<Vec<Tokens<'a>>> {
        let parts = piece.split(super::is_joint);
        let corrects =
            |part: &Tokens<'_>| self.correction(*part).is_some() || off::absent(*part).is_some();
        (parts.len() > 1 && parts.iter().all(corrects)).then_some(parts)
    }

    fn correct(&mut self, mut command: Command) {
        if let (Command::Fix(fix), Some(name)) = (&mut command, &self.about) {
            named(fix, name);
        }
        if std::mem::take(&mut self.undone) {
            self.out.commands.pop();
        }
        // "20 more, no, make it 250"
        let more = |last: &mut Command| matches!(last, Command::Fix(Fix::More(_)));
        if matches!(&command, Command::Fix(Fix::Amount { .. })) {
            self.out.commands.pop_if(more);
        }
        // "that was Ana's, only the salsa was mine"
        if let Command::Fix(Fix::Whose {
            who,
            of: Of::Named(name),
        }) = &command
            && who.text == "mine"
            && let Some(Command::Fix(Fix::Whose { of, .. })) = self.out.commands.last_mut()
            && matches!(of, Of::Last | Of::Plate)
        {
            *of = Of::AllBut(name.clone());
            return;
        }
        // "got those mixed up, swap them" swaps once.
        if self.out.commands.last() != Some(&command) {
            self.out.commands.push(command);
        }
    }

    fn is_swapped(&self) -> bool {
        let swapped = |command: &Command| matches!(command, Command::Fix(Fix::Swapped));
        self.out.commands.iter().any(swapped)
    }
}

/// What was eaten besides.
fn plates(piece: Tokens<'_>) -> Option<Vec<Command>> {
    let piece = super::after("on", piece).unwrap_or(piece);
    let piece = super::before("in its place", piece).unwrap_or(piece);
    let plates = portion::read(piece).filter(|plates| plates.errors.is_empty())?;
    let known = |item: &Item| familiarity(&item.name.text, piece) >= Familiarity::Food;
    let all = plates.portions.iter().flat_map(|portion| &portion.items);
    let known = all.into_iter().all(known);
    known.then(|| plates.portions.into_iter().map(Command::Portion).collect())
}

/// A clause beside corrections; gives the dish that it names.
fn beside(piece: Tokens<'_>) -> Option<Option<Words>> {
    if takes_off(piece) || counts(piece) || piece.len() > IDLE_TOKENS_MAX || divides(piece) {
        return None;
    }
    let length = |at: usize| {
        let most = 3.min(piece.len() - at);
        (1..=most).rev().find(|&length| {
            let words: Vec<&str> = piece.slice[at..at + length]
                .iter()
                .map(Token::norm)
                .collect();
            piece.vocabulary.is_batch(&words)
        })
    };
    let named = (0..piece.len()).find_map(|at| Some((at, length(at)?)));
    // "no butter", of a butter that nobody knows
    let food = |norm: &str| piece.vocabulary.has_word(norm) || is_food_word(norm);
    let denied = |at: usize| piece.norm(at) == "no" && piece.norm(at + 1) != "the";
    let left_out = |at: usize| denied(at) && (named.is_some() || food(piece.norm(at + 1)));
    if (0..piece.len()).any(left_out) {
        return None;
    }
    Some(named.map(|(at, length)| piece.range(at, at + length).words()))
}

/// "undo the beans": it says what no clause beside others may be passed over for.
fn takes_off(piece: Tokens<'_>) -> bool {
    let piece = without_excuse(piece);
    ["off", "erased"]
        .iter()
        .any(|part| remarks().longest_of(piece.slice, part).is_some())
}

/// A number stands in it, be it in words: "one fifteen".
fn counts(piece: Tokens<'_>) -> bool {
    let spoken = |at: usize| {
        let read = number(piece.after(at));
        read.is_ok_and(|(_, said)| !said.article && said.value >= SPOKEN_MIN)
    };
    piece.has_number() || (0..piece.len()).any(spoken)
}

/// It tells of a share, or whose something was.
fn divides(piece: Tokens<'_>) -> bool {
    if person(piece).is_some_and(|(length, _)| length == piece.len()) {
        return true;
    }
    let whose = |at: usize| {
        let owned = person(piece.after(at))
            .is_some_and(|(length, _)| piece.norm(at + length - 1).ends_with('s'));
        owned || matches!(piece.norm(at), "mine" | "hers" | "his" | "theirs")
    };
    (0..piece.len()).any(|at| sharing().has(piece.norm(at)) || whose(at))
}

/// Give a correction that names nothing the dish that was named beside it.
fn named(fix: &mut Fix, name: &Words) {
    match fix {
        Fix::Amount { line, .. } if line.name.is_none() => line.name = Some(name.clone()),
        Fix::PutBack(items) => {
            for item in items.iter_mut().filter(|item| item.name.text.is_empty()) {
                item.name = name.clone();
            }
        }
        _ => {}
    }
}
