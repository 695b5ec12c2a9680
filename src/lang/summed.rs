//! What several weights come to, told behind them: "95 beans, 55 salsa, so 150 in total". It is one number too many
//! for every reader, and says nothing new where it is the sum; where it is not, it stays, and is asked about.
//!
//! ```text
//! message := weights sep ["so" | "that is" | "="] number ["g"] total
//!          | weights sep total [":" | "is"] number ["g"]
//! ```
//! The words for a total stand in `data/cues.txt`.

use super::amount::tidy;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::cues;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;

/// Drop the sum behind the weights that come to it.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    if input.len() > TOKENS_MAX {
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
