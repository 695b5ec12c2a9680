//! What is said of where food stands, as canonical text.

use std::fmt::{self, Display, Formatter};

use super::{Joined, MONTHS, Plain};
use crate::lang::syntax::{
    Amount, Claim, Command, Destination, Keeping, KeepsFor, Label, LabelSize, Move, Page, Period,
    Pieces, PiecesOf, PlaceKind, Price, Receive, Received, Reopen, Rest, ScaleReading, Spread,
    SpreadPart, Storage, Taking, Weighed, Words,
};

impl Display for Move {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let packed_here = self.packed && self.to == Destination::Here && self.vessel.is_none();
        let verb = match self.to {
            _ if packed_here => "vacuum packed",
            Destination::Place(_) | Destination::Here => "move",
            Destination::Thawed => "thaw",
        };
        write!(f, "{verb} {}", Joined(&self.items, ", "))?;
        if let Some(kept) = &self.kept {
            write!(f, " but {kept}")?;
        }
        if let Some(from) = &self.from {
            write!(f, " from the {from}")?;
        }
        if let Destination::Place(place) = &self.to {
            write!(f, " to the {place}")?;
        }
        if let Some(vessel) = &self.vessel {
            write!(f, " into the {vessel}")?;
        }
        if let Some(kind) = self.kind {
            write!(f, ", {kind}")?;
        }
        for (at, grams) in self.parts_grams.iter().enumerate() {
            let before = if at == 0 { " in bags" } else { "," };
            write!(f, "{before} {} g", Plain(*grams))?;
        }
        if let Some(grams) = self.bag_grams {
            write!(f, " (bags {} g each)", Plain(grams))?;
        }
        if self.packed && !packed_here {
            f.write_str(", vacuum packed")?;
        }
        if let Some(day) = &self.day {
            write!(f, ", {day}")?;
        }
        Ok(())
    }
}

impl Display for Spread {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "spread {}: {}", self.dish, Joined(&self.parts, ", "))
    }
}

impl Display for SpreadPart {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.amount {
            Some(Amount::Share(share)) => write!(f, "{}%", Plain(share * 100.0))?,
            Some(amount) => write!(f, "{amount}")?,
            None => f.write_str("the rest")?,
        }
        write!(f, " in the {}", self.place)
    }
}

/// "recount: dal 1480 g; chilli same; rest gone"
pub fn counted(f: &mut Formatter<'_>, items: &[Weighed], rest: Option<Rest>) -> fmt::Result {
    write!(f, "recount: {}", Joined(items, "; "))?;
    let separator = if items.is_empty() { "" } else { "; " };
    rest.map_or(Ok(()), |rest| write!(f, "{separator}{rest}"))
}

impl Display for Weighed {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.name)?;
        if let Some(place) = &self.place {
            write!(f, " in the {place}")?;
        }
        match self.weighing.is_as_booked() {
            true => f.write_str(" same"),
            false => write!(f, " {}", self.weighing),
        }
    }
}

impl Display for Rest {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Same => "rest same",
            Self::Gone => "rest gone",
        })
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

impl Display for Label {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.copies {
            1 => f.write_str("label")?,
            copies => write!(f, "{copies} labels for")?,
        }
        if self.bags && !self.names.is_empty() {
            f.write_str(" the")?;
        }
        if let Some(grams) = self.grams {
            write!(f, " {} g", Plain(grams))?;
        }
        match self.names.as_slice() {
            [] => f.write_str(" all")?,
            names => {
                let names: Vec<String> = names.iter().map(ToString::to_string).collect();
                write!(f, " {}", names.join(", "))?;
            }
        }
        if self.bags {
            f.write_str(" bags")?;
        }
        if let Some(place) = &self.place {
            write!(f, " in the {place}")?;
        }
        match self.size {
            Some(LabelSize::Millimetres { width, height }) => {
                write!(f, " {} x {} mm", Plain(width), Plain(height))?;
            }
            Some(LabelSize::Dots { width, height }) => write!(f, " {width} x {height} px")?,
            None => {}
        }
        match self.page {
            Some(Page::A4) => f.write_str(" on A4"),
            Some(Page::Letter) => f.write_str(" on letter"),
            None => Ok(()),
        }
    }
}

impl Display for Taking {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if let Some(who) = &self.who {
            write!(f, "{who} ")?;
        }
        write!(f, "took {} {}", self.amount, Joined(&self.dishes, " and "))?;
        if let Some(place) = &self.place {
            write!(f, " from the {place}")?;
        }
        self.day.as_ref().map_or(Ok(()), |day| write!(f, " {day}"))
    }
}

impl Display for Claim {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if let Some(grams) = self.grams {
            write!(f, "{} g of ", Plain(grams))?;
        }
        f.write_str("the missing ")?;
        match &self.dish {
            Some(dish) => write!(f, "{dish} was ")?,
            None => f.write_str("food was ")?,
        }
        match &self.who {
            Some(who) => write!(f, "{who}'s"),
            None => f.write_str("mine"),
        }
    }
}

