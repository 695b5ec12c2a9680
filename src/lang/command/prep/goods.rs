//! Of something that is bought: what is trimmed off, its packs, its price, and what is in the cupboard.

use super::shop::names;
use super::{before, is_phrase, phrase, whole};
use crate::lang::amount;
use crate::lang::command::price::money;
use crate::lang::name::{bare, is_preparation};
use crate::lang::number::digits;
use crate::lang::syntax::{Command, GoodTold, Prep, Words};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::singular;

const KILO_GRAMS: f64 = 1000.0;
/// A name of more words is a sentence.
const NAME_WORDS_MAX: usize = 5;

pub fn read_trimmed(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, trimmed)
}

pub fn read_pack(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, pack)
}

pub fn read_price(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, price)
}

/// Above a plate of what is told to stand there.
pub fn read_in_cupboard(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, in_cupboard)
}

pub fn read_cupboard(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| {
        let one = always(said).or_else(|| plenty(said)).or_else(|| out(said));
        one.or_else(|| stocked(said))
    })
}

fn good(name: Words, told: GoodTold) -> Prep {
    Prep::Good { name, told }
}

/// What something is called, and nothing beside it.
fn name(said: Tokens<'_>) -> Option<Words> {
    let name = bare(said.trimmed());
    let fits = name.is_wordy() && name.len() <= NAME_WORDS_MAX && !is_preparation(name);
    fits.then(|| name.words())
}

fn mass(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    amount::grams(input).ok()
}

/// "0 g": it cannot be, and is told to be none.
fn none(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let (rest, told) = digits(input).ok()?;
    let unit = matches!(rest.norm(0), "g" | "kg");
    (told.value == 0.0 && unit).then(|| (rest.take_one(), 0.0))
}

/// A mass, and nothing behind it.
fn mass_alone(input: Tokens<'_>) -> Option<f64> {
    let (rest, grams) = mass(input)?;
    rest.trimmed().is_empty().then_some(grams)
}

/// "parsnips 1150, trimmed 980", "1150 g parsnips, 980 after peeling"
fn trimmed(said: Tokens<'_>) -> Option<Prep> {
    let (name, bought, rest) = weighed(said)?;
    let mut rest = unmarked(rest);
    while let Some(behind) = phrase("then", rest) {
        rest = unmarked(behind);
    }
    let trimmed = match phrase("trimmed", rest) {
        Some(behind) => {
            let behind = unmarked(behind);
            mass_alone(phrase("then", behind).unwrap_or(behind))?
        }
        None => {
            let (behind, grams) = mass(rest)?;
            is_phrase("trimmed", behind.trimmed()).then_some(grams)?
        }
    };
    // What is trimmed is no dish.
    let words: Vec<&str> = name.text.split(' ').collect();
    let dish = said.vocabulary.is_batch(&words);
    (!dish).then_some(good(name, GoodTold::Trimmed { bought, trimmed }))
}

