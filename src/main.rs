//! `hobside`: read the configuration, open the books, start a channel.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;
use std::time::Duration;

use anyhow::Context;
use clap::Parser;
use tracing_subscriber::EnvFilter;

use hobside::channel::{
    Lines, Shutdown, backup, bridge, demo, explain, export, telegram, terminal,
};
use hobside::clock::Clock;
use hobside::config::{Command, Config};
use hobside::lang::Vocabulary;
use hobside::service::{Door, Service};
use hobside::store::Store;

/// How long the end may take once everything in hand is finished.
const LAST_WORDS: Duration = Duration::from_millis(200);

fn main() -> ExitCode {
    let config = Config::parse();
    let filter = EnvFilter::try_from_env("HOBSIDE_LOG").unwrap_or_else(|_| EnvFilter::new("warn"));
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .init();
    let ended = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .context("starting")
        .and_then(|runtime| {
            let ended = runtime.block_on(run(&config));
            runtime.shutdown_timeout(LAST_WORDS);
            ended
        });
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("hobside: {error:#}");
            ExitCode::FAILURE
        }
    }
}

async fn run(config: &Config) -> anyhow::Result<()> {
    let shutdown = Shutdown::on_signals().context("listening for signals")?;
    let zone = config.zone();
    match &config.command {
        None => {
            let file = config.file()?;
            let store = Store::open_alone(&file).await?;
            let service = Service::new(store, Door::Open { zone });
            let beside = file.parent().unwrap_or(Path::new("."));
            let lines = Lines::of_standard_input();
            terminal::run(&service, &Clock::System, lines, beside, shutdown).await
        }
        Some(Command::Bridge) => {
            let store = Store::open_alone(&config.file()?).await?;
            let clock = bridge::clock(&store).await?;
            let service = Service::new(store, Door::Open { zone });
            bridge::run(&service, &clock, Lines::of_standard_input(), shutdown).await
        }
        Some(Command::Demo) => demo::run(config.db.as_deref(), zone, shutdown).await,
        Some(Command::Telegram { api_url }) => {
            let options = telegram::Options {
                token: telegram::Token::from_environment()?,
                api_url: api_url.clone(),
            };
            let store = Store::open_alone(&config.file()?).await?;
            let service = Service::new(store, Door::ByInvite { zone });
            telegram::run(options, &service, &Clock::System, shutdown).await
        }
        Some(Command::Invite) => {
            let store = Store::open(&config.file()?).await?;
            let service = Service::new(store, Door::ByInvite { zone });
            print(&format!("{}\n", service.invite(Clock::System.now()).await?))
        }
        Some(Command::Backup(what)) => {
            let (file, now) = (config.file()?, Clock::System.now());
            print(&backup::back_up(&file, what.to.as_deref(), what.keep_days, now).await?)
        }
        Some(Command::Restore { file: from }) => {
            print(&backup::restore(&config.file()?, from, Clock::System.now()).await?)
        }
        Some(Command::Export(what)) => {
            let store = Store::open_existing(&config.file()?).await?;
            print(&match &what.chat {
                Some(chat) => export::books(&store, chat).await?,
                None => export::list(&store).await?,
            })
        }
        Some(Command::Explain { text, chat }) => {
            let vocabulary = match chat {
                Some(chat) => {
                    let store = Store::open_existing(&config.file()?).await?;
                    explain::vocabulary(&store, chat).await?
                }
                None => Vocabulary::new(),
            };
            print(&explain::explain(text, &vocabulary)?)
        }
    }
}

fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())
        .context("writing standard output")
}
