//! What is told ahead of cooking.

use hobside::lang::{GoodTold, Limit, Prep};
use proptest::prelude::*;
use proptest::sample::select;

use super::{BATCHES, grams, words};

/// Things that are bought, and no dishes.
const GOODS: &[&str] = &["parsnips", "red lentils", "olive oil", "flour"];

pub fn prep() -> impl Strategy<Value = Prep> {
    let dish = || words(BATCHES);
    let limits = vec![Limit::Burners, Limit::Trays, Limit::PotsADay];
    prop_oneof![
        3 => (words(GOODS), told()).prop_map(|(name, told)| Prep::Good { name, told }),
        1 => (dish(), proptest::option::of(grams())).prop_map(|(dish, grams)| Prep::Par { dish, grams }),
        1 => (proptest::option::of(dish()), grams())
            .prop_map(|(dish, grams)| Prep::PotHolds { dish, grams }),
        1 => (select(limits), proptest::option::of(1_u32..50))
            .prop_map(|(what, count)| Prep::Limit { what, count }),
    ]
}

fn told() -> impl Strategy<Value = GoodTold> {
    prop_oneof![
        (grams(), grams()).prop_map(|(bought, trimmed)| GoodTold::Trimmed { bought, trimmed }),
        (grams(), select(vec!["bag", "pack", "tin"])).prop_map(|(grams, word)| GoodTold::Pack {
            grams,
            word: word.into(),
        }),
        (1_i64..100_000, select(vec!["", "€", "euro"]), grams()).prop_map(
            |(hundredths, currency, grams)| GoodTold::Price {
                hundredths,
                currency: currency.into(),
                grams,
            }
        ),
        grams().prop_map(GoodTold::InCupboard),
        Just(GoodTold::Always),
        Just(GoodTold::Out),
    ]
}
