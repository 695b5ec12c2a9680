//! The state of the books as a person would describe it, without ids that an undone or edited message
//! leaves behind: two ways to the same kitchen give equal states.

use std::collections::BTreeMap;

use crate::home::Home;
use hobside::domain::batch::{Batch, PourKind};
use hobside::domain::composition::Composition;
use hobside::domain::ledger::Account;
use hobside::foods::Nutrient;

#[derive(Debug, PartialEq)]
pub struct State {
    batches: Vec<BatchState>,
    /// Balances of the accounts that are neither lots nor plates, and of all plates of a member.
    accounts: BTreeMap<String, i64>,
    facts: Vec<String>,
}

#[derive(Debug, PartialEq)]
struct BatchState {
    name: String,
    open: bool,
    raw: bool,
    lines: Vec<(String, String, i64)>,
    pours: Vec<(PourKind, i64)>,
    weighed_mg: Option<i64>,
    net_mg: i64,
    left_mg: i64,
    counted_mg: Vec<i64>,
    energy: String,
}

impl State {
    pub fn of(home: &Home) -> Self {
        let live = home.kitchen.batches.values().filter(|batch| !batch.voided);
        let mut batches: Vec<BatchState> = live.map(|batch| BatchState::of(home, batch)).collect();
        batches.sort_by(|one, other| format!("{one:?}").cmp(&format!("{other:?}")));
        let mut accounts: BTreeMap<String, i64> = BTreeMap::new();
        for (account, mg) in home.audit() {
            if !matches!(account, Account::Lot(_)) && mg != 0 {
                *accounts.entry(account.kind().to_owned()).or_default() += mg;
            }
        }
        let kitchen = &home.kitchen;
        let mut facts: Vec<String> = kitchen
            .packets
            .iter()
            .map(|packet| packet.name.clone())
            .collect();
        facts.extend(
            kitchen
                .measures
                .iter()
                .map(|known| format!("{}={}", known.measure, known.each)),
        );
        facts.extend(
            kitchen
                .choices
                .iter()
                .map(|choice| format!("{:?}", choice.1)),
        );
        facts.extend(kitchen.containers.iter().flat_map(|known| {
            known
                .tares
                .iter()
                .map(|(_, tare)| format!("{}={tare}", known.name))
        }));
        for batch in kitchen.batches.values() {
            let taken = batch
                .takings
                .iter()
                .map(|taking| format!("{} taken: {}", batch.code, taking.amount));
            facts.extend(taken);
            let why = batch
                .reasons
                .iter()
                .map(|(_, reason)| format!("{} binned: {reason}", batch.code));
            facts.extend(why);
            facts.extend(
                batch
                    .price()
                    .map(|price| format!("{} cost {price:?}", batch.code)),
            );
        }
        facts.sort();
        Self {
            batches,
            accounts,
            facts,
        }
    }

    pub fn same_as(&self, other: &Self, what: &str) -> Result<(), String> {
        if self == other {
            return Ok(());
        }
        let lines = |state: &Self| -> Vec<String> {
            let batches = state.batches.iter().map(|batch| format!("{batch:?}"));
            let accounts = state.accounts.iter().map(|account| format!("{account:?}"));
            batches.chain(accounts).chain(state.facts.clone()).collect()
        };
        let (one, other) = (lines(self), lines(other));
        let only = |these: &[String], those: &[String]| -> Vec<String> {
            these
                .iter()
                .filter(|line| !those.contains(line))
                .cloned()
                .collect()
        };
        Err(format!(
            "{what} gives another state:\n{}\nis not\n{}",
            only(&one, &other).join("\n"),
            only(&other, &one).join("\n"),
        ))
    }
}

impl BatchState {
    fn of(home: &Home, batch: &Batch) -> Self {
        let mut lines: Vec<(String, String, i64)> = batch
            .lines
            .iter()
            .map(|line| {
                (
                    line.text.clone(),
                    format!("{:?}", line.state),
                    line.mass.mg(),
                )
            })
            .collect();
        lines.sort();
        let energy = Composition::new(&home.kitchen)
            .whole(batch.id)
            .get(Nutrient::EnergyKcal);
        Self {
            name: batch.name.clone(),
            open: batch.open,
            raw: batch.raw,
            lines,
            pours: batch
                .pours
                .iter()
                .map(|pour| (pour.kind.clone(), pour.mass.mg()))
                .collect(),
            weighed_mg: batch.weighed().map(|reading| reading.net().mg()),
            net_mg: batch.net_mass().mg(),
            left_mg: batch.left().mg(),
            counted_mg: batch
                .lots
                .iter()
                .flat_map(|lot| lot.counts.iter().map(|count| count.net().mg()))
                .collect(),
            energy: format!("{:.6?} {}", energy.amount, energy.at_least),
        }
    }
}
