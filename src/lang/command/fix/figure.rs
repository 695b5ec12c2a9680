//! Another amount, another name.

use super::owner::{for_owner, led_owner};
use super::{
    after, before, is_known, line, of_meal, quoted, said, without_closing, without_excuse,
};
use crate::lang::amount::{Stands, amount, grams};
use crate::lang::item::list;
use crate::lang::name::{self, Familiarity, familiarity};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Command, Figure, Fix, Item, Line, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::{at_table, repeats, selectors};

/// "the 200 lentil dal I had at lunch with them"
const LINE_WORDS_MAX: usize = 12;
/// "160 g not 140 g of the lentil dal", and no more.
const SWAP_TOKENS_MAX: usize = 14;

/// `excused`: "no", "sorry" stood before it; `closed`: "i mean", "sorry" behind it.
pub fn read(body: Tokens<'_>, excused: bool, closed: bool) -> Option<Fix> {
    if let Some(fix) = retyped(body, excused || closed) {
        return Some(fix);
    }
    if let Some(fix) = becomes(body)
        .or_else(|| not_that(body))
        .or_else(|| arrow(body))
        .or_else(|| turned(body))
        .or_else(|| swap(body))
    {
        return Some(fix);
    }
    if let Some(rest) = after("opens", body) {
        let rest = without_closing(without_excuse(rest.without_lead()));
        if let Some(fix) = not_that(rest) {
            return Some(fix);
        }
        let (rest, owner) = for_owner(rest);
        let line = Line {
            owner,
            ..Line::default()
        };
        return value(rest).and_then(|value| value.into_fix(line));
    }
    // "thats 115 barley" is a plate; "its 115" and "from the new batch" put right.
    if let Some(rest) = after("tells", body) {
        let rest = without_closing(rest.without_lead());
        return match value(rest)? {
            Value::Amount(_, Some(_)) if !excused => None,
            found => found.into_fix(Line::default()),
        };
    }
    if !excused && !closed {
        return None;
    }
    match value(body)? {
        found @ Value::Amount(..) => found.into_fix(Line::default()),
        Value::Name(new) if chooses(body) => Some(renaming(new, None, None)),
        Value::Name(new) => Some(renaming(new, Some(chosen_dish(body)?), None)),
    }
}

fn renaming(new: Words, old: Option<Words>, amount: Option<Amount>) -> Fix {
    Fix::Name { new, old, amount }
}

/// What a correction sets: an amount with or without a name, or a name.
enum Value {
    Amount(Amount, Option<Words>),
    Name(Words),
}

impl Value {
    fn into_fix(self, mut line: Line) -> Option<Fix> {
        match self {
            Value::Amount(amount, name) => {
                line.name = name.or(line.name);
                let new = Figure::Is(amount);
                Some(Fix::Amount { new, line })
            }
            Value::Name(new) if line.owner.is_none() => Some(renaming(new, line.name, None)),
            Value::Name(_) => None,
        }
    }
}

/// "160", "160 dal", "the dal 160", "barley", "the new one", "130 for Ana"
fn value(input: Tokens<'_>) -> Option<Value> {
    let input = input.trimmed();
    if input.is_empty() || (0..input.len()).any(|at| is_shared(input.after(at))) {
        return None;
    }
    if let Ok((rest, new)) = amount(input, Stands::AfterName)
        && name::bare(rest).is_empty()
    {
        return Some(Value::Amount(new, None));
    }
    if chooses(input) {
        return Some(Value::Name(name::bare(input).words()));
    }
    // "30 more cheddar" is put on top.
    if input
        .slice
        .iter()
        .any(|token| said("more", input.with(std::slice::from_ref(token))).is_some())
    {
        return None;
    }
    let read = list(input);
    let heard = |name: &Words| {
        familiarity(&name.text, input) >= Familiarity::Food
            || input.vocabulary.is_spelled_nearly(&name.text)
    };
    match read.items.as_slice() {
        [Item { amount, name, .. }] if read.errors.is_empty() && heard(name) => {
            Some(Value::Amount(amount.clone(), Some(name.clone())))
        }
        [] => {
            let name = name::bare(input);
            let named = name.is_wordy() && name.len() <= 4 && is_known(name);
            named.then(|| Value::Name(name.words()))
        }
        _ => None,
    }
}

