//! Pots of one dish beside each other: what went in, what came out, what became of it.

use super::answer::{ComparedAnswer, PotCompared};
use super::recipe::Recipe;
use crate::domain::batch::Batch;
use crate::domain::composition::Composition;
use crate::domain::kitchen::Kitchen;
use crate::domain::ledger::Account;
use crate::domain::mass::Mass;
use crate::domain::moves::Move;
use crate::domain::resolve::key;
use crate::foods::Nutrient;
use chrono::NaiveDate;

const HUNDRED_GRAMS: Mass = Mass::from_mg(100_000);

impl Kitchen {
    /// These pots, the newest first; the newest tells what is main.
    pub fn compared(&self, name: &str, pots: &[&Batch], today: NaiveDate) -> ComparedAnswer {
        let recipes: Vec<Recipe> = pots.iter().map(|batch| self.recipe_of(batch)).collect();
        let main = recipes
            .first()
            .and_then(|recipe| Some(recipe.lines[recipe.main?].name.clone()));
        let mains: Vec<Option<Mass>> = recipes
            .iter()
            .map(|recipe| mass_of(recipe, main.as_deref()?))
            .collect();
        ComparedAnswer {
            name: name.to_owned(),
            today,
            unweighed: Vec::new(),
            ratios: ratios(&recipes, main.as_deref(), &mains),
            pots: pots
                .iter()
                .zip(&mains)
                .map(|(batch, main)| self.pot_compared(batch, *main))
                .collect(),
            main,
        }
    }

    fn pot_compared(&self, batch: &Batch, main: Option<Mass>) -> PotCompared {
        let hundred = Composition::new(self).portion(batch.id, HUNDRED_GRAMS);
        let out = |moved: &&Move| {
            moved.mass.is_negative()
                && !batch.has_lot(moved.other)
                && !matches!(moved.other, Account::Water | Account::Poured)
        };
        let moves = || batch.lots.iter().flat_map(|lot| &lot.moves);
        let last = moves().filter(out).map(|moved| moved.occurred_at).max();
        let gone = !batch.open || batch.is_finished();
        let lasted = last.filter(|_| gone).map(|last| self.day_of(last));
        let wasted = moves().filter(|moved| moved.other == Account::Waste);
        PotCompared {
            code: batch.code.clone(),
            made_on: batch.made_on,
            raw: batch.raw_mass(),
            main,
            net: batch.net_mass(),
            estimated: batch.estimated(),
            energy: hundred.get(Nutrient::EnergyKcal),
            protein: hundred.get(Nutrient::Protein),
            worth: self.worth(batch, batch.net_mass()),
            lasted_days: lasted.map(|day| (day - batch.made_on).num_days()),
            left: batch.left(),
            thrown_away: wasted.map(|moved| -moved.mass).sum(),
        }
    }
}

/// Of everything that goes into any of them besides the main one, in the order of the newest.
fn ratios(
    recipes: &[Recipe],
    main: Option<&str>,
    mains: &[Option<Mass>],
) -> Vec<(String, Vec<Option<f64>>)> {
    let mut names: Vec<String> = Vec::new();
    for line in recipes.iter().flat_map(|recipe| &recipe.lines) {
        let known = |name: &str| key(name) == key(&line.name);
        let weighed = line.mass.is_some();
        if weighed && !main.is_some_and(known) && !names.iter().any(|name| known(name)) {
            names.push(line.name.clone());
        }
    }
    let row = |name: String| {
        let pots = recipes.iter().zip(mains);
        let ratio = |(recipe, main): (&Recipe, &Option<Mass>)| {
            Some(mass_of(recipe, &name)?.grams() / main.as_ref()?.grams())
        };
        let row = pots.map(ratio).collect();
        (name, row)
    };
    names.into_iter().map(row).collect()
}

/// All lines of this name.
fn mass_of(recipe: &Recipe, name: &str) -> Option<Mass> {
    let named = recipe
        .lines
        .iter()
        .filter(|line| key(&line.name) == key(name));
    let masses: Vec<Mass> = named.filter_map(|line| line.mass).collect();
    (!masses.is_empty()).then(|| masses.into_iter().sum())
}
