//! No sequence of splitting, moving, freezing, thawing, mixing, topping up, boxing or leaving over gives a later
//! use-by day than the rules allow.
//!
//! Random households play through the real language and decisions. After each message every lot's date is held
//! against a reckoning of its own: from the journal alone it is followed which pots are in a lot and which days
//! each of them spent unfrozen, and the days are counted down one by one.
//!
//! `HOBSIDE_DATES_CASES` and `HOBSIDE_DATES_STEPS` set how many households and how many messages each.

mod dates {
    pub mod reckoning;
}
mod home;

use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use chrono::Duration;
use dates::reckoning::{self, Mixture};
use hobside::domain::answer::Answer;
use hobside::domain::batch::Batch;
use hobside::domain::decide::Decision;
use home::{ANA, Home, ROBIN};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestCaseError, TestRunner};

type Step = (u8, u16, u16, u16);

fn from_env(name: &str, default: u32) -> u32 {
    let set = std::env::var(name).ok();
    set.map_or(default, |size| {
        size.parse().expect("a number of cases or steps")
    })
}

/// How many dates were held against the reckoning, of lots that were mixed, thawed, and frozen again.
static MIXED: AtomicU32 = AtomicU32::new(0);
static THAWED: AtomicU32 = AtomicU32::new(0);
static REFROZEN: AtomicU32 = AtomicU32::new(0);
static STOOD_OUT: AtomicU32 = AtomicU32::new(0);
static KINDS: [AtomicU32; 3] = [const { AtomicU32::new(0) }; 3];

#[test]
fn no_sequence_gives_a_later_date_than_the_rules_allow() {
    let cases = from_env("HOBSIDE_DATES_CASES", 48);
    let steps = from_env("HOBSIDE_DATES_STEPS", 30) as usize;
    let config = Config {
        cases,
        failure_persistence: None,
        max_shrink_iters: 400,
        ..Config::default()
    };
    let household = prop::collection::vec(any::<Step>(), 8..=steps.max(8));
    let outcome = TestRunner::new(config).run(&household, |steps| live(&steps));
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
    // Households that never mixed, thawed or froze again would prove nothing.
    let counts = [&MIXED, &THAWED, &REFROZEN, &STOOD_OUT].map(|count| count.load(Relaxed));
    assert!(counts.iter().all(|count| *count >= cases), "{counts:?}");
    let kinds = KINDS.each_ref().map(|count| count.load(Relaxed));
    assert!(
        kinds.iter().all(|count| *count > 0),
        "top-ups, boxes, leftovers: {kinds:?}"
    );
}

fn live(steps: &[Step]) -> Result<(), TestCaseError> {
    let mut home = Home::new();
    let mut script = Vec::new();
    for step in steps {
        let who = if step.1 % 5 == 0 { ANA } else { ROBIN };
        let Some(text) = speak(&home, *step) else {
            let minutes = [20, 50, 110, 180];
            home.now += match step.0 % 24 {
                20 | 21 => Duration::minutes(minutes[usize::from(step.1) % 4]),
                _ => Duration::days([0, 1, 1, 2, 4, 12, 45][usize::from(step.1) % 7]),
            };
            script.push(format!("  {}", home.now));
            continue;
        };
        let decision = answered(&mut home, who, &text);
        script.push(format!("  {text:?}"));
        note_kinds(&decision);
        hold(&home).map_err(|what| {
            TestCaseError::fail(format!("{what}\nafter:\n{}", script.join("\n")))
        })?;
    }
    Ok(())
}

/// Say it, and take the first answer to whatever is asked.
fn answered(home: &mut Home, who: hobside::domain::ids::MemberId, text: &str) -> Decision {
    let mut decision = home.say(who, text);
    for _ in 0..3 {
        if !decision
            .answers
            .iter()
            .any(|answer| matches!(answer, Answer::Ask(_)))
        {
            break;
        }
        decision = home.say(who, "1");
    }
    decision
}

fn note_kinds(decision: &Decision) {
    use hobside::domain::answer::BatchEvent;
    for answer in &decision.answers {
        let Answer::Batch(answer) = answer else {
            continue;
        };
        let at = match answer.event {
            BatchEvent::ToppedUp { .. } => 0,
            BatchEvent::Boxed => 1,
            BatchEvent::LeftOver => 2,
            _ => continue,
        };
        KINDS[at].fetch_add(1, Relaxed);
    }
}

