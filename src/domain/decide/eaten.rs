//! What somebody ate on a day, and closing a bowl.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::super::answer::{Answer, DayAnswer, PlateView, PortionsAnswer};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::{AccountId, EntryId, MemberId};
use super::super::in_hand::InHand;
use super::super::mass::Mass;
use super::super::nutrients::Totals;
use super::super::personal::answer::PersonalAnswer;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::view;
use super::{Done, Step, Stop, find, people, stock};
use crate::lang::syntax::{Day, EVERYONE, Words};

pub fn eaten(draft: &mut Draft, day: &Day, who: Option<&Words>) -> Step {
    let of = match whose(draft, who)? {
        Ok(of) => of,
        Err(theirs) => return Ok(theirs),
    };
    let today = draft.today();
    let day = find::date(day, today)?;
    if day > today {
        return Err(Stop::from(ProblemKind::FutureDate));
    }
    let plates = plates_of(draft, of, day);
    let mut totals = Totals::default();
    plates.iter().for_each(|plate| totals.add(&plate.totals));
    let name = draft.kitchen.member(of).map(|known| known.name.clone());
    Ok(Done::saying(Answer::Day(DayAnswer {
        of,
        member: name.unwrap_or_default(),
        day,
        plates,
        totals,
        targets: draft.kitchen.targets(of),
        numbers: draft.kitchen.tells_numbers(of),
    })))
}

/// What somebody had on a day, plate by plate.
pub fn plates_of(draft: &Draft, member: MemberId, day: NaiveDate) -> Vec<PlateView> {
    let plates = draft.kitchen.plates.iter();
    let on_it = plates.filter(|plate| plate.member == member && plate.day == day);
    on_it
        .filter(|plate| !plate.portions.is_empty())
        .map(|plate| view::plate(&draft.kitchen, plate, &BTreeMap::new()))
        .collect()
}

/// Whose plates are asked for, or what is said instead: what others eat who chat themselves is theirs to tell; guests and
/// children are spoken for by those who write down what they have.
pub fn whose(draft: &Draft, who: Option<&Words>) -> Result<Result<MemberId, Done>, Stop> {
    let Some(words) = who else {
        return Ok(Ok(draft.input.sender));
    };
    if words.text == EVERYONE {
        let answer = PersonalAnswer::EachTheirOwn;
        return Ok(Err(Done::saying(Answer::Personal(Box::new(answer)))));
    }
    let found = match people::person(draft, &words.text) {
        people::Person::Member(id) => id,
        people::Person::Several(_) => {
            let name = words.text.clone();
            return Err(ProblemKind::SeveralCalled { name }.into());
        }
        people::Person::Guest(_) | people::Person::Unknown => {
            let members = draft.kitchen.members().iter();
            let kind = ProblemKind::UnknownName {
                words: words.text.clone(),
                near: members.map(|member| member.name.clone()).collect(),
            };
            return Err(Stop::Problem(kind.at(words.span.clone())));
        }
    };
    let known = draft.kitchen.member(found);
    let theirs = known.filter(|member| member.chats && found != draft.input.sender);
    Ok(match theirs {
        Some(member) => {
            let name = member.name.clone();
            let answer = PersonalAnswer::TheirOwn { name };
            Err(Done::saying(Answer::Personal(Box::new(answer))))
        }
        None => Ok(found),
    })
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

/// "how many calories was that": the plates that were filled last, as they are now.
pub fn last_plate(draft: &Draft) -> Step {
    let hand = InHand::of(draft.before, draft.input);
    let lines: Vec<EntryId> = hand.lines().iter().map(|(_, line)| line.entry).collect();
    let plates = draft.kitchen.plates.iter();
    let filled = plates.filter(|plate| plate.portions.iter().any(|it| lines.contains(&it.entry)));
    let filled: Vec<AccountId> = filled.map(|plate| plate.id).collect();
    if filled.is_empty() {
        return Err(ProblemKind::NothingToFix.into());
    }
    let answer = super::portion::answer(draft, &filled, Vec::new(), &BTreeMap::new());
    Ok(Done::saying(answer))
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
