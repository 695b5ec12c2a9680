//! What the plates must tell (`lang/of_plates.rs`): "as much bread as Robin", "100 rice with the barley", "n rice".

use chrono::Duration;

use super::super::draft::Draft;
use super::super::kitchen::Kitchen;
use super::super::mass::Mass;
use super::super::plate::PlatePortion;
use super::fix::names;
use super::people::{self, Person};
use super::{Decision, Input, OnProblem, Outcome, carry_out, conclude_if_enough, portion, stopped};
use crate::domain::ids::MemberId;
use crate::lang::syntax::{Amount, Command, Item, Portion, Words};
use crate::lang::{self, Like, OfPlates, Parsed};

/// As long as people are at the table.
const HOLDS_MINUTES: i64 = 60;
/// Of a dish alone: only while the plate is being filled.
const FILLS_MINUTES: i64 = 5;

/// As much as somebody has, where the message is nothing else for sure: "half as much as Robin" puts nothing right.
pub fn as_much(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let best = parsed.best();
    if best.is_certain() && !best.corrects() {
        return None;
    }
    let told = lang::of_plates(&input.text, &kitchen.vocabulary())?;
    let draft = Draft::new(kitchen, input);
    let sender = input.sender;
    match told {
        OfPlates::AsMuch { name, times, like } => {
            let (member, of) = match &like {
                Like::Person(who) => match people::person(&draft, &who.text) {
                    Person::Member(member) => (member, &name),
                    _ => return None,
                },
                Like::Dish(dish) => (sender, dish),
            };
            let had: Mass = lines(&draft, member, of, HOLDS_MINUTES)
                .map(|line| line.mass)
                .sum();
            let grams = had.share(times).grams();
            (grams > 0.0).then_some(())?;
            Some(booked(draft, Item::new(Amount::Mass(grams), name).at(0..0)))
        }
        OfPlates::Beside { .. } | OfPlates::Begun(_) => None,
    }
}

/// What goes on a plate beside what lies there, or is only named, where the message by itself comes to nothing.
pub fn told(kitchen: &Kitchen, input: &Input, without: &Decision) -> Option<Decision> {
    if !matches!(without.outcome, Outcome::Ignored | Outcome::Refused) {
        return None;
    }
    let told = lang::of_plates(&input.text, &kitchen.vocabulary())?;
    let draft = Draft::new(kitchen, input);
    let sender = input.sender;
    match told {
        OfPlates::AsMuch { .. } => None,
        OfPlates::Beside { item, dish } => {
            lines(&draft, sender, &dish, HOLDS_MINUTES).next()?;
            let beside = Portion {
                items: vec![item],
                with_last: true,
                ..Portion::default()
            };
            let commands = [Command::Portion(beside)];
            Some(carry_out(draft, &commands, OnProblem::Forget))
        }
        OfPlates::Begun(name) => {
            let fills = Duration::minutes(FILLS_MINUTES);
            let open = |plate: &&crate::domain::plate::Plate| {
                let touched = plate.touched_by(sender);
                !plate.closed && touched.is_some_and(|touched| input.now - touched <= fills)
            };
            kitchen.plates.iter().find(open)?;
            let some = Item::new(Amount::Uncounted("some".into()), name).at(0..0);
            let begun = Portion {
                items: vec![some],
                with_last: true,
                ..Portion::default()
            };
            let decision = carry_out(draft, &[Command::Portion(begun)], OnProblem::Forget);
            (decision.outcome == Outcome::Asked).then_some(decision)
        }
    }
}

/// It is said on purpose that it is as much as somebody else had, so nobody asks whether it was told twice.
fn booked(mut draft: Draft, item: Item) -> Decision {
    let as_much = Portion {
        items: vec![item],
        ..Portion::default()
    };
    let base = draft.clone();
    match portion::meant(&mut draft, &as_much) {
        Ok(done) => conclude_if_enough(draft, done, &[Command::Portion(as_much)]),
        Err(stop) => stopped(base, stop),
    }
}

/// What this person has of it, told not long ago.
fn lines<'a>(
    draft: &'a Draft,
    member: MemberId,
    name: &'a Words,
    minutes: i64,
) -> impl Iterator<Item = &'a PlatePortion> {
    let since = draft.input.now - Duration::minutes(minutes);
    let plates = draft.kitchen.plates.iter();
    let theirs = plates.filter(move |plate| plate.member == member);
    let lines = theirs.flat_map(|plate| &plate.portions);
    lines.filter(move |line| line.recorded_at >= since && names(draft, line, name))
}
