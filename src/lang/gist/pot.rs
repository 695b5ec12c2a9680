//! A new batch in a sentence, with what it weighs and who had of it at once: "made pea soup this arvo, came
//! out at 2100 g", "veg curry's ready, 2350 net, ana had 300 of it".
//!
//! ```text
//! pot    := (cooked name | name (cooked | ready)) weight { clause of plates } | weight name ready
//! weight := mass { "and" mass } | mass "in" container
//! plates := mass ("of it" | who) ...                         as in `eater.rs`
//! ```
//! What is cooked may have any name; what is only ready must be food, and its weight be told as one. A pot
//! that may be in the weight, and is not known by name, gives no reading.

use super::eater;
use super::evidence::forbids;
use super::mark::Mark;
use super::pair::Pair;
use super::sentence::Sentence;
use super::tale::phrase;
use crate::lang::lexicon::is_food_word;
use crate::lang::syntax::{Amount, Command, Day, NewBatch, Portion, WeighedOf, Weighing, Words};
use crate::lang::token::Token;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{fillers, pots, talk};

/// A bare number below this is no pot.
const POT_GRAMS_MIN: f64 = 100.0;
/// Of what is only ready, a bare number may be a heat.
const READY_GRAMS_MIN: f64 = 500.0;
const NAME_MARKS_MAX: usize = 4;
const CONTAINER_WORDS_MAX: usize = 3;
/// Nothing of another kind may be told in the clauses of the pot.
pub const OTHER: [&str; 5] = ["eat", "share", "waste", "amends", "story"];

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let weights = weights(sentence)?;
    let (at, _) = *weights.first()?;
    let made = made(sentence, at)?;
    let pot = weights
        .iter()
        .take_while(|(other, _)| goes_on(sentence, at, *other));
    let readings: Vec<f64> = pot.map(|(_, grams)| *grams).collect();
    let (_, plates) = weights.split_at(readings.len());
    let told = 0..sentence.clause(weights[readings.len() - 1].0) + 1;
    let told = match plates {
        [] => 0..sentence.clause_count(),
        _ => told,
    };
    let other = |clause: usize| {
        OTHER.iter().any(|key| sentence.tells(clause, key)) || forbids(sentence, clause)
    };
    // "made a budget, 2350 left till payday"
    let left = (0..sentence.marks.len()).any(|at| phrase(sentence, at, "left").is_some());
    if left {
        return None;
    }
    let large = readings[0] >= READY_GRAMS_MIN || is_mass(sentence, at);
    if told.clone().any(other) || made.ready && !(large || tells(sentence, "weighs")) {
        return None;
    }
    let weighing = weighing(sentence, &made, at, readings)?;
    let mut commands = vec![command(sentence, &made, weighing)?];
    if !plates.is_empty() {
        let portions = portions(sentence, &made.name, plates)?;
        commands.extend(portions.into_iter().map(Command::Portion));
    }
    Some(commands)
}

/// What was made, and where the message says so.
pub struct Made {
    pub name: Words,
    pub cue: usize,
    /// It is only said to be ready.
    pub ready: bool,
}

/// A name beside what says that it was made; what is named behind stands before the weight.
pub fn made(sentence: &Sentence<'_>, weight: usize) -> Option<Made> {
    let marks = 0..sentence.marks.len();
    let said = |key| {
        marks
            .clone()
            .find_map(|at| Some((at, sentence.cue(at, key)?)))
    };
    let cooked = said("cooked").and_then(|(cue, length)| {
        let behind = name_behind(sentence, cue + length, weight);
        let name =
            behind.or_else(|| (weight > cue).then(|| name_before(sentence, cue)).flatten())?;
        let ready = false;
        Some(Made { name, cue, ready })
    });
    if cooked.is_some() {
        return cooked;
    }
    let (cue, _) = said("ready")?;
    let name = name_before(sentence, cue).map(without_is)?;
    let mut words = name.text.split(' ');
    let food = words.any(is_food_word) || sentence.cue(cue, "off the heat").is_some();
    let ready = true;
    food.then_some(Made { name, cue, ready })
}

