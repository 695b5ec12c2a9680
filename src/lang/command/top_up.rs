//! A dish topped up: "topped up the sauce with 200 ml stock", "thinned the soup with 150 water, 900 now".
//!
//! ```text
//! top-up := ["i" | "we"] verb dish [link] lines [now]
//!         | opens dish closes [link] lines [now]            "topped the sauce up with 200 ml stock"
//!         | dish [":"] verb [link] lines [now]              "sauce topped up with 200 ml stock"
//!         | ["used"] lines into dish                        "200 ml stock to top up the sauce"
//!         | stirred lines "into" dish                       "stirred 100 water into the dal"
//!         | mixed (lines | dish) "into" dish                "tipped all the beans into the chilli"
//!         | verb dish "to" grams ["with" line]              "topped up the sauce to 1200 with stock"
//!         | verb dish "by" grams                            "topped up the dal by 120"
//! dish   := ["the rest of"] batch [("in" | "from") place]
//! now    := "now" grams | grams "now" | weighing
//! ```
//! Its words are in `data/top_up.txt`. Only a dish of the household is topped up, and only with so much of
//! something: who tops up a plate or a glass says nothing here.

use crate::lang::amount::grams;
use crate::lang::body::body;
use crate::lang::command::filled_up::{added_until, filled_up, now, up_to, without_talk};
use crate::lang::command::on_scale::is_plate;
use crate::lang::command::whither;
use crate::lang::line::has_amount;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Command, IngredientLine, LineContent, TopUp, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::top_ups;

/// A dish with its place is told in so many words.
const DISH_TOKENS_MAX: usize = 12;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = without_lead(input);
    let found = verb_first(body)
        .or_else(|| around(body))
        .or_else(|| dish_first(body))
        .or_else(|| lines_first(body))
        .or_else(|| added_until(body))
        .or_else(|| stirred_in(body))
        .or_else(|| mixed_in(body))
        .or_else(|| unknown(body));
    match found {
        Some(top_up) => Ok((input.after(input.len()), Command::TopUp(top_up))),
        None => input.no(),
    }
}

fn without_lead(input: Tokens<'_>) -> Tokens<'_> {
    let lead = |token: &&Token| {
        matches!(
            token.norm(),
            "i" | "we" | "ive" | "weve" | "just" | "have" | "then" | "so" | "ok" | "and"
        )
    };
    let input = input.trimmed();
    input.after(input.slice.iter().take_while(lead).count())
}

/// Something is topped up that is nobody's plate: what goes into it is not eaten, whether it is known or not.
pub fn opens(input: Tokens<'_>) -> bool {
    thing(without_lead(input)).is_some()
}

/// What is topped up, and what follows it: words up to what goes in.
fn thing(body: Tokens<'_>) -> Option<(Tokens<'_>, Tokens<'_>)> {
    let rest = body.after(key("verb", body)?);
    let ends = |at: &usize| {
        let behind = rest.after(*at);
        let led = key("link", behind).or(key("by", behind)).is_some();
        led || behind
            .first()
            .is_some_and(|token| !matches!(token.kind, Kind::Word(_)))
    };
    let end = (0..rest.len()).find(ends)?;
    let said = rest.range(0, end);
    let mine = |token: &Token| is_plate(token.norm()) || token.norm() == "me";
    let anybody = person(said).is_some() || said.slice.iter().any(mine);
    (end > 0 && !anybody).then(|| (said, rest.after(end)))
}

/// "topped up the chutney with 200 g stock", of which nobody here knows.
fn unknown(body: Tokens<'_>) -> Option<TopUp> {
    let (said, behind) = thing(body)?;
    let name = name::bare(said);
    let wordy = name.is_wordy() && !name.is_empty();
    with(name.words(), None, behind).filter(|_| wordy)
}

pub fn key(key: &str, input: Tokens<'_>) -> Option<usize> {
    top_ups().longest_of(input.slice, key)
}

/// "topped up the sauce with 200 ml stock"
fn verb_first(body: Tokens<'_>) -> Option<TopUp> {
    let rest = body.after(key("verb", body)?);
    by_dish(rest, |_| Some(0))
}

/// "topped the sauce up with 200 ml stock"
fn around(body: Tokens<'_>) -> Option<TopUp> {
    let rest = body.after(key("opens", body)?);
    by_dish(rest, |behind| key("closes", behind))
}

/// A dish, what closes the verb, and what went in.
fn by_dish(rest: Tokens<'_>, closes: impl Fn(Tokens<'_>) -> Option<usize>) -> Option<TopUp> {
    (1..rest.len().min(DISH_TOKENS_MAX)).find_map(|at| {
        let behind = rest.after(at);
        let (batch, from) = dish(rest.range(0, at))?;
        with(batch, from, behind.after(closes(behind)?))
    })
}

