//! What a reading that would be booked unasked leaves out of the message: "the rest", "twice that", what was thrown
//! away of a plate. Layers that pass over words must not pass over these: then the reading is not sure, and another
//! one is tried.
//!
//! ```text
//! told    := "the rest" | "twice as much" | eaten beside a loss or a count | shared beside a loss or a count
//!          | weight that is in no loss or count which is read
//! ```

use super::command::share::is_shared;
use super::figures;
use super::gist::aside;
use super::lost;
use super::name::{Familiarity, familiarity};
use super::number::number;
use super::of_others;
use super::person::person;
use super::rank::SCALE_GRAMS_MIN;
use super::syntax::{
    Amount, Command, ErrorKind, Fix, Item, Portion, Reading, Reason, Share, SharePart,
};
use super::token::Token;
use super::tokens::Tokens;
use super::vocabulary::Sense;
use super::words::{at_table, containers, cues, fates};

/// Any other reading comes before one that leaves out so much.
const LEFT_OUT: i32 = 500;
/// Between an amount and that it went back.
const BACK_TOKENS_MAX: usize = 8;
const VESSEL_WORDS_MAX: usize = 3;

/// A reading that leaves out what was told of the same food is not sure.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    if !reading.is_certain() || reading.commands.is_empty() {
        return;
    }
    // "honey 418 before, 400 after, we all had the same": it was all one jar's.
    let jar = |it: &Reason| matches!(it, Reason::JarShows(_));
    let same = |it: &Tokens<'_>| at_table().longest_of(it.slice, "same") == Some(it.len());
    let of_a_jar = reading.reasons.iter().any(jar);
    let left_out = left_out(&reading.commands, body).filter(|it| !(of_a_jar && same(it)));
    let words = left_out.or_else(|| figures::passed_over(&reading.commands, body));
    if let Some(words) = words {
        let error = words.error(ErrorKind::LeftOver(words.words().text));
        reading.refute(error, LEFT_OUT);
    }
}

/// "3 ladles dal, one each for all of us": what is told first is of all, not of each.
fn one_each<'a>(body: Tokens<'a>, portions: &[&Portion]) -> Option<Tokens<'a>> {
    let several = |item: &Item| match item.amount {
        Amount::Pieces { count, .. } | Amount::Each { count, .. } => count > 1.0,
        _ => false,
    };
    let shared = portions.iter().filter(|portion| portion.share.is_some());
    let told = shared.flat_map(|portion| &portion.items).any(several);
    let one = |at: &usize| {
        let next = body.norm(at + 1);
        matches!(body.norm(*at), "one" | "1") && matches!(next, "each" | "apiece")
    };
    let at = (0..body.len()).find(one).filter(|_| told)?;
    Some(body.range(at, at + 2))
}

