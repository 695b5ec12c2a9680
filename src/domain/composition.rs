//! What is in a batch: its ingredients' nutrients, less what was poured away, over its net weight.
//!
//! Nutrient per 100 g cooked = total of the raw ingredients / cooked weight x 100; the difference in
//! weight is water (Greenfield & Southgate, Food composition data, 2nd ed., FAO 2003). Energy and
//! macronutrients count whole: published retention factors concern vitamins, minerals and alcohol.

use std::collections::BTreeMap;

use super::batch::{Batch, Line, LineState, PourKind};
use super::ids::BatchId;
use super::kitchen::Kitchen;
use super::mass::Mass;
use super::nutrients::Totals;
use crate::foods::{self, Group, Nutrient};

/// Energy of fat poured away, kcal per gram: Regulation (EU) 1169/2011 Annex XIV.
const FAT_KCAL_PER_G: f64 = 9.0;

/// How deep batches may stand in batches, such as a pot that is topped up every week for years; deeper is a
/// mistake in the books.
const NESTING_MAX: usize = 512;

/// Which lines of a batch are added up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Lines {
    All,
    /// Those whose mass is known: what one adds that nobody weighed may be less than the rest as well as
    /// more, so that a share of the others is no lower bound.
    WithMass,
}

/// Totals of batches, each worked out once.
pub struct Composition<'a> {
    kitchen: &'a Kitchen,
    known: BTreeMap<(BatchId, Lines), Totals>,
    depth: usize,
}

impl<'a> Composition<'a> {
    pub fn new(kitchen: &'a Kitchen) -> Self {
        Self {
            kitchen,
            known: BTreeMap::new(),
            depth: 0,
        }
    }

    /// Everything in the pot as it was when it was done, before anybody ate from it.
    pub fn whole(&mut self, id: BatchId) -> Totals {
        self.sum(id, Lines::All)
    }

    fn sum(&mut self, id: BatchId, which: Lines) -> Totals {
        if let Some(totals) = self.known.get(&(id, which)) {
            return totals.clone();
        }
        let Some(batch) = self.kitchen.batches.get(&id) else {
            return Totals::unknown();
        };
        if self.depth >= NESTING_MAX {
            return Totals::unknown();
        }
        self.depth += 1;
        let mut totals = Totals::default();
        let mut of_lines = Vec::with_capacity(batch.lines.len());
        for line in &batch.lines {
            let of_line = match which == Lines::All || line.has_mass() {
                true => self.line(line),
                false => Totals::default(),
            };
            totals.add(&of_line);
            of_lines.push(of_line);
        }
        if batch.lines.is_empty() {
            totals.add(&Totals::unknown());
        }
        for at in 0..batch.pours.len() {
            pour_away(self.kitchen, &mut totals, batch, at, &of_lines);
        }
        // What the pot gained or lost is water.
        totals.take(Nutrient::Water, -batch.water.grams());
        self.depth -= 1;
        self.known.insert((id, which), totals.clone());
        totals
    }

    /// What one ingredient line brings.
    pub fn line(&mut self, line: &Line) -> Totals {
        match line.state {
            // A pinch of salt changes nothing that is worth a warning.
            LineState::Uncounted => Totals::default(),
            LineState::NoFood | LineState::NoMass | LineState::Pending => Totals::unknown(),
            LineState::Known => match (line.profile, line.source) {
                (_, Some(source)) => self.portion(source, line.mass),
                (Some(profile), None) => self
                    .kitchen
                    .profiles
                    .get(&profile)
                    .map_or_else(Totals::unknown, |known| {
                        Totals::of(&known.per_100g, line.mass)
                    }),
                (None, None) => Totals::unknown(),
            },
        }
    }

    /// So much of a batch.
    pub fn portion(&mut self, id: BatchId, mass: Mass) -> Totals {
        let batch = self.kitchen.batches.get(&id);
        let net = batch.map_or(Mass::ZERO, Batch::net_mass);
        if net.mg() <= 0 {
            return Totals::unknown();
        }
        let which = match batch.is_some_and(Batch::estimated) {
            true => Lines::WithMass,
            false => Lines::All,
        };
        self.sum(id, which).scaled(mass.grams() / net.grams())
    }
}

/// What makes up a marinade or a brine that nobody marked, by the table's groups: spices and herbs,
/// fats and oils, sauces, sugars, drinks.
const SEASONING: [Group; 5] = [
    Group::SpicesAndHerbs,
    Group::FatsAndOils,
    Group::SoupsAndSauces,
    Group::Sweets,
    Group::Beverages,
];

/// The lines that a pour takes from, in their own proportion; their indices. Lines marked as the part
/// come first, then lines (or batches) of its name, then, for a marinade or brine that nobody marked,
/// the liquids and seasonings.
pub fn poured_lines(kitchen: &Kitchen, batch: &Batch, part: &str) -> Vec<usize> {
    let of_part = |line: &Line| line.part.as_deref() == Some(part);
    let named = |line: &Line| line.text.to_lowercase().contains(part);
    let seasons = |line: &Line| {
        let food = line
            .profile
            .and_then(|id| kitchen.profiles.get(&id))
            .and_then(|profile| foods::table().get(profile.food?));
        food.is_some_and(|food| food.is_liquid() || SEASONING.contains(&food.group))
    };
    let marked = positions(batch, of_part);
    if !marked.is_empty() {
        return marked;
    }
    let named = positions(batch, named);
    if !named.is_empty() || !matches!(part, "marinade" | "brine" | "liquid" | "juice" | "juices") {
        return named;
    }
    positions(batch, seasons)
}

fn positions(batch: &Batch, wanted: impl Fn(&Line) -> bool) -> Vec<usize> {
    let lines = batch.lines.iter().enumerate();
    lines
        .filter(|(_, line)| wanted(line))
        .map(|(at, _)| at)
        .collect()
}

fn pour_away(
    kitchen: &Kitchen,
    totals: &mut Totals,
    batch: &Batch,
    at: usize,
    of_lines: &[Totals],
) {
    let (before, pour) = (&batch.pours[..at], &batch.pours[at]);
    match &pour.kind {
        PourKind::Fat => {
            // Fat leaves as fat, with its share of the saturated.
            let fat = totals.get(Nutrient::Fat).amount.unwrap_or(0.0);
            let saturated = totals.get(Nutrient::SaturatedFat).amount.unwrap_or(0.0);
            let grams = pour.mass.grams().min(fat);
            if fat > 0.0 {
                totals.take(Nutrient::SaturatedFat, saturated * grams / fat);
            }
            totals.take(Nutrient::Fat, grams);
            totals.take(Nutrient::EnergyKcal, grams * FAT_KCAL_PER_G);
        }
        PourKind::Part(part) => {
            let lines = poured_lines(kitchen, batch, part);
            let went_in: Mass = lines.iter().map(|at| batch.lines[*at].mass).sum();
            if went_in.mg() > 0 {
                let same = before.iter().filter(|other| other.kind == pour.kind);
                let gone: Mass = same.map(|other| other.mass).sum();
                let share = (pour.mass.min(went_in - gone).grams() / went_in.grams()).max(0.0);
                for at in lines {
                    totals.subtract(&of_lines[at].scaled(share));
                }
            }
        }
        PourKind::Whole => {
            // The pot as it was: what is there now, and what was poured since.
            let since: Mass = batch.pours[at..].iter().map(|pour| pour.mass).sum();
            let whole = batch.net_mass() + since;
            if whole.mg() > 0 {
                *totals = totals.scaled(1.0 - pour.mass.grams() / whole.grams());
            }
        }
    }
}
