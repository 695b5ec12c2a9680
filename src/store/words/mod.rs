//! Between the words of rows and values. A word that cannot be read is an error, never a guess.

pub mod clock;
pub mod personal;
pub mod shop;
pub mod step;

use chrono::{DateTime, NaiveDate, NaiveTime, SecondsFormat, Utc};
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::error::{Error, Result};
use crate::domain::batch::{LineState, PourKind};
use crate::domain::change::SettingChange;
use crate::domain::ids::{AccountId, ComponentId, ContainerId};
use crate::domain::keeping::{Span, Storage, region_of_word, region_word};
use crate::domain::kitchen::{OwnDays, PlaceKind};
use crate::domain::ledger::{Account, EntryKind};
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;
use crate::domain::vessel::Vessel;
use crate::foods;
use crate::lang::syntax::{AnswerStyle, DecimalMark, EnergyUnit, MealName, MeasureSystem};

pub fn unreadable(what: &'static str, value: &str) -> Error {
    Error::Unreadable {
        what,
        value: value.to_owned(),
    }
}

/// RFC 3339 in UTC with milliseconds: always of one width, so that it sorts as it reads.
pub fn time_text(time: DateTime<Utc>) -> String {
    time.to_rfc3339_opts(SecondsFormat::Millis, true)
}

pub fn time(text: &str) -> Result<DateTime<Utc>> {
    DateTime::parse_from_rfc3339(text)
        .map(|time| time.with_timezone(&Utc))
        .map_err(|_| unreadable("a time", text))
}

pub fn day(text: &str) -> Result<NaiveDate> {
    text.parse().map_err(|_| unreadable("a day", text))
}

pub fn optional<T>(
    text: Option<String>,
    read: impl FnOnce(&str) -> Result<T>,
) -> Result<Option<T>> {
    text.as_deref().map(read).transpose()
}

pub fn zone(name: &str) -> Result<chrono_tz::Tz> {
    name.parse().map_err(|_| unreadable("a time zone", name))
}

pub fn food(code: &str) -> Result<foods::Code> {
    code.parse()
        .map_err(|_| unreadable("a food's number", code))
}

pub fn account(kind: &str, id: i64) -> Result<Account> {
    Account::from_kind(kind, AccountId(id)).ok_or_else(|| unreadable("an account's kind", kind))
}

pub fn entry_kind(word: &str) -> Result<EntryKind> {
    EntryKind::from_word(word).ok_or_else(|| unreadable("a kind of entry", word))
}

pub fn pour_kind(what: &str, part: Option<String>) -> Result<PourKind> {
    match (what, part) {
        ("fat", None) => Ok(PourKind::Fat),
        ("whole", None) => Ok(PourKind::Whole),
        ("part", Some(part)) => Ok(PourKind::Part(part)),
        _ => Err(unreadable("a way of pouring off", what)),
    }
}

pub fn pour_words(kind: &PourKind) -> (&'static str, Option<&str>) {
    match kind {
        PourKind::Fat => ("fat", None),
        PourKind::Whole => ("whole", None),
        PourKind::Part(part) => ("part", Some(part)),
    }
}

pub fn place_kind(word: &str) -> Result<PlaceKind> {
    match word {
        "fridge" => Ok(PlaceKind::Fridge),
        "freezer" => Ok(PlaceKind::Freezer),
        "counter" => Ok(PlaceKind::Counter),
        _ => Err(unreadable("a kind of place", word)),
    }
}

pub fn place_word(kind: PlaceKind) -> &'static str {
    match kind {
        PlaceKind::Fridge => "fridge",
        PlaceKind::Freezer => "freezer",
        PlaceKind::Counter => "counter",
    }
}

pub fn meal(word: &str) -> Result<MealName> {
    let meals = [
        MealName::Breakfast,
        MealName::Lunch,
        MealName::Dinner,
        MealName::Snack,
    ];
    let known = meals.into_iter().find(|meal| meal_word(*meal) == word);
    known.ok_or_else(|| unreadable("a meal", word))
}

pub fn meal_word(meal: MealName) -> &'static str {
    match meal {
        MealName::Breakfast => "breakfast",
        MealName::Lunch => "lunch",
        MealName::Dinner => "dinner",
        MealName::Snack => "snack",
    }
}

const TIME_OF_DAY: &str = "%H:%M";

pub fn setting(key: &str, value: &str) -> Result<SettingChange> {
    let known = match (key, value) {
        ("answers", "full") => SettingChange::Answers(AnswerStyle::Full),
        ("answers", "brief") => SettingChange::Answers(AnswerStyle::Brief),
        ("answers", "reaction") => SettingChange::Answers(AnswerStyle::Reaction),
        ("measures", "us") => SettingChange::Measures(MeasureSystem::UsCustomary),
        ("measures", "metric") => SettingChange::Measures(MeasureSystem::Metric),
        ("measures", "australian") => SettingChange::Measures(MeasureSystem::Australian),
        ("measures", "british") => SettingChange::Measures(MeasureSystem::British),
        ("board", "on") => SettingChange::Board(true),
        ("board", "off") => SettingChange::Board(false),
        ("energy", "kcal") => SettingChange::Energy(EnergyUnit::Kcal),
        ("energy", "kj") => SettingChange::Energy(EnergyUnit::Kilojoule),
        ("decimals", "point") => SettingChange::Decimals(DecimalMark::Point),
        ("decimals", "comma") => SettingChange::Decimals(DecimalMark::Comma),
        ("set_up", "begun") => SettingChange::SetUp,
        ("day_turns", at) => match NaiveTime::parse_from_str(at, TIME_OF_DAY) {
            Ok(at) => SettingChange::DayTurns(at),
            Err(_) => return Err(unreadable("the hour at which a day turns", at)),
        },
        ("zone", name) => SettingChange::Zone(zone(name)?),
        ("guidance", word) => match region_of_word(word) {
            Some(region) => SettingChange::Guidance(region),
            None => return Err(unreadable("a region of guidance", word)),
        },
        _ => match clock::choice(key, value) {
            Some(choice) => SettingChange::Clock(choice),
            None => return Err(unreadable("a setting", &format!("{key}={value}"))),
        },
    };
    Ok(known)
}

