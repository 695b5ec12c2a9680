//! Of dishes that were cooked before.

mod just_opened;
mod pots;
mod recipe;
mod use_of;

pub use just_opened::{not_cooked, waits};

use super::super::answer::Answer;
use super::super::cookbook::answer::CookbookAnswer;
use super::super::cookbook::problem::CookbookProblem;
use super::super::draft::Draft;
use super::super::ids::ComponentId;
use super::super::kitchen::Kitchen;
use super::super::problem::ProblemKind;
use super::overheard::fits_nothing;
use super::{Decision, Done, Input, OnProblem, Step, Stop, carry_out as decided};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Cookbook, Figure, Fix, Reading, Recipe, Scale, Words};

pub fn carry_out(draft: &mut Draft, said: &Cookbook) -> Step {
    match said {
        Cookbook::Again(asked) => recipe::again(draft, asked),
        Cookbook::Show(asked) => recipe::show(draft, asked),
        Cookbook::Compare { dish, pots } => pots::compare(draft, dish.as_ref(), *pots),
        Cookbook::Cost { dish } => pots::cost(draft, dish),
        Cookbook::Spent { period } => pots::spent(draft, *period),
        Cookbook::Pace { dish, asked } => use_of::pace(draft, dish.as_ref(), *asked),
    }
}

fn saying(answer: CookbookAnswer) -> Done {
    Done::saying(Answer::Cookbook(Box::new(answer)))
}

impl From<CookbookProblem> for Stop {
    fn from(problem: CookbookProblem) -> Self {
        ProblemKind::Cookbook(problem).into()
    }
}

/// "dal with 700 g lentils" reads as a plate as well: where so much of it goes into the pot, a pot is meant.
pub fn by_recipe(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let meant = parsed.readings.iter().find(|reading| {
        let draft = Draft::new(kitchen, input);
        matches!(reading.commands.as_slice(), [Command::Cookbook(Cookbook::Again(asked))]
            if recipe::fills_a_pot(&draft, asked))
    })?;
    let draft = Draft::new(kitchen, input);
    Some(decided(draft, &meant.commands, OnProblem::Forget))
}

/// "double the dal" that puts no plate right: so much more of it is cooked.
pub fn multiplied(
    kitchen: &Kitchen,
    input: &Input,
    reading: &Reading,
    decision: &Decision,
) -> Option<Decision> {
    let [
        Command::Fix(Fix::Amount {
            new: Figure::Times(times),
            line,
        }),
    ] = reading.commands.as_slice()
    else {
        return None;
    };
    let of_pot = *times > 1.0 && input.addressed && fits_nothing(decision);
    let dish = line.name.clone().filter(|_| of_pot)?;
    let cooked = Command::Cookbook(Cookbook::Again(Recipe {
        dish: Some(dish),
        scale: Scale::Times(*times),
        but: Vec::new(),
    }));
    let draft = Draft::new(kitchen, input);
    Some(decided(draft, &[cooked], OnProblem::Forget))
}

/// The one dish that words mean. Of several the one that has what is `needed` is meant.
fn dish(
    draft: &Draft,
    name: &Words,
    needed: impl Fn(ComponentId) -> bool,
) -> Result<ComponentId, Stop> {
    let kitchen = &draft.kitchen;
    let found = kitchen.dishes_named(&name.text);
    let having: Vec<ComponentId> = found.iter().copied().filter(|id| needed(*id)).collect();
    match (having.as_slice(), found.as_slice()) {
        ([one], _) | ([], [one]) => Ok(*one),
        (several, _) => {
            let known = kitchen.components.iter();
            let near = known.filter(|known| several.contains(&known.id));
            let mut near: Vec<String> = near.map(|known| known.name.clone()).collect();
            if several.is_empty() {
                near = kitchen
                    .open_batches()
                    .map(|batch| batch.name.clone())
                    .collect();
                near.dedup();
            }
            let words = name.text.clone();
            let kind = ProblemKind::UnknownName { words, near };
            Err(Stop::Problem(kind.at(name.span.clone())))
        }
    }
}
