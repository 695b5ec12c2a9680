//! What one message says beside what is asked about is booked with the answer: each option says it too.

use super::super::draft::Draft;
use super::super::kitchen::Choice;
use super::{Stop, question, shortage};
use crate::lang::syntax::Command;

/// The question, with what else the message says in each of its options. What cannot be said in one breath is left
/// out, as is what is told of another message.
pub fn kept(draft: &Draft, stop: Stop, commands: &[Command], at: usize) -> Stop {
    let Stop::Ask(mut asking) = stop else {
        return stop;
    };
    let plain = asking.pointed.is_none() && draft.about.is_none();
    if commands.len() < 2 || !plain || asking.options.is_empty() {
        return Stop::Ask(asking);
    }
    let says = |chosen: &str| -> Option<String> {
        let (chosen, anyway) = shortage::without_anyway(chosen);
        let drops = chosen == Command::Drop.to_string();
        let mut said: Vec<String> = commands.iter().map(ToString::to_string).collect();
        match drops {
            true => drop(said.remove(at)),
            false => said[at] = chosen.to_owned(),
        }
        let ending = if anyway { shortage::ANYWAY } else { "" };
        let said = said.join("\n");
        let chosen = chosen.lines().count() - usize::from(drops);
        let told = question::read(&said, &draft.kitchen.vocabulary()).ok()?;
        (told.len() + 1 == commands.len() + chosen).then(|| said + ending)
    };
    let told: Option<Vec<String>> = asking
        .options
        .iter()
        .map(|option| says(&option.says))
        .collect();
    if let Some(told) = told {
        for (option, says) in asking.options.iter_mut().zip(told) {
            option.says = says;
        }
        // Whoever drops the question drops the rest of the message too: it is named whole.
        if asking.options.iter().all(Choice::is_offered) {
            let whole: Vec<String> = commands.iter().map(ToString::to_string).collect();
            asking.options.push(Choice::as_said(whole.join("; ")));
        }
    }
    Stop::Ask(asking)
}
