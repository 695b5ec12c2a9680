//! A fuzz target over the language: random runs of its own words, mutilated messages of the corpus,
//! and noise. No input may panic, point outside its text, or take long.
//!
//! `HOBSIDE_FUZZ` sets how many inputs (10,000,000 by hand, in a release build; a small share without
//! it), `HOBSIDE_FUZZ_SEED` where they begin. An input is made from its number and the seed alone, so
//! that one which fails is found again.

mod chance;
mod spoken;

use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};
use std::{env, fs, panic, thread};

use chance::Chance;
use hobside::lang::{Vocabulary, parse};
use rustix::time::{ClockId, clock_gettime};
use spoken::household;

/// No message may take more of a processor's time; what else runs on the machine is not counted.
const TIME_MAX: Duration = Duration::from_millis(50);
const HANGS: Duration = Duration::from_secs(10);
/// An input that took longer is timed again: cold caches are not a slow language.
const TRIES: usize = 5;
const INPUTS: u64 = 20_000;
/// The channel carries no longer message.
const CHARS_MAX: usize = 4096;

/// What inputs are made of.
struct Matter {
    words: Vec<String>,
    messages: Vec<String>,
    vocabulary: Vocabulary,
}

/// Signs that other readers of numbers and words have stumbled over.
const ODD: &[char] = &[
    '\n', '\t', '\0', '\u{200b}', '\u{200f}', '\u{202e}', '\u{feff}', '\u{ad}', '\u{a0}',
    '\u{202f}', '\u{301}', '½', '¼', '⅞', '⁄', '٣', '３', '−', '–', '→', '×', '·', '‚', '’', '“',
    '🍲', 'ß', 'İ', 'ﬁ', '€', '°', '%', '#', '@', '/', '\\', '<', '&', '*', '_', '`', '"', '(',
    ')', '-', '+', '=', ':', ',', '.', '?', '!', '0', '9',
];

impl Matter {
    fn read() -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let lists = texts(&root.join("src/lang/data"));
        let words = lists
            .iter()
            .flat_map(|text| text.lines())
            .filter_map(|line| line.split('#').next())
            .flat_map(|line| line.split([':', ',']))
            .map(|phrase| phrase.trim().to_owned())
            .filter(|phrase| !phrase.is_empty())
            .chain(
                ["dal", "rice", "onion", "olive oil", "D7", "Ana", "blue pot"].map(str::to_owned),
            )
            .collect();
        let messages = texts(&root.join("tests/corpus"))
            .iter()
            .flat_map(|text| text.lines())
            .filter(|line| !line.starts_with(['#', '=', '-']) && !line.is_empty())
            .map(|line| line.replace("\\n", "\n"))
            .collect();
        Self {
            words,
            messages,
            vocabulary: household(),
        }
    }

    fn input(&self, random: &mut Chance) -> String {
        let text = match random.below(10) {
            0..=3 => self.run_of_words(random),
            4..=7 => self.mutilated(random),
            8 => noise(random),
            _ => self.repeated(random),
        };
        text.chars().take(CHARS_MAX).collect()
    }

    fn run_of_words(&self, random: &mut Chance) -> String {
        let count = match random.below(50) {
            0 => random.within(100..600),
            _ => random.within(1..16),
        };
        let mut text = String::new();
        for _ in 0..count {
            match random.below(4) {
                0 => text.push_str(&number(random)),
                1 => text.push(random.one(ODD)),
                _ => text.push_str(&random.one(&self.words)),
            }
            text.push_str(random.one(&[" ", " ", " ", "", "\n", ", "]));
        }
        text
    }

    /// Two messages spliced, words lost and doubled, signs put in.
    fn mutilated(&self, random: &mut Chance) -> String {
        let mut words: Vec<String> = Vec::new();
        for _ in 0..random.within(1..4) {
            words.extend(random.one(&self.messages).split(' ').map(str::to_owned));
        }
        for _ in 0..random.within(1..5) {
            let at = random.below(words.len());
            match random.below(5) {
                0 => drop(words.remove(at)),
                1 => words.insert(at, words[at].clone()),
                2 => words[at] = number(random),
                3 => words.insert(at, random.one(&self.words)),
                _ => {
                    let mut signs: Vec<char> = words[at].chars().collect();
                    let place = random.below(signs.len() + 1);
                    signs.insert(place, random.one(ODD));
                    words[at] = signs.into_iter().collect();
                }
            }
            if words.is_empty() {
                words.push("dal".into());
            }
        }
        words.join(" ")
    }

    fn repeated(&self, random: &mut Chance) -> String {
        let unit: String = (0..random.within(1..4))
            .map(|_| match random.below(3) {
                0 => number(random),
                1 => random.one(ODD).to_string(),
                _ => random.one(&self.words) + " ",
            })
            .collect();
        // Most are short, a few as long as can be: a long one costs as much as a thousand short ones.
        let most = CHARS_MAX >> random.below(12);
        unit.repeat(random.within(2..most / unit.chars().count().max(1) + 3))
    }
}

