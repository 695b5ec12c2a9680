//! The whole bot and its bad luck, from one seed: households that say anything, updates that come twice and out of order,
//! answers that the channel refuses, a clock that jumps both ways, and deaths at any wait for the file. A twin that is
//! spared all of it must have the same books, row by row; an auditor adds up the journal by itself; and a kitchen that
//! speaks of one pot only must have left what a plain map of milligrams says.
//!
//! `HOBSIDE_SIM_STEPS=1000000 HOBSIDE_SIM_SEED=7 cargo test --release --test simulation -- --nocapture` by hand;
//! `HOBSIDE_SIM_FAULTS` is the rate of faults: deaths in ten thousand acts, the others in proportion;
//! `HOBSIDE_SIM_CLOSELY=1` looks after every act.

mod chance;
mod said;

#[path = "simulation/books.rs"]
mod books;
#[path = "simulation/bot.rs"]
mod bot;
#[path = "simulation/plain.rs"]
mod plain;
#[path = "simulation/world.rs"]
mod world;

use world::{Rates, Tally, World};

/// A life begins with a fresh file: its books would else be read again at every death.
const LIFE: u64 = 1000;

fn from_env(name: &str, default: u64) -> u64 {
    let set = std::env::var(name).ok();
    set.map_or(default, |number| number.parse().expect("a number"))
}

#[tokio::test]
async fn whatever_happens_the_books_are_those_of_a_twin_to_whom_nothing_does() {
    let seed = from_env("HOBSIDE_SIM_SEED", 1);
    let steps = from_env("HOBSIDE_SIM_STEPS", 1000);
    let faults = from_env("HOBSIDE_SIM_FAULTS", 200) as usize;
    let texts = said::texts();
    let mut all = Tally::default();
    for life in 0..steps.div_ceil(LIFE) {
        let seed = seed.wrapping_mul(1_000_003).wrapping_add(life);
        eprintln!("life {life} of {seed}");
        let mut world = World::begin(seed, Rates::of(faults), &texts).await;
        for _ in 0..LIFE.min(steps - life * LIFE) {
            world.step().await;
        }
        all += world.end().await;
    }
    println!("{all:?}");
    // A world in which nothing goes wrong would prove nothing.
    assert!(faults == 0 || all.deaths > 0 && all.repeats > 0);
}
