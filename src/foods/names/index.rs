//! The descriptions of the release as words: which foods hold a word, and where each word stands.

use super::hash::WordMap;
use super::lexicon::{Class, lexicon};
use super::normal;
use crate::foods::table::{Food, Group};

/// The number of a normalised word in the vocabulary.
pub type WordId = u32;

/// One word of a description.
#[derive(Debug, Clone, Copy)]
pub struct Token {
    pub word: WordId,
    pub class: Class,
    /// The part between commas that it stands in, from 0.
    pub part: u8,
    /// Another name rather than more of the name, in brackets or after "or": which of the part's other names it
    /// belongs to, from 1. 0 for the name itself.
    pub other_name: u8,
    pub brand: bool,
}

/// How a description is built.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    start: u32,
    end: u32,
    /// The last part that names the food itself: 0, or 1 after a class word such as "Fish".
    pub head_part: u8,
    /// Fit to be taken unasked: no brand, no baby food, fast food or restaurant food.
    pub plain: bool,
}

/// The inverted index.
#[derive(Debug)]
pub struct Index {
    vocabulary: WordMap<String, WordId>,
    words: Vec<String>,
    /// Positions of the foods that hold each word, ascending.
    postings: Vec<Vec<u32>>,
    tokens: Vec<Token>,
    entries: Vec<Entry>,
    /// Whether a word stands in the head of a plain food.
    heads: Vec<bool>,
    /// Whether it is the whole head of one: "milk", not "sweet" of "sweet potato".
    whole_heads: Vec<bool>,
}

impl Index {
    pub fn new(foods: &[Food]) -> Index {
        let mut builder = Builder::default();
        for (at, food) in foods.iter().enumerate() {
            builder.add(at as u32, food);
        }
        builder.index
    }

    /// The word's number, if any description holds it.
    pub fn word(&self, word: &str) -> Option<WordId> {
        self.vocabulary.get(word).copied()
    }

    /// Every word of the descriptions with whether it stands in a plain food's head.
    pub fn words(&self) -> impl Iterator<Item = (&str, bool)> {
        self.words
            .iter()
            .map(String::as_str)
            .zip(self.heads.iter().copied())
    }

    pub fn spelling(&self, word: WordId) -> &str {
        &self.words[word as usize]
    }

    /// Whether the word stands in the head of a plain food: "parsnip", not "raw".
    pub fn is_head(&self, word: WordId) -> bool {
        self.heads[word as usize]
    }

    /// Whether the word alone is the head of a plain food: "milk", not "sweet" of "sweet potato".
    pub fn is_whole_head(&self, word: &str) -> bool {
        self.word(word)
            .is_some_and(|word| self.whole_heads[word as usize])
    }

    pub fn tokens(&self, food: usize) -> &[Token] {
        let entry = &self.entries[food];
        &self.tokens[entry.start as usize..entry.end as usize]
    }

    pub fn entry(&self, food: usize) -> &Entry {
        &self.entries[food]
    }

    pub fn holds(&self, food: usize, word: &str) -> bool {
        self.word(word)
            .is_some_and(|id| self.tokens(food).iter().any(|token| token.word == id))
    }

    /// Two words to be looked for side by side; `None` if no description holds both.
    pub fn phrase(&self, one: &str, two: &str) -> Option<(WordId, WordId)> {
        Some((self.word(one)?, self.word(two)?))
    }

    /// Whether the description has the two words side by side.
    pub fn has_phrase(&self, food: usize, phrase: Option<(WordId, WordId)>) -> bool {
        let side_by_side = |(one, two)| {
            let pairs = self.tokens(food).windows(2);
            pairs
                .into_iter()
                .any(|pair| pair[0].word == one && pair[1].word == two)
        };
        phrase.is_some_and(side_by_side)
    }

    /// How much two foods differ in cut, fat and preparation.
    pub fn kind_distance(&self, one: usize, two: usize) -> usize {
        let kinds = |food| {
            self.tokens(food)
                .iter()
                .filter(|token| token.class == Class::Kind)
        };
        let missing = |from: usize, to: usize| {
            kinds(from)
                .filter(|token| !self.tokens(to).iter().any(|own| own.word == token.word))
                .count()
        };
        missing(one, two)
            + missing(two, one)
            + usize::from(self.has_phrase(two, self.phrase("with", "salt")))
    }

    /// The foods that hold every word, ascending. Without words, none.
    pub fn holding(&self, words: &[WordId]) -> Vec<usize> {
        let mut lists: Vec<&[u32]> = words
            .iter()
            .map(|&word| self.postings[word as usize].as_slice())
            .collect();
        lists.sort_by_key(|list| list.len());
        let Some((shortest, others)) = lists.split_first() else {
            return Vec::new();
        };
        shortest
            .iter()
            .filter(|food| others.iter().all(|list| list.binary_search(food).is_ok()))
            .map(|&food| food as usize)
            .collect()
    }
}

#[derive(Default)]
struct Builder<'a> {
    index: Index,
    /// Written words already taken apart: taking each occurrence apart would cost most of the start.
    seen: WordMap<&'a str, Written>,
    /// Whether a word of the vocabulary is a class word, "fish".
    class_heads: Vec<bool>,
}

/// A word as a description writes it: "(long-grain,".
struct Written {
    words: Vec<(WordId, Class)>,
    brand: bool,
    opening: i32,
    closing: i32,
}

