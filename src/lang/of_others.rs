//! What is told of somebody else's kitchen: "mam's bread: 450 flour, 10 salt", "my sister makes it with 250 g butter".
//! Nobody here ate that.
//!
//! ```text
//! elsewhere := owner word { word } ":"        the owner is nobody of the household, and no day
//!            | kin habit
//! ```

use super::date::day;
use super::person::person;
use super::tokens::Tokens;
use super::words::at_table;

/// "my gran's brown bread:"
const TITLE_TOKENS_MAX: usize = 6;
/// What somebody does each time.
const HABITS: [&str; 14] = [
    "makes", "make", "puts", "put", "uses", "use", "adds", "does", "cooks", "bakes", "swears",
    "always", "usually", "never",
];

/// The words that tell it.
pub fn kitchen(body: Tokens<'_>) -> Option<Tokens<'_>> {
    titled(body).or_else(|| habit(body))
}

fn titled(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let end = (2..body.len().min(TITLE_TOKENS_MAX)).find(|&at| body.slice[at].is(':'))?;
    let my = usize::from(matches!(body.norm(0), "my" | "our" | "the"));
    let said = &body.text[body.slice[my].span.clone()];
    let owner = said.ends_with("'s") || said.ends_with("’s");
    let kin = at_table().get(body.norm(my).trim_end_matches('s')) == Some("kin");
    let ours = person(body.after(my)).is_some() && !kin || day(body.after(my)).is_ok();
    (owner && !ours && end > my + 1).then(|| body.range(0, end))
}

fn habit(body: Tokens<'_>) -> Option<Tokens<'_>> {
    (0..body.len()).find_map(|at| {
        let kin = matches!(at_table().get(body.norm(at)), Some("kin" | "several"));
        let habit = HABITS.contains(&body.norm(at + 1));
        (kin && habit).then(|| body.range(at, at + 2))
    })
}
