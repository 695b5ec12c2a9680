//! What a decision changes: rows to add to the books, in the order in which they are written.

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};

use super::batch::{Batch, Line, LineState, Lot, Money, Pour, PourKind, ScaleReading, Taking};
use super::clock::ClockDetail;
use super::clock::choice::ClockChoice;
use super::cookbook::OwnYield;
use super::ids::*;
use super::keeping::Region;
use super::kitchen::{
    Component, Container, FoodChoice, Kitchen, Measure, Member, OpenQuestion, OwnDays, Packet,
    Place, PlaceKind, Profile,
};
use super::ledger::{Account, Entry, EntryKind};
use super::mass::Mass;
use super::personal::PersonalFact;
use super::pieces::Counted;
use super::plate::{Plate, PlatePortion};
use super::prep::books::PrepDetail;
use super::vessel::Vessel;
use crate::lang::syntax::{AnswerStyle, DecimalMark, EnergyUnit, MeasureSystem};

#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    Component(Component),
    Place(Place),
    /// A vessel's name; its tare and what stands in it are facts of their own.
    Container(Container),
    Profile(Profile),
    /// A new batch's own row: its lots, lines and the rest follow as changes of their own.
    Batch(Batch),
    Rename {
        batch: BatchId,
        name: String,
        component: ComponentId,
        own_yield: Option<OwnYield>,
    },
    MadeOn {
        batch: BatchId,
        made_at: DateTime<Utc>,
        made_on: NaiveDate,
    },
    MarkRaw {
        batch: BatchId,
        raw: bool,
    },
    /// A finished batch leaves the board and stays in the books.
    SetOpen {
        batch: BatchId,
        open: bool,
    },
    Lot {
        batch: BatchId,
        lot: Lot,
    },
    PlaceLot {
        lot: AccountId,
        place: Option<PlaceId>,
    },
    /// A guest or a child: somebody at the table who does not chat.
    Member(Member),
    Plate(Plate),
    ClosePlate(AccountId),
    Entry {
        entry: Entry,
        /// What the entry is about. With a reversal of a reversal it is the detail that counts
        /// again: the state is carried forward by it, and nothing is written twice.
        detail: Option<Detail>,
    },
    Ask(OpenQuestion),
    CloseQuestion(QuestionId),
    /// The message answered the question, with the entries from `first` up to `after`.
    Answered {
        question: QuestionId,
        message: MessageId,
        first: EntryId,
        after: EntryId,
    },
    /// The answer to the question was edited.
    Reopen(OpenQuestion),
    /// That the question waits has been said.
    Mentioned(QuestionId),
    /// What was told by the hour rings then in another zone.
    Due {
        reminder: EntryId,
        due_at: DateTime<Utc>,
    },
}

impl Change {
    /// It counts this lot.
    pub fn counts(&self, lot: AccountId) -> bool {
        let Change::Entry { entry, .. } = self else {
            return false;
        };
        let ends = [entry.from, entry.to];
        entry.kind == EntryKind::Count && ends.contains(&Account::Lot(lot))
    }

    /// It says something of a question, and nothing of the books.
    pub fn is_about_a_question(&self) -> bool {
        matches!(
            self,
            Change::Ask(_)
                | Change::CloseQuestion(_)
                | Change::Mentioned(_)
                | Change::Answered { .. }
                | Change::Reopen(_)
        )
    }
}

/// What an entry is about, in words and figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Detail {
    Ingredient {
        number: u32,
        text: String,
        part: Option<String>,
        state: LineState,
        estimated: bool,
        note: Option<String>,
        source: Option<BatchId>,
    },
    Weighing {
        gross: Mass,
        tare: Mass,
    },
    PourOff(PourKind),
    /// Of a batch: so many pieces.
    Pieces {
        count: u32,
        of: Option<Mass>,
        word: Option<String>,
    },
    /// Why it was thrown away.
    Waste {
        reason: String,
    },
    /// What the batch cost.
    Price(Money),
    Taking {
        /// As it was said.
        amount: String,
        taker: Option<MemberId>,
    },
    Portion {
        /// The mass comes from a volume, a count or a share judged by eye.
        estimated: bool,
    },
    Packet {
        name: String,
        key: String,
        profile: ProfileId,
        serving: Option<Mass>,
        doubted: bool,
    },
    Measure {
        measure: String,
        key: Option<String>,
        each: Mass,
    },
    Tare {
        container: ContainerId,
        tare: Mass,
    },
    Choice(FoodChoice),
    Setting(SettingChange),
    /// Of a lot: the date that is printed on it.
    ToldDate {
        lot: AccountId,
        on: NaiveDate,
    },
    /// Of a lot: what it stands in; `None`: it was taken out.
    Vessel {
        lot: AccountId,
        vessel: Option<Vessel>,
    },
    OwnDays(OwnDays),
    Prep(PrepDetail),
    /// What kind of place a name stands for.
    PlaceKind {
        place: PlaceId,
        kind: PlaceKind,
    },
    Clock(ClockDetail),
    /// What a person has chosen for themselves.
    Personal {
        member: MemberId,
        fact: PersonalFact,
    },
}

