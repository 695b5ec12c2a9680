//! As much of another dish: "125 rice and just as much dal" is 125 of each, "parsnips half that" is half of what was told
//! last, "twice as much soup as beans, the beans were 110" is 220 soup. Before anything is read, the amount is put in
//! the place of the words.
//!
//! ```text
//! again := relation ["of"] ["the"] dish [against dish]
//!        | dish [mark | "was"] relation [against dish]          (the dish has no weight yet)
//! relation := "as much" | "half that" | n "times that" | "a third of that" | "the same" | mass ("more" | "less") than
//! against := ("as" | "than" | "of") ["the"]
//! ```
//! Against nothing it is the amount told last. The phrases stand in `data/cues.txt` and `data/otherwise.txt`. "As much as Ana" compares plates, and is left alone.

use std::ops::Range;

use super::amount::tidy;
use super::lexicon::is_food_word;
use super::number::number;
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::{Unit, unit};
use super::vocabulary::{Sense, Vocabulary, singular};
use super::which::dish_at_end;
use super::words::{counts, cues, number_words, otherwise};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 100;
const NAME_WORDS_MAX: usize = 4;
/// Nobody eats so much more of another dish.
const TIMES_MOST: f64 = 10.0;

/// What is made of the amount that is referred to.
#[derive(Clone, Copy)]
enum Change {
    Times(f64),
    More(f64),
}

/// Words that refer to an amount, as far as they tell how it changes.
struct Relation {
    length: usize,
    change: Change,
    /// It needs a dish that it is held against: "50 more than".
    than: bool,
    /// It stands only behind its dish: "rice, the same".
    behind: bool,
}

/// What takes the place of such words.
struct Again {
    words: Range<usize>,
    /// What it was held against, behind the dish.
    behind: Option<Range<usize>>,
    amount: Range<usize>,
    change: Change,
}

/// Put the amount where it is only referred to, in place.
pub fn repeat(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 0;
    while at < tokens.len() && tokens.len() <= TOKENS_MAX {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some((again, told)) = again(input, at).and_then(|again| {
            let told = changed(input, &again, tokens[at].span.start)?;
            Some((again, told))
        }) else {
            at += 1;
            continue;
        };
        at = again.words.start + told.len();
        if let Some(behind) = again.behind {
            tokens.drain(behind);
        }
        tokens.splice(again.words, told);
        if let Some(next) = tokens.get_mut(at) {
            next.spaced = true;
        }
    }
}

/// The amount as it is meant here; words stay words where nothing is reckoned.
fn changed(input: Tokens<'_>, again: &Again, place: usize) -> Option<Vec<Token>> {
    let mut told = Token::said_at(&input.slice[again.amount.clone()], place);
    told[0].spaced = true;
    let (rest, said) = number(input.range(again.amount.start, again.amount.end)).ok()?;
    let value = match again.change {
        Change::Times(1.0) => return Some(told),
        Change::Times(times) => said.value * times,
        Change::More(grams) => {
            let each = match unit(rest) {
                Ok((_, Unit::Mass(each))) => each,
                Ok(_) => return None,
                Err(_) => 1.0,
            };
            said.value + grams / each
        }
    };
    let length = again.amount.len() - rest.len();
    let numeral = Kind::Number(Numeral::plain(tidy(value)));
    told.splice(0..length, [Token::new(numeral, place..place, true)]);
    (value > 0.0).then_some(told)
}

/// What refers to an amount here, and where it was told.
fn again(input: Tokens<'_>, at: usize) -> Option<Again> {
    let relation = relation(input.after(at), input)?;
    let end = at + relation.length;
    let of = end + usize::from(matches!(input.norm(end), "of" | "in"));
    let of = of + usize::from(input.norm(of) == "the");
    let ahead = dish(input, of).filter(|_| !relation.behind);
    let (words, other) = match &ahead {
        Some(dish) => match against(input, dish.end) {
            // "twice as much soup as beans": the soup stays.
            Some((other, end)) => {
                let amount = amount_of(input, &other, &(at..end))?;
                return Some(Again {
                    words: at..of,
                    behind: Some(dish.end..end),
                    amount,
                    change: relation.change,
                });
            }
            None if matches!(input.norm(dish.end), "as" | "than") => return None,
            None => (at..of, None),
        },
        None => {
            dish_without_weight(input, at)?;
            match against(input, end) {
                Some((other, end)) => (at..end, Some(other)),
                None => (at..end, None),
            }
        }
    };
    let alone = ahead.is_some() || other.is_some() || is_end(input.after(words.end));
    if !alone || relation.than && other.is_none() && !is_that(input, at, end) {
        return None;
    }
    let amount = match &other {
        Some(other) => amount_of(input, other, &words)?,
        None => last_amount(input.range(0, at))?,
    };
    Some(Again {
        words,
        behind: None,
        amount,
        change: relation.change,
    })
}

/// "50 more than that"
fn is_that(input: Tokens<'_>, at: usize, end: usize) -> bool {
    input.slice[at..end]
        .last()
        .is_some_and(|token| matches!(token.norm(), "that" | "it"))
}

