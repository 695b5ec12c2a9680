//! What is kept ready, what a pot holds, and what there is only so much of.

use super::super::{Step, Stop, find};
use super::saying;
use crate::domain::change::Detail;
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::PrepAnswer;
use crate::domain::prep::books::{Limit, PrepDetail};
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::Words;

pub fn par(draft: &mut Draft, name: &Words, grams: Option<f64>) -> Step {
    let (dish, name) = dish(draft, name)?;
    let mass = grams.map(mass).transpose()?;
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
    draft.fact(Detail::Prep(PrepDetail::Limit { what, count }));
    let message = draft.credit;
    saying(PrepAnswer::Limit {
        what,
        count,
        message,
    })
}

/// The dish that words mean, and what it is called.
fn dish(draft: &Draft, name: &Words) -> Result<(ComponentId, String), Stop> {
    let found = find::batches(draft, name)?;
    let component = draft.kitchen.batch(found[0]).component;
    let mut known = draft.kitchen.components.iter();
    let known = known.find(|known| known.id == component);
    let name = known.map_or_else(String::new, |known| known.name.clone());
    Ok((component, name))
}

fn mass(grams: f64) -> Result<Mass, Stop> {
    Mass::weighed_out(grams).ok_or_else(|| {
        let text = format!("{grams} g");
        ProblemKind::NotAMass { text }.into()
    })
}
