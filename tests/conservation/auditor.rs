//! An auditor with sums of its own: everything is added up from the journal alone and compared with
//! what the domain has carried forward.

use std::collections::HashMap;

use crate::home::{Home, ROBIN};
use hobside::domain::batch::{Batch, Lot};
use hobside::domain::ids::EntryId;
use hobside::domain::ledger::{Account, Entry, EntryKind};

pub fn audit(home: &Home) -> Result<(), String> {
    let sums = home.audit();
    let total: i64 = sums.values().sum();
    same("the sum over all accounts", total, 0)?;
    for batch in home.kitchen.batches.values() {
        of_batch(home, batch, &sums)
            .map_err(|what| format!("{} {}: {what}", batch.code, batch.name))?;
    }
    for (account, mg) in &sums {
        if matches!(
            account,
            Account::Plate(_) | Account::Waste | Account::Poured | Account::Unweighed
        ) && *mg < 0
        {
            return Err(format!("{account:?} stands at {mg} mg"));
        }
    }
    Ok(())
}

fn of_batch(home: &Home, batch: &Batch, sums: &HashMap<Account, i64>) -> Result<(), String> {
    let story = home.kitchen.history(batch, ROBIN);
    let told = story.last().map_or(0, |line| line.left.mg());
    same("what its story leaves", told, batch.left().mg())?;
    for lot in &batch.lots {
        let own = sums.get(&Account::Lot(lot.id)).copied().unwrap_or(0);
        same("the cached balance of a lot", lot.balance.mg(), own)?;
        if !batch.voided {
            counted(home, batch, lot)?;
        }
    }
    let flows = Flows::of(home, batch);
    same("what went in", batch.raw_mass().mg(), flows.went_in)?;
    same("water", batch.water.mg(), flows.water)?;
    same(
        "what was poured away",
        batch.poured_mass().mg(),
        flows.poured,
    )?;
    same(
        "ingredients in, with water and differences",
        flows.went_in + flows.water + flows.differences,
        batch.left().mg() + flows.plates + flows.waste + flows.poured + flows.other_pots,
    )?;
    if batch.voided {
        return same(
            "what a batch that was taken back holds",
            batch.left().mg(),
            0,
        );
    }
    if let Some(weighed) = batch.weighed() {
        let later = batch
            .pours
            .iter()
            .filter(|pour| pour.occurred_at > weighed.occurred_at);
        let later: i64 = later.map(|pour| pour.mass.mg()).sum();
        same(
            "the net weight of a weighed batch",
            batch.net_mass().mg(),
            weighed.net().mg() - later,
        )?;
    }
    if !batch.estimated() {
        for lot in &batch.lots {
            if lot.balance.is_negative() {
                return Err(format!("holds {}", lot.balance));
            }
        }
        // Five grams, and a hundredth of the whole, are no food any more.
        let crumbs = (batch.net_mass().mg() as f64 * 0.01).round().min(5_000.0);
        let finished = batch.left().mg() as f64 <= crumbs && !batch.net_mass().is_zero();
        if batch.open == finished {
            return Err(format!(
                "holds {} and is open: {}",
                batch.left(),
                batch.open
            ));
        }
    }
    Ok(())
}

/// What moved between a batch's lots and the rest of the books.
#[derive(Default)]
struct Flows {
    went_in: i64,
    water: i64,
    differences: i64,
    plates: i64,
    waste: i64,
    poured: i64,
    /// Into other batches, as an ingredient.
    other_pots: i64,
}

impl Flows {
    fn of(home: &Home, batch: &Batch) -> Self {
        let own = |account: Account| batch.lots.iter().any(|lot| Account::Lot(lot.id) == account);
        let mut flows = Flows::default();
        for (_, entry, _) in &home.journal {
            if own(entry.from) == own(entry.to) {
                continue;
            }
            let (other, into) = match own(entry.to) {
                true => (entry.from, entry.mass.mg()),
                false => (entry.to, -entry.mass.mg()),
            };
            match other {
                Account::Bought | Account::Origin => flows.went_in += into,
                Account::Lot(_) if entry.batch == Some(batch.id) => flows.went_in += into,
                Account::Lot(_) => flows.other_pots -= into,
                Account::Water => flows.water += into,
                Account::Difference | Account::Unweighed => flows.differences += into,
                Account::Plate(_) => flows.plates -= into,
                Account::Waste => flows.waste -= into,
                Account::Poured => flows.poured -= into,
            }
        }
        flows
    }
}

/// A counted lot stands at its count, less what was taken and more what was added since.
fn counted(home: &Home, batch: &Batch, lot: &Lot) -> Result<(), String> {
    let Some(count) = lot.counts.last() else {
        return Ok(());
    };
    let account = Account::Lot(lot.id);
    let first: HashMap<EntryId, &Entry> = home
        .journal
        .iter()
        .map(|(_, entry, _)| (entry.id, entry))
        .collect();
    // What is put right later within the very second of a count comes after it, with its difference.
    let tied = lot.moves.iter().any(|moved| {
        let late = moved.occurred_at == count.occurred_at && moved.entry > count.entry;
        late && matches!(
            moved.other,
            Account::Plate(_) | Account::Waste | Account::Lot(_)
        )
    });
    if tied {
        return Ok(());
    }
    let since: i64 = home
        .journal
        .iter()
        .map(|(_, entry, _)| entry)
        .filter(|entry| {
            let said = entry.root.map_or(*entry, |root| first[&root]);
            let late = (said.occurred_at, said.id) > (count.occurred_at, count.entry);
            late && moves_after_count(batch, account, said)
        })
        .map(|entry| entry.effect_on(account).mg())
        .sum();
    let later_overdraws: i64 = home
        .journal
        .iter()
        .filter(|(_, entry, _)| {
            let said = entry.root.map_or(entry, |root| first[&root]);
            said.kind == EntryKind::Settle
                && (said.from.is_of_counts() || said.to.is_of_counts())
                && said.occurred_at > count.occurred_at
        })
        .map(|(_, entry, _)| entry.effect_on(account).mg())
        .sum();
    same(
        "a counted lot",
        lot.balance.mg(),
        count.net().mg() + since + later_overdraws,
    )
}

/// Of a weighed batch only what is taken counts after the count: its whole was weighed before.
fn moves_after_count(batch: &Batch, account: Account, said: &Entry) -> bool {
    match said.kind {
        EntryKind::Portion | EntryKind::Waste | EntryKind::Move => true,
        EntryKind::Ingredient => said.from == account || batch.weighed_at().is_none(),
        EntryKind::PourOff => batch
            .weighed_at()
            .is_none_or(|weighed_at| said.occurred_at > weighed_at),
        _ => false,
    }
}

fn same(what: &str, found: i64, wanted: i64) -> Result<(), String> {
    match found == wanted {
        true => Ok(()),
        false => Err(format!("{what}: {found} mg, the auditor has {wanted} mg")),
    }
}
