//! What is unclear or impossible: at the words, with the form that would be right.

use crate::domain::mass::Mass;
use crate::domain::problem::{Problem, ProblemKind};
use crate::foods;

use super::clean::{clean, cut, name, quote};
use super::count;
use super::food::described;
use super::number::grams;
use super::page::Page;
use super::unknown::{
    several_called, unknown_food, unknown_measure, unknown_name, unknown_tare, unknown_unit,
};

/// How many problems of one message are told.
pub const PROBLEMS_MAX: usize = 3;
/// How many near names are shown.
pub const NEAR_MAX: usize = 4;

/// The words for one problem.
#[derive(Debug, Default)]
pub struct Wording {
    /// What is wrong, with the words that it is about.
    pub says: String,
    /// What it may have been.
    pub near: Vec<String>,
    /// What leads to the examples.
    lead: &'static str,
    /// Texts that would be right.
    examples: Vec<String>,
    /// Somebody meant to book something: say that it was not.
    meant_to_book: bool,
}

impl Wording {
    pub fn new(says: impl Into<String>) -> Self {
        Self {
            says: says.into(),
            lead: "Write it like this:",
            ..Self::default()
        }
    }

    pub fn example(mut self, text: impl Into<String>) -> Self {
        self.examples.push(text.into());
        self
    }

    pub fn lead(mut self, lead: &'static str) -> Self {
        self.lead = lead;
        self
    }

    pub fn booking(mut self) -> Self {
        self.meant_to_book = true;
        self
    }
}

/// Say all problems of a message, the first few in words.
pub fn page(problems: &[&Problem], text: &str) -> Page {
    let mut page = Page::new();
    let mut meant_to_book = false;
    for problem in problems.iter().take(PROBLEMS_MAX) {
        let wording = wording(&problem.kind, pointed(problem, text));
        meant_to_book |= wording.meant_to_book;
        say(&mut page, &wording);
    }
    if problems.len() > PROBLEMS_MAX {
        page.say(format!(
            "And {} more like this.",
            problems.len() - PROBLEMS_MAX
        ));
    }
    if meant_to_book {
        page.say("Nothing was recorded.");
    }
    page
}

/// What is wrong, in a sentence, for a question that goes on from there.
pub fn says(kind: &ProblemKind, words: &str) -> String {
    wording(kind, words).says
}

/// How the packet of this food is entered.
pub fn packet_of(words: &str) -> String {
    format!(
        "packet {} per 100 g: 350 kcal, 9 protein, 2 fat, 70 carb",
        name(words)
    )
}

pub fn say(page: &mut Page, wording: &Wording) {
    page.say(wording.says.clone());
    say_near(page, &wording.near);
    if let Some(first) = wording.examples.first() {
        // Examples stand on lines of their own, so that they can be copied.
        page.say(wording.lead);
        page.example(first);
        wording.examples[1..]
            .iter()
            .for_each(|example| page.example(example));
    }
}

pub fn say_near(page: &mut Page, near: &[String]) {
    if !near.is_empty() {
        page.say("What there is:");
        near.iter().for_each(|name| page.item(name.clone()));
    }
}

/// The words that the problem points at, or the whole message.
fn pointed<'a>(problem: &Problem, text: &'a str) -> &'a str {
    let span = problem.span.clone().and_then(|span| text.get(span));
    span.filter(|words| !words.trim().is_empty())
        .unwrap_or(text)
}

