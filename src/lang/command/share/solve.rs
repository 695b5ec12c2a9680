//! The parts of one whole, told or worked out so that they add up.
//!
//! Every part is one equation over the parts of all: so many grams, a share of the whole, a share of what those
//! before have left, so many times another's, so much more or less than another's. Who has none of these has the
//! rest, in equal parts with whoever else has it. The parts are taken only if there is exactly one solution.
//! Where no part hangs on another, they are passed on as they were said, since the books know more (who is
//! meant by "the others", whose the rest may be).

use super::by_name::PART_GRAMS_MIN;
use super::content::Content;
use super::party::{Role, Who};
use super::plan::portion;
use super::size::Size;
use super::system::System;
use super::telling::Telling;
use crate::lang::syntax::{
    Amount, COUNTS, Eater, Item, OTHERS, PartSize, Portion, Share, SharePart, Words,
};

/// Shares that differ by less are equal.
const EXACT: f64 = 1e-6;
/// "a third, a third and 33%" is all of it.
const NEARLY: f64 = 1e-3;

/// What people have of a whole.
#[derive(Debug, Clone)]
pub struct Claim {
    pub who: Who,
    pub size: Size,
    /// As much for each of several, as opposed to so much between them.
    each: Option<bool>,
    /// "90 of it"
    of_it: bool,
}

pub struct Whole {
    items: Vec<Item>,
    /// At the table, whether or not a part is told for them.
    party: Option<Who>,
    /// All that is left of the dish: nobody weighed it, and need not have eaten all of it.
    pot: bool,
}

impl Claim {
    pub fn of(who: Who, size: Size) -> Self {
        Self {
            who,
            size,
            each: None,
            of_it: true,
        }
    }

    /// What a telling says of a whole; nothing if it only names people or how it was split.
    pub fn told(telling: &Telling) -> Option<Option<Self>> {
        let each = match (telling.each, telling.split.is_some(), telling.role) {
            (true, ..) => Some(true),
            (_, true, _) | (.., Some(Role::Between)) => Some(false),
            _ => None,
        };
        let who = telling.who.clone()?;
        let size = match (&telling.content, telling.size()) {
            (_, Some(size)) => size.clone(),
            (None, _) if telling.finishes => Size::Rest,
            // "one each for me and Ana"
            (None, _) if telling.each && telling.split.is_some() => Size::Amount(Amount::Bare(1.0)),
            (Some(Content::Sizes(_)), _) | (None, _) => return None,
            _ => return None,
        };
        let of_it = telling.takes_of_it();
        Some(Some(Self {
            who,
            size,
            each,
            of_it,
        }))
    }

    /// What these have of a whole that was told; as much for each, or so much between them, if that was said.
    pub fn of_it(who: Who, size: Size, each: Option<bool>) -> Self {
        Self {
            who,
            size,
            each,
            of_it: true,
        }
    }

    pub fn people(&self) -> Vec<Eater> {
        match &self.who {
            Who::Named(named) => named.clone(),
            _ => Vec::new(),
        }
    }
}

impl Whole {
    pub fn of(items: Vec<Item>, party: Option<Who>) -> Self {
        Self {
            items,
            party,
            pot: false,
        }
    }

    /// What is left of a dish.
    pub fn pot(item: Item) -> Self {
        let item = Item {
            amount: Amount::Share(1.0),
            ..item
        };
        Self {
            items: vec![item],
            party: None,
            pot: true,
        }
    }

    /// The whole among those who claim it, if the parts can be told.
    pub fn divided(mut self, told: &Telling, claims: Vec<Claim>) -> Option<Vec<Portion>> {
        if let Some(Amount::Share(share)) = self.items.first().map(|item| &item.amount)
            && !self.pot
            && *share < 1.0
            && self.items.len() > 1
        {
            return None;
        }
        let claims = self.counted(claims)?;
        let hangs = |claim: &Claim| {
            matches!(
                claim.size,
                Size::Times(_) | Size::Against(..) | Size::More(..) | Size::OfRest(_)
            ) || claim.people().len() > 1 && claim.size != Size::Rest
        };
        let mut parts = match claims.iter().any(hangs) {
            true => self.solved(&claims)?,
            false => self.said(&claims)?,
        };
        if self.pot {
            self.fit(&mut parts)?;
        }
        Some(vec![portion(
            told,
            self.items,
            None,
            Some(Share::Parts(parts)),
        )])
    }

