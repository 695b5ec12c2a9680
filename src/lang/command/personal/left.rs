//! How far it is to a target: "how much protein is left for me today", "what do I still have".

use super::{field, is_phrase, maybe, phrase, whole};
use crate::lang::syntax::{Aimed, Command, Personal};
use crate::lang::tokens::{Read, Tokens};

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |body| {
        let all = is_phrase("left", body).then(Vec::new);
        all.or_else(|| of_one(body)).map(Personal::Left)
    })
}

/// "how much protein do I have left today", "kcal left for me"
fn of_one(body: Tokens<'_>) -> Option<Vec<Aimed>> {
    let asked = phrase("how much", body);
    let (rest, of, _) = field(asked.unwrap_or(body))?;
    let (left, after) = ends(rest)?;
    // Salt and fat stand in the kitchen as well: what is left of them may be asked of the jar.
    let own = after || left.contains(" i ");
    let in_jars = matches!(of, Aimed::Salt | Aimed::Fat);
    (own || asked.is_some() && !in_jars).then(|| vec![of])
}

/// What tells that it is left, and whether it is said whose: "left for me", "do I have left today".
fn ends(rest: Tokens<'_>) -> Option<(String, bool)> {
    let after = phrase("left behind", rest)
        .or_else(|| phrase("for me", rest).and_then(|rest| phrase("left behind", rest)))?;
    let said = rest
        .range(0, rest.len() - after.len())
        .words()
        .text
        .to_lowercase();
    let own = !after.is_empty();
    let end = maybe("for me", maybe("for me", after));
    end.trimmed().is_empty().then(|| (format!(" {said} "), own))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Command, Personal, Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new().with(Sense::Batch, "lentil dal")
    }

    #[test]
    fn the_distance_in_many_spellings() {
        for text in [
            "how much protein is left for me today",
            "How much protein do I have left?",
            "how much more protein can I still eat today",
            "protein left for me today",
            "protein left today?",
        ] {
            surely_means(text, &kitchen(), "how much protein is left for me today");
        }
        for text in [
            "what do I still have",
            "What do I still have left today?",
            "how far am I from my target?",
        ] {
            surely_means(text, &kitchen(), "what do I still have today");
        }
        surely_means(
            "how many kcal have I got left",
            &kitchen(),
            "how much energy is left for me today",
        );
    }

    #[test]
    fn what_is_left_in_jars_is_another_thing() {
        for text in [
            "how much salt is left",
            "fat left",
            "how much dal is left",
            "what do we still have",
            "what's left",
            "protein left the chat",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Personal(Personal::Left(_)))
            });
        }
    }
}
