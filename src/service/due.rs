//! What has fallen due: looked at, worded, put into the outbox and marked, in one transaction for each chat. So nothing
//! is said twice and nothing is lost, wherever a crash comes between.

use std::sync::PoisonError;

use chrono::{DateTime, Duration, Utc};
use chrono_tz::Tz;

use super::{Error, Service, Work};
use crate::domain::clock::Reminder;
use crate::domain::clock::due::{CameTo, Owed, TOGETHER, due};
use crate::domain::clock::occurrence::{ClockSettings, NoteKind, Occurrence};
use crate::render::{self, Message};
use crate::store::{DueChat, HouseholdId, NewReply, OutboxId, OutboxKind, Scheduled};

/// A pot is hot for hours, not days.
const POTS_SINCE: Duration = Duration::days(2);

/// What came of a look at what is due.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Due {
    /// Something was put into the outbox.
    pub said: bool,
    /// When the next look is needed; nothing waits otherwise.
    pub next: Option<DateTime<Utc>>,
}

impl Service {
    /// Say what has fallen due in a channel, chat by chat.
    pub async fn say_due(&self, channel: &'static str, now: DateTime<Utc>) -> Result<Due, Error> {
        if let Some(next) = self.known_due(channel)
            && next.is_none_or(|next| now < next)
        {
            return Ok(Due { said: false, next });
        }
        let mut said = false;
        loop {
            let mut work = self.begin().await?;
            let Some(place) = work.transaction.due_chat(channel, now).await? else {
                let next = work.transaction.next_due(channel).await?;
                // Whoever adds to it writes after this, and forgets it again.
                self.keep_due(channel, next);
                work.commit().await?;
                return Ok(Due { said, next });
            };
            said |= work.say_due(channel, &place, now, Hurry::No).await?;
            work.commit().await?;
        }
    }

    fn known_due(&self, channel: &str) -> Option<Option<DateTime<Utc>>> {
        let known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.get(channel).copied()
    }

    fn keep_due(&self, channel: &'static str, next: Option<DateTime<Utc>>) {
        let mut known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(channel, next);
    }

    /// The books have changed: what falls due next has to be looked up.
    pub(super) fn forget_due(&self) {
        let mut known = self.next_due.lock().unwrap_or_else(PoisonError::into_inner);
        known.clear();
    }
}

impl Work<'_> {
    /// Say what is due in a chat, and note down what came of all of it.
    pub(super) async fn say_due(
        &mut self,
        channel: &str,
        place: &DueChat,
        now: DateTime<Utc>,
        hurry: Hurry,
    ) -> Result<bool, Error> {
        let household = place.household;
        let settings = self.transaction.settings(household).await?;
        let reminders = self.transaction.due_reminders(channel, place, now).await?;
        let scheduled = match place.topic {
            None => self.transaction.scheduled(channel, &place.chat).await?,
            Some(_) => None,
        };
        let plan = scheduled.map(|scheduled| Plan {
            zone: settings.zone,
            clock: settings.clock,
            scheduled,
        });
        let notes = plan
            .as_ref()
            .map(|plan| plan.owed(now, !reminders.is_empty(), hurry));
        let notes = notes.unwrap_or_default();
        let again = reminders.iter().filter_map(Reminder::note);
        let mut kinds = notes.iter().map(|note| note.kind).chain(again);
        let kitchen = match kinds.any(|kind| kind != NoteKind::Morning) {
            true => self.transaction.ahead(household, now).await?,
            false => self.transaction.stock(household, now).await?,
        };
        let pots = match plan.as_ref().is_some_and(|plan| plan.scheduled.told_here) {
            true => {
                let since = now - POTS_SINCE;
                let said = self
                    .transaction
                    .pots_looked_at(channel, &place.chat, since)
                    .await?;
                kitchen.to_put_away(&said, now)
            }
            false => Vec::new(),
        };
        // What is late is told when somebody is there to read it.
        let home = kitchen.home_again(now).filter(|_| hurry == Hurry::No);
        let waits = |note: &Occurrence| home.is_some() && kitchen.is_left_over(note, now);
        let (held, notes): (Vec<Occurrence>, Vec<Occurrence>) = notes.into_iter().partition(waits);
        let home = home.filter(|_| !held.is_empty());
        let owed = Owed {
            reminders,
            notes,
            pots,
        };
        let said = due(&kitchen, &owed, now);
        let by = match said.answers.is_empty() {
            true => None,
            false => {
                let message = render::message(&said.answers, &settings, "");
                // What nobody asked for is told where people talk.
                let topic = match &place.topic {
                    None if said.said.is_empty() => {
                        self.transaction.topic_of_talk(channel, &place.chat).await?
                    }
                    topic => topic.clone(),
                };
                let by = self.notify(channel, place, topic.as_deref(), &message, now);
                Some(by.await?)
            }
        };
        for entry in &said.said {
            self.transaction
                .reminder_said(household, *entry, by, now)
                .await?;
        }
        for (note, came_to) in &said.notes {
            let by = by.filter(|_| *came_to == CameTo::Said);
            self.transaction
                .note_said(channel, place, note, (*came_to, by), now)
                .await?;
        }
        for (pot, came_to) in &owed.pots {
            let by = by.filter(|_| *came_to == CameTo::Said);
            self.transaction
                .pot_said(channel, place, pot, (*came_to, by), now)
                .await?;
        }
        if let Some(plan) = plan {
            let next = plan.next(now, &said.notes).into_iter();
            let next = next.chain(kitchen.next_put_away(now)).chain(home).min();
            self.transaction
                .next_notes(channel, &place.chat, next)
                .await?;
        }
        Ok(by.is_some())
    }

    async fn notify(
        &mut self,
        channel: &str,
        place: &DueChat,
        topic: Option<&str>,
        message: &Message,
        now: DateTime<Utc>,
    ) -> Result<OutboxId, Error> {
        let bold = message.bold.iter();
        let bold: Vec<[usize; 2]> = bold.map(|range| [range.start, range.end]).collect();
        let notice = NewReply {
            message: None,
            channel,
            chat: &place.chat,
            topic,
            kind: OutboxKind::Notice,
            edits: None,
            answers: None,
            text: &message.text,
            bold: &bold,
            buttons: &super::say::pressed(message),
            data: &message.data,
            picture: None,
            silent: message.silent,
        };
        self.transaction.say(&notice, now).await
    }

    /// Before the household's times change: what was due by the old ones is said.
    pub(super) async fn settle_notes(
        &mut self,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        for (channel, place) in self.transaction.note_chats(household).await? {
            self.say_due(&channel, &place, now, Hurry::Yes).await?;
        }
        Ok(())
    }
}

