//! Another pot of a dish: as it was made last, scaled, and with what is different this time.

use super::{dish_first, phrase, skip, whole};
use crate::lang::amount::{self, Stands};
use crate::lang::name::bare;
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Command, Cookbook, Recipe, RecipeBut, Scale, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};

/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let asked = said.slice.iter().any(|token| token.is('?'));
        let known = again(said, dish_first).or_else(|| same(said));
        let recipe = known.or_else(|| again(said, unknown));
        recipe.filter(|_| !asked).map(Cookbook::Again)
    })
}

/// It says how much, or what is different: nobody means another plate by that.
pub fn is_figured(recipe: &Recipe) -> bool {
    recipe.scale != Scale::AsItWas || !recipe.but.is_empty()
}

/// Somebody is told to cook, or says that they do.
pub fn is_bidden(said: Tokens<'_>) -> bool {
    phrase("make", said).is_some()
}

/// "dal again", "cook the dal again x1.5, without salt", "double the dal recipe"
fn again(
    said: Tokens<'_>,
    dish: impl Fn(Tokens<'_>) -> Option<(Words, Tokens<'_>)>,
) -> Option<Recipe> {
    let led = phrase("make", said);
    let rest = led.unwrap_or(said);
    let (rest, many) = multiple(rest);
    let of_pot = phrase("pot of", rest);
    let (dish, rest) = dish(of_pot.unwrap_or(rest))?;
    let (rest, pot) = taken("pot", rest);
    let (rest, mut again) = taken("again", rest);
    let (rest, same) = same_of(rest);
    again |= same;
    let (rest, figured) = scale(rest);
    let (rest, behind) = taken("again", rest);
    again |= behind;
    let but = buts(skip("tail", rest.trimmed()))?;
    let pot = pot || of_pot.is_some();
    // "make the rice double" and "double the rice" put a plate right.
    let plain = |but: &RecipeBut| matches!(but, RecipeBut::Set(..));
    let plain = but.iter().any(plain);
    let alone = led.is_none() && !plain;
    let figure = figured.is_some() && (alone || pot || again);
    // "2x dal" may be two helpings, "1.5x dal" is none.
    let crossed = times_first(said).is_some_and(|(_, times)| times > 1.0 && times.fract() != 0.0);
    // "1.5 x boxes" are pieces.
    let glued = said.get(1).is_some_and(|cross| !cross.spaced);
    let part = glued && crossed && alone && rest.is_empty();
    let multiplied = many.is_some() && (pot || again || part);
    let made_with = !plain && matches!(but.first(), Some(RecipeBut::With(..)));
    let told = again || figure || multiplied || made_with && led.is_none_or(|_| pot);
    let scale = match (many, figured) {
        (Some(_), Some(_)) => return None,
        (Some(times), None) => Scale::Times(times),
        (None, figured) => figured.unwrap_or(Scale::AsItWas),
    };
    told.then_some(Recipe {
        dish: Some(dish),
        scale,
        but,
    })
}

/// "dal, same but ghee for oil"
fn same_of(rest: Tokens<'_>) -> (Tokens<'_>, bool) {
    let marked = rest
        .first()
        .is_some_and(|token| token.is(',') || token.is(':'));
    let told = rest.after(usize::from(marked));
    match phrase("same", told).or_else(|| phrase("same as", told)) {
        Some(behind) if marked && !behind.is_empty() => (behind, true),
        _ => (rest, false),
    }
}

/// A dish that nobody has cooked here, with "again" right behind it.
fn unknown(said: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let most = said.len().min(NAME_WORDS_MAX);
    let at = (1..=most).find(|at| phrase("again", said.after(*at)).is_some())?;
    // "seconds, same again" is of a plate.
    let dish = name(said.range(0, at)).filter(|_| said.norm(at - 1) != "same")?;
    Some((dish, said.after(at)))
}

/// "same recipe but 3 onions", "same but ghee for oil"
fn same(said: Tokens<'_>) -> Option<Recipe> {
    let rest = skip("make", said);
    let (rest, plain) = match phrase("same", rest) {
        Some(rest) => (rest, true),
        None => (phrase("same as", rest)?, false),
    };
    let (rest, _) = taken("again", rest);
    let (rest, figured) = scale(rest);
    let but = buts(rest)?;
    let swaps = but
        .iter()
        .any(|but| matches!(but, RecipeBut::Instead { .. }));
    // A plate is had again as well.
    (plain || swaps || figured.is_some()).then_some(Recipe {
        dish: None,
        scale: figured.unwrap_or(Scale::AsItWas),
        but,
    })
}

