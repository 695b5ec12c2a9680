//! A plate eaten again: "same as yesterday", "same again", "same as Ana but no rice", "my usual".
//!
//! ```text
//! again := [who "had" | lead] [times "of"] model ["for" who] [meal] { but }
//!        | [lead] ["me too" ["but"]] amount ["of it"] ["for" who] ["too"]
//! model := "same" [meal | name] [now] ["as" (day | person | "always")] | "same" "again" | "what" person "had" | "ditto"
//!        | ["my" | "the"] "usual" [meal] | "me too"
//! but   := ("but" | ",") ("no" name | "only" name | times name | item) | ("plus" | "with") item
//! ```
//! The words stand in `data/repeats.txt`.

use crate::lang::rank::SCALE_GRAMS_MIN;
use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::command::only_marks;
use crate::lang::date::{day, meal};
use crate::lang::item::list;
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::person::{people, person};
use crate::lang::syntax::{Again, AgainOf, Amount, But, Command, Item, MealName, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{corrections, repeats};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.slice.iter().any(|token| token.is('?'));
    match again(input.trimmed()) {
        Some(again) if !asked => Ok((input.after(input.len()), Command::Again(again))),
        _ => input.no(),
    }
}

fn again(input: Tokens<'_>) -> Option<Again> {
    if let Some(as_much) = as_much(input) {
        return Some(as_much);
    }
    let (rest, before) = opt(meal).parse(input).ok()?;
    let (rest, mut who) = eaters(rest.without_lead());
    let (rest, times) = times_of(rest);
    let (rest, of, said, only) = model(rest, !who.is_empty())?;
    let mut meal = before.or(said);
    let mut rest = rest;
    while let Some(next) = behind(rest, &mut who, &mut meal) {
        rest = next;
    }
    // "tom had the same as me, I had 140": what the sender had is no difference of Tom's.
    let of_sender = |piece: &Tokens<'_>| matches!(piece.trimmed().norm(0), "i" | "ive" | "mine");
    if !who.is_empty() && pieces(rest).iter().any(of_sender) {
        return None;
    }
    let mut but: Vec<But> = only.map(But::Only).into_iter().collect();
    but.extend(buts(rest)?);
    // "same again for Ana" is hers now.
    let of = match of {
        AgainOf::Theirs | AgainOf::JustNow if !who.is_empty() => AgainOf::Last,
        // What is different is told of nothing else.
        AgainOf::JustNow if !but.is_empty() => AgainOf::Theirs,
        of => of,
    };
    Some(Again {
        of,
        meal,
        who,
        times,
        but,
    })
}

/// How many tokens a phrase of this part takes.
fn said(part: &'static str, input: Tokens<'_>) -> Option<usize> {
    repeats().longest_of(input.slice, part)
}

fn after<'a>(part: &'static str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    said(part, input).map(|length| input.after(length))
}

/// "ana and tom had", "i had", "I'll have"
fn eaters(input: Tokens<'_>) -> (Tokens<'_>, Vec<Words>) {
    let input = match said("lead", input) {
        Some(length) if matches!(input.norm(length - 1), "and" | "oh" | "so") => {
            input.after(length)
        }
        _ => input,
    };
    if said("me too", input).is_some() {
        return (input, Vec::new());
    }
    let verb = (1..input.len().min(8)).find(|&at| said("had", input.after(at)).is_some());
    if let Some(at) = verb
        && let Some((_, who)) = people(input.range(0, at)).filter(|(_, who)| !who.is_empty())
        && let Some(rest) = after("had", input.after(at))
    {
        return (rest, who);
    }
    // "ana same as me"
    if let Some((length, who)) =
        person(input).filter(|(length, _)| said("same", input.after(*length)).is_some())
    {
        return (input.after(length), vec![who]);
    }
    (after("lead", input).unwrap_or(input), Vec::new())
}

