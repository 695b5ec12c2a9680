//! What came to stand here that nobody cooked: plain food and packets that were bought, and what stood there before
//! the books began. Each is a batch of one line.

use chrono::{DateTime, NaiveDate, Utc};

use super::super::answer::{About, Answer, Note, ReceiveAnswer, ReceivedView};
use super::super::batch::LineState;
use super::super::draft::Draft;
use super::super::ids::{BatchId, PlaceId};
use super::super::kitchen::Choice;
use super::super::ledger::Account;
use super::super::opening::Opening;
use super::super::origin::Origin;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::view;
use super::line::{self, Pending};
use super::{Asking, Done, Step, Stop, batch, before, find, place_is, reopen, use_by};
use crate::lang::syntax::{
    Amount, Command, IngredientLine, Item, LineContent, Pieces, Receive, Received, Reopen, Weighed,
    Weighing, Words,
};

pub fn receive(draft: &mut Draft, told: &Receive) -> Step {
    let place = place(draft, told)?;
    let made_at = batch::made_at(draft, told.made.as_ref())?;
    let on = told
        .use_by
        .as_ref()
        .map(|day| find::printed_date(day, draft.today()));
    let on = on.transpose()?;
    in_order(draft, told, made_at, on)?;
    for (at, item) in told.items.iter().enumerate() {
        if let Some(stop) = stands_already(draft, told, at, item, place) {
            return Err(stop);
        }
    }
    let mut lots = Vec::new();
    let mut asks = Vec::new();
    let mut notes = Vec::new();
    let (weighed, unweighed): (Vec<&Item>, Vec<&Item>) = told
        .items
        .iter()
        .partition(|item| !matches!(item.amount, Amount::Uncounted(_)));
    // One question at a time: the others are told to stay out.
    for item in unweighed {
        match asks.is_empty() {
            true => asks.push(how_much(told, item)),
            false => notes.push(Note::NotCounted {
                words: item.name.text.clone(),
            }),
        }
    }
    for item in weighed {
        draft.occurred_at = made_at;
        let (id, pending) = open(draft, told, item, place, made_at)?;
        draft.occurred_at = draft.input.said_at;
        if let (Some(on), Account::Lot(lot)) = (on, draft.pot(id)) {
            use_by::write(draft, id, lot, on);
        }
        lots.push((id, pending.as_ref().map(|pending| pending.problem.clone())));
        asks.extend(pending.map(|pending| pending.asking));
    }
    draft.settle();
    let lots_told = !lots.is_empty();
    let seen = |(id, pending)| received(draft, id, pending);
    let answer = Answer::Receive(ReceiveAnswer {
        lots: lots.into_iter().map(seen).collect(),
        origin: origin(told),
        today: draft.today(),
        notes,
        message: draft.credit,
    });
    // Of bread alone, how much is all there is to say.
    let answers = if lots_told { vec![answer] } else { Vec::new() };
    Ok(Done { answers, asks })
}

/// "bread", in a list of what stands somewhere: it is told with its weight, or not at all.
fn how_much(told: &Receive, item: &Item) -> Asking {
    let name = item.name.text.clone();
    let weighed = Item::new(Amount::Mass(1.0), item.name.clone());
    let whole = Command::Receive(Receive {
        items: vec![weighed],
        ..told.clone()
    });
    Asking {
        about: About::Grams,
        words: name.clone(),
        problem: Some(ProblemKind::MissingAmount { name }),
        options: vec![Choice::as_said(whole.to_string())],
        pointed: None,
    }
}

fn origin(told: &Receive) -> Origin {
    match told.from {
        Received::Bought => Origin::Bought,
        Received::Before => Origin::Before,
    }
}

/// Where it stands, if that was said; of a place that nobody has told of the household is asked.
fn place(draft: &mut Draft, told: &Receive) -> Result<Option<PlaceId>, Stop> {
    let Some(words) = &told.place else {
        return Ok(None);
    };
    let as_told = |kind| {
        let kind = Some(kind);
        Command::Receive(Receive {
            kind,
            ..told.clone()
        })
    };
    place_is::known(draft, words, told.kind, as_told).map(Some)
}

/// Nothing is due before it was made, and nobody buys what was due yesterday.
fn in_order(
    draft: &Draft,
    told: &Receive,
    made_at: DateTime<Utc>,
    on: Option<NaiveDate>,
) -> Result<(), Stop> {
    let made = draft.day_of(made_at);
    let dated = told.made.is_some() || told.from == Received::Bought;
    match on {
        Some(use_by) if dated && use_by < made => {
            Err(ProblemKind::DateOrder { made, use_by }.into())
        }
        _ => Ok(()),
    }
}

