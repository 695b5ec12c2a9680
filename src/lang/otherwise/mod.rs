//! What is said in other words, before anything is read: "215 chilli together with 120 rice" is "with" it, "half the
//! salsa gone and it was me" says that I had it, "95 parsnips straight from the tub" is 95 parsnips.
//!
//! ```text
//! said := phrase of data/otherwise.txt                (its key is what is meant: "with", or nothing)
//!       | ("straight" | "right") "from" ["the"] vessel
//!       | food ("just" | "just the once") number      (without the word between)
//!       | ("from" | "of") dish who verb amount             (the dish behind its amount)
//!       | went-in-me | gone [","] it-was-me           ("had", where its sentence begins)
//! ```
//! What means nothing is dropped only where a thought ends with it.

mod each_weighs;
mod in_favour;
pub mod not_mine;
mod of_the_same;
pub mod pots;

use crate::lang::amount::grams;
use crate::lang::command::share::party::verb;
use crate::lang::item::tricky_length;
use crate::lang::lexicon::is_food_word;
use crate::lang::lost::signs;
use crate::lang::person::person;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::{Sense, Vocabulary};
use crate::lang::words::{containers, explained, number_words, otherwise, pots, units};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 80;
const NAME_WORDS_MAX: usize = 4;

/// Put it plainly, in place.
pub fn put_plainly(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    if tokens.len() > TOKENS_MAX {
        return;
    }
    part_brackets(tokens, vocabulary);
    part_sums(tokens, vocabulary);
    out_of_dish(tokens, text, vocabulary);
    let mut at = 0;
    while at < tokens.len() {
        let input = Tokens::unread(tokens, text, vocabulary);
        match plainly(input, at) {
            Some((length, Meant::Word(word))) => {
                let span = tokens[at].span.start..tokens[at + length - 1].span.end;
                let word = Token::new(Kind::Word(word.to_owned()), span, tokens[at].spaced);
                tokens.splice(at..at + length, [word]);
                at += 1;
            }
            Some((length, Meant::Words(words))) => {
                let (place, spaced) = (tokens[at].span.start, tokens[at].spaced);
                let word =
                    |word: &&str| Token::new(Kind::Word((*word).to_owned()), place..place, spaced);
                tokens.splice(at..at + length, words.iter().map(word));
                at += words.len();
            }
            Some((length, Meant::Nothing)) => {
                tokens.drain(at..at + length);
            }
            Some((length, Meant::Had)) => {
                let from = begins(tokens, at);
                let place = tokens[from].span.start;
                tokens.drain(at..at + length);
                tokens.insert(
                    from,
                    Token::new(Kind::Word("had".to_owned()), place..place, true),
                );
                at += 1;
            }
            None => at += 1,
        }
    }
    in_favour::put(tokens, text, vocabulary);
    not_mine::give(tokens, text, vocabulary);
    of_the_same::name(tokens, text, vocabulary);
    each_weighs::repeat(tokens, text, vocabulary);
}

enum Meant {
    Word(&'static str),
    Words(&'static [&'static str]),
    Nothing,
    /// The sender ate it.
    Had,
}

fn plainly(input: Tokens<'_>, at: usize) -> Option<(usize, Meant)> {
    let said = |at: usize, key| otherwise().longest_of(input.after(at).slice, key);
    if let Some(length) = said(at, "with").filter(|_| !is_name(input, at)) {
        return Some((length, Meant::Word("with")));
    }
    if let Some(length) = said(at, "and").filter(|_| !is_name(input, at)) {
        return (at > 0 && at + length < input.len()).then_some((length, Meant::Word("and")));
    }
    if let Some(found) = spelled(input, at) {
        return Some(found);
    }
    if let Some(length) = said(at, "rest of").filter(|_| at > 0 && eats(input, at)) {
        return Some((length, Meant::Words(&["rest", "of"])));
    }
    if let Some(length) = only(input, at) {
        return Some((length, Meant::Nothing));
    }
    if let Some(length) = had(input, at) {
        return Some((length, Meant::Had));
    }
    if let Some(length) = of_dish(input, at) {
        return Some((length, Meant::Nothing));
    }
    // "and never wrote it down": the word before leads to nothing else.
    let led = usize::from(matches!(input.norm(at), "and" | "n" | "but"));
    let length = said(at + led, "nothing").or_else(|| out_of_vessel(input, at + led))? + led;
    (at > 0 && ends(input, at + length)).then_some((length, Meant::Nothing))
}

