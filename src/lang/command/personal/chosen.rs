//! Whether somebody is told numbers, and where: "no numbers for me", "my totals in private".

use super::{is_phrase, whole};
use crate::lang::syntax::{Command, Personal};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if input.slice.iter().any(|token| token.is('?')) {
        return input.no();
    }
    let parts = [
        ("numbers off", Personal::Numbers(false)),
        ("numbers on", Personal::Numbers(true)),
        ("totals private", Personal::Totals { private: true }),
        ("totals here", Personal::Totals { private: false }),
    ];
    whole(input, |body| {
        let found = parts.iter().find(|(part, _)| is_phrase(part, body));
        found.map(|(_, said)| said.clone())
    })
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::{Command, Vocabulary};

    #[test]
    fn choices_in_many_spellings() {
        for (text, printed) in [
            ("no numbers for me", "no numbers for me"),
            ("No numbers for me, please", "no numbers for me"),
            ("don't show me calories", "no numbers for me"),
            ("numbers on", "numbers on for me"),
            ("show me the numbers again", "numbers on for me"),
            ("my totals in private", "my totals in private"),
            ("keep my totals private", "my totals in private"),
            ("my totals here", "my totals here"),
        ] {
            surely_means(text, &Vocabulary::new(), printed);
        }
        means("no numbers", &Vocabulary::new(), "no numbers for me");
    }

    #[test]
    fn talk_of_numbers_chooses_nothing() {
        for text in [
            "no numbers",
            "numbers back",
            "the numbers on the door fell off",
            "my totals don't add up",
            "are my totals private?",
            "show me the numbers for March",
        ] {
            is_no(text, &Vocabulary::new(), |command| {
                matches!(command, Command::Personal(_))
            });
        }
    }
}
