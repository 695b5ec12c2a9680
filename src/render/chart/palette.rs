//! Colours and patterns of charts.
//!
//! The seven colours are those that Masataka Okabe and Kei Ito chose for people of every colour vision (Color Universal
//! Design, 2002, from memory): they differ in lightness where hues fall together. About one man in twelve tells red
//! from green badly, so neighbours in a column are ordered by how far apart they look to all of them, which is tested
//! below. Colour is never all there is: each has a pattern, which stays on a grey screen, and each part bears the number
//! that it has in the key. What is left over is grey. The ground is a card of its own, light and warm, with a rim: in a
//! dark chat it stands out without glare, in a light one it has an edge.

use crate::render::picture::{Area, Colour, Painting, Paper};

pub const GROUND: Colour = Colour([0xf8, 0xf6, 0xf1]);
pub const RIM: Colour = Colour([0xd6, 0xd1, 0xc4]);
pub const INK: Colour = Colour([0x1e, 0x1e, 0x22]);
/// Of what is less: 7 to 1 on the ground.
pub const FAINT_INK: Colour = Colour([0x50, 0x50, 0x56]);
/// Lines to measure by.
pub const GRID: Colour = Colour([0xd9, 0xd5, 0xca]);
/// Between two bounds.
pub const BAND: Colour = Colour([0xe4, 0xe0, 0xd3]);

/// Colours in the order in which parts lie on one another.
const COLOURS: [Colour; FILLS] = [
    Colour([0x00, 0x72, 0xb2]), // blue
    Colour([0xe6, 0x9f, 0x00]), // orange
    Colour([0x00, 0x9e, 0x73]), // bluish green
    Colour([0xf0, 0xe4, 0x42]), // yellow
    Colour([0xcc, 0x79, 0xa7]), // reddish purple
    Colour([0xd5, 0x5e, 0x00]), // vermilion
    Colour([0x56, 0xb4, 0xe9]), // sky blue
    Colour([0xb8, 0xb8, 0xb8]), // grey
];

/// So many parts can be told apart at a glance; more are one.
pub const FILLS: usize = 8;
/// What is left over.
pub const REST: usize = FILLS - 1;

/// How thick the edge of a part is.
const EDGE: u32 = 2;

/// Whether a pixel of the part bears its pattern.
fn is_marked(fill: usize, x: u32, y: u32) -> bool {
    match fill {
        1 => (x + y) % 14 < 4,
        2 => x % 12 < 4 && y % 12 < 4,
        3 => y % 12 < 3,
        4 => x % 12 < 3,
        5 => (x + 14 - y % 14) % 14 < 4,
        6 => x % 14 < 3 || y % 14 < 3,
        _ => false,
    }
}

/// A part in its colour and pattern, with an edge that holds a light one apart from the ground.
pub fn paint(painting: &mut Painting, area: Area, fill: usize) {
    let fill = fill.min(REST);
    let (colour, dark) = (COLOURS[fill], COLOURS[fill].under(INK, 0.55));
    painting.fill(area, colour);
    let mark = colour.under(INK, 0.28);
    painting.fill_where(area, mark, |x, y| is_marked(fill, x, y));
    let Paper { width, height } = area.paper;
    let edge = EDGE.min(width / 3).min(height / 3);
    painting.fill_where(area, dark, |x, y| {
        x < edge || y < edge || x >= width - edge || y >= height - edge
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    type Matrix = [[f64; 3]; 3];

    /// What people see who lack one kind of cone (Machado, Oliveira and Fernandes 2009, severity 1, from memory).
    const SEEN: [Matrix; 4] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ],
    ];

    fn linear(colour: Colour) -> [f64; 3] {
        colour.0.map(|byte| {
            let part = f64::from(byte) / 255.0;
            match part <= 0.04045 {
                true => part / 12.92,
                false => ((part + 0.055) / 1.055).powf(2.4),
            }
        })
    }

    fn times(matrix: &Matrix, light: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| {
            let sum: f64 = row.iter().zip(light).map(|(one, other)| one * other).sum();
            sum.clamp(0.0, 1.0)
        })
    }

    /// CIE L*a*b* of linear sRGB, for the white of screens (D65).
    fn lab(light: [f64; 3]) -> [f64; 3] {
        let to_xyz = [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ];
        let white = [0.9505, 1.0, 1.089];
        let xyz =
            to_xyz.map(|row: [f64; 3]| row.iter().zip(light).map(|(a, b)| a * b).sum::<f64>());
        let f = |at: usize| {
            let part = xyz[at] / white[at];
            match part > 0.008856 {
                true => part.cbrt(),
                false => 7.787 * part + 16.0 / 116.0,
            }
        };
        [
            116.0 * f(1) - 16.0,
            500.0 * (f(0) - f(1)),
            200.0 * (f(1) - f(2)),
        ]
    }

    fn apart(one: Colour, other: Colour, seen: &Matrix) -> f64 {
        let (one, other) = (
            lab(times(seen, linear(one))),
            lab(times(seen, linear(other))),
        );
        let squares = one.iter().zip(other).map(|(a, b)| (a - b).powi(2));
        squares.sum::<f64>().sqrt()
    }

    fn contrast(one: Colour, other: Colour) -> f64 {
        let luminance = |colour| {
            let [red, green, blue] = linear(colour);
            0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05
        };
        let (one, other) = (luminance(one), luminance(other));
        one.max(other) / one.min(other)
    }

    #[test]
    fn neighbours_look_apart_to_every_colour_vision() {
        for (which, seen) in SEEN.iter().enumerate() {
            for (at, pair) in COLOURS.windows(2).enumerate() {
                let distance = apart(pair[0], pair[1], seen);
                assert!(
                    distance >= 30.0,
                    "{at} and its neighbour: {distance:.0}, vision {which}"
                );
            }
            for (one, first) in COLOURS.iter().enumerate() {
                for (other, second) in COLOURS.iter().enumerate().skip(one + 1) {
                    let distance = apart(*first, *second, seen);
                    assert!(
                        distance >= 12.0,
                        "{one}, {other}: {distance:.0}, vision {which}"
                    );
                }
            }
        }
    }

    #[test]
    fn words_and_edges_stand_out_from_the_ground() {
        assert!(contrast(INK, GROUND) > 12.0 && contrast(FAINT_INK, GROUND) > 6.0);
        assert!(contrast(FAINT_INK, BAND) > 4.5);
        for colour in COLOURS {
            let edge = contrast(colour.under(INK, 0.55), GROUND);
            assert!(edge > 3.0, "{colour:?}: {edge:.1}");
        }
    }

    #[test]
    fn patterns_differ_where_colours_may_not() {
        let marked = |fill| -> Vec<bool> {
            let places = (0..84).flat_map(|y| (0..84).map(move |x| (x, y)));
            places.map(|(x, y)| is_marked(fill, x, y)).collect()
        };
        for one in 0..REST {
            for other in one + 1..REST {
                assert_ne!(marked(one), marked(other), "{one} and {other}");
            }
        }
    }
}
