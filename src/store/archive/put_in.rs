//! Writing all rows of a household that came from another file, through the same constraints and triggers that hold the
//! books together there.

use std::collections::BTreeMap;

use sqlx::{AssertSqlSafe, Row};

use super::shape::{Counted, Holds, Shape};
use super::{Archive, Cell, Table, unfit};
use crate::domain::ledger::Account;
use crate::store::Transaction;
use crate::store::error::{Doing, Error, Result};
use crate::store::household::HouseholdId;

/// Kept by a trigger from the entries, and compared with what the archive says.
const BALANCE: (&str, &str) = ("account", "balance_mg");

/// SQLite's code for a row that breaks a promise of the schema; the lower byte tells.
const CONSTRAINT: u32 = 19;

/// Where this file goes on counting.
struct Numbers {
    /// The highest number of a message so far.
    messages: i64,
    /// By their numbers in the archive.
    people: BTreeMap<i64, i64>,
}

impl Transaction {
    /// Put a household in. Nothing of it is there if this fails, as the transaction is not committed then.
    ///
    /// # Errors
    /// If the household, one of its chats or a message is there already, or a row does not keep the rules of the books.
    pub async fn put_in(&mut self, archive: &Archive) -> Result<HouseholdId> {
        let shapes = self.shapes().await?;
        fits(&shapes, archive)?;
        self.is_not_there(archive).await?;
        let mut numbers = Numbers {
            messages: self.highest_message().await?,
            people: self.people(archive).await?,
        };
        let mut household = HouseholdId(0);
        for (shape, table) in shapes.iter().zip(&archive.tables) {
            match shape.name.as_str() {
                "person" | "identity" => {}
                "household" => {
                    self.rows(shape, table, household, &mut numbers).await?;
                    let row = sqlx::query("select last_insert_rowid()")
                        .fetch_one(self.connection())
                        .await
                        .doing("number the household")?;
                    household = HouseholdId(row.get(0));
                }
                _ => self.rows(shape, table, household, &mut numbers).await?,
            }
        }
        self.balances(household, archive).await?;
        Ok(household)
    }

    async fn rows(
        &mut self,
        shape: &Shape,
        table: &Table,
        household: HouseholdId,
        numbers: &mut Numbers,
    ) -> Result<()> {
        let sql = shape.insert();
        for (number, row) in table.rows.iter().enumerate() {
            let mut query = sqlx::query(AssertSqlSafe(sql.clone()));
            if shape.names_household() {
                query = query.bind(household.0);
            }
            for (column, cell) in shape.columns.iter().zip(row) {
                let cell = match (column.counted, cell) {
                    (Counted::Messages, Cell::Integer(told)) => {
                        Cell::Integer(numbers.messages.saturating_add(*told))
                    }
                    (Counted::People, Cell::Integer(told)) => {
                        let known = numbers.people.get(told).copied();
                        let known = known.ok_or_else(|| {
                            unfit(format!(
                                "member {} is a person whom it does not have",
                                number + 1
                            ))
                        });
                        Cell::Integer(known?)
                    }
                    _ if (shape.name.as_str(), column.name.as_str()) == BALANCE => Cell::Integer(0),
                    _ => cell.clone(),
                };
                query = match cell {
                    Cell::Null => query.bind(None::<i64>),
                    Cell::Integer(number) => query.bind(number),
                    Cell::Real(number) => query.bind(number),
                    Cell::Text(text) => query.bind(text),
                };
            }
            let written = query.execute(self.connection()).await;
            written.map_err(|cause| broken(&shape.name, number + 1, cause))?;
        }
        Ok(())
    }

