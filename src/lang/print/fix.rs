//! What is put right, and what is eaten again, as text.

use std::fmt::{self, Display, Formatter};

use super::{Joined, Plain};
use crate::lang::syntax::*;

impl Display for Fix {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Amount { new, line } => corrected(f, new, line),
            Self::Name { new, old, amount } => {
                f.write_str(if old.is_some() { "it was" } else { "I meant" })?;
                if let Some(amount) = amount {
                    write!(f, " {amount}")?;
                }
                write!(f, " {new}")?;
                old.as_ref().map_or(Ok(()), |old| write!(f, " not {old}"))
            }
            Self::Whose { who, of } => {
                write!(f, "{of} was")?;
                match who.text.to_lowercase().as_str() {
                    "hers" | "his" | "theirs" | "mine" => write!(f, " {who}"),
                    _ => write!(f, " for {who}"),
                }
            }
            Self::Shared { share, of } => write!(f, "{of} was{share}"),
            Self::When { day, meal, of } => {
                write!(f, "{of} was")?;
                if let Some(day) = day {
                    write!(f, " {day}")?;
                }
                meal.map_or(Ok(()), |meal| write!(f, " {meal}"))
            }
            Self::Remove(line) => match (&line.owner, &line.name) {
                (None, Some(name)) => write!(f, "take the {name} off"),
                (Some(owner), name) => {
                    write!(f, "take {}'s", owner)?;
                    name.as_ref().map_or(Ok(()), |name| write!(f, " {name}"))?;
                    f.write_str(" off")
                }
                (None, None) => f.write_str("take that off"),
            },
            Self::PutBack(items) => {
                f.write_str("put back")?;
                items.iter().enumerate().try_for_each(|(at, item)| {
                    f.write_str(if at > 0 { ", " } else { " " })?;
                    match item.name.text.is_empty() {
                        true => write!(f, "{}", item.amount),
                        false => write!(f, "{item}"),
                    }
                })
            }
            Self::Left(item) => match item.name.text.is_empty() {
                true => write!(f, "{} left", item.amount),
                false => write!(f, "{item} left"),
            },
            Self::Each { by, more } => {
                let way = if *more { "too little" } else { "too much" };
                write!(f, "both are {by} {way}")
            }
            Self::More(amount) => write!(f, "{amount} more"),
            Self::Swapped => f.write_str("other way round"),
        }
    }
}

/// "make it 160 dal for Ana", "no, 160 dal not 140"
fn corrected(f: &mut Formatter<'_>, new: &Figure, line: &Line) -> fmt::Result {
    if let Figure::Retyped(grams) = new {
        return write!(f, "{}!!", Plain(*grams));
    }
    match (line.meal, &line.old) {
        (Some(meal), _) => write!(f, "{meal} was ")?,
        (None, Some(_)) => f.write_str("no, ")?,
        (None, None) => f.write_str("make it ")?,
    }
    match new {
        Figure::Is(amount) => write!(f, "{amount}")?,
        Figure::Times(times) | Figure::Retyped(times) => write!(f, "times {}", Plain(*times))?,
    }
    if let Some(name) = &line.name {
        write!(f, " {name}")?;
    }
    if let Some(old) = &line.old {
        write!(f, " not {old}")?;
    }
    match &line.owner {
        Some(owner) => write!(f, " for {owner}"),
        None => Ok(()),
    }
}

impl Display for Of {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Last => f.write_str("that"),
            Self::Plate => f.write_str("all of that"),
            Self::AllBut(name) => write!(f, "all but the {name}"),
            Self::Named(name) => write!(f, "the {name}"),
            Self::Part(amount, name) => {
                match amount {
                    Amount::Share(share) => write!(f, "{}%", Plain(share * 100.0))?,
                    amount => write!(f, "{amount}")?,
                }
                match name {
                    Some(name) => write!(f, " of the {name}"),
                    None => f.write_str(" of it"),
                }
            }
        }
    }
}

impl Display for Again {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.times != 1.0 {
            write!(f, "times {} ", Plain(self.times))?;
        }
        match &self.of {
            AgainOf::Day(day) => write!(f, "same as {day}")?,
            AgainOf::Last => f.write_str("same again")?,
            AgainOf::Theirs => f.write_str("same for me")?,
            AgainOf::JustNow => f.write_str("me too")?,
            AgainOf::Person(who) => write!(f, "same as {who}")?,
            AgainOf::Usual => f.write_str("my usual")?,
        }
        if !self.who.is_empty() {
            write!(f, " for {}", Joined(&self.who, " and "))?;
        }
        if let Some(meal) = &self.meal {
            write!(f, " for {meal}")?;
        }
        self.but.iter().try_for_each(|but| write!(f, ", {but}"))
    }
}

impl Display for But {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Only(name) => write!(f, "but only the {name}"),
            Self::Without(name) => write!(f, "no {name}"),
            Self::Instead(item) => write!(f, "but {item}"),
            Self::Plus(item) => write!(f, "plus {item}"),
            Self::Times(times, name) => write!(f, "times {} {name}", Plain(*times)),
            Self::Amount(amount) => write!(f, "but {amount}"),
            Self::Less(amount) => write!(f, "but {amount} less"),
            Self::More(amount) => write!(f, "but {amount} more"),
        }
    }
}
