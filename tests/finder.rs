//! The finder's search against brute force: every plate of up to three dishes in whole steps.

use hobside::domain::finder::search::{Aim, Offer, cheapest, cost};
use proptest::prelude::*;

/// Every number of steps of every dish; what is slow is told to the finder in no other way.
fn by_trying_all(offers: &[Offer], aims: &[Aim]) -> f64 {
    let mut steps = vec![0; offers.len()];
    let mut best = f64::INFINITY;
    loop {
        best = best.min(cost(offers, aims, &steps));
        let next = steps
            .iter()
            .zip(offers)
            .position(|(count, offer)| *count < offer.steps_max);
        let Some(at) = next else { return best };
        steps[at] += 1;
        steps[..at].fill(0);
    }
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
        let slack = if best < 5.0 { 1e-6 } else { best / 40.0 };
        prop_assert!(found.cost >= best - 1e-6 && found.cost <= best + slack, "{found:?}, but {best}");
        prop_assert!((cost(&offers, &aims, &found.steps) - found.cost).abs() < 1e-6);
    }

    #[test]
    fn nothing_is_found_that_is_no_better_than_the_limit((offers, aims) in kitchens()) {
        let found = cheapest(&offers, &aims, f64::INFINITY).expect("no limit");
        prop_assert!(cheapest(&offers, &aims, found.cost - 1e-6).is_none());
    }
}