impl Default for Index {
    fn default() -> Index {
        Index {
            vocabulary: WordMap::with_capacity_and_hasher(8192, Default::default()),
            words: Vec::new(),
            postings: Vec::new(),
            tokens: Vec::with_capacity(1 << 17),
            entries: Vec::with_capacity(1 << 14),
            heads: Vec::new(),
            whole_heads: Vec::new(),
        }
    }
}

impl<'a> Builder<'a> {
    fn add(&mut self, at: u32, food: &'a Food) {
        let start = self.index.tokens.len();
        let mut plain = food.manufacturer.is_empty()
            && !matches!(
                food.group,
                Group::BabyFoods | Group::FastFoods | Group::RestaurantFoods | Group::NativeFoods
            );
        for (part, text) in Parts(&food.description).enumerate() {
            let part = u8::try_from(part).unwrap_or(u8::MAX);
            plain &= self.add_part(text, part);
        }
        let end = self.index.tokens.len();
        let head_part = self.head_part(start);
        let (start, end) = (start as u32, end as u32);
        self.index.entries.push(Entry {
            start,
            end,
            head_part,
            plain,
        });
        for token in &self.index.tokens[start as usize..] {
            let postings = &mut self.index.postings[token.word as usize];
            if postings.last() != Some(&at) {
                postings.push(at);
            }
            if plain && token.part <= head_part && token.class == Class::Name {
                self.index.heads[token.word as usize] = true;
            }
        }
        let named = |token: &&Token| token.part <= head_part && token.other_name == 0;
        let mut head = self.index.tokens[start as usize..].iter().filter(named);
        if let (true, Some(only), None) = (plain && head_part == 0, head.next(), head.next()) {
            self.index.whole_heads[only.word as usize] = true;
        }
    }

    /// Adds the words of a part. `false` if one of them is a brand.
    fn add_part(&mut self, text: &'a str, part: u8) -> bool {
        let start = self.index.tokens.len();
        let (mut depth, mut other_name, mut plain) = (0_i32, 0_u8, true);
        for raw in text.split(' ') {
            if !self.seen.contains_key(raw) {
                let written = self.take_apart(raw);
                self.seen.insert(raw, written);
            }
            let Written {
                words,
                brand,
                opening,
                closing,
            } = &self.seen[raw];
            plain &= !brand;
            depth += opening;
            if *opening > 0 || raw == "or" {
                other_name = other_name.saturating_add(1);
            }
            self.index
                .tokens
                .extend(words.iter().map(|&(word, class)| Token {
                    word,
                    // "(May have been previously frozen)" tells no state.
                    class: if depth > 0 && class != Class::Name {
                        Class::Neutral
                    } else {
                        class
                    },
                    part,
                    other_name,
                    brand: *brand,
                }));
            if depth > 0 && raw.ends_with(',') {
                other_name = other_name.saturating_add(1);
            }
            depth -= closing;
            if depth == 0 && *closing > 0 {
                other_name = 0;
            }
        }
        self.mark_part_alone(start);
        plain
    }

    /// "Chicken, skin" is no chicken with something more said, but its skin.
    fn mark_part_alone(&mut self, start: usize) {
        let own = |token: &&Token| token.other_name == 0;
        let own_words = self.index.tokens[start..].iter().filter(own).count();
        if let Some(first) = self.index.tokens.get_mut(start) {
            let word = &self.index.words[first.word as usize];
            if lexicon().is_part_alone(word, own_words) {
                first.class = Class::Oddity;
            }
        }
    }

    /// 1 if the first part is only class words: "Fish", "Game meat".
    fn head_part(&self, start: usize) -> u8 {
        let tokens = &self.index.tokens[start..];
        let mut first = tokens.iter().take_while(|token| token.part == 0);
        let has_second = tokens.iter().any(|token| token.part == 1);
        u8::from(has_second && first.all(|token| self.class_heads[token.word as usize]))
    }

    fn take_apart(&mut self, raw: &str) -> Written {
        let count = |bracket| raw.matches(bracket).count() as i32;
        Written {
            words: normal::words(raw)
                .into_iter()
                .map(|word| self.number(word))
                .collect(),
            brand: lexicon().is_brand(raw),
            opening: count('('),
            closing: count(')'),
        }
    }

    fn number(&mut self, word: String) -> (WordId, Class) {
        let class = lexicon().class(&word);
        let index = &mut self.index;
        let next = index.words.len() as WordId;
        let id = *index.vocabulary.entry(word.clone()).or_insert(next);
        if id == next {
            self.class_heads.push(lexicon().is_class_head(&word));
            index.words.push(word);
            index.postings.push(Vec::new());
            index.heads.push(false);
            index.whole_heads.push(false);
        }
        (id, class)
    }
}

/// The parts of a description between commas; commas in brackets do not part.
struct Parts<'a>(&'a str);

impl<'a> Iterator for Parts<'a> {
    type Item = &'a str;

    fn next(&mut self) -> Option<&'a str> {
        if self.0.is_empty() {
            return None;
        }
        let mut depth = 0_i32;
        for (at, byte) in self.0.bytes().enumerate() {
            match byte {
                b'(' => depth += 1,
                b')' => depth -= 1,
                b',' if depth <= 0 => {
                    let part = &self.0[..at];
                    self.0 = &self.0[at + 1..];
                    return Some(part.trim());
                }
                _ => {}
            }
        }
        Some(std::mem::take(&mut self.0).trim())
    }
}