/// "sauce topped up with 200 ml stock", "sauce: top up 200 ml stock"
fn dish_first(body: Tokens<'_>) -> Option<TopUp> {
    (1..body.len().min(DISH_TOKENS_MAX)).find_map(|at| {
        let length = key("verb", body.after(at))?;
        let said = body.range(0, at);
        let marks = said.slice.iter().rev();
        let idle = |token: &&Token| {
            matches!(token.kind, Kind::Symbol(':' | '-' | ','))
                || matches!(token.norm(), "was" | "is" | "got" | "just")
        };
        let said = said.range(0, at - marks.take_while(idle).count());
        let (batch, from) = dish(said)?;
        with(batch, from, body.after(at + length))
    })
}

/// "used 200 ml stock to top up the sauce"
fn lines_first(body: Tokens<'_>) -> Option<TopUp> {
    let body = body.after(key("used", body).unwrap_or(0));
    (1..body.len()).find_map(|at| {
        let length = key("into", body.after(at))?;
        let rest = body.after(at + length);
        let (rest, weighing) = now(rest).unwrap_or((rest, None));
        let (batch, from) = dish(rest.trimmed())?;
        let mut top_up = went_in(batch, from, body.range(0, at))?;
        top_up.weighing = top_up.weighing.or(weighing);
        Some(top_up)
    })
}

/// "stirred 100 water into the dal", "dal was a bit thick, stirred 100 water into it"
fn stirred_in(body: Tokens<'_>) -> Option<TopUp> {
    let (it, body) = match body.slice.iter().rposition(|token| token.is(',')) {
        Some(at) if key("stirred", body.after(at + 1)).is_some() => {
            (Some(told_of(body.range(0, at))?), body.after(at + 1))
        }
        _ => (None, body),
    };
    let rest = body.after(key("stirred", body)?);
    let at = rest.find(|token| token.norm() == "into")?;
    let said = rest.after(at + 1).trimmed();
    let (batch, from) = match it {
        Some(it) if said.len() == 1 && matches!(said.norm(0), "it" | "that" | "them") => (it, None),
        _ => dish(said)?,
    };
    went_in(batch, from, rest.range(0, at))
}

/// "dal was a bit thick": the dish that something is said of, and no number.
fn told_of(said: Tokens<'_>) -> Option<Words> {
    let at = said.find(|token| matches!(token.norm(), "was" | "is" | "looked" | "looks"))?;
    name::of_batch(said.range(0, at)).filter(|_| !said.has_number())
}

/// "tipped all the beans into the chilli", "stirred 200 ml stock into the soup"
fn mixed_in(body: Tokens<'_>) -> Option<TopUp> {
    let rest = body.after(key("mixed", body)?);
    let whole = |at: &usize| key("whole", rest.after(*at)) == Some(rest.len() - at);
    let end = (1..rest.len()).find(whole).unwrap_or(rest.len());
    let rest = rest.range(0, end).trimmed_end();
    (1..rest.len()).find_map(|at| {
        let length = key("mixed into", rest.after(at))?;
        let (batch, from) = dish(rest.after(at + length).trimmed())?;
        let said = rest.range(0, at);
        let Some(name) = name::all_of_batch(said) else {
            return went_in(batch, from, said);
        };
        let all = IngredientLine {
            text: format!("all the {name}"),
            span: said.span(),
            part: None,
            content: LineContent::Ingredient {
                amount: Some(Amount::Share(1.0)),
                name,
            },
        };
        Some(TopUp {
            batch,
            from,
            lines: vec![all],
            by_grams: None,
            weighing: None,
        })
    })
}

/// A dish of the household, or the rest of it, and where it stands.
pub fn dish(said: Tokens<'_>) -> Option<(Words, Option<Words>)> {
    let (said, from) = whither::place(said, &["in", "from", "of"]);
    Some((name::all_of_batch(said)?, from))
}

/// What stands behind the dish: how much of what.
fn with(batch: Words, from: Option<Words>, behind: Tokens<'_>) -> Option<TopUp> {
    if let Some(length) = key("by", behind) {
        let rest = behind.after(length);
        let (rest, weighing) = now(rest).unwrap_or((rest, None));
        let (left, grams) = grams(rest.trimmed()).ok()?;
        return left.trimmed().is_empty().then_some(TopUp {
            batch,
            from,
            lines: Vec::new(),
            by_grams: Some(grams),
            weighing,
        });
    }
    if let Some((rest, weighing)) = up_to(behind) {
        return filled_up(batch, from, rest, weighing);
    }
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Symbol(':' | ',' | '-' | '+') | Kind::Newline
        )
    };
    let marks = behind.slice.iter().take_while(|token| mark(token)).count();
    let rest = behind.after(marks);
    let link = key("link", rest).unwrap_or(0);
    let led = marks + link > 0 || rest.first().is_some_and(Token::is_numeric);
    led.then(|| went_in(batch, from, rest.after(link).without_lead()))
        .flatten()
}

