//! What the household has taught: measures, containers, words, settings. And what was taken back.

use crate::domain::answer::{Press, UndoneAnswer, VesselView};
use crate::domain::kitchen::Settings;
use crate::domain::mass::Mass;
use crate::domain::personal::answer::OwnSettings;
use crate::lang::syntax::{AnswerStyle, DecimalMark, MeasureSystem, Region, SettingPart};

use super::clean::{capital, name, quote};
use super::clock;
use super::note::say_notes;
use super::number::{grams, left};
use super::page::{Line, Page};
use super::personal;
use super::told_in::unit_name;

pub fn measure(measure: &str, of: Option<&str>, each: Mass) -> Page {
    let of = of.map_or(" of anything".to_string(), |of| format!(" {}", name(of)));
    one_line(Line::new().plain(format!(
        "1 {}{of} is {} from now on.",
        name(measure),
        grams(each)
    )))
}

pub fn container(container: &str, tare: Mass) -> Page {
    one_line(
        Line::new()
            .bold(name(container))
            .plain(format!(": {} empty.", grams(tare))),
    )
}

pub fn container_holds(container: &str, batch: &str) -> Page {
    one_line(
        Line::new()
            .bold(name(container))
            .plain(format!(" holds {}.", name(batch))),
    )
}

/// What vessels weigh empty, with what stands in them.
pub fn tares(vessels: &[VesselView]) -> Page {
    let mut page = Page::new();
    for vessel in vessels {
        let weighs = match vessel.tare {
            Some(tare) => format!(": {} empty", grams(tare)),
            None => ": nobody has said what it weighs empty".to_owned(),
        };
        let held = vessel.holds.iter().map(|(dish, held)| match held {
            Some(held) => format!("{} of {}", grams(*held), name(dish)),
            None => name(dish),
        });
        let held: Vec<String> = held.collect();
        let holds = match held.is_empty() {
            true => String::new(),
            false => format!(", with {} in it by the books", held.join(" and ")),
        };
        page.say(
            Line::new()
                .bold(name(&vessel.name))
                .plain(weighs + &holds + "."),
        );
    }
    if vessels.is_empty() {
        page.say("No vessel is known here yet. Teach one:");
        page.example("blue pot is 812 g empty");
    }
    page
}

pub fn dropped(about: &str) -> Page {
    one_line(Line::new().plain(format!("Dropped, not booked: {}", quote(about))))
}

pub fn unchanged() -> Page {
    one_line(Line::new().plain("Nothing changed."))
}

