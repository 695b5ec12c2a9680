//! A new batch in sentences, with what went into it: "tomato soup's done! 900 tomatoes, 200 onion and 400 water
//! went in, 1310 came out".
//!
//! ```text
//! told       := made { ingredient } yield                    in any order of its clauses
//! made       := (cooked name | name (cooked | ready))        as in `pot.rs`
//! ingredient := amount { link | describing } food { word }
//! yield      := mass cue | cue mass                          "880 once drained", "came out at 1310"
//! ```
//! Every amount is an ingredient's or the one that came out; with fewer than two ingredients, or nothing that says
//! what the last number weighs, it is no batch.

use super::evidence::{is_asked, vetoes};
use super::mark::Mark;
use super::pot::{Made, OTHER, container, made, of_a_pot};
use super::sentence::Sentence;
use crate::lang::lexicon::describes;
use crate::lang::line::line;
use crate::lang::syntax::{Amount, Command, Day, IngredientLine, NewBatch, Weighing};
use crate::lang::veto::is_strict;
use crate::lang::words::{cues, verbs};

const INGREDIENTS_MIN: usize = 2;
const HEAD_WORDS_MAX: usize = 4;
/// What tells how it came out, and forbids nothing: "out of the oven", "without the pot".
const OUT: [&str; 3] = ["ready", "came out", "bare"];
const OUT_WORDS_MAX: usize = 6;

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let amounts = amounts(sentence)?;
    let first = *amounts.first()?;
    let mut lines = Vec::new();
    let mut came_out = None;
    for &at in &amounts {
        match ingredient(sentence, at) {
            Some(line) => lines.push(line),
            None if came_out.is_none() => came_out = Some(weight(sentence, at)?),
            None => return None,
        }
    }
    let (at, grams) = came_out?;
    let made = headed(sentence, first)
        .or_else(|| made(sentence, first))
        .or_else(|| made(sentence, sentence.marks.len()))
        .or_else(|| cooked(sentence))?;
    let clauses = 0..sentence.clause_count();
    let other = |clause: usize| {
        OTHER.iter().any(|key| sentence.tells(clause, key)) || forbids(sentence, clause)
    };
    if lines.len() < INGREDIENTS_MIN || clauses.into_iter().any(other) {
        return None;
    }
    let weighing = weighing(sentence, &made, at, grams)?;
    Some(vec![Command::Batch(NewBatch {
        name: made.name,
        lines,
        weighings: vec![weighing],
        made: sentence.day().filter(|day| *day != Day::Today),
        ..NewBatch::default()
    })])
}

/// What forbids booking, but for the words of how it came out.
fn forbids(sentence: &Sentence<'_>, clause: usize) -> bool {
    // The table knows a food by "oven" too: the words count, whatever they are marked as.
    let of_out = |at: usize| {
        let token = sentence.marks[at].from;
        let within = |from: usize, key| {
            cues().longest_of(sentence.input.after(from).slice, key) > Some(token - from)
        };
        let mut before = token.saturating_sub(OUT_WORDS_MAX)..=token;
        before.any(|from| OUT.iter().any(|key| within(from, key)))
    };
    let found = vetoes(sentence, clause, |at| !of_out(at));
    is_asked(sentence, clause) || found.into_iter().any(is_strict)
}

/// "new batch apple compote nine hundred apples ...", "Baked focaccia: 600 flour ...": behind what was done to it a
/// colon is needed.
fn headed(sentence: &Sentence<'_>, first: usize) -> Option<Made> {
    let input = sentence.input;
    let to = sentence.marks.get(first)?.from;
    let verb = verbs().longest(input.slice);
    let from = match verb.filter(|(_, key)| *key == "batch") {
        Some((length, _)) => length,
        None => cues().longest_of(input.slice, "baked")?,
    };
    let labelled = to > from && input.slice[to - 1].is(':');
    let name = input.range(from, (to - usize::from(labelled)).max(from));
    let told = verb.is_some_and(|(_, key)| key == "batch") || labelled;
    let named = name.is_wordy() && (1..=HEAD_WORDS_MAX).contains(&name.len());
    (told && named).then(|| Made {
        name: name.words(),
        cue: 0,
        ready: false,
    })
}

/// "Chickpeas cooked: ...": a food and what was done with it, which are one name elsewhere.
fn cooked(sentence: &Sentence<'_>) -> Option<Made> {
    let marked = sentence.marks.first()?;
    let (last, from) = (marked.to.checked_sub(1)?, marked.from);
    let named = matches!(marked.mark, Mark::Food(_) | Mark::Foods | Mark::Dish(_));
    let done = cues().longest_of(&sentence.input.slice[last..=last], "cooked") == Some(1);
    (named && done && last > from).then(|| Made {
        name: sentence.input.range(from, last).words(),
        cue: 0,
        ready: false,
    })
}

/// Where every amount stands; nothing where a number is something else, or somebody is named.
fn amounts(sentence: &Sentence<'_>) -> Option<Vec<usize>> {
    let mut found = Vec::new();
    for (at, marked) in sentence.marks.iter().enumerate() {
        match &marked.mark {
            Mark::Stray | Mark::Aside | Mark::Person(_) => return None,
            // "a new batch": an article is no number.
            Mark::Amount(Amount::Pieces { .. }) if sentence.norm(at).starts_with('a') => {}
            Mark::Amount(_) => found.push(at),
            _ => {}
        }
    }
    Some(found)
}

/// What is named behind the amount.
fn ingredient(sentence: &Sentence<'_>, at: usize) -> Option<IngredientLine> {
    let mut named = sentence.after_links(at + 1);
    while sentence.mark(named) == Some(&Mark::Word) && describes(sentence.norm(named)) {
        named += 1;
    }
    let food = matches!(
        sentence.mark(named),
        Some(Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
    );
    let (from, to) = (&sentence.marks[at], sentence.marks.get(named)?);
    food.then(|| line(sentence.input.range(from.from, to.to), None))
}

/// The mass that came out: its clause says so.
fn weight(sentence: &Sentence<'_>, at: usize) -> Option<(usize, f64)> {
    let Some(Mark::Amount(Amount::Mass(grams) | Amount::Bare(grams))) = sentence.mark(at) else {
        return None;
    };
    let clause = sentence.clause(at);
    let said = ["came out", "weighs", "cooked"]
        .iter()
        .any(|key| sentence.tells(clause, key));
    // "880, once drained"
    let behind = sentence.within(clause + 1).next().is_some_and(|at| {
        let opens = sentence.input.after(sentence.marks[at].from);
        cues().longest_of(opens.slice, "came out").is_some()
    });
    (said || behind).then_some((at, *grams))
}

/// Without the pot, or with one that is known.
fn weighing(sentence: &Sentence<'_>, made: &Made, at: usize, grams: f64) -> Option<Weighing> {
    let marked = &sentence.marks[at];
    let span = sentence.input.range(marked.from, marked.to).span();
    let bare = (0..sentence.clause_count()).any(|clause| sentence.tells(clause, "bare"));
    if let Some(container) = container(sentence).filter(|_| !bare) {
        let container = Some(container);
        return Some(Weighing {
            gross: true,
            net: false,
            container,
            ..Weighing::net(grams, span)
        });
    }
    let potted = sentence
        .within(sentence.clause(at))
        .any(|at| of_a_pot(sentence, made, at));
    (bare || !potted).then(|| Weighing::net(grams, span))
}
