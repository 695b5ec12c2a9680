//! Whether a dish that is made of others may be booked unasked, food put elsewhere, and a label drawn.

use super::all_stand;
use crate::lang::command::meant_for::without_when;
use crate::lang::command::spoken_of::is_stand_in;
use crate::lang::lexer::folded_words;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::place::names_place;
use crate::lang::syntax::{
    Boxes, Destination, IngredientLine, Label, LineContent, Move, Reason, Spread, TopUp, Words,
};
use crate::lang::tokens::Tokens;
use crate::lang::veto::{is_strict, vetoes_in};
use crate::lang::vocabulary::Sense;

pub fn boxes(boxes: &Boxes, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let names = boxes.items.iter().map(|item| item.name.text.as_str());
    let (known, stand) = all_stand(names, input, reasons);
    // What is packed for tomorrow is packed.
    let mut forbids = vetoes_in(input);
    forbids.retain(|veto| is_strict(veto) && *veto != "plan");
    let quiet = forbids.is_empty();
    reasons.extend(forbids.into_iter().map(Reason::Veto));
    (known, stand && quiet, stand)
}

/// Plans, questions and wishes move nothing.
pub fn moved(moved: &Move, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let names = || moved.items.iter().map(|item| item.name.text.as_str());
    let (known, stand) = match names().all(is_stand_in) {
        // What was spoken of the books tell.
        true => (0, true),
        false => all_stand(names(), input, reasons),
    };
    // "out of the freezer" lacks nothing.
    let taken = |veto: &str| veto == "shopping" && moved.from.is_some();
    // "for tomorrow" tells what it is thawed for, and plans nothing.
    let mut forbids = vetoes_in(without_when(input));
    // "left 400 in the fridge" tells what stays.
    let stays = |veto: &str| veto == "stock talk" && moved.kept.is_some();
    // "last week" tells on which day.
    let dated = |veto: &str| veto == "clock time" && moved.day.is_some();
    forbids.retain(|veto| !taken(veto) && !stays(veto) && !dated(veto));
    let quiet = forbids.is_empty();
    reasons.extend(forbids.into_iter().map(Reason::Veto));
    // "in the snug": a place that nobody knows is asked about.
    let placed = match &moved.to {
        Destination::Place(place) => names_place(&place.text, input),
        Destination::Thawed | Destination::Here => true,
    };
    (known, stand && quiet && placed, stand && quiet)
}

/// As a move; the places tell themselves.
pub fn spread(said: &Spread, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let name = said.dish.text.as_str();
    let (known, stand) = match is_stand_in(name) {
        true => (0, true),
        false => all_stand(std::iter::once(name), input, reasons),
    };
    // "froze 150 and left the rest in the fridge" tells where the rest stands.
    let mut forbids = vetoes_in(without_when(input));
    forbids.retain(|veto| *veto != "stock talk");
    let quiet = forbids.is_empty();
    reasons.extend(forbids.into_iter().map(Reason::Veto));
    (known, stand && quiet, stand && quiet)
}

/// Said without a dish, a place or a page, it may be talk; "could we get labels" is asked, and not planned.
pub fn label(label: &Label, input: Tokens<'_>) -> (i32, bool, bool) {
    let all = |norm: &str| matches!(norm, "everything" | "all");
    let everything = input.slice.iter().any(|token| all(token.norm()));
    let told =
        !label.names.is_empty() || label.place.is_some() || label.page.is_some() || everything;
    let mut forbids = vetoes_in(input);
    forbids.retain(|veto| !["plan", "conditional"].contains(veto));
    (20, told && forbids.is_empty(), false)
}

pub fn top_up(top_up: &TopUp, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let dish = std::iter::once(top_up.batch.text.as_str());
    let (known, stand) = all_stand(dish, input, reasons);
    // "the sauce was topped up" tells what was done; talk behind it is no ingredient.
    let mut forbids = vetoes_in(input);
    forbids.retain(|veto| *veto != "past talk");
    let told = top_up.lines.iter().all(|line| is_told(line, input));
    let quiet = forbids.is_empty() && told;
    reasons.extend(forbids.into_iter().map(Reason::Veto));
    (known, stand && quiet, stand && told)
}

/// An ingredient, and no talk beside it: how much of it was told, or it is known.
fn is_told(line: &IngredientLine, input: Tokens<'_>) -> bool {
    match &line.content {
        LineContent::Ingredient { amount, name } => {
            let familiar = familiarity(&name.text, input);
            familiar >= Familiarity::Food || amount.is_some() && familiar > Familiarity::Talk
        }
        LineContent::Unclear(_) => false,
    }
}

/// What is asked of a vessel of the household, or of all; cats and parcels are weighed as well.
pub fn is_vessel(name: Option<&Words>, input: Tokens<'_>) -> bool {
    let known = |name: &Words| {
        let words = folded_words(&name.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        input.vocabulary.is(Sense::Container, &words)
    };
    name.is_none_or(known)
}
