//! Names for things in the books. Every id counts within its household, so that a household's
//! books can move to another machine unchanged.

macro_rules! id {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub i64);
    )*};
}

id! {
    MemberId,
    ComponentId,
    BatchId,
    PlaceId,
    ContainerId,
    ProfileId,
    EntryId,
    QuestionId,
    /// One of a household's accounts; a lot and a plate are accounts of their own.
    AccountId,
    /// A stored message (or press) of the channel, counted over the whole file.
    MessageId,
}
