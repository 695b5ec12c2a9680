//! Print, then parse, gives the same command.

use hobside::lang::{
    Absent, Ahead, Amount, At, Boxes, Claim, Clock, ClockSetting, Command, Hour, IngredientLine,
    Item, Kept, Label, LabelSize, Lasting, LeftOver, LineContent, MealName, NewBatch, NoteName,
    Page, Period, Pieces, Portion, PourOff, PrepDayTold, Price, Reopen, Sense, Setting, Taking,
    Tare, Told, TopUp, Vocabulary, VolumeUnit, Weighed, WeighedOf, Weighing, WhichTimer, Words,
    parse,
};
use proptest::prelude::*;
use proptest::sample::select;

#[path = "lang_print/cookbook.rs"]
mod cookbook;
#[path = "lang_print/prep.rs"]
mod prep;

const NAMES: &[&str] = &[
    "dal",
    "rice",
    "mac and cheese",
    "red lentils",
    "olive oil",
    "2% milk",
    "NDB 16069",
    "D7",
    "old dal",
];
const BATCHES: &[&str] = &["dal", "rice", "mac and cheese", "D7"];

fn household() -> Vocabulary {
    Vocabulary::new()
        .with(Sense::Batch, "lentil dal")
        .with(Sense::Batch, "rice")
        .with(Sense::Batch, "mac and cheese")
        .with(Sense::Code, "D7")
        .with(Sense::Container, "blue pot")
        .with(Sense::Measure, "ladle")
        .with(Sense::Person, "Ana")
}

/// Milligrams as grams, within a kitchen.
fn grams() -> impl Strategy<Value = f64> {
    (1_u32..90_000_000).prop_map(|milligrams| f64::from(milligrams) / 1000.0)
}

fn words(list: &'static [&'static str]) -> impl Strategy<Value = Words> {
    select(list).prop_map(Words::plain)
}

fn label() -> impl Strategy<Value = Label> {
    let tenths = || (120_u32..3000).prop_map(|tenths| f64::from(tenths) / 10.0);
    let size = prop_oneof![
        (tenths(), tenths()).prop_map(|(width, height)| LabelSize::Millimetres { width, height }),
        (100_u32..3000, 100_u32..3000)
            .prop_map(|(width, height)| LabelSize::Dots { width, height }),
    ];
    let place = proptest::option::of(words(&["freezer", "fridge"]));
    let page = proptest::option::of(select(vec![Page::A4, Page::Letter]));
    let names = prop_oneof![
        Just((Vec::new(), None)),
        (words(BATCHES), proptest::option::of(tenths()))
            .prop_map(|(name, grams)| (vec![name], grams)),
        (words(&BATCHES[..1]), words(&BATCHES[1..2]))
            .prop_map(|(one, other)| (vec![one, other], None)),
    ];
    let count = (1_usize..9, any::<bool>());
    (names, place, proptest::option::of(size), page, count).prop_map(
        |((names, grams), place, size, page, (copies, bags))| Label {
            names,
            grams: grams.map(|grams| grams + 20.0),
            place,
            size,
            page,
            copies,
            bags,
        },
    )
}

fn ahead() -> impl Strategy<Value = Ahead> {
    let year = proptest::option::of(2026_i32..2030);
    prop_oneof![
        Just(Ahead::Today),
        Just(Ahead::Tomorrow),
        (0_u8..7).prop_map(Ahead::Weekday),
        (1_u32..29, 1_u32..13, year).prop_map(|(day, month, year)| Ahead::Date {
            day,
            month,
            year
        }),
        (0_u8..7).prop_map(Ahead::NextWeek),
        (1_u32..32).prop_map(Ahead::OfMonth),
        (0_u32..400).prop_map(Ahead::InDays),
    ]
}

fn hour() -> impl Strategy<Value = Hour> {
    (0_u32..24, 0_u32..60, any::<bool>()).prop_map(|(hour, minute, either)| Hour {
        hour,
        minute,
        either: either && (1..12).contains(&hour),
    })
}

