//! Which amount belongs to which name.

use super::amountless::{is_beside_a_name, is_listed, is_untold};
use super::mark::Mark;
use super::sentence::Sentence;
use crate::lang::syntax::{Amount, Item, Words};
use crate::lang::words::fillers;

/// Words that may stand between a name and its amount.
const APART_MAX: usize = 5;

#[derive(Debug, Clone)]
pub struct Pair {
    pub amount: Amount,
    pub name: Words,
    /// The household's own, not a food of the table.
    pub household: bool,
    /// The mark of its amount.
    pub at: usize,
    /// The marks that it covers.
    pub from: usize,
    pub to: usize,
}

impl Pair {
    pub fn item(&self, sentence: &Sentence<'_>) -> Item {
        let tokens = sentence.input.range(
            sentence.marks[self.from].from,
            sentence.marks[self.to - 1].to,
        );
        Item::new(self.amount.clone(), self.name.clone()).at(tokens.span())
    }
}

/// The pairs in the order of the text; an amount without a name of its own has an empty one. Nothing when
/// a number is not explained, or a name in a list has no amount.
pub fn pairs(sentence: &Sentence<'_>) -> Option<Vec<Pair>> {
    let marks = &sentence.marks;
    let (mut pairs, mut used) = joined(sentence)?;
    if let Some((name, amount)) = sole(sentence, &used) {
        used[name] = true;
        used[amount] = true;
        pairs.extend(pair(sentence, name, amount));
    }
    let nameless = (0..marks.len()).filter(|&at| !used[at]);
    for at in nameless {
        match &marks[at].mark {
            Mark::Amount(amount) => pairs.extend(nameless_pair(sentence, &pairs, amount, at)),
            Mark::Dish(name) | Mark::Food(name) if is_said_again(&pairs, name) => {}
            Mark::Dish(_) | Mark::Food(_) | Mark::Foods if is_listed(sentence, at, &used) => {
                return None;
            }
            // What the household has is on the plate too, or it would not be told in one breath.
            Mark::Dish(_) if is_untold(sentence, at, &used) => return None,
            // "chicken chilli" is another dish than the chilli.
            Mark::Dish(_) | Mark::Food(_) | Mark::Foods
                if is_beside_a_name(sentence, at, &used) =>
            {
                return None;
            }
            _ => {}
        }
    }
    pairs.sort_by_key(|pair| pair.from);
    take_back(sentence, &mut pairs);
    pairs
        .iter()
        .any(|pair| !pair.name.text.is_empty())
        .then_some(pairs)
}

/// Every amount in the order of the text, with the name that stands beside it if there is one, and which
/// marks are in pairs.
pub fn amounts(sentence: &Sentence<'_>) -> Option<(Vec<Pair>, Vec<bool>)> {
    let (mut pairs, used) = joined(sentence)?;
    for at in (0..used.len()).filter(|&at| !used[at]) {
        if let Mark::Amount(amount) = &sentence.marks[at].mark {
            pairs.extend(nameless_pair(sentence, &pairs, amount, at));
        }
    }
    pairs.sort_by_key(|pair| pair.from);
    Some((pairs, used))
}

/// Names and amounts that stand beside each other, and which marks they take; nothing when a number is not
/// explained.
fn joined(sentence: &Sentence<'_>) -> Option<(Vec<Pair>, Vec<bool>)> {
    let marks = &sentence.marks;
    if marks.iter().any(|marked| marked.mark == Mark::Stray) {
        return None;
    }
    let mut pairs: Vec<Pair> = Vec::new();
    let mut used = vec![false; marks.len()];
    for at in (0..marks.len()).filter(|&at| marks[at].mark == Mark::Vague) {
        let (name, amount) = vague(sentence, at)?;
        used[name] = true;
        used[amount] = true;
        pairs.extend(pair(sentence, name, amount));
    }
    for (at, other) in turns(sentence) {
        if used[at] || used[other] {
            continue;
        }
        used[at] = true;
        used[other] = true;
        pairs.extend(pair(sentence, at, other));
    }
    for reach in [tight, name_first, loose] {
        for at in 0..marks.len() {
            let Some(other) = reach(sentence, at, &used) else {
                continue;
            };
            used[at] = true;
            used[other] = true;
            pairs.extend(pair(sentence, at, other));
        }
    }
    Some((pairs, used))
}

