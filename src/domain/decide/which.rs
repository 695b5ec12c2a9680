//! What a portion leaves open, as questions: each option is the whole message, put right.

use chrono::{Datelike, Days, NaiveDate};

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::problem::ProblemKind;
use super::super::resolve::{Resolved, Thing, Unresolved, Use, resolve};
use super::draw::TooMuch;
use super::portion::Taken;
use super::{Stop, find};
use crate::foods::{self, Code};
use crate::lang::syntax::{
    Ahead, Amount, Command, Day, Helping, Item, Portion, Prep, Until, Wish, Words,
};

/// The first answer to "once or twice?".
pub const TOLD_TWICE: &str = "once: the same, told twice";

/// The last answer to "of which?".
pub const OF_EACH: &str = "of each of them";

/// "Thursday" on a Wednesday may be tomorrow as well as six days ago.
pub fn nearly_next(portion: &Portion, day: NaiveDate, today: NaiveDate) -> Option<Stop> {
    let days_ago = (today - day).num_days();
    if !matches!(portion.day, Some(Day::Weekday(_))) || days_ago < 5 || portion.anyway {
        return None;
    }
    let mut past = portion.clone();
    past.day = Some(Day::Date {
        day: day.day(),
        month: day.month(),
        year: Some(day.year()),
    });
    let options = vec![Choice {
        label: format!("{days_ago} days ago, {day}"),
        says: Command::Portion(past).to_string(),
    }];
    let words: Vec<&str> = portion
        .items
        .iter()
        .map(|item| item.name.text.as_str())
        .collect();
    Some(find::ask(About::When, &words.join(", "), None, options))
}

/// So many days ago a weekday is hardly farther off when it comes.
const NEARER_DAYS: i64 = 3;

/// "Dinner Friday: 300 dal", told of a Friday before any of it was cooked, may be of the Friday that comes.
pub fn before_its_pot(
    draft: &Draft,
    portion: &Portion,
    day: NaiveDate,
    taken: &[Taken],
) -> Option<Stop> {
    let Some(Day::Weekday(weekday)) = portion.day else {
        return None;
    };
    let made_since = |line: &Taken| match &line.thing {
        Thing::Batches(batches) => {
            let mut batches = batches.iter().map(|id| draft.kitchen.batch(*id));
            batches.all(|batch| batch.made_on > day)
        }
        _ => false,
    };
    // "Monday's lunch", told on Wednesday, was.
    let nearer = (draft.today() - day).num_days() >= NEARER_DAYS;
    let before = nearer && !taken.is_empty() && taken.iter().all(made_since);
    if !before || portion.anyway {
        return None;
    }
    let mut past = portion.clone();
    past.day = Some(Day::Date {
        day: day.day(),
        month: day.month(),
        year: Some(day.year()),
    });
    let mut options = vec![Choice {
        label: format!("eaten on {day}"),
        says: Command::Portion(past).to_string(),
    }];
    let names = portion.items.iter().map(|item| item.name.text.as_str());
    let names: Vec<&str> = names.collect();
    if portion.share.is_none() && portion.who.is_none() && names.len() == taken.len() {
        let helpings = names.iter().zip(taken).map(|(name, line)| Helping {
            dish: Words::plain(*name),
            grams: Some(line.quantity.mass.grams()),
        });
        let wish = Wish::Of {
            dishes: helpings.collect(),
            meal: portion.meal,
            people: Some(1),
            from: Ahead::Weekday(weekday),
            until: Until::Day(Ahead::Weekday(weekday)),
        };
        options.push(Choice {
            label: format!("planned for {}", day + Days::new(7)),
            says: Command::Prep(Prep::Wish(wish)).to_string(),
        });
    }
    Some(find::ask(About::When, &names.join(", "), None, options))
}

