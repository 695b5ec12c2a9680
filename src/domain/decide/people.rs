//! Who eats: people by name, and one pan divided among plates so that the parts add up exactly.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::kitchen::{Choice, Member};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Stop, find};
use crate::lang::syntax::{Command, PartSize, Portion, Share, SharePart, Words};

/// Somebody's part of what was weighed.
pub struct Eater {
    pub member: MemberId,
    pub weight: f64,
}

/// How a portion is divided: the weights of the plates, and how many times what was said is on them
/// ("140 dal each" for two is 280).
pub struct Division {
    pub eaters: Vec<Eater>,
    pub times: f64,
}

/// Words for a person: somebody of the household, the sender, the one other person, or a guest.
pub enum Person {
    Member(MemberId),
    /// "guest Tom": added when first named so.
    Guest(String),
    Unknown,
}

pub fn person(draft: &Draft, words: &str) -> Person {
    let wanted = key(words);
    let named = |member: &&Member| key(&member.name) == wanted;
    if let Some(found) = draft.kitchen.members.iter().find(named) {
        return Person::Member(found.id);
    }
    let typed = words.trim();
    match typed.to_lowercase().as_str() {
        "me" | "my" | "mine" | "myself" | "i" => return Person::Member(draft.input.sender),
        "her" | "hers" | "him" | "his" | "them" | "their" | "theirs" => {
            return the_other(draft).map_or(Person::Unknown, Person::Member);
        }
        _ => {}
    }
    match typed.split_once(' ') {
        Some((guest, name)) if guest.eq_ignore_ascii_case("guest") => {
            Person::Guest(name.to_owned())
        }
        _ => Person::Unknown,
    }
}

/// The one other person of a household of two.
fn the_other(draft: &Draft) -> Option<MemberId> {
    let mut others = others(draft, &[]);
    let first = others.next()?;
    others.next().is_none().then_some(first)
}

