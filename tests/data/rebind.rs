//! A lost account and a lost chat: bound anew at the box, with all that was there before.

use std::path::Path;

use serde_json::{Value, json};

use super::running::{Bridge, books, kitchen, printed, run};

struct Said<'a> {
    chat: &'a str,
    sender: &'a str,
    name: &'a str,
    private: bool,
}

fn say(bridge: &mut Bridge, said: &Said<'_>, id: &str, text: &str) -> Vec<Value> {
    let mut line = json!({
        "type": "message", "chat": said.chat, "id": id, "from": {"id": said.sender, "name": said.name},
        "text": text, "at": "2026-10-14T18:00:00+01:00",
    });
    if said.private {
        line["private"] = true.into();
    }
    bridge.send(&line)
}

const ROBIN: Said<'_> = Said {
    chat: "c1",
    sender: "u1",
    name: "Robin",
    private: false,
};
const TOM: Said<'_> = Said {
    chat: "c1",
    sender: "u3",
    name: "Tom",
    private: false,
};

fn household(file: &Path) {
    let mut bridge = Bridge::open(file);
    say(
        &mut bridge,
        &ROBIN,
        "r1",
        "batch dal, 500 g red lentils, cooked 1200, fridge",
    );
    say(&mut bridge, &TOM, "r2", "@hobside target 2150 kcal");
    say(&mut bridge, &TOM, "r3", "140 dal");
    say(&mut bridge, &ROBIN, "r4", "guest Mia had 90 dal");
    bridge.close();
}

fn members(file: &Path) -> Vec<String> {
    let books = books(file);
    let members = books["members"].as_array().expect("members").iter();
    members
        .map(|it| it["name"].as_str().expect("a name").to_owned())
        .collect()
}

#[test]
fn a_new_account_is_who_it_was() {
    let (_folder, file) = kitchen();
    household(&file);
    let before = books(&file);
    let said = printed(
        &file,
        &[
            "rebind",
            "--chat",
            "c1",
            "--member",
            "tom",
            "--account",
            "bridge:u33",
        ],
    );
    assert_eq!(said, "bridge:u33 is Tom from now on.\n");
    assert_eq!(books(&file), before);
    let new = Said {
        sender: "u33",
        name: "Thomas",
        ..TOM
    };
    let mut bridge = Bridge::open(&file);
    let targets = say(&mut bridge, &new, "n1", "@hobside my targets");
    assert!(
        targets[0]["text"].as_str().expect("text").contains("2150"),
        "{targets:?}"
    );
    assert_eq!(members(&file), ["Robin", "Tom", "Mia"], "nobody is new");
    // The lost account is nobody's: whoever has it comes as somebody else.
    let old = say(&mut bridge, &TOM, "n2", "@hobside my targets");
    assert!(
        !old[0]["text"].as_str().expect("text").contains("2150"),
        "{old:?}"
    );
    bridge.close();
    // And that somebody can be bound, too; what was booked meanwhile stays where it is.
    let said = printed(
        &file,
        &[
            "rebind",
            "--chat",
            "c1",
            "--member",
            "2",
            "--account",
            "bridge:u3",
            "--also",
        ],
    );
    assert!(
        said.contains("It was Tom before, who has left the table"),
        "{said}"
    );
    let mut bridge = Bridge::open(&file);
    for (sender, id) in [("u3", "n3"), ("u33", "n4")] {
        let targets = say(
            &mut bridge,
            &Said { sender, ..TOM },
            id,
            "@hobside my targets",
        );
        assert!(
            targets[0]["text"].as_str().expect("text").contains("2150"),
            "{targets:?}"
        );
    }
    bridge.close();
}

#[test]
fn a_guest_may_begin_to_write() {
    let (_folder, file) = kitchen();
    household(&file);
    printed(
        &file,
        &[
            "rebind",
            "--chat",
            "c1",
            "--member",
            "Mia",
            "--account",
            "bridge:u4",
        ],
    );
    let mut bridge = Bridge::open(&file);
    let mia = Said {
        sender: "u4",
        name: "mia.r",
        ..TOM
    };
    let day = say(&mut bridge, &mia, "m1", "@hobside what did I have today");
    assert!(
        day[0]["text"].as_str().expect("text").contains("90 g dal"),
        "{day:?}"
    );
    bridge.close();
    assert_eq!(members(&file), ["Robin", "Tom", "Mia"]);
}

