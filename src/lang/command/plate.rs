//! What stands around the items of a portion: the day, the meal, whose plate, how it is shared, and whether
//! it goes with the plate before.
//!
//! ```text
//! around := { day | meal | who | share | "another" } items { day | meal | "for" who | share | "with that" }
//! ```

use crate::lang::command::share;
use crate::lang::date::{day, meal};
use crate::lang::lexicon::is_food_word;
use crate::lang::name::is_filler;
use crate::lang::syntax::{Portion, Share, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{fillers, measures, not_people, number_words, talk, vetoes};

/// A share's words are no more than this.
const SHARE_TOKENS_MAX: usize = 16;

/// Take the day, the meal and whose plate it is off both ends.
pub fn around<'a>(input: Tokens<'a>, portion: &mut Portion) -> Tokens<'a> {
    portion.with_last = goes_with_last(input);
    let mut rest = input.trimmed();
    if let Some((items, share)) = share_around(rest) {
        portion.share = Some(share);
        rest = items;
    } else if let Some((whole, part)) = share::at_front(rest) {
        let mut parts = vec![part];
        rest = whole;
        // "me 290 of 500 soup, Ana the rest"
        let mut others = Portion::default();
        if let Some(before) = share_back(rest, &mut others) {
            if let Some(Share::Parts(more)) = others.share {
                parts.extend(more);
                rest = before.trimmed_end();
            }
        }
        portion.share = Some(Share::Parts(parts));
    }
    let split =
        matches!(rest.norm(0), "split" | "halved") && portion.share.is_none() && rest.has_number();
    if split {
        let mut whole = Portion::default();
        if let Some(before) = share_back(rest.after(1), &mut whole) {
            portion.share = whole.share;
            rest = before;
        }
    }
    while let Some(next) = front(rest, portion) {
        rest = next.without_lead();
    }
    while let Some(next) = back(rest, portion) {
        rest = next.trimmed_end();
    }
    rest
}

fn front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    if input.is_empty() {
        return None;
    }
    let next = input.get(1);
    // "put Ana down for 140", "put me down for 140"
    if input.norm(0) == "put" && portion.who.is_none() {
        let at = input
            .slice
            .iter()
            .take(5)
            .position(|token| token.norm() == "down")?;
        let rest = input.after(at + 1 + usize::from(input.norm(at + 1) == "for"));
        if matches!(input.norm(1), "me" | "myself") && at == 2 {
            return Some(rest);
        }
        let (length, who) = person(input.after(1))?;
        portion.who = (length + 1 == at).then_some(who);
        return portion.who.is_some().then_some(rest);
    }
    let leads = next.is_some_and(|token| token.is(':') || token.is_numeric());
    if matches!(input.norm(0), "forgot" | "forgotten")
        || leads && matches!(input.norm(0), "me" | "i" | "mine")
    {
        return Some(input.after(1));
    }
    // "at 17:45", "6.30pm"
    let hour = usize::from(input.norm(0) == "at");
    match input.get(hour).map(|token| &token.kind) {
        Some(Kind::Clock) => {
            return Some(
                input.after(hour + 1 + usize::from(matches!(input.norm(hour + 1), "am" | "pm"))),
            );
        }
        Some(Kind::Number(_)) if matches!(input.norm(hour + 1), "am" | "pm") => {
            return Some(input.after(hour + 2));
        }
        _ => {}
    }
    if matches!(input.norm(0), "had" | "ate")
        && (input.norm(1) == "at" || matches!(next.map(|token| &token.kind), Some(Kind::Clock)))
    {
        return Some(input.after(1));
    }
    // "plate: 140 dal" names nobody's plate; "plate 388" and "plate: 388" are on the scale.
    let plated =
        matches!(input.norm(0), "plate" | "bowl") && next.is_some_and(|token| token.is(':'));
    if plated
        && input
            .get(3)
            .is_some_and(|token| !token.is(',') && token.kind != Kind::Newline)
    {
        return Some(input.after(1));
    }
    if portion.share.is_none() {
        if let Some((rest, share)) = share_front(input) {
            portion.share = Some(share);
            return Some(rest);
        }
    }
    if portion.meal.is_none() {
        if let Ok((rest, meal)) = meal(input) {
            portion.meal = Some(meal);
            let told = usize::from(matches!(rest.norm(0), "was" | "is"));
            return Some(rest.after(told));
        }
    }
    if portion.day.is_none() && !input.slice[0].is_numeric() {
        if let Ok((rest, day)) = day(input) {
            // "yesterday's dal", "Sunday dal 200": the day chooses the batch.
            let said = input.norm(0);
            let chooses = said.ends_with('s')
                && !matches!(said, "tues" | "thurs" | "this")
                && meal(rest).is_err();
            let ends = rest.is_empty()
                || rest
                    .first()
                    .is_some_and(|token| token.is(':') || token.is(',') || token.is_numeric())
                || meal(rest).is_ok()
                || person(rest).is_some()
                || is_filler(&rest.slice[0]);
            if !chooses && ends {
                portion.day = Some(day);
                return Some(rest);
            }
        }
    }
    if portion.who.is_none() {
        if let Some(rest) = who_front(input, portion) {
            return Some(rest);
        }
    }
    None
}

