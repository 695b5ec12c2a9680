//! What people cannot have or leave out, as text.

use std::fmt::{self, Display, Formatter};

use crate::lang::syntax::{Avoid, Eats, Sought, Words};

impl Display for Avoid {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let is = |who: &Eats| match who {
            Eats::Me => "I am".to_owned(),
            Eats::Named(name) => format!("{name} is"),
        };
        match self {
            Self::Tells {
                who,
                what,
                cannot: true,
            } => write!(f, "{} allergic to {}", is(who), listed(what)),
            Self::Tells { who, what, .. } => match who {
                Eats::Me => write!(f, "I don't eat {}", listed(what)),
                Eats::Named(name) => write!(f, "{name} doesn't eat {}", listed(what)),
            },
            Self::Drops { who, what } if what.is_empty() => {
                write!(f, "{} not allergic to anything any more", is(who))
            }
            Self::Drops { who, what } => {
                write!(f, "{} not allergic to {} any more", is(who), listed(what))
            }
            Self::Asks { who: None } => f.write_str("who is allergic to what"),
            Self::Asks {
                who: Some(Eats::Me),
            } => f.write_str("what am I allergic to"),
            Self::Asks {
                who: Some(Eats::Named(name)),
            } => write!(f, "what is {name} allergic to"),
            Self::MayEat { who, dish } => {
                let who = match who {
                    Eats::Me => "I".to_owned(),
                    Eats::Named(name) => name.to_string(),
                };
                write!(f, "can {who} eat {dish}")
            }
            Self::Contents {
                name,
                things,
                whole: false,
            } => write!(f, "{name} contains {}", listed(things)),
            Self::Contents { name, things, .. } => {
                write!(f, "ingredients of {name}: {}", listed(things))
            }
            Self::InDish { dish, what: None } => write!(f, "allergens in {dish}"),
            Self::InDish {
                dish,
                what: Some(what),
            } => write!(f, "does {dish} contain {what}"),
            Self::InStock {
                by: Sought::What(what),
            } => write!(f, "which dishes contain {what}"),
            Self::InStock {
                by: Sought::Person(who),
            } => {
                let who = match who {
                    Eats::Me => "I".to_owned(),
                    Eats::Named(name) => name.to_string(),
                };
                write!(f, "is there anything {who} can't eat")
            }
        }
    }
}

fn listed(what: &[Words]) -> String {
    let names: Vec<String> = what.iter().map(ToString::to_string).collect();
    names.join(", ")
}
