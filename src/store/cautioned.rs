//! What was cautioned of last in a chat, as the answers that stand in the outbox tell it.

use chrono::{DateTime, Utc};
use serde_json::Value;

use super::Transaction;
use super::error::{Doing, Result};
use super::inbox::Waiting;
use super::words;
use crate::domain::caution::{Caution, Cautioned, Dated, Said};

/// So far back a caution is remembered.
const MESSAGES_BACK: i64 = 20;

impl Transaction {
    /// The newest answer in the chat that cautions of anything, or the one that the message replies to.
    pub async fn cautioned(&mut self, waiting: &Waiting) -> Result<Option<Said>> {
        let (channel, chat) = (waiting.channel.as_str(), waiting.chat.as_str());
        if let Some(reply_to) = &waiting.reply_to {
            let row = sqlx::query!(
                "select o.data, o.created_at from outbox o
                 where o.channel = ?1 and o.chat = ?2
                   and (o.external_id = ?3 or o.edits in
                        (select e.outbox_id from outbox e
                         where e.channel = ?1 and e.chat = ?2 and e.external_id = ?3))
                 order by o.outbox_id desc limit 1",
                channel,
                chat,
                reply_to
            )
            .fetch_optional(self.connection())
            .await
            .doing("look up what an answer cautioned of")?;
            if let Some(row) = row {
                let at = words::time(&row.created_at)?;
                let said = said(&row.data, at, true)?;
                let dates = || dated(&row.data, at);
                if let Some(said) = said.map_or_else(dates, |said| Ok(Some(said)))? {
                    return Ok(Some(said));
                }
            }
        }
        let rows = sqlx::query!(
            r#"select iif(o.outbox_id = (select max(n.outbox_id) from outbox n where n.channel = ?1 and n.chat = ?2)
                          or instr(o.data, '"cautions"') > 0, o.data, null) as "data: String",
                    o.created_at,
                    not exists (select 1 from message m
                                where m.channel = ?1 and m.chat = ?2 and m.message_id > o.message_id
                                  and m.message_id < ?3) as "alone!: bool"
             from outbox o where o.channel = ?1 and o.chat = ?2
             order by o.outbox_id desc limit ?4"#,
            channel,
            chat,
            waiting.id.0,
            MESSAGES_BACK
        )
        .fetch_all(self.connection())
        .await
        .doing("look up what was cautioned of")?;
        let mut told = None;
        for (at, row) in rows.iter().enumerate() {
            // Nobody has said anything since.
            let newest = at == 0 && row.alone && waiting.reply_to.is_none();
            let Some(data) = &row.data else { continue };
            let sent_at = words::time(&row.created_at)?;
            if let Some(said) = said(data, sent_at, newest)? {
                let dated = told.and_then(|told: Said| told.dated);
                return Ok(Some(Said { dated, ..said }));
            }
            if newest {
                told = dated(data, sent_at)?;
            }
        }
        Ok(told)
    }
}

fn said(data: &str, at: DateTime<Utc>, meant: bool) -> Result<Option<Said>> {
    let data: Value = words::json("an answer's data", data)?;
    let cautioned = |value: &Value| {
        Some(Cautioned {
            caution: Caution::from_word(&value["code"].as_str()?.replace('_', " "))?,
            about: value["about"].as_str()?.to_owned(),
        })
    };
    let listed = data["cautions"].as_array().into_iter().flatten();
    let cautions: Vec<Cautioned> = listed.filter_map(cautioned).collect();
    Ok((!cautions.is_empty()).then_some(Said {
        cautions,
        at,
        meant,
        dated: None,
    }))
}

/// The batches of which an answer tells until when they may be eaten.
fn dated(data: &str, at: DateTime<Utc>) -> Result<Option<Said>> {
    let data: Value = words::json("an answer's data", data)?;
    let parts = data["also"].as_array().into_iter().flatten();
    let mut batches: Vec<String> = Vec::new();
    for part in std::iter::once(&data).chain(parts) {
        let lists = [&part["lots"], &part["elsewhere"]];
        let lots = lists.into_iter().filter_map(Value::as_array).flatten();
        let own = part["batch"]["lots"].as_array().into_iter().flatten();
        let dated = |lot: &&Value| !lot["use_by"].is_null();
        let of_lots = lots.filter(dated).filter_map(|lot| lot["batch"].as_str());
        let code = part["batch"]["code"].as_str();
        let of_batch = code.filter(|_| own.clone().any(|lot| dated(&lot)));
        for code in of_lots.chain(of_batch) {
            if !batches.iter().any(|known| known == code) {
                batches.push(code.to_owned());
            }
        }
    }
    Ok((!batches.is_empty()).then_some(Said {
        cautions: Vec::new(),
        at,
        meant: true,
        dated: Some(Dated { batches, at }),
    }))
}
