//! The sheet that puts steps in order: "prep sheet for 18:00", "dal ready by 7pm today, when do I start".
//!
//! ```text
//! sheet := "prep sheet" ["for" dishes] ["for" at] | "what do I start first" ["for" dishes] [at]
//!        | dishes "ready by" at ["," "when do I start"]
//! ```

use super::wish::dishes;
use super::{is_phrase, phrase, whole};
use crate::lang::ahead::{At, at};
use crate::lang::command::only_marks;
use crate::lang::date::meal;
use crate::lang::lexer::folded_words;
use crate::lang::syntax::{Command, Helping, Prep, Words};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let read = |said: Tokens<'_>| {
        let (dishes, at) = sheet(said.trimmed())?;
        Some(Prep::Sheet { dishes, at })
    };
    let said = input.trimmed();
    let marks = said.slice.iter().rev().take_while(|token| token.is('?'));
    let body = said.range(0, said.len() - marks.count()).trimmed();
    // "what do I start first?"
    let asked = phrase("sheet asked", body).and_then(read);
    match asked.or_else(|| ready(body)) {
        Some(said) => Ok((input.after(input.len()), Command::Prep(said))),
        None => whole(input, |said| read(phrase("sheet", said)?)),
    }
}

/// "dal ready by 7pm today, when do I start": dishes and their hour, and what is asked of it, if anything.
fn ready(said: Tokens<'_>) -> Option<Prep> {
    let asks = (1..said.len()).find(|at| is_phrase("sheet asked", said.after(*at)));
    let said = said.range(0, asks.unwrap_or(said.len())).trimmed();
    let joint = |word: &str| matches!(word, "ready" | "done" | "finished");
    let at = said
        .find(|token| joint(token.norm()))
        .filter(|at| *at > 0)?;
    let told = ready_at(said.after(at))?;
    let (dishes, None) = sheet(said.range(0, at).trimmed())? else {
        return None;
    };
    let at = Some(told);
    (!dishes.is_empty()).then_some(Prep::Sheet { dishes, at })
}

fn sheet(rest: Tokens<'_>) -> Option<(Vec<Words>, Option<At>)> {
    if only_marks(rest) {
        return Some((Vec::new(), None));
    }
    if let Some(at) = ready_at(rest) {
        return Some((Vec::new(), Some(at)));
    }
    let names = rest.after(usize::from(matches!(rest.norm(0), "for" | "of")));
    // "for dinner at 20:00": all that is planned.
    if let Ok((behind, _)) = meal(names)
        && let Some(at) = ready_at(behind)
    {
        return Some((Vec::new(), Some(at)));
    }
    let named = |names: Tokens<'_>| -> Option<Vec<Words>> {
        let known = |helping: Helping| {
            let words = folded_words(&helping.dish.text);
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            let known = helping.grams.is_none() && names.vocabulary.is_batch(&words);
            known.then_some(helping.dish)
        };
        dishes(names)?.into_iter().map(known).collect()
    };
    if let Some(dishes) = named(names) {
        return Some((dishes, None));
    }
    let at = (1..names.len()).find(|at| ready_at(names.after(*at)).is_some())?;
    let before = names.range(0, at);
    // With its hour it is an order of work, whatever the dish is called.
    let any = || {
        let told = dishes(before)?.into_iter();
        let told = told.map(|helping| helping.grams.is_none().then_some(helping.dish));
        told.collect::<Option<Vec<Words>>>()
    };
    let dishes = named(before).or_else(any)?;
    Some((dishes, ready_at(names.after(at))))
}

/// "for 18:00", "ready by 6pm", "tomorrow at 10"
fn ready_at(rest: Tokens<'_>) -> Option<At> {
    let mut rest = rest.trimmed_front();
    while matches!(
        rest.norm(0),
        "for" | "to" | "be" | "eat" | "ready" | "by" | "done" | "finished" | "until"
    ) {
        rest = rest.take_one();
    }
    let (behind, told) = at(rest).ok()?;
    (only_marks(behind) && told.hour.is_some()).then_some(told)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
    }

    #[test]
    fn a_sheet_is_asked_for() {
        for (text, printed) in [
            ("prep sheet for 18:00", "prep sheet at 18:00"),
            ("prep sheet", "prep sheet"),
            (
                "prep sheet for dal and rice at 6pm",
                "prep sheet for dal, rice at 18:00",
            ),
            (
                "prep sheet for the dal ready by Friday 6pm",
                "prep sheet for dal Friday at 18:00",
            ),
            ("order of work for the dal", "prep sheet for dal"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        for text in [
            "what do I start first?",
            "in what order",
            "what do we start with",
        ] {
            assert!(!means(text, &kitchen(), "prep sheet"));
        }
        for text in [
            "dal ready by 7pm today, when do i start",
            "dal done by 7pm today, what order?",
        ] {
            assert!(!means(
                text,
                &kitchen(),
                "prep sheet for dal today at 19:00"
            ));
        }
        for text in [
            "when do i have to start the dal to eat at 7pm today",
            "when should I start the dal for 7pm today?",
        ] {
            surely_means(text, &kitchen(), "prep sheet for dal today at 19:00");
        }
        surely_means(
            "prep sheet for dinner at 20:00",
            &kitchen(),
            "prep sheet at 20:00",
        );
        surely_means(
            "order of work for dal and rice, finished by 6pm sunday",
            &kitchen(),
            "prep sheet for dal, rice Sunday at 18:00",
        );
        let asked = "what do I start first for dal and rice?";
        assert!(!means(asked, &kitchen(), "prep sheet for dal, rice"));
    }

    #[test]
    fn talk_asks_for_no_order() {
        for text in [
            "what do I start first, Latin or maths?",
            "in what order did they arrive",
            "rice ready by then",
            "dal ready?",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
