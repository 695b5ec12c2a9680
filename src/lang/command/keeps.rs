//! How long the household itself keeps a dish: "dal keeps 3 days", "our dal keeps 3 days in the fridge", and back:
//! "dal keeps as the chart says".
//!
//! ```text
//! keeps := ["our"] dish verb time [where] | "we keep" dish ["for"] time [where] | dish [":"] time where
//!        | dish "keeps as the chart says" [where] | "use the chart for" dish
//! time  := number ("days" | "weeks" | "months")
//! where := phrase of data/keeps.txt
//! ```
//! "the dal lasts 3 days" may tell how fast it is eaten: what lasts is said with where it stands.

use crate::lang::lexicon::is_food_word;
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::syntax::{Command, Keeping as Time, KeepsFor, Storage, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::keeps;

/// "roast chicken".
const STRANGE_WORDS_MAX: usize = 3;
/// Nothing keeps longer.
const COUNT_MAX: f64 = 400.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match kept(without_house(input.trimmed())) {
        Some(kept) => Ok((input.after(input.len()), Command::Keeps(kept))),
        None => input.no(),
    }
}

/// "in this house" at the end.
fn without_house(input: Tokens<'_>) -> Tokens<'_> {
    let input = input.trimmed_end();
    let ends =
        |at: &usize| keeps().longest_of(input.after(*at).slice, "house") == Some(input.len() - at);
    let end = (1..input.len()).find(ends).unwrap_or(input.len());
    input.range(0, end).trimmed_end()
}

fn kept(input: Tokens<'_>) -> Option<KeepsFor> {
    if let Some(length) = keeps().longest_of(input.slice, "forget") {
        let (said, storage) = stored(input.after(length));
        return as_the_chart(said, storage);
    }
    let (said, storage) = stored(without_most(input));
    for at in 1..said.len() {
        if keeps().longest_of(said.after(at).slice, "chart") == Some(said.len() - at) {
            return as_the_chart(said.range(0, at), storage);
        }
    }
    let (said, time) = timed(said)?;
    let (name, told) = dish(said, storage.is_some())?;
    // A dish and days alone tell nothing.
    (told || storage.is_some()).then_some(KeepsFor {
        name,
        storage,
        time: Some(time),
    })
}

fn as_the_chart(said: Tokens<'_>, storage: Option<Storage>) -> Option<KeepsFor> {
    let name = name::of_batch(said)?;
    let time = None;
    Some(KeepsFor {
        name,
        storage,
        time,
    })
}

/// How it is kept, at the end.
fn stored(input: Tokens<'_>) -> (Tokens<'_>, Option<Storage>) {
    let input = input.trimmed_end();
    let wheres = [
        ("thawed", Storage::Thawed),
        ("fridge", Storage::Fridge),
        ("freezer", Storage::Freezer),
    ];
    for at in 1..input.len() {
        let said = input.after(at);
        let whole = |key: &str| keeps().longest_of(said.slice, key) == Some(said.len());
        if let Some((_, storage)) = wheres.iter().find(|(key, _)| whole(key)) {
            return (input.range(0, at).trimmed_end(), Some(*storage));
        }
    }
    (input, None)
}

/// Without the "max" of "2 days max".
fn without_most(input: Tokens<'_>) -> Tokens<'_> {
    match input.last().map(|last| last.norm()) {
        Some("max" | "tops" | "only" | "most") => input.range(0, input.len() - 1).trimmed_end(),
        _ => input,
    }
}

/// "3 days" at the end.
fn timed(input: Tokens<'_>) -> Option<(Tokens<'_>, Time)> {
    let end = without_most(input);
    let unit = end.last()?.norm();
    let at = end.len().checked_sub(2)?;
    // "more than a day"
    if unit == "day" && matches!(end.norm(at), "a" | "one") {
        return Some((end.range(0, at).trimmed_end(), Time::Days(1)));
    }
    // "2 and a half days" is no time of a chart.
    let (rest, number) = number(end.range(at, end.len() - 1)).ok()?;
    let whole = number.value.fract() == 0.0 && (1.0..=COUNT_MAX).contains(&number.value);
    if !rest.is_empty() || !whole {
        return None;
    }
    let count = number.value as u32;
    let time = match unit {
        "day" | "days" | "d" | "nights" => Time::Days(count),
        "week" | "weeks" | "wk" | "wks" => Time::Days(count * 7),
        "month" | "months" | "mths" => Time::Months(count),
        _ => return None,
    };
    Some((end.range(0, at).trimmed_end(), time))
}

/// The dish, and whether a verb told that it keeps so.
fn dish(said: Tokens<'_>, stored: bool) -> Option<(Words, bool)> {
    if let Some(length) = keeps().longest_of(said.slice, "we") {
        let said = said.after(length).trimmed_end();
        let limit = |at: &usize| {
            keeps().longest_of(said.after(*at).slice, "at most") == Some(said.len() - at)
        };
        let end = (1..said.len()).find(limit).unwrap_or(said.len());
        let said = said.range(0, end);
        return name::of_batch(said)
            .or_else(|| strange(said))
            .map(|name| (name, true));
    }
    let verb = (1..said.len())
        .find(|&at| keeps().longest_of(said.after(at).slice, "keeps") == Some(said.len() - at));
    let (dish, told) = match verb {
        Some(at) => {
            let lasts = matches!(said.norm(at), "lasts" | "last");
            let ours = said.norm(0) == "our";
            (said.range(0, at), !lasts || ours || stored)
        }
        None => (said, false),
    };
    let unknown = || strange(dish).filter(|_| told && verb.is_some());
    name::of_batch(dish)
        .or_else(unknown)
        .map(|name| (name, told))
}

/// A dish that nobody has cooked here yet: "falafel".
fn strange(said: Tokens<'_>) -> Option<Words> {
    let name = name::bare(said);
    let food = name.last().is_some_and(|last| is_food_word(last.norm()));
    let short = name.is_wordy() && name.len() <= STRANGE_WORDS_MAX;
    (food && short).then(|| name.words())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "brown rice")
    }

    #[track_caller]
    fn keeps(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_tell_how_long_a_dish_keeps() {
        keeps("dal keeps 3 days", "dal keeps 3 days");
        keeps("Our dal keeps for three days", "dal keeps 3 days");
        keeps("our dal lasts 3 days", "dal keeps 3 days");
        keeps("we keep dal 3 days", "dal keeps 3 days");
        keeps("we keep the dal for 3 days", "dal keeps 3 days");
        keeps("we never keep dal longer than 3 days", "dal keeps 3 days");
        keeps("we dont keep rice more than a day", "rice keeps 1 day");
        keeps("dal keeps 3 days at ours", "dal keeps 3 days");
        keeps("we keep falafel 3 days", "falafel keeps 3 days");
        keeps("the dal is good for 2 days", "dal keeps 2 days");
        keeps(
            "dal keeps 3 days in the fridge",
            "dal keeps 3 days in the fridge",
        );
        keeps(
            "dal: 3 days in the fridge",
            "dal keeps 3 days in the fridge",
        );
        keeps("dal 3 days fridge", "dal keeps 3 days in the fridge");
        keeps(
            "dal keeps 2 weeks in the fridge",
            "dal keeps 14 days in the fridge",
        );
        keeps(
            "dal lasts 2 months in the freezer",
            "dal keeps 2 months in the freezer",
        );
        keeps("dal keeps 1 day once thawed", "dal keeps 1 day thawed");
        keeps("dal keeps as the chart says", "dal keeps as the chart says");
        keeps("use the chart for dal", "dal keeps as the chart says");
        keeps(
            "dal keeps as the chart says in the fridge",
            "dal keeps as the chart says in the fridge",
        );
    }

    #[test]
    fn what_is_asked_or_only_told_sets_nothing() {
        for text in [
            "does dal keep 3 days?",
            "dal keeps 3 days?",
            "how long does dal keep",
            "the dal lasts 3 days",
            "if dal keeps 3 days we can freeze it",
            "dal keeps getting better",
            "3 days dal",
        ] {
            let parsed = parse(text, &kitchen());
            let best = parsed.best();
            let set = best.sure && matches!(best.commands[..], [Command::Keeps(_), ..]);
            assert!(!set, "{text}: {:?}", best.commands);
        }
    }
}
