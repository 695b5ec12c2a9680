//! Meaning: what words stand for in this kitchen, and what follows for the books. Pure: no async, no
//! SQL, no clock, no serialization.
//!
//! Read in this order: `mass`, `nutrients`, `ids`, `ledger` (movements), `kitchen` (the state that a
//! decision sees), `moves` (what a lot held when), `keeping` (until when it may be
//! eaten), `allergen` (what it carries), `change` (what a decision writes), `answer` and `problem` (what it says), then
//! `resolve` (words to things) and `decide` (one file per verb).

pub mod act;
pub mod allergen;
pub mod answer;
pub mod assumption;
pub mod avoid;
pub mod batch;
pub mod batch_view;
pub mod board;
pub mod caution;
pub mod change;
pub mod clock;
pub mod composition;
pub mod cookbook;
pub mod course;
pub mod decide;
mod draft;
mod due;
pub mod estimate;
pub mod finder;
pub mod history;
mod household;
pub mod ids;
mod in_hand;
pub mod keeping;
pub mod keeping_view;
pub mod kitchen;
pub mod label;
pub mod ledger;
pub mod mass;
mod middle;
pub mod moves;
mod named;
pub mod note;
pub mod nutrients;
pub mod open_question;
mod opening;
pub mod origin;
pub mod pace;
pub mod personal;
pub mod pieces;
pub mod plate;
pub mod prep;
pub mod press;
pub mod problem;
pub mod quantity;
pub mod report;
pub mod resolve;
mod settle;
pub mod spoken;
mod stands;
mod stock;
pub mod table;
mod usual;
pub mod vessel;
pub mod view;
pub mod volume;
pub mod worth;
