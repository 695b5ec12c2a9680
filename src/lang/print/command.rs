//! Portions, settings and every command as text.

use std::fmt::{self, Display, Formatter};

use super::{Joined, Plain, anyway, lots, named};
use crate::foods::Nutrient;
use crate::lang::syntax::*;

impl Display for Portion {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.with_last {
            f.write_str("plus ")?;
        }
        if let Some(Share::Unclear(party)) = &self.share {
            write!(f, "{party} had ")?;
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
        if let Some(hour) = &self.hour {
            write!(f, " {hour}")?;
        }
        if let Some(earlier) = &self.earlier {
            write!(f, " {earlier}")?;
        }
        if let Some(who) = &self.who {
            write!(f, " for {who}")?;
        }
        if self.with_that {
            f.write_str(" with that")?;
        }
        anyway(f, self.anyway)
    }
}

/// "me", or the person by name.
struct Me<'a>(&'a Eater);

impl Display for Me<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(who) => write!(f, "{who}"),
            None => f.write_str("me"),
        }
    }
}

impl Display for Party {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let named: Vec<Me<'_>> = self.named.iter().map(Me).collect();
        match self.people {
            None if named.is_empty() => f.write_str("all of us"),
            None => write!(f, "{}", Joined(&named, " and ")),
            Some(people) if named.is_empty() => write!(f, "{people} of us"),
            Some(people) => write!(f, "{people} of us: {}", Joined(&named, " and ")),
        }
    }
}

/// "60%"; a third is no decimal.
struct Part(f64);

impl Display for Part {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let exact = |below: &f64| (self.0 * below).round() / below == self.0;
        match [3.0, 6.0]
            .iter()
            .find(|below| exact(below) && self.0 != 0.5)
        {
            Some(below) => write!(f, "{}/{below}", (self.0 * below).round()),
            None => write!(f, "{}%", Plain(self.0 * 100.0)),
        }
    }
}

impl Display for Share {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Equally(party) => write!(f, " split between {party}"),
            Self::Each(party) if party.people == Some(THOSE_EATING) => f.write_str(" each"),
            Self::Each(party) => write!(f, " each for {party}"),
            Self::Unclear(_) => Ok(()),
            Self::Whose(who) => write!(f, " for {who} or me"),
            Self::Parts(parts) => parts.iter().try_for_each(|part| {
                let who = Me(&part.who);
                match part.size {
                    PartSize::Of(share) => write!(f, ", {} for {who}", Part(share)),
                    // Alone it would be a plate of its own.
                    PartSize::Grams(grams) if parts.len() == 1 && part.who.is_some() => {
                        write!(f, ", {} g of it for {who}", Plain(grams))
                    }
                    PartSize::Grams(grams) => write!(f, ", {} g for {who}", Plain(grams)),
                    PartSize::Rest => write!(f, ", the rest for {who}"),
                }
            }),
        }
    }
}

impl Display for SetUp {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Begin => f.write_str("set up"),
            Self::Done => f.write_str("set up done"),
            Self::Step { part, chosen } => {
                let named = SET_UP_PARTS.iter().find(|(_, known)| known == part);
                let word = named.map_or("", |(word, _)| *word);
                match chosen {
                    Some(setting) => write!(f, "set up {word}: {setting}"),
                    None => write!(f, "set up {word}: skip"),
                }
            }
        }
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
            Self::Board(true) => f.write_str("board"),
            Self::Board(false) => f.write_str("no board"),
            Self::Energy(EnergyUnit::Kcal) => f.write_str("energy in kcal"),
            Self::Energy(EnergyUnit::Kilojoule) => f.write_str("energy in kJ"),
            Self::Decimals(DecimalMark::Point) => f.write_str("decimal point"),
            Self::Decimals(DecimalMark::Comma) => f.write_str("decimal comma"),
            Self::DayTurns(hour) => write!(f, "the day turns {hour}"),
            Self::Guidance(Region::UnitedStates) => f.write_str("us guidance"),
            Self::Guidance(Region::UnitedKingdom) => f.write_str("uk guidance"),
            Self::Guidance(Region::AustraliaNewZealand) => f.write_str("au guidance"),
            Self::Timezone(zone) => write!(f, "timezone {zone}"),
            Self::Clock(told) => write!(f, "{told}"),
        }
    }
}

