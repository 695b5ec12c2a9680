//! A packet's label, for a food that the table lacks.
//!
//! ```text
//! packet := "packet" name [basis] [":"] value { sep value }
//! basis  := "per" mass | "per" ("serving" | one of them) ["of"] ["(" mass ")"] | "serving" ["size"] mass
//!         | "1" one of them "=" mass
//! value  := number [unit] field | field [":"] number [unit] ["/" number unit]
//! ```
//! Energy may come in kJ and kcal both; sodium is kept in mg, all else in g.

mod size;

use nom::Parser;
use nom::combinator::opt;

use crate::lang::amount::{Stands, amount};
use crate::lang::command::key_phrase;
use crate::lang::name;
use crate::lang::number::digits;
use crate::lang::syntax::{Amount, Command, ErrorKind, LabelBasis, LabelField, Packet, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::words::{label_fields, label_short};

use size::{bracketed, measured_one, of_one, one_of_them, servings_told, sizes, two_energies};

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
            name: as_typed(name),
            basis: reader.basis.unwrap_or(LabelBasis::ServingUnsized),
            values: reader.values,
            us_label,
        }),
    ))
}

/// The name with every mark in it: a packet is looked for by what is printed on it.
fn as_typed(name: Tokens<'_>) -> Words {
    const MARKUP: [char; 5] = ['*', '_', '`', '~', '"'];
    let mut span = name.span();
    let (before, after) = (&name.text[..span.start], &name.text[span.end..]);
    span.start = before.trim_end_matches(MARKUP).len();
    span.end += after.len() - after.trim_start_matches(MARKUP).len();
    let text = name.text.get(span.clone()).unwrap_or_default();
    Words::new(text.split_whitespace().collect::<Vec<_>>().join(" "), span)
}

/// The name ends where a basis or the first figure begins; a number or a mark that opens neither belongs to it
/// ("7 grain bread", "tofu, firm").
fn name_end(input: Tokens<'_>) -> usize {
    (1..input.len())
        .find(|&at| match input.slice[at].kind {
            Kind::Newline | Kind::Symbol(':' | '=') => true,
            Kind::Symbol(',' | ';' | '/' | '(' | '-') => begins_figures(input.after(at + 1)),
            _ => begins_figures(input.after(at)),
        })
        .unwrap_or(input.len())
}

/// A basis, a figure with its unit or field, or a field with its figure.
fn begins_figures(input: Tokens<'_>) -> bool {
    if input.norm(0) == "per" || sizes(input) > 0 {
        return true;
    }
    if let Some((length, _)) = field(input) {
        let rest = input.after(length).without_lead();
        return rest.first().is_some_and(is_figure);
    }
    if one_of_them(input).is_some() {
        return true;
    }
    figure(input).map_or_else(
        |error| matches!(error, nom::Err::Failure(_)),
        |(rest, _, unit)| unit.is_some() || field(rest).is_some(),
    )
}

/// The field of a label that a key of the words stands for.
fn field_of(key: &str) -> Option<LabelField> {
    Some(match key {
        "kcal" | "energy" => LabelField::EnergyKcal,
        "kj" => LabelField::EnergyKj,
        "protein" => LabelField::Protein,
        "fat" => LabelField::Fat,
        "saturates" => LabelField::SaturatedFat,
        "carbohydrate" | "total carbohydrate" => LabelField::Carbohydrate,
        "sugars" => LabelField::Sugars,
        "fibre" | "dietary fiber" => LabelField::Fibre,
        "sodium" => LabelField::Sodium,
        "salt" => LabelField::Salt,
        "alcohol" => LabelField::Alcohol,
        _ => return None,
    })
}

/// A nutrient at the front, by its words or its letter.
fn field(input: Tokens<'_>) -> Option<(usize, &'static str)> {
    let words = label_fields().longest(input.slice);
    words.or_else(|| label_short().longest(input.slice))
}

fn is_figure(token: &Token) -> bool {
    matches!(token.kind, Kind::Number(_) | Kind::Unreadable)
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
        if let Some(rest) = servings_told(input) {
            return Ok(rest);
        }
        if let Some(rest) = self.energies(input)? {
            return Ok(rest);
        }
        if let Some(rest) = self.basis(input).or_else(|| self.one_weighs(input)) {
            return Ok(rest);
        }
        if let Some((length, key)) = field(input) {
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
        let sized = sizes(input);
        let size = sized > 0;
        if !per && !size {
            return None;
        }
        let mut rest = input.after(if size { sized } else { 1 });
        let serving = size
            || matches!(
                rest.norm(0),
                "serving" | "portion" | "serve" | "slice" | "piece" | "bar" | "biscuit"
            );
        if !size && serving {
            rest = rest.after(1);
        } else if !size && let Some((after, said)) = measured_one(rest) {
            self.basis.get_or_insert(LabelBasis::Per(said));
            return Some(after);
        } else if !size {
            rest = of_one(rest);
        }
        rest = rest.without_lead();
        let (rest, _) = opt(word(&["of", "size", "about", "is"])).parse(rest).ok()?;
        let (rest, _) = opt(symbol(':')).parse(rest).ok()?;
        let (after, _) = opt(symbol('(')).parse(rest).ok()?;
        let sized = match bracketed(rest) {
            Some(sized) => Some(sized),
            None => match amount(after, Stands::AfterName) {
                Ok((
                    after,
                    said @ (Amount::Mass(_) | Amount::Volume { .. } | Amount::Weighed { .. }),
                )) => {
                    let (after, _) = opt(symbol(')')).parse(after).ok()?;
                    Some((after, said))
                }
                _ => None,
            },
        };
        if sized.is_none() && !serving {
            return None;
        }
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

    /// "1 bar = 40 g": what one of them weighs.
    fn one_weighs<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let (rest, said) = one_of_them(input)?;
        self.basis = Some(LabelBasis::Per(said));
        Some(rest)
    }

    /// "1050/251 kJ/kcal", "(kJ/kcal) 1050 / 251": both, in the order of their units.
    fn energies<'a>(
        &mut self,
        input: Tokens<'a>,
    ) -> Result<Option<Tokens<'a>>, nom::Err<crate::lang::syntax::Error>> {
        let named = usize::from(label_fields().longest(input.slice) == Some((1, "energy")));
        let rest = input.after(named).without_lead();
        let Some((rest, figures)) = two_energies(rest) else {
            return Ok(None);
        };
        for (key, value) in figures {
            self.put(input, key, value, Some(key))?;
        }
        self.eu = true;
        Ok(Some(rest))
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
        match field(after) {
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
    // "1.850 kJ" groups its thousands.
    let grouped = number.other.filter(|_| matches!(unit, Some("kj" | "kcal")));
    Ok((rest, grouped.unwrap_or(number.value), unit))
}
