//! How fast dishes go, how long they last, and what share of one the asker eats.

use chrono::Days;

use super::{dish, saying};
use crate::domain::batch::Batch;
use crate::domain::cookbook::answer::{CookbookAnswer, PaceAnswer, PaceLine, ShareAnswer};
use crate::domain::cookbook::{Standing, cover};
use crate::domain::decide::Step;
use crate::domain::draft::Draft;
use crate::domain::ids::{BatchId, ComponentId, MemberId};
use crate::domain::mass::Mass;
use crate::domain::pace::{DAYS_BACK, Use};
use crate::domain::plate::Plate;
use crate::lang::syntax::{Pace, Words};

pub fn pace(draft: &mut Draft, name: Option<&Words>, asked: Pace) -> Step {
    let today = draft.today();
    let Some(name) = name else {
        return Ok(saying(CookbookAnswer::Pace(PaceAnswer {
            today,
            one: false,
            runs_out: asked == Pace::RunsOut,
            dishes: all(draft),
        })));
    };
    let stands = |dish: ComponentId| standing(draft, dish).next().is_some();
    let of_dish = dish(draft, name, stands)?;
    if asked == Pace::Who {
        return Ok(saying(share(draft, of_dish)));
    }
    Ok(saying(CookbookAnswer::Pace(PaceAnswer {
        today,
        one: true,
        runs_out: asked == Pace::RunsOut,
        dishes: vec![of(draft, of_dish)],
    })))
}

/// What the asker ate of it, what those did for whom the others speak, and all together.
fn share(draft: &Draft, dish: ComponentId) -> CookbookAnswer {
    let kitchen = &draft.kitchen;
    let today = draft.today();
    let since = today - Days::new(DAYS_BACK);
    let of_dish = |batch: Option<BatchId>| {
        let batch = batch.and_then(|id| kitchen.batches.get(&id));
        batch.is_some_and(|batch| batch.component == dish)
    };
    let eaten = |member: MemberId| -> Mass {
        let own = |plate: &&Plate| plate.member == member && plate.day >= since;
        let plates = kitchen.plates.iter().filter(own);
        let portions = plates.flat_map(|plate| &plate.portions);
        let portions = portions.filter(|portion| of_dish(portion.batch));
        portions.map(|portion| portion.mass).sum()
    };
    let guests = kitchen.members().iter().filter(|member| !member.chats);
    let guests = guests.map(|member| (member.name.clone(), eaten(member.id)));
    CookbookAnswer::Share(ShareAnswer {
        name: draft.kitchen.dish_name(dish),
        today,
        since,
        own: eaten(draft.input.sender),
        guests: guests.filter(|(_, mass)| mass.mg() > 0).collect(),
        all: kitchen.eaten_since(dish, since),
    })
}

/// All dishes that stand here, what runs out first before the others.
fn all(draft: &Draft) -> Vec<PaceLine> {
    let open = draft.kitchen.open_batches();
    let mut dishes: Vec<ComponentId> = open
        .filter(|batch| batch.left().mg() > 0)
        .map(|batch| batch.component)
        .collect();
    dishes.sort();
    dishes.dedup();
    let mut lines: Vec<PaceLine> = dishes.into_iter().map(|dish| of(draft, dish)).collect();
    lines.sort_by_key(|line| {
        let passes = line.cover.passes.map(|(day, _)| day);
        let first = [line.cover.out_on, passes].into_iter().flatten().min();
        (first.is_none(), first, line.name.clone())
    });
    lines
}

fn standing<'a>(draft: &'a Draft, dish: ComponentId) -> impl Iterator<Item = &'a Batch> {
    let open = draft.kitchen.open_batches();
    open.filter(move |batch| batch.component == dish && batch.left().mg() > 0)
}

fn of(draft: &Draft, dish: ComponentId) -> PaceLine {
    let kitchen = &draft.kitchen;
    let today = draft.today();
    let appetite = kitchen.appetite(dish, today, Use::All);
    let pace = appetite.as_ref().map(|appetite| appetite.pace);
    let eaten = kitchen.eaten_on(dish, today);
    // What was eaten of it today is not eaten again.
    let wants = |day| {
        let usual = appetite.as_ref();
        let usual = usual.map_or(Mass::ZERO, |usual| usual.on(&kitchen.eaters(day)));
        let had = if day == today { eaten } else { Mass::ZERO };
        Mass::ZERO.max(usual - had)
    };
    let lots: Vec<Standing> = standing(draft, dish)
        .flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)))
        .map(|(batch, lot)| Standing {
            mass: lot.balance,
            frozen: kitchen.is_frozen(lot),
            last_day: kitchen.use_by(batch, lot).map(|due| due.on),
        })
        .collect();
    PaceLine {
        name: draft.kitchen.dish_name(dish),
        per_day: pace.and_then(|pace| Mass::from_grams(pace.a_day)),
        known_days: pace.map_or(0, |pace| pace.days as u32),
        left: standing(draft, dish).map(Batch::left).sum(),
        estimated: standing(draft, dish).any(Batch::estimated),
        cover: cover(&lots, pace.map(|pace| pace.a_day), today, wants),
    }
}
