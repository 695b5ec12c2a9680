//! The alias table: what cooks call a staple, and the food that is meant.
//!
//! ```text
//! line  = name { ", " name } " = " code { " | " field }
//! field = "cooked " code | "dry " code | "raw " code     the same food in that state
//!       | "or " code { " " code }                        other kinds worth naming: fat, cut, preparation
//! ```
//!
//! Names are compared normalised, without fillers.

use super::hash::WordMap;
use super::lexicon::lexicon;
use super::normal;
use crate::foods::code::Code;

/// A staple: its names and the foods that it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Alias {
    /// The names as written in the file.
    pub names: Vec<&'static str>,
    /// The food that is meant.
    pub code: Code,
    pub cooked: Option<Code>,
    pub dry: Option<Code>,
    pub raw: Option<Code>,
    pub kinds: Vec<Code>,
}

impl Alias {
    /// Every food of the line, the meant one first.
    pub fn codes(&self) -> impl Iterator<Item = Code> + '_ {
        let states = [Some(self.code), self.cooked, self.dry, self.raw];
        states
            .into_iter()
            .flatten()
            .chain(self.kinds.iter().copied())
    }

    fn read(line: &'static str) -> Option<Alias> {
        let (names, rest) = line.split_once(" = ")?;
        let mut fields = rest.split(" | ");
        let mut alias = Alias {
            names: names.split(", ").collect(),
            code: code(fields.next()?)?,
            cooked: None,
            dry: None,
            raw: None,
            kinds: Vec::new(),
        };
        for field in fields {
            let (label, codes) = field.split_once(' ')?;
            match label {
                "cooked" => alias.cooked = Some(code(codes)?),
                "dry" => alias.dry = Some(code(codes)?),
                "raw" => alias.raw = Some(code(codes)?),
                "or" => alias.kinds = codes.split(' ').map(code).collect::<Option<_>>()?,
                _ => return None,
            }
        }
        Some(alias)
    }
}

fn code(text: &str) -> Option<Code> {
    text.trim().parse().ok().map(Code)
}

/// All aliases, found by their words.
#[derive(Debug)]
pub struct Aliases {
    list: Vec<Alias>,
    by_words: WordMap<String, usize>,
    /// By the words sorted. `None` where two staples have the same words in another order.
    by_bag: WordMap<String, Option<usize>>,
    /// By the letters alone: "butter milk" is buttermilk.
    by_letters: WordMap<String, usize>,
    words: WordMap<String, ()>,
}

impl Aliases {
    /// # Panics
    ///
    /// If a line of the file is malformed, which the tests rule out.
    pub fn read(text: &'static str) -> Aliases {
        let lines = text
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty() && !line.starts_with('#'));
        let list: Vec<Alias> = lines
            .map(|line| Alias::read(line).unwrap_or_else(|| panic!("a malformed alias: {line}")))
            .collect();
        let mut aliases = Aliases {
            list,
            by_words: WordMap::default(),
            by_bag: WordMap::default(),
            by_letters: WordMap::default(),
            words: WordMap::default(),
        };
        for (at, alias) in aliases.list.iter().enumerate() {
            for name in &alias.names {
                let words = name_words(name);
                aliases.by_words.entry(words.join(" ")).or_insert(at);
                aliases.by_letters.entry(words.concat()).or_insert(at);
                aliases
                    .by_bag
                    .entry(bag(&words))
                    .and_modify(|own| *own = own.filter(|&own| own == at))
                    .or_insert(Some(at));
                aliases
                    .words
                    .extend(words.into_iter().map(|word| (word, ())));
            }
        }
        aliases
    }

    pub fn list(&self) -> &[Alias] {
        &self.list
    }

    /// The staple of exactly these words: in this order, in another order, or in other words of the same letters.
    ///
    /// `is_food` says whether a word is a food by itself. Then it says as the last word what the whole is:
    /// "chocolate milk" is not "milk chocolate".
    pub fn find(&self, words: &[String], is_food: impl Fn(&str) -> bool) -> Option<&Alias> {
        let (in_order, last) = (words.join(" "), words.last()?);
        let in_other_order = || {
            let may_move = !self.by_words.contains_key(last) && !is_food(last);
            (*self.by_bag.get(&bag(words))?).filter(|_| may_move)
        };
        let at = self
            .by_words
            .get(&in_order)
            .copied()
            .or_else(in_other_order)
            .or_else(|| self.by_letters.get(&words.concat()).copied())?;
        Some(&self.list[at])
    }

    /// Whether the normalised word stands in any alias.
    pub fn has_word(&self, word: &str) -> bool {
        self.words.contains_key(word)
    }
}

/// The compared words of a name, without fillers unless nothing else is left.
pub fn name_words(name: &str) -> Vec<String> {
    let mut words = normal::words(name);
    if !words.iter().all(|word| lexicon().is_filler(word)) {
        words.retain(|word| !lexicon().is_filler(word));
    }
    words
}

fn bag(words: &[String]) -> String {
    let mut sorted = words.to_vec();
    sorted.sort_unstable();
    sorted.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_gives_names_states_and_kinds() {
        let alias =
            Alias::read("rice, white rice = 20044 | cooked 20045 | or 20036 20444").unwrap();
        assert_eq!(alias.names, ["rice", "white rice"]);
        assert_eq!((alias.code, alias.cooked), (Code(20044), Some(Code(20045))));
        assert_eq!(alias.kinds, [Code(20036), Code(20444)]);
        assert_eq!(Alias::read("rice = 20044 | boiled 20045"), None);
        assert_eq!(Alias::read("rice"), None);
    }

    #[test]
    fn order_matters_only_where_it_makes_another_food() {
        let aliases = Aliases::read(
            "milk = 1077\ndark chocolate = 19904\nbuttermilk = 1088\nmilk chocolate = 19120\nspring onion = 11291",
        );
        let find = |name: &str| {
            let found = aliases.find(&name_words(name), |word| word == "chocolate");
            found.map(|alias| alias.code.0)
        };
        assert_eq!(find("onions, spring"), Some(11291));
        assert_eq!(find("milk chocolate"), Some(19120));
        assert_eq!(find("chocolate milk"), None);
        assert_eq!(find("chocolate dark"), Some(19904));
        assert_eq!(find("butter milk"), Some(1088));
    }
}
