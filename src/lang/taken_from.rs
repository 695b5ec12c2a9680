//! From where a dish is taken, told behind it: "140 dal from the freezer" is 140 "freezer dal", "rest of the soup
//! (out of the garage freezer)" the rest of the "garage freezer soup". Before anything is read, the place is put
//! before the dish, where every reader looks for what chooses, as `which` does with its pots.
//!
//! ```text
//! told := dish [amount] ["("] lead place [pot] [")"]
//! ```
//! Food that is put elsewhere keeps its words: a move tells both of its places.

use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{PLACE_WORDS_MAX, Vocabulary};
use super::which::{dish_at_end, is_article, is_counted};
use super::words::{choosers, containers, explained, moves, places, selectors};

/// Between a dish and where it is taken from stand no more words of an amount than these.
const BETWEEN_MAX: usize = 5;

/// Behind the place: it is moved on from there, or something is said of it.
const GOES_ON: [&str; 13] = [
    "to", "into", "in", "onto", "on", "is", "are", "was", "were", "has", "had", "isnt", "wasnt",
];

/// Put the place before its dish, in place.
pub fn choose(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 1;
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some(told) = told(input, at) else {
            at += 1;
            continue;
        };
        let place = tokens[told.place.clone()].to_vec();
        let length = place.len();
        tokens.drain(told.all);
        put_before(tokens, told.dish, &place);
        at = told.dish + length;
        // "140 dal and 180 rice from the freezer": both of them.
        if let Some(first) = told.with {
            put_before(tokens, first, &place);
            at += length;
        }
    }
}

/// Put the place before the dish that begins here.
fn put_before(tokens: &mut Vec<Token>, dish: usize, place: &[Token]) {
    let stands = tokens[dish].span.start;
    let mut spaced = tokens[dish].spaced;
    let words: Vec<Token> = place
        .iter()
        .map(|token| {
            let word = Kind::Word(token.norm().to_owned());
            Token::new(word, stands..stands, std::mem::replace(&mut spaced, true))
        })
        .collect();
    tokens[dish].spaced = true;
    tokens.splice(dish..dish, words);
}

struct Told {
    /// Everything that tells it.
    all: std::ops::Range<usize>,
    place: std::ops::Range<usize>,
    /// Where the dish begins, with the words that choose among its pots.
    dish: usize,
    /// The same of the dish that it is joined to, where nothing parts them.
    with: Option<usize>,
}

fn told(input: Tokens<'_>, at: usize) -> Option<Told> {
    let lead = choosers().longest_of(input.after(at).slice, "stands")?;
    let from = at + lead;
    let rest = input.after(from).slice.iter();
    let words: Vec<&str> = rest.take(PLACE_WORDS_MAX).map(Token::norm).collect();
    // What somebody ate "out of the steel bowl" may have been weighed with it.
    let length = match input.norm(at) {
        "from" => input.vocabulary.stand_in_front(&words),
        _ => input.vocabulary.place_in_front(&words),
    };
    // "300 chilli out of the freezer", where nobody eats: it is taken out to thaw.
    let out = input.norm(at) != "from";
    let frozen = (from..from + length).any(|at| {
        places()
            .longest_of(input.after(at).slice, "freezer")
            .is_some()
    });
    if out && frozen && !explained().stand_in(input.slice, "eats") {
        return None;
    }
    let mut end = from + length;
    if length == 0 || GOES_ON.contains(&input.norm(end)) {
        return None;
    }
    // "dal from the steel bowl, 415 with the bowl": told of twice, it was on the scale.
    let noun = input.norm(end - 1);
    let again = input
        .after(end)
        .slice
        .iter()
        .any(|token| token.norm() == noun);
    if containers().has(noun) && again {
        return None;
    }
    // "from the freezer batch"
    end += choosers()
        .longest_of(input.after(end).slice, "pot")
        .unwrap_or(0);
    let opened = at > 0 && input.slice[at - 1].is('(');
    let closed = input.get(end).is_some_and(|token| token.is(')'));
    end += usize::from(opened && closed);
    let start = at - usize::from(opened && closed);
    let behind = input.slice[..start].iter().rev();
    let amount = behind
        .take_while(|token| is_counted(token))
        .take(BETWEEN_MAX);
    let mut dish = dish_at_end(input.range(0, start - amount.count()))?;
    while dish > 0 && selectors().has(input.norm(dish - 1)) && !is_article(input.norm(dish - 1)) {
        dish -= 1;
    }
    let ends = |token: &Token| matches!(token.kind, Kind::Newline | Kind::Symbol(_));
    let last = input.get(end).is_none_or(ends);
    (!is_moved(input.range(0, dish))).then(|| Told {
        all: start..end,
        place: from..from + length,
        with: joined(input, dish).filter(|_| last),
        dish,
    })
}

