//! What is to be said now: of all that has fallen due in a chat, in one message. What is on time comes first; what is late
//! says so; of several notes of a kind the newest is looked at with the books of now, and speaks for the others.

use chrono::{DateTime, Days, Duration, NaiveDate, Utc};

use super::super::answer::{Answer, LotView, NoteView, StockAnswer, StockAsked};
use super::super::ids::EntryId;
use super::super::kitchen::Kitchen;
use super::super::mass::Mass;
use super::super::prep::answer::{PrepAnswer, ShoppingAnswer, ShoppingEvent};
use super::super::prep::horizon::{Horizon, Why};
use super::super::view;
use super::answer::{ClockAnswer, Leaving, ReminderView, RungView};
use super::hold::AWAY_DAYS_MAX;
use super::occurrence::{NoteKind, Occurrence};
use super::put_away::HotPot;
use super::{Reminder, ReminderKind};

/// Later than this a timer is late, and says so.
const TIMER_GRACE: Duration = Duration::seconds(60);
const OTHER_GRACE: Duration = Duration::minutes(10);

/// What falls due this soon after something else of the chat is said with it.
pub const TOGETHER: Duration = Duration::minutes(15);

/// What has fallen due in one chat.
#[derive(Debug, Clone, Default)]
pub struct Owed {
    pub reminders: Vec<Reminder>,
    pub notes: Vec<Occurrence>,
    /// Hot food that has to be put away, and what comes of telling that.
    pub pots: Vec<(HotPot, CameTo)>,
}

/// What is said of it, and what became of each.
#[derive(Debug, Clone, Default)]
pub struct Said {
    pub answers: Vec<Answer>,
    pub said: Vec<EntryId>,
    pub notes: Vec<(Occurrence, CameTo)>,
}

/// What came of a note.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CameTo {
    Said,
    /// There was nothing to say.
    Nothing,
    /// Another spoke for it.
    Merged,
    /// Nobody was there that day.
    Away,
}

impl CameTo {
    /// The stable word in the store.
    pub fn word(self) -> &'static str {
        match self {
            Self::Said => "said",
            Self::Nothing => "nothing",
            Self::Merged => "merged",
            Self::Away => "away",
        }
    }
}

pub fn due(kitchen: &Kitchen, owed: &Owed, now: DateTime<Utc>) -> Said {
    let mut parts: Vec<Part> = owed
        .reminders
        .iter()
        .map(|it| rang(kitchen, it, now))
        .collect();
    let mut notes = Vec::new();
    let mut planned = false;
    for kind in NoteKind::ALL {
        let mut of_kind: Vec<Occurrence> = owed
            .notes
            .iter()
            .filter(|it| it.kind == kind)
            .copied()
            .collect();
        of_kind.sort();
        // While all are away there is silence; the first note after that looks at what went past its date.
        let empty = |note: &Occurrence| kitchen.is_empty_on(note.on);
        let away = of_kind.iter().filter(|note| empty(note));
        notes.extend(away.map(|note| (*note, CameTo::Away)));
        of_kind.retain(|note| !empty(note));
        let Some(newest) = of_kind.pop() else {
            continue;
        };
        // The plan of a prep day tells what to move and when.
        if kind == NoteKind::Evening && planned {
            notes.extend(of_kind.into_iter().map(|it| (it, CameTo::Merged)));
            notes.push((newest, CameTo::Merged));
            continue;
        }
        planned |= kind == NoteKind::Prep;
        let answers = note(kitchen, &newest, &of_kind, now);
        let came_to = match answers.is_empty() {
            true => CameTo::Nothing,
            false => CameTo::Said,
        };
        notes.extend(of_kind.into_iter().map(|it| (it, CameTo::Merged)));
        notes.push((newest, came_to));
        parts.push(Part {
            late: is_late(newest.due_at, OTHER_GRACE, now).is_some(),
            due_at: newest.due_at,
            answers,
        });
    }
    parts.extend(put_away(kitchen, &owed.pots, now));
    parts.sort_by_key(|part| (part.late, part.due_at));
    Said {
        answers: parts.into_iter().flat_map(|part| part.answers).collect(),
        said: owed
            .reminders
            .iter()
            .map(|reminder| reminder.entry)
            .collect(),
        notes,
    }
}

struct Part {
    late: bool,
    due_at: DateTime<Utc>,
    answers: Vec<Answer>,
}

