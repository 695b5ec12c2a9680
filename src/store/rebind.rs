//! Another account for somebody who is known, and another chat for a household: the history stays.

use chrono::{DateTime, Utc};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::words::time_text;
use crate::domain::ids::MemberId;

/// Somebody who is or was at a household's table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MemberRow {
    pub id: MemberId,
    pub name: String,
    /// All that they are called.
    pub names: Vec<String>,
    pub here: bool,
    person: Option<i64>,
}

impl MemberRow {
    /// Guests and children have no account.
    pub fn chats(&self) -> bool {
        self.person.is_some()
    }
}

/// What became of a wish to bind an account.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bound {
    /// Those whom the account was before stay in the books without it.
    Done { before: Vec<String> },
    /// It is this person's already.
    Already,
    /// It is somebody's who sits at another household's table, where this person does not.
    Elsewhere,
}

impl Transaction {
    pub async fn members_ever(&mut self, household: HouseholdId) -> Result<Vec<MemberRow>> {
        let rows = sqlx::query!(
            r#"select member_id, name, person_id, left_at is null as "here!: bool" from member
               where household_id = ? order by member_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("list the members")?;
        let mut members = Vec::with_capacity(rows.len());
        for row in rows {
            let id = MemberId(row.member_id);
            members.push(MemberRow {
                id,
                names: self.names_of(household, id).await?,
                name: row.name,
                here: row.here,
                person: row.person_id,
            });
        }
        Ok(members)
    }

    /// From now on this account is this member; other accounts in the channel are not, unless it comes beside them.
    pub async fn bind_account(
        &mut self,
        household: HouseholdId,
        member: &MemberRow,
        (channel, sender): (&str, &str),
        beside: bool,
        now: DateTime<Utc>,
    ) -> Result<Bound> {
        self.forget_all();
        let holder = self.person_of(channel, sender).await?;
        if holder.is_some() && holder == member.person {
            return Ok(Bound::Already);
        }
        let person = match member.person {
            Some(person) => person,
            None => self.new_person_of(household, member.id, now).await?,
        };
        let mut before = Vec::new();
        if let Some(holder) = holder {
            let strange = sqlx::query_scalar!(
                r#"select count(*) as "count!: i64" from member m
                   where m.person_id = ?1 and m.household_id <> ?2
                     and not exists (select 1 from member o where o.person_id = ?3 and o.household_id = m.household_id)"#,
                holder,
                household.0,
                person
            )
            .fetch_one(self.connection())
            .await
            .doing("look up other tables")?;
            if strange > 0 {
                return Ok(Bound::Elsewhere);
            }
            before = self.without_account(holder, (channel, sender), now).await?;
        }
        if !beside {
            self.let_go_of_accounts(household, person, channel).await?;
        }
        sqlx::query!(
            "insert into identity (channel, sender, person_id) values (?, ?, ?)
             on conflict (channel, sender) do update set person_id = excluded.person_id",
            channel,
            sender,
            person
        )
        .execute(self.connection())
        .await
        .doing("bind an account")?;
        let back = sqlx::query!(
            "update member set left_at = null where household_id = ? and member_id = ?",
            household.0,
            member.id.0
        );
        back.execute(self.connection())
            .await
            .doing("bring a member back")?;
        Ok(Bound::Done { before })
    }

    /// Accounts that are lost, with their own chats with the bot: who has them now reads nothing there. The chat that is
    /// all that the household has stays.
    async fn let_go_of_accounts(
        &mut self,
        household: HouseholdId,
        person: i64,
        channel: &str,
    ) -> Result<()> {
        let chats = sqlx::query_scalar!(
            r#"select distinct c.chat from chat c
               join message m on m.channel = c.channel and m.chat = c.chat and m.private = 1
               join identity i on i.channel = m.channel and i.sender = m.sender
               where c.channel = ?1 and c.private = 1 and i.person_id = ?2
                 and exists (select 1 from chat o
                             where o.household_id = ?3 and (o.channel, o.chat) <> (c.channel, c.chat))"#,
            channel,
            person,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("look up private chats")?;
        for chat in chats {
            self.let_go_of_chat(channel, &chat).await?;
        }
        sqlx::query!(
            "delete from identity where channel = ? and person_id = ?",
            channel,
            person
        )
        .execute(self.connection())
        .await
        .doing("let go of an old account")?;
        Ok(())
    }

    /// It leads nowhere any more; what was said there stays in the books.
    pub(super) async fn let_go_of_chat(&mut self, channel: &str, chat: &str) -> Result<()> {
        for sql in [
            "delete from board where channel = ? and chat = ?",
            "delete from schedule where channel = ? and chat = ?",
            "delete from chat where channel = ? and chat = ?",
        ] {
            sqlx::query(sql)
                .bind(channel)
                .bind(chat)
                .execute(self.connection())
                .await
                .doing("let go of a chat")?;
        }
        Ok(())
    }

    /// Somebody who wrote with this account and no other leaves the table, and what was booked stays under that name.
    async fn without_account(
        &mut self,
        person: i64,
        (channel, sender): (&str, &str),
        now: DateTime<Utc>,
    ) -> Result<Vec<String>> {
        let others = sqlx::query_scalar!(
            r#"-- at the box: all accounts
               select count(*) as "count!: i64" from identity
               where person_id = ? and not (channel = ? and sender = ?)"#,
            person,
            channel,
            sender
        )
        .fetch_one(self.connection())
        .await
        .doing("look up other accounts")?;
        if others > 0 {
            return Ok(Vec::new());
        }
        let now = time_text(now);
        let names = sqlx::query_scalar!(
            "update member set person_id = null, left_at = coalesce(left_at, ?) where person_id = ? returning name as \"name!\"",
            now,
            person
        )
        .fetch_all(self.connection())
        .await
        .doing("take an account from a member")?;
        Ok(names)
    }

    async fn new_person_of(
        &mut self,
        household: HouseholdId,
        member: MemberId,
        now: DateTime<Utc>,
    ) -> Result<i64> {
        let person = self.add_person(now).await?;
        sqlx::query!(
            "update member set person_id = ? where household_id = ? and member_id = ?",
            person,
            household.0,
            member.0
        )
        .execute(self.connection())
        .await
        .doing("let a guest write")?;
        Ok(person)
    }

    /// From now on the household is reached in this chat, in the place of that one or beside it.
    pub async fn bind_chat(
        &mut self,
        household: HouseholdId,
        (old_channel, old): (&str, &str),
        (channel, chat): (&str, &str),
        beside: bool,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let private = self
            .chat(old_channel, old)
            .await?
            .is_some_and(|row| row.private);
        self.link_chat(channel, chat, household, private, now)
            .await?;
        if beside {
            return Ok(());
        }
        sqlx::query!(
            "update reminder_state set channel = ?1, chat = ?2 where channel = ?3 and chat = ?4 and state = 'waiting'",
            channel,
            chat,
            old_channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("take what waits along to the new chat")?;
        sqlx::query!(
            "update outbox set channel = ?1, chat = ?2, edits = null, answers = null,
                    kind = case kind when 'edit' then 'reply' else kind end
             where channel = ?3 and chat = ?4 and sent_at is null and failed_at is null and kind <> 'reaction'",
            channel,
            chat,
            old_channel,
            old
        )
        .execute(self.connection())
        .await
        .doing("send what is waiting to the new chat")?;
        self.let_go_of_chat(old_channel, old).await
    }
}
