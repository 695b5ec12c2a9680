//! The composition table as a whole: what is in it, and that it is the release's.

#[path = "table/measures.rs"]
mod measures;
#[path = "table/names.rs"]
mod names;
#[path = "table/pack.rs"]
mod pack;
#[path = "table/release.rs"]
mod release;
#[path = "table/words.rs"]
mod words;

use std::path::Path;

use hobside::foods::{Code, Nutrient, packed, table};

#[test]
fn holds_the_whole_release() {
    let foods = table().foods();
    assert_eq!(foods.len(), 8_789);
    assert_eq!(
        foods.iter().map(|food| food.measures.len()).sum::<usize>(),
        15_438
    );
    let missing = |nutrient| {
        foods
            .iter()
            .filter(|food| food.per_100g.get(nutrient).is_none())
            .count()
    };
    for nutrient in [
        Nutrient::EnergyKcal,
        Nutrient::Protein,
        Nutrient::Fat,
        Nutrient::Carbohydrate,
    ] {
        assert_eq!(missing(nutrient), 0, "{nutrient:?}");
    }
    assert_eq!(missing(Nutrient::Fibre), 594);
    assert_eq!(missing(Nutrient::Sodium), 83);
}

#[test]
fn every_measure_weighs_something() {
    for food in table().foods() {
        for measure in &food.measures {
            assert!(
                measure.amount > 0.0 && measure.grams > 0.0,
                "{} {}",
                food.code,
                measure.name
            );
        }
    }
}

#[test]
fn codes_find_their_foods() {
    for food in table().foods() {
        assert_eq!(table().get(food.code), Some(food));
    }
    assert_eq!(table().get(Code(0)), None);
}

/// With the release's folder in `HOBSIDE_SR28`, packing it again gives the very bytes of the program.
#[test]
fn is_packed_from_the_release() {
    let Some(folder) = std::env::var_os("HOBSIDE_SR28") else {
        return;
    };
    let foods = release::read(Path::new(&folder)).unwrap();
    assert_eq!(pack::pack(&foods).unwrap(), packed::EMBEDDED);
}
