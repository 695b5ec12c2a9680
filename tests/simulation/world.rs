//! The world around the bot: people, a server that repeats and reorders, a clock that jumps, and deaths at any wait for
//! the file. A twin on books of its own, who is spared all of that, does the same acts, and must have the same books.

use std::collections::{HashMap, HashSet, VecDeque};

use chrono::{DateTime, Duration, Utc};
use hobside::service::{Inbound, Kind, Outgoing, Received, Revision, Sender};
use hobside::store::OutboxId;

use crate::bot::{Act, Bot, CHANNEL, Done, Mark};
use crate::chance::Chance;
use crate::plain::{POT, Plain, Says};

/// An act waits for the file so often, at most: a death comes at any of them, or before the first.
const WAITS: usize = 160;

/// How often a thing goes wrong, in ten thousand.
pub struct Rates {
    pub death: usize,
    pub repeat: usize,
    pub swap: usize,
    pub jump: usize,
    pub refusal: usize,
    /// Hold the books against the twin's after every act, and not only after deaths: slow, and finds the very act.
    pub closely: bool,
}

impl Rates {
    pub fn of(percent: usize) -> Self {
        Self {
            death: percent,
            repeat: 6 * percent,
            swap: 8 * percent,
            jump: percent / 4,
            refusal: 4 * percent,
            closely: std::env::var_os("HOBSIDE_SIM_CLOSELY").is_some(),
        }
    }
}

/// What came of a life, for whoever reads the figures.
#[derive(Debug, Default)]
pub struct Tally {
    pub steps: u64,
    pub messages: u64,
    pub edits: u64,
    pub presses: u64,
    pub repeats: u64,
    pub deaths: u64,
    pub jumps: u64,
    pub entries: u64,
    pub answers: u64,
    pub refusals: u64,
}

impl std::ops::AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.steps += other.steps;
        self.messages += other.messages;
        self.edits += other.edits;
        self.presses += other.presses;
        self.repeats += other.repeats;
        self.deaths += other.deaths;
        self.jumps += other.jumps;
        self.entries += other.entries;
        self.answers += other.answers;
        self.refusals += other.refusals;
    }
}

struct Kitchen {
    chat: String,
    people: Vec<String>,
    /// Its grams are known; another one says anything.
    plain: Option<Plain>,
}

pub struct World<'a> {
    chance: Chance,
    rates: Rates,
    texts: &'a [String],
    bot: Option<Bot>,
    twin: Bot,
    /// The server's time, and how far the box is off.
    time: DateTime<Utc>,
    off: Duration,
    kitchens: Vec<Kitchen>,
    ids: i64,
    /// Updates that are not confirmed, and the last one that was.
    queue: VecDeque<Inbound>,
    last: Option<Inbound>,
    /// The newest revision of every message that anybody sent from where the bot was let in.
    sent: HashMap<(String, String), i64>,
    said: Vec<Inbound>,
    offers: Vec<(String, String, String)>,
    marks: Vec<Mark>,
    shown: HashMap<String, Vec<OutboxId>>,
    seen: HashSet<OutboxId>,
    pub tally: Tally,
}

impl<'a> World<'a> {
    pub async fn begin(seed: u64, rates: Rates, texts: &'a [String]) -> Self {
        let time: DateTime<Utc> = "2026-10-14T17:00:00Z".parse().expect("a time");
        let mut bot = Bot::new().await;
        let kitchens: Vec<Kitchen> = (0..4)
            .map(|number| Kitchen {
                chat: format!("-100{number}"),
                people: (0..3).map(|who| format!("{}", 10 * number + who)).collect(),
                plain: (number % 2 == 0).then(Plain::default),
            })
            .collect();
        for kitchen in &kitchens {
            let code = bot.service.invite(time).await.expect("a code");
            let first = format!("/start {code}");
            let mut words: Vec<&str> = vec![&first];
            words.extend(kitchen.plain.as_ref().map(|_| POT));
            for (number, text) in words.into_iter().enumerate() {
                let id = format!("first{number}");
                let mut inbound = inbound(&kitchen.chat, &kitchen.people[0], &id, text, time);
                inbound.revision = Revision::Numbered(1);
                bot.act(&Act::Receive(Box::new(inbound)), time).await;
                bot.act(&Act::Handle, time).await;
            }
        }
        Self {
            chance: Chance(seed),
            rates,
            texts,
            twin: bot.twin().await,
            bot: Some(bot),
            time,
            off: Duration::zero(),
            kitchens,
            ids: 1,
            queue: VecDeque::new(),
            last: None,
            sent: HashMap::new(),
            said: Vec::new(),
            offers: Vec::new(),
            marks: Vec::new(),
            shown: HashMap::new(),
            seen: HashSet::new(),
            tally: Tally::default(),
        }
    }

