//! What people cannot have or leave out.
//!
//! ```text
//! tells := who ("is allergic to" | "can't have" | "doesn't eat") things | who "is coeliac" | who "is" diet
//!        | who "has a" things "allergy" | who "is" things "intolerant" | things "allergy" | "allergies:" who ":" things
//! drops := "forget" who's (things "allergy" | "allergy to" things) | who ("is not allergic to" things | "is not allergic" | "can have" things "again")
//! asks  := "what is" who "allergic to" | "what can't" who "eat" | who "'s allergies" | "who is allergic to what"
//! may   := "can" who ("eat" | "have") dish "?" | "is" dish "ok for" who "?"
//! who   := "I" | person
//! things := thing { ("," | "and" | "or") thing }
//! thing := words of food, or a term of the lists of allergens; a dish of the household is none that is left out
//! ```
//! The phrases stand in data/avoid.txt.

use super::only_marks;
use crate::lang::lexer::folded_words;
use crate::lang::lexicon::{is_food_word, is_ordinary};
use crate::lang::person::{may_be_a_name, person};
use crate::lang::syntax::{Avoid, Command, Eats, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{allergen_words, avoid, meals};

const THINGS_MAX: usize = 12;
const THING_WORDS_MAX: usize = 5;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked)).trimmed();
    let said = asks(body)
        .or_else(|| may_eat(body))
        .or_else(|| match asked {
            true => None,
            false => drops(body).or_else(|| tells(body)),
        });
    match said {
        Some(said) => Ok((input.after(input.len()), Command::Avoid(said))),
        None => input.no(),
    }
}

fn tells(body: Tokens<'_>) -> Option<Avoid> {
    let tell = |who: Eats, what: Vec<Words>, cannot: bool| Avoid::Tells { who, what, cannot };
    if let Some((who, rest)) = lead("allergies of all", body)
        .and_then(|rest| somebody(rest.trimmed()))
        .filter(|(_, rest)| rest.first().is_some_and(|it| it.is(':') || it.is('-')))
    {
        return Some(tell(who, things(rest)?, true));
    }
    if let Some(rest) = lead("me cannot", body) {
        return Some(tell(Eats::Me, things(rest)?, true));
    }
    if is("me coeliac", body) {
        return Some(tell(Eats::Me, vec![Words::plain("gluten")], true));
    }
    if let Some((who, what)) = has_allergy(body) {
        return Some(tell(who, what, true));
    }
    if let Some((who, what)) = dieting(body) {
        return Some(tell(who, what, false));
    }
    let Some((who, rest)) = somebody(body) else {
        let (who, rest) = newcomer(body)?;
        return Some(tell(who, rest, true));
    };
    if is("coeliac", rest) {
        return Some(tell(who, vec![Words::plain("gluten")], true));
    }
    let cannot = lead("cannot", rest).or_else(|| lead("is also", rest));
    if let Some(rest) = cannot {
        return Some(tell(who, things(rest)?, true));
    }
    let what = things(lead("leaves out", rest)?)?;
    // "I don't eat dal" is said of a dish.
    let dish = |thing: &Words| is_dish(thing, body);
    (!what.iter().any(dish)).then(|| tell(who, what, false))
}

/// "I have a nut allergy", "Ana is lactose intolerant", "nut allergy"
fn has_allergy(body: Tokens<'_>) -> Option<(Eats, Vec<Words>)> {
    let named = |input: Tokens<'_>, part: &str| {
        let rest = lead("an", input).unwrap_or(input);
        let what = without(part, rest);
        (what.len() < rest.trimmed().len()).then(|| things(what))?
    };
    if let Some(what) = named(body, "allergy") {
        return Some((Eats::Me, what));
    }
    let own = |part: &str| Some((Eats::Me, lead(part, body)?));
    let of = |part: &str| {
        let (who, rest) = somebody(body)?;
        Some((who, lead(part, rest)?))
    };
    let new = || {
        let name = body.range(0, 1);
        may_be_a_name(name.norm(0)).then_some(())?;
        Some((Eats::Named(name.words()), lead("has", body.after(1))?))
    };
    if let Some((who, rest)) = own("me has").or_else(|| of("has")).or_else(new) {
        return Some((who, named(rest, "allergy")?));
    }
    let (who, rest) = own("me is").or_else(|| of("is"))?;
    Some((who, named(rest, "intolerant")?))
}

