//! Whose plate it was, how it was shared, and when it was eaten.

use super::day_of::{eaten_when, is_of_the_talk, when, without_denied_day};
use super::divided::{divided, each_a_part, so_many_of_us, split};
use super::{
    after, before, is_possessive, known_name, owning, said, whole_of, without_closing,
    without_excuse,
};
use crate::lang::amount::grams;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Figure, Fix, Line, Of, WHOLE_PLATE, Words};
use crate::lang::token::Kind;
use crate::lang::tokens::Tokens;

/// Less is no part of a plate.
const PART_GRAMS_MIN: f64 = 3.0;

/// `excused`: words before it say that something is put right.
pub fn read(body: Tokens<'_>, excused: bool) -> Option<Fix> {
    told(body)
        .filter(|fix| excused || !is_of_the_talk(body, fix))
        .or_else(|| eaten_when(body, excused))
        .or_else(|| not_me(body))
        .or_else(|| owned(body))
        .or_else(|| kept(body))
        .or_else(|| gave(body))
        .or_else(|| took(body))
        .or_else(|| split(body))
        .or_else(|| so_many_of_us(body))
        .or_else(|| each_a_part(body))
}

/// "that was hers", "the beans were Ana's", "half of it was for Tom", "that was split 3 ways",
/// "that was yesterday's lunch"
fn told(body: Tokens<'_>) -> Option<Fix> {
    let (mut of, rest) = subject(body)?;
    // "a pound of the dal went to Tom" is a plate; half of it is half of what is on one, unless it is of what is left.
    let went = matches!(rest.norm(0), "to" | "by");
    let said = |word: &str| body.slice.iter().any(|token| token.norm() == word);
    let of_plate = said("went") && !said("left");
    let named = match &of {
        Of::Named(_) => true,
        Of::Part(Amount::Share(_), Some(_)) if of_plate => false,
        Of::Part(_, Some(name)) => name.text != WHOLE_PLATE,
        _ => false,
    };
    if went && named {
        return None;
    }
    let mut rest = without_closing(rest.trimmed_front());
    // "all of that was Ana's except the salsa"
    let whole = matches!(of, Of::Last | Of::Plate);
    if let Some((told, name)) = exception(rest).filter(|_| whole) {
        of = Of::AllBut(name);
        rest = told;
    }
    if let Some(who) = somebody(rest) {
        return Some(Fix::Whose { who, of });
    }
    if let Some(share) = divided(rest) {
        return Some(Fix::Shared { share, of });
    }
    // "it's Thursday" tells what day it is.
    let today =
        body.norm(0) == "its" && !rest.slice.iter().any(|token| token.norm().ends_with('s'));
    let (day, meal, rest) = when(rest);
    let rest = without_denied_day(rest.trimmed_front());
    if today && meal.is_none() {
        return None;
    }
    let told = rest.trimmed().is_empty() && (day.is_some() || meal.is_some());
    let whole = matches!(of, Of::Last | Of::Named(_));
    (told && whole).then_some(Fix::When { day, meal, of })
}

/// What is told about, up to and with "was".
fn subject(body: Tokens<'_>) -> Option<(Of, Tokens<'_>)> {
    // "thats", "that ones", "those were"
    if let Some(rest) = match (body.norm(0), body.norm(1)) {
        ("thats" | "its", _) => Some(body.after(1)),
        ("that" | "this", "ones") => Some(body.after(2)),
        _ => None,
    } {
        return Some((Of::Last, rest));
    }
    let body = match body.norm(0) {
        "only" | "just" => body.after(1),
        _ => body,
    };
    let at = (1..body.len().min(9)).find(|&at| said("was", body.after(at)).is_some())?;
    let rest = after("was", body.after(at))?;
    Some((of(body.range(0, at))?, rest))
}

/// What stands before "except the salsa", and the salsa.
fn exception(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    let at = (1..input.len()).find(|&at| said("except", input.after(at)).is_some())?;
    let name = known_name(after("except", input.after(at))?)?;
    Some((input.range(0, at).trimmed_end(), name))
}

/// "that", "all of it", "the beans", "half of my chilli"
pub fn of(input: Tokens<'_>) -> Option<Of> {
    if whole_of(input, "plate") {
        return Some(Of::Plate);
    }
    if let Some((told, name)) = exception(input)
        && (whole_of(told, "plate") || told.norm(0) == "all" && told.len() == 1)
    {
        return Some(Of::AllBut(name));
    }
    if whole_of(input, "that") {
        return Some(Of::Last);
    }
    if let Some((rest, amount)) = part(input) {
        return part_of(rest, amount);
    }
    let skip = usize::from(matches!(input.norm(0), "that" | "those" | "this" | "these"));
    known_name(input.after(skip)).map(Of::Named)
}

/// "half", "a third", "30 g"
fn part(input: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    if let Some(Kind::Percent(percent)) = input.first().map(|token| &token.kind) {
        return Some((input.after(1), Amount::Share(percent / 100.0)));
    }
    let skip = usize::from(matches!(
        input.norm(0),
        "about" | "roughly" | "like" | "around"
    ));
    let input = input.after(skip);
    if let Ok((rest, part)) = number(input)
        && part.value < 1.0
        && part.value > 0.0
    {
        return Some((rest, Amount::Share(part.value)));
    }
    let (rest, grams) = grams(input).ok()?;
    // "one of those" counts no grams.
    (grams >= PART_GRAMS_MIN).then_some((rest, Amount::Mass(grams)))
}

