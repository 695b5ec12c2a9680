//! Weighing a batch in: sums of readings less tares.

use super::super::answer::{About, BatchEvent, Note};
use super::super::change::Detail;
use super::super::draft::Draft;
use super::super::ids::*;
use super::super::kitchen::Choice;
use super::super::ledger::{Account, EntryKind};
use super::super::mass::Mass;
use super::super::problem::{FarCount, Problem, ProblemKind};
use super::super::resolve::key;
use super::line::Pending;
use super::shortage::drift;
use super::{
    Asking, Step, Stop, batch, count, find, gained, portion, question, vessel, weighed_again,
};
use crate::lang::syntax::{
    Amount, Command, Item, Portion, Tare, Weighed, WeighedOf, Weighing, Words,
};

/// More of a dish than this is on no plate.
pub const PLATE_MOST: Mass = Mass::from_mg(700_000);

/// More is hardly on one.
const PLATE_USUAL: Mass = Mass::from_mg(500_000);

/// What the scale said, and what is taken off.
#[derive(Clone, Copy)]
pub struct Reading {
    pub gross: Mass,
    pub tare: Mass,
}

impl Reading {
    /// The food alone.
    pub fn of(net: Mass) -> Self {
        Self {
            gross: net,
            tare: Mass::ZERO,
        }
    }

    pub fn net(self) -> Mass {
        self.gross - self.tare
    }
}

/// Add up the readings and the tares, looking up containers that were only named.
pub fn net(draft: &Draft, weighing: &Weighing) -> Result<Reading, Problem> {
    let at = |kind: ProblemKind| kind.at(weighing.span.clone());
    let mut gross = Mass::ZERO;
    for grams in &weighing.readings_grams {
        gross += Mass::weighed_out(*grams).ok_or_else(|| at(not_a_mass(*grams)))?;
    }
    let mut tare = Mass::ZERO;
    for one in &weighing.tares {
        tare += tare_mass(draft, one).map_err(at)?;
    }
    let named = weighing.container.as_ref().filter(|container| {
        // "2310 in the pot, pot 470": the pot's tare is given beside it.
        !weighing.tares.iter().any(|tare| {
            let name = tare.name.as_ref().map(|name| key(&name.text));
            name.is_none_or(|name| {
                key(&container.text).ends_with(&name) || name.ends_with(&key(&container.text))
            })
        })
    });
    if let Some(container) = named {
        tare += known_tare(draft, container).map_err(at)?;
    } else if weighing.gross && weighing.tares.is_empty() {
        return Err(at(ProblemKind::UnknownTare {
            name: "container".into(),
        }));
    }
    if tare >= gross {
        return Err(at(ProblemKind::BelowTare { gross, tare }));
    }
    Mass::weighed_out((gross - tare).grams()).ok_or_else(|| at(not_a_mass(gross.grams())))?;
    Ok(Reading { gross, tare })
}

fn not_a_mass(grams: f64) -> ProblemKind {
    ProblemKind::NotAMass {
        text: format!("{grams} g"),
    }
}

fn tare_mass(draft: &Draft, tare: &Tare) -> Result<Mass, ProblemKind> {
    let each = match (tare.each_grams, &tare.name) {
        (Some(grams), _) => Mass::from_grams(grams)
            .filter(|mass| !mass.is_negative())
            .ok_or_else(|| not_a_mass(grams))?,
        (None, Some(name)) => known_tare(draft, name)?,
        (None, None) => Mass::ZERO,
    };
    Mass::from_grams(each.grams() * tare.count).ok_or_else(|| not_a_mass(each.grams() * tare.count))
}

fn known_tare(draft: &Draft, name: &Words) -> Result<Mass, ProblemKind> {
    draft
        .kitchen
        .container_named(&name.text)
        .and_then(|container| container.tare())
        .ok_or_else(|| ProblemKind::UnknownTare {
            name: name.text.clone(),
        })
}

