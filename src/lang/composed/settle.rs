//! A scene as plates and losses: the parts are worked out so that they add up to what was served.

use super::atom::Fate;
use super::by_itself::by_itself;
use super::drawn::drawn;
use super::scene::{Owner, Scene, Story, Told};
use crate::lang::amount::tidy;
use crate::lang::command::share::content::Content;
use crate::lang::command::share::party::{Role, Who};
use crate::lang::command::share::plan;
use crate::lang::command::share::size::Size;
use crate::lang::command::share::solve::{Claim, Whole};
use crate::lang::command::share::telling::Telling;
use crate::lang::syntax::{
    Amount, Command, Eater, Item, Part, PartSize, Portion, Share, SharePart, Words,
};

/// Parts that differ from the whole by more do not add up.
const SLACK_GRAMS: f64 = 0.5;
/// Less is no part of a dish.
const PART_GRAMS_MIN: f64 = 1.0;

/// What a scene comes to.
#[derive(Debug, Default)]
pub struct Settled {
    pub portions: Vec<Portion>,
    pub wasted: Vec<Item>,
    /// Draws on a pot in the order in which they were told, in the place of both.
    pub steps: Vec<Command>,
}

pub fn commands(story: &Story) -> Option<Vec<Command>> {
    let mut out = Vec::new();
    for scene in &story.scenes {
        let settled = settled(scene, story)?;
        // What is thrown away goes first: somebody may have had all that was left.
        if !settled.wasted.is_empty() {
            out.push(Command::Waste {
                items: settled.wasted,
                reason: None,
                anyway: false,
            });
        }
        out.extend(settled.portions.into_iter().map(Command::Portion));
        out.extend(settled.steps);
    }
    Some(out)
}

pub fn settled(scene: &Scene, story: &Story) -> Option<Settled> {
    let mut scene = scene.clone();
    if scene.dish.is_none() || scene.less {
        return None;
    }
    scene.serve();
    let frame = Telling {
        day: story.day.clone(),
        meal: story.meal,
        ..Telling::default()
    };
    match scene.whole.clone() {
        Some(mut whole) => {
            whole.name = scene.dish.clone()?;
            of_whole(&scene, whole, &frame)
        }
        None => drawn(&scene, &frame).or_else(|| match scene.told.iter().any(Told::is_share) {
            true => of_pot(&scene, &frame),
            false => by_itself(&scene, &frame),
        }),
    }
}

/// What became of all that was served, part by part; together they are the whole.
pub fn parts(scene: &Scene, story: &Story) -> Option<Vec<(Part, f64)>> {
    let whole = scene.whole.as_ref().and_then(grams_of)?;
    let settled = settled(scene, story)?;
    let mut out: Vec<(Part, f64)> = Vec::new();
    for portion in &settled.portions {
        let grams = portion.items.iter().map(grams_of).sum::<Option<f64>>()?;
        match &portion.share {
            None => out.push((Part::Eaten(portion.who.clone()), grams)),
            Some(Share::Parts(parts)) => {
                let parts = weighed(parts, grams)?.into_iter();
                out.extend(parts.map(|(who, grams)| (Part::Eaten(who), grams)));
            }
            Some(_) => return None,
        }
    }
    let wasted = settled.wasted.iter().map(grams_of).sum::<Option<f64>>()?;
    if wasted > 0.0 {
        out.push((Part::Away, wasted));
    }
    let told: f64 = out.iter().map(|(_, grams)| grams).sum();
    if whole - told > SLACK_GRAMS {
        out.push((Part::Back, whole - told));
    }
    Some(out)
}

impl Scene {
    fn claims(&self) -> Vec<Claim> {
        let claim = |told: &Told| {
            let who = match &told.owner {
                Owner::People(who) => who.clone(),
                Owner::Fate(fate) => Who::Named(vec![Some(nobody(*fate))]),
            };
            let several = who.one().is_none();
            let size = match &told.size {
                Size::Amount(Amount::Bare(parts)) if self.parts.is_some() => Size::Shares(*parts),
                size => size.clone(),
            };
            let each = told.each.filter(|_| several);
            Claim::of_it(who, size, each)
        };
        self.told.iter().map(claim).collect()
    }

    /// The parts that are told are all of it.
    fn is_told_whole(&self, whole: &Item) -> bool {
        let Some(grams) = grams_of(whole) else {
            return false;
        };
        let told = |told: &Told| match told.size {
            Size::Part(share) => Some(share * grams),
            _ => told.grams(),
        };
        let sum: Option<f64> = self.told.iter().map(told).sum();
        sum.is_some_and(|sum| (sum - grams).abs() <= SLACK_GRAMS)
    }

    fn people(&self) -> impl Iterator<Item = &Who> {
        self.told.iter().filter_map(Told::people)
    }
}

