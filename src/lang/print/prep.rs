//! What is told ahead of cooking, as text.

use std::fmt::{self, Display, Formatter};

use super::Plain;
use crate::lang::syntax::{GoodTold, Limit, Prep};

impl Display for Prep {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Good { name, told } => match told {
                GoodTold::Trimmed { bought, trimmed } => {
                    let (bought, trimmed) = (Plain(*bought), Plain(*trimmed));
                    write!(f, "{name} {bought} g, trimmed {trimmed} g")
                }
                GoodTold::Pack { grams, word } => {
                    write!(f, "{name} come in {} g {word}", Plain(*grams))
                }
                GoodTold::Price {
                    hundredths,
                    currency,
                    grams,
                } => {
                    let money = super::lots::money(*hundredths, currency);
                    write!(f, "{name} cost {money} for {} g", Plain(*grams))
                }
                GoodTold::InCupboard(grams) => {
                    write!(f, "we have {} g {name} in the cupboard", Plain(*grams))
                }
                GoodTold::Always => write!(f, "always have {name}"),
                GoodTold::Out => write!(f, "out of {name}"),
            },
            Self::Par {
                dish,
                grams: Some(grams),
            } => write!(f, "keep {} g {dish} ready", Plain(*grams)),
            Self::Par { dish, grams: None } => write!(f, "no par for {dish}"),
            Self::PotHolds { dish, grams } => {
                if let Some(dish) = dish {
                    write!(f, "{dish} ")?;
                }
                write!(f, "pot holds {} g", Plain(*grams))
            }
            Self::Limit { what, count } => match (what, count) {
                (Limit::PotsADay, Some(count)) => write!(f, "at most {count} pots a day"),
                (Limit::PotsADay, None) => f.write_str("no limit on pots a day"),
                (what, Some(count)) => write!(f, "we have {count} {}", what.word()),
                (what, None) => write!(f, "no limit on {}", what.word()),
            },
        }
    }
}
