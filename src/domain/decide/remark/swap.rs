//! Two lines that were taken for each other: "other way round sorry, rice was the 250".

use super::role::Roles;
use super::standing::Standing;
use crate::domain::draft::Draft;
use crate::lang::syntax::{Amount, Command, Figure, Fix, Line, Remark};

/// Their amounts change places, where all else that is said only tells them again.
pub fn commands(draft: &Draft, lines: &[Standing], remark: &Remark) -> Option<Vec<Command>> {
    let [one, other] = pair(lines)?;
    let mut told = !remark.talk;
    for chunk in &remark.chunks {
        let roles = Roles::of(draft, lines, chunk)?;
        // "rice was the 250": 250 stands, though not on the rice.
        let stands = |mass| [one, other].iter().any(|line| line.portion.mass == mass);
        let retold = roles.amount.is_none_or(|(_, mass)| stands(mass));
        if !retold || roles.name.is_some() || roles.part.is_some() {
            return None;
        }
        told |= roles.told;
    }
    // Two dishes on two plates are more than two amounts.
    let same = one.name == other.name;
    if !told || !same && one.member != other.member {
        return None;
    }
    let turned = |line: &Standing, like: &Standing| {
        let owner = draft
            .kitchen
            .member(line.member)
            .map(|member| member.name.clone());
        let line = Line {
            old: Some(Amount::Mass(line.portion.mass.grams())),
            name: Some(line.name.clone()),
            owner: owner
                .filter(|_| same)
                .map(crate::lang::syntax::Words::plain),
            ..Line::default()
        };
        let new = Figure::Is(Amount::Mass(like.portion.mass.grams()));
        Command::Fix(Fix::Amount { new, line })
    };
    Some(vec![turned(one, other), turned(other, one)])
}

/// What was booked last if it is two lines, or the one line and the one before.
fn pair(lines: &[Standing]) -> Option<[&Standing; 2]> {
    let of =
        |age: usize| -> Vec<&Standing> { lines.iter().filter(|line| line.age == age).collect() };
    match (of(0).as_slice(), of(1).as_slice()) {
        ([one, other], _) => Some([one, other]),
        ([last], [before]) => Some([before, last]),
        _ => None,
    }
}
