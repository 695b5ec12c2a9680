//! Numbers beside a dish that are none of a meal: where somebody lives, what is to be bought, and how much of one thing
//! goes with another.

use super::number::number;
use super::token::Token;
use super::tokens::Tokens;
use super::words::{measures, units};

/// Whether it tells of any of these.
pub fn tells_of(body: Tokens<'_>) -> bool {
    names_a_street(body) || wanted(body) || is_proportion(body)
}

/// "2 cups rice to 3 cups water": how it is cooked.
fn is_proportion(body: Tokens<'_>) -> bool {
    let measured = |from: usize, to: usize| {
        let said = &body.slice[from..to];
        said.iter()
            .filter(|token| measures().holds(token) || units().holds(token))
    };
    (1..body.len()).any(|at| {
        let to = body.norm(at) == "to" && number(body.after(at + 1)).is_ok();
        let behind = || measured(at, body.len()).map(Token::norm);
        to && measured(0, at).any(|token| behind().any(|norm| norm == token.norm()))
    })
}

/// "we're out of rice, 2 kg please": so much is to be bought.
fn wanted(body: Tokens<'_>) -> bool {
    let said = |words: &[&str]| body.slice.iter().any(|token| words.contains(&token.norm()));
    let out = (1..body.len()).any(|at| {
        let of = body.norm(at) == "out" && body.norm(at + 1) == "of";
        of && matches!(
            body.norm(at - 1),
            "were" | "im" | "are" | "all" | "ran" | "run" | "am"
        )
    });
    out && said(&["please", "pls", "plz", "buy", "get", "order"])
}

/// "meet at 45 Barley Road": where somebody lives, whatever the street is called after.
fn names_a_street(body: Tokens<'_>) -> bool {
    const STREETS: [&str; 12] = [
        "road", "rd", "street", "lane", "avenue", "ave", "drive", "crescent", "terrace", "court",
        "square", "grove",
    ];
    let word = |at: usize| body.norm(at).len() > 1 && !matches!(body.norm(at), "the" | "my" | "a");
    let named = |at: usize| {
        let ends = |at: usize| STREETS.contains(&body.norm(at));
        body.slice[at].is_numeric()
            && word(at + 1)
            && (ends(at + 2) || word(at + 2) && ends(at + 3))
    };
    // "barley street 45"
    let numbered = |at: usize| {
        let street = matches!(
            body.norm(at),
            "road" | "rd" | "street" | "lane" | "avenue" | "ave"
        );
        street && at > 0 && word(at - 1) && body.get(at + 1).is_some_and(Token::is_numeric)
    };
    (0..body.len()).any(|at| named(at) || numbered(at))
}
