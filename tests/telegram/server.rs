//! A Bot API server on loopback: strict about what it takes, and as unreliable as it is told to be.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::form;
use crate::http::{Reply, Request, serve};
use crate::methods;

pub const TOKEN: &str = "4839201:an-invented_SECRET-of-35-letters0123";
pub const USERNAME: &str = "stove_side_bot";

/// How long a test waits for something that should come soon.
const PATIENCE: Duration = Duration::from_secs(45);

#[derive(Clone)]
pub struct Server {
    shared: Arc<Shared>,
    port: u16,
}

struct Shared {
    state: Mutex<State>,
    changed: Condvar,
}

/// A call that arrived, in order.
#[derive(Debug, Clone)]
pub struct Call {
    /// In lower case.
    pub method: String,
    pub params: Value,
    pub at: Instant,
    /// What it was answered; none if a fault came first.
    pub answer: Option<Value>,
}

impl Call {
    pub fn text(&self) -> &str {
        self.params["text"].as_str().unwrap_or_default()
    }

    pub fn is_board(&self) -> bool {
        let text = self.text();
        text.starts_with("<b>On the board</b>") || text == hobside::render::board_coming()
    }

    pub fn is_done(&self) -> bool {
        self.answer
            .as_ref()
            .is_some_and(|answer| answer["ok"] == json!(true))
    }

    pub fn is_refused(&self) -> bool {
        self.answer
            .as_ref()
            .is_some_and(|answer| answer["ok"] == json!(false))
    }
}

/// A message of the bot as a person sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Posted {
    pub text: String,
    pub html: String,
    pub keyboard: Option<Value>,
    pub topic: Option<i64>,
    pub silent: bool,
    pub under: Option<i64>,
}

impl Posted {
    /// A board, or what will be one.
    pub fn is_board(&self) -> bool {
        self.tells_stock() || self.text == hobside::render::board_coming()
    }

    pub fn tells_stock(&self) -> bool {
        self.text.starts_with("On the board")
    }
}

/// What goes wrong with one call.
#[derive(Debug, Clone)]
pub enum Fault {
    Answer(u16, &'static str),
    CutBefore,
    CutAfter,
    /// It takes its time, and then works.
    Slow(Duration),
}

#[derive(Default)]
pub struct State {
    pub calls: Vec<Call>,
    pub posted: BTreeMap<(i64, i64), Posted>,
    pub reactions: Vec<(i64, i64, String)>,
    /// The pinned messages of each chat, in the order in which they were pinned.
    pub pinned: Vec<(i64, i64)>,
    /// In these chats the bot has no right to pin.
    pub unpinnable: Vec<i64>,
    pub hears_all: bool,
    /// Not yet confirmed by a higher offset.
    updates: BTreeMap<i64, Value>,
    last_update: i64,
    message_ids: HashMap<i64, i64>,
    faults: Vec<(String, Fault)>,
    refusals: HashMap<i64, Value>,
}

impl State {
    pub fn next_message_id(&mut self, chat: i64) -> i64 {
        let id = self.message_ids.entry(chat).or_insert(0);
        *id += 1;
        *id
    }

    /// Why nothing may be sent to the chat, as the answer to whoever tries.
    pub fn refusal(&self, chat: i64) -> Option<Value> {
        self.refusals.get(&chat).cloned()
    }

    /// The answers in a chat, oldest first.
    pub fn texts(&self, chat: i64) -> Vec<String> {
        let posted = self.posted.range((chat, 0)..=(chat, i64::MAX));
        let answers = posted.filter(|(_, posted)| !posted.is_board());
        answers.map(|(_, posted)| posted.text.clone()).collect()
    }

    /// The boards of a chat, oldest first.
    pub fn boards(&self, chat: i64) -> Vec<(i64, Posted)> {
        let posted = self.posted.range((chat, 0)..=(chat, i64::MAX));
        let boards = posted.filter(|(_, posted)| posted.tells_stock());
        boards
            .map(|((_, id), posted)| (*id, posted.clone()))
            .collect()
    }

    pub fn calls_of(&self, method: &str) -> Vec<Call> {
        let wanted = |call: &&Call| call.method == method;
        self.calls.iter().filter(wanted).cloned().collect()
    }

    pub fn clear_faults(&mut self) {
        self.faults.clear();
    }

    /// Is every update confirmed?
    pub fn all_confirmed(&self) -> bool {
        self.updates.is_empty()
    }
}

impl Server {
    pub fn start() -> Self {
        let shared = Arc::new(Shared {
            state: Mutex::new(State {
                last_update: 1000,
                ..State::default()
            }),
            changed: Condvar::new(),
        });
        let serving = Arc::clone(&shared);
        let address = serve(move |request| serving.answer(request));
        Self {
            shared,
            port: address.port(),
        }
    }

    pub fn url(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    pub fn state(&self) -> MutexGuard<'_, State> {
        self.shared.state.lock().unwrap()
    }

    /// The next call of that method goes wrong; several wait in line.
    pub fn fault(&self, method: &str, fault: Fault) {
        self.state().faults.push((method.to_owned(), fault));
    }

    /// From now on nothing may be sent to the chat.
    pub fn refuse(&self, chat: i64, answer: Value) {
        self.state().refusals.insert(chat, answer);
    }

    pub fn allow(&self, chat: i64) {
        self.state().refusals.remove(&chat);
    }

