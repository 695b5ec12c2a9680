//! Putting right what was booked last: "make it 160", "no, 31 not 13", "that was hers", "take the beans off".
//!
//! ```text
//! message := clause { ("," | "." | "and" | "but" ...) (clause | rest | idle | portion) }           clauses.rs
//!         | excuse item item { item }                                                    listed.rs
//! clause  := excuse* (swapped | whose | shared | when | back | off | more | figure | name) closing*
//! figure  := [opens | person had] amount [name] ["not" amount] | turn line ["to"] amount | line becomes amount
//!          | amount name ["I had" when] becomes amount                                        quoted.rs
//!          | [name] amount "->" amount | "*" number | number ("*" | "!!") | times line     figure.rs
//! name    := opens name ["not" name] | "not" name "," name | selector ("one" | "batch")    figure.rs
//! whose   := of was person | gave person part | took person part                           whose.rs
//! shared  := split of share | of was share | [opens] number "of us" | part "each" [who joined]   divided.rs
//! when    := "that was" [day] [meal]                                                       whose.rs
//! back    := "put" "back" items | "put" items "back" | "left" amount ["of" name]           off.rs
//! off     := "take" ["off"] name ["off"] | "no" name "after all"                           off.rs
//! rest    := "the other half" of was person | person had "the rest"                        remainder.rs
//! by      := how much an amount is off                                                  by.rs
//! tare  := the vessel that was in the weight                                            tare.rs
//! more    := amount "more" | seconds (amount | portion | again)                            off.rs
//! ```
//! The words stand in `data/corrections.txt`. "Idle" is a clause without a number; of one that names a dish
//! ("too much rice, put 50 back") the next takes its name.

mod by;
pub mod clauses;
mod day_of;
mod divided;
mod figure;
mod instead;
mod listed;
mod off;
mod other_dish;
mod owner;
mod quoted;
mod remainder;
mod tare;
mod whose;

use crate::lang::command::takes_back;
use crate::lang::name;
use crate::lang::syntax::{Amount, Command, Figure, Fix, Item, Line, MealName, Of, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::vocabulary::Sense;
use crate::lang::words::{containers, corrections, meals, outros};

const NAME_WORDS_MAX: usize = 6;
/// A longer message is no correction.
const TOKENS_MAX: usize = 30;

/// The corrections that a message is made of, and what is told beside them.
#[derive(Debug, Default)]
pub struct Corrections {
    pub commands: Vec<Command>,
    /// A clause says nothing that a correction needs.
    pub talk: bool,
    /// Most messages like this say something else: "80 -> 95", "130".
    pub weak: bool,
}

/// `on_scale`: the message reads as what a scale says.
pub fn read(input: Tokens<'_>, on_scale: bool) -> Option<Corrections> {
    let mut read = corrections_of(input, on_scale).or_else(|| {
        let plain = without_earlier(input)?;
        corrections_of(input.with_tokens(&plain), on_scale)
    })?;
    moved_last(&mut read.commands);
    without_rest(&mut read.commands);
    if let Some(given) = handed_over(&read.commands) {
        read.commands = vec![given];
    }
    Some(read)
}

/// "my dal earlier was 150 not 200": where two amounts are told, of which one is put right, it tells nothing.
fn without_earlier(input: Tokens<'_>) -> Option<Vec<Token>> {
    let earlier = |token: &Token| token.norm() == "earlier";
    let denied = |at: usize| input.norm(at) == "not" && input.slice[at + 1].is_numeric();
    let told = (0..input.len().saturating_sub(1)).any(denied);
    let rest: Vec<Token> = input
        .slice
        .iter()
        .filter(|it| !earlier(it))
        .cloned()
        .collect();
    (told && rest.len() < input.len()).then_some(rest)
}

/// "take 40 off my soup, I gave that to Tom": what came off is what he was given.
fn handed_over(commands: &[Command]) -> Option<Command> {
    let [
        Command::Fix(Fix::PutBack(items)),
        Command::Fix(Fix::Whose { who, of: Of::Last }),
    ] = commands
    else {
        return None;
    };
    let [item] = items.as_slice() else {
        return None;
    };
    let name = (!item.name.text.is_empty()).then(|| item.name.clone());
    Some(Command::Fix(Fix::Whose {
        who: who.clone(),
        of: Of::Part(item.amount.clone(), name),
    }))
}

/// "only ate half of it, the rest went back in the pot": the rest is what the plate is less by.
fn without_rest(commands: &mut Vec<Command>) {
    let less = |command: &Command| matches!(command, Command::Fix(Fix::Amount { new: Figure::Times(times), .. }) if *times < 1.0);
    let all = |command: &Command| {
        let Command::Fix(Fix::PutBack(items)) = command else {
            return false;
        };
        let whole = |item: &Item| item.amount == Amount::Share(1.0) && item.name.text.is_empty();
        matches!(items.as_slice(), [item] if whole(item))
    };
    if let [first, second] = commands.as_slice()
        && less(first)
        && all(second)
    {
        commands.truncate(1);
    }
}

/// "that was dinner, and rice was 120": what was put right is found where it stands, so it goes elsewhere last.
pub fn moved_last(commands: &mut [Command]) {
    commands.sort_by_key(|command| matches!(command, Command::Fix(Fix::When { .. })));
}

fn corrections_of(input: Tokens<'_>, on_scale: bool) -> Option<Corrections> {
    let body = input.trimmed();
    let asked = body.slice.iter().any(|token| token.is('?'));
    // What a scale says of a vessel, or of what is left in all, corrects no plate.
    let told = matches!(
        body.norm(0),
        "only" | "recounted" | "recount" | "counted" | "weighed"
    );
    let vessel = body.slice.iter().any(|token| containers().holds(token));
    if vessel && let Some(command) = tare::read(body) {
        return Some(Corrections {
            commands: vec![command],
            ..Corrections::default()
        });
    }
    let weighed = (told || vessel) && on_scale
        || body.norm(0) == "only" && body.last().is_some_and(|last| last.norm() == "left");
    if body.is_empty() || body.len() > TOKENS_MAX || asked || weighed {
        return None;
    }
    if let Some(command) = clause(body) {
        let arrow = body
            .slice
            .iter()
            .any(|token| token.is('→') || token.is('>'));
        return Some(Corrections {
            weak: arrow || figure::is_retyped(&command),
            commands: vec![command],
            talk: false,
        });
    }
    if let Some(commands) = listed::read(body) {
        return Some(Corrections {
            commands,
            ..Corrections::default()
        });
    }
    let instead = |separates: &dyn Fn(&Token) -> bool| instead::read(&pieces(body, separates));
    if let Some(command) = instead(&is_mark).or_else(|| instead(&|it| is_mark(it) || is_joint(it)))
    {
        return Some(Corrections {
            commands: vec![command],
            ..Corrections::default()
        });
    }
    let several = |separates: &dyn Fn(&Token) -> bool| clauses::read(&pieces(body, separates));
    let joined = || body.slice.iter().any(is_joint);
    several(&is_mark).or_else(|| {
        let either = || several(&|token| is_mark(token) || is_joint(token));
        joined().then(either).flatten()
    })
}

/// The clauses; "sorry, 500": an excuse by itself is of the clause that follows.
fn pieces<'a>(body: Tokens<'a>, separates: &dyn Fn(&Token) -> bool) -> Vec<Tokens<'a>> {
    let mut out = Vec::new();
    let mut from = 0;
    for at in 0..=body.len() {
        let piece = body.range(from, at);
        let ends = at == body.len();
        if !ends && (!separates(&body.slice[at]) || is_excuse(piece)) {
            continue;
        }
        out.push(piece);
        from = at + 1;
    }
    out
}

