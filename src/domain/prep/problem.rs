//! Why nothing comes of what is said ahead of cooking.

use super::books::Limit;
use crate::domain::mass::Mass;

#[derive(Debug, Clone, PartialEq)]
pub enum PrepProblem {
    /// More was left than there was.
    TrimmedHeavier {
        bought: Mass,
        trimmed: Mass,
    },
    /// There is no list, or all of it is bought.
    NoList,
    /// What the list holds instead.
    NotListed {
        name: String,
        listed: Vec<String>,
    },
    SeveralListed {
        name: String,
        listed: Vec<String>,
    },
    ListFull {
        most: usize,
    },
    /// The shopping is done, and nothing was ticked.
    NothingTicked,
    /// Nobody is to eat.
    NoPeople,
    TooManyPeople {
        most: u32,
    },
    /// None, or less than none, is to be eaten.
    NoMeals,
    /// A kitchen without any.
    NoneOfThem {
        what: Limit,
    },
    /// More of a dish than one eats: perhaps it was told of all.
    BigHelping {
        dish: String,
        each: Mass,
        /// What each eats if it is shared by all, on all of the days.
        shared: Mass,
        days: u32,
        people: u32,
    },
    /// Several things are called so.
    SeveralGoods {
        name: String,
        goods: Vec<String>,
    },
    /// How much one eats of it was never told.
    NoPortion {
        dish: String,
    },
    /// Nothing is wished of it.
    NotWished {
        dish: String,
    },
    /// The same of a plan.
    NobodyPlanned,
    PlanTooLong {
        most: usize,
    },
    /// A plan until a day that has gone by, or that is in no calendar.
    NoDay {
        told: String,
        gone: bool,
    },
    /// What was asked about is not in the plan.
    NotPlanned {
        name: String,
        planned: Vec<String>,
    },
    /// Nobody eats here on any of the days.
    AllAway,
    /// No dish of which it is known how much is eaten of it, or wished.
    NothingKnown,
    /// How long a step takes was not told.
    StepWithoutTime {
        words: String,
    },
    /// Nothing of it is done so, by the steps that were told.
    NoStep {
        dish: String,
        verb: String,
    },
    /// None of these has steps to put in order.
    NoSteps {
        dishes: Vec<String>,
    },
    /// All that the plan needs is there.
    NothingToBuy,
}

impl PrepProblem {
    /// The stable word in the bridge's data.
    pub fn code(&self) -> &'static str {
        match self {
            Self::TrimmedHeavier { .. } => "trimmed_heavier",
            Self::NoList => "no_list",
            Self::NotListed { .. } => "not_listed",
            Self::SeveralListed { .. } => "several_listed",
            Self::ListFull { .. } => "list_full",
            Self::NothingTicked => "nothing_ticked",
            Self::NoPeople => "no_people",
            Self::TooManyPeople { .. } => "too_many_people",
            Self::NoMeals => "no_meals",
            Self::NoneOfThem { .. } => "none_of_them",
            Self::BigHelping { .. } => "big_helping",
            Self::SeveralGoods { .. } => "several_goods",
            Self::NoPortion { .. } => "no_portion",
            Self::NotWished { .. } => "not_wished",
            Self::NobodyPlanned => "no_people",
            Self::PlanTooLong { .. } => "plan_too_long",
            Self::NoDay { gone: true, .. } => "time_gone",
            Self::NoDay { gone: false, .. } => "impossible_time",
            Self::NotPlanned { .. } => "not_planned",
            Self::AllAway => "all_away",
            Self::NothingKnown => "nothing_known",
            Self::StepWithoutTime { .. } => "step_without_time",
            Self::NoStep { .. } => "no_step",
            Self::NoSteps { .. } => "no_steps",
            Self::NothingToBuy => "nothing_to_buy",
        }
    }
}
