//! The words of a remark, one by one: terms, cues, words that only link them, and all others.

use super::said::{Cue, Said, Which};
use crate::lang::gist::is_vessel;
use crate::lang::gist::mark::{Mark, mark};
use crate::lang::lexer::folded_words;
use crate::lang::lexicon::is_food_word;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;
use crate::lang::words::{corrections, fillers, outros, places, pots, remarks, selectors, talk};

/// "back in the big blue pot"
const VESSEL_WORDS_MAX: usize = 4;
/// Less is no pot with food in it.
const SHOWN_GRAMS_MIN: f64 = 150.0;

#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    Term(Said),
    Cue(Cue),
    /// What follows is denied.
    Deny,
    /// It says nothing by itself.
    Link,
    /// It tells of eating: "she ate it".
    Reason,
    /// It leads to somebody: "to", "on".
    To,
    Break,
    Asked,
    /// "the pot's 2812": what a vessel weighs now.
    Shows,
    Other,
}

/// A piece and the tokens that it covers.
pub struct Placed {
    pub piece: Piece,
    pub from: usize,
    pub to: usize,
}

impl Piece {
    /// It is a part of a chunk.
    pub fn is_said(&self) -> bool {
        matches!(
            self,
            Self::Term(_) | Self::Cue(_) | Self::Deny | Self::Link | Self::Reason | Self::Shows
        )
    }
}

/// All pieces in order; `None` where a number is no weight.
pub fn pieces(input: Tokens<'_>) -> Option<Vec<Placed>> {
    let mut out: Vec<Placed> = Vec::new();
    let mut at = 0;
    while at < input.len() {
        // "the 210 one"
        let amount = |it: &Placed| matches!(it.piece, Piece::Term(Said::Amount(..)));
        if matches!(input.norm(at), "one" | "ones") && out.last().is_some_and(amount) {
            let (piece, to) = (Piece::Link, at + 1);
            out.push(Placed {
                piece,
                from: at,
                to,
            });
            at = to;
            continue;
        }
        // "no 230" is no door's number here.
        let denied = at > 0 && input.norm(at - 1) == "no";
        let (mark, marked) = match denied {
            true => mark(input.after(at), 0, None),
            false => mark(input, at, None),
        };
        let numeric = matches!(mark, Mark::Amount(_) | Mark::Stray | Mark::Aside);
        let (said, length) = match phrase(input.after(at)) {
            // "one fifty" is a number, "one" of it is none.
            Some((said, length)) if !numeric || length > marked => (said, length),
            _ => (of_mark(input, at, &mark, marked)?, marked),
        };
        let (from, to) = (at, at + length);
        out.extend(said.into_iter().map(|piece| Placed { piece, from, to }));
        at = to;
    }
    parts(&mut out, input);
    lessened(&mut out);
    lead(&mut out, input);
    exclaimed(&mut out);
    Some(out)
}

