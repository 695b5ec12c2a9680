//! The household's own words: names of batches, containers, people, places, packets, measures.
//!
//! Text cannot be cut without them ("mac and cheese" is one name where there is such a batch), and nothing is booked on
//! a name that nobody knows. All look-ups go through hash tables made once: hundreds of names do not slow a line of talk.

use std::borrow::Cow;

use super::lexer::folded_words;
use super::lexicon::is_food;
use super::words::{fillers, joiners, places, selectors};
use crate::foods::{Letters, WordMap, compared_words};

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

/// A household's own place has so many words at most: "garage chest freezer".
pub const PLACE_WORDS_MAX: usize = 3;

#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    /// Every name under its key, with all that it may mean.
    exact: WordMap<String, Vec<Sense>>,
    /// Names of what stands here as it was bought, and was not cooked.
    pub(super) bought: WordMap<String, ()>,
    /// What the pieces of dishes that stand here counted are called, in the singular.
    pub(super) pieces: WordMap<String, ()>,
    /// What stands on the shopping list and is not bought yet, each as its words in the singular; none: no list is begun.
    pub(super) listed: Option<Vec<Vec<String>>>,
    /// Names (as places in `names`) by each of their words.
    pub(super) by_word: WordMap<String, Vec<usize>>,
    pub(super) names: Vec<Name>,
    /// The letters of each word of `by_word`, to find it when it is written nearly.
    pub(super) letters: Vec<(Letters, String)>,
    /// Names with a number or a joining word in them, by their first word, as folded words.
    tricky: WordMap<String, Vec<Vec<String>>>,
}

