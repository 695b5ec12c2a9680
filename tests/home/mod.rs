//! A household in memory: the language and the domain without a store. Every change is carried
//! forward by the fold, and the journal is kept beside it for an auditor with sums of its own.

#![allow(dead_code, reason = "each test file uses a part of it")]

use std::collections::{BTreeMap, HashMap, HashSet};

use chrono::{DateTime, Duration, TimeZone, Utc};
use hobside::domain::act::{Act, ActEntry};
use hobside::domain::answer::{Answer, Press};
use hobside::domain::batch::Batch;
use hobside::domain::caution::{self, Said};
use hobside::domain::change::{Change, Detail};
use hobside::domain::clock::ClockBooks;
use hobside::domain::decide::{Decision, Input, Outcome, Saying, decide};
use hobside::domain::ids::*;
use hobside::domain::kitchen::*;
use hobside::domain::ledger::{Account, Entry};
use hobside::domain::mass::Mass;
use hobside::domain::personal::PersonalBooks;
use hobside::domain::table::Table;
use hobside::lang;

#[derive(Clone)]
pub struct Home {
    pub kitchen: Kitchen,
    pub journal: Vec<(MessageId, Entry, Option<Detail>)>,
    /// Who said it, by which words it is in the books, and when.
    texts: HashMap<MessageId, (MemberId, String, DateTime<Utc>)>,
    /// The words of an edit that asks before the books follow it.
    asked: HashMap<MessageId, String>,
    /// What the books had before such an edit was confirmed.
    unasked: HashMap<MessageId, String>,
    /// When a message was last edited, as the number of the message that came next.
    revised: HashMap<MessageId, MessageId>,
    /// By the message that answered: the question, and the entries that the answer wrote.
    answers: HashMap<MessageId, (OpenQuestion, EntryId, EntryId)>,
    /// Messages that raised a question which was answered: what they say is not the whole of it.
    pub answered: HashSet<MessageId>,
    pub now: DateTime<Utc>,
    /// Whether messages are to the bot (a private chat) or among people (a group).
    pub addressed: bool,
    /// What was cautioned of last.
    cautioned: Option<Said>,
    messages: i64,
}

pub const ROBIN: MemberId = MemberId(1);
pub const ANA: MemberId = MemberId(2);

impl Home {
    pub fn new() -> Self {
        let member = |id, name: &str| Member {
            keeper: id == ROBIN,
            ..Member::new(id, name, true)
        };
        Home {
            kitchen: Kitchen {
                defaults: Settings::of_zone(chrono_tz::Europe::Dublin),
                chosen: Vec::new(),
                table: Table::of(
                    vec![member(ROBIN, "Robin"), member(ANA, "Ana")],
                    &PersonalBooks::default(),
                ),
                components: Vec::new(),
                places: Vec::new(),
                own_days: Vec::new(),
                containers: Vec::new(),
                batches: BTreeMap::new(),
                eaten_before: BTreeMap::new(),
                authors: BTreeMap::new(),
                profiles: BTreeMap::new(),
                packets: Vec::new(),
                measures: Vec::new(),
                choices: Vec::new(),
                plain_eaten: Vec::new(),
                plates_lately: Default::default(),
                questions: Vec::new(),
                recent: Vec::new(),
                pointed: Vec::new(),
                undone: Vec::new(),
                corrections: Vec::new(),
                prep: Default::default(),
                clock: ClockBooks::default(),
                personal: Default::default(),
                plates: Vec::new(),
                told_privately: Default::default(),
                next: Next {
                    member: 3,
                    entry: 1,
                    account: 100,
                    batch: 1,
                    component: 1,
                    place: 1,
                    container: 1,
                    profile: 1,
                    question: 1,
                },
            },
            journal: Vec::new(),
            texts: HashMap::new(),
            asked: HashMap::new(),
            unasked: HashMap::new(),
            revised: HashMap::new(),
            answers: HashMap::new(),
            answered: HashSet::new(),
            now: Utc.with_ymd_and_hms(2026, 10, 14, 18, 0, 0).unwrap(),
            addressed: true,
            cautioned: None,
            messages: 0,
        }
    }

    pub fn say(&mut self, who: MemberId, text: &str) -> Decision {
        self.say_to(None, who, text)
    }

    /// A message that replies to what was answered to another.
    pub fn reply(&mut self, to: MessageId, who: MemberId, text: &str) -> Decision {
        self.say_to(Some(to), who, text)
    }

    fn say_to(&mut self, to: Option<MessageId>, who: MemberId, text: &str) -> Decision {
        self.messages += 1;
        let id = MessageId(self.messages);
        self.now += Duration::minutes(1);
        self.texts.insert(id, (who, text.into(), self.now));
        let parsed = lang::parse(text, &self.kitchen.vocabulary());
        let input = Input {
            replies_to: to,
            pointed: to.and_then(|to| self.act(to)),
            ..self.input(id, who, text, Saying::Message(parsed))
        };
        self.run(&input)
    }