/// An amount without a name beside it: more of the name before ("180 and then 95"), the same number
/// again ("115? yeah 115"), or of something that is told later.
fn nameless_pair(
    sentence: &Sentence<'_>,
    pairs: &[Pair],
    amount: &Amount,
    at: usize,
) -> Option<Pair> {
    let before = pairs
        .iter()
        .filter(|pair| pair.to <= at)
        .max_by_key(|pair| pair.to);
    let own = Pair {
        amount: amount.clone(),
        name: Words::default(),
        household: false,
        at,
        from: at,
        to: at + 1,
    };
    let Some(before) = before.filter(|pair| !pair.name.text.is_empty()) else {
        return Some(own);
    };
    if before.amount == *amount && all_of(sentence, before.to..at, "yes") {
        return None;
    }
    // Nothing else is named behind it: "20 more", "then 95."
    let ends = match sentence.mark(at + 1) {
        None | Some(Mark::Break { .. }) => true,
        _ => sentence.cue(at + 1, "more").is_some(),
    };
    // "130 soup and 90": of what, nobody says, unless it is told as more.
    let joined = before.to + 1 == at && sentence.norm(before.to) == "and";
    let untold = joined && sentence.cue(at + 1, "more").is_none();
    let more = all_of(sentence, before.to..at, "more") && ends && !untold;
    let mass = matches!(amount, Amount::Mass(_) | Amount::Bare(_));
    let (name, household) = match more && mass {
        true => (before.name.clone(), before.household),
        false => (own.name.clone(), own.household),
    };
    Some(Pair {
        name,
        household,
        ..own
    })
}

/// "400 soup, poured 120 back": what went back is taken off what was put on the plate.
fn take_back(sentence: &Sentence<'_>, pairs: &mut Vec<Pair>) {
    let grams = |pair: &Pair| match pair.amount {
        Amount::Mass(grams) | Amount::Bare(grams) => Some(grams),
        _ => None,
    };
    let mut at = 1;
    while at < pairs.len() {
        let (one, other) = (&pairs[at - 1], &pairs[at]);
        let taken = other.name.text.is_empty()
            && !one.name.text.is_empty()
            && went_back(sentence, other.at);
        let left = grams(one)
            .zip(grams(other))
            .map(|(one, other)| one - other)
            .filter(|&left| taken && left > 0.0);
        match left {
            Some(left) => {
                pairs[at - 1].amount = Amount::Mass(left);
                pairs.remove(at);
            }
            None => at += 1,
        }
    }
}

/// "40 went back", "poured 120 back", "less the 60"
fn went_back(sentence: &Sentence<'_>, at: usize) -> bool {
    let told = (at + 1..=at + 2).any(|next| sentence.cue(next, "returned").is_some());
    let poured = sentence.norm(at + 1) == "back" && sentence.follows(at, "put");
    told || poured || sentence.follows(at, "less")
}

/// Behind the end of a sentence and a yes: "beans? yes, 140".
pub fn answer(sentence: &Sentence<'_>, mut at: usize) -> usize {
    loop {
        if sentence.breaks(at) {
            at += 1;
        } else if let Some(length) = sentence.cue(at, "yes") {
            at += length;
        } else {
            return at;
        }
    }
}

/// Whether nothing stands there but breaks and words of this kind, and at least one of those.
fn all_of(sentence: &Sentence<'_>, places: std::ops::Range<usize>, key: &'static str) -> bool {
    let mut at = places.start;
    let mut told = false;
    while at < places.end {
        match sentence.mark(at) {
            Some(Mark::Break { .. }) => at += 1,
            Some(Mark::Word) => match sentence.cue(at, key) {
                Some(length) => {
                    told = true;
                    at += length;
                }
                None if sentence.norm(at).is_empty() => at += 1,
                None => return false,
            },
            _ => return false,
        }
    }
    told
}

