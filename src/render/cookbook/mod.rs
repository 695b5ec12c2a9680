//! Of dishes that were cooked before.

mod compare;
mod cost;
mod pace;
mod problem;
mod recipe;
#[cfg(test)]
pub mod sample;

use super::page::Page;
use crate::domain::answer::CookbookAnswer;

pub use cost::worth;
pub use problem::wording;

pub fn page(answer: &CookbookAnswer) -> Page {
    match answer {
        CookbookAnswer::Recipe(answer) => recipe::page(answer),
        CookbookAnswer::Compared(answer) => compare::page(answer),
        CookbookAnswer::Pace(answer) => pace::page(answer),
        CookbookAnswer::Share(answer) => pace::share(answer),
        CookbookAnswer::Cost(answer) => cost::page(answer),
        CookbookAnswer::Spent(answer) => cost::spent(answer),
    }
}

#[cfg(test)]
mod tests {
    use super::sample;
    use crate::domain::answer::Answer;
    use crate::lang::syntax::AnswerStyle;
    use crate::render::snapshots::{compare, said};

    #[test]
    fn dishes_cooked_before() {
        let sections: Vec<_> = sample::answers()
            .into_iter()
            .map(|(title, answer)| {
                let answer = [Answer::Cookbook(Box::new(answer))];
                (title.to_string(), said(&answer, AnswerStyle::Full, ""))
            })
            .collect();
        compare("cookbook.txt", &sections);
    }
}
