//! x

pub mod lang;
