//! Putting right what was booked last: "make it 160", "no, 31 not 13", "that was hers", "take the beans off".
//!
//! ```text
//! fix     := amount | name | whose | when | remove | put-back
//! amount  := ("make it" | "should be" | "i meant" | "change" ["it"] "to") value
//!          | ["no" | "sorry"] value "not" number [name] | "make" "the" name number
//! value   := amount [name]
//! name    := ["no"] ["it was" | "i meant"] words "not" words | "change" words "to" words
//! whose   := ["that was"] ("hers" | "his" | person "'s" | "for" person)
//! when    := "that was" [day] [meal]
//! remove  := "take" ["off"] name ["off" | "out"] | "remove" name | "without" name
//! put-back := "put back" items | "put" items "back" | items ("went" | "goes") "back"
//! ```

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::date::{day, meal};
use crate::lang::item::list;
use crate::lang::name;
use crate::lang::syntax::{Command, Fix, Item, Words};
use crate::lang::tokens::{Read, Tokens, phrase, word};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{corrections, outros};

const NAME_WORDS_MAX: usize = 6;
/// "160 g not 140 g of the lentil dal", and no more.
const SWAP_TOKENS_MAX: usize = 14;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    if body.len() > 24 {
        return input.no();
    }
    let fix = whose_or_when(body)
        .or_else(|| put_back(body))
        .or_else(|| remove(body))
        .or_else(|| changed(body))
        .or_else(|| not_that(body));
    match fix {
        Some(fix) => Ok((input.after(input.len()), Command::Fix(fix))),
        None => input.no(),
    }
}

// ---- whose plate, and when

fn whose_or_when(body: Tokens<'_>) -> Option<Fix> {
    let body = without_excuse(body);
    let (rest, said) = opt(alt((
        (
            word(&["that", "it", "this"]),
            opt(word(&["one", "plate", "last", "bowl"])),
            word(&["was", "is", "were"]),
        )
            .map(|_| ()),
        word(&["thats", "those", "no"]).map(|_| ()),
    )))
    .parse(body)
    .ok()?;
    if let Some(words) = person(rest) {
        return Some(Fix::Whose(words));
    }
    said?;
    let (day, meal, rest) = when(rest);
    (rest.trimmed().is_empty() && (day.is_some() || meal.is_some()))
        .then_some(Fix::When { day, meal })
}

/// "hers", "Ana's", "for Ana"
fn person(input: Tokens<'_>) -> Option<Words> {
    let skip = usize::from(matches!(input.norm(0), "for" | "from"));
    let rest = input.after(skip);
    let said = rest.norm(0);
    let pronoun = matches!(said, "hers" | "his" | "theirs")
        || skip == 1 && matches!(said, "her" | "him" | "them");
    let bare = said.strip_suffix('s').unwrap_or(said);
    let named = input.vocabulary.is(Sense::Person, &[said]) && skip == 1
        || said != bare && input.vocabulary.is(Sense::Person, &[bare]);
    let alone =
        rest.len() == 1 || rest.len() == 2 && matches!(rest.norm(1), "one" | "plate" | "not");
    if !alone || !(pronoun || named) {
        return None;
    }
    let mut words = rest.range(0, 1).words();
    if named {
        // "Ana's" is Ana.
        let owner = words
            .text
            .trim_end_matches(['s', 'S'])
            .trim_end_matches(['\'', '’'])
            .to_owned();
        if input
            .vocabulary
            .is(Sense::Person, &[owner.to_lowercase().as_str()])
        {
            words.text = owner;
        }
    }
    Some(words)
}

/// A day, a meal, or both.
fn when(
    input: Tokens<'_>,
) -> (
    Option<crate::lang::syntax::Day>,
    Option<crate::lang::syntax::MealName>,
    Tokens<'_>,
) {
    let mut rest = match input.norm(0) {
        "for" | "from" => input.after(1),
        _ => input,
    };
    let mut said = (None, None);
    loop {
        if said.0.is_none()
            && let Ok((next, day)) = day(rest)
        {
            said.0 = Some(day);
            rest = next;
            continue;
        }
        if said.1.is_none()
            && let Ok((next, meal)) = meal(rest)
        {
            said.1 = Some(meal);
            rest = next;
            continue;
        }
        return (said.0, said.1, rest);
    }
}

// ---- taking off and putting back

