//! Tellings made into plates: what is a whole and what are its parts, what names a later amount goes by.

use super::content::{Content, Size};
use super::parts::{
    PART_GRAMS_MIN, by_ratio, compared, part, remaining, shares, sized, sized_for_all, small,
};
use super::party::{Role, Who};
use super::pot::{from_pot, of_one_pot};
use super::related::relate;
use super::telling::Telling;
use crate::lang::syntax::{Amount, Eater, Item, PartSize, Party, Portion, Share, SharePart, Words};

/// The plates that the tellings describe; `None` when they leave something open.
pub fn plates(mut tellings: Vec<Telling>) -> Option<Vec<Portion>> {
    tellings.retain(|telling| !telling.nothing || telling.content.is_some());
    relate(&mut tellings)?;
    let with_content = tellings
        .iter()
        .filter(|telling| telling.content.is_some())
        .count();
    if with_content == 0 {
        return None;
    }
    let sized = |telling: &Telling| {
        matches!(
            telling.content,
            Some(Content::Sizes(_) | Content::Part(_)) | None
        )
    };
    let told = tellings.iter().filter(|telling| !sized(telling)).count();
    let sizes = tellings.len() - told;
    match (told, sizes) {
        (0, _) => None,
        (1, _) => around_one(tellings),
        (_, 0) => apart(tellings),
        _ => inheriting(tellings),
    }
}

/// Every telling has its own things.
fn apart(tellings: Vec<Telling>) -> Option<Vec<Portion>> {
    if let Some(whole) = of_one_pot(&tellings) {
        return Some(whole);
    }
    let mut out = Vec::new();
    for telling in tellings {
        out.extend(plate(telling)?);
    }
    Some(out)
}

/// One telling, by itself: a plate for each, or one amount among several.
fn plate(telling: Telling) -> Option<Vec<Portion>> {
    let Some(Content::Items(items)) = telling.content.clone() else {
        return around_one(vec![telling]);
    };
    if telling.ratio.is_some() {
        return None;
    }
    let who = telling.who.clone().unwrap_or(Who::sender());
    if matches!(who, Who::Others(_)) {
        return None;
    }
    if telling.split.is_some()
        && telling.each
        && telling.who.is_none()
        && telling.split.flatten().is_none()
    {
        // "3 x 140 barley, one each"
        let everyone = Share::Equally(Party::default());
        return Some(vec![portion(&telling, items, None, Some(everyone))]);
    }
    if let Some(halves) = telling.split.as_ref().filter(|_| !telling.each) {
        let people = halves.or(None);
        let share = Share::Equally(sharers(&telling, people)?);
        return Some(vec![portion(&telling, items, None, Some(share))]);
    }
    let said_of_all = telling.who.is_none() && telling.each;
    let both = matches!((&who, telling.role), (Who::Count(2), Some(Role::Subject)));
    if telling.each || both {
        let of_pot = items
            .iter()
            .any(|item| matches!(item.amount, Amount::Share(_)));
        return Some(match &who {
            Who::Named(_) if of_pot => vec![portion(
                &telling,
                items,
                None,
                Some(Share::Each(who.party())),
            )],
            _ if said_of_all => vec![portion(
                &telling,
                items,
                None,
                Some(Share::Each(counted(&telling))),
            )],
            Who::Named(named) => named
                .iter()
                .map(|eater| portion(&telling, items.clone(), Some(eater.clone()), None))
                .collect(),
            who => vec![portion(
                &telling,
                items,
                None,
                Some(Share::Each(who.party())),
            )],
        });
    }
    if let Some(eater) = who.one() {
        if telling.role == Some(Role::With) {
            let party = sharers(&telling, None)?;
            return Some(vec![portion(
                &telling,
                items,
                None,
                Some(Share::Equally(party)),
            )]);
        }
        if telling.role == Some(Role::Between) {
            return None;
        }
        return Some(vec![portion(&telling, items, Some(eater.clone()), None)]);
    }
    let together =
        matches!(telling.role, Some(Role::For | Role::Between | Role::With)) || telling.closed;
    let share = match together {
        true => Share::Equally(sharers(&telling, None)?),
        false => Share::Unclear(who.party()),
    };
    Some(vec![portion(&telling, items, None, Some(share))])
}

/// "140 dal each x3"
fn counted(telling: &Telling) -> Party {
    Party {
        named: Vec::new(),
        people: telling.split.flatten(),
    }
}

