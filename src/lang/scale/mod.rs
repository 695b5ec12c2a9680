//! Talk at the scale, cut into readings: each number with the food, the vessel and the words that tell
//! what stood on the scale when it was read.
//!
//! ```text
//! talk    := group { sep group }
//! group   := { food | vessel | mark | idle } reading { food | vessel | mark | idle }
//! sep     := "," | ";" | "." | "/" | newline | "→" | "+" | join | then | less | deny | zero
//! mark    := then | top | before | after | now | down | empty | gross | net | ate | count | left | books
//! ```
//! Marks and idle words are data (`data/at_scale.txt`). What stands around a reading belongs to it; where one
//! run holds several, each takes what comes before it, or, if the first has nothing before it, what comes
//! after. A clause with neither number, food nor vessel keeps the weighing company. Any other word that
//! nobody knows makes it no talk at the scale.

mod element;

use super::amount::grams;
use super::number::number;
use super::person::person;
use super::syntax::{Span, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::{at_scale, at_table, containers, measures};
pub use element::food;
use element::{Element, element, vessel};

const TOKENS_MAX: usize = 60;
/// "before i started", "once id crumbled it over": so many words of an occasion are passed over.
const OCCASION_WORDS_MAX: usize = 5;

#[derive(Debug, Clone)]
pub struct Food {
    pub name: Words,
    pub household: bool,
    /// The occasion or the place, not what was weighed: "after my toast", "with carrots".
    pub linked: bool,
}

#[derive(Debug, Clone)]
pub struct Vessel {
    pub name: Words,
    /// The household has a container of this name.
    pub known: bool,
}

impl Vessel {
    /// "jar" of "the glass jar".
    pub fn noun(&self) -> String {
        let last = self.name.text.to_lowercase();
        let last = last.split(' ').next_back().unwrap_or_default();
        let last: String = last.chars().filter(|c| c.is_alphabetic()).collect();
        containers().get(&last).map_or(last, str::to_owned)
    }
}

/// What one reading is about.
#[derive(Debug, Clone, Default)]
pub struct Group {
    pub grams: f64,
    pub with_unit: bool,
    /// The number comes before what it is about: "310 dal".
    pub leads: bool,
    pub span: Span,
    pub foods: Vec<Food>,
    pub vessels: Vec<Vessel>,
    pub marks: Vec<&'static str>,
}

impl Group {
    pub fn said(&self, mark: &str) -> bool {
        self.marks.contains(&mark)
    }

    /// "1250 of rice in there now": so much is in the vessel, without it.
    pub fn is_inside(&self) -> bool {
        self.said("inside") && (self.said("now") || self.said("count"))
    }

    /// Take over what another tells.
    pub fn absorb(&mut self, other: Group) {
        self.leads &= other.foods.is_empty() && other.vessels.is_empty();
        self.foods.extend(other.foods);
        self.vessels.extend(other.vessels);
        self.marks.extend(other.marks);
    }
}

#[derive(Debug, Default)]
pub struct Talk {
    pub groups: Vec<Group>,
    /// What is told behind the last reading, apart from it: "..., it was the soup".
    pub behind: Group,
    /// Clauses beside the weighing.
    pub comments: Vec<Span>,
}

/// The message as readings with what they are about, if it is nothing else.
pub fn talk(input: Tokens<'_>) -> Option<Talk> {
    if input.len() > TOKENS_MAX || !input.slice.iter().any(Token::is_numeric) {
        // Dictated readings have no digits.
        let spoken = input.len() <= TOKENS_MAX && input.slice.iter().any(is_number_word);
        if !spoken {
            return None;
        }
    }
    let mut talk = Talk::default();
    let mut waiting = Group::default();
    for (elements, span) in clauses(input)? {
        let strays = elements
            .iter()
            .any(|element| matches!(element, Element::Stray));
        let telling = elements.iter().any(|element| {
            matches!(
                element,
                Element::Reading { .. } | Element::Food(_) | Element::Vessel(_)
            )
        });
        if strays && telling {
            return None;
        }
        if strays {
            if tells_whose(input, &span) {
                return None;
            }
            talk.comments.push(span);
            continue;
        }
        for part in one_reading_each(elements) {
            let (group, read) = group(part);
            let aside = !group.foods.is_empty()
                && group.foods.iter().all(|food| food.linked)
                && group.vessels.is_empty();
            if read {
                let mut group = group;
                group.absorb(std::mem::take(&mut waiting));
                talk.groups.push(group);
            } else if !aside {
                waiting.absorb(group);
            }
        }
    }
    talk.behind = waiting;
    (!talk.groups.is_empty()).then_some(talk)
}

/// "it was all Ana": whose it was is no talk.
fn tells_whose(input: Tokens<'_>, span: &Span) -> bool {
    let place = |byte: usize| input.slice.partition_point(|token| token.span.start < byte);
    let said = input.range(place(span.start), place(span.end));
    let tells = |token: &Token| {
        let is = matches!(token.norm(), "was" | "is" | "for" | "all" | "and");
        is || at_table().get(token.norm()).is_some()
    };
    let is = said.len() == 1 || said.slice.iter().any(tells);
    is && (0..said.len()).any(|at| person(said.after(at)).is_some())
}

fn is_number_word(token: &Token) -> bool {
    super::words::number_words().holds(token)
}

/// The elements of every clause, with its place; nothing when a number is no reading.
fn clauses(input: Tokens<'_>) -> Option<Vec<(Vec<Element>, Span)>> {
    let mut out: Vec<(Vec<Element>, Span)> = Vec::new();
    let mut here: Vec<Element> = Vec::new();
    let mut start = 0;
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let after_reading = matches!(here.last(), Some(Element::Reading { .. }));
        let (length, element) = element(rest, after_reading)?;
        let cuts = matches!(
            element,
            Element::Break
                | Element::Mark("join" | "then" | "less" | "deny" | "zero" | "arrow" | "dash")
        );
        if cuts {
            let clause = std::mem::take(&mut here);
            out.push((clause, input.range(start, at).span()));
            start = at + length;
        }
        at += length;
        match element {
            Element::Break | Element::Mark("join") => {}
            Element::Mark(mark @ ("before" | "after")) => {
                here.push(Element::Mark(mark));
                if matches!(input.norm(at - 1), "before" | "after" | "once" | "when") {
                    let (passed, linked) = occasion(input.after(at));
                    at += passed;
                    here.extend(linked.map(Element::Food));
                }
            }
            Element::Food(mut food) => {
                food.linked |= at > length && is_occasional(input, at - length) && !here.is_empty();
                here.push(Element::Food(food));
            }
            Element::Mark("ate") => {
                here.push(Element::Mark("ate"));
                let helping = helping(input.after(at));
                here.extend((helping > 0).then_some(Element::Mark("helped")));
                at += helping;
            }
            element => here.push(element),
        }
    }
    out.push((here, input.range(start, input.len()).span()));
    out.retain(|(elements, _)| !elements.is_empty());
    Some(out)
}