/// Somebody by name: a person of the household, or "guest Tom". Gives how many words it took.
pub fn person(input: Tokens<'_>) -> Option<(usize, Words)> {
    let words: Vec<&str> = input
        .slice
        .iter()
        .take(3)
        .map(|token| token.norm())
        .take_while(|norm| !norm.is_empty())
        .collect();
    let known = (1..=words.len())
        .rev()
        .find(|&length| input.vocabulary.is(Sense::Person, &words[..length]));
    if let Some(length) = known {
        let mut who = input.range(0, length).words();
        // "Ana's" is Ana.
        for ending in ["'s", "’s"] {
            who.text = who.text.trim_end_matches(ending).to_owned();
        }
        return Some((length, who));
    }
    if words.len() >= 2 && words[0] == "guest" {
        return Some((2, input.range(0, 2).words()));
    }
    let owner = words.first()?.strip_suffix('s')?;
    if !input.vocabulary.is(Sense::Person, &[owner]) {
        return None;
    }
    let mut who = input.range(0, 1).words();
    let name = who
        .text
        .trim_end_matches(['s', 'S'])
        .trim_end_matches(['\'', '’']);
    who.text = name.to_owned();
    Some((1, who))
}

/// Somebody whom the household does not know yet: "for Tom", "Tom had".
fn stranger(input: Tokens<'_>) -> Option<Words> {
    let norm = input.norm(0);
    let letters = norm.len() >= 2 && norm.chars().all(char::is_alphabetic);
    let taken = not_people().has(norm)
        || talk().has(norm)
        || fillers().has(norm)
        || measures().has(norm)
        || number_words().has(norm)
        || input.vocabulary.has_word(norm)
        || is_food_word(norm)
        || vetoes().has(norm);
    (letters && !taken).then(|| input.range(0, 1).words())
}

