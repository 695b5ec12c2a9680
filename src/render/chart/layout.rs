//! Where everything on a chart stands. Pure: the same chart gives the same places, whatever paints them.
//!
//! ```text
//! +------------------------------------+
//! | Title                              |
//! | which days                         |
//! | Energy, kcal       - - target 2200 |
//! |  2100   1980   no      2310        |
//! |  +--+ - +--+ - entry - +--+ - - -  |
//! |  |2 |   |1 |           |2 |        |
//! |  |1 |   |  |           |1 |        |
//! |  Mon    Tue    Wed     Thu         |
//! | Protein, g                 ...     |
//! | [1] lentil dal   3200 kcal, 180 g  |
//! +------------------------------------+
//! ```
//! It is as wide as a phone shows it whole, so its smallest type is about that of the chat around it. Words that do not
//! fit are set smaller, then cut with an ellipsis; what stands beside something else goes below it instead.

use super::palette::REST;
use super::shape::{Ink, Place, Shape};
use super::{Bar, Body, Chart, Key};
use crate::render::picture::{Face, Paper, Typeset};

pub const WIDTH: f32 = 1000.0;
pub const PAD: f32 = 40.0;
pub const INSIDE: f32 = WIDTH - 2.0 * PAD;

const TITLE: f32 = 42.0;
pub const HEADING: f32 = 33.0;
pub const WORDS: f32 = 30.0;
/// Words are set no smaller than this, but cut.
pub const SMALLEST: f32 = 24.0;
/// Between what stands side by side.
pub const GAP: f32 = 14.0;

/// How high the columns of one panel are, where it is alone and where there are several.
const HIGH: f32 = 430.0;
const HIGH_OF_SEVERAL: f32 = 235.0;
/// The number of a part stands on a plate of its own.
pub const PLATE: (f32, f32) = (30.0, 30.0);
const NUMBER: f32 = 24.0;

pub struct Layout {
    pub paper: Paper,
    pub shapes: Vec<Shape>,
}

pub fn lay_out(chart: &Chart) -> Layout {
    let mut sheet = Sheet {
        shapes: Vec::new(),
        y: PAD,
    };
    sheet.line(&chart.title, Face::Bold, TITLE, Ink::Full);
    sheet.line(&chart.below_title, Face::Plain, WORDS, Ink::Faint);
    match &chart.body {
        Body::Days { panels, key } => {
            for (at, panel) in panels.iter().enumerate() {
                let high = match panels.len() {
                    1 => HIGH,
                    _ => HIGH_OF_SEVERAL,
                };
                sheet.panel(at, panel, high, key);
            }
            sheet.y += GAP;
            let alone = key.len() == 1;
            for (at, one) in key.iter().enumerate() {
                sheet.key(at, one, alone);
            }
        }
        Body::Bars(bars) => sheet.bars(bars),
    }
    Layout {
        paper: Paper {
            width: WIDTH as u32,
            height: (sheet.y + PAD).ceil() as u32,
        },
        shapes: sheet.shapes,
    }
}

/// The words as large as asked, or smaller, or cut.
pub fn fitted(text: &str, face: Face, size: f32, room: f32) -> (String, Typeset) {
    let mut set = Typeset { face, size };
    while set.width(text) > room && set.size > SMALLEST {
        set.size -= 1.0;
    }
    (set.cut(text, room), set)
}

/// What a part of a chart is filled with.
pub fn fill_of(at: usize, rest: bool) -> usize {
    if rest { REST } else { at }
}

pub struct Sheet {
    pub shapes: Vec<Shape>,
    /// Where what comes next begins.
    pub y: f32,
}

impl Sheet {
    pub fn write(&mut self, text: String, set: Typeset, at: (f32, f32), ink: Ink) {
        if !text.is_empty() {
            self.shapes.push(Shape::Text { text, set, at, ink });
        }
    }

    /// A line of its own.
    fn line(&mut self, text: &str, face: Face, size: f32, ink: Ink) {
        if text.is_empty() {
            return;
        }
        let (text, set) = fitted(text, face, size, INSIDE);
        self.write(text, set, (PAD, self.y), ink);
        self.y += set.line_height();
    }

