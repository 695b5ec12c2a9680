//! What is said of where food stands: put elsewhere, frozen, thawed, parted into bags, labelled.

use super::syntax::{Amount, Day, Item, Weighing, Words};

/// Food put elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// An item of which no amount was told is all of it.
    pub items: Vec<Item>,
    /// So much of each stays where it is: "all but 400 of the soup".
    pub kept: Option<Amount>,
    pub to: Destination,
    /// Where it was taken from, if that was said.
    pub from: Option<Words>,
    /// What it stands in then: "into the glass jar".
    pub vessel: Option<Words>,
    /// What each bag weighs, where it was parted.
    pub parts_grams: Vec<f64>,
    /// What an empty one does, where they were weighed with it.
    pub bag_grams: Option<f64>,
    /// How cold it is there, if that was told with the place.
    pub kind: Option<PlaceKind>,
    /// The air was drawn off it: "vacuum packed".
    pub packed: bool,
    /// When, if that was not today.
    pub day: Option<Day>,
}

impl Move {
    /// Put there, and nothing else told of it.
    pub fn to(items: Vec<Item>, to: Destination) -> Self {
        Self {
            items,
            kept: None,
            to,
            from: None,
            vessel: None,
            parts_grams: Vec::new(),
            bag_grams: None,
            kind: None,
            packed: false,
            day: None,
        }
    }
}

/// One dish put in several places.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    pub dish: Words,
    pub parts: Vec<SpreadPart>,
}

/// So much of it in one of them.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadPart {
    /// `None`: the rest.
    pub amount: Option<Amount>,
    pub place: Words,
}

/// How cold a place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlaceKind {
    Fridge,
    Freezer,
    Counter,
}

/// How a lot is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Storage {
    Fridge,
    /// In the fridge, after it was frozen.
    Thawed,
    Freezer,
}

/// How long food keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeping {
    Days(u32),
    Months(u32),
}

/// What came to stand here that nobody cooked.
#[derive(Debug, Clone, PartialEq)]
pub struct Receive {
    pub items: Vec<Item>,
    pub from: Received,
    pub place: Option<Words>,
    /// How cold it is there, if that was told with the place.
    pub kind: Option<PlaceKind>,
    /// As printed on the packet.
    pub use_by: Option<Day>,
    pub made: Option<Day>,
    /// "anyway": the sender has confirmed what would otherwise be asked.
    pub anyway: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Received {
    Bought,
    /// It stood there before the books began.
    Before,
}

/// How long the household itself keeps a dish.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepsFor {
    pub name: Words,
    /// `None`: as dishes are kept, in the fridge if it is days.
    pub storage: Option<Storage>,
    /// `None`: as the chart says.
    pub time: Option<Keeping>,
}

/// How many pieces a dish is that stands here.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecesOf {
    pub batch: Words,
    pub pieces: Pieces,
    pub weighing: Option<Weighing>,
    /// A verb told that they are all of it.
    pub told: bool,
    /// So many of them are left, which weigh so much.
    pub left: bool,
}

/// What a batch is counted in.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    pub count: u32,
    /// What one is called, in the singular; `None`: by the batch's own name.
    pub word: Option<String>,
}

/// What a count says of all that it does not name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rest {
    /// As the books have it.
    Same,
    Gone,
}

/// Food that somebody took and did not weigh.
#[derive(Debug, Clone, PartialEq)]
pub struct Taking {
    pub dishes: Vec<Words>,
    /// Where it was taken from, if that was said.
    pub place: Option<Words>,
    /// As it was said: "some", "a bit".
    pub amount: String,
    /// Who took it; `None`: whoever says so.
    pub who: Option<Words>,
    pub day: Option<Day>,
}

/// A dish that was thought to be finished: how much of it stands after all, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Reopen {
    pub dish: Words,
    pub grams: Option<f64>,
    pub place: Option<Words>,
}

/// What a count found missing goes on somebody's plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Claim {
    /// Of which dish; `None`: of what was counted last.
    pub dish: Option<Words>,
    /// Whose it was; `None`: whoever says so.
    pub who: Option<Words>,
    /// So much of it; `None`: all that is missing.
    pub grams: Option<f64>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Destination {
    /// "freezer", "fridge", or a place of the household's own.
    Place(Words),
    /// Out of the freezer, into the fridge.
    Thawed,
    /// Where it stands, into another vessel.
    Here,
}

/// Labels wanted: of what, how large, on what.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The dishes; without one, everything.
    pub names: Vec<Words>,
    /// How much of it is in the bag, where that is told.
    pub grams: Option<f64>,
    /// Only what stands there.
    pub place: Option<Words>,
    pub size: Option<LabelSize>,
    /// Several on such a page.
    pub page: Option<Page>,
    /// How many in all, of one dish; of several, of each.
    pub copies: usize,
    /// Only what was put into bags or elsewhere, and not what stands in its pot.
    pub bags: bool,
}

/// How large a label is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelSize {
    Millimetres {
        width: f64,
        height: f64,
    },
    /// Of a printer that counts in them.
    Dots {
        width: u32,
        height: u32,
    },
}

/// A page for several labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    A4,
    Letter,
}
