//! The shopping list: "shopping list", "put 2 kg onions and milk on the list", "take the onions off the list", "got the
//! onions", "new list", "done shopping".
//!
//! ```text
//! asked  := "shopping list" | "new list" [":" things] | "done shopping" | "got everything on the list"
//! listed := "put" things "on" list | "shopping list" ":" things | "take" things "off" list
//! buy    := "buy" things
//! got    := "got" name { "and" name } | "got everything but" name { "and" name }
//! things := thing { ("," | "and" | line break) thing }
//! thing  := [amount] name | name amount
//! ```

use super::wish::dishes;
use super::{is_phrase, phrase, plan, whole};
use crate::lang::amount::{Stands, amount};
use crate::lang::command::only_marks;
use crate::lang::lexer::folded_words;
use crate::lang::name::bare;
use crate::lang::syntax::{Amount, Buying, Command, HowMany, Prep, Shop, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};

/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;
/// Nobody tells more at once.
const THINGS_MAX: usize = 60;
/// A bare number from here on is grams, below it so many.
const GRAMS_MIN: f64 = 50.0;

pub fn read_asked(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_marks(input.trimmed());
    // A question mark behind it asks for it no less.
    let asked = is_phrase("show list", body).then_some(Shop::Show);
    let asked = asked
        .or_else(|| for_plan(body))
        .or_else(|| for_dishes(body));
    let said = asked.or_else(|| {
        let question = input.slice.iter().any(|token| token.is('?'));
        told(body).filter(|_| !question)
    });
    match said {
        Some(said) => Ok((input.after(input.len()), Command::Prep(Prep::Shop(said)))),
        None => input.no(),
    }
}

/// "shopping list for the plan", "shopping list until Sunday"
fn for_plan(body: Tokens<'_>) -> Option<Shop> {
    let rest = phrase("titled", body).or_else(|| phrase("list", body))?;
    let behind = phrase("plan list", rest);
    let asked = plan::asked_for(behind.unwrap_or(rest))?;
    // "shopping list: oats" names what is bought.
    let planned = behind.is_some() || asked.dishes.is_empty() && !rest.is_empty();
    planned.then_some(Shop::ForPlan(asked))
}

/// "shopping list for dal and chilli": dishes of the household.
fn for_dishes(body: Tokens<'_>) -> Option<Shop> {
    let rest = phrase("list for", body)?;
    let again = rest.last().is_some_and(|token| token.norm() == "again");
    let named = dishes(rest.range(0, rest.len() - usize::from(again)))?;
    let known = named.iter().all(|helping| {
        let words = folded_words(&helping.dish.text);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        helping.grams.is_none() && rest.vocabulary.is_batch(&words)
    });
    let dishes = named.into_iter().map(|helping| helping.dish).collect();
    known.then_some(Shop::ForDishes(dishes))
}

fn told(body: Tokens<'_>) -> Option<Shop> {
    if let Some(rest) = phrase("new list", body) {
        let with = match only_marks(rest) {
            true => Vec::new(),
            false => things(titled(rest)?)?,
        };
        return Some(Shop::New(with));
    }
    if is_phrase("got all", body) || is_phrase("got all behind", body) {
        return Some(Shop::Got(Vec::new()));
    }
    if let Some(rest) = phrase("got all but", body) {
        return Some(Shop::GotAllBut(names(rest)?));
    }
    is_phrase("done shopping", body).then_some(Shop::Done)
}

/// What stands behind a colon, a dash or a line break.
fn titled(rest: Tokens<'_>) -> Option<Tokens<'_>> {
    let first = rest.first()?;
    let marked = first.is(':') || first.is('-') || first.kind == Kind::Newline;
    let behind = rest.without_lead().trimmed();
    (marked && !behind.is_empty()).then_some(behind)
}

pub fn read_listed(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let body = without_marks(said);
        put(body)
            .or_else(|| under_title(body))
            .or_else(|| off(body))
            .map(Prep::Shop)
    })
}

/// "put 2 kg onions on the list"
fn put(body: Tokens<'_>) -> Option<Shop> {
    let behind = phrase("put", body);
    let rest = behind.or(Some(body).filter(|body| body.has_number()))?;
    let things = things(before_list("onto", rest)?)?;
    Some(Shop::Put(things))
}

