//! What a decision gives cause to caution of, looked at once at its end, so that no verb can forget it.
//!
//! Nothing is said twice in a row of the same thing: what was said last in the chat is passed in, and what is said
//! once a batch is told by what the books had before.

use chrono::Duration;

use super::super::answer::{Answer, BatchAnswer, BatchEvent, LotView, MoveAnswer, Note};
use super::super::batch::{Batch, Line, Lot, PourKind};
use super::super::caution::{Caution, Cautioned, Dated, Said};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::keeping::Kind;
use super::super::keeping::kind::{
    has_word, is_raw_flesh, is_raw_mince, is_raw_poultry, is_vinegar, is_water,
};
use super::super::kitchen::Kitchen;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::origin::Origin;
use super::{Decision, Done, Input, OnProblem, Outcome, carry_out, silence};
use crate::foods::{self, Food, Group, compared_words};
use crate::lang::Parsed;
use crate::lang::syntax::{Command, Words};

/// So many in one answer; the rest would not be read.
const AT_ONCE_MAX: usize = 2;
/// A pot that does not cool by itself in time: common practice.
const BIG: Mass = Mass::from_mg(2_500_000);
/// Garlic in oil, not oil on garlic: common practice.
const MOSTLY: f64 = 0.4;
/// What raw meat lies in.
const STEEPED: [&str; 2] = ["marinade", "brine"];
/// So long it lies in it.
const STEEPED_DAYS: i64 = 5;
/// Of more dishes at once nobody asks why.
const DATED_MAX: usize = 6;
/// After that, "why?" is about something else.
const WHY_MINUTES: i64 = 15;

/// "why?" after a caution or a date, or as a reply to it. Said among people of anything else, it is theirs.
pub fn why(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let asks = |commands: &[Command]| commands == [Command::Why];
    if !parsed
        .readings
        .iter()
        .any(|reading| asks(&reading.commands))
    {
        return None;
    }
    let said = input.cautioned.as_ref()?;
    let holds = |at| input.now - at <= Duration::minutes(WHY_MINUTES) || input.addressed;
    if let Some(dated) = said.dated.as_ref().filter(|dated| holds(dated.at)) {
        return why_due(kitchen, input, dated);
    }
    if !said.meant || !holds(said.at) {
        return None;
    }
    Some(Decision {
        outcome: Outcome::Answered,
        answers: vec![Answer::Why(said.cautions.clone())],
        ..silence(input)
    })
}

/// Where the dates of what still stands come from, what was told first before the rest.
fn why_due(kitchen: &Kitchen, input: &Input, dated: &Dated) -> Option<Decision> {
    let open = |code: &&String| kitchen.open_batches().any(|batch| batch.code == **code);
    let asked = dated.batches.iter().filter(open).take(DATED_MAX);
    let asked: Vec<Command> = asked
        .map(|code| Command::Dates {
            name: Words::plain(code.clone()),
        })
        .collect();
    let draft = Draft::new(kitchen, input);
    (!asked.is_empty()).then(|| carry_out(draft, &asked, OnProblem::Forget))
}

/// Put what is to be cautioned of beside the answers.
pub fn add(draft: &Draft, done: &mut Done) {
    let mut cautions = Vec::new();
    for answer in &done.answers {
        match answer {
            Answer::Batch(answer) => cautions.extend(of_batch(draft, answer)),
            Answer::Portion(_) => cautions.extend(of_portions(draft)),
            Answer::Move(answer) => cautions.extend(of_moves(draft, answer)),
            _ => {}
        }
    }
    let mut kept: Vec<Cautioned> = Vec::new();
    for new in cautions {
        let known = kept.iter().any(|known| known.caution == new.caution);
        // Past its date, whether to heat it is not the question.
        let heats = matches!(new.caution, Caution::Reheat | Caution::ReheatRice);
        let over = heats && is_past_date(&done.answers, &new.about);
        if !known && !over && !is_repeated(draft, &new) && kept.len() < AT_ONCE_MAX {
            kept.push(new);
        }
    }
    if let Some(notes) = done.answers.iter_mut().rev().find_map(Answer::notes) {
        notes.extend(kept.into_iter().map(Note::Caution));
    }
}

