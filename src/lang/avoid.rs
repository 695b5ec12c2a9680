//! What people cannot have or leave out.

use super::syntax::Words;

#[derive(Debug, Clone, PartialEq)]
pub enum Avoid {
    /// "Ana is allergic to peanuts and milk", "I don't eat pork".
    Tells {
        who: Eats,
        what: Vec<Words>,
        /// They cannot have it; otherwise they leave it out.
        cannot: bool,
    },
    /// "Ana is not allergic to peanuts any more"; nothing named: to anything.
    Drops { who: Eats, what: Vec<Words> },
    /// "what is Ana allergic to"; nobody: who avoids what.
    Asks { who: Option<Eats> },
    /// "can Ana eat the dal".
    MayEat { who: Eats, dish: Words },
}

#[derive(Debug, Clone, PartialEq)]
pub enum Eats {
    Me,
    Named(Words),
}
