//! The papers that come with the binary: its version, the manual, what shells complete.

use hobside::store::Store;

use super::running::{kitchen, printed};

const COMMANDS: [&str; 7] = [
    "backup", "bridge", "doctor", "export", "invite", "restore", "telegram",
];

#[test]
fn the_version_names_the_schema() {
    let (_folder, file) = kitchen();
    let version = printed(&file, &["--version"]);
    let schema = format!("schema {}", Store::schema());
    assert!(
        version.starts_with(concat!("hobside ", env!("CARGO_PKG_VERSION"), " (commit ")),
        "{version}"
    );
    assert!(version.contains(&schema), "{version}");
}

#[test]
fn every_command_is_in_the_manual_and_completed() {
    let (folder, file) = kitchen();
    let manual = printed(&file, &["manual"]);
    let shells: Vec<String> = ["bash", "zsh", "fish"]
        .iter()
        .map(|shell| printed(&file, &["completions", shell]))
        .collect();
    let pages = folder.path().join("man");
    printed(&file, &["manual", "--to", pages.to_str().expect("text")]);
    for command in COMMANDS {
        assert!(manual.contains(command), "{command}");
        for shell in &shells {
            assert!(shell.contains(command), "{command}");
        }
        let page = std::fs::read_to_string(pages.join(format!("hobside-{command}.1")));
        assert!(page.expect(command).contains(".SH"), "{command}");
    }
    let page = std::fs::read_to_string(pages.join("hobside-doctor.1")).expect("a page");
    assert!(page.contains("EXIT STATUS"), "{page}");
    assert!(!file.exists(), "papers need no books");
}
