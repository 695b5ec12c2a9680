//! What a meal left becomes a batch of its own. It comes off the plates that it was booked on, of every line in
//! proportion, so that every gram is somewhere once; its dates follow from where each line was drawn.

use std::collections::BTreeMap;

use chrono::Duration;

use super::super::answer::{About, BatchEvent, Note};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::opening::Opening;
use super::super::origin::Origin;
use super::super::plate::{Plate, PlatePortion};
use super::super::problem::ProblemKind;
use super::mixed::{Part, put_in};
use super::portion::{MEAL_OPEN_MINUTES, portion_label};
use super::{Step, Stop, batch, count, find, left_in_pot, people, weigh};
use crate::lang::syntax::{Command, LeftOf, LeftOver, Weighed, Weighing, Words};

/// What is called nothing else.
const UNNAMED: &str = "leftovers";
/// The meal was so long ago at most, if no day was said.
pub const MEAL_HOURS: i64 = 8;
/// Somebody who leaves more than this of what is on the plates may speak of something else.
const LEFT_SHARE_MAX: f64 = 0.75;
/// Scales differ by so much: what is left is no more than what was there.
const SLACK: Mass = Mass::from_mg(10_000);

/// Something on a plate.
struct Eaten {
    plate: AccountId,
    member: MemberId,
    portion: PlatePortion,
}

pub fn left_over(draft: &mut Draft, said: &LeftOver) -> Step {
    let net = weigh::net(draft, &said.weighing)?.net();
    let eaten = match said.of {
        LeftOf::Elsewhere => Vec::new(),
        LeftOf::That => of_that(draft)?,
        LeftOf::Unsaid | LeftOf::Plates => of_the_meal(draft, said)?,
    };
    let there: Mass = eaten.iter().map(|eaten| eaten.portion.mass).sum();
    if let (Some(dish), true, LeftOf::Unsaid) = (&said.dish, eaten.is_empty(), said.of) {
        // Nobody has it on a plate: it is what is left in the pot.
        return count::count(draft, &counted(dish, &said.weighing), None, false);
    }
    if let Some(step) = left_in_pot::told(draft, said, pots(&eaten), net) {
        return step;
    }
    if !eaten.is_empty() {
        is_plausible(said, net, there)?;
    }
    let untold = said.place.is_none() && said.day.is_none() && said.meal.is_none();
    if eaten.is_empty() && untold && !draft.input.addressed {
        // Among people it may be said of anything.
        return Err(ProblemKind::NothingToFix.into());
    }
    let (id, waits) = open(draft, said, &eaten);
    let notes = match eaten.is_empty() {
        true => {
            put_in(draft, id, 1, unknown(net));
            vec![Note::NoMeal]
        }
        false => vec![Note::OffPlates(take_off(draft, id, &eaten, net.min(there)))],
    };
    draft.occurred_at = draft.input.said_at;
    if let Some(place) = waits {
        put_away(draft, id, place);
    }
    draft.settle();
    Ok(batch::answer(
        draft,
        id,
        BatchEvent::LeftOver,
        notes,
        Vec::new(),
    ))
}

/// Something that nobody booked.
fn unknown(mass: Mass) -> Part {
    Part {
        text: format!("{} g", mass.grams()),
        from: Account::Origin,
        mass,
        estimated: false,
        profile: None,
        source: None,
    }
}

/// What the sender put on plates just now, or else what anybody did.
fn of_that(draft: &Draft) -> Result<Vec<Eaten>, Stop> {
    let lines = InHand::of(draft.before, draft.input).lines();
    let plates = || draft.kitchen.plates.iter();
    let eaten = lines.into_iter().filter_map(|(member, portion)| {
        let holds = |plate: &&Plate| plate.portions.iter().any(|it| it.entry == portion.entry);
        Some(Eaten {
            plate: plates().find(holds)?.id,
            member,
            portion: portion.clone(),
        })
    });
    let eaten: Vec<Eaten> = eaten.collect();
    match eaten.is_empty() {
        true => Err(ProblemKind::NothingToFix.into()),
        false => Ok(eaten),
    }
}

