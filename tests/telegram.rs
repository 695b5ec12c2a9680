//! The bot as it runs, against a Bot API on loopback that can misbehave: the real binary, teloxide's
//! real client, real books in a file.

#[path = "telegram/form.rs"]
mod form;
#[path = "telegram/http.rs"]
mod http;
#[path = "telegram/kitchen.rs"]
mod kitchen;
#[path = "telegram/methods.rs"]
mod methods;
#[path = "telegram/server.rs"]
mod server;

#[path = "telegram/answers.rs"]
mod answers;
#[path = "telegram/board.rs"]
mod board;
#[path = "telegram/door.rs"]
mod door;
#[path = "telegram/faults.rs"]
mod faults;
#[path = "telegram/intake.rs"]
mod intake;
#[path = "telegram/managed.rs"]
mod managed;
#[path = "telegram/pictures.rs"]
mod pictures;