/// A phrase of the lists.
fn phrase(rest: Tokens<'_>) -> Option<(Vec<Piece>, usize)> {
    if let Some(found) = selected(rest) {
        return Some(found);
    }
    if let Some(length) = returned(rest) {
        return Some((vec![Piece::Cue(Cue::Back), Piece::Reason], length));
    }
    if let Some(length) = shows(rest) {
        return Some((vec![Piece::Shows], length));
    }
    if swaps_people(rest) {
        return Some((vec![Piece::Cue(Cue::Swapped)], 1));
    }
    if let Some(length) = corrections().longest_of(rest.slice, "swapped") {
        return Some((vec![Piece::Cue(Cue::Swapped)], length));
    }
    let Some((length, key)) = remarks().longest(rest.slice) else {
        let of = |part| corrections().longest_of(rest.slice, part);
        let sorry = of("owned up").map(|length| (Piece::Cue(Cue::Sorry), length));
        let wrong = of("excuse")
            .or_else(|| of("meaning"))
            .map(|length| (Piece::Cue(Cue::Wrong), length));
        let idle = || {
            of("closing")
                .or_else(|| of("lead"))
                .map(|length| (Piece::Link, length))
        };
        return sorry
            .or(wrong)
            .or_else(idle)
            .map(|(piece, length)| (vec![piece], length));
    };
    let names = |at: usize| {
        let norm = rest.norm(at);
        rest.vocabulary.has_word(norm) || is_food_word(norm)
    };
    let pieces = match key {
        "is" => vec![Piece::Cue(Cue::Is)],
        "is not" => vec![Piece::Cue(Cue::Is), Piece::Deny],
        "that is" => vec![Piece::Cue(Cue::That), Piece::Cue(Cue::Is)],
        "sets" => vec![Piece::Cue(Cue::Sets)],
        "wrong" => vec![Piece::Cue(Cue::Wrong)],
        "owned up" => vec![Piece::Cue(Cue::Sorry)],
        "right" => vec![Piece::Cue(Cue::Right)],
        "off" => vec![Piece::Cue(Cue::Off)],
        "erased" => vec![Piece::Cue(Cue::Off), Piece::Cue(Cue::Erased)],
        "each" => vec![Piece::Cue(Cue::Each)],
        "all" => vec![Piece::Cue(Cue::That), Piece::Cue(Cue::All)],
        "given that" => vec![Piece::Cue(Cue::That), Piece::Cue(Cue::Given)],
        "they" => vec![
            Piece::Term(Said::Whose(Words::plain("theirs"))),
            Piece::Cue(Cue::Sets),
        ],
        "uneaten" => vec![Piece::Cue(Cue::Uneaten)],
        "given" => vec![Piece::Cue(Cue::Given)],
        "swapped" => vec![Piece::Cue(Cue::Swapped)],
        "reason" => vec![Piece::Reason],
        "that" => vec![Piece::Cue(Cue::That)],
        "not" => vec![Piece::Deny],
        // "no beans" denies; "no 320" does not.
        "none" if names(1) || rest.norm(1) == "the" && names(2) => {
            vec![Piece::Cue(Cue::No), Piece::Deny]
        }
        "none" => vec![Piece::Cue(Cue::Wrong)],
        "link" => vec![Piece::Link],
        "other" => vec![Piece::Other],
        "back" => vec![Piece::Cue(Cue::Off), Piece::Cue(Cue::That), Piece::Reason],
        "joint" => vec![Piece::Break],
        "to" => vec![Piece::To],
        "first" => vec![Piece::Term(Said::Which(Which::First))],
        "last" => vec![Piece::Term(Said::Which(Which::Last))],
        "middle" => vec![Piece::Term(Said::Which(Which::Middle))],
        "second" => vec![Piece::Term(Said::Which(Which::Nth(1)))],
        "third" => vec![Piece::Term(Said::Which(Which::Nth(2)))],
        "less" => vec![Piece::Cue(Cue::Less)],
        "finally" => vec![Piece::Cue(Cue::Finally)],
        "before last" => vec![Piece::Term(Said::Which(Which::BeforeLast))],
        "whose" => vec![Piece::Term(Said::Whose(rest.range(0, length).words()))],
        "i had" => vec![Piece::Term(Said::Person(Words::plain("me")))],
        "who" => vec![Piece::Term(Said::Person(rest.range(0, length).words()))],
        _ => return None,
    };
    Some((pieces, length))
}

/// "the new one", "the old 1"
fn selected(rest: Tokens<'_>) -> Option<(Vec<Piece>, usize)> {
    let word = rest.norm(0);
    let one = rest.norm(1) == "one"
        || rest.get(1).is_some_and(
            |token| matches!(token.kind, Kind::Number(numeral) if numeral.value == 1.0),
        );
    if !one
        || !selectors().has(word)
        || matches!(
            word,
            "that" | "this" | "the" | "my" | "our" | "first" | "last" | "other"
        )
    {
        return None;
    }
    let name = Words::new(format!("{word} one"), rest.range(0, 2).span());
    Some((vec![Piece::Term(Said::Name(name))], 2))
}

