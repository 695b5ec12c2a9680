//! How much, as an atom: "half of it", "40%", "two parts", "612 minus the 248 of the dish", "50 of hers".

use super::atom::{Atom, Reader, not_taken};
use crate::lang::amount::grams;
use crate::lang::command::share::is_part;
use crate::lang::command::share::size::Size;
use crate::lang::gist::is_vessel;
use crate::lang::gist::mark::{self, Mark, links};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Eater, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::words::{at_table, fates};

/// Nobody takes more pieces of a dish.
const PIECES_MAX: f64 = 10.0;

impl Reader<'_> {
    /// "half of it", "a third", "40%", "two parts"
    pub fn part(&self, at: usize) -> Option<(Atom, usize)> {
        let rest = self.input.after(at);
        let (size, length) = match rest.first()?.kind {
            Kind::Percent(percent) if percent > 0.0 && percent < 100.0 => {
                (Size::Part(percent / 100.0), 1)
            }
            _ => {
                let (after, said) = number(rest).ok()?;
                let length = rest.len() - after.len();
                let counts = matches!(after.norm(0), "part" | "parts" | "share" | "shares");
                let share = said.value > 0.0 && said.value < 1.0;
                let before = at.checked_sub(1).map_or("", |at| self.input.norm(at));
                let few = said.value.fract() == 0.0 && said.value < PIECES_MAX;
                let one = |norm| matches!(norm, "second" | "first" | "this" | "that" | "other");
                let pieces = self.counted && few && self.name(after).is_none();
                let stands =
                    !rest.slice[0].is_numeric() && !one(before) || rest.slice[0].is_numeric();
                match (counts, share) {
                    (true, false) if few => (Size::Shares(said.value), length + 1),
                    // "the other half" is all that is left, whatever it is half of.
                    (_, true) if said.value == 0.5 && before == "other" => (Size::Rest, length),
                    (_, true) => (Size::Part(said.value), length),
                    _ if pieces && stands => (Size::Amount(Amount::Bare(said.value)), length),
                    _ => return None,
                }
            }
        };
        let behind = rest.after(length);
        if let Some(name) = self.name(behind)
            && let Size::Part(share) = size
        {
            let (words, household, more) = name;
            let length = length + more;
            let item = Atom::Item {
                amount: Amount::Share(share),
                name: words,
                household,
                span: rest.range(0, length).span(),
                net: true,
            };
            return Some((item, length));
        }
        // "half an hour", "a quarter kilo"
        let counts = behind.first().is_some_and(|token| {
            let word = token.norm();
            !word.is_empty() && crate::lang::unit::unit(behind).is_ok()
        });
        if counts {
            return None;
        }
        // "half of what she left"
        if let (Size::Part(share), "of") = (&size, behind.norm(0))
            && let Some(more) = not_taken(behind.after(1))
        {
            let size = Atom::Size {
                size: Size::OfRest(*share),
                of_it: true,
                told_of: false,
                of: None,
                net: true,
                of_rest: false,
            };
            return Some((size, length + 1 + more));
        }
        let (of_it, of, more) = self.of(behind);
        // "2 ladles for me, 1 for Ana": pieces are of what was told before only where that is said.
        let pieces = matches!(size, Size::Amount(_));
        let size = Atom::Size {
            size,
            of_it: of_it || of.is_none() && !pieces,
            told_of: of_it,
            of,
            net: true,
            of_rest: false,
        };
        Some((size, length + more))
    }

    /// "of it", "of hers", "of my"
    fn of(&self, behind: Tokens<'_>) -> (bool, Option<Eater>, usize) {
        if let Some(length) = fates().longest_of(behind.slice, "it") {
            return (true, None, length);
        }
        if behind.norm(0) != "of" {
            return (false, None, 0);
        }
        // "half of my team"
        let owned = matches!(behind.norm(1), "my" | "her" | "his" | "their");
        let goes_on = !behind.norm(2).is_empty();
        if owned && goes_on && self.name(behind.after(2)).is_none() {
            return (false, None, 0);
        }
        match behind.norm(1) {
            "mine" | "my" => (true, Some(None), 2),
            "hers" | "his" | "theirs" if matches!(self.gives, Some(Some(_))) => {
                (true, self.gives.clone(), 2)
            }
            "hers" | "his" | "theirs" | "her" | "their" => match self.before.spoken_of() {
                Some(who) if !self.before.is_doubtful() => (true, Some(Some(who)), 2),
                _ => (false, None, 0),
            },
            _ => match person(behind.after(1)) {
                Some((length, who)) => {
                    let part = usize::from(is_part(behind.norm(1 + length)));
                    (true, Some(Some(who)), 1 + length + part)
                }
                None => (false, None, 0),
            },
        }
    }

    /// A name behind words that only lead to it: what it is, whether the household has it, and how many tokens.
    fn name(&self, behind: Tokens<'_>) -> Option<(Words, bool, usize)> {
        let skip = links(behind);
        let (mark, length) = match behind.len() > skip {
            true => mark::mark(behind, skip, None),
            false => return None,
        };
        match mark {
            Mark::Dish(name) => Some((name, true, skip + length)),
            Mark::Food(name) => Some((name, false, skip + length)),
            _ => None,
        }
    }

    /// "612 minus the 248 of the dish": what is left, and how many more tokens tell it.
    fn lessened(&self, amount: Amount, behind: Tokens<'_>) -> (Amount, usize) {
        let none = (amount.clone(), 0);
        let (Amount::Bare(gross) | Amount::Mass(gross)) = amount else {
            return none;
        };
        let article = usize::from(matches!(behind.norm(1), "the" | "my" | "its"));
        if !matches!(behind.norm(0), "minus" | "less") || article == 0 {
            return none;
        }
        let Ok((rest, tare)) = grams(behind.after(2)) else {
            return none;
        };
        let link = usize::from(matches!(rest.norm(0), "of" | "for"));
        let article = usize::from(matches!(rest.norm(link), "the" | "my"));
        let vessel = link > 0 && is_vessel(rest.norm(link + article));
        if !vessel || tare >= gross {
            return none;
        }
        let length = behind.len() - rest.len() + link + article + 1;
        (Amount::Mass(gross - tare), length)
    }

    pub fn amount(&mut self, at: usize, amount: Amount, length: usize) -> (Atom, usize) {
        let rest = self.input.after(at);
        // "50 of my": the words that only lead to a name belong to it.
        let of = (1..length)
            .rev()
            .take(2)
            .find(|&last| rest.norm(last) == "of");
        let length = of.unwrap_or(length);
        let (amount, less) = self.lessened(amount, rest.after(length));
        let length = length + less;
        let behind = rest.after(length);
        let (mut of_it, of, more) = self.of(behind);
        let weighed = rest.range(0, length).slice.iter();
        let net = less > 0 || weighed.filter(|token| token.is_numeric()).count() > 1;
        if let Some(more) = of_the_rest(behind) {
            let size = Atom::Size {
                size: Size::Amount(amount),
                of_it: true,
                told_of: false,
                of: None,
                net,
                of_rest: true,
            };
            return (size, length + more);
        }
        if more > 0 {
            let size = Size::Amount(amount);
            // "50 of my chilli": the name goes on by itself.
            return (
                Atom::Size {
                    size,
                    of_it,
                    told_of: of_it,
                    of,
                    net,
                    of_rest: false,
                },
                length + more,
            );
        }
        if let Some((name, household, more)) = self.name(behind) {
            let length = length + more;
            let span = rest.range(0, length).span();
            let item = Atom::Item {
                amount,
                name,
                household,
                span,
                net,
            };
            return (item, length);
        }
        of_it |= (1..=2.min(at)).any(|back| {
            let before = &self.input.slice[at - back..at];
            fates().longest_of(before, "belongs") == Some(back)
        });
        let size = Size::Amount(amount);
        (
            Atom::Size {
                size,
                of_it,
                told_of: false,
                of,
                net,
                of_rest: false,
            },
            length,
        )
    }
}

/// "100 of the rest", and how many tokens tell it.
fn of_the_rest(behind: Tokens<'_>) -> Option<usize> {
    if behind.norm(0) != "of" {
        return None;
    }
    let rest = behind.after(1);
    let phrase = at_table()
        .longest(rest.slice)
        .filter(|(_, key)| *key == "rest");
    let length = phrase
        .map(|(length, _)| length)
        .or_else(|| not_taken(rest))?;
    Some(1 + length)
}
