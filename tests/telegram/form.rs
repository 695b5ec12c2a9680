//! The form that a file is sent in (RFC 7578), read as if it were the JSON of other calls.

use serde_json::{Value, json};

/// Every field by its name; one that points at a file ("attach://x") becomes that file.
pub fn read(kind: &str, body: &[u8]) -> Option<Value> {
    let boundary = kind
        .strip_prefix("multipart/form-data; boundary=")?
        .trim_matches('"');
    let mut params = json!({});
    let mut files: Vec<(String, Value)> = Vec::new();
    let between = format!("--{boundary}");
    for part in split(body, between.as_bytes()) {
        let Some(at) = find(part, b"\r\n\r\n") else {
            continue;
        };
        let head = String::from_utf8_lossy(&part[..at]).into_owned();
        let content = part[at + 4..].strip_suffix(b"\r\n")?;
        let said = |key: &str| {
            let (_, rest) = head.split_once(&format!("{key}=\""))?;
            rest.split('"').next().map(str::to_owned)
        };
        let name = said(" name")?;
        match said("filename") {
            Some(file_name) => {
                files.push((name, json!({ "file_name": file_name, "bytes": content })))
            }
            None => {
                let text = String::from_utf8(content.to_vec()).ok()?;
                // Numbers, flags and objects are written as they are in JSON.
                params[&name] = serde_json::from_str(&text).unwrap_or(Value::String(text));
            }
        }
    }
    for (name, file) in files {
        let link = json!(format!("attach://{name}"));
        let points = params
            .as_object_mut()?
            .values_mut()
            .find(|value| **value == link);
        match points {
            Some(value) => *value = file,
            None => params[&name] = file,
        }
    }
    Some(params)
}

fn split<'a>(body: &'a [u8], between: &[u8]) -> Vec<&'a [u8]> {
    let mut parts = Vec::new();
    let mut rest = body;
    while let Some(at) = find(rest, between) {
        parts.push(&rest[..at]);
        rest = &rest[at + between.len()..];
    }
    parts
}

fn find(body: &[u8], wanted: &[u8]) -> Option<usize> {
    body.windows(wanted.len()).position(|part| part == wanted)
}
