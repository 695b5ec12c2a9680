//! A plate eaten again: the same as on another day, the same as somebody's, or one's usual, with what is
//! different this time.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Duration, NaiveDate};

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::plate::Plate;
use super::super::problem::ProblemKind;
use super::super::resolve::{Thing, Use, resolve};
use super::{Done, Step, Stop, find, people, portion};
use crate::lang::syntax::{Again, AgainOf, Amount, But, Command, Item, Portion, Words};

/// How long somebody else's plate is what "the same" means.
const FRESH_MINUTES: i64 = 30;
/// So many plates are offered where nothing is usual.
const OFFERED_MOST: usize = 3;
/// See `is_like`.
const TIMES_MOST: f64 = 5.0;

pub fn again(draft: &mut Draft, again: &Again) -> Step {
    let model = model(draft, again)?;
    let items = different(draft, model, again)?;
    if items.is_empty() {
        return Err(ProblemKind::NothingToRepeat.into());
    }
    let plate = |who: Option<&Words>| Portion {
        items: items.clone(),
        meal: again.meal,
        who: who.cloned(),
        ..Portion::default()
    };
    let mut done = Done::default();
    if again.who.is_empty() {
        return portion::meant(draft, &plate(None));
    }
    for who in &again.who {
        done.answers
            .extend(portion::meant(draft, &plate(Some(who)))?.answers);
    }
    Ok(done)
}

/// What is had again.
fn model(draft: &mut Draft, again: &Again) -> Result<Vec<Item>, Stop> {
    let sender = draft.input.sender;
    match &again.of {
        AgainOf::Day(day) => {
            let date = find::date(day, draft.today())?;
            let plates = plates_of(draft, sender, again);
            let of_day = plates.iter().filter(|plate| plate.day == date);
            Ok(of_day.flat_map(|plate| items(draft, plate)).collect())
        }
        AgainOf::Person(who) => {
            let member = people::find_person(draft, who, |name| {
                let of = AgainOf::Person(Words::plain(name));
                Command::Again(Again {
                    of,
                    ..again.clone()
                })
                .to_string()
            })?;
            Ok(last(draft, |plate| plate.member == member))
        }
        AgainOf::Last if !again.who.is_empty() => Ok(spoken_of(draft)
            .map(|plate| items(draft, plate))
            .unwrap_or_default()),
        AgainOf::Last => {
            let own = last_fresh(draft, |plate| plate.member == sender);
            let any = || last_fresh(draft, |_| true);
            let old = || last(draft, |plate| plate.member == sender);
            Ok(own.or_else(any).unwrap_or_else(old))
        }
        AgainOf::Theirs => {
            let theirs = last_fresh(draft, |plate| plate.member != sender);
            // An amount alone says nothing of what one has had oneself, nor does "half that".
            let own = spoken_of(draft).is_some_and(|plate| plate.member == sender);
            if let [But::Amount(amount)] = again.but.as_slice() {
                return Ok(asked_of(draft, amount).or(theirs).unwrap_or_default());
            }
            if again.but.iter().any(|but| matches!(but, But::Amount(_))) {
                return Ok(theirs.unwrap_or_default());
            }
            if again.times != 1.0 {
                return Ok(theirs.filter(|_| !own).unwrap_or_default());
            }
            Ok(theirs.unwrap_or_else(|| last(draft, |plate| plate.member == sender)))
        }
        AgainOf::JustNow => Ok(just_told(draft)
            .map(|plate| items(draft, plate))
            .unwrap_or_default()),
        AgainOf::Usual => {
            let today = draft.today();
            let plates = plates_of(draft, sender, again);
            let usual = usual(draft, &plates, today);
            match usual.is_empty() {
                true => Err(which(draft, &plates)),
                false => Ok(usual),
            }
        }
    }
}

/// "80 of it" of the dish that somebody has just asked after, and not of what stands on a plate.
fn asked_of(draft: &Draft, amount: &Amount) -> Option<Vec<Item>> {
    let plates = draft.kitchen.plates.iter();
    let done = plates.filter_map(Plate::touched_at).max();
    let dish = draft.input.asked_dish(done)?;
    let (Amount::Bare(grams) | Amount::Mass(grams)) = amount else {
        return None;
    };
    Some(vec![Item::new(Amount::Mass(*grams), Words::plain(dish))])
}

