//! What people cannot have or leave out: told, taken back, asked; and said where a plate or a dish has it.

use super::super::answer::{Answer, Note};
use super::super::avoid::answer::{AvoidAnswer, Eater};
use super::super::avoid::problem::AvoidProblem;
use super::super::avoid::{Avoidance, Avoided};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::{AccountId, BatchId, MemberId, ProfileId};
use super::super::ledger::{Account, EntryKind};
use super::super::personal::PersonalFact;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::people::find_person;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{Avoid, Command, Eats, Words};

pub fn carry_out(draft: &mut Draft, said: &Avoid) -> Step {
    match said {
        Avoid::Tells { who, what, cannot } => {
            let of = whose(draft, who, said)?;
            let told = what.iter().map(|what| Avoidance {
                what: what.text.clone(),
                cannot: *cannot,
                holds: true,
            });
            let told = told.collect();
            Ok(tell(draft, of, told))
        }
        Avoid::Drops { who, what } => drops(draft, said, who, what),
        Avoid::Asks { who: Some(who) } => {
            let of = whose(draft, who, said)?;
            Ok(listed(draft, &[of]))
        }
        Avoid::Asks { who: None } => {
            let members = draft.kitchen.members().iter().map(|member| member.id);
            let avoid = |id: &MemberId| !draft.kitchen.avoids(*id).is_empty();
            let members: Vec<MemberId> = members.filter(avoid).collect();
            Ok(listed(draft, &members))
        }
        Avoid::MayEat { who, dish } => may_eat(draft, said, who, dish),
    }
}

/// Whoever chats says it of themselves; of guests and children others say it.
fn drops(draft: &mut Draft, said: &Avoid, who: &Eats, what: &[Words]) -> Step {
    let of = whose(draft, who, said)?;
    let member = draft.somebody(of);
    let name = member.name.clone();
    if member.chats && of != draft.input.sender {
        return Err(stop(AvoidProblem::TheirsToSay { who: name }));
    }
    let mut standing = draft.kitchen.avoids(of);
    if !what.is_empty() {
        let named: Vec<String> = what.iter().map(|what| key(&what.text)).collect();
        standing.retain(|told| named.contains(&told.key()));
    }
    if standing.is_empty() {
        let what = what.first().map(|what| what.text.clone());
        return Err(stop(AvoidProblem::NotTold { who: name, what }));
    }
    let over = standing.into_iter().map(|told| Avoidance {
        holds: false,
        ..told
    });
    let over = over.collect();
    Ok(tell(draft, of, over))
}

fn tell(draft: &mut Draft, of: MemberId, told: Vec<Avoidance>) -> Done {
    for fact in &told {
        draft.tell_of(of, PersonalFact::Avoids(fact.clone()));
    }
    let (who, message) = (eater(draft, of), draft.credit);
    saying(AvoidAnswer::Told { who, told, message })
}

fn listed(draft: &Draft, of: &[MemberId]) -> Done {
    let each = of.iter();
    let each = each.map(|id| (eater(draft, *id), draft.kitchen.avoids(*id)));
    saying(AvoidAnswer::Listed(each.collect()))
}

/// The oldest pot of that name, as a plate would have it.
fn may_eat(draft: &mut Draft, said: &Avoid, who: &Eats, dish: &Words) -> Step {
    let of = whose(draft, who, said)?;
    let found = find::batches(draft, dish)?;
    let batch = draft.kitchen.batch(found[0]);
    Ok(saying(AvoidAnswer::Of {
        who: eater(draft, of),
        dish: batch.name.clone(),
        batch: Some(batch.code.clone()),
        avoids: draft.kitchen.avoids(of),
        found: draft.kitchen.avoided_by(of, batch),
    }))
}

/// What on the plates of this decision somebody avoids, beside the answer: once for each plate and dish, and what is only
/// not known in full once for each pot.
pub fn add(draft: &Draft, done: &mut Done) {
    let mut notes: Vec<Note> = Vec::new();
    for change in &draft.changes {
        let Change::Entry { entry, .. } = change else {
            continue;
        };
        let (EntryKind::Portion, Account::Plate(plate)) = (entry.kind, entry.to) else {
            continue;
        };
        for avoided in put_on(draft, plate, entry.batch, entry.profile) {
            let note = Note::Avoided(avoided);
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
    }
    if let Some(into) = done.answers.iter_mut().find_map(Answer::notes) {
        into.extend(notes);
    }
}

fn put_on(
    draft: &Draft,
    plate: AccountId,
    batch: Option<BatchId>,
    profile: Option<ProfileId>,
) -> Vec<Avoided> {
    let Some(of) = draft.kitchen.plate(plate).map(|plate| plate.member) else {
        return Vec::new();
    };
    let had = |on_plate: Option<AccountId>| {
        let plates = draft.before.plates.iter();
        let own = plates.filter(|it| it.member == of && on_plate.is_none_or(|id| it.id == id));
        let mut portions = own.flat_map(|plate| &plate.portions);
        portions.any(|it| it.batch == batch && (batch.is_some() || it.profile == profile))
    };
    let mut found = match (batch, profile) {
        (Some(batch), _) => draft.kitchen.avoided_by(of, draft.kitchen.batch(batch)),
        (None, Some(profile)) => draft.kitchen.avoided_plainly(of, profile),
        (None, None) => Vec::new(),
    };
    found.retain(|avoided| match avoided.is_in() {
        true => !had(Some(plate)),
        false => !had(None),
    });
    found
}

fn whose(draft: &mut Draft, who: &Eats, said: &Avoid) -> Result<MemberId, Stop> {
    match who {
        Eats::Me => Ok(draft.input.sender),
        Eats::Named(words) => find_person(draft, words, |name| {
            let mut said = said.clone();
            if let Avoid::Tells { who, .. }
            | Avoid::Drops { who, .. }
            | Avoid::Asks { who: Some(who) }
            | Avoid::MayEat { who, .. } = &mut said
            {
                *who = Eats::Named(Words::plain(name));
            }
            Command::Avoid(said).to_string()
        }),
    }
}

fn eater(draft: &Draft, of: MemberId) -> Eater {
    Eater {
        name: draft.somebody(of).name.clone(),
        you: of == draft.input.sender,
    }
}

fn stop(problem: AvoidProblem) -> Stop {
    ProblemKind::Avoid(problem).into()
}

fn saying(answer: AvoidAnswer) -> Done {
    Done::saying(Answer::Avoid(Box::new(answer)))
}
