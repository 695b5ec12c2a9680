//! What people choose for themselves, as text.

use std::fmt::{self, Display, Formatter};

use super::Plain;
use crate::lang::syntax::{Aim, Aimed, Deleted, Personal, Stretch, Week};

impl Display for Personal {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Target(aims) => {
                write!(f, "target {}", self::aims(aims))
            }
            Self::NoTarget(of) if of.is_empty() => f.write_str("no target"),
            Self::NoTarget(of) => write!(f, "no {} target", names(of)),
            Self::Targets => f.write_str("my targets"),
            Self::Left(of) if of.is_empty() => f.write_str("what do I still have today"),
            Self::Left(of) => write!(f, "how much {} is left for me today", names(of)),
            Self::TargetsOf(who) => write!(f, "{who}'s targets"),
            Self::Week { days, who: None } => f.write_str(match days {
                Week::Seven => "my week",
                Week::This => "this week so far",
                Week::Last => "my last week",
            }),
            Self::Week {
                days,
                who: Some(who),
            } => {
                let days = match days {
                    Week::Seven => "in the last 7 days",
                    Week::This => "this week",
                    Week::Last => "last week",
                };
                write!(f, "what did {who} have {days}")
            }
            Self::Sources { of, over } => {
                write!(f, "where did my {} come from", of.name())?;
                match over {
                    Stretch::Days(Week::Seven) => Ok(()),
                    Stretch::Days(Week::This) => f.write_str(" this week"),
                    Stretch::Days(Week::Last) => f.write_str(" last week"),
                    Stretch::Day(day) => write!(f, " {day}"),
                }
            }
            Self::Numbers(false) => f.write_str("no numbers for me"),
            Self::Numbers(true) => f.write_str("numbers on for me"),
            Self::Totals { private: true } => f.write_str("my totals in private"),
            Self::Totals { private: false } => f.write_str("my totals here"),
            Self::Delete { whom, for_good } => {
                match whom {
                    Deleted::Me => f.write_str("delete me")?,
                    Deleted::Person(who) => write!(f, "delete {who}")?,
                    Deleted::Household => f.write_str("delete this household")?,
                    Deleted::Unsaid => f.write_str("delete everything")?,
                }
                f.write_str(if *for_good { " for good" } else { "" })
            }
        }
    }
}

fn names(of: &[Aimed]) -> String {
    let names: Vec<&str> = of.iter().map(|of| of.name()).collect();
    names.join(" and ")
}

pub(super) fn aims(aims: &[Aim]) -> String {
    let aims: Vec<String> = aims.iter().map(aim).collect();
    aims.join(", ")
}

/// "120 to 140 g protein"
fn aim(aim: &Aim) -> String {
    let figures = match (aim.least, aim.most) {
        (Some(least), Some(most)) if least == most => Plain(least).to_string(),
        (Some(least), Some(most)) => format!("{} to {}", Plain(least), Plain(most)),
        (Some(least), None) => format!("at least {}", Plain(least)),
        (None, Some(most)) => format!("at most {}", Plain(most)),
        (None, None) => String::new(),
    };
    match aim.of {
        None => figures,
        Some(Aimed::Energy) => format!("{figures} kcal"),
        Some(of) => format!("{figures} g {}", of.name()),
    }
}
