//! Questions: put, answered, dropped. An answer counts only against an open question to its sender,
//! and is handled as if they had written the chosen option in the first place.

use chrono::Duration;

use super::super::answer::{About, Answer, Ask, Press};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::{Kitchen, OpenQuestion};
use super::super::problem::{Problem, ProblemKind};
use super::super::resolve::key;
use super::{
    Asking, Decision, Done, Input, OnProblem, Replaced, Saying, Step, carry_out, clock, conclude,
    cookbook, edit, portion, prep, refuse, same_plate, shortage, silence, table, told, undo, which,
};
use crate::foods::Code;
use crate::lang::syntax::{Choice, Command, PlanFor, Portion, Prep, SetUp, Shop};
use crate::lang::{self, Vocabulary};

/// How long an answer of one word counts. What the question was about stays listed after that.
const OPEN_MINUTES: i64 = 30;

/// Put a question to the sender.
pub fn put(draft: &mut Draft, asking: Asking) -> Ask {
    let id = QuestionId(draft.kitchen.next.question);
    let Asking {
        about,
        words,
        problem,
        options,
        pointed,
    } = asking;
    let pointed = pointed.or(draft.about);
    draft.push(Change::Ask(OpenQuestion {
        id,
        member: draft.input.sender,
        message: draft.credit,
        about: about.word().to_owned(),
        words: words.clone(),
        said: (!draft.has_booked()).then(|| draft.input.text.clone()),
        options: options.clone(),
        said_at: draft.input.said_at,
        expires_at: draft.input.now + Duration::minutes(OPEN_MINUTES),
        pointed,
        mentioned: false,
    }));
    Ask {
        question: id,
        about,
        words,
        problem,
        options,
    }
}

/// What was asked about and is booked now, in other words, is no question any more.
pub fn close_answered(draft: &mut Draft, answers: &[Answer]) {
    let booked: Vec<String> = answers
        .iter()
        .flat_map(|answer| match answer {
            Answer::Portion(answer) => answer
                .plates
                .iter()
                .flat_map(|plate| &plate.lines)
                .map(|line| key(&line.name))
                .collect(),
            _ => Vec::new(),
        })
        .collect();
    let answered: Vec<QuestionId> = draft
        .kitchen
        .questions
        .iter()
        .filter(|open| {
            open.member == draft.input.sender && open.about != About::WhichWeighing.word()
        })
        // What was told again in other words answers a question that had nothing to choose from.
        .filter(|open| {
            let told_again = open.about == About::HowMuch.word() && open.offered().next().is_none();
            booked.contains(&key(&open.words)) || told_again && !booked.is_empty()
        })
        .map(|open| open.id)
        .collect();
    for id in answered {
        draft.push(Change::CloseQuestion(id));
    }
}

/// A question that ran out unanswered is mentioned once, with the next answer to its asker.
pub fn remind(draft: &mut Draft) -> Option<Answer> {
    let now = draft.input.now;
    let waiting: Vec<(QuestionId, String)> = draft
        .kitchen
        .questions
        .iter()
        .filter(|open| {
            open.member == draft.input.sender
                && open.expires_at < now
                && !open.mentioned
                && open.holds_back()
        })
        .map(|open| (open.id, open.waits().to_owned()))
        .collect();
    for (id, _) in &waiting {
        draft.push(Change::Mentioned(*id));
    }
    let words: Vec<String> = waiting.into_iter().map(|(_, words)| words).collect();
    (!words.is_empty()).then_some(Answer::NotBooked(words))
}

/// "yes" chooses the only option, and confirms where the first one is what was said. "One plate or
/// two?" has no yes.
fn says_yes(question: &OpenQuestion) -> bool {
    let either = |label: &str| [same_plate::ONE_PLATE, which::TOLD_TWICE].contains(&label);
    let mut offered = question.offered();
    let first = offered.next();
    let confirms = question.about == About::Confirm.word()
        && first.is_some_and(|option| !either(&option.label));
    confirms || first.is_some() && offered.next().is_none()
}

