//! A QR code (ISO/IEC 18004) with the quiet zone that readers need around it.

use qrcode::{Color, EcLevel, QrCode};

use super::{Area, Canvas, Paper};

/// Modules of white around the code (ISO/IEC 18004).
const QUIET_MODULES: u32 = 4;

/// A module of fewer dots than this smears: a quarter of a millimetre.
const MODULE_DOTS_MIN: u32 = 3;

pub struct Code {
    modules: u32,
    dark: Vec<bool>,
}

impl Code {
    /// `None`: the text is too long for a code.
    pub fn of(text: &str) -> Option<Self> {
        // About a seventh of it may be scratched or frosted over.
        let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
        let modules = u32::try_from(code.width()).ok()?;
        let colors = code.to_colors();
        Some(Self {
            modules,
            dark: colors
                .into_iter()
                .map(|color| color == Color::Dark)
                .collect(),
        })
    }

    /// The side of it that fits into so many dots, quiet zone included; `None` if it would not be read.
    pub fn side_within(&self, dots: u32) -> Option<u32> {
        let whole = self.modules + 2 * QUIET_MODULES;
        let module = dots / whole;
        (module >= MODULE_DOTS_MIN).then_some(module * whole)
    }

    /// Draw it with a side that [`Code::side_within`] gave.
    pub fn draw(&self, canvas: &mut Canvas, x: u32, y: u32, side: u32) {
        let module = side / (self.modules + 2 * QUIET_MODULES);
        let paper = Paper {
            width: module,
            height: module,
        };
        let places =
            (0..self.modules).flat_map(|row| (0..self.modules).map(move |column| (column, row)));
        for ((column, row), _) in places.zip(&self.dark).filter(|(_, dark)| **dark) {
            canvas.fill(Area {
                x: x + (column + QUIET_MODULES) * module,
                y: y + (row + QUIET_MODULES) * module,
                paper,
            });
        }
    }
}
