//! One message with everything that bears on it but the kitchen: read it, decide, word the answer.

use chrono::{DateTime, Utc};

use super::address::{Addressed, address};
use super::handle::Pointed;
use crate::domain::act::Act;
use crate::domain::answer::{Answer, Press};
use crate::domain::caution;
use crate::domain::decide::{Decision, Input, Outcome, Saying, decide, hanging};
use crate::domain::ids::{BatchId, ComponentId, MessageId};
use crate::domain::kitchen::{Answered, Kitchen};
use crate::domain::problem::ProblemKind;
use crate::domain::spoken::Spoken;
use crate::lang;
use crate::lang::syntax::{Clock, Command, Cookbook, Pace, Personal, Prep, Shop};
use crate::render::{self, Message};
use crate::store::{Kind, Left, Said, Waiting};

/// A longer number is no batch's.
const CODE_DIGITS_MAX: usize = 9;
/// Of a longer list the first are looked up.
const CODES_MAX: usize = 20;

pub(super) struct Case<'a> {
    pub waiting: &'a Waiting,
    pub addressed: Addressed<'a>,
    /// What the message said before it was edited.
    pub before: Option<Said>,
    pub pointed: Pointed,
    /// The question that it answered before it was edited.
    pub answered: Option<Answered>,
    /// What a press means, if it comes from a button that stands in the chat.
    pub press: Option<Press>,
    pub cautioned: Option<caution::Said>,
    pub spoken: Vec<Spoken>,
    pub names: Vec<String>,
}

/// What a message comes to.
pub(super) struct Decided {
    pub decision: Decision,
    pub message: Message,
    /// The household has chosen other times, or another zone.
    pub other_times: bool,
    /// When hot food has to be put away, if any stands out.
    pub look_by: Option<DateTime<Utc>>,
    /// The shopping list as it stands now, if anything of it has changed.
    pub list: Option<Message>,
    /// As the decision leaves it.
    pub kitchen: Kitchen,
}

impl Case<'_> {
    /// `None` for a press that no button of this chat carries.
    pub fn read(&self, kitchen: &Kitchen) -> Option<Saying> {
        if self.waiting.kind == Kind::Press {
            return self.press.clone().map(Saying::Press);
        }
        let words = kitchen.vocabulary();
        let after = lang::parse(&self.addressed.text, &words);
        Some(match &self.before {
            Some(before) => Saying::Edit {
                before: lang::parse(&address(&before.body, &self.names).text, &words),
                after,
            },
            None => Saying::Message(after),
        })
    }

    pub fn decide(
        &self,
        mut kitchen: Kitchen,
        saying: Option<Saying>,
        now: DateTime<Utc>,
    ) -> Decided {
        let text = self.addressed.text.as_ref();
        let before = kitchen.settings();
        let times = (before.zone, before.clock);
        let decision = match saying {
            Some(saying) => {
                let input = Input {
                    message: self.known_as(),
                    sender: self.waiting.member,
                    now,
                    said_at: match &self.before {
                        Some(before) => before.first_sent_at,
                        None => self.waiting.sent_at,
                    },
                    addressed: self.is_spoken_to(&saying),
                    forwarded: self.waiting.forwarded,
                    private: self.waiting.private,
                    text: text.to_owned(),
                    saying,
                    pointed: self.pointed.act.clone(),
                    confirmed: false,
                    anyway: false,
                    replies_to: self.pointed.replies_to,
                    answered: self.answered.clone(),
                    cautioned: self.cautioned.clone(),
                    spoken: self.spoken.clone(),
                };
                decide(&kitchen, &input)
            }
            None => guessed_press(self.waiting.id),
        };
        let listed = kitchen.prep.shop.newest();
        for change in &decision.changes {
            kitchen.apply(change);
        }
        let changes = kitchen.prep.shop.newest() != listed;
        let settings = kitchen.settings();
        let changed = !decision.changes.is_empty();
        Decided {
            list: changes
                .then(|| hanging(&kitchen, now))
                .flatten()
                .map(|answer| render::message(&[answer], &settings, "")),
            look_by: changed.then(|| kitchen.next_put_away(now)).flatten(),
            message: render::message(&decision.answers, &settings, text),
            decision,
            other_times: (settings.zone, settings.clock) != times,
            kitchen,
        }
    }

    /// Its number in the books: all revisions of a message are one.
    pub fn known_as(&self) -> MessageId {
        let before = self.before.as_ref();
        before.map_or(self.waiting.id, |before| before.first)
    }

    /// What a later message finds, once the decision is written.
    pub fn left(&self, decision: &Decision, kitchen: Kitchen) -> Left {
        let waiting = self.waiting;
        let first = self.before.is_none() && !waiting.edited && decision.credit == waiting.id;
        Left {
            kitchen,
            act: first.then(|| Act {
                message: waiting.id,
                member: waiting.member,
                text: waiting.body.clone(),
                revised: waiting.id,
                sent_at: waiting.sent_at,
                entries: Vec::new(),
            }),
            private: waiting.private,
        }
    }

    fn is_spoken_to(&self, saying: &Saying) -> bool {
        let by_words = match saying {
            Saying::Message(parsed) | Saying::Edit { after: parsed, .. } => parsed.addressed,
            Saying::Press(_) => true,
        };
        by_words || self.waiting.private || self.addressed.spoken_to || self.pointed.at_bot
    }
}