/// One sentence for each kind, and the form that would be right.
pub fn wording(kind: &ProblemKind, pointed: &str) -> Wording {
    match kind {
        ProblemKind::Prep(problem) => super::prep::wording(problem),
        ProblemKind::Cookbook(problem) => super::cookbook::wording(problem),
        ProblemKind::NotUnderstood => Wording::new(format!("Not understood: {}", quote(pointed)))
            .lead("For example:")
            .example("140 dal, 180 rice")
            .example("what's left")
            .example("help"),
        ProblemKind::UnknownFood { words, near } => unknown_food(words, near),
        // "cooked 1790", and no pot waits for it.
        ProblemKind::UnknownName { words, .. } if words.is_empty() => {
            Wording::new("What weighs that? No pot waits to be weighed.")
                .example("dal weighed 1840")
                .booking()
        }
        ProblemKind::UnknownName { words, near } => unknown_name(words, near),
        ProblemKind::SeveralCalled { name } => several_called(name),
        ProblemKind::UnknownUnit { word } => unknown_unit(word),
        ProblemKind::UnknownMeasure { measure, name } => unknown_measure(measure, name),
        ProblemKind::NotAMass { text } => not_a_mass(text),
        ProblemKind::MissingAmount { name } => missing_amount(name, pointed),
        ProblemKind::MissingName => Wording::new(format!("{} of what?", quote(pointed)))
            .example("140 g dal")
            .booking(),
        ProblemKind::NamelessBatch => Wording::new("What is the batch called?")
            .lead("Send it again with its name first:")
            .example("batch lentil dal")
            .booking(),
        ProblemKind::MissingFigures => Wording::new("A packet needs its figures.")
            .example("packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb")
            .booking(),
        ProblemKind::LeftOver { text } => {
            let says = "was not understood here. Leave it out, or send it on its own.";
            Wording::new(format!("{} {says}", quote(text))).booking()
        }
        ProblemKind::Malformed { form } => {
            Wording::new(format!("Not complete: {}", quote(pointed))).example(*form)
        }
        ProblemKind::NoSuchDate { text } => no_such_date(text),
        ProblemKind::TurnsTooLate { at } => Wording::new(format!(
            "A day cannot end {}: it has to be between midnight and noon.",
            name(at)
        ))
        .example("the day turns at 4am"),
        ProblemKind::FutureDate => {
            let says = "that day has not come. Only what has been weighed is booked.";
            Wording::new(format!("{}: {says}", quote(pointed))).booking()
        }
        ProblemKind::BelowTare { gross, tare } => below_tare(*gross, *tare),
        ProblemKind::UnknownTare { name } => unknown_tare(name),
        ProblemKind::SeveralWeighings { words } => several_weighings(words),
        ProblemKind::TooMuch { name, asked, left } => too_much(name, *asked, *left),
        ProblemKind::MoreTaken { name, taken, holds } => more_taken(name, *taken, *holds),
        ProblemKind::NotFrozen { name } => none_there(name, "is in the freezer"),
        ProblemKind::NothingToMove { name } => none_there(name, "is left to move there"),
        ProblemKind::UnknownPlace { .. }
        | ProblemKind::BeforeMade { .. }
        | ProblemKind::DateOrder { .. } => super::keeping::problem(kind),
        ProblemKind::UsedUp { name, food } => used_up(name, *food),
        ProblemKind::InUse { name, drawn } => in_use(name, *drawn),
        ProblemKind::TakenBack { name } => taken_back(name),
        ProblemKind::NoSuchLine { number, lines } => no_such_line(*number, *lines),
        ProblemKind::NoSuchOption { number, options } => no_such_option(*number, *options),
        ProblemKind::FarFromBooks { .. }
        | ProblemKind::NothingMissing { .. }
        | ProblemKind::NotThere { .. }
        | ProblemKind::VesselHolds { .. } => count::problem(kind),
        ProblemKind::SamePlate { member } => Wording::new(format!(
            "The same was booked a moment ago for {}.",
            name(member)
        )),
        ProblemKind::BigPlate { mass } => {
            Wording::new(format!("{} is more than one person eats.", grams(*mass)))
        }
        ProblemKind::SaidTwice => {
            Wording::new("You said the very same a moment ago: it is booked.")
        }
        ProblemKind::ScaleFell { last } => Wording::new(format!(
            "{} stood on the scale before: less cannot be added.",
            grams(*last)
        )),
        ProblemKind::CountedSince { name: dish, held } => Wording::new(format!(
            "{} was counted since then: {}.",
            name(dish),
            grams(*held)
        ))
        .lead("Say what holds now:")
        .example(format!("{} weighs {}", name(dish), held.rounded_grams())),
        ProblemKind::NoMoreThan {
            name: dish,
            held,
            whole,
        } => Wording::new(format!(
            "{} is {} by the books: topped up, it cannot be {}.",
            name(dish),
            grams(*held),
            grams(*whole)
        )),
        ProblemKind::OnTop { below, reading } => {
            let (below, reading) = (grams(*below), grams(*reading));
            Wording::new(format!("{reading} with the {below} under it?"))
        }
        ProblemKind::JarGained { before, after } => {
            let (before, after) = (grams(*before), grams(*after));
            Wording::new(format!("{before} before, {after} after: it gained."))
        }
        ProblemKind::MuchLeft { left, plates } => {
            let says = format!("{} left of {} on the plates.", grams(*left), grams(*plates));
            Wording::new(says)
        }
        ProblemKind::LeftInPot { left, pots, name } => Wording::new(format!(
            "{} left, and the books have {} of {name} standing.",
            grams(*left),
            grams(*pots)
        )),
        ProblemKind::NothingToFix => {
            Wording::new("There is nothing on your last plate that this could mean.")
        }
        ProblemKind::WhichLine => Wording::new("That may mean several things on the plate."),
        ProblemKind::NothingToRepeat => Wording::new("There is no such plate to book again.")
            .lead("By name:")
            .example("140 dal, 180 rice"),
        ProblemKind::NothingToUndo => Wording::new("There is nothing of yours to take back."),
        ProblemKind::NothingToRedo => Wording::new("There is nothing to put back."),
        ProblemKind::NotYours { owner } => not_yours(owner),
        ProblemKind::NoQuestion => Wording::new("No question to you is open."),
        ProblemKind::NoAnswer { about, choices } => no_answer(about, *choices),
        ProblemKind::NotAsked { asked } => {
            Wording::new(format!("That question is to {}.", name(asked)))
        }
        ProblemKind::Circular { name } => circular(name),
        ProblemKind::Label(problem) => super::label::problem(problem),
        ProblemKind::Clock(problem) => super::clock::problem(problem),
        ProblemKind::Personal(problem) => super::personal::problem(problem),
        ProblemKind::Avoid(problem) => super::avoid::problem(problem),
        ProblemKind::Table(problem) => super::table::problem(problem),
        ProblemKind::Finder(problem) => super::finder::wording(problem),
        ProblemKind::NotYet { capability } => not_yet(capability),
    }
}

