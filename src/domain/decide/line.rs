//! One ingredient line: what it is, how much of it, and what stays unclear while the batch stands.

use super::super::answer::About;
use super::super::assumption;
use super::super::batch::LineState;
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::{Problem, ProblemKind};
use super::super::quantity::{Meant, Measured, Quantity, meant};
use super::super::resolve::{Resolved, Thing, Unresolved, Use, resolve_amount, with_bracket};
use super::Asking;
use super::draw::{From, draw};
use super::heard::problem;
use super::unclear::{asking, replacement, which_food};
use crate::lang::syntax::{Amount, IngredientLine, LineContent, Words};

/// Where a line stands: its batch, its number there, and what was written.
#[derive(Clone, Copy)]
pub struct Slot<'a> {
    pub batch: BatchId,
    pub number: u32,
    pub line: &'a IngredientLine,
}

/// What became of a line that could not be taken whole.
pub struct Pending {
    pub number: u32,
    pub problem: Problem,
    pub asking: Asking,
}

/// What an ingredient entry says beside its two ends.
#[derive(Clone)]
struct Written {
    state: LineState,
    mass: Mass,
    estimated: bool,
    note: Option<String>,
}

/// Why a line waits.
struct Unclear {
    state: LineState,
    kind: ProblemKind,
    options: Vec<Choice>,
}

impl Unclear {
    fn new(state: LineState, kind: ProblemKind) -> Self {
        Self {
            state,
            kind,
            options: Vec::new(),
        }
    }

    fn no_amount(name: &Words) -> Self {
        let name = name.text.clone();
        Self::new(LineState::NoMass, ProblemKind::MissingAmount { name })
    }
}

/// Write a line into the batch. It always gets a row of its own: a line that is unclear waits there
/// with its number.
pub fn write(
    draft: &mut Draft,
    batch: BatchId,
    number: u32,
    line: &IngredientLine,
) -> Option<Pending> {
    let slot = Slot {
        batch,
        number,
        line,
    };
    let (amount, name) = match &line.content {
        LineContent::Unclear(error) => {
            let problem = problem(error);
            if crate::lang::opens_weighing(&line.text) {
                return Some(unread(line, problem.kind));
            }
            let span = problem.span.clone();
            let unclear = Unclear::new(LineState::Pending, problem.kind);
            let mut pending = wait(draft, slot, unclear);
            pending.problem.span = span;
            return Some(pending);
        }
        LineContent::Ingredient { amount, name } => (amount.as_ref(), name),
    };
    if let Some(pending) = unread_weighing(line, name) {
        return Some(pending);
    }
    let bracketed = with_bracket(&line.text, name);
    let name = bracketed.as_ref().unwrap_or(name);
    let dish = draft.kitchen.batch(batch).name.clone();
    let today = draft.today();
    let used = Use::Ingredient { dish: &dish };
    match resolve_amount(&draft.kitchen, amount, name, used, today) {
        Ok(mut resolved) => {
            if let Thing::Batches(batches) = &mut resolved.thing {
                *batches = draft.in_order(std::mem::take(batches));
            }
            match known(draft, slot, amount, name, resolved) {
                Ok(()) => None,
                Err(unclear) => Some(wait(draft, slot, unclear)),
            }
        }
        // "cooked: pot+soup 2915": a weighing that could not be read, not 2915 g of something.
        Err(_) if crate::lang::opens_weighing(&line.text) => {
            let text = line.text.clone();
            Some(unread(line, ProblemKind::NotAMass { text }))
        }
        Err(unresolved) => unknown(draft, slot, amount, name, unresolved),
    }
}

/// "cooked 1.5 l" is a weighing that could not be read, not an ingredient called "cooked".
fn unread_weighing(line: &IngredientLine, name: &Words) -> Option<Pending> {
    const VERBS: [&str; 5] = ["cooked", "weighed", "weighs", "net", "gross"];
    let first = name.text.split(' ').next()?.to_lowercase();
    if !VERBS.contains(&first.as_str()) || name.text.contains(' ') {
        return None;
    }
    let text = line.text.clone();
    Some(unread(line, ProblemKind::NotAMass { text }))
}

fn unread(line: &IngredientLine, kind: ProblemKind) -> Pending {
    Pending {
        number: 0,
        asking: Asking {
            about: About::WhichWeighing,
            words: line.text.clone(),
            problem: Some(kind.clone()),
            options: Vec::new(),
            pointed: None,
        },
        problem: kind.at(line.span.clone()),
    }
}

fn known(
    draft: &mut Draft,
    slot: Slot,
    amount: Option<&Amount>,
    name: &Words,
    resolved: Resolved,
) -> Result<(), Unclear> {
    let amount = amount.ok_or_else(|| Unclear::no_amount(name))?;
    let Some(quantity) = quantity(draft, slot, amount, name, &resolved.thing)? else {
        write_uncounted(draft, slot);
        return Ok(());
    };
    let assumptions = [resolved.assumptions, quantity.assumptions].concat();
    let written = Written {
        state: LineState::Known,
        mass: quantity.mass,
        estimated: quantity.estimated,
        note: assumption::encode(&assumptions),
    };
    let profile = match resolved.thing {
        Thing::Food(code) => draft.profile(code),
        Thing::Packet(profile) => profile,
        Thing::Batches(batches) => {
            let from = From::told(resolved.from.as_ref());
            return from_batches(draft, slot, &written, &batches, from, name);
        }
    };
    enter(draft, slot, &written, Account::Bought, Some(profile), None);
    Ok(())
}

