//! What is in hand: what the sender did last, or else what was last put on a plate in the chat, for as long as a
//! message may leave it out: "the rest of it", "he gave me 50", "and half the soup", "nah it was 250".
//!
//! The sender's own act goes first, and holds for [`HOLDS_MINUTES`]; what others did holds for half as long. What
//! the message points at holds however old it is. A newer act of the sender's ends it.

use chrono::{DateTime, Duration, Utc};

use super::act::{Act, ActEntry};
use super::answer::About;
use super::batch::Batch;
use super::decide::Input;
use super::ids::*;
use super::kitchen::{Kitchen, OpenQuestion};
use super::ledger::{Account, EntryKind};
use super::mass::Mass;
use super::origin::Origin;
use super::plate::{Plate, PlatePortion};

/// So long what the sender did stays in hand.
pub const HOLDS_MINUTES: i64 = 20;
/// So long what somebody else did.
const OF_OTHERS_MINUTES: i64 = 10;

/// So long nobody puts anything in a pot, and it still is being filled.
const FILLS_MINUTES: i64 = 60;

/// So long the slowest pot is on the stove, or soaks overnight.
const COOKS_HOURS: i64 = 18;

/// What was done last.
pub struct InHand<'a> {
    kitchen: &'a Kitchen,
    sender: MemberId,
    /// The sender's own act, or the one that the message points at.
    pub act: Option<&'a Act>,
    /// The plate that was filled last in the chat, where the sender has done nothing.
    theirs: Option<&'a Plate>,
}

/// What was done with food, to be done with other food as well.
#[derive(Debug, Clone, PartialEq)]
pub enum Doing {
    Eating,
    Wasting,
    Thawing,
    /// Put at this place.
    Moving(PlaceId),
}

impl<'a> InHand<'a> {
    pub fn of(kitchen: &'a Kitchen, input: &'a Input) -> Self {
        let act = match &input.pointed {
            Some(pointed) => Some(pointed).filter(|act| act.stands()),
            None => {
                let mut recent = kitchen.recent.iter();
                let last = recent.find(|act| act.stands() && !act.only_reverses());
                last.filter(|act| holds(input, act.sent_at))
            }
        };
        let others = Duration::minutes(OF_OTHERS_MINUTES);
        let filled = |plate: &&Plate| {
            let touched = plate.touched_at();
            touched.is_some_and(|touched| input.now - touched <= others)
        };
        let theirs = || {
            let plates = kitchen.plates.iter().filter(filled);
            plates.max_by_key(|plate| plate.touched_at())
        };
        Self {
            kitchen,
            sender: input.sender,
            theirs: if act.is_none() { theirs() } else { None },
            act,
        }
    }

