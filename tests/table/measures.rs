//! What household measures weigh.
//!
//! Source of every weight: USDA National Nutrient Database for Standard Reference, Release 28, WEIGHT file.

use hobside::foods::{Code, DensityBasis, Food, Found, VolumeUnit, table};

#[track_caller]
fn food(name: &str) -> &'static Food {
    match table().find(name) {
        Found::Taken(found) => table().get(found.code).unwrap(),
        other => panic!("{name}: {other:?}"),
    }
}

#[track_caller]
fn piece(name: &str, words: &[&str], grams: f64) {
    let found = food(name).weigh_measure(1.0, words);
    assert_eq!(
        found.map(|found| found.grams),
        Some(grams),
        "{name} {words:?}: {found:?}"
    );
}

#[track_caller]
fn spoon(name: &str, unit: VolumeUnit, qualifiers: &[&str], grams: f64) {
    let found = food(name).weigh_spoon_or_cup(unit, 1.0, qualifiers);
    assert_eq!(
        found.map(|found| found.grams),
        Some(grams),
        "{name} {qualifiers:?}: {found:?}"
    );
}

use VolumeUnit::{Cup, Tablespoon, Teaspoon};

#[test]
fn published_cups_and_spoons() {
    spoon("cornstarch", Cup, &[], 128.0);
    spoon("soy sauce", Tablespoon, &[], 16.0);
    spoon("honey", Tablespoon, &[], 21.0);
    spoon("olive oil", Tablespoon, &[], 13.5);
    spoon("whole milk", Cup, &[], 244.0);
    spoon("homemade chicken stock", Cup, &[], 240.0);
    spoon("sugar", Cup, &[], 200.0);
    spoon("sugar", Teaspoon, &[], 4.2);
    spoon("plain flour", Cup, &[], 125.0);
    spoon("salt", Teaspoon, &[], 6.0);
    spoon("vinegar", Cup, &[], 238.0);
    spoon("white rice", Cup, &[], 185.0);
    spoon("cooked white rice", Cup, &[], 158.0);
    spoon("egg white", Cup, &[], 243.0);
    spoon("butter", Tablespoon, &[], 14.2);
    spoon("tomato paste", Tablespoon, &[], 16.0);
    spoon("lentils", Cup, &[], 192.0);
    spoon("parsnip", Cup, &["sliced"], 133.0);
}

#[test]
fn published_pieces() {
    for (size, grams) in [
        ("small", 38.0),
        ("medium", 44.0),
        ("large", 50.0),
        ("extra large", 56.0),
        ("jumbo", 63.0),
    ] {
        let words: Vec<&str> = size.split(' ').collect();
        piece("egg", &words, grams);
    }
    piece("egg white", &["large"], 33.0);
    piece("butter", &["stick"], 113.0);
    piece("garlic", &["clove"], 3.0);
    piece("garlic", &["cloves"], 3.0);
    piece("onion", &["medium"], 110.0);
    piece("carrot", &["medium"], 61.0);
}

#[test]
fn counts_multiply_and_amounts_divide() {
    assert_eq!(
        food("garlic").weigh_measure(4.0, &["clove"]).unwrap().grams,
        12.0
    );
    assert_eq!(food("egg").weigh_measure(3.0, &[]).unwrap().grams, 150.0);
    // Five basil leaves are 2.5 g.
    piece("basil", &["leaf"], 0.5);
    // Half a salmon fillet is 198 g.
    piece("salmon", &["fillet"], 396.0);
    assert_eq!(
        food("peanut butter")
            .weigh_spoon_or_cup(Tablespoon, 2.0, &[])
            .unwrap()
            .grams,
        32.0
    );
}

#[test]
fn qualifiers_choose_and_without_them_the_choice_is_said() {
    let onion = food("onion");
    let cup = |qualifiers: &[&str]| onion.weigh_spoon_or_cup(Cup, 1.0, qualifiers).unwrap();
    assert_eq!(
        (cup(&["chopped"]).grams, cup(&["chopped"]).preferred),
        (160.0, false)
    );
    assert_eq!(
        (cup(&["sliced"]).grams, cup(&["sliced"]).preferred),
        (115.0, false)
    );
    assert_eq!((cup(&[]).grams, cup(&[]).preferred), (160.0, true));
    assert_eq!(cup(&["finely", "chopped"]).grams, 160.0);
    spoon("carrot", Cup, &["sliced"], 122.0);
    spoon("carrot", Cup, &["grated"], 110.0);
    spoon("mushrooms", Cup, &["sliced"], 70.0);
    spoon("cheddar", Cup, &["grated"], 113.0);
    spoon("cream", Cup, &[], 238.0);
    spoon("cream", Cup, &["whipped"], 120.0);
    spoon("brown sugar", Cup, &[], 220.0);
    spoon("black pepper", Teaspoon, &[], 2.3);
}

#[test]
fn bare_pieces_are_of_the_usual_size() {
    piece("onion", &[], 110.0);
    piece("egg", &[], 50.0);
    piece("banana", &[], 118.0);
    piece("lemon", &[], 58.0);
    piece("leek", &[], 89.0);
    piece("cabbage", &[], 908.0);
    piece("corn", &[], 102.0);
    piece("chicken thigh", &[], 149.0);
    assert!(food("onion").weigh_measure(1.0, &[]).unwrap().preferred);
    for name in ["garlic", "bread", "celery", "rice", "olive oil", "basil"] {
        assert_eq!(food(name).weigh_measure(1.0, &[]), None, "{name}");
    }
}

