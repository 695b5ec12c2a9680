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
//! are gathered into tellings (`telling.rs`), those of one dish into a pan (`pan.rs`), and these become plates
//! (`plan.rs`): an amount that nobody owns is a whole whose parts are worked out (`solve.rs`), amounts without a
//! name go by the name before them (`by_name.rs`). A message with a word left over is no table, unless it is read
//! freely, for its gist (`loose.rs`).

mod before;
pub mod by_name;
pub mod content;
mod eater;
mod loose;
mod mark;
mod pan;
pub mod party;
pub mod plan;
mod ratio;
pub mod relation;
mod row;
pub mod size;
pub mod solve;
mod system;
pub mod telling;
pub mod ways;
mod when;

use crate::lang::amount::{Stands, part_of_a_mass};
use crate::lang::command::anyway;
use crate::lang::command::plate::{goes_with_last, too_behind_that};
use crate::lang::command::portion::Plates;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, ErrorKind, Item, PartSize, Party, Portion, Share, SharePart};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::unit::unit;
use crate::lang::words::{at_table, cues};
use content::Content;
pub use loose::comes_off;
use mark::Mark;
pub use mark::{ratio, turns_away};
use party::Who;
pub use party::counted;
use size::Size;

/// Nobody tells a table in more words.
const TOKENS_MAX: usize = 100;
/// Nor who shares it.
const SHARERS_TOKENS_MAX: usize = 20;

/// The plates of a message that tells of people, shares or days, if it can be read wholly.
pub fn read(input: Tokens<'_>) -> Option<Plates> {
    let (input, anyway) = anyway(input);
    if too_behind_that(input).is_some() {
        return None;
    }
    let mut plates = table(input, false)?;
    if is_sigh(input, &plates.portions) {
        let errors = vec![input.error(ErrorKind::NotUnderstood)];
        return Some(Plates {
            errors,
            ..Plates::default()
        });
    }
    // "she had 90 more than me" is no second helping.
    let plain = matches!(plates.portions.as_slice(), [only] if !matches!(only.share, Some(Share::Parts(_))));
    let with_last = plain && goes_with_last(input);
    for portion in &mut plates.portions {
        portion.anyway = anyway;
        portion.with_last = with_last;
    }
    Some(plates)
}

/// "the three of us had the same", "we split it three ways": who shares evenly what was told before.
pub fn divided(clause: Tokens<'_>) -> Option<Party> {
    if clause.len() > SHARERS_TOKENS_MAX {
        return None;
    }
    let mut party = None;
    let mut evenly = false;
    let mut rest = clause.trimmed();
    while !rest.is_empty() {
        let length = |key| at_table().longest_of(rest.slice, key);
        let divides = ["same", "split", "evenly", "halves"];
        let passed = if let Some(length) = divides.into_iter().filter_map(length).max() {
            evenly = true;
            length
        } else if let Some((length, said)) = party::said(rest, &mut party::Before::default()) {
            if party.replace(said.who).is_some() {
                return None;
            }
            length
        } else if matches!(rest.norm(0), "it" | "that" | "all" | "and" | "was" | "") {
            1
        } else {
            return None;
        };
        rest = rest.after(passed);
    }
    let several = party.filter(|who| who.one().is_none() && !matches!(who, Who::Others(_)));
    several.filter(|_| evenly).map(|who| who.party())
}

/// "went half and half", "split": how many tokens say here that several had of it.
pub fn is_shared(input: Tokens<'_>, at: usize) -> Option<usize> {
    ["halves", "split"]
        .into_iter()
        .find_map(|key| at_table().longest_of(input.after(at).slice, key))
}

/// The same with words passed over that tell nothing of the meal.
pub fn freely(input: Tokens<'_>) -> Option<Plates> {
    table(input, true)
}

/// What somebody has of a whole: the "half" of "Ana's half".
pub fn is_part(norm: &str) -> bool {
    matches!(
        norm,
        "half" | "share" | "part" | "third" | "lot" | "portion"
    )
}

/// "20 of Ana's half": no part of the whole.
fn is_of_a_part(input: Tokens<'_>, at: usize) -> bool {
    let weighed = input.slice[at - 1].is_numeric() || unit(input.after(at - 1)).is_ok();
    let whose = || person(input.after(at + 1)).map_or(0, |(length, _)| length);
    let part = || is_part(input.norm(at + 1 + whose()));
    input.norm(at) == "of" && weighed && whose() > 0 && part()
}

