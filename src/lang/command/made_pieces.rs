//! A batch that is told by its pieces: "made 14 meatballs, 610 g, fridge", "24 falafel done, 720 g the lot".
//!
//! ```text
//! made := ["i" | "we"] verb n dish { sep part } | n dish done { sep part } | n dish { sep part }
//! part := mass ["each" | all] | place               (a mass, once, and where it stands)
//! ```
//! Without a verb, both parts tell it: "15 koftas, 675 g, in the fridge". What is in it nobody says, so its nutrients
//! are unknown. A dish that stands here is counted by it (`pieces.rs`).

use crate::lang::clause::{part_end, place};
use crate::lang::command::key_phrase;
use crate::lang::lexicon::is_food;
use crate::lang::name;
use crate::lang::pieces::{weight, whole_number};
use crate::lang::syntax::{Command, NewBatch, Pieces, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::singular;
use crate::lang::words::{boxes, counted_out, units};

/// "spinach and ricotta dumplings"
const NAME_WORDS_MAX: usize = 4;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match made(input.trimmed()) {
        Some(batch) => Ok((input.after(input.len()), Command::Batch(batch))),
        None => input.no(),
    }
}

fn made(input: Tokens<'_>) -> Option<NewBatch> {
    let lead = |token: &&Token| matches!(token.norm(), "i" | "we" | "ive" | "weve" | "just");
    let body = input.after(input.slice.iter().take_while(lead).count());
    let (body, verb) = match key_phrase("made", body) {
        Ok((rest, ())) => (rest.without_lead(), true),
        Err(_) => (body, false),
    };
    let (rest, count) = whole_number(body)?;
    let end = rest.find(parts).unwrap_or(rest.len());
    let (said, done) = without_done(rest.range(0, end));
    let dish = dish(said)?;
    let (mut weighing, mut places): (Option<Weighing>, Vec<Words>) = (None, Vec::new());
    let mut rest = rest.after(end);
    while !rest.is_empty() {
        if parts(&rest.slice[0]) && !rest.slice[0].is_numeric() {
            rest = rest.take_one();
            continue;
        }
        let part = rest.range(0, part_end(rest));
        match (place(part), weight(part, count)) {
            (Some(place), _) if places.is_empty() => places.push(place),
            (None, Some(Some(read))) if weighing.is_none() => weighing = Some(read),
            _ => return None,
        }
        rest = rest.after(part.len());
    }
    // So many on a plate stand nowhere.
    if !verb && !done && places.is_empty() {
        return None;
    }
    Some(NewBatch {
        name: dish,
        pieces: Some(Pieces { count, word: None }),
        weighings: vec![weighing?],
        places,
        ..NewBatch::default()
    })
}

fn parts(token: &Token) -> bool {
    let marks = matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | ':' | '=' | '(' | '.' | '-')
    );
    marks || token.is_numeric()
}

fn without_done(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let length = (1..input.len()).find(|&at| {
        let tail = input.after(at);
        counted_out().longest_of(tail.slice, "finished") == Some(tail.len())
    });
    match length {
        Some(at) => (input.range(0, at), true),
        None => (input, false),
    }
}

/// Something that is counted by its name: a plural, or a food that has none.
fn dish(said: Tokens<'_>) -> Option<Words> {
    let name = name::bare(said);
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    let last = words.last()?;
    let plural = singular(last) != *last || is_food(&[last]);
    let vessel = boxes().get(last).is_some() || units().has(words[0]) || words.contains(&"of");
    let known = name.vocabulary.is_batch(&words);
    let told = name.is_wordy() && words.len() <= NAME_WORDS_MAX && plural;
    (told && !vessel && !known).then(|| name.words())
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn many_ways_to_make_pieces() {
        let all = "batch falafel\ncooked 720 g\nmakes 24 piece\nfreezer";
        for text in [
            "made 24 falafel, 720 g, freezer",
            "24 falafel done, 720g the lot, straight into the freezer",
            "made 24 falafel: 720 g altogether, in the freezer",
            "24 falafel, 720 g, in the freezer",
            "24 falafel, 720 g, they are in the freezer",
            "we made 24 falafel, 30 g each, freezer",
            "just made 24 falafel (720 g), freezer",
        ] {
            surely_means(text, &Vocabulary::new(), all);
        }
    }

    #[test]
    fn what_makes_no_pieces() {
        for text in [
            "made 3 calls, 20 min",
            "made 14 meatballs",
            "14 meatballs, 610 g",
            "made 2 litres of stock, 1800 g",
            "made 4 boxes, 900 g",
            "made 12 trips, 40 km, exhausted",
            "made 14 meatballs, 610 g, delicious",
        ] {
            is_no(text, &Vocabulary::new(), |it| {
                matches!(it, Command::Batch(_))
            });
        }
    }
}
