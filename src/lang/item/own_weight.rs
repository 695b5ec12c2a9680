//! A second weight of one ingredient, said beside it: "1 tin beans, drained weight 240 g", "3 bananas (weighed
//! 300 g peeled)", "2 tins tuna (145 g each, 102 g drained)".
//!
//! ```text
//! own-weight := figure [sep figure]
//! figure     := label* mass label*              (data/own_weight.txt; a bare number needs a label)
//! sep        := "," | ";" | "/"
//! ```
//! Of a printed weight and a drained one, the drained one is what goes into the pot.

use crate::lang::amount::{Of, grams};
use crate::lang::tokens::Tokens;
use crate::lang::unit::unit;
use crate::lang::words::own_weight;

/// More tokens are a sentence.
const TOKENS_MAX: usize = 16;

/// What an ingredient is said to weigh, and of how much of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnWeight {
    pub grams: f64,
    pub of: Of,
    /// "net": that of a tin or of a whole pot.
    pub net: bool,
}

#[derive(Debug, Clone, Copy, Default)]
struct Figure {
    grams: f64,
    inside: bool,
    net: bool,
    each: bool,
    all: bool,
}

impl Figure {
    fn is_labelled(self) -> bool {
        self.inside || self.net || self.each || self.all
    }

    fn note(&mut self, key: &str) {
        match key {
            "inside" => self.inside = true,
            "net" => self.net = true,
            "each" => self.each = true,
            "all" => self.all = true,
            _ => {}
        }
    }
}

/// Weights with a label that says what they are of, and nothing else.
pub fn own_weight_alone(input: Tokens<'_>) -> Option<OwnWeight> {
    if input.len() > TOKENS_MAX || !input.has_number() {
        return None;
    }
    let apart = |token: &crate::lang::token::Token| {
        token.is(',') || token.is(';') || token.is('/') || token.is('(') || token.is(')')
    };
    let mut figures = Vec::new();
    let mut label = Figure::default();
    for part in input.split(apart) {
        if part.is_empty() {
            continue;
        }
        match part.has_number() {
            true => figures.push(figure(part, std::mem::take(&mut label))?),
            // "drained (240 g)"
            false => label = labels(part, label).filter(|_| figures.is_empty())?,
        }
    }
    if label.is_labelled() || !figures.iter().any(|one| one.is_labelled()) {
        return None;
    }
    chosen(&figures)
}

/// The weight that counts.
fn chosen(figures: &[Figure]) -> Option<OwnWeight> {
    let inside = figures.iter().find(|one| one.inside);
    let net = figures.iter().find(|one| one.net);
    let one = match figures {
        [one] => one,
        [_, _] => inside.or(net)?,
        _ => return None,
    };
    let each = one.each || !one.all && figures.iter().any(|one| one.each);
    let of = match (each, one.all, one.inside) {
        (true, _, true) => Of::InsideEach,
        (true, _, false) => Of::Each,
        (_, true, _) => Of::All,
        (_, _, true) => Of::Inside,
        _ => Of::Unsaid,
    };
    Some(OwnWeight {
        grams: one.grams,
        of,
        net: one.net,
    })
}

/// A label's words, all of them.
fn labels(input: Tokens<'_>, mut figure: Figure) -> Option<Figure> {
    let mut rest = input;
    while !rest.is_empty() {
        rest = label(rest, &mut figure)?;
    }
    Some(figure)
}

fn label<'a>(input: Tokens<'a>, figure: &mut Figure) -> Option<Tokens<'a>> {
    let mark = |c: char| input.slice[0].is(c);
    if mark(':') || mark('=') || mark('.') || mark('-') {
        return Some(input.take_one());
    }
    let (length, key) = own_weight().longest(input.slice)?;
    figure.note(key);
    Some(input.after(length))
}

fn figure(input: Tokens<'_>, mut figure: Figure) -> Option<Figure> {
    let mut rest = input;
    while !rest.is_empty() && !rest.slice[0].is_numeric() {
        rest = label(rest, &mut figure)?;
    }
    let (after, said) = grams(rest).ok()?;
    figure.grams = said;
    let bare = unit(rest.after(1)).is_err();
    let figure = labels(after, figure)?;
    (!bare || figure.is_labelled()).then_some(figure)
}
