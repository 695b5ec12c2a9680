//! Household measures of a food: pieces, cloves, sticks, cans, by the release's own weights.
//!
//! A measure of the release is read as its words outside brackets ("slice, medium (1/8" thick)" is slice and
//! medium). It fits what was typed if it holds every typed word and no other name of a part or container. Of
//! several that fit, the one that says least beyond what was typed is taken; `data/measures.txt` lists what is
//! preferred and what may stand in for a missing word. Rows by ounce or pound are rounded weights and never used.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::names::compared_words;
use super::table::{Food, Group, Measure};

/// A weight found through a household measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasureMatch {
    /// The weight of the whole count, in grams.
    pub grams: f64,
    /// The row of the release that was used.
    pub measure: Measure,
    /// Other rows with other weights would have fitted too, or a typed word was passed over: to be said.
    pub preferred: bool,
    /// Reckoned from a row of another volume, by 16 tablespoons or 48 teaspoons a cup.
    pub derived: bool,
}

impl Food {
    /// Weighs `count` of a measure as a cook typed it: `["medium"]`, `["clove"]`, `["slice", "thin"]`; without
    /// words, of whole pieces ("2 onions"). `None` if the release has no such measure of this food.
    pub fn weigh_measure(&self, count: f64, words: &[&str]) -> Option<MeasureMatch> {
        let typed = measure_words(&words.join(" "));
        let rows: Vec<Row> = self.measures.iter().filter_map(Row::read).collect();
        let Some(first) = typed.first() else {
            return self.weigh_piece(count, &rows);
        };
        if lists().mass.contains(&first.as_str()) {
            return None;
        }
        let own = self.own_words();
        if let Some(found) = weigh_rows(count, &rows, &typed, &own) {
            return Some(found);
        }
        // "A large leek", where leeks come in one size.
        let is_size = |word: &&String| lists().size.contains(&word.as_str());
        let unsized_words: Vec<String> = typed
            .iter()
            .filter(|word| !is_size(word))
            .cloned()
            .collect();
        if unsized_words.len() == typed.len() {
            return None;
        }
        let found = match unsized_words.is_empty() {
            true => self.weigh_piece(count, &rows),
            false => weigh_rows(count, &rows, &unsized_words, &own),
        };
        found.map(|found| MeasureMatch {
            preferred: true,
            ..found
        })
    }

    /// The words of a typed name that choose among this food's measures: "cherry" of "cherry tomatoes", "large" of
    /// "large eggs", "penne" of pasta. To be given with the words of the measure.
    pub fn measure_qualifiers(&self, name: &str) -> Vec<String> {
        let rows: Vec<Row> = self.measures.iter().filter_map(Row::read).collect();
        let own = self.own_words();
        let chooses =
            |word: &String| !own.contains(word) && rows.iter().any(|row| row.words.contains(word));
        measure_words(name).into_iter().filter(chooses).collect()
    }

    fn weigh_piece(&self, count: f64, rows: &[Row]) -> Option<MeasureMatch> {
        let own = self.own_words();
        let is_egg = own.first().is_some_and(|head| head == "egg");
        let order = if is_egg {
            &lists().bare_egg
        } else {
            &lists().bare
        };
        let fits = rows.iter().filter_map(|row| {
            let place = order.iter().position(|&word| match word {
                "own" => row.words.first().is_some_and(|first| own.contains(first)),
                _ => row.words.iter().any(|own| own == word),
            })?;
            // What names the piece may stand beside it, but no part of the food.
            let typed = match order[place] {
                "own" => Vec::new(),
                word => vec![word.to_owned()],
            };
            Some((row.cost(&typed, &own)? + 100 * place, row))
        });
        let (found, _) = cheapest(count, fits.collect())?;
        Some(found)
    }

    /// The words of the description, and of a spice that it is ground, since a spoon of it is.
    pub(super) fn own_words(&self) -> Vec<String> {
        let mut words = compared_words(&self.description);
        if self.group == Group::SpicesAndHerbs {
            words.push("ground".to_owned());
        }
        words
    }
}

/// The row that fits the typed words, or else words that may stand in for them.
pub(super) fn weigh_rows(
    count: f64,
    rows: &[Row],
    typed: &[String],
    own: &[String],
) -> Option<MeasureMatch> {
    alternatives(typed)
        .iter()
        .enumerate()
        .find_map(|(at, words)| {
            let fits = rows
                .iter()
                .filter_map(|row| Some((row.cost(words, own)?, row)));
            let (found, exact) = cheapest(count, fits.collect())?;
            Some(MeasureMatch {
                preferred: at > 0 || (found.preferred && !exact),
                ..found
            })
        })
}

/// The cheapest of the rows, with whether any other differs, and whether it alone says just what was typed.
fn cheapest(count: f64, mut fits: Vec<(usize, &Row)>) -> Option<(MeasureMatch, bool)> {
    fits.sort_by_key(|&(cost, _)| cost);
    let &(cost, best) = fits.first()?;
    let each = best.measure.grams_each();
    let differs = |row: &Row| (row.measure.grams_each() - each).abs() > each * 0.01;
    let mut others = fits.iter().filter(|(_, row)| differs(row));
    let exact = cost == 0 && !others.clone().any(|&(other, _)| other == 0);
    let preferred = others.next().is_some();
    let found = MeasureMatch {
        grams: each * count,
        measure: best.measure,
        preferred,
        derived: false,
    };
    Some((found, exact))
}

