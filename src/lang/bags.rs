//! Food that is parted into bags and tubs: "in two bags, 700 and 640, bags 9 g each".
//!
//! ```text
//! bags := ["in"] number container ["(" grams "each" ")"] [":"] grams { ("and" | "," | "+") grams } [empty]
//!       | number container "of" batch [","] (grams "each" | grams { ("and" | "," | "+") grams })
//!       | number container [","] grams ["in"] "each" | number container "of" grams | number grams container "of" batch
//!       | grams { ("and" | ",") grams } ["of"] batch | batch [","] grams { ("and" | ",") grams }    (two at least)
//! empty := ["("] (container ["are"] | "less") grams ["each"]
//! ```

use super::name;
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::containers;

/// No bag beside others holds less than such a part of the fullest.
const LEAST_SHARE: f64 = 50.0;
/// Less, where no bag is named, is a number and no weight.
const LISTED_GRAMS_MIN: f64 = 30.0;
/// Nobody fills more bags of one weight.
const BAGS_MAX: f64 = 24.0;

/// Food parted into bags.
#[derive(Default)]
pub struct Bags {
    /// What each weighs, as it was said.
    pub parts_grams: Vec<f64>,
    /// What each does empty, where they were weighed with that.
    pub bag_grams: Option<f64>,
}

/// "in two bags, 700 and 640, bags 9 g each": what stands before it, and the bags. `None`: a bag weighs more than it
/// does full.
pub fn bags(input: Tokens<'_>) -> Option<(Tokens<'_>, Bags)> {
    let told = bag_tare(input).map(|(full, tare)| (full_bags(full), tare));
    let (rest, parts_grams, bag_grams) = match told {
        Some(((rest, parts, _), tare)) if !parts.is_empty() => (rest, parts, Some(tare)),
        _ => full_bags(input),
    };
    let holds = |full: &f64| bag_grams.is_none_or(|bag| *full > bag);
    // "froze sauce in tupperware 1, 488": the first number is part of its name.
    let most = parts_grams.iter().copied().fold(0.0, f64::max);
    let holds = |full: &f64| holds(full) && *full * LEAST_SHARE >= most;
    parts_grams.iter().all(holds).then_some((
        rest,
        Bags {
            parts_grams,
            bag_grams,
        },
    ))
}

/// "bags 9 g each" at the end: what an empty one weighs.
fn bag_tare(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let input = input.trimmed_end();
    let closed = usize::from(input.last().is_some_and(|last| last.is(')')));
    let said = input.range(0, input.len() - closed);
    let each = matches!(said.last()?.norm(), "each" | "apiece" | "empty");
    let weight = said.range(0, said.len() - usize::from(each));
    let unit = usize::from(matches!(weight.last()?.norm(), "g" | "gram" | "grams"));
    let at = weight.len().checked_sub(unit + 1)?;
    let (_, tare) = number(weight.range(at, at + 1)).ok()?;
    let before = said.range(0, at);
    let linked = usize::from(matches!(
        before.last()?.norm(),
        "are" | "is" | "weigh" | "weighs" | "at" | "of" | "itself"
    ));
    let before = before.range(0, before.len() - linked);
    let vessel = is_vessel(before.last()?);
    let from = before.len() - usize::from(vessel);
    // "2 bags of rice, 400 each" tells what they hold.
    let less = from > 0 && matches!(before.norm(from - 1), "less" | "minus");
    let told = vessel && each || less;
    let from = from - usize::from(less);
    let open = usize::from(from > 0 && before.slice[from - 1].is('('));
    let from = from - open;
    (told && from > 0).then(|| (input.range(0, from).trimmed_end(), tare.value))
}

fn is_vessel(token: &Token) -> bool {
    let norm = token.norm();
    matches!(norm, "portion" | "portions" | "pack" | "packs")
        || containers().has(norm)
        || containers().has(norm.strip_suffix('s').unwrap_or(norm))
}

/// "in two bags, 700 and 640": what stands before it, what each weighs, and each empty ("two bags (9 g each), 700
/// and 640").
fn full_bags(input: Tokens<'_>) -> (Tokens<'_>, Vec<f64>, Option<f64>) {
    // "the blue pot dal in two bags": any of them may be parted into.
    let vessels = (0..input.len()).filter(|&at| is_vessel(&input.slice[at]));
    let read = vessels.map(|at| full_bags_at(input, at));
    let mut read = read.filter(|(_, parts, _)| !parts.is_empty());
    read.next().unwrap_or((input, Vec::new(), None))
}