/// The question that a short answer is meant for: the newest open one to the sender, or the one whose
/// message the answer replies to, however old.
pub fn meant<'a>(kitchen: &'a Kitchen, input: &Input) -> Option<&'a OpenQuestion> {
    let mine = |question: &&OpenQuestion| {
        table::may_answer(kitchen, question, input.sender) && !question.keeps_in_mind()
    };
    let mut newest = kitchen.questions.iter().rev().filter(mine);
    let replied_to = |question: &&OpenQuestion| Some(question.message) == input.replies_to;
    let named = newest.clone().find(replied_to);
    named.or_else(|| newest.find(|question| question.expires_at >= input.now))
}

/// "yes", "2", "the second", "no": the decision about what was chosen.
pub fn answered(kitchen: &Kitchen, input: &Input, choice: &Choice) -> Decision {
    let Some(question) = meant(kitchen, input) else {
        return match input.addressed {
            true => refuse(input, ProblemKind::NoQuestion.anywhere()),
            false => silence(input),
        };
    };
    let number = match choice {
        Choice::No => return dropped(kitchen, input, question),
        // Grams are asked for, and nothing is offered to choose from.
        _ if question.about == About::Grams.word() => {
            let told = match &input.saying {
                Saying::Message(parsed) => told::to_question(kitchen, input, parsed, question),
                Saying::Edit { .. } | Saying::Press(_) => None,
            };
            return told.unwrap_or_else(|| unanswered(input, question, choice));
        }
        // "yes" chooses where there is nothing to choose between but yes and no.
        Choice::Yes if says_yes(question) => 0,
        Choice::Yes | Choice::Plates(_) => return unanswered(input, question, choice),
        Choice::Nth(number) => (*number as usize).saturating_sub(1),
    };
    chosen(kitchen, input, question, number)
}

/// A yes or a number that chooses nothing: how the question is answered.
fn unanswered(input: &Input, question: &OpenQuestion, choice: &Choice) -> Decision {
    let choices = question.offered().count() as u32;
    // "ok thanks", where there is nothing to say yes to.
    if *choice == Choice::Yes && choices == 0 && !input.addressed {
        return silence(input);
    }
    let about = question.words.clone();
    refuse(input, ProblemKind::NoAnswer { about, choices }.anywhere())
}

/// Keep which message answered a question and what that wrote, so that its edit can be followed.
pub fn keep_answer(
    kitchen: &Kitchen,
    input: &Input,
    question: &OpenQuestion,
    decision: Decision,
) -> Decision {
    let closes = Change::CloseQuestion(question.id);
    match decision.changes.contains(&closes) {
        true => keep_range(kitchen, input, question, decision),
        false => decision,
    }
}

/// Keep which entries a decision on this kitchen writes, as what a message says to a question.
pub fn keep_range(
    kitchen: &Kitchen,
    input: &Input,
    question: &OpenQuestion,
    mut decision: Decision,
) -> Decision {
    let entry = |change: &&Change| matches!(change, Change::Entry { .. });
    let written = decision.changes.iter().filter(entry).count() as i64;
    decision.changes.push(Change::Answered {
        question: question.id,
        message: input.message,
        first: EntryId(kitchen.next.entry),
        after: EntryId(kitchen.next.entry + written),
    });
    decision
}

