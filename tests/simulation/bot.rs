//! The bot on a file, without a channel: one act at a time, each of which may be its last.

use std::collections::HashMap;
use std::future::poll_fn;
use std::path::{Path, PathBuf};
use std::pin::pin;
use std::task::Poll;

use chrono::{DateTime, Utc};
use hobside::service::{Door, Handled, Inbound, Outgoing, Received, Service};
use hobside::store::{OutboxId, Store};
use sqlx::ConnectOptions;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};

use crate::books::{self, Books};

pub const CHANNEL: &str = "telegram";

/// What the bot does in one go.
#[derive(Debug, Clone)]
pub enum Act {
    Receive(Box<Inbound>),
    Handle,
    /// Say what it is time for.
    Due,
    /// See that the boards say what the books say.
    Boards,
    /// The channel could not take an answer.
    Failed(OutboxId),
    /// The channel does not want it.
    Aside(OutboxId),
    /// Mark what was sent.
    Settle,
}

#[derive(Debug, PartialEq)]
pub enum Done {
    Received(Received),
    Handled(Option<Handled>),
    Nothing,
}

/// An answer that was sent, and is marked with the next act.
#[derive(Debug, Clone)]
pub struct Mark {
    pub outgoing: Outgoing,
    pub external_id: String,
    pub at: DateTime<Utc>,
}

pub struct Bot {
    folder: tempfile::TempDir,
    store: Store,
    pub service: Service,
    /// A look at the file, beside the bot.
    look: SqliteConnection,
}

impl Bot {
    pub async fn new() -> Self {
        Self::open(tempfile::tempdir().expect("a temporary folder")).await
    }

    async fn open(folder: tempfile::TempDir) -> Self {
        let file = books_in(&folder);
        let store = Store::open_alone(&file).await.expect("it opens").doubting();
        let zone = chrono_tz::Europe::Dublin;
        let service = Service::new(store.clone(), Door::ByInvite { zone });
        service.answer_to("stove_side_bot");
        let options = SqliteConnectOptions::new().filename(&file);
        let look = options.connect().await.expect("it opens");
        Self {
            folder,
            store,
            service,
            look,
        }
    }

    /// Another bot on the same books as they are now.
    pub async fn twin(&mut self) -> Self {
        self.at_rest().await;
        Self::open(copied(&self.folder)).await
    }

    pub async fn act(&self, act: &Act, now: DateTime<Utc>) -> Done {
        match act {
            Act::Receive(inbound) => {
                let received = self.service.receive(inbound, now).await;
                Done::Received(received.expect("it is stored"))
            }
            Act::Handle => {
                let handled = self.service.handle_next(now).await;
                Done::Handled(handled.expect("it is handled"))
            }
            Act::Due => {
                self.service.say_due(CHANNEL, now).await.expect("said");
                // Whoever knows that nothing is due does not even look, and marks nothing.
                self.service.settle().await.expect("marked");
                Done::Nothing
            }
            Act::Boards => {
                let boards = self.service.refresh_boards(CHANNEL, now).await;
                boards.map(|_| Done::Nothing).expect("they are seen to")
            }
            Act::Failed(id) => {
                let counted = self.service.send_failed(*id).await;
                counted.map(|()| Done::Nothing).expect("it is counted")
            }
            Act::Aside(id) => {
                let aside = self.service.set_reply_aside(*id, now).await;
                aside.map(|()| Done::Nothing).expect("it is set aside")
            }
            Act::Settle => {
                let settled = self.service.settle().await;
                settled.map(|()| Done::Nothing).expect("they are marked")
            }
        }
    }

    /// Begin an act and let go of it after so many of its waits for the file: the process has ended there.
    pub async fn begin(&self, act: &Act, now: DateTime<Utc>, mut waits: usize) {
        let mut act = pin!(self.act(act, now));
        poll_fn(|context| match waits {
            0 => Poll::Ready(()),
            _ => {
                waits -= 1;
                act.as_mut().poll(context).map(drop)
            }
        })
        .await;
    }

    /// What a process finds that starts on what this one has brought to the disk.
    pub async fn dead(mut self) -> Self {
        self.at_rest().await;
        let found = copied(&self.folder);
        self.store.close().await;
        Self::open(found).await
    }

    pub fn mark(&self, marks: &[Mark]) {
        for mark in marks {
            let id = Some(mark.external_id.clone());
            self.service.sent(&mark.outgoing, id, mark.at);
        }
    }

    pub async fn books(&mut self) -> Books {
        Books::read(&mut self.look).await
    }

    pub async fn audit(&mut self) -> HashMap<(i64, String), i64> {
        books::audit(&mut self.look).await
    }

    pub async fn taken(&mut self) -> HashMap<(String, String), i64> {
        books::taken(&mut self.look).await
    }

    pub async fn account_for(&mut self, sent: &HashMap<(String, String), i64>) {
        books::account_for(&mut self.look, sent).await;
    }

    /// Pages, references and sums, as the backup checks them.
    pub async fn check(&self) {
        let file = books_in(&self.folder);
        self.store.check(&file).await.expect("the file is whole");
    }

    /// What was begun and let go of is rolled back, so the file holds still.
    async fn at_rest(&mut self) {
        drop(self.store.look().await.expect("it can be read"));
    }
}

fn books_in(folder: &tempfile::TempDir) -> PathBuf {
    folder.path().join("books.db")
}

/// The file and its write-ahead log as they are, in another folder.
fn copied(folder: &tempfile::TempDir) -> tempfile::TempDir {
    let copy = tempfile::tempdir().expect("a temporary folder");
    for name in ["books.db", "books.db-wal"] {
        let from: &Path = &folder.path().join(name);
        if from.exists() {
            std::fs::copy(from, copy.path().join(name)).expect("it is copied");
        }
    }
    copy
}
