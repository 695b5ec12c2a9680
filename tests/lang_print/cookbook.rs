//! What is said of dishes that were cooked before.

use hobside::lang::{Amount, Cookbook, Pace, Period, Recipe, RecipeBut, Scale};
use proptest::prelude::*;
use proptest::sample::select;

use super::{BATCHES, grams, words};

/// Ingredients, and no dishes.
const INGREDIENTS: &[&str] = &["parsnips", "red lentils", "olive oil", "salt"];

pub fn cookbook() -> impl Strategy<Value = Cookbook> {
    let dish = || words(BATCHES);
    let periods = vec![
        Period::ThisWeek,
        Period::LastWeek,
        Period::ThisMonth,
        Period::LastMonth,
    ];
    prop_oneof![
        4 => recipe().prop_map(Cookbook::Again),
        2 => recipe()
            .prop_filter("an amount alone tells a recipe", |recipe| {
                !recipe.but.iter().any(|but| matches!(but, RecipeBut::Set(..)))
            })
            .prop_map(Cookbook::Show),
        1 => (proptest::option::of(dish()), 2_u32..50).prop_map(|(dish, pots)| Cookbook::Compare { dish, pots }),
        1 => (dish(), select(vec![Pace::Fast, Pace::RunsOut, Pace::Who]))
            .prop_map(|(dish, asked)| Cookbook::Pace { dish: Some(dish), asked }),
        1 => select(vec![Pace::Fast, Pace::RunsOut]).prop_map(|asked| Cookbook::Pace { dish: None, asked }),
        1 => dish().prop_map(|dish| Cookbook::Cost { dish }),
        1 => select(periods).prop_map(|period| Cookbook::Spent { period }),
    ]
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let scale = prop_oneof![
        Just(Scale::AsItWas),
        (1_u32..4000).prop_map(|hundredths| Scale::Times(f64::from(hundredths) / 100.0)),
        grams().prop_map(Scale::Cooked),
    ];
    (
        words(BATCHES),
        scale,
        proptest::collection::vec(but(), 0..4),
    )
        .prop_map(|(dish, scale, but)| Recipe {
            dish: Some(dish),
            scale,
            but,
        })
}

fn but() -> impl Strategy<Value = RecipeBut> {
    let name = || words(INGREDIENTS);
    let mass = || grams().prop_map(Amount::Mass);
    prop_oneof![
        (mass(), name()).prop_map(|(amount, name)| RecipeBut::With(amount, name)),
        (mass(), name()).prop_map(|(amount, name)| RecipeBut::Set(amount, name)),
        (mass(), name()).prop_map(|(amount, name)| RecipeBut::Plus(amount, name)),
        name().prop_map(RecipeBut::Without),
        (proptest::option::of(mass()), name(), name())
            .prop_map(|(amount, new, old)| RecipeBut::Instead { amount, new, old }),
    ]
}
