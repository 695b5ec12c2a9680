//! What a message tells in several clauses, each of which gives a part: "pan of dal was 540, Ana took 190, I had the
//! rest", "tom wanted beans, so 120 for him and 90 for me", "took 350 g soup, drank 3/5 of it and poured the rest
//! down the sink".
//!
//! The message is cut into atoms (`atom.rs`): who, how much, of what, what became of it. Atoms are gathered (`gather.rs`)
//! into scenes, one for each dish (`scene.rs`): a whole, if one was served, and the parts of it. A scene is settled
//! (`settle.rs`): its parts must add up to the whole exactly, and there must be one way in which they do. Words
//! between are passed over, so everything else has to be accounted for: every number, every dish and everybody who
//! is named is part of what is booked, or nothing is.

mod atom;
mod by_itself;
mod drawn;
mod fated;
mod gather;
mod people;
mod scene;
mod settle;
mod size;

use super::command::share::comes_off;
use super::command::share::party::Who;
use super::command::share::size::Size;
use super::gist::{is_fix, is_governed, is_gross};
use super::remark;
use super::syntax::{Eater, Item, Part, Reading, Reason};
use super::token::Token;
use super::tokens::Tokens;
use super::words::losses;
use atom::{Atom, Fate};
use scene::{Scene, Story, Told};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 60;
const PARTED_TOKENS_MAX: usize = 40;

/// The message as plates and losses, if it is one.
pub fn read(input: Tokens<'_>, rank: i32) -> Option<Reading> {
    if input.len() > TOKENS_MAX || !names_dish(input) {
        return None;
    }
    let atoms = atom::atoms(input)?;
    // "put 20 of my chilli back so the pot's 2360": what is in the pot then is nobody's.
    let back = atoms
        .iter()
        .any(|atom| matches!(atom, Atom::Fate(Fate::Back)));
    if !is_composed(&atoms) || back && remark::shows_a_vessel(input) {
        return None;
    }
    let story = gather::story(&atoms, None)?;
    if !is_told(&story)
        || !is_accounted(&story)
        || is_governed(input)
        || is_fix(input)
        || is_gross(input)
    {
        return None;
    }
    let off = comes_off(input);
    // "150 dal or 140 rice": which, nobody says.
    let doubts = input.slice.iter().any(|token| token.norm() == "or");
    // "saved 430 of it, the rest is on the floor": how much there was before, the pot knows.
    let rescued = losses().stand_in(input.slice, "rescued");
    if off || doubts || rescued {
        return None;
    }
    let commands = settle::commands(&story)?;
    let names = story.scenes.iter().filter_map(|scene| scene.dish.as_ref());
    let mut reasons: Vec<Reason> = names.map(|name| Reason::Known(name.text.clone())).collect();
    reasons.push(Reason::Cut("composed"));
    (!commands.is_empty()).then(|| Reading {
        commands,
        errors: Vec::new(),
        reasons,
        rank,
        sure: true,
        weighing_like: true,
    })
}

/// The parts of what stands on the plate of its owner, if the message tells of parts of it and of nothing else.
pub fn parted(input: Tokens<'_>, held: &Item, owner: &Eater) -> Option<Vec<(Part, f64)>> {
    let asked = input.slice.iter().any(|token| token.is('?'));
    // "another 60 of it": besides what stands there.
    let besides = |pair: &[Token]| pair[0].norm() == "another" && pair[1].is_numeric();
    let besides = input.slice.windows(2).any(besides);
    if input.len() > PARTED_TOKENS_MAX || asked || besides {
        return None;
    }
    let atoms = atom::atoms(input)?;
    let served = Scene {
        dish: Some(held.name.clone()),
        household: true,
        whole: Some(held.clone()),
        ..Scene::default()
    };
    let story = gather::story(&atoms, Some(served))?;
    let [scene] = story.scenes.as_slice() else {
        return None;
    };
    let mut scene = scene.clone();
    let of_it = scene.is_of_what_stands() || comes_off(input);
    let when = story.day.is_some() || story.meal.is_some();
    // "60 of mine": of which plate, nobody says.
    let mine = |told: &Told| told.of.is_some() && !scene.named;
    if !of_it || when || scene.told.iter().any(mine) || is_governed(input) {
        return None;
    }
    scene.belonged_to(owner);
    let known = |who: &Who| matches!(who, Who::Named(named) if named.contains(owner));
    if scene.bystanders().any(|who| !known(who)) {
        return None;
    }
    settle::parts(&scene, &story)
}

/// A quick look: a dish of the household is named.
fn names_dish(input: Tokens<'_>) -> bool {
    let known = |at: usize| input.vocabulary.names_food(input.norm(at));
    (0..input.len()).any(known)
}

/// Somebody else is told of, or what became of a part.
fn is_composed(atoms: &[Atom]) -> bool {
    let tells = |atom: &Atom| match atom {
        Atom::Who(said) => said.who != Who::sender(),
        Atom::Fate(_) | Atom::AllBut | Atom::Uneaten => true,
        _ => false,
    };
    atoms.iter().any(tells)
}

