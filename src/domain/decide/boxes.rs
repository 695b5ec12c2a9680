//! Meals packed by the count: what is in them is drawn from its dishes, and they stand in stock as a batch of so
//! many pieces.

use super::super::answer::{About, BatchEvent, Note};
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::opening::Opening;
use super::super::origin::Origin;
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, Quantity, meant};
use super::super::resolve::{Resolved, Thing, Unresolved, Use, resolve_amount};
use super::draw::{self, TooMuch, draw};
use super::mixed::{Part, put_in};
use super::{Step, Stop, batch, find, scale, shortage};
use crate::foods::{self, Code};
use crate::lang;
use crate::lang::syntax::{Boxes, Command, Pieces, Words};

/// So many dishes name what they are in.
const NAMES_MAX: usize = 3;

/// What is in all of them, of one thing.
struct Content {
    thing: Thing,
    quantity: Quantity,
}

pub fn pack(draft: &mut Draft, said: &Boxes) -> Step {
    let mut contents = Vec::new();
    for at in 0..said.items.len() {
        contents.push(content(draft, said, at)?);
    }
    let name = name(draft, said, &contents);
    let whole: Vec<Words> = said
        .kept
        .iter()
        .filter(|kept| kept.count.is_none())
        .map(|kept| kept.place.clone())
        .collect();
    let place = batch::one_place(draft, &whole);
    let id = draft.open_batch(&Opening {
        name: &name,
        raw: false,
        origin: Origin::Boxed,
        dated: true,
        made_at: draft.input.said_at,
        place,
    });
    for (at, content) in contents.into_iter().enumerate() {
        put(draft, said, id, at, content)?;
    }
    let pieces = Pieces {
        count: said.count,
        word: Some(said.vessel.clone()),
    };
    // What is mixed is weighed out, not counted.
    if said.vessel != lang::MIX {
        batch::count(draft, id, Some(&pieces), None);
    }
    draft.settle();
    keep_apart(draft, said, id);
    draft.settle();
    let mut notes = Vec::new();
    if whole.len() > 1 {
        let places = whole.into_iter().map(|place| place.text).collect();
        notes.push(Note::OnePlaceOnly { places });
    }
    let event = BatchEvent::Boxed;
    Ok(batch::answer(draft, id, event, notes, Vec::new()))
}

/// "dal rice box": what the dishes were called, and what they are in.
fn name(draft: &Draft, said: &Boxes, contents: &[Content]) -> String {
    let called = |at: usize| {
        let words = said.items[at].name.text.trim().to_lowercase();
        match &contents[at].thing {
            Thing::Batches(batches) => {
                let batch = draft.kitchen.batch(batches[0]);
                let coded = batch.code.eq_ignore_ascii_case(&words);
                Some(if coded { batch.name.clone() } else { words })
            }
            Thing::Food(_) | Thing::Packet(_) => None,
        }
    };
    let names = (0..contents.len()).filter_map(called).take(NAMES_MAX);
    let names: Vec<String> = names.collect();
    format!("{} {}", names.join(" "), said.vessel)
}

fn content(draft: &Draft, said: &Boxes, at: usize) -> Result<Content, Stop> {
    let item = &scale::without_container(draft, &said.items[at])?;
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let amount = Some(&item.amount);
    let used = Use::Eaten;
    let found = resolve_amount(&draft.kitchen, amount, &item.name, used, draft.today());
    let mut resolved = found.map_err(|unresolved| which(draft, said, at, unresolved))?;
    if let Some(stop) = dry(said, at, &resolved) {
        return Err(stop);
    }
    if let Thing::Batches(batches) = &mut resolved.thing {
        *batches = draft.in_order(std::mem::take(batches));
    }
    let measured = Measured {
        thing: &resolved.thing,
        name: &item.name.text,
    };
    let times = if said.each {
        f64::from(said.count)
    } else {
        1.0
    };
    let missing = || {
        let name = item.name.text.clone();
        problem(ProblemKind::MissingAmount { name })
    };
    let mut quantity = match meant(&draft.kitchen, &item.amount, &measured).map_err(problem)? {
        Meant::Quantity(quantity) => quantity,
        Meant::Share(share) => Quantity {
            mass: match &resolved.thing {
                Thing::Batches(batches) => draft.held(batches[0]).share(share),
                Thing::Food(_) | Thing::Packet(_) => return Err(missing()),
            },
            estimated: share < 1.0,
            assumptions: Vec::new(),
        },
        Meant::Uncounted | Meant::Either(..) => return Err(missing()),
    };
    quantity.mass = quantity.mass.share(times);
    let thing = resolved.thing;
    Ok(Content { thing, quantity })
}

