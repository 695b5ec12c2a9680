//! What the household teaches: the weight of its own measures, its containers, its settings.

use chrono::{NaiveTime, Timelike};
use chrono_tz::Tz;

use super::super::answer::Answer;
use super::super::change::{Change, Detail, SettingChange};
use super::super::clock::choice::ClockChoice;
use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::personal::answer::OwnSettings;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Done, Step, Stop, clock, count, stock, vessel, weigh};
use crate::lang::syntax::{ClockSetting, Command, Hour, NoteName, Setting, SettingPart, Words};

pub fn measure(
    draft: &mut Draft,
    count: f64,
    measure: &str,
    name: Option<&Words>,
    grams: f64,
) -> Step {
    let not_a_mass = || ProblemKind::NotAMass {
        text: format!("{grams} g"),
    };
    if !count.is_finite() || count <= 0.0 {
        let text = count.to_string();
        return Err(ProblemKind::NotAMass { text }.into());
    }
    let whole = Mass::weighed_out(grams).ok_or_else(not_a_mass)?;
    let each = Mass::weighed_out(whole.grams() / count).ok_or_else(not_a_mass)?;
    draft.fact(Detail::Measure {
        measure: measure.to_owned(),
        key: name.map(|name| key(&name.text)),
        each,
    });
    Ok(Done::saying(Answer::MeasureTaught {
        measure: measure.to_owned(),
        name: name.map(|name| name.text.clone()),
        each,
    }))
}

pub fn container(draft: &mut Draft, name: &Words, tare_grams: f64, empty: bool) -> Step {
    let tare = Mass::weighed_out(tare_grams).ok_or_else(|| {
        let text = format!("{tare_grams} g");
        Stop::Problem(ProblemKind::NotAMass { text }.at(name.span.clone()))
    })?;
    let filled = match empty {
        true => None,
        false => vessel::filled(draft, name, tare)?,
    };
    if let Some(counted) = filled {
        return count::count(draft, &counted, None, false);
    }
    let container = draft.container(&name.text);
    draft.fact(Detail::Tare { container, tare });
    let mut done = Done::saying(Answer::ContainerTaught {
        name: name.text.clone(),
        tare,
    });
    // What was weighed in it before can be reckoned now.
    for (question, command) in weigh::waiting_for(draft, &name.text) {
        let Command::Weigh {
            batch,
            weighing,
            of,
        } = &command
        else {
            continue;
        };
        if let Ok(weighed) = weigh::weigh(draft, batch, weighing, *of) {
            draft.push(Change::CloseQuestion(question));
            done.answers.extend(weighed.answers);
        }
    }
    Ok(done)
}

/// The zone of this name, or those of the place that it ends with: "Sydney".
fn zones(wanted: &str) -> Vec<Tz> {
    let zones = || chrono_tz::TZ_VARIANTS.iter().copied();
    let whole = zones().find(|zone| zone.name().eq_ignore_ascii_case(wanted));
    let place = |zone: &Tz| {
        let place = zone.name().rsplit('/').next();
        place.is_some_and(|place| place.eq_ignore_ascii_case(wanted))
    };
    match whole {
        Some(zone) => vec![zone],
        None => zones().filter(place).collect(),
    }
}

pub fn setting(draft: &mut Draft, setting: &Setting) -> Step {
    let change = match setting {
        Setting::Answers(style) => SettingChange::Answers(*style),
        Setting::Measures(system) => SettingChange::Measures(*system),
        Setting::Guidance(region) => SettingChange::Guidance(*region),
        Setting::Energy(unit) => SettingChange::Energy(*unit),
        Setting::Decimals(mark) => SettingChange::Decimals(*mark),
        Setting::DayTurns(hour) => SettingChange::DayTurns(day_turns(*hour)?),
        // Where it hangs already, or cannot hang, it is shown.
        Setting::Board(true) if draft.kitchen.settings().board != Some(false) => {
            return stock::stock(draft, None);
        }
        Setting::Board(hangs) => SettingChange::Board(*hangs),
        Setting::Clock(told) => {
            for change in clock::choices(told, draft.today())? {
                draft.fact(Detail::Setting(change));
            }
            return Ok(settings(draft, Some(part(setting))));
        }
        Setting::Timezone(words) => {
            let wanted = words.text.trim().replace(' ', "_");
            match zones(&wanted).as_slice() {
                [zone] => SettingChange::Zone(*zone),
                several => {
                    let mut near: Vec<String> =
                        several.iter().map(|zone| zone.name().into()).collect();
                    if near.is_empty() {
                        near = ["Europe/Dublin", "America/New_York"].map(Into::into).into();
                    }
                    let kind = ProblemKind::UnknownName {
                        words: words.text.clone(),
                        near,
                    };
                    return Err(Stop::Problem(kind.at(words.span.clone())));
                }
            }
        }
    };
    draft.fact(Detail::Setting(change));
    Ok(settings(draft, Some(part(setting))))
}

