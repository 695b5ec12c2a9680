//! What can be said on the command line, and in the environment.

use std::path::PathBuf;
use std::sync::LazyLock;

use anyhow::Context;
use chrono_tz::Tz;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use etcetera::BaseStrategy;

use crate::channel::rebind::Address;
use crate::store::Store;

/// With the commit that it was built from, as far as the build knew, and the schema of its files.
static VERSION: LazyLock<String> = LazyLock::new(|| {
    let commit = option_env!("HOBSIDE_COMMIT").unwrap_or("not recorded");
    let (version, schema) = (env!("CARGO_PKG_VERSION"), Store::schema());
    format!("{version} (commit {commit}, schema {schema})")
});

/// Keeps a household's books of bulk-cooked food, to the gram. Without a command: a chat in this terminal.
#[derive(Debug, Parser)]
#[command(name = "hobside", version = VERSION.as_str())]
pub struct Config {
    /// The file with the books [default: hobside/hobside.db in the user's data folder]
    #[arg(long, global = true, env = "HOBSIDE_DB", value_name = "FILE")]
    pub db: Option<PathBuf>,

    /// The time zone of new households [default: this machine's]
    #[arg(long, global = true, env = "HOBSIDE_TIMEZONE", value_name = "ZONE")]
    pub timezone: Option<Tz>,

    #[command(subcommand)]
    pub command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// JSON Lines on standard input and output, for any other chat system
    Bridge,
    /// An invented week of an invented household, then a chat on its kitchen
    Demo,
    /// The bot in Telegram; its token stands in HOBSIDE_TELEGRAM_TOKEN, or in the file that
    /// HOBSIDE_TELEGRAM_TOKEN_FILE names
    Telegram {
        /// A Bot API server of one's own [default: Telegram's]
        #[arg(long, env = "HOBSIDE_TELEGRAM_API_URL", value_name = "URL")]
        api_url: Option<String>,
        /// Serve figures in OpenMetrics text on 127.0.0.1 at this port
        #[arg(long, env = "HOBSIDE_METRICS_PORT", value_name = "PORT")]
        metrics_port: Option<u16>,
    },
    /// Print a fresh one-time code that lets a chat in
    Invite,
    /// Copy the books while the bot runs, and read the copy again
    Backup(Backup),
    /// Put a copy in the place of the books, while no bot runs; what stood there is kept
    Restore {
        /// The copy
        file: PathBuf,
    },
    /// Look at the file, and at what else the bot needs; nothing is changed, and no server is asked
    #[command(after_long_help = EXIT_STATUS, after_help = EXIT_STATUS)]
    Doctor {
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Print a household's books
    Export(Export),
    /// Put a household in that `export --format archive` took out of another file
    Import {
        /// The archive [default: standard input]
        #[arg(long, value_name = "ARCHIVE")]
        from: Option<PathBuf>,
    },
    /// Delete a person or a whole household, while no bot runs; without --for-good it is only said what would go
    Forget(Forget),
    /// Bind another account to a person, or another chat to a household; the history stays
    Rebind(Rebind),
    /// Show how a message is read, and why
    Explain {
        /// The message
        text: String,
        /// Read it with the names of this chat's household
        #[arg(long, allow_hyphen_values = true)]
        chat: Option<String>,
    },
    /// Print what a shell reads to complete this command line
    Completions { shell: Shell },
    /// Print the page of the manual
    Manual {
        /// Write a page for each command into this folder instead
        #[arg(long, value_name = "DIR")]
        to: Option<PathBuf>,
    },
}

const EXIT_STATUS: &str = "EXIT STATUS: 0, all is well; 3, something should be looked at; 4, something is wrong; \
                           1 and 2, the command could not be run.";

#[derive(Debug, Args)]
pub struct Backup {
    /// The folder that the copy goes to [default: backups, beside the books]
    #[arg(long, value_name = "DIR")]
    pub to: Option<PathBuf>,
    /// Remove copies in that folder that are older, but for the newest
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(1..=36500))]
    pub keep_days: Option<u32>,
}

