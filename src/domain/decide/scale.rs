//! What stands on the scale: an empty plate whose readings run on over several messages ("plate 388", then
//! "beans 500"), a jar that is weighed before and after ("yogurt tub 940", then "780 now"), and what is
//! weighed together with a container whose tare is known.
//!
//! What stood on the scale last waits as an open question of its own kind, its words the reading and what
//! is in the jar, or that one message told the plate whole.

use chrono::Duration;

use super::super::answer::Answer;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Container, Kitchen, OpenQuestion, SCALE};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::doubted::{falls, gained, other_way};
use super::{Done, Input, Step, Stop, portion};
use crate::lang::syntax::{Amount, Command, Item, Portion, Reading, ScaleReading, Words};
use crate::lang::{self, Parsed};

/// How long a scale stays as it was.
const STANDS_MINUTES: i64 = 20;
/// A jar is weighed again after the meal.
const JAR_STANDS_MINUTES: i64 = 120;
/// A jar that lost more than this share of what it weighed was not weighed again: it is a portion.
const JAR_LOSES_MOST: f64 = 0.5;

/// An empty vessel weighs again what it weighed, but for a drop and the scale.
const EMPTY_WITHIN: Mass = Mass::from_mg(15_000);

/// What stands on the sender's scale.
struct Standing {
    id: QuestionId,
    mass: Mass,
    /// What is in the jar; nothing for a plate.
    food: Option<String>,
    /// A jar that one message told before and after: it goes on only by words that name it.
    put_by: bool,
    /// A plate that one message told whole: what weighs less than it was weighed by itself.
    whole: bool,
}

/// Stands for a plate that was told whole, in the words that a scale is kept as.
const WHOLE: &str = "+";
/// Stands before a jar that is put by.
const PUT_BY: char = '-';

fn standing(kitchen: &Kitchen, input: &Input) -> Option<Standing> {
    let passed_on = || lang::hands_on(&input.text);
    let mine = |open: &&OpenQuestion| {
        let own = open.member == input.sender;
        let stands = open.about == SCALE && open.expires_at >= input.now;
        let goes_on = own && !is_put_by(open) || is_handed_on(open, input) && passed_on();
        stands && goes_on
    };
    let open = kitchen.questions.iter().rev().find(mine)?;
    let (mass, food) = open.words.split_once(' ').unwrap_or((&open.words, ""));
    let (food, put_by) = food
        .strip_prefix(PUT_BY)
        .map_or((food, false), |food| (food, true));
    Some(Standing {
        id: open.id,
        mass: Mass::from_mg(mass.parse().ok()?),
        food: (!food.is_empty() && food != WHOLE).then(|| food.to_owned()),
        whole: food == WHOLE,
        put_by,
    })
}

/// One message told it before and after.
fn is_put_by(open: &OpenQuestion) -> bool {
    open.words
        .split_once(' ')
        .is_some_and(|(_, food)| food.starts_with(PUT_BY))
}

/// A jar that somebody else has just weighed is taken from in turns: "3002 after me".
fn is_handed_on(open: &OpenQuestion, input: &Input) -> bool {
    let jar = open
        .words
        .split_once(' ')
        .is_some_and(|(_, food)| food != WHOLE);
    jar && input.now - open.said_at <= Duration::minutes(STANDS_MINUTES)
}

impl Standing {
    /// Whether the words name what is in the jar.
    fn holds(&self, words: &Words) -> bool {
        let Some(food) = &self.food else {
            return false;
        };
        let (held, said) = (key(food), key(&words.text));
        let within = |a: &str, b: &str| a.split(' ').all(|word| b.split(' ').any(|w| w == word));
        within(&held, &said) || within(&said, &held)
    }
}

/// The reading that goes on from what stands on the sender's scale, if the message can be one.
pub fn next_reading<'a>(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &'a Parsed,
) -> Option<&'a Reading> {
    let standing = standing(kitchen, input)?;
    parsed.readings.iter().find(|reading| {
        let [Command::OnScale(next)] = reading.commands.as_slice() else {
            return false;
        };
        match (&next.food, &standing.food) {
            (Some(food), Some(_)) => standing.holds(food),
            (Some(_), None) | (None, Some(_)) => !next.told,
            (None, None) => false,
        }
    })
}

