//! Who is at the table: names, guests, leaving and coming back, and who keeps the household.

pub mod door;

use super::super::answer::{About, Answer};
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::kitchen::{Choice, Kitchen, Member, OpenQuestion};
use super::super::personal::PersonalFact;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::table::answer::{SeatView, TableAnswer, TableEvent};
use super::super::table::problem::TableProblem;
use super::super::table::{Called, Seat};
use super::people::{Person, find_person, guest, person};
use super::{Done, Step, Stop, find, fix};
use crate::lang::syntax::{Command, People, Words};

pub fn carry_out(draft: &mut Draft, said: &People) -> Step {
    match said {
        People::Who => Ok(saying(draft, TableEvent::Listed, None)),
        People::WhoKeeps => {
            let keeper = draft.kitchen.table.keeper().map(|keeper| keeper.id);
            Ok(saying(draft, TableEvent::KeeperTold, keeper))
        }
        People::Name { who, name } => named(draft, said, who.as_ref(), name),
        People::Introduced { name } => introduced(draft, name),
        People::Nickname { who, name } => nicknamed(draft, said, who.as_ref(), name),
        People::NoNickname { who, name } => not_nicknamed(draft, said, who.as_ref(), name.as_ref()),
        People::Add { names } => {
            let mut done = Done::default();
            for name in names {
                done.answers.extend(add(draft, name)?.answers);
            }
            Ok(done)
        }
        People::Leave { who } => leave(draft, said, who.as_ref()),
        // Who is at the table has nothing to come back to; who is not comes in by the door.
        People::Return => Ok(Done::default()),
        People::Keep { who } => keep(draft, said, who.as_ref()),
    }
}

/// Their own name anybody may choose; another's only the keeper.
fn named(draft: &mut Draft, said: &People, who: Option<&Words>, name: &Words) -> Step {
    let of = whose(draft, said, who)?;
    if of != draft.input.sender {
        keeper_only(draft)?;
    }
    let before = draft.somebody(of).name.clone();
    is_free(draft, Some(of), name)?;
    draft.tell_of(of, PersonalFact::Name(name.text.clone()));
    Ok(saying(draft, TableEvent::Named { before }, Some(of)))
}

/// Whoever is called so already has said nothing new.
fn introduced(draft: &Draft, name: &Words) -> Step {
    if draft.kitchen.table.called(&name.text) == Called::One(draft.input.sender) {
        return Ok(Done::default());
    }
    let (who, name) = (None, name.clone());
    let says = Command::People(People::Name { who, name }).to_string();
    let label = format!("yes, {says}");
    let options = vec![Choice {
        label,
        says: says.clone(),
    }];
    Err(find::ask(About::Confirm, &says, None, options))
}

/// A nickname takes nothing away, so anybody may tell one of anybody.
fn nicknamed(draft: &mut Draft, said: &People, who: Option<&Words>, name: &Words) -> Step {
    let of = whose(draft, said, who)?;
    is_free(draft, Some(of), name)?;
    let name = name.text.clone();
    draft.tell_of(of, PersonalFact::Nickname(name.clone()));
    Ok(saying(draft, TableEvent::Nicknamed { name }, Some(of)))
}

/// Whoever may tell a nickname may take it back.
fn not_nicknamed(
    draft: &mut Draft,
    said: &People,
    who: Option<&Words>,
    name: Option<&Words>,
) -> Step {
    let of = whose(draft, said, who)?;
    let mut known = draft.kitchen.personal.nicknames(of);
    if let Some(name) = name {
        known.retain(|(.., nickname)| key(nickname) == key(&name.text));
    }
    if known.is_empty() {
        // "Ana is not Tom" is talk.
        if !draft.input.addressed && who.is_some() {
            return Ok(Done::default());
        }
        return Err(stop(TableProblem::NoNickname {
            who: draft.somebody(of).name.clone(),
            name: name.map(|name| name.text.clone()),
        }));
    }
    let mut names = Vec::new();
    for (entry, chain, name) in known {
        draft.reverse_fact(entry, chain.tip, chain.told_at);
        names.push(name);
    }
    let event = TableEvent::NicknamesDropped { names };
    Ok(saying(draft, event, Some(of)))
}

/// Nobody else is called so.
fn is_free(draft: &Draft, of: Option<MemberId>, name: &Words) -> Result<(), Stop> {
    let wanted = key(&name.text);
    let mut others = draft.kitchen.members().iter();
    let taken = others.find(|member| {
        let mut names = member.names().chain([member.name.as_str()]);
        Some(member.id) != of && names.any(|other| key(other) == wanted)
    });
    match taken {
        Some(by) => Err(stop(TableProblem::NameTaken {
            name: name.text.clone(),
            by: by.name.clone(),
        })),
        None => Ok(()),
    }
}

/// A guest or a child; or somebody who was here before. Whom the keeper took off, the keeper lets back.
fn add(draft: &mut Draft, name: &Words) -> Step {
    if let Called::One(here) = draft.kitchen.table.called(&name.text) {
        let name = draft.somebody(here).name.clone();
        return Err(stop(TableProblem::IsHere { name }));
    }
    is_free(draft, None, name)?;
    let before = draft.kitchen.table.gone_by_name(&name.text).cloned();
    let (of, event) = match before {
        Some(gone) => {
            if gone.seat == Seat::Removed {
                keeper_only(draft)?;
            }
            draft.tell_of(gone.id, PersonalFact::Here(true));
            (gone.id, TableEvent::Back)
        }
        None => (guest(draft, &name.text), TableEvent::Added),
    };
    Ok(saying(draft, event, Some(of)))
}

