//! Text to syntax: what a message can mean, before anyone knows what its words stand for.
//!
//! Pure. [`parse`] never fails and never guesses: it gives every reading with the reasons for it, the best
//! first. Names are passed in as a [`Vocabulary`], since glued text cannot be cut without them.
//!
//! # Grammar
//!
//! ```text
//! message  := ["@hobside" [":" | ","]] ["/"] command
//! command  := batch | add | amend | weigh | pour-off | portion | count | waste | move | take | claim | stock | how-much | fact
//!           | show | help | packet | measure | tare | holds | setting | undo | drop | choose | start | not-yet
//! batch    := verb name { sep part }                            command/batch.rs
//! add      := name "+" lines | "add" lines "to" name            command/add.rs
//! amend    := name "line" n ":" line | name "line" n "off"      command/amend.rs
//! weigh    := name verb weighing                                command/weigh.rs
//! pieces   := "makes" n | n word [mass] | dish "is" n word         pieces.rs, command/pieces.rs
//! weighing := figure { sep figure }                              weighing/
//! receive  := "bought" items [place] | "already there" items     command/receive.rs
//! keeps    := how long a dish keeps, a told date, what kind of place one is   command/keeps.rs, use_by.rs, place_is.rs
//! pour-off := verb amount what ["from" name]                    command/pour_off.rs
//! label    := "label" what ["in" place] [size] ["on" page]      command/label.rs
//! move     := verb items ["from" place] ["to" place] [bags]      command/moving.rs
//! take     := [who] "took" some dish | "the missing" dish "was" whose   command/take.rs, claim.rs
//! wasted   := "what did we throw away" [period] | dish "cost" money      command/report.rs, price.rs
//! boxes    := number vessel ["of"] items | items "x" number vessel  command/boxes.rs
//! left-over := { weighing | "left over" | of | place }            command/left_over.rs
//! top-up   := verb name ["with"] lines                           command/top_up.rs
//! scale    := { food | vessel | mark } readings            command/scale.rs, scale/
//! portion  := { filler | day | meal | who } item { sep item }   command/portion.rs
//! shared   := who had what, and how it was divided              command/share/
//! fix      := what is put right, of which line                  command/fix/
//! again    := "same" [of whom or when] { "but" what differs }   command/again.rs
//! item     := amount name | name amount                         item/
//! amount   := share | vague | term { operator term } [pair]     amount/
//! term     := number unit | number measure* | number "x" term   amount/
//! number   := numeral | number words                            numeral.rs, number.rs
//! fact     := field ["in"] [amount] name                        command/fact.rs
//! clock    := timer | reminder | what waits | cancel | more    command/clock/, ahead.rs
//! personal := targets, days, weeks, numbers; who is at the table, and what they avoid   command/personal/, people.rs, avoid.rs
//! finder   := a plate that holds what is asked for              command/finder.rs
//! packet   := "packet" name ["per" amount] { figure field }     command/packet.rs
//! ```
//! A message may hold several commands (`statement.rs`), of which one names the dish for both (`carried.rs`), or a jar
//! beside a plate (`jars.rs`), and talk beside them, which is left out when it does not read whole (`aside.rs`,
//! `reckoned.rs`); what still is not sure is read for its gist (`gist/`), or clause by clause for the parts that
//! people had (`composed/`). Before that, the passes which `read` calls put what was said in the form that the readers
//! know, a file for each. What is left out because it is in hand is put in its place where the books tell what it is
//! (`elided.rs`). Each file heads with its own part in full. Words and numbers are cut by `lexer.rs`; word lists are
//! data (`data/*.txt`, read by `words.rs`); `rank/` and `veto.rs` judge the readings.

