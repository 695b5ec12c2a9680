//! When the household is told what: "prep day Sunday 10am", "morning notes at 7:30", "no morning notes", "quiet hours
//! 10pm to 7".
//!
//! ```text
//! prep  := "prep day" ["is"] weekday [hour] | "prep on" weekday-s [hour] | "no prep day" | "prep message" ("off" | "on")
//! notes := "notes" ("off" | "on")
//! away  := "put-away notes" ("off" | "on") | "no put-away notes"
//! note  := note ("off" | "on" | ["at"] hour) | ("no" | "stop") note
//! quiet := "quiet hours" ["from"] hour "to" hour | "no quiet hours"
//! ```

use super::without_leads;
use crate::lang::ahead::{Ahead, at};
use crate::lang::command::only_marks;
use crate::lang::hour::{Hour, expected};
use crate::lang::syntax::{ClockSetting, Command, NoteName, PrepDayTold, Setting, Told};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::clock;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match told(input.trimmed().trimmed_end()) {
        Some(told) => Ok((
            input.after(input.len()),
            Command::Setting(Setting::Clock(told)),
        )),
        None => input.no(),
    }
}

/// What is chosen, if that is all that is said.
pub fn told(body: Tokens<'_>) -> Option<ClockSetting> {
    let body = without_tail(body);
    let body = body.after(clock().longest_of(body.slice, "change").unwrap_or(0));
    let body = body.after(usize::from(matches!(body.norm(0), "the" | "our" | "my")));
    off(body).or_else(|| set(body))
}