fn full_bags_at(input: Tokens<'_>, at: usize) -> (Tokens<'_>, Vec<f64>, Option<f64>) {
    let none = (input, Vec::new(), None);
    let told = bags_of(input, at)
        .or_else(|| bags_at(input, at))
        .or_else(|| so_heavy(input, at));
    if let Some((rest, parts)) = told {
        return (rest, parts, None);
    }
    let count = counted(input, at);
    let (said, bag) = without_aside(input.after(at + 1));
    let (said, each) = without_each(said);
    let Some(mut parts) = grams_alone(said) else {
        return none;
    };
    if let (true, [one], Some(count)) = (each, parts.as_slice(), count.filter(is_count)) {
        parts = vec![*one; count as usize];
    }
    if count.is_some_and(|count| (count - parts.len() as f64).abs() > f64::EPSILON) {
        return none;
    }
    let mut from = at - usize::from(count.is_some());
    if from > 0 && matches!(input.norm(from - 1), "in" | "into" | "as") {
        from -= 1;
    }
    let before = input.range(0, from).trimmed_end();
    // "froze the dal in two bags, 700 and 640": what goes where stands before.
    (before, parts, bag)
}

/// Without "(9 g each)" at the front, right behind what it is said of.
fn without_aside(input: Tokens<'_>) -> (Tokens<'_>, Option<f64>) {
    let none = (input, None);
    let close = input.find(|token| token.is(')')).unwrap_or(0);
    if close == 0 || !input.slice[0].is('(') {
        return none;
    }
    let (said, each) = without_each(input.range(1, close));
    let Ok((rest, bag)) = number(said) else {
        return none;
    };
    let unit = usize::from(matches!(rest.norm(0), "g" | "gram" | "grams"));
    match each && rest.after(unit).is_empty() {
        true => (input.after(close + 1), Some(bag.value)),
        false => none,
    }
}

/// How many vessels, in figures or words.
fn counted(input: Tokens<'_>, vessel: usize) -> Option<f64> {
    let before = vessel.checked_sub(1)?;
    let (_, count) = number(input.range(before, vessel)).ok()?;
    Some(count.value)
}

fn is_count(count: &f64) -> bool {
    count.fract() == 0.0 && (1.0..=BAGS_MAX).contains(count)
}

/// Without "in each" at the end, and whether it stood there.
fn without_each(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let input = input.trimmed_end();
    let each = input.last().is_some_and(|last| last.norm() == "each");
    let rest = input.range(0, input.len() - usize::from(each));
    let inside = each && rest.last().is_some_and(|last| last.norm() == "in");
    (rest.range(0, rest.len() - usize::from(inside)), each)
}

/// "2 bags of rice, 400 each", "two bags of rice, 700 and 640": the rice, and what each weighs.
fn bags_of(input: Tokens<'_>, vessel: usize) -> Option<(Tokens<'_>, Vec<f64>)> {
    let count = counted(input, vessel).filter(is_count)?;
    if vessel != 1 || input.norm(2) != "of" {
        return None;
    }
    let (said, each) = without_each(input.after(3));
    let at = said.find(Token::is_numeric)?;
    let mut weights = grams_alone(said.after(at))?;
    if let (true, [one]) = (each, weights.as_slice()) {
        weights = vec![*one; count as usize];
    }
    if weights.len() != count as usize {
        return None;
    }
    let links = |token: &&Token| !matches!(token.kind, Kind::Word(_)) || token.norm() == "at";
    let tail = said
        .range(0, at)
        .slice
        .iter()
        .rev()
        .take_while(links)
        .count();
    Some((said.range(0, at - tail), weights))
}

/// "3 bags of 400 chilli", "rice in 4 bags of 200": so many of so much each.
fn bags_at(input: Tokens<'_>, vessel: usize) -> Option<(Tokens<'_>, Vec<f64>)> {
    let count = counted(input, vessel).filter(is_count)?;
    if input.norm(vessel + 1) != "of" {
        return None;
    }
    let (rest, grams) = grams_of(input.after(vessel + 2))?;
    parted(input.range(0, vessel - 1), rest, count, grams)
}