mod accounted;
mod address;
mod ahead;
mod amount;
pub mod answer;
mod as_much;
mod aside;
mod avoid;
mod bags;
mod body;
mod by_piece;
mod by_the_hour;
mod by_weight;
mod came_out;
mod carried;
mod clause;
mod clock;
mod command;
mod company;
mod composed;
mod cookbook;
mod courtesy;
mod date;
mod earlier;
mod elided;
mod emptied;
mod enumerated;
mod explained;
mod figures;
mod finder;
mod gist;
mod glued;
mod heard;
mod heated;
mod hour;
mod impossible;
mod in_context;
mod in_vessel;
mod item;
mod jars;
mod lasting;
mod left_for_later;
mod letters;
mod lexer;
pub mod lexicon;
mod line;
mod listed;
mod lost;
mod lots;
mod machine;
mod memory;
mod mixes;
mod name;
mod nearly;
mod no_meal;
mod number;
mod numeral;
mod of_others;
mod of_plates;
mod of_stock;
mod of_what;
mod of_what_is_left;
mod otherwise;
mod packets;
mod people;
mod person;
mod personal;
mod phrases;
mod pieces;
mod place;
mod plate;
mod plates_apart;
mod prep;
mod print;
mod rank;
mod read_off;
mod reading;
mod recipe;
mod reckoned;
mod remark;
mod repair;
mod reports;
mod run;
mod scale;
mod seasoning;
mod segment;
mod set_up;
mod settings;
mod shared;
mod sheet_lines;
mod so_many_times;
#[cfg(test)]
mod spelled;
mod statement;
mod sum;
mod summed;
pub mod syntax;
mod taken_from;
mod things;
mod together;
mod token;
mod tokens;
mod twice;
mod under_place;
mod uneaten;
mod unit;
mod unsaid_vessel;
mod vessel_one;
mod veto;
mod vocabulary;
mod weighed_raw;
mod weighing;
mod which;
mod words;
mod written_down;

pub use amount::is_packed;
pub use command::boxes::MIX;
pub use command::spoken_of::is_stand_in;
pub use command::take::SOMEBODY;
pub use elided::{Completion, Known};
pub use in_context::{completed, goes_on, hands_on, of_either, of_plates, of_what, parted};
pub use lexer::folded_words;
pub use of_plates::{Like, OfPlates};
pub use of_stock::{OfStock, corrected as of_stock};
pub use person::may_be_a_name;
pub use place::{is_common_place, may_be_place, place_kind};
pub use syntax::*;
pub use token::{Kind, Token};
pub use vocabulary::{Sense, Vocabulary, singular};

use answer::lexed;
use memory::Memory;
use reading::best_rank;
use tokens::{Read, Tokens};

/// A message, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Parsed {
    pub tokens: Vec<Token>,
    /// The best first; never empty.
    pub readings: Vec<Reading>,
    /// What it may put right of what was booked: the books must tell.
    pub remarks: Vec<Remark>,
    /// The message began with the bot's name or with a slash.
    pub addressed: bool,
}

impl Parsed {
    pub fn best(&self) -> &Reading {
        &self.readings[0]
    }
}

/// Characters of a message that are read; no channel of ours carries more.
const TEXT_BYTES_MAX: usize = 32 * 1024;
const FIX_RANK: i32 = 931;
const PORTION_RANK: i32 = 750;
/// What the readings of a scale say together: more than a list of names and numbers, less than a verb.
const SCALE_RANK: i32 = 835;

/// Read a message. Linear in its length; never fails.
pub fn parse(text: &str, vocabulary: &Vocabulary) -> Parsed {
    let text = readable(text);
    read(&mut tokens(text, vocabulary), text, vocabulary)
}

fn readable(text: &str) -> &str {
    let most = text.len().min(TEXT_BYTES_MAX);
    let cut = (0..=most).rev().find(|at| text.is_char_boundary(*at));
    &text[..cut.unwrap_or(0)]
}

fn tokens(text: &str, vocabulary: &Vocabulary) -> Vec<Token> {
    let mut tokens = lexer::lex(text);
    // "what happened to the rice??" asks no more than with one.
    tokens.dedup_by(|next, mark| next.is('?') && mark.is('?'));
    enumerated::drop(&mut tokens, text);
    heard::numbers(&mut tokens, vocabulary);
    heated::drop(&mut tokens);
    sum::reckon(&mut tokens);
    glued::cut(&mut tokens, vocabulary);
    tokens
}