/// What the scale shows: what is on it now, or what left it.
pub fn reading(draft: &mut Draft, now: &ScaleReading) -> Step {
    let mass = Mass::weighed_out(now.grams).ok_or_else(|| ProblemKind::NotAMass {
        text: format!("{} g", now.grams),
    })?;
    let before = standing(&draft.kitchen, draft.input);
    let jar = before.as_ref().filter(|before| {
        let same = now.food.as_ref().map(|food| before.holds(food));
        before.food.is_some() && !now.told && same.unwrap_or(true)
    });
    if let Some(jar) = jar {
        return eaten_from(draft, jar, mass);
    }
    match (&now.food, before) {
        // "rice brings it up to 700", with a plate on the scale.
        (Some(food), Some(plate)) if now.vessel.is_none() && plate.food.is_none() => {
            let amount = Amount::Bare(now.grams);
            let bare = of_one(food.clone(), amount);
            let added = added(draft, &bare)?.unwrap_or(bare);
            portion::place(draft, &added, false)
        }
        (None, _)
            if now
                .vessel
                .as_ref()
                .is_none_or(|vessel| is_full(draft, vessel, mass)) =>
        {
            Err(ProblemKind::NotUnderstood.into())
        }
        (food, _) => {
            stand(
                draft,
                mass,
                food.as_ref().map_or(Stands::Plate, Stands::Jar),
            );
            // A jar is kept in mind, and talked of only when it was said to be a first reading.
            let silent = food.is_some() && !now.told && !draft.input.addressed;
            Ok(if silent {
                Done::default()
            } else {
                Done::saying(Answer::OnScale {
                    mass,
                    jar: food.as_ref().map(|food| food.text.clone()),
                })
            })
        }
    }
}

/// A vessel whose tare is known, and that weighs something else.
fn is_full(draft: &Draft, vessel: &Words, shown: Mass) -> bool {
    let known = draft.kitchen.container_named(&vessel.text);
    known
        .and_then(Container::tare)
        .is_some_and(|tare| (shown - tare).abs() > EMPTY_WITHIN)
}

/// What left the jar since it was weighed.
fn eaten_from(draft: &mut Draft, jar: &Standing, now: Mass) -> Step {
    let food = Words::plain(jar.food.clone().unwrap_or_default());
    let left = jar.mass - now;
    if left.is_zero() {
        return Err(ProblemKind::NothingToFix.into());
    }
    if left.is_negative() {
        return Err(gained(draft, &food, jar.mass, now));
    }
    let stands = match jar.put_by {
        true => Stands::PutBy(&food),
        false => Stands::Jar(&food),
    };
    stand(draft, now, stands);
    let portion = of_one(food, Amount::Mass(left.grams()));
    portion::place(draft, &portion, false)
}

pub fn of_one(name: Words, amount: Amount) -> Portion {
    Portion {
        items: vec![Item::new(amount, name)],
        ..Portion::default()
    }
}

/// The portion with each reading turned into what was added, if the sender's scale has something on it.
pub fn added(draft: &mut Draft, portion: &Portion) -> Result<Option<Portion>, Stop> {
    let Some(before) = standing(&draft.kitchen, draft.input) else {
        return Ok(None);
    };
    let readings: Option<Vec<Mass>> = portion.items.iter().map(bare_reading).collect();
    let own = portion.day.is_none() && portion.share.is_none() && portion.who.is_none();
    let Some(readings) = readings.filter(|_| own) else {
        return Ok(None);
    };
    if before.food.is_some() {
        return Ok(from_jar(draft, &before, portion, &readings));
    }
    if before.whole && readings.iter().any(|reading| *reading <= before.mass) {
        return Ok(None);
    }
    let mut last = before.mass;
    let mut added = portion.clone();
    for (item, reading) in added.items.iter_mut().zip(readings) {
        if reading <= last {
            return Err(falls(portion, last));
        }
        item.amount = Amount::Mass((reading - last).grams());
        last = reading;
    }
    let stands = match before.whole {
        true => Stands::Whole,
        false => Stands::Plate,
    };
    stand(draft, last, stands);
    Ok(Some(added))
}

/// What the scale goes on showing after this message, with more to come.
pub fn going_on<'a>(mut draft: Draft<'a>, reading: &Reading) -> Draft<'a> {
    if let Some(mass) = reading.scale_shows().and_then(Mass::weighed_out) {
        stand(&mut draft, mass, Stands::Whole);
    }
    if let Some(mass) = reading.jar_shows().and_then(Mass::weighed_out)
        && let [Command::Portion(portion)] = reading.commands.as_slice()
        && let [item] = portion.items.as_slice()
    {
        stand(&mut draft, mass, Stands::PutBy(&item.name));
    }
    draft
}

