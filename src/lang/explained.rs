//! Whether the words beside a dish and its amount leave it on a plate. "All that chilli", "a third of the rice is
//! left" and "label dal 600" name a dish and how much, and nobody ate: what says nothing of eating is a plate only
//! where every word of it is explained.
//!
//! ```text
//! share  := phrase "eats" in front, and no other noun right behind the dish | its clause idle, and only talk beside it
//! number := whose, at which meal, phrase "eats" | no act and no heat beside it, and of what was passed over no word strange
//! ```
//! The phrases are in `data/explained.txt`.

use super::lexer::folded_words;
use super::lexicon::{describes, is_food_word};
use super::lost;
use super::person::person;
use super::syntax::{Amount, Command, ErrorKind, Item, Portion, Reading, Reason};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::words::{
    asides, at_table, containers, cues, explained, fillers, joiners, joints, leads, meals,
    measures, number_words, opinions, outros, places, pots, preparation, tails, talk, times, units,
};

/// Any other reading comes before one that passes over what was done.
const UNEXPLAINED: i32 = 600;
/// What food is heated to, as a cook reads it off.
const CORE: std::ops::RangeInclusive<f64> = 40.0..=110.0;
/// More words are a letter, and no weighing that only one word spoils.
const TERSE_WORDS_MAX: usize = 5;

/// A plate that the words do not tell of is not sure.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    if !reading.is_certain() {
        return;
    }
    let wastes = |command: &Command| matches!(command, Command::Waste { .. });
    if reading.commands.iter().any(wastes) && is_kept(body) {
        unread(reading, body);
        return;
    }
    if !reading.only_eaten() {
        return;
    }
    let passed_over = reading.reasons.contains(&Reason::Cut("gist"));
    let portions: Vec<&Portion> = reading
        .commands
        .iter()
        .filter_map(|command| match command {
            Command::Portion(portion) => Some(portion),
            _ => None,
        })
        .collect();
    // Whoever has confirmed it has been asked.
    if portions.iter().any(|portion| portion.anyway) {
        return;
    }
    let at = |byte: usize| body.slice.partition_point(|token| token.span.start < byte);
    let items = portions.iter().flat_map(|portion| &portion.items);
    let others = items.map(|item| at(item.span.start)..at(item.span.end));
    let case = Case {
        others: others.collect(),
        body,
        told: portions.iter().any(|portion| is_told(portion)),
        shared: portions.iter().any(|portion| portion.share.is_some()),
        when: portions
            .iter()
            .any(|portion| portion.day.is_some() || portion.hour.is_some()),
        passed_over,
    };
    let mut items = portions.iter().flat_map(|portion| &portion.items);
    let Some((at, asks)) = items.find_map(|item| case.against(item)) else {
        return;
    };
    let asks = asks && body.len() <= TERSE_WORDS_MAX && reading.weighing_like;
    unread(reading, body.range(at, at + 1));
    reading.weighing_like = asks;
}

fn unread(reading: &mut Reading, word: Tokens<'_>) {
    let error = word.error(ErrorKind::LeftOver(word.words().text));
    reading.refute(error, UNEXPLAINED);
    reading.weighing_like = false;
}

/// "dropped 200 dal off at mum's": nothing else of it is said to be lost.
fn is_kept(body: Tokens<'_>) -> bool {
    (0..body.len()).any(|at| lost::is_kept(body, at)) && lost::signs(body).is_none()
}

/// Whose, at which meal, among whom: that is said of what is eaten.
fn is_told(portion: &Portion) -> bool {
    portion.who.is_some() || portion.meal.is_some() || portion.share.is_some() || portion.with_that
}

struct Case<'a> {
    body: Tokens<'a>,
    /// Where the items stand.
    others: Vec<Range>,
    told: bool,
    /// It is divided among people.
    shared: bool,
    /// When it was is told.
    when: bool,
    /// Words were passed over.
    passed_over: bool,
}

/// Tokens, from where to where.
type Range = std::ops::Range<usize>;