fn left_out<'a>(commands: &[Command], body: Tokens<'a>) -> Option<Tokens<'a>> {
    let eaten = commands
        .iter()
        .any(|command| matches!(command, Command::Portion(_)));
    let gone = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. } | Command::Count { .. }));
    let corrects = |command: &Command| {
        matches!(command, Command::Fix(Fix::Amount { .. })) && commands.len() == 1
    };
    if commands.iter().any(corrects) {
        return forgotten(body);
    }
    let only = commands.iter().all(|command| {
        matches!(
            command,
            Command::Portion(_) | Command::Waste { .. } | Command::Count { .. } | Command::Batch(_)
        )
    });
    if !only {
        return None;
    }
    let portions = || {
        commands.iter().filter_map(|command| match command {
            Command::Portion(portion) => Some(portion),
            _ => None,
        })
    };
    let less = (0..body.len()).any(|at| fates().longest_of(body.after(at).slice, "back").is_some());
    // "pan of dal was 540", of a dish that stands here: nobody says that it was made.
    let named = |command: &Command| match command {
        Command::Batch(batch) => familiarity(&batch.name.text, body) == Familiarity::Household,
        _ => false,
    };
    let made = cues().stand_in(body.slice, "anew");
    if eaten && !made && commands.iter().any(named) {
        return Some(body);
    }
    if let Some(words) = of_others::kitchen(body).filter(|_| eaten) {
        return Some(words);
    }
    // "soup went to Ana and Tom, her bowl had 50 more": which of them, nobody says.
    if portions().any(is_of_either) {
        return Some(body);
    }
    let wasted = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. }));
    let all: Vec<&Portion> = portions().collect();
    if let Some(words) = one_each(body, &all) {
        return Some(words);
    }
    let of_a_pot = portions().any(is_of_a_pot);
    if let Some(words) = as_before(body).filter(|_| of_a_pot) {
        return Some(words);
    }
    let pot = on_the_scale(body).or_else(|| of_so_much(body, &all));
    if let Some(words) = pot.or_else(|| thrown(body).filter(|_| !gone)) {
        return Some(words);
    }
    let said = repeated(body, &all).or_else(|| other_vessel(body, &all));
    if let Some(words) = said.or_else(|| same_for_all(body, &all)) {
        return Some(words);
    }
    if let Some(words) = went_back(body, portions()) {
        return Some(words);
    }
    if eaten && !portions().any(is_in_parts) && !wasted && !less {
        return remainder(body)
            .or_else(|| one_of_them(body, portions().count()))
            .or_else(|| in_a_pan(body, portions()))
            .or_else(|| as_served(body, portions().count()))
            .or_else(|| off_a_plate(body));
    }
    if gone && !eaten {
        return beside_a_loss(commands, body);
    }
    None
}

/// "not 310, I forgot the bowl, that's 185 of it": what it comes to is what the bowl leaves.
pub fn forgotten(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let at = (1..body.len()).find(|&at| {
        let article = usize::from(matches!(body.norm(at), "the" | "my"));
        body.norm(at - 1) == "forgot" && containers().has(body.norm(at + article))
    })?;
    Some(body.range(at, at + 1))
}

/// A part is somebody's of whom others are told too, and who it is is not.
fn is_of_either(portion: &Portion) -> bool {
    let Some(Share::Parts(parts)) = &portion.share else {
        return false;
    };
    let pronoun = |part: &SharePart| {
        let who = part.who.as_ref();
        who.is_some_and(|who| ["her", "his", "he", "she", "him"].contains(&who.text.as_str()))
    };
    parts.len() > 2 && parts.iter().any(pronoun)
}

/// It is told by parts, or by what is left of a dish.
fn is_in_parts(portion: &Portion) -> bool {
    let share = |item: &Item| matches!(item.amount, Amount::Share(_));
    matches!(portion.share, Some(Share::Parts(_) | Share::Equally(_)))
        || portion.items.iter().any(share)
}

/// "Ana took 190, I had the rest", where nothing is left to anybody.
fn remainder(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let had = (0..body.len()).find_map(|at| {
        let rest = body.after(at);
        let length = at_table().longest_of(rest.slice, "rest")?;
        let idiom = cues().longest_of(rest.slice, "idiom");
        let before = at.checked_sub(1).map_or("", |at| body.norm(at));
        let eats = (at.saturating_sub(2)..at).any(|before| {
            at_table()
                .longest_of(body.after(before).slice, "had")
                .is_some()
        });
        // "the rest of the salsa" is weighed beside it.
        let of_dish = body.norm(at + length) == "of";
        // "I had a third of what remained"
        let part = before == "of" && (0..at - 1).any(|from| is_part(body, from, at - 1));
        let mine = part || matches!(body.norm(at + length), "me" | "mine" | "for");
        let whose = mine || person(body.after(at + length)).is_some();
        let counts = (eats || whose) && before != "is" && before != "was" && !of_dish;
        (idiom.is_none() && counts).then_some((at, length))
    });
    had.map(|(at, length)| body.range(at, at + length))
}

/// A fraction that ends at this place.
fn is_part(body: Tokens<'_>, from: usize, to: usize) -> bool {
    let read = number(body.range(from, to));
    read.is_ok_and(|(rest, said)| rest.is_empty() && said.value > 0.0 && said.value < 1.0)
}

