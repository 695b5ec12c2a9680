//! The numbers of a list in one line: "1) 130 beans 2) 55 salsa". They count the items and weigh nothing.
//!
//! ```text
//! list   := [lead] marker item marker item { marker item }
//! marker := ["(" | "#"] number [")" | "." | ":" | "-"]         counting from one
//! ```
//! Every item holds a number of its own, and none stands before the first marker: "me (1) and ana (2)" shares.

use super::token::{Kind, Token};

/// Drop the markers, with a comma where they stood between two items.
pub fn drop(tokens: &mut Vec<Token>, text: &str) {
    let begun = begun(tokens, text);
    let markers = markers(tokens, 1 + begun);
    if markers.len() + begun < 2 || markers.is_empty() {
        return;
    }
    let ends = markers.iter().skip(1).map(|marker| marker.0);
    let items = markers.iter().zip(ends.chain([tokens.len()]));
    let weighed = |from: usize, to: usize| tokens[from..to].iter().any(Token::is_numeric);
    let listed = items.clone().all(|(marker, end)| weighed(marker.1, end));
    if !listed || weighed(0, markers[0].0) != (begun > 0) {
        return;
    }
    for &(from, to) in markers.iter().rev() {
        let separated = from == 0
            || matches!(
                tokens[from - 1].kind,
                Kind::Newline | Kind::Symbol(',' | ';' | ':')
            );
        let span = tokens[from].span.clone();
        let comma = (!separated).then(|| Token::new(Kind::Symbol(','), span, true));
        if let Some(behind) = tokens.get_mut(to) {
            behind.spaced = true;
        }
        tokens.splice(from..to, comma);
    }
}

/// The lexer has dropped the marker that began the message.
fn begun(tokens: &[Token], text: &str) -> usize {
    let first = tokens.first().map_or(0, |token| token.span.start);
    let before = text[..first].trim().trim_end_matches([')', '.', ':', '-']);
    usize::from(before == "1" || before == "(1")
}

/// Where the markers of one list stand, in their order, from this number on.
fn markers(tokens: &[Token], first: usize) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match marker(tokens, at, found.len() + first) {
            Some(length) => {
                found.push((at, at + length));
                at += length;
            }
            None => at += 1,
        }
    }
    found
}

/// How many tokens the marker of this number takes here.
fn marker(tokens: &[Token], at: usize, number: usize) -> Option<usize> {
    let sign = |at: usize, signs: &[char]| {
        tokens
            .get(at)
            .is_some_and(|token| signs.iter().any(|sign| token.is(*sign)))
    };
    let apart = |at: usize| at == 0 || tokens[at].spaced || tokens[at - 1].kind == Kind::Newline;
    let opened = usize::from(sign(at, &['(', '#']));
    let Kind::Number(numeral) = &tokens.get(at + opened)?.kind else {
        return None;
    };
    let counts = (numeral.value - number as f64).abs() < f64::EPSILON;
    let glued = opened == 0 || !tokens[at + 1].spaced;
    let closed = sign(at + opened + 1, &[')', '.', ':', '-']) && !tokens[at + opened + 1].spaced;
    let length = opened + 1 + usize::from(closed);
    let told = closed || sign(at, &['#']);
    (counts && glued && told && apart(at) && tokens.get(at + length)?.spaced).then_some(length)
}
