//! The outbox to its chats: in order within a chat, at the pace that Telegram allows, and no chat
//! waits for another one's trouble.

use std::collections::HashMap;
use std::time::{Duration, Instant};

use teloxide::types::MessageId;
use tokio::sync::{Notify, watch};
use tokio::task::JoinSet;

use super::CHANNEL;
use super::api::{Api, Me};
use super::backoff::Backoff;
use super::pace::Pace;
use super::trouble::Trouble;
use super::work::{Then, Work};
use crate::clock::Clock;
use crate::service::{Error, Service};

/// After so many faults of the server over one answer, hours in all, it is set aside: the answer itself
/// may be what the server fails at. Faults of the network are not counted.
const SERVER_FAULTS_MAX: i64 = 60;

/// How long the loop sleeps when nobody wakes it: another process may have written an answer.
const IDLE: Duration = Duration::from_secs(30);

pub struct Delivery<'a> {
    service: &'a Service,
    clock: &'a Clock,
    api: &'a Api,
    me: &'a Me,
    pace: Pace,
    lines: HashMap<String, Line>,
    calls: JoinSet<(String, Result<Option<MessageId>, Trouble>)>,
}

/// The one answer of a chat that is on its way; those behind it wait in the outbox.
struct Line {
    work: Work,
    calling: bool,
    not_before: Instant,
    backoff: Backoff,
}

impl<'a> Delivery<'a> {
    pub fn new(service: &'a Service, clock: &'a Clock, api: &'a Api, me: &'a Me) -> Self {
        Self {
            service,
            clock,
            api,
            me,
            pace: Pace::default(),
            lines: HashMap::new(),
            calls: JoinSet::new(),
        }
    }

    /// Deliver whatever `news` tells of, until no more will come and all is delivered.
    pub async fn run(mut self, news: &Notify, mut last: watch::Receiver<bool>) {
        let mut backoff = Backoff::default();
        loop {
            // Asked before the outbox is read: what was written until then is seen.
            let ending = *last.borrow_and_update();
            if let Err(error) = self.load().await {
                tracing::error!(%error, "the outbox cannot be read");
                tokio::time::sleep(backoff.next()).await;
                continue;
            }
            backoff.reset();
            if ending && self.lines.is_empty() {
                return;
            }
            loop {
                let wake = self.start();
                tokio::select! {
                    Some(ended) = self.calls.join_next() => {
                        let (chat, result) = ended.expect("a call neither panics nor is aborted");
                        self.ended(&chat, result).await;
                        if !self.lines.contains_key(&chat) {
                            break;
                        }
                    }
                    () = tokio::time::sleep_until(wake.into()), if !self.lines.is_empty() => {}
                    () = tokio::time::sleep(IDLE) => break,
                    () = news.notified() => break,
                    _ = last.changed(), if !ending => break,
                }
            }
        }
    }

    /// Take up the oldest waiting answer of each chat that has none on its way.
    async fn load(&mut self) -> Result<(), Error> {
        for outgoing in self.service.pending_heads(CHANNEL).await? {
            let id = outgoing.id;
            // A row may have moved to another chat while its call was made.
            let on_its_way = self.lines.values().any(|line| line.work.outgoing.id == id);
            if on_its_way || self.lines.contains_key(&outgoing.chat) {
                continue;
            }
            let chat = outgoing.chat.clone();
            let Some(work) = Work::new(outgoing) else {
                tracing::error!(
                    outbox = id.0,
                    "an answer has no words or no chat: set aside"
                );
                self.service.set_reply_aside(id, self.clock.now()).await?;
                continue;
            };
            let line = Line {
                work,
                calling: false,
                not_before: Instant::now(),
                backoff: Backoff::default(),
            };
            self.lines.insert(chat, line);
        }
        Ok(())
    }

