//! A message that leaves out what is in hand, said whole: "Tom finished the rest of it", "and 250 for Ana", "and half
//! the soup" right after food was put elsewhere or thrown away.
//!
//! The language puts what the books hold in hand (`in_hand.rs`) in the place of the words that stand for it, and the
//! message is decided as if it had been said so. It counts only if something comes of it for sure: what stands in no
//! hand was said of something else.

use super::super::act::Act;
use super::super::answer::{About, Answer};
use super::super::batch::{Batch, Lot};
use super::super::change::Change;
use super::super::draft::Draft;
use super::super::ids::MemberId;
use super::super::in_hand::{self, Doing, InHand};
use super::super::kitchen::{Choice, Kitchen};
use super::super::ledger::EntryKind;
use super::super::mass::Mass;
use super::super::resolve::key;
use super::{
    Decision, Input, OnProblem, Outcome, carry_out, find, parted, plainly, planned, stopped,
};
use crate::lang::syntax::{Command, Item, Portion};
use crate::lang::{self, Completion, Known, Parsed};

/// A list of food alone that goes on with what its sender did last, unless that was eating.
pub fn goes_on(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let best = parsed.best();
    let [Command::Portion(portion)] = best.commands.as_slice() else {
        return None;
    };
    let draft = Draft::new(kitchen, input);
    let ours = |item: &Item| find::standing(&draft, &item.name).is_ok();
    if !best.sure || !is_bare(portion) || !portion.items.iter().all(ours) {
        return None;
    }
    decided(kitchen, input, &[Completion::Doing])
}

/// What goes into the pot that is being filled, and what all of it weighs. Of another's pot it is asked first,
/// unless the words go on with it: "and 2 onions".
pub fn fills(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let hand = InHand::of(kitchen, input);
    let filling = hand.pot(input.now);
    if input.pointed.is_some() || filling.is_none() && hand.waiting_pot(input.now).is_none() {
        return None;
    }
    if says_else(parsed) {
        return None;
    }
    let (words, known) = (kitchen.vocabulary(), known(kitchen, &hand, input));
    let told = |how| lang::completed(&input.text, &words, &known, how);
    if let Some(weighed) = told(Completion::Weighing) {
        let mut certain = weighed.readings.iter().filter(|it| it.is_certain());
        let of_it =
            |command: &Command| matches!(command, Command::Weigh { .. } | Command::Count { .. });
        if let Some(whole) = certain.find(|it| it.commands.iter().all(of_it)) {
            let draft = Draft::new(kitchen, input);
            return Some(carry_out(draft, &whole.commands, OnProblem::Forget));
        }
    }
    let (pot, own) = filling?;
    let best = parsed.best();
    let plain = |command: &Command| match command {
        Command::Portion(portion) => {
            let plain = |item: &Item| is_plain(kitchen, input, item, pot);
            is_bare(portion) && portion.items.iter().all(plain)
        }
        _ => false,
    };
    let reads =
        best.errors.is_empty() && !best.commands.is_empty() && best.commands.iter().all(plain);
    let eaten = hand.doing() == Some(Doing::Eating);
    if !reads || !best.weighing_like || eaten {
        return None;
    }
    let said = told(Completion::Filling)?;
    let mut readings = said.readings.iter();
    let adds = readings.find(|it| matches!(it.commands.as_slice(), [Command::Add { .. }]))?;
    if own || lang::goes_on(&input.text) {
        return Some(carry_out(
            Draft::new(kitchen, input),
            &adds.commands,
            OnProblem::Forget,
        ));
    }
    Some(in_or_eaten(
        kitchen,
        input,
        &pot.name,
        &adds.commands,
        &best.commands,
    ))
}

/// It is sure by itself, and neither food nor a weight of something that is not named: "pot is 470 g empty".
fn says_else(parsed: &Parsed) -> bool {
    let open = |command: &Command| match command {
        Command::Portion(_) => true,
        Command::Weigh { batch, .. } => batch.text.trim().is_empty(),
        _ => false,
    };
    let best = parsed.best();
    best.is_certain() && !best.commands.iter().all(open)
}

/// Does it go in, or is it eaten?
fn in_or_eaten(
    kitchen: &Kitchen,
    input: &Input,
    pot: &str,
    adds: &[Command],
    eaten: &[Command],
) -> Decision {
    let says = |commands: &[Command]| {
        let said: Vec<String> = commands.iter().map(ToString::to_string).collect();
        said.join("\n")
    };
    let options = vec![
        Choice {
            label: format!("in the {pot}"),
            says: says(adds),
        },
        Choice {
            label: "eaten".into(),
            says: says(eaten),
        },
    ];
    let stop = find::ask(About::Confirm, &input.text, None, options);
    stopped(Draft::new(kitchen, input), stop)
}

/// Nothing but what it is and how much.
fn is_bare(portion: &Portion) -> bool {
    let bare = Portion {
        items: portion.items.clone(),
        with_last: portion.with_last,
        ..Portion::default()
    };
    *portion == bare
}

