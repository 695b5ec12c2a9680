//! The bot as a process, and people who write to it.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

use hobside::render;
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::server::{Server, TOKEN};

pub const BINARY: &str = env!("CARGO_BIN_EXE_hobside");

/// A server, a file with books, and the bot between them.
pub struct Kitchen {
    pub server: Server,
    folder: TempDir,
    bot: Option<Child>,
    runs: usize,
}

impl Kitchen {
    /// The bot has been started and has printed a code.
    pub fn open() -> Self {
        let mut kitchen = Self::closed(Server::start());
        kitchen.start();
        kitchen
    }

    /// The bot has not been started yet.
    pub fn closed(server: Server) -> Self {
        Self {
            server,
            folder: TempDir::new().unwrap(),
            bot: None,
            runs: 0,
        }
    }

    /// A kitchen that Robin has let in, alone with the bot; with barley in the fridge.
    pub fn with_barley() -> (Self, Chat) {
        let kitchen = Self::open();
        let robin = Chat::private(&kitchen.server, 501, "Robin");
        kitchen.let_in(&robin);
        robin.says("batch barley, 500 g pearl barley, cooked 1480");
        robin.hears("1480 g net");
        (kitchen, robin)
    }

    pub fn command(&self) -> Command {
        let mut command = Command::new(BINARY);
        command
            .args(["telegram", "--db"])
            .arg(self.file())
            .env("HOBSIDE_TELEGRAM_TOKEN", TOKEN)
            .env("HOBSIDE_TELEGRAM_API_URL", self.server.url())
            .env("HOBSIDE_TIMEZONE", "Etc/UTC")
            .env("HOBSIDE_LOG", "debug")
            .stdin(Stdio::null())
            .stdout(File::create(self.out(self.runs)).unwrap())
            .stderr(File::create(self.log(self.runs)).unwrap());
        command
    }

    pub fn start(&mut self) {
        self.runs += 1;
        self.bot = Some(self.command().spawn().unwrap());
    }

    pub fn run(&mut self, mut command: Command) {
        self.runs += 1;
        let (out, log) = (self.out(self.runs), self.log(self.runs));
        command.stdout(File::create(out).unwrap());
        command.stderr(File::create(log).unwrap());
        self.bot = Some(command.spawn().unwrap());
    }

    /// Kill -9.
    pub fn kill(&mut self) {
        let mut bot = self.bot.take().expect("it runs");
        bot.kill().unwrap();
        bot.wait().unwrap();
    }

    /// The polite end; how it ended and how long that took.
    pub fn terminate(&mut self) -> (ExitStatus, Duration) {
        let start = Instant::now();
        let id = self.id().to_string();
        assert!(
            Command::new("kill")
                .args(["-TERM", &id])
                .status()
                .unwrap()
                .success()
        );
        let status = self.ended();
        (status, start.elapsed())
    }

    pub fn ended(&mut self) -> ExitStatus {
        self.bot.take().expect("it runs").wait().unwrap()
    }

    pub fn id(&self) -> u32 {
        self.bot.as_ref().expect("it runs").id()
    }

    /// All that the bot has printed, over all its runs.
    pub fn printed(&self) -> String {
        let read = |file: PathBuf| fs::read_to_string(file).unwrap_or_default();
        (0..=self.runs).map(|run| read(self.out(run))).collect()
    }

    pub fn logged(&self) -> String {
        let read = |file: PathBuf| fs::read_to_string(file).unwrap_or_default();
        (0..=self.runs).map(|run| read(self.log(run))).collect()
    }

