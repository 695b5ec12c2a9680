//! One line of a batch put right or dropped: "dal line 3: 5 g cumin", "drop dal line 3".
//!
//! ```text
//! amend := batch "line" n (":" | "=" | "→" | "is" | "should be") line
//!        | batch "line" n ("off" | "out") | drop-verb batch "line" n | drop-verb "line" n "of" batch
//! ```

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use crate::lang::line;
use crate::lang::name;
use crate::lang::syntax::{Command, ErrorKind, IngredientLine, LineContent};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens, symbol, word};

const FORM: &str = "dal line 3: 5 g cumin";

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let input = input.trimmed_end();
    let (rest, dropped) = opt(word(&[
        "drop", "remove", "delete", "strike", "omit", "without", "fix", "change", "correct",
        "amend",
    ]))
    .parse(input)?;
    let drops = dropped.is_some_and(|verb| !matches!(verb, "fix" | "change" | "correct" | "amend"));
    let Some(at) = rest
        .slice
        .iter()
        .take(9)
        .position(|token| matches!(token.norm(), "line" | "ingredient"))
    else {
        return input.no();
    };
    let number = match rest.get(at + 1).map(|token| &token.kind) {
        Some(Kind::Number(numeral))
            if numeral.value.fract() == 0.0 && (1.0..=999.0).contains(&numeral.value) =>
        {
            numeral.value as u32
        }
        _ => return input.no(),
    };
    let mut after = rest.after(at + 2);
    let mut name = name::bare(rest.range(0, at));
    if name.is_empty() {
        // "line 3 of the dal: ..."
        let (next, _) = word(&["of", "in", "from"])(after)?;
        let end = next
            .find(|token| {
                !matches!(token.kind, Kind::Word(_))
                    || matches!(token.norm(), "is" | "should" | "to" | "off" | "out")
            })
            .unwrap_or(next.len());
        name = name::bare(next.range(0, end));
        after = next.after(end);
    }
    if !name.is_wordy() || name.len() > 6 {
        return input.no();
    }
    let before = after;
    let (after, marked) = opt(alt((
        symbol(':'),
        symbol('='),
        symbol('→'),
        symbol('-'),
        symbol(','),
        (word(&["should"]), word(&["be"])).map(|_| ()),
        word(&["is", "to"]).map(|_| ()),
    )))
    .parse(after)?;
    let off =
        matches!(after.norm(0), "off" | "out" | "drop" | "remove" | "delete") && after.len() == 1;
    if off || (drops && after.is_empty()) {
        return Ok((after.after(after.len()), amend(name, number, None)));
    }
    if after.is_empty() || drops {
        return input.fail(ErrorKind::Malformed { form: FORM });
    }
    let line = line::line(after, None);
    // "dal line 2 looks wrong", "line 4 is delicious": talk of a line, and no other line for it.
    let worded = marked.is_none() || !before.norm(0).is_empty();
    if worded && !has_amount(&line) {
        return input.no();
    }
    Ok((after.after(after.len()), amend(name, number, Some(line))))
}

fn has_amount(line: &IngredientLine) -> bool {
    matches!(
        line.content,
        LineContent::Ingredient {
            amount: Some(_),
            ..
        }
    )
}

fn amend(name: Tokens<'_>, number: u32, line: Option<IngredientLine>) -> Command {
    Command::Amend {
        batch: name.words(),
        number,
        line,
    }
}
