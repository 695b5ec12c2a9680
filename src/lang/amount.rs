//! How much: masses, volumes, pieces, shares, and what joins them.
//!
//! ```text
//! amount   := share | vague | counted
//! share    := ("half" | fraction | percent | "all" | "rest") ["of"] ("the" | "my" | "our") | "rest of"
//! vague    := ["a"] ("pinch" | "splash" | ...) ["of"] | "some" | "to taste"
//! counted  := term { operator term } ["(" counted ["each"] ")" | "/" counted] ["each"] ["of"]
//! operator := "+" | "-" (a difference if it falls, else a range) | "→" (a jar, before and after) | "to"
//! term     := number [qualifier] unit [smaller mass] [qualifier*] | number "x" mass [measure]
//!           | number mass measure | number measure* | number
//! ```

use nom::branch::alt;
use nom::combinator::opt;
use nom::{Err, Parser};

use super::lexicon;
use super::number::{Number, number};
use super::syntax::{Amount, ErrorKind, VolumeUnit};
use super::token::{Kind, Token};
use super::tokens::{Read, Tokens, phrase, symbol, word};
use super::unit::{Unit, rough_millilitres, unit};
use super::vocabulary::{Sense, singular};
use super::words::{measures, number_words, packages, qualifiers, vague};

/// No kitchen weighs more.
pub const GRAMS_MAX: f64 = 100_000.0;
const PIECES_MAX: f64 = 10_000.0;

/// Where the amount stands: before the name, which must not be eaten as a measure, or after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    BeforeName,
    AfterName,
}

/// An amount at the front of the tokens.
pub fn amount(input: Tokens<'_>, stands: Stands) -> Read<'_, Amount> {
    alt((share, uncounted, move |input| counted(input, stands))).parse(input)
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
            ) || number_words().has(norm)
                || vague().longest(input.slice).is_some()
        }
        _ => false,
    }
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
    let (rest, the) = opt(word(&["the", "my", "our", "that", "this", "what"])).parse(rest)?;
    let whole = matches!(part, "rest" | "remaining" | "remainder") && of.is_some() || part == "the";
    if the.is_none() && !whole {
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
    let (rest, _) = opt(word(&[
        "good", "generous", "small", "big", "tiny", "little",
    ]))
    .parse(rest)?;
    let is_taught = input.vocabulary.is(Sense::Measure, &[rest.norm(0)]);
    let (rest, what) = phrase(vague())(rest)?;
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

/// One number with its unit.
#[derive(Debug, Clone, PartialEq)]
enum Term {
    Bare(Number),
    Mass {
        grams: f64,
        other: Option<f64>,
    },
    Volume {
        count: f64,
        other: Option<f64>,
        unit: VolumeUnit,
        qualifiers: Vec<String>,
    },
    Pieces {
        count: f64,
        measure: Vec<String>,
    },
    Each {
        count: f64,
        grams: f64,
        measure: Vec<String>,
    },
}

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
    let (rest, joined) = operators(rest, start, first, stands)?;
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

/// One number with what belongs to it.
fn term(input: Tokens<'_>, stands: Stands) -> Read<'_, Term> {
    let (rest, count) = number(input)?;
    // "135ish"
    let (rest, _) = opt(word(&["ish", "or so"])).parse(rest)?;
    if let Ok((rest, product)) = product(rest, count) {
        return Ok((rest, product));
    }
    // "1 heaped tbsp", "2 level teaspoons"
    let (after_qualifier, qualifier) = match qualifiers().longest(rest.slice) {
        Some((length, key)) => (rest.after(length), Some(key)),
        None => (rest, None),
    };
    let glued = rest.first().is_some_and(|token| !token.spaced);
    if let Ok((after, unit)) = unit(after_qualifier) {
        let short = after_qualifier.norm(0).len() == 1;
        let cup_like = after_qualifier.norm(0) == "c" && count.value >= 30.0;
        let allowed = !(short && count.article) && !cup_like && !(qualifier.is_some() && glued);
        if allowed {
            return with_unit(after, count, unit, qualifier, stands);
        }
    }
    let (rest, measure) = measure_words(rest, stands);
    if measure.is_empty() && !count.article {
        return Ok((rest, Term::Bare(count)));
    }
    if count.article && measure.is_empty() && stands == Stands::AfterName {
        return input.no();
    }
    Ok((
        rest,
        Term::Pieces {
            count: count.value,
            measure,
        },
    ))
}

fn with_unit<'a>(
    input: Tokens<'a>,
    count: Number,
    unit: Unit,
    qualifier: Option<&str>,
    stands: Stands,
) -> Read<'a, Term> {
    match unit {
        Unit::Mass(grams_each) => {
            let grams = count.value * grams_each;
            let other = count.other.filter(|_| grams_each == 1.0);
            let (rest, smaller) = opt(|input| smaller_mass(input, grams_each)).parse(input)?;
            let grams = tidy(grams + smaller.unwrap_or(0.0));
            // "400 g can chickpeas": it says that they are canned.
            let (after, measure) = measure_words(rest, stands);
            let packed = matches!(measure.as_slice(), [one] if packages().has(one));
            if stands == Stands::BeforeName && packed && other.is_none() {
                let count = 1.0;
                return Ok((
                    after,
                    Term::Each {
                        count,
                        grams,
                        measure,
                    },
                ));
            }
            Ok((rest, Term::Mass { grams, other }))
        }
        Unit::Volume(unit) => Ok((
            input,
            Term::Volume {
                count: count.value,
                other: count.other.filter(|_| unit == VolumeUnit::Millilitre),
                unit,
                qualifiers: qualifier.iter().map(|&word| word.to_owned()).collect(),
            },
        )),
    }
}

