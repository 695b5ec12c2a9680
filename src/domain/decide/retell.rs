//! What was just thrown away, put elsewhere, counted, bought or stirred in, put right: "oops, 40", "it was the chilli, not the dal".
//!
//! The message that booked it is taken back and carried out again as it should have been said, at its own moment.
//! Its words tell what may be meant: an amount of its one dish, or of the one that is named, and nothing else.

use chrono::{DateTime, Utc};

use super::super::act::Act;
use super::super::answer::{About, Answer};
use super::super::draft::Draft;
use super::super::ids::BatchId;
use super::super::in_hand;
use super::super::kitchen::Kitchen;
use super::super::ledger::EntryKind;
use super::super::problem::ProblemKind;
use super::super::resolve::key;
use super::{Decision, Input, OnProblem, Outcome, carry_out, completed, find, refuse, undo};
use crate::lang::answer::Slip;
use crate::lang::syntax::{
    Amount, Command, Destination, Figure, Fix, IngredientLine, Line, LineContent, TopUp, Words,
};
use crate::lang::{self, OfStock, Parsed};

/// A bare number that is further from what was booked, and no slip of the finger, was said of something else.
const DIFFERS_MOST: f64 = 2.0;

/// What is said puts right the newest act of its sender, if that only moved, counted or lost food.
pub fn in_passing(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    if let Some((of, parsed)) = lang::of_stock(&input.text, &kitchen.vocabulary()) {
        let kind = match of {
            OfStock::Loss => EntryKind::Waste,
            OfStock::Count => EntryKind::Count,
        };
        let did = |act: &&Act| act.standing().iter().any(|it| it.entry.kind == kind);
        let mut own = kitchen.recent.iter().filter(did);
        let act = own.find(|act| act.member == input.sender)?;
        let told = corrections("", &parsed, kitchen);
        let right = put_right(kitchen, input, act, &told);
        // It is of no plate in any case.
        let nothing = || refuse(input, ProblemKind::NothingToFix.anywhere());
        return right.or_else(|| (!told.is_empty() && input.addressed).then(nothing));
    }
    let act = input.pointed.as_ref().filter(|act| act.stands());
    let act = act.or_else(|| kitchen.recent.iter().find(|act| act.stands()))?;
    put_right(
        kitchen,
        input,
        act,
        &corrections(&input.text, parsed, kitchen),
    )
}

/// An act carried out again as it should have been said.
fn put_right(kitchen: &Kitchen, input: &Input, act: &Act, told: &[Vec<Right>]) -> Option<Decision> {
    let fresh = in_hand::holds(input, act.sent_at);
    if in_hand::is_asked(kitchen, input) {
        return None;
    }
    if told.is_empty() || act.member != input.sender || !fresh {
        return None;
    }
    let said = first_said(kitchen, input, act)?;
    if !is_of_stock(act) && !opens(&said.command) {
        return None;
    }
    let draft = Draft::new(kitchen, input);
    let right = told.iter().find_map(|rights| {
        let told = Told { draft: &draft, act };
        told.all_right(&said.command, rights)
    })?;
    let mut base = draft;
    base.reverse_own(act);
    base.settle();
    base.occurred_at = said.sent_at;
    let opened = opens(&right);
    let decision = carry_out(base, &[right], OnProblem::Forget);
    let asks = |answer: &Answer| match answer {
        // What went in is asked again, and keeps nothing out of the books.
        Answer::Ask(ask) => !(opened && ask.about == About::WhichFood),
        Answer::Problem(_) => true,
        _ => false,
    };
    let asked = decision.answers.iter().any(asks);
    // "it was the chilli", of which all is there already.
    let nothing = |answer: &Answer| matches!(answer, Answer::Move(it) if it.lots.is_empty());
    let idle = asked || decision.answers.iter().any(nothing);
    if decision.outcome != Outcome::Recorded || idle {
        return None;
    }
    // Opened anew, it would take from under their plates what others have eaten of it.
    match undo::in_use(&Draft::new(kitchen, input), act) {
        Err(problem) => Some(refuse(input, problem.anywhere())),
        Ok(()) => Some(decision),
    }
}

/// One thing that is put right.
enum Right {
    Fix(Fix),
    /// It was put there.
    Place(Words),
}

