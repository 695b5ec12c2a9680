//! What each amount of a message is told of: it was lost, it is what is left, or it was eaten.
//!
//! ```text
//! region := the words around an amount, up to a break or a joining word on the way to the next
//! lost    := region with a sign of a loss (lost.rs)
//! counted := region with (recount | left | weighed (again | now | left | books)), or an amount beside one
//!            that the books have and that is denied
//! eaten   := region with a word of eating, or, beside a loss, that says for whom it was
//! ```
//! The words behind an amount belong to it up to the first break, those behind the break to the next one. An
//! amount of which nothing is told goes with the others, as long as they agree; but what is weighed before a
//! part of the same dish that was lost ("130 soup, 70 in the bin") may be a plate, or what the part is of.

use std::ops::Range;

use super::asked::says;
use super::mark::Mark;
use super::pair::{Pair, amounts};
use super::scale::vessel;
use super::sentence::Sentence;
use crate::lang::command::on_scale::is_plate;
use crate::lang::lost::{self, Loss, Sign};
use crate::lang::syntax::{Amount, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::{is_strict, vetoes_in};
use crate::lang::words::{at_scale, counts, fillers, losses, vetoes};

/// So little is left on a plate, not in a pot.
const LEFT_GRAMS_MIN: f64 = 150.0;
/// More of a dish is on no plate.
const PLATE_GRAMS_MAX: f64 = 1000.0;
/// How far before an amount its denial stands.
const DENIAL_MARKS: usize = 4;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tale {
    Lost,
    Counted,
    Eaten,
}

#[derive(Debug, Clone)]
pub struct Told {
    pub pair: Pair,
    pub tale: Tale,
    /// The marks of the words around it.
    pub region: Range<usize>,
    /// Something that the books have was denied beside it.
    pub against_books: bool,
}

/// The amounts of the message with what is told of them; nothing when one of them tells nothing or two
/// things, or when a plan, a question or a story governs them.
pub fn tales(sentence: &Sentence<'_>) -> Option<Vec<Told>> {
    let signs = lost::signs(sentence.input).unwrap_or_default();
    let (pairs, used) = amounts(sentence)?;
    let (denied, mut pairs): (Vec<Pair>, Vec<Pair>) = pairs
        .into_iter()
        .partition(|pair| is_denied(sentence, pair));
    if pairs.is_empty() || is_governed(sentence, &signs) {
        return None;
    }
    let only = only_dish(sentence);
    let own_names: Vec<bool> = pairs
        .iter()
        .map(|pair| !pair.name.text.is_empty())
        .collect();
    let unweighed = |at: usize| !used[at] && matches!(sentence.mark(at), Some(Mark::Dish(_)));
    if only.is_none() && (0..used.len()).any(unweighed) {
        return None;
    }
    for pair in &mut pairs {
        if pair.name.text.is_empty() {
            let (at, name) = only.clone()?;
            if counts_something(sentence, &signs, pair.at + 1) || !reaches(sentence, at, pair.at) {
                return None;
            }
            pair.name = name;
            pair.household = true;
        }
    }
    let spots: Vec<Range<usize>> = pairs
        .iter()
        .map(|pair| pair.from.min(pair.at)..pair.to.max(pair.at + 1))
        .collect();
    let regions = regions(sentence, &spots);
    let alone = pairs.len() == 1;
    let tales: Vec<Option<Tale>> = pairs
        .iter()
        .zip(&regions)
        .map(|(pair, region)| match denied.is_empty() {
            true => tale(sentence, &signs, pair, region.clone(), alone),
            false => is_in_a_pot(sentence, pair)
                .then_some(Some(Tale::Counted))
                .ok_or(Unclear),
        })
        .collect::<Result<_, Unclear>>()
        .ok()?;
    let mut said = tales.iter().flatten();
    let first = *said.next()?;
    let later = is_told_later(sentence, &signs, &pairs, &tales);
    let before = tales.iter().take_while(|tale| tale.is_none()).count();
    let agree = said.all(|tale| *tale == first) && !may_hold_the_lost(&pairs, &own_names, &tales);
    pairs
        .into_iter()
        .zip(regions)
        .zip(tales)
        .enumerate()
        .map(|(at, ((pair, region), tale))| {
            let unsaid = match later && at < before {
                true => is_bare(sentence, &pair, region.clone()).then_some(Tale::Eaten),
                false => agree.then_some(first),
            };
            Some(Told {
                pair,
                tale: tale.or(unsaid)?,
                region,
                against_books: !denied.is_empty(),
            })
        })
        .collect()
}

/// "130 soup, 70 down the sink": of the first nothing is told, and the second is of the same dish.
fn may_hold_the_lost(pairs: &[Pair], own_names: &[bool], tales: &[Option<Tale>]) -> bool {
    (1..pairs.len()).any(|at| {
        let part = tales[at] == Some(Tale::Lost) && !own_names[at];
        part && tales[at - 1].is_none() && own_names[at - 1]
    })
}

/// "110 dal, and binned 60 rice": a sign before its own amount tells nothing of those before it.
fn is_told_later(
    sentence: &Sentence<'_>,
    signs: &[Sign],
    pairs: &[Pair],
    tales: &[Option<Tale>],
) -> bool {
    let Some(at) = tales.iter().position(Option::is_some).filter(|&at| at > 0) else {
        return false;
    };
    let token = |pair: &Pair| sentence.marks[pair.at].from;
    let between = token(&pairs[at - 1])..token(&pairs[at]);
    let behind = signs.iter().any(|sign| sign.from > between.end);
    tales[at] == Some(Tale::Lost)
        && !behind
        && signs.iter().any(|sign| between.contains(&sign.from))
}

/// A weighing on a plate, and nothing said of it.
fn is_bare(sentence: &Sentence<'_>, pair: &Pair, region: Range<usize>) -> bool {
    let own = pair.from.min(pair.at)..pair.to.max(pair.at + 1);
    let idle = |at: usize| sentence.norm(at).is_empty() || sentence.joins(at);
    grams(pair).is_some_and(|grams| grams <= PLATE_GRAMS_MAX)
        && region.into_iter().all(|at| own.contains(&at) || idle(at))
}

/// Two things are told of one amount.
struct Unclear;

fn tale(
    sentence: &Sentence<'_>,
    signs: &[Sign],
    pair: &Pair,
    region: Range<usize>,
    alone: bool,
) -> Result<Option<Tale>, Unclear> {
    let within = |sign: &&Sign| {
        region
            .clone()
            .any(|at| sentence.marks[at].from == sign.from)
    };
    let clause = sentence.clause(pair.at);
    let beside = |sign: &Sign| {
        sentence
            .within(clause)
            .any(|at| sentence.marks[at].from == sign.from)
    };
    // "210 soup, was too hot, dropped my spoon": a weighed dish needs its loss in the same clause.
    let tight = matches!(
        sentence.mark(sentence.after_links(pair.at + 1)),
        Some(Mark::Dish(_))
    );
    let lost = signs
        .iter()
        .filter(within)
        .filter(|sign| sign.kind != Loss::Spoiled)
        .any(|sign| !tight || beside(sign) || sign.kind == Loss::Away && sign.of_it);
    let plated = region.clone().any(|at| is_on_a_plate(sentence, at));
    let counted = is_counted(sentence, pair, region.clone());
    let eaten = || {
        region.clone().any(|at| {
            let token = sentence.marks[at].from;
            let of_loss = signs
                .iter()
                .any(|sign| (sign.from..sign.to).contains(&token));
            !of_loss && sentence.cue(at, "eat").is_some() && !is_uneaten(sentence, at)
        })
    };
    match (lost, counted) {
        (true, _) if counted || plated && alone => Err(Unclear),
        (true, _) => Ok(Some(Tale::Lost)),
        (false, true) if eaten() => Err(Unclear),
        (false, true) => Ok(Some(Tale::Counted)),
        (false, false) => {
            let first = pair.from.min(pair.at);
            let leads = |at: usize| {
                let mut between = at + 1..first;
                at < first
                    && is_somebody(sentence, at)
                    && between.all(|at| sentence.norm(at).is_empty())
            };
            let tells = |at: usize| leads(at) || is_for(sentence, at);
            let whose = || !signs.is_empty() && region.clone().any(tells);
            Ok((eaten() || whose()).then_some(Tale::Eaten))
        }
    }
}

/// "me", "Tom"
fn is_somebody(sentence: &Sentence<'_>, at: usize) -> bool {
    let person = matches!(sentence.mark(at), Some(Mark::Person(_)));
    person || matches!(sentence.norm(at), "me" | "myself")
}

/// "130 soup for me", "130 soup Tom": whose it was.
fn is_for(sentence: &Sentence<'_>, at: usize) -> bool {
    let ends = sentence.mark(at + 1).is_none() || sentence.breaks(at + 1) || sentence.joins(at + 1);
    is_somebody(sentence, at) && (ends || sentence.follows(at, "to"))
}

/// "on her plate", but "not on anyone's plate".
fn is_on_a_plate(sentence: &Sentence<'_>, at: usize) -> bool {
    let denied = |at: usize| sentence.cue(at, "not").is_some();
    is_plate(sentence.norm(at)) && !(at.saturating_sub(DENIAL_MARKS)..at).any(denied)
}

fn is_counted(sentence: &Sentence<'_>, pair: &Pair, region: Range<usize>) -> bool {
    let denied = |at: usize| at > 0 && phrase(sentence, at - 1, "deny").is_some();
    let says = |key| {
        region
            .clone()
            .any(|at| phrase(sentence, at, key).is_some() && !denied(at))
    };
    let plated = region.clone().any(|at| is_on_a_plate(sentence, at))
        || region.clone().any(|at| {
            sentence.cue(at, "me").is_some() && phrase(sentence, at + 1, "left").is_some()
        });
    let looked = says("weighed");
    let left =
        says("left") && !plated && (looked || grams(pair).is_none_or(|it| it >= LEFT_GRAMS_MIN));
    says("recount")
        || says("uneaten")
        || left
        || looked && (says("again") || says("now") || says("books") || says("set"))
        || says("books")
        || says("should") && looked
}

/// Within "nobody has eaten any".
fn is_uneaten(sentence: &Sentence<'_>, at: usize) -> bool {
    let begins = |from: usize| {
        phrase(sentence, from, "uneaten")
            .is_some_and(|length| sentence.marks[from].from + length > sentence.marks[at].from)
    };
    (at.saturating_sub(DENIAL_MARKS)..=at).any(begins)
}

/// "rice isnt 1400 its 1310": so much is no plate, and somebody says what it is.
fn is_in_a_pot(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let all = 0..sentence.marks.len();
    let says = |key| all.clone().any(|at| phrase(sentence, at, key).is_some());
    let is = || matches!(sentence.norm(pair.at - 1), "is" | "its" | "are" | "theyre");
    let told = says("weighed") || says("left") || says("books") || says("recount");
    (told || pair.at > 0 && is()) && grams(pair).is_some_and(|grams| grams >= LEFT_GRAMS_MIN)
}

/// The grams of an amount that a scale shows.
pub fn grams(pair: &Pair) -> Option<f64> {
    match pair.amount {
        Amount::Mass(grams) | Amount::Bare(grams) | Amount::Weighed { grams, .. } => Some(grams),
        _ => None,
    }
}

/// "not 1400", "you say 900 beans": what stands in the books, and is not so.
fn is_denied(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let ends_here = |at: usize, length: usize| {
        let behind = sentence.after_links(at + length);
        behind == pair.at || behind == pair.from
    };
    let before = pair.at.saturating_sub(DENIAL_MARKS)..pair.at;
    before.into_iter().any(|at| {
        ["deny", "books"]
            .iter()
            .any(|key| phrase(sentence, at, key).is_some_and(|length| ends_here(at, length)))
    })
}

/// How many marks from here are a phrase of this part of a count.
pub fn phrase(sentence: &Sentence<'_>, at: usize, key: &'static str) -> Option<usize> {
    let marked = sentence.marks.get(at)?;
    counts().longest_of(sentence.input.after(marked.from).slice, key)
}

/// "250 leaflets": a word behind an amount that nothing explains is what it counts.
pub fn counts_something(sentence: &Sentence<'_>, signs: &[Sign], at: usize) -> bool {
    let Some(Mark::Word) = sentence.mark(at) else {
        return false;
    };
    let marked = &sentence.marks[at];
    let rest = sentence.input.after(marked.from);
    let around = ["link", "to", "join", "but", "is", "me", "they", "eat"];
    let explained = rest.norm(0).is_empty()
        || vessel(sentence, at..at + 1)
        || signs.iter().any(|sign| sign.from == marked.from)
        || around.iter().any(|key| sentence.cue(at, key).is_some())
        || [counts(), losses(), at_scale(), vetoes()]
            .iter()
            .any(|list| list.longest(rest.slice).is_some())
        || fillers().has(rest.norm(0));
    !explained
}

/// A dish is told of before its amount, or behind it in a clause of its own: "dog nicked 200, parsnips".
fn reaches(sentence: &Sentence<'_>, dish: usize, amount: usize) -> bool {
    let clause = sentence.clause(dish);
    let alone = || {
        sentence.within(clause).all(|at| {
            at == dish
                || sentence.norm(at).is_empty()
                || sentence.cue(at, "link").is_some()
                || sentence.norm(at) == "was"
        })
    };
    dish < amount || clause == sentence.clause(amount) || alone()
}

/// The first place of the one dish that the message names, however often.
fn only_dish(sentence: &Sentence<'_>) -> Option<(usize, Words)> {
    let mut dishes = sentence
        .marks
        .iter()
        .enumerate()
        .filter_map(|(at, marked)| match &marked.mark {
            Mark::Dish(name) => Some((at, name)),
            _ => None,
        });
    let (at, first) = dishes.next()?;
    dishes
        .all(|(_, other)| other.text.eq_ignore_ascii_case(&first.text))
        .then(|| (at, first.clone()))
}

/// The words around each amount, given the marks that it covers with its name.
pub fn regions(sentence: &Sentence<'_>, spots: &[Range<usize>]) -> Vec<Range<usize>> {
    // "430 after me": a word of time goes on about the same amount.
    let breaks = |at: usize| {
        let broken = sentence.breaks(at);
        broken && matches!(sentence.norm(at), "" | "but" | "so" | "because" | "cos")
    };
    let wordless =
        |at: usize| sentence.mark(at) != Some(&Mark::Word) || sentence.norm(at).is_empty();
    let mut cuts = vec![0];
    for two in spots.windows(2) {
        let mut between = two[0].end..two[1].start.max(two[0].end);
        let cut = between.find(|&at| breaks(at) || sentence.joins(at));
        // "100 eaten 50 binned": without a break, what the first one has before it tells how they go.
        let trails = (0..two[0].start).all(wordless);
        let whole = if trails { two[1].start } else { two[0].end };
        cuts.push(cut.unwrap_or(whole));
    }
    cuts.push(sentence.marks.len());
    cuts.windows(2).map(|two| two[0]..two[1]).collect()
}

/// "is this rice ok", "hm so is it one for the dog": a clause that opens as a question, with no mark behind it.
fn asks_whether(input: Tokens<'_>) -> bool {
    let verb = |at: usize| {
        matches!(
            input.norm(at),
            "is" | "are" | "do" | "does" | "shall" | "can"
        )
    };
    let whom = |at: usize| {
        let who = "it this that the these those they there we i you our my anybody anyone";
        who.split(' ').any(|word| word == input.norm(at))
    };
    let leads = |at: usize| {
        let word = input.norm(at);
        word.is_empty() || matches!(word, "or" | "and" | "but") || says(input, at, "lead").is_some()
    };
    (0..input.len()).any(|at| verb(at) && whom(at + 1) && (at == 0 || leads(at - 1)))
}

/// "ok or binned", "the bin or the fridge": what was done is still to be told.
fn is_either(input: Tokens<'_>, sign: &Sign) -> bool {
    let before = sign.from > 0 && input.norm(sign.from - 1) == "or";
    sign.kind == Loss::Away && (before || input.norm(sign.to) == "or")
}

/// A plan, a question, a condition, a price or a story, in any clause.
pub fn is_governed(sentence: &Sentence<'_>, signs: &[Sign]) -> bool {
    let input = sentence.input;
    let mut beside: Vec<Token> = Vec::new();
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let explained = [
            counts().longest(rest.slice).map_or(0, |(length, _)| length),
            losses().longest(rest.slice).map_or(0, |(length, _)| length),
            at_scale()
                .longest(rest.slice)
                .map_or(0, |(length, _)| length),
            signs
                .iter()
                .find(|sign| sign.from == at)
                .map_or(0, |sign| sign.to - sign.from),
        ]
        .into_iter()
        .max()
        .unwrap_or(0);
        if explained == 0 {
            beside.push(input.slice[at].clone());
        }
        at += explained.max(1);
    }
    let asked = input.slice.iter().any(|token| token.is('?'))
        || asks_whether(input)
        || signs.iter().any(|sign| is_either(input, sign));
    let unexplained = |at: usize| {
        beside
            .iter()
            .any(|token| token.span == input.slice[sentence.marks[at].from].span)
    };
    let told =
        (0..sentence.marks.len()).any(|at| sentence.cue(at, "story").is_some() && unexplained(at));
    asked || told || vetoes_in(input.with(&beside)).into_iter().any(is_strict)
}
