//! Who is at the table, what they are called, and who keeps the household.
//!
//! ```text
//! who    := "who is here" | "who is the keeper"
//! name   := "call me" new | "I am" new, of which no word is known | "call" person ["to"] new | person "is called" new | "change" person "name to" new
//! also   := "also call me" new | "also call" person new | person "is also" new | "nickname" new "for" person
//! no     := "forget my nickname" [name] | "forget the nickname" name | "forget" person's "nickname" [name]
//!         | "stop calling" ("me" | person) name | person "is not" name ["any more"]
//! add    := "add guest" news | "add guests" news | "add" new ["as a guest"] | new ("is our son" ["he doesn't chat"] | "doesn't chat")
//! leave  := "I am leaving the household" | "remove" person ["from the household"] | person "has left the household"
//! return := "I am back at the table" | new "is back at the table" | "add" new "back"
//! keep   := "make" ("me" | person) "the keeper" | person "is the keeper" | "hand the household to" person
//! news   := new { ("," | "and") new }
//! new    := one to three words that may be a name
//! ```
//! The phrases stand in data/people.txt.

use super::only_marks;
use crate::lang::person::{NAME_WORDS_MAX, by_capital, may_be_called, person};
use crate::lang::syntax::{Command, People, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::people;

/// More at once are no table.
const NEW_NAMES_MAX: usize = 12;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed();
    let asked = body.last().is_some_and(|token| token.is('?'));
    let body = body.range(0, body.len() - usize::from(asked)).trimmed();
    let body = without_please(body);
    let asks = asks(body);
    let tells = || match asked || is_asked_politely(body) {
        true => None,
        false => tells(body),
    };
    match asks.or_else(tells) {
        Some(said) => Ok((input.after(input.len()), Command::People(said))),
        None => input.no(),
    }
}

/// "can you call me Rob?" asks for it; any other question tells nothing.
fn is_asked_politely(body: Tokens<'_>) -> bool {
    matches!(
        body.norm(0),
        "should" | "shall" | "may" | "did" | "does" | "is" | "if"
    )
}

