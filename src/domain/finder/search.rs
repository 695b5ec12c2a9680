//! The grams of a plate that come nearest to what it is to hold: exact, in whole steps.
//!
//! What is made small is `COST_OF_MISS` times the sum of relative misses, plus for each dish how far it is from a
//! usual portion, squared, and a little for what could wait. A plate that misses less always goes first; among those
//! that miss nothing the habits of the house decide. Both parts are convex, so Lagrange multipliers of the misses bound
//! every unfinished plate from below (weak duality: Everett, Operations Research 11, 1963), and the tree of plates is
//! cut wherever that bound, or the plain reach of what is still to come, is no better than the best plate so far.
//! Where nothing in reach holds what is asked for, a plate that costs a fiftieth more than the nearest is near enough.

/// Portions are weighed in these steps.
pub const STEP_GRAMS: f64 = 5.0;

/// Missing a figure by a ten thousandth costs as much as a hundred dishes at double their usual portion: no habit is worth it.
const COST_OF_MISS: f64 = 1_000_000.0;
/// What the dish that keeps longest costs for each usual portion, where others are due before it.
const COST_OF_WAITING: f64 = 0.25;
/// The multipliers are good enough long before this.
const SWEEPS: usize = 40;
const CUTS: usize = 60;
/// Rounding of sums must not hide a better plate.
const SLACK: f64 = 1e-9;
/// A plate that costs more misses something by half a hundredth at least: then it need not be the very nearest.
const COST_OF_MISSING: f64 = 5_000.0;
const NEAR_ENOUGH: f64 = 0.02;
/// However odd what stands here, nobody waits longer.
const TRIES_MAX: u32 = 400_000;

/// A dish that may be on the plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// For each aim, what a gram holds.
    pub per_gram: Vec<f64>,
    pub usual_grams: f64,
    /// No more than so many steps stand here.
    pub steps_max: u32,
    /// 0: due before all others, 1: after all others.
    pub lateness: f64,
}

/// What the plate is to hold of something: anything from `low` to `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    pub low: Option<f64>,
    pub high: Option<f64>,
    /// What lies on the plate already.
    pub there: f64,
}

impl Aim {
    /// By what share a sum misses it.
    pub fn miss(&self, sum: f64) -> f64 {
        let under = self.low.map_or(0.0, |low| low - sum);
        let over = self.high.map_or(0.0, |high| sum - high);
        under.max(over).max(0.0) / self.scale()
    }

    fn scale(&self) -> f64 {
        self.low.into_iter().chain(self.high).fold(1.0, f64::max)
    }
}

/// So many steps of each dish.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    pub steps: Vec<u32>,
    pub cost: f64,
}

/// What a plate costs; it is the least for the plate that is looked for.
pub fn cost(offers: &[Offer], aims: &[Aim], steps: &[u32]) -> f64 {
    let habits = offers
        .iter()
        .zip(steps)
        .map(|(offer, count)| offer.habit(f64::from(*count)));
    let misses = aims.iter().enumerate().map(|(at, aim)| {
        let parts = offers.iter().zip(steps);
        let sum: f64 = parts.map(|(offer, count)| offer.holds(at, *count)).sum();
        COST_OF_MISS * aim.miss(aim.there + sum)
    });
    habits.sum::<f64>() + misses.sum::<f64>()
}

/// The cheapest plate, if any is cheaper than `limit`.
pub fn cheapest(offers: &[Offer], aims: &[Aim], limit: f64) -> Option<Plate> {
    let multipliers = multipliers(offers, aims);
    let mut search = Search::new(offers, aims, &multipliers, limit);
    search.start();
    search.go(0, search.constant);
    search.best
}

impl Offer {
    fn holds(&self, aim: usize, steps: u32) -> f64 {
        self.per_gram[aim] * f64::from(steps) * STEP_GRAMS
    }

    /// What so many steps cost by habit; the bound asks for parts of one, too.
    fn habit(&self, steps: f64) -> f64 {
        let portions = steps * STEP_GRAMS / self.usual_grams;
        (portions - 1.0).powi(2) + COST_OF_WAITING * self.lateness * portions
    }

    /// The least that any number of steps costs at a price for each.
    fn bound(&self, price: f64) -> f64 {
        let least = self.least(price);
        self.habit(least) + price * least
    }

