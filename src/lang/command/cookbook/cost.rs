//! What a dish costs, and what was spent.

use super::{asked, dish, is_phrase, phrase, skip, whole};
use crate::lang::command::report::period;
use crate::lang::syntax::{Command, Cookbook, Period, Words};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let said = asked(said);
        spent(said).or_else(|| cost(said).map(|dish| Cookbook::Cost { dish }))
    })
}

/// "what does the dal cost", "cost of a portion of dal"
fn cost(said: Tokens<'_>) -> Option<Words> {
    if let Some(rest) = phrase("cost of", said) {
        return dish(skip("a portion", rest));
    }
    let rest = skip("a portion", phrase("cost", said)?);
    let at = (1..rest.len()).find(|at| is_phrase("cost behind", rest.after(*at)))?;
    dish(rest.range(0, at))
}

/// "what did we spend on food this week"
fn spent(said: Tokens<'_>) -> Option<Cookbook> {
    let rest = phrase("spent", said)?.trimmed_front();
    let period = match rest.is_empty() {
        true => Period::ThisWeek,
        false => period(rest)?,
    };
    Some(Cookbook::Spent { period })
}
