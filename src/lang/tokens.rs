//! The parsers' input: a run of tokens with the text and the household's words beside it, and the
//! smallest parsers over it.
//!
//! nom's `Error` means "not mine", its `Failure` means "mine, but malformed".

use std::iter::Enumerate;
use std::slice::Iter;

use nom::error::{ErrorKind as NomKind, ParseError};
use nom::{Err, IResult, Input, Needed};

use super::memory::{Answers, Memory};
use super::numeral::digit;
use super::syntax::{Error, ErrorKind, Span, Words};
use super::token::{Kind, Token};
use super::vocabulary::Vocabulary;
use super::which::as_written;
use super::words::Phrases;

#[derive(Clone, Copy)]
pub struct Tokens<'a> {
    pub slice: &'a [Token],
    pub text: &'a str,
    pub vocabulary: &'a Vocabulary,
    /// What was read of this message so far, if anybody keeps it.
    pub memory: Option<&'a Memory>,
}

pub type Read<'a, T> = IResult<Tokens<'a>, T, Error>;

impl<'a> Tokens<'a> {
    /// Nothing that is read of them is kept: they may change before they are read again.
    pub fn unread(slice: &'a [Token], text: &'a str, vocabulary: &'a Vocabulary) -> Self {
        Self {
            slice,
            text,
            vocabulary,
            memory: None,
        }
    }

