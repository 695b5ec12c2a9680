//! A batch that was weighed in is on the scale again: what is left of it, or the whole once more?

use chrono::Duration;

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::weigh::{Reading, drawn, weighed_says};
use super::{Stop, count, find};
use crate::lang::syntax::WeighedOf;

/// A pot is put on the scale once more, or its weight put right, so soon after it was weighed in.
const WEIGHED_AGAIN_MINUTES: i64 = 20;

/// Of what was weighed in a while ago a scale tells what is left, as long as that is what it is nearer to.
pub fn is_left(draft: &Draft, id: BatchId, reading: Reading) -> bool {
    let batch = draft.kitchen.batch(id);
    let net = reading.net();
    let off = |from: Mass| (net - from).abs();
    let booked = count::booked(draft, id, net);
    // Somebody took of it without weighing: less is what was to be expected.
    let missing = net < booked && batch.lots.iter().any(|lot| lot.is_taken_from(batch));
    if missing {
        return !count::is_far(net, booked);
    }
    if is_touched(draft, id) {
        let nearer = off(booked) + off(booked) <= off(batch.net_mass());
        return nearer && !count::is_far(net, booked);
    }
    let since = batch.weighed_at().map(|at| draft.occurred_at - at);
    since.is_some_and(|since| since > Duration::minutes(WEIGHED_AGAIN_MINUTES))
}

/// So much less than was weighed in a moment ago, and nobody took any: what is left, or the whole put right?
pub fn is_another(draft: &Draft, id: BatchId, reading: Reading) -> bool {
    let batch = draft.kitchen.batch(id);
    let whole = batch.net_mass();
    // More than that can only be the whole.
    let less = whole - reading.net();
    batch.weighed_at().is_some() && less > SLIP && less > whole.share(SLIP_SHARE)
}

/// As much as a pot loses while it steams, or a lid weighs.
const SLIP: Mass = Mass::from_mg(50_000);
const SLIP_SHARE: f64 = 0.1;

/// Something of it was taken out or put elsewhere.
pub fn is_touched(draft: &Draft, id: BatchId) -> bool {
    let lots = &draft.kitchen.batch(id).lots;
    let parted = lots.iter().skip(1).any(|lot| lot.balance.mg() > 0);
    drawn(draft, id).mg() > 0 || parted
}

/// The pot has been weighed before and eaten from since: the whole again, or what is left?
pub fn which(draft: &Draft, id: BatchId, reading: Reading) -> Stop {
    let batch = draft.kitchen.batch(id);
    let net = reading.net();
    let says = |of| weighed_says(&batch.code, net.grams(), of);
    let options = vec![
        Choice {
            label: format!("{} g is what is left now", net.grams()),
            says: says(WeighedOf::Left),
        },
        Choice {
            label: format!("{} g was the whole batch", net.grams()),
            says: says(WeighedOf::Whole),
        },
    ];
    let words = format!("{} weighed {} g", batch.name, net.grams());
    find::ask(About::WhichWeighing, &words, None, options)
}
