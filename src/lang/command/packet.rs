//! A packet's label, for a food that the table lacks.
//!
//! ```text
//! packet := "packet" name [basis] [":"] value { sep value }
//! basis  := "per" mass | "per serving" ["of"] ["(" mass ")"] | "serving size" mass
//! value  := number [unit] field | field [":"] number [unit] ["/" number unit]
//! ```
//! Energy may come in kJ and kcal both; sodium is kept in mg, all else in g.

use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::command::fact::field_of;
use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::number::digits;
use crate::lang::syntax::{Amount, Command, ErrorKind, LabelBasis, LabelField, Packet};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::words::label_fields;

const FORM: &str = "packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb";

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, ()) = key_phrase("packet", input)?;
    let rest = rest.without_lead();
    let end = name_end(rest);
    let name = name::bare(rest.range(0, end));
    let figures = rest.after(end);
    if name.is_empty() || name.len() > 10 {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let mut reader = Figures::default();
    let mut rest = figures;
    while !rest.is_empty() {
        rest = reader.step(rest)?;
    }
    if reader.values.is_empty() {
        // "packet arrived today": only figures make a label.
        return if figures.has_number() {
            figures.fail(ErrorKind::MissingFigures)
        } else {
            input.no()
        };
    }
    let us_label = match (reader.us, reader.eu) {
        (true, false) => Some(true),
        (false, true) => Some(false),
        _ => None,
    };
    Ok((
        rest,
        Command::Packet(Packet {
            name: name.words(),
            basis: reader.basis.unwrap_or(LabelBasis::ServingUnsized),
            values: reader.values,
            us_label,
        }),
    ))
}

/// The name ends where a basis, a figure or a separator begins.
fn name_end(input: Tokens<'_>) -> usize {
    (1..input.len())
        .find(|&at| {
            let token = &input.slice[at];
            matches!(
                token.kind,
                Kind::Newline | Kind::Symbol(':' | ',' | ';' | '/' | '(' | '=')
            ) || matches!(token.kind, Kind::Number(_) | Kind::Unreadable)
                || token.norm() == "per"
                || (token.norm() == "serving" && input.norm(at + 1) == "size")
        })
        .unwrap_or(input.len())
}

#[derive(Default)]
struct Figures {
    basis: Option<LabelBasis>,
    values: Vec<(LabelField, f64)>,
    us: bool,
    eu: bool,
}

type Step<'a> = Result<Tokens<'a>, nom::Err<crate::lang::syntax::Error>>;

