//! How much a unit of volume holds, which differs by the household's system of measures.

use crate::lang::syntax::{MeasureSystem, VolumeUnit};

/// The unit's word, under which a measure of it may be taught.
pub fn word(unit: VolumeUnit) -> &'static str {
    match unit {
        VolumeUnit::Millilitre => "ml",
        VolumeUnit::Centilitre => "cl",
        VolumeUnit::Decilitre => "dl",
        VolumeUnit::Litre => "l",
        VolumeUnit::Teaspoon => "tsp",
        VolumeUnit::Tablespoon => "tbsp",
        VolumeUnit::Cup => "cup",
        VolumeUnit::FluidOunce => "fl oz",
        VolumeUnit::Pint => "pint",
        VolumeUnit::Quart => "quart",
        VolumeUnit::Gallon => "gallon",
    }
}

/// One of the unit, in millilitres, in a system of measures.
///
/// United States: cup 236.5882365, fluid ounce 29.5735295625, tablespoon 14.78676478125, teaspoon
/// 4.92892159375, pint two cups, quart four, gallon sixteen (NIST Special Publication 430 and the
/// definition of the inch). Metric: cup 250, tablespoon 15, teaspoon 5. Australian: the same with a
/// tablespoon of 20. British: metric cups and spoons, imperial pint 568.26125, fluid ounce 28.4130625.
pub fn millilitres(unit: VolumeUnit, system: MeasureSystem) -> f64 {
    use MeasureSystem::{Australian, British, Metric, UsCustomary};
    const US_CUP: f64 = 236.588_236_5;
    const IMPERIAL_PINT: f64 = 568.261_25;
    match (unit, system) {
        (VolumeUnit::Millilitre, _) => 1.0,
        (VolumeUnit::Centilitre, _) => 10.0,
        (VolumeUnit::Decilitre, _) => 100.0,
        (VolumeUnit::Litre, _) => 1000.0,
        (VolumeUnit::Teaspoon, UsCustomary) => US_CUP / 48.0,
        (VolumeUnit::Teaspoon, _) => 5.0,
        (VolumeUnit::Tablespoon, UsCustomary) => US_CUP / 16.0,
        (VolumeUnit::Tablespoon, Australian) => 20.0,
        (VolumeUnit::Tablespoon, _) => 15.0,
        (VolumeUnit::Cup, UsCustomary) => US_CUP,
        (VolumeUnit::Cup, _) => 250.0,
        (VolumeUnit::FluidOunce, British | Australian) => IMPERIAL_PINT / 20.0,
        (VolumeUnit::FluidOunce, UsCustomary | Metric) => US_CUP / 8.0,
        (VolumeUnit::Pint, UsCustomary) => 2.0 * US_CUP,
        (VolumeUnit::Pint, _) => IMPERIAL_PINT,
        (VolumeUnit::Quart, UsCustomary) => 4.0 * US_CUP,
        (VolumeUnit::Quart, _) => 2.0 * IMPERIAL_PINT,
        (VolumeUnit::Gallon, UsCustomary) => 16.0 * US_CUP,
        (VolumeUnit::Gallon, _) => 8.0 * IMPERIAL_PINT,
    }
}