impl Display for Choice {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Yes => f.write_str("yes"),
            Self::No => f.write_str("no"),
            Self::Nth(n) => write!(f, "option {n}"),
            Self::Plates(1) => f.write_str("just the one"),
            Self::Plates(_) => f.write_str("both"),
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
                    WeighedOf::LeftOrEaten => " left or eaten",
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
            Self::OnScale(reading) => write!(f, "{reading}"),
            Self::Count {
                items,
                rest,
                anyway: said,
            } => {
                lots::counted(f, items, *rest)?;
                anyway(f, *said)
            }
            Self::Move(_)
            | Self::Spread(_)
            | Self::Label(_)
            | Self::Receive(_)
            | Self::Pieces(_)
            | Self::Take(_)
            | Self::Claim(_) => lots::stands(self, f),
            Self::Price(price) => write!(f, "{price}"),
            Self::TopUp(top_up) => write!(f, "{top_up}"),
            Self::LeftOver(said) => write!(f, "{said}"),
            Self::Boxes(boxes) => write!(f, "{boxes}"),
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
        Command::History { name } => write!(f, "history of {name}"),
        Command::Stock { place: Some(place) } => write!(f, "what's in the {place}"),
        Command::Dates { name } => write!(f, "date on {name}"),
        Command::HowMuch { name } => write!(f, "how much {name}"),
        Command::Whereabouts { name } => write!(f, "where is the {name}"),
        Command::Fact {
            nutrient,
            amount,
            name,
            weight_only,
        } => {
            let asked = match nutrient {
                _ if *weight_only => "how many grams is",
                Some(Nutrient::EnergyKcal) => "kcal",
                Some(nutrient) => nutrient.name(),
                None => "macros",
            };
            write!(f, "{asked}{} ", if *weight_only { "" } else { " in" })?;
            named(f, amount.as_ref(), name)
        }
        Command::Show { name } => write!(f, "show {name}"),
        Command::Portions { name } => write!(f, "how many portions of {name}"),
        Command::Sheet => f.write_str("recount"),
        Command::Course { dish: None } => f.write_str("stock chart"),
        Command::Course { dish: Some(dish) } => write!(f, "chart of {dish}"),
        Command::Drift { dish } => lots::drift(f, dish.as_ref()),
        Command::Reopen(said) => write!(f, "{said}"),
        Command::Wasted { period } => write!(f, "what did we throw away {period}"),
        Command::Due => f.write_str("what is due"),
        Command::PastDate => f.write_str("what is past its date"),
        Command::Thawing => f.write_str("what is thawing"),
        Command::Why => f.write_str("why"),
        Command::Done => f.write_str("done"),
        Command::LastPlate => f.write_str("how many calories was that"),
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
        Command::TeachContainer {
            name,
            tare_grams,
            empty,
        } => {
            let empty = if *empty { " empty" } else { "" };
            write!(f, "{name} is {} g{empty}", Plain(*tare_grams))
        }
        Command::ContainerHolds { container, batch } => write!(f, "{container} holds {batch}"),
        Command::Tares { name: Some(name) } => write!(f, "tare of {name}"),
        Command::Tares { name: None } => f.write_str("tares"),
        Command::Setting(setting) => write!(f, "{setting}"),
        Command::SetUp(said) => write!(f, "{said}"),
        Command::Settings(part) => f.write_str(match part {
            None => "show the settings",
            Some(SettingPart::Zone) => "which time zone",
            Some(SettingPart::Measures) => "which measures",
            Some(SettingPart::Answers) => "which answers",
            Some(SettingPart::Guidance) => "which guidance",
            Some(SettingPart::Board) => "which board",
            Some(SettingPart::Energy) => "which energy unit",
            Some(SettingPart::Decimals) => "which decimal mark",
            Some(SettingPart::DayTurns) => "when does the day turn",
            Some(SettingPart::PrepDay) => "when is prep day",
            Some(SettingPart::MorningNote) => "when is the morning note",
            Some(SettingPart::EveningNote) => "when is the evening note",
            Some(SettingPart::PutAway) => "which put-away notes",
            Some(SettingPart::Notes) => "reminders",
            Some(SettingPart::QuietHours) => "when are the quiet hours",
        }),
        Command::Prep(said) => write!(f, "{said}"),
        Command::Cookbook(said) => write!(f, "{said}"),
        Command::Clock(told) => write!(f, "{told}"),
        Command::Avoid(said) => write!(f, "{said}"),
        Command::People(said) => write!(f, "{said}"),
        Command::Personal(said) => write!(f, "{said}"),
        Command::Finder(said) => write!(f, "{said}"),
        Command::Keeps(_) | Command::UseBy { .. } | Command::PlaceIs { .. } => {
            lots::stands(command, f)
        }
        Command::Choose(choice) => write!(f, "{choice}"),
        Command::Start { code: Some(code) } => write!(f, "/start {code}"),
        Command::Start { code: None } => f.write_str("/start"),
        Command::NotYet { capability } => f.write_str(capability),
        Command::Help { topic: None } => f.write_str("help"),
        Command::Undo => f.write_str("undo"),
        Command::UndoWaste { name: None } => f.write_str("undo the bin"),
        Command::UndoWaste { name: Some(name) } => write!(f, "the {name} was not binned"),
        Command::UndoCount { name: None } => f.write_str("undo the recount"),
        Command::UndoCount { name: Some(name) } => write!(f, "undo the {name} recount"),
        Command::UndoMove { name: None } => f.write_str("undo the move"),
        Command::UndoMove { name: Some(name) } => write!(f, "undo the {name} move"),
        Command::Redo => f.write_str("redo"),
        Command::Drop => f.write_str("cancel"),
        _ => f.write_str("what's left"),
    }
}
