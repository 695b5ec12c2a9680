//! What messages mean for the books, as tables: messages, and under a message the rows that it appends
//! to the journal and what it is answered.
//!
//! ```text
//! # the rule
//! Robin: batch dal / 500 g red lentils / cooked 1000      a message; " / " breaks its lines
//! edit 1: batch dal / 500 g red lentils / cooked 1100     its sender changes the first message
//! Ana to 1: make it 110                                   a reply to what was answered to the first
//! press 2 undo                                            the button under the answer to the second
//! later 31 minutes
//! among people                                            what follows is said in a group, not to the bot
//!   portion 140 g D1 -> Robin                             a row; where rows stand, they are all of them
//!   asks which_food: 140 g ... | ...                      a question, its options (by how they begin)
//!   problem too_much                                      a refusal: no row at all
//!   silence                                               neither answer nor row
//!   D1 lots 500 g until 2026-10-16; freezer [glass jar] 300 g until 2027-01-14      [in what it stands]
//!   D1 left 860 g | D1 net 1000 g | D1 open | D1 closed | D1 void
//!   taken 2 NDB 20045                                     line 2 of the answer was taken to be this food
//!   note slightly_more                                    a note stands in the answer
//!   no note reheat                                        there is an answer without that note
//!   why                                                   the answer tells where a caution comes from
//!   pending 2 unknown_food                                line 2 waits, with its problem
//! ```

mod home;

use std::path::Path;

use chrono::Duration;
use hobside::domain::answer::{Answer, Ask, Note, Press};
use hobside::domain::batch::Batch;
use hobside::domain::decide::Decision;
use hobside::domain::ids::{MemberId, MessageId};
use hobside::domain::kitchen::Choice;
use hobside::domain::ledger::{Account, Entry};
use home::{ANA, Home, ROBIN};

