//! A message cut into atoms: who, how much, of what, what became of it, and where a thought ends.
//!
//! ```text
//! atom := who | size ["of it" | "of" whose] | amount dish | dish | "split" | "each" | "none" | fate | eats | break
//! ```
//! What is none of these is passed over; but a number that nothing explains, and a food that may be several, end the
//! reading.

use crate::lang::command::share::party::{self, Before, Role, Said, Who};
use crate::lang::command::share::relation::relation;
use crate::lang::command::share::size::Size;
use crate::lang::command::share::ways::people;
use crate::lang::gist::aside;
use crate::lang::gist::mark::{self, Mark, Marked};
use crate::lang::lexer::folded_words;
use crate::lang::lost::{self, Loss, Sign};
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Day, Eater, MealName, Span, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{at_table, cues, fates};

const VESSEL_WORDS_MAX: usize = 3;

/// What became of a part that nobody ate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    Back,
    Kept,
    Away,
}

#[derive(Debug, Clone)]
pub enum Atom {
    Who(Said),
    /// How much; of what was told before, or of what somebody has.
    Size {
        size: Size,
        of_it: bool,
        /// It is said of what it is: "of it", "of mine".
        told_of: bool,
        of: Option<Eater>,
        /// Told as a difference: no vessel is in it.
        net: bool,
        /// It is of what those before have left: "100 of the rest".
        of_rest: bool,
    },
    Item {
        amount: Amount,
        name: Words,
        household: bool,
        span: Span,
        net: bool,
    },
    Dish {
        name: Words,
        household: bool,
    },
    /// In equal parts, among so many if that was said.
    Split(Option<u32>),
    Each,
    Nothing,
    Finishes,
    AllBut,
    /// Not all of it was eaten.
    Uneaten,
    Fate(Fate),
    /// A verb of eating whose subject stands elsewhere.
    Eats,
    /// What is read next, or was read last, is what the scale showed then.
    Later {
        /// There was more of it before.
        down: bool,
    },
    /// What it was weighed in, whose tare the household knows.
    Vessel(Words),
    When(Option<Day>, Option<MealName>),
    Break {
        soft: bool,
    },
    Talk,
}

/// The atoms in their order; nothing where a number is not explained.
pub fn atoms(input: Tokens<'_>) -> Option<Vec<Atom>> {
    let mut reader = Reader {
        input,
        signs: lost::signs(input).unwrap_or_default(),
        before: Before::default(),
        last: None,
        counted: false,
        spoken: None,
        gives: None,
    };
    let mut out = Vec::new();
    let mut at = 0;
    while at < input.len() {
        let (atom, length) = reader.atom(at)?;
        reader.counted |= matches!(
            &atom,
            Atom::Item {
                amount: Amount::Pieces { .. } | Amount::Volume { .. } | Amount::Each { .. },
                ..
            }
        );
        reader.before.open = matches!(atom, Atom::Size { .. } | Atom::Item { .. });
        out.push(atom);
        at += length.max(1);
    }
    Some(out)
}

pub struct Reader<'a> {
    pub input: Tokens<'a>,
    signs: Vec<Sign>,
    pub before: Before,
    /// The mark before, for names that are written nearly.
    last: Option<Marked>,
    /// Something was served by the piece: "three ladles".
    pub counted: bool,
    /// Whoever was told of last, and whoever hands something on: of whose "60 of his" is.
    spoken: Option<Eater>,
    pub gives: Option<Eater>,
}

