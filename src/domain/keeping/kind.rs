//! What a batch is, as the keeping charts divide food: told by its ingredients and its name.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::foods::{Food, Group, compared_words};

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Anything cooked that no other kind names.
    Leftovers,
    Rice,
    CookedMeat,
    Soup,
    /// Of egg, meat, fish or pasta, or of what is raw.
    Salad,
    Vegetables,
    EggDish,
    Broth,
    HardCookedEggs,
    Pickle,
    /// Ground meat, poultry in pieces, fish.
    RawMince,
    /// Whole cuts.
    RawMeat,
}

impl Kind {
    /// Every kind, with its word in the chart.
    pub const ALL: [(Kind, &'static str); 12] = [
        (Kind::Leftovers, "leftovers"),
        (Kind::Rice, "rice"),
        (Kind::CookedMeat, "cooked meat"),
        (Kind::Soup, "soup"),
        (Kind::Salad, "salad"),
        (Kind::Vegetables, "vegetables"),
        (Kind::EggDish, "egg dish"),
        (Kind::Broth, "broth"),
        (Kind::HardCookedEggs, "hard-cooked eggs"),
        (Kind::Pickle, "pickle"),
        (Kind::RawMince, "raw mince"),
        (Kind::RawMeat, "raw meat"),
    ];

    pub fn from_word(word: &str) -> Option<Self> {
        let known = Self::ALL.iter().find(|(_, known)| *known == word);
        known.map(|(kind, _)| *kind)
    }
}

/// What rules the keeping of a batch, by its name and the foods in it: the shortest of these holds.
pub fn kinds(name: &str, raw: bool, foods: &[&Food]) -> Vec<Kind> {
    let words = compared_words(name);
    let named = |kind: Kind| words.iter().any(|word| word_kind(word) == Some(kind));
    let mut kinds = Vec::new();
    if raw {
        kinds.extend(foods.iter().filter_map(|food| raw_meat(food)));
    }
    if kinds.is_empty() {
        kinds.push(main_kind(&named, raw, foods));
    }
    if !raw && (named(Kind::Rice) || foods.iter().any(|food| is_rice(food))) {
        kinds.push(Kind::Rice);
    }
    kinds.sort();
    kinds.dedup();
    kinds
}

/// The same of plain food as it was bought: raw meat and fish have rows, and all else the date on its packet.
pub fn bought(foods: &[&Food]) -> Vec<Kind> {
    foods.iter().filter_map(|food| raw_meat(food)).collect()
}

fn main_kind(named: &dyn Fn(Kind) -> bool, raw: bool, foods: &[&Food]) -> Kind {
    let meat = foods.iter().any(|food| is_meat(food));
    let eggs = || foods.iter().any(|food| is_egg(food));
    let pasta = || foods.iter().any(|food| has_word(food, "pasta"));
    let told = [Kind::Broth, Kind::Pickle, Kind::Soup, Kind::EggDish];
    if let Some(kind) = told.into_iter().find(|kind| named(*kind)) {
        return kind;
    }
    let leaves = || foods.iter().any(|food| is_leaf(food));
    if named(Kind::Salad) && (meat || eggs() || pasta() || raw || leaves()) || raw && leaves() {
        return Kind::Salad;
    }
    if meat {
        return Kind::CookedMeat;
    }
    // Scrambled or fried, they keep as any dish of eggs.
    let only_eggs = !foods.is_empty() && foods.iter().all(|food| is_egg(food));
    if only_eggs && named(Kind::HardCookedEggs) {
        return Kind::HardCookedEggs;
    }
    if eggs() {
        return Kind::EggDish;
    }
    let vegetables = |food: &&Food| {
        let beside = [Group::FatsAndOils, Group::SpicesAndHerbs];
        food.group == Group::Vegetables || beside.contains(&food.group)
    };
    if foods.iter().any(|food| food.group == Group::Vegetables) && foods.iter().all(vegetables) {
        return Kind::Vegetables;
    }
    Kind::Leftovers
}

/// Raw meat that stands uncooked; what is bought cooked or cured is none.
fn raw_meat(food: &Food) -> Option<Kind> {
    if !is_meat(food) || !has_word(food, "raw") {
        return None;
    }
    let minced = has_word(food, "ground") || has_word(food, "minced");
    let short = matches!(
        food.group,
        Group::Poultry | Group::FishAndShellfish | Group::Sausages
    );
    Some(match minced || short {
        true => Kind::RawMince,
        false => Kind::RawMeat,
    })
}

fn is_meat(food: &Food) -> bool {
    matches!(
        food.group,
        Group::Poultry
            | Group::Sausages
            | Group::Pork
            | Group::Beef
            | Group::FishAndShellfish
            | Group::LambVealAndGame
    )
}

/// What is eaten raw and comes limp out of a freezer. Common practice.
fn is_leaf(food: &Food) -> bool {
    let leaves = [
        "lettuce",
        "cucumber",
        "arugula",
        "endive",
        "radish",
        "watercress",
    ];
    food.group == Group::Vegetables && leaves.iter().any(|leaf| has_word(food, leaf))
}

fn is_egg(food: &Food) -> bool {
    food.group == Group::DairyAndEggs && first_word(food) == "egg"
}

fn is_rice(food: &Food) -> bool {
    food.group == Group::GrainsAndPasta && first_word(food) == "rice" && !has_word(food, "flour")
}

fn first_word(food: &Food) -> String {
    let words = compared_words(&food.description);
    words.into_iter().next().unwrap_or_default()
}

/// A word of what the table calls it.
pub fn has_word(food: &Food, word: &str) -> bool {
    compared_words(&food.description)
        .iter()
        .any(|own| own == word)
}

/// A name that tells of a dish: "chilli", "leek soup".
pub fn is_dish(name: &str) -> bool {
    let words = compared_words(name);
    words.iter().any(|word| {
        word_kind(word).is_some_and(|kind| kind != Kind::Rice && kind != Kind::HardCookedEggs)
    })
}

/// Meat, poultry or fish that is bought raw.
pub fn is_raw_flesh(food: &Food) -> bool {
    raw_meat(food).is_some()
}

pub fn is_raw_poultry(food: &Food) -> bool {
    food.group == Group::Poultry && is_raw_flesh(food)
}

pub fn is_raw_mince(food: &Food) -> bool {
    let minced = has_word(food, "ground") || has_word(food, "minced");
    minced && is_raw_flesh(food) && food.group != Group::FishAndShellfish
}

pub fn is_vinegar(food: &Food) -> bool {
    first_word(food) == "vinegar"
}

pub fn is_water(food: &Food) -> bool {
    let drink =
        food.group == Group::Beverages && !has_word(food, "coconut") && !has_word(food, "tonic");
    drink && has_word(food, "water") && !has_word(food, "prepared")
}

/// What a word of a batch's name tells of it.
fn word_kind(word: &str) -> Option<Kind> {
    static KINDS: OnceLock<HashMap<&str, Kind>> = OnceLock::new();
    let kinds = KINDS.get_or_init(|| {
        let lines = include_str!("../data/kinds.txt").lines();
        let lines = lines.filter(|line| !line.starts_with('#'));
        let row = |line: &'static str| {
            let (kind, words) = line.split_once(": ").expect("a row of kinds reads");
            let kind = Kind::from_word(kind).expect("a kind of the chart");
            words.split(", ").map(move |word| (word, kind))
        };
        lines.flat_map(row).collect()
    });
    kinds.get(word).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foods::{Found, table};

