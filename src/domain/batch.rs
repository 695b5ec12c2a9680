//! One cooked pot (or bowl of raw food): its lines, what was poured away, what the scale said, and
//! the lots that hold it.

use chrono::{DateTime, NaiveDate, Utc};

use super::cookbook::OwnYield;
use super::ids::*;
use super::ledger::Account;
use super::mass::Mass;
use super::moves::Move;
use super::origin::Origin;
use super::pieces::Counted;
use super::vessel::Vessel;

/// Of a batch so much may be left, and such a share of it, without being anything: what kitchen scales do not
/// show over a few weighings.
const CRUMBS: Mass = Mass::from_mg(5_000);
const CRUMBS_SHARE: f64 = 0.01;

/// What an ingredient line turned out to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineState {
    /// Food and mass are known.
    Known,
    /// The mass is known, the food is not: its nutrients are unknown.
    NoFood,
    /// Nothing tells how much: mass and nutrients are unknown.
    NoMass,
    /// Named, not counted: a pinch, to taste.
    Uncounted,
    /// Could not be read; a question is open.
    Pending,
}

impl LineState {
    pub const ALL: [(LineState, &'static str); 5] = [
        (LineState::Known, "known"),
        (LineState::NoFood, "no_food"),
        (LineState::NoMass, "no_mass"),
        (LineState::Uncounted, "uncounted"),
        (LineState::Pending, "pending"),
    ];

    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(state, _)| *state == self)
            .expect("every state has a word")
            .1
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL
            .iter()
            .find(|(_, known)| *known == word)
            .map(|(state, _)| *state)
    }
}

/// One live ingredient line of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    pub entry: EntryId,
    /// The last link of its chain of reversals: itself, or what put it back.
    pub tip: EntryId,
    pub occurred_at: DateTime<Utc>,
    /// Its number on the batch, from 1.
    pub number: u32,
    pub text: String,
    pub part: Option<String>,
    pub state: LineState,
    pub mass: Mass,
    /// Where it came from: bought, or the lot of another batch.
    pub from: Account,
    pub estimated: bool,
    /// What was assumed, as `assumption` encodes it.
    pub note: Option<String>,
    pub profile: Option<ProfileId>,
    /// The batch that was used as an ingredient.
    pub source: Option<BatchId>,
}

impl Line {
    /// What it adds to the pot is known; a pinch adds nothing that a scale shows.
    pub fn has_mass(&self) -> bool {
        !matches!(self.state, LineState::NoMass | LineState::Pending)
    }
}

#[derive(Debug, Clone, PartialEq)]
pub enum PourKind {
    Fat,
    /// One named part of the batch, in the proportion of its own lines.
    Part(String),
    /// In the proportion of the whole batch.
    Whole,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Pour {
    pub entry: EntryId,
    pub occurred_at: DateTime<Utc>,
    pub kind: PourKind,
    pub mass: Mass,
}

/// What the scale said.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleReading {
    pub entry: EntryId,
    pub occurred_at: DateTime<Utc>,
    pub gross: Mass,
    pub tare: Mass,
}

impl ScaleReading {
    pub fn net(&self) -> Mass {
        self.gross - self.tare
    }
}

/// Hundredths of a currency, which is kept as it was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Money {
    pub hundredths: i64,
    pub currency: String,
}

/// Somebody took of a lot and did not weigh it.
#[derive(Debug, Clone, PartialEq)]
pub struct Taking {
    pub entry: EntryId,
    pub occurred_at: DateTime<Utc>,
    pub lot: AccountId,
    /// As it was said.
    pub amount: String,
    /// Who it was, if that is known.
    pub taker: Option<MemberId>,
}

/// A quantity of a batch in one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    pub id: AccountId,
    pub place: Option<PlaceId>,
    /// The lot that it was moved out of: what that has been through, it has been through too.
    pub came_from: Option<AccountId>,
    /// The household's day on which it came there; `None`: since the batch was made.
    pub since: Option<NaiveDate>,
    /// Live dates that were told of it, as printed on a packet, oldest first; the last one holds.
    pub told: Vec<(EntryId, NaiveDate)>,
    /// Live facts of what it stands in, oldest first; the last one holds.
    pub stood: Vec<(EntryId, Option<Vessel>)>,
    pub balance: Mass,
    /// What has moved in and out, without what was taken back whole.
    pub moves: Vec<Move>,
    /// Live counts, oldest first. Later corrections of entries from before the last one leave it true.
    pub counts: Vec<ScaleReading>,
}

/// One cooked pot (or bowl of raw vegetables), or whatever else stands in stock: a packet, a box, what was left.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    pub id: BatchId,
    /// The entry that opened it.
    pub entry: Option<EntryId>,
    /// That entry stands reversed: the batch was never cooked.
    pub voided: bool,
    pub component: ComponentId,
    pub code: String,
    pub name: String,
    pub made_at: DateTime<Utc>,
    pub made_on: NaiveDate,
    /// Somebody knows that day; otherwise it is the one on which it was written down.
    pub dated: bool,
    pub raw: bool,
    pub origin: Origin,
    /// What earlier pots of the dish had come to when it was opened: until it is weighed, it is reckoned by them.
    pub own_yield: Option<OwnYield>,
    /// On the board. A finished batch stays in the books.
    pub open: bool,
    pub lines: Vec<Line>,
    /// The highest number that any of its lines has had: a number is not given twice.
    pub last_number: u32,
    pub pours: Vec<Pour>,
    /// Live weighings of the whole, oldest first; the last one counts.
    pub weighings: Vec<ScaleReading>,
    /// Water taken up (or, negative, boiled away) so far by the books.
    pub water: Mass,
    pub lots: Vec<Lot>,
    /// Live counts of its pieces, oldest first; the last one holds.
    pub counted: Vec<Counted>,
    /// What was taken unweighed, oldest first.
    pub takings: Vec<Taking>,
    /// Why something of it was thrown away, by the entry that says so.
    pub reasons: Vec<(EntryId, String)>,
    /// Live prices of the whole, oldest first; the last one holds.
    pub prices: Vec<(EntryId, Money)>,
}

