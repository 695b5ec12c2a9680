//! Readings of a scale whose tare key nobody pressed: what they say together.
//!
//! ```text
//! running := empty vessel { food reading }         "plate 388, beans 561, salsa 700"
//! less    := food reading, vessel reading          "soup and bowl together 688, bowl 402"
//! jar     := food before, after                    "honey jar was 418, now 401", "418, took two spoons, 401"
//! zeroed  := { food reading zero }                 "150 dal, zeroed, 120 rice"
//! on-top  := food in a container whose tare is known { food reading }    on_top.rs
//! held    := food in a container whose tare is known    "had yogurt in the steel bowl, 390"
//! count   := food reading ("left" | "by the scale" | "not" reading)
//! stands  := vessel reading | food vessel reading | reading ("now" | "after")
//! ```
//! The mode is decided before a gram is read. What cannot be (a total that falls, a jar that gains, an end
//! below the tare) is a doubt, and what it would mean is kept beside it.

use crate::lang::command::on_scale::{counted, goes_on_to_count, is_plate, single};
use crate::lang::command::scale_owner::owner;
use crate::lang::command::share::divided;
use crate::lang::command::{kept_in, on_top, plate};
use crate::lang::scale::{Food, Group, Talk, talk};
use crate::lang::syntax::{
    Amount, Command, ErrorKind, Item, Party, Portion, Share, Span, Weighed, WeighedOf,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::words::pots;

/// More of a dish is on no plate.
const PLATE_GRAMS_MAX: f64 = 1000.0;

/// What the readings say.
#[derive(Debug)]
pub struct Said {
    pub command: Command,
    /// Why it cannot be so, and where that is said.
    pub doubt: Option<(ErrorKind, Span)>,
    /// What it would mean if the doubt is right.
    pub otherwise: Option<Command>,
    /// It says nothing by itself: it goes with a reading before.
    pub follows: bool,
    /// What the scale goes on showing, with more to come.
    pub shows: Option<f64>,
    /// What the jar weighs that was taken from.
    pub jar: Option<f64>,
    pub comments: Vec<Span>,
}

impl Said {
    pub fn sure(command: Command) -> Self {
        Self {
            command,
            doubt: None,
            otherwise: None,
            follows: false,
            shows: None,
            jar: None,
            comments: Vec::new(),
        }
    }

    pub fn doubtful(command: Command, kind: ErrorKind, span: Span) -> Self {
        Self {
            doubt: Some((kind, span)),
            ..Self::sure(command)
        }
    }
}

pub fn read(input: Tokens<'_>) -> Option<Said> {
    let mut portion = Portion::default();
    let (rest, whose) = owner(input);
    let mine = whose == Some(None);
    let body = plate::around(rest, &mut portion);
    if portion.share.is_some() || whose.is_some() && portion.who.is_some() {
        return None;
    }
    portion.who = portion.who.or(whose.flatten());
    portion.with_last = false;
    let (body, party) = match shared(body) {
        Some((body, party)) => (body, Some(party)),
        None => (body, None),
    };
    let mut talk = talk(body)?;
    // "780 now": the end of the message is about the reading, not about manners.
    if body.len() < input.len()
        && input
            .trimmed()
            .last()
            .is_some_and(|last| last.norm() == "now")
    {
        talk.groups.last_mut()?.marks.push("now");
    }
    // "steel bowl + yoghurt = 431 for me"
    if mine || body.len() < input.len() && is_mine(input, body) {
        talk.groups.last_mut()?.marks.push("mine");
    }
    let mut said = shape(&talk, &portion)?;
    let whose = portion.who.is_some() || portion.day.is_some() || party.is_some();
    let counts = matches!(said.command, Command::Count { .. });
    if whose && !matches!(said.command, Command::Portion(_)) || counts && goes_on_to_count(body) {
        return None;
    }
    if let (Command::Portion(portion), Some(party)) = (&mut said.command, party) {
        portion.who.is_none().then_some(())?;
        portion.share = Some(Share::Equally(party));
    }
    said.comments = talk.comments;
    Some(said)
}

/// "olive oil 702 before and 657 after, the three of us had the same": the readings, and who shares what left the jar.
fn shared(body: Tokens<'_>) -> Option<(Tokens<'_>, Party)> {
    let opens = |token: &Token| matches!(token.kind, Kind::Newline | Kind::Symbol(',' | '.' | '('));
    let mut cuts = (1..body.len()).rev().filter(|&at| opens(&body.slice[at]));
    cuts.find_map(|at| Some((body.range(0, at), divided(body.after(at + 1))?)))
}

/// Whether what stands around the readings says that it is the sender's.
fn is_mine(input: Tokens<'_>, body: Tokens<'_>) -> bool {
    let readings = body.span();
    let apart =
        |token: &Token| token.span.end <= readings.start || token.span.start >= readings.end;
    let me = |token: &Token| matches!(token.norm(), "me" | "mine" | "myself");
    input.slice.iter().any(|token| apart(token) && me(token))
}

fn shape(talk: &Talk, portion: &Portion) -> Option<Said> {
    on_top::read(talk, portion)
        .or_else(|| topped_up(talk, portion))
        .or_else(|| zeroed(talk, portion))
        .or_else(|| running(talk, portion))
        .or_else(|| jar(talk, portion))
        .or_else(|| counts(talk))
        .or_else(|| single(talk, portion))
}

pub fn item(food: &Food, grams: f64, group: &Group) -> Item {
    Item::new(Amount::Mass(grams), food.name.clone()).at(told(food, group))
}

/// Where the food and its reading stand.
fn told(food: &Food, group: &Group) -> Span {
    let (name, reading) = (&food.name.span, &group.span);
    name.start.min(reading.start)..name.end.max(reading.end)
}

pub fn eaten(portion: &Portion, items: Vec<Item>) -> Command {
    Command::Portion(Portion {
        items,
        ..portion.clone()
    })
}

/// To the milligram: readings are decimal.
pub fn difference(more: f64, less: f64) -> f64 {
    ((more - less) * 1e6).round() / 1e6
}

/// The one food of a group.
pub fn only_food(group: &Group) -> Option<&Food> {
    match group.foods.as_slice() {
        [food] => Some(food),
        _ => None,
    }
}

/// "150 dal, zeroed, 120 rice": each reading stands for itself; "plate 365, dal 545, zeroed, rice 130": what was read
/// before runs on from the empty plate.
fn zeroed(talk: &Talk, portion: &Portion) -> Option<Said> {
    let (first, later) = talk.groups.split_first()?;
    if later.is_empty() || !talk.groups.iter().any(|group| group.said("zero")) {
        return None;
    }
    let empty = first.foods.is_empty() && !first.vessels.is_empty() && !first.said("zero");
    let (mut last, read) = match empty {
        true => (Some(first.grams), later),
        false => (None, talk.groups.as_slice()),
    };
    let mut items = Vec::new();
    for group in read {
        let food = only_food(group)?;
        last = last.filter(|_| !group.said("zero"));
        let grams = difference(group.grams, last.unwrap_or(0.0));
        if grams <= 0.0 || !group.vessels.is_empty() && last.is_none() && empty {
            return None;
        }
        items.push(item(food, grams, group));
        last = last.map(|_| group.grams);
    }
    Some(Said::sure(eaten(portion, items)))
}

/// "bowl zeroed: 120 beans, with salsa 165", "dal 150, total with rice 270": each later reading holds the
/// ones before it.
fn topped_up(talk: &Talk, portion: &Portion) -> Option<Said> {
    let (first, later) = talk.groups.split_first()?;
    let from_zero = first.said("zero");
    let tops =
        |group: &Group| group.said("gross") || group.said("up") || from_zero && group.said("with");
    let apart = |group: &Group| {
        let apart = ["zero", "left", "moved", "count"];
        apart.iter().any(|mark| group.said(mark))
    };
    let known = talk.groups.iter().flat_map(|group| &group.vessels);
    // "running total: barley 132, beans 205"
    let totals = talk.groups.iter().any(|group| group.said("running"));
    if !totals && !later.iter().any(tops)
        || later.iter().any(apart)
        || known.clone().any(|vessel| vessel.known)
    {
        return None;
    }
    only_food(first)?;
    let empty = Group::default();
    above(talk.groups.iter(), &empty, portion)
}

/// Readings above an empty vessel.
fn running(talk: &Talk, portion: &Portion) -> Option<Said> {
    let is_empty =
        |group: &Group| group.foods.is_empty() && (!group.vessels.is_empty() || group.said("less"));
    let empties = talk.groups.iter().filter(|group| is_empty(group)).count();
    if empties == 0 || talk.groups.len() < 2 {
        return None;
    }
    let first = &talk.groups[0];
    if empties == 1 && is_empty(first) && talk.behind.foods.is_empty() {
        return added_up(talk, portion);
    }
    let [one, other] = talk.groups.as_slice() else {
        return None;
    };
    // "688 with the bowl and the bowl is 402, leek soup": the food is told behind.
    let both = empties == 2 && !first.said("before") && !other.said("after");
    let (gross, empty) = match (is_empty(one), is_empty(other)) {
        (true, true) if both && one.grams >= other.grams => (one, other),
        (true, true) if both => (other, one),
        (false, true) => (one, other),
        (true, false) => (other, one),
        _ => return None,
    };
    let food = only_food(gross).or_else(|| only_food(&talk.behind))?;
    // "my plate 145 rice 190 chilli": every number stands before its name.
    if !gross.foods.is_empty() && !talk.behind.foods.is_empty() {
        return None;
    }
    taken_off(portion, food, gross, empty)
}

/// Gross, and what is to be taken off it.
fn taken_off(portion: &Portion, food: &Food, gross: &Group, empty: &Group) -> Option<Said> {
    if cooked_in(food, gross, empty) {
        return None;
    }
    let net = difference(gross.grams, empty.grams);
    let command = |grams| eaten(portion, vec![item(food, grams, gross)]);
    if let Some(weighed) = kept_in::read(portion, food, gross, empty).filter(|_| net > 0.0) {
        return Some(Said::sure(weighed));
    }
    // So much of a dish stands in what it was baked in.
    if net > PLATE_GRAMS_MAX && !gross.said("ate") && !gross.said("mine") {
        return None;
    }
    if net > 0.0 {
        return Some(Said::sure(command(net)));
    }
    let kind = ErrorKind::BelowTare {
        gross_grams: gross.grams,
        tare_grams: empty.grams,
    };
    Some(Said::doubtful(
        command(gross.grams),
        kind,
        gross.span.clone(),
    ))
}

/// "plate 388, beans 561, salsa 700": each reading holds the ones before it.
fn added_up(talk: &Talk, portion: &Portion) -> Option<Said> {
    let (empty, rest) = talk.groups.split_first()?;
    if rest.iter().any(|group| group.said("zero")) {
        return None;
    }
    let said = above(rest.iter(), empty, portion)?;
    let own = portion.who.is_none() && portion.day.is_none();
    let last = rest.last().filter(|_| own && said.doubt.is_none());
    Some(Said {
        shows: last.map(|group| group.grams),
        ..said
    })
}

fn above<'t>(
    groups: impl Iterator<Item = &'t Group>,
    empty: &Group,
    portion: &Portion,
) -> Option<Said> {
    let mut last = empty.grams;
    let mut items = Vec::new();
    let mut fallen = None;
    let mut total = None;
    for group in groups {
        let food = only_food(group)?;
        if cooked_in(food, group, empty) {
            return None;
        }
        // "dal 545, then 20 butter on top": its number is told before it, and the others behind.
        if group.grams < last && group.leads && total == Some(false) && group.said("top") {
            items.push(item(food, group.grams, group));
            last += group.grams;
            continue;
        }
        total = Some(group.leads);
        let amount = if group.grams > last {
            difference(group.grams, last)
        } else {
            let kind = ErrorKind::ScaleFell {
                last_grams: last,
                now_grams: group.grams,
            };
            fallen.get_or_insert((kind, told(food, group)));
            group.grams
        };
        items.push(item(food, amount, group));
        last = group.grams;
    }
    let command = eaten(portion, items);
    Some(Said {
        doubt: fallen,
        ..Said::sure(command)
    })
}