/// "the rest of the rice" with two pots of rice open: of which?
pub fn which_share(draft: &Draft, portion: &Portion, at: usize, thing: &Thing) -> Option<Stop> {
    let Thing::Batches(batches) = thing else {
        return None;
    };
    let open = find::not_told_apart(draft, batches)?;
    let options = batch_options(draft, portion, at, &open).into_iter();
    let mut options: Vec<Choice> = open
        .iter()
        .zip(options)
        .map(|(id, choice)| Choice {
            label: format!("{}: {} g", choice.label, draft.held(*id).grams()),
            ..choice
        })
        .collect();
    let mut all = portion.clone();
    let of_each = open.iter().map(|id| Item {
        name: Words::plain(draft.kitchen.batch(*id).code.clone()),
        ..portion.items[at].clone()
    });
    all.items.splice(at..=at, of_each);
    options.push(Choice {
        label: OF_EACH.into(),
        says: Command::Portion(all).to_string(),
    });
    let words = &portion.items[at].name.text;
    Some(ask(portion, About::WhichBatch, words, None, options))
}

/// "12 quonks dal": the first word stands where a unit should, before a name that is known.
pub fn unit_like(draft: &Draft, name: &Words) -> bool {
    let Some((first, rest)) = name.text.split_once(' ') else {
        return false;
    };
    let rest = Words::plain(rest.trim_start_matches("of "));
    !foods::table().knows_word(first)
        && resolve(&draft.kitchen, &rest, Use::Eaten, draft.today()).is_ok()
}

/// Rice, lentils and pasta are eaten cooked but may have been weighed dry; the difference is
/// threefold, so it is asked about once and then remembered.
pub fn dry_on_a_plate(portion: &Portion, at: usize, resolved: &Resolved) -> Option<Stop> {
    let (dry, cooked) = resolved.dry_and_cooked()?;
    let item = &portion.items[at];
    let problem = ProblemKind::UnknownFood {
        words: item.name.text.clone(),
        near: vec![cooked, dry],
    };
    let options = food_options(portion, at, &[cooked, dry]);
    let words = &item.name.text;
    Some(ask(
        portion,
        About::WhichFood,
        words,
        Some(problem),
        options,
    ))
}

/// The question which thing an item means, with the whole message in every option.
pub fn which(draft: &Draft, portion: &Portion, at: usize, unresolved: Unresolved) -> Stop {
    let item = &portion.items[at];
    let problem = unresolved.clone().problem(&item.name.text);
    let (about, problem, options) = match unresolved {
        Unresolved::WhichBatch { batches, food } => {
            let mut options = batch_options(draft, portion, at, &batches);
            options.extend(food_options(portion, at, &states(food)));
            (About::WhichBatch, None, options)
        }
        Unresolved::WhichFood(codes) => (
            About::WhichFood,
            Some(problem),
            food_options(portion, at, &codes),
        ),
        Unresolved::Unknown { near, .. } => (
            About::WhichFood,
            Some(problem),
            food_options(portion, at, &near),
        ),
        Unresolved::UsedUp { name, food } => (
            About::WhichBatch,
            Some(problem),
            used_up(draft, portion, at, &name, food),
        ),
    };
    ask(portion, about, &item.name.text, problem, options)
}

/// A question about a part of a plate, which keeps the whole of it as it was said.
pub fn ask(
    portion: &Portion,
    about: About,
    words: &str,
    problem: Option<ProblemKind>,
    mut options: Vec<Choice>,
) -> Stop {
    let whole = Command::Portion(portion.clone());
    options.push(Choice::as_said(whole.to_string()));
    find::ask(about, words, problem, options)
}

/// "a bowl of soup", "2 ladles soup": how many grams, when nobody has taught that measure.
pub fn grams(portion: &Portion, at: usize, problem: ProblemKind) -> Stop {
    let name = portion.items[at].name.clone();
    let words = name.text.clone();
    let stand_in = option(portion, at, Amount::Mass(1.0), name, String::new());
    ask(portion, About::Grams, &words, Some(problem), vec![stand_in])
}

