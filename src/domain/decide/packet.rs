//! A packet's label, for a food that the table lacks.
//!
//! A label whose energy and macronutrients disagree is doubted, not refused. The bounds are the
//! general factors of Regulation (EU) 1169/2011 Annex XIV: energy lies between 4P + 9F + 4(C - fibre)
//! + 7A and 4P + 9F + 4C + 7A, plus 2 x fibre where the carbohydrate excludes it.

use super::super::answer::{Answer, LabelDoubt, PacketAnswer};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::volume;
use super::{Done, Step, Stop};
use crate::foods::{KJ_PER_KCAL, Nutrient, Profile, SALT_PER_SODIUM};
use crate::lang::syntax::{Amount, LabelBasis, LabelField, Packet, VolumeUnit};

/// Doubted outside the bounds by more than this, or this share.
const DOUBT_KCAL: f64 = 20.0;
const DOUBT_SHARE: f64 = 0.15;
/// Pure fat has 900 kcal in 100 g by the general factors, 902 by the table's own.
const ENERGY_KCAL_MAX: f64 = 905.0;
/// Each figure of a label is rounded.
const ROUNDING_GRAMS: f64 = 3.0;

pub fn packet(draft: &mut Draft, packet: &Packet) -> Step {
    if packet.name.text.trim().is_empty() {
        return Err(ProblemKind::MissingName.into());
    }
    if packet.values.is_empty() {
        return Err(ProblemKind::MissingFigures.into());
    }
    if let Some(text) = below_nothing(&draft.input.text) {
        return Err(ProblemKind::NotAMass { text }.into());
    }
    let (per_grams, serving) = basis(&packet.basis)?;
    let per_100g = per_100g(packet, per_grams)?;
    let doubt = doubt(packet, &per_100g);
    let by_volume = matches!(packet.basis, LabelBasis::Per(Amount::Volume { .. }));
    let name = packet.name.text.trim().to_owned();
    let profile = draft.new_profile(None, Some(name.clone()), &name, per_100g);
    draft.fact(Detail::Packet {
        key: key(&name),
        name: name.clone(),
        profile,
        serving,
        doubted: doubt.is_some(),
    });
    if let Some((measure, each)) = measure_of(&packet.basis) {
        draft.fact(Detail::Measure {
            measure,
            key: Some(key(&name)),
            each,
        });
    }
    Ok(Done::saying(Answer::Packet(PacketAnswer {
        name,
        per_100g,
        serving,
        doubt,
        by_volume,
        message: draft.credit,
    })))
}

/// The measure that a label's basis weighs: "per tbsp (20 g)"; a millilitre of what is printed by volume is taken
/// as a gram.
fn measure_of(basis: &LabelBasis) -> Option<(String, Mass)> {
    match basis {
        LabelBasis::Per(Amount::Volume { .. }) => {
            let unit = volume::word(VolumeUnit::Millilitre);
            Some((unit.to_owned(), Mass::weighed_out(1.0)?))
        }
        LabelBasis::Per(Amount::Weighed { grams, said }) => match said.as_ref() {
            Amount::Volume { count, unit, .. } => {
                let each = Mass::weighed_out(grams / count)?;
                Some((volume::word(*unit).to_owned(), each))
            }
            Amount::Pieces { count, measure } if !measure.is_empty() => {
                Some((measure.join(" "), Mass::weighed_out(grams / count)?))
            }
            _ => None,
        },
        _ => None,
    }
}

/// A figure with a minus glued to it: no label has one.
fn below_nothing(text: &str) -> Option<String> {
    let figure = |word: &&str| {
        let digits = word.strip_prefix(['-', '−']);
        digits.is_some_and(|digits| digits.starts_with(|c: char| c.is_ascii_digit()))
    };
    text.split_whitespace().find(figure).map(str::to_owned)
}

/// The grams that the figures are for, and the serving if they are for one.
fn basis(basis: &LabelBasis) -> Result<(f64, Option<Mass>), Stop> {
    let sized = |grams: f64| {
        let mass = Mass::weighed_out(grams).ok_or(ProblemKind::NotAMass {
            text: format!("{grams} g"),
        })?;
        Ok((grams, (grams != 100.0).then_some(mass)))
    };
    match basis {
        LabelBasis::Per(Amount::Mass(grams) | Amount::Bare(grams)) => sized(*grams),
        LabelBasis::Per(Amount::Weighed { grams, .. }) => sized(*grams),
        // A drink is printed per 100 ml; a millilitre of it is taken as a gram.
        LabelBasis::Per(Amount::Volume { count, unit, .. }) => {
            let ml = volume::millilitres(*unit, crate::lang::syntax::MeasureSystem::Metric);
            sized(count * ml)
        }
        LabelBasis::Per(_) | LabelBasis::ServingUnsized => Err(ProblemKind::Malformed {
            form: "packet NAME per serving 30 g: 120 kcal, 4 protein, ...",
        }
        .into()),
    }
}

