//! Another amount, another name, more or less of it.

use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::mass::Mass;
use super::super::super::plate::PlatePortion;
use super::super::super::problem::ProblemKind;
use super::super::super::quantity::{Meant, Measured, meant};
use super::super::super::resolve::{Thing, Use, key, resolve};
use super::super::{Step, Stop, portion};
use super::find_line::{Found, label, lines, names, one};
use super::{answer, change_mass, newest, whole, write};
use crate::lang::syntax::{Amount, Command, Figure, Fix, Item, Line, Portion, Words};

/// A bare number that makes so much less of a line was said of something else: "make it 7".
const SHRINKS_MOST: i64 = 6;
const SCALE: Mass = Mass::from_mg(20_000);

pub fn amount(draft: &mut Draft, fix: &Fix, new: &Figure, line: &Line) -> Step {
    if let Some((parts, mass)) = whole::divided(draft, new, line) {
        return whole::changed(draft, &parts, mass);
    }
    let found = lines(draft, fix, line)?;
    if found.is_empty()
        && let Some(renamed) = renamed(draft, new, line)
    {
        return super::carried_out(draft, &renamed);
    }
    // "double that" is everything that was booked; one amount is for one line.
    if let Figure::Times(times) = new {
        return multiplied(draft, found, *times);
    }
    let new = match new {
        Figure::Is(amount) => amount.clone(),
        Figure::Retyped(grams) | Figure::Times(grams) => Amount::Bare(*grams),
    };
    let (plate, found) = one(draft, found, |line, name| {
        Command::Fix(Fix::Amount {
            new: Figure::Is(new.clone()),
            line: Line {
                old: Some(Amount::Mass(line.mass.grams())),
                name: Some(Words::plain(name)),
                ..Line::default()
            },
        })
    })?;
    let mass = new_mass(draft, &found, &new)?;
    let slip = matches!(
        fix,
        Fix::Amount {
            new: Figure::Retyped(_),
            ..
        }
    );
    if draft.input.pointed.is_none()
        && (slip && !is_slip(found.mass, mass) || is_of_else(draft, line, &found, mass))
    {
        return Err(ProblemKind::NothingToFix.into());
    }
    change_mass(draft, plate, &found, mass)?;
    Ok(answer(draft, &[plate]))
}

/// "no, 210 chilli" of 210 g of soup: the same on the scale, of another dish.
fn renamed(draft: &mut Draft, new: &Figure, line: &Line) -> Option<Fix> {
    let (Figure::Is(Amount::Bare(grams) | Amount::Mass(grams)), Some(name)) = (new, &line.name)
    else {
        return None;
    };
    let fix = Fix::Name {
        new: name.clone(),
        old: None,
        amount: None,
    };
    let own = newest(draft, &fix).ok()?.own();
    let same = own.len() == 1 && Mass::from_grams(*grams) == Some(own[0].1.mass);
    (same && line.owner.is_none() && line.meal.is_none()).then_some(fix)
}

fn multiplied(draft: &mut Draft, lines: Vec<Found>, times: f64) -> Step {
    if lines.is_empty() {
        return Err(ProblemKind::NothingToFix.into());
    }
    for (plate, line) in &lines {
        change_mass(draft, *plate, line, line.mass.share(times))?;
    }
    let plates: Vec<AccountId> = lines.iter().map(|(plate, _)| *plate).collect();
    Ok(answer(draft, &plates))
}

/// A tenfold slip, or the same digits in another order.
fn is_slip(old: Mass, new: Mass) -> bool {
    let digits = |mass: Mass| {
        let text = mass.grams().to_string();
        let mut digits: Vec<char> = text
            .chars()
            .filter(|c| c.is_ascii_digit() && *c != '0')
            .collect();
        digits.sort_unstable();
        digits
    };
    old != new && digits(old) == digits(new)
}

/// Among people "make it 7" is a time as long as nobody names what it is about.
fn is_of_else(draft: &Draft, said: &Line, line: &PlatePortion, mass: Mass) -> bool {
    let bare = said.name.is_none() && said.old.is_none();
    let less = mass < SCALE && line.mass.mg() > mass.mg() * SHRINKS_MOST;
    bare && less && !draft.input.addressed
}

