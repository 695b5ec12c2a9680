//! The order of events: who is let in, what is stored once, what is said and marked.

use chrono::{DateTime, Duration, Utc};
use chrono_tz::Tz;
use hobside::service::{
    Door, Inbound, Kind, OutboxKind, Outcome, Outgoing, Received, Revision, Sender, Service,
};
use hobside::store::Store;

const BATCH: &str = "batch rice, 500 g dry white rice, cooked 1400";

struct Bot {
    _folder: tempfile::TempDir,
    service: Service,
    store: Store,
    now: DateTime<Utc>,
    update: i64,
}

impl Bot {
    async fn new() -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let file = folder.path().join("books.db");
        let store = Store::open(&file)
            .await
            .expect("a fresh file opens")
            .doubting();
        let zone = Tz::Europe__Dublin;
        Self {
            _folder: folder,
            service: Service::new(store.clone(), Door::ByInvite { zone }),
            store,
            now: "2026-10-14T18:00:00Z".parse().expect("a time"),
            update: 100,
        }
    }

    fn inbound(&mut self, chat: &str, sender: &str, text: &str) -> Inbound {
        self.update += 1;
        Inbound {
            channel: "telegram",
            chat: chat.to_owned(),
            chat_name: None,
            external_id: self.update.to_string(),
            revision: Revision::Numbered(self.update),
            kind: Kind::Message,
            sender: Sender {
                id: sender.to_owned(),
                name: sender.to_uppercase(),
            },
            text: text.to_owned(),
            reply_to: None,
            topic: None,
            private: !chat.starts_with('-'),
            forwarded: false,
            household_chat: None,
            sent_at: self.now,
        }
    }

    async fn receive(&self, inbound: &Inbound) -> Received {
        let received = self.service.receive(inbound, self.now);
        received.await.expect("the books can be written")
    }

    async fn say(&mut self, chat: &str, sender: &str, text: &str) -> Received {
        let inbound = self.inbound(chat, sender, text);
        self.receive(&inbound).await
    }

    async fn outcomes(&self) -> Vec<Outcome> {
        let mut outcomes = Vec::new();
        while let Some(handled) = self
            .service
            .handle_next(self.now)
            .await
            .expect("the books can be written")
        {
            outcomes.push(handled.outcome.expect("it did not fail"));
        }
        outcomes
    }

    /// Send what waits, under ids of the channel's own.
    async fn deliver(&self) -> Vec<Outgoing> {
        let pending = self.service.pending("telegram").await.expect("readable");
        for outgoing in &pending {
            let id = format!("t{}", outgoing.id.0);
            self.service.sent(outgoing, Some(id), self.now);
        }
        pending
    }

    async fn code(&self) -> String {
        self.service.invite(self.now).await.expect("a code")
    }

    async fn let_in(&mut self, chat: &str, sender: &str) {
        let start = format!("/start {}", self.code().await);
        assert_eq!(self.say(chat, sender, &start).await, Received::LetIn);
        self.deliver().await;
    }

    async fn households(&self) -> usize {
        let mut transaction = self.store.look().await.expect("readable");
        transaction.households().await.expect("readable").len()
    }
}

#[tokio::test]
async fn a_stranger_gets_one_sentence_and_nothing_is_kept() {
    let mut bot = Bot::new().await;
    for text in ["140 dal", "hello?", "what's left"] {
        assert_eq!(bot.say("7", "eve", text).await, Received::TurnedAway);
    }
    let said = bot.deliver().await;
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].text.len() < 200 && said[0].buttons.is_empty());
    assert_eq!(bot.outcomes().await, []);
    assert_eq!(bot.households().await, 0);
}

#[tokio::test]
async fn wrong_codes_are_answered_slowly_and_open_nothing() {
    let mut bot = Bot::new().await;
    for _ in 0..5 {
        assert_eq!(
            bot.say("7", "eve", "/start abc").await,
            Received::TurnedAway
        );
    }
    assert_eq!(bot.deliver().await.len(), 1);
    bot.now += Duration::minutes(2);
    bot.say("7", "eve", "/start abd").await;
    assert_eq!(bot.deliver().await.len(), 1);
    assert_eq!(bot.households().await, 0);
}

#[tokio::test]
async fn a_code_lets_one_chat_in_once() {
    let mut bot = Bot::new().await;
    let start = format!("/start {}", bot.code().await);
    let inbound = bot.inbound("-1", "robin", &start);
    assert_eq!(bot.receive(&inbound).await, Received::LetIn);
    assert_eq!(bot.receive(&inbound).await, Received::Repeated);
    assert_eq!(bot.deliver().await.len(), 1, "one welcome");
    assert_eq!(bot.say("-2", "eve", &start).await, Received::TurnedAway);
    let mut late = Bot::new().await;
    let start = format!("/start {}", late.code().await);
    late.now += Duration::days(30);
    assert_eq!(late.say("-1", "robin", &start).await, Received::TurnedAway);
}

#[tokio::test]
async fn members_are_known_in_private_and_nobody_else_is() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "ana", BATCH).await;
    assert_eq!(bot.outcomes().await, [Outcome::Recorded]);
    assert!(matches!(
        bot.say("9", "ana", "what's left").await,
        Received::Stored(_)
    ));
    assert_eq!(bot.outcomes().await, [Outcome::Answered]);
    let said = bot.deliver().await;
    assert_eq!(said.last().expect("an answer").chat, "9");
    assert!(said.last().expect("an answer").text.contains("rice"));
    assert_eq!(
        bot.say("8", "eve", "what's left").await,
        Received::TurnedAway
    );
    assert_eq!(
        bot.say("-3", "ana", "what's left").await,
        Received::TurnedAway
    );
}

