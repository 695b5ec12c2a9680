//! Where food stands, as it is said beside a dish: "rice in the freezer", "the freezer rice".
//!
//! ```text
//! stands := dish ("in" | "from") ["the"] place | ["the"] place dish
//! ```

use super::lexer::lex;
use super::name;
use super::syntax::{PlaceKind, Words};
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::{PLACE_WORDS_MAX, Sense};
use super::words::places;

/// What kind of place a name tells by how it ends; `None`: it tells nothing.
pub fn place_kind(name: &str) -> Option<&'static str> {
    let said = lex(name);
    let kind = |at: usize| {
        let (length, kind) = places().longest(&said[at..])?;
        (at + length == said.len()).then_some(kind)
    };
    (0..said.len()).find_map(kind).filter(|kind| *kind != ANY)
}

/// It ends as the name of a place does, whether the household has told of it or not: "cellar", "garage freezer".
pub fn may_be_place(name: &str) -> bool {
    let said = lex(name);
    let ends = |at: usize| {
        let longest = places().longest(&said[at..]);
        longest.is_some_and(|(length, _)| at + length == said.len())
    };
    said.len() <= PLACE_WORDS_MAX && (0..said.len()).any(ends)
}

/// A place that every kitchen has, by its whole name: "freezer" and not "garage freezer".
pub fn is_common_place(name: &str) -> bool {
    let said = lex(name);
    let whole = places().longest(&said);
    whole.is_some_and(|(length, kind)| length == said.len() && kind != ANY)
}

/// The key of places that may be as cold as one likes.
const ANY: &str = "any";

/// Whether a name is that of a place, known or not: by its last word, or by the household.
pub fn names_place(name: &str, input: Tokens<'_>) -> bool {
    let said = lex(name);
    is_place(input.with_tokens(&said))
}

/// "a fridge", "like a freezer", "not cold": how cold it is somewhere, and nothing else.
pub fn kind_alone(input: Tokens<'_>) -> Option<PlaceKind> {
    let idle = |token: &&Token| {
        matches!(
            token.norm(),
            "a" | "an"
                | "as"
                | "like"
                | "the"
                | "our"
                | "its"
                | "it"
                | "is"
                | "which"
                | "another"
                | "second"
                | "cold"
                | "cool"
                | "kept"
                | "place"
                | "kind"
                | "of"
                | "really"
                | "just"
                | "basically"
                | "works"
                | "counts"
        )
    };
    let input = input.trimmed();
    if matches!(
        (input.norm(0), input.norm(1)),
        ("not", "cold" | "cool" | "chilled")
    ) && input.len() == 2
    {
        return Some(PlaceKind::Counter);
    }
    let rest = input.after(input.slice.iter().take_while(idle).count());
    let (length, kind) = places().longest(rest.slice)?;
    let behind = rest.after(length);
    let closed = behind.trimmed().is_empty() || behind.len() == 1 && behind.norm(0) == "like";
    let kind = match kind {
        "fridge" => PlaceKind::Fridge,
        "freezer" => PlaceKind::Freezer,
        "counter" => PlaceKind::Counter,
        _ => return None,
    };
    closed.then_some(kind)
}

/// Without ", like a fridge" at the end.
pub fn without_kind(input: Tokens<'_>) -> (Tokens<'_>, Option<PlaceKind>) {
    let input = input.trimmed_end();
    let begins = |at: &usize| {
        let like = matches!(input.norm(*at), "like" | "which" | "its" | "it");
        let not = input.norm(*at) == "not" && input.norm(at + 1) == "cold";
        like || not
    };
    let found = (1..input.len())
        .filter(begins)
        .find_map(|at| Some((at, kind_alone(input.after(at))?)));
    match found {
        Some((at, kind)) => (input.range(0, at).trimmed_end(), Some(kind)),
        None => (input, None),
    }
}

