//! Whether what people avoid is told to the bot: of a person at the table, and nothing that is only supposed.

use crate::lang::syntax::Avoid;
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::words::avoid;

pub fn is_meant(said: &Avoid, input: Tokens<'_>) -> bool {
    let supposed = || {
        let forbids = |veto: &&str| matches!(*veto, "conditional" | "question");
        let asked = |token: &Token| token.is('?');
        vetoes_in(input).iter().any(forbids) || input.slice.iter().any(asked)
    };
    match said {
        Avoid::Asks { who: None } => {
            let body = input.trimmed();
            avoid().longest_of(body.slice, "who loosely") != Some(body.len())
        }
        Avoid::Asks { .. } | Avoid::MayEat { .. } => true,
        Avoid::Tells { .. } | Avoid::Drops { .. } => !supposed(),
    }
}