fn went_in(batch: Words, from: Option<Words>, said: Tokens<'_>) -> Option<TopUp> {
    let said = without_talk(said);
    // "with stock to 1200"
    let ends =
        |at: &usize| up_to(said.after(*at)).is_some_and(|(rest, _)| rest.trimmed().is_empty());
    if let Some(at) = (1..said.len()).find(ends) {
        let (_, weighing) = up_to(said.after(at))?;
        return filled_up(batch, from, said.range(0, at), weighing);
    }
    let (said, weighing) = now(said).unwrap_or((said, None));
    let mut read = body(said, said.range(0, 0));
    let plain =
        read.poured.is_empty() && read.places.is_empty() && read.made.is_none() && !read.raw;
    let weighing = match (read.weighings.pop(), weighing) {
        (None, weighing) => weighing,
        (weighing, None) => weighing,
        (Some(_), Some(_)) => return None,
    };
    let told = |line: &IngredientLine| has_amount(line) || line.text.trim() == "water";
    // What it weighs then tells how much of the one thing went in.
    let reckoned = weighing.is_some() && read.lines.len() == 1;
    let all = plain && read.weighings.is_empty() && (reckoned || read.lines.iter().any(told));
    all.then_some(TopUp {
        batch,
        from,
        lines: read.lines,
        by_grams: None,
        weighing,
    })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["tomato sauce", "lentil dal", "brown rice"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn tops_up(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_no_top_up(text: &str) {
        is_no(text, &kitchen(), |it| matches!(it, Command::TopUp(_)));
    }

    #[test]
    fn many_ways_to_top_up_a_dish() {
        let stock = "top up sauce with\n200 ml stock";
        for text in [
            "topped up the sauce with 200 ml stock",
            "Topped up sauce with 200ml stock",
            "i topped the sauce up with 200 ml stock",
            "just topped up the sauce, 200 ml stock",
            "top up sauce 200 ml stock",
            "sauce topped up with 200 ml stock",
            "sauce: topped up 200 ml stock",
            "the sauce was topped up with 200 ml of stock",
            "thinned the sauce with 200 ml stock",
            "let the sauce down with 200 ml stock",
            "stirred 200 ml stock into the sauce",
            "sauce was a bit thick, stirred 200 ml stock into it",
            "toped up the sauce with 200 ml stock",
            "topped up the rest of the sauce with another 200 ml stock",
            "used 200 ml stock to top up the sauce",
            "200 ml stock to thin the sauce",
            "topped off the sauce with 200 ml stock",
        ] {
            tops_up(text, stock);
        }
        tops_up(
            "topped up the dal with 150 g water and 5 g salt, 900 now",
            "top up dal with\n150 g water\n5 g salt\ntotal 900 g",
        );
        tops_up(
            "topped up the dal with 150 water, weighs 1040",
            "top up dal with\n150 water\ntotal 1040 g",
        );
        tops_up("topped up the dal by 120", "top up dal by 120 g");
        for text in [
            "topped up the sauce to 1200 with stock",
            "topped the sauce up to 1200 with stock",
            "filled the sauce up to 1200 g with stock",
            "topped up the sauce with stock to 1200",
            "added stock to the sauce until it weighed 1200",
            "topped up the sauce with stock, weighs 1200 now",
        ] {
            tops_up(text, "top up sauce with\nstock\ntotal 1200 g");
        }
        tops_up("topped up the sauce to 1200", "top up sauce to 1200 g");
        tops_up(
            "topped the dal up by 120 g, 640 now",
            "top up dal by 120 g\ntotal 640 g",
        );
        tops_up(
            "topped up the dal in the fridge with 1 cup stock",
            "top up dal in the fridge with\n1 cup stock",
        );
        tops_up(
            "topped up the dal with 150 g water, was like glue",
            "top up dal with\n150 g water",
        );
        for text in [
            "tipped all the rice into the dal",
            "stirred the rice into the dal, all of it",
            "mixed the rest of the rice in with the dal",
        ] {
            tops_up(text, "top up dal with\nall the rice");
        }
        tops_up(
            "stirred 200 ml stock into the sauce",
            "top up sauce with\n200 ml stock",
        );
        tops_up(
            "topped up the dal with 300 rice",
            "top up dal with\n300 rice",
        );
    }

    #[test]
    fn what_tops_up_no_dish_is_left_alone() {
        for text in [
            "topped up my phone with 20 euros",
            "topped up my bowl with 80 dal",
            "can you top up the sauce with 200 ml stock",
            "should i top up the sauce with 200 ml stock?",
            "dal topped with 20 g cheddar",
            "don't top up the sauce with 200 ml water",
            "topped up the sauce",
            "need to top up the dal with 200 ml stock tomorrow",
            "tipped the rice into the bin",
            "stirred the sugar into my tea",
            "stir 200 ml stock into the sauce tomorrow",
            "we could thin the sauce with 100 ml water",
        ] {
            is_no_top_up(text);
        }
    }

    #[test]
    fn what_goes_into_something_else_is_not_eaten() {
        for text in [
            "topped up the chutney with 200 g stock",
            "thinned the paint with 200 ml water",
            "top up the chutney, 200 g stock",
        ] {
            let parsed = parse(text, &kitchen());
            let eaten = |reading: &crate::lang::Reading| reading.sure && reading.only_eaten();
            assert!(!parsed.readings.iter().any(eaten), "{text}");
        }
        let seconds = parse("topped up my bowl with 80 dal", &kitchen());
        assert!(seconds.best().only_eaten(), "{:?}", seconds.best());
    }
}
