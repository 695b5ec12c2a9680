//! Writes the packed form that `foods::packed` describes and reads.

use std::collections::HashMap;

use anyhow::{Context, Result, ensure};
use hobside::foods::Group;
use hobside::foods::packed::MAGIC;

use super::release::Food;

/// Packs the foods of the release.
pub fn pack(foods: &[Food]) -> Result<Vec<u8>> {
    let words = Pool::of(foods.iter().flat_map(|food| food.description.split(' ')))?;
    let measure_names = Pool::of(
        foods
            .iter()
            .flat_map(|food| &food.measures)
            .map(|m| m.name.as_str()),
    )?;
    let refuse = Pool::of(foods.iter().map(|food| food.refuse_description.as_str()))?;
    let common_names = Pool::of(foods.iter().map(|food| food.common_names.as_str()))?;
    let makers = Pool::of(foods.iter().map(|food| food.manufacturer.as_str()))?;

    let mut out = MAGIC.to_vec();
    for pool in [&words, &measure_names, &refuse, &common_names, &makers] {
        push(&mut out, pool.text.len() as u32);
        out.extend(pool.text.as_bytes());
    }
    push(&mut out, foods.len() as u32);
    let before = [0].into_iter().chain(foods.iter().map(|food| food.code));
    push_column(
        &mut out,
        foods
            .iter()
            .zip(before)
            .map(|(food, before)| food.code - before),
    );
    let groups: Option<Vec<u32>> = foods
        .iter()
        .map(|food| {
            Group::ALL
                .iter()
                .position(|&(_, code)| code == food.group)
                .map(|at| at as u32)
        })
        .collect();
    push_column(&mut out, groups.context("only known groups")?);
    push_descriptions(&mut out, foods, &words);
    push_column(&mut out, foods.iter().map(|food| food.refuse_percent));
    push_column(
        &mut out,
        foods
            .iter()
            .map(|food| refuse.number(&food.refuse_description)),
    );
    push_column(
        &mut out,
        foods
            .iter()
            .map(|food| common_names.number(&food.common_names)),
    );
    push_column(
        &mut out,
        foods.iter().map(|food| makers.number(&food.manufacturer)),
    );
    for column in 0..14 {
        push_nutrient(&mut out, foods, column)?;
    }
    push_column(
        &mut out,
        foods.iter().map(|food| food.measures.len() as u32),
    );
    let measures = || foods.iter().flat_map(|food| &food.measures);
    push_column(
        &mut out,
        scaled_all(measures().map(|measure| measure.amount.as_str()), 3)?,
    );
    push_column(
        &mut out,
        measures().map(|measure| measure_names.number(&measure.name)),
    );
    push_column(
        &mut out,
        scaled_all(measures().map(|measure| measure.grams.as_str()), 2)?,
    );
    Ok(out)
}

/// Neighbours in the release mostly begin alike, so each description gives only what follows the shared words.
fn push_descriptions(out: &mut Vec<u8>, foods: &[Food], words: &Pool) {
    let split: Vec<Vec<&str>> = foods
        .iter()
        .map(|food| food.description.split(' ').collect())
        .collect();
    let shared: Vec<usize> = (0..split.len())
        .map(|at| match at {
            0 => 0,
            _ => split[at]
                .iter()
                .zip(&split[at - 1])
                .take_while(|(a, b)| a == b)
                .count(),
        })
        .collect();
    push_column(out, shared.iter().map(|&shared| shared as u32));
    push_column(
        out,
        split
            .iter()
            .zip(&shared)
            .map(|(own, shared)| (own.len() - shared) as u32),
    );
    for (own, &shared) in split.iter().zip(&shared) {
        for word in &own[shared..] {
            push(out, words.number(word));
        }
    }
}

fn push_nutrient(out: &mut Vec<u8>, foods: &[Food], column: usize) -> Result<()> {
    let values = foods.iter().map(|food| food.values[column].as_deref());
    let places = values
        .clone()
        .flatten()
        .map(|value| {
            value
                .split_once('.')
                .map_or(0, |(_, decimals)| decimals.len())
        })
        .max()
        .unwrap_or(0);
    push(out, places as u32);
    let numbers: Vec<u32> = values
        .map(|value| {
            Ok(value
                .map(|value| scaled(value, places))
                .transpose()?
                .map_or(0, |n| n + 1))
        })
        .collect::<Result<_>>()?;
    push_column(out, numbers);
    Ok(())
}

fn scaled_all<'a>(decimals: impl Iterator<Item = &'a str>, places: usize) -> Result<Vec<u32>> {
    decimals.map(|decimal| scaled(decimal, places)).collect()
}

/// A decimal as an integer of units of 10^-places, digit by digit.
fn scaled(decimal: &str, places: usize) -> Result<u32> {
    let (whole, decimals) = decimal.split_once('.').unwrap_or((decimal, ""));
    ensure!(
        decimals.len() <= places,
        "{decimal} has more than {places} decimal places"
    );
    let digits = format!("{whole}{decimals:0<places$}");
    digits.parse().with_context(|| decimal.to_owned())
}

/// Runs of one value are written once, where that is shorter.
fn push_column(out: &mut Vec<u8>, values: impl IntoIterator<Item = u32>) {
    let values: Vec<u32> = values.into_iter().collect();
    for run in values.chunk_by(|a, b| a == b) {
        let mut value = Vec::new();
        push(&mut value, run[0] + 1);
        let mut repeat = vec![0];
        push(&mut repeat, run.len() as u32 - 1);
        out.extend(&value);
        if repeat.len() < value.len() * (run.len() - 1) {
            out.extend(repeat);
        } else {
            out.extend(value.repeat(run.len() - 1));
        }
    }
}

fn push(out: &mut Vec<u8>, mut number: u32) {
    while number >= 0x80 {
        out.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

/// Distinct texts, the commonest first, so that common ones have short numbers.
struct Pool {
    text: String,
    numbers: HashMap<String, u32>,
}

impl Pool {
    fn of<'a>(texts: impl Iterator<Item = &'a str>) -> Result<Pool> {
        let mut counts: HashMap<&str, usize> = HashMap::new();
        for text in texts {
            ensure!(!text.contains('\n'), "one line: {text:?}");
            *counts.entry(text).or_default() += 1;
        }
        let mut ordered: Vec<(&str, usize)> = counts.into_iter().collect();
        ordered.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
        let text = ordered
            .iter()
            .map(|&(text, _)| text)
            .collect::<Vec<_>>()
            .join("\n");
        let numbers = ordered
            .iter()
            .enumerate()
            .map(|(number, &(text, _))| (text.to_owned(), number as u32))
            .collect();
        Ok(Pool { text, numbers })
    }

    fn number(&self, text: &str) -> u32 {
        self.numbers[text]
    }
}
