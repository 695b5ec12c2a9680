//! How many pieces a dish is that stands here: "lasagne cut into 8 slices", "the meatballs are 14", "cut the lasagne
//! into 8", "14 meatballs, 610 g".
//!
//! ```text
//! pieces := dish ["," | ":"] cut n [word] [weight] | done dish ("in" | "into") n [word]
//!         | ("that" | "it") makes n [word]
//!         | there n dish [weight] | n dish link weight | n dish "left" weight | dish n "left" weight
//! ```
//! A number and a dish alone are a plate, and so are a few with their weight, if the dish is counted already: the
//! domain tells.

use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::pieces::{piece_word, whole_number};
use crate::lang::syntax::{Command, Pieces, PiecesOf, Weighing, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::singular;
use crate::lang::words::{counted_out, left};

/// More is a weight, where nothing says what is counted.
const PIECES_MAX: u32 = 100;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let read = dish_first(body)
        .or_else(|| done(body))
        .or_else(|| left_of_them(body))
        .or_else(|| of_it(body))
        .or_else(|| number_first(body));
    match read {
        Some(of) => Ok((input.after(input.len()), Command::Pieces(of))),
        None => input.no(),
    }
}

/// "the lasagne is cut into 8 slices", "meatballs: 14 pieces, 610 g"
fn dish_first(input: Tokens<'_>) -> Option<PiecesOf> {
    (1..input.len().min(8)).find_map(|at| {
        let batch = name::of_batch(input.range(0, at))?;
        let rest = input.after(at).without_lead();
        let colon = rest.len() < input.len() - at;
        let length = counted_out().longest_of(rest.slice, "cut");
        if length.is_none() && !colon {
            return None;
        }
        let (rest, pieces) = counted_of(
            rest.after(length.unwrap_or(0)),
            input.range(0, at),
            length.is_some(),
        )?;
        let weighing = weight(rest)?;
        Some(PiecesOf {
            batch,
            pieces,
            weighing,
            told: true,
            left: false,
        })
    })
}

/// "cut the lasagne into 8 slices"
fn done(input: Tokens<'_>) -> Option<PiecesOf> {
    let skip = input
        .slice
        .iter()
        .take_while(|token| matches!(token.norm(), "i" | "we" | "ive" | "weve" | "just"))
        .count();
    let body = input.after(skip);
    let length = counted_out().longest_of(body.slice, "done")?;
    let body = body.after(length);
    let into = body.find(|token| matches!(token.norm(), "into" | "in"))?;
    let said = body.range(0, into);
    let batch = name::of_batch(said)?;
    let (rest, pieces) = counted_of(body.after(into + 1), said, true)?;
    rest.trimmed().is_empty().then_some(PiecesOf {
        batch,
        pieces,
        weighing: None,
        told: true,
        left: false,
    })
}

/// "there are 14 meatballs", "14 meatballs, 610 g"
fn number_first(input: Tokens<'_>) -> Option<PiecesOf> {
    let length = counted_out().longest_of(input.slice, "there");
    let rest = input.after(length.unwrap_or(0));
    let (behind, count) = whole_number(rest)?;
    (1..=behind.len().min(6)).rev().find_map(|at| {
        let said = behind.range(0, at);
        let batch = name::of_batch(said).filter(|_| said.is_wordy())?;
        let weighing = weight(behind.after(at))?;
        // "3 dal, 180" counts nothing: what is counted has a plural.
        let plural = said
            .last()
            .is_some_and(|last| singular(last.norm()) != last.norm());
        if !plural || weighing.is_none() && length.is_none() {
            return None;
        }
        Some(PiecesOf {
            batch,
            pieces: Pieces { count, word: None },
            weighing,
            told: length.is_some(),
            left: false,
        })
    })
}

/// "that made 14": of the pot that is in hand.
fn of_it(input: Tokens<'_>) -> Option<PiecesOf> {
    let length = counted_out().longest_of(input.slice, "makes")?;
    let told = matches!(input.norm(0), "that" | "it") && length > 1;
    let (rest, count) = whole_number(input.after(length))?;
    let (rest, word) = match rest.trimmed().is_empty() {
        true => (rest, None),
        false => piece_word(rest, rest.range(0, 0))?,
    };
    let whole = rest.trimmed().is_empty() && (2..PIECES_MAX).contains(&count);
    (told && whole).then_some(PiecesOf {
        batch: Words::new("it".to_owned(), input.range(0, 1).span()),
        pieces: Pieces { count, word },
        weighing: None,
        told: true,
        left: false,
    })
}

