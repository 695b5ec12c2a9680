//! A new batch in one message, on many lines or one.
//!
//! ```text
//! batch    := verb ["raw"] name ["raw"] ( { sep part } | sep mass [place] )
//! part     := heading | clause | tare | poured | place | made | "raw" | aside | ingredient
//! heading  := words ":" | "for the" words          (until the next heading or the weighing)
//! clause   := weighing that is led by a verb or says itself that it is one [":" split]
//! split    := mass place { "," mass place }       (its parts add up to the weighing)
//! aside    := what a recipe says beside its ingredients (recipe.rs)
//! place    := ["in" | "into" | "→"] ["the"] place-name
//! made     := ("made" | "cooked") day | day
//! sep      := newline | ";" | ","
//! ```
//! A part that cannot be read is an unclear line and never costs the rest. On a line, a part without an
//! amount that only says how it is prepared belongs to the ingredient before it.

use nom::Err;

use crate::lang::amount::{Stands, amount, may_begin};
use crate::lang::body::body;
use crate::lang::clause::{clause, made, place};
use crate::lang::command::boxes;
use crate::lang::command::key_phrase;
use crate::lang::lexicon::{is_food, is_food_word};
use crate::lang::line::has_amount;
use crate::lang::name::{self, Familiarity, familiarity};
use crate::lang::number::{Number, number};
use crate::lang::recipe;
use crate::lang::syntax::{
    Amount, Command, Error, ErrorKind, IngredientLine, LineContent, NewBatch, Weighing, Words,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{bowls, containers, dates, fillers, meals, parts, places, sharing, talk};

/// "soup 2" is the second of its name; a higher number at the end of a head is something weighed.
const NAME_NUMBER_MAX: f64 = 99.0;

/// So much of a food is weighed; a dish is called after fewer.
const SPOKEN_GRAMS_MIN: f64 = 20.0;

/// A dish is called by fewer words.
const HEAD_WORDS_MAX: usize = 4;

/// A lighter pot is none.
const POT_GRAMS_MIN: f64 = 100.0;

const FORM: &str = "batch lentil dal, then its ingredients";

/// "batch ...": the verb makes it one, whatever follows.
pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw batch", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("batch", input)?.0, false),
    };
    let mut batch = whole(rest, input)?;
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// "made dal with 500 g lentils ...": a batch only if ingredients or a weighing follow.
pub fn read_made(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("made", input)?.0, false),
    };
    // "just cooked: batch rice"
    let (rest, titled) = match key_phrase("batch", rest.without_lead()) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (rest, false),
    };
    // "made up lunches, 4 boxes of 140 dal, 180 rice": what is packed by the count is in no pot.
    if (0..rest.len()).any(|at| boxes::opens(rest.after(at))) {
        return input.no();
    }
    let Ok(mut batch) = whole(rest, input) else {
        return input.no();
    };
    // "cooked for 400 people" tells of no dish.
    if talk().has(&batch.name.text) || fillers().has(&batch.name.text) {
        return input.no();
    }
    let weighed = batch.lines.iter().filter(|line| has_amount(line)).count();
    if !titled && weighed == 0 && (batch.weighings.is_empty() || batch.name.text.is_empty()) {
        return input.no();
    }
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// "roast veg: 1.2 kg carrots, 800 parsnips, cooked 1430": what is known as food behind a new name, and what it came
/// to, by the scale or in pieces.
fn on_one_line(input: Tokens<'_>) -> Option<NewBatch> {
    let at = (1..input.len()).find(|&at| heads(input, at))?;
    let head = name::bare(input.range(0, at));
    let words: Vec<&str> = head.slice.iter().map(Token::norm).collect();
    if !head.is_wordy() || head.len() > 6 || input.vocabulary.is_batch(&words) {
        return None;
    }
    let mut batch = body(input.after(at + 1), head);
    let food = |line: &IngredientLine| match &line.content {
        LineContent::Ingredient { name, .. } => familiarity(&name.text, input) >= Familiarity::Food,
        _ => false,
    };
    let amounts = batch.lines.iter().filter(|line| has_amount(line)).count();
    let counted = batch.pieces.is_some();
    let [weighing] = batch.weighings.as_slice() else {
        return None;
    };
    let weighed: f64 = weighing.readings_grams.iter().sum();
    let large = weighed >= POT_GRAMS_MIN && !is_sum(&batch.lines, weighed);
    let cooked = large && batch.lines.iter().all(food) && !is_eaters(head, &words);
    batch.name = head.words();
    (amounts > 1 && (counted || cooked)).then_some(batch)
}

