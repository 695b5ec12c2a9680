//! Lines of standard input, read on a thread of their own: a signal can end the program while the
//! thread still waits for a line.

use std::io::{self, BufRead, Read};

use tokio::sync::mpsc;

/// Longer lines are cut off: no message of any channel comes near.
const LINE_BYTES_MAX: u64 = 1 << 20;
/// Lines read ahead of the work.
const AHEAD: usize = 64;

/// A line without its end.
#[derive(Debug, Clone, PartialEq)]
pub enum Line {
    Text(String),
    /// Over a mebibyte, or not UTF-8.
    Unreadable,
}

pub struct Lines(mpsc::Receiver<io::Result<Line>>);

impl Lines {
    pub fn of_standard_input() -> Self {
        let (sender, receiver) = mpsc::channel(AHEAD);
        std::thread::spawn(move || {
            let mut input = io::stdin().lock();
            while let Some(line) = read_line(&mut input).transpose() {
                let failed = line.is_err();
                if sender.blocking_send(line).is_err() || failed {
                    return;
                }
            }
        });
        Self(receiver)
    }

    /// `None` at the end of the input.
    pub async fn next(&mut self) -> io::Result<Option<Line>> {
        self.0.recv().await.transpose()
    }
}

fn read_line(input: &mut impl BufRead) -> io::Result<Option<Line>> {
    let mut bytes = Vec::new();
    if input
        .by_ref()
        .take(LINE_BYTES_MAX)
        .read_until(b'\n', &mut bytes)?
        == 0
    {
        return Ok(None);
    }
    if bytes.last() != Some(&b'\n') && bytes.len() as u64 == LINE_BYTES_MAX {
        skip_line(input)?;
        return Ok(Some(Line::Unreadable));
    }
    let text = bytes.strip_suffix(b"\n").unwrap_or(&bytes);
    let text = text.strip_suffix(b"\r").unwrap_or(text);
    Ok(Some(match String::from_utf8(text.to_vec()) {
        Ok(text) => Line::Text(text),
        Err(_) => Line::Unreadable,
    }))
}

fn skip_line(input: &mut impl BufRead) -> io::Result<()> {
    loop {
        let buffer = input.fill_buf()?;
        let end = buffer.iter().position(|byte| *byte == b'\n');
        let (used, done) = match end {
            Some(end) => (end + 1, true),
            None => (buffer.len(), buffer.is_empty()),
        };
        input.consume(used);
        if done {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(mut input: &[u8]) -> Vec<Line> {
        std::iter::from_fn(|| read_line(&mut input).expect("bytes in memory are read")).collect()
    }

    #[test]
    fn lines_lose_their_ends() {
        let text = |text: &str| Line::Text(text.to_owned());
        assert_eq!(read(b"a\r\n\nb"), [text("a"), text(""), text("b")]);
        assert_eq!(read(b""), []);
    }

    #[test]
    fn what_cannot_be_read_costs_one_line() {
        let mut input = vec![b'x'; (LINE_BYTES_MAX as usize) * 2];
        input.extend(b"\nafter\n\xff\xfe\nlast\n");
        let expected = [
            Line::Unreadable,
            Line::Text("after".into()),
            Line::Unreadable,
            Line::Text("last".into()),
        ];
        assert_eq!(read(&input), expected);
    }
}
