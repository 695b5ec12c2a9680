//! What is still missing of one's day: the aims less what it has so far.

use super::super::super::answer::Answer;
use super::super::super::draft::Draft;
use super::super::super::finder::answer::DaySoFar;
use super::super::super::finder::problem::FinderProblem;
use super::super::super::nutrients::{Sum, Totals};
use super::super::super::personal::answer::PersonalAnswer;
use super::super::super::personal::target::{Target, amount};
use super::super::{Done, Step, eaten};
use super::{bounds, plate};
use crate::lang::syntax::{Aim, Finder};

pub fn fill(draft: &mut Draft, asked: &Finder) -> Step {
    let of = match eaten::whose(draft, asked.who.as_ref())? {
        Ok(of) => of,
        Err(theirs) => return Ok(theirs),
    };
    // What is missing tells what was had.
    let alone = draft.input.private && of == draft.input.sender;
    if draft.kitchen.keeps_private(of) && !alone {
        return Ok(Done::saying(Answer::Personal(Box::new(
            PersonalAnswer::InPrivate,
        ))));
    }
    bounds(&asked.aims)?;
    let mut totals = Totals::default();
    let plates = eaten::plates_of(draft, of, draft.today());
    plates.iter().for_each(|plate| totals.add(&plate.totals));
    let mut so_far = DaySoFar {
        had: Vec::new(),
        low: false,
    };
    let mut missing: Vec<Aim> = Vec::new();
    for aim in &asked.aims {
        let Some(of_it) = aim.of else { continue };
        let sum = match plates.is_empty() {
            true => Sum {
                amount: Some(0.0),
                at_least: false,
            },
            false => amount(of_it, &totals),
        };
        let had = sum.amount.unwrap_or(0.0);
        let (least, most) = (aim.least, aim.most);
        let target = Target {
            of: of_it,
            least,
            most,
        };
        so_far.low |= target.is_low();
        so_far.had.push((of_it, sum));
        if most.is_some_and(|most| most <= had) {
            let told = draft.kitchen.tells_numbers(of);
            let had = told.then_some(had);
            return Err(FinderProblem::DayIsFull { of: of_it, had }.into());
        }
        let less = |figure: f64| figure - had;
        missing.push(Aim {
            least: least.map(less).filter(|least| *least > 0.0),
            most: most.map(less),
            ..aim.clone()
        });
    }
    let reached = |aim: &Aim| aim.least.is_none() && aim.most.is_none();
    if let (true, Some((of_it, sum))) = (missing.iter().all(reached), so_far.had.first()) {
        let told = draft.kitchen.tells_numbers(of);
        let had = sum.amount.filter(|_| told);
        return Err(FinderProblem::DayIsFull { of: *of_it, had }.into());
    }
    missing.retain(|aim| !reached(aim));
    let asked = Finder {
        aims: missing,
        ..asked.clone()
    };
    plate(draft, &asked, Some(so_far))
}
