//! Reads for an export: the households, and one household's whole journal in words.

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;

#[derive(Debug, Clone, PartialEq)]
pub struct HouseholdRow {
    pub id: HouseholdId,
    pub name: String,
    pub zone: String,
    pub created_at: String,
    /// Channel and the channel's own chat id.
    pub chats: Vec<(String, String)>,
}

/// One entry with batch, place and member as words. What moves to a plate or from it is the plate's
/// member's, whoever wrote it down; anything else is who wrote it down.
#[derive(Debug, Clone, PartialEq)]
pub struct BookEntry {
    pub id: i64,
    pub kind: String,
    pub occurred_at: String,
    pub recorded_at: String,
    pub member: String,
    pub batch: Option<String>,
    pub place: Option<String>,
    /// The batch that an ingredient was taken from.
    pub source: Option<String>,
    /// The day of the plate, for what is eaten.
    pub day: Option<String>,
    pub mass_mg: i64,
    pub reverses: Option<i64>,
}

impl Transaction {
    pub async fn households(&mut self) -> Result<Vec<HouseholdRow>> {
        let rows = sqlx::query!(
            "select h.household_id, h.name, h.timezone, h.created_at, c.channel as \"channel?\", c.chat as \"chat?\"
             from household h left join chat c on c.household_id = h.household_id
             order by h.household_id, c.channel, c.chat"
        )
        .fetch_all(self.connection())
        .await
        .doing("list the households")?;
        let mut households: Vec<HouseholdRow> = Vec::new();
        for row in rows {
            let id = HouseholdId(row.household_id);
            if households.last().is_none_or(|last| last.id != id) {
                households.push(HouseholdRow {
                    id,
                    name: row.name,
                    zone: row.timezone,
                    created_at: row.created_at,
                    chats: Vec::new(),
                });
            }
            if let (Some(last), Some(channel), Some(chat)) =
                (households.last_mut(), row.channel, row.chat)
            {
                last.chats.push((channel, chat));
            }
        }
        Ok(households)
    }

    /// The household of a chat, whatever its channel: the chat's own id is enough.
    pub async fn household_of_chat(&mut self, chat: &str) -> Result<Option<HouseholdRow>> {
        let households = self.households().await?;
        Ok(households
            .into_iter()
            .find(|household| household.chats.iter().any(|(_, known)| known == chat)))
    }

    pub async fn journal(&mut self, household: HouseholdId) -> Result<Vec<BookEntry>> {
        sqlx::query_as!(
            BookEntry,
            r#"-- export: the whole journal
               select e.entry_id as "id!", e.kind as "kind!", e.occurred_at as "occurred_at!",
                      e.recorded_at as "recorded_at!", m.name as "member!", b.code as "batch?", p.name as "place?",
                      source.code as "source?", plate.day as "day?",
                      e.mass_mg * case
                          when coalesce(first.kind, e.kind) in ('weigh', 'settle', 'count')
                              then case when e.to_id >= 100 then 1 else -1 end
                          when first.from_id <> e.from_id then -1
                          else 1
                      end as "mass_mg!: i64", e.reverses
               from entry e
               left join entry first on first.household_id = e.household_id and first.entry_id = e.root
               left join plate on plate.household_id = e.household_id and plate.account_id in (e.from_id, e.to_id)
               join member m on m.household_id = e.household_id
                    and m.member_id = coalesce(plate.member_id, e.member_id)
               left join batch b on b.household_id = e.household_id and b.batch_id = e.batch_id
               left join lot l on l.household_id = e.household_id and l.batch_id = e.batch_id
                    and l.account_id in (e.from_id, e.to_id)
                    and (coalesce(first.kind, e.kind) <> 'move' or l.account_id = coalesce(first.to_id, e.to_id))
               left join lot taken on taken.household_id = e.household_id and taken.batch_id <> e.batch_id
                    and taken.account_id in (e.from_id, e.to_id)
               left join batch source on source.household_id = taken.household_id
                    and source.batch_id = taken.batch_id
               left join place p on p.household_id = l.household_id and p.place_id = l.place_id
               where e.household_id = ? order by e.entry_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read the journal")
    }
}
