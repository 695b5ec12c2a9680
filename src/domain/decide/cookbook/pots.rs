//! Pots of a dish beside each other, what one costs, and what was spent.

use super::{dish, saying};
use crate::domain::batch::{Batch, Money};
use crate::domain::cookbook::answer::{CookbookAnswer, CostAnswer, SpentAnswer};
use crate::domain::cookbook::problem::CookbookProblem;
use crate::domain::decide::{Step, Stop, report};
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;
use crate::domain::problem::ProblemKind;
use crate::domain::worth::Worth;
use crate::lang::syntax::{Period, Words};

const WEEK_DAYS: f64 = 7.0;
/// More of them beside each other nobody reads on a phone.
const COMPARED_MOST: usize = 5;

pub fn compare(draft: &mut Draft, name: Option<&Words>, wanted: u32) -> Step {
    let kitchen = &draft.kitchen;
    let of_dish = match name {
        Some(name) => dish(draft, name, |dish| kitchen.recipe(dish).is_some())?,
        None => {
            let spoken = draft.input.spoken_dish();
            let spoken = spoken.and_then(|(name, _)| kitchen.dishes_named(name).first().copied());
            let newest = || kitchen.newest_pot().map(|pot| pot.component);
            spoken.or_else(newest).ok_or(CookbookProblem::WhichDish)?
        }
    };
    let pots = kitchen.pots(of_dish).into_iter();
    let told: Vec<&Batch> = pots.filter(|batch| !batch.lines.is_empty()).collect();
    // What nobody weighed yet says nothing but what was expected of it.
    let weighed = told.iter().copied().filter(|batch| !batch.estimated());
    let weighed: Vec<&Batch> = weighed.collect();
    let wanted = (wanted as usize).clamp(2, COMPARED_MOST);
    let recent = told.iter().take(wanted).filter(|batch| batch.estimated());
    let unweighed: Vec<String> = recent.map(|batch| batch.code.clone()).collect();
    let (pots, unweighed) = match weighed.len() < 2 {
        true => (told, Vec::new()),
        false => (weighed, unweighed),
    };
    let pots: Vec<&Batch> = pots.into_iter().take(wanted).collect();
    let name = draft.kitchen.dish_name(of_dish);
    if pots.len() < 2 {
        return Err(CookbookProblem::OnePot { name }.into());
    }
    let mut compared = kitchen.compared(&name, &pots, draft.today());
    compared.unweighed = unweighed;
    Ok(saying(CookbookAnswer::Compared(compared)))
}

pub fn cost(draft: &mut Draft, name: &Words) -> Step {
    let kitchen = &draft.kitchen;
    let of_dish = dish(draft, name, |dish| newest(draft, dish).is_some())?;
    let Some(batch) = newest(draft, of_dish) else {
        let name = draft.kitchen.dish_name(of_dish);
        return Err(CookbookProblem::NoRecipe { name }.into());
    };
    let priced = |mass: Mass| (mass, kitchen.worth(batch, mass));
    let pace = kitchen.pace(of_dish, draft.today());
    let per_week = pace.and_then(|pace| Mass::weighed_out(pace.a_day * WEEK_DAYS));
    Ok(saying(CookbookAnswer::Cost(CostAnswer {
        name: draft.kitchen.dish_name(of_dish),
        code: batch.code.clone(),
        made_on: batch.made_on,
        today: draft.today(),
        net: batch.net_mass(),
        estimated: batch.estimated(),
        worth: kitchen.worth(batch, batch.net_mass()),
        unpriced: kitchen.unpriced(batch),
        portion: kitchen.usual_portion(of_dish).map(priced),
        week: per_week.map(priced),
    })))
}

/// The newest batch of it that holds anything, however it came here.
fn newest<'a>(draft: &'a Draft, dish: ComponentId) -> Option<&'a Batch> {
    let batches = draft.kitchen.batches.values();
    let of_it = batches.filter(|batch| batch.component == dish && !batch.voided);
    let held = of_it.filter(|batch| batch.net_mass().mg() > 0);
    held.max_by_key(|batch| (batch.made_at, batch.id))
}

pub fn spent(draft: &mut Draft, period: Period) -> Step {
    let today = draft.today();
    let no_such = || Stop::from(ProblemKind::FutureDate);
    let (from, until) = report::days(period, today).ok_or_else(no_such)?;
    let kitchen = &draft.kitchen;
    let mut dishes: Vec<(String, Worth)> = Vec::new();
    let mut all = Worth::default();
    let bought = |batch: &&Batch| {
        let own = matches!(batch.origin, Origin::Cooked | Origin::Bought);
        own && !batch.voided && (from..=until).contains(&batch.made_on)
    };
    for batch in kitchen.batches.values().filter(bought) {
        let worth = kitchen.worth_of_bought(batch);
        all.add(&worth);
        match dishes.iter_mut().find(|(name, _)| *name == batch.name) {
            Some((_, known)) => known.add(&worth),
            None => dishes.push((batch.name.clone(), worth)),
        }
    }
    let plain = kitchen.plain_eaten.iter();
    for (_, profile, mass) in plain.filter(|(day, ..)| (from..=until).contains(day)) {
        let Some(good) = kitchen.good_of_profile(*profile) else {
            continue;
        };
        let worth = kitchen.worth_of_plain(&good, *mass);
        all.add(&worth);
        // Of what has no price only the sum is told: nobody prices every egg.
        match dishes.iter_mut().find(|(name, _)| *name == good.words) {
            _ if worth.cost.is_empty() => {}
            Some((_, known)) => known.add(&worth),
            None => dishes.push((good.words, worth)),
        }
    }
    let first = |worth: &Worth| {
        worth
            .cost
            .first()
            .map_or(0, |money: &Money| money.hundredths)
    };
    dishes.sort_by_key(|(_, worth)| std::cmp::Reverse((first(worth), worth.unpriced)));
    Ok(saying(CookbookAnswer::Spent(SpentAnswer {
        from,
        until: until.min(today),
        today,
        worth: all,
        dishes,
    })))
}