/// A used-up name: the plain food, the last batch after all, or one that was never entered.
fn used_up(
    draft: &Draft,
    portion: &Portion,
    at: usize,
    name: &str,
    food: Option<Code>,
) -> Vec<Choice> {
    let mut options = food_options(portion, at, &states(food));
    let batches = draft.kitchen.batches.values();
    let of_name = batches.filter(|batch| batch.name == name && !batch.voided);
    if let Some(last) = of_name.max_by_key(|batch| batch.id) {
        let mut again = portion.clone();
        again.anyway = true;
        let label = format!("{} {}: more than the books held", last.name, last.code);
        options.push(batch_option(draft, &again, at, last.id, label));
    }
    options.push(Choice {
        label: format!("a new batch of {name}, not entered yet"),
        says: format!("batch {name}"),
    });
    options
}

/// A dry food is eaten cooked: both are offered, the cooked one first.
fn states(food: Option<Code>) -> Vec<Code> {
    let Some(code) = food else { return Vec::new() };
    let cooked = foods::table().get(code).and_then(|food| {
        let found = foods::table().find(&food.description);
        let by_name = foods::table()
            .aliases()
            .iter()
            .find(|alias| alias.code == code);
        by_name.and_then(|alias| alias.cooked).or(match found {
            foods::Found::Taken(taken) => match taken.ambiguity {
                Some(foods::Ambiguity::DryOrCooked {
                    taken_dry: true,
                    other,
                }) => Some(other),
                _ => None,
            },
            _ => None,
        })
    });
    let dry = foods::table().get(code).is_some_and(foods::Food::is_dry);
    cooked.filter(|_| dry).into_iter().chain([code]).collect()
}

fn batch_options(draft: &Draft, portion: &Portion, at: usize, ids: &[BatchId]) -> Vec<Choice> {
    let labelled = ids.iter().zip(find::labels(draft, ids));
    labelled
        .map(|(id, label)| batch_option(draft, portion, at, *id, label))
        .collect()
}

fn batch_option(draft: &Draft, portion: &Portion, at: usize, id: BatchId, label: String) -> Choice {
    let name = Words::plain(draft.kitchen.batch(id).code.clone());
    option(portion, at, portion.items[at].amount.clone(), name, label)
}

fn food_options(portion: &Portion, at: usize, codes: &[Code]) -> Vec<Choice> {
    codes
        .iter()
        .filter_map(|code| {
            let food = foods::table().get(*code)?;
            let name = Words::plain(code.to_string());
            let amount = portion.items[at].amount.clone();
            Some(option(
                portion,
                at,
                amount,
                name,
                food.description.to_string(),
            ))
        })
        .collect()
}

/// The whole message with one item replaced: choosing it is as good as having written it.
pub fn option(portion: &Portion, at: usize, amount: Amount, name: Words, label: String) -> Choice {
    let mut chosen = portion.clone();
    chosen.items[at].amount = amount;
    chosen.items[at].name = name;
    Choice {
        label,
        says: Command::Portion(chosen).to_string(),
    }
}

/// More than the books hold: book it all the same, or only what is left.
pub fn confirm(portion: &Portion, at: usize, too_much: &TooMuch) -> Stop {
    let item = &portion.items[at];
    if let Some(label) = too_much.elsewhere() {
        let name = Words::plain(too_much.name.clone());
        let elsewhere = option(portion, at, item.amount.clone(), name, label);
        let problem = Some(too_much.problem());
        return find::ask(TooMuch::ABOUT, &item.name.text, problem, vec![elsewhere]);
    }
    let mut all = portion.clone();
    all.anyway = true;
    let mut options = vec![Choice {
        label: format!("{} g all the same", too_much.asked.rounded_grams()),
        says: Command::Portion(all).to_string(),
    }];
    if too_much.left.mg() > 0 {
        let left = Amount::Mass(too_much.left.grams());
        let label = format!("only the {} g that are left", too_much.left.rounded_grams());
        options.push(option(portion, at, left, item.name.clone(), label));
    }
    find::ask(
        TooMuch::ABOUT,
        &item.name.text,
        Some(too_much.problem()),
        options,
    )
}