/// "I'm a vegetarian": the key of a diet tells what it leaves out.
fn dieting(body: Tokens<'_>) -> Option<(Eats, Vec<Words>)> {
    let own = || Some((Eats::Me, lead("me is", body)?));
    let (who, rest) = own().or_else(|| {
        let (who, rest) = somebody(body)?;
        Some((who, lead("is", rest)?))
    })?;
    let (length, key) = avoid().longest(rest.slice)?;
    let left_out = key.strip_prefix("without ")?;
    let what = left_out.split(" and ").map(Words::plain).collect();
    only_marks(rest.after(length)).then_some((who, what))
}

fn drops(body: Tokens<'_>) -> Option<Avoid> {
    let drop = |who: Eats, what: Vec<Words>| Avoid::Drops { who, what };
    if is("me not at all", body) {
        return Some(drop(Eats::Me, Vec::new()));
    }
    if let Some(rest) = lead("me not", body) {
        return Some(drop(Eats::Me, things(without("any more", rest))?));
    }
    if let Some(rest) = lead("forget", body) {
        let own = matches!(rest.norm(0), "my" | "the");
        let (who, rest) = match own {
            true => (Eats::Me, rest.after(1)),
            false => somebody(rest)?,
        };
        let what = lead("allergy to", rest).or_else(|| {
            let what = without("allergy", rest);
            (what.len() < rest.len()).then_some(what)
        });
        return Some(drop(who, things(what?)?));
    }
    let (who, rest) = somebody(body)?;
    if is("not at all", rest) {
        return Some(drop(who, Vec::new()));
    }
    if let Some(rest) = lead("not", rest) {
        return Some(drop(who, things(without("any more", rest))?));
    }
    // "Tom can have dairy again"
    let rest = lead("may again", rest)?;
    let again = without("again", rest);
    (again.len() < rest.len()).then_some(())?;
    Some(drop(who, things(again)?))
}

fn asks(body: Tokens<'_>) -> Option<Avoid> {
    let ask = |who: Option<Eats>| Avoid::Asks { who };
    if is("who", body) || is("who loosely", body) {
        return Some(ask(None));
    }
    if is("what me", body) {
        return Some(ask(Some(Eats::Me)));
    }
    if let Some((who, rest)) = lead("what", body).and_then(somebody) {
        let known = is("allergic to", rest) || is("allergies of", rest);
        return known.then(|| ask(Some(who)));
    }
    if let Some((who, rest)) = lead("what cant", body).and_then(somebody) {
        return is("eat", rest).then(|| ask(Some(who)));
    }
    let (who, rest) = somebody(body)?;
    is("allergies of", rest).then(|| ask(Some(who)))
}

/// "can Ana eat the dal": a dish of the household.
fn may_eat(body: Tokens<'_>) -> Option<Avoid> {
    if let "is" | "are" = body.norm(0) {
        let rest = body.after(1);
        let told = |at: &usize| lead("safe for", rest.after(*at)).is_some();
        let at = (1..rest.len()).find(told)?;
        let (who, behind) = somebody(lead("safe for", rest.after(at))?)?;
        let dish = whole_dish(rest.range(0, at)).filter(|_| behind.is_empty())?;
        return Some(Avoid::MayEat { who, dish });
    }
    let (who, rest) = somebody(lead("can", body)?)?;
    let rest = lead("eat", rest.after(usize::from(rest.norm(0) == "to")))?;
    let dish = whole_dish(rest)?;
    Some(Avoid::MayEat { who, dish })
}

/// The whole as a dish of the household, or a packet.
pub fn whole_dish(said: Tokens<'_>) -> Option<Words> {
    let dish = said.after(usize::from(matches!(said.norm(0), "the" | "our" | "this")));
    let norms: Vec<&str> = dish.slice.iter().map(Token::norm).collect();
    let stands = dish.vocabulary.is_batch(&norms) || dish.vocabulary.is(Sense::Packet, &norms);
    let known = !norms.is_empty() && stands;
    known.then(|| dish.words())
}

