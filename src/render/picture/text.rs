//! Text as pixels. The faces are DejaVu Sans Condensed, which holds Latin, Greek and Cyrillic; their licence
//! stands beside them. What a face has no sign for is left out: a small picture says nothing on paper.

use std::sync::OnceLock;

use ab_glyph::{Font, FontRef, GlyphId, PxScale, point};

use super::Canvas;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    Plain,
    Bold,
}

/// Lines stand so far apart, in sizes of the type.
const LINE: f32 = 1.18;
/// From the top of a line to the foot of its letters.
const FOOT: f32 = 0.94;

impl Face {
    fn font(self) -> &'static FontRef<'static> {
        static PLAIN: OnceLock<FontRef<'static>> = OnceLock::new();
        static BOLD: OnceLock<FontRef<'static>> = OnceLock::new();
        let whole = "the font in the program is whole";
        match self {
            Self::Plain => PLAIN.get_or_init(|| {
                let bytes = include_bytes!("font/DejaVuSansCondensed.ttf");
                FontRef::try_from_slice(bytes).expect(whole)
            }),
            Self::Bold => BOLD.get_or_init(|| {
                let bytes = include_bytes!("font/DejaVuSansCondensed-Bold.ttf");
                FontRef::try_from_slice(bytes).expect(whole)
            }),
        }
    }

    fn glyph(self, character: char) -> Option<GlyphId> {
        let id = self.font().glyph_id(character);
        (id.0 != 0).then_some(id)
    }

    /// Whether a letter of it cannot be written. Of other signs nobody misses one.
    pub fn lacks_letters(self, text: &str) -> bool {
        let mut letters = text.chars().filter(|sign| sign.is_alphabetic());
        letters.any(|sign| self.glyph(sign).is_none())
    }

    /// Whether any of it can be written.
    pub fn writes(self, text: &str) -> bool {
        let mut signs = text.chars().filter(|sign| !sign.is_whitespace());
        signs.any(|sign| self.glyph(sign).is_some())
    }
}

/// Text of one face and size, in dots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typeset {
    pub face: Face,
    /// The size of the type: from the top of one line to that of the next, set solid.
    pub size: f32,
}

impl Typeset {
    pub fn line_height(self) -> f32 {
        (self.size * LINE).ceil()
    }

    /// Dots of a text on one line.
    pub fn width(self, text: &str) -> f32 {
        let font = self.face.font();
        let each = |sign| Some(font.h_advance_unscaled(self.face.glyph(sign)?));
        text.chars().filter_map(each).sum::<f32>() * self.size / units(font)
    }

    /// The first signs that fit on one line, with an ellipsis where some are missing.
    pub fn cut(self, text: &str, room: f32) -> String {
        let mut kept = text.to_owned();
        let mut cut = text.to_owned();
        while self.width(&cut) > room && kept.pop().is_some() {
            cut = format!("{}…", kept.trim_end());
        }
        cut
    }

    /// Write on one line, whose upper left corner is given.
    pub fn write(self, canvas: &mut Canvas, text: &str, x: f32, y: f32) {
        self.cover(text, x, y, |x, y, covered| {
            if covered >= 0.5 {
                canvas.blacken(x, y);
            }
        });
    }

    /// How much of each dot the text covers, of one line whose upper left corner is given.
    pub fn cover(self, text: &str, x: f32, y: f32, mut dot: impl FnMut(u32, u32, f32)) {
        let font = self.face.font();
        // The library counts a size from the deepest to the highest sign.
        let scale = PxScale::from(self.size * font.height_unscaled() / units(font));
        let mut across = x;
        for id in text.chars().filter_map(|sign| self.face.glyph(sign)) {
            // On whole dots, the same letter always looks the same.
            let glyph = id.with_scale_and_position(
                scale,
                point(across.round(), (y + self.size * FOOT).round()),
            );
            if let Some(outline) = font.outline_glyph(glyph) {
                let corner = outline.px_bounds().min;
                outline.draw(|dx, dy, covered| {
                    let at =
                        |corner: f32, step: u32| u32::try_from(corner as i64 + i64::from(step));
                    if let (Ok(x), Ok(y)) = (at(corner.x, dx), at(corner.y, dy)) {
                        dot(x, y, covered);
                    }
                });
            }
            across += font.h_advance_unscaled(id) * self.size / units(font);
        }
    }
}

fn units(font: &FontRef<'_>) -> f32 {
    font.units_per_em()
        .expect("the font in the program tells its units")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::picture::Paper;

    #[test]
    fn letters_of_three_scripts_are_written_and_small_pictures_are_not() {
        for text in ["Crème brûlée", "Größe 12", "Φασολάδα", "борщ"] {
            assert!(
                Face::Bold.writes(text) && Face::Plain.writes(text),
                "{text}"
            );
        }
        assert!(!Face::Bold.writes("🍲 🥕"));
        let set = Typeset {
            face: Face::Bold,
            size: 40.0,
        };
        assert_eq!(set.width("🍲soup"), set.width("soup"));
    }

    #[test]
    fn a_text_is_as_wide_as_it_is_said_to_be() {
        let set = Typeset {
            face: Face::Plain,
            size: 30.0,
        };
        let mut canvas = Canvas::new(Paper {
            width: 400,
            height: 60,
        });
        set.write(&mut canvas, "HHHHHHHH", 0.0, 10.0);
        let mut columns = (0..400).filter(|x| (0..60).any(|y| canvas.is_black(*x, y)));
        let last = columns.next_back().expect("something is written");
        let width = set.width("HHHHHHHH");
        assert!((width - last as f32).abs() < 4.0, "{width} and {last}");
        let inked: Vec<u32> = (0..60)
            .filter(|y| (0..400).any(|x| canvas.is_black(x, *y)))
            .collect();
        let (top, foot) = (inked[0], inked[inked.len() - 1]);
        assert!(
            top >= 10 && foot as f32 <= 10.0 + set.line_height(),
            "{top} to {foot}"
        );
    }
}