/// What a message may put right: every reading of it that is corrections alone, and what it says in so few words.
fn corrections(text: &str, parsed: &Parsed, kitchen: &Kitchen) -> Vec<Vec<Right>> {
    fn fix(command: &Command) -> Option<Right> {
        match command {
            Command::Fix(fix) => Some(Right::Fix(fix.clone())),
            _ => None,
        }
    }
    let whole = |reading: &&lang::Reading| reading.errors.is_empty();
    let readings = parsed.readings.iter().filter(whole);
    let all = readings.filter_map(|reading| reading.commands.iter().map(fix).collect());
    let mut all: Vec<Vec<Right>> = all.collect();
    all.retain(|rights| !rights.is_empty());
    let slip = lang::answer::slip(text, &kitchen.vocabulary()).map(|slip| match slip {
        Slip::Dish(new) => Right::Fix(Fix::Name {
            new,
            old: None,
            amount: None,
        }),
        Slip::Place(place) => Right::Place(place),
        Slip::Amount(amount) => Right::Fix(Fix::Amount {
            new: Figure::Is(amount),
            line: Line::default(),
        }),
    });
    all.extend(slip.map(|right| vec![right]));
    all
}

/// It opened a batch that is taken back with it.
fn opens(said: &Command) -> bool {
    matches!(
        said,
        Command::TopUp(_) | Command::LeftOver(_) | Command::Receive(_)
    )
}

/// What an act did, as it was said, and when that was.
struct Said {
    command: Command,
    sent_at: DateTime<Utc>,
}

/// The command of an act; of one that put another right, the command that it came to.
fn first_said(kitchen: &Kitchen, input: &Input, act: &Act) -> Option<Said> {
    let Some(before) = put_right_by(kitchen, act) else {
        return Some(Said {
            command: completed::said(kitchen, act)?,
            sent_at: act.sent_at,
        });
    };
    let parsed = lang::parse(&act.text, &kitchen.vocabulary());
    let said = first_said(kitchen, input, before)?;
    let draft = Draft::new(kitchen, input);
    let told = Told {
        draft: &draft,
        act: before,
    };
    let rights = match lang::of_stock(&act.text, &kitchen.vocabulary()) {
        Some((_, parsed)) => corrections("", &parsed, kitchen),
        None => corrections(&act.text, &parsed, kitchen),
    };
    let mut rights = rights.iter();
    let command = rights.find_map(|rights| told.all_right(&said.command, rights))?;
    Some(Said { command, ..said })
}

/// The act of the same sender that this one took back, to do something else.
fn put_right_by<'a>(kitchen: &'a Kitchen, act: &Act) -> Option<&'a Act> {
    let reversed = |root| {
        act.entries
            .iter()
            .any(|entry| entry.entry.root == Some(root))
    };
    let mut earlier = kitchen
        .recent
        .iter()
        .filter(|other| other.message < act.message);
    earlier.find(|other| other.entries.iter().any(|entry| reversed(entry.entry.id)))
}

/// It only moved, counted or lost food: no plate is in it.
pub fn is_of_stock(act: &Act) -> bool {
    let stock = |kind| {
        matches!(
            kind,
            EntryKind::Waste
                | EntryKind::Move
                | EntryKind::Count
                | EntryKind::Settle
                | EntryKind::Reversal
                | EntryKind::Weigh
                | EntryKind::Ingredient
        )
    };
    let mut entries = act.entries.iter().filter(|entry| !entry.tells_vessel());
    !act.only_reverses() && entries.all(|entry| stock(entry.entry.kind))
}

/// What was booked, and by whom it is put right.
struct Told<'d, 'a> {
    draft: &'d Draft<'a>,
    act: &'d Act,
}

impl Told<'_, '_> {
    /// The command with all of it put right.
    fn all_right(&self, said: &Command, rights: &[Right]) -> Option<Command> {
        let mut command = said.clone();
        for right in rights {
            command = match right {
                Right::Fix(fix) => self.right(&command, fix)?,
                Right::Place(place) => put_there(&command, place)?,
            };
        }
        Some(command)
    }

