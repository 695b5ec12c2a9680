//! One dish that went to several places: "half the soup in the freezer, the rest in the garage freezer", "3 boxes in
//! the freezer, the other 2 in the fridge", "soup: 1 kg freezer, 1 kg garage freezer, rest fridge".
//!
//! ```text
//! spread := [verb] [dish (":" | ",")] part { sep part } [sep "rest stays"] ["," grams "each"]
//! part   := [verb] (amount [["of"] dish] | "the rest" | "the other" [amount]) ["is" | "went"] ["in" | "to"] place
//!         | place [":"] amount
//! sep    := "," | ";" | "." | newline | "and" | "then"
//! ```
//! One dish is named, or it is in hand; each place is named once. Food that is all put in one place is a move, and so
//! is one part beside what stays where it is.

use crate::lang::amount::{Stands, amount, grams};
use crate::lang::command::moving::without_lead;
use crate::lang::command::whither::without_out;
use crate::lang::command::{kept_back, meant_for, spoken_of, whither};
use crate::lang::jars::is_vessel;
use crate::lang::name;
use crate::lang::place::is_place;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Spread, SpreadPart, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{moves, units};

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

/// What a clause tells.
struct Part {
    /// `None`: the rest.
    amount: Option<Amount>,
    /// So many vessels or pieces, by the word for them.
    noun: Option<Words>,
    dish: Option<Words>,
    place: Option<Words>,
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
    let clauses = clauses.iter().map(Tokens::trimmed);
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
    match name::all_of_batch(said) {
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

/// What is done, dropped; whether it freezes.
fn without_verb(said: Tokens<'_>) -> (Tokens<'_>, bool) {
    match moves().longest(said.slice) {
        Some((length, key)) if key != "thaw" => (said.after(length), key == "freeze"),
        _ => match said.norm(0) {
            "spread" => (said.after(1), false),
            _ => (said, false),
        },
    }
}

fn part(clause: Tokens<'_>) -> Option<Part> {
    let (said, freezes) = without_verb(without_lead(clause));
    let (rest, place) = whither::place(said, &whither::LEADS);
    let (rest, place) = match place {
        Some(_) => (rest, place),
        None => bare_place(said),
    };
    let place = place.or_else(|| freezes.then(|| Words::plain("freezer")));
    let rest = without_out(rest.trimmed());
    let what = rest_of_it(rest).or_else(|| so_much(without_other(rest)))?;
    Some(Part { place, ..what })
}

/// "1 kg freezer", "freezer: 1 kg"
fn bare_place(said: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let said = said.trimmed();
    // "kg", "goes" and "soup" are no part of its name.
    let begins_name = |at: usize| {
        let norm = said.norm(at);
        let idle = matches!(
            norm,
            "" | "goes"
                | "went"
                | "is"
                | "stays"
                | "left"
                | "of"
                | "the"
                | "half"
                | "other"
                | "rest"
        );
        let other = units().holds(&said.slice[at]) || said.vocabulary.is_batch(&[norm]);
        !idle && !other && !whither::LEADS.contains(&norm)
    };
    let ends = |at: &usize| begins_name(*at) && is_place(said.after(*at));
    if let Some(at) = (1..said.len()).find(ends) {
        return (
            said.range(0, at).trimmed_end(),
            Some(said.after(at).words()),
        );
    }
    let the = usize::from(matches!(said.norm(0), "the" | "our"));
    let begins = |at: &usize| is_place(said.range(the, *at));
    match (the + 1..said.len()).rev().find(begins) {
        Some(at) => (
            said.after(at).without_lead(),
            Some(said.range(the, at).words()),
        ),
        None => (said, None),
    }
}

/// "the rest", "the rest of the soup", "the other half", "the others"
fn rest_of_it(said: Tokens<'_>) -> Option<Part> {
    let idle = |token: &&Token| matches!(token.norm(), "the" | "all" | "our");
    let said = said.after(said.slice.iter().take_while(idle).count());
    let length = match (said.norm(0), said.norm(1)) {
        ("other", "half") | ("remaining" | "other" | "last", "one" | "ones") => 2,
        ("rest" | "remainder" | "others" | "remaining", _) => 1,
        _ => return None,
    };
    let behind = said.after(length);
    let behind = behind.after(usize::from(behind.norm(0) == "of"));
    let known = behind.is_empty() || spoken_of::is_stand_in(behind.norm(0)) && behind.len() == 1;
    let dish = match known {
        true => None,
        false => Some(name::all_of_batch(behind)?),
    };
    Some(Part {
        amount: None,
        noun: None,
        dish,
        place: None,
    })
}

/// "the other 2", "the remaining 500"
fn without_other(said: Tokens<'_>) -> Tokens<'_> {
    let the = usize::from(said.norm(0) == "the");
    let other = usize::from(matches!(said.norm(the), "other" | "remaining" | "last"));
    match other {
        0 => said,
        _ => said.after(the + other),
    }
}

/// "3 boxes of soup", "700 of the soup", "half", "the other 2"
fn so_much(said: Tokens<'_>) -> Option<Part> {
    let (rest, mut told) = match said.first().map(|token| &token.kind) {
        Some(Kind::Percent(share)) => (said.after(1), Amount::Share(share / 100.0)),
        _ => amount(said, Stands::BeforeName).ok()?,
    };
    let mut noun = None;
    if let Amount::Pieces { count, measure } = &told {
        noun = (!measure.is_empty()).then(|| Words::plain(measure.join(" ")));
        told = Amount::Bare(*count);
    }
    let counted = noun.is_none() && is_vessel(rest.norm(0)) && matches!(told, Amount::Bare(_));
    let rest = match counted {
        true => {
            noun = Some(rest.range(0, 1).words());
            rest.after(1)
        }
        false => rest,
    };
    let rest = rest.after(usize::from(rest.norm(0) == "of"));
    let stands_in = rest.is_empty() || rest.len() == 1 && spoken_of::is_stand_in(rest.norm(0));
    let dish = match stands_in {
        true => None,
        false => Some(name::of_batch(rest)?),
    };
    // "6 meatballs": pieces are told by the name of the dish.
    let exact = matches!(
        told,
        Amount::Bare(_) | Amount::Mass(_) | Amount::Share(_) | Amount::Each { .. }
    );
    exact.then_some(Part {
        amount: Some(told),
        noun,
        dish,
        place: None,
    })
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
