//! What several weights come to, told behind them: "95 beans, 55 salsa, so 150 in total". It is one number too many
//! for every reader, and says nothing new where it is the sum; where it is not, it stays, and is asked about.
//!
//! ```text
//! message := weights sep ["so" | "that is" | "="] number ["g"] total
//!          | weights sep total [":" | "is"] number ["g"]
//!          | total number sep weights ["and"] "the rest" ["was"] dish
//! ```
//! Where the last dish is only told to be the rest of it, it gets what is left: "480 in all: 210 dal, 190 rice, the rest yogurt".
//! The words for a total stand in `data/cues.txt`.

use std::ops::Range;

use super::amount::tidy;
use super::lexicon::is_food_word;
use super::numeral::Numeral;
use super::person::person;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::Vocabulary;
use super::words::{at_table, cues};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
/// Less is no part of a plate.
const REST_GRAMS_MIN: f64 = 5.0;

/// Drop the sum behind the weights that come to it.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    if input.len() > TOKENS_MAX {
        return;
    }
    if let Some(whole) = whole(input) {
        whole.divide(tokens);
        return;
    }
    let opens = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | '.' | ';' | '=')
        )
    };
    let Some(at) = input.trimmed_end().slice.iter().rposition(opens) else {
        return;
    };
    let Some(total) = total(input.after(at + 1).trimmed()) else {
        return;
    };
    let weights = input.slice[..at].iter().filter_map(Token::value);
    let weights: Vec<f64> = weights.collect();
    if weights.len() > 1 && tidy(weights.iter().sum()) == total {
        tokens.truncate(at);
    }
}

/// A total whose last part is only told to be the rest of it.
struct Whole {
    /// What tells the total, as places of tokens.
    told: Vec<usize>,
    rest: Range<usize>,
    grams: f64,
}

impl Whole {
    /// The rest in grams, and no total any more.
    fn divide(self, tokens: &mut Vec<Token>) {
        let place = tokens[self.rest.start].span.start;
        let grams = Kind::Number(Numeral::plain(self.grams));
        tokens.splice(self.rest, [Token::new(grams, place..place, true)]);
        for at in self.told.into_iter().rev() {
            tokens.remove(at);
        }
    }
}

/// "480 in all: dal 210, rice 190 and the rest was yogurt"
fn whole(input: Tokens<'_>) -> Option<Whole> {
    let food = |at: usize| {
        let norm = input.norm(at);
        !norm.is_empty() && (input.vocabulary.names_food(norm) || is_food_word(norm))
    };
    let rest = (1..input.len()).find_map(|at| {
        let here = at_table()
            .longest(input.after(at).slice)
            .filter(|(_, key)| *key == "rest");
        Some(at..at + here?.0)
    })?;
    let verb = usize::from(matches!(
        input.norm(rest.end),
        "was" | "is" | "were" | "are"
    ));
    let dish = rest.end + verb;
    let ends = (dish..input.len())
        .find(|&at| !food(at))
        .unwrap_or(input.len());
    let last = input.after(ends).trimmed().is_empty();
    let person = |at: usize| person(input.after(at)).is_some();
    if ends == dish || !last || (0..input.len()).any(person) {
        return None;
    }
    let numbers: Vec<usize> = (0..input.len())
        .filter(|&at| input.slice[at].is_numeric())
        .collect();
    let (&first, weights) = numbers.split_first()?;
    let weigh = |at: &usize| input.slice[*at].value();
    let total = weigh(&first)?;
    let sum: f64 = weights.iter().map(weigh).sum::<Option<f64>>()?;
    let unit =
        unit(input.after(first + 1)).map_or(0, |(rest, _)| input.len() - first - 1 - rest.len());
    let end = first + 1 + unit;
    let mut told: Vec<usize> = (first..end).collect();
    let mut says = input.get(end).is_some_and(|token| token.is(':'));
    for at in 0..weights.first().copied()? {
        if let Some(length) = cues().longest_of(input.after(at).slice, "total") {
            told.extend(at..at + length);
            says = true;
        }
    }
    // "150 of it dal"
    for at in weights {
        let behind = at + 1;
        let of_it =
            input.norm(behind) == "of" && matches!(input.norm(behind + 1), "it" | "that" | "which");
        told.extend(of_it.then_some(behind..behind + 2).into_iter().flatten());
    }
    let mark = |at: usize| {
        input
            .get(at)
            .is_some_and(|token| matches!(token.kind, Kind::Symbol(',' | ':' | '-')))
    };
    let close = told
        .iter()
        .copied()
        .max()
        .filter(|at| *at < rest.start)
        .map_or(end, |at| (at + 1).min(weights[0]));
    told.extend((end..close.max(end) + 1).filter(|&at| mark(at) && at < weights[0]));
    told.sort_unstable();
    told.dedup();
    // The total is of no dish: something else is weighed right behind it.
    let bare = !food(end) && (first == 0 || !food(first - 1));
    let grams = tidy(total - sum);
    (says && bare && grams >= REST_GRAMS_MIN && weights.iter().all(|at| *at < rest.start))
        .then_some(Whole {
            told,
            rest: rest.start..rest.end + verb,
            grams,
        })
}

/// The number of a clause that tells a total and nothing else.
fn total(clause: Tokens<'_>) -> Option<f64> {
    let mut found = None;
    let mut told = false;
    let mut rest = clause;
    while !rest.is_empty() {
        if let Some(length) = cues().longest_of(rest.slice, "total") {
            told = true;
            rest = rest.after(length);
        } else if let Some(grams) = rest.slice[0].value() {
            found.replace(grams).is_none().then_some(())?;
            rest = rest.take_one();
        } else if matches!(
            rest.norm(0),
            "so" | "thats"
                | "that"
                | "is"
                | "its"
                | "it"
                | "makes"
                | "g"
                | "grams"
                | "was"
                | "of"
                | "the"
        ) || rest.slice[0].is(':')
        {
            rest = rest.take_one();
        } else {
            return None;
        }
    }
    found.filter(|_| told)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "beans")
            .with(Sense::Batch, "salsa")
    }

    #[test]
    fn a_sum_that_is_right_says_nothing_new() {
        for text in [
            "95 beans, 55 salsa, so 150 in total",
            "95 beans, 55 salsa, that is 150 g altogether",
            "95 beans, 55 salsa = 150 total",
            "95 beans\n55 salsa\ntotal: 150",
        ] {
            surely_means(text, &words(), "95 beans, 55 salsa");
        }
    }

    #[test]
    fn the_rest_of_a_total_is_reckoned() {
        for text in [
            "150 in all: 95 beans and the rest salsa",
            "total 150, beans 95, the rest was salsa",
            "had 150 all told, 95 of it beans and the rest salsa",
            "150: beans 95, the remainder salsa",
        ] {
            surely_means(text, &words(), "95 beans, 55 salsa");
        }
        for text in [
            "95 beans and the rest salsa",
            "90 in all: 95 beans, the rest salsa",
        ] {
            is_no(
                text,
                &words(),
                |command| matches!(command, Command::Portion(it) if it.items.len() > 1),
            );
        }
    }

    #[test]
    fn a_sum_that_is_wrong_is_not_passed_over() {
        for text in [
            "95 beans, 55 salsa, so 160 in total",
            "95 beans, 55 salsa, 40 total",
        ] {
            is_no(text, &words(), |command| {
                matches!(command, Command::Portion(_))
            });
        }
    }
}
