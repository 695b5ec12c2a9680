//! What was said among people: what counts in passing, what is doubtful, what is small talk.

use chrono::{DateTime, Duration, Utc};

use super::super::act::Act;
use super::super::answer::{About, Answer};
use super::super::clock::problem::ClockProblem;
use super::super::draft::Draft;
use super::super::in_hand;
use super::super::kitchen::{Choice, Kitchen};
use super::super::mass::Mass;
use super::super::plate::Plate;
use super::super::prep::problem::PrepProblem;
use super::super::problem::{Problem, ProblemKind};
use super::{
    Asking, Decision, Done, Input, OnProblem, Outcome, Stop, carry_out, conclude, find, refuse,
    remark, stopped, which,
};
use crate::lang::syntax::{Amount, Command, Cookbook, Figure, Fix, Reading, Reason};
use crate::lang::{self, Parsed};

/// How long after a booking of somebody else "same for me" means it.
const OF_OTHERS_MINUTES: i64 = 10;

/// See `retypes`.
const SLIP_TIMES_MOST: f64 = 2.0;

/// A correction that says nothing by itself ("that was yesterday") counts right after the sender's
/// own booking; "same for me" right after somebody's.
pub fn in_passing<'a>(kitchen: &Kitchen, input: &Input, parsed: &'a Parsed) -> Option<&'a Reading> {
    let within = |since: DateTime<Utc>, minutes| input.now - since <= Duration::minutes(minutes);
    let booked = |act: &Act| act.stands() && in_hand::holds(input, act.sent_at);
    let own = input.pointed.is_some() || kitchen.recent.iter().any(booked);
    let anyone = || {
        let mut touched = kitchen.plates.iter().filter_map(Plate::touched_at);
        touched.any(|touched| within(touched, OF_OTHERS_MINUTES))
    };
    let of_others = |command: &Command| match command {
        Command::Fix(Fix::Amount { line, .. }) => line.owner.is_some(),
        Command::Again(_) => true,
        _ => false,
    };
    let theirs = || in_hand::InHand::of(kitchen, input).retyped();
    let meant = |reading: &&Reading| {
        let others = reading.commands.first().is_some_and(of_others);
        let of_theirs = || theirs().is_some_and(|old| retypes(reading, old));
        let told = own || others && anyone() || of_theirs();
        reading.corrects() && reading.errors.is_empty() && told
    };
    let found = parsed.readings.iter().find(meant)?;
    // A message that says something else as well does so unless it quotes what stands on the plate.
    let best = parsed.readings.first()?;
    let says_else = best.sure && best != found && !quotes(found) && !is_loose(best);
    (!says_else).then_some(found)
}

/// What was gathered from marks may as well put right what stands, unless it is a count.
fn is_loose(reading: &Reading) -> bool {
    let counts = |command: &Command| matches!(command, Command::Count { .. });
    reading.is_gist() && !reading.commands.iter().all(counts)
}

/// "nah it was 250", of the one thing on somebody else's plate: a slip makes no more of it than twice.
fn retypes(reading: &Reading, old: Mass) -> bool {
    let [Command::Fix(Fix::Amount { new, line })] = reading.commands.as_slice() else {
        return false;
    };
    let (Figure::Is(Amount::Bare(grams) | Amount::Mass(grams)), true) =
        (new, line.owner.is_none() && line.name.is_none())
    else {
        return false;
    };
    let old = old.grams();
    reading.sure && (old / SLIP_TIMES_MOST..=old * SLIP_TIMES_MOST).contains(grams)
}

/// What a message puts right of what stands: as it was read in passing, or as the books tell, where that
/// puts more right.
pub fn put_right(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &Parsed,
    passing: Option<&Reading>,
) -> Option<Decision> {
    let Some(read) = passing else {
        return remarked(kitchen, input, parsed, 0);
    };
    remarked(kitchen, input, parsed, read.commands.len())
        .or_else(|| fitting(kitchen, input, read))
        .or_else(|| {
            let corrects = |other: &&Reading| other.corrects() && other.errors.is_empty();
            let mut others = parsed.readings.iter().filter(|other| *other != read);
            others
                .find(corrects)
                .and_then(|other| fitting(kitchen, input, other))
        })
        .or_else(|| remarked(kitchen, input, parsed, 0))
}

/// What the books tell, where the message says nothing else for sure.
fn remarked(kitchen: &Kitchen, input: &Input, parsed: &Parsed, told: usize) -> Option<Decision> {
    let best = parsed.readings.first()?;
    let plain = best.sure && !best.corrects() && !is_loose(best);
    let mut remarks = parsed
        .remarks
        .iter()
        .filter(|remark| !plain || remark.affirms() || remark.owns_up() || remark.concludes());
    remarks.find_map(|remark| remark::fitting(kitchen, input, remark, told))
}

