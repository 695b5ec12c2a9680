//! Food put into the freezer or taken out of it, in a sentence: "stuck half the barley in the freezer before it
//! turns". Its words are in `data/capabilities.txt`, the verbs of the grammar in `data/moves.txt`.
//!
//! ```text
//! move := a dish of the household, how much of it, the freezer or what is done there; nobody eats of it
//! ```
//! A question, a plan, an errand and a story are left alone, and so is all of a message that says more.

use super::mark::Mark;
use super::pair;
use super::said::Said;
use super::sentence::Sentence;
use crate::lang::syntax::{Command, Day, Destination, Move, Words};
use crate::lang::token::Token;
use crate::lang::veto::vetoes_in;
use crate::lang::words::{cues, kept_back, moves, places};

/// What is told of, is planned or is not done.
const NOT_DONE: [&str; 4] = ["plan", "negation", "conditional", "question"];

pub fn read(sentence: &Sentence<'_>) -> Option<Command> {
    Said { sentence }.moved().map(Command::Move)
}

impl Said<'_, '_> {
    /// "stuck half the barley in the freezer", "thaw 400 chilli": what is done stands before how much of what.
    fn moved(&self) -> Option<Move> {
        let sentence = self.sentence;
        let pairs = pair::pairs(sentence)?;
        let moved = |pair: &pair::Pair| {
            let clause = sentence.clause(pair.from);
            let before = sentence.within(clause).start..pair.from;
            let done = before
                .clone()
                .any(|at| self.says(sentence.marks[at].from, "move").is_some());
            done && pair.household && !self.is_undone(sentence.within(clause).start, pair.from)
        };
        let story = cues().stand_in(sentence.input.slice, "story");
        // "someone take 400 out to thaw please"
        let somebody = [
            "someone", "somebody", "anyone", "anybody", "whoever", "everyone", "remember", "dont",
        ];
        let asked_of = somebody.contains(&sentence.input.norm(0));
        let told =
            !story && !asked_of && !self.is_asked() && !self.is_priced() && !self.tells("fed");
        let named = pairs
            .iter()
            .all(|pair| !pair.name.text.is_empty() && moved(pair));
        let all = !pairs.is_empty() && named;
        let day = self.day_before()?;
        (self.tells("cold") && told && all && !self.names_own_place() && !self.keeps_back()).then(
            || {
                let items = pairs.iter().map(|pair| pair.item(sentence)).collect();
                Move {
                    day,
                    ..Move::to(items, self.destination())
                }
            },
        )
    }

    /// The day that has been on which it was done; `None`: more than one is told.
    fn day_before(&self) -> Option<Option<Day>> {
        let day = |mark: &Mark| match mark {
            Mark::Day(Day::Ahead | Day::Today) => None,
            Mark::Day(day) => Some(day.clone()),
            _ => None,
        };
        let mut days = self.sentence.marks.iter().filter_map(|it| day(&it.mark));
        let first = days.next();
        days.next().is_none().then_some(first)
    }

    /// "back from the garage freezer to the kitchen one": which of them is meant is not to be guessed.
    fn names_own_place(&self) -> bool {
        let input = self.sentence.input;
        let words: Vec<&str> = input.slice.iter().map(Token::norm).collect();
        let leads = |word: &str| {
            let idle = [
                "", "the", "our", "my", "a", "big", "deep", "chest", "in", "into", "to",
            ];
            let known = input.vocabulary.has_word(word) || moves().get(word).is_some();
            idle.contains(&word) || ["from", "of", "out", "and", "then"].contains(&word) || known
        };
        // "garage freezer"
        let own = |at: usize| {
            let kind = places().longest(&input.slice[at..]);
            matches!(kind, Some((_, "freezer" | "fridge"))) && !leads(words[at - 1])
        };
        (0..words.len()).any(|at| input.vocabulary.place_in_front(&words[at..]) > 1)
            || (1..words.len()).any(own)
    }

    /// "all but 400", "kept 400 back": what is named beside it stays where it is.
    fn keeps_back(&self) -> bool {
        let input = self.sentence.input;
        (0..input.len()).any(|at| {
            let behind = |key| kept_back().longest_of(input.after(at).slice, key);
            let length = behind("but").or_else(|| behind("keeps"));
            let next = length.and_then(|length| input.get(at + length));
            next.is_some_and(|next| next.is_numeric() || matches!(next.norm(), "half" | "two"))
        })
    }

    /// Into the freezer, or "out of the freezer", "to defrost".
    fn destination(&self) -> Destination {
        let input = self.sentence.input;
        let thaws = (0..input.len()).any(|at| {
            let thaw = moves().longest_of(input.after(at).slice, "thaw").is_some();
            let freezer = places()
                .longest_of(input.after(at).slice, "freezer")
                .is_some();
            let mut before = (0..at).rev().map(|before| input.norm(before));
            let lead = before.find(|word| !matches!(*word, "the" | "of" | "our" | "my" | "big"));
            thaw || freezer && matches!(lead, Some("out" | "from"))
        });
        match thaws {
            true => Destination::Thawed,
            false => Destination::Place(Words::plain("freezer")),
        }
    }

    /// Whether the marks tell of a plan or a denial.
    fn is_undone(&self, from: usize, to: usize) -> bool {
        let marks = &self.sentence.marks[from..to];
        let tokens = marks.iter().flat_map(|it| it.from..it.to);
        let words: Vec<Token> = tokens
            .map(|at| self.sentence.input.slice[at].clone())
            .collect();
        let vetoes = vetoes_in(self.sentence.input.with_tokens(&words));
        vetoes.iter().any(|reason| NOT_DONE.contains(reason))
    }
}
