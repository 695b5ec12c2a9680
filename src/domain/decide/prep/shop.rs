//! The shopping list: put on it, taken off, ticked, done with. It moves no food: what is bought is told for itself, if
//! anybody wants it in the books.

use chrono::{DateTime, Utc};

use super::super::{
    Decision, Input, OnProblem, Replaced, Step, Stop, carry_out as decided, conclude, refuse,
    stopped,
};
use super::goods::{as_bought, good, mass};
use super::kitchen::dish;
use super::{plan, saying};
use crate::domain::answer::Answer;
use crate::domain::change::Detail;
use crate::domain::cookbook::problem::CookbookProblem;
use crate::domain::draft::Draft;
use crate::domain::ids::EntryId;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::note::Note;
use crate::domain::prep::answer::{PrepAnswer, ShoppingAnswer, ShoppingEvent};
use crate::domain::prep::books::PrepDetail;
use crate::domain::prep::goods::Good;
use crate::domain::prep::list;
use crate::domain::prep::problem::PrepProblem;
use crate::domain::prep::shop::{
    KeptFact, LINES_MAX, ListFact, ListLine, ListTold, ShoppingList, ShoppingView, Want,
};
use crate::domain::problem::ProblemKind;
use crate::domain::resolve::key;
use crate::lang::Parsed;
use crate::lang::folded_words;
use crate::lang::singular;
use crate::lang::syntax::{Buying, Command, HowMany, PlanFor, Prep, Shop, Words};

pub fn carry_out(draft: &mut Draft, said: &Shop) -> Step {
    match said {
        Shop::Show => say(draft, ShoppingEvent::Shown, false),
        Shop::ForPlan(asked) => for_plan(draft, asked),
        Shop::ForDishes(dishes) => for_dishes(draft, dishes),
        Shop::New(things) => new(draft, things),
        Shop::Put(things) => put(draft, things),
        Shop::Off(names) => off(draft, names),
        Shop::Got(names) => got(draft, names),
        Shop::GotAllBut(names) => got_all_but(draft, names),
        Shop::Done => done(draft),
    }
}

/// What the plan needs, in the place of what an earlier plan needed; what is there by hand stays, and what is bought.
fn for_plan(draft: &mut Draft, asked: &PlanFor) -> Step {
    let planned = plan::reckoned(draft, asked)?;
    let before = draft.kitchen.prep.shop.open();
    let stale = before.iter().flat_map(ShoppingList::unticked);
    let stale: Vec<KeptFact> = stale.flat_map(ListLine::planned).cloned().collect();
    let list = match &before {
        Some(list) => list.id,
        None => begin(draft),
    };
    let (from, until) = (planned.horizon.from, planned.horizon.until);
    tell(draft, list, ListTold::Planned { from, until });
    stale.iter().for_each(|kept| take_back(draft, kept));
    let shelves = draft.kitchen.prep.shop.shelves();
    let (mut wanted, goods) = draft.kitchen.larder(&planned);
    wanted.extend(planned.wanted());
    let lines = list::list(&wanted, &goods, &shelves);
    let bought = before.iter().flat_map(ShoppingList::ticked);
    let bought: Vec<ListLine> = bought.cloned().collect();
    for line in lines {
        let of_it = bought.iter().find(|known| known.good.is(&line.good));
        let there = of_it.map(|known| known.buys(&goods));
        // Whatever it is that was bought, it is there; of what is weighed, more may be needed.
        let need = match (there, line.need) {
            (None, need) => need,
            (Some(Some(there)), Some(need)) if need > there => Some(need - there),
            (Some(_), _) => continue,
        };
        let want = Want {
            good: line.good,
            mass: need,
            said: None,
            planned: true,
        };
        tell(draft, list, ListTold::Wanted(want));
    }
    check_length(draft)?;
    let newest = draft.kitchen.prep.shop.newest();
    let open = newest.is_some_and(|list| list.is_open() && !list.lines.is_empty());
    match open {
        true => say(draft, ShoppingEvent::Shown, true),
        false => Err(problem(PrepProblem::NothingToBuy)),
    }
}

