//! Taking off, putting back, and having more of the same.

use super::{after, before, known_name, line, owner, said, whole_of, without_closing};
use crate::lang::amount::{Stands, amount};
use crate::lang::command::{again, portion};
use crate::lang::item;
use crate::lang::name;
use crate::lang::syntax::{Amount, Command, Fix, Item, Line, Words};
use crate::lang::tokens::Tokens;
use crate::lang::words::{containers, pots};

/// A smaller number that something "was" may be its price.
const TOLD_GRAMS_MIN: f64 = 5.0;

/// "no cheddar after all", "wait, no beans, take those out"
pub fn denied(body: Tokens<'_>) -> Option<Words> {
    let mut rest = body.trimmed_front();
    while rest.norm(0) != "no" {
        let length = said("excuse", rest).or_else(|| said("lead", rest))?;
        rest = rest.after(length).trimmed_front();
    }
    known_name(before("after all", rest.after(1))?.trimmed_end())
}

/// "no butter", "there was no butter": of several things that are put right
pub fn absent(piece: Tokens<'_>) -> Option<Words> {
    let piece = without_closing(piece);
    let rest = after("none", after("there was", piece).unwrap_or(piece))?;
    // "no, the dal" names what is meant.
    known_name(rest).filter(|_| rest.norm(0) != "the" || piece.norm(0) != "no")
}

/// "put back 80 dal", "put 80 dal back", "left 40 of it", "10 less rice", "knock 10 off the dal"
pub fn put_back(body: Tokens<'_>) -> Option<Fix> {
    if let Some(items) = less(body) {
        return Some(Fix::PutBack(items));
    }
    if let Some(rest) = after("back", body) {
        let rest = without_place(rest);
        let rest = before_return(rest, true).unwrap_or(rest);
        return returned(rest).map(Fix::PutBack);
    }
    if let Some(rest) = before("stays", body)
        && let Some([item]) = returned(rest).as_deref()
    {
        return Some(Fix::Left(item.clone()));
    }
    let skip = said("giving", body).unwrap_or(0);
    let items = before_return(body.after(skip), skip > 0)?;
    let marked = skip > 0 || !whole_of(body.after(body.len() - 1), "more");
    returned(items).filter(|_| marked).map(Fix::PutBack)
}

/// "took 20 of the beans out again": of what was just put there.
pub fn taken_out(body: Tokens<'_>) -> Option<Fix> {
    let items = after("takes out", before("out again", body)?)?;
    returned(items).map(Fix::PutBack)
}

/// What stands before "back in the pot"; behind a verb before "off" as well.
fn before_return<'a>(input: Tokens<'a>, verb: bool) -> Option<Tokens<'a>> {
    let input = match without_place(input) {
        placed if before("returns", placed).is_some() => placed,
        _ => input,
    };
    let behind = || before("returns behind a verb", input).filter(|_| verb);
    before("returns", input).or_else(behind)
}