/// "140 each for me and Tom"
fn is_shared(input: Tokens<'_>) -> bool {
    matches!(
        at_table().longest(input.slice),
        Some((_, "each" | "split" | "evenly" | "halves"))
    )
}

/// "the new one", "the old lot", "Sunday's": another batch of the same name.
fn chooses(input: Tokens<'_>) -> bool {
    let name = name::bare(input);
    let chosen = selectors().has(name.norm(0))
        && !matches!(name.norm(0), "that" | "this" | "first" | "last");
    let ends = matches!(
        name.norm(1),
        "one" | "lot" | "batch" | "pot" | "stuff" | "tub"
    );
    chosen && ends && name.len() == 2
}

/// "the new stew": another batch of the dish that stands.
fn chosen_dish(input: Tokens<'_>) -> Option<Words> {
    let name = name::bare(input);
    let dish = name.after(1);
    let words: Vec<&str> = dish.slice.iter().map(Token::norm).collect();
    let chosen =
        selectors().has(name.norm(0)) && !matches!(name.norm(0), "that" | "this" | "other");
    (chosen && input.vocabulary.is_batch(&words)).then(|| dish.words())
}

/// "*105", "105*", "130!!", "130 omg"; alone it means only what is a slip of the finger away.
fn retyped(body: Tokens<'_>, told: bool) -> Option<Fix> {
    // The lexer takes a star for decoration.
    let starred = body.text.contains('*');
    let mark = |token: &&Token| matches!(token.kind, Kind::Symbol('!'));
    let start = body.slice.iter().take_while(mark).count();
    let end = body.len()
        - body
            .after(start)
            .slice
            .iter()
            .rev()
            .take_while(mark)
            .count();
    let (rest, new) = grams(body.range(start, end)).ok()?;
    if !rest.is_empty() {
        return None;
    }
    let new = match starred || told {
        true => Figure::Is(Amount::Bare(new)),
        false => Figure::Retyped(new),
    };
    let line = Line::default();
    Some(Fix::Amount { new, line })
}

/// A bare number and nothing that makes it a correction.
pub fn is_retyped(command: &Command) -> bool {
    let retyped = |new: &Figure| matches!(new, Figure::Retyped(_));
    matches!(command, Command::Fix(Fix::Amount { new, .. }) if retyped(new))
}

/// "rice 80 -> 95", "80 -> 95 rice", "80 to 95"
fn arrow(body: Tokens<'_>) -> Option<Fix> {
    let at = body.find(|token| token.is('→') || token.is('>'))?;
    let dashed = at > 0 && body.slice[at - 1].is('-');
    let (rest, new) = grams(body.after(at + 1)).ok()?;
    let before = body.range(0, at - usize::from(dashed));
    let old_at = before.find(Token::is_numeric)?;
    let (between, old) = grams(before.after(old_at)).ok()?;
    if !between.is_empty() {
        return None;
    }
    let named = [before.range(0, old_at), rest].map(|side| name::bare(side.trimmed()));
    let name = match named {
        [front, back] if back.is_empty() && !front.is_empty() => Some(front),
        [front, back] if front.is_empty() && !back.is_empty() => Some(back),
        [front, back] if front.is_empty() && back.is_empty() => None,
        _ => return None,
    };
    if name.is_some_and(|name| !name.is_wordy() || !is_known(name)) {
        return None;
    }
    Some(Fix::Amount {
        new: Figure::Is(Amount::Bare(new)),
        line: Line {
            old: Some(Amount::Bare(old)),
            name: name.map(|name| name.words()),
            ..Line::default()
        },
    })
}

