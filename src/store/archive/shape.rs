//! What the tables of an archive look like, read off the schema of the file.

use std::collections::{BTreeMap, BTreeSet};

use super::LEFT_OUT;
use crate::store::Transaction;
use crate::store::error::{Doing, Error, Result};

#[derive(Debug, Clone)]
pub(in crate::store) struct Shape {
    pub name: String,
    /// Those that are in an archive.
    pub columns: Vec<Column>,
    /// The columns by which rows are told apart, in their order.
    pub key: Vec<String>,
    /// The table names the household.
    pub by_household: bool,
}

#[derive(Debug, Clone)]
pub(in crate::store) struct Column {
    pub name: String,
    pub holds: Holds,
    pub counted: Counted,
}

/// All tables are strict, so a column holds what it was declared for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::store) enum Holds {
    Integer,
    Real,
    Text,
}

/// Within what a number is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::store) enum Counted {
    /// The household, or it is no such number: it stays.
    Household,
    /// Messages and people of the whole file: it is counted anew.
    Messages,
    People,
}

/// What speaks of a message without saying so to SQLite, besides whatever is called `message_id`: an entry outlives the
/// message that said it.
const MESSAGES: [(&str, &str); 1] = [("question", "pointed")];

/// They name no household, and belong to all at whose table they sit.
const OF_MEMBERS: [&str; 2] = ["person", "identity"];

impl Shape {
    /// What reads the rows of a household, its number being the only parameter.
    pub fn select(&self) -> String {
        let columns = self.columns.iter().map(|column| quoted(&column.name));
        let columns = columns.collect::<Vec<_>>().join(", ");
        let key = self.key.iter().map(|name| quoted(name));
        let key = key.collect::<Vec<_>>().join(", ");
        let whose = match self.by_household {
            true => "household_id = ?",
            false => "person_id in (select m.person_id from member m where m.household_id = ?)",
        };
        let table = quoted(&self.name);
        format!("select {columns} from {table} where {whose} order by {key}")
    }

    /// What writes one row: the household's number, if the table names it, and then the columns.
    pub fn insert(&self) -> String {
        let household = self.names_household().then_some("household_id");
        let names = household
            .into_iter()
            .chain(self.columns.iter().map(|column| column.name.as_str()));
        let names: Vec<String> = names.map(quoted).collect();
        let marks = vec!["?"; names.len()].join(", ");
        let (table, names) = (quoted(&self.name), names.join(", "));
        format!("insert into {table} ({names}) values ({marks})")
    }

    /// The household's own row is numbered as it is written.
    pub fn names_household(&self) -> bool {
        self.by_household && self.name != "household"
    }
}

impl Transaction {
    /// The tables of an archive, each behind those that it speaks of.
    pub(in crate::store) async fn shapes(&mut self) -> Result<Vec<Shape>> {
        let columns: Vec<(String, String, String, i64)> = sqlx::query_as(
            "select m.name, c.name, c.type, c.pk from sqlite_schema m join pragma_table_info(m.name) c
             where m.type = 'table' order by m.name, c.cid",
        )
        .fetch_all(self.connection())
        .await
        .doing("read the tables")?;
        let spoken: Vec<(String, String, String)> = sqlx::query_as(
            "select m.name, f.\"from\", f.\"table\" from sqlite_schema m join pragma_foreign_key_list(m.name) f
             where m.type = 'table'",
        )
        .fetch_all(self.connection())
        .await
        .doing("read what tables speak of")?;
        let mut tables: BTreeMap<String, Vec<(String, String, i64)>> = BTreeMap::new();
        for (table, column, holds, key) in columns {
            tables.entry(table).or_default().push((column, holds, key));
        }
        let mut shapes = Vec::new();
        for (name, columns) in tables {
            let by_household = columns.iter().any(|(column, ..)| column == "household_id");
            let left_out = LEFT_OUT.iter().any(|(table, _)| *table == name);
            if left_out || !(by_household || OF_MEMBERS.contains(&name.as_str())) {
                continue;
            }
            let speaks_of = |column: &str, of: &str| {
                spoken
                    .iter()
                    .any(|(table, from, to)| *table == name && from == column && to == of)
            };
            let mut key: Vec<(i64, String)> = Vec::new();
            let mut kept = Vec::new();
            for (column, holds, place) in columns {
                if place > 0 {
                    key.push((place, column.clone()));
                }
                if column == "household_id" || speaks_of(&column, "outbox") {
                    continue;
                }
                let pointed = MESSAGES.contains(&(name.as_str(), column.as_str()));
                let counted = match () {
                    () if pointed || column == "message_id" => Counted::Messages,
                    () if speaks_of(&column, "message") => Counted::Messages,
                    () if column == "person_id" => Counted::People,
                    () => Counted::Household,
                };
                let holds = holds_of(&holds)?;
                kept.push(Column {
                    name: column,
                    holds,
                    counted,
                });
            }
            key.sort();
            shapes.push(Shape {
                name,
                columns: kept,
                key: key.into_iter().map(|(_, column)| column).collect(),
                by_household,
            });
        }
        Ok(in_order(shapes, &spoken))
    }
}

fn holds_of(declared: &str) -> Result<Holds> {
    match declared.to_ascii_lowercase().as_str() {
        "integer" => Ok(Holds::Integer),
        "real" => Ok(Holds::Real),
        "text" => Ok(Holds::Text),
        _ => Err(Error::Unreadable {
            what: "the type of a column",
            value: declared.to_owned(),
        }),
    }
}

/// By name, but each behind all that it speaks of.
fn in_order(mut left: Vec<Shape>, spoken: &[(String, String, String)]) -> Vec<Shape> {
    let mut ordered: Vec<Shape> = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let waiting: BTreeSet<&str> = left.iter().map(|shape| shape.name.as_str()).collect();
        let ready = |shape: &Shape| {
            spoken.iter().all(|(table, _, of)| {
                *table != shape.name || *of == shape.name || !waiting.contains(of.as_str())
            })
        };
        let next = left.iter().position(ready);
        let next = next.expect("no two tables speak of each other");
        ordered.push(left.remove(next));
    }
    ordered
}

fn quoted(name: &str) -> String {
    format!("\"{name}\"")
}
