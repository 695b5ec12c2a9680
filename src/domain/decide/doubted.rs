//! What a scale cannot have shown: a total that falls, a jar that gains, less than the empty vessel. It is asked about, with
//! what it could mean.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen};
use super::super::mass::Mass;
use super::super::problem::{Problem, ProblemKind};
use super::scale::of_one;
use super::{Asking, Decision, Done, Input, Stop, conclude, find};
use crate::lang::syntax::{Amount, Command, Portion, ScaleReading, TopUp, Words};

/// A total that falls cannot be: the plate was taken off, or this was weighed by itself.
pub fn falls(portion: &Portion, last: Mass) -> Stop {
    let problem = ProblemKind::ScaleFell { last };
    other_way(
        &names(portion),
        problem,
        &Command::Portion(in_grams(portion)),
    )
}

fn in_grams(portion: &Portion) -> Portion {
    let mut by_itself = portion.clone();
    for item in &mut by_itself.items {
        if let Amount::Bare(grams) = item.amount {
            item.amount = Amount::Mass(grams);
        }
    }
    by_itself
}

fn names(portion: &Portion) -> String {
    let names: Vec<&str> = portion
        .items
        .iter()
        .map(|item| item.name.text.as_str())
        .collect();
    names.join(", ")
}

/// The question about readings that cannot be, with what they could mean.
pub fn other_way(words: &str, problem: ProblemKind, meant: &Command) -> Stop {
    let options = vec![Choice {
        label: "weighed by itself".into(),
        says: meant.to_string(),
    }];
    find::ask(About::WhichWeighing, words, Some(problem), options)
}

/// A jar that weighs more than before: it was refilled, and counts from there; it was topped up, which makes
/// another batch of a dish; or a reading was wrong.
pub fn gained(draft: &Draft, food: &Words, before: Mass, after: Mass) -> Stop {
    let more = (after - before).grams();
    let choice = |label: String, says: &Command| Choice {
        label,
        says: says.to_string(),
    };
    let refilled = Command::OnScale(ScaleReading {
        grams: after.grams(),
        food: Some(food.clone()),
        vessel: Some(Words::plain("jar")),
        told: true,
    });
    let mut options = vec![choice(
        format!("refilled: it counts from {} g", after.grams()),
        &refilled,
    )];
    if find::batches(draft, food).is_ok() {
        let topped_up = Command::TopUp(TopUp {
            batch: food.clone(),
            from: None,
            lines: Vec::new(),
            by_grams: Some(more),
            weighing: None,
        });
        options.push(choice(format!("topped up: {more} g went in"), &topped_up));
    }
    options.push(choice("misread: nothing to book".into(), &Command::Drop));
    let eaten = of_one(food.clone(), Amount::Mass(more));
    let turned = Command::Portion(eaten);
    options.push(choice(format!("other way round: {more} g eaten"), &turned));
    let problem = ProblemKind::JarGained { before, after };
    find::ask(About::WhichWeighing, &food.text, Some(problem), options)
}

/// A message whose readings cannot be, asked about.
pub fn doubted(kitchen: &Kitchen, input: &Input, problem: Problem, meant: &[Command]) -> Decision {
    let words = match meant.first() {
        Some(Command::Portion(portion)) => names(portion),
        _ => input.text.clone(),
    };
    let stop = match (problem.kind, meant) {
        (kind, [Command::Portion(running), Command::Portion(alone)]) => {
            with_or_without(&words, kind, running, alone)
        }
        (ProblemKind::JarGained { before, after }, [Command::Portion(portion), ..]) => {
            let jar = portion.items.first().map(|item| item.name.clone());
            let jar = jar.unwrap_or_default();
            gained(&Draft::new(kitchen, input), &jar, before, after)
        }
        (kind, [meant, ..]) => other_way(&words, kind, meant),
        (kind, []) => Stop::Problem(kind.anywhere()),
    };
    let asks = match stop {
        Stop::Ask(asking) => vec![*asking],
        Stop::Problem(_) => Vec::<Asking>::new(),
    };
    let answers = Vec::new();
    conclude(Draft::new(kitchen, input), Done { answers, asks })
}

/// A reading above the one before it: what was added to that, or a weight of its own.
fn with_or_without(words: &str, kind: ProblemKind, running: &Portion, alone: &Portion) -> Stop {
    let choice = |said: &Portion, how: &str| {
        let items = said.items.iter().filter(|item| {
            let both = running.items.contains(item) && alone.items.contains(item);
            !both
        });
        let told: Vec<String> = items
            .map(|item| format!("{} {}", item.amount, item.name.text))
            .collect();
        Choice {
            label: format!("{how}: {}", told.join(", ")),
            says: Command::Portion(said.clone()).to_string(),
        }
    };
    let options = vec![choice(running, "on top"), choice(alone, "by itself")];
    find::ask(About::WhichWeighing, words, Some(kind), options)
}