    /// The plate of somebody else with one thing on it, where the sender has done nothing: it is changed only when
    /// that was confirmed.
    pub fn of_another(&self) -> Option<&'a Plate> {
        self.theirs.filter(|plate| plate.portions.len() == 1)
    }

    /// How much is on that.
    pub fn retyped(&self) -> Option<Mass> {
        Some(self.of_another()?.portions.first()?.mass)
    }

    /// What it wrote and still counts, but for what only followed from it.
    fn entries(&self) -> impl Iterator<Item = &'a ActEntry> {
        let standing = self.act.into_iter().flat_map(Act::standing);
        standing.filter(|entry| {
            let follows = entry.settles() || entry.tells_vessel();
            entry.entry.kind != EntryKind::Settle && !follows
        })
    }

    /// The lines that it put on plates, with whose they are.
    pub fn lines(&self) -> Vec<(MemberId, &'a PlatePortion)> {
        let written: Vec<EntryId> = self.entries().map(|entry| entry.entry.id).collect();
        let own =
            |line: &&PlatePortion| written.contains(&line.entry) || written.contains(&line.tip);
        let of = |plate: &'a Plate| plate.portions.iter().map(|line| (plate.member, line));
        match self.theirs {
            Some(plate) => {
                let last = plate.touched_at();
                let newest = |(_, line): &(_, &PlatePortion)| Some(line.recorded_at) == last;
                of(plate).filter(newest).collect()
            }
            None => {
                let lines = self.kitchen.plates.iter().flat_map(of);
                lines.filter(|(_, line)| own(line)).collect()
            }
        }
    }

    /// The one dish that it is about, as it is called here; nothing where it is about several.
    pub fn dish(&self) -> Option<String> {
        match self.dishes()?.as_slice() {
            [only] => Some(only.clone()),
            _ => None,
        }
    }

    /// The dishes that it is about, and nothing where it is about other food as well.
    pub fn dishes(&self) -> Option<Vec<String>> {
        let eaten = self.lines().into_iter().map(|(_, line)| line.batch);
        let done = self.entries().map(|entry| entry.entry.batch);
        let mut dishes: Vec<Option<BatchId>> = done.chain(eaten).collect();
        dishes.sort();
        dishes.dedup();
        dishes.into_iter().map(|id| self.called(id?)).collect()
    }

    fn called(&self, id: BatchId) -> Option<String> {
        let batch = self.kitchen.batches.get(&id)?;
        let called = |other: &Batch| other.name == batch.name;
        let several = self.kitchen.open_batches().filter(|it| called(it)).count() > 1;
        Some(match several {
            true => batch.code.clone(),
            false => batch.name.clone(),
        })
    }

    /// The one person beside the sender whom it is about.
    pub fn another(&self) -> Option<MemberId> {
        let mut people: Vec<MemberId> = self.lines().into_iter().map(|(who, _)| who).collect();
        people.retain(|who| *who != self.sender);
        people.sort_unstable();
        people.dedup();
        match people[..] {
            [only] => Some(only),
            _ => None,
        }
    }

    /// The pot that is being filled: of those that nobody has weighed yet the only one, or the one that the sender's
    /// own act is about. It is in the sender's hand, or in somebody else's.
    pub fn pot(&self, now: DateTime<Utc>) -> Option<(&'a Batch, bool)> {
        let own: Vec<BatchId> = self
            .entries()
            .filter_map(|entry| entry.entry.batch)
            .collect();
        let of_own = |batch: &&Batch| {
            let fills = |kind| {
                matches!(
                    kind,
                    EntryKind::Batch | EntryKind::Ingredient | EntryKind::Reversal
                )
            };
            own.contains(&batch.id) && self.entries().all(|entry| fills(entry.entry.kind))
        };
        let pots = self.unweighed(now - Duration::minutes(FILLS_MINUTES));
        if let Some(pot) = pots.iter().find(|batch| of_own(batch)) {
            return Some((pot, true));
        }
        match pots[..] {
            [only] => Some((only, false)),
            _ => None,
        }
    }

    /// The only pot that is on the stove, or stands by it, and that nobody has weighed: nothing goes into it any more, but
    /// what comes off the stove is weighed, hours after it was filled.
    pub fn waiting_pot(&self, now: DateTime<Utc>) -> Option<&'a Batch> {
        match self.unweighed(now - Duration::hours(COOKS_HOURS))[..] {
            [only] => Some(only),
            _ => None,
        }
    }

    /// Pots without a weight into which something went since.
    fn unweighed(&self, since: DateTime<Utc>) -> Vec<&'a Batch> {
        let fresh = |batch: &&Batch| {
            let times = batch.lines.iter().map(|line| line.occurred_at);
            let last = times.chain([batch.made_at]).max();
            last.is_some_and(|last| last >= since)
        };
        let open = self.kitchen.open_batches();
        let unweighed = |batch: &&Batch| batch.origin == Origin::Cooked && batch.estimated();
        open.filter(unweighed).filter(fresh).collect()
    }

    /// What was done with the food of the sender's act, if all of it is one thing.
    pub fn doing(&self) -> Option<Doing> {
        let mut entries = self.entries();
        let first = &entries.next()?.entry;
        if !entries.all(|entry| entry.entry.kind == first.kind) {
            return None;
        }
        let lot = |account: Account| {
            let mut batches = self.kitchen.batches.values();
            batches.find_map(|batch| batch.lot_of(account))
        };
        match first.kind {
            EntryKind::Waste => Some(Doing::Wasting),
            EntryKind::Portion => Some(Doing::Eating),
            EntryKind::Move => {
                let (from, to) = (lot(first.from)?, lot(first.to)?);
                let thawed = self.kitchen.is_frozen(from) && !self.kitchen.is_frozen(to);
                match thawed {
                    true => Some(Doing::Thawing),
                    false => Some(Doing::Moving(to.place?)),
                }
            }
            _ => None,
        }
    }
}

/// What was done then is still in the sender's hand.
pub fn holds(input: &Input, since: DateTime<Utc>) -> bool {
    input.now - since <= Duration::minutes(HOLDS_MINUTES)
}

/// Something is asked of the sender that what they say next may be of. Which food a line of a batch is waits as
/// long as it has to.
pub fn is_asked(kitchen: &Kitchen, input: &Input) -> bool {
    let waits = |open: &OpenQuestion| {
        let line = open.about == About::WhichFood.word();
        open.member == input.sender && open.holds_back() && !line && open.expires_at >= input.now
    };
    kitchen.questions.iter().any(waits)
}