/// "half a kilo plus fifty grams", "350 barley 4 me", "für mich", "a third for each of us".
fn spelled(input: Tokens<'_>, at: usize) -> Option<(usize, Meant)> {
    let said = |key| otherwise().longest_of(input.after(at).slice, key);
    let somebody = |at: usize| {
        let oneself = matches!(input.norm(at), "me" | "us" | "myself");
        oneself || person(input.after(at)).is_some()
    };
    let counts = |at: usize| {
        let token = input.get(at);
        token.is_some_and(|token| token.is_numeric() || number_words().holds(token))
    };
    let behind_unit = at > 0 && units().holds(&input.slice[at - 1]);
    if input.norm(at) == "plus" && behind_unit && counts(at + 1) {
        return Some((1, Meant::Word("and")));
    }
    // "150 or so barley"
    let named = !input.norm(at + 2).is_empty() && !ends(input, at + 2);
    if input.norm(at) == "or"
        && input.norm(at + 1) == "so"
        && named
        && (behind_unit || counts_before(input, at))
    {
        return Some((2, Meant::Nothing));
    }
    let four = matches!(input.slice[at].kind, Kind::Number(said) if said.value == 4.0);
    let behind_word = at > 0 && !input.norm(at - 1).is_empty();
    if four && behind_word && somebody(at + 1) && !counts(at - 1) {
        return Some((1, Meant::Word("for")));
    }
    if let Some(length) = said("for me") {
        return Some((length, Meant::Words(&["for", "me"])));
    }
    if let Some(length) = said("for").filter(|length| somebody(at + length)) {
        return Some((length, Meant::Word("for")));
    }
    let ways: [(&str, &[&str]); 3] = [
        ("2 ways", &["two", "ways"]),
        ("3 ways", &["three", "ways"]),
        ("4 ways", &["four", "ways"]),
    ];
    let apart = at > 0 && input.range(0, at).has_number();
    let shared = ways.into_iter().filter(|_| apart);
    let mut shared = shared.filter_map(|(key, words)| Some((said(key)?, Meant::Words(words))));
    shared.next()
}

fn counts_before(input: Tokens<'_>, at: usize) -> bool {
    at > 0 && (input.slice[at - 1].is_numeric() || number_words().holds(&input.slice[at - 1]))
}

/// The "n" of "mac n cheese", or of a batch that is called so.
fn is_name(input: Tokens<'_>, at: usize) -> bool {
    let code = input.vocabulary.is(Sense::Code, &[input.norm(at)]);
    code || (at.saturating_sub(3)..at).any(|from| tricky_length(input.after(from)) > at - from)
}

/// "polished off what was left of the salsa"
fn eats(input: Tokens<'_>, at: usize) -> bool {
    let from = at.saturating_sub(3);
    (from..at)
        .any(|from| explained().longest_of(input.after(from).slice, "eats") == Some(at - from))
}

/// "tom 45 salsa extra"
fn of_dish(input: Tokens<'_>, at: usize) -> Option<usize> {
    let length = otherwise().longest_of(input.after(at).slice, "besides")?;
    let before = at.checked_sub(1).map_or("", |at| input.norm(at));
    let food = !before.is_empty() && (input.vocabulary.names_food(before) || is_food_word(before));
    (food && ends(input, at + length)).then_some(length)
}

/// "straight from the tub"; what is in a vessel that the household weighed may have been weighed with it.
fn out_of_vessel(input: Tokens<'_>, at: usize) -> Option<usize> {
    let lead = otherwise().longest_of(input.after(at).slice, "straight")?;
    let token = input.get(at + lead)?;
    let vessel = containers().holds(token) || pots().holds(token);
    let known = input.vocabulary.is(Sense::Container, &[token.norm()]);
    (vessel && !known).then_some(lead + 1)
}

/// "cheddar just 15", "rice just the once 130"
fn only(input: Tokens<'_>, at: usize) -> Option<usize> {
    let length = otherwise().longest_of(input.after(at).slice, "only")?;
    let before = at.checked_sub(1).map_or("", |at| input.norm(at));
    let food = !before.is_empty() && (input.vocabulary.names_food(before) || is_food_word(before));
    let next = input.get(at + length)?;
    let number = matches!(next.kind, Kind::Number(_)) || number_words().holds(next);
    (food && number).then_some(length)
}

/// "went on my plate", "gone, and that was me"
fn had(input: Tokens<'_>, at: usize) -> Option<usize> {
    let said = |at: usize, key| otherwise().longest_of(input.after(at).slice, key);
    if at == 0 {
        return None;
    }
    if let Some(length) = said(at, "in me") {
        return ends(input, at + length).then_some(length);
    }
    let mut end = at + said(at, "gone")?;
    while end < input.len() && joins(input, end) {
        end += 1;
    }
    end += said(end, "me")?;
    ends(input, end).then_some(end - at)
}

fn joins(input: Tokens<'_>, at: usize) -> bool {
    let mark = |token: &Token| matches!(token.kind, Kind::Symbol(',' | '-' | '.' | '!'));
    input.get(at).is_some_and(mark)
        || matches!(
            input.norm(at),
            "and" | "n" | "but" | "so" | "yes" | "yep" | "yeah"
        )
}

/// A thought ends before this place.
fn ends(input: Tokens<'_>, at: usize) -> bool {
    let next = input.get(at);
    let begins = matches!(
        input.norm(at),
        "and" | "n" | "but" | "so" | "then" | "with" | "plus" | "i" | "no" | "we"
    );
    begins || next.is_none_or(|token| !token.is_numeric() && token.norm().is_empty())
}

