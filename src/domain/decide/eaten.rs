//! What somebody ate on a day, and closing a bowl.

use std::collections::BTreeMap;

use super::super::answer::{Answer, DayAnswer, PortionsAnswer};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::nutrients::Totals;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, Stop, find, people, stock};
use crate::lang::syntax::{Command, Day, Words};

pub fn eaten(draft: &mut Draft, day: &Day, who: Option<&Words>) -> Step {
    let member = match who {
        Some(words) => people::find_person(draft, words, |name| {
            Command::Eaten {
                day: day.clone(),
                who: Some(Words::plain(name)),
            }
            .to_string()
        })?,
        None => draft.input.sender,
    };
    let today = draft.today();
    let date = find::date(day, today)?;
    if date > today {
        return Err(Stop::from(ProblemKind::FutureDate));
    }
    let mut totals = Totals::default();
    let mut plates = Vec::new();
    for plate in &draft.kitchen.plates {
        if plate.member == member && plate.day == date && !plate.portions.is_empty() {
            let view = view::plate(&draft.kitchen, plate, &BTreeMap::new());
            totals.add(&view.totals);
            plates.push(view);
        }
    }
    let name = draft
        .kitchen
        .member(member)
        .map_or_else(String::new, |known| known.name.clone());
    Ok(Done::saying(Answer::Day(DayAnswer {
        member: name,
        day: date,
        plates,
        totals,
    })))
}

/// "how many portions of dal": what is left over the usual portion so far.
pub fn portions(draft: &mut Draft, name: &Words) -> Step {
    let found = find::batches(draft, name)?;
    let batch = draft.kitchen.batch(found[0]);
    // "how many boxes": by the word that they are counted by.
    let word = batch.pieces().and_then(|counted| counted.word.clone());
    if word.is_some_and(|word| key(&name.text).rsplit(' ').next() == Some(&word)) {
        return stock::how_much(draft, name);
    }
    let left: Mass = found.iter().map(|id| draft.kitchen.batch(*id).left()).sum();
    Ok(Done::saying(Answer::Portions(PortionsAnswer {
        name: batch.name.clone(),
        batch: batch.code.clone(),
        left,
        usual: draft.kitchen.usual_portion(batch.component),
    })))
}

/// "done": nothing more goes on the bowl by itself.
pub fn done(draft: &mut Draft) -> Step {
    let mine = draft.kitchen.plates.iter();
    let open = mine
        .filter(|plate| plate.member == draft.input.sender && !plate.closed)
        .max_by_key(|plate| plate.touched_at())
        .map(|plate| plate.id);
    // "25 walnuts, that's it, done": said of what the message has just told.
    let told = draft.has_booked();
    let Some(plate) = open else {
        return match told {
            true => Ok(Done::default()),
            false => Err(ProblemKind::NothingToFix.into()),
        };
    };
    draft.push(Change::ClosePlate(plate));
    if told {
        return Ok(Done::default());
    }
    let answer = super::portion::answer(draft, &[plate], Vec::new(), &BTreeMap::new());
    Ok(Done::saying(answer))
}