/// Oneself at any time; others only by the keeper.
fn leave(draft: &mut Draft, said: &People, who: Option<&Words>) -> Step {
    let of = whose(draft, said, who)?;
    let own = of == draft.input.sender;
    if !own {
        keeper_only(draft)?;
    }
    let mut others = draft.kitchen.members().iter();
    if !others.any(|member| member.chats && member.id != of) {
        return Err(stop(TableProblem::OnlyOne));
    }
    let (fact, event) = match own {
        true => (PersonalFact::Here(false), TableEvent::Left),
        false => (PersonalFact::Removed, TableEvent::Removed),
    };
    draft.tell_of(of, fact);
    Ok(saying(draft, event, Some(of)))
}

/// Handed over by who keeps it, once they or the other have confirmed.
fn keep(draft: &mut Draft, said: &People, who: Option<&Words>) -> Step {
    let of = whose(draft, said, who)?;
    let to = draft.somebody(of);
    let name = to.name.clone();
    if to.keeper {
        return Err(stop(TableProblem::KeepsAlready { name }));
    }
    if !to.chats {
        return Err(stop(TableProblem::DoesNotChat { name }));
    }
    if !(draft.input.confirmed && was_offered(draft, of)) {
        keeper_only(draft)?;
    }
    if !draft.input.confirmed {
        let who = Some(Words::plain(name.clone()));
        let options = vec![Choice {
            label: format!("yes, {name} keeps the household"),
            says: Command::People(People::Keep { who }).to_string(),
        }];
        return Err(find::ask(About::Keeper, &name, None, options));
    }
    draft.tell_of(of, PersonalFact::Keeper);
    Ok(saying(draft, TableEvent::KeeperMade, Some(of)))
}

/// Who keeps the household has said so, and it waits for a yes.
fn was_offered(draft: &Draft, to: MemberId) -> bool {
    let keeper = draft.kitchen.table.keeper().map(|keeper| keeper.id);
    let mut questions = draft.before.questions.iter();
    questions.any(|open| Some(open.member) == keeper && is_offered(draft.before, open, to))
}

/// The question offers to hand the household over to this person.
fn is_offered(kitchen: &Kitchen, open: &OpenQuestion, to: MemberId) -> bool {
    let named = || kitchen.table.called(&open.words) == Called::One(to);
    open.about == About::Keeper.word() && named()
}

/// Whom a question may be answered by: whoever was asked, whom a household is handed over to, and whose plate it is.
pub fn may_answer(kitchen: &Kitchen, open: &OpenQuestion, sender: MemberId) -> bool {
    open.member == sender
        || is_offered(kitchen, open, sender)
        || fix::may_confirm(kitchen, open, sender)
}

fn whose(draft: &mut Draft, said: &People, who: Option<&Words>) -> Result<MemberId, Stop> {
    let Some(words) = who else {
        return Ok(draft.input.sender);
    };
    match person(draft, &words.text) {
        Person::Member(id) => Ok(id),
        Person::Several(_) => find_person(draft, words, |name| {
            let mut said = said.clone();
            if let People::Name { who, .. }
            | People::Nickname { who, .. }
            | People::NoNickname { who, .. }
            | People::Leave { who }
            | People::Keep { who } = &mut said
            {
                *who = Some(Words::plain(name));
            }
            Command::People(said).to_string()
        }),
        Person::Guest(_) | Person::Unknown => {
            let members = draft.kitchen.members().iter();
            let kind = ProblemKind::UnknownName {
                words: words.text.clone(),
                near: members.map(|member| member.name.clone()).collect(),
            };
            Err(Stop::Problem(kind.at(words.span.clone())))
        }
    }
}

/// Whether the sender may do what only who keeps the household may.
pub fn keeper_only(draft: &Draft) -> Result<(), Stop> {
    match draft.kitchen.table.keeper() {
        Some(keeper) if keeper.id != draft.input.sender => {
            let keeper = keeper.name.clone();
            Err(stop(TableProblem::KeeperOnly { keeper }))
        }
        _ => Ok(()),
    }
}

fn stop(problem: TableProblem) -> Stop {
    ProblemKind::Table(problem).into()
}

fn saying(draft: &Draft, event: TableEvent, about: Option<MemberId>) -> Done {
    let (sender, message) = (draft.input.sender, draft.credit);
    Done::saying(answer(&draft.kitchen, sender, event, about, message))
}

fn answer(
    kitchen: &Kitchen,
    reader: MemberId,
    event: TableEvent,
    about: Option<MemberId>,
    message: super::super::ids::MessageId,
) -> Answer {
    let view = |member: &Member| SeatView {
        name: member.name.clone(),
        nicknames: member.nicknames.clone(),
        keeper: member.keeper,
        chats: member.chats,
        you: member.id == reader,
    };
    let about = about.and_then(|id| kitchen.member(id)).map(view);
    Answer::Table(Box::new(TableAnswer {
        event,
        about,
        members: kitchen.members().iter().map(view).collect(),
        message,
    }))
}
