//! What a message can say: the syntax tree, before anyone knows what its words mean.
//!
//! A name is still the words that were typed; whether "dal" is a batch, a packet or a food is the
//! domain's business. Every command prints (`Display`, in `print.rs`) as a text that parses back to
//! the same command, so an option of a question or a button is kept as the sentence that it stands for.

use std::ops::Range;

use crate::foods::Nutrient;

pub use super::ahead::{Ahead, At, Lasting};
pub use super::avoid::*;
pub use super::clock::{Absent, Clock, ClockSetting, NoteName, PrepDayTold, Told, WhichTimer};
pub use super::cookbook::*;
pub use super::earlier::Earlier;
pub use super::finder::*;
pub use super::hour::Hour;
pub use super::impossible::Impossible;
pub use super::lots::*;
pub use super::mixes::*;
pub use super::packets::*;
pub use super::people::*;
pub use super::personal::*;
pub use super::plate::*;
pub use super::prep::*;
pub use super::read_off::*;
pub use super::reading::{Error, ErrorKind, Reading, Reason};
pub use super::remark::said::*;
pub use super::reports::*;
pub use super::set_up::*;
pub use super::settings::*;

/// Byte range in the text of the message.
pub type Span = Range<usize>;

/// Words as typed (trimmed, inner white space folded), with the place where they stood.
/// Two `Words` are equal when their text is: a span is a place, not a meaning.
#[derive(Debug, Clone, Default)]
pub struct Words {
    pub text: String,
    pub span: Span,
}

/// How much of something, as it was said.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A number with no unit. Grams at the stove ("140 dal") or pieces ("2 onions"): the food decides.
    Bare(f64),
    /// A mass in grams: one number with a unit, or a compound ("1 lb 4 oz"), product ("2 x 400 g"), sum or difference.
    Mass(f64),
    /// A volume in a unit whose size the household's system of measures decides.
    Volume {
        count: f64,
        unit: VolumeUnit,
        /// Qualifiers that choose among the food's rows: "sliced" in "1 cup sliced carrots".
        qualifiers: Vec<String>,
    },
    /// Pieces by a measure word: "2 medium", "3 cloves", "1 can", "1 ladle".
    Pieces { count: f64, measure: Vec<String> },
    /// Both were given ("2 1/2 tbsp (22 g)"): the weighed one wins, the other is kept for the record.
    Weighed { grams: f64, said: Box<Amount> },
    /// Each part weighs so much: "2 cans (400 g each)".
    Each {
        count: f64,
        grams: f64,
        measure: Vec<String>,
    },
    /// A share of what is left: "half the dal" is 0.5, "rest of the rice" is 1.
    Share(f64),
    /// Named, not counted: "pinch", "to taste", "a splash".
    Uncounted(String),
    /// From one amount to another, unclear: "40-50 salsa", "1-2 tbsp".
    Between { low: Box<Amount>, high: Box<Amount> },
    /// Measured in several goes: "1 cup + 2 tbsp".
    Sum(Vec<Amount>),
}

/// Last among the words of a pack's measure: what it weighs is what is in it, however it was printed.
pub const DRAINED: &str = "drained";

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum VolumeUnit {
    Millilitre,
    Centilitre,
    Decilitre,
    Litre,
    Teaspoon,
    Tablespoon,
    Cup,
    FluidOunce,
    Pint,
    Quart,
    Gallon,
}

impl VolumeUnit {
    /// Of a metric one: the others differ from country to country.
    pub fn litres(self) -> Option<f64> {
        match self {
            Self::Millilitre => Some(0.001),
            Self::Centilitre => Some(0.01),
            Self::Decilitre => Some(0.1),
            Self::Litre => Some(1.0),
            _ => None,
        }
    }
}

/// One ingredient line of a batch. Equal to another when it means the same: the text and its place are
/// for the record.
#[derive(Debug, Clone)]
pub struct IngredientLine {
    /// The line as typed, for the record and the answer.
    pub text: String,
    pub span: Span,
    /// The part of the batch that it belongs to ("marinade", "brine"), when lines were headed so.
    pub part: Option<String>,
    pub content: LineContent,
}

#[derive(Debug, Clone, PartialEq)]
pub enum LineContent {
    /// Amount missing means named only ("salt"): its nutrients and mass are unknown, the batch stands.
    Ingredient { amount: Option<Amount>, name: Words },
    /// The line could not be read; it stays pending while the rest of the batch stands.
    Unclear(Error),
}