/// "half of", "times 2"
fn times_of(input: Tokens<'_>) -> (Tokens<'_>, f64) {
    for (part, factor) in [("double", 2.0), ("triple", 3.0), ("half", 0.5)] {
        if let Some(length) = corrections().longest_of(input.slice, part) {
            let rest = input.after(length);
            let rest = rest.after(usize::from(rest.norm(0) == "of"));
            if rest.norm(0) == "what" {
                return (rest, factor);
            }
        }
    }
    let skip = usize::from(input.norm(0) == "times");
    match number(input.after(skip)) {
        Ok((rest, said))
            if said.value > 0.0 && (skip > 0 || rest.norm(0) == "of" && said.value < 1.0) =>
        {
            (rest.after(usize::from(rest.norm(0) == "of")), said.value)
        }
        _ => (input, 1.0),
    }
}

/// "90 too", "110 here", "I'll do 170 of it": so much of the dish that somebody has just had.
fn as_much(input: Tokens<'_>) -> Option<Again> {
    let mut rest = input;
    let mut joined = false;
    let too = |rest: Tokens<'_>| {
        let mine = matches!(rest.norm(0), "me" | "same" | "likewise");
        said("too", rest).filter(|_| mine)
    };
    while too(rest).is_none()
        && let Some(length) = said("lead", rest).or_else(|| said("sigh", rest))
    {
        joined |= matches!(rest.norm(0), "and" | "plus");
        rest = rest.after(length).trimmed_front();
    }
    // "me too but 250"
    let too = too(rest);
    if let Some(length) = too {
        rest = rest.after(length).without_lead();
        rest = after("but", rest).unwrap_or(rest);
    }
    let (mut who, mut meal) = (Vec::new(), None);
    if let Some((length, named)) = person(rest) {
        who.push(named);
        rest = rest.after(length);
    }
    let start = rest;
    let (mut rest, amount) = amount(rest, Stands::AfterName).ok()?;
    let read = start.len() - rest.len();
    if start.norm(read - 1) == "of" {
        rest = start.after(read - 1);
    }
    let weighed = match amount {
        Amount::Bare(grams) => grams >= SCALE_GRAMS_MIN,
        Amount::Mass(_) => true,
        _ => false,
    };
    let (mut told, mut rest) = match after("of it", rest) {
        Some(rest) => (true, rest),
        None => (too.is_some(), rest),
    };
    loop {
        rest = rest.trimmed_front();
        if let Some(length) = said("too", rest) {
            told = true;
            rest = rest.after(length);
        } else if let Some(next) = behind(rest, &mut who, &mut meal) {
            // "for me", and nobody else
            told |= joined || who.is_empty() && matches!(rest.norm(1), "me" | "myself");
            rest = next;
        } else if let Some(length) = said("sigh", rest).or_else(|| said("tail", rest)) {
            rest = rest.after(length);
        } else {
            break;
        }
    }
    let of = match who.is_empty() {
        true => AgainOf::Theirs,
        false => AgainOf::Last,
    };
    (weighed && told && rest.is_empty()).then(|| Again {
        of,
        meal,
        who,
        times: 1.0,
        but: vec![But::Amount(amount)],
    })
}

/// What is left, what is had again, of which meal, and the one thing of it: "same beans as Robin".
type Model<'a> = (Tokens<'a>, AgainOf, Option<MealName>, Option<Words>);