/// Several things are told of one dish, and one of them is how much.
fn is_told(story: &Story) -> bool {
    let weighs =
        |told: &Told| matches!(told.size, Size::Amount(_) | Size::Part(_) | Size::Shares(_));
    let scenes = &story.scenes;
    let several = scenes
        .iter()
        .map(|scene| scene.told.len() + usize::from(scene.whole.is_some()));
    several.sum::<usize>() > 1
        && scenes
            .iter()
            .any(|scene| scene.whole.is_some() || scene.told.iter().any(weighs))
}

/// Everybody who is named has a part, or none; a dish of the household is told of.
fn is_accounted(story: &Story) -> bool {
    let scenes = &story.scenes;
    scenes.iter().any(|scene| scene.household)
        && scenes
            .iter()
            .all(|scene| scene.bystanders().next().is_none())
}

#[cfg(test)]
mod tests {
    use crate::lang::parse;
    use crate::lang::spelled::is_no;
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        let dishes = ["dal", "soup", "chilli", "beans", "parsnips", "rice"];
        let dishes = dishes.iter().fold(Vocabulary::new(), |words, dish| {
            words.with(Sense::Batch, dish)
        });
        ["Ana", "Tom"]
            .iter()
            .fold(dishes, |words, name| words.with(Sense::Person, name))
            .with(Sense::Container, "steel bowl")
            .with(Sense::Container, "glass jar")
    }

    #[track_caller]
    fn means(text: &str, printed: &str) {
        let parsed = parse(text, &words());
        let best = parsed.best();
        let commands: Vec<String> = best.commands.iter().map(ToString::to_string).collect();
        assert_eq!(commands.join("\n"), printed, "{text}");
        assert!(best.sure, "{text}: {:?}", best.reasons);
    }

    #[track_caller]
    fn tells_nothing(text: &str) {
        is_no(text, &words(), |command| {
            matches!(command, Command::Portion(_) | Command::Waste { .. })
        });
    }

    #[test]
    fn what_was_served_is_divided_among_those_who_are_told_of() {
        means(
            "pan of dal was 540, Ana took 190, I had the rest",
            "540 dal, 190 g for Ana, the rest for me",
        );
        means(
            "soup 900, two parts Tom one part me",
            "900 soup, 2/3 for Tom, 1/3 for me",
        );
        means(
            "three ladles of the dal, Ana one, two for yours truly",
            "3 ladle dal, 1/3 for Ana, 2/3 for me",
        );
        means(
            "450 soup. Tom a third. I'm having half of what's then left. Ana the other half.",
            "450 soup, 1/3 for Tom, 1/3 for me, 1/3 for Ana",
        );
        means(
            "390 of the parsnips came to the table. 40% of that for Tom, Ana and I went even on what he didn't take",
            "390 parsnips, 40% for Tom, the rest for Ana, the rest for me",
        );
        means(
            "chilli was 612 minus the 248 of the dish, half of that is Tom's, other half mine",
            "364 g chilli, 50% for Tom, the rest for me",
        );
    }

    #[test]
    fn what_is_handed_on_comes_off_whoever_had_it() {
        let parts = "500 rice, 60% for Tom, 40% for me";
        for text in [
            "Tom and me shared 500 rice but I gave him 50 of mine",
            "Tom and I split 500 rice, but I gave Tom 50 of mine",
        ] {
            means(text, &parts.replace("500", "500 g"));
        }
    }

    #[test]
    fn what_stays_or_is_thrown_away_is_on_no_plate() {
        means(
            "took 0,35 kg soup, drank 3/5 of it and poured the rest down the sink",
            "binned 140 g soup\n210 g soup",
        );
        means(
            "took 300 chilli, ate all but 45, the 45 went in the bin",
            "255 g chilli\nbinned 45 chilli",
        );
        means("there was 300 soup in the bowl and I left 60", "240 g soup");
        means(
            "I finished the beans, all but 120 that I scraped into the compost",
            "binned 120 g beans\nall the beans",
        );
        means(
            "glass jar 455 with soup for my lunch, ate it all bar 30",
            "425 g soup in the glass jar for lunch",
        );
    }

    #[test]
    fn what_does_not_add_up_or_may_be_anybodys_is_not_booked() {
        for text in [
            "pan of dal was 540, Ana took 190, I had 200",
            "130 soup and 70 in the bin",
            "Tom took 300 rice, 100 for Ana and the rest is his",
            "1 kg of soup went to Ana and Tom, her bowl had 50 more than his",
            "if Ana takes 190 of the 540 dal, I have the rest",
            "mum made 540 dal, Ana took 190, mum had the rest",
            "all three of us had 80 soup, Ana double that",
        ] {
            tells_nothing(text);
        }
    }
}
