//! The store on real files: what the schema refuses, what is read back, and what it costs.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Duration, Utc};
use hobside::domain::decide::{Input, Outcome, Saying, decide};
use hobside::domain::ids::{MemberId, MessageId};
use hobside::domain::kitchen::Kitchen;
use hobside::lang;
use hobside::store::{
    Error, HouseholdId, Kind, Left, NewHousehold, NewMessage, Store, Transaction, View,
};
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{AssertSqlSafe, ConnectOptions, Row};

/// One household on a temporary file, with a member who says things.
struct Books {
    _folder: tempfile::TempDir,
    file: PathBuf,
    store: Store,
    household: HouseholdId,
    member: MemberId,
    now: DateTime<Utc>,
    said: u32,
}

impl Books {
    async fn new() -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let file = folder.path().join("books.db");
        let store = Store::open(&file).await.expect("a fresh file opens");
        let now = "2026-10-14T18:00:00Z".parse().expect("a time");
        let mut transaction = store.begin().await.expect("the lock is free");
        let new = NewHousehold {
            name: "kitchen",
            zone: chrono_tz::Europe::Dublin,
        };
        let household = transaction
            .create_household(&new, now)
            .await
            .expect("created");
        let member = transaction
            .ensure_member(household, "test", "u1", "Robin", now)
            .await
            .expect("a member");
        transaction.commit().await.expect("committed");
        Self {
            _folder: folder,
            file,
            store,
            household,
            member,
            now,
            said: 0,
        }
    }

    /// A connection beside the store's, with the same options.
    async fn raw(&self) -> SqliteConnection {
        raw(&self.file).await
    }

    async fn message(&mut self, transaction: &mut Transaction, text: &str) -> MessageId {
        self.said += 1;
        let id = format!("m{}", self.said);
        let new = new_message(self, &id, text);
        let id = transaction.store_message(&new).await.expect("stored");
        id.expect("it is new")
    }

    async fn kitchen(&self, transaction: &mut Transaction) -> Kitchen {
        let view = View {
            household: self.household,
            sender: self.member,
            pointed: None,
            answered: None,
            named: &[],
            looks_back: true,
            report: false,
            dishes: &[],
            ahead: true,
            plans: true,
            now: self.now,
        };
        let kitchen = transaction.kitchen(view, None).await;
        let mut kitchen = kitchen.expect("the kitchen is read");
        // Who wrote what is read for an answer, and not carried forward.
        kitchen.authors.clear();
        kitchen.plates_lately.clear();
        kitchen.plain_eaten.clear();
        kitchen.table.ate_on(&Default::default());
        kitchen
    }

    /// Say something; the books as they were carried forward in memory and as they are read back.
    async fn say(&mut self, text: &str) -> (Outcome, Kitchen, Kitchen) {
        self.now += Duration::minutes(7);
        let mut transaction = self.store.begin().await.expect("the lock is free");
        let message = self.message(&mut transaction, text).await;
        let mut carried = self.kitchen(&mut transaction).await;
        let input = Input {
            message,
            sender: self.member,
            now: self.now,
            said_at: self.now,
            addressed: true,
            forwarded: false,
            private: false,
            text: text.to_owned(),
            saying: Saying::Message(lang::parse(text, &carried.vocabulary())),
            pointed: None,
            confirmed: false,
            anyway: false,
            replies_to: None,
            cautioned: None,
            spoken: Vec::new(),
            answered: None,
        };
        let decision = decide(&carried, &input);
        for change in &decision.changes {
            carried.apply(change);
        }
        transaction
            .append(
                self.household,
                decision.credit,
                &decision.changes,
                Left {
                    kitchen: carried.clone(),
                    act: None,
                    private: true,
                },
                self.now,
            )
            .await
            .expect("appended");
        transaction
            .set_outcome(message, decision.outcome)
            .await
            .expect("kept");
        transaction.commit().await.expect("committed");
        let mut transaction = self.store.begin().await.expect("the lock is free");
        let read = self.kitchen(&mut transaction).await;
        (decision.outcome, carried, read)
    }

    #[track_caller]
    fn assert_same(&self, text: &str, mut carried: Kitchen, mut read: Kitchen) {
        // What can be undone is not carried forward.
        carried.recent.clear();
        read.recent.clear();
        read.undone.clear();
        carried.undone.clear();
        // Nor is where something was told.
        read.told_privately.clear();
        carried.told_privately.clear();
        // Profiles that nothing needs any more are not loaded, and one kept before is not kept twice.
        carried.next.profile = 0;
        read.next.profile = 0;
        carried
            .profiles
            .retain(|id, _| read.profiles.contains_key(id));
        // Whether a batch was ever cooked is asked of the books, not carried.
        for kitchen in [&mut carried, &mut read] {
            for batch in kitchen.batches.values_mut() {
                batch.voided = false;
            }
        }
        assert_eq!(read.batches, carried.batches, "{text}");
        read.profiles.clear();
        carried.profiles.clear();
        assert_eq!(read, carried, "{text}");
    }
}

