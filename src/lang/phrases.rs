//! The word lists, read: their phrases, found by the words that a message goes on with.

use std::cmp::Reverse;
use std::ops::Range;

use super::token::Token;
use super::words::library;
use crate::foods::WordMap;

/// A set of lists, a bit each.
pub type Lists = u128;

/// What the lists know of a word, looked up once for each token.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Listed {
    /// Lists with a phrase that begins with it.
    begins: Lists,
    /// Lists of which it is a phrase by itself.
    alone: Lists,
    /// Its number among the words of all lists; of a word that stands in none, 0.
    word: u32,
    /// Where in [`Library::beginnings`] the first of the lists is that begin with it.
    beginnings: u32,
}

impl Listed {
    pub fn of(word: &str) -> Self {
        library().listed.get(word).copied().unwrap_or_default()
    }

    /// Whether no phrase of any list begins with it.
    pub fn begins_none(&self) -> bool {
        self.begins == 0
    }
}

/// All lists. A phrase is compared by the numbers of its words: every reader asks for some at every word of a message.
pub struct Library {
    lists: Vec<Phrases>,
    listed: WordMap<&'static str, Listed>,
    /// The words by their numbers.
    words: Vec<&'static str>,
    /// For each word, of each list that begins with it in their order: which of its phrases do.
    beginnings: Vec<Range<u32>>,
}

impl Library {
    pub(super) fn read(files: &[&'static str]) -> Self {
        let mut listed: WordMap<&'static str, Listed> = WordMap::default();
        let mut words = vec![""];
        let mut number = |word| {
            let listed = listed.entry(word).or_default();
            if listed.word == 0 {
                listed.word = words.len() as u32;
                words.push(word);
            }
            listed.word
        };
        let bits = (0..).map(|place| 1 << place);
        let lists: Vec<Phrases> = files
            .iter()
            .zip(bits)
            .map(|(file, bit)| Phrases::read(file, bit, &mut number))
            .collect();
        let mut of_word: Vec<Vec<(Lists, Range<u32>)>> = vec![Vec::new(); words.len()];
        for list in &lists {
            let groups = list.phrases.chunk_by(|a, b| list.first(a) == list.first(b));
            let mut at = 0;
            for group in groups {
                let range = at..at + group.len() as u32;
                at = range.end;
                let alone = group.iter().any(|phrase| phrase.length == 1);
                let word = list.first(&group[0]);
                let listed = listed.get_mut(words[word as usize]).expect("a word of it");
                listed.begins |= list.bit;
                listed.alone |= if alone { list.bit } else { 0 };
                of_word[word as usize].push((list.bit, range));
            }
        }
        let mut beginnings = Vec::new();
        for (word, ranges) in words.iter().zip(of_word) {
            if let Some(listed) = listed.get_mut(word) {
                listed.beginnings = beginnings.len() as u32;
            }
            beginnings.extend(ranges.into_iter().map(|(_, range)| range));
        }
        Self {
            lists,
            listed,
            words,
            beginnings,
        }
    }

    pub(super) fn list(&self, at: usize) -> &Phrases {
        &self.lists[at]
    }
}

/// A phrase as a stretch of its list's words: thousands of small vectors would cost more than the words.
struct Phrase {
    from: u32,
    length: u32,
    key: &'static str,
}

/// Phrases of one list, those with one first word together, the longest first.
pub struct Phrases {
    bit: Lists,
    /// The words of all phrases, by their numbers, in the order of the file.
    words: Vec<u32>,
    phrases: Vec<Phrase>,
}

impl Phrases {
    fn read(file: &'static str, bit: Lists, number: &mut impl FnMut(&'static str) -> u32) -> Self {
        let (mut words, mut phrases) = (Vec::new(), Vec::new());
        for line in file.lines() {
            let line = line.split('#').next().unwrap_or("").trim();
            let (key, said) = line.split_once(':').unwrap_or((line, line));
            for phrase in said.split(',') {
                let from = words.len() as u32;
                words.extend(phrase.split_whitespace().map(&mut *number));
                let (length, key) = (words.len() as u32 - from, key.trim());
                if length > 0 {
                    phrases.push(Phrase { from, length, key });
                }
            }
        }
        phrases.sort_by_key(|phrase| (words[phrase.from as usize], Reverse(phrase.length)));
        words.shrink_to_fit();
        phrases.shrink_to_fit();
        Self {
            bit,
            words,
            phrases,
        }
    }