/// Who shares equally: those who were named, and the sender if it was "with" them.
fn sharers(telling: &Telling, people: Option<u32>) -> Option<Party> {
    let Some(who) = &telling.who else {
        return people.map(|people| Party {
            named: Vec::new(),
            people: Some(people),
        });
    };
    let mut party = match people {
        Some(people) if !matches!(who, Who::Everyone) => {
            match (who.clone().and(Who::Count(people)), who) {
                (Some(both), _) => both.party(),
                (None, Who::Named(named)) if named.len() == 1 => Party {
                    named: named.clone(),
                    people: None,
                },
                (None, Who::Named(named)) if named.len() > people as usize && people == 2 => {
                    Party {
                        named: named.clone(),
                        people: None,
                    }
                }
                _ => return None,
            }
        }
        _ => who.party(),
    };
    let alone = party.named.len() == 1 && party.people.is_none();
    let with = telling.role == Some(Role::With);
    if (alone || with) && !party.named.is_empty() && !party.named.contains(&None) {
        party.named.insert(0, None);
    }
    (party.named.len() != 1 || party.people.is_some()).then_some(party)
}

pub fn portion(
    telling: &Telling,
    items: Vec<Item>,
    eater: Option<Eater>,
    share: Option<Share>,
) -> Portion {
    Portion {
        items,
        who: eater.flatten(),
        day: telling.day.clone(),
        meal: telling.meal,
        share,
        ..Portion::default()
    }
}

/// One telling names what was eaten; the others only say how much of it.
fn around_one(tellings: Vec<Telling>) -> Option<Vec<Portion>> {
    let at = tellings.iter().position(|telling| {
        !matches!(
            telling.content,
            Some(Content::Sizes(_) | Content::Part(_)) | None
        )
    })?;
    let told = tellings[at].clone();
    let others: Vec<&Telling> = tellings
        .iter()
        .enumerate()
        .filter(|(place, _)| *place != at)
        .map(|(_, telling)| telling)
        .collect();
    let ratio = tellings.iter().find_map(|telling| telling.ratio.clone());
    match told.content.clone()? {
        Content::Items(items) => {
            if let Some(ratio) = ratio {
                return by_ratio(&told, &others, items, &ratio);
            }
            if others.is_empty() {
                return plate(told);
            }
            whole(&told, &others, items)
        }
        Content::Of(size, items) => {
            if let Some(ratio) = ratio {
                return by_ratio(&told, &others, items, &ratio);
            }
            let mut parts = vec![part(told.who.clone().unwrap_or(Who::sender()), &size)?];
            for other in others {
                parts.push(sized(other)?);
            }
            Some(vec![portion(&told, items, None, Some(shares(parts)?))])
        }
        Content::Name(name) => of_name(&told, &others, name),
        Content::Sizes(_) | Content::Part(_) => None,
    }
}

/// A whole with its parts, or a plate whose name others go by.
fn whole(told: &Telling, others: &[&Telling], items: Vec<Item>) -> Option<Vec<Portion>> {
    let pot = items.len() == 1 && matches!(items[0].amount, Amount::Share(_));
    let owner = told.who.as_ref().and_then(Who::one).cloned();
    // "half the beans for me and half for Tom", "Ana took 400 rice and I finished the rest"
    if let (Some(owner), true) = (&owner, pot || others.iter().any(|other| other.finishes)) {
        let own = match &items[0].amount {
            Amount::Share(part) => PartSize::Of(*part),
            Amount::Bare(grams) | Amount::Mass(grams) => PartSize::Grams(*grams),
            _ => return None,
        };
        let own = SharePart {
            who: owner.clone(),
            size: own,
        };
        return from_pot(told, own, others, items);
    }
    if owner.is_some() || told.each {
        return goes_by_name(told, others, items);
    }
    if others.iter().all(|other| other.content.is_none()) {
        // "500 soup, 3 ways: me, Ana, Tom"
        let mut told = told.clone();
        for other in others {
            told.who = match (told.who.take(), other.who.clone()) {
                (Some(one), Some(more)) => Some(one.and(more)?),
                (one, more) => one.or(more),
            };
            told.split = told.split.or(other.split);
            told.each |= other.each;
            told.role = told.role.or(other.role);
        }
        return plate(told);
    }
    if let [other] = others
        && let Some(parts) = compared(told.who.as_ref(), other)
    {
        return Some(vec![portion(told, items, None, Some(shares(parts)?))]);
    }
    let mut parts: Vec<SharePart> = Vec::new();
    for other in others {
        parts.extend(sized_for_all(other)?);
    }
    let of_it = matches!(others[0].content, Some(Content::Part(_)));
    let lone = !of_it
        && parts.len() == 1
        && matches!(parts[0].size, PartSize::Grams(_))
        && parts[0].who.is_some()
        && told.who.is_none();
    if lone || parts.iter().any(small) {
        return None;
    }
    remaining(told.who.as_ref(), &mut parts)?;
    Some(vec![portion(told, items, None, Some(shares(parts)?))])
}

