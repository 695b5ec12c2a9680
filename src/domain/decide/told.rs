//! An amount told to a question: "48" to how much, "I meant 200" to which is right, and a measure
//! that is taught while something told in it waits.

use chrono::Duration;

use super::super::act::Act;
use super::super::answer::About;
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::kitchen::{Choice, Kitchen, OpenQuestion};
use super::super::ledger::EntryKind;
use super::super::resolve::key;
use super::heard::problem;
use super::question::{keep_answer, meant, read};
use super::{
    Asking, Decision, Input, OnProblem, Outcome, Stop, carry_out, refuse, shortage, stopped,
};
use crate::lang::syntax::{Amount, Command, ErrorKind, Figure, Fix, Line, Reading, Weighing};
use crate::lang::{self, Parsed, Vocabulary};

/// How long after a question ran out its amount may still come.
const LATE_HOURS: i64 = 12;

/// The decision about an amount that is told for what a question to the sender is about, where the
/// message says nothing else. Long after the question it is asked whether it was meant for it.
pub fn amount(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let best = parsed.readings.first()?;
    if best.sure && put_right(best).is_none() {
        return None;
    }
    if let Some(question) = meant(kitchen, input) {
        return to_question(kitchen, input, parsed, question);
    }
    let question = ran_out(kitchen, input)?;
    let vocabulary = kitchen.vocabulary();
    let amount = lang::answer::amount(&input.text, &vocabulary)?;
    let commands = with_amount(question, amount, &vocabulary)?;
    Some(ask_whether(kitchen, input, question, &commands))
}

/// The same while the question is open; "2" to how many grams is an amount too.
pub fn to_question(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &Parsed,
    question: &OpenQuestion,
) -> Option<Decision> {
    if question.pointed.is_some() {
        return None;
    }
    let vocabulary = kitchen.vocabulary();
    template(question, &vocabulary)?;
    if let Some(impossible) = no_mass(input, parsed) {
        return Some(refuse(input, impossible));
    }
    // "make it 8" puts right what was eaten since.
    let puts_right = parsed
        .readings
        .iter()
        .any(|reading| put_right(reading).is_some());
    let said = match puts_right && eaten_since(kitchen, question) {
        true => None,
        false => said(input, question, &vocabulary),
    };
    let amount = said.or_else(|| corrected(kitchen, input, parsed, question))?;
    let commands = with_amount(question, amount, &vocabulary)?;
    let spoken = spoken(input, question);
    let decision = carry_out(
        answering(kitchen, &spoken, question),
        &commands,
        OnProblem::Forget,
    );
    Some(keep_answer(kitchen, input, question, decision))
}

/// "1 ladle soup = 180 g" while "2 ladles soup" waits for its grams: both are in the books.
pub fn taught(kitchen: &Kitchen, input: &Input, commands: &[Command]) -> Option<Decision> {
    let [teach @ Command::TeachMeasure { .. }] = commands else {
        return None;
    };
    let vocabulary = kitchen.vocabulary();
    let questions = kitchen.questions.iter().rev();
    let mut waiting = questions.filter(|open| {
        open.member == input.sender && open.about == About::Grams.word() && open.pointed.is_none()
    });
    waiting.find_map(|question| {
        let mut both = vec![teach.clone()];
        both.extend(read(question.as_said()?, &vocabulary).ok()?);
        let spoken = spoken(input, question);
        let base = answering(kitchen, &spoken, question);
        let decision = carry_out(base, &both, OnProblem::Forget);
        (decision.outcome == Outcome::Recorded)
            .then(|| keep_answer(kitchen, input, question, decision))
    })
}

/// The newest question for an amount that ran out not long ago.
fn ran_out<'a>(kitchen: &'a Kitchen, input: &Input) -> Option<&'a OpenQuestion> {
    let late = Duration::hours(LATE_HOURS);
    let newest = kitchen.questions.iter().rev().find(|open| {
        let amounts = [About::HowMuch.word(), About::Grams.word()];
        open.member == input.sender
            && amounts.contains(&open.about.as_str())
            && input.now - open.expires_at <= late
    })?;
    newest.pointed.is_none().then_some(newest)
}