impl Display for PlaceKind {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Fridge => "like a fridge",
            Self::Freezer => "like a freezer",
            Self::Counter => "like a counter",
        })
    }
}

impl Display for Receive {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let lead = match self.from {
            Received::Bought => "bought",
            Received::Before => "already there:",
        };
        write!(f, "{lead} {}", Joined(&self.items, ", "))?;
        if let Some(place) = &self.place {
            write!(f, ", {place}")?;
        }
        if let Some(kind) = self.kind {
            write!(f, ", {kind}")?;
        }
        if let Some(day) = &self.made {
            write!(f, ", made {day}")?;
        }
        if let Some(day) = &self.use_by {
            write!(f, ", use by {day}")?;
        }
        f.write_str(if self.anyway { " anyway" } else { "" })
    }
}

impl Display for PiecesOf {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.told && !self.left {
            true => write!(f, "{} is {}", self.batch, self.pieces)?,
            false => write!(f, "{} {}", self.pieces.count, self.batch)?,
        }
        if self.left {
            f.write_str(" left")?;
        }
        match &self.weighing {
            Some(weighing) => write!(f, ", {weighing}"),
            None => Ok(()),
        }
    }
}

impl Display for Keeping {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let (count, unit) = match self {
            Self::Days(count) => (count, "day"),
            Self::Months(count) => (count, "month"),
        };
        let ending = if *count == 1 { "" } else { "s" };
        write!(f, "{count} {unit}{ending}")
    }
}

impl Display for KeepsFor {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let place = self.storage.map(|storage| match storage {
            Storage::Fridge => "in the fridge",
            Storage::Thawed => "thawed",
            Storage::Freezer => "in the freezer",
        });
        match (&self.time, place) {
            (Some(time), Some(place)) => write!(f, "{} keeps {time} {place}", self.name),
            (Some(time), None) => write!(f, "{} keeps {time}", self.name),
            (None, Some(place)) => write!(f, "{} keeps as the chart says {place}", self.name),
            (None, None) => write!(f, "{} keeps as the chart says", self.name),
        }
    }
}

/// Where food stands, how long it keeps there, and how cold it is.
pub(super) fn stands(command: &Command, f: &mut Formatter<'_>) -> fmt::Result {
    match command {
        Command::UseBy { name, place, on } => {
            write!(f, "{name}")?;
            if let Some(place) = place {
                write!(f, " in the {place}")?;
            }
            write!(f, " use by {on}")
        }
        Command::PlaceIs { name, kind } => write!(f, "the {name} is {kind}"),
        Command::Keeps(keeps) => write!(f, "{keeps}"),
        Command::Move(moved) => write!(f, "{moved}"),
        Command::Spread(said) => write!(f, "{said}"),
        Command::Label(label) => write!(f, "{label}"),
        Command::Receive(receive) => write!(f, "{receive}"),
        Command::Pieces(of) => write!(f, "{of}"),
        Command::Take(taking) => write!(f, "{taking}"),
        Command::Claim(claim) => write!(f, "{claim}"),
        _ => Ok(()),
    }
}

/// "drift of dal"
impl Display for Reopen {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "reopen {}", self.dish)?;
        if let Some(grams) = self.grams {
            write!(f, " {grams} g")?;
        }
        match &self.place {
            Some(place) => write!(f, " in the {place}"),
            None => Ok(()),
        }
    }
}

pub fn drift(f: &mut Formatter<'_>, dish: Option<&Words>) -> fmt::Result {
    f.write_str("drift")?;
    dish.map_or(Ok(()), |dish| write!(f, " of {dish}"))
}

impl Display for Period {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::ThisWeek => f.write_str("this week"),
            Self::LastWeek => f.write_str("last week"),
            Self::ThisMonth => f.write_str("this month"),
            Self::LastMonth => f.write_str("last month"),
            Self::Month { month, year } => {
                write!(f, "in {}", MONTHS[(*month as usize + 11) % 12])?;
                year.map_or(Ok(()), |year| write!(f, " {year}"))
            }
        }
    }
}

impl Display for Price {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let money = money(self.hundredths, &self.currency);
        write!(f, "{} cost {money}", self.dish)?;
        f.write_str(if self.a_kilo { " a kilo" } else { "" })
    }
}

/// "€6.40", "6.40 euro"
pub fn money(hundredths: i64, currency: &str) -> String {
    let figure = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    match currency.chars().any(char::is_alphabetic) {
        true => format!("{figure} {currency}"),
        false => format!("{currency}{figure}"),
    }
}

impl Display for ScaleReading {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for words in [&self.food, &self.vessel].into_iter().flatten() {
            write!(f, "{words} ")?;
        }
        write!(f, "{} g", Plain(self.grams))?;
        match (&self.food, &self.vessel) {
            (Some(_), _) if self.told => f.write_str(" before"),
            (_, Some(_)) => Ok(()),
            _ => f.write_str(" now"),
        }
    }
}