pub fn press(kitchen: &Kitchen, input: &Input, press: &Press) -> Decision {
    match press {
        Press::Choose { question, option } => {
            let open = kitchen.questions.iter().find(|open| open.id == *question);
            match open {
                // A question that is closed or never was: the button is an old one.
                None => refuse(input, ProblemKind::NoQuestion.anywhere()),
                Some(open) if !table::may_answer(kitchen, open, input.sender) => {
                    let owner = kitchen
                        .member(open.member)
                        .map(|member| member.name.clone());
                    let asked = owner.unwrap_or_default();
                    refuse(input, ProblemKind::NotAsked { asked }.anywhere())
                }
                Some(open) => chosen(kitchen, input, open, *option),
            }
        }
        Press::Clock(press) => clock::press(kitchen, input, press),
        Press::SetUp => {
            let says = Command::SetUp(SetUp::Begin);
            carry_out(Draft::new(kitchen, input), &[says], OnProblem::Forget)
        }
        Press::ListPlan => {
            let says = Command::Prep(Prep::Shop(Shop::ForPlan(PlanFor::default())));
            carry_out(Draft::new(kitchen, input), &[says], OnProblem::Forget)
        }
        Press::Tick { line, bought } => prep::tick(kitchen, input, *line, *bought),
        Press::Undo { .. } | Press::Redo { .. } => {
            let wants_undo = matches!(press, Press::Undo { .. });
            let act = input.pointed.clone();
            let fits = act.filter(|act| act.stands() && act.is_undo() != wants_undo);
            if fits.is_none() {
                return refuse(input, nothing_to(wants_undo).anywhere());
            }
            let says = match wants_undo {
                true => Command::Undo,
                false => Command::Redo,
            };
            carry_out(Draft::new(kitchen, input), &[says], OnProblem::Forget)
        }
    }
}

fn nothing_to(undo: bool) -> ProblemKind {
    match undo {
        true => ProblemKind::NothingToUndo,
        false => ProblemKind::NothingToRedo,
    }
}

/// Carry out the chosen option as if the message that raised the question had said so.
fn chosen(kitchen: &Kitchen, input: &Input, question: &OpenQuestion, option: usize) -> Decision {
    let Some(choice) = question.offered().nth(option) else {
        let number = option as u32 + 1;
        let options = question.offered().count() as u32;
        return refuse(
            input,
            ProblemKind::NoSuchOption { number, options }.anywhere(),
        );
    };
    let vocabulary = kitchen.vocabulary();
    let (says, anyway) = shortage::without_anyway(&choice.says);
    let commands = read(says, &vocabulary);
    let spoken = Input {
        said_at: question.said_at,
        addressed: true,
        confirmed: true,
        anyway,
        pointed: question.pointed.and_then(|message| {
            kitchen
                .pointed
                .iter()
                .find(|act| act.message == message)
                .cloned()
        }),
        ..input.clone()
    };
    let mut base = Draft::new(kitchen, &spoken);
    base.credit = question.message;
    base.push(Change::CloseQuestion(question.id));
    let mut decision = match commands {
        Err(problem) => return refuse(input, problem),
        // "the same plate, told twice": there is nothing to book.
        Ok(commands) if commands == [Command::Drop] => return dropped(kitchen, input, question),
        Ok(mut commands) => {
            if anyway {
                shortage::confirm(&mut commands);
            }
            commands.extend(eaten_from(kitchen, question, &commands, &vocabulary));
            if question.about == About::WhichFood.word() {
                remember(&mut base, question, option, &vocabulary);
            }
            match spoken.pointed.as_ref().filter(|act| act.stands()) {
                Some(act) if question.is_about_an_edit() => {
                    let before = read(&act.text, &vocabulary).ok();
                    edit::replace(base, act, before, Some(commands))
                }
                _ => carry_out(base, &commands, OnProblem::Forget),
            }
        }
    };
    if question.is_about_an_edit() && decision.replaces.is_none() {
        // The answer to the edited message stands where the question stood.
        decision.replaces = Some(Replaced::AnswerTo(question.message));
    }
    keep_answer(kitchen, input, question, decision)
}

/// "a batch not entered yet": it is opened, and what was asked about is eaten from it.
fn eaten_from(
    kitchen: &Kitchen,
    question: &OpenQuestion,
    commands: &[Command],
    vocabulary: &Vocabulary,
) -> Option<Command> {
    let [Command::Batch(new)] = commands else {
        return None;
    };
    let last = |name: &str| {
        let mut batches = kitchen.batches.values();
        batches.any(|batch| batch.code == name && batch.name == new.name.text)
    };
    let plates = question
        .options
        .iter()
        .filter_map(|option| plate(&option.says, vocabulary));
    for mut portion in plates {
        if let Some(item) = portion.items.iter_mut().find(|item| last(&item.name.text)) {
            item.name = new.name.clone();
            portion.anyway = true;
            return Some(Command::Portion(portion));
        }
    }
    None
}

