//! Words that tell that food was lost, and how much they tell.
//!
//! ```text
//! sign := away ["it"] | thrown "it" | thrown at the end | thrown "another" number | into {lead} place | animal {word} took
//!       | ("to" | "for") {lead} animal | mishap | weak | spoiled
//! ```
//! A loss that is denied, or that is none ("dropped off"), makes the whole message tell of none.

use super::date::day;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::{losses, vetoes};

/// So far before a sign a "not" still denies it.
const DENIAL_TOKENS: usize = 3;
/// Between an animal and what it did: "the dog somehow got".
const ANIMAL_WORDS_MAX: usize = 2;
const LEADS_MAX: usize = 3;
/// So far behind a verb what it did is still told: looked for from every verb, it bounds what a long text costs.
const CLAUSE_TOKENS_MAX: usize = 40;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    /// Somebody got rid of it.
    Away,
    /// It was lost by accident.
    Mishap,
    /// A loss beside another sign, or beside its amount.
    Weak,
    /// Why it was got rid of.
    Spoiled,
}

#[derive(Debug, Clone, Copy)]
pub struct Sign {
    pub kind: Loss,
    /// The tokens that tell it.
    pub from: usize,
    pub to: usize,
    /// "binned it": of what was named before.
    pub of_it: bool,
}

/// The signs of a loss, if together they tell of one.
pub fn signs(input: Tokens<'_>) -> Option<Vec<Sign>> {
    let mut signs: Vec<Sign> = Vec::new();
    let mut at = 0;
    while at < input.len() {
        if losses().longest_of(input.after(at).slice, "none").is_some() {
            return None;
        }
        if let Some(length) = losses().longest_of(input.after(at).slice, "other") {
            at += length;
            continue;
        }
        match sign(input, at) {
            Some(sign) if sign.kind != Loss::Spoiled && is_denied(input, at) => return None,
            Some(sign) => {
                at = sign.to;
                signs.push(sign);
            }
            None => at += 1,
        }
    }
    let strong = signs
        .iter()
        .any(|sign| matches!(sign.kind, Loss::Away | Loss::Mishap));
    (strong || signs.len() > 1).then_some(signs)
}

/// "on the floor": where it fell is why.
fn landed(input: Tokens<'_>) -> Option<String> {
    let mut said = signs(input)?
        .into_iter()
        .map(|sign| input.range(sign.from, sign.to));
    let fell = said.find(|said| {
        let last = said.after(said.len() - 1);
        losses().longest_of(last.slice, "landed").is_some()
    });
    fell.map(|said| said.words().text)
}

/// Why it was lost, in the words in which it was told: "gone slimy", "knocked over".
pub fn reason(input: Tokens<'_>) -> Option<String> {
    let tells = |sign: &Sign| match sign.kind {
        Loss::Spoiled | Loss::Mishap => true,
        Loss::Weak => {
            let said = input.range(sign.from, sign.to);
            losses().longest_of(said.slice, "how") == Some(said.len())
        }
        Loss::Away => false,
    };
    let mut told: Vec<String> = Vec::new();
    for sign in signs(input)?.iter().filter(|sign| tells(sign)) {
        let words = input.range(sign.from, sign.to).words().text;
        if !told.contains(&words) {
            told.push(words);
        }
    }
    if told.is_empty() {
        told.extend(landed(input));
    }
    (!told.is_empty()).then(|| told.join(", "))
}

/// "chucked 300 rice in the wok", "dropped 200 dal off at mum's": verbs of throwing by which nothing is lost, since
/// what follows says where it went.
pub fn is_kept(input: Tokens<'_>, at: usize) -> bool {
    let clause = input.after(at);
    let verb = |key| losses().longest_of(clause.slice, key).is_some();
    let (kitchen, carried) = (verb("kitchen"), verb("carried"));
    // "threw out 300 dal in a hurry"
    let away = losses()
        .longest_of(clause.slice, "away")
        .is_some_and(|length| length > 1);
    if away || !kitchen && !carried {
        return false;
    }
    let end = clause.find(is_mark).unwrap_or(clause.len());
    let end = end.min(CLAUSE_TOKENS_MAX);
    let goes = |key| {
        (1..end).any(|at| {
            let rest = clause.after(at);
            let length = losses().longest_of(rest.slice, key);
            let apart = day(rest.after(1)).is_err() && !rest.after(1).is_empty();
            length.is_some() && apart && place(rest).is_none()
        })
    };
    let ends =
        (1..end).any(|at| place(clause.after(at)).is_some() || animal(clause.after(at)).is_some());
    !ends && (kitchen && goes("cooked into") || carried && goes("off to"))
}

