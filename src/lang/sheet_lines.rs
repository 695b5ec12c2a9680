//! Lines of a recount as people say them while somebody walks along the sheet: "parsnips finished, binned the rice, dal
//! 640", "no rice left, 11 meatballs, and the soup is 2000", "everything as it should be except the dal, that's 1200".
//!
//! ```text
//! lines := line { sep line }                sep := newline | "," | "." | ";" | "!" | "and" | "but"
//! line  := a line of command/count.rs | a loss | a count of another reader | rest "except" dish | "that's" weighing
//!        | "no" dish ["left"] | mass dish | talk without a number or a dish
//! ```
//! At least one line tells by itself that it counts; only then is a weight before its dish a count and no plate.

use super::command::count;
use super::jars::is_vessel;
use super::name;
use super::place::is_place;
use super::syntax::{Command, Reading, Rest, Weighed, Weighing, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::recounts;
use super::{amount, heard_with_pots};

const LINES_MAX: usize = 24;
/// Whoever says more beside it tells of something else.
const TALK_LINES_MAX: usize = 2;

/// What the lines come to; `None` where one of them is none.
pub fn read(input: Tokens<'_>) -> Option<Vec<Command>> {
    if input.slice.iter().any(|token| token.is('?')) {
        return None;
    }
    let lines = input.split(separates);
    let lines = lines.iter().map(|line| without_lead(line.trimmed()));
    let lines: Vec<Tokens<'_>> = lines.filter(|line| !line.is_empty()).collect();
    if lines.is_empty() || lines.len() > LINES_MAX {
        return None;
    }
    let mut sheet = Sheet::default();
    for line in lines {
        sheet.take(line)?;
    }
    sheet.finished()
}

#[derive(Default)]
struct Sheet {
    items: Vec<Weighed>,
    rest: Option<Rest>,
    others: Vec<Command>,
    /// "except the dal": what it weighs comes next.
    open: Option<Words>,
    clear: bool,
    talk: usize,
}

impl Sheet {
    fn take(&mut self, line: Tokens<'_>) -> Option<()> {
        if let Some(dish) = self.open.take() {
            let said = without_that(line);
            let (rest, grams) = amount::grams(said).ok()?;
            self.items.push(weighed(dish, grams, said));
            return rest.trimmed().is_empty().then_some(());
        }
        if let Some((rest, dish)) = except(line) {
            self.rest = Some(rest);
            self.open = Some(dish);
            self.clear = true;
            return Some(());
        }
        if let Some(dish) = none_of(line) {
            self.items.push(weighed(dish, 0.0, line));
            self.clear = true;
            return Some(());
        }
        if let Some(Command::Count { items, rest, .. }) = count::answer(line) {
            self.items.extend(items);
            self.rest = self.rest.or(rest);
            self.clear = true;
            return Some(());
        }
        if let Some(commands) = told(line) {
            for command in commands {
                match command {
                    Command::Count { items, .. } => {
                        self.items.extend(items);
                        self.clear = true;
                    }
                    other => self.others.push(other),
                }
            }
            return Some(());
        }
        if let Some(item) = weight_first(line) {
            self.items.push(item);
            return Some(());
        }
        let dish = (0..line.len()).any(|at| line.vocabulary.is_batch(&[line.norm(at)]));
        self.talk += 1;
        (!dish && !line.has_number() && self.talk <= TALK_LINES_MAX).then_some(())
    }

    fn finished(self) -> Option<Vec<Command>> {
        let told = self.items.len() + self.others.len() + usize::from(self.rest.is_some());
        // "rice 640, and the bus was late": one line beside talk may be a plate.
        let least = if self.talk > 0 { 2 } else { 1 };
        if self.open.is_some() || told < least || !self.clear {
            return None;
        }
        let mut commands = self.others;
        if !self.items.is_empty() || self.rest.is_some() {
            commands.push(Command::Count {
                items: self.items,
                rest: self.rest,
                anyway: false,
            });
        }
        Some(commands)
    }
}

fn separates(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!')
    ) || matches!(token.norm(), "and" | "but")
}

