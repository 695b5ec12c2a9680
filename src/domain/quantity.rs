//! From an amount as said to a mass.
//!
//! A mass is exact. A volume or a count goes through the household's taught measures first, then the
//! food's own rows, then its density, and is an estimate: powders and crystals vary by a tenth to a
//! quarter, coarse salt twofold.

use super::assumption::Assumption;
use super::kitchen::Kitchen;
use super::mass::Mass;
use super::pieces::{self, Said};
use super::problem::ProblemKind;
use super::resolve::{Thing, key};
use super::volume::{millilitres, word};
use crate::foods::{self, DensityBasis, Food, MeasureMatch};
use crate::lang::is_packed;
use crate::lang::syntax::{Amount, VolumeUnit};

/// Up to so many, a bare number before something that comes in pieces counts them: "2 onions", "12 eggs".
const PIECES_MAX: f64 = 12.0;
/// As many again if the name is a plural: "18 eggs".
const PIECES_PLURAL_MAX: f64 = 36.0;

/// So few of something without a piece weight are still pieces, plural or not.
const FEW_PIECES: f64 = 3.0;
/// A bare number below this before a dish is no weight: portions of a gram or two are not weighed.
const LEAST_BARE_GRAMS: f64 = 5.0;

/// Of a tin of beans or vegetables, what is left when it is drained: 240 g of 400 g is usually printed.
const DRAINED_SHARE: f64 = 0.6;

#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    pub mass: Mass,
    /// It comes from a volume or a count.
    pub estimated: bool,
    pub assumptions: Vec<Assumption>,
}

/// What an amount says, once the thing is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Meant {
    Quantity(Quantity),
    /// A share of what is left.
    Share(f64),
    /// Named, not counted.
    Uncounted,
    /// One of the two, or between them.
    Either(Amount, Amount),
}

/// The thing that is measured, with the words for it.
pub struct Measured<'a> {
    pub thing: &'a Thing,
    /// As typed: a plural tells pieces from grams.
    pub name: &'a str,
}

pub fn meant(kitchen: &Kitchen, amount: &Amount, of: &Measured) -> Result<Meant, ProblemKind> {
    if let Some(meant) = in_pieces(kitchen, amount, of) {
        return meant;
    }
    match amount {
        Amount::Share(share) => Ok(Meant::Share(*share)),
        Amount::Uncounted(_) => Ok(Meant::Uncounted),
        Amount::Between { low, high } => {
            let (low, high) = (end(kitchen, low, of)?, end(kitchen, high, of)?);
            Ok(Meant::Either(low, high))
        }
        Amount::Weighed { grams, said } => match packed(*grams, said, of) {
            Some((low, high)) => Ok(Meant::Either(amount.all_told(low), amount.all_told(high))),
            None => quantity(kitchen, amount, of).map(Meant::Quantity),
        },
        _ => quantity(kitchen, amount, of).map(Meant::Quantity),
    }
}

/// Of a batch that is counted: what its pieces weigh.
fn in_pieces(
    kitchen: &Kitchen,
    amount: &Amount,
    of: &Measured,
) -> Option<Result<Meant, ProblemKind>> {
    let Thing::Batches(batches) = of.thing else {
        return None;
    };
    Some(match pieces::said(kitchen, batches, amount)? {
        Said::Pieces(count) => {
            let mass = pieces::mass_of(kitchen, kitchen.in_turn(batches), count)?;
            let each = mass.grams() / count;
            let assumptions = Mass::from_grams(each).map(Assumption::Piece);
            estimate(mass.grams(), assumptions.into_iter().collect()).map(Meant::Quantity)
        }
        Said::Either(number) => Ok(Meant::Either(
            Amount::Pieces {
                count: number,
                measure: vec!["pieces".into()],
            },
            Amount::Mass(number),
        )),
    })
}

