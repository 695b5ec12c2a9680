//! Which of several vessels is meant, told beside it: "in their jar (the glass one)" is the glass jar. Before
//! anything is read, the words that choose are put before the vessel, if the household knows it by them.
//!
//! ```text
//! told := vessel ["(" | ","] "the" word { word } "one" [")"]
//! ```

use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{Sense, Vocabulary};
use super::words::containers;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 100;
/// "the big blue one"
const WORDS_MAX: usize = 3;

/// Put what chooses before its vessel, in place.
pub fn choose(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 0;
    while at < tokens.len() && tokens.len() <= TOKENS_MAX {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some((opening, words, end)) = chosen(input, at) else {
            at += 1;
            continue;
        };
        let place = tokens[at].span.start;
        let told = Token::said_at(&tokens[words], place);
        tokens.drain(opening..end);
        let length = told.len();
        tokens.splice(at..at, told);
        at += length + 1;
    }
}

/// Where the words that choose begin with their mark, which they are, and where they end.
fn chosen(input: Tokens<'_>, at: usize) -> Option<(usize, std::ops::Range<usize>, usize)> {
    let noun = input.norm(at);
    if !containers().has(noun) {
        return None;
    }
    let mark = input
        .get(at + 1)
        .filter(|token| matches!(token.kind, Kind::Symbol('(' | ',')));
    let bracket = mark.is_some_and(|token| token.is('('));
    let from = at + 1 + usize::from(mark.is_some());
    if input.norm(from) != "the" {
        return None;
    }
    let length = (1..=WORDS_MAX).find(|&length| input.norm(from + 1 + length) == "one")?;
    let words = from + 1..from + 1 + length;
    let mut name: Vec<&str> = words.clone().map(|at| input.norm(at)).collect();
    name.push(noun);
    let mut end = words.end + 1;
    if bracket {
        input.get(end).filter(|token| token.is(')'))?;
        end += 1;
    }
    let known = input.vocabulary.is(Sense::Container, &name);
    known.then_some((at + 1, words, end))
}
