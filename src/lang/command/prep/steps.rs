//! The steps of a dish: "dal steps: soak 8 h, simmer 35 min on a burner, freeze flat 2 h", "dal simmers for 25 min".
//!
//! ```text
//! step := words lasting [words] [uses]
//! uses := "by hand" | "on a burner" | "in the oven" ["at" degrees] | "by itself"
//! ```
//! What a step takes is told behind it, or by its verb: one soaks by itself and simmers on a burner.

use super::wish::name;
use super::{is_phrase, phrase, whole};
use crate::lang::ahead::{Lasting, lasting};
use crate::lang::command::only_marks;
use crate::lang::lexer::folded_words;
use crate::lang::name::of_batch;
use crate::lang::number::number;
use crate::lang::syntax::{Command, Prep, Step, Uses, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};

/// Nobody follows more.
const STEPS_MAX: usize = 30;
const WORDS_MAX: usize = 12;
/// Of more words it is a sentence of a method.
const TIMED_WORDS_MAX: usize = 9;
/// What is done in a kitchen, by what it takes.
const VERBS: [&str; 4] = ["hand verb", "burner verb", "oven verb", "itself verb"];
/// A number of minutes without the word.
const BARE_MINUTES: std::ops::RangeInclusive<f64> = 1.0..=600.0;
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
        if let Some((dish, rest)) = titled(said) {
            let steps = steps(rest)?;
            return Some(Prep::Steps { dish, steps });
        }
        untitled(said)
    })
}

/// "bread: mix 10 min, prove 1 h, bake 40 min": a dish, and nothing but work with its time.
fn untitled(said: Tokens<'_>) -> Option<Prep> {
    let at = said.find(|token| token.is(':')).filter(|at| *at > 0)?;
    let dish = of_batch(said.range(0, at))?;
    let steps = parted(said.after(at).without_lead(), timed_step)?;
    Some(Prep::Steps { dish, steps })
}

/// "soak 8 h", "bake 40 min at 180": some work of a kitchen with the time that it takes, and nothing beside it.
pub fn timed_step(part: Tokens<'_>) -> Option<Step> {
    let said = numbered(part);
    let led = VERBS.iter().any(|verb| phrase(verb, said).is_some());
    let told = |word: &str| matches!(word, "time" | "times" | "timer");
    let named = said.slice.iter().any(|token| told(token.norm()));
    let short = said.len() <= TIMED_WORDS_MAX;
    let step = step(said).filter(|_| led && !named && short)?;
    // A weight beside it makes it an ingredient: "soak 500 g beans".
    let words = folded_words(&step.words);
    let weighed = words
        .iter()
        .any(|word| word.starts_with(|first: char| first.is_ascii_digit()));
    (step.minutes > 0 && !weighed).then_some(step)
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
    parted(said, step)
}

fn parted<'a>(said: Tokens<'a>, read: impl Fn(Tokens<'a>) -> Option<Step>) -> Option<Vec<Step>> {
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
                steps.push(read(part)?);
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

/// "dal simmers 25 min", "the rice soak takes 40 min"
pub fn read_lasts(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, lasts)
}

fn lasts(said: Tokens<'_>) -> Option<Prep> {
    // Behind a colon it is a step that is told.
    said.find(|token| token.is(':')).is_none().then_some(())?;
    let (at, rest) = (1..said.len()).find_map(|at| {
        let rest = said.after(at);
        VERBS
            .iter()
            .find_map(|verb| Some((at, phrase(verb, rest)?)))
    })?;
    let dish = of_batch(said.range(0, at))?;
    let verb = said.range(at, said.len() - rest.len()).words();
    let rest = phrase("lasts", rest).unwrap_or(rest);
    let (rest, minutes) = minutes(rest)?;
    let was = phrase("not before", rest.trimmed_front());
    let told = was.and_then(self::minutes).map(|(rest, _)| rest);
    only_marks(told.unwrap_or(rest)).then_some(Prep::StepLasts {
        dish,
        verb,
        minutes,
    })
}

/// "25", "25 min"
fn minutes(said: Tokens<'_>) -> Option<(Tokens<'_>, u32)> {
    if let Ok((rest, Lasting { minutes, .. })) = lasting(said) {
        return (minutes > 0).then_some((rest, minutes));
    }
    let (rest, bare) = number(said).ok()?;
    let whole = bare.value.fract() == 0.0 && BARE_MINUTES.contains(&bare.value);
    whole.then_some((rest, bare.value as u32))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
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
            (
                "rice: rinse 5 min, boil 20 min, rest 10 min",
                "rice steps: rinse 5 min by hand, boil 20 min on a burner, rest 10 min by itself",
            ),
            ("no steps for dal", "no steps for dal"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn a_step_takes_another_time() {
        for text in ["dal simmers 25 min", "dal simmers for 25 min"] {
            assert!(
                !means(text, &kitchen(), "dal simmers takes 25 min"),
                "{text}"
            );
        }
    }

    /// One step may be a word to the cook.
    #[test]
    fn one_step_of_a_dish() {
        for (text, printed) in [
            (
                "rice: simmer 45 min",
                "rice steps: simmer 45 min on a burner",
            ),
            (
                "dal: bake 1h30 in the oven",
                "dal steps: bake 90 min in the oven",
            ),
        ] {
            assert!(!means(text, &kitchen(), printed), "{text}");
        }
    }

    #[test]
    fn talk_of_steps_is_left_alone() {
        for text in [
            "8000 steps today",
            "next steps: call the bank 10 min",
            "the steps are slippery",
            "rice: 10 min, dal: 20 min",
            "rice: bus 10 min, walk 5 min",
            "rice: 35 min",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
