//! What was said among people: what counts in passing, what is doubtful, what is small talk.

use chrono::Duration;

use super::super::act::Act;
use super::super::answer::About;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen};
use super::super::plate::Plate;
use super::super::problem::{Problem, ProblemKind};
use super::{Asking, Decision, Done, Input, Stop, conclude, find, refuse, which};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Reading, Reason};

/// How long after a booking its sender's "that was hers" still means it.
const IN_PASSING_MINUTES: i64 = 5;

/// A correction that says nothing by itself ("that was yesterday") counts right after the sender's
/// own booking.
pub fn in_passing<'a>(kitchen: &Kitchen, input: &Input, parsed: &'a Parsed) -> Option<&'a Reading> {
    let best = parsed.readings.first()?;
    let corrects = matches!(
        best.commands.as_slice(),
        [Command::Fix(_) | Command::Again(_)]
    );
    let recent = Duration::minutes(IN_PASSING_MINUTES);
    let mut touched = kitchen
        .plates
        .iter()
        .filter_map(|plate| plate.touched_by(input.sender));
    let just_booked = touched.any(|touched| input.now - touched <= recent);
    let anyone = matches!(best.commands.as_slice(), [Command::Again(_)])
        && kitchen
            .plates
            .iter()
            .filter_map(Plate::touched_at)
            .any(|touched| input.now - touched <= recent);
    (best.errors.is_empty() && corrects && (just_booked || anyone)).then_some(best)
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
            Command::Portion(_) | Command::Waste { .. } | Command::Count { .. } | Command::Batch(_)
        )
    };
    (vetoed || asks(&input.text)) && reading.commands.iter().any(weighs)
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

/// "140 dal 180": a number beside a weighing that belongs to nothing is asked about.
pub fn left_over(reading: &Reading, problem: Problem) -> Result<Asking, Problem> {
    let ProblemKind::LeftOver { text } = &problem.kind else {
        return Err(problem);
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
        words: text.clone(),
        problem: Some(problem.kind),
        options: Vec::new(),
        pointed: None,
    })
}

/// Words of one's own that answer nothing are talk: "done", "cancel".
pub fn is_small_talk(commands: &[Command]) -> bool {
    matches!(
        commands,
        [Command::Drop | Command::Done | Command::Choose(_)]
    )
}
