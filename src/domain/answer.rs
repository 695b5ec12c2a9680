//! What a decision answers, as values: `render` gives them words, `render::data` gives them to machines.

use chrono::NaiveDate;

use super::assumption::Assumption;
use super::avoid::answer::AvoidAnswer;
pub use super::batch_view::*;
use super::caution::Cautioned;
pub use super::clock::answer::{
    AbsenceView, AwayAnswer, ClockAnswer, NoteView, ReminderView, RungView,
};
pub use super::cookbook::answer::CookbookAnswer;
pub use super::course::CourseAnswer;
use super::finder::answer::FinderAnswer;
use super::history::HistoryAnswer;
use super::ids::*;
pub use super::keeping_view::*;
use super::kitchen::{PlaceKind, Settings};
pub use super::label::{LabelAnswer, LabelView};
use super::mass::Mass;
pub use super::note::{About, Ask, Note};
use super::nutrients::Totals;
use super::personal::answer::{OwnSettings, PersonalAnswer};
use super::personal::target::Target;
pub use super::prep::answer::PrepAnswer;
pub use super::press::{Button, Press};
use super::problem::Problem;
pub use super::report::{DriftAnswer, DriftLine, PricedAnswer, WastedAnswer, WastedLine};
pub use super::stock::*;
use super::table::answer::TableAnswer;
pub use super::vessel::VesselView;
use crate::foods::{self, Nutrient};
use crate::lang::syntax::{Amount, MealName, SettingPart};

#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    Batch(Box<BatchAnswer>),
    Portion(PortionAnswer),
    Waste(DrawAnswer),
    Count(CountAnswer),
    Taken(TakenAnswer),
    Sheet(SheetAnswer),
    Course(CourseAnswer),
    Drift(DriftAnswer),
    Wasted(WastedAnswer),
    Priced(PricedAnswer),
    Prep(Box<PrepAnswer>),
    Cookbook(Box<CookbookAnswer>),
    Move(MoveAnswer),
    Label(LabelAnswer),
    Receive(ReceiveAnswer),
    Keeps(KeepsAnswer),
    UseBy(UseByAnswer),
    PlaceTold {
        name: String,
        kind: PlaceKind,
        message: MessageId,
    },
    Day(DayAnswer),
    Portions(PortionsAnswer),
    Stock(StockAnswer),
    HowMuch(HowMuchAnswer),
    History(HistoryAnswer),
    Food(FoodAnswer),
    Packet(PacketAnswer),
    MeasureTaught {
        measure: String,
        name: Option<String>,
        each: Mass,
    },
    ContainerTaught {
        name: String,
        tare: Mass,
    },
    ContainerHolds {
        container: String,
        batch: String,
    },
    /// What vessels weigh empty.
    Tares(Vec<VesselView>),
    /// The settings as they now are, and which of them is said.
    Settings {
        settings: Settings,
        /// What the asker has chosen, beside all of the household's.
        own: Option<Box<OwnSettings>>,
        part: Option<SettingPart>,
    },
    Undone(UndoneAnswer),
    Clock(ClockAnswer),
    Personal(Box<PersonalAnswer>),
    Table(Box<TableAnswer>),
    Avoid(Box<AvoidAnswer>),
    Finder(Box<FinderAnswer>),
    /// The open question was dropped.
    Dropped {
        about: String,
    },
    Help {
        topic: Option<String>,
    },
    /// An empty vessel stands on the scale: what comes next counts from there.
    OnScale {
        mass: Mass,
        /// What is in it, if it is a jar: what leaves it counts from there.
        jar: Option<String>,
    },
    Ask(Ask),
    /// Questions that ran out unanswered: what they were about is not booked.
    NotBooked(Vec<String>),
    Problem(Problem),
    /// Why something was cautioned of.
    Why(Vec<Cautioned>),
    /// A message was edited and means the same as before, or a press changes nothing.
    Unchanged,
}

impl Answer {
    /// It tells that the air was drawn off something.
    pub fn packs(&self) -> bool {
        matches!(self, Answer::Move(answer) if answer.packed)
    }

