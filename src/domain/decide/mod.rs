//! From a reading of a message to what changes in the books and what is answered.
//!
//! `decide` is a pure function: everything that it needs is passed in, it fetches nothing and writes
//! nothing. Each verb has a file. A verb works on a [`Draft`]; if it stops with a problem or a
//! question, the draft is thrown away and nothing of the message is in the books.

mod again;
mod avoid;
mod batch;
mod before;
mod beside;
mod big_plate;
mod boxes;
mod caution;
mod claim;
mod clock;
mod completed;
mod cookbook;
mod correction;
mod count;
mod decision;
mod divide;
mod doubted;
mod draw;
mod eaten;
mod edit;
mod ends;
mod fact;
mod find;
mod finder;
mod fix;
mod gained;
mod headed;
mod heard;
mod history;
mod keeps;
mod label;
mod left_in_pot;
mod left_over;
mod line;
mod low_stock;
mod mixed;
mod moved_from;
mod moved_when;
mod moving;
mod near_books;
mod of_plates;
mod of_pot;
mod onto;
mod overheard;
mod packet;
mod parted;
mod passing;
mod people;
mod personal;
mod pieces;
mod place_is;
mod planned;
mod portion;
mod pour_off;
mod prep;
mod question;
mod receive;
mod remark;
mod reopen;
mod report;
mod retell;
mod reworded;
mod same_plate;
mod scale;
mod served_in;
mod set_up;
mod sheet;
mod shortage;
mod spread;
mod stated;
mod step;
mod stock;
mod table;
mod take;
mod teach;
mod told;
mod told_name;
mod told_once;
mod top_up;
mod unclear;
mod undo;
mod unnamed;
mod use_by;
mod verb;
mod vessel;
mod waste;
mod weigh;
mod weighed_again;
mod when;
mod which;

use chrono::{DateTime, Utc};

pub use decision::{Decision, Deletes, Outcome, Replaced};
use heard::{choose_reading, otherwise, problem_of};
pub use prep::hanging;
use step::{Asking, Done, Step, Stop};

use super::act::Act;
use super::answer::{Answer, Press};
use super::caution::Said;
use super::draft::Draft;
use super::ids::*;
use super::kitchen::{Answered, Kitchen};
use super::problem::Problem;
use super::spoken::{Spoken, SpokenPlan};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Reading};

/// A message (or a press) to decide about.
#[derive(Debug, Clone)]
pub struct Input {
    pub message: MessageId,
    pub sender: MemberId,
    /// Book time.
    pub now: DateTime<Utc>,
    /// Kitchen time: when the message was first sent.
    pub said_at: DateTime<Utc>,
    /// The bot was spoken to: a mention, a command, a reply to it, or a private chat.
    pub addressed: bool,
    pub forwarded: bool,
    /// In the sender's own chat with the bot.
    pub private: bool,
    /// The sender has confirmed a change to another person's entry.
    pub confirmed: bool,
    /// The sender has confirmed what leaves the books with less than was taken.
    pub anyway: bool,
    pub text: String,
    pub saying: Saying,
    /// What the message points at: for an edit, what the same message has put into the books so far;
    /// for a reply to one of the bot's answers, the act that was answered; for a press, the act that
    /// the button names.
    pub pointed: Option<Act>,
    /// The message whose answer this one replies to: of several questions, the one that it answers.
    pub replies_to: Option<MessageId>,
    /// The question that an edited message had answered.
    pub answered: Option<Answered>,
    /// What was cautioned of last in the chat, or in what the message replies to.
    pub cautioned: Option<Said>,
    /// What the bot spoke of last in the chat, newest first; only where the message leaves that out.
    pub spoken: Vec<Spoken>,
}

impl Input {
    /// The dish that was spoken of last, if that was lately: its name, and its pot's code.
    pub fn spoken_dish(&self) -> Option<(&str, Option<&str>)> {
        let mut fresh = self.spoken.iter().filter(|said| said.holds(self.now));
        fresh.find_map(Spoken::dish)
    }

    /// The dish of which the bot told last, asked, how much is left, if nothing has been done since.
    pub fn asked_dish(&self, done_at: Option<DateTime<Utc>>) -> Option<String> {
        let last = self.spoken.first().filter(|said| said.holds(self.now))?;
        let since = done_at.is_none_or(|done| done < last.at);
        let (name, code) = last.dish().filter(|_| since && last.left)?;
        Some(code.unwrap_or(name).to_owned())
    }

    /// What things cost was spoken of lately.
    pub fn spoken_of_prices(&self) -> bool {
        let mut fresh = self.spoken.iter().filter(|said| said.holds(self.now));
        fresh.any(|said| said.prices)
    }

    /// The shopping list is what the bot spoke of last.
    pub fn spoken_of_list(&self) -> bool {
        let last = self.spoken.first();
        last.is_some_and(|said| said.list && said.holds(self.now))
    }