/// The plate of somebody else that the message right before has filled. Had anything been said since, "me too" might
/// be about that.
fn just_told<'a>(draft: &'a Draft) -> Option<&'a Plate> {
    let before = draft.input.message.0 - 1;
    let mut plates = draft.kitchen.plates.iter();
    plates.find(|plate| {
        plate.message.0 == before
            && plate.member != draft.input.sender
            && !plate.portions.is_empty()
    })
}

/// The one plate that is in hand.
fn spoken_of<'a>(draft: &'a Draft) -> Option<&'a Plate> {
    let lines = InHand::of(&draft.kitchen, draft.input).lines();
    let (first, _) = lines.first()?;
    let one = lines.iter().all(|(member, _)| member == first);
    let entry = lines.first().map(|(_, line)| line.entry).filter(|_| one)?;
    let holds = |plate: &&Plate| plate.portions.iter().any(|line| line.entry == entry);
    draft.kitchen.plates.iter().find(holds)
}

fn plates_of<'a>(draft: &'a Draft, member: MemberId, again: &Again) -> Vec<&'a Plate> {
    let of_meal = |plate: &&Plate| again.meal.is_none() || plate.meal == again.meal;
    let plates = draft.kitchen.plates.iter();
    plates
        .filter(|plate| plate.member == member && !plate.portions.is_empty())
        .filter(of_meal)
        .collect()
}

/// What is on the plate that was touched last, of those that fit.
fn last(draft: &Draft, fits: impl Fn(&Plate) -> bool) -> Vec<Item> {
    let full = |plate: &&Plate| !plate.portions.is_empty() && fits(plate);
    let plates = draft.kitchen.plates.iter().filter(full);
    let last = plates.max_by_key(|plate| (plate.day, plate.touched_at()));
    last.map(|plate| items(draft, plate)).unwrap_or_default()
}

fn last_fresh(draft: &Draft, fits: impl Fn(&Plate) -> bool) -> Option<Vec<Item>> {
    let fresh = |plate: &Plate| {
        let age = plate.touched_at().map(|touched| draft.input.now - touched);
        age.is_some_and(|age| age <= Duration::minutes(FRESH_MINUTES))
    };
    let items = last(draft, |plate| fits(plate) && fresh(plate));
    (!items.is_empty()).then_some(items)
}

/// What is on a plate, as it would be said today: dishes by their names, so that the batch that
/// stands ready now is drawn.
/// What is on a plate; of somebody else's, only what was told among people.
fn items(draft: &Draft, plate: &Plate) -> Vec<Item> {
    let own = plate.member == draft.input.sender;
    let mut sums: BTreeMap<String, Mass> = BTreeMap::new();
    let private = &draft.kitchen.told_privately;
    let told = plate.portions.iter();
    for portion in told.filter(|portion| own || !private.contains(&portion.entry)) {
        let name = match (portion.batch, portion.profile) {
            (Some(batch), _) => draft.kitchen.batch(batch).name.clone(),
            (None, Some(profile)) => match draft.kitchen.profiles.get(&profile) {
                Some(known) => match (known.food, &known.packet) {
                    (Some(code), _) => code.to_string(),
                    (None, Some(packet)) => packet.clone(),
                    (None, None) => continue,
                },
                None => continue,
            },
            (None, None) => continue,
        };
        *sums.entry(name).or_default() += portion.mass;
    }
    let item =
        |(name, mass): (String, Mass)| Item::new(Amount::Mass(mass.grams()), Words::plain(name));
    sums.into_iter().map(item).collect()
}

/// The set of things that was eaten most often, in the amounts of the last time.
fn usual(draft: &Draft, plates: &[&Plate], today: NaiveDate) -> Vec<Item> {
    let mut sets: BTreeMap<Vec<String>, (BTreeSet<NaiveDate>, Vec<Item>)> = BTreeMap::new();
    for plate in plates.iter().filter(|plate| plate.day <= today) {
        let items = items(draft, plate);
        let names = items.iter().map(|item| item.name.text.clone()).collect();
        let entry = sets.entry(names).or_default();
        entry.0.insert(plate.day);
        entry.1 = items;
    }
    let most = sets.values().map(|(days, _)| days.len()).max().unwrap_or(0);
    let mut usual = sets.into_values().filter(|(days, _)| days.len() == most);
    match (usual.next(), usual.next()) {
        // One day's plates, or several equally often, make no habit.
        (Some((days, items)), None) if days.len() > 1 => items,
        _ => Vec::new(),
    }
}

