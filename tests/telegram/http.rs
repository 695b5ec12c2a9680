//! Just enough HTTP to misbehave with: a thread for each connection, and answers that may be cut.

use std::io::{self, BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::thread;

/// What the server does with a request.
pub enum Reply {
    Answer {
        status: u16,
        body: String,
    },
    /// The connection ends without a word.
    Cut,
}

/// Serve on a free port of loopback until the test process ends.
pub fn serve(answer: impl Fn(&str, &str) -> Reply + Clone + Send + 'static) -> SocketAddr {
    let listener = TcpListener::bind("127.0.0.1:0").expect("loopback has a free port");
    let address = listener.local_addr().expect("it is bound");
    thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let answer = answer.clone();
            // A client that goes away in the middle is none of the test's business.
            thread::spawn(move || drop(converse(stream, answer)));
        }
    });
    address
}

fn converse(stream: TcpStream, answer: impl Fn(&str, &str) -> Reply) -> io::Result<()> {
    stream.set_nodelay(true)?;
    let mut reader = BufReader::new(stream.try_clone()?);
    let mut writer = stream;
    while let Some((path, body)) = request(&mut reader)? {
        let Reply::Answer { status, body } = answer(&path, &body) else {
            return Ok(());
        };
        let kind = if body.starts_with('{') {
            "application/json"
        } else {
            "text/html"
        };
        write!(
            writer,
            "HTTP/1.1 {status} -\r\ncontent-type: {kind}\r\ncontent-length: {}\r\n\r\n{body}",
            body.len()
        )?;
        writer.flush()?;
    }
    Ok(())
}

/// The path and the body of the next request; `None` when the client has gone.
fn request(reader: &mut impl BufRead) -> io::Result<Option<(String, String)>> {
    let mut line = String::new();
    if reader.read_line(&mut line)? == 0 {
        return Ok(None);
    }
    let path = line.split(' ').nth(1).unwrap_or_default().to_owned();
    let mut length = 0;
    loop {
        line.clear();
        reader.read_line(&mut line)?;
        if line.trim().is_empty() {
            break;
        }
        if let Some((name, value)) = line.split_once(':')
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse().map_err(io::Error::other)?;
        }
    }
    let mut body = vec![0; length];
    reader.read_exact(&mut body)?;
    String::from_utf8(body)
        .map(|body| Some((path, body)))
        .map_err(io::Error::other)
}
