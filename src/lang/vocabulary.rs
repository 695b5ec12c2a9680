//! The household's own words: names of batches, containers, people, places, packets, measures.
//!
//! Text cannot be cut without them ("mac and cheese" is one name where there is such a batch), and
//! nothing is booked on a name that nobody knows. All look-ups go through hash tables made once, so
//! hundreds of names do not slow a line of talk.

use std::collections::{HashMap, HashSet};

use super::lexicon::is_food;
use super::token::folded_words;
use super::words::{fillers, joiners, selectors};
use crate::foods::{compared_words, sounds_alike, spelled_nearly};

/// What a word of the household names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sense {
    Batch,
    /// A batch's code: "D7".
    Code,
    Container,
    Person,
    Place,
    Packet,
    /// A measure with a taught weight: "ladle".
    Measure,
    /// A name that the household has chosen a food for.
    Food,
}

#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    /// Every name under its key, with all that it may mean.
    exact: HashMap<String, Vec<Sense>>,
    /// Names (as places in `names`) by each of their words.
    by_word: HashMap<String, Vec<usize>>,
    names: Vec<Name>,
    /// Names with a number or a joining word in them, by their first word, as folded words.
    tricky: HashMap<String, Vec<Vec<String>>>,
}

#[derive(Debug, Clone)]
struct Name {
    sense: Sense,
    text: String,
    words: HashSet<String>,
    /// Its last word as it is written.
    ending: String,
    /// What it is called by when cut short: its last word, and its first before "and", "con", "with".
    heads: Vec<String>,
}

/// Fewer letters are no short form of a name.
const NICKNAME_MIN: usize = 3;
/// A shorter word is another word before it is a slip.
const SLIPPED_WORD_MIN: usize = 4;

impl Vocabulary {
    pub fn new() -> Self {
        Self::default()
    }

    /// The vocabulary with one name more.
    #[must_use]
    pub fn with(mut self, sense: Sense, name: &str) -> Self {
        self.add(sense, name);
        self
    }

    pub fn add(&mut self, sense: Sense, name: &str) {
        let folded = folded_words(name);
        if folded.is_empty() {
            return;
        }
        let words: Vec<String> = folded.iter().map(|word| singular(word)).collect();
        // The table's spelling of the name counts as well: "chili" for "chilli".
        let respelled = compared_words(name).join(" ");
        if respelled != words.join(" ") && !respelled.is_empty() && sense != Sense::Code {
            self.add_words(sense, &compared_words(name));
        }
        self.add_words(sense, &folded);
    }

    fn add_words(&mut self, sense: Sense, folded: &[String]) {
        let words: Vec<String> = folded.iter().map(|word| singular(word)).collect();
        let senses = self.exact.entry(words.join(" ")).or_default();
        if senses.contains(&sense) {
            return;
        }
        senses.push(sense);
        let place = self.names.len();
        let set: HashSet<String> = words.into_iter().collect();
        for word in &set {
            self.by_word.entry(word.clone()).or_default().push(place);
        }
        self.names.push(Name {
            sense,
            ending: folded.last().cloned().unwrap_or_default(),
            text: folded.join(" "),
            heads: heads(folded),
            words: set,
        });
        let joins = |word: &String| {
            matches!(
                word.as_str(),
                "and" | "with" | "n" | "plus" | "in" | "for" | "the" | "to"
            )
        };
        let numeric = |word: &String| {
            word.starts_with(|c: char| c.is_ascii_digit()) || super::words::number_words().has(word)
        };
        if sense != Sense::Code && folded.iter().any(|word| joins(word) || numeric(word)) {
            self.tricky
                .entry(folded[0].clone())
                .or_default()
                .push(folded.to_vec());
        }
    }

    /// Whether the words are, wholly, a name of this sense.
    pub fn is(&self, sense: Sense, words: &[&str]) -> bool {
        self.exact
            .get(&key(words))
            .is_some_and(|senses| senses.contains(&sense))
    }

    /// Whether some name of this sense ends in the word, letter by letter.
    pub fn is_spelled(&self, sense: Sense, word: &str) -> bool {
        self.names
            .iter()
            .any(|name| name.sense == sense && name.ending == word)
    }

    /// What the words mean to the household: the whole name, or for a batch or a packet some words of it
    /// ("dal" for "lentil dal"), a selector before them ("old dal", "Sunday's dal").
    pub fn known(&self, words: &[&str]) -> Option<Sense> {
        self.look_up(words).or_else(|| {
            let skip = words
                .iter()
                .take_while(|word| selectors().has(word))
                .count();
            (skip > 0 && skip < words.len())
                .then(|| self.look_up(&words[skip..]))
                .flatten()
        })
    }

