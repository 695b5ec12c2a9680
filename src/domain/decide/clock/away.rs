//! Who is not here when, and what should be frozen or finished before.

use chrono::{Days, NaiveDate};

use super::super::super::answer::Answer;
use super::super::super::change::Detail;
use super::super::super::clock::absence::{Absence, KeptAbsence};
use super::super::super::clock::answer::{AbsenceView, AwayAnswer, ClockAnswer};
use super::super::super::clock::problem::ClockProblem;
use super::super::super::clock::{ClockDetail, ahead};
use super::super::super::draft::Draft;
use super::super::super::ids::MemberId;
use super::super::super::problem::ProblemKind;
use super::super::people::find_person;
use super::super::{Done, Step, Stop};
use crate::lang::syntax::{Absent, Ahead, Clock, Command, Words};

pub fn away(draft: &mut Draft, who: &Absent, from: &Ahead, until: Option<&Ahead>) -> Step {
    let today = draft.today();
    let told = |problem: ClockProblem| Stop::from(ProblemKind::Clock(problem));
    let first = ahead::day(from, today).map_err(told)?;
    let last = match until.map(|until| ahead::day_after(until, first, today)) {
        None => first,
        // "Sunday to Sunday" is a week.
        Some(Ok(same)) if same == first && from == until.unwrap_or(from) => match from {
            Ahead::Weekday(_) => first + Days::new(7),
            _ => same,
        },
        Some(last) => last.map_err(told)?,
    };
    let says = |who| Clock::Away {
        who,
        from: from.clone(),
        until: until.cloned(),
    };
    let member = member(draft, who, says)?;
    let absence = Absence {
        member,
        from: first,
        until: last,
    };
    draft.fact(Detail::Clock(ClockDetail::Absence(absence)));
    let answer = AwayAnswer {
        member: name(draft, member),
        from: first,
        until: last,
        today,
        freeze: Vec::new(),
        finish: Vec::new(),
        message: draft.credit,
    };
    Ok(Done::saying(Answer::Clock(ClockAnswer::Away(before(
        draft, answer,
    )))))
}

/// What is due while nobody is here: what may be frozen, and what has to be eaten.
fn before(draft: &Draft, mut answer: AwayAnswer) -> AwayAnswer {
    let kitchen = &draft.kitchen;
    let mut days = answer
        .from
        .iter_days()
        .take_while(|day| *day <= answer.until);
    if !days.all(|day| kitchen.is_empty_on(day)) {
        return answer;
    }
    let leaving = kitchen.leaving((answer.from, answer.until), answer.today);
    (answer.freeze, answer.finish) = (leaving.freeze, leaving.finish);
    answer
}

/// Who is away from today on, by the first day.
pub fn absences(draft: &Draft) -> Answer {
    let today = draft.today();
    let absences = draft.kitchen.clock.absences.iter();
    let mut days: Vec<AbsenceView> = absences
        .map(|kept| kept.absence)
        .filter(|absence| absence.until >= today)
        .map(|absence| AbsenceView {
            member: name(draft, absence.member),
            from: absence.from,
            until: absence.until,
        })
        .collect();
    days.sort_by(|a, b| (a.from, a.until, &a.member).cmp(&(b.from, b.until, &b.member)));
    Answer::Clock(ClockAnswer::Absences(days))
}

pub fn back(draft: &mut Draft, who: &Absent, on: &Ahead) -> Step {
    let today = draft.today();
    let day = ahead::day(on, today).map_err(ProblemKind::Clock)?;
    let says = |who| Clock::Back {
        who,
        on: on.clone(),
    };
    let member = member(draft, who, says)?;
    let theirs = |kept: &&KeptAbsence| {
        let absent = kept.absence.member;
        let meant = member.is_none() || absent.is_none() || absent == member;
        meant && kept.absence.until >= day
    };
    let meant: Vec<KeptAbsence> = draft
        .kitchen
        .clock
        .absences
        .iter()
        .filter(theirs)
        .cloned()
        .collect();
    if meant.is_empty() {
        // "I'm back" is said at the door.
        if *who == Absent::Me && *on == Ahead::Today && !draft.input.addressed {
            return Ok(Done::default());
        }
        return Err(ProblemKind::Clock(ClockProblem::NotAway).into());
    }
    for kept in &meant {
        draft.reverse_fact(kept.entry, kept.tip, kept.told_at);
        for absence in what_stays(draft, &kept.absence, member, day) {
            draft.fact(Detail::Clock(ClockDetail::Absence(absence)));
        }
    }
    let message = draft.credit;
    let member = name(draft, member);
    Ok(Done::saying(Answer::Clock(ClockAnswer::Back {
        member,
        on: day,
        today,
        message,
    })))
}

/// Of an absence that ends earlier for one: the days before, and the others' own.
fn what_stays(
    draft: &Draft,
    absence: &Absence,
    member: Option<MemberId>,
    back: NaiveDate,
) -> Vec<Absence> {
    let shorter = back.pred_opt().filter(|until| *until >= absence.from);
    let until = |absent, until| Absence {
        member: absent,
        from: absence.from,
        until,
    };
    match (absence.member, member) {
        (None, Some(back)) => {
            let members = draft.kitchen.members().iter().map(|member| member.id);
            let each = |id| match id == back {
                true => shorter.map(|day| until(Some(id), day)),
                false => Some(until(Some(id), absence.until)),
            };
            members.filter_map(each).collect()
        }
        (absent, _) => shorter.map(|day| until(absent, day)).into_iter().collect(),
    }
}

fn member(
    draft: &mut Draft,
    who: &Absent,
    says: impl Fn(Absent) -> Clock,
) -> Result<Option<MemberId>, Stop> {
    match who {
        Absent::All => Ok(None),
        Absent::Me => Ok(Some(draft.input.sender)),
        Absent::Named(words) => {
            let says = |name: String| {
                let who = Absent::Named(Words::plain(name));
                Command::Clock(says(who)).to_string()
            };
            find_person(draft, words, says).map(Some)
        }
    }
}

fn name(draft: &Draft, member: Option<MemberId>) -> Option<String> {
    let member = draft.kitchen.member(member?)?;
    Some(member.name.clone())
}
