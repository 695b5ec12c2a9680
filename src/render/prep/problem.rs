//! Why nothing comes of what is said ahead of cooking.

use crate::domain::prep::problem::PrepProblem;
use crate::render::number::grams;
use crate::render::problem::Wording;

pub fn wording(problem: &PrepProblem) -> Wording {
    match problem {
        PrepProblem::TrimmedHeavier { bought, trimmed } => Wording::new(format!(
            "Trimmed it cannot weigh more than before: {} of {}.",
            grams(*trimmed),
            grams(*bought)
        ))
        .example("parsnips 1150, trimmed 980")
        .booking(),
    }
}
