//! A timer: "35 min dal", "set a timer for 10 min", "in 2 h move the tray", "timer dal 35".
//!
//! ```text
//! timer := "timer" ["for"] lasting [what] | lasting "timer" ["for" what] | dish "timer" lasting | "timer" dish ["for"] lasting | lasting ["for"] dish
//!        | ["in"] lasting act | act "in" lasting | dish lasting
//! act   := phrase of data/kitchen_acts.txt, and words without a number
//! ```
//! Behind the word a bare number is minutes. "timer has 12 min to go" sets none: what stands on both sides of a
//! span is a sentence.

use super::{called, is_known, without_leads};
use crate::lang::ahead::{Lasting, lasting};
use crate::lang::lexer::folded_words;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::number::digits;
use crate::lang::syntax::{Clock, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{clock, kitchen_acts, pots};

/// A bare number of minutes.
const MINUTES_MAX: f64 = 600.0;
const DAY_MINUTES: f64 = 24.0 * 60.0;
/// Of more words what stands before the timer is a sentence.
const NAME_WORDS_MAX: usize = 3;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    let timer = set(body)
        .or_else(|| in_between(body))
        .or_else(|| of_dish(body))
        .or_else(|| of_act(body));
    found(input, timer)
}

/// "dal 35 min": it may tell how long the dal takes.
pub fn read_dish_first(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    found(input, named_first(body, |rest| lasting(rest).ok()))
}

fn found(input: Tokens<'_>, timer: Option<Clock>) -> Read<'_, Command> {
    match timer {
        Some(timer) => Ok((input.after(input.len()), Command::Clock(timer))),
        None => input.no(),
    }
}

/// With the word.
fn set(body: Tokens<'_>) -> Option<Clock> {
    let length = clock().longest_of(body.slice, "set")?;
    let rest = without_for(body.after(length).without_lead());
    let read = |rest| lasting(rest).ok().or_else(|| bare(rest));
    if let Some((after, lasting)) = days(rest).or_else(|| read(rest)) {
        let words = called(after).filter(|_| !says_a_time(after))?;
        return Some(Clock::Timer { lasting, words });
    }
    named_first(rest, read)
}

/// "timer 2 days"
fn days(input: Tokens<'_>) -> Option<(Tokens<'_>, Lasting)> {
    let (rest, number) = digits(input).ok()?;
    let days = matches!(rest.norm(0), "day" | "days");
    let minutes = (number.value * DAY_MINUTES).clamp(0.0, f64::from(u32::MAX)) as u32;
    days.then(|| (rest.take_one(), Lasting::minutes(minutes)))
}

/// "rice timer 20 min", "6 min timer for the eggs": the word in the middle.
fn in_between(body: Tokens<'_>) -> Option<Clock> {
    if let Ok((rest, lasting)) = lasting(body) {
        let length = clock().longest_of(rest.slice, "timer")?;
        let after = rest.after(length);
        let led = clock().longest_of(after.slice, "lead").is_some();
        let words = called(after).filter(|words| led || words.text.is_empty())?;
        return Some(Clock::Timer { lasting, words });
    }
    (1..body.len().min(NAME_WORDS_MAX + 1)).find_map(|at| {
        let rest = body.after(at);
        let length = clock().longest_of(rest.slice, "timer")?;
        let (after, lasting) = lasting(without_for(rest.after(length).without_lead())).ok()?;
        let words = called(body.range(0, at)).filter(|words| is_known(words, body))?;
        let ends = called(after).is_some_and(|left| left.text.is_empty());
        ends.then_some(Clock::Timer { lasting, words })
    })
}

/// "dal 35 min", "the rice for 20 min"
fn named_first<'a>(
    rest: Tokens<'a>,
    read: impl Fn(Tokens<'a>) -> Option<(Tokens<'a>, Lasting)>,
) -> Option<Clock> {
    (1..rest.len()).find_map(|at| {
        let (after, lasting) = read(without_for(rest.after(at).trimmed_front()))?;
        let words = called(rest.range(0, at))?;
        let known = after.trimmed().is_empty() && is_known(&words, rest);
        known.then_some(Clock::Timer { lasting, words })
    })
}

/// "35 min dal", "35 min for the dal", "45 min rice in the oven", "in 20 min pasta"
fn of_dish(body: Tokens<'_>) -> Option<Clock> {
    let ahead = body.norm(0) == "in";
    let body = body.after(usize::from(ahead));
    let (rest, lasting) = lasting(body).ok()?;
    let words = called(rest)?;
    let told = without_leads(rest);
    let stands = |at: usize| matches!(told.norm(at), "in" | "on" | "under");
    let placed = (1..told.len()).find(|&at| stands(at) && is_at_the_stove(told.after(at + 1)));
    let dish = called(told.range(0, placed.unwrap_or(told.len())))?;
    // "in 10 min dinner" calls to the table.
    let ours = familiarity(&dish.text, body) == Familiarity::Household;
    let known = is_cooked(&dish) || ours || !ahead && is_known(&dish, body);
    known.then_some(Clock::Timer { lasting, words })
}

/// "the oven", "the big pot"
fn is_at_the_stove(rest: Tokens<'_>) -> bool {
    let last = rest.trimmed().last().map(|last| last.norm());
    last.is_some_and(|last| clock().get(last) == Some("kitchen") || pots().has(last))
        && rest.len() <= NAME_WORDS_MAX
        && rest.is_wordy()
}

