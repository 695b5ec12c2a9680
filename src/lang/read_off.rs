//! What a scale said: weighings of pots, and readings with something on it.

use super::syntax::{Span, Words};

/// What the scale said: sums of readings less tares.
#[derive(Debug, Clone, Default)]
pub struct Weighing {
    /// Readings in grams, added up: "1240 + 1130".
    pub readings_grams: Vec<f64>,
    pub tares: Vec<Tare>,
    /// "gross" was said, or something was named that the food stood in ("in the pot").
    pub gross: bool,
    /// It is the food alone: no tare comes off.
    pub net: bool,
    /// The container that the food stood in, by name ("in the blue pot"), if its tare is not given here.
    pub container: Option<Words>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Tare {
    /// "2 bags 9 each" counts 2.
    pub count: f64,
    /// `None`: a container known by name must supply it.
    pub each_grams: Option<f64>,
    pub name: Option<Words>,
}

/// What a scale shows with something on it.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleReading {
    pub grams: f64,
    /// What is in the vessel, or what was put on last.
    pub food: Option<Words>,
    pub vessel: Option<Words>,
    /// It was said to be a first reading: worth a word in reply.
    pub told: bool,
}

/// What was on the scale when a batch was weighed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WeighedOf {
    /// Not said.
    #[default]
    Unsaid,
    /// "dal weighed 1840 whole": everything that was cooked, before anyone ate from it.
    Whole,
    /// "dal weighed 1840 left": what is left now.
    Left,
    /// "salsa in the glass jar 455": what is left, or a plate of it; the books tell.
    LeftOrEaten,
}

/// A component and what the scale says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    pub name: Words,
    /// Where it stands, if that was said.
    pub place: Option<Words>,
    pub weighing: Weighing,
}

impl Weighing {
    /// One net reading.
    pub fn net(grams: f64, span: Span) -> Self {
        Self {
            readings_grams: vec![grams],
            net: true,
            span,
            ..Self::default()
        }
    }

    /// As the books have it: somebody looked, and it is right.
    pub fn as_booked(span: Span) -> Self {
        Self {
            net: true,
            span,
            ..Self::default()
        }
    }

    pub fn is_as_booked(&self) -> bool {
        self.readings_grams.is_empty() && self.tares.is_empty() && self.container.is_none()
    }

    /// A reading of zero, which only a count may have.
    pub fn is_nothing(&self) -> bool {
        self.readings_grams == [0.0] && self.tares.is_empty() && self.container.is_none()
    }
}

impl PartialEq for Weighing {
    fn eq(&self, other: &Self) -> bool {
        self.readings_grams == other.readings_grams
            && self.tares == other.tares
            && self.gross == other.gross
            && self.container == other.container
    }
}
