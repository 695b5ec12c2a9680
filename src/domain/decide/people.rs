//! Who eats: people of the household by name, pronouns, guests.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::personal::PersonalFact;
use super::super::problem::ProblemKind;
use super::super::table::Called;
use super::{Stop, find};
use crate::lang::syntax::{Command, Portion, Words};

/// Words for a person: somebody of the household, the sender, the one other person, or a guest.
pub enum Person {
    Member(MemberId),
    /// "guest Tom": added when first named so.
    Guest(String),
    /// These have this name: whose plate it is cannot be told by it.
    Several(Vec<MemberId>),
    Unknown,
}

pub fn person(draft: &Draft, words: &str) -> Person {
    match draft.kitchen.table.called(words) {
        Called::One(only) => return Person::Member(only),
        Called::Several(several) => return Person::Several(several),
        Called::Nobody => {}
    }
    let typed = words.trim();
    match typed.to_lowercase().as_str() {
        "me" | "my" | "mine" | "myself" | "i" => return Person::Member(draft.input.sender),
        "her" | "hers" | "him" | "his" | "them" | "their" | "theirs" => {
            return spoken_of(draft)
                .or_else(|| the_other(draft))
                .map_or(Person::Unknown, Person::Member);
        }
        _ => {}
    }
    match typed.split_once(' ') {
        Some((guest, name)) if guest.eq_ignore_ascii_case("guest") => {
            Person::Guest(name.to_owned())
        }
        None if typed.eq_ignore_ascii_case("guest") => Person::Guest("guest".into()),
        _ => Person::Unknown,
    }
}

/// The one other person whom the last that was done is about.
fn spoken_of(draft: &Draft) -> Option<MemberId> {
    InHand::of(draft.before, draft.input).another()
}

/// The one other person of a household of two.
fn the_other(draft: &Draft) -> Option<MemberId> {
    let mut others = others(draft, &[]);
    let first = others.next()?;
    others.next().is_none().then_some(first)
}

pub fn others<'a>(draft: &'a Draft, named: &'a [MemberId]) -> impl Iterator<Item = MemberId> + 'a {
    let members = draft.kitchen.members().iter();
    let members = members.map(|member| member.id);
    members.filter(|id| *id != draft.input.sender && !named.contains(id))
}

/// The member for these words, or the question who is meant; `says` puts a name into the message.
pub fn find_person(
    draft: &mut Draft,
    words: &Words,
    says: impl Fn(String) -> String,
) -> Result<MemberId, Stop> {
    match person(draft, &words.text) {
        Person::Member(id) => Ok(id),
        Person::Guest(name) => Ok(guest(draft, &name)),
        Person::Several(several) => {
            let name = words.text.clone();
            let problem = ProblemKind::SeveralCalled { name };
            let named = several.iter().filter_map(|id| draft.kitchen.member(*id));
            let options = named.map(|member| Choice {
                says: says(member.name.clone()),
                label: member.name.clone(),
            });
            let options = options.collect();
            Err(find::ask(About::Who, &words.text, Some(problem), options))
        }
        Person::Unknown => {
            let members = draft.kitchen.members().iter();
            let members = members.map(|member| member.name.clone());
            let mut options: Vec<Choice> = members
                .map(|name| Choice {
                    says: says(name.clone()),
                    label: name,
                })
                .collect();
            let is_name = words.text.split(' ').count() <= 2 && !words.text.is_empty();
            if is_name && !PRONOUNS.contains(&words.text.to_lowercase().as_str()) {
                options.push(Choice {
                    label: format!("a guest called {}", words.text),
                    says: says(format!("guest {}", words.text)),
                });
            }
            let problem = ProblemKind::UnknownName {
                words: words.text.clone(),
                near: Vec::new(),
            };
            Err(find::ask(About::Who, &words.text, Some(problem), options))
        }
    }
}

const PRONOUNS: [&str; 7] = ["her", "hers", "him", "his", "them", "their", "theirs"];

/// Whose plate a portion goes on when it is not divided.
pub fn whose(draft: &mut Draft, portion: &Portion) -> Result<MemberId, Stop> {
    let Some(who) = &portion.who else {
        return Ok(draft.input.sender);
    };
    find_person(draft, who, |name| {
        let mut chosen = portion.clone();
        chosen.who = Some(Words::plain(name));
        Command::Portion(chosen).to_string()
    })
}

/// The guest of this name, added when first named; whoever was one before comes back.
pub fn guest(draft: &mut Draft, name: &str) -> MemberId {
    if let Called::One(known) = draft.kitchen.table.called(name) {
        return known;
    }
    let before = draft.kitchen.table.gone_by_name(name);
    match before.filter(|gone| !gone.chats).map(|gone| gone.id) {
        Some(id) => {
            draft.tell_of(id, PersonalFact::Here(true));
            id
        }
        None => draft.guest(name),
    }
}
