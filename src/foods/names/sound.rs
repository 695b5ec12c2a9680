//! Words that sound alike, as dictation takes one for the other: "doll" for "dal", "rise" for "rice".
//!
//! Two words sound alike when they begin with one letter and their consonants are the same.

/// Fewer consonants tell nothing.
const CONSONANTS_MIN: usize = 2;
const LETTERS_APART_MAX: usize = 2;

/// Whether one word may have been heard for the other.
pub fn sounds_alike(one: &str, other: &str) -> bool {
    let first = |word: &str| word.chars().next();
    let near_in_length = one.len().abs_diff(other.len()) <= LETTERS_APART_MAX;
    if first(one) != first(other) || !near_in_length {
        return false;
    }
    let (one, other) = (consonants(one), consonants(other));
    one.len() >= CONSONANTS_MIN && one == other
}

fn consonants(word: &str) -> Vec<char> {
    let letters: Vec<char> = word.chars().collect();
    let mut out: Vec<char> = Vec::new();
    for (at, &letter) in letters.iter().enumerate() {
        let soft = matches!(letters.get(at + 1), Some('e' | 'i' | 'y'));
        let sound = match letter {
            'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'w' | 'h' => continue,
            'c' if soft => 's',
            'c' | 'q' => 'k',
            'z' => 's',
            other => other,
        };
        if out.last() != Some(&sound) {
            out.push(sound);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::sounds_alike;

    #[test]
    fn consonants_decide() {
        assert!(sounds_alike("doll", "dal"));
        assert!(sounds_alike("rise", "rice"));
        assert!(sounds_alike("barely", "barley"));
        assert!(!sounds_alike("bell", "dal"));
        assert!(!sounds_alike("day", "dal"));
        assert!(!sounds_alike("salad", "salsa"));
    }
}
