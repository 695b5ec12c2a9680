//! The order of work against brute force: every minute at which every step may begin.

use hobside::domain::prep::work::{Early, Step, Stove, Task, Uses, early, order};

struct Dice(u64);

impl Dice {
    fn roll(&mut self, to: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % (to + 1)
    }
}

fn step(dice: &mut Dice) -> Step {
    let uses = match dice.roll(5) {
        0 | 1 => Uses::Hands,
        2 | 3 => Uses::Burner,
        4 => Uses::Oven([Some(180), Some(190), Some(220), None][dice.roll(3) as usize]),
        _ => Uses::Nothing,
    };
    let minutes = 1 + dice.roll(2) as u32;
    Step { minutes, uses }
}

/// Every step follows the one before, and nowhere is more going on than the stove has, told minute by minute.
fn holds(dishes: &[Vec<Step>], stove: Stove, tasks: &[Task]) -> bool {
    let of = |task: &Task| dishes[task.dish][task.step];
    let chained = tasks.iter().all(|task| {
        let next = tasks
            .iter()
            .find(|next| next.dish == task.dish && next.step == task.step + 1);
        task.begins == task.ends + of(task).minutes
            && next.is_none_or(|next| next.begins <= task.ends)
    });
    let end = tasks
        .iter()
        .map(|task| task.begins)
        .max()
        .unwrap_or_default();
    chained
        && (0..end).all(|minute| {
            let now: Vec<Step> = tasks
                .iter()
                .filter(|task| task.ends <= minute && minute < task.begins)
                .map(of)
                .collect();
            let count = |those: fn(&Uses) -> bool| {
                now.iter().filter(|step| those(&step.uses)).count() as u32
            };
            let heats: Vec<u32> = now
                .iter()
                .filter_map(|step| match step.uses {
                    Uses::Oven(heat) => heat,
                    _ => None,
                })
                .collect();
            let spread = heats
                .iter()
                .max()
                .zip(heats.iter().min())
                .map_or(0, |(most, least)| most - least);
            count(|uses| *uses == Uses::Hands) <= stove.hands
                && count(|uses| *uses == Uses::Burner) <= stove.burners
                && count(|uses| matches!(uses, Uses::Oven(_))) <= stove.trays
                && spread <= 10
        })
}

/// The best of all schedules, by trying each minute for each step.
fn brute(dishes: &[Vec<Step>], stove: Stove) -> Early {
    let all: Vec<(usize, usize)> = (0..dishes.len())
        .flat_map(|dish| (0..dishes[dish].len()).rev().map(move |step| (dish, step)))
        .collect();
    let total: u32 = dishes.iter().flatten().map(|step| step.minutes).sum();
    let mut best = None;
    place(dishes, stove, &all, total, &mut Vec::new(), &mut best);
    best.expect("one after another always works")
}

fn place(
    dishes: &[Vec<Step>],
    stove: Stove,
    open: &[(usize, usize)],
    total: u32,
    placed: &mut Vec<Task>,
    best: &mut Option<Early>,
) {
    if !holds(dishes, stove, placed) || best.is_some_and(|best| early(dishes, placed) >= best) {
        return;
    }
    let Some(((dish, step), rest)) = open.split_first() else {
        *best = Some(early(dishes, placed));
        return;
    };
    let minutes = dishes[*dish][*step].minutes;
    let after = placed
        .iter()
        .filter(|task| task.dish == *dish)
        .map(|task| task.begins)
        .max();
    for ends in after.unwrap_or_default()..=total - minutes {
        placed.push(Task {
            dish: *dish,
            step: *step,
            begins: ends + minutes,
            ends,
        });
        place(dishes, stove, rest, total, placed, best);
        placed.pop();
    }
}

#[test]
fn the_order_of_work_agrees_with_brute_force() {
    let told = std::env::var("HOBSIDE_ORDERS").ok();
    let cases = told.and_then(|count| count.parse().ok()).unwrap_or(300);
    for case in 0..cases {
        let mut dice = Dice(case);
        let mut left = 6;
        let mut dishes = Vec::new();
        for _ in 0..1 + dice.roll(2) {
            let steps = dice.roll(3).min(left);
            left -= steps;
            dishes.push((0..steps).map(|_| step(&mut dice)).collect::<Vec<_>>());
        }
        let stove = Stove {
            hands: 1,
            burners: 1 + dice.roll(1) as u32,
            trays: 1 + dice.roll(1) as u32,
        };
        let tasks = order(&dishes, stove);
        assert_eq!(tasks.len(), dishes.iter().map(Vec::len).sum::<usize>());
        assert!(
            holds(&dishes, stove, &tasks),
            "case {case}: {dishes:?} {stove:?}\n{tasks:#?}"
        );
        let (found, best) = (early(&dishes, &tasks), brute(&dishes, stove));
        assert_eq!(found, best, "case {case}: {dishes:?} {stove:?}\n{tasks:#?}");
    }
}

#[test]
fn a_large_prep_day_is_ordered_at_once() {
    let mut dice = Dice(5);
    let dishes: Vec<Vec<Step>> = (0..8)
        .map(|_| {
            let mut steps: Vec<Step> = (0..5).map(|_| step(&mut dice)).collect();
            steps.iter_mut().for_each(|step| step.minutes *= 12);
            steps
        })
        .collect();
    let stove = Stove {
        hands: 1,
        burners: 4,
        trays: 1,
    };
    let tasks = order(&dishes, stove);
    assert!(holds(&dishes, stove, &tasks));
    let total: u32 = dishes.iter().flatten().map(|step| step.minutes).sum();
    let by_hand = dishes
        .iter()
        .flatten()
        .filter(|step| step.uses == Uses::Hands);
    let by_hand: u32 = by_hand.map(|step| step.minutes).sum();
    let found = early(&dishes, &tasks);
    assert!(
        found.hands >= by_hand && found.all < total,
        "{found:?} of {total}, {by_hand} by hand"
    );
}
