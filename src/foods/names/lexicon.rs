//! The classes of words that matching goes by, read from `words.txt`.

use std::sync::OnceLock;

use super::hash::WordMap;

/// What a word of a description says about the food, beyond naming it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Part of the name.
    Name,
    Raw,
    Cooked,
    Kept,
    Neutral,
    Kind,
    Oddity,
}

/// The word lists.
#[derive(Debug, Default)]
pub struct Lexicon {
    classes: WordMap<&'static str, Class>,
    fillers: Vec<&'static str>,
    joining: Vec<&'static str>,
    cuts: WordMap<&'static str, ()>,
    states: WordMap<&'static str, Vec<&'static str>>,
    heads: Vec<&'static str>,
    open: Vec<&'static str>,
    leafy: Vec<&'static str>,
    alone: Vec<&'static str>,
    leading: Vec<&'static str>,
    capitals: Vec<&'static str>,
    brands: Vec<&'static str>,
}

/// The lexicon of the program.
pub fn lexicon() -> &'static Lexicon {
    static LEXICON: OnceLock<Lexicon> = OnceLock::new();
    LEXICON.get_or_init(|| Lexicon::read(include_str!("../data/words.txt")))
}

impl Lexicon {
    fn read(text: &'static str) -> Lexicon {
        let mut lexicon = Lexicon::default();
        for line in text
            .lines()
            .filter(|line| !line.is_empty() && !line.starts_with('#'))
        {
            let (label, words) = line.split_once(": ").expect("a class is `class: word ...`");
            let words = words.split(' ');
            if let Some(state) = label.strip_prefix("state ") {
                lexicon.states.insert(state, words.collect());
                continue;
            }
            match label {
                "filler" => lexicon.fillers.extend(words),
                "joining" => lexicon.joining.extend(words),
                "cut" => lexicon.cuts.extend(words.map(|word| (word, ()))),
                "class" => lexicon.heads.extend(words),
                "leafy" => lexicon.leafy.extend(words),
                "open" => lexicon.open.extend(words),
                "alone" => lexicon.alone.extend(words),
                "leading" => lexicon.leading.extend(words),
                "capitals" => lexicon.capitals.extend(words),
                "brand" => lexicon.brands.extend(words),
                _ => {
                    let class = match label {
                        "raw" => Class::Raw,
                        "cooked" => Class::Cooked,
                        "kept" => Class::Kept,
                        "neutral" => Class::Neutral,
                        "kind" => Class::Kind,
                        "oddity" => Class::Oddity,
                        other => panic!("unknown class of words: {other}"),
                    };
                    for word in words {
                        lexicon.classes.entry(word).or_insert(class);
                    }
                }
            }
        }
        lexicon
    }

    /// The class of a normalised word of a description.
    pub fn class(&self, word: &str) -> Class {
        if word.bytes().all(|byte| byte.is_ascii_digit()) {
            return Class::Neutral;
        }
        self.classes.get(word).copied().unwrap_or(Class::Name)
    }

    /// A word that carries nothing: "of", "the".
    pub fn is_filler(&self, word: &str) -> bool {
        self.fillers.contains(&word)
    }

    /// A word that joins two foods: "with", "in".
    pub fn is_joining(&self, word: &str) -> bool {
        self.joining.contains(&word)
    }

    /// A word that says how the food was cut or handled.
    pub fn is_cut(&self, word: &str) -> bool {
        self.cuts.contains_key(word)
    }

    /// The words of a description that satisfy an asked state, best first; `None` if the word asks no state.
    pub fn state(&self, word: &str) -> Option<&[&'static str]> {
        self.states.get(word).map(Vec::as_slice)
    }

    /// Whether the word, as asked, settles if the food is raw, dry, cooked or kept.
    pub fn settles_state(&self, word: &str) -> bool {
        self.states.contains_key(word) && !self.open.contains(&word)
    }

    /// A plant of which the leaf is what is eaten.
    pub fn is_leafy(&self, word: &str) -> bool {
        self.leafy.contains(&word)
    }

    /// A class word that stands before the name proper: "Fish, halibut".
    pub fn is_class_head(&self, word: &str) -> bool {
        self.heads.contains(&word)
    }

    /// A part of a description that begins with this word is about that part of the food only: "Chicken, skin".
    pub fn is_part_alone(&self, first: &str, words_in_part: usize) -> bool {
        self.leading.contains(&first) || (words_in_part == 1 && self.alone.contains(&first))
    }

    /// A word as written in a description that names a brand: in capitals, but for a few, or listed.
    pub fn is_brand(&self, raw: &str) -> bool {
        let letters = raw.chars().filter(|c| c.is_alphabetic()).count();
        let lower = || {
            raw.trim_matches(|c: char| !c.is_alphanumeric())
                .to_lowercase()
        };
        let in_capitals = letters >= 3 && !raw.chars().any(char::is_lowercase);
        (in_capitals && !self.capitals.contains(&lower().as_str()))
            || raw.starts_with(|c: char| c.is_uppercase())
                && self.brands.contains(&lower().as_str())
    }
}
