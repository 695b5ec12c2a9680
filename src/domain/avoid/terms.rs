//! What words for something that is avoided mean: allergens of the two lists, groups of foods, words in names.

use std::collections::{BTreeSet, HashMap};
use std::sync::OnceLock;

use super::super::allergen::chart::of_words;
use super::super::allergen::{Allergen, Part};
use crate::foods::{Group, compared_words};

#[derive(Debug, Clone, Default, PartialEq)]
pub struct Means {
    pub allergens: BTreeSet<Allergen>,
    groups: Vec<Group>,
    /// Each as its words, compared.
    words: Vec<Vec<String>>,
}

impl Means {
    /// What was told. Who cannot have a food cannot have what it carries; who leaves it out leaves out that food alone.
    /// Words that mean nothing else are looked for in names.
    pub fn of(text: &str, cannot: bool) -> Self {
        let wanted = compared_words(text);
        if let Some(known) = rows().get(&wanted) {
            return known.clone();
        }
        let mut allergens = Allergen::of_term(text);
        if cannot && allergens.is_empty() {
            allergens = of_words(text).allergens;
        }
        let words = match allergens.is_empty() {
            true => vec![wanted],
            false => Vec::new(),
        };
        Self {
            allergens,
            words,
            ..Self::default()
        }
    }

    /// One allergen of the lists.
    pub fn only(allergen: Allergen) -> Self {
        Self {
            allergens: BTreeSet::from([allergen]),
            ..Self::default()
        }
    }

    pub fn is_in(&self, part: &Part) -> bool {
        let carried = &part.carried.allergens;
        let by_list = self.allergens.iter().any(|it| carried.contains(it));
        let by_group = part
            .food
            .is_some_and(|food| self.groups.contains(&food.group));
        by_list || by_group || self.is_named_in(part)
    }

    fn is_named_in(&self, part: &Part) -> bool {
        let named = |text: &str| {
            let said = compared_words(text);
            let stands = |words: &Vec<String>| {
                !words.is_empty() && said.windows(words.len()).any(|part| part == words)
            };
            self.words.iter().any(stands)
        };
        !self.words.is_empty()
            && (named(&part.name) || part.food.is_some_and(|food| named(&food.description)))
    }
}

fn rows() -> &'static HashMap<Vec<String>, Means> {
    static ROWS: OnceLock<HashMap<Vec<String>, Means>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let lines = include_str!("../data/avoided.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        let read = |line: &str| {
            read(line).unwrap_or_else(|| panic!("a row of what is avoided does not read: {line}"))
        };
        lines.flat_map(read).collect()
    })
}

fn read(line: &str) -> Option<Vec<(Vec<String>, Means)>> {
    let columns: Vec<&str> = line.split('|').map(str::trim).collect();
    let ["means", said, allergens, groups, words] = *columns.as_slice() else {
        return None;
    };
    let split = |column: &str| -> Vec<String> {
        let parts = column.split(',').map(|part| part.trim().to_owned());
        parts.filter(|part| part != "-").collect()
    };
    let allergen = |word: &String| Allergen::by_word(word);
    let group = |code: &String| Group::from_release(code.parse().ok()?);
    let means = Means {
        allergens: split(allergens)
            .iter()
            .map(allergen)
            .collect::<Option<_>>()?,
        groups: split(groups).iter().map(group).collect::<Option<_>>()?,
        words: split(words)
            .iter()
            .map(|word| compared_words(word))
            .collect(),
    };
    let said = split(said).into_iter();
    Some(
        said.map(|said| (compared_words(&said), means.clone()))
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn labels(text: &str) -> String {
        let means = Means::of(text, true);
        let labels = means.allergens.iter().map(|allergen| allergen.label());
        labels.collect::<Vec<_>>().join(", ")
    }

    /// Every term of the two lists, as `allergens.txt` has them with their sources, means what is on it.
    #[test]
    fn the_terms_of_both_lists_are_understood() {
        for (term, means) in [
            ("milk", "milk"),
            ("eggs", "eggs"),
            ("fish", "fish"),
            ("Crustacean shellfish", "crustaceans (shellfish)"),
            ("crustaceans", "crustaceans (shellfish)"),
            ("molluscs", "molluscs (shellfish)"),
            ("wheat", "wheat (gluten)"),
            ("peanuts", "peanuts"),
            ("soybeans", "soybeans"),
            ("sesame", "sesame"),
            ("sesame seeds", "sesame"),
            ("celery", "celery"),
            ("mustard", "mustard"),
            ("sulphur dioxide and sulphites", "sulphites"),
            ("lupin", "lupin"),
            (
                "cereals containing gluten",
                "wheat (gluten), rye (gluten), barley (gluten), oats (gluten)",
            ),
        ] {
            assert_eq!(labels(term), means, "{term}");
        }
        for term in ["tree nuts", "nuts"] {
            let told = labels(term);
            for nut in [
                "almonds",
                "hazelnuts",
                "walnuts",
                "cashews",
                "pecans",
                "Brazil nuts",
                "pistachios",
                "macadamias",
            ] {
                assert!(told.contains(nut), "{term}: {told}");
            }
            assert!(!told.contains("peanuts"), "{term}: {told}");
        }
        for allergen in Allergen::all() {
            for term in [allergen.us(), allergen.eu()].into_iter().flatten() {
                assert!(
                    Means::of(term, true).allergens.contains(&allergen),
                    "{term}"
                );
            }
        }
    }

    #[test]
    fn everyday_words_mean_what_they_are_said_for() {
        for (said, means) in [
            ("dairy", "milk"),
            ("lactose", "milk"),
            ("soya", "soybeans"),
            ("shellfish", "crustaceans (shellfish), molluscs (shellfish)"),
            ("prawns", "crustaceans (shellfish)"),
            ("almonds", "almonds (nuts)"),
            ("pork", ""),
            ("mushrooms", ""),
        ] {
            assert_eq!(labels(said), means, "{said}");
        }
        assert!(
            Means::of("cheese", true)
                .allergens
                .contains(&Allergen::by_word("milk").unwrap())
        );
        assert!(Means::of("cheese", false).allergens.is_empty());
    }
}