fn model(input: Tokens<'_>, for_others: bool) -> Option<Model<'_>> {
    if let Some(rest) = after("usual", input) {
        return Some((rest, AgainOf::Usual, None, None));
    }
    if let Some(rest) = after("ditto", input) {
        return Some((rest, AgainOf::Theirs, None, None));
    }
    if let Some(rest) = after("me too", input) {
        return Some((rest, AgainOf::JustNow, None, None));
    }
    if let Some(rest) = after("one more", input) {
        return Some((rest, AgainOf::Last, None, None));
    }
    // "what robin had"
    if matches!(input.norm(0), "what" | "whatever") {
        let (length, who) = someone(input.after(1))?;
        let rest = after("had", input.after(1 + length))?;
        return Some((rest, AgainOf::Person(who), None, None));
    }
    let rest = after("same", input)?;
    let (rest, meal) = opt(meal).parse(rest).ok()?;
    let (rest, only) = one_thing(rest);
    // "same again today as yesterday", but "same as before"
    let as_whose = as_whose(rest).filter(|_| rest.norm(0) != "as" || said("again", rest).is_none());
    if as_whose.is_none()
        && let Some(rest) = after("again", rest)
    {
        return Some((rest, AgainOf::Last, meal, only));
    }
    if let Some(rest) = as_whose {
        if let Ok((rest, day)) = day(rest) {
            return Some((rest, AgainOf::Day(day), meal, only));
        }
        let rest = rest.after(usize::from(rest.norm(0) == "what"));
        if let Some(rest) = after("theirs", rest) {
            return Some((rest, AgainOf::Theirs, meal, only));
        }
        let (length, who) = someone(rest)?;
        let rest = rest.after(length);
        let rest = after("had", rest).unwrap_or(rest);
        return Some((rest, AgainOf::Person(who), meal, only));
    }
    let of = match for_others {
        true => AgainOf::Last,
        false => AgainOf::Theirs,
    };
    Some((rest, of, meal, only))
}

/// What stands behind "as", past "again" and "today".
fn as_whose(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let mut rest = input;
    while let Some(length) = said("now", rest) {
        rest = rest.after(length);
    }
    let behind = rest.after(said("as", rest)?);
    // "as i had yesterday"
    let mine = after("lead", behind).filter(|rest| day(*rest).is_ok());
    Some(mine.unwrap_or(behind))
}

/// "beans", "amount of beans", of "same beans as Robin".
fn one_thing(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let start = input.after(usize::from(input.norm(0) == "of"));
    let ends = start.find(|token| token.norm() == "as").unwrap_or(0);
    match known(start.range(0, ends)) {
        Some(name) if (1..=THING_TOKENS_MAX).contains(&ends) => (start.after(ends), Some(name)),
        _ => (input, None),
    }
}

const THING_TOKENS_MAX: usize = 4;

/// Somebody by name, or "me".
fn someone(input: Tokens<'_>) -> Option<(usize, Words)> {
    match input.norm(0) {
        "me" | "mine" | "i" => Some((1, input.range(0, 1).words())),
        _ => person(input),
    }
}

/// "for me", "for Ana and Tom", "for lunch", behind the model.
fn behind<'a>(
    input: Tokens<'a>,
    who: &mut Vec<Words>,
    meal_said: &mut Option<MealName>,
) -> Option<Tokens<'a>> {
    if meal_said.is_none()
        && let Ok((rest, said)) = meal(input)
    {
        *meal_said = Some(said);
        return Some(rest);
    }
    if input.norm(0) != "for" || !who.is_empty() {
        return None;
    }
    if matches!(input.norm(1), "me" | "myself") && input.norm(2) != "and" {
        return Some(input.after(2));
    }
    let most = input.len().min(8);
    (2..=most).rev().find_map(|end| {
        let (_, named) = people(input.range(1, end)).filter(|(_, named)| !named.is_empty())?;
        *who = named;
        Some(input.after(end))
    })
}

fn pieces<'a>(input: Tokens<'a>) -> Vec<Tokens<'a>> {
    input.split(|token| token.is(',') || token.is('.') || token.is(';'))
}

/// What is different, clause by clause; `None` when something of it cannot be read.
fn buts(input: Tokens<'_>) -> Option<Vec<But>> {
    let mut out = Vec::new();
    for piece in pieces(input) {
        let mut rest = without_tail(piece);
        while !only_marks(rest) {
            let (next, but) = but(rest)?;
            out.push(but);
            rest = without_tail(next);
        }
    }
    Some(out)
}

