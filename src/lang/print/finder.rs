//! A plate that is looked for, as text.

use std::fmt::{self, Display, Formatter};

use super::personal::aims;
use crate::lang::syntax::{Finder, FinderLimit, FinderPart};

impl Display for Finder {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let parts: Vec<String> = self.parts.iter().map(FinderPart::to_string).collect();
        let (parts, aims) = (parts.join(" and "), aims(&self.aims));
        if self.of_day {
            return write!(f, "fill my day up to {aims}");
        }
        match (self.parts.is_empty(), self.from_stock) {
            (true, _) => write!(f, "{aims} from what stands ready"),
            (false, true) => write!(f, "{parts} for {aims} from what stands ready"),
            (false, false) => write!(f, "find {parts} for {aims}"),
        }?;
        self.limits
            .iter()
            .try_for_each(|limit| write!(f, ", {limit}"))?;
        self.who
            .as_ref()
            .map_or(Ok(()), |who| write!(f, " for {who}"))
    }
}

impl Display for FinderPart {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.amount {
            Some(amount) => write!(f, "{amount} {}", self.name),
            None => write!(f, "{}", self.name),
        }
    }
}

impl Display for FinderLimit {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.most {
            Some(most) => write!(f, "at most {most} {}", self.name),
            None => write!(f, "without {}", self.name),
        }
    }
}
