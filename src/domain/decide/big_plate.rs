//! More of a dish than anybody eats: "half the chilli" of 2600 g, or 2000 g off the scale, may be what was dished up for all.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::kitchen::Choice;
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::Thing;
use super::portion::Taken;
use super::which::{ask, option};
use super::{Stop, shortage};
use crate::lang::syntax::{Amount, Command, Party, Portion, Share};

/// More by eye is on no plate.
const BY_EYE_MOST: Mass = Mass::from_mg(1_000_000);
/// More that was weighed is on no plate; a digit may be one too many.
const WEIGHED_MOST: Mass = Mass::from_mg(1_500_000);

/// Was it one plate, or for everybody here?
pub fn one_or_all(
    draft: &Draft,
    portion: &Portion,
    taken: &[Taken],
    eater: MemberId,
) -> Option<Stop> {
    let told = draft.input.confirmed || portion.anyway;
    if told || portion.share.is_some() || taken.len() != portion.items.len() {
        return None;
    }
    let most = |amount: &Amount| match amount {
        Amount::Share(_) => BY_EYE_MOST,
        _ => WEIGHED_MOST,
    };
    let mut lines = portion.items.iter().zip(taken).enumerate();
    // More than there is at all is asked about as such.
    let there = |line: &Taken| match &line.thing {
        Thing::Batches(ids) => {
            let batches = ids.iter().map(|id| draft.kitchen.batch(*id));
            let held: Mass = batches.map(|it| it.left() + shortage::drift(it)).sum();
            line.quantity.mass <= held
        }
        _ => true,
    };
    let (at, (item, line)) =
        lines.find(|(_, (item, line))| line.quantity.mass > most(&item.amount) && there(line))?;
    let mass = line.quantity.mass;
    let weighed = |label: String| {
        let grams = Amount::Mass(mass.rounded_grams());
        option(portion, at, grams, item.name.clone(), label)
    };
    let name = draft.kitchen.member(eater)?.name.clone();
    let mut options = vec![weighed(format!(
        "{} g, all for {name}",
        mass.rounded_grams()
    ))];
    let here = draft.kitchen.members().len();
    if here > 1 && portion.who.is_none() {
        let mut among = portion.clone();
        among.items[at].amount = Amount::Mass(mass.rounded_grams());
        among.share = Some(Share::Equally(Party::default()));
        options.push(Choice {
            label: format!("shared by the {here} of us"),
            says: Command::Portion(among).to_string(),
        });
    }
    let problem = ProblemKind::BigPlate { mass };
    Some(ask(
        portion,
        About::Confirm,
        &item.name.text,
        Some(problem),
        options,
    ))
}