fn is_past_date(answers: &[Answer], about: &str) -> bool {
    let past = |note: &Note| matches!(note, Note::PastDate { name, .. } if name == about);
    answers.iter().flat_map(Answer::noted).any(past)
}

/// It was the last that was said here of the same thing.
fn is_repeated(draft: &Draft, new: &Cautioned) -> bool {
    let Some(Said { cautions, at, .. }) = &draft.input.cautioned else {
        return false;
    };
    let today = draft.day_of(*at) == draft.today();
    let same = |said: &Cautioned| {
        said.caution == new.caution
            && (said.about == new.about || today && new.caution.is_general())
    };
    cautions.iter().any(same)
}

fn of_batch(draft: &Draft, answer: &BatchAnswer) -> Vec<Cautioned> {
    let batch = draft.kitchen.batch(answer.view.id);
    let foods = foods_in(draft, batch);
    let any = |is: fn(&Food) -> bool| foods.iter().any(|(food, _)| is(food));
    let told = matches!(answer.event, BatchEvent::Opened | BatchEvent::WeighedIn);
    let cooked = batch.origin == Origin::Cooked && !batch.raw;
    let hot = told && answer.made_today && cooked && !batch.estimated() && batch.left().mg() > 0;
    let changed = matches!(
        answer.event,
        BatchEvent::LinesAdded(_) | BatchEvent::LineChanged(_)
    );
    let mut found = Vec::new();
    if (told || changed) && is_garlic_in_oil(&foods) {
        found.push(Caution::GarlicOil);
    }
    let topped_up = matches!(answer.event, BatchEvent::ToppedUp { .. });
    let thin = (told || changed) && is_thin_brine(draft, batch, &foods);
    if thin || topped_up && thins_pickle(draft, batch, &foods) {
        found.push(Caution::ThinBrine);
    }
    if told && is_without_air(draft) && !batch.lots.iter().any(|lot| draft.kitchen.is_frozen(lot)) {
        found.push(Caution::LowOxygen);
    }
    let poured = matches!(answer.event, BatchEvent::PouredOff(_));
    let poured = poured && any(is_raw_flesh) && pours_marinade(batch);
    if poured || (told || changed || topped_up) && holds_used_marinade(draft, batch) {
        found.push(Caution::Marinade);
    }
    if hot {
        let bought = bought_in(draft, batch);
        let raw = |is: fn(&Food) -> bool| any(is) || bought.iter().any(|food| is(food));
        let centre = [
            (Caution::Poultry, raw(is_raw_poultry)),
            (Caution::Mince, raw(is_raw_mince)),
        ];
        let centre = centre.into_iter().find(|(_, is)| *is);
        found.extend(centre.map(|(caution, _)| caution));
        // Of what is said of one pot, cooling is said in any case.
        found.truncate(AT_ONCE_MAX - 1);
        found.push(match draft.kitchen.kinds(batch).contains(&Kind::Rice) {
            true => Caution::CoolRice,
            false if batch.left() >= BIG => Caution::CoolShallow,
            false => Caution::Cool,
        });
    }
    let about = |caution| about(batch, caution);
    found.into_iter().map(about).collect()
}

fn about(batch: &Batch, caution: Caution) -> Cautioned {
    Cautioned {
        caution,
        about: batch.name.clone(),
    }
}

/// The foods of its own lines, with how much of each.
fn foods_in(draft: &Draft, batch: &Batch) -> Vec<(&'static Food, Mass)> {
    let food = |line: &Line| {
        let profile = draft.kitchen.profiles.get(&line.profile?)?;
        Some((foods::table().get(profile.food?)?, line.mass))
    };
    batch.lines.iter().filter_map(food).collect()
}

