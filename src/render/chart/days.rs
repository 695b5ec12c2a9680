//! Panels of days: columns of parts, what they come to, and what they are held against.

use super::layout::{
    GAP, HEADING, INSIDE, PAD, PLATE, SMALLEST, Sheet, WIDTH, WORDS, fill_of, fitted,
};
use super::shape::{Ink, Place, Shape};
use super::{Aim, Column, Key, Panel};
use crate::render::picture::{Face, Typeset};

/// No column has more room than this: one day is no wall.
const PITCH_MAX: f32 = 190.0;
/// Columns with less room than this tell nothing of their own.
const PITCH_TOLD: f32 = 60.0;
const DASH: u32 = 10;

impl Sheet {
    pub fn panel(&mut self, which: usize, panel: &Panel, high: f32, key: &[Key]) {
        self.y += 1.5 * GAP;
        let sample = 5.0 * DASH as f32;
        let aim = panel.aim.as_ref();
        let (words, lead) = aim.map_or(("", 0.0), |aim| (aim.words.as_str(), sample + GAP));
        let heading = (panel.heading.as_str(), Face::Bold, HEADING);
        if !panel.heading.is_empty() {
            let place = self.two(PAD, heading, (words, Face::Plain, WORDS), lead);
            if aim.is_some() {
                let middle = place.y + place.height * 0.6;
                self.rule(place.x, sample, middle, Some(DASH));
            }
        }
        let plot = Plot::of(panel, self.y, high);
        self.measures(&plot, panel);
        for (at, column) in panel.columns.iter().enumerate() {
            self.column(&plot, (which, at), column, key);
        }
        self.rule(plot.x, plot.width, plot.base, None);
        if let Some(aim) = aim {
            for bound in aim.bounds() {
                self.rule(plot.x, plot.width, plot.y_of(bound), Some(DASH));
            }
        }
        self.numbers(which, key.len());
        self.told(&plot, panel);
        self.labels(&plot, panel);
    }

    /// Lines to measure by, their amounts on the left; and what lies between two bounds.
    fn measures(&mut self, plot: &Plot, panel: &Panel) {
        if let Some(Aim {
            least: Some(least),
            most: Some(most),
            ..
        }) = panel.aim
        {
            let (top, foot) = (plot.y_of(most), plot.y_of(least));
            let (x, width) = (plot.x, plot.width);
            let height = foot - top;
            self.shapes.push(Shape::Band(Place {
                x,
                y: top,
                width,
                height,
            }));
        }
        for (amount, words) in &panel.ticks {
            let y = plot.y_of(*amount);
            self.rule(plot.x, plot.width, y, None);
            let set = plot.tick;
            let at = (plot.x - GAP - set.width(words), y - set.size * 0.62);
            self.write(words.clone(), set, at, Ink::Faint);
        }
    }

    fn column(&mut self, plot: &Plot, (panel, at): (usize, usize), column: &Column, key: &[Key]) {
        let (x, width) = plot.column(at);
        let mut below = 0.0;
        for (part, amount) in column
            .parts
            .iter()
            .enumerate()
            .filter(|(_, amount)| **amount > 0.0)
        {
            let (foot, top) = (plot.y_of(below), plot.y_of(below + amount));
            below += amount;
            let fill = fill_of(part, key.get(part).is_some_and(|key| key.rest));
            self.shapes.push(Shape::Part {
                area: Place {
                    x,
                    y: top,
                    width,
                    height: foot - top,
                },
                panel,
                column: at,
                fill,
            });
        }
    }

    /// What of the key a part is, on parts with room for it: in each column, or where columns are narrow, once.
    fn numbers(&mut self, panel: usize, keys: usize) {
        if keys < 2 {
            return;
        }
        let parts = self.shapes.iter().filter_map(|shape| match shape {
            Shape::Part {
                area,
                panel: of,
                fill,
                ..
            } if *of == panel => Some((*area, *fill)),
            _ => None,
        });
        let mut parts: Vec<(Place, usize)> = parts.collect();
        let narrow = parts.iter().any(|(area, _)| area.width < PLATE.0 + 4.0);
        if narrow {
            parts.sort_by(|(one, _), (other, _)| other.height.total_cmp(&one.height));
        }
        let mut told: Vec<(Place, usize)> = Vec::new();
        for (area, fill) in parts {
            let plate = Place {
                x: (area.x + (area.width - PLATE.0) / 2.0).clamp(PAD, WIDTH - PAD - PLATE.0),
                y: area.y + (area.height - PLATE.1) / 2.0,
                width: PLATE.0,
                height: PLATE.1,
            };
            let again = narrow && told.iter().any(|(_, known)| *known == fill);
            let hidden = told.iter().any(|(known, _)| known.overlaps(&plate));
            if area.height < PLATE.1 + 4.0 || again || hidden {
                continue;
            }
            told.push((plate, fill));
        }
        for (plate, fill) in told {
            // What is left over comes last in the key, and may not be the last of all colours.
            self.number((fill + 1).min(keys), plate);
        }
    }