/// The second part of "1 lb 4 oz", "1 kg 200 g".
fn smaller_mass(input: Tokens<'_>, than_grams: f64) -> Read<'_, f64> {
    let (rest, _) = opt(alt((word(&["and"]), word(&["n"])))).parse(input)?;
    let (rest, count) = number(rest)?;
    let (rest, unit) = unit(rest)?;
    match unit {
        Unit::Mass(grams)
            if grams < than_grams && count.value * grams < than_grams && than_grams > 1.0 =>
        {
            // "and" joins two things as well: only a unit of the same system continues the amount.
            let same_system = (than_grams == 1000.0 && grams <= 10.0)
                || (than_grams > 400.0 && than_grams < 500.0 && grams > 28.0 && grams < 29.0);
            if same_system {
                Ok((rest, count.value * grams))
            } else {
                input.no()
            }
        }
        _ => input.no(),
    }
}

/// "x 400 g", "400 g tins" after a count, "(400 g) cans".
fn product(input: Tokens<'_>, count: Number) -> Read<'_, Term> {
    let (rest, times) =
        opt(alt((word(&["x"]).map(|_| ()), symbol('×'), symbol('*')))).parse(input)?;
    let (rest, paren) = opt(symbol('(')).parse(rest)?;
    let Some(Kind::Number(_)) = rest.first().map(|token| &token.kind) else {
        return times_alone(input, rest, count, times.is_some() && paren.is_none());
    };
    if count.value.fract() != 0.0 || count.value > 200.0 {
        return input.no();
    }
    let (rest, each) = number(rest)?;
    let (rest, unit) = unit(rest)?;
    let (rest, _) = if paren.is_some() {
        symbol(')').map(Some).parse(rest)?
    } else {
        (rest, None)
    };
    let (rest, measure) = measure_words(rest, Stands::BeforeName);
    if times.is_none() && measure.is_empty() {
        return input.no();
    }
    let product = match unit {
        Unit::Mass(grams) if times.is_some() && measure.is_empty() => Term::Mass {
            grams: tidy(count.value * each.value * grams),
            other: None,
        },
        Unit::Mass(grams) => Term::Each {
            count: count.value,
            grams: tidy(each.value * grams),
            measure,
        },
        Unit::Volume(unit) => Term::Volume {
            count: tidy(count.value * each.value),
            other: None,
            unit,
            qualifiers: Vec::new(),
        },
    };
    Ok((rest, product))
}

/// "2x eggs", "2 x medium onion": so many pieces.
fn times_alone<'a>(
    input: Tokens<'a>,
    rest: Tokens<'a>,
    count: Number,
    times: bool,
) -> Read<'a, Term> {
    if !times {
        return input.no();
    }
    let (rest, measure) = measure_words(rest, Stands::BeforeName);
    Ok((
        rest,
        Term::Pieces {
            count: count.value,
            measure,
        },
    ))
}

