//! What was left over of a dinner may be what still stands in its pot, which the books have already: taken off the plates
//! as well it would be there twice. The books tell which it is: what is as much as the pot holds is that, and what is
//! nearly as much is asked about.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::origin::Origin;
use super::super::problem::ProblemKind;
use super::left_over::{MEAL_HOURS, fits};
use super::shortage::DRIFT;
use super::{Done, Step, find, verb};
use crate::lang::syntax::{
    Amount, Command, Destination, Item, LeftOf, LeftOver, Move, Weighed, Words,
};

/// Scales and spoons make so much of a difference in a pot.
const SAME_SHARE: f64 = 0.05;
/// What differs by more is something else.
const ALIKE_SHARE: f64 = 1.0 / 3.0;

/// What comes of it if it may be what the pots hold that were eaten from (`None`: nobody has booked a meal).
pub fn told(
    draft: &mut Draft,
    said: &LeftOver,
    eaten: Option<(Vec<BatchId>, Mass)>,
    net: Mass,
) -> Option<Step> {
    let open = said.of == LeftOf::Unsaid && said.who.is_none() && said.dish.is_none();
    if !open {
        return None;
    }
    let plates = eaten.as_ref().map(|(_, plates)| *plates);
    let pots = match eaten {
        Some((pots, _)) => pots,
        None => cooked_lately(draft),
    };
    let standing = |id: &BatchId| (*id, ready(draft, *id));
    let standing: Vec<(BatchId, Mass)> = pots.iter().map(standing).collect();
    let standing: Vec<(BatchId, Mass)> = standing
        .into_iter()
        .filter(|(id, mass)| *mass > draft.kitchen.batch(*id).crumbs())
        .collect();
    let all: Mass = standing.iter().map(|(_, mass)| *mass).sum();
    let off = (net - all).abs();
    if all.is_zero() || off > net.max(all).share(ALIKE_SHARE) {
        return None;
    }
    let of_pot = match standing.as_slice() {
        [(id, _)] => Some(of_pot(draft, said, *id)),
        _ => None,
    };
    let same = off <= DRIFT.max(all.share(SAME_SHARE)) && plates.is_some() && said.name.is_none();
    if let Some(commands) = of_pot.as_ref().filter(|_| same) {
        return Some(carry_all(draft, commands));
    }
    let mut options = vec![match of_pot {
        Some(commands) => {
            let says: Vec<String> = commands.iter().map(ToString::to_string).collect();
            Choice {
                label: "it is all that is left of it".into(),
                says: says.join("\n"),
            }
        }
        None => Choice {
            label: "just that: nothing more to book".into(),
            says: Command::Drop.to_string(),
        },
    }];
    let says = |of: LeftOf| {
        let said = said.clone();
        Command::LeftOver(LeftOver { of, ..said }).to_string()
    };
    options.push(match plates.filter(|plates| fits(net, *plates)) {
        Some(_) => Choice {
            label: format!("off the plates: {} g of it", net.grams()),
            says: says(LeftOf::Plates),
        },
        None => Choice {
            label: "of something that is not booked".into(),
            says: says(LeftOf::Elsewhere),
        },
    });
    let names = standing
        .iter()
        .map(|(id, _)| draft.kitchen.batch(*id).name.clone());
    let names: Vec<String> = names.collect();
    let names = names.join(", ");
    let problem = ProblemKind::LeftInPot {
        left: net,
        pots: all,
        name: names.clone(),
    };
    Some(Err(find::ask(
        About::Confirm,
        &names,
        Some(problem),
        options,
    )))
}

fn carry_all(draft: &mut Draft, commands: &[Command]) -> Step {
    let mut done = Done::default();
    for command in commands {
        let more = verb::carry_out(draft, command)?;
        done.answers.extend(more.answers);
        done.asks.extend(more.asks);
    }
    Ok(done)
}

/// What was cooked for this meal.
fn cooked_lately(draft: &Draft) -> Vec<BatchId> {
    let now = draft.input.said_at;
    let lately = draft.kitchen.open_batches().filter(|batch| {
        let since = now - batch.made_at;
        batch.origin == Origin::Cooked && !batch.estimated() && since.num_hours() < MEAL_HOURS
    });
    let lately: Vec<BatchId> = lately.map(|batch| batch.id).collect();
    // Of several nobody can tell which.
    match lately.as_slice() {
        [only] => vec![*only],
        _ => Vec::new(),
    }
}

fn ready(draft: &Draft, id: BatchId) -> Mass {
    let lots = draft.kitchen.batch(id).lots.iter();
    let ready = lots.filter(|lot| !draft.kitchen.is_frozen(lot) && lot.balance.mg() > 0);
    ready.map(|lot| lot.balance).sum()
}

/// It is what is left in its pot, and where that was put.
fn of_pot(draft: &Draft, said: &LeftOver, id: BatchId) -> Vec<Command> {
    let dish = Words::plain(draft.kitchen.batch(id).code.clone());
    let counted = Command::Count {
        items: vec![Weighed {
            name: dish.clone(),
            weighing: said.weighing.clone(),
            place: None,
        }],
        rest: None,
        anyway: true,
    };
    let moved = said.place.as_ref().map(|place| {
        let all = Item::new(Amount::Share(1.0), dish);
        Command::Move(Move::to(vec![all], Destination::Place(place.clone())))
    });
    [counted].into_iter().chain(moved).collect()
}
