//! A new batch, lines added later, and a line put right.

use std::collections::BTreeSet;

use chrono::{DateTime, Duration, Utc};

use super::super::answer::{About, Answer, BatchAnswer, BatchEvent, Note};
use super::super::batch::LineState;
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Choice, OpenQuestion};
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::opening::Opening;
use super::super::origin::Origin;
use super::super::problem::ProblemKind;
use super::super::view;
use super::line::{self, Pending};
use super::{
    Done, Step, Stop, cookbook, find, moving, place_is, planned, pour_off, prep, question, top_up,
    unclear, weigh, weighed_again,
};
use crate::lang;
use crate::lang::syntax::{
    Command, Day, Error, ErrorKind, IngredientLine, LineContent, NewBatch, Pieces, TopUp,
    WeighedOf, Words,
};

/// A yield outside this is asked about: usual cooking stays within.
const YIELD_USUAL: std::ops::RangeInclusive<f64> = 0.4..=4.0;

pub fn open(draft: &mut Draft, new: &NewBatch) -> Step {
    if new.name.text.trim().is_empty() {
        return Err(ProblemKind::NamelessBatch.into());
    }
    if let Some(done) = comes_out(draft, new)? {
        return Ok(done);
    }
    let made_at = made_at(draft, new.made.as_ref())?;
    draft.occurred_at = made_at;
    let place = one_place(draft, &new.places);
    let strange = strange_place(draft, &new.places);
    let id = draft.open_batch(&Opening {
        name: new.name.text.trim(),
        raw: new.raw,
        origin: Origin::Cooked,
        made_at,
        dated: true,
        place,
    });
    let mut pending = lines(draft, id, 1, &new.lines);
    let mut notes = Vec::new();
    // The scale speaks last: what was poured off before it is not in its reading.
    for poured in &new.poured {
        pending.extend(pour_off::write_or_wait(draft, id, poured));
    }
    pending.extend(weigh::write_or_wait(draft, id, &new.weighings));
    count(draft, id, new.pieces.as_ref(), None);
    draft.occurred_at = draft.input.said_at;
    draft.settle();
    notes.extend(odd_yield(draft, id));
    if new.places.len() > 1 {
        let places = new.places.iter().map(|place| place.text.clone());
        notes.push(Note::OnePlaceOnly {
            places: places.collect(),
        });
    }
    let mut done = answer(draft, id, BatchEvent::Opened, notes, pending);
    if let Some(place) = strange {
        done.asks.push(moving::ask_place(draft, id, place));
    }
    if !new.steps.is_empty() {
        let dish = draft.kitchen.batch(id).component;
        let kept = prep::keep_steps(draft, dish, &new.steps)?;
        done.answers.push(Answer::Prep(Box::new(kept)));
    }
    Ok(done)
}

/// "cooked dal came out at 1900", where a dal was opened by its sheet and waits for its weight: no pot beside it.
fn comes_out(draft: &mut Draft, new: &NewBatch) -> Result<Option<Done>, Stop> {
    let [weighing] = new.weighings.as_slice() else {
        return Ok(None);
    };
    let name = &new.name;
    let Ok(found) = find::batches(draft, name) else {
        return Ok(None);
    };
    let waits = |id: &&BatchId| cookbook::waits(draft, draft.kitchen.batch(**id));
    if !new.lines.is_empty() || !found.iter().any(|id| waits(&id)) {
        return Ok(None);
    }
    let of = WeighedOf::Unsaid;
    let command = Command::Weigh {
        batch: name.clone(),
        weighing: weighing.clone(),
        of,
    };
    find::which_pot(draft, &command)?;
    weigh::weigh(draft, name, weighing, of).map(Some)
}

pub fn add(draft: &mut Draft, batch: &Words, new: &[IngredientLine]) -> Step {
    let id = find::batch_to_change(draft, batch)?;
    let mut added = Vec::new();
    let mut weighed_in = None;
    for line in new {
        match planned::line_of(draft, id, line) {
            Some((number, line)) => {
                weighed_in = Some(amend(draft, batch, number, Some(&line))?);
            }
            None => added.push(line.clone()),
        }
    }
    if is_of_before(draft, id) && !added.is_empty() && weighed_in.is_none() {
        return top_up::top_up(
            draft,
            &TopUp {
                batch: Words::new(draft.kitchen.batch(id).code.clone(), batch.span.clone()),
                from: None,
                lines: added,
                by_grams: None,
                weighing: None,
            },
        );
    }
    match weighed_in {
        Some(done) if added.is_empty() => Ok(done),
        _ => add_lines(draft, id, &added),
    }
}

