//! Which reading is meant, whether it may book unasked, and why.
//!
//! A reading is sure when it covers the message, every name in it is known, and nothing forbids it. A
//! message that only looks like a weighing may be asked about.

use crate::lang::command::portion::Plates;
use crate::lang::command::spoken_of::is_stand_in;
use crate::lang::lexer::folded_words;
use crate::lang::lexicon;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::place::names_place;
use crate::lang::syntax::{
    Amount, Choice, Command, Error, ErrorKind, IngredientLine, KeepsFor, LineContent, NewBatch,
    Reading, Reason, Setting,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::Tokens;
use crate::lang::veto::{forbids, is_strict, vetoes_in};
use crate::lang::vocabulary::Sense;

mod avoid;
mod beside;
mod bought;
mod clock;
mod cookbook;
mod finder;
mod fix;
mod mixed;
mod people;
mod personal;
mod plate;
mod prep;
mod received;
mod scale;

pub use beside::{beside_talk, is_by_eye};
pub use bought::is_bought;
pub use fix::{correct_talk, corrections};
pub use plate::{SCALE_GRAMS_MIN, plates};
use plate::{looks_weighed, mentions_household};
use received::received;
pub use scale::scale;

/// A complete reading of one command.
pub fn complete(input: Tokens<'_>, verb: &'static str, rank: i32, command: Command) -> Reading {
    let mut reasons = vec![Reason::Verb(verb), Reason::Complete];
    let (known, sure, like) = match &command {
        // There is such a dish already: another pot of it, or the same one told again?
        Command::Batch(batch) if verb == "cooked down" => {
            let new = familiarity(&batch.name.text, input) != Familiarity::Household;
            let quiet = vetoes_in(input).is_empty();
            if !new {
                reasons.push(Reason::Veto("a dish of that name"));
            }
            (0, new && quiet, quiet)
        }
        Command::Batch(batch) => {
            let lines = batch.lines.iter().any(|line| {
                matches!(
                    &line.content,
                    LineContent::Ingredient {
                        amount: Some(_),
                        ..
                    }
                )
            });
            let told = lines || !batch.weighings.is_empty();
            let opened = names_food(&batch.name.text) && vetoes_in(input).is_empty();
            let stands = !batch.places.is_empty() && has_unit(input);
            let counted = verb == "made pieces" && (stands || is_of_food(batch, input));
            let counted = counted && vetoes_in(input).is_empty();
            let strong = verb == "batch" && (told || opened) || counted;
            let weak = verb != "batch"
                && told
                && is_of_food(batch, input)
                && lines
                && (!batch.weighings.is_empty() || batch.lines.len() > 1)
                && vetoes_in(input).is_empty();
            (0, strong || weak, strong || weak)
        }
        Command::Amend { batch, .. } => {
            let (known, ..) = by_name(&batch.text, input, &mut reasons);
            (known, known > 0, known > 0)
        }
        Command::Weigh { batch, .. } if batch.text.is_empty() => {
            let quiet = vetoes_in(input).is_empty();
            (0, quiet, quiet)
        }
        Command::Add { batch, .. } | Command::Weigh { batch, .. } => {
            by_name(&batch.text, input, &mut reasons)
        }
        Command::PourOff { batch, poured, .. } => {
            let named = batch
                .as_ref()
                .is_none_or(|batch| familiarity(&batch.text, input) >= Familiarity::Food);
            let told = matches!(
                poured.amount,
                crate::lang::syntax::Amount::Mass(_)
                    | crate::lang::syntax::Amount::Volume { .. }
                    | crate::lang::syntax::Amount::Bare(_)
            );
            let sure = named && told && vetoes_in(input).is_empty();
            (0, sure, sure)
        }
        Command::OnScale(_) => (0, false, false),
        Command::Portion(portion) => {
            let portions = vec![portion.clone()];
            return plates(
                input,
                rank,
                Plates {
                    portions,
                    ..Plates::default()
                },
            );
        }
        Command::Count { items, .. } if items.is_empty() => (0, !forbids(input), false),
        // "we're out of dal", "no more dal": of a dish that stands here it lacks nothing else.
        Command::Count { items, .. } if items.iter().all(|item| item.weighing.is_nothing()) => {
            let names = items.iter().map(|item| item.name.text.as_str());
            let (known, stand) = all_stand(names, input, &mut reasons);
            let strict = |veto: &&str| is_strict(veto) && *veto != "shopping";
            let quiet = !vetoes_in(input).iter().any(strict);
            (known, stand && quiet, stand && quiet)
        }
        Command::Count { items, .. } => all_known(
            items.iter().map(|item| item.name.text.as_str()),
            input,
            &mut reasons,
        ),
        Command::Waste { items, .. } => all_known(
            items.iter().map(|item| item.name.text.as_str()),
            input,
            &mut reasons,
        ),
        Command::Receive(receive) => received(receive, input, &mut reasons),
        Command::Keeps(KeepsFor { name, .. }) | Command::UseBy { name, .. } => {
            // "we keep falafel 3 days": the house itself, of what it has not cooked yet.
            let ours = matches!(command, Command::Keeps(_))
                && familiarity(&name.text, input) == Familiarity::Food
                && matches!(input.norm(0), "we" | "i" | "our" | "here" | "in" | "at");
            let (known, ..) = match ours {
                true => (20, true, true),
                false => by_name(&name.text, input, &mut reasons),
            };
            let forbids = vetoes_in(input).into_iter();
            // Days, what will keep and what the chart says are what is told.
            let told = ["recipe", "plan"];
            let quiet = !forbids
                .filter(|veto| is_strict(veto))
                .any(|veto| !told.contains(&veto));
            (known, known > 0 && quiet, known > 0 && quiet)
        }
        // "mine is a shelf"
        Command::PlaceIs { name, .. } => {
            let sure = names_place(&name.text, input) && vetoes_in(input).is_empty();
            (0, sure, false)
        }
        Command::Pieces(of) => {
            let (known, ..) = match is_stand_in(&of.batch.text) {
                true => (20, true, true),
                false => by_name(&of.batch.text, input, &mut reasons),
            };
            let quiet = !forbids(input);
            (known, known > 0 && quiet, known > 0 && quiet)
        }
        // "dal in the fridge": the books tell whether that is news.
        Command::Move(moved) if matches!(verb, "stated" | "put there") => {
            let (known, ..) = mixed::moved(moved, input, &mut reasons);
            // "left the dal on the counter" tells what stays.
            reasons.retain(|reason| *reason != Reason::Veto("stock talk"));
            (known, false, false)
        }
        Command::Move(moved) => mixed::moved(moved, input, &mut reasons),
        Command::Spread(said) => mixed::spread(said, input, &mut reasons),
        Command::Label(label) => mixed::label(label, input),
        Command::Clock(told) => clock::judged(told, input, verb),
        Command::Setting(Setting::Clock(_)) => clock::chosen(input),
        Command::Setting(Setting::DayTurns(_)) => clock::turns(input),
        // "kJ" alone may be said of anything.
        Command::Setting(Setting::Energy(_)) => (0, input.trimmed().len() > 1, false),
        // A code alone, as it stands on a label.
        Command::Show { name } if input.trimmed().len() == 1 => {
            let (known, _, _) = by_name(&name.text, input, &mut reasons);
            let word = folded_words(&name.text);
            let word: Vec<&str> = word.iter().map(String::as_str).collect();
            (known, input.vocabulary.is(Sense::Code, &word), false)
        }
        // "rice is 2.20 a kilo" is said of shops: only to the bot it is told for the books.
        Command::Price(price) => {
            let mut forbids = vetoes_in(input);
            forbids.retain(|veto| *veto != "price" && *veto != "past talk");
            let (known, _, _) = by_name(&price.dish.text, input, &mut reasons);
            let ours = known > 0 || input.vocabulary.is(Sense::Code, &[&price.dish.text]);
            (40, forbids.is_empty() && !price.a_kilo && ours, false)
        }
        Command::Prep(said) => prep::judged(said, verb, input, &mut reasons),
        Command::Cookbook(said) => cookbook::judged(said, input),
        Command::Finder(said) => (0, finder::is_meant(said, input), false),
        Command::Avoid(said) => (0, avoid::is_meant(said, input), false),
        Command::People(said) => (0, people::is_meant(said, input), false),
        Command::Personal(said) => (0, personal::is_meant(said, input), false),
        Command::Eaten { .. } if verb == "my day" => (0, personal::is_own_day(input), false),
        Command::Drift { .. } => (0, input.trimmed().len() > 1, false),
        Command::Course { .. } => (0, input.trimmed().len() > 1, false),
        Command::Wasted { .. } => {
            let report = input.slice.iter().any(|token| token.norm() == "report");
            (0, input.trimmed().len() > 2 || report, false)
        }
        // Whatever is planned, asked or wished moves nothing; "didn't weigh it" denies no food.
        Command::Take(taking) => {
            let names = taking.dishes.iter().map(|dish| dish.text.as_str());
            let (known, stand) = all_stand(names, input, &mut reasons);
            // "grabbed some" is said of shops as well.
            let strict = |veto: &&str| is_strict(veto) && *veto != "shopping";
            let quiet = !vetoes_in(input).iter().any(strict);
            (known, stand && quiet, stand && quiet)
        }
        // What is found is not planned, asked or wished.
        Command::Reopen(said) => {
            let (known, stand) =
                all_stand([said.dish.text.as_str()].into_iter(), input, &mut reasons);
            let strict = |veto: &&str| is_strict(veto) && *veto != "shopping";
            let quiet = !vetoes_in(input).iter().any(strict);
            (known, stand && quiet, stand && quiet)
        }
        Command::Claim(_) => {
            let quiet = verb == "claim" && !forbids(input);
            (20, quiet, quiet)
        }
        // Every word of it is one that tells of a remainder.
        Command::LeftOver(_) => (0, true, true),
        Command::Boxes(boxes) => mixed::boxes(boxes, input, &mut reasons),
        Command::TopUp(top_up) => mixed::top_up(top_up, input, &mut reasons),
        // "when was the stew made", "how long will it keep": the dish is the household's, and that is asked.
        Command::Show { name }
        | Command::Whereabouts { name }
        | Command::Dates { name }
        | Command::History { name }
            if matches!(verb, "whereabouts" | "history") =>
        {
            let (known, ..) = by_name(&name.text, input, &mut reasons);
            let supposed = vetoes_in(input).contains(&"conditional");
            (known, known > 0 && !supposed, known > 0 && !supposed)
        }
        Command::HowMuch { name }
        | Command::Whereabouts { name }
        | Command::Dates { name }
        | Command::History { name }
        | Command::Show { name }
        | Command::Portions { name } => by_name(&name.text, input, &mut reasons),
        Command::Fact { amount, name, .. } => match familiarity(&name.text, input) {
            Familiarity::Household | Familiarity::Food => (20, true, true),
            _ => (
                0,
                false,
                matches!(amount, Some(Amount::Mass(_))) && asks_energy(input),
            ),
        },
        // Sure only where a caution stands, which the books tell.
        Command::Done | Command::Why | Command::LastPlate => (0, false, false),
        // Read by `corrections`.
        Command::Fix(_) => (0, false, false),
        Command::Again(again) => (0, fix::is_plain_again(again), false),
        // Counts only against the question; alone it is talk.
        Command::Choose(Choice::Plates(_)) => (0, false, false),
        Command::Undo if verb == "undo lately" => (0, false, false),
        Command::Eaten { who, .. } => (0, personal::is_day(who.as_ref(), input), false),
        // A limit is told in a sentence of its own (gist/not_yet.rs).
        Command::NotYet { .. } => (0, false, false),
        // One word may be talk: "help!".
        Command::Help { topic } => {
            let plain = topic.as_ref().is_none_or(|topic| !topic.text.contains(' '));
            let quiet = !input.slice.iter().any(|token| token.is('!'));
            (0, plain && quiet, false)
        }
        Command::Packet(packet) => (0, packet.values.len() > 1, true),
        // "the oven dish is 1460 empty": what it is called forbids nothing.
        Command::TeachContainer { name, .. } => {
            // A gap stays, so that "is" begins no question.
            let beside = |token: &Token| match name.span.contains(&token.span.start) {
                true => Token::new(Kind::Symbol(','), token.span.clone(), token.spaced),
                false => token.clone(),
            };
            let beside: Vec<Token> = input.slice.iter().map(beside).collect();
            let sure = vetoes_in(input.with_tokens(&beside)).is_empty();
            (0, sure, sure)
        }
        Command::Tares { name } => (0, mixed::is_vessel(name.as_ref(), input), false),
        Command::TeachMeasure { .. } | Command::ContainerHolds { .. } | Command::Setting(_) => {
            let sure = vetoes_in(input).is_empty();
            (0, sure, sure)
        }
        // "settings" alone may be those of a telephone.
        Command::Settings(_) => (0, input.trimmed().len() > 1, false),
        // "inventory" and "stock check" are words of talk as well.
        Command::Sheet => {
            let said = input.trimmed();
            let named = said
                .slice
                .iter()
                .any(|token| token.norm().starts_with("recount"));
            (0, named || said.len() > 1, false)
        }
        Command::Stock { .. }
        | Command::Due
        | Command::PastDate
        | Command::Thawing
        | Command::Undo
        | Command::UndoMove { .. }
        | Command::UndoCount { .. }
        | Command::UndoWaste { .. }
        | Command::Redo
        | Command::Drop
        | Command::Choose(_)
        | Command::SetUp(_)
        | Command::Start { .. } => (0, true, false),
    };
    Reading {
        commands: vec![command],
        errors: Vec::new(),
        reasons,
        rank: rank + known,
        sure,
        weighing_like: like,
    }
}

/// Whether anything in it is a food at all: "cut the shelf at 642, it needed 645" is none.
fn is_of_food(batch: &NewBatch, input: Tokens<'_>) -> bool {
    let foods = |name: &str| {
        let words = crate::lang::lexer::folded_words(name);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let ends = words.first().into_iter().chain(words.last());
        lexicon::is_food(&words)
            || ends.into_iter().any(|word| {
                lexicon::is_food(&[word]) && !lexicon::is_ordinary(&[word])
                    || input.vocabulary.names_food(word)
            })
    };
    let line = |line: &IngredientLine| match &line.content {
        LineContent::Ingredient { name, .. } => foods(&name.text),
        LineContent::Unclear(_) => false,
    };
    foods(&batch.name.text) || batch.lines.iter().any(line)
}

/// A weight that says what it is in.
fn has_unit(input: Tokens<'_>) -> bool {
    let unit = |token: &Token| matches!(token.norm(), "g" | "gram" | "grams" | "kg" | "kilo");
    input.slice.iter().any(unit)
}

fn names_food(name: &str) -> bool {
    let folded = crate::lang::lexer::folded_words(name);
    !folded.is_empty()
        && folded.len() <= 4
        && folded
            .iter()
            .all(|word| lexicon::is_food_word(word) || lexicon::describes(word))
}

/// A command on one batch stands or falls with its name.
fn by_name(name: &str, input: Tokens<'_>, reasons: &mut Vec<Reason>) -> (i32, bool, bool) {
    let quiet = vetoes_in(input)
        .iter()
        .all(|reason| matches!(*reason, "question" | "stock talk"));
    match familiarity(name, input) {
        Familiarity::Household => {
            reasons.push(Reason::Known(name.to_owned()));
            (40, quiet, quiet)
        }
        Familiarity::Food => {
            reasons.push(Reason::Food(name.to_owned()));
            (-60, false, false)
        }
        _ => {
            reasons.push(Reason::UnknownName(name.to_owned()));
            (-120, false, false)
        }
    }
}

fn all_known<'n>(
    names: impl Iterator<Item = &'n str>,
    input: Tokens<'_>,
    reasons: &mut Vec<Reason>,
) -> (i32, bool, bool) {
    let (known, stand) = all_stand(names, input, reasons);
    // Why it was wasted or counted may be talk of anything: "it smelled", "4 days old".
    let sure = stand && !forbids(input);
    (known, sure, sure)
}