/// Without the vessel that it went to: "to the pot".
fn without_place(input: Tokens<'_>) -> Tokens<'_> {
    let end = input.len();
    let vessel = input
        .last()
        .is_some_and(|last| containers().holds(last) || pots().holds(last));
    let article = usize::from(end > 2 && matches!(input.norm(end - 2), "the" | "its" | "my"));
    let to = (end > 1 + article).then(|| input.norm(end - 2 - article));
    match to {
        Some("to" | "into" | "in") if vessel => input.range(0, end - 2 - article),
        _ => input,
    }
}

/// "10 less rice", "10 less", "knock 10 off the dal", "take 20 off"
fn less(body: Tokens<'_>) -> Option<Vec<Item>> {
    if let Ok((rest, amount)) = amount(body, Stands::AfterName)
        && let Some(rest) = after("less", rest)
    {
        return item(amount, rest).map(|item| vec![item]);
    }
    let rest = after("unless", body)?;
    let (rest, amount) = amount(rest, Stands::AfterName).ok()?;
    if rest.norm(0) != "off" {
        return None;
    }
    item(amount, rest.after(1)).map(|item| vec![item])
}

pub fn item(amount: Amount, name: Tokens<'_>) -> Option<Item> {
    let span = name.span();
    let unnamed = name.is_empty() || whole_of(name, "that");
    let name = match unnamed {
        true => Words::new("", span.clone()),
        false => known_name(name)?,
    };
    Some(Item::new(amount, name).at(span))
}

/// "80 dal", "60", "70 of it", "about 70 of the soup"
fn returned(input: Tokens<'_>) -> Option<Vec<Item>> {
    let input = input.trimmed();
    if let Ok((rest, amount)) = amount(input, Stands::AfterName) {
        let rest = rest.after(usize::from(rest.norm(0) == "of"));
        if let Some(item) = item(amount, rest) {
            return Some(vec![item]);
        }
    }
    let read = item::list(input);
    let known = |item: &Item| name::familiarity(&item.name.text, input) >= name::Familiarity::Food;
    let whole = read.errors.is_empty() && !read.items.is_empty();
    (whole && read.items.iter().all(known)).then_some(read.items)
}

/// "take the beans off", "skip the dal", "scrap the rice"
pub fn remove(body: Tokens<'_>) -> Option<Fix> {
    let split_verb = matches!(body.norm(0), "take" | "leave" | "strike" | "cross")
        && body.len() > 2
        && matches!(body.last()?.norm(), "off" | "out");
    let name = match split_verb {
        true => body.range(1, body.len() - 1),
        false => after("off", body)?,
    };
    let name = name::bare(without_closing(name));
    let known = name.is_wordy() && name.len() <= super::NAME_WORDS_MAX;
    let idle = whole_of(name, "that") || whole_of(name, "plate") || matches!(name.norm(0), "me");
    if !known || idle {
        return None;
    }
    // "take Ana's beans off"
    let owned = owner(name).and_then(|_| line(name));
    Some(Fix::Remove(owned.unwrap_or(Line::named(name.words()))))
}

/// "yogurt off again": what was put there is gone again.
pub fn gone_again(piece: Tokens<'_>) -> Option<Fix> {
    let name = known_name(before("off again", piece.trimmed())?)?;
    Some(Fix::Remove(Line::named(name)))
}

/// "forgot the cheddar": what the next clause tells the amount of.
pub fn forgotten(piece: Tokens<'_>) -> Option<Words> {
    let piece = super::without_excuse(piece);
    let piece = piece.after(usize::from(piece.norm(0) == "plus"));
    known_name(after("forgot", piece)?)
}

/// "forgot the cheddar, 25", "forgot the oil, was 10"
pub fn added(piece: Tokens<'_>, name: Words) -> Option<Command> {
    let told = after("was", after("that", piece).unwrap_or(piece));
    let amount = only_amount(without_closing(told.unwrap_or(piece)))?;
    // "forgot the milk, was 1.20"
    let little = matches!(amount, Amount::Bare(grams) if grams < TOLD_GRAMS_MIN);
    (told.is_none() || !little).then(|| with_last(amount, name))
}

/// "put 30 salsa on mine"
fn put_on(body: Tokens<'_>) -> Option<Command> {
    let rest = after("on", body)?;
    let at = rest.slice.iter().rposition(|token| token.norm() == "on")?;
    if !whole_of(rest.after(at + 1), "mine") {
        return None;
    }
    let plates = portion::read(rest.range(0, at)).filter(|plates| plates.errors.is_empty())?;
    let [portion] = plates.portions.as_slice() else {
        return None;
    };
    let mut portion = portion.clone();
    // "on my plate" may begin one.
    portion.with_last = !matches!(body.last()?.norm(), "plate" | "bowl");
    Some(Command::Portion(portion))
}

/// "60 more", "another 60", "add 20 to the rice", "seconds, 80", "seconds: 120 chili", "seconds, same again"
pub fn more(body: Tokens<'_>) -> Option<Command> {
    if let Some(length) = said("seconds", body) {
        return a_second(body.after(length).without_lead());
    }
    if let Some(command) = put_on(body) {
        return Some(command);
    }
    // "add another 30"
    let rest = body.after(1);
    let again = said("more", rest).is_some() || before("more", rest).is_some();
    if body.norm(0) == "add"
        && again
        && let Some(command) = more(rest)
    {
        return Some(command);
    }
    if body.norm(0) == "add"
        && let Some(at) = body.slice.iter().rposition(|token| token.norm() == "to")
    {
        let amount = only_amount(body.range(1, at))?;
        if whole_of(body.after(at + 1), "that") {
            return Some(Command::Fix(Fix::More(amount)));
        }
        let name = known_name(body.after(at + 1))?;
        return Some(with_last(amount, name));
    }
    let rest = match said("more", body) {
        Some(length) => body.after(length),
        None => {
            let rest = before("more", body)?;
            after("fetched", rest).unwrap_or(rest)
        }
    };
    only_amount(rest).map(|amount| Command::Fix(Fix::More(amount)))
}

fn a_second(rest: Tokens<'_>) -> Option<Command> {
    if let Ok((_, command)) = again::read(rest) {
        return Some(command);
    }
    let rest = without_closing(rest);
    let numbered = before("more", rest).unwrap_or(rest);
    if let Some(amount) = only_amount(numbered) {
        return Some(Command::Fix(Fix::More(amount)));
    }
    let plates = portion::read(rest).filter(|plates| plates.errors.is_empty())?;
    let [portion] = plates.portions.as_slice() else {
        return None;
    };
    let mut portion = portion.clone();
    portion.with_last = true;
    (!portion.items.is_empty()).then_some(Command::Portion(portion))
}

fn only_amount(input: Tokens<'_>) -> Option<Amount> {
    let skip = usize::from(matches!(input.norm(0), "another" | "about" | "an"));
    let (rest, amount) = amount(input.after(skip), Stands::AfterName).ok()?;
    let counted = matches!(amount, Amount::Bare(_) | Amount::Mass(_));
    (counted && rest.trimmed().is_empty()).then_some(amount)
}

pub fn with_last(amount: Amount, name: Words) -> Command {
    let item = Item::new(amount, name);
    Command::Portion(crate::lang::syntax::Portion {
        items: vec![item],
        with_last: true,
        ..Default::default()
    })
}
