//! Timers and reminders, judged: a timer is set unasked where it is told as one, or for what stands in the kitchen.

use crate::lang::command::clock::nudged;
use crate::lang::lexer::folded_words;
use crate::lang::lexicon;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{At, Clock, Words};
use crate::lang::tokens::Tokens;
use crate::lang::veto::{is_strict, vetoes_in};
use crate::lang::words::{clock, containers, kitchen_acts, places, pots, settings};

pub fn judged(told: &Clock, input: Tokens<'_>, verb: &str) -> (i32, bool, bool) {
    // What is to come is a plan, and what is done then is said as in a recipe.
    let told_of = |veto: &&str| !matches!(*veto, "plan" | "shopping" | "recipe" | "oven setting");
    let vetoes = vetoes_in(input);
    let quiet = !vetoes
        .iter()
        .filter(|veto| told_of(veto))
        .any(|veto| is_strict(veto));
    let body = input.trimmed();
    let opens = |key| clock().longest_of(body.slice, key).is_some();
    let nudged = nudged(body);
    let (nudges, named) = (
        nudged.is_some(),
        nudged.is_some_and(|(_, name)| name.is_some()),
    );
    let of_kitchen = |words: &Words| {
        let does = nudges && does_something(words);
        !is_errand(words) && (does || is_of_the_kitchen(words, input))
    };
    let sure = match told {
        Clock::Timer { .. } if verb == "dish first" => false,
        Clock::Timer { .. } if is_to_somebody(body) => false,
        Clock::Timer { words, .. } => {
            let called = body.slice.iter().any(|token| token.norm() == "timer");
            quiet && (opens("set") || called || of_kitchen(words))
        }
        Clock::Remind { at, words } if named => {
            // Who tells somebody to do something without an hour means that person.
            quiet && at.hour.is_some() && !is_errand(words)
        }
        Clock::Remind { at, words } => {
            let told = *at != At::default() || does_something(words);
            // With its hour it is told to the bot, whatever is to be done then.
            let hour = at.hour.is_some() && (opens("remind") || !is_errand(words));
            quiet && (hour || told && of_kitchen(words))
        }
        // "later" is said of anything, unless it answers what the bot told.
        Clock::More { .. } if verb == "put off" => false,
        Clock::More { .. } | Clock::Later { .. } | Clock::Cancel(_) => quiet,
        Clock::Away { .. } | Clock::Back { .. } => quiet,
        Clock::Pending { .. } => true,
        Clock::Absences => body.len() > 1,
        // Of what is to be bought or done elsewhere nobody but the sender knows.
        Clock::Never(..) if nudges => quiet && !is_errand(&body.words()),
        Clock::Never(..) => quiet,
    };
    (0, sure, false)
}

/// Hours and days are what is told.
pub fn chosen(input: Tokens<'_>) -> (i32, bool, bool) {
    // "7.30" is an hour here, and no price.
    let told_of = |veto: &&str| !matches!(*veto, "plan" | "recipe" | "price");
    let vetoes = vetoes_in(input);
    let quiet = !vetoes
        .iter()
        .filter(|veto| told_of(veto))
        .any(|veto| is_strict(veto));
    // "nothing between 10pm and 7am" may be of buses.
    let told = input.trimmed().norm(0) != "nothing";
    (0, quiet && told, false)
}

/// "our day starts at 5" is said of people's days as well.
pub fn turns(input: Tokens<'_>) -> (i32, bool, bool) {
    let loosely = settings().stand_in(input.slice, "day turns loosely");
    let asked = vetoes_in(input).contains(&"question");
    (0, !loosely && !asked, false)
}

/// "set a timer for 35 min someone, my hands are covered", "put the timer on 45 and then go upstairs": a person is
/// told to.
fn is_to_somebody(body: Tokens<'_>) -> bool {
    let called = |at: usize| {
        let somebody = matches!(
            body.norm(at),
            "someone" | "somebody" | "anyone" | "anybody" | "youre" | "your"
        );
        somebody || body.norm(at) == "and" && body.norm(at + 1) == "then"
    };
    (0..body.len()).any(called)
}

fn does_something(words: &Words) -> bool {
    let folded = folded_words(&words.text);
    folded.first().is_some_and(|word| kitchen_acts().has(word))
}

/// It speaks of food, or of what food is cooked and kept in.
fn is_of_the_kitchen(words: &Words, input: Tokens<'_>) -> bool {
    let folded = folded_words(&words.text);
    let known = |word: &String| {
        lexicon::is_food_word(word) && !lexicon::is_ordinary(&[word])
            || matches!(clock().get(word), Some("kitchen" | "dish"))
            || containers().has(word)
            || pots().has(word)
            || places().has(word)
            || familiarity(word, input) == Familiarity::Household
    };
    folded.iter().any(known)
}

/// What is to be bought, or done elsewhere, is a person's own business.
fn is_errand(words: &Words) -> bool {
    let folded = folded_words(&words.text);
    folded
        .iter()
        .any(|word| clock().get(word) == Some("errand"))
}