fn per_100g(packet: &Packet, per_grams: f64) -> Result<Profile, Stop> {
    let mut profile = Profile::default();
    let scale = 100.0 / per_grams;
    for (field, value) in &packet.values {
        if !value.is_finite() || *value < 0.0 {
            let text = value.to_string();
            return Err(ProblemKind::NotAMass { text }.into());
        }
        let (nutrient, amount) = match field {
            LabelField::EnergyKcal => (Nutrient::EnergyKcal, *value),
            LabelField::EnergyKj => {
                if profile.get(Nutrient::EnergyKcal).is_some()
                    || has(packet, LabelField::EnergyKcal)
                {
                    continue;
                }
                (Nutrient::EnergyKcal, value / KJ_PER_KCAL)
            }
            LabelField::Protein => (Nutrient::Protein, *value),
            LabelField::Fat => (Nutrient::Fat, *value),
            LabelField::SaturatedFat => (Nutrient::SaturatedFat, *value),
            LabelField::Carbohydrate => (Nutrient::Carbohydrate, *value),
            LabelField::Sugars => (Nutrient::Sugars, *value),
            LabelField::Fibre => (Nutrient::Fibre, *value),
            LabelField::Sodium => (Nutrient::Sodium, *value),
            LabelField::Alcohol => (Nutrient::Alcohol, *value),
            LabelField::Salt => (Nutrient::Sodium, value / SALT_PER_SODIUM * 1000.0),
        };
        profile.set(nutrient, Some(amount * scale));
    }
    Ok(profile)
}

fn has(packet: &Packet, wanted: LabelField) -> bool {
    packet.values.iter().any(|(field, _)| *field == wanted)
}

/// What about a label cannot be, if anything.
fn doubt(packet: &Packet, per_100g: &Profile) -> Option<LabelDoubt> {
    over_whole(packet, per_100g)
        .or_else(|| energy_doubt(packet, per_100g))
        .or_else(|| over_fat(per_100g))
}

/// Nothing holds more energy than fat.
fn over_fat(per_100g: &Profile) -> Option<LabelDoubt> {
    let printed_kcal = per_100g.get(Nutrient::EnergyKcal)?;
    (printed_kcal > ENERGY_KCAL_MAX).then(|| LabelDoubt::OverFat {
        printed_kcal,
        looks_like_kj: printed_kcal / KJ_PER_KCAL <= ENERGY_KCAL_MAX,
    })
}

/// A hundred grams hold no more than a hundred, and a part no more than its whole.
fn over_whole(packet: &Packet, per_100g: &Profile) -> Option<LabelDoubt> {
    let of = |nutrient| per_100g.get(nutrient);
    let parts = [
        (Nutrient::SaturatedFat, Nutrient::Fat),
        (Nutrient::Sugars, Nutrient::Carbohydrate),
    ];
    let over = |&(part, whole): &(Nutrient, Nutrient)| {
        of(part)
            .zip(of(whole))
            .is_some_and(|(part, whole)| part > whole + ROUNDING_GRAMS)
    };
    if let Some(&(part, whole)) = parts.iter().find(|pair| over(pair)) {
        return Some(LabelDoubt::OverPart { part, whole });
    }
    let fibre_apart = packet.us_label == Some(false);
    let salt = of(Nutrient::Sodium).map(|sodium_mg| sodium_mg * SALT_PER_SODIUM / 1000.0);
    let grams = [Nutrient::Protein, Nutrient::Fat, Nutrient::Carbohydrate]
        .into_iter()
        .map(of)
        .chain([of(Nutrient::Fibre).filter(|_| fibre_apart), salt])
        .flatten()
        .sum::<f64>();
    (grams > 100.0 + ROUNDING_GRAMS).then_some(LabelDoubt::OverWhole { grams })
}