/// "on bread, bread was 72": the name is told with its amount elsewhere.
fn is_said_again(pairs: &[Pair], name: &Words) -> bool {
    let said = name.text.to_lowercase();
    pairs
        .iter()
        .any(|pair| pair.name.text.to_lowercase() == said)
}

/// "a splash of yogurt (35)": the name of a vague amount, and what the scale said of it.
fn vague(sentence: &Sentence<'_>, at: usize) -> Option<(usize, usize)> {
    let name = sentence.after_links(at + 1);
    if !matches!(sentence.mark(name), Some(Mark::Dish(_) | Mark::Food(_))) {
        return None;
    }
    let amount = (name + 1..).find(|&next| !is_weight_behind(sentence, next))?;
    sentence.tells_weight(amount).then_some((name, amount))
}

/// What may stand between a thing and its weight: "yogurt (35)", "1 slice of bread at 44g".
pub fn is_weight_behind(sentence: &Sentence<'_>, at: usize) -> bool {
    match sentence.mark(at) {
        Some(Mark::Break { soft }) => *soft || sentence.starts(at, '('),
        Some(Mark::Word) => {
            sentence.norm(at).is_empty()
                || sentence.norm(at) == "at"
                || sentence.cue(at, "is").is_some()
        }
        _ => false,
    }
}

fn pair(sentence: &Sentence<'_>, one: usize, other: usize) -> Option<Pair> {
    let (from, to) = (one.min(other), one.max(other) + 1);
    let (mut said, mut name) = (None, None);
    for place in [one, other] {
        match sentence.mark(place)? {
            Mark::Amount(amount) => said = Some((amount.clone(), place)),
            Mark::Dish(words) => name = Some((words.clone(), true)),
            Mark::Food(words) => name = Some((words.clone(), false)),
            _ => {}
        }
    }
    let ((name, household), (amount, at)) = (name?, said?);
    Some(Pair {
        amount,
        name,
        household,
        at,
        from,
        to,
    })
}