/// "the rice should be 115", "ana's was 150", "beans were 60 actually"
fn becomes(body: Tokens<'_>) -> Option<Fix> {
    let at = (1..body.len().min(LINE_WORDS_MAX))
        .find(|&at| said("becomes", body.after(at)).is_some())?;
    let told = body.range(0, at);
    let mut line = quoted::line(told).or_else(|| line(told))?;
    if let Some(meal) = line.name.as_ref().and_then(|name| of_meal(&name.text)) {
        (line.meal, line.name) = (Some(meal), None);
    }
    if line == Line::default() {
        return None;
    }
    let mut rest = after("becomes", body.after(at))?;
    while matches!(
        rest.norm(0),
        "actually" | "only" | "really" | "more" | "like"
    ) {
        rest = rest.after(1);
    }
    let rest = without_closing(rest).trimmed();
    let rest = match rest.last().map(Token::norm) {
        Some("actually" | "really") => rest.range(0, rest.len() - 1),
        _ => rest,
    };
    match not_that(rest) {
        Some(Fix::Amount { new, line: told }) => {
            let name = told.name.or(line.name);
            let old = told.old;
            let line = Line { old, name, ..line };
            Some(Fix::Amount { new, line })
        }
        Some(_) => None,
        None => value(rest)?
            .into_fix(line)
            .filter(|fix| matches!(fix, Fix::Amount { .. })),
    }
}

/// "210" and nothing else
pub fn alone(piece: Tokens<'_>) -> Option<Amount> {
    let (rest, new) = grams(without_closing(without_excuse(piece))).ok()?;
    rest.is_empty().then_some(Amount::Bare(new))
}

/// "mine was 130 and Tom's 250": the second leaves the verb out.
pub fn elliptic(piece: Tokens<'_>) -> Option<Command> {
    let body = without_closing(without_excuse(piece));
    let at = body.find(Token::is_numeric)?;
    let line = line(body.range(0, at))?;
    let (rest, new) = amount(body.after(at), Stands::AfterName).ok()?;
    if line == Line::default() || !rest.is_empty() {
        return None;
    }
    let new = Figure::Is(new);
    Some(Command::Fix(Fix::Amount { new, line }))
}

/// "change rice to 160", "make ana's soup 130", "bump the dal up to 110", "change rice to barley"
fn turned(body: Tokens<'_>) -> Option<Fix> {
    let rest = after("turns", body)?;
    let mut at = rest.find(|token| token.norm() == "to");
    let told = at.is_some();
    at = at.or_else(|| rest.find(Token::is_numeric));
    let at = at?;
    let end = at - usize::from(at > 0 && matches!(rest.norm(at - 1), "up" | "down" | "from"));
    let line = line(rest.range(0, end))?;
    if !told && line == Line::default() {
        return None;
    }
    let found = value(rest.after(at + usize::from(told)))?;
    // "make rice barley"
    let renames = matches!(found, Value::Name(_)) && line.name.is_none();
    (!renames).then(|| found.into_fix(line)).flatten()
}

/// "swap the rice for barley", "swap the beans for the same of barley"
fn swap(body: Tokens<'_>) -> Option<Fix> {
    let rest = after("swaps", body)?;
    let at = rest.find(|token| matches!(token.norm(), "for" | "with" | "by"))?;
    let line = line(rest.range(0, at))?;
    line.name.as_ref()?;
    value(as_much(rest.after(at + 1)))?.into_fix(line)
}

