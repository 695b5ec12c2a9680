//! The composition table: find a food by name, its nutrients per 100 g, its household measures.
//!
//! The data is the USDA National Nutrient Database for Standard Reference, Release 28 (2015, slightly revised
//! 2016), a work of the United States government in the public domain: 8,789 foods and 15,438 household weights,
//! packed into the program. `tests/table/generate.rs` says where the release comes from and packs it.
//!
//! - [`Table::find`] says what a name means, what it left open, or that it means nothing;
//!   [`Table::near`] offers names that are spelt nearly so.
//! - [`Food::per_100g`](Food) holds the nutrients, unknown ones as `None`.
//! - [`Food::weigh_measure`], [`Food::weigh_spoon_or_cup`] and [`Food::grams_per_ml`] turn pieces, cups, spoons and
//!   millilitres into grams.
//! - [`Food::cooked_yield`] says how a food behaves in a pot.
//!
//! Which words mean what is data: `data/*.txt`.

mod code;
mod cooking;
mod measure;
mod names;
mod nutrient;
pub mod packed;
mod table;
mod volume;

use std::sync::OnceLock;

pub use code::{Code, NotACode};
pub use cooking::CookedYield;
pub use measure::MeasureMatch;
pub(crate) use names::WordMap;
pub use names::{
    Alias, Ambiguity, Found, How, Letters, Match, Near, compared_words, sounds_alike,
    spelled_nearly,
};
pub use nutrient::{KJ_PER_KCAL, Nutrient, Profile, SALT_PER_SODIUM};
pub use table::{Food, Group, Measure, Table};
pub use volume::{Density, DensityBasis, VolumeUnit};

/// The table of the program, unpacked and indexed at its first use.
pub fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(Table::load)
}