/// A dish in its pot is weighed in, not eaten.
fn cooked_in(food: &Food, gross: &Group, empty: &Group) -> bool {
    let mut vessels = gross.vessels.iter().chain(&empty.vessels);
    food.household && !gross.said("ate") && vessels.any(|vessel| pots().has(&vessel.noun()))
}

/// One thing on the scale twice: what left it was eaten.
fn jar(talk: &Talk, portion: &Portion) -> Option<Said> {
    let [one, other] = talk.groups.as_slice() else {
        return None;
    };
    let own = |group: &'_ Group| -> Vec<Food> {
        let apart = |food: &&Food| !food.linked;
        group.foods.iter().filter(apart).cloned().collect()
    };
    let mut foods = [own(one), own(other), own(&talk.behind)].concat();
    if foods.is_empty() {
        foods.clone_from(&one.foods);
    }
    foods.dedup_by(|a, b| a.name.text.eq_ignore_ascii_case(&b.name.text));
    let [food] = foods.as_slice() else {
        return None;
    };
    let any = |mark: &str| one.said(mark) || other.said(mark);
    let in_vessel = !one.vessels.is_empty() || !other.vessels.is_empty();
    let telling =
        any("before") || any("after") || any("now") || any("down") || any("to") || any("arrow");
    // "honey jar 418, took three spoons, 379"
    let telling = telling || any("helped");
    let fell = any("dash") && one.grams > other.grams;
    let paired = any("arrow") || fell || any("down") || any("to") || any("before") && any("after");
    let denied = any("deny") || any("books") || any("less") || any("zero");
    let weighed = one.with_unit && other.with_unit && telling;
    if denied || !(paired || in_vessel && telling || weighed) {
        return None;
    }
    let backwards = (one.said("now") || one.said("after")) && !one.said("before")
        || other.said("before") && !one.said("before") && !other.said("after");
    let (before, after) = if backwards {
        (other, one)
    } else {
        (one, other)
    };
    let left = difference(before.grams, after.grams);
    let command = |grams: f64| eaten(portion, vec![item(food, grams, after)]);
    if left > 0.0 {
        return Some(Said {
            jar: Some(after.grams),
            ..Said::sure(command(left))
        });
    }
    let gained = left < 0.0 && (in_vessel || any("arrow"));
    gained.then(|| {
        let kind = ErrorKind::JarGained {
            before_grams: before.grams,
            after_grams: after.grams,
        };
        Said::doubtful(command(-left), kind, after.span.clone())
    })
}

