//! What the program says of itself, on standard error: plain where a person looks on, JSON in a service. Nothing that
//! people say in a chat is in it, at `info` and above.

use std::io::IsTerminal;

use tracing_subscriber::EnvFilter;

/// Levels, as in `info` or `hobside=debug,warn`.
const LEVELS: &str = "HOBSIDE_LOG";
/// `plain` or `json`.
const FORMAT: &str = "HOBSIDE_LOG_FORMAT";
/// systemd tells by it that the journal reads along.
const JOURNAL: &str = "JOURNAL_STREAM";

/// Say it from here on.
pub fn begin() {
    let levels = EnvFilter::try_from_env(LEVELS).unwrap_or_else(|_| EnvFilter::new("warn"));
    let shown = std::io::stderr().is_terminal();
    let format = std::env::var(FORMAT).ok();
    let to_journal = std::env::var_os(JOURNAL).is_some();
    let log = tracing_subscriber::fmt()
        .with_env_filter(levels)
        .with_writer(std::io::stderr)
        .with_ansi(shown);
    match is_json(format.as_deref(), shown, to_journal) {
        true => log.json().flatten_event(true).init(),
        false => log.init(),
    }
}

/// The variable of a service may be passed on to a terminal that was opened from it.
fn is_json(format: Option<&str>, shown: bool, to_journal: bool) -> bool {
    match format {
        Some("json") => true,
        Some("plain") => false,
        _ => to_journal && !shown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_service_logs_json_and_a_terminal_does_not() {
        assert!(is_json(None, false, true));
        assert!(!is_json(None, true, true));
        assert!(!is_json(None, false, false));
        assert!(is_json(Some("json"), true, false));
        assert!(!is_json(Some("plain"), false, true));
        assert!(!is_json(Some("xml"), false, false));
    }
}
