//! In what numbers are told: the unit of energy, and the mark before decimals. A household chooses them for all that it is
//! told, so they hold for as long as a message is put into words, and no sentence has to hand them on to the next.

use std::cell::Cell;

use crate::domain::kitchen::Settings;
use crate::foods::KJ_PER_KCAL;
use crate::lang::syntax::{DecimalMark, EnergyUnit};

#[derive(Clone, Copy)]
struct Style {
    energy: EnergyUnit,
    decimals: DecimalMark,
}

const USUAL: Style = Style {
    energy: EnergyUnit::Kcal,
    decimals: DecimalMark::Point,
};

thread_local! {
    static STYLE: Cell<Style> = const { Cell::new(USUAL) };
}

/// Puts back what held before, also when a fault cuts the wording short.
struct Until(Style);

impl Drop for Until {
    fn drop(&mut self) {
        STYLE.set(self.0);
    }
}

/// What is worded within is told as the household wishes.
pub fn told_in<T>(settings: &Settings, word: impl FnOnce() -> T) -> T {
    let (energy, decimals) = (settings.energy, settings.decimals);
    let _until = Until(STYLE.replace(Style { energy, decimals }));
    word()
}

/// "512 kcal", "2142 kJ".
pub fn energy(kcal: f64) -> String {
    format!("{} {}", energy_figure(kcal), unit())
}

/// The same without its unit.
pub fn energy_figure(kcal: f64) -> String {
    let amount = match STYLE.get().energy {
        EnergyUnit::Kcal => kcal,
        EnergyUnit::Kilojoule => kcal * KJ_PER_KCAL,
    };
    // Adding zero turns a negative zero into a plain one.
    format!("{:.0}", amount.round() + 0.0)
}

pub fn unit() -> &'static str {
    unit_name(STYLE.get().energy)
}

pub fn unit_name(unit: EnergyUnit) -> &'static str {
    match unit {
        EnergyUnit::Kcal => "kcal",
        EnergyUnit::Kilojoule => "kJ",
    }
}

/// A number in figures with the mark that is wished for: "1.5", "1,5".
pub fn marked(figures: String) -> String {
    match STYLE.get().decimals {
        DecimalMark::Point => figures,
        DecimalMark::Comma => figures.replace('.', ","),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settings(energy: EnergyUnit, decimals: DecimalMark) -> Settings {
        Settings {
            energy,
            decimals,
            ..Settings::of_zone(chrono_tz::Europe::Dublin)
        }
    }

    /// 1 kcal is 4.184 kJ (the thermochemical calorie; Regulation (EU) No 1169/2011, Annex XIV reckons 1 g of fat as
    /// 9 kcal and 37 kJ, which is the same to the digits that it gives).
    #[test]
    fn energy_and_decimals_are_told_as_is_wished_and_no_longer() {
        let wished = settings(EnergyUnit::Kilojoule, DecimalMark::Comma);
        told_in(&wished, || {
            assert_eq!(energy(1000.0), "4184 kJ");
            assert_eq!(energy(2000.0 / 4.184), "2000 kJ");
            assert_eq!(marked("1.5".into()), "1,5");
            let plain = settings(EnergyUnit::Kcal, DecimalMark::Point);
            assert_eq!(told_in(&plain, || energy(1000.0)), "1000 kcal");
            assert_eq!(energy(9.0), "38 kJ");
        });
        assert_eq!(energy(1000.0), "1000 kcal");
    }

    #[test]
    fn a_fault_leaves_nothing_behind() {
        let wished = settings(EnergyUnit::Kilojoule, DecimalMark::Comma);
        let broke = std::panic::catch_unwind(|| told_in(&wished, || panic!("as if")));
        assert!(broke.is_err());
        assert_eq!(energy(1000.0), "1000 kcal");
    }
}