/// "sorry", "no": nothing but what says that something is put right.
fn is_excuse(piece: Tokens<'_>) -> bool {
    let piece = piece.trimmed();
    !piece.is_empty() && without_excuse(piece).is_empty() && takes_back(piece).is_none()
}

fn is_mark(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!' | '(' | ')')
    )
}

fn is_joint(token: &Token) -> bool {
    matches!(token.norm(), "and" | "so" | "but" | "cos" | "because")
}

/// One correction, whole.
fn clause(piece: Tokens<'_>) -> Option<Command> {
    if let Some(name) = off::denied(piece) {
        return Some(Command::Fix(Fix::Remove(Line::named(name))));
    }
    let bare = without_excuse(piece);
    let excused = bare.len() < without_lead(piece).len();
    let body = without_closing(bare);
    let closed = closes(bare, body);
    if body.is_empty() {
        return None;
    }
    if let Some(command) = by::read(body) {
        return Some(command);
    }
    // "for Tom too" takes nothing from whoever has it.
    let too = matches!(bare.last().map(Token::norm), Some("too" | "also"))
        || bare.len() > 2
            && bare.norm(bare.len() - 2) == "as"
            && bare.norm(bare.len() - 1) == "well";
    let fix = whole_of(body, "swapped")
        .then_some(Fix::Swapped)
        .or_else(|| figure::times(body))
        .or_else(|| other_dish::read(body))
        .or_else(|| closed.then(|| other_dish::weighs(body)).flatten())
        .or_else(|| whose::read(body, excused).filter(|_| !too))
        .or_else(|| off::taken_out(bare))
        .or_else(|| off::put_back(body))
        .or_else(|| off::remove(body))
        .or_else(|| off::gone_again(bare))
        .or_else(|| figure::read(body, excused, closed));
    // "seconds, same again" keeps its last word.
    fix.map(Command::Fix)
        .or_else(|| off::more(bare))
        .or_else(|| off::more(body))
}

// ---- the words of corrections

/// How many tokens a phrase of this part takes at the front.
fn said(part: &'static str, input: Tokens<'_>) -> Option<usize> {
    corrections().longest_of(input.slice, part)
}

/// What follows a phrase of this part.
fn after<'a>(part: &'static str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    said(part, input).map(|length| input.after(length))
}

fn whole_of(input: Tokens<'_>, part: &'static str) -> bool {
    said(part, input) == Some(input.len())
}

