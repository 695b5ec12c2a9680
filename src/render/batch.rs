//! A batch: its weight and yield, what is in it, what each line was taken to be.

use crate::domain::answer::{
    BatchAnswer, BatchEvent, BatchView, LineView, LotView, Note, PouredView,
};
use crate::domain::batch::{LineState, PourKind};
use crate::domain::estimate::Spread;
use crate::domain::mass::Mass;
use crate::domain::origin::Origin;
use crate::domain::problem::ProblemKind;
use crate::foods::Nutrient;

use super::allergen;
use super::avoid;
use super::clean::{clean, cut, name, quote, short, the};
use super::date::{date, day};
use super::keeping::why;
use super::note;
use super::number::{self, about_grams, decimal, energy, figure, figures, grams, left};
use super::page::{Line, Page, UNCLEAR_CHARS_MAX};
use super::pending;
use super::stock::stands;

/// How many unread lines are asked about at once.
const PENDING_SHOWN_MAX: usize = 2;

/// For the words around a list of lines that had to be cut.
const ROOM_AROUND_LINES_CHARS: usize = 80;

/// A question with choices may follow: what it asks, `asked`, is not told here too.
pub fn page(answer: &BatchAnswer, asked: Option<&ProblemKind>) -> Page {
    let view = &answer.view;
    let mut page = Page::new();
    page.say(title(answer));
    say_weight(&mut page, answer);
    if view.numbers {
        page.say(figures("Per 100 g", &view.per_100g, view.estimated));
        page.say(figures("Whole", &view.totals, false));
    }
    let below = below_lines(answer, asked);
    let room = if !is_unclear(answer) {
        usize::MAX
    } else {
        UNCLEAR_CHARS_MAX.saturating_sub(page.chars() + below.chars() + ROOM_AROUND_LINES_CHARS)
    };
    say_lines(&mut page, answer, room);
    page.gap();
    page.append(below);
    page
}

/// What follows the lines: where it went, what is to be noted, what is asked.
fn below_lines(answer: &BatchAnswer, asked: Option<&ProblemKind>) -> Page {
    let view = &answer.view;
    let mut page = Page::new();
    for poured in &view.poured {
        say_poured(&mut page, poured);
    }
    say_places(&mut page, view);
    if answer.event == BatchEvent::Shown {
        page.gap();
        allergen::say(&mut page, &view.allergens);
    }
    avoid::say(&mut page, &view.avoided);
    note::say_of_books(&mut page, &answer.notes, Some(&name(&view.code)));
    say_pending(&mut page, answer, asked);
    if answer
        .notes
        .iter()
        .any(|note| matches!(note, Note::Caution(_)))
    {
        page.gap();
    }
    note::say_cautions(&mut page, &answer.notes);
    page
}

/// More of it is unclear than not: then the reply stays short. Of what was read, every line is shown, since a
/// misreading that nobody sees is a wrong number.
pub fn is_unclear(answer: &BatchAnswer) -> bool {
    answer.pending.len() * 2 > answer.view.lines.len().max(2)
}

/// The batch on one line, and what is asked below it.
pub fn brief(answer: &BatchAnswer, asked: Option<&ProblemKind>) -> Page {
    let view = &answer.view;
    let mut page = Page::unwrapped();
    let estimate = if view.estimated { " (estimate)" } else { "" };
    let energy_sum = view.per_100g.get(Nutrient::EnergyKcal);
    let line = Line::new().bold(name(&view.name)).plain(format!(
        " {}{}: {}{estimate}{}",
        name(&view.code),
        brief_event(answer),
        about_grams(view.net_mass, view.about),
        yield_words(view)
    ));
    page.say(match view.numbers {
        true => line
            .plain(", ")
            .bold(energy(energy_sum, view.estimated))
            .plain(" per 100 g"),
        false => line,
    });
    avoid::say(&mut page, &view.avoided);
    note::say_of_books(&mut page, &answer.notes, Some(&name(&view.code)));
    say_pending(&mut page, answer, asked);
    page
}

