//! Colours, for what is looked at in a chat, and their PNG.

use std::io;

use super::{Area, Paper, Typeset};

/// Red, green and blue, in the usual space of screens (sRGB).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub [u8; 3]);

impl Colour {
    /// So much of another one over it, from 0 to 1.
    pub fn under(self, other: Colour, share: f32) -> Self {
        let mixed = |at: usize| {
            let (below, above) = (f32::from(self.0[at]), f32::from(other.0[at]));
            (below + (above - below) * share.clamp(0.0, 1.0)).round() as u8
        };
        Self([mixed(0), mixed(1), mixed(2)])
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct Painting {
    paper: Paper,
    /// Row by row.
    pixels: Vec<[u8; 3]>,
}

impl Painting {
    /// All of it has a colour: what it is laid on does not show through.
    pub fn new(paper: Paper, ground: Colour) -> Self {
        let pixels = paper.width as usize * paper.height as usize;
        Self {
            paper,
            pixels: vec![ground.0; pixels],
        }
    }

    pub fn paper(&self) -> Paper {
        self.paper
    }

    pub fn colour(&self, x: u32, y: u32) -> Option<Colour> {
        self.at(x, y).map(|at| Colour(self.pixels[at]))
    }

    fn at(&self, x: u32, y: u32) -> Option<usize> {
        let inside = x < self.paper.width && y < self.paper.height;
        inside.then(|| y as usize * self.paper.width as usize + x as usize)
    }

    /// What lies outside is left out.
    fn cover(&mut self, x: u32, y: u32, colour: Colour, share: f32) {
        if let Some(at) = self.at(x, y) {
            self.pixels[at] = Colour(self.pixels[at]).under(colour, share).0;
        }
    }

    pub fn fill(&mut self, area: Area, colour: Colour) {
        self.fill_where(area, colour, |_, _| true);
    }

    /// Of an area the pixels that are chosen by their place in it.
    pub fn fill_where(&mut self, area: Area, colour: Colour, such: impl Fn(u32, u32) -> bool) {
        for y in 0..area.paper.height {
            for x in (0..area.paper.width).filter(|x| such(*x, y)) {
                self.cover(area.x + x, area.y + y, colour, 1.0);
            }
        }
    }

    /// Text on one line, whose upper left corner is given.
    pub fn write(&mut self, set: Typeset, text: &str, (x, y): (f32, f32), colour: Colour) {
        set.cover(text, x, y, |x, y, covered| {
            self.cover(x, y, colour, covered)
        });
    }

    /// As PNG of three bytes a pixel.
    ///
    /// # Errors
    /// If the picture has no pixel at all.
    pub fn png(&self) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, self.paper.width, self.paper.height);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(self.pixels.as_flattened())?;
        writer.finish()?;
        Ok(bytes)
    }
}
