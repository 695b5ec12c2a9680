//! What is said of shopping lists, as words of the file.

use crate::domain::prep::shop::ListTold;

pub fn kind(told: &ListTold) -> &'static str {
    match told {
        ListTold::Begun => "begun",
        ListTold::Wanted(_) => "wanted",
        ListTold::Ticked(_) => "ticked",
        ListTold::Planned { .. } => "planned",
        ListTold::Closed => "closed",
    }
}
