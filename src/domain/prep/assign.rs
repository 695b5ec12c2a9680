//! Which lot serves which day: of all ways that serve the most and spoil the least, the one that freezes least. A
//! flow of least cost; costs are compared part by part, so no weights have to be chosen.

use super::serve::Supply;
use crate::domain::mass::Mass;

/// Where a lot's grams go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goes {
    Day(u32),
    /// Kept ready for the day after the plan.
    Par,
    Left,
    Spoilt,
}

/// Grams of a lot, by where they go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    pub supply: usize,
    pub goes: Goes,
    pub mass: Mass,
    /// They have to be frozen for it.
    pub frozen: bool,
}

/// Unserved wishes, unserved days, short of par, spoilt, left over, frozen, thawed; then what is due first goes first.
type Cost = [i64; 8];

fn plus(one: Cost, other: Cost, sign: i64) -> Cost {
    std::array::from_fn(|part| one[part] + sign * other[part])
}

struct Arc {
    supply: usize,
    sink: usize,
    cost: Cost,
    frozen: bool,
    flow: i64,
}

pub fn assign(supplies: &[Supply], demand: &[Mass], wished: &[bool], par: Mass) -> Vec<Share> {
    let days = demand.len() as u32;
    let mut sinks: Vec<(Goes, i64)> = Vec::new();
    let of_days = demand.iter().zip(0..);
    sinks.extend(of_days.map(|(mass, day)| (Goes::Day(day), mass.mg())));
    sinks.extend([
        (Goes::Par, par.mg()),
        (Goes::Left, i64::MAX),
        (Goes::Spoilt, i64::MAX),
    ]);
    let mut order: Vec<usize> = (0..supplies.len()).collect();
    order.sort_by_key(|supply| (supplies[*supply].last(), supplies[*supply].until));
    let mut arcs = Vec::new();
    for (rank, supply) in order.into_iter().enumerate() {
        for (sink, (goes, _)) in sinks.iter().enumerate() {
            let lot = &supplies[supply];
            let day = match goes {
                Goes::Day(day) => *day,
                Goes::Par | Goes::Left => days,
                Goes::Spoilt => lot.until,
            };
            let possible = match goes {
                Goes::Day(day) => lot.serves(*day),
                Goes::Par | Goes::Left => lot.last() >= days,
                Goes::Spoilt => lot.last() < days,
            };
            // What lies frozen is only thawed, and what stands ready goes before it.
            let frozen = day > lot.until && !lot.lies_frozen;
            let thawed = lot.lies_frozen && matches!(goes, Goes::Day(_));
            let early = rank as i64 * i64::from(days.saturating_sub(day));
            let mut cost = match goes {
                Goes::Day(day) => [-i64::from(wished[*day as usize]), -1, 0, 0, 0, 0, 0, 0],
                Goes::Par => [0, 0, -1, 0, 0, 0, 0, 0],
                Goes::Left => [0, 0, 0, 0, 1, 0, 0, 0],
                Goes::Spoilt => [0, 0, 0, 1, 0, 0, 0, 0],
            };
            cost[5] = i64::from(frozen);
            cost[6] = i64::from(thawed);
            cost[7] = early;
            arcs.extend(possible.then_some(Arc {
                supply,
                sink,
                cost,
                frozen,
                flow: 0,
            }));
        }
    }
    let mut supply: Vec<i64> = supplies.iter().map(|lot| lot.mass.mg()).collect();
    let mut room: Vec<i64> = sinks.iter().map(|(_, room)| *room).collect();
    while let Some(path) = cheapest(&arcs, &supply, &room) {
        push(&mut arcs, &path, &mut supply, &mut room);
    }
    let used = arcs.iter().filter(|arc| arc.flow > 0);
    used.map(|arc| Share {
        supply: arc.supply,
        goes: sinks[arc.sink].0,
        mass: Mass::from_mg(arc.flow),
        frozen: arc.frozen,
    })
    .collect()
}

/// The arcs from a lot that has something left to a sink that has room, backwards on every second one.
fn cheapest(arcs: &[Arc], supply: &[i64], room: &[i64]) -> Option<Vec<usize>> {
    let mut lots: Vec<Option<Cost>> = supply
        .iter()
        .map(|mass| (*mass > 0).then_some([0; 8]))
        .collect();
    let mut sinks: Vec<Option<Cost>> = vec![None; room.len()];
    let (mut to_lot, mut to_sink) = (vec![None; supply.len()], vec![None; room.len()]);
    // A path visits no node twice.
    for _ in 0..supply.len() + room.len() {
        let mut changed = false;
        for (at, arc) in arcs.iter().enumerate() {
            let forth = lots[arc.supply].map(|cost| plus(cost, arc.cost, 1));
            if forth.is_some_and(|cost| sinks[arc.sink].is_none_or(|known| cost < known)) {
                (sinks[arc.sink], to_sink[arc.sink], changed) = (forth, Some(at), true);
            }
            let back = sinks[arc.sink].filter(|_| arc.flow > 0);
            let back = back.map(|cost| plus(cost, arc.cost, -1));
            if back.is_some_and(|cost| lots[arc.supply].is_none_or(|known| cost < known)) {
                (lots[arc.supply], to_lot[arc.supply], changed) = (back, Some(at), true);
            }
        }
        if !changed {
            break;
        }
    }
    let open = (0..room.len()).filter(|sink| room[*sink] > 0);
    let end = open.filter_map(|sink| Some((sinks[sink]?, sink))).min()?.1;
    let mut path = Vec::new();
    let mut sink = end;
    loop {
        let forth: usize = to_sink[sink]?;
        path.push(forth);
        let Some(back) = to_lot[arcs[forth].supply] else {
            break;
        };
        path.push(back);
        let back: &Arc = &arcs[back];
        sink = back.sink;
    }
    path.reverse();
    Some(path)
}

fn push(arcs: &mut [Arc], path: &[usize], supply: &mut [i64], room: &mut [i64]) {
    let (first, last) = (path[0], path[path.len() - 1]);
    let back = path.iter().skip(1).step_by(2);
    let narrow = back.map(|at| arcs[*at].flow).min().unwrap_or(i64::MAX);
    let (lot, sink) = (arcs[first].supply, arcs[last].sink);
    let mass = narrow.min(supply[lot]).min(room[sink]);
    supply[lot] -= mass;
    room[sink] = room[sink].saturating_sub(mass);
    for (at, arc) in path.iter().enumerate() {
        arcs[*arc].flow += if at % 2 == 0 { mass } else { -mass };
    }
}