/// No dish that stands here, but for the pot itself: "900 pumpkin" goes into the pumpkin soup.
fn is_plain(kitchen: &Kitchen, input: &Input, item: &Item, pot: &Batch) -> bool {
    let found = find::standing(&Draft::new(kitchen, input), &item.name);
    let whole = key(&item.name.text) == key(&pot.name);
    // "lentils 520" is of the sheet that the pot was opened by, though a dish is called by them as well.
    let planned = !whole && planned::names(pot, &item.name);
    planned || found.map_or(true, |(batches, _)| batches == [pot.id] && !whole)
}

/// What the message comes to with what it leaves out, where by itself it comes to nothing.
pub fn completed(kitchen: &Kitchen, input: &Input, without: &Decision) -> Option<Decision> {
    let who = |answer: &Answer| matches!(answer, Answer::Ask(ask) if ask.about == About::Who);
    // "glass jar 1210 -> 1100": what is asked about as a food may be a vessel.
    let food =
        |answer: &Answer| matches!(answer, Answer::Ask(ask) if ask.about == About::WhichFood);
    let open = match without.outcome {
        Outcome::Ignored | Outcome::Refused => true,
        Outcome::Asked if without.answers.iter().any(food) => {
            return decided(kitchen, input, &[Completion::Vessels]);
        }
        Outcome::Asked => without.answers.iter().any(who),
        _ => false,
    };
    if !open {
        return None;
    }
    if let Some(decision) = parted::parted(kitchen, input) {
        return Some(decision);
    }
    let ways = [
        Completion::Vessels,
        Completion::Bags,
        Completion::StandIns,
        Completion::Amounts,
    ];
    decided(kitchen, input, &ways)
}

/// By the first way in which it can be.
fn decided(kitchen: &Kitchen, input: &Input, ways: &[Completion]) -> Option<Decision> {
    if in_hand::is_asked(kitchen, input) {
        return None;
    }
    let words = kitchen.vocabulary();
    let known = known(kitchen, &InHand::of(kitchen, input), input);
    ways.iter().find_map(|how| {
        let parsed = lang::completed(&input.text, &words, &known, *how)?;
        decided_by(kitchen, input, *how, &parsed)
    })
}

fn decided_by(
    kitchen: &Kitchen,
    input: &Input,
    how: Completion,
    parsed: &Parsed,
) -> Option<Decision> {
    // A sentence read for its gist may be of anything.
    let loose = matches!(how, Completion::Amounts | Completion::Doing);
    if loose
        && !parsed
            .readings
            .iter()
            .any(|it| it.is_certain() && !it.is_gist())
    {
        return None;
    }
    let mut certain = parsed.readings.iter().filter(|it| it.is_certain());
    // "the rest of it is in the car", "the rest is gone": how things are, of whatever they are.
    let stands = |norm: &str| matches!(norm, "is" | "are" | "was" | "were" | "its");
    let states = parsed.tokens.iter().any(|token| stands(token.norm()));
    let of_pot = |command: &Command| is_of_the_pot(command, states);
    let called = matches!(how, Completion::Vessels | Completion::Bags);
    if !called && certain.any(|it| it.commands.iter().any(of_pot)) {
        return None;
    }
    if how == Completion::Amounts
        && let Some(decision) = divided_anew(kitchen, input, parsed)
    {
        return decision;
    }
    let decision = plainly(kitchen, input, parsed);
    let confirms =
        |answer: &Answer| matches!(answer, Answer::Ask(ask) if ask.about == About::Confirm);
    let asks = decision.answers.iter().any(confirms);
    let answers = called && decision.outcome != Outcome::Ignored;
    (decision.outcome == Outcome::Recorded || asks || answers).then_some(decision)
}

