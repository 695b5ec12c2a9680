//! Tells the program which commit it is built from, as `HOBSIDE_COMMIT`: what the environment says, or else git. Without
//! either it is told nothing. A build for tests is not told, either: it would be built anew after every commit.

use std::path::Path;
use std::process::Command;

fn main() {
    println!("cargo:rerun-if-changed=.ci/commit.rs");
    // `sqlx::migrate!` reads this folder, and the compiler does not know it.
    println!("cargo:rerun-if-changed=migrations");
    println!("cargo:rerun-if-env-changed=HOBSIDE_COMMIT");
    let told = std::env::var("HOBSIDE_COMMIT").unwrap_or_default();
    let commit = match told.trim() {
        "" if std::env::var("PROFILE").as_deref() == Ok("release") => of_git(),
        "" => None,
        told => Some(told.to_owned()),
    };
    if let Some(commit) = commit {
        println!("cargo:rustc-env=HOBSIDE_COMMIT={commit}");
    }
}

fn of_git() -> Option<String> {
    // The sources may lie, without a history of their own, in somebody else's.
    let top = git(&["rev-parse", "--show-toplevel"])?;
    let here = std::env::var("CARGO_MANIFEST_DIR").ok()?;
    if Path::new(&top).canonicalize().ok()? != Path::new(&here).canonicalize().ok()? {
        return None;
    }
    println!("cargo:rerun-if-changed=src");
    for file in ["HEAD", "logs/HEAD"] {
        let path = git(&["rev-parse", "--git-path", file])?;
        if Path::new(&path).exists() {
            println!("cargo:rerun-if-changed={path}");
        }
    }
    git(&[
        "describe",
        "--always",
        "--dirty",
        "--abbrev=12",
        "--exclude=*",
    ])
}

fn git(arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let text = text.trim();
    (output.status.success() && !text.is_empty()).then(|| text.to_owned())
}
