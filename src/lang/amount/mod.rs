//! How much: masses, volumes, pieces, shares, and what joins them.
//!
//! ```text
//! amount   := share | vague | range | counted | taught ["of"]        (before a dish: "ladle of dal")
//! share    := ("half" | fraction | percent | "all" | "rest") ["of"] ("the" | "my" | "our") | "rest of"
//! vague    := ["a"] ("pinch" | "splash" | ...) ["of"] | "some" | "to taste"
//! range    := "between" term "and" term
//! counted  := term { operator term } ["(" counted ["each"] ")" | "/" counted] ["each"] ["of"]
//! operator := "+" | "plus" | "-" (a difference if it falls, else a range) | "minus" (if it falls)
//!           | "→" (a jar, before and after) | "to"
//! term     := number [qualifier] unit [smaller mass] [qualifier*] | number "x" mass [measure]
//!           | number mass measure | number measure* | number
//! ```

mod measure;
mod pair;
mod part;
mod range;
mod term;

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use crate::lang::number::{Number, number};
use crate::lang::syntax::{Amount, Error, ErrorKind};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens, phrase, word};
use crate::lang::unit::rough_millilitres;
use crate::lang::vocabulary::{Sense, singular};
use crate::lang::words::{measures, number_words, operators, packages, vague};

pub use measure::measure_words;
use measure::one_taught;
pub use pair::{Of, combine, is_metric};
use pair::{pair, with_qualifiers};
pub use part::part_of_a_mass;
use part::{all_but, in_goes};
use range::{from_to, otherwise};
pub use term::tidy;
use term::{Term, between, finished, term};

/// No kitchen weighs more.
pub const GRAMS_MAX: f64 = 100_000.0;
const PIECES_MAX: f64 = 10_000.0;

/// Where the amount stands: before the name, which must not be eaten as a measure, or after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    BeforeName,
    AfterName,
}

/// An amount with how many tokens are left behind it.
pub type Taken = Result<(usize, Amount), nom::Err<Error>>;

/// An amount at the front of the tokens.
pub fn amount(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (left, amount) = input.once(
        |memory| &memory.amounts[stands as usize],
        || read(input, stands).map(|(rest, amount)| (rest.len(), amount)),
    )?;
    Ok((input.after(input.len() - left), amount))
}

fn read(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    alt((
        move |input| all_but(input, stands),
        move |input| part_of_a_mass(input, stands),
        move |input| in_goes(input, stands),
        share,
        uncounted,
        move |input| from_to(input, stands),
        move |input| counted(input, stands),
        one_taught,
    ))
    .parse(input)
}

/// Whether an amount could begin with this token.
pub fn may_begin(input: Tokens<'_>) -> bool {
    match input.first().map(|token| &token.kind) {
        Some(Kind::Number(_) | Kind::Unreadable) => true,
        Some(Kind::Word(norm)) => {
            matches!(
                norm.as_str(),
                "a" | "an"
                    | "half"
                    | "quarter"
                    | "couple"
                    | "dozen"
                    | "to"
                    | "all"
                    | "rest"
                    | "third"
                    | "everything"
            ) || number_words().holds(&input.slice[0])
                || from_to(input, Stands::BeforeName).is_ok()
                || vague().longest(input.slice).is_some()
                || measures().holds(&input.slice[0]) && is_and_a_half(input.take_one())
                || one_taught(input).is_ok()
        }
        _ => false,
    }
}

/// "ladle & a half"
fn is_and_a_half(input: Tokens<'_>) -> bool {
    crate::lang::number::and_a_half(input).is_ok()
}

/// Counted in packs: "2 tins", "a bag".
pub fn is_packed(amount: &Amount) -> bool {
    let (Amount::Pieces { measure, .. } | Amount::Each { measure, .. }) = amount else {
        return false;
    };
    measure
        .last()
        .is_some_and(|measure| packages().has(measure))
}

