//! One dish that went to several places: "half the soup in the freezer, the rest in the garage freezer", "3 boxes in
//! the freezer, the other 2 in the fridge", "soup: 1 kg freezer, 1 kg garage freezer, rest fridge".
//!
//! ```text
//! spread := [verb] [dish (":" | ",")] part { sep part } [sep "rest stays"] ["," grams "each"]
//! part   := one clause                                    spread_part.rs
//! sep    := "," | ";" | "." | newline | "and" | "then"
//! ```
//! One dish is named, or it is in hand; each place is named once. Food that is all put in one place is a move, and so
//! is one part beside what stays where it is.

use crate::lang::amount::grams;
use crate::lang::command::moving::without_lead;
use crate::lang::command::spread_part::{Part, part, without_verb};
use crate::lang::command::{kept_back, meant_for, spoken_of, whither};
use crate::lang::name;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Spread, SpreadPart, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};

/// Nobody keeps one dish in more places.
const PARTS_MAX: usize = 6;
/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match spread(input.trimmed()) {
        Some(command) => Ok((input.after(input.len()), command)),
        None => input.no(),
    }
}

fn spread(input: Tokens<'_>) -> Option<Command> {
    if input.len() > TOKENS_MAX || input.slice.iter().any(|token| token.is('?')) {
        return None;
    }
    let body = meant_for::without_please(without_lead(input));
    let body = meant_for::without_when(meant_for::without_idle(body));
    let (body, heading) = headed(body);
    let (body, at_end) = each(body);
    let clauses = body.split(separates);
    let clauses = clauses.iter().flat_map(|clause| apart(clause.trimmed()));
    let mut clauses: Vec<Tokens<'_>> = clauses.filter(|clause| !clause.is_empty()).collect();
    // "5 boxes of soup, 400 each. 3 boxes in ..."
    let by_itself =
        |clause: &Tokens<'_>| matches!(each(*clause), (rest, Some(_)) if rest.is_empty());
    let apart = clauses.iter().position(by_itself);
    let each = match apart.filter(|_| at_end.is_none()) {
        Some(at) => each(clauses.remove(at)).1,
        None => at_end,
    };
    if clauses.len() > PARTS_MAX + 1 {
        return None;
    }
    let all = clauses.len();
    clauses.retain(|clause| !stays(*clause));
    let partly = clauses.len() < all;
    let parts: Option<Vec<Part>> = clauses.into_iter().map(part).collect();
    let mut parts = parts?;
    // "5 boxes of soup, 400 each. 3 boxes in ...": how many there are goes before.
    let dishes = parts.iter().filter_map(|part| part.dish.clone());
    let mut dishes: Vec<Words> = heading.into_iter().chain(dishes).collect();
    if parts.first()?.place.is_none() {
        let first = parts.remove(0);
        first.dish.filter(|_| first.amount.is_some())?;
    }
    dishes.dedup();
    let nouns = || parts.iter().filter_map(|part| part.noun.clone());
    let dish = match dishes.as_slice() {
        [dish] => dish.clone(),
        [] => called_by_piece(nouns(), input).unwrap_or_else(|| spoken_of::all(input).name),
        _ => return None,
    };
    let told = |part: Part| part.told(each, &dish);
    let parts: Option<Vec<SpreadPart>> = parts.into_iter().map(told).collect();
    let mut parts = parts?;
    let rests = parts.iter().filter(|part| part.amount.is_none()).count();
    let mut places: Vec<&str> = parts.iter().map(|part| part.place.text.as_str()).collect();
    places.sort_unstable();
    places.dedup();
    let apart = places.len() == parts.len() && (2..=PARTS_MAX).contains(&parts.len());
    if partly && parts.len() == 1 {
        return moved(dish, parts.remove(0));
    }
    let fits = apart && rests <= usize::from(!partly);
    fits.then_some(Command::Spread(Spread { dish, parts }))
}

