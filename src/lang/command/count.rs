//! A stocktake: "recount: soup 1210", "count dal 1840 in the pot, pot 470; beans 400".
//!
//! ```text
//! count := (verb | "weighed" "what we have left") [":"] { [place ":"] thing sep } ["anyway"] | verb
//!        | thing sep { thing sep } "rest" ("same" | "gone")
//! thing := dish [":" | "is"] (weighing | "0" ["g"] | "same" | "gone") | mass dish | "rest" ("same" | "gone" | "not checked")
//! dish  := name ["in" place] | place name
//! ```
//! The verb alone asks for the sheet: what the books hold, to be answered in such lines, without a verb if one
//! likes. A place at the head of a list is that of all that follows: "recount freezer: rice 560, dal 300".

use crate::lang::amount::grams;
use crate::lang::aside::begins_name;
use crate::lang::command::{anyway, key_phrase, whole_phrase};
use crate::lang::item::tricky_length;
use crate::lang::name;
use crate::lang::place::{self, by_name, dish_in, inside, is_place};
use crate::lang::syntax::{Command, ErrorKind, Rest, Weighed, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::weighing::weighing;
use crate::lang::words::recounts;

const FORM: &str = "recount: soup 1210";
const NAME_WORDS_MAX: usize = 6;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(input);
    let mut rest = match (of_the_stock(input), by_the_rest(input)) {
        (Some(rest), _) | (None, Some(rest)) => rest,
        (None, None) => key_phrase("count", input)?.0.without_lead(),
    };
    if matches!(rest.norm(0), "everything" | "all") {
        rest = rest.after(1).without_lead();
    }
    let (rest, list) = list(rest)?;
    if list.items.is_empty() && list.rest.is_none() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let (items, of_rest) = (list.items, list.rest);
    Ok((
        rest,
        Command::Count {
            items,
            rest: of_rest,
            anyway,
        },
    ))
}

/// "dal is 700, chilli 300 and everything else is gone": what is told of all that is not named is no plate's.
fn by_the_rest(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let input = input.trimmed();
    // Behind a sentence of talk: "we havent kept this up all week. dal is 700, ..."
    let ends = |at: &usize| {
        let mark = &input.slice[at - 1];
        let mark = mark.is('.') || mark.is('!') || mark.kind == Kind::Newline;
        mark && !input.range(0, *at).has_number()
    };
    let starts = (1..input.len()).filter(ends);
    let told = |at: usize| {
        let said = input.after(at).trimmed();
        let (rest, list) = list(said).ok()?;
        let told = list.dish_first && !list.items.is_empty() && list.rest.is_some();
        (told && rest.trimmed().is_empty()).then_some(said)
    };
    std::iter::once(0).chain(starts).find_map(told)
}

/// "i just weighed what we have left, beans 640": what stands behind it.
fn of_the_stock(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let who = |token: &&Token| matches!(token.norm(), "i" | "we" | "ive" | "weve" | "ok" | "right");
    let rest = input.after(input.slice.iter().take_while(who).count());
    let rest = rest.after(recounts().longest_of(rest.slice, "looked")?);
    let length = recounts().longest_of(rest.slice, "stock")?;
    Some(rest.after(length).without_lead())
}

pub fn read_sheet(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = whole_phrase("sheet", input)?;
    Ok((rest, Command::Sheet))
}

/// Lines that answer the sheet, with or without the verb: each begins with its dish, since "140 dal" is a plate.
pub fn answer(input: Tokens<'_>) -> Option<Command> {
    let body = input.trimmed().trimmed_end();
    if let Ok((rest, command)) = read(body) {
        return rest.trimmed().is_empty().then_some(command);
    }
    let (rest, list) = list(body).ok()?;
    let told = list.dish_first && !(list.items.is_empty() && list.rest.is_none());
    (told && rest.trimmed().is_empty()).then_some(Command::Count {
        items: list.items,
        rest: list.rest,
        anyway: false,
    })
}

/// What is told of each dish, and of all that is not named.
#[derive(Default)]
struct List {
    items: Vec<Weighed>,
    rest: Option<Rest>,
    /// No weight stands before its dish.
    dish_first: bool,
}