/// "shopping list: onions, 2 l milk"
fn under_title(body: Tokens<'_>) -> Option<Shop> {
    let rest = phrase("titled", body)?;
    Some(Shop::Put(things(titled(rest)?)?))
}

/// "take the onions off the list"
fn off(body: Tokens<'_>) -> Option<Shop> {
    let rest = phrase("off", body)?;
    // "cross off the onions" does not say of what.
    let names = names(before_list("off behind", rest)?)?;
    Some(Shop::Off(names))
}

/// What stands before "on the list", which is the end.
fn before_list<'a>(joint: &str, rest: Tokens<'a>) -> Option<Tokens<'a>> {
    let at = (1..rest.len()).find(|at| {
        let list = phrase(joint, rest.after(*at));
        list.is_some_and(|list| is_phrase("list", list))
    })?;
    Some(rest.range(0, at))
}

pub fn read_buy(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let things = things(phrase("buy", without_marks(said))?)?;
        Some(Prep::Shop(Shop::Put(things)))
    })
}

/// "add 2 onions": right after a list was spoken of.
pub fn read_add(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let rest = (said.norm(0) == "add").then(|| without_marks(said).take_one())?;
        Some(Prep::Shop(Shop::Put(things(rest)?)))
    })
}

pub fn read_got(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let body = without_marks(said);
        let names = names(phrase("got", body)?)?;
        // Much is got and bought that no list knows of.
        let listed = |name: &Words| said.vocabulary.is_listed(&folded_words(&name.text));
        let meant = body.norm(0).starts_with("tick") || names.iter().all(listed);
        meant.then_some(Prep::Shop(Shop::Got(names)))
    })
}

