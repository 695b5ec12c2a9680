//! Hobside keeps a household's books of bulk-cooked food, to the gram, from plain messages.
//!
//! # Layout
//!
//! In reading order; each module may use those before it, never those after.

#![forbid(unsafe_code)]

/// The composition table: find a food by name, its nutrients, its household measures.
pub mod foods;
/// Text to syntax. Pure.
pub mod lang;
/// Syntax to meaning: what changes in the books, and what is answered. Pure.
pub mod domain;
/// Values to words. Pure; every sentence that the bot can say.
pub mod render;
/// SQLite: inbox, journal, outbox, and the books as a decision sees them.
pub mod store;
/// The order of events: receive, handle, deliver.
pub mod service;
/// The only place that asks what time it is.
pub mod clock;