    pub fn first(&self) -> Option<&'a Token> {
        self.slice.first()
    }

    pub fn get(&self, at: usize) -> Option<&'a Token> {
        self.slice.get(at)
    }

    pub fn last(&self) -> Option<&'a Token> {
        self.slice.last()
    }

    pub fn is_empty(&self) -> bool {
        self.slice.is_empty()
    }

    pub fn len(&self) -> usize {
        self.slice.len()
    }

    pub fn with(&self, slice: &'a [Token]) -> Self {
        Self { slice, ..*self }
    }

    /// The same message in other tokens, which may live shorter.
    pub fn with_tokens<'b>(&'b self, slice: &'b [Token]) -> Tokens<'b> {
        let memory = None;
        Tokens {
            slice,
            memory,
            ..*self
        }
    }

    /// What a reader reads here, from memory if it was here before.
    pub fn once<T: Clone>(
        &self,
        answers: impl Fn(&Memory) -> &Answers<T>,
        read: impl FnOnce() -> T,
    ) -> T {
        let place = (self.slice.as_ptr() as usize, self.slice.len());
        match self.memory {
            Some(memory) => answers(memory).get(&place, read),
            None => read(),
        }
    }

    pub fn range(&self, from: usize, to: usize) -> Self {
        self.with(&self.slice[from..to])
    }

    /// Without the first `count` tokens; empty when there are fewer.
    pub fn after(&self, count: usize) -> Self {
        self.with(self.slice.get(count..).unwrap_or(&[]))
    }

    pub fn take_one(&self) -> Self {
        self.after(1)
    }

    /// The folded word at a place, or "".
    pub fn norm(&self, at: usize) -> &'a str {
        self.slice.get(at).map_or("", Token::norm)
    }

    /// The place that the tokens cover.
    pub fn span(&self) -> Span {
        match (self.slice.first(), self.slice.last()) {
            (Some(first), Some(last)) => first.span.start..last.span.end,
            _ => self.text.len()..self.text.len(),
        }
    }

    /// The text as typed: white space folded, invisible characters gone.
    pub fn words(&self) -> Words {
        let mut out = String::new();
        let mut last_end = None;
        for token in self.slice {
            if let Some(end) = last_end {
                let between: &str = &self.text[end..token.span.start];
                if token.spaced {
                    out.push(' ');
                } else {
                    out.extend(between.chars().filter(|c| matches!(c, '-' | '‐' | '‑')));
                }
            }
            // A word that was told elsewhere has no place of its own (`which.rs`).
            match token.span.is_empty() {
                true => out.push_str(&as_written(token.norm())),
                false => push_visible(&mut out, &self.text[token.span.clone()]),
            }
            last_end = Some(token.span.end);
        }
        Words::new(out, self.span())
    }

    /// How many tokens the first of these is before; all when none is.
    pub fn find(&self, wanted: impl Fn(&Token) -> bool) -> Option<usize> {
        self.slice.iter().position(wanted)
    }

    /// Split at every token that separates.
    pub fn split(&self, separates: impl Fn(&Token) -> bool) -> Vec<Tokens<'a>> {
        self.slice
            .split(separates)
            .map(|slice| self.with(slice))
            .collect()
    }

    /// Without separators and full stops at both ends.
    pub fn trimmed(&self) -> Self {
        let idle = |token: &Token| {
            matches!(
                token.kind,
                Kind::Newline
                    | Kind::Symbol(',' | ';' | '.' | '!' | ':' | '-' | '&' | '+' | '|' | '/')
            )
        };
        let mut slice = self.slice;
        while let Some((first, rest)) = slice.split_first() {
            if !idle(first) {
                break;
            }
            slice = rest;
        }
        while let Some((last, rest)) = slice.split_last() {
            if !idle(last) {
                break;
            }
            slice = rest;
        }
        self.with(slice)
    }

    /// Without separators and full stops at the end.
    pub fn trimmed_end(&self) -> Self {
        let trimmed = self.trimmed();
        let front = self.len() - self.trimmed_front().len();
        self.range(0, front + trimmed.len())
    }

    /// Without separators and full stops at the front.
    pub fn trimmed_front(&self) -> Self {
        let trimmed = self.trimmed();
        if trimmed.is_empty() {
            return self.after(self.len());
        }
        let skipped = self
            .slice
            .iter()
            .take_while(|token| token.span.start < trimmed.slice[0].span.start)
            .count();
        self.after(skipped)
    }

    /// Without the colon, dash or line break that follows a verb.
    pub fn without_lead(&self) -> Self {
        let skipped = self
            .slice
            .iter()
            .take_while(|token| {
                matches!(
                    token.kind,
                    Kind::Newline | Kind::Symbol(':' | '=' | '-' | ',' | '.' | '!')
                )
            })
            .count();
        self.after(skipped)
    }

    /// The longest run of words at the front, no longer than this, that reads as something.
    pub fn longest_run<T>(
        &self,
        most: usize,
        read: impl Fn(Tokens<'a>) -> Option<T>,
    ) -> Option<(usize, T)> {
        let words = self
            .slice
            .iter()
            .take(most)
            .take_while(|token| matches!(token.kind, Kind::Word(_)))
            .count();
        (1..=words)
            .rev()
            .find_map(|length| read(self.range(0, length)).map(|read| (length, read)))
    }

    /// Only words, no number or symbol.
    pub fn is_wordy(&self) -> bool {
        !self.is_empty()
            && self
                .slice
                .iter()
                .all(|token| matches!(token.kind, Kind::Word(_)))
    }

    pub fn has_number(&self) -> bool {
        self.slice.iter().any(Token::is_numeric)
    }

    /// The first number that a minus may stand before. At the beginning of a line a hyphen is a bullet, after
    /// a word or a number a dash; one that hangs alone before a digit may be meant.
    pub fn signed(&self) -> Option<Signed> {
        let is_signed = |token: &Token| {
            let before = self.text[..token.span.start].strip_suffix(DASHES);
            token.is_numeric() && before.is_some_and(hangs)
                || token.is_numeric() && is_minus_after_plus(&self.text[..token.span.start])
        };
        let at = self.find(is_signed)?;
        let words = self.range(at, at + 1).words();
        Some(Signed {
            at,
            span: words.span.clone(),
            text: format!("-{}", words.text),
        })
    }

    /// "Not mine", pointing here.
    pub fn no<T>(&self) -> Read<'a, T> {
        Err(Err::Error(self.error(ErrorKind::NotUnderstood)))
    }

    pub fn error(&self, kind: ErrorKind) -> Error {
        Error {
            kind,
            span: self.span(),
        }
    }

    /// "Mine, but malformed", pointing here.
    pub fn fail<T>(&self, kind: ErrorKind) -> Read<'a, T> {
        Err(Err::Failure(self.error(kind)))
    }
}