/// It was weighed on another day, and eaten from since: nothing was forgotten of it, so what is added goes into the
/// rest, and leaves earlier plates as they were.
fn is_of_before(draft: &Draft, id: BatchId) -> bool {
    let weighed_at = draft.kitchen.batch(id).weighed_at();
    let before = weighed_at.is_some_and(|at| draft.day_of(at) < draft.today());
    before && weighed_again::is_touched(draft, id)
}

fn add_lines(draft: &mut Draft, id: BatchId, new: &[IngredientLine]) -> Step {
    let known = draft.kitchen.batch(id);
    let next = known.last_number + 1;
    let weighed = known
        .weighed_at()
        .map(|weighed_at| (known.net_mass(), weighed_at));
    if let Some((_, weighed_at)) = weighed {
        // What was forgotten went in before the pot was weighed: its weight stands.
        draft.occurred_at = draft.occurred_at.min(weighed_at);
    }
    let pending = lines(draft, id, next, new);
    draft.occurred_at = draft.input.said_at;
    draft.settle();
    let notes = weighed.map(|(net, _)| Note::WeightStands { net });
    let event = BatchEvent::LinesAdded(new.len());
    Ok(answer(
        draft,
        id,
        event,
        notes.into_iter().collect(),
        pending,
    ))
}

pub fn amend(draft: &mut Draft, batch: &Words, number: u32, new: Option<&IngredientLine>) -> Step {
    let id = find::batch_to_change(draft, batch)?;
    let known = draft.kitchen.batch(id);
    let old: Vec<_> = known
        .lines
        .iter()
        .filter(|line| line.number == number)
        .cloned()
        .collect();
    let Some(first) = old.first().cloned() else {
        let lines = known
            .lines
            .iter()
            .map(|line| line.number)
            .max()
            .unwrap_or(0);
        return Err(ProblemKind::NoSuchLine { number, lines }.into());
    };
    draft.occurred_at = first.occurred_at;
    close_question(draft, id, number, &first.text);
    for line in &old {
        draft.reverse_line(id, line);
    }
    let mut pending = Vec::new();
    if new.is_none() {
        draft.takes_away();
    }
    if let Some(new) = new {
        let mut line = new.clone();
        line.part = line.part.or(first.part.clone());
        if let Some(same) = same_food(draft, &line, &first.text) {
            line = same;
        }
        // A choice among foods keeps the words that were typed.
        if line.text.is_empty() {
            line.text = first.text;
        }
        pending.extend(line::write(draft, id, number, &line));
        remember_choice(draft, new, &line.text);
    }
    draft.occurred_at = draft.input.said_at;
    draft.settle();
    let event = BatchEvent::LineChanged(number);
    let mut done = answer(draft, id, event, Vec::new(), pending);
    if done.asks.is_empty() {
        done.asks.extend(next_pending(draft, id, number));
    }
    Ok(done)
}

/// "line 1: 550 g": another amount of what the line is.
fn same_food(draft: &Draft, new: &IngredientLine, old: &str) -> Option<IngredientLine> {
    let LineContent::Unclear(Error {
        kind: ErrorKind::MissingName,
        ..
    }) = &new.content
    else {
        return None;
    };
    let amount = lang::answer::amount(&new.text, &draft.kitchen.vocabulary())?;
    let LineContent::Ingredient { name, .. } = lang::ingredient_line(old).content else {
        return None;
    };
    let amount = Some(amount);
    Some(IngredientLine {
        text: format!("{} {}", new.text.trim(), name.text),
        content: LineContent::Ingredient { amount, name },
        ..new.clone()
    })
}

/// What was asked about a line is moot when the line is written otherwise, or taken out.
fn close_question(draft: &mut Draft, id: BatchId, number: u32, text: &str) {
    let vocabulary = draft.kitchen.vocabulary();
    let code = &draft.kitchen.batch(id).code;
    let puts_right = |option: &Choice| {
        question::read(&option.says, &vocabulary).is_ok_and(|says| {
            matches!(says.as_slice(), [Command::Amend { batch, number: line, .. }]
                if batch.text == *code && *line == number)
        })
    };
    let about = [About::WhichFood, About::HowMuch].map(About::word);
    let of_it = |open: &&OpenQuestion| {
        let asks = open.words == text && about.contains(&open.about.as_str());
        asks && open.options.iter().all(puts_right)
    };
    let moot = draft.kitchen.questions.iter().filter(of_it);
    let moot: Vec<QuestionId> = moot.map(|open| open.id).collect();
    for id in moot {
        draft.push(Change::CloseQuestion(id));
    }
}

