//! Dishes in a list and what each weighs in another: "rice and dal, 130 and 175 in that order" is 130 rice and 175 dal.
//! Before anything is read, each amount is put before its dish.
//!
//! ```text
//! message := ... list ...
//! list    := dishes [sep] amounts ["in that order"]      as many as dishes
//!          | amounts ["of"] dishes "respectively"        the same
//!          | dishes [sep] amount "of each"
//!          | dishes [sep] ("both" | "all three") amount
//!          | amount ("each of" | "of each" [":"]) dishes
//! dishes  := dish { joint dish } | "as much" dish "as" dish
//! amounts := amount { joint amount }
//! joint   := "," | "&" | "+" | "and" | ", and"           or nothing, where words say how they go together
//! ```
//! "140 each" is of each dish as long as nobody else is told of. The words stand in `data/cues.txt` and `data/otherwise.txt`.

use std::ops::Range;

use super::lexicon::is_food;
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{cues, number_words, otherwise, sharing};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
const DISH_WORDS_MAX: usize = 4;
/// Fewer in words count something.
const SPOKEN_MIN: f64 = 10.0;

/// Put each amount before its dish, in place.
pub fn pair(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    if tokens.len() > TOKENS_MAX {
        return;
    }
    let input = Tokens::unread(tokens, text, vocabulary);
    // Most messages list no amounts, and are not looked at word by word.
    let cue = |at: usize, key| cues().longest_of(input.after(at).slice, key).is_some();
    let other = |at: usize, key| otherwise().longest_of(input.after(at).slice, key).is_some();
    let told = |at: usize| {
        cue(at, "of each") || cue(at, "in that order") || other(at, "each of") || other(at, "both")
    };
    if !(0..input.len()).any(|at| told(at) || several_amounts(input, at)) {
        return;
    }
    let found = (0..input.len()).find_map(|at| list(input, at));
    let Some(List {
        whole,
        dishes,
        amounts,
    }) = found
    else {
        return;
    };
    let mut told: Vec<Token> = Vec::new();
    for (dish, amount) in dishes.iter().zip(amounts.iter().cycle()) {
        let place = tokens[dish.start].span.start;
        if !told.is_empty() {
            told.push(Token::new(Kind::Symbol(','), place..place, false));
        }
        let from = told.len();
        told.extend(Token::said_at(&tokens[amount.clone()], place));
        told[from].spaced = true;
        let from = told.len();
        told.extend_from_slice(&tokens[dish.clone()]);
        told[from].spaced = true;
    }
    tokens.splice(whole, told);
}

struct List {
    whole: Range<usize>,
    dishes: Vec<Range<usize>>,
    /// As many as dishes, or one for each of them.
    amounts: Vec<Range<usize>>,
}

fn list(input: Tokens<'_>, at: usize) -> Option<List> {
    dishes_first(input, at)
        .or_else(|| amounts_first(input, at))
        .or_else(|| each_first(input, at))
        .or_else(|| unjoined(input, at))
}

fn dishes_first(input: Tokens<'_>, at: usize) -> Option<List> {
    // "140 rice and dal, 130": the rice has its weight already.
    if at > 0 && (weighs(input, at - 1) || input.norm(at - 1) == "of") {
        return None;
    }
    let (dishes, behind) = as_much(input, at).or_else(|| run(input, at, dish))?;
    let (amounts, end) = of_dishes(input, behind, dishes.len())?;
    (dishes.len() > 1 && closed(input, end)).then_some(List {
        whole: at..end,
        dishes,
        amounts,
    })
}

