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

/// What a client asked for.
pub struct Request {
    pub path: String,
    /// The kind of the body.
    pub kind: String,
    pub body: Vec<u8>,
}

/// Serve on a free port of loopback until the test process ends.
pub fn serve(answer: impl Fn(&Request) -> Reply + Clone + Send + 'static) -> SocketAddr {
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

fn converse(stream: TcpStream, answer: impl Fn(&Request) -> Reply) -> io::Result<()> {
    stream.set_nodelay(true)?;
    let mut reader = BufReader::new(stream.try_clone()?);
    let mut writer = stream;
    while let Some(request) = request(&mut reader)? {
        let Reply::Answer { status, body } = answer(&request) else {
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

/// The next request; `None` when the client has gone.
fn request(reader: &mut impl BufRead) -> io::Result<Option<Request>> {
    let mut line = String::new();
    if reader.read_line(&mut line)? == 0 {
        return Ok(None);
    }
    let path = line.split(' ').nth(1).unwrap_or_default().to_owned();
    let (mut length, mut kind, mut in_chunks) = (0, String::new(), false);
    loop {
        line.clear();
        reader.read_line(&mut line)?;
        if line.trim().is_empty() {
            break;
        }
        let Some((name, value)) = line.split_once(':') else {
            continue;
        };
        match name.to_ascii_lowercase().as_str() {
            "content-length" => length = value.trim().parse().map_err(io::Error::other)?,
            "content-type" => value.trim().clone_into(&mut kind),
            "transfer-encoding" => in_chunks = value.trim().eq_ignore_ascii_case("chunked"),
            _ => {}
        }
    }
    let body = match in_chunks {
        true => chunks(reader)?,
        false => exactly(reader, length)?,
    };
    Ok(Some(Request { path, kind, body }))
}

fn exactly(reader: &mut impl BufRead, length: usize) -> io::Result<Vec<u8>> {
    let mut body = vec![0; length];
    reader.read_exact(&mut body)?;
    Ok(body)
}

/// A body of pieces, each with its length in front, up to an empty one (RFC 9112, 7.1).
fn chunks(reader: &mut impl BufRead) -> io::Result<Vec<u8>> {
    let mut body = Vec::new();
    loop {
        let mut line = String::new();
        reader.read_line(&mut line)?;
        let length = usize::from_str_radix(line.trim(), 16).map_err(io::Error::other)?;
        body.extend(exactly(reader, length)?);
        exactly(reader, 2)?;
        if length == 0 {
            return Ok(body);
        }
    }
}
