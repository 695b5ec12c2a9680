//! A decision in the making: a working copy of the kitchen, carried forward by every change as it is
//! noted down, so that each step sees the books as the step before left them.

use chrono::{DateTime, NaiveDate, Utc};

use super::act::{Act, ActEntry};
use super::batch::{Line, Lot};
use super::change::{Change, Detail};
use super::decide::{Deletes, Input};
use super::ids::*;
use super::kitchen::{Container, Kitchen, Member, Profile};
use super::ledger::{Account, Entry, EntryKind};
use super::mass::Mass;
use super::personal::PersonalFact;
use super::plate::{Plate, PlatePortion};
use super::stands::Places;
use super::table::Seat;
use crate::foods::{self, Code};
use crate::lang::syntax::MealName;

#[derive(Clone)]
pub struct Draft<'a> {
    /// The kitchen as the message found it.
    pub before: &'a Kitchen,
    pub kitchen: Kitchen,
    pub input: &'a Input,
    pub changes: Vec<Change>,
    /// The message that the entries belong to.
    pub credit: MessageId,
    /// When what is being written down happened.
    pub occurred_at: DateTime<Utc>,
    /// The act that a correction is about: a question that it raises speaks of the same.
    pub about: Option<MessageId>,
    /// The batches that an edited message was booked on: where its name still means them, they are meant.
    pub meant_before: Vec<BatchId>,
    /// Who or what is deleted at the end of it.
    pub deletes: Option<Deletes>,
}

impl<'a> Draft<'a> {
    pub fn new(kitchen: &'a Kitchen, input: &'a Input) -> Self {
        Self {
            before: kitchen,
            kitchen: kitchen.clone(),
            input,
            changes: Vec::new(),
            credit: input.message,
            occurred_at: input.said_at,
            about: None,
            meant_before: Vec::new(),
            deletes: None,
        }
    }

    /// The household's day of a moment.
    pub fn day_of(&self, moment: DateTime<Utc>) -> NaiveDate {
        self.kitchen.day_of(moment)
    }

    pub fn today(&self) -> NaiveDate {
        self.day_of(self.input.said_at)
    }

    /// Anything durable beyond questions is in it.
    pub fn has_booked(&self) -> bool {
        !self.changes.iter().all(Change::is_about_a_question)
    }

    /// The same message with what it says of questions and nothing else.
    pub fn without_bookings(self) -> Self {
        let mut bare = Self {
            kitchen: self.before.clone(),
            changes: Vec::new(),
            ..self
        };
        let questions = self.changes.into_iter();
        for change in questions.filter(|change| change.is_about_a_question()) {
            bare.push(change);
        }
        bare
    }

    /// The entry is of this decision.
    pub fn has_written(&self, id: EntryId) -> bool {
        let written =
            |change: &Change| matches!(change, Change::Entry { entry, .. } if entry.id == id);
        self.changes.iter().any(written)
    }

    pub fn push(&mut self, change: Change) {
        self.kitchen.apply(&change);
        self.changes.push(change);
    }

    /// Append a movement. A negative mass moves the other way.
    pub fn enter(
        &mut self,
        kind: EntryKind,
        (from, to): (Account, Account),
        mass: Mass,
        batch: Option<BatchId>,
        profile: Option<ProfileId>,
        detail: Option<Detail>,
    ) -> EntryId {
        let (from, to) = if mass.is_negative() {
            (to, from)
        } else {
            (from, to)
        };
        let entry = Entry {
            id: EntryId(self.kitchen.next.entry),
            kind,
            occurred_at: self.occurred_at,
            recorded_at: self.input.now,
            member: self.input.sender,
            from,
            to,
            mass: mass.abs(),
            batch,
            profile,
            reverses: None,
            root: None,
        };
        self.append(entry, detail)
    }

    fn append(&mut self, entry: Entry, detail: Option<Detail>) -> EntryId {
        assert!(
            !entry.mass.is_negative(),
            "an entry's mass is never negative"
        );
        assert!(entry.from != entry.to, "a movement has two ends");
        let id = entry.id;
        self.push(Change::Entry { entry, detail });
        id
    }

