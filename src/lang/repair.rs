//! A number put right in the same breath: "130 no wait 140 soup" says 140.

use super::token::Token;
use super::words::repairs;

/// Drop what was taken back, in place: a number before such words, when another follows them.
pub fn repair(tokens: &mut Vec<Token>) {
    let mut at = 1;
    while at < tokens.len() {
        let length = repairs()
            .longest(&tokens[at..])
            .map_or(0, |(length, _)| length);
        let between = length > 0
            && tokens[at - 1].is_numeric()
            && tokens.get(at + length).is_some_and(Token::is_numeric);
        if between {
            tokens.drain(at - 1..at + length);
        }
        at += 1;
    }
}
