//! What forbids a plate, however it was read: its food was not eaten ("130 dal spoiled", "130 dal to the
//! freezer"), it is one of two and nobody says which ("150 dal or 140 rice"), or its day is not in the calendar
//! ("130 dal on 31/02"). Layers above pass over words that carry nothing; these do not carry nothing.
//!
//! ```text
//! uneaten := item (phrase of poured.txt | code) | item [link] (phrase of uneaten.txt | ("to" | "into" | "for") ["the"] place)
//!          | item and, anywhere, "not eaten" with a word of its name behind it
//!          | item and, anywhere, an amount beside a sign of its loss (lost.rs), unless that is read too
//!          | amount "of" owner, on the owner's plate, where the sender is named too
//!          | bound item | item bound
//! bound   := phrase of uneaten.txt | ("<" | ">") ["="] number
//! ```
//! Nor is what is counted anew in the same message ("did a recount"), or what weighs two things at once ("227 g
//! (12 oz)"). Nor is a vessel that was weighed with the food ("bowl + rice = 400"), whose tare comes off nowhere.
//! Nothing is on a plate in a message that somebody else wrote first.

use std::ops::Range;

use super::command::{boxes, label, moving, top_up};
use super::lexer::folded_words;
use super::lost::{self, Loss};
use super::no_meal;
use super::person::person;
use super::place::is_place;
use super::syntax::{Amount, Command, Error, ErrorKind, Item, Portion, Reading};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::twice;
use super::unit::{Unit, unit};
use super::vocabulary::PLACE_WORDS_MAX;
use super::weighed_raw;
use super::words::{containers, explained, joiners, places, poured, uneaten};

/// So many words may stand between a weighing and what became of it: "130 dal, it has gone off".
const LINKS_MAX: usize = 3;

/// Phrases of uneaten.txt that are not said of an item in front of them.
const KEYS: [&str; 6] = ["list", "denied", "bound", "bound behind", "about", "raw"];
/// Behind "or", what only makes an amount less exact.
const ROUGHLY: [&str; 6] = ["so", "thereabouts", "less", "more", "about", "rather"];

/// Below every reading that says something.
const ELSEWHERE_RANK: i32 = -900;

/// A reading that puts on a plate what the words keep off it is no reading.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    let portions: Vec<&Portion> = reading
        .commands
        .iter()
        .filter_map(|command| match command {
            Command::Portion(portion) => Some(portion),
            _ => None,
        })
        .collect();
    if portions.is_empty() {
        return;
    }
    let stowed = portions.len() == reading.commands.len() && moving::stows(body);
    if stowed || goes_elsewhere(body) {
        reading.errors.push(body.error(ErrorKind::NotUnderstood));
        reading.commands.clear();
        (reading.sure, reading.weighing_like) = (false, false);
        // What it goes into says more.
        reading.rank = ELSEWHERE_RANK;
        return;
    }
    let listed = listed(body) || no_meal::tells_of(body);
    let mut items = portions.iter().flat_map(|portion| &portion.items);
    let Some(error) = listed
        .then(|| body.error(ErrorKind::NotUnderstood))
        .or_else(|| {
            let denials = denials(body);
            items.find_map(|item| {
                kept_off(body, item)
                    .or_else(|| denied(body, &denials, item))
                    .or_else(|| bounded(body, item, &portions))
            })
        })
        .or_else(|| in_the_weight(body, &portions))
        .or_else(|| undecided(body, &portions))
        .or_else(|| other_unit(body, &portions))
        .or_else(|| taken_off(body, &portions))
        .or_else(|| lost_beside(reading, body))
        .or_else(|| no_such_day(body, &portions))
        .or_else(|| recounted(reading, body))
        .or_else(|| weighed_raw::error(body, &portions))
        .or_else(|| put_right(body))
        .or_else(|| twice::contradicts(body).then(|| body.error(ErrorKind::NotUnderstood)))
    else {
        return;
    };
    reading.errors.push(error);
    reading.commands.clear();
    reading.sure = false;
    reading.weighing_like &= !listed;
}

/// "did a recount, dal 1720": what is counted lies on no plate, unless the count is read too.
fn recounted(reading: &Reading, body: Tokens<'_>) -> Option<Error> {
    let is_count = |command: &Command| matches!(command, Command::Count { .. });
    // "chips not counted" are on no sheet.
    let sheet = |token: &Token| {
        ["recount", "stocktake"]
            .iter()
            .any(|word| token.norm().starts_with(word))
    };
    let counted = body.slice.iter().any(sheet);
    let untold = counted && !reading.commands.iter().any(is_count);
    untold.then(|| body.error(ErrorKind::NotUnderstood))
}

