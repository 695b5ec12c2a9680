//! What cannot be of who is at the table, by name.

#[derive(Debug, Clone, PartialEq)]
pub enum TableProblem {
    /// Somebody here is called so already.
    NameTaken { name: String, by: String },
    /// What the keeper alone may do.
    KeeperOnly { keeper: String },
    /// They are not called so; none named: they have no nickname.
    NoNickname { who: String, name: Option<String> },
    /// They are at the table already.
    IsHere { name: String },
    /// They keep it already.
    KeepsAlready { name: String },
    /// Who does not chat cannot keep a household.
    DoesNotChat { name: String },
    /// Nobody else who chats would be left.
    OnlyOne,
    /// The sender is not at the table any more.
    NotAtTable {
        keeper: Option<String>,
        removed: bool,
    },
}

impl TableProblem {
    pub fn code(&self) -> &'static str {
        match self {
            Self::NameTaken { .. } => "name_taken",
            Self::KeeperOnly { .. } => "keeper_only",
            Self::NoNickname { .. } => "no_nickname",
            Self::IsHere { .. } => "is_here",
            Self::KeepsAlready { .. } => "keeps_already",
            Self::DoesNotChat { .. } => "does_not_chat",
            Self::OnlyOne => "only_one",
            Self::NotAtTable { .. } => "not_at_table",
        }
    }
}
