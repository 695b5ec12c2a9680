//! The lexer: a message as tokens. Numbers are read whole (`numeral.rs`), words are folded for
//! comparison, and nothing is thrown away that could change a meaning.
//!
//! Invisible characters are passed over as if they were not there, also inside a number. Emoji, quotes
//! and bullets at the start of a line are decoration. A hyphen between letters joins two words.

use super::letters::{
    fold_into, is_apostrophe, is_combining, is_invisible, is_line_break, is_odd_numeric,
};
use super::numeral;
use super::token::{Kind, Token};
use super::words::{short_forms, units};

/// The letter that is typed for a zero.
const ZERO_LIKE: &str = "o";

/// What is written short is no longer than this.
const SHORT_FORM_CHARS_MAX: usize = 8;

/// A visible character and where it stands.
pub(super) type Letter = (usize, char);

/// Cut a message into tokens. Linear in its length.
pub fn lex(text: &str) -> Vec<Token> {
    let letters: Vec<Letter> = text
        .char_indices()
        .filter(|&(_, c)| !is_invisible(c))
        .collect();
    let mut lexer = Lexer {
        letters: &letters,
        text_end: text.len(),
        tokens: Vec::with_capacity(letters.len() / 4 + 2),
        spaced: true,
    };
    let mut at = 0;
    while at < letters.len() {
        at = lexer.step(at);
    }
    lexer.tokens
}

struct Lexer<'a> {
    letters: &'a [Letter],
    text_end: usize,
    tokens: Vec<Token>,
    spaced: bool,
}

