//! What was eaten: "what did I have today", "what did Ana eat yesterday", "today". What ought to be:
//! "anything about to go off". And "done", which closes a bowl.
//!
//! ```text
//! eaten := ("what did" | "what have") who ("have" | "eat" | "had" | "eaten") [day] | "today" ["so far"] | "my day"
//! ```

use nom::Parser;
use nom::combinator::opt;

use crate::lang::command::{only_marks, whole_phrase};
use crate::lang::date::day;
use crate::lang::person::stranger;
use crate::lang::syntax::{Command, Day, EVERYONE, ErrorKind, Words};
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::vocabulary::Sense;
use crate::lang::words::whole;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if let Ok((rest, ())) = whole_phrase("today", input) {
        let (day, who) = (Day::Today, None);
        return Ok((rest, Command::Eaten { day, who }));
    }
    if let Some(day) = of_everyone(input.trimmed()) {
        let who = Some(Words::plain(EVERYONE));
        return Ok((input.after(input.len()), Command::Eaten { day, who }));
    }
    let (rest, _) = word(&["what"])(input.trimmed_front())?;
    let (rest, _) = opt(word(&["all"])).parse(rest)?;
    let (rest, _) = word(&["did", "have", "has", "ive"])(rest)?;
    let who = match rest.norm(0) {
        "i" | "we" => None,
        said if input.vocabulary.is(Sense::Person, &[said]) => Some(rest.range(0, 1).words()),
        _ => Some(
            stranger(rest).ok_or_else(|| nom::Err::Error(input.error(ErrorKind::NotUnderstood)))?,
        ),
    };
    let (rest, _) = word(&["have", "eat", "had", "eaten", "log"])(rest.after(1))?;
    let (rest, _) = opt((word(&["so"]), word(&["far"]))).parse(rest)?;
    let (rest, day) = opt(day).parse(rest)?;
    let (rest, _) = opt((word(&["so"]), word(&["far"]))).parse(rest)?;
    if !only_marks(rest) {
        return input.no();
    }
    let day = day.unwrap_or(Day::Today);
    Ok((input.after(input.len()), Command::Eaten { day, who }))
}

/// "what did everyone have", "who ate what today"
fn of_everyone(body: Tokens<'_>) -> Option<Day> {
    let length = whole().longest_of(body.slice, "everyone's plates")?;
    let (rest, day) = opt(day).parse(body.after(length)).ok()?;
    only_marks(rest).then_some(day.unwrap_or(Day::Today))
}

/// "how many calories was that?"
pub fn read_last(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("last plate", input)?;
    Ok((rest, Command::LastPlate))
}

pub fn read_due(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("due", input)?;
    Ok((rest, Command::Due))
}

pub fn read_past_date(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("past date", input)?;
    Ok((rest, Command::PastDate))
}

pub fn read_thawing(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("thawing", input)?;
    Ok((rest, Command::Thawing))
}

pub fn read_done(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("done", input)?;
    Ok((rest, Command::Done))
}
