//! How many pieces a batch is that stands here.

use super::super::answer::{About, BatchEvent};
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::in_hand::InHand;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::count::{self as recount, is_far};
use super::{Step, Stop, batch, find, unnamed, weigh};
use crate::lang::syntax::{
    Amount, Command, Item, PiecesOf, Portion, Weighed, WeighedOf, Weighing, Words,
};

pub fn count(draft: &mut Draft, of: &PiecesOf) -> Step {
    let of = &PiecesOf {
        batch: in_hand(draft, &of.batch)?,
        ..of.clone()
    };
    let id = find::batch_to_change(draft, &of.batch)?;
    if let Some(weighing) = of.weighing.as_ref().filter(|_| of.left) {
        return left(draft, of, id, weighing);
    }
    if let Some(weighing) = &of.weighing {
        let reading = weigh::net(draft, weighing)?;
        let known = draft.kitchen.batch(id);
        let left = draft.held(id);
        // Of what is weighed in and counted, a few with their weight are a plate, or what is left.
        if !known.estimated() && (is_far(reading.net(), left) || known.pieces().is_some()) {
            return Err(eaten_or_left(draft, of, id, reading.net()));
        }
        weigh::weigh(draft, &of.batch, weighing, WeighedOf::Unsaid)?;
    }
    let known = draft.kitchen.batch(id);
    let left = known.left();
    let some = left != known.net_mass() && left.mg() > 0 && !known.estimated();
    batch::count(draft, id, Some(&of.pieces), some.then_some(left));
    draft.settle();
    let event = BatchEvent::Counted;
    Ok(batch::answer(draft, id, event, Vec::new(), Vec::new()))
}

/// "that made 14": of a pot, and not of what was eaten or moved.
fn in_hand(draft: &Draft, batch: &Words) -> Result<Words, Stop> {
    let name = unnamed::named(draft, batch)?;
    let hand = InHand::of(draft.before, draft.input);
    let of_a_pot = hand.act.is_some() && hand.doing().is_none();
    match of_a_pot || name.text == batch.text {
        true => Ok(name),
        false => Err(ProblemKind::NothingToFix.into()),
    }
}

/// "9 meatballs left, 350 g": the scale says how much there is, and from now on what one of them weighs.
fn left(draft: &mut Draft, of: &PiecesOf, id: BatchId, weighing: &Weighing) -> Step {
    let counted = Weighed {
        name: Words::plain(draft.kitchen.batch(id).code.clone()),
        place: None,
        weighing: weighing.clone(),
    };
    let left = weigh::net(draft, weighing)?.net();
    let done = recount::count(draft, &[counted], None, false)?;
    batch::count(draft, id, Some(&of.pieces), Some(left));
    draft.settle();
    Ok(done)
}

/// "3 meatballs, 130 g"
fn eaten_or_left(draft: &Draft, of: &PiecesOf, id: BatchId, net: Mass) -> Stop {
    let batch = draft.kitchen.batch(id);
    let name = Words::plain(batch.code.clone());
    let eaten = Command::Portion(Portion {
        items: vec![Item::new(Amount::Mass(net.grams()), name.clone())],
        ..Portion::default()
    });
    let left = Command::Count {
        items: vec![Weighed {
            name,
            place: None,
            weighing: Weighing::net(net.grams(), 0..0),
        }],
        rest: None,
        anyway: false,
    };
    let grams = net.grams();
    let options = vec![
        Choice {
            label: format!("eaten: {grams} g"),
            says: eaten.to_string(),
        },
        Choice {
            label: format!("that is what is left: {grams} g"),
            says: left.to_string(),
        },
    ];
    find::ask(About::HowMuch, &of.batch.text, None, options)
}
