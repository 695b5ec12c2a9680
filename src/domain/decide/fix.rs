//! Corrections of what was booked last: the sender's own latest plate, or the one replied to. The
//! first entry is taken back and the right one written at the same moment on the same plate.

use std::collections::BTreeMap;

use super::super::act::Act;
use super::super::answer::About;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::plate::{Plate, PlatePortion};
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::{Thing, Use, key, resolve};
use super::draw::draw;
use super::{Done, Step, Stop, find, people, portion, undo};
use crate::lang::syntax::{Amount, Command, Day, Fix, Item, MealName, Words};

pub fn fix(draft: &mut Draft, fix: &Fix) -> Step {
    // What a reply points at may have been corrected by somebody since: its plate is still meant.
    let pointed = draft.input.pointed.clone();
    let act = pointed
        .or_else(|| undo::pointed_or_newest(draft))
        .ok_or(ProblemKind::NothingToFix)?;
    draft.about = Some(act.message);
    undo::own(draft, &act, &Command::Fix(fix.clone()))?;
    let target = Target::of(draft, &act)?;
    match fix {
        Fix::Amount { new, old, name } => amount(draft, &target, new, old.as_ref(), name.as_ref()),
        Fix::Name { new, old } => rename(draft, &target, new, old.as_ref()),
        Fix::Remove(name) => remove(draft, &target, name),
        Fix::PutBack(items) => put_back(draft, &target, items),
        Fix::Whose(who) => whose(draft, &target, who),
        Fix::When { day, meal } => when(draft, &target, day.as_ref(), *meal),
    }
}

/// What a correction may mean: the plates that the act wrote on, and of their contents first what
/// the act itself wrote.
struct Target {
    plates: Vec<Plate>,
    own: Vec<EntryId>,
}

impl Target {
    fn of(draft: &Draft, act: &Act) -> Result<Self, Stop> {
        let standing = act.standing();
        let own: Vec<EntryId> = standing.iter().map(|entry| entry.entry.id).collect();
        let touched = |plate: &&Plate| {
            let ends = [Account::Plate(plate.id)];
            act.entries
                .iter()
                .any(|entry| ends.contains(&entry.entry.to) || ends.contains(&entry.entry.from))
        };
        let plates: Vec<Plate> = draft
            .kitchen
            .plates
            .iter()
            .filter(touched)
            .cloned()
            .collect();
        if plates.is_empty() {
            return Err(ProblemKind::NothingToFix.into());
        }
        Ok(Self { plates, own })
    }

    fn portions(&self) -> impl Iterator<Item = (AccountId, &PlatePortion)> {
        self.plates.iter().flat_map(|plate| {
            plate
                .portions
                .iter()
                .map(move |portion| (plate.id, portion))
        })
    }

    fn is_own(&self, portion: &PlatePortion) -> bool {
        self.own.contains(&portion.entry) || self.own.contains(&portion.tip)
    }

    /// The plates that have something on them, or the last one, emptied.
    fn answer(&self, draft: &Draft) -> Done {
        let mut ids: Vec<AccountId> = self.plates.iter().map(|plate| plate.id).collect();
        let last = ids.last().copied();
        ids.retain(|id| {
            let plate = draft.kitchen.plate(*id);
            plate.is_some_and(|plate| !plate.portions.is_empty())
        });
        if ids.is_empty() {
            ids.extend(last);
        }
        Done::saying(portion::answer(draft, &ids, Vec::new(), &BTreeMap::new()))
    }
}

/// The name that a line of the plate answers to.
fn names(draft: &Draft, portion: &PlatePortion, wanted: &Words) -> bool {
    let label = portion::portion_label(draft, portion);
    let (label, wanted_key) = (key(&label), key(&wanted.text));
    let in_label = wanted_key
        .split(' ')
        .all(|word| label.split(' ').any(|known| known == word));
    if in_label && !wanted_key.is_empty() {
        return true;
    }
    let resolved = resolve(&draft.kitchen, wanted, Use::Eaten, draft.today());
    match resolved.map(|resolved| resolved.thing) {
        Ok(Thing::Batches(batches)) => portion.batch.is_some_and(|batch| batches.contains(&batch)),
        Ok(Thing::Packet(profile)) => portion.profile == Some(profile),
        Ok(Thing::Food(code)) => portion
            .profile
            .and_then(|id| draft.kitchen.profiles.get(&id))
            .is_some_and(|profile| profile.food == Some(code)),
        Err(_) => false,
    }
}

