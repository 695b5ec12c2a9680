//! A plate that holds what is asked for, of what was named or of what stands ready: what is due first and what people
//! usually take goes before. It is offered, and booked by one word.

mod candidate;
mod day;

use chrono::NaiveDate;

use self::candidate::{Candidate, of_part, ready};
use super::super::answer::{About, Answer};
use super::super::draft::Draft;
use super::super::finder::answer::{DaySoFar, FinderAnswer, FoundAim, FoundLine};
use super::super::finder::problem::FinderProblem;
use super::super::finder::search::{Aim as Bounds, Offer, Plate, STEP_GRAMS, cheapest};
use super::super::ids::{MemberId, QuestionId};
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::nutrients::Totals;
use super::super::personal::target::{amount, most};
use super::super::problem::ProblemKind;
use super::people::find_person;
use super::{Asking, Done, Step, Stop, question};
use crate::lang::syntax::{Aim, Aimed, Command, Finder, FinderLimit, FinderPart, Words};

/// A plate of more is no plate, and takes long to look for.
const NAMED_MAX: usize = 5;
const FROM_STOCK_MAX: usize = 3;
/// Of what stands ready, so many that are due first are tried.
const CANDIDATES_MAX: usize = 12;
/// Within this share of a figure it is held.
const NEAR: f64 = 0.02;
/// So near to a figure, usual portions and what is due first decide.
const AS_GOOD_KCAL: f64 = 5.0;
const AS_GOOD_GRAMS: f64 = 0.5;
/// So small a share of a figure is not missed: habits may have been worth it.
const SLACK: f64 = 0.0005;

impl From<FinderProblem> for Stop {
    fn from(problem: FinderProblem) -> Self {
        ProblemKind::Finder(problem).into()
    }
}

pub fn find(draft: &mut Draft, asked: &Finder) -> Step {
    if asked.of_day {
        return day::fill(draft, asked);
    }
    plate(draft, asked, None)
}

fn plate(draft: &mut Draft, asked: &Finder, day: Option<DaySoFar>) -> Step {
    let of = match &asked.who {
        Some(who) => find_person(draft, who, |name| {
            let who = Some(Words::plain(name));
            let asked = asked.clone();
            Command::Finder(Finder { who, ..asked }).to_string()
        })?,
        None => draft.input.sender,
    };
    let aims = bounds(&asked.aims)?;
    let mut told: Vec<Candidate> = Vec::new();
    let mut named: Vec<Candidate> = Vec::new();
    for part in &asked.parts {
        let candidate = of_part(draft, part)?;
        match candidate.line.told {
            true => told.push(candidate),
            false => named.push(candidate),
        }
    }
    let limits = limits(draft, asked)?;
    let within = |candidate: Candidate| -> Option<Candidate> {
        let limit = limits.iter().find(|limit| limit.is_same(&candidate));
        match limit {
            Some(limit) => candidate.within(limit.line.mass),
            None => Some(candidate),
        }
    };
    let named: Vec<Candidate> = named.into_iter().filter_map(within).collect();
    if named.len() > NAMED_MAX {
        return Err(FinderProblem::TooManyDishes { most: NAMED_MAX }.into());
    }
    let known = |candidate: &Candidate| {
        let holds = |aim: &Aim| candidate.amount_per_gram(aim).is_some();
        asked.aims.iter().all(holds)
    };
    let (known_named, unknown): (Vec<_>, Vec<_>) = named.into_iter().partition(known);
    let mut unknown: Vec<String> = unknown.into_iter().map(|it| it.line.name).collect();
    unknown.extend(
        told.iter()
            .filter(|it| !known(it))
            .map(|it| it.line.name.clone()),
    );
    let beside = match asked.from_stock {
        true => ready(draft, told.iter().chain(&known_named)),
        false => Vec::new(),
    };
    let beside: Vec<Candidate> = beside
        .into_iter()
        .filter_map(within)
        .filter(known)
        .take(CANDIDATES_MAX)
        .collect();
    if known_named.is_empty() && beside.is_empty() {
        return Err(match unknown.is_empty() {
            true => FinderProblem::NothingReady.into(),
            false => FinderProblem::NothingKnown { names: unknown }.into(),
        });
    }
    let search = Search { asked, aims };
    let mut offered = (known_named, beside);
    let mut found = search.best(&told, &offered.0, &offered.1);
    // A dish may stand in several pots: the next is drawn from once the first is used up and something still lacks.
    while search.lacks(told.iter().chain(&found))
        && let Some((used, next)) = found.iter().find_map(|used| {
            let next = used.next_pot().filter(known);
            next.filter(|_| used.is_used_up())
                .map(|next| (used.clone(), next))
        })
    {
        offered.0.retain(|it| !it.is_same(&used));
        offered.1.retain(|it| !it.is_same(&used));
        offered.0.push(next);
        told.push(used);
        found = search.best(&told, &offered.0, &offered.1);
    }
    Ok(answer(draft, (asked, of, day), told, found, unknown))
}

