//! How a portion is divided among plates.
//!
//! ```text
//! share   := equally | ["each"] people | "each" | parts
//! equally := ("for" | "between" | "split" | "shared" ...) people
//! people  := number ["people" | "of us" | "ways"] | "both of us" | person { ("and" | ",") person }
//! parts   := part { ("," | "and") part } | ratio ["with" person]
//! part    := who mass | (mass | fraction) ("for" | "to") who
//! ```
//! "me 290 of 500 dal" divides what was weighed, 500; 290 of it is the sender's.

use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::grams;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{PartSize, Share, SharePart, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::vocabulary::Sense;

const PEOPLE_MAX: f64 = 20.0;

/// A share at the end of the portion: the whole of these tokens, without the separator before them.
/// `apart`: a comma, colon or line break stands before them, so parts in grams may.
pub fn at_end(input: Tokens<'_>, apart: bool) -> Option<Share> {
    if input.norm(0) == "each" {
        return each(input.after(1));
    }
    if input.norm(0) == "half" && input.norm(1) == "each" {
        return equally(input);
    }
    if input.last()?.norm() == "each" && input.len() > 1 {
        return each(input.range(0, input.len() - 1));
    }
    equally(input).or_else(|| parts(input, apart))
}

fn each(rest: Tokens<'_>) -> Option<Share> {
    if rest.trimmed().is_empty() {
        return Some(Share::Each {
            people: None,
            with: Vec::new(),
        });
    }
    if rest.norm(0) == "half" && rest.len() == 1 {
        return None;
    }
    let (people, with) = people(rest.after(usize::from(rest.norm(0) == "for")))?;
    Some(Share::Each {
        people: Some(people),
        with,
    })
}

fn equally(input: Tokens<'_>) -> Option<Share> {
    if input.norm(0) == "half" && input.norm(1) == "each" {
        return Some(Share::Equally {
            people: 2,
            with: Vec::new(),
        });
    }
    // "3 ways", "3 ways me ana tom"
    if let Ok((rest, count)) = number(input)
        && matches!(rest.norm(0), "ways" | "way")
        && (2.0..=PEOPLE_MAX).contains(&count.value)
    {
        let named = rest.after(1).trimmed();
        let with = if named.is_empty() {
            Vec::new()
        } else {
            people(named)?.1
        };
        return Some(Share::Equally {
            people: count.value as u32,
            with,
        });
    }
    let first = input.norm(0);
    if !matches!(
        first,
        "for" | "between" | "split" | "shared" | "divided" | "among" | "share" | "halved"
    ) {
        return None;
    }
    let mut rest = input.after(1);
    let mut with_sender = matches!(first, "split" | "shared" | "share" | "halved");
    while matches!(
        rest.norm(0),
        "between" | "among" | "by" | "with" | "in" | "for" | "equally" | "evenly"
    ) {
        with_sender &= rest.norm(0) == "with" || !matches!(rest.norm(0), "between" | "among");
        rest = rest.after(1);
    }
    if rest.is_empty() {
        return None;
    }
    if first == "for" && rest.norm(0) == "each" {
        return each(rest.after(1 + usize::from(rest.norm(1) == "of")));
    }
    let (mut people, with) = people(rest)?;
    let named_alone = people as usize == with.len();
    if named_alone {
        // "shared with Ana" is the sender and Ana; "for Ana and Tom" is not for the sender.
        if !with_sender {
            return several_others(with);
        }
        people += 1;
    }
    (people > 1).then_some(Share::Equally { people, with })
}

/// Equal parts for these people, the sender among them or `with` them.
pub fn shared(input: Tokens<'_>, with_sender: bool) -> Option<Share> {
    let (mut people, with) = people(input.trimmed())?;
    if people as usize == with.len() {
        if !with_sender {
            return several_others(with);
        }
        people += 1;
    }
    Some(Share::Equally { people, with })
}

/// "for Ana and Tom": equal parts, none for the sender.
fn several_others(with: Vec<Words>) -> Option<Share> {
    if with.len() < 2 {
        return None;
    }
    let size = PartSize::Of(1.0 / with.len() as f64);
    let parts = with
        .into_iter()
        .map(|who| SharePart {
            who: Some(who),
            size,
        })
        .collect();
    Some(Share::Parts(parts))
}

/// How many people, the sender counted if said, and who the others are.
pub fn people(input: Tokens<'_>) -> Option<(u32, Vec<Words>)> {
    let all: Vec<&str> = input.slice.iter().map(Token::norm).collect();
    if matches!(
        all.as_slice(),
        ["both" | "us"]
            | ["both", "of", "us"]
            | ["us", "both" | "two"]
            | ["the", "two", "of", "us"]
            | ["the", "both", "of", "us"]
    ) {
        return Some((2, Vec::new()));
    }
    // "all 3 of us", "the three of us"
    let skip = usize::from(matches!(all.first(), Some(&("the" | "all"))));
    if let Ok((rest, count)) = number(input.after(skip)) {
        let ending: Vec<&str> = rest.slice.iter().map(Token::norm).collect();
        let fits = matches!(
            ending.as_slice(),
            [] | ["people" | "persons" | "ways" | "plates" | "ppl" | "adults"]
                | ["of", "us"]
                | ["of", "them"]
        );
        let counted = count.value.fract() == 0.0 && (2.0..=PEOPLE_MAX).contains(&count.value);
        return (fits && counted).then(|| (count.value as u32, Vec::new()));
    }
    let mut with = Vec::new();
    let mut count = 0;
    for token_at in 0..input.len() {
        let token = &input.slice[token_at];
        match token.norm() {
            "and" | "plus" => {}
            "me" | "myself" | "i" | "us" => count += 1,
            "" if matches!(token.kind, Kind::Symbol(',' | '&' | '+')) => {}
            said if input.vocabulary.is(Sense::Person, &[said]) => {
                with.push(input.range(token_at, token_at + 1).words());
                count += 1;
            }
            _ => return None,
        }
    }
    (count > 0).then_some((count, with))
}

/// "me 200, Ana 180", "half for Ana", "60/40 with Ana"
fn parts(input: Tokens<'_>, apart: bool) -> Option<Share> {
    if let Some(share) = ratio(input) {
        return Some(share);
    }
    let mut parts = Vec::new();
    let mut rest = input;
    while !rest.is_empty() {
        let skip = rest
            .slice
            .iter()
            .take_while(|token| {
                matches!(
                    token.kind,
                    Kind::Newline | Kind::Symbol(',' | ';' | '&' | '+' | '.')
                ) || token.norm() == "and"
            })
            .count();
        rest = rest.after(skip);
        let (next, part) = part(rest).ok()?;
        if matches!(part.size, PartSize::Grams(_)) && !apart {
            return None;
        }
        parts.push(part);
        rest = next;
    }
    // "500 dal, Ana 210" may as well be two plates.
    let alone = parts.len() == 1 && matches!(parts[0].size, PartSize::Grams(_));
    if alone
        && parts[0].size != REST
        && !input
            .slice
            .iter()
            .any(|token| matches!(token.norm(), "for" | "to" | "me"))
    {
        return None;
    }
    let of_sender = parts.iter().filter(|part| part.who.is_none()).count();
    (!parts.is_empty() && of_sender <= 1).then_some(Share::Parts(parts))
}

/// "60/40", "60/40 with Ana"
fn ratio(input: Tokens<'_>) -> Option<Share> {
    let skip = usize::from(matches!(input.norm(0), "split" | "shared"));
    let Kind::Ratio(mine, other) = input.get(skip)?.kind else {
        return None;
    };
    if mine + other != 100.0 || mine <= 0.0 {
        return None;
    }
    let rest = input.after(skip + 1);
    let mut parts = vec![SharePart {
        who: None,
        size: PartSize::Of(mine / 100.0),
    }];
    if let ("with" | "for", said) = (rest.norm(0), rest.norm(1)) {
        if rest.len() != 2 || !rest.vocabulary.is(Sense::Person, &[said]) {
            return None;
        }
        parts.push(SharePart {
            who: Some(rest.range(1, 2).words()),
            size: PartSize::Of(other / 100.0),
        });
    } else if !rest.is_empty() {
        return ordered(rest, mine, other);
    }
    Some(Share::Parts(parts))
}

/// "60/40 tom & me": in the order of the names.
fn ordered(input: Tokens<'_>, first: f64, second: f64) -> Option<Share> {
    let (rest, one) = who(input).ok()?;
    let (rest, _) = opt(word(&["and"])).parse(rest.trimmed_front()).ok()?;
    let (rest, other) = who(rest.trimmed_front()).ok()?;
    let part = |who, percent: f64| SharePart {
        who,
        size: PartSize::Of(percent / 100.0),
    };
    rest.trimmed()
        .is_empty()
        .then(|| Share::Parts(vec![part(one, first), part(other, second)]))
}

fn part(input: Tokens<'_>) -> Read<'_, SharePart> {
    if let Ok((rest, who)) = who(input) {
        let (rest, _) =
            opt(word(&["had", "got", "gets", "has", "ate", "takes"])).parse(rest.without_lead())?;
        let (rest, size) = size(rest)?;
        return Ok((rest, SharePart { who, size }));
    }
    let (rest, size) = size(input)?;
    let (rest, _) = opt(word(&["of"])).parse(rest)?;
    let (rest, _) = opt(word(&["it", "that"])).parse(rest)?;
    let (rest, linked) = opt(word(&["for", "to"])).parse(rest)?;
    let (rest, who) = who(rest)?;
    // "60% me 40% Ana", but "200 Ana" is no part.
    if linked.is_none() && matches!(size, PartSize::Grams(_)) {
        return input.no();
    }
    Ok((rest, SharePart { who, size }))
}

fn who(input: Tokens<'_>) -> Read<'_, Option<Words>> {
    match input.norm(0) {
        "me" | "i" | "myself" | "mine" => Ok((input.after(1), None)),
        _ => match person(input) {
            Some((length, who)) => Ok((input.after(length), Some(who))),
            None => input.no(),
        },
    }
}

/// "the rest": what the other parts leave over, to be told once the whole is known.
pub const REST: PartSize = PartSize::Of(0.0);

fn size(input: Tokens<'_>) -> Read<'_, PartSize> {
    let (after, _) = opt(word(&["the"])).parse(input)?;
    if let Ok((rest, _)) = word(&["rest", "remainder", "remaining"])(after) {
        return Ok((rest, REST));
    }
    if let Some(Kind::Percent(percent)) = input.first().map(|token| &token.kind) {
        return Ok((input.after(1), PartSize::Of(percent / 100.0)));
    }
    if let Ok((rest, part)) = number(input)
        && part.value < 1.0
        && part.value > 0.0
    {
        return Ok((rest, PartSize::Of(part.value)));
    }
    let (rest, grams) = grams(input)?;
    Ok((rest, PartSize::Grams(grams)))
}

/// "me 290 of 500 dal", "290 of the 500 dal": what is left to read starts at the whole.
pub fn at_front(input: Tokens<'_>) -> Option<(Tokens<'_>, SharePart)> {
    let (rest, who) = match who(input) {
        Ok((rest, who)) => (rest.without_lead(), who),
        Err(_) => (input, None),
    };
    let (rest, _) = opt(word(&["had", "ate", "took", "got"])).parse(rest).ok()?;
    if !rest.first()?.is_numeric() {
        return None;
    }
    let (after, mine) = grams(rest).ok()?;
    let (after, _) = word(&["of"])(after).ok()?;
    let (after, _) = opt(word(&["the", "a", "my", "our"])).parse(after).ok()?;
    if !after.first()?.is_numeric() {
        return None;
    }
    let (_, whole) = grams(after).ok()?;
    let size = PartSize::Grams(mine);
    (mine < whole).then_some((after, SharePart { who, size }))
}

/// "split 500 chilli with Ana", "me & Ana shared 333 rice", "Ana, Tom and I had 120 g barley each"
pub fn around(input: Tokens<'_>) -> Option<(Tokens<'_>, Share)> {
    if matches!(input.norm(0), "split" | "shared" | "halved") {
        let at = input
            .slice
            .iter()
            .rposition(|token| matches!(token.norm(), "with" | "between" | "for"))?;
        let numbered = input.range(1, at).has_number();
        let share = shared(input.after(at + 1), input.norm(at) == "with").filter(|_| numbered)?;
        return Some((input.range(1, at), share));
    }
    let verb = input
        .slice
        .iter()
        .take(9)
        .position(|token| matches!(token.norm(), "shared" | "split" | "had" | "halved"))?;
    let (people, with) = people(input.range(0, verb)).filter(|(people, _)| *people > 1)?;
    let items = input.after(verb + 1);
    if input.norm(verb) != "had" {
        return Some((items, Share::Equally { people, with }));
    }
    let last = items.last().filter(|token| token.norm() == "each")?;
    let _ = last;
    let people = Some(people);
    Some((
        items.range(0, items.len() - 1),
        Share::Each { people, with },
    ))
}

/// "for two: 280 dal", "we each had 140 dal", "both had 140 dal"
pub fn in_front<'a>(input: Tokens<'a>) -> Option<(Tokens<'a>, Share)> {
    let skip = usize::from(matches!(input.norm(0), "we" | "they"));
    let each = |people| Share::Each {
        people,
        with: Vec::new(),
    };
    match input.norm(skip) {
        "each" => return Some((input.after(skip + 1), each(None))),
        "both" => return Some((input.after(skip + 1), each(Some(2)))),
        _ => {}
    }
    let colon = input
        .slice
        .iter()
        .take(10)
        .position(|token| token.is(':'))?;
    let share = at_end(input.range(0, colon), true)?;
    Some((input.after(colon + 1), share))
}