/// Where the sentence begins that this place is in.
fn begins(tokens: &[Token], at: usize) -> usize {
    let apart = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol('.' | '!' | ';' | '?')
        )
    };
    let from = tokens[..at].iter().rposition(apart);
    from.map_or(0, |from| from + 1)
}

/// "old stew 240 + 80 bread": each number has its own name.
fn part_sums(tokens: &mut [Token], vocabulary: &Vocabulary) {
    let food = |token: &Token| {
        let norm = token.norm();
        !norm.is_empty() && (vocabulary.names_food(norm) || is_food_word(norm))
    };
    let unit = |token: &Token| units().holds(token);
    for at in 2..tokens.len().saturating_sub(2) {
        let number = at - 1 - usize::from(unit(&tokens[at - 1]));
        let behind = at + 2 + usize::from(unit(&tokens[at + 2]));
        let named = number > 0 && food(&tokens[number - 1]) && tokens.get(behind).is_some_and(food);
        let counted = |at: usize| matches!(tokens[at].kind, Kind::Number(_));
        let (span, spaced) = (tokens[at].span.clone(), tokens[at].spaced);
        if tokens[at].is('+') && named && counted(number) && counted(at + 1) && spaced {
            tokens[at] = Token::new(Kind::Symbol(','), span, spaced);
        }
    }
}

/// "From chilli we took 700": who took 700 chilli.
fn out_of_dish(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    if !matches!(input.norm(0), "from" | "of" | "off") {
        return;
    }
    let article = usize::from(matches!(input.norm(1), "the" | "our" | "my"));
    let named = input
        .after(1 + article)
        .longest_run(NAME_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            vocabulary.is_batch(&words).then_some(())
        });
    let Some((length, ())) = named else {
        return;
    };
    let dish = 1 + article..1 + article + length;
    let who = match input.norm(dish.end) {
        "we" | "i" => 1,
        _ => person(input.after(dish.end)).map_or(0, |(length, _)| length),
    };
    let acts = verb(input.after(dish.end + who)).0;
    let Ok((rest, _)) = grams(input.after(dish.end + who + acts)) else {
        return;
    };
    // "Of the parsnips I ate 130, another 45 went on the compost": what is lost is told of the same dish.
    if who == 0 || acts == 0 || signs(input).is_some() {
        return;
    }
    let behind = input.len() - rest.len();
    let place = tokens[behind - 1].span.end;
    let mut named = Token::said_at(&tokens[dish.clone()], place);
    named[0].spaced = true;
    tokens.splice(behind..behind, named);
    tokens.drain(0..dish.end);
}

/// "dal(185)rice(95)": what follows a weight in brackets, and has one itself, is another thing.
fn part_brackets(tokens: &mut Vec<Token>, vocabulary: &Vocabulary) {
    let weight = |tokens: &[Token], at: usize| {
        let open = tokens.get(at).is_some_and(|token| token.is('('));
        let number =
            |token: &Token| matches!(token.kind, Kind::Number(_)) || number_words().holds(token);
        open && tokens.get(at + 1).is_some_and(number)
    };
    for at in (1..tokens.len()).rev() {
        let norm = tokens[at].norm();
        let food = !norm.is_empty() && (vocabulary.names_food(norm) || is_food_word(norm));
        let named = (at + 1..tokens.len())
            .take(3)
            .find(|&next| tokens[next].norm().is_empty());
        if tokens[at - 1].is(')') && food && named.is_some_and(|next| weight(tokens, next)) {
            let place = tokens[at].span.start;
            tokens.insert(at, Token::new(Kind::Symbol(','), place..place, false));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        ["dal", "rice", "salsa"]
            .iter()
            .fold(Vocabulary::new(), |words, dish| {
                words.with(Sense::Batch, dish)
            })
            .with(Sense::Person, "Ana")
            .with(Sense::Container, "glass jar")
    }

    #[test]
    fn other_words_say_the_same() {
        for text in [
            "120 dal together with 90 rice",
            "120 dal along with 90 rice, obv",
            "dal just 120 n rice only 90",
            "dal(120)rice(90)",
            "120 dal n 90 rice, straight from the pot",
        ] {
            surely_means(text, &words(), "120 dal, 90 rice");
        }
        for text in [
            "half the salsa went on my plate",
            "half the salsa gone n it was me",
            "half of the salsa is gone, that was me",
            "half the salsa is in me now",
        ] {
            surely_means(text, &words(), "50% of the salsa");
        }
        surely_means(
            "120 dal yday n never wrote it down",
            &words(),
            "120 dal yesterday",
        );
    }

    #[test]
    fn who_had_it_is_not_made_up() {
        for text in [
            "half the salsa is gone",
            "half the salsa gone and it was Ana",
            "half the salsa went on the floor",
            "it was me who said the salsa is gone",
        ] {
            is_no(
                text,
                &words(),
                |command| matches!(command, Command::Portion(it) if it.who.is_none()),
            );
        }
    }
}