/// The answer needs the plates of the last weeks, or who wrote down what.
pub(super) fn looks_back(saying: &Saying) -> bool {
    asks(saying, |command| {
        matches!(
            command,
            Command::Again(_)
                | Command::Eaten { .. }
                | Command::History { .. }
                | Command::Personal(Personal::Week { .. } | Personal::Sources { .. })
                | Command::Finder(_)
                | Command::Cookbook(Cookbook::Pace {
                    asked: Pace::Who,
                    ..
                })
        )
    })
}

/// The answer needs the batches of the last months, finished or not.
pub(super) fn asks_for_a_report(saying: &Saying) -> bool {
    asks(saying, |command| {
        matches!(
            command,
            Command::Drift { .. }
                | Command::Wasted { .. }
                | Command::History { .. }
                | Command::Reopen(_)
                | Command::Cookbook(Cookbook::Spent { .. })
        )
    })
}

/// It leaves out what the bot spoke of last.
pub(super) fn leaves_out(saying: &Saying, text: &str) -> bool {
    let asked = |command: &Command| match command {
        Command::Prep(Prep::Why { .. } | Prep::Shop(Shop::Put(_))) => true,
        Command::Prep(Prep::Good { told, .. }) => told.is_price(),
        Command::Price(_) => true,
        Command::Cookbook(said) => said.dish().is_none(),
        _ => false,
    };
    lang::answer::is_of_what_was_said(text) || asks(saying, asked)
}

/// The dishes whose earlier pots tell something for the answer.
pub(super) fn dishes(saying: &Saying, kitchen: &Kitchen, spoken: &[Spoken]) -> Vec<ComponentId> {
    let spoken = spoken.iter().filter_map(Spoken::dish);
    let spoken = spoken.flat_map(|(name, _)| kitchen.dishes_named(name));
    let mut dishes: Vec<ComponentId> = commands(saying)
        .flat_map(|command| kitchen.dishes_of(command))
        .chain(spoken)
        .collect();
    dishes.sort();
    dishes.dedup();
    dishes
}

/// The answer is about what is ahead: how the shop was walked before.
pub(super) fn is_ahead(saying: &Saying) -> bool {
    let pressed = matches!(saying, Saying::Press(Press::Tick { .. } | Press::ListPlan));
    let of_lists = |command: &Command| matches!(command, Command::Prep(Prep::Shop(_)));
    pressed || asks(saying, of_lists)
}

/// It is a plan, or asks how fast dishes go or went: what was eaten of the pots of the last weeks.
pub(super) fn plans(saying: &Saying) -> bool {
    let pressed = matches!(saying, Saying::Press(Press::ListPlan));
    let of_plans = |command: &Command| {
        matches!(
            command,
            Command::Course { .. }
                | Command::Prep(
                    Prep::Plan(_)
                        | Prep::Why { .. }
                        | Prep::Sheet { .. }
                        | Prep::Wish(_)
                        | Prep::Shop(Shop::ForPlan(_))
                )
                | Command::Cookbook(Cookbook::Pace { .. } | Cookbook::Cost { .. })
        )
    };
    pressed || asks(saying, of_plans)
}

/// Something may come of it: then it counts what was cautioned of before.
pub(super) fn may_speak(saying: &Saying) -> bool {
    asks(saying, |_| true) || matches!(saying, Saying::Press(_))
}

/// It puts off what rang or was told.
pub(super) fn puts_off(saying: &Saying) -> bool {
    let off = |command: &Command| {
        matches!(
            command,
            Command::Clock(Clock::More { .. } | Clock::Later { .. })
        )
    };
    asks(saying, off)
}

/// The batches whose codes stand in a text: a letter, and the number of the batch.
pub(super) fn named(text: &str) -> Vec<BatchId> {
    let words = text.split(|c: char| !c.is_ascii_alphanumeric());
    let number = |word: &str| {
        let digits = word.strip_prefix(|first: char| first.is_ascii_alphabetic())?;
        digits
            .parse()
            .ok()
            .filter(|_| digits.len() <= CODE_DIGITS_MAX)
    };
    let numbers = words.filter_map(number).take(CODES_MAX);
    numbers.map(BatchId).collect()
}

fn asks(saying: &Saying, wanted: fn(&Command) -> bool) -> bool {
    commands(saying).any(wanted)
}

/// Of all readings.
fn commands(saying: &Saying) -> impl Iterator<Item = &Command> {
    let parsed = match saying {
        Saying::Message(parsed) => [Some(parsed), None],
        Saying::Edit { before, after } => [Some(before), Some(after)],
        Saying::Press(_) => [None, None],
    };
    let parsed = parsed.into_iter().flatten();
    parsed.flat_map(|parsed| parsed.readings.iter().flat_map(|reading| &reading.commands))
}

fn guessed_press(message: MessageId) -> Decision {
    Decision {
        outcome: Outcome::Refused,
        credit: message,
        changes: Vec::new(),
        answers: vec![Answer::Problem(ProblemKind::NoQuestion.anywhere())],
        replaces: None,
        deletes: None,
    }
}
