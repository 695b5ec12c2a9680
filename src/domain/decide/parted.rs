//! What is told of a part of what stands in hand: "a third of that each for ana and tom", "50 of it stayed on the
//! plate and the dog got it", "I only took 220 of that, so the rest is yours".
//!
//! The language divides what was put on the plate as if it had been said with it (`lang/composed/`). Whose it was keeps
//! what the others leave, what others had goes on their plates, and what was thrown away is waste; so all of it together
//! is what it was.

use super::super::answer::{About, Answer};
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand::{self, InHand};
use super::super::kitchen::{Choice, Kitchen};
use super::super::plate::PlatePortion;
use super::super::problem::ProblemKind;
use super::fix::label;
use super::{Decision, Input, OnProblem, Outcome, carry_out, find, stopped};
use crate::lang;
use crate::lang::syntax::{Amount, Command, Eater, Figure, Fix, Item, Line, Part, Portion, Words};

/// What was thrown away of what is in hand, or went back, before anything else is heard: "the cat got 50 of my chilli" is
/// no plate of 50.
pub fn lost(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    parted_as(kitchen, input, |parts| {
        parts
            .iter()
            .any(|(part, _)| !matches!(part, Part::Eaten(_)))
    })
}

/// The decision, if the message divides one line of what is in hand.
pub fn parted(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    parted_as(kitchen, input, |_| true)
}

fn parted_as(
    kitchen: &Kitchen,
    input: &Input,
    meant: impl Fn(&[(Part, f64)]) -> bool,
) -> Option<Decision> {
    if in_hand::is_asked(kitchen, input) {
        return None;
    }
    let hand = InHand::of(kitchen, input);
    let draft = Draft::new(kitchen, input);
    let mut found = hand.lines().into_iter().filter_map(|(member, line)| {
        let dish = dish(&draft, line)?;
        let held = Item::new(Amount::Mass(line.mass.grams()), dish);
        let owner = whose(kitchen, input, member)?;
        let vocabulary = kitchen.vocabulary();
        let parts = lang::parted(&input.text, &vocabulary, &held, &owner)?;
        meant(&parts).then_some(())?;
        Some((line, held, owner, parts))
    });
    let (line, held, owner, parts) = found.next()?;
    // One of two lines, and nobody says which.
    if found.next().is_some() {
        return None;
    }
    let name = Words::plain(label(&draft, line));
    let commands = commands(&held, name, &owner, &parts)?;
    if let Some(owner) = owner.filter(|_| commands.len() > 1 && !input.confirmed) {
        return Some(ask_first(draft, &owner, &commands));
    }
    let decision = carry_out(draft, &commands, OnProblem::Forget);
    let confirms =
        |answer: &Answer| matches!(answer, Answer::Ask(ask) if ask.about == About::Confirm);
    let asks = decision.answers.iter().any(confirms);
    (decision.outcome == Outcome::Recorded || asks).then_some(decision)
}

/// It is somebody else's plate: all of it, or nothing.
fn ask_first(draft: Draft, owner: &Words, commands: &[Command]) -> Decision {
    let says: Vec<String> = commands.iter().map(ToString::to_string).collect();
    let owner = owner.text.clone();
    let options = vec![Choice {
        label: format!("yes, change {owner}'s"),
        says: says.join("\n"),
    }];
    let problem = Some(ProblemKind::NotYours {
        owner: owner.clone(),
    });
    let line = draft
        .input
        .text
        .lines()
        .next()
        .unwrap_or_default()
        .to_owned();
    let asking = find::ask(About::Confirm, &line, problem, options);
    stopped(draft, asking)
}

/// A dish of the household, as its batch is found again.
fn dish(draft: &Draft, line: &PlatePortion) -> Option<Words> {
    let batch = draft.kitchen.batches.get(&line.batch?)?;
    let twins = draft.kitchen.open_batches();
    let several = twins.filter(|other| other.name == batch.name).count() > 1;
    Some(Words::plain(match several {
        true => batch.code.clone(),
        false => batch.name.clone(),
    }))
}

fn whose(kitchen: &Kitchen, input: &Input, member: MemberId) -> Option<Eater> {
    match member == input.sender {
        true => Some(None),
        false => Some(Some(Words::plain(kitchen.member(member)?.name.clone()))),
    }
}

/// The line is made less by what others had and by what was lost.
fn commands(
    held: &Item,
    name: Words,
    owner: &Eater,
    parts: &[(Part, f64)],
) -> Option<Vec<Command>> {
    let line = Line {
        name: Some(name),
        owner: owner.clone(),
        ..Line::default()
    };
    let own = Part::Eaten(owner.clone());
    let kept: f64 = parts
        .iter()
        .filter(|(part, _)| *part == own)
        .map(|(_, grams)| grams)
        .sum();
    let item = |grams: f64| Item::new(Amount::Mass(grams), held.name.clone());
    let mut out = vec![Command::Fix(match kept > 0.0 {
        true => Fix::Amount {
            new: Figure::Is(Amount::Mass(kept)),
            line,
        },
        false => Fix::Remove(line),
    })];
    for (part, grams) in parts.iter().filter(|(part, _)| *part != own) {
        out.extend(match part {
            Part::Eaten(who) => Some(Command::Portion(Portion {
                items: vec![item(*grams)],
                who: who.clone(),
                ..Portion::default()
            })),
            Part::Away => Some(Command::Waste {
                items: vec![item(*grams)],
                reason: None,
                anyway: false,
            }),
            Part::Back => None,
        });
    }
    (parts.len() > 1).then_some(out)
}
