//! What came to stand here that nobody cooked: "900 frozen peas, freezer", "bought 2 tins of chickpeas, pantry, use by
//! 3 Dec", "there was already 700 chilli in the freezer".
//!
//! ```text
//! receive := lead [place ":"] items { told } | "we have" items place { told } | items [place] "already" { told } | heavy items place
//! told    := ["in" | ","] ["the"] place ["," kind] | "use by" day | "made" day
//! lead    := phrase of data/received.txt
//! kind    := ["a" | "like a" | "its a"] ("fridge" | "freezer" | "counter") | "not cold"
//! ```
//! Talk of shopping has a name and no place; what is booked has amounts, and a place or a date.

use crate::lang::amount::is_packed;
use crate::lang::clause::made;
use crate::lang::command::given::{counted, cut_behind, given, without_being, without_idle};
use crate::lang::date::use_by;
use crate::lang::item::list;
use crate::lang::name;
use crate::lang::place::{is_place, without_kind};
use crate::lang::syntax::{Amount, Command, Day, Item, PlaceKind, Receive, Received, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::singular;
use crate::lang::words::received;

/// Without a verb so much is no plate: nobody eats a bag.
const HEAVY_GRAMS: f64 = 350.0;
/// A smaller bare number may count something.
const WEIGHED_GRAMS: f64 = 50.0;
/// Nobody puts two eggs into the books; more is a weight.
const COUNTED: std::ops::RangeInclusive<f64> = 3.0..=60.0;
/// "in the big chest freezer".
const PLACE_WORDS_MAX: usize = 3;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match receive(input.trimmed()) {
        Some(receive) => Ok((input.after(input.len()), Command::Receive(receive))),
        None => input.no(),
    }
}

fn receive(input: Tokens<'_>) -> Option<Receive> {
    if !input.has_number()
        && input
            .find(|token| token.norm() == "a" || token.norm() == "an")
            .is_none()
    {
        return None;
    }
    let input = without_idle(input);
    let (input, shopped) = cut_behind(input, "bought behind");
    // "we have 2 kg flour in the cupboard" tells what there is, and not what came.
    let owned = received()
        .longest_of(input.slice, "owned")
        .filter(|_| shopped);
    let input = input.after(owned.unwrap_or(0)).trimmed();
    let leads = |key: &&str| matches!(*key, "bought" | "before");
    let led = received()
        .longest(input.slice)
        .filter(|(_, key)| leads(key))
        .or_else(|| given(input));
    // "we have 300 ham in the fridge": it stands here, whoever bought it.
    let stands = received()
        .longest_of(input.slice, "stands")
        .filter(|_| led.is_none() && !shopped);
    let input = input.after(stands.unwrap_or(0)).without_lead();
    let (body, from) = match led {
        Some((length, "bought")) => (input.after(length).without_lead(), Some(Received::Bought)),
        Some((length, _)) => (input.after(length).without_lead(), Some(Received::Before)),
        None => (input, None),
    };
    let from = from.or(shopped.then_some(Received::Bought));
    let (body, mut told) = told(body);
    let (body, behind) = cut_behind(body, "before behind");
    let (body, told_before) = match behind {
        true => self::told(body),
        false => (body, Told::default()),
    };
    told.add(told_before);
    // "there's 650 g ragu in the freezer from before"
    let there = received()
        .longest_of(body.slice, "there")
        .filter(|_| behind);
    let body = body.after(there.unwrap_or(0));
    let (body, place) = headed(body);
    told.place = told.place.or(place);
    let counted = from.and_then(|_| counted(body.trimmed()));
    let items = match counted {
        Some(item) => vec![item],
        None => items(body)?,
    };
    let from = from.or(behind.then_some(Received::Before));
    let from = match from {
        // "already had 150 dal" is eaten.
        Some(Received::Before) if told.place.is_none() => return None,
        Some(from) => from,
        None if stands.is_some() => {
            let weighed = |item: &Item| match item.amount {
                Amount::Mass(_) => true,
                Amount::Bare(grams) => grams >= WEIGHED_GRAMS && !is_counted(item),
                _ => false,
            };
            let told = told.place.is_some() && is_of_the_shop(&items, input);
            (told && items.iter().all(weighed)).then_some(Received::Before)?
        }
        None if told.place.is_some()
            && items.iter().all(|item| is_heavy(item) || is_counted(item))
            && is_of_the_shop(&items, input) =>
        {
            Received::Bought
        }
        None => return None,
    };
    Some(Receive {
        items,
        from,
        place: told.place,
        kind: told.kind,
        use_by: told.use_by,
        made: told.made,
        anyway: false,
    })
}

/// What is told beside the items.
#[derive(Default)]
struct Told {
    place: Option<Words>,
    kind: Option<PlaceKind>,
    use_by: Option<Day>,
    made: Option<Day>,
}