/// "beans 2x85, second one for Ana": one plate is not both.
fn one_of_them(body: Tokens<'_>, portions: usize) -> Option<Tokens<'_>> {
    let (at, length) = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "one of them")?;
        let behind = body.norm(at + length);
        (matches!(behind, "for" | "to" | "is" | "was") && portions == 1).then_some((at, length))
    })?;
    Some(body.range(at, at + length))
}

/// "pan of dal was 540, Ana took 190, I had 200": what was in the pan is nobody's plate.
fn in_a_pan<'a, 'p>(
    body: Tokens<'a>,
    portions: impl Iterator<Item = &'p Portion>,
) -> Option<Tokens<'a>> {
    let portions: Vec<&Portion> = portions.collect();
    let items = portions.iter().flat_map(|portion| &portion.items);
    let starts: Vec<usize> = items
        .filter(|item| item.span.start == item.name.span.start)
        .map(|item| item.span.start)
        .collect();
    let at = (0..body.len()).find(|&at| {
        let link = usize::from(body.norm(at + 1) == "of");
        let article = usize::from(matches!(body.norm(at + 1 + link), "the" | "our"));
        let name = body.get(at + 1 + link + article);
        let leads = name.is_some_and(|token| starts.contains(&token.span.start));
        link > 0 && leads && matches!(body.norm(at), "pan" | "pot" | "tray" | "tub" | "batch")
    })?;
    (portions.len() > 1).then(|| body.range(at, at + 1))
}

/// "120 beans was the plan, ended up being 145", "140 dal, sorry, that's barley, 140 barley": one of them is meant.
fn repeated<'a>(body: Tokens<'a>, portions: &[&Portion]) -> Option<Tokens<'a>> {
    let items: Vec<&Item> = portions.iter().flat_map(|portion| &portion.items).collect();
    let meant = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "meant")?;
        Some(body.range(at, at + length))
    });
    let alike = |one: &&Item| {
        let other = |other: &&Item| other.name != one.name && other.amount == one.amount;
        items.iter().any(other)
    };
    let sorry = (0..body.len()).find(|&at| {
        let that = matches!(body.norm(at + 2), "thats" | "that" | "its" | "it");
        body.norm(at) == "sorry" && (that || matches!(body.norm(at + 1), "thats" | "that" | "its"))
    });
    let sorry = sorry.filter(|_| items.iter().any(alike));
    meant
        .filter(|_| items.len() > 1)
        .or_else(|| sorry.map(|at| body.range(at, at + 1)))
}

/// "salsa weighed 600, I had 90": what a pot weighs is nobody's plate.
fn on_the_scale(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let ends = |at: usize| body.norm(at).is_empty() && !body.slice[at].is_numeric();
    let numbers = body.slice.iter().filter(|token| token.is_numeric()).count();
    let at = (1..body.len()).find(|&at| {
        let weighs = matches!(body.norm(at), "weighed" | "weighs");
        let dish = body.vocabulary.names_food(body.norm(at - 1));
        let alone = body
            .slice
            .iter()
            .enumerate()
            .skip(at + 2)
            .any(|(at, _)| ends(at));
        weighs && dish && alone && body.get(at + 1).is_some_and(Token::is_numeric)
    })?;
    let jar = |token: &Token| matches!(token.norm(), "before" | "after" | "now" | "jar" | "tub");
    (numbers > 1 && !body.slice.iter().any(jar)).then(|| body.range(at, at + 1))
}

/// "chucked a third of the beans, Ana had half of the rest": what is thrown away is on no plate.
fn thrown(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let at = usize::from(matches!(body.norm(0), "i" | "we"));
    let thrown = matches!(body.norm(at), "chucked" | "threw" | "tossed" | "binned");
    // "chucked 40 cheddar on my chilli" is eaten.
    let rest = at_table().stand_in(body.slice, "rest");
    (thrown && rest).then(|| body.range(at, at + 1))
}

