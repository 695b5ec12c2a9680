//! Which of several batches is meant, told beside the dish: "280 stew, the one from Sunday" is 280 of Sunday's
//! stew, and "stew, not the old one" is the new stew. Before anything is read, the word that chooses is put before
//! the dish, where every reader looks for it, and the words beside it are dropped, so that none of them can take
//! the day of the batch for that of the plate.
//!
//! ```text
//! told    := dish { mark } [amount] { mark } chooser [")"] | early { "," | "of" | ":" } [amount] dish
//!          | dish amount { word } chooser                                 (no other food and nobody else between)
//!          | amount chooser                                               (of the dish before: "120 old, 200 new")
//! chooser := ["not"] [lead] age "one" | taken age ["pot"] | early | day "'s" end
//! early   := [lead | taken] ([age] ("one" | "pot") made day | day ("one" | "pot"))
//!          | told day                                                      (right behind the dish)
//! age     := "old" | "new" | "frozen" | ...
//! ```

use std::ops::Range;

use super::date::of_pot;
use super::lexicon::is_food_word;
use super::otherwise::pots;
use super::print::WEEKDAYS;
use super::syntax::Day;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{Sense, Vocabulary};
use super::words::{choosers, meals, number_words, selectors, sharing, units};

/// No dish has a longer name.
const NAME_WORDS_MAX: usize = 5;
/// Between a dish and what chooses among its batches stand no more words of an amount than these.
const BETWEEN_MAX: usize = 5;
/// Nor more words of talk.
const AFAR_MAX: usize = 9;

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
    /// It is of what somebody is told to have: "310 stew for me, fresh pot".
    owned: bool,
    /// It tells which it is not.
    denied: bool,
    /// It says by itself that it is one of several: "the new one", "from Sunday's pot".
    named: bool,
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
    let input = Tokens::unread(tokens, text, vocabulary);
    if let Some(said) = pots::unsaid(input) {
        tokens.drain(said);
    }
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
                part_numbers(tokens, at);
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
        part_numbers(tokens, at);
        let to = if to > at { to - chooser.length } else { to };
        at += words.len();
        tokens.splice(to..to, words);
    }
}

/// "120 old 200 new": what chose stood between two weights.
fn part_numbers(tokens: &mut Vec<Token>, at: usize) {
    let numeric = |at: usize| tokens.get(at).is_some_and(Token::is_numeric);
    if at > 0 && is_counted(&tokens[at - 1]) && numeric(at) {
        let place = tokens[at].span.start;
        tokens.insert(at, Token::new(Kind::Symbol(','), place..place, false));
    }
}

/// What chooses here, with the brackets around it, and its dish.
fn chosen(input: Tokens<'_>, at: usize) -> Option<(Chooser, Dish)> {
    let counted = at > 0 && is_counted(&input.slice[at - 1]);
    let mut chooser = chooser(input.after(at), counted)?;
    // "forgot to log 240 soup from Monday": what was eaten then.
    if chooser.close && choosers().stand_in(input.slice, "late") {
        return None;
    }
    let end = at + chooser.length;
    if let Some(dish) = dish_before(input, at, &chooser).or_else(|| dish_afar(input, at, &chooser))
    {
        let closed = input.get(end).is_some_and(|token| token.is(')'));
        chooser.length += usize::from(closed && at > 0 && input.slice[at - 1].is('('));
        let before = if dish > 0 { input.norm(dish - 1) } else { "" };
        let known = chooser.of_day || chooser.denied;
        match selectors().has(before) && !is_article(before) {
            false => return Some((chooser, Dish::At(dish))),
            true if known && !counted => return Some((chooser, Dish::Chosen)),
            true if !counted => return None,
            // "150 old stew, 100 from the new": of the same dish, from another pot.
            true => {}
        }
    }
    let after = dish_after(input, end);
    let of_it = !chooser.close || input.norm(at) == "of";
    if counted && of_it && !chooser.owned && after.is_none() {
        return Some((chooser, Dish::Named(last_dish(input.range(0, at))?)));
    }
    let dish = after.filter(|_| chooser.early)?;
    chooser.length += usize::from(input.norm(end) == "of");
    Some((chooser, Dish::At(dish)))
}

