//! What is taken by the piece: "had one of the boxes", "froze 6 meatballs", "a box for Tom". Before anything is
//! read, the number and the words around it are put as the books say pieces, "1 x boxes", so that no reader takes
//! them for grams or for talk. Only of dishes that stand here counted, and that are called by their piece.
//!
//! ```text
//! taken := (number | one | part) ["more"] ["of"] ["the"] dish | took taken [along] | taken "for" who { "," n "for" who }
//! ```
//! What is made, packed, counted or wanted keeps its words (`data/by_piece.txt`), and so do lists with a heading.

use std::ops::Range;

use super::number::number;
use super::numeral::Numeral;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::{Vocabulary, singular};
use super::words::{by_piece, joiners, takings};

/// A higher number may as well be grams.
const COUNT_MAX: f64 = 12.0;
/// "frozen beef meatballs"
const DISH_WORDS_MAX: usize = 4;

/// Put what is taken by the piece as the books say it, in place.
pub fn put(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    if !vocabulary.has_pieces() || tokens.iter().any(heads) {
        return;
    }
    same_box(tokens, vocabulary);
    let mut at = 0;
    // The dish that was for somebody: "5 meatballs for me, 4 for Tom".
    let mut shared: Vec<Token> = Vec::new();
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        if let Some(count) = another(input, at).filter(|_| !shared.is_empty()) {
            let place = tokens[at].span.clone();
            let [number, times] = pieces(count, place.clone(), tokens[at].spaced);
            let dish = shared.iter().map(|token| {
                let end = place.end..place.end;
                Token::new(token.kind.clone(), end, true)
            });
            let said: Vec<Token> = [number, times].into_iter().chain(dish).collect();
            tokens.splice(at..=at, said);
            at += 2 + shared.len();
            continue;
        }
        let Some(taken) = taken(input, at) else {
            at += 1;
            continue;
        };
        let span = tokens[at].span.start..tokens[at + taken.length - 1].span.end;
        let told = pieces(taken.count, span, tokens[at].spaced);
        let dish = at + taken.length..at + taken.length + taken.dish;
        if input.norm(dish.end) == "for" {
            shared = tokens[dish.clone()].to_vec();
        }
        let eaten = eaten(input, at, dish.end);
        if let Some(verb) = &eaten {
            tokens.truncate(dish.end);
            let had = Kind::Word("had".to_owned());
            let spot = tokens[verb.start].span.clone();
            let had = Token::new(had, spot, tokens[verb.start].spaced);
            tokens.splice(at..at + taken.length, told);
            tokens.splice(verb.clone(), [had]);
            return;
        }
        tokens.splice(at..at + taken.length, told);
        at += 2;
    }
}

/// "had a box", "ate a lunch box" of what was packed as lunchboxes, and the other way round: one word for it, where
/// only one of them is packed.
fn same_box(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    let packed = |word| vocabulary.is_piece(word);
    let called = match (packed("lunchbox"), packed("box")) {
        (true, false) => ["lunchbox", "lunchboxes"],
        (false, true) => ["box", "boxes"],
        _ => return,
    };
    let made = |at: usize| {
        let made = |from: usize| by_piece().longest_of(&tokens[from..], "made").is_some();
        (0..at).any(made)
    };
    let mut found = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        let lunch = at > 0 && tokens[at - 1].norm() == "lunch";
        let many = match token.norm() {
            "lunchbox" | "box" => 0,
            "lunchboxes" | "boxes" => 1,
            _ => continue,
        };
        let own = token.norm() == called[many] && !lunch;
        // What is packed now has its own name.
        if !own && !made(at) {
            found.push((at, lunch, called[many]));
        }
    }
    for (at, lunch, word) in found.into_iter().rev() {
        let from = at - usize::from(lunch);
        // No text of its own: it is called as the books call it.
        let place = tokens[from].span.start;
        let word = Token::new(
            Kind::Word(word.to_owned()),
            place..place,
            tokens[from].spaced,
        );
        tokens.splice(from..=at, [word]);
    }
}

