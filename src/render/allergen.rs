//! What a batch carries, and what nobody can tell of it. Nothing recorded is not nothing in it.

use crate::domain::allergen::Allergens;

use super::clean::name;
use super::page::Page;

/// Names that are told before the rest is counted.
const UNKNOWN_SHOWN_MAX: usize = 6;

pub fn say(page: &mut Page, allergens: &Allergens) {
    page.item(format!("Allergens: {}", contained(allergens)));
    if let Some(unknown) = not_known(allergens) {
        page.item(format!("Not known in full: {unknown}"));
    }
}

/// "milk, wheat (gluten)", "none recorded".
pub fn contained(allergens: &Allergens) -> String {
    let labels: Vec<&str> = allergens
        .contains
        .iter()
        .map(|allergen| allergen.label())
        .collect();
    match labels.is_empty() {
        true => "none recorded".to_owned(),
        false => labels.join(", "),
    }
}

/// The ingredients that may carry more, by name.
pub fn not_known(allergens: &Allergens) -> Option<String> {
    let names = allergens.unknown.iter().take(UNKNOWN_SHOWN_MAX);
    let mut names: Vec<String> = names.map(|text| name(text)).collect();
    let more = allergens.unknown.len() - names.len();
    if more > 0 {
        names.push(format!("{more} more"));
    }
    (!names.is_empty()).then(|| names.join(", "))
}