/// Without the comma, dash or arrow that it begins with.
fn unmarked(said: Tokens<'_>) -> Tokens<'_> {
    let marks = said
        .slice
        .iter()
        .take_while(|token| !token.is_numeric() && token.norm().is_empty());
    said.after(marks.count())
}

/// A name and its mass, in either order, and what follows.
fn weighed(said: Tokens<'_>) -> Option<(Words, f64, Tokens<'_>)> {
    if let Some((rest, grams)) = mass(said) {
        let words = |at: &usize| name(rest.range(0, *at)).filter(|_| ends(rest.after(*at)));
        let most = rest.len().min(NAME_WORDS_MAX);
        return (1..=most)
            .rev()
            .find_map(|at| Some((words(&at)?, grams, rest.after(at))));
    }
    let at = said.find(|token| token.is_numeric()).filter(|at| *at > 0)?;
    let (rest, grams) = mass(said.after(at))?;
    Some((name(said.range(0, at))?, grams, rest))
}

/// A name does not go on here.
fn ends(rest: Tokens<'_>) -> bool {
    let marked = rest
        .first()
        .is_none_or(|token| !token.is_numeric() && token.norm().is_empty());
    marked || phrase("then", rest).is_some() || phrase("trimmed", rest).is_some()
}

/// "lentils come in 500 g bags"
fn pack(said: Tokens<'_>) -> Option<Prep> {
    let at = (1..said.len()).find(|at| phrase("come in", said.after(*at)).is_some())?;
    let name = name(said.range(0, at))?;
    let rest = phrase("come in", said.after(at))?;
    // "bags of 500 g"
    if rest.norm(1) == "of" && is_phrase("pack", rest.range(0, 1)) {
        let word = singular(rest.norm(0)).into_owned();
        let grams = mass_alone(rest.after(2))?;
        return Some(good(name, GoodTold::Pack { grams, word }));
    }
    let (rest, grams) = mass(rest).or_else(|| none(rest))?;
    let rest = rest.trimmed();
    let word = match rest.is_empty() {
        true => "pack".to_owned(),
        false => singular(rest.norm(0)).into_owned(),
    };
    let fits = rest.is_empty() || is_phrase("pack", rest);
    fits.then_some(good(name, GoodTold::Pack { grams, word }))
}

/// "lentils cost 2.40 a kilo", "500 g lentils were 2.40", "paid 2.40 for 500 g lentils"
fn price(said: Tokens<'_>) -> Option<Prep> {
    behind(said)
        .or_else(|| weighed_first(said))
        .or_else(|| paid(said))
}

/// "lentils cost 2.40 a kilo", "flour €1.20 for 1.5 kg"
fn behind(said: Tokens<'_>) -> Option<Prep> {
    let said = phrase("price of", said).unwrap_or(said);
    let told = |at: &usize| {
        let rest = said.after(*at);
        let told = phrase("cost", rest).unwrap_or(rest);
        money(told).filter(|_| !is_negative(said, *at))
    };
    let (at, (rest, hundredths, currency)) =
        (1..said.len()).find_map(|at| Some((at, told(&at)?)))?;
    let name = name(said.range(0, at))?;
    let of = match rest.norm(0) {
        "" if rest.first()?.is('/') => rest.after(1),
        _ => phrase("per", rest)?,
    };
    if is_phrase("litre", of) {
        let told = GoodTold::PerLitre {
            hundredths,
            currency,
        };
        return Some(good(name, told));
    }
    // Of a dish a kilo is that of its pots; so much of it for so much is bought.
    let dish = is_dish(said.range(0, at));
    let grams = match is_phrase("kilo", of) {
        true if dish => return None,
        true => KILO_GRAMS,
        false => mass_alone(of)?,
    };
    Some(good(
        name,
        GoodTold::Price {
            hundredths,
            currency,
            grams,
        },
    ))
}

/// "lentils -2 a kilo": the sign is glued to what stands there, and nothing costs less than nothing.
fn is_negative(said: Tokens<'_>, at: usize) -> bool {
    let sign = at > 0 && said.get(at - 1).is_some_and(|token| token.is('-'));
    sign && said.get(at).is_some_and(|token| !token.spaced)
}

/// "500 g lentils were 2.40"
fn weighed_first(said: Tokens<'_>) -> Option<Prep> {
    let (rest, grams) = mass(said)?;
    let at = (1..rest.len()).find(|at| phrase("cost", rest.after(*at)).is_some())?;
    let (end, hundredths, currency) = money(phrase("cost", rest.after(at))?)?;
    let price = GoodTold::Price {
        hundredths,
        currency,
        grams,
    };
    let bought = end.trimmed().is_empty() && !is_dish(rest.range(0, at));
    bought.then_some(good(name(rest.range(0, at))?, price))
}

/// "paid 2.40 for 500 g lentils"
fn paid(said: Tokens<'_>) -> Option<Prep> {
    let (rest, hundredths, currency) = money(phrase("paid", said)?)?;
    let (name, grams, rest) = match mass(phrase("per", rest)?) {
        Some((rest, grams)) => (name(rest)?, grams, rest.after(rest.len())),
        None => weighed(phrase("per", rest)?)?,
    };
    let price = GoodTold::Price {
        hundredths,
        currency,
        grams,
    };
    rest.trimmed().is_empty().then_some(good(name, price))
}

fn is_dish(said: Tokens<'_>) -> bool {
    let words: Vec<&str> = said.slice.iter().map(|token| token.norm()).collect();
    said.vocabulary.is_batch(&words)
}

/// "we have 2 kg flour in the cupboard", "200 g lentils in the cupboard still", "cupboard: 200 g lentils"
fn in_cupboard(said: Tokens<'_>) -> Option<Prep> {
    let still = said.last().is_some_and(|token| token.norm() == "still");
    let said = said.range(0, said.len() - usize::from(still));
    let titled = is_titled(said);
    let told = match titled {
        true => said.after(2).trimmed(),
        false => before("cupboard", said)?,
    };
    let led = phrase("we have", told);
    let told = led.unwrap_or(told);
    let (name, grams, rest) = match mass(told) {
        Some((rest, grams)) => (name(rest)?, grams, rest.after(rest.len())),
        None => weighed(told)?,
    };
    // "200 g dal in the pantry" stands there, or was had there.
    let words: Vec<&str> = name.text.split(' ').collect();
    let bought = led.is_some() || titled || !said.vocabulary.is_batch(&words);
    let ends = rest.trimmed().is_empty();
    (bought && ends).then_some(good(name, GoodTold::InCupboard(grams)))
}

/// "always have salt", "salt is always in the cupboard"
fn always(said: Tokens<'_>) -> Option<Prep> {
    let name = match phrase("always", said) {
        Some(rest) => name(before("cupboard", rest).unwrap_or(rest))?,
        None => name(before("always behind", said)?)?,
    };
    Some(good(name, GoodTold::Always))
}

/// "we've got salt, cumin and oil in the cupboard", "cupboard: salt, cumin", "we always have salt and cumin"
fn stocked(said: Tokens<'_>) -> Option<Prep> {
    let titled = is_titled(said).then(|| said.after(2));
    let always = || {
        let rest = phrase("always", said)?;
        Some(before("cupboard", rest).unwrap_or(rest))
    };
    let there = || {
        let told = before("cupboard", said)?;
        Some(phrase("we have", told).unwrap_or(told))
    };
    let names = names(titled.or_else(always).or_else(there)?)?;
    // "rice in the pantry" stands there.
    let dish = |name: &Words| {
        let words: Vec<&str> = name.text.split(' ').collect();
        said.vocabulary.is_batch(&words)
    };
    (!names.iter().any(dish)).then_some(Prep::Stocked(names))
}

/// "cupboard: ..."
fn is_titled(said: Tokens<'_>) -> bool {
    matches!(said.norm(0), "cupboard" | "pantry" | "larder")
        && said.get(1).is_some_and(|token| token.is(':'))
}

/// "plenty of oil": there is no need to buy any.
fn plenty(said: Tokens<'_>) -> Option<Prep> {
    let rest = phrase("plenty", said)?;
    let name = name(before("cupboard", rest).unwrap_or(rest))?;
    Some(good(name, GoodTold::Always))
}

/// "out of salt"
fn out(said: Tokens<'_>) -> Option<Prep> {
    let name = name(phrase("out", said)?)?;
    Some(good(name, GoodTold::Out))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::{Command, Prep};
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
    }

    #[track_caller]
    fn sure(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn told(text: &str, printed: &str) {
        means(text, &kitchen(), printed);
    }

    #[test]
    fn two_weights_of_one_thing_tell_what_is_trimmed_off() {
        for text in [
            "parsnips 1150, trimmed 980",
            "1150 g parsnips, 980 after peeling",
            "1150 parsnips, peeled 980",
            "parsnips 1.15 kg, 980 g trimmed",
            "1150 g parsnips then 980 trimmed",
            "parsnips 1150 -> trimmed 980",
            "1150g parsnips, trimmed to 980g",
        ] {
            sure(text, "parsnips 1150 g, trimmed 980 g");
        }
    }

    #[test]
    fn things_come_in_packs() {
        sure("lentils come in 500 g bags", "lentils come in 500 g bag");
        sure(
            "red lentils come in bags of 500 g",
            "red lentils come in 500 g bag",
        );
        sure("flour is sold in 1.5 kg packs", "flour come in 1500 g pack");
    }

    #[test]
    fn things_have_prices() {
        told("lentils cost 2.40 a kg", "lentils cost 2.40 for 1000 g");
        told("olive oil 8.50 a litre", "olive oil cost 8.50 a litre");
        told(
            "price of sunflower oil 2.80 per litre",
            "sunflower oil cost 2.80 a litre",
        );
        told(
            "lentils cost €2.40 per kilo",
            "lentils cost €2.40 for 1000 g",
        );
        told(
            "flour is 1.20 euros for 1.5 kg",
            "flour cost 1.20 euros for 1500 g",
        );
        told("oil costs 7.50/kg", "oil cost 7.50 for 1000 g");
        for text in [
            "lentils were 2.40 for 500 g",
            "lentils 2.40 for 500 g",
            "500 g lentils were 2.40",
            "paid 2.40 for 500 g lentils",
            "paid 2.40 for 500 g of lentils",
        ] {
            told(text, "lentils cost 2.40 for 500 g");
        }
        // Of a dish that is cooked here as well: it may be bought, and no pot is paid for by the pound.
        told("rice was 1.80 for 500 g", "rice cost 1.80 for 500 g");
    }

    #[test]
    fn what_is_in_the_cupboard() {
        sure(
            "we have 2 kg flour in the cupboard",
            "we have 2000 g flour in the cupboard",
        );
        sure(
            "there's flour 2 kg in the pantry",
            "we have 2000 g flour in the cupboard",
        );
        for text in [
            "there's 2 kg flour in the cupboard still",
            "2 kg flour in the cupboard",
            "cupboard: 2 kg flour",
        ] {
            sure(text, "we have 2000 g flour in the cupboard");
        }
        sure("always have salt", "always have salt");
        sure("salt is always in the cupboard", "always have salt");
        sure("we've always got salt", "always have salt");
        told("there's plenty of oil", "always have oil");
        told("we've got loads of salt", "always have salt");
        told("we're out of salt", "out of salt");
    }

    #[test]
    fn talk_tells_nothing_of_them() {
        for text in [
            "parsnips 1150, dal 980",
            "lentils come in handy",
            "the bus costs 2.40 a day",
            "how much do lentils cost a kg?",
            "out of office",
            "out of salt",
            "we have 2 kids in the house",
            "always have a plan b",
            "200 g dal in the cupboard",
            "there's plenty of time",
            "plenty of salt in that one",
            "we've always got each other",
            "loads of people were there",
            "they were 2.40 for the bus",
            "paid 2.40 for the bus",
            "paid 6 for 2 tickets",
            "rice is 2.20 a kilo",
            "140 dal, peeled 980",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(Prep::Good { .. }))
            });
        }
    }
}