/// A part that nobody eats, as if somebody had it.
fn nobody(fate: Fate) -> Words {
    Words::plain(match fate {
        Fate::Back => "\u{1}back",
        Fate::Kept => "\u{1}kept",
        Fate::Away => "\u{1}away",
    })
}

fn is_nobody(eater: &Eater) -> bool {
    eater
        .as_ref()
        .is_some_and(|who| who.text.starts_with('\u{1}'))
}

fn grams_of(item: &Item) -> Option<f64> {
    match item.amount {
        Amount::Bare(grams) | Amount::Mass(grams) if item.container.is_none() => Some(grams),
        _ => None,
    }
}

fn of_whole(scene: &Scene, whole: Item, frame: &Telling) -> Option<Settled> {
    if scene.told.is_empty() && scene.given.is_empty() {
        return (scene.split.is_some() || scene.party.is_some())
            .then(|| served(scene, whole, frame))
            .flatten();
    }
    // What was thrown away may have come out of the pot: it must be said to be of this.
    let of_this = |told: &Told| told.of_it || told.left_by || scene.uneaten || told.is_share();
    let lost = scene.told.iter().filter(|told| told.fate().is_some());
    if lost.clone().any(|told| !of_this(told))
        || scene.told.iter().any(|told| told.container.is_some())
    {
        return None;
    }
    let mut claims = scene.claims();
    // "there was 300 soup in the bowl and I left 60": the rest was eaten by whoever's it was.
    let party = scene.party.clone();
    let party = party.filter(|who| *who != Who::Everyone || scene.told.is_empty());
    let party = party.filter(|_| !scene.is_told_whole(&whole));
    if scene.people().next().is_none() && party.is_none() {
        claims.push(Claim::of_it(Who::sender(), Size::Rest, None));
    }
    let everyone = scene.split.is_some() || !scene.given.is_empty();
    if everyone && scene.told.is_empty() {
        let who = party.clone().unwrap_or(Who::Everyone);
        return given_on(scene, whole, &who, frame);
    }
    let portions = Whole::of(vec![whole.clone()], party).divided(frame, claims)?;
    let [portion] = portions.as_slice() else {
        return None;
    };
    let Some(Share::Parts(parts)) = &portion.share else {
        return None;
    };
    let Some(grams) = grams_of(&whole) else {
        if let Some(settled) = out_of_vessel(scene, &whole, parts, portion) {
            return Some(settled);
        }
        let plain = parts.iter().all(|part| !is_nobody(&part.who)) && scene.given.is_empty();
        return plain.then(|| Settled {
            portions,
            ..Settled::default()
        });
    };
    let parts = weighed(parts, grams)?;
    let portion = portion.clone();
    divided(scene, portion, whole, parts)
}

/// "glass jar 455 with salsa, ate it all bar 30": what was left comes off the weight with its vessel.
fn out_of_vessel(
    scene: &Scene,
    whole: &Item,
    parts: &[SharePart],
    portion: &Portion,
) -> Option<Settled> {
    let (Amount::Bare(gross) | Amount::Mass(gross)) = whole.amount else {
        return None;
    };
    let (lost, eaten): (Vec<&SharePart>, Vec<&SharePart>) =
        parts.iter().partition(|part| is_nobody(&part.who));
    let [
        SharePart {
            who,
            size: PartSize::Rest,
        },
    ] = eaten.as_slice()
    else {
        return None;
    };
    let grams = |part: &&SharePart| match part.size {
        PartSize::Grams(grams) => Some(grams),
        PartSize::Of(_) | PartSize::Rest => None,
    };
    let all: f64 = lost.iter().map(grams).sum::<Option<f64>>()?;
    if lost.is_empty() || all >= gross || !scene.given.is_empty() {
        return None;
    }
    let items = vec![Item {
        amount: Amount::Mass(tidy(gross - all)),
        ..whole.clone()
    }];
    let thrown = |part: &&&SharePart| part.who.as_ref() == Some(&nobody(Fate::Away));
    let wasted = lost.iter().filter(thrown).filter_map(|part| {
        let amount = Amount::Mass(grams(part)?);
        Some(Item::new(amount, whole.name.clone()))
    });
    Some(Settled {
        wasted: wasted.collect(),
        portions: vec![Portion {
            items,
            who: who.clone(),
            share: None,
            ..portion.clone()
        }],
        ..Settled::default()
    })
}

/// Each part in grams, if together they are the whole.
fn weighed(parts: &[SharePart], whole: f64) -> Option<Vec<(Eater, f64)>> {
    let told = |part: &SharePart| match part.size {
        PartSize::Grams(grams) => Some(grams),
        PartSize::Of(share) => Some(share * whole),
        PartSize::Rest => None,
    };
    let sum: f64 = parts.iter().filter_map(told).sum();
    let open = parts.iter().filter(|part| told(part).is_none()).count();
    let rest = (whole - sum) / open.max(1) as f64;
    let adds_up = match open {
        0 => (whole - sum).abs() <= SLACK_GRAMS,
        _ => rest >= PART_GRAMS_MIN,
    };
    let parts = parts
        .iter()
        .map(|part| (part.who.clone(), told(part).unwrap_or(rest)));
    adds_up.then(|| parts.collect())
}

