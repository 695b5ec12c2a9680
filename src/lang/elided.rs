//! What a message leaves out because it is in hand: "Tom finished the rest of it", "he gave me 50 of that", "and 250
//! for Ana", "and half the soup" right after food was frozen. The books tell what is meant (`domain/in_hand.rs`); here
//! it is put in the place of the words that stand for it, and every verb reads the message as if it had been said whole.
//!
//! ```text
//! message := { word | dish-in-hand | person-in-hand | amount [dish] }
//! dish    := "of" ("it" | "that" | "them" | ...) | "the rest" ["of it"]      which no name follows
//! person  := "he" | "she" | "him" | "her" | "his" | "hers"
//! ```
//! The words stand in `data/in_hand.txt`. A message that names food itself tells what it is about.

use super::accounted::forgotten;
use super::amount::{Stands, amount};
use super::aside::tells_food;
use super::by_weight;
use super::in_vessel;
use super::lexer::lex;
use super::person::person;
use super::rank::SCALE_GRAMS_MIN;
use super::syntax::Amount;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Sense;
use super::words::{in_hand, moves, units};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 24;
/// With an amount alone, nobody says much else.
const BARE_TOKENS_MAX: usize = 12;
const VESSEL_WORDS_MAX: usize = 3;
/// "fl oz"
const UNIT_TOKENS_MAX: usize = 2;

/// What is in hand, in the words of the household.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Known {
    pub dish: Option<String>,
    pub person: Option<String>,
    /// The dish, where it was not eaten: what may be put away.
    pub cooked: Option<String>,
    /// The pot that is being filled.
    pub pot: Option<String>,
    /// Vessels in which one dish stands, with that.
    pub standing: Vec<(String, String)>,
    /// What each bag or pot holds, in grams, with the dish in it and where that stands.
    pub bags: Vec<(f64, String)>,
    /// What was done: the words before what it is done with, and behind it.
    pub done: Option<(String, String)>,
}

/// How the message goes on from what is in hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Completion {
    /// Words tell what stands in a vessel.
    Vessels,
    /// What a bag weighs tells which it is.
    Bags,
    /// Words stand for what is in hand.
    StandIns,
    /// Amounts are of the dish that is in hand.
    Amounts,
    /// The same is done with other food.
    Doing,
    /// Food goes into the pot.
    Filling,
    /// What the pot weighs.
    Weighing,
}

/// The tokens with what is in hand in its place; `None` where they leave nothing out.
pub fn complete(input: Tokens<'_>, known: &Known, how: Completion) -> Option<Vec<Token>> {
    match how {
        Completion::Vessels => return in_vessel::named(input, &known.standing),
        Completion::Bags => return by_weight::named(input, &known.bags),
        _ => {}
    }
    let asked = input.slice.iter().any(|token| token.is('?'));
    if input.len() > TOKENS_MAX || input.is_empty() || asked || forgotten(input).is_some() {
        return None;
    }
    match how {
        // "and the rest of it too", right after food was thrown away, is no plate.
        Completion::StandIns => match (stand_ins(input, known), &known.done) {
            (Some(told), Some(_)) if in_hand().longest_of(input.slice, "and").is_some() => {
                doing(input.with_tokens(&told), known)
            }
            (told, _) => told,
        },
        Completion::Vessels | Completion::Bags => None,
        Completion::Amounts => amounts(input, known),
        Completion::Doing => doing(input, known),
        Completion::Filling => filling(input, known),
        Completion::Weighing => weighing(input, known),
    }
}

/// Words as tokens that have no place of their own in the text.
pub fn said(words: &str, place: usize) -> Vec<Token> {
    let mut tokens = lex(words);
    for token in &mut tokens {
        token.span = place..place;
        token.spaced = true;
    }
    tokens
}

