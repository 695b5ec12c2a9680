//! The same thing measured twice: "2 1/2 tbsp (22 g)", "2 cans (400 g each)", "12 oz/340 g".

use nom::combinator::opt;
use nom::{Err, Parser};

use super::Stands;
use super::measure::measure_words;
use super::term::{Term, finished, term, tidy};
use crate::lang::syntax::{Amount, DRAINED};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::words::{packages, qualifiers};

/// A second amount for the same thing: in parentheses, after a slash, "of 400 g", "at 400 g each".
pub fn pair<'a>(input: Tokens<'a>, first: Amount, stands: Stands) -> Read<'a, Amount> {
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
    // "just under 9 oz"
    let (rest, _) = opt(word(&["just"])).parse(rest)?;
    let (rest, before) = opt(word(&[
        "about",
        "around",
        "approx",
        "approximately",
        "roughly",
        "nearly",
        "almost",
        "under",
        "over",
        "ca",
        "of",
        "total",
        "drained",
    ]))
    .parse(rest)?;
    let second = match term(rest, Stands::AfterName) {
        Ok((rest, Term::Mass { grams, other: None })) => (rest, grams),
        Ok((rest, Term::Bare(number))) if open.is_some() && is_each(rest) => (rest, number.value),
        Err(failure @ Err::Failure(_)) => return Err(failure),
        _ => return other_pair(input, rest, first, open, stands),
    };
    let (rest, grams) = second;
    let (rest, after) =
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
    let told = after.or(before).and_then(Of::word);
    let of = match parts_of {
        true => Of::Each,
        false => told.unwrap_or(Of::Unsaid),
    };
    match combine(first.clone(), Amount::Mass(grams), of, measure_after) {
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
    match combine(first.clone(), finished(second), Of::Unsaid, Vec::new()) {
        Some(both) => Ok((rest, both)),
        None => Ok((input, first)),
    }
}

fn is_pieces(amount: &Amount) -> bool {
    matches!(amount, Amount::Pieces { .. })
}

/// What a second amount is said to be of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// "400 g each"
    Each,
    /// "480 g drained", "800 g in all": of what is in them.
    All,
    /// "240 g drained", "300 g peeled": of what goes into the pot; of one or of all is not said.
    Inside,
    /// "102 g drained each"
    InsideEach,
    /// "(400 g)"
    Unsaid,
}

impl Of {
    pub fn word(norm: &str) -> Option<Self> {
        match norm {
            "each" | "apiece" => Some(Self::Each),
            "total" | "altogether" => Some(Self::All),
            "drained" => Some(Self::Inside),
            _ => None,
        }
    }
}

/// Two amounts of one thing: the weighed one wins, the other is kept. Nothing when they contradict.
pub fn combine(
    first: Amount,
    second: Amount,
    of: Of,
    measure_after: Vec<String>,
) -> Option<Amount> {
    if let (Of::Inside | Of::InsideEach, Amount::Mass(grams)) = (of, &second) {
        return inside(first, *grams, of == Of::InsideEach);
    }
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
        (Amount::Pieces { count, mut measure }, Amount::Mass(grams)) if of == Of::Each => {
            measure.extend(measure_after);
            Some(Amount::Each {
                count,
                grams,
                measure,
            })
        }
        (Amount::Pieces { count, measure }, Amount::Mass(grams)) if of == Of::All => {
            Some(all_told(count, measure, grams))
        }
        (Amount::Bare(count), Amount::Mass(grams)) if of == Of::Each => Some(Amount::Each {
            count,
            grams,
            measure: measure_after,
        }),
        (
            said @ (Amount::Pieces { .. }
            | Amount::Bare(_)
            | Amount::Volume { .. }
            | Amount::Uncounted(_)
            | Amount::Between { .. }
            | Amount::Sum(_)
            | Amount::Share(_)),
            Amount::Mass(grams),
        )
        | (Amount::Mass(grams), said @ (Amount::Pieces { .. } | Amount::Volume { .. })) => {
            Some(Amount::Weighed {
                grams,
                said: Box::new(said),
            })
        }
        (Amount::Pieces { .. } | Amount::Bare(_), volume @ Amount::Volume { .. })
        | (volume @ Amount::Volume { .. }, Amount::Pieces { .. }) => Some(volume),
        (first @ Amount::Volume { .. }, second @ Amount::Volume { .. }) => {
            let exact = is_metric(&second) && !is_metric(&first);
            Some(if exact { second } else { first })
        }
        _ => None,
    }
}

/// Millilitres are what they are; a cup is another in each country.
pub fn is_metric(amount: &Amount) -> bool {
    use crate::lang::syntax::VolumeUnit::{Centilitre, Decilitre, Litre, Millilitre};
    let Amount::Volume { unit, .. } = amount else {
        return false;
    };
    matches!(unit, Millilitre | Centilitre | Decilitre | Litre)
}

/// Less than this is not drained of one tin where several were opened: it may be what each holds.
const DRAINED_EACH_MIN: f64 = 150.0;

/// What goes into the pot of an ingredient that was bought by another weight or count: drained, peeled.
fn inside(first: Amount, grams: f64, each: bool) -> Option<Amount> {
    match first {
        Amount::Pieces { count, measure } if each => {
            Some(all_told(count, measure, tidy(grams * count)))
        }
        Amount::Pieces { count, measure } => {
            let one = all_told(count, measure.clone(), grams);
            let packed = measure.last().is_some_and(|word| packages().has(word));
            if !packed || count <= 1.0 || grams >= count * DRAINED_EACH_MIN {
                return Some(one);
            }
            let high = Box::new(all_told(count, measure, tidy(grams * count)));
            let low = Box::new(one);
            Some(Amount::Between { low, high })
        }
        Amount::Each {
            count,
            grams: printed,
            measure,
        } if grams <= printed * count => {
            let of_each = each || grams <= printed;
            let whole = if of_each { grams * count } else { grams };
            Some(all_told(count, measure, tidy(whole)))
        }
        Amount::Mass(said) if grams <= said => Some(Amount::Mass(grams)),
        Amount::Weighed { said, .. } => inside(*said, grams, each),
        Amount::Bare(count) if each => Some(Amount::Weighed {
            grams: tidy(grams * count),
            said: Box::new(Amount::Bare(count)),
        }),
        Amount::Mass(_) | Amount::Each { .. } | Amount::Share(_) => None,
        said => Some(Amount::Weighed {
            grams,
            said: Box::new(said),
        }),
    }
}

/// Packs of what weighs so much, however they were printed.
fn all_told(count: f64, mut measure: Vec<String>, grams: f64) -> Amount {
    measure.push(DRAINED.to_owned());
    let said = Box::new(Amount::Pieces { count, measure });
    Amount::Weighed { grams, said }
}

impl Amount {
    /// This weight of it, all told, and packed as it was.
    pub fn all_told(&self, grams: f64) -> Self {
        match self {
            Self::Weighed { said, .. } => match said.as_ref() {
                Self::Pieces { count, measure } => all_told(*count, measure.clone(), grams),
                _ => Self::Mass(grams),
            },
            _ => Self::Mass(grams),
        }
    }
}

/// Qualifiers between a volume and the name choose among the food's rows.
pub fn with_qualifiers(input: Tokens<'_>, mut amount: Amount) -> (Tokens<'_>, Amount) {
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
        let names = matches!(
            next.first().map(|token| &token.kind),
            Some(Kind::Word(_) | Kind::Percent(_) | Kind::Ratio(..))
        );
        if !names {
            break;
        }
        slot.push(key.to_owned());
        rest = next;
    }
    (rest, amount)
}
