//! A container's tare and what it holds: "blue pot is 812 g empty", "blue pot holds dal".
//!
//! ```text
//! tare  := ["the"] container ("is" | "weighs" | "=" | ":") mass ["empty"] [outro] | "tare" ["of"] container [is] mass
//!        | "empty" container [is] mass | container "empty" [is] mass
//! holds := container ("holds" | "has" | "contains") name | name ("is in" | "'s in") container ["now"]
//! ```

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use crate::lang::amount::grams;
use crate::lang::command::on_scale::is_plate;
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::vocabulary::Sense;
use crate::lang::weighing::containers_together;
use crate::lang::words::{containers, joiners, outros};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let input = input.trimmed();
    // "actually blue pot is 815 g, got a new lid"
    let lead = |token: &&Token| {
        let lead = [
            "actually",
            "no",
            "sorry",
            "oops",
            "correction",
            "ah",
            "update",
            "fyi",
        ];
        lead.contains(&token.norm()) || token.is(',')
    };
    let lead = input.slice.iter().take_while(lead).count();
    let input = input.after(lead);
    let (rest, tared) = opt(word(&["tare", "empty", "container", "teach"])).parse(input)?;
    let (rest, _) = opt(symbol(':')).parse(rest)?;
    let (rest, _) = opt(word(&["of", "weight"])).parse(rest)?;
    let Some(number) = rest.slice.iter().take(12).position(Token::is_numeric) else {
        return input.no();
    };
    let (said, says_empty) = without_is(rest.range(0, number));
    let name = name::bare(said);
    // "weighed the blue pot, 2600": with whatever is in it.
    let weighed = matches!(name.norm(0), "weighed" | "weigh" | "weighing");
    let name = match weighed {
        true => name::bare(name.after(1)),
        false => name,
    };
    if weighed && !is_container(name) {
        return input.no();
    }
    if !name.is_wordy() || name.len() > 6 {
        return input.no();
    }
    // "dal in the blue bowl: 310" weighs a plate.
    let located = name
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "in" | "on" | "of" | "with" | "for" | "to"));
    // "soup + steel bowl = 640" weighs soup, "pot and lid" are empty together.
    let joins = |token: &Token| token.is('+') || token.is('&') || joiners().holds(token);
    let filled = name.slice.iter().any(joins)
        && !containers_together(name).is_ok_and(|(rest, _)| rest.is_empty());
    if located || filled {
        return input.no();
    }
    // "my plate's 388", "empty plate 402": what is on the scale now, whichever plate it is.
    let noun = [name.norm(0)];
    let any = name.len() == 1 && is_plate(noun[0]) && !input_known(name, &noun);
    if any && tared.is_none_or(|word| word == "empty") {
        return input.no();
    }
    let known = is_container(name);
    let linked = said.len() < number || weighed;
    let (after, grams) = match grams(rest.after(number)) {
        Ok(read) => read,
        Err(nom::Err::Failure(error)) if known && linked => return Err(nom::Err::Failure(error)),
        Err(_) => return input.no(),
    };
    let (after, empty) = opt(alt((
        word(&["empty", "tare", "bare"]).map(|_| ()),
        (word(&["when"]), word(&["empty"])).map(|_| ()),
    )))
    .parse(after)?;
    let empty = empty.is_some() || says_empty || tared.is_some();
    let behind = after.trimmed();
    // "swear jar is at 45 now" is no tare.
    let apart = after
        .first()
        .is_some_and(|token| token.is(',') || token.is('('));
    let aside = known && lead > 0 && apart && !behind.has_number();
    let talk = !aside
        && !behind.is_empty()
        && (!empty || outros().length_at_end(behind.slice) < behind.len());
    if talk || !(linked || empty) || !(known || empty) || (known && !linked && !empty) {
        return input.no();
    }
    Ok((
        after.after(after.len()),
        Command::TeachContainer {
            name: name.words(),
            tare_grams: grams,
            empty,
        },
    ))
}

