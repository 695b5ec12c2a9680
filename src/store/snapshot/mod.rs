//! The books of one household as a decision sees them: everything on the board and little else, so
//! that an answer costs the same after twenty years as in the first week.
//!
//! What is read is bounded by what is open, by what was taught, and by a few recent things; no query
//! here walks the journal, which a test checks by the query plans.

mod act;
mod batch;
mod kitchen;
mod profile;
mod taught;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, Duration, Utc};

use super::Transaction;
use super::error::Result;
use super::household::HouseholdId;
use crate::domain::ids::{BatchId, MemberId, MessageId, ProfileId};
use crate::domain::kitchen::{Act, Batch, Kitchen, Packet};

/// A finished batch stays in sight for a while: a recount or a correction may still reach it.
const FINISHED_STAY: Duration = Duration::days(7);
/// How far back an undo can reach, in messages.
const RECENT_ACTS: i64 = 8;

impl Transaction {
    /// The kitchen as `sender` sees it. `pointed` is what the message points at: what it is about is
    /// loaded too.
    pub async fn kitchen(
        &mut self,
        household: HouseholdId,
        sender: MemberId,
        pointed: Option<&Act>,
        now: DateTime<Utc>,
    ) -> Result<Kitchen> {
        let recent = self.recent_acts(household, sender).await?;
        let acts: Vec<&Act> = recent.iter().chain(pointed).collect();
        let touched: BTreeSet<BatchId> = acts
            .iter()
            .flat_map(|act| &act.entries)
            .filter_map(|entry| entry.entry.batch)
            .collect();
        let needed = self.needed_batches(household, &touched, now).await?;
        let mut profiles: BTreeSet<ProfileId> = acts
            .iter()
            .flat_map(|act| &act.entries)
            .filter_map(|entry| entry.entry.profile)
            .collect();
        let batches = self.batches(household, &needed, &mut profiles).await?;
        self.assemble(household, batches, profiles, recent).await
    }

    /// The kitchen with every batch that ever was, for an export.
    pub async fn whole_kitchen(&mut self, household: HouseholdId) -> Result<Kitchen> {
        let all = self.all_batches(household).await?;
        let mut profiles = BTreeSet::new();
        let batches = self.batches(household, &all, &mut profiles).await?;
        self.assemble(household, batches, profiles, Vec::new())
            .await
    }

    async fn assemble(
        &mut self,
        household: HouseholdId,
        batches: BTreeMap<BatchId, Batch>,
        mut profiles: BTreeSet<ProfileId>,
        recent: Vec<Act>,
    ) -> Result<Kitchen> {
        let packets: Vec<Packet> = self.packets(household).await?;
        profiles.extend(packets.iter().map(|packet| packet.profile));
        Ok(Kitchen {
            defaults: self.defaults(household).await?,
            chosen: self.chosen(household).await?,
            members: self.members(household).await?,
            components: self.components(household).await?,
            places: self.places(household).await?,
            containers: self.containers(household).await?,
            batches,
            profiles: self.profiles(household, &profiles).await?,
            packets,
            measures: self.measures(household).await?,
            choices: self.choices(household).await?,
            questions: self.open_questions(household).await?,
            recent,
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
