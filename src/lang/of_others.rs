//! What is told of somebody else's kitchen: "mam's bread: 450 flour, 10 salt", "my sister makes it with 250 g butter".
//! Nobody here ate that.
//!
//! ```text
//! elsewhere := owner word { word } ":"        the owner is nobody of the household, and no day
//!            | kin habit                           "a mate of mine cooks"
//!            | "at" owner                          "at Marek's were 30 portions"
//!            | "than" ours                         "hers is hotter than ours"
//! ```

use super::date::day;
use super::person::person;
use super::tokens::Tokens;
use super::words::at_table;

/// "my gran's brown bread:"
const TITLE_TOKENS_MAX: usize = 6;
/// What somebody does each time.
const HABITS: [&str; 18] = [
    "makes", "make", "puts", "put", "uses", "use", "adds", "does", "cooks", "bakes", "swears",
    "always", "usually", "never", "eats", "drinks", "loves", "likes",
];

/// The words that tell it.
pub fn kitchen(body: Tokens<'_>) -> Option<Tokens<'_>> {
    titled(body)
        .or_else(|| habit(body))
        .or_else(|| visited(body))
        .or_else(|| compared(body))
}

/// What is held against ours is not ours, unless it is told of the weight: "100 more than ours".
fn compared(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let theirs = |at: usize| at > 1 && body.norm(at) == "than" && body.norm(at + 1) == "ours";
    let more = |at: usize| matches!(body.norm(at - 1), "more" | "less" | "bigger" | "smaller");
    let at = (0..body.len()).find(|&at| theirs(at) && !more(at))?;
    Some(body.range(at, at + 2))
}

fn is_owner(body: Tokens<'_>, at: usize) -> bool {
    let said = &body.text[body.slice[at].span.clone()];
    said.ends_with("'s") || said.ends_with("’s")
}

/// Where it begins, somebody else is at the stove.
fn visited(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let there = body.norm(0) == "at" && body.len() > 2 && is_owner(body, 1);
    let ours = person(body.after(1)).is_some() || day(body.after(1)).is_ok();
    (there && !ours).then(|| body.range(0, 2))
}

fn titled(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let end = (2..body.len().min(TITLE_TOKENS_MAX)).find(|&at| body.slice[at].is(':'))?;
    let my = usize::from(matches!(body.norm(0), "my" | "our" | "the"));
    let owner = is_owner(body, my);
    let kin = at_table().get(body.norm(my).trim_end_matches('s')) == Some("kin");
    let ours = person(body.after(my)).is_some() && !kin || day(body.after(my)).is_ok();
    (owner && !ours && end > my + 1).then(|| body.range(0, end))
}

fn habit(body: Tokens<'_>) -> Option<Tokens<'_>> {
    (0..body.len()).find_map(|at| {
        let friend = at > 0 && body.norm(at - 1) == "of" && body.norm(at) == "mine";
        let kin = friend || matches!(at_table().get(body.norm(at)), Some("kin" | "several"));
        let habit = HABITS.contains(&body.norm(at + 1));
        (kin && habit).then(|| body.range(at, at + 2))
    })
}