/// Split off "is", "weighs", "=", "empty is".
fn without_is(input: Tokens<'_>) -> (Tokens<'_>, bool) {
    let mut end = input.len();
    let mut empty = false;
    while end > 0 {
        let last = &input.slice[end - 1];
        match last.norm() {
            "is" | "weighs" | "tare" | "weight" | "at" | "about" => {}
            "empty" => empty = true,
            _ if last.is('=') || last.is(':') || last.is(',') || last.is('-') => {}
            _ => break,
        }
        end -= 1;
    }
    (input.range(0, end), empty)
}

fn is_container(name: Tokens<'_>) -> bool {
    let words: Vec<&str> = name.slice.iter().map(Token::norm).collect();
    input_known(name, &words) || words.last().is_some_and(|last| containers().has(last))
}

fn input_known(name: Tokens<'_>, words: &[&str]) -> bool {
    name.vocabulary.is(Sense::Container, words)
}

pub fn read_holds(input: Tokens<'_>) -> Read<'_, Command> {
    let whole = input;
    let input = without_since(input.trimmed());
    if !input.is_wordy() || input.len() > 12 {
        return whole.no();
    }
    if let Some(at) = input.find(|token| matches!(token.norm(), "holds" | "contains" | "has")) {
        let batch = name::bare(input.after(at + 1));
        let container = name::bare(input.range(0, at));
        return holds(whole, container, batch);
    }
    let at = (1..input.len()).find(|&at| {
        input.norm(at) == "in" && matches!(input.norm(at - 1), "is" | "are" | "stands")
    });
    match at {
        Some(at) => holds(
            whole,
            name::bare(input.after(at + 1)),
            name::bare(input.range(0, at - 1)),
        ),
        None => is_in(whole, input),
    }
}

/// "dal's in the blue pot"
fn is_in<'a>(whole: Tokens<'a>, input: Tokens<'a>) -> Read<'a, Command> {
    let at = input.find(|token| token.norm() == "in").unwrap_or(0);
    let said = input.range(0, at);
    let stands = name::without_is(said).is_some();
    match name::of_batch(said).filter(|_| stands) {
        Some(dish) => holds_dish(whole, name::bare(input.after(at + 1)), dish),
        None => whole.no(),
    }
}

/// Without "now" at the end.
fn without_since(input: Tokens<'_>) -> Tokens<'_> {
    let since = |token: &&Token| matches!(token.norm(), "now" | "again" | "today");
    let tail = input.slice.iter().rev().take_while(since).count();
    input.range(0, input.len() - tail)
}

fn holds<'a>(input: Tokens<'a>, container: Tokens<'a>, batch: Tokens<'a>) -> Read<'a, Command> {
    let batch = match batch.norm(0) {
        "now" | "in" => name::bare(batch.after(1)),
        _ => batch,
    };
    if container.is_empty() || batch.is_empty() || !is_container(container) {
        return input.no();
    }
    let words: Vec<&str> = batch.slice.iter().map(Token::norm).collect();
    let container_known = input.vocabulary.is(Sense::Container, &folded(container));
    if !container_known && !input.vocabulary.is_batch(&words) {
        return input.no();
    }
    holds_dish(input, container, batch.words())
}

fn holds_dish<'a>(input: Tokens<'a>, container: Tokens<'a>, held: Words) -> Read<'a, Command> {
    if container.is_empty() || !is_container(container) {
        return input.no();
    }
    if held.text.is_empty() {
        return input.fail(ErrorKind::MissingName);
    }
    Ok((
        input.after(input.len()),
        Command::ContainerHolds {
            container: container.words(),
            batch: held,
        },
    ))
}

fn folded<'a>(tokens: Tokens<'a>) -> Vec<&'a str> {
    tokens.slice.iter().map(Token::norm).collect()
}