/// "my dal earlier was 150 not 200": one of them was booked before, so this is no plate beside it.
fn put_right(body: Tokens<'_>) -> Option<Error> {
    let figure = |at: usize| body.get(at).is_some_and(Token::is_numeric);
    let unit = |at: usize| usize::from(body.norm(at) == "g");
    let before = |at: usize| figure(at) || at > 0 && unit(at) == 1 && figure(at - 1);
    let denied = |at: &usize| {
        let ends = |behind: usize| body.get(behind).is_none_or(|next| next.norm().is_empty());
        let behind = at + 2 + unit(at + 2);
        body.norm(*at) == "not" && before(at - 1) && figure(at + 1) && ends(behind)
    };
    let at = (1..body.len()).find(denied)?;
    let words = body.range(at, at + 2);
    Some(words.error(ErrorKind::LeftOver(words.words().text)))
}

/// "on the shopping list": whatever it is, it is not eaten yet.
fn listed(body: Tokens<'_>) -> bool {
    // "and 1 glass of wine, don't forget"
    let last = body.trimmed();
    let reminded = last.len() > 2
        && last.norm(last.len() - 1) == "forget"
        && last.norm(last.len() - 2) == "dont";
    reminded || uneaten().stand_in(body.slice, "list")
}

/// "topped up the chutney with 200 stock", "4 boxes of 140 quinoa": it goes into something else.
fn goes_elsewhere(body: Tokens<'_>) -> bool {
    let opens = top_up::opens(body) || boxes::opens(body) || label::opens(body);
    opens || is_placed(body) || is_left(body)
}

/// "half a box left": so much of it there still is.
fn is_left(body: Tokens<'_>) -> bool {
    let body = body.trimmed_end();
    let before = body.len().saturating_sub(2);
    let left = matches!(body.last().map(Token::norm), Some("left" | "remaining"));
    left && body.vocabulary.is_piece(body.norm(before))
}

/// "fridge: 200 dal", "140 dal, freezer": where it stands is told by itself, and nobody eats.
fn is_placed(body: Tokens<'_>) -> bool {
    let ends = |token: &Token| matches!(token.kind, Kind::Newline | Kind::Symbol(',' | ';' | ':'));
    let alone = |part: &Tokens<'_>| {
        let part = part.trimmed();
        let lead = usize::from(matches!(part.norm(0), "the" | "our"));
        let said = part.after(lead);
        (1..=PLACE_WORDS_MAX).contains(&said.len()) && is_place(said)
    };
    body.split(ends).iter().any(alone) && !explained().stand_in(body.slice, "eats")
}

/// "but I have not eaten any chilli": of the chilli beside it.
fn denied(body: Tokens<'_>, denials: &[Range<usize>], item: &Item) -> Option<Error> {
    let name = folded_words(&item.name.text);
    let named = |token: &Token| name.iter().any(|word| word == token.norm());
    let denial = denials.iter().find(|denial| {
        let behind = body.after(denial.end).slice.iter();
        behind.take(LINKS_MAX).any(named)
    })?;
    let words = body.range(denial.start, denial.end);
    Some(words.error(ErrorKind::LeftOver(words.words().text)))
}

/// Where the words stand that deny what follows them.
fn denials(body: Tokens<'_>) -> Vec<Range<usize>> {
    let denial = |at: usize| {
        let length = uneaten().longest_of(&body.slice[at..], "denied")?;
        Some(at..at + length)
    };
    (0..body.len()).filter_map(denial).collect()
}

/// "at most 200 soup", "soup > 200", "200 soup or more": how much it was is not told.
fn bounded(body: Tokens<'_>, item: &Item, portions: &[&Portion]) -> Option<Error> {
    let (from, to) = places_of(body, item);
    let error = |from: usize, to: usize| {
        let words = body.range(from, to);
        words.error(ErrorKind::LeftOver(words.words().text))
    };
    let number = |at: Option<usize>| {
        at.and_then(|at| body.get(at))
            .is_some_and(Token::is_numeric)
    };
    // "oil 702 > 681" is a jar.
    let compares = |at: &usize| {
        let sign = body.slice[*at].is('<') || body.slice[*at].is('>');
        let behind = 1 + usize::from(body.get(at + 1).is_some_and(|next| next.is('=')));
        sign && number(Some(at + behind)) && !number(at.checked_sub(1))
    };
    // "200+ soup"
    let opens = |at: &usize| {
        let next = body.get(at + 1);
        let apart = next.is_some_and(|next| next.spaced && !next.is_numeric());
        let glued = body.slice[*at].is('+') && !body.slice[*at].spaced;
        glued && apart && number(at.checked_sub(1))
    };
    let signs = from.saturating_sub(2)..to;
    if let Some(at) = signs.clone().find(compares).or(signs.clone().find(opens)) {
        return Some(error(at, at + 1));
    }
    // "180 rice under 200 chilli" lays one on the other, and "just under 200" is about as much.
    let apart = |at: usize| {
        let others = portions.iter().flat_map(|portion| &portion.items);
        let start = body.slice[at].span.start;
        let beside = |other: &Item| {
            let before = other.span != item.span && other.span.start < start;
            before && places_of(body, other).1 >= at
        };
        let about = at > 0
            && uneaten()
                .longest_of(&body.slice[at - 1..], "about")
                .is_some();
        !about && !others.into_iter().any(beside)
    };
    let bound = |at: usize| {
        let end = at + uneaten().longest_of(&body.slice[at..], "bound")?;
        let leads = end == from || end > from && end < to && number(Some(end));
        (leads && apart(at)).then_some((at, end))
    };
    if let Some((at, end)) = (from.saturating_sub(3)..to).find_map(bound) {
        return Some(error(at, end));
    }
    let end = to + usize::from(number(Some(to)));
    (from + 1..=end).find_map(|at| {
        let length = uneaten().longest_of(body.after(at).slice, "bound behind")?;
        Some(error(at, at + length))
    })
}