    fn kinds_of(name: &str, raw: bool, foods: &[&str]) -> Vec<Kind> {
        let foods: Vec<&Food> = foods
            .iter()
            .map(|name| match table().find(name) {
                Found::Taken(found) => table().get(found.code).expect("in the table"),
                other => panic!("{name}: {other:?}"),
            })
            .collect();
        kinds(name, raw, &foods)
    }

    #[test]
    fn a_batch_is_told_by_its_name_and_what_is_in_it() {
        let cases: [(&str, bool, &[&str], &[Kind]); 14] = [
            (
                "lentil dal",
                false,
                &["red lentils", "onion"],
                &[Kind::Soup],
            ),
            (
                "brown rice",
                false,
                &["brown rice"],
                &[Kind::Leftovers, Kind::Rice],
            ),
            (
                "one pot",
                false,
                &["chicken thigh", "white rice"],
                &[Kind::Rice, Kind::CookedMeat],
            ),
            (
                "roast parsnips",
                false,
                &["parsnips", "olive oil"],
                &[Kind::Vegetables],
            ),
            ("chicken soup", false, &["chicken thigh"], &[Kind::Soup]),
            ("roast", false, &["chicken thigh"], &[Kind::CookedMeat]),
            ("egg salad", false, &["eggs", "mayonnaise"], &[Kind::Salad]),
            ("salad", false, &["lettuce", "tomatoes"], &[Kind::Salad]),
            ("slaw", true, &["cucumber"], &[Kind::Salad]),
            ("boiled eggs", false, &["eggs"], &[Kind::HardCookedEggs]),
            ("scrambled eggs", false, &["eggs"], &[Kind::EggDish]),
            ("stock", false, &["carrots"], &[Kind::Broth]),
            (
                "thighs in marinade",
                true,
                &["chicken thigh"],
                &[Kind::RawMince],
            ),
            ("pearl barley", false, &["pearl barley"], &[Kind::Leftovers]),
        ];
        for (name, raw, foods, wanted) in cases {
            assert_eq!(kinds_of(name, raw, foods), wanted, "{name}");
        }
    }
}
