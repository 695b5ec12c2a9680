//! Food put elsewhere: "froze 600 of the dal", "thaw 400 chilli for tomorrow", "rest of the rice in the
//! fridge", "froze the dal in two bags, 700 and 640".
//!
//! ```text
//! move  := ["i" | "we"] verb items ["from" place] ["to" place] ["into" vessel] [bags] [when]
//!        | items "in" place [bags], of a share or with "the rest" | items "into" place
//! verb  := "froze" | "thaw" | "put" | "moved" | ... of data/moves.txt; who puts and moves tells the place
//! bags  := what each bag holds                                  bags.rs
//! when  := "for" (day | meal) ... | "overnight" | day, and how it is packed: "vacuum packed"
//! kind  := "like a fridge" | "not cold" behind the place
//! place := ["the"] (name of the household's | [word] phrase of data/places.txt)
//! ```
//! "put the rice in the fridge" is said to somebody: without an amount, only what was done is booked.

use crate::lang::bags::{Bags, bags};
use crate::lang::command::spoken_of;
use crate::lang::command::whither::{into_vessel, place, strange_place};
use crate::lang::date::{day, meal};
use crate::lang::item::list;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::place::without_kind;
use crate::lang::syntax::{Amount, Command, Day, Destination, Item, Move, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{boxes, calendar, meals, moves};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match moved(input.trimmed()) {
        Some(moved) => Ok((input.after(input.len()), Command::Move(moved))),
        None => input.no(),
    }
}

fn moved(input: Tokens<'_>) -> Option<Move> {
    let lead = |token: &&Token| {
        let who = ["i", "we", "ive", "weve", "just", "have"];
        let goes_on = ["and", "also", "then", "ok", "right", "plus"];
        who.contains(&token.norm()) || goes_on.contains(&token.norm())
    };
    let skip = input.slice.iter().take_while(lead).count();
    let (body, day) = on_a_day(for_when(without_idle(without_please(input.after(skip)))));
    let (body, thawing) = to_thaw(without_pack(body));
    let (verb, rest) = match moves().longest(body.slice) {
        Some((_, "to thaw" | "packed so")) | None if thawing => ("thaw", body),
        Some((_, "to thaw" | "packed so")) | None => ("", body),
        Some((length, verb)) => (verb, body.after(length)),
    };
    let (rest, kind) = without_kind(rest);
    let (
        rest,
        Bags {
            parts_grams,
            bag_grams,
        },
    ) = bags(rest)?;
    let (rest, vessel) = into_vessel(rest);
    let led = vessel.is_some() || place(rest, &["to", "into"]).1.is_some();
    let (rest, to) = place(rest, &["to", "into", "in", "inside", "on"]);
    let (rest, from) = place(rest, &["from", "of"]);
    let (rest, to) = match to {
        // "from the freezer to the fridge", in either order
        None => place(rest, &["to", "into", "in", "inside", "on"]),
        to => (rest, to),
    };
    let (rest, to) = match to {
        None if !verb.is_empty() && from.is_none() => strange_place(rest),
        to => (rest, to),
    };
    let (rest, vessel) = match vessel {
        // "into the glass jar, in the fridge"
        None => into_vessel(rest),
        vessel => (rest, vessel),
    };
    let rest = without_out(rest);
    let cold = |place: &Words| place.text.contains("freez");
    let to = match (verb, to, &from) {
        ("freeze", None, _) => Destination::Place(Words::plain("freezer")),
        ("freeze", Some(place), _) => Destination::Place(place),
        ("thaw", _, _) => Destination::Thawed,
        (_, None, Some(from)) if cold(from) && vessel.is_none() => Destination::Thawed,
        (verb, None, _) if vessel.is_some() && !verb.is_empty() => Destination::Here,
        (_, Some(place), _) => Destination::Place(place),
        (_, None, _) => return None,
    };
    let whole = matches!(rest.norm(0), "all" | "whole") || matches!(rest.norm(1), "whole");
    let told = verb != "asked" || whole || rest.has_number() || !parts_grams.is_empty();
    // What cannot be frozen for want of it is told so, where the verb says enough.
    let strange = matches!(verb, "freeze" | "thaw");
    let done = !matches!(verb, "" | "asked");
    let items = match spoken_of::item(rest).filter(|_| done && parts_grams.is_empty()) {
        Some(item) => vec![item],
        None => items(rest, &parts_grams, strange)?,
    };
    let shared = |item: &Item| matches!(item.amount, Amount::Share(share) if share < 1.0);
    let resting = rest
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "rest" | "remaining"));
    let placed = resting || items.iter().any(shared) || !parts_grams.is_empty();
    // "400 of the barley into the freezer": where it goes says that it goes; "all of the soup is in the freezer now".
    let since = whole && input.last().is_some_and(|last| last.norm() == "now");
    let placed = placed || since || led && (whole || rest.has_number());
    let holds = match verb {
        "" => placed,
        "asked" => told || placed,
        _ => true,
    };
    holds.then_some(Move {
        items,
        to,
        from,
        vessel,
        parts_grams,
        bag_grams,
        kind,
        day,
    })
}