    /// What each column comes to, above it.
    fn told(&mut self, plot: &Plot, panel: &Panel) {
        for (at, column) in panel.columns.iter().enumerate() {
            let sum: f64 = column.parts.iter().sum();
            let (face, ink) = match sum > 0.0 {
                true => (Face::Bold, Ink::Full),
                false => (Face::Plain, Ink::Faint),
            };
            let (text, set) = fitted(&column.told, face, WORDS, plot.pitch - 6.0);
            if text.is_empty() {
                continue;
            }
            let width = set.width(&text);
            let (x, wide) = plot.column(at);
            let x = x + (wide - width) / 2.0;
            let y = plot.y_of(sum) - set.line_height() - 2.0;
            self.shapes.push(Shape::Plate(Place {
                x: x - 2.0,
                y: y + 2.0,
                width: width + 4.0,
                height: set.size,
            }));
            self.write(text, set, (x, y), ink);
        }
    }

    /// Which day it is, below each column, or below those that have one where they are narrow.
    fn labels(&mut self, plot: &Plot, panel: &Panel) {
        let y = plot.base + 6.0;
        let room = match plot.pitch < PITCH_TOLD {
            true => plot.width,
            false => plot.pitch - 6.0,
        };
        let mut free = plot.x;
        for (at, column) in panel.columns.iter().enumerate() {
            let (text, set) = fitted(&column.label, Face::Plain, WORDS, room);
            let width = set.width(&text);
            let (x, wide) = plot.column(at);
            let x = x + (wide - width) / 2.0;
            let x = x.min(plot.x + plot.width - width).max(plot.x);
            if text.is_empty() || x < free {
                continue;
            }
            free = x + width + GAP;
            self.write(text, set, (x, y), Ink::Faint);
        }
        let (face, size) = (Face::Plain, WORDS);
        self.y = y + Typeset { face, size }.line_height();
    }
}

impl Aim {
    fn bounds(&self) -> Vec<f64> {
        let mut bounds: Vec<f64> = self.least.into_iter().chain(self.most).collect();
        bounds.dedup();
        bounds
    }
}

/// Where the columns of a panel stand.
struct Plot {
    x: f32,
    width: f32,
    pitch: f32,
    base: f32,
    /// Pixels of one.
    scale: f64,
    tick: Typeset,
}

impl Plot {
    fn of(panel: &Panel, y: f32, high: f32) -> Self {
        let tick = Typeset {
            face: Face::Plain,
            size: SMALLEST + 2.0,
        };
        let gutter = panel.ticks.iter().map(|(_, words)| tick.width(words) + GAP);
        let gutter = gutter.fold(0.0, f32::max);
        let width = INSIDE - gutter;
        let count = panel.columns.len().max(1) as f32;
        let sums = panel.columns.iter().map(|column| column.parts.iter().sum());
        let bounds = panel.aim.iter().flat_map(Aim::bounds);
        let ticks = panel.ticks.iter().map(|(amount, _)| *amount);
        let most = sums.chain(bounds).chain(ticks).fold(0.0, f64::max);
        let (face, size) = (Face::Bold, WORDS);
        // What is told above the highest column, or beside the highest line.
        let told = panel.columns.iter().any(|column| !column.told.is_empty());
        let head = match told {
            true => Typeset { face, size }.line_height() + 4.0,
            false => tick.size,
        };
        Self {
            x: PAD + gutter,
            width,
            pitch: (width / count).min(PITCH_MAX),
            base: y + head + high,
            scale: if most > 0.0 {
                f64::from(high) / most
            } else {
                0.0
            },
            tick,
        }
    }

    fn y_of(&self, amount: f64) -> f32 {
        self.base - (amount * self.scale) as f32
    }

    /// From where, and how wide.
    fn column(&self, at: usize) -> (f32, f32) {
        let share = if self.pitch < PITCH_TOLD { 0.88 } else { 0.64 };
        let width = self.pitch * share;
        (
            self.x + self.pitch * at as f32 + (self.pitch - width) / 2.0,
            width,
        )
    }
}