    fn look_up(&self, words: &[&str]) -> Option<Sense> {
        if words.is_empty() {
            return None;
        }
        if let Some(senses) = self.exact.get(&key(words)) {
            let eaten = [Sense::Batch, Sense::Code, Sense::Packet, Sense::Food];
            return eaten
                .iter()
                .copied()
                .find(|sense| senses.contains(sense))
                .or_else(|| senses.first().copied());
        }
        let rarest = words
            .iter()
            .map(|word| {
                self.by_word
                    .get(&singular(word))
                    .map_or(&[][..], Vec::as_slice)
            })
            .min_by_key(|places| places.len())?;
        rarest.iter().find_map(|&place| {
            let name = &self.names[place];
            let partial = matches!(name.sense, Sense::Batch | Sense::Packet);
            let all = partial
                && words
                    .iter()
                    .all(|word| name.words.contains(&singular(word)));
            // "tomatoes" is no part of "tomato soup" as long as it is a food itself.
            let head = || {
                words
                    .iter()
                    .any(|word| name.heads.contains(&singular(word)))
            };
            (all && (head() || !is_food(words))).then_some(name.sense)
        })
    }

    /// What the words mean to the household, if they are enough of a name to be told from talk: the whole
    /// of it, or with the word that it is called by ("dal", and not "lentil", for "lentil dal").
    pub fn called(&self, words: &[&str]) -> Option<Sense> {
        let skip = words
            .iter()
            .take_while(|word| selectors().has(word))
            .count();
        let plain = &words[skip.min(words.len().saturating_sub(1))..];
        let called = self.exact.contains_key(&key(plain))
            || plain.iter().any(|word| {
                let word = singular(word);
                let places = self.by_word.get(&word).map_or(&[][..], Vec::as_slice);
                places
                    .iter()
                    .any(|&place| self.names[place].heads.contains(&word))
            });
        if called { self.known(words) } else { None }
    }

    /// Whether the words name a batch, whole or in part.
    pub fn is_batch(&self, words: &[&str]) -> bool {
        matches!(self.known(words), Some(Sense::Batch | Sense::Code))
    }

    /// Whether the words are a slip of the finger away from a name of something to eat, or from the words
    /// of one.
    pub fn is_spelled_nearly(&self, name: &str) -> bool {
        let folded: Vec<String> = folded_words(name)
            .iter()
            .map(|word| singular(word))
            .collect();
        let edible = |sense: &Sense| matches!(sense, Sense::Batch | Sense::Packet | Sense::Food);
        self.names.iter().any(|known| {
            // What was only heard alike ("lentil doll") needs a word that is right beside it.
            let exact = folded.iter().any(|said| known.words.contains(said));
            let near = |said: &String| {
                let alike =
                    |word: &String| spelled_nearly(said, word) || exact && sounds_alike(said, word);
                known.words.contains(said) || known.words.iter().any(alike)
            };
            edible(&known.sense) && !folded.is_empty() && folded.iter().all(near)
        })
    }

    /// The one name of something to eat of which every word is written here, nearly.
    pub fn nearly(&self, words: &[&str]) -> Option<&str> {
        let edible = |name: &&Name| matches!(name.sense, Sense::Batch | Sense::Packet);
        let written = |name: &&Name| {
            words.iter().all(|word| {
                let word = singular(word);
                // What was only heard alike ("lentil doll") needs a word that is right beside it.
                let beside = words.iter().any(|other| name.words.contains(*other));
                let slipped = |own: &String| {
                    word.len() >= SLIPPED_WORD_MIN
                        && (spelled_nearly(&word, own) || beside && sounds_alike(&word, own))
                };
                match words.len() {
                    1 => name.heads.iter().any(slipped),
                    _ => name.words.contains(&word) || name.words.iter().any(slipped),
                }
            })
        };
        let mut found = self.names.iter().filter(edible).filter(written);
        let first = found.next()?;
        // "chili" and "chilli" are one name.
        let is_first = |other: &Name| {
            let alike = |word: &String| first.words.iter().any(|own| spelled_nearly(word, own));
            other.words.iter().all(alike)
        };
        found.all(is_first).then_some(first.text.as_str())
    }

    /// The one person whom a short or fond form of a name means: "rob", "tommy".
    pub fn nicknamed(&self, word: &str) -> Option<String> {
        let stem = word
            .strip_suffix("ie")
            .or(word.strip_suffix('y'))
            .map(|stem| {
                let mut letters = stem.chars().rev();
                match (letters.next(), letters.next()) {
                    (Some(last), Some(before)) if last == before => {
                        &stem[..stem.len() - last.len_utf8()]
                    }
                    _ => stem,
                }
            });
        let long = |part: &str| part.chars().count() >= NICKNAME_MIN;
        let means = |name: &String| {
            long(word) && name.starts_with(word)
                || stem.is_some_and(|stem| long(stem) && name.starts_with(stem))
        };
        let mut meant = self.people().filter(|name| means(name));
        let first = meant.next()?;
        meant.next().is_none().then(|| first.clone())
    }

    /// Whether a word is a slip of the finger away from a person's name.
    pub fn is_near_person(&self, word: &str) -> bool {
        self.people().any(|name| spelled_nearly(word, name))
    }

    fn people(&self) -> impl Iterator<Item = &String> {
        let people = self.names.iter().filter(|name| name.sense == Sense::Person);
        people
            .filter(|name| name.words.len() == 1)
            .flat_map(|name| &name.words)
    }