/// "but he gave Ana 60 of his": of a part that somebody had.
fn is_handed_on(input: Tokens<'_>) -> bool {
    let gave = |token: &Token| {
        matches!(
            token.norm(),
            "gave" | "gives" | "handed" | "passed" | "slipped"
        )
    };
    let weighed = |at: usize| input.slice[at].is_numeric() || unit(input.after(at)).is_ok();
    let of_theirs = |at: usize| {
        let theirs = matches!(input.norm(at + 1), "his" | "hers" | "theirs" | "mine");
        input.norm(at) == "of" && theirs && weighed(at - 1)
    };
    input.slice.iter().any(gave) && (1..input.len()).any(of_theirs)
}

fn table(input: Tokens<'_>, freely: bool) -> Option<Plates> {
    // "130 of the dal from Sunday": the day chooses the batch, not the meal.
    let chooses = (1..input.len())
        .any(|at| input.norm(at) == "from" && crate::lang::date::day(input.after(at + 1)).is_ok());
    // "all but 250 of the beans" tells what was not eaten.
    let all_but = cues().stand_in(input.slice, "all but");
    // "none of the 300 stew was for me": with words passed over, the 300 would be.
    let none_of = |at: usize| input.norm(at) == "none" && input.norm(at + 1) == "of";
    if input.len() > TOKENS_MAX
        || freely && (0..input.len()).any(none_of)
        || chooses
        || all_but
        || is_repeated(input)
        || (1..input.len()).any(|at| is_of_a_part(input, at))
        || is_handed_on(input)
    {
        return None;
    }
    let marks = mark::marks(input, freely)?.without_bystanders();
    if !marks.all.iter().any(is_of_table) || compares(input) && !marks.all.iter().any(is_compared) {
        return None;
    }
    let tellings = telling::tellings(marks.all)?;
    let open = |telling: &telling::Telling| telling.who.is_none() && telling.content.is_some();
    if marks.expressly && tellings.iter().any(open) {
        return None;
    }
    // "Ana's plate 180 soup 60 braley": with words passed over, what follows her food may be hers.
    let led = tellings.iter().position(telling::Telling::leads);
    if freely && led.is_some_and(|at| tellings[at..].iter().any(open)) {
        return None;
    }
    let portions = plan::plates(tellings)?;
    let of_a_mass = |at| part_of_a_mass(input.after(at), Stands::BeforeName).is_ok();
    if portions.iter().any(is_own_part) && (0..input.len()).any(of_a_mass) {
        return None;
    }
    Some(Plates {
        portions,
        errors: Vec::new(),
        comments: marks.comments,
        bodies: marks.bodies,
        idle: marks.idle,
    })
}

/// "soup 3 times today, 150 each": each time, and of one person.
fn is_repeated(input: Tokens<'_>) -> bool {
    let compared = |word: &str| matches!(word, "what" | "as" | "more" | "mine" | "that" | "the");
    let counted = |at: usize| {
        input.norm(at) == "times"
            && input.slice[at - 1].is_numeric()
            && !compared(input.norm(at + 1))
    };
    (1..input.len()).any(counted)
}

fn is_compared(mark: &Mark) -> bool {
    let more = |size: &Size| matches!(size, Size::More(..));
    match mark {
        Mark::Content(Content::Sizes(sizes)) => sizes.iter().any(more),
        Mark::Content(Content::Sized(size, _)) => more(size),
        _ => false,
    }
}

/// "half of 300 soup": a part for nobody but the sender is how much it was.
fn is_own_part(portion: &Portion) -> bool {
    let Some(Share::Parts(parts)) = &portion.share else {
        return false;
    };
    let own = |part: &SharePart| part.who.is_none() && matches!(part.size, PartSize::Of(_));
    matches!(parts.as_slice(), [only] if own(only))
}

/// Whether it makes more of a message than one's own plate: "I had 140 dal" is none.
fn is_of_table(mark: &Mark) -> bool {
    match mark {
        Mark::Who(said) => said.who != Who::sender(),
        Mark::Content(content) => !matches!(content, Content::Items(_) | Content::Name(_)),
        Mark::Break { .. } | Mark::Talk | Mark::Idle => false,
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

/// "Tom ate all my salsa": without a number, what somebody else finished is no weighing, unless it is told as a part
/// ("the rest of the parsnips").
pub fn is_sigh(input: Tokens<'_>, portions: &[Portion]) -> bool {
    let of_the = |at: usize| input.norm(at) == "of" && input.norm(at + 1) == "the";
    if (1..input.len()).any(|at| matches!(input.norm(at - 1), "rest" | "remainder") && of_the(at)) {
        return false;
    }
    let all = |item: &Item| item.amount == Amount::Share(1.0);
    let theirs = |portion: &Portion| {
        portion.who.is_some() && portion.share.is_none() && portion.items.iter().all(all)
    };
    !input.has_number() && portions.iter().any(theirs)
}
