//! The bot's token: read once, shown to nobody.

use std::fmt;
use std::path::Path;

use anyhow::{Context, Result, bail};

/// The environment holds the token itself.
const VALUE: &str = "HOBSIDE_TELEGRAM_TOKEN";
/// The environment names a file that holds it, as service managers hand out credentials.
const FILE: &str = "HOBSIDE_TELEGRAM_TOKEN_FILE";

/// The secret that the Bot API knows the bot by. It is never an argument of the process, and it
/// prints as dots.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

impl Token {
    /// From `HOBSIDE_TELEGRAM_TOKEN`, or else from the file that `HOBSIDE_TELEGRAM_TOKEN_FILE` names.
    ///
    /// # Errors
    /// Neither is set, the file cannot be read, or what they hold cannot be a token. No error shows it.
    pub fn from_environment() -> Result<Self> {
        if let Some(value) = std::env::var_os(VALUE).filter(|value| !value.is_empty()) {
            let value = value.to_str().unwrap_or_default();
            return Self::read(value).with_context(|| format!("{VALUE} holds no token"));
        }
        if let Some(file) = std::env::var_os(FILE).filter(|file| !file.is_empty()) {
            return Self::from_file(Path::new(&file));
        }
        bail!("there is no token: set {VALUE}, or {FILE} to a file that holds it");
    }

    /// Whether the environment names one, whatever it is worth.
    pub fn is_named() -> bool {
        let named = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        named(VALUE) || named(FILE)
    }

    fn from_file(file: &Path) -> Result<Self> {
        let value = std::fs::read_to_string(file)
            .with_context(|| format!("could not read the token from {}", file.display()))?;
        Self::read(&value).with_context(|| format!("{} holds no token", file.display()))
    }

    /// A token is digits, a colon, and a secret of letters, digits, `-` and `_`.
    fn read(value: &str) -> Result<Self> {
        let value = value.trim();
        let secret = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_';
        match value.split_once(':') {
            Some((id, rest))
                if !id.is_empty()
                    && id.bytes().all(|byte| byte.is_ascii_digit())
                    && !rest.is_empty()
                    && rest.bytes().all(secret) =>
            {
                Ok(Self(value.to_owned()))
            }
            _ => bail!("it should look like 123456:letters-and-digits"),
        }
    }

    /// For the requests only.
    pub(super) fn reveal(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Token(...)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SECRET: &str = "123456:an-invented_SECRET-of-a-good-length0";

    #[test]
    fn a_token_prints_as_dots() {
        let token = Token::read(SECRET).unwrap();
        assert_eq!(token.reveal(), SECRET);
        assert_eq!(format!("{token:?}"), "Token(...)");
    }

    #[test]
    fn a_file_may_end_with_a_new_line() {
        let file = tempfile::NamedTempFile::new().unwrap();
        std::fs::write(file.path(), format!("{SECRET}\n")).unwrap();
        assert_eq!(Token::from_file(file.path()).unwrap().reveal(), SECRET);
    }

    #[test]
    fn what_cannot_be_a_token_is_refused_without_showing_it() {
        for wrong in [
            "",
            "hunter2",
            ":hunter2",
            "123:",
            "123:hunter 2",
            "hunter:2",
            "12/3:hunter2",
        ] {
            let error = format!("{:#}", Token::read(wrong).unwrap_err());
            assert!(!error.contains("hunter"), "{error}");
        }
    }
}
