//! What to put on a plate so that it holds what is asked for.

pub mod answer;
pub mod problem;
pub mod search;