pub fn weigh(draft: &mut Draft, name: &Words, weighing: &Weighing, of: WeighedOf) -> Step {
    let id = find::batch_to_change(draft, name)?;
    if of != WeighedOf::Whole && vessel::told_apart(draft, id, weighing).is_some() {
        return count::count(draft, &[weighed_of(draft, id, weighing)], None, false);
    }
    let standing = count::ready(draft, id);
    let reading = match vessel::reading(draft, id, &standing, weighing) {
        Ok(reading) => reading,
        Err(Stop::Problem(problem)) => return Err(without_tare(draft, id, weighing, of, problem)),
        Err(asked) => return Err(asked),
    };
    let known = draft.kitchen.batch(id);
    if of == WeighedOf::LeftOrEaten {
        return told_by_books(draft, id, reading, weighing);
    }
    let booked = count::booked(draft, id, reading.net());
    if of == WeighedOf::Left && !known.estimated() {
        let eaten = weighing.container.is_some() && reading.net() <= PLATE_MOST;
        if eaten && count::is_far(reading.net(), booked) {
            return Err(left_or_eaten(draft, id, reading));
        }
        if let Some(stop) = gained::asked(draft, id, weighing, reading) {
            return Err(stop);
        }
        // The whole is known; what is left is a count.
        return count::count_as(draft, id, reading, weighing);
    }
    // So little of a batch whose whole is known is a plate, or what is left.
    if of == WeighedOf::Unsaid
        && !known.estimated()
        && reading.net() <= PLATE_MOST
        && count::is_far(reading.net(), booked)
    {
        return match is_difference(weighing) {
            true => portion::place(draft, &eaten(draft, id, reading.net()), false),
            false => Err(left_or_eaten(draft, id, reading)),
        };
    }
    if of == WeighedOf::Unsaid && !known.estimated() && weighed_again::is_left(draft, id, reading) {
        return count::count(draft, &[weighed_of(draft, id, weighing)], None, false);
    }
    let drawn = drawn(draft, id);
    let again = !known.estimated()
        && (weighed_again::is_touched(draft, id) || weighed_again::is_another(draft, id, reading));
    if of == WeighedOf::Unsaid && (again || (drawn.mg() > 0 && reading.net() < drawn)) {
        return Err(weighed_again::which(draft, id, reading));
    }
    match of {
        WeighedOf::Left | WeighedOf::LeftOrEaten => {
            count::write_count(draft, id, reading, weighing);
        }
        WeighedOf::Whole | WeighedOf::Unsaid => {
            write(draft, id, reading);
            vessel::keep(draft, id, &standing, weighing);
        }
    }
    draft.settle();
    let mut notes: Vec<Note> = batch::odd_yield(draft, id).into_iter().collect();
    if drawn.mg() > 0 && of == WeighedOf::Unsaid {
        notes.push(Note::WholeBatch { drawn });
    }
    let portions = eaten_from(draft, id);
    if portions > 0 {
        notes.push(Note::Recomputed { portions });
    }
    Ok(batch::answer(
        draft,
        id,
        BatchEvent::WeighedIn,
        notes,
        Vec::new(),
    ))
}

fn weighed_of(draft: &Draft, id: BatchId, weighing: &Weighing) -> Weighed {
    Weighed {
        name: Words::plain(draft.kitchen.batch(id).code.clone()),
        place: None,
        weighing: weighing.clone(),
    }
}

/// Near what the books have it is what is left, far below it a plate; between them only what is too much for a
/// plate is told apart.
fn told_by_books(draft: &mut Draft, id: BatchId, reading: Reading, weighing: &Weighing) -> Step {
    let net = reading.net();
    let booked = count::booked(draft, id, net);
    let batch = draft.kitchen.batch(id);
    let far = count::is_far(net, booked);
    if (net - booked).abs() <= drift(batch) || !far && net > PLATE_USUAL {
        return count::count_as(draft, id, reading, weighing);
    }
    match count::is_little(net, booked) && net <= PLATE_MOST && !batch.estimated() {
        true => portion::place(draft, &eaten(draft, id, net), false),
        false => Err(left_or_eaten(draft, id, reading)),
    }
}