/// The parts as plates and losses, with what was handed on.
fn divided(
    scene: &Scene,
    portion: Portion,
    whole: Item,
    mut parts: Vec<(Eater, f64)>,
) -> Option<Settled> {
    for (from, to, grams) in &scene.given {
        let giver = parts.iter_mut().find(|(who, _)| who == from)?;
        giver.1 -= grams;
        match parts.iter_mut().find(|(who, _)| who == to) {
            Some(taker) => taker.1 += grams,
            None => parts.push((to.clone(), *grams)),
        }
    }
    if parts.iter().any(|(_, grams)| *grams < PART_GRAMS_MIN) {
        return None;
    }
    let (lost, eaten): (Vec<_>, Vec<_>) = parts.into_iter().partition(|(who, _)| is_nobody(who));
    let mut settled = Settled::default();
    for (who, grams) in &lost {
        if who.as_ref() == Some(&nobody(Fate::Away)) {
            settled.wasted.push(Item {
                amount: Amount::Mass(tidy(*grams)),
                ..whole.clone()
            });
        }
    }
    if lost.is_empty() && scene.given.is_empty() {
        settled.portions = vec![portion];
        return Some(settled);
    }
    let all: f64 = eaten.iter().map(|(_, grams)| grams).sum();
    let items = vec![Item {
        amount: Amount::Mass(tidy(all)),
        ..whole
    }];
    let portion = Portion {
        items,
        share: None,
        ..portion
    };
    settled.portions = match eaten.as_slice() {
        [] => Vec::new(),
        [(who, _)] => vec![Portion {
            who: who.clone(),
            ..portion
        }],
        several => {
            let part = |(who, grams): &(Eater, f64)| SharePart {
                who: who.clone(),
                size: PartSize::Of(grams / all),
            };
            let share = Some(Share::Parts(several.iter().map(part).collect()));
            vec![Portion { share, ..portion }]
        }
    };
    Some(settled)
}

/// Nobody's part is told: all of it is somebody's, or it was shared evenly.
fn served(scene: &Scene, whole: Item, frame: &Telling) -> Option<Settled> {
    let telling = Telling {
        who: scene.party.clone(),
        role: scene.party.as_ref().map(|_| Role::Between),
        content: Some(Content::Items(vec![whole])),
        split: scene.split,
        ..frame.clone()
    };
    Some(Settled {
        portions: plan::plate(telling)?,
        ..Settled::default()
    })
}

/// Shared evenly among people who are all known by name, and then handed on.
fn given_on(scene: &Scene, whole: Item, who: &Who, frame: &Telling) -> Option<Settled> {
    let grams = grams_of(&whole)?;
    let Who::Named(named) = who else {
        return None;
    };
    let parts = named
        .iter()
        .map(|eater| (eater.clone(), grams / named.len() as f64))
        .collect();
    let portion = plan::portion(frame, vec![whole.clone()], None, None);
    divided(scene, portion, whole, parts)
}

/// Parts of all that is left of a dish.
fn of_pot(scene: &Scene, frame: &Telling) -> Option<Settled> {
    if scene.told.iter().any(|told| told.item.is_some()) && scene.told.len() < 2 {
        return None;
    }
    let name = scene.dish.clone()?;
    let mut wasted = Vec::new();
    let rest = scene.people().next().is_some()
        && scene
            .told
            .iter()
            .any(|told| told.size == Size::Rest && told.people().is_some());
    let mut eaten = scene.clone();
    for told in scene.told.iter().filter(|told| told.fate().is_some()) {
        match (told.fate(), told.grams(), rest) {
            (Some(Fate::Away), Some(grams), true) => {
                wasted.push(Item::new(Amount::Mass(grams), name.clone()));
            }
            (Some(Fate::Kept | Fate::Back), None, false) => {}
            _ => return None,
        }
    }
    eaten.told.retain(|told| told.fate().is_none());
    if !scene.given.is_empty() {
        return None;
    }
    let all = Item::new(Amount::Share(1.0), name);
    let alone = match eaten.told.as_slice() {
        [only] if only.size == Size::Rest => only.people().and_then(Who::one).cloned(),
        _ => None,
    };
    let portions = match alone {
        Some(who) => vec![plan::portion(frame, vec![all], Some(who), None)],
        None => Whole::pot(all).divided(frame, eaten.claims())?,
    };
    Some(Settled {
        portions,
        wasted,
        ..Settled::default()
    })
}
