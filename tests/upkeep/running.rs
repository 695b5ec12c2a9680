//! The binary, run to its end or kept on a pipe.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};

pub const HOBSIDE: &str = env!("CARGO_BIN_EXE_hobside");

/// A pot, a plate, a count: something of everything that moves grams.
pub const MEAL: [&str; 4] = [
    "batch lentil dal\n500 g red lentils\n1 medium onion\n10 g salt\ncooked 2310, pot 470\nfreezer",
    "140 dal",
    "undo",
    "recount: dal 1800",
];

/// A kitchen's file in a folder of its own.
pub fn kitchen() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("hobside.db");
    (folder, file)
}

/// What a command printed, and what it complained of.
pub struct Ended {
    pub code: i32,
    pub out: String,
    pub complaint: String,
}

/// Run a command on a file until it ends; standard input is empty.
pub fn run(file: &Path, arguments: &[&str]) -> Ended {
    let mut command = Command::new(HOBSIDE);
    command.args(arguments).arg("--db").arg(file);
    ended(&mut command)
}

pub fn ended(command: &mut Command) -> Ended {
    let output = command.stdin(Stdio::null()).output().expect("it runs");
    Ended {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).expect("text"),
        complaint: String::from_utf8(output.stderr).expect("text"),
    }
}

/// What a command that succeeds prints.
#[track_caller]
pub fn printed(file: &Path, arguments: &[&str]) -> String {
    let ended = run(file, arguments);
    assert_eq!(ended.code, 0, "{arguments:?}: {}", ended.complaint);
    ended.out
}

/// The books of the test's one chat.
#[track_caller]
pub fn books(file: &Path) -> Value {
    serde_json::from_str(&printed(file, &["export", "--chat", "c1"])).expect("JSON")
}

pub struct Bridge {
    pub child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    said: u32,
}

impl Bridge {
    pub fn open(file: &Path) -> Self {
        let mut command = Command::new(HOBSIDE);
        command.args(["bridge", "--timezone", "Europe/Dublin", "--db"]);
        Self::start(command.arg(file))
    }

    pub fn start(command: &mut Command) -> Self {
        let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut child = piped.spawn().expect("the bridge starts");
        Self {
            input: child.stdin.take().expect("it is piped"),
            output: BufReader::new(child.stdout.take().expect("it is piped")),
            child,
            said: 0,
        }
    }

    /// Say something in the chat; what comes back, up to its end.
    pub fn say(&mut self, text: &str) -> Vec<Value> {
        self.said += 1;
        let id = format!("m{}-{}", self.child.id(), self.said);
        let at = "2026-10-14T18:00:00+01:00";
        let from = json!({"id": "u1", "name": "Robin"});
        self.send(&json!({"type": "message", "chat": "c1", "id": id, "from": from, "text": text, "at": at}))
    }

    pub fn send(&mut self, line: &Value) -> Vec<Value> {
        self.write(line);
        let mut out = Vec::new();
        loop {
            let value = self.next().expect("it answers");
            let last = value["type"] == "done" || value["type"] == "error";
            out.push(value);
            if last {
                return out;
            }
        }
    }

    pub fn write(&mut self, line: &Value) {
        writeln!(self.input, "{line}").expect("it reads");
    }

    /// The next line, if there is one.
    pub fn next(&mut self) -> Option<Value> {
        let mut text = String::new();
        self.output.read_line(&mut text).expect("it writes");
        (!text.is_empty()).then(|| serde_json::from_str(&text).expect(&text))
    }

    #[track_caller]
    pub fn record(&mut self, text: &str) {
        let out = self.say(text);
        let done = out.last().expect("an end");
        assert_eq!(done["outcome"], "recorded", "{text}: {out:?}");
    }

    pub fn close(self) {
        let Self {
            mut child, input, ..
        } = self;
        drop(input);
        assert!(child.wait().expect("it ends").success());
    }

    pub fn kill(mut self) {
        self.child.kill().expect("it runs");
        self.child.wait().expect("it ends");
    }
}

/// A bridge on which the meal was booked.
pub fn cooked(file: &Path) -> Bridge {
    let mut bridge = Bridge::open(file);
    for text in MEAL {
        bridge.record(text);
    }
    bridge
}
