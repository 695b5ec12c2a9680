//! Where a dish stands, said by itself: "dal in the fridge", "620 dal, freezer", "put the chilli in the freezer". The
//! books tell whether that is told or asked of somebody (`domain/decide/stated.rs`).
//!
//! ```text
//! stated := [amount | "all" | "rest of"] dish { "and" dish } ["is" | "back" | "only"] ["in" | "to"] place [aside]
//! put    := verb that asks, and the same
//! aside  := "to cool" | "for now" | ... of data/moves.txt
//! ```

use crate::lang::command::meant_for::{without_idle, without_please};
use crate::lang::command::moved_items::items;
use crate::lang::command::moving::{moved, without_lead};
use crate::lang::command::whither::without_out;
use crate::lang::lexer::folded_words;
use crate::lang::place::is_place;
use crate::lang::syntax::{Command, Destination, Move, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::PLACE_WORDS_MAX;
use crate::lang::words::{moves, places};

/// Where it stands now.
pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    loosely(input, |verb| matches!(verb, None | Some("stays")))
}

/// The same, as it is asked of somebody or told of oneself: "put the chilli in the freezer".
pub fn read_put(input: Tokens<'_>) -> Read<'_, Command> {
    loosely(input, |verb| matches!(verb, Some("asked" | "carry")))
}

fn loosely(input: Tokens<'_>, opens: impl Fn(Option<&str>) -> bool) -> Read<'_, Command> {
    let verb = moves().longest(without_lead(input.trimmed()).slice);
    if input.signed().is_some() || !opens(verb.map(|(_, key)| key)) {
        return input.no();
    }
    let body = without_aside(input.trimmed());
    let said = moved(body, true).or_else(|| at_a_bare_place(body));
    match said {
        Some(moved) if is_stated(&moved) => Ok((input.after(input.len()), Command::Move(moved))),
        _ => input.no(),
    }
}

/// Without "to cool", "for now" at the end.
fn without_aside(input: Tokens<'_>) -> Tokens<'_> {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        moves().longest_of(tail.slice, "aside") == Some(tail.len())
    };
    let end = (1..input.len()).find(ends).unwrap_or(input.len());
    input.range(0, end).trimmed_end()
}

/// "rest of the dal fridge", "the chilli is frozen": with no word that leads to the place.
fn at_a_bare_place(input: Tokens<'_>) -> Option<Move> {
    let body = without_idle(without_please(without_lead(input)));
    let verb = moves().longest(body.slice).map_or(0, |(length, _)| length);
    let body = body.after(verb);
    let moved = |before: Tokens<'_>, place: Words| {
        let items = items(without_out(before.trimmed_end()), &[], false)?;
        Some(Move::to(items, Destination::Place(place)))
    };
    if body.last().is_some_and(|last| last.norm() == "frozen") {
        return moved(body.range(0, body.len() - 1), Words::plain("freezer"));
    }
    let most = PLACE_WORDS_MAX.min(body.len().saturating_sub(1));
    (1..=most).rev().find_map(|length| {
        let at = body.len() - length;
        let place = body.after(at);
        is_place(place)
            .then(|| moved(body.range(0, at), place.words()))
            .flatten()
    })
}

/// One dish or two, and one place.
fn is_stated(moved: &Move) -> bool {
    let plain = moved.parts_grams.is_empty() && !moved.packed;
    // "half in the fridge, other half freezer" names no place of two words.
    let one_place = match &moved.to {
        Destination::Place(place) => {
            let words = folded_words(&place.text);
            let parts = |word: &String| {
                matches!(word.as_str(), "half" | "other" | "rest" | "and" | "third")
            };
            let kinds = words.iter().filter(|word| places().has(word)).count();
            !words.iter().any(parts) && kinds < 2
        }
        _ => false,
    };
    plain && one_place && moved.items.len() <= STATED_MAX
}

/// "dal and rice in the fridge".
const STATED_MAX: usize = 3;

#[cfg(test)]
mod tests {
    use crate::lang::syntax::{Command, Reason};
    use crate::lang::{Sense, Vocabulary, parse};

    /// What is stated, as canonical text, where nothing is sure.
    fn stated(text: &str) -> Option<String> {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "beef chilli"] {
            words.add(Sense::Batch, batch);
        }
        let parsed = parse(text, &words);
        assert!(!parsed.best().sure, "{text}: {:?}", parsed.best());
        let of = |reason: &Reason| matches!(reason, Reason::Verb("stated" | "put there"));
        let mut readings = parsed.readings.iter();
        let reading = readings.find(|it| it.reasons.iter().any(of))?;
        let veto = |reason: &Reason| matches!(reason, Reason::Veto(_));
        let quiet = !reading.reasons.iter().any(veto);
        quiet.then(|| reading.commands.iter().map(Command::to_string).collect())
    }

    #[test]
    fn many_ways_to_say_where_it_stands() {
        for text in [
            "dal in the fridge",
            "dal back in the fridge",
            "the dal is in the fridge",
            "put the dal in the fridge",
            "stick the dal in the fridge",
            "put away the dal, fridge",
            "rest of dal fridge",
            "dal only going in the fridge now",
            "dal in the fridge to cool",
        ] {
            let said = stated(text);
            assert_eq!(
                said.as_deref(),
                Some("move all the dal to the fridge"),
                "{text}"
            );
        }
        assert_eq!(
            stated("dal's in the fridge now").as_deref(),
            Some("move all the dal to the fridge")
        );
        assert_eq!(
            stated("500 dal fridge").as_deref(),
            Some("move 500 dal to the fridge")
        );
        assert_eq!(
            stated("the chilli is frozen now").as_deref(),
            Some("move all the chilli to the freezer")
        );
    }

    #[test]
    fn what_else_is_said_of_a_place_states_nothing() {
        for text in [
            "can someone put the dal in the fridge",
            "should the dal go in the fridge",
            "the dal in the fridge is for tom",
            "is the dal in the fridge?",
            "the fridge is full of dal",
        ] {
            assert_eq!(stated(text), None, "{text}");
        }
    }
}