    /// What is said beside what was booked.
    pub fn noted(&self) -> &[Note] {
        match self {
            Answer::Batch(answer) => &answer.notes,
            Answer::Portion(answer) => &answer.notes,
            Answer::Waste(answer) => &answer.notes,
            Answer::Count(answer) => &answer.notes,
            Answer::Move(answer) => &answer.notes,
            Answer::Undone(answer) => &answer.notes,
            _ => &[],
        }
    }

    /// Where something is said beside what was booked.
    pub fn notes(&mut self) -> Option<&mut Vec<Note>> {
        match self {
            Answer::Batch(answer) => Some(&mut answer.notes),
            Answer::Portion(answer) => Some(&mut answer.notes),
            Answer::Waste(answer) => Some(&mut answer.notes),
            Answer::Count(answer) => Some(&mut answer.notes),
            Answer::Taken(answer) => Some(&mut answer.notes),
            Answer::Move(answer) => Some(&mut answer.notes),
            Answer::Receive(answer) => Some(&mut answer.notes),
            Answer::Undone(answer) => Some(&mut answer.notes),
            _ => None,
        }
    }
}

/// What happened to a batch.
#[derive(Debug, Clone, PartialEq)]
pub enum BatchEvent {
    Opened,
    LinesAdded(usize),
    LineChanged(u32),
    WeighedIn,
    PouredOff(Mass),
    /// It is so many pieces.
    Counted,
    Shown,
    Revised,
    /// What was left of another batch, with something added.
    ToppedUp {
        of: String,
    },
    /// What a meal left.
    LeftOver,
    /// Meals packed by the count.
    Boxed,
}

