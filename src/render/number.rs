//! Numbers as they are shown. Only here is anything rounded.
//!
//! Masses and nutrients are whole from 10 up and have one decimal below; energy and sodium are whole.
//! "~" marks an estimate, "at least" a sum of which something is unknown.

use crate::domain::answer::PiecesView;
use crate::domain::mass::Mass;
use crate::domain::nutrients::{Sum, Totals};
use crate::domain::personal::target::salt;
use crate::foods::Nutrient;

use super::clean::name;
use super::page::{Line, joined};
use super::told_in::{self, marked};

/// What every answer shows after the energy.
const SHOWN: [(Nutrient, &str); 5] = [
    (Nutrient::Protein, "protein"),
    (Nutrient::Fat, "fat"),
    (Nutrient::Carbohydrate, "carbs"),
    (Nutrient::Fibre, "fibre"),
    (Nutrient::Sodium, "sodium"),
];

/// "140 g", "5.5 g"; what is too light for a decimal of a gram is told in milligrams.
pub fn grams(mass: Mass) -> String {
    if !mass.is_zero() && mass.abs().mg() < 50 {
        return format!("{} mg", mass.mg());
    }
    format!("{} g", figure(mass.grams()))
}

/// As [`grams`], with "~" for an estimate.
pub fn about_grams(mass: Mass, estimated: bool) -> String {
    format!("{}{}", tilde(estimated), grams(mass))
}

/// What is left of something, in words for the end of it. An estimate may have run below nothing.
pub fn left(mass: Mass, estimated: bool) -> String {
    match (mass.mg() > 0, estimated) {
        (true, _) => about_grams(mass, estimated),
        (false, true) => "~0 g".to_string(),
        (false, false) => "none".to_string(),
    }
}

/// "9 pieces", "1 slice", "about 4 boxes": what is a piece and a bit was not taken by the piece.
pub fn pieces(pieces: &PiecesView) -> String {
    let whole = pieces.count.round();
    let about = if (pieces.count - whole).abs() > PIECE_SLACK {
        "about "
    } else {
        ""
    };
    let word = pieces.word.as_deref().map_or("piece".to_string(), name);
    let words = if whole == 1.0 { word } else { plural(&word) };
    format!("{about}{whole:.0} {words}")
}

/// So far from whole is still by the piece: pieces differ in weight.
const PIECE_SLACK: f64 = 0.1;

/// A counted word for more than one.
pub fn plural(word: &str) -> String {
    let hissing = ["s", "x", "ch", "sh"].iter().any(|end| word.ends_with(end));
    match word.strip_suffix('y') {
        Some(stem) if !stem.ends_with(['a', 'e', 'i', 'o', 'u']) => format!("{stem}ies"),
        _ if word.ends_with("loaf") => format!("{}ves", &word[..word.len() - 1]),
        _ if hissing => format!("{word}es"),
        _ => format!("{word}s"),
    }
}

/// Whole from 10 up, one decimal below.
pub fn figure(amount: f64) -> String {
    let tenths = (amount * 10.0).round() / 10.0;
    if tenths.abs() >= 10.0 || tenths.fract() == 0.0 {
        // Adding zero turns a negative zero into a plain one.
        format!("{:.0}", amount.round() + 0.0)
    } else {
        marked(format!("{tenths:.1}"))
    }
}

/// Two decimals at most, for yields and counts: "1.77", "2.5", "3".
pub fn decimal(amount: f64) -> String {
    let text = format!("{:.2}", (amount * 100.0).round() / 100.0 + 0.0);
    marked(text.trim_end_matches('0').trim_end_matches('.').to_string())
}

/// "512 kcal", "~512 kcal", "at least 512 kcal", "energy unknown".
pub fn energy(sum: Sum, estimated: bool) -> String {
    match sum.amount {
        Some(kcal) => format!("{}{}", at_least(sum), kcal_text(kcal, estimated)),
        None => "energy unknown".to_string(),
    }
}

/// "protein 12 g", "protein at least ~9.1 g", "sodium 480 mg", "fibre unknown".
pub fn nutrient(nutrient: Nutrient, label: &str, sum: Sum, estimated: bool) -> String {
    counted(nutrient.unit(), label, sum, estimated)
}

fn counted(unit: &str, label: &str, sum: Sum, estimated: bool) -> String {
    match sum.amount {
        Some(amount) => format!(
            "{label} {}{}{}",
            at_least(sum),
            // Nothing of it is no estimate.
            tilde(estimated && amount > 0.0),
            amount_text(unit, amount)
        ),
        None => format!("{label} unknown"),
    }
}

/// The energy (bold) and what every answer shows beside it, after a lead such as "Per 100 g".
pub fn figures(lead: &str, totals: &Totals, estimated: bool) -> Line {
    let shown = SHOWN.map(|(nutrient, label)| (nutrient.unit(), label, totals.get(nutrient)));
    told(lead, totals, shown, estimated)
}

/// The same of a day or more, with salt in the place of sodium.
pub fn day_figures(lead: &str, totals: &Totals, estimated: bool) -> Line {
    let shown = SHOWN.map(|(nutrient, label)| match nutrient {
        Nutrient::Sodium => ("g", "salt", salt(totals)),
        _ => (nutrient.unit(), label, totals.get(nutrient)),
    });
    told(lead, totals, shown, estimated)
}

