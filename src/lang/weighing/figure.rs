//! One weight with the words around it that say what stood on the scale: "2310 in the pot", "pot weighs 470",
//! "full pot 2.78 kg", "2 bags 9 each", "less the blue pot".
//!
//! ```text
//! figure := { mark } mass { mark } | "less" container
//! mark   := lead | gross | net | less | empty | inside container | without container | container
//!         | count container | "each" | idle | ":" | "=" | "(" | ")"
//! ```
//! Marks between two weights belong to the second, but for what only the first can mean ("2310 gross pot
//! 470"); if the labels follow their weights all through ("2310 full 470 empty"), to the first.

use super::container::{container, containers_together};
use crate::lang::amount::{GRAMS_MAX, grams, tidy};
use crate::lang::clause::made;
use crate::lang::command::key_phrase;
use crate::lang::number::number;
use crate::lang::syntax::{Error, Tare, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::unit::{Unit, unit};
use crate::lang::words::scale;

/// More marks than these before a weight are a sentence.
const MARKS_MAX: usize = 12;
/// More vessels are not weighed at once.
const VESSELS_MAX: f64 = 24.0;
/// A bare "0.94" beside kilograms is kilograms; alone it is no weight of a batch.
const DECIMAL_BELOW: f64 = 20.0;
/// "one" in a sentence is no weight.
const WORDED_GRAMS_MIN: f64 = 5.0;
/// "1.840" reads as thousands when its decimal reading is below this.
const THOUSANDS_BELOW: f64 = 20.0;

/// Which weight the words between two belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Labels {
    Before,
    After,
}

#[derive(Debug, Clone, Default)]
pub struct Figure {
    /// `None` for a container that is only named: "less the blue pot".
    pub grams: Option<f64>,
    /// Grams in its unit; a bare number has none.
    pub unit_grams: Option<f64>,
    pub said: Words,
    pub lead: bool,
    pub gross: bool,
    pub net: bool,
    pub less: bool,
    pub empty: bool,
    pub each: bool,
    /// A dash before it: a minus, where something stands before that.
    pub dash: bool,
    /// What it stood in, the vessel on the scale with it.
    pub inside: Option<Words>,
    /// "without the pot".
    pub without: Option<Words>,
    /// A container named as what was weighed.
    pub name: Option<Words>,
    pub count: Option<f64>,
    /// "pan 2: 900 g": one of several vessels, with the food in it.
    pub numbered: bool,
    /// Said of it after the weight, not before.
    labelled_after: bool,
}

/// What a word or two beside a weight say of it.
#[derive(Debug, Clone, PartialEq)]
enum Mark {
    Lead,
    Gross,
    Net,
    Less,
    Empty,
    Each,
    Dash,
    Idle,
    /// Joins words to the weight and says nothing alone.
    Link,
    Inside(Words),
    Without(Words),
    Container(Words),
    Counted(f64, Words),
    /// "pan 2:"
    Numbered(Words),
}

impl Figure {
    fn note(&mut self, mark: Mark) {
        match mark {
            Mark::Lead => self.lead = true,
            Mark::Gross => self.gross = true,
            Mark::Net => self.net = true,
            Mark::Less => self.less = true,
            Mark::Empty => self.empty = true,
            Mark::Each => self.each = true,
            Mark::Dash => self.dash = true,
            Mark::Idle | Mark::Link => {}
            Mark::Inside(name) => self.inside = Some(name),
            Mark::Without(name) => self.without = Some(name),
            Mark::Container(name) => self.name = Some(name),
            Mark::Numbered(name) => {
                self.gross = true;
                self.numbered = true;
                self.inside = Some(name);
            }
            Mark::Counted(count, name) => {
                self.count = Some(count);
                self.name = Some(name);
            }
        }
    }

    /// Whether words already say what it weighs.
    fn is_labelled(&self) -> bool {
        self.gross || self.net || self.less || self.empty || self.name.is_some()
    }

    /// A weight of the empty vessel, or of what is to be taken off.
    pub fn is_tare(&self) -> bool {
        // "cooked 2 bowls 800 and 700", "2310 pot and all"
        let food = self.gross || self.lead && (self.labelled_after || self.count.is_some());
        self.less || self.empty || self.name.is_some() && !food
    }