fn title(answer: &BatchAnswer) -> Line {
    let view = &answer.view;
    Line::new().bold(name(&view.name)).plain(format!(
        " {}{}",
        name(&view.code),
        event_words(answer)
    ))
}

fn event_words(answer: &BatchAnswer) -> String {
    let view = &answer.view;
    match &answer.event {
        BatchEvent::Opened | BatchEvent::Shown => since(view),
        BatchEvent::Counted => ", counted".to_string(),
        BatchEvent::LinesAdded(1) => ", 1 line added".to_string(),
        BatchEvent::LinesAdded(count) => format!(", {count} lines added"),
        BatchEvent::LineChanged(number) if view.lines.iter().all(|line| line.number != *number) => {
            format!(", line {number} taken out")
        }
        BatchEvent::LineChanged(number) => format!(", line {number} changed"),
        BatchEvent::WeighedIn => ", weighed in".to_string(),
        BatchEvent::PouredOff(mass) => format!(", {} poured off", grams(*mass)),
        BatchEvent::Revised => ", corrected".to_string(),
        BatchEvent::Boxed => format!(", packed {}", day(view.made_on)),
        BatchEvent::LeftOver => format!(", of {}", day(view.made_on)),
        BatchEvent::ToppedUp { of } => format!(", topped up from {}", name(of)),
    }
}

/// When it was made, or came to stand here.
fn since(view: &BatchView) -> String {
    let on = day(view.made_on);
    match view.origin {
        Origin::Bought => format!(", bought {on}"),
        Origin::Before if !view.dated => format!(", there since before {on}"),
        _ => format!(", made {on}"),
    }
}

/// A new batch needs no words for that on its one line.
fn brief_event(answer: &BatchAnswer) -> String {
    match answer.event {
        BatchEvent::Opened => String::new(),
        _ => event_words(answer),
    }
}

fn say_weight(page: &mut Page, answer: &BatchAnswer) {
    let view = &answer.view;
    if view.estimated && view.net_mass.is_zero() {
        page.say("No weight yet.");
    } else {
        let net = about_grams(view.net_mass, view.about);
        let kind = match (view.estimated, view.raw) {
            (true, _) => " by estimate",
            (false, true) => " net, raw",
            (false, false) => " net",
        };
        page.say(format!("{net}{kind}{}", yield_words(view)));
        if let Some(spread) = &view.expected {
            page.say(by_own_pots(spread));
        }
    }
    if let Some(pieces) = &view.pieces {
        let each = Mass::from_grams(view.net_mass.grams() / pieces.count);
        let each = each.map_or(String::new(), |each| format!(", {} each", grams(each)));
        page.say(format!("{}{each}", number::pieces(pieces)));
    }
    if view.left != view.net_mass {
        page.say(format!("{} left", left(view.left, view.about)));
    }
    if view.estimated {
        page.say("Not weighed yet. To weigh it in:");
        page.example(&format!(
            "{} weighed {:.0}",
            name(&view.code),
            example_weight(view)
        ));
    }
}

/// What the estimate goes by.
pub fn by_own_pots(spread: &Spread) -> String {
    let (least, most) = (spread.least, spread.most);
    match spread.pots {
        1 => "By your last pot of it".into(),
        pots if grams(least) == grams(most) => format!("By your last {pots} pots of it"),
        pots => format!(
            "By your last {pots} pots of it: {} to {}",
            grams(least),
            grams(most)
        ),
    }
}

/// A round figure near the estimate, so that the example looks like what will be typed.
fn example_weight(view: &BatchView) -> f64 {
    if view.net_mass.is_zero() {
        return 1840.0;
    }
    ((view.net_mass.grams() / 10.0).round() * 10.0).max(10.0)
}

/// What is put together from what stood in stock has no yield to speak of.
fn yield_words(view: &BatchView) -> String {
    // Only what was cooked gains or loses.
    match view
        .yield_factor()
        .filter(|_| view.origin == Origin::Cooked)
    {
        Some(factor) => {
            let tilde = if view.estimated { "~" } else { "" };
            format!(", yield {tilde}{}", decimal(factor))
        }
        None => String::new(),
    }
}

