//! Dishes in a list and what each weighs in another: "rice and dal, 130 and 175 in that order" is 130 rice and 175 dal.
//! Before anything is read, each amount is put before its dish.
//!
//! ```text
//! message := ... list ...
//! list    := dishes [sep] amounts ["in that order"]      as many as dishes
//!          | amounts ["of"] dishes "respectively"        the same
//!          | dishes [sep] amount "of each"
//! dishes  := dish { joint dish } | "as much" dish "as" dish
//! amounts := amount { joint amount }
//! joint   := "," | "&" | "+" | "and" | ", and"
//! ```
//! The words stand in `data/cues.txt`.

use std::ops::Range;

use super::lexicon::is_food;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{cues, number_words};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
const DISH_WORDS_MAX: usize = 4;

/// Put each amount before its dish, in place.
pub fn pair(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    if tokens.len() > TOKENS_MAX {
        return;
    }
    let input = Tokens::unread(tokens, text, vocabulary);
    // Most messages list no amounts, and are not looked at word by word.
    let lists = |at: usize| of_each(input, at).is_some() || several_amounts(input, at);
    if !(0..input.len()).any(lists) {
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
    dishes_first(input, at).or_else(|| amounts_first(input, at))
}

fn dishes_first(input: Tokens<'_>, at: usize) -> Option<List> {
    // "140 rice and dal, 130": the rice has its weight already.
    if at > 0 && (weighs(input, at - 1) || input.norm(at - 1) == "of") {
        return None;
    }
    let (dishes, behind) = as_much(input, at).or_else(|| run(input, at, dish))?;
    let sep = usize::from(is_sep(input, behind));
    let (amounts, behind) = run(input, behind + sep, amount)?;
    let end = match (amounts.len(), of_each(input, behind)) {
        (1, Some(length)) => behind + length,
        (many, _) if many == dishes.len() => behind + in_order(input, behind).unwrap_or(0),
        _ => return None,
    };
    (dishes.len() > 1 && closed(input, end)).then_some(List {
        whole: at..end,
        dishes,
        amounts,
    })
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
    let mut things = vec![one(input, at)?];
    let mut end = things[0].end;
    while let Some(next) = joint(input, end).and_then(|behind| one(input, behind)) {
        end = next.end;
        things.push(next);
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

/// What the household has, or a food of the table.
fn dish(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let article = usize::from(input.norm(at) == "the");
    let known = |run: Tokens<'_>| {
        let words: Vec<&str> = run.slice.iter().map(Token::norm).collect();
        let stock = matches!(
            input.vocabulary.called(&words),
            Some(Sense::Batch | Sense::Code | Sense::Packet | Sense::Food)
        );
        let one = !words.iter().any(|word| matches!(*word, "and" | "n" | "as"));
        (one && (stock || is_food(&words))).then_some(())
    };
    let (length, ()) = input
        .after(at + article)
        .longest_run(DISH_WORDS_MAX, known)?;
    Some(at + article..at + article + length)
}

/// One number, with its unit.
fn amount(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let is_number = matches!(input.get(at)?.kind, Kind::Number(_));
    let rest = input.after(at + 1);
    let unit = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    is_number.then_some(at..at + 1 + unit)
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
        ] {
            surely_means(text, &words(), "115 rice, 115 dal");
        }
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