/// "of the 300 dal on the table Ana took 120": the 300 are on no plate.
fn of_so_much<'a>(body: Tokens<'a>, portions: &[&Portion]) -> Option<Tokens<'a>> {
    let out = usize::from(body.norm(0) == "out");
    let article = usize::from(matches!(body.norm(out + 1), "the" | "our" | "those"));
    let at = out + 1 + article;
    let (_, said) = number(body.after(at)).ok()?;
    let whole = |portion: &&Portion| {
        let items = portion.items.iter();
        let of = |item: &Item| matches!(item.amount, Amount::Bare(grams) | Amount::Mass(grams) if grams == said.value);
        portion.share.is_none() && items.into_iter().any(of)
    };
    let leads = body.norm(out) == "of" && portions.len() > 1;
    (leads && portions.iter().any(whole)).then(|| body.range(0, at + 1))
}

/// "560 in the glass jar, no sorry that was the steel bowl": the tare of one of them comes off.
fn other_vessel<'a>(body: Tokens<'a>, portions: &[&Portion]) -> Option<Tokens<'a>> {
    let items = portions.iter().flat_map(|portion| &portion.items);
    let used: Vec<String> = items
        .filter_map(|item| Some(item.container.as_ref()?.text.to_lowercase()))
        .collect();
    if used.is_empty() {
        return None;
    }
    (0..body.len()).find_map(|at| {
        let (length, name) = body.after(at).longest_run(VESSEL_WORDS_MAX, |said| {
            let words: Vec<&str> = said.slice.iter().map(Token::norm).collect();
            let known = said.vocabulary.is(Sense::Container, &words);
            known.then(|| said.words().text.to_lowercase())
        })?;
        (!used.contains(&name)).then(|| body.range(at, at + length))
    })
}

/// "plate 388, soup 588, everyone had the same": as much for each, or of this?
fn same_for_all<'a>(body: Tokens<'a>, portions: &[&Portion]) -> Option<Tokens<'a>> {
    let evenly = |portion: &&Portion| matches!(portion.share, Some(Share::Equally(_)));
    let divided = (0..body.len()).any(|at| is_shared(body, at).is_some())
        || body.slice.iter().any(|token| token.norm() == "between");
    if divided || !portions.iter().any(evenly) {
        return None;
    }
    (1..body.len()).find_map(|at| {
        let length = at_table().longest_of(body.after(at).slice, "same")?;
        let had = matches!(body.norm(at - 1), "had" | "has" | "ate" | "got");
        had.then(|| body.range(at, at + length))
    })
}

/// "50 of the chilli went straight back in the pot": it is on no plate.
fn went_back<'a, 'p>(
    body: Tokens<'a>,
    portions: impl Iterator<Item = &'p Portion>,
) -> Option<Tokens<'a>> {
    let booked: Vec<f64> = portions
        .flat_map(|portion| &portion.items)
        .filter_map(|item| match item.amount {
            Amount::Bare(grams) | Amount::Mass(grams) => Some(grams),
            _ => None,
        })
        .collect();
    let (at, length) = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "back")?;
        let from = at.saturating_sub(BACK_TOKENS_MAX);
        let clause = (from..at)
            .rev()
            .take_while(|&before| !is_mark(body, before));
        let said = clause.filter_map(|before| number(body.after(before)).ok());
        let mut grams = said.map(|(_, said)| said.value);
        let pot = matches!(
            body.norm(at + length - 1),
            "pot" | "pan" | "tin" | "tub" | "in"
        );
        (pot && grams.any(|grams| booked.contains(&grams))).then_some((at, length))
    })?;
    Some(body.range(at, at + length))
}

fn is_mark(body: Tokens<'_>, at: usize) -> bool {
    body.norm(at).is_empty() && !body.slice[at].is_numeric()
}

/// "half the rice" is half of the pot.
fn is_of_a_pot(portion: &Portion) -> bool {
    let part = |item: &Item| matches!(item.amount, Amount::Share(share) if share < 1.0);
    portion.items.iter().any(part)
}

