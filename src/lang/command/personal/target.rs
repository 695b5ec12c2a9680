//! Targets: "target 2200 kcal, 130 protein", "120-140 protein", "no protein target", "my targets?".

use super::{Unit, field, is_phrase, maybe, phrase, whole};
use crate::foods::{KJ_PER_KCAL, SALT_PER_SODIUM};
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Aim, Aimed, Command, Personal, Words};
use crate::lang::tokens::{Read, Tokens};

/// Nobody has more of them.
const AIMS_MAX: usize = 8;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| target(body).map(Personal::Target))
}

pub fn read_none(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| none(body).map(Personal::NoTarget))
}

pub fn read_asked(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| {
        let asks = is_phrase("show", body) || of_one(body).is_some();
        let own = asks.then_some(Personal::Targets);
        own.or_else(|| of_another(body).map(Personal::TargetsOf))
    })
}

/// "Ana's target", "set Ana's protein target to 130"
fn of_another(body: Tokens<'_>) -> Option<Words> {
    let rest = maybe("lead", body);
    let asked = matches!(rest.norm(0), "whats" | "what");
    let rest = rest.after(usize::from(asked));
    let rest = rest.after(usize::from(asked && rest.norm(0) == "is"));
    let (length, who) = person(rest)?;
    let owns = rest.norm(length - 1) != who.text.to_lowercase();
    let rest = maybe("daily", rest.after(length));
    let rest = field(rest).map_or(rest, |(rest, ..)| rest);
    let rest = phrase("target", rest).filter(|_| owns)?;
    let told = maybe("is", rest.without_lead_but_minus()).without_lead_but_minus();
    (told.is_empty() || aims(told, None).is_some()).then_some(who)
}

/// "what is my protein target"
fn of_one(body: Tokens<'_>) -> Option<Aimed> {
    let asked = matches!(body.norm(0), "whats" | "what");
    let rest = body.after(usize::from(asked));
    let rest = rest.after(usize::from(matches!(rest.norm(0), "is" | "are")));
    let rest = phrase("own", rest).filter(|_| asked || body.norm(0) == "my")?;
    let (rest, of, _) = field(maybe("daily", rest))?;
    is_phrase("target", rest).then_some(of)
}

fn target(body: Tokens<'_>) -> Option<Vec<Aim>> {
    let rest = maybe("daily", maybe("own", maybe("lead", body)));
    let (rest, named) = match phrase("target", rest) {
        Some(rest) => (rest, None),
        None => behind_field(rest).or_else(|| each_day(body))?,
    };
    let rest = maybe("is", rest.without_lead_but_minus());
    aims(rest.without_lead_but_minus(), named)
}

/// "I want 120 g protein a day"
fn each_day(body: Tokens<'_>) -> Option<(Tokens<'_>, Option<(Aimed, Unit)>)> {
    let rest = phrase("lead", body)?;
    let daily = (1..rest.len()).any(|at| is_phrase("a day", rest.after(at)));
    daily.then_some((rest, None))
}

/// "protein target 130"
fn behind_field(rest: Tokens<'_>) -> Option<(Tokens<'_>, Option<(Aimed, Unit)>)> {
    let (rest, of, unit) = field(rest)?;
    Some((phrase("target", rest)?, Some((of, unit))))
}

/// Figures with what each is of, to the end: "600 kcal, at least 35 g protein".
pub fn told(input: Tokens<'_>) -> Option<Vec<Aim>> {
    aims(input, None).filter(|aims| aims.iter().all(|aim| aim.of.is_some()))
}

/// All that is aimed at; every word has its place.
fn aims(input: Tokens<'_>, named: Option<(Aimed, Unit)>) -> Option<Vec<Aim>> {
    let mut aims: Vec<Aim> = Vec::new();
    let mut rest = input;
    while !rest.is_empty() && aims.len() < AIMS_MAX {
        let (after, aim) = aim(rest, named.filter(|_| aims.is_empty()))?;
        aims.push(aim);
        let after = maybe("a day", after);
        let joined = after.without_lead();
        let joins = matches!(joined.norm(0), "and" | "plus" | "with" | "n")
            || joined
                .first()
                .is_some_and(|token| ['/', '&', '+', ';'].iter().any(|mark| token.is(*mark)));
        rest = joined.after(usize::from(joins));
    }
    // A figure alone tells of nothing beside others.
    let plain = aims.len() == 1 || aims.iter().all(|aim| aim.of.is_some());
    (rest.is_empty() && !aims.is_empty() && plain).then_some(aims)
}

