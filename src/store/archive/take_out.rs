//! Reading all rows of a household.

use std::collections::{BTreeMap, BTreeSet};

use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row};

use super::shape::{Column, Counted, Holds, Shape};
use super::{Archive, Cell, Table};
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;

impl Transaction {
    /// Everything that the file holds of a household.
    pub async fn take_out(&mut self, household: HouseholdId) -> Result<Archive> {
        let schema = sqlx::query_scalar("select max(version) from _sqlx_migrations")
            .fetch_one(self.connection())
            .await
            .doing("read the schema")?;
        let shapes = self.shapes().await?;
        let mut tables = Vec::with_capacity(shapes.len());
        for shape in &shapes {
            let rows = sqlx::query(AssertSqlSafe(shape.select()))
                .bind(household.0)
                .fetch_all(self.connection())
                .await
                .doing("read the household's rows")?;
            let rows = rows.iter().map(|row| cells(shape, row));
            tables.push(Table {
                name: shape.name.clone(),
                columns: shape.columns.iter().map(|it| it.name.clone()).collect(),
                rows: rows.collect::<Result<_>>()?,
            });
        }
        for counted in [Counted::Messages, Counted::People] {
            count_anew(&shapes, &mut tables, counted);
        }
        // By their new numbers, whatever the file had.
        let people = tables.iter_mut().find(|table| table.name == "person");
        if let Some(people) = people {
            people.rows.sort_by_key(|row| match row.first() {
                Some(Cell::Integer(number)) => *number,
                _ => 0,
            });
        }
        Ok(Archive { schema, tables })
    }
}

fn cells(shape: &Shape, row: &SqliteRow) -> Result<Vec<Cell>> {
    let columns = shape.columns.iter().enumerate();
    columns.map(|(at, column)| cell(column, row, at)).collect()
}

fn cell(column: &Column, row: &SqliteRow, at: usize) -> Result<Cell> {
    let cell = match column.holds {
        Holds::Integer => row
            .try_get::<Option<i64>, _>(at)
            .map(|it| it.map(Cell::Integer)),
        Holds::Real => row
            .try_get::<Option<f64>, _>(at)
            .map(|it| it.map(Cell::Real)),
        Holds::Text => row
            .try_get::<Option<String>, _>(at)
            .map(|it| it.map(Cell::Text)),
    };
    Ok(cell.doing("read a cell")?.unwrap_or(Cell::Null))
}

/// From 1: messages as they came, people as they sit at the table. What is spoken of and gone has a number as well.
fn count_anew(shapes: &[Shape], tables: &mut [Table], counted: Counted) {
    let mut known: Vec<i64> = match counted {
        Counted::People => member_order(tables),
        _ => Vec::new(),
    };
    let mut others: BTreeSet<i64> = BTreeSet::new();
    each_number(shapes, tables, counted, |number| {
        others.insert(*number);
    });
    others.retain(|number| !known.contains(number));
    known.extend(others);
    let anew: BTreeMap<i64, i64> = known.into_iter().zip(1..).collect();
    each_number(shapes, tables, counted, |number| *number = anew[number]);
}

fn member_order(tables: &[Table]) -> Vec<i64> {
    let members = tables.iter().find(|table| table.name == "member");
    let people = members
        .into_iter()
        .flat_map(|table| table.cells("person_id"));
    let number = |cell: &Cell| match cell {
        Cell::Integer(number) => Some(*number),
        _ => None,
    };
    people.filter_map(number).collect()
}

fn each_number(
    shapes: &[Shape],
    tables: &mut [Table],
    counted: Counted,
    mut visit: impl FnMut(&mut i64),
) {
    for (shape, table) in shapes.iter().zip(tables) {
        let columns = shape.columns.iter().enumerate();
        for (at, _) in columns.filter(|(_, column)| column.counted == counted) {
            for row in &mut table.rows {
                if let Cell::Integer(number) = &mut row[at] {
                    visit(number);
                }
            }
        }
    }
}