/// The lines that the event is about. A line that drew from several batches has a row for each.
fn listed(answer: &BatchAnswer) -> Vec<&LineView> {
    let lines = &answer.view.lines;
    let last = lines.iter().map(|line| line.number).max().unwrap_or(0);
    let is_listed = |line: &&LineView| match answer.event {
        BatchEvent::Opened
        | BatchEvent::Shown
        | BatchEvent::Revised
        | BatchEvent::LeftOver
        | BatchEvent::Boxed
        | BatchEvent::ToppedUp { .. } => true,
        BatchEvent::LinesAdded(count) => line.number as usize + count > last as usize,
        BatchEvent::LineChanged(number) => line.number == number,
        BatchEvent::WeighedIn | BatchEvent::PouredOff(_) | BatchEvent::Counted => false,
    };
    lines.iter().filter(is_listed).collect()
}

/// As many lines as there is room for, in characters: questions below them must be seen.
fn say_lines(page: &mut Page, answer: &BatchAnswer, room: usize) {
    let lines: Vec<&LineView> = listed(answer)
        .into_iter()
        .filter(|line| !is_asked_below(line, answer))
        .collect();
    if lines.is_empty() {
        return;
    }
    page.gap();
    let mut list = Page::new();
    let mut part = None;
    let mut told = 0;
    for line in &lines {
        let words = format!("{}. {}", line.number, line_words(line));
        if list.chars() + words.chars().count() > room {
            break;
        }
        if line.part != part {
            part = line.part.clone();
            list.say(format!(
                "{}:",
                part.as_deref().map_or("pot".to_string(), name)
            ));
        }
        list.item(words);
        told += 1;
    }
    page.append(list);
    if told < lines.len() {
        page.say(format!("and {} more lines", lines.len() - told));
    }
    let mut told = lines[..told].iter();
    if told.any(|line| line.estimated && line.mass.is_some()) {
        page.say("~ is an estimate from a measure");
    }
    page.gap();
}

/// A line that could not be read is in the questions.
fn is_asked_below(line: &LineView, answer: &BatchAnswer) -> bool {
    line.state == LineState::Pending
        && answer
            .pending
            .iter()
            .any(|(number, _)| *number == line.number)
}

fn line_words(line: &LineView) -> String {
    let mut words = match (line.state, line.mass) {
        (LineState::Known, Some(mass)) => {
            format!("{} {}", about_grams(mass, line.estimated), taken_as(line))
        }
        (LineState::NoFood, Some(mass)) if is_bare(line) => {
            format!(
                "{} of what nobody has named: nutrients unknown",
                grams(mass)
            )
        }
        (LineState::NoFood, Some(mass)) => {
            format!(
                "{}: no such food known, nutrients unknown",
                typed_with_mass(line, mass)
            )
        }
        (LineState::NoFood, None) => format!("{}: food and weight unknown", typed(line)),
        (LineState::Uncounted, _) => format!("{}: named, not counted", typed(line)),
        (LineState::Pending, _) => format!("{}: not read", quote(&line.text)),
        (LineState::NoMass, _) | (LineState::Known, None) => {
            format!("{}: how much is unknown, not counted", typed(line))
        }
    };
    for assumption in line
        .assumptions
        .iter()
        .filter_map(|it| note::assumed_of(line.taken_as.as_deref().unwrap_or(""), it, &line.text))
    {
        words.push_str("; ");
        words.push_str(&assumption);
    }
    words
}

/// A weight, and nothing of what: "90 g".
fn is_bare(line: &LineView) -> bool {
    let letters = line.text.chars().filter(|c| c.is_alphabetic());
    letters.eq(['g'])
}

fn taken_as(line: &LineView) -> String {
    let taken = line.taken_as.as_deref().map_or_else(|| typed(line), short);
    match (&line.batch, &line.packet) {
        (Some(code), _) => format!("{taken} (batch {})", name(code)),
        (None, Some(_)) => format!("{taken} (packet)"),
        (None, None) => taken,
    }
}