/// "garlic oil: 100 garlic, 300 olive oil": food behind a name that is nobody's and no meal's. Nothing tells whether it is a pot
/// or a plate.
pub fn of_either(input: Tokens<'_>) -> Option<NewBatch> {
    let input = input.trimmed();
    let at = (1..input.len()).find(|&at| input.slice[at].is(':'))?;
    let head = name::bare(input.range(0, at));
    let words: Vec<&str> = head.slice.iter().map(Token::norm).collect();
    let told = |token: &Token| {
        let norm = token.norm();
        dates().has(norm) || containers().has(norm) || sharing().has(norm) || places().has(norm)
    };
    let idle = talk().has(&head.words().text) || fillers().has(&head.words().text);
    let named = head.is_wordy() && head.len() <= HEAD_WORDS_MAX && !is_eaters(head, &words);
    if !named || idle || head.slice.iter().any(told) {
        return None;
    }
    let mut batch = body(input.after(at + 1), head);
    let plain = |line: &IngredientLine| match &line.content {
        LineContent::Ingredient {
            name,
            amount: Some(_),
            ..
        } => {
            let words = name.text.to_lowercase();
            let words: Vec<&str> = words.split_whitespace().collect();
            familiarity(&name.text, input) >= Familiarity::Food
                && !input.vocabulary.is_batch(&words)
        }
        _ => false,
    };
    let listed = batch.lines.len() > 1 && batch.lines.iter().all(plain);
    batch.name = head.words();
    let only = NewBatch {
        name: batch.name.clone(),
        lines: batch.lines.clone(),
        ..NewBatch::default()
    };
    (listed && batch == only).then_some(batch)
}

/// "150 rice, 80 peas, total 230": nothing was cooked.
fn is_sum(lines: &[IngredientLine], weighed: f64) -> bool {
    let mass = |line: &IngredientLine| match line.content {
        LineContent::Ingredient {
            amount: Some(Amount::Mass(grams) | Amount::Bare(grams)),
            ..
        } => Some(grams),
        _ => None,
    };
    let sum: Option<f64> = lines.iter().map(mass).sum();
    sum.is_some_and(|sum| (sum - weighed).abs() < 1.0)
}

/// "Ana:", "lunch:", "my bowl:": a plate follows.
fn is_eaters(head: Tokens<'_>, words: &[&str]) -> bool {
    let plate =
        |token: &Token| meals().has(token.norm()) || bowls().get(token.norm()) == Some("noun");
    let person = head.vocabulary.is(Sense::Person, words);
    person || head.slice.iter().any(plate)
}

/// A colon, an equals sign or a dash behind the name of a dish.
fn heads(input: Tokens<'_>, at: usize) -> bool {
    let token = &input.slice[at];
    let behind = input.get(at + 1).is_some_and(|next| next.spaced);
    token.is(':') || behind && token.spaced && (token.is('=') || token.is('-'))
}

/// A name on the first line, ingredients under it and a weighing: a batch without the verb.
pub fn read_headless(input: Tokens<'_>) -> Read<'_, Command> {
    if let Some(batch) = on_one_line(input) {
        return Ok((input.after(input.len()), Command::Batch(batch)));
    }
    let Some(at) = input.find(|token| token.kind == Kind::Newline) else {
        return input.no();
    };
    let head = input.range(0, at).trimmed();
    let named = head
        .slice
        .last()
        .is_some_and(|token| token.norm() == "batch")
        && head.len() > 1;
    let head = if named {
        head.range(0, head.len() - 1)
    } else {
        head
    };
    if !head.is_wordy() || head.len() > 6 {
        return input.no();
    }
    let mut batch = body(input.after(at), name::bare(head));
    let amounts = batch.lines.iter().filter(|line| has_amount(line)).count();
    if amounts == 0 || (!named && batch.weighings.is_empty()) {
        return input.no();
    }
    batch.name = name::bare(head).words();
    Ok((input.after(input.len()), Command::Batch(batch)))
}

/// "apple compote nine hundred apples fifty sugar": what went in, told without a stop, is no part of a name.
fn tells_amounts(name: Tokens<'_>) -> bool {
    (1..name.len()).any(|at| {
        let weight = |said: &Number| said.value >= SPOKEN_GRAMS_MIN;
        number(name.after(at)).is_ok_and(|(rest, said)| weight(&said) && is_food_word(rest.norm(0)))
    })
}

/// The head and the body that follow a verb.
fn whole<'a>(rest: Tokens<'a>, input: Tokens<'a>) -> Result<NewBatch, Err<Error>> {
    let rest = rest.without_lead();
    let (head, after) = head(rest);
    let (head, raw) = without_raw(head);
    let name = whole_name(name::bare(head), head);
    let cooking = matches!(name.norm(0), "cooking" | "cook" | "cooked") && name.len() < 3;
    if cooking && after.trimmed().is_empty() {
        return Err(Err::Error(input.error(ErrorKind::NotUnderstood)));
    }
    let mut batch = alone(after).unwrap_or_else(|| body(after, name));
    let amounts = batch.lines.iter().any(has_amount);
    if !amounts && tells_amounts(name) {
        return Err(Err::Error(input.error(ErrorKind::NotUnderstood)));
    }
    if name.is_empty() && !amounts {
        return Err(Err::Failure(
            input.error(ErrorKind::Malformed { form: FORM }),
        ));
    }
    batch.raw |= raw;
    batch.name = match only_food(&batch).filter(|_| name.is_empty()) {
        Some(food) => food,
        None => name.words(),
    };
    Ok(batch)
}

