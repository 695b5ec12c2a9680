//! Labels to stick on bags: "label dal", "label the soup 50 x 30 mm", "2 labels for dal",
//! "labels for all in the freezer on A4".
//!
//! ```text
//! label := [want] [number | "a"] ("label" | "labels" | ...) ["for"] what { "in" place | size | "on" page }
//!        | batch "label"
//! what  := batch [grams] | batch { "and" batch } | "all" | "everything" | nothing, where a place or a page is told
//! size  := number ["mm"] "x" number ("mm" | "cm" | "in" | "px")
//! page  := "A4" | "letter"
//! ```
//! "label" opens a packet too ("label oats per 100 g: ..."): here the dish is one of the household.

use crate::lang::amount::{Stands, amount, grams};
use crate::lang::clause;
use crate::lang::command::label_size::sized;
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Command, Label, Page, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{capabilities, places};

/// Nobody sticks more on one bag.
const COPIES_MAX: f64 = 50.0;
/// Less is a count.
const GRAMS_MIN: f64 = 20.0;
/// A dish or a place of a longer name is a sentence.
const NAME_WORDS_MAX: usize = 4;
const PLACE_WORDS_MAX: usize = 3;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match label(input.trimmed()).or_else(|| behind_dish(input.trimmed())) {
        Some(label) => Ok((input.after(input.len()), Command::Label(label))),
        None => input.no(),
    }
}

fn label(input: Tokens<'_>) -> Option<Label> {
    let said = |rest: Tokens<'_>, key| capabilities().longest_of(rest.slice, key).unwrap_or(0);
    let mut rest = input.after(said(input, "lead"));
    rest = rest.after(said(rest, "want"));
    let mut copies = 1;
    if let Some((after, count)) = counted(rest) {
        (rest, copies) = (after, count);
    }
    while said(rest, "label article") > 0 {
        rest = rest.after(said(rest, "label article"));
    }
    let opener = said(rest, "label");
    if opener == 0 {
        return None;
    }
    rest = rest.after(opener);
    if matches!(rest.norm(0), "for" | "of" | "on") || rest.first().is_some_and(|next| next.is(':'))
    {
        rest = rest.take_one();
    }
    let (mut size, mut page) = (None, None);
    // In any order: "62 x 40 mm on A4", "on A4, 62 x 40".
    loop {
        if let (None, Some((before, said))) = (size, sized(rest)) {
            (rest, size) = (before, Some(said));
        } else if let (None, Some((before, said))) = (page, on_page(rest)) {
            (rest, page) = (before, Some(said));
        } else {
            break;
        }
    }
    let (rest, place) = placed(rest);
    let (rest, copies) = match times(rest.trimmed()) {
        Some(read) if copies == 1 => read,
        _ => (rest.trimmed(), copies),
    };
    let (rest, bags_told) = without_bags(rest);
    let copies = bags_told.filter(|_| copies == 1).unwrap_or(copies);
    let all = rest.is_empty() || matches!(rest.norm(0), "all" | "everything" | "each" | "every");
    let bags = |token: &Token| {
        matches!(
            token.norm(),
            "all"
                | "everything"
                | "each"
                | "every"
                | "of"
                | "it"
                | "them"
                | "bag"
                | "bags"
                | "box"
                | "boxes"
                | "the"
        )
    };
    let (rest, grams) = match all {
        true => (rest, None),
        false => weighed(rest),
    };
    let names = match all && rest.slice.iter().all(bags) {
        true => Vec::new(),
        false => named(rest)?,
    };
    // "labels" alone is a word of talk, and "label" opens a packet.
    let told = !names.is_empty()
        || !rest.is_empty()
        || place.is_some()
        || page.is_some()
        || size.is_some();
    told.then_some(Label {
        names,
        grams,
        place,
        size,
        page,
        copies,
        bags: bags_told.is_some(),
    })
}

/// "dal 600", "600 g of dal": how much is in the bag, and the dish.
fn weighed(input: Tokens<'_>) -> (Tokens<'_>, Option<f64>) {
    if let Ok((rest, Amount::Bare(grams) | Amount::Mass(grams))) = amount(input, Stands::BeforeName)
        && grams >= GRAMS_MIN
    {
        let of = usize::from(rest.norm(0) == "of");
        return (rest.after(of), Some(grams));
    }
    let behind = |at: &usize| {
        let number = input.slice[*at].is_numeric();
        number && weight(input.after(*at)).is_some_and(|(rest, _)| rest.trimmed().is_empty())
    };
    match (1..input.len()).find(behind) {
        Some(at) => {
            let grams = weight(input.after(at)).map(|(_, grams)| grams);
            (input.range(0, at).trimmed_end(), grams)
        }
        None => (input, None),
    }
}

fn weight(said: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    grams(said).ok().filter(|(_, grams)| *grams >= GRAMS_MIN)
}

