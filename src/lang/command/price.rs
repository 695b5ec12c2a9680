//! What a batch cost: "dal cost 6.40", "the rice cost €2.20 a kilo", "paid 12 euros for the chilli".
//!
//! ```text
//! price := dish "cost" money [whole | "a kilo"] | "paid" money "for" dish
//! money := [symbol] number [currency]
//! ```

use crate::lang::name::{self, Familiarity, familiarity};
use crate::lang::syntax::{Command, Price, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::reports;

/// Nobody pays more for a pot.
const MOST: f64 = 100_000.0;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed().trimmed_end();
    match cost(body).or_else(|| paid(body)) {
        Some(price) => Ok((input.after(input.len()), Command::Price(price))),
        None => input.no(),
    }
}

/// "dal cost 6.40"
fn cost(body: Tokens<'_>) -> Option<Price> {
    let at =
        (1..body.len()).find(|&at| reports().longest_of(body.after(at).slice, "cost").is_some())?;
    let dish = name::of_batch(body.range(0, at))?;
    let length = reports().longest_of(body.after(at).slice, "cost")?;
    let bare = matches!(body.norm(at), "is" | "was" | "came");
    let price = priced(dish, body.after(at + length))?;
    // "dal is 640" is a weight, "rice is 2.20 a kilo" none.
    let told = price.a_kilo || !price.currency.is_empty() || !bare;
    told.then_some(price)
}

/// "paid 6.40 for the dal"
fn paid(body: Tokens<'_>) -> Option<Price> {
    let length = reports().longest_of(body.slice, "paid")?;
    let rest = body.after(length);
    let at = rest.find(|token| matches!(token.norm(), "for" | "on"))?;
    let told = rest.after(at + 1);
    // "paid 6 for the beef": what goes into a dish, if the books have it so.
    let food = || {
        let name = name::bare(told.trimmed());
        let food = name.is_wordy() && familiarity(&name.words().text, body) >= Familiarity::Food;
        food.then(|| name.words())
    };
    let dish = name::of_batch(told).or_else(food)?;
    priced(dish, rest.range(0, at))
}

fn priced(dish: Words, said: Tokens<'_>) -> Option<Price> {
    let (rest, hundredths, currency) = money(said)?;
    let rest = match rest.norm(0) {
        "/" | "" if !rest.is_empty() => rest.after(1),
        _ => rest,
    };
    let whole = |key| reports().longest_of(rest.slice, key) == Some(rest.len());
    let a_kilo = whole("kilo");
    (rest.is_empty() || a_kilo || whole("whole")).then_some(Price {
        dish,
        hundredths,
        currency,
        a_kilo,
    })
}

/// So many hundredths of a currency, and what follows.
pub fn money(said: Tokens<'_>) -> Option<(Tokens<'_>, i64, String)> {
    // The lexer has one sign for every currency; the text has its own.
    let symbol = |tokens: Tokens<'_>| {
        let sign = tokens.first().is_some_and(|token| token.is('$'));
        sign.then(|| tokens.range(0, 1).words().text)
    };
    let before = symbol(said);
    let rest = said.after(usize::from(before.is_some()));
    let Some(Kind::Number(number)) = rest.first().map(|token| &token.kind) else {
        return None;
    };
    let hundredths = (number.value * 100.0).round();
    let fine = (number.value * 100.0 - hundredths).abs() < 1e-6;
    if !fine || !(0.0..MOST * 100.0).contains(&hundredths) {
        return None;
    }
    let rest = rest.after(1);
    let word = reports()
        .longest_of(rest.slice, "money")
        .map(|length| rest.range(0, length).words().text.to_lowercase());
    let behind = symbol(rest).or(word);
    if before.is_some() && behind.is_some() {
        return None;
    }
    let rest = rest.after(usize::from(behind.is_some()));
    Some((
        rest,
        hundredths as i64,
        before.or(behind).unwrap_or_default(),
    ))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::means;
    use crate::lang::{Command, Sense, Vocabulary, parse};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        words.add(Sense::Batch, "lentil dal");
        words
    }

    #[track_caller]
    fn tells(text: &str, printed: &str) {
        means(text, &kitchen(), printed);
    }

    #[test]
    fn many_ways_to_tell_a_price() {
        tells("dal cost 6.40", "dal cost 6.40");
        tells("the dal cost €6.40", "dal cost €6.40");
        tells("dal cost us 6,40 euros", "dal cost 6.40 euros");
        tells("paid 12 quid for the dal", "dal cost 12.00 quid");
        tells("dal cost $12 in all", "dal cost $12.00");
        tells("dal is 2.20 a kilo", "dal cost 2.20 a kilo");
        tells("dal cost 2.20/kg", "dal cost 2.20 a kilo");
        tells("dal was £3 per kg", "dal cost £3.00 a kilo");
    }

    #[test]
    fn what_things_cost_elsewhere_is_no_price() {
        for text in [
            "dal costs 6.40 at the new place",
            "how much did the dal cost",
            "dal is 640",
            "the bus cost 6.40",
            "does dal cost 6.40?",
            "paid 12 for the bus",
        ] {
            let parsed = parse(text, &kitchen());
            let best = parsed.best();
            let told = matches!(best.commands[..], [Command::Price(_)]);
            assert!(!told, "{text}: {:?}", best.commands);
        }
    }
}
