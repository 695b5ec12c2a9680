//! What is asked for and not there yet, in a sentence: a reminder, a target, a label; and a move to or from the freezer.
//! Their words are in `data/capabilities.txt`.
//!
//! ```text
//! reminder := "remind me" | "dont let me forget" ..., of a dish, or of what is frozen
//! target   := "target" | "no more than" ..., mine, so much energy or of a nutrient, or of a dish a day
//! move     := a dish, how much of it, the freezer or what is done there; nobody eats of it
//! label    := ("print" | "need" ...) [article] "label", and a dish
//! ```
//! People say the same to each other: a question, a plan, an errand and a story are left alone.

use super::mark::Mark;
use super::pair;
use super::sentence::Sentence;
use crate::lang::syntax::{Amount, Command, Destination, Move, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::words::{capabilities, cues, label_fields, moves, places};

/// What is told of, is planned or is not done.
const NOT_DONE: [&str; 4] = ["plan", "negation", "conditional", "question"];

pub fn read(sentence: &Sentence<'_>) -> Option<Command> {
    let said = Said { sentence };
    let capability = if said.reminds() {
        "reminders"
    } else if said.limits() {
        "targets"
    } else if said.labels() {
        "labels"
    } else {
        return said.moved().map(Command::Move);
    };
    Some(Command::NotYet { capability })
}

/// Whether anything of it may stand in the message.
pub fn opens(input: Tokens<'_>) -> bool {
    let said = |key: &&str| capabilities().stand_in(input.slice, key);
    ["limit", "cold", "label"].iter().any(said)
}

struct Said<'s, 'a> {
    sentence: &'s Sentence<'a>,
}

impl Said<'_, '_> {
    /// How long a phrase of this key is that begins at a token.
    fn says(&self, at: usize, key: &'static str) -> Option<usize> {
        capabilities().longest_of(self.sentence.input.after(at).slice, key)
    }

    fn tells(&self, key: &'static str) -> bool {
        capabilities().stand_in(self.sentence.input.slice, key)
    }

    fn has(&self, wanted: impl Fn(&Mark) -> bool) -> bool {
        self.sentence.marks.iter().any(|it| wanted(&it.mark))
    }

    fn is_asked(&self) -> bool {
        self.sentence.input.slice.iter().any(|token| token.is('?'))
    }

    /// "nudge me tomorrow, defrost the chilli": an errand is a person's, unless it is to the freezer.
    fn reminds(&self) -> bool {
        let frozen = self.tells("cold");
        let weighed = self.has(|it| matches!(it, Mark::Amount(Amount::Mass(_))));
        let of_food = self.has(is_dish) || self.has(is_food) && (frozen || weighed);
        let errand = self.tells("errand") && !frozen || self.tells("ready") || self.is_priced();
        of_food && !errand && !self.is_asked() && self.opens("nudge")
    }

    /// A phrase of this key opens a clause, behind a word or two that lead up to it.
    fn opens(&self, key: &'static str) -> bool {
        let marks = &self.sentence.marks;
        (0..marks.len()).any(|at| {
            let clause = self.sentence.clause(at);
            let mut before = (0..at)
                .rev()
                .take_while(|&it| self.sentence.clause(it) == clause);
            let leads = |it: usize| {
                let broken = matches!(marks[it].mark, Mark::Break { .. });
                broken
                    || self.sentence.norm(it).is_empty()
                    || self.says(marks[it].from, "lead").is_some()
            };
            self.says(marks[at].from, key).is_some() && before.all(leads)
        })
    }

    /// "no more than 60 g cheddar a day for me, hold me to it"
    fn limits(&self) -> bool {
        let mut words = self.sentence.input.slice.iter();
        let field = words.any(|token| label_fields().has(token.norm()));
        let daily = self.tells("daily");
        let dished = self.has(is_dish) || self.has(is_food) && self.tells("hold");
        let limited = self.tells("limit") || daily && self.tells("hold");
        let told = self.tells("others") || self.is_asked() && !self.tells("set");
        let number = self.has(|it| matches!(it, Mark::Amount(_) | Mark::Stray));
        limited && number && self.tells("mine") && (field || daily && dished) && !told
    }

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
        let told = !story && !self.is_asked() && !self.is_priced() && !self.tells("fed");
        let named = pairs
            .iter()
            .all(|pair| !pair.name.text.is_empty() && moved(pair));
        let all = !pairs.is_empty() && named;
        (self.tells("cold") && told && all).then(|| Move {
            items: pairs.iter().map(|pair| pair.item(sentence)).collect(),
            to: self.destination(),
            from: None,
            parts_grams: Vec::new(),
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

    /// "need a label for the parsnips", "print two labels for the soup please"
    fn labels(&self) -> bool {
        let input = self.sentence.input;
        let wanted = |at: usize| {
            let Some(mut length) = self.says(at, "want") else {
                return false;
            };
            while let Some(more) = self.says(at + length, "label article") {
                length += more;
            }
            let number = usize::from(input.get(at + length).is_some_and(Token::is_numeric));
            self.says(at + length + number, "label").is_some()
        };
        self.has(is_dish) && !self.is_priced() && (0..input.len()).any(wanted)
    }

    fn is_priced(&self) -> bool {
        vetoes_in(self.sentence.input).contains(&"price")
    }
}

fn is_dish(mark: &Mark) -> bool {
    matches!(mark, Mark::Dish(_))
}

fn is_food(mark: &Mark) -> bool {
    matches!(mark, Mark::Food(_) | Mark::Foods)
}
