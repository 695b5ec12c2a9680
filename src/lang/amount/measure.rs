//! The words that things are counted by: "cloves", "large tins", and what the household has taught, "blue mugs".

use nom::Parser;
use nom::combinator::opt;

use super::Stands;
use crate::lang::lexicon;
use crate::lang::syntax::Amount;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::vocabulary::{Sense, singular};
use crate::lang::words::measures;

/// A measure of the household's own has no more words.
const TAUGHT_WORDS_MAX: usize = 3;

/// The longest measure that the household has taught.
fn taught(input: Tokens<'_>) -> Option<(usize, String)> {
    input.longest_run(TAUGHT_WORDS_MAX, |run| {
        let words: Vec<&str> = run.slice.iter().map(Token::norm).collect();
        let known = input.vocabulary.is(Sense::Measure, &words);
        let single = words.iter().map(|word| singular(word));
        known.then(|| single.collect::<Vec<_>>().join(" "))
    })
}

/// Measure words and "of"; before a name, one that would leave no name is the name.
pub fn measure_words(input: Tokens<'_>, stands: Stands) -> (Tokens<'_>, Vec<String>) {
    let mut measure = Vec::new();
    let mut rest = input;
    while measure.len() < 3 {
        let known = measures().longest(rest.slice);
        let known = known.map(|(length, key)| (length, key.to_owned()));
        let taught = taught(rest)
            .filter(|(length, _)| known.as_ref().is_none_or(|(known, _)| length > known));
        let Some((length, key)) = taught.or(known) else {
            break;
        };
        let (next, of) = match rest.after(length).norm(0) {
            // "2 tins of 400 g": what each weighs.
            "of" if rest.get(length + 1).is_some_and(Token::is_numeric) => {
                (rest.after(length), true)
            }
            "of" => (rest.after(length + 1), true),
            _ => (rest.after(length), false),
        };
        let names = |tokens: &Tokens<'_>| {
            matches!(
                tokens.first().map(|token| &token.kind),
                Some(
                    Kind::Word(_)
                        | Kind::Symbol('(')
                        | Kind::Percent(_)
                        | Kind::Ratio(..)
                        | Kind::Number(_)
                )
            )
        };
        if stands == Stands::BeforeName && (!names(&next) || is_part_of_name(rest, length)) {
            break;
        }
        measure.push(key);
        rest = next;
        if of {
            break;
        }
    }
    (rest, measure)
}

/// "2 rib eye steaks": the measure's word belongs to a name that means nothing without it.
fn is_part_of_name(input: Tokens<'_>, length: usize) -> bool {
    let words: Vec<&str> = input
        .slice
        .iter()
        .map(|token| token.norm())
        .take_while(|norm| !norm.is_empty())
        .take(8)
        .collect();
    if words.len() <= length || words[length] == "of" {
        return false;
    }
    let whole_is_batch =
        input.vocabulary.is_batch(&words) && !input.vocabulary.is_batch(&words[length..]);
    whole_is_batch
        || (words[0] == "rib" && words[1] == "eye")
        || (lexicon::is_food(&words) && !lexicon::is_food(&words[length..]))
}

/// "ladle of dal": one of a measure that the household has taught, before what it eats.
pub fn one_taught(input: Tokens<'_>) -> Read<'_, Amount> {
    let measure = input.norm(0);
    let (rest, _) = opt(word(&["of"])).parse(input.after(1))?;
    let dish = || !rest.norm(0).is_empty() && rest.vocabulary.names_food(rest.norm(0));
    let taught = |word: &str| input.vocabulary.is(Sense::Measure, &[word]);
    if measure.is_empty() || !taught(measure) || !dish() {
        return input.no();
    }
    let measure = vec![measure.to_owned()];
    let count = 1.0;
    Ok((rest, Amount::Pieces { count, measure }))
}
