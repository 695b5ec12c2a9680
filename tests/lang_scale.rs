//! What is said at the scale and around the bin: many wordings with one meaning, and talk that has none.

mod spoken;

use hobside::lang::{ErrorKind, Parsed, Sense, Vocabulary, parse};
use spoken::{printed, without_reasons};

fn household() -> Vocabulary {
    let mut words = Vocabulary::new();
    for batch in [
        "lentil dal",
        "brown rice",
        "white beans",
        "leek soup",
        "salsa",
        "beef stew",
    ] {
        words.add(Sense::Batch, batch);
    }
    for container in ["blue pot", "glass jar", "steel bowl"] {
        words.add(Sense::Container, container);
    }
    for person in ["Ana", "Robin"] {
        words.add(Sense::Person, person);
    }
    words
}

fn read(text: &str) -> Parsed {
    parse(text, &household())
}

/// Every wording books this, unasked.
#[track_caller]
fn books(meaning: &str, wordings: &[&str]) {
    for wording in wordings {
        let parsed = read(wording);
        let best = parsed.best();
        assert!(best.errors.is_empty(), "{wording:?}: {:?}", best.errors);
        let plainly = printed(&without_reasons(&best.commands));
        if plainly != meaning {
            assert_eq!(printed(&best.commands), meaning, "{wording:?}");
        }
        assert!(best.sure, "{wording:?} is not sure: {:?}", best.reasons);
    }
}

/// Every wording is doubted, and this is what it could mean.
#[track_caller]
fn doubts(meaning: &str, is: fn(&ErrorKind) -> bool, wordings: &[&str]) {
    for wording in wordings {
        let parsed = read(wording);
        let best = parsed.best();
        let error = best.errors.first().expect("a doubt is told");
        assert!(is(&error.kind), "{wording:?}: {error:?}");
        assert!(!best.sure && best.weighing_like, "{wording:?}");
        assert_eq!(printed(&best.commands), meaning, "{wording:?}");
    }
}

/// Nothing is booked or asked unasked.
#[track_caller]
fn leaves_alone(wordings: &[&str]) {
    for wording in wordings {
        let parsed = read(wording);
        let best = parsed.best();
        assert!(!best.sure && !best.weighing_like, "{wording:?}: {best:?}");
    }
}

#[test]
fn a_jar_before_and_after() {
    books(
        "17 g honey",
        &[
            "honey jar was 418 now 401",
            "honey jar 418 before, 401 after",
            "jar of honey 418 → 401",
            "honey jar: started at 418, ended at 401",
            "the honey jar went from 418 to 401",
            "honey jar 401, was 418",
            "honey jar weighs 401 now, was 418 before i started",
            "honey jar 418 before breakfast and 401 after",
            "honey 418g before 401g after",
        ],
    );
    books(
        "45 g salsa",
        &[
            "salsa tub 655 before, 610 after my toast",
            "had salsa straight from the tub, 655 to 610",
            "blue pot with salsa 655 before 610 after",
        ],
    );
    let gained: fn(&ErrorKind) -> bool = |kind| matches!(kind, ErrorKind::JarGained { .. });
    doubts(
        "13 g honey",
        gained,
        &["honey jar was 418 now 431", "honey 418 → 431"],
    );
}

