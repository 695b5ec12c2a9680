//! The books of one household as a decision sees them: everything on the board and little else, so
//! that an answer costs the same after twenty years as in the first week.
//!
//! What is read is bounded by what is open, by what was taught, and by a few recent things; no query
//! here walks the journal, which a test checks by the query plans.

mod act;
mod author;
mod batch;
mod clock;
mod cookbook;
mod kitchen;
mod lot;
mod personal;
mod plate;
mod prep;
mod profile;
mod question;
mod shop;
mod step;
mod taking;
mod taught;
mod usual;
mod wish;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Days, Duration, NaiveDate, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::memory::{self, Remembered};
use crate::domain::act::{Act, ActEntry};
use crate::domain::clock::ClockBooks;
use crate::domain::ids::{BatchId, ComponentId, EntryId, MemberId, MessageId, ProfileId};
use crate::domain::kitchen::{Answered, Kitchen, Settings};
use crate::domain::pace::DAYS_BACK;
use crate::domain::table::Table;

/// A finished batch stays in sight for a while: a recount or a correction may still reach it.
const FINISHED_STAY: Duration = Duration::days(7);
/// How far back an undo can reach, in messages, and in entries.
const RECENT_ACTS: i64 = 8;
const RECENT_ENTRIES: i64 = 200;

/// How far back a report looks: a month of a year ago, whole.
const REPORT_STAY: Duration = Duration::days(400);
const REPORT_DAYS: Days = Days::new(400);

/// Pots that were finished so lately tell how fast a dish goes: of the days that count for it (`domain::pace`) and a
/// fridge's while more.
const PACE_STAY: Duration = Duration::days(42);

/// What rang so long ago may be put off.
const RANG_STAY: Duration = Duration::minutes(30);

/// Everybody's plates of so many days are in sight.
const PLATE_DAYS: Days = Days::new(2);
/// The sender's own, where the message asks for what was eaten before.
const OWN_PLATE_DAYS: Days = Days::new(28);

/// Whose kitchen, and how far it has to be seen.
#[derive(Debug, Clone, Copy)]
pub struct View<'a> {
    pub household: HouseholdId,
    pub sender: MemberId,
    /// What the message points at; what it is about is loaded too.
    pub pointed: Option<&'a Act>,
    /// The question that an edited message had answered.
    pub answered: Option<&'a Answered>,
    /// Batches whose codes stand in the message: they are in sight, however long ago they were finished.
    pub named: &'a [BatchId],
    /// The message asks for what was eaten in the last weeks, or what became of a batch.
    pub looks_back: bool,
    /// It asks for what was made, counted or thrown away in the last months, finished or not.
    pub report: bool,
    /// The newest pots of these dishes are in sight, however long ago they were finished.
    pub dishes: &'a [ComponentId],
    /// It is about what is ahead: plans and lists.
    pub ahead: bool,
    /// It asks for a plan: the pots of the last weeks are in sight.
    pub plans: bool,
    pub now: DateTime<Utc>,
}

impl Transaction {
    /// The kitchen as a sender sees it, with less to read where a part of it is known: from an earlier look of this
    /// transaction, or as the last one left it.
    pub async fn kitchen(&mut self, view: View<'_>, known: Option<Kitchen>) -> Result<Kitchen> {
        let known = match known {
            Some(known) => Some(known),
            None => self.remembered(view.household).await?,
        };
        let doubted = self.doubts && known.is_some();
        let kitchen = self.look_at(view, known).await?;
        if doubted {
            let seen = std::mem::take(&mut self.seen);
            let read = self.look_at(view, None).await?;
            assert_eq!(read, kitchen, "what is remembered is what the file holds");
            self.seen = seen;
        }
        Ok(kitchen)
    }

    /// The kitchen as an earlier transaction left it, unless somebody else has written to the file since.
    async fn remembered(&mut self, household: HouseholdId) -> Result<Option<Kitchen>> {
        let version: i64 = sqlx::query_scalar("pragma data_version")
            .fetch_one(self.connection())
            .await
            .doing("look whether anybody else has written")?;
        let known = self.memory.take(household, version);
        Ok(known.map(|Remembered { kitchen, seen }| {
            self.seen = seen;
            kitchen
        }))
    }