impl Case<'_> {
    /// The word that speaks against it, and whether it is worth a question.
    fn against(&self, item: &Item) -> Option<(usize, bool)> {
        let body = self.body;
        let words = folded_words(&item.name.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        if words.is_empty() || !body.vocabulary.is_batch(&words) {
            return None;
        }
        let said = self.places(item)?;
        let clause = self.clause(&said);
        match item.amount {
            Amount::Share(_) if self.shared => None,
            Amount::Share(_) => {
                let ate = self.says(clause.start..said.end, "eats").is_some();
                let word = match ate {
                    true => self.noun_behind(said.end, clause.end),
                    false => self.unexplained(&said, &clause),
                };
                word.map(|at| (at, false))
            }
            Amount::Bare(grams) | Amount::Mass(grams) => {
                let told = self.told || self.says(0..body.len(), "eats").is_some();
                let bare = matches!(item.amount, Amount::Bare(_));
                let heat = bare && CORE.contains(&grams) && !told;
                let heat = self.says(clause.clone(), "heat").filter(|_| heat);
                let act = || self.act(&said, &clause).filter(|_| !told);
                let passed_over = self.passed_over && !told && !self.when;
                let strange = || self.elsewhere(grams, &clause).filter(|_| passed_over);
                let supposed = || {
                    let behind = said.end..clause.end;
                    self.says(behind, "supposed").filter(|_| !told)
                };
                let against = heat.or_else(act).or_else(supposed).map(|at| (at, false));
                against.or_else(|| strange().map(|at| (at, true)))
            }
            _ => None,
        }
    }

    /// The tokens of an item.
    fn places(&self, item: &Item) -> Option<Range> {
        let at = |byte: usize| {
            let before = |token: &Token| token.span.start < byte;
            self.body.slice.partition_point(before)
        };
        let from = at(item.span.start.min(item.name.span.start));
        let to = at(item.span.end.max(item.name.span.end));
        (from < to).then_some(from..to)
    }

    /// The clause that they stand in.
    fn clause(&self, said: &Range) -> Range {
        let ends = |at: &usize| is_mark(self.body, *at);
        let start = (0..said.start).rev().find(ends).map_or(0, |at| at + 1);
        let mut behind = said.end..self.body.len();
        start..behind.find(ends).unwrap_or(self.body.len())
    }

    /// How many tokens here are a phrase of this key.
    fn phrase(&self, at: usize, key: &str) -> Option<usize> {
        explained().longest_of(self.body.after(at).slice, key)
    }

    /// Where a phrase of this key stands; the name of a dish is none.
    fn says(&self, within: Range, key: &str) -> Option<usize> {
        let end = within.end;
        within.into_iter().find(|&at| {
            let named = self.body.vocabulary.names_food(self.body.norm(at));
            !named
                && self
                    .phrase(at, key)
                    .is_some_and(|length| at + length <= end)
        })
    }

    /// "finished all the chilli dishes": another thing than the dish.
    fn noun_behind(&self, to: usize, end: usize) -> Option<usize> {
        let rest = self.body.after(to);
        let token = rest.first().filter(|_| to < end)?;
        let bowl = matches!(token.norm(), "bowl" | "bowls" | "plate" | "plates");
        if bowl || is_vessel(token) {
            return Some(to);
        }
        // "the chilli dishes", and no "god" of "forgive me".
        let known = !matches!(token.kind, Kind::Word(_))
            || !token.norm().ends_with('s')
            || ["idle", "eats", "is"]
                .iter()
                .any(|key| self.phrase(to, key).is_some())
            || self.thing(to).is_some()
            || heard(self.body, to).is_some()
            || tails().longest(rest.slice).is_some();
        (!known).then_some(to)
    }

    /// The word that makes it talk of the dish: of its clause every word is idle, and beside it stands only talk.
    fn unexplained(&self, said: &Range, clause: &Range) -> Option<usize> {
        let body = self.body;
        let leads = (clause.start..said.start).find(|&at| self.phrase(at, "of it").is_some());
        let points = |at: &usize| matches!(body.norm(*at), "that" | "those" | "this" | "these");
        if let Some(at) = leads.or_else(|| said.clone().find(points)) {
            return Some(at);
        }
        let mut at = 0;
        while at < body.len() {
            if let Some(item) = self.others.iter().find(|item| item.contains(&at)) {
                at = item.end;
                continue;
            }
            if said.contains(&at) {
                at = said.end;
                continue;
            }
            // "bread was 72"
            let numeric = |at: usize| body.get(at).is_some_and(Token::is_numeric);
            if numeric(at + 1) && self.phrase(at, "is") == Some(1) {
                at += 1;
                continue;
            }
            let idle = self.phrase(at, "eats").or_else(|| self.phrase(at, "idle"));
            let told = idle.or_else(|| self.thing(at)).or_else(|| {
                let beside = !clause.contains(&at) && self.phrase(at, "is").is_none();
                heard(body, at).filter(|_| beside)
            });
            match told {
                Some(length) => at += length,
                None => return Some(at),
            }
        }
        None
    }

    /// A mark, a number, somebody, a day, a dish or a food beside it.
    fn thing(&self, at: usize) -> Option<usize> {
        let rest = self.body.after(at);
        let token = rest.first()?;
        let Kind::Word(norm) = &token.kind else {
            return (!token.is('?')).then_some(1);
        };
        let length = |after: Tokens<'_>| rest.len() - after.len();
        let who = person(rest).map(|(length, _)| length);
        let day = || super::date::day(rest).map(|(after, _)| length(after)).ok();
        let meal = || super::date::meal(rest).map(|(after, _)| length(after)).ok();
        let named = || {
            rest.vocabulary.names_food(norm)
                || is_food_word(norm)
                || describes(norm)
                || number_words().holds(token)
                || units().holds(token)
                || measures().holds(token)
        };
        who.or_else(day)
            .or_else(meal)
            .filter(|length| *length > 0)
            .or_else(|| named().then_some(1))
    }

    /// What was done with it in its clause, in front of its amount or behind its name.
    fn act(&self, said: &Range, clause: &Range) -> Option<usize> {
        let before = self.says(clause.start..said.start, "act");
        // "130 rice while the kettle boils": that is done with something else.
        let meanwhile = |at: &usize| matches!(self.body.norm(*at), "while" | "whilst");
        let end = (said.end..clause.end).find(meanwhile);
        let behind = || self.says(said.end..end.unwrap_or(clause.end), "act");
        // "chucked 300 rice in the wok"
        let cooks = || {
            let into = |at: usize| matches!(self.body.norm(at), "in" | "into");
            let mut before = clause.start..said.start;
            before.find(|&at| lost::is_kept(self.body, at) && (said.end..clause.end).any(into))
        };
        before.or_else(behind).or_else(cooks)
    }

    /// "rice pot now 640", "500 dal fridge": the pot may be in the weight, and nobody eats at such a place.
    fn elsewhere(&self, grams: f64, clause: &Range) -> Option<usize> {
        let shown =
            |token: &Token| matches!(&token.kind, Kind::Number(said) if said.value == grams);
        if !self.body.slice.iter().any(shown) {
            return None;
        }
        let dish = |at: usize| self.body.vocabulary.names_food(self.body.norm(at));
        let pot = |at: &usize| dish(at - 1) && !dish(*at) && is_vessel(&self.body.slice[*at]);
        let placed = |at: &usize| {
            let from = (at.saturating_sub(3)..*at)
                .any(|before| matches!(self.body.norm(before), "from" | "of" | "out"));
            let place = places().longest_of(self.body.after(*at).slice, "freezer");
            let place = place.or_else(|| places().longest_of(self.body.after(*at).slice, "fridge"));
            place.is_some() && !from && !dish(*at)
        };
        let mut within = clause.start + 1..clause.end;
        within.clone().find(pot).or_else(|| within.find(placed))
    }
}