/// "dal", "dal and chilli". A dish that is not there is asked for all the same; whether that is meant, its name must
/// tell.
fn named(rest: Tokens<'_>) -> Option<Vec<Words>> {
    if let Some(name) = name::of_batch(rest) {
        return Some(vec![name]);
    }
    let joins = |token: &Token| token.is(',') || token.is('&') || token.norm() == "and";
    let parts = rest.split(joins);
    let parts = parts
        .iter()
        .map(Tokens::trimmed)
        .filter(|part| !part.is_empty());
    let several: Option<Vec<Words>> = parts
        .map(|part| name::of_batch(without_bags(part).0))
        .collect();
    match several {
        Some(names) if names.len() > 1 => Some(names),
        _ => unknown(rest).map(|name| vec![name]),
    }
}

/// "dal label", "the dal labels": a dish of the household in front.
fn behind_dish(input: Tokens<'_>) -> Option<Label> {
    let before = input.len().checked_sub(1)?;
    let last = input.range(before, input.len());
    let opener = capabilities().longest_of(last.slice, "label") == Some(1);
    let name = name::of_batch(input.range(0, before)).filter(|_| opener)?;
    Some(Label {
        names: vec![name],
        grams: None,
        place: None,
        size: None,
        page: None,
        copies: 1,
        bags: false,
    })
}

/// "2 labels": of each so many.
fn counted(input: Tokens<'_>) -> Option<(Tokens<'_>, usize)> {
    let (rest, said) = number(input).ok()?;
    let count = said.value;
    let whole = (1.0..=COPIES_MAX).contains(&count) && count.fract() == 0.0;
    // A number of so few digits is no weight.
    whole.then_some((rest, count as usize))
}

/// "dal x2", "dal x 2" at the end: of each so many.
fn times(input: Tokens<'_>) -> Option<(Tokens<'_>, usize)> {
    let last = input.last()?;
    let (at, count) = match last.norm().strip_prefix('x') {
        Some(count) if !count.is_empty() => (input.len() - 1, count.parse().ok()?),
        _ => {
            let at = input.len().checked_sub(2)?;
            let times = input.norm(at) == "x" || input.slice[at].is('×');
            let (_, count) = counted(input.after(at + 1)).filter(|_| times)?;
            (at, count)
        }
    };
    (at > 0 && (1..=COPIES_MAX as usize).contains(&count)).then(|| (input.range(0, at), count))
}

/// It begins with the word for a label, or with how many of them: nobody eats of that.
pub fn opens(input: Tokens<'_>) -> bool {
    let input = input.trimmed();
    let rest = counted(input).map_or(input, |(rest, _)| rest);
    matches!(rest.norm(0), "label" | "labels")
}

/// "the two chilli bags", "both bags of dal": the dish, and how many bags of it, if they are told of.
fn without_bags(input: Tokens<'_>) -> (Tokens<'_>, Option<usize>) {
    let is_bag = |token: &Token| matches!(token.norm(), "bag" | "bags" | "tubs" | "tub" | "jars");
    let both = input.norm(0) == "both";
    let the = usize::from(both || matches!(input.norm(0), "the" | "our"));
    let the = the + usize::from(both && input.norm(1) == "the");
    let (rest, count) = match counted(input.after(the)) {
        Some((rest, count)) => (rest, count),
        None => (input.after(the), if both { 2 } else { 1 }),
    };
    // "two bags of dal"
    if rest.first().is_some_and(is_bag) && rest.norm(1) == "of" {
        return (rest.after(2), Some(count));
    }
    let tail = rest.slice.iter().rev().take_while(|it| is_bag(it)).count();
    match tail > 0 && tail < rest.len() {
        true => (rest.range(0, rest.len() - tail), Some(count)),
        false => (input, None),
    }
}

/// A name that nobody here has used.
fn unknown(rest: Tokens<'_>) -> Option<Words> {
    // "labels are peeling off again"
    let tells = matches!(
        rest.norm(0),
        "is" | "are"
            | "was"
            | "were"
            | "have"
            | "keep"
            | "fell"
            | "fall"
            | "come"
            | "came"
            | "dont"
    );
    let name = name::bare(rest);
    (!tells && name.is_wordy() && name.len() <= NAME_WORDS_MAX).then(|| name.words())
}

/// "in the freezer", at the end.
fn placed(input: Tokens<'_>) -> (Tokens<'_>, Option<Words>) {
    let from = |token: &Token| matches!(token.norm(), "in" | "from" | "inside");
    let found = input.find(from).and_then(|at| {
        let behind = input.after(at + 1);
        let place = clause::place(behind).or_else(|| own_place(behind))?;
        Some((input.range(0, at), Some(place)))
    });
    found.unwrap_or((input, None))
}