#[test]
fn every_table_holds() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decide");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the folder of tables")
        .map(|file| file.expect("a table").path())
        .collect();
    files.sort();
    let mut wrong = Vec::new();
    let mut rules = 0;
    for file in &files {
        let text = std::fs::read_to_string(file).expect("a readable table");
        for rule in text.split("\n# ").filter(|rule| rule.contains('\n')) {
            rules += 1;
            let name = rule.lines().next().unwrap_or_default();
            let found = Table::default().play(rule);
            wrong.extend(found.into_iter().map(|what| format!("{name}\n    {what}")));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(rules > 30, "only {rules} rules");
}

struct Table {
    home: Home,
    /// The message of every line that is one, from the first.
    messages: Vec<MessageId>,
    decision: Option<Decision>,
    said: String,
    /// Entries in the journal before the last message.
    before: usize,
}

impl Default for Table {
    fn default() -> Self {
        Self {
            home: Home::new(),
            messages: Vec::new(),
            decision: None,
            said: String::new(),
            before: 0,
        }
    }
}

impl Table {
    fn play(mut self, rule: &str) -> Vec<String> {
        let mut wrong = Vec::new();
        let mut expected: Vec<&str> = Vec::new();
        for line in rule.lines().skip(1).filter(|line| !line.trim().is_empty()) {
            match line.strip_prefix("  ") {
                Some(wanted) => expected.push(wanted.trim()),
                None => {
                    wrong.extend(self.check(&std::mem::take(&mut expected)));
                    self.say(line);
                }
            }
        }
        wrong.extend(self.check(&expected));
        wrong
    }

    fn say(&mut self, line: &str) {
        self.said = line.to_owned();
        self.before = self.home.journal.len();
        if let Some(minutes) = line
            .strip_prefix("later ")
            .and_then(|rest| rest.strip_suffix(" minutes"))
        {
            self.home.now += Duration::minutes(minutes.parse().expect("minutes"));
            return;
        }
        if line == "among people" {
            self.home.addressed = false;
            return;
        }
        let number = |word: &str| word.parse::<usize>().expect("the number of a message") - 1;
        if let Some(press) = line.strip_prefix("press ") {
            let (which, button) = press.split_once(' ').expect("press N BUTTON");
            let message = self.messages[number(which)];
            let press = match button {
                "undo" => Press::Undo { message },
                "redo" => Press::Redo { message },
                other => panic!("no button {other}"),
            };
            let who = self.home.sender_of(message);
            self.decision = Some(self.home.press(who, press));
            self.messages.push(self.home.last_message());
            return;
        }
        let (who, text) = line.split_once(": ").expect("WHO: TEXT");
        let text = text.replace(" / ", "\n");
        if let Some((who, which)) = who.split_once(" to ") {
            let to = self.messages[number(which)];
            self.decision = Some(self.home.reply(to, named(who), &text));
            self.messages.push(self.home.last_message());
            return;
        }
        if let Some(which) = who.strip_prefix("edit ") {
            self.decision = Some(self.home.edit(self.messages[number(which)], &text));
            return;
        }
        self.decision = Some(self.home.say(named(who), &text));
        self.messages.push(self.home.last_message());
    }

    fn check(&self, expected: &[&str]) -> Vec<String> {
        if expected.is_empty() {
            return Vec::new();
        }
        let decision = self
            .decision
            .as_ref()
            .expect("a message before what it gives");
        let appended: Vec<String> = self.home.journal[self.before..]
            .iter()
            .map(|(_, entry, _)| self.row(entry))
            .collect();
        let rows: Vec<&str> = expected
            .iter()
            .copied()
            .filter(|line| is_row(line))
            .collect();
        let mut wrong = Vec::new();
        let says_all = |line: &str| {
            let first = line.split(' ').next().unwrap_or_default();
            is_row(line) || ["asks", "problem", "silence", "unchanged"].contains(&first)
        };
        if expected.iter().any(|line| says_all(line)) && appended != rows {
            wrong.push(format!(
                "{}\n    appended:\n      {}\n    answered: {}",
                self.said,
                appended.join("\n      "),
                told(decision)
            ));
        }
        for line in expected.iter().filter(|line| !is_row(line)) {
            if let Err(found) = self.holds(decision, line) {
                wrong.push(format!(
                    "{}\n    wanted: {line}\n    found: {found}",
                    self.said
                ));
            }
        }
        wrong
    }

    fn holds(&self, decision: &Decision, line: &str) -> Result<(), String> {
        let (first, rest) = line.split_once(' ').unwrap_or((line, ""));
        let fits = match first {
            "asks" => asks(decision, rest),
            "problem" => decision.answers.iter().any(
                |answer| matches!(answer, Answer::Problem(problem) if problem.kind.code() == rest),
            ),
            "silence" => decision.answers.is_empty() && decision.changes.is_empty(),
            "unchanged" => decision.answers == [Answer::Unchanged],
            "taken" => taken(decision, rest),
            "note" => notes(decision).contains(&rest),
            "no" => {
                let note = rest.strip_prefix("note ").expect("no note ...");
                !decision.answers.is_empty() && !notes(decision).contains(&note)
            }
            "why" => matches!(decision.answers.as_slice(), [Answer::Why(_)]),
            "pending" => pending(decision).contains(&rest.to_owned()),
            _ => return self.state(first, rest),
        };
        fits.then_some(()).ok_or_else(|| told(decision))
    }

    fn state(&self, code: &str, wanted: &str) -> Result<(), String> {
        let batch = self.batch(code).ok_or_else(|| format!("no batch {code}"))?;
        let found = match wanted.split(' ').next() {
            Some("left") => format!("left {}", batch.left()),
            Some("net") => format!("net {}", batch.net_mass()),
            Some("named") => format!("named {}", batch.name),
            Some("open") | Some("closed") | Some("void") => match (batch.voided, batch.open) {
                (true, _) => "void".to_owned(),
                (false, true) => "open".to_owned(),
                (false, false) => "closed".to_owned(),
            },
            Some("lines") => {
                let lines = batch
                    .lines
                    .iter()
                    .map(|line| format!("{}: {}", line.number, line.text));
                format!("lines {}", lines.collect::<Vec<_>>().join(", "))
            }
            Some("origin") => format!("origin {}", batch.origin.word()),
            Some("pieces") => {
                let left = batch.in_pieces(batch.left()).unwrap_or_default();
                format!("pieces {}", (left * 100.0).round() / 100.0)
            }
            Some("lots") => format!("lots {}", self.lots(batch)),
            _ => panic!("nothing to compare {wanted} with"),
        };
        (found == wanted).then_some(()).ok_or(found)
    }

    /// What stands where, and until when: "500 g until 2026-10-16; freezer 300 g until 2027-01-14".
    fn lots(&self, batch: &Batch) -> String {
        let kitchen = &self.home.kitchen;
        let holding = batch.lots.iter().filter(|lot| lot.balance.mg() != 0);
        let told = holding.map(|lot| {
            let place = lot.place.and_then(|id| kitchen.place(id));
            let place = place.map_or(String::new(), |place| format!("{} ", place.name));
            let vessel = kitchen.vessel_name(lot);
            let vessel = vessel.map_or(String::new(), |name| format!("[{name}] "));
            let due = kitchen.use_by(batch, lot);
            let due = due.map_or(String::new(), |due| format!(" until {}", due.on));
            format!("{place}{vessel}{}{due}", lot.balance)
        });
        told.collect::<Vec<_>>().join("; ")
    }

    fn batch(&self, code: &str) -> Option<&Batch> {
        self.home
            .kitchen
            .batches
            .values()
            .find(|batch| batch.code == code)
    }

    fn row(&self, entry: &Entry) -> String {
        if entry.kind.word() == "fact" {
            return "fact".into();
        }
        let (from, to) = (self.account(entry.from), self.account(entry.to));
        format!("{} {} {from} -> {to}", entry.kind.word(), entry.mass)
    }

    fn account(&self, account: Account) -> String {
        let kitchen = &self.home.kitchen;
        let name = |id: MemberId| kitchen.member(id).map(|member| member.name.clone());
        match account {
            Account::Lot(id) => {
                let mut batches = kitchen.batches.values();
                let batch = batches.find(|batch| batch.lots.iter().any(|lot| lot.id == id));
                let Some(batch) = batch else {
                    return String::new();
                };
                let moved = batch.lot(id).filter(|lot| lot.came_from.is_some());
                let place = moved.and_then(|lot| kitchen.place(lot.place?));
                place.map_or(batch.code.clone(), |place| {
                    format!("{}@{}", batch.code, place.name)
                })
            }
            Account::Plate(id) => kitchen
                .plate(id)
                .and_then(|plate| name(plate.member))
                .unwrap_or_default(),
            other => other.kind().to_owned(),
        }
    }
}

fn named(who: &str) -> MemberId {
    match who {
        "Robin" => ROBIN,
        "Ana" => ANA,
        other => panic!("nobody is called {other}"),
    }
}

fn is_row(line: &str) -> bool {
    line == "fact" || line.contains(" -> ")
}

fn offered(ask: &Ask) -> impl Iterator<Item = &Choice> {
    ask.options.iter().filter(|option| option.is_offered())
}

/// "confirm: 150 g all the same | only the"
fn asks(decision: &Decision, wanted: &str) -> bool {
    let (about, options) = wanted.split_once(": ").unwrap_or((wanted, ""));
    let options: Vec<&str> = options
        .split(" | ")
        .filter(|option| !option.is_empty())
        .collect();
    decision.answers.iter().any(|answer| {
        let Answer::Ask(ask) = answer else {
            return false;
        };
        let begin = |(choice, option): (&Choice, &&str)| choice.label.starts_with(*option);
        ask.about.word() == about
            && (options.is_empty() || offered(ask).count() == options.len())
            && offered(ask).zip(&options).all(begin)
    })
}

/// "2 NDB 20045"
fn taken(decision: &Decision, wanted: &str) -> bool {
    let (number, code) = wanted
        .split_once(' ')
        .expect("the number of a line, and a food");
    let number: usize = number.parse().expect("the number of a line");
    let of = |answer: &Answer| match answer {
        Answer::Batch(answer) => {
            let line = answer
                .view
                .lines
                .iter()
                .find(|line| line.number as usize == number)?;
            line.food
        }
        Answer::Portion(answer) => {
            answer
                .plates
                .iter()
                .flat_map(|plate| &plate.lines)
                .nth(number - 1)?
                .food
        }
        _ => None,
    };
    decision
        .answers
        .iter()
        .filter_map(of)
        .any(|food| food.to_string() == code)
}

fn pending(decision: &Decision) -> Vec<String> {
    let of = |answer: &Answer| match answer {
        Answer::Batch(answer) => answer.pending.clone(),
        _ => Vec::new(),
    };
    let pending = decision.answers.iter().flat_map(of);
    pending
        .map(|(number, problem)| format!("{number} {}", problem.kind.code()))
        .collect()
}

fn notes(decision: &Decision) -> Vec<&'static str> {
    let of = |answer: &Answer| match answer {
        Answer::Batch(answer) => answer.notes.clone(),
        Answer::Portion(answer) => answer.notes.clone(),
        Answer::Waste(answer) => answer.notes.clone(),
        Answer::Count(answer) => answer.notes.clone(),
        Answer::Move(answer) => answer.notes.clone(),
        Answer::Undone(answer) => answer.notes.clone(),
        _ => Vec::new(),
    };
    let word = |note: Note| match note {
        Note::SlightlyMore { .. } => "slightly_more",
        Note::OddYield { .. } => "odd_yield",
        Note::WeightStands { .. } => "weight_stands",
        Note::NotCounted { .. } => "not_counted",
        Note::Avoided(_) => "avoided",
        Note::WholeBatch { .. } => "whole_batch",
        Note::OnePlaceOnly { .. } => "one_place_only",
        Note::MadeLater { .. } => "made_later",
        Note::MadeSince { .. } => "made_since",
        Note::PastDate { .. } => "past_date",
        Note::Caution(cautioned) => cautioned.caution.word(),
        Note::Finished { .. } => "finished",
        Note::RunsLow { .. } => "runs_low",
        Note::LowStock { .. } => "low_stock",
        Note::TakenBefore { .. } => "taken_before",
        Note::CheckScale { .. } => "check_scale",
        Note::OffPlates(_) => "off_plates",
        Note::NoMeal => "no_meal",
        Note::Recomputed { .. } => "recomputed",
    };
    decision.answers.iter().flat_map(of).map(word).collect()
}

/// What was answered, in short.
fn told(decision: &Decision) -> String {
    let short = |answer: &Answer| match answer {
        Answer::Ask(ask) => {
            let options: Vec<&str> = offered(ask).map(|option| option.label.as_str()).collect();
            format!("asks {}: {}", ask.about.word(), options.join(" | "))
        }
        Answer::Problem(problem) => format!("problem {}", problem.kind.code()),
        other => {
            let text = format!("{other:?}");
            text.chars().take(60).collect()
        }
    };
    let mut answers: Vec<String> = decision.answers.iter().map(short).collect();
    answers.extend(notes(decision).iter().map(|note| format!("note {note}")));
    answers.extend(
        pending(decision)
            .iter()
            .map(|line| format!("pending {line}")),
    );
    answers.join("; ")
}