/// Timers and reminders.
fn of_time() -> impl Strategy<Value = Command> {
    let lasting = || (1_u32..20_000).prop_map(Lasting::minutes);
    let acts = || words(&["move the tray", "stir the dal", "soak the beans", "dal"]);
    let at = || {
        (proptest::option::of(ahead()), proptest::option::of(hour()))
            .prop_map(|(day, hour)| At { day, hour })
    };
    let which = || {
        prop_oneof![
            Just(WhichTimer::Untold),
            (1_u32..40).prop_map(WhichTimer::Number),
            words(&["dal", "rice", "oven"]).prop_map(WhichTimer::Named),
        ]
    };
    let who = || {
        prop_oneof![
            Just(Absent::All),
            Just(Absent::Me),
            Just(Absent::Named(Words::plain("Ana"))),
        ]
    };
    let told = prop_oneof![
        lasting().prop_map(|lasting| Clock::Timer {
            lasting,
            words: Words::plain("")
        }),
        (lasting(), acts()).prop_map(|(lasting, words)| Clock::Timer { lasting, words }),
        (at(), acts()).prop_map(|(at, words)| Clock::Remind { at, words }),
        (at(), which()).prop_filter_map("no time is told", |(until, which)| {
            let told = until != At::default();
            told.then_some(Clock::Later { until, which })
        }),
        any::<bool>().prop_map(|notes| Clock::Pending { notes }),
        which().prop_map(Clock::Cancel),
        Just(Clock::Cancel(WhichTimer::All)),
        (lasting(), which()).prop_map(|(lasting, which)| Clock::More { lasting, which }),
        // "Tue to Thu next week" begins next week as well.
        (who(), ahead(), proptest::option::of(ahead())).prop_map(|(who, from, until)| {
            let from = match (from, &until) {
                (Ahead::Weekday(day), Some(Ahead::NextWeek(_))) => Ahead::NextWeek(day),
                (from, _) => from,
            };
            Clock::Away { who, from, until }
        }),
        (who(), ahead()).prop_map(|(who, on)| Clock::Back { who, on }),
    ];
    let times = prop_oneof![
        proptest::option::of(
            (0_u8..7, proptest::option::of(hour()), any::<bool>()).prop_map(
                |(weekday, hour, every_other)| PrepDayTold {
                    weekday,
                    hour,
                    every_other
                }
            )
        )
        .prop_map(ClockSetting::Prep),
        prop_oneof![Just(Told::Off), Just(Told::On), hour().prop_map(Told::At)]
            .prop_map(|told| ClockSetting::Note(NoteName::Morning, told)),
        proptest::option::of((hour(), hour())).prop_map(ClockSetting::Quiet),
        any::<bool>().prop_map(ClockSetting::Notes),
        prop_oneof![Just(Told::Off), Just(Told::On)]
            .prop_map(|told| ClockSetting::Note(NoteName::Prep, told)),
    ];
    prop_oneof![
        4 => told.prop_map(Command::Clock),
        1 => times.prop_map(|told| Command::Setting(Setting::Clock(told))),
    ]
}

/// What is told and asked of stock: what was taken, claimed, found again, paid, and what became of it.
fn of_stock() -> impl Strategy<Value = Command> {
    let dish = || words(BATCHES);
    let whose = || proptest::option::of(Just(Words::plain("Ana")));
    let place = || proptest::option::of(words(&["freezer", "fridge"]));
    let period = prop_oneof![
        Just(Period::ThisWeek),
        Just(Period::LastWeek),
        Just(Period::ThisMonth),
        Just(Period::LastMonth),
        (1_u32..=12, proptest::option::of(2001_i32..2100))
            .prop_map(|(month, year)| Period::Month { month, year }),
    ];
    let taking = (dish(), place(), select(vec!["some", "a bit"]), whose());
    let price = (
        dish(),
        1_i64..100_000,
        select(vec!["", "€", "$"]),
        any::<bool>(),
    );
    let tenths = (10_u32..50_000).prop_map(|tenths| f64::from(tenths) / 10.0);
    prop_oneof![
        taking.prop_map(|(dish, place, amount, who)| Command::Take(Taking {
            dishes: vec![dish],
            place,
            amount: amount.into(),
            who,
            day: None,
        })),
        (proptest::option::of(dish()), whose()).prop_map(|(dish, who)| Command::Claim(Claim {
            dish,
            who,
            grams: None
        })),
        (dish(), proptest::option::of((tenths, place()))).prop_map(|(dish, told)| {
            let (grams, place) = match told {
                Some((grams, place)) => (Some(grams), place),
                None => (None, None),
            };
            Command::Reopen(Reopen { dish, grams, place })
        }),
        price.prop_map(
            |(dish, hundredths, currency, a_kilo)| Command::Price(Price {
                dish,
                hundredths,
                currency: currency.into(),
                a_kilo,
            })
        ),
        period.prop_map(|period| Command::Wasted { period }),
        proptest::option::of(dish()).prop_map(|dish| Command::Drift { dish }),
        dish().prop_map(|name| Command::History { name }),
        dish().prop_map(|name| Command::Dates { name }),
        dish().prop_map(|name| Command::Whereabouts { name }),
    ]
}