fn taken<'a>(part: &str, rest: Tokens<'a>) -> (Tokens<'a>, bool) {
    match phrase(part, rest) {
        Some(rest) => (rest, true),
        None => (rest, false),
    }
}

/// "double", "half", "1.5 times", before what is made.
fn multiple(said: Tokens<'_>) -> (Tokens<'_>, Option<f64>) {
    let led = said.after(usize::from(matches!(said.norm(0), "a" | "the")));
    for (part, times) in [("double", 2.0), ("triple", 3.0), ("half", 0.5)] {
        if let Some(rest) = phrase(part, led) {
            let rest = rest.after(usize::from(matches!(rest.norm(0), "a")));
            return (rest, Some(times));
        }
    }
    match times_first(led) {
        Some((rest, times)) => (rest, Some(times)),
        None => (said, None),
    }
}

/// "1.5x", "1.5 times"
fn times_first(said: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let (rest, said) = number(said).ok()?;
    matches!(rest.norm(0), "x" | "times").then(|| (rest.take_one(), said.value))
}

/// "x1.5", "1.5x", "for 3 kg cooked"; behind the dish.
pub(super) fn scale(said: Tokens<'_>) -> (Tokens<'_>, Option<Scale>) {
    let marked = said.first().is_some_and(|token| token.is(','));
    let rest = said.after(usize::from(marked));
    let cooked = || {
        let led = matches!(rest.norm(0), "for" | "to");
        // "dal for 4" is for four people.
        let told = amount::amount(rest.after(usize::from(led)), Stands::BeforeName);
        let Ok((behind, Amount::Mass(grams))) = told else {
            return None;
        };
        let done = phrase("cooked", behind);
        (led || marked && done.is_some()).then(|| (done.unwrap_or(behind), Scale::Cooked(grams)))
    };
    let times = || {
        if let Some((behind, times)) = times_first(rest) {
            return Some((behind, Scale::Times(times)));
        }
        // "same but x2"
        let joined = phrase("join", rest);
        let rest = joined.unwrap_or(rest);
        let crossed = matches!(rest.norm(0), "x" | "times") || rest.first()?.is('×');
        let rest = rest.after(usize::from(crossed));
        // "x-2": there is no such pot, which is told.
        let minus = rest.first().is_some_and(|token| token.is('-'));
        let (behind, said) = number(rest.after(usize::from(minus))).ok()?;
        let times = if minus { -said.value } else { said.value };
        let ends = joined.is_none() || skip_tail(behind.trimmed()).is_empty();
        (crossed && ends).then_some((behind, Scale::Times(times)))
    };
    // "dal again but half"
    let halves = || {
        let rest = phrase("join", rest).unwrap_or(rest);
        let told = [
            ("double behind", 2.0),
            ("triple behind", 3.0),
            ("half behind", 0.5),
        ]
        .into_iter()
        .find_map(|(part, times)| Some((phrase(part, rest)?, Scale::Times(times))));
        told.filter(|(behind, _)| skip_tail(behind.trimmed()).is_empty())
    };
    match times().or_else(cooked).or_else(halves) {
        Some((rest, scale)) => (rest, Some(scale)),
        None => (said, None),
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Set,
    With,
    Plus,
    Without,
}

/// What is different, to the end of the message; `None`: something in it is said otherwise.
pub(super) fn buts(said: Tokens<'_>) -> Option<Vec<RecipeBut>> {
    let mut buts = Vec::new();
    let mut way = Way::Set;
    let mut rest = said.trimmed();
    while !rest.is_empty() {
        let (behind, next) = joined(rest);
        let led = next.is_some();
        (rest, way) = (skip_tail(behind), next.unwrap_or(way));
        if rest.is_empty() {
            break;
        }
        let end = (1..rest.len()).find(|at| separates(rest.after(*at)));
        let piece = rest.range(0, end.unwrap_or(rest.len()));
        // "no salt and 40 g oil": of what is left out nobody tells how much.
        if way == Way::Without && !led && piece.has_number() {
            way = Way::Set;
        }
        buts.push(but(piece.trimmed(), way)?);
        rest = rest.after(piece.len());
    }
    Some(buts)
}

/// "please", "tonight" at the end.
fn skip_tail(rest: Tokens<'_>) -> Tokens<'_> {
    match phrase("tail", rest) {
        Some(behind) if behind.trimmed().is_empty() => behind.trimmed(),
        _ => rest,
    }
}

/// The marks and words that lead to the next difference, and what they make of it, if anything.
fn joined(said: Tokens<'_>) -> (Tokens<'_>, Option<Way>) {
    let (mut rest, mut way) = (said, None);
    loop {
        rest = rest.trimmed_front();
        let ways = [
            ("without", Way::Without),
            ("plus", Way::Plus),
            ("with", Way::With),
            ("only", Way::With),
        ];
        let next = ways
            .into_iter()
            .find_map(|(part, way)| Some((phrase(part, rest)?, way)));
        if let Some((behind, next)) = next {
            (rest, way) = (behind, Some(next));
        } else if rest.first().is_some_and(is_mark) {
            rest = rest.take_one();
        } else if let Some(behind) = phrase("join", rest) {
            if rest.norm(0) == "but" {
                way = Some(Way::Set);
            }
            rest = behind;
        } else {
            return (rest, way);
        }
    }
}

fn is_mark(token: &crate::lang::token::Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '&' | '+' | '.')
    )
}