/// Measure words and "of"; before a name, one that would leave no name is the name.
fn measure_words(input: Tokens<'_>, stands: Stands) -> (Tokens<'_>, Vec<String>) {
    let mut measure = Vec::new();
    let mut rest = input;
    while measure.len() < 3 {
        let taught = rest.norm(0);
        let (length, key) = match measures().longest(rest.slice) {
            Some((length, key)) => (length, key.to_owned()),
            None if !taught.is_empty() && input.vocabulary.is(Sense::Measure, &[taught]) => {
                (1, singular(taught))
            }
            None => break,
        };
        let (next, of) = match rest.after(length).norm(0) {
            // "2 tins of 400 g": what each weighs.
            "of" if rest.get(length + 1).is_some_and(Token::is_numeric) => {
                (rest.after(length), true)
            }
            "of" => (rest.after(length + 1), true),
            _ => (rest.after(length), false),
        };
        let names = |tokens: &Tokens<'_>| {
            matches!(
                tokens.first().map(|token| &token.kind),
                Some(
                    Kind::Word(_)
                        | Kind::Symbol('(')
                        | Kind::Percent(_)
                        | Kind::Ratio(..)
                        | Kind::Number(_)
                )
            )
        };
        if stands == Stands::BeforeName && (!names(&next) || is_part_of_name(rest, length)) {
            break;
        }
        measure.push(key);
        rest = next;
        if of {
            break;
        }
    }
    (rest, measure)
}

/// "2 rib eye steaks": the measure's word belongs to a name that means nothing without it.
fn is_part_of_name(input: Tokens<'_>, length: usize) -> bool {
    let words: Vec<&str> = input
        .slice
        .iter()
        .map(|token| token.norm())
        .take_while(|norm| !norm.is_empty())
        .take(8)
        .collect();
    if words.len() <= length || words[length] == "of" {
        return false;
    }
    let whole_is_batch =
        input.vocabulary.is_batch(&words) && !input.vocabulary.is_batch(&words[length..]);
    whole_is_batch
        || (words[0] == "rib" && words[1] == "eye")
        || (lexicon::is_food(&words) && !lexicon::is_food(&words[length..]))
}

/// Sums, differences, ranges, jar readings.
fn operators<'a>(
    input: Tokens<'a>,
    start: Tokens<'a>,
    first: Term,
    stands: Stands,
) -> Read<'a, Amount> {
    let mut rest = input;
    let mut total = first.clone();
    loop {
        let Some((operator, after)) = operator(rest) else {
            break;
        };
        let Ok((after, next)) = term(after, stands) else {
            break;
        };
        let (Some(low), Some(high)) = (scaled(&total, &next), scaled(&next, &total)) else {
            break;
        };
        let with_unit = if matches!(total, Term::Bare(_)) {
            &next
        } else {
            &total
        };
        total = match operator {
            '+' => with_value(with_unit, low + high),
            '-' | '→' if low > high => with_value(with_unit, low - high),
            _ => {
                return Ok((after, Amount::Between { low, high }));
            }
        };
        checked(start, after, &finished(total.clone()))?;
        rest = if matches!(after.norm(0), "after" | "now") {
            after.take_one()
        } else {
            after
        };
    }
    Ok((rest, finished(total)))
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
        // "688 -402": a dash before a number, not between two.
        Kind::Symbol('-') if numeric && first.spaced == next.spaced => {
            Some(('-', input.take_one()))
        }
        Kind::Symbol('→' | '>') if numeric => Some(('→', input.take_one())),
        Kind::Word(ref norm) if norm == "to" && numeric => Some(('t', input.take_one())),
        _ => None,
    }
}

/// The value of a term in grams, or in the bare number of its neighbour; nothing when they do not match.
fn scaled(term: &Term, beside: &Term) -> Option<f64> {
    match (term, beside) {
        (Term::Bare(number), Term::Bare(_) | Term::Mass { .. }) if number.other.is_none() => {
            // "1.2-1.5 kg" has one unit for both; a bare number beside grams is grams.
            Some(number.value)
        }
        (Term::Mass { grams, .. }, Term::Bare(_) | Term::Mass { .. }) => Some(*grams),
        _ => None,
    }
}

fn with_value(like: &Term, value: f64) -> Term {
    match like {
        Term::Bare(number) if value < 20.0 => Term::Bare(Number { value, ..*number }),
        _ => Term::Mass {
            grams: tidy(value),
            other: None,
        },
    }
}

