//! Where things stand on charts, held against the answers that they are made of.

use chrono::{Days, NaiveDate};
use proptest::prelude::*;

use super::layout::{Layout, PAD, WIDTH, lay_out};
use super::shape::Place;
use super::*;
use crate::domain::course::{CourseAnswer, CourseOf, CoursePart};
use crate::domain::ids::MemberId;
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::domain::personal::answer::{DayTotals, DishEaten, SourcesAnswer, WeekAnswer};
use crate::domain::personal::target::{Target, amount};
use crate::foods::{Nutrient, Profile};
use crate::lang::syntax::Aimed;

fn monday() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 12).expect("a day")
}

/// So much of something with so much energy and protein in 100 g; negative: nobody knows.
fn dish(name: &str, grams: f64, kcal: f64, protein: f64) -> DishEaten {
    let mut profile = Profile::default();
    profile.set(Nutrient::EnergyKcal, Some(kcal).filter(|it| *it >= 0.0));
    profile.set(Nutrient::Protein, Some(protein).filter(|it| *it >= 0.0));
    let mass = Mass::from_grams(grams).expect("a mass");
    DishEaten {
        name: name.to_owned(),
        mass,
        totals: Totals::of(&profile, mass),
        estimated: false,
    }
}

fn a_week(days: Vec<(u64, Vec<DishEaten>)>, targets: Vec<Target>) -> WeekAnswer {
    let day = |(at, dishes): (u64, Vec<DishEaten>)| {
        let mut totals = Totals::default();
        dishes.iter().for_each(|dish| totals.add(&dish.totals));
        DayTotals {
            day: monday() + Days::new(at),
            dishes,
            totals,
            estimated: false,
        }
    };
    WeekAnswer {
        of: MemberId(1),
        member: "Robin".to_owned(),
        from: monday(),
        until: monday() + Days::new(6),
        days: days.into_iter().map(day).collect(),
        mean: None,
        targets,
        numbers: true,
    }
}

fn target(of: Aimed, least: Option<f64>, most: Option<f64>) -> Target {
    Target { of, least, most }
}

/// The parts of a panel: of which column, and how high, with their fill.
fn parts(layout: &Layout, of: usize) -> Vec<(usize, usize, Place)> {
    let parts = layout.shapes.iter().filter_map(|shape| match shape {
        Shape::Part {
            area,
            panel,
            column,
            fill,
        } if *panel == of => Some((*column, *fill, *area)),
        _ => None,
    });
    parts.collect()
}

fn words(layout: &Layout) -> Vec<(String, Place)> {
    let words = layout.shapes.iter().filter_map(Shape::words);
    words
        .map(|(text, place)| (text.to_owned(), place))
        .collect()
}

/// No words lie on others, and none leave the card.
#[track_caller]
fn is_legible(chart: &Chart) {
    let layout = lay_out(chart);
    let words = words(&layout);
    let height = layout.paper.height as f32;
    for (at, (text, place)) in words.iter().enumerate() {
        let inside = place.x >= PAD - 1.0
            && place.x + place.width <= WIDTH - PAD + 1.0
            && place.y >= PAD - 1.0
            && place.y + place.height <= height - PAD / 2.0;
        assert!(inside, "{text:?} at {place:?}");
        for (other, its) in &words[at + 1..] {
            assert!(
                !place.overlaps(its),
                "{text:?} {place:?} on {other:?} {its:?}"
            );
        }
    }
    assert!(layout.paper.height < 10 * layout.paper.width);
}

