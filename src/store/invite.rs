//! One-time codes that let a chat in. The file keeps a digest: who reads it cannot use them.

use chrono::{DateTime, Duration, Utc};
use sha2::{Digest, Sha256};

use super::Transaction;
use super::error::{Doing, Result};
use super::household::HouseholdId;
use super::words::time_text;

/// How long a code may wait to be used.
pub const INVITE_LIFE: Duration = Duration::days(7);

/// Letters and digits that are not taken for one another when a code is read aloud.
const ALPHABET: &[u8; 32] = b"abcdefghjkmnpqrstuvwxyz023456789";
const CODE_LENGTH: usize = 20;

/// A hundred random bits.
fn fresh_code() -> String {
    let mut bytes = [0; CODE_LENGTH];
    getrandom::fill(&mut bytes).expect("the system gives random bytes");
    bytes
        .iter()
        .map(|byte| char::from(ALPHABET[usize::from(byte % 32)]))
        .collect()
}

fn digest(code: &str) -> String {
    let digest = Sha256::digest(code.trim().to_lowercase().as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

impl Transaction {
    /// A fresh code; only its digest stays here.
    pub async fn new_invite(&mut self, now: DateTime<Utc>) -> Result<String> {
        let code = fresh_code();
        let digest = digest(&code);
        let (created, expires) = (time_text(now), time_text(now + INVITE_LIFE));
        sqlx::query!(
            "insert into invite (code_digest, created_at, expires_at) values (?, ?, ?)",
            digest,
            created,
            expires
        )
        .execute(self.connection())
        .await
        .doing("keep an invitation")?;
        Ok(code)
    }

    /// Whether the code still opens the door.
    pub async fn invite_is_open(&mut self, code: &str, now: DateTime<Utc>) -> Result<bool> {
        let (digest, now) = (digest(code), time_text(now));
        let open = sqlx::query_scalar!(
            r#"select count(*) as "open!: i64" from invite
               where code_digest = ? and used_at is null and expires_at > ?"#,
            digest,
            now
        )
        .fetch_one(self.connection())
        .await
        .doing("look up an invitation")?;
        Ok(open > 0)
    }

    pub async fn use_invite(
        &mut self,
        code: &str,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let (digest, now) = (digest(code), time_text(now));
        sqlx::query!(
            "update invite set used_at = ?, household_id = ? where code_digest = ?",
            now,
            household.0,
            digest
        )
        .execute(self.connection())
        .await
        .doing("use an invitation up")?;
        Ok(())
    }

    /// Nobody has been let in yet, and no code is waiting.
    pub async fn needs_first_invite(&mut self, channel: &str, now: DateTime<Utc>) -> Result<bool> {
        let now = time_text(now);
        let open = sqlx::query_scalar!(
            r#"select (select count(*) from chat where channel = ?)
                    + (select count(*) from invite where used_at is null and expires_at > ?) as "open!: i64""#,
            channel,
            now
        )
        .fetch_one(self.connection())
        .await
        .doing("look for chats and invitations")?;
        Ok(open == 0)
    }
}