impl Told {
    fn add(&mut self, other: Self) {
        self.place = self.place.take().or(other.place);
        self.kind = self.kind.or(other.kind);
        self.use_by = self.use_by.take().or(other.use_by);
        self.made = self.made.take().or(other.made);
    }
}

/// Places and dates at the end, in any order.
fn told(input: Tokens<'_>) -> (Tokens<'_>, Told) {
    let mut told = Told::default();
    let mut left = input.trimmed_end();
    loop {
        let rest = without_close(left);
        let (without, kind) = without_kind(rest);
        if told.use_by.is_none()
            && let Some((before, day)) = dated(rest)
        {
            told.use_by = Some(day);
            left = before;
        } else if told.made.is_none()
            && let Some((before, day)) = made_at_end(rest)
        {
            told.made = Some(day);
            left = before;
        } else if told.place.is_none()
            && let Some((before, place)) = placed(without)
        {
            told.place = Some(place);
            told.kind = kind;
            left = before;
        } else {
            return (left, told);
        }
        left = without_being(without_open(left.trimmed_end()));
    }
}

/// Without the bracket that closes what is told.
fn without_close(input: Tokens<'_>) -> Tokens<'_> {
    match input.last() {
        Some(last) if last.is(')') => input.range(0, input.len() - 1),
        _ => input,
    }
}

/// Without a bracket that was opened and is empty now.
fn without_open(input: Tokens<'_>) -> Tokens<'_> {
    match input.last() {
        Some(last) if last.is('(') => input.range(0, input.len() - 1).trimmed_end(),
        _ => input,
    }
}

/// "use by 3 Dec" at the end.
fn dated(input: Tokens<'_>) -> Option<(Tokens<'_>, Day)> {
    (1..input.len()).find_map(|at| {
        let (rest, day) = use_by(input.after(at))?;
        let closed = rest
            .slice
            .iter()
            .all(|token| token.is(')') || token.is('.'));
        closed.then(|| (input.range(0, at), day))
    })
}

/// ", made on Sunday", "(from yesterday)" at the end.
fn made_at_end(input: Tokens<'_>) -> Option<(Tokens<'_>, Day)> {
    let begins = |at: &usize| matches!(input.norm(*at), "made" | "cooked" | "from" | "frozen");
    (1..input.len()).rev().filter(begins).find_map(|at| {
        let said = input.after(at);
        let said = match said.norm(0) {
            "from" | "frozen" => said.after(1),
            _ => said,
        };
        let end = said.len() - usize::from(said.last().is_some_and(|last| last.is(')')));
        made(said.range(0, end)).map(|day| (input.range(0, at), day))
    })
}

/// A place at the end, behind "in" or a mark, or alone.
fn placed(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let most = PLACE_WORDS_MAX.min(input.len().saturating_sub(1));
    for length in (1..=most).rev() {
        let at = input.len() - length;
        let said = input.after(at);
        let leads = matches!(
            said.norm(0),
            "the" | "our" | "my" | "in" | "into" | "to" | "and" | "for"
        );
        if leads || !is_place(said) {
            continue;
        }
        let the = |at: usize| at > 0 && matches!(input.norm(at - 1), "the" | "our" | "my");
        let from = at - usize::from(the(at));
        let linked = from > 0
            && matches!(
                input.norm(from - 1),
                "in" | "into" | "to" | "on" | "for" | "inside"
            );
        let marked = from > 0
            && matches!(
                input.slice[from - 1].kind,
                Kind::Newline | Kind::Symbol(',' | ';' | ':' | '-' | '/' | '→' | '(')
            );
        let named = said.words();
        // "peas freezer": without a mark only the plain word is no part of the name.
        if linked {
            return Some((input.range(0, from - 1), named));
        }
        if marked || length == 1 {
            return Some((input.range(0, from), named));
        }
    }
    None
}

/// "in the freezer: 900 peas", "freezer: 900 peas"
fn headed(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let Some(colon) = input
        .slice
        .iter()
        .take(PLACE_WORDS_MAX + 3)
        .position(|token| token.is(':') || token.kind == Kind::Newline)
    else {
        return (input, None);
    };
    let head = input.range(0, colon);
    let skip = head
        .slice
        .iter()
        .take_while(|token| matches!(token.norm(), "in" | "into" | "to" | "the" | "our" | "my"))
        .count();
    let said = head.after(skip);
    match is_place(said) {
        true => (input.after(colon + 1), Some(said.words())),
        false => (input, None),
    }
}

/// Things with their amounts, and nothing else.
fn items(input: Tokens<'_>) -> Option<Vec<Item>> {
    let input = input.trimmed();
    let first = input.first()?;
    let begins = first.is_numeric()
        || matches!(first.norm(), "a" | "an")
        || name::bare(input).len() == input.len();
    let read = list(input);
    let whole = read.errors.is_empty() && read.comments.is_empty() && !read.items.is_empty();
    let told = |item: &Item| {
        let amount = !matches!(
            item.amount,
            Amount::Share(_) | Amount::Uncounted(_) | Amount::Between { .. }
        );
        amount && item.container.is_none()
    };
    (begins && whole && read.items.iter().all(told)).then_some(read.items)
}

/// More than a plate holds, or a packet.
fn is_heavy(item: &Item) -> bool {
    match &item.amount {
        Amount::Mass(grams) | Amount::Bare(grams) | Amount::Weighed { grams, .. } => {
            *grams >= HEAVY_GRAMS
        }
        Amount::Each { count, grams, .. } => count * grams >= HEAVY_GRAMS,
        amount => is_packed(amount),
    }
}

/// "6 eggs": so many, and no grams.
fn is_counted(item: &Item) -> bool {
    let last = item.name.text.rsplit(' ').next().unwrap_or_default();
    let plural = singular(&last.to_lowercase()) != last.to_lowercase();
    match item.amount {
        Amount::Bare(count) => plural && count.fract() == 0.0 && COUNTED.contains(&count),
        _ => false,
    }
}

/// Plain foods and packets: what the household has cooked is put elsewhere, not bought.
fn is_of_the_shop(items: &[Item], input: Tokens<'_>) -> bool {
    items.iter().all(|item| {
        let folded = crate::lang::lexer::folded_words(&item.name.text);
        let words: Vec<&str> = folded.iter().map(String::as_str).collect();
        let cooked = input.vocabulary.is_batch(&words) && !input.vocabulary.is_bought(&words);
        !cooked && name::familiarity(&item.name.text, input) >= name::Familiarity::Food
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Packet, "fish fingers");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn receives(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_talk(text: &str) {
        is_no(text, &kitchen(), |it| matches!(it, Command::Receive(_)));
    }

    #[test]
    fn many_ways_to_put_food_into_the_books() {
        let peas = "bought 900 frozen peas, freezer";
        receives("900 frozen peas, freezer", peas);
        receives("bought 900 frozen peas, freezer", peas);
        receives("We bought 900 frozen peas, in the freezer", peas);
        receives("freezer: 900 frozen peas", peas);
        receives("just bought 900 frozen peas (freezer)", peas);
        receives("picked up 900 frozen peas into the freezer", peas);
        receives(
            "bought 900 g frozen peas freezer",
            "bought 900 g frozen peas, freezer",
        );
        receives(
            "bought 2 tins of chickpeas, pantry, use by 3 Dec 2027",
            "bought 2 can chickpeas, pantry, use by 3 December 2027",
        );
        receives(
            "bought 12 eggs, fridge, best before 3 Dec",
            "bought 12 eggs, fridge, use by 3 December",
        );
        receives(
            "bought 500 g tofu use by 3/12 in the fridge",
            "bought 500 g tofu, fridge, use by 3 December",
        );
        receives("6 eggs in the fridge", "bought 6 eggs, fridge");
        receives("a dozen eggs, fridge", "bought 12 eggs, fridge");
        receives(
            "bought 400 minced beef and 900 frozen peas, garage freezer",
            "bought 400 minced beef, 900 frozen peas, garage freezer",
        );
    }

    #[test]
    fn many_ways_to_tell_what_stood_there_before() {
        let chilli = "already there: 700 chilli, freezer";
        receives("there was already 700 chilli in the freezer", chilli);
        receives("There's already 700 chilli in the freezer", chilli);
        receives("700 chilli in the freezer already", chilli);
        receives("already had 700 chilli, freezer", chilli);
        receives("from before: 700 chilli, freezer", chilli);
        receives("found 700 chilli in the freezer", chilli);
        receives("700 chilli in the freezer from before", chilli);
        receives("already in the freezer: 700 chilli", chilli);
        receives(
            "there were already 700 g chilli in the freezer, made 3 October",
            "already there: 700 g chilli, freezer, made 3 October",
        );
        receives(
            "there was already 700 chilli and 400 stock in the freezer",
            "already there: 700 chilli, 400 stock, freezer",
        );
    }

    #[test]
    fn talk_of_shopping_books_nothing() {
        for text in [
            "need to buy 900 peas",
            "bought peas lol",
            "bought 3 tins of white beans",
            "can you buy 900 frozen peas for the freezer",
            "did you buy 900 frozen peas?",
            "bought 900 frozen peas for 4.50, freezer's full",
            "140 frozen peas, freezer",
            "2 eggs in the fridge",
            "there are 6 eggs in the fridge if anyone wants them",
            "we should have bought 900 frozen peas",
            "peas, freezer",
            "900 dal, freezer",
            "bought a freezer",
            "found 20 euro in the freezer",
            "there was already a queue",
            "there were already 8 of us in the kitchen",
        ] {
            is_talk(text);
        }
    }
}
