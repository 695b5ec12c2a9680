//! A food's number in the table: its NDB number, written `NDB 04506`.

use std::fmt;
use std::str::FromStr;

/// An NDB number, at most five digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Code(pub u32);

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "NDB {:05}", self.0)
    }
}

/// The text is not an NDB number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not an NDB number")]
pub struct NotACode;

impl FromStr for Code {
    type Err = NotACode;

    /// Reads `NDB 4506`, `NDB 04506`, `ndb04506`, `NDB-04506` or `NDB #4506`. The letters are required, so that
    /// a mass is never taken for a food.
    fn from_str(text: &str) -> Result<Self, NotACode> {
        let text = text.trim();
        let (letters, rest) = text.split_at_checked(3).ok_or(NotACode)?;
        if !letters.eq_ignore_ascii_case("ndb") {
            return Err(NotACode);
        }
        let digits = rest.trim_start_matches([' ', '-', '#', ':', '.']);
        let readable =
            (1..=5).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        if !readable {
            return Err(NotACode);
        }
        digits.parse().map(Code).map_err(|_| NotACode)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_spellings_one_code() {
        for text in [
            "NDB 4506",
            "NDB 04506",
            "ndb04506",
            " Ndb  4506 ",
            "NDB-04506",
            "NDB #4506",
        ] {
            assert_eq!(text.parse(), Ok(Code(4506)), "{text}");
        }
        assert_eq!(Code(4506).to_string(), "NDB 04506");
    }

    #[test]
    fn other_text_is_no_code() {
        for text in [
            "",
            "4506",
            "NDB",
            "NDB 123456",
            "NDB 45a",
            "NDB 4506 g",
            "ndbé",
            "né€b 1",
            "NDB -",
        ] {
            assert_eq!(text.parse::<Code>(), Err(NotACode), "{text}");
        }
    }
}
