//! What a reading that would be booked unasked leaves out of the message: "the rest", "twice that", what was thrown
//! away of a plate. Layers that pass over words must not pass over these: then the reading is not sure, and another
//! one is tried.
//!
//! ```text
//! told    := "the rest" | "twice as much" | eaten beside a loss or a count | shared beside a loss or a count
//!          | weight that is in no loss or count which is read
//! ```

use super::command::share::is_shared;
use super::gist::aside;
use super::lost;
use super::name::{Familiarity, familiarity};
use super::number::number;
use super::person::person;
use super::syntax::{Amount, Command, ErrorKind, Item, Portion, Reading, Share, SharePart};
use super::tokens::Tokens;
use super::words::{at_table, cues, fates};

/// Any other reading comes before one that leaves out so much.
const LEFT_OUT: i32 = 500;
/// A number below this counts something.
const SCALE_GRAMS_MIN: f64 = 20.0;

/// A reading that leaves out what was told of the same food is not sure.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    if !reading.is_certain() || reading.commands.is_empty() {
        return;
    }
    let Some(words) = left_out(&reading.commands, body) else {
        return;
    };
    reading
        .errors
        .push(words.error(ErrorKind::LeftOver(words.words().text)));
    reading.commands.clear();
    reading.sure = false;
    reading.rank -= LEFT_OUT;
}

fn left_out<'a>(commands: &[Command], body: Tokens<'a>) -> Option<Tokens<'a>> {
    let eaten = commands
        .iter()
        .any(|command| matches!(command, Command::Portion(_)));
    let gone = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. } | Command::Count { .. }));
    let only = commands.iter().all(|command| {
        matches!(
            command,
            Command::Portion(_) | Command::Waste { .. } | Command::Count { .. } | Command::Batch(_)
        )
    });
    if !only {
        return None;
    }
    let portions = || {
        commands.iter().filter_map(|command| match command {
            Command::Portion(portion) => Some(portion),
            _ => None,
        })
    };
    let less = (0..body.len()).any(|at| fates().longest_of(body.after(at).slice, "back").is_some());
    // "pan of dal was 540", of a dish that stands here: nobody says that it was made.
    let named = |command: &Command| match command {
        Command::Batch(batch) => familiarity(&batch.name.text, body) == Familiarity::Household,
        _ => false,
    };
    let made = cues().stand_in(body.slice, "anew");
    if eaten && !made && commands.iter().any(named) {
        return Some(body);
    }
    // "soup went to Ana and Tom, her bowl had 50 more": which of them, nobody says.
    if portions().any(is_of_either) {
        return Some(body);
    }
    let wasted = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. }));
    if eaten && !portions().any(is_in_parts) && !wasted && !less {
        return remainder(body)
            .or_else(|| one_of_them(body, portions().count()))
            .or_else(|| in_a_pan(body, portions()))
            .or_else(|| as_served(body, portions().count()));
    }
    if gone && !eaten {
        return beside_a_loss(commands, body);
    }
    None
}

/// A part is somebody's of whom others are told too, and who it is is not.
fn is_of_either(portion: &Portion) -> bool {
    let Some(Share::Parts(parts)) = &portion.share else {
        return false;
    };
    let pronoun = |part: &SharePart| {
        let who = part.who.as_ref();
        who.is_some_and(|who| ["her", "his", "he", "she", "him"].contains(&who.text.as_str()))
    };
    parts.len() > 2 && parts.iter().any(pronoun)
}

/// It is told by parts, or by what is left of a dish.
fn is_in_parts(portion: &Portion) -> bool {
    let share = |item: &Item| matches!(item.amount, Amount::Share(_));
    matches!(portion.share, Some(Share::Parts(_) | Share::Equally(_)))
        || portion.items.iter().any(share)
}

/// "Ana took 190, I had the rest", where nothing is left to anybody.
fn remainder(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let had = (0..body.len()).find_map(|at| {
        let rest = body.after(at);
        let length = at_table().longest_of(rest.slice, "rest")?;
        let idiom = cues().longest_of(rest.slice, "idiom");
        let before = at.checked_sub(1).map_or("", |at| body.norm(at));
        let eats = (at.saturating_sub(2)..at).any(|before| {
            at_table()
                .longest_of(body.after(before).slice, "had")
                .is_some()
        });
        // "the rest of the salsa" is weighed beside it.
        let of_dish = body.norm(at + length) == "of";
        let mine = matches!(body.norm(at + length), "me" | "mine" | "for");
        let whose = mine || person(body.after(at + length)).is_some();
        let counts = (eats || whose) && before != "is" && before != "was" && !of_dish;
        (idiom.is_none() && counts).then_some((at, length))
    });
    had.map(|(at, length)| body.range(at, at + length))
}

