//! The finder's search against brute force: every plate of up to three dishes in whole steps.

use hobside::domain::finder::search::{Aim, Offer, STEP_GRAMS, cheapest, cost};
use proptest::prelude::*;

/// Every number of steps of every dish.
fn every(offers: &[Offer]) -> impl Iterator<Item = Vec<u32>> {
    let mut next = Some(vec![0; offers.len()]);
    std::iter::from_fn(move || {
        let steps = next.take()?;
        let place = steps
            .iter()
            .zip(offers)
            .position(|(count, offer)| *count < offer.steps_max);
        next = place.map(|at| {
            let mut more = steps.clone();
            more[at] += 1;
            more[..at].fill(0);
            more
        });
        Some(steps)
    })
}

fn by_trying_all(offers: &[Offer], aims: &[Aim]) -> f64 {
    let all = every(offers).map(|steps| cost(offers, aims, &steps));
    all.fold(f64::INFINITY, f64::min)
}

fn offer(aims: usize) -> impl Strategy<Value = Offer> {
    let holds = prop::collection::vec(prop_oneof![Just(0.0), 0.0..3.0], aims);
    (
        holds,
        20.0..300.0,
        0_u32..28,
        prop_oneof![Just(0.0), 0.0..1.0],
    )
        .prop_map(|(per_gram, usual_grams, steps_max, lateness)| Offer {
            per_gram,
            usual_grams,
            steps_max,
            lateness,
        })
}

fn aim() -> impl Strategy<Value = Aim> {
    let there = prop_oneof![Just(0.0), 0.0..200.0];
    (1.0..400.0, 0.0..0.3, 0..3, there).prop_map(
        |(low, wide, open, there): (f64, f64, i32, f64)| Aim {
            low: (open != 1).then_some(low),
            high: (open != 2).then_some(low * (1.0 + wide)),
            there,
        },
    )
}

fn kitchens() -> impl Strategy<Value = (Vec<Offer>, Vec<Aim>)> {
    (1_usize..4, 1_usize..4).prop_flat_map(|(dishes, aims)| {
        (
            prop::collection::vec(offer(aims), dishes),
            prop::collection::vec(aim(), aims),
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_plate_in_whole_steps_is_better((offers, aims) in kitchens()) {
        let found = cheapest(&offers, &aims, f64::INFINITY).expect("no limit");
        let best = by_trying_all(&offers, &aims);
        // What misses anyhow is found to a fiftieth.
        let slack = if best < 500.0 { 1e-6 } else { best / 40.0 };
        prop_assert!(found.cost >= best - 1e-6 && found.cost <= best + slack, "{found:?}, but {best}");
        prop_assert!((cost(&offers, &aims, &found.steps) - found.cost).abs() < 1e-6);
    }

    /// However far from a usual portion: no other plate misses less.
    #[test]
    fn no_habit_is_worth_a_miss((offers, aims) in kitchens()) {
        let missed = |steps: &[u32]| -> f64 {
            let sum = |at: usize| {
                let parts = offers.iter().zip(steps);
                parts.map(|(it, count)| it.per_gram[at] * f64::from(*count) * STEP_GRAMS).sum::<f64>()
            };
            let each = aims.iter().enumerate();
            each.map(|(at, aim)| aim.miss(aim.there + sum(at))).sum()
        };
        let found = cheapest(&offers, &aims, f64::INFINITY).expect("no limit");
        let least = every(&offers).map(|steps| missed(&steps)).fold(f64::INFINITY, f64::min);
        // What misses anyhow is found to a fiftieth.
        let missed = missed(&found.steps);
        prop_assert!(missed <= least + 0.001 + least / 40.0, "{found:?} misses {missed}, not {least}");
    }

    #[test]
    fn nothing_is_found_that_is_no_better_than_the_limit((offers, aims) in kitchens()) {
        let found = cheapest(&offers, &aims, f64::INFINITY).expect("no limit");
        prop_assert!(cheapest(&offers, &aims, found.cost - 1e-6).is_none());
    }
}