/// "me 130 soup, Ana 150": of the same.
fn goes_by_name(told: &Telling, others: &[&Telling], items: Vec<Item>) -> Option<Vec<Portion>> {
    let [item] = items.as_slice() else {
        return None;
    };
    let mut out = plate(told.clone())?;
    for other in others {
        out.extend(named(other, &item.name)?);
    }
    Some(out)
}

/// A size of what was named before.
fn named(telling: &Telling, name: &Words) -> Option<Vec<Portion>> {
    let Some(Content::Sizes(sizes)) = &telling.content else {
        return None;
    };
    let [Size::Amount(amount)] = sizes.as_slice() else {
        return None;
    };
    if matches!(amount, Amount::Bare(grams) if *grams < PART_GRAMS_MIN) {
        return None;
    }
    let item = Item {
        amount: amount.clone(),
        name: name.clone(),
        container: None,
        span: name.span.clone(),
    };
    plate(Telling {
        content: Some(Content::Items(vec![item])),
        ..telling.clone()
    })
}

/// "dal: Ana 140, Tom 165", "the beans: 2/3 me, 1/3 Tom", "finished the parsnips with Tom"
fn of_name(told: &Telling, others: &[&Telling], name: Words) -> Option<Vec<Portion>> {
    let pot = |amount| Item {
        amount,
        span: name.span.clone(),
        name: name.clone(),
        container: None,
    };
    if others.is_empty() {
        let all = told.finishes || told.split.is_some();
        let told = Telling {
            content: Some(Content::Items(vec![pot(Amount::Share(1.0))])),
            ..told.clone()
        };
        return if all { plate(told) } else { None };
    }
    if told.finishes {
        let own = SharePart {
            who: told.who.clone().unwrap_or(Who::sender()).one()?.clone(),
            size: PartSize::Rest,
        };
        return from_pot(told, own, others, vec![pot(Amount::Share(1.0))]);
    }
    let masses = others.iter().all(|other| {
        matches!(&other.content, Some(Content::Sizes(sizes)) if matches!(sizes.as_slice(), [Size::Amount(_)]))
    });
    if masses {
        let mut out = Vec::new();
        for other in others {
            let mut other = (*other).clone();
            if other.who.is_none() {
                other.who = told.who.clone();
            }
            out.extend(named(&other, &name)?);
        }
        return Some(out);
    }
    let mut parts = Vec::new();
    for other in others {
        parts.push(sized(other)?);
    }
    let own = parts.remove(0);
    let rest: Vec<SharePart> = parts;
    let whole_pot = vec![pot(Amount::Share(1.0))];
    let mut all = vec![own];
    all.extend(rest);
    let sum: f64 = all
        .iter()
        .filter_map(|part| match part.size {
            PartSize::Of(share) => Some(share),
            _ => None,
        })
        .sum();
    let told_all = all.iter().all(|part| matches!(part.size, PartSize::Of(_)));
    if told_all && (sum - 1.0).abs() > 1e-3 {
        return None;
    }
    Some(vec![portion(told, whole_pot, None, Some(shares(all)?))])
}

/// Several things, and amounts that go by the last name before them.
fn inheriting(tellings: Vec<Telling>) -> Option<Vec<Portion>> {
    let mut out = Vec::new();
    let mut last: Option<Words> = None;
    for telling in &tellings {
        match &telling.content {
            Some(Content::Items(items)) => {
                last = match items.as_slice() {
                    [item] if telling.who.as_ref().is_some_and(|who| who.one().is_some()) => {
                        Some(item.name.clone())
                    }
                    _ => None,
                };
                out.extend(plate(telling.clone())?);
            }
            Some(Content::Sizes(_)) => out.extend(named(telling, last.as_ref()?)?),
            _ => return None,
        }
    }
    Some(out)
}
