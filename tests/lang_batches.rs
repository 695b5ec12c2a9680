//! Batches as people write them down: the weighing in any words and order, what stands around the
//! ingredients, lines that hold several.

use hobside::lang::syntax::{Command, LineContent, NewBatch};
use hobside::lang::{Vocabulary, parse};

#[track_caller]
fn batch(text: &str) -> NewBatch {
    let parsed = parse(text, &Vocabulary::new());
    match parsed.best().commands.first() {
        Some(Command::Batch(batch)) => batch.clone(),
        other => panic!("{text:?} is no batch: {other:?}"),
    }
}

/// Readings less tares.
fn net_grams(batch: &NewBatch) -> Vec<f64> {
    let net = |weighing: &hobside::lang::syntax::Weighing| {
        let gross: f64 = weighing.readings_grams.iter().sum();
        let tares = weighing.tares.iter();
        let tare: f64 = tares
            .map(|tare| tare.count * tare.each_grams.unwrap_or(f64::NAN))
            .sum();
        gross - tare
    };
    batch.weighings.iter().map(net).collect()
}

/// The lines; a question mark before one that is not read.
#[track_caller]
fn lines(text: &str, expected: &[&str]) {
    let shown: Vec<String> = batch(text)
        .lines
        .iter()
        .map(|line| match &line.content {
            LineContent::Unclear(_) => format!("? {}", line.text),
            LineContent::Ingredient { .. } => line.to_string(),
        })
        .collect();
    assert_eq!(shown, expected, "{text:?}");
}

#[test]
fn gross_tare_and_net_in_everyday_words() {
    for weighing in [
        "gross weight 2310 g, pot weight 470 g",
        "gross 2310 tare 470",
        "gross 2310 g; tare 470 g",
        "gross: 2310, tare: 470, net: 1840",
        "with pot 2310 pot 470",
        "2310 incl. pot (470)",
        "2310 in pot 470",
        "2310 minus the pot 470",
        "pot weighs 470 and full 2310",
        "pot 470, total with pot 2310",
        "empty pot 470 full pot 2310",
        "full pot 2.31 kg empty 0.47",
        "2310 full 470 empty",
        "pot and all 2310, pot 470",
        "weighs 2310 including the 470 g pot",
        "cooked weight incl pot = 2310g (pot=470g)",
        "gross weight with lid 2310, pot + lid 470",
        "scale says 2310 with the pot in it, pot is 470",
        "total 2310 less pot at 470",
        "cooked 2310 - pot 470",
        "2310-470",
        "weight 1840 net",
        "net 1840",
        "1.84kg cooked",
        "came to 1840",
        "makes 1840",
        "gives 1840",
        "final 1840g",
        "final weight (without pot) 1840",
        "yields 1840",
        "total weight 1840",
        "weight after cooking 1840",
        "baked 1840",
        "cooked 1.84 kg drained",
        "cooked net weight: 1,840 g",
        "it all came to 1.84 kg",
        "cooked 1.840",
        "cooked 2 bowls 1240 and 1000, bowls 200 each",
        "cooked 1840: 1000 fridge, 840 freezer",
        "cooked 1840 (1000 in the fridge, 840 in the freezer)",
        "cooked 1000 fridge, 840 freezer",
        "grilled 1840",
        "simmered 1.84 kg",
        "1840g after boiling",
        "braised 1840 net",
        "pan and food 2310, empty pan 470",
        "pan + food 2310, pan 470",
        "food and pot 2310, pot 470",
        "cooked roughly 1840",
        "cooked 2310 (incl. pan, 470)",
        "cooked 1500-500, 1100-260",
        "cooked (1500 - 500) + (1100 - 260)",
        "cooked 2 trays: 1500 less 500, 1100 less 260",
        "cooked: two trays, 1500 + 1100, trays 500 and 260",
        "brutto 2310, Topf 470",
        "Gewicht netto 1840",
        "poids net 1840",
    ] {
        for text in [
            format!("batch soup, 500 g carrots, {weighing}"),
            format!("batch soup\n500 g carrots\n{weighing}"),
            format!("batch soup: 500 g carrots; {weighing}"),
        ] {
            let read = batch(&text);
            assert_eq!(net_grams(&read), [1840.0], "{text:?}");
            assert_eq!(read.lines.len(), 1, "{text:?}: {:?}", read.lines);
        }
    }
    // The empty pot comes first, on a line of its own.
    for text in [
        "batch soup\npot 470\n500 g carrots\ncooked 2310",
        "batch soup\npot empty: 470\n500 g carrots\npot full: 2310",
        "batch soup, tare is 470, 500 g carrots, cooked with pot 2310, fridge",
    ] {
        assert_eq!(net_grams(&batch(text)), [1840.0], "{text:?}");
    }
}

