//! Under a service manager: it is told when the bot is ready, that it turns, and that it stops; the log is for machines
//! and tells nothing that people said; figures are to be had on loopback.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::os::unix::net::UnixDatagram;
use std::time::Duration;

use serde_json::Value;

use crate::kitchen::{Chat, Kitchen};
use crate::server::Server;

fn told(socket: &UnixDatagram) -> String {
    let mut bytes = [0; 512];
    let count = socket.recv(&mut bytes).expect("the manager is told");
    String::from_utf8_lossy(&bytes[..count]).into_owned()
}

#[test]
fn the_manager_is_told_and_the_watchdog_is_fed() {
    let mut kitchen = Kitchen::closed(Server::start());
    let path = kitchen.folder().join("notify");
    let socket = UnixDatagram::bind(&path).unwrap();
    socket
        .set_read_timeout(Some(Duration::from_secs(30)))
        .unwrap();
    let mut command = kitchen.command();
    command
        .env("NOTIFY_SOCKET", &path)
        .env("WATCHDOG_USEC", "200000");
    kitchen.run(command);
    let mut all = Vec::new();
    while all.iter().filter(|words| *words == "WATCHDOG=1").count() < 4
        || !all
            .iter()
            .any(|words: &String| words.starts_with("STATUS=connected as @"))
    {
        all.push(told(&socket));
        assert!(all.len() < 400, "{all:?}");
    }
    assert!(all.contains(&"READY=1".to_owned()), "{all:?}");
    let (status, took) = kitchen.terminate();
    assert!(
        status.success() && took < Duration::from_millis(5500),
        "{took:?}"
    );
    socket.set_nonblocking(true).unwrap();
    let mut rest = Vec::new();
    let mut bytes = [0; 512];
    while let Ok(count) = socket.recv(&mut bytes) {
        rest.push(String::from_utf8_lossy(&bytes[..count]).into_owned());
    }
    assert!(rest.contains(&"STOPPING=1".to_owned()), "{rest:?}");
}

#[test]
fn nothing_that_people_say_is_in_the_log_at_info() {
    let mut kitchen = Kitchen::closed(Server::start());
    let mut command = kitchen.command();
    command
        .env("HOBSIDE_LOG", "info")
        .env("HOBSIDE_LOG_FORMAT", "json");
    kitchen.run(command);
    let robin = Chat::private(&kitchen.server, 501, "Robinette");
    kitchen.let_in(&robin);
    robin.says("batch quincepot, 500 g pearl barley, cooked 1480");
    robin.hears("1480 g net");
    robin.says("140 quincepot");
    robin.hears("140 g quincepot");
    robin.says("/zyzzyva");
    assert!(kitchen.terminate().0.success());
    let logged = kitchen.logged();
    let lines: Vec<Value> = logged
        .lines()
        .map(|line| serde_json::from_str(line).expect(line))
        .collect();
    let says = |line: &Value| line["message"] == "connected" && line["level"] == "INFO";
    assert!(lines.iter().any(says), "{logged}");
    let handled = |line: &Value| line["message"] == "handled" && line["message_id"].is_i64();
    assert!(lines.iter().any(handled), "{logged}");
    for word in ["quincepot", "zyzzyva", "Robinette", "barley"] {
        assert!(!logged.contains(word), "{logged}");
    }
}

fn get(port: u16, path: &str) -> std::io::Result<String> {
    let mut caller = TcpStream::connect(("127.0.0.1", port))?;
    write!(caller, "GET {path} HTTP/1.1\r\nHost: x\r\n\r\n")?;
    let mut answer = String::new();
    caller.read_to_string(&mut answer)?;
    Ok(answer)
}

#[test]
fn figures_are_served_on_loopback_to_whoever_asked_for_them() {
    let free = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let port = free.local_addr().unwrap().port();
    drop(free);
    let mut kitchen = Kitchen::closed(Server::start());
    let mut command = kitchen.command();
    command.args(["--metrics-port", &port.to_string()]);
    kitchen.run(command);
    let robin = Chat::private(&kitchen.server, 501, "Robin");
    kitchen.let_in(&robin);
    robin.says("batch barley, 500 g pearl barley, cooked 1480");
    robin.hears("1480 g net");
    let answer = get(port, "/metrics").unwrap();
    let (head, body) = answer.split_once("\r\n\r\n").unwrap();
    assert!(head.starts_with("HTTP/1.1 200 OK"), "{head}");
    assert!(
        head.contains("application/openmetrics-text; version=1.0.0"),
        "{head}"
    );
    assert!(body.ends_with("# EOF\n"), "{body}");
    for line in [
        "hobside_households 1",
        "hobside_chats{channel=\"telegram\"} 1",
        "hobside_messages_waiting 0",
    ] {
        assert!(body.lines().any(|known| known == line), "{line}: {body}");
    }
    let entries = body
        .lines()
        .find_map(|line| line.strip_prefix("hobside_entries_total "));
    assert!(entries.unwrap().parse::<u32>().unwrap() > 2, "{body}");
    assert!(
        !body.contains("barley") && !body.contains("Robin"),
        "{body}"
    );
    // Every family is told before its samples, and every line is one of both.
    let mut family = String::new();
    for line in body.lines().filter(|line| *line != "# EOF") {
        match line.strip_prefix("# ") {
            Some(meta) => family = meta.split(' ').nth(1).unwrap().to_owned(),
            None => assert!(
                line.starts_with(&family) && line.split(' ').count() == 2,
                "{line}"
            ),
        }
    }
    assert!(get(port, "/").unwrap().starts_with("HTTP/1.1 404"));
    assert!(kitchen.terminate().0.success());
    assert!(get(port, "/metrics").is_err());
}
