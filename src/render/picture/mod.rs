//! Pictures as values: canvases of pixels, text, QR codes, and the PNG of it all. Pure.
//!
//! What is printed has one bit a pixel: a label printer knows no grey, and a laser would dither it. Sizes are those of
//! print, at 300 dots an inch. What is looked at in a chat has colours (`painting`).

mod canvas;
mod painting;
mod qr;
mod text;

use serde::{Deserialize, Serialize};

pub use canvas::Canvas;
pub use painting::{Colour, Painting};
pub use qr::Code;
pub use text::{Face, Typeset};

/// Dots an inch: what label printers and office printers print.
pub const DPI: f64 = 300.0;

const MM_PER_INCH: f64 = 25.4;

/// A length on paper in whole dots.
pub fn dots(mm: f64) -> u32 {
    // A length of paper is small and more than nothing.
    (mm / MM_PER_INCH * DPI).round().max(1.0) as u32
}

/// The length on paper of so many dots.
pub fn millimetres(dots: u32) -> f64 {
    f64::from(dots) / DPI * MM_PER_INCH
}

/// A piece of paper, in dots.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Paper {
    pub width: u32,
    pub height: u32,
}

impl Paper {
    pub fn of_mm(width: f64, height: f64) -> Self {
        Self {
            width: dots(width),
            height: dots(height),
        }
    }
}

/// A part of a canvas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Area {
    pub x: u32,
    pub y: u32,
    pub paper: Paper,
}
