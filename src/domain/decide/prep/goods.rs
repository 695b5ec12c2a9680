//! What is told of something that is bought.

use super::super::{Decision, Input, OnProblem, Step, Stop, carry_out as decided};
use super::saying;
use crate::domain::batch::Money;
use crate::domain::change::Detail;
use crate::domain::draft::Draft;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::{GoodAnswer, PrepAnswer};
use crate::domain::prep::books::PrepDetail;
use crate::domain::prep::goods::{Cupboard, Good, GoodFact, table_refuse};
use crate::domain::prep::problem::PrepProblem;
use crate::domain::problem::ProblemKind;
use crate::domain::resolve::{Thing, Use, key, resolve};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, GoodTold, Prep, Words};

pub fn tell(draft: &mut Draft, name: &Words, told: &GoodTold) -> Step {
    let fact = fact(told)?;
    write(draft, name, fact)
}

/// So much of it is to be at home.
pub fn keep(draft: &mut Draft, name: &Words, mass: Option<Mass>) -> Step {
    write(draft, name, GoodFact::AtHome(mass))
}

fn write(draft: &mut Draft, name: &Words, fact: GoodFact) -> Step {
    let good = good(draft, name);
    let detail = PrepDetail::Good(good.clone(), fact.clone());
    draft.fact(Detail::Prep(detail));
    let known = good.food.is_some();
    saying(PrepAnswer::Good(GoodAnswer {
        refuse: draft.kitchen.prep.goods.refuse(&good),
        by_table: known.then(|| table_refuse(&good)),
        good,
        fact,
        message: draft.credit,
    }))
}

/// "red lentils cost 2.40 a kilo" right after it was told what things cost. Said among people of anything else, it is
/// theirs.
pub fn priced(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    if !input.spoken_of_prices() {
        return None;
    }
    let said = parsed.readings.iter().find_map(|reading| {
        let [said @ Command::Prep(Prep::Good { told, .. })] = reading.commands.as_slice() else {
            return None;
        };
        matches!(told, GoodTold::Price { .. }).then_some(said)
    })?;
    let draft = Draft::new(kitchen, input);
    Some(decided(
        draft,
        std::slice::from_ref(said),
        OnProblem::Forget,
    ))
}

/// What the words are, if there is no doubt of it: else they stand for themselves.
pub fn good(draft: &Draft, name: &Words) -> Good {
    let found = resolve(
        &draft.kitchen,
        name,
        Use::Ingredient { dish: "" },
        draft.today(),
    );
    let food = found.ok().and_then(|found| match found.thing {
        Thing::Food(code) => Some(code),
        Thing::Batches(_) | Thing::Packet(_) => None,
    });
    Good {
        food,
        key: key(&name.text),
        words: name.text.clone(),
    }
}

pub fn mass(grams: f64) -> Result<Mass, Stop> {
    Mass::weighed_out(grams).ok_or_else(|| {
        let text = format!("{grams} g");
        ProblemKind::NotAMass { text }.into()
    })
}

fn fact(told: &GoodTold) -> Result<GoodFact, Stop> {
    Ok(match told {
        GoodTold::Trimmed { bought, trimmed } => {
            let (bought, trimmed) = (mass(*bought)?, mass(*trimmed)?);
            if trimmed > bought {
                let problem = PrepProblem::TrimmedHeavier { bought, trimmed };
                return Err(ProblemKind::Prep(problem).into());
            }
            GoodFact::Trimmed { bought, trimmed }
        }
        GoodTold::Pack { grams, word } => GoodFact::Pack {
            mass: mass(*grams)?,
            word: word.clone(),
        },
        GoodTold::Price {
            hundredths,
            currency,
            grams,
        } => GoodFact::Price {
            money: Money {
                hundredths: *hundredths,
                currency: currency.clone(),
            },
            mass: mass(*grams)?,
        },
        GoodTold::InCupboard(grams) => GoodFact::Cupboard(Cupboard::Holds(mass(*grams)?)),
        GoodTold::Always => GoodFact::Cupboard(Cupboard::Always),
        GoodTold::Out => GoodFact::Cupboard(Cupboard::Out),
    })
}
