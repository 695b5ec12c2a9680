//! Talk beside a weighing: "the bus was 40 minutes late but finally had my 130 soup".
//!
//! ```text
//! message := { clause | mark }
//! clause  := talk | [lead] words [tail]
//! ```
//! A clause is talk when it tells of no food and each of its numbers counts something else (minutes, money,
//! pages). Words that only lead up to an item ("popped", "my plate came to") and a tail behind it ("on the
//! sofa", "while the kettle boils") are talk too. What is left may be a message that reads whole. Where a
//! plan, a condition, shopping, a recipe or a question governs the message, nothing is left out.

use super::amount::{Stands, amount, may_begin};
use super::command::fix::clauses::affirms;
use super::lexicon::{describes, is_food, is_food_word};
use super::person::person;
use super::reckoned::reckoned;
use super::syntax::Day;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::veto::{governs, speaks_of_others};
use super::words::{
    denials, joints, leads, meals, measures, number_words, opinions, outros, remarks, repairs,
    sharing, tails, talk, times, units, verbs, whole,
};

/// A message without its talk.
pub struct Told {
    pub tokens: Vec<Token>,
    /// How many words were left out that are more than an interjection.
    pub talk_words: usize,
}

/// More words than this are a letter, and no weighing with talk beside it.
const TOKENS_MAX: usize = 120;
/// A clause of talk is no longer than this.
const CLAUSE_TOKENS_MAX: usize = 18;

/// The message without its talk; nothing when there is none, or when it governs the rest.
pub fn without(input: Tokens<'_>) -> Option<Told> {
    if input.len() > TOKENS_MAX || input.len() < 3 {
        return None;
    }
    if governs(input) {
        return None;
    }
    let brackets = opened(input);
    let clauses = clauses(input, &brackets);
    let mut fates = vec![Fate::Kept; input.len()];
    for (from, to) in clauses {
        let clause = input.range(from, to);
        if is_talk(clause) {
            fates[from..to].fill(Fate::Talk);
            continue;
        }
        if speaks_of_others(clause) {
            return None;
        }
        for at in around_items(clause) {
            fates[from + at] = Fate::Around;
        }
    }
    for (from, to) in brackets_of_talk(input) {
        fates[from..to].fill(Fate::Talk);
    }
    for at in brackets {
        fates[at] = Fate::Talk;
    }
    let left_out = fates.iter().any(|fate| *fate != Fate::Kept);
    (left_out && fates.contains(&Fate::Kept)).then(|| told(input, &fates))
}

/// What becomes of a token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fate {
    Kept,
    /// It leads up to an item, or trails behind one.
    Around,
    /// A clause of talk: what stands on both sides is apart.
    Talk,
}

/// The kept tokens, with a comma where talk stood between them.
fn told(input: Tokens<'_>, fates: &[Fate]) -> Told {
    let comma = |at: usize| Token::new(Kind::Symbol(','), input.slice[at].span.clone(), true);
    let mut tokens: Vec<Token> = Vec::with_capacity(input.len());
    let mut talk_words = 0;
    for (at, token) in input.slice.iter().enumerate() {
        talk_words += usize::from(fates[at] != Fate::Kept && !token.norm().is_empty());
        if fates[at] == Fate::Around {
            continue;
        }
        if fates[at] == Fate::Kept {
            let mut token = token.clone();
            token.spaced |= tokens.last().is_some_and(|last| last.is(','));
            tokens.push(token);
        } else if tokens.last().is_some_and(|last| !last.is(',')) {
            tokens.push(comma(at));
        }
    }
    Told { tokens, talk_words }
}

/// Brackets that hold an item of their own ("soup (with 30 cheddar)"), or that close nothing (":(").
fn opened(input: Tokens<'_>) -> Vec<usize> {
    let mut out = Vec::new();
    let mut open = None;
    for (at, token) in input.slice.iter().enumerate() {
        if token.is('(') {
            out.extend(open.replace(at));
        } else if token.is(')') {
            match open.take() {
                Some(from) => {
                    let inside = input.range(from + 1, at);
                    if (0..inside.len()).any(|at| begins_item(inside.after(at)))
                        || only_when(inside)
                    {
                        out.extend([from, at]);
                    }
                }
                None => out.push(at),
            }
        }
    }
    out.extend(open);
    out.sort_unstable();
    out
}

/// Brackets that hold nothing but talk, or say what it was not: "(at 7)", "(not 180)".
fn brackets_of_talk(input: Tokens<'_>) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut open = None;
    for (at, token) in input.slice.iter().enumerate() {
        if token.is('(') {
            open = Some(at);
        } else if token.is(')')
            && let Some(from) = open.take()
            && (is_talk(input.range(from + 1, at)) || input.norm(from + 1) == "not")
        {
            out.push((from, at + 1));
        }
    }
    out
}

/// "(lunch)"
fn only_when(input: Tokens<'_>) -> bool {
    super::date::meal(input).is_ok_and(|(rest, _)| rest.is_empty())
}