/// "took two big spoons": how often the spoon went in, where nothing else is told. The scale tells how much.
fn helping(input: Tokens<'_>) -> usize {
    let Ok((mut rest, _)) = number(input) else {
        return 0;
    };
    while at_scale().get(rest.norm(0)) == Some("look") {
        rest = rest.take_one();
    }
    let one = rest.norm(0).strip_suffix('s').unwrap_or(rest.norm(0));
    let spoon = [rest.norm(0), one]
        .into_iter()
        .any(|word| containers().has(word) || measures().has(word));
    let rest = rest.take_one();
    let ends = rest
        .first()
        .is_none_or(|token| token.norm().is_empty() && !token.is_numeric());
    match spoon && ends {
        true => input.len() - rest.len(),
        false => 0,
    }
}

/// Whether "for", "with" or "after" stands before the place.
fn is_occasional(input: Tokens<'_>, at: usize) -> bool {
    let skip = usize::from(at > 0 && matches!(input.norm(at - 1), "my" | "the" | "some" | "a"));
    at > skip && matches!(input.norm(at - 1 - skip), "for" | "with" | "on" | "over")
}

/// "before i started", "after my toast": what it was for, up to a number or a mark.
fn occasion(input: Tokens<'_>) -> (usize, Option<Food>) {
    let mut at = 0;
    let mut passed = 0;
    while at < input.len() && passed < OCCASION_WORDS_MAX {
        let rest = input.after(at);
        if matches!(
            rest.norm(0),
            "my" | "the" | "i" | "we" | "it" | "a" | "some"
        ) {
            at += 1;
            continue;
        }
        let word = matches!(rest.slice[0].kind, Kind::Word(_));
        let known = !word
            || grams(rest).is_ok()
            || food(rest).is_some()
            || vessel(rest).is_some()
            || at_scale().longest(rest.slice).is_some();
        if known {
            break;
        }
        passed += 1;
        at += 1;
    }
    match food(input.after(at)) {
        Some((length, food)) => {
            let linked = true;
            (at + length, Some(Food { linked, ..food }))
        }
        None => (at, None),
    }
}

/// A clause cut so that no part holds more than one reading.
fn one_reading_each(elements: Vec<Element>) -> Vec<Vec<Element>> {
    let is_reading = |element: &Element| matches!(element, Element::Reading { .. });
    let readings = elements
        .iter()
        .filter(|element| is_reading(element))
        .count();
    if readings < 2 {
        return vec![elements];
    }
    let first = elements.iter().position(is_reading).unwrap_or(0);
    let named_first = elements[..first]
        .iter()
        .any(|element| matches!(element, Element::Food(_) | Element::Vessel(_)));
    let stays = |element: &Element| {
        matches!(
            element,
            Element::Mark(
                "before"
                    | "after"
                    | "empty"
                    | "gross"
                    | "net"
                    | "left"
                    | "moved"
                    | "idle"
                    | "link"
                    | "with"
                    | "weighs"
            )
        )
    };
    let mut parts: Vec<Vec<Element>> = vec![Vec::new()];
    let mut read = false;
    for (at, element) in elements.iter().enumerate() {
        let opens = match element {
            Element::Reading { .. } => read && !named_first,
            // "418 now 401": it tells of the next reading, if there is one.
            Element::Mark("now" | "down" | "to") => read && elements[at..].iter().any(is_reading),
            element => read && named_first && !stays(element),
        };
        let opened = parts
            .last()
            .is_some_and(|part| !part.iter().any(is_reading));
        if opens && !opened || is_reading(element) && read && !opened {
            parts.push(Vec::new());
            read = false;
        }
        read |= is_reading(element);
        if let Some(part) = parts.last_mut() {
            part.push(element.clone());
        }
    }
    parts
}

/// What the elements tell, and whether a reading is among them.
fn group(elements: Vec<Element>) -> (Group, bool) {
    let mut group = Group::default();
    let mut read = false;
    for element in elements {
        match element {
            Element::Reading {
                grams,
                with_unit,
                span,
            } => {
                group.grams = grams;
                group.with_unit = with_unit;
                group.span = span;
                group.leads = group.foods.is_empty() && group.vessels.is_empty();
                read = true;
            }
            Element::Food(food) => group.foods.push(food),
            Element::Vessel(vessel) => group.vessels.push(vessel),
            Element::Mark("idle" | "link") => {}
            Element::Mark(mark) => group.marks.push(mark),
            Element::Break | Element::Stray => {}
        }
    }
    (group, read)
}
