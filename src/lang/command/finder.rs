//! A plate that holds what is asked for: "dal and rice for 600 kcal, 35 protein", "45 g protein from what stands
//! ready", "how much rice with 160 dal to make 700 kcal".
//!
//! ```text
//! finder := ["find"] part { sep part } "for" aims | "how much" part ["do I need"] ["with" part { sep part }] "for" aims
//!         | ["what can I have"] ["for"] aims "from what stands ready" | "what can I have" "for" aims
//!         | aims ("from" | "of") part { sep part } | part sep part { sep part } "," aims;   all with "for" who behind it
//! part   := [amount] name
//! limits := { ("," | "and" | "but" | "with") ("at most" amount name | ("no" | "no more" | "without") name) }, behind all of it
//! sep    := "," | "and" | "+" | "with"
//! aims   := those of a target (personal/target.rs)
//! ```
//! Every word of a message has its place, or it is none of these.

use super::finder_day::of_day;
use crate::lang::amount::{self, Stands};
use crate::lang::command::personal::target;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::syntax::{Aim, Command, Finder, FinderLimit, FinderPart, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{finder, verbs};

/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;
const PARTS_MAX: usize = 8;
/// "for" and a name.
const FOR_WHOM_MAX: usize = 4;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    // "batch soup, 500 g carrots, 5 g salt" asks for nothing.
    if verbs().longest_of(body.slice, "batch").is_some() {
        return input.no();
    }
    let marks = body
        .slice
        .iter()
        .rev()
        .take_while(|token| token.is('?'))
        .count();
    let said = body.range(0, body.len() - marks).trimmed_end();
    let (said, who) = for_whom(said);
    let found = of_day(said)
        .or_else(|| plate(said))
        .or_else(|| limited(said));
    match found.or_else(|| of_parts(said)) {
        Some(found) => {
            let found = Finder { who, ..found };
            Ok((input.after(input.len()), Command::Finder(found)))
        }
        None => input.no(),
    }
}

/// Without "for Ana" at its end.
fn for_whom(said: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let named = |at: &usize| {
        let (length, who) = person(said.after(at + 1)).filter(|_| said.norm(*at) == "for")?;
        (at + 1 + length == said.len()).then_some((*at, who))
    };
    let from = said.len().saturating_sub(FOR_WHOM_MAX);
    match (from.max(1)..said.len()).find_map(|at| named(&at)) {
        Some((at, who)) => (said.range(0, at).trimmed_end(), Some(who)),
        None => (said, None),
    }
}

fn plate(said: Tokens<'_>) -> Option<Finder> {
    from_stock(said)
        .or_else(|| how_much(said))
        .or_else(|| named(said))
}

/// The same with limits behind it: as few words as can be are one, so that "at most 3 salt" stays an aim.
fn limited(said: Tokens<'_>) -> Option<Finder> {
    let both = |at: usize| {
        let limits = limits(said.after(at))?;
        let found = plate(said.range(0, at).trimmed_end())?;
        Some(Finder { limits, ..found })
    };
    (1..said.len()).rev().find_map(both)
}

fn limits(said: Tokens<'_>) -> Option<Vec<FinderLimit>> {
    let (mut limits, mut rest) = (Vec::new(), said);
    while !rest.is_empty() {
        let next = joined(rest).unwrap_or(rest).trimmed_front();
        let next = next.after(usize::from(next.norm(0) == "but"));
        let (limit, behind) = limit(next)?;
        limits.push(limit);
        rest = without_tail(behind);
        if is_phrase("tail", rest) {
            break;
        }
    }
    (!limits.is_empty() && limits.len() <= PARTS_MAX).then_some(limits)
}

fn limit(said: Tokens<'_>) -> Option<(FinderLimit, Tokens<'_>)> {
    // "no more than 150 rice" is no "no more rice".
    if let Some(rest) = phrase("at most", said) {
        let (part, rest) = part(rest)?;
        let (name, most) = (part.name, Some(part.amount?));
        return Some((FinderLimit { name, most }, rest));
    }
    let (part, rest) = part(phrase("none of", said)?)?;
    let (name, most) = (part.name, None);
    part.amount
        .is_none()
        .then_some((FinderLimit { name, most }, rest))
}

/// "45 g protein from what stands ready", "what can I have for 600 kcal"
fn from_stock(said: Tokens<'_>) -> Option<Finder> {
    let said = without_tail(said);
    let asked = phrase("what", said);
    let (rest, stock) = without_from(asked.unwrap_or(said));
    if asked.is_none() && !stock {
        return None;
    }
    let for_them =
        phrase("for", rest).or_else(|| (rest.norm(0) == "with").then(|| rest.take_one()));
    let wished = match stock {
        true => skip("need", for_them.unwrap_or(rest)),
        false => for_them.unwrap_or(rest),
    };
    let aims = told(wished);
    let alone = aims.map(|aims| (Vec::new(), aims));
    let (parts, aims) = alone.or_else(|| split(skip("find", rest)).filter(|_| stock))?;
    Some(Finder {
        parts,
        from_stock: true,
        aims,
        ..Finder::default()
    })
}

