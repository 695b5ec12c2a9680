//! What is told of one dish: a whole, if one was served, and who had how much of it.

use super::atom::Fate;
use crate::lang::command::share::party::Who;
use crate::lang::command::share::size::Size;
use crate::lang::syntax::{Amount, Day, Eater, Item, MealName, Span, Words};

/// Nobody weighs less of a dish.
const PART_GRAMS_MIN: f64 = 10.0;

/// Whose a part is.
#[derive(Debug, Clone, PartialEq)]
pub enum Owner {
    People(Who),
    Fate(Fate),
}

#[derive(Debug, Clone)]
pub struct Told {
    pub owner: Owner,
    pub size: Size,
    /// "80 of it", "half of that"
    pub of_it: bool,
    /// It is said of what it is.
    pub told_of: bool,
    /// It is of what those before have left.
    pub of_rest: bool,
    /// Whose it was before.
    pub of: Option<Eater>,
    pub each: Option<bool>,
    /// The dish was named with the amount.
    pub item: Option<Span>,
    /// What it was weighed in.
    pub container: Option<Words>,
    /// Whoever left it is told of.
    pub left_by: bool,
    /// In which thought it was told.
    pub clause: usize,
}

#[derive(Debug, Clone, Default)]
pub struct Scene {
    pub dish: Option<Words>,
    pub household: bool,
    pub whole: Option<Item>,
    pub party: Option<Who>,
    pub told: Vec<Told>,
    /// Grams that somebody gave to somebody of his own part.
    pub given: Vec<(Eater, Eater, f64)>,
    /// People who had none.
    pub none: Vec<Who>,
    /// In equal parts.
    pub split: Option<Option<u32>>,
    /// The dish was named again.
    pub named: bool,
    /// There was more of it before, and nobody says how much.
    pub less: bool,
    /// In so many parts.
    pub parts: Option<f64>,
    /// Not all of it was eaten.
    pub uneaten: bool,
    /// A vessel of which no weight is told yet.
    pub vessel: Option<Words>,
    /// Everyone who was named and told to have nothing.
    pub idle: Vec<Who>,
}

#[derive(Debug, Default)]
pub struct Story {
    pub scenes: Vec<Scene>,
    pub day: Option<Day>,
    pub meal: Option<MealName>,
}

impl Scene {
    /// What is told is of what was put on a plate before, and cannot be of anything else.
    pub fn is_of_what_stands(&self) -> bool {
        // "binned the rest of the dal" is the rest of the pot.
        let of_this = |told: &Told| (told.of_it || told.left_by) && told.size != Size::Rest;
        let told_of = |told: &Told| told.told_of || self.named && of_this(told);
        let weighs = |told: &Told| told.grams().is_some_and(|grams| grams >= PART_GRAMS_MIN);
        let fated = self.told.iter().any(|told| told.fate().is_some());
        let people = self
            .told
            .iter()
            .filter(|told| told.people().is_some())
            .count();
        let rest = self.told.iter().any(|told| told.size == Size::Rest);
        self.told.iter().any(told_of)
            || self.named && (fated && self.uneaten || !self.given.is_empty())
            || people > 1 && rest && self.told.iter().any(weighs)
    }

    /// "Tom and I shared it, he had 80 more": not evenly.
    pub fn shared_unevenly(&mut self) {
        let compares = |told: &Told| matches!(told.size, Size::More(..) | Size::Against(..));
        let evenly = |told: &Told| {
            let several = told.people().is_some_and(|who| who.one().is_none());
            several && told.size == Size::Rest && told.each == Some(false)
        };
        if !self.told.iter().any(compares) || self.party.is_some() {
            return;
        }
        if let Some(at) = self.told.iter().position(evenly) {
            self.party = self.told.remove(at).people().cloned();
        }
    }

    /// They have a part of it by what was told before: one of their own, or an even one.
    pub fn gives_part_to(&self, name: &Words) -> bool {
        let theirs = |told: &Told| match told.people() {
            Some(Who::Named(named)) => named.contains(&Some(name.clone())),
            _ => false,
        };
        self.split.is_some() || self.told.iter().any(theirs)
    }