/// The most that is wanted of what the limits name: nothing where no amount is told.
fn limits(draft: &Draft, asked: &Finder) -> Result<Vec<Candidate>, Stop> {
    let limit = |limit: &FinderLimit| {
        let (amount, name) = (limit.most.clone(), limit.name.clone());
        of_part(draft, &FinderPart { amount, name })
    };
    asked.limits.iter().map(limit).collect()
}

/// What the plate is to hold of each.
fn bounds(aims: &[Aim]) -> Result<Vec<Bounds>, Stop> {
    let possible = |figure: &f64| figure.is_finite() && *figure > 0.0;
    let fits = |aim: &Aim| {
        let most = aim.of.map_or(0.0, most);
        let mut figures = aim.least.iter().chain(&aim.most);
        let apart = aim.least.zip(aim.most);
        figures.all(|figure| possible(figure) && *figure <= most)
            && apart.is_none_or(|(least, most)| least <= most)
    };
    if !aims.iter().all(fits) {
        return Err(FinderProblem::ImpossibleAim.into());
    }
    Ok(aims.iter().map(wanted).collect())
}

/// What is looked for: the figure itself, as far as a step or a guess can tell one plate from another.
fn wanted(aim: &Aim) -> Bounds {
    around(aim, as_good(aim.of))
}

/// What is said to be held: one figure is meant about.
fn range(aim: &Aim) -> Bounds {
    let figure = aim.least.unwrap_or_default();
    around(aim, as_good(aim.of).max(figure * NEAR))
}

fn as_good(of: Option<Aimed>) -> f64 {
    match of {
        Some(Aimed::Energy) => AS_GOOD_KCAL,
        _ => AS_GOOD_GRAMS,
    }
}

/// So much on either side of a figure; a bound is a bound. Who asks for protein or fibre wants no less of it.
fn around(aim: &Aim, by: f64) -> Bounds {
    let (low, high) = match (aim.least, aim.most, aim.of) {
        (Some(least), Some(most), of) if least == most => match of {
            Some(Aimed::Protein | Aimed::Fibre) => (Some(least), Some(most + 2.0 * by)),
            _ => (Some(least - by), Some(most + by)),
        },
        (low, high, _) => (low, high),
    };
    let there = 0.0;
    Bounds { low, high, there }
}

struct Search<'a> {
    asked: &'a Finder,
    aims: Vec<Bounds>,
}

