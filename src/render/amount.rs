//! An amount in words, as it was said.

use crate::domain::mass::Mass;
use crate::domain::volume;
use crate::lang::syntax::{Amount, VolumeUnit};

use super::clean::name;
use super::number::{decimal, grams};

/// "2 medium", "1 cup sliced", "140 g", "half".
pub fn words(amount: &Amount) -> String {
    match amount {
        Amount::Bare(count) => decimal(*count),
        Amount::Mass(in_grams) => weight(*in_grams),
        Amount::Volume {
            count,
            unit,
            qualifiers,
        } => {
            let unit = volume_unit(*unit, *count);
            joined(decimal(*count), unit, qualifiers)
        }
        Amount::Pieces { count, measure } => joined(decimal(*count), "", measure),
        Amount::Weighed { grams, .. } => weight(*grams),
        Amount::Each {
            count,
            grams,
            measure,
        } => {
            format!(
                "{} of {}",
                joined(decimal(*count), "", measure),
                weight(*grams)
            )
        }
        Amount::Share(share) if *share == 1.0 => "all".to_string(),
        Amount::Share(share) if *share == 0.5 => "half".to_string(),
        Amount::Share(share) => format!("{} %", decimal(share * 100.0)),
        Amount::Uncounted(word) => name(word),
        Amount::Between { low, high } => match (low.as_ref(), high.as_ref()) {
            (Amount::Mass(low), Amount::Mass(high)) => {
                format!("{} to {}", decimal(*low), decimal(*high))
            }
            (low, high) => format!("{} to {}", words(low), words(high)),
        },
        Amount::Sum(parts) => parts.iter().map(words).collect::<Vec<_>>().join(" + "),
    }
}

fn weight(in_grams: f64) -> String {
    Mass::from_grams(in_grams).map_or_else(|| format!("{} g", decimal(in_grams)), grams)
}

fn joined(count: String, unit: &str, words: &[String]) -> String {
    let mut said = count;
    for word in std::iter::once(unit).chain(words.iter().map(String::as_str)) {
        if !word.is_empty() {
            said.push(' ');
            said.push_str(word);
        }
    }
    name(&said)
}

fn volume_unit(unit: VolumeUnit, count: f64) -> &'static str {
    match unit {
        VolumeUnit::Cup if count > 1.0 => "cups",
        VolumeUnit::Pint if count > 1.0 => "pints",
        VolumeUnit::Quart if count > 1.0 => "quarts",
        VolumeUnit::Gallon if count > 1.0 => "gallons",
        _ => volume::word(unit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_read_as_they_were_said() {
        let words_of = |list: &[&str]| list.iter().map(ToString::to_string).collect::<Vec<_>>();
        for (amount, said) in [
            (Amount::Bare(2.0), "2"),
            (Amount::Mass(140.0), "140 g"),
            (
                Amount::Volume {
                    count: 1.5,
                    unit: VolumeUnit::Cup,
                    qualifiers: words_of(&["sliced"]),
                },
                "1.5 cups sliced",
            ),
            (
                Amount::Pieces {
                    count: 2.0,
                    measure: words_of(&["medium"]),
                },
                "2 medium",
            ),
            (
                Amount::Each {
                    count: 2.0,
                    grams: 400.0,
                    measure: words_of(&["cans"]),
                },
                "2 cans of 400 g",
            ),
            (Amount::Share(0.5), "half"),
            (Amount::Share(0.25), "25 %"),
            (
                Amount::Between {
                    low: Box::new(Amount::Bare(40.0)),
                    high: Box::new(Amount::Bare(50.0)),
                },
                "40 to 50",
            ),
        ] {
            assert_eq!(words(&amount), said);
        }
    }
}