/// What goes into a pot of each of these, as it was made last, less what is in the cupboard. It is put there by hand: no
/// plan takes it off again.
fn for_dishes(draft: &mut Draft, names: &[Words]) -> Step {
    let mut wanted = Vec::new();
    for name in names {
        let (dish, name) = dish(draft, name)?;
        let recipe = draft.kitchen.recipe(dish);
        let recipe = recipe.ok_or(ProblemKind::Cookbook(CookbookProblem::NoRecipe { name }))?;
        wanted.extend(recipe.wanted());
    }
    let lines = list::list(
        &wanted,
        &draft.kitchen.goods_at_home(),
        &draft.kitchen.prep.shop.shelves(),
    );
    let open = draft.kitchen.prep.shop.open();
    let list = open.map_or_else(|| begin(draft), |list| list.id);
    let names = lines.iter().map(|line| line.good.words.clone()).collect();
    for line in lines {
        let want = Want {
            good: line.good,
            mass: line.need,
            said: None,
            planned: false,
        };
        tell(draft, list, ListTold::Wanted(want));
    }
    check_length(draft)?;
    match draft
        .kitchen
        .prep
        .shop
        .newest()
        .is_some_and(|list| !list.lines.is_empty())
    {
        true => say(draft, ShoppingEvent::Put(names), true),
        false => Err(problem(PrepProblem::NothingToBuy)),
    }
}

fn new(draft: &mut Draft, things: &[Buying]) -> Step {
    let before = draft.kitchen.prep.shop.open();
    let left = before.iter().flat_map(ShoppingList::unticked);
    let left = left.map(|line| line.good.words.clone()).collect();
    let list = begin(draft);
    want_all(draft, list, things)?;
    say(draft, ShoppingEvent::Begun { left }, true)
}

fn put(draft: &mut Draft, things: &[Buying]) -> Step {
    let open = draft.kitchen.prep.shop.open();
    let list = match open {
        Some(list) => list.id,
        None => begin(draft),
    };
    let names = want_all(draft, list, things)?;
    say(draft, ShoppingEvent::Put(names), true)
}

/// A list is known by its first entry.
pub fn begin(draft: &mut Draft) -> EntryId {
    let list = EntryId(draft.kitchen.next.entry);
    tell(draft, list, ListTold::Begun)
}

pub fn tell(draft: &mut Draft, list: EntryId, told: ListTold) -> EntryId {
    let fact = ListFact { list, told };
    draft.fact(Detail::Prep(PrepDetail::List(fact)))
}

/// What each of them is called on the list.
fn want_all(draft: &mut Draft, list: EntryId, things: &[Buying]) -> Result<Vec<String>, Stop> {
    let mut names = Vec::new();
    for thing in things {
        let (grams, said) = match &thing.amount {
            Some(HowMany::Grams(grams)) => (Some(mass(*grams)?), None),
            Some(HowMany::Said(said)) => (None, Some(said.clone())),
            None => (None, None),
        };
        let (good, mass) = as_bought(draft, &thing.name, grams);
        names.push(good.words.clone());
        let want = Want {
            mass,
            good,
            said,
            planned: false,
        };
        tell(draft, list, ListTold::Wanted(want));
    }
    check_length(draft)?;
    Ok(names)
}

fn check_length(draft: &Draft) -> Result<(), Stop> {
    let lines = draft.kitchen.prep.shop.newest();
    match lines.is_some_and(|list| list.lines.len() > LINES_MAX) {
        true => Err(problem(PrepProblem::ListFull { most: LINES_MAX })),
        false => Ok(()),
    }
}

fn off(draft: &mut Draft, names: &[Words]) -> Step {
    let list = newest(draft)?;
    let lines = found(draft, &list, names)?;
    draft.takes_away();
    for line in &lines {
        for kept in line.wants.iter().chain(&line.tick) {
            take_back(draft, kept);
        }
    }
    say(draft, ShoppingEvent::Off(words(&lines)), true)
}

/// Ticked by words; no names: all that is left.
fn got(draft: &mut Draft, names: &[Words]) -> Step {
    let list = newest(draft)?;
    let lines = match names {
        [] => list.unticked().cloned().collect(),
        names => found(draft, &list, names)?,
    };
    tick_off(draft, &list, &lines)
}

