//! Finding a food by what a cook calls it.
//!
//! In order, and the first that answers wins:
//!
//! 1. a number: `NDB 16069`;
//! 2. the alias table, `data/aliases.txt`: the words as typed, then without words that only say how the food was
//!    cut or handled ("onion, chopped"), then without states ("cooked rice"), which are honoured by taking the
//!    staple's counterpart in that state;
//! 3. all words in one description, whole ([`rank`] says which is taken and when none is);
//! 4. the release's own common names.
//!
//! What matches only in part is never taken. A staple that the table has, but not in the state asked for, is
//! offered, not taken.

mod alias;
mod index;
mod lexicon;
mod nearest;
mod normal;
mod rank;
mod state;

use std::collections::HashMap;

pub use alias::Alias;
pub use nearest::Near;

use self::alias::{Aliases, name_words};
use self::index::Index;
use self::lexicon::lexicon;
use self::nearest::Spellings;
pub(super) use self::normal::words as compared_words;
use self::rank::{Candidate, Wanted};
use self::state::State;
use super::code::Code;
use super::table::{Food, Table};

/// How many foods are shown when none is clearly meant.
const SEVERAL_MAX: usize = 5;

/// How many droppable words are tried in every combination; beyond, all or none.
const DROPPABLE_MAX: usize = 6;

/// What a name was found to mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// One food is meant.
    Taken(Match),
    /// One of these may be meant, the likeliest first; 1 to 5 of them.
    Several(Vec<Code>),
    /// No food has this name.
    Nothing,
}

/// The food that is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Match {
    pub code: Code,
    pub how: How,
    /// What was decided for the cook and has to be said: a state before kinds, since it costs most.
    pub ambiguity: Option<Ambiguity>,
    /// Other kinds of the food, by fat, cut or preparation, also where `ambiguity` tells of a state.
    pub kinds: Vec<Code>,
}

/// What the match rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    Number,
    Alias,
    AllWords,
}

/// A choice that the words left open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ambiguity {
    /// Dry goods, which take up water: the energy per 100 g differs threefold.
    DryOrCooked {
        taken_dry: bool,
        other: Code,
    },
    RawOrCooked {
        taken_raw: bool,
        other: Code,
    },
    /// Other kinds, at least one.
    Kinds(Vec<Code>),
}

/// Everything that finding needs beside the foods.
#[derive(Debug)]
pub(super) struct Names {
    index: Index,
    aliases: Aliases,
    /// The release's common names, by their compared words, with the foods that bear them.
    common: HashMap<String, Vec<usize>>,
    spellings: Spellings,
}

impl Names {
    pub(super) fn new(foods: &[Food]) -> Names {
        let index = Index::new(foods);
        let aliases = Aliases::read(include_str!("../data/aliases.txt"));
        let mut common: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, food) in foods
            .iter()
            .enumerate()
            .filter(|(at, _)| index.entry(*at).plain)
        {
            let names = food.common_names.split(',').map(str::trim);
            for name in names.filter(|name| !name.is_empty() && !name.contains('#')) {
                common
                    .entry(name_words(name).join(" "))
                    .or_default()
                    .push(at);
            }
        }
        let spellings = Spellings::new(&aliases, &index);
        Names {
            index,
            aliases,
            common,
            spellings,
        }
    }
}

/// A name as typed, in compared words.
struct Query {
    words: Vec<String>,
    /// For "milk, whole": the part after the comma first.
    inverted: Option<Vec<String>>,
}

impl Query {
    fn read(text: &str) -> Query {
        let inverted = text
            .split_once(',')
            .map(|(head, rest)| name_words(&format!("{rest} {head}")));
        Query {
            words: name_words(text),
            inverted,
        }
    }
}

impl Table {
    /// What the name means. A few microseconds.
    pub fn find(&self, words: &str) -> Found {
        if let Ok(code) = words.parse::<Code>() {
            let number = |food: &Food| Match {
                code: food.code,
                how: How::Number,
                ambiguity: None,
                kinds: Vec::new(),
            };
            return self
                .get(code)
                .map_or(Found::Nothing, |food| Found::Taken(number(food)));
        }
        let query = Query::read(words);
        if query.words.is_empty() {
            return Found::Nothing;
        }
        self.find_alias(&query)
            .or_else(|| self.find_words(&query))
            .unwrap_or(Found::Nothing)
    }

    /// Whether the word stands in an alias or in the head of a description, and tells of food: not "of" or
    /// "chopped".
    pub fn knows_word(&self, word: &str) -> bool {
        let words = normal::words(word);
        let tells = |word: &String| {
            let lexicon = lexicon();
            let names = &self.names;
            !lexicon.is_filler(word)
                && !lexicon.is_cut(word)
                && !word.starts_with(|c: char| c.is_ascii_digit())
                && (names.aliases.has_word(word)
                    || names
                        .index
                        .word(word)
                        .is_some_and(|word| names.index.is_head(word)))
        };
        !words.is_empty() && words.iter().all(tells)
    }

