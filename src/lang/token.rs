//! A token: a number, a word or a mark of a message, and where it stands.

use super::numeral::Numeral;
use super::syntax::Span;
use super::words::Listed;

#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// Folded: small letters, no accents, no apostrophes ("Sunday’s" is `sundays`).
    Word(String),
    Number(Numeral),
    /// Digits that are no number that a kitchen knows: "1.2.3", "1e400", "0x10".
    Unreadable,
    /// "2%", "5 %".
    Percent(f64),
    /// "80/20", "60/40".
    Ratio(f64, f64),
    /// "19:30".
    Clock,
    /// "2026-10-14", "14/10/2026": day, month, year.
    Date(u32, u32, i32),
    /// "3rd".
    Ordinal(u32),
    Symbol(char),
    Newline,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Token {
    pub kind: Kind,
    pub span: Span,
    /// White space or decoration stands before it.
    pub spaced: bool,
    listed: Listed,
}

impl Token {
    /// The same words as if they had been said at another place of the text.
    pub fn said_at(tokens: &[Token], place: usize) -> Vec<Token> {
        let mut said = tokens.to_vec();
        for token in &mut said {
            token.span = place..place;
        }
        said
    }

    pub fn new(kind: Kind, span: Span, spaced: bool) -> Self {
        let listed = match &kind {
            Kind::Word(norm) => Listed::of(norm),
            _ => Listed::default(),
        };
        Self {
            kind,
            span,
            spaced,
            listed,
        }
    }

    /// The lists that its word stands in.
    pub fn listed(&self) -> Listed {
        self.listed
    }

    /// The folded word, or nothing.
    pub fn norm(&self) -> &str {
        match &self.kind {
            Kind::Word(norm) => norm,
            _ => "",
        }
    }

    pub fn is(&self, symbol: char) -> bool {
        self.kind == Kind::Symbol(symbol)
    }

    /// What a plain number says.
    pub fn value(&self) -> Option<f64> {
        match self.kind {
            Kind::Number(numeral) => Some(numeral.value),
            _ => None,
        }
    }

    pub fn is_numeric(&self) -> bool {
        matches!(
            self.kind,
            Kind::Number(_)
                | Kind::Unreadable
                | Kind::Percent(_)
                | Kind::Ratio(..)
                | Kind::Clock
                | Kind::Date(..)
        )
    }
}