fn is_amount(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> bool {
    matches!(sentence.mark(at), Some(Mark::Amount(_))) && !used[at]
}

fn is_name(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> bool {
    matches!(sentence.mark(at), Some(Mark::Dish(_) | Mark::Food(_))) && !used[at]
}

/// "the dal is glowing. 175 of it in my belly": the one dish and the one weight that are left belong
/// together, whatever is said between them.
fn sole(sentence: &Sentence<'_>, used: &[bool]) -> Option<(usize, usize)> {
    let mut dishes =
        (0..used.len()).filter(|&at| !used[at] && matches!(sentence.mark(at), Some(Mark::Dish(_))));
    let mut amounts = (0..used.len())
        .filter(|&at| !used[at] && matches!(sentence.mark(at), Some(Mark::Amount(_))));
    let (dish, amount) = (dishes.next()?, amounts.next()?);
    let only = dishes.next().is_none() && amounts.next().is_none() && !used.contains(&true);
    let other = (dish..amount).any(|at| matches!(sentence.mark(at), Some(Mark::Food(_))));
    // "put the soup on at 180" is an oven.
    let tells = dish < amount
        && sentence.tells_weight(amount)
        && !counts(sentence, amount)
        && sentence.norm(amount - 1) != "at";
    (only && tells && !other).then_some((dish, amount))
}

/// "12 hectares": a bare number before a word of its own counts something else.
fn counts(sentence: &Sentence<'_>, at: usize) -> bool {
    let bare = matches!(sentence.mark(at), Some(Mark::Amount(Amount::Bare(_))));
    let norm = sentence.norm(at + 1);
    let word = sentence.mark(at + 1) == Some(&Mark::Word) && !norm.is_empty();
    let idle = fillers().has(norm)
        || ["link", "join", "to", "is", "me", "eat", "more"]
            .iter()
            .any(|key| sentence.cue(at + 1, key).is_some());
    // "30 to feed"
    let purpose = sentence.cue(at + 1, "to").is_some()
        && sentence.mark(at + 2) == Some(&Mark::Word)
        && !sentence.norm(at + 2).is_empty()
        && sentence.cue(at + 2, "me").is_none();
    bare && word && (!idle || purpose)
}

/// "soup 275 bread 60 butter 10": names and amounts by turns, a name first, in one breath.
fn turns(sentence: &Sentence<'_>) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    for clause in 0..sentence.clause_count() {
        let told: Vec<usize> = sentence
            .within(clause)
            .filter(|&at| {
                matches!(
                    sentence.mark(at),
                    Some(Mark::Amount(_) | Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
                )
            })
            .collect();
        // "same old dal 😄 dal 170 rice 130": names alone may stand before.
        let amount = |at: usize| matches!(sentence.mark(at), Some(Mark::Amount(_)));
        let first = told.iter().position(|&at| amount(at)).unwrap_or(0);
        let told = &told[first.saturating_sub(1)..];
        let by_turns = told.chunks_exact(2).take_while(|two| {
            matches!(sentence.mark(two[0]), Some(Mark::Dish(_) | Mark::Food(_)))
                && amount(two[1])
                && (two[0] + 1..two[1])
                    .all(|at| sentence.norm(at).is_empty() && !sentence.joins(at))
        });
        let pairs: Vec<(usize, usize)> = by_turns.map(|two| (two[0], two[1])).collect();
        let rest = &told[2 * pairs.len()..];
        // "tea 145 barley 70 parsnips" may go by turns either way.
        let goes_on =
            |&(_, last): &(usize, usize)| rest.first() == Some(&sentence.after_links(last + 1));
        let all = !rest.iter().any(|&at| amount(at)) && !pairs.last().is_some_and(goes_on);
        if pairs.len() > 1 && all {
            out.extend(pairs);
        }
    }
    out
}

/// "130 of the soup"
fn tight(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> Option<usize> {
    if !is_amount(sentence, at, used) {
        return None;
    }
    let next = sentence.after_links(at + 1);
    is_name(sentence, next, used).then_some(next)
}

/// "the salsa, a modest fifty-five grams"
fn name_first(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> Option<usize> {
    if !is_name(sentence, at, used) {
        return None;
    }
    let dish = matches!(sentence.mark(at), Some(Mark::Dish(_)));
    let mut broken = false;
    let mut next = at + 1;
    while next <= at + 1 + APART_MAX {
        match sentence.mark(next)? {
            // "the soup on at 180" is an oven.
            Mark::Amount(_) if sentence.norm(next - 1) == "at" => return None,
            Mark::Amount(_) => return is_amount(sentence, next, used).then_some(next),
            Mark::Break { soft: true } if !broken || sentence.breaks(next - 1) => broken = true,
            // "Salsa. 55.", "mmm chilli!! 290 of it"
            Mark::Break { soft: false } if dish && !broken => {
                let weight = answer(sentence, next);
                if !sentence.tells_weight(weight) {
                    return None;
                }
                broken = true;
                next = weight - 1;
            }
            // "the stew from today" tells which stew.
            Mark::Day(_) if sentence.norm(next) == "from" => return None,
            Mark::Day(_) | Mark::Meal(_) => {}
            // "the chilli minus 190 of plate": what is taken off is not what it weighs.
            Mark::Word if sentence.cue(next, "less").is_some() => return None,
            Mark::Word if sentence.joins(next) => return None,
            Mark::Word => {
                let plain = sentence.norm(next).is_empty();
                match sentence.cue(next, "is") {
                    Some(length) => next += length - 1,
                    None if dish || plain => {}
                    None => return None,
                }
            }
            _ => return None,
        }
        next += 1;
    }
    None
}

/// "130 on my plate of soup"
fn loose(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> Option<usize> {
    // "12 quonks dal": what is no preposition may be meant for a unit.
    let apart = matches!(
        sentence.norm(at + 1),
        "on" | "in" | "into" | "from" | "at" | "for" | "out" | "off"
    );
    if !apart || !is_amount(sentence, at, used) {
        return None;
    }
    let next = (at + 1..=at + APART_MAX)
        .find(|&next| sentence.mark(next) != Some(&Mark::Word) || sentence.joins(next))?;
    let dish = matches!(sentence.mark(next), Some(Mark::Dish(_)));
    (dish && is_name(sentence, next, used)).then_some(next)
}
