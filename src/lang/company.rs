//! Somebody at the table whom a reading passes over: "dal 688-402 for me and Ana", "12 oz rice, me and Tom going
//! splits", "three ladles, two for yours truly, Ana one". Layers that leave out talk must not leave out an eater.
//!
//! ```text
//! eater := person beside a person or "me" | person ate | person number | ("for" | "all") person
//!        | person ("here" "on" | "asked" "me")
//!        | "for" person "and" number, where nothing is said to be the sender's
//!        | number "of us"
//!        | ("me" | "i" ["had"]) number, where nothing is the sender's
//!        | "we all" ate
//!        | a name that nobody here has, and a number behind it
//! ```
//! Such a reading is not sure: it is asked about, or another takes its place. Where nothing
//! but whose a part of it is lies in doubt ("for Ana and 40 bread"), that is asked.

use super::command::share::counted;
use super::lexicon::is_food_word;
use super::name::is_filler;
use super::number::number;
use super::otherwise::not_mine;
use super::person::{by_capital, person};
use super::syntax::{Command, ErrorKind, Portion, Reading, Share, Words};
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::unit::unit;
use super::words::{at_table, cues, joiners, verbs};

/// Any other reading comes before one that leaves out an eater.
const PASSED_OVER: i32 = 500;

/// A reading that leaves out somebody who ate is not sure.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    not_mine::judge(reading, body);
    let mut portions: Vec<&Portion> = Vec::new();
    for command in &reading.commands {
        match command {
            Command::Portion(portion) => portions.push(portion),
            Command::OnScale(_) | Command::Waste { .. } | Command::Count { .. } => {}
            _ => return,
        }
    }
    if portions.is_empty() || portions.iter().any(|portion| portion.share.is_some()) {
        return;
    }
    let has_plate = |name: &str| {
        let people = portions.iter().flat_map(|portion| portion.people());
        // Of "First Ana" the last word is a name as well.
        let (name, ends) = (name.to_lowercase(), format!(" {}", name.to_lowercase()));
        people.into_iter().any(|who| {
            let said = who.text.to_lowercase();
            said == name || said.ends_with(&ends)
        })
    };
    let alone = portions
        .iter()
        .all(|portion| portion.who == portions[0].who);
    let passed_over = (0..body.len()).find_map(|at| {
        let (length, name) = named(body.after(at))?;
        // "me and Ana down the middle": a plate for one of them is half of it.
        let together = alone && is_beside_me(body, at, length);
        (together || !has_plate(&name) && eats(body, at, length)).then_some(name)
    });
    let passed_over = passed_over.or_else(|| {
        let unheard = (0..body.len()).filter(|at| begins(body, *at));
        let unheard = unheard
            .filter_map(|at| by_capital(body.after(at)).filter(|_| counted_behind(body, at)));
        unheard.map(|who| who.text).find(|name| !has_plate(name))
    });
    let of_all = || (0..body.len()).find_map(|at| all_eat(body.after(at)));
    let said = |token: &Token| matches!(token.norm(), "i" | "ive" | "im") || is_me(token.norm());
    let of_sender = alone && portions[0].who.is_none() && !body.slice.iter().any(said);
    let together = of_all().filter(|_| of_sender);
    let open = may_go_on(body, &portions);
    let several = || of_us(body).filter(|_| alone && portions[0].who.is_none());
    let mine = || sender_eats(body).filter(|_| portions.iter().all(|it| it.who.is_some()));
    let left_out = passed_over.or(together).or_else(several).or_else(mine);
    if let Some(name) = left_out {
        let error = body.error(ErrorKind::LeftOver(name));
        reading.refute(error, PASSED_OVER);
    } else if let Some((end, who)) = open {
        for command in &mut reading.commands {
            if let Command::Portion(portion) = command
                && portion.who.is_none()
                && portion.items.iter().all(|item| item.span.start >= end)
            {
                portion.share = Some(Share::Whose(who.clone()));
            }
        }
    }
}

/// The first word, or the first behind a mark or an "and".
fn begins(body: Tokens<'_>, at: usize) -> bool {
    let mark = |token: &Token| {
        matches!(
            token.kind,
            Kind::Newline | Kind::Symbol(',' | ';' | '.' | '&')
        )
    };
    at == 0 || mark(&body.slice[at - 1]) || body.norm(at - 1) == "and"
}

/// A number stands right behind it.
fn counted_behind(body: Tokens<'_>, at: usize) -> bool {
    let behind = body.after(at + 1);
    let marked = behind
        .first()
        .is_some_and(|token| token.is(':') || token.is('-'));
    behind
        .after(usize::from(marked))
        .first()
        .is_some_and(Token::is_numeric)
}

/// "dinner for the three of us": one plate is not all of it.
fn of_us(body: Tokens<'_>) -> Option<String> {
    let several = |at: usize| {
        let (rest, count) = number(body.after(at)).ok()?;
        let us = rest.norm(0) == "of" && rest.norm(1) == "us";
        let people = matches!(rest.norm(0), "people" | "persons" | "ppl");
        ((us || people) && count.value > 1.0).then(|| "of us".to_owned())
    };
    (0..body.len()).find_map(several)
}