    /// The alias table as curated.
    pub fn aliases(&self) -> &[Alias] {
        self.names.aliases.list()
    }

    fn find_alias(&self, query: &Query) -> Option<Found> {
        let mut fallback = None;
        for order in [Some(&query.words), query.inverted.as_ref()]
            .into_iter()
            .flatten()
        {
            for dropped in droppable(order) {
                let (kept, dropped) = split(order, &dropped);
                let Some(alias) = self.names.aliases.find(&kept) else {
                    continue;
                };
                let states: Vec<String> = dropped
                    .into_iter()
                    .filter(|word| lexicon().state(word).is_some())
                    .collect();
                match self.in_states(alias, &states) {
                    Some(taken) => return Some(Found::Taken(taken)),
                    None => fallback = fallback.or(Some((alias, states))),
                }
            }
        }
        let (alias, states) = fallback?;
        Some(self.find_state_of(alias, &states, &query.words))
    }

    /// The food of an alias that satisfies the states asked.
    fn in_states(&self, alias: &Alias, states: &[String]) -> Option<Match> {
        let satisfying = |code: Code| {
            let at = self.position(code)?;
            let index = &self.names.index;
            let costs = states
                .iter()
                .map(|asked| state::satisfies(index, at, &self.foods()[at], asked));
            costs.sum::<Option<usize>>().map(|cost| (cost, code))
        };
        // `min_by_key` keeps the first of equals, and the meant food comes first.
        let (_, code) = alias
            .codes()
            .filter_map(satisfying)
            .min_by_key(|&(cost, _)| cost)?;
        let kinds: Vec<Code> = alias
            .kinds
            .iter()
            .copied()
            .filter(|&kind| kind != code)
            .collect();
        let ambiguity = if states.is_empty() {
            self.alias_state(alias)
        } else {
            None
        };
        Some(said(code, How::Alias, ambiguity, kinds))
    }

    fn alias_state(&self, alias: &Alias) -> Option<Ambiguity> {
        let Alias {
            code,
            cooked,
            dry,
            raw,
            ..
        } = *alias;
        match (cooked, dry, raw) {
            (Some(other), _, _) => Some(self.state_pair(code, other, true)),
            (_, Some(other), _) => Some(Ambiguity::DryOrCooked {
                taken_dry: false,
                other,
            }),
            (_, _, Some(other)) => Some(Ambiguity::RawOrCooked {
                taken_raw: false,
                other,
            }),
            _ => self.other_state(code),
        }
    }

    /// Another food with the naming words of the alias's own, in the states asked; offered if that fails.
    fn find_state_of(&self, alias: &Alias, states: &[String], typed: &[String]) -> Found {
        let index = &self.names.index;
        let at = self.position(alias.code).expect("every alias names a food");
        let wanted = Wanted {
            words: rank::names(index, at),
            states: states.to_vec(),
        };
        let found = rank::candidates(index, self.foods(), &wanted);
        if let Some(best) = rank::decide(index, &found) {
            return Found::Taken(self.taken(best, &found, true));
        }
        // The words as typed may say more than the alias: "fried onion rings".
        match self.find_typed(typed) {
            Some(Found::Taken(taken)) => Found::Taken(taken),
            Some(Found::Several(codes)) => Found::Several(codes),
            _ => Found::Several(alias.codes().take(SEVERAL_MAX).collect()),
        }
    }

    fn find_words(&self, query: &Query) -> Option<Found> {
        self.find_typed(&query.words)
            .or_else(|| self.find_common(&query.words))
    }

    /// All words in one description: as typed, then without words of cutting and handling.
    fn find_typed(&self, typed: &[String]) -> Option<Found> {
        let without_cuts: Vec<String> = typed
            .iter()
            .filter(|word| !lexicon().is_cut(word))
            .cloned()
            .collect();
        let mut several = None;
        for words in [&without_cuts, &typed.to_vec()] {
            match self.find_all_words(words) {
                Some(Found::Taken(taken)) => return Some(Found::Taken(taken)),
                other => several = several.or(other),
            }
        }
        several
    }

    fn find_all_words(&self, words: &[String]) -> Option<Found> {
        let index = &self.names.index;
        let mut wanted = Wanted::default();
        for word in words {
            if lexicon().state(word).is_some() {
                wanted.states.push(word.clone());
            } else {
                wanted.words.push(index.word(word)?);
            }
        }
        let found = rank::candidates(index, self.foods(), &wanted);
        if let Some(best) = rank::decide(index, &found) {
            return Some(Found::Taken(self.taken(
                best,
                &found,
                !wanted.states.is_empty(),
            )));
        }
        if found.is_empty() && !wanted.states.is_empty() {
            // The food is there, but in no such state: to be offered.
            wanted.states.clear();
            let found = rank::candidates(index, self.foods(), &wanted);
            return self.several(&found);
        }
        self.several(&found)
    }

