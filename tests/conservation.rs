//! Nothing is lost and nothing appears: random messages of a household, and after each of them the
//! books against sums and facts of an auditor's own.
//!
//! `HOBSIDE_CONSERVATION_CASES` and `HOBSIDE_CONSERVATION_STEPS` set how many households and how many
//! messages each; small by default.

mod conservation {
    pub mod auditor;
    pub mod edited_back;
    pub mod kitchen_talk;
    pub mod state;
}
mod home;

use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use conservation::auditor;
use conservation::edited_back::edited_back;
use conservation::kitchen_talk::{Said, Step, speak};
use conservation::state::State;
use hobside::domain::answer::{About, Answer, Press};
use hobside::domain::batch::Batch;
use hobside::domain::decide::{Decision, Outcome};
use hobside::domain::ids::MemberId;
use home::Home;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestCaseError, TestRunner};

fn from_env(name: &str, default: u32) -> u32 {
    let set = std::env::var(name).ok();
    set.map_or(default, |size| {
        size.parse().expect("a number of cases or steps")
    })
}

#[test]
fn the_books_balance_whatever_is_said() {
    let cases = from_env("HOBSIDE_CONSERVATION_CASES", 48);
    let steps = from_env("HOBSIDE_CONSERVATION_STEPS", 24) as usize;
    let config = Config {
        cases,
        failure_persistence: None,
        max_shrink_iters: 600,
        ..Config::default()
    };
    let household = prop::collection::vec(any::<Step>(), 3..=steps.max(3));
    let outcome = TestRunner::new(config).run(&household, |steps| live(&steps));
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
    // Random households that never got so far would prove nothing.
    let (undone, edited) = (UNDONE.load(Relaxed), EDITED.load(Relaxed));
    assert!(
        undone >= cases && edited >= cases / 16,
        "{undone} undone, {edited} edited back"
    );
}

/// How often an act was undone and put back, and an edit edited back, with success.
static UNDONE: AtomicU32 = AtomicU32::new(0);
static EDITED: AtomicU32 = AtomicU32::new(0);

/// One household's messages, each followed by the audit.
fn live(steps: &[Step]) -> Result<(), TestCaseError> {
    let mut home = Home::new();
    let mut script = Vec::new();
    for step in steps {
        let Some(said) = speak(&home, *step) else {
            continue;
        };
        script.push(said.to_string());
        let before = home.clone();
        let decision = carry_out(&mut home, &said);
        let told = |what: &str| format!("{what}\nafter:\n{}", script.join("\n"));
        auditor::audit(&home).map_err(|what| TestCaseError::fail(told(&what)))?;
        nothing_lacks_unasked(&before, &home, &said, &decision)
            .map_err(|what| TestCaseError::fail(told(&what)))?;
        undone_and_redone(&before, &home, &said, &decision)
            .and_then(|()| edited_back(&before, &home, &said))
            .map(|compared| EDITED.fetch_add(u32::from(compared), Relaxed))
            .map_err(|what| TestCaseError::fail(told(&what)))?;
    }
    Ok(())
}

fn carry_out(home: &mut Home, said: &Said) -> Decision {
    match said {
        Said::Message { who, text } => home.say(*who, text),
        Said::Reply { to, who, text } => home.reply(*to, *who, text),
        Said::Edit { message, text } => home.edit(*message, text),
        Said::Press { who, press } => home.press(*who, press.clone()),
    }
}

/// Undo of the last act returns everything to what it was before; redo brings it back exactly.
fn undone_and_redone(
    before: &Home,
    after: &Home,
    said: &Said,
    decision: &Decision,
) -> Result<(), String> {
    let Some(who) = undoable(before, said, decision) else {
        return Ok(());
    };
    let undo = Press::Undo {
        message: decision.credit,
    };
    let mut undone = after.clone();
    let answer = pressed(&mut undone, who, undo);
    recorded(&answer, "undo of the last act")?;
    auditor::audit(&undone)?;
    State::of(before).same_as(&State::of(&undone), "undo of the last act")?;
    let redo = Press::Redo {
        message: answer.credit,
    };
    let answer = pressed(&mut undone, who, redo);
    recorded(&answer, "redo of that undo")?;
    auditor::audit(&undone)?;
    UNDONE.fetch_add(1, Relaxed);
    State::of(after).same_as(&State::of(&undone), "undo, then redo")
}

/// No batch comes to lack more than scales drift, unless somebody said that it is right.
fn nothing_lacks_unasked(
    before: &Home,
    after: &Home,
    said: &Said,
    decision: &Decision,
) -> Result<(), String> {
    let confirmed = match said {
        Said::Message { text, .. } | Said::Reply { text, .. } => {
            text.contains("anyway") || decision.credit != after.last_message()
        }
        // "never mind", and talk, take back what was said, whatever has been eaten of it.
        Said::Edit { .. } => return Ok(()),
        Said::Press { press, .. } => matches!(press, Press::Choose { .. }),
    };
    if confirmed {
        return Ok(());
    }
    let lacking = |batch: &Batch| -> i64 {
        let lots = batch.lots.iter();
        match (batch.voided, batch.estimated()) {
            (true, _) => 0,
            (_, true) => (-batch.left().mg()).max(0),
            _ => lots.map(|lot| lot.overdrawn(batch).mg()).sum(),
        }
    };
    for (id, batch) in &after.kitchen.batches {
        let unknown = batch.estimated() && batch.raw_mass().is_zero();
        let known = before.kitchen.batches.get(id);
        let (was, is) = (known.map_or(0, lacking), lacking(batch));
        let drift = 30_000.max(batch.net_mass().mg() / 10 + 1);
        if is > was && is > drift && !unknown {
            return Err(format!("{} lacks {is} mg and lacked {was} mg", batch.code));
        }
    }
    Ok(())
}

/// Press a button, and say yes if the books would then hold less than was taken.
fn pressed(home: &mut Home, who: MemberId, press: Press) -> Decision {
    let decision = home.press(who, press);
    let asked = decision.answers.iter().find_map(|answer| match answer {
        Answer::Ask(ask) if ask.about == About::Confirm => Some(ask.question),
        _ => None,
    });
    match asked {
        Some(question) => home.press(
            who,
            Press::Choose {
                question,
                option: 0,
            },
        ),
        None => decision,
    }
}

/// Whoever can take the act back whole: it booked something, and its message had nothing booked before.
fn undoable(before: &Home, said: &Said, decision: &Decision) -> Option<MemberId> {
    let who = match said {
        Said::Message { who, .. } | Said::Reply { who, .. } | Said::Press { who, .. } => *who,
        Said::Edit { .. } => return None,
    };
    let undoes = decision
        .answers
        .iter()
        .any(|answer| matches!(answer, Answer::Undone(_)));
    let booked_before = before.act(decision.credit).is_some();
    (decision.outcome == Outcome::Recorded && !undoes && !booked_before).then_some(who)
}

fn recorded(decision: &Decision, what: &str) -> Result<(), String> {
    match decision.outcome {
        Outcome::Recorded => Ok(()),
        other => Err(format!("{what} gave {other:?}: {:?}", decision.answers)),
    }
}
