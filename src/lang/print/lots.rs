//! What is said of where food stands, as canonical text.

use std::fmt::{self, Display, Formatter};

use super::{Joined, Plain};
use crate::lang::syntax::{Destination, Move, Pieces, Weighed};

impl Display for Move {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let verb = match self.to {
            Destination::Place(_) => "move",
            Destination::Thawed => "thaw",
        };
        write!(f, "{verb} {}", Joined(&self.items, ", "))?;
        if let Some(from) = &self.from {
            write!(f, " from the {from}")?;
        }
        if let Destination::Place(place) = &self.to {
            write!(f, " to the {place}")?;
        }
        for (at, grams) in self.parts_grams.iter().enumerate() {
            let before = if at == 0 { " in bags" } else { "," };
            write!(f, "{before} {} g", Plain(*grams))?;
        }
        Ok(())
    }
}

impl Display for Weighed {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.name)?;
        if let Some(place) = &self.place {
            write!(f, " in the {place}")?;
        }
        write!(f, " {}", self.weighing)
    }
}

impl Display for Pieces {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} {}",
            self.count,
            self.word.as_deref().unwrap_or("piece")
        )
    }
}
