//! What follows from a whole decision, whichever verb it was.

use super::super::change::Change;
use super::super::clock::ahead::instant;
use super::super::draft::Draft;

/// In another zone, what was told by the hour rings at that hour there.
pub fn look(draft: &mut Draft) {
    let zone = draft.kitchen.settings().zone;
    if zone == draft.before.settings().zone {
        return;
    }
    let moved: Vec<Change> = draft
        .kitchen
        .clock
        .waiting
        .iter()
        .filter_map(|reminder| {
            let due_at = instant(zone, reminder.asked.wall?);
            let reminder = reminder.entry;
            Some(Change::Due { reminder, due_at })
        })
        .collect();
    for change in moved {
        draft.push(change);
    }
}