/// Every lot's date against the earliest that anything in it allows.
fn hold(home: &Home) -> Result<(), String> {
    let lots = reckoning::lots(home);
    for batch in home.kitchen.batches.values().filter(|batch| !batch.voided) {
        for lot in batch.lots.iter().filter(|lot| lot.balance.mg() > 0) {
            let Some(due) = home.kitchen.use_by(batch, lot) else {
                continue;
            };
            let mixture: &Mixture = &lots[&lot.id];
            let Some(earliest) = mixture.earliest() else {
                continue;
            };
            if due.on > earliest {
                return Err(format!(
                    "{} {} in lot {:?} is due on {} ({:?}), and {earliest} is the latest: {mixture:?}",
                    batch.code, batch.name, lot.id, due.on, due.why
                ));
            }
            // A pot by itself is due on the very day, so that the reckoning is not just generous.
            if let Some(alone) = mixture.alone()
                && due.on != alone
            {
                return Err(format!(
                    "{} {} is due on {} ({:?}), and by itself on {alone}: {mixture:?}",
                    batch.code, batch.name, due.on, due.why
                ));
            }
            let seen = [
                (&MIXED, mixture.pots.len() > 1),
                (&THAWED, mixture.pots.iter().any(|pot| pot.was_thawed())),
                (
                    &REFROZEN,
                    mixture.pots.iter().any(|pot| pot.was_frozen_again()),
                ),
                (&STOOD_OUT, mixture.pots.iter().any(|pot| pot.stood_out())),
            ];
            for (count, seen) in seen {
                count.fetch_add(u32::from(seen), Relaxed);
            }
        }
    }
    Ok(())
}

fn grams(number: u16, most: u16) -> u16 {
    20 + number % most
}

/// A batch that holds something.
fn any_open(home: &Home, number: u16) -> Option<&Batch> {
    let holds = |batch: &&Batch| batch.left().mg() > 0;
    let open: Vec<&Batch> = home.kitchen.open_batches().filter(holds).collect();
    (!open.is_empty()).then(|| open[usize::from(number) % open.len()])
}

/// What is said; nothing: time passes.
fn speak(home: &Home, (kind, a, b, c): Step) -> Option<String> {
    let cooked = home.kitchen.batches.len();
    if cooked == 0 || kind % 24 < 2 && cooked < 12 {
        return Some(cook(home, a, b, c));
    }
    let code = |number| any_open(home, number).map(|batch| batch.code.clone());
    let one = code(b)?;
    let other = code(c)?;
    let (some, more) = (grams(b.rotate_left(3), 400), grams(c.rotate_left(5), 300));
    Some(match kind % 24 {
        2 | 3 => format!("froze the {one}"),
        4 => format!("froze {some} {one}"),
        5 => format!("froze {one} in two bags, {some} and {more}"),
        6 | 7 => format!("thawed the {one}"),
        8 => format!("thaw {some} {one}"),
        9 if a % 2 == 0 => format!("put {one} in the fridge"),
        9 => format!("moved {some} {one} from the freezer to the garage freezer"),
        10 if a % 2 == 0 => format!("put {some} {one} on the counter"),
        10 => format!("put {some} {one} in the fridge"),
        11 | 12 => format!("topped up {one} with {more} g water"),
        13 => format!("topped up {one} with {more} g {other}"),
        14 => format!(
            "2 boxes of {} {one}, {} {other}",
            some / 3 + 5,
            more / 3 + 5
        ),
        15 => format!("3 tubs of {} {one}, 1 in the freezer", some / 3 + 5),
        16 => format!("{some} {one}, {more} {other}"),
        17 => format!(
            "{} left over, {}",
            some / 4 + 5,
            ["fridge", "freezer"][usize::from(a) % 2]
        ),
        18 => "undo".into(),
        19 => ["redo", "us guidance", "uk guidance", "au guidance"][usize::from(a) % 4].into(),
        _ => return None,
    })
}

/// A dish whose time stands in the charts under its name, or one made from others.
fn cook(home: &Home, a: u16, b: u16, c: u16) -> String {
    let net = 400 + b % 1500;
    let inner = any_open(home, c).map(|batch| batch.code.clone());
    match (a % 5, inner) {
        (0, _) => format!("batch beef stew\n600 g minced beef\n200 g carrots\ncooked {net}"),
        (1, _) => format!("batch brown rice\n450 g brown rice\ncooked {net}"),
        (2, _) => format!("batch cucumber pickle\n400 g cucumber\n100 g vinegar\ncooked {net}"),
        (3, Some(inner)) => {
            format!(
                "batch potato bake\n{} g {inner}\n300 g potatoes\ncooked {net}",
                grams(c, 200)
            )
        }
        _ => format!("batch potato bake\n900 g potatoes\ncooked {net}"),
    }
}
