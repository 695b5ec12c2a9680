//! Cautions: what is said, and why. The sentences are data, `cautions.txt`, each with its source.

use std::sync::OnceLock;

use crate::domain::caution::{Caution, Cautioned};

use super::clean::name;
use super::page::{Line, Page};

struct Row {
    caution: Caution,
    says: &'static str,
    more: &'static str,
    source: &'static str,
}

fn row(caution: Caution) -> &'static Row {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    let rows = ROWS.get_or_init(|| {
        let lines = include_str!("cautions.txt").lines();
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        lines
            .map(|line| read(line).expect("a row of the cautions reads"))
            .collect()
    });
    let known = rows.iter().find(|row| row.caution == caution);
    known.expect("every caution has a row")
}

fn read(line: &'static str) -> Option<Row> {
    let columns: Vec<&str> = line.split('|').map(str::trim).collect();
    let [word, _when, says, more, source, _seen] = *columns.as_slice() else {
        return None;
    };
    Some(Row {
        caution: Caution::from_word(word)?,
        says,
        more,
        source,
    })
}

pub fn says(caution: Caution) -> &'static str {
    row(caution).says
}

/// A line more of each, with its source.
pub fn why(cautions: &[Cautioned]) -> Page {
    let mut page = Page::new();
    for cautioned in cautions {
        let row = row(cautioned.caution);
        page.gap();
        page.say(
            Line::new()
                .bold(name(&cautioned.about))
                .plain(format!(": {}", row.more)),
        );
        page.say(format!("Source: {}.", row.source));
    }
    page.gap();
    page.say("Local rules and your own senses come first: a bot cannot see or smell.");
    page
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::page::WIDTH;

    #[test]
    fn every_caution_is_short_and_has_more_and_a_source() {
        for (caution, word) in Caution::ALL {
            let row = row(caution);
            assert!(row.says.chars().count() <= 2 * WIDTH, "{word}");
            assert!(
                row.more.chars().count() > 20 && row.source.chars().count() > 8,
                "{word}"
            );
        }
    }
}
