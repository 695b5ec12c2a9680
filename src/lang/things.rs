//! What is known of the household's things beside their names: what was bought, what is counted, what is on the
//! shopping list.

use super::lexer::folded_words;
use super::vocabulary::{Vocabulary, singular, singulars};

impl Vocabulary {
    /// What is called so was bought: more of it may come from the shop.
    pub fn add_bought(&mut self, name: &str) {
        let words = singulars(&folded_words(name));
        self.bought.insert(words.join(" "), ());
    }

    /// Whether the words are, wholly, the name of something that was bought.
    pub fn is_bought(&self, words: &[&str]) -> bool {
        let words: Vec<String> = words
            .iter()
            .map(|word| singular(word).into_owned())
            .collect();
        self.bought.contains_key(&words.join(" "))
    }

    /// The household has a shopping list.
    pub fn open_list(&mut self) {
        self.listed.get_or_insert_default();
    }

    /// This stands on it.
    pub fn add_listed(&mut self, name: &str) {
        let words = singulars(&folded_words(name));
        self.listed.get_or_insert_default().push(words);
    }

    pub fn has_list(&self) -> bool {
        self.listed.is_some()
    }

    /// Whether the folded words name something on the list: "onions" for "red onions".
    pub fn is_listed(&self, words: &[String]) -> bool {
        let words = singulars(words);
        let mut listed = self.listed.iter().flatten();
        !words.is_empty() && listed.any(|name| words.iter().all(|word| name.contains(word)))
    }

    /// A dish that stands here is counted in these: "meatball", "box".
    pub fn add_piece(&mut self, word: &str) {
        self.pieces.insert(singular(word).into_owned(), ());
    }

    pub fn has_pieces(&self) -> bool {
        !self.pieces.is_empty()
    }

    pub fn is_piece(&self, word: &str) -> bool {
        self.pieces.contains_key(&*singular(word))
    }
}