fn separates(rest: Tokens<'_>) -> bool {
    let parts = ["without", "plus", "with", "only", "join"];
    rest.first().is_some_and(is_mark) || parts.iter().any(|part| phrase(part, rest).is_some())
}

fn but(piece: Tokens<'_>, way: Way) -> Option<RecipeBut> {
    // "15 g salt instead of 10"
    let was = (1..piece.len()).find(|at| {
        let old = phrase("instead", piece.after(*at));
        old.is_some_and(|old| {
            let told = amount::amount(old, Stands::AfterName);
            matches!(told, Ok((rest, _)) if rest.trimmed().is_empty())
        })
    });
    if let Some(at) = was.filter(|_| way != Way::Without) {
        let (amount, name) = measured(piece.range(0, at))?;
        return Some(RecipeBut::Set(amount?, name));
    }
    let swapped = (1..piece.len()).find_map(|at| {
        let old = phrase("instead", piece.after(at))?;
        let (amount, new) = measured(piece.range(0, at))?;
        let old = name(old)?;
        Some(RecipeBut::Instead { amount, new, old })
    });
    if swapped.is_some() {
        return swapped.filter(|_| way != Way::Without);
    }
    if way == Way::Without {
        return name(piece).map(RecipeBut::Without);
    }
    // "rice again with 600": of what most of it is.
    if way == Way::With
        && let Ok((rest, amount)) = amount::amount(piece, Stands::BeforeName)
        && rest.trimmed().is_empty()
        && matches!(amount, Amount::Mass(_) | Amount::Bare(_))
    {
        return Some(RecipeBut::With(amount, Words::plain(String::new())));
    }
    let (amount, name) = measured(piece)?;
    let amount = amount?;
    Some(match way {
        Way::With => RecipeBut::With(amount, name),
        Way::Plus => RecipeBut::Plus(amount, name),
        Way::Set | Way::Without => RecipeBut::Set(amount, name),
    })
}

/// "30 g ghee", "ghee 30", "ghee"
fn measured(said: Tokens<'_>) -> Option<(Option<Amount>, Words)> {
    let said = said.trimmed();
    if let Ok((rest, amount)) = amount::amount(said, Stands::BeforeName) {
        return Some((Some(amount), name(rest)?));
    }
    let at = said.find(|token| token.is_numeric());
    let Some(at) = at.filter(|at| *at > 0) else {
        return Some((None, name(said)?));
    };
    let (rest, amount) = amount::amount(said.after(at), Stands::AfterName).ok()?;
    rest.trimmed().is_empty().then_some(())?;
    Some((Some(amount), name(said.range(0, at))?))
}

fn name(said: Tokens<'_>) -> Option<Words> {
    let name = bare(said.trimmed());
    let fits = name.is_wordy() && !name.is_empty() && name.len() <= NAME_WORDS_MAX;
    fits.then(|| name.words())
}