/// A word or phrase of talk, of what leads up to an amount or trails behind one.
fn heard(body: Tokens<'_>, at: usize) -> Option<usize> {
    let rest = body.after(at);
    let lists = [
        fillers(),
        leads(),
        outros(),
        opinions(),
        talk(),
        joints(),
        joiners(),
        meals(),
        times(),
        preparation(),
        at_table(),
        asides(),
    ];
    let listed = lists
        .iter()
        .filter_map(|list| list.longest(rest.slice))
        .map(|(length, _)| length)
        .max();
    let cue = [
        "link", "is", "join", "eat", "log", "me", "to", "plate of", "more", "polite", "yes",
    ]
    .iter()
    .filter_map(|key| cues().longest_of(rest.slice, key))
    .max();
    listed.max(cue)
}

/// What food is kept or cooked in, and not eaten from.
fn is_vessel(token: &Token) -> bool {
    let eaten_from = [
        "bowl", "plate", "cup", "mug", "glass", "spoon", "ladle", "portion",
    ];
    let norm = token.norm();
    let one = norm
        .strip_suffix("es")
        .or_else(|| norm.strip_suffix('s'))
        .unwrap_or(norm);
    let vessel = |word: &str| containers().has(word) || pots().has(word);
    (vessel(norm) || vessel(one)) && !eaten_from.contains(&one) && !eaten_from.contains(&norm)
}

fn is_mark(body: Tokens<'_>, at: usize) -> bool {
    match body.slice[at].kind {
        Kind::Newline | Kind::Symbol(',' | ';' | '!' | '(' | ')') => true,
        Kind::Symbol('.' | '-') => body.get(at + 1).is_none_or(|next| next.spaced),
        _ => false,
    }
}
