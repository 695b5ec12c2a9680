//! Meals packed by the count: "4 boxes of 140 dal, 180 rice", "packed 140 dal, 180 rice x 4 boxes, 2 in the freezer".
//!
//! ```text
//! boxes := ["i" | "we"] [packs] n vessel [link] items ["each"] { place }
//!        | ["i" | "we"] [packs] items [","] ["x" | "into"] n vessel { place }
//!        | ... n vessel "from" items, or items "in all": what is in all of them
//! place := [","] [n] ["in"] ["the"] (name of the household's | phrase of data/places.txt)
//! ```
//! Its words are in `data/boxes.txt`. One box alone is packed with a verb: without one it may be eaten.

use crate::lang::clause;
use crate::lang::command::{meant_for, whither};
use crate::lang::item::list;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Boxes, Command, Item, Kept, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::boxes;

/// Nobody packs more at once.
const COUNT_MAX: f64 = 60.0;
/// What dishes that are mixed for later are called together.
pub const MIX: &str = "mix";
/// What one may be called; the other lines of the list are words around it.
pub const VESSELS: [&str; 11] = [
    "box",
    "lunchbox",
    "meal",
    "tub",
    "container",
    "tupperware",
    "jar",
    "bag",
    "pack",
    "lunch",
    "dinner",
];

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match packed(input.trimmed()) {
        Some(packed) => Ok((input.after(input.len()), Command::Boxes(packed))),
        None => input.no(),
    }
}

/// So many of something are packed with what is in each of them: it is not eaten, whether it is known or not.
pub fn opens(input: Tokens<'_>) -> bool {
    let body = without_lead(without_talk(input.trimmed()));
    // "lunch prep: 4 boxes of 140 dal"
    let headed = (1..body.len()).filter(|&at| {
        let mark = &body.slice[at - 1];
        let marks = mark.is(':') || mark.is(',') || mark.is('-');
        marks && !body.range(0, at).has_number()
    });
    let mut starts = std::iter::once(0).chain(headed);
    starts.any(|at| holds_each(body.after(at)))
}

fn holds_each(body: Tokens<'_>) -> bool {
    let body = body.after(key("packs", body).unwrap_or(0));
    let holds = |(rest, count, _): (Tokens<'_>, u32, _)| {
        let link = key("link", rest).or(key("from", rest));
        let behind = rest.after(link.unwrap_or(1)).without_lead();
        let led = link.is_some()
            || rest
                .first()
                .is_some_and(|token| token.is(':') || token.is('('));
        led && count > 1 && behind.first().is_some_and(Token::is_numeric)
    };
    counted(body).is_some_and(holds)
}

fn key(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    boxes().longest_of(input.slice, key)
}

