//! Who is at the table, as text.

use std::fmt::{self, Display, Formatter};

use crate::lang::syntax::{People, Words};

impl Display for People {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let me = |who: &Option<Words>| who.as_ref().map_or("me".to_owned(), ToString::to_string);
        match self {
            Self::Who => f.write_str("who is here"),
            Self::WhoKeeps => f.write_str("who is the keeper"),
            Self::Name { who, name } => write!(f, "call {} {name}", me(who)),
            Self::Introduced { name } => write!(f, "I am {name}"),
            Self::Nickname { who, name } => write!(f, "also call {} {name}", me(who)),
            Self::NoNickname { who: None, name } => {
                f.write_str("forget my nickname")?;
                name.as_ref().map_or(Ok(()), |name| write!(f, " {name}"))
            }
            Self::NoNickname {
                who: Some(who),
                name: None,
            } => write!(f, "forget {who}'s nickname"),
            Self::NoNickname {
                who: Some(who),
                name: Some(name),
            } => write!(f, "stop calling {who} {name}"),
            Self::Add { names } => match names.as_slice() {
                [only] => write!(f, "add guest {only}"),
                several => {
                    let several: Vec<String> = several.iter().map(Words::to_string).collect();
                    write!(f, "add guests {}", several.join(", "))
                }
            },
            Self::Leave { who: None } => f.write_str("I am leaving the household"),
            Self::Leave { who: Some(who) } => write!(f, "remove {who} from the household"),
            Self::Return => f.write_str("I am back at the table"),
            Self::Keep { who } => write!(f, "make {} the keeper", me(who)),
        }
    }
}
