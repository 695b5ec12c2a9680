//! Pixels, and their PNG with the size that they have on paper.

use std::io::{self, Write};

use super::{Area, DPI, MM_PER_INCH, Paper};

#[derive(Debug, Clone, PartialEq)]
pub struct Canvas {
    paper: Paper,
    /// Row by row; true is black.
    black: Vec<bool>,
}

impl Canvas {
    /// White paper.
    pub fn new(paper: Paper) -> Self {
        let pixels = paper.width as usize * paper.height as usize;
        Self {
            paper,
            black: vec![false; pixels],
        }
    }

    pub fn paper(&self) -> Paper {
        self.paper
    }

    pub fn is_black(&self, x: u32, y: u32) -> bool {
        self.at(x, y).is_some_and(|at| self.black[at])
    }

    /// What lies outside is left out.
    pub fn blacken(&mut self, x: u32, y: u32) {
        if let Some(at) = self.at(x, y) {
            self.black[at] = true;
        }
    }

    fn at(&self, x: u32, y: u32) -> Option<usize> {
        let inside = x < self.paper.width && y < self.paper.height;
        inside.then(|| y as usize * self.paper.width as usize + x as usize)
    }

    pub fn fill(&mut self, area: Area) {
        for y in area.y..area.y + area.paper.height {
            for x in area.x..area.x + area.paper.width {
                self.blacken(x, y);
            }
        }
    }

    /// A line to cut along, just inside.
    pub fn frame(&mut self, area: Area, thick: u32) {
        let Area { x, y, paper } = area;
        let bar = |x, y, width, height| Area {
            x,
            y,
            paper: Paper { width, height },
        };
        self.fill(bar(x, y, paper.width, thick));
        self.fill(bar(x, y + paper.height - thick, paper.width, thick));
        self.fill(bar(x, y, thick, paper.height));
        self.fill(bar(x + paper.width - thick, y, thick, paper.height));
    }

    /// The same pixels at a place of this one.
    pub fn paste(&mut self, other: &Canvas, x: u32, y: u32) {
        for from_y in 0..other.paper.height {
            for from_x in 0..other.paper.width {
                if other.is_black(from_x, from_y) {
                    self.blacken(x + from_x, y + from_y);
                }
            }
        }
    }

    /// As PNG of one bit a pixel.
    ///
    /// # Errors
    /// If the picture has no pixel at all.
    pub fn png(&self) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, self.paper.width, self.paper.height);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::One);
        let per_metre = (DPI / MM_PER_INCH * 1000.0).round() as u32;
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: per_metre,
            yppu: per_metre,
            unit: png::Unit::Meter,
        }));
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&self.packed())?;
        writer.finish()?;
        bytes.flush()?;
        Ok(bytes)
    }

    /// Eight pixels a byte, white as one; a row begins a byte.
    fn packed(&self) -> Vec<u8> {
        let rows = self.black.chunks(self.paper.width as usize);
        let byte = |pixels: &[bool]| {
            let bits = pixels.iter().enumerate();
            bits.fold(0xff_u8, |byte, (at, black)| {
                byte & !(u8::from(*black) << (7 - at))
            })
        };
        rows.flat_map(|row| row.chunks(8).map(byte)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_has_its_size_on_paper() {
        let paper = Paper::of_mm(62.0, 40.0);
        assert_eq!((paper.width, paper.height), (732, 472));
        let mut canvas = Canvas::new(paper);
        canvas.blacken(3, 5);
        canvas.blacken(731, 471);
        let png = canvas.png().expect("it encodes");
        let mut reader = png::Decoder::new(io::Cursor::new(png))
            .read_info()
            .expect("a PNG");
        let pixels = reader.info().pixel_dims.expect("with a size");
        assert_eq!((pixels.xppu, pixels.yppu), (11_811, 11_811));
        assert_eq!(pixels.unit, png::Unit::Meter);
        let mut rows = vec![0; reader.output_buffer_size().expect("it fits")];
        reader.next_frame(&mut rows).expect("whole");
        let bytes_a_row = 732_usize.div_ceil(8);
        let black = |x: usize, y: usize| rows[y * bytes_a_row + x / 8] & (0x80 >> (x % 8)) == 0;
        for (x, y) in [(3, 5), (731, 471)] {
            assert!(black(x, y) && !black(x - 1, y), "{x} {y}");
        }
    }
}
