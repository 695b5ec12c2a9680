//! Telegram by long polling, with teloxide as a typed client.
//!
//! Four loops run side by side and wake one another. `poll` puts each update into the inbox and only
//! then confirms it to the server; `handle` books what waits there, and says what it is time for; `board` sees that each chat's board
//! says what the books say; `deliver` sends the outbox and marks it. A crash between any two of them loses no message and books none twice; at worst an answer
//! is sent again, since Telegram cannot tell a lost acknowledgement from a lost message.
//!
//! Read in this order: `token` and `api` (who calls), `trouble` (what a failed call means), `plain`
//! and `inbound` (what an update means), `poll`; then `text` and `work` (an answer as calls), `pace`
//! and `backoff` (when), `deliver`, `board`; `manager` is the service manager's side of it.
//!
//! Privacy. The token goes into requests and nowhere else; people's words are not logged.

mod api;
mod backoff;
mod board;
mod deliver;
mod handle;
mod inbound;
mod manager;
mod pace;
mod plain;
mod poll;
mod text;
mod token;
mod trouble;
mod work;

use std::convert::Infallible;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use anyhow::{Context, Result, bail};
use tokio::sync::{Notify, watch};

use super::Shutdown;
use crate::clock::Clock;
use crate::service::Service;

use api::{Api, Me};
use backoff::Backoff;
use board::Boards;
use deliver::Delivery;
use handle::Handling;
use manager::Manager;
use poll::{Poll, TakenAway};
use trouble::Trouble;

pub use token::Token;

pub const CHANNEL: &str = "telegram";

/// How long the end may take: a service manager waits longer than that before it kills.
const LAST_WORDS: Duration = Duration::from_secs(4);

#[derive(Debug)]
pub struct Options {
    pub token: Token,
    /// The Bot API server; `None` is Telegram's own.
    pub api_url: Option<String>,
}

/// Run the bot until the end is asked for, then finish what is in hand.
///
/// # Errors
/// The address is unusable, the token is not accepted, the books cannot be read at the start, or another
/// program takes the updates. Other trouble is waited out.
pub async fn run(
    options: Options,
    service: &Service,
    clock: &Clock,
    shutdown: Shutdown,
) -> Result<()> {
    let manager = Manager::from_environment();
    manager.ready();
    let mut ending = shutdown.clone();
    let telling_the_end = async {
        ending.asked().await;
        manager.stopping();
        std::future::pending::<Infallible>().await
    };
    tokio::select! {
        ended = listen(options, service, clock, shutdown, &manager) => ended,
        never = manager.keep_telling() => match never {},
        never = telling_the_end => match never {},
    }
}

async fn listen(
    options: Options,
    service: &Service,
    clock: &Clock,
    mut shutdown: Shutdown,
    manager: &Manager,
) -> Result<()> {
    let api = Api::new(&options.token, options.api_url.as_deref())?;
    let code = service.first_invite(CHANNEL, clock.now()).await?;
    if let Some(code) = &code {
        println!(
            "Nobody is let in yet. In the chat that the bot is for, send it once:\n\n    /start {code}\n"
        );
    }
    manager.status("waiting for Telegram");
    let Some(me) = introduce(&api, &mut shutdown).await? else {
        return Ok(());
    };
    if let Some(code) = &code {
        let link = format!("https://t.me/{}", me.username);
        println!(
            "Or open a link. Alone with the bot:\n    {link}?start={code}\nIn a group:\n    {link}?startgroup={code}\n"
        );
    }
    service.answer_to(&me.username);
    manager.status(&format!("connected as @{}", me.username));
    println!("Connected as @{}.", me.username);
    let worked = work(&api, &me, service, clock, shutdown).await;
    service.close().await.context("marking what was sent")?;
    Ok(worked?)
}

/// Learn the bot's name, however long the server takes; `None` if the end is asked for first.
async fn introduce(api: &Api, shutdown: &mut Shutdown) -> Result<Option<Me>> {
    let mut backoff = Backoff::default();
    loop {
        let me = tokio::select! {
            () = shutdown.asked() => return Ok(None),
            me = api.me() => me,
        };
        let pause = match me {
            Ok(me) => {
                tracing::info!(bot = me.username, "connected");
                if !me.hears_all {
                    tracing::warn!(
                        "privacy mode is on: in groups the bot sees only commands, mentions of it and \
                         replies to it, unless it is an administrator. BotFather's /setprivacy turns it \
                         off, for groups that the bot is added to after that"
                    );
                }
                return Ok(Some(me));
            }
            Err(Trouble::Token) => bail!("Telegram does not accept the token"),
            Err(trouble) => {
                tracing::warn!(%trouble, "the bot cannot introduce itself yet");
                match trouble {
                    Trouble::Wait(wait) => wait,
                    _ => backoff.next(),
                }
            }
        };
        tokio::select! {
            () = shutdown.asked() => return Ok(None),
            () = tokio::time::sleep(pause) => {}
        }
    }
}

/// The four loops; at the end each finishes after the one that feeds it.
async fn work(
    api: &Api,
    me: &Me,
    service: &Service,
    clock: &Clock,
    shutdown: Shutdown,
) -> Result<(), TakenAway> {
    let (stored, answered, changed) = (Notify::new(), Notify::new(), Notify::new());
    let heard = AtomicBool::new(false);
    let (polled, no_more_messages) = watch::channel(false);
    let (handled, no_more_answers) = watch::channel(false);
    let poll = Poll {
        service,
        clock,
        api,
        me,
        stored: &stored,
        answered: &answered,
        heard: &heard,
    };
    let polling = async {
        let ended = poll.run(shutdown.clone()).await;
        polled.send_replace(true);
        ended
    };
    let handling = async {
        let handling = Handling {
            service,
            clock,
            stored: &stored,
            heard: &heard,
            answered: &answered,
            changed: &changed,
        };
        handling.run(no_more_messages).await;
        handled.send_replace(true);
    };
    let boards = Boards {
        service,
        clock,
        changed: &changed,
        answered: &answered,
    };
    let hanging = boards.run(no_more_answers.clone());
    let delivery = Delivery::new(service, clock, api, me);
    let delivering = delivery.run(&answered, no_more_answers);
    let overdue = async {
        shutdown.clone().asked().await;
        tokio::time::sleep(LAST_WORDS).await;
    };
    tokio::select! {
        (ended, (), (), ()) = async { tokio::join!(polling, handling, hanging, delivering) } => ended,
        () = overdue => {
            tracing::warn!("some answers wait for the next start");
            Ok(())
        }
    }
}