/// "rice 80 -> 95" of a plate with 80 g of rice on it; "sorry, dal 90, rice 150" of one with both.
fn quotes(reading: &Reading) -> bool {
    let several = reading.commands.len() > 1;
    let old = |command: &Command| match command {
        Command::Fix(Fix::Amount { line, .. }) => {
            line.old.is_some() || several && line.name.is_some()
        }
        _ => false,
    };
    reading.commands.iter().all(old)
}

/// What comes of a correction, if it fits what was booked.
fn fitting(kitchen: &Kitchen, input: &Input, reading: &Reading) -> Option<Decision> {
    let draft = Draft::new(kitchen, input);
    let decision = carry_out(draft, &reading.commands, OnProblem::Forget);
    let stopped = decision.outcome == Outcome::Refused || asks_what(&decision);
    let talk = stopped && !reading.sure && !input.addressed;
    (!talk && !fits_nothing(&decision)).then_some(decision)
}

/// It asks which line, or who: what was said did not tell.
fn asks_what(decision: &Decision) -> bool {
    let untold = |answer: &Answer| match answer {
        Answer::Ask(ask) => ask.about != About::Confirm,
        _ => false,
    };
    decision.outcome == Outcome::Asked && decision.answers.iter().any(untold)
}

/// What fits nothing that was booked was said about something else.
pub fn fits_nothing(decision: &Decision) -> bool {
    let nothing = |answer: &Answer| match answer {
        Answer::Problem(problem) => matches!(
            problem.kind,
            ProblemKind::NothingToFix
                | ProblemKind::Clock(ClockProblem::NoSuchTimer { told: None })
                | ProblemKind::Prep(PrepProblem::NoStep { .. })
        ),
        _ => false,
    };
    decision.outcome == Outcome::Refused && decision.answers.iter().any(nothing)
}

/// "same but tea for coffee": of a pot that is not named, and has no such thing in it.
pub fn is_of_no_pot(commands: &[Command], decision: &Decision) -> bool {
    let unnamed = |command: &Command| matches!(command, Command::Cookbook(Cookbook::Again(recipe)) if recipe.dish.is_none());
    decision.outcome == Outcome::Refused && commands.iter().all(unnamed)
}

/// "sorry, dal 90" puts nothing right where nothing was booked: it is a plate. "dal: 1500 left" counts. "Scrap the
/// last one" is of what was booked where no timer runs.
pub fn as_plainly_said<'a>(parsed: &'a Parsed, decision: &Decision) -> Option<&'a Reading> {
    if !fits_nothing(decision) {
        return None;
    }
    let plain = |command: &Command| {
        matches!(
            command,
            Command::Portion(_) | Command::Count { .. } | Command::Undo
        )
    };
    let mut readings = parsed.readings.iter();
    readings.find(|reading| {
        reading.is_certain() && !reading.corrects() && reading.commands.iter().all(plain)
    })
}

/// How soon the very same words again may be the same message, sent by a second device.
const SAME_AGAIN_MINUTES: i64 = 10;

/// The very words of an act of one's own a moment ago, where saying them again books them again. Plates
/// are compared by what is on them, whoever told it: see `which`.
pub fn said_twice(kitchen: &Kitchen, input: &Input, commands: &[Command]) -> Option<Stop> {
    let adds_up = |command: &Command| {
        matches!(
            command,
            Command::Batch(_)
                | Command::Add { .. }
                | Command::Waste { .. }
                | Command::Move(_)
                | Command::Spread(_)
                | Command::TopUp(_)
                | Command::LeftOver(_)
                | Command::Boxes(_)
                | Command::PourOff { .. }
        )
    };
    let words = |text: &str| -> Vec<String> {
        let words = text.split_whitespace().map(str::to_lowercase);
        words.skip_while(|word| word.starts_with('@')).collect()
    };
    let said = words(&input.text);
    let recent = Duration::minutes(SAME_AGAIN_MINUTES);
    let twin =
        |act: &&Act| act.stands() && input.now - act.sent_at <= recent && words(&act.text) == said;
    let adds = commands.iter().any(adds_up);
    kitchen.recent.iter().find(twin).filter(|_| adds)?;
    let sentences: Vec<String> = commands.iter().map(ToString::to_string).collect();
    let options = vec![
        Choice {
            label: which::TOLD_TWICE.into(),
            says: Command::Drop.to_string(),
        },
        Choice {
            label: "twice".into(),
            says: sentences.join("\n"),
        },
    ];
    let first_line = input.text.lines().next().unwrap_or_default();
    let problem = Some(ProblemKind::SaidTwice);
    Some(find::ask(About::Confirm, first_line, problem, options))
}