fn list(input: Tokens<'_>) -> Read<'_, List> {
    let mut list = List {
        dish_first: true,
        ..List::default()
    };
    let mut heading = None;
    let mut rest = input;
    loop {
        let skip = rest
            .slice
            .iter()
            .take_while(|token| separates(token))
            .count();
        rest = rest.after(skip);
        if rest.is_empty() {
            return Ok((rest, list));
        }
        if let Some((next, place)) = headed(rest) {
            heading = Some(place);
            rest = next;
        } else if let Some(next) = unchecked(rest) {
            rest = next;
        } else if let Some((next, of_rest)) = others(rest).filter(|_| list.rest.is_none()) {
            list.rest = Some(of_rest);
            rest = next;
        } else {
            list.dish_first &= grams(rest).is_err();
            // "300 and everything else is gone" adds nothing up.
            let begins = |at: &usize| {
                let behind = rest.after(*at);
                let told = recounts().longest_of(behind.slice, "rest").is_some();
                separates(&rest.slice[at - 1]) && told
            };
            let end = (1..rest.len()).find(begins).map(|at| at - 1);
            let one = rest.range(0, end.unwrap_or(rest.len()));
            let (left, mut item) = thing(one)?;
            item.place = item.place.or_else(|| heading.clone());
            list.items.push(item);
            rest = rest.after(one.len() - left.len());
        }
    }
}

/// "rest not checked": nothing is told of it.
fn unchecked(input: Tokens<'_>) -> Option<Tokens<'_>> {
    let length = recounts().longest_of(input.slice, "rest")?;
    let rest = input.after(length).without_lead();
    let rest = rest.after(usize::from(is_idle(rest.norm(0))));
    let end = rest.find(separates).unwrap_or(rest.len());
    let said = rest.range(0, end);
    let whole = recounts().longest_of(said.slice, "unsaid") == Some(end);
    (whole && end > 0).then(|| rest.after(end))
}

/// "rest same", "everything else is gone"
fn others(input: Tokens<'_>) -> Option<(Tokens<'_>, Rest)> {
    let length = recounts().longest_of(input.slice, "rest")?;
    let rest = input.after(length).without_lead();
    let end = rest.find(separates).unwrap_or(rest.len());
    let told = match told(rest.range(0, end))? {
        Told::Same => Rest::Same,
        Told::Gone => Rest::Gone,
    };
    Some((rest.after(end), told))
}

/// What is told of a dish without a weight.
enum Told {
    Same,
    Gone,
}

fn told(said: Tokens<'_>) -> Option<Told> {
    let said = said.without_lead();
    let whole = |said: Tokens<'_>, key| recounts().longest_of(said.slice, key) == Some(said.len());
    let rest = match is_idle(said.norm(0)) {
        true => said.after(1),
        false => said,
    };
    [said, rest].into_iter().find_map(|said| match said {
        said if said.is_empty() => None,
        said if whole(said, "same") => Some(Told::Same),
        said if whole(said, "gone") => Some(Told::Gone),
        _ => None,
    })
}

/// "chilli same", "dal gone": a dish of the household, and no weight.
fn worded(input: Tokens<'_>) -> Option<(Tokens<'_>, Weighed)> {
    let end = input.find(separates).unwrap_or(input.len());
    let said = input.range(0, end);
    (1..said.len()).rev().find_map(|at| {
        let (name, place) = place::dish(strip_is(said.range(0, at)))?;
        let rest = said.after(at);
        let weighing = match told(rest)? {
            Told::Same => Weighing::as_booked(rest.span()),
            Told::Gone => Weighing::net(0.0, rest.span()),
        };
        let weighed = Weighed {
            name,
            place,
            weighing,
        };
        Some((input.after(end), weighed))
    })
}

/// "freezer:", "in the freezer:"
fn headed(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let end = input.find(|token| token.is(':'))?;
    let said = input.range(0, end);
    let bare = match said.norm(0) {
        "in" => said.after(1),
        _ => said,
    };
    let bare = bare.after(usize::from(matches!(bare.norm(0), "the" | "our" | "my")));
    is_place(bare).then(|| (input.after(end + 1), bare.words()))
}

fn thing(input: Tokens<'_>) -> Read<'_, Weighed> {
    if let Some(worded) = worded(input) {
        return Ok(worded);
    }
    if let Ok((rest, grams)) = grams(input) {
        let end = rest.find(separates).unwrap_or(rest.len());
        let (name, place) = named(rest.range(0, end));
        if name.is_wordy() && name.len() <= NAME_WORDS_MAX {
            let said = input.range(0, input.len() - rest.len());
            let weighing = Weighing::net(grams, said.span());
            return Ok((
                rest.after(end),
                Weighed {
                    name: name.words(),
                    place,
                    weighing,
                },
            ));
        }
    }
    let placed = (1..input.len()).find_map(|at| {
        let (rest, place) = inside(input.after(at))?;
        Some((at, rest, place))
    });
    let number = input
        .find(|token| token.is_numeric() || token.norm() == "in")
        .unwrap_or(input.len());
    // "rice in the freezer 560", and not "rice 560, dal in the freezer 300"
    let (said, rest, place) = match placed {
        Some((at, rest, place)) if at <= number => {
            let number = rest.find(Token::is_numeric).unwrap_or(rest.len());
            let idle = strip_is(rest.range(0, number).without_lead());
            let idle = idle.is_empty() || idle.len() == 1 && is_idle(idle.norm(0));
            let number = if idle { number } else { 0 };
            (input.range(0, at), rest.after(number), Some(place))
        }
        _ => (input.range(0, number), input.after(number), None),
    };
    let (name, before) = named(strip_is(name::bare(said)));
    // "mac and cheese" holds a joining word.
    let tricky = tricky_length(input) >= name.len();
    if !name.is_wordy()
        || name.len() > NAME_WORDS_MAX
        || !tricky && name.slice.iter().any(separates)
    {
        return input.no();
    }
    if rest.is_empty() {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let (rest, weighing) = zero(rest).or_else(|_| weighing(rest))?;
    // "rice 560 in the freezer"
    let (rest, behind) = match inside(rest) {
        Some((after, place)) => (after, Some(place)),
        None => (rest, None),
    };
    if rest.first().is_some_and(|token| !separates(token)) && !begins_name(rest) {
        let odd = rest.range(0, 1);
        return rest.fail(ErrorKind::LeftOver(odd.words().text));
    }
    Ok((
        rest,
        Weighed {
            name: name.words(),
            place: place.or(before).or(behind),
            weighing,
        },
    ))
}

/// The name without the place that it stands in.
fn named(said: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let whole = name::bare(said);
    let alone = by_name(whole).is_none();
    let split = alone.then(|| dish_in(whole)).flatten();
    let Some((dish, place)) = split else {
        return (whole, None);
    };
    // A word that was put there has no place in the text.
    let of_dish = |token: &&Token| !token.span.is_empty() && dish.span.contains(&token.span.start);
    let from = whole.find(|token| of_dish(&token)).unwrap_or(0);
    let length = whole.slice.iter().filter(of_dish).count();
    (whole.range(from, from + length), Some(place))
}

/// Nothing is left: the one weighing of nothing that there is.
fn zero(input: Tokens<'_>) -> Read<'_, Weighing> {
    let first = input.first();
    let zero =
        first.filter(|token| matches!(token.kind, Kind::Number(numeral) if numeral.value == 0.0));
    let Some(zero) = zero else {
        return input.no();
    };
    let unit = usize::from(matches!(input.norm(1), "g" | "grams" | "gram"));
    Ok((input.after(1 + unit), Weighing::net(0.0, zero.span.clone())))
}

fn strip_is(name: Tokens<'_>) -> Tokens<'_> {
    let mut name = name;
    while name.len() > 1 && name.last().is_some_and(|last| is_idle(last.norm())) {
        name = name::bare(name.range(0, name.len() - 1));
    }
    name
}

fn is_idle(word: &str) -> bool {
    matches!(
        word,
        "is" | "are" | "still" | "now" | "at" | "weighs" | "left" | "has" | "stands"
    )
}

fn separates(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '+' | '&' | '!')
    ) || token.norm() == "and"
}

#[cfg(test)]
mod tests {
    use crate::lang::answer::counts;
    use crate::lang::{Command, Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "beef chilli", "mac and cheese"] {
            words.add(Sense::Batch, batch);
        }
        words
    }

    #[track_caller]
    fn answers(text: &str, printed: &str) {
        let said = counts(text, &kitchen());
        let said = said.map(|commands| commands[0].to_string());
        assert_eq!(said.as_deref(), Some(printed), "{text}");
        let again = parse(printed, &kitchen());
        assert_eq!(again.best().commands[0].to_string(), printed, "{printed}");
        assert!(again.best().sure, "{printed}");
    }

    #[test]
    fn many_ways_to_answer_a_sheet() {
        let all = "recount: rice 640 g; dal 0 g; chilli same";
        for text in [
            "rice 640, dal 0, chilli same",
            "rice 640\ndal gone\nchilli same",
            "recount: rice 640, dal 0, chilli same",
            "rice is 640 g; dal is gone; chilli is right",
            "rice: 640. dal: none. chilli: ok",
            "rice 640 dal 0 chilli same",
            "rice 640, dal finished and chilli as is",
            "rice now 640, dal all gone, chilli unchanged",
        ] {
            answers(text, all);
        }
        answers("rice 640, rest same", "recount: rice 640 g; rest same");
        answers("everything else is gone", "recount: rest gone");
        answers("rest same", "recount: rest same");
        answers(
            "freezer:\nrice 640\nchilli same\nfridge:\ndal gone",
            "recount: rice in the freezer 640 g; chilli in the freezer same; dal in the fridge 0 g",
        );
        answers(
            "mac and cheese 300, rice 1240 + 80",
            "recount: mac and cheese 300 g; rice 1240 g + 80 g",
        );
    }

    #[test]
    fn what_answers_no_sheet() {
        for text in [
            "140 dal",
            "140 dal, 180 rice",
            "rice 640, and the bus was late",
            "rice?",
            "dal",
            "the rest of the rice",
            "same",
            "gone",
            "rice is lovely",
            "half the dal",
        ] {
            assert_eq!(counts(text, &kitchen()), None, "{text}");
        }
    }

    #[test]
    fn the_verb_alone_asks_for_the_sheet() {
        for text in [
            "recount",
            "Recount!",
            "let's recount",
            "do a stocktake",
            "recount everything",
        ] {
            let parsed = parse(text, &kitchen());
            assert_eq!(parsed.best().commands, [Command::Sheet], "{text}");
            assert!(parsed.best().sure, "{text}");
        }
        for text in [
            "inventory",
            "the recount was close",
            "they want a recount of the votes",
        ] {
            let parsed = parse(text, &kitchen());
            assert!(!parsed.best().sure, "{text}");
        }
    }
}