async fn raw(file: &Path) -> SqliteConnection {
    SqliteConnectOptions::new()
        .filename(file)
        .foreign_keys(true)
        .pragma("recursive_triggers", "on")
        .connect()
        .await
        .expect("a second connection opens")
}

fn new_message<'a>(books: &Books, id: &'a str, text: &'a str) -> NewMessage<'a> {
    NewMessage {
        channel: "test",
        chat: "c1",
        external_id: id,
        revision: 0,
        kind: Kind::Message,
        sender: "u1",
        sender_name: "Robin",
        body: text,
        reply_to: None,
        topic: None,
        private: true,
        forwarded: false,
        sent_at: books.now,
        received_at: books.now,
        household: books.household,
        member: books.member,
    }
}

/// A week at one stove, with everything that writes the books.
const WEEK: [&str; 21] = [
    "batch lentil dal\n500 g red lentils\n2 tbsp sunflower oil\n1 medium onion\n10 g salt\ncooked 2310 in the pot, pot 470\nfreezer",
    "140 dal",
    "undo",
    "undo",
    "undo",
    "batch rice, 400 g dry white rice, cooked 1150, fridge",
    "140 dal, 180 rice, 2 tsp olive oil",
    "batch tomato sauce, 800 g canned tomatoes, 2 tbsp olive oil",
    "sauce + 5 g salt",
    "150 sauce",
    "tomato sauce weighed 760",
    "tomato sauce weighed 755",
    "blue pot is 812 g empty",
    "1 ladle dal = 180 g",
    "packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb, 5.4 fibre, salt 9.3 g",
    "recount: rice 900",
    "binned 100 rice",
    "batch chicken, 1 kg raw chicken thighs, 40 g soy sauce, cooked 700",
    "drained 35 g fat from the chicken",
    "batch bake, 300 g dal, 200 g rice, cooked 480",
    "rest of the sauce",
];

#[tokio::test]
async fn what_is_read_back_is_what_was_carried_forward() {
    let mut books = Books::new().await;
    let mut recorded = 0;
    for text in WEEK {
        let (outcome, carried, read) = books.say(text).await;
        recorded += usize::from(outcome == Outcome::Recorded);
        books.assert_same(text, carried, read);
    }
    assert!(recorded >= 18, "only {recorded} of the week were recorded");
}

#[tokio::test]
async fn cached_balances_and_voids_equal_the_fold() {
    let mut books = Books::new().await;
    for text in WEEK {
        books.say(text).await;
    }
    let mut raw = books.raw().await;
    let accounts = sqlx::query(
        "select a.account_id, a.balance_mg,
                coalesce((select sum(mass_mg) from entry where to_id = a.account_id), 0)
              - coalesce((select sum(mass_mg) from entry where from_id = a.account_id), 0)
         from account a",
    )
    .fetch_all(&mut raw)
    .await
    .expect("read");
    assert!(accounts.len() > 10);
    let mut sum = 0;
    for account in &accounts {
        let (cached, fold): (i64, i64) = (account.get(1), account.get(2));
        assert_eq!(cached, fold, "account {}", account.get::<i64, _>(0));
        sum += cached;
    }
    assert_eq!(sum, 0, "every gram that appears somewhere leaves somewhere");
    let wrong: i64 = sqlx::query_scalar(
        "select count(*) from entry e where e.root is null
         and ((select count(*) from entry r where r.root = e.entry_id) % 2 = 1)
             <> exists (select 1 from voided v where v.entry_id = e.entry_id)",
    )
    .fetch_one(&mut raw)
    .await
    .expect("read");
    assert_eq!(wrong, 0);
}