fn not_a_mass(text: &str) -> Wording {
    Wording::new(format!("{} cannot be weighed in a kitchen.", quote(text)))
        .lead("Above 0 and at most 100 kg:")
        .example("140 g dal")
        .booking()
}

fn missing_amount(food: &str, pointed: &str) -> Wording {
    let food = if food.trim().is_empty() {
        pointed
    } else {
        food
    };
    Wording::new(format!("How much {}?", quote(food)))
        .example(format!("140 g {}", name(food)))
        .booking()
}

fn no_such_date(text: &str) -> Wording {
    Wording::new(format!("{} is no day of the calendar.", quote(text)))
        .lead("Day before month:")
        .example("140 dal yesterday")
        .example("140 dal 14/10")
        .booking()
}

fn none_there(dish: &str, lacks: &str) -> Wording {
    Wording::new(format!("No {} {lacks} by the books.", name(dish))).booking()
}

fn below_tare(gross: Mass, tare: Mass) -> Wording {
    let (gross, tare) = (grams(gross), grams(tare));
    Wording::new(format!(
        "{gross} full, {tare} empty: nothing would be in it."
    ))
    .lead("Gross first, then the tare:")
    .example("dal weighed 2310, pot 470")
    .booking()
}

fn several_weighings(words: &[String]) -> Wording {
    let words: Vec<String> = words.iter().map(|words| name(words)).collect();
    Wording::new(format!("Weighed twice: {}.", words.join(", and ")))
        .lead("One pot has one weight:")
        .example("dal weighed 1840")
        .booking()
}

