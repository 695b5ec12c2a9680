//! What a call that failed means for the next one. Pure.

use std::error::Error;
use std::fmt::Write as _;
use std::time::Duration;

use serde::Deserialize;
use serde_json::Value;
use teloxide::{ApiError, RequestError};

/// Why a call did not do what it should.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Trouble {
    #[error("too many requests, wait {} s", .0.as_secs())]
    Wait(Duration),
    /// The group has become a supergroup with this id.
    #[error("the group has moved to {0}")]
    Moved(i64),
    /// The network failed: nobody knows whether the call had its effect.
    #[error("no connection: {0}")]
    Network(String),
    /// The server failed, and says so or talks gibberish.
    #[error("the server failed: {0}")]
    Server(String),
    /// The server does not know the token.
    #[error("the token is not accepted")]
    Token,
    /// Another program takes the updates.
    #[error("{0}")]
    Conflict(String),
    /// The server understood and says no; asking again would not help.
    #[error("{0}")]
    Refused(String),
}

/// The envelope of every answer (Bot API, "Making requests").
#[derive(Debug, Deserialize)]
struct Envelope {
    ok: bool,
    #[serde(default)]
    result: Value,
    #[serde(default)]
    description: String,
    #[serde(default)]
    parameters: Parameters,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Parameters {
    retry_after: Option<u64>,
    migrate_to_chat_id: Option<i64>,
}

/// Sort a failure. `Ok` is the result of a call that the server did carry out and whose answer only
/// teloxide's type could not hold: to call that a failure would be to do it all again.
pub fn sort(error: RequestError) -> Result<Value, Trouble> {
    Err(match error {
        RequestError::RetryAfter(seconds) => wait(seconds.seconds().into()),
        RequestError::MigrateToChatId(chat) => Trouble::Moved(chat.0),
        RequestError::Api(ApiError::InvalidToken) => Trouble::Token,
        RequestError::Api(ApiError::Unknown(description)) => said(description),
        RequestError::Api(known) => said(known.to_string()),
        RequestError::InvalidJson { raw, .. } => return sort_raw(&raw),
        RequestError::Network(error) => Trouble::Network(chain(&*error)),
        RequestError::Io(error) => Trouble::Network(error.to_string()),
    })
}

fn sort_raw(raw: &str) -> Result<Value, Trouble> {
    let Ok(envelope) = serde_json::from_str::<Envelope>(raw) else {
        // The answer is not repeated in full: it may hold messages.
        let start: String = raw.trim().chars().take(20).collect();
        return Err(Trouble::Server(format!(
            "{} bytes that are no answer, from {start:?} on",
            raw.len()
        )));
    };
    let Parameters {
        retry_after,
        migrate_to_chat_id,
    } = envelope.parameters;
    match (envelope.ok, retry_after, migrate_to_chat_id) {
        (true, ..) => Ok(envelope.result),
        (false, Some(seconds), _) => Err(wait(seconds)),
        (false, None, Some(chat)) => Err(Trouble::Moved(chat)),
        (false, None, None) => Err(said(envelope.description)),
    }
}

/// However long the server asks for, it is asked again the next day.
fn wait(seconds: u64) -> Trouble {
    const DAY_SECONDS: u64 = 24 * 60 * 60;
    Trouble::Wait(Duration::from_secs(seconds.min(DAY_SECONDS)))
}

/// teloxide keeps the words of a refusal and drops its number; the words begin with its name.
fn said(description: String) -> Trouble {
    const PASSING: [&str; 5] = [
        "Internal Server Error",
        "Bad Gateway",
        "Service Unavailable",
        "Gateway Timeout",
        "Too Many Requests",
    ];
    if PASSING.iter().any(|name| description.starts_with(name)) {
        Trouble::Server(description)
    } else if description.starts_with("Conflict") {
        Trouble::Conflict(description)
    } else {
        Trouble::Refused(description)
    }
}

/// The error and its causes. teloxide has taken the token out of the address in it.
fn chain(error: &dyn Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        let _ = write!(text, ": {error}");
        cause = error.source();
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[track_caller]
    fn check(raw: &str, expected: Result<Value, Trouble>) {
        assert_eq!(sort_raw(raw), expected, "{raw}");
    }

    #[test]
    fn an_answer_that_only_the_type_cannot_hold_is_no_failure() {
        check(
            r#"{"ok":true,"result":{"message_id":5}}"#,
            Ok(json!({ "message_id": 5 })),
        );
    }

    #[test]
    fn waits_moves_and_refusals_are_told_apart() {
        let refused = |text: &str| Err(Trouble::Refused(text.to_owned()));
        check(
            r#"{"ok":false,"error_code":429,"description":"Too Many Requests: retry after 7","parameters":{"retry_after":7}}"#,
            Err(Trouble::Wait(Duration::from_secs(7))),
        );
        check(
            r#"{"ok":false,"description":"x","parameters":{"retry_after":18446744073709551615}}"#,
            Err(Trouble::Wait(Duration::from_secs(86_400))),
        );
        check(
            r#"{"ok":false,"description":"x","parameters":{"migrate_to_chat_id":-1001}}"#,
            Err(Trouble::Moved(-1001)),
        );
        check(
            r#"{"ok":false,"description":"Bad Request: chat not found","parameters":{"other":1}}"#,
            refused("Bad Request: chat not found"),
        );
        check(
            r#"{"ok":false,"error_code":409,"description":"Conflict: terminated by other getUpdates request"}"#,
            Err(Trouble::Conflict(
                "Conflict: terminated by other getUpdates request".to_owned(),
            )),
        );
        check(
            r#"{"ok":false,"error_code":500,"description":"Internal Server Error: x"}"#,
            Err(Trouble::Server("Internal Server Error: x".to_owned())),
        );
    }

    #[test]
    fn gibberish_is_a_fault_of_the_server_and_is_not_repeated_in_full() {
        let html = format!(
            "<html><h1>502 Bad Gateway</h1>{}</html>",
            "secret ".repeat(50)
        );
        match sort_raw(&html) {
            Err(Trouble::Server(text)) => assert!(!text.contains("secret"), "{text}"),
            other => panic!("{other:?}"),
        }
    }
}
