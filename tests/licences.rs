//! What is built into the program: under licences that we allow, nothing that is banned, all of it from the one registry, and
//! no second copy of a library for our sake. The lists stand in `.ci/deny.toml`. Nothing is asked of a network.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

use serde_json::Value;

const RULES: &str = include_str!("../.ci/deny.toml");
const TARGET: &str = "x86_64-unknown-linux-gnu";

/// The words of a list of the rules.
fn rules(name: &str) -> BTreeSet<&'static str> {
    let begins = format!("\n{name} = [");
    let (_, list) = RULES.split_once(&begins).expect(name);
    let (list, _) = list.split_once(']').expect("a list ends");
    let words: BTreeSet<&str> = list.split('"').skip(1).step_by(2).collect();
    assert!(!words.is_empty(), "{name}");
    words
}

fn metadata() -> Value {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--offline", "--locked"])
        .args(["--filter-platform", TARGET, "--manifest-path"])
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml"))
        .output()
        .expect("cargo runs");
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{complaint}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// A licence in the language of SPDX: `A OR B`, `A AND B`, brackets, and the older `A/B`.
fn is_allowed(licence: &str, allowed: &BTreeSet<&str>) -> bool {
    let spaced = licence
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let mut words = spaced.split_whitespace().peekable();
    let found = either(&mut words, allowed);
    found && words.next().is_none()
}

type Words<'a> = std::iter::Peekable<std::str::SplitWhitespace<'a>>;

fn either(words: &mut Words<'_>, allowed: &BTreeSet<&str>) -> bool {
    let mut one = both(words, allowed);
    while words.next_if_eq(&"OR").is_some() {
        one |= both(words, allowed);
    }
    one
}

fn both(words: &mut Words<'_>, allowed: &BTreeSet<&str>) -> bool {
    let mut all = single(words, allowed);
    while words.next_if_eq(&"AND").is_some() {
        all &= single(words, allowed);
    }
    all
}

fn single(words: &mut Words<'_>, allowed: &BTreeSet<&str>) -> bool {
    let Some(word) = words.next() else {
        return false;
    };
    if word == "(" {
        let inner = either(words, allowed);
        return words.next() == Some(")") && inner;
    }
    match words.next_if_eq(&"WITH") {
        Some(_) => {
            let exception = words.next().unwrap_or_default();
            allowed.contains(format!("{word} WITH {exception}").as_str())
        }
        None => allowed.contains(word),
    }
}

#[test]
fn licences_are_read_as_they_are_meant() {
    let allowed = BTreeSet::from(["MIT", "ISC", "Apache-2.0 WITH LLVM-exception"]);
    for good in [
        "MIT",
        "GPL-3.0 OR MIT",
        "MIT/Apache-2.0",
        "(MIT OR X) AND ISC",
        "Apache-2.0 WITH LLVM-exception",
    ] {
        assert!(is_allowed(good, &allowed), "{good}");
    }
    for bad in [
        "",
        "GPL-3.0",
        "MIT AND X",
        "(MIT OR ISC) AND X",
        "MIT WITH X",
        "Apache-2.0",
        "(MIT",
        "MIT ISC",
    ] {
        assert!(!is_allowed(bad, &allowed), "{bad}");
    }
}

#[test]
fn everything_that_is_built_in_may_be() {
    let (allowed, banned) = (rules("allow"), rules("deny"));
    let metadata = metadata();
    let packages = metadata["packages"].as_array().expect("packages");
    assert!(packages.len() > 100, "the whole tree is there");
    for package in packages {
        let text = |field: &str| package[field].as_str().unwrap_or_default();
        let (name, licence) = (text("name"), text("license"));
        assert!(is_allowed(licence, &allowed), "{name} is under {licence:?}");
        assert!(!banned.contains(name), "{name} is banned");
        let from = text("source");
        let known =
            name == "hobside" || from == "registry+https://github.com/rust-lang/crates.io-index";
        assert!(known, "{name} comes from {from:?}");
    }
    eprintln!(
        "skipped: advisories, whose database is asked by `cargo deny --config .ci/deny.toml check advisories`"
    );
}

/// Where two versions of a library that we use are built in, ours is one that others bring along anyhow.
#[test]
fn no_library_is_built_in_twice_for_our_sake() {
    let metadata = metadata();
    let mut name_of: BTreeMap<&str, &str> = BTreeMap::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let text = |field: &str| package[field].as_str().expect(field);
        name_of.insert(text("id"), text("name"));
    }
    let own = metadata["resolve"]["root"].as_str().expect("the root");
    let mut used_by: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for node in metadata["resolve"]["nodes"].as_array().expect("nodes") {
        let user = node["id"].as_str().expect("an id");
        for used in node["dependencies"].as_array().expect("a list") {
            used_by
                .entry(used.as_str().expect("an id"))
                .or_default()
                .push(user);
        }
    }
    for (used, users) in &used_by {
        let name = name_of[used];
        let versions = used_by
            .keys()
            .filter(|other| name_of[*other] == name)
            .count();
        assert!(
            versions == 1 || *users != [own],
            "{name} is built in {versions} times, once for our sake: {used}"
        );
    }
}