    async fn look_at(&mut self, view: View<'_>, known: Option<Kitchen>) -> Result<Kitchen> {
        let household = view.household;
        let mut kitchen = match known {
            Some(known) => self.with_days(household, known).await?,
            None => self.taught(household).await?,
        };
        kitchen.questions = self.open_questions(household).await?;
        let mine = kitchen.questions.iter();
        let mine = mine.filter(|open| open.member == view.sender);
        let asked: Vec<MessageId> = mine.filter_map(|open| open.pointed).collect();
        kitchen.pointed = self.acts(household, &asked).await?;
        kitchen.recent = self.recent(household, view.sender).await?;
        let reversing = kitchen.recent.iter().chain(&kitchen.pointed);
        let reversing: Vec<&Act> = reversing.chain(view.pointed).collect();
        kitchen.undone = self.undone(household, &reversing).await?;
        kitchen.corrections = match view.pointed {
            Some(act) => self.corrections(household, act).await?,
            None => Vec::new(),
        };
        let today = view.now.with_timezone(&kitchen.defaults.zone).date_naive();
        self.lay_plates(&mut kitchen, &view, today).await?;
        kitchen.plain_eaten = match view.report {
            true => self.plain_eaten(household, today - REPORT_DAYS).await?,
            false => Vec::new(),
        };

        let (mut touched, mut profiles) = spoken_of(&kitchen, &view);
        if view.report {
            let since = view.now - REPORT_STAY;
            touched.extend(self.reported_batches(household, since).await?);
        }
        if !view.dishes.is_empty() {
            touched.extend(self.pots(household, view.dishes).await?);
        }
        if view.plans {
            touched.extend(self.lately_finished(household, view.now).await?);
        }
        let needed = self.needed_batches(household, &touched, view.now).await?;
        self.bring_in_sight(household, &mut kitchen, &needed)
            .await?;
        profiles.extend(kitchen.packets.iter().map(|packet| packet.profile));
        let lines = kitchen.batches.values().flat_map(|batch| &batch.lines);
        profiles.extend(lines.filter_map(|line| line.profile));
        kitchen.profiles.retain(|id, _| profiles.contains(id));
        profiles.retain(|id| !kitchen.profiles.contains_key(id));
        let more = self.profiles(household, &profiles).await?;
        kitchen.profiles.extend(more);

        kitchen.authors = match view.looks_back {
            true => self.authors(household, &needed).await?,
            false => BTreeMap::new(),
        };
        let batches = kitchen.batches.values();
        let in_sight: Vec<(BatchId, bool)> = batches.map(|batch| (batch.id, batch.open)).collect();
        if self.seen.eaten_of.as_ref() != Some(&in_sight) {
            kitchen.eaten_before = self.eaten_before(household, &needed).await?;
            self.seen.eaten_of = Some(in_sight);
        }
        kitchen.clock.told = None;
        kitchen.clock.rang = self.rang_since(household, view.now - RANG_STAY).await?;
        kitchen.plates_lately = match view.plans {
            true => {
                let since = kitchen.day_of(view.now) - Days::new(DAYS_BACK);
                self.plates_lately(household, since).await?
            }
            false => BTreeMap::new(),
        };
        kitchen.prep.shop.walks = match view.ahead {
            true => self.walks(household).await?,
            false => Default::default(),
        };
        Ok(kitchen)
    }

    /// The newest acts of the sender.
    async fn recent(&mut self, household: HouseholdId, sender: MemberId) -> Result<Vec<Act>> {
        let known = self.seen.recent.remove(&sender);
        let mut recent = match known {
            Some(known) => known,
            None => self.recent_acts(household, sender).await?,
        };
        memory::newest(&mut recent, RECENT_ENTRIES as usize, RECENT_ACTS as usize);
        self.seen.recent.insert(sender, recent.clone());
        Ok(recent)
    }

