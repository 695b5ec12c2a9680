//! A household's data is its own: taken out whole and put into another file, gone when it is deleted, bound to another
//! account or chat, and apart from the other households of the same file. Through the whole service and the real binary.

mod chance;
#[path = "data/play.rs"]
mod play;
#[path = "upkeep/running.rs"]
#[allow(dead_code, reason = "the tests of the file use all of it")]
mod running;
mod said;

#[path = "data/apart.rs"]
mod apart;
#[path = "data/archive.rs"]
mod archive;
#[path = "data/csv.rs"]
mod csv;
#[path = "data/deletion.rs"]
mod deletion;
#[path = "data/rebind.rs"]
mod rebind;
#[path = "data/refused.rs"]
mod refused;
