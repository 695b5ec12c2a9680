//! The file in its long life, through the real binary: one bot on it, what is wrong with it said in words, copies made
//! and put back, and every earlier schema brought up to date.

mod chance;
#[path = "upkeep/running.rs"]
mod running;

#[path = "upkeep/backup.rs"]
mod backup;
#[path = "upkeep/doctor.rs"]
mod doctor;
#[path = "upkeep/earlier.rs"]
mod earlier;
#[cfg(unix)]
#[path = "upkeep/ending.rs"]
mod ending;
#[path = "upkeep/papers.rs"]
mod papers;
#[cfg(unix)]
#[path = "upkeep/power.rs"]
mod power;
#[path = "upkeep/trouble.rs"]
mod trouble;