/// Nothing is usual yet: the plates of late are offered.
fn which(draft: &Draft, plates: &[&Plate]) -> Stop {
    let mut options: Vec<Choice> = Vec::new();
    for plate in plates.iter().rev() {
        let items = items(draft, plate);
        let portion = Portion {
            items,
            anyway: true,
            ..Portion::default()
        };
        let mut sums: BTreeMap<String, Mass> = BTreeMap::new();
        for line in &plate.portions {
            *sums.entry(portion::portion_label(draft, line)).or_default() += line.mass;
        }
        let told = sums
            .iter()
            .map(|(name, mass)| format!("{} g {name}", mass.grams()));
        let told: Vec<String> = told.collect();
        let says = Command::Portion(portion).to_string();
        if !options.iter().any(|option| option.says == says) && options.len() < OFFERED_MOST {
            let label = told.join(", ");
            options.push(Choice { label, says });
        }
    }
    let problem = Some(ProblemKind::NothingToRepeat);
    find::ask(About::HowMuch, "the usual", problem, options)
}

/// The model with what is different this time.
fn different(draft: &Draft, mut items: Vec<Item>, again: &Again) -> Result<Vec<Item>, Stop> {
    for item in &mut items {
        if let Amount::Mass(grams) = &mut item.amount {
            *grams *= again.times;
        }
    }
    for but in &again.but {
        match but {
            But::Plus(item) => items.push(item.clone()),
            But::Without(name) => {
                let at = meant(draft, &items, name)?;
                items.remove(at);
            }
            But::Only(name) => {
                let at = meant(draft, &items, name)?;
                items = vec![items.swap_remove(at)];
            }
            But::Times(times, name) => {
                let at = meant(draft, &items, name)?;
                if let Amount::Mass(grams) = &mut items[at].amount {
                    *grams *= times;
                }
            }
            But::Amount(amount) => match items.as_mut_slice() {
                [only] if is_like(amount, &only.amount) => only.amount = amount.clone(),
                _ => return Err(ProblemKind::NothingToRepeat.into()),
            },
            But::Less(by) => changed_by(&mut items, by, -1.0)?,
            But::More(by) => changed_by(&mut items, by, 1.0)?,
            But::Instead(item) => match meant(draft, &items, &item.name) {
                Ok(at) => items[at].amount = item.amount.clone(),
                // "but 30 cheddar" of a plate without any is put on top.
                Err(_) => items.push(item.clone()),
            },
        }
    }
    Ok(items)
}

/// "30 less" of the one thing that is had again; of several, nobody says of which.
fn changed_by(items: &mut [Item], by: &Amount, sign: f64) -> Result<(), Stop> {
    let ([only], Amount::Bare(by) | Amount::Mass(by)) = (items, by) else {
        return Err(ProblemKind::NothingToRepeat.into());
    };
    let Amount::Mass(grams) = &mut only.amount else {
        return Err(ProblemKind::NothingToRepeat.into());
    };
    *grams += sign * by;
    match *grams > 0.0 {
        true => Ok(()),
        false => Err(ProblemKind::NothingToRepeat.into()),
    }
}

/// A plate that may be of the same dish: nobody eats so many times more or less of it.
fn is_like(amount: &Amount, like: &Amount) -> bool {
    match (amount, like) {
        (Amount::Bare(grams) | Amount::Mass(grams), Amount::Mass(like)) => {
            (like / TIMES_MOST..=like * TIMES_MOST).contains(grams)
        }
        _ => false,
    }
}

/// Where the thing of this name stands among the items.
fn meant(draft: &Draft, items: &[Item], name: &Words) -> Result<usize, Stop> {
    let thing = |words: &Words| {
        let resolved = resolve(&draft.kitchen, words, Use::Eaten, draft.today());
        resolved.ok().map(|resolved| resolved.thing)
    };
    let wanted = thing(name);
    let fits = |item: &Item| match (&wanted, thing(&item.name)) {
        (Some(Thing::Batches(wanted)), Some(Thing::Batches(found))) => {
            found.iter().any(|batch| wanted.contains(batch))
        }
        (Some(Thing::Food(wanted)), Some(Thing::Food(found))) => *wanted == found,
        (Some(Thing::Packet(wanted)), Some(Thing::Packet(found))) => *wanted == found,
        _ => false,
    };
    let unknown = || {
        let near = items.iter().map(|item| item.name.text.clone()).collect();
        let words = name.text.clone();
        Stop::Problem(ProblemKind::UnknownName { words, near }.at(name.span.clone()))
    };
    items.iter().position(fits).ok_or_else(unknown)
}