    fn find_common(&self, words: &[String]) -> Option<Found> {
        let foods = self.names.common.get(&words.join(" "))?;
        let mut codes: Vec<Code> = foods.iter().map(|&at| self.foods()[at].code).collect();
        codes.dedup();
        match codes[..] {
            [code] => Some(Found::Taken(said(
                code,
                How::AllWords,
                self.other_state(code),
                Vec::new(),
            ))),
            _ => Some(Found::Several(
                codes.into_iter().take(SEVERAL_MAX).collect(),
            )),
        }
    }

    fn several(&self, found: &[Candidate]) -> Option<Found> {
        let plain_first = found.iter().take(SEVERAL_MAX);
        let codes: Vec<Code> = plain_first
            .map(|found| self.foods()[found.food].code)
            .collect();
        (!codes.is_empty()).then_some(Found::Several(codes))
    }

    fn taken(&self, best: Candidate, found: &[Candidate], state_asked: bool) -> Match {
        let index = &self.names.index;
        let code = self.foods()[best.food].code;
        let own_state = state::state(index, best.food);
        let kinds = found
            .iter()
            .filter(|other| other.food != best.food && other.plain && other.named)
            .filter(|other| state::state(index, other.food) == own_state)
            .map(|other| self.foods()[other.food].code)
            .take(SEVERAL_MAX)
            .collect();
        let ambiguity = if state_asked {
            None
        } else {
            self.other_state(code)
        };
        said(code, How::AllWords, ambiguity, kinds)
    }

    /// The same food cooked if it is raw, or raw if it is cooked.
    fn other_state(&self, code: Code) -> Option<Ambiguity> {
        let index = &self.names.index;
        let at = self.position(code)?;
        let (taken_raw, wanted_state) = match state::state(index, at) {
            State::Raw => (true, State::Cooked),
            State::Cooked => (false, State::Raw),
            State::Kept => return None,
        };
        let wanted = Wanted {
            words: rank::names(index, at),
            states: Vec::new(),
        };
        let group = self.foods()[at].group;
        let other = rank::candidates(index, self.foods(), &wanted)
            .into_iter()
            .filter(|other| other.plain && other.named && self.foods()[other.food].group == group)
            .filter(|other| state::state(index, other.food) == wanted_state)
            .min_by_key(|other| index.kind_distance(at, other.food))?;
        Some(self.state_pair(code, self.foods()[other.food].code, taken_raw))
    }

    fn state_pair(&self, code: Code, other: Code, taken_raw: bool) -> Ambiguity {
        let raw = if taken_raw { code } else { other };
        if self.get(raw).is_some_and(Food::is_dry) {
            Ambiguity::DryOrCooked {
                taken_dry: taken_raw,
                other,
            }
        } else {
            Ambiguity::RawOrCooked { taken_raw, other }
        }
    }
}

fn said(code: Code, how: How, state: Option<Ambiguity>, kinds: Vec<Code>) -> Match {
    let of_kinds = || (!kinds.is_empty()).then(|| Ambiguity::Kinds(kinds.clone()));
    let ambiguity = state.or_else(of_kinds);
    Match {
        code,
        how,
        ambiguity,
        kinds,
    }
}

/// Sets of places of words that may be left out of a name, the smallest first.
fn droppable(words: &[String]) -> Vec<Vec<usize>> {
    let may_go = |word: &str| lexicon().is_cut(word) || lexicon().state(word).is_some();
    let places: Vec<usize> = (0..words.len()).filter(|&at| may_go(&words[at])).collect();
    if places.len() > DROPPABLE_MAX {
        return vec![Vec::new(), places];
    }
    let mut sets: Vec<Vec<usize>> = (0..1_u32 << places.len())
        .map(|mask| {
            (0..places.len())
                .filter(|bit| mask & (1 << bit) != 0)
                .map(|bit| places[bit])
                .collect()
        })
        .collect();
    sets.sort_by_key(Vec::len);
    sets
}

/// The words kept and the words dropped.
fn split(words: &[String], dropped: &[usize]) -> (Vec<String>, Vec<String>) {
    let (out, kept): (Vec<_>, Vec<_>) = words
        .iter()
        .enumerate()
        .partition(|(at, _)| dropped.contains(at));
    let text = |(_, word): (usize, &String)| word.clone();
    (
        kept.into_iter().map(text).collect(),
        out.into_iter().map(text).collect(),
    )
}
