//! What a short answer to a question comes to, without what is said around it: "say 230", "i mean cheddar",
//! "the pumpkin one".
//!
//! ```text
//! answer := { lead } ["the"] (amount | name | end) { tail }     end := "lower" | "the bigger one"
//! ```
//! It counts only while something is asked. The words stand in `data/answers.txt`.

use super::aside;
use super::command;
use super::item;
use super::lexer::lex;
use super::name;
use super::person::person;
use super::place;
use super::segment;
use super::sheet_lines;
use super::syntax::{Amount, Command, PlaceKind, Span, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::{answers, in_hand, repeats, slips, top_ups, whole};

/// More words than this are a sentence.
const TOKENS_MAX: usize = 12;
const NAME_TOKENS_MAX: usize = 4;
/// So soon the verb is said.
const TOPPED_WITHIN: usize = 5;
/// Whoever says how cold it is there may say why.
const KIND_TOKENS_MAX: usize = 20;
/// What agrees or declines, whatever is said behind it.
const STRONG: [&str; 7] = ["yes", "yeah", "yep", "yup", "no", "nope", "nah"];

/// A text that is an amount and nothing else: "165", "it was 210 grams", "about 240 I think".
pub fn amount(text: &str, vocabulary: &Vocabulary) -> Option<Amount> {
    lexed(text, vocabulary, |input| {
        let alone = |input| item::whole_amount(input).ok().map(|(_, amount)| amount);
        let plain = segment::without_fillers(input.trimmed());
        let plain = segment::without_fillers(aside::without_leads(plain));
        alone(plain).or_else(|| alone(without_frame(input, |rest| alone(rest).is_some())?))
    })
}

/// The one person named beside the sender, where nothing else is said: "me and Tom", "with Ana".
pub fn companion(text: &str, vocabulary: &Vocabulary) -> Option<Words> {
    const BESIDE: [&str; 11] = [
        "me", "i", "and", "n", "with", "just", "for", "its", "myself", "us", "",
    ];
    lexed(text, vocabulary, |input| {
        let beside = |token: &Token| BESIDE.contains(&token.norm()) && !token.is_numeric();
        let from = input.find(|token| !beside(token))?;
        let (length, who) = person(input.after(from))?;
        let rest = input.after(from + length);
        rest.slice.iter().all(beside).then_some(who)
    })
}

/// A text that is lines of a recount and nothing else: "rice 640, dal 0, chilli same".
pub fn counts(text: &str, vocabulary: &Vocabulary) -> Option<Vec<Command>> {
    lexed(text, vocabulary, |input| {
        let plainly = command::count::answer(input).map(|count| vec![count]);
        plainly.or_else(|| sheet_lines::read(input))
    })
}

/// What is put right of what was just done with stock, where nothing else is said: "no, the rice", "sorry, garage
/// freezer", "scrap that, it was the chilli", "no wait, 800".
#[derive(Debug, Clone, PartialEq)]
pub enum Slip {
    Dish(Words),
    Place(Words),
    Amount(Amount),
}

pub fn slip(text: &str, vocabulary: &Vocabulary) -> Option<Slip> {
    lexed(text, vocabulary, |input| {
        let mut said = input.trimmed();
        let mut led = false;
        while let Some(length) = slips().longest_of(said.slice, "lead") {
            said = said.after(length).trimmed_front();
            led = true;
        }
        let into = usize::from(matches!(said.norm(0), "to" | "into" | "in"));
        let bare = name::bare(said.after(into)).trimmed_end();
        if !led || bare.is_empty() || bare.len() > NAME_TOKENS_MAX {
            return None;
        }
        if place::is_place(bare) {
            return Some(Slip::Place(bare.words()));
        }
        if let Some(dish) = name::of_batch(bare) {
            return Some(Slip::Dish(dish));
        }
        let (_, amount) = item::whole_amount(said).ok()?;
        Some(Slip::Amount(amount))
    })
}

/// The words of a text that says no more than what something is: "cheddar", "sorry, i mean cheddar".
pub fn words(text: &str, vocabulary: &Vocabulary) -> Option<Words> {
    lexed(text, vocabulary, |input| {
        let plain = |token: &Token| {
            matches!(token.kind, Kind::Word(_) | Kind::Newline)
                || matches!(token.kind, Kind::Symbol(',' | '.' | '!' | '-' | '\'' | '/'))
        };
        if !input.slice.iter().all(plain) {
            return None;
        }
        let named = name::bare(without_frame(input, |_| false)?);
        (named.is_wordy() && named.len() <= NAME_TOKENS_MAX).then(|| named.words())
    })
}

/// The same, where they name something to eat.
pub fn food(text: &str, vocabulary: &Vocabulary) -> Option<Words> {
    let named = words(text, vocabulary)?;
    let known = lexed(text, vocabulary, |input| {
        name::familiarity(&named.text, input) >= name::Familiarity::Food
    });
    known.then_some(named)
}

/// A yes or a no, and how sure it is: "yes it's right", "yep, go ahead", "no leave it".
pub fn agrees(text: &str) -> Option<bool> {
    lexed(text, &Vocabulary::new(), |input| {
        let input = input.trimmed();
        // "ok, off to the shop" agrees to nothing.
        if !STRONG.contains(&input.norm(0)) {
            return None;
        }
        let says = |key: &'static str, said: Tokens<'_>| whole().longest_of(said.slice, key);
        let both = [("yes", true), ("no", false)];
        both.into_iter().find_map(|(key, agreed)| {
            let rest = input.after(says(key, input)?).trimmed();
            let behind = without_frame(rest, |_| false)?;
            let more = says(key, behind) == Some(behind.len());
            (rest.is_empty() || behind.is_empty() || more || is_frame(behind)).then_some(agreed)
        })
    })
}

/// How cold it is somewhere: "like a fridge, it's cold down there", "yes add it, it is as cold as the fridge".
pub fn place_kind(text: &str) -> Option<PlaceKind> {
    lexed(text, &Vocabulary::new(), |input| {
        if input.len() > KIND_TOKENS_MAX {
            return None;
        }
        let mark = |token: &Token| matches!(token.kind, Kind::Symbol(_) | Kind::Newline);
        let clauses = input.split(mark);
        let mut kinds = clauses
            .iter()
            .filter_map(|clause| place::kind_alone(*clause));
        let first = kinds.next()?;
        kinds.all(|kind| kind == first).then_some(first)
    })
}

/// What a dish was topped up with, as it is told to the question whether it was: "topped up, I put in 350 g
/// tomatoes", "it was topped up with stock".
pub fn topped_up_with(text: &str) -> Option<String> {
    lexed(text, &Vocabulary::new(), |input| {
        let key = |key: &'static str, said: Tokens<'_>| top_ups().longest_of(said.slice, key);
        let begins = |at: &usize| key("verb", input.after(*at)).is_some();
        let at = (0..input.len().min(TOPPED_WITHIN)).find(begins)?;
        let led = input.range(0, at).trimmed();
        let idle = |token: &Token| !token.is_numeric() && !token.is('?');
        let mut rest = input.after(at + key("verb", input.after(at))?).trimmed();
        loop {
            let who = usize::from(matches!(rest.norm(0), "i" | "we" | "it" | "just"));
            let length = key("link", rest)
                .or_else(|| key("used", rest))
                .unwrap_or(who);
            if length == 0 {
                break;
            }
            rest = rest.after(length).trimmed();
        }
        let told = led.slice.iter().all(idle) && !rest.slice.iter().any(|token| token.is('?'));
        (told && !rest.is_empty()).then(|| rest.text[rest.span()].to_owned())
    })
}

/// Nothing but what stands around an answer.
fn is_frame(said: Tokens<'_>) -> bool {
    let whole = |key: &'static str| answers().longest_of(said.slice, key) == Some(said.len());
    whole("lead") || whole("tail")
}

/// Whether the unclear thing is to be left out: "skip that bit".
pub fn leaves_out(text: &str) -> bool {
    lexed(text, &Vocabulary::new(), |input| {
        let input = input.trimmed();
        answers().longest_of(input.slice, "without") == Some(input.len())
    })
}

/// Whether it is of what was spoken of last: "80 of it".
pub fn is_of_what_was_said(text: &str) -> bool {
    lexed(text, &Vocabulary::new(), |input| {
        let it = |at: usize| in_hand().get(input.norm(at + 1)) == Some("it");
        (0..input.len()).any(|at| input.norm(at) == "of" && it(at))
    })
}

/// Whether a plate is told as one beside another's: "30 salsa for me as well".
pub fn joins_in(text: &str) -> bool {
    lexed(text, &Vocabulary::new(), |input| {
        repeats().stand_in(input.slice, "too")
    })
}

/// Which end of a range is meant: the lower (0) or the upper (1).
pub fn end(text: &str) -> Option<usize> {
    let words = words(text, &Vocabulary::new())?;
    let tokens = lex(&words.text);
    let (length, key) = answers().longest(&tokens)?;
    match key {
        "low" if length == tokens.len() => Some(0),
        "high" if length == tokens.len() => Some(1),
        _ => None,
    }
}

/// The answer itself, without the words before it and behind it; `stands` tells when to stop.
fn without_frame<'a>(input: Tokens<'a>, stands: impl Fn(Tokens<'a>) -> bool) -> Option<Tokens<'a>> {
    if input.len() > TOKENS_MAX {
        return None;
    }
    let mut rest = input.trimmed();
    loop {
        if stands(rest) {
            return Some(rest);
        }
        let lead = answers().longest_of(rest.slice, "lead");
        let front = lead.filter(|&length| length < rest.len());
        let back = (1..rest.len())
            .find(|&at| answers().longest_of(&rest.slice[at..], "tail") == Some(rest.len() - at));
        rest = match (front, back) {
            (Some(length), _) => rest.after(length).trimmed(),
            (None, Some(at)) => rest.range(0, at).trimmed(),
            (None, None) => return Some(rest),
        };
    }
}

/// What is read of a text that is no message.
pub fn lexed<T>(text: &str, vocabulary: &Vocabulary, read: impl FnOnce(Tokens<'_>) -> T) -> T {
    let tokens = lex(text);
    read(Tokens::unread(&tokens, text, vocabulary))
}

/// The numbers of a text that are written in digits, with their places.
pub fn numerals(text: &str) -> Vec<(f64, Span)> {
    let tokens = lex(text);
    let number = |token: &Token| match token.kind {
        Kind::Number(numeral) if numeral.other.is_none() => {
            Some((numeral.value, token.span.clone()))
        }
        _ => None,
    };
    tokens.iter().filter_map(number).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_what_is_left_of_its_frame() {
        for (text, wanted) in [
            ("say 230", 230.0),
            ("dunno, 280ish", 280.0),
            ("50 prob", 50.0),
            ("hm lets go with 45 then", 45.0),
            ("i think it was 120, sorry", 120.0),
        ] {
            let amount = amount(text, &Vocabulary::new());
            assert_eq!(amount, Some(Amount::Bare(wanted)), "{text}");
        }
        for (text, wanted) in [
            ("i mean cheddar", "cheddar"),
            ("the pumpkin one", "pumpkin"),
            ("whichever is older", "older"),
            ("cheddar obviously, sorry", "cheddar"),
            ("oh sorry, autocorrect. brie", "brie"),
        ] {
            let words = words(text, &Vocabulary::new()).map(|words| words.text);
            assert_eq!(words.as_deref(), Some(wanted), "{text}");
        }
    }

    #[test]
    fn talk_is_no_answer() {
        for text in [
            "back at 7",
            "5 mins",
            "call me at 230",
            "say hi",
            "45 people came",
            "go with him at 6",
        ] {
            assert_eq!(amount(text, &Vocabulary::new()), None, "{text}");
        }
        for text in [
            "cheddar?",
            "buy cheddar and milk on the way",
            "the pumpkin is on the porch",
            "ok thanks",
            "morning",
        ] {
            assert_eq!(food(text, &Vocabulary::new()), None, "{text}");
        }
        assert_eq!(end("no more"), None);
        assert_eq!(end("the lower one"), Some(0));
        assert_eq!(end("upper end i think"), Some(1));
    }
}
