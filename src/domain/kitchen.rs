//! The state of one household's kitchen, as a decision needs it: what is open, who is here, what
//! words mean. The store builds it from rows; `apply` carries it forward by the same changes that
//! the store then writes, so an answer speaks of the books as they will be.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;

use super::act::Act;
use super::batch::Batch;
use super::change::{Change, Detail, SettingChange};
use super::clock::ClockBooks;
use super::clock::occurrence::ClockSettings;
use super::ids::*;
use super::keeping::{Region, Span, Storage, region_of_zone};
use super::ledger::{Account, Entry, EntryKind};
use super::mass::Mass;
pub use super::open_question::{Answered, Choice, LEAN, OpenQuestion, RECOUNT, SCALE};
use super::origin::Origin;
use super::personal::PersonalBooks;
use super::plate::Plate;
use super::prep::books::PrepBooks;
pub use super::table::{AtTable, Member, Table};
use crate::foods;
use crate::lang;
pub use crate::lang::syntax::PlaceKind;
use crate::lang::syntax::{AnswerStyle, DecimalMark, EnergyUnit, MeasureSystem};

/// What the household has chosen, or the defaults.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    pub zone: Tz,
    pub measures: MeasureSystem,
    pub answers: AnswerStyle,
    /// Whose keeping times it follows.
    pub guidance: Region,
    /// Whether a board hangs in its chats, if it has chosen: it does otherwise.
    pub board: Option<bool>,
    /// In what energy is told. The books hold kcal.
    pub energy: EnergyUnit,
    pub decimals: DecimalMark,
    /// The hour at which a day ends and the next begins: a late dinner counts for its evening.
    pub day_turns: NaiveTime,
    /// The questions of the set-up were begun once.
    pub set_up: bool,
    /// When it is told what.
    pub clock: ClockSettings,
}

impl Settings {
    /// What a household begins with, wherever it is.
    pub fn of_zone(zone: Tz) -> Self {
        Self {
            guidance: region_of_zone(zone.name()),
            zone,
            measures: MeasureSystem::UsCustomary,
            answers: AnswerStyle::Full,
            board: None,
            energy: EnergyUnit::Kcal,
            decimals: DecimalMark::Point,
            day_turns: DAY_TURNS,
            set_up: false,
            clock: ClockSettings::default(),
        }
    }
}

/// Where nobody has said otherwise.
const DAY_TURNS: NaiveTime = NaiveTime::from_hms_opt(3, 0, 0).expect("a time of day");

#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    pub id: ComponentId,
    pub name: String,
    pub key: String,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    pub id: PlaceId,
    pub name: String,
    /// As it was opened.
    pub opened_as: PlaceKind,
    /// Live answers to what kind of place it is, oldest first; the last one holds.
    pub told: Vec<(EntryId, PlaceKind)>,
}

impl Place {
    /// How cold it is there.
    pub fn kind(&self) -> PlaceKind {
        self.told.last().map_or(self.opened_as, |(_, kind)| *kind)
    }

    /// Its name or the household tells what kind of place it is.
    pub fn is_known(&self) -> bool {
        !self.told.is_empty() || kind_of_name(&self.name).is_some()
    }
}

/// The kind that the name of a place tells: a "garage freezer" is one, a "cellar" may be anything.
pub fn kind_of_name(name: &str) -> Option<PlaceKind> {
    match lang::place_kind(name)? {
        "freezer" => Some(PlaceKind::Freezer),
        "fridge" => Some(PlaceKind::Fridge),
        "counter" => Some(PlaceKind::Counter),
        _ => None,
    }
}

/// How long the household itself keeps a component.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnDays {
    pub component: ComponentId,
    pub storage: Storage,
    /// `None`: as the chart says, from here on.
    pub keeps: Option<Span>,
}

/// A vessel known by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Container {
    pub id: ContainerId,
    pub name: String,
    /// Live facts of what it weighs empty, oldest first; the last one counts.
    pub tares: Vec<(EntryId, Mass)>,
}

impl Container {
    pub fn tare(&self) -> Option<Mass> {
        self.tares.last().map(|(_, tare)| *tare)
    }
}

/// Nutrients per 100 g of a plain food or a packet, as they were when first used.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    pub id: ProfileId,
    /// The table's food, if it is one.
    pub food: Option<foods::Code>,
    /// The household's packet, if it is one.
    pub packet: Option<String>,
    pub description: String,
    pub per_100g: foods::Profile,
}

/// A food entered from its packet's label.
#[derive(Debug, Clone, PartialEq)]
pub struct Packet {
    pub entry: EntryId,
    pub name: String,
    pub key: String,
    pub profile: ProfileId,
    pub serving: Option<Mass>,
    pub doubted: bool,
}