/// Whether the printed energy fits the macronutrients; needs all three.
fn energy_doubt(packet: &Packet, per_100g: &Profile) -> Option<LabelDoubt> {
    let of = |nutrient| per_100g.get(nutrient);
    let printed_kcal = of(Nutrient::EnergyKcal)?;
    let carbohydrate = of(Nutrient::Carbohydrate)?;
    let fibre = of(Nutrient::Fibre).unwrap_or(0.0);
    let fixed = 4.0 * of(Nutrient::Protein)?
        + 9.0 * of(Nutrient::Fat)?
        + 7.0 * of(Nutrient::Alcohol).unwrap_or(0.0);
    let us_label = packet.us_label == Some(true);
    let low_kcal = fixed + 4.0 * (carbohydrate - fibre).max(0.0);
    let high_kcal = fixed + 4.0 * carbohydrate + if us_label { 0.0 } else { 2.0 * fibre };
    let outside = |kcal: f64| {
        let slack = DOUBT_KCAL.max(DOUBT_SHARE * kcal);
        kcal < low_kcal - slack || kcal > high_kcal + slack
    };
    outside(printed_kcal).then(|| LabelDoubt::Energy {
        printed_kcal,
        low_kcal,
        high_kcal,
        looks_like_kj: !outside(printed_kcal / KJ_PER_KCAL),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::syntax::Words;

    fn label(values: &[(LabelField, f64)]) -> Packet {
        Packet {
            name: Words::plain("miso paste"),
            basis: LabelBasis::Per(Amount::Mass(100.0)),
            values: values.to_vec(),
            us_label: None,
        }
    }

    fn doubted(values: &[(LabelField, f64)]) -> Option<LabelDoubt> {
        let packet = label(values);
        let Ok(profile) = per_100g(&packet, 100.0) else {
            panic!("readable")
        };
        doubt(&packet, &profile)
    }

    /// Annex XIV factors: 12 g protein, 30 g carbohydrate, 8 g fat, 5 g fibre are 250 kcal.
    #[test]
    fn the_regulations_factors_are_not_doubted() {
        use LabelField::*;
        let annex = [
            (EnergyKcal, 250.0),
            (Protein, 12.0),
            (Carbohydrate, 30.0),
            (Fat, 8.0),
            (Fibre, 5.0),
        ];
        assert_eq!(doubted(&annex), None);
    }

    #[test]
    fn kilojoules_typed_as_kilocalories_are_doubted() {
        use LabelField::*;
        let slip = [
            (EnergyKcal, 1050.0),
            (Protein, 12.0),
            (Carbohydrate, 30.0),
            (Fat, 8.0),
            (Fibre, 5.0),
        ];
        let fits = |doubt| {
            matches!(
                doubt,
                LabelDoubt::Energy {
                    looks_like_kj: true,
                    ..
                } | LabelDoubt::OverFat {
                    looks_like_kj: true,
                    ..
                }
            )
        };
        assert!(doubted(&slip).is_some_and(fits));
    }

    #[test]
    fn what_cannot_be_in_a_hundred_grams_is_doubted() {
        use LabelField::*;
        assert!(matches!(
            doubted(&[(EnergyKcal, 9000.0)]),
            Some(LabelDoubt::OverFat {
                looks_like_kj: false,
                ..
            })
        ));
        assert_eq!(doubted(&[(EnergyKcal, 900.0)]), None);
        let heavy = [
            (EnergyKcal, 650.0),
            (Protein, 60.0),
            (Fat, 30.0),
            (Carbohydrate, 40.0),
        ];
        assert!(matches!(
            doubted(&heavy),
            Some(LabelDoubt::OverWhole { .. })
        ));
        let sweet = [(EnergyKcal, 400.0), (Carbohydrate, 70.0), (Sugars, 90.0)];
        assert!(matches!(doubted(&sweet), Some(LabelDoubt::OverPart { .. })));
    }

    #[test]
    fn salt_and_kilojoules_are_converted() {
        use LabelField::*;
        let Ok(profile) = per_100g(&label(&[(EnergyKj, 836.8), (Salt, 9.3)]), 50.0) else {
            panic!("readable")
        };
        assert!((profile.get(Nutrient::EnergyKcal).unwrap_or(0.0) - 400.0).abs() < 1e-9);
        assert!((profile.get(Nutrient::Sodium).unwrap_or(0.0) - 7440.0).abs() < 1e-9);
        assert_eq!(profile.get(Nutrient::Fat), None);
    }
}
