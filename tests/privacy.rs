//! Random play of a group and of private chats beside it, through the whole service: what the group is told never holds
//! energy or nutrients of what somebody ate who wants that in private, nor anything that was told in private; and in
//! private the same totals are told.

mod chance;

use std::collections::BTreeSet;

use chance::Chance;
use chrono::{DateTime, Duration, TimeZone, Utc};
use hobside::service::{Door, Inbound, Kind, OutboxKind, Outgoing, Revision, Sender, Service};
use hobside::store::Store;
use serde_json::Value;

const ZONE: chrono_tz::Tz = chrono_tz::Europe::Dublin;
const GROUP: &str = "kitchen";
const PEOPLE: [&str; 3] = ["Robin", "Ana", "Tom"];

/// What people say anywhere; `{}` is an amount, `<>` somebody's name.
const SAID: [&str; 34] = [
    "{} dal",
    "{} rice, {} dal",
    "had {} rice",
    "{} dal for dinner yesterday",
    "make it {}",
    "take the rice off",
    "put back {} dal",
    "{} dal for two",
    "{} rice for <>",
    "<> had {} dal",
    "<>'s was {}",
    "half the dal for <> and me, the rest for me",
    "same for me",
    "same as <>",
    "same again",
    "my day",
    "what did I have today",
    "what did I have yesterday",
    "what did <> have today",
    "what did <> have this week",
    "my week",
    "my last week",
    "who eats the dal",
    "my targets?",
    "target {} kcal, {} protein",
    "what do I still have",
    "how much protein is left for me today",
    "how much dal",
    "my week",
    "this week so far",
    "where did my protein come from",
    "where did my energy come from this week",
    "where did my salt come from today",
    "stock chart",
];

struct Play {
    service: Service,
    chance: Chance,
    now: DateTime<Utc>,
    messages: u32,
    private: BTreeSet<&'static str>,
}

impl Play {
    async fn say(&mut self, who: &str, alone: bool, text: &str) -> Vec<Outgoing> {
        self.messages += 1;
        let minutes = 1 + self.chance.below(9) as i64;
        self.now += Duration::minutes(minutes);
        let chat = match alone {
            true => format!("with {who}"),
            false => GROUP.to_owned(),
        };
        let inbound = Inbound {
            channel: "play",
            chat,
            chat_name: None,
            external_id: format!("m{}", self.messages),
            revision: Revision::Counted { edited: false },
            kind: Kind::Message,
            sender: Sender {
                id: who.to_lowercase(),
                name: who.to_owned(),
            },
            text: text.to_owned(),
            reply_to: None,
            topic: None,
            private: alone,
            forwarded: false,
            household_chat: alone.then(|| GROUP.to_owned()),
            sent_at: self.now,
        };
        let stored = self.service.receive(&inbound, self.now).await;
        stored.expect("it is stored");
        while let Some(handled) = self.service.handle_next(self.now).await.expect("handled") {
            assert!(handled.outcome.is_some(), "{text} broke");
        }
        let pending = self.service.pending("play").await.expect("readable");
        for outgoing in &pending {
            let id = format!("o{}", outgoing.id.0);
            self.service.sent(outgoing, Some(id), self.now);
        }
        self.service.settle().await.expect("marked");
        pending
    }

    fn filled(&mut self, said: &str) -> String {
        let mut text = said.to_owned();
        while text.contains("{}") {
            let amount = 11 + self.chance.below(180);
            text = text.replacen("{}", &amount.to_string(), 1);
        }
        let who = PEOPLE[self.chance.below(3)];
        text.replace("<>", who)
    }