/// What the names are worth, and whether all are known and one of them stands in this household.
fn all_stand<'n>(
    names: impl Iterator<Item = &'n str>,
    input: Tokens<'_>,
    reasons: &mut Vec<Reason>,
) -> (i32, bool) {
    let mut all = true;
    let mut household = false;
    for name in names {
        let familiar = familiarity(name, input);
        let known = familiar >= Familiarity::Food;
        household |= familiar == Familiarity::Household;
        reasons.push(if known {
            Reason::Known(name.to_owned())
        } else {
            Reason::UnknownName(name.to_owned())
        });
        all &= known;
    }
    (if all { 20 } else { -40 }, all && household)
}

/// A verb was said, and what follows it cannot be read.
pub fn malformed(input: Tokens<'_>, verb: &'static str, rank: i32, error: Error) -> Reading {
    let like = mentions_household(input) && vetoes_in(input).is_empty() && input.has_number();
    Reading {
        commands: Vec::new(),
        errors: vec![error],
        reasons: vec![Reason::Verb(verb)],
        rank: rank - 300,
        sure: false,
        weighing_like: like,
    }
}

/// Nothing could be read.
pub fn not_understood(input: Tokens<'_>) -> Reading {
    Reading {
        commands: Vec::new(),
        errors: vec![input.error(ErrorKind::NotUnderstood)],
        reasons: Vec::new(),
        rank: -1000,
        sure: false,
        weighing_like: vetoes_in(input).is_empty() && looks_weighed(input, false),
    }
}

fn asks_energy(input: Tokens<'_>) -> bool {
    input
        .slice
        .iter()
        .take(3)
        .any(|token| matches!(token.norm(), "kcal" | "kcals" | "calories" | "cals"))
}
