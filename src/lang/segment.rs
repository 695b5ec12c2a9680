//! A list cut into items: where separators stand, which of them belong to a name or a sum, and the words
//! around an item that carry nothing.

use super::amount::{Stands, amount, may_begin};
use super::item::{self, tricky_length};
use super::name::{is_filler, is_preparation};
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::{fillers, joiners, laid_on, measures, number_words, outros, taken_off, units};

/// A spoken number below this may be no weight: "on one".
const SPOKEN_GRAMS_MIN: f64 = 10.0;

/// Skip words that carry nothing, up to an amount or a name, and such words after the last item.
pub fn without_fillers(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some(first) = rest.first() {
        let phrase = fillers()
            .longest(rest.slice)
            .map_or(0, |(length, _)| length);
        let length = phrase.max(usize::from(is_filler(first)));
        if length == 0 || length >= rest.len() && !matches!(first.kind, Kind::Symbol(_)) {
            break;
        }
        if may_begin(rest) && amount(rest, Stands::BeforeName).is_ok() {
            break;
        }
        rest = rest.after(length);
    }
    loop {
        let length = outros().length_at_end(rest.slice);
        // "the stew we made today": the day chooses the batch.
        let chooses = length < rest.len()
            && matches!(
                rest.norm(rest.len() - length - 1),
                "made" | "from" | "cooked"
            );
        if length == 0 || length >= rest.len() || chooses {
            return rest.trimmed_end();
        }
        rest = rest.range(0, rest.len() - length);
    }
}

/// A run between separators (places in the input), and whether the separator before it may belong to a
/// name or a sum.
#[derive(Clone)]
pub struct Segment {
    from: usize,
    to: usize,
    soft: bool,
}

impl Segment {
    /// Its tokens.
    pub fn of<'a>(&self, input: Tokens<'a>) -> Tokens<'a> {
        input.range(self.from, self.to)
    }
}

pub fn segments(input: Tokens<'_>) -> Vec<Segment> {
    input.once(|memory| &memory.segments, || cut(input))
}

fn cut(input: Tokens<'_>) -> Vec<Segment> {
    let mut out = Vec::new();
    let (mut from, mut at, mut depth) = (0, 0, 0_i32);
    let mut soft = false;
    while at < input.len() {
        let known = tricky_length(input.after(at));
        if known > 1 {
            at += known;
            continue;
        }
        match input.slice[at].kind {
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            _ => {}
        }
        let Some(separator) = separator(input, at).filter(|_| depth <= 0) else {
            at += 1;
            continue;
        };
        out.push(Segment { from, to: at, soft });
        from = at + separator.length;
        soft = separator.soft;
        at = from.max(at + 1);
    }
    let to = input.len();
    out.push(Segment { from, to, soft });
    out.retain(|segment| !input.range(segment.from, segment.to).trimmed().is_empty());
    out
}

/// What stands between two things.
struct Separator {
    /// Zero for a word that opens what follows.
    length: usize,
    /// It may belong to a name or a sum.
    soft: bool,
}

fn separator(input: Tokens<'_>, at: usize) -> Option<Separator> {
    let one = |soft| Separator { length: 1, soft };
    if let Some(soft) = mark(input, at) {
        return Some(one(soft));
    }
    let token = &input.slice[at];
    if token.norm().is_empty() {
        return None;
    }
    if at == 0 {
        return joiners().holds(token).then(|| one(true));
    }
    // "190 dal less 20 for the spoon"
    if taken_off().holds(token) && begins_amount(input.after(at + 1)) {
        return Some(Separator {
            length: 0,
            soft: false,
        });
    }
    // "2 tbsp oil on 140 beans", "25 miso in 200 soup"
    if let Some((length, _)) = laid_on().longest(&input.slice[at..]) {
        let skip = usize::from(matches!(
            input.norm(at + length),
            "my" | "the" | "some" | "about"
        ));
        let next = input.after(at + length + skip);
        let counted = next
            .first()
            .is_some_and(|token| matches!(token.kind, Kind::Number(_)));
        return (counted || is_spoken_weight(next)).then_some(Separator { length, soft: true });
    }
    (joiners().holds(token) && !joins_number(input, at)).then(|| one(true))
}

/// "one fifty", and not the "one" of "on one plate".
fn is_spoken_weight(input: Tokens<'_>) -> bool {
    number(input).is_ok_and(|(_, said)| said.worded && said.value >= SPOKEN_GRAMS_MIN)
}

/// A number, or words for one.
fn begins_amount(input: Tokens<'_>) -> bool {
    input.first().is_some_and(Token::is_numeric) || number_words().has(input.norm(0))
}

