//! What a message may put right of what was booked, read for its marks: "320?? lol no 230", "ugh that 4 oz
//! should have been 5", "rice was mine, dal hers".
//!
//! People say what stands and what it should be in any order, with any talk around it. Which is which cannot be
//! told from the words; the books tell it. So the message is only cut here: into chunks of amounts, names,
//! people and cues that stand together, with the words between them left out. `domain/decide/remark/` holds
//! each against the plates: what is said that stands there says which line is meant, and what does not
//! stand there is what it comes to.
//!
//! ```text
//! remark := { chunk | word | break }
//! chunk  := { ["not"] term | cue | link }        a second "was" with what stands before it begins another
//! term   := amount ["of that"] | name | selector "one" | person | day | "the last one"
//! ```
//! The cues stand in `data/remarks.txt`. A message with a number that is no weight, a question, a plan or a
//! condition is no remark.

mod piece;
pub mod said;

use super::accounted::forgotten;
use super::command::fix::is_excused;
use super::token::Token;
use super::tokens::Tokens;
use super::veto::{forbids, names_a_price};
use super::words::cues;
use piece::{Piece, Placed, pieces};
use said::{Chunk, Cue, Remark, Said, Term};

/// Whoever writes more tells a story.
const TOKENS_MAX: usize = 40;
/// Fewer words beside a correction are a sigh.
const THOUGHT_WORDS_MIN: usize = 3;

pub fn read(input: Tokens<'_>) -> Option<Remark> {
    if input.len() > TOKENS_MAX || input.is_empty() {
        return None;
    }
    if forgotten(input).is_some() {
        return None;
    }
    let pieces = pieces(input)?;
    if is_governed(input, &pieces) || names_the_day(input, &pieces) || is_of_something_else(&pieces)
    {
        return None;
    }
    // What a vessel weighs now is told beside what went back.
    let has = |piece: &Piece| pieces.iter().any(|it| it.piece == *piece);
    if has(&Piece::Shows) && !has(&Piece::Cue(Cue::Back)) {
        return None;
    }
    // "supposed to be thin" tells how something is.
    let described = |at: usize| {
        let next = pieces[at + 1..].iter().find(|it| it.piece != Piece::Link);
        next.is_some_and(|it| it.piece == Piece::Other)
    };
    let corrects = |at: usize| match pieces[at].piece {
        Piece::Cue(Cue::Wrong | Cue::Sorry | Cue::Swapped) => true,
        Piece::Cue(Cue::Sets) => !described(at),
        _ => false,
    };
    let mut chunks = Vec::new();
    let mut from = 0;
    while from < pieces.len() {
        let run = pieces[from..]
            .iter()
            .take_while(|it| it.piece.is_said())
            .count();
        let other = |at: Option<usize>| {
            at.and_then(|at| pieces.get(at))
                .is_some_and(|it| it.piece == Piece::Other)
        };
        if run > 0 {
            let said = cut(&pieces[from..from + run]);
            let open = (other(from.checked_sub(1)), other(Some(from + run)));
            let last = said.len() - 1;
            chunks.extend(said.into_iter().enumerate().map(|(at, said)| Chunk {
                open_before: at == 0 && open.0,
                open_behind: at == last && open.1 && !ends_wrong(&pieces[from..from + run]),
                ..chunk(said)
            }));
        }
        from += run.max(1);
    }
    chunks.retain(|chunk| !chunk.terms.is_empty() || !chunk.cues.is_empty());
    let tells = |chunk: &Chunk| {
        let cues = [Cue::Off, Cue::Uneaten, Cue::Swapped, Cue::Given];
        !chunk.terms.is_empty() || cues.iter().any(|cue| chunk.has(*cue))
    };
    let wrong = (0..pieces.len()).any(corrects);
    let reasoned = pieces
        .iter()
        .any(|it| matches!(it.piece, Piece::Reason | Piece::Cue(Cue::Uneaten)));
    chunks.iter().any(tells).then_some(Remark {
        talk: pieces.iter().any(|it| it.piece == Piece::Other),
        chunks,
        wrong,
        owned_up: pieces.iter().any(|it| it.piece == Piece::Cue(Cue::Sorry)),
        reasoned,
    })
}

/// "the pot's 2360": what a vessel weighs now is told.
pub fn shows_a_vessel(input: Tokens<'_>) -> bool {
    (0..input.len()).any(|at| piece::shows(input.after(at)).is_some())
}

/// A question, a plan, a condition, a story of another time: nothing that stands is meant.
fn is_governed(input: Tokens<'_>, pieces: &[Placed]) -> bool {
    let of = |at: usize, key| cues().longest_of(input.after(at).slice, key).is_some();
    let polite = |at: usize| {
        (0..at + 1).any(|from| {
            let length = cues().longest_of(input.after(from).slice, "polite");
            length.is_some_and(|length| from + length > at)
        })
    };
    let others = pieces
        .iter()
        .filter(|it| it.piece == Piece::Other && !polite(it.from));
    let words: Vec<Token> = others
        .clone()
        .flat_map(|it| input.slice[it.from..it.to].to_vec())
        .collect();
    let asked = pieces.iter().any(|it| it.piece == Piece::Asked);
    let story = |it: &Placed| it.piece == Piece::Other && of(it.from, "story");
    asked || names_a_price(input) || forbids(input.with_tokens(&words)) || pieces.iter().any(story)
}

