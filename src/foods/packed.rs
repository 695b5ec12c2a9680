//! The packed form of the table, as embedded in the program. `tests/table/generate.rs` writes it.
//!
//! All numbers are varints: seven bits a byte, lowest first, the high bit set on all but the last byte.
//!
//! ```text
//! table   = magic pools foods nutrients measures
//! magic   = "HOBSIDE1"
//! pools   = words, measure names, refuse descriptions, common names, makers
//! pool    = length in bytes, then that many bytes of UTF-8, one text a line, the commonest first
//! column  = for each value 1 + the value; or 0 and a count: the value before, that many times more
//! foods   = count, then columns: code less the one before; group (index into Group::ALL);
//!           words of the description shared with the one before; further words of it;
//!           then, no column, the numbers of these further words in the pool; then columns again:
//!           refuse percent; refuse description; common names; maker (numbers in their pools)
//! nutrients = for each of Nutrient::ALL: decimal places, then a column of 0 for unknown or 1 + the scaled value
//! measures  = a column of how many each food has, then columns over all of them:
//!             amount in thousandths; name (number in the pool); hundredths of a gram
//! ```
//!
//! A value scaled to an integer and divided by its power of ten is the double nearest to the release's decimal,
//! so nothing is lost.

use super::code::Code;
use super::nutrient::{Nutrient, Profile};
use super::table::{Food, Group, Measure};

/// The packed table of the release.
pub const EMBEDDED: &[u8] = include_bytes!("data/sr28.bin");

/// The first bytes of a packed table.
pub const MAGIC: &[u8] = b"HOBSIDE1";

/// Why bytes are not a packed table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Damage {
    #[error("not a packed food table")]
    Magic,
    #[error("the packed food table ends early")]
    Short,
    #[error("a number in the packed food table is out of range")]
    Range,
    #[error("a text in the packed food table is not UTF-8")]
    Text,
}

/// Reads a packed table. Texts stay where they lie, so the bytes have to live as long as the program.
pub fn unpack(bytes: &'static [u8]) -> Result<Vec<Food>, Damage> {
    let rest = bytes.strip_prefix(MAGIC).ok_or(Damage::Magic)?;
    let mut reader = Reader { rest };
    let words = reader.pool()?;
    let measure_names = reader.pool()?;
    let mut foods = read_foods(&mut reader, &words)?;
    let count = foods.len();
    for nutrient in Nutrient::ALL {
        let places = reader.number()?;
        let scale = 10_f64.powi(i32::try_from(places).map_err(|_| Damage::Range)?);
        for (food, scaled) in foods.iter_mut().zip(reader.column(count)?) {
            food.per_100g.set(
                nutrient,
                scaled
                    .checked_sub(1)
                    .map(|scaled| f64::from(scaled) / scale),
            );
        }
    }
    read_measures(&mut reader, &measure_names, &mut foods)?;
    Ok(foods)
}

fn read_foods(reader: &mut Reader, words: &[&'static str]) -> Result<Vec<Food>, Damage> {
    let refuse_descriptions = reader.pool()?;
    let common_names = reader.pool()?;
    let makers = reader.pool()?;
    let count = reader.number()? as usize;
    let codes = reader.column(count)?;
    let groups = reader.column(count)?;
    let mut foods = Vec::with_capacity(codes.len());
    let mut code = 0_u32;
    for (step, group) in codes.into_iter().zip(groups) {
        code = code.checked_add(step).ok_or(Damage::Range)?;
        foods.push(Food {
            code: Code(code),
            description: String::new(),
            common_names: "",
            manufacturer: "",
            group: Group::ALL.get(group as usize).ok_or(Damage::Range)?.0,
            per_100g: Profile::default(),
            measures: Vec::new(),
            refuse_percent: 0,
            refuse_description: "",
        });
    }
    let shared = reader.column(count)?;
    let further = reader.column(count)?;
    let mut description: Vec<&str> = Vec::new();
    for (food, (shared, further)) in foods.iter_mut().zip(shared.into_iter().zip(further)) {
        description.truncate(shared as usize);
        for _ in 0..further {
            description.push(at(words, reader.number()?)?);
        }
        food.description = description.join(" ");
    }
    for (food, percent) in foods.iter_mut().zip(reader.column(count)?) {
        food.refuse_percent = u8::try_from(percent).map_err(|_| Damage::Range)?;
    }
    for (food, number) in foods.iter_mut().zip(reader.column(count)?) {
        food.refuse_description = at(&refuse_descriptions, number)?;
    }
    for (food, number) in foods.iter_mut().zip(reader.column(count)?) {
        food.common_names = at(&common_names, number)?;
    }
    for (food, number) in foods.iter_mut().zip(reader.column(count)?) {
        food.manufacturer = at(&makers, number)?;
    }
    Ok(foods)
}

fn read_measures(
    reader: &mut Reader,
    names: &[&'static str],
    foods: &mut [Food],
) -> Result<(), Damage> {
    let counts = reader.column(foods.len())?;
    let all = counts.iter().map(|&count| count as usize).sum();
    let amounts = reader.column(all)?;
    let numbers = reader.column(all)?;
    let weights = reader.column(all)?;
    let mut rows = amounts.into_iter().zip(numbers).zip(weights);
    for (food, count) in foods.iter_mut().zip(counts) {
        let measure = |((thousandths, number), hundredths)| {
            Ok(Measure {
                amount: f64::from(thousandths) / 1000.0,
                name: at(names, number)?,
                grams: f64::from(hundredths) / 100.0,
            })
        };
        food.measures = rows
            .by_ref()
            .take(count as usize)
            .map(measure)
            .collect::<Result<_, _>>()?;
    }
    Ok(())
}

fn at(pool: &[&'static str], number: u32) -> Result<&'static str, Damage> {
    pool.get(number as usize).copied().ok_or(Damage::Range)
}

struct Reader {
    rest: &'static [u8],
}

impl Reader {
    fn number(&mut self) -> Result<u32, Damage> {
        let mut value = 0_u32;
        for shift in (0..32).step_by(7) {
            let (&byte, rest) = self.rest.split_first().ok_or(Damage::Short)?;
            self.rest = rest;
            value |= u32::from(byte & 0x7f) << shift;
            if byte & 0x80 == 0 {
                return Ok(value);
            }
        }
        Err(Damage::Range)
    }

    fn pool(&mut self) -> Result<Vec<&'static str>, Damage> {
        let length = self.number()? as usize;
        let (text, rest) = self.rest.split_at_checked(length).ok_or(Damage::Short)?;
        self.rest = rest;
        Ok(std::str::from_utf8(text)
            .map_err(|_| Damage::Text)?
            .split('\n')
            .collect())
    }

    /// A column of that many values.
    fn column(&mut self, count: usize) -> Result<Vec<u32>, Damage> {
        let mut values: Vec<u32> = Vec::new();
        while values.len() < count {
            match self.number()? {
                0 => {
                    let times = self.number()? as usize;
                    let value = *values.last().ok_or(Damage::Range)?;
                    if times > count - values.len() {
                        return Err(Damage::Range);
                    }
                    values.extend(std::iter::repeat_n(value, times));
                }
                value => values.push(value - 1),
            }
        }
        Ok(values)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn damage_is_named_and_never_panics() {
        assert_eq!(unpack(b"something else"), Err(Damage::Magic));
        for length in (MAGIC.len()..EMBEDDED.len()).step_by(7919) {
            assert!(unpack(&EMBEDDED[..length]).is_err(), "{length}");
        }
    }
}