/// The whole is the name of a place.
pub fn is_place(said: Tokens<'_>) -> bool {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    if words.is_empty() || words.len() > PLACE_WORDS_MAX || !said.is_wordy() {
        return false;
    }
    let known = said.vocabulary.is(Sense::Place, &words);
    let kind = |at: &usize| {
        let longest = places().longest(&said.slice[*at..]);
        longest.is_some_and(|(length, _)| at + length == words.len())
    };
    // "garage freezer": the kind of place stands last. Words of a dish before it make a dish of it.
    match (0..words.len()).find(kind) {
        Some(0) => true,
        Some(_) => known || !said.vocabulary.is_batch(&words),
        None => known,
    }
}

/// "in the freezer" at the front: what follows, and the place.
pub fn inside<'a>(input: Tokens<'a>) -> Option<(Tokens<'a>, Words)> {
    if !matches!(input.norm(0), "in" | "from" | "inside") {
        return None;
    }
    let said = without_article(input.after(1));
    let length = (1..=PLACE_WORDS_MAX.min(said.len()))
        .rev()
        .find(|&length| is_place(said.range(0, length)))?;
    Some((said.after(length), said.range(0, length).words()))
}

/// A dish of the household with the place that it stands in, and nothing else.
pub fn dish_in(said: Tokens<'_>) -> Option<(Words, Words)> {
    let said = said.trimmed();
    for at in 1..said.len() {
        if let Some((rest, place)) = inside(said.after(at))
            && rest.trimmed().is_empty()
        {
            return Some((name::of_batch(said.range(0, at))?, place));
        }
    }
    let said = without_article(said);
    // A dish may well be called "freezer chilli".
    if by_name(said).is_some() {
        return None;
    }
    let most = PLACE_WORDS_MAX.min(said.len().saturating_sub(1));
    let length = (1..=most)
        .rev()
        .find(|&length| is_place(said.range(0, length)))?;
    Some((
        name::of_batch(said.after(length))?,
        said.range(0, length).words(),
    ))
}

/// A dish of the household, and the place that it stands in, if that is said.
pub fn dish(said: Tokens<'_>) -> Option<(Words, Option<Words>)> {
    let alone = || by_name(said).map(|dish| (dish, None));
    alone().or_else(|| dish_in(said).map(|(dish, place)| (dish, Some(place))))
}

/// A dish by its name alone: "freezer rice" is rice, unless a dish is called so.
pub fn by_name(said: Tokens<'_>) -> Option<Words> {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    name::of_batch(said).filter(|_| said.vocabulary.place_of_dish(&words) == 0)
}

fn without_article(said: Tokens<'_>) -> Tokens<'_> {
    said.after(usize::from(matches!(said.norm(0), "the" | "our" | "my")))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "fridge pickle"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words
    }

    #[track_caller]
    fn counts(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_say_where_it_stands() {
        let freezer = "recount: rice in the freezer 560 g";
        for text in [
            "rice in the freezer weighs 560",
            "recount rice in the freezer 560",
            "recount: freezer rice 560 g",
            "recount rice 560 in the freezer",
            "Recount rice in freezer is 560",
            "recount freezer: rice 560",
            "recount\nin the freezer:\nrice 560",
            "recount: 560 g rice in the freezer",
            "560 rice left in the freezer",
            "rice in the freezer: 560 left",
            "the freezer rice weighs 560",
            "freezer rice is 560",
        ] {
            counts(text, freezer);
        }
        counts(
            "recount garage freezer: rice 560, dal 300",
            "recount: rice in the garage freezer 560 g; dal in the garage freezer 300 g",
        );
        counts(
            "no rice left in the freezer",
            "recount: rice in the freezer 0 g",
        );
        counts("recount: fridge pickle 300", "recount: fridge pickle 300 g");
        counts(
            "checked the dal in the freezer again: 1355",
            "recount: dal in the freezer 1355 g",
        );
    }
}