fn without_lead(line: Tokens<'_>) -> Tokens<'_> {
    let lead = |token: &&Token| {
        matches!(
            token.norm(),
            "ok" | "also" | "then" | "so" | "oh" | "lol" | "haha" | "right" | "theres" | "well"
        )
    };
    line.after(line.slice.iter().take_while(lead).count())
}

fn without_that(line: Tokens<'_>) -> Tokens<'_> {
    let lead = |token: &&Token| {
        matches!(
            token.norm(),
            "thats" | "that" | "its" | "it" | "is" | "weighs" | "now" | "at"
        )
    };
    line.after(line.slice.iter().take_while(lead).count())
}

/// "everything as it should be except the dal"
fn except(line: Tokens<'_>) -> Option<(Rest, Words)> {
    let length = recounts().longest_of(line.slice, "rest")?;
    let at = (length..line.len()).find(|&at| {
        recounts()
            .longest_of(line.after(at).slice, "except")
            .is_some()
    })?;
    let told = line.range(length, at);
    let idle = usize::from(matches!(told.norm(0), "is" | "are"));
    let same = |said: Tokens<'_>| recounts().longest_of(said.slice, "same") == Some(said.len());
    let skip = recounts().longest_of(line.after(at).slice, "except")?;
    let dish = name::of_batch(line.after(at + skip))?;
    (told.is_empty() || same(told) || same(told.after(idle))).then_some((Rest::Same, dish))
}

/// "no rice left", "no more rice"
fn none_of(line: Tokens<'_>) -> Option<Words> {
    let length = recounts().longest_of(line.slice, "no")?;
    let said = line.after(length);
    let left = usize::from(
        said.last()
            .is_some_and(|last| matches!(last.norm(), "left" | "there")),
    );
    name::of_batch(said.range(0, said.len() - left))
}

/// "640 dal", "600 sauce in the jar"
fn weight_first(line: Tokens<'_>) -> Option<Weighed> {
    let (rest, grams) = amount::grams(line).ok()?;
    let at = rest
        .find(|token| token.norm() == "in")
        .unwrap_or(rest.len());
    let dish = name::of_batch(rest.range(0, at))?;
    let said = rest.after(at + 1);
    let said = said.after(usize::from(matches!(said.norm(0), "the" | "our")));
    let mut item = weighed(dish, grams, line);
    match said.last() {
        None => {}
        Some(_) if is_place(said) => item.place = Some(said.words()),
        Some(last) if is_vessel(last.norm()) => item.weighing.container = Some(said.words()),
        Some(_) => return None,
    }
    Some(item)
}

/// A loss, or a count as any other reader reads it: "binned the rice", "9 meatballs left".
fn told(line: Tokens<'_>) -> Option<Vec<Command>> {
    let of_stock = |command: &Command| {
        matches!(
            command,
            Command::Waste { .. } | Command::Count { .. } | Command::Pieces(_)
        )
    };
    let meant = |reading: &Reading| {
        reading.is_certain()
            && !reading.commands.is_empty()
            && reading.commands.iter().all(of_stock)
    };
    let readings = heard_with_pots(line).into_iter().filter(meant);
    readings
        .max_by_key(|reading| reading.rank)
        .map(|reading| reading.commands)
}

fn weighed(name: Words, grams: f64, said: Tokens<'_>) -> Weighed {
    Weighed {
        name,
        weighing: Weighing::net(grams, said.span()),
        place: None,
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::answer::counts;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in [
            "lentil dal",
            "rice",
            "beef chilli",
            "roast parsnips",
            "leek soup",
        ] {
            words.add(Sense::Batch, batch);
        }
        words
    }

    #[track_caller]
    fn comes_to(text: &str, printed: &[&str]) {
        let said = counts(text, &kitchen()).unwrap_or_default();
        let said: Vec<String> = said.iter().map(ToString::to_string).collect();
        assert_eq!(said, printed, "{text}");
    }

    #[test]
    fn many_ways_to_walk_along_a_sheet() {
        comes_to(
            "parsnips finished, binned the rice, dal 640",
            &["binned all the rice", "recount: parsnips 0 g; dal 640 g"],
        );
        comes_to(
            "no parsnips left, 640 dal, and the soup is 2000",
            &["recount: parsnips 0 g; dal 640 g; soup 2000 g"],
        );
        comes_to(
            "everything as it should be except the dal, that's 1200",
            &["recount: dal 1200 g; rest same"],
        );
        comes_to(
            "soup 1900\nchilli all still there\nhaha who ate the biscuits\nrice all gone",
            &["recount: soup 1900 g; chilli same; rice 0 g"],
        );
        for talk in [
            "640 dal",
            "rice for dinner then",
            "dal 640?",
            "i love parsnips",
        ] {
            comes_to(talk, &[]);
        }
    }
}
