//! Hobside keeps a household's books of bulk-cooked food, to the gram, from plain messages.
//!
//! # Layout
//!
//! In reading order; each module may use those before it, never those after.

#![forbid(unsafe_code)]

pub mod clock;
pub mod domain;
pub mod foods;
pub mod lang;
pub mod render;
pub mod service;
pub mod store;
