//! Several ingredients without a mark between them: "500 g rice 2 tbsp oil", "2 onions and a carrot".

use super::item;
use super::token::Kind;
use super::tokens::Tokens;

/// So far into a line without separators amounts and names are told apart.
const RUN_TOKENS_MAX: usize = 60;

/// Each ingredient of a part of a line.
pub fn ingredients(input: Tokens<'_>) -> impl Iterator<Item = Tokens<'_>> {
    and_pieces(input).into_iter().flat_map(run)
}

/// "500 g lentils and 2 onions" is two ingredients: cut before "and" with a number after it.
fn and_pieces(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let mut out = Vec::new();
    let mut from = 0;
    let mut named = false;
    for at in 0..input.len() {
        let token = &input.slice[at];
        let joins =
            token.norm() == "and" || token.is('&') || token.is('+') || token.norm() == "plus";
        let numbered = input
            .get(at + 1)
            .is_some_and(|token| matches!(token.kind, Kind::Number(_)))
            || matches!(input.norm(at + 1), "a" | "an" | "half" | "some");
        // "half and half" is cream.
        let numbered = numbered && !(at > 0 && input.norm(at - 1) == "half");
        let before = input.range(from, at);
        if joins
            && numbered
            && named
            && before.len() <= 40
            && before.has_number()
            && is_named(before)
        {
            out.push(before);
            from = at + 1;
        }
        named |= matches!(token.kind, Kind::Word(_));
    }
    out.push(input.range(from, input.len()));
    out
}

fn is_named(input: Tokens<'_>) -> bool {
    item::ingredient(input).is_ok_and(|named| named.amount.is_some())
}

/// "500 g rice 2 tbsp oil 1 onion": amounts and names in turn are so many ingredients.
fn run(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let one = || vec![input];
    if input.len() > RUN_TOKENS_MAX || item::ingredient(input).is_ok() {
        return one();
    }
    let Ok(pieces) = item::pieces(input) else {
        return one();
    };
    let starts: Vec<usize> = pieces
        .iter()
        .filter_map(|piece| match piece {
            item::Piece::Amount {
                said, aside: false, ..
            } => input.find(|token| token.span.start == said.span().start),
            _ => None,
        })
        .collect();
    let in_turn = pieces
        .chunks(2)
        .all(|pair| matches!(pair, [item::Piece::Amount { .. }, item::Piece::Name(_)]));
    if !in_turn || starts.len() < 2 || starts[0] != 0 {
        return one();
    }
    let ends = starts.iter().skip(1).copied().chain([input.len()]);
    starts
        .iter()
        .zip(ends)
        .map(|(&from, to)| input.range(from, to))
        .collect()
}
