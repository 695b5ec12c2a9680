//! "Of the same" behind an amount is of the dish that was named last: "200 soup for Ana, for Tom 350 of same". Before
//! anything is read, its name is put in the place of the words, with the word that chooses among its pots.

use std::ops::Range;

use crate::lang::as_much::{is_end, weighs};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Vocabulary;
use crate::lang::which::dish_at_end;
use crate::lang::words::selectors;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 100;

/// Name the dish again, in place.
pub fn name(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 2;
    while at < tokens.len() && tokens.len() <= TOKENS_MAX {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some(named) = of_the_same(input, at) else {
            at += 1;
            continue;
        };
        let from = at - usize::from(input.norm(at - 1) == "the");
        let place = tokens[at].span.start;
        let mut told = Token::said_at(&tokens[named], place);
        told[0].spaced = true;
        let end = from + told.len();
        tokens.splice(from..=at, told);
        at = end;
    }
}

/// The dish that "of the same" stands for here, with the word that chooses among its batches.
fn of_the_same(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let of = at - usize::from(input.norm(at - 1) == "the");
    let same = input.norm(at) == "same" && is_end(input.after(at + 1));
    let weighed = of >= 2 && input.norm(of - 1) == "of" && weighs(input, of - 2);
    if !same || !weighed {
        return None;
    }
    let mut ends = (1..of).rev();
    let named = ends.find_map(|end| Some(dish_at_end(input.range(0, end))?..end))?;
    let chosen = named.start > 0 && selectors().has(input.norm(named.start - 1));
    Some(named.start - usize::from(chosen)..named.end)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::surely_means;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    #[test]
    fn the_same_is_the_dish_before() {
        let words = Vocabulary::new()
            .with(Sense::Batch, "soup")
            .with(Sense::Person, "Ana")
            .with(Sense::Person, "Tom");
        for text in [
            "200 soup for Ana, 350 of the same for Tom",
            "200 soup for Ana and 350 of same for Tom",
        ] {
            surely_means(text, &words, "200 soup for Ana\n350 soup for Tom");
        }
    }
}