/// What was on the plates of the meal that is meant.
fn of_the_meal(draft: &mut Draft, said: &LeftOver) -> Result<Vec<Eaten>, Stop> {
    let who = match &said.who {
        None => None,
        Some(who) => Some(people::find_person(draft, who, |name| {
            let who = Some(Words::plain(name));
            Command::LeftOver(LeftOver {
                who,
                ..said.clone()
            })
            .to_string()
        })?),
    };
    let today = draft.today();
    let day = match &said.day {
        None => None,
        Some(day) => Some(find::date(day, today)?),
    };
    if day.is_some_and(|day| day > today) {
        return Err(ProblemKind::FutureDate.into());
    }
    let dish = match &said.dish {
        None => None,
        Some(dish) => Some(find::batches(draft, dish)?),
    };
    let now = draft.input.now;
    let fits = |plate: &&Plate| {
        let recent = || {
            let touched = plate.touched_at();
            touched.is_some_and(|touched| now - touched <= Duration::hours(MEAL_HOURS))
        };
        !plate.portions.is_empty()
            && who.is_none_or(|who| plate.member == who)
            && day.map_or_else(recent, |day| plate.day == day)
            && (said.meal.is_none() || plate.meal.is_none() || plate.meal == said.meal)
    };
    let plates: Vec<&Plate> = draft.kitchen.plates.iter().filter(fits).collect();
    let Some(last) = plates.iter().max_by_key(|plate| plate.touched_at()) else {
        return Ok(Vec::new());
    };
    let same_meal = |plate: &&&Plate| {
        let apart = last.touched_at().zip(plate.touched_at());
        let near = apart
            .is_some_and(|(last, touched)| last - touched <= Duration::minutes(MEAL_OPEN_MINUTES));
        let named = plate.meal.is_some() && plate.meal == last.meal;
        let other = plate.meal.is_some() && last.meal.is_some() && !named;
        plate.day == last.day && !other && (near || named)
    };
    let of_dish = |portion: &&PlatePortion| match &dish {
        None => true,
        Some(dish) => portion.batch.is_some_and(|batch| dish.contains(&batch)),
    };
    let eaten = plates.iter().filter(same_meal).flat_map(|plate| {
        let portions = plate.portions.iter().filter(of_dish);
        portions.map(|portion| Eaten {
            plate: plate.id,
            member: plate.member,
            portion: portion.clone(),
        })
    });
    Ok(eaten.collect())
}

/// The pots that a meal came from, and what of them is on plates. Nothing where other food was eaten as well.
fn pots(eaten: &[Eaten]) -> Option<(Vec<BatchId>, Mass)> {
    let pots = eaten.iter().map(|eaten| eaten.portion.batch);
    let mut pots: Vec<BatchId> = pots.collect::<Option<_>>().unwrap_or_default();
    pots.sort_unstable();
    pots.dedup();
    let there = eaten.iter().map(|eaten| eaten.portion.mass).sum();
    (!eaten.is_empty()).then_some((pots, there))
}

/// No more than was on the plates.
pub fn fits(net: Mass, there: Mass) -> bool {
    net <= there + SLACK
}

/// More than the plates hold, nearly all of it, or a dish that may as well stand in its pot: asked about first.
fn is_plausible(said: &LeftOver, net: Mass, there: Mass) -> Result<(), Stop> {
    let fits = fits(net, there);
    let of_meal = said.day.is_some() || said.meal.is_some() || said.who.is_some();
    let told = matches!(said.of, LeftOf::Plates | LeftOf::That);
    let usual = net <= there.share(LEFT_SHARE_MAX) && (said.dish.is_none() || of_meal);
    if fits && (told || usual) {
        return Ok(());
    }
    let says = |of: LeftOf| {
        let said = said.clone();
        Command::LeftOver(LeftOver { of, ..said }).to_string()
    };
    let mut options = Vec::new();
    if fits {
        options.push(Choice {
            label: format!("off the plates: {} g of it", net.grams()),
            says: says(LeftOf::Plates),
        });
    }
    match &said.dish {
        Some(dish) => options.push(Choice {
            label: format!("it is all that is left of the {dish}"),
            says: Command::Count {
                items: counted(dish, &said.weighing),
                rest: None,
                anyway: false,
            }
            .to_string(),
        }),
        None => options.push(Choice {
            label: "of something that is not booked".into(),
            says: says(LeftOf::Elsewhere),
        }),
    }
    let problem = ProblemKind::MuchLeft {
        left: net,
        plates: there,
    };
    let words = said.dish.as_ref();
    let words = words.map_or(UNNAMED, |dish| dish.text.as_str());
    Err(find::ask(About::Confirm, words, Some(problem), options))
}

