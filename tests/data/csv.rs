//! Tables of the books for a sheet.

use serde_json::Value;

use super::running::{Bridge, books, cooked, kitchen, printed, run};

/// As RFC 4180 reads a text, by a reader of our own.
fn read(text: &str) -> Vec<Vec<String>> {
    assert!(text.ends_with("\r\n"), "{text:?}");
    let (mut rows, mut row, mut cell) = (Vec::new(), Vec::new(), String::new());
    let mut left = text.chars().peekable();
    let mut within = false;
    while let Some(character) = left.next() {
        match (character, within) {
            ('"', true) if left.peek() == Some(&'"') => cell.extend(left.next()),
            ('"', _) => within = !within,
            (',', false) => row.push(std::mem::take(&mut cell)),
            ('\r', false) => {
                assert_eq!(left.next(), Some('\n'));
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            ('\n', false) => panic!("a bare line end in {text:?}"),
            (other, _) => cell.push(other),
        }
    }
    assert!(!within && row.is_empty() && cell.is_empty());
    let columns = rows.first().map_or(0, Vec::len);
    assert!(
        rows.iter().all(|row: &Vec<String>| row.len() == columns),
        "{text}"
    );
    rows
}

fn table(file: &std::path::Path, name: &str) -> Vec<Vec<String>> {
    let arguments = ["export", "--chat", "c1", "--format", "csv", "--table", name];
    read(&printed(file, &arguments))
}

fn column<'a>(rows: &'a [Vec<String>], name: &str) -> Vec<&'a str> {
    let at = rows[0]
        .iter()
        .position(|column| column == name)
        .expect(name);
    rows[1..].iter().map(|row| row[at].as_str()).collect()
}

#[test]
fn tables_hold_what_the_books_hold() {
    let (_folder, file) = kitchen();
    let mut bridge = cooked(&file);
    bridge.record("140 dal, 90 g cooked white rice");
    bridge.close();
    let books = books(&file);
    let entries = table(&file, "entries");
    let journal = books["entries"].as_array().expect("a journal");
    assert_eq!(entries.len(), journal.len() + 1);
    for (grams, entry) in column(&entries, "grams").iter().zip(journal) {
        assert_eq!(grams.parse::<f64>().ok(), entry["grams"].as_f64());
    }
    for (kind, entry) in column(&entries, "kind").iter().zip(journal) {
        assert_eq!(Some(*kind), entry["kind"].as_str());
    }
    let batches = table(&file, "batches");
    let known = books["batches"].as_array().expect("batches");
    assert_eq!(column(&batches, "code").len(), known.len());
    for (protein, batch) in column(&batches, "per_100g.protein_g").iter().zip(known) {
        assert_eq!(
            protein.parse::<f64>().ok(),
            batch["per_100g"]["protein_g"].as_f64()
        );
    }
    let lots = table(&file, "lots");
    assert_eq!(
        column(&lots, "grams").len(),
        books["lots"].as_array().map_or(0, Vec::len)
    );
    let plates = table(&file, "plates");
    assert_eq!(column(&plates, "member"), ["Robin", "Robin"]);
    assert_eq!(column(&plates, "grams"), ["140", "90"]);
    assert_eq!(column(&plates, "day"), ["2026-10-14", "2026-10-14"]);
    let energy: Vec<f64> = column(&plates, "nutrients.energy_kcal")
        .iter()
        .map(|kcal| kcal.parse().expect("a number"))
        .collect();
    let dal = known[0]["per_100g"]["energy_kcal"]
        .as_f64()
        .expect("a number");
    assert!((energy[0] - dal * 1.4).abs() < 1e-6, "{energy:?}");
    assert!(energy[1] > 50.0, "{energy:?}");
}

#[test]
fn a_name_cannot_be_a_formula() {
    let (_folder, file) = kitchen();
    let mut bridge = Bridge::open(&file);
    let line: Value = serde_json::json!({
        "type": "message", "chat": "c1", "id": "x1", "from": {"id": "u9", "name": "=cmd|' /C calc'!A0"},
        "text": "batch dal, 500 g red lentils, cooked 1200", "at": "2026-10-14T18:00:00+01:00",
    });
    bridge.send(&line);
    bridge.close();
    let members = table(&file, "entries");
    let members = column(&members, "member");
    assert!(!members.is_empty());
    assert!(
        members.iter().all(|name| name.starts_with("'=cmd")),
        "{members:?}"
    );
    for wrong in [
        &["export", "--chat", "c1", "--format", "csv"][..],
        &["export", "--chat", "c1", "--table", "lots"],
        &[
            "export", "--chat", "c1", "--format", "csv", "--table", "wishes",
        ],
    ] {
        assert_ne!(run(&file, wrong).code, 0, "{wrong:?}");
    }
}
