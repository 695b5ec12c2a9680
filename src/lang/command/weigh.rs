//! What the scale says of a batch: "dal weighed 1840", "dal cooked 2310, pot 470".
//!
//! ```text
//! weigh := [batch] verb weighing ["left" ["or eaten"] | "whole"] | verb batch [":"] weighing | batch inside mass
//! ```
//! "rice in the freezer weighs 560" is a count (`count.rs`).

use crate::lang::command::fix::{is_meant, without_excuse};
use crate::lang::command::key_phrase;
use crate::lang::lexer::folded_words;
use crate::lang::name;
use crate::lang::place::dish_in;
use crate::lang::syntax::{Command, ErrorKind, Weighed, WeighedOf, Weighing, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::weighing::{container, weighing};
use crate::lang::words::pots;

/// Less than this, said without a name, is talk.
const UNNAMED_GRAMS_MIN: f64 = 50.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    // "actually rice cooked 1380"
    let input = without_excuse(input.trimmed_end());
    named_first(input).or_else(|error| match error {
        nom::Err::Error(_) => verb_first(input),
        failure => Err(failure),
    })
}

/// "dal weighed 1840"
fn named_first(input: Tokens<'_>) -> Read<'_, Command> {
    for at in 1..input.len().min(9) {
        let here = input.after(at);
        let name = name::bare(without_state(input.range(0, at)));
        if input.slice[at - 1].is_numeric() && input.norm(0) != "d" && !name.is_wordy() {
            break;
        }
        let known = || {
            let words: Vec<&str> = name.slice.iter().map(|token| token.norm()).collect();
            input.vocabulary.is_batch(&words)
        };
        let led = key_phrase("weigh", here).is_ok();
        if let Some(placed) = (led || here.norm(0) == "is")
            .then(|| in_place(name, here))
            .flatten()
        {
            return Ok((input.after(input.len()), placed));
        }
        // "dal in the blue pot 3050": no verb, but a batch in a container.
        // "my dal in the steel bowl" is on its way to be eaten.
        let mine = input.norm(0) == "my";
        let contained = || here.norm(0) == "in" && !mine && known() && in_known(here);
        // "soup is 301, typo" puts a plate right.
        let is = here.norm(0) == "is" && here.get(1).is_some_and(Token::is_numeric);
        let is = is && !is_meant(here);
        if !(led || contained() || is && known()) {
            continue;
        }
        if name.is_empty() || !name.is_wordy() {
            return input.no();
        }
        let (rest, mut command) = whole(here, name, known())?;
        // Without a verb, in what is no pot, it may as well be somebody's plate.
        if let Command::Weigh { of, .. } = &mut command
            && !led
            && *of == WeighedOf::Left
            && here.find(|token| of_word(token.norm()).is_some()).is_none()
        {
            *of = WeighedOf::LeftOrEaten;
        }
        return Ok((rest, command));
    }
    input.no()
}

/// "rice in the freezer weighs 560": so much of it is counted, whatever stands elsewhere.
fn in_place<'a>(said: Tokens<'a>, weighed: Tokens<'a>) -> Option<Command> {
    let (name, place) = dish_in(said)?;
    let body = match weighed.norm(0) {
        "is" => weighed.after(1),
        _ => weighed,
    };
    let (rest, weighing) = weighing(body).ok()?;
    let left = rest.trimmed();
    let whole = left.is_empty() || left.len() == 1 && matches!(left.norm(0), "left" | "now");
    let items = vec![Weighed {
        name,
        place: Some(place),
        weighing,
    }];
    let anyway = false;
    whole.then_some(Command::Count {
        items,
        rest: None,
        anyway,
    })
}

/// "the crumble's out," of "the crumble's out, weighs 985": what is weighed, without how it is.
fn without_state(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed_end();
    if rest.last().is_some_and(|last| last.norm() == "and") {
        rest = rest.range(0, rest.len() - 1).trimmed_end();
    }
    let ends = |rest: &Tokens<'_>, words: &[&str]| {
        rest.len() > 1 && rest.last().is_some_and(|last| words.contains(&last.norm()))
    };
    let states = ["out", "done", "ready", "finished", "cooked", "baked"];
    if rest.len() == input.len() || !ends(&rest, &states) {
        return input;
    }
    rest = rest.range(0, rest.len() - 1);
    while ends(&rest, &["is", "are", "now", "all", "just", "finally"]) {
        rest = rest.range(0, rest.len() - 1);
    }
    rest
}