/// What is aimed at in a sentence, whatever else is said in it: "hold me to no more than 2000 kcal a day, ok?"
pub fn found_in(input: Tokens<'_>) -> Vec<Aim> {
    let mut aims: Vec<Aim> = Vec::new();
    let mut rest = input;
    while !rest.is_empty() {
        match aim(rest, None).filter(|(_, aim)| aim.of.is_some()) {
            Some((after, aim)) => {
                aims.push(aim);
                rest = after;
            }
            None => rest = rest.take_one(),
        }
    }
    aims
}

/// How it is bounded.
#[derive(Clone, Copy, PartialEq)]
enum Bound {
    Least,
    Most,
    Both,
}

fn aim(input: Tokens<'_>, named: Option<(Aimed, Unit)>) -> Option<(Tokens<'_>, Aim)> {
    // "protein 130", "salt under 6"
    if named.is_none()
        && let Some((rest, of, unit)) = field(input)
    {
        let rest = maybe("is", rest.without_lead_but_minus());
        return figures(rest.without_lead_but_minus(), Some((of, unit)));
    }
    figures(input, named)
}

/// "at least 30 g fibre", "1800 to 2200 kcal"
fn figures(input: Tokens<'_>, named: Option<(Aimed, Unit)>) -> Option<(Tokens<'_>, Aim)> {
    let (rest, bound) = bound(input);
    let between = matches!(rest.norm(0), "between");
    let (rest, first) = signed(rest.after(usize::from(between)))?;
    let (rest, first_unit) = unit_within(rest);
    let (rest, second) = match to(rest, between) {
        Some(after) => {
            let (rest, second) = signed(after)?;
            (rest, Some(second))
        }
        None => (rest, None),
    };
    let (rest, unit) = match gram(rest) {
        (rest, Some(unit)) => (rest, Some(unit)),
        (rest, None) => (rest, first_unit),
    };
    let rest = rest.after(usize::from(rest.norm(0) == "of"));
    let (rest, told) = match (field(rest), named) {
        (Some((rest, of, own)), None) => (rest, Some((of, own))),
        (Some((rest, of, own)), Some((known, _))) if of == known => (rest, Some((of, own))),
        (_, named) => (rest, named),
    };
    let (rest, bound) = match (phrase("least behind", rest), phrase("most behind", rest)) {
        (Some(rest), _) if bound == Bound::Both => (rest, Bound::Least),
        (_, Some(rest)) if bound == Bound::Both => (rest, Bound::Most),
        _ => (rest, bound),
    };
    let factor = match (unit, told) {
        // Grams of energy are none.
        (Some(_), Some((Aimed::Energy, _))) => return None,
        (unit, Some((_, own))) => factor(unit, own),
        (Some(_), None) => return None,
        (None, None) => 1.0,
    };
    let (low, high) = match second {
        Some(second) => (first, second),
        None => (first, first),
    };
    let aim = Aim {
        of: told.map(|(of, _)| of),
        least: (bound != Bound::Most).then_some(low * factor),
        most: (bound != Bound::Least).then_some(high * factor),
    };
    let fits = second.is_none() || bound == Bound::Both;
    fits.then_some((rest, aim))
}

fn factor(unit: Option<Unit>, own: Unit) -> f64 {
    let mass = match unit {
        Some(Unit::Milligram) => 0.001,
        _ => 1.0,
    };
    match own {
        Unit::Kcal => 1.0,
        Unit::Kilojoule => 1.0 / KJ_PER_KCAL,
        Unit::Megajoule => 1000.0 / KJ_PER_KCAL,
        // Sodium is told in milligrams where no unit stands.
        Unit::Sodium if unit.is_none() => 0.001 * SALT_PER_SODIUM,
        Unit::Sodium => mass * SALT_PER_SODIUM,
        Unit::Gram | Unit::Milligram => mass,
    }
}

fn bound(input: Tokens<'_>) -> (Tokens<'_>, Bound) {
    let input = maybe("about", input);
    match (phrase("least", input), phrase("most", input)) {
        (Some(rest), _) => (rest, Bound::Least),
        (_, Some(rest)) => (rest, Bound::Most),
        _ => (input, Bound::Both),
    }
}

/// A number, which a minus may stand before.
fn signed(input: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    let minus = input.first().is_some_and(|token| token.is('-'));
    let (rest, told) = number(input.after(usize::from(minus))).ok()?;
    let sign = if minus { -1.0 } else { 1.0 };
    (!told.article).then_some((rest, sign * told.value))
}

/// "120g-140g": a unit before the second figure.
fn unit_within(input: Tokens<'_>) -> (Tokens<'_>, Option<Unit>) {
    match gram(input) {
        (rest, Some(unit)) if to(rest, true).is_some() => (rest, Some(unit)),
        _ => (input, None),
    }
}

