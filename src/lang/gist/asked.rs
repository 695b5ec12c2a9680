//! The clause of a message that asks, and what of it carries no weight.

use super::mark::Mark;
use super::sentence::Sentence;
use crate::lang::syntax::Words;
use crate::lang::tokens::Tokens;
use crate::lang::words::{cues, label_fields, questions};

/// A longer question is talk.
const ASKED_TOKENS_MAX: usize = 18;
/// "dal left?": without a word that asks, a question is no longer.
const BARE_TOKENS_MAX: usize = 7;
/// What may stand in a question without changing what it asks.
const KEYS_OF_NO_WEIGHT: [&str; 9] = [
    "opens", "idle", "left", "eaten", "stock", "so far", "portions", "due", "makes",
];

/// How long a phrase of this key is that begins at a token.
pub fn says(input: Tokens<'_>, at: usize, key: &'static str) -> Option<usize> {
    questions().longest_of(input.after(at).slice, key)
}

/// The clause that asks.
pub struct Asked<'s, 'a> {
    pub sentence: &'s Sentence<'a>,
    /// From the words that open the question to the end of its clause.
    pub words: Tokens<'a>,
    /// The marks of the same.
    pub from: usize,
    pub to: usize,
    /// It opens as a question, and does not just end with a mark.
    pub opened: bool,
    /// It hangs on a condition: "if there is any left".
    pub governed: bool,
}

impl<'s, 'a> Asked<'s, 'a> {
    pub fn of(sentence: &'s Sentence<'a>, clause: usize) -> Option<Self> {
        let within = sentence.within(clause);
        let first = within.clone().find(|&at| !sentence.breaks(at))?;
        let to = within.end;
        let governed = is_governed(sentence, clause);
        let opening = (first..to)
            .find(|&at| begins(sentence, at) && (governed || leads(sentence, first, at)));
        let turned = || (first..to).any(|at| is_turned(sentence, at));
        let opening = opening.or_else(|| turned().then_some(first));
        let marked = || {
            let behind = sentence.marks.get(to)?;
            sentence.input.slice[behind.from].is('?').then_some(first)
        };
        let from = opening.or_else(marked)?;
        let words = sentence
            .input
            .range(sentence.marks[from].from, sentence.marks[to - 1].to);
        let opened = opening.is_some();
        let asked = Self {
            sentence,
            words,
            from,
            to,
            opened,
            governed,
        };
        let longest = if opened {
            ASKED_TOKENS_MAX
        } else {
            BARE_TOKENS_MAX
        };
        (words.len() <= longest && asked.is_ours(clause)).then_some(asked)
    }

    /// Nothing in it tells that people ask each other, and no weighing stands beside it.
    fn is_ours(&self, clause: usize) -> bool {
        let sentence = self.sentence;
        let weighed = |at: usize| {
            is_number(sentence.mark(at))
                && sentence.clause(at) != clause
                && !is_governed(sentence, sentence.clause(at))
        };
        !self.is_elsewhere() && !(0..sentence.marks.len()).any(weighed)
    }

    /// Up to a condition: "if I take 300 for work" tells what it is asked for.
    fn is_elsewhere(&self) -> bool {
        let condition = |at: &usize| says(self.words, *at, "supposing").is_some();
        let end = (1..self.words.len()).find(condition);
        let end = end.unwrap_or(self.words.len());
        let mut at = 0;
        // "enough chilli for 3 people"
        let for_so_many = |at: usize| {
            let counted = at > 0 && self.words.slice[at - 1].is_numeric();
            counted && self.words.norm(at) == "people" && self.asks("enough")
        };
        while at < end {
            at += match questions().longest(self.words.after(at).slice) {
                Some((length, "elsewhere")) if for_so_many(at) => length,
                Some((_, "elsewhere")) => return true,
                Some((length, _)) => length,
                None => 1,
            };
        }
        false
    }

    pub fn asks(&self, key: &'static str) -> bool {
        questions().stand_in(self.words.slice, key)
    }

    pub fn opens_with(&self, key: &'static str) -> bool {
        says(self.words, 0, key).is_some()
    }

    pub fn has_numbers(&self) -> bool {
        (self.from..self.to).any(|at| is_number(self.sentence.mark(at)))
    }

    /// Nothing is said behind it that it may be about.
    pub fn is_last(&self) -> bool {
        let last = self.sentence.marks[self.to - 1].to;
        let mut behind = self.sentence.input.after(last).slice.iter();
        behind.all(|token| token.norm().is_empty())
    }

    pub fn is_idle(&self, from: usize) -> bool {
        self.is_idle_but(from, |_| false)
    }

