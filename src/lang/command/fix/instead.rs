//! Another dish took the place of one: "beans off, salsa on, same weight", "rice went back, 120 barley instead".
//!
//! ```text
//! instead := gone sep other { sep closing }
//! gone    := name ("off" | "went back") | ("scrap" | "no") name | "take" name "off"
//! other   := [amount] name ("on" | "instead") | "instead" [amount] name
//! ```

use super::{after, before, known_name, off, whole_of, without_closing, without_excuse};
use crate::lang::item::list;
use crate::lang::syntax::{Amount, Command, Fix, Item, Words};
use crate::lang::tokens::Tokens;

pub fn read(clauses: &[Tokens<'_>]) -> Option<Command> {
    let mut told = clauses
        .iter()
        .map(|piece| without_excuse(piece.trimmed()))
        .filter(|piece| !piece.is_empty());
    let (old, new) = (told.next()?, told.next()?);
    let idle = |piece: Tokens<'_>| whole_of(piece, "closing") || whole_of(piece, "meaning");
    if !told.all(idle) {
        return None;
    }
    let (amount, new) = other(new)?;
    let old = Some(gone(old)?);
    Some(Command::Fix(Fix::Name { new, old, amount }))
}

/// "the rice went back", "scrap the rice"
fn gone(piece: Tokens<'_>) -> Option<Words> {
    if let Some(name) = before("gone", piece).and_then(known_name) {
        return Some(name);
    }
    match off::remove(piece)? {
        Fix::Remove(line) if line.owner.is_none() => line.name,
        _ => None,
    }
}

/// "120 barley instead", "salsa on"
fn other(piece: Tokens<'_>) -> Option<(Option<Amount>, Words)> {
    let short = without_closing(piece);
    let behind = [piece, short]
        .into_iter()
        .find_map(|piece| before("in its stead", piece));
    let told = behind.or_else(|| after("in stead", short))?.trimmed();
    if let Some(name) = known_name(told) {
        return Some((None, name));
    }
    let read = list(told);
    let plain = |item: &Item| matches!(item.amount, Amount::Bare(_) | Amount::Mass(_));
    match read.items.as_slice() {
        [item] if read.errors.is_empty() && plain(item) && item.container.is_none() => {
            Some((Some(item.amount.clone()), item.name.clone()))
        }
        _ => None,
    }
}
