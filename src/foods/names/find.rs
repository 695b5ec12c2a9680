//! The way from a typed name to a food, step by step.

use super::alias::{Alias, name_words};
use super::lexicon::lexicon;
use super::rank::{self, Candidate, Wanted};
use super::state::{self, State};
use super::{Ambiguity, Found, How, Match};
use crate::foods::code::Code;
use crate::foods::table::{Food, Group, Table};

/// How many foods are shown when none is clearly meant.
const SEVERAL_MAX: usize = 5;

/// How many droppable words are tried in every combination; beyond, all or none.
const DROPPABLE_MAX: usize = 6;

/// A name as typed, in compared words.
struct Query {
    words: Vec<String>,
    /// For "milk, whole" and "thigh of chicken": the latter part first.
    inverted: Option<Vec<String>>,
}

impl Query {
    fn read(text: &str) -> Query {
        let parts = text.split_once(',').or_else(|| text.split_once(" of "));
        let inverted = parts.map(|(head, rest)| name_words(&format!("{rest} {head}")));
        Query {
            words: name_words(text),
            inverted,
        }
    }
}

/// Whether the words name anything beside cuts, states, fillers and numbers.
fn name_something(words: &[String]) -> bool {
    let names = |word: &String| {
        word.contains(char::is_alphabetic)
            && !lexicon().is_cut(word)
            && !lexicon().is_filler(word)
            && !lexicon().is_joining(word)
            && lexicon().state(word).is_none()
    };
    words.iter().any(names)
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
        self.find_alias(&query)
            .or_else(|| self.find_words(&query))
            .unwrap_or(Found::Nothing)
    }

    fn find_alias(&self, query: &Query) -> Option<Found> {
        let mut fallback = None;
        for order in [Some(&query.words), query.inverted.as_ref()]
            .into_iter()
            .flatten()
        {
            for dropped in droppable(order) {
                let (kept, dropped) = split(order, &dropped);
                if !dropped.is_empty() && !name_something(&kept) {
                    continue;
                }
                let Some(alias) = self.alias_of(&kept) else {
                    continue;
                };
                let states: Vec<String> = dropped
                    .into_iter()
                    .filter(|word| lexicon().state(word).is_some())
                    .collect();
                let settled = settled(order);
                match self.in_states(alias, &states, settled) {
                    Some(taken) => return Some(Found::Taken(taken)),
                    None => fallback = fallback.or(Some((alias, states))),
                }
            }
        }
        let (alias, states) = fallback?;
        Some(self.find_state_of(alias, &states, &query.words))
    }

    fn alias_of(&self, words: &[String]) -> Option<&Alias> {
        let is_food = |word: &str| self.names.index.is_whole_head(word);
        self.names.aliases.find(words, is_food)
    }

    /// The food of an alias that satisfies the states asked.
    ///
    /// `settled` says that the words leave no state open.
    fn in_states(&self, alias: &Alias, states: &[String], settled: bool) -> Option<Match> {
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
        let index = &self.names.index;
        let state_of = |code| self.position(code).map(|at| state::state(index, at));
        // A curated kind is worth naming; for the counterpart in another state, only in that state.
        let in_place = |kind: Code| code == alias.code || state_of(kind) == state_of(code);
        let kinds: Vec<Code> = alias
            .kinds
            .iter()
            .copied()
            .filter(|&kind| kind != code && in_place(kind))
            .collect();
        let ambiguity = if settled {
            None
        } else {
            self.alias_state(alias)
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

    /// Another food with the naming words of the alias's own, in the states asked; if there is none, all there is
    /// of the staple is offered, cooked before raw if a cooked one was asked.
    fn find_state_of(&self, alias: &Alias, states: &[String], typed: &[String]) -> Found {
        let index = &self.names.index;
        let at = self.position(alias.code).expect("every alias names a food");
        let mut wanted = Wanted {
            words: rank::names(index, at),
            states: states.to_vec(),
        };
        let found = rank::candidates(index, self.foods(), &wanted);
        if let Some(best) = rank::decide(&found) {
            return Found::Taken(self.taken(best, &found, settled(states)));
        }
        // The words as typed may say more than the alias: "fried onion rings", or fit another kind: "dried mushroom".
        if let Some(typed) = self.find_typed(typed) {
            return typed;
        }
        wanted.states.clear();
        let mut same = rank::candidates(index, self.foods(), &wanted);
        same.retain(|other| other.named && other.plain);
        let uncooked = ["raw", "uncooked", "fresh", "dry", "dried"];
        if !states
            .iter()
            .any(|asked| uncooked.contains(&asked.as_str()))
        {
            same.sort_by_key(|other| state::state(index, other.food) != State::Cooked);
        }
        let mut codes: Vec<Code> = same
            .iter()
            .map(|other| self.foods()[other.food].code)
            .collect();
        codes.extend(
            alias
                .codes()
                .filter(|code| !codes.contains(code))
                .collect::<Vec<_>>(),
        );
        codes.truncate(SEVERAL_MAX);
        Found::Several(codes)
    }

    fn find_words(&self, query: &Query) -> Option<Found> {
        let typed = &query.words;
        if !name_something(typed) {
            return None;
        }
        self.find_typed(typed)
            .or_else(|| self.find_common(typed))
            .or_else(|| self.find_stateless(typed))
    }

    /// All words in one description: without words of cutting and handling, then as typed.
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
            } else if !lexicon().is_joining(word) {
                wanted.words.push(index.word(word)?);
            }
        }
        let found = rank::candidates(index, self.foods(), &wanted);
        if let Some(best) = rank::decide(&found) {
            return Some(Found::Taken(self.taken(
                best,
                &found,
                !wanted.states.is_empty(),
            )));
        }
        self.several(&found)
    }

    /// All words in one description, but in another state than was asked: to be offered.
    fn find_stateless(&self, typed: &[String]) -> Option<Found> {
        let telling = |word: &&String| !lexicon().is_cut(word) && lexicon().state(word).is_none();
        let words: Vec<String> = typed.iter().filter(telling).cloned().collect();
        match self.find_all_words(&words)? {
            Found::Taken(taken) => Some(Found::Several(vec![taken.code])),
            several => Some(several),
        }
    }

    fn find_common(&self, words: &[String]) -> Option<Found> {
        let foods = self.names.common(self.foods()).get(&words.join(" "))?;
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
        // Brands only where there is nothing else.
        let any_plain = found.iter().any(|other| other.plain);
        let shown = found.iter().filter(|other| other.plain || !any_plain);
        let codes: Vec<Code> = shown
            .take(SEVERAL_MAX)
            .map(|found| self.foods()[found.food].code)
            .collect();
        (!codes.is_empty()).then_some(Found::Several(codes))
    }

    fn taken(&self, best: Candidate, found: &[Candidate], settled: bool) -> Match {
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
        let ambiguity = if settled {
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
        let told_apart = matches!(
            group,
            Group::Poultry
                | Group::Beef
                | Group::Pork
                | Group::LambVealAndGame
                | Group::FishAndShellfish
                | Group::Vegetables
                | Group::Legumes
                | Group::GrainsAndPasta
        );
        if !told_apart {
            return None;
        }
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

fn settled(states: &[String]) -> bool {
    states.iter().any(|word| lexicon().settles_state(word))
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
