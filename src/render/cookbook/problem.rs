//! Why nothing comes of what is said of dishes that were cooked before.

use crate::domain::cookbook::problem::CookbookProblem;
use crate::render::clean::{clean, cut, name};
use crate::render::number::decimal;
use crate::render::problem::{NEAR_MAX, Wording};

/// A name in an example is no longer.
const EXAMPLE_CHARS: usize = 30;

pub fn wording(problem: &CookbookProblem) -> Wording {
    let short = |text: &str| cut(&clean(text), EXAMPLE_CHARS);
    match problem {
        CookbookProblem::NoRecipe { name: dish } => Wording::new(format!(
            "No pot of {} with its ingredients is in the books.",
            name(dish)
        ))
        .example("batch dal, 500 g red lentils, 150 g onion"),
        CookbookProblem::WhichDish => {
            Wording::new("No pot is in sight that this could be the same as.")
                .example("dal again, but ghee for oil")
        }
        CookbookProblem::NotInRecipe {
            dish,
            name: what,
            lines,
        } => {
            let mut wording = Wording::new(format!(
                "No {} goes into the {} as it was made.",
                name(what),
                name(dish)
            ))
            .lead("Write it like this:")
            .example(format!("{} again, plus 100 g {}", short(dish), short(what)));
            let lines = lines.iter().take(NEAR_MAX);
            wording.near = lines.map(|line| name(line)).collect();
            wording
        }
        CookbookProblem::NoWeight { dish, name: what } => Wording::new(format!(
            "Nobody weighed the {} of the {}, so the rest cannot go by it.",
            name(what),
            name(dish)
        ))
        .example(format!("{} again x1.5", short(dish))),
        CookbookProblem::OddFactor { factor } => Wording::new(format!(
            "{} times the recipe is no pot that anybody cooks.",
            decimal(*factor)
        ))
        .example("dal again x1.5"),
        CookbookProblem::OnePot { name: dish } => Wording::new(format!(
            "There are no two pots of {} in the books to compare.",
            name(dish)
        )),
    }
}
