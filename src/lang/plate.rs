//! What is on a plate, how it is shared, and how a plate is put right or had again.

use super::syntax::{Amount, Day, Earlier, Hour, MealName, Span, Words};

/// One thing on a plate, in a count, in the bin.
#[derive(Debug, Clone)]
pub struct Item {
    pub amount: Amount,
    pub name: Words,
    /// What it was weighed in, whose tare comes off: "310 dal in the blue bowl".
    pub container: Option<Words>,
    pub span: Span,
}

impl Item {
    /// One thing that stood in nothing, told where its name is.
    pub fn new(amount: Amount, name: Words) -> Self {
        let span = name.span.clone();
        Self {
            amount,
            name,
            container: None,
            span,
        }
    }

    /// The same, told over there.
    pub fn at(self, span: Span) -> Self {
        Self { span, ..self }
    }
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Portion {
    pub items: Vec<Item>,
    /// Whose plate, when it is not the sender's.
    pub who: Option<Words>,
    pub day: Option<Day>,
    pub meal: Option<MealName>,
    /// "at half six": what was counted since is not changed by it.
    pub hour: Option<Hour>,
    /// "an hour ago", "this morning", "before the count".
    pub earlier: Option<Earlier>,
    /// How it is divided among several plates; `None`: one plate.
    pub share: Option<Share>,
    /// "forgot 20 cheese with that", "another 60 rice": goes with the sender's last plate.
    pub with_last: bool,
    /// "with that", "on it too": goes with what the sender just booked, whoever eats that.
    pub with_that: bool,
    /// "anyway": the sender has confirmed what would otherwise be asked.
    pub anyway: bool,
}

/// Everyone who is not named, as the words of an eater.
pub const OTHERS: &str = "the others";

/// Everything on it, as the words of a line: "half of the whole bowl".
pub const WHOLE_PLATE: &str = "whole plate";

/// So many people are those who are eating just now, or the whole household.
pub const THOSE_EATING: u32 = 0;

/// How many of them, behind "the other".
pub const COUNTS: [(&str, usize); 3] = [("two", 2), ("three", 3), ("four", 4)];

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
    /// "150 barley for Tom and 35 salsa": the salsa is Tom's too, or the sender's? Asked.
    Whose(Words),
    /// "me 290 of 500 dal", "60/40", "half for Ana", "me 200, Ana 180, Tom the rest".
    Parts(Vec<SharePart>),
}

/// Whose a part of what was served is in the end.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    Eaten(Eater),
    /// It is where it was taken from.
    Back,
    Away,
}

/// People at one pan. With nobody named and no number, the whole household.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Party {
    pub named: Vec<Eater>,
    /// How many in all, when more are meant than were named; the sender is one of them. [`THOSE_EATING`]: "each", and
    /// nobody says of whom.
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
    /// "no, 31 not 13", "make it 160", "rice 80 -> 95", "double that", "Ana's should be 150".
    Amount { new: Figure, line: Line },
    /// "it was barley not rice", "it was 140 barley not rice"; "no, the new one" has only the words that
    /// choose another batch.
    Name {
        new: Words,
        old: Option<Words>,
        amount: Option<Amount>,
    },
    /// "that was hers", "half of it was Ana's", "gave Tom 50 of mine"; the words are the person.
    Whose { who: Words, of: Of },
    /// "split that with Ana".
    Shared { share: Share, of: Of },
    /// "that was yesterday's lunch", "the chilli was yesterday".
    When {
        day: Option<Day>,
        meal: Option<MealName>,
        of: Of,
    },
    /// "take the beans off", "take Ana's off".
    Remove(Line),
    /// "put back 80 dal", "left 40 of it"; without a name it is the one thing on the plate.
    PutBack(Vec<Item>),
    /// "40 rice left", "3 left" of what is counted: on the plate, or in its pot.
    Left(Item),
    /// "both are 20 too much": each line on the plate is so much less, or more.
    Each { by: Amount, more: bool },
    /// "60 more", "seconds, 80": so much more of the one thing on the plate.
    More(Amount),
    /// "other way round": two amounts, or two people's plates, change places.
    Swapped,
}

/// What the right amount is.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    Is(Amount),
    /// "double that" is 2.
    Times(f64),
    /// "130!!": a bare number, which puts right only what is a slip of the finger away.
    Retyped(f64),
}

/// The line of a plate that a correction means, as far as it was told.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Line {
    pub old: Option<Amount>,
    pub name: Option<Words>,
    /// On whose plate: "Ana", "mine".
    pub owner: Option<Words>,
    /// On the plate of this meal: "lunch was 120 dal".
    pub meal: Option<MealName>,
}

impl Line {
    /// Whatever line has this name.
    pub fn named(name: Words) -> Self {
        Self {
            name: Some(name),
            ..Self::default()
        }
    }
}

/// What of the last plate is meant.
#[derive(Debug, Clone, PartialEq)]
pub enum Of {
    /// "that": what was booked last.
    Last,
    /// "all of that", "both of those": everything on the plate.
    Plate,
    /// "everything but the salsa"
    AllBut(Words),
    /// "the beans".
    Named(Words),
    /// "half of that", "30 of my chilli".
    Part(Amount, Option<Words>),
}

/// A plate eaten again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    pub of: AgainOf,
    pub meal: Option<MealName>,
    /// Whose plates it goes on; none: the sender's.
    pub who: Vec<Words>,
    /// "half of what Robin had".
    pub times: f64,
    /// "but no rice", "with 30 cheddar on top".
    pub but: Vec<But>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum AgainOf {
    /// "same as yesterday", "same as Tuesday".
    Day(Day),
    /// "same again": what the sender had last.
    Last,
    /// "same for me": what somebody else has just had.
    Theirs,
    /// "me too": what somebody else has had in the message right before.
    JustNow,
    /// "same as Robin".
    Person(Words),
    /// "my usual".
    Usual,
}

/// What is different this time.
#[derive(Debug, Clone, PartialEq)]
pub enum But {
    /// "no rice".
    Without(Words),
    /// "only the dal".
    Only(Words),
    /// "145 dal this time", "90 rice".
    Instead(Item),
    /// "with 30 cheddar on top".
    Plus(Item),
    /// "double the rice".
    Times(f64, Words),
    /// "110 here" of the one dish that somebody else has just had.
    Amount(Amount),
    /// "30 less" of it.
    Less(Amount),
    /// "20 more" of it.
    More(Amount),
}

impl Portion {
    /// The one thing on the sender's plate, if nothing else is told of it.
    pub fn lone_item(&self) -> Option<&Item> {
        let [item] = self.items.as_slice() else {
            return None;
        };
        let plain = Self {
            items: self.items.clone(),
            hour: self.hour,
            earlier: self.earlier,
            ..Self::default()
        };
        (*self == plain).then_some(item)
    }

    /// Everyone who is named, but for the sender.
    pub fn people(&self) -> Vec<&Words> {
        let party: Vec<&Eater> = match &self.share {
            Some(Share::Equally(party) | Share::Each(party) | Share::Unclear(party)) => {
                party.named.iter().collect()
            }
            Some(Share::Parts(parts)) => parts.iter().map(|part| &part.who).collect(),
            Some(Share::Whose(_)) | None => Vec::new(),
        };
        let named = party.into_iter().filter_map(Option::as_ref);
        self.who.iter().chain(named).collect()
    }
}

impl PartialEq for Item {
    fn eq(&self, other: &Self) -> bool {
        self.amount == other.amount && self.name == other.name && self.container == other.container
    }
}