/// The one line that a correction means, by its old amount and its name; among several the ones that
/// the act wrote itself.
fn the_line(
    draft: &Draft,
    target: &Target,
    old: Option<Mass>,
    name: Option<&Words>,
) -> Result<(AccountId, PlatePortion), Vec<PlatePortion>> {
    let fits = |portion: &PlatePortion| {
        old.is_none_or(|old| portion.mass == old)
            && name.is_none_or(|name| names(draft, portion, name))
    };
    let all: Vec<_> = target
        .portions()
        .filter(|(_, portion)| fits(portion))
        .collect();
    let own: Vec<_> = all
        .iter()
        .filter(|(_, portion)| target.is_own(portion))
        .collect();
    match (own.as_slice(), all.as_slice()) {
        ([(plate, portion)], _) | ([], [(plate, portion)]) => Ok((*plate, (*portion).clone())),
        _ => {
            let several = if own.is_empty() {
                all
            } else {
                own.into_iter().copied().collect()
            };
            Err(several
                .into_iter()
                .map(|(_, portion)| portion.clone())
                .collect())
        }
    }
}

fn amount(
    draft: &mut Draft,
    target: &Target,
    new: &Amount,
    old: Option<&Amount>,
    name: Option<&Words>,
) -> Step {
    let old_mass = match old {
        Some(Amount::Bare(grams) | Amount::Mass(grams)) => Mass::from_grams(*grams),
        _ => None,
    };
    let (plate, line) = match the_line(draft, target, old_mass, name) {
        Ok(found) => found,
        Err(several) if several.is_empty() => return Err(ProblemKind::NothingToFix.into()),
        Err(several) => {
            let options = several.iter().map(|line| {
                let label = portion::portion_label(draft, line);
                let command = Command::Fix(Fix::Amount {
                    new: new.clone(),
                    old: Some(Amount::Mass(line.mass.grams())),
                    name: Some(Words::plain(label.clone())),
                });
                Choice {
                    label: format!("{} g {label}", line.mass.grams()),
                    says: command.to_string(),
                }
            });
            return Err(find::ask(
                About::HowMuch,
                "which one",
                None,
                options.collect(),
            ));
        }
    };
    let mass = new_mass(draft, &line, new)?;
    change_mass(draft, plate, &line, mass)?;
    draft.settle();
    Ok(target.answer(draft))
}

fn new_mass(draft: &Draft, line: &PlatePortion, new: &Amount) -> Result<Mass, Stop> {
    let thing = match (line.batch, line.profile) {
        (Some(batch), _) => Thing::Batches(vec![batch]),
        (None, Some(profile)) => match draft
            .kitchen
            .profiles
            .get(&profile)
            .and_then(|known| known.food)
        {
            Some(code) => Thing::Food(code),
            None => Thing::Packet(profile),
        },
        (None, None) => return Err(ProblemKind::NothingToFix.into()),
    };
    let label = portion::portion_label(draft, line);
    let measured = Measured {
        thing: &thing,
        name: &label,
    };
    match meant(&draft.kitchen, new, &measured)? {
        Meant::Quantity(quantity) => Ok(quantity.mass),
        Meant::Share(_) | Meant::Uncounted | Meant::Between(..) => {
            Err(ProblemKind::MissingAmount { name: label }.into())
        }
    }
}

/// Take the line back and write it with another mass; nothing is left of it at zero.
fn change_mass(
    draft: &mut Draft,
    plate: AccountId,
    line: &PlatePortion,
    mass: Mass,
) -> Result<(), Stop> {
    draft.reverse_portion(plate, line);
    if mass.is_zero() {
        return Ok(());
    }
    let moment = draft.occurred_at;
    draft.occurred_at = line.occurred_at;
    write(draft, plate, line, mass)?;
    draft.occurred_at = moment;
    Ok(())
}

fn write(draft: &mut Draft, plate: AccountId, line: &PlatePortion, mass: Mass) -> Result<(), Stop> {
    let pieces = match line.batch {
        // What the books lack by it is asked about when all of it is known.
        Some(batch) => draw(draft, &[batch], mass, true)
            .map_err(|too_much| Stop::from(too_much.problem()))?
            .into_iter()
            .map(|piece| (piece.lot, piece.mass))
            .collect(),
        None => vec![(Account::Bought, mass)],
    };
    for (from, mass) in pieces {
        let detail = Detail::Portion {
            estimated: line.estimated && mass == line.mass,
        };
        let ends = (from, Account::Plate(plate));
        let about = (line.batch, line.profile);
        draft.enter(
            EntryKind::Portion,
            ends,
            mass,
            about.0,
            about.1,
            Some(detail),
        );
    }
    Ok(())
}

