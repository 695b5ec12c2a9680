//! A kitchen's file after a week, and the same kitchen with twenty years before it: one pot and its plates, cooked anew every
//! few hours, written straight into the tables.

use std::path::Path;

use chrono::{DateTime, Duration, Utc};
use hobside::service::{Door, Inbound, Kind, Revision, Sender, Service};
use hobside::store::Store;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{AssertSqlSafe, ConnectOptions, Connection};

pub const YEARS: i64 = 20;
/// Pots in that time: with their plates, 300,000 entries.
const POTS: i64 = 20_000;

/// In an order in which no row speaks of one that is not there yet.
const TABLES: [&str; 10] = [
    "message",
    "outbox",
    "account",
    "batch",
    "lot",
    "plate",
    "entry",
    "ingredient",
    "weighing",
    "portion",
];

pub struct Kitchen {
    pub service: Service,
    pub now: DateTime<Utc>,
    said: i64,
}

impl Kitchen {
    pub async fn open(file: &Path, now: DateTime<Utc>) -> Self {
        let store = Store::open_alone(file).await.expect("it opens");
        let zone = chrono_tz::Europe::Dublin;
        Self {
            service: Service::new(store, Door::Open { zone }),
            now,
            said: now.timestamp(),
        }
    }

    /// Let go of the file, and of the lock beside it.
    async fn close(self) {
        self.service.close().await.expect("closed");
    }

    /// What the bridge does with a line.
    pub async fn say(&mut self, text: &str) {
        self.said += 1;
        self.now += Duration::minutes(25);
        let inbound = inbound(&format!("m{}", self.said), text, self.now);
        let service = &self.service;
        service.receive(&inbound, self.now).await.expect("stored");
        let handled = service.handle_next(self.now).await.expect("handled");
        let outcome = handled.and_then(|handled| handled.outcome);
        assert!(outcome.is_some(), "{text}");
        for outgoing in service.pending("bridge").await.expect("readable") {
            let id = format!("o{}", outgoing.id.0);
            service.sent(&outgoing, Some(id), self.now);
        }
    }

    /// The week that both files have.
    pub async fn week(&mut self) {
        self.say("batch rice, 20 kg dry white rice, cooked 60000")
            .await;
        for plate in 0..42 {
            self.now += Duration::hours(3);
            self.say(&format!("{} rice", 60 + plate)).await;
        }
    }
}

pub fn inbound(id: &str, text: &str, at: DateTime<Utc>) -> Inbound {
    Inbound {
        channel: "bridge",
        chat: "c1".to_owned(),
        chat_name: None,
        external_id: id.to_owned(),
        revision: Revision::Counted { edited: false },
        kind: Kind::Message,
        sender: Sender {
            id: "u1".to_owned(),
            name: "Robin".to_owned(),
        },
        text: text.to_owned(),
        reply_to: None,
        topic: None,
        private: false,
        forwarded: false,
        household_chat: None,
        sent_at: at,
    }
}

/// A file with that week, and twenty years before it if they are wanted. Gives when the week ended.
pub async fn write(file: &Path, now: DateTime<Utc>, years: bool) -> DateTime<Utc> {
    let mut kitchen = Kitchen::open(file, now - Duration::days(365 * YEARS + 8)).await;
    kitchen
        .say("batch dal, 400 g red lentils, 900 g water, cooked 1200")
        .await;
    for _ in 0..12 {
        kitchen.say("100 dal").await;
    }
    kitchen.close().await;
    if years {
        let options = SqliteConnectOptions::new().filename(file);
        let mut books = options.connect().await.expect("it opens");
        cook_again(&mut books).await;
        books.close().await.expect("closed");
    }
    let mut kitchen = Kitchen::open(file, now - Duration::days(7)).await;
    kitchen.week().await;
    let ended = kitchen.now;
    kitchen.close().await;
    ended
}

async fn cook_again(books: &mut SqliteConnection) {
    let most = async |books: &mut SqliteConnection, sql: &'static str| -> i64 {
        sqlx::query_scalar(sql)
            .fetch_one(books)
            .await
            .expect("a number")
    };
    let messages = most(books, "select max(message_id) from message").await;
    let answers = most(books, "select max(outbox_id) from outbox").await;
    let entries = most(books, "select max(entry_id) from entry").await;
    let accounts = most(books, "select max(account_id) - 99 from account").await;
    let apart = 60 * 24 * 365 * YEARS / POTS;
    let mut steps = String::from("begin;");
    for table in TABLES {
        let columns: Vec<String> = sqlx::query_scalar("select name from pragma_table_info(?)")
            .bind(table)
            .fetch_all(&mut *books)
            .await
            .expect("columns");
        let values = columns.iter().map(|column| match column.as_str() {
            "message_id" => format!("message_id + n * {messages}"),
            "outbox_id" | "edits" => format!("{column} + n * {answers}"),
            "entry_id" | "reverses" | "root" => format!("{column} + n * {entries}"),
            "account_id" | "from_id" | "to_id" => {
                format!("{column} + iif({column} >= 100, n * {accounts}, 0)")
            }
            "batch_id" => "batch_id + n".to_owned(),
            "balance_mg" => "0".to_owned(),
            "external_id" | "answers" | "code" => format!("{column} || 'x' || n"),
            "day" | "made_on" => format!("date({column}, (n * {apart}) || ' minutes')"),
            time if time.ends_with("_at") || time == "since" => {
                format!("strftime('%Y-%m-%dT%H:%M:%fZ', {time}, (n * {apart}) || ' minutes')")
            }
            _ => column.clone(),
        });
        let values: Vec<String> = values.collect();
        let of = if table == "account" {
            "where account_id >= 100"
        } else {
            ""
        };
        steps += &format!(
            "insert into {table} ({}) with recursive k(n) as (values (1) union all select n + 1 from k where n < {POTS})
             select {} from k, (select * from {table} {of});",
            columns.join(", "),
            values.join(", ")
        );
    }
    steps += "commit; analyze;";
    sqlx::raw_sql(AssertSqlSafe(steps))
        .execute(books)
        .await
        .expect("cooked again");
}
