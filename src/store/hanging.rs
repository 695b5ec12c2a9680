//! The shopping list that hangs in each chat: the newest message there that shows one.

use serde_json::Value;

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::outbox::OutboxId;
use super::words;

/// Further up in the chat nobody looks for it.
const MESSAGES_BACK: i64 = 60;

/// A message that shows a list.
#[derive(Debug, Clone, PartialEq)]
pub struct HangingList {
    pub channel: String,
    pub chat: String,
    pub topic: Option<String>,
    /// The message itself, which edits replace.
    pub hung: OutboxId,
    /// What it says now.
    pub shows: Value,
}

impl Transaction {
    /// In each chat of a household at most one.
    pub async fn hanging_lists(&mut self, household: HouseholdId) -> Result<Vec<HangingList>> {
        let rows = sqlx::query!(
            r#"select o.channel as "channel!: String", o.chat as "chat!: String", o.topic, o.data,
                      coalesce(o.edits, o.outbox_id) as "hung!: i64"
               from chat c
               join outbox o on o.channel = c.channel and o.chat = c.chat
               where c.household_id = ?1 and o.failed_at is null
                 and o.outbox_id in (select n.outbox_id from outbox n
                                     where n.channel = c.channel and n.chat = c.chat
                                     order by n.outbox_id desc limit ?2)
                 and json_extract(o.data, '$.kind') = 'shopping' and json_extract(o.data, '$.event') = 'shown'
               order by o.outbox_id desc"#,
            household.0,
            MESSAGES_BACK
        )
        .fetch_all(self.connection())
        .await
        .doing("look for shopping lists in the chats")?;
        let mut lists: Vec<HangingList> = Vec::new();
        for row in rows {
            let known = |list: &HangingList| list.channel == row.channel && list.chat == row.chat;
            if !lists.iter().any(known) {
                lists.push(HangingList {
                    shows: words::json("an answer's data", &row.data)?,
                    channel: row.channel,
                    chat: row.chat,
                    topic: row.topic,
                    hung: OutboxId(row.hung),
                });
            }
        }
        Ok(lists)
    }
}