/// Without a phrase of this part at the end.
fn before<'a>(part: &'static str, input: Tokens<'a>) -> Option<Tokens<'a>> {
    (1..input.len()).find_map(|at| whole_of(input.after(at), part).then(|| input.range(0, at)))
}

/// Without "no", "sorry", "oops" at the front.
pub fn without_excuse(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed_front();
    while let Some(length) = said("excuse", rest).or_else(|| said("lead", rest)) {
        rest = rest.after(length).trimmed_front();
    }
    rest
}

/// "no", "wrong one" before it, or "i meant" behind it: something is put right.
pub fn is_excused(input: Tokens<'_>) -> bool {
    said("excuse", without_lead(input)).is_some() || before("meaning", input.trimmed()).is_some()
}

/// "typo", "i meant" behind it.
pub fn is_meant(input: Tokens<'_>) -> bool {
    before("meaning", input.trimmed()).is_some()
}

/// Without "oh", "and", "well" at the front, which put nothing right.
fn without_lead(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed_front();
    while let Some(length) = said("lead", rest) {
        rest = rest.after(length).trimmed_front();
    }
    rest
}

/// Without "i mean", "lol", "misread the scale" at the end.
fn without_closing(input: Tokens<'_>) -> Tokens<'_> {
    let mut rest = input.trimmed_end();
    loop {
        let closing = before("closing", rest).or_else(|| before("meaning", rest));
        let length = outros().length_at_end(rest.slice);
        rest = match closing {
            Some(before) => before.trimmed_end(),
            None if length > 0 && length < rest.len() => {
                rest.range(0, rest.len() - length).trimmed_end()
            }
            None => return rest,
        };
    }
}

/// "i mean" is among the closing words: an amount before them puts another right.
fn closes(whole: Tokens<'_>, body: Tokens<'_>) -> bool {
    (body.len()..whole.len()).any(|at| said("meaning", whole.after(at)).is_some())
}

fn is_known(name: Tokens<'_>) -> bool {
    name::familiarity(&name.words().text, name) >= name::Familiarity::Food
}

/// "the beans": something that is eaten.
fn known_name(input: Tokens<'_>) -> Option<Words> {
    let name = name::bare(input);
    let fits = name.is_wordy() && name.len() <= NAME_WORDS_MAX && is_known(name);
    fits.then(|| name.words())
}

/// "the rice", "Ana's soup", "mine": the line that is put right; `None` where the words mean none.
fn line(input: Tokens<'_>) -> Option<Line> {
    let input = input.trimmed();
    if input.is_empty() || whole_of(input, "that") && input.norm(0) != "mine" {
        return Some(Line::default());
    }
    if let Some((rest, owner)) = owner(input) {
        let rest = match rest.norm(0) {
            "one" | "plate" | "bowl" | "portion" | "share" | "bit" => rest.after(1),
            _ => rest,
        };
        let name = match rest.is_empty() {
            true => None,
            false => Some(known_name(rest)?),
        };
        let owner = Some(owner);
        return Some(Line {
            name,
            owner,
            ..Line::default()
        });
    }
    let name = Some(known_name(without_stand_in(input))?);
    Some(Line {
        name,
        ..Line::default()
    })
}

/// "lunch", "dinner": a plate, and nothing that lies on one.
fn of_meal(name: &str) -> Option<MealName> {
    match meals().get(&name.to_lowercase())? {
        "breakfast" => Some(MealName::Breakfast),
        "lunch" => Some(MealName::Lunch),
        "dinner" if name.to_lowercase() != "tea" => Some(MealName::Dinner),
        _ => None,
    }
}

/// "the dal one", "the rice entry"
fn without_stand_in(input: Tokens<'_>) -> Tokens<'_> {
    match before("stand in", input) {
        Some(name) if known_name(name).is_some() => name,
        _ => input,
    }
}

/// "Ana's", "mine", "my": whose plate a line is on.
fn owner(input: Tokens<'_>) -> Option<(Tokens<'_>, Words)> {
    if matches!(input.norm(0), "mine" | "my") {
        return Some((input.after(1), Words::new("mine", input.range(0, 1).span())));
    }
    let (length, who) = crate::lang::person::person(input)?;
    is_possessive(input, length, &who).then(|| (input.after(length), owning(input, length, who)))
}

/// "Ana's", "anas" and not "Ana".
fn is_possessive(input: Tokens<'_>, length: usize, who: &Words) -> bool {
    let last = input.norm(length - 1);
    last != who.text.to_lowercase() || bare_owner(input, length).is_some()
}

/// "toms" is Tom.
fn bare_owner<'a>(input: Tokens<'a>, length: usize) -> Option<&'a str> {
    let owner = input.norm(length - 1).strip_suffix('s')?;
    (length == 1 && input.vocabulary.is(Sense::Person, &[owner])).then_some(owner)
}

fn owning(input: Tokens<'_>, length: usize, mut who: Words) -> Words {
    let whole = bare_owner(input, length).filter(|owner| owner.len() < who.text.len());
    if whole.is_some() {
        who.text.pop();
    }
    who
}
