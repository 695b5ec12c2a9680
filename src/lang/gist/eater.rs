//! Whose plate each pair is on, and when it was eaten.
//!
//! Whoever is named before "had" eats what follows, whoever is named behind "for" what came before; without
//! either it is the sender. A name that does neither in a clause with a weighing leaves open who ate, and
//! nothing is read.

use super::mark::Mark;
use super::pair::{Pair, is_weight_behind};
use super::scale::is_vessel;
use super::sentence::Sentence;
use crate::lang::amount::tidy;
use crate::lang::command::share::turns_away;
use crate::lang::lost;
use crate::lang::syntax::{Amount, Day, MealName, Portion, Words};
use crate::lang::token::Kind;
use crate::lang::words::{at_table, cues, fillers, leads, talk};

/// Whoever is told of in more words than these had a story.
const SUBJECT_WORDS_MAX: usize = 5;
const NAME_WORDS_MAX: usize = 3;
/// From "my" to who that is: "my old boss".
const KIN_WORDS_MAX: usize = 2;

/// `None` is the sender.
type Who = Option<Words>;

/// One portion for each eater and day; pairs without a name take the one before ("230 for Robin").
pub fn portions(sentence: &Sentence<'_>, pairs: &mut [Pair]) -> Option<Vec<Portion>> {
    let eaters = Eaters::of(sentence, pairs)?;
    name_the_nameless(sentence, pairs, &eaters)?;
    let days = Days::of(sentence)?;
    let mut portions: Vec<Portion> = Vec::new();
    for (pair, who) in pairs.iter().zip(eaters.who) {
        if pair.name.text.is_empty() {
            continue;
        }
        let (day, meal) = days.at(sentence, pair.at);
        let item = pair.item(sentence);
        let same = portions
            .iter_mut()
            .find(|portion| portion.who == who && portion.day == day && portion.meal == meal);
        match same {
            Some(portion) => portion.items.push(item),
            None => portions.push(Portion {
                items: vec![item],
                who,
                day,
                meal,
                ..Portion::default()
            }),
        }
    }
    Some(portions)
}

/// "190 chilli for me, 230 for Robin": the same dish, said once.
fn name_the_nameless(sentence: &Sentence<'_>, pairs: &mut [Pair], eaters: &Eaters) -> Option<()> {
    for at in 0..pairs.len() {
        if !pairs[at].name.text.is_empty() {
            continue;
        }
        let before = at.checked_sub(1)?;
        if let Some(weighed) = weighed(sentence, &pairs[before], &pairs[at]) {
            pairs[before].amount = weighed;
            continue;
        }
        let other = eaters.told[at] && eaters.who[at] != eaters.who[before];
        let of_it = sentence.norm(pairs[at].at + 1) == "of"
            && matches!(
                sentence.norm(pairs[at].at + 2),
                "it" | "that" | "same" | "them"
            );
        if !other && !of_it {
            return None;
        }
        pairs[at].name = pairs[before].name.clone();
        pairs[at].household = pairs[before].household;
    }
    Some(())
}

/// "a banana, 104 g": both measures of one thing.
fn weighed(sentence: &Sentence<'_>, counted: &Pair, scale: &Pair) -> Option<Amount> {
    let (Amount::Mass(grams) | Amount::Bare(grams)) = scale.amount else {
        return None;
    };
    let near = (counted.to..scale.at).all(|at| is_weight_behind(sentence, at));
    let said = match &counted.amount {
        Amount::Pieces { .. } | Amount::Volume { .. } => counted.amount.clone(),
        _ => return None,
    };
    let last = sentence.marks[scale.at].to - 1;
    let each = [last, last + 1];
    let each = each
        .into_iter()
        .any(|at| matches!(sentence.input.norm(at), "each" | "apiece"));
    // "3 scoops of rice at 55 each"
    let times = match (&said, each) {
        (_, false) => 1.0,
        (Amount::Pieces { count, .. } | Amount::Volume { count, .. }, true) => *count,
        _ => return None,
    };
    near.then_some(Amount::Weighed {
        grams: tidy(grams * times),
        said: Box::new(said),
    })
}

