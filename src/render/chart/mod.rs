//! Charts that are looked at in a chat, on a phone: a week against its targets, from which dishes something came, and
//! what stood here.
//!
//! As with labels, the words and amounts are settled when the chart is asked for and kept with the answer; it is laid out
//! and painted when it is sent, off the path of other messages. `words` and `course` make a chart of an answer, with the same
//! numbers as text; `layout` (and `days`) gives everything on it a place, as values (`shape`); `palette` has the colours.

mod course;
mod days;
mod layout;
mod palette;
mod shape;
#[cfg(test)]
mod tests;
mod words;

use serde::{Deserialize, Serialize};

use super::picture::{Area, Face, Painting, Paper};
use shape::{Ink, Shape};

pub use course::{course, course_page};
pub use words::{sources, sources_page, week, week_page};

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chart {
    pub title: String,
    pub below_title: String,
    pub body: Body,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Body {
    /// Columns of parts, day by day: one panel below the other, with one key for all.
    Days { panels: Vec<Panel>, key: Vec<Key> },
    /// Bars below one another, each with its name.
    Bars(Vec<Bar>),
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Panel {
    pub heading: String,
    pub aim: Option<Aim>,
    /// Amounts to measure by, where not every column tells its own.
    pub ticks: Vec<(f64, String)>,
    pub columns: Vec<Column>,
}

/// What the days are held against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Aim {
    pub words: String,
    pub least: Option<f64>,
    pub most: Option<f64>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Column {
    /// Which day it is; empty where its neighbours tell.
    pub label: String,
    /// What it comes to in words; empty where that is not told.
    pub told: String,
    /// In the order of the key, the lowest first.
    pub parts: Vec<f64>,
}

/// What a part is, and what it comes to over all days.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Key {
    pub name: String,
    pub figures: String,
    /// Several that are told as one.
    pub rest: bool,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bar {
    pub name: String,
    pub figures: String,
    pub amount: Option<f64>,
    pub rest: bool,
}

impl Chart {
    /// A name for its file.
    pub fn file_name(&self) -> String {
        "chart.png".to_owned()
    }

    pub fn paper(&self) -> Paper {
        layout::lay_out(self).paper
    }

    pub fn draw(&self) -> Painting {
        let layout = layout::lay_out(self);
        let mut painting = Painting::new(layout.paper, palette::RIM);
        let Paper { width, height } = layout.paper;
        painting.fill(
            Area {
                x: RIM,
                y: RIM,
                paper: Paper {
                    width: width - 2 * RIM,
                    height: height - 2 * RIM,
                },
            },
            palette::GROUND,
        );
        for shape in &layout.shapes {
            paint(&mut painting, shape);
        }
        painting
    }

    /// Letters that its type lacks are missing from it.
    pub fn lacks_letters(&self) -> bool {
        let lacks = |name: &str| Face::Plain.lacks_letters(name);
        lacks(&self.title)
            || match &self.body {
                Body::Days { key, .. } => key.iter().any(|key| lacks(&key.name)),
                Body::Bars(bars) => bars.iter().any(|bar| lacks(&bar.name)),
            }
    }
}

/// How thick the rim of the card is.
const RIM: u32 = 3;

fn paint(painting: &mut Painting, shape: &Shape) {
    match shape {
        Shape::Part { area, fill, .. } => palette::paint(painting, area.pixels(), *fill),
        Shape::Band(area) => painting.fill(area.pixels(), palette::BAND),
        Shape::Rule { area, dash } => {
            let colour = match dash {
                Some(_) => palette::INK,
                None => palette::GRID,
            };
            let drawn = |x: u32| dash.is_none_or(|dash| x % (2 * dash) < dash * 5 / 4);
            painting.fill_where(area.pixels(), colour, |x, _| drawn(x));
        }
        Shape::Plate(area) => painting.fill(area.pixels(), palette::GROUND),
        Shape::Text { text, set, at, ink } => {
            let colour = match ink {
                Ink::Full => palette::INK,
                Ink::Faint => palette::FAINT_INK,
            };
            painting.write(*set, text, *at, colour);
        }
    }
}
