//! A question: one short line, and numbered ways to answer it.

use crate::domain::answer::{About, Ask};
use crate::domain::personal::problem::PersonalProblem;
use crate::domain::problem::ProblemKind;
use crate::foods::{self, Found};
use crate::lang::syntax::SettingPart;

use super::clean::{clean, cut, name, quote, short, the};
use super::number::grams;
use super::page::Page;
use super::{problem, unknown};

/// How many options are offered.
const OPTIONS_MAX: usize = 9;

/// How many unanswered questions are told beside an answer.
const NOT_BOOKED_MAX: usize = 5;

/// The longest option, in characters: it has to fit on a button.
const LABEL_CHARS_MAX: usize = 60;

/// Longer ones are shortened as descriptions of the table are.
const LABEL_CHARS_LONG: usize = 40;

pub fn page(ask: &Ask) -> Page {
    let mut page = Page::new();
    page.say(question(ask));
    let options = options(ask);
    for (number, option) in options.iter().enumerate() {
        page.item(format!("{}. {option}", number + 1));
    }
    match options.len() {
        0 if ask.about == About::Grams => say_grams(&mut page, ask),
        0 => say_how(&mut page, ask),
        1 => page.say("Answer 1 or cancel."),
        2 => page.say("Answer 1, 2 or cancel."),
        count => page.say(format!("Answer 1 to {count}, or cancel.")),
    }
    if let Some(words) = no_food(ask) {
        page.say("If it is none of the table's, its packet:");
        page.example(&problem::packet_of(words));
    }
    page
}

/// Said once, beside the next answer: an unanswered question loses nothing.
pub fn not_booked(words: &[String]) -> Page {
    let mut page = Page::new();
    let told: Vec<String> = words
        .iter()
        .take(NOT_BOOKED_MAX)
        .map(|words| quote(words))
        .collect();
    page.say(format!("Asked and not booked yet: {}", told.join(", ")));
    if words.len() > NOT_BOOKED_MAX {
        page.say(format!("and {} more", words.len() - NOT_BOOKED_MAX));
    }
    page
}

/// The labels of the options, as shown in the text and on the buttons.
pub fn options(ask: &Ask) -> Vec<String> {
    let labels: Vec<String> = ask
        .options
        .iter()
        .filter(|option| option.is_offered())
        .take(OPTIONS_MAX)
        .map(|option| clean(&option.label))
        .collect();
    let shortened: Vec<String> = labels.iter().map(|label| shortened(label)).collect();
    // What shortening makes alike is told whole.
    let is_alone = |label: &String| shortened.iter().filter(|other| *other == label).count() == 1;
    labels
        .iter()
        .zip(&shortened)
        .map(|(label, short)| {
            if is_alone(short) {
                short.clone()
            } else {
                label.clone()
            }
        })
        .map(|label| cut(&label, 2 * LABEL_CHARS_MAX))
        .collect()
}

fn shortened(label: &str) -> String {
    if label.chars().count() <= LABEL_CHARS_LONG {
        return label.to_string();
    }
    cut(&short(label), LABEL_CHARS_MAX)
}

