//! Several labels on one page, with lines to cut along.

use crate::domain::keeping::Region;
use crate::lang::syntax::Page;
use crate::render::picture::{Area, Canvas, Paper, dots};

/// What printers leave white at the edge of a page: common practice.
const EDGE_MM: f64 = 5.0;

/// How thick a line to cut along is, in dots.
const LINE_DOTS: u32 = 2;

/// ISO 216 A4, and ANSI A, 8.5 by 11 inches.
pub fn of_page(page: Page) -> Paper {
    match page {
        Page::A4 => Paper::of_mm(210.0, 297.0),
        Page::Letter => Paper::of_mm(215.9, 279.4),
    }
}

/// The paper that lies in a printer there.
pub fn of_region(region: Region) -> Paper {
    of_page(match region {
        Region::UnitedStates => Page::Letter,
        Region::UnitedKingdom | Region::AustraliaNewZealand => Page::A4,
    })
}

/// Columns and rows of labels on a page.
fn grid(page: Paper, label: Paper) -> (u32, u32) {
    let fits = |whole: u32, part: u32| whole.saturating_sub(2 * dots(EDGE_MM)) / part.max(1);
    (
        fits(page.width, label.width),
        fits(page.height, label.height),
    )
}

/// How many labels a page holds.
pub fn per_page(page: Paper, label: Paper) -> usize {
    let (columns, rows) = grid(page, label);
    columns as usize * rows as usize
}

/// Labels row by row, in the middle of the page.
pub fn draw(page: Paper, label: Paper, labels: impl Iterator<Item = Canvas>) -> Canvas {
    let mut canvas = Canvas::new(page);
    let (columns, rows) = grid(page, label);
    let (columns, rows) = (columns.max(1), rows.max(1));
    let indent = |whole: u32, part: u32| whole.saturating_sub(part) / 2;
    let left = indent(page.width, columns * label.width);
    let top = indent(page.height, rows * label.height);
    let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
    for (drawn, (column, row)) in labels.zip(places) {
        let (x, y) = (left + column * label.width, top + row * label.height);
        canvas.paste(&drawn, x, y);
        canvas.frame(Area { x, y, paper: label }, LINE_DOTS);
    }
    canvas
}
