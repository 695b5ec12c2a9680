//! Ahead of cooking: what to cook and how much of it, what to buy for it, and in what order it is done.
//!
//! Pure of the kitchen, each held against brute force: `plan` (how much of each dish; `serve` and `assign` say what
//! becomes of it), `work` (the order of steps), `list` and `goods` (what to buy), `shop` (the list that is taken along).
//! What the books keep is `books` (with `wish`);
//! what is said, `answer` and `problem`.

pub mod answer;
pub mod assign;
pub mod books;
pub mod goods;
pub mod horizon;
pub mod larder;
pub mod list;
pub mod plan;
pub mod planned;
pub mod problem;
pub mod serve;
pub mod sheet;
pub mod shop;
pub mod there;
pub mod wish;
pub mod work;