/// "cooked 1840", with no batch named: it is for the domain to say which is meant.
pub fn read_unnamed(input: Tokens<'_>) -> Read<'_, Command> {
    let input = input.trimmed_end();
    key_phrase("weigh alone", input)?;
    let (_, weighing) = weighing(input)?;
    let total: f64 = weighing.readings_grams.iter().sum();
    let (_, command) = whole(input, input.range(0, 0), false)?;
    if total < UNNAMED_GRAMS_MIN {
        return input.no();
    }
    Ok((input.after(input.len()), command))
}

/// "weighed dal 1840", "cooked dal: 2310 in the pot, pot 470"
fn verb_first(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = key_phrase("weigh first", input)?;
    for at in 1..rest.len().min(7) {
        let name = name::bare(rest.range(0, at));
        let words: Vec<&str> = name.slice.iter().map(|token| token.norm()).collect();
        if name.is_empty() || !name.is_wordy() || !input.vocabulary.is_batch(&words) {
            continue;
        }
        if let Ok(read) = whole(rest.after(at), name, true) {
            return Ok(read);
        }
    }
    input.no()
}

/// The weighing, to the end of the message.
fn whole<'a>(input: Tokens<'a>, name: Tokens<'a>, known: bool) -> Read<'a, Command> {
    let input = input.without_lead();
    let said_at = input.find(|token| of_word(token.norm()).is_some());
    let of = said_at
        .and_then(|at| of_word(input.norm(at)))
        .unwrap_or_default();
    let body = said_at.map_or(input, |at| input.range(0, at));
    let tail = said_at.map_or(input.after(input.len()), |at| input.after(at + 1));
    let either = of == WeighedOf::Left && tail.norm(0) == "or" && tail.norm(1) == "eaten";
    let (of, tail) = match either {
        true => (WeighedOf::LeftOrEaten, tail.after(2)),
        false => (of, tail),
    };
    let (rest, read): (Tokens<'a>, Weighing) = match weighing(body) {
        Ok(read) => read,
        Err(nom::Err::Failure(error)) => return Err(nom::Err::Failure(error)),
        Err(_) if known && body.has_number() => {
            return body.fail(ErrorKind::Malformed {
                form: "dal weighed 1840",
            });
        }
        Err(error) => return Err(error),
    };
    let left_over = if rest.trimmed().is_empty() {
        tail.trimmed()
    } else {
        rest.trimmed()
    };
    if !left_over.is_empty() {
        if known {
            return left_over.fail(ErrorKind::LeftOver(left_over.words().text));
        }
        return input.no();
    }
    Ok((
        input.after(input.len()),
        Command::Weigh {
            batch: dish(name),
            of: match &read.container {
                // A jar of it on the scale is what is left of it.
                Some(jar) if of == WeighedOf::Unsaid && !in_pot(jar) => WeighedOf::Left,
                _ => of,
            },
            weighing: read,
        },
    ))
}

/// "the crumble's" is the crumble.
fn dish(name: Tokens<'_>) -> Words {
    let mut words = name.words();
    let owner = ["'s", "’s"]
        .iter()
        .find_map(|end| words.text.strip_suffix(end));
    if let Some(owner) = owner {
        words.text = owner.to_owned();
    }
    words
}

/// Whether all that was cooked was on the scale, or what is left of it.
fn of_word(word: &str) -> Option<WeighedOf> {
    match word {
        "left" | "remaining" | "remains" => Some(WeighedOf::Left),
        "whole" | "everything" | "originally" => Some(WeighedOf::Whole),
        _ => None,
    }
}

/// Whether it is in something whose tare the household knows: then the whole of it is weighed.
fn in_known(input: Tokens<'_>) -> bool {
    container(input.after(1)).is_ok_and(|(rest, name)| {
        let folded = folded_words(&name.text);
        let words: Vec<&str> = folded.iter().map(String::as_str).collect();
        rest.without_lead().first().is_some_and(Token::is_numeric)
            && input.vocabulary.is(Sense::Container, &words)
    })
}

/// Whether it stands in what it was cooked in.
fn in_pot(name: &Words) -> bool {
    let last = name.text.to_lowercase();
    last.split(' ')
        .next_back()
        .is_some_and(|word| pots().has(word))
}
