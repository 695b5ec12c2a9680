//! What a food holds or weighs: "kcal in 2 medium onions", "protein in 30 g cheese",
//! "how many grams is a cup of rice".
//!
//! ```text
//! fact  := lead [link] [amount] name | nutrient amount name | [amount] name nutrient
//! lead  := ["how many" | "how much" | "what is the"] nutrient | "how many grams" | "how heavy" | "weight of"
//! link  := "in" | "of" | "for" | "is" | "are" "there" "in" | "per" | ":"
//! ```

use crate::foods::Nutrient;
use crate::lang::amount::{Stands, amount};
use crate::lang::command::key_phrase;
use crate::lang::elided::said;
use crate::lang::item;
use crate::lang::syntax::{Amount, Command, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::unit::unit;
use crate::lang::words::{label_fields, nutrients};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_question(input);
    // "cup of barley how many g"
    if let Some(before) = weight_last(body)
        && let Some((amount, name)) = one_or_more(before)
    {
        return Ok((
            input.after(input.len()),
            Command::Fact {
                nutrient: None,
                amount,
                name,
                weight_only: true,
            },
        ));
    }
    let (rest, nutrient, strong, weight_only) = match lead(body) {
        Some(read) => read,
        None => return field_last(body, input),
    };
    let (rest, linked) = links(rest);
    // "fat chance": a nutrient that is an everyday word asks for "in".
    if !strong && !linked {
        return input.no();
    }
    let Some((amount, name)) = thing(rest) else {
        return input.no();
    };
    Ok((
        input.after(input.len()),
        Command::Fact {
            nutrient,
            amount,
            name,
            weight_only,
        },
    ))
}

/// "cup of barley" is one.
fn one_or_more(input: Tokens<'_>) -> Option<(Option<Amount>, Words)> {
    if unit(input).is_err() {
        return thing(input);
    }
    let mut counted = said("one", input.first()?.span.start);
    counted.extend_from_slice(input.slice);
    thing(input.with_tokens(&counted))
}

/// "... how many g", "... in grams", and nothing behind it.
fn weight_last(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let grams = matches!(body.last()?.norm(), "g" | "grams" | "gram");
    let asked = |at: usize| {
        let words = (body.norm(at), body.norm(at + 1));
        matches!(words, ("how", "many")) && at + 3 == body.len()
    };
    let at = (1..body.len()).find(|&at| asked(at)).filter(|_| grams)?;
    let is = usize::from(matches!(body.norm(at - 1), "is" | "are"));
    (at > is).then(|| body.range(0, at - is))
}