/// "beetroot soup's ready"
fn without_is(mut name: Words) -> Words {
    for ending in ["'s", "’s"] {
        name.text = name.text.trim_end_matches(ending).to_owned();
    }
    name
}

/// Every weight, in its order; nothing where another number stands.
fn weights(sentence: &Sentence<'_>) -> Option<Vec<(usize, f64)>> {
    let mut found: Vec<(usize, f64)> = Vec::new();
    for (at, marked) in sentence.marks.iter().enumerate() {
        match &marked.mark {
            Mark::Stray | Mark::Aside => return None,
            Mark::Amount(Amount::Mass(grams) | Amount::Bare(grams)) => found.push((at, *grams)),
            // "a new batch": an article is no number.
            Mark::Amount(Amount::Pieces { .. }) if sentence.norm(at).starts_with('a') => {}
            Mark::Amount(_) => return None,
            _ => {}
        }
    }
    let (_, first) = *found.first()?;
    (first >= POT_GRAMS_MIN).then_some(found)
}

fn is_mass(sentence: &Sentence<'_>, at: usize) -> bool {
    matches!(sentence.mark(at), Some(Mark::Amount(Amount::Mass(_))))
}

/// "620 and 580": one pot on the scale in several goes.
fn goes_on(sentence: &Sentence<'_>, first: usize, at: usize) -> bool {
    (first..at).all(|between| {
        matches!(sentence.mark(between), Some(Mark::Amount(_))) || sentence.joins(between)
    })
}

fn tells(sentence: &Sentence<'_>, key: &'static str) -> bool {
    (0..sentence.clause_count()).any(|clause| sentence.tells(clause, key))
}

/// Without the pot, or with one that is known.
fn weighing(
    sentence: &Sentence<'_>,
    made: &Made,
    at: usize,
    readings_grams: Vec<f64>,
) -> Option<Weighing> {
    let marked = &sentence.marks[at];
    let span = sentence.input.range(marked.from, marked.to).span();
    let several = readings_grams.len() > 1;
    let bare = tells(sentence, "bare");
    let net = Weighing {
        readings_grams,
        ..Weighing::net(0.0, span)
    };
    if bare {
        return Some(net);
    }
    if let Some(container) = container(sentence) {
        let container = Some(container);
        return (!several).then_some(Weighing {
            gross: true,
            net: false,
            container,
            ..net
        });
    }
    let in_a_pot = (made.cue + 1..sentence.marks.len()).any(|at| of_a_pot(sentence, made, at));
    (!several && !in_a_pot).then_some(net)
}

/// A vessel that may be in the weight.
pub fn of_a_pot(sentence: &Sentence<'_>, made: &Made, at: usize) -> bool {
    let potted = sentence.mark(at) == Some(&Mark::Word) && pots().has(sentence.norm(at));
    potted && sentence.cue(at, "cooked").is_none() && !is_of_cue(sentence, made, at)
}

/// "a big pot of soup" is a word of making it.
fn is_of_cue(sentence: &Sentence<'_>, made: &Made, at: usize) -> bool {
    let length = sentence.cue(made.cue, "cooked").unwrap_or(1);
    let again = (made.cue..at).filter_map(|from| Some(from + sentence.cue(from, "cooked")?));
    (made.cue..made.cue + length).contains(&at) || again.max().is_some_and(|end| at < end)
}

/// The household's own that is named.
pub fn container(sentence: &Sentence<'_>) -> Option<Words> {
    let input = sentence.input;
    (0..input.len()).find_map(|at| {
        let known = input.after(at).longest_run(CONTAINER_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            let known = input.vocabulary.is(Sense::Container, &words);
            known.then(|| said.words())
        });
        known.map(|(_, words)| words)
    })
}

