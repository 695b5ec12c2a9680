//! What the household has taught or set, and what was taken back.

use chrono::NaiveTime;
use serde_json::{Value, json};

use crate::domain::answer::{LabelDoubt, PacketAnswer, UndoneAnswer, VesselView};
use crate::domain::keeping::region_word;
use crate::domain::kitchen::Settings;
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::domain::personal::answer::OwnSettings;
use crate::lang::syntax::{AnswerStyle, DecimalMark, EnergyUnit, MeasureSystem, SettingPart};
use crate::render::clean::clean;
use crate::render::personal::data::own as own_settings;

use super::{grams, nutrients};

pub(super) fn packet(answer: &PacketAnswer) -> Value {
    let per_100g = Totals::of(&answer.per_100g, Mass::from_mg(100_000));
    json!({
        "kind": "packet",
        "name": clean(&answer.name),
        "per_100g": nutrients(&per_100g),
        "serving_grams": grams(answer.serving),
        "doubt": answer.doubt.map(doubt),
    })
}

fn doubt(doubt: LabelDoubt) -> Value {
    match doubt {
        LabelDoubt::Energy {
            printed_kcal,
            low_kcal,
            high_kcal,
            looks_like_kj,
        } => json!({
            "printed_kcal": printed_kcal,
            "low_kcal": low_kcal,
            "high_kcal": high_kcal,
            "looks_like_kj": looks_like_kj,
        }),
        LabelDoubt::OverFat {
            printed_kcal,
            looks_like_kj,
        } => json!({
            "printed_kcal": printed_kcal,
            "low_kcal": 0.0,
            "high_kcal": 900.0,
            "looks_like_kj": looks_like_kj,
        }),
        LabelDoubt::OverWhole { grams } => json!({ "sum_grams": grams }),
        LabelDoubt::OverPart { part, whole } => {
            json!({ "more": format!("{part:?}"), "than": format!("{whole:?}") })
        }
    }
}

pub(super) fn measure(measure: &str, name: Option<&str>, each: Mass) -> Value {
    json!({
        "kind": "measure",
        "measure": clean(measure),
        "name": name.map(clean),
        "grams": each.grams(),
    })
}

pub(super) fn container(name: &str, tare: Option<Mass>, holds: Option<&str>) -> Value {
    json!({
        "kind": "container",
        "name": clean(name),
        "tare_grams": grams(tare),
        "holds": holds.map(clean),
    })
}

pub(super) fn tares(vessels: &[VesselView]) -> Value {
    let held = |(name, held): &(String, Option<Mass>)| json!({ "name": clean(name), "grams": grams(*held) });
    let vessel = |vessel: &VesselView| {
        json!({
            "name": clean(&vessel.name),
            "tare_grams": grams(vessel.tare),
            "holds": vessel.holds.iter().map(held).collect::<Vec<_>>(),
        })
    };
    json!({ "kind": "tares", "vessels": vessels.iter().map(vessel).collect::<Vec<_>>() })
}

pub(super) fn settings(settings: &Settings, own: Option<&OwnSettings>) -> Value {
    let clock = &settings.clock;
    let time = |time: NaiveTime| time.format("%H:%M").to_string();
    json!({
        "kind": "settings",
        "timezone": settings.zone.name(),
        "measures": match settings.measures {
            MeasureSystem::UsCustomary => "us",
            MeasureSystem::Metric => "metric",
            MeasureSystem::Australian => "australian",
            MeasureSystem::British => "british",
        },
        "answers": match settings.answers {
            AnswerStyle::Full => "full",
            AnswerStyle::Brief => "brief",
            AnswerStyle::Reaction => "reaction",
        },
        "guidance": region_word(settings.guidance),
        "energy": match settings.energy {
            EnergyUnit::Kcal => "kcal",
            EnergyUnit::Kilojoule => "kj",
        },
        "decimals": match settings.decimals {
            DecimalMark::Point => "point",
            DecimalMark::Comma => "comma",
        },
        "day_turns": time(settings.day_turns),
        "board": settings.board != Some(false),
        "prep_day": clock.prep.map(|prep| json!({
            "weekday": prep.weekday,
            "at": time(prep.at),
            "every_other": prep.every_other.map(|on| on.to_string()),
        })),
        "morning": clock.morning.map(time),
        "evening": clock.evening.map(time),
        "put_away": clock.put_away,
        "quiet": clock.quiet.map(|(from, to)| json!([time(from), time(to)])),
        "own": own.map(own_settings),
    })
}

pub(super) fn undo(answer: &UndoneAnswer) -> Value {
    let left: Vec<Value> = answer
        .left
        .iter()
        .map(|held| json!({"name": clean(&held.name), "grams": held.mass.grams()}))
        .collect();
    json!({
        "kind": "undo",
        "text": clean(&answer.text),
        "member": clean(&answer.member),
        "put_back": answer.put_back,
        "left": left,
        "settings": answer.chosen.as_ref().map(|(_, parts)| parts.iter().map(part_word).collect::<Vec<_>>()),
    })
}

/// The key of a setting in `settings`.
fn part_word(part: &SettingPart) -> &'static str {
    match part {
        SettingPart::Zone => "timezone",
        SettingPart::Measures => "measures",
        SettingPart::Answers => "answers",
        SettingPart::Guidance => "guidance",
        SettingPart::Board => "board",
        SettingPart::Energy => "energy",
        SettingPart::Decimals => "decimals",
        SettingPart::DayTurns => "day_turns",
        SettingPart::PrepDay | SettingPart::Notes => "prep_day",
        SettingPart::MorningNote => "morning",
        SettingPart::EveningNote => "evening",
        SettingPart::PutAway => "put_away",
        SettingPart::QuietHours => "quiet",
    }
}
