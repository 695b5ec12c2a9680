//! Food thrown away.

use super::super::answer::{Answer, DrawAnswer, DrawLine};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::quantity::{Meant, Measured, meant};
use super::super::resolve::Thing;
use super::draw::{From, TooMuch, draw};
use super::{Done, Step, Stop, count, find};
use crate::lang;
use crate::lang::syntax::{Amount, Command, Item, Words};

pub fn waste(draft: &mut Draft, items: &[Item], reason: Option<&str>, anyway: bool) -> Step {
    let mut lines = Vec::new();
    for item in items {
        waste_one(draft, items, item, reason, anyway, &mut lines)?;
    }
    draft.settle();
    for line in &mut lines {
        let batch = draft
            .kitchen
            .batches
            .values()
            .find(|batch| batch.code == line.batch);
        line.left = batch.map_or(Mass::ZERO, super::super::batch::Batch::left);
    }
    Ok(Done::saying(Answer::Waste(DrawAnswer {
        lines,
        reason: reason.map(str::to_owned),
        notes: Vec::new(),
        message: draft.credit,
    })))
}

fn waste_one(
    draft: &mut Draft,
    items: &[Item],
    item: &Item,
    reason: Option<&str>,
    anyway: bool,
    lines: &mut Vec<DrawLine>,
) -> Result<(), Stop> {
    let (found, places) = find::standing(draft, &item.name)?;
    let thing = Thing::Batches(found.clone());
    let measured = Measured {
        thing: &thing,
        name: &item.name.text,
    };
    let problem = |kind: ProblemKind| Stop::Problem(kind.at(item.span.clone()));
    let mass = match meant(&draft.kitchen, &item.amount, &measured).map_err(problem)? {
        Meant::Quantity(quantity) => quantity.mass,
        Meant::Share(share) => {
            // "all the rice" is that of every pot; "the rice" the one that is due first.
            let pots = if says_all(draft, item) {
                found.len()
            } else {
                1
            };
            let held = found
                .iter()
                .take(pots)
                .map(|id| draft.shared(*id, places.as_ref()));
            held.sum::<Mass>().share(share)
        }
        Meant::Uncounted | Meant::Either(..) => {
            let name = item.name.text.clone();
            return Err(problem(ProblemKind::MissingAmount { name }));
        }
    };
    if mass.mg() <= 0 {
        let name = draft.kitchen.batch(found[0]).name.clone();
        return Err(problem(ProblemKind::UsedUp { name, food: None }));
    }
    let drawn = Some(mass).filter(|_| !matches!(item.amount, Amount::Share(_)));
    let whole = command(items, reason, anyway);
    if let Some(stop) = count::waiting::first(draft, found[0], drawn, &whole) {
        return Err(stop);
    }
    let from = From::told(places.as_ref());
    let drawn = draw(draft, &found, mass, from, anyway).map_err(|too_much| {
        let options = match too_much.elsewhere() {
            Some(label) => {
                let mut elsewhere = items.to_vec();
                for one in elsewhere.iter_mut().filter(|one| one.name == item.name) {
                    one.name = Words::plain(too_much.name.clone());
                }
                let says = says(&elsewhere, reason, anyway);
                vec![Choice { label, says }]
            }
            None => less_or_all(items, reason, &too_much),
        };
        find::ask(
            TooMuch::ABOUT,
            &item.name.text,
            Some(too_much.problem()),
            options,
        )
    })?;
    for piece in drawn {
        let ends = (piece.lot, Account::Waste);
        draft.enter(
            EntryKind::Waste,
            ends,
            piece.mass,
            Some(piece.batch),
            None,
            reason.map(|reason| Detail::Waste {
                reason: reason.to_owned(),
            }),
        );
        let batch = draft.kitchen.batch(piece.batch);
        lines.push(DrawLine {
            name: batch.name.clone(),
            batch: batch.code.clone(),
            mass: piece.mass,
            left: batch.left(),
        });
    }
    Ok(())
}

fn says_all(draft: &Draft, item: &Item) -> bool {
    let said = draft.input.text.get(item.span.clone()).unwrap_or_default();
    let words = lang::folded_words(said);
    words
        .iter()
        .any(|word| matches!(word.as_str(), "all" | "both" | "every"))
}

/// More than the books hold: all of it, or what is left.
fn less_or_all(items: &[Item], reason: Option<&str>, too_much: &TooMuch) -> Vec<Choice> {
    let mut options = vec![Choice {
        label: format!("{} g all the same", too_much.asked.rounded_grams()),
        says: says(items, reason, true),
    }];
    if too_much.left.mg() > 0 && items.len() == 1 {
        let mut left = items.to_vec();
        left[0].amount = Amount::Mass(too_much.left.grams());
        options.push(Choice {
            label: format!("only the {} g that are left", too_much.left.rounded_grams()),
            says: says(&left, reason, false),
        });
    }
    options
}

fn says(items: &[Item], reason: Option<&str>, anyway: bool) -> String {
    command(items, reason, anyway).to_string()
}

fn command(items: &[Item], reason: Option<&str>, anyway: bool) -> Command {
    Command::Waste {
        items: items.to_vec(),
        reason: reason.map(str::to_owned),
        anyway,
    }
}