#[tokio::test]
async fn an_entry_is_neither_changed_nor_deleted_nor_replaced() {
    let mut books = Books::new().await;
    books.say(WEEK[0]).await;
    let mut raw = books.raw().await;
    for sql in [
        "update entry set mass_mg = 1 where entry_id = 2",
        "update entry set message_id = null",
        "delete from entry",
        "delete from entry where entry_id = 1",
        "replace into entry select * from entry where entry_id = 2",
        "insert or replace into entry select * from entry where entry_id = 2",
        "insert into entry select * from entry where entry_id = 2
         on conflict do update set mass_mg = 1",
    ] {
        let error = sqlx::query(sql).execute(&mut raw).await.expect_err(sql);
        assert!(
            error.to_string().contains("entries are never"),
            "{sql}: {error}"
        );
    }
}

#[tokio::test]
async fn a_reversal_mirrors_its_entry_and_comes_once() {
    let mut books = Books::new().await;
    books.say(WEEK[0]).await;
    let mut raw = books.raw().await;
    let reversal = |id: i64, ends: &str, mass: &str, reverses: &str, root: &str| {
        AssertSqlSafe(format!(
            "insert into entry select household_id, {id}, 'reversal', occurred_at, recorded_at, member_id, message_id,
             {id}, {ends}, {mass}, batch_id, profile_id, {reverses}, {root} from entry where entry_id = 2"
        ))
    };
    for (wrong, why) in [
        (
            reversal(90, "from_id, to_id", "mass_mg", "2", "2"),
            "same direction",
        ),
        (
            reversal(90, "to_id, from_id", "mass_mg + 1", "2", "2"),
            "another mass",
        ),
        (
            reversal(90, "to_id, from_id", "mass_mg", "2", "3"),
            "another root",
        ),
        (
            reversal(90, "to_id, from_id", "mass_mg", "77", "77"),
            "nothing there",
        ),
    ] {
        let error = sqlx::query(wrong).execute(&mut raw).await.expect_err(why);
        assert!(error.to_string().contains("mirrors"), "{why}: {error}");
    }
    let right = |id| reversal(id, "to_id, from_id", "mass_mg", "2", "2");
    sqlx::query(right(90))
        .execute(&mut raw)
        .await
        .expect("it mirrors");
    let twice = sqlx::query(right(91)).execute(&mut raw).await;
    assert!(twice.expect_err("twice").to_string().contains("UNIQUE"));
}

#[tokio::test]
async fn an_undo_can_be_undone_again_and_again() {
    let mut books = Books::new().await;
    books.say(WEEK[0]).await;
    let mut left = Vec::new();
    for text in ["140 dal", "undo", "undo", "undo", "undo"] {
        let (_, _, read) = books.say(text).await;
        left.push(read.batches.values().next().map(|batch| batch.left().mg()));
    }
    let (with, without) = (Some(1_840_000), Some(1_700_000));
    // An undo takes back the portion; the next takes back the batch, and so on: only what stands.
    assert_eq!(left[..2], [without, with]);
    let mut transaction = books.store.begin().await.expect("the lock is free");
    let portion = transaction
        .act(books.household, MessageId(2))
        .await
        .expect("read")
        .expect("the portion booked something");
    assert!(!portion.stands());
    let foreign = transaction
        .act(HouseholdId(99), MessageId(2))
        .await
        .expect("read");
    assert_eq!(foreign, None, "another household's message is nothing");
}

#[tokio::test]
async fn a_repeat_is_stored_once() {
    let mut books = Books::new().await;
    let mut transaction = books.store.begin().await.expect("the lock is free");
    books.message(&mut transaction, "140 dal").await;
    let again = new_message(&books, "m1", "140 dal");
    assert_eq!(
        transaction.store_message(&again).await.expect("no error"),
        None
    );
    let waiting = transaction
        .oldest_waiting()
        .await
        .expect("read")
        .expect("it waits");
    assert_eq!(waiting.body, "140 dal");
}

#[tokio::test]
async fn what_is_not_committed_never_happened() {
    let mut books = Books::new().await;
    let mut transaction = books.store.begin().await.expect("the lock is free");
    books.message(&mut transaction, "140 dal").await;
    drop(transaction);
    let mut transaction = books.store.begin().await.expect("the lock is free");
    let waiting = transaction.oldest_waiting().await.expect("read");
    assert!(waiting.is_none());
}

#[tokio::test]
async fn a_message_that_fails_is_set_aside() {
    let mut books = Books::new().await;
    let mut transaction = books.store.begin().await.expect("the lock is free");
    let message = books.message(&mut transaction, "140 dal").await;
    let mut set_aside = Vec::new();
    for _ in 0..6 {
        set_aside.push(transaction.count_failure(message).await.expect("counted"));
    }
    assert_eq!(set_aside, [false, false, false, false, true, false]);
    assert!(transaction.oldest_waiting().await.expect("read").is_none());
}

