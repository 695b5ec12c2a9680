//! What is still missing of a day: "fill my day up to 2000 kcal", "what can I eat to get to 120 g protein today".
//!
//! ```text
//! day := "fill my day up to" aims | "what can I have" ("to get to" | "up to") aims "today"
//! ```
//! The phrases stand in data/finder.txt, the aims are those of a target.

use super::finder::{phrase, told, without_tail};
use crate::lang::syntax::Finder;
use crate::lang::tokens::Tokens;

pub fn of_day(said: Tokens<'_>) -> Option<Finder> {
    let aims = match phrase("fill my day", said) {
        Some(rest) => told(without_tail(rest))?,
        None => {
            let rest = phrase("reach", phrase("what", said)?)?;
            // Without a day, a plate is asked for.
            let ends =
                |at: &usize| phrase("today", rest.after(*at)).is_some_and(|it| it.is_empty());
            let at = (1..rest.len()).find(ends)?;
            told(rest.range(0, at).trimmed_end())?
        }
    };
    Some(Finder {
        aims,
        from_stock: true,
        of_day: true,
        ..Finder::default()
    })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn a_day_is_filled_in_many_words() {
        for (text, printed) in [
            ("fill my day up to 2000 kcal", "fill my day up to 2000 kcal"),
            (
                "fill up my day to 2000 calories please",
                "fill my day up to 2000 kcal",
            ),
            (
                "top my day up to 120 g protein, 2000 kcal",
                "fill my day up to 120 g protein, 2000 kcal",
            ),
            (
                "what can I eat to get to 2000 kcal today?",
                "fill my day up to 2000 kcal",
            ),
            (
                "what can I have to reach 120 protein today",
                "fill my day up to 120 g protein",
            ),
        ] {
            surely_means(text, &Vocabulary::new(), printed);
        }
        // A plate of so much, and no word of a day.
        surely_means(
            "what can I have for 600 kcal",
            &Vocabulary::new(),
            "600 kcal from what stands ready",
        );
        for text in ["fill my day with joy", "what can I do to get to 5 km today"] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(command, Command::Finder(_))
            });
        }
    }
}