fn gram(input: Tokens<'_>) -> (Tokens<'_>, Option<Unit>) {
    match (phrase("gram", input), phrase("milligram", input)) {
        (Some(rest), _) => (rest, Some(Unit::Gram)),
        (_, Some(rest)) => (rest, Some(Unit::Milligram)),
        _ => (input, None),
    }
}

/// What stands between two figures, if another follows.
fn to(input: Tokens<'_>, between: bool) -> Option<Tokens<'_>> {
    let dash = input.first().is_some_and(|token| token.is('-'));
    let and = between && input.norm(0) == "and";
    let rest = match dash || and {
        true => input.take_one(),
        false => phrase("to", input)?,
    };
    number(rest).is_ok().then_some(rest)
}

fn none(body: Tokens<'_>) -> Option<Vec<Aimed>> {
    let led = phrase("no target", body)?;
    let rest = maybe("daily", maybe("own", led));
    let (rest, mut of) = fields(rest);
    let rest = phrase("target", rest)?;
    let rest = rest.after(usize::from(matches!(rest.norm(0), "for" | "of" | "on")));
    let (rest, more) = fields(rest);
    of.extend(more);
    let rest = maybe("a day", rest.after(usize::from(rest.norm(0) == "anymore")));
    rest.trimmed().is_empty().then_some(of)
}

/// "protein and fibre"
fn fields(input: Tokens<'_>) -> (Tokens<'_>, Vec<Aimed>) {
    let (mut rest, mut found) = (input, Vec::new());
    while let Some((after, of, _)) = field(rest) {
        found.push(of);
        rest = after;
        let more = after.without_lead();
        let joined = more.after(usize::from(matches!(more.norm(0), "and" | "or")));
        if field(joined).is_some() {
            rest = joined;
        }
    }
    (rest, found)
}

impl<'a> Tokens<'a> {
    /// Without the colon or the sign of equality that follows a word; a minus stays.
    pub(in crate::lang) fn without_lead_but_minus(&self) -> Tokens<'a> {
        let skipped = self.slice.iter();
        let mark =
            |token: &&crate::lang::token::Token| token.is(':') || token.is('=') || token.is(',');
        self.after(skipped.take_while(mark).count())
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Personal, Vocabulary};

    #[track_caller]
    fn sure(text: &str, printed: &str) {
        surely_means(text, &Vocabulary::new(), printed);
    }

    #[test]
    fn targets_in_many_spellings() {
        let both = "target 2200 kcal, 130 g protein";
        for text in [
            "target 2200 kcal, 130 protein",
            "Target: 2200kcal / 130g protein",
            "my targets are 2200 kcal and 130 g protein",
            "set my daily target to 2200 calories, protein 130 g a day",
            "target 2,200 kcal a day + 130 protein",
            "goal 2200 kcal, 130 g of protein per day",
        ] {
            sure(text, both);
        }
        for (text, printed) in [
            ("target 120-140 protein", "target 120 to 140 g protein"),
            ("target 120g-140g protein", "target 120 to 140 g protein"),
            (
                "target between 120 and 140 g protein",
                "target 120 to 140 g protein",
            ),
            ("protein target 120 to 140", "target 120 to 140 g protein"),
            ("set my protein target to 130 g", "target 130 g protein"),
            ("my protein goal is 120 g a day", "target 120 g protein"),
            ("target at least 30 fibre", "target at least 30 g fibre"),
            ("target fibre 30 or more", "target at least 30 g fibre"),
            ("target under 6 salt", "target at most 6 g salt"),
            ("target salt under 6 g", "target at most 6 g salt"),
            ("target sodium under 2000 mg", "target at most 5 g salt"),
            ("target 1800 to 2200 kcal", "target 1800 to 2200 kcal"),
            ("target 8368 kJ", "target 2000 kcal"),
            ("target -5 kcal", "target -5 kcal"),
            ("target 70 fat, 250 carbs", "target 70 g fat, 250 g carbs"),
            ("no target", "no target"),
            ("drop my targets", "no target"),
            ("no protein target", "no protein target"),
            ("remove my target for fibre", "no fibre target"),
            ("my targets?", "my targets"),
            ("what is my protein target?", "my targets"),
        ] {
            sure(text, printed);
        }
        means("target 2200", &Vocabulary::new(), "target 2200");
    }

    #[test]
    fn talk_of_targets_sets_none() {
        for text in [
            "my target is to finish by 5",
            "sales target 2200",
            "the target for this month is 2200",
            "target practice at 6",
            "should my target be 2000 kcal?",
            "my trainer says target 150 g protein",
            "goal 2-1",
            "no goals",
            "2200 kcal",
            "goals",
            "if my target is 2000 kcal I can have the pudding",
            "target opens at 8",
        ] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(
                    command,
                    Command::Personal(
                        Personal::Target(_) | Personal::NoTarget(_) | Personal::Targets
                    )
                )
            });
        }
    }
}
