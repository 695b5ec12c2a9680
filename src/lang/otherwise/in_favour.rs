//! Whose the bigger part of a ratio is: "75:25 in her favour" says that the bigger one is for her.

use crate::lang::person::person;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Vocabulary;

/// Say it so, in place.
pub fn put(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some((at, length)) = (1..input.len()).find_map(|at| Some((at, favoured(input, at)?)))
    else {
        return;
    };
    let place = tokens[at].span.start;
    let word = |word: &str| Token::new(Kind::Word(word.to_owned()), place..place, true);
    let mut said = vec![Token::new(Kind::Symbol(','), place..place, false)];
    said.extend(["the", "bigger", "one", "for"].map(word));
    match tokens[at + 1].norm() {
        "my" => said.push(word("me")),
        _ => said.extend_from_slice(&tokens[at + 1..at + 1 + length]),
    }
    tokens.splice(at..at + length + 2, said);
}

/// How many words name whom it is in favour of.
fn favoured(input: Tokens<'_>, at: usize) -> Option<usize> {
    if input.norm(at) != "in" {
        return None;
    }
    let whose = match input.norm(at + 1) {
        "my" | "her" | "his" => 1,
        _ => person(input.after(at + 1))?.0,
    };
    matches!(input.norm(at + 1 + whose), "favour" | "favor").then_some(whose)
}
