//! A chat on standard input and output: one person, one household.
//!
//! A batch may run over several lines and ends with an empty one. Buttons are numbered; a bare number
//! presses one. The prompt and bold letters appear only where a person looks on.

use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use anyhow::Context;
use chrono::{DateTime, Utc};

use super::lines::Line;
use super::{Lines, Shutdown, drawn};
use crate::clock::Clock;
use crate::lang;
use crate::lang::syntax::Command;
use crate::render;
use crate::service::{Inbound, Kind, OutboxKind, Outgoing, Received, Revision, Sender, Service};

pub const CHANNEL: &str = "terminal";
/// The one chat of a terminal.
pub const CHAT: &str = "terminal";

/// A machine that slept, or whose clock was set, is noticed after this time.
const PAUSE_MAX: Duration = Duration::from_secs(30);

/// What ends the chat, beside the end of the input.
const LEAVE: [&str; 3] = ["quit", "exit", "bye"];

/// Chat until the input ends or the end is asked for.
///
/// # Errors
/// If standard input or output fails, or the books cannot be written.
pub async fn run(
    service: &Service,
    clock: &Clock,
    lines: Lines,
    pictures: &Path,
    mut shutdown: Shutdown,
) -> anyhow::Result<()> {
    let mut terminal = Terminal {
        service,
        clock,
        lines,
        screen: Screen::new(),
        pictures: pictures.to_owned(),
        sender: sender(),
        session: clock.now().timestamp_millis(),
        sent: 0,
        typed: String::new(),
        wants_prompt: true,
        next_due: None,
        buttons: Vec::new(),
    };
    terminal.screen.say(&render::greeting(), &[])?;
    terminal.answer().await?;
    loop {
        let pause = terminal.pause();
        let text = tokio::select! {
            text = terminal.next_message() => text?,
            () = shutdown.asked() => None,
            () = tokio::time::sleep(pause) => {
                terminal.say_due().await?;
                continue;
            }
        };
        let Some(text) = text else { break };
        if LEAVE.contains(&text.trim().to_lowercase().as_str()) {
            break;
        }
        terminal.send(text).await?;
    }
    service.close().await?;
    terminal.screen.end()
}

/// The person at the keyboard.
fn sender() -> Sender {
    let name = std::env::var("USER").ok().filter(|name| !name.is_empty());
    let name = name.unwrap_or_else(|| "you".to_owned());
    Sender {
        id: name.clone(),
        name,
    }
}

struct Terminal<'a> {
    service: &'a Service,
    clock: &'a Clock,
    lines: Lines,
    screen: Screen,
    /// The folder that pictures are written to: a terminal shows none.
    pictures: PathBuf,
    sender: Sender,
    /// Keeps the ids of this session apart from those of others.
    session: i64,
    sent: u32,
    /// The lines of a batch so far.
    typed: String,
    /// Something was said or typed since the last prompt.
    wants_prompt: bool,
    next_due: Option<DateTime<Utc>>,
    /// What the numbers under the last answer press, and the answer that they stand under.
    buttons: Vec<(String, String)>,
}

