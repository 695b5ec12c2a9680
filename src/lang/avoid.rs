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
    /// "the biscuits contain milk and hazelnuts", "ingredients of the biscuits: wheat flour, sugar, butter".
    Contents {
        name: Words,
        things: Vec<Words>,
        /// Nothing else is in it.
        whole: bool,
    },
    /// "does the lasagne have milk in it"; nothing named: all allergens of the lists.
    InDish { dish: Words, what: Option<Words> },
    /// "which dishes have milk", "is there anything Ana can't eat": of all that stands here.
    InStock { by: Sought },
}

/// What is looked for in what stands here.
#[derive(Debug, Clone, PartialEq)]
pub enum Sought {
    What(Words),
    /// Whatever this person avoids.
    Person(Eats),
}

#[derive(Debug, Clone, PartialEq)]
pub enum Eats {
    Me,
    Named(Words),
}