/// "how much rice with 160 dal to make 700 kcal"
fn how_much(said: Tokens<'_>) -> Option<Finder> {
    let rest = phrase("how much", said)?;
    let (first, rest) = part(rest).filter(|(first, _)| first.amount.is_none())?;
    let rest = skip("do", rest);
    let behind = phrase("for", rest).or_else(|| phrase("holds", rest));
    let (mut parts, aims) = match behind.and_then(|rest| told(without_tail(rest))) {
        Some(aims) => (Vec::new(), aims),
        None => split(phrase("beside", rest)?)?,
    };
    parts.insert(0, first);
    Some(Finder {
        parts,
        aims,
        ..Finder::default()
    })
}

/// "dal and rice for 600 kcal, 35 protein"
fn named(said: Tokens<'_>) -> Option<Finder> {
    let (parts, aims) = split(skip("find", said))?;
    // "160 dal for 700 kcal" tells what it has.
    let open = parts.iter().any(|part| part.amount.is_none());
    open.then_some(Finder {
        parts,
        aims,
        ..Finder::default()
    })
}

/// "40 protein from chilli and dal", "300 kcal of rice"
fn of_parts(said: Tokens<'_>) -> Option<Finder> {
    let said = skip("need", said);
    let (aims, rest) = (1..said.len()).find_map(|at| {
        let rest = phrase("of parts", said.after(at))?;
        Some((told(said.range(0, at))?, without_tail(rest)))
    })?;
    let (mut parts, mut rest) = (Vec::new(), rest);
    loop {
        let (next, behind) = part(rest).filter(|(next, _)| next.amount.is_none())?;
        parts.push(next);
        if behind.is_empty() {
            break;
        }
        rest = joined(behind)?;
    }
    (parts.len() <= PARTS_MAX).then_some(Finder {
        parts,
        aims,
        ..Finder::default()
    })
}

/// What is on the plate, and behind it what it is to hold.
fn split(said: Tokens<'_>) -> Option<(Vec<FinderPart>, Vec<Aim>)> {
    let (mut parts, mut rest) = (Vec::new(), said.trimmed_front());
    loop {
        if parts.len() == PARTS_MAX {
            return None;
        }
        let (next, behind) = part(rest)?;
        parts.push(next);
        if let Some(aims) = phrase("for", behind).and_then(|rest| told(without_tail(rest))) {
            return Some((parts, aims));
        }
        // "rice and chilli, 700 kcal"; of one dish that is what a label says of it.
        let marked = behind.first().is_some_and(|token| token.is(',')) && parts.len() > 1;
        if let Some(aims) = marked
            .then(|| told(without_tail(behind.after(1))))
            .flatten()
        {
            return Some((parts, aims));
        }
        rest = joined(behind)?;
    }
}

/// "160 dal", "the dal"; a dish of the household at its longest, or anything up to what joins the next.
fn part(said: Tokens<'_>) -> Option<(FinderPart, Tokens<'_>)> {
    let read = amount::amount(said, Stands::BeforeName);
    let (rest, amount) = match read {
        Ok((rest, amount)) => (rest, Some(amount)),
        Err(_) => (said, None),
    };
    let words = rest.slice.iter().take(NAME_WORDS_MAX + 1);
    let words = words
        .take_while(|token| matches!(token.kind, Kind::Word(_)))
        .count();
    // A name may hold an "and", but none ends with it.
    let named = |length: &usize| {
        let said = rest.range(0, *length);
        let joins = matches!(said.norm(length - 1), "and" | "n" | "with" | "plus" | "for");
        !joins && name::of_batch(said).is_some()
    };
    let dish = (1..=words).rev().find(named);
    let plain = || (1..=words).find(|length| ends(rest.after(*length)));
    let length = dish.or_else(plain)?;
    let name = name::bare(rest.range(0, length));
    let fits = name.is_wordy() && !name.is_empty();
    let part = FinderPart {
        amount,
        name: name.words(),
    };
    fits.then_some((part, rest.after(length)))
}

fn ends(rest: Tokens<'_>) -> bool {
    let parts = ["for", "do", "beside", "holds"];
    rest.is_empty()
        || joined(rest).is_some()
        || parts.iter().any(|part| phrase(part, rest).is_some())
}

fn joined(rest: Tokens<'_>) -> Option<Tokens<'_>> {
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | '+' | '&' | '/')
        )
    };
    let marked = rest.first().is_some_and(mark);
    let rest = rest.after(usize::from(marked));
    let worded = matches!(rest.norm(0), "and" | "n" | "with" | "plus");
    (marked || worded).then(|| rest.after(usize::from(worded)))
}

/// What it is to hold: each figure with what it is of.
pub(super) fn told(said: Tokens<'_>) -> Option<Vec<Aim>> {
    // "-300 kcal" is asked for, and refused.
    target::told(said.without_lead_but_minus().trimmed_end())
}

