//! One pan divided among plates, so that the parts add up exactly.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand;
use super::super::kitchen::Choice;
use super::super::ledger::Account;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::people::{find_person, guest, others, whose};
use super::{Stop, find};
use crate::lang::syntax::{
    COUNTS, Command, OTHERS, PartSize, Party, Portion, Share, SharePart, THOSE_EATING, Words,
};

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
        Some(Share::Equally(party)) => {
            let eaters = equally(draft, portion, party)?;
            Ok(Division { eaters, times: 1.0 })
        }
        Some(Share::Each(party)) => {
            let eaters = equally(draft, portion, party)?;
            let times = eaters.len() as f64;
            Ok(Division { eaters, times })
        }
        Some(Share::Unclear(party)) => each_or_between(draft, portion, party, alone),
        Some(Share::Whose(other)) => Err(theirs_or_own(portion, other)),
        Some(Share::Parts(parts)) => {
            let eaters = parts_of(draft, portion, parts, total)?;
            Ok(Division { eaters, times: 1.0 })
        }
    }
}

/// "Ana and Tom had 300 dal": as much for each, or so much between them?
fn each_or_between(
    draft: &mut Draft,
    portion: &Portion,
    party: &Party,
    alone: Division,
) -> Result<Division, Stop> {
    if members(draft, portion, party)?.len() < 2 {
        return Ok(alone);
    }
    let option = |label: &str, share: Share| Choice {
        label: label.into(),
        says: Command::Portion(Portion {
            share: Some(share),
            ..portion.clone()
        })
        .to_string(),
    };
    let options = vec![
        option("so much each", Share::Each(party.clone())),
        option("so much between them", Share::Equally(party.clone())),
    ];
    Err(find::ask(About::HowMuch, &names(portion), None, options))
}

/// "150 barley for Tom and 35 salsa": what follows is his too, or the sender's?
fn theirs_or_own(portion: &Portion, other: &Words) -> Stop {
    let option = |label: String, who: Option<Words>| Choice {
        label,
        says: Command::Portion(Portion {
            share: None,
            who,
            ..portion.clone()
        })
        .to_string(),
    };
    let options = vec![
        option(format!("for {other}"), Some(other.clone())),
        option("for me".into(), None),
    ];
    find::ask(About::Who, &names(portion), None, options)
}

fn names(portion: &Portion) -> String {
    let names = portion.items.iter().map(|item| item.name.text.as_str());
    names.collect::<Vec<&str>>().join(", ")
}

fn equally(draft: &mut Draft, portion: &Portion, party: &Party) -> Result<Vec<Eater>, Stop> {
    let members = members(draft, portion, party)?;
    let eater = |member| Eater {
        member,
        weight: 1.0,
    };
    Ok(members.into_iter().map(eater).collect())
}

/// Everybody at the pan, each once.
fn members(draft: &mut Draft, portion: &Portion, party: &Party) -> Result<Vec<MemberId>, Stop> {
    let sender = draft.input.sender;
    let mut members: Vec<MemberId> = Vec::new();
    for (at, eater) in party.named.iter().enumerate() {
        let id = match eater {
            None => sender,
            Some(words) => named_in_share(draft, portion, at, words)?,
        };
        if !members.contains(&id) {
            members.push(id);
        }
    }
    match party.people {
        None if members.is_empty() => {
            members.push(sender);
            members.extend(others(draft, &[]));
        }
        None => {}
        Some(THOSE_EATING) => match eating(draft) {
            those if those.len() > 1 => members = those,
            _ => {
                members.push(sender);
                members.extend(others(draft, &[]));
            }
        },
        Some(people) => {
            if !members.contains(&sender) {
                members.insert(0, sender);
            }
            fill_up(draft, portion, &mut members, people as usize)?;
        }
    }
    Ok(members)
}

