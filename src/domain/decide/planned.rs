//! What is weighed in of a pot that was opened by its recipe: as much of it as was planned is there already, and the weight
//! takes its place.

use super::super::assumption::{self, Assumption};
use super::super::batch::{Batch, Line};
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::named::contains_all;
use super::super::resolve::{Thing, Use, key, resolve};
use crate::lang::syntax::{Amount, IngredientLine, LineContent, Words};
use crate::lang::{folded_words, ingredient_line};

/// "45 more oil" goes in beside what was planned.
const MORE: [&str; 5] = ["more", "another", "extra", "additional", "further"];

/// The line of a recipe that a weight is of, and that line with it; `None`: it is something else.
pub fn line_of(draft: &Draft, id: BatchId, told: &IngredientLine) -> Option<(u32, IngredientLine)> {
    let LineContent::Ingredient {
        amount: Some(amount),
        name,
    } = &told.content
    else {
        return None;
    };
    let pot = draft.kitchen.batch(id);
    let words = folded_words(&draft.input.text);
    let more = words.iter().any(|word| MORE.contains(&word.as_str()));
    let weighed = matches!(
        amount,
        Amount::Mass(_) | Amount::Bare(_) | Amount::Weighed { .. }
    );
    if more || !weighed || !pot.estimated() {
        return None;
    }
    let planned = pot.lines.iter().filter(|line| is_planned(line));
    let planned: Vec<(&Line, String)> = planned
        .filter_map(|line| Some((line, called(&line.text)?)))
        .collect();
    let wanted = key(&name.text);
    let find = |fits: &dyn Fn(&str) -> bool| planned.iter().find(|(_, own)| fits(&key(own)));
    let food = || {
        let used = Use::Ingredient { dish: &pot.name };
        let found = resolve(&draft.kitchen, name, used, draft.today()).ok()?;
        let Thing::Food(code) = found.thing else {
            return None;
        };
        planned.iter().find(|(line, _)| {
            let food = draft.kitchen.food_of_line(line);
            food.is_some_and(|food| food.code == code)
        })
    };
    let (line, own) = find(&|own| own == wanted)
        .or_else(|| find(&|own| contains_all(own, &wanted)))
        .or_else(|| find(&|own| contains_all(&wanted, own)))
        .or_else(food)?;
    let mut name = name.clone();
    name.text.clone_from(own);
    Some((
        line.number,
        IngredientLine {
            text: format!("{amount} {own}"),
            content: LineContent::Ingredient {
                amount: Some(amount.clone()),
                name,
            },
            ..told.clone()
        },
    ))
}

/// Something of the sheet that a pot was opened by is called so, and not weighed yet.
pub fn names(pot: &Batch, name: &Words) -> bool {
    let wanted = key(&name.text);
    let planned = pot.lines.iter().filter(|line| is_planned(line));
    let mut called = planned.filter_map(|line| called(&line.text));
    pot.estimated() && called.any(|own| contains_all(&key(&own), &wanted))
}

pub fn is_planned(line: &Line) -> bool {
    let note = line.note.as_deref().unwrap_or_default();
    assumption::decode(note).contains(&Assumption::Planned)
}

fn called(text: &str) -> Option<String> {
    match ingredient_line(text).content {
        LineContent::Ingredient { name, .. } => Some(name.text),
        LineContent::Unclear(_) => None,
    }
}
