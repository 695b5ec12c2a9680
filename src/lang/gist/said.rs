//! A sentence, asked for the words of `data/capabilities.txt`: what somebody wants of the bot, or did with food.

use super::mark::Mark;
use super::sentence::Sentence;
use crate::lang::veto::vetoes_in;
use crate::lang::words::capabilities;

pub struct Said<'s, 'a> {
    pub sentence: &'s Sentence<'a>,
}

impl Said<'_, '_> {
    /// How long a phrase of this key is that begins at a token.
    pub fn says(&self, at: usize, key: &'static str) -> Option<usize> {
        capabilities().longest_of(self.sentence.input.after(at).slice, key)
    }

    pub fn tells(&self, key: &'static str) -> bool {
        capabilities().stand_in(self.sentence.input.slice, key)
    }

    pub fn has(&self, wanted: impl Fn(&Mark) -> bool) -> bool {
        self.sentence.marks.iter().any(|it| wanted(&it.mark))
    }

    pub fn is_asked(&self) -> bool {
        self.sentence.input.slice.iter().any(|token| token.is('?'))
    }

    pub fn is_priced(&self) -> bool {
        vetoes_in(self.sentence.input).contains(&"price")
    }
}

pub fn is_dish(mark: &Mark) -> bool {
    matches!(mark, Mark::Dish(_))
}

pub fn is_food(mark: &Mark) -> bool {
    matches!(mark, Mark::Food(_) | Mark::Foods)
}