/// One end of a range, as it would be said alone: "3 carrots", "40 g".
fn end(kitchen: &Kitchen, amount: &Amount, of: &Measured) -> Result<Amount, ProblemKind> {
    let quantity = quantity(kitchen, amount, of)?;
    Ok(match amount {
        Amount::Bare(grams) if !quantity.estimated => Amount::Mass(*grams),
        _ => amount.clone(),
    })
}

/// What was measured in several goes.
fn sum(kitchen: &Kitchen, parts: &[Amount], of: &Measured) -> Result<Quantity, ProblemKind> {
    let mut whole = Quantity {
        mass: Mass::ZERO,
        estimated: false,
        assumptions: Vec::new(),
    };
    for part in parts {
        let part = quantity(kitchen, part, of)?;
        whole.mass += part.mass;
        whole.estimated |= part.estimated;
        for assumption in part.assumptions {
            if !whole.assumptions.contains(&assumption) {
                whole.assumptions.push(assumption);
            }
        }
    }
    Ok(whole)
}

/// "2 tins (400 g)": in all, or in each of them? "1 tin beans (400 g)": as printed, or as drained?
fn packed(grams: f64, said: &Amount, of: &Measured) -> Option<(f64, f64)> {
    let Amount::Pieces { count, measure } = said else {
        return None;
    };
    let printed = match is_tin(measure) && is_drained(of.thing) {
        true => count * grams * DRAINED_SHARE,
        false => count * grams,
    };
    let told = of.name.contains("drained");
    let ambiguous = is_packed(said) && printed != grams && !told;
    ambiguous.then(|| (grams.min(printed), grams.max(printed)))
}

fn quantity(kitchen: &Kitchen, amount: &Amount, of: &Measured) -> Result<Quantity, ProblemKind> {
    match amount {
        Amount::Mass(grams) => exact(*grams),
        Amount::Weighed { grams, .. } => {
            let mut quantity = exact(*grams)?;
            quantity.assumptions.push(Assumption::WeighedWins);
            Ok(quantity)
        }
        Amount::Each {
            count,
            grams,
            measure,
        } if is_tin(measure) && is_drained(of.thing) => estimate(
            count * grams * DRAINED_SHARE,
            vec![Assumption::DrainedShare],
        ),
        Amount::Each { count, grams, .. } => exact(count * grams),
        Amount::Bare(number) => bare(kitchen, *number, of),
        Amount::Pieces { count, measure } => by_the_piece(kitchen, *count, measure, of),
        Amount::Volume {
            count,
            unit,
            qualifiers,
        } => volume(kitchen, *count, *unit, qualifiers, of),
        Amount::Sum(parts) => sum(kitchen, parts, of),
        Amount::Share(_) | Amount::Uncounted(_) | Amount::Between { .. } => {
            Err(ProblemKind::MissingAmount {
                name: of.name.into(),
            })
        }
    }
}

fn is_tin(measure: &[String]) -> bool {
    measure.iter().any(|word| word == "can" || word == "jar")
}

/// The row is of the drained solids, and the weight printed on a tin is that of all that is in it.
fn is_drained(thing: &Thing) -> bool {
    food(thing).is_some_and(|food| {
        let words = foods::compared_words(&food.description);
        words.iter().any(|word| word == "drained")
    })
}

fn weighed(grams: f64) -> Result<Mass, ProblemKind> {
    Mass::weighed_out(grams).ok_or_else(|| ProblemKind::NotAMass {
        text: format!("{grams} g"),
    })
}

fn exact(grams: f64) -> Result<Quantity, ProblemKind> {
    Ok(Quantity {
        mass: weighed(grams)?,
        estimated: false,
        assumptions: Vec::new(),
    })
}

fn estimate(grams: f64, assumptions: Vec<Assumption>) -> Result<Quantity, ProblemKind> {
    Ok(Quantity {
        mass: weighed(grams)?,
        estimated: true,
        assumptions,
    })
}