/// "4" and "x", as the books say so many pieces.
fn pieces(count: f64, span: Range<usize>, spaced: bool) -> [Token; 2] {
    let value = Kind::Number(Numeral {
        value: count,
        other: None,
    });
    let end = span.end..span.end;
    let times = Kind::Word("x".to_owned());
    [
        Token::new(value, span, spaced),
        Token::new(times, end, true),
    ]
}

/// ", 4 for Tom": of the dish that was named before.
fn another(input: Tokens<'_>, at: usize) -> Option<f64> {
    let joined = at > 0 && (input.slice[at - 1].is(',') || joiners().holds(&input.slice[at - 1]));
    let (rest, count) = number(input.after(at)).ok()?;
    let one = rest.len() + 1 == input.len() - at && rest.norm(0) == "for";
    let few = count.value.fract() == 0.0 && (1.0..=COUNT_MAX).contains(&count.value);
    (joined && one && few && count.other.is_none()).then_some(count.value)
}

/// "took a box to work": where the verb stands of what is taken along and eaten, which ends the message.
fn eaten(input: Tokens<'_>, at: usize, end: usize) -> Option<Range<usize>> {
    let from = (at.saturating_sub(3)..at)
        .find(|&from| takings().longest_of(input.after(from).slice, "took") == Some(at - from))?;
    let tail = input.after(end).trimmed_end();
    let along = tail.is_empty() || by_piece().longest_of(tail.slice, "along") == Some(tail.len());
    along.then_some(from..at)
}

/// A batch or a list, whose lines have their own ways.
fn heads(token: &Token) -> bool {
    token.kind == Kind::Newline || token.is(':')
}

/// So many pieces: how many tokens tell the number, and how many behind them the dish.
struct Taken {
    length: usize,
    count: f64,
    dish: usize,
}

fn taken(input: Tokens<'_>, at: usize) -> Option<Taken> {
    let part = part_of_one(input.after(at)).and_then(|(length, count)| {
        let taken = so_many(input, at, length, count)?;
        // "half the boxes" is half of them all.
        let last = input.norm(at + taken.length + taken.dish - 1);
        (count > 1.0 || singular(last) == last).then_some(taken)
    });
    part.or_else(|| {
        let (length, count) = counted(input.after(at))?;
        so_many(input, at, length, count)
    })
}

/// So many of the dish that follows.
fn so_many(input: Tokens<'_>, at: usize, mut length: usize, count: f64) -> Option<Taken> {
    length += usize::from(input.norm(at + length) == "of");
    while ["the", "our", "my", "those", "them"].contains(&input.norm(at + length)) {
        length += 1;
    }
    let said = input.after(at + length);
    let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
    let most = words.len().min(DISH_WORDS_MAX);
    let is_dish = |end: &usize| {
        let own = &words[..*end];
        let piece = input.vocabulary.is_piece(own[*end - 1]);
        !own.contains(&"") && piece && input.vocabulary.is_batch(own)
    };
    let dish = (1..=most).find(is_dish)?;
    let behind = said.after(dish);
    let mark = |sign| behind.first().is_some_and(|token| token.is(sign));
    let listed = mark(',') && behind.get(1).is_some_and(Token::is_numeric) && !shares(behind);
    let filled = mark('(') || mark('=');
    let other = by_piece().longest_of(behind.slice, "behind").is_some();
    let marked = at > 0 && input.slice[at - 1].is(',');
    let before = at - usize::from(marked);
    let made = (before.saturating_sub(3)..before)
        .any(|from| by_piece().longest_of(input.after(from).slice, "made") == Some(before - from));
    (!listed && !filled && !other && !made).then_some(Taken {
        length,
        count,
        dish,
    })
}

