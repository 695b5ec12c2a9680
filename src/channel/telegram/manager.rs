//! What the service manager is told, by the datagrams that `sd_notify(3)` describes: that the bot is ready, what it waits
//! for, that it still turns. Without a manager that asks for it, nothing is sent.

use std::convert::Infallible;
use std::ffi::OsString;
use std::time::Duration;

use tokio::time::sleep;

/// Where the manager listens: a path, or `@` and a name.
const SOCKET: &str = "NOTIFY_SOCKET";
/// After how many microseconds of silence it kills, and whom it means by that.
const WATCHDOG: &str = "WATCHDOG_USEC";
const WATCHDOG_OF: &str = "WATCHDOG_PID";

/// The manager that started this program, if it wants to know.
#[derive(Debug, Clone)]
pub struct Manager {
    socket: Option<OsString>,
    watchdog: Option<Duration>,
}

impl Manager {
    pub fn from_environment() -> Self {
        let text = |name| std::env::var(name).ok();
        Self {
            socket: std::env::var_os(SOCKET).filter(|socket| !socket.is_empty()),
            watchdog: pause(
                text(WATCHDOG).as_deref(),
                text(WATCHDOG_OF).as_deref(),
                std::process::id(),
            ),
        }
    }

    pub fn ready(&self) {
        self.tell("READY=1");
    }

    /// In words, for whoever asks the manager.
    pub fn status(&self, words: &str) {
        self.tell(&format!("STATUS={words}"));
    }

    pub fn stopping(&self) {
        self.tell("STOPPING=1");
    }

    /// Say at intervals that everything turns: whatever holds up this program holds up this as well.
    pub async fn keep_telling(&self) -> Infallible {
        match self.watchdog {
            None => std::future::pending().await,
            Some(pause) => loop {
                self.tell("WATCHDOG=1");
                sleep(pause).await;
            },
        }
    }

    fn tell(&self, words: &str) {
        let Some(socket) = &self.socket else { return };
        if let Err(error) = send(socket, words) {
            tracing::warn!(%error, "the service manager cannot be told");
        }
    }
}

/// Half of what the manager waits.
fn pause(microseconds: Option<&str>, of: Option<&str>, process: u32) -> Option<Duration> {
    let mine = of.is_none_or(|of| of.parse() == Ok(process));
    let microseconds = microseconds?.parse::<u64>().ok()?;
    (mine && microseconds > 0).then(|| Duration::from_micros(microseconds / 2))
}

#[cfg(unix)]
fn send(to: &OsString, words: &str) -> std::io::Result<()> {
    use std::os::unix::net::UnixDatagram;
    let socket = UnixDatagram::unbound()?;
    // A manager that is busy must not hold up the bot.
    socket.set_nonblocking(true)?;
    #[cfg(target_os = "linux")]
    if let Some(name) = std::os::unix::ffi::OsStrExt::as_bytes(to.as_os_str()).strip_prefix(b"@") {
        use std::os::linux::net::SocketAddrExt;
        let address = std::os::unix::net::SocketAddr::from_abstract_name(name)?;
        return socket.send_to_addr(words.as_bytes(), &address).map(|_| ());
    }
    socket.send_to(words.as_bytes(), to).map(|_| ())
}

#[cfg(not(unix))]
fn send(_to: &OsString, _words: &str) -> std::io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_watchdog_is_fed_twice_as_often_as_it_asks() {
        let second = Some(Duration::from_millis(500));
        assert_eq!(pause(Some("1000000"), None, 7), second);
        assert_eq!(pause(Some("1000000"), Some("7"), 7), second);
        assert_eq!(pause(Some("1000000"), Some("8"), 7), None);
        assert_eq!(pause(None, Some("7"), 7), None);
        assert_eq!(pause(Some("0"), None, 7), None);
        assert_eq!(pause(Some("soon"), None, 7), None);
    }
}
