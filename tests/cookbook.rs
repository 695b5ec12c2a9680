//! Recipes and yields of one's own pots, against plain loops over what was typed.

mod home;

use chrono::{Days, NaiveDate};
use hobside::domain::cookbook::{Recipe, Standing, cover};
use hobside::domain::ids::ComponentId;
use hobside::domain::mass::Mass;
use hobside::domain::resolve::key;
use home::{ANA, Home, ROBIN};
use proptest::prelude::*;

/// So many grams of each went in, and so much came out.
#[derive(Debug, Clone)]
struct Pot {
    lentils: u32,
    onions: u32,
    water: u32,
    cooked: Option<u32>,
}

fn pot() -> impl Strategy<Value = Pot> {
    let water = prop_oneof![Just(0), 300u32..3000];
    let cooked = prop_oneof![1 => Just(None), 3 => (300u32..4000).prop_map(Some)];
    (50u32..1500, 20u32..600, water, cooked).prop_map(|(lentils, onions, water, cooked)| Pot {
        lentils,
        onions,
        water,
        cooked,
    })
}

impl Pot {
    fn text(&self) -> String {
        let mut text = format!(
            "batch dal\n{} g dry red lentils\n{} g raw onion",
            self.lentils, self.onions
        );
        if self.water > 0 {
            text += &format!("\n{} g water", self.water);
        }
        if let Some(cooked) = self.cooked {
            text += &format!("\ncooked {cooked}");
        }
        text
    }

    fn solids(&self) -> f64 {
        f64::from(self.lentils + self.onions)
    }
}

fn middle(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    let len = figures.len();
    (figures[(len - 1) / 2] + figures[len / 2]) / 2.0
}

/// What a pot comes to by those before it, if any of them was weighed.
fn expected(before: &[Pot], next: &Pot) -> Option<f64> {
    let looked = &before[before.len().saturating_sub(12)..];
    let weighed = looked.iter().rev().filter(|pot| pot.cooked.is_some());
    let newest: Vec<&Pot> = weighed.take(5).collect();
    if newest.is_empty() {
        return None;
    }
    let yields = newest
        .iter()
        .map(|pot| f64::from(pot.cooked.unwrap()) / pot.solids());
    let mut grams = next.solids() * middle(yields.collect());
    let wet = newest.iter().filter(|pot| pot.water > 0);
    let wet: Vec<f64> = wet.map(|pot| f64::from(pot.water) / pot.solids()).collect();
    if next.water > 0 && !wet.is_empty() {
        grams += (f64::from(next.water) - next.solids() * middle(wet)) * 0.9;
    }
    Some(grams.max(0.0))
}

fn dal(home: &Home) -> ComponentId {
    let mut components = home.kitchen.components.iter();
    let dal = components.find(|component| component.key == key("dal"));
    dal.expect("a pot of dal").id
}

fn recipe(home: &Home) -> Recipe {
    home.kitchen.recipe(dal(home)).expect("a recipe")
}

fn grams(grams: f64) -> Mass {
    Mass::from_grams(grams).expect("a mass")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn pots_are_reckoned_by_those_before(pots in prop::collection::vec(pot(), 1..9)) {
        let mut home = Home::new();
        for (at, pot) in pots.iter().enumerate() {
            home.say(ROBIN, &pot.text());
            let batch = home.kitchen.batches.values().next_back().expect("it was opened");
            let net = batch.net_mass().grams();
            match (pot.cooked, expected(&pots[..at], pot)) {
                (Some(cooked), _) => prop_assert_eq!(net, f64::from(cooked)),
                (None, Some(reckoned)) => prop_assert!((net - reckoned).abs() < 0.01, "{net} {reckoned}"),
                (None, None) => prop_assert!(batch.own_yield.is_none()),
            }
        }
    }

    #[test]
    fn a_recipe_scales_in_proportion(pots in prop::collection::vec(pot(), 1..5), factor in 0.05f64..20.0) {
        let mut home = Home::new();
        for pot in &pots {
            home.say(ANA, &pot.text());
        }
        // The newest that was weighed, or else the newest.
        let weighed = pots.iter().rev().find(|pot| pot.cooked.is_some());
        let (last, recipe) = (weighed.unwrap_or(pots.last().unwrap()), recipe(&home));
        let typed: Vec<u32> = [last.lentils, last.onions, last.water]
            .into_iter()
            .filter(|grams| *grams > 0)
            .collect();
        prop_assert_eq!(recipe.lines.len(), typed.len());
        let main = recipe.main.expect("a main ingredient");
        prop_assert_eq!(typed[main], last.lentils.max(last.onions));
        let scaled = recipe.times(factor);
        for (at, (line, typed)) in scaled.lines.iter().zip(&typed).enumerate() {
            let mass = line.mass.expect("it was weighed").grams();
            prop_assert!((mass - f64::from(*typed) * factor).abs() < 0.001);
            let ratio = f64::from(*typed) / f64::from(last.lentils.max(last.onions));
            prop_assert!((recipe.ratio(at).expect("a ratio") - ratio).abs() < 1e-9);
        }
        // The other way round: so much cooked needs so many times the recipe.
        let wanted = grams(1234.0);
        if let Some(scaled) = recipe.cooking_up(wanted) {
            prop_assert!((scaled.comes_to().mass - wanted).abs() < grams(0.5));
        }
        let main_grams = grams(700.0);
        let with = recipe.with(main, main_grams).expect("it has a weight");
        prop_assert_eq!(with.lines[main].mass, Some(main_grams));
        if let Some(reckoned) = expected(&pots, last) {
            let whole = recipe.comes_to();
            prop_assert!((whole.mass.grams() - reckoned).abs() < 0.01);
            let spread = whole.spread.expect("own pots");
            prop_assert!(spread.least <= whole.mass && whole.mass <= spread.most);
        }
    }
}