/// Who ate each pair, and whether the text says so.
struct Eaters {
    who: Vec<Who>,
    told: Vec<bool>,
}

impl Eaters {
    fn of(sentence: &Sentence<'_>, pairs: &[Pair]) -> Option<Self> {
        let mut eaters = Self {
            who: vec![None; pairs.len()],
            told: vec![false; pairs.len()],
        };
        let weighing: Vec<usize> = pairs
            .iter()
            .map(|pair| sentence.clause(pair.from))
            .collect();
        let mut subject: Option<Who> = None;
        let mut named: Option<Words> = None;
        // The first pair that nobody has been named for behind it.
        let mut open = 0;
        let mut next = 0;
        // Somebody for whom nothing was told yet: "one for me, one for Tom".
        let mut waiting = false;
        // "Tom asked me to type this": what is told next may be his.
        let mut reported = stranger_eats(sentence) || strangers_listed(sentence);
        for at in 0..sentence.marks.len() {
            if next < pairs.len() && pairs[next].at == at {
                if reported && subject.is_none() {
                    return None;
                }
                waiting = false;
                eaters.told[next] = subject.is_some();
                eaters.who[next] = subject.clone().flatten();
                next += 1;
            }
            let clause = sentence.clause(at);
            let person = match sentence.mark(at)? {
                Mark::Break { soft: false } => {
                    subject = None;
                    open = next;
                    continue;
                }
                Mark::Person(who) => Some(who.clone()),
                // "my brother had 200": nobody of the household.
                Mark::Word if is_kin(sentence, at) => {
                    reported = true;
                    continue;
                }
                Mark::Word if sentence.cue(at, "me").is_some() => None,
                Mark::Word if sentence.cue(at, "they").is_some() => match named.clone() {
                    Some(who) => Some(who),
                    None if weighing.contains(&clause) && eats(sentence, at + 1) => return None,
                    None => continue,
                },
                _ => continue,
            };
            let is_person = matches!(sentence.mark(at), Some(Mark::Person(_)));
            named = if is_person { person.clone() } else { named };
            match role(sentence, at) {
                Role::For if open < next => {
                    for pair in open..next {
                        eaters.who[pair] = person.clone();
                        eaters.told[pair] = true;
                    }
                    open = next;
                }
                Role::For => {
                    waiting |= is_person && next > 0;
                    subject = Some(person);
                }
                Role::Subject => subject = Some(person),
                Role::Tail if open < next && (is_person || is_tail(sentence, at)) => {
                    for pair in open..next {
                        eaters.who[pair] = person.clone();
                        eaters.told[pair] = true;
                    }
                    open = next;
                }
                Role::Spoken => {}
                Role::Says => reported = true,
                // "Ana knocked the salsa over, binned 200, had 150 dal"
                Role::Unclear if !weighing.contains(&clause) && loses(sentence, clause) => {}
                Role::Tail | Role::Unclear => {
                    let breath = sentence.breath(clause);
                    if is_person && weighing.iter().any(|it| breath.contains(it)) {
                        return None;
                    }
                }
            }
        }
        (!waiting).then_some(eaters)
    }
}

/// "my brother had", "my old boss ate"
fn is_kin(sentence: &Sentence<'_>, at: usize) -> bool {
    let rest = sentence.input.after(sentence.marks[at].from);
    let kin = |skip: usize| at_table().longest_of(rest.after(skip).slice, "kin");
    rest.norm(0) == "my"
        && (1..=KIN_WORDS_MAX)
            .filter_map(|skip| Some(skip + kin(skip)?))
            .any(|end| matches!(rest.norm(end), "had" | "ate" | "has" | "took"))
}