    /// What is on the left, and what stands at the right edge, or below where both do not fit on one line.
    pub fn two(
        &mut self,
        x: f32,
        left: (&str, Face, f32),
        right: (&str, Face, f32),
        lead: f32,
    ) -> Place {
        let room = WIDTH - PAD - x;
        let (words, set) = fitted(left.0, left.1, left.2, room);
        let (more, its) = fitted(right.0, right.1, right.2, room - lead);
        let wide = lead + its.width(&more);
        let beside = set.width(&words) + 2.0 * GAP + wide <= room;
        self.write(words, set, (x, self.y), Ink::Full);
        if !beside && !more.is_empty() {
            self.y += set.line_height();
        }
        let at = (WIDTH - PAD - wide, self.y + (set.size - its.size).max(0.0));
        self.write(more, its, (at.0 + lead, at.1), Ink::Faint);
        let next = set.line_height().max(its.line_height());
        let place = Place {
            x: at.0,
            y: at.1,
            width: lead,
            height: its.size,
        };
        self.y += next;
        place
    }

    pub fn rule(&mut self, x: f32, width: f32, y: f32, dash: Option<u32>) {
        let height = if dash.is_some() { 3.0 } else { 2.0 };
        let y = y - height / 2.0;
        let area = Place {
            x,
            y,
            width,
            height,
        };
        self.shapes.push(Shape::Rule { area, dash });
    }

    pub fn number(&mut self, number: usize, plate: Place) {
        let (face, size) = (Face::Bold, NUMBER);
        let set = Typeset { face, size };
        let text = number.to_string();
        let x = plate.x + (plate.width - set.width(&text)) / 2.0;
        let at = (x, plate.y + (plate.height - size) / 2.0 - size * 0.06);
        self.shapes.push(Shape::Plate(plate));
        self.write(text, set, at, Ink::Full);
    }

    /// A row of the key: its part, what that is, and what it comes to.
    fn key(&mut self, at: usize, key: &Key, alone: bool) {
        let swatch = Place {
            x: PAD,
            y: self.y + 2.0,
            width: PLATE.0 + 20.0,
            height: PLATE.1 + 8.0,
        };
        self.shapes.push(Shape::Part {
            area: swatch,
            panel: usize::MAX,
            column: at,
            fill: fill_of(at, key.rest),
        });
        if !alone {
            let plate = Place {
                x: swatch.x + 10.0,
                y: swatch.y + 4.0,
                width: PLATE.0,
                height: PLATE.1,
            };
            self.number(at + 1, plate);
        }
        let x = swatch.x + swatch.width + GAP;
        let foot = swatch.y + swatch.height;
        let figures = (key.figures.as_str(), Face::Plain, WORDS);
        self.y += 3.0;
        self.two(x, (&key.name, Face::Plain, WORDS), figures, 0.0);
        self.y = self.y.max(foot) + 6.0;
    }

    /// Each bar below its name, what it comes to beside it.
    fn bars(&mut self, bars: &[Bar]) {
        let set = |text: &str| fitted(text, Face::Bold, WORDS, INSIDE / 2.0);
        let widths = bars.iter().map(|bar| {
            let (text, set) = set(&bar.figures);
            set.width(&text)
        });
        let room = INSIDE - widths.fold(0.0, f32::max) - GAP;
        let most = bars.iter().filter_map(|bar| bar.amount).fold(0.0, f64::max);
        for (at, bar) in bars.iter().enumerate() {
            self.y += GAP;
            self.line(&bar.name, Face::Plain, WORDS, Ink::Full);
            let share = bar
                .amount
                .filter(|_| most > 0.0)
                .map_or(0.0, |it| it / most);
            let (text, set) = set(&bar.figures);
            let area = Place {
                x: PAD,
                y: self.y + 2.0,
                width: room * share as f32,
                height: set.size + 6.0,
            };
            let beside = if area.width > 0.0 { GAP } else { 0.0 };
            if area.width > 0.0 {
                let fill = fill_of(0, bar.rest);
                let (panel, column) = (0, at);
                self.shapes.push(Shape::Part {
                    area,
                    panel,
                    column,
                    fill,
                });
            }
            self.write(text, set, (PAD + area.width + beside, self.y), Ink::Full);
            self.y += set.line_height() + 4.0;
        }
    }
}