/// A gram weight for a household's own measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    pub entry: EntryId,
    pub measure: String,
    /// Of what, folded; `None`: of anything.
    pub key: Option<String>,
    pub each: Mass,
}

/// The food that the household has chosen for words. What is chosen for a plate holds for plates: "rice" is
/// cooked there, and dry in a pot.
#[derive(Debug, Clone, PartialEq)]
pub struct FoodChoice {
    /// The words, folded.
    pub key: String,
    pub food: foods::Code,
    /// Chosen for something eaten, not for an ingredient.
    pub eaten: bool,
}

/// The next free number of each sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    pub member: i64,
    pub entry: i64,
    pub account: i64,
    pub batch: i64,
    pub component: i64,
    pub place: i64,
    pub container: i64,
    pub profile: i64,
    pub question: i64,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Kitchen {
    /// As the household was set up; `settings()` adds what it has chosen since.
    pub defaults: Settings,
    /// Live choices, oldest first; the last one of a kind counts.
    pub chosen: Vec<(EntryId, SettingChange)>,
    pub table: Table,
    pub components: Vec<Component>,
    pub places: Vec<Place>,
    /// The household's own keeping times, oldest first; the last one of a component and a storage holds.
    pub own_days: Vec<(EntryId, OwnDays)>,
    pub containers: Vec<Container>,
    /// Open batches, those finished in the last seven days (a recount may revive them), those that
    /// these have used as ingredients at any depth, and those that `recent` and the act pointed at
    /// concern, whether void or not; by id.
    pub batches: BTreeMap<BatchId, Batch>,
    /// What was put on plates of the newest finished batches of the dishes that are open, as far as
    /// those are not among `batches`: newest first.
    pub eaten_before: BTreeMap<ComponentId, Vec<Mass>>,
    /// Who wrote down what of the batches, where the message asks for what became of one.
    pub authors: BTreeMap<EntryId, MemberId>,
    /// Profiles that the batches and packets need, by id.
    pub profiles: BTreeMap<ProfileId, Profile>,
    pub packets: Vec<Packet>,
    pub measures: Vec<Measure>,
    /// Words that the household has chosen a food for: folded name to food. Later ones win.
    pub choices: Vec<(EntryId, FoodChoice)>,
    /// Everybody's plates of the last two days, and older ones where the message asks for them;
    /// oldest first.
    pub plates: Vec<Plate>,
    /// What on them was told in private chats, as the message found it.
    pub told_privately: BTreeSet<EntryId>,
    /// Whose plates of the last weeks hold anything, with their days, where the message asks how fast dishes go: a day
    /// of eggs and bread tells that nobody had rice.
    pub plates_lately: BTreeMap<AccountId, (NaiveDate, MemberId)>,
    /// Plain food on plates of the last months, where the message asks what was spent: by day.
    pub plain_eaten: Vec<(NaiveDate, ProfileId, Mass)>,
    /// Questions to anybody that nobody has answered or dropped, expired or not, oldest first.
    pub questions: Vec<OpenQuestion>,
    /// The newest acts of the sender that an undo may mean, newest first.
    pub recent: Vec<Act>,
    /// Acts that open questions to the sender point at.
    pub pointed: Vec<Act>,
    /// What those of `recent`, and of the acts that the message or a question points at, took back or put
    /// back.
    pub undone: Vec<Act>,
    /// Acts that have since changed what the message points at, oldest first.
    pub corrections: Vec<Act>,
    /// What was told for cooking ahead.
    pub prep: PrepBooks,
    /// Timers and reminders.
    pub clock: ClockBooks,
    /// What people have chosen for themselves.
    pub personal: PersonalBooks,
    pub next: Next,
}

impl Kitchen {
    pub fn member(&self, id: MemberId) -> Option<&Member> {
        self.table.get(id)
    }

    /// Who is at the table.
    pub fn members(&self) -> &[Member] {
        self.table.seated()
    }

    /// What a dish is called.
    pub fn dish_name(&self, id: ComponentId) -> String {
        let mut known = self.components.iter();
        let own = known.find(|component| component.id == id);
        own.map_or_else(String::new, |component| component.name.clone())
    }