/// A food chosen by its number for words that were typed is what those words mean here from now on.
fn remember_choice(draft: &mut Draft, chosen: &IngredientLine, typed: &str) {
    let LineContent::Ingredient { name, .. } = &chosen.content else {
        return;
    };
    if let (true, Ok(food)) = (chosen.text.is_empty(), name.text.parse()) {
        super::portion::remember(draft, &super::find::name_in_line(typed), food, false);
    }
}

/// After one line is put right, the next unclear one is asked about.
fn next_pending(draft: &mut Draft, id: BatchId, done: u32) -> Option<super::Asking> {
    let waiting = draft.kitchen.batch(id).lines.iter().find(|line| {
        line.number != done
            && matches!(
                line.state,
                LineState::Pending | LineState::NoFood | LineState::NoMass
            )
    })?;
    let (number, text, part) = (waiting.number, waiting.text.clone(), waiting.part.clone());
    unclear::ask_again(draft, id, number, &text, part)
}

/// Write down how many pieces the batch is, or so much of it.
pub fn count(draft: &mut Draft, id: BatchId, pieces: Option<&Pieces>, of: Option<Mass>) {
    let Some(Pieces { count, word }) = pieces.cloned() else {
        return;
    };
    let ends = (Account::Bought, draft.pot(id));
    let detail = Some(Detail::Pieces { count, of, word });
    draft.enter(EntryKind::Fact, ends, Mass::ZERO, Some(id), None, detail);
}

/// Where it went, if all of it went to one place; lots in several places are not kept yet.
pub fn one_place(draft: &mut Draft, places: &[Words]) -> Option<PlaceId> {
    match places {
        [place] if place_is::is_known(draft, place) => Some(draft.place(&place.text)),
        _ => None,
    }
}

/// The one place, where nobody has told how cold it is there: the batch stands, and waits to be put there.
fn strange_place<'a>(draft: &Draft, places: &'a [Words]) -> Option<&'a Words> {
    match places {
        [place] if !place_is::is_known(draft, place) => Some(place),
        _ => None,
    }
}

/// Write lines with rising numbers; what stays unclear comes back.
pub fn lines(
    draft: &mut Draft,
    batch: BatchId,
    first: u32,
    lines: &[IngredientLine],
) -> Vec<Pending> {
    (first..)
        .zip(lines)
        .filter_map(|(number, line)| line::write(draft, batch, number, line))
        .collect()
}

/// When it was made, from the day said; a day to come is no day to have cooked on.
pub fn made_at(draft: &Draft, day: Option<&Day>) -> Result<DateTime<Utc>, Stop> {
    let Some(day) = day else {
        return Ok(draft.input.said_at);
    };
    let today = draft.today();
    let date = find::date(day, today)?;
    if date > today {
        return Err(ProblemKind::FutureDate.into());
    }
    Ok(draft.input.said_at - Duration::days((today - date).num_days()))
}

pub fn odd_yield(draft: &Draft, id: BatchId) -> Option<Note> {
    let batch = draft.kitchen.batch(id);
    batch.weighed_at()?;
    // What was poured away is neither in the pot nor lost in cooking.
    let raw = (batch.raw_mass() - batch.poured_mass()).grams();
    let factor = (raw > 0.0).then(|| batch.net_mass().grams() / raw)?;
    (!YIELD_USUAL.contains(&factor)).then_some(Note::OddYield { factor })
}

/// The batch as it now stands, with its questions.
pub fn answer(
    draft: &Draft,
    id: BatchId,
    event: BatchEvent,
    notes: Vec<Note>,
    pending: Vec<Pending>,
) -> Done {
    let mut listed = Vec::new();
    let mut asks = Vec::new();
    let mut seen = BTreeSet::new();
    for Pending {
        number,
        problem,
        asking,
    } in pending
    {
        if seen.insert(number) {
            listed.push((number, problem));
            // A line keeps its place in the batch; a weighing waits in its question alone.
            match number {
                0 => asks.insert(0, asking),
                _ => asks.push(asking),
            }
        }
    }
    let answer = BatchAnswer {
        event,
        made_today: draft.kitchen.batch(id).made_on == draft.today(),
        view: view::batch(&draft.kitchen, id),
        notes,
        pending: listed,
        message: draft.credit,
    };
    Done {
        answers: vec![Answer::Batch(Box::new(answer))],
        asks,
    }
}

/// Change what a batch is called; its code stays, since it may stand on a bag.
pub fn rename(draft: &mut Draft, batch: BatchId, name: &str) {
    let component = draft.component(name);
    let own_yield = draft.kitchen.own_yield(component);
    let name = name.to_owned();
    draft.push(Change::Rename {
        batch,
        name,
        component,
        own_yield,
    });
}
