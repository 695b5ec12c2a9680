//! What is put right in the same breath: "130 no wait 140 soup" says 140, "200 chili, no sorry that was 220"
//! says 220 of it, "140 dal.. actually no make that barley" says barley.
//!
//! ```text
//! repair := number [name] [","] taken-back [","] (number [name] | name)
//! ```
//! A name alone takes the place of a name only where words say so ("make that"), or where the first is no name
//! at all: "140 dal no rice" leaves the rice out.

use std::ops::Range;

use super::lexicon::is_food_word;
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{joiners, leads, measures, number_words, repairs};

/// Between a number and what takes it back stand no more words than these.
const NAME_TOKENS_MAX: usize = 5;
/// Nobody gives a longer reason.
const WHY_TOKENS_MAX: usize = 7;

/// Drop what was taken back, in place.
pub fn repair(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut from = 0;
    loop {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some((next, dropped)) = next_repair(input, from) else {
            return;
        };
        from = next;
        for range in dropped.into_iter().rev() {
            tokens.drain(range);
        }
    }
}

/// The next thing taken back: where to go on, and what to drop.
fn next_repair(input: Tokens<'_>, from: usize) -> Option<(usize, [Range<usize>; 2])> {
    let mut last_number: Option<Range<usize>> = None;
    let mut at = from;
    while at < input.len() {
        if let Some((length, key)) = repairs().longest(&input.slice[at..])
            && let Some(number) = &last_number
            && let Some(dropped) = taken_back(input, number.clone(), at..at + length, key)
        {
            return Some((number.start, dropped));
        }
        match number_length(input.after(at)) {
            0 => at += 1,
            length => {
                last_number = Some(at..at + length);
                at += length;
            }
        }
    }
    None
}

/// How many tokens are a number at the front.
fn number_length(input: Tokens<'_>) -> usize {
    number(input)
        .ok()
        .filter(|(_, number)| !number.article && number.value >= 1.0)
        .map_or(0, |(rest, _)| input.len() - rest.len())
}

/// What to drop when these words take back a number, or the name after it.
fn taken_back(
    input: Tokens<'_>,
    number: Range<usize>,
    words: Range<usize>,
    key: &str,
) -> Option<[Range<usize>; 2]> {
    let between = input.range(number.end, words.start);
    let end = between.len() - marks_at_end(between);
    let name = between.range(0, end);
    if name.len() > NAME_TOKENS_MAX
        || !name
            .slice
            .iter()
            .all(|token| matches!(token.kind, Kind::Word(_)))
    {
        return None;
    }
    let mut after = words.end;
    loop {
        let rest = input.after(after);
        let skip = match leads().longest(rest.slice) {
            _ if number_length(rest) > 0 => 0,
            Some((length, _)) => length,
            None => match marks_at_front(rest) {
                0 => why(rest, key, after == words.end),
                marks => marks,
            },
        };
        if skip == 0 {
            break;
        }
        after += skip;
    }
    let mut second = number_length(input.after(after));
    // "130. 130 soup": said twice, and once with its name.
    if second > 0 {
        let marks = marks_at_front(input.after(after + second));
        let again = input.after(after + second + marks);
        let same =
            marks > 0 && again.first().map(|it| &it.kind) == input.get(after).map(|it| &it.kind);
        if same && begins_name(again.after(number_length(again))) {
            after += second + marks;
            second = number_length(again);
        }
    }
    if second > 0 {
        let restated = begins_name(input.after(after + second));
        // "200 chili, no sorry that was 220": the name stays.
        return Some(match name.is_empty() || restated {
            true => [number.start..after, after..after],
            false => [number, words.start..after],
        });
    }
    // "156 and no beans" leaves the beans out.
    let joined = name.last().is_some_and(|last| joiners().has(last.norm()));
    let renamed = begins_name(input.after(after)) && !name.is_empty() && !joined;
    let was_name = begins_name(name);
    // "of the bean, sorry, of the barley"
    let repeated = input.norm(after) == "of";
    (renamed && (key == "renames" || repeated || !was_name))
        .then_some([number.end..after, after..after])
}

/// "no wait, the scale was still going, 130": why it was not so, up to a comma before another number; how many tokens.
fn why(rest: Tokens<'_>, key: &str, first: bool) -> usize {
    let told = |token: &Token| {
        let norm = token.norm();
        norm.is_empty()
            || number_words().holds(token)
            || input_names(rest, norm)
            || rest.vocabulary.is(Sense::Person, &[norm])
    };
    let length = rest.slice.iter().take_while(|token| !told(token)).count();
    let marks = marks_at_front(rest.after(length));
    let number = number_length(rest.after(length + marks)) > 0;
    let plain = first && key == "takes back" && (1..=WHY_TOKENS_MAX).contains(&length);
    match plain && marks > 0 && number {
        true => length,
        false => 0,
    }
}

fn input_names(input: Tokens<'_>, norm: &str) -> bool {
    input.vocabulary.names_food(norm) || is_food_word(norm)
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Symbol(',' | '.' | '-' | '!' | ';' | ':') | Kind::Newline
    )
}

fn marks_at_end(input: Tokens<'_>) -> usize {
    input
        .slice
        .iter()
        .rev()
        .take_while(|token| is_mark(token))
        .count()
}

fn marks_at_front(input: Tokens<'_>) -> usize {
    input
        .slice
        .iter()
        .take_while(|token| is_mark(token))
        .count()
}

/// A known name, perhaps after its unit.
fn begins_name(input: Tokens<'_>) -> bool {
    let unit = super::unit::unit(input).map_or(0, |(rest, _)| input.len() - rest.len());
    let rest = input.after(unit);
    let skip = rest
        .slice
        .iter()
        .take_while(|token| {
            matches!(token.norm(), "of" | "the" | "my" | "grams") || measures().holds(token)
        })
        .count();
    let norm = rest.norm(skip);
    !norm.is_empty() && (input.vocabulary.names_food(norm) || is_food_word(norm))
}