#[derive(Debug, Clone, PartialEq)]
pub enum SettingChange {
    Answers(AnswerStyle),
    Measures(MeasureSystem),
    Zone(chrono_tz::Tz),
    Guidance(Region),
    /// Whether what is in stock hangs in the chat.
    Board(bool),
    Energy(EnergyUnit),
    Decimals(DecimalMark),
    DayTurns(NaiveTime),
    /// The questions of the set-up were begun.
    SetUp,
    Clock(ClockChoice),
}

impl Kitchen {
    /// A detail begins to count, under the entry that first said it.
    pub(super) fn remember(&mut self, id: EntryId, entry: &Entry, detail: &Detail) {
        let batch = entry.batch.and_then(|id| self.batches.get_mut(&id));
        match detail.clone() {
            Detail::Ingredient {
                number,
                text,
                part,
                state,
                estimated,
                note,
                source,
            } => {
                let Some(batch) = batch else { return };
                batch.last_number = batch.last_number.max(number);
                batch.lines.push(Line {
                    entry: id,
                    tip: entry.id,
                    occurred_at: entry.occurred_at,
                    number,
                    text,
                    part,
                    state,
                    mass: entry.mass,
                    from: entry.from,
                    estimated,
                    note,
                    profile: entry.profile,
                    source,
                });
                batch.lines.sort_by_key(|line| (line.number, line.entry));
            }
            Detail::Weighing { gross, tare } => {
                let Some(batch) = batch else { return };
                let reading = ScaleReading {
                    entry: id,
                    occurred_at: entry.occurred_at,
                    gross,
                    tare,
                };
                // A count differs from the books, a weighing of the whole from the raw: the far end tells.
                let ends = [entry.from, entry.to];
                let counted = ends.iter().any(|end| end.is_of_counts());
                let readings = if counted {
                    let lot = batch
                        .lots
                        .iter_mut()
                        .find(|lot| ends.contains(&Account::Lot(lot.id)));
                    match lot {
                        Some(lot) => &mut lot.counts,
                        None => return,
                    }
                } else {
                    &mut batch.weighings
                };
                readings.push(reading);
                readings.sort_by_key(|reading| (reading.occurred_at, reading.entry));
            }
            Detail::PourOff(kind) => {
                let Some(batch) = batch else { return };
                batch.pours.push(Pour {
                    entry: id,
                    occurred_at: entry.occurred_at,
                    kind,
                    mass: entry.mass,
                });
                batch
                    .pours
                    .sort_by_key(|pour| (pour.occurred_at, pour.entry));
            }
            Detail::Pieces { count, of, word } => {
                let Some(batch) = batch else { return };
                batch.counted.push(Counted {
                    entry: id,
                    count,
                    of,
                    word,
                });
                batch.counted.sort_by_key(|counted| counted.entry);
            }
            Detail::Waste { reason } => {
                let Some(batch) = batch else { return };
                batch.reasons.push((id, reason));
                batch.reasons.sort_by_key(|(entry, _)| *entry);
            }
            Detail::Price(money) => {
                let Some(batch) = batch else { return };
                batch.prices.push((id, money));
                batch.prices.sort_by_key(|(entry, _)| *entry);
            }
            Detail::Taking { amount, taker } => {
                let Some(batch) = batch else { return };
                batch.takings.push(Taking {
                    entry: id,
                    occurred_at: entry.occurred_at,
                    lot: entry.from.id(),
                    amount,
                    taker,
                });
                batch
                    .takings
                    .sort_by_key(|taking| (taking.occurred_at, taking.entry));
            }
            Detail::Portion { estimated } => self.put_on_plate(id, entry, estimated),
            Detail::Packet {
                name,
                key,
                profile,
                serving,
                doubted,
            } => {
                self.packets.push(Packet {
                    entry: id,
                    name,
                    key,
                    profile,
                    serving,
                    doubted,
                });
                self.packets.sort_by_key(|packet| packet.entry);
            }
            Detail::Measure { measure, key, each } => {
                self.measures.push(Measure {
                    entry: id,
                    measure,
                    key,
                    each,
                });
                self.measures.sort_by_key(|measure| measure.entry);
            }
            Detail::Tare { container, tare } => {
                if let Some(known) = self.containers.iter_mut().find(|c| c.id == container) {
                    known.tares.push((id, tare));
                    known.tares.sort_by_key(|(entry, _)| *entry);
                }
            }
            Detail::Vessel { lot, vessel } => {
                let mut batches = self.batches.values_mut();
                if let Some(lot) = batches.find_map(|batch| batch.lot_mut(lot)) {
                    lot.stood.push((id, vessel));
                    lot.stood.sort_by_key(|(entry, _)| *entry);
                }
            }
            Detail::ToldDate { lot, on } => {
                let mut batches = self.batches.values_mut();
                if let Some(lot) = batches.find_map(|batch| batch.lot_mut(lot)) {
                    lot.told.push((id, on));
                    lot.told.sort_by_key(|(entry, _)| *entry);
                }
            }
            Detail::Prep(told) => self.prep.remember(id, entry, told),
            Detail::Clock(detail) => self.clock.remember(id, entry, &detail),
            Detail::Personal { member, fact } => {
                self.personal.remember(id, entry, member, fact);
                self.table.seat(&self.personal);
            }
            Detail::OwnDays(own) => {
                self.own_days.push((id, own));
                self.own_days.sort_by_key(|(entry, _)| *entry);
            }
            Detail::PlaceKind { place, kind } => {
                if let Some(known) = self.places.iter_mut().find(|known| known.id == place) {
                    known.told.push((id, kind));
                    known.told.sort_by_key(|(entry, _)| *entry);
                }
            }
            Detail::Choice(choice) => {
                self.choices.push((id, choice));
                self.choices.sort_by_key(|(entry, _)| *entry);
            }
            Detail::Setting(change) => {
                self.chosen.push((id, change));
                self.chosen.sort_by_key(|(entry, _)| *entry);
            }
        }
    }