#[derive(Debug, Args)]
pub struct Export {
    /// The channel's own id of the household's chat; groups may have negative ones
    #[arg(long, allow_hyphen_values = true, required_unless_present = "list")]
    pub chat: Option<String>,
    /// List the households instead
    #[arg(long, conflicts_with = "chat")]
    pub list: bool,
    #[arg(long, value_enum, default_value = "json")]
    pub format: Format,
    /// Which table, as CSV
    #[arg(long, value_enum)]
    pub table: Option<Table>,
}

#[derive(Debug, Args)]
pub struct Forget {
    /// The channel's own id of the household's chat
    #[arg(long, allow_hyphen_values = true)]
    pub chat: String,
    /// The person: a name, or the number that is told where two have one name
    #[arg(long, required_unless_present = "household")]
    pub member: Option<String>,
    /// The whole household instead
    #[arg(long, conflicts_with = "member")]
    pub household: bool,
    /// Do it; it cannot be undone
    #[arg(long)]
    pub for_good: bool,
}

#[derive(Debug, Args)]
pub struct Rebind {
    /// The channel's own id of the household's chat
    #[arg(long, allow_hyphen_values = true)]
    pub chat: String,
    /// The person: a name, or the number that is told where two have one name
    #[arg(long, requires = "account", required_unless_present = "to")]
    pub member: Option<String>,
    /// Their new account, as CHANNEL:ID (telegram:123456789)
    #[arg(long, value_name = "CHANNEL:ID", requires = "member")]
    pub account: Option<Address>,
    /// The household's new chat, as CHANNEL:ID
    #[arg(long, value_name = "CHANNEL:ID", conflicts_with = "member")]
    pub to: Option<Address>,
    /// Beside the old one, and not in its place
    #[arg(long)]
    pub also: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// The newest state and the whole journal, to be read by other programs
    Json,
    /// One table of it, for a sheet
    Csv,
    /// Everything that the file holds of the household, to be put into another one
    Archive,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Table {
    Entries,
    Plates,
    Batches,
    Lots,
}

impl Config {
    /// # Errors
    /// If no file is named and the user has no home folder.
    pub fn file(&self) -> anyhow::Result<PathBuf> {
        match &self.db {
            Some(file) => Ok(file.clone()),
            None => {
                let folders = etcetera::choose_base_strategy()
                    .context("no home folder: say where the books are with --db FILE")?;
                Ok(folders.data_dir().join("hobside").join("hobside.db"))
            }
        }
    }

    pub fn zone(&self) -> Tz {
        self.timezone.unwrap_or_else(crate::clock::local_zone)
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_consistent() {
        Config::command().debug_assert();
    }

    #[test]
    fn a_file_can_be_named_after_the_command() {
        let config = Config::parse_from([
            "hobside",
            "bridge",
            "--db",
            "x.db",
            "--timezone",
            "Europe/Dublin",
        ]);
        assert_eq!(config.file().expect("it is named"), PathBuf::from("x.db"));
        assert_eq!(config.zone(), Tz::Europe__Dublin);
    }

    #[test]
    fn an_export_is_of_a_chat_or_a_list() {
        assert!(Config::try_parse_from(["hobside", "export", "--list"]).is_ok());
        assert!(
            Config::try_parse_from(["hobside", "export", "--chat", "c1", "--format", "json"])
                .is_ok()
        );
        assert!(Config::try_parse_from(["hobside", "export", "--chat", "-1001"]).is_ok());
        assert!(Config::try_parse_from(["hobside", "export"]).is_err());
        let csv = ["hobside", "export", "--chat", "c1", "--format", "csv"];
        assert!(
            Config::try_parse_from(csv).is_ok(),
            "which there are is said then"
        );
        let lots = csv.into_iter().chain(["--table", "lots"]);
        assert!(Config::try_parse_from(lots).is_ok());
    }
}
