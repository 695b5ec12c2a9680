//! Words of what people choose for themselves.

use super::unreadable;
use crate::domain::personal::PersonalFact;
use crate::domain::personal::target::Target;
use crate::lang::syntax::Aimed;
use crate::store::error::Result;

/// A choice as the columns of its row.
pub struct PersonalRow {
    pub kind: String,
    pub counted: Option<String>,
    pub least: Option<f64>,
    pub most: Option<f64>,
    pub chosen: Option<bool>,
    pub words: Option<String>,
}

impl PersonalRow {
    pub fn of(fact: &PersonalFact) -> Self {
        let row = |kind: &str| Self {
            kind: kind.to_owned(),
            counted: None,
            least: None,
            most: None,
            chosen: None,
            words: None,
        };
        match fact {
            PersonalFact::Target(target) => Self {
                counted: Some(aimed_word(target.of).to_owned()),
                least: target.least,
                most: target.most,
                ..row("target")
            },
            PersonalFact::Numbers(told) => Self {
                chosen: Some(*told),
                ..row("numbers")
            },
            PersonalFact::Private(private) => Self {
                chosen: Some(*private),
                ..row("private")
            },
            PersonalFact::Name(name) => Self {
                words: Some(name.clone()),
                ..row("name")
            },
            PersonalFact::Nickname(name) => Self {
                words: Some(name.clone()),
                ..row("nickname")
            },
            PersonalFact::Keeper => Self {
                chosen: Some(true),
                ..row("keeper")
            },
            PersonalFact::Here(here) => Self {
                chosen: Some(*here),
                ..row("here")
            },
            PersonalFact::Removed => row("removed"),
            PersonalFact::Avoids(_) => unreachable!("it has a table of its own"),
        }
    }

    pub fn read(self) -> Result<PersonalFact> {
        match (self.kind.as_str(), &self.counted, self.chosen) {
            ("target", Some(of), _) => Ok(PersonalFact::Target(Target {
                of: aimed(of)?,
                least: self.least,
                most: self.most,
            })),
            ("numbers", _, Some(told)) => Ok(PersonalFact::Numbers(told)),
            ("private", _, Some(private)) => Ok(PersonalFact::Private(private)),
            ("here", _, Some(here)) => Ok(PersonalFact::Here(here)),
            ("keeper", _, Some(true)) => Ok(PersonalFact::Keeper),
            ("removed", ..) => Ok(PersonalFact::Removed),
            ("name", ..) => Ok(PersonalFact::Name(self.words.unwrap_or_default())),
            ("nickname", ..) => Ok(PersonalFact::Nickname(self.words.unwrap_or_default())),
            (kind, ..) => Err(unreadable("what a person chose", kind)),
        }
    }
}

pub fn aimed_word(of: Aimed) -> &'static str {
    match of {
        Aimed::Energy => "energy",
        Aimed::Protein => "protein",
        Aimed::Fat => "fat",
        Aimed::Carbohydrate => "carbohydrate",
        Aimed::Fibre => "fibre",
        Aimed::Salt => "salt",
    }
}

fn aimed(word: &str) -> Result<Aimed> {
    let known = Aimed::ALL.into_iter().find(|of| aimed_word(*of) == word);
    known.ok_or_else(|| unreadable("what a target is of", word))
}
