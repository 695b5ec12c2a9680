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
    /// To whom it went.
    pub to: Option<Who>,
    pub part: Option<(Amount, Mass)>,
    /// So much of it is not on the plate.
    pub less: Option<Mass>,
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
            to: None,
            part: None,
            less: None,
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
                Said::Person(words) if chunk.has(Cue::Given) && !term.denied => {
                    let member = member(draft, words, false)?;
                    roles.to = Some(Who {
                        words: words.clone(),
                        member,
                        owns: false,
                    });
                }
                Said::Person(words) => roles.somebody(draft, term, words, false)?,
                // "Monday, not last night"
                Said::When(..) if term.denied => {}
                Said::When(day, meal) => {
                    let (known_day, known_meal) = roles.when.take().unwrap_or_default();
                    roles.when = Some((known_day.or(day.clone()), known_meal.or(*meal)));
                }
                Said::Part(amount) => roles.part = Some((amount.clone(), mass(amount)?)),
                Said::Less(amount) if roles.less.is_none() => roles.less = Some(mass(amount)?),
                Said::Less(_) => return None,
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

    /// The part that somebody is told of: "40 of that", or "50 of mine went to Ana", where 50 is no line of its own.
    pub fn handed(&self) -> Option<(Amount, Mass)> {
        let owned = self.to.is_some() && (self.who.is_some() || self.told);
        let of_line = self.amount.clone().filter(|_| owned && !self.quoted);
        self.part.clone().or(of_line)
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
        // By its place it is one of those that were told last.
        if matches!(which, Which::Nth(_) | Which::Middle) {
            self.lines.retain(|&at| standing[at].age == 0);
        }
        self.lines
            .sort_by_key(|&at| std::cmp::Reverse(standing[at].portion.entry));
        let count = self.lines.len();
        let at = match which {
            Which::First => count.checked_sub(1),
            Which::Last => Some(0),
            Which::BeforeLast => Some(1),
            Which::Nth(at) => count.checked_sub(at + 1),
            Which::Middle => (count % 2 == 1 && count > 1).then_some(count / 2),
        };
        self.lines = at
            .and_then(|at| self.lines.get(at))
            .copied()
            .into_iter()
            .collect();
        self.told = true;
    }

    fn somebody(&mut self, draft: &Draft, term: &Term, words: &Words, owns: bool) -> Option<()> {
        let member = member(draft, words, owns)?;
        // "Ana says hers is too much"
        let named = self
            .who
            .as_ref()
            .filter(|known| !known.owns && owns && member.is_none());
        let member = member.or(named.and_then(|known| known.member));
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

/// Who is meant: nobody in particular by "hers" of several; `None` where nobody is known by these words.
fn member(draft: &Draft, words: &Words, owns: bool) -> Option<Option<MemberId>> {
    match people::person(draft, &words.text) {
        Person::Member(member) => Some(Some(member)),
        Person::Unknown if owns => Some(None),
        _ => None,
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
    [Cue::Is, Cue::Sets, Cue::Right, Cue::Finally]
        .iter()
        .any(|cue| chunk.has(*cue))
}
