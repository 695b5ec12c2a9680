//! Text that is written for a machine, or by one: code, markup, a path, an escaped address. It holds names and
//! numbers, and tells of no meal.
//!
//! ```text
//! machine := text with a sign | run with an escape | run that is a path or a file | command ...
//! sign    := "{" | "}" | "<" (letter | "/" | "!") | "==" | "!=" | ":=" | "&&" | "||" | "()" | quote ");" | "(" quote
//!          | "/*" | "](" | quote word quote ":" | "=" ... ";" | "^["
//! escape  := "%" hex hex, at its begin or beside a letter | "%" letter, at its begin | "&" word ";"
//! path    := ("/" | "./" | "../" | "~/") ... "/" ... | "\" letter
//! file    := word "." (ending of machine.txt)
//! ```
//! A run is what stands between spaces. A link may stand beside a weighing and is passed over here.

use super::syntax::{Command, Reading};
use super::tokens::Tokens;
use super::words::machine;

const SIGNS: [&str; 15] = [
    "{", "}", "==", "!=", ":=", "&&", "||", "()", "');", "\");", "/*", "](", "</", "^[", "\u{1b}",
];
const QUOTES: [char; 4] = ['"', '\'', '“', '”'];

/// Whether the message is nothing that a person says of a meal.
pub fn writes(body: Tokens<'_>) -> bool {
    let text = body.text;
    SIGNS.iter().any(|sign| text.contains(sign))
        || pairs(text).any(|(one, next)| {
            one == '<' && (next == '!' || next.is_alphabetic())
                || one == '(' && QUOTES.contains(&next)
        })
        || has_quoted_key(text)
        || text.lines().any(is_assignment)
        || text.split_whitespace().any(is_written)
        || machine().longest_of(body.slice, "command").is_some()
}

/// Only what is pasted out of a page, a recipe or a label, is taken for what it tells.
pub fn judge(readings: &mut Vec<Reading>) {
    let pasted = |command: &Command| matches!(command, Command::Batch(_) | Command::Packet(_));
    readings.retain(|reading| reading.commands.iter().all(pasted));
    for reading in readings.iter_mut().filter(|it| it.commands.is_empty()) {
        reading.weighing_like = false;
    }
}

fn pairs(text: &str) -> impl Iterator<Item = (char, char)> {
    text.chars().zip(text.chars().skip(1))
}

/// `"food": 140`
fn has_quoted_key(text: &str) -> bool {
    text.split(':').rev().skip(1).any(|before| {
        let mut letters = before.trim_end().chars().rev();
        letters.next().is_some_and(|last| QUOTES.contains(&last))
            && letters
                .by_ref()
                .find(|letter| !letter.is_alphanumeric() && *letter != '_')
                .is_some_and(|first| QUOTES.contains(&first))
    })
}

/// "dal = 140;"
fn is_assignment(line: &str) -> bool {
    line.trim_end().ends_with(';') && line.contains('=')
}

fn is_written(run: &str) -> bool {
    let link = run.contains("://") || run.starts_with("www.");
    !link && (is_escaped(run) || is_format(run) || is_path(run) || is_file(run))
}

/// "140%20dal", "%31%34%30", "140&nbsp;dal"
fn is_escaped(run: &str) -> bool {
    let entity = run.split('&').skip(1).any(|rest| {
        rest.split_once(';').is_some_and(|(name, _)| {
            let name = name.trim_start_matches('#');
            (2..8).contains(&name.len())
                && name.chars().all(|letter| letter.is_ascii_alphanumeric())
        })
    });
    // A sign that can be printed: "60%me" is a share.
    let hex = |at: usize| {
        let digits = run.get(at + 1..at + 3).map(str::as_bytes);
        digits.is_some_and(|hex| (b'2'..b'8').contains(&hex[0]) && hex[1].is_ascii_hexdigit())
    };
    let letter = |other: Option<char>| other.is_some_and(char::is_alphabetic);
    let coded = |(at, _): (usize, &str)| {
        let beside = letter(run[..at].chars().next_back())
            || hex(at) && letter(run[at + 3..].chars().next());
        hex(at) && (at == 0 || beside)
    };
    entity || run.match_indices('%').any(coded)
}

/// "%s", "%d%d": a blank of a form that nobody filled in.
fn is_format(run: &str) -> bool {
    let mut letters = run.chars();
    letters.next() == Some('%') && letters.next().is_some_and(char::is_alphabetic)
}

fn is_path(run: &str) -> bool {
    let rooted = ["/", "./", "../", "~/"]
        .iter()
        .any(|root| run.starts_with(root));
    rooted && run.matches('/').count() > 1
        || pairs(run).any(|(one, next)| one == '\\' && next.is_alphanumeric())
}

/// "soup.txt", "robin@example.com"
fn is_file(run: &str) -> bool {
    let run = run.trim_end_matches(|last: char| !last.is_alphanumeric());
    run.rsplit_once('.').is_some_and(|(name, ending)| {
        name.ends_with(char::is_alphanumeric)
            && machine().get(&ending.to_lowercase()) == Some("ending")
    })
}