/// Free of the last bits of floating point: to the microgram.
fn tidy(value: f64) -> f64 {
    if value.abs() < 1e9 {
        (value * 1e6).round() / 1e6
    } else {
        value
    }
}

fn finished(term: Term) -> Amount {
    match term {
        Term::Bare(number) => match number.other {
            Some(high) => Amount::Between {
                low: number.value,
                high,
            },
            None if number.worded && number.value < 1.0 => Amount::Pieces {
                count: number.value,
                measure: Vec::new(),
            },
            None => Amount::Bare(number.value),
        },
        Term::Mass { grams, other: None } => Amount::Mass(grams),
        Term::Mass {
            grams,
            other: Some(high),
        } => Amount::Between { low: grams, high },
        Term::Volume {
            count,
            other: None,
            unit,
            qualifiers,
        } => Amount::Volume {
            count,
            unit,
            qualifiers,
        },
        Term::Volume {
            count,
            other: Some(high),
            ..
        } => Amount::Between { low: count, high },
        Term::Pieces { count, measure } => Amount::Pieces { count, measure },
        Term::Each {
            count,
            grams,
            measure,
        } => Amount::Each {
            count,
            grams,
            measure,
        },
    }
}

/// A second amount for the same thing: in parentheses, after a slash, "of 400 g", "at 400 g each".
fn pair<'a>(input: Tokens<'a>, first: Amount, stands: Stands) -> Read<'a, Amount> {
    let (rest, open) = match input.first().map(|token| &token.kind) {
        Some(Kind::Symbol('(')) => (input.take_one(), Some(')')),
        Some(Kind::Symbol('/')) => (input.take_one(), None),
        Some(Kind::Word(norm))
            if matches!(norm.as_str(), "of" | "at" | "or" | "aka") && is_pieces(&first) =>
        {
            (input.take_one(), None)
        }
        Some(Kind::Number(_)) if is_pieces(&first) || matches!(first, Amount::Volume { .. }) => {
            (input, None)
        }
        _ => return Ok((input, first)),
    };
    let (rest, _) = opt(word(&[
        "about",
        "around",
        "approx",
        "approximately",
        "roughly",
        "ca",
        "of",
        "total",
    ]))
    .parse(rest)?;
    let second = match term(rest, Stands::AfterName) {
        Ok((rest, Term::Mass { grams, other: None })) => (rest, grams),
        Ok((rest, Term::Bare(number))) if open.is_some() && is_each(rest) => (rest, number.value),
        Err(failure @ Err::Failure(_)) => return Err(failure),
        _ => return other_pair(input, rest, first, open, stands),
    };
    let (rest, grams) = second;
    let (rest, each) =
        opt(word(&["each", "apiece", "per", "total", "net", "drained"])).parse(rest)?;
    let rest = match open {
        Some(close) => match symbol(close)(rest) {
            Ok((rest, ())) => rest,
            Err(_) => return Ok((input, first)),
        },
        None => rest,
    };
    let (rest, measure_after) = measure_words(rest, stands);
    let parts_of = input.norm(0) == "of" || input.norm(0) == "at";
    let each = each == Some("each") || each == Some("apiece") || parts_of;
    // "2 tins 400 g": of one or of both? Not to be guessed.
    if let (false, None, Amount::Pieces { count, measure }) = (each, open, &first) {
        let packed = measure
            .last()
            .is_some_and(|measure| packages().has(measure));
        if packed && *count > 1.0 && measure_after.is_empty() {
            return Ok((
                rest,
                Amount::Between {
                    low: grams,
                    high: tidy(grams * count),
                },
            ));
        }
    }
    match combine(first.clone(), Amount::Mass(grams), each, measure_after) {
        Some(both) => Ok((rest, both)),
        None => Ok((input, first)),
    }
}

fn is_each(input: Tokens<'_>) -> bool {
    matches!(input.norm(0), "each" | "apiece")
}

