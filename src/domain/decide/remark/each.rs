//! "make that 140 each for me and Tom": the one line that was booked last, for everybody who is named.

use super::standing::Standing;
use crate::domain::decide::people::{self, Person};
use crate::domain::draft::Draft;
use crate::domain::ids::MemberId;
use crate::lang::syntax::{
    Amount, Command, Cue, Figure, Fix, Item, Line, Portion, Remark, Said, Term, Words,
};

/// What it comes to for its owner, and a plate for each of the others.
pub fn commands(draft: &Draft, lines: &[Standing], remark: &Remark) -> Option<Vec<Command>> {
    let mut newest = lines.iter().filter(|line| line.age == 0);
    let (Some(line), None) = (newest.next(), newest.next()) else {
        return None;
    };
    let terms = || remark.chunks.iter().flat_map(|chunk| &chunk.terms);
    let told = remark
        .chunks
        .iter()
        .any(|chunk| chunk.has(Cue::Each) && chunk.has(Cue::Sets));
    let people: Vec<MemberId> = terms()
        .map(|term| member(draft, term))
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .flatten()
        .collect();
    let amount = terms().find_map(|term| match &term.said {
        Said::Amount(amount, _) => Some(amount.clone()),
        _ => None,
    })?;
    if !told || remark.talk || people.len() < 2 || !people.contains(&line.member) {
        return None;
    }
    let own = Command::Fix(Fix::Amount {
        new: Figure::Is(amount.clone()),
        line: Line {
            old: Some(Amount::Mass(line.portion.mass.grams())),
            name: Some(line.name.clone()),
            ..Line::default()
        },
    });
    let others = people.iter().filter(|member| **member != line.member);
    let others = others.filter_map(|member| draft.kitchen.member(*member));
    let portions = others.map(|member| {
        Command::Portion(Portion {
            items: vec![Item::new(amount.clone(), line.name.clone()).at(0..0)],
            who: Some(Words::plain(member.name.clone())),
            ..Portion::default()
        })
    });
    Some(std::iter::once(own).chain(portions).collect())
}

/// Whom a term names; `None` where it says something else than who and how much.
fn member(draft: &Draft, term: &Term) -> Option<Option<MemberId>> {
    match &term.said {
        Said::Amount(..) => Some(None),
        Said::Person(words) if !term.denied => match people::person(draft, &words.text) {
            Person::Member(member) => Some(Some(member)),
            _ => None,
        },
        _ => None,
    }
}