    /// Something happened: an update of that kind, with the next number.
    pub fn update(&self, kind: &str, what: Value) -> i64 {
        let mut state = self.state();
        state.last_update += 1;
        let number = state.last_update;
        drop(state);
        self.raw_update(number, json!({ "update_id": number, kind: what }));
        number
    }

    /// An update just as it is given, to be delivered at its place.
    pub fn raw_update(&self, place: i64, update: Value) {
        let mut state = self.state();
        state.last_update = state.last_update.max(place);
        state.updates.insert(place, update);
        drop(state);
        self.shared.changed.notify_all();
    }

    pub fn last_update(&self) -> i64 {
        self.state().last_update
    }

    /// Wait until updates have been handed out once more.
    #[track_caller]
    pub fn wait_for_poll(&self) {
        let polls = |state: &State| {
            let answered = |call: &&Call| call.method == "getupdates" && call.answer.is_some();
            state.calls.iter().filter(answered).count()
        };
        let before = polls(&self.state());
        self.wait("a poll", |state| (polls(state) > before).then_some(()));
    }

    /// Wait until it is so, or fail with all that has happened.
    #[track_caller]
    pub fn wait<T>(&self, what: &str, look: impl Fn(&State) -> Option<T>) -> T {
        self.wait_within(PATIENCE, what, look)
    }

    #[track_caller]
    pub fn wait_within<T>(
        &self,
        patience: Duration,
        what: &str,
        look: impl Fn(&State) -> Option<T>,
    ) -> T {
        let deadline = Instant::now() + patience;
        let mut state = self.state();
        loop {
            if let Some(found) = look(&state) {
                return found;
            }
            let left = deadline.saturating_duration_since(Instant::now());
            if left.is_zero() {
                let calls: Vec<String> = state
                    .calls
                    .iter()
                    .filter(|call| call.method != "getupdates")
                    .map(|call| format!("{} {} -> {:?}", call.method, call.params, call.answer))
                    .collect();
                panic!("waited in vain for {what}; calls:\n{}", calls.join("\n"));
            }
            state = self.shared.changed.wait_timeout(state, left).unwrap().0;
        }
    }

    /// Wait for an answer of the bot in the chat that has these words; gives its id.
    #[track_caller]
    pub fn wait_for_text(&self, chat: i64, words: &str) -> (i64, Posted) {
        self.wait(&format!("{words:?} in {chat}"), |state| {
            state
                .posted
                .iter()
                .filter(|(_, posted)| !posted.is_board())
                .find(|((place, _), posted)| *place == chat && posted.text.contains(words))
                .map(|((_, id), posted)| (*id, posted.clone()))
        })
    }
}

impl Shared {
    fn answer(&self, request: &Request) -> Reply {
        let Some(method) = request.path.strip_prefix(&format!("/bot{TOKEN}/")) else {
            let body = json!({ "ok": false, "error_code": 401, "description": "Unauthorized" });
            return Reply::Answer {
                status: 401,
                body: body.to_string(),
            };
        };
        let method = method.to_lowercase();
        let params = form::read(&request.kind, &request.body);
        let params = params.or_else(|| serde_json::from_slice(&request.body).ok());
        let params = params.unwrap_or(Value::Null);
        let (place, fault) = self.arrived(&method, &params);
        match fault {
            Some(Fault::Answer(status, body)) => {
                return Reply::Answer {
                    status,
                    body: body.to_owned(),
                };
            }
            Some(Fault::CutBefore) => return Reply::Cut,
            Some(Fault::Slow(time)) => std::thread::sleep(time),
            Some(Fault::CutAfter) | None => {}
        }
        let answer = match method.as_str() {
            "getupdates" => self.updates(&params),
            _ => methods::answer(&mut self.state.lock().unwrap(), &method, &params),
        };
        self.state.lock().unwrap().calls[place].answer = Some(answer.clone());
        self.changed.notify_all();
        match fault {
            Some(Fault::CutAfter) => Reply::Cut,
            _ => Reply::Answer {
                status: u16::try_from(answer["error_code"].as_u64().unwrap_or(200)).unwrap(),
                body: answer.to_string(),
            },
        }
    }

    fn arrived(&self, method: &str, params: &Value) -> (usize, Option<Fault>) {
        let mut state = self.state.lock().unwrap();
        state.calls.push(Call {
            method: method.to_owned(),
            params: params.clone(),
            at: Instant::now(),
            answer: None,
        });
        let fault = state
            .faults
            .iter()
            .position(|(wanted, _)| wanted == method)
            .map(|at| state.faults.remove(at).1);
        let place = state.calls.len() - 1;
        drop(state);
        self.changed.notify_all();
        (place, fault)
    }

    /// An update is forgotten when an offset above its number is asked for, and not before.
    fn updates(&self, params: &Value) -> Value {
        let mut state = self.state.lock().unwrap();
        if let Some(offset) = params["offset"].as_i64() {
            state.updates = state.updates.split_off(&offset);
        }
        self.changed.notify_all();
        let timeout = params["timeout"].as_u64().unwrap_or(0).min(2);
        let deadline = Instant::now() + Duration::from_secs(timeout);
        loop {
            let left = deadline.saturating_duration_since(Instant::now());
            if !state.updates.is_empty() || left.is_zero() {
                let updates: Vec<&Value> = state.updates.values().take(100).collect();
                return json!({ "ok": true, "result": updates });
            }
            state = self.changed.wait_timeout(state, left).unwrap().0;
        }
    }
}