#[test]
fn readings_that_run_on() {
    books(
        "142 g dal, 160 g rice",
        &[
            "plate 388, dal 530, rice 690",
            "didnt zero it: plate 388 dal 530 rice 690",
            "plate weighs 388. plus dal 530. plus rice 690",
            "my plate's 388 empty. dal 530. rice 690",
            "scale says 388 with just the plate then 530 after dal then 690 after rice",
            "plate(388) dal(530) rice(690)",
            "just the plate 388, plate plus dal 530, plus rice 690",
            "put my plate on (388) then the dal (530) and then some rice so now its at 690",
        ],
    );
    books(
        "286 g soup",
        &[
            "soup and bowl together 688, bowl 402",
            "688 with the bowl and the bowl is 402, soup",
            "empty bowl 402. w/ soup its 688",
            "soup 688 minus the bowl 402",
            "bowl was 402 to start, now 688 with the soup in",
        ],
    );
    books(
        "286 g soup for Ana",
        &["Ana's bowl is 402 empty, 688 with the soup in"],
    );
    books(
        "150 g dal, 120 g rice",
        &[
            "150 dal, zeroed, 120 rice",
            "150 dal tare 120 rice",
            "zero 150 dal zero 120 rice",
        ],
    );
    books(
        "190 g dal, 140 g rice",
        &[
            "Bowl at zero. dal 190. With rice together 330.",
            "dal 190, total with rice 330",
            "plate zeroed, dal to 190, then rice up to 330",
            "bowl on, tared: 190 dal, w/ rice 330",
        ],
    );
    let fell: fn(&ErrorKind) -> bool = |kind| matches!(kind, ErrorKind::ScaleFell { .. });
    doubts(
        "361 g dal",
        fell,
        &["plate 388, dal 361", "empty bowl 388. w/ dal its 361"],
    );
}

#[test]
fn what_is_weighed_with_its_container() {
    books(
        "300 g soup in the steel bowl",
        &[
            "my soup in the steel bowl 300",
            "had soup in the steel bowl, 300 on the scale",
            "steel bowl with soup 300, ate it all",
            "ate soup out of the steel bowl, it was 300 with the bowl",
        ],
    );
    books(
        "dal weighed 2650 g in the blue pot left",
        &[
            "blue pot + dal = 2650",
            "dal's in the blue pot, scale says 2650",
            "blue pot with the dal in it reads 2650",
            "the dal in the blue pot comes to 2650 all in",
        ],
    );
    let untold: fn(&ErrorKind) -> bool = |kind| matches!(kind, ErrorKind::UnknownTare(_));
    doubts(
        "",
        untold,
        &["had soup from the green tub, 415 with the tub"],
    );
}

#[test]
fn what_the_scale_says_is_left() {
    books(
        "recount: dal 1600 g",
        &[
            "only 1600 dal left",
            "1600 g of dal left by the scale",
            "recounted the dal, its 1600",
            "there's 1600 dal left, checked on the scale",
        ],
    );
    books(
        "recount: dal 1600 g anyway",
        &[
            "dal's down to 1600",
            "you say 1840 dal but its 1600",
            "dal is 1600 on the scale not 1840",
        ],
    );
    books(
        "recount: dal 1600 g; rice 1300 g",
        &[
            "just reweighed everything. dal 1600, rice 1300",
            "recount: dal 1600 and rice 1300 please",
        ],
    );
}

#[test]
fn losses_told_in_a_sentence() {
    books(
        "binned all the salsa",
        &[
            "the salsa went off, chucked it all",
            "ana dropped the jar, all the salsa gone, floor is red",
            "mould on the salsa so in the bin it goes, all of it",
            "salsa smells off, threw it out",
        ],
    );
    books(
        "binned 150 dal",
        &[
            "burnt 150 of the dal reheating it, bin",
            "fed the dog 150 dal",
            "spilled 150 dal everywhere",
            "gave 150 dal to the chickens",
            "dal was burnt at the bottom, scraped 150 into the bin",
            "tom knocked over the dal, lost about 150",
            "dog nicked 150 off the counter, dal",
            "poured 150 dal down the sink",
        ],
    );
    leaves_alone(&[
        "dropped my phone in the soup",
        "should we bin the dal?",
        "spilled soup all over my jeans",
        "lost 2 kg on the soup diet",
        "dont throw out the dal",
        "dropped off 200 soup at mums",
        "who knocked over the salsa",
    ]);
}

#[test]
fn moves_in_many_words() {
    for (said, moved) in [
        ("put 500 dal in the freezer", "move 500 dal to the freezer"),
        (
            "took 300 dal out of the freezer",
            "thaw 300 dal from the freezer",
        ),
        (
            "bagged up 600 dal for the freezer",
            "move 600 dal to the freezer",
        ),
        (
            "moved the beans to the fridge",
            "move all the beans to the fridge",
        ),
        ("thaw 500 g of dal for thursday", "thaw 500 g dal"),
        (
            "froze 2 bags of rice, 400 each",
            "move all the rice to the freezer in bags 400 g, 400 g",
        ),
    ] {
        books(moved, &[said]);
    }
}