/// All that is left, without these.
fn got_all_but(draft: &mut Draft, names: &[Words]) -> Step {
    let list = newest(draft)?;
    let without = found(draft, &list, names)?;
    let kept = |line: &&ListLine| !without.iter().any(|other| other.good.is(&line.good));
    let lines: Vec<ListLine> = list.unticked().filter(kept).cloned().collect();
    tick_off(draft, &list, &lines)
}

fn tick_off(draft: &mut Draft, list: &ShoppingList, lines: &[ListLine]) -> Step {
    for line in lines.iter().filter(|line| line.tick.is_none()) {
        tell(draft, list.id, ListTold::Ticked(line.good.clone()));
    }
    let written = draft.has_booked();
    say(draft, ShoppingEvent::Got(words(lines)), written)
}

/// What is ticked goes, what is left stays for the next time.
fn done(draft: &mut Draft) -> Step {
    let list = newest(draft)?;
    let bought = list.ticked().count();
    if bought == 0 {
        return Err(problem(PrepProblem::NothingTicked));
    }
    tell(draft, list.id, ListTold::Closed);
    let left: Vec<Want> = list
        .unticked()
        .flat_map(|line| &line.wants)
        .filter_map(|kept| match &kept.fact.told {
            ListTold::Wanted(want) => Some(want.clone()),
            _ => None,
        })
        .collect();
    if !left.is_empty() {
        let next = begin(draft);
        for want in left {
            tell(draft, next, ListTold::Wanted(want));
        }
    }
    say(draft, ShoppingEvent::Done { bought }, true)
}

/// "add 2 onions" right after the list was spoken of: there, and on no plate.
pub fn listed(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    // What is put somewhere, or goes into a pot, is said otherwise.
    let best = parsed.best();
    let plain = matches!(best.commands.as_slice(), [Command::Portion(plate)] if plate.with_last);
    if !plain || !input.spoken_of_list() || kitchen.prep.shop.open().is_none() {
        return None;
    }
    let said = parsed.readings.iter().find_map(|reading| {
        let [said @ Command::Prep(Prep::Shop(Shop::Put(_)))] = reading.commands.as_slice() else {
            return None;
        };
        Some(said)
    })?;
    let draft = Draft::new(kitchen, input);
    let said = std::slice::from_ref(said);
    Some(decided(draft, said, OnProblem::Forget))
}

/// A button of a line: the list is shown in its place as it then is. What was pressed before changes nothing more.
pub fn tick(kitchen: &Kitchen, input: &Input, line: EntryId, bought: bool) -> Decision {
    let newest = kitchen.prep.shop.newest().filter(|list| !list.closed);
    let found = newest.as_ref().and_then(|list| {
        let line = list.line(line)?;
        Some((list, line))
    });
    let Some((list, line)) = found else {
        return refuse(input, ProblemKind::Prep(PrepProblem::NoList).anywhere());
    };
    let mut draft = Draft::new(kitchen, input);
    match (&line.tick, bought) {
        (None, true) => {
            tell(&mut draft, list.id, ListTold::Ticked(line.good.clone()));
        }
        (Some(tick), false) => {
            draft.takes_away();
            take_back(&mut draft, tick);
        }
        (Some(_), true) | (None, false) => {}
    }
    let shown = shown(&draft.kitchen, Some(list.id));
    let answer = ShoppingAnswer {
        event: ShoppingEvent::Shown,
        list: shown,
        today: draft.today(),
        message: None,
    };
    match saying(PrepAnswer::Shopping(answer)) {
        Ok(done) => Decision {
            replaces: Some(Replaced::Pressed),
            ..conclude(draft, done)
        },
        Err(stop) => stopped(draft, stop),
    }
}

/// The newest list as it is shown where it hangs; `None`: it is done with.
pub fn hanging(kitchen: &Kitchen, now: DateTime<Utc>) -> Option<Answer> {
    let newest = kitchen.prep.shop.newest().filter(|list| !list.closed)?;
    Some(Answer::Prep(Box::new(PrepAnswer::Shopping(
        ShoppingAnswer {
            event: ShoppingEvent::Shown,
            list: shown(kitchen, Some(newest.id)),
            today: kitchen.day_of(now),
            message: None,
        },
    ))))
}

fn take_back(draft: &mut Draft, kept: &KeptFact) {
    draft.reverse_fact(kept.entry, kept.tip, kept.told_at);
}