/// Where an item begins and ends.
fn places_of(body: Tokens<'_>, item: &Item) -> (usize, usize) {
    let at = |byte: usize| body.slice.partition_point(|token| token.span.start < byte);
    (at(item.span.start), at(item.span.end))
}

/// The words behind an item, or in it, by which nobody ate it.
fn kept_off(body: Tokens<'_>, item: &Item) -> Option<Error> {
    let (from, to) = places_of(body, item);
    let links = body
        .after(to)
        .slice
        .iter()
        .take_while(|token| is_link(token));
    let last = to + links.take(LINKS_MAX).count();
    let (start, length) = (from..=last.min(body.len())).find_map(|at| {
        let stowed = (at >= to).then(|| stowed(body.after(at))).flatten();
        let gone = uneaten().longest(&body.slice[at..]);
        let gone = gone.filter(|(_, key)| !KEYS.contains(key));
        // "bacon 60 g fat": so much fat, and not bacon.
        let poured = (at == to)
            .then(|| poured().longest(&body.slice[at..]))
            .flatten();
        let coded = (at == to && is_code(body.norm(at))).then_some(1);
        let length = gone.or(poured).map(|(length, _)| length);
        Some((at, length.or(stowed).or(coded)?))
    })?;
    let words = body.range(start, start + length);
    Some(words.error(ErrorKind::LeftOver(words.words().text)))
}

/// "150 dal or 140 rice": one of the two is on no plate, and nobody says which.
fn undecided(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    let items = || portions.iter().flat_map(|portion| &portion.items);
    let at = (1..body.len()).find(|&at| {
        let rest = body.after(at);
        let doubts = rest.norm(0) == "or" && !ROUGHLY.contains(&rest.norm(1));
        let near = rest
            .slice
            .iter()
            .take(1 + LINKS_MAX)
            .map(|token| token.span.start);
        let begins = |start| items().any(|item| item.span.start == start);
        let ended = || items().any(|item| item.span.end <= rest.slice[0].span.start);
        doubts && near.skip(1).any(begins) && ended()
    })?;
    let said = body.range(at, at + 1);
    Some(said.error(ErrorKind::LeftOver(said.words().text)))
}

fn is_link(token: &Token) -> bool {
    let marks = matches!(token.kind, Kind::Symbol(':' | ',' | '-' | '('));
    let words = [
        "is", "was", "has", "had", "have", "got", "it", "its", "thats", "that", "which", "all",
        "now",
    ];
    marks || words.contains(&token.norm())
}

/// "K6": behind a dish it names a batch, here one that there is not.
fn is_code(norm: &str) -> bool {
    let mut letters = norm.chars();
    letters.next().is_some_and(char::is_alphabetic)
        && !letters.as_str().is_empty()
        && letters.all(|c| c.is_ascii_digit())
}

/// "shared 400 chilli, spilled 60": so much was lost, and a reading that holds no loss takes it for eaten.
fn lost_beside(reading: &Reading, body: Tokens<'_>) -> Option<Error> {
    let numeric = |at: usize| body.get(at).is_some_and(Token::is_numeric);
    let signs = lost::signs(body).filter(|_| reading.only_eaten())?;
    let sign = signs.iter().find(|sign| {
        let plain = matches!(sign.kind, Loss::Away | Loss::Mishap);
        plain && (numeric(sign.to) || sign.from > 0 && numeric(sign.from - 1))
    })?;
    let words = body.range(sign.from, sign.to);
    Some(words.error(ErrorKind::LeftOver(words.words().text)))
}

