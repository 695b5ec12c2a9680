//! What people cannot have or leave out: told, taken back, asked; and said where a plate or a dish has it.

use super::super::allergen::contents::Contents;
use super::super::allergen::{Allergen, Part};
use super::super::answer::{Answer, Note};
use super::super::avoid::answer::{Asked, AvoidAnswer, Eater, InDish};
use super::super::avoid::problem::AvoidProblem;
use super::super::avoid::{Avoidance, Avoided, Has, Means, has};
use super::super::batch::Batch;
use super::super::change::{Change, Detail};
use super::super::draft::Draft;
use super::super::ids::{AccountId, BatchId, MemberId, ProfileId};
use super::super::ledger::Account;
use super::super::personal::PersonalFact;
use super::super::plate::{Plate, PlatePortion};
use super::super::prep::books::PrepDetail;
use super::super::problem::ProblemKind;
use super::super::resolve::{Thing, Use, key, resolve};
use super::people::find_person;
use super::{Done, Step, Stop, find};
use crate::lang::syntax::{Avoid, Command, Eats, Sought, Words};

pub fn carry_out(draft: &mut Draft, said: &Avoid) -> Step {
    match said {
        Avoid::Tells { who, what, cannot } => {
            let of = whose(draft, who, said)?;
            let told = what.iter().map(|what| Avoidance {
                what: what.text.clone(),
                cannot: *cannot,
                holds: true,
            });
            let told = told.collect();
            Ok(tell(draft, of, told))
        }
        Avoid::Drops { who, what } => drops(draft, said, who, what),
        Avoid::Asks { who: Some(who) } => {
            let of = whose(draft, who, said)?;
            Ok(listed(draft, &[of]))
        }
        Avoid::Asks { who: None } => {
            let members = draft.kitchen.members().iter().map(|member| member.id);
            let avoid = |id: &MemberId| !draft.kitchen.avoids(*id).is_empty();
            let members: Vec<MemberId> = members.filter(avoid).collect();
            Ok(listed(draft, &members))
        }
        Avoid::MayEat { who, dish } => may_eat(draft, said, who, dish),
        Avoid::Contents {
            name,
            things,
            whole,
        } => contents(draft, name, things, *whole),
        Avoid::InDish { dish, what } => {
            let asked = match what {
                Some(what) => Asked::What(what.text.clone()),
                None => Asked::Allergens,
            };
            if let Some((profile, name)) = packet(draft, dish) {
                let parts = draft.kitchen.parts_of_profile(profile, &name);
                let dishes = vec![in_dish(&asked, name, None, &parts)];
                return Ok(looked(asked, dishes, true));
            }
            let found = find::batches(draft, dish)?;
            Ok(looked_into(draft, asked, &found[..1], true))
        }
        Avoid::InStock { by } => {
            let asked = match by {
                Sought::What(what) => Asked::What(what.text.clone()),
                Sought::Person(who) => {
                    let of = whose(draft, who, said)?;
                    Asked::Person(eater(draft, of), draft.kitchen.avoids(of))
                }
            };
            let open = draft.kitchen.open_batches();
            let standing = open.filter(|batch| batch.left().mg() > 0);
            let all: Vec<BatchId> = standing.map(|batch| batch.id).collect();
            Ok(looked_into(draft, asked, &all, false))
        }
    }
}

/// Whoever chats says it of themselves; of guests and children others say it.
fn drops(draft: &mut Draft, said: &Avoid, who: &Eats, what: &[Words]) -> Step {
    let of = whose(draft, who, said)?;
    let member = draft.somebody(of);
    let name = member.name.clone();
    if member.chats && of != draft.input.sender {
        return Err(stop(AvoidProblem::TheirsToSay { who: name }));
    }
    let mut standing = draft.kitchen.avoids(of);
    if !what.is_empty() {
        let named: Vec<String> = what.iter().map(|what| key(&what.text)).collect();
        standing.retain(|told| named.contains(&told.key()));
    }
    if standing.is_empty() && what.is_empty() && !draft.input.addressed {
        // "no allergies" is said of guests, too.
        return Ok(Done::default());
    }
    if standing.is_empty() {
        let what = what.first().map(|what| what.text.clone());
        return Err(stop(AvoidProblem::NotTold { who: name, what }));
    }
    let over = standing.into_iter().map(|told| Avoidance {
        holds: false,
        ..told
    });
    let over = over.collect();
    Ok(tell(draft, of, over))
}