/// "530 minus 390": a plate with its food and empty, for all that is said.
fn is_difference(weighing: &Weighing) -> bool {
    let nameless = |tare: &Tare| tare.each_grams.is_some() && tare.name.is_none();
    weighing.container.is_none()
        && !weighing.gross
        && matches!(weighing.tares.as_slice(), [one] if nameless(one))
}

/// A weighing whose vessel nobody has weighed waits for that: see [`waiting_for`].
fn without_tare(
    draft: &Draft,
    id: BatchId,
    weighing: &Weighing,
    of: WeighedOf,
    problem: Problem,
) -> Stop {
    // Below the tare that is known of its vessel, it was weighed without it or in another.
    let asked = match problem.kind {
        ProblemKind::UnknownTare { .. } => true,
        ProblemKind::BelowTare { .. } => weighing.container.is_some(),
        _ => false,
    };
    if !asked {
        return problem.into();
    }
    Stop::Ask(Box::new(Asking {
        about: About::WhichWeighing,
        words: says(&draft.kitchen.batch(id).code, weighing.clone(), of),
        problem: Some(problem.kind),
        options: Vec::new(),
        pointed: None,
    }))
}

/// Weighings that were asked about because this vessel's tare was not known: each with its question.
pub fn waiting_for(draft: &Draft, vessel: &str) -> Vec<(QuestionId, Command)> {
    let vocabulary = draft.kitchen.vocabulary();
    let wanted = key(vessel);
    let stood_in_it = |weighing: &Weighing| {
        let tares = weighing
            .tares
            .iter()
            .filter(|tare| tare.each_grams.is_none());
        let mut names = weighing
            .container
            .iter()
            .chain(tares.filter_map(|tare| tare.name.as_ref()));
        names.any(|name| key(&name.text) == wanted)
    };
    let questions = draft.kitchen.questions.iter();
    questions
        .filter(|open| open.about == About::WhichWeighing.word() && open.options.is_empty())
        .filter_map(|open| {
            let commands = question::read(&open.words, &vocabulary).ok()?;
            match commands.as_slice() {
                [command @ Command::Weigh { weighing, .. }] if stood_in_it(weighing) => {
                    Some((open.id, command.clone()))
                }
                _ => None,
            }
        })
        .collect()
}

/// What had been taken from the pot by the time at which it was weighed.
pub fn drawn(draft: &Draft, id: BatchId) -> Mass {
    draft.kitchen.batch(id).drawn_by(draft.occurred_at)
}

/// How many portions were drawn before its weight was known.
fn eaten_from(draft: &Draft, id: BatchId) -> usize {
    let lots = draft.kitchen.batch(id).lots.iter();
    let moves = lots.flat_map(|lot| &lot.moves);
    let eaten = moves.filter(|moved| {
        let on_a_plate = matches!(moved.other, Account::Plate(_));
        on_a_plate && moved.occurred_at <= draft.occurred_at
    });
    eaten.count()
}

fn eaten(draft: &Draft, id: BatchId, mass: Mass) -> Portion {
    let item = Item::new(
        Amount::Mass(mass.grams()),
        Words::plain(draft.kitchen.batch(id).code.clone()),
    );
    Portion {
        items: vec![item],
        ..Portion::default()
    }
}