/// "Ana had", "Ana:", "for Ana", "Ana's lunch", "Tom had"
fn who_front<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let skip = usize::from(input.norm(0) == "for");
    let here = input.after(skip);
    let eats = |rest: Tokens<'_>| {
        matches!(
            rest.norm(0),
            "had"
                | "ate"
                | "has"
                | "is"
                | "gets"
                | "got"
                | "took"
                | "having"
                | "eats"
                | "says"
                | "said"
                | "grabbed"
                | "demolished"
                | "finished"
        )
    };
    let (length, who) = match person(here) {
        Some(found) => found,
        None if matches!(here.norm(1), "had" | "ate")
            || skip == 1 && here.get(1).is_some_and(|token| token.is(':')) =>
        {
            (1, stranger(here)?)
        }
        None => return None,
    };
    let rest = here.after(length);
    let possessive =
        here.norm(length - 1) != who.text.to_lowercase() && here.norm(length - 1).ends_with('s');
    let begins = rest
        .first()
        .is_some_and(|token| token.is(':') || token.is_numeric() || token.is('-'));
    let worded = number_words().has(rest.norm(0)) || matches!(rest.norm(0), "half" | "a" | "an");
    if !(skip > 0 || possessive || eats(rest) || begins || worded) {
        return None;
    }
    portion.who = Some(who);
    // "Ana says she had 95"
    let rest = match (rest.norm(0), rest.norm(1)) {
        ("says" | "said", "she" | "he" | "they") => rest.after(2),
        ("grabbed" | "took" | "demolished" | "finished", _) => rest.after(1),
        _ => rest,
    };
    let verb = usize::from(matches!(rest.norm(0), "has" | "is" | "gets" | "eats"));
    let verb = verb + usize::from(verb == 1 && rest.norm(1) == "having");
    Some(rest.after(verb))
}

fn back<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let length = input.len();
    if let Some(rest) = share_back(input, portion) {
        return Some(rest);
    }
    let with_that = length > 3
        && matches!(input.norm(length - 2), "with" | "to" | "on")
        && matches!(input.norm(length - 1), "that" | "it" | "top" | "them");
    if with_that {
        portion.with_last = true;
        return Some(input.range(0, length - 2));
    }
    if let Some(rest) = told_when(input, portion) {
        return Some(rest);
    }
    for take in (1..=4.min(length.saturating_sub(1))).rev() {
        let tail = input.after(length - take);
        if portion.meal.is_none() && !matches!(tail.norm(0), "tea" | "snack") {
            if let Ok((rest, meal)) = meal(tail) {
                if rest.is_empty() {
                    portion.meal = Some(meal);
                    return Some(input.range(0, length - take));
                }
            }
        }
        if portion.day.is_none() {
            if let Ok((rest, day)) = day(tail) {
                if rest.is_empty() && !tail.slice[0].is_numeric() {
                    portion.day = Some(day);
                    return Some(input.range(0, length - take));
                }
            }
        }
        if portion.who.is_none() && tail.norm(0) == "for" {
            let here = tail.after(1);
            let who = match person(here) {
                Some((length, who)) if length + 1 == take => Some(who),
                None if take == 2 => stranger(here),
                _ => None,
            };
            if who.is_some() {
                portion.who = who;
                return Some(input.range(0, length - take));
            }
        }
    }
    let last = input.last()?;
    let polite = matches!(
        last.norm(),
        "please" | "pls" | "plz" | "thanks" | "thx" | "now" | "me"
    ) || last.is('!');
    if polite && last.norm() == "me" && input.norm(length.saturating_sub(2)) == "for" {
        return Some(input.range(0, length - 2));
    }
    (polite && length > 1 && last.norm() != "me").then(|| input.range(0, length - 1))
}

/// "140 dal, that was yesterday's lunch"
fn told_when<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let from = input.len().saturating_sub(8).max(1);
    let at = (from..input.len()).find(|&at| {
        matches!(
            (input.norm(at), input.norm(at + 1)),
            ("that" | "it" | "this", "was")
        )
    })?;
    let mut rest = input.after(at + 2);
    let (mut said_day, mut said_meal) = (None, None);
    while !rest.is_empty() {
        if let Ok((next, found)) = day(rest) {
            said_day = Some(found);
            rest = next;
        } else if let Ok((next, found)) = meal(rest) {
            said_meal = Some(found);
            rest = next;
        } else {
            return None;
        }
    }
    portion.day = portion.day.take().or(said_day);
    portion.meal = portion.meal.take().or(said_meal);
    Some(input.range(0, at))
}