/// "280 me, the rest Ana": so much was the sender's.
fn is_tail(sentence: &Sentence<'_>, at: usize) -> bool {
    let weighed = at > 0 && matches!(sentence.mark(at - 1), Some(Mark::Amount(_)));
    weighed && matches!(sentence.norm(at), "me" | "myself" | "mine")
}

/// "anna had 200", "the gentleman upstairs had 180": somebody whom nobody knows.
fn stranger_eats(sentence: &Sentence<'_>) -> bool {
    (0..sentence.clause_count()).any(|clause| {
        let mut marks = sentence.within(clause).filter(|&at| !sentence.breaks(at));
        let Some(mut first) = marks.next() else {
            return false;
        };
        while sentence.joins(first) {
            first += 1;
        }
        if sentence.mark(first) != Some(&Mark::Word) {
            return false;
        }
        let eats = |at: usize| matches!(sentence.norm(at), "had" | "ate" | "has" | "took");
        let unknown = |at: usize| sentence.mark(at) == Some(&Mark::Word) && !is_idle(sentence, at);
        // "In the news: a man ate 200 snails"
        let headed = |at: &usize| {
            let before = sentence.marks[*at].from.checked_sub(1);
            before.is_some_and(|before| sentence.input.slice[before].is(':'))
        };
        first = marks.find(headed).unwrap_or(first);
        match sentence.cue(first, "somebody") {
            Some(article) => {
                let begins = first + article;
                let words = (begins..begins + SUBJECT_WORDS_MAX).take_while(|&at| {
                    matches!(sentence.mark(at), Some(Mark::Word | Mark::Foods)) && !eats(at)
                });
                let end = begins + words.count();
                let known = |at: usize| {
                    is_vessel(sentence.norm(at))
                        || ["nobody", "me", "eat"]
                            .iter()
                            .any(|key| sentence.cue(at, key).is_some())
                };
                end > begins && eats(end) && !(begins..end).any(known)
            }
            None => (1..=NAME_WORDS_MAX)
                .any(|words| eats(first + words) && (first..first + words).all(unknown)),
        }
    })
}

/// Somebody lost something in this clause.
fn loses(sentence: &Sentence<'_>, clause: usize) -> bool {
    let signs = lost::signs(sentence.input).unwrap_or_default();
    let mut marks = sentence.within(clause);
    marks.any(|at| {
        signs
            .iter()
            .any(|sign| sign.from == sentence.marks[at].from)
    })
}

/// "Tom 190 stew, Ana 140 barley, me 210 soup", where nobody knows Tom and Ana.
fn strangers_listed(sentence: &Sentence<'_>) -> bool {
    let weighed = |clause: usize| {
        let mut marks = sentence.within(clause);
        let first = marks.find(|&at| !sentence.breaks(at) && !sentence.joins(at))?;
        matches!(sentence.mark(first + 1), Some(Mark::Amount(_))).then_some(first)
    };
    let heads = || (0..sentence.clause_count()).filter_map(weighed);
    let unknown = |at: &usize| sentence.mark(*at) == Some(&Mark::Word) && !is_idle(sentence, *at);
    let person = |at: usize| {
        matches!(sentence.mark(at), Some(Mark::Person(_))) || sentence.cue(at, "me").is_some()
    };
    let strangers = heads().filter(unknown).count();
    strangers > 1 || strangers == 1 && heads().any(person)
}

/// A word that may well stand before "had" and is nobody.
fn is_idle(sentence: &Sentence<'_>, at: usize) -> bool {
    let norm = sentence.norm(at);
    let rest = &sentence.input.slice[sentence.marks[at].from..];
    norm.len() < 3
        || norm.ends_with("ly")
        || fillers().has(norm)
        || leads().longest(rest).is_some()
        || talk().has(norm)
        || cues().longest(rest).is_some()
}

