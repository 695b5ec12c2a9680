//! What tells that something was eaten, and what forbids to think so.

use super::mark::{Mark, Marked};
use super::no_plate::{is_counted_apart, is_no_food, is_of_a_vessel, is_plausible};
use super::pair::{Pair, answer};
use super::sentence::Sentence;
use crate::lang::amount::is_packed;
use crate::lang::command::portion;
use crate::lang::lost;
use crate::lang::rank::{self, SCALE_GRAMS_MIN};
use crate::lang::syntax::{Amount, Portion, Span};
use crate::lang::token::{Kind, Token};
use crate::lang::veto::{is_strict, vetoes_in};
use crate::lang::words::{asides, cues, vetoes as forbidding};

/// A clause that is hardly more than its weighings needs no verb: a share of its tokens.
const DENSE: f64 = 0.25;
/// Cues of another reading, anywhere in the message.
const OTHER: [&str; 2] = ["share", "running"];
/// Cues of another reading, in the clause of the weighing.
const APART: [&str; 5] = ["waste", "stow", "count", "batch", AMENDS];
const AMENDS: &str = "amends";
/// Before a weighing these forbid it, wherever they stand in the sentence.
const GOVERNING: [&str; 3] = ["recipe", "shopping", "plan"];

/// Whether the pairs were eaten, as far as the words tell, or what speaks against it.
pub fn holds(
    sentence: &Sentence<'_>,
    pairs: &[Pair],
    portions: &[Portion],
    replaced: bool,
) -> Result<(), &'static str> {
    let mut clauses: Vec<usize> = pairs
        .iter()
        .flat_map(|pair| pair.from..pair.to)
        .map(|at| sentence.clause(at))
        .collect();
    clauses.sort_unstable();
    clauses.dedup();
    let mut all = 0..sentence.clause_count();
    let logged = all.any(|clause| sentence.tells_but(clause, "log", "idiom"));
    let told = portions
        .iter()
        .any(|portion| portion.who.is_some() || portion.meal.is_some());
    let case = Case {
        sentence,
        pairs,
        logged,
        told,
        replaced,
    };
    let (Some(&first), Some(&last)) = (clauses.first(), clauses.last()) else {
        return Err("no weighing");
    };
    if !pairs.iter().all(is_plausible) {
        return Err("no plate weighs that");
    }
    if pairs.iter().any(|pair| is_no_food(sentence, pair)) {
        return Err("what grows or is sold");
    }
    if pairs.iter().any(|pair| is_of_a_vessel(sentence, pair)) {
        return Err("what a vessel holds");
    }
    if pairs.iter().any(|pair| is_counted_apart(sentence, pair)) {
        return Err("a number that counts something else");
    }
    let bought = |portion: &Portion| rank::is_bought(sentence.input, portion);
    if !logged && !pairs.iter().any(|pair| pair.household) && portions.iter().any(bought) {
        return Err("what a shopping list or a recipe holds");
    }
    for &clause in &clauses {
        case.is_eaten(clause)?;
    }
    if case.may_be_minutes() {
        return Err("an oven");
    }
    for clause in 0..sentence.clause_count() {
        if is_fix(sentence, clause) {
            return Err("a correction");
        }
        for key in OTHER {
            if sentence.tells_but(clause, key, "idiom") {
                return Err(key);
            }
        }
        if clause <= last && sentence.says(clause, "story") {
            return Err("story");
        }
        if !clauses.contains(&clause) && case.governs(clause, clause < first) {
            return Err("what stands around it forbids");
        }
    }
    Ok(())
}

/// Whether the words take a weighing back as soon as it is said: "not 180", "was going to have 250 chilli
/// but".
pub fn is_unmeant(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let clause = sentence.clause(pair.to - 1);
    let denied = sentence.follows(pair.from, "unmeant");
    let planned = || {
        let before = vetoes(sentence, clause, |at| at < pair.from);
        sentence.turns(clause) && (before.contains(&"plan") || is_denied(sentence, pair))
    };
    denied || planned()
}

