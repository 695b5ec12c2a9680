//! Answers to a question that are no message by themselves: "cooked" of two kinds of rice, "one,
//! phone glitched".

use chrono::Duration;

use super::super::answer::About;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen, OpenQuestion};
use super::super::plate::Plate;
use super::super::resolve::{Thing, Use, resolve};
use super::portion::BOWL_OPEN_MINUTES;
use super::question::{answered, meant, read};
use super::{Decision, Done, Input, Outcome, conclude, place_is, same_plate, which};
use crate::lang::syntax::{Choice as Answer, Command, Reading, Words};
use crate::lang::{self, Parsed, Vocabulary, folded_words};

/// An answer in passing, that is no message by itself: "yes that's my own bowl". Only while a question
/// to the sender is open.
pub fn loosely(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    let question = meant(kitchen, input)?;
    let text = input.text.trim();
    if question.about == About::Grams.word() {
        return None;
    }
    // "one, phone glitched": the answer stands apart from what else is said.
    let (answer, rest) = text.split_once(',').unwrap_or((text, ""));
    if rest.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let choice = match answer.trim().to_lowercase().as_str() {
        answer if lang::answer::agrees(answer) == Some(true) => Answer::Yes,
        answer if lang::answer::agrees(answer) == Some(false) => Answer::No,
        "one" | "first" => Answer::Nth(1),
        "two" | "second" => Answer::Nth(2),
        answer => {
            let answer = after_yes(answer);
            let named = by_label(question, answer);
            Answer::Nth(named.or_else(|| by_batch(kitchen, input, question, answer))?)
        }
    };
    Some(answered(kitchen, input, &choice))
}

/// "done", said to nobody: the sender's bowl is closed, and nothing is said.
pub fn closing(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let best = parsed.readings.first()?;
    let open = |plate: &&Plate| {
        let age = plate.touched_at().map(|touched| input.now - touched);
        let fresh = age.is_some_and(|age| age <= Duration::minutes(BOWL_OPEN_MINUTES));
        plate.member == input.sender && !plate.closed && fresh
    };
    let said = best.commands == [Command::Done] && !input.addressed;
    let bowl = kitchen.plates.iter().rev().filter(|_| said).find(open)?;
    let mut draft = Draft::new(kitchen, input);
    draft.push(Change::ClosePlate(bowl.id));
    Some(Decision {
        outcome: Outcome::Ignored,
        ..conclude(draft, Done::default())
    })
}

/// An option in its own words: "3 carrots" to "2 or 3 carrots?" is no carrot on a plate. Or what tells it
/// from the others: "the pumpkin one", "the lower one".
pub fn as_offered(kitchen: &Kitchen, input: &Input) -> Option<Decision> {
    let question = meant(kitchen, input)?;
    let said = folded_words(&input.text);
    let whole = |option: &Choice| folded_words(&option.label) == said;
    let at = match question.offered().position(whole) {
        Some(at) => at as u32 + 1,
        None => told_apart(kitchen, input, question)?,
    };
    Some(answered(kitchen, input, &Answer::Nth(at)))
}

/// The number of the option that a word tells from the others.
fn told_apart(kitchen: &Kitchen, input: &Input, question: &OpenQuestion) -> Option<u32> {
    if question.about == About::WhichPlace.word() {
        let kind = place_is::label(lang::answer::place_kind(&input.text)?);
        let at = question.offered().position(|option| option.label == kind);
        return at.map(|at| at as u32 + 1);
    }
    if question.about == About::Who.word() {
        let who = lang::answer::companion(&input.text, &kitchen.vocabulary())?;
        return by_name(question, &who.text);
    }
    let asks = [About::WhichBatch, About::WhichFood, About::HowMuch];
    if !asks.iter().any(|about| about.word() == question.about) {
        return None;
    }
    if let Some(end) = lang::answer::end(&input.text) {
        let range = question.about == About::HowMuch.word() && question.offered().count() == 2;
        return range.then_some(end as u32 + 1);
    }
    if let Some(number) = by_figure(question, input.text.trim()) {
        return Some(number);
    }
    let words = lang::answer::words(&input.text, &kitchen.vocabulary())?;
    if is_all(&words.text) {
        let all = |option: &Choice| option.label == which::OF_EACH;
        return question.offered().position(all).map(|at| at as u32 + 1);
    }
    by_label(question, &words.text).or_else(|| by_batch(kitchen, input, question, &words.text))
}

