//! Food that is said to be somebody else's, beside what it weighed: "130 beans, not for me, Ana ate them" is 130 beans
//! for Ana. Before anything is read, whose it is is put behind the dish, and the words go.
//!
//! ```text
//! told := weighing { mark } denial { mark } theirs | weighing { mark } theirs { mark } denial
//! theirs := ["it was" | "that was"] person [who] [verb] ["them"]
//! ```
//! The phrases stand in `data/otherwise.txt`.

use std::ops::Range;

use crate::lang::command::share::party::verb;
use crate::lang::person::person;
use crate::lang::syntax::{Command, Reading};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Vocabulary;
use crate::lang::words::otherwise;

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 40;

/// Put whose it is behind what was weighed, in place.
pub fn give(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    if tokens.len() > TOKENS_MAX {
        return;
    }
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some(told) = told(input) else {
        return;
    };
    let place = tokens[told.all.start].span.start;
    let mut whose = vec![Token::new(Kind::Word("for".to_owned()), place..place, true)];
    whose.extend_from_slice(&tokens[told.who]);
    whose[1].spaced = true;
    tokens.splice(told.all, whose);
}

struct Told {
    /// Everything that tells it.
    all: Range<usize>,
    who: Range<usize>,
}

fn told(input: Tokens<'_>) -> Option<Told> {
    let said = |at: usize, key| otherwise().longest_of(input.after(at).slice, key);
    let not = (1..input.len()).find_map(|at| Some(at..at + said(at, "not mine")?))?;
    let (from, theirs) = match theirs(input, passed(input, not.end)) {
        Some(theirs) => (not.start, theirs),
        None => {
            let mut before = (1..not.start).filter_map(|at| Some((at, theirs(input, at)?)));
            before.find(|(_, theirs)| passed(input, theirs.all.end) == not.start)?
        }
    };
    let end = theirs.all.end.max(not.end);
    let from = back(input, from);
    // One dish is weighed before, and nothing else is told.
    let weighed = input.range(0, from).has_number();
    let more = input.after(end).has_number() || input.after(end).slice.iter().any(|it| it.is('?'));
    let whole = passed(input, end) > end || input.get(end).is_none();
    let named = (0..from).any(|at| person(input.after(at)).is_some());
    (weighed && !more && whole && !named).then_some(Told {
        all: from..end,
        who: theirs.who,
    })
}

struct Theirs {
    all: Range<usize>,
    who: Range<usize>,
}

/// "130 beans, not mine": whoever had it, it was not the sender.
pub fn judge(reading: &mut Reading, body: Tokens<'_>) {
    let own = |command: &Command| matches!(command, Command::Portion(portion) if portion.who.is_none() && portion.share.is_none());
    let denied = || otherwise().stand_in(body.slice, "not mine");
    if let [command] = reading.commands.as_slice()
        && own(command)
        && denied()
    {
        reading.sure = false;
    }
}

fn theirs(input: Tokens<'_>, at: usize) -> Option<Theirs> {
    let said = |at: usize, key| otherwise().longest_of(input.after(at).slice, key);
    let lead = said(at, "it was").unwrap_or(0);
    let (length, _) = person(input.after(at + lead)).filter(|_| at < input.len())?;
    let who = at + lead..at + lead + length;
    let mut end = who.end;
    end += usize::from(matches!(input.norm(end), "who" | "that"));
    let acts = verb(input.after(end)).0;
    end += acts;
    end += usize::from(matches!(
        input.norm(end),
        "it" | "them" | "that" | "those" | "this"
    ));
    let owned = input.norm(who.end - 1).ends_with('s');
    (lead > 0 || acts > 0 || owned).then_some(Theirs { all: at..end, who })
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Symbol(',' | '-' | '.' | ';' | '!' | '(' | ')')
    )
}

fn passed(input: Tokens<'_>, at: usize) -> usize {
    let idle = |token: &&Token| {
        is_mark(token) || matches!(token.norm(), "and" | "but" | "n" | "so" | "cos")
    };
    at + input.after(at).slice.iter().take_while(idle).count()
}

fn back(input: Tokens<'_>, at: usize) -> usize {
    let idle = |token: &&Token| {
        is_mark(token) || matches!(token.norm(), "and" | "but" | "n" | "so" | "though")
    };
    at - input.slice[..at].iter().rev().take_while(idle).count()
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::vocabulary::{Sense, Vocabulary};

    fn words() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "beans")
            .with(Sense::Person, "Ana")
            .with(Sense::Person, "Tom")
    }

    #[test]
    fn what_is_said_to_be_somebody_elses_is_theirs() {
        for text in [
            "130 beans not for me - Ana ate them",
            "130 beans, not mine, Ana's",
            "130 beans but not mine, that was Ana",
            "130 beans (not me, it was Ana)",
            "130 beans, its Ana who ate them not me",
            "130 beans, Ana had them, not me",
        ] {
            surely_means(text, &words(), "130 beans for Ana");
        }
    }

    #[test]
    fn what_is_only_said_not_to_be_mine_is_nobodys() {
        for text in [
            "130 beans not mine",
            "130 beans, not me, ask Ana",
            "130 beans not mine, Ana and Tom ate them",
        ] {
            is_no(
                text,
                &words(),
                |command| matches!(command, Command::Portion(it) if it.who.is_none()),
            );
        }
    }
}