fn put_back(body: Tokens<'_>) -> Option<Fix> {
    let (rest, back) = match (body.norm(0), body.norm(1)) {
        ("put" | "putting", "back") => (body.after(2), true),
        ("put" | "returned" | "return", _) => (body.after(1), body.norm(0) != "put"),
        _ => (body, false),
    };
    let rest = rest.trimmed();
    let back_at = rest.slice.iter().rposition(|token| token.norm() == "back");
    let items = match (back, back_at) {
        (true, _) => rest,
        (false, Some(at)) if at > 0 && at + 3 >= rest.len() => {
            let end = at - usize::from(matches!(rest.norm(at - 1), "went" | "goes" | "put"));
            rest.range(0, end)
        }
        _ => return None,
    };
    let items = list(items);
    (items.errors.is_empty() && !items.items.is_empty()).then_some(Fix::PutBack(items.items))
}

fn remove(body: Tokens<'_>) -> Option<Fix> {
    // "no cheddar after all"
    if body.norm(0) == "no"
        && body.len() > 3
        && body.norm(body.len() - 2) == "after"
        && body.norm(body.len() - 1) == "all"
    {
        let name = name::bare(body.range(1, body.len() - 2));
        return (name.is_wordy() && is_known(name)).then(|| Fix::Remove(name.words()));
    }
    let name = match (body.norm(0), body.norm(1)) {
        ("take", "off" | "out") => body.after(2),
        ("take" | "leave" | "strike" | "cross", _)
            if matches!(body.last()?.norm(), "off" | "out") =>
        {
            body.range(1, body.len() - 1)
        }
        ("remove" | "delete" | "scratch" | "scrap" | "without" | "minus", _) => body.after(1),
        _ => return None,
    };
    let name = name::bare(name);
    let named = name.is_wordy()
        && name.len() <= NAME_WORDS_MAX
        && !matches!(name.norm(0), "that" | "it" | "this" | "me");
    named.then(|| Fix::Remove(name.words()))
}

// ---- another amount, another name

/// "make it 160", "i meant 160 dal", "change rice to barley", "make the dal 160"
fn changed(body: Tokens<'_>) -> Option<Fix> {
    let excused = matches!(
        body.norm(0),
        "no" | "sorry" | "sry" | "soz" | "nah" | "wait" | "oops" | "correction" | "nvm"
    );
    let body = without_excuse(body);
    // "the dal should be 160"
    let should = body.find(|token| token.norm() == "should");
    if let Some(at) = should.filter(|&at| at > 0 && body.norm(at + 1) == "be") {
        let before = name::bare(body.range(0, at));
        return changed_from(before, body.after(at + 2));
    }
    // "beans were 60 actually"
    if let Some(fix) = was(body) {
        return Some(fix);
    }
    // "no, 160", "sry 201", "no, butter 15"
    let corrected = body.has_number() && body.find(|token| token.norm() == "not").is_none();
    if excused && corrected && phrase(corrections())(body).is_err() {
        match value(body) {
            Some(Fix::Amount { new, old, name }) => return Some(Fix::Amount { new, old, name }),
            _ => return None,
        }
    }
    let (rest, _) = phrase(corrections())(body).ok()?;
    let rest = rest.without_lead();
    if (body.norm(0) == "change" || body.norm(0) == "make" || body.norm(0) == "correct")
        && let Some(to) = rest.find(|token| token.norm() == "to")
    {
        let before = name::bare(rest.range(0, to));
        let after = rest.after(to + 1);
        return changed_from(before, after);
    }
    if body.norm(0) == "swap" {
        let at = rest.find(|token| matches!(token.norm(), "for" | "with"))?;
        return changed_from(name::bare(rest.range(0, at)), rest.after(at + 1));
    }
    if let Some(fix) = not_that(rest) {
        return Some(fix);
    }
    value(rest)
}

/// "the beans were 60", "rice was 120 actually": another amount for what was named.
fn was(body: Tokens<'_>) -> Option<Fix> {
    let at = body.find(|token| matches!(token.norm(), "was" | "were"))?;
    let name = name::bare(body.range(0, at));
    if at == 0 || at > NAME_WORDS_MAX || !name.is_wordy() || !is_known(name) {
        return None;
    }
    let mut rest = body.after(at + 1);
    while matches!(rest.norm(0), "actually" | "only" | "really") {
        rest = rest.after(1);
    }
    let end = outros().length_at_end(rest.slice);
    let rest = rest.range(0, rest.len() - end).trimmed();
    match not_that(rest).or_else(|| value(rest))? {
        Fix::Amount {
            new,
            old,
            name: None,
        } => Some(Fix::Amount {
            new,
            old,
            name: Some(name.words()),
        }),
        _ => None,
    }
}

