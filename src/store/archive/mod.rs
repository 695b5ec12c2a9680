//! A household as rows, table by table: all that the file holds of it, to be taken to another file.
//!
//! Which tables and columns those are is read off the schema, so that what a migration adds cannot be forgotten: every
//! table whose rows name a household belongs to it, and what is left out stands in `LEFT_OUT` with its reason. Rows come
//! in the order of their keys, tables in an order in which each follows those that it speaks of. The household's own
//! number is not written down, and what is counted over the whole file (people and messages) is counted anew within
//! the household: so the same books are the same rows, whatever else is in the file.

mod put_in;
mod shape;
mod take_out;

use std::borrow::Cow;
use std::path::Path;

use sqlx::sqlite::SqliteConnectOptions;

use super::Store;
use super::error::{Error, Result};
use super::open;

#[cfg(test)]
pub(super) use shape::Holds;
pub(super) use shape::Shape;

/// All rows of one household.
#[derive(Debug, Clone, PartialEq)]
pub struct Archive {
    pub schema: i64,
    pub tables: Vec<Table>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    pub name: String,
    pub columns: Vec<String>,
    pub rows: Vec<Vec<Cell>>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    Null,
    Integer(i64),
    Real(f64),
    Text(String),
}

impl Archive {
    pub fn table(&self, name: &str) -> Option<&Table> {
        self.tables.iter().find(|table| table.name == name)
    }
}

impl Table {
    fn column(&self, name: &str) -> Option<usize> {
        self.columns.iter().position(|column| column == name)
    }

    /// The cells of a column, from the first row to the last.
    fn cells(&self, name: &str) -> impl Iterator<Item = &Cell> {
        let at = self.column(name);
        self.rows
            .iter()
            .filter_map(move |row| at.and_then(|at| row.get(at)))
    }
}

/// Tables that are in no archive, and why.
const LEFT_OUT: [(&str, &str); 14] = [
    (
        "_sqlx_migrations",
        "the number of the schema stands at the head of the archive",
    ),
    ("batch_origin", WORDS),
    ("entry_kind", WORDS),
    ("good_fact_kind", WORDS),
    ("list_fact_kind", WORDS),
    ("note_kind", WORDS),
    ("personal_kind", WORDS),
    ("prep_fact_kind", WORDS),
    ("reminder_kind", WORDS),
    ("voided", "it follows from the entries"),
    (
        "outbox",
        "what the bot said follows from the books, and its buttons are those of the bot that sent them",
    ),
    (
        "board",
        "where it hangs is a message of the bot that hung it; it is hung up anew",
    ),
    ("stranger", "it belongs to no household"),
    (
        "invite",
        "it lets a chat in to this file, and only a digest is kept",
    ),
];

const WORDS: &str = "the words of the schema, the same in every file";

/// An archive of an earlier schema as the newest has it: it is put into a file of its own schema, in memory, which is then
/// brought up to date like any other. So an archive is also known to be sound before any file is touched.
///
/// # Errors
/// If it is of a newer schema, or holds what the books never hold.
pub async fn brought_up_to_date(archive: &Archive) -> Result<Archive> {
    let known = Store::schema();
    if archive.schema > known {
        let found = archive.schema;
        return Err(unfit(format!(
            "it was written by a newer version of this program (schema {found}, this one knows {known}): use that version"
        )));
    }
    if !open::knows(archive.schema) {
        return Err(unfit(format!("there is no schema {}", archive.schema)));
    }
    let memory = Path::new(":memory:");
    let options = SqliteConnectOptions::new().in_memory(true);
    let store = open::pool(memory, open::careful(options)).await?;
    open::migrate(&store.pool, memory, archive.schema).await?;
    let mut transaction = store.begin().await?;
    let household = transaction.put_in(archive).await?;
    transaction.commit().await?;
    open::migrate(&store.pool, memory, known).await?;
    let mut transaction = store.look().await?;
    transaction.whole_kitchen(household).await?;
    transaction.journal(household).await?;
    transaction.take_out(household).await
}

fn unfit(why: impl Into<Cow<'static, str>>) -> Error {
    Error::Archive { why: why.into() }
}

#[cfg(test)]
mod tests {
    use sqlx::Row;

    use super::*;

    /// A table of a new migration belongs to the household, by naming it, or stands above with the reason why not.
    #[tokio::test]
    async fn every_table_is_in_an_archive_or_left_out_for_a_reason() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("books.db")).await;
        let store = store.expect("a fresh file opens");
        let mut transaction = store.look().await.expect("it reads");
        let shapes = transaction.shapes().await.expect("it reads");
        let exported: Vec<&str> = shapes.iter().map(|shape| shape.name.as_str()).collect();
        let every = "select name from sqlite_schema where type = 'table'";
        let every = sqlx::raw_sql(every)
            .fetch_all(transaction.connection())
            .await
            .expect("it reads");
        assert!(every.len() > 40, "the schema is read");
        for row in every {
            let name: String = row.get(0);
            let left_out = LEFT_OUT.iter().any(|(table, _)| *table == name);
            assert!(
                exported.contains(&name.as_str()) != left_out,
                "{name}: in an archive or left out, and not both"
            );
        }
    }

    /// Numbers that are counted over the whole file mean nothing in another one: each is counted anew, or left out.
    #[tokio::test]
    async fn no_number_of_this_file_is_in_an_archive() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("books.db")).await;
        let store = store.expect("a fresh file opens");
        let mut transaction = store.look().await.expect("it reads");
        let shapes = transaction.shapes().await.expect("it reads");
        for shape in &shapes {
            for column in &shape.columns {
                let named = ["household_id", "outbox_id", "invite_id"];
                assert!(
                    !named.contains(&column.name.as_str()),
                    "{}.{}",
                    shape.name,
                    column.name
                );
            }
        }
        let order: Vec<&str> = shapes.iter().map(|shape| shape.name.as_str()).collect();
        let at = |name| order.iter().position(|table| *table == name).expect(name);
        assert_eq!(order[0], "household");
        assert!(at("member") < at("entry") && at("entry") < at("ingredient"));
        assert!(at("account") < at("lot") && at("lot") < at("told_date"));
        assert!(at("message") < at("question"));
    }
}