    /// Make every call whose time has come; gives the time of the next one.
    fn start(&mut self) -> Instant {
        let now = Instant::now();
        let mut wake = now + IDLE;
        for (chat, line) in &mut self.lines {
            if line.calling {
                continue;
            }
            let free = self.pace.free_at(chat, now).max(line.not_before);
            if free > now {
                wake = wake.min(free);
                continue;
            }
            let Some(call) = line.work.call() else {
                continue;
            };
            line.calling = true;
            self.pace.take(chat, now);
            let (api, chat, bot) = (self.api.clone(), chat.clone(), self.me.username.clone());
            self.calls
                .spawn(async move { (chat, api.call(call, &bot).await) });
        }
        wake
    }

    async fn ended(&mut self, chat: &str, result: Result<Option<MessageId>, Trouble>) {
        let line = self.lines.get_mut(chat).expect("a call belongs to a line");
        line.calling = false;
        let outbox = line.work.outgoing.id;
        let result = match result {
            Ok(id) => {
                line.work.done(id);
                Ok(Then::GoOn)
            }
            Err(trouble) => self.trouble(chat, trouble).await,
        };
        let line = self.lines.get_mut(chat).expect("a call belongs to a line");
        match result {
            Ok(Then::GoOn) if line.work.call().is_none() => {
                let (outgoing, now) = (&line.work.outgoing, self.clock.now());
                match line.work.shown_by() {
                    parts if parts.is_empty() => self.service.sent(outgoing, None, now),
                    parts => self.service.sent_in_parts(outgoing, parts, now),
                }
                let told = line.work.pin_refused;
                self.lines.remove(chat);
                if told && let Err(error) = self.service.board_not_pinned(CHANNEL, chat, now).await
                {
                    tracing::error!(%error, chat, "that a board is not pinned cannot be said");
                }
            }
            Ok(Then::GoOn) => {}
            Ok(Then::SetAside) => {
                self.lines.remove(chat);
            }
            Err(error) => {
                tracing::error!(%error, outbox = outbox.0, "what became of an answer cannot be kept");
                line.not_before = Instant::now() + line.backoff.next();
            }
        }
    }

    async fn trouble(&mut self, chat: &str, trouble: Trouble) -> Result<Then, Error> {
        let now = Instant::now();
        let line = self.lines.get_mut(chat).expect("a call belongs to a line");
        let outbox = line.work.outgoing.id;
        tracing::warn!(outbox = outbox.0, chat, %trouble, "an answer is not delivered yet");
        match trouble {
            Trouble::Wait(wait) => line.not_before = now + wait,
            Trouble::Network(_) | Trouble::Token => line.not_before = now + line.backoff.next(),
            Trouble::Server(_) if line.work.outgoing.attempts >= SERVER_FAULTS_MAX => {
                return self.set_aside(chat).await;
            }
            Trouble::Server(_) => {
                line.not_before = now + line.backoff.next();
                line.work.outgoing.attempts += 1;
                self.service.send_failed(outbox).await?;
            }
            Trouble::Moved(new) => {
                line.work.redirect(new);
                let new = new.to_string();
                let moved_at = self.clock.now();
                self.service
                    .move_chat(CHANNEL, chat, &new, moved_at)
                    .await?;
            }
            Trouble::Refused(why) | Trouble::Conflict(why) => {
                if line.work.refused(&why) == Then::SetAside {
                    return self.set_aside(chat).await;
                }
            }
        }
        Ok(Then::GoOn)
    }

    /// It blocks nothing behind it any more, and stays in the outbox for whoever looks.
    async fn set_aside(&mut self, chat: &str) -> Result<Then, Error> {
        let line = self.lines.get(chat).expect("a call belongs to a line");
        let outbox = line.work.outgoing.id;
        tracing::warn!(
            outbox = outbox.0,
            chat,
            "an answer is set aside: it is refused for good"
        );
        self.service
            .set_reply_aside(outbox, self.clock.now())
            .await?;
        Ok(Then::SetAside)
    }
}
