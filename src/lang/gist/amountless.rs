//! Names without an amount of their own, by which a weighing beside them is left open.

use super::mark::Mark;
use super::sentence::Sentence;

/// "140 dal and rice": a list goes on with a name that has no amount.
pub fn is_listed(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> bool {
    let start = (0..at)
        .rev()
        .take_while(|&back| sentence.cue(back, "link").is_some())
        .last()
        .unwrap_or(at);
    let alone = sentence
        .within(sentence.clause(at))
        .all(|other| other == at || (start..at).contains(&other) || sentence.breaks(other));
    if alone {
        return true;
    }
    let Some(before) = start.checked_sub(1) else {
        return false;
    };
    let goes_on = sentence.joins(before)
        || matches!(sentence.mark(before), Some(Mark::Break { soft: true }))
            && (sentence.joins(at + 1)
                || matches!(
                    sentence.mark(at + 1),
                    None | Some(Mark::Break { .. } | Mark::Amount(_))
                ));
    goes_on && before > 0 && used[before - 1]
}

/// A dish without an amount in the breath of a weighing, and no "without" before it.
pub fn is_untold(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> bool {
    let breath = sentence.breath(sentence.clause(at));
    let weighed = breath
        .flat_map(|clause| sentence.within(clause))
        .any(|at| used[at]);
    let denied = (0..3.min(at)).any(|back| {
        ["not", "unmeant", "apart"]
            .iter()
            .any(|key| sentence.cue(at - 1 - back, key).is_some())
    });
    weighed && !denied
}

/// "chicken chilli" is another dish than the chilli.
pub fn is_beside_a_name(sentence: &Sentence<'_>, at: usize, used: &[bool]) -> bool {
    let named = |other: usize| {
        used.get(other) == Some(&true)
            && matches!(sentence.mark(other), Some(Mark::Dish(_) | Mark::Food(_)))
    };
    named(at + 1) || at > 0 && named(at - 1)
}
