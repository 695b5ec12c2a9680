//! An edited message whose plate was corrected since by messages of their own ("make it 110", "that was
//! hers"): what it says now takes the place of what they wrote, on the plate that they put it on.

use chrono::Datelike;

use super::super::act::{Act, ActEntry};
use super::super::answer::Answer;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Kitchen;
use super::super::ledger::{Account, EntryKind};
use super::super::plate::Plate;
use super::{
    Decision, Done, Input, OnProblem, carry_out, choose_reading, conclude, edit, problem_of,
};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Day, Portion, Words};

pub fn replaced(kitchen: &Kitchen, input: &Input, after: &Parsed) -> Option<Decision> {
    let act = input.pointed.as_ref()?;
    let written = written_since(kitchen, act)?;
    let reading = choose_reading(input, after)?;
    let mut base = Draft::new(kitchen, input);
    edit::close_questions(&mut base, input);
    let plates = base.kitchen.plates.clone();
    let mut stood_on: Vec<&Plate> = Vec::new();
    for plate in &plates {
        for portion in &plate.portions {
            if written.contains(&portion.entry) {
                base.reverse_portion(plate.id, portion);
                stood_on.push(plate);
            }
        }
    }
    stood_on.dedup_by_key(|plate| plate.id);
    base.settle();
    if let Some(problem) = problem_of(reading) {
        return Some(conclude(base, Done::saying(Answer::Problem(problem))));
    }
    let mut commands = reading.commands.clone();
    if let ([Command::Portion(portion)], [plate]) = (commands.as_mut_slice(), stood_on.as_slice()) {
        on_the_same_plate(&base, act, portion, plate);
    }
    Some(carry_out(base, &commands, OnProblem::KeepBase))
}

/// What the act and all that corrected it put on plates; `None` if nothing did.
fn written_since(kitchen: &Kitchen, act: &Act) -> Option<Vec<EntryId>> {
    let writes = |entry: &&ActEntry| entry.entry.kind == EntryKind::Portion;
    let id = |entry: &ActEntry| entry.entry.id;
    let mut written: Vec<EntryId> = act.entries.iter().filter(writes).map(id).collect();
    let mut corrected = false;
    // Oldest first: a correction may itself have been corrected.
    let later = kitchen.corrections.iter();
    for later in later.filter(|later| later.message != act.message) {
        let corrects = |entry: &ActEntry| {
            entry.takes_back && entry.entry.root.is_some_and(|root| written.contains(&root))
        };
        if later.entries.iter().any(corrects) && later.entries.iter().any(|entry| writes(&entry)) {
            let standing = later.standing().into_iter();
            written.extend(standing.filter(writes).map(id));
            corrected = true;
        }
    }
    corrected.then_some(written)
}

/// Whose plate it is, and when it was eaten, has been put right: an edit of the amounts leaves that so.
fn on_the_same_plate(base: &Draft, act: &Act, portion: &mut Portion, plate: &Plate) {
    let first = act.entries.iter().find_map(|entry| match entry.entry.to {
        Account::Plate(id) => base.kitchen.plate(id),
        _ => None,
    });
    let Some(first) = first.filter(|first| first.id != plate.id) else {
        return;
    };
    if first.member != plate.member && portion.who.is_none() && portion.share.is_none() {
        let member = base.kitchen.member(plate.member);
        portion.who = member.map(|member| Words::plain(member.name.clone()));
    }
    if first.day != plate.day && portion.day.is_none() {
        portion.day = Some(Day::Date {
            day: plate.day.day(),
            month: plate.day.month(),
            year: Some(plate.day.year()),
        });
    }
    if first.meal != plate.meal && portion.meal.is_none() {
        portion.meal = plate.meal;
    }
}
