//! What is said of dishes that are made of others, as canonical text.

use std::fmt::{self, Display, Formatter};

use super::{Joined, Plain};
use crate::lang::MIX;
use crate::lang::syntax::{Boxes, LeftOf, LeftOver, TopUp};

impl Display for TopUp {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "top up {}", self.batch)?;
        if let Some(from) = &self.from {
            write!(f, " in the {from}")?;
        }
        let whole = self.weighing.as_ref();
        if let (Some(whole), true) = (whole, self.lines.is_empty() && self.by_grams.is_none()) {
            return write!(f, " to {whole}");
        }
        match self.by_grams {
            Some(grams) => write!(f, " by {} g", Plain(grams))?,
            None => f.write_str(" with")?,
        }
        self.lines
            .iter()
            .try_for_each(|line| write!(f, "\n{line}"))?;
        self.weighing
            .as_ref()
            .map_or(Ok(()), |weighing| write!(f, "\ntotal {weighing}"))
    }
}

impl Display for LeftOver {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str("leftovers")?;
        if let Some(dish) = &self.dish {
            write!(f, " of {dish}")?;
        }
        if self.day.is_some() || self.meal.is_some() {
            f.write_str(" from")?;
        }
        if let Some(day) = &self.day {
            write!(f, " {day}")?;
        }
        if let Some(meal) = &self.meal {
            write!(f, " {meal}")?;
        }
        match &self.who {
            Some(who) if who.text == "me" => f.write_str(" off my plate")?,
            Some(who) => write!(f, " off {who}'s plate")?,
            None => {}
        }
        if let Some(place) = &self.place {
            write!(f, " in the {place}")?;
        }
        f.write_str(match self.of {
            LeftOf::Unsaid => "",
            LeftOf::Plates => " off the plates",
            LeftOf::That => " from that",
            LeftOf::Elsewhere => " of something else",
        })?;
        if let Some(name) = &self.name {
            write!(f, " as {name}")?;
        }
        write!(f, ": {}", self.weighing)
    }
}

impl Display for Boxes {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.vessel == MIX {
            write!(f, "mixed {}", Joined(&self.items, " with "))?;
            match self.kept.first() {
                Some(kept) => write!(f, " in the {}", kept.place)?,
                None => f.write_str(" for tomorrow")?,
            }
            return super::anyway(f, self.anyway);
        }
        // One of them without a verb is eaten.
        if self.count == 1 {
            write!(f, "packed 1 {}", self.vessel)?;
        } else {
            write!(f, "{} {}", self.count, plural(&self.vessel))?;
        }
        f.write_str(if self.each { " of " } else { " from " })?;
        write!(f, "{}", Joined(&self.items, ", "))?;
        for kept in &self.kept {
            match kept.count {
                Some(count) => write!(f, ", {count} in the {}", kept.place)?,
                None => write!(f, " in the {}", kept.place)?,
            }
        }
        super::anyway(f, self.anyway)
    }
}

fn plural(vessel: &str) -> String {
    match vessel.ends_with('x') || vessel.ends_with("ch") {
        true => format!("{vessel}es"),
        false => format!("{vessel}s"),
    }
}
