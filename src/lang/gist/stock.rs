//! What became of the food in the pots: "dog got into the rice 250 gone", "checked the rice again: 1355",
//! "recount soup 2150 and i ate 200 after that".
//!
//! ```text
//! stock := { lost | counted | eaten } (tale.rs), not all of them eaten
//!        | a dish, and that it was got rid of, without an amount: all of it
//! ```

use super::aside::vessels;
use super::eater;
use super::evidence::is_mistaken;
use super::mark::Mark;
use super::pair::Pair;
use super::scale::known_vessel;
use super::sentence::Sentence;
use super::tale::{Tale, Told, grams, is_governed, tales};
use crate::lang::command::on_scale::is_plate;
use crate::lang::lexer::folded_words;
use crate::lang::lost::{self, Loss, Sign};
use crate::lang::place::{inside, is_place};
use crate::lang::syntax::{Amount, Command, Item, Weighed, Weighing, Words};
use crate::lang::tokens::Tokens;
use crate::lang::words::{containers, elsewhere, losses, pots};

/// Less of a dish is no loss and no store: it counts something.
const GRAMS_MIN: f64 = 5.0;

pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let all = || all_lost(sentence).map(|item| vec![waste(sentence, vec![item])]);
    let Some(told) = tales(sentence) else {
        return all();
    };
    // "150 chilli minus 10 for the bit on the floor" tells of one plate.
    let lessened = |told: &Told| {
        told.pair.at > 0 && matches!(sentence.norm(told.pair.at - 1), "minus" | "less")
    };
    let mistaken = |told: &Told| is_mistaken(sentence, &told.pair);
    // "binned the salsa except 430": what was lost is the rest.
    let kept = |told: &Told| {
        let before = told.pair.at.saturating_sub(2)..told.pair.at;
        let says = |at: usize| {
            let rest = sentence.input.after(sentence.marks[at].from);
            ["kept", "rescued"]
                .into_iter()
                .any(|key| losses().longest_of(rest.slice, key).is_some())
        };
        told.tale == Tale::Lost && before.into_iter().any(says)
    };
    if told
        .iter()
        .any(|it| kept(it) || lessened(it) || mistaken(it))
    {
        return None;
    }
    // With a vessel on the scale the numbers may be of both.
    let mixed = told.iter().any(|it| it.tale != told[0].tale);
    if mixed && vessel(sentence)?.is_some() {
        return None;
    }
    let told = left_on_the_plate(sentence, told)?;
    if told.iter().all(|told| told.tale == Tale::Eaten)
        || !told.iter().all(|told| is_plausible(sentence, told))
    {
        return None;
    }
    let told = each_once(sentence, told);
    if is_told_twice(&told) {
        return None;
    }
    let mut commands = Vec::new();
    let mut rest = told.as_slice();
    while let Some(first) = rest.first() {
        let length = rest
            .iter()
            .take_while(|told| told.tale == first.tale)
            .count();
        let (these, later) = rest.split_at(length);
        rest = later;
        match first.tale {
            Tale::Lost => commands.push(waste(
                sentence,
                these.iter().map(|told| told.pair.item(sentence)).collect(),
            )),
            Tale::Counted => commands.push(count(sentence, these)?),
            Tale::Eaten => {
                let mut pairs: Vec<Pair> = these.iter().map(|told| told.pair.clone()).collect();
                let portions = eater::portions(sentence, &mut pairs)?;
                commands.extend(portions.into_iter().map(Command::Portion));
            }
        }
    }
    Some(commands)
}

/// "had 180 beans, scraped 40 of it in the bin": what was lost of a plate was not eaten, and was not in the pot.
/// "ate all but 45, the 45 went in the bin" says so twice. Nothing where it may have been lost of the pot.
fn left_on_the_plate(sentence: &Sentence<'_>, told: Vec<Told>) -> Option<Vec<Told>> {
    let [eaten @ .., lost] = told.as_slice() else {
        return Some(told);
    };
    let plates = eaten.iter().filter(|told| told.tale == Tale::Eaten).count();
    let own_name = lost.pair.to > lost.pair.at + 1 || lost.pair.from < lost.pair.at;
    if lost.tale != Tale::Lost || plates == 0 || own_name {
        return Some(told);
    }
    let all_but = |told: &Told| grams(&told.pair) == grams(&lost.pair);
    let mut told: Vec<Told> = eaten
        .iter()
        .filter(|told| !all_but(told))
        .chain([lost])
        .cloned()
        .collect();
    let [plate, lost] = told.as_mut_slice() else {
        return None;
    };
    let says = |at: usize| {
        losses().longest_of(
            sentence.input.after(sentence.marks[at].from).slice,
            "uneaten",
        )
    };
    if !(plate.region.start..lost.region.end).any(|at| says(at).is_some()) {
        return is_by_itself(sentence, plate, lost).then_some(told);
    }
    let rest = grams(&plate.pair)? - grams(&lost.pair)?;
    plate.pair.amount = Amount::Mass(rest);
    (rest > 0.0).then_some(told)
}

