//! What is kept ready, what a pot holds, and what there is only so much of.

use super::super::{Step, Stop, find};
use super::goods::{self, mass};
use super::saying;
use crate::domain::change::Detail;
use crate::domain::draft::Draft;
use crate::domain::ids::{BatchId, ComponentId};
use crate::domain::kitchen::Component;
use crate::domain::origin::Origin;
use crate::domain::prep::answer::PrepAnswer;
use crate::domain::prep::books::{Limit, PrepDetail};
use crate::domain::prep::problem::PrepProblem;
use crate::domain::problem::ProblemKind;
use crate::domain::resolve::key;
use crate::lang::syntax::Words;

pub fn par(draft: &mut Draft, name: &Words, grams: Option<f64>) -> Step {
    let mass = grams.map(mass).transpose()?;
    let found = dish(draft, name);
    // What nobody cooks here is bought.
    let cooked = |found: &(ComponentId, String)| {
        let bought = find::batches(draft, name).is_ok_and(|batches| {
            let origin = |id: &BatchId| draft.kitchen.batch(*id).origin;
            batches.iter().all(|id| origin(id) == Origin::Bought)
        });
        !bought || draft.kitchen.recipe(found.0).is_some()
    };
    let (dish, name) = match found {
        Ok(found) if cooked(&found) => found,
        Ok(_) => return goods::keep(draft, name, mass),
        Err(stop) => match goods::good(draft, name).food.is_some() {
            true => return goods::keep(draft, name, mass),
            false => return Err(stop),
        },
    };
    draft.fact(Detail::Prep(PrepDetail::Par { dish, mass }));
    saying(PrepAnswer::Par {
        dish: name,
        mass,
        message: draft.credit,
    })
}

pub fn pot_holds(draft: &mut Draft, name: Option<&Words>, grams: f64) -> Step {
    let found = name.map(|name| dish(draft, name)).transpose()?;
    let (dish, name) = found.unzip();
    let mass = mass(grams)?;
    draft.fact(Detail::Prep(PrepDetail::PotHolds { dish, mass }));
    saying(PrepAnswer::PotHolds {
        dish: name,
        mass,
        message: draft.credit,
    })
}

pub fn limit(draft: &mut Draft, what: Limit, count: Option<u32>) -> Step {
    if count == Some(0) {
        return Err(ProblemKind::Prep(PrepProblem::NoneOfThem { what }).into());
    }
    draft.fact(Detail::Prep(PrepDetail::Limit { what, count }));
    let message = draft.credit;
    saying(PrepAnswer::Limit {
        what,
        count,
        message,
    })
}

/// The dish that words mean, and what it is called; it need not stand here now.
pub fn dish(draft: &Draft, name: &Words) -> Result<(ComponentId, String), Stop> {
    let wanted = key(&name.text);
    let known = &draft.kitchen.components;
    let found = match known.iter().find(|known| known.key == wanted) {
        Some(component) => component.id,
        None => match find::batches(draft, name) {
            Ok(batches) => draft.kitchen.batch(batches[0]).component,
            Err(stop) => match one_called(known, &wanted) {
                Some(component) => component.id,
                None => return Err(stop),
            },
        },
    };
    Ok((found, draft.kitchen.dish_name(found)))
}

/// The only dish that has all of these words in its name.
fn one_called<'a>(known: &'a [Component], wanted: &str) -> Option<&'a Component> {
    let called = |known: &&Component| {
        let mut words = wanted.split(' ');
        words.all(|word| known.key.split(' ').any(|own| own == word))
    };
    let mut found = known.iter().filter(called);
    let first = found.next()?;
    found.next().is_none().then_some(first)
}
