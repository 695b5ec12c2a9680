//! One weight told in two units: "227 g (8 oz)", "8 oz, 227 g", "soup 8 oz for me, that is 227 g". Only one of the
//! two is kept, before anything is read: the grams, or the first where neither is in grams.
//!
//! ```text
//! twice := mass ["(" | "/" | "," | "="] same mass [")"]
//!        | mass { word } ("(" same mass ")" | again same mass)
//! again := phrase of data/restated.txt | "="
//! ```
//! Masses are the same if they are in different units and agree as far as anybody rounds. Behind a comma alone
//! they may be of two dishes ("soup 8 oz, 227 g rice"), so that one of them has to stand without a name.

use super::amount::tidy;
use super::number::number;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::{Unit, unit};
use super::vocabulary::Vocabulary;
use super::words::restated;

/// "100 g (4 oz)": so far a weight is rounded where it is plain that both are one.
const SAID_SAME: f64 = 0.12;
/// The same, where nothing but a comma stands between them.
const LOOKS_SAME: f64 = 0.03;
/// Words between the two: "8 oz of the leek soup (227 g)".
const BETWEEN_MAX: usize = 6;

struct Mass {
    from: usize,
    to: usize,
    grams: f64,
    each: f64,
}

/// Drop the weight that says nothing new, in place.
pub fn drop(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let masses = masses(Tokens::unread(tokens, text, vocabulary));
    for two in masses.windows(2).rev() {
        let Some((from, to)) = link(tokens, &two[0], &two[1]) else {
            continue;
        };
        // Of "8 oz (227 g)" the grams were on the scale.
        let [first, second] = two else { continue };
        let metric = |mass: &Mass| mass.each == 1.0 || mass.each == 1000.0;
        let (start, end) = (tokens[first.from].span.start, tokens[first.to - 1].span.end);
        let mut kept = tokens[second.from..second.to].to_vec();
        for (at, token) in kept.iter_mut().enumerate() {
            token.span = if at == 0 { start..end } else { end..end };
        }
        tokens.drain(from..to);
        if metric(second) && !metric(first) {
            tokens.splice(first.from..first.to, kept);
        }
    }
}

/// Whether a weight is followed by another in brackets that is not the same: which of them holds nobody knows.
pub fn contradicts(input: Tokens<'_>) -> bool {
    masses(input).windows(2).any(|two| {
        let opened = two[1].from == two[0].to + 1 && input.slice[two[0].to].is('(');
        let closed = input.get(two[1].to).is_some_and(|token| token.is(')'));
        opened && closed && apart(&two[0], &two[1]) > SAID_SAME
    })
}

/// Every weight that is written with its unit.
fn masses(input: Tokens<'_>) -> Vec<Mass> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < input.len() {
        match mass(input, at) {
            Some(mass) => {
                at = mass.to;
                found.push(mass);
            }
            None => at += 1,
        }
    }
    found
}

fn mass(input: Tokens<'_>, at: usize) -> Option<Mass> {
    let (rest, count) = number(input.after(at)).ok()?;
    let (rest, Unit::Mass(each)) = unit(rest).ok()? else {
        return None;
    };
    let plain = count.other.is_none() && !count.article && count.value > 0.0;
    plain.then(|| Mass {
        from: at,
        to: input.len() - rest.len(),
        grams: tidy(count.value * each),
        each,
    })
}

/// How far one is from the other, as a part of the heavier.
fn apart(first: &Mass, second: &Mass) -> f64 {
    (first.grams - second.grams).abs() / first.grams.max(second.grams)
}

/// What goes if both are one weight: from the words that lead to the second one to where it ends.
fn link(tokens: &[Token], first: &Mass, second: &Mass) -> Option<(usize, usize)> {
    let apart = apart(first, second);
    let units = (first.each - second.each).abs() > f64::EPSILON;
    // "1 kg 1000 g" is read as it stands.
    let metric = [first, second].iter().all(|it| it.each % 1.0 == 0.0);
    if !units || metric || apart > SAID_SAME {
        return None;
    }
    let between = &tokens[first.to..second.from];
    let wordy = |words: &[Token]| {
        let word = |token: &Token| matches!(token.kind, Kind::Word(_));
        words.len() <= BETWEEN_MAX
            && words.iter().enumerate().all(|(at, token)| {
                word(token) || at + 1 == words.len() && (token.is(',') || token.is('-'))
            })
    };
    let ends = |at: usize| tokens.get(at).is_none_or(is_break);
    let closed = tokens.get(second.to).is_some_and(|token| token.is(')'));
    if let Some((last, words)) = between.split_last()
        && last.is('(')
        && closed
        && wordy(words)
    {
        return Some((second.from - 1, second.to + 1));
    }
    let again = (0..between.len()).find(|&at| {
        let sign = between[at].is('=') || between[at].is('/');
        let length = match sign {
            true => Some(1),
            false => restated().longest(&between[at..]).map(|(length, _)| length),
        };
        length.is_some_and(|length| at + length == between.len())
    });
    if let Some(at) = again
        && wordy(&between[..at])
    {
        return Some((first.to + at, second.to));
    }
    let comma = matches!(between, [one] if one.is(','));
    let alone = ends(second.to) || first.from == 0 || is_break(&tokens[first.from - 1]);
    (comma && alone && apart <= LOOKS_SAME).then_some((first.to, second.to))
}

fn is_break(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | ':' | '(' | ')' | '!')
    )
}

#[cfg(test)]
mod tests {
    use crate::lang::vocabulary::Sense;
    use crate::lang::{Vocabulary, parse};

    fn best(text: &str) -> (Vec<String>, bool) {
        let mut words = Vocabulary::new();
        words.add(Sense::Batch, "leek soup");
        words.add(Sense::Batch, "brown rice");
        let parsed = parse(text, &words);
        let best = parsed.best();
        let commands = best.commands.iter().map(ToString::to_string);
        (commands.collect(), best.sure)
    }

    #[track_caller]
    fn books(text: &str, printed: &str) {
        assert_eq!(best(text), (vec![printed.to_owned()], true), "{text}");
    }

    #[test]
    fn one_weight_in_two_units_is_one() {
        for text in [
            "soup for me, 227 g (8 oz)",
            "soup for me 227 g (8 oz)",
            "soup for me, 8 oz (227 g)",
            "soup for me: 8 oz, 227 g",
            "soup 227 g, 8 oz",
            "soup (227 g, 8 oz)",
            "had soup, 227 g or 8 oz",
            "soup, 8oz = 227g",
            "8 oz soup (227 g)",
            "8 oz of the soup, that is 227 g",
            "227 g, 8 oz soup",
            "227g/8oz soup",
        ] {
            books(text, "227 g soup");
        }
    }

    #[test]
    fn two_weights_are_two() {
        books("soup 8 oz, 227 g rice", "226.796185 g soup, 227 g rice");
        books("8 oz soup and 227 g rice", "226.796185 g soup, 227 g rice");
        for text in ["soup for me, 227 g (12 oz)", "soup for me, 227 g (340 g)"] {
            assert!(!best(text).1, "{text}");
        }
    }
}