/// The amounts behind so many dishes: as many, or one for each.
fn of_dishes(
    input: Tokens<'_>,
    behind: usize,
    dishes: usize,
) -> Option<(Vec<Range<usize>>, usize)> {
    let stop = usize::from(is_sep(input, behind) || input.get(behind).is_some_and(|it| it.is('.')));
    let said = |at: usize, key| otherwise().longest_of(input.after(at).slice, key);
    let each = || input.norm(behind + stop) == "each";
    if let Some(length) = said(behind + stop, "both").filter(|_| !each() || is_alone(input)) {
        let told = (behind + stop..behind + stop + length).find_map(|at| match input.norm(at) {
            "both" => Some(2.0),
            norm => number_words()
                .get(norm)?
                .parse()
                .ok()
                .or_else(|| input.slice[at].value()),
        });
        if told.is_some_and(|told: f64| told != dishes as f64) {
            return None;
        }
        let one = amount(input, behind + stop + length)?;
        let end = one.end + said(one.end, "apiece").unwrap_or(0);
        return Some((vec![one], end));
    }
    let (amounts, end) = run(input, behind + stop, amount)?;
    let apiece = || said(end, "apiece").filter(|_| is_alone(input));
    let end = match (amounts.len(), of_each(input, end).or_else(apiece)) {
        (1, Some(length)) => end + length,
        (many, _) if many == dishes && is_sep_or_none(input, behind) => {
            end + in_order(input, end).unwrap_or(0)
        }
        _ => return None,
    };
    Some((amounts, end))
}

fn amounts_first(input: Tokens<'_>, at: usize) -> Option<List> {
    if at > 0 && (weighs(input, at - 1) || dish(input, at - 1).is_some()) {
        return None;
    }
    let (amounts, behind) = run(input, at, amount)?;
    let of = usize::from(input.norm(behind) == "of");
    let (dishes, behind) = run(input, behind + of, dish)?;
    let end = behind + in_order(input, behind)?;
    (dishes.len() > 1 && amounts.len() == dishes.len() && closed(input, end)).then_some(List {
        whole: at..end,
        dishes,
        amounts,
    })
}

/// "100 g each of rice, dal and salsa", "120 of each: rice, dal"
fn each_first(input: Tokens<'_>, at: usize) -> Option<List> {
    if at > 0 && weighs(input, at - 1) {
        return None;
    }
    let one = amount(input, at)?;
    let each = otherwise()
        .longest_of(input.after(one.end).slice, "each of")
        .filter(|_| is_alone(input));
    let of_each = || {
        of_each(input, one.end).map(|length| length + usize::from(is_sep(input, one.end + length)))
    };
    let from = one.end + each.or_else(of_each)?;
    let ours = |input: Tokens<'_>, at: usize| dish_of(input, at, DISH_WORDS_MAX, true);
    let named = loose(input, from, ours).filter(|(dishes, _)| dishes.len() > 1);
    let all = loose(input, from, dish);
    // The household's own names, unless there is something else among them.
    let (dishes, end) = named
        .filter(|named| all.as_ref().is_none_or(|all| all.1 <= named.1))
        .or(all)?;
    let alone = !input.get(end).is_some_and(Token::is_numeric) && !weighs(input, end);
    (dishes.len() > 1 && alone).then(|| List {
        whole: at..end,
        dishes,
        amounts: vec![one],
    })
}

/// "bread butter cheddar 70 12 30 in that order": nothing joins them, and words say how they go together.
fn unjoined(input: Tokens<'_>, at: usize) -> Option<List> {
    if at > 0 && (weighs(input, at - 1) || input.norm(at - 1) == "of") {
        return None;
    }
    // "rice beans chilli" are three of the household before they are two of the table.
    let ours = [
        (DISH_WORDS_MAX, true),
        (DISH_WORDS_MAX, false),
        (2, false),
        (1, false),
    ];
    ours.into_iter().find_map(|(most, household)| {
        let named = |input: Tokens<'_>, at: usize| dish_of(input, at, most, household);
        if let Some((dishes, behind)) =
            loose(input, at, named).filter(|(dishes, _)| dishes.len() > 1)
        {
            let sep = usize::from(is_sep(input, behind));
            let ordered = loose(input, behind + sep, amount).and_then(|(amounts, end)| {
                let length = in_order(input, end)?;
                (amounts.len() == dishes.len()).then_some((amounts, end + length))
            });
            let told = ordered.or_else(|| {
                of_dishes(input, behind, dishes.len()).filter(|(all, _)| all.len() == 1)
            });
            let (amounts, end) = told?;
            return closed(input, end).then_some(List {
                whole: at..end,
                dishes,
                amounts,
            });
        }
        let (amounts, behind) = loose(input, at, amount)?;
        let of = usize::from(input.norm(behind) == "of");
        let (dishes, behind) = loose(input, behind + of, named)?;
        let end = behind + in_order(input, behind)?;
        (dishes.len() > 1 && amounts.len() == dishes.len()).then_some(List {
            whole: at..end,
            dishes,
            amounts,
        })
    })
}

