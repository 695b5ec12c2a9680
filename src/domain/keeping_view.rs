//! What came to stand here, and until when it may be eaten, as an answer shows it.

use chrono::NaiveDate;

use super::ids::MessageId;
use super::keeping::{Keeps, Storage};
use super::origin::Origin;
use super::problem::Problem;
use super::stock::LotView;

/// What was bought, or stood there before.
#[derive(Debug, Clone, PartialEq)]
pub struct ReceiveAnswer {
    pub lots: Vec<ReceivedView>,
    pub origin: Origin,
    pub today: NaiveDate,
    pub notes: Vec<super::answer::Note>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct ReceivedView {
    pub lot: LotView,
    /// What it was taken to be, in the table's or the household's words; `None`: nutrients unknown.
    pub taken_as: Option<String>,
    /// What of it could not be taken.
    pub pending: Option<Problem>,
}

/// How long the household keeps a component from now on.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepsAnswer {
    pub name: String,
    /// Each way of keeping that was told of.
    pub kept: Vec<KeptView>,
    /// What of it stands here, with its dates as they are now.
    pub lots: Vec<LotView>,
    pub today: NaiveDate,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub struct KeptView {
    pub storage: Storage,
    /// What holds now; `None`: nothing says.
    pub keeps: Option<Keeps>,
    /// What the chart says, where the household keeps it longer.
    pub chart: Option<Keeps>,
}

/// The date of lots as it was told, and what follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct UseByAnswer {
    pub told: NaiveDate,
    pub lots: Vec<LotView>,
    pub today: NaiveDate,
    pub message: MessageId,
}