fn relation(rest: Tokens<'_>, whole: Tokens<'_>) -> Option<Relation> {
    let cue = |key| cues().longest_of(rest.slice, key);
    let said = |at: usize, key| otherwise().longest_of(rest.after(at).slice, key);
    let plain = |length, times| Relation {
        length,
        change: Change::Times(times),
        than: false,
        behind: false,
    };
    let keys = [
        ("half as much", 0.5),
        ("twice as much", 2.0),
        ("as much", 1.0),
    ];
    if let Some((length, times)) = keys
        .into_iter()
        .find_map(|(key, times)| Some((cue(key)?, times)))
    {
        return Some(plain(length, times));
    }
    if let Some(length) = said(0, "the same").filter(|_| !is_counted(whole)) {
        return Some(Relation {
            behind: true,
            ..plain(length, 1.0)
        });
    }
    let first = rest.first()?;
    if !first.is_numeric() && !number_words().holds(first) && !matches!(first.norm(), "a" | "half")
    {
        return None;
    }
    let (after, count) = number(rest).ok()?;
    let length = rest.len() - after.len();
    let fits = count.value > 0.0 && count.value <= TIMES_MOST && !count.article;
    if after.norm(0) == "times" && fits {
        let more = said(length + 1, "times what")?;
        return Some(plain(length + 1 + more, count.value));
    }
    // "a third as much", "a quarter of that"
    if count.value < 1.0 && fits {
        let of = usize::from(after.norm(0) == "of");
        let more = said(length + of, "times what")?;
        return Some(plain(length + of + more, count.value));
    }
    let (after, each) = match unit(after) {
        Ok((after, Unit::Mass(each))) => (after, each),
        Ok(_) => return None,
        Err(_) => (after, 1.0),
    };
    let sign = match after.norm(0) {
        "more" => 1.0,
        "less" | "fewer" => -1.0,
        _ => return None,
    };
    let length = rest.len() - after.len() + 1;
    let than = usize::from(after.norm(1) == "than");
    let that = usize::from(than > 0 && matches!(after.norm(2), "that" | "it"));
    let length = length + if that > 0 { than + that } else { 0 };
    let change = Change::More(sign * count.value * each);
    Some(Relation {
        length,
        change,
        than: true,
        behind: false,
    })
}

/// "rice 640, dal gone, chilli the same": told of what the pots hold.
fn is_counted(input: Tokens<'_>) -> bool {
    let none = |token: &Token| token.value() == Some(0.0);
    let told = |token: &Token| {
        matches!(
            token.norm(),
            "gone" | "finished" | "none" | "now" | "left" | "ok" | "unchanged"
        )
    };
    let recount =
        counts().stand_in(input.slice, "recount") || counts().stand_in(input.slice, "left");
    recount || input.slice.iter().any(|token| none(token) || told(token))
}

/// "as the chilli", "than rice": what it is held against, and where that ends.
fn against(input: Tokens<'_>, at: usize) -> Option<(Range<usize>, usize)> {
    if !matches!(input.norm(at), "as" | "than" | "of") {
        return None;
    }
    let article = usize::from(matches!(input.norm(at + 1), "the" | "my"));
    let other = dish(input, at + 1 + article)?;
    let end = other.end;
    Some((other, end))
}

/// Something to eat by its name.
fn dish(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let known = |said: Tokens<'_>| {
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        let food = |sense| {
            matches!(
                sense,
                Sense::Batch | Sense::Code | Sense::Packet | Sense::Food
            )
        };
        let called = input.vocabulary.called(&words).is_some_and(food);
        (called || words.len() == 1 && is_food_word(words[0])).then_some(())
    };
    let (length, ()) = input.after(at).longest_run(NAME_WORDS_MAX, known)?;
    Some(at..at + length)
}

/// A dish right before this place, perhaps with a mark or a verb between, whose weight is not told before it.
fn dish_without_weight(input: Tokens<'_>, at: usize) -> Option<()> {
    let verb = |at: usize| {
        matches!(
            input.norm(at),
            "was" | "were" | "is" | "at" | "just" | "only" | "about" | "exactly"
        )
    };
    let mut end = at;
    while end > 0 && verb(end - 1) {
        end -= 1;
    }
    let mark = |token: &Token| matches!(token.kind, Kind::Symbol(',' | ':' | '-' | '='));
    end -= usize::from(end > 0 && mark(&input.slice[end - 1]));
    let from = dish_at_end(input.range(0, end)).or_else(|| {
        let food = |at: &usize| {
            let norm = input.norm(*at);
            is_food_word(norm) || !norm.is_empty() && input.vocabulary.nearly(&[norm]).is_some()
        };
        end.checked_sub(1).filter(food)
    })?;
    let mut before = from;
    while before > 0 && matches!(input.norm(before - 1), "the" | "of" | "my" | "old" | "new") {
        before -= 1;
    }
    (before == 0 || !weighs(input, before - 1)).then_some(())
}

/// Whether a weight ends here.
pub(super) fn weighs(input: Tokens<'_>, at: usize) -> bool {
    let counts = |at: usize| {
        let token = &input.slice[at];
        token.is_numeric() || number_words().holds(token)
    };
    counts(at) || at > 0 && counts(at - 1) && unit(input.after(at)).is_ok()
}