#[test]
fn columns_are_as_high_as_what_was_eaten() {
    let days = vec![
        (
            0,
            vec![
                dish("dal", 500.0, 200.0, 10.0),
                dish("rice", 300.0, 100.0, 3.0),
            ],
        ),
        (2, vec![dish("rice", 600.0, 100.0, 3.0)]),
    ];
    let targets = vec![target(Aimed::Energy, Some(2000.0), Some(2000.0))];
    let answer = a_week(days, targets);
    let chart = week(&answer).expect("a chart");
    is_legible(&chart);
    let layout = lay_out(&chart);
    // 1000 and 300 kcal on Monday, 600 on Wednesday: dal gave more, and lies below.
    let energy = parts(&layout, 0);
    let of: Vec<(usize, usize)> = energy
        .iter()
        .map(|(column, fill, _)| (*column, *fill))
        .collect();
    assert_eq!(of, [(0, 0), (0, 1), (2, 1)]);
    let high = |at: usize| energy[at].2.height;
    assert!((high(0) / high(1) - 1000.0 / 300.0).abs() < 0.01);
    assert!((high(2) / high(1) - 2.0).abs() < 0.01);
    let top_of_dal = energy[0].2.y;
    assert!(
        (energy[1].2.y + high(1) - top_of_dal).abs() < 0.1,
        "they lie on one another"
    );
    // The target is where 2000 kcal would reach.
    let base = energy[0].2.y + high(0);
    let lines = layout.shapes.iter().filter_map(|shape| match shape {
        Shape::Rule {
            area,
            dash: Some(_),
        } if area.width > 500.0 => Some(area.y + area.height / 2.0),
        _ => None,
    });
    let lines: Vec<f32> = lines.collect();
    assert_eq!(lines.len(), 1, "no target of protein");
    assert!(((base - lines[0]) / high(0) - 2.0).abs() < 0.01);
    let protein = parts(&layout, 1);
    assert!((protein[0].2.height / protein[1].2.height - 50.0 / 9.0).abs() < 0.01);
    let said: Vec<String> = words(&layout).into_iter().map(|(text, _)| text).collect();
    for told in [
        "1300",
        "600",
        "59",
        "18",
        "–",
        "target 2000 kcal a day",
        "Mon 12",
    ] {
        assert!(said.iter().any(|text| text == told), "{told}: {said:?}");
    }
}

#[test]
fn what_is_not_known_is_no_nothing() {
    let days = vec![
        (0, vec![dish("stew", 300.0, -1.0, -1.0)]),
        (
            1,
            vec![
                dish("stew", 300.0, -1.0, -1.0),
                dish("rice", 100.0, 130.0, 2.7),
            ],
        ),
    ];
    let chart = week(&a_week(days.clone(), Vec::new())).expect("a chart");
    is_legible(&chart);
    let said: Vec<String> = words(&lay_out(&chart))
        .into_iter()
        .map(|(text, _)| text)
        .collect();
    for told in ["unknown", "≥130", "energy unknown, protein unknown"] {
        assert!(said.iter().any(|text| text == told), "{told}: {said:?}");
    }
    let only = a_week(days[..1].to_vec(), Vec::new());
    assert_eq!(week(&only), None, "nothing to show");
}

#[test]
fn who_is_told_no_numbers_is_shown_none() {
    let mut answer = a_week(vec![(0, vec![dish("dal", 500.0, 200.0, 10.0)])], Vec::new());
    answer.numbers = false;
    assert_eq!(week(&answer), None);
}

fn from_dishes(dishes: Vec<DishEaten>) -> SourcesAnswer {
    let mut totals = Totals::default();
    dishes.iter().for_each(|dish| totals.add(&dish.totals));
    SourcesAnswer {
        of: Aimed::Protein,
        whose: MemberId(1),
        member: "Robin".to_owned(),
        from: monday(),
        until: monday() + Days::new(6),
        days: 3,
        dishes,
        totals,
        numbers: true,
    }
}

#[test]
fn bars_are_as_long_as_what_they_gave() {
    let answer = from_dishes(vec![
        dish("dal", 600.0, 200.0, 10.0),
        dish("rice", 500.0, 100.0, 3.0),
        dish("stew", 500.0, -1.0, -1.0),
    ]);
    let chart = sources(&answer).expect("a chart");
    is_legible(&chart);
    let bars = parts(&lay_out(&chart), 0);
    assert_eq!(bars.len(), 2);
    assert!((bars[0].2.width / bars[1].2.width - 4.0).abs() < 0.01);
    let text = sources_page(&answer).text;
    for told in [
        "75 g in all",
        "dal: 60 g, 80%",
        "rice: 15 g, 20%",
        "stew: not known",
    ] {
        assert!(text.contains(told), "{told}: {text}");
    }
}

