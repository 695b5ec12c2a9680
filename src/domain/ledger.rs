//! The ledger: movements of mass between two accounts. Every gram that appears in one place
//! leaves another, so the sum over all accounts is always zero.

use chrono::{DateTime, Utc};

use super::ids::{AccountId, BatchId, EntryId, MemberId, ProfileId};
use super::mass::Mass;

/// One end of a movement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Account {
    /// Where ingredients and plain foods come from.
    Bought,
    /// Water that boiled away or was taken up: the difference between raw and cooked.
    Water,
    /// Poured away: fat, marinade, brine.
    Poured,
    /// Thrown away.
    Waste,
    /// What a count found to differ from the books.
    Difference,
    /// Stock that nobody can explain.
    Origin,
    /// Eaten without being weighed, settled at a count.
    Unweighed,
    /// A quantity in one place.
    Lot(AccountId),
    /// What one person eats at one sitting.
    Plate(AccountId),
}

impl Account {
    /// What a count finds to be missing or too much goes to one of these.
    pub const OF_COUNTS: [Account; 2] = [Account::Difference, Account::Unweighed];

    pub fn is_of_counts(self) -> bool {
        Self::OF_COUNTS.contains(&self)
    }

    /// The accounts that every household has once, by their fixed ids.
    pub const SINGLE: [(AccountId, Account); 7] = [
        (AccountId(1), Account::Bought),
        (AccountId(2), Account::Water),
        (AccountId(3), Account::Poured),
        (AccountId(4), Account::Waste),
        (AccountId(5), Account::Difference),
        (AccountId(6), Account::Origin),
        (AccountId(7), Account::Unweighed),
    ];

    pub fn id(self) -> AccountId {
        match self {
            Account::Bought => AccountId(1),
            Account::Water => AccountId(2),
            Account::Poured => AccountId(3),
            Account::Waste => AccountId(4),
            Account::Difference => AccountId(5),
            Account::Origin => AccountId(6),
            Account::Unweighed => AccountId(7),
            Account::Lot(id) | Account::Plate(id) => id,
        }
    }

    /// The word in the store and in the export.
    pub fn kind(self) -> &'static str {
        match self {
            Account::Bought => "bought",
            Account::Water => "water",
            Account::Poured => "poured",
            Account::Waste => "waste",
            Account::Difference => "difference",
            Account::Origin => "origin",
            Account::Unweighed => "unweighed",
            Account::Lot(_) => "lot",
            Account::Plate(_) => "plate",
        }
    }

    /// The account of this kind and id, if there is such a kind.
    pub fn from_kind(kind: &str, id: AccountId) -> Option<Self> {
        match kind {
            "lot" => Some(Account::Lot(id)),
            "plate" => Some(Account::Plate(id)),
            _ => Self::SINGLE
                .iter()
                .map(|(_, account)| *account)
                .find(|account| account.kind() == kind),
        }
    }
}

/// Why grams moved. Rows of a look-up table in the store.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EntryKind {
    /// A batch was opened (no mass).
    Batch,
    /// Into the pot.
    Ingredient,
    /// The scale said what is in the pot; the difference is water.
    Weigh,
    /// Keeps a weighing, an estimate or a count true after something before it changed.
    Settle,
    PourOff,
    Portion,
    Waste,
    /// Somebody took of it and did not weigh it (no mass): a count will tell how much it was.
    Taking,
    /// From one lot of a batch to another: another place, frozen, thawed, parted.
    Move,
    /// The scale said what is left; the difference from the books.
    Count,
    /// Something learned or set (no mass): a packet, a measure, a container, a setting, a choice of food.
    Fact,
    /// Takes back another entry.
    Reversal,
}

impl EntryKind {
    pub const ALL: [EntryKind; 12] = [
        EntryKind::Batch,
        EntryKind::Ingredient,
        EntryKind::Weigh,
        EntryKind::Settle,
        EntryKind::PourOff,
        EntryKind::Portion,
        EntryKind::Waste,
        EntryKind::Taking,
        EntryKind::Move,
        EntryKind::Count,
        EntryKind::Fact,
        EntryKind::Reversal,
    ];

    /// The word in the store and in the export.
    pub fn word(self) -> &'static str {
        match self {
            EntryKind::Batch => "batch",
            EntryKind::Ingredient => "ingredient",
            EntryKind::Weigh => "weigh",
            EntryKind::Settle => "settle",
            EntryKind::PourOff => "pour_off",
            EntryKind::Portion => "portion",
            EntryKind::Waste => "waste",
            EntryKind::Taking => "taking",
            EntryKind::Move => "move",
            EntryKind::Count => "count",
            EntryKind::Fact => "fact",
            EntryKind::Reversal => "reversal",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// One movement. Appended, never changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    pub id: EntryId,
    pub kind: EntryKind,
    /// Kitchen time: when it happened.
    pub occurred_at: DateTime<Utc>,
    /// Book time: when it was written down.
    pub recorded_at: DateTime<Utc>,
    /// Who wrote it down.
    pub member: MemberId,
    pub from: Account,
    pub to: Account,
    /// Never negative; nothing for a fact.
    pub mass: Mass,
    /// The batch that it is about, if any.
    pub batch: Option<BatchId>,
    /// The plain food that moved, if it was one.
    pub profile: Option<ProfileId>,
    /// The entry that this one takes back.
    pub reverses: Option<EntryId>,
    /// The first entry of a chain of reversals: an odd number of them leaves it void.
    pub root: Option<EntryId>,
}

impl Entry {
    /// A fact, or what takes one back or puts it back.
    pub fn is_of_a_fact(&self) -> bool {
        let ends = [self.from, self.to];
        self.kind == EntryKind::Fact
            || self.kind == EntryKind::Reversal
                && ends.contains(&Account::Bought)
                && ends.contains(&Account::Origin)
    }

    /// What it adds to an account.
    pub fn effect_on(&self, account: Account) -> Mass {
        let mut effect = Mass::ZERO;
        if self.to == account {
            effect += self.mass;
        }
        if self.from == account {
            effect -= self.mass;
        }
        effect
    }

    /// A fact as it was written, to be taken back: when it was said, and when it is taken back.
    pub fn fact(
        id: EntryId,
        member: MemberId,
        (occurred_at, recorded_at): (DateTime<Utc>, DateTime<Utc>),
    ) -> Entry {
        Entry {
            id,
            kind: EntryKind::Fact,
            occurred_at,
            recorded_at,
            member,
            from: Account::Bought,
            to: Account::Origin,
            mass: Mass::ZERO,
            batch: None,
            profile: None,
            reverses: None,
            root: None,
        }
    }

    /// The entry that takes this one back, when `tip` is the last link of its chain.
    pub fn reversal(
        &self,
        tip: EntryId,
        id: EntryId,
        member: MemberId,
        recorded_at: DateTime<Utc>,
    ) -> Entry {
        Entry {
            id,
            kind: EntryKind::Reversal,
            occurred_at: self.occurred_at,
            recorded_at,
            member,
            from: self.to,
            to: self.from,
            mass: self.mass,
            batch: self.batch,
            profile: self.profile,
            reverses: Some(tip),
            root: Some(self.root.unwrap_or(self.id)),
        }
    }
}
