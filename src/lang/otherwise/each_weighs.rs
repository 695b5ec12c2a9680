//! A verb of weighing holds for the list that it begins: "rice weighs 1300, dal 1280 and sauce 880" says of each what
//! it weighs.

use crate::lang::amount::grams;
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Vocabulary;
use crate::lang::which::dish_at_end;

const NAME_WORDS_MAX: usize = 4;

/// Say the verb again before each weight that it holds for, in place.
pub fn repeat(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    let verb = || Kind::Word("weighs".to_owned());
    let mut from = 0;
    let mut verbs = Vec::new();
    while let Some(at) = first_verb(Tokens::unread(tokens, text, vocabulary), from) {
        verbs.push(at);
        from = at + 1;
        while let Some(next) = next_weight(Tokens::unread(tokens, text, vocabulary), from) {
            let place = tokens[next].span.start;
            tokens.insert(next, Token::new(verb(), place..place, true));
            verbs.push(next);
            from = next + 1;
        }
    }
    // "rice weighed 1300, dal weighed 1280": of one dish it may be told of a plate.
    if verbs.len() > 1 {
        for at in verbs {
            let said = &tokens[at];
            tokens[at] = Token::new(verb(), said.span.clone(), said.spaced);
        }
    }
}

/// "rice weighs", with its weight behind it.
fn first_verb(input: Tokens<'_>, from: usize) -> Option<usize> {
    (from.max(1)..input.len()).find(|at| {
        let dish = || dish_at_end(input.range(0, *at)).is_some();
        matches!(input.norm(*at), "weighs" | "weighed")
            && input.get(at + 1).is_some_and(Token::is_numeric)
            && dish()
    })
}

/// Where the verb is missing before the next weight, behind the weight that begins here: ", dal 1280".
fn next_weight(input: Tokens<'_>, weight: usize) -> Option<usize> {
    let (rest, _) = grams(input.after(weight)).ok()?;
    let marks = rest.slice.iter().take_while(|token| separates(token));
    let behind = rest.after(marks.count());
    let dish = behind.without_lead();
    let names = |said: Tokens<'_>| {
        let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
        input.vocabulary.is_batch(&words).then_some(())
    };
    let (length, ()) = dish.longest_run(NAME_WORDS_MAX, names)?;
    let told = dish.after(length);
    let (after, _) = grams(told).ok()?;
    let ends = after.first().is_none_or(separates);
    (behind.len() < rest.len() && ends).then(|| input.len() - told.len())
}

fn separates(token: &Token) -> bool {
    matches!(token.kind, Kind::Newline | Kind::Symbol(',' | ';' | '.')) || token.norm() == "and"
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "rice")
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "sauce")
    }

    #[test]
    fn the_verb_holds_for_the_list() {
        let all = "rice weighed 1300 g\nlentil dal weighed 1280 g\nsauce weighed 880 g";
        for text in [
            "rice weighs 1300, lentil dal 1280, sauce 880",
            "rice weighs 1300 g and the lentil dal 1280 g, and sauce 880 g",
            "the rice weighs 1300\nlentil dal 1280\nsauce 880",
            "rice weighs 1300, lentil dal weighs 1280, sauce 880.",
        ] {
            surely_means(text, &kitchen(), all);
        }
    }

    #[test]
    fn a_plate_beside_it_is_one() {
        let two =
            |it: &Command| matches!(it, Command::Weigh { batch, .. } if batch.text == "sauce");
        is_no("rice weighs 1300, 140 sauce", &kitchen(), two);
        is_no("rice weighs 1300, sauce 140 for me", &kitchen(), two);
    }
}