/// Something poured away.
#[derive(Debug, Clone, PartialEq)]
pub struct PourOff {
    pub amount: Amount,
    /// "fat", "marinade", "brine", or the words typed.
    pub what: Words,
}

/// A calendar day as said.
#[derive(Debug, Clone, PartialEq)]
pub enum Day {
    Today,
    Yesterday,
    /// Tomorrow, "next Monday", "in two days": a day that has not come.
    Ahead,
    /// 0 = Monday; the nearest one in the past, today included.
    Weekday(u8),
    /// Day, month, and year if said.
    Date {
        day: u32,
        month: u32,
        year: Option<i32>,
    },
    DaysAgo(u32),
    /// "in 3 days", of a date that is told and not of a plate.
    InDays(u32),
    /// "the 12th": the nearest one in the past, today included.
    OfMonth(u32),
    /// On some day of the week before this one.
    LastWeek,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MealName {
    Breakfast,
    Lunch,
    Dinner,
    Snack,
}

/// A new batch. Everything but the name may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NewBatch {
    pub name: Words,
    pub lines: Vec<IngredientLine>,
    /// What it weighs cooked. Several that differ contradict each other: which is meant is asked.
    pub weighings: Vec<Weighing>,
    pub poured: Vec<PourOff>,
    /// "freezer", "fridge", or a place of the household's own.
    pub places: Vec<Words>,
    /// How many pieces it is.
    pub pieces: Option<Pieces>,
    /// Marked raw: nothing is cooked, so its yield is 1 unless weighed.
    pub raw: bool,
    /// "made yesterday", "cooked on Sunday".
    pub made: Option<Day>,
    /// "soak 8 h", "simmer 35 min": how it is made, in its order.
    pub steps: Vec<Step>,
}

/// A short answer that counts only against an open question to its sender.
#[derive(Debug, Clone, PartialEq)]
pub enum Choice {
    Yes,
    No,
    /// 1-based.
    Nth(u32),
    /// "both, I had seconds": to "one plate or two?".
    Plates(u32),
}

/// For whom plates are asked of all at once.
pub const EVERYONE: &str = "everyone";