impl Lexer<'_> {
    fn char_at(&self, at: usize) -> Option<char> {
        self.letters.get(at).map(|&(_, c)| c)
    }

    fn byte(&self, at: usize) -> usize {
        self.letters
            .get(at)
            .map_or(self.text_end, |&(byte, _)| byte)
    }

    fn end_byte(&self, last: usize) -> usize {
        self.letters
            .get(last)
            .map_or(self.text_end, |&(byte, c)| byte + c.len_utf8())
    }

    /// The token over `from..to` (indices of letters).
    fn push(&mut self, kind: Kind, from: usize, to: usize) -> usize {
        let span = self.byte(from)..self.end_byte(to - 1);
        self.tokens.push(Token::new(kind, span, self.spaced));
        self.spaced = false;
        to
    }

    fn at_line_start(&self) -> bool {
        self.tokens
            .last()
            .is_none_or(|token| token.kind == Kind::Newline)
    }

    /// Read one token or pass over one character; gives the next index.
    fn step(&mut self, at: usize) -> usize {
        let c = self.letters[at].1;
        if is_line_break(c) {
            let mut to = at + 1;
            if c == '\r' && self.char_at(to) == Some('\n') {
                to += 1;
            }
            let next = self.push(Kind::Newline, at, to);
            self.spaced = true;
            return next;
        }
        if c.is_whitespace() || c.is_control() {
            self.spaced = true;
            return at + 1;
        }
        if let Some((norm, length)) = self.short_form(at) {
            return self.push(Kind::Word(norm.to_owned()), at, at + length);
        }
        if let Some(to) = self.list_number(at) {
            self.spaced = true;
            return to;
        }
        if numeral::digit(c).is_some() || numeral::vulgar(c).is_some() || is_odd_numeric(c) {
            return self.numeral(at);
        }
        if c == '.' && self.spaced && self.char_at(at + 1).and_then(numeral::digit).is_some() {
            let (kind, to) = numeral::read(self.letters, at + 1);
            return self.push(numeral::after_point(kind, to - at - 1), at, to);
        }
        if c.is_alphabetic() {
            return self.word(at);
        }
        self.symbol(at, c)
    }

    /// "2day", "w/": written short, and no number or slash.
    fn short_form(&self, at: usize) -> Option<(&'static str, usize)> {
        let inside = at > 0 && !self.spaced && self.letters[at - 1].1.is_alphanumeric();
        if inside || !self.char_at(at)?.is_ascii_alphanumeric() {
            return None;
        }
        let letters = self.letters[at..].iter().map(|&(_, c)| c);
        let mut form: String = letters
            .take(SHORT_FORM_CHARS_MAX + 1)
            .take_while(char::is_ascii_alphanumeric)
            .map(|c| c.to_ascii_lowercase())
            .collect();
        if self.char_at(at + form.len()) == Some('/') {
            form.push('/');
            if let Some(word) = short_forms().get(&form) {
                return Some((word, form.len()));
            }
            form.pop();
        }
        let ends = !self
            .char_at(at + form.len())
            .is_some_and(char::is_alphanumeric);
        let word = short_forms().get(&form).filter(|_| ends)?;
        Some((word, form.len()))
    }

    /// "1) soup 130", "2. beans 90": the number of a list's line, not of anything weighed.
    fn list_number(&self, at: usize) -> Option<usize> {
        if !self.at_line_start() {
            return None;
        }
        let digits = (at..at + 2)
            .take_while(|&at| self.char_at(at).is_some_and(|c| c.is_ascii_digit()))
            .count();
        if digits == 0 {
            return None;
        }
        let mark = self.char_at(at + digits);
        let spaced = self.char_at(at + digits + 1) == Some(' ');
        let more = (at + digits + 2..self.letters.len())
            .map(|at| self.letters[at].1)
            .take_while(|&c| !is_line_break(c))
            .any(char::is_alphanumeric);
        let marked = mark == Some(')') || mark == Some('.') && spaced;
        (marked && more).then_some(at + digits + 1)
    }

    fn numeral(&mut self, at: usize) -> usize {
        let (kind, to) = numeral::read(self.letters, at);
        self.push(kind, at, to)
    }

    fn word(&mut self, at: usize) -> usize {
        let after_number = !self.spaced && self.tokens.last().is_some_and(Token::is_numeric);
        let mut norm = String::with_capacity(12);
        let mut to = at;
        while let Some(c) = self.char_at(to) {
            let joins = is_apostrophe(c)
                && self.char_at(to + 1).is_some_and(char::is_alphabetic)
                && !self.is_short_and(to)
                && !(norm == "n" && at > 0 && self.is_short_and(at - 1));
            if c.is_alphabetic() {
                fold_into(&mut norm, c);
            } else if is_combining(c) || joins {
                // Part of the word, and not of its folded form.
            } else if let Some(digit) = numeral::digit(c) {
                // A code ("D7", "B12") keeps its digits; "soup130" and "x2" are a word and a number.
                let letters = to - at;
                let times = letters == 1 && norm == "x" && !(at == 0 && self.is_last_number(to));
                let code = letters <= 2 && !times && !after_number
                    || norm.ends_with(|c: char| c.is_ascii_digit());
                if !code {
                    break;
                }
                norm.push(char::from(b'0' + digit as u8));
            } else {
                break;
            }
            to += 1;
        }
        if let Some(from) = self.percent(&norm) {
            let value = self
                .tokens
                .drain(from..)
                .next()
                .map(|first| (first.kind, first.span, first.spaced));
            if let Some((Kind::Number(numeral), span, spaced)) = value {
                let span = span.start..self.end_byte(to - 1);
                self.tokens
                    .push(Token::new(Kind::Percent(numeral.value), span, spaced));
            }
            return to;
        }
        if after_number && norm == ZERO_LIKE {
            return self.unreadable(to);
        }
        self.push(Kind::Word(norm), at, to)
    }

    /// "14O dal": a letter that looks like a digit makes the digits around it no number.
    fn unreadable(&mut self, mut to: usize) -> usize {
        while self.char_at(to).is_some_and(char::is_alphanumeric) {
            to += 1;
        }
        let end = self.end_byte(to - 1);
        let last = self.tokens.last_mut().expect("a number stands before it");
        last.kind = Kind::Unreadable;
        last.span.end = end;
        to
    }

    /// "60 percent", "60 per cent": where its number stands.
    fn percent(&self, norm: &str) -> Option<usize> {
        let count = self.tokens.len();
        let from = match norm {
            "percent" | "pct" => count.checked_sub(1)?,
            "cent" if self.tokens.last()?.norm() == "per" => count.checked_sub(2)?,
            _ => return None,
        };
        let plain = |kind: &Kind| matches!(kind, Kind::Number(numeral) if numeral.other.is_none());
        plain(&self.tokens[from].kind).then_some(from)
    }

    /// "hundred'n'fifty": the "and" between two words.
    fn is_short_and(&self, at: usize) -> bool {
        let lone = self.char_at(at + 1) == Some('n');
        lone && self.char_at(at + 2).is_some_and(is_apostrophe)
    }

    /// "X1" and nothing else is a batch's code.
    fn is_last_number(&self, at: usize) -> bool {
        let rest = self.letters[at..].iter();
        rest.map(|&(_, c)| c).all(|c| c.is_ascii_digit())
    }

    /// "14-oz", "15-ounce": the hyphen joins a number and its unit.
    fn joins_unit(&self, at: usize) -> bool {
        let letters = self.letters.iter().skip(at).map(|&(_, c)| c);
        let word: String = letters.take_while(|c| c.is_alphabetic()).take(12).collect();
        let after_number = self.tokens.last().is_some_and(Token::is_numeric);
        after_number && units().has(&word.to_lowercase())
    }

    fn is_between_digits(&self, at: usize) -> bool {
        let before = at.checked_sub(1).and_then(|before| self.char_at(before));
        let closed = before.is_some_and(|c| c == ')' || numeral::digit(c).is_some());
        closed
            && self
                .char_at(at + 1)
                .is_some_and(|c| c == '(' || numeral::digit(c).is_some())
    }

    fn symbol(&mut self, at: usize, c: char) -> usize {
        let next = self.char_at(at + 1);
        match c {
            '-' | '−' | '–' | '—' | '‐' | '‑' | '‒' => {
                if next == Some('>') {
                    return self.push(Kind::Symbol('→'), at, at + 2);
                }
                let between_letters = !self.spaced
                    && self
                        .tokens
                        .last()
                        .is_some_and(|token| matches!(token.kind, Kind::Word(_)))
                    && next.is_some_and(char::is_alphabetic);
                if between_letters {
                    self.spaced = false;
                    return at + 1;
                }
                if !self.spaced && self.joins_unit(at + 1) {
                    return at + 1;
                }
                let negative = next.and_then(numeral::digit).is_some();
                let after_number = self.tokens.last().is_some_and(Token::is_numeric);
                if c == '−' && negative && (self.spaced || !after_number) {
                    // A minus sign is no dash: the number is below zero.
                    let (_, to) = numeral::read(self.letters, at + 1);
                    return self.push(Kind::Unreadable, at, to);
                }
                // A bullet; one that is glued to a number may be meant otherwise.
                if self.at_line_start() && !negative {
                    self.spaced = true;
                    return at + 1;
                }
                self.push(Kind::Symbol('-'), at, at + 1)
            }
            '=' if next == Some('>') => self.push(Kind::Symbol('→'), at, at + 2),
            '≤' | '≦' | '⩽' => self.push(Kind::Symbol('<'), at, at + 1),
            '≥' | '≧' | '⩾' => self.push(Kind::Symbol('>'), at, at + 1),
            '→' | '➔' | '➜' | '➡' | '⇒' | '⟶' => {
                self.push(Kind::Symbol('→'), at, at + 1)
            }
            '×' | '✕' | '✖' => self.push(Kind::Symbol('×'), at, at + 1),
            // "2*38", and not a word in "*bold*".
            '*' if self.is_between_digits(at) => self.push(Kind::Symbol('*'), at, at + 1),
            '•' | '·' | '‣' | '◦' | '▪' | '●' | '*' | '_' | '`' | '"' | '“' | '”' | '„' | '«'
            | '»' | '\'' | '‘' | '’' | '~' | '≈' | '|' => {
                self.spaced = true;
                at + 1
            }
            '.' | '…' => {
                let mut to = at + 1;
                while matches!(self.char_at(to), Some('.' | '…')) {
                    to += 1;
                }
                // "got home... 140 dal": a pause, and no decimal point.
                let paused = c == '…' || to > at + 1;
                if paused && (self.at_line_start() || self.letters.len() == to) {
                    self.spaced = true;
                    return to;
                }
                let next = self.push(Kind::Symbol('.'), at, to);
                self.spaced |= paused;
                next
            }
            '[' | '{' | '（' => self.push(Kind::Symbol('('), at, at + 1),
            ']' | '}' | '）' => self.push(Kind::Symbol(')'), at, at + 1),
            '⁄' => self.push(Kind::Symbol('/'), at, at + 1),
            '，' | '、' | '،' => self.push(Kind::Symbol(','), at, at + 1),
            '；' => self.push(Kind::Symbol(';'), at, at + 1),
            '：' => self.push(Kind::Symbol(':'), at, at + 1),
            '？' | '¿' | '؟' => self.push(Kind::Symbol('?'), at, at + 1),
            '！' | '¡' => self.push(Kind::Symbol('!'), at, at + 1),
            '°' => self.push(Kind::Symbol('°'), at, at + 1),
            '$' | '€' | '£' | '¥' | '₹' | '¢' | '₩' | '₽' => {
                self.push(Kind::Symbol('$'), at, at + 1)
            }
            _ if c.is_ascii() => self.push(Kind::Symbol(c), at, at + 1),
            _ => {
                self.spaced = true;
                at + 1
            }
        }
    }
}

/// The folded words of a name, as the lexer would read them: the key under which names are compared.
pub fn folded_words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    for token in lex(text) {
        match token.kind {
            Kind::Word(norm) => words.push(norm),
            Kind::Symbol(_) | Kind::Newline => {}
            _ => words.push(text[token.span].to_lowercase()),
        }
    }
    words
}

#[cfg(test)]
#[path = "lexer_tests.rs"]
mod tests;
