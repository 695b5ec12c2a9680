//! What stands of what the sender has booked just now.

use super::super::super::act::Act;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::in_hand::{InHand, holds};
use super::super::super::plate::PlatePortion;
use super::super::fix::{Target, label, reach};
use super::super::when;
use crate::lang::syntax::{MealName, Words};

/// A line, on whose plate it is, and how long ago it was booked, counted in acts.
#[derive(Debug, Clone)]
pub struct Standing {
    pub portion: PlatePortion,
    pub member: MemberId,
    /// The meal that was told of its plate.
    pub meal: Option<MealName>,
    pub age: usize,
    /// The words under which a correction finds it.
    pub name: Words,
}

impl Standing {
    /// It is of this meal: as was told of its plate, or else by its hour.
    pub fn is_of(&self, draft: &Draft, meal: MealName) -> bool {
        let by_hour = || when::is_hour_of(draft, meal, self.portion.occurred_at);
        self.meal.map_or_else(by_hour, |told| told == meal)
    }
}

/// The newest act first; of one act in the order in which it was written.
pub fn standing(draft: &Draft) -> Vec<Standing> {
    let acts = reach(draft).into_iter().filter(|act| is_recent(draft, act));
    let mut out: Vec<Standing> = Vec::new();
    for (age, target) in acts.filter_map(|act| Target::of(draft, &act)).enumerate() {
        for (plate, portion) in target.own() {
            let known = out.iter().any(|line| line.portion.entry == portion.entry);
            let on = draft.kitchen.plate(plate).map(|on| (on.member, on.meal));
            if let Some((member, meal)) = on.filter(|_| !known) {
                let name = Words::plain(label(draft, &portion));
                out.push(Standing {
                    portion,
                    member,
                    meal,
                    age,
                    name,
                });
            }
        }
    }
    out
}

/// The one thing on the plate of somebody else that was filled last in the chat, where the sender has booked nothing.
pub fn of_another(draft: &Draft) -> Vec<Standing> {
    let plate = InHand::of(draft.before, draft.input).of_another();
    let line = plate.and_then(|plate| Some((plate, plate.portions.first()?)));
    let standing = line.map(|(plate, portion)| Standing {
        portion: portion.clone(),
        member: plate.member,
        meal: plate.meal,
        age: 0,
        name: Words::plain(label(draft, portion)),
    });
    standing.into_iter().collect()
}

fn is_recent(draft: &Draft, act: &Act) -> bool {
    draft.input.pointed.is_some() || holds(draft.input, act.sent_at)
}

/// Something was booked just now, be it on no plate.
pub fn is_fresh(draft: &Draft) -> bool {
    reach(draft)
        .first()
        .is_some_and(|act| is_recent(draft, act))
}

/// Something was put on a plate of this person just now.
pub fn has_eaten(draft: &Draft, member: MemberId) -> bool {
    let mut touched = draft
        .kitchen
        .plates
        .iter()
        .filter_map(|it| it.touched_by(member));
    touched.any(|touched| holds(draft.input, touched))
}
