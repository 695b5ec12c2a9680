//! Commands as canonical text: what is printed parses back to the same command.

use std::fmt::{self, Display, Formatter};

use super::syntax::*;

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
            Self::Between { low, high } => write!(f, "{} to {} g", Plain(*low), Plain(*high)),
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

const WEEKDAYS: [&str; 7] = [
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
            Self::Tomorrow => f.write_str("tomorrow"),
            Self::Weekday(day) => f.write_str(WEEKDAYS[usize::from(*day) % 7]),
            Self::DaysAgo(days) => write!(f, "{days} days ago"),
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
        if let Some(weighing) = &self.weighing {
            write!(f, "\ncooked {weighing}")?;
        }
        self.poured
            .iter()
            .try_for_each(|poured| write!(f, "\n{poured}"))?;
        if let Some(place) = &self.place {
            write!(f, "\n{place}")?;
        }
        self.made
            .as_ref()
            .map_or(Ok(()), |day| write!(f, "\nmade {day}"))
    }
}

impl Display for Portion {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.with_last {
            f.write_str("plus ")?;
        }
        write!(f, "{}", Joined(&self.items, ", "))?;
        if let Some(share) = &self.share {
            write!(f, "{share}")?;
        }
        if let Some(meal) = &self.meal {
            write!(f, " for {meal}")?;
        }
        if let Some(day) = &self.day {
            write!(f, " {day}")?;
        }
        if let Some(who) = &self.who {
            write!(f, " for {who}")?;
        }
        anyway(f, self.anyway)
    }
}

/// "me", or the person by name.
struct Me<'a>(Option<&'a Words>);

impl Display for Me<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(who) => write!(f, "{who}"),
            None => f.write_str("me"),
        }
    }
}

impl Display for Share {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Equally { people, with } if with.is_empty() => write!(f, " split {people} ways"),
            Self::Equally { with, .. } => write!(f, " shared with {}", Joined(with, " and ")),
            Self::Each { people: None, .. } => f.write_str(" each"),
            Self::Each {
                people: Some(people),
                with,
            } if with.is_empty() => write!(f, " each for {people} people"),
            Self::Each { people, with } => {
                let sender = *people != Some(with.len() as u32);
                write!(f, " each for {}", Joined(with, " and "))?;
                if sender {
                    f.write_str(" and me")
                } else {
                    Ok(())
                }
            }
            Self::Parts(parts) => parts.iter().try_for_each(|part| match part.size {
                PartSize::Of(share) => write!(
                    f,
                    ", {}% for {}",
                    Plain(share * 100.0),
                    Me(part.who.as_ref())
                ),
                PartSize::Grams(grams) => {
                    write!(f, ", {} g for {}", Plain(grams), Me(part.who.as_ref()))
                }
            }),
        }
    }
}

impl Display for Fix {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Amount { new, old, name } => {
                f.write_str(if old.is_some() { "no, " } else { "make it " })?;
                write!(f, "{new}")?;
                if let Some(name) = name {
                    write!(f, " {name}")?;
                }
                match old {
                    Some(old) => write!(f, " not {old}"),
                    None => Ok(()),
                }
            }
            Self::Name {
                new,
                old: Some(old),
            } => write!(f, "it was {new} not {old}"),
            Self::Name { new, old: None } => write!(f, "I meant {new}"),
            Self::Whose(who) => match who.text.to_lowercase().as_str() {
                "hers" | "his" | "theirs" => write!(f, "that was {who}"),
                _ => write!(f, "that was for {who}"),
            },
            Self::When { day, meal } => {
                f.write_str("that was")?;
                if let Some(day) = day {
                    write!(f, " {day}")?;
                }
                meal.map_or(Ok(()), |meal| write!(f, " {meal}"))
            }
            Self::Remove(name) => write!(f, "take the {name} off"),
            Self::PutBack(items) => write!(f, "put back {}", Joined(items, ", ")),
        }
    }
}

impl Display for Again {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.of {
            AgainOf::Day(day) => write!(f, "same as {day}")?,
            AgainOf::Last => f.write_str("same again")?,
            AgainOf::Usual => f.write_str("my usual")?,
        }
        self.meal.map_or(Ok(()), |meal| write!(f, " for {meal}"))
    }
}

fn anyway(f: &mut Formatter<'_>, said: bool) -> fmt::Result {
    if said { f.write_str(" anyway") } else { Ok(()) }
}

fn field_words(field: LabelField) -> (&'static str, &'static str) {
    match field {
        LabelField::EnergyKcal => ("kcal", "kcal"),
        LabelField::EnergyKj => ("kJ", "kJ"),
        LabelField::Protein => ("g", "protein"),
        LabelField::Fat => ("g", "fat"),
        LabelField::SaturatedFat => ("g", "saturated fat"),
        LabelField::Carbohydrate => ("g", "carbohydrate"),
        LabelField::Sugars => ("g", "sugars"),
        LabelField::Fibre => ("g", "fibre"),
        LabelField::Sodium => ("mg", "sodium"),
        LabelField::Salt => ("g", "salt"),
    }
}

impl Display for Packet {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "packet {}", self.name)?;
        match &self.basis {
            LabelBasis::Per(amount) => write!(f, " per {amount}:")?,
            LabelBasis::ServingUnsized => f.write_str(" per serving:")?,
        }
        for (index, (field, value)) in self.values.iter().enumerate() {
            let separator = if index > 0 { "," } else { "" };
            let (unit, word) = match (*field, self.us_label) {
                (LabelField::Carbohydrate, Some(true)) => ("g", "total carbohydrate"),
                (LabelField::Fibre, Some(true)) => ("g", "dietary fiber"),
                (LabelField::EnergyKcal, Some(true)) => ("calories", ""),
                (field, _) => field_words(field),
            };
            if unit == word || word.is_empty() {
                write!(f, "{separator} {} {unit}", Plain(*value))?;
            } else {
                write!(f, "{separator} {} {unit} {word}", Plain(*value))?;
            }
        }
        Ok(())
    }
}

