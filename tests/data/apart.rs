//! Several households in one file are wholly apart, also for somebody who sits at two tables.

use hobside::channel::archive;
use hobside::store::Store;
use serde_json::json;

use super::play::Play;
use super::running::{Bridge, kitchen, printed};

#[test]
fn one_person_at_two_tables_carries_no_word_from_one_to_the_other() {
    let (_folder, file) = kitchen();
    let mut bridge = Bridge::open(&file);
    let mut number = 0;
    let mut say = |chat: &str, private: bool, text: &str| {
        number += 1;
        let mut line = json!({
            "type": "message", "chat": chat, "id": format!("x{number}"), "from": {"id": "u1", "name": "Robin"},
            "text": text, "at": "2026-10-14T18:00:00+01:00",
        });
        if private {
            line["private"] = true.into();
            line["chat"] = "p-u1".into();
            line["household"] = chat.into();
        }
        bridge.send(&line)
    };
    say(
        "downstairs",
        false,
        "batch turmeric dal, 500 g red lentils, cooked 1200, fridge",
    );
    say("downstairs", true, "target 2150 kcal");
    say("downstairs", true, "140 dal");
    say(
        "upstairs",
        false,
        "batch borscht, 900 g raw beets, cooked 1500, cellar shelf",
    );
    say("upstairs", true, "250 borscht");
    say(
        "upstairs",
        true,
        "remind me on Friday at 10 to return the samovar",
    );
    // In private each is asked about by itself, and neither answers for the other.
    let day = say("downstairs", true, "what did I have today");
    let text = day[0]["text"].as_str().expect("text");
    assert!(
        text.contains("140 g") && !text.contains("borscht"),
        "{text}"
    );
    let day = say("upstairs", true, "what did I have today");
    let text = day[0]["text"].as_str().expect("text");
    assert!(text.contains("250 g") && !text.contains("dal"), "{text}");
    let targets = say("upstairs", true, "my targets");
    let text = targets[0]["text"].as_str().expect("text");
    assert!(!text.contains("2150"), "{text}");
    let unknown = say("upstairs", false, "@hobside how much turmeric dal");
    let text = unknown[0]["text"].as_str().expect("text");
    assert!(!text.contains("1060"), "{text}");
    bridge.close();

    let of = |chat: &str, format: &[&str]| {
        let arguments = [&["export", "--chat", chat], format].concat();
        printed(&file, &arguments).to_lowercase()
    };
    for format in [
        &["--format", "archive"][..],
        &["--format", "json"],
        &["--format", "csv", "--table", "entries"],
        &["--format", "csv", "--table", "plates"],
        &["--format", "csv", "--table", "batches"],
        &["--format", "csv", "--table", "lots"],
    ] {
        let (down, up) = (of("downstairs", format), of("upstairs", format));
        for word in ["borscht", "beets", "cellar", "samovar", "upstairs"] {
            assert!(!down.contains(word), "{format:?}: {word}");
        }
        for word in ["lentils", "1060", "2150", "downstairs"] {
            assert!(!up.contains(word), "{format:?}: {word}");
        }
    }
}

/// Whatever is done in one household, the rows of the other stay as they are.
#[tokio::test]
async fn nothing_that_one_household_does_changes_a_row_of_another() {
    let (_folder, file) = kitchen();
    let mut upstairs = Play::begin(&file, "upstairs", 11).await;
    upstairs.everything().await;
    upstairs.service.close().await.expect("closed");
    drop(upstairs);
    let taken_out = || async {
        let store = Store::open(&file).await.expect("it opens").doubting();
        let text = archive::export(&store, "upstairs")
            .await
            .expect("it is there");
        store.close().await;
        text
    };
    let before = taken_out().await;
    let mut downstairs = Play::begin(&file, "downstairs", 12).await;
    downstairs.plainly().random(60).await;
    downstairs.service.close().await.expect("closed");
    assert!(taken_out().await == before);
}
