//! The boards: after every change, and as the days go by, they are held against the books. A burst of messages
//! comes to one look, and a look to one edit at most.

use std::time::Duration;

use tokio::sync::{Notify, watch};

use super::CHANNEL;
use crate::clock::Clock;
use crate::service::Service;

/// What comes in within this time after a change is looked at together with it.
const GATHER: Duration = Duration::from_secs(2);
/// How soon a board that could not be edited yet is looked at again.
const AGAIN: Duration = Duration::from_secs(3);
/// A day may have begun.
const IDLE: Duration = Duration::from_secs(10 * 60);

pub struct Boards<'a> {
    pub service: &'a Service,
    pub clock: &'a Clock,
    /// The books have changed.
    pub changed: &'a Notify,
    /// The outbox has more.
    pub answered: &'a Notify,
}

impl Boards<'_> {
    /// Until no more messages will be handled: at the end answers go first, and the next start looks again.
    pub async fn run(self, mut last: watch::Receiver<bool>) {
        while !*last.borrow_and_update() {
            let pause = match self.service.refresh_boards(CHANNEL, self.clock.now()).await {
                Ok(boards) => {
                    if boards.changed {
                        self.answered.notify_one();
                    }
                    if boards.behind || boards.changed {
                        AGAIN
                    } else {
                        IDLE
                    }
                }
                Err(error) => {
                    tracing::error!(%error, "the boards cannot be brought up to date");
                    AGAIN
                }
            };
            tokio::select! {
                () = self.changed.notified() => {}
                () = tokio::time::sleep(pause) => continue,
                _ = last.changed() => continue,
            }
            tokio::select! {
                () = tokio::time::sleep(GATHER) => {}
                _ = last.changed() => {}
            }
        }
    }
}
