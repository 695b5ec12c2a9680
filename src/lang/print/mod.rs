//! Commands as canonical text: what is printed parses back to the same command.

mod avoid;
mod clock;
mod command;
mod cookbook;
mod finder;
mod fix;
mod lots;
mod mixes;
mod packet;
mod people;
mod personal;
mod prep;

use std::fmt::{self, Display, Formatter};

use crate::lang::syntax::*;

impl Display for Words {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// A number without an exponent or needless digits.
struct Plain(f64);

impl Display for Plain {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        // Six decimals are finer than any scale; three of them alone could be taken for thousands.
        let mut text = format!("{:.6}", self.0);
        while text.ends_with('0') {
            text.pop();
        }
        if text.ends_with('.') {
            text.pop();
        }
        if text
            .split_once('.')
            .is_some_and(|(whole, part)| part.len() == 3 && whole != "0")
        {
            text.push('0');
        }
        f.write_str(&text)
    }
}

impl Display for VolumeUnit {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Millilitre => "ml",
            Self::Centilitre => "cl",
            Self::Decilitre => "dl",
            Self::Litre => "l",
            Self::Teaspoon => "tsp",
            Self::Tablespoon => "tbsp",
            Self::Cup => "cup",
            Self::FluidOunce => "fl oz",
            Self::Pint => "pint",
            Self::Quart => "quart",
            Self::Gallon => "gallon",
        })
    }
}

impl Display for Amount {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bare(value) => write!(f, "{}", Plain(*value)),
            Self::Mass(grams) => write!(f, "{} g", Plain(*grams)),
            Self::Volume {
                count,
                unit,
                qualifiers,
            } => {
                write!(f, "{} {unit}", Plain(*count))?;
                qualifiers
                    .iter()
                    .try_for_each(|qualifier| write!(f, " {qualifier}"))
            }
            Self::Pieces { count, measure } if measure.is_empty() => {
                write!(f, "{} x", Plain(*count))
            }
            Self::Pieces { count, measure } => write!(f, "{} {}", Plain(*count), measure.join(" ")),
            Self::Weighed { grams, said } => match said.as_ref() {
                Self::Volume { count, unit, .. } => {
                    write!(f, "{} {unit} ({} g)", Plain(*count), Plain(*grams))
                }
                Self::Pieces { count, measure }
                    if measure.last().is_some_and(|last| last == DRAINED) =>
                {
                    let pack = measure[..measure.len() - 1].join(" ");
                    write!(
                        f,
                        "{} {pack} ({} g {DRAINED})",
                        Plain(*count),
                        Plain(*grams)
                    )
                }
                said => write!(f, "{said} ({} g)", Plain(*grams)),
            },
            Self::Each {
                count,
                grams,
                measure,
            } if measure.is_empty() => {
                write!(f, "{} ({} g each)", Plain(*count), Plain(*grams))
            }
            Self::Each {
                count,
                grams,
                measure,
            } => {
                write!(
                    f,
                    "{} {} ({} g each)",
                    Plain(*count),
                    measure.join(" "),
                    Plain(*grams)
                )
            }
            Self::Share(1.0) => f.write_str("all the"),
            Self::Share(share) => write!(f, "{}% of the", Plain(share * 100.0)),
            Self::Uncounted(what) => match what.as_str() {
                "to taste" | "as needed" | "some" | "optional" => f.write_str(what),
                _ => write!(f, "a {what} of"),
            },
            Self::Between { low, high } => match (low.as_ref(), high.as_ref()) {
                (Self::Mass(low), Self::Mass(high)) => {
                    write!(f, "{} to {} g", Plain(*low), Plain(*high))
                }
                (low, high) => write!(f, "{low} to {high}"),
            },
            Self::Sum(parts) => write!(f, "{}", Joined(parts, " + ")),
        }
    }
}

/// The parts of a list with a separator between them.
struct Joined<'a, T>(&'a [T], &'static str);

impl<T: Display> Display for Joined<'_, T> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for (index, part) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str(self.1)?;
            }
            write!(f, "{part}")?;
        }
        Ok(())
    }
}

impl Display for Item {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        named(f, Some(&self.amount), &self.name)?;
        self.container
            .as_ref()
            .map_or(Ok(()), |container| write!(f, " in the {container}"))
    }
}

