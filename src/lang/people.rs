//! Who is at the table, what they are called, and who keeps the household.

use super::syntax::Words;

#[derive(Debug, Clone, PartialEq)]
pub enum People {
    /// "who is here"
    Who,
    /// "who is the keeper"
    WhoKeeps,
    /// "call me Rob", "call Ana Annie".
    Name { who: Option<Words>, name: Words },
    /// "I'm Rob", which may be said of anything: it is asked about.
    Introduced { name: Words },
    /// "also call me Rob", "Ana is also Annie".
    Nickname { who: Option<Words>, name: Words },
    /// "forget my nickname", "Ana is not Annie"; none named: all of them.
    NoNickname {
        who: Option<Words>,
        name: Option<Words>,
    },
    /// "add guest Mia", "add guests Jo and Max": those who do not chat, or who were here before.
    Add { names: Vec<Words> },
    /// "I am leaving the household", "remove Mia from the household".
    Leave { who: Option<Words> },
    /// "I am back at the table".
    Return,
    /// "make Ana the keeper".
    Keep { who: Option<Words> },
}
