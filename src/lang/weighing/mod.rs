//! What the scale said of a batch: readings added up, less the tares, in whatever order and words.
//!
//! ```text
//! weighing := figure { sep figure }
//! sep      := "," | ";" | "." | "(" | ")" | newline | "and" | "plus" | "then" | "+" | "&"
//! ```
//! A figure (`figure.rs`) is a reading, a net weight or a tare by the words around it. A bare number goes on
//! with what it is joined to by "and": a reading, or a tare. A net weight needs no tare; where gross, tare and
//! net are all said, they must agree.

mod container;
mod figure;

use nom::Err;

use super::lexicon::is_food_word;
use super::syntax::{Error, ErrorKind, Tare, Weighing, Words};
use super::token::{Kind, Token};
use super::tokens::{Read, Tokens};
use super::words::{places, pots, scale, verbs};

pub use container::{container, containers_together};
use figure::{Figure, Labels, figure};

/// More vessels are not weighed before they are filled, nor more weights added up for one pot.
const TARES_FIRST_MAX: usize = 3;
const FIGURES_MAX: usize = 16;
/// Gross less tare may differ from the net that is said by so much, or this share.
const NET_SLACK_GRAMS: f64 = 2.0;
const NET_SLACK_SHARE: f64 = 0.01;

/// A weighing at the front of the tokens; separators between its parts belong to it.
pub fn weighing(input: Tokens<'_>) -> Read<'_, Weighing> {
    let (rest, scale) = longer(input)?;
    let said = input.range(0, input.len() - rest.len());
    // No scale shows less than nothing.
    let first = said.find(Token::is_numeric);
    if let Some(below) = said.signed().filter(|below| Some(below.at) == first) {
        return below.fail();
    }
    Ok((rest, scale.weighing(said)?))
}

/// Whether the words say by themselves that this is a weighing: "net", "gross", "in the pot", "less 470".
pub fn says_so(input: Tokens<'_>) -> bool {
    longer(input).is_ok_and(|(_, scale)| {
        let said = |one: &Figure| one.gross || one.lead || one.inside.is_some();
        scale.readings.iter().any(said) || !scale.net.is_empty() || !scale.tares.is_empty()
    })
}

/// Gross, tare and net that do not agree: the net weight as said, and as it is by the others.
pub fn contrary(input: Tokens<'_>) -> Option<(Tokens<'_>, [Weighing; 2])> {
    let (rest, scale) = longer(input).ok()?;
    let said = input.range(0, input.len() - rest.len());
    let both = !scale.net.is_empty() && !scale.readings.is_empty();
    if !both || scale.weighing(said).is_ok() {
        return None;
    }
    let net = Scale {
        net: scale.net.clone(),
        ..Scale::default()
    };
    let less_tare = Scale {
        net: Vec::new(),
        ..scale
    };
    let each = [net, less_tare].map(|one| one.weighing(said).ok());
    let [Some(net), Some(less_tare)] = each else {
        return None;
    };
    Some((rest, [net, less_tare]))
}

/// A tare that stands alone, before the food is on the scale: "pot 470", "tare is 470".
pub fn tare_alone(input: Tokens<'_>) -> Option<Tare> {
    let (rest, said) = figure(input, Labels::Before).ok()??;
    let vessel = said.less || said.empty || said.name.as_ref().is_some_and(is_vessel);
    let plain = said.is_tare() && said.count.is_none() && vessel;
    let grams = said.grams.filter(|_| plain && rest.trimmed().is_empty())?;
    Some(Tare {
        count: 1.0,
        each_grams: Some(grams),
        name: said.name,
    })
}

/// Something to cook in: a tin or a jar may as well hold an ingredient.
fn is_vessel(name: &Words) -> bool {
    let last = last_word(name);
    last != "tin" && pots().has(&last)
}

fn last_word(name: &Words) -> String {
    let name = name.text.to_lowercase();
    let last = name.split(' ').next_back().unwrap_or("");
    last.strip_suffix('s').unwrap_or(last).to_owned()
}

/// Read with labels before their weights or after them, whichever explains more.
fn longer(input: Tokens<'_>) -> Result<(Tokens<'_>, Scale), Err<Error>> {
    let before = Scale::read(input, Labels::Before)?;
    let after = Scale::read(input, Labels::After)?;
    match (before, after) {
        (Some(before), Some(after)) if after.0.len() < before.0.len() => Ok(after),
        (Some(best), _) | (None, Some(best)) => Ok(best),
        (None, None) => Err(Err::Error(input.error(ErrorKind::NotUnderstood))),
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Reading,
    Net,
    Tare,
}

/// How a figure is joined to the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Join {
    Directly,
    And,
    Bracket,
    Apart,
    /// On another line.
    Lines,
}

/// The figures of one weighing, by what they weigh.
#[derive(Debug, Default)]
struct Scale {
    readings: Vec<Figure>,
    net: Vec<Figure>,
    tares: Vec<Figure>,
    last: Option<What>,
}

impl Scale {
    /// As many figures as belong together; nothing when no food was weighed.
    fn read(input: Tokens<'_>, labels: Labels) -> Result<Option<(Tokens<'_>, Self)>, Err<Error>> {
        let mut scale = Self::default();
        let mut rest = input;
        let (mut from, mut join) = (input, Join::Directly);
        loop {
            let read = match figure(from, labels) {
                // What is no mass after a whole weighing is another line's trouble.
                Err(_) if scale.is_weighed() && matches!(join, Join::Apart | Join::Lines) => None,
                read => read.map_err(Err::Failure)?,
            };
            let Some((after, said)) = read else { break };
            let goes_on = scale.last.is_none() || !is_of_food(after);
            let what = match scale.begins_pair(&said, join, after, labels) {
                true => Some(What::Reading),
                false => scale.what(&said, join),
            };
            let Some(what) = what.filter(|_| goes_on) else {
                break;
            };
            scale.take(what, said);
            let lone = scale.tares.len() >= TARES_FIRST_MAX && !scale.is_weighed();
            if lone || scale.figures() >= FIGURES_MAX {
                break;
            }
            let closed = after.first().is_some_and(|token| token.is(')'));
            rest = after.after(usize::from(closed));
            (from, join) = separated(rest);
            if join == Join::Apart && is_bracket_open(input.range(0, input.len() - from.len())) {
                join = Join::Bracket;
            }
        }
        Ok(scale.is_weighed().then_some((rest, scale)))
    }

    /// "1300 - 600, 900 - 400": the next gross weight, with its own tare behind it on the same line.
    fn begins_pair(&self, said: &Figure, join: Join, after: Tokens<'_>, labels: Labels) -> bool {
        let bare = !said.is_tare() && !said.net && !said.dash && said.inside.is_none();
        let closed = after.first().is_some_and(|token| token.is(')'));
        let next = || figure(after.after(usize::from(closed)), labels);
        let paired = self.is_weighed() && self.last == Some(What::Tare) && join != Join::Lines;
        bare && !said.lead
            && paired
            && matches!(next(), Ok(Some((_, next))) if next.dash || next.less)
    }

    fn figures(&self) -> usize {
        self.readings.len() + self.net.len() + self.tares.len()
    }

    fn is_weighed(&self) -> bool {
        !self.readings.is_empty() || !self.net.is_empty()
    }

    /// What one more figure weighs; nothing when it does not belong to this weighing.
    fn what(&self, said: &Figure, join: Join) -> Option<What> {
        let first = !self.is_weighed();
        // "with the pot 470" beside a reading weighs the pot.
        let beside = !first && said.inside.is_some() && !said.lead && !said.gross;
        if said.net || said.without.is_some() && (first || said.lead) {
            return Some(What::Net);
        }
        if said.numbered && !said.net && !said.less && !said.empty {
            return Some(What::Reading);
        }
        if said.is_tare() || beside || said.without.is_some() || said.dash && !first {
            return Some(What::Tare);
        }
        let bare = !said.lead && !said.gross && said.inside.is_none();
        if first {
            return (!bare || self.tares.is_empty()).then_some(What::Reading);
        }
        let untared =
            self.tares.is_empty() && self.readings.iter().any(|one| one.vessel().is_some());
        match join {
            // "cooked 250 and cooked 260" are two weighings.
            Join::And if said.lead => None,
            Join::And if bare => self.last,
            Join::And => Some(What::Reading),
            Join::Directly | Join::Bracket if bare && untared => Some(What::Tare),
            // "net 900, gross 1100, tare 200"
            _ if said.gross && self.readings.is_empty() => Some(What::Reading),
            _ => None,
        }
    }

    fn take(&mut self, what: What, mut said: Figure) {
        let bare = said.name.is_none() && !said.less && !said.empty && said.inside.is_none();
        if what == What::Tare && bare && self.tares.is_empty() && !said.dash {
            // "2310 in the pot (470)"
            said.name = self.readings.iter().find_map(Figure::vessel);
        }
        match what {
            What::Reading => self.readings.push(said),
            What::Net => self.net.push(said),
            What::Tare => self.tares.push(said),
        }
        self.last = Some(what);
    }

    /// Added up, in the words of the syntax.
    fn weighing(&self, said: Tokens<'_>) -> Result<Weighing, Err<Error>> {
        let fail = |kind| Err(Err::Failure(said.error(kind)));
        let all = || self.readings.iter().chain(&self.net).chain(&self.tares);
        let unit_grams = all().find_map(|one| one.unit_grams);
        if let Some(odd) = all().find(|one| one.grams_with(unit_grams).is_none()) {
            return fail(ErrorKind::NotAMass(odd.said.text.clone()));
        }
        // "2 pans: 1300 and 900": each of them is told.
        let told = self.readings.first().and_then(|one| one.count);
        let all_told = self.readings.len() > 1 && told == Some(self.readings.len() as f64);
        let sums = |figures: &[Figure]| -> Vec<f64> {
            let total = |one: &Figure| match all_told {
                true => one.grams_with(unit_grams),
                false => one.total(unit_grams),
            };
            figures.iter().filter_map(total).collect()
        };
        let (gross, net) = (sums(&self.readings), sums(&self.net));
        if let Some(odd) = self.tares.iter().find(|one| one.is_of_one_or_all()) {
            return fail(ErrorKind::LeftOver(odd.said.text.clone()));
        }
        let vessels = self.readings.iter().find_map(|one| one.count);
        let vessels = vessels.unwrap_or(gross.len() as f64);
        let tares: Vec<Tare> = self
            .tares
            .iter()
            .map(|one| one.tare(vessels, unit_grams))
            .collect();
        let span = said.span();
        if !net.is_empty() {
            if !agrees(&gross, &tares, net.iter().sum()) {
                return fail(ErrorKind::LeftOver(said.words().text));
            }
            return Ok(Weighing {
                readings_grams: net,
                net: true,
                span,
                ..Weighing::default()
            });
        }
        let container = self.readings.iter().find_map(Figure::vessel);
        let is_gross = container.is_some() || self.readings.iter().any(|one| one.gross);
        let container = container.filter(|name| !tares.iter().any(|tare| supplies(tare, name)));
        Ok(Weighing {
            readings_grams: gross,
            tares,
            gross: is_gross,
            net: false,
            container,
            span,
        })
    }
}

/// Whether gross less tare is the net that was said, as far as they were said.
fn agrees(gross: &[f64], tares: &[Tare], net: f64) -> bool {
    let known: Option<f64> = tares
        .iter()
        .map(|tare| Some(tare.each_grams? * tare.count))
        .sum();
    let gross: f64 = gross.iter().sum();
    match known {
        _ if gross == 0.0 => true,
        Some(tare) if tare > 0.0 => {
            (gross - tare - net).abs() <= NET_SLACK_GRAMS.max(NET_SLACK_SHARE * net)
        }
        _ => gross >= net,
    }
}

/// Whether a tare is that of the container that the food stood in.
fn supplies(tare: &Tare, container: &Words) -> bool {
    let Some(name) = &tare.name else { return true };
    tare.each_grams.is_some() && last_word(name) == last_word(container)
}

/// Past what may stand between two figures, and how that joins them.
fn separated(input: Tokens<'_>) -> (Tokens<'_>, Join) {
    let marks = input
        .slice
        .iter()
        .take_while(|token| {
            matches!(
                token.kind,
                Kind::Newline | Kind::Symbol(',' | ';' | '.' | '(' | ')')
            )
        })
        .count();
    let rest = input.after(marks);
    let joins = matches!(rest.norm(0), "and" | "plus" | "then")
        || rest
            .first()
            .is_some_and(|token| token.is('+') || token.is('&'));
    let join = match marks {
        _ if joins => Join::And,
        0 => Join::Directly,
        _ if input.slice[0].is('(') => Join::Bracket,
        _ if input.slice[..marks]
            .iter()
            .any(|token| token.kind == Kind::Newline) =>
        {
            Join::Lines
        }
        _ => Join::Apart,
    };
    (rest.after(usize::from(joins)), join)
}

/// "1200 (incl. pot, 200)": the comma stands within the bracket.
fn is_bracket_open(before: Tokens<'_>) -> bool {
    let count = |c: char| before.slice.iter().filter(|token| token.is(c)).count();
    count('(') > count(')')
}

/// "2 tins 400 g tomatoes": what follows is an ingredient, and the figure is its amount.
fn is_of_food(input: Tokens<'_>) -> bool {
    let word = input.norm(0);
    let joins = matches!(
        word,
        "and" | "for" | "with" | "from" | "then" | "the" | "into" | "plus"
    );
    let idle = joins || places().has(word) || scale().has(word) || verbs().has(word);
    word.len() > 2 && !idle && is_food_word(word)
}