    /// "3 ladles: 2 for me, 1 for Ana", "2 parts me, 1 part Ana": shares of a number of pieces or parts.
    fn counted(&self, claims: Vec<Claim>) -> Option<Vec<Claim>> {
        let few = |claim: &Claim| match claim.size {
            Size::Amount(Amount::Bare(count)) if count < PART_GRAMS_MIN => Some(count),
            Size::Shares(count) => Some(count),
            _ => None,
        };
        let people = |claim: &Claim| match claim.each {
            Some(true) => claim.people().len() as f64,
            _ => 1.0,
        };
        if !claims.iter().any(|claim| few(claim).is_some()) {
            return Some(claims);
        }
        let told = |claim: &Claim| matches!(claim.size, Size::Shares(_));
        let sum: Option<f64> = claims
            .iter()
            .map(|claim| Some(few(claim)? * people(claim)))
            .sum();
        let pieces = match (self.pieces(), sum) {
            (Some(pieces), _) => pieces,
            (None, Some(sum)) if claims.iter().all(told) => sum,
            _ => return None,
        };
        let share = |claim: Claim| match few(&claim) {
            Some(count) => Claim {
                size: Size::Part(count / pieces),
                ..claim
            },
            None => claim,
        };
        Some(claims.into_iter().map(share).collect())
    }

    /// How many pieces the whole was counted in.
    fn pieces(&self) -> Option<f64> {
        match self.items.as_slice() {
            [item] => match &item.amount {
                Amount::Pieces { count, .. }
                | Amount::Each { count, .. }
                | Amount::Volume { count, .. } => Some(*count),
                _ => None,
            },
            _ => None,
        }
    }

    /// Grams of the whole, if they were weighed.
    fn grams(&self) -> Option<f64> {
        match self.items.as_slice() {
            [item] => match &item.amount {
                Amount::Bare(grams) | Amount::Mass(grams) => Some(*grams),
                _ => None,
            },
            _ => None,
        }
    }

