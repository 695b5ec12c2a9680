//! Why nothing comes of what is said ahead of cooking.

use super::shop::names;
use crate::domain::prep::problem::PrepProblem;
use crate::render::clean::{name, quote};
use crate::render::number::grams;
use crate::render::problem::Wording;

/// Of a long list so many are shown.
const NEAR_MAX: usize = 8;

pub fn wording(problem: &PrepProblem) -> Wording {
    match problem {
        PrepProblem::TrimmedHeavier { bought, trimmed } => Wording::new(format!(
            "Trimmed it cannot weigh more than before: {} of {}.",
            grams(*trimmed),
            grams(*bought)
        ))
        .example("parsnips 1150, trimmed 980")
        .booking(),
        PrepProblem::NoList => Wording::new("There is no shopping list, or it is done with.")
            .lead("Begin one:")
            .example("new list"),
        PrepProblem::NotListed { name: told, listed } => {
            let mut wording = Wording::new(format!("\"{}\" is not on the list.", name(told)));
            wording.near = listed.iter().take(NEAR_MAX).map(|words| name(words)).collect();
            wording
        }
        PrepProblem::SeveralListed { name: told, listed } => {
            Wording::new(format!("Which {}: {}?", name(told), names(listed)))
        }
        PrepProblem::ListFull { most } => Wording::new(format!(
            "A list holds {most} things. Tick or take something off first."
        )),
        PrepProblem::NothingTicked => Wording::new(
            "Nothing is ticked yet. If all of it is bought, tick everything; if none is wanted any more, begin a new list.",
        )
        .example("tick everything"),
        PrepProblem::NoPeople => Wording::new("Nobody is to eat: say for how many.")
            .example("4 dinners for 2: dal and rice"),
        PrepProblem::TooManyPeople { most } => {
            Wording::new(format!("More than {most} at one table are not planned for."))
                .example("4 dinners for 2: dal and rice")
        }
        PrepProblem::NoMeals => Wording::new("So few meals are none: say how many.")
            .example("4 dinners for 2: dal and rice"),
        PrepProblem::NoneOfThem { what } => {
            let (one, _) = super::limit_words(*what);
            Wording::new(format!("Without a {one} nothing is cooked: say how many there are."))
                .example("we have 4 burners")
        }
        PrepProblem::BigHelping { dish, each, shared, days, people } => {
            let dish = name(dish);
            Wording::new(format!(
                "{} of {dish} is more than one eats. If it is for all, on all of these days, that is {} each:",
                grams(*each),
                grams(*shared)
            ))
            .example(format!("{days} dinners for {people}: {} {dish}", grams(*shared)))
        }
        PrepProblem::SeveralGoods { name: told, goods } => {
            Wording::new(format!("Which {}: {}?", name(told), names(goods)))
        }
        PrepProblem::NoPortion { dish } => {
            let dish = name(dish);
            Wording::new(format!("How much of {dish} one eats is not known yet: say it."))
                .example(format!("4 dinners for 2: 300 g {dish}"))
        }
        PrepProblem::PlanTooLong { most } => Wording::new(format!(
            "A plan is for {most} days at most: nobody knows further ahead what is eaten."
        ))
        .example("plan until Sunday"),
        PrepProblem::NobodyPlanned => {
            Wording::new("Nobody is to eat, so nothing is to be cooked.").example("plan for 2 people")
        }
        PrepProblem::NoDay { told, gone } => Wording::new(match gone {
            true => format!("A plan is for days to come: {} has gone by.", quote(told)),
            false => format!("{} is no day to plan until.", quote(told)),
        })
        .example("plan until Sunday"),
        PrepProblem::NotPlanned { name: told, planned } => {
            let mut wording = Wording::new(format!("\"{}\" is not in the plan.", name(told)));
            wording.near = planned.iter().take(NEAR_MAX).map(|words| name(words)).collect();
            wording
        }
        PrepProblem::AllAway => Wording::new("Everybody is away on all of these days."),
        PrepProblem::NothingKnown => Wording::new(
            "There is nothing to plan by yet: it takes a few days of weighed plates, or a wish.",
        )
        .example("4 dinners for 2: dal and rice"),
        PrepProblem::StepWithoutTime { words } => Wording::new(format!(
            "How long \"{}\" takes was not told.",
            name(words)
        ))
        .example("dal steps: soak 8 h, simmer 35 min on a burner"),
        PrepProblem::NoStep { dish, verb } => Wording::new(format!(
            "No step of {} is called {}.",
            name(dish),
            quote(verb)
        ))
        .example(format!("{} steps: soak 8 h, simmer 35 min", name(dish))),
        PrepProblem::NoSteps { dishes } => {
            let wording = match dishes.is_empty() {
                true => Wording::new("No dish has steps yet."),
                false => Wording::new(format!("No steps are told of {}.", names(dishes))),
            };
            wording.example("dal steps: soak 8 h, simmer 35 min on a burner")
        }
        PrepProblem::NothingToBuy => {
            Wording::new("Nothing is to be bought: the plan needs nothing that is not there.")
        }
        PrepProblem::NotWished { dish } => Wording::new(format!(
            "Nothing is wished of {}: plans go by what you usually eat.",
            name(dish)
        )),
    }
}