/// "100 eaten 50 binned", "ate 110 and threw away 40", "had 130, the other 40 went in the bin": each tells of
/// its own food.
fn is_by_itself(sentence: &Sentence<'_>, plate: &Told, lost: &Told) -> bool {
    let behind = sentence.marks.get(lost.pair.to).map(|it| it.from);
    let signs = lost::signs(sentence.input).unwrap_or_default();
    let phrase = |at: usize, key| {
        let rest = sentence.input.after(sentence.marks[at].from);
        losses().longest_of(rest.slice, key).is_some()
    };
    signs.iter().any(|sign| Some(sign.from) == behind)
        || plate.region.clone().any(|at| phrase(at, "exact"))
        || (plate.region.end..lost.pair.at).any(|at| phrase(at, "apart"))
}

/// "recount 780, 780 left" tells one count, and "in 2 tubs, 640 and 515" what both come to.
fn each_once(sentence: &Sentence<'_>, told: Vec<Told>) -> Vec<Told> {
    let mut once: Vec<Told> = Vec::new();
    for it in told {
        let same = |known: &Told| {
            let counted = known.tale == Tale::Counted && it.tale == Tale::Counted;
            counted && known.pair.name == it.pair.name && grams(&known.pair) == grams(&it.pair)
        };
        if !once.iter().any(same) {
            once.push(it);
        }
    }
    let several = once.len() > 1 && vessels(sentence.input) == Some(once.len());
    let of_one = once
        .iter()
        .all(|it| it.tale == Tale::Counted && it.pair.name.text == once[0].pair.name.text);
    if several && of_one {
        let all: Option<f64> = once.iter().map(|it| grams(&it.pair)).sum();
        once.truncate(1);
        once[0].pair.amount = all.map_or(once[0].pair.amount.clone(), Amount::Mass);
    }
    once
}

/// "400 salsa left, I say 300": two counts of one dish.
fn is_told_twice(told: &[Told]) -> bool {
    let counted = told.iter().filter(|told| told.tale == Tale::Counted);
    let mut names: Vec<String> = counted
        .map(|told| told.pair.name.text.to_lowercase())
        .collect();
    let all = names.len();
    names.sort();
    names.dedup();
    names.len() < all
}

fn waste(sentence: &Sentence<'_>, items: Vec<Item>) -> Command {
    Command::Waste {
        items,
        reason: lost::reason(sentence.input),
        anyway: false,
    }
}

fn is_plausible(sentence: &Sentence<'_>, told: &Told) -> bool {
    let ours = is_batch(sentence, &told.pair.name);
    let enough = grams(&told.pair).is_none_or(|grams| grams >= GRAMS_MIN);
    let share = matches!(told.pair.amount, Amount::Share(_) | Amount::Volume { .. });
    enough
        && (told.tale == Tale::Eaten
            || ours && (grams(&told.pair).is_some() || told.tale == Tale::Lost && share))
}

fn count(sentence: &Sentence<'_>, told: &[Told]) -> Option<Command> {
    let place = only_place(sentence.input)?;
    // "all barley in the steel bowl 1400, all salsa in the glass jar 985": each in its own.
    let several = told.len() > 1;
    let items = told.iter().map(|told| {
        let item = told.pair.item(sentence);
        let net = Weighing::net(grams(&told.pair)?, item.span);
        let own = || known_vessel(sentence, told.region.clone()).map(Some);
        let apart = several.then(own).flatten();
        let weighing = match apart.or_else(|| vessel(sentence))? {
            Some(container) => Weighing {
                net: false,
                gross: true,
                container: Some(container),
                ..net
            },
            None => net,
        };
        Some(Weighed {
            name: item.name,
            place: place.clone(),
            weighing,
        })
    });
    Some(Command::Count {
        rest: None,
        items: items.collect::<Option<_>>()?,
        anyway: told.iter().any(|told| told.against_books),
    })
}