fn number(random: &mut Chance) -> String {
    let digits = random.within(1..7);
    let mut text: String = (0..digits)
        .map(|_| char::from(b'0' + random.below(10) as u8))
        .collect();
    if random.below(3) == 0 {
        let at = random.below(text.len() + 1);
        text.insert_str(
            at,
            random.one(&[".", ",", "'", " ", "/", "-", "½", "\u{200b}", "x"]),
        );
    }
    if random.below(3) == 0 {
        text.push_str(random.one(&["g", "kg", " ml", "oz", " lb", "%", " tbsp", "C", "€", "am"]));
    }
    text
}

fn noise(random: &mut Chance) -> String {
    (0..random.within(1..200))
        .map(|_| match random.below(3) {
            0 => random.one(ODD),
            1 => char::from(random.within(32..127) as u8),
            _ => char::from_u32(random.below(0x11_0000) as u32).unwrap_or('\u{fffd}'),
        })
        .collect()
}

fn texts(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("readable").path();
        if path.is_dir() {
            found.extend(texts(&path));
        } else {
            found.push(fs::read_to_string(path).expect("text"));
        }
    }
    found.sort();
    found
}

fn setting(name: &str, otherwise: u64) -> u64 {
    env::var(name).map_or(otherwise, |value| value.parse().expect("a whole number"))
}

/// What this thread has had of the processor.
fn processor_time() -> Duration {
    Duration::try_from(clock_gettime(ClockId::ThreadCPUTime)).expect("time does not run backwards")
}

/// How long the best of a few tries took.
fn timed(text: &str, vocabulary: &Vocabulary) -> Duration {
    let mut least = Duration::MAX;
    for _ in 0..TRIES {
        let start = processor_time();
        let parsed = parse(text, vocabulary);
        least = least.min(processor_time().saturating_sub(start));
        assert!(!parsed.readings.is_empty(), "no reading of {text:?}");
        for reading in &parsed.readings {
            assert!(
                !(reading.sure && reading.commands.is_empty()),
                "sure of nothing: {text:?}"
            );
            for error in &reading.errors {
                assert!(
                    text.get(error.span.clone()).is_some(),
                    "{:?} is not in {text:?}",
                    error.span
                );
            }
        }
        if least < TIME_MAX {
            break;
        }
    }
    least
}

#[test]
fn no_input_panics_or_takes_long() {
    let matter = Matter::read();
    let (inputs, seed) = (
        setting("HOBSIDE_FUZZ", INPUTS),
        setting("HOBSIDE_FUZZ_SEED", 1),
    );
    parse("140 dal", &matter.vocabulary);
    let next = AtomicU64::new(0);
    let workers = thread::available_parallelism().map_or(1, usize::from);
    let started = Instant::now();
    let slowest = thread::scope(|scope| {
        let work = || {
            let mut slowest = (Duration::ZERO, String::new());
            loop {
                let number = next.fetch_add(1, Ordering::Relaxed);
                if number >= inputs {
                    return slowest;
                }
                let mut random = Chance(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ number);
                let text = matter.input(&mut random);
                let taken = panic::catch_unwind(|| timed(&text, &matter.vocabulary))
                    .unwrap_or_else(|_| panic!("input {number} of seed {seed}: {text:?}"));
                if taken > slowest.0 {
                    slowest = (taken, text);
                }
            }
        };
        let workers: Vec<_> = (0..workers).map(|_| scope.spawn(work)).collect();
        let results = workers.into_iter().map(|worker| worker.join());
        results
            .map(|result| result.expect("the message of the panic names the input"))
            .max_by_key(|(taken, _)| *taken)
            .expect("at least one worker")
    });
    let start: String = slowest.1.chars().take(80).collect();
    println!(
        "{inputs} inputs from seed {seed} in {:?}; the slowest took {:?} for {} characters: {start:?}",
        started.elapsed(),
        slowest.0,
        slowest.1.chars().count()
    );
    // An unoptimized build is no measure of speed: what hangs fails anywhere, the limit holds where
    // somebody asked for a run.
    let limit = match env::var("HOBSIDE_FUZZ") {
        Ok(_) if !cfg!(debug_assertions) => TIME_MAX,
        _ => HANGS,
    };
    assert!(slowest.0 < limit, "too slow");
}
