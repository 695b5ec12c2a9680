//! A dish that weighs more in its vessel than the books have of it: somebody put more in, or the scale was misread.
//! What was put in may be told at once: "topped up, I put in 350 g tomatoes".

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::kitchen::{Choice, Kitchen, OpenQuestion};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::shortage::drift;
use super::weigh::Reading;
use super::{Decision, Input, OnProblem, Outcome, Stop, carry_out, count, find, question, told};
use crate::lang;
use crate::lang::syntax::{Command, LineContent, TopUp, Weighed, Weighing, Words};

/// Food does not grow: more of it in a vessel than the scale may err is asked about.
pub fn asked(draft: &Draft, id: BatchId, weighing: &Weighing, reading: Reading) -> Option<Stop> {
    let batch = draft.kitchen.batch(id);
    let before = count::booked(draft, id, reading.net());
    let after = reading.net();
    let in_vessel = weighing.container.is_some() || !weighing.tares.is_empty();
    let gained = before.mg() > 0 && after - before > drift(batch);
    if !in_vessel || !gained || batch.estimated() {
        return None;
    }
    let counted = Command::Count {
        items: vec![Weighed {
            name: Words::plain(batch.code.clone()),
            place: None,
            weighing: weighing.clone(),
        }],
        rest: None,
        anyway: true,
    };
    let choice = |label: String, says: &Command| Choice {
        label,
        says: says.to_string(),
    };
    let options = vec![
        choice(
            format!(
                "refilled, or more than was booked: {} g",
                after.rounded_grams()
            ),
            &counted,
        ),
        count::topped_up(draft, id, after - before),
        choice("misread: nothing to book".into(), &Command::Drop),
    ];
    let problem = ProblemKind::JarGained { before, after };
    Some(find::ask(
        About::Confirm,
        &batch.code,
        Some(problem),
        options,
    ))
}

/// What it was topped up with, told to the question whether it was.
pub fn topped_up_with(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    let open = question::meant(kitchen, input)?;
    let vocabulary = kitchen.vocabulary();
    let (dish, gain) = offered(open, &vocabulary)?;
    let said = lang::answer::topped_up_with(&input.text)?;
    let grams = gain.by_grams?;
    let with = match said.contains(|c: char| c.is_ascii_digit()) {
        true => said.to_owned(),
        false => format!("{grams} g {said}"),
    };
    let sentence = format!("topped up {dish} with {with}");
    let mut commands = question::read(&sentence, &vocabulary).ok()?;
    let [Command::TopUp(top_up)] = commands.as_mut_slice() else {
        return None;
    };
    let plain = |content: &LineContent| matches!(content, LineContent::Ingredient { .. });
    if !top_up.lines.iter().all(|line| plain(&line.content)) {
        return None;
    }
    // What the scale showed is what there is.
    let counted = counted(open, &vocabulary, kitchen, input);
    top_up.weighing = top_up.weighing.take().or(counted);
    let spoken = told::spoken(input, open);
    let base = told::answering(kitchen, &spoken, open);
    let decision = carry_out(base, &commands, OnProblem::Forget);
    let right = decision.outcome == Outcome::Recorded;
    right.then(|| question::keep_answer(kitchen, input, open, decision))
}

/// The dish that may have been topped up, and by how much.
fn offered(open: &OpenQuestion, vocabulary: &lang::Vocabulary) -> Option<(String, TopUp)> {
    open.offered().find_map(|option| {
        match question::read(&option.says, vocabulary).ok()?.as_slice() {
            [Command::TopUp(top_up)] if top_up.by_grams.is_some() => {
                Some((top_up.batch.text.clone(), top_up.clone()))
            }
            _ => None,
        }
    })
}

/// The weight that was asked about, without its vessel.
fn counted(
    open: &OpenQuestion,
    vocabulary: &lang::Vocabulary,
    kitchen: &Kitchen,
    input: &Input,
) -> Option<Weighing> {
    let first = open.offered().next()?;
    let (says, _) = super::shortage::without_anyway(&first.says);
    let commands = question::read(says, vocabulary).ok()?;
    let [Command::Count { items, .. }] = commands.as_slice() else {
        return None;
    };
    let [item] = items.as_slice() else {
        return None;
    };
    let draft = Draft::new(kitchen, input);
    let net: Mass = super::weigh::net(&draft, &item.weighing).ok()?.net();
    Some(Weighing::net(net.grams(), 0..0))
}
