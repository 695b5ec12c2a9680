//! What names mean: many spellings, one food.

use hobside::foods::{Ambiguity, Code, Found, How, Match, table};

#[track_caller]
fn taken(name: &str) -> Match {
    match table().find(name) {
        Found::Taken(found) => found,
        other => panic!("{name}: {other:?}"),
    }
}

#[track_caller]
fn all_mean(code: u32, names: &[&str]) {
    for name in names {
        assert_eq!(taken(name).code, Code(code), "{name}");
    }
}

#[track_caller]
fn description(code: Code) -> &'static str {
    &table().get(code).expect("a food of the table").description
}

#[test]
fn staples_as_cooks_type_them() {
    all_mean(
        20044,
        &[
            "rice",
            "white rice",
            "White Rice",
            "rice, white",
            "uncooked white rice",
        ],
    );
    all_mean(
        16144,
        &["red lentils", "red lentil", "Red-Lentils", "lentils, red"],
    );
    all_mean(
        16069,
        &["brown lentils", "lentils", "dry lentils", "green lentils"],
    );
    all_mean(
        16056,
        &[
            "chickpeas",
            "dried chickpeas",
            "chick-peas",
            "garbanzo beans",
        ],
    );
    all_mean(4506, &["sunflower oil", "oil, sunflower"]);
    all_mean(4582, &["rapeseed oil", "canola oil"]);
    all_mean(4053, &["olive oil", "extra virgin olive oil", "oil, olive"]);
    all_mean(12118, &["coconut milk", "tinned coconut milk"]);
    all_mean(11298, &["parsnip", "parsnips", "PARSNIPS", "raw parsnip"]);
    all_mean(
        1123,
        &["egg", "eggs", "large egg", "large eggs", "whole egg"],
    );
    all_mean(1001, &["butter", "salted butter"]);
    all_mean(1145, &["unsalted butter"]);
    all_mean(1077, &["milk", "whole milk", "milk, whole"]);
    all_mean(1088, &["buttermilk", "butter milk"]);
    all_mean(19296, &["honey", "raw honey"]);
    all_mean(2047, &["salt", "table salt"]);
    all_mean(19335, &["sugar", "caster sugar"]);
    all_mean(20081, &["flour", "plain flour", "all-purpose flour"]);
    all_mean(12166, &["tahini"]);
    all_mean(16123, &["soy sauce", "soya sauce"]);
    all_mean(6179, &["fish sauce"]);
}

#[test]
fn names_of_several_countries() {
    all_mean(11477, &["courgette", "courgettes", "zucchini"]);
    all_mean(11209, &["aubergine", "eggplant"]);
    all_mean(11959, &["rocket", "arugula"]);
    all_mean(
        11165,
        &[
            "coriander",
            "cilantro",
            "fresh coriander",
            "chopped coriander leaves",
        ],
    );
    all_mean(
        11291,
        &["spring onion", "scallions", "spring onions, finely sliced"],
    );
    all_mean(11435, &["swede", "rutabaga"]);
    all_mean(11300, &["mangetout", "snow peas"]);
    all_mean(15149, &["prawns", "shrimp", "raw prawns"]);
    all_mean(20027, &["cornflour", "cornstarch", "corn starch"]);
    all_mean(18372, &["bicarbonate of soda", "baking soda"]);
    all_mean(11546, &["tomato puree", "tomato paste"]);
    all_mean(11547, &["passata"]);
    all_mean(
        23572,
        &["beef mince", "ground beef", "minced beef", "mince"],
    );
    all_mean(17224, &["lamb mince", "ground lamb"]);
    all_mean(5305, &["turkey mince", "ground turkey", "minced turkey"]);
    all_mean(11821, &["capsicum", "bell pepper"]);
    all_mean(11529, &["tomatoes", "fresh tomatoes"]);
    all_mean(
        11531,
        &[
            "tinned tomatoes",
            "canned tomatoes",
            "tinned chopped tomatoes",
        ],
    );
}