enum Role {
    /// "for Tom"
    For,
    /// "Tom had", "Tom:", "Tom's plate"
    Subject,
    /// "130 soup Tom"
    Tail,
    /// "thanks Tom"
    Spoken,
    /// "Tom texted"
    Says,
    Unclear,
}

fn role(sentence: &Sentence<'_>, at: usize) -> Role {
    if sentence.follows(at, "greet") {
        return Role::Spoken;
    }
    // "I had 150 dal, not Ana"; "50 rice from Tom" may come off his plate.
    if at > 0 && turns_away(sentence.norm(at - 1)) {
        let denied = sentence.norm(at - 1) == "not";
        return if denied { Role::Spoken } else { Role::Unclear };
    }
    if sentence.follows(at, "to") {
        return Role::For;
    }
    let next = at + 1;
    let colon = sentence
        .marks
        .get(next)
        .is_some_and(|marked| sentence.input.slice[marked.from].kind == Kind::Symbol(':'));
    let owns = sentence.cue(next, "plate of").is_some()
        || matches!(sentence.mark(next), Some(Mark::Meal(_)));
    let onto = at > 0 && matches!(sentence.norm(at - 1), "on" | "to" | "under" | "in");
    if owns && onto {
        return Role::For;
    }
    if colon || owns || eats(sentence, next) || sentence.cue(next, "log").is_some() {
        return Role::Subject;
    }
    if sentence.cue(next, "says").is_some() {
        return Role::Says;
    }
    match sentence.mark(next) {
        _ if sentence.cue(next, "here").is_some() => Role::Spoken,
        Some(Mark::Amount(_)) => Role::Subject,
        None | Some(Mark::Break { .. }) => Role::Tail,
        _ => Role::Unclear,
    }
}

/// An eating word here, or behind a word or two: "Ana just nicked".
fn eats(sentence: &Sentence<'_>, at: usize) -> bool {
    (at..at + 3)
        .take_while(|&next| next == at || sentence.mark(next - 1) == Some(&Mark::Word))
        .any(|next| sentence.cue(next, "eat").is_some())
}

/// The days and meals that are named.
struct Days(Vec<(usize, Day)>, Vec<(usize, MealName)>);

impl Days {
    fn of(sentence: &Sentence<'_>) -> Option<Self> {
        let mut days = Self(Vec::new(), Vec::new());
        for (at, marked) in sentence.marks.iter().enumerate() {
            match &marked.mark {
                Mark::Day(Day::Ahead) => return None,
                Mark::Day(day) => days.0.push((at, day.clone())),
                Mark::Meal(meal) => days.1.push((at, *meal)),
                _ => {}
            }
        }
        Some(days)
    }

    /// One that is named alone holds for the whole message; of several the one of the clause, or the last
    /// before the amount.
    fn at(&self, sentence: &Sentence<'_>, pair: usize) -> (Option<Day>, Option<MealName>) {
        let day = nearest(sentence, &self.0, pair);
        (day, nearest(sentence, &self.1, pair))
    }
}

fn nearest<T: Clone>(sentence: &Sentence<'_>, said: &[(usize, T)], pair: usize) -> Option<T> {
    let clause = sentence.clause(pair);
    let mut here = said.iter().filter(|(at, _)| sentence.clause(*at) == clause);
    if let (Some((_, only)), None) = (here.next(), here.next()) {
        return Some(only.clone());
    }
    let before = said.iter().rev().find(|(at, _)| *at < pair);
    // "rice 145, yesterday noon 130 beans": what leads to a later amount is of that one.
    let leads = |at: usize| {
        let later = sentence
            .within(sentence.clause(at))
            .filter(|&later| later > at);
        sentence.clause(at) != clause
            && later
                .into_iter()
                .any(|later| matches!(sentence.mark(later), Some(Mark::Amount(_))))
    };
    before
        .or_else(|| said.iter().find(|(at, _)| *at > pair && !leads(*at)))
        .map(|(_, what)| what.clone())
}