    /// Whether this word stands in any name of the household.
    pub fn has_word(&self, word: &str) -> bool {
        self.by_word.contains_key(word) || self.by_word.contains_key(&singular(word))
    }

    /// The one batch or packet in whose name this word stands: "the leek one".
    pub fn one_with(&self, word: &str) -> Option<&str> {
        let places = self.by_word.get(&singular(word))?;
        let mut names = places
            .iter()
            .map(|&place| &self.names[place])
            .filter(|name| matches!(name.sense, Sense::Batch | Sense::Packet));
        let first = names.next()?;
        names
            .all(|name| name.words == first.words)
            .then_some(first.text.as_str())
    }

    /// Whether this word stands in the name of something to eat.
    pub fn names_food(&self, word: &str) -> bool {
        let edible = |place: &usize| {
            matches!(
                self.names[*place].sense,
                Sense::Batch | Sense::Code | Sense::Packet | Sense::Food
            )
        };
        let places = |word: &str| {
            self.by_word
                .get(word)
                .is_some_and(|places| places.iter().any(edible))
        };
        // "and" stands in "mac and cheese", and names nothing.
        let names = !joiners().has(word) && !fillers().has(word);
        names && (places(word) || places(&singular(word)))
    }

    /// How many words the longest name with a number or a joining word in it takes, read from the front.
    pub(super) fn tricky_name(&self, words: impl Iterator<Item = String> + Clone) -> usize {
        let Some(first) = words.clone().next() else {
            return 0;
        };
        self.tricky.get(&first).map_or(0, |names| {
            names
                .iter()
                .filter(|name| {
                    let mut rest = words.clone();
                    name.iter().all(|word| {
                        rest.next()
                            .is_some_and(|said| said == *word || singular(&said) == singular(word))
                    })
                })
                .map(Vec::len)
                .max()
                .unwrap_or(0)
        })
    }

    pub(super) fn has_tricky_names(&self) -> bool {
        !self.tricky.is_empty()
    }
}

fn heads(folded: &[String]) -> Vec<String> {
    let joins = |word: &String| {
        matches!(
            word.as_str(),
            "and" | "con" | "with" | "n" | "a" | "al" | "in" | "of" | "de"
        )
    };
    let mut heads: Vec<String> = folded
        .last()
        .map(|word| singular(word))
        .into_iter()
        .collect();
    if let Some(at) = folded.iter().position(joins).filter(|&at| at > 0) {
        heads.push(singular(&folded[at - 1]));
    }
    heads
}

/// The key of a name: its words' singulars.
fn key(words: &[&str]) -> String {
    let mut out = String::new();
    for word in words {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(&singular(word));
    }
    out
}

/// The singular of a folded English word, near enough to compare names by: "beans", "potatoes", "leaves".
pub fn singular(word: &str) -> String {
    let length = word.len();
    if length <= 3 || !word.ends_with('s') || !word.is_ascii() {
        return word.to_owned();
    }
    let stem = |cut: usize, ending: &str| format!("{}{ending}", &word[..length - cut]);
    if word.ends_with("ies") && length > 4 {
        return stem(3, "y");
    }
    if word == "leaves" || word == "loaves" || word == "halves" || word == "calves" {
        return stem(3, "f");
    }
    if ["oes", "ches", "shes", "xes", "sses"]
        .iter()
        .any(|ending| word.ends_with(ending))
    {
        return stem(2, "");
    }
    if word.ends_with("ss") || word.ends_with("us") || word.ends_with("is") {
        return word.to_owned();
    }
    stem(1, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn household() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "mac and cheese")
            .with(Sense::Code, "D7")
            .with(Sense::Container, "blue pot")
            .with(Sense::Person, "Ana")
    }

    #[test]
    fn a_batch_is_known_by_some_of_its_words() {
        let vocabulary = household();
        assert_eq!(vocabulary.known(&["dal"]), Some(Sense::Batch));
        assert_eq!(vocabulary.known(&["dal", "lentil"]), Some(Sense::Batch));
        assert_eq!(vocabulary.known(&["old", "dal"]), Some(Sense::Batch));
        assert_eq!(vocabulary.known(&["sundays", "dal"]), Some(Sense::Batch));
        assert_eq!(vocabulary.known(&["d7"]), Some(Sense::Code));
        assert_eq!(vocabulary.known(&["chicken", "dal"]), None);
        assert_eq!(vocabulary.known(&["old"]), None);
    }

    #[test]
    fn a_food_that_is_part_of_a_name_stays_a_food() {
        assert_eq!(household().known(&["lentils"]), None);
        assert_eq!(household().known(&["mac"]), Some(Sense::Batch));
    }

    #[test]
    fn a_container_or_a_person_is_known_whole() {
        let vocabulary = household();
        assert!(vocabulary.is(Sense::Container, &["blue", "pot"]));
        assert_eq!(vocabulary.known(&["blue"]), None);
        assert_eq!(vocabulary.known(&["ana"]), Some(Sense::Person));
    }
}
