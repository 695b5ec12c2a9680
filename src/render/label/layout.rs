//! One label: its words made to fit the paper, as large as they can be.
//!
//! ```text
//! +--------------------------------+
//! | Name, in bold                  |
//! | Use by 14 Jan 2027      +----+ |
//! | 700 g                   | QR | |
//! | Frozen 14 Oct 2026      |    | |
//! | 154 kcal, protein 7 g   +----+ |
//! | Contains milk             D1   |
//! +--------------------------------+
//! ```
//! What has to be read across a kitchen shrinks last: sizes fall together, small print not below what the eye
//! needs. Where even that does not fit, what is least needed goes, and never an allergen.

use super::Label;
use crate::render::picture::{Area, Canvas, Code, Face, Paper, Typeset, dots};

/// The size of small print: letters without ascenders are then 1.2 mm high, as the European Union's labels
/// have them (Regulation (EU) 1169/2011, article 13, from memory).
const SMALL_MM: f64 = 2.2;
/// The same on packages with little room: 0.9 mm.
const SMALLEST_MM: f64 = 1.65;
/// White around the words: printers do not reach the edge.
const MARGIN_MM: f64 = 1.5;
/// Of the label's height, the most that the code takes.
const CODE_HEIGHT: f64 = 0.46;
/// Of its width.
const CODE_WIDTH: f64 = 0.42;
/// The largest type, in shares of the label's height.
const LARGEST: f32 = 0.22;
/// Sizes are tried in such steps, in dots.
const STEP: f32 = 1.0;

/// Words that belong together, with their size beside the others'.
struct Block<'a> {
    text: &'a str,
    face: Face,
    size: f32,
}

/// One line, where it stands.
struct Line {
    text: String,
    set: Typeset,
    x: f32,
    y: f32,
}

/// What is left out, step by step, until the rest fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum LeftOut {
    Nothing,
    Made,
    Energy,
    /// The code that is scanned; the one that is typed stays.
    Scanned,
    /// All but the name, the dates and what it carries.
    Net,
}

const STEPS: [LeftOut; 5] = [
    LeftOut::Nothing,
    LeftOut::Made,
    LeftOut::Energy,
    LeftOut::Scanned,
    LeftOut::Net,
];

pub fn draw(label: &Label, paper: Paper, link: &str) -> Canvas {
    let mut canvas = Canvas::new(paper);
    let code = Code::of(link);
    for left_out in STEPS {
        for small in [SMALL_MM, SMALLEST_MM] {
            let corner = Corner::of(
                label,
                paper,
                code.as_ref().filter(|_| left_out < LeftOut::Scanned),
                small,
            );
            if let Some(lines) = fitted(label, paper, &corner, left_out, small) {
                corner.draw(&mut canvas, code.as_ref());
                lines.iter().for_each(|line| line.draw(&mut canvas));
                return canvas;
            }
        }
    }
    // Paper too small for the words: the code leads to all of them.
    let corner = Corner::of(label, paper, None, SMALLEST_MM);
    corner.draw(&mut canvas, None);
    let set = Typeset {
        face: Face::Bold,
        size: dots(SMALLEST_MM) as f32,
    };
    let see = format!("Allergens: see {}", label.code);
    let texts = [
        label.name.as_str(),
        label.use_by.as_deref().unwrap_or_default(),
        &see,
    ];
    for (at, text) in texts.iter().enumerate() {
        let y = margin() + at as f32 * set.line_height();
        let text = set.cut(text, paper.width as f32 - 2.0 * margin());
        set.write(&mut canvas, &text, margin(), y);
    }
    canvas
}

impl Line {
    fn draw(&self, canvas: &mut Canvas) {
        self.set.write(canvas, &self.text, self.x, self.y);
    }
}

fn margin() -> f32 {
    dots(MARGIN_MM) as f32
}

/// The lower right corner: the code to scan, with the one to type below it.
struct Corner<'a> {
    typed: &'a str,
    set: Typeset,
    /// Of the code to scan; nothing where there is no room for it.
    side: u32,
    area: Area,
}

