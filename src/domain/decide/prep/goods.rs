//! What is told of something that is bought.

use super::super::{Decision, Done, Input, OnProblem, Step, Stop, carry_out as decided};
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
use crate::domain::quantity::{Meant, Measured, meant};
use crate::domain::resolve::{Thing, Use, key, resolve};
use crate::lang::Parsed;
use crate::lang::syntax::{Amount, Command, GoodTold, Prep, VolumeUnit, Words};

/// How what is told lies on the board, and not in the shop.
const TRIMMED: [&str; 3] = ["trimmed", "peeled", "cleaned"];

pub fn tell(draft: &mut Draft, name: &Words, told: &GoodTold) -> Step {
    let fact = fact(draft, name, told)?;
    write(draft, name, fact)
}

/// What a litre of it weighs, by the table.
fn of_litre(draft: &Draft, name: &Words) -> Result<Mass, Stop> {
    let unknown = || ProblemKind::UnknownMeasure {
        measure: "litre".to_owned(),
        name: name.text.clone(),
    };
    let food = good(draft, name).food.ok_or_else(unknown)?;
    let amount = Amount::Volume {
        count: 1.0,
        unit: VolumeUnit::Litre,
        qualifiers: Vec::new(),
    };
    let measured = Measured {
        thing: &Thing::Food(food),
        name: &name.text,
    };
    match meant(&draft.kitchen, &amount, &measured)? {
        Meant::Quantity(quantity) => Ok(quantity.mass),
        Meant::Share(_) | Meant::Uncounted | Meant::Either(..) => Err(unknown().into()),
    }
}

/// There is enough of each of these.
pub fn stocked(draft: &mut Draft, names: &[Words]) -> Step {
    let mut done = Done::default();
    for name in names {
        done.answers
            .extend(tell(draft, name, &GoodTold::Always)?.answers);
    }
    Ok(done)
}

/// So much of it is to be at home.
pub fn keep(draft: &mut Draft, name: &Words, mass: Option<Mass>) -> Step {
    write(draft, name, GoodFact::AtHome(mass))
}

fn write(draft: &mut Draft, name: &Words, fact: GoodFact) -> Step {
    let good = used(draft, name)?;
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
        let [said] = reading.commands.as_slice() else {
            return None;
        };
        let price = match said {
            Command::Prep(Prep::Good { told, .. }) => told.is_price(),
            // Of a dish that is called as what goes into it, it is asked which is meant.
            Command::Price(_) => true,
            _ => false,
        };
        price.then_some(said)
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

/// The same, as it is called where it goes in: "rice" is the brown rice, if that is the only one that is used here.
fn used(draft: &Draft, name: &Words) -> Result<Good, Stop> {
    let told = good(draft, name);
    let kitchen = &draft.kitchen;
    let open = kitchen
        .open_batches()
        .flat_map(|batch| kitchen.recipe_of(batch).lines);
    let cooked = open.filter_map(|line| line.good);
    let listed = kitchen.prep.shop.open().into_iter();
    let listed = listed.flat_map(|list| list.lines.into_iter().map(|line| line.good));
    let known = kitchen
        .prep
        .goods
        .told
        .iter()
        .map(|(_, good, _)| good.clone());
    let mut called: Vec<Good> = Vec::new();
    for good in cooked.chain(listed).chain(known) {
        if good.is(&told) {
            return Ok(told);
        }
        if good.is_kind_of(&told) && !called.iter().any(|other| other.is(&good)) {
            called.push(good);
        }
    }
    match called.as_slice() {
        [] => Ok(told),
        [one] => Ok(one.clone()),
        several => {
            let goods = several.iter().map(|good| good.words.clone()).collect();
            let name = name.text.clone();
            Err(ProblemKind::Prep(PrepProblem::SeveralGoods { name, goods }).into())
        }
    }
}

/// What is put on a list: "700 g trimmed parsnips" are bought with what is trimmed off.
pub fn as_bought(draft: &Draft, name: &Words, mass: Option<Mass>) -> (Good, Option<Mass>) {
    let cut = TRIMMED.iter().find_map(|word| {
        let rest = name.text.strip_prefix(word)?.strip_prefix(' ')?;
        Some(Words::plain(rest.to_owned()))
    });
    let good = good(draft, cut.as_ref().unwrap_or(name));
    let refuse = draft.kitchen.prep.goods.refuse(&good);
    let mass = match cut {
        Some(_) => mass.map(|mass| refuse.bought(mass)),
        None => mass,
    };
    (good, mass)
}

pub fn mass(grams: f64) -> Result<Mass, Stop> {
    Mass::weighed_out(grams).ok_or_else(|| {
        let text = format!("{grams} g");
        ProblemKind::NotAMass { text }.into()
    })
}

fn fact(draft: &Draft, name: &Words, told: &GoodTold) -> Result<GoodFact, Stop> {
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
        GoodTold::PerLitre {
            hundredths,
            currency,
        } => GoodFact::Price {
            money: Money {
                hundredths: *hundredths,
                currency: currency.clone(),
            },
            mass: of_litre(draft, name)?,
        },
        GoodTold::InCupboard(grams) => GoodFact::Cupboard(Cupboard::Holds(mass(*grams)?)),
        GoodTold::Always => GoodFact::Cupboard(Cupboard::Always),
        GoodTold::Out => GoodFact::Cupboard(Cupboard::Out),
    })
}
