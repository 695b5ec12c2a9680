//! `hobside completions` and `hobside manual`, made from the command line's own definition.

use std::io::Write;
use std::path::Path;

use anyhow::Context;
use clap::CommandFactory;
use clap_complete::Shell;
use clap_mangen::Man;

use crate::config::Config;

/// What a shell reads to complete a command line.
///
/// # Errors
/// If standard output cannot be written.
pub fn completions(shell: Shell) -> anyhow::Result<()> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Config::command(), "hobside", &mut text);
    write_out(&text)
}

/// The manual's page for the whole command, or a page for it and each of its commands in a folder.
///
/// # Errors
/// If it cannot be written.
pub fn manual(folder: Option<&Path>) -> anyhow::Result<()> {
    let command = Config::command();
    match folder {
        Some(folder) => {
            let written = std::fs::create_dir_all(folder)
                .and_then(|()| clap_mangen::generate_to(command, folder));
            written.with_context(|| format!("writing into {}", folder.display()))
        }
        None => {
            let mut text = Vec::new();
            Man::new(command).render(&mut text).context("the manual")?;
            write_out(&text)
        }
    }
}

fn write_out(text: &[u8]) -> anyhow::Result<()> {
    let written = std::io::stdout().lock().write_all(text);
    written.context("writing standard output")
}
