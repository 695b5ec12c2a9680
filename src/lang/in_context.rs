//! A message asked about what the books hold: with what it leaves out put in its place, divided, or held against the plates.

use super::answer::lexed;
use super::command::batch;
use super::elided::{self, Completion, Known};
use super::lexer::folded_words;
use super::of_plates::{self, OfPlates};
use super::syntax::{Eater, Item, NewBatch, Part, Words};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::{Parsed, address, composed, gist, read, readable, tokens};

/// Read a message with what it leaves out put in its place; `None` where it leaves nothing out.
pub fn completed(
    text: &str,
    vocabulary: &Vocabulary,
    known: &Known,
    how: Completion,
) -> Option<Parsed> {
    let text = readable(text);
    let mut tokens = tokens(text, vocabulary);
    address::drop_mention(&mut tokens);
    let input = Tokens::unread(&tokens, text, vocabulary);
    let mut told = elided::complete(input, known, how)?;
    Some(read(&mut told, text, vocabulary))
}

/// The parts of what stands on the plate of this owner, in grams, if the message divides it.
pub fn parted(
    text: &str,
    vocabulary: &Vocabulary,
    held: &Item,
    owner: &Eater,
) -> Option<Vec<(Part, f64)>> {
    let text = readable(text);
    let mut tokens = tokens(text, vocabulary);
    address::drop_mention(&mut tokens);
    let input = Tokens::unread(&tokens, text, vocabulary);
    composed::parted(input, held, owner)
}

/// Whether it says by its words that it goes on with a jar that stands there, whoever weighed it: "jar's at 615", "3002
/// after me".
pub fn hands_on(text: &str) -> bool {
    let said = |word: &str| matches!(word, "me" | "mine" | "myself") || gist::is_vessel(word);
    folded_words(text).iter().any(|word| said(word))
}

/// Food behind a name, of which nothing tells whether it is a pot or a plate.
pub fn of_either(text: &str, vocabulary: &Vocabulary) -> Option<NewBatch> {
    lexed(text, vocabulary, |input| {
        batch::of_either(address::without(input).0)
    })
}

/// As much as somebody else, beside what is on the plate, or only begun: what the plates must tell.
pub fn of_plates(text: &str, vocabulary: &Vocabulary) -> Option<OfPlates> {
    lexed(text, vocabulary, of_plates::read)
}

/// What was eaten out of a pot, if nothing is said of what.
pub fn of_what(text: &str, vocabulary: &Vocabulary) -> Option<Words> {
    lexed(text, vocabulary, super::of_what::read)
}

/// Whether it goes on with a pot that is being filled, by its own words: "and 2 onions".
pub fn goes_on(text: &str) -> bool {
    lexed(text, &Vocabulary::new(), elided::goes_on)
}