#[test]
fn the_rest_is_not_there_yet() {
    for (capability, wordings) in [
        (
            "label dal",
            &["print a label for the dal", "need a label for the dal"][..],
        ),
        ("label 650 g dal", &["need a label for the dal, 650g"]),
    ] {
        books(capability, wordings);
    }
    leaves_alone(&[
        "can you take the dal out of the freezer?",
        "dont forget to freeze the rest of the soup",
        "put the soup in the fridge",
        "the rice timer just went off",
        "double the dal next time",
    ]);
}

#[test]
fn raw_and_cooked_in_one_breath() {
    books(
        "batch quinoa\n200 g dry quinoa\ncooked 560 g",
        &[
            "200 g dry quinoa became 560",
            "200 g dry quinoa cooked down to 560 g",
        ],
    );
}

#[test]
fn numbers_of_other_things_are_left_alone() {
    leaves_alone(&[
        "gas meter was 4021 now 4188",
        "I was 82.4 this morning, down to 81 hopefully",
        "milk was 120 now 145",
        "the 402 bus was late, now on the 388",
        "temperature is down to 60",
        "i'm about to have 70 dal",
    ]);
}

#[test]
fn a_dish_in_a_known_vessel_may_be_what_is_left_or_a_plate() {
    books(
        "salsa weighed 455 g in the glass jar left or eaten",
        &[
            "salsa in the glass jar 455",
            "salsa 455 incl the glass jar",
            "455 salsa glass jar and all",
            "glass jar with salsa, 455",
        ],
    );
    books(
        "salsa weighed 455 g in the glass jar left",
        &["salsa in the glass jar weighs 455"],
    );
    books(
        "recount: salsa 455 g in the glass jar",
        &["salsa left in the glass jar 455"],
    );
}

#[test]
fn readings_run_on_in_a_known_vessel() {
    books(
        "455 g rice in the steel bowl, 135 g salsa",
        &[
            "rice in the steel bowl 455 then salsa on top 590",
            "rice in the steel bowl 455, total with the salsa 590",
            "rice in the steel bowl 455 plus salsa 590",
        ],
    );
    let asked = read("rice in the steel bowl 455, salsa 590");
    let best = asked.best();
    assert!(matches!(best.errors[0].kind, ErrorKind::OnTop { .. }));
    assert_eq!(best.commands.len(), 2);
}

#[test]
fn a_jar_stands_beside_a_plate() {
    books(
        "12 g olive oil\n150 rice",
        &["olive oil bottle 531 before, 519 after, and 150 rice"],
    );
    books(
        "40 g salsa, 90 g beans",
        &["both jars: salsa 655->615, beans 930->840"],
    );
    for talk in [
        "both jars: lids 2, keys 3, 40 quid",
        "had 130 soup and then 44 whatever",
    ] {
        assert!(!read(talk).best().sure, "{talk}");
    }
}

#[test]
fn the_numbers_of_a_list_weigh_nothing() {
    books(
        "130 beans, 55 salsa",
        &[
            "1) 130 beans 2) 55 salsa",
            "1. 130 beans 2. 55 salsa",
            "(1) 130 beans (2) 55 salsa",
            "had #1 130 beans #2 55 salsa",
        ],
    );
    for talk in ["1) keys 2) phone 3) bag", "beans (2) salsa (3)"] {
        assert!(!read(talk).best().sure, "{talk}");
    }
}

#[test]
fn what_is_written_down_for_people_they_had() {
    books(
        "160 dal\n140 dal for Robin",
        &["put me down for 160 dal and Robin for 140"],
    );
    books(
        "200 stew for Ana\n90 rice for Robin",
        &["put Ana down for 200 stew and Robin for 90 rice"],
    );
    books("210 soup for Ana", &["Ana> 210 soup", "Ana: 210 soup"]);
    for talk in [
        "put me down for 2 tickets and Robin for 3",
        "put Ana down for the 14th",
    ] {
        assert!(!read(talk).best().sure, "{talk}");
    }
}