/// As typed, with its mass unless that was typed too.
fn typed_with_mass(line: &LineView, mass: Mass) -> String {
    let typed = typed(line);
    if typed.contains(&figure(mass.grams())) {
        typed
    } else {
        format!("{typed} ({})", about_grams(mass, line.estimated))
    }
}

fn typed(line: &LineView) -> String {
    cut(&clean(&line.text), 48)
}

fn say_poured(page: &mut Page, poured: &PouredView) {
    let what = match &poured.kind {
        PourKind::Fat => "fat".to_string(),
        PourKind::Part(part) => name(part),
        PourKind::Whole => "of the whole".to_string(),
    };
    let absorbed = poured.absorbed.map_or(String::new(), |mass| {
        format!(", {} of it stayed (estimate)", about_grams(mass, true))
    });
    page.say(format!(
        "Poured off: {} {what}{absorbed}",
        grams(poured.mass)
    ));
    if !poured.guessed_lines.is_empty() {
        let lines: Vec<String> = poured.guessed_lines.iter().map(|line| name(line)).collect();
        page.say(format!(
            "Taken as the {what}: {}",
            cut(&lines.join(", "), 120)
        ));
    }
}

/// Where it stands and until when; what has gone from a place is not told.
fn say_places(page: &mut Page, view: &BatchView) {
    let standing = |lot: &&LotView| lot.mass.is_none() || lot.balance > Mass::ZERO;
    let lots: Vec<&LotView> = view.lots.iter().filter(standing).collect();
    for lot in &lots {
        let amount = if lots.len() > 1 || lot.balance != view.net_mass {
            format!(": {}", left(lot.balance, lot.mass.is_none()))
        } else {
            String::new()
        };
        let due = lot
            .due
            .map(|due| format!("use by {} ({})", date(due.on), why(&due)));
        // Nobody said where its vessel stands: in the fridge.
        let kept = match (&lot.place, lots.len(), &lot.vessel) {
            (None, 1, Some(vessel)) => Some(format!("fridge, {}", name(vessel))),
            _ => stands(lot),
        };
        page.say(match (kept, due) {
            (Some(place), Some(due)) => format!("In {}{amount}, {due}", the(&place)),
            (Some(place), None) => format!("In {}{amount}", the(&place)),
            (None, Some(due)) if lots.len() == 1 => format!("Kept in the fridge: {due}"),
            (None, Some(due)) => format!("No place said{amount}, {due}"),
            (None, None) => continue,
        });
    }
}

/// Lines that wait for an answer; the rest of the batch stands without them.
fn say_pending(page: &mut Page, answer: &BatchAnswer, asked: Option<&ProblemKind>) {
    if answer.pending.is_empty() {
        return;
    }
    page.gap();
    let asked_at = asked.and_then(|asked| {
        let mut pending = answer.pending.iter();
        pending.position(|(_, problem)| problem.kind == *asked)
    });
    let told = (0..)
        .zip(&answer.pending)
        .filter(|(at, _)| Some(*at) != asked_at);
    for (_, (number, problem)) in told.clone().take(PENDING_SHOWN_MAX) {
        let mut lines = answer.view.lines.iter();
        let text = lines
            .find(|line| line.number == *number)
            .map_or("", |line| line.text.as_str());
        pending::say_line(page, *number, &problem.kind, text, &name(&answer.view.code));
    }
    let more: Vec<u32> = told
        .skip(PENDING_SHOWN_MAX)
        .map(|(_, (number, _))| *number)
        .collect();
    if is_unclear(answer) {
        if !more.is_empty() {
            page.say(format!("and {} more lines", more.len()));
        }
    } else {
        for line in answer
            .view
            .lines
            .iter()
            .filter(|line| more.contains(&line.number))
        {
            page.item(format!("Line {}: {}", line.number, quote(&line.text)));
        }
    }
    page.say("The rest of the batch stands.");
}