    /// The words of every phrase.
    #[cfg(test)]
    pub(super) fn all(&self) -> impl Iterator<Item = Vec<&'static str>> {
        let spelled = |word: &u32| library().words[*word as usize];
        let phrases = self.phrases.iter();
        phrases.map(move |phrase| self.words(phrase).iter().map(spelled).collect())
    }

    fn words(&self, phrase: &Phrase) -> &[u32] {
        &self.words[phrase.from as usize..][..phrase.length as usize]
    }

    fn first(&self, phrase: &Phrase) -> u32 {
        self.words[phrase.from as usize]
    }

    /// The phrases with this first word, the longest first.
    fn beginning(&self, word: Listed) -> &[Phrase] {
        if word.begins & self.bit == 0 {
            return &[];
        }
        let lists_before = (word.begins & (self.bit - 1)).count_ones();
        let range = &library().beginnings[(word.beginnings + lists_before) as usize];
        &self.phrases[range.start as usize..range.end as usize]
    }

    /// The phrases that the tokens begin with, the longest first.
    fn at<'a>(&'a self, tokens: &'a [Token]) -> impl Iterator<Item = &'a Phrase> {
        let first = tokens.first();
        let candidates = first.map_or(&[][..], |token| self.beginning(token.listed()));
        candidates.iter().filter(move |phrase| {
            let words = self.words(phrase);
            words.len() <= tokens.len()
                && words
                    .iter()
                    .zip(tokens)
                    .all(|(word, token)| *word == token.listed().word)
        })
    }

    /// The longest phrase that the tokens begin with: its length and what it stands for.
    pub fn longest(&self, tokens: &[Token]) -> Option<(usize, &'static str)> {
        let phrase = self.at(tokens).next()?;
        Some((phrase.length as usize, phrase.key))
    }

    /// The longest phrase with this key that the tokens begin with.
    pub fn longest_of(&self, tokens: &[Token], wanted: &str) -> Option<usize> {
        let phrase = self.at(tokens).find(|phrase| phrase.key == wanted)?;
        Some(phrase.length as usize)
    }

    /// Whether a phrase with this key stands anywhere in the tokens.
    pub fn stand_in(&self, tokens: &[Token], wanted: &str) -> bool {
        (0..tokens.len()).any(|at| self.longest_of(&tokens[at..], wanted).is_some())
    }

    /// How many words at the end are a phrase of the list.
    pub fn length_at_end(&self, tokens: &[Token]) -> usize {
        let from = tokens.len().saturating_sub(6);
        (from..tokens.len())
            .find(|&at| {
                self.longest(&tokens[at..])
                    .is_some_and(|(length, _)| at + length == tokens.len())
            })
            .map_or(0, |at| tokens.len() - at)
    }

    /// What a single word stands for.
    pub fn get(&self, word: &str) -> Option<&'static str> {
        let mut phrases = self.beginning(Listed::of(word)).iter();
        let alone = phrases.find(|phrase| phrase.length == 1)?;
        Some(alone.key)
    }

    /// The first single word that stands for this key.
    pub fn word_for(&self, key: &str) -> Option<&'static str> {
        let phrases = self.phrases.iter();
        let alone = phrases.filter(|phrase| phrase.key == key && phrase.length == 1);
        let first = alone.min_by_key(|phrase| phrase.from)?;
        Some(library().words[self.first(first) as usize])
    }

    pub fn has(&self, word: &str) -> bool {
        Listed::of(word).alone & self.bit != 0
    }

    /// Whether the token is a phrase by itself.
    pub fn holds(&self, token: &Token) -> bool {
        token.listed().alone & self.bit != 0
    }
}
