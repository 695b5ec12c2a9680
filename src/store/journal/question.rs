//! Questions to one person.

use super::Writing;
use crate::domain::ids::{EntryId, MessageId, QuestionId};
use crate::domain::kitchen::{Choice, OpenQuestion};
use crate::store::error::{Doing, Result};
use crate::store::words::{self, time_text};

impl Writing<'_> {
    pub(super) async fn question(&mut self, question: &OpenQuestion) -> Result<()> {
        let options: Vec<(&str, &str)> = question
            .options
            .iter()
            .map(|Choice { label, says }| (label.as_str(), says.as_str()))
            .collect();
        let options = words::json_text(&options);
        let (said_at, asked_at) = (time_text(question.said_at), time_text(self.now));
        let pointed = question.pointed.map(|message| message.0);
        let expires_at = time_text(question.expires_at);
        sqlx::query!(
            "insert into question (household_id, question_id, member_id, message_id, about, words, options, said_at,
                                   pointed, mentioned, asked_at, expires_at)
             values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            self.household,
            question.id.0,
            question.member.0,
            question.message.0,
            question.about,
            question.words,
            options,
            said_at,
            pointed,
            question.mentioned,
            asked_at,
            expires_at
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a question")?;
        Ok(())
    }

    pub(super) async fn mentioned(&mut self, id: QuestionId) -> Result<()> {
        sqlx::query!(
            "update question set mentioned = 1 where household_id = ? and question_id = ?",
            self.household,
            id.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep that a question was mentioned")?;
        Ok(())
    }

    pub(super) async fn close_question(&mut self, id: QuestionId) -> Result<()> {
        let now = time_text(self.now);
        sqlx::query!(
            "update question set closed_at = ? where household_id = ? and question_id = ?",
            now,
            self.household,
            id.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("close a question")?;
        Ok(())
    }

    pub(super) async fn answered(
        &mut self,
        question: QuestionId,
        message: MessageId,
        first: EntryId,
        after: EntryId,
    ) -> Result<()> {
        sqlx::query!(
            "update question set answered_by = ?, first_entry = ?, after_entry = ?
             where household_id = ? and question_id = ?",
            message.0,
            first.0,
            after.0,
            self.household,
            question.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep what answered a question")?;
        Ok(())
    }

    /// It stays known what answered it: that message may be edited once more.
    pub(super) async fn reopen(&mut self, question: &OpenQuestion) -> Result<()> {
        sqlx::query!(
            "update question set closed_at = null where household_id = ? and question_id = ?",
            self.household,
            question.id.0
        )
        .execute(self.transaction.connection())
        .await
        .doing("open a question again")?;
        Ok(())
    }
}
