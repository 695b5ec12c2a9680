//! The same plate told again within a few minutes: one plate, by two people, or two?

use chrono::Duration;

use super::super::answer::About;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::super::plate::{Plate, PlatePortion};
use super::super::problem::ProblemKind;
use super::super::resolve::Thing;
use super::people::{Person, person};
use super::portion::Taken;
use super::{Stop, find};
use crate::lang;
use crate::lang::syntax::{Command, Portion, Share};

/// The first answer to "one plate or two?".
pub const ONE_PLATE: &str = "one: the same plate, told twice";

/// The same plate again within this time may be the same plate told twice.
const SAME_AGAIN_MINUTES: i64 = 10;

/// The same things in the same amounts, told a moment ago by this person or another: one plate or two?
pub fn same_again(draft: &Draft, portion: &Portion, taken: &[Taken]) -> Option<Stop> {
    let unclear = matches!(portion.share, Some(Share::Unclear(_) | Share::Whose(_)));
    if portion.anyway || portion.with_last || portion.day.is_some() || unclear {
        return None;
    }
    let now = draft.input.now;
    let told = |plate: &&Plate| {
        // Two plates of one message are two.
        let now_told = |entry| {
            draft
                .changes
                .iter()
                .any(|change| matches!(change, Change::Entry { entry: now, .. } if now.id == entry))
        };
        let known = plate.portions.iter().filter(|one| !now_told(one.entry));
        let mut moments: Vec<_> = known.map(|one| one.recorded_at).collect();
        moments.dedup();
        moments.into_iter().any(|moment| {
            let recent = now - moment <= Duration::minutes(SAME_AGAIN_MINUTES);
            let portions = plate.portions.iter();
            recent
                && same_things(
                    draft,
                    taken,
                    portions.filter(|one| one.recorded_at == moment),
                )
        })
    };
    let today = draft.today();
    let mut plates = draft
        .kitchen
        .plates
        .iter()
        .rev()
        .filter(|plate| plate.day == today);
    let twin = plates.find(told)?;
    // Whoever says whose plate it is, and means another's, tells of another plate; so does who tells of all at once.
    let named = portion.who.as_ref().map(|who| person(draft, &who.text));
    let another = matches!(named, Some(Person::Member(of)) if of != twin.member);
    if another || portion.share.is_some() {
        return None;
    }
    // "30 salsa for me as well"
    if twin.member != draft.input.sender && lang::answer::joins_in(&draft.input.text) {
        return None;
    }
    // A box or a piece is as much for everybody: somebody else had another.
    let counted = |line: &Taken| match &line.thing {
        Thing::Batches(batches) => draft.kitchen.batch(batches[0]).pieces().is_some(),
        _ => false,
    };
    let by_oneself = twin.member != draft.input.sender && portion.who.is_none();
    if by_oneself && taken.iter().all(counted) {
        return None;
    }
    let mut two = portion.clone();
    two.anyway = true;
    let name = draft
        .kitchen
        .member(twin.member)
        .map_or_else(String::new, |member| member.name.clone());
    let options = vec![
        Choice {
            label: ONE_PLATE.into(),
            says: Command::Drop.to_string(),
        },
        Choice {
            label: "two plates".into(),
            says: Command::Portion(two).to_string(),
        },
    ];
    let words: Vec<&str> = portion
        .items
        .iter()
        .map(|item| item.name.text.as_str())
        .collect();
    let problem = ProblemKind::SamePlate { member: name };
    Some(find::ask(
        About::Confirm,
        &words.join(", "),
        Some(problem),
        options,
    ))
}

/// Every one of these is among those, and none is left over.
fn same_things<'a>(
    draft: &Draft,
    taken: &[Taken],
    portions: impl Iterator<Item = &'a PlatePortion>,
) -> bool {
    let mut portions: Vec<&PlatePortion> = portions.collect();
    let all = taken.iter().all(|line| {
        let found = portions.iter().position(|one| is_same(draft, line, one));
        found.map(|at| portions.remove(at)).is_some()
    });
    all && portions.is_empty()
}

/// The same food in the same amount. Two batches of one name are two things, unless the one that was
/// eaten from has been finished: then its name means the next.
fn is_same(draft: &Draft, line: &Taken, portion: &PlatePortion) -> bool {
    let thing = match &line.thing {
        Thing::Batches(meant) => portion.batch.is_some_and(|id| {
            let eaten = draft.kitchen.batch(id);
            let next = draft.kitchen.batch(meant[0]);
            meant.contains(&id) || (!eaten.open && eaten.component == next.component)
        }),
        Thing::Packet(profile) => portion.profile == Some(*profile),
        Thing::Food(code) => portion.profile.is_some_and(|id| {
            let known = draft.kitchen.profiles.get(&id);
            known.is_some_and(|known| known.food == Some(*code))
        }),
    };
    thing && line.quantity.mass == portion.mass
}
