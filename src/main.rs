//! `hobside`: read the configuration, open the books, start a channel.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;
use std::time::Duration;

use anyhow::Context;
use clap::Parser;

use hobside::channel::metrics::Metrics;
use hobside::channel::{
    Lines, Shutdown, archive, backup, bridge, demo, doctor, explain, export, forget, rebind,
    telegram, terminal,
};
use hobside::clock::{self, Clock};
use hobside::config::{Command, Config, Format, Rebind};
use hobside::lang::Vocabulary;
use hobside::service::metrics::Watch;
use hobside::service::{Door, Service};
use hobside::store::Store;
use hobside::{log, papers};

/// How long the end may take once everything in hand is finished.
const LAST_WORDS: Duration = Duration::from_millis(200);

fn main() -> ExitCode {
    let config = Config::parse();
    log::begin();
    leave_no_dump();
    // One thread for the work, and one that hears a signal while that is held up.
    let ended = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .enable_all()
        .build()
        .context("starting")
        .and_then(|runtime| {
            let ended = runtime.block_on(run(&config));
            runtime.shutdown_timeout(LAST_WORDS);
            ended
        });
    match ended {
        Ok(code) => code,
        Err(error) => {
            eprintln!("hobside: {error:#}");
            ExitCode::FAILURE
        }
    }
}

/// What the memory holds, a token for one, is in no file that a crash leaves behind.
#[cfg(unix)]
fn leave_no_dump() {
    use rustix::process::{Resource, Rlimit, setrlimit};
    let none = Rlimit {
        current: Some(0),
        maximum: Some(0),
    };
    if let Err(error) = setrlimit(Resource::Core, none) {
        tracing::warn!(%error, "a crash may leave a dump of the memory behind");
    }
}

#[cfg(not(unix))]
fn leave_no_dump() {}

async fn run(config: &Config) -> anyhow::Result<ExitCode> {
    let shutdown = Shutdown::on_signals().context("listening for signals")?;
    let zone = config.zone();
    let done = match &config.command {
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
        Some(Command::Telegram {
            api_url,
            metrics_port,
        }) => in_telegram(config, api_url.clone(), *metrics_port, shutdown).await,
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
        Some(Command::Doctor { json }) => {
            let zone = config.timezone.or_else(clock::told_zone);
            let zone = zone.map(|zone| zone.name().to_owned());
            let report = doctor::examine(&config.file()?, zone, Clock::System.now()).await;
            print(&match json {
                true => format!("{:#}\n", report.data()),
                false => report.text(),
            })?;
            return Ok(ExitCode::from(report.grade().exit_code()));
        }
        Some(Command::Completions { shell }) => papers::completions(*shell),
        Some(Command::Manual { to }) => papers::manual(to.as_deref()),
        Some(Command::Export(what)) => {
            let store = Store::open_existing(&config.file()?).await?;
            print(&match (&what.chat, what.format, what.table) {
                (None, ..) => export::list(&store).await?,
                (Some(chat), Format::Json, None) => export::books(&store, chat).await?,
                (Some(chat), Format::Archive, None) => archive::export(&store, chat).await?,
                (Some(chat), Format::Csv, Some(table)) => {
                    export::table(&store, chat, table).await?
                }
                (Some(_), Format::Csv, None) => {
                    anyhow::bail!(
                        "a sheet holds one table: --table entries, plates, batches or lots"
                    )
                }
                _ => anyhow::bail!("--table goes with --format csv"),
            })
        }
        Some(Command::Import { from }) => {
            let archive = archive::read(&text_of(from.as_deref())?).await?;
            let store = Store::open(&config.file()?).await?;
            print(&archive::import(&store, &archive).await?)
        }
        Some(Command::Forget(what)) => {
            let (file, now) = (config.file()?, Clock::System.now());
            let store = Store::open_existing_alone(&file).await?;
            let (chat, member) = (what.chat.as_str(), what.member.as_deref());
            print(&forget::forget(&store, &file, chat, member, what.for_good, now).await?)
        }
        Some(Command::Rebind(what)) => {
            let store = Store::open_existing(&config.file()?).await?;
            let now = Clock::System.now();
            let Rebind {
                chat,
                member,
                account,
                to,
                also,
            } = what;
            print(&match (member, account, to) {
                (Some(member), Some(account), None) => {
                    rebind::account(&store, chat, member, account, *also, now).await?
                }
                (None, None, Some(to)) => rebind::chat(&store, chat, to, *also, now).await?,
                _ => anyhow::bail!("say either --member with --account, or --to"),
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
    };
    done.map(|()| ExitCode::SUCCESS)
}

async fn in_telegram(
    config: &Config,
    api_url: Option<String>,
    metrics_port: Option<u16>,
    shutdown: Shutdown,
) -> anyhow::Result<()> {
    let token = telegram::Token::from_environment()?;
    let options = telegram::Options { token, api_url };
    let file = config.file()?;
    let store = Store::open_alone(&file).await?;
    let zone = config.zone();
    let service = Service::new(store, Door::ByInvite { zone });
    let bot = telegram::run(options, &service, &Clock::System, shutdown);
    let Some(port) = metrics_port else {
        return bot.await;
    };
    let watch = Watch::open(&file, Clock::System.now()).await?;
    let metrics = Metrics::listen(port, watch, Clock::System).await?;
    tokio::select! {
        ended = bot => ended,
        never = metrics.serve() => match never {},
    }
}

/// What a file holds, or else standard input.
fn text_of(file: Option<&Path>) -> anyhow::Result<String> {
    match file {
        Some(file) => {
            std::fs::read_to_string(file).with_context(|| format!("reading {}", file.display()))
        }
        None => std::io::read_to_string(std::io::stdin()).context("reading standard input"),
    }
}

fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())
        .context("writing standard output")
}
