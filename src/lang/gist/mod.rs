//! What a sentence says that no grammar covers: "the bus was 40 minutes late but finally had my 130 soup".
//!
//! The grammar of `command/` reads every word; people at a stove do not write so. Here a message is read
//! for its gist: its marks are found (`mark.rs`: amounts, names, people, days, numbers that are no
//! weights), its clauses are cut (`sentence.rs`), amounts and names are paired (`pair.rs`) and given to
//! whoever ate them (`eater.rs`); a dish that people shared is read as a table (`table.rs`). Words that mean nothing are passed over, but three things hold all the
//! same: every number is explained, something tells that it was eaten, and nothing in the clause forbids
//! it (`evidence.rs`). What does not hold together gives no reading at all.
//!
//! ```text
//! message := clause { break clause }
//! clause  := { word | aside | person | day | pair }
//! pair    := amount { link } name | name { word } amount
//! ```

mod amountless;
mod aside;
mod asked;
mod eater;
mod evidence;
mod held;
mod jar;
pub mod mark;
mod moving;
mod no_plate;
mod not_yet;
mod pair;
mod pot;
mod question;
mod running;
mod said;
mod scale;
mod sentence;
mod stands_in;
mod stock;
mod table;
mod tale;
mod went_in;

pub use aside::aside;
pub use scale::is_vessel;

use super::command::anyway;
use super::command::share::{comes_off, compares, is_sigh};
use super::lost;
use super::syntax::{Command, Reading, Reason};
use super::token::Token;
use super::tokens::Tokens;
use super::words::{at_scale, counts, cues, dates, moves, verbs};
use sentence::Sentence;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 100;

/// What was cooked, lost or counted, as far as the message tells it: a reading that is sure.
pub fn of_the_pots(input: Tokens<'_>, rank: i32) -> Option<Reading> {
    let told = input.has_number() && tells_cooking(input);
    if input.len() > TOKENS_MAX || !told && !input.slice.iter().any(is_edible_word(input)) {
        return None;
    }
    let sentence = Sentence::new(input);
    let several = went_in::read(&sentence)
        .or_else(|| pot::read(&sentence))
        .or_else(|| stands_in::read(&sentence))
        .or_else(|| jar::lost(&sentence))
        .or_else(|| stock::read(&sentence))
        .or_else(|| jar::read(&sentence))
        .or_else(|| running::read(&sentence));
    if let Some(commands) = several {
        return Some(sure(commands, rank, Vec::new()));
    }
    let held = held::read(&sentence)?;
    let shown = held::shown(&sentence).map(Reason::ScaleShows);
    Some(sure(held, rank, shown.into_iter().collect()))
}

/// What left one jar, as far as the words tell nothing else.
pub fn of_a_jar(input: Tokens<'_>) -> Option<Vec<Command>> {
    jar::read(&Sentence::new(input))
}

/// Whether a plan, a question, a condition, a price or a story governs the message.
pub fn is_governed(input: Tokens<'_>) -> bool {
    let signs = lost::signs(input).unwrap_or_default();
    tale::is_governed(&Sentence::new(input), &signs)
}

/// Whether it puts something right.
pub fn is_fix(input: Tokens<'_>) -> bool {
    let sentence = Sentence::new(input);
    let mut clauses = 0..sentence.clause_count();
    clauses.any(|at| evidence::is_fix(&sentence, at))
}

/// Whether a vessel that nobody has weighed is in the weight.
pub fn is_gross(input: Tokens<'_>) -> bool {
    let sentence = Sentence::new(input);
    let known = scale::known_vessel(&sentence, 0..sentence.marks.len());
    known.is_none() && table::is_gross(&sentence)
}

/// Whether it is told of a loss, or that the numbers add up.
pub fn tells_less(input: Tokens<'_>) -> bool {
    lost::signs(input).is_some() || at_scale().stand_in(input.slice, "running")
}

/// Whether it is told of what was lost or of what is still there: no plate is taken from among such words.
pub fn tells_of_pots(input: Tokens<'_>) -> bool {
    let denied = |at: usize| at > 0 && counts().get(input.norm(at - 1)) == Some("deny");
    let says = |key| {
        let here = |at: &usize| counts().longest_of(input.after(*at).slice, key).is_some();
        (0..input.len()).filter(here).any(|at| !denied(at))
    };
    let looked = says("weighed") && (says("again") || says("now") || says("books") || says("left"));
    says("recount") || looked || lost::signs(input).is_some()
}