#[tokio::test]
async fn a_keeper_who_cooked_alone_brings_the_kitchen_into_the_group() {
    let mut bot = Bot::new().await;
    bot.let_in("5", "robin").await;
    bot.say("5", "robin", BATCH).await;
    bot.let_in("-1", "robin").await;
    assert_eq!(bot.households().await, 1);
    bot.let_in("-2", "robin").await;
    assert_eq!(
        bot.households().await,
        2,
        "a second group is a kitchen of its own"
    );
}

#[tokio::test]
async fn updates_may_repeat_and_come_out_of_order() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "robin", BATCH).await;
    let original = bot.inbound("-1", "robin", "140 rice");
    let mut edit = bot.inbound("-1", "robin", "104 rice");
    edit.external_id.clone_from(&original.external_id);
    assert!(matches!(bot.receive(&edit).await, Received::Stored(_)));
    assert_eq!(bot.receive(&original).await, Received::Superseded);
    assert_eq!(bot.receive(&edit).await, Received::Repeated);
    assert_eq!(bot.outcomes().await, [Outcome::Recorded, Outcome::Recorded]);
    let said = bot.deliver().await;
    assert!(said[1].text.contains("1296 g"), "{}", said[1].text);
}

#[tokio::test]
async fn an_edit_before_the_first_answer_is_sent_follows_it_in_order() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "robin", BATCH).await;
    let original = bot.inbound("-1", "robin", "140 rice");
    let mut edit = bot.inbound("-1", "robin", "104 rice");
    edit.external_id.clone_from(&original.external_id);
    bot.receive(&original).await;
    bot.receive(&edit).await;
    assert_eq!(bot.outcomes().await.len(), 3);
    let said = bot.deliver().await;
    let kinds: Vec<OutboxKind> = said.iter().map(|outgoing| outgoing.kind).collect();
    assert_eq!(
        kinds,
        [OutboxKind::Reply, OutboxKind::Reply, OutboxKind::Edit]
    );
    assert_eq!(said[2].edits, Some((said[1].id, Vec::new())));
    assert!(said[1].silent, "an answer to a weighing makes no sound");
    assert_eq!(
        bot.deliver().await,
        [],
        "what was sent is not handed out again"
    );
}

#[tokio::test]
async fn a_reply_to_the_bot_speaks_to_it() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "robin", BATCH).await;
    bot.outcomes().await;
    let answer = bot.deliver().await.remove(0);
    bot.say("-1", "robin", "qwerty").await;
    assert_eq!(bot.outcomes().await, [Outcome::Ignored]);
    let mut reply = bot.inbound("-1", "robin", "qwerty");
    reply.reply_to = Some(format!("t{}", answer.id.0));
    bot.receive(&reply).await;
    assert_eq!(bot.outcomes().await, [Outcome::Refused]);
    bot.service.answer_to("Kitchen_Bot");
    bot.say("-1", "robin", "@kitchen_bot what's left").await;
    bot.say("-1", "robin", "/help@other_bot").await;
    assert_eq!(bot.outcomes().await, [Outcome::Answered, Outcome::Ignored]);
}

#[tokio::test]
async fn a_group_that_moves_keeps_its_household_and_its_answers() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "robin", BATCH).await;
    bot.outcomes().await;
    let moved = bot.service.move_chat("telegram", "-1", "-1001", bot.now);
    moved.await.expect("the books can be written");
    assert_eq!(bot.deliver().await[0].chat, "-1001");
    bot.say("-1001", "robin", "what's left").await;
    assert_eq!(bot.outcomes().await, [Outcome::Answered]);
    assert_eq!(bot.households().await, 1);
    let mut transaction = bot.store.look().await.expect("readable");
    for chat in ["-1", "-1001"] {
        let found = transaction.household_of_chat(chat).await.expect("readable");
        assert!(found.is_some(), "{chat}");
    }
}

#[tokio::test]
async fn a_refused_answer_is_set_aside_and_blocks_nothing() {
    let mut bot = Bot::new().await;
    bot.let_in("-1", "robin").await;
    bot.say("-1", "robin", BATCH).await;
    bot.say("-1", "robin", "140 rice").await;
    bot.outcomes().await;
    let pending = bot.service.pending("telegram").await.expect("readable");
    assert_eq!(pending.len(), 2);
    let aside = bot.service.set_reply_aside(pending[0].id, bot.now);
    aside.await.expect("written");
    bot.service
        .send_failed(pending[1].id)
        .await
        .expect("written");
    let left = bot.service.pending("telegram").await.expect("readable");
    assert_eq!(left.len(), 1);
    assert_eq!((left[0].id, left[0].attempts), (pending[1].id, 1));
}

#[tokio::test]
async fn the_first_run_gets_a_code_and_later_runs_do_not() {
    let mut bot = Bot::new().await;
    let first = bot.service.first_invite("telegram", bot.now);
    let code = first.await.expect("written").expect("nobody is let in yet");
    let again = bot.service.first_invite("telegram", bot.now);
    assert_eq!(again.await.expect("written"), None, "a code waits");
    let start = format!("/start {code}");
    assert_eq!(bot.say("5", "robin", &start).await, Received::LetIn);
    bot.now += Duration::days(30);
    let later = bot.service.first_invite("telegram", bot.now);
    assert_eq!(later.await.expect("written"), None, "somebody is in");
}
