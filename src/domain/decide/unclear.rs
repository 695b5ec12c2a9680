//! What an ingredient line leaves open, as questions: each option puts the line right.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::problem::ProblemKind;
use super::super::resolve::{Unresolved, Use, resolve};
use super::heard::problem;
use super::line::Slot;
use super::{Asking, portion};
use crate::foods::{self, Code};
use crate::lang::syntax::{Amount, Command, IngredientLine, LineContent, Words};

/// The question which food a line means.
pub fn which_food(
    draft: &Draft,
    slot: Slot,
    amount: Option<&Amount>,
    name: &Words,
    unresolved: Unresolved,
) -> Asking {
    let near: Vec<Code> = match &unresolved {
        Unresolved::Unknown { near, .. } => near.clone(),
        Unresolved::WhichFood(codes) => codes.clone(),
        Unresolved::UsedUp { food, .. } | Unresolved::WhichBatch { food, .. } => {
            food.iter().copied().collect()
        }
    };
    let options = near
        .iter()
        .filter_map(|code| {
            let amount = amount.cloned()?;
            let name = Words::plain(code.to_string());
            Some(replacement(draft, slot, amount, name, Some(*code)))
        })
        .collect();
    asking(slot.line, &unresolved.problem(&name.text), options)
}

/// Ask again about a line that still waits.
pub fn ask_again(
    draft: &Draft,
    batch: BatchId,
    number: u32,
    text: &str,
    part: Option<String>,
) -> Option<Asking> {
    let mut line = crate::lang::ingredient_line(text);
    line.part = part;
    let LineContent::Ingredient { amount, name } = &line.content else {
        let LineContent::Unclear(error) = &line.content else {
            return None;
        };
        return Some(asking(&line, &problem(error).kind, Vec::new()));
    };
    let dish = draft.kitchen.batch(batch).name.clone();
    match resolve(
        &draft.kitchen,
        name,
        Use::Ingredient { dish: &dish },
        draft.today(),
    ) {
        Err(unresolved) => {
            let slot = Slot {
                batch,
                number,
                line: &line,
            };
            Some(which_food(draft, slot, amount.as_ref(), name, unresolved))
        }
        Ok(_) => {
            let problem = ProblemKind::MissingAmount {
                name: name.text.clone(),
            };
            Some(asking(&line, &problem, Vec::new()))
        }
    }
}

pub fn asking(line: &IngredientLine, problem: &ProblemKind, options: Vec<Choice>) -> Asking {
    Asking {
        about: match problem {
            ProblemKind::UnknownFood { .. } | ProblemKind::UsedUp { .. } => About::WhichFood,
            _ => About::HowMuch,
        },
        words: line.text.clone(),
        problem: Some(problem.clone()),
        options,
        pointed: None,
    }
}

/// The sentence that would put this line right.
pub fn replacement(
    draft: &Draft,
    slot: Slot,
    amount: Amount,
    name: Words,
    food: Option<Code>,
) -> Choice {
    let label = match food.and_then(|code| foods::table().get(code)) {
        Some(food) => food.description.to_string(),
        None => format!("{} {}", portion::amount_label(&amount), name.text),
    };
    let content = LineContent::Ingredient {
        amount: Some(amount),
        name,
    };
    let command = Command::Amend {
        batch: Words::plain(draft.kitchen.batch(slot.batch).code.clone()),
        number: slot.number,
        line: Some(IngredientLine {
            text: String::new(),
            content,
            ..slot.line.clone()
        }),
    };
    Choice {
        label,
        says: command.to_string(),
    }
}