/// "should have been 160, the edges went black": one number, and behind it a thought about nothing that stands.
fn is_of_something_else(pieces: &[Placed]) -> bool {
    let term = |it: &Placed| matches!(it.piece, Piece::Term(_));
    let number = |it: &Placed| matches!(it.piece, Piece::Term(Said::Amount(..)));
    let owned_up = |it: &Placed| matches!(it.piece, Piece::Cue(Cue::Sorry | Cue::Wrong));
    let Some(last) = pieces.iter().rposition(term) else {
        return false;
    };
    let behind = pieces[last..]
        .iter()
        .skip_while(|it| it.piece != Piece::Break);
    let words = behind.filter(|it| it.piece == Piece::Other).count();
    let alone = pieces.iter().filter(|it| term(it)).count() == 1 && number(&pieces[last]);
    alone && words >= THOUGHT_WORDS_MIN && !pieces.iter().any(owned_up)
}

/// "ugh, it's Thursday already", "it was Thursday": what day something is, and nothing of a plate. "it's Thursday's" is
/// of one, and "no, it was Thursday".
fn names_the_day(input: Tokens<'_>, pieces: &[Placed]) -> bool {
    let terms = || {
        pieces
            .iter()
            .filter(|it| matches!(it.piece, Piece::Term(_)))
    };
    let day = |it: &Placed| matches!(it.piece, Piece::Term(Said::When(Some(_), None)));
    let said = |word: &str| input.slice.iter().any(|token| token.norm() == word);
    let owned = input
        .slice
        .iter()
        .any(|token| token.norm().ends_with("days"));
    let of_the_talk = said("its") && !said("was") || said("it") && !is_excused(input);
    terms().next().is_some() && terms().all(day) && of_the_talk && !owned
}

/// A run cut where a second claim begins: before what a further "was" is said of.
fn cut(run: &[Placed]) -> Vec<&[Placed]> {
    let claims = |it: &Placed| matches!(it.piece, Piece::Cue(Cue::Is | Cue::Right));
    let mut cuts = vec![0];
    let mut claimed = None;
    for at in (0..run.len()).filter(|&at| claims(&run[at])) {
        if let Some(before) = claimed {
            let subject = at - subject(&run[before + 1..at]);
            if subject > before + 1 {
                cuts.push(subject);
            }
        }
        claimed = Some(at);
    }
    cuts.extend(owners(run));
    cuts.sort_unstable();
    cuts.dedup();
    cuts.push(run.len());
    cuts.windows(2).map(|ends| &run[ends[0]..ends[1]]).collect()
}

/// "Ana 250 me 350": somebody named right before a further amount.
fn owners(run: &[Placed]) -> Vec<usize> {
    let amount = |at: usize| {
        let term = run.get(at).map(|it| &it.piece);
        matches!(term, Some(Piece::Term(Said::Amount(..))))
    };
    let named = |at: &usize| {
        let term = &run[*at].piece;
        matches!(term, Piece::Term(Said::Person(_) | Said::Whose(_))) && amount(at + 1)
    };
    let first = (0..run.len()).find(|&at| amount(at)).unwrap_or(run.len());
    (first..run.len()).filter(named).collect()
}

/// How many pieces at the end are what a claim is said of: "mine", "the rice", "Ana's rice", "that". One term
/// at least stays with the claim before.
fn subject(pieces: &[Placed]) -> usize {
    let mut taken = 0;
    let (mut named, mut owned) = (false, false);
    for it in pieces.iter().rev() {
        match &it.piece {
            Piece::Link => {}
            Piece::Cue(Cue::That) if !named && !owned => named = true,
            Piece::Term(Said::Name(_) | Said::Which(_)) if !named && !owned => named = true,
            Piece::Term(Said::Whose(_)) if !owned => owned = true,
            _ => break,
        }
        taken += 1;
    }
    if taken == 0
        && matches!(
            pieces.last().map(|it| &it.piece),
            Some(Piece::Term(Said::Amount(..)))
        )
    {
        taken = 1;
    }
    let left = &pieces[..pieces.len() - taken];
    match left.iter().any(|it| matches!(it.piece, Piece::Term(_))) {
        true => taken,
        false => 0,
    }
}

/// "was 52 sorry": what goes on behind it belongs to the sigh.
fn ends_wrong(run: &[Placed]) -> bool {
    run.last()
        .is_some_and(|it| matches!(it.piece, Piece::Cue(Cue::Wrong | Cue::Sorry)))
}

fn chunk(run: &[Placed]) -> Chunk {
    let mut out = Chunk::default();
    let mut denied = false;
    for it in run {
        match &it.piece {
            Piece::Term(said) => {
                let said = said.clone();
                out.terms.push(Term { said, denied });
                denied = false;
            }
            Piece::Cue(cue) => out.cues.push(*cue),
            Piece::Deny => denied = true,
            _ => {}
        }
    }
    out
}
