//! When something was eaten, which no count since it may shift.

use chrono::{DateTime, Duration, NaiveDate, NaiveTime, Timelike, Utc};

use super::super::answer::Note;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::resolve::Thing;
use crate::lang::syntax::{Earlier, MealName, Portion};

/// So long before it was weighed or written down a pot may have stood there.
const BEGUN_HOURS: i64 = 2;

/// Every batch of that name was made after the day that was told, or after the hour.
pub fn made_later(
    draft: &Draft,
    thing: &Thing,
    told: bool,
) -> Option<(DateTime<Utc>, Option<Note>)> {
    let Thing::Batches(batches) = thing else {
        return None;
    };
    let day = draft.day_of(draft.occurred_at);
    let first = draft.kitchen.batch(*batches.first()?);
    let later = |id: &BatchId| draft.kitchen.batch(*id).made_on > day;
    let note = Note::MadeLater {
        name: first.name.clone(),
        made_on: first.made_on,
    };
    let made_at = first.weighed_at().unwrap_or(first.made_at);
    if batches.iter().all(later) {
        return Some((made_at, Some(note)));
    }
    if !told || made_at <= draft.occurred_at {
        return None;
    }
    // A pot is often told of after it was begun: hours before that are no slip.
    let begun = made_at - draft.occurred_at < Duration::hours(BEGUN_HOURS);
    let zone = draft.kitchen.settings().zone;
    let note = Note::MadeSince {
        name: first.name.clone(),
        at: made_at.with_timezone(&zone).time(),
    };
    Some((made_at, (!begun).then_some(note)))
}

/// When it was eaten: on that day at the hour that was told, otherwise at the time of day of the message. An hour
/// that may be of the morning or of the evening is the later one that has been.
pub fn moment(draft: &Draft, portion: &Portion, day: NaiveDate) -> DateTime<Utc> {
    let said_at = draft.input.said_at;
    let at_this_time = said_at - Duration::days((draft.today() - day).num_days());
    let Some(told) = portion.hour else {
        let earlier = (day == draft.today()).then(|| earlier(draft, portion, day));
        return earlier.flatten().unwrap_or(at_this_time);
    };
    let noon = match told.either && portion.meal != Some(MealName::Breakfast) {
        true => [12, 0].as_slice(),
        false => &[0],
    };
    let moment = |later: &u32| {
        let time = NaiveTime::from_hms_opt(told.hour + later, told.minute, 0)?;
        let local = day
            .and_time(time)
            .and_local_timezone(draft.kitchen.settings().zone);
        local.earliest().map(|local| local.with_timezone(&Utc))
    };
    let been = |moment: &DateTime<Utc>| *moment <= said_at && draft.day_of(*moment) == day;
    let mut moments = noon.iter().filter_map(moment).filter(been);
    moments.next().unwrap_or(at_this_time)
}

/// When breakfast and lunch are over; what is told of them later, and of the morning, was before a count since.
const AFTER_BREAKFAST: u32 = 9;
const AFTER_LUNCH: u32 = 13;

/// Whether people have this meal at that hour of the day; a snack they have at any.
pub fn is_hour_of(draft: &Draft, meal: MealName, at: DateTime<Utc>) -> bool {
    let hour = at.with_timezone(&draft.kitchen.settings().zone).hour();
    match meal {
        MealName::Breakfast => (4..12).contains(&hour),
        MealName::Lunch => (11..16).contains(&hour),
        MealName::Dinner => (16..24).contains(&hour) || hour < 3,
        MealName::Snack => false,
    }
}

/// A while ago today, as far as it was told: it matters where something was counted since.
fn earlier(draft: &Draft, portion: &Portion, day: NaiveDate) -> Option<DateTime<Utc>> {
    let said_at = draft.input.said_at;
    let lots = draft.kitchen.batches.values().flat_map(|batch| &batch.lots);
    let counts = lots
        .flat_map(|lot| &lot.counts)
        .map(|count| count.occurred_at);
    let last = counts.filter(|at| *at <= said_at).max()?;
    let by_the_clock = |hour| {
        let local = day.and_hms_opt(hour, 0, 0)?;
        let local = local.and_local_timezone(draft.kitchen.settings().zone);
        local.earliest().map(|local| local.with_timezone(&Utc))
    };
    let moment = match (portion.earlier, portion.meal) {
        (Some(Earlier::Minutes(minutes)), _) => said_at - Duration::minutes(minutes.into()),
        (Some(Earlier::BeforeCount), _) => last - Duration::minutes(1),
        (Some(Earlier::Morning), _) | (None, Some(MealName::Breakfast)) => {
            by_the_clock(AFTER_BREAKFAST)?
        }
        (None, Some(MealName::Lunch)) => by_the_clock(AFTER_LUNCH)?,
        (None, _) => return None,
    };
    (moment < last && draft.day_of(moment) == day).then_some(moment)
}
