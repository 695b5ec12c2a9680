//! The kitchen's things as an answer shows them.

use std::collections::BTreeMap;

use super::answer::{
    BatchView, DrawnLot, LineView, LotView, PiecesView, PlateView, PortionLine, PouredView,
};
use super::assumption::{self, Assumption};
use super::batch::{Batch, Line, LineState, Lot, Pour, PourKind};
use super::composition::{Composition, poured_lines};
use super::estimate::{self, Spread};
use super::ids::{BatchId, EntryId};
use super::kitchen::Kitchen;
use super::mass::Mass;
use super::nutrients::Totals;
use super::plate::{Plate, PlatePortion};

pub fn batch(kitchen: &Kitchen, id: BatchId) -> BatchView {
    let batch = kitchen.batch(id);
    let net = batch.net_mass();
    let mut composition = Composition::new(kitchen);
    let totals = composition.whole(id);
    let per_100g = composition.portion(id, Mass::from_mg(100_000));
    BatchView {
        id,
        code: batch.code.clone(),
        name: batch.name.clone(),
        estimated: batch.estimated(),
        about: batch.is_about(),
        raw: batch.raw,
        origin: batch.origin,
        dated: batch.dated,
        pieces: pieces(batch, net),
        made_on: batch.made_on,
        raw_mass: batch.raw_mass(),
        net_mass: net,
        expected: expected(kitchen, batch),
        left: batch.left(),
        lines: lines(kitchen, batch),
        poured: batch
            .pours
            .iter()
            .map(|pour| poured(kitchen, batch, pour))
            .collect(),
        totals,
        per_100g,
        allergens: kitchen.allergens(batch),
        avoided: kitchen.avoided_in(batch),
        numbers: true,
        lots: lots(kitchen, batch),
    }
}

/// How far own pots lie apart, less what was poured off as in the estimate.
fn expected(kitchen: &Kitchen, batch: &Batch) -> Option<Spread> {
    let cooked = batch.estimated().then(|| estimate::cooked(kitchen, batch));
    cooked?.less(batch.poured_mass()).spread
}

/// The lines of a batch. What one line drew from several lots of a batch is one row.
fn lines(kitchen: &Kitchen, batch: &Batch) -> Vec<LineView> {
    let mut lines: Vec<LineView> = Vec::with_capacity(batch.lines.len());
    for line in &batch.lines {
        let next = self::line(kitchen, line);
        let same = |row: &&mut LineView| {
            let drawn = row.state == LineState::Known && row.state == next.state;
            drawn && row.number == next.number && row.batch == next.batch && row.food == next.food
        };
        match lines.last_mut().filter(same) {
            Some(row) => {
                row.mass = row.mass.zip(next.mass).map(|(one, other)| one + other);
                row.estimated |= next.estimated;
            }
            None => lines.push(next),
        }
    }
    lines
}

fn line(kitchen: &Kitchen, line: &Line) -> LineView {
    let profile = line.profile.and_then(|id| kitchen.profiles.get(&id));
    let source = line.source.and_then(|id| kitchen.batches.get(&id));
    LineView {
        number: line.number,
        text: line.text.clone(),
        part: line.part.clone(),
        state: line.state,
        taken_as: source
            .map(|batch| batch.name.clone())
            .or_else(|| profile.map(|profile| profile.description.clone())),
        food: profile.and_then(|profile| profile.food),
        batch: source.map(|batch| batch.code.clone()),
        packet: profile.and_then(|profile| profile.packet.clone()),
        mass: (line.mass.mg() > 0).then_some(line.mass),
        estimated: line.estimated,
        assumptions: line
            .note
            .as_deref()
            .map(assumption::decode)
            .unwrap_or_default(),
    }
}

fn poured(kitchen: &Kitchen, batch: &Batch, pour: &Pour) -> PouredView {
    let (absorbed, guessed_lines) = match &pour.kind {
        PourKind::Part(part) => {
            let lines = poured_lines(kitchen, batch, part);
            let went_in: Mass = lines.iter().map(|at| batch.lines[*at].mass).sum();
            let unmarked = lines
                .iter()
                .map(|at| &batch.lines[*at])
                .filter(|line| line.part.as_deref() != Some(part.as_str()))
                .map(|line| line.text.clone());
            let stayed = went_in - pour.mass;
            let kept = stayed.mg() > 0 && part != "water";
            (kept.then_some(stayed), unmarked.collect())
        }
        PourKind::Fat | PourKind::Whole => (None, Vec::new()),
    };
    PouredView {
        kind: pour.kind.clone(),
        mass: pour.mass,
        absorbed,
        guessed_lines,
    }
}

/// The pot, and what was put elsewhere as long as there is any of it.
pub fn lots(kitchen: &Kitchen, batch: &Batch) -> Vec<LotView> {
    let stands = |lot: &&Lot| lot.came_from.is_none() || !lot.balance.is_zero();
    let lots = batch.lots.iter().filter(stands);
    lots.map(|lot| self::lot(kitchen, batch, lot)).collect()
}

pub fn lot(kitchen: &Kitchen, batch: &Batch, lot: &Lot) -> LotView {
    let eaten_up = lot.balance.mg() <= 0 && !batch.net_mass().is_zero();
    LotView {
        batch: Some(batch.code.clone()),
        name: batch.name.clone(),
        place: lot
            .place
            .and_then(|id| kitchen.place(id))
            .map(|place| place.name.clone()),
        vessel: kitchen.vessel_name(lot).map(str::to_owned),
        mass: (!batch.estimated() || eaten_up).then_some(lot.balance),
        balance: lot.balance,
        frozen: kitchen.is_frozen(lot),
        frozen_on: kitchen.frozen_on(batch, lot),
        taken: lot.is_taken_from(batch),
        due: kitchen.use_by(batch, lot),
        usual: kitchen.usual_portion(batch.component),
        made_on: batch.made_on,
        dated: batch.dated,
        origin: batch.origin,
        nutrients_unknown: batch
            .lines
            .iter()
            .all(|line| line.state == LineState::NoFood),
        pieces: pieces(batch, lot.balance),
    }
}

