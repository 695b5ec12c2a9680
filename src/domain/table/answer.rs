//! What is answered of who is at the table, as values.

use super::super::ids::MessageId;

#[derive(Debug, Clone, PartialEq)]
pub struct TableAnswer {
    pub event: TableEvent,
    /// Whom it is about; `None`: everybody.
    pub about: Option<SeatView>,
    /// Who is at the table now.
    pub members: Vec<SeatView>,
    pub message: MessageId,
}

#[derive(Debug, Clone, PartialEq)]
pub enum TableEvent {
    Listed,
    /// Who keeps the household.
    KeeperTold,
    /// They were called so before.
    Named {
        before: String,
    },
    Nicknamed {
        name: String,
    },
    /// They are not called so any more.
    NicknamesDropped {
        names: Vec<String>,
    },
    Added,
    /// They have been at the table before.
    Back,
    Left,
    Removed,
    KeeperMade,
    /// Somebody else had their name before they came.
    ToldApart {
        called: String,
        /// The other, of whom it was told what they cannot have: it may have been meant of this one.
        avoids: Option<String>,
    },
}

/// One of them, as somebody reads it.
#[derive(Debug, Clone, PartialEq)]
pub struct SeatView {
    pub name: String,
    pub nicknames: Vec<String>,
    pub keeper: bool,
    pub chats: bool,
    /// The reader.
    pub you: bool,
}

impl TableAnswer {
    /// The message that it can be taken back with.
    pub fn taken_back_with(&self) -> Option<MessageId> {
        match self.event {
            TableEvent::Listed | TableEvent::KeeperTold | TableEvent::ToldApart { .. } => None,
            _ => Some(self.message),
        }
    }
}
