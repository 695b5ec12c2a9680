//! What was spoken of last in a chat, as the answers that stand in the outbox tell it.

use serde_json::Value;

use super::Transaction;
use super::error::{Doing, Result};
use super::inbox::Waiting;
use super::words;
use crate::domain::spoken::{Spoken, SpokenOf, SpokenPlan};

/// So far back it is looked for.
const MESSAGES_BACK: i64 = 6;

/// Answers that tell what things cost, where that is known.
const TELL_PRICES: [&str; 5] = ["cost", "spent", "plan", "shopping", "good"];

impl Transaction {
    /// What the newest answers in the chat were about, newest first; what the message replies to goes before.
    pub async fn spoken_of(&mut self, waiting: &Waiting) -> Result<Vec<Spoken>> {
        let (channel, chat) = (waiting.channel.as_str(), waiting.chat.as_str());
        let replied = waiting.reply_to.as_deref();
        let rows = sqlx::query!(
            r#"select o.data, o.created_at,
                      (o.external_id is not null and o.external_id = ?3) as "meant!: bool"
               from outbox o
               where o.channel = ?1 and o.chat = ?2
                 and (o.external_id = ?3
                      or o.outbox_id in (select n.outbox_id from outbox n where n.channel = ?1 and n.chat = ?2
                                         order by n.outbox_id desc limit ?4))
               order by 3 desc, o.outbox_id desc"#,
            channel,
            chat,
            replied,
            MESSAGES_BACK
        )
        .fetch_all(self.connection())
        .await
        .doing("look up what was spoken of")?;
        let mut spoken = Vec::new();
        for row in rows {
            let data: Value = words::json("an answer's data", &row.data)?;
            let at = words::time(&row.created_at)?;
            // A prep day's note holds the plan beside other things.
            let parts = data["also"].as_array().into_iter().flatten();
            let parts = std::iter::once(&data).chain(parts);
            for part in parts {
                let kind = part["kind"].as_str().unwrap_or_default();
                // The board hangs there, and says nothing.
                if kind == "board" {
                    continue;
                }
                spoken.push(Spoken {
                    of: of(part).unwrap_or(SpokenOf::Other),
                    at,
                    meant: row.meant,
                    prices: TELL_PRICES.contains(&kind),
                    list: kind == "shopping",
                    left: kind == "stock",
                });
            }
        }
        Ok(spoken)
    }
}

fn of(data: &Value) -> Option<SpokenOf> {
    let names = |of: &Value, field: &dyn Fn(&Value) -> Option<String>| -> Vec<String> {
        of.as_array()
            .into_iter()
            .flatten()
            .filter_map(field)
            .collect()
    };
    let text = |of: &Value| of.as_str().map(str::to_owned);
    let dish = |name: &Value, code: &Value| {
        let code = text(code);
        text(name).map(|name| SpokenOf::Dish { name, code })
    };
    match data["kind"].as_str()? {
        "plan" => Some(SpokenOf::Plan(SpokenPlan {
            from: words::day(data["from"].as_str()?).ok()?,
            until: words::day(data["until"].as_str()?).ok()?,
            told: data["by"] == "told",
            people: data["people"]
                .as_u64()
                .and_then(|people| people.try_into().ok()),
            only: names(&data["only"], &text),
            dishes: names(&data["dishes"], &|dish| text(&dish["dish"])),
        })),
        "recipe" if data["batch"].is_null() => dish(&data["dish"], &data["as"]),
        "recipe" | "cost" => dish(&data["dish"], &data["batch"]),
        "compared" | "share" => dish(&data["dish"], &Value::Null),
        "batch" => dish(&data["batch"]["name"], &data["batch"]["code"]),
        "stock" => {
            let lots = data["lots"].as_array()?;
            let first = lots.first()?;
            let one = lots.iter().all(|lot| lot["name"] == first["name"]);
            let pot = lots.iter().all(|lot| lot["batch"] == first["batch"]);
            let code = if pot { &first["batch"] } else { &Value::Null };
            dish(&first["name"], code).filter(|_| one)
        }
        "pace" => match data["dishes"].as_array()?.as_slice() {
            [one] => dish(&one["dish"], &Value::Null),
            _ => None,
        },
        _ => None,
    }
}