#[test]
fn a_household_goes_on_in_another_chat() {
    let (_folder, file) = kitchen();
    household(&file);
    let mut bridge = Bridge::open(&file);
    say(&mut bridge, &ROBIN, "t1", "35 min dal");
    let before = books(&file);
    // Beside a running bot.
    let said = printed(&file, &["rebind", "--chat", "c1", "--to", "bridge:c9"]);
    assert_eq!(said, "c1 is reached in bridge:c9 from now on.\n");
    let there = Said {
        chat: "c9",
        ..ROBIN
    };
    let stock = say(&mut bridge, &there, "t2", "@hobside what's left");
    assert!(
        stock[0]["text"].as_str().expect("text").contains("970 g"),
        "{stock:?}"
    );
    let rung = bridge.send(&json!({"type": "tick", "at": "2026-10-14T18:36:00+01:00"}));
    let notice = rung
        .iter()
        .find(|line| line["type"] == "notice")
        .expect("it rings");
    assert_eq!(notice["chat"], "c9");
    bridge.close();
    let after: Value =
        serde_json::from_str(&printed(&file, &["export", "--chat", "c9"])).expect("JSON");
    assert_eq!(after["entries"], before["entries"]);
    assert!(
        run(&file, &["export", "--chat", "c1"]).code != 0,
        "the old one leads nowhere"
    );
    printed(
        &file,
        &[
            "rebind",
            "--chat",
            "c9",
            "--to",
            "telegram:-100555",
            "--also",
        ],
    );
    let chats = printed(&file, &["export", "--list"]);
    assert!(
        chats.contains("bridge:c9") && chats.contains("telegram:-100555"),
        "{chats}"
    );
}

#[test]
fn what_cannot_be_bound_is_said_and_nothing_changes() {
    let (_folder, file) = kitchen();
    household(&file);
    let mut bridge = Bridge::open(&file);
    let upstairs = Said {
        chat: "c2",
        sender: "u8",
        name: "Otto",
        private: false,
    };
    say(
        &mut bridge,
        &upstairs,
        "o1",
        "batch soup, 500 g leeks, cooked 700",
    );
    // The first one of that name to write is whoever was known by it.
    for (sender, id) in [("u5", "o2"), ("u6", "o3")] {
        let mia = Said {
            sender,
            name: "Mia",
            ..TOM
        };
        say(&mut bridge, &mia, id, "140 dal");
    }
    bridge.close();
    let archives = || {
        ["c1", "c2"].map(|chat| printed(&file, &["export", "--chat", chat, "--format", "archive"]))
    };
    let before = archives();
    for (words, arguments) in [
        (
            "no household has a chat",
            &["--chat", "c7", "--to", "bridge:c9"][..],
        ),
        (
            "is a chat of this household already",
            &["--chat", "c1", "--to", "bridge:c1"],
        ),
        (
            "belongs to another household",
            &["--chat", "c1", "--to", "bridge:c2"],
        ),
        (
            "nobody here is called \"Zoe\"; there are: Robin (number 1)",
            &["--chat", "c1", "--member", "Zoe", "--account", "bridge:u9"],
        ),
        (
            "several are called \"Mia\"",
            &["--chat", "c1", "--member", "Mia", "--account", "bridge:u9"],
        ),
        (
            "is Tom already",
            &["--chat", "c1", "--member", "Tom", "--account", "bridge:u3"],
        ),
        (
            "sits at the table of another household",
            &["--chat", "c1", "--member", "Tom", "--account", "bridge:u8"],
        ),
        (
            "CHANNEL:ID",
            &["--chat", "c1", "--member", "Tom", "--account", "u9"],
        ),
        ("--account", &["--chat", "c1", "--member", "Tom"]),
        ("--member", &["--chat", "c1"]),
        (
            "cannot be used with",
            &[
                "--chat",
                "c1",
                "--to",
                "bridge:c9",
                "--member",
                "Tom",
                "--account",
                "bridge:u9",
            ],
        ),
    ] {
        let refused = run(&file, &[&["rebind"], arguments].concat());
        assert_ne!(refused.code, 0, "{arguments:?}");
        assert!(
            refused.complaint.contains(words),
            "{words}: {}",
            refused.complaint
        );
        assert_eq!(archives(), before, "{words}");
    }
}