/// The one place that is named, as where the food stands; nothing when a place is told of in other ways.
fn only_place(input: Tokens<'_>) -> Option<Option<Words>> {
    let mut found: Option<Words> = None;
    let mut at = 0;
    while at < input.len() {
        if let Some((rest, place)) = inside(input.after(at)) {
            if found.as_ref().is_some_and(|known| *known != place) {
                return None;
            }
            found = Some(place);
            at = input.len() - rest.len();
        } else if is_place(input.range(at, at + 1)) {
            return None;
        } else {
            at += 1;
        }
    }
    Some(found)
}

/// The vessel that was on the scale, if its tare is known; nothing when one was of which nobody knows it.
fn vessel(sentence: &Sentence<'_>) -> Option<Option<Words>> {
    if (0..sentence.clause_count()).any(|clause| sentence.tells(clause, "bare")) {
        return Some(None);
    }
    let input = sentence.input;
    if let Some(name) = known_vessel(sentence, 0..sentence.marks.len()) {
        return Some(Some(name));
    }
    let with = |at: usize| {
        let skip = usize::from(matches!(input.norm(at + 1), "the" | "its" | "a"));
        let noun = input.norm(at + 1 + skip);
        matches!(input.norm(at), "with" | "incl" | "including" | "and")
            && (containers().has(noun) || pots().has(noun))
    };
    (!(0..input.len()).any(with)).then_some(None)
}

/// "the barley went off, chucked it all": a dish without an amount.
fn all_lost(sentence: &Sentence<'_>) -> Option<Item> {
    let input = sentence.input;
    let signs = lost::signs(input)?;
    let plated = input.slice.iter().any(|token| is_plate(token.norm()));
    let counted = sentence
        .marks
        .iter()
        .any(|it| matches!(it.mark, Mark::Amount(_) | Mark::Stray));
    if plated || counted || is_governed(sentence, &signs) {
        return None;
    }
    let away = |sign: &Sign| sign.kind == Loss::Away && sign.of_it;
    let whole =
        losses().stand_in(input.slice, "all") || (0..input.len()).any(|at| is_all_of(sentence, at));
    let strong = signs
        .iter()
        .any(|sign| matches!(sign.kind, Loss::Away | Loss::Mishap))
        || signs.len() > 1;
    if !(strong && whole || signs.iter().any(away)) {
        return None;
    }
    let mut dishes = sentence.marks.iter().filter_map(|it| match &it.mark {
        Mark::Dish(name) => Some((it.from, name.clone())),
        _ => None,
    });
    let (from, name) = dishes.next()?;
    // "one box in the bin, mouldy": the others stand.
    let before = input.norm(from.saturating_sub(1));
    let one = from > 0 && matches!(before, "one" | "a" | "another");
    if one && !input.vocabulary.is_piece(input.norm(from)) {
        return None;
    }
    let amount = match one {
        true => Amount::Bare(1.0),
        false => Amount::Share(1.0),
    };
    // "the barley sack in the shed" is no pot of barley.
    let stored = (0..input.len()).any(|at| elsewhere().longest(&input.slice[at..]).is_some());
    if stored || dishes.next().is_some() || !is_batch(sentence, &name) {
        return None;
    }
    Some(Item::new(amount, name).at(input.span()))
}

fn is_batch(sentence: &Sentence<'_>, name: &Words) -> bool {
    let words = folded_words(&name.text);
    let words: Vec<&str> = words
        .iter()
        .map(String::as_str)
        .skip_while(|word| *word == "the")
        .collect();
    sentence.input.vocabulary.is_batch(&words)
}

/// "all of the salsa", "the whole salsa": before the dish.
fn is_all_of(sentence: &Sentence<'_>, at: usize) -> bool {
    let input = sentence.input;
    let before = matches!(input.norm(at), "all" | "whole" | "entire" | "rest");
    before
        && sentence
            .marks
            .iter()
            .any(|it| (at + 1..at + 4).contains(&it.from) && matches!(it.mark, Mark::Dish(_)))
}