/// Whether nothing in the message forbids to think that a table was told of; these words of it were passed over.
pub fn is_told_of_a_table(sentence: &Sentence<'_>, passed: &[Span]) -> bool {
    const OTHER: [&str; 5] = ["story", "waste", "stow", "anew", "amends"];
    let other = (0..sentence.marks.len()).any(|at| {
        let start = sentence.input.slice[sentence.marks[at].from].span.start;
        let told = |key: &&'static str| sentence.cue(at, key).is_some();
        // What was left is somebody's share, unless it is said beside.
        let passed = passed.iter().any(|span| span.contains(&start));
        OTHER.iter().any(told) || passed && sentence.cue(at, "count").is_some()
    });
    !other
        && lost::signs(sentence.input).is_none()
        && (0..sentence.clause_count()).all(|clause| {
            let conditional = sentence.tells_but(clause, "if", "polite");
            !is_fix(sentence, clause) && !forbids(sentence, clause) && !conditional
        })
}

/// What is known of the whole message.
struct Case<'s, 'a> {
    sentence: &'s Sentence<'a>,
    pairs: &'s [Pair],
    /// Somebody asks to have it written down.
    logged: bool,
    /// Whose or which meal it was is said.
    told: bool,
    /// What it was not is said too.
    replaced: bool,
}

impl Case<'_, '_> {
    /// Whether a clause with weighings tells of eating, and nothing in it forbids.
    fn is_eaten(&self, clause: usize) -> Result<(), &'static str> {
        let sentence = self.sentence;
        let here = || {
            self.pairs.iter().filter(|pair| {
                (sentence.clause(pair.from)..=sentence.clause(pair.to - 1)).contains(&clause)
            })
        };
        let verb = sentence.tells(clause, "eat") || self.logged;
        // One breath: what is told of a part of it holds for the rest.
        if !sentence
            .breath(clause)
            .any(|clause| self.tells_eating(clause))
        {
            return Err("nothing tells that it was eaten");
        }
        for key in APART {
            if sentence.tells_but(clause, key, "idiom") && !(self.replaced && key == AMENDS) {
                return Err(key);
            }
        }
        if !self.logged && sentence.tells(clause, "others") {
            return Err("others");
        }
        if !verb && here().any(|pair| is_mistaken(sentence, pair)) {
            return Err("what something was taken for");
        }
        // Packs are a shopping list's before they are a plate's.
        if !verb && here().any(|pair| is_packed(&pair.amount)) {
            return Err("packs");
        }
        // "9 hours of calls, and supper was a slice of toast"
        let by_eye = |pair: &Pair| {
            let item = pair.item(sentence);
            rank::is_by_eye(&item, pair.household, sentence.input)
        };
        if !verb && !for_me(sentence, clause) && here().all(by_eye) {
            return Err("nobody weighed it or says that it was eaten");
        }
        // "i've got 8 beers and no money"
        let counted = |pair: &Pair| !pair.household && is_counted(&pair.amount);
        if !self.logged && here().all(counted) && self.only_has(clause) {
            return Err("somebody only has it");
        }
        if here().any(|pair| is_denied(sentence, pair)) {
            return Err("denied");
        }
        match self.forbidden(clause) {
            Some(reason) => Err(reason),
            None => Ok(()),
        }
    }

    /// Whether the words of the clause, or how little it says but the weighing, tell of eating.
    fn tells_eating(&self, clause: usize) -> bool {
        let sentence = self.sentence;
        let household = self.pairs.iter().any(|pair| {
            let clauses = sentence.clause(pair.from)..=sentence.clause(pair.to - 1);
            pair.household && clauses.contains(&clause)
        });
        let meal = || {
            sentence
                .within(clause)
                .any(|at| matches!(sentence.mark(at), Some(Mark::Meal(_))))
        };
        self.logged
            || sentence.tells(clause, "eat")
            || meal()
            || household && (self.told || for_me(sentence, clause))
            || household && density(sentence, self.pairs, clause) >= DENSE
            || is_plain(sentence, clause)
    }

    /// Nothing tells of eating but that somebody has it.
    fn only_has(&self, clause: usize) -> bool {
        let sentence = self.sentence;
        let eats = |at: &usize| sentence.cue(*at, "eat").is_some();
        let mut cues = sentence.within(clause).filter(eats).peekable();
        cues.peek().is_some() && cues.all(|at| sentence.cue(at, "has").is_some())
    }

    /// What forbids a weighing stands before it; behind it only a condition, a price, a heat or a question.
    fn forbidden(&self, clause: usize) -> Option<&'static str> {
        let sentence = self.sentence;
        let end = self
            .pairs
            .iter()
            .filter(|pair| sentence.clause(pair.at) == clause)
            .map(|pair| pair.to)
            .max();
        let before = vetoes(sentence, clause, |at| end.is_none_or(|end| at < end));
        let behind = vetoes(sentence, clause, |at| end.is_some_and(|end| at >= end));
        let asked = is_asked(sentence, clause);
        let idle: &[&str] = match self.logged {
            true => &["plan", "question", "past talk", "clock time", "negation"],
            false => &["past talk", "clock time", "negation"],
        };
        let strict = ["price", "oven setting", "shopping", "recipe"];
        let forbids = before.iter().find(|reason| !idle.contains(reason));
        let forbids = forbids.or_else(|| behind.iter().find(|reason| strict.contains(reason)));
        match forbids {
            Some(reason) => Some(reason),
            None if sentence.tells_but(clause, "if", "polite") => Some("condition"),
            None if asked && !self.logged => Some("question"),
            None => None,
        }
    }

    /// "gas mark 6, parsnips 45": beside a heat, numbers without a unit, where nobody says that it was eaten.
    fn may_be_minutes(&self) -> bool {
        let sentence = self.sentence;
        let heat = |marked: &Marked| {
            let words = marked.from.saturating_sub(1)..marked.to;
            let heat = |at| asides().longest_of(&sentence.input.slice[at..marked.to], "heat");
            marked.mark == Mark::Aside && words.into_iter().any(|at| heat(at).is_some())
        };
        let mut clauses = 0..sentence.clause_count();
        let eaten = clauses.clone().any(|clause| sentence.tells(clause, "eat"));
        let bare = |pair: &Pair| matches!(pair.amount, Amount::Bare(_));
        let heated = sentence.marks.iter().any(heat)
            || clauses.any(|clause| vetoes(sentence, clause, |_| true).contains(&"oven setting"));
        !eaten && !self.logged && heated && self.pairs.iter().all(bare)
    }

    /// A clause without a weighing may govern the one behind it: "for the party we need:".
    fn governs(&self, clause: usize, before: bool) -> bool {
        if self.logged || self.sentence.turns(clause) {
            return false;
        }
        let conditional = self.sentence.tells_but(clause, "if", "polite");
        let reasons = vetoes(self.sentence, clause, |_| true);
        conditional || before && !self.told && reasons.iter().any(|it| GOVERNING.contains(it))
    }
}

