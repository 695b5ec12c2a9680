//! Figures for whoever watches the box, as OpenMetrics text (openmetrics.io, version 1.0.0): names and numbers, and not
//! a word that anybody said.

use std::fmt::Write;

/// What is counted at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    pub version: &'static str,
    pub schema: i64,
    pub households: u64,
    /// Channel and how many.
    pub chats: Vec<(String, u64)>,
    pub entries: u64,
    pub messages_waiting: u64,
    pub messages_oldest_seconds: i64,
    pub messages_set_aside: u64,
    pub answers_waiting: u64,
    pub answers_oldest_seconds: i64,
    pub answers_set_aside: u64,
    pub file_bytes: u64,
    pub free_bytes: Option<u64>,
    /// Of the newest copy, in seconds since 1970.
    pub copied_at: Option<i64>,
    pub started_at: i64,
}

/// What a client is told that it gets.
pub const CONTENT_TYPE: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";

impl Figures {
    pub fn text(&self) -> String {
        let mut text = String::new();
        let mut family =
            |name: &str, kind: &str, unit: &str, help: &str, samples: &[(String, i128)]| {
                let mut line = |line: String| writeln!(text, "{line}").expect("a string takes it");
                line(format!("# TYPE hobside_{name} {kind}"));
                if !unit.is_empty() {
                    line(format!("# UNIT hobside_{name} {unit}"));
                }
                line(format!("# HELP hobside_{name} {help}"));
                for (more, value) in samples {
                    line(format!("hobside_{name}{more} {value}"));
                }
            };
        let one = |value: i128| vec![(String::new(), value)];
        let build = format!(
            "_info{{version=\"{}\",schema=\"{}\"}}",
            self.version, self.schema
        );
        family("build", "info", "", "This program.", &[(build, 1)]);
        family(
            "start_time_seconds",
            "gauge",
            "seconds",
            "When it started, since 1970.",
            &one(self.started_at.into()),
        );
        family(
            "households",
            "gauge",
            "",
            "Households in the books.",
            &one(self.households.into()),
        );
        let chats = self.chats.iter();
        let chats: Vec<(String, i128)> = chats
            .map(|(channel, count)| {
                (
                    format!("{{channel=\"{}\"}}", escaped(channel)),
                    (*count).into(),
                )
            })
            .collect();
        family("chats", "gauge", "", "Chats that were let in.", &chats);
        family(
            "entries",
            "counter",
            "",
            "Entries in the books.",
            &[("_total".to_owned(), self.entries.into())],
        );
        family(
            "messages_waiting",
            "gauge",
            "",
            "Messages to be booked.",
            &one(self.messages_waiting.into()),
        );
        family(
            "messages_oldest_seconds",
            "gauge",
            "seconds",
            "How long the oldest of them waits.",
            &one(self.messages_oldest_seconds.into()),
        );
        family(
            "messages_set_aside",
            "gauge",
            "",
            "Given up on in the last 30 days.",
            &one(self.messages_set_aside.into()),
        );
        family(
            "answers_waiting",
            "gauge",
            "",
            "Answers to be sent.",
            &one(self.answers_waiting.into()),
        );
        family(
            "answers_oldest_seconds",
            "gauge",
            "seconds",
            "How long the oldest of them waits.",
            &one(self.answers_oldest_seconds.into()),
        );
        family(
            "answers_set_aside",
            "gauge",
            "",
            "Given up on in the last 30 days.",
            &one(self.answers_set_aside.into()),
        );
        family(
            "file_bytes",
            "gauge",
            "bytes",
            "The file with the books.",
            &one(self.file_bytes.into()),
        );
        if let Some(free) = self.free_bytes {
            family(
                "free_bytes",
                "gauge",
                "bytes",
                "Free on its disk.",
                &one(free.into()),
            );
        }
        if let Some(at) = self.copied_at {
            family(
                "copied_time_seconds",
                "gauge",
                "seconds",
                "When the newest copy was made, since 1970.",
                &one(at.into()),
            );
        }
        text.push_str("# EOF\n");
        text
    }
}

fn escaped(value: &str) -> String {
    value
        .replace('\\', "\\\\")
        .replace('"', "\\\"")
        .replace('\n', "\\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_cannot_break_a_line() {
        assert_eq!(escaped("a\"b\\c\nd"), "a\\\"b\\\\c\\nd");
    }
}