impl Figures {
    fn step<'a>(&mut self, input: Tokens<'a>) -> Step<'a> {
        if let Some(rest) = self.basis(input) {
            return Ok(rest);
        }
        if let Some((length, key)) = label_fields().longest(input.slice) {
            return self.field_first(input, length, key);
        }
        match input.slice[0].kind {
            Kind::Number(_) | Kind::Unreadable => self.number_first(input),
            _ => Ok(input.after(1)),
        }
    }

    /// "per 100 g", "per serving (30 g)", "serving size 30 g"
    fn basis<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let per = input.norm(0) == "per" || input.slice[0].is('/');
        let size =
            matches!(input.norm(0), "serving" | "portion") && matches!(input.norm(1), "size");
        if !per && !size {
            return None;
        }
        let mut rest = input.after(1 + usize::from(size));
        let serving = size
            || matches!(
                rest.norm(0),
                "serving" | "portion" | "serve" | "slice" | "piece" | "bar" | "biscuit"
            );
        if !size && serving {
            rest = rest.after(1);
        }
        rest = rest.without_lead();
        let (rest, _) = opt(word(&["of", "size", "about", "is"])).parse(rest).ok()?;
        let (rest, _) = opt(symbol(':')).parse(rest).ok()?;
        let (after, open) = opt(symbol('(')).parse(rest).ok()?;
        let sized = match amount(after, Stands::AfterName) {
            Ok((
                after,
                said @ (Amount::Mass(_) | Amount::Volume { .. } | Amount::Weighed { .. }),
            )) => {
                let (after, _) = opt(symbol(')')).parse(after).ok()?;
                Some((after, said))
            }
            _ => None,
        };
        if sized.is_none() && !serving {
            return None;
        }
        let _ = open;
        let known = matches!(self.basis, Some(LabelBasis::Per(_)));
        match sized {
            Some((after, said)) => {
                if !known {
                    self.basis = Some(LabelBasis::Per(said));
                }
                Some(after)
            }
            None => {
                self.basis.get_or_insert(LabelBasis::ServingUnsized);
                Some(rest)
            }
        }
    }

    /// "Total Fat 3g", "energy 832 kJ / 199 kcal"
    fn field_first<'a>(&mut self, input: Tokens<'a>, length: usize, key: &str) -> Step<'a> {
        self.note_region(input, key);
        let mut rest = input.after(length);
        while rest.first().is_some_and(|token| {
            matches!(token.kind, Kind::Symbol(':' | '=' | '-' | '<' | '(' | '>'))
        }) {
            rest = rest.after(1);
        }
        if !matches!(
            rest.first().map(|token| &token.kind),
            Some(Kind::Number(_) | Kind::Unreadable)
        ) {
            return Ok(rest);
        }
        let (after, value, unit) = figure(rest)?;
        self.put(rest, key, value, unit)?;
        Ok(after)
    }

    /// "12 g protein", "199 kcal"
    fn number_first<'a>(&mut self, input: Tokens<'a>) -> Step<'a> {
        let (after, value, unit) = figure(input)?;
        if let Some(energy @ ("kcal" | "kj")) = unit {
            if energy == "kj" {
                self.eu = true;
            }
            let (after, _) = opt(word(&["energy"])).parse(after)?;
            self.put(input, energy, value, unit)?;
            return Ok(after);
        }
        let (after, _) = opt(word(&["of"])).parse(after)?;
        match label_fields().longest(after.slice) {
            Some((length, key)) => {
                self.note_region(after, key);
                self.put(input, key, value, unit)?;
                Ok(after.after(length))
            }
            None => {
                let odd = input.range(0, 1);
                odd.fail(ErrorKind::MissingFigures).map(|(rest, ())| rest)
            }
        }
    }

    fn note_region(&mut self, input: Tokens<'_>, key: &str) {
        let said = input.norm(0);
        self.us |= matches!(key, "total carbohydrate" | "dietary fiber")
            || (said.starts_with("calorie"))
            || (key == "fat" && said == "total")
            || (key == "fibre" && said == "fiber");
        self.eu |=
            matches!(key, "kj" | "saturates") && said.starts_with("satur") && said == "saturates"
                || key == "kj"
                || (key == "sugars" && said == "of")
                || (key == "fibre" && said == "fibre")
                || key == "salt";
    }

    fn put<'a>(&mut self, at: Tokens<'a>, key: &str, value: f64, unit: Option<&str>) -> Step<'a> {
        let field = match (key, unit) {
            ("energy" | "kcal" | "kj", Some("kj")) => {
                self.eu = true;
                Some(LabelField::EnergyKj)
            }
            ("energy", _) => Some(LabelField::EnergyKcal),
            _ => field_of(key),
        };
        let Some(field) = field else {
            return Ok(at);
        };
        let value = in_unit(field, value, unit);
        if self.values.iter().any(|(known, _)| *known == field) {
            let odd = at.range(0, 1);
            return odd
                .fail(ErrorKind::LeftOver(odd.words().text))
                .map(|(rest, ())| rest);
        }
        self.values.push((field, value));
        Ok(at)
    }
}

/// A figure in the unit of its field: mg for sodium, g for the rest.
fn in_unit(field: LabelField, value: f64, unit: Option<&str>) -> f64 {
    let scaled = match (field, unit) {
        (LabelField::Sodium, Some("g")) => value * 1000.0,
        (LabelField::Sodium | LabelField::EnergyKcal | LabelField::EnergyKj, _) => value,
        (_, Some("mg")) => value / 1000.0,
        _ => value,
    };
    (scaled * 1e6).round() / 1e6
}

/// A number and its unit: g, mg, kcal, kJ.
fn figure(
    input: Tokens<'_>,
) -> Result<(Tokens<'_>, f64, Option<&'static str>), nom::Err<crate::lang::syntax::Error>> {
    let (rest, number) = digits(input)?;
    let unit = match rest.norm(0) {
        "g" | "gr" | "grams" | "gram" | "gm" => Some("g"),
        "mg" | "milligrams" => Some("mg"),
        "kcal" | "kcals" | "cal" | "cals" | "calories" => Some("kcal"),
        "kj" => Some("kj"),
        "mcg" | "ug" | "iu" => Some("other"),
        _ => None,
    };
    let rest = if unit.is_some() { rest.after(1) } else { rest };
    Ok((rest, number.value, unit))
}