#[test]
fn parts_are_not_wholes() {
    piece("cabbage", &["leaf"], 15.0);
    piece("cabbage", &["large"], 1248.0);
    piece("onion", &["slice"], 14.0);
    piece("onion", &["slice", "thin"], 9.0);
    piece("bread", &["slice"], 29.0);
    assert_eq!(food("parsnip").weigh_measure(1.0, &["medium"]), None);
}

#[test]
fn other_words_stand_in_and_are_said() {
    piece("celery", &["stick"], 40.0);
    piece("bacon", &["rasher"], 28.0);
    let large_leek = food("leek").weigh_measure(1.0, &["large"]).unwrap();
    assert_eq!((large_leek.grams, large_leek.preferred), (89.0, true));
}

#[test]
fn words_of_the_name_choose_too() {
    let tomato = food("cherry tomatoes");
    assert_eq!(tomato.measure_qualifiers("cherry tomatoes"), ["cherry"]);
    piece("tomato", &["cherry"], 17.0);
    assert_eq!(food("egg").measure_qualifiers("large eggs"), ["large"]);
    spoon("penne", Cup, &["penne"], 95.0);
}

#[test]
fn masses_never_go_through_rounded_rows() {
    for words in [&["oz"][..], &["lb"], &["ounce"], &["g"], &["3", "oz"]] {
        assert_eq!(
            food("chicken breast").weigh_measure(1.0, words),
            None,
            "{words:?}"
        );
        assert_eq!(food("bread").weigh_measure(1.0, words), None, "{words:?}");
    }
}

#[test]
fn spoons_come_from_cups_where_no_row_stands() {
    let spoon = food("cornstarch")
        .weigh_spoon_or_cup(Tablespoon, 1.0, &[])
        .unwrap();
    assert_eq!((spoon.grams, spoon.derived), (8.0, true));
    let own = food("honey")
        .weigh_spoon_or_cup(Tablespoon, 1.0, &[])
        .unwrap();
    assert!(!own.derived);
    let teaspoon = food("lentils")
        .weigh_spoon_or_cup(Teaspoon, 1.0, &[])
        .unwrap();
    assert!((teaspoon.grams - 4.0).abs() < 1e-9 && teaspoon.derived);
}

#[test]
fn units_are_united_states_customary() {
    // NIST SP 430: 16 tablespoons, 48 teaspoons, 8 fluid ounces a cup of 236.5882365 ml.
    assert_eq!(Cup.ml(), 236.5882365);
    assert!((Tablespoon.ml() - 14.78676478125).abs() < 1e-9);
    assert!((Teaspoon.ml() - 4.92892159375).abs() < 1e-9);
    assert!((VolumeUnit::FluidOunce.ml() - 29.5735295625).abs() < 1e-9);
}

#[test]
fn densities_come_from_rows_first() {
    let milk = food("milk").grams_per_ml(&[]).unwrap();
    assert!((milk.grams_per_ml - 244.0 / 236.5882365).abs() < 1e-9);
    assert!(matches!(milk.basis, DensityBasis::Row(row) if row.name == "cup"));
    // Brewed oolong tea has no household weight.
    let tea = table()
        .foods()
        .iter()
        .find(|food| food.description.contains("tea, Oolong, brewed"))
        .unwrap();
    assert!(matches!(
        tea.grams_per_ml(&[]).unwrap().basis,
        DensityBasis::Usual(_)
    ));
    assert_eq!(food("chicken thigh").grams_per_ml(&[]), None);
}

#[test]
fn cooked_yields_have_sources() {
    // Cooked over raw weight, from SR28 raw and cooked pairs.
    for (name, factor) in [
        ("white rice", 2.8),
        ("brown rice", 3.3),
        ("spaghetti", 2.35),
        ("lentils", 2.95),
        ("red lentils", 2.95),
        ("chickpeas", 2.2),
        ("black beans", 2.6),
        ("pinto beans", 2.4),
        ("quinoa", 3.05),
        ("chicken breast", 0.73),
        ("chicken thigh", 0.72),
        ("ground beef", 0.64),
        ("potato", 0.91),
        ("broccoli", 0.98),
        ("onion", 0.85),
    ] {
        let cooked = food(name).cooked_yield();
        assert_eq!(cooked.factor, factor, "{name}");
        assert_eq!(cooked.absorbs_water, factor > 1.0, "{name}");
        assert!(!cooked.source.is_empty());
    }
    for name in [
        "cooked rice",
        "cooked lentils",
        "butter",
        "salt",
        "sugar",
        "olive oil",
        "tinned chickpeas",
        "flour",
        "wheat gluten",
        "chow mein noodles",
    ] {
        assert_eq!(food(name).cooked_yield().factor, 1.0, "{name}");
    }
    for name in [
        "water",
        "milk",
        "chicken stock",
        "olive oil",
        "coconut milk",
        "lemon juice",
        "red wine",
        "soy sauce",
    ] {
        assert!(food(name).cooked_yield().is_liquid, "{name}");
    }
    for name in [
        "cucumber",
        "rice",
        "butter",
        "milk powder",
        "flour",
        "egg",
        "tofu",
        "honey",
    ] {
        assert!(!food(name).cooked_yield().is_liquid, "{name}");
    }
}

#[test]
fn each_code_prints_as_it_is_typed() {
    assert_eq!(Code(4506).to_string(), "NDB 04506");
    assert_eq!("ndb 4506".parse(), Ok(Code(4506)));
}