    /// What was on the scale with the food.
    pub fn vessel(&self) -> Option<Words> {
        self.inside.clone().or_else(|| self.name.clone())
    }

    /// In grams; nothing when a bare "2.31" could be anything.
    pub fn grams_with(&self, unit_grams: Option<f64>) -> Option<f64> {
        let grams = self.grams.unwrap_or(0.0);
        if self.unit_grams.is_some() || grams.fract() == 0.0 || grams >= DECIMAL_BELOW {
            return Some(grams);
        }
        match unit_grams {
            Some(each) if each > 1.0 => Some(tidy(grams * each)),
            _ => (self.is_tare() || unit_grams.is_some()).then_some(grams),
        }
    }

    /// The reading, of all the vessels that it is one of.
    pub fn total(&self, unit_grams: Option<f64>) -> Option<f64> {
        let count = self.count.filter(|_| self.each).unwrap_or(1.0);
        Some(tidy(self.grams_with(unit_grams)? * count))
    }

    /// "2 bags 18": of one bag or of both? Not to be guessed.
    pub fn is_of_one_or_all(&self) -> bool {
        self.grams.is_some() && !self.each && self.count.is_some_and(|count| count != 1.0)
    }

    pub fn tare(&self, vessels: f64, unit_grams: Option<f64>) -> Tare {
        let of_each = if self.each { vessels } else { 1.0 };
        Tare {
            count: self.count.unwrap_or(of_each).max(1.0),
            each_grams: self.grams.and(self.grams_with(unit_grams)),
            name: self
                .name
                .clone()
                .or_else(|| self.inside.clone())
                .or_else(|| self.without.clone()),
        }
    }
}

/// A figure at the front of the tokens.
pub fn figure(input: Tokens<'_>, labels: Labels) -> Result<Option<(Tokens<'_>, Figure)>, Error> {
    let mut figure = Figure::default();
    let mut rest = input;
    let mut after_name = None;
    for _ in 0..MARKS_MAX {
        if let Some((after, count)) = times(rest) {
            (figure.count, figure.each) = (Some(count), true);
            rest = after;
        }
        let Some((after, mark)) = mark(rest) else {
            break;
        };
        // "2 bags at 9", "2 bags (9 g)"
        let eachly = !matches!(rest.norm(0), "is" | "are" | "was" | "for" | "the" | "a");
        figure.each |= mark == Mark::Link && figure.count.is_some() && eachly;
        rest = after;
        let ends_bracket = [rest.get(2), rest.get(3)];
        let ends_bracket = ends_bracket.iter().flatten().any(|token| token.is(')'));
        let listed = match mark {
            Mark::Counted(..) => true,
            // "(incl. pot, 200)"
            Mark::Inside(_) => ends_bracket,
            _ => false,
        };
        figure.note(mark);
        // "two pots, 1450 + 980"
        let comma = rest.first().is_some_and(|token| token.is(','));
        if listed && comma && rest.get(1).is_some_and(Token::is_numeric) {
            rest = rest.take_one();
        }
        if figure.less && figure.name.is_some() {
            after_name.get_or_insert(rest);
        }
    }
    let here = rest;
    match mass(here) {
        Ok((after, (grams, unit_grams))) => {
            figure.grams = Some(grams);
            figure.unit_grams = unit_grams;
            let rest = marks_after(after, &mut figure, labels);
            figure.said = here.range(0, here.len() - after.len()).words();
            Ok(Some((rest, figure)))
        }
        Err(nom::Err::Failure(error)) => Err(error),
        // "less the blue pot": the books know what it weighs.
        Err(_) => Ok(after_name.map(|rest| (rest, figure))),
    }
}