/// "I only had 200 of that": how much it was.
fn kept(body: Tokens<'_>) -> Option<Fix> {
    let (skip, owner) = match person(body) {
        Some((length, who)) => (length, Some(who)),
        None => (0, None),
    };
    let (rest, amount) = part(after("kept", body.after(skip))?)?;
    // "ana only had 250" may go on.
    if owner.is_some() && rest.norm(0) != "of" {
        return None;
    }
    let Of::Part(amount, name) = part_of(without_closing(rest), amount)? else {
        return None;
    };
    let new = match amount {
        Amount::Share(share) => Figure::Times(share),
        amount => Figure::Is(amount),
    };
    let line = Line {
        name,
        owner,
        ..Line::default()
    };
    Some(Fix::Amount { new, line })
}

/// "of that", "of my chilli", "of mine", "chilli", or nothing more
fn part_of(rest: Tokens<'_>, amount: Amount) -> Option<Of> {
    let linked = rest.norm(0) == "of";
    let rest = rest.after(usize::from(linked));
    let skip = usize::from(matches!(
        rest.norm(0),
        "my" | "the" | "that" | "those" | "our"
    ));
    if rest.is_empty() || whole_of(rest, "that") {
        return Some(Of::Part(amount, None));
    }
    if whole_of(rest, "plate") {
        let name = Words::new(WHOLE_PLATE, rest.span());
        return Some(Of::Part(amount, Some(name)));
    }
    Some(Of::Part(amount, Some(known_name(rest.after(skip))?)))
}

/// "hers", "Ana's", "for Ana", with "not mine" behind it.
pub fn somebody(input: Tokens<'_>) -> Option<Words> {
    let skip = match (input.norm(0), input.norm(1)) {
        ("all" | "actually" | "really", "for" | "to" | "by") => 2,
        ("for" | "to" | "by" | "all" | "actually" | "really", _) => 1,
        // "on Tom's plate"
        ("on", _) if input.len() > 2 => 1,
        _ => 0,
    };
    let linked = skip > 0 && matches!(input.norm(skip - 1), "for" | "to" | "by");
    let rest = input.after(skip);
    let said = rest.norm(0);
    let pronoun = matches!(said, "hers" | "his" | "theirs" | "mine")
        || linked && matches!(said, "her" | "him" | "them" | "me");
    let (length, who) = match pronoun {
        true => (1, rest.range(0, 1).words()),
        false => {
            let (length, who) = person(rest)?;
            if !(is_possessive(rest, length, &who) || linked) {
                return None;
            }
            (length, owning(rest, length, who))
        }
    };
    let mut tail = rest.after(length).trimmed_front();
    let mut denied = false;
    while let "one" | "plate" | "bowl" | "portion" | "share" | "not" | "mine" | "me" | "bit" =
        tail.norm(0)
    {
        denied = tail.norm(0) == "not";
        tail = tail.after(1).trimmed_front();
    }
    if tail.is_empty() {
        return Some(who);
    }
    // "hers not mine, ana"
    let (length, named) = person(tail)?;
    // "mine, not Ana's"
    (pronoun && length == tail.len()).then_some(if denied { who } else { named })
}

/// "ana's", "for ana"
fn owned(body: Tokens<'_>) -> Option<Fix> {
    let who = somebody(body)?;
    Some(Fix::Whose { who, of: Of::Last })
}

/// "wasnt me that was tom", "not me, tom"
fn not_me(body: Tokens<'_>) -> Option<Fix> {
    let skip = match (body.norm(0), body.norm(1), body.norm(2)) {
        ("that" | "it", "wasnt", "me" | "mine") => 3,
        ("wasnt" | "not", "me" | "mine", _) => 2,
        _ => return None,
    };
    let rest = without_excuse(body.after(skip));
    let rest = match (rest.norm(0), rest.norm(1)) {
        ("that" | "it", "was") => rest.after(2),
        _ => rest,
    };
    let (length, who) = person(rest)?;
    (length == rest.len()).then_some(Fix::Whose { who, of: Of::Last })
}

/// "gave ana 60 of my chilli", "gave 40 of that to ana", "gave it to tom"
fn gave(body: Tokens<'_>) -> Option<Fix> {
    if let Some(fix) = gave_me(body) {
        return Some(fix);
    }
    let rest = after("gave", body)?;
    if let Some((length, who)) = person(rest) {
        let (rest, amount) = part(rest.after(length))?;
        let of = part_of(rest, amount)?;
        return Some(Fix::Whose { who, of });
    }
    let at = rest.slice.iter().rposition(|token| token.norm() == "to")?;
    let (length, who) = person(rest.after(at + 1))?;
    if at + 1 + length != rest.len() {
        return None;
    }
    let given = rest.range(0, at);
    let of = of(given).or_else(|| part(given).and_then(|(rest, amount)| part_of(rest, amount)))?;
    Some(Fix::Whose { who, of })
}

/// "tom gave me 50 of his chilli"
fn gave_me(body: Tokens<'_>) -> Option<Fix> {
    let (length, _) = person(body)?;
    let rest = after("gave", body.after(length))?;
    if rest.norm(0) != "me" {
        return None;
    }
    let who = rest.range(0, 1).words();
    let (rest, amount) = part(rest.after(1))?;
    let of = part_of(rest, amount)?;
    Some(Fix::Whose { who, of })
}

/// "ana had a third of that", "tom pinched 45 of mine"
fn took(body: Tokens<'_>) -> Option<Fix> {
    let (length, who) = person(body)?;
    let rest = after("took", body.after(length))?;
    let (rest, amount) = part(rest)?;
    // "ana had 90 of the rice" is a plate of its own.
    let rest = before("off mine", rest).unwrap_or(rest);
    let ours = rest.norm(0) == "of"
        && matches!(
            rest.norm(1),
            "that" | "it" | "this" | "mine" | "those" | "my"
        );
    let of = part_of(rest, amount).filter(|_| ours)?;
    Some(Fix::Whose { who, of })
}