/// "make it 200", unless it is about something that the sender has eaten since.
fn corrected(
    kitchen: &Kitchen,
    input: &Input,
    parsed: &Parsed,
    question: &OpenQuestion,
) -> Option<Amount> {
    let (new, line) = parsed.readings.iter().find_map(put_right)?;
    let replies = input.replies_to == Some(question.message);
    if !replies && (input.pointed.is_some() || eaten_since(kitchen, question)) {
        return None;
    }
    let name = line.name.as_ref();
    let fits = name.is_none_or(|name| key(&name.text) == key(&question.words));
    fits.then(|| new.clone())
}

/// Whether something was put on a plate since the question: what is put right is that.
pub fn eaten_since(kitchen: &Kitchen, question: &OpenQuestion) -> bool {
    let eaten = |act: &&Act| {
        let mut standing = act.standing().into_iter();
        standing.any(|entry| entry.entry.kind == EntryKind::Portion)
    };
    let newest = kitchen.recent.iter().find(eaten);
    newest.is_some_and(|act| act.message > question.message)
}

/// What a text says of an amount and nothing else.
fn said(input: &Input, question: &OpenQuestion, vocabulary: &Vocabulary) -> Option<Amount> {
    let text = input.text.trim();
    if let Some(all) = of_each(text, question, vocabulary) {
        return Some(all);
    }
    if let Some(share) = share(text, question, vocabulary) {
        return Some(share);
    }
    let alone = lang::answer::amount(text, vocabulary);
    let figures = text.split(|c: char| !c.is_ascii_digit());
    let several = figures.filter(|figure| !figure.is_empty()).count() > 1;
    alone.or_else(|| {
        // "300 less 90": as it would be read behind the name.
        let reckons = several && text.starts_with(|c: char| c.is_ascii_digit());
        let behind = format!("{} {text}", question.words);
        of_the_words(&behind, question, vocabulary).filter(|_| reckons)
    })
}

/// "180 each" to how many grams 2 ladles are.
fn of_each(text: &str, question: &OpenQuestion, vocabulary: &Vocabulary) -> Option<Amount> {
    let words = lang::folded_words(text);
    let each = |word: &String| EACH.contains(&word.as_str());
    words.iter().any(each).then_some(())?;
    let one = lang::answer::amount(text, vocabulary)?;
    let (Amount::Bare(grams) | Amount::Mass(grams)) = one else {
        return None;
    };
    let commands = read(question.as_said()?, vocabulary).ok()?;
    let [Command::Portion(said)] = commands.as_slice() else {
        return None;
    };
    let item = said
        .items
        .iter()
        .find(|item| item.name.text == question.words)?;
    match &item.amount {
        Amount::Pieces { count, .. } => Some(Amount::Mass(count * grams)),
        _ => None,
    }
}

/// What makes grams those of one of several.
const EACH: [&str; 4] = ["each", "apiece", "per", "ea"];

/// "all", "the rest", "half of it": of what the question is about.
fn share(text: &str, question: &OpenQuestion, vocabulary: &Vocabulary) -> Option<Amount> {
    if text.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let bare = lang::answer::words(text, vocabulary).map(|words| words.text);
    let text = bare.as_deref().unwrap_or(text);
    let of_it = text.strip_suffix(" of it").unwrap_or(text);
    let whole = format!("{of_it} of the {}", question.words);
    of_the_words(&whole, question, vocabulary).filter(|amount| matches!(amount, Amount::Share(_)))
}

/// The amount of a sentence that is one portion of what the question is about.
fn of_the_words(
    sentence: &str,
    question: &OpenQuestion,
    vocabulary: &Vocabulary,
) -> Option<Amount> {
    let parsed = lang::parse(sentence, vocabulary);
    let best = parsed.readings.first()?;
    let [Command::Portion(portion)] = best.commands.as_slice() else {
        return None;
    };
    let item = portion.lone_item()?;
    let whole = best.sure && !best.is_gist() && item.container.is_none();
    (whole && key(&item.name.text) == key(&question.words)).then(|| item.amount.clone())
}