pub fn new_mass(draft: &Draft, line: &PlatePortion, new: &Amount) -> Result<Mass, Stop> {
    let thing = match (line.batch, line.profile) {
        (Some(batch), _) => Thing::Batches(vec![batch]),
        (None, Some(profile)) => match draft
            .kitchen
            .profiles
            .get(&profile)
            .and_then(|known| known.food)
        {
            Some(code) => Thing::Food(code),
            None => Thing::Packet(profile),
        },
        (None, None) => return Err(ProblemKind::NothingToFix.into()),
    };
    let label = portion::portion_label(draft, line);
    let measured = Measured {
        thing: &thing,
        name: &label,
    };
    match meant(&draft.kitchen, new, &measured)? {
        Meant::Quantity(quantity) => Ok(quantity.mass),
        Meant::Share(_) | Meant::Uncounted | Meant::Either(..) => {
            Err(ProblemKind::MissingAmount { name: label }.into())
        }
    }
}

pub fn rename(
    draft: &mut Draft,
    fix: &Fix,
    new: &Words,
    old: Option<&Words>,
    amount: Option<&Amount>,
) -> Step {
    let line = Line {
        name: old.cloned(),
        ..Line::default()
    };
    let found = lines(draft, fix, &line)?;
    let (plate, line) = one(draft, found, |_, name| {
        Command::Fix(Fix::Name {
            new: new.clone(),
            old: Some(Words::plain(name)),
            amount: amount.cloned(),
        })
    })?;
    let new = &of_the_same_name(draft, &line, new);
    let resolved = resolve(&draft.kitchen, new, Use::Eaten, draft.today())
        .map_err(|unresolved| Stop::Problem(unresolved.problem(&new.text).at(new.span.clone())))?;
    let (batch, profile) = match resolved.thing {
        Thing::Batches(batches) => (Some(batches[0]), None),
        Thing::Packet(profile) => (None, Some(profile)),
        Thing::Food(code) => (None, Some(draft.profile(code))),
    };
    // "the old one" of a dish that was cooked once: nothing is put right by it.
    if amount.is_none() && batch.is_some() && batch == line.batch {
        return Err(ProblemKind::NothingToFix.into());
    }
    draft.reverse_portion(plate, &line);
    let right = PlatePortion {
        batch,
        profile,
        ..line.clone()
    };
    let mass = match amount {
        Some(amount) => new_mass(draft, &right, amount)?,
        None => line.mass,
    };
    write(draft, plate, &right, mass)?;
    Ok(answer(draft, &[plate]))
}

/// Words that stand for the dish itself: "the new one".
const STAND_INS: [&str; 6] = ["one", "lot", "batch", "pot", "stuff", "tub"];

/// "the new one" is the new stew, where it was stew.
fn of_the_same_name(draft: &Draft, line: &PlatePortion, new: &Words) -> Words {
    let folded = key(&new.text);
    let stands_in = folded
        .rsplit(' ')
        .next()
        .is_some_and(|last| STAND_INS.contains(&last));
    match folded.split_once(' ') {
        Some((selector, _)) if stands_in => Words {
            text: format!("{selector} {}", portion::portion_label(draft, line)),
            span: new.span.clone(),
        },
        _ => new.clone(),
    }
}

pub fn remove(draft: &mut Draft, fix: &Fix, line: &Line) -> Step {
    let named = lines(draft, fix, line)?;
    let Some(name) = &line.name else {
        return last_removed(draft, named);
    };
    if named.is_empty() {
        let target = newest(draft, fix)?;
        let near = target
            .lines()
            .into_iter()
            .map(|(_, line)| portion::portion_label(draft, &line));
        let kind = ProblemKind::UnknownName {
            words: name.text.clone(),
            near: near.collect(),
        };
        return Err(Stop::Problem(kind.at(name.span.clone())));
    }
    // Everything of that name goes, whenever it was put on these plates.
    let plates: Vec<AccountId> = named.iter().map(|(plate, _)| *plate).collect();
    draft.takes_away();
    for plate in &plates {
        let here = draft.kitchen.plate(*plate).cloned();
        for line in here.iter().flat_map(|plate| &plate.portions) {
            if names(draft, line, name) {
                draft.reverse_portion(*plate, line);
            }
        }
    }
    Ok(answer(draft, &plates))
}

/// "take Ana's off": what was put there last.
fn last_removed(draft: &mut Draft, found: Vec<Found>) -> Step {
    let last = found.iter().map(|(_, line)| line.recorded_at).max();
    let last = last.ok_or(ProblemKind::NothingToFix)?;
    draft.takes_away();
    for (plate, line) in found.iter().filter(|(_, line)| line.recorded_at == last) {
        draft.reverse_portion(*plate, line);
    }
    let plates: Vec<AccountId> = found.iter().map(|(plate, _)| *plate).collect();
    Ok(answer(draft, &plates))
}