/// "the same of barley" is as much barley.
fn as_much(input: Tokens<'_>) -> Tokens<'_> {
    let same = repeats().longest_of(input.slice, "same").unwrap_or(0);
    let rest = input.after(same);
    rest.after(usize::from(same > 0 && rest.norm(0) == "of"))
}

/// "31 not 13", "160 not 140 dal", "it was barley not rice", "not rice, barley", "Ana had 200 chilli, not 220"
fn not_that(body: Tokens<'_>) -> Option<Fix> {
    let listed = body
        .slice
        .iter()
        .any(|token| token.is('(') || token.is('+'));
    if body.len() > SWAP_TOKENS_MAX || listed {
        return None;
    }
    let mut body = without_excuse(body);
    if let Some(rest) = after("opens", body) {
        body = without_excuse(rest);
    } else if body.norm(0) == "i" {
        body = body.after(1);
    }
    if let Some((rest, who)) = led_owner(body) {
        let at = rest.find(|token| token.norm() == "not")?;
        let fix = swapped(rest.range(0, at), rest.after(at + 1), Some(who));
        return fix.filter(|fix| matches!(fix, Fix::Amount { .. }));
    }
    let (body, owner) = for_owner(body);
    let at = body.find(|token| token.norm() == "not")?;
    if at == 0 {
        let comma = body.find(|token| token.is(','))?;
        return swapped(body.after(comma + 1), body.range(1, comma), owner);
    }
    swapped(body.range(0, at), body.after(at + 1), owner)
}

fn swapped(new: Tokens<'_>, old: Tokens<'_>, owner: Option<Words>) -> Option<Fix> {
    let (new, old) = (
        without_excuse(new.trimmed()),
        without_closing(old.trimmed()),
    );
    if new.is_empty() || old.is_empty() {
        return None;
    }
    match (value(new), value(old)) {
        (Some(Value::Amount(new, name)), Some(Value::Amount(old, other))) => Some(Fix::Amount {
            new: Figure::Is(new),
            line: Line {
                old: Some(old),
                name: name.or(other),
                owner,
                ..Line::default()
            },
        }),
        // "210 chilli not soup"
        (Some(Value::Amount(amount, Some(name))), Some(Value::Name(old))) if owner.is_none() => {
            Some(renaming(name, Some(old), Some(amount)))
        }
        _ => {
            let (new, old) = (name::bare(new), name::bare(old));
            let wordy = new.is_wordy() && old.is_wordy() && new.len() <= 4 && old.len() <= 4;
            (wordy && (is_known(new) || is_known(old)))
                .then(|| renaming(new.words(), Some(old.words()), None))
        }
    }
}

/// "double that", "halve the rice", "make it double", "make it times 2 rice"
pub fn times(body: Tokens<'_>) -> Option<Fix> {
    let rest = match after("turns", body) {
        Some(rest) => rest,
        None => body,
    };
    let turned = rest.len() < body.len();
    // "make the rice double"
    if turned && let Some((before, factor)) = factor_last(rest) {
        let line = line(before)?;
        return Some(fix_times(factor, line));
    }
    let rest = match rest.norm(0) {
        "it" | "that" if turned => rest.after(1),
        _ => rest,
    };
    let (factor, halves, after) = factor(rest)?;
    let after = after.after(usize::from(after.norm(0) == "of"));
    let (named, owner) = for_owner(after);
    // "half the dal" is what was eaten of it.
    let told = turned || !halves || matches!(body.norm(0), "halve" | "halved");
    let mut line = line(named).filter(|line| told || line.name.is_none())?;
    let unsaid = named.is_empty() && owner.is_none();
    if unsaid && !turned {
        return None;
    }
    line.owner = line.owner.or(owner);
    Some(fix_times(factor, line))
}

fn fix_times(times: f64, line: Line) -> Fix {
    let new = Figure::Times(times);
    Fix::Amount { new, line }
}

fn factor_last(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    [("double", 2.0), ("half", 0.5), ("triple", 3.0)]
        .into_iter()
        .find_map(|(part, factor)| Some((before(part, input)?, factor)))
}

/// The factor, and whether it halves.
fn factor(input: Tokens<'_>) -> Option<(f64, bool, Tokens<'_>)> {
    for (part, factor) in [("double", 2.0), ("half", 0.5), ("triple", 3.0)] {
        if let Some(rest) = after(part, input) {
            return Some((factor, factor < 1.0, rest));
        }
    }
    let (rest, said) = number(input.after(1))
        .ok()
        .filter(|_| matches!(input.norm(0), "times" | "x"))?;
    (said.value > 0.0).then_some((said.value, false, rest))
}

/// "I had the 60", "mine was the 60": says again what a swap says.
pub fn retells(piece: Tokens<'_>) -> bool {
    let rest = match (piece.norm(0), piece.norm(1)) {
        ("i" | "me" | "mine", "had" | "was" | "got" | "took" | "is") => piece.after(2),
        _ => match person(piece) {
            Some((length, _)) if matches!(piece.norm(length), "had" | "was" | "got") => {
                piece.after(length + 1)
            }
            _ => return false,
        },
    };
    let rest = rest.after(usize::from(rest.norm(0) == "the"));
    rest.len() <= 2 && rest.first().is_some_and(Token::is_numeric)
}
