//! Whether a message is a plate: what speaks for it, what against.

use super::bought::is_bought;
use crate::lang::amount::is_packed;
use crate::lang::command::portion::Plates;
use crate::lang::lexer::folded_words;
use crate::lang::lexicon;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::rank::personal::is_a_stranger;
use crate::lang::seasoning;
use crate::lang::syntax::Span;
use crate::lang::syntax::{
    Amount, Command, Day, Error, ErrorKind, Item, Portion, Reading, Reason, Words,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::veto::{is_strict, vetoes_in};
use crate::lang::vocabulary::Sense;
use crate::lang::words::{asides, counted_things, counts, cues};

/// Words that a message may hold beside names and numbers and still look like a weighing.
const STRAY_WORDS_MAX: usize = 2;
/// However many names a plate knows, a verb that was said comes before it.
const NAMES_SCORE_MAX: i32 = 100;
/// Less of a dish than this is no plate.
const PLATE_GRAMS_MIN: f64 = 10.0;
/// More of a thing that nobody knows is on no plate: "and 2 kg of onions, and parsley".
const PLATE_GRAMS_MAX: f64 = 1500.0;
/// No scale shows less of a dish, with its unit.
const DISH_GRAMS_MIN: f64 = 1.0;
/// No scale of a kitchen shows less of anything.
const TRACE_GRAMS_MIN: f64 = 0.05;
/// A bare number below this is a count or a clock before it is a weight.
pub const SCALE_GRAMS_MIN: f64 = 20.0;

/// What the names on the plates tell.
#[derive(Default)]
struct Names {
    score: i32,
    strangers: usize,
    household: bool,
    /// Names that are words of talk, or whole sentences.
    talk: usize,
    /// Names of ordinary things: talk, unless something is named beside them that is eaten.
    ordinary: usize,
    /// A name goes on after a known one: "rice arrived".
    trails: bool,
    /// A name is a slip of the finger away from a known one.
    near: bool,
    reasons: Vec<Reason>,
}

impl Names {
    fn note(&mut self, name: &str, input: Tokens<'_>) {
        let words = folded_words(name);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let key = words.join(" ");
        match familiarity(name, input) {
            Familiarity::Household => {
                self.household = true;
                self.score += 20;
                self.reasons.push(Reason::Known(name.to_owned()));
            }
            // "flat 90": where somebody lives, whatever else is flat.
            Familiarity::Food if asides().get(&key) != Some("before") => {
                self.score += 10;
                self.reasons.push(Reason::Food(name.to_owned()));
            }
            lesser => {
                // "weighed the parcel", "the baby weighs": what was weighed has no name of a food.
                let weighs = |word: &&str| counts().get(word) == Some("weighed");
                let weighed = words.len() > 1 && words.iter().any(weighs);
                let placed = asides().get(&key) == Some("before");
                let talk = lesser == Familiarity::Talk || weighed || placed;
                self.ordinary += usize::from(lexicon::is_ordinary(&words));
                self.strangers += 1;
                self.talk += usize::from(talk || name.split(' ').count() > 4);
                self.near |= !talk && input.vocabulary.is_spelled_nearly(name);
                self.trails |= talk || trails(name, input);
                self.score -= if talk { 80 } else { 20 };
                self.reasons.push(Reason::UnknownName(name.to_owned()));
            }
        }
    }
}

/// Plates, whole or in part.
pub fn plates(input: Tokens<'_>, rank: i32, plates: Plates) -> Reading {
    let vetoes = against(input, &plates);
    let Plates {
        portions,
        errors,
        comments,
        ..
    } = plates;
    let mut names = Names::default();
    let items = || portions.iter().flat_map(|portion| &portion.items);
    for item in items() {
        names.note(&item.name.text, input);
    }
    if names.strangers == items().count() {
        names.talk += names.ordinary;
    }

    let mut reasons = names.reasons;
    reasons.extend(vetoes.iter().map(|reason| Reason::Veto(reason)));
    for error in &errors {
        if let ErrorKind::LeftOver(words) = &error.kind {
            reasons.push(Reason::LeftOver(words.clone()));
        }
    }
    let whole = errors.is_empty() && portions.iter().all(|portion| !portion.items.is_empty());
    if whole {
        reasons.push(Reason::Complete);
    }
    let quiet = vetoes.is_empty();
    let told = match names.household {
        true => portions.iter().any(|portion| is_of_ours(input, portion)),
        false => {
            portions.iter().any(|portion| is_told(input, portion))
                && !portions.iter().any(|portion| is_bought(input, portion))
        }
    };
    let counted = counts().stand_in(input.slice, "recount");
    let seasons = seasoning::only(&portions, input);
    // Beside talk, only the household's own dishes are a weighing.
    let told = told && !seasons && (comments.is_empty() || names.household && !counted);
    let sure = whole && names.strangers == 0 && quiet && told && !items().any(is_traceless);
    let clean = (comments.is_empty() || names.household || names.near)
        && !names.trails
        && !errors.iter().any(|error| is_stray(error, input));
    let story = cues().stand_in(input.slice, "story");
    let unheard = names.strangers > 0 && !is_polite(input) && !story && comments.is_empty();
    let odd_unit = errors.iter().any(|error| {
        match &error.kind {
            // "50 kinds of yogurt"
            ErrorKind::UnknownUnit(unit) => !counted_things().has(&unit.to_lowercase()),
            ErrorKind::NotAMass(_) => true,
            _ => false,
        }
    });
    let clean = clean && !seasons && (told || !names.household || !whole);
    let worth_asking = clean
        && (odd_unit && (names.household || mentions_food(input)) && is_terse(input)
            || whole
                && (names.near
                    || unheard
                        && portions
                            .iter()
                            .all(|portion| is_plain_weighing(portion, input)))
            || looks_weighed(input, names.household));
    // Somebody whom nobody knows may be no person at all.
    let guests = portions.iter().filter_map(|portion| portion.who.as_ref());
    // "uncle Jo ate 7 dumplings": who is no guest by that word.
    let introduced = input.slice.iter().any(|token| token.norm() == "guest");
    let unknown =
        |who: &Words| is_a_stranger(who, input) || !introduced && who.text.starts_with("guest ");
    let of_ours = || portions.iter().any(|portion| is_of_ours(input, portion));
    let mut guests = guests.into_iter();
    let shown = |item: &Item| matches!(item.amount, Amount::Bare(grams) | Amount::Mass(grams) if grams >= PLATE_GRAMS_MIN);
    let weighed = || names.household || items().any(shown);
    let uncertain = guests
        .any(|who| is_doubtful_person(who, input) || unknown(who) && !(of_ours() && weighed()))
        || portions.iter().any(|portion| is_complaint(portion, input));
    Reading {
        rank: rank + names.score.min(NAMES_SCORE_MAX)
            - 60 * vetoes.len() as i32
            - 100 * errors.len() as i32,
        commands: match whole {
            true => portions.into_iter().map(Command::Portion).collect(),
            false => Vec::new(),
        },
        errors,
        reasons,
        sure: sure && !uncertain,
        weighing_like: quiet && names.talk == 0 && !uncertain && (sure || worth_asking),
    }
}

/// "3 mg olive oil": nobody has a scale that shows it.
fn is_traceless(item: &Item) -> bool {
    matches!(item.amount, Amount::Mass(grams) if grams < TRACE_GRAMS_MIN)
}

/// Only amounts that a scale shows, each with a short name, known or not: "100 g unobtainium".
fn is_plain_weighing(portion: &Portion, input: Tokens<'_>) -> bool {
    portion.items.iter().all(|item| {
        // "120 of my aunt's casserole"
        let of_food = || {
            input.text[item.span.clone()].contains(" of ")
                && familiarity(&item.name.text, input) == Familiarity::Partly
        };
        let weighed = match &item.amount {
            Amount::Weighed { .. } => true,
            Amount::Mass(grams) => *grams <= PLATE_GRAMS_MAX,
            Amount::Bare(grams) => {
                *grams >= SCALE_GRAMS_MIN && (!item.name.text.contains(' ') || of_food())
            }
            _ => false,
        };
        weighed && item.name.text.split(' ').count() <= 3
    })
}

/// A name after "for" or before "had" that is neither the household's nor written as a name.
fn is_doubtful_person(who: &Words, input: Tokens<'_>) -> bool {
    let words = folded_words(&who.text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let several =
        crate::lang::words::at_table().get(words.last().unwrap_or(&"")) == Some("several");
    let pronoun = matches!(
        words.as_slice(),
        ["her" | "him" | "she" | "he" | "his" | "hers"]
    );
    let guest = words.first() == Some(&"guest");
    let known = input.vocabulary.is(Sense::Person, &words) || guest || pronoun || several;
    !known && !who.text.starts_with(char::is_uppercase)
}

/// "Tom ate all my salsa": nobody weighed that.
fn is_complaint(portion: &Portion, input: Tokens<'_>) -> bool {
    let all_of_mine = |item: &Item| {
        let said = &input.text[item.span.clone()];
        item.amount == Amount::Share(1.0) && said.to_lowercase().contains(" my ")
    };
    portion.who.is_some() && portion.items.iter().any(all_of_mine)
}

fn mentions_food(input: Tokens<'_>) -> bool {
    mentions_household(input)
        || input
            .slice
            .iter()
            .any(|token| token.norm().len() > 2 && lexicon::is_food(&[token.norm()]))
}

/// A known name with a strange word after it is a sentence: "rice arrived", "dal max".
fn trails(name: &str, input: Tokens<'_>) -> bool {
    let folded = folded_words(name);
    let words: Vec<&str> = folded.iter().map(String::as_str).collect();
    (1..words.len()).any(|length| {
        let known = input.vocabulary.is_batch(&words[..length]);
        let strange = |word: &&str| {
            !(input.vocabulary.has_word(word)
                || lexicon::is_food_word(word)
                || lexicon::describes(word))
        };
        known && words[length..].iter().any(strange)
    })
}

/// A word left over that no name has: nothing to ask about.
fn is_stray(error: &Error, input: Tokens<'_>) -> bool {
    let ErrorKind::LeftOver(words) = &error.kind else {
        return false;
    };
    folded_words(words).iter().any(|word| {
        word.chars().all(char::is_alphabetic)
            && !input.vocabulary.has_word(word)
            && !lexicon::is_food_word(word)
    })
}

/// A plate with something weighed on it, and no shopping list that a dish of the household stands on as well:
/// "2 kg chicken, 6 parsnips".
fn is_of_ours(input: Tokens<'_>, portion: &Portion) -> bool {
    let ours = |item: &&Item| familiarity(&item.name.text, input) == Familiarity::Household;
    let mut dishes = portion.items.iter().filter(ours);
    dishes.any(is_weighed) || portion.items.iter().any(is_weighed) && !is_bought(input, portion)
}

/// An amount of a dish that somebody may have weighed: "2 rice" is an order.
fn is_weighed(item: &Item) -> bool {
    match &item.amount {
        Amount::Bare(count) => *count >= PLATE_GRAMS_MIN,
        Amount::Mass(grams) => *grams >= DISH_GRAMS_MIN,
        // "the 10 kg bag of rice" is no plate.
        amount => !is_packed(amount),
    }
}

/// What forbids booking.
fn against(input: Tokens<'_>, plates: &Plates) -> Vec<&'static str> {
    let within =
        |spans: &[Span], token: &Token| spans.iter().any(|span| span.contains(&token.span.start));
    // What stands around the items tells when and whose; it forbids nothing but by asking.
    let told = |token: &&Token| {
        !within(&plates.idle, token) && {
            token.norm() != "tonight"
                && (token.is('?') || plates.bodies.is_empty() || within(&plates.bodies, token))
        }
    };
    let (aside, told): (Vec<Token>, Vec<Token>) = input
        .slice
        .iter()
        .filter(told)
        .cloned()
        .partition(|token| within(&plates.comments, token));
    let mut vetoes = vetoes_in(input.with_tokens(&told));
    // What is said beside the weighing may be about anything, but for a plan, a condition or shopping.
    let beside = vetoes_in(input.with_tokens(&aside)).into_iter();
    vetoes.extend(beside.filter(|reason| is_strict(reason)));
    let portions = &plates.portions;
    let said_when = portions
        .iter()
        .any(|portion| portion.day.is_some() || portion.meal.is_some());
    if said_when
        && input
            .slice
            .windows(2)
            .any(|pair| pair[0].norm() == "that" && pair[1].norm() == "was")
    {
        // "140 dal, that was yesterday's lunch" tells when, and is no talk of the past.
        vetoes.retain(|reason| *reason != "past talk");
    }
    if portions.iter().any(|portion| is_request(input, portion)) {
        vetoes.push("request");
    }
    if portions
        .iter()
        .any(|portion| portion.day == Some(Day::Ahead))
        && !vetoes.contains(&"plan")
    {
        vetoes.push("plan");
    }
    vetoes
}

/// A name of the household beside a number, and hardly another word.
pub fn looks_weighed(input: Tokens<'_>, household: bool) -> bool {
    is_weight_like(input) && (household || mentions_household(input)) && is_terse(input)
}

/// Hardly a word beside numbers, units and names.
pub fn is_terse(input: Tokens<'_>) -> bool {
    let stray = input
        .slice
        .iter()
        .filter(|token| match &token.kind {
            Kind::Word(norm) => {
                !(crate::lang::name::is_filler(token)
                    || input.vocabulary.has_word(norm)
                    || lexicon::is_food_word(norm)
                    || lexicon::describes(norm)
                    || crate::lang::words::units().has(norm)
                    || crate::lang::words::measures().has(norm))
            }
            _ => false,
        })
        .count();
    let talks = input.slice.iter().any(|token| {
        crate::lang::words::talk().holds(token) && !crate::lang::name::is_filler(token)
    });
    !talks && stray <= STRAY_WORDS_MAX
}

/// A number with a unit, or one that a scale would show.
fn is_weight_like(input: Tokens<'_>) -> bool {
    input
        .slice
        .iter()
        .enumerate()
        .any(|(at, token)| match token.kind {
            Kind::Number(numeral) => {
                numeral.value >= SCALE_GRAMS_MIN
                    || numeral.value == 0.0
                    || crate::lang::unit::unit(input.after(at + 1)).is_ok()
            }
            Kind::Unreadable => true,
            _ => false,
        })
}

fn is_polite(input: Tokens<'_>) -> bool {
    input
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "please" | "pls" | "plz"))
}

/// "2 coffees please": small counts and a please are an order.
fn is_request(input: Tokens<'_>, portion: &Portion) -> bool {
    let polite = is_polite(input);
    let small = |amount: &Amount| match amount {
        Amount::Bare(count) => *count < SCALE_GRAMS_MIN,
        Amount::Pieces { .. } | Amount::Uncounted(_) => true,
        _ => false,
    };
    polite && portion.items.iter().all(|item| small(&item.amount))
}

/// Foods of the table alone need more than "a coffee": a number, or that it was eaten.
fn is_told(input: Tokens<'_>, portion: &Portion) -> bool {
    let eaten = input
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "had" | "ate" | "eaten" | "having" | "eating"));
    let counts = |amount: &Amount| {
        !matches!(
            amount,
            Amount::Uncounted(_) | Amount::Share(_) | Amount::Pieces { count: 1.0, .. }
        )
    };
    eaten
        || input.has_number()
        || portion
            .items
            .iter()
            .any(|item| counts(&item.amount) && !is_cup(&item.amount))
}

/// "a cup of tea" is talk as long as nobody says that it was drunk.
fn is_cup(amount: &Amount) -> bool {
    matches!(amount, Amount::Volume { count: 1.0, .. })
}

/// Whether a word of a batch's name stands in the message.
pub fn mentions_household(input: Tokens<'_>) -> bool {
    input
        .slice
        .iter()
        .any(|token| !token.norm().is_empty() && input.vocabulary.is_batch(&[token.norm()]))
}
