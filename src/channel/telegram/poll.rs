//! From the server to the inbox: an update is stored first, and only then does the offset pass it, by
//! which the server forgets it. Whatever breaks in between, the update comes again and is known.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use tokio::sync::Notify;

use super::CHANNEL;
use super::api::{Api, Me};
use super::backoff::Backoff;
use super::inbound::{self, Event};
use super::plain::Arrived;
use super::trouble::Trouble;
use crate::channel::Shutdown;
use crate::clock::Clock;
use crate::render;
use crate::service::{Error, Inbound, Received, Service};

/// A server that answers "nothing" at once is not asked more often than this.
const EMPTY_POLL_MIN: Duration = Duration::from_millis(100);

/// One may come from a program that is just ending: the restart of this one. After so many in a row
/// there is another that goes on.
const CONFLICTS_MAX: u32 = 4;

/// The updates go to somebody else.
#[derive(Debug, thiserror::Error)]
#[error(
    "something else takes this bot's messages: another program that runs with the same token, or a \
     webhook. Stop that, then start this one again. Telegram says: {0}"
)]
pub struct TakenAway(String);

pub struct Poll<'a> {
    pub service: &'a Service,
    pub clock: &'a Clock,
    pub api: &'a Api,
    pub me: &'a Me,
    /// Messages wait to be handled.
    pub stored: &'a Notify,
    /// Answers wait to be sent.
    pub answered: &'a Notify,
    /// The server has told once what had come in.
    pub heard: &'a AtomicBool,
}

impl Poll<'_> {
    /// Poll until the end is asked for; a batch that has arrived is stored first.
    ///
    /// # Errors
    /// Another program polls with the same token: each would get a part of the messages.
    pub async fn run(&self, mut shutdown: Shutdown) -> Result<(), TakenAway> {
        let mut offset: Option<i32> = None;
        let mut backoff = Backoff::default();
        let mut conflicts = 0;
        loop {
            let asked = Instant::now();
            let updates = tokio::select! {
                biased;
                () = shutdown.asked() => return Ok(()),
                updates = self.api.updates(offset) => updates,
            };
            conflicts = match &updates {
                Err(Trouble::Conflict(why)) if conflicts + 1 >= CONFLICTS_MAX => {
                    return Err(TakenAway(why.clone()));
                }
                Err(Trouble::Conflict(_)) => conflicts + 1,
                Err(_) => conflicts,
                Ok(_) => 0,
            };
            let pause = match updates {
                Ok(updates) if updates.is_empty() => {
                    // Everything before is forgotten by now. After a quiet week the numbers may begin
                    // anew, below the offset (Bot API, Update): so it is not kept.
                    offset = None;
                    backoff.reset();
                    self.hear();
                    EMPTY_POLL_MIN.saturating_sub(asked.elapsed())
                }
                Ok(updates) => match self.store(updates, &mut offset).await {
                    Ok(()) => {
                        backoff.reset();
                        self.hear();
                        continue;
                    }
                    Err(error) => {
                        tracing::error!(%error, "an update cannot be stored: it will come again");
                        backoff.next()
                    }
                },
                Err(trouble) => {
                    tracing::warn!(%trouble, "no updates");
                    match trouble {
                        Trouble::Wait(wait) => wait,
                        _ => backoff.next(),
                    }
                }
            };
            tokio::select! {
                () = shutdown.asked() => return Ok(()),
                () = tokio::time::sleep(pause) => {}
            }
        }
    }

    fn hear(&self) {
        if !self.heard.swap(true, Ordering::Relaxed) {
            self.stored.notify_one();
        }
    }

    /// Store a batch; the offset stops before the first update that could not be stored.
    async fn store(&self, updates: Vec<Arrived>, offset: &mut Option<i32>) -> Result<(), Error> {
        for arrived in updates {
            match &arrived.update {
                Some(update) => self.take(inbound::read(update, self.clock.now())).await?,
                None => tracing::warn!(
                    update = arrived.number,
                    "an update that nothing here can read"
                ),
            }
            *offset = arrived.number.checked_add(1);
        }
        Ok(())
    }

    async fn take(&self, event: Event) -> Result<(), Error> {
        match event {
            Event::Said(inbound) => self.receive(&inbound).await,
            Event::WentOrCame(people) => {
                for inbound in &people {
                    self.receive(inbound).await?;
                }
                Ok(())
            }
            Event::Pressed { press, inbound } => {
                let received = match &inbound {
                    Some(inbound) => self.receive(inbound).await,
                    None => Ok(()),
                };
                // Whoever pressed is not kept waiting for the books; a lost answer costs nothing.
                let api = self.api.clone();
                tokio::spawn(async move {
                    if let Err(trouble) = api.answer_press(press).await {
                        tracing::debug!(%trouble, "a press could not be answered");
                    }
                });
                received
            }
            Event::Moved { old, new } => {
                tracing::info!(old, new, "a group has become a supergroup");
                let now = self.clock.now();
                self.service.move_chat(CHANNEL, &old, &new, now).await?;
                self.answered.notify_one();
                Ok(())
            }
            Event::Nothing => Ok(()),
        }
    }

    async fn receive(&self, inbound: &Inbound) -> Result<(), Error> {
        let received = self.service.receive(inbound, self.clock.now()).await?;
        tracing::debug!(chat = inbound.chat, ?received, "an update has arrived");
        match received {
            Received::Stored(_) => self.stored.notify_one(),
            Received::LetIn => {
                tracing::info!(chat = inbound.chat, "a chat was let in with a code");
                self.answered.notify_one();
            }
            Received::TurnedAway => self.answered.notify_one(),
            Received::Repeated | Received::Superseded | Received::Conflict => {}
        }
        let let_in = matches!(received, Received::Stored(_) | Received::LetIn);
        if let_in && !inbound.private && !self.me.hears_all && is_start(&inbound.text) {
            self.tell_of_privacy_mode(inbound).await?;
        }
        Ok(())
    }

    async fn tell_of_privacy_mode(&self, inbound: &Inbound) -> Result<(), Error> {
        let (text, now) = (render::privacy_mode(), self.clock.now());
        self.service
            .tell(CHANNEL, &inbound.chat, inbound.topic.as_deref(), &text, now)
            .await?;
        self.answered.notify_one();
        Ok(())
    }
}

/// `/start`, alone or with the bot's name or a code.
fn is_start(text: &str) -> bool {
    let word = text
        .split(|end: char| end == '@' || end.is_whitespace())
        .next();
    word.is_some_and(|word| word.eq_ignore_ascii_case("/start"))
}
