//! Why no plate is looked for.

use super::of_it;
use crate::domain::finder::problem::FinderProblem;
use crate::render::clean::name;
use crate::render::problem::Wording;

pub fn wording(problem: &FinderProblem) -> Wording {
    match problem {
        FinderProblem::TooManyDishes { most } => {
            Wording::new(format!("A plate is looked for with up to {most} dishes."))
                .example("dal and rice for 600 kcal, 35 protein")
        }
        FinderProblem::ImpossibleAim => {
            Wording::new("No plate holds that.").example("dal and rice for 600 kcal, 35 protein")
        }
        FinderProblem::DayIsFull { of, had } => Wording::new(match had {
            Some(had) => format!("Your day has that already: {}.", of_it(*of, *had)),
            None => "Your day has that already.".to_owned(),
        }),
        FinderProblem::NothingReady => {
            Wording::new("Nothing stands ready that is within its date.")
        }
        FinderProblem::NothingKnown { names } => {
            let names: Vec<String> = names.iter().map(|unknown| name(unknown)).collect();
            Wording::new(format!(
                "The books know too little of what is in: {}.",
                names.join(", ")
            ))
        }
    }
}