fn others<'a>(draft: &'a Draft, named: &'a [MemberId]) -> impl Iterator<Item = MemberId> + 'a {
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
        Person::Guest(name) => Ok(draft.guest(&name)),
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

/// Divide a portion of this total.
pub fn divide(draft: &mut Draft, portion: &Portion, total: Mass) -> Result<Division, Stop> {
    let whose = whose(draft, portion)?;
    let alone = Division {
        eaters: vec![Eater {
            member: whose,
            weight: 1.0,
        }],
        times: 1.0,
    };
    match &portion.share {
        None => Ok(alone),
        Some(Share::Equally { people, with }) => {
            let eaters = equally(draft, portion, whose, *people, with)?;
            Ok(Division { eaters, times: 1.0 })
        }
        Some(Share::Each { people, with }) => {
            let all = draft.kitchen.members.len().max(1 + with.len()) as u32;
            let people = people.unwrap_or(if with.is_empty() {
                all
            } else {
                1 + with.len() as u32
            });
            let eaters = equally(draft, portion, whose, people, with)?;
            Ok(Division {
                eaters,
                times: f64::from(people),
            })
        }
        Some(Share::Parts(parts)) => {
            let eaters = parts_of(draft, portion, parts, total)?;
            Ok(Division { eaters, times: 1.0 })
        }
    }
}

fn equally(
    draft: &mut Draft,
    portion: &Portion,
    first: MemberId,
    people: u32,
    with: &[Words],
) -> Result<Vec<Eater>, Stop> {
    let mut members = vec![first];
    for (at, words) in with.iter().enumerate() {
        members.push(named_in_share(draft, portion, at, words)?);
    }
    fill_up(draft, portion, &mut members, people as usize)?;
    Ok(members
        .into_iter()
        .map(|member| Eater {
            member,
            weight: 1.0,
        })
        .collect())
}

/// Those who were not named are the rest of the household, if their number fits; beyond it, guests.
fn fill_up(
    draft: &mut Draft,
    portion: &Portion,
    members: &mut Vec<MemberId>,
    people: usize,
) -> Result<(), Stop> {
    let wanted = people.saturating_sub(members.len());
    let rest: Vec<MemberId> = others(draft, members).collect();
    if rest.len() > wanted && wanted > 0 {
        let options = rest.iter().filter_map(|id| {
            let name = draft.kitchen.member(*id)?.name.clone();
            let mut chosen = portion.clone();
            match &mut chosen.share {
                Some(Share::Equally { with, .. } | Share::Each { with, .. }) => {
                    with.push(Words::plain(name.clone()));
                }
                Some(Share::Parts(_)) | None => return None,
            }
            Some(Choice {
                label: name,
                says: Command::Portion(chosen).to_string(),
            })
        });
        return Err(find::ask(About::Who, "who else?", None, options.collect()));
    }
    members.extend(rest.into_iter().take(wanted));
    for number in members.len()..people {
        let name = if number == 1 {
            "guest".to_owned()
        } else {
            format!("guest {number}")
        };
        let known = draft
            .kitchen
            .members
            .iter()
            .find(|member| member.name == name);
        let id = known.map(|member| member.id);
        members.push(id.unwrap_or_else(|| draft.guest(&name)));
    }
    Ok(())
}

fn named_in_share(
    draft: &mut Draft,
    portion: &Portion,
    at: usize,
    words: &Words,
) -> Result<MemberId, Stop> {
    find_person(draft, words, |name| {
        let mut chosen = portion.clone();
        match &mut chosen.share {
            Some(Share::Equally { with, .. } | Share::Each { with, .. }) => {
                with[at] = Words::plain(name);
            }
            Some(Share::Parts(parts)) => parts[at].who = Some(Words::plain(name)),
            None => {}
        }
        Command::Portion(chosen).to_string()
    })
}

/// Parts by grams or by share; what they leave over is for the one person who was not named.
fn parts_of(
    draft: &mut Draft,
    portion: &Portion,
    parts: &[SharePart],
    total: Mass,
) -> Result<Vec<Eater>, Stop> {
    let mut eaters: Vec<Eater> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        let weight = match part.size {
            PartSize::Of(share) => share,
            PartSize::Grams(grams) => grams / total.grams(),
        };
        if !weight.is_finite() || weight <= 0.0 {
            let text = format!("{weight}");
            return Err(ProblemKind::NotAMass { text }.into());
        }
        let member = match &part.who {
            Some(words) => named_in_share(draft, portion, at, words)?,
            // A second part without a name is the other person's.
            None if eaters
                .iter()
                .any(|eater| eater.member == draft.input.sender) =>
            {
                remaining_person(draft, &eaters)?
            }
            None => draft.input.sender,
        };
        eaters.push(Eater { member, weight });
    }
    let given: f64 = eaters.iter().map(|eater| eater.weight).sum();
    // Half a gram of rounding is no rest.
    let slack = 0.5 / total.grams();
    if given > 1.0 + slack {
        return Err(ProblemKind::TooMuch {
            name: "the parts".into(),
            asked: total.share(given),
            left: total,
        }
        .into());
    }
    if given < 1.0 - slack {
        let member = remaining_person(draft, &eaters)?;
        eaters.push(Eater {
            member,
            weight: 1.0 - given,
        });
    }
    Ok(eaters)
}

fn remaining_person(draft: &mut Draft, eaters: &[Eater]) -> Result<MemberId, Stop> {
    let named: Vec<MemberId> = eaters.iter().map(|eater| eater.member).collect();
    // The sender may be the one who was not named: "290 of 500 dal for Ana".
    if !named.contains(&draft.input.sender) {
        return Ok(draft.input.sender);
    }
    let rest: Vec<MemberId> = others(draft, &named).collect();
    match rest.as_slice() {
        [only] => Ok(*only),
        [] => Ok(draft.guest("guest")),
        _ => {
            let near = rest.iter().filter_map(|id| draft.kitchen.member(*id));
            Err(ProblemKind::UnknownName {
                words: "the other part".into(),
                near: near.map(|member| member.name.clone()).collect(),
            }
            .into())
        }
    }
}