/// "half in the fridge half in the freezer": what follows a place begins the next part.
fn apart(clause: Tokens<'_>) -> Vec<Tokens<'_>> {
    let begins = |at: &usize| {
        let the = usize::from(clause.norm(*at) == "the");
        let part = matches!(
            clause.norm(at + the),
            "half" | "rest" | "other" | "remaining"
        );
        let part = part || clause.slice[*at].is_numeric() && clause.range(0, *at).has_number();
        part && whither::place(clause.range(0, *at), &whither::LEADS)
            .1
            .is_some()
    };
    match (2..clause.len()).find(begins) {
        Some(at) => [clause.range(0, at)]
            .into_iter()
            .chain(apart(clause.after(at)))
            .collect(),
        None => vec![clause],
    }
}

/// "rest stays", of which no other place is told.
fn stays(clause: Tokens<'_>) -> bool {
    let placed = || part(clause).is_some_and(|part| part.place.is_some());
    kept_back::rest_stays(without_lead(clause)) && !placed()
}

/// "dal, 300 freezer, rest stays"
fn moved(dish: Words, part: SpreadPart) -> Option<Command> {
    let item = Item::new(part.amount?, dish);
    let moved = Move::to(vec![item], Destination::Place(part.place));
    Some(Command::Move(moved))
}

impl Part {
    fn told(self, each_grams: Option<f64>, dish: &Words) -> Option<SpreadPart> {
        let vessel = self.noun.filter(|noun| noun.text != dish.text);
        let amount = match (self.amount, vessel, each_grams) {
            (Some(each @ Amount::Each { .. }), ..) => Some(each),
            (Some(Amount::Bare(count)), _, Some(grams)) => Some(Amount::Each {
                count,
                grams,
                measure: vec!["box".into()],
            }),
            (Some(_), _, Some(_)) => return None,
            // How much a box holds nobody has said.
            (Some(Amount::Bare(count)), Some(noun), None) => Some(Amount::Pieces {
                count,
                measure: vec![noun.text],
            }),
            (amount, ..) => amount,
        };
        let place = self.place?;
        Some(SpreadPart { amount, place })
    }
}

/// "boxes", "meatballs": what is counted may be the dish.
fn called_by_piece(mut nouns: impl Iterator<Item = Words>, input: Tokens<'_>) -> Option<Words> {
    let word = |noun: &Words| {
        let norm = noun.text.to_lowercase();
        input.vocabulary.is_batch(&[&norm])
    };
    nouns.find(word)
}

/// "soup: ", "put the soup: ", "soup, ": the dish at the head.
fn headed(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let heads = |token: &Token| token.is(':') || token.is(',');
    let Some(at) = input.find(heads).filter(|at| *at > 0) else {
        return (input, None);
    };
    let said = without_verb(input.range(0, at)).0;
    let parted = |token: &&Token| {
        matches!(
            token.norm(),
            "split" | "up" | "divided" | "portioned" | "out" | "parted" | "is"
        )
    };
    let parted = said.slice.iter().rev().take_while(parted).count();
    match name::all_of_batch(said.range(0, said.len() - parted)) {
        Some(dish) => (input.after(at + 1), Some(dish)),
        None => (input, None),
    }
}

/// ", 400 each" at the end, or in the middle.
fn each(input: Tokens<'_>) -> (Tokens<'_>, Option<f64>) {
    let input = input.trimmed_end();
    let Some(last) = input.last().filter(|last| last.norm() == "each") else {
        return (input, None);
    };
    let said = input.range(0, input.len() - 1);
    let inside = usize::from(said.last().is_some_and(|last| last.norm() == "in"));
    let said = said.range(0, said.len() - inside);
    let Some(at) = said.slice.iter().rposition(Token::is_numeric) else {
        return (input, None);
    };
    let weight = grams(said.after(at)).ok();
    match weight.filter(|(rest, _)| rest.is_empty() && last.norm() == "each") {
        Some((_, grams)) => (said.range(0, at).trimmed_end(), Some(grams)),
        None => (input, None),
    }
}

fn separates(token: &Token) -> bool {
    match token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!') => true,
        Kind::Word(_) => matches!(token.norm(), "and" | "then" | "with" | "plus"),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["leek soup", "beef chilli", "dal rice box", "meatballs"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words
    }

    #[track_caller]
    fn spreads(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_put_one_dish_in_several_places() {
        let halves = "spread soup: 50% in the freezer, the rest in the garage freezer";
        for text in [
            "half the soup in the freezer, the rest in the garage freezer",
            "half the soup in the freezer, other half in the garage freezer",
            "put half the soup in the freezer and the rest in the garage freezer",
            "froze half the soup, the rest of it went in the garage freezer",
        ] {
            spreads(text, halves);
        }
        spreads(
            "put 700 of the soup in the freezer and 600 in the garage freezer",
            "spread soup: 700 in the freezer, 600 in the garage freezer",
        );
        spreads(
            "soup: 1 kg freezer, 1 kg garage freezer, rest fridge",
            "spread soup: 1000 g in the freezer, 1000 g in the garage freezer, the rest in the fridge",
        );
        for text in [
            "soup in fridge 600 and freezer 1240",
            "soup in the fridge 600, in the freezer 1240",
            "soup: fridge 600, freezer 1240",
            "soup fridge 600, freezer 1240",
            "soup 600 in fridge and 1240 in freezer",
            "soup 600 in the fridge 1240 in the freezer",
        ] {
            spreads(text, "spread soup: 600 in the fridge, 1240 in the freezer");
        }
        spreads(
            "chilli: 800 stays in the freezer, the rest to the garage freezer",
            "spread chilli: 800 in the freezer, the rest in the garage freezer",
        );
        for text in [
            "3 boxes in the freezer, the other 2 in the fridge",
            "put 3 boxes in the freezer and the other two in the fridge",
        ] {
            spreads(text, "spread boxes: 3 in the freezer, 2 in the fridge");
        }
        for text in [
            "3 boxes of soup in the freezer, the other 2 in the fridge, 400 each",
            "5 boxes of soup. 3 boxes in the freezer, the other 2 in the fridge, 400 in each",
        ] {
            spreads(
                text,
                "spread soup: 3 box (400 g each) in the freezer, 2 box (400 g each) in the fridge",
            );
        }
    }

    #[test]
    fn what_is_asked_planned_or_eaten_goes_nowhere() {
        for text in [
            "half the soup in the freezer, the rest in the garage freezer?",
            "shall we put half the soup in the freezer and the rest in the fridge",
            "700 soup for me and 600 in the freezer",
            "half the soup in the freezer, the rest in my belly",
            "put half the soup in the freezer",
            "the keys are in the freezer, the rest in the fridge",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Spread(_)));
        }
    }
}
