//! Names: where one ends, what around it carries nothing, and what a trailing preparation is.

use super::lexicon;
use super::syntax::Words;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{cues, fillers, preparation, qualifiers, selectors, states, talk, went_in};

/// The name, if the whole is one batch of the household: "the dal", and "dal's" of "dal's all gone".
pub fn of_batch(said: Tokens<'_>) -> Option<Words> {
    let name = bare(said);
    if !name.is_wordy() {
        return None;
    }
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    if let Some(text) = without_is(name).filter(|text| !text.is_empty())
        && let Some((last, before)) = words.split_last()
        && let Some(last) = last.strip_suffix('s')
        && said.vocabulary.is_batch(&[before, &[last]].concat())
    {
        return Some(Words::new(text, name.words().span));
    }
    said.vocabulary.is_batch(&words).then(|| name.words())
}

/// The text before the "'s" that it ends with.
pub fn without_is(name: Tokens<'_>) -> Option<&str> {
    let said = &name.text[name.span()];
    ["'s", "\u{2019}s"]
        .iter()
        .find_map(|end| said.strip_suffix(end))
}

/// The name of a batch of the household that is meant whole: "the dal", "all the rice", "the rest of the rice".
/// "a box", "some dal" are a part of it.
pub fn all_of_batch(said: Tokens<'_>) -> Option<Words> {
    let said = said.trimmed();
    let lead = |token: &&Token| {
        matches!(
            token.norm(),
            "the"
                | "whole"
                | "all"
                | "of"
                | "lot"
                | "my"
                | "our"
                | "every"
                | "last"
                | "rest"
                | "remaining"
        )
    };
    let rest = said.after(said.slice.iter().take_while(lead).count());
    let part = matches!(
        rest.norm(0),
        "a" | "an" | "another" | "one" | "some" | "more" | "extra"
    );
    of_batch(rest).filter(|_| !part)
}

/// The name without the words around it that carry nothing: "some of the", "please".
pub fn bare(input: Tokens<'_>) -> Tokens<'_> {
    let idle_before = |token: &Token| {
        matches!(
            token.norm(),
            "of" | "the"
                | "some"
                | "my"
                | "our"
                | "a"
                | "an"
                | "another"
                | "more"
                | "extra"
                | "that"
                | "this"
                | "those"
                | "these"
        ) || matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(':' | ',' | '.' | '-' | '=' | '(' | ')' | '&' | '+' | '!')
        )
    };
    let idle_after = |token: &Token| {
        matches!(
            token.norm(),
            "please"
                | "pls"
                | "plz"
                | "thanks"
                | "thx"
                | "too"
                | "also"
                | "of"
                | "the"
                | "and"
                | "tonight"
                | "tho"
                | "though"
                | "actually"
                | "lol"
        ) || matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(':' | ',' | '.' | '-' | '=' | '(' | ')' | '&' | '+' | '!')
        )
    };
    // "cold beans": how it is served is no part of what the household calls it.
    let served = |slice: &[Token], rest: &[Token]| {
        let words: Vec<&str> = rest.iter().map(Token::norm).collect();
        cues().longest_of(&slice[..1], "link").is_some()
            && !selectors().has(slice[0].norm())
            && words.len() < NAME_WORDS_MAX
            && input.vocabulary.is_batch(&words)
    };
    let mut slice = input.slice;
    if let Some(dish) = drawn(input) {
        slice = dish.slice;
    }
    while let Some((first, rest)) = slice.split_first() {
        let last = rest.is_empty() && matches!(first.kind, Kind::Word(_));
        if last || !idle_before(first) && !served(slice, rest) {
            break;
        }
        slice = rest;
    }
    while let Some((last, rest)) = slice.split_last() {
        if rest.is_empty() && matches!(last.kind, Kind::Word(_)) || !idle_after(last) {
            break;
        }
        slice = rest;
    }
    input.with(slice)
}