    /// The steps at which the habit, and a price for each step, cost least, as a real number within what stands here.
    fn least(&self, price: f64) -> f64 {
        let step = STEP_GRAMS / self.usual_grams;
        let portions = 1.0 - (COST_OF_WAITING * self.lateness + price / step) / 2.0;
        (portions / step).clamp(0.0, f64::from(self.steps_max))
    }
}

/// The price of a step of each dish at these multipliers.
fn price(offer: &Offer, multipliers: &[f64]) -> f64 {
    let parts = offer.per_gram.iter().zip(multipliers);
    parts.map(|(holds, price)| holds * price * STEP_GRAMS).sum()
}

/// What the aims give back of those prices: a miss is at least `multiplier * sum` less this.
fn given_back(aim: &Aim, multiplier: f64) -> f64 {
    let edge = if multiplier > 0.0 { aim.high } else { aim.low };
    multiplier * (edge.unwrap_or(0.0) - aim.there)
}

fn dual(offers: &[Offer], aims: &[Aim], multipliers: &[f64]) -> f64 {
    let dishes = offers.iter();
    let dishes = dishes.map(|offer| offer.bound(price(offer, multipliers)));
    let back = aims.iter().zip(multipliers);
    dishes.sum::<f64>() - back.map(|(aim, at)| given_back(aim, *at)).sum::<f64>()
}

/// Those that bound best, one after the other: each line is concave.
fn multipliers(offers: &[Offer], aims: &[Aim]) -> Vec<f64> {
    let mut all = vec![0.0; aims.len()];
    for _ in 0..SWEEPS {
        let before = all.clone();
        for (at, aim) in aims.iter().enumerate() {
            let most = COST_OF_MISS / aim.scale();
            let mut low = aim.low.map_or(0.0, |_| -most);
            let mut high = aim.high.map_or(0.0, |_| most);
            let mut value = |multiplier: f64| {
                all[at] = multiplier;
                dual(offers, aims, &all)
            };
            for _ in 0..CUTS {
                let (left, right) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                match value(left) < value(right) {
                    true => low = left,
                    false => high = right,
                }
            }
            all[at] = f64::midpoint(low, high);
        }
        let moved = all.iter().zip(&before).map(|(new, old)| (new - old).abs());
        if moved.fold(0.0, f64::max) < SLACK {
            break;
        }
    }
    all
}

struct Search<'a> {
    offers: &'a [Offer],
    aims: &'a [Aim],
    prices: Vec<f64>,
    /// What the bound starts from: all dishes at their least, less what the aims give back.
    constant: f64,
    least: Vec<f64>,
    /// For each aim, the most that the dishes from here on can add.
    reach: Vec<Vec<f64>>,
    steps: Vec<u32>,
    sums: Vec<f64>,
    habits: f64,
    limit: f64,
    tries: u32,
    best: Option<Plate>,
}

impl<'a> Search<'a> {
    fn new(offers: &'a [Offer], aims: &'a [Aim], multipliers: &[f64], limit: f64) -> Self {
        let prices: Vec<f64> = offers
            .iter()
            .map(|offer| price(offer, multipliers))
            .collect();
        let least = offers.iter().zip(&prices);
        let least = least.map(|(offer, price)| offer.bound(*price));
        let least: Vec<f64> = least.collect();
        let reach = (0..=offers.len()).map(|from| {
            let most = |at: usize| {
                offers[from..]
                    .iter()
                    .map(move |offer| offer.holds(at, offer.steps_max))
            };
            (0..aims.len()).map(|at| most(at).sum()).collect()
        });
        Self {
            offers,
            aims,
            constant: dual(offers, aims, multipliers),
            reach: reach.collect(),
            least,
            prices,
            steps: vec![0; offers.len()],
            sums: aims.iter().map(|aim| aim.there).collect(),
            habits: 0.0,
            limit,
            tries: 0,
            best: None,
        }
    }