fn too_much(dish: &str, asked: Mass, left: Mass) -> Wording {
    let dish = name(dish);
    let recount = format!("recount: {dish} {:.0}", asked.grams().max(1.0));
    Wording::new(format!(
        "{dish}: {} asked, {} by the books.",
        grams(asked),
        grams(left)
    ))
    .lead("If there is more, count it first:")
    .example(recount)
    .booking()
}

fn more_taken(dish: &str, taken: Mass, holds: Mass) -> Wording {
    let dish = name(dish);
    Wording::new(match holds.is_negative() {
        true => format!(
            "{dish}: {} more goes out of it than it holds.",
            grams(taken - holds)
        ),
        false => format!(
            "{dish}: {} taken from it in all, {} to take from by this.",
            grams(taken),
            grams(holds)
        ),
    })
    .booking()
}

fn used_up(dish: &str, food: Option<foods::Code>) -> Wording {
    let dish = name(dish);
    let plain = food.map_or(String::new(), |code| {
        format!(" The plain food is {} ({code}).", described(code))
    });
    let wording = Wording::new(format!("{dish} is used up by the books.{plain}"))
        .lead("Count what stands, book a new batch, or take the plain food:")
        .example(format!("recount: {dish} 300"))
        .example(format!("batch {dish}"))
        .booking();
    match food {
        Some(code) => wording.example(format!("140 g {code}")),
        None => wording.lead("Count what stands, or book a new batch:"),
    }
}

fn in_use(dish: &str, drawn: Mass) -> Wording {
    Wording::new(format!(
        "{} of {} is drawn already, so it stays. Take those entries back first.",
        grams(drawn),
        name(dish)
    ))
}

fn taken_back(dish: &str) -> Wording {
    Wording::new(format!(
        "{} was taken back since, and this came from it. Put that batch back first.",
        name(dish)
    ))
}

fn no_such_line(number: u32, lines: u32) -> Wording {
    Wording::new(match lines {
        0 => format!("There is no line {number}: the batch has none yet."),
        1 => format!("There is no line {number}: the batch has one."),
        lines => format!("There is no line {number}: they go from 1 to {lines}."),
    })
}

fn no_such_option(number: u32, options: u32) -> Wording {
    Wording::new(match options {
        0 => format!("There is no {number}: the question has no choices."),
        1 => format!("There is no {number}: the only choice is 1."),
        options => format!("There is no {number}: the choices go from 1 to {options}."),
    })
}

fn not_yours(owner: &str) -> Wording {
    let owner = name(owner);
    Wording::new(format!("{owner} booked that, so {owner} can take it back."))
}

fn no_answer(about: &str, choices: u32) -> Wording {
    let about = quote(about);
    Wording::new(match choices {
        0 => format!("{about} waits for its grams."),
        1 => format!("{about} waits: 1 or cancel?"),
        choices => format!("{about} waits: which of 1 to {choices}, or cancel?"),
    })
}

fn circular(dish: &str) -> Wording {
    Wording::new(format!("{} cannot go into itself.", name(dish))).booking()
}

fn not_yet(capability: &str) -> Wording {
    let capability = cut(&clean(capability), 80);
    Wording::new(format!("Understood, but not there yet: {capability}.")).booking()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    #[test]
    fn every_example_is_understood() {
        for kind in sample::problems("quonk") {
            for example in wording(&kind, "quonk").examples {
                sample::is_understood(&example);
            }
        }
    }
}