    pub fn place(&self, id: PlaceId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == id)
    }

    pub fn plate(&self, id: AccountId) -> Option<&Plate> {
        self.plates.iter().find(|plate| plate.id == id)
    }

    pub fn batch(&self, id: BatchId) -> &Batch {
        self.batches
            .get(&id)
            .expect("a batch that is referred to is loaded")
    }

    /// What was left of it went into a batch that took its place, so that nothing of it waits to be weighed.
    pub fn was_topped_up(&self, id: BatchId) -> bool {
        let of_it = |batch: &Batch| {
            let topped_up = batch.origin == Origin::ToppedUp && !batch.voided;
            let mut rest = batch.lines.iter().filter(|line| line.number == 1);
            topped_up && rest.any(|line| line.source == Some(id))
        };
        self.batches.values().any(of_it)
    }

    pub fn open_batches(&self) -> impl Iterator<Item = &Batch> {
        self.batches.values().filter(|batch| batch.open)
    }

    /// Carry the state forward by one change, as the store will write it.
    pub fn apply(&mut self, change: &Change) {
        match change {
            Change::Component(component) => {
                self.next.component = component.id.0 + 1;
                self.components.push(component.clone());
            }
            Change::Place(place) => {
                self.next.place = place.id.0 + 1;
                self.places.push(place.clone());
            }
            Change::Container(container) => {
                self.next.container = container.id.0 + 1;
                self.containers.push(container.clone());
            }
            Change::Profile(profile) => {
                self.next.profile = profile.id.0 + 1;
                self.profiles.insert(profile.id, profile.clone());
            }
            Change::Batch(batch) => {
                self.next.batch = batch.id.0 + 1;
                self.batches.insert(batch.id, batch.clone());
            }
            Change::Rename {
                batch,
                name,
                component,
                own_yield,
            } => {
                if let Some(batch) = self.batches.get_mut(batch) {
                    batch.name = name.clone();
                    batch.component = *component;
                    batch.own_yield = *own_yield;
                }
            }
            Change::MadeOn {
                batch,
                made_at,
                made_on,
            } => {
                if let Some(batch) = self.batches.get_mut(batch) {
                    batch.made_at = *made_at;
                    batch.made_on = *made_on;
                }
            }
            Change::MarkRaw { batch, raw } => {
                if let Some(batch) = self.batches.get_mut(batch) {
                    batch.raw = *raw;
                }
            }
            Change::SetOpen { batch, open } => {
                if let Some(batch) = self.batches.get_mut(batch) {
                    batch.open = *open;
                }
            }
            Change::Lot { batch, lot } => {
                self.next.account = lot.id.0 + 1;
                if let Some(batch) = self.batches.get_mut(batch) {
                    batch.lots.push(lot.clone());
                }
            }
            Change::PlaceLot { lot, place } => {
                for batch in self.batches.values_mut() {
                    if let Some(lot) = batch.lot_mut(*lot) {
                        lot.place = *place;
                    }
                }
            }
            Change::Member(member) => {
                self.next.member = member.id.0 + 1;
                self.table.add(member.clone(), &self.personal);
            }
            Change::Plate(plate) => {
                self.next.account = plate.id.0 + 1;
                self.plates.push(plate.clone());
            }
            Change::ClosePlate(id) => {
                if let Some(plate) = self.plates.iter_mut().find(|plate| plate.id == *id) {
                    plate.closed = true;
                }
            }
            Change::Mentioned(id) => {
                if let Some(question) = self.questions.iter_mut().find(|open| open.id == *id) {
                    question.mentioned = true;
                }
            }
            Change::Due { reminder, due_at } => self.clock.put_off(*reminder, *due_at),
            Change::Entry { entry, detail } => self.apply_entry(entry, detail.as_ref()),
            Change::Ask(question) => {
                self.next.question = question.id.0 + 1;
                self.questions.push(question.clone());
            }
            Change::CloseQuestion(id) => self.questions.retain(|question| question.id != *id),
            Change::Answered { .. } => {}
            Change::Reopen(question) => {
                self.questions.retain(|open| open.id != question.id);
                self.questions.push(question.clone());
                self.questions.sort_by_key(|question| question.id);
            }
        }
    }

    fn apply_entry(&mut self, entry: &Entry, detail: Option<&Detail>) {
        self.next.entry = entry.id.0 + 1;
        for account in [entry.from, entry.to] {
            let effect = entry.effect_on(account);
            if let Account::Lot(id) = account {
                let other = if entry.from == account {
                    entry.to
                } else {
                    entry.from
                };
                for batch in self.batches.values_mut() {
                    if let Some(lot) = batch.lot_mut(id) {
                        lot.note(entry, other, effect);
                    }
                }
            }
            if account == Account::Water
                && let Some(batch) = entry.batch.and_then(|id| self.batches.get_mut(&id))
            {
                batch.water -= effect;
            }
        }
        if entry.kind == EntryKind::Batch
            && let Some(batch) = entry.batch.and_then(|id| self.batches.get_mut(&id))
        {
            batch.entry = Some(entry.id);
        }
        if let Some(root) = entry.root {
            let mut batches = self.batches.values_mut();
            if let Some(batch) = batches.find(|batch| batch.entry == Some(root)) {
                batch.voided = !batch.voided;
            }
            // Bringing something back needs its detail; whoever reverses a reversal passes it along.
            match detail {
                Some(detail) => self.remember(root, entry, detail),
                None => self.forget(root),
            }
        } else if let Some(detail) = detail {
            self.remember(entry.id, entry, detail);
        }
    }
}