/// What chooses at the front; `counted` if a weight stands before it.
fn chooser(input: Tokens<'_>, counted: bool) -> Option<Chooser> {
    let part = |rest: Tokens<'_>, key| choosers().longest_of(rest.slice, key);
    let not = part(input, "not").unwrap_or(0);
    let denied = not > 0;
    let rest = input.after(not);
    if let Some(chooser) = part(rest, "told").and_then(|told| of_day(rest, told)) {
        return (!denied).then_some(chooser);
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
    let of = |length, word: String, early, pot| Chooser {
        length: not + lead + length,
        early,
        of_day: !["old", "new", FROZEN].contains(&word.as_str()),
        word,
        close: false,
        pot,
        owned: false,
        denied,
        named: pot || early,
    };
    let other = |age: &'static str| match (denied, age) {
        (false, age) => age.to_owned(),
        (true, "old") => "new".to_owned(),
        (true, _) => "old".to_owned(),
    };
    if let Some((thing, pot)) = thing(length) {
        length += thing;
        let made = part(rest.after(length), "made");
        let made = made.and_then(|made| Some((made, told_day(rest.after(length + made))?)));
        return match (age, made) {
            (_, Some((made, (day, word)))) if !denied => {
                Some(of(length + made + day, word, true, pot))
            }
            // What it is that is not the frozen one may stand in several places.
            (Some((_, FROZEN)), None) if denied => None,
            // "soup, new batch" was just cooked, unless somebody had of it; what is taken from it was there.
            (Some((_, age)), None) => Some(Chooser {
                owned: pot && taken.is_none(),
                named: true,
                ..of(length, other(age), !pot && !denied, pot)
            }),
            _ => None,
        };
    }
    if let Some((length, age)) = age {
        // "120 old, 200 of the new"
        let alone = part(rest, "alone") == Some(length) && is_end(rest.after(length));
        let told = counted || taken.is_some();
        return (alone && told && !denied).then(|| of(length, age.to_owned(), false, false));
    }
    let owned = is_possessive(rest.norm(0));
    let (day, mut word) = told_day(rest)?;
    // Which it is instead is not told: the name has to be asked about.
    if denied {
        word = format!("not {word}");
    }
    match thing(day) {
        Some((thing, pot)) => Some(of(day + thing, word, true, pot)),
        None => {
            // "that was yesterday's lunch", "that was yesterday's": the plate's day.
            let plates = day > 1 || lead > 0 && taken.is_none();
            (owned && is_end(rest.after(day)) && !plates).then(|| of(day, word, false, false))
        }
    }
}

/// Nothing follows that could be a name.
pub(super) fn is_end(rest: Tokens<'_>) -> bool {
    let joined = matches!(
        rest.norm(0),
        "and" | "n" | "then" | "plus" | "for" | "with" | "please"
    );
    joined || rest.first().is_none_or(|next| next.norm().is_empty())
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
        owned: false,
        denied: false,
        named: false,
    })
}

/// A day on which a pot was cooked, and perhaps for which meal: how many tokens, and the word that chooses by it.
/// A date chooses nothing yet, and so makes a name that has to be asked about.
pub(super) fn told_day(input: Tokens<'_>) -> Option<(usize, String)> {
    const TODAYS: &str = "todays";
    if input.norm(0) == TODAYS {
        return Some((1, TODAYS.to_owned()));
    }
    let (rest, said) = of_pot(input).ok()?;
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
        Kind::Symbol(',' | '-' | '!' | ':') => !chooser.close,
        _ => false,
    };
    let marked = back(at, &mark);
    let amount =
        |token: &Token| !chooser.close && (is_counted(token) || is_eater(token, input.vocabulary));
    let end = back(marked, &amount);
    let from = dish_at_end(input.range(0, back(end, &mark)))?;
    let eater = |token: &Token| is_eater(token, input.vocabulary) && token.norm() != "please";
    let owned = !chooser.owned || input.slice[end..marked].iter().any(eater);
    let weighed = !chooser.pot || end < marked || input.slice[..from].iter().any(is_counted);
    (owned && weighed).then_some(from)
}

/// Whose the amount before is.
fn is_eater(token: &Token, vocabulary: &Vocabulary) -> bool {
    let norm = token.norm();
    matches!(norm, "for" | "to" | "me" | "him" | "her" | "us" | "please")
        || vocabulary.is(Sense::Person, &[norm])
}

/// The only dish that was weighed so far, with words between that tell of nothing else to eat and of nobody else:
/// "dished out 220 stew to Tom, this was from the new pot".
fn dish_afar(input: Tokens<'_>, at: usize, chooser: &Chooser) -> Option<usize> {
    let counted = |range: Range<usize>| {
        input.slice[range]
            .iter()
            .filter(|it| it.is_numeric())
            .count()
    };
    let named = last_dish(input.range(0, at))?;
    let between = &input.slice[named.end..at];
    let strange = |place: usize| {
        let token = &between[place];
        let to = place > 0 && matches!(between[place - 1].norm(), "to" | "for");
        let person = input.vocabulary.is(Sense::Person, &[token.norm()]) && !to;
        let food = !token.norm().is_empty()
            && !units().has(token.norm())
            && (input.vocabulary.names_food(token.norm()) || is_food_word(token.norm()));
        person || food || matches!(token.kind, Kind::Newline | Kind::Symbol('?'))
    };
    let one = counted(0..named.start) + counted(named.end..at) == 1;
    let plain = chooser.named && !chooser.owned && one && between.len() <= AFAR_MAX;
    let ends = is_end(input.after(at + chooser.length));
    (plain && ends && !(0..between.len()).any(strange)).then_some(named.start)
}

/// Where the dish begins with which the words end.
pub(super) fn dish_at_end(input: Tokens<'_>) -> Option<usize> {
    let end = input.len();
    (end.saturating_sub(NAME_WORDS_MAX)..end).find(|&from| is_dish(input.range(from, end)))
}

/// The words of the dish that was named last.
pub(super) fn last_dish(input: Tokens<'_>) -> Option<Range<usize>> {
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
