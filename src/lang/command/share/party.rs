//! Who eats, as it is said: one or several by name, "me", "us", "the three of us", "for two".
//!
//! ```text
//! who    := [preposition] party [verb]
//! party  := eater { ("," | "and" | "&") eater } | count ["of us" | "people"] | "us" | "the others"
//! eater  := eater.rs
//! ```
//! "she" is the last that was named.

pub use super::before::Before;
use super::eater::eater;
use super::mark::ratio;
use super::row::{all_of_them, begins_list, goes_on, is_row, joint};
use crate::lang::date::{day, meal};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{COUNTS, Eater, Party};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::at_table;

/// No more people sit at a table.
const PEOPLE_MAX: f64 = 20.0;

#[derive(Debug, Clone, PartialEq)]
pub enum Who {
    /// In the order of the text; the sender is `None`.
    Named(Vec<Eater>),
    /// So many, the sender among them.
    Count(u32),
    Everyone,
    /// Everyone who is not named; so many, if that was said.
    Others(Option<u32>),
}

/// How those people stand in the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    Plain,
    /// A verb follows: "Ana had".
    Subject,
    /// "gave Ana": what follows is Ana's.
    Given,
    /// "for Ana", "to Ana".
    For,
    /// "with Ana": the sender too.
    With,
    /// "between Ana and Tom".
    Between,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    pub who: Who,
    pub role: Role,
    /// "finished off": all that was left.
    pub finishes: bool,
    /// "everybody": as much for each.
    pub each: bool,
}

impl Who {
    pub fn sender() -> Self {
        Self::Named(vec![None])
    }

    pub fn party(&self) -> Party {
        match self {
            Self::Named(named) => Party {
                named: named.clone(),
                people: None,
            },
            Self::Count(people) => Party {
                named: Vec::new(),
                people: Some(*people),
            },
            Self::Everyone | Self::Others(_) => Party::default(),
        }
    }

    pub fn one(&self) -> Option<&Eater> {
        match self {
            Self::Named(named) if named.len() == 1 => named.first(),
            _ => None,
        }
    }

    /// "3 ways" and "me, Ana and Tom" said of the same people.
    pub fn and(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::Count(people), Self::Named(mut named))
            | (Self::Named(mut named), Self::Count(people)) => {
                let people = people as usize;
                if named.len() + 1 == people && !named.contains(&None) {
                    named.insert(0, None);
                }
                (named.len() == people).then_some(Self::Named(named))
            }
            (Self::Named(mut named), Self::Named(more)) => {
                for eater in more {
                    if !named.contains(&eater) {
                        named.push(eater);
                    }
                }
                Some(Self::Named(named))
            }
            (Self::Everyone, Self::Named(named)) | (Self::Named(named), Self::Everyone) => {
                (named.len() > 1).then_some(Self::Named(named))
            }
            (Self::Everyone, Self::Count(people)) | (Self::Count(people), Self::Everyone) => {
                Some(Self::Count(people))
            }
            _ => None,
        }
    }
}

/// People at the front of the tokens, with what tells how they stand; and how many tokens it took.
pub fn said(input: Tokens<'_>, before: &mut Before) -> Option<(usize, Said)> {
    let (lead, role) = preposition(input);
    let rest = input.after(lead);
    let led = role != Role::Plain;
    let (length, who) = party(rest, led, before)?;
    let mut at = lead + length;
    // "dinner for me was 150"
    at += usize::from(led && matches!(input.norm(at), "was" | "is" | "were"));
    let mut said = Said {
        who,
        role,
        finishes: false,
        each: at_table().longest_of(rest.slice, "everyone") == Some(length),
    };
    at += plate(input.after(at));
    // "Ana and Tom both had 120", "me, Ana and Tom all had 120": each of them.
    let several = matches!(&said.who, Who::Named(named) if named.len() > 1);
    if let Some(length) = all_of_them(input.after(at)).filter(|_| several)
        && verb(input.after(at + length)).0 > 0
    {
        said.each = true;
        at += length;
    }
    // "it was Ana who had"
    if matches!(input.norm(at), "who" | "that") && verb(input.after(at + 1)).0 > 0 {
        at += 1;
    }
    // "140 me only"
    if input.norm(at) == "only" && ends(input.after(at + 1)) {
        return Some((at + 1, said));
    }
    if !led {
        let (length, finishes) = verb(input.after(at));
        if length > 0 {
            said.role = Role::Subject;
            said.finishes = finishes;
            at += length;
        }
    }
    if let Who::Named(named) = &said.who {
        before.note(named);
    }
    Some((at, said))
}