    /// The code of the first run.
    #[track_caller]
    pub fn code(&self) -> String {
        let deadline = Instant::now() + Duration::from_secs(30);
        loop {
            let printed = self.printed();
            let line = printed
                .lines()
                .find_map(|line| line.trim().strip_prefix("/start "));
            if let Some(code) = line.filter(|_| printed.ends_with('\n')) {
                return code.to_owned();
            }
            assert!(
                Instant::now() < deadline,
                "no code:\n{printed}\n{}",
                self.logged()
            );
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    pub fn let_in(&self, chat: &Chat) {
        chat.says(&format!("/start {}", self.code()));
        chat.hears(&render::invite_accepted());
    }

    /// A fresh code from the command line.
    pub fn invite(&self) -> String {
        self.hobside(&["invite"]).trim().to_owned()
    }

    /// The household's books.
    pub fn books(&self, chat: i64) -> Value {
        let books = self.hobside(&["export", "--chat", &chat.to_string()]);
        serde_json::from_str(&books).unwrap()
    }

    /// Grams of the household's one batch that are left.
    pub fn left(&self, chat: i64) -> f64 {
        self.books(chat)["lots"][0]["grams"]
            .as_f64()
            .unwrap_or(f64::NAN)
    }

    fn hobside(&self, arguments: &[&str]) -> String {
        let mut command = Command::new(BINARY);
        command.args(arguments).arg("--db").arg(self.file());
        let output = command.output().unwrap();
        let errors = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{errors}");
        String::from_utf8(output.stdout).unwrap()
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("books.db")
    }

    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    fn out(&self, run: usize) -> PathBuf {
        self.folder.path().join(format!("out-{run}"))
    }

    fn log(&self, run: usize) -> PathBuf {
        self.folder.path().join(format!("log-{run}"))
    }
}

impl Drop for Kitchen {
    fn drop(&mut self) {
        if let Some(mut bot) = self.bot.take() {
            bot.kill().unwrap();
            bot.wait().unwrap();
        }
        if std::thread::panicking() {
            eprintln!("the bot said:\n{}", self.logged());
        }
    }
}

/// A chat with one person in it who writes.
pub struct Chat {
    server: Server,
    pub id: i64,
    chat: Value,
    from: Value,
}

impl Chat {
    pub fn private(server: &Server, id: i64, name: &str) -> Self {
        let chat = json!({ "id": id, "type": "private", "first_name": name });
        Self::new(server, id, chat, id, name)
    }

    pub fn group(server: &Server, id: i64, name: &str) -> Self {
        let chat = json!({ "id": id, "type": "group", "title": "Kitchen" });
        Self::new(server, id, chat, 501, name)
    }

    pub fn supergroup(server: &Server, id: i64, name: &str) -> Self {
        let chat = json!({ "id": id, "type": "supergroup", "title": "Kitchen", "is_forum": true });
        Self::new(server, id, chat, 501, name)
    }

    fn new(server: &Server, id: i64, chat: Value, person: i64, name: &str) -> Self {
        Self {
            server: server.clone(),
            id,
            chat,
            from: json!({ "id": person, "is_bot": false, "first_name": name }),
        }
    }

    /// A message as the server would deliver it, with whatever more it has.
    pub fn message(&self, id: i64, more: Value) -> Value {
        let mut message =
            json!({ "message_id": id, "date": unix_now(), "chat": self.chat, "from": self.from });
        message
            .as_object_mut()
            .unwrap()
            .extend(more.as_object().unwrap().clone());
        message
    }

    /// Gives the id of the message.
    pub fn sends(&self, more: Value) -> i64 {
        let id = self.server.state().next_message_id(self.id);
        self.server.update("message", self.message(id, more));
        id
    }

    pub fn says(&self, text: &str) -> i64 {
        self.sends(json!({ "text": text }))
    }

    pub fn edits(&self, id: i64, text: &str) {
        let more = json!({ "text": text, "edit_date": unix_now() });
        self.server.update("edited_message", self.message(id, more));
    }

    /// Press what a button carries, on one of the bot's messages.
    pub fn presses(&self, on: i64, data: &str) {
        let query = format!("q{}-{on}", self.server.state().calls.len());
        self.server.update(
            "callback_query",
            json!({ "id": query, "chat_instance": "1", "data": data, "from": self.from,
                    "message": self.message(on, json!({ "text": "x" })) }),
        );
    }

    #[track_caller]
    pub fn hears(&self, words: &str) -> (i64, crate::server::Posted) {
        self.server.wait_for_text(self.id, words)
    }
}

fn unix_now() -> u64 {
    let now = std::time::SystemTime::now();
    now.duration_since(std::time::UNIX_EPOCH).unwrap().as_secs()
}