    fn put_on_plate(&mut self, id: EntryId, entry: &Entry, estimated: bool) {
        let Some(plate) = self
            .plates
            .iter_mut()
            .find(|plate| entry.to == Account::Plate(plate.id))
        else {
            return;
        };
        plate.portions.push(PlatePortion {
            entry: id,
            tip: entry.id,
            occurred_at: entry.occurred_at,
            recorded_at: entry.recorded_at,
            from: entry.from,
            mass: entry.mass,
            batch: entry.batch,
            profile: entry.profile,
            estimated,
        });
        plate.portions.sort_by_key(|portion| portion.entry);
    }

    /// A detail no longer counts; what it had replaced counts again.
    pub(super) fn forget(&mut self, id: EntryId) {
        for batch in self.batches.values_mut() {
            batch.lines.retain(|line| line.entry != id);
            batch.pours.retain(|pour| pour.entry != id);
            batch.weighings.retain(|reading| reading.entry != id);
            batch.counted.retain(|counted| counted.entry != id);
            batch.takings.retain(|taking| taking.entry != id);
            batch.reasons.retain(|(entry, _)| *entry != id);
            batch.prices.retain(|(entry, _)| *entry != id);
            for lot in &mut batch.lots {
                lot.counts.retain(|reading| reading.entry != id);
                lot.told.retain(|(entry, _)| *entry != id);
                lot.stood.retain(|(entry, _)| *entry != id);
            }
        }
        for plate in &mut self.plates {
            plate.portions.retain(|portion| portion.entry != id);
        }
        for container in &mut self.containers {
            container.tares.retain(|(entry, _)| *entry != id);
        }
        for place in &mut self.places {
            place.told.retain(|(entry, _)| *entry != id);
        }
        self.prep.forget(id);
        self.clock.forget(id);
        if self.personal.forget(id) {
            self.table.seat(&self.personal);
        }
        self.own_days.retain(|(entry, _)| *entry != id);
        self.packets.retain(|packet| packet.entry != id);
        self.measures.retain(|measure| measure.entry != id);
        self.choices.retain(|(entry, _)| *entry != id);
        self.chosen.retain(|(entry, _)| *entry != id);
    }
}