/// Put one thing into all of them.
fn put(
    draft: &mut Draft,
    said: &Boxes,
    id: BatchId,
    at: usize,
    content: Content,
) -> Result<(), Stop> {
    let text = said.items[at].to_string();
    let number = at as u32 + 1;
    let Content { thing, quantity } = content;
    let part = |from, mass, profile, source| Part {
        text: text.clone(),
        from,
        mass,
        estimated: quantity.estimated,
        profile,
        source,
    };
    let profile = match thing {
        Thing::Batches(batches) => {
            enough(draft, &batches, quantity.mass, said.anyway)
                .map_err(|too_much| fewer(said, at, &too_much))?;
            let drawn = draw(draft, &batches, quantity.mass, draw::From::Any, said.anyway)
                .map_err(|too_much| fewer(said, at, &too_much))?;
            for piece in drawn {
                let part = part(piece.lot, piece.mass, None, Some(piece.batch));
                put_in(draft, id, number, part);
            }
            return Ok(());
        }
        Thing::Food(code) => draft.profile(code),
        Thing::Packet(profile) => profile,
    };
    let part = part(Account::Bought, quantity.mass, Some(profile), None);
    put_in(draft, id, number, part);
    Ok(())
}

/// Boxes are packed by the scale: what its drift does not explain is not in them.
fn enough(draft: &Draft, batches: &[BatchId], asked: Mass, anyway: bool) -> Result<(), TooMuch> {
    let unknown = |id: &BatchId| shortage::weight_unknown(draft.kitchen.batch(*id));
    let left = batches.iter().map(|id| draft.held(*id)).sum();
    if anyway || asked <= left + shortage::DRIFT || batches.iter().any(unknown) {
        return Ok(());
    }
    Err(TooMuch {
        name: draft.kitchen.batch(batches[0]).name.clone(),
        left,
        asked,
        place: None,
    })
}

/// Those that were put somewhere else by the count.
fn keep_apart(draft: &mut Draft, said: &Boxes, id: BatchId) {
    let pot = draft.pot(id);
    let mut left = (said.count, draft.kitchen.batch(id).net_mass());
    for kept in &said.kept {
        let Some(count) = kept.count.filter(|count| (1..=left.0).contains(count)) else {
            continue;
        };
        let share = f64::from(count) / f64::from(left.0);
        let mass = left.1.share(share);
        left = (left.0 - count, left.1 - mass);
        let place = draft.place(&kept.place.text);
        let Account::Lot(from) = pot else { continue };
        let lot = draft.open_lot(id, Some(place), Some(from));
        let ends = (pot, Account::Lot(lot));
        draft.enter(EntryKind::Move, ends, mass, Some(id), None, None);
    }
}

/// The message with another name for one of the things.
fn named(said: &Boxes, at: usize, name: &str) -> String {
    let mut chosen = said.clone();
    chosen.items[at].name = Words::plain(name);
    Command::Boxes(chosen).to_string()
}

fn of_food(said: &Boxes, at: usize, code: Code) -> Choice {
    let food = foods::table().get(code);
    Choice {
        label: food.map_or_else(|| code.to_string(), |food| food.description.to_string()),
        says: named(said, at, &code.to_string()),
    }
}

/// A name that may be several things is asked about.
fn which(draft: &Draft, said: &Boxes, at: usize, unresolved: Unresolved) -> Stop {
    let item = &said.items[at];
    let (about, options): (About, Vec<Choice>) = match &unresolved {
        Unresolved::WhichBatch { batches, food } => {
            let batches = batches.iter().map(|id| {
                let batch = draft.kitchen.batch(*id);
                Choice {
                    label: format!("{} {}", batch.name, batch.code),
                    says: named(said, at, &batch.code),
                }
            });
            let food = food.iter().map(|code| of_food(said, at, *code));
            (About::WhichBatch, batches.chain(food).collect())
        }
        Unresolved::WhichFood(codes) => {
            let codes = codes.iter().map(|code| of_food(said, at, *code));
            (About::WhichFood, codes.collect())
        }
        Unresolved::UsedUp { .. } | Unresolved::Unknown { .. } => {
            let kind = unresolved.problem(&item.name.text);
            return Stop::Problem(kind.at(item.name.span.clone()));
        }
    };
    find::ask(about, &item.name.text, None, options)
}

/// "180 rice" that nobody cooked: dry or cooked is the costly difference.
fn dry(said: &Boxes, at: usize, resolved: &Resolved) -> Option<Stop> {
    let (dry, cooked) = resolved.dry_and_cooked()?;
    let options = [cooked, dry].map(|code| of_food(said, at, code));
    let words = &said.items[at].name.text;
    Some(find::ask(About::WhichFood, words, None, options.into()))
}

/// A dish does not reach for all of them.
fn fewer(said: &Boxes, at: usize, too_much: &TooMuch) -> Stop {
    let says = |count: u32, anyway: bool| {
        let mut kept = said.kept.clone();
        kept.retain(|kept| kept.count.is_none() || count == said.count);
        let boxes = Boxes {
            count,
            kept,
            anyway,
            ..said.clone()
        };
        Command::Boxes(boxes).to_string()
    };
    let mut options = vec![Choice {
        label: format!("all {} of them, all the same", said.count),
        says: says(said.count, true),
    }];
    let each = too_much.asked.grams() / f64::from(said.count);
    let reaches = (too_much.left.grams() / each).floor() as u32;
    if said.each && (1..said.count).contains(&reaches) {
        options.push(Choice {
            label: format!("only {reaches} of them"),
            says: says(reaches, false),
        });
    }
    let words = &said.items[at].name.text;
    find::ask(TooMuch::ABOUT, words, Some(too_much.problem()), options)
}