/// ", 1 for me and 1 for Ana": whose they are.
fn shares(behind: Tokens<'_>) -> bool {
    behind.norm(2) == "for"
}

/// "half a", "a quarter of one", "one and a half", "1.5": a part of a piece, with whole ones before it or without.
fn part_of_one(input: Tokens<'_>) -> Option<(usize, f64)> {
    let part = |at: usize| match input.norm(at) {
        "half" => Some(0.5),
        "third" => Some(1.0 / 3.0),
        "quarter" => Some(0.25),
        _ => None,
    };
    let a = usize::from(matches!(input.norm(0), "a" | "one"));
    if let Some(share) = part(a) {
        let of = a + 1 + usize::from(input.norm(a + 1) == "of");
        let one = matches!(input.norm(of), "a" | "an" | "one" | "the" | "that" | "my");
        return Some((of + usize::from(one), share));
    }
    let (rest, said) = number(input).ok()?;
    let length = input.len() - rest.len();
    let whole = said.other.is_none() && (0.0..=COUNT_MAX).contains(&said.value);
    if (said.value * 4.0).fract() == 0.0 && said.value.fract() > 0.0 {
        return whole.then_some((length, said.value));
    }
    let and = matches!((rest.norm(0), rest.norm(1)), ("and", "a" | "one"));
    let share = part(length + 2).filter(|_| and && whole)?;
    Some((length + 3, said.value + share))
}

fn counted(input: Tokens<'_>) -> Option<(usize, f64)> {
    if let Some(length) = by_piece().longest_of(input.slice, "one") {
        return Some((length, 1.0));
    }
    let (rest, said) = number(input).ok()?;
    let whole = said.value.fract() == 0.0 && (1.0..=COUNT_MAX).contains(&said.value);
    let more = usize::from(rest.norm(0) == "more");
    (whole && said.other.is_none()).then_some((input.len() - rest.len() + more, said.value))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::surely_means;
    use crate::lang::vocabulary::Sense;
    use crate::lang::{Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new()
            .with(Sense::Batch, "dal rice box")
            .with(Sense::Batch, "beef meatballs")
            .with(Sense::Person, "Tom");
        words.add_piece("box");
        words.add_piece("meatball");
        words
    }

    #[test]
    fn many_ways_to_take_pieces() {
        for (text, printed) in [
            ("1 box", "1 x box"),
            ("had one of the boxes", "1 x boxes"),
            ("ate a box", "1 x box"),
            ("3 meatballs", "3 x meatballs"),
            ("I had three of the meatballs", "3 x meatballs"),
            ("1 box for Tom", "1 x box for Tom"),
            (
                "put two of the boxes in the freezer",
                "move 2 x boxes to the freezer",
            ),
            (
                "froze 6 beef meatballs",
                "move 6 x beef meatballs to the freezer",
            ),
            (
                "put two of the boxes in the freezer for next week",
                "move 2 x boxes to the freezer",
            ),
            ("thaw a box for tomorrow", "thaw 1 x box"),
            (
                "took one box out of the freezer for tomorrow",
                "thaw 1 x box from the freezer",
            ),
            ("took a box to work", "1 x box"),
            ("ate half a box", "0.5 x box"),
            ("had half of one box", "0.5 x box"),
            ("a quarter of a box for Tom", "0.25 x box for Tom"),
            ("had one and a half boxes", "1.5 x boxes"),
            ("2 and a half boxes", "2.5 x boxes"),
            ("binned half a box", "binned 0.5 x box"),
            ("binned a box", "binned 1 x box"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
    }

    #[test]
    fn what_is_made_or_counted_is_not_taken() {
        for text in [
            "need a box for the move",
            "buy 3 boxes",
            "a box of chocolates",
            "two boxes of tissues",
            "half a box of tissues",
        ] {
            let parsed = parse(text, &kitchen());
            assert!(!parsed.best().sure, "{text}: {:?}", parsed.best());
        }
    }
}
