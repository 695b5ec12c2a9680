//! A bowl that is only told by whose it is: "mine 230, with rice 360" is one that weighs 230 empty. Before anything is
//! read, the bowl is put behind its owner.
//!
//! ```text
//! message := owner [":" | "is" | "was"] number [","] "with" word ... greater number
//! ```

use super::lexer::lex;
use super::person::person;
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 30;

/// Put the bowl in its place.
pub fn put(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some(behind) = owner(input).filter(|_| input.len() <= TOKENS_MAX) else {
        return;
    };
    let is = usize::from(matches!(input.norm(behind), "is" | "was"));
    let colon = usize::from(input.get(behind).is_some_and(|token| token.is(':')));
    let at = behind + is + colon;
    let Some(empty) = input.get(at).and_then(Token::value) else {
        return;
    };
    let comma = usize::from(input.get(at + 1).is_some_and(|token| token.is(',')));
    let filled = input.norm(at + 1 + comma) == "with";
    let mut later = input.after(at + 2).slice.iter().filter_map(Token::value);
    if !filled || !later.next().is_some_and(|full| full > empty) {
        return;
    }
    let place = tokens[behind].span.start;
    let mut bowl = Token::said_at(&lex("my bowl"), place);
    bowl[1].spaced = true;
    match tokens[0].norm() == "mine" {
        true => drop(tokens.splice(..behind, bowl)),
        false => tokens.insert(behind, bowl.remove(1)),
    }
}

/// "mine", "Ana's": how many tokens tell whose.
fn owner(input: Tokens<'_>) -> Option<usize> {
    match input.norm(0) {
        "mine" => Some(1),
        _ => person(input).map(|(length, _)| length),
    }
}