#[derive(Debug, Clone, PartialEq)]
pub struct BatchAnswer {
    pub event: BatchEvent,
    /// Its heat is not gone yet: cautions about cooling apply.
    pub made_today: bool,
    pub view: BatchView,
    pub notes: Vec<Note>,
    /// Lines that could not be read, each with its problem.
    pub pending: Vec<(u32, Problem)>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PortionAnswer {
    pub plates: Vec<PlateView>,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

/// What somebody ate on a day, plate by plate.
#[derive(Debug, Clone, PartialEq)]
pub struct DayAnswer {
    pub of: MemberId,
    pub member: String,
    pub day: NaiveDate,
    pub plates: Vec<PlateView>,
    pub totals: Totals,
    pub targets: Vec<Target>,
    /// Energy and nutrients are told.
    pub numbers: bool,
}

/// How many portions are left.
#[derive(Debug, Clone, PartialEq)]
pub struct PortionsAnswer {
    pub name: String,
    pub batch: String,
    pub left: Mass,
    /// The usual portion so far; `None` if nobody has eaten of it yet.
    pub usual: Option<Mass>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PlateView {
    pub id: AccountId,
    pub of: MemberId,
    pub member: String,
    pub day: NaiveDate,
    /// It was told long after, so that its year is not plain.
    pub long_ago: bool,
    pub meal: Option<MealName>,
    pub lines: Vec<PortionLine>,
    pub totals: Totals,
    /// Energy and nutrients are told.
    pub numbers: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PortionLine {
    pub name: String,
    pub batch: Option<String>,
    pub food: Option<foods::Code>,
    pub packet: Option<String>,
    pub mass: Mass,
    /// The mass comes from a volume or a count.
    pub mass_estimated: bool,
    /// What is left of the batch, if it is one.
    pub left: Option<Mass>,
    /// The same in pieces, if it is counted.
    pub left_pieces: Option<PiecesView>,
    /// The batch is not weighed in: its nutrients are an estimate.
    pub batch_estimated: bool,
    pub totals: Totals,
    /// The lots of the batch that it came from.
    pub lots: Vec<DrawnLot>,
    /// The batch stands in more lots than one, so that it matters which.
    pub of_several: bool,
    /// It was told in a private chat.
    pub told_privately: bool,
    pub assumptions: Vec<Assumption>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct DrawAnswer {
    pub lines: Vec<DrawLine>,
    pub reason: Option<String>,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct DrawLine {
    pub name: String,
    pub batch: String,
    pub mass: Mass,
    pub left: Mass,
}

#[derive(Debug, Clone, PartialEq)]
pub struct CountAnswer {
    pub lines: Vec<CountLine>,
    /// What of the same batches stands in other places, and was not counted; on a walk, all that was not.
    pub elsewhere: Vec<LotView>,
    /// Somebody walks along the sheet of a recount.
    pub walk: bool,
    pub today: NaiveDate,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct CountLine {
    pub name: String,
    pub batch: String,
    /// Where it stands, if that was said.
    pub place: Option<String>,
    pub counted: Mass,
    /// Counted less booked.
    pub difference: Mass,
    /// So much of what is missing was eaten by somebody who did not weigh it.
    pub unweighed: Mass,
}

/// What the books hold, by place: to be answered with what the scale says.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetAnswer {
    pub lots: Vec<LotView>,
    pub today: NaiveDate,
}

/// Somebody took food and did not weigh it.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenAnswer {
    pub dishes: Vec<String>,
    /// As it was said.
    pub amount: String,
    /// Who it was, if that is known.
    pub taker: Option<String>,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

/// What was put where.
#[derive(Debug, Clone, PartialEq)]
pub struct MoveAnswer {
    /// The new lots.
    pub lots: Vec<LotView>,
    /// What of the same batches stands elsewhere.
    pub elsewhere: Vec<LotView>,
    pub thawed: bool,
    /// The air was drawn off it.
    pub packed: bool,
    pub today: NaiveDate,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

/// What is in so much of something.
#[derive(Debug, Clone, PartialEq)]
pub struct FoodAnswer {
    pub name: String,
    pub food: Option<foods::Code>,
    pub batch: Option<String>,
    pub packet: Option<String>,
    /// As asked ("2 medium"), if not in grams.
    pub asked: Option<Amount>,
    pub mass: Mass,
    pub mass_estimated: bool,
    pub batch_estimated: bool,
    pub totals: Totals,
    /// The one that was asked for.
    pub nutrient: Option<Nutrient>,
    /// Only the weight was asked for.
    pub weight_only: bool,
    pub assumptions: Vec<Assumption>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct PacketAnswer {
    pub name: String,
    pub per_100g: foods::Profile,
    pub serving: Option<Mass>,
    /// Energy by the general factors, low and high, when the printed one lies outside.
    pub doubt: Option<LabelDoubt>,
    /// Printed for millilitres, and kept as if one weighed a gram.
    pub by_volume: bool,
    pub message: MessageId,
}

/// Why a label cannot be quite right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelDoubt {
    /// The energy lies outside what its macronutrients give.
    Energy {
        printed_kcal: f64,
        low_kcal: f64,
        high_kcal: f64,
        /// The printed figure would fit as kilojoules.
        looks_like_kj: bool,
    },
    /// More than pure fat has.
    OverFat {
        printed_kcal: f64,
        looks_like_kj: bool,
    },
    /// More than a hundred grams of it in a hundred.
    OverWhole { grams: f64 },
    /// A part ("sugars") that is more than its whole.
    OverPart {
        part: foods::Nutrient,
        whole: foods::Nutrient,
    },
}

#[derive(Debug, Clone, PartialEq)]
pub struct UndoneAnswer {
    /// The text of the message that was taken back (or put back).
    pub text: String,
    pub member: String,
    /// An undo was undone: the entries stand again.
    pub put_back: bool,
    /// What the batches concerned hold now.
    pub left: Vec<LeftView>,
    /// What the household chooses now of what it was about.
    pub chosen: Option<(Settings, Vec<SettingPart>)>,
    pub notes: Vec<Note>,
    pub message: MessageId,
}

/// What a batch holds.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftView {
    pub name: String,
    pub mass: Mass,
    /// The batch is not weighed in.
    pub estimated: bool,
}
