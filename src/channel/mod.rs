//! The rim: what carries messages in and answers out. A channel stores, acknowledges, and delivers;
//! it decides nothing and words nothing.

pub mod bridge;
pub mod demo;
pub mod explain;
pub mod export;
mod lines;
pub mod telegram;
pub mod terminal;

use tokio::sync::watch;

pub use lines::Lines;

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
