//! Questions: those that nobody has answered, and the one that an edited message had answered.

use crate::domain::ids::*;
use crate::domain::kitchen::{Answered, Choice, OpenQuestion};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::inbox::Waiting;
use crate::store::words;

struct QuestionRow {
    question_id: i64,
    member_id: i64,
    message_id: i64,
    about: String,
    words: String,
    options: String,
    said_at: String,
    pointed: Option<i64>,
    mentioned: bool,
    expires_at: String,
    said: Option<String>,
}

impl Transaction {
    pub(super) async fn open_questions(
        &mut self,
        household: HouseholdId,
    ) -> Result<Vec<OpenQuestion>> {
        let rows = sqlx::query_as!(
            QuestionRow,
            r#"select question_id, member_id, message_id, about, words, options, said_at, pointed,
                      mentioned as "mentioned: bool", expires_at,
                      (select body from message m where m.message_id = question.message_id
                       and m.kind = 'message' and m.outcome = 'asked') as "said: String"
               from question where household_id = ? and closed_at is null order by question_id"#,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read open questions")?;
        rows.into_iter().map(question).collect()
    }

    /// The question that an earlier revision of a message answered, with what the answer wrote; `None` as
    /// well if the message that the question is about was edited since.
    pub async fn answered(&mut self, message: &Waiting) -> Result<Option<Answered>> {
        let household = message.household;
        let kind = message.kind.word();
        let row = sqlx::query!(
            r#"select q.question_id, q.first_entry as "first!", q.after_entry as "after!"
               from message m
               join question q on q.answered_by = m.message_id and q.household_id = m.household_id
               join message asked on asked.message_id = q.message_id
               where m.channel = ? and m.chat = ? and m.kind = ? and m.external_id = ? and m.household_id = ?
                 and not exists (select 1 from message later
                                 where later.channel = asked.channel and later.chat = asked.chat
                                   and later.kind = asked.kind and later.external_id = asked.external_id
                                   and later.message_id > m.message_id and later.outcome = 'recorded')
               order by q.question_id desc limit 1"#,
            message.channel,
            message.chat,
            kind,
            message.external_id,
            household.0
        )
        .fetch_optional(self.connection())
        .await
        .doing("look for what a message answered")?;
        let Some(row) = row else { return Ok(None) };
        let found = sqlx::query_as!(
            QuestionRow,
            r#"select question_id, member_id, message_id, about, words, options, said_at, pointed,
                      mentioned as "mentioned: bool", expires_at, null as "said: String"
               from question where household_id = ? and question_id = ?"#,
            household.0,
            row.question_id
        )
        .fetch_one(self.connection())
        .await
        .doing("read an answered question")?;
        let question = question(found)?;
        let mut wrote = self.act(household, question.message).await?;
        if let Some(act) = &mut wrote {
            // An answer that only led to another question is followed by what answered that.
            let leads_on = row.first == row.after;
            act.entries.retain(|entry| {
                let id = entry.entry.id.0;
                id >= row.first && (leads_on || id < row.after)
            });
        }
        Ok(Some(Answered { question, wrote }))
    }
}

fn question(row: QuestionRow) -> Result<OpenQuestion> {
    let options: Vec<(String, String)> = words::json("a question's options", &row.options)?;
    Ok(OpenQuestion {
        id: QuestionId(row.question_id),
        member: MemberId(row.member_id),
        message: MessageId(row.message_id),
        about: row.about,
        words: row.words,
        said: row.said,
        options: options
            .into_iter()
            .map(|(label, says)| Choice { label, says })
            .collect(),
        pointed: row.pointed.map(MessageId),
        mentioned: row.mentioned,
        said_at: words::time(&row.said_at)?,
        expires_at: words::time(&row.expires_at)?,
    })
}
