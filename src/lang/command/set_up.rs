//! "set up": the few questions that a household may be asked when it begins, and the answers to them.
//!
//! ```text
//! set-up := "set up" | "set up" part ":" (setting | "skip") | "set up" "done"
//! ```

use super::{only_marks, setting};
use crate::lang::set_up::SET_UP_PARTS;
use crate::lang::syntax::{Command, SetUp};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::settings;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let body = input.trimmed_front();
    let Some(length) = settings().longest_of(body.slice, "set up") else {
        return input.no();
    };
    match said(body.after(length)) {
        Some(said) => Ok((input.after(input.len()), Command::SetUp(said))),
        None => input.no(),
    }
}

fn said(rest: Tokens<'_>) -> Option<SetUp> {
    if only_marks(rest) {
        return Some(SetUp::Begin);
    }
    if rest.norm(0) == "done" && only_marks(rest.after(1)) {
        return Some(SetUp::Done);
    }
    let named = |(word, _): &&(&str, _)| rest.norm(0) == *word;
    let (_, part) = *SET_UP_PARTS.iter().find(named)?;
    let rest = rest.after(1).without_lead().trimmed_front();
    let chosen = match rest.norm(0) == "skip" && only_marks(rest.after(1)) {
        true => None,
        false => match setting::read(rest).ok()?.1 {
            Command::Setting(setting) => Some(Box::new(setting)),
            _ => return None,
        },
    };
    Some(SetUp::Step { part, chosen })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn the_set_up_and_its_steps() {
        for (text, printed) in [
            ("set up", "set up"),
            ("Set-up", "set up"),
            ("set us up please", "set up"),
            (
                "set up measures: metric cups",
                "set up measures: metric cups",
            ),
            ("set up energy: energy in kJ", "set up energy: energy in kJ"),
            (
                "set up guidance: uk guidance",
                "set up guidance: uk guidance",
            ),
            (
                "set up zone: timezone Europe/Dublin",
                "set up zone: timezone Europe/Dublin",
            ),
            (
                "set up decimals: decimal comma",
                "set up decimals: decimal comma",
            ),
            ("set up energy: skip", "set up energy: skip"),
            ("set up done", "set up done"),
        ] {
            surely_means(text, &Vocabulary::new(), printed);
        }
    }

    #[test]
    fn other_things_are_set_up_as_well() {
        for text in ["set up the table", "who will set up", "set up for dinner"] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(command, Command::SetUp(_))
            });
        }
    }
}
