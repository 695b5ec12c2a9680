//! One reading of the scale: of a dish in a container, of a jar that is weighed again later, of an empty
//! plate, or what goes with the reading before.
//!
//! ```text
//! held    := food in a container whose tare is known    "had yogurt in the steel bowl, 390"
//! stands  := vessel reading | food vessel reading       "plate 388", "yogurt tub 940"
//! follows := [food | vessel] reading ("now" | "after" | "with")  "780 now", "561 with the beans on"
//! ```

use crate::lang::command::kept_in::KEPT_IN;
use crate::lang::command::scale::{Said, eaten, item};
use crate::lang::scale::{Food, Group, Talk, Vessel};
use crate::lang::syntax::{
    Command, ErrorKind, Portion, ScaleReading, Weighed, WeighedOf, Weighing,
};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::words::{at_scale, containers, pots};

/// Marks of a reading that goes with one before it.
const FOLLOWS: [&str; 5] = ["now", "after", "down", "up", "with"];
/// What one eats from.
const EATEN_FROM: [&str; 6] = ["plate", "bowl", "dish", "lunchbox", "mug", "tupperware"];

/// A vessel of no name of its own, that one eats from.
pub fn is_plate(name: &str) -> bool {
    let noun = containers().get(name).unwrap_or(name);
    EATEN_FROM.contains(&noun)
}

/// One reading.
pub fn single(talk: &Talk, portion: &Portion) -> Option<Said> {
    let [group] = talk.groups.as_slice() else {
        return None;
    };
    let mut group = group.clone();
    group.absorb(talk.behind.clone());
    if group.said("deny") || group.said("books") || group.said("zero") {
        return None;
    }
    let vessel = vessel(&group).cloned();
    if vessel.is_none() && !group.vessels.is_empty() {
        return None;
    }
    match (group.foods.as_slice(), vessel) {
        // "310 dal in the blue bowl" is a portion with where it was.
        ([food], Some(_)) if group.leads && food.household && group.marks.is_empty() => None,
        ([food], Some(vessel)) if is_eaten_from(&group, food, &vessel) => None,
        ([food], Some(vessel)) if is_on_ones_own(&group, &vessel) => {
            let items = vec![item(food, group.grams, &group)];
            Some(Said::sure(eaten(portion, items)))
        }
        ([food], Some(vessel)) => held(&group, food, &vessel, portion),
        ([food], None) => {
            let more = FOLLOWS.iter().any(|mark| group.said(mark));
            more.then(|| follows(&group, Some(food), None))
        }
        ([], Some(vessel)) => stands(&group, &vessel),
        ([], None) => {
            let more = FOLLOWS.iter().any(|mark| group.said(mark));
            more.then(|| follows(&group, None, None))
        }
        _ => None,
    }
}

/// "salad bowl: 45 spinach", "80 spinach in the bowl": a plate that begins, whose own weight nobody tells.
fn is_eaten_from(group: &Group, food: &Food, vessel: &Vessel) -> bool {
    let behind = food.name.span.start.min(group.span.start);
    let opens = vessel.name.span.start < behind;
    let eaten_from = EATEN_FROM.contains(&vessel.noun().as_str()) && !vessel.known;
    let plain = group
        .marks
        .iter()
        .all(|mark| matches!(*mark, "mine" | "ate" | "net" | "top"));
    eaten_from && (opens || group.leads) && plain
}

/// "barley 150 in my bowl": what is on one's own plate, whose weight nobody tells.
fn is_on_ones_own(group: &Group, vessel: &Vessel) -> bool {
    let eaten_from = EATEN_FROM.contains(&vessel.noun().as_str()) && !vessel.known;
    let behind = vessel.name.span.start > group.span.start;
    let plain = |mark: &&str| matches!(*mark, "mine" | "ate" | "net");
    eaten_from && behind && group.said("mine") && group.marks.iter().all(plain)
}

