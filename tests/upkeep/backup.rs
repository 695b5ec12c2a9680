//! Copies: made beside a running bot, read again, rotated by age, and put back.

use std::path::{Path, PathBuf};

use super::running::{Bridge, books, cooked, kitchen, printed, run};

/// The file that `hobside backup` names in its first line.
fn copied(printed: &str) -> PathBuf {
    PathBuf::from(printed.lines().next().expect("a first line"))
}

fn names(folder: &Path) -> Vec<String> {
    let files = std::fs::read_dir(folder).expect("a folder");
    let names = files.map(|file| file.expect("a file").file_name().into_string());
    let mut names: Vec<String> = names.map(|name| name.expect("text")).collect();
    names.sort();
    names
}

#[test]
fn a_copy_made_beside_a_running_bot_is_the_books_of_that_moment() {
    let (folder, file) = kitchen();
    let mut bot = cooked(&file);
    let at_that_moment = books(&file);
    let out = printed(&file, &["backup"]);
    assert!(out.contains("Read again and whole: "), "{out}");
    bot.record("150 dal");
    let copy = copied(&out);
    assert_eq!(copy.parent(), Some(folder.path().join("backups").as_path()));
    assert_eq!(books(&copy), at_that_moment);
    assert_ne!(books(&file), at_that_moment);
    bot.close();
    let elsewhere = folder.path().join("a disk");
    let to = elsewhere.to_str().expect("text");
    let copy = copied(&printed(&file, &["backup", "--to", to]));
    assert_eq!(books(&copy), books(&file));
    assert!(!names(&elsewhere).iter().any(|name| name.ends_with(".part")));
}

#[test]
fn old_copies_go_and_everything_else_stays() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let copies = folder.path().join("backups");
    std::fs::create_dir(&copies).expect("made");
    let today = chrono::Utc::now();
    let of_day = |days: i64| {
        let at = today - chrono::Duration::days(days);
        format!("hobside-{}.db", at.format("%Y%m%dT%H%M%SZ"))
    };
    let (old, older, young) = (of_day(31), of_day(400), of_day(29));
    let others = [
        "hobside-schema-13.db",
        "hobside-replaced-20200101T000000Z.db",
        "cellar-20200101T000000Z.db",
        "notes.txt",
    ];
    for name in [&old, &older, &young]
        .into_iter()
        .map(String::as_str)
        .chain(others)
    {
        std::fs::write(copies.join(name), "x").expect("written");
    }
    let kept = printed(&file, &["backup"]);
    assert!(!kept.contains("Removed"), "nothing goes unasked: {kept}");
    let out = printed(&file, &["backup", "--keep-days", "30"]);
    assert_eq!(out.matches("Removed").count(), 2, "{out}");
    let left = names(&copies);
    assert!(!left.contains(&old) && !left.contains(&older), "{left:?}");
    assert!(left.contains(&young), "{left:?}");
    for other in others {
        assert!(left.iter().any(|name| name == other), "{other}: {left:?}");
    }
    assert_eq!(left.len(), 2 + 1 + others.len());
}

#[test]
fn no_old_copy_goes_when_the_new_one_fails() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let copies = folder.path().join("backups");
    std::fs::create_dir(&copies).expect("made");
    std::fs::write(copies.join("hobside-20200101T000000Z.db"), "x").expect("written");
    damage(&file);
    let failed = run(&file, &["backup", "--keep-days", "1"]);
    assert_eq!(failed.code, 1, "{}", failed.out);
    assert_eq!(names(&copies), ["hobside-20200101T000000Z.db"]);
}

/// Overwrite the middle of a file, as a dying card does.
fn damage(file: &Path) {
    let mut bytes = std::fs::read(file).expect("it is there");
    for page in 3..bytes.len() / 4096 {
        bytes[page * 4096..page * 4096 + 1000].fill(0xa5);
    }
    std::fs::write(file, bytes).expect("written");
}

#[test]
fn a_drill_the_books_come_back_and_what_stood_there_is_kept() {
    let (folder, file) = kitchen();
    let mut bot = cooked(&file);
    let copy = copied(&printed(&file, &["backup"]));
    let then = books(&file);
    bot.record("150 dal");
    let restore = ["restore", copy.to_str().expect("text")];
    let refused = run(&file, &restore);
    assert_eq!(refused.code, 1, "a bot runs: {}", refused.out);
    assert!(
        refused.complaint.contains("another copy of the bot"),
        "{}",
        refused.complaint
    );
    bot.record("160 dal");
    // Killed, so that the last plates stand in the log beside the file and nowhere else.
    bot.kill();
    let now = books(&file);
    assert_ne!(now, then);
    let mut bot = Bridge::open(&file);
    bot.record("170 dal");
    bot.kill();
    let out = printed(&file, &restore);
    assert_eq!(books(&file), then);
    assert_eq!(books(&copy), then, "the copy stays");
    let kept = out.split("is kept: ").nth(1).expect("it says where").trim();
    let entries = |value: &serde_json::Value| value["entries"].as_array().map(Vec::len);
    assert_eq!(
        entries(&books(Path::new(kept))),
        entries(&now).map(|count| count + 1)
    );
    let mut bot = Bridge::open(&file);
    bot.record("150 dal");
    bot.close();
    assert!(
        !names(folder.path())
            .iter()
            .any(|name| name.contains("restoring"))
    );
}

#[test]
fn what_is_not_whole_is_not_put_back() {
    let (folder, file) = kitchen();
    cooked(&file).close();
    let copy = copied(&printed(&file, &["backup"]));
    let then = books(&file);
    damage(&copy);
    let notes = folder.path().join("notes.db");
    std::fs::write(
        &notes,
        "not a database, whatever its name says of it".repeat(99),
    )
    .expect("written");
    let missing = folder.path().join("missing.db");
    for wrong in [&copy, &notes, &missing, &file] {
        let refused = run(&file, &["restore", wrong.to_str().expect("text")]);
        assert_eq!(refused.code, 1, "{}: {}", wrong.display(), refused.out);
        assert_eq!(books(&file), then);
    }
}

#[test]
fn books_that_are_lost_or_damaged_are_put_back_from_a_copy() {
    let (_folder, file) = kitchen();
    cooked(&file).close();
    let copy = copied(&printed(&file, &["backup"]));
    let then = books(&file);
    let restore = ["restore", copy.to_str().expect("text")];
    damage(&file);
    printed(&file, &restore);
    assert_eq!(books(&file), then);
    std::fs::remove_file(&file).expect("it was there");
    printed(&file, &restore);
    assert_eq!(books(&file), then);
}