    fn hit(&mut self, in_ten_thousand: usize) -> bool {
        self.chance.below(10_000) < in_ten_thousand
    }

    fn now(&self) -> DateTime<Utc> {
        self.time + self.off
    }

    pub async fn step(&mut self) {
        self.tally.steps += 1;
        self.time += Duration::seconds(self.chance.below(90) as i64);
        if self.hit(self.rates.jump) {
            self.jump();
        }
        match self.chance.below(20) {
            0..=7 => self.somebody_speaks(),
            8..=11 => self.poll().await,
            12..=15 => drop(self.handle().await),
            16..=18 => self.deliver().await,
            _ => {
                self.act(Act::Due).await;
                self.act(Act::Boards).await;
            }
        }
    }

    /// The box's clock is set wrong or right, or the box was off for a while.
    fn jump(&mut self) {
        self.tally.jumps += 1;
        match self.chance.below(4) {
            0 => self.off = Duration::zero(),
            1 => self.off = Duration::minutes(self.chance.below(600) as i64 - 300),
            2 => self.off = Duration::days(self.chance.below(800) as i64 - 400),
            _ => self.time += Duration::hours(self.chance.below(24 * 9) as i64),
        }
    }

    /// Do it, or die over it; nothing is given back then. Whatever the file has of it in the end, the twin does too.
    async fn act(&mut self, act: Act) -> Option<Done> {
        let now = self.now();
        if !self.hit(self.rates.death) {
            let done = self.bot().act(&act, now).await;
            self.twin_does(&act, now, Some(&done)).await;
            if self.rates.closely {
                let books = self.bot.as_mut().expect("it lives").books().await;
                let what = format!("step {}, {act:?}", self.tally.steps);
                books.assert_same(&self.twin.books().await, &what);
            }
            return Some(done);
        }
        self.tally.deaths += 1;
        // What falls due is said chat by chat, each in a transaction of its own: that dies between two lives only.
        let waits = match act {
            Act::Due => 0,
            _ => self.chance.below(WAITS),
        };
        let bot = self.bot.take().expect("it lives");
        bot.begin(&act, now, waits).await;
        let mut bot = bot.dead().await;
        bot.check().await;
        bot.audit().await;
        let books = bot.books().await;
        self.bot = Some(bot);
        if books != self.twin.books().await {
            self.twin_does(&act, now, None).await;
            let what = format!(
                "step {}, a death after {waits} waits in {act:?}",
                self.tally.steps
            );
            books.assert_same(&self.twin.books().await, &what);
        }
        self.marks.clear();
        None
    }

    fn bot(&self) -> &Bot {
        self.bot.as_ref().expect("it lives")
    }

    async fn twin_does(&mut self, act: &Act, now: DateTime<Utc>, done: Option<&Done>) {
        self.twin.mark(&std::mem::take(&mut self.marks));
        let twins = self.twin.act(act, now).await;
        if let Some(done) = done {
            assert_eq!(*done, twins, "{act:?}");
        }
        if let Done::Handled(Some(handled)) = &twins {
            assert!(handled.outcome.is_some(), "a message broke: {handled:?}");
        }
    }