fn rename(draft: &mut Draft, target: &Target, new: &Words, old: Option<&Words>) -> Step {
    let (plate, line) =
        the_line(draft, target, None, old).map_err(|_| Stop::from(ProblemKind::NothingToFix))?;
    let resolved = resolve(&draft.kitchen, new, Use::Eaten, draft.today())
        .map_err(|unresolved| Stop::Problem(unresolved.problem(&new.text).at(new.span.clone())))?;
    draft.reverse_portion(plate, &line);
    let moment = draft.occurred_at;
    draft.occurred_at = line.occurred_at;
    let (batch, profile) = match resolved.thing {
        Thing::Batches(batches) => (Some(batches[0]), None),
        Thing::Packet(profile) => (None, Some(profile)),
        Thing::Food(code) => (None, Some(draft.profile(code))),
    };
    let right = PlatePortion {
        batch,
        profile,
        ..line.clone()
    };
    write(draft, plate, &right, line.mass)?;
    draft.occurred_at = moment;
    draft.settle();
    Ok(target.answer(draft))
}

fn remove(draft: &mut Draft, target: &Target, name: &Words) -> Step {
    let named: Vec<(AccountId, PlatePortion)> = target
        .portions()
        .filter(|(_, portion)| names(draft, portion, name))
        .map(|(plate, portion)| (plate, portion.clone()))
        .collect();
    if named.is_empty() {
        let near = target
            .portions()
            .map(|(_, portion)| portion::portion_label(draft, portion));
        let kind = ProblemKind::UnknownName {
            words: name.text.clone(),
            near: near.collect(),
        };
        return Err(Stop::Problem(kind.at(name.span.clone())));
    }
    draft.takes_away();
    for (plate, portion) in named {
        draft.reverse_portion(plate, &portion);
    }
    draft.settle();
    Ok(target.answer(draft))
}

/// "put back 80 dal": so much less of it on the plate, the newest first.
fn put_back(draft: &mut Draft, target: &Target, items: &[Item]) -> Step {
    draft.takes_away();
    for item in items {
        let lines: Vec<(AccountId, PlatePortion)> = target
            .portions()
            .filter(|(_, portion)| names(draft, portion, &item.name))
            .map(|(plate, portion)| (plate, portion.clone()))
            .collect();
        let on_plate: Mass = lines.iter().map(|(_, portion)| portion.mass).sum();
        let Some((_, newest)) = lines.last() else {
            return Err(ProblemKind::NothingToFix.into());
        };
        let mut back = match &item.amount {
            Amount::Share(share) => on_plate.share(*share),
            amount => new_mass(draft, newest, amount)?,
        };
        if back > on_plate {
            return Err(ProblemKind::TooMuch {
                name: item.name.text.clone(),
                asked: back,
                left: on_plate,
            }
            .into());
        }
        for (plate, line) in lines.iter().rev() {
            let part = back.min(line.mass);
            if part.is_zero() {
                break;
            }
            change_mass(draft, *plate, line, line.mass - part)?;
            back -= part;
        }
    }
    draft.settle();
    Ok(target.answer(draft))
}

/// Everything that the act put on a plate goes on another person's.
fn whose(draft: &mut Draft, target: &Target, who: &Words) -> Step {
    let member = people::find_person(draft, who, |name| {
        Command::Fix(Fix::Whose(Words::plain(name))).to_string()
    })?;
    move_own(draft, target, |draft, plate| {
        let (day, meal) = (plate.day, plate.meal);
        draft.plate(member, day, meal)
    })
}

/// Everything that the act put on a plate was eaten on another day, or at another meal.
fn when(draft: &mut Draft, target: &Target, day: Option<&Day>, meal: Option<MealName>) -> Step {
    let today = draft.today();
    let date = day.map(|day| find::date(day, today)).transpose()?;
    if date.is_some_and(|date| date > today) {
        return Err(ProblemKind::FutureDate.into());
    }
    move_own(draft, target, |draft, plate| {
        draft.plate(plate.member, date.unwrap_or(plate.day), meal.or(plate.meal))
    })
}

fn move_own(
    draft: &mut Draft,
    target: &Target,
    new_plate: impl Fn(&mut Draft, &Plate) -> AccountId,
) -> Step {
    let mut moved = Vec::new();
    for plate in &target.plates {
        let own: Vec<&PlatePortion> = plate
            .portions
            .iter()
            .filter(|portion| target.is_own(portion))
            .collect();
        if own.is_empty() {
            continue;
        }
        let to = new_plate(draft, plate);
        for portion in own {
            draft.reverse_portion(plate.id, portion);
            let moment = draft.occurred_at;
            draft.occurred_at = portion.occurred_at;
            let ends = (portion.from, Account::Plate(to));
            let detail = Detail::Portion {
                estimated: portion.estimated,
            };
            let about = (portion.batch, portion.profile);
            draft.enter(
                EntryKind::Portion,
                ends,
                portion.mass,
                about.0,
                about.1,
                Some(detail),
            );
            draft.occurred_at = moment;
        }
        moved.push(to);
    }
    if moved.is_empty() {
        return Err(ProblemKind::NothingToFix.into());
    }
    draft.settle();
    Ok(Done::saying(portion::answer(
        draft,
        &moved,
        Vec::new(),
        &BTreeMap::new(),
    )))
}