/// Whether a clause is a plan, a question, a price: what no batch is told in.
pub fn forbids(sentence: &Sentence<'_>, clause: usize) -> bool {
    is_asked(sentence, clause)
        || vetoes(sentence, clause, |_| true)
            .into_iter()
            .any(is_strict)
}

/// The clause alone is what the grammar takes for a plate.
fn is_plain(sentence: &Sentence<'_>, clause: usize) -> bool {
    let mut marks = sentence.within(clause).skip_while(|&at| {
        !matches!(
            sentence.mark(at),
            Some(Mark::Amount(_) | Mark::Dish(_) | Mark::Food(_))
        )
    });
    let Some(from) = marks.next() else {
        return false;
    };
    let to = marks.last().unwrap_or(from);
    let tokens = sentence
        .input
        .range(sentence.marks[from].from, sentence.marks[to].to);
    portion::read(tokens).is_some_and(|plates| rank::plates(tokens, 0, plates).sure)
}

/// "no, ...", "make that ...", "that was Tom's": a correction.
pub fn is_fix(sentence: &Sentence<'_>, clause: usize) -> bool {
    let Some(at) = sentence.opening(clause) else {
        return false;
    };
    let that = ["that", "thats", "those", "it"].contains(&sentence.norm(at));
    let verb = usize::from(["was", "is", "were"].contains(&sentence.norm(at + 1)));
    let owner = sentence.mark(at + 1 + verb);
    let whose =
        matches!(owner, Some(Mark::Person(_))) || sentence.cue(at + 1 + verb, "whose").is_some();
    // "other way round": a cut of beef as well.
    let opens = sentence.input.after(sentence.marks[at].from);
    cues().longest_of(opens.slice, "fix").is_some() || that && whose
}