impl Terminal<'_> {
    /// One line, or the lines of a batch up to an empty one; `None` at the end of the input. What is typed is kept
    /// when something else comes between.
    async fn next_message(&mut self) -> anyhow::Result<Option<String>> {
        loop {
            if std::mem::take(&mut self.wants_prompt) {
                self.screen.prompt(!self.typed.is_empty())?;
            }
            let line = self.lines.next().await.context("reading standard input")?;
            self.wants_prompt = true;
            let line = match line {
                None => {
                    let typed = std::mem::take(&mut self.typed);
                    return Ok(Some(typed).filter(|text| !text.is_empty()));
                }
                Some(Line::Unreadable) => String::new(),
                Some(Line::Text(line)) => line,
            };
            match (self.typed.is_empty(), line.trim().is_empty()) {
                (true, true) => continue,
                (true, false) if opens_batch(&line) => self.typed = line,
                (true, false) => return Ok(Some(line)),
                (false, true) => return Ok(Some(std::mem::take(&mut self.typed))),
                (false, false) => {
                    self.typed.push('\n');
                    self.typed.push_str(&line);
                }
            }
        }
    }

    async fn send(&mut self, text: String) -> anyhow::Result<()> {
        let pressed = text
            .trim()
            .parse::<usize>()
            .ok()
            .and_then(|number| self.buttons.get(number.checked_sub(1)?).cloned());
        let (kind, text, reply_to) = match pressed {
            Some((press, on)) => (Kind::Press, press, Some(on)),
            None => (Kind::Message, text, None),
        };
        self.sent += 1;
        let now = self.clock.now();
        let inbound = Inbound {
            channel: CHANNEL,
            chat: CHAT.to_owned(),
            chat_name: Some("kitchen".to_owned()),
            external_id: format!("{}-{}", self.session, self.sent),
            revision: Revision::Counted { edited: false },
            kind,
            sender: self.sender.clone(),
            text,
            reply_to,
            topic: None,
            private: true,
            forwarded: false,
            household_chat: None,
            sent_at: now,
        };
        let received = self.service.receive(&inbound, now).await?;
        debug_assert!(matches!(received, Received::Stored(_)), "{received:?}");
        self.buttons.clear();
        self.answer().await
    }

    /// Handle what waits and say what there is to say.
    async fn answer(&mut self) -> anyhow::Result<()> {
        while self.service.handle_next(self.clock.now()).await?.is_some() {}
        self.say_due().await
    }

    /// How long nothing falls due. Sleep stands still while the machine does, so it is short.
    fn pause(&self) -> Duration {
        let until = self.next_due.map(|next| next - self.clock.now());
        let until = until.and_then(|until| until.to_std().ok());
        match self.next_due {
            Some(_) => until.unwrap_or(Duration::ZERO).min(PAUSE_MAX),
            None => PAUSE_MAX,
        }
    }

    /// Say what it is time for, and all else that waits to be said.
    async fn say_due(&mut self) -> anyhow::Result<()> {
        let now = self.clock.now();
        self.next_due = self.service.say_due(CHANNEL, now).await?.next;
        for outgoing in self.service.pending(CHANNEL).await? {
            let id = format!("{}", outgoing.id.0);
            self.wants_prompt = true;
            // What somebody is about to press keeps its number.
            let before = match outgoing.kind {
                OutboxKind::Notice => self.buttons.len(),
                _ => 0,
            };
            self.buttons.truncate(before);
            let more = self.screen.answer(&outgoing, &id, before)?;
            self.buttons.extend(more);
            if let Some(picture) = &outgoing.picture {
                let png = drawn(picture.clone(), None).await?;
                // A folder that cannot be written to is no reason to stop the chat.
                let said = match save(&self.pictures, &picture.file_name(), &png) {
                    Ok(file) => render::saved(&file.display().to_string()),
                    Err(error) => render::not_saved(&format!("{error:#}")),
                };
                self.screen.say(&said, &[])?;
            }
            self.service.sent(&outgoing, Some(id), now);
        }
        self.service.settle().await?;
        Ok(())
    }
}

/// Write a file that is not there yet: "label-D1.png", "label-D1-2.png".
fn save(folder: &Path, name: &str, bytes: &[u8]) -> anyhow::Result<PathBuf> {
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, "png"));
    for number in 1.. {
        let name = match number {
            1 => name.to_owned(),
            _ => format!("{stem}-{number}.{ending}"),
        };
        let path = folder.join(name);
        match std::fs::File::create_new(&path) {
            Ok(mut file) => {
                let written = file.write_all(bytes);
                written.with_context(|| format!("writing {}", path.display()))?;
                return Ok(path);
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error).with_context(|| format!("writing {}", path.display())),
        }
    }
    unreachable!("one of so many names is free")
}

/// A line that names a batch and says nothing yet of what is in it: more lines follow.
fn opens_batch(line: &str) -> bool {
    let parsed = lang::parse(line, &lang::Vocabulary::new());
    match parsed.best().commands.as_slice() {
        [Command::Batch(batch)] => batch.lines.is_empty() && batch.weighings.is_empty(),
        _ => false,
    }
}

/// Standard output, plain unless a person looks on.
pub struct Screen {
    silent: bool,
    bold: bool,
    prompts: bool,
}

impl Screen {
    pub fn new() -> Self {
        let shown = io::stdout().is_terminal();
        Self {
            silent: false,
            bold: shown,
            prompts: shown && io::stdin().is_terminal(),
        }
    }

    /// One that shows nothing.
    #[cfg(test)]
    pub fn silent() -> Self {
        Self {
            silent: true,
            bold: false,
            prompts: false,
        }
    }

