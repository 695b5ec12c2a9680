//! Tellings made into plates: which dish each is of, what is a whole and what are its parts.
//!
//! A telling that names a dish opens a pan (`pan.rs`); those that only say how much belong to it. Of a pan with a
//! whole, the parts are told or worked out (`solve.rs`); of one without, each plate goes by the name of the dish
//! (`by_name.rs`). A ratio is read in the order of the people (`ratio.rs`).

use super::by_name::{Entry, by_name};
use super::content::Content;
use super::pan::{Pan, pans};
use super::party::{Role, Who};
use super::ratio::by_ratio;
use super::size::Size;
use super::solve::{Claim, Whole};
use super::telling::Telling;
use crate::lang::syntax::{Amount, Eater, Item, Party, Portion, Share, THOSE_EATING, Words};

/// The plates that the tellings describe; `None` when they leave something open.
pub fn plates(mut tellings: Vec<Telling>) -> Option<Vec<Portion>> {
    let skipped = |telling: &Telling| telling.nothing && telling.content.is_none();
    let skips = tellings
        .iter()
        .any(|telling| skipped(telling) && telling.who.is_some());
    tellings.retain(|telling| !skipped(telling));
    let mut out: Vec<Portion> = Vec::new();
    for pan in pans(tellings)? {
        let more = portions(&pan, &out)?;
        out.extend(more);
    }
    // "160 each, Tom skipped", "everyone had 150 dal bar Ana who had 90": who the others are, the books alone know.
    let apart = skips || out.iter().any(|portion| is_told_apart(portion, &out));
    (!apart || !out.iter().any(is_for_everyone)).then_some(out)
}

/// Of a dish that everyone had, somebody had another amount.
fn is_told_apart(portion: &Portion, all: &[Portion]) -> bool {
    let name = |item: &Item| item.name.text.to_lowercase();
    let theirs: Vec<String> = portion.items.iter().map(name).collect();
    let of_all = all.iter().filter(|other| is_for_everyone(other));
    let mut of_all = of_all.flat_map(|other| &other.items).map(name);
    !is_for_everyone(portion) && of_all.any(|name| theirs.contains(&name))
}

fn is_for_everyone(portion: &Portion) -> bool {
    matches!(&portion.share, Some(Share::Equally(party) | Share::Each(party)) if party.named.is_empty())
}

fn portions(pan: &Pan, before: &[Portion]) -> Option<Vec<Portion>> {
    let told = &pan.told;
    let ratio = || pan.all().find_map(|telling| telling.ratio.clone());
    match told.content.clone()? {
        Content::Items(items) => match ratio() {
            Some(ratio) => by_ratio(told, &pan.others(), items, &ratio),
            None if pan.is_alone() => plate(told.clone()),
            None => of_items(pan, items),
        },
        Content::Of(size, items) => match ratio() {
            Some(ratio) => by_ratio(told, &pan.others(), items, &ratio),
            None => {
                let own = Claim::of(told.who.clone().unwrap_or(Who::sender()), size);
                Whole::of(items, told.giver.clone()).divided(told, pan.claims(Some(own))?)
            }
        },
        Content::Name(name) => of_name(pan, name, before),
        Content::Sizes(_) | Content::Part(_) | Content::Sized(..) => None,
    }
}

