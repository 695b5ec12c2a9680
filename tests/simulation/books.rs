//! All rows of a file, and an auditor that adds them up by itself.

use std::collections::{BTreeMap, HashMap, HashSet};

use sqlx::sqlite::SqliteConnection;
use sqlx::{AssertSqlSafe, Row};

/// Every row of every table, as SQL would write it.
#[derive(Debug, PartialEq, Eq)]
pub struct Books(BTreeMap<String, Vec<String>>);

impl Books {
    pub async fn read(file: &mut SqliteConnection) -> Self {
        let tables: Vec<String> = sqlx::query_scalar(
            "select name from sqlite_schema where type = 'table' and name not like '\\_%' escape '\\'",
        )
        .fetch_all(&mut *file)
        .await
        .expect("tables");
        let mut all = BTreeMap::new();
        for table in tables {
            let columns: Vec<String> = sqlx::query_scalar("select name from pragma_table_info(?)")
                .bind(&table)
                .fetch_all(&mut *file)
                .await
                .expect("columns");
            let columns: Vec<String> = columns
                .iter()
                .map(|column| format!("'{column}=' || quote(\"{column}\")"))
                .collect();
            let sql = format!(
                "select {} from {table} order by 1",
                columns.join(" || ' ' || ")
            );
            let rows = sqlx::query_scalar(AssertSqlSafe(sql)).fetch_all(&mut *file);
            all.insert(table, rows.await.expect("rows"));
        }
        Self(all)
    }

    pub fn count(&self, table: &str) -> u64 {
        self.0[table].len() as u64
    }

    /// Say where two books differ, and only there.
    #[track_caller]
    pub fn assert_same(&self, twin: &Self, what: &str) {
        for (table, rows) in &self.0 {
            let (own, other): (HashSet<_>, HashSet<_>) =
                (rows.iter().collect(), twin.0[table].iter().collect());
            let only = |these: &HashSet<&String>, those: &HashSet<&String>| -> Vec<String> {
                let rows = these.difference(those);
                rows.take(5).map(|row| format!("\n  {row}")).collect()
            };
            let (lacks, has) = (only(&other, &own), only(&own, &other));
            assert!(
                rows == &twin.0[table],
                "{what}, table {table}; only here:{}\nonly in the twin:{}",
                has.concat(),
                lacks.concat()
            );
        }
    }
}

/// Add up the journal from nothing, in a map of milligrams, and hold it against what the file keeps. Gives
/// what each batch has left, by household and name.
pub async fn audit(file: &mut SqliteConnection) -> HashMap<(i64, String), i64> {
    let mut sums: HashMap<(i64, i64), i64> = HashMap::new();
    let mut reversals: HashMap<(i64, i64), u32> = HashMap::new();
    let mut reversed: HashSet<(i64, i64)> = HashSet::new();
    let mut told: HashSet<(i64, i64)> = HashSet::new();
    let entries = sqlx::query(
        "select household_id, from_id, to_id, mass_mg, message_id, ordinal, reverses, root from entry",
    );
    for row in entries.fetch_all(&mut *file).await.expect("entries") {
        let number = |column| row.get::<Option<i64>, _>(column);
        let household: i64 = row.get(0);
        let mg: i64 = row.get(3);
        *sums.entry((household, row.get(1))).or_default() -= mg;
        *sums.entry((household, row.get(2))).or_default() += mg;
        if let Some(message) = number(4) {
            let once = told.insert((message, row.get(5)));
            assert!(once, "message {message} is booked twice");
        }
        if let (Some(reverses), Some(root)) = (number(6), number(7)) {
            let once = reversed.insert((household, reverses));
            assert!(once, "entry {reverses} is reversed twice");
            *reversals.entry((household, root)).or_default() += 1;
        }
    }
    assert_eq!(sums.values().sum::<i64>(), 0, "the sum over all accounts");
    let accounts = sqlx::query("select household_id, account_id, kind, balance_mg from account");
    for row in accounts.fetch_all(&mut *file).await.expect("accounts") {
        let (account, kind): ((i64, i64), String) = ((row.get(0), row.get(1)), row.get(2));
        let (kept, own): (i64, i64) = (row.get(3), sums.remove(&account).unwrap_or(0));
        assert_eq!(kept, own, "the balance of {kind} {account:?}");
        let only_takes = ["plate", "waste", "poured", "unweighed"].contains(&kind.as_str());
        assert!(
            !only_takes || own >= 0,
            "{kind} {account:?} stands at {own} mg"
        );
    }
    assert!(
        sums.is_empty(),
        "entries of accounts that are not there: {sums:?}"
    );
    let voided = sqlx::query_as("select household_id, entry_id from voided");
    let voided: HashSet<(i64, i64)> = voided
        .fetch_all(&mut *file)
        .await
        .expect("void entries")
        .into_iter()
        .collect();
    let odd = reversals.into_iter().filter(|(_, times)| times % 2 == 1);
    assert_eq!(voided, odd.map(|(root, _)| root).collect());
    let left = sqlx::query_as(
        "select b.household_id, b.name, sum(a.balance_mg) from lot l
         join batch b on b.household_id = l.household_id and b.batch_id = l.batch_id
         join account a on a.household_id = l.household_id and a.account_id = l.account_id
         group by 1, 2",
    );
    let left: Vec<(i64, String, i64)> = left.fetch_all(file).await.expect("lots");
    left.into_iter()
        .map(|(household, name, mg)| ((household, name), mg))
        .collect()
}

/// What each message took of its household's pots, by chat and the channel's id of the message.
pub async fn taken(file: &mut SqliteConnection) -> HashMap<(String, String), i64> {
    let rows = sqlx::query_as(
        "select m.chat, m.external_id, sum(e.mass_mg) from entry e
         join message m on m.message_id = e.message_id
         left join voided v on v.household_id = e.household_id and v.entry_id = e.entry_id
         where e.kind in ('portion', 'waste') and v.entry_id is null group by 1, 2",
    );
    let rows: Vec<(String, String, i64)> = rows.fetch_all(file).await.expect("entries");
    rows.into_iter()
        .map(|(chat, id, mg)| ((chat, id), mg))
        .collect()
}

/// Every message was stored, in its newest revision, and answered or left alone; nothing was given up on.
pub async fn account_for(file: &mut SqliteConnection, sent: &HashMap<(String, String), i64>) {
    let rows = sqlx::query(
        "select m.chat, m.external_id, max(m.revision), m.outcome,
                exists (select 1 from outbox o join message a on a.message_id = o.message_id
                        where a.chat = m.chat and a.kind = m.kind and a.external_id = m.external_id)
         from message m group by m.chat, m.kind, m.external_id",
    );
    let mut missing: HashMap<(String, String), i64> = sent.clone();
    for row in rows.fetch_all(file).await.expect("messages") {
        let key: (String, String) = (row.get(0), row.get(1));
        let outcome: Option<String> = row.get(3);
        let outcome = outcome.unwrap_or_else(|| panic!("{key:?} waits for ever"));
        assert_ne!(outcome, "failed", "{key:?}");
        let answered: bool = row.get(4);
        assert!(
            answered || outcome == "ignored",
            "{key:?} was {outcome} without a word"
        );
        if let Some(revision) = missing.remove(&key) {
            assert_eq!(row.get::<i64, _>(2), revision, "{key:?}");
        }
    }
    assert!(missing.is_empty(), "lost: {missing:?}");
}
