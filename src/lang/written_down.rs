//! Written down for somebody: "put me down for 160 dal and Robin for 140" is "I had 160 dal, Robin had 140". Before
//! anything is read, each name with its "for" is turned into who had what, which every reader knows.
//!
//! ```text
//! told := who ">" item | verb who for item { sep (item | who for item) } | who { word } verb "him" for item
//! verb := "put" | "mark" | "jot" | "write"           for := ("down" | "in") "for" | "for"
//! ```

use super::amount::may_begin;
use super::person::person;
use super::token::{Kind, Token};
use super::tokens::Tokens;
use super::vocabulary::Vocabulary;
use super::words::cues;

/// So many people at the most sit at a table.
const PEOPLE_MAX: usize = 8;

/// Turn what is written down for people into what they had, in place.
pub fn turn(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) {
    label(tokens, text, vocabulary);
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some(first) = (0..input.len().min(4)).find_map(|at| first(input, at)) else {
        return;
    };
    let mut told = vec![first];
    while told.len() < PEOPLE_MAX {
        let from = told[told.len() - 1].end;
        match (from..input.len()).find_map(|at| next(input, at)) {
            Some(more) => told.push(more),
            None => break,
        }
    }
    // "put Ana down for 160 dal" by itself needs no turning.
    if told.len() == 1 && !told[0].named_before {
        return;
    }
    for one in told.into_iter().rev() {
        // What is put in stands at a place of the text, in its order.
        let put = |kind: Kind, place: usize| Token::new(kind, place..place, true);
        let word = |norm: &str| Kind::Word(norm.to_owned());
        let who = tokens[one.who.clone()].to_vec();
        let (begins, ends) = (who[0].span.start, who[who.len() - 1].span.end);
        let mut turned: Vec<Token> = Vec::new();
        if one.apart {
            turned.push(put(Kind::Symbol(','), tokens[one.from].span.start));
        }
        match one.me {
            true => turned.push(put(word("i"), begins)),
            false => turned.extend(who),
        }
        turned.push(put(word("had"), ends));
        tokens.splice(one.from..one.end, turned);
    }
}

/// "Ana> 310 old stew" is written as in a chat: "Ana: 310 old stew".
fn label(tokens: &mut [Token], text: &str, vocabulary: &Vocabulary) {
    let input = Tokens::unread(tokens, text, vocabulary);
    let Some((length, _)) = input.first().and_then(|_| person(input)) else {
        return;
    };
    let amount = may_begin(input.after(length + 1));
    if let Some(mark) = tokens.get_mut(length)
        && mark.is('>')
        && amount
    {
        mark.kind = Kind::Symbol(':');
    }
}

/// Somebody for whom something is written down.
struct Told {
    /// From the verb, or from the word that joins, to behind the "for".
    from: usize,
    end: usize,
    who: std::ops::Range<usize>,
    me: bool,
    /// Somebody else was told of before.
    apart: bool,
    /// "Tom says put him down for": the name stands before the verb.
    named_before: bool,
}

/// "put me down for"
fn first(input: Tokens<'_>, from: usize) -> Option<Told> {
    let verb = cues().longest_of(input.after(from).slice, "put down")?;
    let at = from + verb;
    if matches!(input.norm(at), "him" | "her" | "them") {
        let (named, length) = (0..from).find_map(|at| Some((at, person(input.after(at))?.0)))?;
        let lead = cues().longest_of(input.after(at + 1).slice, "put down for")?;
        let end = at + 1 + lead;
        return may_begin(input.after(end)).then_some(Told {
            from: named,
            end,
            who: named..named + length,
            me: false,
            apart: false,
            named_before: true,
        });
    }
    let told = somebody(input, at, &["put down for"])?;
    Some(Told {
        from,
        apart: false,
        ..told
    })
}

/// "and Robin for", ", ana down for"
fn next(input: Tokens<'_>, from: usize) -> Option<Told> {
    let joins = input.norm(from) == "and" || input.slice[from].is(',') || input.slice[from].is('&');
    let skip = usize::from(input.slice[from].is(',') && input.norm(from + 1) == "and");
    let told = somebody(input, from + 1 + skip, &["put down for", "to"])?;
    joins.then_some(Told {
        from,
        apart: true,
        ..told
    })
}

fn somebody(input: Tokens<'_>, at: usize, leads: &[&'static str]) -> Option<Told> {
    let rest = input.after(at);
    let me = matches!(rest.norm(0), "me" | "myself");
    let length = match me {
        true => 1,
        false => person(rest)?.0,
    };
    let behind = input.after(at + length);
    let lead = leads
        .iter()
        .find_map(|lead| cues().longest_of(behind.slice, lead))?;
    let end = at + length + lead;
    let told = matches!(input.norm(end - 1), "for" | "as" | "with") && may_begin(input.after(end));
    told.then_some(Told {
        from: at,
        end,
        who: at..at + length,
        me,
        apart: false,
        named_before: false,
    })
}
