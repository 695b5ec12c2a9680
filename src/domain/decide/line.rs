//! One ingredient line: what it is, how much of it, and what stays unclear while the batch stands.

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
use super::super::resolve::{Resolved, Thing, Unresolved, Use, resolve_amount};
use super::draw::draw;
use super::unclear::{asking, replacement, which_food};
use super::{Asking, problem};
use crate::lang::syntax::{Amount, IngredientLine, LineContent, Words};

/// What became of a line that could not be taken whole.
pub struct Pending {
    pub number: u32,
    pub problem: Problem,
    pub asking: Asking,
}

/// What an ingredient entry is written from.
struct Written<'a> {
    line: &'a IngredientLine,
    number: u32,
    state: LineState,
    mass: Mass,
    estimated: bool,
    note: Option<String>,
}

/// Write a line into the batch. It always gets a row of its own: a line that is unclear waits there
/// with its number.
pub fn write(
    draft: &mut Draft,
    batch: BatchId,
    number: u32,
    line: &IngredientLine,
) -> Option<Pending> {
    let (amount, name) = match &line.content {
        LineContent::Unclear(error) => {
            let problem = problem(error);
            let options = Vec::new();
            return Some(wait(
                draft,
                batch,
                number,
                line,
                LineState::Pending,
                problem,
                options,
            ));
        }
        LineContent::Ingredient { amount, name } => (amount.as_ref(), name),
    };
    let dish = draft.kitchen.batch(batch).name.clone();
    let today = draft.today();
    let used = Use::Ingredient { dish: &dish };
    match resolve_amount(&draft.kitchen, amount, name, used, today) {
        Ok(mut resolved) => {
            if let Thing::Batches(batches) = &mut resolved.thing {
                *batches = draft.in_order(std::mem::take(batches));
            }
            known(draft, batch, number, line, amount, name, resolved)
        }
        Err(unresolved) => unknown(draft, batch, number, line, amount, name, unresolved),
    }
}

#[allow(clippy::too_many_arguments)]
fn known(
    draft: &mut Draft,
    batch: BatchId,
    number: u32,
    line: &IngredientLine,
    amount: Option<&Amount>,
    name: &Words,
    resolved: Resolved,
) -> Option<Pending> {
    let Some(amount) = amount else {
        let problem = ProblemKind::MissingAmount {
            name: name.text.clone(),
        };
        return Some(wait(
            draft,
            batch,
            number,
            line,
            LineState::NoMass,
            problem.at(line.span.clone()),
            Vec::new(),
        ));
    };
    let measured = Measured {
        thing: &resolved.thing,
        name: &name.text,
    };
    let quantity = match meant(&draft.kitchen, amount, &measured) {
        Ok(Meant::Quantity(quantity)) => quantity,
        Ok(Meant::Uncounted) => {
            write_uncounted(draft, batch, number, line);
            return None;
        }
        Ok(Meant::Share(share)) => match &resolved.thing {
            Thing::Batches(batches) => Quantity {
                mass: draft.held(batches[0]).share(share),
                estimated: false,
                assumptions: Vec::new(),
            },
            _ => {
                let problem = ProblemKind::MissingAmount {
                    name: name.text.clone(),
                };
                return Some(wait(
                    draft,
                    batch,
                    number,
                    line,
                    LineState::NoMass,
                    problem.at(line.span.clone()),
                    Vec::new(),
                ));
            }
        },
        Ok(Meant::Between(low, high)) => {
            let problem = ProblemKind::MissingAmount {
                name: name.text.clone(),
            };
            let options = [low, high].map(|mass| {
                let amount = Amount::Mass(mass.grams());
                replacement(draft, batch, number, line, amount, name.clone(), None)
            });
            return Some(wait(
                draft,
                batch,
                number,
                line,
                LineState::NoMass,
                problem.at(line.span.clone()),
                options.into(),
            ));
        }
        Err(kind) => {
            let state = match kind {
                ProblemKind::NotAMass { .. } => LineState::Pending,
                _ => LineState::NoMass,
            };
            return Some(wait(
                draft,
                batch,
                number,
                line,
                state,
                kind.at(line.span.clone()),
                Vec::new(),
            ));
        }
    };
    let mut assumptions = resolved.assumptions.clone();
    assumptions.extend(quantity.assumptions.clone());
    let written = Written {
        line,
        number,
        state: LineState::Known,
        mass: quantity.mass,
        estimated: quantity.estimated,
        note: assumption::encode(&assumptions),
    };
    match resolved.thing {
        Thing::Food(code) => {
            let profile = draft.profile(code);
            enter(draft, batch, &written, Account::Bought, Some(profile), None);
            None
        }
        Thing::Packet(profile) => {
            enter(draft, batch, &written, Account::Bought, Some(profile), None);
            None
        }
        Thing::Batches(batches) => from_batches(draft, batch, &written, &batches, name),
    }
}