fn of_mark(input: Tokens<'_>, at: usize, mark: &Mark, length: usize) -> Option<Vec<Piece>> {
    let rest = input.after(at);
    let term = |said| Some(vec![Piece::Term(said)]);
    match mark {
        Mark::Aside | Mark::Stray => None,
        Mark::Amount(said) => match said {
            Amount::Bare(_) | Amount::Mass(_) => {
                let mut pieces = term(Said::Amount(said.clone(), unit(rest, said)))?;
                let each = matches!(rest.norm(length - 1), "each" | "apiece");
                pieces.extend(each.then_some(Piece::Cue(Cue::Each)));
                Some(pieces)
            }
            _ => None,
        },
        Mark::Dish(name) | Mark::Food(name) => term(Said::Name(name.clone())),
        Mark::Person(who) => {
            let length = who.text.split_whitespace().count();
            let owner = rest.norm(length - 1) != folded_words(&who.text).pop()?;
            term(match owner {
                true => Said::Whose(who.clone()),
                false => Said::Person(who.clone()),
            })
        }
        Mark::Day(day) => term(Said::When(Some(day.clone()), None)),
        Mark::Meal(meal) => term(Said::When(None, Some(*meal))),
        Mark::Break { .. } if rest.first()?.is('?') => Some(vec![Piece::Asked]),
        Mark::Break { .. } => Some(vec![Piece::Break]),
        Mark::Foods | Mark::Vague => Some(vec![Piece::Other]),
        Mark::Word => Some(vec![word(rest)]),
    }
}

/// The grams of the unit that an amount was told in.
fn unit(rest: Tokens<'_>, said: &Amount) -> Option<f64> {
    let Amount::Mass(grams) = said else {
        return None;
    };
    let (_, number) = number(rest).ok()?;
    (number.value > 0.0).then_some(grams / number.value)
}

fn word(rest: Tokens<'_>) -> Piece {
    let token = &rest.slice[0];
    // "my elbow was on the scale - undo"
    if token.is('-') && token.spaced && rest.get(1).is_some_and(|next| next.spaced) {
        return Piece::Break;
    }
    let idle = matches!(token.kind, Kind::Symbol(_) | Kind::Newline)
        || fillers().has(token.norm())
        || outros().has(token.norm());
    match idle {
        true => Piece::Link,
        false => Piece::Other,
    }
}

/// "40 of that" is a part; "to", "for" are words like others where nobody is named behind them.
fn parts(pieces: &mut [Placed], input: Tokens<'_>) {
    for at in 0..pieces.len() {
        let next = (at + 1..pieces.len()).find(|&next| pieces[next].piece != Piece::Link);
        let behind = next.map(|next| pieces[next].piece.clone());
        let linked = next.is_some_and(|next| {
            let before = pieces[next].from.checked_sub(1);
            before.is_some_and(|before| input.norm(before) == "of")
        });
        match (&pieces[at].piece, behind) {
            (Piece::Term(Said::Amount(amount, _)), Some(Piece::Cue(Cue::That))) if linked => {
                pieces[at].piece = Piece::Term(Said::Part(amount.clone()));
            }
            // "the other 30"
            (Piece::Other, Some(Piece::Term(Said::Amount(..))))
                if input.norm(pieces[at].from) == "other" =>
            {
                pieces[at].piece = Piece::Link;
            }
            (Piece::To, Some(Piece::Term(Said::Person(_) | Said::Whose(_)))) => {
                pieces[at].piece = Piece::Cue(Cue::For);
            }
            (Piece::To, _) => pieces[at].piece = Piece::Other,
            _ => {}
        }
    }
}

/// "went back", "back in sunday's pot": it stands where it was. Back anywhere else is of somebody.
fn returned(rest: Tokens<'_>) -> Option<usize> {
    let of = |at: usize, key| remarks().longest_of(rest.after(at).slice, key);
    let verb = of(0, "goes").unwrap_or(0);
    if rest.norm(verb) != "back" {
        return None;
    }
    let back = verb + 1;
    let Some(into) = of(back, "into") else {
        let ends = rest
            .get(back)
            .is_none_or(|next| next.norm().is_empty() || of(back, "joint").is_some());
        return ends.then_some(back);
    };
    let from = back + into;
    let ends = |at: usize| rest.get(at).is_none_or(|next| next.norm().is_empty());
    if ends(from) {
        return Some(from);
    }
    let vessel = |at: &usize| {
        let token = rest.get(*at);
        token.is_some_and(|token| {
            is_vessel(token.norm()) || pots().holds(token) || places().holds(token)
        })
    };
    let plain = |at: usize| {
        rest.get(at)
            .is_some_and(|token| !token.norm().is_empty() && !token.is_numeric())
    };
    let reach = (from..from + VESSEL_WORDS_MAX).take_while(|&at| plain(at));
    reach.into_iter().find(vessel).map(|at| at + 1)
}