/// Without the "please" at the end.
fn without_please(input: Tokens<'_>) -> Tokens<'_> {
    let polite =
        |token: &&Token| matches!(token.norm(), "please" | "pls" | "plz" | "thanks" | "thx");
    let input = input.trimmed_end();
    let tail = input.slice.iter().rev().take_while(polite).count();
    input.range(0, input.len() - tail).trimmed_end()
}

/// Without "for tomorrow", "overnight", "for tomorrow's dinner" at the end.
pub fn without_when(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let timed = |token: &Token| is_timed(token.norm()) || token.norm() == "overnight";
    let tail = input
        .slice
        .iter()
        .rev()
        .take_while(|token| timed(token))
        .count();
    if let Some(at) = for_a_while(input) {
        return input.range(0, at).trimmed_end();
    }
    let mut at = input.len() - tail;
    if tail > 0 && at > 0 && matches!(input.norm(at - 1), "for" | "until" | "till") {
        at -= 1;
    }
    input.range(0, at).trimmed_end()
}

/// "as well", "now" at the end.
fn without_idle(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let idle = |token: &&Token| {
        matches!(
            token.norm(),
            "now" | "too" | "also" | "already" | "well" | "as"
        )
    };
    let tail = input.slice.iter().rev().take_while(idle).count();
    input
        .range(0, input.len() - tail.min(input.len().saturating_sub(1)))
        .trimmed_end()
}

/// "700 out of the freezer to thaw"
fn to_thaw(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        moves().longest_of(tail.slice, "to thaw") == Some(tail.len())
    };
    match (1..input.len()).find(ends) {
        Some(at) => (input.range(0, at).trimmed_end(), true),
        None => (input, false),
    }
}

/// Where "for next week" begins, at the end.
fn for_a_while(input: Tokens<'_>) -> Option<usize> {
    (1..input.len()).find(|&at| {
        let tail = input.after(at);
        boxes().longest_of(tail.slice, "when") == Some(tail.len())
    })
}

/// Without what it is meant for, told last: "for tomorrow", "for friday night's pasta", "overnight".
fn for_when(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let input = match input.last().map(Token::norm) {
        Some("overnight") => input.range(0, input.len() - 1).trimmed_end(),
        _ => input,
    };
    let begins = |at: &usize| {
        let led = matches!(input.norm(*at), "for" | "until" | "till");
        let meant = input.after(at + 1);
        let timed = day(meant).is_ok() || meal(meant).is_ok() || is_timed(meant.norm(0));
        let more = |token: &Token| token.is_numeric() || moves().get(token.norm()).is_some();
        led && timed && !meant.slice.iter().any(more)
    };
    let meant = for_a_while(input).or_else(|| (1..input.len()).find(begins));
    input.range(0, meant.unwrap_or(input.len())).trimmed_end()
}