/// Where clauses begin and end: between marks, before words that join clauses.
fn clauses(input: Tokens<'_>, brackets: &[usize]) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut from = 0;
    let mut depth = 0_i32;
    let mut at = 0;
    let close = |out: &mut Vec<(usize, usize)>, from: usize, to: usize| {
        if to > from {
            out.push((from, to));
        }
    };
    while at < input.len() {
        let known = super::item::tricky_length(input.after(at));
        if known > 1 {
            at += known;
            continue;
        }
        let token = &input.slice[at];
        if brackets.contains(&at) || is_mark(input, at) && depth == 0 {
            close(&mut out, from, at);
            from = at + 1;
        } else if token.is('(') {
            depth += 1;
        } else if token.is(')') {
            depth -= 1;
        } else if let Some((length, key)) = joints().longest(&input.slice[at..])
            && joins(input, at)
        {
            close(&mut out, from, at);
            from = at;
            // "lol" is a clause of its own; "but" belongs to what follows.
            if key == "alone" {
                close(&mut out, at, at + length);
                from = at + length;
            }
            at += length;
            continue;
        }
        at += 1;
    }
    close(&mut out, from, input.len());
    out
}

fn is_mark(input: Tokens<'_>, at: usize) -> bool {
    let token = &input.slice[at];
    let spaced_after = input.get(at + 1).is_none_or(|next| next.spaced);
    match token.kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '!' | '?' | ':') => true,
        Kind::Symbol('.') => spaced_after,
        Kind::Symbol('-') => token.spaced && spaced_after,
        _ => false,
    }
}

/// "or so", "so far", "all but 100", "one and half", "two and a half" are no joints.
fn joins(input: Tokens<'_>, at: usize) -> bool {
    let before = if at > 0 { input.norm(at - 1) } else { "" };
    let after = input.norm(at + 1);
    let but = input.norm(at) == "but";
    let excepts = but
        && matches!(
            before,
            "all" | "everything" | "nothing" | "none" | "anything"
        );
    let article = usize::from(after == "a" || after == "three");
    let part = matches!(
        input.norm(at + 1 + article),
        "half" | "halve" | "quarter" | "quarters"
    );
    let counted = number_words().has(before) || at > 0 && input.slice[at - 1].is_numeric();
    let fraction = part && counted;
    !excepts
        && !fraction
        && !matches!(before, "or" | "not" | "ever" | "even")
        && !matches!(after, "far" | "much" | "many")
}

/// A clause that tells nothing of what was weighed.
fn is_talk(clause: Tokens<'_>) -> bool {
    let clause = clause.trimmed();
    if clause.is_empty() || clause.len() > CLAUSE_TOKENS_MAX || is_command(clause) {
        return false;
    }
    // "and me", of "me and Ana split the rest"
    let lone =
        clause.len() < 3 && (0..clause.len()).any(|at| matches!(clause.norm(at), "me" | "mine"));
    if lone {
        return false;
    }
    let joined = matches!(
        clause.norm(0),
        "and" | "with" | "plus" | "n" | "then" | "also"
    ) || clause.slice[0].is('&');
    let denies = (0..clause.len()).any(|at| denials().longest(&clause.slice[at..]).is_some());
    let judges = (0..clause.len()).any(|at| opinions().longest(&clause.slice[at..]).is_some());
    let mut at = 0;
    while at < clause.len() {
        if let Some(length) = reckoned(clause, at) {
            at += length;
            continue;
        }
        // "Monday night after handover": when it was eaten.
        if super::date::day(clause.after(at)).is_ok_and(|(_, day)| day != Day::Today) {
            return false;
        }
        let token = &clause.slice[at];
        let names = tells_food(clause, at) && !is_meal(clause, at);
        if names && !denies && !judges || !names && tells(clause, at) {
            return false;
        }
        // "140 dal and naan": what is joined on is more to eat, unless it is a word of talk.
        let heard = talk().holds(token)
            || leads().holds(token)
            || outros().holds(token)
            || joints().holds(token);
        if joined && at > 0 && !heard && !super::name::is_filler(token) {
            return false;
        }
        at += 1;
    }
    true
}

/// What is said to the bot, and takes back or puts right.
fn is_command(clause: Tokens<'_>) -> bool {
    let whole = whole().longest(clause.slice).is_some_and(|(length, key)| {
        length == clause.len() && !matches!(key, "yes" | "done" | "no")
    });
    let verb = verbs()
        .longest(clause.slice)
        .is_some_and(|(_, key)| matches!(key, "waste" | "count" | "pour" | "packet" | "batch"));
    let puts_right = repairs()
        .longest(clause.slice)
        .is_some_and(|(_, key)| key == "renames" || clause.has_number());
    let swapped = remarks().stand_in(clause.slice, "swapped");
    whole || verb || puts_right || swapped || affirms(clause)
}

