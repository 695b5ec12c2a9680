//! A question in a sentence: "do we still have soup", "how much protein have i had so far".
//!
//! A question books nothing, but a reply to one that people ask each other is a nuisance: it must open
//! as a question, be short, and ask about the stock, a plate or a fact in words of its own.

use super::mark::Mark;
use super::pair;
use super::sentence::Sentence;
use crate::foods::Nutrient;
use crate::lang::syntax::{Command, Day, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::{label_fields, questions, sharing};

/// A longer one is talk.
const TOKENS_MAX: usize = 14;

pub fn read(sentence: &Sentence<'_>) -> Option<Command> {
    let input = sentence.input;
    let courtesy = |key| (0..input.len()).any(|at| says(input, at, key));
    let polite = says(input, 0, "opens") && matches!(input.norm(1), "u" | "you");
    if !opens(input) || input.len() > TOKENS_MAX || courtesy("elsewhere") && !polite {
        return None;
    }
    fact(sentence)
        .or_else(|| eaten(sentence))
        .or_else(|| portions(sentence))
        .or_else(|| left(sentence))
        .or_else(|| courtesy("due").then_some(Command::Due))
        .or_else(|| courtesy("stock").then_some(Command::Stock { place: None }))
}

/// Whether the message opens as a question does.
pub fn opens(input: Tokens<'_>) -> bool {
    // "half of what's left" is an amount.
    if sharing().has(input.norm(0)) {
        return false;
    }
    (0..3).any(|at| says(input, at, "opens"))
}

/// Whether a phrase of this key begins at a token.
fn says(input: Tokens<'_>, at: usize, key: &'static str) -> bool {
    questions().longest_of(input.after(at).slice, key).is_some()
}

fn asks(sentence: &Sentence<'_>, key: &'static str) -> bool {
    (0..sentence.input.len()).any(|at| says(sentence.input, at, key))
}

/// "how many grams of protein are in 100 g white beans"
fn fact(sentence: &Sentence<'_>) -> Option<Command> {
    let nutrient = nutrient(sentence.input);
    let weight = sentence
        .input
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "grams" | "gram"));
    let pairs = pair::pairs(sentence)?;
    let [only] = pairs.as_slice() else {
        return None;
    };
    if nutrient.is_none() && !weight || only.name.text.is_empty() {
        return None;
    }
    Some(Command::Fact {
        weight_only: nutrient.is_none(),
        nutrient,
        amount: Some(only.amount.clone()),
        name: only.name.clone(),
    })
}

fn nutrient(input: Tokens<'_>) -> Option<Nutrient> {
    let named = |token: &Token| label_fields().get(token.norm());
    let key = input.slice.iter().find_map(named)?;
    crate::lang::command::fact::nutrient(key)
}

/// "how much protein have i had so far", "what did ana have for dinner", "my total for today?"
fn eaten(sentence: &Sentence<'_>) -> Option<Command> {
    let input = sentence.input;
    let person = sentence.marks.iter().find_map(|marked| match &marked.mark {
        Mark::Person(who) => Some(who.clone()),
        _ => None,
    });
    let own = input
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "i" | "ive" | "my"));
    let nutrient = nutrient(input).is_some();
    let what = matches!(
        input.norm(0),
        "what" | "my" | "did" | "can" | "would" | "tell"
    );
    let amounts = sentence
        .marks
        .iter()
        .any(|it| matches!(it.mark, Mark::Amount(_)));
    if !asks(sentence, "eaten") || amounts || !(nutrient || what) || !(own || person.is_some()) {
        return None;
    }
    Some(Command::Eaten {
        day: sentence.day().unwrap_or(Day::Today),
        who: person,
    })
}

/// The one dish that is named.
fn dish(sentence: &Sentence<'_>) -> Option<Words> {
    let mut dishes = sentence
        .marks
        .iter()
        .filter_map(|marked| match &marked.mark {
            Mark::Dish(name) => Some(name.clone()),
            _ => None,
        });
    let only = dishes.next()?;
    dishes.next().is_none().then_some(only)
}

/// "how many 180s of dal left"
fn portions(sentence: &Sentence<'_>) -> Option<Command> {
    let many = (0..2).any(|at| sentence.input.norm(at + 1) == "many");
    let counted = asks(sentence, "portions");
    (many && counted)
        .then(|| dish(sentence))
        .flatten()
        .map(|name| Command::Portions { name })
}

/// "do we still have soup", "how much is left of the soup"
fn left(sentence: &Sentence<'_>) -> Option<Command> {
    let amounts = sentence
        .marks
        .iter()
        .any(|it| matches!(it.mark, Mark::Amount(_) | Mark::Stray));
    let have = matches!(sentence.input.norm(0), "do" | "have") && sentence.input.norm(1) == "we";
    if amounts || !(asks(sentence, "left") || have) {
        return None;
    }
    dish(sentence).map(|name| Command::HowMuch { name })
}
