//! How amounts and names pair: one ingredient, or several things in one run.

use super::{Named, Piece, own_weight_alone, part_of, pieces, whole_amount};
use crate::lang::amount::{Of, combine};
use crate::lang::name;
use crate::lang::syntax::{Amount, Error, ErrorKind, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::weighing::container;
use crate::lang::words::{containers, number_words};

/// One ingredient: exactly one name, at most one amount (said once or twice).
pub fn ingredient(input: Tokens<'_>) -> Result<Named, Error> {
    let (body, tail) = without_tail(input);
    let (body, mut extract) = part_of::split(body);
    let mut pieces = pieces(body.trimmed())?;
    let mut states = Vec::new();
    let mut chosen = Vec::new();
    for part in tail {
        if let Some(taken) = part_of::taken(part) {
            extract = Some(taken);
        } else if part.has_number() {
            let before = part.range(0, part.find(|token| token.is('(')).unwrap_or(0));
            let (qualifiers, stated) = name::preparation_parts(before);
            chosen.extend(qualifiers);
            states.extend(stated);
            let own = own_weight_alone(part.trimmed());
            match (own, whole_amount(part.trimmed())) {
                (Some(own), _) => pieces.push(Piece::Amount {
                    amount: Amount::Mass(own.grams),
                    said: part,
                    aside: true,
                    of: own.of,
                }),
                (None, Ok((_, amount))) => pieces.push(aside(amount, part)),
                (None, Err(_)) => {
                    pieces.extend(super::pieces(part.trimmed())?.into_iter().map(as_aside))
                }
            }
        } else if let Some(vague) = uncounted(part).filter(|_| counts_nothing(&pieces)) {
            pieces.push(vague);
        } else if name::is_preparation(part) {
            let (qualifiers, stated) = name::preparation_parts(part);
            chosen.extend(qualifiers);
            states.extend(stated);
        }
    }
    let (named, left) = first_named(&pieces, input)?;
    if let Some(left) = left {
        return Err(left);
    }
    let mut named = named;
    if let Some(Amount::Volume { qualifiers, .. }) = &mut named.amount {
        qualifiers.extend(chosen);
    }
    if let Some(part) = extract {
        part_of::apply(&mut named, part);
    }
    if !states.is_empty() {
        named.name.text = format!("{}, {}", named.name.text, states.join(", "));
    }
    Ok(named)
}

/// "salt, to taste"
fn uncounted(part: Tokens<'_>) -> Option<Piece<'_>> {
    match whole_amount(part.trimmed()) {
        Ok((_, amount @ Amount::Uncounted(_))) => Some(aside(amount, part)),
        _ => None,
    }
}

fn aside(amount: Amount, said: Tokens<'_>) -> Piece<'_> {
    Piece::Amount {
        amount,
        said,
        aside: true,
        of: Of::Unsaid,
    }
}

fn counts_nothing(pieces: &[Piece<'_>]) -> bool {
    !pieces
        .iter()
        .any(|piece| matches!(piece, Piece::Amount { .. }))
}

fn as_aside(piece: Piece<'_>) -> Piece<'_> {
    match piece {
        Piece::Amount {
            amount, said, of, ..
        } => Piece::Amount {
            amount,
            said,
            aside: true,
            of,
        },
        name => name,
    }
}

/// Split off what follows the first comma outside parentheses, and a second weight that says what it is of.
fn without_tail(input: Tokens<'_>) -> (Tokens<'_>, Vec<Tokens<'_>>) {
    let mut depth = 0_i32;
    let mut cuts = Vec::new();
    for (at, token) in input.slice.iter().enumerate() {
        match token.kind {
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            Kind::Symbol(',') if depth <= 0 => cuts.push(at),
            _ => {}
        }
    }
    let end = cuts.first().copied().unwrap_or(input.len());
    let own = (2..end).find(|&at| {
        let before = input.range(0, at);
        let named = before.has_number() && !before.last().is_some_and(Token::is_numeric);
        named
            && depth == 0
            && own_weight_alone(input.range(at, end)).is_some_and(|own| own.of != Of::Each)
    });
    let mut tail: Vec<Tokens<'_>> = own.map(|at| input.range(at, end)).into_iter().collect();
    let Some(&first) = cuts.first() else {
        return (input.range(0, own.unwrap_or(end)), tail);
    };
    let first = own.unwrap_or(first);
    for (index, &cut) in cuts.iter().enumerate() {
        let to = cuts.get(index + 1).copied().unwrap_or(input.len());
        tail.push(input.range(cut + 1, to));
    }
    (input.range(0, first), tail)
}

/// Pair the pieces of one ingredient. The second value is what was left over.
fn first_named(pieces: &[Piece<'_>], input: Tokens<'_>) -> Result<(Named, Option<Error>), Error> {
    let mut amount: Option<Amount> = None;
    let mut names = Vec::new();
    let mut left = None;
    for (index, piece) in pieces.iter().enumerate() {
        match piece {
            Piece::Name(tokens) => {
                let glue = index > 0
                    && matches!(pieces[index - 1], Piece::Amount { aside: false, .. })
                    && !names.is_empty();
                if glue && !name::is_preparation(*tokens) {
                    left.get_or_insert_with(|| {
                        tokens.error(ErrorKind::LeftOver(tokens.words().text))
                    });
                }
                let prepared = !names.is_empty() && name::is_preparation(*tokens);
                if !glue && !prepared {
                    names.push(*tokens);
                }
            }
            Piece::Amount {
                amount: next,
                said,
                of,
                ..
            } => match amount.take() {
                None => amount = Some(next.clone()),
                Some(first) => match combine(first.clone(), next.clone(), *of, Vec::new()) {
                    Some(both) => amount = Some(both),
                    None => {
                        amount = Some(first);
                        left.get_or_insert_with(|| {
                            said.error(ErrorKind::LeftOver(said.words().text))
                        });
                    }
                },
            },
        }
    }
    let name = name::words(&names);
    if name.text.is_empty() {
        return Err(input.error(ErrorKind::MissingName));
    }
    let span = input.span();
    let container = None;
    Ok((
        Named {
            amount,
            name,
            container,
            span,
        },
        left,
    ))
}

/// Several things in one run without separators: "130 soup 90 beans" or "soup 130 beans 90".
pub fn items<'a>(input: Tokens<'a>) -> Result<Vec<Named>, Error> {
    let pieces = pieces(input)?;
    if let Some(left) = unread_bracket(input, &pieces) {
        return Err(left.error(ErrorKind::LeftOver(left.words().text)));
    }
    let merged = merged(pieces)?;
    let amount_first = matches!(merged.first(), Some(Piece::Amount { .. }));
    let amounts = merged
        .iter()
        .filter(|piece| matches!(piece, Piece::Amount { .. }))
        .count();
    let names = merged.len() - amounts;
    if amounts == 0 {
        let name = name::words(&names_of(&merged));
        return if name.text.is_empty() {
            Ok(Vec::new())
        } else {
            Ok(vec![Named {
                amount: None,
                span: input.span(),
                container: None,
                name,
            }])
        };
    }
    if names == 0 {
        return Err(input.error(ErrorKind::MissingName));
    }
    if let Some(turned) = turned(&merged).filter(|_| amounts == names + 1) {
        return Ok(turned);
    }
    if amounts != names {
        return Err(left_over(&merged, amount_first, input));
    }
    Ok(merged.chunks(2).filter_map(paired).collect())
}

/// "205 soup 35 bread butter 10": a run of two names where whoever writes turns from amounts before their names to
/// amounts behind them, if there is one such place only.
fn turned(merged: &[Piece<'_>]) -> Option<Vec<Named>> {
    let [Piece::Amount { .. }, .., Piece::Amount { .. }] = merged else {
        return None;
    };
    let known =
        |said: Tokens<'_>| name::familiarity(&said.words().text, said) >= name::Familiarity::Food;
    let cuts = merged.iter().enumerate().flat_map(|(at, piece)| {
        let name = match piece {
            Piece::Name(name) => Some(*name),
            Piece::Amount { .. } => None,
        };
        let lengths = name
            .into_iter()
            .flat_map(|name| (1..name.len()).map(move |cut| (name, cut)));
        lengths.map(move |(name, cut)| (at, name.range(0, cut), name.after(cut)))
    });
    let mut cuts = cuts.filter(|(_, before, behind)| known(*before) && known(*behind));
    let (at, before, behind) = cuts.next()?;
    if cuts.next().is_some() {
        return None;
    }
    let mut pieces = merged[..at].to_vec();
    pieces.extend([Piece::Name(before), Piece::Name(behind)]);
    pieces.extend_from_slice(&merged[at + 1..]);
    Some(pieces.chunks(2).filter_map(paired).collect())
}

/// A bracket with a number in it that was not read: "soup (and another 12)".
fn unread_bracket<'a>(input: Tokens<'a>, pieces: &[Piece<'a>]) -> Option<Tokens<'a>> {
    let read = |inside: &Tokens<'_>| {
        pieces.iter().any(|piece| match piece {
            Piece::Amount { said, .. } => {
                let (said, inside) = (said.span(), inside.span());
                said.start < inside.end && inside.start < said.end
            }
            Piece::Name(_) => false,
        })
    };
    let opens = (0..input.len()).filter(|&at| input.slice[at].is('('));
    opens
        .map(|at| {
            let rest = input.after(at + 1);
            rest.range(0, rest.find(|token| token.is(')')).unwrap_or(rest.len()))
        })
        .find(|inside| inside.has_number() && !read(inside))
}

/// Join an aside or a second measure to the amount that it repeats.
fn merged(pieces: Vec<Piece<'_>>) -> Result<Vec<Piece<'_>>, Error> {
    let mut merged: Vec<Piece<'_>> = Vec::new();
    for piece in pieces {
        let target = repeated_amount(&merged, &piece);
        match (piece, target.and_then(|at| merged.get_mut(at))) {
            (
                Piece::Amount {
                    amount, said, of, ..
                },
                Some(Piece::Amount { amount: before, .. }),
            ) => match combine(before.clone(), amount, of, Vec::new()) {
                Some(both) => *before = both,
                None => return Err(said.error(ErrorKind::LeftOver(said.words().text))),
            },
            (piece, _) => merged.push(piece),
        }
    }
    Ok(merged)
}

/// Where the amount is that this piece says again.
fn repeated_amount(merged: &[Piece<'_>], piece: &Piece<'_>) -> Option<usize> {
    let Piece::Amount { aside, .. } = piece else {
        return None;
    };
    match merged {
        [.., Piece::Amount { .. }] => Some(merged.len() - 1),
        [.., Piece::Amount { .. }, Piece::Name(_)] if *aside => Some(merged.len() - 2),
        _ => None,
    }
}

fn names_of<'a>(pieces: &[Piece<'a>]) -> Vec<Tokens<'a>> {
    pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Name(tokens) => Some(*tokens),
            Piece::Amount { .. } => None,
        })
        .collect()
}

fn left_over(pieces: &[Piece<'_>], amount_first: bool, input: Tokens<'_>) -> Error {
    let odd = if amount_first {
        pieces.last()
    } else {
        pieces.first()
    };
    match odd {
        Some(Piece::Amount { said, .. }) => said.error(ErrorKind::LeftOver(said.words().text)),
        Some(Piece::Name(tokens)) => tokens.error(ErrorKind::LeftOver(tokens.words().text)),
        None => input.error(ErrorKind::MissingName),
    }
}

fn paired(pair: &[Piece<'_>]) -> Option<Named> {
    let (amount, said, name) = match pair {
        [Piece::Amount { amount, said, .. }, Piece::Name(name)]
        | [Piece::Name(name), Piece::Amount { amount, said, .. }] => (amount, said, name),
        _ => return None,
    };
    let differs = differs(*said);
    // "spinach in, 355", "40 cheddar goes in": how it came into the bowl.
    let named = match pair {
        [Piece::Name(name), _] => name::without_way(*name),
        _ if name.len() > name::without_way(*name).len() + 1 => name::without_way(*name),
        _ => *name,
    };
    let (name, container) = without_container(named);
    // What left a vessel on the scale has no tare: "salsa in the glass jar 1010 → 972".
    let (name, container) = match differs {
        true => (without_jar(name), None),
        false => (name, container),
    };
    let words = name::chosen(name).unwrap_or_else(|| name::words(&[name]));
    let (said, at) = (said.span(), name.span());
    Some(Named {
        amount: Some(amount.clone()),
        container,
        name: words,
        span: said.start.min(at.start)..said.end.max(at.end),
    })
}

/// Two readings and what is between them: "702 -> 655".
fn differs(said: Tokens<'_>) -> bool {
    let parts = |token: &Token| {
        matches!(token.kind, Kind::Symbol('→' | '-')) || matches!(token.norm(), "to" | "before")
    };
    said.slice.iter().any(parts)
}

/// What a jar did between two readings.
const FELL: [&str; 5] = ["went", "goes", "fell", "dropped", "was"];

/// "oil jug 702 -> 655": the jug was on the scale, oil is what left it.
fn without_jar(name: Tokens<'_>) -> Tokens<'_> {
    let mut bare = name::bare(name);
    // "the chilli pan went 2600 -> 1900"
    if bare.len() > 2 && bare.last().is_some_and(|last| FELL.contains(&last.norm())) {
        bare = bare.range(0, bare.len() - 1);
    }
    let in_jar = bare.len() > 1
        && bare
            .last()
            .is_some_and(|token| containers().holds(token) || token.norm() == "block");
    match in_jar {
        true => name::bare(bare.range(0, bare.len() - 1)),
        false => name,
    }
}

/// "dal in the blue bowl" is dal, and the bowl's tare comes off. "In a bowl" only says how it was served.
fn without_container(name: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let Some(at) = name
        .slice
        .iter()
        .rposition(|token| matches!(token.norm(), "in" | "on" | "into" | "onto"))
        .filter(|&at| at > 0)
    else {
        return (name, None);
    };
    let Ok((rest, words)) = container(name.after(at + 1)) else {
        // "12 butter on the rice": where it went is no part of its name.
        let before = name.range(0, at);
        let counted = |token: &Token| number_words().holds(token);
        let went_on = matches!(name.norm(at), "on" | "onto")
            && !name.after(at).slice.iter().any(counted)
            && name::familiarity(&before.words().text, before) >= name::Familiarity::Food;
        return (if went_on { before } else { name }, None);
    };
    if !rest.trimmed().is_empty() {
        return (name, None);
    }
    let same = name.norm(at + 1) == "the" && name.norm(at + 2) == "same";
    let served = same || matches!(name.norm(at + 1), "a" | "an" | "one");
    (name.range(0, at), (!served).then_some(words))
}
