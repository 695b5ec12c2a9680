//! Whether what people avoid is told to the bot: of a person at the table, and nothing that is only supposed.

use crate::lang::lexer::folded_words;
use crate::lang::syntax::{Avoid, Eats, Sought};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::vocabulary::Sense;
use crate::lang::words::avoid;

pub fn is_meant(said: &Avoid, input: Tokens<'_>) -> bool {
    let supposed = || {
        let forbids = |veto: &&str| matches!(*veto, "conditional" | "question");
        let asked = |token: &Token| token.is('?');
        vetoes_in(input).iter().any(forbids) || input.slice.iter().any(asked)
    };
    let says = |word: &str| input.slice.iter().any(|token| token.norm() == word);
    match said {
        Avoid::Asks { who: None } => {
            let body = input.trimmed();
            avoid().longest_of(body.slice, "who loosely") != Some(body.len())
        }
        // What is in a packet that was entered here; of anything else it is talk.
        Avoid::Contents { name, .. } => {
            let words = folded_words(&name.text);
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            input.vocabulary.is(Sense::Packet, &words) && !supposed()
        }
        // "what has milk" is asked of the shop as well.
        Avoid::InStock {
            by: Sought::What(_),
        } => says("dishes") || says("pots") || says("batches") || says("food"),
        Avoid::Asks { .. } | Avoid::MayEat { .. } => true,
        Avoid::InDish { .. } | Avoid::InStock { .. } => true,
        // "nut allergy", and nobody who has it
        Avoid::Tells { who: Eats::Me, .. } => says_whose(input) && !supposed(),
        Avoid::Tells { .. } | Avoid::Drops { .. } => !supposed(),
    }
}

/// Of oneself, or as a list has it: "allergies: milk".
fn says_whose(input: Tokens<'_>) -> bool {
    let own = |token: &Token| matches!(token.norm(), "i" | "im" | "ive" | "my");
    let listed = matches!(
        input.trimmed().norm(0),
        "allergies" | "allergy" | "allergic"
    );
    listed || input.slice.iter().any(own)
}