impl Display for Setting {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Answers(AnswerStyle::Full) => f.write_str("full answers"),
            Self::Answers(AnswerStyle::Brief) => f.write_str("brief"),
            Self::Answers(AnswerStyle::Reaction) => f.write_str("react only"),
            Self::Measures(MeasureSystem::UsCustomary) => f.write_str("us cups"),
            Self::Measures(MeasureSystem::Metric) => f.write_str("metric cups"),
            Self::Measures(MeasureSystem::Australian) => f.write_str("australian cups"),
            Self::Measures(MeasureSystem::British) => f.write_str("uk cups"),
            Self::Timezone(zone) => write!(f, "timezone {zone}"),
        }
    }
}

impl Display for Choice {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Yes => f.write_str("yes"),
            Self::No => f.write_str("no"),
            Self::Nth(n) => write!(f, "option {n}"),
        }
    }
}

impl Display for Command {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Batch(batch) => write!(f, "{batch}"),
            Self::Add { batch, lines } => write!(f, "{batch} +\n{}", Joined(lines, "\n")),
            Self::Amend {
                batch,
                number,
                line,
            } => match line {
                Some(line) => write!(f, "{batch} line {number}: {line}"),
                None => write!(f, "{batch} line {number} off"),
            },
            Self::Weigh {
                batch,
                weighing,
                of,
            } => write!(
                f,
                "{batch} weighed {weighing}{}",
                match of {
                    WeighedOf::Unsaid => "",
                    WeighedOf::Whole => " whole",
                    WeighedOf::Left => " left",
                }
            ),
            Self::PourOff {
                batch,
                poured,
                anyway: said,
            } => {
                if let Some(batch) = batch {
                    write!(f, "{batch} ")?;
                }
                write!(f, "{poured}")?;
                anyway(f, *said)
            }
            Self::Portion(portion) => write!(f, "{portion}"),
            Self::Count {
                items,
                anyway: said,
            } => {
                f.write_str("recount:")?;
                for (index, item) in items.iter().enumerate() {
                    let separator = if index > 0 { ";" } else { "" };
                    write!(f, "{separator} {} {}", item.name, item.weighing)?;
                }
                anyway(f, *said)
            }
            Self::Waste {
                items,
                reason,
                anyway: said,
            } => {
                write!(f, "binned {}", Joined(items, ", "))?;
                if let Some(reason) = reason {
                    write!(f, ", {reason}")?;
                }
                anyway(f, *said)
            }
            other => asked_or_set(other, f),
        }
    }
}

/// The commands that book nothing.
fn asked_or_set(command: &Command, f: &mut Formatter<'_>) -> fmt::Result {
    match command {
        Command::Stock { place: Some(place) } => write!(f, "what's in the {place}"),
        Command::HowMuch { name } => write!(f, "how much {name}"),
        Command::Fact {
            field,
            amount,
            name,
            weight_only,
        } => {
            let asked = match field {
                _ if *weight_only => "how many grams is",
                Some(field) if matches!(field, LabelField::EnergyKcal | LabelField::EnergyKj) => {
                    field_words(*field).0
                }
                Some(field) => field_words(*field).1,
                None => "macros",
            };
            write!(f, "{asked}{} ", if *weight_only { "" } else { " in" })?;
            named(f, amount.as_ref(), name)
        }
        Command::Show { name } => write!(f, "show {name}"),
        Command::Portions { name } => write!(f, "how many portions of {name}"),
        Command::Due => f.write_str("what is due"),
        Command::Done => f.write_str("done"),
        Command::Eaten { day, who } => {
            f.write_str("what did ")?;
            match who {
                Some(who) => write!(f, "{who}")?,
                None => f.write_str("I")?,
            }
            write!(f, " have {day}")
        }
        Command::Fix(fix) => write!(f, "{fix}"),
        Command::Again(again) => write!(f, "{again}"),
        Command::Help { topic: Some(topic) } => write!(f, "help {topic}"),
        Command::Packet(packet) => write!(f, "{packet}"),
        Command::TeachMeasure {
            count,
            measure,
            name,
            grams,
        } => {
            write!(f, "{} {measure}", Plain(*count))?;
            if let Some(name) = name {
                write!(f, " of {name}")?;
            }
            write!(f, " = {} g", Plain(*grams))
        }
        Command::TeachContainer { name, tare_grams } => {
            write!(f, "{name} is {} g empty", Plain(*tare_grams))
        }
        Command::ContainerHolds { container, batch } => write!(f, "{container} holds {batch}"),
        Command::Setting(setting) => write!(f, "{setting}"),
        Command::Choose(choice) => write!(f, "{choice}"),
        Command::Start { code: Some(code) } => write!(f, "/start {code}"),
        Command::Start { code: None } => f.write_str("/start"),
        Command::NotYet { capability } => f.write_str(capability),
        Command::Help { topic: None } => f.write_str("help"),
        Command::Undo => f.write_str("undo"),
        Command::Redo => f.write_str("redo"),
        Command::Drop => f.write_str("cancel"),
        _ => f.write_str("what's left"),
    }
}
