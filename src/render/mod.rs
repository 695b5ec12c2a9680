//! Values to words. Pure. Every sentence that the bot can say is in this layer.
//!
//! An answer becomes a page: lines of about 40 characters, for a phone held at the stove. Names and
//! energy stand out, sparingly. Numbers are rounded in `number` and nowhere else; words of people are
//! cleaned in `clean`; `data` has the same answers for machines.
//!
//! Read in this order: `clean`, `page`, `number`, then one file per kind of answer.

mod allergen;
mod amount;
mod ask;
mod avoid;
mod batch;
mod caution;
pub mod chart;
mod clean;
mod clock;
mod cookbook;
mod count;
pub mod data;
mod date;
pub mod doctor;
mod finder;
mod food;
mod greeting;
mod help;
mod help_ahead;
mod history;
mod keeping;
pub mod label;
pub mod metrics;
mod moving;
mod note;
mod number;
mod packet;
mod page;
mod pending;
mod personal;
pub mod picture;
mod portion;
mod prep;
mod problem;
mod report;
mod shown;
mod stock;
mod table;
mod taught;
mod told_in;
mod unknown;
mod waste;

#[cfg(test)]
mod limits;
#[cfg(test)]
mod sample;
#[cfg(test)]
mod snapshots;
use std::ops::Range;

use chrono::NaiveDate;
use serde_json::Value;

use crate::domain::answer::{
    Answer, Ask, BatchAnswer, BatchEvent, Button, ClockAnswer, LotView, Note, Press,
};
use crate::domain::ids::MessageId;
use crate::domain::kitchen::{Choice, Settings};
use crate::domain::problem::{Problem, ProblemKind};
use crate::lang::syntax::AnswerStyle;

use page::{Page, UNCLEAR_CHARS_MAX};

pub use clean::clean;
pub use greeting::{
    already_in, board_coming, board_not_pinned, board_put_away, failed, greeting, invite_accepted,
    invite_wrong, late, not_advice, privacy_mode, set_up_button, stranger,
};
pub use label::{not_saved, saved};
pub use shown::{Picture, Shown};

/// The OK hand, one of the reactions that the channel allows: booked, and nothing to say.
const BOOKED: &str = "👌";

/// One answer, ready to send on any channel.
#[derive(Debug, Clone, PartialEq)]
pub struct Message {
    /// Plain text; its lines are broken for a phone.
    pub text: String,
    /// Byte ranges of `text` that stand out, in order and apart; each channel marks them in its own way.
    pub bold: Vec<Range<usize>>,
    pub buttons: Vec<Vec<Button>>,
    /// The same answer for machines, as the bridge's contract has it.
    pub data: Value,
    /// Answers to weighings make no sound.
    pub silent: bool,
    /// What is shown beside the text, or instead of it.
    pub pictures: Vec<Shown>,
    /// The household likes a bare reaction where it says enough, and here this one does.
    pub reaction: Option<&'static str>,
}

/// Word the answers of one decision as one message. `text` is what was said, to point at words.
pub fn message(answers: &[Answer], settings: &Settings, text: &str) -> Message {
    told_in::told_in(settings, || put_into_words(answers, settings, text))
}

fn put_into_words(answers: &[Answer], settings: &Settings, text: &str) -> Message {
    let mut page = worded(answers, settings.answers, text);
    let told =
        |answer: &Answer| matches!(answer, Answer::Batch(answer) if !batch::is_unclear(answer));
    if answers.iter().any(is_unclear) && !answers.iter().any(told) {
        page.limit(UNCLEAR_CHARS_MAX);
    }
    let silent = !answers.is_empty() && answers.iter().all(is_quiet);
    let sufficient = !answers.is_empty() && answers.iter().all(says_nothing_new);
    Message {
        text: page.text,
        bold: page.bold,
        buttons: buttons(answers),
        data: data::message(answers),
        silent,
        pictures: answers.iter().flat_map(shown::shown).collect(),
        reaction: (settings.answers == AnswerStyle::Reaction && sufficient).then_some(BOOKED),
    }
}

/// What stands in the kitchen, as it hangs in a chat.
pub fn board(lots: &[LotView], today: NaiveDate, settings: &Settings) -> Message {
    let page = told_in::told_in(settings, || stock::board(lots, today));
    Message {
        text: page.text,
        bold: page.bold,
        buttons: Vec::new(),
        data: serde_json::json!({ "kind": "board" }),
        silent: true,
        reaction: None,
        pictures: Vec::new(),
    }
}

/// The answers one below the other.
fn worded(answers: &[Answer], style: AnswerStyle, text: &str) -> Page {
    let mut page = Page::new();
    for (at, answer) in answers.iter().enumerate() {
        if !is_told_elsewhere(at, answers) {
            page.gap();
            page.append(answer_page(answer, answers, style, text));
        }
    }
    page
}