/// A day at the end; one that has not come tells what it is meant for.
fn on_a_day(input: Tokens<'_>) -> (Tokens<'_>, Option<Day>) {
    let ends = |at: usize| {
        let (rest, day) = day(input.after(at)).ok()?;
        rest.trimmed().is_empty().then_some((at, day))
    };
    match (1..input.len()).find_map(ends) {
        Some((at, day)) => {
            let before = input.range(0, at).trimmed_end();
            let told = !matches!(day, Day::Ahead | Day::Today);
            (before, told.then_some(day))
        }
        None => (input, None),
    }
}

fn is_timed(norm: &str) -> bool {
    let day = norm.strip_suffix('s').unwrap_or(norm);
    calendar().has(norm) || calendar().has(day) || meals().has(norm)
}

/// Without how it is packed: "vacuum packed".
fn without_pack(input: Tokens<'_>) -> Tokens<'_> {
    let ends = |at: &usize| {
        let tail = input.after(*at);
        moves().longest_of(tail.slice, "packed so") == Some(tail.len())
    };
    // Before it stands what was moved.
    let from = (1..input.len()).find(ends).unwrap_or(input.len());
    input.range(0, from).trimmed_end()
}

/// Without the "out" of "out of the freezer".
fn without_out(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    match input.last().map(Token::norm) {
        Some(
            "out" | "back" | "away" | "over" | "up" | "in" | "is" | "are" | "went" | "gone" | "now"
            | "both" | "all" | "down" | "goes" | "go" | "going" | "still" | "stays" | "stay",
        ) if input.len() > 1 => without_out(input.range(0, input.len() - 1)),
        _ => input,
    }
}

/// What is moved; a dish without an amount is all of it, or what was parted.
fn items(input: Tokens<'_>, parts_grams: &[f64], strange: bool) -> Option<Vec<Item>> {
    let input = input.trimmed();
    // "260 rice for me, and the rest": what is somebody's is on a plate.
    let somebodys = |at: usize| {
        let behind = input.after(at + 1);
        let own = matches!(behind.norm(0), "me" | "myself" | "us") || person(behind).is_some();
        input.norm(at) == "for" && own
    };
    if (0..input.len()).any(somebodys) {
        return None;
    }
    if let Some(item) = all_of(input) {
        return Some(vec![item]);
    }
    let read = list(input);
    let whole = read.errors.is_empty() && read.comments.is_empty() && !read.items.is_empty();
    let known = |item: &Item| {
        strange || name::familiarity(&item.name.text, input) >= name::Familiarity::Household
    };
    let fits = parts_grams.is_empty() || read.items.len() == 1;
    (whole && fits && read.items.iter().all(known)).then_some(read.items)
}

/// "the dal", "all the rice", "the rest of the rice"
fn all_of(input: Tokens<'_>) -> Option<Item> {
    name::all_of_batch(input).map(|name| Item::new(Amount::Share(1.0), name).at(input.span()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "beef chilli"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Container, "glass jar");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn moves(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_no_move(text: &str) {
        is_no(text, &kitchen(), |it| matches!(it, Command::Move(_)));
    }

    #[test]
    fn many_ways_to_put_food_elsewhere() {
        moves("froze 600 of the dal", "move 600 dal to the freezer");
        moves("Froze the dal", "move all the dal to the freezer");
        moves("i froze half the dal", "move 50% of the dal to the freezer");
        moves("thaw 400 chilli for tomorrow", "thaw 400 chilli");
        moves(
            "took 400 g chilli out of the freezer",
            "thaw 400 g chilli from the freezer",
        );
        moves(
            "rest of the rice in the fridge",
            "move all the rice to the fridge",
        );
        for text in [
            "taking 400 chilli out of the freezer for tomorrow's pasta",
            "took 400 chilli out of the freezer for friday's dinner",
        ] {
            moves(text, "thaw 400 chilli from the freezer");
        }
        moves(
            "froze 600 of the dal on monday",
            "move 600 dal to the freezer, Monday",
        );
        moves(
            "half the chilli and 500 of the rice are in the freezer now",
            "move 50% of the chilli, 500 rice to the freezer",
        );
        moves(
            "chilli, 700 out of the freezer to thaw for tomorrow",
            "thaw 700 chilli from the freezer",
        );
        moves(
            "froze 600 dal yesterday",
            "move 600 dal to the freezer, yesterday",
        );
        moves("froze 600 dal this morning", "move 600 dal to the freezer");
        moves(
            "brought 300 dal in from the garage freezer to the fridge",
            "move 300 dal from the garage freezer to the fridge",
        );
        moves(
            "put 500 dal in the garage freezer",
            "move 500 dal to the garage freezer",
        );
        moves(
            "moved 300 rice from the fridge to the freezer",
            "move 300 rice from the fridge to the freezer",
        );
        moves(
            "froze the dal in two bags, 700 and 640",
            "move all the dal to the freezer in bags 700 g, 640 g",
        );
        for text in [
            "froze the dal in two bags, 700 and 640, bags 9 g each",
            "froze the dal in 2 bags, 700 and 640 g (bags are 9 g each)",
            "froze the dal in two bags: 700 + 640, less 9 g each",
            "froze the dal in two bags (9 g each), 700 and 640",
        ] {
            moves(
                text,
                "move all the dal to the freezer in bags 700 g, 640 g (bags 9 g each)",
            );
        }
        moves(
            "half the chilli in the freezer pls",
            "move 50% of the chilli to the freezer",
        );
        moves(
            "and 400 of the rice into the freezer",
            "move 400 rice to the freezer",
        );
        moves("thawing 300 rice overnight", "thaw 300 rice");
        moves(
            "froze two bags of chilli, 700 and 640",
            "move all the chilli to the freezer in bags 700 g, 640 g",
        );
        moves(
            "three bags of rice gone into the freezer, 400 each",
            "move all the rice to the freezer in bags 400 g, 400 g, 400 g",
        );
        moves(
            "rice into the freezer, 3 bags, 400 in each",
            "move all the rice to the freezer in bags 400 g, 400 g, 400 g",
        );
        moves(
            "froze dal: 3 tubs 400, 400 and 350 g",
            "move all the dal to the freezer in bags 400 g, 400 g, 350 g",
        );
    }

    #[test]
    fn food_goes_into_a_vessel() {
        moves(
            "moved the dal into the glass jar",
            "move all the dal into the glass jar",
        );
        moves(
            "moved 500 of the dal to the glass jar",
            "move 500 dal into the glass jar",
        );
        moves(
            "put 500 dal into the glass jar, in the fridge",
            "move 500 dal to the fridge into the glass jar",
        );
        moves(
            "decanted the rest of the rice into my glass jar",
            "move all the rice into the glass jar",
        );
        is_no_move("put the dal in the glass jar");
        is_no_move("shall we move the dal into the glass jar?");
    }

    #[test]
    fn what_people_say_to_each_other_is_no_move() {
        for text in [
            "put the rice in the fridge",
            "can you thaw 400 chilli",
            "the dal is in the freezer",
            "dal to the freezer?",
            "could you put 400 of the dal into the freezer",
            "dal into the freezer when it's cold",
            "freeze!",
            "if you freeze 600 dal there is room",
            "is there rice in the fridge?",
            "i might freeze the dal",
            "froze the dal in two bags, 7 and 6, bags 9 g each",
            "don't freeze the dal",
            "we should have frozen 600 of the dal",
        ] {
            is_no_move(text);
        }
    }
}
