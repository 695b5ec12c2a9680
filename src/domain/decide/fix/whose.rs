//! Whose it was, how it was shared, and when it was eaten.

use super::super::super::answer::About;
use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::kitchen::Choice;
use super::super::super::mass::Mass;
use super::super::super::plate::Plate;
use super::super::super::problem::ProblemKind;
use super::super::divide::{Eater, divide};
use super::super::{Step, Stop, find, people, portion};
use super::find_line::{Found, Target, lines, names, one};
use super::owner::confirmed;
use super::{answer, enter, newest, reach};
use crate::lang::syntax::{
    Amount, Command, Day, Fix, Line, MealName, Of, Party, Portion, Share, WHOLE_PLATE, Words,
};

/// What was booked goes on another person's plate, whole or in part.
pub fn whose(draft: &mut Draft, fix: &Fix, who: &Words, of: &Of) -> Step {
    let member = people::find_person(draft, who, |name| {
        let (who, of) = (Words::plain(name), of.clone());
        Command::Fix(Fix::Whose { who, of }).to_string()
    })?;
    let lines = meant(draft, fix, of)?;
    match of {
        Of::Part(amount, name) => {
            let part = part_of(draft, &lines, amount)?;
            let lines = match part {
                Part::Share(_) => lines,
                Part::Grams(_) => vec![one(draft, lines, |_, named| {
                    let (who, name) = (who.clone(), name.clone());
                    let of = Of::Part(amount.clone(), name.or(Some(Words::plain(named))));
                    Command::Fix(Fix::Whose { who, of })
                })?],
            };
            given(draft, &lines, member, &part)
        }
        _ => moved(draft, &lines, |draft, plate| match plate.member == member {
            true => plate.id,
            false => draft.plate(member, plate.day, plate.meal),
        }),
    }
}

/// The lines that the words mean; somebody else's need a confirmation.
fn meant(draft: &mut Draft, fix: &Fix, of: &Of) -> Result<Vec<Found>, Stop> {
    let found = match of {
        Of::Last | Of::Part(_, None) => {
            let target = newest(draft, fix)?;
            let mut found = target.own();
            // "rice was 120 and that was yesterday": what was put right in the same breath is meant as well.
            let dated = matches!(fix, Fix::When { .. });
            let rewritten = |(_, line): &Found| dated && draft.has_written(line.entry);
            let lines = target.lines().into_iter().filter(rewritten);
            let more: Vec<Found> = lines.filter(|line| !found.contains(line)).collect();
            found.extend(more);
            found
        }
        Of::Plate => whole(draft, fix)?,
        Of::Part(_, Some(name)) if name.text == WHOLE_PLATE => whole(draft, fix)?,
        Of::AllBut(name) => all_but(draft, fix, name)?,
        Of::Named(name) | Of::Part(_, Some(name)) => {
            let line = Line {
                name: Some(name.clone()),
                ..Line::default()
            };
            lines(draft, fix, &line)?
        }
    };
    if found.is_empty() {
        return Err(ProblemKind::NothingToFix.into());
    }
    confirmed(draft, fix, &found)?;
    Ok(found)
}

/// Everything on the plate of the newest act, as far as the sender has put it there.
fn whole(draft: &mut Draft, fix: &Fix) -> Result<Vec<Found>, Stop> {
    let target = newest(draft, fix)?;
    let acts = reach(draft);
    let targets = acts.iter().filter_map(|act| Target::of(draft, act));
    let own: Vec<Found> = targets.flat_map(|target| target.own()).collect();
    Ok(target
        .lines()
        .into_iter()
        .filter(|line| own.contains(line))
        .collect())
}

/// Everything on the plate but what is named, which must be on it.
fn all_but(draft: &mut Draft, fix: &Fix, name: &Words) -> Result<Vec<Found>, Stop> {
    let (kept, given): (Vec<Found>, Vec<Found>) = whole(draft, fix)?
        .into_iter()
        .partition(|(_, line)| names(draft, line, name));
    match kept.is_empty() {
        true => Err(ProblemKind::NothingToFix.into()),
        false => Ok(given),
    }
}

enum Part {
    Share(f64),
    Grams(Mass),
}

fn part_of(draft: &Draft, lines: &[Found], amount: &Amount) -> Result<Part, Stop> {
    match amount {
        Amount::Share(share) => Ok(Part::Share(*share)),
        Amount::Bare(grams) | Amount::Mass(grams) => {
            let part = Mass::weighed_out(*grams).ok_or(ProblemKind::NothingToFix)?;
            let total: Mass = lines.iter().map(|(_, line)| line.mass).sum();
            if part > total {
                let first = lines.first();
                let name = first.map(|(_, line)| portion::portion_label(draft, line));
                return Err(ProblemKind::TooMuch {
                    name: name.unwrap_or_default(),
                    asked: part,
                    left: total,
                }
                .into());
            }
            Ok(Part::Grams(part))
        }
        _ => Err(ProblemKind::NothingToFix.into()),
    }
}

