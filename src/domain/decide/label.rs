//! Labels for what stands somewhere: one a lot, what is due first on top.

use super::super::answer::Answer;
use super::super::batch::{Batch, Lot};
use super::super::draft::Draft;
use super::super::label::{LabelAnswer, LabelProblem, LabelView};
use super::super::mass::Mass;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::super::stands::Places;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{Label, LabelSize, Page, Words};

/// Plain sticky paper, common in label printers: common practice.
const USUAL: LabelSize = LabelSize::Millimetres {
    width: 62.0,
    height: 40.0,
};

/// Smaller labels do not hold a name, a date and what is in it; larger ones fit no printer at home.
const WIDTH_MM: std::ops::RangeInclusive<f64> = 24.0..=300.0;
const HEIGHT_MM: std::ops::RangeInclusive<f64> = 12.0..=300.0;
/// Dots of a printer of 300 dots an inch, in a millimetre.
const DOTS_PER_MM: f64 = 300.0 / 25.4;
/// As the narrower sides of A4 and letter paper leave, less what printers leave white.
const ON_PAGE_MM: [(Page, f64, f64); 2] = [(Page::A4, 200.0, 287.0), (Page::Letter, 205.9, 269.4)];

pub fn label(draft: &mut Draft, wanted: &Label) -> Step {
    let size = wanted.size.unwrap_or(USUAL);
    fits(size, wanted.page).map_err(ProblemKind::Label)?;
    let kitchen = &draft.kitchen;
    let mut batches: Vec<(&Batch, Option<Places>)> = Vec::new();
    for name in &wanted.names {
        let (found, places) = find::standing(draft, name)?;
        let found = found
            .into_iter()
            .map(|id| (kitchen.batch(id), places.clone()));
        batches.extend(found);
    }
    if wanted.names.is_empty() {
        batches.extend(kitchen.open_batches().map(|batch| (batch, None)));
    }
    let there = |lot: &Lot, words: &Words| {
        let own = lot.place.and_then(|id| kitchen.place(id));
        own.is_some_and(|own| key(&own.name) == key(&words.text))
    };
    let meant = |batch: &Batch, places: &Option<Places>, lot: &Lot| {
        // The pot of a batch that nobody weighed holds nobody knows how much.
        let unweighed = batch.estimated() && lot.came_from.is_none();
        let stands = lot.balance.mg() > 0 || unweighed;
        // "labels for the frozen dal": one for each of its bags, and for nothing else of it.
        let told = places.as_ref().is_none_or(|places| places.hold(lot));
        let placed = wanted.place.as_ref().is_none_or(|place| there(lot, place));
        batch.open && stands && told && placed
    };
    let mut lots: Vec<(&Batch, &Lot)> = batches
        .into_iter()
        .flat_map(|(batch, places)| {
            let lots = batch.lots.iter();
            let meant = lots.filter(|lot| meant(batch, &places, lot));
            let meant: Vec<(&Batch, &Lot)> = meant.map(|lot| (batch, lot)).collect();
            meant
        })
        .collect();
    lots.sort_by_cached_key(|(batch, lot)| (kitchen.due_on(batch, lot), batch.id, lot.id));
    if lots.is_empty() {
        let text = |words: &Words| words.text.clone();
        let problem = ProblemKind::Label(LabelProblem::Nothing {
            what: wanted.names.first().map(text),
            place: wanted.place.as_ref().map(text),
        });
        return Err(problem.into());
    }
    let bagged = |lot: &Lot| lot.came_from.is_some() || lot.vessel().is_some();
    if wanted.bags && lots.iter().any(|(_, lot)| bagged(lot)) {
        lots.retain(|(_, lot)| bagged(lot));
    }
    let filled = wanted
        .grams
        .map(|grams| filled(&mut lots, grams))
        .transpose()?;
    let (lots, copies) = shared_out(lots, wanted);
    let labels = lots.iter().map(|(batch, lot)| {
        let view = LabelView::of(kitchen, batch, lot);
        match filled {
            Some(mass) => view.holding(mass),
            None => view,
        }
    });
    Ok(Done::saying(Answer::Label(LabelAnswer {
        labels: labels.collect(),
        size,
        page: wanted.page,
        copies,
        region: kitchen.settings().guidance,
    })))
}

/// Which lots get a label, and how many: so many are told of one dish in all its bags, those that were put away last
/// before the others.
fn shared_out<'k>(
    mut lots: Vec<(&'k Batch, &'k Lot)>,
    wanted: &Label,
) -> (Vec<(&'k Batch, &'k Lot)>, usize) {
    let (told, there) = (wanted.copies, lots.len());
    if told == 1 || wanted.names.len() != 1 {
        return (lots, told);
    }
    if told % there == 0 {
        return (lots, told / there);
    }
    let mut newest: Vec<_> = lots.iter().map(|(_, lot)| lot.id).collect();
    newest.sort_unstable_by(|a, b| b.cmp(a));
    newest.truncate(told % there);
    let once_more = lots.iter().filter(|(_, lot)| newest.contains(&lot.id));
    let once_more: Vec<_> = once_more.copied().collect();
    lots = lots.repeat(told / there);
    lots.extend(once_more);
    (lots, 1)
}

/// A bag of so much: the lot that weighs it, or else the first that it may come from.
fn filled(lots: &mut Vec<(&Batch, &Lot)>, grams: f64) -> Result<Mass, Stop> {
    let text = format!("{grams} g");
    let mass = Mass::from_grams(grams).ok_or(ProblemKind::NotAMass { text })?;
    let weighs = lots.iter().position(|(_, lot)| lot.balance == mass);
    let holds = || lots.iter().position(|(_, lot)| lot.balance >= mass);
    let Some(at) = weighs.or_else(holds) else {
        let most = lots.iter().map(|(_, lot)| lot.balance).max();
        return Err(Stop::from(ProblemKind::TooMuch {
            name: lots[0].0.name.clone(),
            asked: mass,
            left: most.unwrap_or_default(),
        }));
    };
    *lots = vec![lots[at]];
    Ok(mass)
}

/// Whether a label of this size can be read, and printed on the page.
fn fits(size: LabelSize, page: Option<Page>) -> Result<(), LabelProblem> {
    let (width, height) = match size {
        LabelSize::Millimetres { width, height } => (width, height),
        LabelSize::Dots { width, height } => (
            f64::from(width) / DOTS_PER_MM,
            f64::from(height) / DOTS_PER_MM,
        ),
    };
    if !WIDTH_MM.contains(&width) || !HEIGHT_MM.contains(&height) {
        return Err(LabelProblem::Size);
    }
    let pages = ON_PAGE_MM.iter().filter(|(known, ..)| Some(*known) == page);
    let mut too_large = pages.filter(|(_, wide, high)| width > *wide || height > *high);
    match too_large.next() {
        Some(_) => Err(LabelProblem::LargerThanPage),
        None => Ok(()),
    }
}
