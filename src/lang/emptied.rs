//! One jar that was weighed each time somebody had taken of it: "olive oil 611 -> 601 -> 590, first Ana then me", "yogurt
//! 980, 860 after Tom, 745 after me".
//!
//! ```text
//! message := { food | vessel | link | who } reading { { link | who } reading } { link | who }
//! ```
//! The readings fall, three at least, and every word is one of these. What left the jar between two readings is whose who
//! is named beside the later one, or in the same place of a list at the end; all of it is one person's, if only one is named.

use super::amount::{grams, tidy};
use super::jars::is_vessel;
use super::person::person;
use super::scale::food;
use super::syntax::{Amount, Command, Item, Portion, Reading, Reason, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::governs;
use super::words::at_scale;

const TOKENS_MAX: usize = 40;
/// Two readings are told in many other ways.
const READINGS_MIN: usize = 3;
/// Less is a score or a clock.
const SHOWN_GRAMS_MIN: f64 = 20.0;
/// A jar from which more is taken at once is no jar.
const STEP_SHARE_MAX: f64 = 0.7;
const EATEN_GRAMS_MOST: f64 = 1000.0;
const RANK: i32 = 836;

/// `None` is the sender.
type Who = Option<Words>;

#[derive(Default)]
struct Jar {
    food: Option<Words>,
    readings: Vec<f64>,
    /// Who was named, behind how many readings.
    named: Vec<(usize, Who)>,
    /// It is a dish of the household.
    household: bool,
    /// Something tells that one thing was weighed again and again.
    is_jar: bool,
}

pub fn read(input: Tokens<'_>) -> Option<Reading> {
    if input.len() > TOKENS_MAX || governs(input) {
        return None;
    }
    let jar = jar(input)?;
    let name = jar.food.clone()?;
    if jar.readings.len() < READINGS_MIN {
        return None;
    }
    let steps: Vec<f64> = jar.readings.windows(2).map(|two| two[0] - two[1]).collect();
    // "500 beans: Ana 200, Tom 180, me 120" are parts.
    let parts = (jar.readings.iter().skip(1).sum::<f64>() - jar.readings[0]).abs() < 1.0;
    // Nobody eats so much of what is bought: "olive oil 611, then 601, then 590".
    let much = !jar.household && jar.readings.iter().sum::<f64>() > EATEN_GRAMS_MOST;
    if parts || !(jar.is_jar || much) {
        return None;
    }
    let falls = |(step, from): (&f64, &f64)| *step > 0.0 && *step <= from * STEP_SHARE_MAX;
    if !steps.iter().zip(&jar.readings).all(falls) {
        return None;
    }
    let mut sums: Vec<(Who, f64)> = Vec::new();
    for (who, step) in jar.whose(steps.len())?.into_iter().zip(steps) {
        match sums.iter_mut().find(|(known, _)| *known == who) {
            Some((_, sum)) => *sum += step,
            None => sums.push((who, step)),
        }
    }
    let commands = sums.into_iter().map(|(who, grams)| {
        Command::Portion(Portion {
            items: vec![Item::new(Amount::Mass(tidy(grams)), name.clone())],
            who,
            ..Portion::default()
        })
    });
    Some(Reading {
        commands: commands.collect(),
        errors: Vec::new(),
        reasons: vec![Reason::Verb("scale"), Reason::Complete],
        rank: RANK,
        sure: true,
        weighing_like: true,
    })
}

/// Every word of the message, if each is one of those that tell of a jar.
fn jar(input: Tokens<'_>) -> Option<Jar> {
    let mut jar = Jar::default();
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        if let Ok((after, shown)) = grams(rest) {
            if shown < SHOWN_GRAMS_MIN {
                return None;
            }
            jar.readings.push(shown);
            at += rest.len() - after.len();
        } else if let Some((length, who)) = somebody(rest) {
            jar.named.push((jar.readings.len(), who));
            at += length;
        } else if is_vessel(rest.norm(0)) || is_link(&rest.slice[0]) {
            let told = matches!(
                at_scale().get(rest.norm(0)),
                Some("before" | "after" | "now")
            );
            jar.is_jar |= told || is_vessel(rest.norm(0)) || rest.slice[0].is('→');
            at += 1;
        } else {
            let (length, found) = food(rest)?;
            let again = |known: &Words| known.text.eq_ignore_ascii_case(&found.name.text);
            if !jar.food.as_ref().is_none_or(again) {
                return None;
            }
            jar.household |= found.household;
            jar.food = Some(found.name);
            at += length;
        }
    }
    Some(jar)
}

fn somebody(rest: Tokens<'_>) -> Option<(usize, Who)> {
    match rest.norm(0) {
        "me" | "mine" | "i" | "my" => Some((1, None)),
        _ => person(rest).map(|(length, who)| (length, Some(who))),
    }
}

/// Marks, and words that only tell which reading is which.
fn is_link(token: &Token) -> bool {
    let link = |norm: &str| {
        matches!(
            at_scale().get(norm),
            Some(
                "before"
                    | "after"
                    | "now"
                    | "to"
                    | "then"
                    | "join"
                    | "link"
                    | "idle"
                    | "ate"
                    | "left"
            )
        ) || matches!(
            norm,
            "all"
                | "order"
                | "respectively"
                | "share"
                | "second"
                | "last"
                | "weighed"
                | "s"
                | "down"
        )
    };
    match &token.kind {
        Kind::Symbol(mark) => matches!(
            mark,
            ',' | '.' | ';' | ':' | '→' | '>' | '-' | '(' | ')' | '='
        ),
        Kind::Newline => true,
        Kind::Word(norm) => link(norm),
        _ => false,
    }
}

impl Jar {
    /// Whose each step is.
    fn whose(&self, steps: usize) -> Option<Vec<Who>> {
        let mut different: Vec<&Who> = Vec::new();
        for (_, who) in &self.named {
            if !different.contains(&who) {
                different.push(who);
            }
        }
        let all = self.readings.len();
        match different.as_slice() {
            [] => return Some(vec![None; steps]),
            // Told in the middle, it is of one step, and nobody says whose the others are.
            [one]
                if self
                    .named
                    .iter()
                    .all(|(behind, _)| [0, all].contains(behind)) =>
            {
                return Some(vec![(*one).clone(); steps]);
            }
            _ => {}
        }
        if self.named.len() != steps {
            return None;
        }
        let behind_all = self.named.iter().all(|(behind, _)| *behind == all);
        // "3412 -> 3190 me, then Ana -> 2975": each beside the later reading of a step, before it or behind it.
        let beside =
            |(step, (behind, _)): (usize, &(usize, Who))| [step + 1, step + 2].contains(behind);
        (behind_all || self.named.iter().enumerate().all(beside))
            .then(|| self.named.iter().map(|(_, who)| who.clone()).collect())
    }
}