/// Of all the pots at once.
fn put_away(kitchen: &Kitchen, pots: &[(HotPot, CameTo)], now: DateTime<Utc>) -> Option<Part> {
    let told = pots.iter().filter(|(_, came_to)| *came_to == CameTo::Said);
    let told: Vec<&HotPot> = told.map(|(pot, _)| pot).collect();
    let due_at = told.iter().map(|pot| pot.due_at).min()?;
    let stock = view::stock(kitchen);
    let lots = |placed: bool| -> Vec<LotView> {
        let of_it = |lot: &&LotView| {
            let mut pots = told.iter().filter(|pot| pot.told == placed);
            // What was taken out of the pot and put somewhere is no matter.
            let there = placed || lot.place.is_none();
            there && pots.any(|pot| lot.batch.as_ref() == Some(&pot.code))
        };
        let held = stock.iter().filter(|lot| lot.holds_any());
        held.filter(of_it).cloned().collect()
    };
    let zone = kitchen.settings().zone;
    let open = told.iter().filter(|pot| !pot.told);
    let by = open.map(|pot| pot.by()).min().unwrap_or(due_at);
    Some(Part {
        late: false,
        due_at,
        answers: vec![Answer::Clock(ClockAnswer::PutAway {
            out: lots(true),
            unplaced: lots(false),
            by: by.with_timezone(&zone).naive_local(),
            over: by < now,
        })],
    })
}

fn is_late(due_at: DateTime<Utc>, grace: Duration, now: DateTime<Utc>) -> Option<Duration> {
    let over = now - due_at;
    (over > grace).then_some(over)
}

fn rang(kitchen: &Kitchen, reminder: &Reminder, now: DateTime<Utc>) -> Part {
    let grace = match reminder.asked.kind {
        ReminderKind::Timer => TIMER_GRACE,
        ReminderKind::Once => OTHER_GRACE,
    };
    let late = is_late(reminder.due_at, grace, now);
    let view = RungView {
        reminder: ReminderView::of(kitchen, reminder, now),
        late,
    };
    let mut answers = match reminder.note() {
        // It was put off on the day that it was for.
        Some(kind) => {
            let zone = kitchen.settings().zone;
            let on = reminder.set_at.with_timezone(&zone).date_naive();
            let due_at = reminder.due_at;
            note(kitchen, &Occurrence { due_at, kind, on }, &[], now)
        }
        None => Vec::new(),
    };
    if answers.is_empty() {
        answers.push(Answer::Clock(ClockAnswer::Rang(view)));
    }
    Part {
        late: late.is_some(),
        due_at: reminder.due_at,
        answers,
    }
}

/// What a note says with the books of now, if anything; `others` are those that it speaks for.
fn note(
    kitchen: &Kitchen,
    note: &Occurrence,
    others: &[Occurrence],
    now: DateTime<Utc>,
) -> Vec<Answer> {
    let mut view = view_of(kitchen, note, others, now);
    let today = view.today;
    let first = others.first().map_or(today, |first| first.on.min(today));
    let first = quiet_since(kitchen, note.on).min(first);
    match note.kind {
        NoteKind::Morning => {
            let lots = view::stock(kitchen);
            let dated = |wanted: &dyn Fn(NaiveDate) -> bool| -> Vec<LotView> {
                let lots = lots.iter().filter(|lot| lot.holds_any());
                lots.filter(|lot| lot.use_by().is_some_and(wanted))
                    .cloned()
                    .collect()
            };
            view.past = dated(&|on| on < today);
            view.due_today = dated(&|on| on == today);
            view.due_tomorrow = dated(&|on| on == today + Days::new(1));
            // What is past its date is told with the rest, or when it went past unseen.
            let unseen = !dated(&|on| on >= first && on < today).is_empty();
            match view.due_today.is_empty() && view.due_tomorrow.is_empty() && !unseen {
                true => Vec::new(),
                false => vec![Answer::Clock(ClockAnswer::Note(view))],
            }
        }
        NoteKind::Evening => {
            let thaws = thaws(kitchen, today, view.about);
            view.take_out = thaws.overnight;
            view.on_the_day = thaws.on_the_day;
            view.leaving = leaving(kitchen, today);
            let thaws = !view.take_out.is_empty() || !view.on_the_day.is_empty();
            match !thaws && view.leaving.is_empty() {
                true => Vec::new(),
                false => vec![Answer::Clock(ClockAnswer::Note(view))],
            }
        }
        NoteKind::Prep => {
            let mut answers = vec![Answer::Clock(ClockAnswer::Note(view))];
            answers.extend(prep(kitchen, now));
            answers
        }
    }
}