/// "the pot's 2812", "jar is at 640 now", and nothing more.
pub fn shows(rest: Tokens<'_>) -> Option<usize> {
    let article = usize::from(matches!(rest.norm(0), "the" | "my" | "our"));
    let noun = rest.norm(article);
    let token = rest.get(article)?;
    let vessel = is_vessel(noun) || is_vessel(noun.strip_suffix('s')?) || pots().holds(token);
    let idle = |at: &usize| {
        matches!(
            rest.norm(*at),
            "s" | "is" | "at" | "now" | "says" | "weighs"
        )
    };
    let from = article + 1;
    let number_at = from + (from..rest.len()).take_while(|at| idle(at)).count();
    let (behind, said) = number(rest.after(number_at)).ok()?;
    let to = rest.len() - behind.len();
    let ends = rest
        .get(to)
        .is_none_or(|next| next.norm().is_empty() && !next.is_numeric());
    (vessel && ends && said.value >= SHOWN_GRAMS_MIN).then_some(to)
}

/// "swap me and Tom there"
fn swaps_people(rest: Tokens<'_>) -> bool {
    let somebody =
        |at: usize| remarks().get(rest.norm(at)) == Some("who") || person(rest.after(at)).is_some();
    let joined = |at: &usize| {
        matches!(rest.norm(*at), "and" | "n" | "with")
            || rest.after(*at).first().is_some_and(|it| it.is('&'))
    };
    matches!(rest.norm(0), "swap" | "switch")
        && somebody(1)
        && (2..4).find(joined).is_some_and(|at| somebody(at + 1))
}

/// What is told beside "back" and "less" is so much less of what stands.
fn lessened(pieces: &mut [Placed]) {
    let amount = |it: &Placed| match &it.piece {
        Piece::Term(Said::Amount(amount, _) | Said::Part(amount)) => Some(amount.clone()),
        _ => None,
    };
    let turn = |it: &mut Placed| {
        if let Some(less) = amount(it) {
            it.piece = Piece::Term(Said::Less(less));
        }
    };
    let said = |it: &Placed| {
        matches!(
            it.piece,
            Piece::Term(_) | Piece::Link | Piece::Cue(Cue::That | Cue::Is)
        )
    };
    for at in 0..pieces.len() {
        let before = pieces[..at].iter().rposition(|it| it.piece != Piece::Link);
        let behind = (at + 1..pieces.len()).find(|&next| pieces[next].piece != Piece::Link);
        match pieces[at].piece {
            Piece::Cue(Cue::Back) => {
                let from = pieces[..at]
                    .iter()
                    .rposition(|it| !said(it))
                    .map_or(0, |it| it + 1);
                pieces[from..at].iter_mut().for_each(turn);
            }
            // "30 less", "minus 60"
            Piece::Cue(Cue::Less) => match (before, behind) {
                (Some(before), _) if amount(&pieces[before]).is_some() => turn(&mut pieces[before]),
                (_, Some(behind)) => turn(&mut pieces[behind]),
                _ => {}
            },
            // "take 45 off that"
            Piece::Cue(Cue::Off) => {
                let that = |it: &Placed| it.piece == Piece::Cue(Cue::That);
                let of_that = |at: usize| {
                    let next = pieces[at + 1..].iter().find(|it| it.piece != Piece::Link);
                    next.is_some_and(that)
                };
                if let Some(behind) = behind.filter(|&at| of_that(at)) {
                    turn(&mut pieces[behind]);
                }
            }
            _ => {}
        }
    }
}

/// "strewth meant 250": a word before everything else that only sighs.
fn lead(pieces: &mut [Placed], input: Tokens<'_>) {
    let sighs = !talk().has(input.norm(0));
    if let [first, second, ..] = pieces
        && first.piece == Piece::Other
        && matches!(
            second.piece,
            Piece::Cue(Cue::Sets | Cue::Wrong | Cue::Sorry)
        )
        && sighs
    {
        first.piece = Piece::Link;
    }
}

/// "320?? no 230": a mark behind a number that stands alone asks nothing; behind all else it asks.
fn exclaimed(pieces: &mut [Placed]) {
    for at in 0..pieces.len() {
        if pieces[at].piece != Piece::Asked {
            continue;
        }
        let quotes = |it: &Placed| matches!(it.piece, Piece::Term(Said::Amount(..)) | Piece::Break);
        if pieces[..at].iter().all(quotes) && at > 0 && at + 1 < pieces.len() {
            pieces[at].piece = Piece::Break;
        }
    }
}