    /// A plate that is good already: the real one, rounded, and put right dish by dish.
    fn start(&mut self) {
        let rounded = self.offers.iter().zip(&self.prices);
        let mut steps: Vec<u32> = rounded
            .map(|(offer, price)| offer.least(*price).round() as u32)
            .collect();
        let mut now = cost(self.offers, self.aims, &steps);
        loop {
            let before = now;
            for at in 0..steps.len() {
                for other in [
                    steps[at].saturating_sub(1),
                    (steps[at] + 1).min(self.offers[at].steps_max),
                ] {
                    let mut changed = steps.clone();
                    changed[at] = other;
                    let then = cost(self.offers, self.aims, &changed);
                    if then < now {
                        (steps, now) = (changed, then);
                    }
                }
            }
            if now >= before {
                break;
            }
        }
        self.keep(&steps, now);
    }

    fn keep(&mut self, steps: &[u32], cost: f64) {
        if cost < self.limit {
            self.limit = cost;
            let steps = steps.to_vec();
            self.best = Some(Plate { steps, cost });
        }
    }

    /// All plates with what is chosen up to here, the most promising first.
    fn go(&mut self, at: usize, bound: f64) {
        let Some(offer) = self.offers.get(at) else {
            return;
        };
        if at + 1 == self.offers.len() {
            return self.last(offer);
        }
        // The bound rises in both directions from its least, so each ends where it is no better any more.
        let start = offer.least(self.prices[at]).round() as u32;
        for count in start..=offer.steps_max {
            if !self.go_with(at, count, bound) {
                break;
            }
        }
        for count in (0..start).rev() {
            if !self.go_with(at, count, bound) {
                break;
            }
        }
    }

    /// All plates with so much of this dish; whether any of them was worth trying.
    fn go_with(&mut self, at: usize, count: u32, bound: f64) -> bool {
        let steps = f64::from(count);
        let habit = self.offers[at].habit(steps);
        let then = bound - self.least[at] + habit + self.prices[at] * steps;
        if then >= self.worth_trying() || self.tries == TRIES_MAX {
            return false;
        }
        self.tries += 1;
        self.steps[at] = count;
        self.put(at, count, 1.0);
        if self.can_be_reached(at + 1) {
            self.go(at + 1, then);
        }
        self.put(at, count, -1.0);
        true
    }

    /// The best of the last dish beside all others: what it costs falls to its least and rises again.
    fn last(&mut self, offer: &Offer) {
        let (mut low, mut high) = (0, offer.steps_max);
        while low < high {
            let middle = low + (high - low) / 2;
            match self.with_last(offer, middle) <= self.with_last(offer, middle + 1) {
                true => high = middle,
                false => low = middle + 1,
            }
        }
        let cost = self.with_last(offer, low);
        if cost < self.limit {
            *self.steps.last_mut().expect("a dish is offered") = low;
            self.limit = cost;
            let steps = self.steps.clone();
            self.best = Some(Plate { steps, cost });
        }
    }

    fn with_last(&self, offer: &Offer, count: u32) -> f64 {
        let misses = self.aims.iter().zip(&self.sums).enumerate();
        let misses =
            misses.map(|(at, (aim, sum))| COST_OF_MISS * aim.miss(sum + offer.holds(at, count)));
        self.habits + offer.habit(f64::from(count)) + misses.sum::<f64>()
    }

    /// A plate must be cheaper than this to be looked for.
    fn worth_trying(&self) -> f64 {
        match self.limit < COST_OF_MISSING {
            true => self.limit - SLACK,
            false => self.limit * (1.0 - NEAR_ENOUGH),
        }
    }

    /// So many steps on the plate, or off it.
    fn put(&mut self, at: usize, count: u32, sign: f64) {
        let offer = &self.offers[at];
        self.habits += sign * offer.habit(f64::from(count));
        for (aim, sum) in self.sums.iter_mut().enumerate() {
            *sum += sign * offer.holds(aim, count);
        }
    }

    /// With all that could still come, or nothing of it, the misses leave room for a better plate.
    fn can_be_reached(&self, next: usize) -> bool {
        let sums = self.sums.iter().zip(&self.reach[next]);
        let misses = self.aims.iter().zip(sums).map(|(aim, (sum, reach))| {
            let nearest = aim.low.map_or(*sum, |low| low.clamp(*sum, sum + reach));
            COST_OF_MISS * aim.miss(nearest)
        });
        self.habits + misses.sum::<f64>() < self.worth_trying() + SLACK
    }
}