fn tell(draft: &mut Draft, of: MemberId, told: Vec<Avoidance>) -> Done {
    for fact in &told {
        draft.tell_of(of, PersonalFact::Avoids(fact.clone()));
    }
    let (who, message) = (eater(draft, of), draft.credit);
    saying(AvoidAnswer::Told { who, told, message })
}

fn listed(draft: &Draft, of: &[MemberId]) -> Done {
    let each = of.iter();
    let each = each.map(|id| (eater(draft, *id), draft.kitchen.avoids(*id)));
    saying(AvoidAnswer::Listed(each.collect()))
}

/// The oldest pot of that name, as a plate would have it.
fn may_eat(draft: &mut Draft, said: &Avoid, who: &Eats, dish: &Words) -> Step {
    let of = whose(draft, who, said)?;
    if let Some((profile, name)) = packet(draft, dish) {
        return Ok(saying(AvoidAnswer::Of {
            who: eater(draft, of),
            dish: name,
            batch: None,
            avoids: draft.kitchen.avoids(of),
            found: draft.kitchen.avoided_plainly(of, profile),
        }));
    }
    let found = find::batches(draft, dish)?;
    let batch = draft.kitchen.batch(found[0]);
    Ok(saying(AvoidAnswer::Of {
        who: eater(draft, of),
        dish: batch.name.clone(),
        batch: Some(batch.code.clone()),
        avoids: draft.kitchen.avoids(of),
        found: draft.kitchen.avoided_by(of, batch),
    }))
}

fn looked_into(draft: &Draft, asked: Asked, batches: &[BatchId], named: bool) -> Done {
    let dishes = batches.iter().map(|id| {
        let batch = draft.kitchen.batch(*id);
        let (name, code) = (batch.name.clone(), Some(batch.code.clone()));
        in_dish(&asked, name, code, &draft.kitchen.parts(batch))
    });
    let dishes = dishes.collect();
    looked(asked, dishes, named)
}

fn looked(asked: Asked, dishes: Vec<InDish>, named: bool) -> Done {
    saying(AvoidAnswer::In {
        asked,
        dishes,
        named,
    })
}

fn in_dish(asked: &Asked, name: String, batch: Option<String>, parts: &[Part]) -> InDish {
    let (found, unknown) = in_parts(asked, parts);
    InDish {
        name,
        batch,
        found,
        unknown,
    }
}

/// What a name means, if it is a packet that was entered here.
fn packet(draft: &Draft, name: &Words) -> Option<(ProfileId, String)> {
    match resolve(&draft.kitchen, name, Use::Eaten, draft.today())
        .ok()?
        .thing
    {
        Thing::Packet(profile) => {
            let named = draft.kitchen.profiles.get(&profile)?.packet.clone();
            Some((profile, named?))
        }
        Thing::Batches(_) | Thing::Food(_) => None,
    }
}

/// It goes by the name of what was bought; what is in a dish that was cooked here, its ingredients tell.
fn contents(draft: &mut Draft, name: &Words, things: &[Words], whole: bool) -> Step {
    let called = match packet(draft, name) {
        Some((_, packet)) => packet,
        None => name.text.clone(),
    };
    let cooked = |batch: &&Batch| !batch.lines.is_empty() && key(&batch.name) == key(&called);
    if let Some(cooked) = draft.kitchen.open_batches().find(cooked) {
        let (dish, batch) = (cooked.name.clone(), cooked.code.clone());
        return Err(stop(AvoidProblem::CookedHere { dish, batch }));
    }
    let told = Contents {
        key: key(&called),
        words: called.clone(),
        things: things.iter().map(|thing| thing.text.clone()).collect(),
        whole,
    };
    draft.fact(Detail::Prep(PrepDetail::Contents(told)));
    let standing = draft.kitchen.contents(&called);
    let things = standing.map_or(Vec::new(), |known| known.things);
    let parts = draft.kitchen.parts_named(&called);
    let (allergens, _) = in_parts(&Asked::Allergens, &parts);
    Ok(saying(AvoidAnswer::Contents {
        name: called,
        things,
        whole,
        allergens: allergens.into_iter().map(|(label, _)| label).collect(),
        message: draft.credit,
    }))
}

