//! Maps by short words.
//!
//! The standard hash withstands keys chosen by an enemy. Here all keys are the program's own data, what is typed is
//! only looked up, and the start hashes a hundred thousand words: so a plain multiplicative hash.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// A map by words.
pub type WordMap<K, V> = HashMap<K, V, BuildHasherDefault<WordHasher>>;

/// Mixes eight bytes at a time by a multiplication (the golden ratio of 2^64) and a rotation.
#[derive(Debug, Default)]
pub struct WordHasher(u64);

impl Hasher for WordHasher {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.0 = (self.0.rotate_left(5) ^ u64::from_le_bytes(word))
                .wrapping_mul(0x9e37_79b9_7f4a_7c15);
        }
    }

    fn finish(&self) -> u64 {
        // The table takes its place from the low bits, and the product mixes upwards.
        self.0 ^ (self.0 >> 32)
    }
}
