//! What waits: listed, cancelled, put off.
//!
//! ```text
//! pending := phrase of data/clock.txt
//! cancel  := verb ["the"] [name] timer ["for" name | number] | verb all timer | [name] timer "off"
//! later   := "snooze" ["until"] at [which]
//! more    := "snooze" [lasting] [which] | "add" lasting "to" which | lasting "more" [which] | number "more" unit [which] | name lasting "more"
//! which   := "for" ["the"] (name timer | timer number | name)
//! ```

use super::{called, is_known};
use crate::lang::ahead::{At, Lasting, lasting, moment};
use crate::lang::command::only_marks;
use crate::lang::number::{digits, number};
use crate::lang::syntax::{Clock, Command, WhichTimer, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::clock;

/// "snooze", and nothing told of how long.
const SNOOZE: Lasting = Lasting::minutes(10);

/// "not now", and nothing told of when.
const SNOOZE_LONG: Lasting = Lasting::minutes(60);

/// Of more words a timer's name is a sentence.
const NAME_WORDS_MAX: usize = 6;

pub fn read_pending(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed_front();
    let asked = |key| {
        let length = clock().longest_of(body.slice, key)?;
        only_marks(without_question(body.after(length))).then_some(())
    };
    let of_dish = || {
        let length = clock().longest_of(body.slice, "left on")?;
        let dish = called(without_question(body.after(length)).trimmed_end())?;
        is_known(&dish, body).then_some(())
    };
    let running = asked("list").or_else(of_dish);
    let notes = match (running, asked("list notes")) {
        (_, Some(())) => true,
        (Some(()), None) => false,
        (None, None) => return input.no(),
    };
    Ok((
        input.after(input.len()),
        Command::Clock(Clock::Pending { notes }),
    ))
}

/// "what timers are on?"
fn without_question(rest: Tokens<'_>) -> Tokens<'_> {
    match rest.last() {
        Some(last) if last.is('?') => rest.range(0, rest.len() - 1),
        _ => rest,
    }
}

pub fn read_cancel(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    // "no morning reminders": a note, and no reminder of somebody's.
    if super::setting::told(body).is_some() {
        return input.no();
    }
    let sure = matches!(body.norm(0), "cancel" | "delete" | "remove");
    let which = match clock().longest_of(body.slice, "cancel") {
        Some(length) => which(body.after(length)),
        None => ended(body),
    };
    // "stop the oven alarm" may be said of another.
    let which = match which {
        Some(WhichTimer::Named(words)) if !sure => Some(WhichTimer::One(words)),
        which => which,
    };
    match which {
        Some(which) => Ok((
            input.after(input.len()),
            Command::Clock(Clock::Cancel(which)),
        )),
        None => input.no(),
    }
}

/// "dal timer off"
fn ended(body: Tokens<'_>) -> Option<WhichTimer> {
    let (last, rest) = (body.last()?, body.range(0, body.len() - 1));
    let is = |token, key| {
        clock()
            .longest_of(std::slice::from_ref(token), key)
            .is_some()
    };
    let timer = rest.last().is_some_and(|token| is(token, "timer"));
    let ends = is(last, "off");
    let named = which(rest).filter(|which| *which != WhichTimer::All);
    named.filter(|_| timer && ends)
}

/// Which timer, with the word in it.
fn which(input: Tokens<'_>) -> Option<WhichTimer> {
    let input = input.trimmed_front();
    if let Some(length) = clock().longest_of(input.slice, "all") {
        let rest = input.after(length);
        let timers = clock().longest_of(rest.slice, "timer")?;
        return only_marks(rest.after(timers)).then_some(WhichTimer::All);
    }
    let timer = |at: &usize| {
        clock()
            .longest_of(input.after(*at).slice, "timer")
            .is_some()
    };
    let Some(at) = (0..input.len()).find(timer) else {
        return one(input);
    };
    let before = called(input.range(0, at))?;
    let after = input.after(at + 1).trimmed();
    if !before.text.is_empty() {
        let name = at <= NAME_WORDS_MAX && only_marks(after) && input.range(0, at).is_wordy();
        return name.then_some(WhichTimer::Named(before));
    }
    numbered(after).or_else(|| named(after))
}

/// "the bread one"
fn one(input: Tokens<'_>) -> Option<WhichTimer> {
    let input = input.trimmed();
    input.last().filter(|last| last.norm() == "one")?;
    let name = input.range(0, input.len() - 1);
    let words = called(name).filter(|words| !words.text.is_empty())?;
    // "the last one" may be the last of anything.
    let placed = |token: &Token| {
        matches!(
            token.norm(),
            "the" | "that" | "very" | "last" | "first" | "other"
        )
    };
    let named = !name.slice.iter().all(placed);
    let fits = name.is_wordy() && name.len() <= NAME_WORDS_MAX;
    (fits && named).then_some(WhichTimer::One(words))
}

fn numbered(input: Tokens<'_>) -> Option<WhichTimer> {
    let (rest, number) = digits(input).ok()?;
    let whole = number.value.fract() == 0.0 && (1.0..1000.0).contains(&number.value);
    (whole && only_marks(rest)).then_some(WhichTimer::Number(number.value as u32))
}

fn named(input: Tokens<'_>) -> Option<WhichTimer> {
    let words = called(input)?;
    match words.text.is_empty() {
        true => Some(WhichTimer::Untold),
        false => {
            (input.is_wordy() && input.len() <= NAME_WORDS_MAX).then_some(WhichTimer::Named(words))
        }
    }
}

pub fn read_more(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    if let Some((until, which)) = later(body) {
        let later = Clock::Later { until, which };
        return Ok((input.after(input.len()), Command::Clock(later)));
    }
    let said = snoozed(body)
        .or_else(|| given(body))
        .or_else(|| added(body))
        .or_else(|| longer(body))
        .or_else(|| name_first(body));
    match said {
        Some((lasting, which)) => {
            let more = Clock::More { lasting, which };
            Ok((input.after(input.len()), Command::Clock(more)))
        }
        None => input.no(),
    }
}

/// "snooze that till 6 this evening", "snooze the dal timer until 18:00"
fn later(body: Tokens<'_>) -> Option<(At, WhichTimer)> {
    let rest = body.after(clock().longest_of(body.slice, "snooze")?);
    let joins = |at: &usize| matches!(rest.norm(*at), "until" | "till" | "til" | "to");
    let (at, led) = match (0..rest.len()).find(joins) {
        Some(at) => (at, 1),
        // "remind me again at 6"
        None => (0, 0),
    };
    let (behind, until) = moment(rest.after(at + led), led > 0).ok()?;
    let which = match at {
        0 => meant(behind)?,
        _ => only_marks(behind).then(|| meant(rest.range(0, at)))??,
    };
    Some((until, which))
}

fn snoozed(body: Tokens<'_>) -> Option<(Lasting, WhichTimer)> {
    let length = clock().longest_of(body.slice, "snooze")?;
    let rest = body.after(length);
    let rest = rest.after(usize::from(matches!(rest.norm(0), "by" | "for" | "in")));
    let (rest, lasting) = lasting(rest).unwrap_or((rest, SNOOZE));
    Some((lasting, meant(rest)?))
}

/// "give the dal 5 more mins"
fn given(body: Tokens<'_>) -> Option<(Lasting, WhichTimer)> {
    name_first(body.after(clock().longest_of(body.slice, "give")?))
}

/// "not now, in an hour", "later", "in an hour": in reply to what was told.
pub fn read_put_off(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    let soft = clock().longest_of(body.slice, "snooze soft");
    let rest = body.after(soft.unwrap_or(0)).trimmed();
    let told = (rest.norm(0) == "in").then(|| lasting(rest.take_one()).ok());
    let lasting = match told.flatten() {
        Some((after, lasting)) if only_marks(after) => lasting,
        None if soft.is_some() && only_marks(rest) => SNOOZE_LONG,
        _ => return input.no(),
    };
    let which = WhichTimer::Untold;
    Ok((
        input.after(input.len()),
        Command::Clock(Clock::More { lasting, which }),
    ))
}

/// "add 5 min to the dal timer"
fn added(body: Tokens<'_>) -> Option<(Lasting, WhichTimer)> {
    let length = clock().longest_of(body.slice, "add")?;
    let rest = body.after(length);
    let rest = rest.after(usize::from(rest.norm(0) == "another"));
    let (rest, lasting) = lasting(rest).ok()?;
    Some((lasting, meant(rest).filter(|_| !only_marks(rest))?))
}

/// "5 min more for the dal", "5 more min"
fn longer(body: Tokens<'_>) -> Option<(Lasting, WhichTimer)> {
    if let Ok((rest, lasting)) = lasting(body) {
        let length = clock().longest_of(rest.slice, "more")?;
        return Some((lasting, meant(rest.after(length))?));
    }
    let (rest, _) = number(body).ok()?;
    let length = clock().longest_of(rest.slice, "more")?;
    // The same without the word between.
    let mut said = body.slice[..body.len() - rest.len()].to_vec();
    said.extend_from_slice(rest.after(length).slice);
    let told = body.with_tokens(&said);
    let (after, lasting) = lasting(told).ok()?;
    let which = meant(body.after(body.len() - after.len()))?;
    Some((lasting, which))
}

/// "dal 5 min more"
fn name_first(body: Tokens<'_>) -> Option<(Lasting, WhichTimer)> {
    (1..body.len().min(NAME_WORDS_MAX)).find_map(|at| {
        let (lasting, which) = longer(body.after(at))?;
        let told = body.range(0, at);
        let name = called(told).filter(|name| !name.text.is_empty() && told.is_wordy())?;
        let named = without_timer(name.clone());
        // "soup needs 10 more minutes" is told to somebody.
        let meant = named.text != name.text || is_known(&named, body);
        (meant && which == WhichTimer::Untold).then_some((lasting, WhichTimer::Named(named)))
    })
}

/// "for the dal timer", "for timer 2", "for the dal", or nothing.
fn meant(rest: Tokens<'_>) -> Option<WhichTimer> {
    if only_marks(rest) {
        return Some(WhichTimer::Untold);
    }
    let rest = rest.trimmed();
    let led = usize::from(matches!(rest.norm(0), "for" | "on" | "to"));
    let rest = rest.after(led);
    which(rest).or_else(|| {
        let told = (led > 0).then(|| named(rest)).flatten();
        told.filter(|which| *which != WhichTimer::Untold)
    })
}

fn without_timer(name: Words) -> Words {
    match name.text.strip_suffix(" timer") {
        Some(text) => Words::plain(text),
        None => name,
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new().with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn what_waits_is_asked_for() {
        for text in [
            "what timers are on?",
            "list timers",
            "timers",
            "Timers?",
            "any timers on",
        ] {
            surely_means(text, &kitchen(), "timers");
        }
        for text in [
            "what reminders are on?",
            "which notes are on",
            "reminders",
            "list reminders",
        ] {
            surely_means(text, &kitchen(), "reminders");
        }
    }

    #[test]
    fn a_timer_is_cancelled_in_many_spellings() {
        for (text, printed) in [
            ("cancel timer dal", "cancel timer dal"),
            ("cancel the dal timer", "cancel timer dal"),
            ("stop the dal timer", "cancel the dal one"),
            ("no timer for dal", "cancel the dal one"),
            ("dal timer off", "cancel the dal one"),
            ("cancel timer 2", "cancel timer 2"),
            ("cancel reminder 2", "cancel timer 2"),
            ("cancel the timer", "cancel timer"),
            ("stop timer", "cancel timer"),
            ("cancel all timers", "cancel all timers"),
            ("stop all the timers", "cancel all timers"),
            ("cancel the bread one", "cancel the bread one"),
            ("cancel the bread timer", "cancel timer bread"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn time_is_added_in_many_spellings() {
        for (text, printed) in [
            ("5 min more for the dal timer", "5 min more for timer dal"),
            ("5 min more for the dal", "5 min more for timer dal"),
            ("5 more minutes for timer 2", "5 min more for timer 2"),
            ("add 5 min to the dal", "5 min more for timer dal"),
            (
                "add another 10 minutes to timer 2",
                "10 min more for timer 2",
            ),
            ("5 min more", "5 min more"),
            ("5 more min", "5 min more"),
            ("dal 5 min more", "5 min more for timer dal"),
            ("snooze", "10 min more"),
            ("snooze 20 min", "20 min more"),
            ("snooze the dal timer", "10 min more for timer dal"),
            ("snooze 2 h", "120 min more"),
            ("snooze for an hour", "60 min more"),
            ("snooze till 18:00", "snooze until 18:00"),
            (
                "snooze that till 6 this evening",
                "snooze until today at 18:00",
            ),
            (
                "snooze it until tomorrow morning",
                "snooze until tomorrow at 08:00am",
            ),
            (
                "snooze the dal timer till 18:00",
                "snooze until 18:00 for timer dal",
            ),
            ("remind us again at 6pm", "snooze until 18:00"),
            ("remind me again in 20 min", "20 min more"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn talk_of_timers_changes_none() {
        for text in [
            "who set that timer",
            "stop the music",
            "no time for dal",
            "cancel dinner",
            "cancel the 2pm one and book the 3pm",
            "remind me again why we bought this",
            "5 more people for dinner",
            "turn the oven off when the timer goes please",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Clock(_))
            });
        }
    }
}
