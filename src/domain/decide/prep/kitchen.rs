//! What is kept ready, what a pot holds, and what there is only so much of.

use super::super::{Step, Stop, find};
use super::goods::mass;
use super::saying;
use crate::domain::change::Detail;
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::kitchen::Component;
use crate::domain::prep::answer::PrepAnswer;
use crate::domain::prep::books::{Limit, PrepDetail};
use crate::domain::resolve::key;
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
    Ok((found, name_of(draft, found)))
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

pub fn name_of(draft: &Draft, dish: ComponentId) -> String {
    let mut known = draft.kitchen.components.iter();
    let known = known.find(|known| known.id == dish);
    known.map_or_else(String::new, |known| known.name.clone())
}