/// A new batch; or the cooked weight of the one that is ready and has this name.
fn command(sentence: &Sentence<'_>, made: &Made, weighing: Weighing) -> Option<Command> {
    let folded = crate::lang::lexer::folded_words(&made.name.text);
    let words: Vec<&str> = folded.iter().map(String::as_str).collect();
    if made.ready && sentence.input.vocabulary.is_batch(&words) {
        return tells(sentence, "weighs").then(|| Command::Weigh {
            batch: made.name.clone(),
            weighing,
            of: WeighedOf::Unsaid,
        });
    }
    Some(Command::Batch(NewBatch {
        name: made.name.clone(),
        weighings: vec![weighing],
        made: sentence.day().filter(|day| *day != Day::Today),
        ..NewBatch::default()
    }))
}

/// Who had of it at once: every clause with such a weight must say that it was eaten, or by whom.
fn portions(
    sentence: &Sentence<'_>,
    name: &Words,
    plates: &[(usize, f64)],
) -> Option<Vec<Portion>> {
    let eaten = |(at, _): &(usize, f64)| {
        let clause = sentence.clause(*at);
        let mut marks = sentence.within(clause);
        let person = |at: usize| {
            matches!(sentence.mark(at), Some(Mark::Person(_))) || sentence.cue(at, "me").is_some()
        };
        let said =
            ["eat", "log"].iter().any(|key| sentence.tells(clause, key)) || marks.any(person);
        said && !forbids(sentence, clause)
    };
    let named = |at: usize| {
        matches!(
            sentence.mark(at),
            Some(Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
        )
    };
    let first = plates[0].0;
    if !plates.iter().all(eaten) || (first..sentence.marks.len()).any(named) {
        return None;
    }
    let mut pairs: Vec<Pair> = plates
        .iter()
        .map(|&(at, grams)| Pair {
            amount: Amount::Mass(grams),
            name: name.clone(),
            household: true,
            at,
            from: at,
            to: at + 1,
        })
        .collect();
    eater::portions(sentence, &mut pairs)
}

/// "made a big pot of pea soup"
fn name_behind(sentence: &Sentence<'_>, from: usize, amount: usize) -> Option<Words> {
    let mut from = from;
    while from < amount
        && (matches!(sentence.mark(from), Some(Mark::Day(_)))
            || matches!(
                sentence.mark(from),
                Some(Mark::Amount(Amount::Pieces { .. }))
            )
            || sentence.cue(from, "link").is_some()
            || sentence.cue(from, "cooked").is_some()
            || sentence.norm(from).is_empty())
    {
        from += sentence.cue(from, "cooked").unwrap_or(1);
    }
    let to = (from..amount).find(|&at| !is_of_name(sentence, at));
    name(sentence, from, to.unwrap_or(amount))
}

/// "hummus made!!", "2.3 kg of goulash just came off the stove"
fn name_before(sentence: &Sentence<'_>, cue: usize) -> Option<Words> {
    let of_name = (0..cue).rev().take_while(|&at| is_of_name(sentence, at));
    name(sentence, of_name.last()?, cue)
}

fn is_of_name(sentence: &Sentence<'_>, at: usize) -> bool {
    match sentence.mark(at) {
        Some(Mark::Food(_) | Mark::Foods | Mark::Dish(_)) => true,
        Some(Mark::Word) => {
            let norm = sentence.norm(at);
            !norm.is_empty()
                && !talk().has(norm)
                && !fillers().has(norm)
                && ["ends", "me", "link"]
                    .iter()
                    .all(|key| sentence.cue(at, key).is_none())
        }
        _ => false,
    }
}

fn name(sentence: &Sentence<'_>, from: usize, to: usize) -> Option<Words> {
    if from >= to || to - from > NAME_MARKS_MAX {
        return None;
    }
    let marks = &sentence.marks[from..to];
    let tokens = sentence
        .input
        .range(marks[0].from, marks[marks.len() - 1].to);
    Some(tokens.words())
}