fn told(
    lead: &str,
    totals: &Totals,
    shown: [(&str, &str, Sum); SHOWN.len()],
    estimated: bool,
) -> Line {
    let energy_sum = totals.get(Nutrient::EnergyKcal);
    if energy_sum.amount.is_none() && shown.iter().all(|(_, _, sum)| sum.amount.is_none()) {
        return Line::new()
            .plain(after_lead(lead, ": "))
            .plain("nutrients unknown");
    }
    // An ingredient of which nothing is known makes every sum a lower bound: that is said once.
    let all_at_least = energy_sum.at_least && shown.iter().all(|(_, _, sum)| sum.at_least);
    let once = |sum: Sum| Sum {
        at_least: sum.at_least && !all_at_least,
        ..sum
    };
    let mut line = Line::new().plain(after_lead(lead, if all_at_least { ", " } else { ": " }));
    if all_at_least {
        line = line.plain(if lead.is_empty() {
            "At least: "
        } else {
            "at least: "
        });
    }
    line = line.bold(energy(once(energy_sum), estimated));
    for (unit, label, sum) in shown {
        let phrase = counted(unit, label, once(sum), estimated);
        line = line.plain(format!(", {}", joined(&phrase)));
    }
    line
}

/// "215 kcal, protein 9.1 g": a line's share of a plate.
pub fn short_figures(totals: &Totals, estimated: bool, with_protein: bool) -> String {
    let (energy_sum, protein) = (
        totals.get(Nutrient::EnergyKcal),
        totals.get(Nutrient::Protein),
    );
    match (energy_sum.amount, protein.amount) {
        (None, None) => "nutrients unknown".to_string(),
        _ if with_protein => format!(
            "{}, {}",
            energy(energy_sum, estimated),
            joined(&nutrient(Nutrient::Protein, "protein", protein, estimated))
        ),
        _ => energy(energy_sum, estimated),
    }
}

fn after_lead(lead: &str, separator: &str) -> String {
    if lead.is_empty() {
        String::new()
    } else {
        format!("{lead}{separator}")
    }
}

fn amount_text(unit: &str, amount: f64) -> String {
    match unit {
        "g" => format!("{} g", figure(amount)),
        unit => format!("{:.0} {unit}", amount.round() + 0.0),
    }
}

fn kcal_text(kcal: f64, estimated: bool) -> String {
    let tilde = tilde(estimated && kcal > 0.0);
    format!("{tilde}{}", told_in::energy(kcal))
}

fn at_least(sum: Sum) -> &'static str {
    if sum.at_least { "at least " } else { "" }
}

fn tilde(estimated: bool) -> &'static str {
    if estimated { "~" } else { "" }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foods::Profile;

    #[test]
    fn masses_are_whole_from_ten_grams_up() {
        for (mg, shown) in [
            (140_000, "140 g"),
            (10_400, "10 g"),
            (10_500, "11 g"),
            (9_960, "10 g"),
            (9_940, "9.9 g"),
            (5_000, "5 g"),
            (5_450, "5.5 g"),
            (50, "0.1 g"),
            (49, "49 mg"),
            (0, "0 g"),
            (-12_300, "-12 g"),
            (-4_500, "-4.5 g"),
            (99_999_600, "100000 g"),
        ] {
            assert_eq!(grams(Mass::from_mg(mg)), shown, "{mg}");
        }
    }

    #[test]
    fn halves_go_away_from_zero_and_no_zero_is_negative() {
        assert_eq!(figure(12.5), "13");
        assert_eq!(figure(2.25), "2.3");
        assert_eq!(figure(-0.01), "0");
        assert_eq!(decimal(-0.001), "0");
        assert_eq!(decimal(1.766), "1.77");
        assert_eq!(decimal(2.50), "2.5");
        assert_eq!(decimal(120.0), "120");
    }

    #[test]
    fn sums_tell_what_they_do_not_know() {
        let known = |amount| Sum {
            amount: Some(amount),
            at_least: false,
        };
        let partial = |amount| Sum {
            amount: Some(amount),
            at_least: true,
        };
        let unknown = Sum {
            amount: None,
            at_least: true,
        };
        assert_eq!(energy(known(512.4), false), "512 kcal");
        assert_eq!(energy(partial(512.5), true), "at least ~513 kcal");
        assert_eq!(energy(unknown, true), "energy unknown");
        let fibre = |sum, estimated| nutrient(Nutrient::Fibre, "fibre", sum, estimated);
        assert_eq!(fibre(partial(12.3), false), "fibre at least 12 g");
        assert_eq!(fibre(known(0.0), false), "fibre 0 g");
        assert_eq!(fibre(unknown, false), "fibre unknown");
        assert_eq!(
            nutrient(Nutrient::Sodium, "sodium", known(3.6), true),
            "sodium ~4 mg"
        );
    }

    #[test]
    fn nothing_known_is_said_in_two_words() {
        let mut page = super::super::page::Page::new();
        page.say(figures("Per 100 g", &Totals::unknown(), true));
        assert_eq!(page.text, "Per 100 g: nutrients unknown");
        assert_eq!(
            short_figures(&Totals::unknown(), false, true),
            "nutrients unknown"
        );
    }

    #[test]
    fn a_lower_bound_of_everything_is_said_once() {
        let mut profile = Profile::default();
        for kind in Nutrient::ALL {
            profile.set(kind, Some(10.0));
        }
        let mut totals = Totals::of(&profile, Mass::from_mg(100_000));
        totals.add(&Totals::unknown());
        let mut page = super::super::page::Page::new();
        page.say(figures("Whole", &totals, false));
        assert_eq!(page.text.matches("at least").count(), 1, "{}", page.text);
        assert!(
            page.text
                .starts_with("Whole, at least: 10 kcal, protein 10 g"),
            "{}",
            page.text
        );
    }
}