/// What these parts have of it, each with the parts that have it, and those of which nobody can tell.
fn in_parts(asked: &Asked, parts: &[Part]) -> (Vec<(String, Vec<String>)>, Vec<String>) {
    let one = |what: &str, cannot: bool| has(&Means::of(what, cannot), parts);
    let known = |(what, has): &(String, Has)| {
        let found = !has.in_what.is_empty();
        found.then(|| (what.clone(), has.in_what.clone()))
    };
    let each: Vec<(String, Has)> = match asked {
        Asked::Allergens => Allergen::all()
            .map(|it| (it.label().to_owned(), has(&Means::only(it), parts)))
            .collect(),
        Asked::What(what) => vec![(what.clone(), one(what, true))],
        Asked::Person(_, avoids) => {
            let each = avoids.iter();
            each.map(|it| (it.what.clone(), one(&it.what, it.cannot)))
                .collect()
        }
    };
    let mut unknown: Vec<String> = Vec::new();
    for name in each.iter().flat_map(|(_, has)| &has.unknown) {
        if !unknown.contains(name) {
            unknown.push(name.clone());
        }
    }
    (each.iter().filter_map(known).collect(), unknown)
}

/// What on the plates of this decision somebody avoids, beside the answer.
pub fn add(draft: &Draft, done: &mut Done) {
    let mut plates: Vec<AccountId> = Vec::new();
    for change in &draft.changes {
        let Change::Entry { entry, .. } = change else {
            continue;
        };
        for end in [entry.from, entry.to] {
            if let Account::Plate(plate) = end
                && !plates.contains(&plate)
            {
                plates.push(plate);
            }
        }
    }
    let mut notes: Vec<Note> = Vec::new();
    for plate in plates.into_iter().filter_map(|id| draft.kitchen.plate(id)) {
        for avoided in on_plate(draft, plate) {
            let note = Note::Avoided(avoided);
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
    }
    if let Some(into) = done.answers.iter_mut().find_map(Answer::notes) {
        into.extend(notes);
    }
}

/// Of all that lies on the plate, since the answer that is shown is the whole plate; but for what was told in private.
fn on_plate(draft: &Draft, plate: &Plate) -> Vec<Avoided> {
    let mut found: Vec<Avoided> = Vec::new();
    let alone = draft.input.private && plate.member == draft.input.sender;
    let private = &draft.kitchen.told_privately;
    let shown = |it: &&PlatePortion| alone || !private.contains(&it.entry);
    for portion in plate.portions.iter().filter(shown) {
        let mut avoided = match (portion.batch, portion.profile) {
            (Some(batch), _) => draft
                .kitchen
                .avoided_by(plate.member, draft.kitchen.batch(batch)),
            (None, Some(profile)) => draft.kitchen.avoided_plainly(plate.member, profile),
            (None, None) => Vec::new(),
        };
        // What is only not known in full is said with the first plate of it.
        let plates = draft.before.plates.iter();
        let others = plates.filter(|it| it.member == plate.member && it.id != plate.id);
        let mut others = others.flat_map(|it| &it.portions);
        let had = others.any(|it| {
            it.batch == portion.batch && (it.batch.is_some() || it.profile == portion.profile)
        });
        avoided.retain(|it| it.is_in() || !had);
        found.extend(avoided);
    }
    found
}

fn whose(draft: &mut Draft, who: &Eats, said: &Avoid) -> Result<MemberId, Stop> {
    match who {
        Eats::Me => Ok(draft.input.sender),
        Eats::Named(words) => find_person(draft, words, |name| {
            let mut said = said.clone();
            if let Avoid::Tells { who, .. }
            | Avoid::Drops { who, .. }
            | Avoid::Asks { who: Some(who) }
            | Avoid::MayEat { who, .. } = &mut said
            {
                *who = Eats::Named(Words::plain(name));
            }
            Command::Avoid(said).to_string()
        }),
    }
}

fn eater(draft: &Draft, of: MemberId) -> Eater {
    Eater {
        name: draft.somebody(of).name.clone(),
        you: of == draft.input.sender,
    }
}

fn stop(problem: AvoidProblem) -> Stop {
    ProblemKind::Avoid(problem).into()
}

fn saying(answer: AvoidAnswer) -> Done {
    Done::saying(Answer::Avoid(Box::new(answer)))
}