fn changed_from(before: Tokens<'_>, after: Tokens<'_>) -> Option<Fix> {
    let it =
        before.is_empty() || matches!(before.norm(0), "it" | "that" | "this") && before.len() == 1;
    match value(after)? {
        Fix::Amount { new, old, name } => {
            let named = (!it && before.is_wordy()).then(|| before.words());
            Some(Fix::Amount {
                new,
                old,
                name: name.or(named),
            })
        }
        Fix::Name { new, .. } if !it && before.is_wordy() => Some(Fix::Name {
            new,
            old: Some(before.words()),
        }),
        _ => None,
    }
}

/// "160", "160 dal", "the dal 160", "barley"
fn value(input: Tokens<'_>) -> Option<Fix> {
    let input = input.trimmed();
    if input.is_empty() {
        return None;
    }
    if let Ok((rest, new)) = amount(input, Stands::AfterName) {
        let rest = name::bare(rest);
        if rest.is_empty() {
            return Some(Fix::Amount {
                new,
                old: None,
                name: None,
            });
        }
    }
    let read = list(input);
    match read.items.as_slice() {
        [Item { amount, name, .. }] if read.errors.is_empty() => Some(Fix::Amount {
            new: amount.clone(),
            old: None,
            name: Some(name.clone()),
        }),
        _ => {
            let name = name::bare(input);
            let named = name.is_wordy() && name.len() <= 4 && is_known(name);
            named.then(|| Fix::Name {
                new: name.words(),
                old: None,
            })
        }
    }
}

/// "31 not 13", "160 not 140 dal", "it was barley not rice", "not rice, barley"
fn not_that(body: Tokens<'_>) -> Option<Fix> {
    let listed = body
        .slice
        .iter()
        .any(|token| token.is('(') || token.is('+'));
    if body.len() > SWAP_TOKENS_MAX || listed {
        return None;
    }
    let body = without_excuse(body);
    let (body, _) = opt(alt((
        (
            word(&["it", "that", "this"]),
            word(&["was", "is", "should"]),
            opt(word(&["be"])),
        )
            .map(|_| ()),
        word(&["its", "thats", "i"]).map(|_| ()),
    )))
    .parse(body)
    .ok()?;
    let at = body.find(|token| token.norm() == "not")?;
    if at == 0 {
        let comma = body.find(|token| token.is(','))?;
        return swapped(body.after(comma + 1), body.range(1, comma));
    }
    swapped(body.range(0, at), body.after(at + 1))
}

fn swapped(new: Tokens<'_>, old: Tokens<'_>) -> Option<Fix> {
    let (new, old) = (new.trimmed(), old.trimmed());
    if new.is_empty() || old.is_empty() {
        return None;
    }
    match (value(new), value(old)) {
        (
            Some(Fix::Amount { new, name, .. }),
            Some(Fix::Amount {
                new: old,
                name: other,
                ..
            }),
        ) => Some(Fix::Amount {
            new,
            old: Some(old),
            name: name.or(other),
        }),
        _ => {
            let (new, old) = (name::bare(new), name::bare(old));
            let wordy = new.is_wordy() && old.is_wordy() && new.len() <= 4 && old.len() <= 4;
            (wordy && (is_known(new) || is_known(old))).then(|| Fix::Name {
                new: new.words(),
                old: Some(old.words()),
            })
        }
    }
}

fn is_known(name: Tokens<'_>) -> bool {
    name::familiarity(&name.words().text, name) >= name::Familiarity::Food
}

pub fn without_excuse(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed_front();
    while matches!(
        rest.norm(0),
        "no" | "sorry"
            | "sry"
            | "soz"
            | "nah"
            | "yeah"
            | "oops"
            | "oh"
            | "wait"
            | "actually"
            | "nope"
            | "argh"
            | "correction"
            | "ah"
    ) {
        rest = rest.after(1).trimmed_front();
    }
    rest
}