/// "cooked 500 g rice, now weighs 1380": one food that was weighed in gives the dish its name.
fn only_food(batch: &NewBatch) -> Option<Words> {
    match (batch.lines.as_slice(), &batch.weighings[..]) {
        (
            [
                IngredientLine {
                    content: LineContent::Ingredient { name, .. },
                    ..
                },
            ],
            [_],
        ) => Some(name.clone()),
        _ => None,
    }
}

/// "batch carrot soup, 1650 g": a weight and nothing else is what the whole of it weighs.
fn alone(input: Tokens<'_>) -> Option<NewBatch> {
    let body = input.trimmed();
    let (rest, said) = amount(body, Stands::AfterName).ok()?;
    let grams = match said {
        Amount::Mass(grams) => grams,
        Amount::Bare(grams) if grams > NAME_NUMBER_MAX => grams,
        _ => return None,
    };
    let rest = rest.trimmed();
    let kept = place(rest);
    if !rest.is_empty() && kept.is_none() {
        return None;
    }
    Some(NewBatch {
        weighings: vec![Weighing::net(grams, body.span())],
        places: kept.into_iter().collect(),
        ..NewBatch::default()
    })
}

/// "dal (no salt)": the bracket that closes the name is a part of it.
fn whole_name<'a>(name: Tokens<'a>, head: Tokens<'a>) -> Tokens<'a> {
    let end = name.slice.last().map_or(0, |last| last.span.end);
    let length = head
        .find(|token| token.span.start >= end)
        .unwrap_or(head.len());
    let open = name.find(|token| token.is('(')).is_some();
    let closes = head.get(length).is_some_and(|token| token.is(')'));
    let start = name.slice.first().map_or(0, |first| first.span.start);
    let from = head.find(|token| token.span.start == start).unwrap_or(0);
    if open && closes && !name.slice.iter().any(|token| token.is(')')) {
        head.range(from, length + 1)
    } else {
        name
    }
}

/// Where the name of the batch ends: at the line's end, a colon, a comma, the first amount, or the
/// first clause of the body.
fn head(input: Tokens<'_>) -> (Tokens<'_>, Tokens<'_>) {
    let end = input
        .find(|token| {
            token.kind == Kind::Newline || matches!(token.kind, Kind::Symbol(':' | ',' | ';'))
        })
        .unwrap_or(input.len());
    // "potato salad. Ingredients: potatoes 900", but "no. 5 stew"
    let sentence = (1..end).find(|&at| {
        let next = input.get(at + 1);
        input.slice[at].is('.') && next.is_some_and(|token| token.spaced && parts().holds(token))
    });
    let end = sentence.unwrap_or(end);
    // "beef stew - beef 800 g, potatoes 600 g"
    let end = subtitle_end(input, end);
    let dash = (1..end).find(|&at| {
        let spaced = |at: usize| input.get(at).is_some_and(|token| token.spaced);
        input.slice[at].is('-') && spaced(at) && spaced(at + 1)
    });
    let end = dash.unwrap_or(end);
    let own_line = input
        .get(end)
        .is_none_or(|token| !token.is(',') && !token.is(';'));
    let mut cut = end;
    for at in 0..end.min(16) {
        let here = input.range(at, input.len());
        let digits = matches!(input.slice[at].kind, Kind::Number(_) | Kind::Unreadable);
        if at > 0 && is_of_name(input, at, end) {
            continue;
        }
        if at > 0 && input.slice[at].is('(') && recipe_aside(here, end - at) {
            let close = here.find(|token| token.is(')')).unwrap_or(0);
            return (input.range(0, at), here.after(close + 1));
        }
        if digits && at == 0 && own_line && end < input.len() && !has_unit(here) {
            continue;
        }
        let joined = matches!(here.norm(0), "with" | "from" | "using" | "of")
            && at > 0
            && may_begin(here.after(1));
        if digits && !(at > 0 && input.norm(at - 1) == "ndb") || joined {
            cut = at;
            break;
        }
        // "dal for tomorrow" is cooked today.
        let meant_for = at > 0 && input.norm(at - 1) == "for";
        if at > 0 && !meant_for && begins_body(here, end - at) {
            cut = at;
            break;
        }
    }
    let joined =
        usize::from(cut < end && matches!(input.norm(cut), "with" | "from" | "using" | "of"));
    (input.range(0, cut), input.after(cut + joined))
}