/// The foods of what went into it as it was bought, or stood there before the books.
fn bought_in(draft: &Draft, batch: &Batch) -> Vec<&'static Food> {
    let source = |line: &Line| draft.kitchen.batches.get(&line.source?);
    let bought = |source: &&Batch| matches!(source.origin, Origin::Bought | Origin::Before);
    let sources = batch.lines.iter().filter_map(source).filter(bought);
    let foods = sources.flat_map(|source| foods_in(draft, source));
    foods.map(|(food, _)| food).collect()
}

fn sum(foods: &[(&'static Food, Mass)], is: impl Fn(&Food) -> bool) -> Mass {
    let those = foods.iter().filter(|(food, _)| is(food));
    those.map(|(_, mass)| *mass).sum()
}

fn is_garlic_in_oil(foods: &[(&'static Food, Mass)]) -> bool {
    let garlic = |food: &Food| has_word(food, "garlic") && !has_word(food, "powder");
    let oil = |food: &Food| food.group == Group::FatsAndOils && has_word(food, "oil");
    let (whole, garlic, oil) = (sum(foods, |_| true), sum(foods, garlic), sum(foods, oil));
    garlic.mg() > 0 && oil.grams() > whole.grams() * MOSTLY
}

fn is_thin_brine(draft: &Draft, batch: &Batch, foods: &[(&'static Food, Mass)]) -> bool {
    let brined = batch
        .lines
        .iter()
        .any(|line| line.part.as_deref() == Some("brine"));
    let pickle = brined || draft.kitchen.kinds(batch).contains(&Kind::Pickle);
    let (vinegar, water) = (sum(foods, is_vinegar), sum(foods, is_water));
    pickle && vinegar.mg() > 0 && water > vinegar
}

/// Water went into what was left of a pickle.
fn thins_pickle(draft: &Draft, batch: &Batch, foods: &[(&'static Food, Mass)]) -> bool {
    let pickle = |line: &Line| {
        let source = line.source.and_then(|id| draft.kitchen.batches.get(&id));
        source.is_some_and(|source| draft.kitchen.kinds(source).contains(&Kind::Pickle))
    };
    sum(foods, is_water).mg() > 0 && batch.lines.iter().any(pickle)
}

fn pours_marinade(batch: &Batch) -> bool {
    let part = batch.pours.last().map(|pour| &pour.kind);
    matches!(part, Some(PourKind::Part(part)) if STEEPED.contains(&part.as_str()))
}

/// "90 g marinade" that went into it, while there is raw meat that lay in one.
fn holds_used_marinade(draft: &Draft, batch: &Batch) -> bool {
    let told = |line: &Line| {
        let words = compared_words(&line.text);
        line.part.is_none() && words.iter().any(|word| STEEPED.contains(&word.as_str()))
    };
    let steeped = |other: &Batch| {
        let part = |line: &Line| line.part.as_deref().is_some_and(|it| STEEPED.contains(&it));
        let days = (draft.today() - other.made_on).num_days();
        let raw = || {
            foods_in(draft, other)
                .iter()
                .any(|(food, _)| is_raw_flesh(food))
        };
        days <= STEEPED_DAYS && other.lines.iter().any(part) && raw()
    };
    let mut others = draft
        .kitchen
        .batches
        .values()
        .filter(|other| other.id != batch.id);
    batch.lines.iter().any(told) && others.any(steeped)
}

/// The message tells of packs without air.
fn is_without_air(draft: &Draft) -> bool {
    let words = compared_words(&draft.input.text);
    let rows = include_str!("../data/packs.txt").lines();
    let mut packs = rows
        .filter(|row| !row.starts_with('#'))
        .flat_map(|row| row.split(", "));
    packs.any(|pack| {
        let pack = compared_words(pack);
        words.windows(pack.len()).any(|part| part == pack)
    })
}

/// What was cooked on an earlier day and is eaten for the first time since.
fn of_portions(draft: &Draft) -> Vec<Cautioned> {
    if draft.day_of(draft.occurred_at) != draft.today() {
        return Vec::new();
    }
    let mut batches: Vec<BatchId> = Vec::new();
    for change in &draft.changes {
        if let Change::Entry { entry, .. } = change
            && entry.kind == EntryKind::Portion
            && let Some(batch) = entry.batch
            && !batches.contains(&batch)
        {
            batches.push(batch);
        }
    }
    let warm = |batch: &&Batch| {
        let kinds = draft.kitchen.kinds(batch);
        let cold = [Kind::Salad, Kind::Pickle, Kind::HardCookedEggs];
        let bought = batch.origin == Origin::Bought;
        !batch.raw
            && !bought
            && batch.made_on < draft.today()
            && !kinds.iter().any(|kind| cold.contains(kind))
    };
    let eaten_since = |batch: &&Batch| {
        let before = draft.before.batches.get(&batch.id);
        let moves = before
            .into_iter()
            .flat_map(|batch| &batch.lots)
            .flat_map(|lot| &lot.moves);
        let mut plates = moves.filter(|moved| matches!(moved.other, Account::Plate(_)));
        plates.any(|moved| draft.day_of(moved.occurred_at) > batch.made_on)
    };
    let batches = batches.into_iter().map(|id| draft.kitchen.batch(id));
    let first = batches.filter(warm).filter(|batch| !eaten_since(batch));
    first
        .map(
            |batch| match draft.kitchen.kinds(batch).contains(&Kind::Rice) {
                true => about(batch, Caution::ReheatRice),
                false => about(batch, Caution::Reheat),
            },
        )
        .collect()
}

/// Food that was thawed goes back into a freezer; packs without air do not go into one.
fn of_moves(draft: &Draft, answer: &MoveAnswer) -> Vec<Cautioned> {
    let mut found = Vec::new();
    // What was only packed stands where it stood.
    let frozen = |lot: &&LotView| lot.frozen;
    let packed = match answer.lots.is_empty() {
        true => &answer.elsewhere,
        false => &answer.lots,
    };
    if answer.packed
        && let Some(lot) = packed.iter().find(|lot| !frozen(lot))
    {
        found.push(Cautioned {
            caution: Caution::LowOxygen,
            about: lot.name.clone(),
        });
    }
    for change in &draft.changes {
        let Change::Lot { batch, lot } = change else {
            continue;
        };
        let batch = draft.kitchen.batch(*batch);
        // As it stands now, with what was moved there.
        let lot = batch.lot(lot.id).unwrap_or(lot);
        let thawed = was_thawed(draft, batch, lot);
        match draft.kitchen.is_frozen(lot) {
            _ if stood_out(draft, batch, lot) => found.push(about(batch, Caution::StoodOut)),
            true if thawed.is_some() => found.extend(thawed.map(|it| about(batch, it))),
            false if is_without_air(draft) => found.push(about(batch, Caution::LowOxygen)),
            _ => {}
        }
    }
    found
}

/// It comes into the cold from where it is not cold, after more than two hours.
fn stood_out(draft: &Draft, batch: &Batch, lot: &Lot) -> bool {
    let warm = |lot: &Lot| draft.kitchen.stands_warm(lot);
    let before = lot.came_from.and_then(|from| batch.lot(from));
    let comes_in = before.is_some_and(|before| warm(before) && !warm(lot));
    comes_in && draft.kitchen.stood_out(batch, lot)
}

/// Before it came here it stood unfrozen, and before that in a freezer: whether it was cold all the time.
fn was_thawed(draft: &Draft, batch: &Batch, lot: &Lot) -> Option<Caution> {
    let before = |lot: &Lot| {
        let earlier = lot.came_from.filter(|from| *from < lot.id)?;
        batch.lot(earlier).cloned()
    };
    let (mut at, mut thawed, mut warm) = (before(lot), false, false);
    while let Some(lot) = at {
        match draft.kitchen.is_frozen(&lot) {
            true if warm => return Some(Caution::RefreezeWarm),
            true => return thawed.then_some(Caution::Refreeze),
            false => thawed = true,
        }
        warm |= draft.kitchen.stands_warm(&lot);
        at = before(&lot);
    }
    None
}
