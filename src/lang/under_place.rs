//! What stands in a place, told as a list under its name: "freezer: 900 peas, 2 bags of chilli 600 each, bread, 1.2kg
//! stock", "in the freezer we have 900 peas and 400 bread".
//!
//! ```text
//! list := ["in"] ["the"] place (":" | newline | "we have" | "there is" | "has") part { ("," | ";" | newline | "and") part }
//! part := what came there, or was put there, as each is told with its place      command/receive.rs, moving.rs
//!       | food                                                                  how much is asked
//! ```
//! Every part must be certain by itself, and two at least, of which one is weighed.

use super::elided::said;
use super::name::{Familiarity, bare, familiarity};
use super::place::is_place;
use super::syntax::{Amount, Command, Item, Reading, Reason, Receive, Received, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::forbids;
use super::words::counts;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 120;
const PARTS_MAX: usize = 30;
/// "the big chest freezer".
const PLACE_WORDS_MAX: usize = 3;
/// More than what is left when the place is passed over.
const STATED_RANK: i32 = 700;
/// Food without its weight is called by no more.
const NAME_WORDS_MAX: usize = 3;

/// What the list tells; `read` gives every reading of one part with its place.
pub fn list(input: Tokens<'_>, read: fn(Tokens<'_>) -> Vec<Reading>) -> Option<Reading> {
    let body = input.trimmed();
    if body.len() > TOKENS_MAX || !body.has_number() || forbids(body) {
        return None;
    }
    let (place, list) = headed(body)?;
    let marks = |token: &Token| {
        token.is(',') || token.is(';') || token.kind == Kind::Newline || token.norm() == "and"
    };
    let parts = list.split(marks);
    let parts: Vec<Tokens<'_>> = parts
        .iter()
        .map(Tokens::trimmed)
        .filter(|part| !part.is_empty())
        .collect();
    let mut told = Told {
        place,
        read,
        commands: Vec::new(),
        rank: i32::MAX,
    };
    match parts.as_slice() {
        [] => return None,
        // "fridge: 200 dal": the books tell whether it was put there.
        [one] if !told.is_bought(*one) => return told.stated(*one),
        parts if parts.len() > PARTS_MAX => return None,
        _ => {}
    }
    parts.into_iter().try_for_each(|part| told.add(part))?;
    Some(Reading {
        commands: told.commands,
        errors: Vec::new(),
        reasons: vec![Reason::Verb("under a place"), Reason::Complete],
        // Rather than the same parts read one by one.
        rank: told.rank + 1,
        sure: true,
        weighing_like: true,
    })
}

struct Told<'a> {
    place: Tokens<'a>,
    read: fn(Tokens<'_>) -> Vec<Reading>,
    commands: Vec<Command>,
    rank: i32,
}

impl<'a> Told<'a> {
    fn add(&mut self, part: Tokens<'a>) -> Option<()> {
        let command = match part.has_number() {
            true if self.is_bought(part) => self.weighed(part, "already there:")?,
            true => self
                .weighed(part, "")
                .or_else(|| self.weighed(part, "bought"))?,
            false => self.unweighed(part)?,
        };
        match (self.commands.last_mut(), command) {
            (Some(Command::Receive(before)), Command::Receive(more))
                if before.from == more.from =>
            {
                before.items.extend(more.items);
            }
            (_, command) => self.commands.push(command),
        }
        Some(())
    }

    /// The part with its place behind it, in every reading.
    fn readings(&self, part: Tokens<'a>, lead: &str) -> Vec<Reading> {
        let (front, end) = (part.span().start, part.span().end);
        let mut whole = said(lead, front);
        whole.extend_from_slice(part.slice);
        whole.extend(said(",", end));
        whole.extend(Token::said_at(self.place.slice, end));
        (self.read)(Tokens::unread(&whole, part.text, part.vocabulary))
    }

    fn stated(&self, part: Tokens<'a>) -> Option<Reading> {
        let stated = Reason::Verb("stated");
        let mut readings = self.readings(part, "").into_iter();
        let told = |it: &Reading| it.errors.is_empty() && it.reasons.contains(&stated);
        let rank = STATED_RANK;
        readings
            .find(told)
            .map(|reading| Reading { rank, ..reading })
    }

    /// What was bought of it stands somewhere by the books.
    fn is_bought(&self, part: Tokens<'_>) -> bool {
        (0..part.len()).any(|at| {
            let words: Vec<&str> = part.after(at).slice.iter().map(Token::norm).collect();
            part.vocabulary.is_bought(&words)
        })
    }

    fn weighed(&mut self, part: Tokens<'a>, lead: &str) -> Option<Command> {
        let readings = self.readings(part, lead).into_iter();
        let best = readings.max_by_key(|reading| reading.rank)?;
        let stands = |command: &Command| match command {
            Command::Move(_) => lead.is_empty(),
            Command::Receive(receive) => receive.items.iter().all(|item| self.is_plain(item, part)),
            _ => false,
        };
        let [command] = best.commands.as_slice() else {
            return None;
        };
        if !best.is_certain() || !stands(command) {
            return None;
        }
        self.rank = self.rank.min(best.rank);
        Some(command.clone())
    }

    /// Bought food is called by what it is.
    fn is_plain(&self, item: &Item, part: Tokens<'_>) -> bool {
        familiarity(&item.name.text, part) >= Familiarity::Food
    }

    /// "bread": how much of it is asked.
    fn unweighed(&self, part: Tokens<'a>) -> Option<Command> {
        let name = bare(part);
        let known = name.is_wordy()
            && name.len() <= NAME_WORDS_MAX
            && familiarity(&name.words().text, part) >= Familiarity::Food;
        let amount = Amount::Uncounted("some".to_owned());
        known.then(|| {
            Command::Receive(Receive {
                items: vec![Item::new(amount, name.words()).at(part.span())],
                from: Received::Bought,
                place: Some(self.place_words()),
                kind: None,
                use_by: None,
                made: None,
                anyway: false,
            })
        })
    }

    fn place_words(&self) -> Words {
        self.place.words()
    }
}

/// The place that heads the list, and the list.
fn headed(body: Tokens<'_>) -> Option<(Tokens<'_>, Tokens<'_>)> {
    // "recount freezer: rice 570": that is what it weighs.
    if counts().longest_of(body.slice, "recount").is_some() {
        return None;
    }
    let lead = |token: &&Token| matches!(token.norm(), "in" | "the" | "our" | "my");
    let skip = body.slice.iter().take_while(lead).count();
    let rest = body.after(skip);
    (1..=PLACE_WORDS_MAX).rev().find_map(|length| {
        let place = rest.range(0, length.min(rest.len()));
        let behind = rest.after(length);
        let list = opened(behind)?;
        is_place(place).then_some((place, list))
    })
}

/// What stands behind a colon, or behind "we have".
fn opened(behind: Tokens<'_>) -> Option<Tokens<'_>> {
    let first = behind.first()?;
    if first.is(':') || first.kind == Kind::Newline {
        return Some(behind.after(1).trimmed());
    }
    let behind = behind.after(usize::from(first.is(',')));
    let length = match (behind.norm(0), behind.norm(1), behind.norm(2)) {
        ("we", "have" | "got", _) | ("there", "is" | "are", _) | ("we", "ve", "got") => 2,
        ("weve" | "ive", "got", _) => 2,
        ("has" | "holds" | "theres" | "contains", _, _) => 1,
        _ => return None,
    };
    Some(behind.after(length).trimmed())
}