/// Nothing follows that the words could go on with.
pub(super) fn is_end(rest: Tokens<'_>) -> bool {
    let joined = matches!(
        rest.norm(0),
        "and" | "n" | "then" | "plus" | "with" | "for" | "please" | "too"
    );
    joined || rest.first().is_none_or(|next| next.norm().is_empty())
}

/// The weight of a dish that is told beside its name elsewhere: "110 beans", "the beans came to 110".
fn amount_of(input: Tokens<'_>, named: &Range<usize>, but: &Range<usize>) -> Option<Range<usize>> {
    let last = singular(input.norm(named.end - 1)).into_owned();
    let called = |at: &usize| {
        let norm = input.norm(*at);
        let apart = !but.contains(at) && !named.contains(at);
        apart && !norm.is_empty() && singular(norm) == last
    };
    let apart = |amount: &Range<usize>| amount.end <= but.start || amount.start >= but.end;
    let leads = first_amount(input, 0).is_some()
        || input.slice[..named.start].iter().any(|it| it.is_numeric());
    (0..input.len()).filter(called).find_map(|at| {
        let before = amount_before(input, at).filter(apart);
        let behind = amount_behind(input, at).filter(apart);
        if leads {
            before.or(behind)
        } else {
            behind.or(before)
        }
    })
}

fn amount_before(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let mut end = dish_at_end(input.range(0, at + 1)).unwrap_or(at);
    while end > 0 && matches!(input.norm(end - 1), "of" | "the" | "my") {
        end -= 1;
    }
    last_amount(input.range(0, end)).filter(|amount| amount.end == end)
}

fn amount_behind(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let mut behind = at + 1;
    behind += otherwise()
        .longest_of(input.after(behind).slice, "came to")
        .unwrap_or(0);
    let mark = |token: &Token| matches!(token.kind, Kind::Symbol(':' | ',' | '-' | '='));
    behind += usize::from(input.get(behind).is_some_and(mark));
    first_amount(input, behind)
}

fn first_amount(input: Tokens<'_>, at: usize) -> Option<Range<usize>> {
    let first = input.get(at)?;
    let (rest, said) = number(input.after(at)).ok()?;
    let told = first.is_numeric() || number_words().holds(first);
    let length = input.len() - at - rest.len();
    let unit = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    (told && !said.article).then_some(at..at + length + unit)
}

/// The last number with its unit, if it is one number only: no sum, no range.
fn last_amount(input: Tokens<'_>) -> Option<Range<usize>> {
    let counts =
        |token: &Token| matches!(token.kind, Kind::Number(_)) || number_words().holds(token);
    let last = input.slice.iter().rposition(counts)?;
    let before = input.slice[..last].iter().rev();
    let worded = number_words().holds(&input.slice[last]);
    let from = last
        - before
            .take_while(|token| worded && number_words().holds(token))
            .count();
    let signed = from > 0
        && matches!(
            input.slice[from - 1].kind,
            Kind::Symbol('+' | '-' | '/' | '→')
        );
    let rest = input.after(last + 1);
    let unit = unit(rest).map_or(0, |(behind, _)| rest.len() - behind.len());
    (!signed).then_some(from..last + 1 + unit)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        ["dal", "rice", "soup", "beans"]
            .iter()
            .fold(Vocabulary::new(), |words, dish| {
                words.with(Sense::Batch, dish)
            })
            .with(Sense::Person, "Ana")
            .with(Sense::Person, "Tom")
    }

    #[test]
    fn an_amount_may_be_told_by_another() {
        for text in [
            "120 rice and as much dal",
            "120 rice, dal the same",
            "120 rice, the same of dal",
            "rice 120, dal same weight as the rice",
            "rice 120 and the same amount of dal",
        ] {
            surely_means(text, &words(), "120 rice, 120 dal");
        }
        for text in [
            "120 rice, dal half that",
            "120 rice, half that of dal",
            "rice 120 and half as much dal",
            "120 rice and half as much dal as rice",
            "120 rice, 60 less dal than rice",
        ] {
            surely_means(text, &words(), "120 rice, 60 dal");
        }
        for text in [
            "120 beans, 3 times that of soup",
            "120 beans, soup 3 times that",
        ] {
            surely_means(text, &words(), "120 beans, 360 soup");
        }
        surely_means(
            "had twice as much soup as beans, the beans were 110",
            &words(),
            "220 soup, 110 beans",
        );
        surely_means(
            "seventy rice, twice that of dal",
            &words(),
            "70 rice, 140 dal",
        );
    }

    #[test]
    fn what_compares_plates_or_adds_to_one_is_left_alone() {
        for text in [
            "120 rice, 50 more dal",
            "120 rice, as much as Ana",
            "120 rice, Ana half that",
        ] {
            is_no(
                text,
                &words(),
                |command| matches!(command, Command::Portion(it) if it.items.iter().any(|item| item.name.text == "dal" && item.amount != crate::lang::syntax::Amount::Bare(50.0))),
            );
        }
    }
}