/// A food in a vessel, weighed once.
fn held(group: &Group, food: &Food, vessel: &Vessel, portion: &Portion) -> Option<Said> {
    let later = group.said("now") || group.said("after");
    // What nobody cooked here is in a bowl to be eaten.
    let served = !food.household && vessel.known && is_plate(&vessel.noun());
    let ate = group.said("ate")
        || group.said("mine")
        || portion.who.is_some()
        || portion.meal.is_some()
        || served && !later && !group.said("before");
    // "from the green tub, 415 with the tub" tells of the tub twice: it was on the scale.
    let gross = group.said("gross") || group.vessels.len() > 1;
    let its_own = !vessel.known && !gross;
    if its_own && later {
        return Some(follows(group, Some(food), Some(vessel)));
    }
    if ate && !its_own && !vessel.known {
        let kind = ErrorKind::UnknownTare(vessel.name.text.clone());
        let item = item(food, group.grams, group);
        return Some(Said::doubtful(
            eaten(portion, vec![item]),
            kind,
            vessel.name.span.clone(),
        ));
    }
    if ate && !its_own {
        let mut item = item(food, group.grams, group);
        // "270 barley in the steel bowl, not counting the bowl"
        item.container = Some(vessel.name.clone()).filter(|_| !group.said("net"));
        return Some(Said::sure(eaten(portion, vec![item])));
    }
    // "it was 640 on the scale, with the jar" tells of one reading.
    let beginning = group.said("before") && !gross || its_own && !pots().has(&vessel.noun());
    if food.household && !beginning && !ate {
        let weighed = counted(group)?;
        // "what's left is in the steel bowl, 1440 with the bowl" says both, however far the books are.
        if gross && group.said("left") && !group.said("moved") {
            return Some(Said::sure(Command::Count {
                items: vec![weighed],
                rest: None,
                anyway: true,
            }));
        }
        let told = ["left", "moved", "weighs", "now", "after"];
        let counts = told.iter().any(|mark| group.said(mark))
            || group.is_inside()
            || pots().has(&vessel.noun());
        return Some(Said::sure(Command::Weigh {
            batch: weighed.name,
            weighing: weighed.weighing,
            of: match counts || !vessel.known {
                true => WeighedOf::Left,
                false => WeighedOf::LeftOrEaten,
            },
        }));
    }
    (!ate || its_own).then(|| {
        Said::sure(Command::OnScale(ScaleReading {
            grams: group.grams,
            food: Some(food.name.clone()),
            vessel: Some(vessel.name.clone()),
            told: group.said("before"),
        }))
    })
}

/// An empty vessel.
fn stands(group: &Group, vessel: &Vessel) -> Option<Said> {
    if group.said("after") || group.said("now") || group.said("down") {
        return Some(follows(group, None, Some(vessel)));
    }
    // "blue pot is 812 g empty" is for good.
    let generic = EATEN_FROM.contains(&vessel.noun().as_str()) && !vessel.name.text.contains(' ');
    // "jar's at 615": of the jar that somebody weighed before.
    if !vessel.known && (KEPT_IN.contains(&vessel.noun().as_str()) || pots().has(&vessel.noun())) {
        return Some(follows(group, None, Some(vessel)));
    }
    // "steel bowl on the scale 240": the books tell whether it is empty.
    let begun = vessel.known && group.said("shown") && is_plate(&vessel.noun());
    (begun || generic && !vessel.known).then(|| {
        Said::sure(Command::OnScale(ScaleReading {
            grams: group.grams,
            food: None,
            vessel: Some(vessel.name.clone()),
            told: true,
        }))
    })
}

/// A reading that goes with the one before it.
fn follows(group: &Group, food: Option<&Food>, vessel: Option<&Vessel>) -> Said {
    let command = Command::OnScale(ScaleReading {
        grams: group.grams,
        food: food.map(|food| food.name.clone()),
        vessel: vessel.map(|vessel| vessel.name.clone()),
        told: false,
    });
    Said {
        follows: true,
        ..Said::sure(command)
    }
}

/// One batch with its reading; a vessel has to be one whose tare is known, unless the reading is net.
pub fn counted(group: &Group) -> Option<Weighed> {
    let mut foods = group.foods.clone();
    foods.dedup_by(|a, b| a.name.text.eq_ignore_ascii_case(&b.name.text));
    let [food] = foods.as_slice() else {
        return None;
    };
    if !food.household {
        return None;
    }
    let container = match vessel(group) {
        _ if group.said("net") => None,
        // "the salsa tub, 655": what it weighs is not told.
        // "880 beans left in the pot": where it stands.
        Some(vessel) if is_place_of_it(group, vessel) => None,
        Some(vessel) => Some(vessel.name.clone()),
        None if group.vessels.is_empty() => None,
        None => return None,
    };
    Some(Weighed {
        name: food.name.clone(),
        place: None,
        weighing: Weighing {
            gross: container.is_some(),
            container,
            ..Weighing::net(group.grams, group.span.clone())
        },
    })
}

/// "140 dal, recount parsnips 480": what was told before is no count.
pub fn goes_on_to_count(body: Tokens<'_>) -> bool {
    let weighs = |tokens: &[Token]| tokens.iter().any(Token::is_numeric);
    let begins = |at: &usize| {
        let before = &body.slice[at - 1];
        let recount = at_scale().longest_of(body.after(*at).slice, "recount");
        recount.is_some() && before.norm().is_empty() && !before.is_numeric()
    };
    let mut within = 1..body.len();
    within.any(|at| begins(&at) && weighs(&body.slice[..at]) && weighs(&body.slice[at..]))
}

/// The vessel of a group: the one that is known, if "with the jar" tells of it again.
pub fn vessel(group: &Group) -> Option<&Vessel> {
    let known = group.vessels.iter().find(|vessel| vessel.known);
    let chosen = known.or_else(|| group.vessels.first())?;
    let noun = chosen.noun();
    let one = group.vessels.iter().all(|vessel| vessel.noun() == noun);
    one.then_some(chosen)
}

/// Told beside the weight of what is left in it, or of what the books are to say, a vessel that nobody has weighed is
/// where it is.
fn is_place_of_it(group: &Group, vessel: &Vessel) -> bool {
    let of_it = group.leads && group.said("left") || group.is_inside() || group.said("set");
    !vessel.known && of_it && !group.said("gross")
}
