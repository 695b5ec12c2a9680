//! Hobside keeps a household's books of bulk-cooked food, to the gram, from plain messages.
//!
//! # Layout
//!
//! In reading order; each module may use those before it, never those after.
//!
//! - [`foods`]: the composition table: find a food by name, its nutrients, its household measures
//! - [`lang`]: text to syntax; pure
//! - [`domain`]: syntax to meaning: what changes in the books, and what is answered; pure
//! - [`render`]: values to words; pure; every sentence that the bot can say
//! - [`store`]: SQLite: inbox, journal, outbox, and the books as a decision sees them
//! - [`service`]: the order of events: receive, handle, deliver
//! - [`channel`]: the rim: chats in a terminal, over a pipe, in Telegram
//!
//! Beside them stand [`clock`], the only place that asks what time it is, [`config`], what can be said on the command
//! line, [`papers`], the manual that is made from it, and [`log`], what the program says of itself.

#![forbid(unsafe_code)]

pub mod channel;
pub mod clock;
pub mod config;
pub mod domain;
pub mod foods;
pub mod lang;
pub mod log;
pub mod papers;
pub mod render;
pub mod service;
pub mod store;
