//! Which of several batches is meant, told beside the dish: "280 stew, the one from Sunday" is 280 of Sunday's
//! stew, and "stew, not the old one" is the new stew. Before anything is read, the word that chooses is put before
//! the dish, where every reader looks for it, and the words beside it are dropped, so that none of them can take
//! the day of the batch for that of the plate.
//!
//! ```text
//! told    := dish [amount] { mark } chooser [")"] | early { "," | "of" | ":" } [amount] dish
//! chooser := ["not"] [lead] age "one" | taken age "pot" | early | day "'s" end
//! early   := [lead | taken] ([age] ("one" | "pot") made day | day ("one" | "pot"))
//!          | told day                                                      (right behind the dish)
//! age     := "old" | "new" | "frozen" | ...
//! ```

use std::ops::Range;

use super::date::day;
use super::print::WEEKDAYS;
use super::syntax::Day;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::{choosers, meals, number_words, selectors, sharing, units};

/// No dish has a longer name.
const NAME_WORDS_MAX: usize = 5;
/// Between a dish and what chooses among its batches stand no more words of an amount than these.
const BETWEEN_MAX: usize = 5;

/// Which of it is told by how it is kept.
const FROZEN: &str = "frozen";

/// What chooses: how many tokens tell it, and the word for it.
struct Chooser {
    length: usize,
    word: String,
    /// It may be told before the dish: "the one from Sunday: 280 stew".
    early: bool,
    /// It chooses by the day.
    of_day: bool,
    /// It stands right behind the dish, with nothing between.
    close: bool,
    /// It may as well be told of a pot that was just cooked, unless something was weighed of it: "new batch",
    /// "made today".
    pot: bool,
}

/// Where the dish stands that is chosen.
enum Dish {
    /// Here: what chooses is put before it.
    At(usize),
    /// It was named before, and goes without saying: "of today's".
    Named(Range<usize>),
    /// It was chosen already: "the old stew, the one from Sunday".
    Chosen,
}

/// Put what chooses before its dish, in place.
pub fn choose(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let mut at = 0;
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        let Some((chooser, dish)) = chosen(input, at) else {
            at += 1;
            continue;
        };
        let (to, named) = match dish {
            Dish::At(place) => (place, Vec::new()),
            Dish::Named(words) => (at, tokens[words].to_vec()),
            Dish::Chosen => {
                tokens.drain(at..at + chooser.length);
                continue;
            }
        };
        let place = tokens[to].span.start;
        let told =
            |word: &str, spaced| Token::new(Kind::Word(word.to_owned()), place..place, spaced);
        let mut words = vec![told(&chooser.word, tokens[to].spaced)];
        words.extend(named.iter().map(|token| told(token.norm(), true)));
        tokens[to].spaced = true;
        tokens.drain(at..at + chooser.length);
        let to = if to > at { to - chooser.length } else { to };
        at += words.len();
        tokens.splice(to..to, words);
    }
}

/// What chooses here, with the brackets around it, and its dish.
fn chosen(input: Tokens<'_>, at: usize) -> Option<(Chooser, Dish)> {
    let mut chooser = chooser(input.after(at))?;
    // "forgot to log 240 soup from Monday": what was eaten then.
    if chooser.close && choosers().stand_in(input.slice, "late") {
        return None;
    }
    let end = at + chooser.length;
    if let Some(dish) = dish_before(input, at, &chooser) {
        let closed = input.get(end).is_some_and(|token| token.is(')'));
        chooser.length += usize::from(closed && at > 0 && input.slice[at - 1].is('('));
        let before = if dish > 0 { input.norm(dish - 1) } else { "" };
        return match selectors().has(before) && !is_article(before) {
            false => Some((chooser, Dish::At(dish))),
            true => chooser.of_day.then_some((chooser, Dish::Chosen)),
        };
    }
    if at > 0 && input.norm(at) == "of" && is_counted(&input.slice[at - 1]) {
        return Some((chooser, Dish::Named(last_dish(input.range(0, at))?)));
    }
    let dish = chooser.early.then(|| dish_after(input, end)).flatten()?;
    chooser.length += usize::from(input.norm(end) == "of");
    Some((chooser, Dish::At(dish)))
}