fn without_question(input: Tokens<'_>) -> Tokens<'_> {
    let end = input
        .slice
        .iter()
        .rposition(|token| !token.is('?') && !token.is('.') && !token.is('!'))
        .map_or(0, |at| at + 1);
    input.range(0, end).trimmed()
}

/// The question's opening: what is asked, whether it can be nothing else, whether only the weight is.
fn lead(input: Tokens<'_>) -> Option<(Tokens<'_>, Option<Nutrient>, bool, bool)> {
    let weighs = |length: usize| Some((input.after(length), None, true, true));
    match (input.norm(0), input.norm(1), input.norm(2)) {
        ("how", "many", "grams" | "g" | "gram") => return weighs(3),
        ("how", "heavy", _) => return weighs(2),
        ("weight", "of", _) => return weighs(2),
        ("what", "does", "a" | "an" | "one")
            if input.last().is_some_and(|token| token.norm() == "weigh") =>
        {
            return Some((input.range(2, input.len() - 1), None, true, true));
        }
        ("how", "much", "does" | "do")
            if input.last().is_some_and(|token| token.norm() == "weigh") =>
        {
            return Some((input.range(3, input.len() - 1), None, true, true));
        }
        _ => {}
    }
    let skip = match (input.norm(0), input.norm(1)) {
        ("how", "many" | "much") => 2,
        ("what", "is") => 2,
        ("whats", _) => 1,
        _ => 0,
    };
    let skip = skip + usize::from(input.norm(skip) == "the");
    let rest = input.after(skip);
    if skip == 0
        && let Ok((after, ())) = key_phrase("fact", rest)
    {
        return Some((
            after,
            asked_for(rest).map(|(_, nutrient)| nutrient),
            true,
            false,
        ));
    }
    let (length, nutrient) = asked_for(rest)?;
    let after = rest.after(length);
    // "carbs 80 g spaghetti", but not "salt 10 g": that is no food itself.
    let eaten = ["fat", "salt", "sugar", "water", "alcohol"].contains(&rest.norm(0));
    let strong = nutrient == Nutrient::EnergyKcal || !eaten && is_measured(after);
    Some((after, Some(nutrient), strong, false))
}

/// A nutrient's name, and how many tokens it takes.
fn asked_for(input: Tokens<'_>) -> Option<(usize, Nutrient)> {
    let printed = label_fields().longest(input.slice);
    let known = |(length, key): (usize, &str)| Some((length, nutrient(key)?));
    let others = || nutrients().longest(input.slice).and_then(known);
    printed.and_then(known).or_else(others)
}

/// An amount of one unit at least stands here.
fn is_measured(input: Tokens<'_>) -> bool {
    let read = amount(input, Stands::BeforeName);
    read.is_ok_and(|(_, amount)| !matches!(amount, Amount::Bare(_) | Amount::Share(_)))
}

/// The nutrient that a word of a label or a question stands for; salt is told by its sodium.
pub fn nutrient(key: &str) -> Option<Nutrient> {
    Some(match key {
        "kcal" | "energy" | "kj" => Nutrient::EnergyKcal,
        "protein" => Nutrient::Protein,
        "fat" => Nutrient::Fat,
        "saturates" => Nutrient::SaturatedFat,
        "carbohydrate" | "total carbohydrate" => Nutrient::Carbohydrate,
        "sugars" => Nutrient::Sugars,
        "fibre" | "dietary fiber" => Nutrient::Fibre,
        "sodium" | "salt" => Nutrient::Sodium,
        "potassium" => Nutrient::Potassium,
        "calcium" => Nutrient::Calcium,
        "iron" => Nutrient::Iron,
        "cholesterol" => Nutrient::Cholesterol,
        "alcohol" => Nutrient::Alcohol,
        "water" => Nutrient::Water,
        _ => return None,
    })
}

/// Words between the question and the thing.
fn links(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let mut rest = input;
    let mut linked = false;
    loop {
        match rest.norm(0) {
            "in" | "of" | "for" | "per" | "content" => linked = true,
            "is" | "are" | "there" | "does" | "do" | "has" | "have" | "contains" => {}
            _ if rest
                .first()
                .is_some_and(|token| token.is(':') || token.is('-')) => {}
            _ => return (rest, linked),
        }
        rest = rest.after(1);
    }
}

fn thing(input: Tokens<'_>) -> Option<(Option<Amount>, Words)> {
    let mut end = input.len();
    while end > 0 && matches!(input.norm(end - 1), "have" | "has" | "contain" | "weigh") {
        end -= 1;
    }
    let input = input.range(0, end);
    if input.is_empty() || input.len() > 14 {
        return None;
    }
    let named = item::ingredient(input).ok()?;
    Some((named.amount, named.name))
}

/// "100 g parsnip kcal", "dal macros"
fn field_last<'a>(body: Tokens<'a>, input: Tokens<'a>) -> Read<'a, Command> {
    let Some(last) = body.last() else {
        return input.no();
    };
    let nutrient = match last.norm() {
        "kcal" | "calories" | "cals" | "kj" => Some(Nutrient::EnergyKcal),
        "macros" => None,
        _ => return input.no(),
    };
    let before = body.range(0, body.len() - 1);
    if before.last().is_some_and(|token| token.is_numeric()) {
        return input.no();
    }
    let before = if before.norm(0) == "how" {
        before.after(2)
    } else {
        before
    };
    match thing(before) {
        Some((amount, name)) => {
            let weight_only = false;
            Ok((
                input.after(input.len()),
                Command::Fact {
                    nutrient,
                    amount,
                    name,
                    weight_only,
                },
            ))
        }
        None => input.no(),
    }
}