/// Those of whom the sender has just written down something; nobody else is known to be at the table.
fn eating(draft: &Draft) -> Vec<MemberId> {
    let written: Vec<Account> = draft
        .kitchen
        .recent
        .iter()
        .filter(|act| act.stands() && in_hand::holds(draft.input, act.sent_at))
        .flat_map(|act| act.standing())
        .map(|entry| entry.entry.to)
        .collect();
    let plates = draft.kitchen.plates.iter();
    let full = plates.filter(|plate| written.contains(&Account::Plate(plate.id)));
    let mut those: Vec<MemberId> = full
        .filter(|plate| !plate.portions.is_empty())
        .map(|plate| plate.member)
        .collect();
    those.sort_unstable();
    those.dedup();
    those
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
            let party = party_of(&mut chosen)?;
            party.named.push(Some(Words::plain(name.clone())));
            if !party.named.contains(&None) {
                party.named.insert(0, None);
            }
            party.people = party
                .people
                .filter(|people| *people as usize > party.named.len());
            Some(Choice {
                label: name,
                says: Command::Portion(chosen).to_string(),
            })
        });
        return Err(find::ask(
            About::Who,
            "the other part",
            None,
            options.collect(),
        ));
    }
    members.extend(rest.into_iter().take(wanted));
    for number in members.len()..people {
        let name = match number {
            1 => "guest".to_owned(),
            _ => format!("guest {number}"),
        };
        members.push(guest(draft, &name));
    }
    Ok(())
}

fn party_of(portion: &mut Portion) -> Option<&mut Party> {
    match &mut portion.share {
        Some(Share::Equally(party) | Share::Each(party) | Share::Unclear(party)) => Some(party),
        Some(Share::Parts(_) | Share::Whose(_)) | None => None,
    }
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
            Some(Share::Parts(parts)) => parts[at].who = Some(Words::plain(name)),
            _ => {
                if let Some(party) = party_of(&mut chosen) {
                    party.named[at] = Some(Words::plain(name));
                }
            }
        }
        Command::Portion(chosen).to_string()
    })
}

/// Parts by grams or by share. What they leave over is asked about, unless one part was told and one person
/// can have the other.
fn parts_of(
    draft: &mut Draft,
    portion: &Portion,
    parts: &[SharePart],
    total: Mass,
) -> Result<Vec<Eater>, Stop> {
    let mut eaters: Vec<Eater> = Vec::new();
    let mut resting: Vec<MemberId> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        let members = match &part.who {
            Some(words) if is_others(words) => {
                let named = named(parts, draft, portion)?;
                counted(draft, &named, words)?
            }
            Some(words) => vec![named_in_share(draft, portion, at, words)?],
            // A second part without a name is the other person's.
            None if eaters
                .iter()
                .any(|eater| eater.member == draft.input.sender) =>
            {
                vec![remaining_person(draft, &eaters)?]
            }
            None => vec![draft.input.sender],
        };
        let weight = match part.size {
            PartSize::Of(share) => share,
            PartSize::Grams(grams) => grams / total.grams(),
            PartSize::Rest => {
                resting.extend(members);
                continue;
            }
        };
        if !weight.is_finite() || weight <= 0.0 {
            let text = format!("{weight}");
            return Err(ProblemKind::NotAMass { text }.into());
        }
        let among = members.len() as f64;
        eaters.extend(members.into_iter().map(|member| Eater {
            member,
            weight: weight / among,
        }));
    }
    let given: f64 = eaters.iter().map(|eater| eater.weight).sum();
    // Half a gram of rounding is no rest.
    let slack = 0.5 / total.grams();
    let over = given > 1.0 + slack || !resting.is_empty() && given > 1.0 - slack;
    if over {
        return Err(ProblemKind::TooMuch {
            name: "the parts".into(),
            asked: total.share(given),
            left: total,
        }
        .into());
    }
    let rest = 1.0 - given;
    if !resting.is_empty() {
        let among = resting.len() as f64;
        eaters.extend(resting.into_iter().map(|member| Eater {
            member,
            weight: rest / among,
        }));
    } else if rest > slack {
        if eaters.len() > 1 {
            return Err(whose_rest(
                draft,
                portion,
                parts,
                &eaters,
                total.share(rest),
            ));
        }
        let member = remaining_person(draft, &eaters)?;
        eaters.push(Eater {
            member,
            weight: rest,
        });
    }
    Ok(eaters)
}