    /// A fact moves nothing: its two ends only say that the books learned it.
    pub fn fact(&mut self, detail: Detail) -> EntryId {
        let ends = (Account::Bought, Account::Origin);
        self.enter(EntryKind::Fact, ends, Mass::ZERO, None, None, Some(detail))
    }

    /// An act that only takes something away has an entry of its own all the same, which moves nothing:
    /// it tells a dropped line from an undo.
    pub fn takes_away(&mut self) {
        let ends = (Account::Bought, Account::Origin);
        self.enter(EntryKind::Fact, ends, Mass::ZERO, None, None, None);
    }

    /// Take back every standing entry of an act, newest first; or, if it is an undo, put back what it took.
    pub fn reverse(&mut self, act: &Act) {
        self.reverse_those(act.standing());
    }

    /// The same, and what the act itself took back stays so: what was put right before is put right again.
    pub fn reverse_own(&mut self, act: &Act) {
        let standing = act.standing().into_iter();
        self.reverse_those(
            standing
                .filter(|entry| entry.entry.root.is_none())
                .collect(),
        );
    }

    fn reverse_those(&mut self, mut standing: Vec<&ActEntry>) {
        standing.sort_by_key(|entry| std::cmp::Reverse(entry.entry.id));
        for entry in standing {
            self.reverse_entry(entry);
            if entry.entry.kind == EntryKind::Batch
                && let Some(batch) = entry.entry.batch
            {
                self.empty_pot(batch);
            }
        }
    }

    /// With a batch that was never cooked goes what others have added to it.
    fn empty_pot(&mut self, batch: BatchId) {
        let lines = self.kitchen.batch(batch).lines.clone();
        for line in &lines {
            self.reverse_line(batch, line);
        }
    }

    /// Take one line of a batch back.
    pub fn reverse_line(&mut self, batch: BatchId, line: &Line) {
        let entry = Entry {
            id: line.entry,
            kind: EntryKind::Ingredient,
            occurred_at: line.occurred_at,
            recorded_at: self.input.now,
            member: self.input.sender,
            from: line.from,
            to: self.pot(batch),
            mass: line.mass,
            batch: Some(batch),
            profile: line.profile,
            reverses: None,
            root: None,
        };
        self.reverse_entry(&ActEntry {
            entry,
            detail: None,
            live: true,
            tip: line.tip,
            takes_back: false,
        });
        // The batch that it was drawn from has something to give again.
        if let Some(source) = line.source
            && !self.kitchen.batch(source).open
            && !self.kitchen.batch(source).voided
        {
            let (batch, open) = (source, true);
            self.push(Change::SetOpen { batch, open });
        }
    }

    /// Take back a fact that stands: the entry that first said it, the last link of its chain, and when it was told.
    pub fn reverse_fact(&mut self, entry: EntryId, tip: EntryId, told_at: DateTime<Utc>) {
        let entry = Entry::fact(entry, self.input.sender, (told_at, self.input.now));
        self.reverse_entry(&ActEntry {
            entry,
            detail: None,
            live: true,
            tip,
            takes_back: false,
        });
    }

    pub fn reverse_entry(&mut self, standing: &ActEntry) {
        let id = EntryId(self.kitchen.next.entry);
        let (sender, now) = (self.input.sender, self.input.now);
        let reversal = standing.entry.reversal(standing.tip, id, sender, now);
        // Reversing what took something back makes the first entry's detail count again.
        let detail = standing.detail.clone().filter(|_| standing.takes_back);
        self.append(reversal, detail);
        if standing.entry.kind == EntryKind::Batch
            && let Some(batch) = standing.entry.batch
        {
            self.push(Change::SetOpen { batch, open: false });
        }
    }

    /// Batches in the order in which they are drawn: first those that the message meant before its edit.
    pub fn in_order(&self, mut batches: Vec<BatchId>) -> Vec<BatchId> {
        batches.sort_by_key(|batch| !self.meant_before.contains(batch));
        batches
    }

    /// What a batch held when what is being written down happened.
    pub fn held(&self, batch: BatchId) -> Mass {
        self.held_in(batch, None)
    }

    /// The same of what stands in these places.
    pub fn held_in(&self, batch: BatchId, places: Option<&Places>) -> Mass {
        let batch = self.kitchen.batch(batch);
        let lots = batch.lots.iter();
        let lots = lots.filter(|lot| places.is_none_or(|places| places.hold(lot)));
        lots.map(|lot| lot.held_at(batch, self.occurred_at)).sum()
    }

