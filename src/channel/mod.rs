//! The rim: what carries messages in and answers out. A channel stores, acknowledges, and delivers;
//! it decides nothing and words nothing.

pub mod archive;
pub mod backup;
pub mod bridge;
mod csv;
pub mod demo;
pub mod doctor;
pub mod explain;
pub mod export;
pub mod forget;
mod lines;
pub mod metrics;
pub mod rebind;
pub mod telegram;
pub mod terminal;

use std::time::Duration;

use anyhow::Context;
use tokio::sync::watch;

use crate::render::Picture;

pub use lines::Lines;

/// How long what is in hand may take once the end was asked for.
const END_MAX: Duration = Duration::from_millis(4700);

/// The end that a signal asks for: what is in hand is finished, nothing new is begun.
#[derive(Debug, Clone)]
pub struct Shutdown(watch::Receiver<bool>);

impl Shutdown {
    /// Listens for an interrupt or a polite kill.
    ///
    /// # Errors
    /// If the system does not let it listen.
    pub fn on_signals() -> std::io::Result<Self> {
        let (asked, shutdown) = watch::channel(false);
        let signal = signal()?;
        tokio::spawn(async move {
            signal.await;
            // Nobody listens any more only when the program has ended already.
            let _ = asked.send(true);
            tokio::time::sleep(END_MAX).await;
            // Whoever holds up the end, such as a reader that is stuck, loses nothing by it: what is stored is done at
            // the next start.
            eprintln!("hobside: what is in hand takes too long, and is finished at the next start");
            std::process::exit(1);
        });
        Ok(Self(shutdown))
    }

    /// Returns when the end was asked for.
    pub async fn asked(&mut self) {
        if self.0.wait_for(|asked| *asked).await.is_err() {
            std::future::pending::<()>().await;
        }
    }
}

/// The PNG of a picture, drawn off the path of whatever else is in hand. `link` comes before the code of a batch in
/// what its label opens when it is scanned; without one that is what would be typed.
///
/// # Errors
/// If it could not be drawn.
async fn drawn(picture: Picture, link: Option<String>) -> anyhow::Result<Vec<u8>> {
    let draw = move || {
        let opens = |code: &str, household: Option<i64>| match (&link, household) {
            (Some(link), Some(household)) => format!("{link}{code}-{household}"),
            (Some(link), None) => format!("{link}{code}"),
            (None, _) => code.to_owned(),
        };
        picture.png(opens)
    };
    let drawn = tokio::task::spawn_blocking(draw).await;
    drawn
        .context("drawing a picture")?
        .context("drawing a picture")
}

#[cfg(unix)]
fn signal() -> std::io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => (),
            _ = terminate.recv() => (),
        }
    })
}

#[cfg(not(unix))]
fn signal() -> std::io::Result<impl Future<Output = ()>> {
    Ok(async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    })
}
