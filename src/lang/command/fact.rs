//! What a food holds or weighs: "kcal in 2 medium onions", "protein in 30 g cheese",
//! "how many grams is a cup of rice".
//!
//! ```text
//! fact  := lead [link] [amount] name | [amount] name field
//! lead  := ["how many" | "how much" | "what is the"] field | "how many grams" | "how heavy" | "weight of"
//! link  := "in" | "of" | "for" | "is" | "are" "there" "in" | "per" | ":"
//! ```

use crate::lang::command::key_phrase;
use crate::lang::item;
use crate::lang::syntax::{Amount, Command, LabelField, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::label_fields;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_question(input);
    let (rest, field, strong, weight_only) = match lead(body) {
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
            field,
            amount,
            name,
            weight_only,
        },
    ))
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
fn lead(input: Tokens<'_>) -> Option<(Tokens<'_>, Option<LabelField>, bool, bool)> {
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
        let field = label_fields()
            .longest(rest.slice)
            .and_then(|(_, key)| field_of(key));
        return Some((after, field, true, false));
    }
    let (length, key) = label_fields().longest(rest.slice)?;
    let field = field_of(key)?;
    let strong = matches!(field, LabelField::EnergyKcal | LabelField::EnergyKj);
    Some((rest.after(length), Some(field), strong, false))
}

pub fn field_of(key: &str) -> Option<LabelField> {
    Some(match key {
        "kcal" | "energy" => LabelField::EnergyKcal,
        "kj" => LabelField::EnergyKj,
        "protein" => LabelField::Protein,
        "fat" => LabelField::Fat,
        "saturates" => LabelField::SaturatedFat,
        "carbohydrate" | "total carbohydrate" => LabelField::Carbohydrate,
        "sugars" => LabelField::Sugars,
        "fibre" | "dietary fiber" => LabelField::Fibre,
        "sodium" => LabelField::Sodium,
        "salt" => LabelField::Salt,
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
    let field = match last.norm() {
        "kcal" | "calories" | "cals" => Some(LabelField::EnergyKcal),
        "kj" => Some(LabelField::EnergyKj),
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
                    field,
                    amount,
                    name,
                    weight_only,
                },
            ))
        }
        None => input.no(),
    }
}