fn newest(draft: &Draft) -> Result<ShoppingList, Stop> {
    let newest = draft.kitchen.prep.shop.newest();
    let stands = newest.filter(|list| !list.closed && !list.lines.is_empty());
    stands.ok_or_else(|| problem(PrepProblem::NoList))
}

/// The lines that are called so: wholly, as the table's food, or by some of their words.
fn found(draft: &Draft, list: &ShoppingList, names: &[Words]) -> Result<Vec<ListLine>, Stop> {
    let find = |name: &Words| {
        let wanted = good(draft, name);
        let exact = list
            .lines
            .iter()
            .find(|line| line.good.key == key(&name.text));
        let food = || list.lines.iter().find(|line| line.good.is(&wanted));
        if let Some(line) = exact.or_else(food) {
            return Ok(line.clone());
        }
        let called: Vec<&ListLine> = list
            .lines
            .iter()
            .filter(|line| is_called(line, name))
            .collect();
        let name = name.text.clone();
        match called.as_slice() {
            [line] => Ok((*line).clone()),
            [] => {
                let listed = list.unticked().map(|line| line.good.words.clone());
                let listed = listed.collect();
                Err(problem(PrepProblem::NotListed { name, listed }))
            }
            several => {
                let listed = several.iter().map(|line| line.good.words.clone());
                let listed = listed.collect();
                Err(problem(PrepProblem::SeveralListed { name, listed }))
            }
        }
    };
    names.iter().map(find).collect()
}

/// "onions" for "red onions"
fn is_called(line: &ListLine, name: &Words) -> bool {
    let singulars = |text: &str| -> Vec<String> {
        let words = folded_words(text);
        words
            .iter()
            .map(|word| singular(word).into_owned())
            .collect()
    };
    let (own, told) = (singulars(&line.good.words), singulars(&name.text));
    !told.is_empty() && told.iter().all(|word| own.contains(word))
}

fn words(lines: &[ListLine]) -> Vec<String> {
    lines.iter().map(|line| line.good.words.clone()).collect()
}

/// What has come below what is to be at home goes on the list, once; what is kept is told in the answer that drew it.
pub fn run_low(draft: &mut Draft) -> Vec<Note> {
    let kept = draft.kitchen.prep.goods.kept_at_home();
    let low = kept.into_iter().filter_map(|(good, kept)| {
        let (before, left) = (draft.before.at_home(&good)?, draft.kitchen.at_home(&good)?);
        let crossed = before >= kept && left < kept && draft.has_booked();
        crossed.then_some((good, kept, left))
    });
    let low: Vec<(Good, Mass, Mass)> = low.collect();
    let mut notes = Vec::new();
    for (good, kept, left) in low {
        let open = draft.kitchen.prep.shop.open();
        let listed = open.iter().flat_map(ShoppingList::unticked);
        if listed.into_iter().any(|line| line.good.is(&good)) {
            continue;
        }
        let list = match &open {
            Some(list) => list.id,
            None => begin(draft),
        };
        let name = good.words.clone();
        let want = Want {
            good,
            mass: Some(kept - left),
            said: None,
            planned: false,
        };
        tell(draft, list, ListTold::Wanted(want));
        notes.push(Note::RunsLow { name, left, kept });
    }
    notes
}

pub fn say(draft: &Draft, event: ShoppingEvent, written: bool) -> Step {
    let open = draft.kitchen.prep.shop.open().map(|list| list.id);
    saying(PrepAnswer::Shopping(ShoppingAnswer {
        event,
        list: shown(&draft.kitchen, open),
        today: draft.today(),
        message: written.then_some(draft.credit),
    }))
}

/// A list as it is shown.
fn shown(kitchen: &Kitchen, list: Option<EntryId>) -> Option<ShoppingView> {
    let shop = &kitchen.prep.shop;
    let newest = shop.newest().filter(|newest| Some(newest.id) == list)?;
    let name = |id| {
        let member = kitchen.member(id);
        member.map_or_else(String::new, |member| member.name.clone())
    };
    Some(newest.view(&kitchen.prep.goods, &shop.shelves(), name))
}

fn problem(problem: PrepProblem) -> Stop {
    ProblemKind::Prep(problem).into()
}