/// A part of these lines goes on another person's plate.
fn given(draft: &mut Draft, lines: &[Found], to: MemberId, part: &Part) -> Step {
    let plates = |draft: &mut Draft, here: &Plate| {
        let other = draft.plate(to, here.day, here.meal);
        vec![here.id, other]
    };
    spread(draft, lines, plates, |line| {
        let given = match part {
            Part::Share(share) => line.share(*share),
            Part::Grams(mass) => *mass,
        };
        vec![line - given, given]
    })
}

/// "split that with Ana": every line is divided among plates, to the milligram.
pub fn shared(draft: &mut Draft, fix: &Fix, share: &Share, of: &Of) -> Step {
    let found = meant(draft, fix, of)?;
    let total: Mass = found.iter().map(|(_, line)| line.mass).sum();
    let eaters = eaters(draft, share, of, total)?;
    let weights: Vec<f64> = eaters.iter().map(|eater| eater.weight).collect();
    let plates = |draft: &mut Draft, here: &Plate| {
        let mut on = |eater: &Eater| match eater.member == here.member {
            true => here.id,
            false => draft.plate(eater.member, here.day, here.meal),
        };
        eaters.iter().map(&mut on).collect()
    };
    spread(draft, &found, plates, |line| line.split(&weights))
}

/// Lines go on these plates, cut as told; those of one plate stay together. A line that stays whole where
/// it was is left alone.
fn spread(
    draft: &mut Draft,
    lines: &[Found],
    plates: impl Fn(&mut Draft, &Plate) -> Vec<AccountId>,
    cut: impl Fn(Mass) -> Vec<Mass>,
) -> Step {
    let mut touched: Vec<(AccountId, Vec<AccountId>)> = Vec::new();
    for (plate, line) in lines {
        let to = match touched.iter().find(|(from, _)| from == plate) {
            Some((_, to)) => to.clone(),
            None => {
                let here = draft.kitchen.plate(*plate).cloned();
                let here = here.ok_or(ProblemKind::NothingToFix)?;
                let to = plates(draft, &here);
                touched.push((*plate, to.clone()));
                to
            }
        };
        if to == [*plate] {
            continue;
        }
        draft.reverse_portion(*plate, line);
        for (plate, mass) in to.into_iter().zip(cut(line.mass)) {
            if !mass.is_zero() {
                enter(draft, plate, line, (line.from, mass), line.estimated);
            }
        }
    }
    let plates: Vec<AccountId> = touched.into_iter().flat_map(|(_, to)| to).collect();
    Ok(answer(draft, &plates))
}

/// Who eats how much of it; "split 2 ways" asks with whom, where there are more than two.
fn eaters(draft: &mut Draft, share: &Share, of: &Of, total: Mass) -> Result<Vec<Eater>, Stop> {
    if let Share::Equally(party) = share
        && let Some(count) = party.people
    {
        let with: Vec<&Words> = party.named.iter().flatten().collect();
        let sender = draft.input.sender;
        let mut others: Vec<String> = Vec::new();
        let members = draft.kitchen.members().iter();
        for member in members.filter(|member| member.id != sender) {
            if !with
                .iter()
                .any(|named| named.text.eq_ignore_ascii_case(&member.name))
            {
                others.push(member.name.clone());
            }
        }
        let missing = (count as usize).saturating_sub(1 + with.len());
        if missing > 0 && others.len() > missing {
            let options = others.into_iter().map(|name| {
                let mut named = party.named.clone();
                named.push(Some(Words::plain(name.clone())));
                let share = Share::Equally(Party {
                    named,
                    people: Some(count),
                });
                let of = of.clone();
                Choice {
                    label: name,
                    says: Command::Fix(Fix::Shared { share, of }).to_string(),
                }
            });
            return Err(find::ask(About::Who, "who else?", None, options.collect()));
        }
    }
    let divided = Portion {
        share: Some(share.clone()),
        ..Portion::default()
    };
    match share {
        // "140 each" is another amount, and no division of what was booked.
        Share::Each(_) => Err(ProblemKind::NothingToFix.into()),
        _ => Ok(divide(draft, &divided, total)?.eaters),
    }
}

/// What the act put on a plate, or a line of it, was eaten on another day, or at another meal.
pub fn when(
    draft: &mut Draft,
    fix: &Fix,
    (day, meal): (Option<&Day>, Option<MealName>),
    of: &Of,
) -> Step {
    let found = meant(draft, fix, of)?;
    let today = draft.today();
    let date = day.map(|day| find::date(day, today)).transpose()?;
    if date.is_some_and(|date| date > today) {
        return Err(ProblemKind::FutureDate.into());
    }
    moved(draft, &found, |draft, plate| {
        draft.plate(plate.member, date.unwrap_or(plate.day), meal.or(plate.meal))
    })
}

/// Lines go on other plates as they are; those of one plate stay together.
fn moved(
    draft: &mut Draft,
    lines: &[Found],
    new_plate: impl Fn(&mut Draft, &Plate) -> AccountId,
) -> Step {
    if lines.is_empty() {
        return Err(ProblemKind::NothingToFix.into());
    }
    let plates = |draft: &mut Draft, here: &Plate| vec![new_plate(draft, here)];
    spread(draft, lines, plates, |line| vec![line])
}
