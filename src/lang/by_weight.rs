//! A bag that is chosen by what it weighs: "the 640 bag out for tomorrow", "binned the 300 one", "640 bag of chilli out". The
//! books tell which dish is in the only bag of that weight, and where it stands; here both are put behind the weight, where
//! every reader looks for them: "640 g of the freezer chilli out for tomorrow".
//!
//! ```text
//! told := ["the"] number ["g"] [dish] bag ["of" dish]
//!       | "the" number ["g"] "one"
//! ```

use super::elided::said;
use super::name::of_batch;
use super::number::number;
use super::token::Token;
use super::tokens::Tokens;
use super::words::containers;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 16;
/// A dish of a longer name is called by less.
const DISH_WORDS_MAX: usize = 3;
/// Less is a number of bags.
const GRAMS_MIN: f64 = 30.0;
/// What is said of a bag is rounded.
const SAME_GRAMS: f64 = 2.5;

/// The tokens with the dish behind what it weighs; `None` where no bag is told so, or several dishes fill one.
pub fn named(input: Tokens<'_>, bags: &[(f64, String)]) -> Option<Vec<Token>> {
    if input.len() > TOKENS_MAX {
        return None;
    }
    (0..input.len()).find_map(|at| {
        let (rest, weight) = number(input.after(at)).ok()?;
        let the = at > 0 && matches!(input.norm(at - 1), "the" | "that" | "our" | "my");
        let rest = rest.after(usize::from(matches!(rest.norm(0), "g" | "gram" | "grams")));
        let (told, length) = bag(rest, the)?;
        let fits = |bag: &&(f64, String)| {
            let named = |dish: &Tokens<'_>| {
                dish.slice.iter().all(|word| {
                    bag.1
                        .to_lowercase()
                        .split(' ')
                        .any(|own| own == word.norm())
                })
            };
            (bag.0 - weight.value).abs() <= SAME_GRAMS && told.as_ref().is_none_or(named)
        };
        let mut dishes: Vec<&str> = bags.iter().filter(fits).map(|bag| bag.1.as_str()).collect();
        dishes.dedup();
        let weighed = weight.other.is_none() && weight.value >= GRAMS_MIN;
        let [dish] = dishes.as_slice() else {
            return None;
        };
        let place = rest.slice[length - 1].span.end;
        let from = at - usize::from(the);
        let mut whole = input.slice[..from].to_vec();
        whole.extend(said(&format!("{} g of the {dish}", weight.value), place));
        whole.extend_from_slice(rest.after(length).slice);
        weighed.then_some(whole)
    })
}

/// "bag", "chilli bag", "bag of the chilli", "one": the dish in it, if it is told, and how many tokens.
fn bag<'a>(rest: Tokens<'a>, the: bool) -> Option<(Option<Tokens<'a>>, usize)> {
    let is_bag = |at: usize| containers().has(rest.norm(at));
    let known = |said: &Tokens<'_>| said.is_wordy() && of_batch(*said).is_some();
    if is_bag(0) && rest.norm(1) == "of" {
        let the = usize::from(matches!(rest.norm(2), "the" | "our"));
        let words = (1..=DISH_WORDS_MAX).rev();
        let mut said = words.map(|words| (2 + the, 2 + the + words));
        let (from, to) =
            said.find(|&(from, to)| to <= rest.len() && known(&rest.range(from, to)))?;
        return Some((Some(rest.range(from, to)), to));
    }
    let alone = is_bag(0) || the && rest.norm(0) == "one";
    if alone && !rest.vocabulary.has_word(rest.norm(1)) {
        return Some((None, 1));
    }
    let length = (1..=DISH_WORDS_MAX).find(|&words| is_bag(words))?;
    let dish = rest.range(0, length);
    known(&dish).then_some((Some(dish), length + 1))
}

#[cfg(test)]
mod tests {
    use crate::lang::{Completion, Known, Sense, Vocabulary, completed};

    /// What the message comes to with its bags by name.
    #[track_caller]
    fn says(text: &str) -> Option<String> {
        let bags = [
            (640.0, "freezer chilli"),
            (400.0, "freezer chilli"),
            (400.0, "freezer dal"),
            (300.0, "dal"),
        ];
        let known = Known {
            bags: bags.map(|(grams, dish)| (grams, dish.to_owned())).to_vec(),
            ..Known::default()
        };
        let words = Vocabulary::new()
            .with(Sense::Batch, "chilli")
            .with(Sense::Batch, "dal");
        let parsed = completed(text, &words, &known, Completion::Bags)?;
        let commands = parsed.best().commands.iter().map(ToString::to_string);
        Some(commands.collect::<Vec<String>>().join("; "))
    }

    #[test]
    fn a_bag_is_chosen_by_its_weight() {
        for (text, meant) in [
            ("the 640 bag out for tomorrow", "thaw 640 g freezer chilli"),
            ("thaw the 640 one", "thaw 640 g freezer chilli"),
            ("640 g bag out please", "thaw 640 g freezer chilli"),
            ("thaw the 400 chilli bag", "thaw 400 g freezer chilli"),
            ("thaw the 400 g bag of dal", "thaw 400 g freezer dal"),
            ("binned the 640 bag", "binned 640 g freezer chilli"),
            ("froze the 300 tub", "move 300 g dal to the freezer"),
        ] {
            assert_eq!(says(text).as_deref(), Some(meant), "{text}");
        }
    }

    #[test]
    fn what_chooses_no_bag_stays_as_it_is() {
        for text in [
            "thaw the 400 bag",
            "the 500 bag out for tomorrow",
            "2 bags out",
            "my bag is 640 quid",
            "640 of the chilli",
        ] {
            assert_eq!(says(text), None, "{text}");
        }
    }
}
