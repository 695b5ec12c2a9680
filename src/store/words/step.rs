//! What a step takes, as words of the file.

use crate::domain::prep::work::Uses;
use crate::store::error::{Error, Result};

pub fn word(uses: Uses) -> (&'static str, Option<u32>) {
    match uses {
        Uses::Hands => ("hands", None),
        Uses::Burner => ("burner", None),
        Uses::Oven(heat) => ("oven", heat),
        Uses::Nothing => ("nothing", None),
    }
}

pub fn uses(word: &str, heat: Option<u32>) -> Result<Uses> {
    match word {
        "hands" => Ok(Uses::Hands),
        "burner" => Ok(Uses::Burner),
        "oven" => Ok(Uses::Oven(heat)),
        "nothing" => Ok(Uses::Nothing),
        _ => Err(Error::Unreadable {
            what: "what a step takes",
            value: word.to_owned(),
        }),
    }
}