/// A dish of that name stands there by the books: is that what was found, or is there more?
fn stands_already(
    draft: &Draft,
    told: &Receive,
    at: usize,
    item: &Item,
    place: Option<PlaceId>,
) -> Option<Stop> {
    let (place, words) = (place?, told.place.as_ref()?);
    if told.from != Received::Before || told.anyway {
        return None;
    }
    let found = find::batches(draft, &item.name).ok()?;
    let standing = found.iter().copied().find(|id| {
        let lots = &draft.kitchen.batch(*id).lots;
        lots.iter()
            .any(|lot| lot.place == Some(place) && lot.balance.mg() > 0)
    });
    // One that was finished may stand there after all.
    let finished = || {
        let none_left = found.iter().all(|id| reopen::is_finished(draft, *id));
        none_left.then(|| found.last().copied()).flatten()
    };
    let known = standing.or_else(finished)?;
    let grams = match item.amount {
        Amount::Mass(grams) | Amount::Bare(grams) => grams,
        _ => return None,
    };
    let code = draft.kitchen.batch(known).code.clone();
    let dish = Words::plain(code.clone());
    let count = match standing {
        Some(_) => Command::Count {
            items: vec![Weighed {
                name: dish,
                place: Some(words.clone()),
                weighing: Weighing::net(grams, 0..0),
            }],
            rest: None,
            anyway: false,
        },
        None => Command::Reopen(Reopen {
            dish,
            grams: Some(grams),
            place: Some(words.clone()),
        }),
    };
    let more = Command::Receive(Receive {
        anyway: true,
        ..told.clone()
    });
    let name = &told.items[at].name.text;
    let mut options = vec![Choice {
        label: format!("more, from before: {grams} g"),
        says: more.to_string(),
    }];
    // The rest of the message would be lost with a count.
    if told.items.len() == 1 {
        options.insert(
            0,
            Choice {
                label: match standing {
                    Some(_) => format!("it is {code}: count it, {grams} g"),
                    None => format!("it is {code} after all: {grams} g"),
                },
                says: count.to_string(),
            },
        );
    }
    Some(find::ask(About::WhichBatch, name, None, options))
}

/// A batch of one line.
fn open(
    draft: &mut Draft,
    told: &Receive,
    item: &Item,
    place: Option<PlaceId>,
    made_at: DateTime<Utc>,
) -> Result<(BatchId, Option<Pending>), Stop> {
    let name = item.name.text.trim();
    if name.is_empty() {
        return Err(ProblemKind::MissingName.into());
    }
    let origin = origin(told);
    let id = draft.open_batch(&Opening {
        name,
        raw: false,
        origin,
        made_at,
        dated: told.made.is_some() || origin == Origin::Bought,
        place,
    });
    let line = IngredientLine {
        text: item.to_string(),
        span: item.span.clone(),
        part: None,
        content: LineContent::Ingredient {
            amount: Some(item.amount.clone()),
            name: item.name.clone(),
        },
    };
    let pending = match origin {
        Origin::Before => {
            before::write(draft, id, item)?;
            None
        }
        _ => line::write(draft, id, 1, &line),
    };
    let counted = pieces(draft, id, &item.amount);
    batch::count(draft, id, counted.as_ref(), None);
    Ok((id, pending))
}

/// "12 eggs", "2 tins": what was counted is counted from then on.
fn pieces(draft: &Draft, id: BatchId, amount: &Amount) -> Option<Pieces> {
    let line = draft.kitchen.batch(id).lines.first()?;
    let known = matches!(line.state, LineState::Known | LineState::NoFood);
    if !known || line.mass.mg() <= 0 {
        return None;
    }
    let (count, word) = match amount {
        // "12 empanadas, 960 g"
        Amount::Weighed { said, .. } => match said.as_ref() {
            Amount::Bare(count) => (*count, None),
            _ => return None,
        },
        Amount::Bare(count) if line.estimated => (*count, None),
        Amount::Pieces { count, measure } | Amount::Each { count, measure, .. } => {
            (*count, measure.last().cloned())
        }
        _ => return None,
    };
    let whole = count.fract() == 0.0 && (1.0..=1000.0).contains(&count);
    whole.then_some(Pieces {
        count: count as u32,
        word,
    })
}

fn received(
    draft: &Draft,
    id: BatchId,
    pending: Option<super::super::problem::Problem>,
) -> ReceivedView {
    let batch = draft.kitchen.batch(id);
    let line = batch.lines.first();
    let profile = line.and_then(|line| draft.kitchen.profiles.get(&line.profile?));
    // A packet by its own name says nothing new.
    let told = |description: &String| key(description) != key(&batch.name);
    ReceivedView {
        lot: view::lot(&draft.kitchen, batch, &batch.lots[0]),
        taken_as: profile
            .map(|profile| profile.description.clone())
            .filter(told),
        pending,
    }
}