/// Nobody but the sender is told of: "each" is of the dishes.
fn is_alone(input: Tokens<'_>) -> bool {
    let others = |token: &Token| {
        let norm = token.norm();
        matches!(
            norm,
            "we" | "us" | "everyone" | "everybody" | "he" | "she" | "they"
        ) || input.vocabulary.is(Sense::Person, &[norm])
            || sharing().has(norm) && !matches!(norm, "each" | "both")
    };
    !input.slice.iter().any(others)
}

/// "as much rice as dal"
fn as_much(input: Tokens<'_>, at: usize) -> Option<(Vec<Range<usize>>, usize)> {
    let lead = cues().longest_of(input.after(at).slice, "as much")?;
    let first = dish(input, at + lead)?;
    if input.norm(first.end) != "as" {
        return None;
    }
    let second = dish(input, first.end + 1)?;
    let behind = second.end;
    Some((vec![first, second], behind))
}

fn several_amounts(input: Tokens<'_>, at: usize) -> bool {
    run(input, at, amount).is_some_and(|(amounts, _)| amounts.len() > 1)
}

/// "of each", of dishes: not "of each of us"
fn of_each(input: Tokens<'_>, at: usize) -> Option<usize> {
    let length = cues().longest_of(input.after(at).slice, "of each")?;
    (input.norm(at + length) != "of").then_some(length)
}

/// "in that order", perhaps behind a comma
fn in_order(input: Tokens<'_>, at: usize) -> Option<usize> {
    let comma = usize::from(is_sep(input, at));
    let length = cues().longest_of(input.after(at + comma).slice, "in that order")?;
    Some(comma + length)
}