/// Problems are told together, where the first of them stands; a question without choices about an
/// unclear line says no more than its batch does.
fn is_told_elsewhere(at: usize, answers: &[Answer]) -> bool {
    match &answers[at] {
        Answer::Problem(_) => problems_among(&answers[..at]).next().is_some(),
        answer if shown::says_all(answer) => true,
        Answer::Ask(ask) if !offers(ask) => answers.iter().any(|answer| match answer {
            Answer::Batch(batch) => {
                let mut pending = batch.pending.iter();
                pending.any(|(_, problem)| Some(&problem.kind) == ask.problem.as_ref())
            }
            _ => false,
        }),
        _ => false,
    }
}

fn offers(ask: &Ask) -> bool {
    ask.options.iter().any(Choice::is_offered)
}

fn problems_among(answers: &[Answer]) -> impl Iterator<Item = &Problem> {
    answers.iter().filter_map(|answer| match answer {
        Answer::Problem(problem) => Some(problem),
        _ => None,
    })
}

/// What a question with choices asks about.
fn asked_with_choices(answers: &[Answer]) -> Option<&ProblemKind> {
    answers.iter().find_map(|answer| match answer {
        Answer::Ask(ask) if offers(ask) => ask.problem.as_ref(),
        _ => None,
    })
}

/// Who asks to be shown a batch wants all of it.
fn is_whole(answer: &BatchAnswer, style: AnswerStyle) -> bool {
    style == AnswerStyle::Full || answer.event == BatchEvent::Shown
}

/// The page of one answer among all of a message, `answers`.
fn answer_page(answer: &Answer, answers: &[Answer], style: AnswerStyle, text: &str) -> Page {
    let full = style == AnswerStyle::Full;
    match answer {
        Answer::Batch(answer) if is_whole(answer, style) => {
            batch::page(answer, asked_with_choices(answers))
        }
        Answer::Batch(answer) => batch::brief(answer, asked_with_choices(answers)),
        Answer::Portion(answer) if full => portion::page(answer, text),
        Answer::Portion(answer) => portion::brief(answer, text),
        Answer::Waste(answer) => waste::page(answer),
        Answer::Move(answer) => moving::page(answer),
        Answer::Label(_) => Page::new(),
        Answer::Receive(answer) => keeping::received(answer),
        Answer::Keeps(answer) => keeping::keeps(answer),
        Answer::UseBy(answer) => keeping::told(answer),
        Answer::PlaceTold { name, kind, .. } => keeping::place(name, *kind),
        Answer::Count(answer) => count::page(answer),
        Answer::Taken(answer) => count::taken(answer),
        Answer::Sheet(answer) => count::sheet(answer),
        Answer::Course(answer) => chart::course_page(answer),
        Answer::Drift(answer) => report::drift(answer),
        Answer::Wasted(answer) => report::wasted(answer),
        Answer::Priced(answer) => report::priced(answer),
        Answer::Prep(answer) => prep::page(answer),
        Answer::Cookbook(answer) => cookbook::page(answer),
        Answer::Day(answer) => portion::day(answer),
        Answer::Portions(answer) => stock::portions(answer),
        Answer::NotBooked(words) => ask::not_booked(words),
        Answer::Stock(answer) => stock::page(answer),
        Answer::HowMuch(answer) => stock::how_much(answer),
        Answer::History(answer) => history::page(answer),
        Answer::Food(answer) => food::page(answer, text),
        Answer::Packet(answer) => packet::page(answer),
        Answer::MeasureTaught {
            measure,
            name,
            each,
        } => taught::measure(measure, name.as_deref(), *each),
        Answer::ContainerTaught { name, tare } => taught::container(name, *tare),
        Answer::Tares(vessels) => taught::tares(vessels),
        Answer::ContainerHolds { container, batch } => taught::container_holds(container, batch),
        Answer::Settings {
            settings,
            part,
            own,
        } => taught::settings(settings, *part, own.as_deref()),
        Answer::Undone(answer) => taught::undone(answer),
        Answer::Clock(answer) => clock::page(answer),
        Answer::Personal(answer) => personal::page(answer),
        Answer::Table(answer) => table::page(answer),
        Answer::Avoid(answer) => avoid::page(answer),
        Answer::Finder(answer) => finder::page(answer),
        Answer::Dropped { about } => taught::dropped(about),
        Answer::Help { topic } => help::page(topic.as_deref()),
        Answer::OnScale { mass, jar } => taught::on_scale(*mass, jar.as_deref()),
        Answer::Ask(ask) => ask::page(ask),
        Answer::Problem(_) => {
            let problems: Vec<&Problem> = problems_among(answers).collect();
            problem::page(&problems, text)
        }
        Answer::Why(cautions) => caution::why(cautions),
        Answer::Unchanged => taught::unchanged(),
    }
}

