//! Food thrown away: "binned 150 beans", "threw out 120 rice, slimy", "half the parsnips in the bin".
//!
//! ```text
//! waste  := ["i" | "we"] verb items [("," | "because" | "-") reason] ["anyway"]
//!         | items ("in the bin" | "on the floor" | "went in the compost") [("," ...) reason]
//!           and nothing is told of a weight that was eaten
//! items  := as in a portion; a dish without an amount is all of it, or all of it "in" a place
//! ```

use crate::lang::amount::{Stands, amount, grams, may_begin};
use crate::lang::aside::begins_name;
use crate::lang::command::on_scale::is_plate;
use crate::lang::command::whither::place;
use crate::lang::command::{anyway, key_phrase};
use crate::lang::gist::aside;
use crate::lang::item::list;
use crate::lang::lost;
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::person::person;
use crate::lang::syntax::{Amount, Command, Error, ErrorKind, Item};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::{cues, taken_off, waste_tails};

const REASON_TOKENS_MAX: usize = 16;
/// Between "had" and how much: "had only about 150 dal".
const EATEN_WORDS_MAX: usize = 2;
/// A longer list has no reason looked for behind it.
const LIST_TOKENS_MAX: usize = 120;

pub fn read(all: Tokens<'_>) -> Read<'_, Command> {
    let (input, anyway) = anyway(all);
    let again = |token: &&Token| matches!(token.norm(), "too" | "also");
    let tail = input.slice.iter().rev().take_while(again).count();
    let input = input.range(0, input.len() - tail);
    let skip = input
        .slice
        .iter()
        .take_while(|token| matches!(token.norm(), "i" | "we" | "just" | "have" | "ive" | "weve"))
        .count();
    let led = key_phrase("waste", input.after(skip)).ok();
    let rest = match led {
        // "chucked 95 parsnips on my plate"
        Some((rest, ())) if rest.slice.iter().any(|token| is_plate(token.norm())) => {
            return input.no();
        }
        Some((rest, ())) => rest.without_lead(),
        None if ends_in_bin(input) => input,
        None => return input.no(),
    };
    if tells_eating(rest) || led.is_some() && lost::is_kept(input, skip) {
        return input.no();
    }
    let mut first_error = None;
    let cuts = cuts(rest);
    // A cut that leaves known names comes before one that does not.
    let tries = cuts
        .iter()
        .map(|&at| (at, true))
        .chain(cuts.iter().map(|&at| (at, false)));
    for (at, strict) in tries {
        let body = without_tail(rest.range(0, at), led.is_some());
        let Some(body) = body else {
            continue;
        };
        let reason = without_link(rest.after(at).trimmed());
        if names_eater(body) || weighs(reason) {
            continue;
        }
        // "the crumble's out" came out of the oven.
        let only_out = led.is_none() && at > 0 && rest.norm(at - 1) == "out";
        if reason.len() > REASON_TOKENS_MAX || only_out && !body.has_number() {
            continue;
        }
        match wasted(body, strict) {
            Ok(items) => {
                let at = food_ends(rest, at, &items, led.is_some()).unwrap_or(at);
                let reason = without_link(rest.after(at).trimmed());
                let (items, reason) = with_amount_behind(items, reason);
                let reason = (!reason.is_empty()).then(|| reason.words().text);
                return Ok((
                    all.after(all.len()),
                    Command::Waste {
                        items,
                        reason,
                        anyway,
                    },
                ));
            }
            Err(error) => {
                first_error.get_or_insert(error);
            }
        }
    }
    match first_error {
        Some(error)
            if led.is_some()
                && rest.has_number()
                && !matches!(error.kind, ErrorKind::MissingName) =>
        {
            Err(nom::Err::Failure(error))
        }
        _ => input.no(),
    }
}

/// "dal in the bin, 200, mould": how much of it that was.
fn with_amount_behind(mut items: Vec<Item>, reason: Tokens<'_>) -> (Vec<Item>, Tokens<'_>) {
    let [item] = items.as_mut_slice() else {
        return (items, reason);
    };
    let first = reason.find(|token| token.is(',')).unwrap_or(reason.len());
    let last = reason.slice.iter().rposition(|token| token.is(','));
    let told = [
        Some((reason.range(0, first), reason.after(first))),
        last.map(|at| (reason.after(at + 1), reason.range(0, at))),
    ];
    let found = told.into_iter().flatten().find_map(|(said, other)| {
        let (rest, grams) = grams(said.trimmed()).ok()?;
        rest.trimmed()
            .is_empty()
            .then_some((grams, other.trimmed()))
    });
    match found {
        Some((grams, other)) if item.amount == Amount::Share(1.0) => {
            item.amount = Amount::Bare(grams);
            (items, other)
        }
        _ => (items, reason),
    }
}

fn without_link(reason: Tokens<'_>) -> Tokens<'_> {
    match reason.norm(0) {
        "because" | "cos" | "cause" | "since" | "as" | "bc" => reason.after(1),
        _ => reason,
    }
}

/// "80 barley, dried out": what adds no food to the list, though it may be said of one, tells why.
fn food_ends(rest: Tokens<'_>, at: usize, items: &[Item], led: bool) -> Option<usize> {
    let same = |cut: &usize| {
        let body = without_tail(rest.range(0, *cut), led);
        let found = body.and_then(|body| wasted(body, true).ok());
        let said = rest.range(*cut, at).trimmed();
        let tells = said.is_wordy() && said.slice.iter().any(|token| !name::is_filler(token));
        let alike = |found: Vec<Item>| {
            let pairs = found.iter().zip(items);
            let mut pairs = pairs.map(|(a, b)| a.name == b.name && a.amount == b.amount);
            found.len() == items.len() && pairs.all(|same| same)
        };
        tells && found.is_some_and(alike)
    };
    cuts(rest.range(0, at))
        .into_iter()
        .filter(|cut| *cut < at)
        .rfind(same)
}

/// "binned 200 salsa, had 150 dal", "plated 150 dal": what was eaten was not thrown away.
fn tells_eating(rest: Tokens<'_>) -> bool {
    (0..rest.len()).any(|at| {
        let eats = cues().longest_of(rest.after(at).slice, "eat");
        // "threw the rest to the hens"
        let Some(length) = eats.filter(|_| key_phrase("waste", rest.after(at)).is_err()) else {
            return false;
        };
        let from = at + length;
        let mut near = from..rest.len().min(from + 1 + EATEN_WORDS_MAX);
        let amount = near.find(|&next| may_begin(rest.after(next)));
        // "had it 5 days"
        amount.is_some_and(|next| aside(rest, next).is_none())
    })
}

/// "150 dal for me", "recount parsnips 480", "rice weighs 300": more than a reason.
fn weighs(reason: Tokens<'_>) -> bool {
    let dish = |at: usize| reason.vocabulary.is_batch(&[reason.norm(at)]);
    let counted = |at: usize| reason.slice[at].is_numeric() && aside(reason, at).is_none();
    if (0..reason.len()).any(dish) && (0..reason.len()).any(counted) {
        return true;
    }
    (0..reason.len()).any(|at| {
        let amount = amount(reason.after(at), Stands::BeforeName);
        let weighed = |amount: &Amount| matches!(amount, Amount::Bare(_) | Amount::Mass(_));
        amount.is_ok_and(|(rest, said)| weighed(&said) && begins_name(rest.without_lead()))
    })
}

/// "150 dal for me", "Ana 150 dal": whose it was.
fn names_eater(body: Tokens<'_>) -> bool {
    (0..body.len()).any(|at| {
        let me = matches!(body.norm(at), "me" | "myself").then_some(1);
        let length = me.or_else(|| person(body.after(at)).map(|(length, _)| length));
        let for_whom = at > 0 && body.norm(at - 1) == "for";
        length.is_some_and(|length| for_whom || number(body.after(at + length)).is_ok())
    })
}

/// Where the items may end and the reason begin, the longest first.
fn cuts(input: Tokens<'_>) -> Vec<usize> {
    let spoken =
        input.find(|token| matches!(token.norm(), "because" | "cos" | "cause" | "since" | "bc"));
    if let Some(at) = spoken.filter(|&at| at > 0) {
        return vec![at];
    }
    let mut cuts = vec![input.len()];
    if input.len() > LIST_TOKENS_MAX {
        return cuts;
    }
    for (at, token) in input.slice.iter().enumerate().rev() {
        let marks = matches!(
            token.kind,
            Kind::Symbol(',' | '-' | ':' | ';' | '.' | '(') | Kind::Newline
        );
        if marks && at > 0 && cuts.len() < 8 {
            cuts.push(at);
        }
    }
    cuts
}

fn ends_in_bin(input: Tokens<'_>) -> bool {
    // "150 chilli minus 10 for the bit on the floor" tells why less was eaten.
    let lessened = input
        .slice
        .windows(2)
        .any(|pair| taken_off().has(pair[0].norm()) && pair[1].is_numeric());
    let in_bin = |at: usize| {
        let said = input.range(0, at);
        let length = waste_tails().length_at_end(said.slice);
        // "the crumble's out" of the oven, where no verb throws it.
        let bare = matches!(said.last().map(Token::norm), Some("out" | "away"));
        length > usize::from(bare)
    };
    !lessened && cuts(input).into_iter().any(in_bin)
}

/// Without "in the bin"; a message without a verb needs it.
fn without_tail(input: Tokens<'_>, led: bool) -> Option<Tokens<'_>> {
    let input = input.trimmed();
    let length = waste_tails().length_at_end(input.slice);
    // "binned 90 barley, dried out": told apart, it is the reason.
    let mark = input.slice.iter().rposition(|token| token.is(','));
    let bare = matches!(input.last().map(Token::norm), Some("out" | "away"));
    let told_why = |at: usize| {
        let tail = input.after(at + 1);
        let named = |token: &Token| input.vocabulary.has_word(token.norm());
        tail.len() > 1 && !tail.has_number() && !tail.slice.iter().any(named)
    };
    let apart = bare && length == 1 && led && mark.is_some_and(told_why);
    if length == 0 || apart {
        return led.then_some(input);
    }
    (length < input.len()).then(|| input.range(0, input.len() - length).trimmed_end())
}

/// The items; a dish of the household without an amount is all of it.
fn wasted(input: Tokens<'_>, strict: bool) -> Result<Vec<Item>, Error> {
    // "the dal in the freezer": of what stands there and nothing else, told before the dish as elsewhere.
    if let (input, Some(place)) = place(input, &["in", "from"]) {
        let mut items = wasted(input, strict)?;
        return match items.as_mut_slice() {
            [item] => {
                item.name.text = format!("{place} {}", item.name.text);
                Ok(items)
            }
            _ => Err(input.error(ErrorKind::NotUnderstood)),
        };
    }
    if let Some(item) = all_of(input) {
        return Ok(vec![item]);
    }
    let read = list(input);
    match read.errors.into_iter().next() {
        Some(error) => Err(error),
        // What keeps it company is the reason.
        None if !read.comments.is_empty() => Err(input.error(ErrorKind::NotUnderstood)),
        None if strict
            && !read.items.iter().all(|item| {
                name::familiarity(&item.name.text, input) >= name::Familiarity::Food
            }) =>
        {
            Err(input.error(ErrorKind::NotUnderstood))
        }
        None if read.items.is_empty() => Err(input.error(ErrorKind::MissingName)),
        None => Ok(read.items),
    }
}

/// "the whole salsa", "the old stew"
fn all_of(input: Tokens<'_>) -> Option<Item> {
    name::all_of_batch(input).map(|name| Item::new(Amount::Share(1.0), name).at(input.span()))
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::surely_means;
    use crate::lang::{Sense, Vocabulary};

    #[track_caller]
    fn wastes(text: &str, printed: &str) {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "pearl barley"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        surely_means(text, &words, printed);
    }

    #[test]
    fn a_reason_is_kept_however_it_is_told() {
        wastes("binned 80 barley, dried out", "binned 80 barley, dried out");
        wastes(
            "had to bin 120 rice, gone slimy",
            "binned 120 rice, gone slimy",
        );
        wastes("rice went off, had to bin 120", "binned 120 rice, went off");
        wastes(
            "the rice was slimy so I binned 120",
            "binned 120 rice, slimy",
        );
        wastes("binned 80 barley, please", "binned 80 barley");
        wastes(
            "binned 80 barley, 120 rice, mouldy",
            "binned 80 barley, 120 rice, mouldy",
        );
    }

    #[test]
    fn a_place_chooses_what_of_it_was_lost() {
        wastes(
            "binned the dal in the freezer",
            "binned all the freezer dal",
        );
        wastes(
            "binned 200 dal in the garage freezer",
            "binned 200 garage freezer dal",
        );
        wastes("binned 200 dal in the compost", "binned 200 dal");
    }
}
