//! Whole batches against an independent calculation from the original files of USDA's National Nutrient
//! Database for Standard Reference, Release 28: amounts by WEIGHT, nutrients by NUT_DATA, the arithmetic
//! of Greenfield & Southgate (Food composition data, 2nd ed., FAO 2003) done apart from this program.
//!
//! Each file in `batches/` has the messages, then `==`, then the rows of the release that were added up
//! and the totals of the last batch. "at least" marks a nutrient that one of the rows does not give.

mod home;

use hobside::domain::answer::{Answer, BatchView, Note};
use hobside::domain::batch::LineState;
use hobside::foods::Nutrient;
use home::{Home, ROBIN};

/// The bar: a tenth of a percent.
const TOLERANCE: f64 = 0.001;

#[test]
fn totals_equal_an_independent_calculation() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/batches");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the folder of batches")
        .map(|file| file.expect("a file of batches").path())
        .collect();
    files.sort();
    assert!(files.len() >= 12, "only {} batches", files.len());
    for file in files {
        let name = file.display().to_string();
        let text = std::fs::read_to_string(&file).expect("a readable batch");
        let (messages, expected) = text.split_once("\n==\n").expect("messages, then totals");
        let view = cook(&name, messages);
        let mut compared = 0;
        for line in expected.lines().filter(|line| !line.starts_with('#')) {
            compare(&name, &view, line);
            compared += 1;
        }
        // The water of a pot that nobody weighed is an estimate and not compared.
        assert!(
            compared >= Nutrient::ALL.len() - 1,
            "{name}: {compared} values compared"
        );
    }
}

fn cook(name: &str, messages: &str) -> BatchView {
    let mut home = Home::new();
    let mut last = None;
    for message in messages.split("\n--\n") {
        let decision = home.say(ROBIN, message);
        for answer in decision.answers {
            let Answer::Batch(answer) = answer else {
                panic!("{name}: {answer:?}");
            };
            assert!(answer.pending.is_empty(), "{name}: {:?}", answer.pending);
            // Hot food is cautioned of, whatever its totals are.
            let mut notes = answer.notes.iter();
            let cautions = notes.all(|note| matches!(note, Note::Caution(_)));
            assert!(cautions, "{name}: {:?}", answer.notes);
            last = Some(answer.view);
        }
    }
    let view = last.unwrap_or_else(|| panic!("{name}: no batch"));
    for line in &view.lines {
        assert_eq!(line.state, LineState::Known, "{name}: {}", line.text);
    }
    view
}

fn compare(name: &str, view: &BatchView, expected: &str) {
    let words: Vec<&str> = expected.split(' ').collect();
    let (what, amount) = (words[0], words[1].parse::<f64>().expect("a number"));
    let (found, at_least) = match nutrient(what) {
        None => (view.net_mass.grams(), false),
        Some(nutrient) => {
            let sum = view.totals.get(nutrient);
            let per_100g = view
                .per_100g
                .get(nutrient)
                .amount
                .unwrap_or_else(|| panic!("{name}: {what} per 100 g"));
            let total = sum
                .amount
                .unwrap_or_else(|| panic!("{name}: {what} is unknown"));
            let by_net = per_100g * view.net_mass.grams() / 100.0;
            assert!(
                close(by_net, total),
                "{name}: {what} per 100 g is {per_100g}"
            );
            (total, sum.at_least)
        }
    };
    assert!(
        close(found, amount),
        "{name}: {what} is {found}, expected {amount}"
    );
    assert_eq!(
        at_least,
        expected.ends_with("at least"),
        "{name}: {what} known whole"
    );
}

fn close(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= (expected.abs() * TOLERANCE).max(1e-9)
}

fn nutrient(word: &str) -> Option<Nutrient> {
    Some(match word {
        "net_g" => return None,
        "energy_kcal" => Nutrient::EnergyKcal,
        "protein_g" => Nutrient::Protein,
        "fat_g" => Nutrient::Fat,
        "saturated_fat_g" => Nutrient::SaturatedFat,
        "carbohydrate_g" => Nutrient::Carbohydrate,
        "sugars_g" => Nutrient::Sugars,
        "fibre_g" => Nutrient::Fibre,
        "sodium_mg" => Nutrient::Sodium,
        "potassium_mg" => Nutrient::Potassium,
        "calcium_mg" => Nutrient::Calcium,
        "iron_mg" => Nutrient::Iron,
        "cholesterol_mg" => Nutrient::Cholesterol,
        "water_g" => Nutrient::Water,
        "alcohol_g" => Nutrient::Alcohol,
        other => panic!("no nutrient {other}"),
    })
}