/// "Ana 150 rice, i had 140 rice no beans": what the sender had is on no other plate.
fn sender_eats(body: Tokens<'_>) -> Option<String> {
    let begins = |at: usize| at == 0 || matches!(body.norm(at - 1), "" | "and" | "n" | "but");
    let me = |at: &usize| begins(*at) && matches!(body.norm(*at), "me" | "mine" | "i" | "ive");
    let at = (0..body.len()).filter(me).find(|at| {
        let behind = body.after(at + 1);
        let verb = cues().longest_of(behind.slice, "eat").unwrap_or(0);
        number(behind.after(verb)).is_ok_and(|(_, said)| !said.article)
    })?;
    Some(body.norm(at).to_owned())
}

/// "we all had", "the three of us ate": the plate of one tells too little.
fn all_eat(rest: Tokens<'_>) -> Option<String> {
    let named = ["everyone", "us", "two"].iter().find_map(|key| {
        let length = at_table().longest_of(rest.slice, key)?;
        // "we had 140 dal" may be anybody's.
        (length > 1 || *key == "everyone").then_some(length)
    });
    let length = named.or_else(|| counted(rest, false).map(|(length, _)| length))?;
    // "we all three had"
    let behind = rest.after(length);
    let said = number(behind).map_or(behind, |(behind, _)| behind);
    let ate = cues().longest_of(said.slice, "eat").is_some();
    ate.then(|| rest.range(0, length).words().text)
}

/// "200 soup for Ana and 40 bread": the bread may be hers as well as the sender's. Where what is hers ends, and who
/// she is.
fn may_go_on(body: Tokens<'_>, portions: &[&Portion]) -> Option<(usize, Words)> {
    let own = |token: &Token| is_me(token.norm()) || matches!(token.norm(), "my" | "mine" | "ive");
    let one_is_mine = portions.iter().any(|portion| portion.who.is_none());
    if !one_is_mine || body.slice.iter().any(own) {
        return None;
    }
    (1..body.len()).find_map(|at| {
        let (length, who) = person(body.after(at)).filter(|_| body.norm(at - 1) == "for")?;
        let end = body.slice[at + length - 1].span.end;
        let mut rest = body.after(at + length);
        let joins = |rest: Tokens<'_>| matches!(rest.norm(0), "and" | "plus" | "with");
        // "for Ana um and fifty grams"
        let idle = |token: &Token| is_filler(token) || token.norm().len() == 2;
        while !joins(rest) && rest.first().is_some_and(idle) {
            rest = rest.after(1);
        }
        (joins(rest) && begins_item(rest.after(1))).then_some((end, who))
    })
}

/// "40 bread", "bread 40", "grams bread 40" of what was put right.
fn begins_item(rest: Tokens<'_>) -> bool {
    let behind = unit(rest).map_or(rest, |(behind, _)| behind);
    number(rest).is_ok()
        || rest.vocabulary.names_food(behind.norm(0))
        || is_food_word(behind.norm(0))
}

/// A person of the household, or what is a slip of the finger away from one.
fn named(rest: Tokens<'_>) -> Option<(usize, String)> {
    if let Some((length, who)) = person(rest) {
        return Some((length, who.text));
    }
    let norm = rest.norm(0);
    // "and ate" is no Ana.
    let joint = is_filler(&rest.slice[0]) || joiners().has(norm);
    let near = norm.len() > 2
        && !joint
        && rest.vocabulary.is_near_person(norm)
        && !rest.vocabulary.has_word(norm)
        && cues().longest_of(rest.after(1).slice, "eat").is_some();
    near.then(|| (1, norm.to_owned()))
}

/// Whether somebody who is named here is said to eat.
fn eats(body: Tokens<'_>, at: usize, length: usize) -> bool {
    let behind = body.after(at + length);
    let before = |back: usize| at.checked_sub(back).map_or("", |at| body.norm(at));
    // "Robin threw away 120"
    let threw_away = verbs().longest_of(behind.slice, "waste").is_some();
    let ate = cues().longest_of(behind.slice, "eat").is_some()
        && !matches!(behind.norm(1), "to" | "a")
        && !threw_away;
    let counted = number(behind).is_ok();
    let theirs = matches!(before(1), "all" | "for") && ends(behind);
    let speaks = behind.norm(0) == "here" && behind.norm(1) == "on"
        || behind.norm(0) == "asked" && behind.norm(1) == "me";
    is_beside_me(body, at, length) || ate || counted || theirs || speaks
}

/// "me and Ana", "Ana & me"
fn is_beside_me(body: Tokens<'_>, at: usize, length: usize) -> bool {
    let behind = body.after(at + length);
    let before = |back: usize| at.checked_sub(back).map_or("", |at| body.norm(at));
    let joins = |norm: &str| matches!(norm, "and" | "n");
    let joined_behind = joins(behind.norm(0))
        || behind
            .first()
            .is_some_and(|token| token.is('&') || token.is('+'));
    is_me(behind.norm(usize::from(joined_behind)))
        || is_me(before(
            1 + usize::from(joins(before(1)) || is_sign(body, at)),
        ))
}

fn is_me(norm: &str) -> bool {
    matches!(norm, "me" | "i" | "myself")
}

fn is_sign(body: Tokens<'_>, at: usize) -> bool {
    at > 0 && matches!(body.slice[at - 1].kind, Kind::Symbol('&' | '+' | '/'))
}

fn ends(behind: Tokens<'_>) -> bool {
    behind
        .first()
        .is_none_or(|token| matches!(token.kind, Kind::Newline | Kind::Symbol(_)))
}
