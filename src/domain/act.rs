//! What one message put into the books, as far as it can be taken back.

use chrono::{DateTime, Utc};

use super::change::Detail;
use super::ids::*;
use super::ledger::{Account, Entry, EntryKind};

/// What one message put into the books, as far as it can be taken back.
#[derive(Debug, Clone, PartialEq)]
pub struct Act {
    /// The number of its first revision.
    pub message: MessageId,
    pub member: MemberId,
    /// The text that it is in the books by, for the answer to an undo or an edit.
    pub text: String,
    /// Its newest revision: later than a message that came after it if it was edited since.
    pub revised: MessageId,
    pub sent_at: DateTime<Utc>,
    pub entries: Vec<ActEntry>,
}

/// An entry with its detail, and where it stands in its chain of reversals.
#[derive(Debug, Clone, PartialEq)]
pub struct ActEntry {
    pub entry: Entry,
    /// What the first entry of the chain was about.
    pub detail: Option<Detail>,
    /// For a first entry: an even number of reversals stands against it. For a reversal: the first entry
    /// of its chain stands as this one left it.
    pub live: bool,
    /// The last link of its chain: what a new reversal has to take back.
    pub tip: EntryId,
    /// A reversal that took something back, not one that put something back.
    pub takes_back: bool,
}

impl Act {
    /// The entries that still count. What an edit of the same message took back, or put back, is settled
    /// within it: of the reversals of one entry of another act the newest counts, if their number is odd.
    pub fn standing(&self) -> Vec<&ActEntry> {
        let counts = |entry: &&ActEntry| match entry.entry.root {
            None => entry.live,
            Some(root) => entry.live && self.leaves_reversed(root, entry.entry.id),
        };
        self.entries.iter().filter(counts).collect()
    }

    /// The reversal is the last that the act has of an entry of another one, which it leaves reversed.
    fn leaves_reversed(&self, root: EntryId, reversal: EntryId) -> bool {
        let own = self.entries.iter().any(|entry| entry.entry.id == root);
        let of_root = self
            .entries
            .iter()
            .filter(|entry| entry.entry.root == Some(root));
        let reversals: Vec<EntryId> = of_root.map(|entry| entry.entry.id).collect();
        let last = reversals.iter().max() == Some(&reversal);
        !own && last && !reversals.len().is_multiple_of(2)
    }

    /// It opened this batch.
    pub fn opens(&self, batch: BatchId) -> bool {
        let opens = |entry: &&ActEntry| entry.entry.kind == EntryKind::Batch;
        let mut opened = self.entries.iter().filter(opens);
        opened.any(|entry| entry.entry.batch == Some(batch))
    }

    pub fn stands(&self) -> bool {
        !self.standing().is_empty()
    }

    /// It only took something back, or put it back.
    pub fn only_reverses(&self) -> bool {
        let reverses =
            |entry: &&ActEntry| matches!(entry.entry.kind, EntryKind::Reversal | EntryKind::Settle);
        self.standing().iter().all(reverses)
    }

    /// It only took another act back, and did not put one back. What an act wrote itself is newer than
    /// what it took from others, so the newest root tells which way its reversal went.
    pub fn is_undo(&self) -> bool {
        let standing = self.standing();
        let reversals = standing.iter().filter(|entry| !entry.settles());
        self.only_reverses()
            && reversals
                .filter(|entry| entry.entry.root.is_some())
                .max_by_key(|entry| entry.entry.root)
                .is_some_and(|entry| entry.takes_back)
    }

    /// It is made of reversals alone, whether they still count or not; `Some(true)` if it put back.
    pub fn puts_back(&self) -> Option<bool> {
        let reverses =
            |entry: &ActEntry| matches!(entry.entry.kind, EntryKind::Reversal | EntryKind::Settle);
        let newest = self
            .entries
            .iter()
            .filter(|entry| entry.entry.root.is_some() && !entry.settles())
            .max_by_key(|entry| entry.entry.root)?;
        self.entries
            .iter()
            .all(reverses)
            .then_some(!newest.takes_back)
    }
}

impl ActEntry {
    /// It tells what a lot stands in, beside what was done with that.
    pub fn tells_vessel(&self) -> bool {
        matches!(self.detail, Some(Detail::Vessel { .. }))
    }

    /// It followed from others: water or a difference that nobody weighed or counted.
    pub fn settles(&self) -> bool {
        let ends = [self.entry.from, self.entry.to];
        let follows = ends.contains(&Account::Water) || ends.iter().any(|end| end.is_of_counts());
        follows && self.detail.is_none()
    }
}
