//! A thing that food stands in, by name: the household's own, or words that end in one of data/containers.txt.

use nom::Parser;
use nom::combinator::opt;

use crate::lang::syntax::Words;
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, joiners, places, scale};

/// A thing that food stands in, by name.
pub fn container(input: Tokens<'_>) -> Read<'_, Words> {
    let (rest, _) = opt(word(&["the", "a", "an", "my", "our", "its", "one"])).parse(input)?;
    let words: Vec<&str> = rest
        .slice
        .iter()
        .take(5)
        .map(Token::norm)
        .take_while(|norm| !norm.is_empty())
        .collect();
    let known = (1..=words.len())
        .rev()
        .find(|&length| input.vocabulary.is(Sense::Container, &words[..length]));
    let plain = || {
        let first = (0..words.len().min(4)).find(|&at| containers().has(words[at]))?;
        let joining = words[..first].iter().any(|word| {
            matches!(*word, "in" | "of" | "to" | "is" | "less" | "minus" | "each")
                || joiners().has(word)
                || places().has(word)
                || scale().has(word)
        });
        let run = words[first..]
            .iter()
            .take_while(|word| containers().has(word))
            .count();
        (!joining).then_some(first + run)
    };
    match known.or_else(plain) {
        Some(length) => Ok((rest.after(length), rest.range(0, length).words())),
        None => input.no(),
    }
}

/// Several that stand on the scale together: "pot + lid".
pub fn containers_together(input: Tokens<'_>) -> Read<'_, Words> {
    let (mut rest, mut name) = container(input)?;
    while rest
        .first()
        .is_some_and(|token| token.is('+') || token.is('&') || token.norm() == "and")
        && let Ok((next, more)) = container(rest.take_one())
    {
        name.text = format!("{} and {}", name.text, more.text);
        name.span.end = more.span.end;
        rest = next;
    }
    Ok((rest, name))
}