fn without_tail(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed();
    loop {
        let at = (0..rest.len()).find(|&at| said("tail", rest.after(at)) == Some(rest.len() - at));
        match at {
            Some(at) => rest = rest.range(0, at).trimmed(),
            None => return rest,
        }
    }
}

/// One difference, up to where the next begins.
fn but(input: Tokens<'_>) -> Option<(Tokens<'_>, But)> {
    let (rest, but) = match after("but", input) {
        Some(rest) => (rest, true),
        None => (input, false),
    };
    let next = |from: usize| {
        let opens = |at: &usize| {
            ["but", "plus", "without"]
                .iter()
                .any(|part| said(part, rest.after(*at)).is_some())
        };
        (from + 1..rest.len()).find(opens).unwrap_or(rest.len())
    };
    if let Some(length) = said("without", rest) {
        let end = next(length);
        let name = known(rest.range(length, end))?;
        return Some((rest.after(end), But::Without(name)));
    }
    if let Some(length) = said("plus", rest) {
        let end = next(length);
        return Some((rest.after(end), But::Plus(item(rest.range(length, end))?)));
    }
    let end = next(0);
    let piece = without_tail(rest.range(0, end));
    if let Some((times, name)) = times(piece) {
        return Some((rest.after(end), But::Times(times, known(name)?)));
    }
    // "but only the dal"
    let only = input.range(0, input.len() - rest.len());
    if matches!(only.last().map(Token::norm), Some("only" | "just"))
        && !piece.has_number()
        && let Some(name) = known(piece)
    {
        return Some((rest.after(end), But::Only(name)));
    }
    // "but 110", "ditto, 180"
    if let Ok((left, amount)) = amount(piece, Stands::AfterName)
        && left.is_empty()
        && matches!(amount, Amount::Bare(_) | Amount::Mass(_))
    {
        return Some((rest.after(end), But::Amount(amount)));
    }
    // "but 30 less"
    if let Ok((left, amount)) = amount(piece, Stands::AfterName)
        && left.len() == 1
        && matches!(amount, Amount::Bare(_) | Amount::Mass(_))
    {
        match left.norm(0) {
            "less" | "fewer" => return Some((rest.after(end), But::Less(amount))),
            "more" | "extra" => return Some((rest.after(end), But::More(amount))),
            _ => {}
        }
    }
    let item = item(piece)?;
    let more = piece
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "more" | "extra"));
    let but = match more && !but {
        true => But::Plus(item),
        false => But::Instead(item),
    };
    Some((rest.after(end), but))
}

/// "half the rice", "double rice", "times 2 rice"
fn times(input: Tokens<'_>) -> Option<(f64, Tokens<'_>)> {
    for (part, factor) in [("double", 2.0), ("half", 0.5), ("triple", 3.0)] {
        if let Some(length) = corrections().longest_of(input.slice, part) {
            return Some((factor, input.after(length)));
        }
    }
    let (rest, said) = number(input.after(1))
        .ok()
        .filter(|_| input.norm(0) == "times")?;
    (said.value > 0.0).then_some((said.value, rest))
}

fn item(input: Tokens<'_>) -> Option<Item> {
    let mut read = list(input);
    let known = read.errors.is_empty() && read.items.len() == 1;
    let item = read.items.pop().filter(|_| known)?;
    let familiar = name::familiarity(&item.name.text, input) >= name::Familiarity::Food;
    let counted = !matches!(item.amount, Amount::Share(_) | Amount::Between { .. });
    (familiar && counted).then_some(item)
}

fn known(input: Tokens<'_>) -> Option<Words> {
    let name = name::bare(input);
    let familiar = name::familiarity(&name.words().text, name) >= name::Familiarity::Food;
    (name.is_wordy() && familiar).then(|| name.words())
}