/// A dish by what dishes are called, though nobody has cooked one here: so many minutes of it are no plate. "20 min til
/// pasta" tells when there is some.
fn is_cooked(words: &Words) -> bool {
    let folded = folded_words(&words.text);
    let relates = |word: &String| {
        matches!(
            word.as_str(),
            "til" | "till" | "until" | "to" | "before" | "after" | "since" | "past" | "of"
        )
    };
    let last = folded.last().filter(|_| folded.len() <= NAME_WORDS_MAX);
    last.is_some_and(|last| clock().get(last) == Some("dish")) && !folded.iter().any(relates)
}

/// "in 2 h move the tray", "move the tray in 2 h"
fn of_act(body: Tokens<'_>) -> Option<Clock> {
    let within = usize::from(body.norm(0) == "in");
    if let Ok((rest, lasting)) = lasting(body.after(within)) {
        let words = act(rest)?;
        return Some(Clock::Timer { lasting, words });
    }
    let at =
        (1..body.len()).find(|&at| body.norm(at) == "in" && lasting(body.after(at + 1)).is_ok())?;
    let (rest, lasting) = lasting(body.after(at + 1)).ok()?;
    let words =
        act(body.range(0, at)).filter(|_| called(rest).is_some_and(|left| left.text.is_empty()))?;
    Some(Clock::Timer { lasting, words })
}

/// Something that is done at the stove, and no figure of the books in it.
fn act(input: Tokens<'_>) -> Option<Words> {
    let told = without_leads(input);
    let does = kitchen_acts().longest(told.slice).is_some();
    (does && !told.has_number()).then(|| called(told)).flatten()
}

fn bare(input: Tokens<'_>) -> Option<(Tokens<'_>, Lasting)> {
    let (rest, number) = digits(input).ok()?;
    let rest = rest.after(usize::from(rest.norm(0) == "m"));
    let minutes = number.value.fract() == 0.0 && (1.0..=MINUTES_MAX).contains(&number.value);
    let minutes = (minutes && !rest.has_number()).then_some(number.value as u32)?;
    Some((rest, Lasting::minutes(minutes)))
}

fn without_for(input: Tokens<'_>) -> Tokens<'_> {
    input.after(usize::from(matches!(
        input.norm(0),
        "for" | "of" | "in" | "to"
    )))
}

/// A second span, or a verb of telling: the timer runs elsewhere.
fn says_a_time(input: Tokens<'_>) -> bool {
    (0..input.len()).any(|at| lasting(input.after(at)).is_ok())
        || matches!(input.norm(0), "left" | "ago" | "remaining" | "more")
        || (input.norm(0), input.norm(1)) == ("to", "go")
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "brown rice")
    }

    #[test]
    fn a_timer_in_many_spellings() {
        for (text, printed) in [
            ("35 min dal", "timer 35 min dal"),
            ("35min dal", "timer 35 min dal"),
            ("35 minutes for the dal", "timer 35 min dal"),
            ("1h30 rice", "timer 90 min rice"),
            ("35 min ragu", "timer 35 min ragu"),
            ("40 mins for the fish pie", "timer 40 min fish pie"),
            ("45 min rice in the oven", "timer 45 min rice in the oven"),
            ("timer 1 h 30 dough", "timer 90 min dough"),
            ("timer 90 sec egg", "timer 90 sec egg"),
            ("timer 10 min", "timer 10 min"),
            ("timer eggs 6m", "timer 6 min eggs"),
            ("in 20 min pasta", "timer 20 min pasta"),
            ("timer 2 days", "timer 2880 min"),
            ("rice timer 20 min", "timer 20 min rice"),
            ("6 min timer for the eggs", "timer 6 min eggs"),
            ("egg timer 6 mins pls", "timer 6 min egg"),
            ("10 minute timer", "timer 10 min"),
            ("timer 10", "timer 10 min"),
            ("set a timer for 10 min", "timer 10 min"),
            ("Set a timer for ten minutes", "timer 10 min"),
            ("timer 10 min dal", "timer 10 min dal"),
            ("timer dal 35", "timer 35 min dal"),
            ("timer dal 35 min", "timer 35 min dal"),
            ("timer for the dal: 35 min", "timer 35 min dal"),
            ("timer 20 min for the rice", "timer 20 min rice"),
            (
                "set a timer for half an hour for the dal please",
                "timer 30 min dal",
            ),
            ("in 2 h move the tray", "timer 120 min move the tray"),
            ("in 2 hours, move the tray", "timer 120 min move the tray"),
            ("move the tray in 2 h", "timer 120 min move the tray"),
            ("in 10 min stir the dal", "timer 10 min stir the dal"),
            (
                "turn off the oven in 20 min",
                "timer 20 min turn off the oven",
            ),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        assert!(!means("dal 35 min", &kitchen(), "timer 35 min dal"));
    }

    #[test]
    fn talk_of_time_sets_no_timer() {
        for text in [
            "bus 25 min",
            "35 min walk",
            "20 min late",
            "10 min break",
            "45 min drive in the rain",
            "30 min pilates",
            "timer went off",
            "the rice timer just went off",
            "timer has 12 min to go",
            "timer says 12 min",
            "timer on 12 min left",
            "in 10 min dinner",
            "back in 20 min",
            "35 min dal?",
            "did you set a timer for 10 min?",
            "dal takes 35 min",
            "dal needs 35 min more in the oven at 180",
            "move 400 g dal to the freezer in 2 h",
            "140 dal in 10 min",
            "should I stir the dal in 10 min",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Clock(_))
            });
        }
    }
}