/// Those whom the parts name.
fn named(parts: &[SharePart], draft: &mut Draft, portion: &Portion) -> Result<Vec<MemberId>, Stop> {
    let mut named = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        match &part.who {
            Some(words) if is_others(words) => {}
            Some(words) => named.push(named_in_share(draft, portion, at, words)?),
            None => named.push(draft.input.sender),
        }
    }
    Ok(named)
}

/// "the others", "the other two"
fn is_others(words: &Words) -> bool {
    words.text == OTHERS || count(words).is_some()
}

fn count(words: &Words) -> Option<usize> {
    let said = words.text.strip_prefix("the other ")?;
    let known = COUNTS.iter().find(|(word, _)| *word == said)?;
    Some(known.1)
}

/// Those who are not named, if they are as many as was said; beyond the household, guests.
fn counted(draft: &mut Draft, named: &[MemberId], words: &Words) -> Result<Vec<MemberId>, Stop> {
    let mut members = others_than(draft, named);
    let Some(count) = count(words) else {
        return Ok(members);
    };
    if members.len() > count {
        let near = members.iter().filter_map(|id| draft.kitchen.member(*id));
        return Err(ProblemKind::UnknownName {
            words: words.text.clone(),
            near: near.map(|member| member.name.clone()).collect(),
        }
        .into());
    }
    for number in members.len()..count {
        members.push(guest(draft, &format!("guest {number}")));
    }
    Ok(members)
}

fn others_than(draft: &Draft, named: &[MemberId]) -> Vec<MemberId> {
    let members = draft.kitchen.members().iter().map(|member| member.id);
    members.filter(|id| !named.contains(id)).collect()
}

/// "600 soup, me 300, Tom 200": the other 100 g are somebody's, or stayed in the pot.
fn whose_rest(
    draft: &Draft,
    portion: &Portion,
    parts: &[SharePart],
    eaters: &[Eater],
    rest: Mass,
) -> Stop {
    let mut candidates = others_than(
        draft,
        &eaters.iter().map(|eater| eater.member).collect::<Vec<_>>(),
    );
    candidates.extend(eaters.iter().map(|eater| eater.member));
    let mut options: Vec<Choice> = candidates
        .into_iter()
        .filter_map(|id| {
            let member = draft.kitchen.member(id)?;
            let mut parts = parts.to_vec();
            let sender = id == draft.input.sender;
            let who = (!sender).then(|| Words::plain(member.name.clone()));
            match eaters.iter().position(|eater| eater.member == id) {
                Some(at) => parts[at].size = PartSize::Rest,
                None => parts.push(SharePart {
                    who,
                    size: PartSize::Rest,
                }),
            }
            Some(Choice {
                label: member.name.clone(),
                says: says_parts(portion, parts),
            })
        })
        .collect();
    options.truncate(4);
    find::ask(
        About::Who,
        &format!("the other {} g", rest.grams()),
        None,
        options,
    )
}

fn says_parts(portion: &Portion, parts: Vec<SharePart>) -> String {
    let chosen = Portion {
        share: Some(Share::Parts(parts)),
        ..portion.clone()
    };
    Command::Portion(chosen).to_string()
}

fn remaining_person(draft: &mut Draft, eaters: &[Eater]) -> Result<MemberId, Stop> {
    let named: Vec<MemberId> = eaters.iter().map(|eater| eater.member).collect();
    // The sender may be the one who was not named: "half of 500 dal for Ana".
    if !named.contains(&draft.input.sender) {
        return Ok(draft.input.sender);
    }
    let rest: Vec<MemberId> = others(draft, &named).collect();
    match rest.as_slice() {
        [only] => Ok(*only),
        [] => Ok(guest(draft, "guest")),
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