/// Things with their amounts, and others that say how much of them.
fn of_items(pan: &Pan, items: Vec<Item>) -> Option<Vec<Portion>> {
    let told = &pan.told;
    let pot = items.len() == 1 && matches!(items[0].amount, Amount::Share(_));
    let owner = told.owner();
    // "I took 450 dal, a third is for Tom, the rest is mine": nobody has a rest beside all of his own.
    let own_rest = |other: &&Telling| is_remainder(other) && other.owner() == owner;
    if owner.is_some() && !pot && pan.others().iter().any(own_rest) {
        return Whole::of(items, told.who.clone()).divided(told, pan.claims(None)?);
    }
    // "Ana took 400 rice, 100 for Tom and the rest is hers": nor Tom, so it is not told whose.
    let others = pan.others();
    let rests = others.iter().filter(|other| is_remainder(other));
    let mut rests = rests.filter_map(|other| other.owner());
    let parted = |rest: &Eater| {
        let part = |other: &&&Telling| other.owner().as_ref() == Some(rest) && !is_remainder(other);
        others.iter().any(|other| part(&other))
    };
    if rests.any(|rest| parted(&rest)) {
        return None;
    }
    // "tom wasnt hungry, of the 600 chilli he only had 220, rest me": the 600 are not his.
    if owner.as_ref().is_some_and(&parted) && others.iter().any(is_remainder) {
        return None;
    }
    // "half the beans for me and half for Tom", "Ana took 400 rice and I finished the rest"
    if let (Some(owner), true) = (&owner, pot || pan.others().iter().any(is_remainder)) {
        let own = match &items[0].amount {
            Amount::Share(part) => Size::Part(*part),
            amount => Size::Amount(amount.clone()),
        };
        let own = Claim::of(Who::Named(vec![owner.clone()]), own);
        let whole = Whole::pot(items.into_iter().next()?);
        return whole.divided(told, pan.claims(Some(own))?);
    }
    // "I had 280 chilli but Tom ate 80 of it"
    if owner.is_some() && pan.others().iter().all(|other| other.takes_of_it()) {
        return Whole::of(items, told.who.clone()).divided(told, pan.claims(None)?);
    }
    // "yesterday 140 dal, today 120"
    let other_day = |other: &&Telling| {
        other.day.is_some() && other.day != told.day
            || other.meal.is_some() && other.meal != told.meal
    };
    if pan.others().iter().any(other_day) {
        return by_name(pan.entries(), &[]);
    }
    let refers = pan.others().iter().all(|other| other.refers_to_that());
    if owner.is_some() || told.each || refers && told.who.is_none() {
        return by_name(pan.entries(), &[]);
    }
    if pan.others().iter().all(|other| other.content.is_none()) {
        // "500 soup, 3 ways: me, Ana, Tom"
        return plate(pan.gathered()?);
    }
    let whole = Whole::of(items, told.party());
    whole.divided(told, pan.claims(None)?)
}

fn is_remainder(telling: &&Telling) -> bool {
    telling.finishes
        || telling
            .size()
            .is_some_and(|size| matches!(size, Size::Rest | Size::OfRest(_)))
}

/// "dal: Ana 140, Tom 165", "the beans: 2/3 me, 1/3 Tom", "finished the parsnips with Tom"
fn of_name(pan: &Pan, name: Words, before: &[Portion]) -> Option<Vec<Portion>> {
    let told = &pan.told;
    let pot = Item::new(Amount::Share(1.0), name.clone());
    if pan.is_alone() {
        let all = told.finishes || told.split.is_some();
        let told = Telling {
            content: Some(Content::Items(vec![pot])),
            ..told.clone()
        };
        return if all { plate(told) } else { None };
    }
    if told.finishes {
        let own = Claim::of(told.who.clone().unwrap_or(Who::sender()), Size::Rest);
        return Whole::pot(pot).divided(told, pan.claims(Some(own))?);
    }
    let entries: Option<Vec<Entry>> = pan.named_entries(&name);
    if let Some(entries) = entries {
        return by_name(entries, before);
    }
    Whole::pot(pot).divided(told, pan.claims(None)?)
}

/// One telling, by itself: a plate for each, or one amount among several.
pub fn plate(telling: Telling) -> Option<Vec<Portion>> {
    let Some(Content::Items(items)) = telling.content.clone() else {
        return None;
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

/// "140 dal each x3", "140 dal each"
fn counted(telling: &Telling) -> Party {
    Party {
        named: Vec::new(),
        people: Some(telling.split.flatten().unwrap_or(THOSE_EATING)),
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
