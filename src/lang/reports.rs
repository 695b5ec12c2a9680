//! What is asked of a stretch of time: drift and waste. And what a batch cost.

use super::syntax::Words;

/// A stretch of days up to today.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Period {
    ThisWeek,
    LastWeek,
    ThisMonth,
    LastMonth,
    /// 1 = January, the latest that has begun, or of a year.
    Month {
        month: u32,
        year: Option<i32>,
    },
}

/// What a batch cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    pub dish: Words,
    /// Hundredths of the currency: cents, pence.
    pub hundredths: i64,
    /// As typed: "€", "euro"; empty where none was said.
    pub currency: String,
    /// Of a kilogram, not of the whole.
    pub a_kilo: bool,
}
