//! The shopping list that hangs in each chat is held against the books: whatever changed them (a tick that was typed, an
//! undo, a press in another chat), it is edited where it hangs.

use chrono::{DateTime, Utc};

use super::{Error, Work};
use crate::render::Message;
use crate::store::{HouseholdId, NewReply, OutboxKind};

impl Work<'_> {
    /// `list` is the list as it stands now.
    pub(super) async fn rehang(
        &mut self,
        household: HouseholdId,
        list: &Message,
        now: DateTime<Utc>,
    ) -> Result<(), Error> {
        for hanging in self.transaction.hanging_lists(household).await? {
            let same = hanging.shows["list"] == list.data["list"];
            if !same || hanging.shows["lines"] == list.data["lines"] {
                continue;
            }
            let bold = list.bold.iter();
            let bold: Vec<[usize; 2]> = bold.map(|range| [range.start, range.end]).collect();
            let edit = NewReply {
                message: None,
                channel: &hanging.channel,
                chat: &hanging.chat,
                topic: hanging.topic.as_deref(),
                kind: OutboxKind::Edit,
                edits: Some(hanging.hung),
                answers: None,
                text: &list.text,
                bold: &bold,
                buttons: &super::say::pressed(list),
                data: &list.data,
                picture: None,
                silent: true,
            };
            self.transaction.say(&edit, now).await?;
        }
        Ok(())
    }
}
