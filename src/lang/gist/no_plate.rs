//! Numbers beside a dish that no plate tells of: of what grows or is taught, of what a pot holds, of what is counted.

use super::mark::Mark;
use super::pair::Pair;
use super::sentence::Sentence;
use crate::lang::rank::SCALE_GRAMS_MIN;
use crate::lang::syntax::Amount;
use crate::lang::unit::rough_millilitres;
use crate::lang::words::{containers, elsewhere};

/// Less or more of a dish is no plate.
const PLATE_GRAMS: std::ops::RangeInclusive<f64> = 5.0..=1200.0;
const PLATE_MILLILITRES_MAX: f64 = 1500.0;
/// More pieces or helpings of it are a party's.
const PLATE_PIECES_MAX: f64 = 25.0;

/// Somebody may have eaten so much.
pub fn is_plausible(pair: &Pair) -> bool {
    match &pair.amount {
        Amount::Mass(grams) | Amount::Bare(grams) => PLATE_GRAMS.contains(grams),
        Amount::Volume { count, unit, .. } => {
            *count * rough_millilitres(*unit) <= PLATE_MILLILITRES_MAX
        }
        // "in a stew": an article counts no dish.
        Amount::Pieces { count, measure } => {
            *count <= PLATE_PIECES_MAX && !(pair.household && measure.is_empty())
        }
        _ => true,
    }
}

/// "the chilli plant was 45 cm, now 60", "the barley field", "parsnips in the field", "my salsa teacher is 74"
pub fn is_no_food(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let word = |at: usize| sentence.mark(at) == Some(&Mark::Word);
    let is_elsewhere = |at: usize| word(at) && elsewhere().has(sentence.norm(at));
    let is_cold = |at: usize| matches!(sentence.norm(at), "freezer" | "fridge");
    (pair.from..pair.to).any(|at| {
        let dish = matches!(sentence.mark(at), Some(Mark::Dish(_)));
        let grows = sentence.norm(at + 1) == "in" && sentence.norm(at + 2) == "the";
        let grows = grows && is_elsewhere(at + 3) && !is_cold(at + 4);
        dish && (is_elsewhere(at + 1) || grows)
    })
}

/// "in a 20 litre pot": what it holds is told, and not what is in it.
pub fn is_of_a_vessel(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let volume = matches!(pair.amount, Amount::Volume { .. });
    volume && containers().has(sentence.norm(pair.at + 1))
}

/// "salsa at the studio, 10 to get in": a number that no scale shows belongs to the name beside it, or to
/// something else.
pub fn is_counted_apart(sentence: &Sentence<'_>, pair: &Pair) -> bool {
    let few = matches!(pair.amount, Amount::Bare(count) if count < SCALE_GRAMS_MIN);
    let between = pair.from + 1..pair.to - 1;
    // "a bit of butter (8)"
    let few = few && !sentence.starts(pair.at.saturating_sub(1), '(');
    let is = |at: usize| sentence.cue(at, "is").is_some();
    few && between.start < between.end
        && sentence.after_links(between.start) < between.end
        && !between
            .clone()
            .all(|at| sentence.norm(at).is_empty() && !sentence.breaks(at) || is(at))
}
