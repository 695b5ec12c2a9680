//! Hobside keeps a household's books of bulk-cooked food.

#![forbid(unsafe_code)]

pub mod foods;

pub mod lang;

pub mod domain;

pub mod render;
