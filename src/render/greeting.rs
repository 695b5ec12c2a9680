//! What is said outside of any kitchen work: hello, the door, apologies.

use chrono::NaiveDateTime;

/// The first words in a chat: what it is and three things to type.
pub fn greeting() -> String {
    "Hobside keeps the books of food cooked ahead, to the gram. Three things to type:\n\
     \n\
     batch barley, 500 g pearl barley, cooked 1480\n\
     140 barley, 2 tsp olive oil\n\
     what's left\n\
     \n\
     More with: help"
        .to_string()
}

/// To a chat that nobody has let in. It says nothing about any household.
pub fn stranger() -> String {
    "Sorry, Hobside answers only where its owner has let it in. With an invitation: /start CODE"
        .to_string()
}

/// The one-time code was right.
pub fn invite_accepted() -> String {
    format!(
        "Welcome. This chat is now a household of its own.\n\n{}",
        greeting()
    )
}

/// The code was wrong, used or too old; which of them is not told.
pub fn invite_wrong() -> String {
    "Sorry, that code does not open anything. A new one comes from the owner.".to_string()
}

/// `/start` in a chat that is let in already.
pub fn already_in() -> String {
    format!("This chat is let in already.\n\n{}", greeting())
}

/// A message could not be handled, again and again.
pub fn failed(text: &str) -> String {
    format!(
        "Sorry, something here broke on {}. Nothing of it was recorded. Please send it in other words.",
        super::clean::quote(text)
    )
}

/// Before a notice that is said after its time. `due_at` is the kitchen's local time.
pub fn late(due_at: NaiveDateTime, notice: &str) -> String {
    format!(
        "Late, was due {}:\n{notice}",
        due_at.format("%-d %b at %H:%M")
    )
}

/// In a group where the channel shows the bot only what is addressed to it.
pub fn privacy_mode() -> String {
    "In this group only commands, mentions and replies reach Hobside. For plain text like \"140 dal\", \
     make it an admin, or turn its privacy mode off at BotFather and add it again."
        .to_string()
}

/// What it is not.
pub fn not_advice() -> String {
    "Hobside is no medical or food-safety advice. For both, your doctor and your food authority come \
     first."
        .to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stranger_learns_one_sentence_and_no_names() {
        let said = stranger();
        assert!(said.lines().count() == 1 && said.len() < 120, "{said}");
    }

    #[test]
    fn the_greeting_fits_a_screen() {
        assert!(greeting().lines().count() <= 8);
        assert!(invite_accepted().contains(&greeting()));
    }

    #[test]
    fn a_broken_message_is_quoted_safely() {
        let said = failed(&"\u{7}x".repeat(4000));
        assert!(
            said.chars().count() < 200 && !said.contains('\u{7}'),
            "{said}"
        );
    }
}
