//! What something that was booked really was: "those beans were barley", "soup is 301, typo".

use super::{after, known_name, line, whole_of, without_closing};
use crate::lang::item::whole_amount;
use crate::lang::lexer::folded_words;
use crate::lang::name::of_batch;
use crate::lang::syntax::{Amount, Figure, Fix, Line};
use crate::lang::tokens::Tokens;

/// A dish in the place of another, both of them by name.
pub fn read(body: Tokens<'_>) -> Option<Fix> {
    let body = without_closing(body);
    if body.has_number() || !matches!(body.norm(0), "that" | "those" | "my" | "the" | "these") {
        return None;
    }
    let at = (2..body.len()).find(|&at| matches!(body.norm(at), "was" | "were"))?;
    let old = known_name(body.range(1, at))?;
    let rest = body.after(at);
    let new = of_batch(after("was", rest)?.without_lead())?;
    // "that soup was leek soup" tells nothing new.
    let (old_words, new_words) = (folded_words(&old.text), folded_words(&new.text));
    let other = !old_words.iter().any(|word| new_words.contains(word));
    (other && !whole_of(rest, "was")).then_some(Fix::Name {
        new,
        old: Some(old),
        amount: None,
    })
}

/// "soup is 301", where it is said that something is put right.
pub fn weighs(body: Tokens<'_>) -> Option<Fix> {
    let at = (1..body.len()).find(|&at| matches!(body.norm(at), "is" | "are"))?;
    let line = line(body.range(0, at)).filter(|line| *line != Line::default())?;
    let (_, amount) = whole_amount(body.after(at + 1)).ok()?;
    let shown = matches!(amount, Amount::Bare(_) | Amount::Mass(_));
    shown.then_some(Fix::Amount {
        new: Figure::Is(amount),
        line,
    })
}