    /// The sender changes an earlier message.
    pub fn edit(&mut self, message: MessageId, text: &str) -> Decision {
        let (who, old, said_at) = self.texts[&message].clone();
        self.now += Duration::minutes(1);
        let vocabulary = self.kitchen.vocabulary();
        let saying = Saying::Edit {
            before: lang::parse(&old, &vocabulary),
            after: lang::parse(text, &vocabulary),
        };
        let input = Input {
            said_at,
            pointed: self.act(message),
            answered: self.answered_by(message),
            ..self.input(message, who, text, saying)
        };
        let stood = input.pointed.as_ref().is_some_and(Act::stands);
        let decision = self.run(&input);
        self.revised.insert(message, MessageId(self.messages + 1));
        if stood && decision.outcome != Outcome::Recorded {
            self.asked.insert(message, text.into());
        } else {
            self.texts.insert(message, (who, text.into(), said_at));
        }
        decision
    }

    pub fn press(&mut self, who: MemberId, press: Press) -> Decision {
        self.messages += 1;
        let id = MessageId(self.messages);
        let pointed = match press {
            Press::Undo { message } | Press::Redo { message } => self.act(message),
            Press::Choose { .. } | Press::Clock(_) | Press::Tick { .. } => None,
            Press::ListPlan | Press::SetUp => None,
        };
        self.texts.insert(id, (who, String::new(), self.now));
        let input = Input {
            pointed,
            ..self.input(id, who, "", Saying::Press(press))
        };
        self.run(&input)
    }

    fn input(&self, message: MessageId, sender: MemberId, text: &str, saying: Saying) -> Input {
        Input {
            message,
            sender,
            now: self.now,
            said_at: self.now,
            addressed: self.addressed,
            forwarded: false,
            private: false,
            confirmed: false,
            anyway: false,
            text: text.into(),
            saying,
            pointed: None,
            replies_to: None,
            answered: None,
            cautioned: self.cautioned.clone(),
            spoken: Vec::new(),
        }
    }

    fn run(&mut self, input: &Input) -> Decision {
        let (message, sender) = (input.message, input.sender);
        self.kitchen.recent = self.recent(sender);
        let mut every: Vec<MessageId> = self.journal.iter().map(|(message, ..)| *message).collect();
        every.sort();
        every.dedup();
        let every: Vec<Act> = every.into_iter().filter_map(|id| self.act(id)).collect();
        let asked = self.kitchen.questions.iter();
        let asked: Vec<MessageId> = asked.filter_map(|open| open.pointed).collect();
        self.kitchen.pointed = asked.into_iter().filter_map(|id| self.act(id)).collect();
        self.kitchen.undone = every.clone();
        self.kitchen.corrections = every;
        let decision = decide(&self.kitchen, input);
        self.remember_cautions(&decision);
        if decision.credit != message {
            self.answered.insert(decision.credit);
        }
        let before = self.kitchen.questions.clone();
        for change in &decision.changes {
            self.kitchen.apply(change);
            match change {
                Change::Entry { entry, detail } => {
                    self.journal
                        .push((decision.credit, entry.clone(), detail.clone()));
                }
                Change::Answered {
                    question,
                    message,
                    first,
                    after,
                } => {
                    let reopened = decision.changes.iter().find_map(|change| match change {
                        Change::Reopen(open) => Some(open),
                        _ => None,
                    });
                    let mut known = before.iter().chain(reopened);
                    let open = known
                        .find(|open| open.id == *question)
                        .expect("it was open");
                    self.answers
                        .insert(*message, (open.clone(), *first, *after));
                    if let Some(text) = self.asked.remove(&open.message)
                        && let Some(said) = self.texts.get_mut(&open.message)
                        && decision.outcome == Outcome::Recorded
                    {
                        self.unasked.insert(open.message, said.1.clone());
                        said.1 = text;
                    }
                }
                _ => {}
            }
        }
        if decision.leaves_asked()
            && let Some(text) = self.unasked.remove(&decision.credit)
            && let Some(said) = self.texts.get_mut(&decision.credit)
        {
            self.asked.insert(decision.credit, said.1.clone());
            said.1 = text;
        }
        for batch in self.kitchen.batches.values() {
            let opening = batch.entry.expect("a batch is opened by an entry");
            let reversals = self
                .journal
                .iter()
                .filter(|(_, entry, _)| entry.root == Some(opening));
            assert_eq!(
                batch.voided,
                reversals.count() % 2 == 1,
                "{} is void",
                batch.code
            );
        }
        decision
    }