/// How much; `None` for a pinch.
fn quantity(
    draft: &Draft,
    slot: Slot,
    amount: &Amount,
    name: &Words,
    thing: &Thing,
) -> Result<Option<Quantity>, Unclear> {
    let measured = Measured {
        thing,
        name: &name.text,
    };
    match (meant(&draft.kitchen, amount, &measured), thing) {
        (Ok(Meant::Quantity(quantity)), _) => Ok(Some(quantity)),
        (Ok(Meant::Uncounted), _) => Ok(None),
        (Ok(Meant::Share(share)), Thing::Batches(batches)) => Ok(Some(Quantity {
            mass: draft.held(batches[0]).share(share),
            estimated: false,
            assumptions: Vec::new(),
        })),
        (Ok(Meant::Share(_)), _) => Err(Unclear::no_amount(name)),
        (Ok(Meant::Either(low, high)), _) => {
            let option = |amount: Amount| replacement(draft, slot, amount, name.clone(), None);
            Err(Unclear {
                options: vec![option(low), option(high)],
                ..Unclear::no_amount(name)
            })
        }
        (Err(kind @ ProblemKind::NotAMass { .. }), _) => {
            Err(Unclear::new(LineState::Pending, kind))
        }
        (Err(kind), _) => Err(Unclear::new(LineState::NoMass, kind)),
    }
}

/// A batch as an ingredient draws its stock.
fn from_batches(
    draft: &mut Draft,
    slot: Slot,
    written: &Written,
    batches: &[BatchId],
    from: From<'_>,
    name: &Words,
) -> Result<(), Unclear> {
    if batches
        .iter()
        .any(|source| uses(draft, *source, slot.batch))
    {
        let name = name.text.clone();
        return Err(Unclear::new(
            LineState::Pending,
            ProblemKind::Circular { name },
        ));
    }
    let drawn = match draw(draft, batches, written.mass, from, false) {
        Ok(drawn) => drawn,
        Err(too_much) => {
            // What does not stand where it was said to may stand elsewhere.
            let (amount, name) = match too_much.elsewhere() {
                Some(_) => (too_much.asked, Words::plain(too_much.name.clone())),
                None => (too_much.left, name.clone()),
            };
            let amount = Amount::Mass(amount.grams());
            return Err(Unclear {
                state: LineState::Pending,
                options: vec![replacement(draft, slot, amount, name, None)],
                kind: too_much.problem(),
            });
        }
    };
    for piece in drawn {
        let part = Written {
            mass: piece.mass,
            ..written.clone()
        };
        enter(draft, slot, &part, piece.lot, None, Some(piece.batch));
    }
    Ok(())
}

/// Whether a batch has another among its ingredients, at any depth.
fn uses(draft: &Draft, batch: BatchId, wanted: BatchId) -> bool {
    batch == wanted
        || draft.kitchen.batches.get(&batch).is_some_and(|batch| {
            let mut sources = batch.lines.iter().filter_map(|line| line.source);
            sources.any(|source| uses(draft, source, wanted))
        })
}

/// An ingredient without a row never blocks a batch: its mass counts, its nutrients are unknown.
fn unknown(
    draft: &mut Draft,
    slot: Slot,
    amount: Option<&Amount>,
    name: &Words,
    unresolved: Unresolved,
) -> Option<Pending> {
    let mass = match amount {
        Some(Amount::Uncounted(_)) => {
            write_uncounted(draft, slot);
            return None;
        }
        // "2 jackfruit" of something unknown: two grams of it would be a wild guess.
        Some(Amount::Bare(number)) if *number <= 12.0 => None,
        Some(amount) => plain_mass(amount),
        None => None,
    };
    let problem = unresolved.clone().problem(&name.text).at(name.span.clone());
    let asking = which_food(draft, slot, amount, name, unresolved);
    let written = Written {
        state: mass.map_or(LineState::NoMass, |_| LineState::NoFood),
        mass: mass.unwrap_or(Mass::ZERO),
        estimated: false,
        note: None,
    };
    enter(draft, slot, &written, Account::Bought, None, None);
    Some(Pending {
        number: slot.number,
        problem,
        asking,
    })
}

/// The mass of an amount that needs no food to be known.
pub fn plain_mass(amount: &Amount) -> Option<Mass> {
    match amount {
        Amount::Mass(grams) | Amount::Bare(grams) | Amount::Weighed { grams, .. } => {
            Mass::weighed_out(*grams)
        }
        Amount::Each { count, grams, .. } => Mass::weighed_out(count * grams),
        _ => None,
    }
}

fn write_uncounted(draft: &mut Draft, slot: Slot) {
    let written = without_mass(LineState::Uncounted);
    enter(draft, slot, &written, Account::Bought, None, None);
}

/// Write the line without mass, and ask.
fn wait(draft: &mut Draft, slot: Slot, unclear: Unclear) -> Pending {
    let asking = asking(slot.line, &unclear.kind, unclear.options);
    let written = without_mass(unclear.state);
    enter(draft, slot, &written, Account::Bought, None, None);
    Pending {
        number: slot.number,
        problem: unclear.kind.at(slot.line.span.clone()),
        asking,
    }
}

fn without_mass(state: LineState) -> Written {
    Written {
        state,
        mass: Mass::ZERO,
        estimated: false,
        note: None,
    }
}

fn enter(
    draft: &mut Draft,
    slot: Slot,
    written: &Written,
    from: Account,
    profile: Option<ProfileId>,
    source: Option<BatchId>,
) {
    let ends = (from, draft.pot(slot.batch));
    let detail = Detail::Ingredient {
        number: slot.number,
        text: slot.line.text.clone(),
        part: slot.line.part.clone(),
        state: written.state,
        estimated: written.estimated,
        note: written.note.clone(),
        source,
    };
    let about = (Some(slot.batch), profile);
    draft.enter(
        EntryKind::Ingredient,
        ends,
        written.mass,
        about.0,
        about.1,
        Some(detail),
    );
}