#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// "batch lentil dal ...".
    Batch(NewBatch),
    /// "dal + 1 tsp cumin".
    Add {
        batch: Words,
        lines: Vec<IngredientLine>,
    },
    /// "dal line 3: 5 g cumin"; `number` is 1-based, `line` replaces it, `None` drops it.
    Amend {
        batch: Words,
        number: u32,
        line: Option<IngredientLine>,
    },
    /// "dal weighed 1840".
    Weigh {
        batch: Words,
        weighing: Weighing,
        of: WeighedOf,
    },
    /// "poured off 120 g marinade", "drained 35 g fat from the mince". No batch: the newest open or just cooked one.
    PourOff {
        batch: Option<Words>,
        poured: PourOff,
        anyway: bool,
    },
    /// "140 dal, 180 rice, 2 tsp olive oil".
    Portion(Portion),
    /// "plate 388", "yogurt tub 940", "780 now": what the scale shows, for the readings that follow.
    OnScale(ScaleReading),
    /// "recount: soup 1210".
    Count {
        items: Vec<Weighed>,
        /// What of all that is not named: "rest same", "the rest is gone".
        rest: Option<Rest>,
        anyway: bool,
    },
    /// "binned 120 rice, slimy".
    Waste {
        items: Vec<Item>,
        reason: Option<String>,
        anyway: bool,
    },
    Move(Move),
    /// "half the soup in the freezer, the rest in the garage freezer".
    Spread(Spread),
    /// "label dal", "labels for all in the freezer on A4".
    Label(Label),
    /// "recount" alone: what the books hold, to be answered line by line.
    Sheet,
    /// "drift": what counts found, dish by dish.
    Drift {
        dish: Option<Words>,
    },
    /// "stock chart", "chart of the dal": what stood here, day by day.
    Course {
        dish: Option<Words>,
    },
    /// "what did we throw away in October".
    Wasted {
        period: Period,
    },
    /// "dal cost 6.40".
    Price(Price),
    /// "took some dal".
    Take(Taking),
    /// "the missing dal was mine".
    Claim(Claim),
    /// "there is still 200 dal after all".
    Reopen(Reopen),
    /// "900 frozen peas, freezer", "there was already 700 chilli in the freezer".
    Receive(Receive),
    /// "lasagne cut into 8 slices".
    Pieces(PiecesOf),
    /// "dal keeps 3 days".
    Keeps(KeepsFor),
    /// "tofu use by 3 Dec".
    UseBy {
        name: Words,
        place: Option<Words>,
        on: Day,
    },
    /// "the cellar is a fridge".
    PlaceIs {
        name: Words,
        kind: PlaceKind,
    },
    TopUp(TopUp),
    LeftOver(LeftOver),
    Boxes(Boxes),
    /// "what's left", "what's in the freezer".
    Stock {
        place: Option<Words>,
    },
    /// "what is past its date".
    PastDate,
    /// "what's thawing".
    Thawing,
    /// "what happened to the rice".
    History {
        name: Words,
    },
    /// "what's the date on the soup", "how long will the soup keep".
    Dates {
        name: Words,
    },
    /// "how much dal".
    HowMuch {
        name: Words,
    },
    /// "where is the dal".
    Whereabouts {
        name: Words,
    },
    /// "kcal 100 g parsnip"; no nutrient named means all. "how many grams is a cup of rice" asks for the
    /// weight only.
    Fact {
        nutrient: Option<Nutrient>,
        amount: Option<Amount>,
        name: Words,
        weight_only: bool,
    },
    /// "how many portions of dal".
    Portions {
        name: Words,
    },
    /// "what did I have today".
    Eaten {
        day: Day,
        who: Option<Words>,
    },
    /// "how many calories was that?": of the plate that was filled last.
    LastPlate,
    /// "anything about to go off".
    Due,
    Fix(Fix),
    Again(Again),
    /// "done": the bowl is closed.
    Done,
    /// "dal?", "show dal": the batch, line by line.
    Show {
        name: Words,
    },
    Help {
        topic: Option<Words>,
    },
    Packet(Packet),
    /// "1 ladle dal = 180 g". No food: the measure holds for any.
    TeachMeasure {
        count: f64,
        measure: String,
        name: Option<Words>,
        grams: f64,
    },
    /// "blue pot is 812 g empty".
    TeachContainer {
        name: Words,
        tare_grams: f64,
        /// That it is empty was said, so that nothing stands in it.
        empty: bool,
    },
    /// "blue pot holds dal".
    ContainerHolds {
        container: Words,
        batch: Words,
    },
    /// What a vessel weighs empty. No name: all of them.
    Tares {
        name: Option<Words>,
    },
    Setting(Setting),
    SetUp(SetUp),
    /// "settings", "when is prep day": what is chosen, whole or in part.
    Settings(Option<SettingPart>),
    /// What is told ahead of cooking.
    Prep(Prep),
    /// Of dishes that were cooked before.
    Cookbook(Cookbook),
    /// Timers and reminders.
    Clock(Clock),
    /// Who is at the table.
    People(People),
    /// What people cannot have or leave out.
    Avoid(Avoid),
    /// What somebody chooses for himself, and asks of what he ate.
    Personal(Personal),
    Finder(Finder),
    Undo,
    /// "scrap the freezing": of the sender's acts the newest that put something elsewhere, or this dish.
    UndoMove {
        name: Option<Words>,
    },
    /// "undo my recount": of the sender's acts the newest that counted something, or this dish.
    UndoCount {
        name: Option<Words>,
    },
    /// "the rice wasn't binned": of the sender's acts the newest that threw something away, or this dish.
    UndoWaste {
        name: Option<Words>,
    },
    /// "redo", "undo that undo": puts back what the sender's last undo took.
    Redo,
    /// "why?": of what was cautioned of.
    Why,
    /// "cancel", "drop it": the open question is dropped.
    Drop,
    Choose(Choice),
    /// "/start CODE" from the channel.
    Start {
        code: Option<String>,
    },
    /// Understood, and not there yet; the words name the capability ("freezing and thawing", "targets").
    NotYet {
        capability: &'static str,
    },
}

impl Words {
    pub fn new(text: impl Into<String>, span: Span) -> Self {
        Self {
            text: text.into(),
            span,
        }
    }

    /// Words that were not typed, but chosen from an answer.
    pub fn plain(text: impl Into<String>) -> Self {
        Self::new(text, 0..0)
    }
}

impl PartialEq for Words {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl PartialEq for IngredientLine {
    fn eq(&self, other: &Self) -> bool {
        self.part == other.part && self.content == other.content
    }
}