/// The longest list of one sort of thing from here on, and where it ends.
fn run(
    input: Tokens<'_>,
    at: usize,
    one: impl Fn(Tokens<'_>, usize) -> Option<Range<usize>>,
) -> Option<(Vec<Range<usize>>, usize)> {
    joined(input, at, one, |end| joint(input, end))
}

/// The same, and nothing need stand between two things.
fn loose(
    input: Tokens<'_>,
    at: usize,
    one: impl Fn(Tokens<'_>, usize) -> Option<Range<usize>>,
) -> Option<(Vec<Range<usize>>, usize)> {
    joined(input, at, one, |end| Some(joint(input, end).unwrap_or(end)))
}

fn joined(
    input: Tokens<'_>,
    at: usize,
    one: impl Fn(Tokens<'_>, usize) -> Option<Range<usize>>,
    next: impl Fn(usize) -> Option<usize>,
) -> Option<(Vec<Range<usize>>, usize)> {
    let mut things = vec![one(input, at)?];
    let mut end = things[0].end;
    while let Some(thing) = next(end).and_then(|behind| one(input, behind)) {
        end = thing.end;
        things.push(thing);
    }
    Some((things, end))
}

fn joint(input: Tokens<'_>, at: usize) -> Option<usize> {
    let comma = input
        .get(at)
        .is_some_and(|token| matches!(token.kind, Kind::Symbol(',' | '&' | '+')));
    let behind = at + usize::from(comma);
    let and = matches!(input.norm(behind), "and" | "n");
    (comma || and).then(|| behind + usize::from(and))
}

fn is_sep(input: Tokens<'_>, at: usize) -> bool {
    let token = input.get(at);
    token.is_some_and(|token| matches!(token.kind, Kind::Symbol(',' | ':' | ';' | '-' | '=')))
}

fn is_sep_or_none(input: Tokens<'_>, at: usize) -> bool {
    !input.get(at).is_some_and(|token| token.is('.'))
}

/// What the household has, or a food of the table.
fn dish(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    dish_of(input, at, DISH_WORDS_MAX, false)
}

/// The same, of so many words at most, and of the household alone.
fn dish_of(input: Tokens<'_>, at: usize, most: usize, household: bool) -> Option<Range<usize>> {
    let article = usize::from(input.norm(at) == "the");
    let known = |run: Tokens<'_>| {
        let words: Vec<&str> = run.slice.iter().map(Token::norm).collect();
        let stock = matches!(
            input.vocabulary.called(&words),
            Some(Sense::Batch | Sense::Code | Sense::Packet | Sense::Food)
        );
        let one = !words
            .iter()
            .any(|word| matches!(*word, "and" | "n" | "as" | "with" | "for" | "plus"));
        (one && (stock || !household && is_food(&words))).then_some(())
    };
    let (length, ()) = input.after(at + article).longest_run(most, known)?;
    Some(at + article..at + article + length)
}

/// One number, with its unit.
fn amount(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let first = input.get(at)?;
    let length = match first.kind {
        Kind::Number(_) => 1,
        _ if !number_words().holds(first) && first.norm() != "a" => return None,
        _ => {
            let (rest, said) = number(input.after(at)).ok()?;
            let weighs = said.value >= SPOKEN_MIN && !said.article;
            weighs.then(|| input.len() - at - rest.len())?
        }
    };
    let rest = input.after(at + length);
    let unit = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    Some(at..at + length + unit)
}

/// Whether a weight ends here, or a word that counts.
fn weighs(input: Tokens<'_>, at: usize) -> bool {
    let counts = |at: usize| {
        let token = input.get(at);
        token.is_some_and(|token| token.is_numeric() || number_words().holds(token))
    };
    counts(at) || at > 0 && counts(at - 1) && unit(input.after(at)).is_ok()
}

/// Whether nothing follows that the last amount may belong to: "rice and dal, 130 and 175 chilli".
fn closed(input: Tokens<'_>, at: usize) -> bool {
    let Some(next) = input.get(at) else {
        return true;
    };
    let separates = matches!(
        next.kind,
        Kind::Newline | Kind::Symbol(',' | '.' | ';' | '+' | '!' | '&')
    );
    separates
        || joint(input, at).is_some()
        || matches!(next.norm(), "plus" | "with" | "for" | "please" | "pls")
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        ["dal", "rice", "green beans"]
            .iter()
            .fold(Vocabulary::new(), |words, dish| {
                words.with(Sense::Batch, dish)
            })
            .with(Sense::Person, "Ana")
    }

    #[test]
    fn each_dish_gets_its_own_amount() {
        for text in [
            "rice and dal, 130 and 175 in that order",
            "rice & dal: 130, 175",
            "130 and 175 of rice and dal respectively",
            "rice, dal - 130 g and 175 g",
            "rice dal 130 175 in that order",
            "130 175 of rice and dal respectively",
        ] {
            let printed = match text.contains(" g ") {
                true => "130 g rice, 175 g dal",
                false => "130 rice, 175 dal",
            };
            surely_means(text, &words(), printed);
        }
        for text in [
            "rice and dal, 115 of each",
            "had as much rice as dal, 115 of each",
            "rice and dal, 115 each",
            "rice n dal both 115",
            "rice, dal: each 115",
            "115 each of rice and dal",
            "115 each of rice dal",
            "115 of each: rice, dal",
            "rice, dal. 115 of each",
        ] {
            surely_means(text, &words(), "115 rice, 115 dal");
        }
    }

    #[test]
    fn numbers_in_words_are_amounts_as_well() {
        let text =
            "rice comma dal comma one twenty and one hundred and five in that order full stop";
        surely_means(text, &words(), "120 rice, 105 dal");
    }

    #[test]
    fn amounts_that_are_of_something_else_stay_where_they_are() {
        for text in [
            "rice and dal, 130 and 175 green beans",
            "rice, dal and green beans, 130 and 175",
            "rice and dal for Ana and me, 130 and 175 of each of us",
        ] {
            is_no(
                text,
                &words(),
                |command| matches!(command, Command::Portion(it) if it.items.len() == 2 && it.items[0].name.text == "rice"),
            );
        }
    }
}