/// "ok right, Tom 290 me 210" of 500 that were just divided: what adds up to what is in hand is that, told anew. What
/// the same people are said to have had otherwise is not understood (`Some(None)`).
fn divided_anew(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Option<Decision>> {
    let hand = InHand::of(kitchen, input);
    let (act, lines) = (hand.act?, hand.lines());
    let mut people: Vec<MemberId> = lines.iter().map(|(who, _)| *who).collect();
    people.sort_unstable();
    people.dedup();
    let before: Mass = lines.iter().map(|(_, line)| line.mass).sum();
    let told = parsed.readings.iter().find(|it| it.is_certain())?;
    let mut base = Draft::new(kitchen, input);
    base.reverse(act);
    base.settle();
    base.occurred_at = act.sent_at;
    let decision = carry_out(base, &told.commands, OnProblem::Forget);
    let booked = decision.changes.iter().filter_map(|change| match change {
        Change::Entry { entry, .. } if entry.kind == EntryKind::Portion => Some(entry.mass),
        _ => None,
    });
    let now: Mass = booked.sum();
    let several = people.len() > 1 || told.commands.len() > 1;
    if several && now == before && act.member == input.sender {
        return Some((decision.outcome == Outcome::Recorded).then_some(decision));
    }
    (people.len() > 1 && act.member == input.sender).then_some(None)
}

fn is_of_the_pot(command: &Command, states: bool) -> bool {
    match command {
        Command::Count { .. } | Command::Weigh { .. } => true,
        Command::Waste { .. } | Command::Move(_) | Command::Take(_) => states,
        Command::Portion(portion) => states && portion.who.is_none() && portion.share.is_none(),
        _ => false,
    }
}

fn known(kitchen: &Kitchen, hand: &InHand<'_>, input: &Input) -> Known {
    let done = match hand.doing() {
        Some(Doing::Wasting) => Some(("binned".to_owned(), String::new())),
        Some(Doing::Thawing) => Some(("thaw".to_owned(), String::new())),
        Some(Doing::Moving(place)) => kitchen
            .place(place)
            .map(|place| ("move".to_owned(), format!("to the {}", place.name))),
        Some(Doing::Eating) | None => None,
    };
    Known {
        // "how much dal is left?", "80 of it": what was asked after since it was done.
        dish: input
            .asked_dish(hand.act.map(|act| act.sent_at))
            .or_else(|| hand.dish()),
        cooked: cooked(hand),
        person: hand
            .another()
            .and_then(|who| Some(kitchen.member(who)?.name.clone())),
        pot: match hand.pot(input.now) {
            Some((pot, _)) => Some(pot.code.clone()),
            None => hand.waiting_pot(input.now).map(|pot| pot.code.clone()),
        },
        standing: in_vessels(kitchen),
        bags: bags(kitchen),
        done,
    }
}

/// The dish of the sender's last act, where that was on the stove and nothing of it on a plate.
fn cooked(hand: &InHand) -> Option<String> {
    let of_pot = hand.act.is_some() && hand.doing().is_none() && hand.lines().is_empty();
    hand.dish().filter(|_| of_pot)
}

/// The vessels in which one dish stands, by the words for both.
fn in_vessels(kitchen: &Kitchen) -> Vec<(String, String)> {
    let held = kitchen.containers.iter().filter_map(|container| {
        let standing = kitchen.standing_in(container.id);
        let [(batch, _)] = standing.as_slice() else {
            return None;
        };
        Some((container.name.to_lowercase(), batch.name.clone()))
    });
    held.collect()
}

/// What every lot holds, with its dish where it stands, ordered by that.
fn bags(kitchen: &Kitchen) -> Vec<(f64, String)> {
    let weighed = kitchen.open_batches().filter(|batch| !batch.estimated());
    let lots = weighed.flat_map(|batch| batch.lots.iter().map(move |lot| (batch, lot)));
    let held = lots.filter(|(_, lot)| lot.balance.mg() > 0);
    let standing = |batch: &Batch, lot: &Lot| match lot.place.and_then(|id| kitchen.place(id)) {
        Some(place) => format!("{} {}", place.name, batch.name),
        None => batch.name.clone(),
    };
    let mut bags: Vec<(f64, String)> = held
        .map(|(batch, lot)| (lot.balance.grams(), standing(batch, lot)))
        .collect();
    bags.sort_by(|a, b| a.1.cmp(&b.1));
    bags
}

/// The one command that an act was booked by, with what its words left out.
pub fn said(kitchen: &Kitchen, act: &Act) -> Option<Command> {
    let entries = || act.entries.iter().map(|entry| &entry.entry);
    let of_pot = |kind| matches!(kind, EntryKind::Ingredient | EntryKind::Weigh);
    let pot = entries().find(|entry| of_pot(entry.kind));
    let pot = pot.and_then(|entry| kitchen.batches.get(&entry.batch?));
    let vocabulary = kitchen.vocabulary();
    let known = Known {
        pot: pot.map(|pot| pot.code.clone()),
        ..Known::default()
    };
    let ways = [Completion::Weighing, Completion::Filling];
    let told = ways.into_iter().find_map(|how| {
        let parsed = lang::completed(&act.text, &vocabulary, &known, how)?;
        let of_it =
            |command: &Command| matches!(command, Command::Weigh { .. } | Command::Add { .. });
        let mut readings = parsed.readings.into_iter();
        let whole = readings.find(|it| it.errors.is_empty() && it.commands.iter().all(of_it));
        whole?.commands.into_iter().next()
    });
    let plainly = lang::parse(&act.text, &vocabulary);
    let plainly = plainly
        .best()
        .commands
        .first()
        .filter(|_| plainly.best().commands.len() == 1);
    let whole = plainly.filter(|command| pot.is_none() || names_its_pot(command));
    whole.cloned().or(told)
}

fn names_its_pot(command: &Command) -> bool {
    match command {
        Command::Add { .. } => true,
        Command::TopUp(_) | Command::LeftOver(_) | Command::Receive(_) => true,
        Command::Weigh { batch, .. } => !batch.text.trim().is_empty(),
        _ => false,
    }
}