/// A number without a unit: pieces of what comes in pieces, else grams.
fn bare(kitchen: &Kitchen, number: f64, of: &Measured) -> Result<Quantity, ProblemKind> {
    if let Thing::Food(code) = of.thing
        && let Some(food) = foods::table().get(*code)
    {
        let plural = of.name.trim_end().ends_with('s');
        let most = if plural {
            PIECES_PLURAL_MAX
        } else {
            PIECES_MAX
        };
        let few = number > 0.0 && number <= most;
        let taught = taught(kitchen, &[], of);
        if few && let Some(each) = taught {
            return estimate(each.grams() * number, Vec::new());
        }
        let own = food.measure_qualifiers(of.name);
        let own: Vec<&str> = own.iter().map(String::as_str).collect();
        if few && let Some(found) = food.weigh_measure(number, &own) {
            return matched(found);
        }
        // "3 parsnips", "1 butternut squash": pieces, and nobody knows what one weighs.
        let whole = number > 0.0 && number.fract() == 0.0;
        if whole && (number <= FEW_PIECES || (plural && number <= PIECES_MAX)) {
            return Err(ProblemKind::UnknownMeasure {
                measure: "piece".into(),
                name: of.name.into(),
            });
        }
    }
    if let Thing::Packet(_) = of.thing
        && number <= PIECES_MAX
        && let Some(each) = taught(kitchen, &["serving".to_owned()], of)
    {
        return estimate(each.grams() * number, Vec::new());
    }
    // "1 dal" is no gram of dal.
    let dish = matches!(of.thing, Thing::Batches(_) | Thing::Packet(_));
    if dish && number > 0.0 && number < LEAST_BARE_GRAMS {
        return Err(ProblemKind::MissingAmount {
            name: of.name.into(),
        });
    }
    exact(number)
}

fn by_the_piece(
    kitchen: &Kitchen,
    count: f64,
    measure: &[String],
    of: &Measured,
) -> Result<Quantity, ProblemKind> {
    if let Some(each) = taught(kitchen, measure, of) {
        return estimate(each.grams() * count, Vec::new());
    }
    if let Some(usual) = usual(kitchen, measure, of) {
        let one = vec![Assumption::Piece(usual)];
        return estimate(usual.grams() * count, one);
    }
    // "10 cherry tomatoes": the name itself may choose among the food's rows.
    let words: Vec<&str> = measure.iter().map(String::as_str).collect();
    let found = food(of.thing).and_then(|food| {
        let own = food.measure_qualifiers(of.name);
        let with_own: Vec<&str> = words
            .iter()
            .copied()
            .chain(own.iter().map(String::as_str))
            .collect();
        food.weigh_measure(count, &with_own)
            .or_else(|| food.weigh_measure(count, &words))
    });
    match found {
        Some(found) => matched(found),
        None => Err(ProblemKind::UnknownMeasure {
            measure: if measure.is_empty() {
                "piece".into()
            } else {
                measure.join(" ")
            },
            name: of.name.into(),
        }),
    }
}

/// "1 portion of dal": what people usually take of it.
fn usual(kitchen: &Kitchen, measure: &[String], of: &Measured) -> Option<Mass> {
    let [word] = measure else { return None };
    let Thing::Batches(batches) = of.thing else {
        return None;
    };
    let portion = matches!(word.as_str(), "portion" | "serving" | "helping");
    let component = kitchen.batches.get(batches.first()?)?.component;
    kitchen.usual_portion(component).filter(|_| portion)
}

fn matched(found: MeasureMatch) -> Result<Quantity, ProblemKind> {
    estimate(
        found.grams,
        vec![Assumption::Measure(found.measure.name.to_owned())],
    )
}

