//! Why something is due when it is, with the source of the time.

use chrono::NaiveDate;

use crate::domain::answer::{KeepsAnswer, LotView, ReceiveAnswer, UseByAnswer};
use crate::domain::keeping::{Span, Storage, UseBy, Why};
use crate::domain::kitchen::PlaceKind;
use crate::domain::origin::Origin;
use crate::domain::problem::ProblemKind;

use super::clean::{name, quote, short, the};
use super::date::{date, use_by};
use super::note::say_notes;
use super::number::left;
use super::page::{Line, Page};
use super::problem::Wording;
use super::stock::counted;

/// "4 days from thawing; FSIS".
pub fn why(due: &UseBy) -> String {
    match due.why {
        Why::Made(keeps) if keeps.is_set() => format!("{}, as you set", span(keeps.until)),
        Why::Thawed(keeps) if keeps.is_set() => {
            format!("{} from thawing, as you set", span(keeps.until))
        }
        Why::Frozen(keeps) if keeps.is_set() => format!("{} frozen, as you set", span(keeps.until)),
        Why::Bought(keeps) => format!("{} from buying; {}", span(keeps.until), keeps.source),
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
        Why::Warm { still: true } => "it is not cold there: 2 hours at most; FSIS".into(),
        Why::Warm { still: false } => "it stood where it is not cold: 2 hours at most; FSIS".into(),
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

/// What cannot be as it was said of where food stands and until when.
pub fn problem(kind: &ProblemKind) -> Wording {
    let wording = match kind {
        ProblemKind::UnknownPlace { name } => {
            format!("{} is no place known here.", quote(name))
        }
        ProblemKind::BeforeMade { name: dish, made } => {
            format!("{} was made on {}: not before.", name(dish), date(*made))
        }
        ProblemKind::DateOrder { made, use_by } => format!(
            "Use by {} is before {}: which of them is right?",
            date(*use_by),
            date(*made)
        ),
        _ => String::new(),
    };
    Wording::new(wording).booking()
}

/// "Into the freezer: 900 g frozen peas P3", and until when it may be eaten.
pub fn received(answer: &ReceiveAnswer) -> Page {
    let mut page = Page::new();
    for received in &answer.lots {
        let lot = &received.lot;
        let place = lot.place.as_deref().map(name);
        let lead = match (place, answer.origin) {
            (Some(place), Origin::Before) => format!("In {}: ", the(&place)),
            (Some(place), _) => format!("Into {}: ", the(&place)),
            (None, Origin::Before) => "There: ".into(),
            (None, _) => "In stock: ".into(),
        };
        let code = lot.batch.as_deref().map_or(String::new(), name);
        page.item(
            Line::new()
                .plain(format!("{lead}{} ", left(lot.balance, lot.mass.is_none())))
                .bold(name(&lot.name))
                .plain(format!(" {code}{}", counted(lot.pieces.as_ref()))),
        );
        match (&received.taken_as, &received.pending) {
            (Some(taken), _) => page.say(format!("Taken as: {}", short(taken))),
            (None, None) if lot.nutrients_unknown => page.say("Its nutrients are unknown."),
            _ => {}
        }
        match &lot.due {
            Some(due) => page.say(dated(due, answer.today)),
            None => {
                page.say(match answer.origin {
                    Origin::Before => "Its age is unknown, so it has no date. To set one:",
                    _ => "No date. To set one:",
                });
                page.example(&format!("{code} use by 3 Dec"));
            }
        }
    }
    say_notes(&mut page, &answer.notes, None);
    page
}

/// "Use by 3 Dec (as told)".
pub fn dated(due: &UseBy, today: NaiveDate) -> String {
    let on = use_by(due.on, today);
    format!("{}{} ({})", on[..1].to_uppercase(), &on[1..], why(due))
}

/// "lentil dal keeps 3 days in the fridge, as you set", and what follows for what stands here.
pub fn keeps(answer: &KeepsAnswer) -> Page {
    let mut page = Page::new();
    for kept in &answer.kept {
        let place = match kept.storage {
            Storage::Fridge => "in the fridge",
            Storage::Thawed => "once thawed",
            Storage::Freezer => "in the freezer",
        };
        let time = match &kept.keeps {
            Some(keeps) if keeps.is_set() => format!("{} {place}, as you set.", span(keeps.until)),
            Some(keeps) => format!("{} {place} ({}).", span(keeps.until), keeps.source),
            None => format!("{place} as the chart or its packet says."),
        };
        page.say(
            Line::new()
                .bold(name(&answer.name))
                .plain(format!(" keeps {time}")),
        );
        if let Some(chart) = &kept.chart {
            page.say(format!(
                "The chart says {} ({}).",
                span(chart.until),
                chart.source
            ));
        }
    }
    say_lots(&mut page, &answer.lots, answer.today);
    page
}

/// The date as it was told, and the one that follows where the chart is earlier.
pub fn told(answer: &UseByAnswer) -> Page {
    let mut page = Page::new();
    say_lots(&mut page, &answer.lots, answer.today);
    let sooner = |lot: &&LotView| lot.use_by().is_some_and(|on| on < answer.told);
    if answer.lots.iter().any(|lot| sooner(&lot)) {
        page.say(format!(
            "You told {}: the earlier date holds.",
            date(answer.told)
        ));
    }
    page
}

/// "The cellar: like a fridge."
pub fn place(place: &str, kind: PlaceKind) -> Page {
    let mut page = Page::new();
    let like = match kind {
        PlaceKind::Fridge => "like a fridge",
        PlaceKind::Freezer => "like a freezer",
        PlaceKind::Counter => "not cold, like a counter",
    };
    page.say(
        Line::new()
            .bold(name(place))
            .plain(format!(": {like} from now on. Dates follow.")),
    );
    page
}

fn say_lots(page: &mut Page, lots: &[LotView], today: NaiveDate) {
    for lot in lots {
        let place = lot
            .place
            .as_deref()
            .map_or(String::new(), |place| format!(", {}", name(place)));
        let code = lot.batch.as_deref().map_or(String::new(), name);
        page.item(
            Line::new()
                .plain(format!("{} ", left(lot.balance, lot.mass.is_none())))
                .bold(name(&lot.name))
                .plain(format!(" {code}{place}")),
        );
        if let Some(due) = &lot.due {
            page.below(dated(due, today));
        }
    }
}
