//! Two people's amounts of one dish that were taken for each other, told by one of them: "mine was the 180", where 180
//! stands on Ana's plate and something else on mine. What somebody else has booked is changed only if that is confirmed.

use super::super::find;
use super::super::people::{self, Person};
use super::super::{Asking, Stop};
use super::standing::Standing;
use crate::domain::answer::About;
use crate::domain::decide::fix::label;
use crate::domain::draft::Draft;
use crate::domain::ids::MemberId;
use crate::domain::in_hand::holds;
use crate::domain::kitchen::Choice;
use crate::domain::mass::Mass;
use crate::domain::plate::PlatePortion;
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::{Amount, Chunk, Command, Cue, Figure, Fix, Line, Remark, Said, Words};

/// What it comes to: corrections of one's own, or the question whether somebody else's is changed as well.
pub enum Crossed {
    Own(Vec<Command>),
    Others(Box<Asking>),
}

/// A line on anybody's plate, just booked.
#[derive(Clone, Copy)]
struct Fresh<'a> {
    member: MemberId,
    line: &'a PlatePortion,
}

pub fn crossed(draft: &Draft, own: &[Standing], remark: &Remark) -> Option<Crossed> {
    let idle = |chunk: &&Chunk| !chunk.terms.is_empty();
    let claims: Vec<(Option<MemberId>, Mass)> = remark
        .chunks
        .iter()
        .filter(idle)
        .map(|chunk| claim(draft, chunk))
        .collect::<Option<_>>()?;
    let fresh = fresh(draft);
    let first = claims.iter().find(|(who, _)| who.is_some())?;
    let (mine, theirs) = pair(&fresh, (first.0?, first.1))?;
    // "mine was the 180, hers the 150"
    let fits = |(who, mass): &(Option<MemberId>, Mass)| match *who {
        Some(member) if member == mine.member => *mass == theirs.line.mass,
        who => who.is_none_or(|who| who == theirs.member) && *mass == mine.line.mass,
    };
    if !claims.iter().all(fits) {
        return None;
    }
    let written = |it: Fresh| own.iter().any(|line| line.portion.entry == it.line.entry);
    let sender = draft.input.sender;
    if ![mine, theirs].into_iter().any(written) && ![mine.member, theirs.member].contains(&sender) {
        return None;
    }
    let commands = vec![
        retold(draft, theirs, mine.line.mass)?,
        retold(draft, mine, theirs.line.mass)?,
    ];
    let strange = [mine, theirs].into_iter().find(|it| !written(*it));
    let Some(strange) = strange.filter(|_| !draft.input.confirmed) else {
        return Some(Crossed::Own(commands));
    };
    let owner = draft.kitchen.member(strange.member)?.name.clone();
    let says: Vec<String> = commands.iter().map(ToString::to_string).collect();
    let options = vec![Choice {
        label: "yes, swap them".into(),
        says: says.join("\n"),
    }];
    let words = format!(
        "{} g {}",
        strange.line.mass.grams(),
        label(draft, strange.line)
    );
    let problem = Some(ProblemKind::NotYours { owner });
    match find::ask(About::Confirm, &words, problem, options) {
        Stop::Ask(asking) => Some(Crossed::Others(asking)),
        Stop::Problem(_) => None,
    }
}

/// "mine was the 180": who, and how much; nothing where anything else is said.
fn claim(draft: &Draft, chunk: &Chunk) -> Option<(Option<MemberId>, Mass)> {
    let only_claims = |cue: &Cue| {
        matches!(
            cue,
            Cue::Is | Cue::That | Cue::Wrong | Cue::Sorry | Cue::Swapped | Cue::For
        )
    };
    let (mut who, mut mass, mut named) = (None, None, false);
    for term in chunk.terms.iter().filter(|term| !term.denied) {
        match &term.said {
            Said::Whose(words) | Said::Person(words) if !named => {
                named = true;
                match people::person(draft, &words.text) {
                    Person::Member(member) => who = Some(member),
                    Person::Unknown => {}
                    _ => return None,
                }
            }
            Said::Amount(Amount::Bare(grams) | Amount::Mass(grams), _) if mass.is_none() => {
                mass = Mass::weighed_out(*grams);
            }
            Said::Name(_) => {}
            _ => return None,
        }
    }
    let plain = chunk.cues.iter().all(only_claims) && !chunk.open_behind;
    (plain && named).then_some(())?;
    Some((who, mass?))
}

fn fresh<'a>(draft: &'a Draft) -> Vec<Fresh<'a>> {
    let plates = draft.kitchen.plates.iter();
    let lines = plates.flat_map(|plate| {
        let member = plate.member;
        plate
            .portions
            .iter()
            .map(move |line| Fresh { member, line })
    });
    lines
        .filter(|it| holds(draft.input, it.line.recorded_at))
        .collect()
}

/// The one line of this person and the one of somebody else that holds what is claimed, of the same dish.
fn pair<'a>(
    fresh: &[Fresh<'a>],
    (member, mass): (MemberId, Mass),
) -> Option<(Fresh<'a>, Fresh<'a>)> {
    let mut theirs = fresh
        .iter()
        .filter(|it| it.member != member && it.line.mass == mass);
    let (Some(theirs), None) = (theirs.next(), theirs.next()) else {
        return None;
    };
    let same = |it: &&Fresh| {
        it.member == member
            && (it.line.batch, it.line.profile) == (theirs.line.batch, theirs.line.profile)
    };
    let mut mine = fresh.iter().filter(same);
    match (mine.next(), mine.next()) {
        (Some(mine), None) if mine.line.mass != mass => Some((*mine, *theirs)),
        _ => None,
    }
}

/// This line comes to so much.
fn retold(draft: &Draft, it: Fresh, mass: Mass) -> Option<Command> {
    let owner = draft.kitchen.member(it.member)?.name.clone();
    Some(Command::Fix(Fix::Amount {
        new: Figure::Is(Amount::Mass(mass.grams())),
        line: Line {
            old: Some(Amount::Mass(it.line.mass.grams())),
            name: Some(Words::plain(label(draft, it.line))),
            owner: Some(Words::plain(owner)),
            ..Line::default()
        },
    }))
}