/// "another 60 rice", "+ 30 cheese", "forgot 20 cheese", "60 more rice".
fn goes_with_last(input: Tokens<'_>) -> bool {
    let first = input.first();
    let opens = matches!(
        input.norm(0),
        "another" | "forgot" | "forgotten" | "plus" | "and" | "also" | "add"
    ) || first.is_some_and(|token| token.is('+'));
    let more = input
        .slice
        .windows(2)
        .any(|pair| pair[0].is_numeric() && matches!(pair[1].norm(), "more" | "extra"));
    opens || more || matches!(input.norm(0), "more" | "extra")
}

/// "split 500 chilli with Ana", "me & Ana shared 333 rice", "Ana, Tom and I had 120 g barley each"
fn share_around(input: Tokens<'_>) -> Option<(Tokens<'_>, Share)> {
    if matches!(input.norm(0), "split" | "shared" | "halved") {
        let at = input
            .slice
            .iter()
            .rposition(|token| matches!(token.norm(), "with" | "between" | "for"))?;
        let numbered = input.range(1, at).has_number();
        let share =
            share::shared(input.after(at + 1), input.norm(at) == "with").filter(|_| numbered)?;
        return Some((input.range(1, at), share));
    }
    let verb = input
        .slice
        .iter()
        .take(9)
        .position(|token| matches!(token.norm(), "shared" | "split" | "had" | "halved"))?;
    let (people, with) = share::people(input.range(0, verb)).filter(|(people, _)| *people > 1)?;
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
fn share_front<'a>(input: Tokens<'a>) -> Option<(Tokens<'a>, Share)> {
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
    let share = share::at_end(input.range(0, colon), true)?;
    Some((input.after(colon + 1), share))
}

/// The longest share that the message ends with.
fn share_back<'a>(input: Tokens<'a>, portion: &mut Portion) -> Option<Tokens<'a>> {
    let length = input.len();
    if portion.share.is_some() || length < 2 {
        return None;
    }
    for take in (1..=SHARE_TOKENS_MAX.min(length - 1)).rev() {
        let before = &input.slice[length - take - 1];
        let apart = matches!(
            before.kind,
            Kind::Newline | Kind::Symbol(',' | ';' | ':' | '(' | '-' | '=')
        );
        let tail = input.after(length - take);
        let tail = match tail.last() {
            Some(last) if last.is(')') => tail.range(0, tail.len() - 1),
            _ => tail,
        };
        if tail.is_empty() || matches!(tail.slice[0].kind, Kind::Symbol(_) | Kind::Newline) {
            continue;
        }
        if let Some(share) = share::at_end(tail, apart) {
            portion.share = Some(share);
            let end = length - take;
            return Some(input.range(0, if before.is('(') { end - 1 } else { end }));
        }
    }
    None
}

/// Where another person's plate begins: "me 140 dal, Ana 120 dal".
pub fn plates(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let mut out = Vec::new();
    let mut from = 0;
    for at in 1..input.len() {
        let before = &input.slice[at - 1];
        let joined = before.norm() == "and";
        let apart = joined
            || matches!(
                before.kind,
                Kind::Newline | Kind::Symbol(',' | ';' | '.' | '&')
            );
        if apart && is_plate(input.after(at)) {
            out.push(input.range(from, at - usize::from(joined)));
            from = at;
        }
    }
    out.push(input.after(from));
    out
}

/// "Ana had", "me:", "Ana 120"
fn is_plate(input: Tokens<'_>) -> bool {
    let said = input.norm(0);
    let person = matches!(said, "me" | "i")
        || !said.is_empty() && input.vocabulary.is(Sense::Person, &[said]);
    let next = input.get(1);
    person
        && (matches!(
            input.norm(1),
            "had" | "ate" | "has" | "got" | "gets" | "took"
        ) || next.is_some_and(|token| token.is(':') || token.is_numeric()))
}
