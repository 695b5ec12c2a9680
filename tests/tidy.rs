//! The house's rules, checked as text: who may use whom, and what may stand where.

use std::path::{Path, PathBuf};

/// One-way order: each may use those before it, never those after.
const LAYERS: [&str; 7] = [
    "foods", "lang", "domain", "render", "store", "service", "channel",
];

/// No file is longer than a reader's patience.
const LINES_MAX: usize = 450;

struct Source {
    /// Below `src`, with forward slashes.
    path: String,
    text: String,
}

impl Source {
    fn layer(&self) -> Option<usize> {
        let top = self
            .path
            .split(['/', '.'])
            .next()
            .expect("a path has a part");
        LAYERS.iter().position(|layer| *layer == top)
    }

    /// Without the tests at the end of the file, which may use anything.
    fn code(&self) -> &str {
        self.text
            .split("#[cfg(test)]\nmod ")
            .next()
            .unwrap_or_default()
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    collect(&root, &mut files);
    files.sort();
    let sources: Vec<Source> = files
        .into_iter()
        .map(|file| Source {
            path: file
                .strip_prefix(&root)
                .expect("it is below the root")
                .to_string_lossy()
                .replace('\\', "/"),
            text: std::fs::read_to_string(&file).expect("source is text"),
        })
        .collect();
    assert!(sources.len() > 30, "the walk found {} files", sources.len());
    sources
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
}

/// Every file but those under `home` is free of `word`.
#[track_caller]
fn only_in(word: &str, home: &[&str]) {
    for source in sources() {
        let at_home = home.iter().any(|home| source.path.starts_with(home));
        assert!(
            at_home || !source.text.contains(word),
            "{word} in {}",
            source.path
        );
    }
}

#[test]
fn layers_use_only_those_before_them() {
    for source in sources() {
        let Some(layer) = source.layer() else {
            continue;
        };
        for later in &LAYERS[layer + 1..] {
            let used = format!("crate::{later}");
            assert!(
                !source.code().contains(&used),
                "{} uses {used}",
                source.path
            );
        }
    }
}

#[test]
fn each_outside_library_has_one_home() {
    only_in("sqlx::", &["store/"]);
    only_in("teloxide::", &["channel/telegram"]);
    only_in("rusqlite", &[]);
}

#[test]
fn time_is_asked_in_one_place() {
    only_in("Utc::now", &["clock.rs"]);
    only_in("Local::now", &[]);
    only_in("SystemTime::now", &[]);
}

#[test]
fn the_domain_is_pure() {
    for source in sources() {
        if !source.path.starts_with("domain/") {
            continue;
        }
        for word in ["async fn", "serde", "tokio::", "std::fs", "std::env"] {
            assert!(!source.code().contains(word), "{word} in {}", source.path);
        }
    }
}

#[test]
fn entries_are_added_in_one_place_and_never_replaced() {
    let count = |word: &str| -> usize {
        let counts = sources()
            .into_iter()
            .map(|source| source.text.matches(word).count());
        counts.sum()
    };
    assert_eq!(count("insert into entry "), 1);
    assert_eq!(count("insert or replace"), 0);
    assert_eq!(count("replace into"), 0);
}

#[test]
fn every_module_has_a_head() {
    for source in sources() {
        assert!(
            source.text.starts_with("//! "),
            "{} has no head",
            source.path
        );
    }
}

#[test]
fn files_stay_short() {
    for source in sources() {
        let lines = source.text.lines().count();
        assert!(lines <= LINES_MAX, "{} has {lines} lines", source.path);
    }
}

#[test]
fn the_last_way_out_is_explained() {
    for source in sources() {
        assert!(
            !source.code().contains(".unwrap()"),
            "unwrap in {}",
            source.path
        );
    }
}

/// A script at the bridge goes by the codes of problems: the README names each.
#[test]
fn every_problem_code_is_documented() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = std::fs::read_to_string(root.join("README.md")).expect("the README is there");
    let problems = sources()
        .into_iter()
        .filter(|source| source.path.starts_with("domain/") && source.path.ends_with("problem.rs"));
    let problems: Vec<String> = problems.map(|source| source.text).collect();
    assert!(problems.len() > 1, "the codes are where they were");
    let codes = problems.iter().flat_map(|text| text.split("=> \"").skip(1));
    let codes: Vec<&str> = codes.filter_map(|rest| rest.split('"').next()).collect();
    assert!(codes.len() > 20, "the codes are where they were");
    for code in codes {
        assert!(readme.contains(&format!("`{code}`")), "{code}");
    }
}
