//! Wishes in many words.

use crate::lang::spelled::{is_no, means, surely_means};
use crate::lang::syntax::Command;
use crate::lang::{Sense, Vocabulary};

fn kitchen() -> Vocabulary {
    Vocabulary::new()
        .with(Sense::Batch, "lentil dal")
        .with(Sense::Batch, "rice")
        .with(Sense::Batch, "mac and cheese")
        .with(Sense::Person, "Tom")
}

#[test]
fn meals_are_wished_for() {
    for (text, printed) in [
        (
            "4 dinners for 2: dal and rice",
            "4 dinners for 2 from today: dal, rice",
        ),
        (
            "four dinners for two: dal, rice",
            "4 dinners for 2 from today: dal, rice",
        ),
        (
            "3 lunches for 2: 250 g dal",
            "3 lunches for 2 from today: 250 g dal",
        ),
        (
            "4 dinners for 2 from Monday: dal",
            "4 dinners for 2 from Monday: dal",
        ),
        (
            "3 dinners: mac and cheese",
            "3 dinners from today: mac and cheese",
        ),
        ("rice for 6 on Friday", "rice for 6 Friday to Friday"),
        (
            "need 4 dinners for Tom and me, dal n rice",
            "4 dinners for 2 from today: dal, rice",
        ),
        (
            "4 dinner for two, dal and rice",
            "4 dinners for 2 from today: dal, rice",
        ),
        (
            "4 dinners for 2 dal and rice",
            "4 dinners for 2 from today: dal, rice",
        ),
        (
            "dinners mon to thu for 2: dal",
            "dal for 2 for dinner Monday to Thursday",
        ),
        (
            "400 dinners for 2: dal",
            "400 dinners for 2 from today: dal",
        ),
        (
            "4 dinners for nobody: dal",
            "4 dinners for 0 from today: dal",
        ),
        (
            "dal and rice for 6 people on Friday",
            "dal, rice for 6 Friday to Friday",
        ),
        (
            "rice for 6 for dinner on Friday",
            "rice for 6 for dinner Friday to Friday",
        ),
        ("dal on Friday for 2", "dal for 2 Friday to Friday"),
        ("rice for 0 on Friday", "rice for 0 Friday to Friday"),
    ] {
        surely_means(text, &kitchen(), printed);
    }
    // What nobody has cooked yet may be talk.
    assert!(!means(
        "chilli for 6 on Friday",
        &kitchen(),
        "chilli for 6 Friday to Friday"
    ));
}

#[test]
fn none_of_a_dish_is_wished_for() {
    for (text, printed) in [
        ("no rice this week", "no rice today to Sunday"),
        ("no rice until Friday", "no rice today to Friday"),
        ("no rice this wk pls", "no rice today to Sunday"),
        ("skip the dal on Friday", "no dal Friday to Friday"),
        ("no rice for 3 days", "no rice today to in 2 days"),
        ("rice as usual", "rice as usual"),
        ("rice again this week", "rice as usual"),
        ("forget the wishes", "forget the wishes"),
        ("list wishes", "wishes"),
    ] {
        surely_means(text, &kitchen(), printed);
    }
}

#[test]
fn all_that_was_wished_of_a_meal_is_forgotten() {
    means("forget the dinners", &kitchen(), "forget the dinners");
    means("cancel the lunches", &kitchen(), "forget the lunches");
}

#[test]
fn talk_wishes_for_nothing() {
    for text in [
        "no rice",
        "no sugar this week",
        "2 seats for 6 on Friday",
        "table for 6 on Friday",
        "is there rice for 6 on Friday?",
        "4 dinners for 2 cost a fortune",
        "there was no rice this week",
    ] {
        is_no(text, &kitchen(), |command| {
            matches!(command, Command::Prep(_))
        });
    }
}
