//! Who eats: people of the household by name, pronouns, guests.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand::InHand;
use super::super::kitchen::{Choice, Member};
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Stop, find};
use crate::lang::syntax::{Command, Portion, Words};

/// Words for a person: somebody of the household, the sender, the one other person, or a guest.
pub enum Person {
    Member(MemberId),
    /// "guest Tom": added when first named so.
    Guest(String),
    /// Several have this name: whose plate it is cannot be told by it.
    Several,
    Unknown,
}

pub fn person(draft: &Draft, words: &str) -> Person {
    let wanted = key(words);
    let named = |member: &&Member| key(&member.name) == wanted;
    let mut of_name = draft.kitchen.members.iter().filter(named);
    match (of_name.next(), of_name.next()) {
        (Some(only), None) => return Person::Member(only.id),
        (Some(_), Some(_)) => return Person::Several,
        (None, _) => {}
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
    let members = draft.kitchen.members.iter().map(|member| member.id);
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
        Person::Several => {
            let name = words.text.clone();
            Err(ProblemKind::SeveralCalled { name }.into())
        }
        Person::Unknown => {
            let members = draft
                .kitchen
                .members
                .iter()
                .map(|member| member.name.clone());
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

/// The guest of this name, added when first named.
pub fn guest(draft: &mut Draft, name: &str) -> MemberId {
    let wanted = key(name);
    let known = draft
        .kitchen
        .members
        .iter()
        .find(|member| key(&member.name) == wanted);
    match known.map(|member| member.id) {
        Some(id) => id,
        None => draft.guest(name),
    }
}
