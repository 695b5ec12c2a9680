//! A table of the books as CSV (RFC 4180): a heading, lines that end in CRLF, quotes where they are needed. It holds what
//! the JSON of the bridge holds, and is named alike: `per_100g.protein_g` is the `protein_g` in `per_100g`.
//!
//! Programs for sheets take a text that begins with `=`, `+`, `-` or `@` for a formula, and would carry it out: it gets an
//! apostrophe in front. Numbers are left as they are.

use serde_json::Value;

/// Spreadsheets read these at the beginning of a text as that of a formula, some also in full width.
const FORMULA: [char; 10] = [
    '=', '+', '-', '@', '\t', '\r', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
];

pub fn table(columns: &[String], rows: &[Value]) -> String {
    let mut text = String::new();
    line(&mut text, columns.iter().map(|name| quoted(name)));
    for row in rows {
        line(
            &mut text,
            columns.iter().map(|column| cell(of(row, column))),
        );
    }
    text
}

fn line(text: &mut String, cells: impl Iterator<Item = String>) {
    text.push_str(&cells.collect::<Vec<_>>().join(","));
    text.push_str("\r\n");
}

fn of<'a>(row: &'a Value, column: &str) -> &'a Value {
    let mut steps = column.split('.');
    steps
        .try_fold(row, |value, step| value.get(step))
        .unwrap_or(&Value::Null)
}

/// Unknown is empty, a list is told with semicolons.
fn cell(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::Bool(_) => value.to_string(),
        Value::Number(number) => match number.as_f64().filter(|_| number.is_f64()) {
            // As people write it: 140, not 140.0, and never with an exponent.
            Some(number) => number.to_string(),
            None => number.to_string(),
        },
        Value::String(text) => quoted(&harmless(text)),
        Value::Array(list) => {
            let texts = list.iter().map(|it| match it {
                Value::String(text) => text.clone(),
                other => other.to_string(),
            });
            quoted(&harmless(&texts.collect::<Vec<_>>().join("; ")))
        }
        Value::Object(_) => quoted(&value.to_string()),
    }
}

fn harmless(text: &str) -> String {
    match text.starts_with(FORMULA) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

fn quoted(text: &str) -> String {
    match text.contains([',', '"', '\r', '\n']) {
        true => format!("\"{}\"", text.replace('"', "\"\"")),
        false => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn cells_are_as_the_standard_has_them() {
        let columns = ["name", "grams", "per_100g.fat_g", "allergens", "raw"].map(str::to_owned);
        let rows = [
            json!({"name": "dal", "grams": 140.0, "per_100g": {"fat_g": 0.1}, "allergens": ["milk", "eggs"], "raw": true}),
            json!({"name": "salt, \"sea\"", "grams": -27.25, "per_100g": null, "allergens": []}),
            json!({"name": "two\nlines", "grams": 3}),
        ];
        assert_eq!(
            table(&columns, &rows),
            "name,grams,per_100g.fat_g,allergens,raw\r\n\
             dal,140,0.1,milk; eggs,true\r\n\
             \"salt, \"\"sea\"\"\",-27.25,,,\r\n\
             \"two\nlines\",3,,,\r\n"
        );
    }

    #[test]
    fn no_text_is_a_formula() {
        for text in [
            "=1+1",
            "+1",
            "-1 dal",
            "@SUM(A1)",
            "\tx",
            "\r=1",
            "\u{ff1d}1",
        ] {
            let cell = cell(&json!(text));
            let bare = cell.trim_start_matches('"');
            assert!(bare.starts_with('\''), "{text:?}: {cell}");
        }
        assert_eq!(
            cell(&json!("=HYPERLINK(\"x\",\"y\")")),
            "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\""
        );
        assert_eq!(cell(&json!(["=1", "x"])), "'=1; x");
        assert_eq!(cell(&json!(-5.5)), "-5.5");
        assert_eq!(cell(&json!("dal = good")), "dal = good");
    }
}
