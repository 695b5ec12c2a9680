//! Who is meant: people of the household, guests by name, and strangers whom the domain asks about.

use super::lexicon::is_food_word;
use super::syntax::Words;
use super::tokens::Tokens;
use super::vocabulary::Sense;
use super::words::{fillers, measures, not_people, number_words, talk, vetoes};

/// Somebody by name: a person of the household, or "guest Tom". Gives how many words it took.
pub fn person(input: Tokens<'_>) -> Option<(usize, Words)> {
    let words: Vec<&str> = input
        .slice
        .iter()
        .take(3)
        .map(|token| token.norm())
        .take_while(|norm| !norm.is_empty())
        .collect();
    let known = (1..=words.len())
        .rev()
        .find(|&length| input.vocabulary.is(Sense::Person, &words[..length]));
    if let Some(length) = known {
        let mut who = input.range(0, length).words();
        // "Ana's" is Ana, and so is "Anas" where there is no such name.
        for ending in ["'s", "’s"] {
            who.text = who.text.trim_end_matches(ending).to_owned();
        }
        let last = words[length - 1];
        if last.ends_with('s')
            && input
                .vocabulary
                .is_spelled(Sense::Person, &last[..last.len() - 1])
        {
            who.text = who.text.trim_end_matches(['s', 'S']).to_owned();
        }
        return Some((length, who));
    }
    if words.len() >= 2 && words[0] == "guest" {
        return Some((2, input.range(0, 2).words()));
    }
    let owner = words.first()?.strip_suffix('s')?;
    if !input.vocabulary.is(Sense::Person, &[owner]) {
        return None;
    }
    let mut who = input.range(0, 1).words();
    let name = who
        .text
        .trim_end_matches(['s', 'S'])
        .trim_end_matches(['\'', '’']);
    who.text = name.to_owned();
    Some((1, who))
}

/// Somebody whom the household does not know yet: "for Tom", "Tom had".
pub fn stranger(input: Tokens<'_>) -> Option<Words> {
    let norm = input.norm(0);
    let letters = norm.len() >= 2 && norm.chars().all(char::is_alphabetic);
    let taken = not_people().has(norm)
        || talk().has(norm)
        || fillers().has(norm)
        || measures().has(norm)
        || number_words().has(norm)
        || input.vocabulary.has_word(norm)
        || is_food_word(norm)
        || vetoes().has(norm);
    (letters && !taken).then(|| input.range(0, 1).words())
}