/// Take the marks after a weight that belong to it.
fn marks_after<'a>(input: Tokens<'a>, figure: &mut Figure, labels: Labels) -> Tokens<'a> {
    let mut run = Vec::new();
    let mut rest = input;
    while run.len() < MARKS_MAX
        && let Some((after, mark)) = mark(rest)
    {
        let dated = mark == Mark::Lead && made(rest.range(0, rest.len().min(4))).is_some();
        if dated || rest.slice[0].is('(') {
            break;
        }
        run.push((rest, after, mark));
        rest = after;
    }
    // "less the blue pot": the next thing taken off, not this one.
    let taken_off = |pair: &[(_, _, Mark)]| {
        matches!(
            pair,
            [
                (_, _, Mark::Less | Mark::Dash),
                (_, _, Mark::Container(_) | Mark::Link)
            ]
        )
    };
    if let Some(at) = run.windows(2).position(taken_off) {
        run.truncate(at);
    }
    let end = run.last().map_or(input, |(_, after, _)| *after);
    let another = end.first().is_some_and(Token::is_numeric);
    let labelled = figure.is_labelled();
    let own = |mark: &Mark| match mark {
        Mark::Lead | Mark::Idle | Mark::Link | Mark::Each | Mark::Inside(_) => true,
        Mark::Gross | Mark::Net => !labelled,
        Mark::Empty => figure.name.is_some(),
        Mark::Less
        | Mark::Dash
        | Mark::Without(_)
        | Mark::Container(_)
        | Mark::Counted(..)
        | Mark::Numbered(_) => false,
    };
    let mine = if another && labels == Labels::Before {
        let mine = run.iter().take_while(|(_, _, mark)| own(mark)).count();
        // A label that nothing but the next weight follows is that weight's.
        let left = run[mine..]
            .iter()
            .any(|(_, _, mark)| !matches!(mark, Mark::Idle | Mark::Link));
        let inside = |(_, _, mark): &(_, _, Mark)| matches!(mark, Mark::Inside(_));
        match left || run[..mine].iter().any(inside) {
            true => mine,
            false => 0,
        }
    } else {
        run.len()
    };
    let mut taken = input;
    for (_, after, mark) in run.into_iter().take(mine) {
        if mark != Mark::Link {
            taken = after;
            figure.labelled_after |= mark != Mark::Idle;
        }
        figure.note(mark);
    }
    taken
}

/// One mark at the front of the tokens.
fn mark(input: Tokens<'_>) -> Option<(Tokens<'_>, Mark)> {
    let first = input.first()?;
    if matches!(first.kind, Kind::Symbol(':' | '=' | '(' | ')' | '@' | '*')) {
        return Some((input.take_one(), Mark::Link));
    }
    if first.is('-') {
        return Some((input.take_one(), Mark::Dash));
    }
    // "pot + food 2560"
    if (first.is('+') || first.is('&')) && matches!(input.norm(1), "food" | "contents") {
        return Some((input.after(2), Mark::Gross));
    }
    if matches!(first.norm(), "each" | "apiece" | "ea") {
        return Some((input.take_one(), Mark::Each));
    }
    if let Some(read) = counted(input).or_else(|| numbered(input)) {
        return Some(read);
    }
    let said = scale().longest(input.slice);
    let verb = key_phrase("weigh", input).map_or(0, |(rest, ())| input.len() - rest.len());
    let (length, key) = match said {
        Some((length, key)) if length >= verb => (length, key),
        _ if verb > 0 => (verb, "lead"),
        _ => (0, ""),
    };
    keyed(input, length, key).or_else(|| {
        let (rest, name) = containers_together(input).ok()?;
        Some((rest, Mark::Container(name)))
    })
}

fn keyed<'a>(input: Tokens<'a>, length: usize, key: &str) -> Option<(Tokens<'a>, Mark)> {
    let mut rest = input.after(length);
    let short = length > 0 && matches!(input.norm(length - 1), "incl" | "inc" | "excl" | "ex");
    if short && rest.first().is_some_and(|token| token.is('.')) {
        rest = rest.take_one();
    }
    let mark = match key {
        "lead" | "heat" => Mark::Lead,
        "gross" => Mark::Gross,
        "net" => Mark::Net,
        "less" => Mark::Less,
        "empty" => Mark::Empty,
        "idle" => Mark::Idle,
        "link" => Mark::Link,
        "inside" => return inside(input.norm(0), rest),
        "without" => {
            let (after, name) = containers_together(rest).ok()?;
            return Some((after, Mark::Without(name)));
        }
        _ => return None,
    };
    Some((rest, mark))
}