/// Whether what is late may wait for a better moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hurry {
    No,
    /// The times change: what was owed by the old ones is said now or never.
    Yes,
}

/// The notes of a chat in time.
struct Plan {
    zone: Tz,
    clock: ClockSettings,
    scheduled: Scheduled,
}

impl Plan {
    /// What is owed by now and said now; with anything due, also what will be in a moment.
    fn owed(&self, now: DateTime<Utc>, rings: bool, hurry: Hurry) -> Vec<Occurrence> {
        let held = |note: &Occurrence, until| {
            hurry == Hurry::No && self.clock.holds(note, self.zone, now, until)
        };
        let by = |until| -> Vec<Occurrence> {
            let span = (self.scheduled.since, until);
            let kinds = NoteKind::ALL.into_iter();
            let owed = |kind| {
                let last = self.scheduled.last.get(&kind).copied();
                self.clock.owed(kind, self.zone, span, last)
            };
            kinds
                .filter(|_| self.scheduled.told_here)
                .flat_map(owed)
                .filter(|note| !held(note, until))
                .collect()
        };
        let due = by(now);
        // An evening has mostly nothing to say, which is no reason to say the rest early.
        let speaks = due.iter().any(|note| note.kind != NoteKind::Evening);
        match rings || speaks {
            true => by(now + TOGETHER),
            false => due,
        }
    }

    /// When something falls due again, after these.
    fn next(&self, now: DateTime<Utc>, settled: &[(Occurrence, CameTo)]) -> Option<DateTime<Utc>> {
        let kinds = NoteKind::ALL
            .into_iter()
            .filter(|_| self.scheduled.told_here);
        let next = |kind: NoteKind| {
            let settled = settled.iter().filter(|(note, _)| note.kind == kind);
            let last = settled.map(|(note, _)| note.on).max();
            let last = last.max(self.scheduled.last.get(&kind).copied());
            self.clock.next(kind, self.zone, now, last)
        };
        let notes = kinds.filter_map(next).map(|note| note.due_at);
        // What is held back comes with the day's own, or when the quiet hours end.
        let owed = self.owed(now, false, Hurry::Yes).into_iter();
        let mut held = owed.filter(|note| !settled.iter().any(|(known, _)| known == note));
        let end = held
            .next()
            .and_then(|_| self.clock.quiet_until(self.zone, now));
        notes.chain(end).min()
    }
}
