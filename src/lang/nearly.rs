//! Names of the household that are written or heard nearly, and people's short names.

use super::lexer::folded_words;
use super::lexicon::is_ordinary;
use super::vocabulary::{Name, Sense, Vocabulary, singular, singulars};
use crate::foods::{Letters, sounds_alike, spelled_nearly};

/// Fewer letters are no short form of a name.
const NICKNAME_MIN: usize = 3;
/// A shorter word that is written nearly may be any other.
const SLIPPED_WORD_MIN: usize = 4;

impl Vocabulary {
    /// Whether the words are a slip of the finger away from a name of something to eat, or from the words
    /// of one.
    pub fn is_spelled_nearly(&self, name: &str) -> bool {
        let folded = singulars(&folded_words(name));
        if let [word] = folded.as_slice()
            && is_ordinary(&[word])
        {
            return false;
        }
        let edible = |sense: &Sense| matches!(sense, Sense::Batch | Sense::Packet | Sense::Food);
        self.like(folded.iter().map(String::as_str)).any(|known| {
            // What was only heard alike ("lentil doll") needs a word that is right beside it.
            let exact = folded.iter().any(|said| known.words.contains(said));
            let near = |said: &String| {
                let alike =
                    |word: &String| spelled_nearly(said, word) || exact && sounds_alike(said, word);
                known.words.contains(said) || known.words.iter().any(alike)
            };
            edible(&known.sense) && folded.iter().all(near)
        })
    }

    /// Whether a word is a slip of the finger away from a word of a dish, whatever else it may mean.
    pub fn is_near_dish(&self, word: &str) -> bool {
        let mut known = self.like(std::iter::once(word));
        known.any(|known| known.sense == Sense::Batch)
    }

    /// The one name of something to eat of which every word is written here, nearly.
    pub fn nearly(&self, words: &[&str]) -> Option<&str> {
        if is_ordinary(words) {
            return None;
        }
        let edible = |name: &&Name| matches!(name.sense, Sense::Batch | Sense::Packet);
        let written = |name: &&Name| {
            words.iter().all(|word| {
                let (said, word) = (*word, singular(word));
                // What was only heard alike ("lentil doll") needs a word that is right beside it.
                let beside = words.iter().any(|other| name.has(other));
                let slipped = |own: &String| {
                    said.len() >= SLIPPED_WORD_MIN
                        && (spelled_nearly(&word, own) || beside && sounds_alike(&word, own))
                };
                match words.len() {
                    1 => name.heads.iter().any(slipped),
                    _ => name.has(&word) || name.words.iter().any(slipped),
                }
            })
        };
        let single: Vec<_> = words.iter().map(|word| singular(word)).collect();
        let single = single.iter().map(|word| &**word);
        let mut found = self.like(words.iter().copied().chain(single));
        let mut found = found.by_ref().filter(edible).filter(written);
        let first = found.next()?;
        // "chili" and "chilli" are one name.
        let is_first = |other: &Name| {
            let alike = |word: &String| first.words.iter().any(|own| spelled_nearly(word, own));
            other.words.iter().all(alike)
        };
        found.all(is_first).then_some(first.text.as_str())
    }

    /// The names in which some of these words stand, exactly or nearly, the eldest first.
    fn like<'w>(&self, words: impl Iterator<Item = &'w str>) -> impl Iterator<Item = &Name> {
        let mut places = Vec::new();
        for word in words {
            places.extend(self.by_word.get(word).into_iter().flatten());
            let said = Letters::of(word);
            let near = self.letters.iter().filter(|(own, _)| said.is_near(own));
            places.extend(near.flat_map(|(_, own)| &self.by_word[own]));
        }
        places.sort_unstable();
        places.dedup();
        places.into_iter().map(|&place| &self.names[place])
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
        let said = Letters::of(word);
        let mut people = self.people();
        people.any(|name| said.is_near(&Letters::of(name)))
    }

    fn people(&self) -> impl Iterator<Item = &String> {
        let people = self.names.iter().filter(|name| name.sense == Sense::Person);
        people
            .filter(|name| name.words.len() == 1)
            .flat_map(|name| &name.words)
    }
}