/// "honey 401" after "honey jar 418": the jar again, if it lost no more than a jar does.
fn from_jar(
    draft: &mut Draft,
    jar: &Standing,
    portion: &Portion,
    readings: &[Mass],
) -> Option<Portion> {
    let ([item], [now]) = (portion.items.as_slice(), readings) else {
        return None;
    };
    let again = *now < jar.mass && *now >= jar.mass.share(JAR_LOSES_MOST);
    if !jar.holds(&item.name) || !again {
        return None;
    }
    let mut eaten = portion.clone();
    eaten.items[0].amount = Amount::Mass((jar.mass - *now).grams());
    stand(draft, *now, Stands::Jar(&item.name));
    Some(eaten)
}

/// The last reading was another than it was said: how much more lies there by it, or was taken of a jar.
pub fn read_as(draft: &mut Draft, (said, right): (f64, f64)) -> Option<f64> {
    let before = standing(&draft.kitchen, draft.input)?;
    let shown = Mass::from_grams(right)?;
    (Mass::from_grams(said) == Some(before.mass)).then_some(())?;
    let food = before.food.as_deref().map(Words::plain);
    let stands = match (&food, before.whole) {
        (Some(food), _) => Stands::Jar(food),
        (None, true) => Stands::Whole,
        (None, false) => Stands::Plate,
    };
    stand(draft, shown, stands);
    Some(if food.is_some() {
        said - right
    } else {
        right - said
    })
}

/// A bare number as a scale shows it.
fn bare_reading(item: &Item) -> Option<Mass> {
    match item.amount {
        Amount::Bare(grams) if item.container.is_none() => Mass::weighed_out(grams),
        _ => None,
    }
}

/// What stands on the scale.
enum Stands<'a> {
    Jar(&'a Words),
    PutBy(&'a Words),
    Plate,
    Whole,
}

fn stand(draft: &mut Draft, mass: Mass, stands: Stands) {
    if let Some(before) = standing(&draft.kitchen, draft.input) {
        draft.push(Change::CloseQuestion(before.id));
    }
    let (words, minutes) = match stands {
        Stands::Jar(food) => (format!("{} {}", mass.mg(), food.text), JAR_STANDS_MINUTES),
        Stands::PutBy(food) => {
            let words = format!("{} {PUT_BY}{}", mass.mg(), food.text);
            (words, STANDS_MINUTES)
        }
        Stands::Plate => (mass.mg().to_string(), STANDS_MINUTES),
        Stands::Whole => (format!("{} {WHOLE}", mass.mg()), STANDS_MINUTES),
    };
    draft.push(Change::Ask(OpenQuestion {
        id: QuestionId(draft.kitchen.next.question),
        member: draft.input.sender,
        message: draft.credit,
        about: SCALE.to_owned(),
        words,
        said: None,
        options: Vec::new(),
        said_at: draft.input.said_at,
        expires_at: draft.input.now + Duration::minutes(minutes),
        pointed: None,
        mentioned: true,
    }));
}

/// A dish that was topped up weighs more in its jar too.
pub fn topped_up(draft: &mut Draft, name: &Words, more: Mass) {
    let Some(jar) = standing(&draft.kitchen, draft.input).filter(|jar| jar.holds(name)) else {
        return;
    };
    let food = Words::plain(jar.food.clone().unwrap_or_default());
    stand(draft, jar.mass + more, Stands::Jar(&food));
}

/// The item without the container that it was weighed in, if that is one whose tare is known.
pub fn without_container(draft: &Draft, item: &Item) -> Result<Item, Stop> {
    let mut net = item.clone();
    let Some(container) = net.container.take() else {
        return Ok(net);
    };
    let known = draft.kitchen.container_named(&container.text);
    let tare = known.and_then(Container::tare);
    let (Some(tare), Amount::Bare(grams) | Amount::Mass(grams)) = (tare, &item.amount) else {
        return Ok(net);
    };
    let Some(gross) = Mass::from_grams(*grams) else {
        return Ok(net);
    };
    if gross > tare {
        net.amount = Amount::Mass((gross - tare).grams());
        return Ok(net);
    }
    net.amount = Amount::Mass(*grams);
    let portion = Portion {
        items: vec![net],
        ..Portion::default()
    };
    let problem = ProblemKind::BelowTare { gross, tare };
    Err(other_way(
        &item.name.text,
        problem,
        &Command::Portion(portion),
    ))
}