    fn prompt(&self, goes_on: bool) -> anyhow::Result<()> {
        match (self.prompts, goes_on) {
            (false, _) => Ok(()),
            (true, false) => self.write("> "),
            (true, true) => self.write(". "),
        }
    }

    /// What somebody else said.
    pub fn quote(&self, speaker: &str, text: &str) -> anyhow::Result<()> {
        let text: Vec<String> = text.lines().map(render::clean).collect();
        self.write(&format!(
            "{}> {}\n",
            render::clean(speaker),
            text.join("\n  ")
        ))
    }

    pub fn say(&self, text: &str, bold: &[[usize; 2]]) -> anyhow::Result<()> {
        let text = visible(text, if self.bold { bold } else { &[] });
        self.write(&format!("{text}\n\n"))
    }

    /// Say an answer; returns what its numbered buttons press.
    /// `before`: so many numbers are taken.
    pub fn answer(
        &self,
        outgoing: &Outgoing,
        id: &str,
        before: usize,
    ) -> anyhow::Result<Vec<(String, String)>> {
        let mut text = visible(&outgoing.text, if self.bold { &outgoing.bold } else { &[] });
        if outgoing.kind == OutboxKind::Edit {
            text.insert_str(0, "(corrected)\n");
        }
        let buttons: Vec<&(String, String)> = outgoing.buttons.iter().flatten().collect();
        let numbered = buttons
            .iter()
            .enumerate()
            // The options of a question stand in its text already.
            .filter(|(_, (_, press))| !press.starts_with("choose "))
            .map(|(number, (label, _))| {
                format!("[{}] {}", before + number + 1, render::clean(label))
            });
        let numbered: Vec<String> = numbered.collect();
        if !numbered.is_empty() {
            text.push('\n');
            text.push_str(&numbered.join("  "));
        }
        self.write(&format!("{text}\n\n"))?;
        // An edit changes the earlier answer; its buttons stand there.
        let on = match &outgoing.edits {
            Some((edited, shown)) => match shown.last() {
                Some(shown) => shown.clone(),
                None => edited.0.to_string(),
            },
            None => id.to_owned(),
        };
        Ok(buttons
            .into_iter()
            .map(|(_, press)| (press.clone(), on.clone()))
            .collect())
    }

    fn end(&self) -> anyhow::Result<()> {
        match self.prompts {
            true => self.write("\n"),
            false => Ok(()),
        }
    }

    fn write(&self, text: &str) -> anyhow::Result<()> {
        if self.silent {
            return Ok(());
        }
        let mut out = io::stdout().lock();
        out.write_all(text.as_bytes())
            .and_then(|()| out.flush())
            .context("writing standard output")
    }
}

impl Default for Screen {
    fn default() -> Self {
        Self::new()
    }
}

/// Text that cannot steer a terminal, with some of it in bold.
fn visible(text: &str, bold: &[[usize; 2]]) -> String {
    let mut visible = String::with_capacity(text.len() + 8 * bold.len());
    let mut standing_out = false;
    for (at, character) in text.char_indices() {
        let bold_here = bold.iter().any(|[start, end]| (*start..*end).contains(&at));
        if bold_here != standing_out {
            visible.push_str(if bold_here { "\u{1b}[1m" } else { "\u{1b}[0m" });
            standing_out = bold_here;
        }
        if character == '\n' || !character.is_control() {
            visible.push(character);
        }
    }
    if standing_out {
        visible.push_str("\u{1b}[0m");
    }
    visible
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_steer_the_terminal() {
        assert_eq!(visible("a\u{1b}[2Jb\u{7}\nc\u{9b}", &[]), "a[2Jb\nc");
    }

    #[test]
    fn a_name_alone_opens_a_batch() {
        for line in ["batch lentil dal", "Batch: dal"] {
            assert!(opens_batch(line), "{line}");
        }
        for line in [
            "140 dal",
            "what's left",
            "batch dal, 500 g lentils, cooked 1200",
        ] {
            assert!(!opens_batch(line), "{line}");
        }
    }

    #[test]
    fn bold_ranges_stand_out() {
        assert_eq!(
            visible("dal 1700 g", &[[0, 3]]),
            "\u{1b}[1mdal\u{1b}[0m 1700 g"
        );
        assert_eq!(visible("dal", &[[0, 3]]), "\u{1b}[1mdal\u{1b}[0m");
    }
}