    /// What the group was told holds nothing of those who want it in private.
    fn look(&self, who: &str, text: &str, told: &Outgoing) {
        let data: &Value = &told.data;
        let mut answers = vec![data];
        answers.extend(data["also"].as_array().into_iter().flatten());
        for answer in answers {
            let context = || {
                format!(
                    "{who} said {text:?}, the group saw:\n{}\n{answer}",
                    told.text
                )
            };
            let kind = answer["kind"].as_str().unwrap_or_default();
            // What stands here is everybody's.
            let own = matches!(kind, "day" | "week" | "to_target" | "share")
                || kind == "chart" && answer["chart"] != "stock"
                || kind == "targets" && answer["targets"] != Value::Array(Vec::new());
            if own {
                let of = answer["member"].as_str().unwrap_or(who);
                assert!(!self.private.contains(of), "{}", context());
            }
            for plate in answer["plates"].as_array().into_iter().flatten() {
                let of = plate["member"].as_str().unwrap_or_default();
                if !self.private.contains(of) {
                    continue;
                }
                assert!(plate["totals"].is_null(), "{}", context());
                for line in plate["lines"].as_array().into_iter().flatten() {
                    assert!(line["nutrients"].is_null(), "{}", context());
                }
            }
        }
        // A picture holds nothing that its words do not tell, and belongs to somebody who may be told of here.
        if let Some(picture) = &told.picture {
            let kept = serde_json::to_string(picture).expect("it is text");
            let stock = told.data["chart"] == "stock";
            let of_private = self.private.iter().any(|of| kept.contains(of));
            let numbers = kept.contains("kcal") || kept.contains("rotein");
            assert!(!(of_private || stock && numbers), "{who}: {text:?}\n{kept}");
        }
        // In words: what stands below the name of somebody who is private, up to the next gap.
        for part in told.text.split("\n\n") {
            let head = part.lines().next().unwrap_or_default();
            let of_private = self
                .private
                .iter()
                .any(|of| head.starts_with(&format!("{of}, ")));
            assert!(
                !(of_private && part.contains("kcal")),
                "{who}: {text:?}\n{}",
                told.text
            );
        }
    }
}

#[tokio::test]
async fn the_group_is_told_no_totals_of_who_wants_them_in_private() {
    let (mut hidden, mut totals) = (0, 0);
    let (mut pictures, mut private_pictures) = (0, 0);
    for seed in 0..6 {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("books.db"))
            .await
            .expect("opens")
            .doubting();
        let mut play = Play {
            service: Service::new(store, Door::Open { zone: ZONE }),
            chance: Chance(seed),
            now: Utc.with_ymd_and_hms(2026, 10, 12, 17, 0, 0).unwrap(),
            messages: 0,
            private: BTreeSet::new(),
        };
        for text in [
            "batch lentil dal, 5 kg red lentils, 300 g sunflower oil, cooked 18400, fridge",
            "batch rice, 5 kg rice, cooked 14000, fridge",
        ] {
            play.say("Robin", false, text).await;
        }
        for who in PEOPLE {
            play.say(who, false, "50 rice").await;
        }
        for _ in 0..120 {
            let who = PEOPLE[play.chance.below(3)];
            let alone = play.chance.below(3) == 0;
            if play.chance.below(12) == 0 {
                let private = play.chance.below(3) > 0;
                let text = if private {
                    "my totals in private"
                } else {
                    "my totals here"
                };
                play.say(who, alone, text).await;
                match private {
                    true => play.private.insert(who),
                    false => play.private.remove(who),
                };
                continue;
            }
            let said = SAID[play.chance.below(SAID.len())];
            let text = play.filled(said);
            for told in play.say(who, alone, &text).await {
                let data: &Value = &told.data;
                let day = data["kind"] == "day";
                if told.kind == OutboxKind::Picture {
                    let stock = data["chart"] == "stock";
                    let of_private = data["member"]
                        .as_str()
                        .is_some_and(|of| play.private.contains(of));
                    pictures += usize::from(told.chat == GROUP && !stock);
                    private_pictures += usize::from(told.chat != GROUP && of_private);
                }
                if told.chat == GROUP {
                    play.look(who, &text, &told);
                    hidden += usize::from(data["kind"] == "not_told" && data["why"] == "private");
                } else if day {
                    totals += usize::from(data["totals"]["energy_kcal"].is_number());
                }
            }
        }
    }
    assert!(
        hidden > 10,
        "{hidden} questions were left to the private chat"
    );
    assert!(totals > 10, "{totals} totals were told in private");
    assert!(
        pictures > 5 && private_pictures > 5,
        "{pictures} pictures of people went to the group, {private_pictures} to private chats"
    );
}