/// "lunches sorted!! 3 boxes of ...": without a sentence before it that tells no number.
fn without_talk(input: Tokens<'_>) -> Tokens<'_> {
    let number = input.find(Token::is_numeric).unwrap_or(0);
    let before = input.slice[..number].iter();
    let ends = |token: &Token| token.is('!') || token.is('.');
    if super::key_phrase("batch", input).is_ok() {
        return input;
    }
    match before.rev().position(ends) {
        Some(back) => input.after(number - back),
        None => input,
    }
}

fn without_lead(input: Tokens<'_>) -> Tokens<'_> {
    let lead = |token: &&Token| {
        matches!(
            token.norm(),
            "i" | "we" | "ive" | "weve" | "just" | "have" | "ok" | "right"
        )
    };
    input.after(input.slice.iter().take_while(lead).count())
}

fn packed(input: Tokens<'_>) -> Option<Boxes> {
    let body = without_lead(without_talk(input));
    if (1..body.len()).any(|at| is_weighed_twice(body, at)) {
        return None;
    }
    let (body, anyway) = super::anyway(body);
    let frozen = key("froze", body);
    let boxing = matches!(body.norm(0), "boxed" | "box");
    let verb = key("packs", body).or(frozen);
    let body = body.after(verb.unwrap_or(0)).trimmed_front();
    let (body, mut kept) = places(meant_for::without_when(body));
    if frozen.is_some() && kept.is_empty() {
        let place = Words::plain("freezer");
        kept.push(Kept { count: None, place });
    }
    let boxed = || bare_boxes(body).filter(|_| boxing);
    let headed = placed_first(body).filter(|_| kept.is_empty());
    kept.extend(headed.iter().map(|(_, place)| place.clone()));
    let (count, vessel, said) = headed
        .map(|(read, _)| read)
        .or_else(|| counted_first(body))
        .or_else(|| counted_last(body))
        .or_else(boxed)?;
    let (items, each) = contents(said)?;
    // Bags of one dish are its lots.
    let parted = vessel == "bag" && items.len() == 1;
    let told = (count > 1 || verb.is_some()) && !parted;
    let kept_count: u32 = kept.iter().filter_map(|kept| kept.count).sum();
    (told && kept_count <= count).then_some(Boxes {
        count,
        vessel: vessel.to_owned(),
        items,
        each,
        kept,
        anyway,
    })
}

/// "two jars: honey 418 to 401": each was weighed twice, and nothing was packed.
fn is_weighed_twice(body: Tokens<'_>, at: usize) -> bool {
    let numeric = |at: usize| body.get(at).is_some_and(Token::is_numeric);
    let to = body.slice[at].is('→') || body.norm(at) == "to";
    to && numeric(at - 1) && numeric(at + 1)
}

/// "4 boxes"
fn counted(input: Tokens<'_>) -> Option<(Tokens<'_>, u32, &'static str)> {
    let (rest, count) = number(input).ok()?;
    let whole = count.value.fract() == 0.0 && (1.0..=COUNT_MAX).contains(&count.value);
    let vessel = VESSELS
        .into_iter()
        .filter_map(|vessel| Some((key(vessel, rest)?, vessel)));
    let (length, vessel) = vessel.max_by_key(|(length, _)| *length)?;
    (whole && count.other.is_none()).then(|| (rest.after(length), count.value as u32, vessel))
}

/// "4 boxes of 140 dal, 180 rice"
fn counted_first(body: Tokens<'_>) -> Option<(u32, &'static str, Tokens<'_>)> {
    let (rest, count, vessel) = counted(body)?;
    Some((count, vessel, rest))
}

/// "3 lunchboxes for the fridge: 200 chilli + 150 rice"
fn placed_first(body: Tokens<'_>) -> Option<((u32, &'static str, Tokens<'_>), Kept)> {
    let colon = body.find(|token| token.is(':'))?;
    let (head, place) = whither::place(body.range(0, colon), &["for", "in", "into"]);
    let (rest, count, vessel) = counted(head)?;
    let kept = Kept {
        count: None,
        place: place.filter(|_| rest.trimmed().is_empty())?,
    };
    Some(((count, vessel, body.after(colon + 1)), kept))
}

/// "boxed up 5 with 300 rice and 100 dal in each": the verb says what they are.
fn bare_boxes(body: Tokens<'_>) -> Option<(u32, &'static str, Tokens<'_>)> {
    let (rest, count) = number(body).ok()?;
    let whole = count.value.fract() == 0.0 && (2.0..=COUNT_MAX).contains(&count.value);
    let link = key("link", rest).filter(|_| whole && count.other.is_none());
    link.map(|_| (count.value as u32, "box", rest))
}

/// "140 dal, 180 rice x 4 boxes", "140 dal, 180 rice into 4 boxes"
fn counted_last(body: Tokens<'_>) -> Option<(u32, &'static str, Tokens<'_>)> {
    (1..body.len()).rev().find_map(|at| {
        let times = key("times", body.after(at)).or_else(|| {
            let mark = |token: &Token| token.is('×') || token.is(',') || token.is('=');
            body.get(at).filter(|token| mark(token)).map(|_| 1)
        })?;
        let (rest, count, vessel) = counted(body.after(at + times))?;
        let ended = rest.trimmed().is_empty() || key("each", rest) == Some(rest.len());
        ended.then(|| (count, vessel, body.range(0, at)))
    })
}

/// What is in each of them, or in all.
fn contents(said: Tokens<'_>) -> Option<(Vec<Item>, bool)> {
    let mut rest = said.trimmed();
    let mut each = true;
    while let Some(first) = rest.first() {
        let length = if matches!(
            first.kind,
            Kind::Symbol(':' | ',' | '-' | '=' | '(') | Kind::Newline
        ) {
            1
        } else if let Some(length) = key("link", rest) {
            length
        } else if let Some(length) = key("from", rest) {
            each = false;
            length
        } else {
            break;
        };
        rest = rest.after(length);
    }
    for (phrase, is_each) in [("each", true), ("all", false)] {
        let at_end =
            (1..rest.len()).find(|&at| key(phrase, rest.after(at)) == Some(rest.len() - at));
        if let Some(at) = at_end {
            rest = rest.range(0, at).trimmed_end();
            each = is_each;
        }
    }
    let rest = match rest.last() {
        Some(last) if last.is(')') => rest.range(0, rest.len() - 1),
        _ => rest,
    };
    let read = list(rest);
    let known = |item: &Item| familiarity(&item.name.text, rest) >= Familiarity::Food;
    let ours = |item: &Item| familiarity(&item.name.text, rest) == Familiarity::Household;
    let told = |item: &Item| match item.amount {
        Amount::Share(_) => !each,
        Amount::Uncounted(_) | Amount::Between { .. } => false,
        _ => true,
    };
    let whole = read.errors.is_empty() && read.comments.is_empty() && rest.has_number();
    let all = read.items.iter().all(|item| known(item) && told(item));
    (whole && all && read.items.iter().any(ours)).then_some((read.items, each))
}

/// Where they were put, told behind everything else: "fridge", "2 in the freezer and 2 in the fridge".
fn places(input: Tokens<'_>) -> (Tokens<'_>, Vec<Kept>) {
    let mut kept = Vec::new();
    let mut rest = input.trimmed_end();
    while let Some((before, place)) = last_place(rest) {
        let before = before.trimmed_end();
        let of_them =
            |end: usize| end > 2 && before.norm(end - 2) == "of" && before.norm(end - 1) == "them";
        let end = before.len() - if of_them(before.len()) { 2 } else { 0 };
        let cut = |at: usize| {
            before.get(at).is_some_and(|token| {
                matches!(
                    token.kind,
                    Kind::Symbol(',' | '.' | ';' | '-') | Kind::Newline
                ) || matches!(token.norm(), "and" | "with")
            })
        };
        let alone = end >= 2 && cut(end - 2);
        let count = number(before.range(end.saturating_sub(1), end)).ok();
        let count = count.filter(|(_, count)| alone && count.value.fract() == 0.0);
        let (left, count) = match count {
            Some((_, count)) => (before.range(0, end - 2), Some(count.value as u32)),
            None => (before, None),
        };
        kept.insert(0, Kept { count, place });
        rest = without_joint(left);
    }
    (rest, kept)
}

fn without_joint(input: Tokens<'_>) -> Tokens<'_> {
    let joint = |token: &&Token| {
        matches!(
            token.norm(),
            "and" | "all" | "them" | "put" | "straight" | "then"
        ) || matches!(token.kind, Kind::Symbol(',' | ';' | '.' | '-'))
    };
    let joints = input.slice.iter().rev().take_while(joint).count();
    input.range(0, input.len() - joints)
}

/// A place at the end: behind a word that leads to it, or behind a mark.
fn last_place(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    if let (before, Some(place)) = whither::place(input, &["in", "into", "to"]) {
        return Some((before, place));
    }
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Symbol(',' | ';' | '.' | '-' | ':') | Kind::Newline
        ) || token.norm() == "and"
    };
    let numbered = |token: &Token| token.is_numeric();
    let at = (1..input.len())
        .rev()
        .find(|&at| mark(&input.slice[at]) || numbered(&input.slice[at]))?;
    let place = clause::place(input.after(at + 1))?;
    let end = at + usize::from(numbered(&input.slice[at]));
    Some((input.range(0, end), place))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "chilli"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn packs(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_no_packing(text: &str) {
        is_no(text, &kitchen(), |it| matches!(it, Command::Boxes(_)));
    }

    #[test]
    fn many_ways_to_pack_meals() {
        let four = "4 boxes of 140 dal, 180 rice";
        for text in [
            "4 boxes of 140 dal, 180 rice",
            "4 boxes: 140 dal, 180 rice",
            "4 boxes, 140 dal and 180 rice each",
            "made 4 boxes of 140 dal and 180 rice",
            "packed 4 boxes with 140 dal, 180 rice",
            "we boxed up 4 boxes of 140 dal, 180 rice each",
            "four boxes of 140 dal + 180 rice",
            "4 boxes each with 140 dal, 180 rice",
            "140 dal, 180 rice x 4 boxes",
            "boxed 140 dal, 180 rice into 4 boxes",
            "4 boxes (140 dal, 180 rice)",
            "4 bento boxes of 140 dal, 180 rice",
            "4 boxes of 140 dal, 180 rice for the week",
        ] {
            packs(text, four);
        }
        packs(
            "4 lunch boxes of 140 dal, 180 rice",
            "4 lunchboxes of 140 dal, 180 rice",
        );
        packs(
            "packed a box of 140 dal, 180 rice",
            "packed 1 box of 140 dal, 180 rice",
        );
        packs(
            "4 boxes from 560 dal, 720 rice",
            "4 boxes from 560 dal, 720 rice",
        );
        packs(
            "4 boxes of 560 dal, 720 rice in all",
            "4 boxes from 560 dal, 720 rice",
        );
        packs(
            "4 boxes of 140 g dal, 180 g rice, fridge",
            "4 boxes of 140 g dal, 180 g rice in the fridge",
        );
        packs(
            "4 boxes of 140 dal, 180 rice, 2 in the freezer, 2 in the fridge",
            "4 boxes of 140 dal, 180 rice, 2 in the freezer, 2 in the fridge",
        );
        packs(
            "froze 4 boxes of 140 dal, 180 rice",
            "4 boxes of 140 dal, 180 rice in the freezer",
        );
        packs("6 tubs of 300 chilli", "6 tubs of 300 chilli");
    }

    #[test]
    fn talk_before_them_and_no_word_for_them() {
        packs(
            "lunches sorted!! 3 boxes, 200 chilli and 150 rice in each",
            "3 boxes of 200 chilli, 150 rice",
        );
        packs(
            "boxed up 5 with 300 rice and 100 dal in each",
            "5 boxes of 300 rice, 100 dal",
        );
    }

    #[test]
    fn what_packs_no_meal_is_left_alone() {
        for text in [
            "4 boxes of tissues, 180 rice",
            "ate a box of 140 dal, 180 rice",
            "ordered 4 boxes of 140 dal, 180 rice",
            "a box of 140 dal, 180 rice",
            "will pack 4 boxes of 140 dal, 180 rice tomorrow",
            "4 boxes of 140 dal, 180 rice?",
            "2 bags of rice, 400 each",
            "4 boxes",
        ] {
            is_no_packing(text);
        }
    }

    #[test]
    fn what_is_packed_is_not_eaten() {
        for text in [
            "4 boxes of 140 glorbin, 180 rice",
            "4 boxes: 140 glorbin, 180 rice",
            "packed 6 tubs of 140 dal and some 180 glorbin",
        ] {
            let parsed = parse(text, &kitchen());
            let eaten = |reading: &crate::lang::Reading| reading.sure && reading.only_eaten();
            assert!(!parsed.readings.iter().any(eaten), "{text}");
        }
    }
}
