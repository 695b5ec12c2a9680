//! A message cut into marks and clauses.

use std::ops::Range;

use super::mark::{Mark, Marked, marks};
use crate::lang::syntax::{Amount, Day};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::words::cues;

pub struct Sentence<'a> {
    pub input: Tokens<'a>,
    pub marks: Vec<Marked>,
    /// The clause that each mark stands in, in rising order.
    clauses: Vec<usize>,
}

impl<'a> Sentence<'a> {
    pub fn new(input: Tokens<'a>) -> Self {
        let marks = marks(input);
        let mut clause = 0;
        let clauses = marks
            .iter()
            .map(|marked| {
                clause += usize::from(matches!(marked.mark, Mark::Break { .. }));
                clause
            })
            .collect();
        Self {
            input,
            marks,
            clauses,
        }
    }

    pub fn mark(&self, at: usize) -> Option<&Mark> {
        self.marks.get(at).map(|marked| &marked.mark)
    }

    pub fn clause(&self, at: usize) -> usize {
        self.clauses[at]
    }

    /// How many marks from here are a phrase of this cue.
    pub fn cue(&self, at: usize, key: &'static str) -> Option<usize> {
        let marked = self.marks.get(at).filter(|it| it.mark == Mark::Word)?;
        let length = cues().longest_of(self.input.after(marked.from).slice, key)?;
        let words = self.marks[at..].iter().take(length);
        let plain = words.filter(|it| it.mark == Mark::Word).count() == length;
        plain.then_some(length)
    }

    /// A cue of this kind anywhere in the clause.
    pub fn tells(&self, clause: usize, key: &'static str) -> bool {
        self.within(clause).any(|at| self.cue(at, key).is_some())
    }

    /// The words of a cue of this kind in the clause, whatever else they may be: "such a good dish".
    pub fn says(&self, clause: usize, key: &'static str) -> bool {
        self.within(clause).any(|at| {
            let rest = self.input.after(self.marks[at].from);
            cues().longest_of(rest.slice, key).is_some()
        })
    }

    /// A cue of this kind in the clause that stands in no phrase of the other.
    pub fn tells_but(&self, clause: usize, key: &'static str, other: &'static str) -> bool {
        let within = |at: usize| {
            (0..=at.min(4)).any(|back| {
                let rest = self.input.after(self.marks[at - back].from);
                let length = cues().longest_of(rest.slice, other);
                length.is_some_and(|length| length > back)
            })
        };
        self.within(clause)
            .any(|at| self.cue(at, key).is_some() && !within(at))
    }

    /// The marks of a clause.
    pub fn within(&self, clause: usize) -> Range<usize> {
        let before = |at: usize| self.clauses.partition_point(|&other| other < at);
        before(clause)..before(clause + 1)
    }

    /// The first word of a clause, behind its break.
    pub fn opening(&self, clause: usize) -> Option<usize> {
        self.within(clause).find(|&at| !self.breaks(at))
    }

    /// The clauses said in one breath with this one: no full stop, no new line between them.
    pub fn breath(&self, clause: usize) -> Range<usize> {
        let goes_on = |clause: usize| {
            let opening = self.within(clause).next();
            opening.is_some_and(|at| match self.marks[at].mark {
                Mark::Break { soft } => soft || self.starts(at, '(') || self.starts(at, ')'),
                _ => false,
            })
        };
        let mut first = clause;
        while first > 0 && goes_on(first) {
            first -= 1;
        }
        let mut end = clause + 1;
        while end < self.clause_count() && goes_on(end) {
            end += 1;
        }
        first..end
    }

    /// How many amounts are told.
    pub fn amounts(&self) -> usize {
        let amount = |marked: &&Marked| matches!(marked.mark, Mark::Amount(_));
        self.marks.iter().filter(amount).count()
    }

    /// Whether "but had" stands behind the clause: what comes is what was.
    pub fn turns(&self, clause: usize) -> bool {
        let next = self.within(clause + 1).next();
        let turns = next.is_some_and(|at| {
            let rest = self.input.after(self.marks[at].from);
            cues().longest_of(rest.slice, "turn").is_some()
        });
        turns && self.tells(clause + 1, "eat")
    }

    /// The first day that is named.
    pub fn day(&self) -> Option<Day> {
        self.marks.iter().find_map(|marked| match &marked.mark {
            Mark::Day(day) => Some(day.clone()),
            _ => None,
        })
    }

    pub fn clause_count(&self) -> usize {
        self.clauses.last().map_or(0, |last| last + 1)
    }

    /// A word or sign that goes on with a list: "and", "+".
    pub fn joins(&self, at: usize) -> bool {
        let sign = || {
            let marked = &self.marks[at];
            marked.mark == Mark::Word
                && matches!(
                    self.input.slice[marked.from].kind,
                    Kind::Symbol('+' | '&' | '/')
                )
        };
        at < self.marks.len() && (self.cue(at, "join").is_some() || sign())
    }

    /// The next mark that is no word which only links: "of the", "my".
    pub fn after_links(&self, mut at: usize) -> usize {
        while let Some(length) = self.cue(at, "link") {
            at += length;
        }
        at
    }

    /// Whether a cue ends right before this mark.
    pub fn follows(&self, at: usize, key: &'static str) -> bool {
        (1..=4.min(at)).any(|back| self.cue(at - back, key) == Some(back))
    }

    /// A weight that is of nothing named behind it: "290 g", "290 g of it".
    pub fn tells_weight(&self, at: usize) -> bool {
        let weight = matches!(
            self.mark(at),
            Some(Mark::Amount(Amount::Mass(_) | Amount::Bare(_)))
        );
        let named = matches!(
            self.mark(self.after_links(at + 1)),
            Some(Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
        );
        weight && !named
    }

    pub fn breaks(&self, at: usize) -> bool {
        matches!(self.mark(at), Some(Mark::Break { .. }))
    }

    /// Whether the mark begins with this sign.
    pub fn starts(&self, at: usize, sign: char) -> bool {
        self.marks
            .get(at)
            .is_some_and(|marked| self.input.slice[marked.from].is(sign))
    }

    /// The folded word at a mark, or "".
    pub fn norm(&self, at: usize) -> &'a str {
        self.marks
            .get(at)
            .map_or("", |marked| self.input.norm(marked.from))
    }
}
