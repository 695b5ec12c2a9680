//! From the inbox to the books; and where nothing waits there, what it is time for is said. In this order a message
//! that came while the bot was off may still cancel what fell due meanwhile.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use tokio::sync::{Notify, watch};

use super::CHANNEL;
use super::backoff::Backoff;
use crate::clock::Clock;
use crate::service::{Error, Service};

/// A server that does not tell what came in holds back what is due for no longer than this.
const HEARD_WITHIN: Duration = Duration::from_secs(20);
/// A machine that slept, or whose clock was set, is noticed after this time: a sleep stands still meanwhile.
const PAUSE_MAX: Duration = Duration::from_secs(30);

pub struct Handling<'a> {
    pub service: &'a Service,
    pub clock: &'a Clock,
    /// Messages wait to be handled.
    pub stored: &'a Notify,
    /// The server has told once what had come in.
    pub heard: &'a AtomicBool,
    /// The outbox has more.
    pub answered: &'a Notify,
    /// The books have changed.
    pub changed: &'a Notify,
}

impl Handling<'_> {
    /// Book what waits in the inbox, until no more will come.
    pub async fn run(self, mut last: watch::Receiver<bool>) {
        let begun = Instant::now();
        let mut backoff = Backoff::default();
        loop {
            let ending = *last.borrow_and_update();
            match self.step(begun, ending).await {
                Ok(Some(pause)) => {
                    backoff.reset();
                    tokio::select! {
                        () = self.stored.notified() => {}
                        () = tokio::time::sleep(pause) => {}
                        _ = last.changed() => {}
                    }
                }
                Ok(None) if ending => return,
                Ok(None) => backoff.reset(),
                Err(error) => {
                    tracing::error!(%error, "the books cannot be written: messages wait");
                    tokio::time::sleep(backoff.next()).await;
                }
            }
        }
    }

    /// Book one message, or say what is due; gives how long nothing is to be done.
    async fn step(&self, begun: Instant, ending: bool) -> Result<Option<Duration>, Error> {
        while let Some(handled) = self.service.handle_next(self.clock.now()).await? {
            tracing::info!(message_id = handled.message.0, outcome = ?handled.outcome, "handled");
            self.answered.notify_one();
            self.changed.notify_one();
        }
        if ending {
            return Ok(None);
        }
        let held_back = HEARD_WITHIN.saturating_sub(begun.elapsed());
        if !self.heard.load(Ordering::Relaxed) && !held_back.is_zero() {
            return Ok(Some(held_back));
        }
        let now = self.clock.now();
        let due = self.service.say_due(CHANNEL, now).await?;
        if due.said {
            self.answered.notify_one();
        }
        let until = due
            .next
            .map(|next| (next - now).to_std().unwrap_or_default());
        Ok(Some(until.map_or(PAUSE_MAX, |until| until.min(PAUSE_MAX))))
    }
}