/// "batch mix: seeds & nuts" with its ingredients on the lines below: what stands behind the colon belongs to
/// the name, if it is no ingredient itself.
fn subtitle_end(input: Tokens<'_>, end: usize) -> usize {
    if !input.get(end).is_some_and(|token| token.is(':')) {
        return end;
    }
    let line = input
        .find(|token| token.kind == Kind::Newline)
        .unwrap_or(input.len());
    let behind = input.range(end + 1, line.max(end + 1));
    let words: Vec<&str> = behind.slice.iter().map(Token::norm).collect();
    let joined = behind.slice.iter().all(|token| match &token.kind {
        Kind::Word(_) => true,
        Kind::Symbol(c) => matches!(c, '&' | '-' | '+'),
        _ => false,
    });
    let below = input.after(line).has_number();
    let told = joined && !behind.is_empty() && below && !is_food(&words);
    if told && place(behind).is_none() && made(behind).is_none() && behind.norm(0) != "raw" {
        line
    } else {
        end
    }
}

fn has_unit(input: Tokens<'_>) -> bool {
    crate::lang::unit::unit(input.after(1)).is_ok()
}

/// A weighing, a place or a day that takes the rest of the head.
fn begins_body(input: Tokens<'_>, head_length: usize) -> bool {
    let head = input.range(0, head_length.min(input.len()));
    let placed = matches!(input.norm(0), "in" | "into" | "to") && place(head).is_some();
    placed || made(head).is_some() || clause(input).is_ok()
}

/// "soup2", "chili #2", "soup 2": a number that nothing in the head is measured by.
fn is_of_name(input: Tokens<'_>, at: usize, end: usize) -> bool {
    let token = &input.slice[at];
    let Kind::Number(numeral) = &token.kind else {
        return false;
    };
    let before = &input.slice[at - 1];
    // "no. 5 stew", "3-bean salad"
    let ordinal = |at: usize| matches!(input.norm(at), "no" | "nr" | "number" | "mark" | "vol");
    let counted = ordinal(at - 1) || before.is('.') && at > 1 && ordinal(at - 2);
    let hyphened = input
        .get(at + 1)
        .is_some_and(|next| next.is('-') && !next.spaced)
        && input
            .get(at + 2)
            .is_some_and(|word| !word.spaced && matches!(word.kind, Kind::Word(_)));
    if counted || hyphened {
        return true;
    }
    let glued = !token.spaced && (matches!(before.kind, Kind::Word(_)) || before.is('#'));
    let last = at + 1 == end && numeral.value <= NAME_NUMBER_MAX && numeral.value.fract() == 0.0;
    (glued || last) && !has_unit(input.after(at))
}

/// "(serves 4)" stands beside the name.
fn recipe_aside(input: Tokens<'_>, length: usize) -> bool {
    let close = input.find(|token| token.is(')')).unwrap_or(input.len());
    close <= length && recipe::is_aside(input.range(1, close.max(1)))
}

fn without_raw(head: Tokens<'_>) -> (Tokens<'_>, bool) {
    let head = head.trimmed();
    let is_raw = |token: Option<&Token>| token.is_some_and(|token| token.norm() == "raw");
    let last = head.len().saturating_sub(1);
    if head.len() > 1 && is_raw(head.first()) {
        return (head.after(1), true);
    }
    if head.len() > 1 && is_raw(head.last()) {
        return (head.range(0, last), true);
    }
    if head.len() > 3 && head.slice[last].is(')') && is_raw(head.get(last - 1)) {
        return (head.range(0, last - 2), true);
    }
    (head, false)
}