/// "800 g carrots went in", "spinach in": how it came into the pot or bowl is no part of its name.
pub fn without_way(input: Tokens<'_>) -> Tokens<'_> {
    let said = input.trimmed();
    match said.len() - went_in().length_at_end(said.slice) {
        0 => said,
        kept => said.range(0, kept),
    }
}

/// "off the rice", "out of the dal": what was taken from is a dish of the household.
fn drawn(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let from = cues().longest_of(input.slice, "drawn from")?;
    let mut dish = input.after(from).trimmed_end();
    while dish.len() > 1
        && dish
            .last()
            .is_some_and(|last| matches!(last.norm(), "just" | "only"))
    {
        dish = dish.range(0, dish.len() - 1);
    }
    let words: Vec<&str> = dish.slice.iter().map(Token::norm).collect();
    let ours = words.len() < NAME_WORDS_MAX && input.vocabulary.is_batch(&words);
    ours.then_some(dish)
}

/// The words of a name, from its pieces (a comment in parentheses may have stood between them).
pub fn words(pieces: &[Tokens<'_>]) -> Words {
    let mut out = Words::default();
    for (index, piece) in pieces.iter().enumerate() {
        let cleaned = if index == 0 {
            bare(*piece)
        } else {
            piece.trimmed()
        };
        if cleaned.is_empty() {
            continue;
        }
        let more = cleaned.words();
        if out.text.is_empty() {
            out = more;
        } else {
            out.text.push(' ');
            out.text.push_str(&more.text);
            out.span.end = more.span.end;
        }
    }
    out
}

/// "the leek one" is the leek soup.
pub fn chosen(name: Tokens<'_>) -> Option<Words> {
    let said = bare(name);
    let one = matches!(said.last()?.norm(), "one" | "ones") && said.len() == 2;
    let whole = said.vocabulary.one_with(said.norm(0)).filter(|_| one)?;
    Some(Words::new(whole, said.span()))
}

/// Whether the words only say how an ingredient is prepared: "chopped", "finely sliced", "to serve".
pub fn is_preparation(input: Tokens<'_>) -> bool {
    let mut rest = input;
    let mut telling = false;
    while !rest.is_empty() {
        let length = preparation()
            .longest(rest.slice)
            .or_else(|| states().longest(rest.slice))
            .or_else(|| qualifiers().longest(rest.slice))
            .map(|(length, _)| length);
        match length {
            Some(length) => {
                telling |= !matches!(rest.norm(0), "and" | "or" | "the" | "in" | "into" | "then");
                rest = rest.after(length);
            }
            None if matches!(
                rest.first().map(|token| &token.kind),
                Some(Kind::Symbol('.' | ',' | '-' | '&' | '!'))
            ) =>
            {
                rest = rest.take_one()
            }
            None => return false,
        }
    }
    telling
}

/// Words of a preparation that choose among a food's rows ("sliced"), and those that make another food
/// of it ("cooked").
pub fn preparation_parts(input: Tokens<'_>) -> (Vec<String>, Vec<String>) {
    let mut chosen = Vec::new();
    let mut stated = Vec::new();
    for token in input.slice {
        let norm = token.norm();
        if states().has(norm) && !qualifiers().has(norm) {
            stated.push(norm.to_owned());
        } else if qualifiers().has(norm) {
            chosen.push(norm.to_owned());
        }
    }
    (chosen, stated)
}

/// More words than this are no name.
const NAME_WORDS_MAX: usize = 10;

/// How much is known of a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Familiarity {
    /// A word of it belongs to everyday talk: no name.
    Talk,
    Unknown,
    /// One word of it names a food or stands in a name of the household.
    Partly,
    Food,
    Household,
}

/// Whether a name is the household's, a food's, or nobody's.
pub fn familiarity(name: &str, input: Tokens<'_>) -> Familiarity {
    let work_out = || familiar(name, input.vocabulary);
    match input.memory {
        Some(memory) => memory.names.get(name, work_out),
        None => work_out(),
    }
}

fn familiar(name: &str, vocabulary: &Vocabulary) -> Familiarity {
    let folded = super::lexer::folded_words(name);
    let words: Vec<&str> = folded.iter().map(String::as_str).collect();
    // "bowl + dal" is an addition.
    if words.is_empty() || words.len() > NAME_WORDS_MAX || name.contains(['+', '=']) {
        return Familiarity::Talk;
    }
    let dangles = |word: &str| {
        matches!(
            word,
            "in" | "on"
                | "at"
                | "for"
                | "to"
                | "from"
                | "by"
                | "is"
                | "with"
                | "and"
                | "the"
                | "a"
                | "an"
                | "as"
        )
    };
    // A batch may be called "A" or "soup A".
    if (name == "A" || words.len() > 1) && vocabulary.is(Sense::Batch, &words) {
        return Familiarity::Household;
    }
    if dangles(words[0]) || words.last().is_some_and(|last| dangles(last)) {
        return Familiarity::Talk;
    }
    match vocabulary.known(&words) {
        Some(Sense::Batch | Sense::Code | Sense::Packet | Sense::Food) => {
            return Familiarity::Household;
        }
        _ if lexicon::is_food(&words) => return Familiarity::Food,
        _ => {}
    }
    let food_word = |word: &&str| lexicon::is_food_word(word) || vocabulary.has_word(word);
    if words.iter().any(|word| talk().has(word)) {
        return Familiarity::Talk;
    }
    if words.iter().any(food_word) {
        return Familiarity::Partly;
    }
    Familiarity::Unknown
}

/// Whether a token carries nothing in a list of portions.
pub fn is_filler(token: &Token) -> bool {
    match &token.kind {
        Kind::Word(_) => fillers().holds(token),
        Kind::Symbol(c) => matches!(c, '!' | ')' | '(' | '.' | '-' | '&' | '+' | '=' | '/'),
        _ => false,
    }
}