/// A pair whose second amount is no mass: "22 g (2 1/2 tbsp)".
fn other_pair<'a>(
    input: Tokens<'a>,
    inner: Tokens<'a>,
    first: Amount,
    open: Option<char>,
    _: Stands,
) -> Read<'a, Amount> {
    let slashed = input.first().is_some_and(|token| token.is('/'));
    if open.is_none() && !slashed {
        return Ok((input, first));
    }
    let Ok((rest, second)) = term(inner, Stands::AfterName) else {
        return Ok((input, first));
    };
    if matches!(second, Term::Bare(_)) {
        return Ok((input, first));
    }
    let rest = match open {
        Some(close) => match symbol(close)(rest) {
            Ok((rest, ())) => rest,
            Err(_) => return Ok((input, first)),
        },
        None => rest,
    };
    match combine(first.clone(), finished(second), false, Vec::new()) {
        Some(both) => Ok((rest, both)),
        None => Ok((input, first)),
    }
}

fn is_pieces(amount: &Amount) -> bool {
    matches!(amount, Amount::Pieces { .. })
}

/// Two amounts of one thing: the weighed one wins, the other is kept. Nothing when they contradict.
pub fn combine(
    first: Amount,
    second: Amount,
    each: bool,
    measure_after: Vec<String>,
) -> Option<Amount> {
    match (first, second) {
        (Amount::Mass(said), Amount::Mass(grams)) => {
            let near = (said - grams).abs() <= 0.12 * said.max(grams);
            // Of "250 g / 9 oz" the round one was meant.
            let (grams, said) = if said.fract() == 0.0 && grams.fract() != 0.0 {
                (said, grams)
            } else {
                (grams, said)
            };
            near.then(|| Amount::Weighed {
                grams,
                said: Box::new(Amount::Mass(said)),
            })
        }
        (Amount::Pieces { count, mut measure }, Amount::Mass(grams)) if each => {
            measure.extend(measure_after);
            Some(Amount::Each {
                count,
                grams,
                measure,
            })
        }
        (Amount::Bare(count), Amount::Mass(grams)) if each => Some(Amount::Each {
            count,
            grams,
            measure: measure_after,
        }),
        (
            said @ (Amount::Pieces { .. }
            | Amount::Bare(_)
            | Amount::Volume { .. }
            | Amount::Uncounted(_)
            | Amount::Share(_)),
            Amount::Mass(grams),
        )
        | (Amount::Mass(grams), said @ (Amount::Pieces { .. } | Amount::Volume { .. })) => {
            Some(Amount::Weighed {
                grams,
                said: Box::new(said),
            })
        }
        (said @ (Amount::Pieces { .. } | Amount::Bare(_)), volume @ Amount::Volume { .. })
        | (volume @ Amount::Volume { .. }, said @ Amount::Pieces { .. }) => {
            let _ = said;
            Some(volume)
        }
        (volume @ Amount::Volume { .. }, Amount::Volume { .. }) => Some(volume),
        _ => None,
    }
}

/// Qualifiers between a volume and the name choose among the food's rows.
fn with_qualifiers(input: Tokens<'_>, mut amount: Amount) -> (Tokens<'_>, Amount) {
    let slot = match &mut amount {
        Amount::Volume { qualifiers, .. } => qualifiers,
        Amount::Weighed { said, .. } => match said.as_mut() {
            Amount::Volume { qualifiers, .. } => qualifiers,
            _ => return (input, amount),
        },
        _ => return (input, amount),
    };
    let mut rest = input;
    while let Some((length, key)) = qualifiers().longest(rest.slice) {
        let next = rest.after(length);
        let names = matches!(next.first().map(|token| &token.kind), Some(Kind::Word(_)));
        if !names {
            break;
        }
        slot.push(key.to_owned());
        rest = next;
    }
    (rest, amount)
}

/// Refuse amounts that no kitchen holds.
fn checked<'a>(start: Tokens<'a>, rest: Tokens<'a>, amount: &Amount) -> Read<'a, ()> {
    let fits = |value: f64, most: f64| value.is_finite() && value > 0.0 && value <= most;
    let good = match amount {
        Amount::Mass(grams) | Amount::Bare(grams) => fits(*grams, GRAMS_MAX),
        Amount::Volume { count, unit, .. } => fits(count * rough_millilitres(*unit), GRAMS_MAX),
        Amount::Pieces { count, .. } => fits(*count, PIECES_MAX),
        Amount::Each { count, grams, .. } => fits(count * grams, GRAMS_MAX),
        Amount::Between { low, high } => fits(*low, f64::MAX) && fits(*high, f64::MAX),
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
