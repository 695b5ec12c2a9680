//! Deleting one person of a household: what they said and chose, and their names wherever others wrote them.

use chrono::{DateTime, Utc};

use super::names;
use crate::domain::ids::MemberId;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::outbox::OutboxId;
use crate::store::words::time_text;

/// What is left of a name.
pub const GONE: &str = "someone who left";

/// What tells of a member and stays, since the stock would not add up without it: numbers and days, no words.
const STAYS: [&str; 3] = ["entry", "plate", "taking"];

/// What was booked by them and holds their own words, beside what is the household's: what a dish or a place is called and
/// what went into a pot stay.
const OWN_WORDS: [&str; 3] = ["reminder_state", "reminder", "waste"];

/// An answer without its words; what was not sent yet is not any more.
pub(super) const EMPTY_ANSWER: &str = "
    update outbox set body = '', bold = '[]', buttons = '[]', data = '{}', picture = null,
           failed_at = case when sent_at is null then coalesce(failed_at, created_at) else failed_at end";

impl Transaction {
    /// Delete a person. Grams stay where they went. `last_words` are still to be said.
    pub async fn forget_member(
        &mut self,
        household: HouseholdId,
        member: MemberId,
        last_words: Option<OutboxId>,
        now: DateTime<Utc>,
    ) -> Result<()> {
        self.prepare_to_forget().await?;
        let both = [household.0, member.0];
        let names = self.names_of(household, member).await?;
        let person: Option<i64> = sqlx::query_scalar(
            "select person_id from member where household_id = ? and member_id = ?",
        )
        .bind(both[0])
        .bind(both[1])
        .fetch_one(self.connection())
        .await
        .doing("look up a person")?;

        self.forget_private_chats(both, last_words).await?;
        self.forget_answers(both).await?;
        self.carry_out(
            "update question set answered_by = null, first_entry = null, after_entry = null
             where household_id = ?1
               and answered_by in (select message_id from message where household_id = ?1 and member_id = ?2)",
            &both,
        )
        .await?;
        self.carry_out(
            "delete from question
             where household_id = ?1
               and message_id in (select message_id from message where household_id = ?1 and member_id = ?2)",
            &both,
        )
        .await?;
        for table in OWN_WORDS {
            let sql = format!(
                "delete from {table} where household_id = ?1 and entry_id in
                     (select entry_id from entry where household_id = ?1 and member_id = ?2)"
            );
            self.carry_out(&sql, &both).await?;
        }
        self.carry_out(
            "update taking set taker_id = null where household_id = ?1 and taker_id = ?2",
            &both,
        )
        .await?;
        for (table, column) in self.tell_of_members().await? {
            if !STAYS.contains(&table.as_str()) {
                let sql = format!(
                    "delete from \"{table}\" where household_id = ?1 and \"{column}\" = ?2"
                );
                self.carry_out(&sql, &both).await?;
            }
        }
        self.carry_out(
            "delete from message where household_id = ?1 and member_id = ?2",
            &both,
        )
        .await?;
        sqlx::query(
            "update member set name = ?3, person_id = null, keeper = 0, left_at = coalesce(left_at, ?4)
             where household_id = ?1 and member_id = ?2",
        )
        .bind(both[0])
        .bind(both[1])
        .bind(GONE)
        .bind(time_text(now))
        .execute(self.connection())
        .await
        .doing("delete a name")?;
        if let Some(person) = person {
            self.forget_person(person).await?;
        }
        names::forget(self, household, &names).await
    }

    /// All that they were called here.
    pub(in crate::store) async fn names_of(
        &mut self,
        household: HouseholdId,
        member: MemberId,
    ) -> Result<Vec<String>> {
        sqlx::query_scalar(
            "select name from member where household_id = ?1 and member_id = ?2
             union select words from personal
                   where household_id = ?1 and about_id = ?2 and words is not null
             union select sender_name from message where household_id = ?1 and member_id = ?2",
        )
        .bind(household.0)
        .bind(member.0)
        .fetch_all(self.connection())
        .await
        .doing("look up names")
    }

    /// What the bot has said so far tells of everybody in words of its own: all of it is emptied. What still waits to be
    /// sent to others is sent.
    async fn forget_answers(&mut self, both: [i64; 2]) -> Result<()> {
        let said = format!(
            "{EMPTY_ANSWER} where coalesce(sent_at, failed_at) is not null
               and exists (select 1 from chat c
                           where c.channel = outbox.channel and c.chat = outbox.chat and c.household_id = ?1)"
        );
        self.carry_out(&said, &both[..1]).await?;
        let to_them = format!(
            "{EMPTY_ANSWER}, answers = null, message_id = null
             where message_id in (select message_id from message where household_id = ?1 and member_id = ?2)
                or outbox_id in (select r.outbox_id from reminder_state r
                                 join entry e on e.household_id = r.household_id and e.entry_id = r.entry_id
                                 where e.household_id = ?1 and e.member_id = ?2 and r.outbox_id is not null)"
        );
        self.carry_out(&to_them, &both).await
    }

    /// Chats with the bot alone: their very number is the person's. One that is all that a household has stays.
    async fn forget_private_chats(
        &mut self,
        both: [i64; 2],
        last_words: Option<OutboxId>,
    ) -> Result<()> {
        let chats: Vec<(String, String)> = sqlx::query_as(
            "select distinct m.channel, m.chat from message m
             join chat c on c.channel = m.channel and c.chat = m.chat and c.private = 1
             where m.household_id = ?1 and m.member_id = ?2 and m.private = 1
               and c.household_id = ?1
               and exists (select 1 from chat o where o.household_id = ?1 and (o.channel, o.chat) <> (c.channel, c.chat))",
        )
        .bind(both[0])
        .bind(both[1])
        .fetch_all(self.connection())
        .await
        .doing("look up private chats")?;
        for (channel, chat) in chats {
            for sql in [
                "delete from note_said where channel = ?1 and chat = ?2",
                "update reminder_state set outbox_id = null
                 where outbox_id in (select outbox_id from outbox where channel = ?1 and chat = ?2)",
                "update note_said set outbox_id = null
                 where outbox_id in (select outbox_id from outbox where channel = ?1 and chat = ?2)",
                "delete from outbox where channel = ?1 and chat = ?2 and outbox_id <> ?3",
            ] {
                sqlx::query(sql)
                    .bind(&channel)
                    .bind(&chat)
                    .bind(last_words.map_or(0, |id| id.0))
                    .execute(self.connection())
                    .await
                    .doing("delete a private chat")?;
            }
            self.let_go_of_chat(&channel, &chat).await?;
        }
        Ok(())
    }

    /// The columns that speak of a member, off the schema: what a migration adds cannot be forgotten.
    async fn tell_of_members(&mut self) -> Result<Vec<(String, String)>> {
        sqlx::query_as(
            "select m.name, f.\"from\" from sqlite_schema m join pragma_foreign_key_list(m.name) f
             where m.type = 'table' and f.\"table\" = 'member' and f.\"from\" <> 'household_id'
             order by m.name",
        )
        .fetch_all(self.connection())
        .await
        .doing("list what tells of members")
    }
}