/// A question, a plan, a price: nothing that weighs is booked on it without asking.
pub fn is_doubtful(input: &Input, reading: &Reading) -> bool {
    let vetoed = reading
        .reasons
        .iter()
        .any(|reason| matches!(reason, Reason::Veto(_)));
    let weighs = |command: &Command| {
        matches!(
            command,
            Command::Portion(_)
                | Command::Waste { .. }
                | Command::Move(_)
                | Command::Spread(_)
                | Command::TopUp(_)
                | Command::LeftOver(_)
                | Command::Boxes(_)
                | Command::Count { .. }
                | Command::Batch(_)
        )
    };
    let eaten = |command: &Command| matches!(command, Command::Portion(_));
    vetoed && reading.commands.iter().any(weighs)
        || asks(&input.text) && reading.commands.iter().any(eaten)
}

/// What a question about facts begins with; several foods in one are read as a plate.
const FACT_WORDS: [&str; 7] = [
    "kcal",
    "calories",
    "energy",
    "how",
    "what",
    "protein",
    "nutrients",
];

fn asks(text: &str) -> bool {
    let first = text
        .split(|c: char| !c.is_alphabetic())
        .find(|word| !word.is_empty());
    first.is_some_and(|word| FACT_WORDS.contains(&word.to_lowercase().as_str()))
}

/// Ask whether it was meant.
pub fn ask_first(kitchen: &Kitchen, input: &Input, commands: &[Command]) -> Decision {
    let [command] = commands else {
        return refuse(input, ProblemKind::NotUnderstood.anywhere());
    };
    let says = command.to_string();
    let options = vec![Choice {
        label: match command {
            Command::Batch(batch) => format!("yes, a new batch: {}", batch.name.text),
            _ => format!("yes, book {says}"),
        },
        says,
    }];
    let asking = Asking {
        about: About::Confirm,
        words: input.text.clone(),
        problem: None,
        options,
        pointed: None,
    };
    let (answers, asks) = (Vec::new(), vec![asking]);
    conclude(Draft::new(kitchen, input), Done { answers, asks })
}

/// "140 dal 180", "130 soup and 90", "1.4.0 dal": a number that belongs to nothing, or is none, is asked about.
pub fn odd_number(said: &str, reading: &Reading, problem: Problem) -> Result<Asking, Problem> {
    let spot = problem.span.clone().and_then(|span| said.get(span));
    let (text, kind) = match (&problem.kind, spot) {
        (kind @ ProblemKind::LeftOver { text }, _) => (text.clone(), kind.clone()),
        (kind @ ProblemKind::NotAMass { text }, _) if is_garbled(text) => {
            (text.clone(), kind.clone())
        }
        (ProblemKind::MissingName, Some(text)) if is_garbled(text) => {
            let text = text.to_owned();
            (text.clone(), ProblemKind::LeftOver { text })
        }
        _ => return Err(problem),
    };
    let names = reading
        .reasons
        .iter()
        .any(|reason| matches!(reason, Reason::Known(_)));
    if !(names || reading.weighing_like) || !text.contains(|c: char| c.is_ascii_digit()) {
        return Err(problem);
    }
    Ok(Asking {
        about: About::HowMuch,
        words: text,
        problem: Some(kind),
        options: Vec::new(),
        pointed: None,
    })
}

/// "had 150 out of the pot", where nothing tells of what: it is asked.
pub fn of_what(kitchen: &Kitchen, input: &Input, without: &Decision) -> Option<Decision> {
    if without.outcome != Outcome::Ignored {
        return None;
    }
    let words = lang::of_what(&input.text, &kitchen.vocabulary())?.text;
    let text = words.clone();
    let asking = Asking {
        about: About::HowMuch,
        words,
        problem: Some(ProblemKind::LeftOver { text }),
        options: Vec::new(),
        pointed: None,
    };
    let draft = Draft::new(kitchen, input);
    Some(stopped(draft, Stop::Ask(Box::new(asking))))
}

/// Digits and marks that may be any of several numbers, and not one that is no mass.
fn is_garbled(text: &str) -> bool {
    let marks = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    let read = text.replace(',', ".").parse::<f64>();
    text.chars().all(marks) && read.map_or(true, |grams| Mass::weighed_out(grams).is_some())
}

/// Words of one's own that answer nothing are talk: "done", "cancel".
pub fn is_small_talk(commands: &[Command]) -> bool {
    matches!(
        commands,
        [Command::Drop | Command::Done | Command::Choose(_)]
    )
}
