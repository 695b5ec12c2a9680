//! Deletion that is real: rows go or lose what tells of a person, and then the file is written anew, so that nothing of
//! it is left in free pages or in the log.
//!
//! Entries stay as they are, since they hold no text and no names, and the stock would not add up without them: whoever is
//! deleted is "someone who left" there. A whole household goes with its entries.
//!
//! What was deleted may still stand in pages that are free. The file says so itself (`user_version`) from the commit on,
//! until it has been written anew: a crash in between is made good at the next start.

mod member;
mod names;

use sqlx::Row;

use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::outbox::OutboxId;
use super::{Store, Transaction};

pub use member::GONE;

/// What came of writing the file anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scrubbed {
    Whole,
    /// Last words are still to be sent; what they say of a chat goes then.
    SpeaksStill,
    /// Somebody reads the old pages.
    Read,
}

/// What the file says of itself, unless a deletion has put another number there.
const CLEAN: i64 = 0;

impl Store {
    /// Write the file anew if something was deleted since it last was. What is still owed is made good at the next start,
    /// or when this is called again.
    ///
    /// # Errors
    /// If the disk has no room for it, or fails.
    pub async fn scrub(&self) -> Result<Scrubbed> {
        let owed: i64 = sqlx::query_scalar("pragma user_version")
            .fetch_one(&self.pool)
            .await
            .doing("look whether something was deleted")?;
        if owed == CLEAN {
            return Ok(Scrubbed::Whole);
        }
        // What was said to a chat that is not known any more is of no use once it was sent.
        for sql in ["pragma secure_delete = on", SAID_TO_STRANGERS, "vacuum"] {
            sqlx::query(sql)
                .execute(&self.pool)
                .await
                .doing("write the file anew")?;
        }
        // Waits for readers as long as any statement does.
        let emptied = sqlx::query("pragma wal_checkpoint(truncate)")
            .fetch_one(&self.pool)
            .await
            .doing("empty the log")?;
        if emptied.get::<i64, _>(0) != 0 {
            return Ok(Scrubbed::Read);
        }
        let waits: i64 = sqlx::query_scalar(WAITS_FOR_STRANGERS)
            .fetch_one(&self.pool)
            .await
            .doing("look what waits to be sent")?;
        if waits > 0 {
            return Ok(Scrubbed::SpeaksStill);
        }
        sqlx::query("pragma user_version = 0")
            .execute(&self.pool)
            .await
            .doing("keep that the file was written anew")?;
        Ok(Scrubbed::Whole)
    }
}

/// Answers to chats that belong to no household, sent or given up.
const SAID_TO_STRANGERS: &str = "
    delete from outbox
    where (sent_at is not null or failed_at is not null) and message_id is null and edits is null
      and not exists (select 1 from chat c where c.channel = outbox.channel and c.chat = outbox.chat)
      and not exists (select 1 from board b where b.outbox_id = outbox.outbox_id)
      and not exists (select 1 from outbox e where e.edits = outbox.outbox_id)
      and not exists (select 1 from note_said n where n.outbox_id = outbox.outbox_id)
      and not exists (select 1 from reminder_state r where r.outbox_id = outbox.outbox_id)";

const WAITS_FOR_STRANGERS: &str = "
    select count(*) from outbox
    where sent_at is null and failed_at is null
      and not exists (select 1 from chat c where c.channel = outbox.channel and c.chat = outbox.chat)";

/// All that may go wrong is that a row still speaks of one that goes; it is looked at in the end, at the commit.
const PREPARE: [&str; 3] = [
    "pragma secure_delete = on",
    "pragma defer_foreign_keys = on",
    "pragma user_version = 1",
];

/// Entries are never deleted, but with all that they are about.
const GUARD: &str = "entry_is_never_deleted";

impl Transaction {
    async fn prepare_to_forget(&mut self) -> Result<()> {
        self.forget_all();
        for sql in PREPARE {
            sqlx::query(sql)
                .execute(self.connection())
                .await
                .doing("begin to delete")?;
        }
        Ok(())
    }

    /// Delete a household with everything in it, and the people who sit at no other table.
    /// `last_words` are still to be said.
    pub async fn forget_household(
        &mut self,
        household: HouseholdId,
        last_words: Option<OutboxId>,
    ) -> Result<()> {
        self.prepare_to_forget().await?;
        let guard: String =
            sqlx::query_scalar("select sql from sqlite_schema where type = 'trigger' and name = ?")
                .bind(GUARD)
                .fetch_one(self.connection())
                .await
                .doing("look up what guards the entries")?;
        self.carry_out(&format!("drop trigger {GUARD}"), &[])
            .await?;
        self.carry_out(
            "delete from outbox
             where outbox_id <> ?2
               and (exists (select 1 from chat c
                            where c.channel = outbox.channel and c.chat = outbox.chat and c.household_id = ?1)
                    or message_id in (select message_id from message where household_id = ?1))",
            &[household.0, last_words.map_or(0, |id| id.0)],
        )
        .await?;
        let people =
            "select person_id from member where household_id = ? and person_id is not null";
        let people: Vec<i64> = sqlx::query_scalar(people)
            .bind(household.0)
            .fetch_all(self.connection())
            .await
            .doing("look up the people of a household")?;
        let tables: Vec<String> = sqlx::query_scalar(
            "select m.name from sqlite_schema m join pragma_table_info(m.name) c
             where m.type = 'table' and c.name = 'household_id' order by m.name = 'household', m.name",
        )
        .fetch_all(self.connection())
        .await
        .doing("list the tables")?;
        for table in tables {
            let sql = format!("delete from \"{table}\" where household_id = ?");
            self.carry_out(&sql, &[household.0]).await?;
        }
        for person in people {
            self.forget_person(person).await?;
        }
        self.carry_out(&guard, &[]).await
    }

    /// Forget somebody who sits at no table any more, with all accounts.
    async fn forget_person(&mut self, person: i64) -> Result<()> {
        for table in ["identity", "person"] {
            let sql = format!(
                "delete from {table} where person_id = ?1
                 and not exists (select 1 from member where person_id = ?1)"
            );
            self.carry_out(&sql, &[person]).await?;
        }
        Ok(())
    }

    async fn carry_out(&mut self, sql: &str, numbers: &[i64]) -> Result<()> {
        let mut query = sqlx::query(sqlx::AssertSqlSafe(sql.to_owned()));
        for number in numbers {
            query = query.bind(*number);
        }
        query
            .execute(self.connection())
            .await
            .doing("delete")
            .map(drop)
    }
}
