//! Random play: what people of the transcripts said, in any order, by anybody, in the group and in private, with edits and
//! presses. First what the kept files were made with, so that hardly a table stays empty.

use std::path::Path;

use super::chance::Chance;
use super::said::texts;
use chrono::{DateTime, Duration, TimeZone, Utc};
use hobside::service::{Door, Inbound, Kind, Outgoing, Revision, Sender, Service};
use hobside::store::Store;

/// Zebedee is Tom in the transcripts: nothing else begins like that.
pub const PEOPLE: [&str; 3] = ["Robin", "Ana", "Zebedee"];

/// Whoever is deleted says nothing more: that is for the tests to say.
fn deletes(text: &str) -> bool {
    let text = text.to_lowercase();
    let words = ["delete", "forget me", "erase", "wipe"];
    words.iter().any(|word| text.contains(word))
}

fn renamed(text: &str) -> String {
    let mut parts = text.split("Tom");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let longer = part.starts_with(char::is_alphanumeric);
        out.push_str(if longer { "Tom" } else { "Zebedee" });
        out.push_str(part);
    }
    out
}

pub struct Play {
    pub service: Service,
    pub now: DateTime<Utc>,
    /// The household's chat.
    group: String,
    texts: Vec<String>,
    said: Vec<(String, String, bool)>,
    chance: Chance,
    /// What tells its messages from those of an earlier play.
    run: u64,
    /// Nobody writes in private, and nothing falls due.
    plain: bool,
}

impl Play {
    pub async fn begin(file: &Path, group: &str, seed: u64) -> Self {
        let store = Store::open_alone(file).await.expect("it opens").doubting();
        let zone = chrono_tz::Europe::Dublin;
        Self {
            service: Service::new(store, Door::Open { zone }),
            now: Utc.with_ymd_and_hms(2026, 10, 14, 17, 0, 0).unwrap(),
            group: group.to_owned(),
            texts: texts()
                .iter()
                .filter(|text| !deletes(text))
                .map(|text| renamed(text))
                .collect(),
            said: Vec::new(),
            chance: Chance(seed),
            run: seed,
            plain: false,
        }
    }

    pub fn plainly(&mut self) -> &mut Self {
        self.plain = true;
        self
    }

    /// Everything that the kept files were made with.
    pub async fn everything(&mut self) {
        let said = include_str!("../upkeep/said.txt");
        for line in said.lines() {
            if let Some((who, text)) = line.split_once(": ").filter(|_| !line.starts_with('#')) {
                self.say(who, false, &text.replace("\\n", "\n")).await;
            }
        }
        self.say("Robin", false, "dal weighed 2000").await;
        for text in ["@hobside 70 quinoa", "1"] {
            self.say("Ana", false, text).await;
        }
    }

    pub async fn random(&mut self, messages: usize) {
        for _ in 0..messages {
            let who = PEOPLE[self.chance.below(PEOPLE.len())];
            let alone = self.chance.below(5) == 0 && !self.plain;
            let at = self.chance.below(self.texts.len());
            let text = self.texts[at].clone();
            match self.chance.below(8) {
                0 if !self.said.is_empty() => {
                    let last = self.said.len() - 1;
                    let at = last - self.chance.below(self.said.len().min(6));
                    let (id, who, alone) = self.said[at].clone();
                    self.tell(&id, &who, alone, Kind::Message, &text, None, true)
                        .await;
                }
                _ => {
                    let answers = self.say(who, alone, &text).await;
                    let buttons = answers.iter().flat_map(|it| {
                        let rows = it.buttons.iter().flatten();
                        rows.map(|(_, press)| (press.clone(), format!("o{}", it.id.0)))
                    });
                    let buttons: Vec<(String, String)> = buttons.collect();
                    if !buttons.is_empty() && self.chance.below(4) == 0 {
                        let (press, on) = buttons[self.chance.below(buttons.len())].clone();
                        let id = format!("p{}-{}", self.run, self.said.len());
                        self.tell(&id, who, alone, Kind::Press, &press, Some(&on), false)
                            .await;
                    }
                }
            }
        }
    }

    pub async fn say(&mut self, who: &str, alone: bool, text: &str) -> Vec<Outgoing> {
        let id = format!("m{}-{}", self.run, self.said.len());
        self.said.push((id.clone(), who.to_owned(), alone));
        self.tell(&id, who, alone, Kind::Message, text, None, false)
            .await
    }

    #[allow(clippy::too_many_arguments, reason = "a message has so many sides")]
    async fn tell(
        &mut self,
        id: &str,
        who: &str,
        alone: bool,
        kind: Kind,
        text: &str,
        on: Option<&str>,
        edited: bool,
    ) -> Vec<Outgoing> {
        let minutes = 1 + self.chance.below(9) as i64;
        self.now += Duration::minutes(minutes);
        let inbound = Inbound {
            channel: "play",
            chat: match alone {
                true => format!("with {who}"),
                false => self.group.clone(),
            },
            chat_name: None,
            external_id: id.to_owned(),
            revision: Revision::Counted { edited },
            kind,
            sender: Sender {
                id: format!("id-{who}"),
                name: who.to_owned(),
            },
            text: text.to_owned(),
            reply_to: on.map(str::to_owned),
            topic: None,
            private: alone,
            forwarded: false,
            household_chat: alone.then(|| self.group.clone()),
            sent_at: self.now,
        };
        let stored = self.service.receive(&inbound, self.now).await;
        stored.expect("it is stored");
        while let Some(handled) = self.service.handle_next(self.now).await.expect("handled") {
            assert!(handled.outcome.is_some(), "{text} broke");
        }
        if !self.plain {
            self.service.say_due("play", self.now).await.expect("said");
        }
        let pending = self.service.pending("play").await.expect("readable");
        for outgoing in &pending {
            let id = format!("o{}", outgoing.id.0);
            self.service.sent(outgoing, Some(id), self.now);
        }
        self.service.settle().await.expect("marked");
        pending
    }
}