/// A sentence of the bot's own, or several, a line each.
pub fn read(says: &str, vocabulary: &Vocabulary) -> Result<Vec<Command>, Problem> {
    let whole = read_one(says, vocabulary);
    if whole.is_ok() || !says.contains('\n') {
        return whole;
    }
    let lines = says.lines().map(|line| read_one(line, vocabulary));
    let commands: Result<Vec<Vec<Command>>, Problem> = lines.collect();
    commands.map(|commands| commands.concat())
}

fn read_one(says: &str, vocabulary: &Vocabulary) -> Result<Vec<Command>, Problem> {
    let parsed = lang::parse(says, vocabulary);
    match parsed.readings.into_iter().next() {
        Some(reading) if reading.errors.is_empty() && !reading.commands.is_empty() => {
            Ok(reading.commands)
        }
        _ => Err(ProblemKind::NotUnderstood.anywhere()),
    }
}

/// The food chosen for words on a plate is what those words mean on plates from now on.
fn remember(draft: &mut Draft, question: &OpenQuestion, option: usize, vocabulary: &Vocabulary) {
    let plates: Vec<Option<Portion>> = question
        .options
        .iter()
        .map(|choice| plate(&choice.says, vocabulary))
        .collect();
    let Some(Some(chosen)) = plates.get(option) else {
        return;
    };
    let code = |at: usize| chosen.items[at].name.text.parse::<Code>().ok();
    let others = || plates.iter().flatten().filter(|other| *other != chosen);
    // The options differ in the thing that was asked about; a code beside it was typed.
    let asked = |at: &usize| {
        let name = |plate: &Portion| plate.items.get(*at).map(|item| item.name.clone());
        others().next().is_none() || others().any(|other| name(other) != name(chosen))
    };
    let foods: Vec<Code> = (0..chosen.items.len())
        .filter(asked)
        .filter_map(code)
        .collect();
    if let [food] = foods.as_slice() {
        portion::remember(draft, &question.words, *food, true);
    }
}

fn plate(says: &str, vocabulary: &Vocabulary) -> Option<Portion> {
    match read(says, vocabulary).ok()?.into_iter().next()? {
        Command::Portion(portion) => Some(portion),
        _ => None,
    }
}

fn dropped(kitchen: &Kitchen, input: &Input, question: &OpenQuestion) -> Decision {
    let mut draft = Draft::new(kitchen, input);
    draft.push(Change::CloseQuestion(question.id));
    let about = question.waits().to_owned();
    let decision = conclude(draft, Done::saying(Answer::Dropped { about }));
    keep_answer(kitchen, input, question, decision)
}

/// Whether the sender's newest message that meant something is one that is still asked about.
pub fn waits_last(draft: &Draft) -> bool {
    let asked = |question: &OpenQuestion| {
        question.member == draft.input.sender
            && question.expires_at >= draft.input.now
            && question.holds_back()
            && question.pointed.is_none()
    };
    let mut questions = draft.kitchen.questions.iter().rev();
    let newest = draft.kitchen.recent.first().map(|act| act.message);
    let waiting = questions.find(|question| asked(question));
    waiting.is_some_and(|question| newest.is_none_or(|newest| newest < question.message))
}

/// "cancel", "drop it": the sender's newest question, open or expired.
pub fn drop(draft: &mut Draft) -> Step {
    let mine = |question: &&OpenQuestion| {
        question.member == draft.input.sender && question.can_be_dropped()
    };
    let newest = draft.kitchen.questions.iter().rev().find(mine).cloned();
    if cookbook::not_cooked(draft, newest.as_ref().map(|question| question.message)) {
        return undo::undo(draft);
    }
    let question = newest.ok_or(ProblemKind::NoQuestion)?;
    draft.push(Change::CloseQuestion(question.id));
    let about = question.waits().to_owned();
    Ok(Done::saying(Answer::Dropped { about }))
}