/// First words of measures of volume.
const VOLUMES: [&str; 4] = ["cup", "tbsp", "tsp", "fl"];

/// A measure as its words.
pub(super) struct Row {
    pub measure: Measure,
    /// Outside brackets.
    pub words: Vec<String>,
    /// In brackets.
    aside: Vec<String>,
}

impl Row {
    /// `None` for weights ("oz", "lb").
    pub fn read(measure: &Measure) -> Option<Row> {
        let (mut outside, mut inside, mut depth) = (String::new(), String::new(), 0_i32);
        for letter in measure.name.chars() {
            match letter {
                '(' => depth += 1,
                ')' => depth -= 1,
                _ if depth > 0 => inside.push(letter),
                _ => outside.push(letter),
            }
            if matches!(letter, '(' | ')') {
                outside.push(' ');
                inside.push(' ');
            }
        }
        let words = measure_words(&outside);
        let is_mass = words
            .first()
            .is_none_or(|first| lists().mass.contains(&first.as_str()));
        (!is_mass).then(|| Row {
            measure: *measure,
            words,
            aside: measure_words(&inside),
        })
    }

    /// What the row says beyond the typed words; `None` if it lacks one or names another part.
    pub fn cost(&self, typed: &[String], own_name: &[String]) -> Option<usize> {
        let filled = VOLUMES.contains(&self.words.first()?.as_str());
        let mut cost = 0;
        for word in typed {
            if !self.words.contains(word) {
                if !self.aside.contains(word) {
                    return None;
                }
                cost += 1;
            }
        }
        for word in self.words.iter().filter(|word| !typed.contains(word)) {
            let lists = lists();
            let word = word.as_str();
            let place = |list: &[&str]| list.iter().position(|own| *own == word);
            let is_own = own_name.iter().any(|own| own == word);
            let is_unit = VOLUMES.contains(&word);
            if lists.part.contains(&word) && (is_unit || !(filled || is_own)) {
                return None;
            }
            cost += if let Some(place) = place(&lists.fill) {
                10 + place
            } else if let Some(place) = place(&lists.bare) {
                2 + place
            } else if lists.last.contains(&word) {
                100
            } else if is_own {
                1
            } else {
                60
            };
        }
        Some(cost)
    }
}

/// The typed words, then with each missing one replaced by what may stand in for it.
fn alternatives(typed: &[String]) -> Vec<Vec<String>> {
    let mut all = vec![typed.to_vec()];
    for (at, word) in typed.iter().enumerate() {
        for instead in lists().instead.get(word.as_str()).into_iter().flatten() {
            let mut other = typed.to_vec();
            other[at] = (*instead).to_owned();
            all.push(other);
        }
    }
    all
}

/// Compared words of a measure, with its own spellings folded and sizes in figures left out.
pub(super) fn measure_words(text: &str) -> Vec<String> {
    let words = compared_words(text);
    let carries_nothing = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_digit())
            || ["of", "a", "the", "and", "or", "yield"].contains(&word)
    };
    let mut found = Vec::new();
    for (at, word) in words
        .iter()
        .enumerate()
        .filter(|(_, word)| !carries_nothing(word))
    {
        let is_ounce = |next: &String| next == "oz" || next == "ounce";
        match lists().fold.get(word.as_str()) {
            _ if word == "fluid" && words.get(at + 1).is_some_and(is_ounce) => {
                found.push("fl".to_owned())
            }
            Some(folded) => found.extend(folded.split(' ').map(str::to_owned)),
            None => found.push(word.clone()),
        }
    }
    found
}

/// `measures.txt`.
#[derive(Default)]
pub(super) struct Lists {
    fold: HashMap<&'static str, &'static str>,
    instead: HashMap<&'static str, Vec<&'static str>>,
    mass: Vec<&'static str>,
    part: Vec<&'static str>,
    size: Vec<&'static str>,
    bare: Vec<&'static str>,
    bare_egg: Vec<&'static str>,
    fill: Vec<&'static str>,
    last: Vec<&'static str>,
}

pub(super) fn lists() -> &'static Lists {
    static LISTS: OnceLock<Lists> = OnceLock::new();
    LISTS.get_or_init(|| {
        let mut lists = Lists::default();
        let lines = include_str!("data/measures.txt").lines();
        for line in lines.filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let (label, rest) = line.split_once(' ').expect("a line is `label words`");
            let pair = || {
                rest.split_once(" = ")
                    .expect("a replacement is `word = words`")
            };
            match label {
                "fold" => drop(lists.fold.insert(pair().0, pair().1)),
                "instead" => drop(
                    lists
                        .instead
                        .insert(pair().0, pair().1.split(' ').collect()),
                ),
                "mass" => lists.mass.extend(rest.split(' ')),
                "part" => lists.part.extend(rest.split(' ')),
                "size" => lists.size.extend(rest.split(' ')),
                "bare" => lists.bare.extend(rest.split(' ')),
                "bare-egg" => lists.bare_egg.extend(rest.split(' ')),
                "fill" => lists.fill.extend(rest.split(' ')),
                "last" => lists.last.extend(rest.split(' ')),
                other => panic!("unknown kind of measure words: {other}"),
            }
        }
        lists
    })
}