pub(super) fn without_tail(said: Tokens<'_>) -> Tokens<'_> {
    let at = (1..said.len()).find(|at| is_phrase("tail", said.after(*at)));
    said.range(0, at.unwrap_or(said.len())).trimmed_end()
}

fn without_from(said: Tokens<'_>) -> (Tokens<'_>, bool) {
    let at = (0..said.len()).find(|at| is_phrase("from", said.after(*at)));
    if let Some(at) = at {
        return (said.range(0, at).trimmed_end(), true);
    }
    match phrase("from", said) {
        Some(rest) => (rest.trimmed_front(), true),
        None => (said, false),
    }
}

pub(super) fn phrase<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = finder().longest_of(input.slice, part)?;
    Some(input.after(length))
}

fn skip<'a>(part: &str, input: Tokens<'a>) -> Tokens<'a> {
    phrase(part, input).unwrap_or(input)
}

fn is_phrase(part: &str, input: Tokens<'_>) -> bool {
    !input.is_empty() && finder().longest_of(input.slice, part) == Some(input.len())
}

#[cfg(test)]
mod tests {
    use crate::lang::Command;
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
            .with(Sense::Batch, "mac and cheese")
    }

    #[test]
    fn a_plate_is_looked_for_in_many_words() {
        for (text, printed) in [
            (
                "dal and rice for 600 kcal, 35 protein",
                "find dal and rice for 600 kcal, 35 g protein",
            ),
            (
                "dal + rice for 600kcal and 35g protein?",
                "find dal and rice for 600 kcal, 35 g protein",
            ),
            (
                "find me dal, rice to get at least 40 g protein",
                "find dal and rice for at least 40 g protein",
            ),
            (
                "mac and cheese with rice for 500-600 kcal",
                "find mac and cheese and rice for 500 to 600 kcal",
            ),
            (
                "how much rice with 160 dal to make 700 kcal",
                "find rice and 160 dal for 700 kcal",
            ),
            (
                "how much rice do I need with 160 g dal for 700 kcal?",
                "find rice and 160 g dal for 700 kcal",
            ),
            ("how much dal for 30 g protein", "find dal for 30 g protein"),
            (
                "45 g protein from what stands ready",
                "45 g protein from what stands ready",
            ),
            (
                "600 kcal and 35 protein from what's in the fridge",
                "600 kcal, 35 g protein from what stands ready",
            ),
            (
                "what can I have for 600 kcal from what's left",
                "600 kcal from what stands ready",
            ),
            (
                "dal for 600 kcal, under 3 salt",
                "find dal for 600 kcal, at most 3 g salt",
            ),
            (
                "dal and rice for 600 kcal, at most 200 dal",
                "find dal and rice for 600 kcal, at most 200 dal",
            ),
            (
                "dal and rice for 600 kcal, at most 3 g salt, no more than 150 g rice please",
                "find dal and rice for 600 kcal, at most 3 g salt, at most 150 g rice",
            ),
            (
                "45 g protein from what stands ready but no rice",
                "45 g protein from what stands ready, without rice",
            ),
            (
                "what can I have for 600 kcal from what's left, no more rice and at most 200 dal?",
                "600 kcal from what stands ready, without rice, at most 200 dal",
            ),
            (
                "160 dal and rice for 700 kcal please",
                "find 160 dal and rice for 700 kcal",
            ),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        for (text, printed) in [
            (
                "40 protein from dal and rice",
                "find dal and rice for 40 g protein",
            ),
            ("300 kcal of rice", "find rice for 300 kcal"),
            (
                "rice and dal, 700 kcal, 40 g protein",
                "find rice and dal for 700 kcal, 40 g protein",
            ),
            (
                "I need 40 g protein, what's ready?",
                "40 g protein from what stands ready",
            ),
            (
                "600 kcal from what is due first",
                "600 kcal from what stands ready",
            ),
            ("how much dal is 25 g protein", "find dal for 25 g protein"),
            (
                "what can I eat for 500 kcal and 40 protein",
                "500 kcal, 40 g protein from what stands ready",
            ),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        let ours = kitchen().with(Sense::Person, "Ana");
        surely_means(
            "dal and rice for 600 kcal for Ana",
            &ours,
            "find dal and rice for 600 kcal for Ana",
        );
        means(
            "what can I eat for 600 kcal",
            &kitchen(),
            "600 kcal from what stands ready",
        );
    }

    #[test]
    fn talk_of_figures_looks_for_nothing() {
        for text in [
            "the bar has 200 kcal and 20 g protein",
            "dal and rice for 4 people",
            "dal and rice for dinner",
            "how much rice for 4",
            "I need 45 g protein a day they say",
            "160 dal for 700 kcal",
            "a burger for 1200 kcal, madness",
            "dal for 6.50 at the corner place",
            "600 kcal from one croissant!",
            "dal, 120 kcal",
            "I need 40 g protein powder",
            "what can I have for 5 euros",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Finder(_))
            });
        }
    }
}
