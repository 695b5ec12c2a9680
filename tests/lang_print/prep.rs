//! What is told ahead of cooking.

use hobside::lang::{
    Ahead, Begins, Buying, GoodTold, Helping, HowMany, Limit, MealName, PlanFor, Prep, Shop, Step,
    Until, Uses, Wish,
};
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
        3 => shop().prop_map(Prep::Shop),
        3 => wish().prop_map(Prep::Wish),
        2 => plan().prop_map(Prep::Plan),
        1 => (dish(), proptest::option::of(grams())).prop_map(|(dish, grams)| Prep::Why { dish, grams }),
        2 => (dish(), proptest::collection::vec(step(), 0..4))
            .prop_map(|(dish, steps)| Prep::Steps { dish, steps }),
        1 => (dish(), 1_u32..600).prop_map(|(dish, minutes)| Prep::StepLasts {
            dish,
            verb: hobside::lang::Words::plain("simmers"),
            minutes,
        }),
        1 => proptest::collection::vec(dish(), 0..3).prop_map(|dishes| Prep::Sheet { dishes, at: None }),
    ]
}

fn step() -> impl Strategy<Value = Step> {
    let heat = proptest::option::of(60_u32..300);
    let uses = prop_oneof![
        Just(Uses::Hands),
        Just(Uses::Burner),
        heat.prop_map(Uses::Oven),
        Just(Uses::Nothing),
    ];
    let words = select(vec![
        "soak",
        "simmer",
        "chop onions",
        "freeze flat",
        "roast",
    ]);
    (words, 1_u32..600, uses).prop_map(|(words, minutes, uses)| Step {
        words: words.into(),
        minutes,
        uses,
    })
}

fn plan() -> impl Strategy<Value = PlanFor> {
    let begins = proptest::option::of(prop_oneof![
        (0_u8..7).prop_map(|day| Begins::Day(Ahead::Weekday(day))),
        Just(Begins::PrepDay),
    ]);
    let until = proptest::option::of((0_u8..7).prop_map(Ahead::Weekday));
    let people = proptest::option::of(0_u32..20);
    let dishes = proptest::collection::vec(words(BATCHES), 0..3);
    (dishes, people, begins, until).prop_map(|(dishes, people, begins, until)| PlanFor {
        dishes,
        people,
        begins,
        until,
    })
}

fn wish() -> impl Strategy<Value = Wish> {
    let dish = || words(BATCHES);
    let day = || (0_u8..7).prop_map(Ahead::Weekday);
    let helping = (dish(), proptest::option::of(grams()));
    let helping = helping.prop_map(|(dish, grams)| Helping { dish, grams });
    let helpings = proptest::collection::vec(helping, 1..3);
    let meals = vec![MealName::Breakfast, MealName::Lunch, MealName::Dinner];
    let meal = proptest::option::of(select(meals));
    let of = (
        helpings,
        meal,
        0_u32..20,
        day(),
        day(),
        1_u32..10,
        any::<bool>(),
    );
    let of = of.prop_map(
        |(dishes, meal, people, from, until, days, counted)| Wish::Of {
            dishes,
            meal,
            people: Some(people),
            from,
            until: match counted {
                true => Until::Days(days),
                false => Until::Day(until),
            },
        },
    );
    prop_oneof![
        of,
        (dish(), day(), day()).prop_map(|(dish, from, until)| Wish::None { dish, from, until }),
        dish().prop_map(|dish| Wish::AsUsual { dish }),
        Just(Wish::Listed),
    ]
}

fn shop() -> impl Strategy<Value = Shop> {
    let names = || proptest::collection::vec(words(GOODS), 1..4);
    let amount = || {
        let said = select(vec!["3 tins", "2 tins", "2 bags"]);
        prop_oneof![
            grams().prop_map(HowMany::Grams),
            said.prop_map(|said| HowMany::Said(said.into())),
        ]
    };
    let buying = move || {
        let one = (words(GOODS), proptest::option::of(amount()));
        let one = one.prop_map(|(name, amount)| Buying { name, amount });
        proptest::collection::vec(one, 1..4)
    };
    prop_oneof![
        Just(Shop::Show),
        plan().prop_map(Shop::ForPlan),
        Just(Shop::Done),
        Just(Shop::New(Vec::new())),
        Just(Shop::Got(Vec::new())),
        buying().prop_map(Shop::New),
        buying().prop_map(Shop::Put),
        names().prop_map(Shop::Off),
        names().prop_map(Shop::Got),
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
