//! What the scale said: readings added up, less the tares.
//!
//! ```text
//! weighing  := [inside] reading { ("+" | "and" | "plus") reading } { quality } { [","] tare }
//! quality   := "net" | "gross" | "total" | "cooked" | inside
//! inside    := ("in" | "with" | "including" | "incl") ["the"] container
//! tare      := ["less" | "minus" | "tare" | "-"] (count container mass ["each"] | container mass
//!            | mass ["for" ["the"]] container | mass | container)
//! container := a name of the household's, or words that end in one of data/containers.txt
//! ```

use nom::branch::alt;
use nom::combinator::opt;
use nom::{Err, Parser};

use super::amount::grams;
use super::number::number;
use super::syntax::{ErrorKind, Tare, Weighing, Words};
use super::token::{Kind, Token};
use super::tokens::{Read, Tokens, symbol, word};
use super::vocabulary::Sense;
use super::words::{containers, places};

/// A weighing at the front of the tokens; commas between its parts belong to it.
pub fn weighing(input: Tokens<'_>) -> Read<'_, Weighing> {
    let start = input;
    let (mut rest, (mut weighing, container)) = readings(input)?;
    while let Some((next, tare)) = next_tare(rest, weighing.tares.is_empty())? {
        weighing.tares.extend(tare);
        rest = next;
        while let Ok((next, ())) = quality(rest, &mut weighing) {
            rest = next;
        }
    }
    weighing.gross |= container.is_some();
    weighing.container =
        container.filter(|name| !weighing.tares.iter().any(|tare| supplies(tare, name)));
    weighing.span = start.range(0, start.len() - rest.len()).span();
    Ok((rest, weighing))
}

/// Whether the readings say by themselves that they are a weighing: "net", "gross", "in the pot".
pub fn says_so(input: Tokens<'_>) -> bool {
    let Ok((rest, (weighing, container))) = readings(input) else {
        return false;
    };
    let said = input.range(0, input.len() - rest.len());
    let qualified = said.slice.iter().any(|token| {
        matches!(
            token.norm(),
            "net" | "gross" | "cooked" | "total" | "finished" | "altogether"
        )
    });
    weighing.gross || container.is_some() || qualified
}

/// The readings, and what the food stood in.
fn readings(input: Tokens<'_>) -> Read<'_, (Weighing, Option<Words>)> {
    let (rest, inside_first) = opt(inside).parse(input)?;
    let (rest, _) = opt(alt((
        word(&["is", "now", "at"]).map(|_| ()),
        symbol(':'),
        symbol('='),
    )))
    .parse(rest)?;
    let (mut rest, first) = grams(rest)?;
    let mut weighing = Weighing {
        readings_grams: vec![first],
        ..Weighing::default()
    };
    let mut container = inside_first;
    loop {
        if let Ok((next, ())) = quality(rest, &mut weighing) {
            rest = next;
        } else if let Ok((next, name)) = inside(rest) {
            rest = next;
            // "in the pot (470)": its tare.
            if let Ok((next, mass)) = in_parentheses(rest) {
                weighing.tares.push(Tare {
                    count: 1.0,
                    each_grams: Some(mass),
                    name: Some(name.clone()),
                });
                rest = next;
            }
            container.get_or_insert(name);
        } else if let Some((next, more)) = another_reading(rest)? {
            weighing.readings_grams.push(more);
            rest = next;
        } else {
            break;
        }
    }
    Ok((rest, (weighing, container)))
}

fn in_parentheses(input: Tokens<'_>) -> Read<'_, f64> {
    let (rest, ()) = symbol('(')(input)?;
    let (rest, mass) = grams(rest)?;
    let (rest, ()) = symbol(')')(rest)?;
    Ok((rest, mass))
}

/// Whether a tare is that of the container that the food stood in.
fn supplies(tare: &Tare, container: &Words) -> bool {
    let Some(name) = &tare.name else {
        return true;
    };
    let last = |words: &Words| {
        words
            .text
            .to_lowercase()
            .split(' ')
            .next_back()
            .map(str::to_owned)
    };
    tare.each_grams.is_some() && (last(name) == last(container))
}

fn quality<'a>(input: Tokens<'a>, weighing: &mut Weighing) -> Read<'a, ()> {
    let (rest, said) = word(&[
        "net",
        "gross",
        "total",
        "cooked",
        "altogether",
        "all",
        "in",
        "finished",
        "now",
        "grams",
        "weight",
        "exactly",
        "together",
    ])(input)?;
    match said {
        "gross" => weighing.gross = true,
        "in" | "all" => {
            let (rest, _) = word(&["all", "in", "total", "together"])(rest)?;
            return Ok((rest, ()));
        }
        _ => {}
    }
    Ok((rest, ()))
}

fn another_reading(
    input: Tokens<'_>,
) -> Result<Option<(Tokens<'_>, f64)>, Err<super::syntax::Error>> {
    let joined = alt((symbol('+'), symbol('&'), word(&["and", "plus"]).map(|_| ()))).parse(input);
    let Ok((rest, ())) = joined else {
        return Ok(None);
    };
    match grams(rest) {
        // "and 470 pot" is a tare.
        Ok((after, _)) if container(after).is_ok() => Ok(None),
        Ok((after, more)) => Ok(Some((after, more))),
        Err(Err::Failure(error)) => Err(Err::Failure(error)),
        Err(_) => Ok(None),
    }
}

/// "in the blue pot", "including the pan".
fn inside(input: Tokens<'_>) -> Read<'_, Words> {
    let (rest, _) = word(&["in", "with", "incl", "including", "inc", "inside", "on"])(input)?;
    let (rest, _) = opt(symbol('.')).parse(rest)?;
    let (after, name) = container(rest)?;
    // "with the pot 470" weighs the pot: a tare.
    if input.norm(0) != "in" && grams(after).is_ok() {
        return input.no();
    }
    Ok((after, name))
}

/// A thing that food stands in, by name.
pub fn container(input: Tokens<'_>) -> Read<'_, Words> {
    let (rest, _) = opt(word(&["the", "a", "an", "my", "our", "its", "one"])).parse(input)?;
    let words: Vec<&str> = rest
        .slice
        .iter()
        .take(5)
        .map(Token::norm)
        .take_while(|norm| !norm.is_empty())
        .collect();
    let known = (1..=words.len())
        .rev()
        .find(|&length| input.vocabulary.is(Sense::Container, &words[..length]));
    let plain = || {
        let first = (0..words.len().min(4)).find(|&at| containers().has(words[at]))?;
        let joining = words[..first].iter().any(|word| {
            matches!(
                *word,
                "and" | "in" | "of" | "to" | "is" | "less" | "minus" | "each"
            ) || places().has(word)
        });
        let run = words[first..]
            .iter()
            .take_while(|word| containers().has(word))
            .count();
        (!joining).then_some(first + run)
    };
    match known.or_else(plain) {
        Some(length) => Ok((rest.after(length), rest.range(0, length).words())),
        None => input.no(),
    }
}

/// The next tare, if one follows; what only looks like one is left where it is.
fn next_tare<'a>(
    input: Tokens<'a>,
    first: bool,
) -> Result<Option<(Tokens<'a>, Vec<Tare>)>, Err<super::syntax::Error>> {
    let separated = input
        .slice
        .iter()
        .take_while(|token| {
            token.is(',')
                || token.is(';')
                || token.is('(')
                || token.is(')')
                || token.is('.')
                || token.kind == Kind::Newline
        })
        .count();
    let rest = input.after(separated);
    let (rest, and) = opt(alt((
        word(&["and", "plus", "then"]).map(|_| ()),
        symbol('+'),
        symbol('&'),
    )))
    .parse(rest)?;
    match tare(rest, first, and.is_some()) {
        Ok((rest, tare)) => {
            let (rest, _) = opt(symbol(')')).parse(rest)?;
            Ok(Some((rest, tare)))
        }
        Err(Err::Failure(error)) => Err(Err::Failure(error)),
        Err(_) => Ok(None),
    }
}

fn tare(input: Tokens<'_>, first: bool, and: bool) -> Read<'_, Vec<Tare>> {
    let taking = alt((
        (
            word(&[
                "less",
                "minus",
                "without",
                "excluding",
                "excl",
                "tare",
                "tares",
                "deduct",
                "subtract",
            ]),
            opt(word(&["tare", "of"])),
            opt(symbol(':')),
            opt(word(&["is", "was"])),
        )
            .map(|_| ()),
        symbol('-'),
    ));
    let (rest, less) = opt(taking).parse(input)?;
    let (rest, _) = if less.is_some() {
        opt(word(&["the", "a", "of"])).parse(rest)?
    } else {
        (rest, None)
    };
    match counted_tare(rest) {
        Ok((rest, tare)) => return Ok((rest, vec![tare])),
        Err(Err::Failure(error)) => return Err(Err::Failure(error)),
        Err(_) => {}
    }
    if let Some(read) = named_tare(rest, less.is_some())? {
        return Ok(read);
    }
    let (after, mass) = grams(rest)?;
    let (after, _) = opt(word(&["for", "of", "is"])).parse(after)?;
    if let Ok((after, name)) = container(after) {
        let tare = Tare {
            count: 1.0,
            each_grams: Some(mass),
            name: Some(name),
        };
        return Ok((after, vec![tare]));
    }
    let (after, tared) = opt(word(&["tare", "less"])).parse(after)?;
    // A bare mass is a tare after "less" or "tare", or when it goes on with "and".
    let goes_on = and && !first;
    if less.is_none() && tared.is_none() && !goes_on {
        return input.no();
    }
    Ok((
        after,
        vec![Tare {
            count: 1.0,
            each_grams: Some(mass),
            name: None,
        }],
    ))
}

/// "2 bags 9 each", "2 bags at 9 g", "2 x 9 g bags", "two bags (9 g each)".
fn counted_tare(input: Tokens<'_>) -> Read<'_, Tare> {
    let (rest, count) = number(input)?;
    if count.article || count.value.fract() != 0.0 || count.value > 100.0 {
        return input.no();
    }
    if let Ok((rest, _)) = alt((word(&["x"]).map(|_| ()), symbol('×'))).parse(rest) {
        let (rest, mass) = grams(rest)?;
        let (rest, name) = opt(container).parse(rest)?;
        return Ok((
            rest,
            Tare {
                count: count.value,
                each_grams: Some(mass),
                name,
            },
        ));
    }
    let (rest, name) = container(rest)?;
    let (rest, eachly) = opt(alt((
        word(&["at", "of", "each", "weighing"]).map(|_| ()),
        symbol('('),
        symbol('@'),
        symbol(':'),
        symbol('×'),
        word(&["x"]).map(|_| ()),
    )))
    .parse(rest)?;
    let (after, mass) = grams(rest)?;
    let (after, each) = opt(word(&["each", "apiece", "ea"])).parse(after)?;
    // "2 bags 18": of one bag or of both? Not to be guessed.
    let ends = !matches!(after.first().map(|token| &token.kind), Some(Kind::Word(_)));
    if eachly.is_none() && each.is_none() && count.value != 1.0 {
        if !ends {
            return input.no();
        }
        return rest.fail(ErrorKind::LeftOver(
            input.range(0, input.len() - after.len()).words().text,
        ));
    }
    Ok((
        after,
        Tare {
            count: count.value,
            each_grams: Some(mass),
            name: Some(name),
        },
    ))
}

/// "bowl 412", "the pot is 470", "less the blue pot".
fn named_tare<'a>(
    input: Tokens<'a>,
    less: bool,
) -> Result<Option<(Tokens<'a>, Vec<Tare>)>, Err<super::syntax::Error>> {
    let Ok((rest, name)) = container(input) else {
        return Ok(None);
    };
    let (rest, _) = opt(alt((
        word(&["is", "weighs", "at", "was", "itself", "alone", "empty"]).map(|_| ()),
        symbol(':'),
        symbol('='),
        symbol('-'),
    )))
    .parse(rest)?;
    match grams(rest) {
        Ok((rest, mass)) => {
            let (rest, _) = opt(word(&["empty", "tare", "each"])).parse(rest)?;
            let tare = Tare {
                count: 1.0,
                each_grams: Some(mass),
                name: Some(name),
            };
            Ok(Some((rest, vec![tare])))
        }
        Err(Err::Failure(error)) => Err(Err::Failure(error)),
        Err(_) if less => {
            let tare = Tare {
                count: 1.0,
                each_grams: None,
                name: Some(name),
            };
            Ok(Some((rest, vec![tare])))
        }
        Err(_) => Ok(None),
    }
}
