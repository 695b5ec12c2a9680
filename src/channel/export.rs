//! A household's books to be read elsewhere: as JSON, the newest state and the whole journal, or one table of them as CSV.
//! The same books give the same bytes.

use std::collections::BTreeMap;
use std::fmt::Write;

use chrono::{DateTime, SecondsFormat, Utc};
use serde_json::{Value, json};

use crate::config::Table;
use crate::domain::answer::Answer;
use crate::domain::clock::absence::KeptAbsence;
use crate::domain::clock::{Reminder, ReminderKind};
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::plate::Plate;
use crate::domain::view;
use crate::foods::Nutrient;
use crate::render::clean;
use crate::render::data;
use crate::store::{BookEntry, HouseholdRow, Store, Transaction};

use super::csv;

/// One line a household: its number, its name, its zone and its chats.
///
/// # Errors
/// If the books cannot be read.
pub async fn list(store: &Store) -> anyhow::Result<String> {
    let mut transaction = store.look().await?;
    let mut text = String::new();
    for household in transaction.households().await? {
        let chats: Vec<String> = household
            .chats
            .iter()
            .map(|(channel, chat)| format!("{channel}:{}", clean(chat)))
            .collect();
        let HouseholdRow { id, name, zone, .. } = &household;
        let (name, chats) = (clean(name), chats.join(" "));
        writeln!(text, "{}\t{name}\t{zone}\t{chats}", id.0)?;
    }
    Ok(text)
}

/// The books of the household that a chat belongs to.
///
/// # Errors
/// If there is no such chat, or the books cannot be read.
pub async fn books(store: &Store, chat: &str) -> anyhow::Result<String> {
    let mut transaction = store.look().await?;
    let household = household(&mut transaction, chat).await?;
    let kitchen = transaction.whole_kitchen(household.id).await?;
    let journal = transaction.journal(household.id).await?;
    let batches = kitchen.batches.values().filter(|batch| !batch.voided);
    let clock = &kitchen.clock;
    let books = json!({
        "schema": Store::schema(),
        "household": about(&household, &kitchen),
        "members": kitchen.members().iter().map(|member| json!({
            "name": member.name,
            "keeper": member.keeper,
        })).collect::<Vec<_>>(),
        "batches": batches.map(|batch| data::batch(&view::batch(&kitchen, batch.id))).collect::<Vec<_>>(),
        "lots": view::stock(&kitchen).iter().map(data::lot).collect::<Vec<_>>(),
        "reminders": clock.waiting.iter().map(|it| waiting(&kitchen, it)).collect::<Vec<_>>(),
        "absences": clock.absences.iter().map(|it| absence(&kitchen, it)).collect::<Vec<_>>(),
        "entries": journal.iter().map(entry).collect::<Vec<_>>(),
    });
    Ok(format!("{books:#}\n"))
}

/// One table of the books of the household that a chat belongs to.
///
/// # Errors
/// If there is no such chat, or the books cannot be read.
pub async fn table(store: &Store, chat: &str, table: Table) -> anyhow::Result<String> {
    let mut transaction = store.look().await?;
    let household = household(&mut transaction, chat).await?.id;
    let (columns, rows): (&[&str], Vec<Value>) = match table {
        Table::Entries => {
            let journal = transaction.journal(household).await?;
            (&ENTRIES, journal.iter().map(entry).collect())
        }
        Table::Plates => {
            let kitchen = transaction.kitchen_with_plates(household).await?;
            (
                &PLATES,
                kitchen
                    .plates
                    .iter()
                    .flat_map(|plate| on_plate(&kitchen, plate))
                    .collect(),
            )
        }
        Table::Batches => {
            let kitchen = transaction.whole_kitchen(household).await?;
            let batches = kitchen.batches.values().filter(|batch| !batch.voided);
            let batches = batches.map(|batch| data::batch(&view::batch(&kitchen, batch.id)));
            (&BATCHES, batches.collect())
        }
        Table::Lots => {
            let kitchen = transaction.whole_kitchen(household).await?;
            (&LOTS, view::stock(&kitchen).iter().map(data::lot).collect())
        }
    };
    let nutrients = Nutrient::ALL.iter().map(|nutrient| nutrient.key());
    let nutrients: Vec<&str> = nutrients.chain(["at_least"]).collect();
    let columns: Vec<String> = columns
        .iter()
        .flat_map(|column| match column.strip_suffix(EACH) {
            Some(object) => nutrients
                .iter()
                .map(|key| format!("{object}.{key}"))
                .collect(),
            None => vec![(*column).to_owned()],
        })
        .collect();
    Ok(csv::table(&columns, &rows))
}

