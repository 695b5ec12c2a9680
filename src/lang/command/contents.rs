//! What a packet says is in it.
//!
//! ```text
//! contents := name ("contains" | "is made with" | "may contain") things
//!           | name "has" things "in it" | "there is" things "in" name
//!           | "ingredients of" name (":" | "are") list | name "ingredients" (":" | "are") list
//! name     := a packet or dish of the household, or words of food
//! list     := word { word } { ("," | ";" | "and") word { word } }
//! ```
//! The phrases stand in data/avoid.txt, the things are those of avoid.rs; a list of ingredients has words that are no food.

use super::avoid::{lead, things, without};
use crate::lang::lexicon::{is_food_word, is_ordinary};
use crate::lang::syntax::{Avoid, Command, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;

const NAME_WORDS_MAX: usize = 5;
const LIST_MAX: usize = 40;
const LISTED_WORDS_MAX: usize = 6;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    match listed(body).or_else(|| told(body)).filter(|_| !asked) {
        Some(said) => Ok((input.after(input.len()), Command::Avoid(said))),
        None => input.no(),
    }
}

/// A part of what is in it.
fn told(body: Tokens<'_>) -> Option<Avoid> {
    if let Some(rest) = lead("there is", body) {
        let at = (1..rest.len()).rfind(|at| rest.norm(*at) == "in")?;
        return some_of(name(rest.after(at + 1))?, things(rest.range(0, at))?);
    }
    let ends = |part: &str, at: usize| lead(part, body.after(at));
    (1..body.len().min(NAME_WORDS_MAX + 2)).find_map(|at| {
        let name = || name(body.range(0, at));
        if let Some(rest) = ends("may have in it", at) {
            // It stands so on the packet, and is no more than that.
            let traces = |thing: &Words| Words::plain(format!("traces of {thing}"));
            return some_of(name()?, things(rest)?.iter().map(traces).collect());
        }
        if let Some(rest) = ends("has in it", at) {
            let rest = without("in it", rest);
            return some_of(name()?, things(rest)?);
        }
        let rest = ends("has also", at)?;
        let what = without("in it", rest);
        (what.len() < rest.trimmed().len()).then_some(())?;
        some_of(name()?, things(what)?)
    })
}

fn some_of(name: Words, things: Vec<Words>) -> Option<Avoid> {
    Some(Avoid::Contents {
        name,
        things,
        whole: false,
    })
}

/// All that is in it.
fn listed(body: Tokens<'_>) -> Option<Avoid> {
    let leads = |token: &Token| token.is(':') || matches!(token.norm(), "are" | "is");
    let told = |name: Tokens<'_>, list: Tokens<'_>| {
        Some(Avoid::Contents {
            name: self::name(name)?,
            things: list_of(list)?,
            whole: true,
        })
    };
    if let Some(rest) = lead("ingredients of", body) {
        let at = rest.find(leads)?;
        return told(rest.range(0, at), rest.after(at + 1));
    }
    let ends = |at: &usize| lead("ingredients", body.after(*at)).is_some();
    let at = (1..body.len().min(NAME_WORDS_MAX + 2)).find(ends)?;
    let rest = lead("ingredients", body.after(at))?;
    let led = rest.first().is_some_and(leads);
    told(body.range(0, at), rest.after(usize::from(led)))
}

/// What may have been bought: a packet or a dish of the household, or food.
fn name(said: Tokens<'_>) -> Option<Words> {
    let body = said.trimmed();
    let body = body.after(usize::from(matches!(
        body.norm(0),
        "the" | "our" | "this" | "these" | "those" | "my"
    )));
    let norms: Vec<&str> = body.slice.iter().map(Token::norm).collect();
    let known = body.vocabulary.is(Sense::Packet, &norms) || body.vocabulary.is_batch(&norms);
    let last = norms.last()?;
    let food = norms.iter().all(|norm| is_food_word(norm)) && !is_ordinary(&[last]);
    let fits = norms.len() <= NAME_WORDS_MAX && body.slice.iter().all(is_word);
    (fits && (known || food)).then(|| body.words())
}

fn list_of(said: Tokens<'_>) -> Option<Vec<Words>> {
    let apart = |token: &Token| {
        token.is(',') || token.is(';') || matches!(token.norm(), "and") || token.is('&')
    };
    let parts = said.trimmed().split(apart).into_iter();
    let parts = parts
        .map(|part| part.trimmed())
        .filter(|part| !part.is_empty());
    let thing = |part: Tokens<'_>| {
        let fits = part.len() <= LISTED_WORDS_MAX && part.slice.iter().all(is_word);
        fits.then(|| part.words())
    };
    let things: Option<Vec<Words>> = parts.map(thing).collect();
    things.filter(|things| (1..=LIST_MAX).contains(&things.len()))
}

fn is_word(token: &Token) -> bool {
    matches!(token.kind, Kind::Word(_)) && token.norm().chars().all(char::is_alphabetic)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Avoid, Command, Sense, Vocabulary};

    fn table() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Packet, "butter biscuits")
            .with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn what_is_in_a_packet_in_many_spellings() {
        for (text, printed) in [
            (
                "the butter biscuits contain wheat, milk and hazelnuts",
                "butter biscuits contains wheat, milk, hazelnuts",
            ),
            (
                "butter biscuits have hazelnuts in them",
                "butter biscuits contains hazelnuts",
            ),
            (
                "there are hazelnuts in the butter biscuits",
                "butter biscuits contains hazelnuts",
            ),
            (
                "our butter biscuits may contain nuts",
                "butter biscuits contains traces of nuts",
            ),
            (
                "ingredients of the butter biscuits: wheat flour, sugar, butter and flavouring",
                "ingredients of butter biscuits: wheat flour, sugar, butter, flavouring",
            ),
            (
                "the ingredients of the butter biscuits are wheat flour; butter",
                "ingredients of butter biscuits: wheat flour, butter",
            ),
            (
                "butter biscuits ingredients: wheat flour, butter",
                "ingredients of butter biscuits: wheat flour, butter",
            ),
        ] {
            surely_means(text, &table(), printed);
        }
        // Of what was never entered here it may be talk.
        assert!(!means(
            "oat milk contains nuts",
            &table(),
            "oat milk contains nuts"
        ));
    }

    #[test]
    fn talk_of_what_is_in_things_tells_nothing() {
        for text in [
            "the report contains errors",
            "there is milk in the fridge",
            "do the butter biscuits contain milk?",
            "the butter biscuits contain nothing good",
            "ingredients for tomorrow: ask Ana",
            "do we have the ingredients for the party: music, lights",
        ] {
            is_no(text, &table(), |command| {
                matches!(command, Command::Avoid(Avoid::Contents { .. }))
            });
        }
    }
}
