//! What stood here at the end of each day of the last weeks, dish by dish; of one dish, what was ready and what frozen.
//! Derived from what has moved in and out of its lots.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::batch::Batch;
use super::ids::ComponentId;
use super::kitchen::Kitchen;
use super::mass::Mass;

/// So many days, today among them.
const DAYS_SHOWN: u64 = 28;

#[derive(Debug, Clone, PartialEq)]
pub struct CourseAnswer {
    /// The one that was asked for; `None`: all of them.
    pub dish: Option<String>,
    /// The first day on which anything stood here.
    pub from: NaiveDate,
    pub until: NaiveDate,
    /// What stood here on any of the days; most of it first.
    pub parts: Vec<CoursePart>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct CoursePart {
    pub of: CourseOf,
    /// At the end of each day; of the last one, now.
    pub held: Vec<Mass>,
    /// Something of it was not weighed.
    pub estimated: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub enum CourseOf {
    Dish(String),
    /// Of the one dish.
    Ready,
    Frozen,
}

impl Kitchen {
    /// Up to a moment.
    pub fn course(&self, dish: Option<ComponentId>, now: DateTime<Utc>) -> CourseAnswer {
        let until = self.day_of(now);
        let first = until - Days::new(DAYS_SHOWN - 1);
        let moments: Vec<DateTime<Utc>> = first
            .iter_days()
            .take_while(|day| *day < until)
            .map(|day| self.end_of(day))
            .chain([now])
            .collect();
        let mut parts: Vec<CoursePart> = Vec::new();
        let stood = self.batches.values().filter(|batch| !batch.voided);
        for batch in stood.filter(|batch| dish.is_none_or(|dish| batch.component == dish)) {
            for (of, held) in self.held_by_part(batch, dish.is_some(), &moments) {
                let any = held.iter().any(|mass| mass.mg() > 0);
                let estimated = any && batch.is_about();
                match parts.iter_mut().find(|part| part.of == of) {
                    Some(part) => {
                        part.estimated |= estimated;
                        let sums = part.held.iter_mut().zip(held);
                        sums.for_each(|(sum, mass)| *sum += mass);
                    }
                    None if any => parts.push(CoursePart {
                        of,
                        held,
                        estimated,
                    }),
                    None => {}
                }
            }
        }
        let most = |part: &CoursePart| part.held.iter().copied().max();
        parts.sort_by_key(|part| std::cmp::Reverse(most(part)));
        let stands = |at: &usize| parts.iter().any(|part| part.held[*at].mg() > 0);
        let empty = (0..moments.len()).find(stands).unwrap_or(moments.len() - 1);
        parts
            .iter_mut()
            .for_each(|part| drop(part.held.drain(..empty)));
        CourseAnswer {
            dish: dish.map(|id| self.dish_name(id)),
            from: first + Days::new(empty as u64),
            until,
            parts,
        }
    }

    /// What its lots held at each moment, by what they are told as.
    fn held_by_part(
        &self,
        batch: &Batch,
        apart: bool,
        moments: &[DateTime<Utc>],
    ) -> Vec<(CourseOf, Vec<Mass>)> {
        let lots = batch.lots.iter().map(|lot| {
            let of = match (apart, self.is_frozen(lot)) {
                (false, _) => CourseOf::Dish(self.dish_name(batch.component)),
                (true, false) => CourseOf::Ready,
                (true, true) => CourseOf::Frozen,
            };
            let held = moments.iter().map(|moment| match *moment < batch.made_at {
                true => Mass::ZERO,
                // What was not weighed may have run below nothing.
                false => lot.held_at(batch, *moment).max(Mass::ZERO),
            });
            (of, held.collect())
        });
        lots.collect()
    }
}