/// Stands for a column of each nutrient.
const EACH: &str = ".*";

const ENTRIES: [&str; 11] = [
    "id",
    "kind",
    "occurred_at",
    "recorded_at",
    "member",
    "batch",
    "place",
    "source",
    "day",
    "grams",
    "reverses",
];
const PLATES: [&str; 8] = [
    "day",
    "meal",
    "member",
    "name",
    "batch",
    "food",
    "grams",
    "nutrients.*",
];
const BATCHES: [&str; 12] = [
    "code",
    "name",
    "origin",
    "state",
    "made",
    "raw_grams",
    "net_grams",
    "yield",
    "per_100g.*",
    "allergens",
    "allergens_unknown",
    "pieces.count",
];
const LOTS: [&str; 8] = [
    "batch",
    "name",
    "place",
    "vessel",
    "grams",
    "pieces.count",
    "pieces.word",
    "use_by",
];

/// A row for each thing on a plate.
fn on_plate(kitchen: &Kitchen, plate: &Plate) -> Vec<Value> {
    let plate = data::plate(&view::plate(kitchen, plate, &BTreeMap::new()));
    let lines = plate["lines"].as_array().into_iter().flatten();
    lines
        .map(|line| {
            let mut row = line.clone();
            for of_plate in ["day", "meal", "member"] {
                row[of_plate] = plate[of_plate].clone();
            }
            row
        })
        .collect()
}

/// The household that a chat belongs to.
///
/// # Errors
/// If there is none, or the books cannot be read.
pub(super) async fn household(
    transaction: &mut Transaction,
    chat: &str,
) -> anyhow::Result<HouseholdRow> {
    match transaction.household_of_chat(chat).await? {
        Some(household) => Ok(household),
        None => {
            anyhow::bail!("no household has a chat {chat:?}; `hobside export --list` shows them")
        }
    }
}

fn about(household: &HouseholdRow, kitchen: &Kitchen) -> Value {
    let settings = data::message(&[Answer::Settings {
        settings: kitchen.settings(),
        part: None,
        own: None,
    }]);
    json!({
        "name": household.name,
        "created_at": household.created_at,
        "chats": household.chats.iter().map(|(channel, chat)| json!({
            "channel": channel,
            "chat": chat,
        })).collect::<Vec<_>>(),
        "timezone": settings["timezone"],
        "measures": settings["measures"],
        "answers": settings["answers"],
    })
}

/// What waits: a timer's span counts from when it was asked for, an hour is the household's own.
fn waiting(kitchen: &Kitchen, reminder: &Reminder) -> Value {
    json!({
        "about": match reminder.asked.kind {
            ReminderKind::Timer => "timer",
            ReminderKind::Once => "once",
        },
        "id": reminder.asked.number,
        "words": reminder.asked.words,
        "member": kitchen.member(reminder.member).map(|member| member.name.as_str()),
        "set_at": moment(reminder.set_at),
        "due_at": moment(reminder.due_at),
        "wall": reminder.asked.wall.map(|wall| wall.format("%Y-%m-%dT%H:%M").to_string()),
    })
}

fn absence(kitchen: &Kitchen, kept: &KeptAbsence) -> Value {
    let who = kept.absence.member;
    json!({
        "member": who.and_then(|who| kitchen.member(who)).map(|member| member.name.as_str()),
        "from": kept.absence.from.to_string(),
        "until": kept.absence.until.to_string(),
    })
}

fn moment(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}

fn entry(entry: &BookEntry) -> Value {
    json!({
        "id": entry.id,
        "kind": entry.kind,
        "occurred_at": entry.occurred_at,
        "recorded_at": entry.recorded_at,
        "member": entry.member,
        "batch": entry.batch,
        "place": entry.place,
        "source": entry.source,
        "day": entry.day,
        "grams": Mass::from_mg(entry.mass_mg).grams(),
        "reverses": entry.reverses,
    })
}