    fn somebody_speaks(&mut self) {
        if self.chance.below(40) == 0 {
            let text = self.chance.one(self.texts);
            return self.send(inbound("666", "666", "", &text, self.time), None, false);
        }
        let number = self.chance.below(self.kitchens.len());
        let kitchen = &mut self.kitchens[number];
        let chat = kitchen.chat.clone();
        if let Some(plain) = &mut kitchen.plain {
            let id = (self.ids + 1).to_string();
            let says = plain.speak(&mut self.chance, &id, kitchen.people.len());
            let person = |who: usize| kitchen.people[who].clone();
            match says {
                Says::New { who, text } => {
                    let inbound = inbound(&chat, &person(who), "", &text, self.time);
                    self.send(inbound, None, true);
                }
                Says::Edit { who, id, text } => {
                    let inbound = inbound(&chat, &person(who), &id, &text, self.time);
                    self.send(inbound, None, true);
                }
                Says::Press { who, on, press } => {
                    let inbound = inbound(&chat, &person(who), "", &press, self.time);
                    self.send(inbound, Some(on), true);
                }
            }
            return;
        }
        let person = self.chance.one(&kitchen.people);
        let text = self.chance.one(self.texts);
        let place = match self.chance.below(6) {
            0 => person.clone(),
            _ => chat,
        };
        match self.chance.below(10) {
            0 | 1 if !self.said.is_empty() => {
                let lately = self.said.len().saturating_sub(20);
                let at = self.chance.within(lately..self.said.len());
                let mut edit = self.said[at].clone();
                edit.text = text;
                self.tally.edits += 1;
                self.send(edit, None, false);
            }
            2 | 3 if !self.offers.is_empty() => {
                let lately = self.offers.len().saturating_sub(20);
                let at = self.chance.within(lately..self.offers.len());
                let (chat, on, press) = self.offers[at].clone();
                self.send(
                    inbound(&chat, &person, "", &press, self.time),
                    Some(on),
                    false,
                );
            }
            4 if !self.offers.is_empty() => {
                let (_, on, _) = self.chance.one(&self.offers);
                let mut reply = inbound(&place, &person, "", &text, self.time);
                reply.reply_to = Some(on);
                self.send(reply, None, false);
            }
            _ => self.send(inbound(&place, &person, "", &text, self.time), None, false),
        }
    }

    /// The server has one more update; a press stands on one of the bot's messages.
    fn send(&mut self, mut inbound: Inbound, pressed_on: Option<String>, plain: bool) {
        self.ids += 1;
        inbound.revision = Revision::Numbered(self.ids);
        if inbound.external_id.is_empty() {
            inbound.external_id = self.ids.to_string();
        }
        match pressed_on {
            Some(on) => {
                self.tally.presses += 1;
                inbound.kind = Kind::Press;
                inbound.reply_to = Some(on);
            }
            None => {
                self.tally.messages += 1;
                if !plain {
                    self.said.push(inbound.clone());
                }
            }
        }
        self.queue.push_back(inbound);
    }

    /// Fetch some updates and store them; they are confirmed when all are stored, or else come again.
    async fn poll(&mut self) {
        let count = self.queue.len().min(1 + self.chance.below(5));
        let mut updates: Vec<Inbound> = self.queue.iter().take(count).cloned().collect();
        if updates.len() > 1 && self.hit(self.rates.swap) {
            let at = self.chance.below(updates.len() - 1);
            updates.swap(at, at + 1);
        }
        if self.hit(self.rates.repeat) {
            self.tally.repeats += 1;
            updates.extend(self.last.clone());
        }
        for update in &updates {
            let Some(done) = self.act(Act::Receive(Box::new(update.clone()))).await else {
                return;
            };
            self.stored(update, &done);
        }
        if count > 0 {
            self.last = self.queue.drain(..count).next_back();
        }
    }

    fn stored(&mut self, update: &Inbound, done: &Done) {
        let key = (update.chat.clone(), update.external_id.clone());
        let Revision::Numbered(number) = update.revision else {
            unreachable!("updates are numbered")
        };
        let newest = self.sent.get(&key).copied();
        let Done::Received(received) = done else {
            unreachable!("it was received")
        };
        match received {
            Received::TurnedAway => return,
            Received::LetIn | Received::Conflict => panic!("{update:?}: {received:?}"),
            // It may have been stored by a life that died before it could say so.
            Received::Stored(_) => assert!(newest.is_none_or(|known| known < number)),
            Received::Repeated => assert!(newest.is_none_or(|known| known <= number)),
            Received::Superseded => {}
        }
        let newest = newest.unwrap_or(number).max(number);
        self.sent.insert(key, newest);
    }

    /// Book the oldest message; false if none waits.
    async fn handle(&mut self) -> bool {
        let waits = self.act(Act::Handle).await != Some(Done::Handled(None));
        if !waits && self.queue.is_empty() {
            let plain = self.kitchens.iter_mut();
            plain
                .filter_map(|kitchen| kitchen.plain.as_mut())
                .for_each(Plain::all_is_booked);
        }
        waits
    }

