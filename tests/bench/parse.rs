//! What it costs to read a message, beside what it costs to look at it: cutting it into words and looking each
//! up once. Both are measured in the same run, so that a busy machine changes neither's share.
//!
//! `cargo bench --bench parse` prints, for talk and for messages of the corpus in a household of three hundred
//! names, the microseconds and the ratio of the two, and how the cost grows with the length of a message.

use std::collections::HashSet;
use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use hobside::lang::{Sense, Vocabulary, folded_words, parse};

const TRIES: usize = 5;
const KINDS: [&str; 15] = [
    "spicy", "lemon", "smoky", "green", "sunday", "coconut", "tomato", "garlic", "spinach",
    "roast", "slow", "quick", "winter", "mild", "lentil",
];
const DISHES: [&str; 19] = [
    "dal",
    "soup",
    "stew",
    "curry",
    "chilli",
    "ragu",
    "pilaf",
    "beans",
    "casserole",
    "sauce",
    "bake",
    "noodles",
    "salad",
    "broth",
    "risotto",
    "barley",
    "salsa",
    "rice",
    "gratin",
];
const OTHERS: [(Sense, &str); 15] = [
    (Sense::Person, "Ana"),
    (Sense::Person, "Robin"),
    (Sense::Person, "Tom"),
    (Sense::Container, "blue pot"),
    (Sense::Container, "steel bowl"),
    (Sense::Place, "garage freezer"),
    (Sense::Packet, "oat crackers"),
    (Sense::Packet, "rye bread"),
    (Sense::Measure, "ladle"),
    (Sense::Batch, "mac and cheese"),
    (Sense::Batch, "3 bean chili"),
    (Sense::Code, "D7"),
    (Sense::Code, "L1"),
    (Sense::Food, "oil"),
    (Sense::Food, "butter"),
];

fn main() {
    let mut names: Vec<(Sense, String)> = Vec::new();
    for kind in KINDS {
        names.extend(DISHES.map(|dish| (Sense::Batch, format!("{kind} {dish}"))));
    }
    names.extend(OTHERS.map(|(sense, name)| (sense, name.to_owned())));
    let household = names
        .iter()
        .fold(Vocabulary::new(), |words, (sense, name)| {
            words.with(*sense, name)
        });
    let known: HashSet<String> = names
        .iter()
        .flat_map(|(_, name)| folded_words(name))
        .collect();
    let read = |text: &str| drop(black_box(parse(text, &household)));
    let look = |text: &str| {
        let words = folded_words(text);
        black_box(words.iter().filter(|word| known.contains(*word)).count());
    };
    println!("{} names", names.len());
    for kind in ["chatter", "messages"] {
        let texts = corpus(kind);
        compare(kind, &texts, read, look);
    }
    for text in ["the bus was late, ", "140 dal, ", "12 "] {
        let most = 4096 / text.len();
        let [short, long] = [most / 8, most].map(|times| least(&text.repeat(times), read));
        let growth = long.as_secs_f64() / short.as_secs_f64();
        println!(
            "{text:?} to 4,096 characters: {long:.0?}, eight times the text {growth:.1} times the cost"
        );
    }
}

/// The lines of the corpus that somebody says.
fn corpus(kind: &str) -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let files = fs::read_dir(folder).expect("the corpus is there");
    let paths = files.map(|file| file.expect("readable").path());
    let of_kind = paths.filter(|path| {
        let name = path.file_name().and_then(|name| name.to_str());
        name.is_some_and(|name| name.starts_with(kind))
    });
    let texts: Vec<String> = of_kind
        .map(|path| fs::read_to_string(path).expect("text"))
        .collect();
    let lines = texts.iter().flat_map(|text| text.lines());
    lines
        .filter(|line| !line.is_empty() && !line.starts_with(['#', '=', '-']))
        .map(|line| line.replace("\\n", "\n"))
        .collect()
}

fn least(text: &str, work: impl Fn(&str)) -> Duration {
    let once = || {
        let start = Instant::now();
        work(text);
        start.elapsed()
    };
    (0..TRIES).map(|_| once()).min().expect("some tries")
}

fn compare(kind: &str, texts: &[String], read: impl Fn(&str), look: impl Fn(&str)) {
    let measured = |work: &dyn Fn(&str)| {
        let mut times: Vec<Duration> = texts.iter().map(|text| least(text, work)).collect();
        times.sort_unstable();
        let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
        [at(0.5), at(0.99)]
    };
    let (read, look) = (measured(&read), measured(&look));
    for (share, read, look) in [
        ("median", read[0], look[0]),
        ("99th percentile", read[1], look[1]),
    ] {
        let ratio = read.as_secs_f64() / look.as_secs_f64();
        println!("{kind}, {share}: {read:.1?}, {ratio:.0} times a look at every word ({look:.1?})");
    }
}