/// Those whom somebody's part is held against: "me", "what Ana and I each had", "for him".
pub fn reference(input: Tokens<'_>, before: &Before) -> Option<(usize, Who)> {
    let lead = usize::from(matches!(input.norm(0), "for" | "that"));
    let before = &before.held_against();
    let rest = input.after(lead);
    let (mut length, mut who) = party(rest, true, before)?;
    // "100 more than me and Tom clears it": another thought begins.
    let several = matches!(&who, Who::Named(named) if named.len() > 1);
    if several && !tells_of_all(rest.after(length)) {
        let (one, eater) = eater(rest, true, before)?;
        (length, who) = (one, Who::Named(vec![eater]));
    }
    let mut at = lead + length;
    at += plate(input.after(at));
    let each = |at: usize| usize::from(matches!(input.norm(at), "each" | "both"));
    at += each(at);
    at += verb(input.after(at)).0;
    at += each(at);
    (!matches!(who, Who::Others(_))).then_some((at, who))
}

/// Whether what was said of a list of people ends with it, or goes on about all of them.
fn tells_of_all(rest: Tokens<'_>) -> bool {
    let each = matches!(rest.norm(0), "each" | "both" | "together" | "combined");
    each || verb(rest).0 > 0
        || rest
            .first()
            .is_none_or(|token| matches!(token.kind, Kind::Newline | Kind::Symbol(_)))
}

fn preposition(input: Tokens<'_>) -> (usize, Role) {
    let role = match input.norm(0) {
        "for" | "to" | "into" => Role::For,
        "with" | "w" => Role::With,
        "between" | "among" | "amongst" => Role::Between,
        // "30 cheddar just me"
        "just" | "only" if input.norm(1) == "me" && ends(input.after(2)) => {
            return (1, Role::For);
        }
        // "half of it is for Tom", "100 of that goes to Ana"
        "is" | "was" | "goes" | "went" | "were" | "are"
            if matches!(input.norm(1), "for" | "to") && is_eater(input.after(2)) =>
        {
            return (2, Role::For);
        }
        // "the rest is Ana's", "on Tom's plate"
        "is" | "was" | "goes" | "went" | "were" | "are"
            if owned(input.after(1 + usize::from(input.norm(1) == "to"))) =>
        {
            return (1 + usize::from(input.norm(1) == "to"), Role::For);
        }
        "on" if owned(input.after(1))
            && person(input.after(1))
                .is_some_and(|(length, _)| plate(input.after(1 + length)) > 0) =>
        {
            return (1, Role::For);
        }
        "gave" | "give" | "giving" | "gives" | "handed" => {
            return (1, Role::Given);
        }
        _ => return (0, Role::Plain),
    };
    let mut at = 1;
    while matches!(input.norm(at), "just" | "only")
        || input.get(at).is_some_and(|token| token.is(':'))
    {
        at += 1;
    }
    (at, role)
}

pub fn is_eater(input: Tokens<'_>) -> bool {
    matches!(input.norm(0), "me" | "her" | "him") || person(input).is_some()
}

/// "Ana's", "mine"
fn owned(input: Tokens<'_>) -> bool {
    input.norm(0) == "mine"
        || person(input).is_some_and(|(length, _)| input.norm(length - 1).ends_with('s'))
}

/// "'s plate", "plate", "share was": what is said of somebody's plate without changing whose it is.
pub fn plate(input: Tokens<'_>) -> usize {
    at_table().longest_of(input.slice, "plate").unwrap_or(0)
}

/// The verb after people, and whether it says that nothing is left.
pub fn verb(input: Tokens<'_>) -> (usize, bool) {
    let mut at = 0;
    if let Some(length) = at_table().longest_of(input.slice, "says") {
        at += length + usize::from(input.get(at + length).is_some_and(|token| token.is(',')));
        if matches!(input.norm(at), "he" | "she" | "they" | "i" | "her" | "his") {
            at += 1;
        }
    }
    while matches!(
        input.norm(at),
        "just" | "only" | "already" | "also" | "each" | "then" | "finally"
    ) && at < 6
    {
        if input.norm(at) == "each" {
            // "we each had": said where the people end.
            break;
        }
        at += 1;
    }
    let list = at_table();
    let rest = input.after(at);
    if let Some(length) = list.longest_of(rest.slice, "finished") {
        return (at + length, true);
    }
    // "had half each" tells how it was divided.
    if list.longest_of(rest.slice, "halves").is_some() {
        return (at, false);
    }
    match list.longest_of(rest.slice, "had") {
        Some(length) => (at + length, false),
        None if at > 0 && input.norm(0) != "just" => (at, false),
        None => (0, false),
    }
}

