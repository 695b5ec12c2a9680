//! What a message may put right, before the books have told which of its words mean what.

use crate::lang::syntax::{Amount, Day, MealName, Words};

/// What is said in a message of what stands in the books.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Remark {
    pub chunks: Vec<Chunk>,
    /// Something is said to be wrong, wherever in the message.
    pub wrong: bool,
    /// Its writer owns up to it: "sorry", "typo".
    pub owned_up: bool,
    /// It tells of eating, or of not eating.
    pub reasoned: bool,
    /// Something else is said as well.
    pub talk: bool,
}

/// Words that belong together: nothing else stands between them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Chunk {
    pub terms: Vec<Term>,
    pub cues: Vec<Cue>,
    /// Other words stand right before it, or right behind.
    pub open_before: bool,
    pub open_behind: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    pub said: Said,
    /// "not the salsa"
    pub denied: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// The grams of its unit, if it has one: "5" beside "4 oz" is ounces as well.
    Amount(Amount, Option<f64>),
    /// "40 of that"
    Part(Amount),
    /// "30 less", "60 of it back in the pot": so much of it is not on the plate.
    Less(Amount),
    /// A dish, or words that choose another batch of the same: "the new one".
    Name(Words),
    /// "Ana's", "mine"
    Whose(Words),
    /// "Ana", where she is no owner of anything said.
    Person(Words),
    When(Option<Day>, Option<MealName>),
    Which(Which),
}

/// Which of the lines by their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    First,
    Last,
    BeforeLast,
    /// Of what was told last, by its place.
    Nth(usize),
    Middle,
}

/// What is to become of what stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cue {
    /// "was", "its"
    Is,
    /// "should be", "meant", "make it"
    Sets,
    /// "oops", "fat fingers"
    Wrong,
    /// "sorry", "typo": what is wrong is what they wrote
    Sorry,
    /// "was right", "stays"
    Right,
    /// "scrap", "take off"
    Off,
    /// "undo", "delete": said of nothing but entries
    Erased,
    /// "both of them"
    All,
    /// "no butter"
    No,
    /// "140 each"
    Each,
    /// "never ate": said of food
    Uneaten,
    /// "gave it to", "ended up on"
    Given,
    /// "the wrong way round"
    Swapped,
    /// "that": what stands, whatever it is
    That,
    /// "went back", "back in the pot"
    Back,
    /// "minus", "less"
    Less,
    /// "for Ana", "to Ana"
    For,
    /// "in the end": what it came to after all
    Finally,
}

impl Remark {
    /// A line is said to be right as it stands, so what is told of others puts them right.
    pub fn affirms(&self) -> bool {
        self.chunks
            .iter()
            .any(|chunk| chunk.has(Cue::Right) && !chunk.open_behind)
    }

    /// "salsa 80 in the end": so much of what stands, and no more of it.
    pub fn concludes(&self) -> bool {
        let named = |term: &Term| matches!(term.said, Said::Name(_));
        let amount = |term: &Term| matches!(term.said, Said::Amount(..));
        self.chunks.iter().any(|chunk| {
            let both = chunk.terms.iter().any(named) && chunk.terms.iter().any(amount);
            both && chunk.has(Cue::Finally)
        })
    }

    /// "140 barley, sorry": nothing else is said, and what stands was written wrong.
    pub fn owns_up(&self) -> bool {
        self.owned_up && !self.talk
    }
}

impl Chunk {
    pub fn has(&self, cue: Cue) -> bool {
        self.cues.contains(&cue)
    }

    /// Nothing else is said before or behind it in its clause.
    pub fn stands_alone(&self) -> bool {
        !self.open_before && !self.open_behind
    }
}
