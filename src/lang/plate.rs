//! What is on a plate, how it is shared, and how a plate is put right or had again.

use super::syntax::{Amount, Day, MealName, Span, Words};

/// One thing on a plate, in a count, in the bin.
#[derive(Debug, Clone)]
pub struct Item {
    pub amount: Amount,
    pub name: Words,
    /// What it was weighed in, whose tare comes off: "310 dal in the blue bowl".
    pub container: Option<Words>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Portion {
    pub items: Vec<Item>,
    /// Whose plate, when it is not the sender's.
    pub who: Option<Words>,
    pub day: Option<Day>,
    pub meal: Option<MealName>,
    /// How it is divided among several plates; `None`: one plate.
    pub share: Option<Share>,
    /// "forgot 20 cheese with that", "another 60 rice": goes with the sender's last plate.
    pub with_last: bool,
    /// "anyway": the sender has confirmed what would otherwise be asked.
    pub anyway: bool,
}

/// Everyone who is not named, as the words of an eater.
pub const OTHERS: &str = "the others";

/// Who eats; `None` is the sender.
pub type Eater = Option<Words>;

/// How a portion is divided among plates. Parts always add up exactly.
#[derive(Debug, Clone, PartialEq)]
pub enum Share {
    /// "for two", "split three ways", "shared with Ana": what was weighed, in equal parts.
    Equally(Party),
    /// "140 dal each": what was weighed is for each.
    Each(Party),
    /// "Ana and Tom had 300 dal": each, or between them? Asked.
    Unclear(Party),
    /// "me 290 of 500 dal", "60/40", "half for Ana", "me 200, Ana 180, Tom the rest".
    Parts(Vec<SharePart>),
}

/// People at one pan. With nobody named and no number, the whole household.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Party {
    pub named: Vec<Eater>,
    /// How many in all, when more are meant than were named; the sender is one of them.
    pub people: Option<u32>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct SharePart {
    pub who: Eater,
    pub size: PartSize,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartSize {
    /// A share of the whole: 0.6 of 60/40.
    Of(f64),
    Grams(f64),
    /// What the other parts leave over, in equal parts if several have it.
    Rest,
}

/// Putting right what was booked last: the sender's own latest plate, or the message replied to.
#[derive(Debug, Clone, PartialEq)]
pub enum Fix {
    /// "no, 31 not 13", "make it 160", "160 not 140 dal".
    Amount {
        new: Amount,
        old: Option<Amount>,
        name: Option<Words>,
    },
    /// "it was barley not rice".
    Name { new: Words, old: Option<Words> },
    /// "that was hers", "that was Ana's"; the words are the person ("hers", "Ana").
    Whose(Words),
    /// "that was yesterday's lunch".
    When {
        day: Option<Day>,
        meal: Option<MealName>,
    },
    /// "take the beans off".
    Remove(Words),
    /// "put back 80 dal".
    PutBack(Vec<Item>),
}

/// A plate eaten again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    pub of: AgainOf,
    pub meal: Option<MealName>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum AgainOf {
    /// "same as yesterday", "same as Tuesday".
    Day(Day),
    /// "same again".
    Last,
    /// "my usual".
    Usual,
}

impl PartialEq for Item {
    fn eq(&self, other: &Self) -> bool {
        self.amount == other.amount && self.name == other.name && self.container == other.container
    }
}