#[tokio::test]
async fn a_code_opens_once_and_not_for_ever() {
    let books = Books::new().await;
    let mut transaction = books.store.begin().await.expect("the lock is free");
    let code = transaction.new_invite(books.now).await.expect("a code");
    let later = books.now + Duration::days(8);
    assert!(
        transaction
            .invite_is_open(&code, books.now)
            .await
            .expect("read")
    );
    assert!(
        transaction
            .invite_is_open(&code.to_uppercase(), books.now)
            .await
            .expect("read")
    );
    assert!(
        !transaction
            .invite_is_open(&code, later)
            .await
            .expect("read")
    );
    assert!(
        !transaction
            .invite_is_open("guess", books.now)
            .await
            .expect("read")
    );
    transaction
        .use_invite(&code, books.household, books.now)
        .await
        .expect("used");
    assert!(
        !transaction
            .invite_is_open(&code, books.now)
            .await
            .expect("read")
    );
    transaction.commit().await.expect("committed");
    let mut raw = books.raw().await;
    let kept: String = sqlx::query_scalar("select code_digest from invite")
        .fetch_one(&mut raw)
        .await
        .expect("read");
    assert_ne!(kept, code, "the file keeps a digest");
}

#[tokio::test]
async fn a_newer_file_is_refused_and_an_old_one_opens_again() {
    let books = Books::new().await;
    books.store.close().await;
    Store::open(&books.file)
        .await
        .expect("it opens again")
        .close()
        .await;
    let mut raw = books.raw().await;
    sqlx::query(
        "insert into _sqlx_migrations (version, description, success, checksum, execution_time)
         values (9999, 'from the future', 1, x'00', 0)",
    )
    .execute(&mut raw)
    .await
    .expect("inserted");
    match Store::open(&books.file).await {
        Err(Error::Newer {
            found: 9999, known, ..
        }) => assert_eq!(known, Store::schema()),
        other => panic!("{other:?}"),
    }
}

#[tokio::test]
async fn a_second_process_may_write_between() {
    let books = Books::new().await;
    let second = Store::open(&books.file)
        .await
        .expect("a second store opens");
    let mut transaction = second.begin().await.expect("the lock is free");
    transaction.new_invite(books.now).await.expect("a code");
    transaction.commit().await.expect("committed");
    books.store.begin().await.expect("the lock is free again");
}

/// A step of a query's plan that reads a whole table which grows with the years.
fn walks_history(step: &str) -> bool {
    // What was asked for, what is worked out on the way, indexes of what waits, and tables that stay small.
    let bounded = [
        "SCAN moved",
        "SCAN n",
        "SCAN needed",
        "SCAN dish",
        "SCAN CONSTANT ROW",
        "SCAN message USING INDEX message_waiting",
        "SCAN h",
        "SCAN c USING INDEX chat_household",
        "SCAN invite",
    ];
    let begins = |known: &str| step == known || step.starts_with(&format!("{known} "));
    step.starts_with("SCAN")
        && !step.starts_with("SCAN (subquery")
        && !step.contains("VIRTUAL TABLE")
        && !bounded.into_iter().any(begins)
}

#[tokio::test]
async fn no_query_walks_history() {
    let books = Books::new().await;
    let mut raw = books.raw().await;
    let mut checked = 0;
    let mut walking = Vec::new();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(".sqlx");
    for file in std::fs::read_dir(folder).expect("the committed queries") {
        let text = std::fs::read_to_string(file.expect("a file").path()).expect("readable");
        let data: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        let sql = data["query"].as_str().expect("a query").to_owned();
        // No message waits for an export, or for what somebody does at the box.
        let reads_all = sql.starts_with("-- export") || sql.starts_with("-- at the box");
        let writes = ["insert", "update", "delete"]
            .iter()
            .any(|verb| sql.starts_with(verb));
        if reads_all || (writes && !sql.contains("where")) {
            continue;
        }
        checked += 1;
        let plan = sqlx::query(AssertSqlSafe(format!("explain query plan {sql}")))
            .fetch_all(&mut raw)
            .await
            .expect("a plan");
        for step in plan {
            let step: String = step.get("detail");
            if walks_history(&step) {
                walking.push(format!("{step}\n{sql}\n"));
            }
        }
    }
    assert!(walking.is_empty(), "{}", walking.join("\n"));
    assert!(checked > 50, "{checked}");
}