/// "in the blue pot", "including the 470 g pot"; "with the pot 470" weighs the pot.
fn inside<'a>(word: &str, input: Tokens<'a>) -> Option<(Tokens<'a>, Mark)> {
    if let Ok((after, name)) = containers_together(input) {
        return Some((after, Mark::Inside(name)));
    }
    let article = usize::from(matches!(input.norm(0), "the" | "a" | "its" | "my"));
    let weight = input.after(article);
    let (after, _) = mass(weight).ok()?;
    let named = containers_together(after).is_ok();
    (word != "on" && named).then_some((weight, Mark::Less))
}

/// "2 bags", "two bowls".
fn counted(input: Tokens<'_>) -> Option<(Tokens<'_>, Mark)> {
    let (rest, count) = number(input).ok()?;
    let whole = !count.article && count.value.fract() == 0.0 && count.value <= VESSELS_MAX;
    let (rest, name) = containers_together(rest).ok().filter(|_| whole)?;
    Some((rest, Mark::Counted(count.value, name)))
}

/// "pan 2:", "second tray:", "pot B empty": one of several vessels that are weighed in turn.
fn numbered(input: Tokens<'_>) -> Option<(Tokens<'_>, Mark)> {
    let (after, name) = container(input).ok()?;
    let letter = |norm: &str| matches!(norm, "a" | "b" | "c" | "d");
    let nth = after.first().is_some_and(|token| match &token.kind {
        Kind::Number(numeral) => numeral.value.fract() == 0.0 && numeral.value <= VESSELS_MAX,
        _ => letter(token.norm()),
    });
    let ordinal = [input.norm(0), input.norm(1)]
        .iter()
        .any(|norm| matches!(*norm, "first" | "second" | "third" | "fourth" | "other"));
    let rest = after.after(usize::from(nth));
    let sign = rest
        .first()
        .is_some_and(|token| token.is(':') || token.is('='));
    // "pan 1 1300 g", "pan 2 empty 400"
    let goes_on = rest.first().is_some_and(Token::is_numeric)
        || matches!(
            scale().longest(rest.slice),
            Some((_, "empty" | "gross" | "less" | "net"))
        );
    let told = nth && (sign || goes_on) || ordinal && sign;
    told.then(|| (rest.after(usize::from(sign)), Mark::Numbered(name)))
}

/// The count of "2 x 9 g bags".
fn times(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let (rest, count) = number(input).ok()?;
    let times = rest.norm(0) == "x" || rest.first().is_some_and(|token| token.is('×'));
    let whole = count.value.fract() == 0.0 && count.value <= VESSELS_MAX;
    (times && whole && !count.article).then(|| (rest.take_one(), count.value))
}

/// A mass in grams and the grams of its unit. A measure word after a bare number is no measure here, but
/// what stood on the scale.
fn mass(input: Tokens<'_>) -> Read<'_, (f64, Option<f64>)> {
    let (after, count) = number(input)?;
    if count.article || count.worded && count.value < WORDED_GRAMS_MIN {
        return input.no();
    }
    let unit_grams = match unit(after) {
        Ok((_, Unit::Mass(grams))) => Some(grams),
        Ok((_, Unit::Volume(_))) => return input.no(),
        Err(_) => None,
    };
    // "1.840" of a whole pot is its thousands, or kilograms: the same.
    if let Some(other) = count
        .other
        .filter(|_| unit_grams.is_none_or(|grams| grams == 1.0))
    {
        let rest = after.after(usize::from(unit_grams.is_some()));
        return match count.value < THOUSANDS_BELOW {
            true => Ok((rest, (other, unit_grams))),
            false => input.no(),
        };
    }
    match (grams(input), unit_grams) {
        (Ok((rest, grams)), _) => Ok((rest, (grams, unit_grams))),
        (Err(nom::Err::Error(_)), None) if (0.0..=GRAMS_MAX).contains(&count.value) => {
            Ok((after, (count.value, None)))
        }
        (Err(error), _) => Err(error),
    }
}
