//! What holds for every message: it fits a phone, it can be read back, it is never garbled or long.

use proptest::prelude::*;

use super::page::WIDTH;
use super::sample::*;
use super::*;
use crate::domain::answer::*;
use crate::domain::batch::LineState;

const FULL: AnswerStyle = AnswerStyle::Full;

#[test]
fn a_portion_fits_a_screen() {
    for (title, answer) in portions() {
        let text = message(&[Answer::Portion(answer)], &settings(FULL), "").text;
        assert!(text.lines().count() <= 14, "{title}:\n{text}");
    }
}

#[test]
fn lines_fit_a_phone() {
    let portions = portions()
        .into_iter()
        .map(|(_, answer)| Answer::Portion(answer));
    let batches = batches()
        .into_iter()
        .map(|(_, answer)| Answer::Batch(Box::new(answer)));
    for answer in portions.chain(batches) {
        let text = message(&[answer], &settings(FULL), "").text;
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
    }
}

#[test]
fn buttons_carry_presses_that_can_be_read_back() {
    let question = ask(About::WhichBatch, "dal", None, &["old dal", "new dal"]);
    let answers = [
        Answer::Portion(dinner()),
        Answer::Portion(dinner()),
        Answer::Ask(question),
    ];
    let buttons = message(&answers, &settings(FULL), "").buttons;
    let presses: Vec<Press> = buttons
        .iter()
        .flatten()
        .map(|button| button.press.clone())
        .collect();
    let choose = |option| Press::Choose {
        question: crate::domain::ids::QuestionId(3),
        option,
    };
    assert_eq!(
        presses,
        [choose(0), choose(1), Press::Undo { message: MESSAGE }]
    );
    for press in presses {
        assert_eq!(Press::decode(&press.encode()), Some(press));
    }
}

#[test]
fn hundreds_of_unclear_lines_give_a_short_reply() {
    let mut answer = unclear_dal();
    for number in 10..400 {
        let text = format!("{number} quonks {}", "thing ".repeat(30));
        answer
            .view
            .lines
            .push(unreadable(number, &text, LineState::Pending));
        answer.pending.push((
            number,
            ProblemKind::UnknownUnit {
                word: "quonks".into(),
            }
            .anywhere(),
        ));
    }
    let text = message(&[Answer::Batch(Box::new(answer))], &settings(FULL), "").text;
    assert!(text.chars().count() < 2_000);
    assert!(text.contains("more lines"), "{text}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Whatever people write, unclear input gets a short reply without control characters.
    #[test]
    fn no_reply_to_unclear_input_is_long_or_garbled(words in "(?s).{0,4096}", start in 0..60usize, end in 0..60usize) {
        let settings = settings(FULL);
        let everything: Vec<Answer> = problems(&words)
            .into_iter()
            .map(|kind| Answer::Problem(kind.at(start..end.max(start))))
            .collect();
        for answer in &everything {
            harmless(&message(std::slice::from_ref(answer), &settings, &words))?;
        }
        harmless(&message(&everything, &settings, &words))?;
        for kind in problems(&words) {
            let labels = [words.as_str(); 11];
            let question = ask(About::WhichFood, &words, Some(kind.clone()), &labels);
            harmless(&message(&[Answer::Ask(question)], &settings, &words))?;
            let mut batch = unclear_dal();
            batch.view.name = words.clone();
            batch.view.lines[5].text = words.clone();
            batch.pending = vec![(6, kind.anywhere())];
            harmless(&message(&[Answer::Batch(Box::new(batch))], &settings, &words))?;
        }
    }
}

fn harmless(message: &Message) -> Result<(), TestCaseError> {
    let text = &message.text;
    prop_assert!(
        !text.is_empty() && text.chars().count() <= 2_000,
        "{}",
        text
    );
    prop_assert!(
        text.chars()
            .all(|character| character == '\n' || !character.is_control())
    );
    let invisible = ['\u{202e}', '\u{2066}', '\u{200b}', '\u{feff}'];
    prop_assert!(!text.contains(invisible));
    for range in &message.bold {
        prop_assert!(text.get(range.clone()).is_some());
    }
    Ok(())
}
