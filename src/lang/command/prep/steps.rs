//! The steps of a dish, and the sheet that puts them in order: "dal steps: soak 8 h, simmer 35 min on a burner, freeze flat
//! 2 h", "prep sheet for 18:00".
//!
//! ```text
//! step := words lasting [words] [uses]
//! uses := "by hand" | "on a burner" | "in the oven" ["at" degrees] | "by itself"
//! ```
//! What a step takes is told behind it, or by its verb: one soaks by itself and simmers on a burner.

use super::wish::{dishes, name};
use super::{is_phrase, phrase, whole};
use crate::lang::ahead::{At, Lasting, at, lasting};
use crate::lang::command::only_marks;
use crate::lang::number::number;
use crate::lang::syntax::{Command, Helping, Prep, Step, Uses, Words};
use crate::lang::token::{Kind, Token, folded_words};
use crate::lang::tokens::{Read, Tokens};

/// Nobody follows more.
const STEPS_MAX: usize = 30;
const WORDS_MAX: usize = 12;
const DEGREES: std::ops::RangeInclusive<f64> = 30.0..=350.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        if let Some(rest) = phrase("no steps", said) {
            let steps = Vec::new();
            return Some(Prep::Steps {
                dish: name(rest)?,
                steps,
            });
        }
        let (dish, rest) = titled(said)?;
        let steps = steps(rest)?;
        Some(Prep::Steps { dish, steps })
    })
}

/// "dal steps: ...", "steps for dal: ..."
fn titled(said: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let marks = |token: &Token| token.is(':') || token.kind == Kind::Newline;
    let at = said.find(marks).filter(|at| *at > 0 && *at < said.len())?;
    let (title, rest) = (said.range(0, at), said.after(at).without_lead());
    if let Some(dish) = phrase("steps of", title) {
        return Some((name(dish)?, rest));
    }
    let at = (1..title.len()).find(|at| is_phrase("steps", title.after(*at)))?;
    Some((name(title.range(0, at))?, rest))
}

fn steps(said: Tokens<'_>) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    let (mut from, mut at) = (0, 0);
    while at <= said.len() {
        let rest = said.after(at);
        let length = match rest.first() {
            None => 1,
            Some(token) if token.is(',') || token.is(';') || token.kind == Kind::Newline => 1,
            Some(_) => phrase("then step", rest).map_or(0, |behind| rest.len() - behind.len()),
        };
        if length > 0 {
            let part = said.range(from, at.min(said.len())).trimmed();
            if !part.is_empty() {
                steps.push(step(part)?);
            }
            from = (at + length).min(said.len());
        }
        at += length.max(1);
    }
    (1..=STEPS_MAX).contains(&steps.len()).then_some(steps)
}

fn step(part: Tokens<'_>) -> Option<Step> {
    let part = numbered(part);
    let (part, told) = uses(part);
    let found = (0..part.len()).find_map(|at| {
        let (rest, lasts) = lasting(part.after(at)).ok()?;
        Some((at, rest, lasts))
    });
    let (minutes, words) = match found {
        Some((at, rest, Lasting { minutes, .. })) => {
            // "-10 min" is no time.
            let minus = at > 0 && part.slice[at - 1].is('-') && !part.slice[at].spaced;
            let minutes = if minus { 0 } else { minutes };
            // "for 35 min"
            let before = part.range(0, at);
            let lead = before.last().is_some_and(|token| token.norm() == "for");
            let before = before.range(0, before.len() - usize::from(lead)).trimmed();
            let mut words = before.words().text;
            let behind = rest.trimmed();
            if !behind.is_empty() {
                if !words.is_empty() {
                    words.push(' ');
                }
                words.push_str(&behind.words().text);
            }
            (minutes, words)
        }
        None => (0, part.words().text),
    };
    let fits = !words.is_empty() && part.len() <= WORDS_MAX;
    let uses = told.unwrap_or_else(|| by_verb(part));
    fits.then_some(Step {
        words,
        minutes,
        uses,
    })
}

