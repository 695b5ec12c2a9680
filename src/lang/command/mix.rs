//! Dishes mixed for later: "mixed 300 dal with 200 rice for tomorrow", "stirred 200 parsnips into 400 dal, fridge",
//! "combined the rest of the rice and 500 soup for lunch tomorrow".
//!
//! ```text
//! mix  := ["i" | "we"] verb item joint item { joint item } (when | place)
//!       | item verb joint item (when | place)              "300 dal stirred through 200 rice for tomorrow"
//! when := "for" a day or a meal that has not come
//! ```
//! What is mixed and told of neither a day to come nor a place may be on a plate.

use crate::lang::command::boxes::MIX;
use crate::lang::command::moving::without_lead;
use crate::lang::command::{meant_for, whither};
use crate::lang::item::list;
use crate::lang::name::{self, Familiarity, familiarity};
use crate::lang::syntax::{Amount, Boxes, Command, Item, Kept, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{boxes, calendar};

/// Nobody mixes more dishes.
const ITEMS_MAX: usize = 5;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match mixed(input.trimmed()) {
        Some(mixed) => Ok((input.after(input.len()), Command::Boxes(mixed))),
        None => input.no(),
    }
}

fn key(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    boxes().longest_of(input.slice, key)
}

fn mixed(input: Tokens<'_>) -> Option<Boxes> {
    let (input, anyway) = super::anyway(without_lead(input));
    let (body, place) = whither::place(input, &["in", "into"]);
    let (body, place) = match place {
        None => whither::listed_place(body),
        place => (body, place),
    };
    let bare = meant_for::without_when(body);
    let later = bare.len() < body.len() && body.after(bare.len()).slice.iter().any(is_ahead);
    let (bare, place) = match place {
        None => whither::listed_place(bare),
        place => (bare, place),
    };
    if !later && place.is_none() {
        return None;
    }
    let said = match key("mixes", bare) {
        Some(length) => bare.after(length),
        None => {
            let at = (1..bare.len()).find(|&at| key("mixes", bare.after(at)).is_some())?;
            let behind = bare.after(at + key("mixes", bare.after(at))?);
            key("mixed with", behind)?;
            bare.range(0, at)
                .slice
                .iter()
                .any(Token::is_numeric)
                .then_some(())?;
            return of(items(bare.range(0, at))?, items(behind)?, place, anyway);
        }
    };
    let items = items(said)?;
    of(items, Vec::new(), place, anyway)
}

/// "for tomorrow", "for Friday's lunch"
fn is_ahead(token: &Token) -> bool {
    let norm = token.norm();
    let day = norm.strip_suffix('s').unwrap_or(norm);
    norm != "today" && norm != "tonight" && (calendar().has(norm) || calendar().has(day))
        || matches!(
            norm,
            "later" | "week" | "weekend" | "tomorrow" | "tomorrows"
        )
}

fn of(first: Vec<Item>, more: Vec<Item>, place: Option<Words>, anyway: bool) -> Option<Boxes> {
    let items: Vec<Item> = first.into_iter().chain(more).collect();
    let kept = place.map(|place| Kept { count: None, place });
    (2..=ITEMS_MAX).contains(&items.len()).then_some(Boxes {
        count: 1,
        vessel: MIX.into(),
        items,
        each: false,
        kept: kept.into_iter().collect(),
        anyway,
    })
}

/// Each with how much of it, or all of a dish of the household.
fn items(input: Tokens<'_>) -> Option<Vec<Item>> {
    let mut parts: Vec<Tokens<'_>> = Vec::new();
    let mut from = 0;
    let mut at = 0;
    while at < input.len() {
        match key("mixed with", input.after(at)) {
            Some(length) => {
                parts.push(input.range(from, at).trimmed());
                at += length;
                from = at;
            }
            None => at += 1,
        }
    }
    parts.push(input.after(from).trimmed());
    parts.retain(|part| !part.is_empty());
    parts.into_iter().map(item).collect()
}

fn item(part: Tokens<'_>) -> Option<Item> {
    if let Some(name) = name::all_of_batch(part) {
        return Some(Item::new(Amount::Share(1.0), name).at(part.span()));
    }
    let read = list(part);
    let [item] = read.items.as_slice() else {
        return None;
    };
    let known = familiarity(&item.name.text, part) >= Familiarity::Food;
    let whole = read.errors.is_empty() && read.comments.is_empty();
    let told = !matches!(item.amount, Amount::Uncounted(_) | Amount::Between { .. });
    (known && whole && told).then(|| item.clone())
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "rice", "leek soup"] {
            words.add(Sense::Batch, batch);
        }
        words
    }

    #[test]
    fn many_ways_to_mix_dishes_for_later() {
        for text in [
            "mixed 300 dal with 200 rice for tomorrow, fridge",
            "mixed 300 dal and 200 rice in the fridge",
            "stirred 300 dal into 200 rice for tomorrow, in the fridge",
            "300 dal stirred through 200 rice, fridge",
        ] {
            surely_means(
                text,
                &kitchen(),
                "mixed 300 dal with 200 rice in the fridge",
            );
        }
        surely_means(
            "combined the rest of the rice and 500 soup for tomorrow's lunch",
            &kitchen(),
            "mixed all the rice with 500 soup for tomorrow",
        );
    }

    #[test]
    fn what_is_mixed_to_be_eaten_or_only_talked_of_is_no_batch() {
        for text in [
            "mixed 300 dal with 200 rice",
            "shall we mix 300 dal with 200 rice for tomorrow",
            "mixed 300 dal with 200 rice for tomorrow?",
            "mixed feelings about the rice and 2 things for tomorrow",
        ] {
            is_no(text, &kitchen(), |it| matches!(it, Command::Boxes(_)));
        }
    }
}