fn a_course(parts: Vec<(CourseOf, Vec<i64>)>) -> CourseAnswer {
    let days = parts.first().map_or(1, |(_, held)| held.len());
    let part = |(of, held): (CourseOf, Vec<i64>)| CoursePart {
        of,
        held: held
            .into_iter()
            .map(|grams| Mass::from_mg(grams * 1000))
            .collect(),
        estimated: false,
    };
    CourseAnswer {
        dish: None,
        from: monday(),
        until: monday() + Days::new(days as u64 - 1),
        parts: parts.into_iter().map(part).collect(),
    }
}

#[test]
fn what_stood_here_is_measured_by_round_amounts() {
    let held: Vec<i64> = (0..28).map(|day| 5300 - 150 * day).collect();
    let answer = a_course(vec![(CourseOf::Dish("dal".into()), held)]);
    let chart = course(&answer).expect("a chart");
    is_legible(&chart);
    let layout = lay_out(&chart);
    let columns = parts(&layout, 0);
    assert_eq!(columns.len(), 28);
    let first = columns[0].2.height;
    assert!((columns[27].2.height / first - 1250.0 / 5300.0).abs() < 0.01);
    let lines = layout.shapes.iter().filter_map(|shape| match shape {
        Shape::Rule { area, dash: None } => Some(area.y + area.height / 2.0),
        _ => None,
    });
    let lines: Vec<f32> = lines.collect();
    let base = columns[0].2.y + first;
    let high: Vec<f32> = lines[..3]
        .iter()
        .map(|y| (base - y) / first * 5300.0)
        .collect();
    for (line, round) in high.iter().zip([2000.0, 4000.0, 6000.0]) {
        assert!((line - round).abs() < 20.0, "{high:?}");
    }
    let said: Vec<String> = words(&layout).into_iter().map(|(text, _)| text).collect();
    for told in [
        "2000 g",
        "6000 g",
        "8 Nov",
        "1 Nov",
        "18 Oct",
        "dal",
        "1250 g now",
    ] {
        assert!(said.iter().any(|text| text == told), "{told}: {said:?}");
    }
    let text = course_page(&answer).text;
    for told in ["Mon 12 Oct: 5300 g", "Sun 18 Oct: 4400 g", "now: 1250 g"] {
        assert!(text.contains(told), "{told}: {text}");
    }
}

#[test]
fn more_dishes_than_colours_are_told_as_others() {
    let many = |count: usize| -> Vec<DishEaten> {
        let each = (0..count).map(|at| dish(&format!("dish {at}"), 100.0, 50.0 + at as f64, 5.0));
        each.collect()
    };
    for (count, keys) in [(1, 1), (8, 8), (9, 8), (12, 8), (40, 8)] {
        let chart = week(&a_week(vec![(0, many(count))], Vec::new())).expect("a chart");
        is_legible(&chart);
        let Body::Days { key, panels } = &chart.body else {
            panic!("days");
        };
        assert_eq!(key.len(), keys, "{count}");
        assert_eq!(
            key.iter().filter(|key| key.rest).count(),
            usize::from(count > 8)
        );
        let sum: f64 = panels[0].columns[0].parts.iter().sum();
        let all: f64 = (0..count).map(|at| 50.0 + at as f64).sum();
        assert!((sum - all).abs() < 1e-6, "{count}: nothing is left out");
    }
}

