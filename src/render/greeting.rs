//! What is said outside of any kitchen work: hello, the door, apologies.

use chrono::NaiveDateTime;

use crate::domain::answer::{Button, Press};

use super::clean::quote;
use super::page::Page;

/// The first words in a chat: what it is and three things to type.
pub fn greeting() -> String {
    wrapped(
        "Hobside keeps the books of food cooked ahead, to the gram. Three things to type:\n\
         \n\
         > batch barley, 500 g pearl barley, cooked 1480\n\
         > 140 barley, 2 tsp olive oil\n\
         > what's left\n\
         \n\
         More with: help",
    )
}

/// To a chat that nobody has let in. It says nothing about any household.
pub fn stranger() -> String {
    wrapped("Sorry, Hobside answers only where its owner has let it in, with /start and a code.")
}

/// The one-time code was right.
pub fn invite_accepted() -> String {
    format!(
        "{}\n\n{}",
        wrapped(
            "Welcome. This chat is a household now. A few questions about units and times are below, \
             if you like; it works without."
        ),
        greeting()
    )
}

/// Below the welcome: the few questions of the beginning, for whoever wants them.
pub fn set_up_button() -> Button {
    Button {
        label: "Set up".to_owned(),
        press: Press::SetUp,
    }
}

/// The code was wrong, used or too old; which of them is not told.
pub fn invite_wrong() -> String {
    wrapped("Sorry, that code opens nothing. The owner can give a new one.")
}

/// `/start` in a chat that is let in already.
pub fn already_in() -> String {
    format!(
        "{}\n\n{}",
        wrapped("This chat is let in already."),
        greeting()
    )
}

/// What a board is before it says anything. Its first message may come twice, if a crash comes between its being sent
/// and that being kept: what is left of the first then says nothing of the kitchen.
pub fn board_coming() -> String {
    wrapped("Hanging up the board \u{2026}")
}

/// What is left of a board that a household wants no more.
pub fn board_put_away() -> String {
    wrapped("The board is put away. To have it back:\n> board")
}

/// The bot has no right to pin in this chat.
pub fn board_not_pinned() -> String {
    wrapped(
        "This chat does not let me pin the board. To see it on top, pin it yourself, or make me an \
         administrator who may pin messages.",
    )
}

/// A message could not be handled, again and again.
pub fn failed(text: &str) -> String {
    wrapped(&format!(
        "Sorry, something here broke on {}. Nothing of it was recorded. Please send it in other words.",
        quote(text)
    ))
}

/// Before a notice that is said after its time. `due_at` is the kitchen's local time.
pub fn late(due_at: NaiveDateTime, notice: &str) -> String {
    format!(
        "Late, it was due {}:\n{notice}",
        due_at.format("%-d %b at %H:%M")
    )
}

/// In a group where the channel shows the bot only what is addressed to it.
pub fn privacy_mode() -> String {
    wrapped(
        "In this group only commands, mentions and replies reach Hobside. For plain text like \
         \"140 dal\", make it an admin, or turn its privacy mode off at BotFather and add it again.",
    )
}

/// What it is not.
pub fn not_advice() -> String {
    wrapped(
        "Hobside gives no medical and no food-safety advice: your doctor and your food authority \
         come first.",
    )
}

fn wrapped(text: &str) -> String {
    let mut page = Page::new();
    page.tell(text);
    page.text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stranger_learns_one_sentence_and_no_names() {
        let said = stranger();
        assert!(!said.contains(". ") && said.len() < 120, "{said}");
    }

    #[test]
    fn the_greeting_fits_a_screen() {
        assert!(greeting().lines().count() <= 9);
        assert!(invite_accepted().contains(&greeting()));
    }

    #[test]
    fn what_it_suggests_is_understood() {
        for line in greeting().lines().skip(4).take(3) {
            crate::render::sample::is_understood(line);
        }
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
