//! What the household teaches: the weight of its own measures, its containers, its settings.

use super::super::answer::Answer;
use super::super::change::{Change, Detail, SettingChange};
use super::super::draft::Draft;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Done, Step, Stop, find, weigh};
use crate::lang::syntax::{Command, Setting, Words};

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

pub fn container(draft: &mut Draft, name: &Words, tare_grams: f64) -> Step {
    let tare = Mass::weighed_out(tare_grams).ok_or_else(|| {
        let text = format!("{tare_grams} g");
        Stop::Problem(ProblemKind::NotAMass { text }.at(name.span.clone()))
    })?;
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

pub fn holds(draft: &mut Draft, container: &Words, batch: &Words) -> Step {
    let id = find::batch_to_change(draft, batch)?;
    let vessel = draft.container(&container.text);
    draft.fact(Detail::Content {
        container: vessel,
        batch: id,
    });
    Ok(Done::saying(Answer::ContainerHolds {
        container: container.text.clone(),
        batch: draft.kitchen.batch(id).name.clone(),
    }))
}

pub fn setting(draft: &mut Draft, setting: &Setting) -> Step {
    let change = match setting {
        Setting::Answers(style) => SettingChange::Answers(*style),
        Setting::Measures(system) => SettingChange::Measures(*system),
        Setting::Timezone(words) => {
            let wanted = words.text.trim().replace(' ', "_");
            let zone = chrono_tz::TZ_VARIANTS
                .iter()
                .find(|zone| zone.name().eq_ignore_ascii_case(&wanted));
            match zone {
                Some(zone) => SettingChange::Zone(*zone),
                None => {
                    let kind = ProblemKind::UnknownName {
                        words: words.text.clone(),
                        near: vec!["Europe/Dublin".into(), "America/New_York".into()],
                    };
                    return Err(Stop::Problem(kind.at(words.span.clone())));
                }
            }
        }
    };
    draft.fact(Detail::Setting(change));
    Ok(Done::saying(Answer::Settings(draft.kitchen.settings())))
}
