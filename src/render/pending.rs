//! A line of a batch that waits for an answer: what is unclear, and how to mend that line.

use crate::domain::mass::Mass;
use crate::domain::problem::ProblemKind;

use super::clean::{clean, cut, name, quote, short};
use super::page::Page;
use super::problem::{Wording, packet_of, say, say_near, wording};

/// How many near names are shown for one line.
const NEAR_MAX: usize = 2;

/// Say it; `line` is the line as typed, `code` its batch.
pub fn say_line(page: &mut Page, number: u32, kind: &ProblemKind, line: &str, code: &str) {
    let wording = wording(kind, line);
    if number == 0 {
        // Not a line, but the weighing or what was poured off.
        say_other(page, kind, wording, code);
        return;
    }
    page.say(format!("Line {number}: {}", quote(line)));
    page.say(wording.says);
    say_near(page, &wording.near[..wording.near.len().min(NEAR_MAX)]);
    if let ProblemKind::UnknownFood { words, near } = kind
        && near.is_empty()
    {
        page.say("Its packet, then the line again:");
        page.example(&packet_of(words));
    }
    page.example(&format!("{code} line {number}: {}", mended(kind, line)));
}

/// A weighing is mended by a weighing.
fn say_other(page: &mut Page, kind: &ProblemKind, wording: Wording, code: &str) {
    let weighing = matches!(
        kind,
        ProblemKind::NotAMass { .. }
            | ProblemKind::LeftOver { .. }
            | ProblemKind::BelowTare { .. }
            | ProblemKind::SeveralWeighings { .. }
    );
    if !weighing {
        say(page, &wording);
        return;
    }
    page.say(wording.says);
    page.example(&format!("{code} weighed 2310, pot 470"));
}

/// The line as it could be, for the example.
fn mended(kind: &ProblemKind, line: &str) -> String {
    let line = clean(line);
    match kind {
        ProblemKind::UnknownUnit { word } => format!("120 g {}", after(&line, word, &food(&line))),
        ProblemKind::NotAMass { text } => {
            format!("120 g {}", without_unit(&after(&line, text, &food(&line))))
        }
        ProblemKind::UnknownFood { words, near } => match near.first() {
            Some(code) if line.contains(words.as_str()) => {
                line.replacen(words.as_str(), &code.to_string(), 1)
            }
            Some(code) => format!("120 g {code}"),
            None => cut(&line, 60),
        },
        ProblemKind::MissingAmount { name: food }
        | ProblemKind::UnknownMeasure { name: food, .. } => {
            format!("120 g {}", name(food))
        }
        ProblemKind::LeftOver { text } => {
            let rest = clean(&line.replacen(text.as_str(), "", 1));
            if rest.is_empty() {
                format!("120 g {}", food(&line))
            } else {
                cut(&rest, 40)
            }
        }
        ProblemKind::TooMuch {
            name: dish, left, ..
        } if *left > Mass::ZERO => {
            format!("{:.0} g {}", left.grams().floor(), name(dish))
        }
        ProblemKind::MissingName => format!("{} water", cut(&line, 40)),
        _ => format!("120 g {}", food(&line)),
    }
}

/// What the line speaks of, without its figures; a line of figures alone speaks of nothing.
fn food(line: &str) -> String {
    after(line, "", "flour")
}

/// "g salt" is salt: no food's name begins with so short a word.
fn without_unit(rest: &str) -> &str {
    match rest.split_once(' ') {
        Some((unit, name)) if unit.len() <= 2 && !name.is_empty() => name,
        _ => rest,
    }
}

/// What follows a word on the line.
fn after(line: &str, word: &str, otherwise: &str) -> String {
    let rest = line.split_once(word).map_or("", |(_, rest)| rest);
    let rest = rest.trim_start_matches(|character: char| !character.is_alphabetic());
    if rest.is_empty() {
        otherwise.to_string()
    } else {
        short(rest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foods;
    use crate::render::sample;

    #[test]
    fn a_line_is_mended_where_it_was_wrong() {
        let quonks = ProblemKind::UnknownUnit {
            word: "quonks".into(),
        };
        let near = |near| ProblemKind::UnknownFood {
            words: "zorbleaf".into(),
            near,
        };
        for (kind, line, expected) in [
            (&quonks, "12 quonks plain flour", "120 g plain flour"),
            (&quonks, "12 quonks", "120 g quonks"),
            (
                &ProblemKind::NotAMass { text: "-5".into() },
                "-5 g salt",
                "120 g salt",
            ),
            (
                &near(vec![foods::Code(11457)]),
                "80 g zorbleaf",
                "80 g NDB 11457",
            ),
            (&near(Vec::new()), "80 g zorbleaf", "80 g zorbleaf"),
            (
                &ProblemKind::LeftOver { text: "xyz".into() },
                "80 g leek xyz",
                "80 g leek",
            ),
        ] {
            let mended = mended(kind, line);
            assert_eq!(mended, expected);
            sample::is_understood(&format!("D7 line 3: {mended}"));
        }
    }
}