fn question(ask: &Ask) -> String {
    let words = quote(&ask.words);
    match &ask.problem {
        Some(
            kind @ (ProblemKind::TooMuch { .. }
            | ProblemKind::FarFromBooks { .. }
            | ProblemKind::NotThere { .. }
            | ProblemKind::VesselHolds { .. }),
        ) => {
            format!("{} Which is right?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::UnknownPlace { .. }) => {
            format!("{} Add it as:", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::MoreTaken { .. }) => {
            format!("{} Is that right?", problem::says(kind, &ask.words))
        }
        Some(ProblemKind::UnknownFood { words, .. }) if no_food(ask).is_some() => {
            format!("{} is no food known here. Which is it?", quote(words))
        }
        Some(kind @ ProblemKind::SeveralWeighings { .. }) => {
            format!("{} Which is right?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::OnTop { .. }) => {
            format!("{} Or by itself?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::JarGained { .. }) => format!(
            "{} Refilled, topped up or misread?",
            problem::says(kind, &ask.words)
        ),
        Some(kind @ (ProblemKind::MuchLeft { .. } | ProblemKind::LeftInPot { .. })) => {
            format!("{} What is it of?", problem::says(kind, &ask.words))
        }
        Some(kind @ (ProblemKind::ScaleFell { .. } | ProblemKind::BelowTare { .. })) => {
            format!("{} How is {words} meant?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::SamePlate { .. }) => {
            format!("{} One plate or two?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::Personal(PersonalProblem::ForGood(_))) => {
            format!("{} Sure?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::Personal(PersonalProblem::DeleteWhat)) => {
            problem::says(kind, &ask.words)
        }
        Some(kind @ ProblemKind::BigPlate { .. }) => {
            format!("{} Who had it?", problem::says(kind, &ask.words))
        }
        Some(kind @ ProblemKind::SaidTwice) => {
            format!("{} Once or twice?", problem::says(kind, &ask.words))
        }
        Some(ProblemKind::UsedUp { name: dish, .. }) => {
            format!("{} is used up by the books. What was it?", name(dish))
        }
        Some(ProblemKind::SeveralCalled { name: shared }) => {
            format!("Several here are called {}. Which is meant?", name(shared))
        }
        Some(ProblemKind::UnknownName { words, .. }) => {
            format!("Nothing here is called {}. Which is meant?", quote(words))
        }
        Some(ProblemKind::WhichLine) => "Which of these is meant?".to_owned(),
        Some(ProblemKind::NothingToRepeat) if options(ask).is_empty() => {
            format!("No plate is {words} yet. What was on it?")
        }
        Some(ProblemKind::NothingToRepeat) => {
            format!("No plate is {words} yet. Which of these?")
        }
        Some(ProblemKind::NotYours { owner }) => {
            format!(
                "{words} was booked by {}. Change it all the same?",
                name(owner)
            )
        }
        Some(ProblemKind::InUse { name: dish, drawn }) => format!(
            "{} of {} is already drawn. Take it back all the same?",
            grams(*drawn),
            name(dish)
        ),
        Some(ProblemKind::UnknownTare { name: vessel }) => {
            format!("How heavy is the empty {}?", quote(vessel))
        }
        Some(ProblemKind::LeftOver { text }) => format!("What is the {}?", quote(text)),
        Some(ProblemKind::UnknownMeasure { .. }) if ask.about == About::Grams => {
            format!("How many grams of {words}?")
        }
        Some(ProblemKind::UnknownMeasure {
            measure,
            name: food,
        }) => {
            format!("How heavy is 1 {} of {}?", name(measure), name(food))
        }
        Some(
            kind @ (ProblemKind::UnknownUnit { .. }
            | ProblemKind::NotAMass { .. }
            | ProblemKind::MissingAmount { .. }
            | ProblemKind::MissingName
            | ProblemKind::NoSuchDate { .. }
            | ProblemKind::FutureDate),
        ) => problem::says(kind, &ask.words),
        _ => about_question(ask.about, &words),
    }
}

/// The words of a food that the table has nothing for; others it has several for.
fn no_food(ask: &Ask) -> Option<&str> {
    match &ask.problem {
        Some(ProblemKind::UnknownFood { words, .. }) => {
            (foods::table().find(words) == Found::Nothing).then_some(words)
        }
        _ => None,
    }
}

fn about_question(about: About, words: &str) -> String {
    match about {
        About::WhichBatch => format!("Which {words} is meant?"),
        About::WhichFood => format!("Which food is {words}?"),
        About::HowMuch => format!("How much is {words}?"),
        About::WhichTimer => "Which timer?".to_owned(),
        About::Grams => format!("How many grams of {words}?"),
        About::WhichWeighing => format!("Which weighing is this: {words}?"),
        About::WhichPlace => format!("How cold is it in {}?", the(words.trim_matches('"'))),
        About::Confirm => format!("Is {words} right?"),
        About::Plate => format!("Book {words}?"),
        About::SetUp(part) => set_up(part).to_owned(),
        About::Keeper => {
            format!("Shall {} keep the household?", words.trim_matches('"'))
        }
        About::Who => format!("Whose is {words}?"),
        About::When => format!("When was {words}?"),
    }
}

fn set_up(part: SettingPart) -> &'static str {
    match part {
        SettingPart::Measures => {
            "Five short questions, skip what you like. Whose cups and spoons do you cook by?"
        }
        SettingPart::Energy => "In what shall I tell energy?",
        SettingPart::Guidance => "Whose keeping times do you follow?",
        SettingPart::Zone => {
            "Which time zone are you in? Another than these by its name, as in: timezone Europe/Paris"
        }
        _ => "How do you write one and a half?",
    }
}

/// How a weighing that waits is completed.
fn say_weighing(page: &mut Page, ask: &Ask) {
    match &ask.problem {
        // "gross" names no vessel that could be taught.
        Some(ProblemKind::UnknownTare { name: vessel }) if vessel != "container" => {
            page.say("Tell it, and the weighing is booked:");
            page.example(&format!("{} is 812 g empty", name(vessel)));
        }
        _ => {
            page.say("Send the weighing again, as in:");
            page.example("dal weighed 2310, pot 470");
        }
    }
}

/// The grams are enough of an answer; a measure that is used often can be taught.
fn say_grams(page: &mut Page, ask: &Ask) {
    page.say("Answer with the grams, or cancel.");
    if let Some(ProblemKind::UnknownMeasure { measure, .. }) = &ask.problem
        && measure != "piece"
    {
        page.say("Or teach it for good:");
        page.example(&unknown::taught(measure, &ask.words));
    }
}

/// The right form, where there is nothing to choose from.
fn say_how(page: &mut Page, ask: &Ask) {
    match ask.about {
        About::WhichWeighing => say_weighing(page, ask),
        About::HowMuch | About::Grams => {
            page.say("Send it again with its grams, as in:");
            page.example("140 dal");
        }
        About::WhichBatch => {
            page.say("Send it again with the batch's code, as in:");
            page.example("140 D7");
        }
        About::WhichFood => {
            page.say("Send it again with the food's number, as in:");
            page.example("140 NDB 11298");
        }
        About::WhichTimer => {
            page.say("By its number, as in:");
            page.example("cancel timer 1");
        }
        About::WhichPlace => {
            page.say("Tell it, as in:");
            page.example("the cellar is like a fridge");
        }
        About::Confirm | About::Plate | About::Keeper | About::SetUp(_) => {
            page.say("Answer yes or no.")
        }
        About::Who => page.say("Answer with a name."),
        About::When => page.say("Answer with a day, such as yesterday."),
    }
}
