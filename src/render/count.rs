//! What a count found, and what is unclear about one.

use crate::domain::answer::{CountAnswer, CountLine, LotView, SheetAnswer, TakenAnswer};
use crate::domain::mass::Mass;
use crate::domain::problem::{FarCount, ProblemKind, WeighedIn};

use super::clean::{clean, name, the};
use super::moving::elsewhere;
use super::note::say_notes;
use super::number::{grams, left};
use super::page::{Line, Page};
use super::problem::Wording;
use super::stock::alike;

pub fn page(answer: &CountAnswer) -> Page {
    let mut page = Page::new();
    for line in &answer.lines {
        page.item(counted(line));
    }
    if answer.walk && !answer.elsewhere.is_empty() {
        page.say("Not counted yet:");
    }
    let one = answer.lines.len() == 1 && !answer.walk;
    let others: Vec<&LotView> = answer.elsewhere.iter().collect();
    for bags in alike(&others) {
        let called = match one {
            true => String::new(),
            false => format!(" {}", name(&bags[0].name)),
        };
        page.say(elsewhere(bags, &called, answer.today));
    }
    let unweighed = answer.lines.iter().find(|line| !line.unweighed.is_zero());
    if let Some(line) = unweighed {
        page.say("On nobody's plate. If you had it:");
        page.example(&format!("I had the missing {}", name(&line.name)));
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

fn counted(line: &CountLine) -> Line {
    let place = place(line.place.as_deref());
    let (lead, counted) = match line.counted.is_zero() {
        true => ("Finished", String::new()),
        false => ("Counted", format!(" {},", grams(line.counted))),
    };
    Line::new()
        .plain(format!("{lead}{place}: "))
        .bold(name(&line.name))
        .plain(format!(
            " {},{counted} {}",
            name(&line.batch),
            difference(line)
        ))
}

/// What the books hold, in lines that can be sent back.
pub fn sheet(answer: &SheetAnswer) -> Page {
    let mut page = Page::new();
    if answer.lots.is_empty() {
        page.say("Nothing to count: the books hold no food.");
        return page;
    }
    page.say(
        "By the books. Send back what the scale says, \"same\" or \"gone\", in one message, as in:",
    );
    let first = name(&answer.lots[0].name);
    page.example(&format!("{first} 640, rest same"));
    page.gap();
    let mut place = None;
    for lot in &answer.lots {
        let here = lot.place.as_deref().unwrap_or("fridge");
        if place.replace(here) != Some(here) {
            page.say(Line::new().bold(format!("{}:", name(here))));
        }
        let twins = answer.lots.iter().filter(|other| other.name == lot.name);
        let several = twins.filter(|other| other.place == lot.place).count() > 1;
        let called = match &lot.batch {
            Some(code) if several => name(code),
            _ => name(&lot.name),
        };
        page.say(format!(
            "{called} {}",
            left(lot.balance, lot.mass.is_none())
        ));
    }
    page
}

/// "Noted: Robin took some dal, unweighed."
pub fn taken(answer: &TakenAnswer) -> Page {
    let mut page = Page::new();
    let who = answer.taker.as_deref().map_or("somebody".into(), name);
    let mut line = Line::new().plain(format!("Noted: {who} took {} ", clean(&answer.amount)));
    for (at, dish) in answer.dishes.iter().enumerate() {
        let joint = if at > 0 { " and " } else { "" };
        line = line.plain(joint).bold(name(dish));
    }
    page.say(line.plain(", unweighed. The next count says how much."));
    say_notes(&mut page, &answer.notes, None);
    page
}

/// " in the freezer"
fn place(place: Option<&str>) -> String {
    place.map_or(String::new(), |place| format!(" in {}", the(&name(place))))
}

fn difference(line: &CountLine) -> String {
    if line.difference.is_zero() {
        return "as the books said".to_string();
    }
    let than = if line.difference.is_negative() {
        "less"
    } else {
        "more"
    };
    let all = format!("{} {than} than the books", grams(line.difference.abs()));
    match line.unweighed {
        unweighed if unweighed.is_zero() => all,
        unweighed if unweighed == -line.difference => format!("{all}, eaten unweighed"),
        unweighed => format!("{all}, {} of it eaten unweighed", grams(unweighed)),
    }
}

fn far_from_books(dishes: &[FarCount]) -> Wording {
    let shown = |shown: &WeighedIn| {
        let vessel = shown.vessel.as_deref().unwrap_or("vessel");
        format!(" ({} with the {})", grams(shown.gross), name(vessel))
    };
    let said = dishes.iter().map(|dish| {
        format!(
            "{}{}: {} counted{}, {} by the books.",
            name(&dish.name),
            place(dish.place.as_deref()),
            grams(dish.counted),
            dish.weighed_in.as_ref().map_or(String::new(), shown),
            grams(dish.booked)
        )
    });
    let said: Vec<String> = said.collect();
    Wording::new(said.join("\n")).booking()
}

fn nothing_missing(dish: Option<&str>) -> Wording {
    Wording::new(match dish {
        Some(dish) => format!("The last count of {} missed nothing.", name(dish)),
        None => "The last counts missed nothing.".into(),
    })
}

/// A count that cannot be, or what does not stand where it should.
pub fn problem(kind: &ProblemKind) -> Wording {
    match kind {
        ProblemKind::FarFromBooks { dishes } => far_from_books(dishes),
        ProblemKind::NothingMissing { name } => nothing_missing(name.as_deref()),
        ProblemKind::NotThere { name, place } => not_there(name, place),
        ProblemKind::VesselHolds { vessel, name, held } => vessel_holds(vessel, name, *held),
        _ => Wording::new(""),
    }
}

fn vessel_holds(vessel: &str, dish: &str, held: Option<Mass>) -> Wording {
    let held = held.map_or(String::new(), |held| format!(" ({})", grams(held)));
    Wording::new(format!(
        "By the books the {} holds {}{held}.",
        name(vessel),
        name(dish)
    ))
    .booking()
}

fn not_there(dish: &str, at: &str) -> Wording {
    Wording::new(format!(
        "No {} stands{} by the books.",
        name(dish),
        place(Some(at))
    ))
    .booking()
}