#[test]
fn what_a_weighing_does_not_say_is_not_guessed() {
    assert_eq!(
        net_grams(&batch("batch soup, 500 g carrots, cooked 250, cooked 260")),
        [250.0, 260.0]
    );
    let gross = batch("batch soup, 500 g carrots, gross 2310");
    assert!(gross.weighings[0].gross && gross.weighings[0].tares.is_empty());
    for odd in ["cooked 1.84", "cooked -1500", "cooked 2310, 2 bags 18"] {
        let text = format!("batch soup\n500 g carrots\n{odd}");
        lines(&text, &["500 g carrots", &format!("? {odd}")]);
        assert!(batch(&text).weighings.is_empty(), "{text:?}");
    }
    lines(
        "batch soup\n500 g carrots\npot 470",
        &["500 g carrots", "? pot 470"],
    );
}

#[test]
fn gross_tare_and_net_that_disagree_are_two_weighings() {
    for odd in [
        "gross 2310, tare 470, net 1500",
        "net 1500, gross 2310, tare 470",
        "tare 470, net 1500, gross 2310",
        "tare 470, gross 2310, net 1500",
        "2310 gross, 470 tare, 1500 net",
    ] {
        for text in [
            format!("batch soup\n500 g carrots\n{odd}"),
            format!("batch soup, 500 g carrots, {odd}"),
        ] {
            assert_eq!(net_grams(&batch(&text)), [1500.0, 1840.0], "{text:?}");
            lines(&text, &["500 g carrots"]);
        }
    }
    // The empty pot was told, and the food is weighed without it.
    let apart = batch("batch soup\nempty pot 470\n500 g carrots\nnet 1500");
    assert_eq!(net_grams(&apart), [1500.0]);
}

#[test]
fn a_weight_behind_an_ingredient_by_its_cooking_is_not_taken_for_the_pot() {
    lines(
        "batch wraps\n1 kg thighs, grilled 700 g\n200 g rice",
        &["1000 g thighs", "? grilled 700 g", "200 g rice"],
    );
    lines(
        "batch wraps\n300 g grilled peppers\nroasted aubergine 250 g",
        &["300 g grilled peppers", "250 g roasted aubergine"],
    );
}

#[test]
fn names_with_numbers_and_marks() {
    for (text, name) in [
        ("batch no. 9 curry!\n500 g carrots", "no. 9 curry"),
        (
            "batch Gran's 5-spice stew (v3), raw\n500 g carrots",
            "Gran's 5-spice stew (v3)",
        ),
        (
            "batch granola: crunchy & plain\n500 g oats",
            "granola: crunchy & plain",
        ),
    ] {
        let read = batch(text);
        assert_eq!(read.name.text, name, "{text:?}");
        assert_eq!(read.lines.len(), 1, "{text:?}: {:?}", read.lines);
    }
    // An ingredient behind the colon is none of the name.
    lines(
        "batch soup: salt\n500 g carrots",
        &["salt", "500 g carrots"],
    );
}

