//! Names that are spelt nearly as typed, to be offered when nothing has that name.
//!
//! Near means one slip up to seven letters and two from eight, where a slip is a letter too many, too few, another
//! letter, or two neighbours swapped (Damerau's four). A different first letter counts one slip more, since
//! people rarely miss it. Spaces do not count. Words that merely occur in a name are never near to it.

use std::collections::BTreeSet;

use super::alias::Aliases;
use super::index::Index;
use super::lexicon::lexicon;
use super::normal;
use super::{Found, Table};
use crate::foods::code::Code;

/// A name near to the one typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near {
    pub code: Code,
    /// The near name, as it may be shown and typed: "parsnip".
    pub name: String,
    /// Slips between the two.
    pub distance: usize,
}

/// How many near words are tried for one unknown word of several.
const WORDS_TRIED_MAX: usize = 3;

/// Everything that can be misspelt.
#[derive(Debug)]
pub struct Spellings {
    /// Names of staples, and heads of descriptions.
    names: Vec<Spelling>,
    /// Single words of those.
    words: Vec<Spelling>,
}

#[derive(Debug)]
struct Spelling {
    shown: String,
    letters: Letters,
}

/// A name without its spaces, and a bit for each letter that it holds.
#[derive(Debug, Clone)]
pub struct Letters {
    letters: Vec<char>,
    mask: u32,
}

impl Letters {
    pub fn of(name: &str) -> Letters {
        let letters: Vec<char> = name.chars().filter(|letter| *letter != ' ').collect();
        let mask = letters
            .iter()
            .fold(0, |mask, &letter| mask | 1 << (letter as u32 % 32));
        Letters { letters, mask }
    }

    /// The slips allowed in a name of this length.
    fn allowed(&self) -> usize {
        match self.letters.len() {
            0..=2 => 0,
            3..=7 => 1,
            _ => 2,
        }
    }

    /// Whether the two differ by no more slips than names of their length may.
    pub fn is_near(&self, other: &Letters) -> bool {
        self.distance(other).is_some()
    }

    /// Slips between the two, if no more than allowed.
    fn distance(&self, other: &Letters) -> Option<usize> {
        let allowed = self.allowed().min(other.allowed());
        let too_long = self.letters.len().abs_diff(other.letters.len()) > allowed;
        // A slip changes at most two letters of the sets.
        if too_long || (self.mask ^ other.mask).count_ones() as usize > 2 * allowed {
            return None;
        }
        let slips = slips(&self.letters, &other.letters, allowed)?;
        let (one, two) = (&self.letters, &other.letters);
        let swapped = one.len() > 1 && two.len() > 1 && one[0] == two[1] && one[1] == two[0];
        let distance = slips + usize::from(one.first() != two.first() && !swapped);
        (distance <= allowed).then_some(distance)
    }
}

/// Whether two names differ by no more slips than names of their length may.
pub fn spelled_nearly(one: &str, other: &str) -> bool {
    Letters::of(one).is_near(&Letters::of(other))
}