fn stand_ins(input: Tokens<'_>, known: &Known) -> Option<Vec<Token>> {
    let named = names_food(input);
    let somebody = (0..input.len()).any(|at| person(input.after(at)).is_some());
    let dish = known.dish.as_ref().filter(|_| !named);
    let who = known.person.as_ref().filter(|_| !somebody);
    let mut out: Vec<Token> = Vec::new();
    let mut replaced = false;
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let token = &input.slice[at];
        let place = token.span.end;
        if let Some(dish) = dish
            && let Some((kept, length)) = of_the_dish(rest)
        {
            let remains = kept > 1 || rest.norm(0) != "of" || ends_in_rest(&out);
            match (remains, last_number(&out)) {
                // "all 6 of them" are no grams, and a rest beside a number is of what was told with it.
                (true, _) if input.has_number() => return None,
                (false, Some(grams)) if grams < SCALE_GRAMS_MIN => return None,
                // Half of it is half of what was eaten.
                (false, None) => {
                    out.push(token.clone());
                    at += 1;
                    continue;
                }
                _ => {}
            }
            let place = rest.slice[kept - 1].span.end;
            out.extend_from_slice(&rest.slice[..kept]);
            let linked = rest.norm(kept - 1) == "of";
            out.extend(said(if linked { "the" } else { "of the" }, place));
            out.extend(said(dish, place));
            replaced = true;
            at += length;
            continue;
        }
        // "put it in the fridge"
        if let Some(dish) = known.cooked.as_ref().filter(|_| !named)
            && at > 0
            && moves()
                .longest(input.slice)
                .is_some_and(|(verb, _)| verb == at)
            && in_hand().get(token.norm()) == Some("it")
            && matches!(rest.norm(1), "in" | "into" | "to" | "back" | "on")
        {
            out.extend(said(&format!("the {dish}"), place));
            replaced = true;
            at += 1;
            continue;
        }
        match who.and_then(|who| by_name(rest, who)) {
            Some(named) => {
                out.extend(said(&named, place));
                replaced = true;
            }
            None => out.push(token.clone()),
        }
        at += 1;
    }
    replaced.then_some(out)
}

fn ends_in_rest(told: &[Token]) -> bool {
    let word = told.last().map(Token::norm);
    word.is_some_and(|word| in_hand().get(word) == Some("remains"))
}

/// The number right before it, with its unit or without.
fn last_number(told: &[Token]) -> Option<f64> {
    let near = told.iter().rev().take(1 + UNIT_TOKENS_MAX);
    near.take_while(|token| token.is_numeric() || units().holds(token))
        .find_map(|token| match token.kind {
            Kind::Number(number) => Some(number.value),
            _ => None,
        })
}

/// "of it", "the rest": how many tokens stay, and how many are told.
fn of_the_dish(input: Tokens<'_>) -> Option<(usize, usize)> {
    if input.norm(0) == "of" {
        let length = in_hand().longest_of(input.after(1).slice, "it")?;
        let behind = input.get(1 + length);
        let ends =
            behind.is_none_or(|next| next.norm().is_empty() || !next.spaced || !is_noun(next));
        return ends.then_some((1, 1 + length));
    }
    let rest = in_hand().longest_of(input.slice, "rest")?;
    (input.norm(rest) != "of").then_some((rest, rest))
}

/// What it may be of that stands right behind: "that bowl".
fn is_noun(token: &Token) -> bool {
    in_hand().get(token.norm()) == Some("thing")
}

/// "he" is Tom, "hers" Ana's.
fn by_name(input: Tokens<'_>, who: &str) -> Option<String> {
    let (length, key) = in_hand().longest(input.slice)?;
    match key {
        _ if length != 1 => None,
        "they" => Some(who.to_owned()),
        "theirs" => Some(format!("{who}'s")),
        // "her plate"
        "her" if input.get(1).is_some_and(is_noun) => Some(format!("{who}'s")),
        "her" => Some(who.to_owned()),
        _ => None,
    }
}

