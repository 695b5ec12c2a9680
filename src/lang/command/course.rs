//! What stood here over the last weeks: "stock chart", "chart of the dal", "dal over time".
//!
//! ```text
//! course := "stock chart" | "chart of" dish | dish "chart"
//! ```

use crate::lang::name;
use crate::lang::syntax::Command;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::reports;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let asked = input.last().is_some_and(|token| token.is('?'));
    let body = input.range(0, input.len() - usize::from(asked));
    let body = body.trimmed().trimmed_end();
    let all = reports().longest_of(body.slice, "stock chart") == Some(body.len());
    let dish = match all {
        true => None,
        false => match behind(body)
            .or_else(|| before(body))
            .and_then(name::of_batch)
        {
            Some(dish) => Some(dish),
            None => return input.no(),
        },
    };
    Ok((input.after(input.len()), Command::Course { dish }))
}

/// "chart of the dal"
fn behind(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let length = reports().longest_of(body.slice, "chart of")?;
    let rest = body.after(length);
    Some(before(rest).unwrap_or(rest))
}

/// "dal chart", "dal over time"
fn before(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let tail =
        |at: &usize| reports().longest_of(body.after(*at).slice, "chart") == Some(body.len() - at);
    let at = (1..body.len()).find(tail)?;
    Some(body.range(0, at))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new().with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn charts_of_what_stood_here_in_many_spellings() {
        for (text, printed) in [
            ("stock chart", "stock chart"),
            ("chart of the stock", "stock chart"),
            ("stock over time?", "stock chart"),
            ("show me a chart of what's left", "stock chart"),
            ("chart of the dal", "chart of dal"),
            ("dal chart", "chart of dal"),
            ("lentil dal over time", "chart of lentil dal"),
            ("graph of the lentil dal", "chart of lentil dal"),
            ("chart of the dal over time", "chart of dal"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn talk_of_charts_and_shares_asks_nothing() {
        for text in [
            "chart of the week: dal",
            "stock is up",
            "check the stock charts for tesla",
            "the charts are in the folder",
            "chart of accounts",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Course { .. })
            });
        }
    }
}
