//! Among whom what was booked is divided, and how.

use super::whose::of;
use super::{after, before, said, without_closing};
use crate::lang::amount::{Stands, amount};
use crate::lang::number::number;
use crate::lang::person::people;
use crate::lang::syntax::{Amount, Fix, Of, PartSize, Party, Share, SharePart, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;

/// No more people sit at a table.
const PEOPLE_MAX: f64 = 20.0;

/// "make that 3 of us", "there were three of us"
pub fn so_many_of_us(body: Tokens<'_>) -> Option<Fix> {
    let rest = after("opens", body)
        .or_else(|| after("there was", body))
        .unwrap_or(body);
    let rest = rest.after(usize::from(rest.norm(0) == "for"));
    let us = rest.len() >= 3 && rest.norm(rest.len() - 1) == "us";
    let share = so_many(rest).filter(|_| us)?;
    let of = Of::Last;
    Some(Fix::Shared { share, of })
}

/// "a third each, Tom joined in": as many as such parts make a whole.
pub fn each_a_part(body: Tokens<'_>) -> Option<Fix> {
    let (rest, part) = number(body).ok()?;
    let people = (1.0 / part.value).round();
    let whole = part.value < 1.0 && (1.0 / part.value - people).abs() < 1e-6;
    if !whole || !(2.0..=PEOPLE_MAX).contains(&people) || rest.norm(0) != "each" {
        return None;
    }
    let rest = rest.after(1).trimmed();
    let named = match rest.is_empty() {
        true => Vec::new(),
        false => {
            let at = rest
                .find(|token| matches!(token.norm(), "joined" | "had" | "came" | "is" | "was"))?;
            let joined = said("joined in", rest.after(at))? == rest.len() - at;
            people_named(rest.range(0, at)).filter(|_| joined)?
        }
    };
    let named = named.into_iter().map(Some).collect();
    let share = Share::Equally(Party {
        named,
        people: Some(people as u32),
    });
    Some(Fix::Shared {
        share,
        of: Of::Last,
    })
}

fn people_named(input: Tokens<'_>) -> Option<Vec<Words>> {
    let (count, named) = people(input)?;
    (count as usize == named.len()).then_some(named)
}

/// "split that with ana", "shared it 60/40 with tom", "halved the chilli with ana"
pub fn split(body: Tokens<'_>) -> Option<Fix> {
    let rest = after("split", body)?;
    // "we shared that, me and Ana"
    if let Some(at) = rest.find(|token| matches!(token.kind, Kind::Symbol(',' | ':' | '(')))
        && let Some(share) = equally(rest.after(at + 1), false)
    {
        let of = of(rest.range(0, at)).filter(|of| !matches!(of, Of::Part(..)))?;
        return Some(Fix::Shared { share, of });
    }
    let at = rest.find(|token| {
        matches!(
            token.norm(),
            "with" | "between" | "among" | "in" | "equally" | "evenly" | "for"
        ) || token.is_numeric()
    })?;
    let of = match at {
        0 => Of::Last,
        at => of(rest.range(0, at)).filter(|of| !matches!(of, Of::Part(..)))?,
    };
    let share = divided(without_closing(rest.after(at)))?;
    Some(Fix::Shared { share, of })
}

/// "two", "three of us"
fn so_many(input: Tokens<'_>) -> Option<Share> {
    let input = input.after(usize::from(input.norm(0) == "the"));
    let (rest, count) = number(input).ok()?;
    let people = count.value.fract() == 0.0 && (2.0..=PEOPLE_MAX).contains(&count.value);
    let ends = rest.is_empty() || rest.len() == 2 && rest.norm(0) == "of" && rest.norm(1) == "us";
    (people && ends).then(|| {
        Share::Equally(Party {
            named: Vec::new(),
            people: Some(count.value as u32),
        })
    })
}

/// "with ana and tom", "between us", "3 ways", "60/40 with ana", "for me and tom"
pub fn divided(input: Tokens<'_>) -> Option<Share> {
    let input = input.trimmed();
    if let Some(share) = parts(input) {
        return Some(share);
    }
    // "me and Tom, half each"
    if let Some(people) = before("half each", input) {
        return equally(people.trimmed(), false);
    }
    let lead = input
        .slice
        .iter()
        .take_while(|token| {
            matches!(
                token.norm(),
                "equally" | "evenly" | "split" | "shared" | "in"
            )
        })
        .count();
    let rest = input.after(lead);
    match (rest.norm(0), rest.first()?.kind.clone()) {
        ("with", _) => equally(rest.after(1), true),
        ("between" | "among" | "for", _) if rest.norm(1) == "us" => {
            Some(Share::Equally(Party::default()))
        }
        ("between" | "among", _) => equally(rest.after(1), false),
        ("for", _) => equally(rest.after(1), false)
            .filter(|_| rest.len() > 2)
            .or_else(|| so_many(rest.after(1))),
        (_, Kind::Ratio(first, second)) => {
            let (_, named) = people(rest.after(1 + usize::from(rest.norm(1) == "with")))?;
            let [other] = named.as_slice() else {
                return None;
            };
            let part = |who, size: f64| SharePart {
                who,
                size: PartSize::Of(size / (first + second)),
            };
            Some(Share::Parts(vec![
                part(None, first),
                part(Some(other.clone()), second),
            ]))
        }
        _ => {
            let (after, count) = number(rest).ok()?;
            let ways = matches!(after.norm(0), "ways" | "way");
            if !ways || !(2.0..=PEOPLE_MAX).contains(&count.value) {
                return None;
            }
            let with = after
                .after(1 + usize::from(after.norm(1) == "with"))
                .trimmed();
            let named = if with.is_empty() {
                Vec::new()
            } else {
                people(with)?.1
            };
            Some(Share::Equally(Party {
                named: named.into_iter().map(Some).collect(),
                people: Some(count.value as u32),
            }))
        }
    }
}

/// "60% for me, 40% for Ana", "200 g for me, the rest for Ana"
fn parts(input: Tokens<'_>) -> Option<Share> {
    let mut out = Vec::new();
    for piece in input.split(|token| token.is(',') || token.norm() == "and") {
        let piece = piece.trimmed();
        if piece.is_empty() {
            continue;
        }
        let at = piece.find(|token| token.norm() == "for")?;
        let said = piece.range(0, at);
        let size = match amount(said, Stands::AfterName) {
            _ if matches!(said.norm(0), "rest") || said.norm(1) == "rest" => PartSize::Rest,
            Ok((rest, Amount::Share(share))) if rest.is_empty() => PartSize::Of(share),
            Ok((rest, Amount::Mass(grams))) if rest.is_empty() => PartSize::Grams(grams),
            _ => match said.first()?.kind {
                Kind::Percent(percent) if said.len() == 1 => PartSize::Of(percent / 100.0),
                _ => return None,
            },
        };
        let (count, mut named) = people(piece.after(at + 1))?;
        if count != 1 {
            return None;
        }
        out.push(SharePart {
            who: named.pop(),
            size,
        });
    }
    (out.len() > 1).then_some(Share::Parts(out))
}

/// Equal parts for these people, the sender among them or `with` them.
fn equally(input: Tokens<'_>, with_sender: bool) -> Option<Share> {
    let (count, others) = people(input.trimmed())?;
    let sender = with_sender || count as usize > others.len();
    let named: Vec<Option<Words>> = sender
        .then_some(None)
        .into_iter()
        .chain(others.into_iter().map(Some))
        .collect();
    (named.len() > 1).then_some(Share::Equally(Party {
        named,
        people: None,
    }))
}
