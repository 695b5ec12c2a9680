//! In what order the steps of several dishes are done, backwards from when all is to be ready: each step as late as
//! its dish and the stove allow, in the order of dishes that lets hands begin last. Steps of a dish follow one
//! another; between them it may wait.

pub use crate::lang::syntax::Uses;

/// Two trays may share an oven whose heat differs by no more than this.
const OVEN_LEEWAY_C: u32 = 10;

/// So many placements are tried; then the best order so far stands.
const NODES_MAX: u32 = 100_000;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    pub minutes: u32,
    pub uses: Uses,
}

/// How much of each there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stove {
    pub hands: u32,
    pub burners: u32,
    pub trays: u32,
}

/// A step of a dish in its place: minutes before all is ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Task {
    pub dish: usize,
    pub step: usize,
    /// It begins so many minutes before the end.
    pub begins: u32,
    /// It is done so many minutes before the end.
    pub ends: u32,
}

/// How early hands have to begin, and then how early anything does, in minutes before the end.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Early {
    pub hands: u32,
    pub all: u32,
}

/// The tasks, first things first. A stove without what a step takes has it once: a kitchen that says so cooks anyway.
pub fn order(dishes: &[Vec<Step>], stove: Stove) -> Vec<Task> {
    let mut search = Search {
        dishes,
        stove,
        placed: Vec::new(),
        open: dishes.iter().map(Vec::len).collect(),
        best: None,
        nodes: 0,
    };
    search.go(Early::default());
    let mut tasks = search.best.map_or_else(Vec::new, |(_, tasks)| tasks);
    tasks.sort_by_key(|task| (std::cmp::Reverse(task.begins), task.dish, task.step));
    tasks
}

/// How early a schedule begins.
pub fn early(dishes: &[Vec<Step>], tasks: &[Task]) -> Early {
    let begins = |hands: bool| {
        let those = tasks.iter().filter(|task| {
            let uses = dishes[task.dish][task.step].uses;
            !hands || uses == Uses::Hands
        });
        those.map(|task| task.begins).max().unwrap_or_default()
    };
    Early {
        hands: begins(true),
        all: begins(false),
    }
}

struct Search<'a> {
    dishes: &'a [Vec<Step>],
    stove: Stove,
    placed: Vec<Task>,
    /// Of each dish: so many of its first steps have no place yet.
    open: Vec<usize>,
    best: Option<(Early, Vec<Task>)>,
    nodes: u32,
}

impl Search<'_> {
    /// Place the last open step of each dish in turn, and go on from there.
    fn go(&mut self, early: Early) {
        if self.open.iter().all(|open| *open == 0) {
            if self.best.as_ref().is_none_or(|(best, _)| early < *best) {
                self.best = Some((early, self.placed.clone()));
            }
            return;
        }
        if self.nodes >= NODES_MAX && self.best.is_some() {
            return;
        }
        let bound = self.bound(early);
        if self.best.as_ref().is_some_and(|(best, _)| bound >= *best) {
            return;
        }
        let mut dishes: Vec<usize> = (0..self.dishes.len())
            .filter(|dish| self.open[*dish] > 0)
            .collect();
        // The longest way back first: a good order is found early, and the bound then cuts the others.
        dishes.sort_by_key(|dish| (std::cmp::Reverse(self.way_back(*dish)), *dish));
        for dish in dishes {
            self.nodes += 1;
            let step = self.open[dish] - 1;
            let task = self.latest(dish, step);
            let hands = self.dishes[dish][step].uses == Uses::Hands;
            let then = Early {
                hands: if hands {
                    early.hands.max(task.begins)
                } else {
                    early.hands
                },
                all: early.all.max(task.begins),
            };
            self.placed.push(task);
            self.open[dish] -= 1;
            self.go(then);
            self.open[dish] += 1;
            self.placed.pop();
        }
    }

    /// Minutes before the end by which the next step of a dish must be done.
    fn due(&self, dish: usize) -> u32 {
        let own = self.placed.iter().filter(|task| task.dish == dish);
        own.map(|task| task.begins).max().unwrap_or_default()
    }

    /// How early a dish begins at the latest, if nothing stands in its way.
    fn way_back(&self, dish: usize) -> u32 {
        let open = &self.dishes[dish][..self.open[dish]];
        self.due(dish) + open.iter().map(|step| step.minutes).sum::<u32>()
    }

    /// No order from here on can begin later than this.
    fn bound(&self, early: Early) -> Early {
        let dishes = (0..self.dishes.len()).filter(|dish| self.open[*dish] > 0);
        let mut bound = early;
        let mut by_hand = 0;
        let mut soonest = u32::MAX;
        for dish in dishes {
            bound.all = bound.all.max(self.way_back(dish));
            let mut way = self.due(dish);
            for step in self.dishes[dish][..self.open[dish]].iter().rev() {
                if step.uses == Uses::Hands {
                    soonest = soonest.min(way);
                    by_hand += step.minutes;
                    bound.hands = bound.hands.max(way + step.minutes);
                }
                way += step.minutes;
            }
        }
        if by_hand > 0 {
            let hands = self.stove.hands.max(1);
            bound.hands = bound.hands.max(soonest + by_hand.div_ceil(hands));
        }
        bound.all = bound.all.max(bound.hands);
        bound
    }

    /// The place of a step that is nearest to the end.
    fn latest(&self, dish: usize, step: usize) -> Task {
        let minutes = self.dishes[dish][step].minutes;
        let due = self.due(dish);
        // It is done when it has to be, or when something else that it would stand in the way of begins.
        let begins = self.placed.iter().map(|task| task.begins);
        let mut ends: Vec<u32> = begins.filter(|begins| *begins > due).collect();
        ends.push(due);
        ends.sort_unstable();
        let mut tasks = ends.into_iter().map(|ends| Task {
            dish,
            step,
            begins: ends + minutes,
            ends,
        });
        let place = tasks.find(|task| self.fits(task));
        place.expect("before all that is placed there is room")
    }

    fn fits(&self, task: &Task) -> bool {
        let uses = self.dishes[task.dish][task.step].uses;
        let there = match uses {
            Uses::Hands => self.stove.hands,
            Uses::Burner => self.stove.burners,
            Uses::Oven(_) => self.stove.trays,
            Uses::Nothing => return true,
        };
        let overlap = |one: &Task, other: &Task| one.begins > other.ends && other.begins > one.ends;
        let beside: Vec<&Task> = self
            .placed
            .iter()
            .filter(|other| overlap(task, other))
            .filter(|other| same(uses, self.dishes[other.dish][other.step].uses))
            .collect();
        let heat = |other: &&Task| match (uses, self.dishes[other.dish][other.step].uses) {
            (Uses::Oven(Some(one)), Uses::Oven(Some(other))) => {
                one.abs_diff(other) <= OVEN_LEEWAY_C
            }
            _ => true,
        };
        // How many are at it changes only where one begins; time runs backwards here.
        let busy = |at: u32| {
            beside
                .iter()
                .filter(|other| other.ends <= at && at < other.begins)
                .count()
        };
        let points = beside.iter().map(|other| other.ends.max(task.ends));
        beside.iter().all(heat) && points.map(busy).all(|busy| busy < there.max(1) as usize)
    }
}

fn same(one: Uses, other: Uses) -> bool {
    std::mem::discriminant(&one) == std::mem::discriminant(&other)
}