#[test]
fn how_it_was_cut_is_passed_over() {
    all_mean(
        11282,
        &[
            "onion",
            "onions",
            "chopped onion",
            "onion, chopped",
            "finely chopped onions",
            "large onion",
            "onions, peeled and diced",
        ],
    );
    all_mean(
        11124,
        &["carrot", "grated carrot", "carrots, peeled and sliced"],
    );
    all_mean(
        11215,
        &[
            "garlic",
            "minced garlic",
            "garlic cloves, crushed",
            "garlic, finely chopped",
        ],
    );
    all_mean(
        2044,
        &["fresh basil", "basil leaves", "basil", "torn basil"],
    );
    all_mean(
        5062,
        &[
            "chicken breast",
            "boneless skinless chicken breast",
            "chicken breasts, diced",
            "breast of chicken",
            "raw chicken breast",
        ],
    );
    all_mean(
        5096,
        &[
            "chicken thigh",
            "skinless chicken thighs",
            "thigh of chicken",
        ],
    );
    all_mean(1009, &["cheddar", "grated cheddar", "cheddar cheese"]);
    all_mean(
        2030,
        &[
            "black pepper",
            "freshly ground black pepper",
            "ground black pepper",
        ],
    );
}

#[test]
fn an_asked_state_is_honoured() {
    all_mean(
        20045,
        &[
            "cooked rice",
            "boiled rice",
            "rice, cooked",
            "steamed rice",
            "cooked white rice",
        ],
    );
    all_mean(20037, &["cooked brown rice"]);
    all_mean(16070, &["cooked lentils", "boiled lentils"]);
    all_mean(16057, &["cooked chickpeas", "boiled chickpeas"]);
    all_mean(20121, &["cooked pasta", "boiled pasta", "cooked spaghetti"]);
    all_mean(11299, &["cooked parsnips", "boiled parsnip"]);
    all_mean(11234, &["boiled kale", "cooked kale"]);
    all_mean(11091, &["steamed broccoli"]);
    all_mean(5064, &["roast chicken breast", "roasted chicken breast"]);
    all_mean(5098, &["chicken thigh roasted", "roast chicken thighs"]);
    all_mean(5099, &["stewed chicken thigh"]);
    all_mean(15237, &["grilled salmon", "baked salmon"]);
    all_mean(1129, &["boiled eggs", "hard boiled egg"]);
    all_mean(11312, &["frozen peas"]);
    all_mean(2003, &["dried basil"]);
    all_mean(2042, &["dried thyme"]);
    all_mean(2049, &["fresh thyme"]);
    all_mean(16014, &["dried black beans", "dry black beans"]);
    all_mean(16015, &["cooked black beans"]);
    for name in [
        "tinned chickpeas",
        "canned chickpeas, drained",
        "tinned kidney beans",
        "tinned tuna",
    ] {
        assert!(description(taken(name).code).contains("canned"), "{name}");
    }
}

#[test]
fn some_words_are_kinds_of_one_food_and_cuts_of_another() {
    all_mean(14429, &["hot water", "boiling water", "cold water"]);
    all_mean(1077, &["hot milk", "whole milk"]);
    all_mean(12061, &["whole almonds", "ground almonds"]);
    all_mean(2011, &["whole cloves", "ground cloves"]);
    all_mean(15015, &["cod fillet", "cod fillets, skinless"]);
    for (name, part) in [
        ("pork fillet", "tenderloin"),
        ("beef fillet", "tenderloin"),
        ("hot pepper", "hot"),
    ] {
        match table().find(name) {
            Found::Taken(found) => assert!(description(found.code).contains(part), "{name}"),
            Found::Several(codes) => {
                assert!(
                    codes.iter().all(|&code| description(code).contains(part)),
                    "{name}: {codes:?}"
                );
            }
            Found::Nothing => {}
        }
    }
}

#[test]
fn an_asked_state_that_the_table_lacks_is_offered_not_taken() {
    for name in [
        "roasted parsnip",
        "roasted sweet potato",
        "tinned lentils",
        "fried parsnips",
    ] {
        let Found::Several(codes) = table().find(name) else {
            panic!("{name}")
        };
        assert!((1..=5).contains(&codes.len()), "{name}");
    }
}

