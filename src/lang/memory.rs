//! What was read of a message so far: dozens of readers ask the same of the same words, and in one parse each
//! answer is worked out once.

use std::borrow::Borrow;
use std::cell::RefCell;
use std::hash::Hash;

use super::amount::Taken;
use super::item::Items;
use super::name::Familiarity;
use super::segment::Segment;
use crate::foods::WordMap;

/// Where a run of tokens lies: its address and its length. No two runs of one message are alike.
pub type Place = (usize, usize);

/// The answers to one question, by what it was asked of.
pub struct Answers<T, K = Place>(RefCell<WordMap<K, T>>);

#[derive(Default)]
pub struct Memory {
    /// Amounts before a name, and behind one.
    pub amounts: [Answers<Taken>; 2],
    pub lists: Answers<Items>,
    pub segments: Answers<Vec<Segment>>,
    pub names: Answers<Familiarity, String>,
}

impl<T: Clone, K: Hash + Eq> Answers<T, K> {
    /// The answer; worked out when it is asked for first.
    pub fn get<Q>(&self, of: &Q, work_out: impl FnOnce() -> T) -> T
    where
        K: Borrow<Q>,
        Q: Hash + Eq + ToOwned<Owned = K> + ?Sized,
    {
        if let Some(known) = self.0.borrow().get(of) {
            return known.clone();
        }
        let answer = work_out();
        self.0.borrow_mut().insert(of.to_owned(), answer.clone());
        answer
    }
}

impl<T, K> Default for Answers<T, K> {
    fn default() -> Self {
        Self(RefCell::default())
    }
}
