//! Finding a food by what a cook calls it.
//!
//! In order, and the first that answers wins:
//!
//! 1. a number: `NDB 16069`;
//! 2. the alias table, `data/aliases.txt`: the words as typed, then without words that only say how the food was
//!    cut or handled ("onion, chopped"), then without states ("cooked rice"), which are honoured by taking the
//!    staple's counterpart in that state;
//! 3. all words in one description, whole ([`rank`] says which is taken and when none is);
//! 4. the release's own common names.
//!
//! What matches only in part is never taken. A staple that the table has, but not in the state asked for, is
//! offered, not taken.

mod alias;
mod find;
mod hash;
mod index;
mod lexicon;
mod nearest;
mod normal;
mod rank;
mod sound;
mod state;

use std::sync::OnceLock;

pub use alias::Alias;
pub(crate) use hash::WordMap;
pub use nearest::{Letters, Near};

use self::alias::{Aliases, name_words};
use self::index::Index;
use self::lexicon::lexicon;
use self::nearest::Spellings;
use super::code::Code;
use super::table::{Food, Table};

/// The words of a text as they are compared: case, accents, plurals and spellings folded.
pub fn compared_words(text: &str) -> Vec<String> {
    normal::words(text)
}

/// Whether one word may have been heard for the other.
pub fn sounds_alike(one: &str, other: &str) -> bool {
    sound::sounds_alike(one, other)
}

/// Whether two names differ by no more than a slip of the finger: one in a short name, two in a long one.
pub fn spelled_nearly(one: &str, other: &str) -> bool {
    nearest::spelled_nearly(one, other)
}

/// What a name was found to mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// One food is meant.
    Taken(Match),
    /// One of these may be meant, the likeliest first; 1 to 5 of them.
    Several(Vec<Code>),
    /// No food has this name.
    Nothing,
}

/// The food that is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Match {
    pub code: Code,
    pub how: How,
    /// What was decided for the cook and has to be said: a state before kinds, since it costs most.
    pub ambiguity: Option<Ambiguity>,
    /// Other kinds of the food, by fat, cut or preparation, also where `ambiguity` tells of a state.
    pub kinds: Vec<Code>,
}

/// What the match rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    Number,
    Alias,
    AllWords,
}

/// A choice that the words left open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ambiguity {
    /// Dry goods, which take up water: the energy per 100 g differs threefold.
    DryOrCooked {
        taken_dry: bool,
        other: Code,
    },
    RawOrCooked {
        taken_raw: bool,
        other: Code,
    },
    /// Other kinds, at least one.
    Kinds(Vec<Code>),
}

/// Everything that finding needs beside the foods.
#[derive(Debug)]
pub(super) struct Names {
    index: Index,
    aliases: Aliases,
    /// The release's common names, by their compared words, with the foods that bear them. Made at first use.
    common: OnceLock<WordMap<String, Vec<usize>>>,
    /// Made at first use too: most messages are spelt well.
    spellings: OnceLock<Spellings>,
}

impl Names {
    pub(super) fn new(foods: &[Food]) -> Names {
        let index = Index::new(foods);
        let aliases = Aliases::read(include_str!("../data/aliases.txt"));
        Names {
            index,
            aliases,
            common: OnceLock::new(),
            spellings: OnceLock::new(),
        }
    }

    fn common(&self, foods: &[Food]) -> &WordMap<String, Vec<usize>> {
        self.common.get_or_init(|| {
            let mut common: WordMap<String, Vec<usize>> = WordMap::default();
            let plain = foods
                .iter()
                .enumerate()
                .filter(|(at, _)| self.index.entry(*at).plain);
            for (at, food) in plain {
                let names = food.common_names.split(',').map(str::trim);
                for name in names.filter(|name| !name.is_empty() && !name.contains('#')) {
                    common
                        .entry(name_words(name).join(" "))
                        .or_default()
                        .push(at);
                }
            }
            common
        })
    }

    fn spellings(&self) -> &Spellings {
        self.spellings
            .get_or_init(|| Spellings::new(&self.aliases, &self.index))
    }
}

impl Table {
    /// Whether the word stands in an alias or in the head of a description, and tells of food: not "of" or
    /// "chopped".
    pub fn knows_word(&self, word: &str) -> bool {
        match normal::word(word) {
            Some(word) => self.tells(&word),
            None => {
                let words = normal::words(word);
                !words.is_empty() && words.iter().all(|word| self.tells(word))
            }
        }
    }

    fn tells(&self, word: &str) -> bool {
        let (lexicon, names) = (lexicon(), &self.names);
        let is_head = |word| names.index.is_head(word);
        (names.aliases.has_word(word) || names.index.word(word).is_some_and(is_head))
            && !lexicon.is_filler(word)
            && !lexicon.is_joining(word)
            && !lexicon.is_cut(word)
            && !word.starts_with(|c: char| c.is_ascii_digit())
    }

    /// The alias table as curated.
    pub fn aliases(&self) -> &[Alias] {
        self.names.aliases.list()
    }
}
