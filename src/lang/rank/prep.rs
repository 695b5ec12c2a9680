//! Whether what is told ahead of cooking may be taken unasked.

use super::by_name;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{GoodTold, Prep, Reason};
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;

/// What it is worth, whether it is sure, and whether it looks like a weighing.
pub fn judged(said: &Prep, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    // What these tell of is what the words of a plan, of shops and of recipes tell of.
    let told = |veto: &&str| matches!(*veto, "conditional" | "question" | "past talk");
    let quiet = !vetoes_in(input).iter().any(told);
    let sure = match said {
        Prep::Good { name, told } => {
            let familiar = familiarity(&name.text, input) >= Familiarity::Food;
            reasons.push(match familiar {
                true => Reason::Food(name.text.clone()),
                false => Reason::UnknownName(name.text.clone()),
            });
            // What things cost, and what has run out, is told among people as well.
            let for_the_bot = !matches!(told, GoodTold::Price { .. } | GoodTold::Out);
            familiar && for_the_bot
        }
        Prep::Par { dish, .. } => {
            by_name(&dish.text, input, reasons);
            true
        }
        Prep::PotHolds { .. } => true,
        // "4 burners" alone may answer anybody.
        Prep::Limit { .. } => input.trimmed().len() > 2,
    };
    (0, sure && quiet, false)
}