/// People, without what stands around them.
fn party(input: Tokens<'_>, led: bool, before: &Before) -> Option<(usize, Who)> {
    if let Some(found) = counted(input, led) {
        return Some(found);
    }
    // "other 2 of us"
    let article = usize::from(input.norm(0) == "the");
    if input.norm(article) == "other"
        && let Some((length, Who::Count(count))) = counted(input.after(article + 1), false)
    {
        return Some((article + 1 + length, Who::Others(Some(count))));
    }
    match at_table().longest(input.slice) {
        Some((length, "us" | "everyone")) => return Some((length, Who::Everyone)),
        Some((length, "us after a preposition")) if led => return Some((length, Who::Everyone)),
        Some((length, "two")) => return Some((length, Who::Count(2))),
        Some((length, "others")) => {
            let said = |word: &str| (0..length).any(|at| input.norm(at) == word);
            let counted = COUNTS.iter().find(|(word, _)| said(word));
            return Some((length, Who::Others(counted.map(|(_, count)| *count as u32))));
        }
        _ => {}
    }
    listed(input, led, before)
}

/// "the three of us", "us 3", "3 people", "for 3"
pub fn counted(input: Tokens<'_>, led: bool) -> Option<(usize, Who)> {
    let mut at = 0;
    while matches!(input.norm(at), "the" | "all" | "us" | "we") {
        at += 1;
    }
    let (rest, count) = number(input.after(at)).ok()?;
    let us = |at: usize| matches!(input.norm(at), "us" | "we");
    // "we all three had", but "for us all 2 ladles"
    let all = at > 1 && us(at - 2) && input.norm(at - 1) == "all";
    let told = at > 0 && us(at - 1) || all && (verb(rest).0 > 0 || ends(rest));
    let fits = count.value.fract() == 0.0 && (2.0..=PEOPLE_MAX).contains(&count.value);
    if !fits || count.article {
        return None;
    }
    let ending = match (rest.norm(0), rest.norm(1)) {
        ("of", "us" | "them") => 2,
        ("at", "table") => 2,
        ("people" | "persons" | "ppl" | "adults" | "plates" | "bowls", _) if led => 1,
        _ if told => 0,
        _ if led && ends(rest) => 0,
        _ => return None,
    };
    Some((
        input.len() - rest.len() + ending,
        Who::Count(count.value as u32),
    ))
}

/// Whether nothing follows that a number could count.
pub fn ends(rest: Tokens<'_>) -> bool {
    rest.first().is_none_or(|token| {
        matches!(token.kind, Kind::Newline | Kind::Symbol(_))
            || matches!(
                token.norm(),
                "and" | "me" | "with" | "please" | "pls" | "but" | "so"
            )
            || person(rest).is_some()
            || day(rest).is_ok()
            || meal(rest).is_ok()
    })
}

/// A list of people. Commas join it only if it ends in "and", or if nothing but the end follows.
fn listed(input: Tokens<'_>, led: bool, before: &Before) -> Option<(usize, Who)> {
    let (mut length, first) = eater(input, led, before)?;
    let mut all = vec![first];
    let mut commas = 0;
    // Where the list stood before its last comma, should the comma turn out to part plates.
    let mut safe = (length, 1);
    // "me Ana Tom": three in a row.
    let mut row = is_row(input.after(length));
    loop {
        let rest = input.after(length);
        // "between Robin Tom and Ana"
        let unjoined = (led || goes_on(rest) || row)
            && rest.first().is_some_and(|token| !token.norm().is_empty());
        let Some((joint, comma)) = joint(rest).or(unjoined.then_some((0, true))) else {
            break;
        };
        let Some((next, one)) = eater(rest.after(joint), false, before) else {
            break;
        };
        let after = rest.after(joint + next);
        // "25% Ana's and Tom the rest"
        let owned_alone = before.open && owned(input) && !owned(rest.after(joint));
        // "140 dal for Ana and Tom had 200 soup": Tom begins another plate.
        let headed = after.first().is_some_and(|token| token.is(':')) && comma;
        let begins = headed
            || after.first().is_some_and(Token::is_numeric)
                && ratio(after).is_none()
                && after.norm(1) != "ways"
            || plate(after) > 0
            || verb(after).0 > 0
            || at_table().longest_of(after.slice, "nothing").is_some();
        let begins = begins || begins_list(after);
        if begins && before.open || owned_alone || all.contains(&one) {
            break;
        }
        row &= joint == 0;
        length += joint + next;
        all.push(one);
        if comma && !row {
            commas += 1;
        } else {
            safe = (length, all.len());
            commas = 0;
        }
    }
    let after = input.after(length);
    let closes = after.trimmed().is_empty()
        || after
            .first()
            .is_some_and(|token| token.is(':') || token.is(')'));
    if commas > 0 && !closes {
        length = safe.0;
        all.truncate(safe.1);
    }
    Some((length, Who::Named(all)))
}