    /// Nothing from here to the end, or to an "or", but dishes, people, days, numbers, and words that change
    /// nothing.
    pub fn is_idle_but(&self, from: usize, besides: impl Fn(&Mark) -> bool) -> bool {
        let mut at = from;
        while at < self.to {
            let length = match &self.sentence.marks[at].mark {
                Mark::Word if self.sentence.norm(at) == "or" => return true,
                Mark::Word => idle_words(self.sentence, at),
                Mark::Dish(_) | Mark::Day(_) | Mark::Meal(_) | Mark::Person(_) => Some(1),
                Mark::Amount(_) | Mark::Stray => Some(1),
                mark => besides(mark).then_some(1),
            };
            match length {
                Some(length) => at += length,
                None => return false,
            }
        }
        true
    }

    /// Every dish that is named, each once.
    pub fn dishes(&self) -> Vec<Words> {
        let mut dishes: Vec<Words> = Vec::new();
        for marked in &self.sentence.marks {
            if let Mark::Dish(name) = &marked.mark
                && !dishes.contains(name)
            {
                dishes.push(name.clone());
            }
        }
        dishes
    }

    /// The one dish that is named.
    pub fn dish(&self) -> Option<Words> {
        let mut dishes = self.dishes();
        (dishes.len() == 1).then(|| dishes.remove(0))
    }
}

/// How many marks from here are words that change nothing of what is asked.
fn idle_words(sentence: &Sentence<'_>, at: usize) -> Option<usize> {
    let input = sentence.input;
    let from = sentence.marks[at].from;
    match sentence.norm(at) {
        "" => return Some(1),
        // "for lunch", "for 3": not "for the dog", "for the beans".
        "for" => {
            let when = matches!(
                sentence.mark(at + 1),
                Some(Mark::Day(_) | Mark::Meal(_) | Mark::Aside)
            );
            return (when || is_number(sentence.mark(at + 1))).then_some(2);
        }
        _ => {}
    }
    let said = KEYS_OF_NO_WEIGHT
        .iter()
        .filter_map(|key| says(input, from, key));
    let linked = ["link", "join"].iter();
    let linked = linked.filter_map(|key| cues().longest_of(input.after(from).slice, key));
    let field = label_fields().longest(input.after(from).slice);
    let field = field.map(|(length, _)| length);
    let length = said.chain(linked).chain(field).max()?;
    // A phrase may cover marks of other kinds: "in the fridge".
    let marks = &sentence.marks[at..];
    Some(
        marks
            .iter()
            .take_while(|it| it.from < from + length)
            .count(),
    )
}

/// "if I take 300", "before I put it on my plate": what is not done yet.
fn is_governed(sentence: &Sentence<'_>, clause: usize) -> bool {
    let first = sentence.within(clause).next();
    first.is_some_and(|at| says(sentence.input, sentence.marks[at].from, "supposing").is_some())
}

/// Whether a question opens here: "how much", or "protein so far".
fn begins(sentence: &Sentence<'_>, at: usize) -> bool {
    let input = sentence.input;
    let from = sentence.marks[at].from;
    let field = label_fields().has(input.norm(from));
    let so_far = field && says(input, from + 1, "so far").is_some();
    let opens = says(input, from, "opens").is_some();
    so_far || sentence.mark(at) == Some(&Mark::Word) && opens
}

/// "a cup of rice is how many g": what is asked stands last.
fn is_turned(sentence: &Sentence<'_>, at: usize) -> bool {
    let from = sentence.marks[at].from;
    let verbs = ["is", "are", "weighs", "weigh", "in", "has"];
    let behind = from > 0 && verbs.contains(&sentence.input.norm(from - 1));
    behind && says(sentence.input, from, "how much").is_some()
}

/// Whether the marks of a clause up to this one only lead up to a question: "hang on", "just want to know",
/// "the dal:".
fn leads(sentence: &Sentence<'_>, first: usize, opening: usize) -> bool {
    let input = sentence.input;
    let start = |at: usize| sentence.marks[at].from;
    let wonders = |at: usize| {
        let length = says(input, start(at), "wonder");
        length.is_some_and(|length| start(at) + length == start(opening))
    };
    if (first..opening).any(wonders) {
        return true;
    }
    let mut at = first;
    while at < opening {
        let lead = || {
            let length = says(input, start(at), "lead");
            length.or_else(|| cues().longest_of(input.after(start(at)).slice, "link"))
        };
        let length = match sentence.mark(at) {
            Some(Mark::Dish(_)) => Some(1),
            Some(Mark::Word) if sentence.norm(at).is_empty() => Some(1),
            Some(Mark::Word) => lead(),
            _ => None,
        };
        match length {
            Some(length) => at += length,
            None => return false,
        }
    }
    true
}

pub fn is_number(mark: Option<&Mark>) -> bool {
    matches!(mark, Some(Mark::Amount(_) | Mark::Stray))
}