pub fn undone(answer: &UndoneAnswer) -> Page {
    let mut page = Page::new();
    let verb = if answer.put_back {
        "Put back"
    } else {
        "Taken back"
    };
    page.say(format!(
        "{verb}: {} ({})",
        said(&answer.text),
        name(&answer.member)
    ));
    if !answer.left.is_empty() {
        let left: Vec<String> = answer
            .left
            .iter()
            .map(|held| format!("{} {}", name(&held.name), left(held.mass, held.estimated)))
            .collect();
        page.say(format!("Left: {}", left.join(", ")));
    }
    if let Some((settings, parts)) = &answer.chosen {
        for part in parts {
            page.say(format!("{}.", capital(&setting(settings, *part))));
        }
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

/// A message by its words, a button by what it did.
fn said(text: &str) -> String {
    let pressed = match Press::decode(text) {
        Some(Press::Tick { bought: true, .. }) => "a tick on the shopping list",
        Some(Press::Tick { bought: false, .. }) => "a tick taken off",
        Some(Press::ListPlan) => "the plan put on the shopping list",
        Some(Press::Clock(_)) => "a timer put off",
        Some(Press::Choose { .. }) => "an answer to a question",
        Some(Press::SetUp) => "set up",
        Some(Press::Undo { .. } | Press::Redo { .. }) | None => return quote(text),
    };
    pressed.to_string()
}

/// The settings of the household, or the one of them that was chosen or asked for.
pub fn settings(settings: &Settings, part: Option<SettingPart>, own: Option<&OwnSettings>) -> Page {
    let mut page = Page::new();
    if part == Some(SettingPart::Notes) {
        page.say("Notes:");
        let notes = clock::notes_of(&settings.clock).into_iter();
        notes.for_each(|note| page.item(note));
        return page;
    }
    if let Some(part) = part {
        page.say(format!("{}.", capital(&setting(settings, part))));
        return page;
    }
    page.say("Settings of this household:");
    let chooses = |part: &&SettingPart| **part != SettingPart::Board || settings.board.is_some();
    for part in PARTS.iter().filter(chooses) {
        page.item(setting(settings, *part));
    }
    if let Some(own) = own {
        personal::say_own(&mut page, own);
    }
    page
}

const PARTS: [SettingPart; 13] = [
    SettingPart::Zone,
    SettingPart::DayTurns,
    SettingPart::Measures,
    SettingPart::Energy,
    SettingPart::Decimals,
    SettingPart::Answers,
    SettingPart::Guidance,
    SettingPart::Board,
    SettingPart::PrepDay,
    SettingPart::MorningNote,
    SettingPart::EveningNote,
    SettingPart::PutAway,
    SettingPart::QuietHours,
];

fn setting(settings: &Settings, part: SettingPart) -> String {
    match part {
        SettingPart::Zone => format!("time zone: {}", settings.zone.name()),
        SettingPart::Measures => format!("cups and spoons: {}", measures_words(settings.measures)),
        SettingPart::Answers => format!("answers: {}", answers_words(settings.answers)),
        SettingPart::Guidance => format!("keeping times: {}", guidance_words(settings.guidance)),
        SettingPart::Energy => format!("energy: in {}", unit_name(settings.energy)),
        SettingPart::Decimals => format!("numbers: {}", decimals_words(settings.decimals)),
        SettingPart::DayTurns => {
            format!("a day ends at {}", settings.day_turns.format("%H:%M"))
        }
        SettingPart::Board if settings.board == Some(false) => {
            "board: none; what's left tells the same".to_owned()
        }
        SettingPart::Board => "board: pinned in the chat, where the chat can do so".to_owned(),
        SettingPart::PrepDay => clock::prep_day(&settings.clock),
        SettingPart::MorningNote => clock::morning_note(&settings.clock),
        SettingPart::EveningNote => clock::evening_note(&settings.clock),
        SettingPart::PutAway => clock::put_away(&settings.clock),
        SettingPart::Notes => clock::notes_of(&settings.clock).join("; "),
        SettingPart::QuietHours => clock::quiet_hours(&settings.clock),
    }
}

fn decimals_words(mark: DecimalMark) -> &'static str {
    match mark {
        DecimalMark::Point => "decimal point (1.5)",
        DecimalMark::Comma => "decimal comma (1,5)",
    }
}

fn measures_words(system: MeasureSystem) -> &'static str {
    match system {
        MeasureSystem::UsCustomary => "US customary",
        MeasureSystem::Metric => "metric (cup 250 ml)",
        MeasureSystem::Australian => "Australian (tbsp 20 ml)",
        MeasureSystem::British => "British (imperial pint)",
    }
}

fn guidance_words(region: Region) -> &'static str {
    match region {
        Region::UnitedStates => "United States",
        Region::UnitedKingdom => "United Kingdom",
        Region::AustraliaNewZealand => "Australia and New Zealand",
    }
}

fn answers_words(style: AnswerStyle) -> &'static str {
    match style {
        AnswerStyle::Full => "full",
        AnswerStyle::Brief => "brief, one line",
        AnswerStyle::Reaction => "a reaction where it is enough",
    }
}

fn one_line(line: Line) -> Page {
    let mut page = Page::new();
    page.say(line);
    page
}

/// "388 g stands on the scale. What you name next is added to it."
pub fn on_scale(mass: Mass, jar: Option<&str>) -> Page {
    let mut page = Page::new();
    if let Some(jar) = jar {
        page.say(format!("{}: {} with its jar.", name(jar), grams(mass)));
        page.say("Weigh it again when some is gone:");
        page.example(&format!("{:.0} now", (mass.grams() - 40.0).max(1.0)));
        return page;
    }
    page.say(format!("{} stands on the scale.", grams(mass)));
    page.say("Name what you add, each with the new reading.");
    page
}
