//! What is said ahead of cooking: of things that are bought, of pots and stoves, of plans and lists.

use super::ahead::{Ahead, At};
use super::syntax::{MealName, Words};

#[derive(Debug, Clone, PartialEq)]
pub enum Prep {
    /// "lentils come in 500 g bags".
    Good { name: Words, told: GoodTold },
    /// "cupboard: salt, cumin": there is enough of these.
    Stocked(Vec<Words>),
    /// "keep 800 g dal ready"; `None`: no more of it than is eaten.
    Par { dish: Words, grams: Option<f64> },
    /// "dal pots hold 3 kg"; no dish: any pot.
    PotHolds { dish: Option<Words>, grams: f64 },
    /// "4 burners"; `None`: no more limit.
    Limit { what: Limit, count: Option<u32> },
    /// The list that is taken to the shop.
    Shop(Shop),
    /// What is to be eaten on days to come.
    Wish(Wish),
    /// "dal steps: soak 8 h, simmer 35 min on a burner"; none: it has no steps from here on.
    Steps { dish: Words, steps: Vec<Step> },
    /// "dal simmers 25 min": one step of it takes another time than was told.
    StepLasts {
        dish: Words,
        verb: Words,
        minutes: u32,
    },
    /// "prep sheet for 18:00": in what order the steps are done; no dishes: those of the plan, no hour: as soon as may be.
    Sheet { dishes: Vec<Words>, at: Option<At> },
    /// "plan", "plan until Sunday for 3 people": what to cook.
    Plan(PlanFor),
    /// "plan until yesterday": there is no such day to come; `gone`: there was.
    NoDay { told: Words, gone: bool },
    /// "why this much rice", "why 900 g rice": how the plan comes to it.
    Why { dish: Words, grams: Option<f64> },
}

/// What a plan is asked for.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PlanFor {
    /// None: all that is eaten here.
    pub dishes: Vec<Words>,
    /// `None`: whoever eats here.
    pub people: Option<u32>,
    /// `None`: today.
    pub begins: Option<Begins>,
    /// `None`: until the next prep day.
    pub until: Option<Ahead>,
}

/// The day for which it is told what to cook on it.
#[derive(Debug, Clone, PartialEq)]
pub enum Begins {
    Day(Ahead),
    /// The next prep day, today included.
    PrepDay,
}

/// What somebody wishes to be eaten.
#[derive(Debug, Clone, PartialEq)]
pub enum Wish {
    /// "4 dinners for 2: dal and rice", "rice for 6 on Friday"
    Of {
        dishes: Vec<Helping>,
        meal: Option<MealName>,
        /// `None`: whoever eats here.
        people: Option<u32>,
        from: Ahead,
        until: Until,
    },
    /// "no rice this week"
    None {
        dish: Words,
        from: Ahead,
        until: Ahead,
    },
    /// "rice as usual": whatever was wished of it is no more.
    AsUsual { dish: Words },
    /// "forget the dinners": nothing is wished of them any more; `None`: of no meal.
    Forget { meal: Option<MealName> },
    /// "wishes"
    Listed,
}

/// A dish that is wished for, and what each eats of it, if that was told.
#[derive(Debug, Clone, PartialEq)]
pub struct Helping {
    pub dish: Words,
    pub grams: Option<f64>,
}

/// A step of a dish, as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    pub words: String,
    /// 0: nobody said.
    pub minutes: u32,
    pub uses: Uses,
}

/// What a step takes while it lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Uses {
    Hands,
    Burner,
    /// At so many degrees Celsius, if they are told.
    Oven(Option<u32>),
    Nothing,
}

/// The end of some days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Until {
    Day(Ahead),
    /// So many days from the first on.
    Days(u32),
}

/// What is said of the shopping list.
#[derive(Debug, Clone, PartialEq)]
pub enum Shop {
    /// "shopping list"
    Show,
    /// "shopping list for the plan"
    ForPlan(PlanFor),
    /// "shopping list for dal": what goes into a pot of each.
    ForDishes(Vec<Words>),
    /// "new list", with what is on it from the start.
    New(Vec<Buying>),
    /// "put 2 kg onions on the list"
    Put(Vec<Buying>),
    /// "take the onions off the list"
    Off(Vec<Words>),
    /// "got the onions"; nothing: all that is on it.
    Got(Vec<Words>),
    /// "got everything but the salt"
    GotAllBut(Vec<Words>),
    /// "done shopping"
    Done,
}

/// Something to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Buying {
    pub name: Words,
    pub amount: Option<HowMany>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum HowMany {
    Grams(f64),
    /// As it was said: "6", "2 tins".
    Said(String),
}

/// What is told of something that is bought.
#[derive(Debug, Clone, PartialEq)]
pub enum GoodTold {
    /// "parsnips 1150, trimmed 980".
    Trimmed { bought: f64, trimmed: f64 },
    /// Packs of so many grams, and what one is called.
    Pack { grams: f64, word: String },
    /// So many hundredths of a currency for so many grams.
    Price {
        hundredths: i64,
        currency: String,
        grams: f64,
    },
    /// So much for a litre of it.
    PerLitre { hundredths: i64, currency: String },
    /// So many grams are in the cupboard.
    InCupboard(f64),
    /// There is always enough of it.
    Always,
    /// There is none.
    Out,
}

/// What there is only so much of while one cooks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    Burners,
    Trays,
    PotsADay,
}

impl GoodTold {
    /// It tells what something costs.
    pub fn is_price(&self) -> bool {
        matches!(self, Self::Price { .. } | Self::PerLitre { .. })
    }
}

impl Limit {
    /// Its word in the books and in the bridge's data.
    pub const ALL: [(Limit, &'static str); 3] = [
        (Limit::Burners, "burners"),
        (Limit::Trays, "trays"),
        (Limit::PotsADay, "pots_a_day"),
    ];

    pub fn word(self) -> &'static str {
        let known = Self::ALL.iter().find(|(limit, _)| *limit == self);
        known.expect("every limit has a word").1
    }
}
