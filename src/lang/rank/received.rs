//! What a reading is worth that takes something into stock.

use super::names_food;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{Amount, Reason, Receive, Received};
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;

/// So much without a unit is a weight, of whatever it may be.
const GRAMS_MIN: f64 = 100.0;

/// Shopping is talk of until it has amounts and stands somewhere, or has a date.
pub fn received(
    receive: &Receive,
    input: Tokens<'_>,
    reasons: &mut Vec<Reason>,
) -> (i32, bool, bool) {
    let told = receive.place.is_some() || receive.use_by.is_some();
    let own = |veto: &&str| match *veto {
        "shopping" => receive.from == Received::Bought,
        "stock talk" | "past talk" => true,
        _ => false,
    };
    let mut forbids = vetoes_in(input);
    forbids.retain(|veto| !own(veto));
    let quiet = forbids.is_empty();
    reasons.extend(forbids.into_iter().map(Reason::Veto));
    let eaten = |name: &str| familiarity(name, input) >= Familiarity::Food;
    let known = receive.items.iter().all(|item| eaten(&item.name.text));
    // What nobody knows the name of may be anything: "20 euro in the freezer".
    // A weight with its unit, in a place, is of food.
    let weighed = |amount: &Amount| match amount {
        Amount::Mass(_) | Amount::Weighed { .. } => true,
        Amount::Bare(grams) => *grams >= GRAMS_MIN,
        _ => false,
    };
    // "mystery stew"
    let noun = |name: &str| name.rsplit(' ').next().is_some_and(names_food);
    let dish = |name: &str| names_food(name) || eaten(name) || noun(name);
    let named = match receive.from {
        Received::Bought => known,
        Received::Before => receive.items.iter().all(|item| {
            let stands = receive.place.is_some() && weighed(&item.amount);
            stands || dish(&item.name.text)
        }),
    };
    let sure = told && quiet && named;
    (if known { 20 } else { 0 }, sure, sure)
}
