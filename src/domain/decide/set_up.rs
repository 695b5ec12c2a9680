//! A few questions when a household begins, each of which may be skipped: what is chosen is a setting as any other.

use super::super::answer::About;
use super::super::change::{Detail, SettingChange};
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Settings};
use super::{Asking, Done, Step, teach};
use crate::lang::syntax::{
    Command, DecimalMark, EnergyUnit, MeasureSystem, Region, SET_UP_PARTS, SetUp, Setting,
    SettingPart, Words,
};

/// Where many people live; any other zone is typed.
const ZONES: [&str; 6] = [
    "Europe/London",
    "Europe/Dublin",
    "Europe/Berlin",
    "America/New_York",
    "America/Los_Angeles",
    "Australia/Sydney",
];

pub fn set_up(draft: &mut Draft, said: &SetUp) -> Step {
    match said {
        SetUp::Begin => {
            draft.fact(Detail::Setting(SettingChange::SetUp));
            Ok(ask(draft, 0))
        }
        SetUp::Step { part, chosen } => {
            if let Some(setting) = chosen {
                teach::setting(draft, setting)?;
            }
            let of = |(_, known): &(&str, SettingPart)| known == part;
            let next = SET_UP_PARTS.iter().position(of).map_or(0, |at| at + 1);
            Ok(ask(draft, next))
        }
        SetUp::Done => Ok(teach::settings(draft, None)),
    }
}

/// The question of this step; after the last, what all is chosen.
fn ask(draft: &Draft, step: usize) -> Done {
    let Some((word, part)) = SET_UP_PARTS.get(step) else {
        return teach::settings(draft, None);
    };
    let settings = draft.kitchen.settings();
    let says = |said: &SetUp| Command::SetUp(said.clone()).to_string();
    let mut options: Vec<Choice> = choices(*part, &settings)
        .into_iter()
        .map(|setting| {
            let label = setting.to_string();
            let chosen = Some(Box::new(setting));
            let says = says(&SetUp::Step {
                part: *part,
                chosen,
            });
            Choice { label, says }
        })
        .collect();
    options.push(Choice {
        label: "skip".to_owned(),
        says: says(&SetUp::Step {
            part: *part,
            chosen: None,
        }),
    });
    options.push(Choice {
        label: "leave the rest as it is".to_owned(),
        says: says(&SetUp::Done),
    });
    let asking = Asking {
        about: About::SetUp(*part),
        words: (*word).to_owned(),
        problem: None,
        options,
        pointed: None,
    };
    Done {
        answers: Vec::new(),
        asks: vec![asking],
    }
}

/// What holds now comes first.
fn choices(part: SettingPart, settings: &Settings) -> Vec<Setting> {
    let now = match part {
        SettingPart::Measures => Setting::Measures(settings.measures),
        SettingPart::Energy => Setting::Energy(settings.energy),
        SettingPart::Guidance => Setting::Guidance(settings.guidance),
        SettingPart::Decimals => Setting::Decimals(settings.decimals),
        _ => zone(settings.zone.name()),
    };
    let all: Vec<Setting> = match part {
        SettingPart::Measures => [
            MeasureSystem::UsCustomary,
            MeasureSystem::Metric,
            MeasureSystem::British,
            MeasureSystem::Australian,
        ]
        .map(Setting::Measures)
        .into(),
        SettingPart::Energy => [EnergyUnit::Kcal, EnergyUnit::Kilojoule]
            .map(Setting::Energy)
            .into(),
        SettingPart::Guidance => [
            Region::UnitedStates,
            Region::UnitedKingdom,
            Region::AustraliaNewZealand,
        ]
        .map(Setting::Guidance)
        .into(),
        SettingPart::Decimals => [DecimalMark::Point, DecimalMark::Comma]
            .map(Setting::Decimals)
            .into(),
        _ => ZONES.map(zone).into(),
    };
    let others = all.into_iter().filter(|other| *other != now);
    std::iter::once(now.clone()).chain(others).collect()
}

fn zone(name: &str) -> Setting {
    Setting::Timezone(Words::plain(name))
}