fn sign(input: Tokens<'_>, at: usize) -> Option<Sign> {
    let rest = input.after(at);
    if is_kept(input, at) {
        return None;
    }
    let of = |key| losses().longest_of(rest.slice, key);
    let made = |kind, length: usize, of_it| Sign {
        kind,
        from: at,
        to: at + length,
        of_it,
    };
    if let Some(length) = of("away") {
        let it = losses().longest_of(rest.after(length).slice, "with it");
        let ends = it.is_some() || ends_clause(rest.after(length));
        return Some(made(Loss::Away, length + it.unwrap_or(0), ends));
    }
    if let Some(length) = of("thrown") {
        let it = losses().longest_of(rest.after(length).slice, "with it");
        let ends = ends_clause(rest.after(length));
        if it.is_some() || ends {
            return Some(made(Loss::Away, length + it.unwrap_or(0), true));
        }
    }
    // "chucked another 70 of it"
    if let Some(length) = of("thrown")
        && let Some(other) = losses().longest_of(rest.after(length).slice, "apart")
        && rest.get(length + other).is_some_and(Token::is_numeric)
    {
        return Some(made(Loss::Away, length, false));
    }
    if let Some(length) = place(rest) {
        return Some(made(Loss::Away, length, ends_clause(rest.after(length))));
    }
    if let Some((length, given)) = animal(rest) {
        let kind = if given { Loss::Away } else { Loss::Mishap };
        // "gave the dog the leftover rice" may be a plate's.
        let all = given && ends_clause(rest.after(length));
        return Some(made(kind, length, all));
    }
    let plain = [
        ("mishap", Loss::Mishap),
        ("weak", Loss::Weak),
        ("spoiled", Loss::Spoiled),
    ];
    let said = plain
        .iter()
        .filter_map(|&(key, kind)| Some((of(key)?, kind)));
    let longest = said.max_by_key(|(length, _)| *length);
    longest.map(|(length, kind)| made(kind, length, false))
}

/// "into the bin", "down our sink", "to the hens".
fn place(rest: Tokens<'_>) -> Option<usize> {
    let into = losses().longest_of(rest.slice, "into")?;
    let leads = leads(rest.after(into));
    let place = losses().longest_of(rest.after(into + leads).slice, "place")?;
    Some(into + leads + place)
}

/// "the dog got at", "to the dog": how many tokens, and whether it was given.
fn animal(rest: Tokens<'_>) -> Option<(usize, bool)> {
    if matches!(rest.norm(0), "to" | "for" | "fed" | "gave") {
        let leads = leads(rest.after(1));
        let animal = losses().longest_of(rest.after(1 + leads).slice, "animal")?;
        return Some((1 + leads + animal, true));
    }
    let animal = losses().longest_of(rest.slice, "animal")?;
    (0..=ANIMAL_WORDS_MAX).find_map(|words| {
        let at = animal + words;
        let near = rest.range(0, at.min(rest.len()));
        let took = losses().longest_of(rest.after(at).slice, "took")?;
        (!near.slice.iter().any(is_mark)).then_some((at + took, false))
    })
}

fn leads(rest: Tokens<'_>) -> usize {
    let mut count = 0;
    while count < LEADS_MAX
        && let Some(length) = losses().longest_of(rest.after(count).slice, "lead")
    {
        count += length;
    }
    count
}

fn ends_clause(rest: Tokens<'_>) -> bool {
    rest.norm(0) == "it" || rest.first().is_none_or(ends)
}

fn ends(token: &Token) -> bool {
    is_mark(token) || matches!(token.norm(), "because" | "cos" | "bc" | "as" | "since")
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!' | '-' | ':' | '(' | ')' | '?')
    )
}

/// Whether "not" stands before it in its clause.
fn is_denied(input: Tokens<'_>, at: usize) -> bool {
    input
        .range(at.saturating_sub(DENIAL_TOKENS), at)
        .slice
        .iter()
        .rev()
        .take_while(|token| !is_mark(token) && !matches!(token.norm(), "so" | "and" | "but"))
        .any(|token| vetoes().get(token.norm()) == Some("negation"))
}