fn without_please(body: Tokens<'_>) -> Tokens<'_> {
    let polite = |token: &Token| matches!(token.norm(), "please" | "pls" | "plz" | "thanks");
    let last = body.last().is_some_and(&polite) && body.len() > 1;
    let body = body.range(0, body.len() - usize::from(last)).trimmed();
    let first = body.first().is_some_and(polite) && body.len() > 1;
    body.after(usize::from(first)).trimmed()
}

fn asks(body: Tokens<'_>) -> Option<People> {
    let who = is("who", body) || is("who loosely", body);
    let keeps = || is("who keeps", body).then_some(People::WhoKeeps);
    who.then_some(People::Who).or_else(keeps)
}

fn tells(body: Tokens<'_>) -> Option<People> {
    not_nicknamed(body)
        .or_else(|| nicknamed(body))
        .or_else(|| named(body))
        .or_else(|| left(body))
        .or_else(|| returned(body))
        .or_else(|| kept(body))
        .or_else(|| added(body))
}

fn named(body: Tokens<'_>) -> Option<People> {
    let own = lead("call me", body).or_else(|| lead("my name", body));
    if let Some(name) = own.and_then(new_name) {
        return Some(People::Name { who: None, name });
    }
    if let Some(rest) = lead("introduced", body) {
        let unheard = |at: usize| by_capital(rest.after(at)).is_some();
        let name = new_name(rest).filter(|_| (0..rest.trimmed().len()).all(unheard))?;
        return Some(People::Introduced { name });
    }
    let (who, rest) = lead("call", body)
        .and_then(somebody)
        .or_else(|| unheard(lead("rename", body)?))
        .or_else(|| {
            let (who, rest) = lead("change", body).and_then(somebody)?;
            Some((who, lead("name to", rest)?))
        })
        .or_else(|| {
            let (who, rest) = somebody(body)?;
            Some((who, lead("called", rest)?))
        })?;
    let name = new_name(lead("to", rest).unwrap_or(rest))?;
    let who = Some(who);
    Some(People::Name { who, name })
}

/// "rename Zed to Zoe": nobody here, which is said.
fn unheard(input: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let rest = input.after(1);
    lead("to", rest)?;
    Some((by_capital(input)?, rest))
}

fn nicknamed(body: Tokens<'_>) -> Option<People> {
    let own = lead("also me", body).or_else(|| {
        lead("nickname", body).filter(|rest| rest.find(|it| it.norm() == "for").is_none())
    });
    let own = own.or_else(|| before("also behind", lead("call me", body)?));
    if let Some(name) = own.and_then(new_name) {
        return Some(People::Nickname { who: None, name });
    }
    if let Some(rest) = lead("nickname", body) {
        let at = rest.find(|token| token.norm() == "for")?;
        let name = new_name(rest.range(0, at))?;
        let (who, rest) = somebody(rest.after(at + 1))?;
        let who = Some(who);
        return only_marks(rest).then_some(People::Nickname { who, name });
    }
    let (who, rest) = lead("also call", body)
        .and_then(somebody)
        .or_else(|| {
            let (who, rest) = lead("call", body).and_then(somebody)?;
            Some((who, before("also behind", rest)?))
        })
        .or_else(|| {
            let (who, rest) = somebody(body)?;
            Some((who, lead("also called", rest)?))
        })?;
    let name = new_name(rest)?;
    let who = Some(who);
    Some(People::Nickname { who, name })
}

/// That somebody is not called so: a word that means somebody here.
fn not_nicknamed(body: Tokens<'_>) -> Option<People> {
    let drop = |who: Option<Words>, name: Option<Words>| People::NoNickname { who, name };
    if let Some(rest) = lead("no nickname", body) {
        let name = (!rest.is_empty()).then(|| known_name(rest));
        return match name {
            None => Some(drop(None, None)),
            Some(name) => name.map(|name| drop(None, Some(name))),
        };
    }
    if let Some(rest) = lead("forget the nickname", body) {
        let name = known_name(rest)?;
        // Whose it is, it says itself.
        return Some(drop(Some(name.clone()), Some(name)));
    }
    if let Some((who, rest)) = lead("forget", body).and_then(somebody) {
        let rest = lead("their nickname", rest)?;
        let name = match rest.is_empty() {
            true => None,
            false => Some(known_name(rest)?),
        };
        return Some(drop(Some(who), name));
    }
    if let Some(rest) = lead("stop calling", body) {
        let (who, rest) = match rest.norm(0) {
            "me" => (None, rest.after(1)),
            _ => somebody(rest).map(|(who, rest)| (Some(who), rest))?,
        };
        return Some(drop(who, Some(known_name(rest)?)));
    }
    if let Some(rest) = lead("me is not", body) {
        return Some(drop(None, Some(known_name(rest)?)));
    }
    let (who, rest) = somebody(body)?;
    let name = known_name(lead("is not", rest)?)?;
    Some(drop(Some(who), Some(name)))
}

/// The whole as a word for somebody who is known here.
fn known_name(input: Tokens<'_>) -> Option<Words> {
    let input = before("any more", input).unwrap_or(input);
    let (who, rest) = somebody(input.trimmed())?;
    rest.is_empty().then_some(who)
}

fn added(body: Tokens<'_>) -> Option<People> {
    let add = |names: Vec<Words>| People::Add { names };
    let one = |name: Words| add(vec![name]);
    if let Some(rest) = lead("add guest", body) {
        return new_names(before("as guest", rest).unwrap_or(rest)).map(add);
    }
    if let Some(rest) = lead("add", body) {
        return match before("back", rest).or_else(|| before("as guest", rest)) {
            Some(names) => new_names(names).map(add),
            None => new_name(rest).map(one),
        };
    }
    let name = body.after(usize::from(body.norm(0) == "guest"));
    let told = |at: &usize| is_why_added(name.after(*at));
    // "guest Mia", and no more
    if name.len() < body.len() && by_capital(name).is_some() && name.len() <= NAME_WORDS_MAX {
        let all = (0..name.len()).all(|at| by_capital(name.after(at)).is_some());
        return new_name(name).filter(|_| all).map(one);
    }
    let ends = (1..=NAME_WORDS_MAX.min(name.len())).find(told)?;
    new_name(name.range(0, ends)).map(one)
}

/// "Jo and Max", "Jo, Max & Lea"
fn new_names(input: Tokens<'_>) -> Option<Vec<Words>> {
    let joins =
        |token: &Token| matches!(token.norm(), "and" | "n") || token.is(',') || token.is('&');
    let parts = input.split(joins).into_iter();
    let parts = parts.filter(|part| !part.trimmed().is_empty());
    let names: Option<Vec<Words>> = parts.map(new_name).collect();
    names.filter(|names| (1..=NEW_NAMES_MAX).contains(&names.len()))
}

/// "is our son, he doesn't chat", "is back at the table".
fn is_why_added(rest: Tokens<'_>) -> bool {
    if is("is back", rest) || is("not chat", rest.trimmed()) {
        return true;
    }
    let Some(rest) = lead("is kin", rest) else {
        return false;
    };
    let rest = rest.trimmed();
    let rest = lead("and", rest)
        .filter(|rest| !rest.is_empty())
        .unwrap_or(rest);
    rest.is_empty() || is("not chat", rest.trimmed())
}

fn left(body: Tokens<'_>) -> Option<People> {
    if is("left me", body) || is("left me loosely", body) {
        return Some(People::Leave { who: None });
    }
    if let Some(rest) = lead("remove", body) {
        let from = before("from", rest);
        let takes = body.norm(0) == "take";
        let name = from.or(Some(rest).filter(|_| !takes))?;
        // Whoever is not known is told so where it is clear that a person is meant.
        let known = somebody(name).filter(|(_, rest)| rest.is_empty());
        let who = known.map(|(who, _)| who);
        let who = who.or_else(|| from.and_then(new_name));
        return Some(People::Leave { who: Some(who?) });
    }
    let (who, rest) = somebody(body)?;
    let gone = is("has left", rest) || is("has left loosely", rest);
    gone.then_some(People::Leave { who: Some(who) })
}

fn returned(body: Tokens<'_>) -> Option<People> {
    let back = is("return", body) || is("return loosely", body);
    back.then_some(People::Return)
}

fn kept(body: Tokens<'_>) -> Option<People> {
    let keep = |who: Option<Words>| People::Keep { who };
    let whom = |rest: Tokens<'_>| -> Option<(Option<Words>, usize)> {
        match rest.norm(0) {
            "me" => Some((None, rest.len() - 1)),
            _ => somebody(rest).map(|(who, left)| (Some(who), left.len())),
        }
    };
    if let Some(rest) = lead("make", body) {
        let (who, left) = whom(rest)?;
        return is("keeper", rest.after(rest.len() - left)).then(|| keep(who));
    }
    if let Some(rest) = lead("hand", body) {
        let (who, left) = whom(rest)?;
        return (left == 0).then(|| keep(who));
    }
    let (who, rest) = somebody(body)?;
    is("keeps", rest).then(|| keep(Some(who)))
}

