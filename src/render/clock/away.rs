//! Who is away, and what should be frozen or finished before.

use chrono::NaiveDate;

use crate::domain::answer::{AbsenceView, AwayAnswer};

use super::super::clean::name;
use super::super::date::{calendar_day, day};
use super::super::page::Page;
use super::note::standing;

/// "Away: Ana, Fri 16 Oct."
pub fn absences(days: &[AbsenceView]) -> Page {
    let mut page = Page::new();
    if days.is_empty() {
        page.say("Nobody is away by the books.");
    }
    for absence in days {
        let who = who(absence.member.as_deref());
        page.say(format!(
            "Away: {who}, {}.",
            span(absence.from, absence.until)
        ));
    }
    page
}

fn span(from: NaiveDate, until: NaiveDate) -> String {
    match from == until {
        true => day(from),
        false => format!("{} to {}", day(from), day(until)),
    }
}

pub fn page(answer: &AwayAnswer) -> Page {
    let mut page = Page::new();
    let days = span(answer.from, answer.until);
    let who = who(answer.member.as_deref());
    page.say(match answer.member {
        Some(_) => format!("Away: {who}, {days}."),
        None => format!("Away: {who}, {days}. No notes meanwhile."),
    });
    for (lead, lots) in [("Freeze:", &answer.freeze), ("Finish:", &answer.finish)] {
        if !lots.is_empty() {
            page.say(lead);
        }
        for lot in lots {
            let due = lot.use_by().map(|on| calendar_day(on, answer.today));
            let due = due.map_or(String::new(), |due| format!(", due {due}"));
            page.item(format!("{}{due}", standing(lot)));
        }
    }
    page
}

pub fn back(member: Option<&str>, on: NaiveDate, today: NaiveDate) -> Page {
    let mut page = Page::new();
    let when = match on == today {
        true => "today".to_owned(),
        false => day(on),
    };
    page.say(format!("Back: {}, {when}.", who(member)));
    page
}

fn who(member: Option<&str>) -> String {
    member.map_or_else(|| "everybody".to_owned(), name)
}
