//! Targets: set, dropped, shown, and how far today is from them.

use super::super::super::draft::Draft;
use super::super::super::nutrients::Totals;
use super::super::super::personal::PersonalFact;
use super::super::super::personal::answer::{
    DistanceAnswer, PersonalAnswer, TargetEvent, TargetsAnswer,
};
use super::super::super::personal::problem::PersonalProblem;
use super::super::super::personal::target::{Target, amount};
use super::super::super::problem::ProblemKind;
use super::super::people::{Person, person};
use super::super::{Done, Step, Stop, eaten};
use super::{saying, tell};
use crate::foods::KJ_PER_KCAL;
use crate::lang::syntax::{Aim, Aimed, EnergyUnit, Words};

/// From here on a figure alone is one of energy.
const ENERGY_FROM: f64 = 800.0;

pub fn set(draft: &mut Draft, aims: &[Aim]) -> Step {
    let unit = draft.kitchen.settings().energy;
    let meant = |aim: &Aim| meant(aim, unit);
    let targets: Vec<Target> = aims.iter().map(meant).collect::<Result<_, _>>()?;
    if let Some(odd) = targets.iter().find(|target| !target.is_possible()) {
        return Err(stop(PersonalProblem::ImpossibleTarget(*odd)));
    }
    for target in &targets {
        tell(draft, PersonalFact::Target(*target));
    }
    Ok(answered(draft, TargetEvent::Set, targets))
}

/// "target 2200": of energy, where it may be, in what the household is told it in.
fn meant(aim: &Aim, unit: EnergyUnit) -> Result<Target, Stop> {
    let figure = aim.least.or(aim.most).unwrap_or_default();
    let (of, per_kcal) = match (aim.of, unit) {
        (Some(of), _) => (of, 1.0),
        (None, EnergyUnit::Kilojoule) => (Aimed::Energy, KJ_PER_KCAL),
        (None, EnergyUnit::Kcal) => (Aimed::Energy, 1.0),
    };
    let told = |figure: Option<f64>| figure.map(|figure| figure / per_kcal);
    if aim.of.is_none() && figure > 0.0 && figure < ENERGY_FROM * per_kcal {
        return Err(stop(PersonalProblem::TargetOfWhat { figure }));
    }
    Ok(Target {
        of,
        least: told(aim.least),
        most: told(aim.most),
    })
}

pub fn drop(draft: &mut Draft, of: &[Aimed]) -> Step {
    let standing = draft.kitchen.targets(draft.input.sender);
    let meant = |target: &Target| of.is_empty() || of.contains(&target.of);
    let dropped: Vec<Target> = standing.into_iter().filter(meant).collect();
    if dropped.is_empty() {
        let of = of.first().copied();
        return Err(stop(PersonalProblem::NoTarget { of }));
    }
    for target in &dropped {
        tell(draft, PersonalFact::Target(Target::none(target.of)));
    }
    Ok(answered(draft, TargetEvent::Dropped, dropped))
}

pub fn shown(draft: &Draft) -> Done {
    let targets = draft.kitchen.targets(draft.input.sender);
    answered(draft, TargetEvent::Shown, targets)
}

/// Nobody sets or is told another's.
pub fn of_another(draft: &Draft, who: &Words) -> Step {
    let of = match person(draft, &who.text) {
        Person::Member(of) => of,
        Person::Several(_) => {
            let name = who.text.clone();
            return Err(ProblemKind::SeveralCalled { name }.into());
        }
        Person::Guest(_) | Person::Unknown => {
            let (words, near) = (who.text.clone(), Vec::new());
            return Err(ProblemKind::UnknownName { words, near }.into());
        }
    };
    if of == draft.input.sender {
        return Ok(shown(draft));
    }
    let name = draft.somebody(of).name.clone();
    Err(stop(PersonalProblem::TargetOfAnother { name }))
}

fn answered(draft: &Draft, event: TargetEvent, targets: Vec<Target>) -> Done {
    let member = draft.input.sender;
    saying(PersonalAnswer::Targets(TargetsAnswer {
        event,
        member,
        targets,
        numbers: draft.kitchen.tells_numbers(member),
        message: draft.credit,
    }))
}

/// Of what was asked for; of nothing in particular: of all that has a target.
pub fn left(draft: &Draft, of: &[Aimed]) -> Done {
    let (member, day) = (draft.input.sender, draft.today());
    let mut totals = Totals::default();
    let plates = eaten::plates_of(draft, member, day);
    plates.iter().for_each(|plate| totals.add(&plate.totals));
    let lines = plates.iter().flat_map(|plate| &plate.lines);
    let estimated = lines
        .into_iter()
        .any(|line| line.mass_estimated || line.batch_estimated);
    let asked = |target: &Target| of.is_empty() || of.contains(&target.of);
    let targets = draft.kitchen.targets(member).into_iter().filter(asked);
    let nothing = plates.is_empty();
    let sum = |of| match nothing {
        // An empty day is known to be empty.
        true => crate::domain::nutrients::Sum {
            amount: Some(0.0),
            at_least: false,
        },
        false => amount(of, &totals),
    };
    let lines: Vec<_> = targets.map(|target| (target, sum(target.of))).collect();
    let without = of
        .iter()
        .filter(|of| lines.iter().all(|(target, _)| target.of != **of));
    saying(PersonalAnswer::Distance(DistanceAnswer {
        member,
        day,
        without: without.map(|of| (*of, sum(*of))).collect(),
        lines,
        estimated,
        numbers: draft.kitchen.tells_numbers(member),
    }))
}

fn stop(problem: PersonalProblem) -> Stop {
    ProblemKind::Personal(problem).into()
}
