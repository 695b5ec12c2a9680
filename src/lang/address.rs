//! Who a message is to: the bot's name before it or behind it, and the slash of a command.
//!
//! ```text
//! address := "@hobside" | "hobside" (":" | ",") | "/" command ["@hobside"]
//! ```

use super::token::{Kind, Token};
use super::tokens::Tokens;

/// The bot's name in a mention.
const BOT_NAME: &str = "hobside";

/// Drop "@hobside" after a command ("/help@hobside") or at the end.
pub fn drop_mention(tokens: &mut Vec<Token>) -> bool {
    let is_mention = |at: usize| {
        tokens.get(at).is_some_and(|token| token.is('@'))
            && tokens
                .get(at + 1)
                .is_some_and(|token| token.norm() == BOT_NAME)
    };
    let slashed = tokens.first().is_some_and(|token| token.is('/'));
    let last = tokens.len().saturating_sub(2);
    let at = if slashed && is_mention(2) {
        2
    } else if last > 0 && is_mention(last) {
        last
    } else {
        return false;
    };
    tokens.drain(at..at + 2);
    true
}

/// Strip a leading mention of the bot and the slash of a command.
pub fn without(input: Tokens<'_>) -> (Tokens<'_>, bool, bool) {
    let mut rest = skip_marks(input);
    let mut addressed = false;
    let named = |tokens: &Tokens<'_>| {
        tokens.first().is_some_and(|token| token.is('@')) && tokens.norm(1) == BOT_NAME
    };
    if named(&rest) {
        addressed = true;
        rest = skip_marks(rest.after(2).without_lead());
    } else if rest.norm(0) == BOT_NAME
        && rest
            .get(1)
            .is_some_and(|token| token.is(':') || token.is(','))
    {
        addressed = true;
        rest = skip_marks(rest.after(2));
    }
    let slash = rest.first().is_some_and(|token| token.is('/'))
        && rest
            .get(1)
            .is_some_and(|token| !token.spaced && !token.norm().is_empty());
    if !slash {
        return (rest, addressed, false);
    }
    (rest.after(1), true, true)
}

fn skip_marks(input: Tokens<'_>) -> Tokens<'_> {
    let skip = input
        .slice
        .iter()
        .take_while(|token| matches!(token.kind, Kind::Newline))
        .count();
    input.after(skip)
}