    /// The plates of the last days; earlier ones where the message asks for them.
    async fn lay_plates(
        &mut self,
        kitchen: &mut Kitchen,
        view: &View<'_>,
        today: NaiveDate,
    ) -> Result<()> {
        let since = today - PLATE_DAYS;
        let there = self.seen.plates_since.is_some_and(|first| first <= since);
        if there && !view.looks_back {
            kitchen.plates.retain(|plate| plate.day >= since);
            let portions = kitchen.plates.iter().flat_map(|plate| &plate.portions);
            let laid: BTreeSet<EntryId> = portions.map(|portion| portion.entry).collect();
            kitchen.told_privately.retain(|entry| laid.contains(entry));
        } else {
            let own_days = match view.looks_back {
                true => OWN_PLATE_DAYS,
                false => PLATE_DAYS,
            };
            let own = (view.sender, today - own_days);
            (kitchen.plates, kitchen.told_privately) =
                self.plates(view.household, since, own).await?;
        }
        self.seen.plates_since = Some(since);
        Ok(())
    }

    /// Exactly these batches; those that are in sight already are not read again.
    async fn bring_in_sight(
        &mut self,
        household: HouseholdId,
        kitchen: &mut Kitchen,
        needed: &[i64],
    ) -> Result<()> {
        let in_sight = |id: &i64| kitchen.batches.contains_key(&BatchId(*id));
        let missing = needed.iter().filter(|id| !in_sight(id)).copied();
        let missing: Vec<i64> = missing.collect();
        let wanted = |id: &BatchId| needed.binary_search(&id.0).is_ok();
        kitchen.batches.retain(|id, _| wanted(id));
        if !missing.is_empty() {
            let read = self.batches(household, &missing).await?;
            kitchen.batches.extend(read);
        }
        Ok(())
    }

    /// What a household has chosen.
    pub async fn settings(&mut self, household: HouseholdId) -> Result<Settings> {
        let defaults = self.defaults(household).await?;
        let chosen = self.chosen(household).await?;
        Ok(Settings::after(&defaults, &chosen))
    }

    /// What stands in the kitchen, for its board.
    pub async fn stock(&mut self, household: HouseholdId, now: DateTime<Utc>) -> Result<Kitchen> {
        self.stocked(household, &BTreeSet::new(), now).await
    }

    /// What stands in the kitchen, and these batches.
    async fn stocked(
        &mut self,
        household: HouseholdId,
        beside: &BTreeSet<BatchId>,
        now: DateTime<Utc>,
    ) -> Result<Kitchen> {
        let needed = self.needed_batches(household, beside, now).await?;
        Ok(Kitchen {
            eaten_before: self.eaten_before(household, &needed).await?,
            ..self.with_batches(household, &needed).await?
        })
    }

    /// The same with the pots of the last weeks, for what is told on a prep day.
    pub async fn ahead(&mut self, household: HouseholdId, now: DateTime<Utc>) -> Result<Kitchen> {
        let lately = self.lately_finished(household, now).await?;
        let lately = lately.into_iter().collect();
        let mut kitchen = self.stocked(household, &lately, now).await?;
        let since = kitchen.day_of(now) - Days::new(DAYS_BACK);
        kitchen.plates_lately = self.plates_lately(household, since).await?;
        kitchen.prep.shop.walks = self.walks(household).await?;
        Ok(kitchen)
    }

    /// The kitchen with every batch that ever was, for an export.
    pub async fn whole_kitchen(&mut self, household: HouseholdId) -> Result<Kitchen> {
        let all = self.all_batches(household).await?;
        Ok(Kitchen {
            questions: self.open_questions(household).await?,
            ..self.with_batches(household, &all).await?
        })
    }

    /// The same, with every plate that ever was.
    pub async fn kitchen_with_plates(&mut self, household: HouseholdId) -> Result<Kitchen> {
        let nobody = MemberId(0);
        let ever = NaiveDate::default();
        let (plates, _) = self.plates(household, ever, (nobody, ever)).await?;
        let mut kitchen = self.whole_kitchen(household).await?;
        let portions = plates.iter().flat_map(|plate| &plate.portions);
        let profiles: BTreeSet<ProfileId> = portions.filter_map(|it| it.profile).collect();
        kitchen
            .profiles
            .extend(self.profiles(household, &profiles).await?);
        Ok(Kitchen { plates, ..kitchen })
    }

