//! A household in memory: the language and the domain without a store. Every change is carried
//! forward by the fold, and the journal is kept beside it for an auditor with sums of its own.

#![allow(dead_code, reason = "each test file uses a part of it")]

use std::collections::{BTreeMap, HashMap, HashSet};

use chrono::{DateTime, Duration, TimeZone, Utc};
use hobside::domain::act::{Act, ActEntry};
use hobside::domain::answer::{Answer, Press};
use hobside::domain::batch::Batch;
use hobside::domain::change::{Change, Detail};
use hobside::domain::decide::{Decision, Input, Saying, decide};
use hobside::domain::ids::*;
use hobside::domain::kitchen::*;
use hobside::domain::ledger::{Account, Entry};
use hobside::domain::mass::Mass;
use hobside::lang;
use hobside::lang::syntax::{AnswerStyle, MeasureSystem};

#[derive(Clone)]
pub struct Home {
    pub kitchen: Kitchen,
    pub journal: Vec<(MessageId, Entry, Option<Detail>)>,
    texts: HashMap<MessageId, (MemberId, String, DateTime<Utc>)>,
    /// Messages that raised a question which was answered: what they say is not the whole of it.
    pub answered: HashSet<MessageId>,
    pub now: DateTime<Utc>,
    /// Whether messages are to the bot (a private chat) or among people (a group).
    pub addressed: bool,
    messages: i64,
}

pub const ROBIN: MemberId = MemberId(1);
pub const ANA: MemberId = MemberId(2);

impl Home {
    pub fn new() -> Self {
        let member = |id, name: &str| Member {
            id,
            name: name.into(),
            keeper: id == ROBIN,
        };
        Home {
            kitchen: Kitchen {
                defaults: Settings {
                    zone: chrono_tz::Europe::Dublin,
                    measures: MeasureSystem::UsCustomary,
                    answers: AnswerStyle::Full,
                },
                chosen: Vec::new(),
                members: vec![member(ROBIN, "Robin"), member(ANA, "Ana")],
                components: Vec::new(),
                places: Vec::new(),
                containers: Vec::new(),
                batches: BTreeMap::new(),
                profiles: BTreeMap::new(),
                packets: Vec::new(),
                measures: Vec::new(),
                choices: Vec::new(),
                questions: Vec::new(),
                recent: Vec::new(),
                pointed: Vec::new(),
                plates: Vec::new(),
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
            answered: HashSet::new(),
            now: Utc.with_ymd_and_hms(2026, 10, 14, 18, 0, 0).unwrap(),
            addressed: true,
            messages: 0,
        }
    }

    pub fn say(&mut self, who: MemberId, text: &str) -> Decision {
        self.messages += 1;
        let id = MessageId(self.messages);
        self.now += Duration::minutes(1);
        self.texts.insert(id, (who, text.into(), self.now));
        let parsed = lang::parse(text, &self.kitchen.vocabulary());
        self.run(id, who, text, self.now, Saying::Message(parsed), None)
    }

    /// The sender changes an earlier message.
    pub fn edit(&mut self, message: MessageId, text: &str) -> Decision {
        let (who, old, sent_at) = self.texts[&message].clone();
        self.now += Duration::minutes(1);
        let vocabulary = self.kitchen.vocabulary();
        let saying = Saying::Edit {
            before: lang::parse(&old, &vocabulary),
            after: lang::parse(text, &vocabulary),
        };
        let pointed = self.act(message);
        let decision = self.run(message, who, text, sent_at, saying, pointed);
        self.texts.insert(message, (who, text.into(), sent_at));
        decision
    }

    pub fn press(&mut self, who: MemberId, press: Press) -> Decision {
        self.messages += 1;
        let pointed = match press {
            Press::Undo { message } | Press::Redo { message } => self.act(message),
            Press::Choose { .. } => None,
        };
        let id = MessageId(self.messages);
        self.texts.insert(id, (who, String::new(), self.now));
        self.run(id, who, "", self.now, Saying::Press(press), pointed)
    }

    fn run(
        &mut self,
        message: MessageId,
        sender: MemberId,
        text: &str,
        said_at: DateTime<Utc>,
        saying: Saying,
        pointed: Option<Act>,
    ) -> Decision {
        self.kitchen.recent = self.recent(sender);
        let input = Input {
            message,
            sender,
            now: self.now,
            said_at,
            addressed: self.addressed,
            forwarded: false,
            confirmed: false,
            text: text.into(),
            saying,
            pointed,
        };
        let decision = decide(&self.kitchen, &input);
        if decision.credit != message {
            self.answered.insert(decision.credit);
        }
        for change in &decision.changes {
            self.kitchen.apply(change);
            if let Change::Entry { entry, detail } = change {
                self.journal
                    .push((decision.credit, entry.clone(), detail.clone()));
            }
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