/// A word of the household's food, or of food at all.
pub fn tells_food(clause: Tokens<'_>, at: usize) -> bool {
    let norm = clause.norm(at);
    norm.len() > 1 && (clause.vocabulary.names_food(norm) || names_food(norm))
}

/// "quick tea before nights": the meal, not the drink.
fn is_meal(clause: Tokens<'_>, at: usize) -> bool {
    let led = at > 0
        && matches!(
            clause.norm(at - 1),
            "quick" | "early" | "late" | "my" | "our" | "for" | "kids"
        );
    let timed = matches!(
        clause.norm(at + 1),
        "before" | "after" | "at" | "tonight" | "today"
    );
    clause.norm(at) == "tea" && !clause.has_number() && (led || timed)
}

/// A food by itself: "great" stands in the table too, beside "northern beans".
fn names_food(norm: &str) -> bool {
    is_food_word(norm) && !meals().has(norm) && is_food(&[norm])
}

/// A number that counts nothing known, a unit of the scale, a person: what a weighing may hang on.
fn tells(clause: Tokens<'_>, at: usize) -> bool {
    let token = &clause.slice[at];
    match &token.kind {
        Kind::Word(norm) => {
            let counts = number_words().has(norm) && norm != "one";
            let person = person(clause.after(at)).is_some();
            counts
                || person
                || sharing().has(norm)
                || units().has(norm) && norm.len() > 2 && !times().has(norm)
        }
        Kind::Symbol(c) => matches!(c, '$' | '→' | '=' | '+'),
        Kind::Ratio(..) => clause
            .slice
            .iter()
            .any(|token| matches!(token.norm(), "me" | "us")),
        Kind::Newline | Kind::Ordinal(_) => false,
        _ => token.is_numeric(),
    }
}

/// The places, in a clause that tells of food, of words that only stand around its items.
fn around_items(clause: Tokens<'_>) -> Vec<usize> {
    let Some(first) = (0..clause.len()).find(|&at| begins_item(clause.after(at))) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let mut at = 0;
    while at < first {
        let length = reckoned(clause, at).or_else(|| {
            leads()
                .longest(&clause.slice[at..first])
                .map(|(length, _)| length)
        });
        if let Some(length) = length {
            out.extend(at..at + length);
        }
        at += length.unwrap_or(1);
    }
    out.extend(tail(clause, first));
    out
}

/// Without the words that only lead up to an amount: "it was".
pub fn without_leads(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input;
    while let Some((length, _)) = leads().longest(rest.slice) {
        rest = rest.after(length);
    }
    rest
}

/// What trails after the last item.
fn tail(clause: Tokens<'_>, first: usize) -> std::ops::Range<usize> {
    let mut last = first;
    let mut at = first;
    while at < clause.len() {
        if at > first
            && let Some(length) = reckoned(clause, at)
        {
            at += length;
            continue;
        }
        let norm = clause.norm(at);
        let holds = tells_food(clause, at)
            || tells(clause, at)
            || person(clause.after(at)).is_some()
            || at == last + 1 && describes(norm) && !is_article(norm)
            || sharing().has(norm)
            || measures().has(norm) && at <= last + 2
            || clause.slice[at].is(')');
        if holds {
            last = at;
        }
        at += 1;
    }
    let from = last + 1;
    let opens = from < clause.len()
        && tails().longest(&clause.slice[from..]).is_some()
        && super::date::meal(clause.after(from)).is_err()
        && super::date::day(clause.after(from)).is_err();
    if opens { from..clause.len() } else { 0..0 }
}

fn is_article(norm: &str) -> bool {
    matches!(norm, "the" | "my" | "our" | "that" | "this")
}

/// An amount and a known name after it, or a known name and its number.
fn begins_item(input: Tokens<'_>) -> bool {
    if input.first().is_some_and(Token::is_numeric) || may_begin(input) {
        return amount(input, Stands::BeforeName).is_ok_and(|(rest, _)| begins_name(rest));
    }
    if !begins_name(input) {
        return false;
    }
    let names = |token: &Token| {
        let norm = token.norm();
        !norm.is_empty()
            && (input.vocabulary.names_food(norm) || is_food_word(norm) || describes(norm))
    };
    let length = input.slice.iter().take_while(|token| names(token)).count();
    let mark = usize::from(
        input
            .get(length)
            .is_some_and(|token| token.is(':') || token.is('=') || token.is('-')),
    );
    length > 0
        && input
            .get(length + mark)
            .is_some_and(|token| matches!(token.kind, Kind::Number(_)))
}

/// A word of the household's food or of the table's, perhaps after "the".
pub fn begins_name(input: Tokens<'_>) -> bool {
    let skip = input
        .slice
        .iter()
        .take(3)
        .take_while(|token| {
            is_article(token.norm())
                || matches!(token.norm(), "of" | "more" | "some")
                || describes(token.norm())
        })
        .count();
    let norm = input.norm(skip);
    !norm.is_empty() && (input.vocabulary.names_food(norm) || is_food_word(norm))
}
