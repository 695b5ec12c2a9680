//! Which word of a chunk says what: the line that is meant, or what it comes to.

use super::super::super::draft::Draft;
use super::super::super::ids::*;
use super::super::super::mass::Mass;
use super::super::fix::names;
use super::super::people::{self, Person};
use super::standing::Standing;
use crate::lang::syntax::{Amount, Chunk, Cue, Day, MealName, Said, Term, Which, Words};

/// A chunk by what its words are.
pub struct Roles {
    /// The lines that it may mean, by their places, the newest first.
    pub lines: Vec<usize>,
    /// Something that it says stands there.
    pub told: bool,
    /// So does an amount, which nobody says by chance.
    pub quoted: bool,
    /// What stands there is denied: "not the salsa".
    pub denied: bool,
    /// It adds up with a part that was told before.
    pub reckoned: bool,
    pub amount: Option<(Amount, Mass)>,
    pub name: Option<Words>,
    pub who: Option<Who>,
    pub part: Option<(Amount, Mass)>,
    pub when: Option<(Option<Day>, Option<MealName>)>,
}

/// Whose something is said to be.
#[derive(Clone, PartialEq)]
pub struct Who {
    pub words: Words,
    /// Nobody in particular: "hers" of several.
    pub member: Option<MemberId>,
    /// "Ana's", not "Ana".
    pub owns: bool,
}

impl Roles {
    /// `None` where a word is neither, or two are the same.
    pub fn of(draft: &Draft, standing: &[Standing], chunk: &Chunk) -> Option<Self> {
        let mut roles = Self {
            lines: (0..standing.len()).collect(),
            told: false,
            quoted: false,
            denied: false,
            reckoned: false,
            amount: None,
            name: None,
            who: None,
            part: None,
            when: None,
        };
        for term in &chunk.terms {
            roles.name(draft, standing, term)?;
        }
        for term in &chunk.terms {
            match &term.said {
                Said::Name(_) => {}
                Said::Which(which) => roles.which(standing, *which),
                Said::Whose(words) => roles.somebody(draft, term, words, true)?,
                Said::Person(words) => roles.somebody(draft, term, words, false)?,
                // "Monday, not last night"
                Said::When(..) if term.denied => {}
                Said::When(day, meal) => {
                    let (known_day, known_meal) = roles.when.take().unwrap_or_default();
                    roles.when = Some((known_day.or(day.clone()), known_meal.or(*meal)));
                }
                Said::Part(amount) => roles.part = Some((amount.clone(), mass(amount)?)),
                Said::Amount(..) => {}
            }
        }
        let mut unit = None;
        for term in &chunk.terms {
            if let Said::Amount(_, Some(grams)) = &term.said {
                unit = Some(*grams);
            }
        }
        for term in &chunk.terms {
            if let Said::Amount(amount, _) = &term.said {
                roles.amount(standing, term, amount, unit)?;
            }
        }
        Some(roles)
    }

    fn name(&mut self, draft: &Draft, standing: &[Standing], term: &Term) -> Option<()> {
        let Said::Name(words) = &term.said else {
            return Some(());
        };
        let named = |at: &usize| names(draft, &standing[*at].portion, words);
        let lines: Vec<usize> = self.lines.iter().copied().filter(named).collect();
        if lines.is_empty() {
            // Two that stand nowhere, or one that is not there and is said not to be.
            let first = self.name.is_none() && !term.denied;
            self.name = Some(words.clone());
            return first.then_some(());
        }
        self.lines = lines;
        self.told = true;
        self.denied |= term.denied;
        Some(())
    }

    fn which(&mut self, standing: &[Standing], which: Which) {
        self.lines
            .sort_by_key(|&at| std::cmp::Reverse(standing[at].portion.entry));
        let count = self.lines.len();
        let at = match which {
            Which::First => count.checked_sub(1),
            Which::Last => Some(0),
            Which::BeforeLast => Some(1),
        };
        self.lines = at
            .and_then(|at| self.lines.get(at))
            .copied()
            .into_iter()
            .collect();
        self.told = true;
    }

    fn somebody(&mut self, draft: &Draft, term: &Term, words: &Words, owns: bool) -> Option<()> {
        let member = match people::person(draft, &words.text) {
            Person::Member(member) => Some(member),
            Person::Unknown if owns => None,
            _ => return None,
        };
        let who = Who {
            words: words.clone(),
            member,
            owns,
        };
        // "30 of Ana's is mine"
        let known = self
            .who
            .as_ref()
            .filter(|known| known.owns && owns && !term.denied);
        if known.is_some_and(|known| {
            known
                .member
                .zip(member)
                .is_some_and(|(one, other)| one != other)
        }) {
            return None;
        }
        // "mine, not Ana's": whose it is not says nothing more.
        if !term.denied && self.who.as_ref().is_none_or(|known| !known.owns) {
            self.who = Some(who);
        }
        Some(())
    }

    /// An amount that stands says which line is meant; one that does not is what it comes to.
    fn amount(
        &mut self,
        standing: &[Standing],
        term: &Term,
        said: &Amount,
        unit: Option<f64>,
    ) -> Option<()> {
        let weighed = mass(said)?;
        let same = |at: &usize| standing[*at].portion.mass == weighed;
        let lines: Vec<usize> = self.lines.iter().copied().filter(same).collect();
        if !lines.is_empty() {
            self.lines = lines;
            self.told = true;
            self.quoted = true;
            self.denied |= term.denied;
            return Some(());
        }
        let first = self.amount.is_none() && !term.denied;
        self.amount = Some(match (said, unit) {
            // "that 4 oz should have been 5"
            (Amount::Bare(count), Some(grams)) => (
                Amount::Mass(count * grams),
                Mass::from_grams(count * grams)?,
            ),
            _ => (said.clone(), weighed),
        });
        first.then_some(())
    }
}

fn mass(amount: &Amount) -> Option<Mass> {
    match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => Mass::weighed_out(*grams),
        _ => None,
    }
}

/// Somebody is named as the one whose line it is, where another amount is told of it.
pub fn of_member(
    lines: &[usize],
    standing: &[Standing],
    who: &Who,
    sender: MemberId,
) -> Vec<usize> {
    let theirs = |at: &usize| match who.member {
        Some(member) => standing[*at].member == member,
        None => standing[*at].member != sender,
    };
    lines.iter().copied().filter(theirs).collect()
}

/// The cues that make a chunk a claim.
pub fn claims(chunk: &Chunk) -> bool {
    [Cue::Is, Cue::Sets, Cue::Right]
        .iter()
        .any(|cue| chunk.has(*cue))
}
