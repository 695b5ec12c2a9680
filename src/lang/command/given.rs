//! What stands around food that came into the house: who gave it, where it is from, that it is counted.
//! Its words are in `data/received.txt`.

use crate::lang::name;
use crate::lang::pieces::{weight, whole_number};
use crate::lang::syntax::{Amount, Item};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::singular;
use crate::lang::words::received;

/// "my mother in law brought"
const GIVERS_WORDS_MAX: usize = 4;

/// Without "also", "and we have" at the front, which tell nothing by themselves.
pub fn without_idle(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some(length) = received().longest_of(rest.slice, "idle") {
        rest = rest.after(length).trimmed();
    }
    rest
}

/// "my mother brought", "grandma gave us": somebody, and a verb of giving.
pub fn given(input: Tokens<'_>) -> Option<(usize, &'static str)> {
    (0..=GIVERS_WORDS_MAX.min(input.len())).find_map(|at| {
        let length = received().longest_of(input.after(at).slice, "given")?;
        input
            .range(0, at)
            .is_wordy()
            .then_some((at + length, "before"))
    })
}

/// "already", "from before", "from the shop" at the end.
pub fn cut_behind<'a>(input: Tokens<'a>, key: &'static str) -> (Tokens<'a>, bool) {
    let input = input.trimmed_end();
    for at in 1..input.len() {
        let said = input.after(at);
        if received().longest_of(said.slice, key) == Some(said.len()) {
            return (input.range(0, at).trimmed_end(), true);
        }
    }
    (input, false)
}

/// Without the "they are" of "they are in the fridge".
pub fn without_being(input: Tokens<'_>) -> Tokens<'_> {
    let being = (1..input.len()).find(|&at| {
        let tail = input.after(at);
        received().longest_of(tail.slice, "being") == Some(tail.len())
    });
    match being {
        Some(at) => input.range(0, at).trimmed_end(),
        None => input,
    }
}

/// "12 empanadas, 960 g": so many of them, and what they weigh.
pub fn counted(input: Tokens<'_>) -> Option<Item> {
    let (rest, count) = whole_number(input)?;
    let end = rest.find(|token| !matches!(token.kind, Kind::Word(_)))?;
    let name = name::bare(rest.range(0, end));
    let several = name
        .last()
        .is_some_and(|last| singular(last.norm()) != last.norm());
    let [grams] = weight(rest.after(end), count)??.readings_grams[..] else {
        return None;
    };
    several.then(|| Item {
        amount: Amount::Weighed {
            grams,
            said: Box::new(Amount::Bare(f64::from(count))),
        },
        name: name.words(),
        container: None,
        span: input.span(),
    })
}