/// What was eaten or asked, as far as the message tells it: a reading that is sure; otherwise why there is
/// none.
pub fn read(input: Tokens<'_>, rank: i32) -> Result<Reading, &'static str> {
    if input.len() > TOKENS_MAX {
        return Err("too long");
    }
    let asked = question::opens(input) || not_yet::opens(input);
    if !asked && !input.slice.iter().any(is_edible_word(input)) {
        return Err("nothing to eat in it");
    }
    // "froze -200 dal"
    if input.signed().is_some() && moves().longest(input.slice).is_some() {
        return Err("a number below nothing");
    }
    let (input, anyway) = anyway(input);
    if comes_off(input) {
        return Err("told of what came off");
    }
    let sentence = Sentence::new(input);
    if let Some(questions) = question::read(&sentence) {
        return Ok(sure(questions, rank, Vec::new()));
    }
    if let Some(asked_for) = not_yet::read(&sentence).or_else(|| moving::read(&sentence)) {
        return Ok(sure(vec![asked_for], rank, Vec::new()));
    }
    if let Some(table) = table::read(&sentence, rank) {
        return Ok(table);
    }
    if dates().stand_in(input.slice, "use by") {
        return Err("told of a date");
    }
    if cues().stand_in(input.slice, "all but") {
        return Err("told of what was not eaten");
    }
    if verbs()
        .longest(input.slice)
        .is_some_and(|(_, key)| key == "pour")
    {
        return Err("told of what was poured off");
    }
    // What stood in a vessel that the household weighed may be told with it.
    if scale::known_vessel(&sentence, 0..sentence.marks.len()).is_some() {
        return Err("a vessel may be in the weight");
    }
    let mut pairs = pair::pairs(&sentence).ok_or("a number or a name is left over")?;
    pairs.retain(|pair| !evidence::is_unmeant(&sentence, pair));
    let replaced = pairs.len() < sentence.amounts();
    let portions = eater::portions(&sentence, &mut pairs);
    let mut portions = portions.ok_or("who ate it is unclear")?;
    for portion in &mut portions {
        portion.anyway = anyway;
    }
    if tells_of_pots(input) {
        return Err("told of what was lost or is left");
    }
    evidence::holds(&sentence, &pairs, &portions, replaced)?;
    if weighs_a_dish(input) {
        return Err("a weighing of a dish");
    }
    if is_sigh(input, &portions) || compares(input) {
        return Err("a sigh or a comparison");
    }
    let reasons = pairs
        .iter()
        .map(|pair| match pair.household {
            true => Reason::Known(pair.name.text.clone()),
            false => Reason::Food(pair.name.text.clone()),
        })
        .collect();
    let commands = portions.into_iter().map(Command::Portion).collect();
    Ok(sure(commands, rank, reasons))
}

fn sure(commands: Vec<Command>, rank: i32, mut reasons: Vec<Reason>) -> Reading {
    reasons.push(Reason::Cut("gist"));
    Reading {
        commands,
        errors: Vec::new(),
        reasons,
        rank,
        sure: true,
        weighing_like: true,
    }
}

/// "crumble weighs 985, it's out": what a pot weighs is on no plate, as long as nobody eats it.
fn weighs_a_dish(input: Tokens<'_>) -> bool {
    let eats = ["eat", "log", "plate of"]
        .iter()
        .any(|key| cues().stand_in(input.slice, key));
    let weighs = |at: usize| {
        let dish = at > 0 && input.vocabulary.is_batch(&[input.norm(at - 1)]);
        dish && matches!(input.norm(at), "weighs" | "weighed" | "weighing")
    };
    // "the crumble's out, weighs 985"
    let apart = |at: usize| at > 0 && input.norm(at - 1).is_empty() && input.norm(at) == "weighs";
    !eats && (0..input.len()).any(|at| weighs(at) || apart(at))
}

/// "made", "ready": what the name beside it may be nobody knows yet.
fn tells_cooking(input: Tokens<'_>) -> bool {
    cues().stand_in(input.slice, "cooked") || cues().stand_in(input.slice, "ready")
}

/// A quick look, before a line of talk costs more than a glance.
fn is_edible_word<'a>(input: Tokens<'a>) -> impl Fn(&Token) -> bool + 'a {
    move |token| {
        let norm = token.norm();
        !norm.is_empty()
            && (input.vocabulary.has_word(norm)
                || super::lexicon::is_food_word(norm)
                || input.vocabulary.nearly(&[norm]).is_some())
    }
}
