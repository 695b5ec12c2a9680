//! Whether what somebody chooses for himself, or asks of what he ate, is said to the bot: among people, days, weeks and
//! targets are talked of otherwise too.

use crate::lang::lexer::folded_words;
use crate::lang::syntax::{Aim, Deleted, Personal, Week, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::vocabulary::Sense;

/// So much energy in kcal may be what a figure alone is a target of.
const ENERGY: std::ops::RangeInclusive<f64> = 800.0..=6000.0;

pub fn is_meant(said: &Personal, input: Tokens<'_>) -> bool {
    let body = input.trimmed();
    match said {
        Personal::Target(aims) => {
            // "a day" and "no more than" are what is told.
            let forbids = |veto: &&str| matches!(*veto, "question" | "conditional" | "shopping");
            !vetoes_in(body).iter().any(forbids) && aims.iter().all(|aim| is_named(aim, body))
        }
        // "no goals" is said of a match.
        Personal::NoTarget(of) => !of.is_empty() || says(body, &["target", "targets"]),
        Personal::Targets => says(body, &["my", "i"]) || body.norm(0) == "targets",
        Personal::Left(_) | Personal::TargetsOf(_) => true,
        Personal::Week { who: Some(_), .. } => true,
        // A chart of a week is told by nobody else.
        Personal::Week { who: None, days } => {
            let alone = *days == Week::Seven && is_alone("week", body);
            alone || is_own(input) || says(body, &["chart", "graph"])
        }
        Personal::Sources { .. } => is_own(input) || says(body, &["me"]),
        Personal::Numbers(_) => body.len() > 2 || says(body, &["on", "off"]),
        Personal::Totals { .. } => says(body, &["my", "mine", "me"]),
        // It deletes nothing before it was confirmed twice. Of people, and with "forget", it is said of anything.
        Personal::Delete { whom, .. } => {
            !matches!(whom, Deleted::Person(_)) && body.norm(0) != "forget"
        }
    }
}

/// A figure alone is a target where it may be one of energy, or none at all, and nothing else is said.
fn is_named(aim: &Aim, body: Tokens<'_>) -> bool {
    let figure = aim.least.or(aim.most).unwrap_or_default();
    let alone = body.norm(0) == "target" && body.len() <= 5;
    aim.of.is_some() || alone && (figure <= 0.0 || ENERGY.contains(&figure))
}

/// The word and nothing else, asked or not.
pub fn is_alone(word: &str, body: Tokens<'_>) -> bool {
    body.norm(0) == word && body.after(1).slice.iter().all(|token| token.is('?'))
}

/// It is said of oneself.
pub fn is_own(input: Tokens<'_>) -> bool {
    says(input, &["my", "i", "ive", "we"])
}

fn says(input: Tokens<'_>, words: &[&str]) -> bool {
    let said = |token: &Token| words.contains(&token.norm());
    input.slice.iter().any(said)
}

/// Somebody of the household.
pub fn is_of_the_table(who: &Words, input: Tokens<'_>) -> bool {
    let words = folded_words(&who.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    input.vocabulary.is(Sense::Person, &words)
}

/// A name that is nobody's here, and stands by itself: "guest Mia" is introduced.
pub fn is_a_stranger(who: &Words, input: Tokens<'_>) -> bool {
    let alone = who.text.starts_with(char::is_uppercase) && !who.text.contains(' ');
    alone && !is_of_the_table(who, input)
}

/// "my day", "show me today"
pub fn is_own_day(input: Tokens<'_>) -> bool {
    input.trimmed().norm(0) == "show" || is_own(input)
}

/// "what did mum have today" is asked of anybody; of a name that is nobody's here, that is said.
pub fn is_day(who: Option<&Words>, input: Tokens<'_>) -> bool {
    let named = |who: &Words| who.text.starts_with(char::is_uppercase);
    let said = input.trimmed();
    who.is_none_or(|who| is_of_the_table(who, input) || named(who))
        && (said.len() > 2 || is_alone("today", said))
}
