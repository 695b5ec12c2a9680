//! Figures over HTTP on loopback, for whoever asked for them: one path, one caller at a time, and nothing else.

use std::convert::Infallible;
use std::net::Ipv4Addr;
use std::time::Duration;

use anyhow::Context;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::time::{sleep, timeout};

use crate::clock::Clock;
use crate::render::metrics::CONTENT_TYPE;
use crate::service::metrics::Watch;

const PATH: &str = "/metrics";
/// A caller that is slower is let go of.
const CALL_MAX: Duration = Duration::from_secs(5);
/// No honest request is longer.
const REQUEST_BYTES_MAX: usize = 8 << 10;
/// After a refusal of the system, such as too many open files.
const PAUSE: Duration = Duration::from_secs(1);

/// Where the figures are to be had.
pub struct Metrics {
    listener: TcpListener,
    watch: Watch,
    clock: Clock,
}

impl Metrics {
    /// # Errors
    /// If the port is taken.
    pub async fn listen(port: u16, watch: Watch, clock: Clock) -> anyhow::Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await;
        Ok(Self {
            listener: listener.with_context(|| format!("listening on 127.0.0.1:{port}"))?,
            watch,
            clock,
        })
    }

    /// Answer whoever asks, for ever.
    pub async fn serve(&self) -> Infallible {
        loop {
            match self.listener.accept().await {
                Ok((caller, _)) => match timeout(CALL_MAX, self.answer(caller)).await {
                    Ok(Ok(())) => {}
                    Ok(Err(error)) => tracing::debug!(%error, "a caller for figures is gone"),
                    Err(_) => tracing::debug!("a caller for figures is too slow"),
                },
                Err(error) => {
                    tracing::warn!(%error, "nobody can ask for figures");
                    sleep(PAUSE).await;
                }
            }
        }
    }

    async fn answer(&self, mut caller: TcpStream) -> std::io::Result<()> {
        let request = read(&mut caller).await?;
        let (status, kind, body) = match asked(&request) {
            Asked::Figures => match self.watch.figures(self.clock.now()).await {
                Ok(figures) => ("200 OK", CONTENT_TYPE, figures.text()),
                Err(error) => {
                    tracing::warn!(%error, "no figures");
                    ("503 Service Unavailable", PLAIN, format!("{error}\n"))
                }
            },
            Asked::SomethingElse => ("404 Not Found", PLAIN, format!("ask for {PATH}\n")),
            Asked::Otherwise => ("405 Method Not Allowed", PLAIN, "only GET\n".to_owned()),
        };
        let length = body.len();
        let answer = format!(
            "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n{body}"
        );
        caller.write_all(answer.as_bytes()).await?;
        caller.shutdown().await
    }
}

const PLAIN: &str = "text/plain; charset=utf-8";

#[derive(Debug, PartialEq, Eq)]
enum Asked {
    Figures,
    SomethingElse,
    /// By another method than GET.
    Otherwise,
}

fn asked(request: &[u8]) -> Asked {
    let first = request
        .split(|byte| *byte == b'\r')
        .next()
        .unwrap_or_default();
    let first = String::from_utf8_lossy(first);
    let mut words = first.split(' ');
    let (method, target) = (words.next(), words.next().unwrap_or_default());
    let path = target.split('?').next().unwrap_or_default();
    match (method, path) {
        (Some("GET"), PATH) => Asked::Figures,
        (Some("GET"), _) => Asked::SomethingElse,
        _ => Asked::Otherwise,
    }
}

/// Up to the empty line that ends a request without a body.
async fn read(caller: &mut TcpStream) -> std::io::Result<Vec<u8>> {
    let mut request = Vec::new();
    let mut part = [0; 1024];
    while request.len() < REQUEST_BYTES_MAX {
        let count = caller.read(&mut part).await?;
        request.extend_from_slice(&part[..count]);
        if count == 0 || request.windows(4).any(|end| end == b"\r\n\r\n") {
            break;
        }
    }
    Ok(request)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_path_is_answered() {
        assert_eq!(asked(b"GET /metrics HTTP/1.1\r\n\r\n"), Asked::Figures);
        assert_eq!(asked(b"GET /metrics?x=1 HTTP/1.1\r\n\r\n"), Asked::Figures);
        assert_eq!(asked(b"GET / HTTP/1.1\r\n\r\n"), Asked::SomethingElse);
        assert_eq!(asked(b"POST /metrics HTTP/1.1\r\n\r\n"), Asked::Otherwise);
        assert_eq!(asked(b"\xff\xfe"), Asked::Otherwise);
        assert_eq!(asked(b""), Asked::Otherwise);
    }
}
