//! Hobside keeps a household's books of bulk-cooked food, to the gram, from plain messages.
//!
//! # Layout
//!
//! In reading order; each module may use those before it, never those after.

#![forbid(unsafe_code)]

/// The rim: chats in a terminal, over a pipe, in Telegram.
pub mod channel;
/// The only place that asks what time it is.
pub mod clock;
/// What can be said on the command line.
pub mod config;
/// Syntax to meaning: what changes in the books, and what is answered. Pure.
pub mod domain;
/// The composition table: find a food by name, its nutrients, its household measures.
pub mod foods;
/// Text to syntax. Pure.
pub mod lang;
/// Values to words. Pure; every sentence that the bot can say.
pub mod render;
/// The order of events: receive, handle, deliver.
pub mod service;
/// SQLite: inbox, journal, outbox, and the books as a decision sees them.
pub mod store;