/// The optimal string alignment distance, or `None` beyond `most`.
fn slips(one: &[char], two: &[char], most: usize) -> Option<usize> {
    let width = two.len() + 1;
    let (mut older, mut before): (Vec<usize>, Vec<usize>) = (vec![0; width], (0..width).collect());
    for (i, &letter) in one.iter().enumerate() {
        let mut row = vec![i + 1; width];
        for (j, &other) in two.iter().enumerate() {
            let change = before[j] + usize::from(letter != other);
            row[j + 1] = change.min(before[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && letter == two[j - 1] && one[i - 1] == other {
                row[j + 1] = row[j + 1].min(older[j - 1] + 1);
            }
        }
        if row.iter().min().is_some_and(|&least| least > most) {
            return None;
        }
        older = std::mem::replace(&mut before, row);
    }
    before.last().copied().filter(|&distance| distance <= most)
}

impl Spellings {
    pub fn new(aliases: &Aliases, index: &Index) -> Spellings {
        let mut names: BTreeSet<String> = BTreeSet::new();
        let mut words: BTreeSet<String> = BTreeSet::new();
        for name in aliases.list().iter().flat_map(|alias| &alias.names) {
            names.insert((*name).to_owned());
            words.extend(normal::words(name));
        }
        for (word, is_head) in index.words() {
            if is_head && word.chars().all(char::is_alphabetic) {
                names.insert(word.to_owned());
                words.insert(word.to_owned());
            }
        }
        let spelling = |shown: String| Spelling {
            letters: Letters::of(&shown),
            shown,
        };
        Spellings {
            names: names.into_iter().map(spelling).collect(),
            words: words.into_iter().map(spelling).collect(),
        }
    }
}

/// The spellings near to a name, the nearest first.
fn nearest<'a>(spellings: &'a [Spelling], name: &str) -> Vec<(usize, &'a str)> {
    let letters = Letters::of(name);
    let near = |own: &'a Spelling| Some((letters.distance(&own.letters)?, own.shown.as_str()));
    let mut found: Vec<(usize, &str)> = spellings.iter().filter_map(near).collect();
    found.sort_unstable();
    found
}

impl Table {
    /// Foods whose names are spelt nearly like this, the nearest first, each food once.
    pub fn near(&self, words: &str, limit: usize) -> Vec<Near> {
        let typed = super::name_words(words);
        let mut found: Vec<Near> = Vec::new();
        let mut names: Vec<(usize, String)> =
            nearest(&self.names.spellings().names, &typed.join(" "))
                .into_iter()
                .map(|(distance, name)| (distance, name.to_owned()))
                .collect();
        names.extend(self.with_words_mended(&typed));
        names.sort();
        for (distance, name) in names {
            if found.len() >= limit {
                break;
            }
            let code = match self.find(&name) {
                Found::Taken(taken) => taken.code,
                Found::Several(codes) => codes[0],
                Found::Nothing => continue,
            };
            if found.iter().all(|near| near.code != code) {
                found.push(Near {
                    code,
                    name,
                    distance,
                });
            }
        }
        found
    }

    /// The name with its one unknown word replaced by near ones: "smoked paprkia".
    fn with_words_mended(&self, typed: &[String]) -> Vec<(usize, String)> {
        let known = |word: &str| {
            let names = &self.names;
            names.aliases.has_word(word)
                || names.index.word(word).is_some()
                || lexicon().is_cut(word)
                || lexicon().state(word).is_some()
        };
        let unknown: Vec<usize> = (0..typed.len()).filter(|&at| !known(&typed[at])).collect();
        let [at] = unknown[..] else { return Vec::new() };
        if typed.len() < 2 {
            return Vec::new();
        }
        let mended = |(distance, word): (usize, &str)| {
            let mut words = typed.to_vec();
            words[at] = word.to_owned();
            (distance, words.join(" "))
        };
        let near = nearest(&self.names.spellings().words, &typed[at]);
        near.into_iter().take(WORDS_TRIED_MAX).map(mended).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn distance(one: &str, two: &str) -> Option<usize> {
        Letters::of(one).distance(&Letters::of(two))
    }

    #[test]
    fn slips_are_counted_as_people_make_them() {
        assert_eq!(distance("onoin", "onion"), Some(1));
        assert_eq!(distance("parsnp", "parsnip"), Some(1));
        assert_eq!(distance("nioon", "onion"), None);
        assert_eq!(distance("noion", "onion"), Some(1));
        assert_eq!(distance("courgete", "courgette"), Some(1));
        assert_eq!(distance("bean", "beam"), Some(1));
        assert_eq!(distance("bean", "lean"), None);
        assert_eq!(distance("cauliflowr", "cauliflower"), Some(1));
        assert_eq!(distance("butter milk", "buttermilk"), Some(0));
        assert_eq!(distance("ham", "yam"), None);
    }
}
