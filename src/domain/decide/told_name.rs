//! A word told to a question about a plate: "i mean cheddar" for a name that stands for nothing, "forget the
//! glorbin", "just the soup", and the same plate told again in other words.

use super::super::answer::{About, Answer};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::kitchen::{Kitchen, OpenQuestion};
use super::super::resolve::{Use, key, resolve};
use super::question::{keep_answer, meant, read};
use super::told::{answering, eaten_since, spoken};
use super::{Decision, Done, Input, OnProblem, carry_out, conclude};
use crate::lang::syntax::{Command, Fix, Item, Portion, Words};
use crate::lang::{self, Parsed, Vocabulary};

/// The decision about a message that says what the unclear word of a plate is, or that it is to be left out.
pub fn word(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let question = meant(kitchen, input).filter(|question| question.pointed.is_none())?;
    let vocabulary = kitchen.vocabulary();
    let (mut portion, at) = unclear(question, &vocabulary)?;
    let told = told(kitchen, input, parsed, question, &vocabulary);
    match told.or_else(|| by_amount(parsed, &portion, at))? {
        Told::Name(name) => portion.items[at].name = name,
        Told::Without => {
            portion.items.remove(at);
        }
        Told::Only(name) => {
            let wanted = key(&name.text);
            let fits = |item: &Item| key(&item.name.text) == wanted;
            let kept = portion
                .items
                .iter()
                .position(fits)
                .filter(|kept| *kept != at)?;
            portion.items = vec![portion.items.swap_remove(kept)];
        }
    }
    let spoken = spoken(input, question);
    let base = answering(kitchen, &spoken, question);
    let decision = match portion.items.is_empty() {
        true => {
            let about = question.waits().to_owned();
            conclude(base, Done::saying(Answer::Dropped { about }))
        }
        false => carry_out(base, &[Command::Portion(portion)], OnProblem::Forget),
    };
    Some(keep_answer(kitchen, input, question, decision))
}

/// What is said of the unclear thing.
enum Told {
    Name(Words),
    Without,
    Only(Words),
}

/// The plate that a question is about, and where on it the unclear thing stands.
fn unclear(question: &OpenQuestion, vocabulary: &Vocabulary) -> Option<(Portion, usize)> {
    let asks = [
        About::WhichFood,
        About::WhichBatch,
        About::Grams,
        About::HowMuch,
    ];
    if !asks.iter().any(|about| about.word() == question.about) {
        return None;
    }
    let commands = read(question.as_said()?, vocabulary).ok()?;
    let [Command::Portion(portion)] = commands.as_slice() else {
        return None;
    };
    let mut items = portion.items.iter();
    let at = items.position(|item| item.name.text == question.words)?;
    Some((portion.clone(), at))
}

fn told(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &Parsed,
    question: &OpenQuestion,
    vocabulary: &Vocabulary,
) -> Option<Told> {
    let asked = key(&question.words);
    let unclear = |words: &Words| key(&words.text) == asked;
    let names = [About::WhichFood, About::WhichBatch]
        .iter()
        .any(|about| about.word() == question.about);
    if lang::answer::leaves_out(&input.text) {
        return Some(Told::Without);
    }
    if !eaten_since(kitchen, question) {
        let fixes = parsed
            .readings
            .iter()
            .filter(|reading| reading.errors.is_empty());
        for reading in fixes {
            match reading.commands.as_slice() {
                [Command::Fix(Fix::Remove(line))] if line.name.as_ref().is_some_and(unclear) => {
                    return Some(Told::Without);
                }
                [
                    Command::Fix(Fix::Name {
                        new,
                        old,
                        amount: None,
                    }),
                ] if names && old.as_ref().is_none_or(unclear) => {
                    let food = lang::answer::food(&new.text, vocabulary)?;
                    return meant_by(kitchen, input, question, food, true);
                }
                _ => {}
            }
        }
    }
    let food = lang::answer::food(&input.text, vocabulary)?;
    if only(&input.text) && !unclear(&food) {
        return Some(Told::Only(food));
    }
    (names && !unclear(&food)).then_some(())?;
    meant_by(kitchen, input, question, food, false)
}

/// What a name stands for as an answer. Of a thing of several kinds it tells the kind: "egg ones" of noodles
/// are egg noodles, and no egg. A name that could mean either is no answer.
fn meant_by(
    kitchen: &Kitchen,
    input: &Input,
    question: &OpenQuestion,
    food: Words,
    instead: bool,
) -> Option<Told> {
    let today = Draft::new(kitchen, input).today();
    let thing = |words: &Words| {
        let resolved = resolve(kitchen, words, Use::Eaten, today);
        resolved.ok().map(|resolved| resolved.thing)
    };
    let several = question.offered().next().is_some();
    let mut names = Vec::new();
    if several {
        let (kind, of) = (&food.text, &question.words);
        names = vec![
            Words::plain(format!("{kind} {of}")),
            Words::plain(format!("{of} {kind}")),
        ];
    }
    if instead || !several {
        names.push(food);
    }
    names.retain(|name| thing(name).is_some());
    let first = names.first()?.clone();
    let one = names.iter().all(|name| thing(name) == thing(&first));
    one.then_some(Told::Name(first))
}

/// "just the beans"
fn only(text: &str) -> bool {
    let words = lang::folded_words(text);
    words
        .iter()
        .any(|word| matches!(word.as_str(), "just" | "only"))
}

/// "30 cheddar" after "180 soup w 30 glorbin": the same amount of something known.
fn by_amount(parsed: &Parsed, portion: &Portion, at: usize) -> Option<Told> {
    let best = parsed.readings.first().filter(|best| best.sure)?;
    let [Command::Portion(told)] = best.commands.as_slice() else {
        return None;
    };
    let item = told.lone_item()?;
    let same = item.amount == portion.items[at].amount;
    same.then(|| Told::Name(item.name.clone()))
}

/// Questions that were about a plate which is told anew by these commands: what of it was clear is said
/// again, as it was.
pub fn told_again(kitchen: &Kitchen, input: &Input, commands: &[Command]) -> Vec<Change> {
    let [Command::Portion(now)] = commands else {
        return Vec::new();
    };
    let vocabulary = kitchen.vocabulary();
    let same = |one: &Item, other: &Item| {
        one.amount == other.amount && key(&one.name.text) == key(&other.name.text)
    };
    let again = |question: &&OpenQuestion| {
        let Some((before, at)) = unclear(question, &vocabulary) else {
            return false;
        };
        let mut clear = before
            .items
            .iter()
            .enumerate()
            .filter(|(place, _)| *place != at);
        let said = |item: &Item| now.items.iter().any(|one| same(one, item));
        before.items.len() > 1 && clear.all(|(_, item)| said(item))
    };
    let mine = kitchen
        .questions
        .iter()
        .filter(|question| question.member == input.sender && question.expires_at >= input.now);
    let questions = mine.filter(again);
    questions
        .map(|question| Change::CloseQuestion(question.id))
        .collect()
}