/// "the garage freezer", before anything stands there.
fn own_place(input: Tokens<'_>) -> Option<Words> {
    let name = name::bare(input);
    let stands = places().holds(name.last()?);
    (stands && name.is_wordy() && name.len() <= PLACE_WORDS_MAX).then(|| name.words())
}

/// "on A4", "on a sheet of letter paper" at the end, and what stands before it.
fn on_page(input: Tokens<'_>) -> Option<(Tokens<'_>, Page)> {
    let page = |token: &Token| match token.norm() {
        "a4" => Some(Page::A4),
        "letter" => Some(Page::Letter),
        _ => None,
    };
    let at = input.find(|token| page(token).is_some())?;
    let idle = |token: &Token| {
        let norm = token.norm();
        norm.is_empty()
            || matches!(
                norm,
                "on" | "all"
                    | "a"
                    | "an"
                    | "one"
                    | "sheet"
                    | "page"
                    | "of"
                    | "paper"
                    | "us"
                    | "please"
            )
    };
    let before = input.slice[..at]
        .iter()
        .rev()
        .take_while(|token| idle(token))
        .count();
    let ends = input.after(at + 1).slice.iter().all(idle);
    ends.then_some((input.range(0, at - before), page(&input.slice[at])?))
}

#[cfg(test)]
mod tests {
    use crate::lang::vocabulary::{Sense, Vocabulary};
    use crate::lang::{parse, syntax::Command};

    /// The best reading as canonical text, and whether it is sure.
    #[track_caller]
    fn read(text: &str) -> (String, bool) {
        let vocabulary = Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Code, "D7")
            .with(Sense::Place, "garage freezer");
        let parsed = parse(text, &vocabulary);
        let best = parsed.best();
        let commands: Vec<String> = best.commands.iter().map(Command::to_string).collect();
        (commands.join("; "), best.sure)
    }

    #[test]
    fn many_spellings_ask_for_one_label() {
        for (asked, texts) in [
            (
                "label dal",
                &[
                    "label dal",
                    "Label the dal",
                    "label for dal",
                    "print a label for the dal",
                    "make me a label for the dal please",
                ][..],
            ),
            ("label D7", &["label D7", "label for D7", "qr code for D7"]),
            (
                "label dal 50 x 30 mm",
                &[
                    "label dal 50x30",
                    "label dal 50 x 30 mm",
                    "label dal 50mm x 30mm",
                    "label dal 5 x 3 cm",
                    "label the dal, 50 × 30 mm",
                ],
            ),
            (
                "label dal 600 x 400 px",
                &["label dal 600x400px", "label dal 600 x 400 pixels"],
            ),
            (
                "label dal 50.8 x 25.4 mm",
                &["label dal 2 x 1 in", "label dal 2 by 1 inches"],
            ),
            (
                "3 labels for dal",
                &["3 labels for dal", "print 3 labels for the dal"],
            ),
            (
                "label all in the freezer on A4",
                &[
                    "labels for all in the freezer on A4",
                    "labels for everything in the freezer on a sheet of A4 paper",
                    "label all in the freezer, A4",
                ],
            ),
            (
                "label all in the garage freezer",
                &["labels for all in the garage freezer"],
            ),
            (
                "label all on letter",
                &[
                    "labels on letter",
                    "labels for everything on US letter paper",
                ],
            ),
            (
                "label dal 62 x 29 mm on A4",
                &["label dal 62 x 29 mm on A4", "label dal on A4, 62 x 29"],
            ),
            (
                "label dal in the freezer",
                &["label the dal in the freezer"],
            ),
            (
                "label 600 g dal",
                &[
                    "label dal 600",
                    "label 600 dal",
                    "label 600 g of the dal",
                    "label dal, 600 g",
                ],
            ),
            ("label dal, D7", &["label dal and D7", "labels: dal, D7"]),
            (
                "2 labels for the dal bags",
                &[
                    "labels for the two dal bags",
                    "label the 2 bags of dal",
                    "labels for both bags of dal",
                    "2 labels for the dal bags",
                ],
            ),
            (
                "label the dal bags",
                &["label the dal bags", "label bags of dal"],
            ),
            ("2 labels for dal", &["label dal x2", "two labels for dal"]),
            ("label all", &["labels for everything"]),
        ] {
            for text in texts {
                assert_eq!(read(text), (asked.to_owned(), true), "{text}");
            }
        }
    }

    #[test]
    fn what_a_packet_says_is_no_label_of_ours() {
        for text in [
            "label oats per 100 g: 350 kcal, 9 protein, 2 fat, 70 carb",
            "the label on the dal says 200 kcal",
            "labels",
            "wrong way round, the label faces out",
            "need to read the label on the beans",
        ] {
            let (said, sure) = read(text);
            assert!(!sure || !said.contains("label "), "{text}: {said}");
        }
    }
}
