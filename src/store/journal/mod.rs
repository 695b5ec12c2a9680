//! The journal: everything that a decision changes, written in the decision's own order.
//!
//! Nothing else writes the books, and this file holds the only statement that adds an entry; a household that comes whole
//! from another file is copied row by row (`store/archive`).

mod batch;
mod clock;
mod detail;
mod name;
mod personal;
mod prep;
mod profile;
mod question;
mod shop;

use std::collections::HashMap;

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::memory;
use super::words::time_text;
use crate::domain::act::Act;
use crate::domain::change::{Change, Detail};
use crate::domain::ids::{MessageId, ProfileId};
use crate::domain::kitchen::Kitchen;
use crate::domain::ledger::Entry;

/// One decision being written.
pub(super) struct Writing<'a> {
    transaction: &'a mut Transaction,
    household: i64,
    /// The message that the entries belong to.
    message: MessageId,
    /// How many entries it has so far.
    ordinal: i64,
    now: DateTime<Utc>,
    /// Profiles that were kept before under another number.
    kept: HashMap<ProfileId, ProfileId>,
}

/// What a decision leaves.
pub struct Left {
    pub kitchen: Kitchen,
    /// The message, without its entries, if they are its first and are credited to it.
    pub act: Option<Act>,
    /// It was told in a private chat.
    pub private: bool,
}

impl Transaction {
    /// Append what a decision changes, credited to a message. The kitchen as it leaves it is remembered, as far as a later
    /// look would find it so.
    pub async fn append(
        &mut self,
        household: HouseholdId,
        message: MessageId,
        changes: &[Change],
        left: Left,
        now: DateTime<Utc>,
    ) -> Result<()> {
        if changes.is_empty() {
            self.seen.write(left.act, left.private);
            self.remember(household, left.kitchen);
            return Ok(());
        }
        let ordinal = sqlx::query_scalar!(
            r#"select coalesce(max(ordinal), 0) as "last!: i64" from entry where message_id = ?"#,
            message.0
        )
        .fetch_one(self.connection())
        .await
        .doing("count a message's entries")?;
        let mut writing = Writing {
            transaction: self,
            household: household.0,
            message,
            ordinal,
            now,
            kept: HashMap::new(),
        };
        for change in changes {
            writing.change(change).await?;
        }
        // Nutrients that were kept before go by their first number.
        let as_numbered = writing.kept.is_empty();
        if as_numbered && changes.iter().all(is_carried) {
            let act = left.act.and_then(|act| memory::all_new(act, changes));
            self.seen.write(act, left.private);
            self.remember(household, left.kitchen);
        } else {
            self.forget(household);
        }
        Ok(())
    }
}

/// What a kitchen is carried forward by as the file has it. Of what was told for later only so much is ever read, and what
/// taking back a fact brings about only the file knows.
fn is_carried(change: &Change) -> bool {
    match change {
        Change::Entry {
            detail: Some(Detail::Prep(_) | Detail::Clock(_) | Detail::Personal { .. }),
            ..
        }
        | Change::Due { .. } => false,
        Change::Entry { entry, .. } => entry.root.is_none() || !entry.is_of_a_fact(),
        _ => true,
    }
}

impl Writing<'_> {
    async fn change(&mut self, change: &Change) -> Result<()> {
        match change {
            Change::Component(component) => self.component(component).await,
            Change::Place(place) => self.place(place).await,
            Change::Container(container) => self.container(container).await,
            Change::Member(member) => self.guest(member).await,
            Change::Profile(profile) => self.profile(profile).await,
            Change::Batch(batch) => self.batch(batch).await,
            Change::Rename { .. }
            | Change::MadeOn { .. }
            | Change::MarkRaw { .. }
            | Change::SetOpen { .. } => self.change_batch(change).await,
            Change::Lot { batch, lot } => self.lot(*batch, lot).await,
            Change::PlaceLot { lot, place } => self.place_lot(*lot, *place).await,
            Change::Plate(plate) => self.plate(plate).await,
            Change::ClosePlate(id) => self.close_plate(*id).await,
            Change::Entry { entry, detail } => {
                self.entry(entry).await?;
                match detail {
                    // What a reversal brings back is written already, under its first entry.
                    Some(detail) if entry.root.is_none() => self.detail(entry.id, detail).await,
                    _ => Ok(()),
                }
            }
            Change::Due { reminder, due_at } => self.move_reminder(*reminder, *due_at).await,
            Change::Ask(question) => self.question(question).await,
            Change::Mentioned(id) => self.mentioned(*id).await,
            Change::CloseQuestion(id) => self.close_question(*id).await,
            Change::Answered {
                question,
                message,
                first,
                after,
            } => self.answered(*question, *message, *first, *after).await,
            Change::Reopen(question) => self.reopen(question).await,
        }
    }

    async fn entry(&mut self, entry: &Entry) -> Result<()> {
        self.ordinal += 1;
        let (from, to) = (entry.from.id().0, entry.to.id().0);
        let (kind, mass) = (entry.kind.word(), entry.mass.mg());
        let (occurred_at, recorded_at) =
            (time_text(entry.occurred_at), time_text(entry.recorded_at));
        let batch = entry.batch.map(|id| id.0);
        let profile = self.kept_profile(entry.profile);
        let root = entry.root.map(|id| id.0);
        let reverses = entry.reverses.map(|id| id.0);
        sqlx::query!(
            "insert into entry (household_id, entry_id, kind, occurred_at, recorded_at, member_id, message_id, ordinal,
                                from_id, to_id, mass_mg, batch_id, profile_id, reverses, root)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            entry.id.0,
            kind,
            occurred_at,
            recorded_at,
            entry.member.0,
            self.message.0,
            self.ordinal,
            from,
            to,
            mass,
            batch,
            profile,
            reverses,
            root
        )
        .execute(self.transaction.connection())
        .await
        .doing("append an entry")?;
        Ok(())
    }
}