/// "and 250 for Ana": every amount is of the dish.
fn amounts(input: Tokens<'_>, known: &Known) -> Option<Vec<Token>> {
    let dish = known.dish.as_ref()?;
    let named = names_food(input);
    // A number alone may be the answer to anything.
    let alone = input.trimmed().len() == 1;
    if named || alone || input.len() > BARE_TOKENS_MAX || !input.has_number() {
        return None;
    }
    let mut out: Vec<Token> = Vec::new();
    let mut told = false;
    let mut at = 0;
    while at < input.len() {
        let rest = input.after(at);
        let whose = person(rest);
        if let Some((length, _)) = whose {
            out.extend_from_slice(&rest.slice[..length]);
            at += length;
            continue;
        }
        let Ok((behind, said_amount)) = amount(rest, Stands::AfterName) else {
            let plain = in_hand().get(rest.norm(0)) == Some("link") || is_mark(&rest.slice[0]);
            if !plain {
                return None;
            }
            out.push(rest.slice[0].clone());
            at += 1;
            continue;
        };
        match said_amount {
            Amount::Bare(grams) | Amount::Mass(grams) if grams >= SCALE_GRAMS_MIN => {}
            _ => return None,
        }
        let length = rest.len() - behind.len();
        let place = rest.slice[length - 1].span.end;
        out.extend_from_slice(&rest.slice[..length]);
        out.extend(said(dish, place));
        told = true;
        at += length;
    }
    told.then_some(out)
}

/// A food or a dish is named; the "blue" of a blue pot is none.
fn names_food(input: Tokens<'_>) -> bool {
    let mut at = 0;
    while at < input.len() {
        let vessel = input.after(at).longest_run(VESSEL_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            input.vocabulary.is(Sense::Container, &words).then_some(())
        });
        // "Tom's" are no toms.
        let somebody = || person(input.after(at)).map(|(length, _)| (length, ()));
        match vessel.or_else(somebody) {
            Some((length, ())) => at += length,
            None if tells_food(input, at) => return true,
            None => at += 1,
        }
    }
    false
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Symbol(',' | '.' | '!' | '&' | '+' | ':') | Kind::Newline
    )
}

/// "300 carrots", "and 2 onions" while a pot is being filled, if nothing tells that it is eaten.
fn filling(input: Tokens<'_>, known: &Known) -> Option<Vec<Token>> {
    let pot = known.pot.as_ref()?;
    let rest = without_leads(input);
    let eaten = (0..rest.len()).any(|at| {
        let here = rest.after(at);
        in_hand().longest_of(here.slice, "eaten").is_some() || person(here).is_some()
    });
    let place = rest.first()?.span.start;
    let mut out = said(&format!("{pot} +"), place);
    out.extend_from_slice(rest.slice);
    (!eaten && input.has_number()).then_some(out)
}

/// Whether the message says by itself that it goes on with what was begun: "and 2 onions", "added 200 g leeks".
pub fn goes_on(input: Tokens<'_>) -> bool {
    without_leads(input).len() < input.trimmed().len()
}

fn without_leads(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed();
    while let Some(length) = in_hand().longest_of(rest.slice, "goes in") {
        rest = rest.after(length).trimmed_front();
    }
    rest
}

/// "all in 1430 with the blue pot": of the pot that is being filled.
fn weighing(input: Tokens<'_>, known: &Known) -> Option<Vec<Token>> {
    let pot = known.pot.as_ref()?;
    let named = names_food(input);
    let rest = input.trimmed();
    let leads = in_hand().longest_of(rest.slice, "it weighs");
    let place = rest.first()?.span.start;
    let verb = if leads.is_some() { "weighed" } else { "" };
    let mut out = said(&format!("{pot} {verb}"), place);
    out.extend_from_slice(rest.after(leads.unwrap_or(0)).slice);
    (!named && input.has_number()).then_some(out)
}

/// "and half the soup": put as what was done before.
fn doing(input: Tokens<'_>, known: &Known) -> Option<Vec<Token>> {
    let (before, behind) = known.done.as_ref()?;
    let and = in_hand().longest_of(input.slice, "and");
    // "rest of the chilli too": what is weighed may be eaten as well.
    let last = input.after(input.len().saturating_sub(1));
    let too = in_hand().longest_of(last.slice, "too").is_some();
    let length = and.or((too && !input.has_number()).then_some(0))?;
    let rest = input.after(length).trimmed();
    let place = rest.first()?.span.start;
    let end = rest.last()?.span.end;
    let tail = rest
        .slice
        .iter()
        .rposition(|token| in_hand().get(token.norm()) != Some("too"))?;
    let mut out = said(before, place);
    out.extend_from_slice(&rest.slice[..=tail]);
    out.extend(said(behind, end));
    Some(out)
}