/// A number below zero, as far as the text tells.
pub struct Signed {
    /// Where it stands among the tokens.
    pub at: usize,
    span: Span,
    text: String,
}

impl Signed {
    pub fn error(&self) -> Error {
        Error {
            kind: ErrorKind::NotAMass(self.text.clone()),
            span: self.span.clone(),
        }
    }

    pub fn fail<'a, T>(&self) -> Read<'a, T> {
        Err(Err::Failure(self.error()))
    }
}

const DASHES: [char; 6] = ['-', '‐', '‑', '‒', '–', '—'];

/// Whether a dash after this text hangs alone: white space or a mark stands before it, and no line begins there.
fn hangs(before: &str) -> bool {
    let near = before.trim_end_matches([' ', '\t', '\u{a0}']);
    let begins_line = near.is_empty() || near.ends_with(['\n', '\r']);
    !begins_line && (near.len() < before.len() || near.ends_with(['+', ',', ';', '(']))
}

/// "+ - 5": a plus and a dash before a number.
fn is_minus_after_plus(before: &str) -> bool {
    let dashed = before.trim_end();
    dashed
        .strip_suffix(DASHES)
        .is_some_and(|before| before.trim_end().ends_with('+'))
}

/// Text without invisible characters, other scripts' digits kept.
fn push_visible(out: &mut String, text: &str) {
    for c in text.chars() {
        let visible =
            !c.is_control() && (c.is_alphanumeric() || digit(c).is_some() || !is_format(c));
        if visible {
            out.push(c);
        }
    }
}

fn is_format(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}')
}

impl std::fmt::Debug for Tokens<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.words().text)
    }
}

impl<'a> Input for Tokens<'a> {
    type Item = &'a Token;
    type Iter = Iter<'a, Token>;
    type IterIndices = Enumerate<Iter<'a, Token>>;

    fn input_len(&self) -> usize {
        self.slice.len()
    }

    fn take(&self, index: usize) -> Self {
        self.with(&self.slice[..index])
    }

    fn take_from(&self, index: usize) -> Self {
        self.with(&self.slice[index..])
    }

    fn take_split(&self, index: usize) -> (Self, Self) {
        (self.take_from(index), self.take(index))
    }

    fn position<P: Fn(Self::Item) -> bool>(&self, predicate: P) -> Option<usize> {
        self.slice.iter().position(predicate)
    }

    fn iter_elements(&self) -> Self::Iter {
        self.slice.iter()
    }

    fn iter_indices(&self) -> Self::IterIndices {
        self.slice.iter().enumerate()
    }

    fn slice_index(&self, count: usize) -> Result<usize, Needed> {
        if count <= self.slice.len() {
            Ok(count)
        } else {
            Err(Needed::new(count - self.slice.len()))
        }
    }
}

impl<'a> ParseError<Tokens<'a>> for Error {
    fn from_error_kind(input: Tokens<'a>, _: NomKind) -> Self {
        input.error(ErrorKind::NotUnderstood)
    }

    fn append(_: Tokens<'a>, _: NomKind, other: Self) -> Self {
        other
    }
}

/// One symbol.
pub fn symbol<'a>(wanted: char) -> impl Fn(Tokens<'a>) -> Read<'a, ()> + Copy {
    move |input| match input.first() {
        Some(token) if token.is(wanted) => Ok((input.take_from(1), ())),
        _ => input.no(),
    }
}

/// One of these words; gives the one that stood there.
pub fn word<'a>(
    wanted: &'static [&'static str],
) -> impl Fn(Tokens<'a>) -> Read<'a, &'static str> + Copy {
    move |input| match wanted.iter().copied().find(|&w| w == input.norm(0)) {
        Some(found) => Ok((input.take_from(1), found)),
        None => input.no(),
    }
}

/// The longest phrase of a list; gives what it stands for.
pub fn phrase<'a>(list: &'static Phrases) -> impl Fn(Tokens<'a>) -> Read<'a, &'static str> + Copy {
    move |input| match list.longest(input.slice) {
        Some((length, value)) => Ok((input.take_from(length), value)),
        None => input.no(),
    }
}