    /// These batches with all that gives them names and nutrients.
    async fn with_batches(&mut self, household: HouseholdId, ids: &[i64]) -> Result<Kitchen> {
        let mut kitchen = self.taught(household).await?;
        kitchen.batches = self.batches(household, ids).await?;
        let lines = kitchen.batches.values().flat_map(|batch| &batch.lines);
        let lines = lines.filter_map(|line| line.profile);
        let packets = kitchen.packets.iter().map(|packet| packet.profile);
        let profiles = lines.chain(packets).collect();
        kitchen.profiles = self.profiles(household, &profiles).await?;
        Ok(kitchen)
    }

    /// What the household has chosen, named and told, and who is at its table: a kitchen without a batch in it.
    async fn taught(&mut self, household: HouseholdId) -> Result<Kitchen> {
        let personal = self.personal(household).await?;
        let mut table = Table::of(self.members(household).await?, &personal);
        table.ate_on(&self.at_table(household).await?);
        Ok(Kitchen {
            defaults: self.defaults(household).await?,
            chosen: self.chosen(household).await?,
            table,
            components: self.components(household).await?,
            places: self.places(household).await?,
            own_days: self.own_days(household).await?,
            containers: self.containers(household).await?,
            batches: BTreeMap::new(),
            eaten_before: BTreeMap::new(),
            authors: BTreeMap::new(),
            profiles: BTreeMap::new(),
            packets: self.packets(household).await?,
            measures: self.measures(household).await?,
            choices: self.choices(household).await?,
            plates: Vec::new(),
            told_privately: BTreeSet::new(),
            plates_lately: BTreeMap::new(),
            plain_eaten: Vec::new(),
            questions: Vec::new(),
            recent: Vec::new(),
            pointed: Vec::new(),
            undone: Vec::new(),
            corrections: Vec::new(),
            prep: self.prep(household).await?,
            personal,
            clock: ClockBooks {
                waiting: self.waiting_reminders(household).await?,
                rang: Vec::new(),
                told: None,
                absences: self.absences(household).await?,
            },
            next: self.next_numbers(household).await?,
        })
    }

    /// The same of a kitchen that is known: all of it is carried forward, but for who ate here lately.
    async fn with_days(&mut self, household: HouseholdId, mut known: Kitchen) -> Result<Kitchen> {
        known.table.ate_on(&self.at_table(household).await?);
        Ok(known)
    }

    /// What a message has put into the books, over all its revisions; `None` if that is nothing, or
    /// the message is another household's.
    pub async fn act(&mut self, household: HouseholdId, message: MessageId) -> Result<Option<Act>> {
        let acts = self.acts(household, &[message]).await?;
        Ok(acts.into_iter().next())
    }
}

/// The batches and profiles that a message may speak of, because they stand on plates or were written of lately.
fn spoken_of(kitchen: &Kitchen, view: &View<'_>) -> (BTreeSet<BatchId>, BTreeSet<ProfileId>) {
    let mut touched: BTreeSet<BatchId> = view.named.iter().copied().collect();
    let mut profiles = BTreeSet::new();
    let wrote = view.answered.and_then(|answered| answered.wrote.as_ref());
    let acts = kitchen.recent.iter().chain(&kitchen.pointed);
    let acts = acts.chain(&kitchen.undone).chain(&kitchen.corrections);
    let acts = acts.chain(view.pointed).chain(wrote);
    for ActEntry { entry, .. } in acts.flat_map(|act| &act.entries) {
        touched.extend(entry.batch);
        profiles.extend(entry.profile);
    }
    let plates = kitchen.plates.iter();
    for portion in plates.flat_map(|plate| &plate.portions) {
        touched.extend(portion.batch);
        profiles.extend(portion.profile);
    }
    let eaten = kitchen.plain_eaten.iter();
    profiles.extend(eaten.map(|(_, profile, _)| *profile));
    (touched, profiles)
}