fn read(tokens: &mut Vec<Token>, text: &str, vocabulary: &Vocabulary) -> Parsed {
    left_for_later::drop(tokens, text, vocabulary);
    written_down::turn(tokens, text, vocabulary);
    unsaid_vessel::put(tokens, text, vocabulary);
    vessel_one::choose(tokens, text, vocabulary);
    which::choose(tokens, text, vocabulary);
    taken_from::choose(tokens, text, vocabulary);
    otherwise::put_plainly(tokens, text, vocabulary);
    by_piece::put(tokens, text, vocabulary);
    twice::drop(tokens, text, vocabulary);
    summed::drop(tokens, text, vocabulary);
    listed::pair(tokens, text, vocabulary);
    as_much::repeat(tokens, text, vocabulary);
    of_what_is_left::drop(tokens, text, vocabulary);
    so_many_times::multiply(tokens, text, vocabulary);
    together::bracket(tokens, text, vocabulary);
    let as_said = tokens.clone();
    repair::repair(tokens, text, vocabulary);
    courtesy::drop(tokens, text, vocabulary);
    let mentioned = address::drop_mention(tokens);
    let memory = Memory::default();
    let all = Tokens {
        slice: tokens,
        text,
        vocabulary,
        memory: Some(&memory),
    };
    let (body, addressed, slashed) = address::without(all);
    let mut readings = heard(body, slashed);
    // A plate of a message that tells of a loss, or of adding up, may be less, or none.
    let spilled = |reading: &Reading| reading.only_eaten() && gist::tells_less(body);
    let certain = readings.iter().filter(|reading| reading.is_certain());
    if certain
        .max_by_key(|reading| reading.rank)
        .is_none_or(spilled)
    {
        readings.extend(gist::of_the_pots(body, best_rank(&readings) + 1));
    }
    let judged = |mut reading: Reading| {
        uneaten::judge(&mut reading, body);
        company::judge(&mut reading, body);
        accounted::judge(&mut reading, body);
        explained::judge(&mut reading, body);
        reading
    };
    let mut readings: Vec<Reading> = readings.into_iter().map(judged).collect();
    if !readings.iter().any(Reading::is_certain) {
        readings.extend(carried::over(body, heard_with_pots).map(judged));
    }
    if !readings.iter().any(Reading::is_certain)
        && let Some(told) = aside::without(body)
    {
        let memory = Memory::default();
        let weighed = Tokens {
            memory: Some(&memory),
            ..body.with_tokens(&told.tokens)
        };
        let blind =
            |reading: &Reading| told.talk_words > 0 && rank::correct_talk(&reading.commands, body);
        let beside = heard(weighed, false).into_iter();
        let beside = beside
            .filter(|it| !blind(it))
            .map(|reading| rank::beside_talk(reading, body, told.talk_words));
        readings.extend(beside.map(judged));
    }
    let mut nothing = rank::not_understood(body);
    // "170 chilli is mine" puts nothing right where nothing like it stands: then it is a plate.
    let sure = || readings.iter().filter(|reading| reading.sure);
    if sure().all(Reading::corrects) {
        let rank = best_rank(&readings) + if sure().count() > 0 { -1 } else { 1 };
        match gist::read(body, rank) {
            // What is put somewhere or simmers is on no plate, even if nobody knows the place.
            Ok(gist) if gist.only_eaten() && readings.iter().any(Reading::tells_no_plate) => {}
            Ok(gist) => readings.push(judged(gist)),
            Err(why) => nothing.reasons.push(Reason::NoGist(why)),
        }
    }
    if !readings.iter().any(|reading| reading.sure) {
        readings.extend(composed::read(body, best_rank(&readings) + 1));
    }
    readings.push(nothing);
    let written = machine::writes(body);
    if written {
        machine::judge(&mut readings);
    }
    hour::tell(&mut readings, body);
    readings.sort_by_key(|reading| std::cmp::Reverse(reading.rank));
    // What was put right in the same breath may quote what stands: "150, no wait, 130".
    let mut remarks = Vec::new();
    if as_said.len() > tokens.len() && !written {
        let said = all.with_tokens(&as_said);
        remarks.extend(remark::read(address::without(said).0));
    }
    remarks.extend(remark::read(body).filter(|_| !written));
    Parsed {
        tokens: std::mem::take(tokens),
        readings,
        remarks,
        addressed: addressed || mentioned,
    }
}