/// "beans 2x85, second one for Ana": one plate is not both.
fn one_of_them(body: Tokens<'_>, portions: usize) -> Option<Tokens<'_>> {
    let (at, length) = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "one of them")?;
        let behind = body.norm(at + length);
        (matches!(behind, "for" | "to" | "is" | "was") && portions == 1).then_some((at, length))
    })?;
    Some(body.range(at, at + length))
}

/// "pan of dal was 540, Ana took 190, I had 200": what was in the pan is nobody's plate.
fn in_a_pan<'a, 'p>(
    body: Tokens<'a>,
    portions: impl Iterator<Item = &'p Portion>,
) -> Option<Tokens<'a>> {
    let portions: Vec<&Portion> = portions.collect();
    let items = portions.iter().flat_map(|portion| &portion.items);
    let starts: Vec<usize> = items
        .filter(|item| item.span.start == item.name.span.start)
        .map(|item| item.span.start)
        .collect();
    let at = (0..body.len()).find(|&at| {
        let link = usize::from(body.norm(at + 1) == "of");
        let article = usize::from(matches!(body.norm(at + 1 + link), "the" | "our"));
        let name = body.get(at + 1 + link + article);
        let leads = name.is_some_and(|token| starts.contains(&token.span.start));
        link > 0 && leads && matches!(body.norm(at), "pan" | "pot" | "tray" | "tub" | "batch")
    })?;
    (portions.len() > 1).then(|| body.range(at, at + 1))
}

/// "dished up 700 rice. Tom and I have the same": nobody had all of it.
fn as_served(body: Tokens<'_>, portions: usize) -> Option<Tokens<'_>> {
    let length = fates().longest_of(body.slice, "serves")?;
    let same = (0..body.len()).any(|at| {
        let compared = at_table().longest(body.after(at).slice);
        compared.is_some_and(|(_, key)| key == "same" || key.ends_with("times"))
    });
    (same && portions > 1).then(|| body.range(0, length))
}

/// "drank 3/5 of it and poured the rest away", "430 left, Tom and I went halves on what's gone".
fn beside_a_loss<'a>(commands: &[Command], body: Tokens<'a>) -> Option<Tokens<'a>> {
    let signs = lost::signs(body).unwrap_or_default();
    let of_loss = |at: usize| signs.iter().any(|sign| (sign.from..sign.to).contains(&at));
    let wasted = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. }));
    let uneaten = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "uneaten")?;
        wasted.then_some((at, length))
    });
    let drunk = || {
        (0..body.len()).find_map(|at| {
            let scraped = body.norm(at) == "scraped";
            let finished = at_table().longest_of(body.after(at).slice, "finished");
            let finished = finished.filter(|_| !scraped);
            let ate = matches!(body.norm(at), "ate" | "drank" | "eaten").then_some(1);
            let length = finished.or(ate).filter(|_| wasted && !of_loss(at))?;
            let by_animal = at > 0 && of_loss(at - 1);
            (!by_animal).then_some((at, length))
        })
    };
    let shared = || (0..body.len()).find_map(|at| Some((at, is_shared(body, at)?)));
    let told: Vec<f64> = commands.iter().flat_map(weights).collect();
    let weight = || {
        (0..body.len()).find_map(|at| {
            let (rest, said) = number(body.after(at)).ok()?;
            let first = at == 0 || number(body.after(at - 1)).is_err();
            let plain = body.slice[at].is_numeric() && first && said.value >= SCALE_GRAMS_MIN;
            let known = told.iter().any(|grams| (grams - said.value).abs() < 0.01);
            let of_it = fates().longest_of(rest.slice, "it").is_some();
            (plain && of_it && !known && aside(body, at).is_none())
                .then(|| (at, body.len() - at - rest.len()))
        })
    };
    let (at, length) = uneaten.or_else(drunk).or_else(shared).or_else(weight)?;
    Some(body.range(at, at + length))
}

fn weights(command: &Command) -> Vec<f64> {
    let grams = |amount: &Amount| match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => Some(*grams),
        _ => None,
    };
    match command {
        Command::Waste { items, .. } => items
            .iter()
            .filter_map(|item| grams(&item.amount))
            .collect(),
        Command::Count { items, .. } => items
            .iter()
            .flat_map(|item| item.weighing.readings_grams.clone())
            .collect(),
        _ => Vec::new(),
    }
}
