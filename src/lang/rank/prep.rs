//! Whether what is told ahead of cooking may be taken unasked.

use super::by_name;
use crate::lang::lexer::folded_words;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{GoodTold, Helping, Limit, PlanFor, Prep, Reason, Shop, Wish, Words};
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::words::{clock, prep};

/// What it is worth, whether it is sure, and whether it looks like a weighing.
pub fn judged(
    said: &Prep,
    verb: &str,
    input: Tokens<'_>,
    reasons: &mut Vec<Reason>,
) -> (i32, bool, bool) {
    if let Prep::Shop(said) = said {
        return (0, is_of_the_list(said, verb, input), false);
    }
    if let Prep::Wish(wish) = said {
        let counted = |word: &str| matches!(word, "dinners" | "lunches" | "breakfasts" | "suppers");
        // "4 dinners for 2: lasagne": in so many words it is no talk, whatever is to be cooked.
        let titled = input.slice.iter().any(|token| token.is(':'));
        if let Wish::Of {
            people: Some(_),
            dishes,
            ..
        } = wish
            && titled
            && input.slice.iter().any(|token| counted(token.norm()))
            && dishes.iter().all(|one| is_food(one, input))
        {
            return (0, true, false);
        }
        // "dal for dinner on Friday" may be news of the family.
        let told = verb != "dinner" || input.slice.iter().any(|token| token.is(':'));
        return (0, is_of_dishes(wish, input, reasons) && told, false);
    }
    // "next steps: call the bank" tells of no dish.
    if let Prep::Steps { dish, steps } = said {
        let known = by_name(&dish.text, input, reasons).0 > 0;
        // "rice: simmer 45 min" may be a word to the cook.
        let titled = input.slice.iter().any(|token| token.norm() == "steps");
        return (0, known && (titled || steps.len() > 1), false);
    }
    // "in what order?" is asked of anybody.
    if let Prep::Sheet { dishes, at } = said {
        let named = prep().longest_of(input.trimmed().slice, "sheet");
        let known = |dish: &Words| familiarity(&dish.text, input) == Familiarity::Household;
        // "dal ready by 7pm" tells somebody when to come.
        let asked = input.trimmed().norm(0) == "when" && at.is_some();
        let of_ours = asked && !dishes.is_empty() && dishes.iter().all(known);
        return (0, named.is_some() || of_ours, false);
    }
    match said {
        Prep::Plan(asked) => return plan(asked, input, reasons),
        // What is no day of a plan may be one of talk, and why is asked of anybody.
        Prep::NoDay { .. } => return (0, names_plan(input), false),
        // "dal simmers 25 min" may be a word to the cook; "not 35" puts its step right.
        Prep::StepLasts { dish, .. } => {
            let known = by_name(&dish.text, input, reasons).0 > 0;
            let right = prep().stand_in(input.slice, "not before");
            return (0, known && right, false);
        }
        Prep::Why { dish, .. } => return (by_name(&dish.text, input, reasons).0, false, false),
        _ => {}
    }
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
            let for_the_bot = match told {
                GoodTold::Out => false,
                told if told.is_price() => false,
                GoodTold::Always => says_always(input),
                _ => true,
            };
            familiar && for_the_bot
        }
        // "salt in the cupboard" may tell somebody where it is.
        Prep::Stocked(names) => {
            let food = |name: &Words| familiarity(&name.text, input) >= Familiarity::Food;
            let told = prep()
                .longest_of(input.trimmed().slice, "we have")
                .is_some();
            names.iter().all(food) && (told || says_always(input) || names.len() > 1)
        }
        // "keep 500 g of dal" may be a word to the cook.
        Prep::Par { dish, grams } => {
            by_name(&dish.text, input, reasons);
            let told = |part| prep().stand_in(input.slice, part);
            grams.is_none() || told("level") || told("ready") || told("par")
        }
        Prep::PotHolds { .. } => true,
        // "4 burners" alone may answer anybody, and "we only have 2 pots" may be said of pots.
        Prep::Limit { what, count } => {
            let loose = *what == Limit::PotsADay
                && count.is_some()
                && !prep().stand_in(input.slice, "pots a day");
            (input.trimmed().len() > 2 || *count == Some(0)) && !loose
        }
        Prep::Shop(_)
        | Prep::Wish(_)
        | Prep::Plan(_)
        | Prep::NoDay { .. }
        | Prep::Why { .. }
        | Prep::Steps { .. }
        | Prep::StepLasts { .. }
        | Prep::Sheet { .. } => false,
    };
    (0, sure && quiet, false)
}