/// What would pass its date while all are away, on the last evening before.
fn leaving(kitchen: &Kitchen, today: NaiveDate) -> Leaving {
    let first = today + Days::new(1);
    if kitchen.is_empty_on(today) || !kitchen.is_empty_on(first) {
        return Leaving::default();
    }
    let away = first.iter_days().take(AWAY_DAYS_MAX);
    let last = away.take_while(|day| kitchen.is_empty_on(*day)).last();
    kitchen.leaving((first, last.unwrap_or(first)), today)
}

/// What a day needs of what lies frozen, dish by dish.
#[derive(Default)]
struct Thaws {
    /// Out the evening before.
    overnight: Vec<(String, Mass)>,
    /// What has no day left once it is thawed stays in the freezer until then.
    on_the_day: Vec<(String, Mass)>,
}

/// Only who plans is told: of a day that was wished for, or where there is a prep day; and of no day that is over.
fn thaws(kitchen: &Kitchen, today: NaiveDate, day: NaiveDate) -> Thaws {
    let mut thaws = Thaws::default();
    if day < today {
        return thaws;
    }
    let horizon = Horizon {
        from: today,
        until: day,
        why: Why::Told,
    };
    let plans = kitchen.settings().clock.prep.is_some();
    let dishes = kitchen.planned(&horizon.into()).dishes.into_iter();
    for dish in dishes.filter(|dish| plans || dish.wished.last() == Some(&true)) {
        // No more than lies there: what would be cooked first is for the plan.
        let frozen = kitchen.frozen(dish.dish, today);
        for (overnight, out) in [(true, &mut thaws.overnight), (false, &mut thaws.on_the_day)] {
            let thawed = dish.thaw.iter();
            let thawed = thawed.filter(|thaw| thaw.on == day && thaw.overnight == overnight);
            let mass: Mass = thawed.map(|thaw| thaw.mass).sum();
            let mass = mass.min(frozen);
            if mass.mg() > 0 {
                out.push((dish.name.clone(), mass));
            }
        }
    }
    thaws
}

/// The first of the days right before a date on which all were away.
fn quiet_since(kitchen: &Kitchen, on: NaiveDate) -> NaiveDate {
    let mut first = on;
    while let Some(before) = first.pred_opt().filter(|day| kitchen.is_empty_on(*day)) {
        first = before;
    }
    first
}

/// What a household sees on its prep day: what is left, what is due first before the rest; what to cook until the next
/// one, and what to buy for it.
fn prep(kitchen: &Kitchen, now: DateTime<Utc>) -> Vec<Answer> {
    let today = kitchen.day_of(now);
    let mut answers = vec![Answer::Stock(StockAnswer {
        lots: view::stock(kitchen),
        asked: StockAsked::All,
        not_booked: Vec::new(),
        today,
    })];
    let planned = kitchen.planned(&Horizon::of(kitchen, today).into());
    if planned.dishes.is_empty() && planned.unknown.is_empty() {
        return answers;
    }
    let needs = kitchen.needs(&planned);
    answers.push(Answer::Prep(Box::new(PrepAnswer::Plan(Box::new(planned)))));
    if !needs.lines.is_empty() {
        answers.push(Answer::Prep(Box::new(PrepAnswer::Shopping(
            ShoppingAnswer {
                event: ShoppingEvent::Needed,
                list: Some(needs),
                today,
                message: None,
            },
        ))));
    }
    answers
}

fn view_of(
    kitchen: &Kitchen,
    note: &Occurrence,
    others: &[Occurrence],
    now: DateTime<Utc>,
) -> NoteView {
    let zone = kitchen.settings().zone;
    let here = now.with_timezone(&zone).naive_local();
    let about = match note.kind {
        NoteKind::Evening => note.on + Days::new(1),
        NoteKind::Prep | NoteKind::Morning => note.on,
    };
    NoteView {
        kind: note.kind,
        on: note.on,
        about,
        due_at: note.due_at,
        late: is_late(note.due_at, OTHER_GRACE, now),
        also_for: others.iter().map(|other| other.on).collect(),
        wall: note.due_at.with_timezone(&zone).naive_local(),
        now: here,
        // Notes go by the dates of the calendar, and so does what they say.
        today: here.date(),
        past: Vec::new(),
        due_today: Vec::new(),
        due_tomorrow: Vec::new(),
        take_out: Vec::new(),
        on_the_day: Vec::new(),
        leaving: Leaving::default(),
    }
}
