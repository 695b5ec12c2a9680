//! Which lines of which plates a correction means.

use super::super::super::act::Act;
use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::in_hand::holds;
use super::super::super::kitchen::Choice;
use super::super::super::ledger::Account;
use super::super::super::mass::Mass;
use super::super::super::plate::{Plate, PlatePortion};
use super::super::super::problem::ProblemKind;
use super::super::super::resolve::{Thing, Use, key, resolve};
use super::super::{Stop, find, people, portion, when};
use super::owner::confirmed;
use super::{newest, reach};
use crate::lang::syntax::{Amount, Command, Fix, Line, MealName, Words};

/// A line and the plate that it is on.
pub type Found = (AccountId, PlatePortion);

/// What a correction may mean: the plates that an act wrote on, and of their contents first what the
/// act itself wrote.
pub struct Target {
    pub plates: Vec<Plate>,
    own: Vec<EntryId>,
}

impl Target {
    pub fn of(draft: &Draft, act: &Act) -> Option<Self> {
        let own: Vec<EntryId> = act.standing().iter().map(|entry| entry.entry.id).collect();
        let touched = |plate: &&Plate| {
            let here = Account::Plate(plate.id);
            let mut entries = act.entries.iter();
            entries.any(|entry| entry.entry.to == here || entry.entry.from == here)
        };
        let plates: Vec<Plate> = draft
            .kitchen
            .plates
            .iter()
            .filter(touched)
            .cloned()
            .collect();
        (!plates.is_empty()).then_some(Self { plates, own })
    }

    /// All that is on a plate.
    pub fn on(plate: Plate) -> Self {
        let own = plate.portions.iter().map(|line| line.entry).collect();
        Self {
            plates: vec![plate],
            own,
        }
    }

    pub fn ids(&self) -> Vec<AccountId> {
        self.plates.iter().map(|plate| plate.id).collect()
    }

    pub fn lines(&self) -> Vec<Found> {
        let of = |plate: &Plate| {
            let id = plate.id;
            let lines: Vec<Found> = plate
                .portions
                .iter()
                .map(|line| (id, line.clone()))
                .collect();
            lines
        };
        self.plates.iter().flat_map(of).collect()
    }

    /// What the act itself wrote.
    pub fn own(&self) -> Vec<Found> {
        let own =
            |(_, line): &Found| self.own.contains(&line.entry) || self.own.contains(&line.tip);
        self.lines().into_iter().filter(own).collect()
    }

    /// Of the lines that fit, those that the act wrote; all of them when it wrote none.
    fn fitting(&self, fits: impl Fn(&Found) -> bool) -> Vec<Found> {
        let own: Vec<Found> = self.own().into_iter().filter(&fits).collect();
        match own.is_empty() {
            true => self.lines().into_iter().filter(&fits).collect(),
            false => own,
        }
    }
}

/// The name that a line of the plate answers to.
pub fn names(draft: &Draft, line: &PlatePortion, wanted: &Words) -> bool {
    let label = key(&portion::portion_label(draft, line));
    let wanted_key = key(&wanted.text);
    let in_label = wanted_key
        .split(' ')
        .all(|word| label.split(' ').any(|known| known == word));
    if in_label && !wanted_key.is_empty() {
        return true;
    }
    let resolved = resolve(&draft.kitchen, wanted, Use::Eaten, draft.today());
    match resolved.map(|resolved| resolved.thing) {
        Ok(Thing::Batches(batches)) => line.batch.is_some_and(|batch| batches.contains(&batch)),
        Ok(Thing::Packet(profile)) => line.profile == Some(profile),
        Ok(Thing::Food(code)) => line
            .profile
            .and_then(|id| draft.kitchen.profiles.get(&id))
            .is_some_and(|profile| profile.food == Some(code)),
        Err(_) => false,
    }
}

/// The lines that the words of a correction mean, of the newest act that has such lines.
pub fn lines(draft: &mut Draft, fix: &Fix, line: &Line) -> Result<Vec<Found>, Stop> {
    let old = match &line.old {
        Some(Amount::Bare(grams) | Amount::Mass(grams)) => Mass::from_grams(*grams),
        _ => None,
    };
    if let Some(owner) = &line.owner {
        let member = people::find_person(draft, owner, |name| {
            let mut named = fix.clone();
            if let Fix::Amount { line, .. } | Fix::Remove(line) = &mut named {
                line.owner = Some(Words::plain(name));
            }
            Command::Fix(named).to_string()
        })?;
        return of_person(draft, fix, member, old, line);
    }
    let told = old.is_some() || line.name.is_some() || line.meal.is_some();
    let target = match newest(draft, fix) {
        // A count since then does not hide what was eaten before it.
        Err(Stop::Problem(_)) if told => None,
        target => Some(target?),
    };
    let fits = |found: &Found| fits(draft, found, old, line);
    let newest = target
        .as_ref()
        .map_or_else(Vec::new, |target| target.fitting(fits));
    if !newest.is_empty() || !told {
        return confirmed(draft, fix, &newest).map(|()| newest);
    }
    let older = reach(draft)
        .into_iter()
        .filter_map(|act| Target::of(draft, &act));
    let older = older
        .map(|target| target.fitting(fits))
        .find(|found| !found.is_empty());
    match (older, target) {
        (None, None) => Err(ProblemKind::NothingToFix.into()),
        (older, _) => Ok(older.unwrap_or_default()),
    }
}