pub fn setting_words(change: &SettingChange) -> (&'static str, String) {
    let (key, value) = match change {
        SettingChange::Clock(choice) => return clock::choice_words(*choice),
        SettingChange::Answers(AnswerStyle::Full) => ("answers", "full"),
        SettingChange::Answers(AnswerStyle::Brief) => ("answers", "brief"),
        SettingChange::Answers(AnswerStyle::Reaction) => ("answers", "reaction"),
        SettingChange::Measures(MeasureSystem::UsCustomary) => ("measures", "us"),
        SettingChange::Measures(MeasureSystem::Metric) => ("measures", "metric"),
        SettingChange::Measures(MeasureSystem::Australian) => ("measures", "australian"),
        SettingChange::Measures(MeasureSystem::British) => ("measures", "british"),
        SettingChange::Energy(EnergyUnit::Kcal) => ("energy", "kcal"),
        SettingChange::Energy(EnergyUnit::Kilojoule) => ("energy", "kj"),
        SettingChange::Decimals(DecimalMark::Point) => ("decimals", "point"),
        SettingChange::Decimals(DecimalMark::Comma) => ("decimals", "comma"),
        SettingChange::SetUp => ("set_up", "begun"),
        SettingChange::DayTurns(at) => return ("day_turns", at.format(TIME_OF_DAY).to_string()),
        SettingChange::Zone(zone) => ("zone", zone.name()),
        SettingChange::Guidance(region) => ("guidance", region_word(*region)),
        SettingChange::Board(true) => ("board", "on"),
        SettingChange::Board(false) => ("board", "off"),
    };
    (key, value.to_owned())
}

pub fn storage_word(storage: Storage) -> &'static str {
    match storage {
        Storage::Fridge => "fridge",
        Storage::Thawed => "thawed",
        Storage::Freezer => "freezer",
    }
}

pub fn own_days(
    component: i64,
    storage: &str,
    count: Option<i64>,
    unit: Option<String>,
) -> Result<OwnDays> {
    let storages = [Storage::Fridge, Storage::Thawed, Storage::Freezer];
    let known = storages
        .into_iter()
        .find(|known| storage_word(*known) == storage);
    let keeps = match (count, unit.as_deref()) {
        (None, None) => None,
        (Some(number), Some("day")) => Some(Span::Days(self::count(number)?)),
        (Some(number), Some("month")) => Some(Span::Months(self::count(number)?)),
        _ => {
            return Err(unreadable(
                "a time that food keeps",
                unit.as_deref().unwrap_or(""),
            ));
        }
    };
    Ok(OwnDays {
        component: ComponentId(component),
        storage: known.ok_or_else(|| unreadable("how food is kept", storage))?,
        keeps,
    })
}

/// A container by its number, or a bag by its weight.
pub fn vessel(container: Option<i64>, tare_mg: Option<i64>) -> Option<Vessel> {
    let named = container.map(|id| Vessel::Named(ContainerId(id)));
    named.or(tare_mg.map(|tare| Vessel::Bag(Mass::from_mg(tare))))
}

pub fn vessel_columns(vessel: Option<Vessel>) -> (Option<i64>, Option<i64>) {
    match vessel {
        None => (None, None),
        Some(Vessel::Named(container)) => (Some(container.0), None),
        Some(Vessel::Bag(tare)) => (None, Some(tare.mg())),
    }
}

pub fn json<T: DeserializeOwned>(what: &'static str, text: &str) -> Result<T> {
    serde_json::from_str(text).map_err(|_| unreadable(what, text))
}

pub fn json_text(value: &impl Serialize) -> String {
    serde_json::to_string(value).expect("plain values always have a JSON text")
}

/// Ids as one parameter, read back in SQL by `json_each`.
pub fn id_list(ids: impl IntoIterator<Item = i64>) -> String {
    json_text(&ids.into_iter().collect::<Vec<_>>())
}

pub fn line_state(word: &str) -> Result<LineState> {
    LineState::from_word(word).ok_or_else(|| unreadable("the state of a line", word))
}

/// A batch from before origins were kept was cooked.
pub fn origin(word: Option<&str>) -> Result<Origin> {
    word.map_or(Ok(Origin::Cooked), |word| {
        Origin::from_word(word).ok_or_else(|| unreadable("where a batch came from", word))
    })
}

pub fn count(number: i64) -> Result<u32> {
    u32::try_from(number).map_err(|_| unreadable("a count", &number.to_string()))
}

pub fn line_number(number: i64) -> Result<u32> {
    u32::try_from(number).map_err(|_| unreadable("a line's number", &number.to_string()))
}