/// Somebody whom the household knows, and what follows.
fn somebody(input: Tokens<'_>) -> Option<(Words, Tokens<'_>)> {
    let (length, who) = person(input)?;
    Some((who, input.after(length)))
}

/// The whole as a name that somebody may have.
fn new_name(input: Tokens<'_>) -> Option<Words> {
    let name = input.trimmed();
    may_be_called(before("now behind", name).unwrap_or(name))
}

fn lead<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let length = people().longest_of(input.slice, part)?;
    Some(input.after(length))
}

/// Whether the whole is a phrase of this part.
fn is(part: &str, input: Tokens<'_>) -> bool {
    people().longest_of(input.slice, part) == Some(input.len())
}

/// What stands before a phrase of this part, which ends it.
fn before<'a>(part: &str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    let ends = |at: &usize| is(part, input.after(*at));
    let at = (1..input.len()).find(ends)?;
    Some(input.range(0, at).trimmed())
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn table() -> Vocabulary {
        ["Ana", "Tom", "Mia", "first Sam", "second Sam"]
            .iter()
            .fold(Vocabulary::new(), |words, name| {
                words.with(Sense::Person, name)
            })
            .with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn what_is_told_of_people_in_many_spellings() {
        for (text, printed) in [
            ("call me Rob", "call me Rob"),
            ("Please call me Rob.", "call me Rob"),
            ("you can call me Mary Jane", "call me Mary Jane"),
            ("call me Mum", "call me Mum"),
            ("my name is Rob", "call me Rob"),
            ("rename Ana to Annie", "call Ana Annie"),
            ("call Ana Annie", "call Ana Annie"),
            ("Ana is now called Annie", "call Ana Annie"),
            ("change Ana's name to Annie", "call Ana Annie"),
            ("Ana's name is Annie", "call Ana Annie"),
            ("call second Sam Sammy", "call second Sam Sammy"),
            ("Ana is also Annie", "also call Ana Annie"),
            ("Ana is also known as Annie", "also call Ana Annie"),
            ("also call me Rob", "also call me Rob"),
            ("call me Rob too", "also call me Rob"),
            ("my nickname is Rob", "also call me Rob"),
            ("nickname Annie for Ana", "also call Ana Annie"),
            ("forget my nickname", "forget my nickname"),
            ("drop my nicknames please", "forget my nickname"),
            ("forget my nickname Mia", "forget my nickname Mia"),
            ("forget Ana's nickname", "forget Ana's nickname"),
            ("Ana is not Mia any more", "stop calling Ana Mia"),
            ("ana isn't called mia", "stop calling ana mia"),
            ("stop calling Ana Mia", "stop calling Ana Mia"),
            ("stop calling me Mia", "forget my nickname Mia"),
            ("forget the nickname Mia", "stop calling Mia Mia"),
            ("add guest Zoe", "add guest Zoe"),
            ("add Zoe as a guest", "add guest Zoe"),
            ("add our son Leo", "add guest Leo"),
            ("add guests Jo and Max", "add guests Jo, Max"),
            ("add Jo, Max and Lea as guests", "add guests Jo, Max, Lea"),
            ("Leo is our son, he doesn't chat", "add guest Leo"),
            ("Leo is our son and he doesn't chat", "add guest Leo"),
            ("Leo eats with us but doesn't chat", "add guest Leo"),
            ("Zoe doesn't chat", "add guest Zoe"),
            ("add Zoe back to the table", "add guest Zoe"),
            ("Zoe is back at the table", "add guest Zoe"),
            (
                "remove Mia from the household",
                "remove Mia from the household",
            ),
            ("remove Mia", "remove Mia from the household"),
            ("take Mia off the table", "remove Mia from the household"),
            (
                "Mia has left the household",
                "remove Mia from the household",
            ),
            ("I'm leaving the household", "I am leaving the household"),
            ("I'm back at the table", "I am back at the table"),
            ("make Ana the keeper", "make Ana the keeper"),
            ("make me keeper", "make me the keeper"),
            ("Ana is the keeper now", "make Ana the keeper"),
            ("hand the household over to Ana", "make Ana the keeper"),
            ("who is here", "who is here"),
            ("who's at the table?", "who is here"),
            ("list members", "who is here"),
            ("who is the keeper?", "who is the keeper"),
        ] {
            surely_means(text, &table(), printed);
        }
        for (text, printed) in [
            ("call me robbie", "call me robbie"),
            ("add Zoe", "add guest Zoe"),
            ("Leo is our son", "add guest Leo"),
            ("Mia moved out", "remove Mia from the household"),
            ("who's here?", "who is here"),
        ] {
            assert!(!means(text, &table(), printed), "{text} may be talk");
        }
        assert!(!means("I'm Robbie", &table(), "I am Robbie"));
    }

    #[test]
    fn talk_of_people_tells_nothing() {
        for text in [
            "I'm vegan",
            "I'm Late",
            "this is nice",
            "call me later",
            "call me back",
            "Call me Friday",
            "Call me tonight",
            "call me when you're done",
            "call me crazy",
            "call Ana later",
            "call Ana back please",
            "Call Tom and Mia",
            "Ana is leaving at 5",
            "Ana is also coming",
            "Ana is also hungry",
            "Ana is also here",
            "Ana is not here",
            "Ana is not well",
            "stop calling me names",
            "stop calling Ana all day",
            "forget Ana's birthday",
            "my guest is late",
            "add guest towels to the wash",
            "Mia is our guest tonight",
            "Mia has left",
            "Ana left the table",
            "I'm leaving now",
            "I'm back",
            "make Ana the dinner",
            "make me the keeper of secrets",
            "Ana is a keeper",
            "that one's a keeper",
            "remove the lid",
            "who is here tonight?",
            "who's here",
            "who is here for dinner",
            "people are nice",
            "is Ana the keeper?",
            "should I call Ana Annie?",
            "Tom doesn't chat much",
            "add lentil dal",
            "take onions off the list",
            "who left the milk out",
        ] {
            is_no(text, &table(), |command| {
                matches!(command, Command::People(_))
            });
        }
    }
}