/// "9 meatballs left, 350 g", "meatballs: 9 left (350 g)"
fn left_of_them(input: Tokens<'_>) -> Option<PiecesOf> {
    let lead = ["counted", "lead"];
    let lead = lead
        .iter()
        .filter_map(|key| left().longest_of(input.slice, key));
    let input = input.after(lead.max().unwrap_or(0));
    let of_dish = |said: Tokens<'_>| name::of_batch(said).filter(|_| said.is_wordy());
    let (batch, count, behind) = match whole_number(input) {
        Some((rest, count)) => {
            let end = (1..=rest.len().min(6)).find(|&at| {
                let left = left().longest_of(rest.after(at).slice, "left");
                left.is_some() && of_dish(rest.range(0, at)).is_some()
            })?;
            (of_dish(rest.range(0, end))?, count, rest.after(end))
        }
        None => {
            let at = input.find(Token::is_numeric)?;
            let (rest, count) = whole_number(input.after(at))?;
            (of_dish(input.range(0, at).trimmed())?, count, rest)
        }
    };
    let behind = behind.after(left().longest_of(behind.slice, "left")?);
    let weighing = weight(behind)?;
    let told = weighing.is_some() && count < PIECES_MAX;
    told.then_some(PiecesOf {
        batch,
        pieces: Pieces { count, word: None },
        weighing,
        told: true,
        left: true,
    })
}

/// "8 slices", or "8" alone where a verb told what it counts.
fn counted_of<'a>(input: Tokens<'a>, dish: Tokens<'_>, told: bool) -> Option<(Tokens<'a>, Pieces)> {
    let (rest, count) = whole_number(input)?;
    match piece_word(rest, name::bare(dish)) {
        // "parsnips, 210 of them" weighs them.
        Some((rest, word)) if word.is_some() || count < PIECES_MAX => {
            Some((rest, Pieces { count, word }))
        }
        Some(_) => None,
        None if told && count < PIECES_MAX && rest.trimmed().is_empty() => {
            Some((rest, Pieces { count, word: None }))
        }
        None => None,
    }
}

/// What is told behind the pieces: nothing, or what they weigh.
fn weight(input: Tokens<'_>) -> Option<Option<Weighing>> {
    let rest = input.trimmed();
    if rest.is_empty() {
        return Some(None);
    }
    let verb = key_phrase("weigh", rest).map_or(0, |(after, ())| rest.len() - after.len());
    let link = matches!(rest.norm(0), "at" | "of" | "total")
        || rest.slice[0].is('=')
        || rest.slice[0].is('(');
    let said = rest.after(verb.max(usize::from(link)));
    let close = said.last().is_some_and(|last| last.is(')'));
    let said = said.range(0, said.len() - usize::from(close));
    let (rest, grams) = crate::lang::amount::grams(said).ok()?;
    let whole = rest.trimmed().is_empty()
        || matches!(rest.norm(0), "total" | "altogether" | "net") && rest.len() == 1;
    whole.then(|| Some(Weighing::net(grams, said.span())))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary};

    #[track_caller]
    fn reads(text: &str, printed: &str) {
        let kitchen = Vocabulary::new()
            .with(Sense::Batch, "beef meatballs")
            .with(Sense::Batch, "lasagne");
        surely_means(text, &kitchen, printed);
    }

    #[test]
    fn many_ways_to_count_a_dish() {
        reads("lasagne cut into 8 slices", "lasagne is 8 slice");
        reads("the lasagne is cut into 8", "lasagne is 8 piece");
        reads("cut the lasagne into 8 slices", "lasagne is 8 slice");
        reads("lasagne: 8 slices", "lasagne is 8 slice");
        reads("lasagne makes 8 portions", "lasagne is 8 portion");
        reads("there are 14 meatballs", "meatballs is 14 piece");
        reads("meatballs makes 14", "meatballs is 14 piece");
        reads("14 meatballs, 610 g", "14 meatballs, 610 g");
        reads("14 beef meatballs weigh 610 g", "14 beef meatballs, 610 g");
        for text in [
            "9 meatballs left, 350 g",
            "9 meatballs left (350 g)",
            "there are 9 meatballs left, 350 g",
            "meatballs: 9 left, 350 g",
        ] {
            reads(text, "9 meatballs left, 350 g");
        }
    }
}
