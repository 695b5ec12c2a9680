//! "Garlic oil: 100 garlic, 300 olive oil": what is called by a name of its own may be a new pot as well as a plate, and nothing
//! in the words tells which. It is asked.

use super::super::answer::About;
use super::super::draft::Draft;
use super::super::in_hand::InHand;
use super::super::kitchen::{Choice, Kitchen};
use super::{Decision, Input, find, stopped};
use crate::lang::syntax::{Command, Words};
use crate::lang::{self, Parsed};

/// Where the message was read as a plate by its gist alone.
pub fn pot_or_plate(kitchen: &Kitchen, input: &Input, parsed: &Parsed) -> Option<Decision> {
    let best = parsed.best();
    let plates =
        |command: &Command| matches!(command, Command::Portion(portion) if portion.who.is_none());
    if !best.is_certain()
        || !best.is_gist()
        || !best.commands.iter().all(plates)
        || input.pointed.is_some()
    {
        return None;
    }
    let pot = lang::of_either(&input.text, &kitchen.vocabulary())?;
    let eaten: Vec<String> = best.commands.iter().map(ToString::to_string).collect();
    let name = pot.name.text.clone();
    let mut options = vec![Choice {
        label: format!("a new pot: {name}"),
        says: Command::Batch(pot.clone()).to_string(),
    }];
    // What goes into a pot may be told under the name of a part of it.
    if let Some((filling, _)) = InHand::of(kitchen, input).pot(input.now) {
        let adds = Command::Add {
            batch: Words::plain(filling.code.clone()),
            lines: pot.lines,
        };
        options.push(Choice {
            label: format!("into the {}", filling.name),
            says: adds.to_string(),
        });
    }
    options.push(Choice {
        label: "eaten".into(),
        says: eaten.join("\n"),
    });
    let stop = find::ask(About::Confirm, &input.text, None, options);
    Some(stopped(Draft::new(kitchen, input), stop))
}