    /// The parts as they were said; whose part was not told has the rest.
    fn said(&self, claims: &[Claim]) -> Option<Vec<SharePart>> {
        let mut parts: Vec<SharePart> = Vec::new();
        for claim in claims {
            let size = match &claim.size {
                Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) => PartSize::Grams(*grams),
                Size::Part(share) => PartSize::Of(*share),
                Size::Rest => PartSize::Rest,
                _ => return None,
            };
            let whose: Vec<Eater> = match &claim.who {
                Who::Others(None) => vec![Some(Words::plain(OTHERS))],
                Who::Others(Some(count)) => vec![Some(other_people(*count as usize)?)],
                Who::Named(named) if named.len() == 1 || size == PartSize::Rest => named.clone(),
                _ => return None,
            };
            parts.extend(whose.into_iter().map(|who| SharePart { who, size }));
        }
        let plain = |claim: &Claim| !claim.of_it && matches!(claim.size, Size::Amount(_));
        let small = |part: &SharePart| matches!(part.size, PartSize::Grams(grams) if grams < PART_GRAMS_MIN);
        if parts.iter().any(small) || claims.iter().all(plain) && self.is_lone(&parts) {
            return None;
        }
        self.remaining(&mut parts)?;
        Some(parts)
    }

    /// "200 soup, Ana 150": two plates as likely as a part of one.
    fn is_lone(&self, parts: &[SharePart]) -> bool {
        !self.pot && self.party.is_none() && parts.len() == 1 && parts[0].who.is_some()
    }

    /// Those of the table whose part was not told have the rest.
    fn remaining(&self, parts: &mut Vec<SharePart>) -> Option<()> {
        match &self.party {
            Some(Who::Named(named)) => {
                for eater in named {
                    if !parts.iter().any(|part| part.who == *eater) {
                        parts.push(SharePart {
                            who: eater.clone(),
                            size: PartSize::Rest,
                        });
                    }
                }
            }
            Some(Who::Count(people)) => {
                let rest = parts.iter().any(|part| part.size == PartSize::Rest);
                let others = |part: &SharePart| {
                    part.who
                        .as_ref()
                        .is_some_and(|who| who.text.starts_with(OTHERS))
                };
                if parts.iter().any(others) {
                    return Some(());
                }
                match (*people as usize).checked_sub(parts.len())? {
                    0 | 1 => {}
                    _ if rest => return None,
                    count => parts.push(SharePart {
                        who: Some(other_people(count)?),
                        size: PartSize::Rest,
                    }),
                }
            }
            // "3 ladles between us, Ana had 2": how many "we" are, the books alone know.
            Some(Who::Everyone) if !parts.iter().any(|part| part.who.is_none()) => return None,
            _ => {}
        }
        Some(())
    }

    /// What was eaten of a pot is what its parts add up to.
    fn fit(&mut self, parts: &mut [SharePart]) -> Option<()> {
        let of = |part: &SharePart| match part.size {
            PartSize::Of(share) => Some(share),
            _ => None,
        };
        let Some(sum) = parts.iter().map(of).sum::<Option<f64>>() else {
            return Some(());
        };
        if sum > 1.0 + EXACT {
            return None;
        }
        if sum < 1.0 - NEARLY {
            self.items[0].amount = Amount::Share(sum);
        }
        for part in parts {
            if let PartSize::Of(share) = &mut part.size {
                *share /= sum;
            }
        }
        Some(())
    }

    /// The parts as shares of the whole, worked out. "Tom and Ana a third" is for each or between them, as it adds up.
    fn solved(&self, claims: &[Claim]) -> Option<Vec<SharePart>> {
        let people = self.people(claims)?;
        let open = claims.iter().any(|claim| {
            let told = matches!(claim.size, Size::Rest | Size::Times(_));
            claim.each.is_none() && claim.people().len() > 1 && !told
        });
        let readings: &[bool] = if open { &[false, true] } else { &[false] };
        let mut solutions = readings.iter().filter_map(|each| {
            let mut system = System::new(people.clone(), self.grams());
            for claim in claims {
                system.claim(claim, claim.each.unwrap_or(*each))?;
            }
            let shares = system.solve()?;
            let all: f64 = shares.iter().sum();
            (!open || self.pot || (all - 1.0).abs() < NEARLY).then_some(shares)
        });
        let shares = solutions.next()?;
        if solutions.next().is_some() {
            return None;
        }
        let part = |(who, share): (&Eater, f64)| SharePart {
            who: who.clone(),
            size: PartSize::Of(share),
        };
        Some(people.iter().zip(shares).map(part).collect())
    }

    /// Everybody by name who has a part; `None` when somebody has whom nobody named.
    fn people(&self, claims: &[Claim]) -> Option<Vec<Eater>> {
        let mut people: Vec<Eater> = Vec::new();
        let mut add = |who: &Who| match who {
            Who::Named(named) => {
                for eater in named
                    .iter()
                    .filter(|eater| !people.contains(eater))
                    .cloned()
                    .collect::<Vec<_>>()
                {
                    people.push(eater);
                }
                true
            }
            _ => false,
        };
        if let Some(party @ Who::Named(_)) = &self.party {
            add(party);
        }
        for claim in claims {
            if !add(&claim.who) {
                return None;
            }
            if let Size::Against(_, who) | Size::More(_, Some(who)) = &claim.size {
                add(who);
            }
        }
        let counted = match &self.party {
            Some(Who::Count(count)) => *count as usize == people.len(),
            _ => true,
        };
        counted.then_some(people)
    }
}

/// "the other two"
fn other_people(count: usize) -> Option<Words> {
    let counted = COUNTS.iter().find(|(_, known)| *known == count)?;
    Some(Words::plain(format!("the other {}", counted.0)))
}