impl<'a> Corner<'a> {
    fn of(label: &'a Label, paper: Paper, code: Option<&Code>, small_mm: f64) -> Self {
        let (width, height) = (f64::from(paper.width), f64::from(paper.height));
        let room = (width * CODE_WIDTH).min(height * CODE_HEIGHT) as u32;
        let side = code.and_then(|code| code.side_within(room)).unwrap_or(0);
        let size = (paper.height as f32 * 0.1).max(dots(small_mm) as f32 * 1.2);
        let set = Typeset {
            face: Face::Bold,
            size: size.min(dots(8.0) as f32),
        };
        let wide = (set.width(&label.code).ceil() as u32).max(side);
        let high = side + set.line_height() as u32;
        let inside = |whole: u32, part: u32| whole.saturating_sub(part + dots(MARGIN_MM));
        Self {
            typed: &label.code,
            set,
            side,
            area: Area {
                x: inside(paper.width, wide),
                y: inside(paper.height, high),
                paper: Paper {
                    width: wide,
                    height: high,
                },
            },
        }
    }

    fn draw(&self, canvas: &mut Canvas, code: Option<&Code>) {
        let Area { x, y, paper } = self.area;
        if let Some(code) = code.filter(|_| self.side > 0) {
            code.draw(canvas, x + (paper.width - self.side) / 2, y, self.side);
        }
        let indent = (paper.width as f32 - self.set.width(self.typed)) / 2.0;
        self.set.write(
            canvas,
            self.typed,
            x as f32 + indent,
            (y + self.side) as f32,
        );
    }
}

fn blocks(label: &Label, left_out: LeftOut) -> Vec<Block<'_>> {
    let block = |text, face, size| Block { text, face, size };
    // A name in signs that no face has would leave the bag without one.
    let name = match Face::Bold.writes(&label.name) {
        true => &label.name,
        false => &label.code,
    };
    let mut blocks = vec![block(name, Face::Bold, 1.4)];
    blocks.extend(
        label
            .use_by
            .as_deref()
            .map(|text| block(text, Face::Bold, 1.15)),
    );
    if left_out < LeftOut::Net {
        blocks.push(block(&label.net, Face::Bold, 1.15));
    }
    let date = match &label.with_made {
        Some(both) if left_out < LeftOut::Made => both,
        _ => &label.date,
    };
    blocks.push(block(date, Face::Plain, 0.75));
    if left_out < LeftOut::Energy {
        blocks.push(block(&label.energy, Face::Plain, 0.75));
    }
    blocks.extend(
        label
            .avoided
            .as_deref()
            .map(|text| block(text, Face::Bold, 0.75)),
    );
    blocks.push(block(&label.allergens, Face::Bold, 0.75));
    blocks.extend(
        label
            .not_known
            .as_deref()
            .map(|text| block(text, Face::Plain, 0.75)),
    );
    blocks
}

/// The lines at the largest size at which all of them fit.
fn fitted(
    label: &Label,
    paper: Paper,
    corner: &Corner<'_>,
    left_out: LeftOut,
    small_mm: f64,
) -> Option<Vec<Line>> {
    let smallest = dots(small_mm) as f32;
    let blocks = blocks(label, left_out);
    let mut size = (paper.height as f32 * LARGEST).max(smallest);
    while size >= smallest {
        if let Some(lines) = flow(&blocks, paper, corner, size, smallest) {
            return Some(lines);
        }
        size -= STEP;
    }
    None
}

/// One block below the other, each line as wide as the corner leaves it; `None` if it does not fit.
fn flow(
    blocks: &[Block<'_>],
    paper: Paper,
    corner: &Corner<'_>,
    size: f32,
    smallest: f32,
) -> Option<Vec<Line>> {
    let (left, bottom) = (margin(), paper.height as f32 - margin());
    let wide = paper.width as f32 - 2.0 * left;
    let narrow = corner.area.x as f32 - 2.0 * left;
    let mut lines = Vec::new();
    let mut y = margin();
    for block in blocks {
        let set = Typeset {
            face: block.face,
            size: (size * block.size).max(smallest),
        };
        let mut words = block
            .text
            .split(' ')
            .filter(|word| !word.is_empty())
            .peekable();
        while words.peek().is_some() {
            let below = y + set.line_height();
            let room = match below <= corner.area.y as f32 {
                true => wide,
                false => narrow,
            };
            let mut text = words.next()?.to_owned();
            // No word is broken; dates and weights are words.
            if below > bottom || set.width(&text) > room {
                return None;
            }
            while let Some(word) = words.peek() {
                let longer = format!("{text} {word}");
                if set.width(&longer) > room {
                    break;
                }
                text = longer;
                words.next();
            }
            lines.push(Line {
                text,
                set,
                x: left,
                y,
            });
            y = below;
        }
    }
    Some(lines)
}