    /// The command as it should have been said.
    fn right(&self, said: &Command, fix: &Fix) -> Option<Command> {
        let mut right = said.clone();
        match fix {
            Fix::Amount { new, line } if line.owner.is_none() => {
                let new = match new {
                    Figure::Is(amount) => amount.clone(),
                    Figure::Retyped(grams) => Amount::Bare(*grams),
                    Figure::Times(_) => return None,
                };
                self.set_amount(&mut right, &new, line)?;
            }
            Fix::Name { new, old, amount } => {
                let new = self.dish(new)?;
                self.set_name(&mut right, &new, old.as_ref())?;
                if let Some(amount) = amount {
                    let line = Line {
                        name: Some(new),
                        ..Line::default()
                    };
                    self.set_amount(&mut right, amount, &line)?;
                }
            }
            _ => return None,
        }
        (right != *said).then_some(right)
    }

    fn set_amount(&self, said: &mut Command, new: &Amount, line: &Line) -> Option<()> {
        let at = self.which(&names(said)?, line.name.as_ref())?;
        let bare = line.name.is_none() && line.old.is_none();
        let (new_grams, old) = (grams(new), old_grams(said, at));
        // "250, not 200" is of what came to 200.
        if line.old.as_ref().is_some_and(|told| grams(told) != old) && !is_parted(said) {
            return None;
        }
        if bare
            && !new_grams
                .zip(old)
                .is_some_and(|(new, old)| is_near(new, old))
        {
            return None;
        }
        match said {
            Command::Waste { items, .. } => items[at].amount = new.clone(),
            Command::Move(moved) if moved.parts_grams.is_empty() => {
                moved.items[at].amount = new.clone();
            }
            Command::Move(moved) => {
                let old = grams(line.old.as_ref()?)?;
                let mut parts = moved.parts_grams.iter_mut().rev();
                *parts.find(|part| **part == old)? = new_grams?;
            }
            Command::Count { items, .. } => set_reading(&mut items[at].weighing, new_grams?)?,
            Command::Weigh { weighing, .. } => set_reading(weighing, new_grams?)?,
            Command::TopUp(said) if said.lines.is_empty() => said.by_grams = new_grams,
            Command::Add { lines, .. } | Command::TopUp(TopUp { lines, .. }) => {
                set_line(&mut lines[at], new)?;
            }
            Command::LeftOver(said) => set_reading(&mut said.weighing, new_grams?)?,
            Command::Receive(receive) => receive.items[at].amount = new.clone(),
            _ => return None,
        }
        Some(())
    }

    fn set_name(&self, said: &mut Command, new: &Words, old: Option<&Words>) -> Option<()> {
        let at = self.which(&names(said)?, old)?;
        match said {
            Command::Waste { items, .. } => items[at].name = new.clone(),
            Command::Move(moved) => moved.items[at].name = new.clone(),
            Command::Count { items, .. } => items[at].name = new.clone(),
            Command::Weigh { batch, .. } => *batch = new.clone(),
            _ => return None,
        }
        Some(())
    }

    /// Which of the dishes is meant: the one that is named, or the only one.
    fn which(&self, names: &[Words], named: Option<&Words>) -> Option<usize> {
        let Some(named) = named else {
            return (names.len() == 1).then_some(0);
        };
        let same = |name: &Words| key(&name.text) == key(&named.text);
        if let Some(at) = names.iter().position(same) {
            return Some(at);
        }
        let meant = self.batches(named)?;
        let same = |name: &Words| self.batches(name).is_some_and(|own| own == meant);
        names.iter().position(same)
    }

    fn batches(&self, name: &Words) -> Option<Vec<BatchId>> {
        let (mut found, _) = find::standing(self.draft, name).ok()?;
        found.sort();
        Some(found)
    }

    /// "the chilli I froze" is the chilli: what was done with it is told again.
    fn dish(&self, name: &Words) -> Option<Words> {
        let done = self.act.text.to_lowercase();
        let again = |word: &str| {
            let mut words = done.split(|c: char| !c.is_alphanumeric());
            let word = word.to_lowercase();
            matches!(word.as_str(), "i" | "we" | "that") || words.any(|known| known == word)
        };
        let mut said = name.text.as_str();
        loop {
            let words = Words::new(said, name.span.clone());
            if self.batches(&words).is_some() {
                return Some(words);
            }
            let (rest, last) = said.rsplit_once(' ')?;
            said = again(last).then_some(rest)?;
        }
    }
}

