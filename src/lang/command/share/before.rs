//! Who was told of before, that a pronoun, a list or a comparison may depend on.

use super::party::Who;
use crate::lang::syntax::{Eater, Words};

#[derive(Default)]
pub struct Before {
    /// The last that was named and is not the sender.
    pub named: Option<Words>,
    /// Who was named before that.
    earlier: Option<Words>,
    /// Whoever was told of last.
    last: Option<Eater>,
    /// Two were named in one breath: "she" may be either.
    either: bool,
    /// An amount that belongs to nobody yet stands before.
    pub open: bool,
}

impl Before {
    /// These were told of.
    pub fn note(&mut self, named: &[Eater]) {
        for eater in named.iter().filter(|eater| eater.is_some()) {
            if self.named != *eater {
                self.earlier = std::mem::replace(&mut self.named, eater.clone());
            }
        }
        let others = named.iter().filter(|eater| eater.is_some()).count();
        self.either = others > 1 || self.either && others == 0;
        self.last = named.last().cloned();
    }

    /// What came before somebody is held against: nobody is held against himself.
    pub fn held_against(&self) -> Self {
        let oneself = self.last.is_some() && self.last.as_ref() == Some(&self.named);
        let named = match (oneself, &self.earlier) {
            (true, Some(earlier)) => Some(earlier.clone()),
            _ => self.named.clone(),
        };
        Self {
            named,
            earlier: None,
            last: None,
            either: false,
            open: self.open,
        }
    }

    /// Whoever was told of before the last: "Ana 260, mine 50 more than that".
    pub fn the_other(&self) -> Who {
        let sender = self.last.is_some() && self.last.as_ref() != Some(&None);
        match (sender, &self.earlier) {
            (true, Some(earlier)) => Who::Named(vec![Some(earlier.clone())]),
            (true, None) => Who::sender(),
            (false, _) => Who::Named(vec![self.named.clone()]),
        }
    }

    /// Who "she" is, if that is told.
    pub fn spoken_of(&self) -> Option<Words> {
        self.named.clone().filter(|_| !self.either)
    }

    /// Whether two were named in one breath, so that "she" may be either.
    pub fn is_either(&self) -> bool {
        self.either
    }

    /// Whether several have been named, one of whom "she" may be.
    pub fn is_doubtful(&self) -> bool {
        self.earlier.is_some()
    }
}