impl Lot {
    /// The date that was told of it.
    pub fn told(&self) -> Option<NaiveDate> {
        self.told.last().map(|(_, on)| *on)
    }
}

impl Batch {
    /// As it is opened: nothing has happened to it yet, and what it is called is told beside it.
    pub fn opened(id: BatchId, component: ComponentId, made: (DateTime<Utc>, NaiveDate)) -> Self {
        let (made_at, made_on) = made;
        Self {
            id,
            entry: None,
            voided: false,
            component,
            code: String::new(),
            name: String::new(),
            made_at,
            made_on,
            dated: true,
            raw: false,
            origin: Origin::Cooked,
            own_yield: None,
            open: true,
            lines: Vec::new(),
            last_number: 0,
            pours: Vec::new(),
            weighings: Vec::new(),
            water: Mass::ZERO,
            lots: Vec::new(),
            counted: Vec::new(),
            takings: Vec::new(),
            reasons: Vec::new(),
            prices: Vec::new(),
        }
    }

    /// What went into the pot.
    pub fn raw_mass(&self) -> Mass {
        self.lines.iter().map(|line| line.mass).sum()
    }

    pub fn poured_mass(&self) -> Mass {
        self.pours.iter().map(|pour| pour.mass).sum()
    }

    /// The whole cooked weight by the books, less what was poured away.
    pub fn net_mass(&self) -> Mass {
        self.raw_mass() + self.water - self.poured_mass()
    }

    /// What is left of it, in all places.
    pub fn left(&self) -> Mass {
        self.lots.iter().map(|lot| lot.balance).sum()
    }

    /// Why something of it was thrown away, if the entry that did so tells it.
    pub fn reason(&self, entry: EntryId) -> Option<&str> {
        let mut told = self.reasons.iter();
        let told = told.find(|(of, _)| *of == entry);
        told.map(|(_, reason)| reason.as_str())
    }

    pub fn price(&self) -> Option<&Money> {
        self.prices.last().map(|(_, price)| price)
    }

    /// So little is what sticks to a pot: by the books it is there, and nobody finds it.
    pub fn crumbs(&self) -> Mass {
        CRUMBS.min(self.net_mass().share(CRUMBS_SHARE))
    }

    /// Nothing is left of it but crumbs. What holds less than nothing, or is not weighed in, is for a count to tell.
    pub fn is_finished(&self) -> bool {
        !self.estimated() && !self.net_mass().is_zero() && self.left() <= self.crumbs()
    }

    /// What has been eaten from it, thrown away or put into other pots, up to a moment.
    pub fn drawn_by(&self, moment: DateTime<Utc>) -> Mass {
        self.lots.iter().map(|lot| lot.drawn_by(self, moment)).sum()
    }

    /// The same, by now.
    pub fn drawn(&self) -> Mass {
        self.drawn_by(DateTime::<Utc>::MAX_UTC)
    }

    pub fn lot(&self, id: AccountId) -> Option<&Lot> {
        self.lots.iter().find(|lot| lot.id == id)
    }

    /// The lot of an account, if it is one of its own.
    pub fn lot_of(&self, account: Account) -> Option<&Lot> {
        self.lots.iter().find(|lot| Account::Lot(lot.id) == account)
    }

    /// What goes there stays in the batch.
    pub fn has_lot(&self, account: Account) -> bool {
        self.lot_of(account).is_some()
    }

    /// The weighing of the whole that the books are held to.
    pub fn weighed(&self) -> Option<&ScaleReading> {
        self.weighings.last()
    }

    /// Nothing of it boils away or drinks: it weighs what went in.
    pub fn is_put_together(&self) -> bool {
        self.raw || self.origin != Origin::Cooked
    }

    /// It weighs what went in, and all of that is known.
    pub fn is_sum(&self) -> bool {
        self.is_put_together() && self.lines.iter().all(Line::has_mass)
    }

    /// The count that stands for a weighing of the whole: nobody weighed it before people ate from it.
    pub fn first_count(&self) -> Option<&ScaleReading> {
        let counted = self.weighings.is_empty() && !self.is_sum();
        self.lots.first()?.counts.first().filter(|_| counted)
    }

    /// When its weight became known.
    pub fn weighed_at(&self) -> Option<DateTime<Utc>> {
        let reading = self.weighed().or_else(|| self.first_count())?;
        Some(reading.occurred_at)
    }

    /// Neither weighed nor the sum of what went in raw: its weight is an estimate.
    pub fn estimated(&self) -> bool {
        self.weighed_at().is_none() && !self.is_sum()
    }

    /// Its weight comes from spoons and pieces, or from no scale at all.
    pub fn is_about(&self) -> bool {
        let spooned = || self.lines.iter().any(|line| line.estimated);
        self.estimated() || self.weighed_at().is_none() && spooned()
    }

    pub fn lot_mut(&mut self, id: AccountId) -> Option<&mut Lot> {
        self.lots.iter_mut().find(|lot| lot.id == id)
    }
}
