//! Every answer as it is sent, compared with the files under `tests/render/`. After a change that is
//! meant, run the tests with `HOBSIDE_REWRITE=1` and read the difference.

use super::sample::*;
use super::*;
use crate::domain::answer::*;
use crate::domain::personal::problem::PersonalProblem;
use crate::domain::problem::ProblemKind;
use crate::foods::{Code, Nutrient};
use crate::lang::syntax::{Amount, VolumeUnit};

const FULL: AnswerStyle = AnswerStyle::Full;

/// A message as text: bold between asterisks, then its buttons and how it is sent.
fn shown(message: &Message) -> String {
    let mut text = message.text.clone();
    for range in message.bold.iter().rev() {
        text.insert(range.end, '*');
        text.insert(range.start, '*');
    }
    for row in &message.buttons {
        let labels: Vec<String> = row
            .iter()
            .map(|button| format!("[{}]", button.label))
            .collect();
        text.push_str(&format!("\n{}", labels.join(" ")));
    }
    if message.silent {
        text.push_str("\n(silent)");
    }
    if let Some(reaction) = message.reaction {
        text.push_str(&format!("\n(or {reaction})"));
    }
    text
}

pub fn compare(file: &str, sections: &[(String, String)]) {
    let text: String = sections
        .iter()
        .map(|(title, body)| format!("=== {title}\n{body}\n\n"))
        .collect();
    let path = format!("{}/tests/render/{file}", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("HOBSIDE_REWRITE").is_some() {
        std::fs::write(&path, &text).expect("the folder of snapshots is writable");
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    for (line, (now, before)) in text.lines().zip(expected.lines()).enumerate() {
        assert_eq!(now, before, "{file}, line {}", line + 1);
    }
    assert_eq!(text, expected, "{file} has another length");
}

pub(super) fn said(answers: &[Answer], style: AnswerStyle, text: &str) -> String {
    shown(&message(answers, &settings(style), text))
}

pub fn section(title: &str, answer: Answer) -> (String, String) {
    (title.to_string(), said(&[answer], FULL, ""))
}

#[test]
fn batches_in_words() {
    let mut sections: Vec<_> = batches()
        .into_iter()
        .map(|(title, answer)| section(title, Answer::Batch(Box::new(answer))))
        .collect();
    for (title, answer) in [
        ("brief", batch(BatchEvent::Opened, dal())),
        ("brief, unclear", unclear_dal()),
    ] {
        let answer = Answer::Batch(Box::new(answer));
        sections.push((title.into(), said(&[answer], AnswerStyle::Brief, "")));
    }
    // The first unclear line is asked about with choices: it is told once.
    let unclear = unclear_dal();
    let zorbleaf = Some(unclear.pending[1].1.kind.clone());
    let quonks = Some(unclear.pending[0].1.kind.clone());
    let choices = ["Spinach, raw", "Onions, raw"];
    for (title, question) in [
        (
            "unclear, asked with choices",
            ask(About::WhichFood, "80 g zorbleaf", zorbleaf, &choices),
        ),
        (
            "unclear, asked without",
            ask(About::HowMuch, "12 quonks flour", quonks, &[]),
        ),
    ] {
        let answers = [
            Answer::Batch(Box::new(unclear.clone())),
            Answer::Ask(question),
        ];
        sections.push((title.into(), said(&answers, AnswerStyle::Brief, "")));
    }
    compare("batch.txt", &sections);
}

#[test]
fn portions_in_words() {
    let mut sections = Vec::new();
    for (title, answer) in portions() {
        sections.push(section(title, Answer::Portion(answer.clone())));
        for (style, word) in [
            (AnswerStyle::Brief, "brief"),
            (AnswerStyle::Reaction, "reaction"),
        ] {
            let words = said(&[Answer::Portion(answer.clone())], style, "2 tsp olive oil");
            sections.push((format!("{title}, {word}"), words));
        }
    }
    let mut noted = dinner();
    noted.notes = notes();
    sections.push(section("every note", Answer::Portion(noted)));
    compare("portion.txt", &sections);
}

#[test]
fn stock_and_facts_in_words() {
    let lots = vec![
        lot("lentil dal", "D7", Some("freezer"), 1700.0, None),
        LotView {
            vessel: Some("glass jar".into()),
            ..lot("barley", "B3", Some("fridge"), 640.0, today().succ_opt())
        },
        LotView {
            mass: None,
            ..lot("broth", "B1", None, 2100.0, None)
        },
        lot(
            "roast parsnips",
            "P2",
            Some("freezer"),
            850.0,
            today().checked_add_days(chrono::Days::new(90)),
        ),
    ];
    let stock = StockAnswer {
        lots: lots.clone(),
        asked: StockAsked::All,
        not_booked: vec!["40-50 salsa".into()],
        today: today(),
    };
    let none = StockAnswer {
        lots: Vec::new(),
        not_booked: Vec::new(),
        ..stock.clone()
    };
    let no_place = StockAnswer {
        asked: StockAsked::Place("freezer".into()),
        ..none.clone()
    };
    let dals = HowMuchAnswer {
        dates: false,
        places: false,
        name: "lentil dal".into(),
        lots: lots[..1].to_vec(),
        today: today(),
    };
    let parsnip = of_food(11298, 100.0);
    let fact = FoodAnswer {
        name: parsnip.name,
        food: parsnip.food,
        batch: None,
        packet: None,
        asked: None,
        mass: parsnip.mass,
        mass_estimated: false,
        batch_estimated: false,
        totals: parsnip.totals,
        nutrient: Some(Nutrient::Potassium),
        weight_only: false,
        assumptions: Vec::new(),
    };
    let cup = Amount::Volume {
        count: 1.0,
        unit: VolumeUnit::Cup,
        qualifiers: Vec::new(),
    };
    let barley = FoodAnswer {
        name: "Barley, pearled, raw".into(),
        food: Some(Code(20005)),
        asked: Some(cup),
        mass: g(200.0),
        mass_estimated: true,
        weight_only: true,
        ..fact.clone()
    };
    compare(
        "stock.txt",
        &[
            section("everything", Answer::Stock(stock)),
            section("nothing", Answer::Stock(none)),
            section("nothing there", Answer::Stock(no_place)),
            section("how much", Answer::HowMuch(dals)),
            section("what is in 100 g", Answer::Food(fact)),
            section("what a cup weighs", Answer::Food(barley)),
        ],
    );
}

#[test]
fn the_rest_in_words() {
    let day = sample::day(dinner().plates);
    let no_day = DayAnswer {
        plates: Vec::new(),
        ..day.clone()
    };
    let portions = |usual: Option<f64>| {
        Answer::Portions(PortionsAnswer {
            name: "lentil dal".into(),
            batch: "D7".into(),
            left: g(1700.0),
            usual: usual.map(g),
        })
    };
    let undone = UndoneAnswer {
        text: "140 dal".into(),
        member: "Robin".into(),
        put_back: false,
        left: vec![LeftView {
            name: "lentil dal".into(),
            mass: g(1840.0),
            estimated: false,
        }],
        chosen: None,
        notes: Vec::new(),
        message: MESSAGE,
    };
    let waste = DrawAnswer {
        lines: vec![DrawLine {
            name: "roast parsnips".into(),
            batch: "P2".into(),
            mass: g(150.0),
            left: g(300.0),
        }],
        reason: Some("mouldy".into()),
        notes: Vec::new(),
        message: MESSAGE,
    };
    let sure = PacketAnswer {
        doubt: None,
        by_volume: true,
        ..miso()
    };
    let measure = |name: Option<&str>| Answer::MeasureTaught {
        measure: "ladle".into(),
        name: name.map(Into::into),
        each: g(180.0),
    };
    compare(
        "rest.txt",
        &[
            section("day", Answer::Day(day)),
            section("day without a plate", Answer::Day(no_day)),
            section("portions", portions(Some(140.0))),
            section("portions of nothing eaten", portions(None)),
            section(
                "not booked",
                Answer::NotBooked(vec!["40-50 salsa".into(); 7]),
            ),
            section("waste", Answer::Waste(waste)),
            section("count", Answer::Count(counted())),
            section("taken", Answer::Taken(taken())),
            section("sheet", Answer::Sheet(sheet())),
            section("packet", Answer::Packet(sure)),
            section("packet in doubt", Answer::Packet(miso())),
            section("measure", measure(Some("dal"))),
            section("measure of anything", measure(None)),
            section(
                "container",
                Answer::ContainerTaught {
                    name: "blue pot".into(),
                    tare: g(812.0),
                },
            ),
            section(
                "container holds",
                Answer::ContainerHolds {
                    container: "blue pot".into(),
                    batch: "lentil dal".into(),
                },
            ),
            section("tares", Answer::Tares(tares())),
            section("no tares", Answer::Tares(Vec::new())),
            section("settings", all_settings()),
            section("undone", Answer::Undone(undone.clone())),
            section(
                "put back",
                Answer::Undone(UndoneAnswer {
                    put_back: true,
                    left: Vec::new(),
                    ..undone
                }),
            ),
            section(
                "dropped",
                Answer::Dropped {
                    about: "40-50 salsa".into(),
                },
            ),
            section("unchanged", Answer::Unchanged),
            section("help", Answer::Help { topic: None }),
            section(
                "help batch",
                Answer::Help {
                    topic: Some("batch".into()),
                },
            ),
            section(
                "help units",
                Answer::Help {
                    topic: Some("units".into()),
                },
            ),
            ("greeting".into(), greeting()),
            ("stranger".into(), stranger()),
            ("invite accepted".into(), invite_accepted()),
            ("invite wrong".into(), invite_wrong()),
            ("already in".into(), already_in()),
            ("privacy mode".into(), privacy_mode()),
            ("failed".into(), failed("140 dal")),
            (
                "late".into(),
                late(
                    today().and_hms_opt(18, 30, 0).expect("a time"),
                    "Take the dal out.",
                ),
            ),
        ],
    );
}

#[test]
fn every_problem_in_words() {
    let text = "140 quonk";
    let sections: Vec<_> = problems("quonk")
        .into_iter()
        .map(|kind| {
            (
                kind.code().to_string(),
                said(&[Answer::Problem(kind.at(4..9))], FULL, text),
            )
        })
        .collect();
    compare("problem.txt", &sections);
}

#[test]
fn timers_and_reminders() {
    compare(
        "clock.txt",
        &super::sample::clock::sections(|answers| said(answers, FULL, "")),
    );
}

#[test]
fn every_question_in_words() {
    let mut sections = Vec::new();
    for about in [
        About::WhichBatch,
        About::WhichFood,
        About::HowMuch,
        About::WhichWeighing,
        About::WhichTimer,
        About::Confirm,
        About::Plate,
        About::Who,
        About::When,
    ] {
        let open = ask(about, "40-50 salsa", None, &[]);
        let choice = ask(about, "40-50 salsa", None, &["40 g salsa", "50 g salsa"]);
        sections.push(section(
            &format!("{}, open", about.word()),
            Answer::Ask(open),
        ));
        sections.push(section(about.word(), Answer::Ask(choice)));
    }
    for kind in problems("quonk") {
        let about = match kind {
            ProblemKind::UnknownFood { .. } | ProblemKind::UsedUp { .. } => About::WhichFood,
            ProblemKind::TooMuch { .. }
            | ProblemKind::FarFromBooks { .. }
            | ProblemKind::NotThere { .. }
            | ProblemKind::VesselHolds { .. }
            | ProblemKind::SamePlate { .. }
            | ProblemKind::InUse { .. }
            | ProblemKind::Personal(PersonalProblem::ForGood(_))
            | ProblemKind::NotYours { .. } => About::Confirm,
            _ => About::HowMuch,
        };
        let plain = super::ask::page(&ask(about, "140 quonk", None, &[])).text;
        let title = format!("after {}", kind.code());
        let question = ask(about, "140 quonk", Some(kind), &[]);
        // Most problems leave the question as it is.
        if super::ask::page(&question).text != plain {
            sections.push(section(&title, Answer::Ask(question)));
        }
    }
    compare("ask.txt", &sections);
}

fn all_settings() -> Answer {
    Answer::Settings {
        settings: settings(FULL),
        part: None,
        own: None,
    }
}

#[test]
fn answers_for_machines() {
    let answers: Vec<(&str, Vec<Answer>)> = vec![
        ("batch", vec![Answer::Batch(Box::new(unclear_dal()))]),
        ("portion", vec![Answer::Portion(dinner())]),
        ("packet", vec![Answer::Packet(miso())]),
        ("settings", vec![all_settings()]),
        (
            "several",
            vec![
                Answer::ContainerTaught {
                    name: "blue pot".into(),
                    tare: g(812.0),
                },
                Answer::Problem(problems("quonk")[1].clone().anywhere()),
            ],
        ),
        (
            "ask",
            vec![Answer::Ask(ask(
                About::WhichBatch,
                "dal",
                Some(problems("dal")[17].clone()),
                &["old dal", "new dal"],
            ))],
        ),
        ("silence", vec![]),
    ];
    let sections: Vec<_> = answers
        .into_iter()
        .map(|(title, answers)| {
            let data = message(&answers, &settings(FULL), "").data;
            let text = serde_json::to_string_pretty(&data).expect("a value is JSON");
            (title.to_string(), text)
        })
        .collect();
    compare("data.txt", &sections);
}