/// That there is plenty is said at the table.
fn says_always(input: Tokens<'_>) -> bool {
    let told = |word: &str| matches!(word, "always" | "never" | "dont");
    input.slice.iter().any(|token| told(token.norm()))
}

/// "the plan", and what is asked of anybody, is for the bot if it is spoken to; and so are dishes that nobody has
/// cooked here, and a bare number, which may be an hour.
fn plan(asked: &PlanFor, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let known = asked
        .dishes
        .iter()
        .map(|dish| by_name(&dish.text, input, reasons).0);
    let known = known.min().unwrap_or(0);
    let bare = asked.people.is_some_and(|people| people > 0)
        && asked.until.is_none()
        && asked.begins.is_none()
        && asked.dishes.is_empty()
        && input
            .trimmed()
            .last()
            .is_some_and(|token| token.is_numeric());
    let question = input.slice.iter().any(|token| token.is('?'));
    // How much of a dish of the household has to be cooked nobody else works out.
    let reckons = !asked.dishes.is_empty() && known > 0 && input.trimmed().norm(0) == "how";
    let sure = !question && names_plan(input) && known >= 0 && !bare;
    (known, sure || reckons || needs_cooking(input), false)
}

/// "what do we need to cook": what is lacking, and no dinner that somebody thinks of.
fn needs_cooking(input: Tokens<'_>) -> bool {
    prep()
        .longest_of(input.trimmed().slice, "plan needed")
        .is_some()
}

fn names_plan(input: Tokens<'_>) -> bool {
    !matches!(
        input.trimmed().norm(0),
        "the" | "what" | "whats" | "how" | "planning"
    )
}

/// It is called as food is.
fn is_food(helping: &Helping, input: Tokens<'_>) -> bool {
    let folded = folded_words(&helping.dish.text);
    let last = folded.last();
    familiarity(&helping.dish.text, input) >= Familiarity::Food
        || last.is_some_and(|last| clock().get(last) == Some("dish"))
}

/// Who wishes for a dish of the household tells it to the bot; of anything else people talk.
fn is_of_dishes(wish: &Wish, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> bool {
    let names: Vec<&Words> = match wish {
        Wish::Of { dishes, .. } => dishes.iter().map(|helping| &helping.dish).collect(),
        Wish::None { dish, .. } | Wish::AsUsual { dish } => vec![dish],
        Wish::Listed => return input.trimmed().len() > 1,
        // "cancel the dinners" may be said of a restaurant.
        Wish::Forget { meal } => return meal.is_none(),
    };
    let mut known = names
        .into_iter()
        .map(|dish| by_name(&dish.text, input, reasons).0 > 0);
    known.all(|known| known)
}

/// People keep lists of their own, on the fridge door and in the chat: what is said of a list is meant for the one here
/// only where there is one, and what was bought only where it stands on it.
fn is_of_the_list(said: &Shop, verb: &str, input: Tokens<'_>) -> bool {
    let open = input.vocabulary.has_list();
    match said {
        Shop::Show | Shop::ForPlan(_) => true,
        Shop::New(with) => with.is_empty() || open,
        Shop::Put(_) => open && verb == "on the list",
        Shop::ForDishes(_) => true,
        Shop::GotAllBut(names) => {
            let listed = |name: &Words| input.vocabulary.is_listed(&folded_words(&name.text));
            names.iter().all(listed)
        }
        Shop::Off(_) | Shop::Done => open,
        Shop::Got(names) if names.is_empty() => {
            open && input
                .slice
                .iter()
                .any(|token| matches!(token.norm(), "list" | "tick"))
        }
        Shop::Got(names) => names.iter().all(|name| {
            let words = folded_words(&name.text);
            input.vocabulary.is_listed(&words)
        }),
    }
}
