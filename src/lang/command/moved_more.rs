//! What is told behind the place that it goes to, and that it is taken out of the cold.
//!
//! ```text
//! more := move ("and" | ",") items ["too" | "as well"]      ", 500 chilli" alone is a plate as well
//!       | dish thawing [","] amount
//! out  := takes "out" items | [takes] items "out" when
//! ```

use crate::lang::amount::grams;
use crate::lang::command::meant_for::without_idle;
use crate::lang::command::moved_items::items;
use crate::lang::command::moving::moved;
use crate::lang::name;
use crate::lang::syntax::{Amount, Destination, Item, Move};
use crate::lang::tokens::Tokens;
use crate::lang::words::moves;

pub fn read(input: Tokens<'_>) -> Option<Move> {
    and_more(input).or_else(|| is_thawing(input))
}

/// "600 dal to the freezer and 500 chilli", "..., 500 chilli too": what is told behind the place goes there as well.
fn and_more(input: Tokens<'_>) -> Option<Move> {
    let body = input.trimmed_end();
    let said = without_idle(body);
    let also = said.len() < body.len();
    let joins = |at: &usize| {
        let and = said.norm(*at) == "and" || said.slice[*at].is('&');
        and || also && said.slice[*at].is(',')
    };
    let at = (1..said.len()).rev().find(joins)?;
    // "and had 140 dal" is a plate.
    let amount = said.get(at + 1).filter(|next| next.is_numeric());
    let mut first = amount.and_then(|_| moved(said.range(0, at), false))?;
    let weighed = |item: &Item| matches!(item.amount, Amount::Mass(_) | Amount::Bare(_));
    let more = items(said.after(at + 1), &[], false)?;
    let plain = first.parts_grams.is_empty() && more.iter().all(weighed);
    first.items.extend(more);
    plain.then_some(first)
}

/// "chilli is thawing, 400"
fn is_thawing(input: Tokens<'_>) -> Option<Move> {
    let body = input.trimmed_end();
    (1..body.len()).find_map(|at| {
        let length = moves().longest_of(body.after(at).slice, "thawing now")?;
        let dish = name::of_batch(body.range(0, at))?;
        let (rest, grams) = grams(body.after(at + length).without_lead().trimmed()).ok()?;
        let item = Item::new(Amount::Mass(grams), dish);
        rest.trimmed()
            .is_empty()
            .then(|| Move::to(vec![item], Destination::Thawed))
    })
}

/// "take out 300 chilli", "400 chilli out for tomorrow": without the "out" that tells that it stood in the cold.
pub fn taken_out<'a>(body: Tokens<'a>, rest: Tokens<'a>, timed: bool) -> (Tokens<'a>, bool) {
    // "300 dal out please", "took a bag of dal out": with its amount, it needs no day.
    let amount = rest.has_number() || matches!(rest.norm(0), "a" | "one" | "another");
    let timed = timed || amount;
    let takes = matches!(
        body.norm(0),
        "take"
            | "took"
            | "taking"
            | "get"
            | "got"
            | "getting"
            | "grab"
            | "grabbed"
            | "pull"
            | "pulled"
    );
    let rest = rest.trimmed_end();
    if takes && rest.norm(0) == "out" && rest.norm(1) != "of" && rest.len() > 1 {
        return (rest.after(1), true);
    }
    let ends = timed && rest.last().is_some_and(|last| last.norm() == "out");
    let plain = takes || rest.len() == body.trimmed_end().len();
    match ends && plain && rest.len() > 1 {
        true => (rest.range(0, rest.len() - 1).trimmed_end(), true),
        false => (rest, false),
    }
}