/// "make it 200", "I meant 200": the amount, and what line it names.
fn put_right(reading: &Reading) -> Option<(&Amount, &Line)> {
    match reading.commands.as_slice() {
        [
            Command::Fix(Fix::Amount {
                new: Figure::Is(new),
                line,
            }),
        ] if reading.errors.is_empty() && line.old.is_none() && line.owner.is_none() => {
            Some((new, line))
        }
        _ => None,
    }
}

/// "0", "500 kg" to how much: said to be no mass, rather than not heard.
fn no_mass(input: &Input, parsed: &Parsed) -> Option<super::Problem> {
    let error = parsed.readings.first()?.errors.first()?;
    let whole = |text: &String| text.trim() == input.text.trim();
    match &error.kind {
        ErrorKind::NotAMass(text) if whole(text) => Some(problem(error)),
        _ => None,
    }
}

/// The question's first option, if an amount of what it is about stands in it.
fn template(question: &OpenQuestion, vocabulary: &Vocabulary) -> Option<Vec<Command>> {
    with_amount(question, Amount::Mass(1.0), vocabulary)
}

/// The question's own sentence with this amount in it.
fn with_amount(
    question: &OpenQuestion,
    amount: Amount,
    vocabulary: &Vocabulary,
) -> Option<Vec<Command>> {
    let asks = [About::HowMuch, About::Grams, About::Confirm];
    if !asks.iter().any(|about| about.word() == question.about) {
        return None;
    }
    let (says, _) = shortage::without_anyway(&question.options.first()?.says);
    let mut commands = read(says, vocabulary).ok()?;
    let [command] = commands.as_mut_slice() else {
        return None;
    };
    let named = |name: &str| name == question.words;
    match command {
        Command::Portion(portion) => {
            let mut items = portion.items.iter_mut();
            items.find(|item| named(&item.name.text))?.amount = amount;
            portion.anyway = false;
        }
        Command::Waste { items, anyway, .. } => {
            let mut items = items.iter_mut();
            items.find(|item| named(&item.name.text))?.amount = amount;
            *anyway = false;
        }
        Command::Receive(receive) => {
            let mut items = receive.items.iter_mut();
            items.find(|item| named(&item.name.text))?.amount = amount;
        }
        Command::PourOff { poured, anyway, .. } if named(&poured.what.text) => {
            poured.amount = amount;
            *anyway = false;
        }
        Command::Reopen(said) => {
            let (Amount::Bare(grams) | Amount::Mass(grams)) = amount else {
                return None;
            };
            said.grams = Some(grams);
        }
        Command::Count { items, anyway, .. } => {
            let (Amount::Bare(grams) | Amount::Mass(grams)) = amount else {
                return None;
            };
            let alone = items.len() == 1;
            let mut items = items.iter_mut();
            let item = items.find(|item| alone || named(&item.name.text))?;
            // In its vessel it is weighed as before.
            match item.weighing.readings_grams.as_mut_slice() {
                [reading] if item.weighing.container.is_some() => *reading = grams,
                _ => item.weighing = Weighing::net(grams, 0..0),
            }
            *anyway = false;
        }
        _ => return None,
    }
    Some(commands)
}

/// As if the message that raised the question had said it.
pub fn spoken(input: &Input, question: &OpenQuestion) -> Input {
    Input {
        said_at: question.said_at,
        addressed: true,
        pointed: None,
        ..input.clone()
    }
}

pub fn answering<'a>(
    kitchen: &'a Kitchen,
    spoken: &'a Input,
    question: &OpenQuestion,
) -> Draft<'a> {
    let mut base = Draft::new(kitchen, spoken);
    base.credit = question.message;
    base.push(Change::CloseQuestion(question.id));
    base
}

/// The question goes on with the amount that was told: is that what it was told for?
fn ask_whether(
    kitchen: &Kitchen,
    input: &Input,
    question: &OpenQuestion,
    commands: &[Command],
) -> Decision {
    let says: Vec<String> = commands.iter().map(ToString::to_string).collect();
    let says = says.join("\n");
    let asking = Asking {
        about: About::Confirm,
        words: says.clone(),
        problem: None,
        options: vec![Choice {
            label: format!("yes, book {says}"),
            says,
        }],
        pointed: None,
    };
    let spoken = spoken(input, question);
    let base = answering(kitchen, &spoken, question);
    stopped(base, Stop::Ask(Box::new(asking)))
}
