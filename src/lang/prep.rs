//! What is said ahead of cooking: of things that are bought, of pots and stoves, of plans and lists.

use super::syntax::Words;

#[derive(Debug, Clone, PartialEq)]
pub enum Prep {
    /// "lentils come in 500 g bags".
    Good { name: Words, told: GoodTold },
    /// "keep 800 g dal ready"; `None`: no more of it than is eaten.
    Par { dish: Words, grams: Option<f64> },
    /// "dal pots hold 3 kg"; no dish: any pot.
    PotHolds { dish: Option<Words>, grams: f64 },
    /// "4 burners"; `None`: no more limit.
    Limit { what: Limit, count: Option<u32> },
}

/// What is told of something that is bought.
#[derive(Debug, Clone, PartialEq)]
pub enum GoodTold {
    /// "parsnips 1150, trimmed 980".
    Trimmed { bought: f64, trimmed: f64 },
    /// Packs of so many grams, and what one is called.
    Pack { grams: f64, word: String },
    /// So many hundredths of a currency for so many grams.
    Price {
        hundredths: i64,
        currency: String,
        grams: f64,
    },
    /// So many grams are in the cupboard.
    InCupboard(f64),
    /// There is always enough of it.
    Always,
    /// There is none.
    Out,
}

/// What there is only so much of while one cooks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    Burners,
    Trays,
    PotsADay,
}

impl Limit {
    /// Its word in the books and in the bridge's data.
    pub const ALL: [(Limit, &'static str); 3] = [
        (Limit::Burners, "burners"),
        (Limit::Trays, "trays"),
        (Limit::PotsADay, "pots_a_day"),
    ];

    pub fn word(self) -> &'static str {
        let known = Self::ALL.iter().find(|(limit, _)| *limit == self);
        known.expect("every limit has a word").1
    }
}