/// USDA Food Buying Guide, Appendix B: what has to be bought is what is needed over the yield; 2 lb / 0.61 = 3.28 lb.
#[test]
fn cooking_up_is_buying_back_from_the_yield() {
    let mut home = Home::new();
    home.say(ROBIN, "batch dal\n1000 g raw chicken thigh\ncooked 610");
    let pound = 453.592_37;
    let scaled = recipe(&home).cooking_up(grams(2.0 * pound));
    let raw = scaled.expect("it was weighed").raw_mass().grams() / pound;
    assert!((raw - 3.28).abs() < 0.005, "{raw}");
}

#[test]
fn a_recipe_tells_what_each_line_is() {
    let mut home = Home::new();
    home.say(
        ROBIN,
        "batch stock\n1500 g water\n300 g raw carrots\ncooked 1400",
    );
    home.say(
        ROBIN,
        "batch dal\n500 g dry red lentils\n400 g stock\na pinch of salt\n80 g quonx\ndrained 20 g fat\ncooked 1500",
    );
    let recipe = recipe(&home);
    let named: Vec<&str> = recipe.lines.iter().map(|line| line.name.as_str()).collect();
    assert_eq!(named, ["dry red lentils", "stock", "salt", "quonx"]);
    let masses: Vec<Option<f64>> = recipe
        .lines
        .iter()
        .map(|line| line.mass.map(Mass::grams))
        .collect();
    assert_eq!(masses, [Some(500.0), Some(400.0), None, Some(80.0)]);
    assert_eq!(recipe.main, Some(0));
    assert_eq!(recipe.times(2.0).poured, grams(40.0));
    // Another dish is cooked, and water comes from the tap.
    assert!(recipe.lines[1].good.is_none());
    assert!(
        recipe.lines[0]
            .good
            .as_ref()
            .is_some_and(|good| good.food.is_some())
    );
    assert_eq!(recipe.weighed, Some(grams(1500.0)));
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 14).expect("a day")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// Against a box of portions that are eaten one by one, the one that is due first before the others.
    #[test]
    fn how_long_it_lasts(
        lots in prop::collection::vec((1u32..20, 0u64..15, any::<bool>()), 1..5),
        portions in 1u32..6,
    ) {
        let standing: Vec<Standing> = lots
            .iter()
            .map(|(count, due, frozen)| Standing {
                mass: grams(f64::from(*count) * 100.0),
                frozen: *frozen,
                last_day: Some(today() + Days::new(*due)),
            })
            .collect();
        let a_day = f64::from(portions) * 100.0;
        let cover = cover(&standing, Some(a_day), today(), |_| grams(a_day));
        let mut boxes: Vec<(bool, u64)> = lots
            .iter()
            .flat_map(|(count, due, frozen)| vec![(*frozen, *due); *count as usize])
            .collect();
        boxes.sort();
        let on_hand = boxes.len() as f64;
        // Days of cover: on hand over what is eaten in a day.
        prop_assert!((cover.days.expect("it is eaten") - on_hand / f64::from(portions)).abs() < 1e-9);
        let mut passes = None;
        let mut out_on = None;
        for ahead in 0.. {
            let over: Vec<u64> = boxes.iter().map(|(_, due)| *due).filter(|due| *due < ahead).collect();
            if !over.is_empty() && passes.is_none() {
                passes = Some((over.iter().max().copied(), over.len()));
            }
            boxes.retain(|(_, due)| *due >= ahead);
            if boxes.len() < portions as usize {
                out_on = Some(today() + Days::new(ahead));
                break;
            }
            boxes.drain(..portions as usize);
        }
        prop_assert_eq!(cover.out_on, out_on);
        prop_assert_eq!(cover.passes.map(|(_, mass)| mass), passes.map(|(_, count)| grams(count as f64 * 100.0)));
    }
}

/// Order = use until the next delivery less stock: 5 x 10 - 28 = 22. What 28 lasts at 10 a day is two days and a part.
#[test]
fn stock_less_use_is_what_lacks() {
    let standing = [Standing {
        mass: grams(280.0),
        frozen: false,
        last_day: None,
    }];
    let cover = cover(&standing, Some(100.0), today(), |_| grams(100.0));
    assert_eq!(cover.days, Some(2.8));
    // Today and tomorrow are served, the day after is not.
    assert_eq!(cover.out_on, Some(today() + Days::new(2)));
    assert_eq!(cover.passes, None);
}

/// What a pot is worth is what its lines cost, bought with what is trimmed off them.
#[test]
fn a_pot_costs_what_its_goods_cost() {
    let mut home = Home::new();
    for told in [
        "red lentils cost 2.40 a kilo",
        "parsnips cost 1.50 a kilo",
        "parsnips 1000, trimmed 750",
        "batch stock: 1000 g water, 400 g parsnips, cooked 1200",
        "batch dal: 500 g red lentils, 300 g parsnips, 600 g stock, 20 g quonx, cooked 1500",
    ] {
        home.say(ROBIN, told);
    }
    let batch = home.batch("dal");
    let worth = home.kitchen.worth(batch, batch.net_mass());
    let parsnips = |grams: f64| grams / 0.75 * 0.15;
    let wanted = 500.0 * 0.24 + parsnips(300.0) + parsnips(400.0) * 600.0 / 1200.0;
    assert_eq!(worth.cost[0].hundredths, wanted.round() as i64);
    assert_eq!(home.kitchen.unpriced(batch), ["quonx"]);
    assert!(!worth.unpriced.is_zero());
}