/// A mass in grams, with its unit or bare.
pub fn grams(input: Tokens<'_>) -> Read<'_, f64> {
    let start = input;
    let (rest, said) = term(input, Stands::AfterName)?;
    let grams = match said {
        Term::Bare(number) if number.other.is_none() => number.value,
        Term::Mass { grams, .. } => grams,
        _ => return input.no(),
    };
    checked_mass(start, rest, grams)?;
    Ok((rest, grams))
}

/// Refuse what no scale of a kitchen can say, pointing at the number.
fn checked_mass<'a>(start: Tokens<'a>, rest: Tokens<'a>, grams: f64) -> Read<'a, ()> {
    if grams.is_finite() && grams > 0.0 && grams <= GRAMS_MAX {
        return Ok((rest, ()));
    }
    let said = start.range(0, start.len() - rest.len());
    said.fail(ErrorKind::NotAMass(said.words().text))
}

// ---- shares and vague amounts

fn share(input: Tokens<'_>) -> Read<'_, Amount> {
    let part = input.norm(0);
    let (rest, value) = match part {
        "all" | "rest" | "remaining" | "remainder" => (input.take_one(), 1.0),
        "the" if matches!(input.norm(1), "rest" | "last" | "remaining" | "remainder") => {
            (input.after(2), 1.0)
        }
        _ => match input.first().map(|token| &token.kind) {
            Some(Kind::Percent(percent)) if *percent > 0.0 && *percent <= 100.0 => {
                (input.take_one(), percent / 100.0)
            }
            _ => {
                let (rest, number) = number(input)?;
                if number.value >= 1.0 || number.value <= 0.0 {
                    return input.no();
                }
                (rest, number.value)
            }
        },
    };
    let (rest, of) = opt(word(&["of"])).parse(rest)?;
    let (rest, the) = opt(word(&[
        "the", "my", "our", "that", "this", "what", "whatever",
    ]))
    .parse(rest)?;
    let whole = matches!(part, "rest" | "remaining" | "remainder") && of.is_some() || part == "the";
    if the.is_none() && !whole {
        return input.no();
    }
    // "half that of rice" is told by another amount.
    if the.is_some_and(|the| ["that", "this"].contains(&the)) && rest.norm(0) == "of" {
        return input.no();
    }
    // "half of what is left of the dal"
    let (rest, _) = opt((
        opt(word(&["is", "was"])),
        word(&["left", "remains"]),
        opt(word(&["of"])),
        opt(word(&["the"])),
    ))
    .parse(rest)?;
    Ok((rest, Amount::Share(value)))
}

fn uncounted(input: Tokens<'_>) -> Read<'_, Amount> {
    let (rest, article) = opt(word(&[
        "a", "an", "one", "two", "another", "good", "generous", "small", "little",
    ]))
    .parse(input)?;
    let bare = rest;
    let (rest, _) = opt(word(&[
        "good", "generous", "small", "big", "tiny", "little",
    ]))
    .parse(rest)?;
    let is_taught = input.vocabulary.is(Sense::Measure, &[rest.norm(0)]);
    // "2 handfuls" is no more counted than a handful.
    let (rest, several) = match rest.first().map(|token| &token.kind) {
        Some(Kind::Number(several)) if article.is_none() && several.value > 0.0 => {
            (rest.take_one(), true)
        }
        _ => (rest, false),
    };
    let is_taught = is_taught
        || input
            .vocabulary
            .is(Sense::Measure, &[&singular(rest.norm(0))]);
    // "a little dal"
    let (rest, what) = phrase(vague())(rest).or_else(|_| phrase(vague())(bare))?;
    if several
        && !matches!(
            what,
            "pinch"
                | "handful"
                | "splash"
                | "glug"
                | "squeeze"
                | "drizzle"
                | "sprinkle"
                | "smidgen"
        )
    {
        return input.no();
    }
    let spoken = article.is_some()
        || !matches!(
            what,
            "bit" | "touch" | "few" | "drop" | "knob" | "grind" | "dash"
        );
    if is_taught || !spoken {
        return input.no();
    }
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    Ok((rest, Amount::Uncounted(what.to_owned())))
}

// ---- counted amounts

fn counted(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    let (rest, _) = opt(word(&[
        "about",
        "around",
        "approx",
        "approximately",
        "roughly",
        "circa",
        "ca",
        "another",
    ]))
    .parse(input)?;
    let start = rest;
    let (rest, first) = term(rest, stands)?;
    let (rest, joined) = reckoned(rest, start, first, stands)?;
    let (rest, paired) = pair(rest, joined, stands)?;
    let (rest, _) = opt(word(&["each"])).parse(rest)?;
    checked(start, rest, &paired)?;
    let (rest, _) = opt(word(&["of", "de", "du", "d", "von"])).parse(rest)?;
    let (rest, _) = if stands == Stands::BeforeName {
        opt(word(&["the", "my", "our"])).parse(rest)?
    } else {
        (rest, None)
    };
    let (rest, paired) = if stands == Stands::BeforeName {
        with_qualifiers(rest, paired)
    } else {
        (rest, paired)
    };
    Ok((rest, paired))
}

/// Sums, differences, ranges, jar readings.
fn reckoned<'a>(
    input: Tokens<'a>,
    start: Tokens<'a>,
    first: Term,
    stands: Stands,
) -> Read<'a, Amount> {
    let mut rest = input;
    let mut total = first;
    let mut parts = Vec::new();
    while let Some((operator, after)) = operator(rest) {
        let Ok((after, next)) = term(after, stands) else {
            break;
        };
        if operator == '&' && !(is_measured(&total) && is_measured(&next)) {
            break;
        }
        let adds = matches!(operator, '+' | '&');
        // "minus" never joins the ends of a range.
        if operator == 'm' && !weights(&total, &next).is_some_and(|(more, less)| more > less) {
            break;
        }
        total = match (weights(&total, &next), counts(&total, &next)) {
            (Some((low, high)), _) if adds => with_value(&total, &next, low + high),
            (Some((low, high)), _) if low > high && operator != 'o' => {
                with_value(&total, &next, low - high)
            }
            (Some(_), _) => return Ok((after, ends(&total, &next))),
            (None, Some((one, more))) if adds => next.with_count(one + more),
            (None, Some((low, high))) if low < high && operator != '→' => {
                let (low, high) = (next.with_count(low), next);
                return Ok((after, between(finished(low), finished(high))));
            }
            _ if adds && is_measured(&total) && is_measured(&next) => {
                parts.push(finished(total));
                next
            }
            _ => break,
        };
        checked(start, after, &finished(total.clone()))?;
        rest = if matches!(after.norm(0), "after" | "now") {
            after.take_one()
        } else {
            after
        };
    }
    if parts.is_empty() {
        return Ok((rest, finished(total)));
    }
    parts.push(finished(total));
    Ok((rest, Amount::Sum(parts)))
}

/// It has a unit: a mass or a volume, read in one way.
fn is_measured(term: &Term) -> bool {
    matches!(
        term,
        Term::Mass { other: None, .. } | Term::Volume { other: None, .. }
    )
}

/// Both in grams or without a unit: "1.2-1.5 kg" has one for both, and a number beside grams is grams.
fn weights(first: &Term, second: &Term) -> Option<(f64, f64)> {
    let value = |term: &Term| match term {
        Term::Bare(number) if number.other.is_none() => Some(number.value),
        Term::Mass { grams, .. } => Some(*grams),
        _ => None,
    };
    Some((value(first)?, value(second)?))
}

/// The ends of a range of weights.
fn ends(first: &Term, second: &Term) -> Amount {
    let in_grams = [first, second]
        .iter()
        .any(|term| matches!(term, Term::Mass { .. }));
    let end = |term: &Term| match finished(term.clone()) {
        Amount::Bare(value) if in_grams => Amount::Mass(value),
        other => other,
    };
    between(end(first), end(second))
}

/// Counts of one measure: "1-2 tbsp", "3 to 4 cloves".
fn counts(first: &Term, second: &Term) -> Option<(f64, f64)> {
    let count = match first {
        Term::Bare(number) if number.other.is_none() => number.value,
        _ if first.with_count(1.0) == second.with_count(1.0) => first.count()?,
        _ => return None,
    };
    Some((count, second.count()?))
}

fn with_value(first: &Term, second: &Term, value: f64) -> Term {
    let like = match first {
        Term::Bare(_) => second,
        _ => first,
    };
    match like {
        Term::Bare(number) if value < 20.0 => Term::Bare(Number { value, ..*number }),
        _ => Term::Mass {
            grams: tidy(value),
            other: None,
        },
    }
}

fn operator(input: Tokens<'_>) -> Option<(char, Tokens<'_>)> {
    let first = input.first()?;
    let next = input.get(1)?;
    // "655 before, 610 after"; the word after the second number is passed over by the caller.
    if matches!(first.norm(), "before" | "first") {
        let rest = input.take_one().trimmed_front();
        let rest = if matches!(rest.norm(0), "now" | "after" | "then" | "and") {
            rest.take_one()
        } else {
            rest
        };
        return rest
            .first()
            .is_some_and(Token::is_numeric)
            .then_some(('→', rest));
    }
    let numeric = matches!(next.kind, Kind::Number(_) | Kind::Unreadable);
    match first.kind {
        Kind::Symbol('+') if numeric => Some(('+', input.take_one())),
        // "1 cup and 2 tbsp milk": only between two that have units.
        Kind::Symbol('&') if numeric => Some(('&', input.take_one())),
        Kind::Word(ref norm) if numeric && norm == "and" => Some(('&', input.take_one())),
        // "530 minus 390", "120 plus 45"
        Kind::Word(ref norm) if numeric && operators().has(norm) => match operators().get(norm)? {
            "-" => Some(('m', input.take_one())),
            "+" => Some(('+', input.take_one())),
            _ => None,
        },
        // "688 -402": a dash before a number, not between two.
        Kind::Symbol('-') if numeric && first.spaced == next.spaced => {
            Some(('-', input.take_one()))
        }
        Kind::Symbol('→' | '>') if numeric => Some(('→', input.take_one())),
        Kind::Word(ref norm) if norm == "to" && numeric => Some(('t', input.take_one())),
        Kind::Word(_) => otherwise(input),
        _ => None,
    }
}

/// Refuse amounts that no kitchen holds.
fn checked<'a>(start: Tokens<'a>, rest: Tokens<'a>, amount: &Amount) -> Read<'a, ()> {
    let fits = |value: f64, most: f64| value.is_finite() && value > 0.0 && value <= most;
    let good = match amount {
        Amount::Mass(grams) | Amount::Bare(grams) => fits(*grams, GRAMS_MAX),
        Amount::Volume { count, unit, .. } => fits(count * rough_millilitres(*unit), GRAMS_MAX),
        Amount::Pieces { count, .. } => fits(*count, PIECES_MAX),
        Amount::Each { count, grams, .. } => fits(count * grams, GRAMS_MAX),
        Amount::Between { low, high } => {
            checked(start, rest, low)?;
            return checked(start, rest, high);
        }
        Amount::Sum(parts) => {
            for part in parts {
                checked(start, rest, part)?;
            }
            true
        }
        Amount::Weighed { grams, said } => {
            checked(start, rest, said)?;
            fits(*grams, GRAMS_MAX)
        }
        Amount::Share(_) | Amount::Uncounted(_) => true,
    };
    if good {
        return Ok((rest, ()));
    }
    let said = start.range(0, start.len() - rest.len());
    said.fail(ErrorKind::NotAMass(said.words().text))
}