    /// The plan that was told last, if that was lately.
    pub fn spoken_plan(&self) -> Option<&SpokenPlan> {
        let mut fresh = self.spoken.iter().filter(|said| said.holds(self.now));
        fresh.find_map(Spoken::plan)
    }
}

#[derive(Debug, Clone)]
pub enum Saying {
    Message(Parsed),
    /// The sender changed an earlier message; both texts are read with today's vocabulary.
    Edit {
        before: Parsed,
        after: Parsed,
    },
    Press(Press),
}

pub fn decide(kitchen: &Kitchen, input: &Input) -> Decision {
    let mut decision = match &input.saying {
        Saying::Press(press) => question::press(kitchen, input, press),
        Saying::Edit { before, after } => edit::decide(kitchen, input, before, after),
        Saying::Message(parsed) => message(kitchen, input, parsed),
    };
    table::door::look(kitchen, input, &mut decision);
    personal::discreet::keep(kitchen, input, &mut decision);
    decision
}

/// A message as if it were new.
fn message(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Decision {
    if input.forwarded && !input.addressed {
        return silence(input);
    }
    if let Some(decision) = personal::delete::told(kitchen, input, parsed)
        .or_else(|| caution::why(kitchen, input, parsed))
        .or_else(|| prep::why_planned(kitchen, input, parsed))
        .or_else(|| prep::asked_again(kitchen, input, parsed))
        .or_else(|| prep::priced(kitchen, input, parsed))
        .or_else(|| prep::listed(kitchen, input, parsed))
        .or_else(|| passing::one_or_two(kitchen, input, parsed))
        .or_else(|| passing::as_offered(kitchen, input))
        .or_else(|| gained::topped_up_with(kitchen, input))
        .or_else(|| passing::closing(kitchen, input, parsed))
    {
        return decision;
    }
    if let Some(decision) = sheet::answered(kitchen, input) {
        return decision;
    }
    if let Some(decision) = claim::in_passing(kitchen, input, parsed) {
        return decision;
    }
    if let Some(decision) = retell::in_passing(kitchen, input, parsed) {
        return decision;
    }
    if let Some(decision) = reworded::reworded(kitchen, input, parsed) {
        return decision;
    }
    if let Some(decision) = parted::lost(kitchen, input) {
        return decision;
    }
    if let Some(decision) = completed::goes_on(kitchen, input, parsed) {
        return decision;
    }
    if let Some(decision) = headed::pot_or_plate(kitchen, input, parsed)
        .or_else(|| completed::fills(kitchen, input, parsed))
    {
        return decision;
    }
    if let Some(decision) = cookbook::by_recipe(kitchen, input, parsed) {
        return decision;
    }
    if let Some(decision) = of_plates::as_much(kitchen, input, parsed) {
        return decision;
    }
    let decision = plainly(kitchen, input, parsed);
    if let Some(decision) = stated::put(kitchen, input, parsed, &decision) {
        return decision;
    }
    completed::completed(kitchen, input, &decision)
        .or_else(|| of_plates::told(kitchen, input, &decision))
        .or_else(|| overheard::of_what(kitchen, input, &decision))
        .unwrap_or(decision)
}

/// A message that says all that it means.
fn plainly(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Decision {
    let next = scale::next_reading(kitchen, input, parsed);
    if next.is_none()
        && let Some(decision) =
            told::amount(kitchen, input, parsed).or_else(|| told_name::word(kitchen, input, parsed))
    {
        return decision;
    }
    let heard = || overheard::in_passing(kitchen, input, parsed);
    let passing = next.is_none().then(heard).flatten();
    let reading = next.or(passing).or_else(|| choose_reading(input, parsed));
    let sure = |reading: &Reading| reading.sure && problem_of(reading).is_none();
    let certain = next.is_some() || reading.is_some_and(sure);
    if !certain && let Some(decision) = passing::loosely(kitchen, input) {
        return decision;
    }
    if next.is_none()
        && let Some(decision) = overheard::put_right(kitchen, input, parsed, passing)
    {
        return decision;
    }
    let reading = match passing {
        Some(tried) => otherwise(input, parsed, tried),
        None => reading,
    };
    let Some(reading) = reading else {
        return silence(input);
    };
    if let Some(problem) = problem_of(reading) {
        return match reading.commands.as_slice() {
            [] => match overheard::odd_number(&input.text, reading, problem) {
                Ok(asking) => stopped(Draft::new(kitchen, input), Stop::Ask(Box::new(asking))),
                Err(problem) => refuse(input, problem),
            },
            // It cannot be as it was said, but there is a way in which it could.
            meant => doubted::doubted(kitchen, input, problem, meant),
        };
    }
    if let [Command::Choose(choice)] = reading.commands.as_slice() {
        return question::answered(kitchen, input, choice);
    }
    if let Some(decision) = told::taught(kitchen, input, &reading.commands) {
        return decision;
    }
    let draft = Draft::new(kitchen, input);
    if let Some(stop) = overheard::said_twice(kitchen, input, &reading.commands) {
        return stopped(draft, stop);
    }
    let base = scale::going_on(draft, reading);
    let mut decision = carry_out(base, &reading.commands, OnProblem::Forget);
    if let Some(said) = overheard::as_plainly_said(parsed, &decision) {
        let draft = Draft::new(kitchen, input);
        decision = carry_out(draft, &said.commands, OnProblem::Forget);
    } else if let Some(cooked) = cookbook::multiplied(kitchen, input, reading, &decision) {
        return cooked;
    }
    if decision.outcome == Outcome::Recorded {
        if overheard::is_doubtful(input, reading) {
            return overheard::ask_first(kitchen, input, &reading.commands);
        }
        let closed = told_name::told_again(kitchen, input, &reading.commands);
        decision.changes.extend(closed);
    }
    let refused = decision.outcome == Outcome::Refused;
    let small = refused && overheard::is_small_talk(&reading.commands)
        || overheard::is_of_no_pot(&reading.commands, &decision);
    if (small || overheard::fits_nothing(&decision)) && !input.addressed {
        return silence(input);
    }
    decision
}

/// What becomes of the base of a decision when a command stops with a problem.
#[derive(Clone, Copy, PartialEq, Eq)]
enum OnProblem {
    /// Nothing is recorded at all.
    Forget,
    /// What the base holds is recorded: an edited message no longer says what it said.
    KeepBase,
}

/// Carry out commands one after another on a copy of the base; the first that stops throws the copy
/// away. A question is put on the base.
fn carry_out(mut base: Draft, commands: &[Command], on_problem: OnProblem) -> Decision {
    let mut draft = base.clone();
    let mut done = Done::default();
    for (at, command) in commands.iter().enumerate() {
        match verb::carry_out(&mut draft, command) {
            Ok(more) => {
                done.answers.extend(more.answers);
                done.asks.extend(more.asks);
            }
            Err(Stop::Problem(problem)) if on_problem == OnProblem::Forget => {
                return refuse(base.input, problem);
            }
            Err(stop) => {
                base.about = draft.about;
                let stop = beside::kept(&base, stop, commands, at);
                return stopped(base, stop);
            }
        }
    }
    conclude_if_enough(draft, done, commands)
}

/// Nothing of what was decided is kept but the base: it says why.
fn stopped(base: Draft, stop: Stop) -> Decision {
    match stop {
        Stop::Problem(problem) => conclude(base, Done::saying(Answer::Problem(problem))),
        Stop::Ask(asking) => {
            let (answers, asks) = (Vec::new(), vec![*asking]);
            conclude(base, Done { answers, asks })
        }
    }
}

/// Close the draft, unless a batch would be left with much less than was taken from it: then the books
/// stay as the message found them, until its sender says that it is right.
fn conclude_if_enough(mut draft: Draft, mut done: Done, commands: &[Command]) -> Decision {
    match shortage::look(&draft, commands) {
        Ok(mut notes) => {
            notes.extend(shortage::finished(&draft));
            notes.extend(low_stock::noticed(&draft));
            notes.extend(prep::run_low(&mut draft));
            shortage::say(notes, &mut done.answers);
            conclude(draft, done)
        }
        Err(stop) => stopped(draft.without_bookings(), stop),
    }
}

/// Close the draft: put the first question, say what came of it.
fn conclude(mut draft: Draft, mut done: Done) -> Decision {
    let booked = draft.has_booked();
    if booked || done.answers.iter().any(Answer::packs) {
        caution::add(&draft, &mut done);
        avoid::add(&draft, &mut done);
    }
    if booked {
        ends::look(&mut draft);
    }
    let mut answers = done.answers;
    told_once::keep_last(&mut answers);
    // An answer to one question is no answer to another.
    if booked && draft.credit == draft.input.message {
        question::close_answered(&mut draft, &answers);
    }
    if let Some(asking) = done.asks.into_iter().next() {
        answers.push(Answer::Ask(question::put(&mut draft, asking)));
    }
    let outcome = Outcome::of(booked || draft.deletes.is_some(), &answers);
    let replaces = match answers.as_slice() {
        [Answer::Portion(_)] if booked => portion::grown(&draft).map(Replaced::AnswerTo),
        _ => None,
    };
    if !answers.is_empty() {
        answers.extend(question::remind(&mut draft));
    }
    Decision {
        outcome,
        credit: draft.credit,
        replaces,
        changes: draft.changes,
        answers,
        deletes: draft.deletes,
    }
}

fn refuse(input: &Input, problem: Problem) -> Decision {
    Decision {
        outcome: Outcome::Refused,
        answers: vec![Answer::Problem(problem)],
        ..silence(input)
    }
}

fn silence(input: &Input) -> Decision {
    Decision {
        outcome: Outcome::Ignored,
        credit: input.message,
        replaces: None,
        changes: Vec::new(),
        answers: Vec::new(),
        deletes: None,
    }
}