    fn remember_cautions(&mut self, decision: &Decision) {
        let cautions = caution::of(&decision.answers);
        if !cautions.is_empty() {
            let (at, meant) = (self.now, true);
            self.cautioned = Some(Said {
                cautions,
                at,
                meant,
                dated: None,
            });
        } else if let (Some(said), false) = (&mut self.cautioned, decision.answers.is_empty()) {
            said.meant = false;
        }
    }

    /// Messages that answered a question, and are still what it was answered by.
    pub fn answering(&self) -> Vec<MessageId> {
        let messages = self.answers.keys().copied();
        let typed = messages.filter(|id| !self.text_of(*id).is_empty());
        let mut answering: Vec<MessageId> = typed.collect();
        answering.sort();
        answering
    }

    /// The question that a message answered, unless what that was about was edited since.
    pub fn answered_by(&self, message: MessageId) -> Option<Answered> {
        let (question, first, after) = self.answers.get(&message)?.clone();
        if self.revised.get(&question.message).copied() > Some(message) {
            return None;
        }
        let mut wrote = self.act(question.message);
        if let Some(act) = &mut wrote {
            act.entries.retain(|entry| {
                entry.entry.id >= first && (first == after || entry.entry.id < after)
            });
        }
        Some(Answered { question, wrote })
    }

    pub fn last_message(&self) -> MessageId {
        MessageId(self.messages)
    }

    pub fn text_of(&self, message: MessageId) -> &str {
        &self.texts[&message].1
    }

    pub fn sender_of(&self, message: MessageId) -> MemberId {
        self.texts[&message].0
    }

    /// What a message has in the books.
    pub fn act(&self, message: MessageId) -> Option<Act> {
        let (member, text, sent_at) = self.texts.get(&message)?.clone();
        let details: HashMap<EntryId, Option<Detail>> = self
            .journal
            .iter()
            .map(|(_, entry, detail)| (entry.id, detail.clone()))
            .collect();
        let of_message = self
            .journal
            .iter()
            .filter(|(credit, ..)| *credit == message);
        let entries: Vec<ActEntry> = of_message
            .map(|(_, entry, _)| {
                let root = entry.root.unwrap_or(entry.id);
                let chain: Vec<EntryId> = self
                    .journal
                    .iter()
                    .filter(|(_, other, _)| other.root == Some(root))
                    .map(|(_, other, _)| other.id)
                    .collect();
                let place = chain.iter().position(|id| *id == entry.id);
                ActEntry {
                    detail: details[&root].clone(),
                    live: match place {
                        Some(place) => chain.len() % 2 == (place + 1) % 2,
                        None => chain.len().is_multiple_of(2),
                    },
                    tip: chain.last().copied().unwrap_or(root),
                    takes_back: place.is_some_and(|place| place % 2 == 0),
                    entry: entry.clone(),
                }
            })
            .collect();
        (!entries.is_empty()).then_some(Act {
            message,
            member,
            text,
            revised: self.revised.get(&message).copied().unwrap_or(message),
            sent_at,
            entries,
        })
    }

    fn recent(&self, sender: MemberId) -> Vec<Act> {
        let mut messages: Vec<MessageId> = Vec::new();
        for (message, ..) in self.journal.iter().rev() {
            if !messages.contains(message) {
                messages.push(*message);
            }
        }
        let acts = messages.into_iter().filter_map(|message| self.act(message));
        acts.filter(|act| act.member == sender).take(8).collect()
    }

    /// The auditor's own sums: every account's balance from the journal alone.
    pub fn audit(&self) -> HashMap<Account, i64> {
        let mut sums: HashMap<Account, i64> = HashMap::new();
        for (_, entry, _) in &self.journal {
            *sums.entry(entry.from).or_default() -= entry.mass.mg();
            *sums.entry(entry.to).or_default() += entry.mass.mg();
        }
        sums
    }

    /// The batch of this name that was opened last.
    pub fn batch(&self, name: &str) -> &Batch {
        let named = self
            .kitchen
            .batches
            .values()
            .filter(|batch| batch.name == name);
        named
            .max_by_key(|batch| batch.id)
            .unwrap_or_else(|| panic!("no batch {name}"))
    }

    pub fn left(&self, name: &str) -> Mass {
        self.batch(name).left()
    }
}

/// The first portion among the answers.
pub fn portion(decision: &Decision) -> &hobside::domain::answer::PortionAnswer {
    let portion = decision.answers.iter().find_map(|answer| match answer {
        Answer::Portion(portion) => Some(portion),
        _ => None,
    });
    portion.unwrap_or_else(|| panic!("no portion in {:#?}", decision.answers))
}
