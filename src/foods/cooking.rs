//! How a food behaves in a pot: what its weight becomes, whether it takes up water, whether it pours.
//!
//! The rows of `data/yields.txt` name their source beside each factor. The first row that fits a food holds;
//! where none fits, the food is reckoned to keep its weight.

use std::sync::OnceLock;

use super::names::compared_words;
use super::table::{Food, Group};

/// What becomes of a raw weight in the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CookedYield {
    /// Cooked weight over raw weight, good to about 10 % where it was measured.
    pub factor: f64,
    /// The weight gained is water of the pot, so that such water is not counted twice.
    pub absorbs_water: bool,
    /// It pours: water, stock, milk, oil, juice.
    pub is_liquid: bool,
    /// Where the factor comes from.
    pub source: &'static str,
}

impl Food {
    /// The usual cooked weight of this food as described. Food that is cooked already keeps its weight.
    pub fn cooked_yield(&self) -> CookedYield {
        let words = compared_words(&self.description);
        let row = rows().iter().find(|row| row.fits(self.group, &words));
        let (factor, source) = row.map_or((1.0, "reckoned to keep its weight"), |row| {
            (row.factor, row.source)
        });
        CookedYield {
            factor,
            absorbs_water: factor > 1.0,
            is_liquid: self.is_liquid(),
            source,
        }
    }

    /// A dry good that takes up water when it is cooked: raw rice, dry lentils, dry pasta.
    pub fn is_dry(&self) -> bool {
        matches!(
            self.group,
            Group::Legumes | Group::GrainsAndPasta | Group::BreakfastCereals
        ) && self.cooked_yield().absorbs_water
    }

    /// It pours. Told by its kind, since water content alone would also say cucumber.
    pub fn is_liquid(&self) -> bool {
        let words = compared_words(&self.description);
        let has_any = |list: &[&str]| words.iter().any(|own| list.contains(&own.as_str()));
        let head = compared_words(self.description.split(',').next().unwrap_or_default());
        let head_is = |list: &[&str]| {
            words
                .first()
                .is_some_and(|head| list.contains(&head.as_str()))
        };
        if has_any(&[
            "powder",
            "powdered",
            "dry",
            "cubed",
            "cube",
            "frozen",
            "dehydrated",
            "granule",
            "mix",
        ]) {
            return false;
        }
        match self.group {
            Group::Beverages => true,
            Group::FatsAndOils => head_is(&["oil"]),
            Group::SoupsAndSauces => has_any(&[
                "broth",
                "stock",
                "bouillon",
                "consomme",
                "soup",
                "fish",
                "worcestershire",
            ]),
            Group::DairyAndEggs => {
                head_is(&["milk", "cream", "buttermilk", "whey"])
                    && !has_any(&["sour", "whipped", "substitute"])
            }
            Group::Vegetables | Group::Fruits => head.iter().any(|word| word == "juice"),
            Group::SpicesAndHerbs => head_is(&["vinegar"]),
            Group::NutsAndSeeds => has_any(&["milk", "water"]) && has_any(&["liquid"]),
            Group::Legumes => head_is(&["soy"]) && has_any(&["milk", "sauce"]),
            _ => false,
        }
    }
}

struct Row {
    group: Option<u16>,
    /// Words that the description has to hold, each one of several.
    words: Vec<Vec<String>>,
    /// Words that it must not hold.
    without: Vec<String>,
    factor: f64,
    source: &'static str,
}

impl Row {
    /// `group words -without = factor; source`, the group a release code or `*`.
    fn read(line: &'static str) -> Option<Row> {
        let (fit, rest) = line.split_once(" = ")?;
        let (factor, source) = rest.split_once("; ")?;
        let (group, words) = fit.split_once(' ').unwrap_or((fit, ""));
        let (without, with): (Vec<&str>, Vec<&str>) = words
            .split_whitespace()
            .partition(|word| word.starts_with('-'));
        Some(Row {
            group: group.parse().ok(),
            words: with
                .iter()
                .map(|word| word.split('|').map(str::to_owned).collect())
                .collect(),
            without: without.iter().map(|word| word[1..].to_owned()).collect(),
            factor: factor.parse().ok()?,
            source,
        })
    }

    fn fits(&self, group: Group, words: &[String]) -> bool {
        let own_group = |code| Group::from_release(code) == Some(group);
        let has = |word: &String| words.contains(word);
        self.group.is_none_or(own_group)
            && self.words.iter().all(|any| any.iter().any(has))
            && !self.without.iter().any(has)
    }
}

fn rows() -> &'static [Row] {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let lines = include_str!("data/yields.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        lines
            .map(|line| Row::read(line).unwrap_or_else(|| panic!("a malformed yield: {line}")))
            .collect()
    })
}