/// "two and a half", "a ladle and a half", "one hundred and thirty": within a number; "between 2 and 3".
fn joins_number(input: Tokens<'_>, at: usize) -> bool {
    let before = input.norm(at - 1);
    let half = matches!(input.norm(at + 1), "half" | "quarter")
        || (input.norm(at + 1) == "a" && matches!(input.norm(at + 2), "half" | "quarter"));
    let counted = input.slice[at - 1].is_numeric()
        || number_words().has(before)
        || measures().has(before)
        || units().has(before);
    let hundred = matches!(before, "hundred" | "thousand") && begins_amount(input.after(at + 1));
    let cream = before == "half" && input.norm(at + 1) == "half";
    let opens = |back: usize| at >= back && input.norm(at - back) == "between";
    let range = (opens(2) || opens(3)) && begins_amount(input.after(at + 1));
    cream || hundred || range || half && counted
}

/// A mark that separates, and whether softly.
fn mark(input: Tokens<'_>, at: usize) -> Option<bool> {
    let token = &input.slice[at];
    let between_numbers = at > 0
        && input.slice[at - 1].is_numeric()
        && input.get(at + 1).is_some_and(Token::is_numeric);
    match token.kind {
        // "655 before, 610 after"
        Kind::Symbol(',') if at > 0 && input.norm(at - 1) == "before" => None,
        Kind::Newline | Kind::Symbol(',' | ';' | '!') => Some(false),
        Kind::Symbol('.')
            if input.get(at + 1).is_none_or(|next| next.spaced) && !is_unit_before(input, at) =>
        {
            Some(false)
        }
        // "a ladle & a half"
        Kind::Symbol('&') if at > 0 && joins_number(input, at) => None,
        Kind::Symbol('+' | '&') if !between_numbers => Some(true),
        Kind::Symbol('-') if token.spaced && !between_numbers => Some(true),
        Kind::Symbol('/') if token.spaced => Some(true),
        // Dictated: "soup one thirty comma beans ninety full stop".
        Kind::Word(ref norm) if matches!(norm.as_str(), "comma" | "period") => Some(false),
        Kind::Word(ref norm) if norm == "full" && input.norm(at + 1) == "stop" => Some(false),
        Kind::Word(ref norm) if norm == "stop" && at > 0 && input.norm(at - 1) == "full" => {
            Some(false)
        }
        _ => None,
    }
}

fn is_unit_before(input: Tokens<'_>, at: usize) -> bool {
    at >= 2
        && input.slice[at - 2].is_numeric()
        && super::unit::unit(input.range(at - 1, at)).is_ok()
}

/// Put segments together again that are one item: "mac" "and" "cheese", "soup" newline "130".
pub fn joined<'a>(input: Tokens<'a>, segments: &[Segment]) -> Vec<Tokens<'a>> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut before = Content::Both;
    for segment in segments {
        let tokens = input.range(segment.from, segment.to);
        let here = content(tokens);
        let prepared = !segment.soft
            && before == Content::Both
            && here == Content::Name
            && is_preparation(tokens.trimmed());
        if prepared && !out.is_empty() {
            continue;
        }
        let name_first = !may_begin(without_fillers(tokens.trimmed()));
        let joins = match (segment.soft, before, here) {
            (_, Content::Amount, Content::Name) | (_, Content::Name, Content::Amount) => true,
            (true, _, Content::Name) | (true, Content::Amount, _) => true,
            (true, Content::Name, Content::Both) => name_first,
            _ => false,
        };
        match out.last_mut() {
            Some(last) if joins => {
                last.1 = segment.to;
                before = before.and(here);
            }
            _ => {
                out.push((segment.from, segment.to));
                before = here;
            }
        }
    }
    out.into_iter()
        .map(|(from, to)| input.range(from, to))
        .collect()
}

/// What a segment holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Content {
    Amount,
    Name,
    Both,
}

impl Content {
    fn and(self, other: Self) -> Self {
        if self == other { self } else { Self::Both }
    }
}

fn content(input: Tokens<'_>) -> Content {
    let input = without_fillers(input.trimmed());
    let Ok(pieces) = item::pieces(input) else {
        return Content::Both;
    };
    let amount = pieces
        .iter()
        .any(|piece| matches!(piece, item::Piece::Amount { .. }));
    let name = pieces
        .iter()
        .any(|piece| matches!(piece, item::Piece::Name(_)));
    match (amount, name) {
        (true, false) => Content::Amount,
        (false, true) => Content::Name,
        _ => Content::Both,
    }
}
