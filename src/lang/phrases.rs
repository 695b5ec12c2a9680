//! One word list: its phrases, found by the words that a message goes on with.

use std::cmp::Reverse;
use std::ops::Range;

use super::token::Token;
use super::words::Listed;
use crate::foods::WordMap;

/// A set of lists, a bit each.
pub type Lists = u128;

/// A phrase as a stretch of its list's words: thousands of small vectors would cost more than the words.
struct Phrase {
    from: u32,
    length: u32,
    key: &'static str,
}

/// Phrases of one list, those with one first word together, the longest first.
pub struct Phrases {
    bit: Lists,
    /// The words of all phrases, in the order of the file.
    words: Vec<&'static str>,
    phrases: Vec<Phrase>,
    by_first: WordMap<&'static str, Range<u32>>,
}

impl Phrases {
    pub(super) fn read(file: &'static str, bit: Lists) -> Self {
        let (mut words, mut phrases) = (Vec::new(), Vec::new());
        for line in file.lines() {
            let line = line.split('#').next().unwrap_or("").trim();
            let (key, said) = line.split_once(':').unwrap_or((line, line));
            for phrase in said.split(',') {
                let from = words.len() as u32;
                words.extend(phrase.split_whitespace());
                let (length, key) = (words.len() as u32 - from, key.trim());
                if length > 0 {
                    phrases.push(Phrase { from, length, key });
                }
            }
        }
        let first = |phrase: &Phrase| words[phrase.from as usize];
        phrases.sort_by_key(|phrase| (first(phrase), Reverse(phrase.length)));
        let mut by_first: WordMap<_, Range<u32>> = WordMap::default();
        for (at, phrase) in phrases.iter().enumerate() {
            let at = at as u32;
            by_first.entry(first(phrase)).or_insert(at..at).end = at + 1;
        }
        words.shrink_to_fit();
        phrases.shrink_to_fit();
        Self {
            bit,
            words,
            phrases,
            by_first,
        }
    }

    pub(super) fn bit(&self) -> Lists {
        self.bit
    }

    /// The first words of its phrases, each once.
    pub(super) fn first_words(&self) -> impl Iterator<Item = &'static str> {
        self.by_first.keys().copied()
    }

    /// The words of every phrase.
    #[cfg(test)]
    pub(super) fn all(&self) -> impl Iterator<Item = &[&'static str]> {
        self.phrases.iter().map(|phrase| self.words(phrase))
    }

    fn words(&self, phrase: &Phrase) -> &[&'static str] {
        &self.words[phrase.from as usize..][..phrase.length as usize]
    }

    /// The phrases with this first word, the longest first.
    fn beginning(&self, word: &str) -> &[Phrase] {
        let range = self.by_first.get(word).cloned().unwrap_or(0..0);
        &self.phrases[range.start as usize..range.end as usize]
    }

    /// The phrases that the tokens begin with, the longest first.
    fn at<'a>(&'a self, tokens: &'a [Token]) -> impl Iterator<Item = &'a Phrase> {
        let first = tokens.first();
        let known = first.filter(|token| token.listed().begins & self.bit != 0);
        let candidates = known.map_or(&[][..], |token| self.beginning(token.norm()));
        candidates.iter().filter(move |phrase| {
            let words = self.words(phrase);
            words.len() <= tokens.len()
                && words
                    .iter()
                    .zip(tokens)
                    .all(|(word, token)| *word == token.norm())
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
        let mut phrases = self.beginning(word).iter();
        let alone = phrases.find(|phrase| phrase.length == 1)?;
        Some(alone.key)
    }

    /// The first single word that stands for this key.
    pub fn word_for(&self, key: &str) -> Option<&'static str> {
        let phrases = self.phrases.iter();
        let alone = phrases.filter(|phrase| phrase.key == key && phrase.length == 1);
        let first = alone.min_by_key(|phrase| phrase.from)?;
        self.words(first).first().copied()
    }

    pub fn has(&self, word: &str) -> bool {
        Listed::of(word).alone & self.bit != 0
    }

    /// Whether the token is a phrase by itself.
    pub fn holds(&self, token: &Token) -> bool {
        token.listed().alone & self.bit != 0
    }
}
