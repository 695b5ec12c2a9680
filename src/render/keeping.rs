//! Why something is due when it is, with the source of the time.

use crate::domain::keeping::{Span, UseBy, Why};

/// "4 days from thawing; FSIS".
pub fn why(due: &UseBy) -> String {
    match due.why {
        Why::Made(keeps) if keeps.is_set() => format!("{}, as you set", span(keeps.until)),
        Why::Thawed(keeps) if keeps.is_set() => {
            format!("{} from thawing, as you set", span(keeps.until))
        }
        Why::Frozen(keeps) if keeps.is_set() => format!("{} frozen, as you set", span(keeps.until)),
        Why::Made(keeps) => format!("{} from making; {}", span(keeps.until), keeps.source),
        Why::Thawed(keeps) => format!("{} from thawing; {}", span(keeps.until), keeps.source),
        Why::LeftOver { days: 0, of } => format!(
            "its {} in the fridge were over before it was frozen; {}",
            span(of.until),
            of.source
        ),
        Why::LeftOver { days, of } => format!(
            "{} left of {} in the fridge; {}",
            span(Span::Days(u32::try_from(days).unwrap_or_default())),
            span(of.until),
            of.source
        ),
        Why::Frozen(keeps) => format!(
            "{} frozen, at its best; {}",
            span(keeps.until),
            keeps.source
        ),
        Why::Told { opened: false } => "as told".into(),
        Why::Told { opened: true } => "as told, for the unopened packet".into(),
        Why::Ingredient => "the earliest date of what went in".into(),
    }
}

pub fn span(span: Span) -> String {
    let (count, unit) = match span {
        Span::Days(count) => (count, "day"),
        Span::Months(count) => (count, "month"),
    };
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {unit}{ending}")
}
