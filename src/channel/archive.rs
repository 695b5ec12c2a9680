//! A household's archive as text, one row a line, and back. The same books give the same bytes.

use std::fmt::Write;

use anyhow::{Context, bail};
use serde_json::{Map, Value};

use crate::store::Store;
use crate::store::archive::{self, Archive, Cell, Table};

/// What stands at the head, so that nothing else is taken for one.
const FORMAT: &str = "hobside archive";
/// Of the text; what is in the tables is told by the schema.
const VERSION: i64 = 1;

/// The archive of the household that a chat belongs to.
///
/// # Errors
/// If there is no such chat, or the books cannot be read.
pub async fn export(store: &Store, chat: &str) -> anyhow::Result<String> {
    let mut transaction = store.look().await?;
    let household = super::export::household(&mut transaction, chat).await?;
    let archive = transaction.take_out(household.id).await?;
    Ok(written(&archive))
}

/// What an archive is found to be before any file is opened: of the newest schema, and sound.
///
/// # Errors
/// If it is no archive, was cut, is of a newer version, or holds what the books never hold.
pub async fn read(text: &str) -> anyhow::Result<Archive> {
    let archive = parsed(text).context("the archive is not taken in, and nothing has changed")?;
    Ok(archive::brought_up_to_date(&archive).await?)
}

/// Put a household in, in one transaction; what was done, in words.
///
/// # Errors
/// If it is there already, in part or as a whole: then nothing has changed.
pub async fn import(store: &Store, archive: &Archive) -> anyhow::Result<String> {
    let mut transaction = store.begin().await?;
    let household = transaction.put_in(archive).await?;
    let rows = transaction.households().await?;
    let entries = transaction.journal(household).await?.len();
    transaction.commit().await?;
    let household = rows.into_iter().find(|row| row.id == household);
    let name = household.map(|row| row.name).unwrap_or_default();
    let name = crate::render::clean(&name);
    Ok(format!("{name} is in, with {entries} entries.\n"))
}

fn written(archive: &Archive) -> String {
    let mut text = String::new();
    let head = format!(
        "{{\n\"format\": \"{FORMAT}\",\n\"version\": {VERSION},\n\"schema\": {},\n\"tables\": {{",
        archive.schema
    );
    text.push_str(&head);
    for (number, table) in archive.tables.iter().enumerate() {
        let comma = if number > 0 { "," } else { "" };
        let name = Value::from(table.name.as_str());
        let columns = Value::from(table.columns.clone());
        let rows = table.rows.iter().map(|row| {
            let cells: Vec<Value> = row.iter().map(value).collect();
            format!("\n{}", Value::from(cells))
        });
        let rows = rows.collect::<Vec<_>>().join(",");
        write!(
            text,
            "{comma}\n{name}: {{\"columns\": {columns}, \"rows\": [{rows}]}}"
        )
        .expect("text grows");
    }
    text.push_str("\n}\n}\n");
    text
}

fn value(cell: &Cell) -> Value {
    match cell {
        Cell::Null => Value::Null,
        Cell::Integer(number) => Value::from(*number),
        Cell::Real(number) => Value::from(*number),
        Cell::Text(text) => Value::from(text.as_str()),
    }
}

fn parsed(text: &str) -> anyhow::Result<Archive> {
    let value: Value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(error) if error.is_eof() => bail!("it breaks off in line {}", error.line()),
        Err(error) => bail!("it is not JSON: {error}"),
    };
    let whole = value.as_object().context("it is not an archive")?;
    if whole.get("format").and_then(Value::as_str) != Some(FORMAT) {
        bail!("it is not an archive: `hobside export --format archive` writes one");
    }
    if whole.get("version").and_then(Value::as_i64) != Some(VERSION) {
        bail!("it was written by another version of this program: use that one");
    }
    let schema = whole.get("schema").and_then(Value::as_i64);
    let tables = whole.get("tables").and_then(Value::as_object);
    let tables = tables.context("it has no tables")?;
    Ok(Archive {
        schema: schema.context("it names no schema")?,
        tables: tables
            .iter()
            .map(|(name, value)| table(name, value).with_context(|| format!("the table {name}")))
            .collect::<anyhow::Result<_>>()?,
    })
}

fn table(name: &str, value: &Value) -> anyhow::Result<Table> {
    let table: &Map<String, Value> = value.as_object().context("is no table")?;
    let list = |name| table.get(name).and_then(Value::as_array);
    let columns = list("columns").context("has no columns")?.iter();
    let columns = columns.map(|name| name.as_str().map(str::to_owned));
    let rows = list("rows").context("has no rows")?.iter();
    let rows = rows.map(|row| {
        let cells = row.as_array().context("has a row that is no list")?;
        cells.iter().map(cell).collect()
    });
    Ok(Table {
        name: name.to_owned(),
        columns: columns
            .collect::<Option<_>>()
            .context("has columns without names")?,
        rows: rows.collect::<anyhow::Result<_>>()?,
    })
}

fn cell(value: &Value) -> anyhow::Result<Cell> {
    Ok(match value {
        Value::Null => Cell::Null,
        Value::String(text) => Cell::Text(text.clone()),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => Cell::Integer(whole),
            None => Cell::Real(number.as_f64().context("has a number beyond all bounds")?),
        },
        _ => bail!("has a cell that is no number and no text"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_gives_back_what_it_was_written_from() {
        let archive = Archive {
            schema: 1,
            tables: vec![
                Table {
                    name: "household".to_owned(),
                    columns: vec!["name".to_owned(), "share".to_owned()],
                    rows: vec![
                        vec![Cell::Text("a \"b\"\n\u{2028}é".to_owned()), Cell::Null],
                        vec![Cell::Integer(i64::MIN), Cell::Real(2.0)],
                        vec![Cell::Integer(i64::MAX), Cell::Real(0.1 + 0.2)],
                        vec![Cell::Integer(0), Cell::Real(5e-324)],
                        vec![Cell::Integer(0), Cell::Real(1.0 / 3.0 * 1e22)],
                    ],
                },
                Table {
                    name: "chat".to_owned(),
                    columns: Vec::new(),
                    rows: Vec::new(),
                },
            ],
        };
        let text = written(&archive);
        assert_eq!(parsed(&text).expect("it reads"), archive);
        assert_eq!(written(&parsed(&text).expect("it reads")), text);
    }

    #[test]
    fn every_real_number_comes_back_to_the_last_bit() {
        let mut bits: u64 = 0x9e37_79b9_7f4a_7c15;
        for _ in 0..20_000 {
            bits = bits.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let number = f64::from_bits(bits);
            if number.is_finite() {
                let text = value(&Cell::Real(number)).to_string();
                let read: Value = serde_json::from_str(&text).expect("a number");
                assert_eq!(cell(&read).expect("a number"), Cell::Real(number), "{text}");
            }
        }
    }

    #[test]
    fn what_is_no_archive_is_said_to_be_none() {
        for (text, words) in [
            ("", "breaks off"),
            ("{\"format\": \"hobside archive\",", "breaks off in line 1"),
            ("format: archive", "not JSON"),
            ("[]", "not an archive"),
            (
                "{\"schema\":18,\"household\":{},\"members\":[]}",
                "not an archive",
            ),
            (
                "{\"format\":\"hobside archive\",\"version\":2}",
                "another version",
            ),
            (
                "{\"format\":\"hobside archive\",\"version\":1,\"schema\":18}",
                "no tables",
            ),
        ] {
            let error = parsed(text).expect_err(text);
            assert!(format!("{error:#}").contains(words), "{text}: {error:#}");
        }
    }
}
