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
use super::error::Result;
use super::household::HouseholdId;
use crate::domain::act::{Act, ActEntry};
use crate::domain::batch::Batch;
use crate::domain::clock::ClockBooks;
use crate::domain::ids::{BatchId, ComponentId, MemberId, MessageId, ProfileId};
use crate::domain::kitchen::{Answered, Kitchen, Settings};
use crate::domain::pace::DAYS_BACK;
use crate::domain::table::Table;

/// A finished batch stays in sight for a while: a recount or a correction may still reach it.
const FINISHED_STAY: Duration = Duration::days(7);
/// How far back an undo can reach, in messages.
const RECENT_ACTS: i64 = 8;

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
    /// The kitchen as a sender sees it.
    pub async fn kitchen(&mut self, view: View<'_>) -> Result<Kitchen> {
        let household = view.household;
        let defaults = self.defaults(household).await?;
        let questions = self.open_questions(household).await?;
        let mine = questions.iter().filter(|open| open.member == view.sender);
        let asked: Vec<MessageId> = mine.filter_map(|open| open.pointed).collect();
        let pointed = self.acts(household, &asked).await?;
        let recent = self.recent_acts(household, view.sender).await?;
        let reversing: Vec<&Act> = recent.iter().chain(&pointed).chain(view.pointed).collect();
        let undone = self.undone(household, &reversing).await?;
        let corrections = match view.pointed {
            Some(act) => self.corrections(household, act).await?,
            None => Vec::new(),
        };
        let today = view.now.with_timezone(&defaults.zone).date_naive();
        let own_days = if view.looks_back {
            OWN_PLATE_DAYS
        } else {
            PLATE_DAYS
        };
        let own = (view.sender, today - own_days);
        let (plates, told_privately) = self.plates(household, today - PLATE_DAYS, own).await?;

        let mut touched: BTreeSet<BatchId> = view.named.iter().copied().collect();
        let mut profiles = BTreeSet::new();
        let wrote = view.answered.and_then(|answered| answered.wrote.as_ref());
        let acts = recent.iter().chain(&pointed).chain(&undone);
        let acts = acts.chain(&corrections).chain(view.pointed).chain(wrote);
        for ActEntry { entry, .. } in acts.flat_map(|act| &act.entries) {
            touched.extend(entry.batch);
            profiles.extend(entry.profile);
        }
        for portion in plates.iter().flat_map(|plate| &plate.portions) {
            touched.extend(portion.batch);
            profiles.extend(portion.profile);
        }
        let mut plain_eaten = Vec::new();
        if view.report {
            plain_eaten = self.plain_eaten(household, today - REPORT_DAYS).await?;
            profiles.extend(plain_eaten.iter().map(|(_, profile, _)| *profile));
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
        let batches = self.batches(household, &needed, &mut profiles).await?;
        let authors = match view.looks_back {
            true => self.authors(household, &needed).await?,
            false => BTreeMap::new(),
        };
        let rang = self.rang_since(household, view.now - RANG_STAY).await?;
        let mut kitchen = Kitchen {
            eaten_before: self.eaten_before(household, &needed).await?,
            authors,
            told_privately,
            plates,
            questions,
            recent,
            pointed,
            undone,
            corrections,
            plain_eaten,
            ..self
                .with_names(household, defaults, batches, profiles)
                .await?
        };
        kitchen.clock.rang = rang;
        if view.plans {
            let since = kitchen.day_of(view.now) - Days::new(DAYS_BACK);
            kitchen.plates_lately = self.plates_lately(household, since).await?;
        }
        if view.ahead {
            kitchen.prep.shop.walks = self.walks(household).await?;
        }
        Ok(kitchen)
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
        let mut profiles = BTreeSet::new();
        let batches = self.batches(household, &needed, &mut profiles).await?;
        let defaults = self.defaults(household).await?;
        Ok(Kitchen {
            eaten_before: self.eaten_before(household, &needed).await?,
            ..self
                .with_names(household, defaults, batches, profiles)
                .await?
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
        let mut profiles = BTreeSet::new();
        let batches = self.batches(household, &all, &mut profiles).await?;
        let defaults = self.defaults(household).await?;
        let kitchen = Kitchen {
            questions: self.open_questions(household).await?,
            ..self
                .with_names(household, defaults, batches, profiles)
                .await?
        };
        Ok(kitchen)
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
    async fn with_names(
        &mut self,
        household: HouseholdId,
        defaults: Settings,
        batches: BTreeMap<BatchId, Batch>,
        mut profiles: BTreeSet<ProfileId>,
    ) -> Result<Kitchen> {
        let packets = self.packets(household).await?;
        let personal = self.personal(household).await?;
        profiles.extend(packets.iter().map(|packet| packet.profile));
        Ok(Kitchen {
            defaults,
            chosen: self.chosen(household).await?,
            table: Table::of(self.members(household).await?, &personal),
            components: self.components(household).await?,
            places: self.places(household).await?,
            own_days: self.own_days(household).await?,
            containers: self.containers(household).await?,
            batches,
            eaten_before: BTreeMap::new(),
            authors: BTreeMap::new(),
            profiles: self.profiles(household, &profiles).await?,
            packets,
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

    /// What a message has put into the books, over all its revisions; `None` if that is nothing, or
    /// the message is another household's.
    pub async fn act(&mut self, household: HouseholdId, message: MessageId) -> Result<Option<Act>> {
        let acts = self.acts(household, &[message]).await?;
        Ok(acts.into_iter().next())
    }
}
