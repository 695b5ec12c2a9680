//! What stands of what the sender has booked just now.

use super::super::super::act::Act;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::in_hand::{InHand, holds};
use super::super::super::plate::PlatePortion;
use super::super::fix::{Target, label, reach};
use crate::lang::syntax::Words;

/// A line, on whose plate it is, and how long ago it was booked, counted in acts.
#[derive(Debug, Clone)]
pub struct Standing {
    pub portion: PlatePortion,
    pub member: MemberId,
    pub age: usize,
    /// The words under which a correction finds it.
    pub name: Words,
}

/// The newest act first; of one act in the order in which it was written.
pub fn standing(draft: &Draft) -> Vec<Standing> {
    let acts = reach(draft).into_iter().filter(|act| is_recent(draft, act));
    let mut out: Vec<Standing> = Vec::new();
    for (age, target) in acts.filter_map(|act| Target::of(draft, &act)).enumerate() {
        for (plate, portion) in target.own() {
            let known = out.iter().any(|line| line.portion.entry == portion.entry);
            let member = draft.kitchen.plate(plate).map(|plate| plate.member);
            if let Some(member) = member.filter(|_| !known) {
                let name = Words::plain(label(draft, &portion));
                out.push(Standing {
                    portion,
                    member,
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
    let line = plate.and_then(|plate| Some((plate.member, plate.portions.first()?)));
    let standing = line.map(|(member, portion)| Standing {
        portion: portion.clone(),
        member,
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