/// Without "1." in front.
fn numbered(part: Tokens<'_>) -> Tokens<'_> {
    let numbered = part.first().is_some_and(Token::is_numeric)
        && part
            .get(1)
            .is_some_and(|token| token.is('.') || token.is(')'));
    part.after(if numbered { 2 } else { 0 }).trimmed()
}

/// What it takes, told anywhere in it: the step without those words.
fn uses(part: Tokens<'_>) -> (Tokens<'_>, Option<Uses>) {
    let kinds = [
        ("by hand", Uses::Hands),
        ("on burner", Uses::Burner),
        ("in oven", Uses::Oven(None)),
        ("by itself", Uses::Nothing),
    ];
    let degrees = degrees(part);
    let found = (1..part.len()).find_map(|at| {
        let rest = part.after(at);
        let (key, uses) = kinds.iter().find(|(key, _)| phrase(key, rest).is_some())?;
        Some((at, *uses, phrase(key, rest)?))
    });
    match (found, degrees) {
        (Some((at, Uses::Oven(_), _)), Some((from, heat))) => {
            (part.range(0, at.min(from)), Some(Uses::Oven(Some(heat))))
        }
        (Some((at, uses, rest)), _) if rest.trimmed().is_empty() => (part.range(0, at), Some(uses)),
        (None, Some((from, heat))) => (part.range(0, from), Some(Uses::Oven(Some(heat)))),
        _ => (part, None),
    }
}

/// "at 180", "at 180 C" at the end, or before "in the oven".
fn degrees(part: Tokens<'_>) -> Option<(usize, u32)> {
    (1..part.len()).find_map(|at| {
        let rest = part.after(at);
        let rest = rest.after(usize::from(rest.norm(0) == "at"));
        let (behind, heat) = number(rest).ok()?;
        let led = part.norm(at) == "at";
        let unit = phrase("degrees", behind);
        let behind = unit.unwrap_or(behind);
        let ends = behind.trimmed().is_empty() || is_phrase("in oven", behind.trimmed());
        let fits = (led || unit.is_some()) && ends && DEGREES.contains(&heat.value);
        fits.then_some((at, heat.value.round() as u32))
    })
}

fn by_verb(part: Tokens<'_>) -> Uses {
    let verb = |key: &str| (0..part.len()).find(|at| phrase(key, part.after(*at)).is_some());
    let verbs = [
        ("hand verb", Uses::Hands),
        ("burner verb", Uses::Burner),
        ("oven verb", Uses::Oven(None)),
        ("itself verb", Uses::Nothing),
    ];
    let found = verbs
        .iter()
        .filter_map(|(key, uses)| Some((verb(key)?, *uses)));
    found
        .min_by_key(|(at, _)| *at)
        .map_or(Uses::Hands, |(_, uses)| uses)
}

pub fn read_sheet(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let rest = phrase("sheet", said)?.trimmed();
        let (dishes, at) = sheet(rest)?;
        Some(Prep::Sheet { dishes, at })
    })
}

fn sheet(rest: Tokens<'_>) -> Option<(Vec<Words>, Option<At>)> {
    if only_marks(rest) {
        return Some((Vec::new(), None));
    }
    if let Some(at) = ready_at(rest) {
        return Some((Vec::new(), Some(at)));
    }
    let names = rest.after(usize::from(matches!(rest.norm(0), "for" | "of")));
    let named = |names: Tokens<'_>| -> Option<Vec<Words>> {
        let known = |helping: Helping| {
            let words = folded_words(&helping.dish.text);
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            let known = helping.grams.is_none() && names.vocabulary.is_batch(&words);
            known.then_some(helping.dish)
        };
        dishes(names)?.into_iter().map(known).collect()
    };
    if let Some(dishes) = named(names) {
        return Some((dishes, None));
    }
    let at = (1..names.len()).find(|at| ready_at(names.after(*at)).is_some())?;
    let before = names.range(0, at);
    // With its hour it is an order of work, whatever the dish is called.
    let any = || {
        let told = dishes(before)?.into_iter();
        let told = told.map(|helping| helping.grams.is_none().then_some(helping.dish));
        told.collect::<Option<Vec<Words>>>()
    };
    let dishes = named(before).or_else(any)?;
    Some((dishes, ready_at(names.after(at))))
}

/// "for 18:00", "ready by 6pm", "tomorrow at 10"
fn ready_at(rest: Tokens<'_>) -> Option<At> {
    let mut rest = rest;
    while matches!(rest.norm(0), "for" | "ready" | "by" | "done" | "until") {
        rest = rest.take_one();
    }
    let (behind, told) = at(rest).ok()?;
    (only_marks(behind) && told.hour.is_some()).then_some(told)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
    }

    #[test]
    fn steps_in_many_spellings() {
        for (text, printed) in [
            (
                "dal steps: soak 8 h, simmer 35 min on a burner, freeze flat 2 h",
                "dal steps: soak 480 min by itself, simmer 35 min on a burner, freeze flat 120 min by itself",
            ),
            (
                "steps for dal: chop onions 10 min, then simmer for 35 min",
                "dal steps: chop onions 10 min by hand, simmer 35 min on a burner",
            ),
            (
                "rice steps: rinse 5 min, bake 40 min at 180 C in the oven",
                "rice steps: rinse 5 min by hand, bake 40 min in the oven at 180 C",
            ),
            (
                "rice steps: roast 40 min at 200 in the oven",
                "rice steps: roast 40 min in the oven at 200 C",
            ),
            ("no steps for dal", "no steps for dal"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn a_sheet_is_asked_for() {
        for (text, printed) in [
            ("prep sheet for 18:00", "prep sheet at 18:00"),
            ("prep sheet", "prep sheet"),
            (
                "prep sheet for dal and rice at 6pm",
                "prep sheet for dal, rice at 18:00",
            ),
            (
                "prep sheet for the dal ready by Friday 6pm",
                "prep sheet for dal Friday at 18:00",
            ),
            ("order of work for the dal", "prep sheet for dal"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn talk_of_steps_is_left_alone() {
        for text in [
            "8000 steps today",
            "next steps: call the bank 10 min",
            "the steps are slippery",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
