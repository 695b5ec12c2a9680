//! The door: which household a message belongs to, and who is let in.

use chrono::{DateTime, Duration, Utc};
use serde_json::json;

use super::address::address;
use super::{Door, Error, Inbound, Work};
use crate::domain::decide::Outcome;
use crate::domain::ids::MessageId;
use crate::render;
use crate::store::{HouseholdId, Kind, NewHousehold, NewReply, OutboxKind};

/// A stranger who tries codes gets an answer this often at most.
const CODE_ANSWER_INTERVAL: Duration = Duration::minutes(1);

pub(super) struct Admission {
    pub household: Option<HouseholdId>,
    /// This very message let the chat in.
    pub by_code: bool,
}

impl Work<'_> {
    pub(super) async fn admit(
        &mut self,
        inbound: &Inbound,
        now: DateTime<Utc>,
    ) -> Result<Admission, Error> {
        let household = match self.service.door {
            Door::Open { zone } => Some(self.open_door(inbound, zone, now).await?),
            Door::ByInvite { zone } => match self.known_household(inbound, now).await? {
                Some(household) => Some(household),
                None => {
                    let household = self.by_code(inbound, zone, now).await?;
                    let by_code = household.is_some();
                    return Ok(Admission { household, by_code });
                }
            },
        };
        Ok(Admission {
            household,
            by_code: false,
        })
    }

    /// Every chat is a household of its own, but for a private one that names another's.
    async fn open_door(
        &mut self,
        inbound: &Inbound,
        zone: chrono_tz::Tz,
        now: DateTime<Utc>,
    ) -> Result<HouseholdId, Error> {
        let channel = inbound.channel;
        if let Some(chat) = inbound
            .household_chat
            .as_deref()
            .filter(|_| inbound.private)
        {
            let household = match self.transaction.chat(channel, chat).await? {
                Some(row) => row.household,
                None => self.set_up(channel, chat, chat, false, zone, now).await?,
            };
            let own = self.transaction.chat(channel, &inbound.chat).await?;
            if own.is_none_or(|own| own.household != household) {
                self.transaction
                    .link_chat(channel, &inbound.chat, household, true, now)
                    .await?;
            }
            return Ok(household);
        }
        if let Some(row) = self.transaction.chat(channel, &inbound.chat).await? {
            return Ok(row.household);
        }
        let name = inbound.chat_name.as_deref().unwrap_or(&inbound.chat);
        self.set_up(channel, &inbound.chat, name, inbound.private, zone, now)
            .await
    }

    /// The household of a chat that was let in, or of a person who sits at one household's table.
    async fn known_household(
        &mut self,
        inbound: &Inbound,
        now: DateTime<Utc>,
    ) -> Result<Option<HouseholdId>, Error> {
        let channel = inbound.channel;
        let named = named_by_label(inbound, &self.service.names());
        let known = self.transaction.chat(channel, &inbound.chat).await?;
        if let Some(row) = &known
            && named.is_none_or(|named| named == row.household)
        {
            return Ok(Some(row.household));
        }
        if !inbound.private {
            return Ok(known.map(|row| row.household));
        }
        let households = self
            .transaction
            .households_of(channel, &inbound.sender.id)
            .await?;
        // What was scanned is looked up where it stands; the chat stays with the household that it is about.
        if let Some(named) = named.filter(|named| households.contains(named)) {
            return Ok(Some(named));
        }
        if let Some(row) = known {
            return Ok(Some(row.household));
        }
        let [household] = households.as_slice() else {
            return Ok(None);
        };
        self.transaction
            .link_chat(channel, &inbound.chat, *household, true, now)
            .await?;
        Ok(Some(*household))
    }

    /// `/start CODE` lets the chat in; anything else gets one polite sentence, once.
    async fn by_code(
        &mut self,
        inbound: &Inbound,
        zone: chrono_tz::Tz,
        now: DateTime<Utc>,
    ) -> Result<Option<HouseholdId>, Error> {
        let Some(code) = start_code(inbound, &self.service.names()) else {
            self.turn_away(inbound, render::stranger(), None, now)
                .await?;
            return Ok(None);
        };
        if !self.transaction.invite_is_open(&code, now).await? {
            let interval = Some(CODE_ANSWER_INTERVAL);
            self.turn_away(inbound, render::invite_wrong(), interval, now)
                .await?;
            return Ok(None);
        }
        // A keeper who has cooked alone so far brings the kitchen along into the group.
        let kept = match inbound.private {
            true => None,
            false => {
                self.transaction
                    .household_kept_alone(inbound.channel, &inbound.sender.id)
                    .await?
            }
        };
        let household = match kept {
            Some(household) => {
                self.transaction
                    .link_chat(inbound.channel, &inbound.chat, household, false, now)
                    .await?;
                household
            }
            None => {
                let name = inbound.chat_name.as_deref().unwrap_or(&inbound.sender.name);
                self.set_up(
                    inbound.channel,
                    &inbound.chat,
                    name,
                    inbound.private,
                    zone,
                    now,
                )
                .await?
            }
        };
        self.transaction.use_invite(&code, household, now).await?;
        Ok(Some(household))
    }

    async fn set_up(
        &mut self,
        channel: &str,
        chat: &str,
        name: &str,
        private: bool,
        zone: chrono_tz::Tz,
        now: DateTime<Utc>,
    ) -> Result<HouseholdId, Error> {
        let name = render::clean(name);
        let new = NewHousehold { name: &name, zone };
        let household = self.transaction.create_household(&new, now).await?;
        self.transaction
            .link_chat(channel, chat, household, private, now)
            .await?;
        Ok(household)
    }

    /// Once for each chat, or again after an interval. A press gets nothing.
    async fn turn_away(
        &mut self,
        inbound: &Inbound,
        sentence: String,
        again_after: Option<Duration>,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let told = self
            .transaction
            .stranger_told_at(inbound.channel, &inbound.chat)
            .await?;
        let again = told.is_none_or(|told| again_after.is_some_and(|after| now >= told + after));
        if !again || inbound.kind == Kind::Press {
            return Ok(());
        }
        self.transaction
            .told_stranger(inbound.channel, &inbound.chat, now)
            .await?;
        self.say_plainly(inbound, None, (&sentence, &[]), now).await
    }

    pub(super) async fn welcome(
        &mut self,
        inbound: &Inbound,
        message: MessageId,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        self.transaction
            .set_outcome(message, Outcome::Answered)
            .await?;
        let welcome = render::invite_accepted();
        let set_up = render::set_up_button();
        let buttons = [vec![(set_up.label, set_up.press.encode())]];
        self.say_plainly(inbound, Some(message), (&welcome, &buttons), now)
            .await
    }

    async fn say_plainly(
        &mut self,
        inbound: &Inbound,
        message: Option<MessageId>,
        (text, buttons): (&str, &[Vec<(String, String)>]),
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let reply = NewReply {
            message,
            channel: inbound.channel,
            chat: &inbound.chat,
            topic: inbound.topic.as_deref(),
            kind: OutboxKind::Reply,
            edits: None,
            answers: Some(&inbound.external_id),
            text,
            bold: &[],
            buttons,
            data: &json!({ "kind": "door" }),
            picture: None,
            silent: false,
        };
        self.transaction.say(&reply, now).await?;
        Ok(())
    }
}

/// The household of the batch whose label was scanned: "/start D1-2".
fn named_by_label(inbound: &Inbound, names: &[String]) -> Option<HouseholdId> {
    let code = start_code(inbound, names)?;
    let (_, household) = code.rsplit_once('-')?;
    household.parse().ok().map(HouseholdId)
}

/// The code of `/start CODE`, if the message is one for this bot.
fn start_code(inbound: &Inbound, names: &[String]) -> Option<String> {
    if inbound.kind == Kind::Press || inbound.forwarded {
        return None;
    }
    let addressed = address(&inbound.text, names);
    let mut words = addressed.text.split_whitespace();
    let is_start = words
        .next()
        .is_some_and(|word| word.eq_ignore_ascii_case("/start"));
    match (is_start && !addressed.elsewhere, words.next(), words.next()) {
        (true, Some(code), None) => Some(code.to_owned()),
        _ => None,
    }
}