/// A batch as an ingredient draws its stock.
fn from_batches(
    draft: &mut Draft,
    batch: BatchId,
    written: &Written,
    batches: &[BatchId],
    name: &Words,
) -> Option<Pending> {
    let Written { line, number, .. } = *written;
    if batches.iter().any(|source| uses(draft, *source, batch)) {
        let problem = ProblemKind::Circular {
            name: name.text.clone(),
        };
        return Some(wait(
            draft,
            batch,
            number,
            line,
            LineState::Pending,
            problem.at(line.span.clone()),
            Vec::new(),
        ));
    }
    let drawn = match draw(draft, batches, written.mass, false) {
        Ok(drawn) => drawn,
        Err(too_much) => {
            let left = Amount::Mass(too_much.left.grams());
            let options = vec![replacement(
                draft,
                batch,
                number,
                line,
                left,
                name.clone(),
                None,
            )];
            let problem = too_much.problem().at(line.span.clone());
            return Some(wait(
                draft,
                batch,
                number,
                line,
                LineState::Pending,
                problem,
                options,
            ));
        }
    };
    for piece in drawn.pieces {
        let part = Written {
            mass: piece.mass,
            note: written.note.clone(),
            ..*written
        };
        enter(draft, batch, &part, piece.lot, None, Some(piece.batch));
    }
    None
}

/// Whether a batch has another among its ingredients, at any depth.
fn uses(draft: &Draft, batch: BatchId, wanted: BatchId) -> bool {
    batch == wanted
        || draft.kitchen.batches.get(&batch).is_some_and(|batch| {
            let sources = batch.lines.iter().filter_map(|line| line.source);
            sources
                .into_iter()
                .any(|source| uses(draft, source, wanted))
        })
}

/// An ingredient without a row never blocks a batch: its mass counts, its nutrients are unknown.
#[allow(clippy::too_many_arguments)]
fn unknown(
    draft: &mut Draft,
    batch: BatchId,
    number: u32,
    line: &IngredientLine,
    amount: Option<&Amount>,
    name: &Words,
    unresolved: Unresolved,
) -> Option<Pending> {
    let mass = match amount {
        Some(Amount::Uncounted(_)) => {
            write_uncounted(draft, batch, number, line);
            return None;
        }
        // "2 jackfruit" of something unknown: two grams of it would be a wild guess.
        Some(Amount::Bare(number)) if *number <= 12.0 => None,
        Some(amount) => plain_mass(amount),
        None => None,
    };
    let asking = which_food(draft, batch, number, line, amount, name, unresolved);
    let written = Written {
        line,
        number,
        state: if mass.is_some() {
            LineState::NoFood
        } else {
            LineState::NoMass
        },
        mass: mass.unwrap_or(Mass::ZERO),
        estimated: false,
        note: None,
    };
    enter(draft, batch, &written, Account::Bought, None, None);
    let kind = asking
        .problem
        .clone()
        .expect("an unknown food is a problem");
    Some(Pending {
        number,
        problem: kind.at(name.span.clone()),
        asking,
    })
}

/// The mass of an amount that needs no food to be known.
fn plain_mass(amount: &Amount) -> Option<Mass> {
    match amount {
        Amount::Mass(grams) | Amount::Bare(grams) | Amount::Weighed { grams, .. } => {
            Mass::weighed_out(*grams)
        }
        Amount::Each { count, grams, .. } => Mass::weighed_out(count * grams),
        _ => None,
    }
}

fn write_uncounted(draft: &mut Draft, batch: BatchId, number: u32, line: &IngredientLine) {
    let written = Written {
        line,
        number,
        state: LineState::Uncounted,
        mass: Mass::ZERO,
        estimated: false,
        note: None,
    };
    enter(draft, batch, &written, Account::Bought, None, None);
}

/// Write the line without mass, and ask.
#[allow(clippy::too_many_arguments)]
fn wait(
    draft: &mut Draft,
    batch: BatchId,
    number: u32,
    line: &IngredientLine,
    state: LineState,
    problem: Problem,
    options: Vec<Choice>,
) -> Pending {
    let asking = asking(line, &problem.kind, options);
    let written = Written {
        line,
        number,
        state,
        mass: Mass::ZERO,
        estimated: false,
        note: None,
    };
    enter(draft, batch, &written, Account::Bought, None, None);
    Pending {
        number,
        problem,
        asking,
    }
}

fn enter(
    draft: &mut Draft,
    batch: BatchId,
    written: &Written,
    from: Account,
    profile: Option<ProfileId>,
    source: Option<BatchId>,
) {
    let pot = draft.pot(batch);
    let detail = Detail::Ingredient {
        number: written.number,
        text: written.line.text.clone(),
        part: written.line.part.clone(),
        state: written.state,
        estimated: written.estimated,
        note: written.note.clone(),
        source,
    };
    draft.enter(
        EntryKind::Ingredient,
        (from, pot),
        written.mass,
        Some(batch),
        profile,
        Some(detail),
    );
}