/// It is what is left of the dish itself.
fn counted(dish: &Words, weighing: &Weighing) -> Vec<Weighed> {
    vec![Weighed {
        name: dish.clone(),
        weighing: weighing.clone(),
        place: None,
    }]
}

/// Open the batch as of the meal. What was frozen only later is put there when it is whole.
fn open(draft: &mut Draft, said: &LeftOver, eaten: &[Eaten]) -> (BatchId, Option<PlaceId>) {
    let place = said.place.as_ref().map(|place| draft.place(&place.text));
    let moments = eaten.iter().map(|eaten| eaten.portion.occurred_at);
    let made_at = moments.min().unwrap_or(draft.input.said_at);
    draft.occurred_at = made_at;
    let at_once = draft.day_of(made_at) == draft.today();
    let id = draft.open_batch(&Opening {
        name: said.name.as_ref().map_or(UNNAMED, |name| name.text.trim()),
        raw: false,
        origin: Origin::Leftover,
        dated: true,
        made_at,
        place: place.filter(|_| at_once),
    });
    (id, place.filter(|_| !at_once))
}

/// Take so much off the plates, of every line in proportion; what came off whose.
fn take_off(draft: &mut Draft, id: BatchId, eaten: &[Eaten], mass: Mass) -> Vec<(String, Mass)> {
    let held: Vec<Mass> = eaten.iter().map(|eaten| eaten.portion.mass).collect();
    let mut numbers: BTreeMap<(Option<BatchId>, Option<ProfileId>), u32> = BTreeMap::new();
    let mut off: Vec<(MemberId, Mass)> = Vec::new();
    for (eaten, part) in eaten.iter().zip(in_proportion(mass, &held)) {
        let portion = &eaten.portion;
        if part.is_zero() {
            continue;
        }
        // It left the pot when it was served, whatever was counted there since.
        draft.occurred_at = portion.occurred_at;
        draft.reverse_portion(eaten.plate, portion);
        let stays = portion.mass - part;
        if !stays.is_zero() {
            let ends = (portion.from, Account::Plate(eaten.plate));
            let estimated = portion.estimated;
            let detail = Some(Detail::Portion { estimated });
            let kind = EntryKind::Portion;
            draft.enter(kind, ends, stays, portion.batch, portion.profile, detail);
        }
        let next = numbers.len() as u32 + 1;
        let number = *numbers
            .entry((portion.batch, portion.profile))
            .or_insert(next);
        let part_of = Part {
            text: portion_label(draft, portion),
            from: portion.from,
            mass: part,
            estimated: portion.estimated,
            profile: portion.profile,
            source: portion.batch,
        };
        put_in(draft, id, number, part_of);
        match off.iter_mut().find(|(member, _)| *member == eaten.member) {
            Some((_, sum)) => *sum += part,
            None => off.push((eaten.member, part)),
        }
    }
    let name = |id| draft.kitchen.member(id).map(|member| member.name.clone());
    off.into_iter()
        .map(|(member, mass)| (name(member).unwrap_or_default(), mass))
        .collect()
}

/// A mass taken of others in proportion, of none more than it is.
fn in_proportion(mass: Mass, held: &[Mass]) -> Vec<Mass> {
    let weights: Vec<f64> = held.iter().map(|mass| mass.grams()).collect();
    let mut parts = mass.split(&weights);
    let mut over = Mass::ZERO;
    for (part, held) in parts.iter_mut().zip(held) {
        over += Mass::ZERO.max(*part - *held);
        *part = (*part).min(*held);
    }
    // Milligrams that rounding gave to one that had no more go to those that have.
    for (part, held) in parts.iter_mut().zip(held) {
        let more = over.min(*held - *part);
        *part += more;
        over -= more;
    }
    parts
}

/// Into the place where it stands from today on.
fn put_away(draft: &mut Draft, id: BatchId, place: PlaceId) {
    let pot = draft.kitchen.batch(id).lots[0].clone();
    let lot = draft.open_lot(id, Some(place), Some(pot.id));
    let ends = (Account::Lot(pot.id), Account::Lot(lot));
    draft.enter(EntryKind::Move, ends, pot.balance, Some(id), None, None);
}