    async fn highest_message(&mut self) -> Result<i64> {
        // Entries and plates outlive the messages that said them.
        let highest: i64 = sqlx::query_scalar(
            "select max(coalesce((select max(message_id) from message), 0),
                        coalesce((select max(message_id) from entry), 0),
                        coalesce((select max(message_id) from plate), 0))",
        )
        .fetch_one(self.connection())
        .await
        .doing("count the messages")?;
        Ok(highest)
    }

    /// A household is known by when it was set up and its name, and by its chats.
    async fn is_not_there(&mut self, archive: &Archive) -> Result<()> {
        let [household] = archive
            .table("household")
            .map_or(&[][..], |table| &table.rows)
        else {
            return Err(unfit("it is not of one household"));
        };
        let columns = &archive.tables[0].columns;
        let text = |name: &str| {
            let at = columns.iter().position(|column| column == name);
            at.and_then(|at| household.get(at)).and_then(Cell::text)
        };
        let there: i64 =
            sqlx::query_scalar("select count(*) from household where name = ? and created_at = ?")
                .bind(text("name"))
                .bind(text("created_at"))
                .fetch_one(self.connection())
                .await
                .doing("look for the household")?;
        if there > 0 {
            return Err(unfit("this household is here already"));
        }
        let Some(chats) = archive.table("chat") else {
            return Ok(());
        };
        for (channel, chat) in chats.cells("channel").zip(chats.cells("chat")) {
            let (Some(channel), Some(chat)) = (channel.text(), chat.text()) else {
                continue;
            };
            if self.chat(channel, chat).await?.is_some() {
                return Err(unfit(format!(
                    "the chat {channel}:{chat} belongs to a household that is here already"
                )));
            }
        }
        Ok(())
    }

    /// People whose accounts are known here are those; all others are new. Two accounts that are one person's there and
    /// not here are refused: whoever wrote the archive could else speak for somebody of another household.
    async fn people(&mut self, archive: &Archive) -> Result<BTreeMap<i64, i64>> {
        let (Some(people), Some(accounts)) = (archive.table("person"), archive.table("identity"))
        else {
            return Ok(BTreeMap::new());
        };
        let mut numbers = BTreeMap::new();
        for (person, created_at) in people.cells("person_id").zip(people.cells("created_at")) {
            let Cell::Integer(person) = person else {
                continue;
            };
            let owners = accounts.cells("person_id");
            let own = owners
                .zip(accounts.cells("channel").zip(accounts.cells("sender")))
                .filter(|(owner, _)| **owner == Cell::Integer(*person))
                .map(|(_, (channel, sender))| (channel.text(), sender.text()));
            let own: Vec<_> = own.collect();
            let mut known: Vec<Option<i64>> = Vec::new();
            for (channel, sender) in &own {
                known.push(match (channel, sender) {
                    (Some(channel), Some(sender)) => self.person_of(channel, sender).await?,
                    _ => None,
                });
            }
            known.dedup();
            let number = match known.as_slice() {
                [Some(one)] => *one,
                [] | [None] => self.new_person(created_at, &own).await?,
                _ => {
                    return Err(unfit(
                        "accounts that are one person's in it are not one person's here: bind them with `hobside rebind` first",
                    ));
                }
            };
            numbers.insert(*person, number);
        }
        Ok(numbers)
    }

    async fn new_person(
        &mut self,
        created_at: &Cell,
        accounts: &[(Option<&str>, Option<&str>)],
    ) -> Result<i64> {
        let person = sqlx::query("insert into person (created_at) values (?)")
            .bind(created_at.text())
            .execute(self.connection())
            .await
            .map_err(|cause| broken("person", 1, cause))?
            .last_insert_rowid();
        for (channel, sender) in accounts {
            sqlx::query("insert into identity (channel, sender, person_id) values (?, ?, ?)")
                .bind(channel)
                .bind(sender)
                .bind(person)
                .execute(self.connection())
                .await
                .map_err(|cause| broken("identity", 1, cause))?;
        }
        Ok(person)
    }

    /// What the entries come to is what the archive says of every account, and all of it is nothing.
    async fn balances(&mut self, household: HouseholdId, archive: &Archive) -> Result<()> {
        let told = archive.table(BALANCE.0).expect("its tables fit");
        let kept: Vec<(i64, i64, String)> = sqlx::query_as(
            "select account_id, balance_mg, kind from account where household_id = ? order by account_id",
        )
        .bind(household.0)
        .fetch_all(self.connection())
        .await
        .doing("add up the entries")?;
        for (cell, (account, balance, _)) in told.cells(BALANCE.1).zip(&kept) {
            if *cell != Cell::Integer(*balance) {
                return Err(unfit(format!(
                    "its entries do not come to the balance that it gives of account {account}"
                )));
            }
        }
        for (account, kind) in Account::SINGLE {
            let there = kept
                .iter()
                .any(|(id, _, named)| *id == account.0 && *named == kind.kind());
            if !there {
                return Err(unfit(format!("it lacks the account {}", kind.kind())));
            }
        }
        let sum: i128 = kept
            .iter()
            .map(|(_, balance, _)| i128::from(*balance))
            .sum();
        assert_eq!(sum, 0, "every entry has two ends");
        Ok(())
    }
}

impl Cell {
    fn text(&self) -> Option<&str> {
        match self {
            Cell::Text(text) => Some(text),
            _ => None,
        }
    }
}

/// It has the tables and columns of its schema, and in every cell what belongs there.
fn fits(shapes: &[Shape], archive: &Archive) -> Result<()> {
    let named = |name: &str| shapes.iter().any(|shape| shape.name == name);
    if let Some(unknown) = archive.tables.iter().find(|table| !named(&table.name)) {
        let (name, schema) = (&unknown.name, archive.schema);
        return Err(unfit(format!("schema {schema} has no table {name}")));
    }
    for (at, shape) in shapes.iter().enumerate() {
        let name = &shape.name;
        let table = archive.tables.get(at).filter(|table| table.name == *name);
        let table = table.ok_or_else(|| unfit(format!("the table {name} is not in its place")))?;
        let columns = shape.columns.iter().map(|column| &column.name);
        if !columns.eq(&table.columns) {
            return Err(unfit(format!(
                "the columns of {name} are not those of its schema"
            )));
        }
        for (number, row) in table.rows.iter().enumerate() {
            let cells = shape.columns.iter().zip(row);
            let wrong = cells
                .clone()
                .find(|(column, cell)| !column.holds.fits(cell));
            if row.len() != shape.columns.len() || wrong.is_some() {
                let column = wrong.map_or("", |(column, _)| column.name.as_str());
                return Err(unfit(format!(
                    "row {} of {name} does not fit its columns ({column})",
                    number + 1
                )));
            }
        }
    }
    Ok(())
}

impl Holds {
    fn fits(self, cell: &Cell) -> bool {
        matches!(
            (self, cell),
            (_, Cell::Null)
                | (Holds::Integer, Cell::Integer(_))
                | (Holds::Real, Cell::Real(_))
                | (Holds::Text, Cell::Text(_))
        )
    }
}

fn broken(table: &str, row: usize, cause: sqlx::Error) -> Error {
    let code = cause.as_database_error().and_then(|error| error.code());
    let code = code.and_then(|code| code.parse::<u32>().ok());
    match code.map(|code| code & 0xff) {
        Some(CONSTRAINT) => {
            let said = cause.as_database_error().map(ToString::to_string);
            unfit(format!(
                "row {row} of {table} does not keep the rules of the books: {}",
                said.unwrap_or_default()
            ))
        }
        _ => Error::Database {
            doing: "write the household's rows",
            cause,
        },
    }
}