/// The dishes of a command that may be put right, in the order of its items.
fn names(said: &Command) -> Option<Vec<Words>> {
    let names = |items: &[lang::Item]| items.iter().map(|item| item.name.clone()).collect();
    match said {
        Command::Waste { items, .. } => Some(names(items)),
        Command::Move(moved) => Some(names(&moved.items)),
        Command::Count { items, .. } => Some(items.iter().map(|item| item.name.clone()).collect()),
        Command::Weigh { batch, .. } => Some(vec![batch.clone()]),
        // "topped up the dal by 120": of what, nobody said.
        Command::TopUp(said) if said.lines.is_empty() && said.by_grams.is_some() => {
            Some(vec![said.batch.clone()])
        }
        Command::Add { lines, .. } | Command::TopUp(TopUp { lines, .. }) => {
            lines.iter().map(ingredient).collect()
        }
        Command::LeftOver(_) => Some(vec![Words::plain("leftovers")]),
        Command::Receive(receive) => Some(names(&receive.items)),
        _ => None,
    }
}

/// "sorry, garage freezer": where it was put.
fn put_there(said: &Command, place: &Words) -> Option<Command> {
    let mut right = said.clone();
    match &mut right {
        Command::Move(moved) if matches!(moved.to, Destination::Place(_)) => {
            moved.to = Destination::Place(place.clone());
        }
        Command::LeftOver(said) => said.place = Some(place.clone()),
        Command::Receive(receive) => receive.place = Some(place.clone()),
        _ => return None,
    }
    (right != *said).then_some(right)
}

fn ingredient(line: &IngredientLine) -> Option<Words> {
    match &line.content {
        LineContent::Ingredient { name, .. } => Some(name.clone()),
        LineContent::Unclear(_) => None,
    }
}

/// "make it 340", of what went into a pot.
fn set_line(line: &mut IngredientLine, new: &Amount) -> Option<()> {
    let LineContent::Ingredient { amount, name } = &mut line.content else {
        return None;
    };
    *amount = Some(new.clone());
    line.text = format!("{new} {name}");
    Some(())
}

/// What each bag weighs was told by itself.
fn is_parted(said: &Command) -> bool {
    matches!(said, Command::Move(moved) if !moved.parts_grams.is_empty())
}

/// Hardly more or less, or the same digits: 400 for 40, 31 for 13.
fn is_near(new: f64, old: f64) -> bool {
    let digits = |grams: f64| {
        let text = grams.to_string();
        let digits = text.chars().filter(|c| c.is_ascii_digit() && *c != '0');
        let mut digits: Vec<char> = digits.collect();
        digits.sort_unstable();
        digits
    };
    let near = new * DIFFERS_MOST >= old && old * DIFFERS_MOST >= new;
    near || digits(new) == digits(old)
}

fn old_grams(said: &Command, at: usize) -> Option<f64> {
    match said {
        Command::Waste { items, .. } => grams(&items[at].amount),
        Command::Move(moved) => grams(&moved.items[at].amount),
        Command::Count { items, .. } => items[at].weighing.readings_grams.first().copied(),
        Command::Weigh { weighing, .. } => weighing.readings_grams.first().copied(),
        Command::LeftOver(said) => said.weighing.readings_grams.first().copied(),
        Command::Receive(receive) => grams(&receive.items[at].amount),
        Command::TopUp(said) if said.lines.is_empty() => said.by_grams,
        Command::Add { lines, .. } | Command::TopUp(TopUp { lines, .. }) => {
            match &lines[at].content {
                LineContent::Ingredient {
                    amount: Some(amount),
                    ..
                } => grams(amount),
                _ => None,
            }
        }
        _ => None,
    }
}

fn grams(amount: &Amount) -> Option<f64> {
    match amount {
        Amount::Bare(grams) | Amount::Mass(grams) => Some(*grams),
        _ => None,
    }
}

/// The scale showed something else, with the same vessel on it.
fn set_reading(weighing: &mut lang::Weighing, grams: f64) -> Option<()> {
    let [reading] = weighing.readings_grams.as_mut_slice() else {
        return None;
    };
    *reading = grams;
    Some(())
}