impl Search<'_> {
    /// The best plate of all that is named, and a few of what stands beside it.
    fn best(
        &self,
        there: &[Candidate],
        named: &[Candidate],
        beside: &[Candidate],
    ) -> Vec<Candidate> {
        let aims = self.aims(there.iter());
        let room = FROM_STOCK_MAX.saturating_sub(named.len());
        let least = usize::from(named.is_empty());
        let mut best: Option<(Vec<Candidate>, Plate)> = None;
        for few in subsets(beside.len(), least, room) {
            let chosen = named.iter().chain(few.iter().map(|at| &beside[*at]));
            let chosen: Vec<Candidate> = chosen.cloned().collect();
            let limit = best.as_ref().map_or(f64::INFINITY, |(_, plate)| plate.cost);
            if let Some(plate) = cheapest(&self.offers(&chosen), &aims, limit) {
                best = Some((chosen, plate));
            }
        }
        let Some((mut chosen, plate)) = best else {
            return Vec::new();
        };
        for (candidate, steps) in chosen.iter_mut().zip(&plate.steps) {
            let mass = Mass::from_grams(f64::from(*steps) * STEP_GRAMS);
            candidate.put(mass.unwrap_or(Mass::ZERO));
        }
        chosen.retain(|candidate| candidate.line.mass.mg() > 0);
        chosen
    }

    /// Less of something than was asked for.
    fn lacks<'a>(&self, plate: impl Iterator<Item = &'a Candidate>) -> bool {
        let aims = self.aims(plate);
        aims.iter()
            .any(|aim| aim.low.is_some_and(|low| aim.there < low))
    }

    /// With what lies on the plate already.
    fn aims<'a>(&self, plate: impl Iterator<Item = &'a Candidate>) -> Vec<Bounds> {
        let mut totals = Totals::default();
        plate.for_each(|candidate| totals.add(&candidate.line.totals));
        let asked = self.asked.aims.iter().zip(&self.aims);
        let there = |of: Option<Aimed>| of.and_then(|of| amount(of, &totals).amount);
        asked
            .map(|(aim, bounds)| Bounds {
                there: there(aim.of).unwrap_or(0.0),
                ..*bounds
            })
            .collect()
    }

    fn offers(&self, chosen: &[Candidate]) -> Vec<Offer> {
        let due = |candidate: &Candidate| candidate.line.use_by.unwrap_or(NaiveDate::MAX);
        let mut days: Vec<NaiveDate> = chosen.iter().map(due).collect();
        days.sort();
        days.dedup();
        let last = days.len().saturating_sub(1).max(1) as f64;
        let offers = chosen.iter().map(|candidate| {
            let holds = |aim: &Aim| candidate.amount_per_gram(aim).unwrap_or(0.0);
            let rank = days
                .iter()
                .position(|day| *day == due(candidate))
                .unwrap_or(0);
            Offer {
                per_gram: self.asked.aims.iter().map(holds).collect(),
                usual_grams: candidate.usual_grams,
                steps_max: candidate.steps_max(),
                lateness: rank as f64 / last,
            }
        });
        offers.collect()
    }
}

/// All ways to choose at least and at most so many of them.
fn subsets(of: usize, least: usize, most: usize) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for at in 0..of {
        let longer = all.iter().filter(|few| few.len() < most);
        let longer: Vec<Vec<usize>> = longer.map(|few| [few.as_slice(), &[at]].concat()).collect();
        all.extend(longer);
    }
    all.retain(|few| few.len() >= least);
    all
}

fn answer(
    draft: &mut Draft,
    (asked, of, day): (&Finder, MemberId, Option<DaySoFar>),
    told: Vec<Candidate>,
    found: Vec<Candidate>,
    unknown: Vec<String>,
) -> Done {
    let parts: Vec<String> = told
        .iter()
        .chain(&found)
        .map(|candidate| format!("{} g {}", candidate.line.mass.grams(), candidate.says))
        .collect();
    let lines: Vec<FoundLine> = told
        .into_iter()
        .chain(found)
        .map(|candidate| candidate.line)
        .collect();
    let mut totals = Totals::default();
    lines.iter().for_each(|line| totals.add(&line.totals));
    let aims = asked
        .aims
        .iter()
        .filter_map(|aim| held(aim, &totals))
        .collect();
    let mut plate = parts.join(", ");
    if of != draft.input.sender {
        plate = format!("{plate} for {}", draft.somebody(of).name);
    }
    let question = (!lines.is_empty()).then(|| offer(draft, plate));
    Done::saying(Answer::Finder(Box::new(FinderAnswer {
        lines,
        totals,
        aims,
        unknown,
        question,
        of,
        day,
        numbers: true,
        today: draft.today(),
    })))
}

/// One word books it.
fn offer(draft: &mut Draft, plate: String) -> QuestionId {
    let asking = Asking {
        about: About::Plate,
        words: plate.clone(),
        problem: None,
        options: vec![Choice {
            label: plate.clone(),
            says: plate,
        }],
        pointed: None,
    };
    question::put(draft, asking).question
}

/// What the plate holds of what was asked for, and how far off that is.
fn held(aim: &Aim, totals: &Totals) -> Option<FoundAim> {
    let of = aim.of?;
    let holds = amount(of, totals);
    let sum = holds.amount.unwrap_or(0.0);
    let range = range(aim);
    let low = aim
        .least
        .filter(|_| range.low.is_some_and(|low| sum < low * (1.0 - SLACK)));
    let high = aim
        .most
        .filter(|_| range.high.is_some_and(|high| sum > high * (1.0 + SLACK)));
    Some(FoundAim {
        of,
        least: aim.least,
        most: aim.most,
        holds,
        off: low.or(high).map_or(0.0, |figure| sum - figure),
    })
}
