//! Who is meant: people of the household, guests by name, and strangers whom the domain asks about.

use super::lexer::folded_words;
use super::lexicon::{is_food_word, is_ordinary};
use super::syntax::Words;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Sense;
use super::words::{
    calendar, cues, fillers, measures, not_people, number_words, people as people_words, talk,
    vetoes,
};

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
    let eats = |at: usize| cues().longest_of(input.after(at).slice, "eat").is_some();
    if words.len() >= 2 && words[0] == "guest" && !eats(1) {
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

/// People of the household and nobody else, "me" among them or not: how many, and the others by name.
pub fn people(input: Tokens<'_>) -> Option<(u32, Vec<Words>)> {
    let mut named = Vec::new();
    let (mut count, mut rest) = (0, input);
    while let Some(first) = rest.first() {
        let joins = matches!(first.norm(), "and" | "plus" | "n")
            || matches!(first.kind, Kind::Symbol(',' | '&' | '+'));
        if joins {
            rest = rest.take_one();
        } else if matches!(first.norm(), "me" | "myself" | "i" | "us") {
            count += 1;
            rest = rest.take_one();
        } else {
            let (length, who) = person(rest)?;
            named.push(who);
            count += 1;
            rest = rest.after(length);
        }
    }
    (count > 0).then_some((count, named))
}

/// Words that stand in talk and are nobody's name.
pub fn is_of_talk(norm: &str) -> bool {
    not_people().has(norm)
        || talk().has(norm)
        || fillers().has(norm)
        || measures().has(norm)
        || number_words().has(norm)
        || vetoes().has(norm)
}

/// Whether a word by itself may be what somebody is called, and no word of talk or of food.
pub fn may_be_a_name(word: &str) -> bool {
    match folded_words(word).as_slice() {
        [norm] => {
            let letters = norm.chars().count() >= 2 && norm.chars().all(char::is_alphabetic);
            letters && norm != "guest" && !is_of_talk(norm) && !is_food_word(norm)
        }
        _ => false,
    }
}

/// Somebody whom the household does not know, written as a name and no other word that is known here: "Gregor 100 dal".
pub fn by_capital(input: Tokens<'_>) -> Option<Words> {
    let first = input.first()?;
    let typed = input.text.get(first.span.clone())?;
    // "NDB 16069"
    let capital = typed.starts_with(char::is_uppercase) && typed.contains(char::is_lowercase);
    let unheard = first.listed().begins_none() && !is_ordinary(&[first.norm()]);
    let given = people_words()
        .longest_of(&input.slice[..1], "given name")
        .is_some();
    (capital && (unheard || given))
        .then(|| stranger(input))
        .flatten()
}

/// The same in lower case, where the message begins with it: "gregor 100 dal". What sounds like an adjective or an act is
/// none: "splendid 100 dal".
pub fn unheard(input: Tokens<'_>) -> Option<Words> {
    const ENDINGS: [&str; 16] = [
        "ed", "ing", "ly", "ful", "ous", "ish", "able", "ible", "ive", "less", "some", "est", "id",
        "ic", "al", "y",
    ];
    let first = input.first()?;
    let norm = first.norm();
    let opens = input.text[..first.span.start].trim().is_empty();
    let name = norm.len() >= 4 && !ENDINGS.iter().any(|ending| norm.ends_with(ending));
    let given = people_words()
        .longest_of(&input.slice[..1], "given name")
        .is_some();
    let unheard = first.listed().begins_none() && !is_ordinary(&[norm]);
    if !opens || !(given || name && unheard) {
        return None;
    }
    // What it is asked about as is written as a name.
    let mut who = stranger(input)?;
    let mut letters = who.text.chars();
    let capital = letters.next()?.to_uppercase();
    who.text = capital.chain(letters).collect();
    Some(who)
}

/// Somebody whom the household does not know yet: "for Tom", "Tom had".
pub fn stranger(input: Tokens<'_>) -> Option<Words> {
    let norm = input.norm(0);
    let letters = norm.len() >= 2 && norm.chars().all(char::is_alphabetic);
    let taken = is_of_talk(norm) || input.vocabulary.has_word(norm) || is_food_word(norm);
    (letters && !taken).then(|| input.range(0, 1).words())
}

/// Longer than that is nobody's name.
pub const NAME_WORDS_MAX: usize = 3;
const NAME_CHARS_MAX: usize = 40;

/// The whole as a name that somebody may have.
pub fn may_be_called(input: Tokens<'_>) -> Option<Words> {
    let name = input.trimmed();
    let last = name.len().checked_sub(1)?;
    let word = |(at, token): (usize, &Token)| {
        let norm = token.norm();
        let letters = norm.chars().all(char::is_alphabetic);
        let typed = input.text.get(token.span.clone()).unwrap_or_default();
        // "Mark", "Bill"
        let capital = typed.starts_with(char::is_uppercase);
        let plain = capital || !is_ordinary(&[norm]);
        let part = !is_of_talk(norm) && !calendar().has(norm) && plain;
        let kin = KIN.contains(&norm);
        // An initial stands behind a name.
        let whole = norm.len() >= 2 || at > 0 && at == last;
        matches!(token.kind, Kind::Word(_)) && letters && whole && (part || kin)
    };
    let fits = name.len() <= NAME_WORDS_MAX && name.slice.iter().enumerate().all(word);
    let words = name.words();
    let dish = [Sense::Batch, Sense::Packet, Sense::Container, Sense::Place];
    let norms: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    let taken = dish.iter().any(|sense| input.vocabulary.is(*sense, &norms));
    (fits && !taken && words.text.chars().count() <= NAME_CHARS_MAX).then_some(words)
}

/// What people call those whom they live with, though it stands in talk as well.
const KIN: [&str; 12] = [
    "mum", "mom", "dad", "mama", "papa", "gran", "nana", "granny", "grandma", "grandpa", "nan",
    "daddy",
];