#[derive(Debug, Clone)]
pub(super) struct Name {
    pub sense: Sense,
    pub text: String,
    /// Its words in the singular, each once.
    pub words: Vec<String>,
    /// Its last word as it is written.
    ending: String,
    /// What it is called by when cut short: its last word, and its first before "and", "con", "with".
    pub heads: Vec<String>,
}

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
        let words = singulars(&folded);
        // The table's spelling of the name counts as well: "chili" for "chilli".
        let respelled = compared_words(name).join(" ");
        if respelled != words.join(" ") && !respelled.is_empty() && sense != Sense::Code {
            self.add_words(sense, &compared_words(name));
        }
        self.add_words(sense, &folded);
    }

    fn add_words(&mut self, sense: Sense, folded: &[String]) {
        let mut words = singulars(folded);
        let senses = self.exact.entry(words.join(" ")).or_default();
        if senses.contains(&sense) {
            return;
        }
        senses.push(sense);
        let place = self.names.len();
        words.sort_unstable();
        words.dedup();
        for word in &words {
            let places = self.by_word.entry(word.clone()).or_default();
            if places.is_empty() {
                self.letters.push((Letters::of(word), word.clone()));
            }
            places.push(place);
        }
        self.names.push(Name {
            sense,
            ending: folded.last().cloned().unwrap_or_default(),
            text: folded.join(" "),
            heads: heads(folded),
            words,
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
        self.senses(words)
            .is_some_and(|senses| senses.contains(&sense))
    }

    /// What the words, wholly, are a name of.
    fn senses(&self, words: &[&str]) -> Option<&Vec<Sense>> {
        match words {
            [] => None,
            // A number before a name is no part of it.
            ["", rest @ ..] if !rest.is_empty() => self.senses(rest),
            [word] => self.exact.get(&*singular(word)),
            // Most words stand in no name at all.
            [first, ..] if !self.by_word.contains_key(&*singular(first)) => None,
            _ => self.exact.get(&key(words)),
        }
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
            let rest = &words[self.selecting(words)..];
            let fewer = (1..words.len()).contains(&rest.len());
            fewer.then(|| self.look_up(rest)).flatten()
        })
    }

    /// How many words at the front choose among the pots and lots of the dish behind them: "old", "Sunday's",
    /// "freezer", "garage freezer".
    pub fn selecting(&self, words: &[&str]) -> usize {
        let mut at = 0;
        while at < words.len() {
            let rest = &words[at..];
            match (selectors().has(rest[0]), self.stand_in_front(rest)) {
                (true, _) => at += 1,
                (false, 0) => break,
                (false, length) => at += length,
            }
        }
        at
    }

    /// How many words at the front name a place that food is taken from.
    pub fn place_in_front(&self, words: &[&str]) -> usize {
        let common = |word: &&&str| places().get(word).is_some();
        let common = words
            .iter()
            .take(PLACE_WORDS_MAX)
            .take_while(common)
            .count();
        self.in_front(Sense::Place, words).max(common)
    }

    /// The same, or a vessel.
    pub fn stand_in_front(&self, words: &[&str]) -> usize {
        let place = self.place_in_front(words);
        place.max(self.in_front(Sense::Container, words))
    }

    fn in_front(&self, sense: Sense, words: &[&str]) -> usize {
        let lengths = 1..=words.len().min(PLACE_WORDS_MAX);
        let known = |length: &usize| self.is(sense, &words[..*length]);
        lengths.rev().find(known).unwrap_or(0)
    }

    /// How many words at the front tell where the dish behind them stands, and are none of its name.
    pub fn place_of_dish(&self, words: &[&str]) -> usize {
        let dish = self.look_up(words).is_some();
        if dish { 0 } else { self.stand_in_front(words) }
    }

    fn look_up(&self, words: &[&str]) -> Option<Sense> {
        if let Some(senses) = self.senses(words) {
            let eaten = [Sense::Batch, Sense::Code, Sense::Packet, Sense::Food];
            return eaten
                .iter()
                .copied()
                .find(|sense| senses.contains(sense))
                .or_else(|| senses.first().copied());
        }
        let rarest = words
            .iter()
            .map(|word| self.places(word))
            .min_by_key(|places| places.len())?;
        rarest.iter().find_map(|&place| {
            let name = &self.names[place];
            let partial = matches!(name.sense, Sense::Batch | Sense::Packet);
            let all = partial && words.iter().all(|word| name.has(&singular(word)));
            // "tomatoes" is no part of "tomato soup" as long as it is a food itself.
            let head = || words.iter().any(|word| name.is_called(&singular(word)));
            (all && (head() || !is_food(words))).then_some(name.sense)
        })
    }

    /// The names in which this word stands.
    fn places(&self, word: &str) -> &[usize] {
        let places = self.by_word.get(&*singular(word));
        places.map_or(&[], Vec::as_slice)
    }

    /// What the words mean to the household, if they are enough of a name to be told from talk: the whole
    /// of it, or with the word that it is called by ("dal", and not "lentil", for "lentil dal").
    pub fn called(&self, words: &[&str]) -> Option<Sense> {
        let skip = self.selecting(words);
        let plain = &words[skip.min(words.len().saturating_sub(1))..];
        let called = self.senses(plain).is_some()
            || plain.iter().any(|word| {
                let places = self.places(word).iter();
                let word = singular(word);
                let mut names = places.map(|&place| &self.names[place]);
                names.any(|name| name.is_called(&word))
            });
        if called { self.known(words) } else { None }
    }

    /// Whether the words name a batch, whole or in part.
    pub fn is_batch(&self, words: &[&str]) -> bool {
        matches!(self.known(words), Some(Sense::Batch | Sense::Code))
    }

    /// Whether this word stands in any name of the household.
    pub fn has_word(&self, word: &str) -> bool {
        self.by_word.contains_key(word) || !self.places(word).is_empty()
    }

    /// The one batch or packet in whose name this word stands: "the leek one".
    pub fn one_with(&self, word: &str) -> Option<&str> {
        let mut names = self
            .places(word)
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
        let spelled = || self.by_word.get(word).map_or(&[][..], Vec::as_slice);
        let named = self.places(word).iter().any(edible) || spelled().iter().any(edible);
        // "and" stands in "mac and cheese", and names nothing.
        named && !joiners().has(word) && !fillers().has(word)
    }

    /// How many words the longest name with a number or a joining word in it takes, read from the front.
    pub(super) fn tricky_name<'a>(
        &self,
        words: impl Iterator<Item = Cow<'a, str>> + Clone,
    ) -> usize {
        let Some(first) = words.clone().next() else {
            return 0;
        };
        self.tricky.get(&*first).map_or(0, |names| {
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

impl Name {
    /// Whether a word, in the singular, stands in it.
    pub fn has(&self, word: &str) -> bool {
        self.words.iter().any(|own| own == word)
    }

    /// Whether it is called by a word, in the singular.
    fn is_called(&self, word: &str) -> bool {
        self.heads.iter().any(|head| head == word)
    }
}

pub(super) fn singulars(folded: &[String]) -> Vec<String> {
    let singular = |word: &String| singular(word).into_owned();
    folded.iter().map(singular).collect()
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
        .map(|word| singular(word).into_owned())
        .into_iter()
        .collect();
    if let Some(at) = folded.iter().position(joins).filter(|&at| at > 0) {
        heads.push(singular(&folded[at - 1]).into_owned());
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
pub fn singular(word: &str) -> Cow<'_, str> {
    let length = word.len();
    if length <= 3 || !word.ends_with('s') || !word.is_ascii() {
        return word.into();
    }
    if word.ends_with("ies") && length > 4 {
        return format!("{}y", &word[..length - 3]).into();
    }
    // Of what ends in "i".
    if [
        "chillis",
        "chilis",
        "zucchinis",
        "bhajis",
        "paninis",
        "idlis",
    ]
    .contains(&word)
    {
        return word[..length - 1].into();
    }
    if word == "leaves" || word == "loaves" || word == "halves" || word == "calves" {
        return format!("{}f", &word[..length - 3]).into();
    }
    if ["oes", "ches", "shes", "xes", "sses"]
        .iter()
        .any(|ending| word.ends_with(ending))
    {
        return word[..length - 2].into();
    }
    if word.ends_with("ss") || word.ends_with("us") || word.ends_with("is") {
        return word.into();
    }
    word[..length - 1].into()
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