impl Reader<'_> {
    fn atom(&mut self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        if let Some(sign) = self.signs.iter().find(|sign| sign.from == at) {
            let away = sign.kind != Loss::Spoiled;
            let atom = if away {
                Atom::Fate(Fate::Away)
            } else {
                Atom::Talk
            };
            return Some((atom, sign.to - sign.from));
        }
        if let Some(found) = self.vessel(at).or_else(|| self.fate(at)) {
            return Some(found);
        }
        if at_table()
            .longest_of(rest.slice, "idle")
            .is_some_and(|length| length > 1)
        {
            let length = at_table().longest_of(rest.slice, "idle")?;
            return Some((Atom::Talk, length));
        }
        // "the rest of it is yours Robin"
        if rest.norm(0) == "yours"
            && let Some((length, name)) = person(rest.after(1))
        {
            let who = Said {
                who: Who::Named(vec![Some(name)]),
                role: Role::For,
                finishes: false,
                each: false,
            };
            return Some((Atom::Who(who), 1 + length));
        }
        // "guess who had the rest"
        if rest.norm(0) == "guess" && rest.norm(1) == "who" {
            let who = Said {
                who: Who::sender(),
                role: Role::Subject,
                finishes: false,
                each: false,
            };
            return Some((Atom::Who(who), 2));
        }
        if let Some(found) = self.sized(at) {
            return Some(found);
        }
        if let Some((length, said)) = party::said(rest, &mut self.before) {
            return self.who(at, length, said);
        }
        if let Some(found) = self.part(at) {
            return Some(found);
        }
        self.marked(at)
    }

    /// People; nothing where it is not told who, or what is told of them is turned round: "from Ana", "he" of two.
    fn who(&mut self, at: usize, length: usize, mut said: Said) -> Option<(Atom, usize)> {
        let said_here = self.input.range(at, at + length);
        let pronoun = |token: &Token| is_somebody(token.norm());
        let doubtful = self.before.is_doubtful() && said_here.slice.iter().any(pronoun);
        let plain = matches!(said.role, Role::Plain | Role::Subject);
        let turned = plain
            && at > 0
            && matches!(self.input.norm(at - 1), "from" | "off" | "not" | "without");
        let known = match &said.who {
            Who::Named(named) => named.iter().flatten().all(|who| self.knows(who)),
            _ => true,
        };
        if doubtful || turned || !known {
            return None;
        }
        match said.role {
            Role::Given => self.gives = self.spoken.clone(),
            _ => self.spoken = said.who.one().cloned(),
        }
        // "Ana had all but 300 of it"
        let all = said.finishes && self.input.norm(at + length - 1) == "all";
        if all && matches!(self.input.norm(at + length), "but" | "bar" | "except") {
            said.finishes = false;
            return Some((Atom::Who(said), length - 1));
        }
        Some((Atom::Who(said), length))
    }

    fn knows(&self, who: &Words) -> bool {
        let words = folded_words(&who.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        self.input.vocabulary.is(Sense::Person, &words)
    }

    /// "in the steel bowl"; what is taken out of it was not weighed in it.
    fn vessel(&self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        let (length, name) = rest.longest_run(VESSEL_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            let known = said.vocabulary.is(Sense::Container, &words);
            known.then(|| said.words())
        })?;
        let article =
            usize::from(at > 0 && matches!(self.input.norm(at - 1), "the" | "my" | "our"));
        let before = at
            .checked_sub(1 + article)
            .map_or("", |at| self.input.norm(at));
        let out = matches!(before, "of" | "from" | "off");
        Some((if out { Atom::Talk } else { Atom::Vessel(name) }, length))
    }

    fn fate(&self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        // "chucked a third of the beans"
        let opens = at == 0
            || self.input.norm(at - 1).is_empty()
            || matches!(self.input.norm(at - 1), "i" | "and" | "we");
        let rests = at_table().stand_in(self.input.slice, "rest");
        if opens && rests && matches!(rest.norm(0), "chucked" | "threw" | "tossed") {
            return Some((Atom::Fate(Fate::Away), 1));
        }
        let (length, key) = fates().longest(rest.slice)?;
        let atom = match key {
            // "went back for another 110"
            "back" if rest.norm(length) == "for" => Atom::Talk,
            "back" => Atom::Fate(Fate::Back),
            // "what's left" is somebody's, "left 60" is nobody's.
            "kept" if at_table().longest_of(rest.slice, "rest").is_some() => return None,
            "kept" => Atom::Fate(Fate::Kept),
            "all but" => Atom::AllBut,
            "uneaten" => Atom::Uneaten,
            "serves" => Atom::Talk,
            "later" => Atom::Later { down: false },
            "down" => Atom::Later { down: true },
            _ => return None,
        };
        Some((atom, length))
    }

    /// A size that needs no number of its own: "the rest", "twice what Ana had", "half each", "three ways".
    fn sized(&mut self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        let plain = |size| Atom::Size {
            size,
            of_it: true,
            told_of: false,
            of: None,
            net: true,
            of_rest: false,
        };
        if let Some(length) = not_taken(rest) {
            return Some((plain(Size::Rest), length));
        }
        if let Some((length, related)) = relation(rest, &self.before) {
            // "half of the rest of the soup": the dish goes on by itself.
            return match (related.dish, &related.size) {
                (Some(dish), Size::OfRest(_)) => {
                    let before = |token: &&Token| token.span.start < dish.span.start;
                    let length = rest.slice.iter().take_while(before).count();
                    Some((plain(related.size), length))
                }
                (Some(_), _) => None,
                (None, _) => Some((plain(related.size), length)),
            };
        }
        if let Some((length, count)) = people(rest) {
            return Some((Atom::Split(count), length));
        }
        let (length, key) = at_table().longest(rest.slice)?;
        let atom = match key {
            "each" => Atom::Each,
            "halves" | "evenly" | "split" | "one each" => Atom::Split(None),
            "nothing" => Atom::Nothing,
            "finished" => Atom::Finishes,
            "bigger" | "smaller" => return None,
            key => plain(Size::named(key)?),
        };
        Some((atom, length))
    }

    fn marked(&mut self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        if let Some(length) = aside(self.input, at) {
            self.last = None;
            return Some((Atom::Talk, length));
        }
        let (mark, length) = mark::mark(self.input, at, self.last.as_ref());
        self.last = Some(Marked {
            mark: mark.clone(),
            from: at,
            to: at + length,
        });
        let atom = match mark {
            Mark::Amount(amount) => return Some(self.amount(at, amount, length)),
            Mark::Dish(name) => Atom::Dish {
                name,
                household: true,
            },
            Mark::Food(name) => Atom::Dish {
                name,
                household: false,
            },
            Mark::Person(name) => Atom::Who(Said {
                who: Who::Named(vec![Some(name)]),
                role: Role::Plain,
                finishes: false,
                each: false,
            }),
            Mark::Day(day) => Atom::When(Some(day), None),
            Mark::Meal(meal) => Atom::When(None, Some(meal)),
            Mark::Aside => Atom::Talk,
            Mark::Break { soft } => Atom::Break { soft },
            // "went round": a cut of beef, where no number stands beside it.
            Mark::Foods if !self.weighed_beside(at, length) => Atom::Talk,
            Mark::Stray | Mark::Foods | Mark::Vague => return None,
            // "her bowl", and nobody knows whose.
            Mark::Word if is_somebody(rest.norm(0)) => return None,
            Mark::Word => match cues().longest_of(rest.slice, "eat") {
                // Whoever had it is not told.
                Some(_) if at > 0 && self.input.norm(at - 1) == "who" => return None,
                Some(_) => Atom::Eats,
                None => Atom::Talk,
            },
        };
        Some((atom, length))
    }

    fn weighed_beside(&self, at: usize, length: usize) -> bool {
        let from = at.saturating_sub(2);
        let to = (at + length + 2).min(self.input.len());
        self.input.slice[from..to].iter().any(Token::is_numeric)
    }
}

/// A word for somebody who was named.
fn is_somebody(norm: &str) -> bool {
    matches!(
        norm,
        "he" | "she" | "him" | "her" | "his" | "hers" | "hes" | "shes"
    )
}

/// "what he didn't take"
pub fn not_taken(rest: Tokens<'_>) -> Option<usize> {
    if !matches!(rest.norm(0), "what" | "whatever") {
        return None;
    }
    let pronoun = matches!(rest.norm(1), "he" | "she" | "they" | "i" | "we");
    let length = match pronoun {
        true => 1,
        false => person(rest.after(1))?.0,
    };
    let denied = matches!(
        rest.norm(1 + length),
        "didnt" | "doesnt" | "dont" | "left" | "leaves"
    );
    let left = matches!(rest.norm(1 + length), "left" | "leaves");
    let verb = usize::from(!left && !rest.norm(2 + length).is_empty());
    denied.then_some(2 + length + verb)
}