/// Without "actually", "from now on", "please" behind it.
fn without_tail(body: Tokens<'_>) -> Tokens<'_> {
    let tail = |length: usize| {
        let at = body.len().checked_sub(length)?;
        let whole = clock().longest_of(body.after(at).slice, "tail") == Some(length);
        (whole && at > 0).then(|| body.range(0, at).trimmed_end())
    };
    match (1..=4).rev().find_map(tail) {
        Some(rest) => without_tail(rest),
        None => body,
    }
}

const KEYS: [&str; 7] = [
    "prep note",
    "notes",
    "prep day",
    "quiet hours",
    "morning note",
    "evening note",
    "put away note",
];

/// "no morning notes", "morning notes off"
fn off(body: Tokens<'_>) -> Option<ClockSetting> {
    let led = clock().longest_of(body.slice, "cancel");
    let rest = without_leads(body.after(led.unwrap_or(0)));
    let (key, length) = KEYS
        .iter()
        .find_map(|key| Some((*key, clock().longest_of(rest.slice, key)?)))?;
    let after = rest.after(length);
    let off = clock().longest_of(after.slice, "off");
    let ends = match (led, off) {
        (Some(_), None) => only_marks(after),
        (None, Some(length)) => only_marks(after.after(length)),
        _ => false,
    };
    // "no notes!" is praise.
    let praise =
        key == "notes" && led == Some(1) && body.norm(0) == "no" && rest.norm(0) == "notes";
    // "cancel all reminders": those that people asked for.
    let asked = matches!(
        body.norm(0),
        "cancel" | "delete" | "remove" | "clear" | "kill"
    );
    let theirs = asked && rest.slice.iter().any(|token| token.norm() == "reminders");
    let ends = ends && !praise && !theirs;
    ends.then_some(match key {
        "prep note" => ClockSetting::Note(NoteName::Prep, Told::Off),
        "notes" => ClockSetting::Notes(false),
        "prep day" => ClockSetting::Prep(None),
        "quiet hours" => ClockSetting::Quiet(None),
        "evening note" => ClockSetting::Note(NoteName::Evening, Told::Off),
        "put away note" => ClockSetting::Note(NoteName::PutAway, Told::Off),
        _ => ClockSetting::Note(NoteName::Morning, Told::Off),
    })
}

fn set(body: Tokens<'_>) -> Option<ClockSetting> {
    let key = |key: &str| {
        clock()
            .longest_of(body.slice, key)
            .map(|length| without_is(body.after(length)))
    };
    if let Some(rest) = key("quiet hours") {
        return quiet(rest);
    }
    let plain = [
        (
            "put away note",
            ClockSetting::Note(NoteName::PutAway, Told::On),
        ),
        ("prep note", ClockSetting::Note(NoteName::Prep, Told::On)),
        ("notes", ClockSetting::Notes(true)),
    ];
    for (note, told) in plain {
        let Some(rest) = key(note) else { continue };
        let back = usize::from(rest.norm(0) == "back");
        let on = rest.norm(back) == "on" && only_marks(rest.after(back + 1));
        return on.then_some(told);
    }
    let notes = [
        ("morning note", NoteName::Morning),
        ("evening note", NoteName::Evening),
    ];
    for (note, called) in notes {
        let Some(rest) = key(note) else { continue };
        if let Some((after, hour)) = expected(rest, true) {
            let told = Told::At(hour);
            return only_marks(after).then_some(ClockSetting::Note(called, told));
        }
        let on = rest.norm(0) == "on" && only_marks(rest.after(1));
        return on.then_some(ClockSetting::Note(called, Told::On));
    }
    if let Some(length) = clock().longest_of(body.slice, "prep day") {
        return prep(body.after(length));
    }
    // "prep on Sundays": of one Sunday it may be said of anything.
    let rest = body.after(clock().longest_of(body.slice, "prep")?);
    let mut near = without_is(rest).slice.iter().take(2);
    let often = near.any(|token| token.norm().ends_with("days"));
    let every_other = clock().longest_of(rest.slice, "every other").is_some();
    (often || every_other).then(|| prep(rest)).flatten()
}

/// "is", "on", a colon
fn without_is(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.without_lead();
    while matches!(rest.norm(0), "is" | "are" | "to" | "every" | "always") {
        rest = rest.take_one().without_lead();
    }
    rest
}

fn prep(rest: Tokens<'_>) -> Option<ClockSetting> {
    let mut rest = rest.without_lead();
    while matches!(rest.norm(0), "is" | "are" | "to") {
        rest = rest.take_one().without_lead();
    }
    let every_other = |rest: Tokens<'_>| clock().longest_of(rest.slice, "every other");
    let before = every_other(rest);
    let rest = without_is(rest.after(before.unwrap_or(0)));
    let (after, told) = at(rest).ok()?;
    let Some(Ahead::Weekday(weekday)) = told.day else {
        return None;
    };
    let after = after.trimmed_front();
    let behind = every_other(after).filter(|_| before.is_none());
    let told = PrepDayTold {
        weekday,
        hour: told.hour,
        every_other: before.or(behind).is_some(),
    };
    only_marks(after.after(behind.unwrap_or(0))).then_some(ClockSetting::Prep(Some(told)))
}

fn quiet(rest: Tokens<'_>) -> Option<ClockSetting> {
    let rest = rest.after(usize::from(matches!(rest.norm(0), "from" | "between")));
    let (rest, from) = expected(rest, true)?;
    let dash = rest.first().is_some_and(|token| token.is('-'));
    let joins = dash || matches!(rest.norm(0), "to" | "till" | "til" | "until" | "and");
    let (rest, to) = expected(rest.after(usize::from(joins)), true)?;
    let hours: (Hour, Hour) = (from, to);
    (joins && only_marks(rest)).then_some(ClockSetting::Quiet(Some(hours)))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn times_of_the_household_in_many_spellings() {
        for (text, printed) in [
            ("prep day Sunday 10am", "prep day Sunday at 10:00am"),
            ("prep day Sunday 10:00", "prep day Sunday at 10:00"),
            ("prep day is Sundays at 10", "prep day Sunday at 10:00"),
            ("our prep day is Sunday", "prep day Sunday"),
            ("prep on Sundays 10am", "prep day Sunday at 10:00am"),
            (
                "change the prep day to Saturday at 9",
                "prep day Saturday at 9:00",
            ),
            ("no prep day", "no prep day"),
            (
                "prep day every second Sunday 10am",
                "prep day every other Sunday at 10:00am",
            ),
            (
                "prep day is every other sunday",
                "prep day every other Sunday",
            ),
            ("prep every second sunday", "prep day every other Sunday"),
            (
                "prep day Sunday at 10 every two weeks",
                "prep day every other Sunday at 10:00",
            ),
            (
                "prep day fortnightly on Sunday",
                "prep day every other Sunday",
            ),
            ("morning notes at 7:30", "morning notes at 7:30"),
            ("morning note 7.30am", "morning notes at 07:30am"),
            ("no morning notes", "no morning notes"),
            ("stop the morning notes", "no morning notes"),
            ("morning notes off", "no morning notes"),
            ("morning notes on", "morning notes on"),
            ("quiet hours 22:00 to 07:00", "quiet hours 22:00 to 07:00am"),
            ("quiet hours 22:00-07:00", "quiet hours 22:00 to 07:00am"),
            ("quiet from 10pm to 7am", "quiet hours 22:00 to 07:00am"),
            ("no quiet hours", "no quiet hours"),
            (
                "shush between 10pm and 8 in the morning",
                "quiet hours 22:00 to 08:00am",
            ),
            ("no more morning notes please", "no morning notes"),
            ("no morning reminders", "no morning notes"),
            ("turn off the prep reminder", "no prep message"),
            ("prep message off", "no prep message"),
            ("no prep message", "no prep message"),
            ("prep message on", "prep message on"),
            ("notes off", "notes off"),
            ("reminders off", "notes off"),
            ("no reminders", "notes off"),
            ("stop all the reminders", "notes off"),
            ("dont send the morning notes any more", "no morning notes"),
            ("turn off all notes", "notes off"),
            ("notes on", "notes on"),
            (
                "we prep sundays at half ten actually",
                "prep day Sunday at 10:30",
            ),
        ] {
            surely_means(text, &Vocabulary::new(), printed);
        }
    }

    #[test]
    fn hours_of_nothing_are_quiet_where_the_bot_is_told() {
        let told = "nothing between 10pm and 7am please";
        let sure = means(told, &Vocabulary::new(), "quiet hours 22:00 to 07:00am");
        assert!(!sure);
    }

    #[test]
    fn talk_of_mornings_sets_nothing() {
        for text in [
            "is Sunday still prep day?",
            "prep on Sunday 10am then",
            "morning notes",
            "quiet in here",
            "no notes from the doctor this morning",
            "prep day was great",
            "we see them every second Sunday",
            "prep every second chapter by Sunday",
            "we prep sundays usually",
            "no notes",
            "hush now",
            "be quiet",
        ] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(command, Command::Setting(_))
            });
        }
    }
}
