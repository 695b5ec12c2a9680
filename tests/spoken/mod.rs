//! What the tests of the language share: a small household, and commands as the bot would say them.

#![allow(dead_code, reason = "each test file uses a part of it")]

use hobside::lang::{Command, Sense, Vocabulary};

/// A name of every kind, some of them hard to cut out of a text.
pub fn household() -> Vocabulary {
    Vocabulary::new()
        .with(Sense::Batch, "lentil dal")
        .with(Sense::Batch, "rice")
        .with(Sense::Batch, "mac and cheese")
        .with(Sense::Batch, "3 bean chili")
        .with(Sense::Code, "D7")
        .with(Sense::Container, "blue pot")
        .with(Sense::Person, "Ana")
        .with(Sense::Measure, "ladle")
        .with(Sense::Place, "garage freezer")
}

pub fn printed(commands: &[Command]) -> String {
    let all: Vec<String> = commands.iter().map(ToString::to_string).collect();
    all.join("\n")
}

/// The same without why food was lost, which is told apart.
pub fn without_reasons(commands: &[Command]) -> Vec<Command> {
    let mut commands = commands.to_vec();
    for command in &mut commands {
        if let Command::Waste { reason, .. } = command {
            *reason = None;
        }
    }
    commands
}