pub fn somebody(input: Tokens<'_>) -> Option<(Eats, Tokens<'_>)> {
    if matches!(input.norm(0), "i" | "me") {
        return Some((Eats::Me, input.after(1)));
    }
    let (length, who) = person(input)?;
    Some((Eats::Named(who), input.after(length)))
}

/// Somebody of whom the household has not heard yet, and what they are told to be allergic to. What people leave out or
/// cannot have today is talked of anybody; an allergy is told for the table.
fn newcomer(body: Tokens<'_>) -> Option<(Eats, Vec<Words>)> {
    let name = body.range(0, 1);
    may_be_a_name(name.norm(0)).then_some(())?;
    let rest = body.after(1);
    let who = Eats::Named(name.words());
    if is("coeliac", rest) {
        return Some((who, vec![Words::plain("gluten")]));
    }
    let length = avoid().longest_of(rest.slice, "cannot")?;
    let told = rest.range(0, length);
    let medical = |token: &Token| {
        matches!(
            token.norm(),
            "allergic" | "allergy" | "intolerant" | "intolerance"
        )
    };
    let what = told.slice.iter().any(medical).then(|| rest.after(length))?;
    Some((who, things(what)?))
}

/// Several, with commas and joining words between them.
pub fn things(input: Tokens<'_>) -> Option<Vec<Words>> {
    let joins = |token: &Token| {
        matches!(token.norm(), "and" | "or" | "nor" | "n" | "plus")
            || token.is(',')
            || token.is('&')
            || token.is('/')
    };
    let whole = thing(input).map(|thing| vec![thing]);
    let several = || {
        let parts = input.split(joins).into_iter();
        let parts = parts.filter(|part| !part.trimmed().is_empty());
        let things: Option<Vec<Words>> = parts.map(thing).collect();
        things.filter(|things| (1..=THINGS_MAX).contains(&things.len()))
    };
    whole.or_else(several)
}

/// Food, or an allergen by its name. What the household has cooked is a dish.
pub fn thing(input: Tokens<'_>) -> Option<Words> {
    let body = input.trimmed();
    let body = without("any more", body);
    let body = lead("any", body)
        .filter(|rest| !rest.is_empty())
        .unwrap_or(body);
    let norms: Vec<&str> = body.slice.iter().map(Token::norm).collect();
    let word = |token: &Token| {
        let letters = token.norm().chars().all(char::is_alphabetic);
        matches!(token.kind, Kind::Word(_)) && letters
    };
    let fits = (1..=THING_WORDS_MAX).contains(&body.len()) && body.slice.iter().all(word);
    let listed = allergen_words().longest_of(body.slice, "allergen") == Some(body.len());
    let eaten = norms.iter().all(|norm| is_food_word(norm))
        && norms
            .last()
            .is_some_and(|last| !is_ordinary(&[last]) && !meals().has(last));
    (fits && (listed || eaten)).then(|| body.words())
}

fn is_dish(thing: &Words, input: Tokens<'_>) -> bool {
    let words = folded_words(&thing.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    input.vocabulary.is_batch(&words)
}

/// Without a phrase of this part at its end.
pub fn without<'a>(part: &str, input: Tokens<'a>) -> Tokens<'a> {
    let body = input.trimmed();
    let ends = |at: &usize| is(part, body.after(*at));
    match (1..body.len()).find(ends) {
        Some(at) => body.range(0, at).trimmed(),
        None => body,
    }
}

pub fn lead<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = avoid().longest_of(input.slice, part)?;
    Some(input.after(length))
}