/// Where the dish begins that this one is joined to: "140 dal and 180 rice".
fn joined(input: Tokens<'_>, dish: usize) -> Option<usize> {
    let amount = |token: &&Token| is_counted(token) || matches!(token.norm(), "of" | "the");
    let before = input.slice[..dish].iter().rev().take_while(amount).count();
    let joint = (dish - before).checked_sub(1).filter(|_| before > 0)?;
    let joins = input.norm(joint) == "and" || input.slice[joint].is('&');
    let first = dish_at_end(input.range(0, joint)).filter(|_| joins)?;
    let words: Vec<&str> = input
        .range(0, first)
        .slice
        .iter()
        .map(Token::norm)
        .collect();
    // It has a place of its own.
    let placed = (0..words.len()).any(|at| {
        let length = input.vocabulary.stand_in_front(&words[at..]);
        length > 0 && at + length == words.len()
    });
    (first > 0 && !placed).then_some(first)
}

/// Something that is moved stands before it in its sentence.
fn is_moved(before: Tokens<'_>) -> bool {
    let ends = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol('.' | ';' | '!' | '?')
        )
    };
    let from = before.slice.iter().rposition(ends).map_or(0, |at| at + 1);
    let sentence = &before.slice[from..];
    let moved = |at: usize| moves().longest(&sentence[at..]);
    (0..sentence.len()).any(|at| moved(at).is_some_and(|(_, key)| key != "out"))
}

#[cfg(test)]
mod tests {
    use crate::lang::Vocabulary;
    use crate::lang::spelled::surely_means;
    use crate::lang::vocabulary::Sense;

    #[track_caller]
    fn reads(text: &str, printed: &str) {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "beef chilli"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Container, "glass jar");
        surely_means(text, &words, printed);
    }

    #[test]
    fn a_place_behind_a_dish_chooses_its_lot() {
        reads("140 dal from the freezer", "140 freezer dal");
        reads("had 140 g dal out of the freezer", "140 g freezer dal");
        reads(
            "140 g dal out of the freezer",
            "thaw 140 g dal from the freezer",
        );
        reads("dal from the freezer 140", "140 freezer dal");
        reads(
            "dal 140 g from the garage freezer",
            "140 g garage freezer dal",
        );
        reads("140 dal (from the freezer)", "140 freezer dal");
        reads(
            "140 dal from the freezer, 180 rice",
            "140 freezer dal, 180 rice",
        );
        reads(
            "180 rice, 140 dal from the freezer",
            "180 rice, 140 freezer dal",
        );
        reads("had 140 old dal from the freezer", "140 freezer old dal");
        reads("half the dal from the freezer", "50% of the freezer dal");
        reads(
            "rest of the chilli from the garage freezer",
            "all the garage freezer chilli",
        );
        reads(
            "binned 120 rice from the fridge, slimy",
            "binned 120 fridge rice, slimy",
        );
        reads(
            "140 dal and 180 rice from the freezer",
            "140 freezer dal, 180 freezer rice",
        );
        reads(
            "140 dal and 180 rice from the freezer, 90 chilli",
            "140 freezer dal, 180 freezer rice, 90 chilli",
        );
        reads("140 frozen dal", "140 frozen dal");
        reads("140 freezer dal", "140 freezer dal");
        reads(
            "300 dal from the freezer for two",
            "300 freezer dal split between 2 of us",
        );
    }

    #[test]
    fn a_vessel_behind_a_dish_chooses_its_lot() {
        reads("140 dal from the glass jar", "140 glass jar dal");
        reads(
            "half the dal from the glass jar",
            "50% of the glass jar dal",
        );
        reads(
            "binned 120 rice from the glass jar, slimy",
            "binned 120 glass jar rice, slimy",
        );
        reads("140 glass jar dal", "140 glass jar dal");
    }

    #[test]
    fn a_move_keeps_its_places() {
        reads(
            "took 400 g chilli out of the freezer",
            "thaw 400 g chilli from the freezer",
        );
        reads(
            "moved 100 dal from the garage freezer to the fridge",
            "move 100 dal from the garage freezer to the fridge",
        );
    }
}
