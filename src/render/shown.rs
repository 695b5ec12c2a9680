//! Pictures beside words, or in their place: kept as values, and drawn when they are sent.

use std::io;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::chart::{self, Chart};
use super::data;
use super::label::{self, Labels};
use super::page::Page;
use crate::domain::answer::Answer;
use crate::domain::personal::answer::PersonalAnswer;

/// A picture, ready to be drawn and sent.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    pub picture: Picture,
    pub caption: String,
    pub data: Value,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Picture {
    Chart(Chart),
    Labels(Labels),
}

impl Picture {
    /// As PNG. `link` gives what the code of a batch opens in the chat that it is sent to, of which household.
    ///
    /// # Errors
    /// If the picture has no pixel at all.
    pub fn png(&self, link: impl Fn(&str, Option<i64>) -> String) -> io::Result<Vec<u8>> {
        match self {
            Self::Chart(chart) => chart.draw().png(),
            Self::Labels(labels) => labels.draw(link).png(),
        }
    }

    /// It is looked at where it arrives, and not printed.
    pub fn is_for_the_eye(&self) -> bool {
        matches!(self, Self::Chart(_))
    }

    /// A name for its file.
    pub fn file_name(&self) -> String {
        match self {
            Self::Chart(chart) => chart.file_name(),
            Self::Labels(labels) => labels.file_name(),
        }
    }

    /// Of whose household its codes are: who scans one may sit at several tables.
    pub fn of_household(&mut self, household: i64) {
        if let Self::Labels(labels) = self {
            labels.household = Some(household);
        }
    }
}

/// The pictures that answer, in order.
pub fn shown(answer: &Answer) -> Vec<Shown> {
    let shown = match answer {
        Answer::Label(answer) => {
            let pictures = label::pictures(answer).into_iter();
            let shown = pictures.map(|(labels, views)| Shown {
                caption: label::caption(&labels),
                data: data::label::shown(&labels, &views),
                picture: Picture::Labels(labels),
            });
            return shown.collect();
        }
        Answer::Course(answer) => chart::course(answer).map(|chart| {
            let words = chart::course_page(answer);
            of_chart(chart, words, data::chart::course(answer))
        }),
        Answer::Personal(answer) => match &**answer {
            PersonalAnswer::Week(answer) => chart::week(answer).map(|chart| {
                let words = chart::week_page(answer, &chart);
                of_chart(chart, words, data::chart::week(answer))
            }),
            PersonalAnswer::Sources(answer) => chart::sources(answer).map(|chart| {
                let words = chart::sources_page(answer);
                of_chart(chart, words, data::chart::sources(answer))
            }),
            _ => None,
        },
        _ => None,
    };
    shown.into_iter().collect()
}

/// The words hold all that it shows, for those who cannot see it.
fn of_chart(chart: Chart, mut words: Page, mut data: Value) -> Shown {
    if chart.lacks_letters() {
        words.gap();
        words.say("Letters that its type lacks are left out of the picture.");
    }
    let paper = chart.paper();
    data["width"] = paper.width.into();
    data["height"] = paper.height.into();
    Shown {
        caption: words.text,
        data,
        picture: Picture::Chart(chart),
    }
}

/// Its picture says it in words of its own.
pub fn says_all(answer: &Answer) -> bool {
    match answer {
        Answer::Label(_) => true,
        Answer::Course(answer) => chart::course(answer).is_some(),
        Answer::Personal(answer) => match &**answer {
            PersonalAnswer::Sources(answer) => chart::sources(answer).is_some(),
            _ => false,
        },
        _ => false,
    }
}