/// "to the freezer", "on the windowsill", "in there": how many tokens.
fn stowed(rest: Tokens<'_>) -> Option<usize> {
    let lead = rest.norm(0);
    if lead == "in" && rest.norm(1) == "there" {
        return Some(2);
    }
    let article = usize::from(matches!(rest.norm(1), "the" | "our" | "my"));
    let said = rest.after(1 + article);
    let most = PLACE_WORDS_MAX.min(said.len());
    let length = (1..=most)
        .rev()
        .find(|&length| is_place(said.range(0, length)))?;
    let kind = (0..length).find_map(|at| places().longest(said.range(at, length).slice));
    let kind = kind.map(|(_, kind)| kind);
    // What is eaten stood in the fridge; nobody eats in the freezer.
    let stows = match lead {
        "to" | "into" | "for" | "onto" => true,
        "in" => matches!(kind, Some("freezer" | "any")),
        "on" => kind == Some("counter"),
        _ => false,
    };
    stows.then_some(1 + article + length)
}

fn is_article(norm: &str) -> bool {
    matches!(norm, "the" | "my" | "a")
}

/// "bowl + rice = 400", "rice, bowl and all 400": the vessel is in the weight.
fn in_the_weight(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    let joins = |token: &Token| token.is('+') || token.is('&') || joiners().holds(token);
    let mut items = portions.iter().flat_map(|portion| &portion.items);
    items.find_map(|item| {
        // What was reckoned has its vessel taken off.
        let shown = |grams: f64| {
            body.slice
                .iter()
                .any(|token| matches!(&token.kind, Kind::Number(said) if said.value == grams))
        };
        let whole =
            matches!(item.amount, Amount::Bare(grams) | Amount::Mass(grams) if shown(grams));
        if item.container.is_some() || !whole {
            return None;
        }
        let place = |byte: usize| body.slice.partition_point(|token| token.span.start < byte);
        let (from, to) = (place(item.span.start), place(item.span.end));
        // "the bowl + rice = 400": nothing stands before the vessel.
        let opens = from > 1
            && joins(&body.slice[from - 1])
            && from - usize::from(is_article(body.norm(0))) < 3;
        let said = body.range(if opens { from - 2 } else { from }, to);
        let joined = |at: usize| {
            let before = at > 0 && joins(&said.slice[at - 1]);
            before || said.get(at + 1).is_some_and(joins)
        };
        let at = (0..said.len()).find(|&at| containers().holds(&said.slice[at]) && joined(at))?;
        let vessel = said.range(at, at + 1);
        Some(vessel.error(ErrorKind::UnknownTare(vessel.words().text)))
    })
}

/// "30 of Ana's chilli was mine": what was taken off her plate is no more for her.
fn taken_off(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    let sender = |token: &Token| ["me", "mine", "i"].contains(&token.norm());
    if !body.slice.iter().any(sender) {
        return None;
    }
    let owner = |at: usize| {
        let amount = body.norm(at) == "of" && body.slice[at - 1].is_numeric();
        let (length, who) = person(body.after(at + 1)).filter(|_| amount)?;
        let said = body.range(at + 1, at + 1 + length);
        let owns =
            folded_words(&who.text).last().map(String::as_str) != Some(said.norm(length - 1));
        let eats = |portion: &&Portion| {
            let eater = portion.who.as_ref();
            eater.is_some_and(|eater| folded_words(&eater.text) == folded_words(&who.text))
        };
        (owns && portions.iter().any(eats)).then_some(said)
    };
    let said = (1..body.len()).find_map(owner)?;
    Some(said.error(ErrorKind::LeftOver(said.words().text)))
}

/// "scale is stuck on ounces: 5 barley": a bare number is no grams then.
fn other_unit(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    let mut items = portions.iter().flat_map(|portion| &portion.items);
    items.find(|item| matches!(item.amount, Amount::Bare(_)))?;
    let set = |at: &usize| {
        let led = ["on", "in", "to"].contains(&body.norm(at - 1));
        let unit = unit(body.after(*at));
        led && matches!(unit, Ok((_, Unit::Mass(grams))) if grams > 1.0)
    };
    let at = (1..body.len()).find(set)?;
    let said = body.range(at, at + 1);
    Some(said.error(ErrorKind::LeftOver(said.words().text)))
}

/// A date that no plate has taken for its day.
fn no_such_day(body: Tokens<'_>, portions: &[&Portion]) -> Option<Error> {
    // "30/30/40" may be the parts of a share.
    let told = |portion: &&Portion| portion.day.is_some() || portion.share.is_some();
    if portions.iter().any(told) {
        return None;
    }
    let is_date = |at: &usize| match body.slice[*at].kind {
        Kind::Date(..) => true,
        Kind::Ratio(..) => *at > 0 && body.norm(at - 1) == "on",
        _ => false,
    };
    let at = (0..body.len()).find(is_date)?;
    let said = body.range(at, at + 1);
    Some(said.error(ErrorKind::NoSuchDate(said.words().text)))
}