/// "the same as Robin's, only half the rice": of another's plate.
fn as_before(body: Tokens<'_>) -> Option<Tokens<'_>> {
    (0..body.len()).find_map(|at| {
        let length = at_table().longest_of(body.after(at).slice, "same")?;
        (body.norm(at + length) == "as").then(|| body.range(at, at + length))
    })
}

/// "take 40 off my soup, I gave that to Tom": what somebody had was on a plate that stands.
fn off_a_plate(body: Tokens<'_>) -> Option<Tokens<'_>> {
    let at = (1..body.len()).find(|&at| {
        let mine = matches!(body.norm(at + 1), "my" | "mine" | "her" | "his");
        body.norm(at) == "off" && mine && body.slice[at - 1].is_numeric()
    })?;
    Some(body.range(at, at + 2))
}

/// "dished up 700 rice. Tom and I have the same": nobody had all of it.
fn as_served(body: Tokens<'_>, portions: usize) -> Option<Tokens<'_>> {
    let length = fates().longest_of(body.slice, "serves")?;
    let same = (0..body.len()).any(|at| {
        let compared = at_table().longest(body.after(at).slice);
        compared.is_some_and(|(_, key)| key == "same" || key.ends_with("times"))
    });
    (same && portions > 1).then(|| body.range(0, length))
}

/// "drank 3/5 of it and poured the rest away", "430 left, Tom and I went halves on what's gone".
fn beside_a_loss<'a>(commands: &[Command], body: Tokens<'a>) -> Option<Tokens<'a>> {
    let signs = lost::signs(body).unwrap_or_default();
    let of_loss = |at: usize| signs.iter().any(|sign| (sign.from..sign.to).contains(&at));
    let wasted = commands
        .iter()
        .any(|command| matches!(command, Command::Waste { .. }));
    let uneaten = (0..body.len()).find_map(|at| {
        let length = fates().longest_of(body.after(at).slice, "uneaten")?;
        wasted.then_some((at, length))
    });
    let drunk = || {
        (0..body.len()).find_map(|at| {
            let scraped = body.norm(at) == "scraped";
            let finished = at_table().longest_of(body.after(at).slice, "finished");
            let finished = finished.filter(|_| !scraped);
            let ate = matches!(body.norm(at), "ate" | "drank" | "eaten").then_some(1);
            let length = finished.or(ate).filter(|_| wasted && !of_loss(at))?;
            let by_animal = at > 0 && of_loss(at - 1);
            (!by_animal).then_some((at, length))
        })
    };
    // "binned the lot. before that Ana already had 60 of it"
    let ate = || {
        (0..body.len()).find_map(|at| {
            let (length, _) = person(body.after(at))?;
            let adverb = usize::from(matches!(body.norm(at + length), "already" | "just"));
            let had = matches!(body.norm(at + length + adverb), "had" | "ate");
            let weight = number(body.after(at + length + adverb + 1)).is_ok();
            (wasted && had && weight).then_some((at, length))
        })
    };
    let shared = || (0..body.len()).find_map(|at| Some((at, is_shared(body, at)?)));
    let told: Vec<f64> = commands.iter().flat_map(figures::weights).collect();
    let weight = || {
        (0..body.len()).find_map(|at| {
            let (rest, said) = number(body.after(at)).ok()?;
            let first = at == 0 || number(body.after(at - 1)).is_err();
            let plain = body.slice[at].is_numeric() && first && said.value >= SCALE_GRAMS_MIN;
            let known = told.iter().any(|grams| (grams - said.value).abs() < 0.01);
            let of_it = fates().longest_of(rest.slice, "it").is_some();
            (plain && of_it && !known && aside(body, at).is_none())
                .then(|| (at, body.len() - at - rest.len()))
        })
    };
    let (at, length) = uneaten
        .or_else(drunk)
        .or_else(ate)
        .or_else(shared)
        .or_else(weight)?;
    Some(body.range(at, at + length))
}
