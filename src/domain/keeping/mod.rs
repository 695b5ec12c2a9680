//! Until when food may be eaten: its kind, the charts of the household's region, and what it has been
//! through. The clock runs in the fridge, stands still in the freezer, and a shorter one starts with thawing.
//!
//! Read in this order: `chart` (what is published), `clock` (dates along a journey), `kind` (what a batch is).

pub mod chart;
pub mod clock;
pub mod kind;

pub use chart::{Keeps, Region, Span, Storage, region_of_word, region_of_zone, region_word};
pub use clock::{Counting, Stay, UseBy, Why};
pub use kind::Kind;