/// The same of one sentence of several, losses and counts among them.
fn heard_with_pots(part: Tokens<'_>) -> Vec<Reading> {
    let memory = Memory::default();
    let part = Tokens {
        memory: Some(&memory),
        ..part
    };
    let mut readings = heard(part, false);
    readings.extend(gist::of_the_pots(part, best_rank(&readings) + 1));
    readings
}

/// One line of a batch, as it would be read inside one.
pub fn ingredient_line(text: &str) -> IngredientLine {
    lexed(text, &Vocabulary::new(), |input| line::line(input, None))
}

/// Whether a line begins as a weighing does: "cooked", "gross", "total".
pub fn opens_weighing(text: &str) -> bool {
    lexed(text, &Vocabulary::new(), clause::leads)
}

/// Every reading of the tokens, as one command or as several.
fn heard(input: Tokens<'_>, slashed: bool) -> Vec<Reading> {
    let mut whole = readings(input, slashed);
    let read = |part| readings(part, false);
    let but_plates = |part| but_plates(part, false);
    let several = statement::several(input, &whole, read, but_plates);
    whole.extend(several);
    whole.extend(jars::beside(input, read));
    whole.extend(by_the_hour::read(input, |part| readings(part, false)));
    whole.extend(under_place::list(input, |part| readings(part, false)));
    whole.extend(plates_apart::read(input).or_else(|| emptied::read(input)));
    whole
}

/// Every reading of the tokens as one command.
fn readings(input: Tokens<'_>, slashed: bool) -> Vec<Reading> {
    let mut out = but_plates(input, slashed);
    let plates = command::portion::read(input).filter(|_| !is_blank(input));
    out.extend(plates.map(|plates| rank::plates(input, PORTION_RANK, plates)));
    out
}

fn is_blank(input: Tokens<'_>) -> bool {
    input.trimmed().is_empty() && !input.slice.iter().any(|token| token.is('?'))
}

/// Those that are no plate.
fn but_plates(input: Tokens<'_>, slashed: bool) -> Vec<Reading> {
    let mut out = Vec::new();
    if is_blank(input) {
        return out;
    }
    for &(verb, rank, reader) in command::COMMANDS
        .iter()
        .chain(command::prep::READERS)
        .chain(command::cookbook::READERS)
        .chain(command::clock::READERS)
        .chain(command::personal::READERS)
    {
        out.extend(judged(input, verb, rank, reader(input)));
    }
    if slashed {
        out.extend(judged(input, "start", 1000, command::start::read(input)));
    }
    let on_scale = command::scale::read(input);
    if let Some(fixes) = command::fix::read(input, on_scale.is_some())
        && !(fixes.talk && rank::correct_talk(&fixes.commands, input))
    {
        out.push(rank::corrections(input, FIX_RANK, fixes));
    }
    if let Some(said) = on_scale {
        out.push(rank::scale(input, SCALE_RANK, said));
    }
    out
}

fn judged<'a>(
    input: Tokens<'a>,
    verb: &'static str,
    rank: i32,
    read: Read<'a, Command>,
) -> Option<Reading> {
    match read {
        Ok((rest, command)) if rest.trimmed().is_empty() => {
            Some(rank::complete(input, verb, rank, command))
        }
        Err(nom::Err::Failure(error)) => Some(rank::malformed(input, verb, rank, error)),
        _ => None,
    }
}