fn chooser(input: Tokens<'_>) -> Option<Chooser> {
    let part = |rest: Tokens<'_>, key| choosers().longest_of(rest.slice, key);
    let denied = part(input, "not").unwrap_or(0);
    let rest = input.after(denied);
    if let Some(chooser) = part(rest, "told").and_then(|told| of_day(rest, told)) {
        return (denied == 0).then_some(chooser);
    }
    let taken = part(rest, "taken");
    let lead = taken.or_else(|| part(rest, "lead")).unwrap_or(0);
    let rest = rest.after(lead);
    let age = ["old", "new", FROZEN]
        .into_iter()
        .find_map(|age| Some((part(rest, age)?, age)));
    let mut length = age.map_or(0, |(length, _)| length);
    let thing = |at| {
        let rest = rest.after(at);
        let one = part(rest, "thing").map(|length| (length, false));
        one.or_else(|| Some((part(rest, "pot")?, true)))
    };
    let of = |length, word: String, early, pot| {
        Some(Chooser {
            length: denied + lead + length,
            early,
            of_day: !["old", "new", FROZEN].contains(&word.as_str()),
            word,
            close: false,
            pot,
        })
    };
    if let Some((thing, pot)) = thing(length) {
        length += thing;
        let made = part(rest.after(length), "made");
        let made = made.and_then(|made| Some((made, told_day(rest.after(length + made))?)));
        return match (age, made) {
            (_, Some((made, (day, word)))) if denied == 0 => {
                of(length + made + day, word, true, pot)
            }
            // What it is that is not the frozen one may stand in several places.
            (Some((_, FROZEN)), None) if denied > 0 => None,
            // "soup, new batch" was just cooked; what is taken from it was there.
            (Some((_, age)), None) if !pot || taken.is_some() => {
                let other = if age == "old" { "new" } else { "old" };
                of(
                    length,
                    if denied > 0 { other } else { age }.into(),
                    !pot && denied == 0,
                    pot,
                )
            }
            _ => None,
        };
    }
    if length > 0 {
        return None;
    }
    let owned = is_possessive(rest.norm(0));
    let (day, mut word) = told_day(rest)?;
    // Which it is instead is not told: the name has to be asked about.
    if denied > 0 {
        word = format!("not {word}");
    }
    match thing(day) {
        Some((thing, pot)) => of(day + thing, word, true, pot),
        None => {
            let ends = rest
                .get(day)
                .is_none_or(|next| next.norm().is_empty() && !next.is_numeric());
            // "that was yesterday's lunch", "that was yesterday's": the plate's day.
            let plates = day > 1 || lead > 0 && taken.is_none();
            (owned && ends && !plates)
                .then(|| of(day, word, false, false))
                .flatten()
        }
    }
}

/// "from Sunday", "that we made yesterday".
fn of_day(input: Tokens<'_>, told: usize) -> Option<Chooser> {
    let (length, word) = told_day(input.after(told))?;
    let rest = input.after(told + length);
    let thing = ["thing", "pot"]
        .iter()
        .any(|key| choosers().longest_of(rest.slice, key).is_some());
    (!thing && !is_possessive(input.norm(told))).then_some(Chooser {
        length: told + length,
        word,
        early: false,
        of_day: true,
        close: true,
        pot: !matches!(input.norm(0), "from" | "of"),
    })
}

/// A day on which a pot was cooked, and perhaps for which meal: how many tokens, and the word that chooses by it.
/// A date chooses nothing yet, and so makes a name that has to be asked about.
fn told_day(input: Tokens<'_>) -> Option<(usize, String)> {
    const TODAYS: &str = "todays";
    if input.norm(0) == TODAYS {
        return Some((1, TODAYS.to_owned()));
    }
    let (rest, said) = day(input).ok()?;
    let length = input.len() - rest.len();
    let word = match said {
        Day::Today => TODAYS.to_owned(),
        Day::Yesterday => "yesterdays".to_owned(),
        Day::Weekday(day) => format!("{}s", WEEKDAYS.get(usize::from(day))?.to_lowercase()),
        Day::Ahead | Day::InDays(_) | Day::LastWeek => return None,
        Day::Date { .. } | Day::DaysAgo(_) | Day::OfMonth(_) => input.range(0, length).words().text,
    };
    let meal = usize::from(meals().has(rest.norm(0)));
    Some((length + meal, word))
}

