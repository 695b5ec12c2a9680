//! What people ask for that cannot be: impossible targets, people whom nobody knows, and what is another's. Each gets a
//! clear answer, and nothing changes. What is wrong with an archive stands in `archive.rs`.

use std::path::Path;

use hobside::channel::export;
use hobside::store::Store;

use super::play::Play;
use super::running::kitchen;

async fn books(file: &Path) -> String {
    let store = Store::open(file).await.expect("it opens");
    let text = export::books(&store, "kitchen").await.expect("it is there");
    store.close().await;
    text
}

/// Who says it, whether in private, what, the kind of the answer, and its code or why it is not told.
type Refused = (&'static str, bool, &'static str, &'static str, &'static str);

const REFUSED: [Refused; 24] = [
    // Impossible targets.
    (
        "Robin",
        false,
        "target 0 kcal",
        "problem",
        "impossible_target",
    ),
    (
        "Robin",
        false,
        "target 50000 kcal",
        "problem",
        "impossible_target",
    ),
    (
        "Robin",
        false,
        "target 9000 g protein",
        "problem",
        "impossible_target",
    ),
    (
        "Ana",
        true,
        "target 0 g fibre",
        "problem",
        "impossible_target",
    ),
    (
        "Robin",
        false,
        "@hobside target 130",
        "problem",
        "target_of_what",
    ),
    (
        "Robin",
        false,
        "@hobside no fibre target",
        "problem",
        "no_target",
    ),
    ("Ana", true, "no target", "problem", "no_target"),
    // Unknown people.
    (
        "Robin",
        false,
        "@hobside what did Zoe have today",
        "problem",
        "unknown_name",
    ),
    (
        "Robin",
        true,
        "what did Zoe have yesterday",
        "problem",
        "unknown_name",
    ),
    (
        "Robin",
        false,
        "@hobside delete Zoe",
        "problem",
        "unknown_name",
    ),
    (
        "Robin",
        false,
        "@hobside remove Zoe from the household",
        "problem",
        "unknown_name",
    ),
    (
        "Robin",
        false,
        "@hobside forget Ana's nickname",
        "problem",
        "no_nickname",
    ),
    (
        "Robin",
        false,
        "@hobside call me Ana",
        "problem",
        "name_taken",
    ),
    (
        "Robin",
        false,
        "@hobside Ana is not allergic to nuts any more",
        "problem",
        "theirs_to_say",
    ),
    (
        "Robin",
        false,
        "@hobside I'm not allergic to nuts any more",
        "problem",
        "not_avoided",
    ),
    // Someone else's data.
    (
        "Ana",
        false,
        "what did Robin have today",
        "not_told",
        "theirs",
    ),
    (
        "Ana",
        true,
        "what did Robin have today",
        "not_told",
        "theirs",
    ),
    (
        "Ana",
        false,
        "what did Robin have this week",
        "not_told",
        "theirs",
    ),
    (
        "Robin",
        false,
        "@hobside what did Ana have yesterday",
        "not_told",
        "theirs",
    ),
    (
        "Ana",
        false,
        "@hobside delete Robin",
        "problem",
        "keeper_only",
    ),
    (
        "Ana",
        false,
        "@hobside delete this household",
        "problem",
        "keeper_only",
    ),
    (
        "Ana",
        false,
        "@hobside call Robin Bob",
        "problem",
        "keeper_only",
    ),
    (
        "Ana",
        false,
        "@hobside remove Robin from the household",
        "problem",
        "keeper_only",
    ),
    (
        "Ana",
        false,
        "@hobside make me the keeper",
        "problem",
        "keeper_only",
    ),
];

#[tokio::test]
async fn what_cannot_be_is_answered_clearly_and_changes_nothing() {
    let (_folder, file) = kitchen();
    let mut play = Play::begin(&file, "kitchen", 1).await;
    for (who, text) in [
        ("Robin", "batch dal, 500 g red lentils, cooked 1800"),
        ("Robin", "140 dal"),
        ("Ana", "200 dal"),
    ] {
        play.say(who, false, text).await;
    }
    // The chats in which they are alone with the bot are in the books from their first message on.
    for who in ["Robin", "Ana"] {
        play.say(who, true, "what's left").await;
    }
    play.service.close().await.expect("closed");
    drop(play);
    let before = books(&file).await;

    let mut play = Play::begin(&file, "kitchen", 2).await;
    for (who, alone, text, kind, why) in REFUSED {
        let told = play.say(who, alone, text).await;
        let data = told.first().map(|told| &told.data);
        let data = data.unwrap_or_else(|| panic!("{text}: no answer"));
        let said = data["code"].as_str().or_else(|| data["why"].as_str());
        assert_eq!(
            (data["kind"].as_str(), said),
            (Some(kind), Some(why)),
            "{text}: {told:?}"
        );
        assert!(!told[0].text.is_empty(), "{text}");
    }
    play.service.close().await.expect("closed");
    drop(play);
    assert_eq!(books(&file).await, before);
}
