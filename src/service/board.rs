//! The board of each chat: what it should say, held against what it says. It is derived anew from the books, so
//! it does not matter which message changed them, nor whether a crash came between.

use chrono::{DateTime, Duration, Utc};
use serde_json::json;

use super::{Error, Service, Work};
use crate::domain::board::Board;
use crate::domain::view;
use crate::render::{self, Message};
use crate::store::{BoardRow, HouseholdId, NewReply, OutboxId, OutboxKind};

/// A board is edited at most once in this time, whatever happens in it.
const EDIT_INTERVAL: Duration = Duration::seconds(5);
/// A chat that refuses its board is tried again after this time.
const REFUSED_INTERVAL: Duration = Duration::hours(24);

/// What became of the boards of a channel.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Boards {
    /// Something was put into the outbox.
    pub changed: bool,
    /// A board does not yet say what it should: look again soon.
    pub behind: bool,
}

impl Service {
    /// Bring the boards of every chat of a channel up to date.
    pub async fn refresh_boards(&self, channel: &str, now: DateTime<Utc>) -> Result<Boards, Error> {
        let mut work = self.begin().await?;
        let mut boards = Boards::default();
        let mut wanted: Option<(HouseholdId, Option<Wanted>)> = None;
        for (household, chat) in work.transaction.chats_of(channel).await? {
            if wanted.as_ref().is_none_or(|(known, _)| *known != household) {
                wanted = Some((household, work.wanted_board(household, now).await?));
            }
            let board = wanted.as_ref().and_then(|(_, board)| board.as_ref());
            let place = Place {
                channel,
                chat: &chat,
                topic: None,
            };
            let done = work.refresh_board(place, household, board, now).await?;
            boards.changed |= done.changed;
            boards.behind |= done.behind;
        }
        work.commit().await?;
        Ok(boards)
    }

    /// The channel does not let the bot pin: the board stays where it is, and that is said once.
    pub async fn board_not_pinned(
        &self,
        channel: &str,
        chat: &str,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        let mut work = self.begin().await?;
        if work.transaction.pin_refused(channel, chat).await? {
            let topic = None;
            let place = Place {
                channel,
                chat,
                topic,
            };
            let words = plain(render::board_not_pinned());
            work.post(place, OutboxKind::Notice, None, &words, now)
                .await?;
        }
        work.commit().await
    }
}

/// What a board should say.
struct Wanted {
    message: Message,
    /// Nothing stands in the kitchen: no board is hung up for that.
    empty: bool,
}

#[derive(Clone, Copy)]
struct Place<'a> {
    channel: &'a str,
    chat: &'a str,
    /// Of a group with topics.
    topic: Option<&'a str>,
}

fn plain(text: String) -> Message {
    Message {
        text,
        bold: Vec::new(),
        buttons: Vec::new(),
        data: json!({ "kind": "board" }),
        silent: true,
        pictures: Vec::new(),
        reaction: None,
    }
}

impl Work<'_> {
    /// What the board of a household says; `None` if it wants none.
    async fn wanted_board(
        &mut self,
        household: HouseholdId,
        now: DateTime<Utc>,
    ) -> Result<Option<Wanted>, Error> {
        let kitchen = self.transaction.stock(household, now).await?;
        if kitchen.settings().board == Some(false) {
            return Ok(None);
        }
        let (lots, today) = (view::stock(&kitchen), kitchen.day_of(now));
        Ok(Some(Wanted {
            empty: Board::of(&lots, today).is_empty(),
            message: render::board(&lots, today, &kitchen.settings()),
        }))
    }

    async fn refresh_board(
        &mut self,
        place: Place<'_>,
        household: HouseholdId,
        wanted: Option<&Wanted>,
        now: DateTime<Utc>,
    ) -> Result<Boards, Error> {
        let (channel, chat) = (place.channel, place.chat);
        let mut boards = Boards::default();
        let row = self.transaction.board(channel, chat).await?;
        match (row.filter(|row| !row.away), wanted) {
            (None, None) => {}
            (None, Some(board)) if board.empty => {}
            (None, Some(_)) => {
                let (notice, words) = (OutboxKind::Notice, plain(render::board_coming()));
                // In a group with topics it hangs in the one in which its household talks.
                let topic = self.transaction.topic_of_talk(channel, chat).await?;
                let topic = topic.as_deref();
                let place = Place { topic, ..place };
                let hung = self.post(place, notice, None, &words, now).await?;
                self.transaction
                    .hang_board(channel, chat, household, hung)
                    .await?;
                boards.changed = true;
            }
            (Some(row), Some(board)) if says(&row, place, &board.message) => {}
            (Some(row), _) if must_wait(&row, now) => boards.behind = row.failed_at.is_none(),
            (Some(row), Some(board)) => {
                let edits = Some(row.hung);
                self.post(place, OutboxKind::Edit, edits, &board.message, now)
                    .await?;
                boards.changed = true;
            }
            (Some(row), None) => {
                let words = plain(render::board_put_away());
                let edits = Some(row.hung);
                self.post(place, OutboxKind::Edit, edits, &words, now)
                    .await?;
                self.transaction.put_board_away(channel, chat).await?;
                boards.changed = true;
            }
        }
        Ok(boards)
    }

    async fn post(
        &mut self,
        place: Place<'_>,
        kind: OutboxKind,
        edits: Option<OutboxId>,
        message: &Message,
        now: DateTime<Utc>,
    ) -> Result<OutboxId, Error> {
        let bold = message.bold.iter();
        let bold: Vec<[usize; 2]> = bold.map(|range| [range.start, range.end]).collect();
        let reply = NewReply {
            message: None,
            channel: place.channel,
            chat: place.chat,
            topic: place.topic,
            kind,
            edits,
            answers: None,
            text: &message.text,
            bold: &bold,
            buttons: &[],
            data: &message.data,
            picture: None,
            silent: true,
        };
        self.transaction.say(&reply, now).await
    }
}

/// Nothing would change by an edit.
fn says(row: &BoardRow, place: Place<'_>, board: &Message) -> bool {
    row.failed_at.is_none() && row.shown_in == place.chat && row.shows == board.text
}

/// What was said last is on its way, or is too new to be said anew.
fn must_wait(row: &BoardRow, now: DateTime<Utc>) -> bool {
    let says_nothing = row.shows == render::board_coming();
    match (row.sent_at, row.failed_at) {
        (_, Some(failed)) => now < failed + REFUSED_INTERVAL,
        (Some(_), None) if says_nothing => false,
        (Some(sent), None) => now < sent + EDIT_INTERVAL,
        (None, None) => true,
    }
}