/// A bowl of it that is far from all of it: what is left, or somebody's plate?
pub fn left_or_eaten(draft: &Draft, id: BatchId, reading: Reading) -> Stop {
    let counted = reading.net();
    let booked = count::booked(draft, id, counted);
    let batch = draft.kitchen.batch(id);
    let code = Words::plain(batch.code.clone());
    let counted_says = Command::Count {
        rest: None,
        items: vec![Weighed {
            name: code.clone(),
            place: None,
            weighing: Weighing::net(counted.grams(), 0..0),
        }],
        anyway: true,
    };
    let other = match counted > booked {
        true => count::topped_up(draft, id, counted - booked),
        false => Choice {
            label: format!("{} g was eaten", counted.grams()),
            says: format!("{} g {}", counted.grams(), code.text),
        },
    };
    let options = vec![
        Choice {
            label: format!("{} g is what is left", counted.grams()),
            says: counted_says.to_string(),
        },
        other,
    ];
    let problem = ProblemKind::FarFromBooks {
        dishes: vec![FarCount {
            name: batch.name.clone(),
            place: None,
            counted,
            booked,
            weighed_in: None,
        }],
    };
    find::ask(About::Confirm, &batch.name, Some(problem), options)
}

/// Write the weighing down; the difference to what went in is water.
pub fn write(draft: &mut Draft, id: BatchId, reading: Reading) {
    let batch = draft.kitchen.batch(id);
    let difference = reading.net() - batch.net_mass();
    let ends = (Account::Water, draft.pot(id));
    let detail = Detail::Weighing {
        gross: reading.gross,
        tare: reading.tare,
    };
    draft.enter(
        EntryKind::Weigh,
        ends,
        difference,
        Some(id),
        None,
        Some(detail),
    );
}

/// Weigh a new batch in. Where that cannot be, the batch stands unweighed, and its weighing is asked about.
pub fn write_or_wait(draft: &mut Draft, id: BatchId, said: &[Weighing]) -> Option<Pending> {
    let [weighing] = said else {
        return (!said.is_empty()).then(|| several(draft, id, said));
    };
    match net(draft, weighing) {
        Ok(reading) => {
            write(draft, id, reading);
            let pot = draft.kitchen.batch(id).lots[0].id;
            vessel::keep(draft, id, &[pot], weighing);
            None
        }
        Err(problem) => Some(pending(draft, id, weighing, problem)),
    }
}

/// Two weights of one pot: which is meant is not to be guessed.
fn several(draft: &Draft, id: BatchId, said: &[Weighing]) -> Pending {
    let batch = draft.kitchen.batch(id);
    let options = said.iter().filter_map(|weighing| {
        let net = net(draft, weighing).ok()?.net().grams();
        let says = weighed_says(&batch.code, net, WeighedOf::Unsaid);
        Some(Choice {
            label: format!("{net} g"),
            says,
        })
    });
    let words: Vec<String> = said.iter().map(ToString::to_string).collect();
    let waits = format!("{}: {}", batch.name, words.join(" or "));
    let kind = ProblemKind::SeveralWeighings { words };
    Pending {
        number: 0,
        asking: Asking {
            about: About::WhichWeighing,
            words: waits,
            problem: Some(kind.clone()),
            options: options.collect(),
            pointed: None,
        },
        problem: kind.anywhere(),
    }
}

pub fn weighed_says(code: &str, net_grams: f64, of: WeighedOf) -> String {
    says(code, Weighing::net(net_grams, 0..0), of)
}

/// The sentence that weighs it.
fn says(code: &str, weighing: Weighing, of: WeighedOf) -> String {
    let batch = Words::plain(code);
    Command::Weigh {
        batch,
        weighing,
        of,
    }
    .to_string()
}

/// The batch stands without its weight; the weighing has to be said again.
fn pending(draft: &Draft, id: BatchId, weighing: &Weighing, problem: Problem) -> Pending {
    let words = says(
        &draft.kitchen.batch(id).code,
        weighing.clone(),
        WeighedOf::Unsaid,
    );
    Pending {
        number: 0,
        asking: Asking {
            about: About::WhichWeighing,
            words,
            problem: Some(problem.kind.clone()),
            options: Vec::new(),
            pointed: None,
        },
        problem,
    }
}
