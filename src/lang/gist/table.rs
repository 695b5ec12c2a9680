//! A table told among other words: "Of the 600 g of soup ladled out, Tom, who was hungry, had twice what I had".
//!
//! Who had what, when, and how it was shared is read as in `command/share/`, with the words between passed over;
//! that it was eaten, and that nothing forbids to think so, is judged as for any sentence.

use super::evidence::is_told_of_a_table;
use super::scale::{is_vessel, known_vessel, says};
use super::sentence::Sentence;
use crate::lang::command::share;
use crate::lang::lexer::folded_words;
use crate::lang::person::person;
use crate::lang::rank;
use crate::lang::syntax::{OTHERS, Portion, Reading, Reason, Words};
use crate::lang::vocabulary::Sense;

/// The plates of the table, if they are sure.
pub fn read(sentence: &Sentence<'_>, rank: i32) -> Option<Reading> {
    let plates = share::freely(sentence.input)?;
    // "salsa after Tom, jar 580": whom it was taken after.
    let input = sentence.input;
    let after = |at: usize| matches!(input.norm(at), "after" | "before");
    if (0..input.len()).any(|at| after(at) && person(input.after(at + 1)).is_some()) {
        return None;
    }
    let all = 0..sentence.marks.len();
    if known_vessel(sentence, all).is_some() && is_gross(sentence) {
        return None;
    }
    if !is_told_of_a_table(sentence, &plates.comments)
        || share::is_sigh(sentence.input, &plates.portions)
    {
        return None;
    }
    // Whom nobody knows is a guest only where the whole message says so.
    let stranger = |who: &Words| {
        let words = folded_words(&who.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        who.text != OTHERS && !sentence.input.vocabulary.is(Sense::Person, &words)
    };
    if plates
        .portions
        .iter()
        .flat_map(Portion::people)
        .any(stranger)
    {
        return None;
    }
    let shared = |portion: &Portion| portion.who.is_some() || portion.share.is_some();
    if !plates.portions.iter().any(shared) {
        return None;
    }
    let mut reading = rank::plates(sentence.input, rank, plates);
    reading.reasons.push(Reason::Cut("table"));
    reading.rank = rank;
    reading.sure.then_some(reading)
}

/// "640 with the bowl" is not what anybody ate.
pub fn is_gross(sentence: &Sentence<'_>) -> bool {
    let input = sentence.input;
    let vessel = |at: usize| (at + 1..at + 4).any(|next| is_vessel(input.norm(next)));
    let with = |at: usize| matches!(input.norm(at), "with" | "incl" | "including" | "w");
    let said = says(sentence, 0..sentence.marks.len(), "gross");
    said || (0..input.len()).any(|at| with(at) && vessel(at))
}
