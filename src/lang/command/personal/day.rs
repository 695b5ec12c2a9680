//! Days and weeks: "my day", "how was my Tuesday", "week", "last week", "what did I have this week".

use nom::Parser;
use nom::combinator::opt;

use super::{all_of_it, is_phrase, phrase, whole};
use crate::lang::date::day;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Command, Day, Personal, Week};
use crate::lang::tokens::{Read, Tokens, word};
use crate::lang::vocabulary::Sense;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    all_of_it(input, |body| {
        let today = is_phrase("day", body).then_some(Day::Today);
        let day = today.or_else(|| named(body))?;
        Some(Command::Eaten { day, who: None })
    })
}

/// "how was my Tuesday"
fn named(body: Tokens<'_>) -> Option<Day> {
    let rest = phrase("how was", body)?;
    let own = rest.slice.as_ptr() != body.slice.as_ptr()
        && body
            .range(0, body.len() - rest.len())
            .slice
            .iter()
            .any(|token| token.norm() == "my");
    let (rest, day) = day(rest).ok().filter(|_| own)?;
    (rest.trimmed().is_empty() && !matches!(day, Day::Ahead)).then_some(day)
}

pub fn read_week(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| {
        let weeks = [
            ("week", Week::Seven),
            ("this week", Week::This),
            ("last week", Week::Last),
        ];
        let whole = weeks.into_iter().find(|(part, _)| is_phrase(part, body));
        let seven = is_seven_days(body).then_some(("week", Week::Seven));
        match whole.or(seven) {
            Some((_, days)) => Some(Personal::Week { days, who: None }),
            None => eaten(body).or_else(|| of_another(body)),
        }
    })
}

/// "in the last 7 days"
fn is_seven_days(input: Tokens<'_>) -> bool {
    let rest = input.after(usize::from(matches!(input.norm(0), "in" | "over" | "for")));
    let rest = rest.after(usize::from(matches!(rest.norm(0), "my" | "the")));
    let led = matches!(rest.norm(0), "last" | "past");
    let counted = number(rest.after(usize::from(led))).ok();
    counted.is_some_and(|(rest, told)| {
        led && told.value == 7.0 && rest.norm(0) == "days" && rest.len() == 1
    })
}

/// "Ana's week": theirs to ask for, which is said; guests are spoken for.
fn of_another(body: Tokens<'_>) -> Option<Personal> {
    let (length, who) = person(body)?;
    let owns = body.norm(length - 1) != who.text.to_lowercase();
    let rest = body.after(length);
    let weeks = [("week", Week::Seven), ("last week", Week::Last)];
    let (_, days) = weeks.into_iter().find(|(part, _)| is_phrase(part, rest))?;
    owns.then_some(Personal::Week {
        days,
        who: Some(who),
    })
}

/// "what did I have this week", "what has Ana eaten in the last 7 days"
fn eaten(body: Tokens<'_>) -> Option<Personal> {
    let (rest, _) = word(&["what", "how"])(body).ok()?;
    let (rest, _) = opt(word(&["all", "much"])).parse(rest).ok()?;
    let (rest, _) = word(&["did", "have", "has", "ive"])(rest).ok()?;
    let who = match rest.norm(0) {
        "i" | "we" => None,
        said if rest.vocabulary.is(Sense::Person, &[said]) => Some(rest.range(0, 1).words()),
        _ => return None,
    };
    let (rest, _) = word(&["have", "eat", "had", "eaten", "log"])(rest.after(1)).ok()?;
    if !is_phrase("what week", rest) && !is_seven_days(rest) {
        return None;
    }
    let days = match (rest.norm(0), rest.norm(1), rest.len()) {
        ("this", "week", 2) => Week::This,
        ("last", "week", 2) => Week::Last,
        _ => Week::Seven,
    };
    Some(Personal::Week { days, who })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new().with(Sense::Person, "Ana")
    }

    #[test]
    fn days_and_weeks_in_many_spellings() {
        for (text, printed) in [
            ("my day", "what did I have today"),
            ("how was my day?", "what did I have today"),
            ("how was my Tuesday?", "what did I have Tuesday"),
            ("my totals for yesterday", "what did I have yesterday"),
            ("my week", "my week"),
            ("how was my week?", "my week"),
            ("what did I have in the last 7 days", "my week"),
            ("what did I have this week?", "this week so far"),
            ("what have I eaten last week", "my last week"),
            ("what did Ana have this week", "what did Ana have this week"),
            ("my last week", "my last week"),
            ("Ana's week?", "what did Ana have in the last 7 days"),
            ("week", "my week"),
            ("Week?", "my week"),
            ("today", "what did I have today"),
            ("today?", "what did I have today"),
            ("show me today", "what did I have today"),
            ("how much have I eaten today?", "what did I have today"),
        ] {
            surely_means(text, &kitchen(), printed);
        }
        for (text, printed) in [
            ("last week", "my last week"),
            ("this week", "this week so far"),
        ] {
            assert!(!means(text, &kitchen(), printed), "{text} may be talk");
        }
    }

    #[test]
    fn talk_of_days_asks_nothing() {
        for text in [
            "how was Tuesday?",
            "how was your day?",
            "my Tuesday was awful",
            "last week",
            "this week",
            "week 2 of the works",
            "today then",
            "tomorrow?",
            "my day off",
            "what did you do this week",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Personal(_) | Command::Eaten { .. })
            });
        }
    }
}