/// "three 250 g tubs of soup"
fn so_heavy(input: Tokens<'_>, vessel: usize) -> Option<(Tokens<'_>, Vec<f64>)> {
    let unit = usize::from(vessel > 0 && matches!(input.norm(vessel - 1), "g" | "gram"));
    let weight = vessel.checked_sub(1 + unit)?;
    let count = counted(input, weight).filter(is_count)?;
    let (rest, grams) = grams_of(input.range(weight, vessel))?;
    let of = rest.is_empty() && input.norm(vessel + 1) == "of";
    parted(
        input.range(0, weight - 1),
        input.after(vessel + 1),
        count,
        grams,
    )
    .filter(|_| of)
}

fn grams_of(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let (rest, said) = number(input).ok()?;
    let unit = usize::from(matches!(rest.norm(0), "g" | "gram" | "grams"));
    (said.value >= LISTED_GRAMS_MIN).then(|| (rest.after(unit), said.value))
}

/// The dish stands before the bags or behind them.
fn parted<'a>(
    before: Tokens<'a>,
    behind: Tokens<'a>,
    count: f64,
    grams: f64,
) -> Option<(Tokens<'a>, Vec<f64>)> {
    let into = before
        .last()
        .is_some_and(|last| matches!(last.norm(), "in" | "into" | "as"));
    let before = before
        .range(0, before.len() - usize::from(into))
        .trimmed_end();
    let behind = behind.after(usize::from(behind.norm(0) == "of"));
    let parts = vec![grams; count as usize];
    match (before.is_empty(), behind.trimmed().is_empty()) {
        (true, false) => Some((behind, parts)),
        (false, true) => Some((before, parts)),
        _ => None,
    }
}

/// "500, 480 and 350 of the dal", "the dal, 500, 480 and 350": one dish and several weights, so each is of its own.
pub fn listed(input: Tokens<'_>) -> Option<(Tokens<'_>, Vec<f64>)> {
    let input = input.trimmed();
    // "2 x 500 dal"
    if let (Ok((rest, count)), true) = (
        number(input),
        input.norm(1) == "x" || input.slice.get(1)?.is('×'),
    ) && is_count(&count.value)
        && let Some((dish, grams)) = grams_of(rest.after(1))
    {
        return parted(input.range(0, 0), dish, count.value, grams);
    }
    let weighs = |token: &Token| {
        let links = matches!(token.norm(), "and" | "plus" | "g" | "gram" | "grams");
        links || token.is_numeric() || !matches!(token.kind, Kind::Word(_))
    };
    let (dish, weights) = match input.first()?.is_numeric() {
        true => {
            let end = input.find(|token| !weighs(token))?;
            let rest = input.after(end);
            let rest = rest.after(usize::from(rest.norm(0) == "of"));
            (rest, input.range(0, end))
        }
        false => {
            let at = input.find(Token::is_numeric)?;
            (input.range(0, at).trimmed_end(), input.after(at))
        }
    };
    let parts = grams_alone(weights.trimmed_end())?;
    // "froze 1 and 2 of the soup" tells which bags.
    let weighed = parts.iter().all(|part| *part >= LISTED_GRAMS_MIN);
    let told = parts.len() > 1 && weighed && name::all_of_batch(dish).is_some();
    told.then_some((dish, parts))
}

/// Nothing but weights: "700 and 640", ": 700 g + 640 g".
fn grams_alone(input: Tokens<'_>) -> Option<Vec<f64>> {
    let mut parts = Vec::new();
    let mut rest = input.without_lead();
    while !rest.is_empty() {
        let link = matches!(rest.norm(0), "and" | "plus" | "of" | "at")
            || rest.first().is_some_and(|token| {
                matches!(
                    token.kind,
                    Kind::Symbol(',' | '+' | '/' | '&' | ':') | Kind::Newline
                )
            });
        if link {
            rest = rest.after(1);
            continue;
        }
        let (after, part) = number(rest).ok()?;
        let unit = usize::from(matches!(after.norm(0), "g" | "gram" | "grams"));
        parts.push(part.value);
        rest = after.after(unit);
    }
    (!parts.is_empty()).then_some(parts)
}
