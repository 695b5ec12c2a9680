//! Spoons, cups and densities: the weight of a volume of a food, by the release's own cup and spoon rows.
//!
//! The release measures in United States customary units (NIST SP 430): a cup is 236.5882365 ml, 16 tablespoons,
//! 48 teaspoons, 8 fluid ounces.

use std::sync::OnceLock;

use super::measure::{MeasureMatch, Row, measure_words, weigh_rows};
use super::names::compared_words;
use super::table::{Food, Measure};

/// A United States customary measure of volume.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum VolumeUnit {
    Cup,
    FluidOunce,
    Tablespoon,
    Teaspoon,
}

impl VolumeUnit {
    /// The larger first, since their rows are the less rounded.
    pub const ALL: [VolumeUnit; 4] = [
        VolumeUnit::Cup,
        VolumeUnit::FluidOunce,
        VolumeUnit::Tablespoon,
        VolumeUnit::Teaspoon,
    ];

    /// Its volume in millilitres.
    pub fn ml(self) -> f64 {
        const CUP_ML: f64 = 236.588_236_5;
        match self {
            VolumeUnit::Cup => CUP_ML,
            VolumeUnit::FluidOunce => CUP_ML / 8.0,
            VolumeUnit::Tablespoon => CUP_ML / 16.0,
            VolumeUnit::Teaspoon => CUP_ML / 48.0,
        }
    }

    /// The unit that a row of the release begins with.
    fn of(row: &Row) -> Option<VolumeUnit> {
        match row.words.first()?.as_str() {
            "cup" => Some(VolumeUnit::Cup),
            "fl" => Some(VolumeUnit::FluidOunce),
            "tbsp" => Some(VolumeUnit::Tablespoon),
            "tsp" => Some(VolumeUnit::Teaspoon),
            _ => None,
        }
    }

    fn words(self) -> &'static [&'static str] {
        match self {
            VolumeUnit::Cup => &["cup"],
            VolumeUnit::FluidOunce => &["fl", "oz"],
            VolumeUnit::Tablespoon => &["tbsp"],
            VolumeUnit::Teaspoon => &["tsp"],
        }
    }
}

/// What a millilitre of a food weighs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Density {
    pub grams_per_ml: f64,
    pub basis: DensityBasis,
    /// Other rows with other weights would have fitted too, or a typed word was passed over: to be said.
    pub preferred: bool,
}

/// What a density rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DensityBasis {
    /// A row of the release.
    Row(Measure),
    /// A usual density of such liquids, with its source.
    Usual(&'static str),
}

impl Food {
    /// The density, through the food's own cup, fluid ounce or spoon rows, as filled by the qualifiers
    /// (`["sliced"]`); for a liquid without such rows, a usual one. `None` if neither is known.
    pub fn grams_per_ml(&self, qualifiers: &[&str]) -> Option<Density> {
        let qualifiers = measure_words(&qualifiers.join(" "));
        let found = VolumeUnit::ALL.into_iter().find_map(|unit| {
            let found = self.weigh_unit(unit, &qualifiers)?;
            let grams_per_ml = found.grams / unit.ml();
            let basis = DensityBasis::Row(found.measure);
            Some(Density {
                grams_per_ml,
                basis,
                preferred: found.preferred,
            })
        });
        found.or_else(|| self.usual_density())
    }

    /// Weighs `count` cups or spoons, through the food's own row for that unit or, flagged as derived, through
    /// another.
    pub fn weigh_spoon_or_cup(
        &self,
        unit: VolumeUnit,
        count: f64,
        qualifiers: &[&str],
    ) -> Option<MeasureMatch> {
        let words = measure_words(&qualifiers.join(" "));
        if let Some(own) = self.weigh_unit(unit, &words) {
            return Some(MeasureMatch {
                grams: own.grams * count,
                ..own
            });
        }
        let density = self.grams_per_ml(qualifiers)?;
        let DensityBasis::Row(measure) = density.basis else {
            return None;
        };
        let grams = density.grams_per_ml * unit.ml() * count;
        Some(MeasureMatch {
            grams,
            measure,
            preferred: density.preferred,
            derived: true,
        })
    }

    /// One of the unit by its own rows.
    fn weigh_unit(&self, unit: VolumeUnit, qualifiers: &[String]) -> Option<MeasureMatch> {
        let rows: Vec<Row> = self
            .measures
            .iter()
            .filter_map(Row::read)
            .filter(|row| VolumeUnit::of(row) == Some(unit))
            .collect();
        let own = self.own_words();
        let weigh = |qualifiers: &[String]| {
            let mut typed: Vec<String> = unit.words().iter().map(|&word| word.to_owned()).collect();
            typed.extend_from_slice(qualifiers);
            weigh_rows(1.0, &rows, &typed, &own)
        };
        // A qualifier that no row knows ("finely") cannot choose one.
        let knows = |word: &&String| rows.iter().any(|row| row.words.contains(word));
        let known: Vec<String> = qualifiers.iter().filter(knows).cloned().collect();
        let passed_over = || {
            Some(MeasureMatch {
                preferred: true,
                ..weigh(&known).or_else(|| weigh(&[]))?
            })
        };
        weigh(qualifiers).or_else(passed_over)
    }

    fn usual_density(&self) -> Option<Density> {
        if !self.is_liquid() {
            return None;
        }
        let words = compared_words(&self.description);
        let (_, grams_per_ml, source) = usual_densities()
            .iter()
            .find(|(word, ..)| *word == "*" || words.iter().any(|own| own == word))?;
        let basis = DensityBasis::Usual(source);
        Some(Density {
            grams_per_ml: *grams_per_ml,
            basis,
            preferred: false,
        })
    }
}

/// `densities.txt`: word, grams per ml, source.
fn usual_densities() -> &'static [(&'static str, f64, &'static str)] {
    static DENSITIES: OnceLock<Vec<(&'static str, f64, &'static str)>> = OnceLock::new();
    DENSITIES.get_or_init(|| {
        let lines = include_str!("data/densities.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        let row = |line: &'static str| {
            let (word, rest) = line.split_once(" = ")?;
            let (density, source) = rest.split_once("; ")?;
            Some((word, density.parse().ok()?, source))
        };
        lines
            .map(|line| row(line).unwrap_or_else(|| panic!("a malformed density: {line}")))
            .collect()
    })
}
