//! A pot whose sheet was shown a moment ago, as long as the scale has said nothing of it: it is put otherwise by a word, or
//! not cooked at all.

use chrono::Duration;

use super::super::{planned, weighed_again};
use crate::domain::act::Act;
use crate::domain::batch::Batch;
use crate::domain::draft::Draft;
use crate::domain::ids::MessageId;

/// So long after its sheet was shown a pot is taken back by a word, and put otherwise.
const SHEET_MINUTES: i64 = 30;

/// The act by which the sender has just opened this pot, as long as nothing has been weighed of it.
pub fn act(draft: &Draft, code: &str) -> Option<Act> {
    let mut pots = draft.kitchen.open_batches();
    let pot = pots.find(|pot| pot.code == code && waits(draft, pot))?;
    let just_now = |act: &&Act| {
        let since = draft.input.said_at - act.sent_at;
        act.stands() && act.opens(pot.id) && since <= Duration::minutes(SHEET_MINUTES)
    };
    draft.kitchen.recent.iter().find(just_now).cloned()
}

/// A pot that was opened by its sheet, in whole, and of which the scale has said nothing yet.
pub fn waits(draft: &Draft, pot: &Batch) -> bool {
    let untouched = pot.estimated() && !weighed_again::is_touched(draft, pot.id);
    untouched && !pot.lines.is_empty() && pot.lines.iter().all(planned::is_planned)
}

/// "cancel" right after a sheet: its pot is not cooked.
pub fn not_cooked(draft: &Draft, since: Option<MessageId>) -> bool {
    let newest = draft.kitchen.recent.iter().find(|act| act.stands());
    let pots = || draft.kitchen.open_batches().filter(|pot| waits(draft, pot));
    newest.is_some_and(|act| {
        let newer = since.is_none_or(|since| act.message > since);
        let lately = draft.input.said_at - act.sent_at <= Duration::minutes(SHEET_MINUTES);
        newer && lately && pots().any(|pot| act.opens(pot.id))
    })
}
