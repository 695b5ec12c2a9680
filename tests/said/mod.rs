//! What people of the transcripts say.

use std::path::Path;

/// Everything, in the order of the files.
pub fn texts() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/conversations");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("a folder")
        .map(|file| file.expect("a file").path())
        .collect();
    files.sort();
    let mut texts = Vec::new();
    for file in files {
        let text = std::fs::read_to_string(file).expect("text");
        for block in text.split("\n\n") {
            let (head, body) = block.split_once('\n').unwrap_or((block, ""));
            let said = body
                .lines()
                .take_while(|line| !line.starts_with(['<', '(']))
                .collect::<Vec<_>>();
            if head.starts_with("20") && !head.contains("presses") && !said.is_empty() {
                texts.push(said.join("\n"));
            }
        }
    }
    assert!(texts.len() > 300, "the transcripts are read");
    texts
}