/// What the scale says of batches: "reweighed everything. dal 1800, soup 2350".
fn counts(talk: &Talk) -> Option<Said> {
    let mut standing: Vec<Group> = Vec::new();
    let mut denied = Group::default();
    for group in &talk.groups {
        if group.said("deny") || group.said("books") {
            denied.absorb(group.clone());
        } else {
            standing.push(group.clone());
        }
    }
    let was_denied = !denied.marks.is_empty();
    let books = denied.said("books");
    standing.first_mut()?.absorb(denied);
    standing.last_mut()?.absorb(talk.behind.clone());
    let any = |mark: &str| standing.iter().any(|group| group.said(mark));
    // "net on plate 188 g stew"
    let mut vessels = standing.iter().flat_map(|group| &group.vessels);
    if vessels.any(|vessel| !vessel.known && is_plate(&vessel.noun())) {
        return None;
    }
    let down = any("down");
    let bare = standing.iter().all(|group| group.vessels.is_empty());
    // "140 dal, scale says" may be a plate: a count far from the books is asked about.
    let recounted = any("recount") || any("set") || bare && any("shown");
    let left = any("left") || any("moved") || standing.iter().any(Group::is_inside);
    let told = recounted || any("count") || left || books || any("net") || down && !any("before");
    if !told || any("ate") || any("mine") || any("before") || any("zero") || any("less") {
        return None;
    }
    let items = standing
        .iter()
        .map(counted)
        .collect::<Option<Vec<Weighed>>>()?;
    if let ([one], false, false) = (items.as_slice(), down, was_denied)
        && !left
        && !recounted
    {
        return Some(Said::sure(Command::Weigh {
            batch: one.name.clone(),
            weighing: one.weighing.clone(),
            of: if one.weighing.container.is_some() {
                WeighedOf::Left
            } else {
                WeighedOf::Unsaid
            },
        }));
    }
    Some(Said::sure(Command::Count {
        rest: None,
        items,
        anyway: down || was_denied,
    }))
}