/// The option that is one person.
fn by_name(question: &OpenQuestion, name: &str) -> Option<u32> {
    let called = |option: &Choice| option.label.eq_ignore_ascii_case(name);
    let at = question.offered().position(called)?;
    Some(at as u32 + 1)
}

fn is_all(words: &str) -> bool {
    let all = [
        "both",
        "both of them",
        "all",
        "all of them",
        "each",
        "each of them",
        "all of it",
    ];
    all.contains(&words.to_lowercase().as_str())
}

/// "3" to "2 or 3 carrots?", where there is no third thing to choose.
fn by_figure(question: &OpenQuestion, figure: &str) -> Option<u32> {
    let number = figure.parse::<usize>().ok()?;
    if number <= question.offered().count() {
        return None;
    }
    let begins = |option: &Choice| option.label.split(' ').next() == Some(figure);
    let at = question.offered().position(begins)?;
    Some(at as u32 + 1)
}

/// "yeah the new": what is chosen stands behind the yes.
fn after_yes(answer: &str) -> &str {
    let rest = match answer.split_once(' ') {
        Some((first, rest)) if read(first, &Vocabulary::new()).is_ok_and(|said| said == [YES]) => {
            rest.trim_start()
        }
        _ => answer,
    };
    rest.strip_prefix("the ").unwrap_or(rest)
}

const YES: Command = Command::Choose(Answer::Yes);

/// "the new", "R2": the option that offers the one batch which these words select. Of a single batch
/// there is nothing to select: only its code means it.
fn by_batch(
    kitchen: &Kitchen,
    input: &Input,
    question: &OpenQuestion,
    answer: &str,
) -> Option<u32> {
    let today = Draft::new(kitchen, input).today();
    let offers = |label: &str, code: &str| {
        let mut words = label.split(|c: char| !c.is_alphanumeric());
        words.any(|word| word == code)
    };
    let offered = kitchen.batches.values().filter(|batch| {
        let mut options = question.offered();
        options.any(|option| offers(&option.label, &batch.code))
    });
    let several = offered.count() > 1;
    let selected = Words::plain(format!("{answer} {}", question.words));
    let resolved = [selected, Words::plain(answer)]
        .iter()
        .find_map(|words| resolve(kitchen, words, Use::BatchOnly, today).ok())?;
    let Thing::Batches(batches) = resolved.thing else {
        return None;
    };
    let [batch] = batches.as_slice() else {
        return None;
    };
    let code = &kitchen.batch(*batch).code;
    let mut numbered = (1..).zip(question.offered());
    let found = numbered.find(|(_, option)| offers(&option.label, code))?;
    (several || answer.eq_ignore_ascii_case(code)).then_some(found.0)
}

/// "both", "it sent twice", "mine is separate": an answer to "one plate or two?", whatever else it may say.
pub fn one_or_two(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let question = meant(kitchen, input)?;
    let first = question.options.first()?;
    let plates = |reading: &Reading| match reading.commands.as_slice() {
        [Command::Choose(Answer::Plates(plates))] => Some(*plates),
        _ => None,
    };
    let plates = parsed.readings.iter().find_map(plates)?;
    let asked = first.label == same_plate::ONE_PLATE;
    asked.then(|| answered(kitchen, input, &Answer::Nth(plates)))
}

/// The one option whose label has these words: "cooked" of two kinds of rice.
fn by_label(question: &OpenQuestion, answer: &str) -> Option<u32> {
    let words = |text: &str| -> Vec<String> {
        let words = text.split(|c: char| !c.is_alphanumeric());
        words
            .filter(|word| !word.is_empty())
            .map(str::to_lowercase)
            .collect()
    };
    let wanted = words(answer);
    if wanted.is_empty() || wanted.len() > LABEL_WORDS_MAX {
        return None;
    }
    let fits = |label: &str| {
        let label = words(label);
        let told = wanted.iter().any(|word| word.len() > 2);
        told && wanted.iter().all(|word| label.contains(word))
    };
    let mut found = (1..)
        .zip(question.offered())
        .filter(|(_, option)| fits(&option.label));
    match (found.next(), found.next()) {
        (Some((number, _)), None) => Some(number),
        _ => None,
    }
}

/// So many words of a label may answer for it.
const LABEL_WORDS_MAX: usize = 3;