/// "put back 80 dal": so much less of it on the plate, the newest first.
pub fn put_back(draft: &mut Draft, fix: &Fix, items: &[Item]) -> Step {
    draft.takes_away();
    let mut touched = Vec::new();
    for item in items {
        let unnamed = item.name.text.is_empty();
        let line = Line {
            name: (!unnamed).then(|| item.name.clone()),
            ..Line::default()
        };
        let mut found = lines(draft, fix, &line)?;
        if unnamed {
            let only = one(draft, found, |_, name| {
                let mut named = item.clone();
                named.name = Words::plain(name);
                Command::Fix(Fix::PutBack(vec![named]))
            })?;
            found = vec![only];
        } else if let Some((plate, _)) = found.first().cloned() {
            let here = draft.kitchen.plate(plate);
            let here = here.into_iter().flat_map(|plate| &plate.portions);
            let named = here.filter(|line| names(draft, line, &item.name));
            found = named.map(|line| (plate, line.clone())).collect();
        }
        less(draft, &found, item)?;
        touched.extend(found.iter().map(|(plate, _)| *plate));
    }
    Ok(answer(draft, &touched))
}

fn less(draft: &mut Draft, lines: &[Found], item: &Item) -> Result<(), Stop> {
    let on_plate: Mass = lines.iter().map(|(_, line)| line.mass).sum();
    let Some((_, newest)) = lines.last() else {
        return Err(ProblemKind::NothingToFix.into());
    };
    let mut back = match &item.amount {
        Amount::Share(share) => on_plate.share(*share),
        amount => new_mass(draft, newest, amount)?,
    };
    if back > on_plate {
        return Err(ProblemKind::TooMuch {
            name: portion::portion_label(draft, newest),
            asked: back,
            left: on_plate,
        }
        .into());
    }
    for (plate, line) in lines.iter().rev() {
        let part = back.min(line.mass);
        if part.is_zero() {
            break;
        }
        change_mass(draft, *plate, line, line.mass - part)?;
        back -= part;
    }
    Ok(())
}

/// "both of those are 20 too high": every line that was booked last is off by as much.
pub fn each(draft: &mut Draft, fix: &Fix, by: &Amount, more: bool) -> Step {
    let target = newest(draft, fix)?;
    let lines = target.own();
    let (Amount::Bare(grams) | Amount::Mass(grams)) = by else {
        return Err(ProblemKind::NothingToFix.into());
    };
    let by = Mass::from_grams(*grams).ok_or(ProblemKind::NothingToFix)?;
    let too_small = |line: &PlatePortion| !more && line.mass <= by;
    if lines.len() < 2 || lines.iter().any(|(_, line)| too_small(line)) {
        return Err(ProblemKind::NothingToFix.into());
    }
    for (plate, line) in &lines {
        let mass = match more {
            true => line.mass + by,
            false => line.mass - by,
        };
        change_mass(draft, *plate, line, mass)?;
    }
    Ok(answer(draft, &target.ids()))
}

/// "60 more": of the one thing that was booked last.
pub fn more(draft: &mut Draft, fix: &Fix, amount: &Amount) -> Step {
    let target = newest(draft, fix)?;
    let portion = |name: String| Portion {
        items: vec![Item::new(amount.clone(), Words::plain(name))],
        with_last: true,
        ..Portion::default()
    };
    let (_, line) = one(draft, target.own(), |_, name| {
        Command::Portion(portion(name))
    })?;
    let name = label(draft, &line);
    portion::meant(draft, &portion(name))
}

/// Two people's plates change places; on one plate, two amounts.
pub fn swapped(draft: &mut Draft, fix: &Fix) -> Step {
    let target = newest(draft, fix)?;
    let own = target.own();
    let mut plates: Vec<AccountId> = own.iter().map(|(plate, _)| *plate).collect();
    plates.dedup();
    match (plates.as_slice(), own.as_slice()) {
        (&[first, second], lines) => {
            for (plate, line) in lines {
                draft.reverse_portion(*plate, line);
                let other = if *plate == first { second } else { first };
                super::enter(draft, other, line, (line.from, line.mass), line.estimated);
            }
        }
        (_, [(plate, one), (_, other)]) => {
            draft.reverse_portion(*plate, one);
            draft.reverse_portion(*plate, other);
            write(draft, *plate, one, other.mass)?;
            write(draft, *plate, other, one.mass)?;
        }
        _ => return Err(ProblemKind::NothingToFix.into()),
    }
    Ok(answer(draft, &target.ids()))
}