fn amount() -> impl Strategy<Value = Amount> {
    let unit = select(vec![
        VolumeUnit::Millilitre,
        VolumeUnit::Litre,
        VolumeUnit::Teaspoon,
        VolumeUnit::Tablespoon,
        VolumeUnit::Cup,
        VolumeUnit::FluidOunce,
        VolumeUnit::Pint,
    ]);
    let qualifiers = proptest::collection::vec(
        select(vec!["sliced", "chopped", "grated"]).prop_map(str::to_owned),
        0..2,
    );
    let measure = || {
        select(vec!["clove", "can", "slice", "ladle", "large"])
            .prop_map(|word| vec![word.to_owned()])
    };
    let eighths = || (1_u32..80).prop_map(|eighths| f64::from(eighths) / 8.0);
    prop_oneof![
        (1_u32..90_000).prop_map(|grams| Amount::Bare(f64::from(grams))),
        grams().prop_map(Amount::Mass),
        (eighths(), unit, qualifiers).prop_map(|(count, unit, qualifiers)| Amount::Volume {
            count,
            unit,
            qualifiers
        }),
        (1_u32..20, measure()).prop_map(|(count, measure)| Amount::Pieces {
            count: f64::from(count),
            measure
        }),
        (eighths()).prop_map(|count| Amount::Pieces {
            count,
            measure: vec![]
        }),
        (
            1_u32..10,
            grams().prop_filter("a can", |grams| *grams < 5000.0),
            measure()
        )
            .prop_filter("a large weighs nothing", |(.., measure)| measure[0]
                != "large")
            .prop_map(|(count, grams, measure)| Amount::Each {
                count: f64::from(count),
                grams,
                measure
            }),
        (grams(), eighths()).prop_map(|(grams, count)| Amount::Weighed {
            grams,
            said: Box::new(Amount::Volume {
                count,
                unit: VolumeUnit::Cup,
                qualifiers: vec![]
            }),
        }),
        select(vec!["pinch", "splash", "to taste"])
            .prop_map(|what| Amount::Uncounted(what.to_owned())),
        (1_u32..100).prop_map(|percent| Amount::Share(f64::from(percent) / 100.0)),
    ]
}

fn item() -> impl Strategy<Value = Item> {
    let plated = |amount: &Amount| *amount != Amount::Uncounted("to taste".into());
    (amount().prop_filter("no plate", plated), words(NAMES))
        .prop_map(|(amount, name)| Item::new(amount, name))
}

fn line() -> impl Strategy<Value = IngredientLine> {
    (
        proptest::option::weighted(0.9, amount()),
        words(NAMES),
        proptest::option::weighted(0.2, Just("marinade".to_owned())),
    )
        .prop_filter("a share of the pot is no ingredient", |(amount, ..)| {
            !matches!(amount, Some(Amount::Share(_)))
        })
        .prop_map(|(amount, name, part)| IngredientLine {
            text: String::new(),
            span: 0..0,
            part,
            content: LineContent::Ingredient { amount, name },
        })
}

fn weighing() -> impl Strategy<Value = Weighing> {
    let tare = (1_u32..4, grams(), select(vec!["pot", "bags", "blue pot"])).prop_map(
        |(count, grams, name)| Tare {
            count: f64::from(count),
            each_grams: Some(grams),
            name: Some(Words::plain(name)),
        },
    );
    (
        proptest::collection::vec(grams(), 1..3),
        proptest::collection::vec(tare, 0..3),
        any::<bool>(),
    )
        .prop_map(|(readings_grams, tares, gross)| Weighing {
            readings_grams,
            tares,
            gross,
            net: false,
            container: None,
            span: 0..0,
        })
}

fn batch() -> impl Strategy<Value = NewBatch> {
    (
        select(vec!["lentil dal", "green stew", "3 bean chili"]),
        proptest::collection::vec(line(), 1..6),
        proptest::option::of(weighing()),
        proptest::option::of((2_u32..60, select(vec![None, Some("slice"), Some("box")]))),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(name, mut lines, weighing, pieces, raw, frozen)| {
            // Lines of a part stand together.
            lines.sort_by_key(|line| line.part.clone());
            NewBatch {
                name: Words::plain(name),
                lines,
                weighings: weighing.into_iter().collect(),
                places: frozen
                    .then(|| Words::plain("freezer"))
                    .into_iter()
                    .collect(),
                pieces: pieces.map(|(count, word)| Pieces {
                    count,
                    word: word.map(str::to_owned),
                }),
                raw,
                ..NewBatch::default()
            }
        })
}

