//! "what's left", "what's in the freezer", "freezer?".

use crate::lang::clause::place;
use crate::lang::command::whole_phrase;
use crate::lang::place::is_place;
use crate::lang::syntax::{Command, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if let Ok((rest, ())) = whole_phrase("stock", input) {
        return Ok((rest, Command::Stock { place: None }));
    }
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.with(
        input
            .slice
            .strip_suffix(std::slice::from_ref(match input.last() {
                Some(last) if asked => last,
                _ => return stock_in(input, input),
            }))
            .unwrap_or(input.slice),
    );
    if let Some(place) = place(body).filter(|_| body.len() <= 3) {
        return Ok((
            input.after(input.len()),
            Command::Stock { place: Some(place) },
        ));
    }
    stock_in(body, input)
}

/// "what's in the freezer", "what do we have in the fridge", "what's left in the freezer"
fn stock_in<'a>(body: Tokens<'a>, input: Tokens<'a>) -> Read<'a, Command> {
    if let Some(place) = frozen(body).or_else(|| contents(body)) {
        return Ok((
            input.after(input.len()),
            Command::Stock { place: Some(place) },
        ));
    }
    if !matches!(
        body.norm(0),
        "whats" | "what" | "anything" | "show" | "list" | "stock"
    ) {
        return input.no();
    }
    let Some(at) = body
        .slice
        .iter()
        .take(9)
        .position(|token| token.norm() == "in")
    else {
        return input.no();
    };
    let idle = body.slice[1..at].iter().all(|token| {
        matches!(
            token.norm(),
            "is" | "do"
                | "does"
                | "we"
                | "i"
                | "have"
                | "got"
                | "left"
                | "still"
                | "there"
                | "me"
                | "whats"
                | "food"
                | "all"
                | "s"
                | "stock"
        )
    });
    match place(without_now(body.after(at))) {
        Some(place) if idle => Ok((
            input.after(input.len()),
            Command::Stock { place: Some(place) },
        )),
        _ => input.no(),
    }
}

/// "what's frozen", "what do we have frozen"
fn frozen(body: Tokens<'_>) -> Option<Words> {
    let body = without_now(body);
    let (last, asked) = body.slice.split_last()?;
    let opens = matches!(
        body.norm(0),
        "whats" | "what" | "anything" | "show" | "list"
    );
    let idle = |token: &Token| {
        let idle = [
            "is", "do", "we", "i", "have", "got", "there", "all", "of", "food", "us",
        ];
        idle.contains(&token.norm())
    };
    let told = last.norm() == "frozen" && opens && asked[1..].iter().all(idle);
    told.then(|| Words::plain("freezer"))
}

/// "contents of the freezer", "how much have we got in the freezer"
fn contents(body: Tokens<'_>) -> Option<Words> {
    let body = without_now(body);
    let lead = [
        &["contents", "of"][..],
        &["freezer", "contents"],
        &["fridge", "contents"],
        &["how", "much", "have", "we", "got", "in"],
        &["how", "much", "have", "we", "in"],
        &["how", "much", "do", "we", "have", "in"],
        &["how", "much", "is", "in"],
        &["how", "much", "is", "there", "in"],
        &["what", "all", "is", "in"],
        &["what", "all", "have", "we", "in"],
    ];
    let said: Vec<&str> = body.slice.iter().map(Token::norm).collect();
    let lead = lead.iter().find(|lead| said.starts_with(lead))?;
    if lead[1] == "contents" {
        return (said.len() == 2).then(|| Words::plain(lead[0]));
    }
    let rest = body.after(lead.len());
    let the = usize::from(matches!(rest.norm(0), "the" | "our"));
    is_place(rest.after(the)).then(|| rest.after(the).words())
}

/// "rn", "at the moment": it is asked of no other time.
fn without_now(body: Tokens<'_>) -> Tokens<'_> {
    let tails = [
        &["right", "now"][..],
        &["at", "the", "moment"],
        &["rn"],
        &["now"],
        &["atm"],
        &["please"],
        &["pls"],
    ];
    let said: Vec<&str> = body.slice.iter().map(Token::norm).collect();
    let tail = tails.iter().find(|tail| said.ends_with(tail));
    body.range(0, body.len() - tail.map_or(0, |tail| tail.len()))
}