/// The word that confirms.
fn anyway(f: &mut Formatter<'_>, said: bool) -> fmt::Result {
    if said { f.write_str(" anyway") } else { Ok(()) }
}

/// An amount and what it is of; "salt to taste" has the amount last.
fn named(f: &mut Formatter<'_>, amount: Option<&Amount>, name: &Words) -> fmt::Result {
    match amount {
        None => write!(f, "{name}"),
        Some(Amount::Uncounted(what))
            if matches!(what.as_str(), "to taste" | "as needed" | "optional") =>
        {
            write!(f, "{name} {what}")
        }
        Some(amount) => write!(f, "{amount} {name}"),
    }
}

impl Display for IngredientLine {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.content {
            LineContent::Ingredient { amount, name } => named(f, amount.as_ref(), name),
            LineContent::Unclear(_) => f.write_str(&self.text),
        }
    }
}

impl Display for Tare {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match (&self.name, self.each_grams) {
            (Some(name), Some(grams)) if self.count != 1.0 => {
                write!(f, "{} {name} {} g each", Plain(self.count), Plain(grams))
            }
            (Some(name), Some(grams)) => write!(f, "{name} {} g", Plain(grams)),
            (Some(name), None) => write!(f, "less {name}"),
            (None, Some(grams)) if self.count != 1.0 => {
                write!(f, "tare {} x {} g", Plain(self.count), Plain(grams))
            }
            (None, Some(grams)) => write!(f, "tare {} g", Plain(grams)),
            (None, None) => Ok(()),
        }
    }
}

impl Display for Weighing {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for (index, grams) in self.readings_grams.iter().enumerate() {
            write!(
                f,
                "{}{} g",
                if index > 0 { " + " } else { "" },
                Plain(*grams)
            )?;
        }
        match &self.container {
            Some(container) => write!(f, " in the {container}")?,
            None if self.gross => f.write_str(" gross")?,
            None => {}
        }
        self.tares.iter().try_for_each(|tare| write!(f, ", {tare}"))
    }
}

impl Display for PourOff {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "poured off {} {}", self.amount, self.what)
    }
}

/// From Monday on.
pub const WEEKDAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

impl Display for Day {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Today => f.write_str("today"),
            Self::Yesterday => f.write_str("yesterday"),
            Self::Ahead => f.write_str("tomorrow"),
            Self::Weekday(day) => f.write_str(WEEKDAYS[usize::from(*day) % 7]),
            Self::InDays(days) => write!(f, "in {days} days"),
            Self::DaysAgo(days) => write!(f, "{days} days ago"),
            Self::LastWeek => f.write_str("last week"),
            Self::OfMonth(day) => {
                let ending = match (day % 10, day / 10) {
                    (1, 0 | 2 | 3) => "st",
                    (2, 0 | 2) => "nd",
                    (3, 0 | 2) => "rd",
                    _ => "th",
                };
                write!(f, "on the {day}{ending}")
            }
            Self::Date { day, month, year } => {
                write!(f, "{day} {}", MONTHS[(*month as usize + 11) % 12])?;
                year.map_or(Ok(()), |year| write!(f, " {year}"))
            }
        }
    }
}

impl Display for MealName {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Breakfast => "breakfast",
            Self::Lunch => "lunch",
            Self::Dinner => "dinner",
            Self::Snack => "snack",
        })
    }
}

impl Display for NewBatch {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} {}",
            if self.raw { "raw batch" } else { "batch" },
            self.name
        )?;
        let mut part: Option<&String> = None;
        for line in &self.lines {
            if line.part.as_ref() != part {
                part = line.part.as_ref();
                write!(f, "\n{}:", part.map_or("main", String::as_str))?;
            }
            write!(f, "\n{line}")?;
        }
        self.weighings
            .iter()
            .try_for_each(|weighing| write!(f, "\ncooked {weighing}"))?;
        if let Some(pieces) = &self.pieces {
            write!(f, "\nmakes {pieces}")?;
        }
        self.poured
            .iter()
            .try_for_each(|poured| write!(f, "\n{poured}"))?;
        self.places
            .iter()
            .try_for_each(|place| write!(f, "\n{place}"))?;
        self.steps
            .iter()
            .try_for_each(|step| write!(f, "\n{}", prep::step(step)))?;
        self.made
            .as_ref()
            .map_or(Ok(()), |day| write!(f, "\nmade {day}"))
    }
}