    /// What a share of it is of: where no place was told, what stands ready, if anything does. After food was frozen "the
    /// rest" is what was not.
    pub fn shared(&self, batch: BatchId, places: Option<&Places>) -> Mass {
        let held = self.held_in(batch, places);
        if places.is_some() {
            return held;
        }
        let known = self.kitchen.batch(batch);
        let lots = known.lots.iter();
        let ready = lots.filter(|lot| !self.kitchen.is_frozen(lot));
        let ready = ready.map(|lot| lot.held_at(known, self.occurred_at)).sum();
        match ready > known.crumbs() {
            true => ready,
            false => held,
        }
    }

    /// These lots were counted after what is being written down happened: "the rest" of then is not what stands there.
    pub fn counted_since<'b>(&self, lots: impl IntoIterator<Item = &'b Lot>) -> bool {
        let mut counts = lots.into_iter().flat_map(|lot| &lot.counts);
        counts.any(|count| count.occurred_at > self.occurred_at)
    }

    pub fn container(&mut self, name: &str) -> ContainerId {
        if let Some(known) = self.kitchen.container_named(name) {
            return known.id;
        }
        let id = ContainerId(self.kitchen.next.container);
        let name = name.trim().to_lowercase();
        let name = name.strip_prefix("the ").unwrap_or(&name).to_owned();
        self.push(Change::Container(Container {
            id,
            name,
            tares: Vec::new(),
        }));
        id
    }

    /// The books' copy of a food's nutrients, made at its first use.
    pub fn profile(&mut self, code: Code) -> ProfileId {
        let known = self
            .kitchen
            .profiles
            .values()
            .find(|profile| profile.food == Some(code));
        if let Some(known) = known {
            return known.id;
        }
        let food = foods::table()
            .get(code)
            .expect("a resolved code is in the table");
        self.new_profile(
            Some(code),
            None,
            &food.description.to_string(),
            food.per_100g,
        )
    }

    pub fn new_profile(
        &mut self,
        food: Option<Code>,
        packet: Option<String>,
        description: &str,
        per_100g: foods::Profile,
    ) -> ProfileId {
        let id = ProfileId(self.kitchen.next.profile);
        self.push(Change::Profile(Profile {
            id,
            food,
            packet,
            description: description.to_owned(),
            per_100g,
        }));
        id
    }

    pub fn plate(&mut self, member: MemberId, day: NaiveDate, meal: Option<MealName>) -> AccountId {
        let id = AccountId(self.kitchen.next.account);
        self.push(Change::Plate(Plate {
            id,
            member,
            day,
            meal,
            message: self.credit,
            closed: false,
            portions: Vec::new(),
        }));
        id
    }

    /// Take one thing off a plate.
    pub fn reverse_portion(&mut self, plate: AccountId, portion: &PlatePortion) {
        let entry = Entry {
            id: portion.entry,
            kind: EntryKind::Portion,
            occurred_at: portion.occurred_at,
            recorded_at: self.input.now,
            member: self.input.sender,
            from: portion.from,
            to: Account::Plate(plate),
            mass: portion.mass,
            batch: portion.batch,
            profile: portion.profile,
            reverses: None,
            root: None,
        };
        self.reverse_entry(&ActEntry {
            entry,
            detail: None,
            live: true,
            tip: portion.tip,
            takes_back: false,
        });
    }

    /// Somebody new at the table who does not chat. Their row alone seats nobody: the fact does, and can be taken back.
    pub fn guest(&mut self, name: &str) -> MemberId {
        let id = MemberId(self.kitchen.next.member);
        let seat = Seat::Left;
        self.push(Change::Member(Member {
            seat,
            ..Member::new(id, name.trim(), false)
        }));
        self.tell_of(id, PersonalFact::Here(true));
        id
    }

    /// Whoever is or was at the table.
    pub fn somebody(&self, id: MemberId) -> &Member {
        let member = self.kitchen.member(id);
        member.expect("a member that is referred to is loaded")
    }

    /// A fact about somebody.
    pub fn tell_of(&mut self, member: MemberId, fact: PersonalFact) -> EntryId {
        self.fact(Detail::Personal { member, fact })
    }
}
