//! Files of every earlier schema, kept with what a kitchen had in them, are brought up to date and hold the same books.
//!
//! `files/NNNN.sql` is a file as a program of schema NNNN left it after what stands in `said.txt` up to that number.
//! A new migration needs one: `HOBSIDE_REWRITE=1` plays all of `said.txt`, to which what the new schema keeps is added
//! first, and writes the newest. Those of earlier schemas are never written again.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use hobside::store::{Error, Store, backup};
use serde_json::{Value, json};
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{AssertSqlSafe, ConnectOptions, Connection, Row};

use super::running::{Bridge, books, kitchen};

/// Tables that a later schema gave up, with the schema: what was known is told from another one, or was never filled.
const GONE: [(&str, i64); 4] = [
    ("content", 10),
    ("shopping_list", 15),
    ("shopping_line", 15),
    ("shelf", 15),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/upkeep")
}

fn kept(schema: i64) -> PathBuf {
    folder().join(format!("files/{schema:04}.sql"))
}

fn schemas() -> Vec<i64> {
    let migrations = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let files = std::fs::read_dir(migrations).expect("a folder");
    let mut schemas: Vec<i64> = files
        .map(|file| {
            let name = file.expect("a file").file_name();
            let name = name.to_str().expect("text");
            name[..4].parse().expect("a number")
        })
        .collect();
    schemas.sort_unstable();
    schemas
}

async fn raw(file: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true)
        .foreign_keys(false);
    options.connect().await.expect("it opens")
}

async fn load(schema: i64, file: &Path) {
    let sql = std::fs::read_to_string(kept(schema)).expect("it is kept");
    let mut raw = raw(file).await;
    let loaded = sqlx::raw_sql(AssertSqlSafe(sql)).execute(&mut raw).await;
    loaded.expect("it loads");
    raw.close().await.expect("it closes");
}

/// The columns of a table, and its rows as SQLite would write them down, in order.
type Table = (Vec<String>, Vec<Vec<String>>);

async fn table(raw: &mut SqliteConnection, name: &str, columns: &[String]) -> Vec<Vec<String>> {
    let quoted = columns.iter().map(|column| format!("quote(\"{column}\")"));
    let quoted = quoted.collect::<Vec<_>>().join(", ");
    let sql = format!("select {quoted} from \"{name}\"");
    let rows = sqlx::query(AssertSqlSafe(sql)).fetch_all(raw).await;
    let rows = rows.expect("it reads");
    let cells = |row: &sqlx::sqlite::SqliteRow| (0..columns.len()).map(|at| row.get(at)).collect();
    let mut rows: Vec<Vec<String>> = rows.iter().map(cells).collect();
    rows.sort();
    rows
}

async fn tables(file: &Path) -> BTreeMap<String, Table> {
    let mut raw = raw(file).await;
    let names =
        "select name from sqlite_schema where type = 'table' and name <> '_sqlx_migrations'";
    let names: Vec<String> = sqlx::query_scalar(names)
        .fetch_all(&mut raw)
        .await
        .expect("it reads");
    let mut tables = BTreeMap::new();
    for name in names {
        let sql = format!("select name from pragma_table_info('{name}')");
        let columns: Vec<String> = sqlx::query_scalar(AssertSqlSafe(sql))
            .fetch_all(&mut raw)
            .await
            .expect("it reads");
        let rows = table(&mut raw, &name, &columns).await;
        tables.insert(name, (columns, rows));
    }
    raw.close().await.expect("it closes");
    tables
}

/// Every row that was there is there, in the columns that there were; look-up tables may have more.
async fn assert_kept(schema: i64, before: &BTreeMap<String, Table>, file: &Path) {
    let mut raw = raw(file).await;
    for (name, (columns, rows)) in before {
        if GONE.iter().any(|(gone, at)| gone == name && schema < *at) {
            continue;
        }
        let after = table(&mut raw, name, columns).await;
        let looked_up = name.ends_with("_kind") && columns.len() == 1;
        match looked_up {
            true => assert!(
                rows.iter().all(|row| after.contains(row)),
                "{schema}: {name}"
            ),
            false => assert_eq!(&after, rows, "{schema}: {name}"),
        }
    }
    if let Some((columns, rows)) = before.get("content") {
        let carried: Vec<String> = ["household_id", "entry_id", "container_id"]
            .map(str::to_owned)
            .into();
        let vessels = table(&mut raw, "vessel", &carried).await;
        let at = |name: &str| {
            columns
                .iter()
                .position(|column| column == name)
                .expect("a column")
        };
        assert!(
            !rows.is_empty(),
            "the kept file has a pot that holds something"
        );
        for row in rows {
            let row: Vec<String> = carried.iter().map(|name| row[at(name)].clone()).collect();
            assert!(vessels.contains(&row), "{schema}: {row:?}");
        }
    }
    raw.close().await.expect("it closes");
}

fn rows<'a>(tables: &'a BTreeMap<String, Table>, name: &str) -> &'a [Vec<String>] {
    &tables.get(name).expect("such a table").1
}