#[test]
fn several_batches_in_one_message() {
    let text = "batch dal\n500 g lentils\ncooked 1500\nbatch couscous\n300 g couscous\ncooked 900\n\
                batch slaw raw\n400 g cabbage";
    let parsed = parse(text, &Vocabulary::new());
    let names: Vec<(&str, usize)> = parsed
        .best()
        .commands
        .iter()
        .map(|command| match command {
            Command::Batch(batch) => (batch.name.text.as_str(), batch.lines.len()),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(names, [("dal", 1), ("couscous", 1), ("slaw", 1)]);
}

#[test]
fn a_method_needs_no_colon() {
    lines(
        "batch curry\n500 g lentils\nDirections\nFry in 2 tbsp oil at 200C\nServe 4 at once.",
        &["500 g lentils"],
    );
}

#[test]
fn several_vessels_weighed_one_by_one() {
    for vessels in [
        "dish 1: 1500 g, tare 500 g\ndish 2: 1100 g, tare 260 g",
        "dish 1 = 1500, dish 1 empty 500\ndish 2 = 1100, dish 2 empty 260",
        "first casserole: 1500, tare 500\nsecond casserole: 1100, tare 260",
        "tin A: 1500 g less 500 g\ntin B: 1100 g less 260 g",
        "bowl 1: net 1000\nbowl 2: net 840",
    ] {
        let text = format!("batch gratin\n500 g potatoes\n{vessels}");
        assert_eq!(net_grams(&batch(&text)), [1840.0], "{text:?}");
        lines(&text, &["500 g potatoes"]);
    }
}

#[test]
fn a_second_weight_of_an_ingredient() {
    lines(
        "batch salad\n1 can lentils, drained weight 250 g\n1 jar artichokes, net weight 280 g\n\
         1 tin peas (300 g, drained 190 g)\n2 cans sardines (each 120 g, drained 85 g)\n\
         3 tins mussels in brine (110 g each, 65 g drained)\n1 tin pineapple 430g (dr. wt. 260g)\n\
         2 x 400 g tins lentils, drained 240 g each\n600 g cherries, pitted 520 g\n\
         2 mangoes (weighed 410 g peeled)\n3 kg squash (2.1 kg after trimming)\n1 tin corn net wt. 285 g",
        &[
            "1 can (250 g drained) lentils",
            "1 jar (280 g) artichokes",
            "1 can (190 g drained) peas",
            "2 can (170 g drained) sardines",
            "3 can (195 g drained) mussels in brine",
            "1 can (260 g drained) pineapple",
            "2 can (480 g drained) lentils",
            "520 g cherries",
            "2 (410 g) mangoes",
            "2100 g squash",
            "1 can (285 g) corn",
        ],
    );
    // Of one tin or of both is not to be guessed; nor is a drained weight above what was bought.
    lines(
        "batch salad\n2 tins olives (drained 110 g)\n500 g macaroni, drained 1150 g",
        &[
            "2 can (110 g drained) to 2 can (220 g drained) olives",
            "? 500 g macaroni, drained 1150 g",
        ],
    );
    // What stands apart weighs the pot.
    for weighing in ["net 1150", "drained weight 1150 g", "net weight 1150 g"] {
        for text in [
            format!("batch pasta\n500 g macaroni\n{weighing}"),
            format!("batch pasta, 500 g macaroni, {weighing}"),
            format!("batch pasta\n1 jar pesto\n500 g macaroni\n{weighing}"),
        ] {
            assert_eq!(net_grams(&batch(&text)), [1150.0], "{text:?}");
        }
    }
}

#[test]
fn amounts_in_several_goes_and_from_one_to_another() {
    lines(
        "batch buns\n2 & 1/4 cups oats\n1 cup + 3 tbsp cream\n2 tbsp plus 1 tsp honey\n1 cup and 2 tbsp sugar\n\
         1/2 x 500 g carton passata\n250g x 3 mushrooms\n1 cup walnuts [120g]\n1/2-1 tsp salt\n\
         2 or 3 leeks\n4 to 5 cloves garlic\n2-3 medium beetroots",
        &[
            "2.25 cup oats",
            "1 cup + 3 tbsp cream",
            "2 tbsp + 1 tsp honey",
            "1 cup + 2 tbsp sugar",
            "0.5 carton (500 g each) passata",
            "3 (250 g each) mushrooms",
            "1 cup (120 g) walnuts",
            "0.5 tsp to 1 tsp salt",
            "2 to 3 leeks",
            "4 clove to 5 clove garlic",
            "2 medium to 3 medium beetroots",
        ],
    );
}

#[test]
fn a_minus_is_never_dropped() {
    lines(
        "batch soup, 500 g carrots, -5 g salt, salt - 5 g",
        &["500 g carrots", "? -5 g salt", "5 g salt"],
    );
    lines(
        "batch soup\n-500 g carrots\n–20 g butter\nsalt -5 g\n- 3 g cumin\n−30 g oil",
        &[
            "500 g carrots",
            "20 g butter",
            "? salt -5 g",
            "3 g cumin",
            "? −30 g oil",
        ],
    );
    for text in [
        "dal + -5 g salt",
        "dal + - 5 g salt",
        "add -5 g salt to the dal",
    ] {
        let vocabulary = Vocabulary::new().with(hobside::lang::Sense::Batch, "dal");
        let parsed = parse(text, &vocabulary);
        match parsed.best().commands.first() {
            Some(Command::Add { lines, .. }) => {
                assert!(
                    matches!(lines[0].content, LineContent::Unclear(_)),
                    "{text:?}"
                );
            }
            other => panic!("{text:?}: {other:?}"),
        }
    }
}

#[test]
fn one_line_for_one_ingredient() {
    lines(
        "batch stew, garlic, 2 cloves, onion, 1 medium, chopped (150 g), 1 can chickpeas, drained (240 g)",
        &[
            "2 clove garlic",
            "1 medium (150 g) onion",
            "1 can (240 g drained) chickpeas, drained",
        ],
    );
    lines(
        "batch stew\njuice of 1 lime\nzest of 2 lemons\n1 lemon, juiced\n2 limes, juice only\nthe juice of half a lemon\nyolks of 3 eggs",
        &[
            "1 x lime juice",
            "2 x lemon zest",
            "1 x lemon juice",
            "2 x lime juice",
            "0.5 x lemon juice",
            "3 x egg yolk",
        ],
    );
    lines(
        "batch stew\n1 cup half-and-half\nhalf and half, 100 ml\n2 handfuls spinach\n1 14-oz can tomatoes",
        &[
            "1 cup half-and-half",
            "100 ml half and half",
            "a handful of spinach",
            "1 can (396.893324 g each) tomatoes",
        ],
    );
}

#[test]
fn several_on_one_line() {
    lines(
        "batch stew\n1/2 tsp each cumin and coriander\n1 tbsp each: soy sauce, honey\n200 g each carrots, onions and celery\nsalt and pepper\nmac and cheese",
        &[
            "0.5 tsp cumin",
            "0.5 tsp coriander",
            "1 tbsp soy sauce",
            "1 tbsp honey",
            "200 g carrots",
            "200 g onions",
            "200 g celery",
            "salt",
            "pepper",
            "mac and cheese",
        ],
    );
}

#[test]
fn thousands_with_a_space() {
    lines(
        "batch bread\n1 000 g flour\n1 050 g water\n2 500 g bags rice\n2 500 g flour\n12 500 g carrots",
        &[
            "1000 g flour",
            "1050 g water",
            "2 bag (500 g each) rice",
            "1000 to 2500 g flour",
            "6000 to 12500 g carrots",
        ],
    );
}

#[test]
fn names_end_where_the_batch_begins() {
    for (text, name) in [
        ("batch soup2\n500 g carrots", "soup2"),
        ("batch soup4: 500 g carrots", "soup4"),
        ("batch chili #2, 500 g beef", "chili #2"),
        ("batch soup 2\n500 g carrots", "soup 2"),
        ("batch carrot soup - carrots 500 g", "carrot soup"),
        ("batch dal (no salt) 500 g lentils", "dal (no salt)"),
        ("batch dal (serves 4)\n500 g lentils", "dal"),
        ("batch dal tomorrow\n500 g lentils", "dal"),
        ("batch dal for tomorrow\n500 g lentils", "dal for tomorrow"),
        ("batch dal yesterday, 500 g lentils", "dal"),
        ("batch 🍛\n500 g lentils", ""),
        ("batch: 500 g lentils", ""),
    ] {
        let read = batch(text);
        assert_eq!(read.name.text, name, "{text:?}");
        assert_eq!(read.lines.len(), 1, "{text:?}: {:?}", read.lines);
    }
}

#[test]
fn a_pasted_recipe() {
    let text = "Batch: Bolognese (serves 4)\nPrep time: 10 min\nIngredients:\n• 500g beef mince\n• 1 onion, finely chopped\n\
        • 2 x 400g tins chopped tomatoes\nFor the topping:\n• 50 g parmesan\nMethod:\n1. Brown the mince for 10 minutes.\n\
        2. Add 1 onion.\nWeight: 1450 g";
    lines(
        text,
        &[
            "500 g beef mince",
            "1 onion",
            "2 can (400 g each) chopped tomatoes",
            "50 g parmesan",
        ],
    );
    assert_eq!(net_grams(&batch(text)), [1450.0]);
    lines(
        "batch muffins, 500 g flour, makes 12, serves 4-6, makes 12 muffins, 20 minutes at 180C",
        &["500 g flour"],
    );
}

#[test]
fn the_printed_millilitres_of_a_packet_win() {
    use hobside::lang::syntax::{Amount, LabelBasis, VolumeUnit};
    for text in [
        "packet kefir per serving 3/4 cup (180 ml): 110 cal, 6 g fat, 6 g protein",
        "packet kefir per 6 fl oz (180 mL): 110 cal, 6 g fat, 6 g protein",
        "packet kefir serving size 180 ml (3/4 cup), 110 cal, 6 g fat, 6 g protein",
    ] {
        let parsed = parse(text, &Vocabulary::new());
        let Some(Command::Packet(packet)) = parsed.best().commands.first() else {
            panic!("{text:?}");
        };
        let LabelBasis::Per(Amount::Volume { count, unit, .. }) = &packet.basis else {
            panic!("{text:?}: {:?}", packet.basis);
        };
        assert_eq!((*count, *unit), (180.0, VolumeUnit::Millilitre), "{text:?}");
    }
}

#[test]
fn sizes_and_energies_of_a_packet() {
    use hobside::lang::syntax::{Amount, LabelBasis, LabelField};
    for text in [
        "packet nuts per serving (1/4 cup, 30 g): 180 kcal, 5 g protein, alcohol 2 g",
        "packet nuts serving 12 almonds (30 g): 180 kcal, 5 g protein, alcohol 2 g",
        "packet nuts serving size 30g, servings per container 9, calories 180, protein 5g, alcohol 2g",
        "packet nuts per 30 g: 753/180 kJ/kcal, protein 5, alcohol 2",
        "packet nuts per 30 g: energy (kcal/kJ) 180/753, protein 5, alcohol 2",
    ] {
        let parsed = parse(text, &Vocabulary::new());
        let Some(Command::Packet(packet)) = parsed.best().commands.first() else {
            panic!("{text:?}");
        };
        assert_eq!(
            packet.basis,
            LabelBasis::Per(Amount::Mass(30.0)),
            "{text:?}"
        );
        for value in [
            (LabelField::EnergyKcal, 180.0),
            (LabelField::Protein, 5.0),
            (LabelField::Alcohol, 2.0),
        ] {
            assert!(
                packet.values.contains(&value),
                "{text:?}: {:?}",
                packet.values
            );
        }
    }
}

#[test]
fn packets_in_any_order() {
    use hobside::lang::syntax::{Amount, LabelBasis, LabelField};
    for (text, name, grams) in [
        (
            "packet crackers: per serving (30 g) 130 kcal, 3 g protein",
            "crackers",
            30.0,
        ),
        (
            "packet crackers 130 kcal per 30 g serving, protein 3",
            "crackers",
            30.0,
        ),
        (
            "packet crackers: 130 kcal, 3 g protein per serving of 30 g",
            "crackers",
            30.0,
        ),
        (
            "packet crackers: serving 30 g, 130 kcal, 3 g protein",
            "crackers",
            30.0,
        ),
        (
            "packet crackers, serving size: 30 g, calories 130, protein 3g",
            "crackers",
            30.0,
        ),
        (
            "packet crackers 1 cracker = 30 g, 130 kcal, 3 protein",
            "crackers",
            30.0,
        ),
        ("packet naan per naan 30g 130kcal 3p", "naan", 30.0),
        (
            "packet soup per 1/2 can (30 g): 130 kcal, 3 protein",
            "soup",
            30.0,
        ),
        (
            "packet tofu, firm per 30 g: 130 kcal, 3 protein",
            "tofu, firm",
            30.0,
        ),
        (
            "packet 7 grain bread per 30 g: 130 kcal, 3 protein",
            "7 grain bread",
            30.0,
        ),
        (
            "packet miso <b>paste</b> *dark* per 30 g: 130 kcal, 3 protein",
            "miso <b>paste</b> *dark*",
            30.0,
        ),
        (
            "packet crackers\nEnergy 130 kcal\nProtein 3 g\nper 30 g",
            "crackers",
            30.0,
        ),
    ] {
        let parsed = parse(text, &Vocabulary::new());
        let Some(Command::Packet(packet)) = parsed.best().commands.first() else {
            panic!("{text:?}: {:?}", parsed.best());
        };
        assert_eq!(packet.name.text, name, "{text:?}");
        assert_eq!(
            packet.basis,
            LabelBasis::Per(Amount::Mass(grams)),
            "{text:?}"
        );
        let values = [(LabelField::EnergyKcal, 130.0), (LabelField::Protein, 3.0)];
        assert!(
            values.iter().all(|value| packet.values.contains(value)),
            "{text:?}: {:?}",
            packet.values
        );
    }
}