fn volume(
    kitchen: &Kitchen,
    count: f64,
    unit: VolumeUnit,
    qualifiers: &[String],
    of: &Measured,
) -> Result<Quantity, ProblemKind> {
    let system = kitchen.settings().measures;
    // "2 heaped tbsp": what was taught of heaped ones, before what was taught of any.
    let own = [qualifiers, &[word(unit).to_owned()]].concat();
    let taught_of = |measure: &[String]| taught(kitchen, measure, of);
    if let Some(each) = taught_of(&own).or_else(|| taught_of(&[word(unit).to_owned()])) {
        return estimate(each.grams() * count, Vec::new());
    }
    // A packet that is printed by volume: any measure of it by its millilitres.
    if matches!(of.thing, Thing::Packet(_))
        && let Some(each) = taught_of(&[word(VolumeUnit::Millilitre).to_owned()])
    {
        let ml = millilitres(unit, system) * count;
        return estimate(each.grams() * ml, vec![Assumption::Volume]);
    }
    let unknown = || ProblemKind::UnknownMeasure {
        measure: word(unit).into(),
        name: of.name.into(),
    };
    let food = food(of.thing).ok_or_else(unknown)?;
    let qualifiers: Vec<&str> = qualifiers.iter().map(String::as_str).collect();
    // A spoon or a cup has rows of its own, in United States measures; other systems scale them.
    if let Some(us_unit) = spoon_or_cup(unit)
        && let Some(found) = food.weigh_spoon_or_cup(us_unit, count, &qualifiers)
    {
        let scale = millilitres(unit, system) / us_unit.ml();
        let basis = match found.derived {
            true => Assumption::Volume,
            false => Assumption::Measure(found.measure.name.to_owned()),
        };
        return estimate(found.grams * scale, vec![basis]);
    }
    let density = food.grams_per_ml(&qualifiers).ok_or_else(unknown)?;
    let basis = match density.basis {
        DensityBasis::Row(_) => Assumption::Volume,
        DensityBasis::Usual(_) => Assumption::TypicalDensity,
    };
    let ml = millilitres(unit, system) * count;
    estimate(density.grams_per_ml * ml, vec![basis])
}

fn food(thing: &Thing) -> Option<&'static Food> {
    match thing {
        Thing::Food(code) => foods::table().get(*code),
        Thing::Batches(_) | Thing::Packet(_) => None,
    }
}

/// What the household has taught that one such measure of this weighs: of this very thing first,
/// of anything second; the latest word wins. A packet's own serving is a measure too.
fn taught(kitchen: &Kitchen, measure: &[String], of: &Measured) -> Option<Mass> {
    let wanted = key(&measure.join(" "));
    let mut names = vec![key(of.name)];
    if let Thing::Batches(batches) = of.thing {
        let batches = batches.iter().filter_map(|id| kitchen.batches.get(id));
        names.extend(batches.map(|batch| key(&batch.name)));
    }
    let same = |known: &&super::kitchen::Measure| key(&known.measure) == wanted;
    let named = |known: &&super::kitchen::Measure| {
        let known = known.key.as_ref();
        known.is_some_and(|known| {
            names
                .iter()
                .any(|name| name == known || name.ends_with(&format!(" {known}")))
        })
    };
    let measures = || kitchen.measures.iter().rev().filter(same);
    let own = measures().find(named);
    let any = || measures().find(|known| known.key.is_none() && !wanted.is_empty());
    if let Some(found) = own.or_else(any) {
        return Some(found.each);
    }
    let Thing::Packet(profile) = of.thing else {
        return None;
    };
    let packet = kitchen
        .packets
        .iter()
        .rev()
        .find(|packet| packet.profile == *profile)?;
    packet.serving.filter(|_| wanted == "serving")
}

fn spoon_or_cup(unit: VolumeUnit) -> Option<foods::VolumeUnit> {
    match unit {
        VolumeUnit::Teaspoon => Some(foods::VolumeUnit::Teaspoon),
        VolumeUnit::Tablespoon => Some(foods::VolumeUnit::Tablespoon),
        VolumeUnit::Cup => Some(foods::VolumeUnit::Cup),
        VolumeUnit::FluidOunce => Some(foods::VolumeUnit::FluidOunce),
        _ => None,
    }
}