/// The input was not clear, so the reply has to stay short.
fn is_unclear(answer: &Answer) -> bool {
    match answer {
        Answer::Ask(_) | Answer::Problem(_) | Answer::Dropped { .. } => true,
        Answer::Batch(answer) => !answer.pending.is_empty(),
        _ => false,
    }
}

/// An answer to a weighing that asks nothing.
fn is_quiet(answer: &Answer) -> bool {
    match answer {
        Answer::Batch(answer) => {
            let asks = |note: &Note| matches!(note, Note::OddYield { .. });
            answer.pending.is_empty()
                && answer.event != BatchEvent::Shown
                && !answer.notes.iter().any(asks)
        }
        Answer::Portion(_)
        | Answer::Waste(_)
        | Answer::Count(_)
        | Answer::Taken(_)
        | Answer::Priced(_)
        | Answer::Move(_)
        | Answer::Receive(_)
        | Answer::Clock(ClockAnswer::Set { .. })
        | Answer::Unchanged => true,
        _ => false,
    }
}

/// Booked as said, with nothing assumed that matters: a reaction is enough.
fn says_nothing_new(answer: &Answer) -> bool {
    match answer {
        Answer::Portion(answer) => portion::is_plain(answer),
        Answer::Waste(_) | Answer::Taken(_) => true,
        _ => false,
    }
}

/// A row for each option of a question, then one to take back (or put back) what was booked.
fn buttons(answers: &[Answer]) -> Vec<Vec<Button>> {
    let mut rows: Vec<Vec<Button>> = Vec::new();
    for answer in answers {
        if let Answer::Ask(ask) = answer {
            rows.extend(choices(ask));
        }
    }
    let rung = |answer: &Answer| match answer {
        Answer::Clock(ClockAnswer::Rang(rung)) => Some(rung.clone()),
        _ => None,
    };
    let rung: Vec<_> = answers.iter().filter_map(rung).collect();
    rows.extend(
        rung.iter()
            .map(|it| vec![clock::again(it, rung.len() == 1)]),
    );
    for answer in answers {
        if let Answer::Prep(answer) = answer {
            rows.extend(prep::buttons(answer));
        }
    }
    for answer in answers {
        if let Answer::Finder(answer) = answer {
            rows.extend(finder::button(answer).map(|button| vec![button]));
        }
    }
    let mut last: Vec<Button> = Vec::new();
    for button in answers.iter().filter_map(take_back) {
        // Several answers to one message are taken back together.
        if last.iter().all(|known| known.press != button.press) {
            last.push(button);
        }
    }
    if !last.is_empty() {
        rows.push(last);
    }
    rows
}

fn choices(ask: &Ask) -> Vec<Vec<Button>> {
    ask::options(ask)
        .into_iter()
        .enumerate()
        .map(|(option, label)| {
            let press = Press::Choose {
                question: ask.question,
                option,
            };
            vec![Button { label, press }]
        })
        .collect()
}

fn take_back(answer: &Answer) -> Option<Button> {
    let undo = |message: MessageId| Button {
        label: "Undo".to_string(),
        press: Press::Undo { message },
    };
    match answer {
        Answer::Batch(answer) if answer.event != BatchEvent::Shown => Some(undo(answer.message)),
        Answer::Portion(answer) => Some(undo(answer.message)),
        Answer::Waste(answer) => Some(undo(answer.message)),
        Answer::Move(answer) if answer.lots.is_empty() => None,
        Answer::Move(answer) => Some(undo(answer.message)),
        Answer::Receive(answer) => Some(undo(answer.message)),
        Answer::Keeps(answer) => Some(undo(answer.message)),
        Answer::UseBy(answer) => Some(undo(answer.message)),
        Answer::PlaceTold { message, .. } => Some(undo(*message)),
        Answer::Count(answer) => Some(undo(answer.message)),
        Answer::Taken(answer) => Some(undo(answer.message)),
        Answer::Priced(answer) => Some(undo(answer.message)),
        Answer::Prep(answer) => answer.taken_back_with().map(undo),
        Answer::Cookbook(answer) => answer.taken_back_with().map(undo),
        Answer::Packet(answer) => Some(undo(answer.message)),
        Answer::Clock(answer) => clock::message(answer).map(undo),
        Answer::Personal(answer) => answer.taken_back_with().map(undo),
        Answer::Table(answer) => answer.taken_back_with().map(undo),
        Answer::Avoid(answer) => answer.taken_back_with().map(undo),
        // Once put back, the first answer's own button takes it back again.
        Answer::Undone(answer) if !answer.put_back => Some(Button {
            label: "Put it back".to_string(),
            press: Press::Redo {
                message: answer.message,
            },
        }),
        _ => None,
    }
}
