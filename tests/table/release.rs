//! Reads the release's own files: Latin-1, one record a line, `^` between fields, `~` around texts, CRLF.
//!
//! Numbers are kept as the release writes them, so that packing can prove that it loses nothing.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use hobside::foods::Nutrient;

pub struct Food {
    pub code: u32,
    pub group: u16,
    pub description: String,
    pub common_names: String,
    pub manufacturer: String,
    pub refuse_description: String,
    pub refuse_percent: u32,
    /// In the order of `Nutrient::ALL`.
    pub values: [Option<String>; 14],
    pub measures: Vec<Measure>,
}

pub struct Measure {
    pub amount: String,
    pub name: String,
    pub grams: String,
}

/// Reads FOOD_DES, NUT_DATA and WEIGHT from the folder, in order of the codes.
pub fn read(folder: &Path) -> Result<Vec<Food>> {
    let mut foods = Vec::new();
    for record in records(folder, "FOOD_DES.txt")? {
        ensure!(record.len() == 14, "FOOD_DES has 14 fields: {record:?}");
        let refuse = &record[8];
        foods.push(Food {
            code: record[0].parse()?,
            group: record[1].parse()?,
            description: record[2].clone(),
            common_names: record[4].clone(),
            manufacturer: record[5].clone(),
            refuse_description: record[7].clone(),
            refuse_percent: if refuse.is_empty() {
                0
            } else {
                refuse.parse()?
            },
            values: Default::default(),
            measures: Vec::new(),
        });
    }
    ensure!(
        foods.is_sorted_by_key(|food| food.code),
        "FOOD_DES is in order"
    );
    let positions: HashMap<u32, usize> = foods
        .iter()
        .enumerate()
        .map(|(at, food)| (food.code, at))
        .collect();
    let columns: HashMap<u16, usize> = Nutrient::ALL
        .into_iter()
        .map(|n| (n.release_number(), n as usize))
        .collect();
    for record in records(folder, "NUT_DATA.txt")? {
        if let Some(&column) = columns.get(&record[1].parse()?) {
            foods[positions[&record[0].parse()?]].values[column] = Some(record[2].clone());
        }
    }
    for record in records(folder, "WEIGHT.txt")? {
        foods[positions[&record[0].parse()?]]
            .measures
            .push(Measure {
                amount: record[2].clone(),
                name: record[3].clone(),
                grams: record[4].clone(),
            });
    }
    Ok(foods)
}

fn records(folder: &Path, file: &str) -> Result<Vec<Vec<String>>> {
    let path = folder.join(file);
    let bytes = fs::read(&path).with_context(|| path.display().to_string())?;
    // Latin-1 is the first 256 code points.
    let text: String = bytes.into_iter().map(char::from).collect();
    Ok(text
        .lines()
        .map(|line| {
            line.split('^')
                .map(|field| field.trim_matches('~').to_owned())
                .collect()
        })
        .collect())
}
