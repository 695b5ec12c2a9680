//! What is on a chart, each with its place.

use crate::render::picture::{Area, Paper, Typeset};

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    pub x: f32,
    pub y: f32,
    pub width: f32,
    pub height: f32,
}

impl Place {
    pub fn pixels(&self) -> Area {
        let whole = |at: f32| at.round().max(0.0) as u32;
        Area {
            x: whole(self.x),
            y: whole(self.y),
            paper: Paper {
                width: whole(self.x + self.width) - whole(self.x),
                height: whole(self.y + self.height) - whole(self.y),
            },
        }
    }

    pub fn overlaps(&self, other: &Place) -> bool {
        let apart =
            |at: f32, length: f32, other: f32, its: f32| at + length <= other || other + its <= at;
        !apart(self.x, self.width, other.x, other.width)
            && !apart(self.y, self.height, other.y, other.height)
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ink {
    Full,
    Faint,
}

/// In the order in which they lie on one another.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A part of a column, or a bar: of which panel and column, and what of the key.
    Part {
        area: Place,
        panel: usize,
        column: usize,
        fill: usize,
    },
    /// Between two bounds.
    Band(Place),
    /// A line across, with dashes where the days are held against it.
    Rule { area: Place, dash: Option<u32> },
    /// What words on something else stand on.
    Plate(Place),
    Text {
        text: String,
        set: Typeset,
        at: (f32, f32),
        ink: Ink,
    },
}

impl Shape {
    /// The place that words take.
    #[cfg(test)]
    pub fn words(&self) -> Option<(&str, Place)> {
        let Self::Text { text, set, at, .. } = self else {
            return None;
        };
        let (x, y) = *at;
        let (width, height) = (set.width(text), set.size);
        Some((
            text,
            Place {
                x,
                y,
                width,
                height,
            },
        ))
    }
}