#[test]
fn a_chart_is_kept_whole_and_painted_in_its_colours() {
    let chart = week(&a_week(
        vec![(0, vec![dish("dal", 500.0, 200.0, 10.0)])],
        Vec::new(),
    ));
    let chart = chart.expect("a chart");
    let kept = serde_json::to_string(&crate::render::Picture::Chart(chart.clone())).expect("text");
    let read: crate::render::Picture = serde_json::from_str(&kept).expect("it reads");
    assert_eq!(read, crate::render::Picture::Chart(chart.clone()));
    let painting = chart.draw();
    let part = parts(&lay_out(&chart), 0)[0].2.pixels();
    let inside = painting.colour(part.x + 6, part.y + 6);
    assert_eq!(inside.map(|it| it.0), Some([0x00, 0x72, 0xb2]));
    assert_eq!(painting.colour(20, 20), Some(palette::GROUND));
    assert_eq!(painting.colour(0, 0), Some(palette::RIM));
    assert!(painting.png().expect("it encodes").len() < 200_000);
}

fn a_name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z]{1,8}",
        "[A-Za-z ,()]{1,90}",
        Just("slow braised beef and barley stew with pickled walnuts and a long name".to_owned()),
        Just("W".repeat(80)),
        Just("炒饭".to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is eaten by whatever name, and whatever the targets: words stay apart, and the panels hold what the
    /// books do.
    #[test]
    fn no_words_lie_on_others(
        eaten in prop::collection::vec(
            (0_u64..7, a_name(), 0.0_f64..3000.0, -1.0_f64..900.0, -1.0_f64..100.0), 1..30),
        least in prop::option::of(1.0_f64..9000.0),
        most in prop::option::of(1.0_f64..9000.0),
        kilojoule in any::<bool>(),
    ) {
        let mut days: std::collections::BTreeMap<u64, Vec<DishEaten>> = Default::default();
        for (day, name, grams, kcal, protein) in eaten {
            let dishes = days.entry(day).or_default();
            if !dishes.iter().any(|dish| dish.name == name) {
                dishes.push(dish(&name, grams, kcal, protein));
            }
        }
        let targets = vec![target(Aimed::Energy, least, most), target(Aimed::Protein, most, most)];
        let targets = targets.into_iter().filter(Target::is_set).collect();
        let answer = a_week(days.into_iter().collect(), targets);
        let mut settings = crate::domain::kitchen::Settings::of_zone(chrono_tz::UTC);
        if kilojoule {
            settings.energy = crate::lang::syntax::EnergyUnit::Kilojoule;
        }
        crate::render::told_in::told_in(&settings, || {
            let Some(chart) = week(&answer) else { return };
            is_legible(&chart);
            let Body::Days { panels, .. } = &chart.body else { panic!("days") };
            for (panel, of) in panels.iter().zip([Aimed::Energy, Aimed::Protein]) {
                for day in &answer.days {
                    let column = &panel.columns[(day.day - monday()).num_days() as usize];
                    let sum: f64 = column.parts.iter().sum();
                    let all = amount(of, &day.totals).amount.unwrap_or_default();
                    assert!((sum - all).abs() < 0.01 + all * 1e-9, "{sum} {all}");
                }
            }
        });
        let mut totals = Totals::default();
        let mut dishes: Vec<DishEaten> = Vec::new();
        for dish in answer.days.iter().flat_map(|day| &day.dishes) {
            totals.add(&dish.totals);
            dishes.push(dish.clone());
        }
        let of = SourcesAnswer { dishes, totals, ..from_dishes(Vec::new()) };
        if let Some(chart) = sources(&of) {
            is_legible(&chart);
        }
    }

    #[test]
    fn no_words_of_a_stock_lie_on_others(
        dishes in prop::collection::vec((a_name(), prop::collection::vec(0_i64..20_000, 28)), 1..12),
        days in 1_usize..=28,
    ) {
        let parts = dishes.into_iter().map(|(name, held)| (CourseOf::Dish(name), held[..days].to_vec()));
        if let Some(chart) = course(&a_course(parts.collect())) {
            is_legible(&chart);
        }
    }
}
