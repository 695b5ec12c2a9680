//! Several plates in one message, and one amount among several people.
//!
//! ```text
//! table   := telling { sep telling }
//! telling := { who | when } content { who | when | "each" | split }
//! who     := party.rs      "me", "for Ana", "between the three of us", "Tom had"
//! when    := day | meal | clock
//! content := content.rs    "140 dal, 90 rice", "dal", "290 of 500 dal", "200", "the rest"
//! split   := "split" | "halves" | "3 ways" | "equally" | ratio
//! ```
//! The message is cut into marks (`mark.rs`); what stands between them must be an amount, a name or both. Marks
//! are gathered into tellings (`telling.rs`), and these become plates (`plan.rs`): an amount that nobody owns is
//! a whole with parts (`parts.rs`, `pot.rs`), amounts without a name go by the name before them. A message with a word left over
//! is no table.

mod content;
mod eater;
mod mark;
mod parts;
mod party;
mod plan;
mod pot;
mod related;
mod telling;

use crate::lang::command::anyway;
use crate::lang::command::plate::goes_with_last;
use crate::lang::command::portion::Plates;
use crate::lang::syntax::{Amount, ErrorKind, Item, Portion};
use crate::lang::tokens::Tokens;
use content::Content;
use mark::Mark;
use party::Who;

/// Nobody tells a table in more words.
const TOKENS_MAX: usize = 100;

/// The plates of a message that tells of people, shares or days, if it can be read wholly.
pub fn read(input: Tokens<'_>) -> Option<Plates> {
    let (input, anyway) = anyway(input);
    // "130 of the dal from Sunday": the day chooses the batch, not the meal.
    let chooses = (1..input.len())
        .any(|at| input.norm(at) == "from" && crate::lang::date::day(input.after(at + 1)).is_ok());
    if input.len() > TOKENS_MAX || chooses {
        return None;
    }
    let marks = mark::marks(input)?;
    if !marks.all.iter().any(is_of_table) {
        return None;
    }
    let mut portions = plan::plates(telling::tellings(marks.all)?)?;
    if is_sigh(input, &portions) || compares(input) {
        let errors = vec![input.error(ErrorKind::NotUnderstood)];
        return Some(Plates {
            errors,
            ..Plates::default()
        });
    }
    let with_last = portions.len() == 1 && goes_with_last(input);
    for portion in &mut portions {
        portion.anyway = anyway;
        portion.with_last = with_last;
    }
    Some(Plates {
        portions,
        errors: Vec::new(),
        comments: marks.comments,
        bodies: marks.bodies,
        idle: marks.idle,
    })
}

/// Whether it makes more of a message than one's own plate: "I had 140 dal" is none.
fn is_of_table(mark: &Mark) -> bool {
    match mark {
        Mark::Who(said) => said.who != Who::sender(),
        Mark::Content(content) => !matches!(content, Content::Items(_) | Content::Name(_)),
        Mark::Break { .. } => false,
        _ => true,
    }
}

/// "Ana 50 less than Tom": how much that is, nobody works out here.
pub fn compares(input: Tokens<'_>) -> bool {
    let said = |word: &str| input.slice.iter().position(|token| token.norm() == word);
    let less = said("less").or(said("more"));
    less.zip(said("than"))
        .is_some_and(|(less, than)| less < than)
}

/// "Tom ate all my salsa": without a number, what somebody else finished is no weighing.
pub fn is_sigh(input: Tokens<'_>, portions: &[Portion]) -> bool {
    let all = |item: &Item| item.amount == Amount::Share(1.0);
    let theirs = |portion: &Portion| {
        portion.who.is_some() && portion.share.is_none() && portion.items.iter().all(all)
    };
    !input.has_number() && portions.iter().any(theirs)
}