/// Where the dish begins that stands before this place, perhaps with its amount behind it.
fn dish_before(input: Tokens<'_>, at: usize, chooser: &Chooser) -> Option<usize> {
    let back = |from: usize, belongs: &dyn Fn(&Token) -> bool| {
        let before = input.slice[..from].iter().rev();
        from - before
            .take_while(|token| belongs(token))
            .take(BETWEEN_MAX)
            .count()
    };
    let mark = |token: &Token| match token.kind {
        Kind::Symbol('(') => true,
        Kind::Symbol(',' | '-') => !chooser.close,
        _ => false,
    };
    let marked = back(at, &mark);
    let eater = |token: &Token| matches!(token.norm(), "for" | "me" | "please");
    let amount = |token: &Token| !chooser.close && (is_counted(token) || eater(token));
    let end = back(marked, &amount);
    let from = dish_at_end(input.range(0, end))?;
    let weighed = !chooser.pot || end < marked || input.slice[..from].iter().any(is_counted);
    weighed.then_some(from)
}

/// Where the dish begins with which the words end.
pub(super) fn dish_at_end(input: Tokens<'_>) -> Option<usize> {
    let end = input.len();
    (end.saturating_sub(NAME_WORDS_MAX)..end).find(|&from| is_dish(input.range(from, end)))
}

/// The words of the dish that was named last.
fn last_dish(input: Tokens<'_>) -> Option<Range<usize>> {
    let ends = (1..=input.len()).rev();
    let mut dishes = ends.filter_map(|end| Some(dish_at_end(input.range(0, end))?..end));
    dishes.next()
}

/// A part of an amount: "200", "g", "rest".
pub(super) fn is_counted(token: &Token) -> bool {
    let norm = token.norm();
    matches!(token.kind, Kind::Number(_))
        || units().has(norm)
        || number_words().has(norm)
        || sharing().has(norm)
}

/// Where the dish begins that stands behind this place.
fn dish_after(input: Tokens<'_>, at: usize) -> Option<usize> {
    let idle = |token: &Token| {
        let norm = token.norm();
        matches!(token.kind, Kind::Number(_) | Kind::Symbol(',' | ':' | '-'))
            || matches!(norm, "of" | "the")
            || units().has(norm)
    };
    let rest = input.after(at);
    let skip = rest
        .slice
        .iter()
        .take(BETWEEN_MAX)
        .take_while(|token| idle(token))
        .count();
    let named = rest.after(skip);
    let length = named.longest_run(NAME_WORDS_MAX, |said| is_dish(said).then_some(()));
    length.map(|_| at + skip)
}

/// A batch by name, without a word that chooses already.
fn is_dish(said: Tokens<'_>) -> bool {
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let plain = words.first().is_some_and(|first| !first.is_empty())
        && said.vocabulary.selecting(&words) == 0;
    plain && said.vocabulary.called(&words).is_some() && said.vocabulary.is_batch(&words)
}

/// The word that chooses as people write it: "Sunday's".
pub fn as_written(norm: &str) -> String {
    let Some(day) = norm.strip_suffix('s').filter(|_| is_possessive(norm)) else {
        return norm.to_owned();
    };
    let named = WEEKDAYS.iter().find(|name| name.eq_ignore_ascii_case(day));
    format!("{}'s", named.unwrap_or(&day))
}

/// "Sunday's".
fn is_possessive(norm: &str) -> bool {
    norm.ends_with("days") && selectors().has(norm)
}

pub(super) fn is_article(norm: &str) -> bool {
    matches!(norm, "the" | "my" | "our" | "that" | "this")
}