/// The journal of an export against the rows of the old file: each entry with its grams.
fn assert_same_journal(schema: i64, before: &BTreeMap<String, Table>, exported: &Value) {
    let (columns, rows) = before.get("entry").expect("a journal");
    let at = |name: &str| {
        columns
            .iter()
            .position(|column| column == name)
            .expect("a column")
    };
    let mut old: Vec<(i64, i64)> = rows
        .iter()
        .map(|row| {
            let number = |name: &str| row[at(name)].parse::<i64>().expect("a number");
            (number("entry_id"), number("mass_mg"))
        })
        .collect();
    old.sort_unstable();
    let entries = exported["entries"].as_array().expect("a journal");
    let mg = |entry: &Value| (entry["grams"].as_f64().expect("grams") * 1000.0).round() as i64;
    let new: Vec<(i64, i64)> = entries
        .iter()
        .map(|entry| (entry["id"].as_i64().expect("a number"), mg(entry).abs()))
        .collect();
    assert_eq!(new, old, "{schema}");
}

#[tokio::test]
async fn every_earlier_file_is_brought_up_to_date_and_holds_the_same_books() {
    let newest = Store::schema();
    write_newest_if_asked(newest).await;
    let mut counted = 0;
    for schema in schemas() {
        assert!(
            kept(schema).exists(),
            "no kept file of schema {schema}: see the head of this test"
        );
        let (folder, file) = kitchen();
        load(schema, &file).await;
        let before = tables(&file).await;
        assert!(rows(&before, "entry").len() > 30, "{schema}");
        let moved = rows(&before, "account").iter().filter(|row| row[3] != "0");
        assert!(moved.count() > 8, "{schema}: there is something to keep");

        let store = Store::open(&file).await.expect("it is brought up to date");
        store.close().await;
        assert_kept(schema, &before, &file).await;
        let checked = backup::check(&file).await.expect("it is whole");
        assert_eq!(checked.schema, newest);

        let copy = folder
            .path()
            .join(format!("backups/hobside-schema-{schema}.db"));
        assert_eq!(copy.exists(), schema < newest, "{schema}");
        if schema < newest {
            assert_eq!(
                tables(&copy).await,
                before,
                "{schema}: the copy made before"
            );
        }

        assert_same_journal(schema, &before, &books(&file));
        let mut bridge = Bridge::open(&file);
        let stock = bridge.say("what's left").swap_remove(0);
        let lots = stock["data"]["lots"].as_array().expect("a stock");
        assert!(
            lots.iter().any(|lot| lot["name"] == "rice"),
            "{schema}: {stock}"
        );
        bridge.record("50 rice");
        bridge.close();
        counted += 1;
    }
    assert!(counted >= 13);
}

#[tokio::test]
async fn a_file_is_not_brought_up_to_date_under_a_bot_or_without_a_copy() {
    let (folder, file) = kitchen();
    load(13, &file).await;
    let before = tables(&file).await;
    // What a bot of that version would hold.
    let lock = std::fs::File::create(folder.path().join("hobside.db.lock")).expect("made");
    lock.lock().expect("nobody has it");
    let refused = Store::open(&file).await.expect_err("a bot runs");
    assert!(matches!(refused, Error::Taken { .. }), "{refused}");
    assert_eq!(tables(&file).await, before);
    drop(lock);
    // Where a folder should be, there is a file: no copy can be made.
    std::fs::write(folder.path().join("backups"), "x").expect("written");
    let refused = Store::open(&file).await.expect_err("no copy");
    let text = refused.to_string();
    assert!(text.contains("no copy could be made of it"), "{text}");
    assert_eq!(tables(&file).await, before);
}

/// Play all that was said and write the file down.
async fn write_newest_if_asked(newest: i64) {
    if std::env::var_os("HOBSIDE_REWRITE").is_none() || kept(newest).exists() {
        return;
    }
    let (_folder, file) = kitchen();
    let said = std::fs::read_to_string(folder().join("said.txt")).expect("it is there");
    let mut bridge = Bridge::open(&file);
    for (number, line) in said.lines().enumerate() {
        let Some((who, text)) = line.split_once(": ").filter(|_| !line.starts_with('#')) else {
            continue;
        };
        let text = text.replace("\\n", "\n");
        bridge.send(&json!({
            "type": "message", "chat": "c1", "id": format!("m{number}"), "text": text,
            "from": {"id": format!("u-{who}"), "name": who},
            "at": format!("2026-10-14T{:02}:{:02}:00+01:00", 18 + number / 60, number % 60),
        }));
    }
    bridge.close();
    std::fs::write(kept(newest), dump(&file).await).expect("written");
}

/// Tables, rows, then indexes and triggers, so that loading it moves nothing.
async fn dump(file: &Path) -> String {
    let mut raw = raw(file).await;
    let all = "select type, name, sql from sqlite_schema where sql is not null order by rowid";
    let all = sqlx::query(all)
        .fetch_all(&mut raw)
        .await
        .expect("it reads");
    let sql = |wanted: fn(&str) -> bool| {
        let chosen = all
            .iter()
            .filter(move |row| wanted(&row.get::<String, _>(0)));
        chosen.map(|row| format!("{};\n", row.get::<String, _>(2)))
    };
    let mut text: String = sql(|kind| kind == "table").collect();
    for row in all.iter().filter(|row| row.get::<String, _>(0) == "table") {
        let name: String = row.get(1);
        let columns = format!("select name from pragma_table_info('{name}')");
        let columns: Vec<String> = sqlx::query_scalar(AssertSqlSafe(columns))
            .fetch_all(&mut raw)
            .await
            .expect("it reads");
        for row in table(&mut raw, &name, &columns).await {
            text.push_str(&format!(
                "insert into \"{name}\" values ({});\n",
                row.join(",")
            ));
        }
    }
    text.extend(sql(|kind| kind != "table"));
    raw.close().await.expect("it closes");
    text
}