#[test]
fn dry_or_cooked_is_said() {
    for (name, other) in [
        ("rice", 20045),
        ("lentils", 16070),
        ("chickpeas", 16057),
        ("pasta", 20121),
        ("quinoa", 20137),
    ] {
        let expected = Ambiguity::DryOrCooked {
            taken_dry: true,
            other: Code(other),
        };
        assert_eq!(taken(name).ambiguity, Some(expected), "{name}");
    }
    for (name, other) in [
        ("onion", 11283),
        ("parsnip", 11299),
        ("chicken breast", 5064),
        ("ground beef", 23575),
    ] {
        let expected = Ambiguity::RawOrCooked {
            taken_raw: true,
            other: Code(other),
        };
        assert_eq!(taken(name).ambiguity, Some(expected), "{name}");
    }
    for name in [
        "cooked rice",
        "dry rice",
        "raw onion",
        "boiled egg",
        "honey",
        "olive oil",
    ] {
        let ambiguity = taken(name).ambiguity;
        assert!(
            matches!(ambiguity, None | Some(Ambiguity::Kinds(_))),
            "{name}: {ambiguity:?}"
        );
    }
}

#[test]
fn kinds_are_said() {
    assert_eq!(taken("butter").kinds, [Code(1145)]);
    assert!(matches!(taken("milk").ambiguity, Some(Ambiguity::Kinds(_))));
    assert!(taken("chicken thigh").kinds.contains(&Code(5091)));
    assert!(taken("ground beef").kinds.len() >= 3);
}

#[test]
fn words_that_all_match_take_the_plain_kind() {
    for (name, expected) in [
        ("beet greens", "Beet greens, raw"),
        ("sweet potato leaves", "Sweet potato leaves, raw"),
        ("yam", "Yam, raw"),
        ("5% beef mince", "Beef, ground, 95% lean meat / 5% fat, raw"),
        ("turnip greens", "Turnip greens, raw"),
        (
            "broiler chicken giblets",
            "Chicken, broilers or fryers, giblets, raw",
        ),
    ] {
        assert_eq!(description(taken(name).code), expected, "{name}");
    }
}

#[test]
fn dishes_brands_and_parts_are_not_taken_for_the_food() {
    for name in [
        "lentil soup",
        "lemonade",
        "roast lamb",
        "beans",
        "duck breast",
        "noodles",
        "fish",
    ] {
        assert!(
            matches!(table().find(name), Found::Several(_)),
            "{name}: {:?}",
            table().find(name)
        );
    }
    for name in [
        "lentil dal",
        "fish pie",
        "apple crumble",
        "asdfgh",
        "gochujang paste",
        "",
        "the",
        "chopped",
        "raw",
        "of",
        "%",
        "12",
    ] {
        assert_eq!(table().find(name), Found::Nothing, "{name}");
    }
    // A part, a trimming or a dry mix is not the thing.
    for (name, not) in [
        ("domestic lamb", "separable fat"),
        ("broiler chicken", "giblets"),
        ("chicken broth soup", "dry"),
        ("stewed chicken thigh", "skin ("),
    ] {
        if let Found::Taken(found) = table().find(name) {
            assert!(!description(found.code).contains(not), "{name}");
        }
    }
    // Whole words only: "rape" stands in "grape", "oat" in "goat".
    assert_eq!(table().find("rape"), Found::Nothing);
    assert_eq!(table().find("mayon"), Found::Nothing);
}

#[test]
fn order_says_what_it_is() {
    all_mean(19120, &["milk chocolate"]);
    all_mean(1102, &["chocolate milk"]);
}

#[test]
fn numbers_name_foods() {
    for text in ["NDB 16069", "ndb16069", " NDB 16069 "] {
        let found = taken(text);
        assert_eq!((found.code, found.how), (Code(16069), How::Number));
    }
    assert_eq!(table().find("NDB 99999"), Found::Nothing);
}