/// Without politeness at the end.
fn without_marks(said: Tokens<'_>) -> Tokens<'_> {
    let mut said = said.trimmed_end();
    while said.len() > 1 && only_marks(said.after(said.len() - 1)) {
        said = said.range(0, said.len() - 1);
    }
    said
}

/// The parts between commas, line breaks and "and".
fn parts(said: Tokens<'_>) -> Option<Vec<Tokens<'_>>> {
    let mut parts = Vec::new();
    let mut from = 0;
    let mut at = 0;
    while at < said.len() {
        let token = &said.slice[at];
        let mark = matches!(token.kind, Kind::Newline)
            || [',', ';', '+', '&'].iter().any(|c| token.is(*c));
        let length = match mark {
            true => 1,
            false => phrase("apart", said.after(at)).map_or(0, |rest| said.len() - at - rest.len()),
        };
        if length > 0 {
            parts.push(said.range(from, at));
            at += length;
            from = at;
        } else {
            at += 1;
        }
    }
    parts.push(said.range(from, said.len()));
    let parts: Vec<_> = parts
        .into_iter()
        .map(|part| part.trimmed())
        .filter(|part| !part.is_empty())
        .collect();
    (1..=THINGS_MAX).contains(&parts.len()).then_some(parts)
}

fn things(said: Tokens<'_>) -> Option<Vec<Buying>> {
    parts(said)?.into_iter().map(thing).collect()
}

pub fn names(said: Tokens<'_>) -> Option<Vec<Words>> {
    parts(said)?.into_iter().map(name).collect()
}

fn thing(part: Tokens<'_>) -> Option<Buying> {
    let part = without_bullet(part);
    // "2 kg onions", "6 eggs", "2 tins of tomatoes"
    if let Ok((rest, told)) = amount(part, Stands::BeforeName)
        && let Some(name) = name(rest)
    {
        let words = part.range(0, part.len() - rest.len());
        let of = words.last().is_some_and(|token| token.norm() == "of");
        let words = words.range(0, words.len() - usize::from(of));
        let amount = Some(how_many(&told, words)?);
        return Some(Buying { name, amount });
    }
    if let Some(name) = name(part) {
        let amount = None;
        return Some(Buying { name, amount });
    }
    // So many of what is not counted elsewhere: "6 olive oil".
    if part.first().is_some_and(Token::is_numeric)
        && let Some(name) = name(part.after(1))
    {
        let said = part.range(0, 1).words().text;
        let amount = Some(HowMany::Said(said));
        return Some(Buying { name, amount });
    }
    // "rice 1 kg", "oat milk x2"
    let number = |token: &Token| token.is_numeric();
    let at = part.find(number).filter(|at| *at > 0)?;
    let times =
        usize::from(matches!(part.norm(at - 1), "x" | "times") || part.slice[at - 1].is('×'));
    let name = name(part.range(0, at - times))?;
    let behind = part.after(at);
    let (rest, told) = amount(behind, Stands::AfterName).ok()?;
    let amount = Some(how_many(&told, behind)?);
    rest.trimmed().is_empty().then_some(Buying { name, amount })
}

/// "- onions"
fn without_bullet(part: Tokens<'_>) -> Tokens<'_> {
    let marks = part
        .slice
        .iter()
        .take_while(|token| ['-', '*', '•', '·'].iter().any(|c| token.is(*c)));
    part.after(marks.count())
}

fn how_many(told: &Amount, words: Tokens<'_>) -> Option<HowMany> {
    let said = || HowMany::Said(words.trimmed().words().text);
    Some(match told {
        Amount::Mass(grams) => HowMany::Grams(*grams),
        Amount::Bare(grams) if *grams >= GRAMS_MIN => HowMany::Grams(*grams),
        Amount::Bare(count) if *count > 0.0 => said(),
        Amount::Bare(_) => return None,
        _ => said(),
    })
}

/// What something is called, and nothing beside it.
fn name(said: Tokens<'_>) -> Option<Words> {
    let name = bare(said.trimmed());
    let fits = name.is_wordy() && (1..=NAME_WORDS_MAX).contains(&name.len());
    fits.then(|| name.words())
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    /// A household that has a list.
    fn shopping() -> Vocabulary {
        let mut words = Vocabulary::new().with(Sense::Batch, "lentil dal");
        words.open_list();
        words.add_listed("red onions");
        words.add_listed("milk");
        words
    }

    #[test]
    fn a_list_is_asked_for_begun_and_done_with() {
        for (text, printed) in [
            ("shopping list", "shopping list"),
            ("Shopping list?", "shopping list"),
            ("show me the shopping list please", "shopping list"),
            ("what's on the list?", "shopping list"),
            ("new list", "new list"),
            ("start a new shopping list", "new list"),
            (
                "new list: onions, 2 kg rice",
                "new list: onions, 2000 g rice",
            ),
            ("done shopping", "done shopping"),
            ("shopping is done", "done shopping"),
            ("got everything on the list", "tick everything"),
        ] {
            surely_means(text, &shopping(), printed);
        }
        surely_means("shopping list", &Vocabulary::new(), "shopping list");
    }

    #[test]
    fn what_is_put_on_it_and_taken_off() {
        for (text, printed) in [
            (
                "put 2 kg onions on the list",
                "put 2000 g onions on the list",
            ),
            ("add cheddar to the list please", "put cheddar on the list"),
            (
                "put milk, 6 eggs and 2 tins of tomatoes on the shopping list",
                "put milk, 6 eggs, 2 tins tomatoes on the list",
            ),
            (
                "shopping list: rice 1kg, oat milk x2, bin bags",
                "put 1000 g rice, 2 oat milk, bin bags on the list",
            ),
            (
                "shopping list\n- rice\n- 6 eggs",
                "put rice, 6 eggs on the list",
            ),
            ("take the onions off the list", "take onions off the list"),
            (
                "remove milk and onions from the shopping list",
                "take milk, onions off the list",
            ),
        ] {
            surely_means(text, &shopping(), printed);
        }
        let printed = "put red lentils on the list";
        assert!(!means("buy red lentils", &shopping(), printed));
    }

    #[test]
    fn what_is_bought_is_known_by_the_list() {
        surely_means("got the onions", &shopping(), "tick onions");
        surely_means(
            "bought milk and the red onions",
            &shopping(),
            "tick milk, red onions",
        );
        for text in [
            "got the car",
            "got the onions and the car",
            "got the onions?",
        ] {
            is_no(text, &shopping(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }

    #[test]
    fn talk_of_shops_is_left_alone() {
        for text in [
            "we need to buy onions",
            "can someone buy rice",
            "buy rice",
            "put salsa on the list on the fridge door",
            "shopping list: beans x4, rice 1kg, washing up liquid",
            "add cheddar to the list please",
            "got the onions",
            "add 10 more to the guest list",
            "got everything",
            "bought peas lol",
            "take that off the list of chores",
        ] {
            let prep = |command: &Command| matches!(command, Command::Prep(_));
            is_no(text, &Vocabulary::new(), prep);
        }
    }
}