/// Between midnight and noon: at any other hour a day would end before its evening.
fn day_turns(told: Hour) -> Result<NaiveTime, Stop> {
    let at = NaiveTime::from_hms_opt(told.hour, told.minute, 0);
    let noon = |at: &NaiveTime| at.hour() < 12;
    let problem = || ProblemKind::TurnsTooLate {
        at: told.to_string(),
    };
    at.filter(noon).ok_or_else(|| problem().into())
}

/// What is chosen, whole or in part.
pub fn settings(draft: &Draft, part: Option<SettingPart>) -> Done {
    let settings = draft.kitchen.settings();
    let own = part.is_none().then(|| own_settings(draft));
    Done::saying(Answer::Settings {
        settings,
        part,
        own,
    })
}

/// What the asker has chosen; a target of somebody who keeps totals private is not for a group.
fn own_settings(draft: &Draft) -> Box<OwnSettings> {
    let (kitchen, of) = (&draft.kitchen, draft.input.sender);
    let (numbers, private) = (kitchen.tells_numbers(of), kitchen.keeps_private(of));
    let told = numbers && (!private || draft.input.private);
    Box::new(OwnSettings {
        name: draft.somebody(of).name.clone(),
        numbers,
        private,
        targets: told.then(|| kitchen.targets(of)),
        avoids: kitchen.avoids(of),
    })
}

/// Which of the settings a change is about.
pub fn part_changed(change: &SettingChange) -> Option<SettingPart> {
    Some(match change {
        SettingChange::Answers(_) => SettingPart::Answers,
        SettingChange::Measures(_) => SettingPart::Measures,
        SettingChange::Zone(_) => SettingPart::Zone,
        SettingChange::Guidance(_) => SettingPart::Guidance,
        SettingChange::Board(_) => SettingPart::Board,
        SettingChange::Energy(_) => SettingPart::Energy,
        SettingChange::Decimals(_) => SettingPart::Decimals,
        SettingChange::DayTurns(_) => SettingPart::DayTurns,
        SettingChange::Clock(ClockChoice::Prep(_)) => SettingPart::PrepDay,
        SettingChange::Clock(ClockChoice::Morning(_)) => SettingPart::MorningNote,
        SettingChange::Clock(ClockChoice::Evening(_)) => SettingPart::EveningNote,
        SettingChange::Clock(ClockChoice::PutAway(_)) => SettingPart::PutAway,
        SettingChange::Clock(ClockChoice::Quiet(_)) => SettingPart::QuietHours,
        SettingChange::Clock(ClockChoice::PrepTold(_)) | SettingChange::SetUp => return None,
    })
}

fn part(setting: &Setting) -> SettingPart {
    match setting {
        Setting::Answers(_) => SettingPart::Answers,
        Setting::Measures(_) => SettingPart::Measures,
        Setting::Guidance(_) => SettingPart::Guidance,
        Setting::Board(_) => SettingPart::Board,
        Setting::Energy(_) => SettingPart::Energy,
        Setting::Decimals(_) => SettingPart::Decimals,
        Setting::DayTurns(_) => SettingPart::DayTurns,
        Setting::Timezone(_) => SettingPart::Zone,
        Setting::Clock(ClockSetting::Prep(_) | ClockSetting::Note(NoteName::Prep, _)) => {
            SettingPart::PrepDay
        }
        Setting::Clock(ClockSetting::Notes(_)) => SettingPart::Notes,
        Setting::Clock(ClockSetting::Note(NoteName::Morning, _)) => SettingPart::MorningNote,
        Setting::Clock(ClockSetting::Note(NoteName::Evening, _)) => SettingPart::EveningNote,
        Setting::Clock(ClockSetting::Note(NoteName::PutAway, _)) => SettingPart::PutAway,
        Setting::Clock(ClockSetting::Quiet(_)) => SettingPart::QuietHours,
    }
}