/// Whether the whole is a phrase of this part.
pub fn is(part: &str, input: Tokens<'_>) -> bool {
    let length = avoid().longest_of(input.slice, part);
    length.is_some_and(|length| only_marks(input.after(length)) && length > 0)
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn table() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Person, "Ana")
            .with(Sense::Person, "Tom")
            .with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn what_people_avoid_in_many_spellings() {
        for (text, printed) in [
            ("Ana is allergic to peanuts", "Ana is allergic to peanuts"),
            ("ana is allergic to nuts", "ana is allergic to nuts"),
            (
                "I'm allergic to peanuts and milk",
                "I am allergic to peanuts, milk",
            ),
            (
                "I am allergic to tree nuts, eggs and sesame",
                "I am allergic to tree nuts, eggs, sesame",
            ),
            ("Tom can't have dairy", "Tom is allergic to dairy"),
            (
                "Tom cannot eat gluten or lactose",
                "Tom is allergic to gluten, lactose",
            ),
            ("Ana is coeliac", "Ana is allergic to gluten"),
            ("I don't eat pork", "I don't eat pork"),
            ("Tom doesn't eat mushrooms", "Tom doesn't eat mushrooms"),
            (
                "Ana is not allergic to peanuts any more",
                "Ana is not allergic to peanuts any more",
            ),
            (
                "I'm not allergic any more",
                "I am not allergic to anything any more",
            ),
            (
                "Tom can have dairy again",
                "Tom is not allergic to dairy any more",
            ),
            ("I eat pork again", "I am not allergic to pork any more"),
            ("what is Ana allergic to?", "what is Ana allergic to"),
            ("what can't Tom eat", "what is Tom allergic to"),
            ("Ana's allergies?", "what is Ana allergic to"),
            ("my allergies", "what am I allergic to"),
            ("who is allergic to what?", "who is allergic to what"),
            ("can Ana eat the dal?", "can Ana eat dal"),
            ("is the dal ok for Ana?", "can Ana eat dal"),
            ("is lentil dal safe for me", "can I eat lentil dal"),
            ("who can't eat what", "who is allergic to what"),
            (
                "Ana is allergic to shellfish too",
                "Ana is allergic to shellfish",
            ),
            (
                "not allergic to peanuts anymore",
                "I am not allergic to peanuts any more",
            ),
            ("I have a nut allergy", "I am allergic to nut"),
            ("Ana has a sesame allergy", "Ana is allergic to sesame"),
            ("Kim has a bad peanut allergy", "Kim is allergic to peanut"),
            ("I'm lactose intolerant", "I am allergic to lactose"),
            ("allergies: Tom: milk", "Tom is allergic to milk"),
            ("I'm a vegetarian", "I don't eat meat, seafood"),
            ("Tom is vegan", "Tom doesn't eat animal products"),
            ("I can't stand coriander", "I don't eat coriander"),
            (
                "forget my milk allergy",
                "I am not allergic to milk any more",
            ),
            (
                "remove my allergy to nuts",
                "I am not allergic to nuts any more",
            ),
            ("no allergies", "I am not allergic to anything any more"),
            ("Kim is allergic to peanuts", "Kim is allergic to peanuts"),
            ("kim is coeliac", "kim is allergic to gluten"),
            (
                "guest Kim is allergic to peanuts, milk",
                "guest Kim is allergic to peanuts, milk",
            ),
        ] {
            surely_means(text, &table(), printed);
        }
        assert!(!means("allergies", &table(), "who is allergic to what"));
        assert!(!means("nut allergy", &table(), "I am allergic to nut"));
    }

    #[test]
    fn talk_of_eating_tells_nothing() {
        for text in [
            "I don't eat breakfast",
            "I have a meeting",
            "my boss has an allergy test",
            "the school has a nut allergy policy",
            "I'm very tired",
            "forget my coat",
            "any allergies?",
            "everybody is allergic to nuts",
            "she is allergic to peanuts",
            "someone is allergic to eggs",
            "my boss is allergic to peanuts",
            "Kim can't have milk",
            "Kim is allergic to work",
            "is the dal good for lunch",
            "I can't eat another bite",
            "Tom can't have the car",
            "I can't have you say that",
            "Ana doesn't eat much",
            "I don't eat dal",
            "Tom can't have dal tonight",
            "Ana is allergic to mornings",
            "I'm allergic to that perfume, honestly",
            "is Ana allergic to nuts?",
            "Ana is allergic to nuts right?",
            "someone in my class is allergic to beans, like all of them",
            "if Ana is allergic to nuts we leave them out",
            "the cat is allergic to milk",
            "can Ana eat with us?",
            "Ana eats pork",
            "Ana avoids Tom",
        ] {
            is_no(text, &table(), |command| {
                matches!(command, Command::Avoid(_))
            });
        }
    }
}