fn command() -> impl Strategy<Value = Command> {
    let items = || proptest::collection::vec(item(), 1..4);
    let meal = proptest::option::of(select(vec![
        MealName::Breakfast,
        MealName::Lunch,
        MealName::Dinner,
        MealName::Snack,
    ]));
    prop_oneof![
        4 => (items(), meal, proptest::option::of(Just(Words::plain("Ana"))), any::<bool>()).prop_map(|(items, meal, who, anyway)| {
            Command::Portion(Portion { items, meal, who, anyway, ..Portion::default() })
        }),
        3 => batch().prop_map(Command::Batch),
        2 => (words(BATCHES), proptest::collection::vec(line(), 1..3))
            .prop_map(|(batch, mut lines)| {
                for line in &mut lines {
                    line.part = None;
                }
                Command::Add { batch, lines }
            }),
        1 => label().prop_map(Command::Label),
        3 => of_stock(),
        2 => prep::prep().prop_map(Command::Prep),
        2 => cookbook::cookbook().prop_map(Command::Cookbook),
        3 => of_time(),
        2 => (words(BATCHES), weighing(), select(vec![WeighedOf::Unsaid, WeighedOf::Whole, WeighedOf::Left, WeighedOf::LeftOrEaten]))
            .prop_map(|(batch, weighing, of)| Command::Weigh { batch, weighing, of }),
        1 => (proptest::option::of(words(BATCHES)), grams(), any::<bool>()).prop_map(|(batch, grams, anyway)| Command::PourOff {
            batch,
            poured: PourOff { amount: Amount::Mass(grams), what: Words::plain("marinade") },
            anyway,
        }),
        1 => (words(BATCHES), proptest::collection::vec(line(), 1..3), proptest::option::of(grams()), any::<bool>())
            .prop_map(|(batch, mut lines, whole, by)| {
                for line in &mut lines {
                    line.part = None;
                    // A dish is topped up with so much of something.
                    if let LineContent::Ingredient { amount, .. } = &mut line.content {
                        *amount = Some(Amount::Mass(150.5));
                    }
                }
                let weighing = whole.map(|grams| Weighing::net(grams, 0..0));
                let (lines, by_grams) = match by {
                    true => (Vec::new(), Some(120.5)),
                    false => (lines, None),
                };
                Command::TopUp(TopUp { batch, from: None, lines, by_grams, weighing })
            }),
        1 => (weighing(), proptest::option::of(words(&["dal", "rice"])), proptest::option::of(words(&["freezer", "fridge"])), any::<bool>())
            .prop_map(|(mut weighing, dish, place, meal)| {
                weighing.readings_grams.truncate(1);
                weighing.tares.clear();
                weighing.gross = false;
                weighing.readings_grams[0] += 10.0;
                let meal = (meal || dish.is_some()).then_some(MealName::Dinner);
                Command::LeftOver(LeftOver { weighing, dish, place, meal, ..LeftOver::default() })
            }),
        1 => (2_u32..40, select(vec!["box", "tub", "lunchbox"]), proptest::collection::vec(grams(), 1..3), any::<bool>(), any::<bool>())
            .prop_map(|(count, vessel, masses, each, frozen)| {
                let items = masses.into_iter().zip(["dal", "rice"]).map(|(grams, name)| Item::new(Amount::Mass(grams), Words::plain(name)));
                let place = Words::plain("freezer");
                let kept = frozen.then_some(Kept { count: Some(1), place });
                Command::Boxes(Boxes {
                    count,
                    vessel: vessel.into(),
                    items: items.collect(),
                    each,
                    kept: kept.into_iter().collect(),
                    anyway: false,
                })
            }),
        1 => (words(BATCHES), proptest::option::of(words(&["freezer", "garage freezer"])), grams()).prop_map(|(name, place, grams)| Command::Count {
            rest: None,
            items: vec![Weighed { name, place, weighing: Weighing { readings_grams: vec![grams], ..Weighing::default() } }],
            anyway: false,
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn what_is_printed_parses_back(command in command()) {
        let text = command.to_string();
        let parsed = parse(&text, &household());
        let best = parsed.best();
        prop_assert!(best.errors.is_empty(), "{text:?}: {:?}", best.errors);
        prop_assert_eq!(&best.commands, &vec![command], "{:?}", text);
    }
}