    /// It stood on somebody's plate, who keeps what the others leave.
    pub fn belonged_to(&mut self, owner: &Eater) {
        let told: Vec<Eater> = self
            .told
            .iter()
            .filter_map(Told::people)
            .flat_map(|who| match who {
                Who::Named(named) => named.clone(),
                _ => Vec::new(),
            })
            .collect();
        match &self.party {
            None => self.party = Some(Who::Named(vec![owner.clone()])),
            // "that's for both of us, half of it is Ana's"
            Some(Who::Count(count)) if *count as usize == told.len() + 1 => {
                if !told.contains(owner) {
                    self.party = Some(Who::Named(vec![owner.clone()]));
                }
            }
            Some(_) => {}
        }
    }

    /// Those who were named and are told nothing else of.
    pub fn bystanders(&self) -> impl Iterator<Item = &Who> {
        let told = |who: &&Who| {
            let has = |told: &Told| told.owner == Owner::People((*who).clone());
            let gave = |given: &(Eater, Eater, f64)| {
                who.one() == Some(&given.0) || who.one() == Some(&given.1)
            };
            !self.told.iter().any(has)
                && !self.none.contains(who)
                && !self.given.iter().any(gave)
                && self.party.as_ref() != Some(*who)
        };
        self.idle.iter().filter(told)
    }

    /// "took 350 soup, drank 3/5 of it", "I had 300 chilli, 60 of it went in the bin": what somebody took is a whole
    /// where parts of it are told.
    pub fn serve(&mut self) {
        if self.whole.is_some() {
            return;
        }
        let Some(at) = self.told.iter().position(|told| told.item.is_some()) else {
            return;
        };
        // "Tom and I had 440 rice, half and half, but he gave Ana 60 of his"
        if let [only] = self.told.as_slice()
            && let (Some(who @ Who::Named(several)), Size::Amount(amount)) =
                (only.people(), &only.size)
            && only.each == Some(false)
            && several.len() > 1
            && !self.given.is_empty()
        {
            let name = self.dish.clone().unwrap_or_default();
            self.whole = Some(Item::new(amount.clone(), name));
            self.party = Some(who.clone());
            self.split = Some(None);
            self.told.clear();
            return;
        }
        let served = &self.told[at];
        let (Some(owner), Size::Amount(amount), Some(span)) = (
            served.people().and_then(Who::one).cloned(),
            &served.size,
            &served.item,
        ) else {
            return;
        };
        let own = Owner::People(Who::Named(vec![owner.clone()]));
        let mut later = self.told[at + 1..].iter();
        let uneaten = self.uneaten;
        let of_it = |told: &Told| {
            let fate = told.fate().is_some();
            told.owner == own && !told.of_rest
                || told.of_it
                    && !told.of_rest
                    && (fate
                        || !matches!(
                            told.size,
                            Size::Rest
                                | Size::OfRest(_)
                                | Size::Times(_)
                                | Size::Against(..)
                                | Size::More(..)
                        ))
                || fate && (uneaten || told.fate() != Some(Fate::Away))
        };
        if !later.any(of_it) {
            return;
        }
        let name = self.dish.clone().unwrap_or_default();
        let container = served.container.clone();
        let whole = Item::new(amount.clone(), name).at(span.clone());
        self.whole = Some(Item { container, ..whole });
        self.told.remove(at);
        self.party = Some(match self.party.take() {
            Some(party) => party,
            None => Who::Named(vec![owner]),
        });
    }
}

impl Told {
    pub fn people(&self) -> Option<&Who> {
        match &self.owner {
            Owner::People(who) => Some(who),
            Owner::Fate(_) => None,
        }
    }

    pub fn fate(&self) -> Option<Fate> {
        match self.owner {
            Owner::Fate(fate) => Some(fate),
            Owner::People(_) => None,
        }
    }

    /// A part of something, and no weight.
    pub fn is_share(&self) -> bool {
        matches!(self.size, Size::Part(_) | Size::Rest | Size::OfRest(_))
    }

    pub fn grams(&self) -> Option<f64> {
        match self.size {
            Size::Amount(Amount::Bare(grams) | Amount::Mass(grams)) => Some(grams),
            _ => None,
        }
    }
}