/// A mass of it in pieces, if it is counted.
pub fn pieces(batch: &Batch, mass: Mass) -> Option<PiecesView> {
    let word = batch.pieces()?.word.clone();
    let count = batch.in_pieces(mass)?.max(0.0);
    Some(PiecesView { count, word })
}

/// A day further back than this is told with its year.
const DAYS_NEAR: i64 = 180;

/// A plate with its sums; `assumptions` are those of what was just put on it.
pub fn plate(
    kitchen: &Kitchen,
    plate: &Plate,
    assumptions: &BTreeMap<EntryId, Vec<Assumption>>,
) -> PlateView {
    let mut composition = Composition::new(kitchen);
    let mut totals = Totals::default();
    let mut lines: Vec<PortionLine> = Vec::with_capacity(plate.portions.len());
    for (at, portion) in plate.portions.iter().enumerate() {
        let mut line = portion_line(kitchen, portion);
        line.totals = match portion.batch {
            Some(batch) => composition.portion(batch, portion.mass),
            None => portion
                .profile
                .and_then(|id| kitchen.profiles.get(&id))
                .map_or_else(Totals::unknown, |known| {
                    Totals::of(&known.per_100g, portion.mass)
                }),
        };
        line.assumptions = assumptions.get(&portion.entry).cloned().unwrap_or_default();
        totals.add(&line.totals);
        match lines.last_mut().filter(|_| told_with_last(plate, at)) {
            Some(last) => join(last, line),
            None => lines.push(line),
        }
    }
    PlateView {
        id: plate.id,
        of: plate.member,
        numbers: true,
        member: kitchen
            .member(plate.member)
            .map_or_else(String::new, |member| member.name.clone()),
        day: plate.day,
        long_ago: plate.portions.last().is_some_and(|portion| {
            let told = portion.recorded_at.date_naive();
            (told - plate.day).num_days() > DAYS_NEAR
        }),
        meal: plate.meal,
        lines,
        totals,
    }
}

/// One amount that was drawn from several lots of a batch is one line.
fn told_with_last(plate: &Plate, at: usize) -> bool {
    let Some(last) = at.checked_sub(1).map(|last| &plate.portions[last]) else {
        return false;
    };
    let portion = &plate.portions[at];
    let told = |portion: &PlatePortion| (portion.batch, portion.recorded_at, portion.occurred_at);
    portion.batch.is_some() && told(portion) == told(last) && portion.from != last.from
}

fn join(line: &mut PortionLine, more: PortionLine) {
    line.mass += more.mass;
    line.mass_estimated |= more.mass_estimated;
    line.totals.add(&more.totals);
    line.told_privately |= more.told_privately;
    line.lots.extend(more.lots);
    line.of_several = true;
}

/// The lot of a batch that something came from, and whether the batch stands in others as well.
fn drawn_from(kitchen: &Kitchen, batch: &Batch, portion: &PlatePortion) -> (Vec<DrawnLot>, bool) {
    let Some(lot) = batch.lot_of(portion.from) else {
        return (Vec::new(), false);
    };
    let stands = |other: &&Lot| other.id != lot.id && !other.balance.is_zero();
    let place = lot.place.and_then(|id| kitchen.place(id));
    let drawn = DrawnLot {
        place: place.map(|place| place.name.clone()),
        frozen: kitchen.is_frozen(lot),
        mass: portion.mass,
    };
    (vec![drawn], batch.lots.iter().any(|other| stands(&other)))
}

fn portion_line(kitchen: &Kitchen, portion: &PlatePortion) -> PortionLine {
    let batch = portion.batch.and_then(|id| kitchen.batches.get(&id));
    let profile = portion.profile.and_then(|id| kitchen.profiles.get(&id));
    let name = batch.map(|batch| batch.name.clone());
    let drawn = batch.map(|batch| drawn_from(kitchen, batch, portion));
    let (lots, of_several) = drawn.unwrap_or_default();
    PortionLine {
        name: name
            .or_else(|| profile.map(|profile| profile.description.clone()))
            .unwrap_or_default(),
        batch: batch.map(|batch| batch.code.clone()),
        food: profile.and_then(|profile| profile.food),
        packet: profile.and_then(|profile| profile.packet.clone()),
        mass: portion.mass,
        mass_estimated: portion.estimated,
        left: batch.map(Batch::left),
        left_pieces: batch.and_then(|batch| pieces(batch, batch.left())),
        batch_estimated: batch.is_some_and(Batch::estimated),
        totals: Totals::default(),
        lots,
        of_several,
        told_privately: kitchen.told_privately.contains(&portion.entry),
        assumptions: Vec::new(),
    }
}

/// The board: every open batch's lots, what is due first on top.
pub fn stock(kitchen: &Kitchen) -> Vec<LotView> {
    let mut lots: Vec<LotView> = kitchen
        .open_batches()
        .flat_map(|batch| lots(kitchen, batch))
        .collect();
    lots.sort_by(|a, b| {
        let due = |lot: &LotView| {
            (
                lot.frozen,
                lot.use_by().is_none(),
                lot.use_by(),
                lot.made_on,
            )
        };
        due(a).cmp(&due(b)).then_with(|| a.name.cmp(&b.name))
    });
    lots
}