fn fits(draft: &Draft, (plate, line): &Found, old: Option<Mass>, told: &Line) -> bool {
    old.is_none_or(|old| line.mass == old)
        && told
            .name
            .as_ref()
            .is_none_or(|name| names(draft, line, name))
        && told
            .meal
            .is_none_or(|meal| is_meal(draft, *plate, line, meal))
}

/// A plate of which no meal was told is one of its hour, for as long as it is in hand.
fn is_meal(draft: &Draft, plate: AccountId, line: &PlatePortion, meal: MealName) -> bool {
    let told = draft.kitchen.plate(plate).and_then(|plate| plate.meal);
    let in_hand = holds(draft.input, line.recorded_at);
    let by_hour = || in_hand && when::is_hour_of(draft, meal, line.occurred_at);
    told.map_or_else(by_hour, |told| told == meal)
}

/// Somebody's lines: what the sender has booked for them, or else what is on their last plate, which
/// somebody else may have booked.
fn of_person(
    draft: &Draft,
    fix: &Fix,
    member: MemberId,
    old: Option<Mass>,
    told: &Line,
) -> Result<Vec<Found>, Stop> {
    let fits = |found: &Found| fits(draft, found, old, told);
    for act in reach(draft) {
        let Some(mut target) = Target::of(draft, &act) else {
            continue;
        };
        target.plates.retain(|plate| plate.member == member);
        let found = target.fitting(fits);
        if !found.is_empty() {
            super::undo::own(draft, &act, &Command::Fix(fix.clone()))?;
            return confirmed(draft, fix, &found).map(|()| found);
        }
    }
    let theirs = |plate: &&Plate| plate.member == member && !plate.portions.is_empty();
    let last = draft.kitchen.plates.iter().filter(theirs);
    let Some(last) = last.max_by_key(|plate| plate.touched_at()) else {
        return Ok(Vec::new());
    };
    let lines = last.portions.iter().map(|line| (last.id, line.clone()));
    let found: Vec<Found> = lines.filter(fits).collect();
    match found.is_empty() {
        true => Ok(found),
        false => confirmed(draft, fix, &found).map(|()| found),
    }
}

/// "150 g leek soup"
pub fn told(draft: &Draft, line: &PlatePortion) -> String {
    format!(
        "{} g {}",
        line.mass.grams(),
        portion::portion_label(draft, line)
    )
}

/// The one line among several, or the question which; `says` names one in the correction.
pub fn one(
    draft: &Draft,
    lines: Vec<Found>,
    says: impl Fn(&PlatePortion, String) -> Command,
) -> Result<Found, Stop> {
    match <[Found; 1]>::try_from(lines) {
        Ok([one]) => Ok(one),
        Err(lines) if lines.is_empty() => Err(ProblemKind::NothingToFix.into()),
        Err(lines) => {
            let labels: Vec<String> = lines
                .iter()
                .map(|(plate, line)| {
                    let owner = draft.kitchen.plate(*plate).map(|plate| plate.member);
                    let owner = owner.filter(|owner| *owner != draft.input.sender);
                    let owner = owner.and_then(|owner| draft.kitchen.member(owner));
                    match owner {
                        Some(owner) => format!("{} ({})", told(draft, line), owner.name),
                        None => told(draft, line),
                    }
                })
                .collect();
            let options = lines.iter().zip(&labels).map(|((_, line), told)| Choice {
                label: told.clone(),
                says: says(line, label(draft, line)).to_string(),
            });
            Err(find::ask(
                About::HowMuch,
                &labels.join(", "),
                Some(ProblemKind::WhichLine),
                options.collect(),
            ))
        }
    }
}

/// The words under which a line is found again.
pub fn label(draft: &Draft, line: &PlatePortion) -> String {
    let food = line.profile.and_then(|id| draft.kitchen.profiles.get(&id));
    match food.and_then(|profile| profile.food) {
        Some(code) => code.to_string(),
        None => portion::portion_label(draft, line),
    }
}