/// Pieces, or a number that no scale shows.
fn is_counted(amount: &Amount) -> bool {
    match amount {
        Amount::Pieces { .. } => true,
        Amount::Bare(count) => *count < SCALE_GRAMS_MIN,
        _ => false,
    }
}

/// "for me", "mine"
fn for_me(sentence: &Sentence<'_>, clause: usize) -> bool {
    sentence
        .within(clause)
        .any(|at| sentence.cue(at, "me").is_some() && sentence.follows(at, "to"))
}

/// How much of a clause its weighings are.
fn density(sentence: &Sentence<'_>, pairs: &[Pair], clause: usize) -> f64 {
    let size = |at: usize| match sentence.norm(at) {
        "" if sentence.mark(at) == Some(&Mark::Word) => 0,
        _ => sentence.marks[at].to - sentence.marks[at].from,
    };
    let all: usize = sentence
        .within(clause)
        .filter(|&at| !sentence.breaks(at))
        .map(size)
        .sum();
    let weighed: usize = pairs
        .iter()
        .flat_map(|pair| pair.from..pair.to)
        .filter(|&at| sentence.clause(at) == clause && sentence.mark(at) != Some(&Mark::Word))
        .map(size)
        .sum();
    weighed as f64 / all.max(1) as f64
}

/// What forbids booking in a part of a clause, its names, amounts and courtesies left out.
pub fn vetoes(
    sentence: &Sentence<'_>,
    clause: usize,
    part: impl Fn(usize) -> bool,
) -> Vec<&'static str> {
    let polite = |at: usize| {
        (0..6.min(at + 1)).any(|back| {
            let length = sentence.cue(at - back, "polite");
            length.is_some_and(|length| length > back)
        })
    };
    // A name or an amount leaves a gap: "the dal is good" does not begin with "is".
    let token = |at: usize| &sentence.input.slice[sentence.marks[at].from];
    let gap = |at: usize| {
        let token = token(at);
        Token::new(Kind::Symbol(','), token.span.clone(), token.spaced)
    };
    let tokens: Vec<Token> = sentence
        .within(clause)
        .filter(|&at| part(at) && !polite(at))
        .flat_map(|at| match sentence.mark(at) {
            Some(Mark::Word | Mark::Aside) => {
                sentence.input.slice[sentence.marks[at].from..sentence.marks[at].to].to_vec()
            }
            Some(Mark::Break { .. }) | None => Vec::new(),
            // The table knows a food by "oven" too.
            Some(Mark::Food(_) | Mark::Foods) if forbidding().holds(token(at)) => {
                vec![token(at).clone()]
            }
            Some(_) => vec![gap(at)],
        })
        .collect();
    vetoes_in(sentence.input.with_tokens(&tokens))
}

/// A question mark closes the clause, and the next word does not answer it: "beans? 115? yeah 115".
pub fn is_asked(sentence: &Sentence<'_>, clause: usize) -> bool {
    let Some(at) = sentence.within(clause + 1).next() else {
        return false;
    };
    let told = |at: usize| !matches!(sentence.mark(at), Some(Mark::Break { .. } | Mark::Word));
    let bare = sentence
        .within(clause)
        .filter(|&at| !sentence.breaks(at))
        .all(told);
    let next = answer(sentence, at);
    let answered = bare && (sentence.tells_weight(next) || sentence.cue(next - 1, "yes").is_some());
    sentence.starts(at, '?') && !answered
}

/// "the till weighed my hand as 300 g of onions", "the app thought it was 90 soup"
pub fn is_mistaken(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let clause = sentence.clause(pair.from);
    let thought =
        |at: usize| sentence.clause(at) == clause && sentence.cue(at, "mistaken").is_some();
    sentence.follows(pair.from, "taken as") || (0..pair.from).any(thought)
}

/// "didn't have 130 soup": a denial before the weighing.
fn is_denied(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let clause = sentence.clause(pair.from);
    (0..pair.from)
        .rev()
        .take_while(|&at| sentence.clause(at) == clause)
        .any(|at| sentence.cue(at, "not").is_some())
}