    /// Send what waits, in order in each chat; the channel may fail, refuse, or die after the effect.
    async fn deliver(&mut self) {
        let pending = self.bot().service.pending(CHANNEL).await;
        let mut held: HashSet<String> = HashSet::new();
        for outgoing in pending.expect("it can be read") {
            if held.contains(&outgoing.chat) {
                continue;
            }
            if self.hit(self.rates.refusal) {
                self.tally.refusals += 1;
                held.insert(outgoing.chat.clone());
                let act = match self.chance.below(6) {
                    0 => Act::Aside(outgoing.id),
                    1..3 => Act::Failed(outgoing.id),
                    // The effect came, and no word of it.
                    _ => {
                        self.show(&outgoing);
                        continue;
                    }
                };
                if self.act(act).await.is_none() {
                    return;
                }
                continue;
            }
            let external_id = self.show(&outgoing);
            let mark = Mark {
                outgoing,
                external_id,
                at: self.now(),
            };
            self.bot().mark(std::slice::from_ref(&mark));
            self.marks.push(mark);
        }
        if self.chance.below(2) == 0 {
            self.act(Act::Settle).await;
        }
    }

    /// People see it, and what they can press.
    fn show(&mut self, outgoing: &Outgoing) -> String {
        self.tally.answers += 1;
        let external_id = format!("t{}-{}", outgoing.id.0, self.tally.answers);
        if self.seen.insert(outgoing.id) {
            let shown = self.shown.entry(outgoing.chat.clone()).or_default();
            // A board goes before the answers.
            if outgoing.board.is_none() {
                assert!(
                    shown.last().is_none_or(|last| *last < outgoing.id),
                    "{outgoing:?} was overtaken"
                );
                shown.push(outgoing.id);
            }
        }
        let mut kitchens = self.kitchens.iter_mut();
        let here = kitchens.find(|kitchen| kitchen.chat == outgoing.chat);
        match here.and_then(|kitchen| kitchen.plain.as_mut()) {
            Some(plain) => plain.hears(outgoing, &external_id),
            None => {
                let buttons = outgoing.buttons.iter().flatten();
                self.offers.extend(
                    buttons.map(|(_, press)| {
                        (outgoing.chat.clone(), external_id.clone(), press.clone())
                    }),
                );
            }
        }
        external_id
    }

    /// The luck turns: everything is booked, said and marked, and then looked at.
    pub async fn end(mut self) -> Tally {
        self.rates = Rates::of(0);
        while !self.queue.is_empty() {
            self.poll().await;
        }
        while self.handle().await {}
        for round in 0.. {
            self.time += Duration::minutes(1);
            self.act(Act::Due).await;
            self.act(Act::Boards).await;
            let pending = self.bot().service.pending(CHANNEL).await;
            if pending.expect("it can be read").is_empty() {
                break;
            }
            assert!(round < 1000, "there is always more to say");
            self.deliver().await;
            self.act(Act::Settle).await;
        }
        let bot = self.bot.as_mut().expect("it lives");
        bot.check().await;
        let books = bot.books().await;
        books.assert_same(&self.twin.books().await, "in the end");
        let (left, taken) = (bot.audit().await, bot.taken().await);
        for (number, kitchen) in self.kitchens.iter().enumerate() {
            if let Some(plain) = &kitchen.plain {
                for (id, mg) in plain.taken() {
                    let key = (kitchen.chat.clone(), id.to_owned());
                    let own = taken.get(&key).copied().unwrap_or(0);
                    assert_eq!(own, mg, "message {id} in {}", kitchen.chat);
                }
                let pot = (number as i64 + 1, "barley".to_owned());
                assert_eq!(
                    left[&pot],
                    plain.left_mg(),
                    "the barley of {}",
                    kitchen.chat
                );
            }
        }
        bot.account_for(&self.sent).await;
        self.tally.entries = books.count("entry");
        self.tally
    }
}

fn inbound(chat: &str, person: &str, id: &str, text: &str, at: DateTime<Utc>) -> Inbound {
    Inbound {
        channel: CHANNEL,
        chat: chat.to_owned(),
        chat_name: None,
        external_id: id.to_owned(),
        revision: Revision::Numbered(0),
        kind: Kind::Message,
        sender: Sender {
            id: person.to_owned(),
            name: format!("Robin {person}"),
        },
        text: text.to_owned(),
        reply_to: None,
        topic: None,
        private: !chat.starts_with('-'),
        forwarded: false,
        household_chat: None,
        sent_at: at,
    }
}
