//! Random messages that make sense in the kitchen as it stands: a step is four numbers, and what they
//! say depends on the batches, messages and questions that there are.

use std::fmt;

use crate::home::{ANA, Home, ROBIN};
use hobside::domain::answer::Press;
use hobside::domain::batch::Batch;
use hobside::domain::ids::{MemberId, MessageId, QuestionId};

pub type Step = (u8, u16, u16, u16);

#[derive(Debug, Clone)]
pub enum Said {
    Message {
        who: MemberId,
        text: String,
    },
    /// To what was answered to an earlier message, whoever wrote that.
    Reply {
        to: MessageId,
        who: MemberId,
        text: String,
    },
    Edit {
        message: MessageId,
        text: String,
    },
    Press {
        who: MemberId,
        press: Press,
    },
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Said::Message { who, text } => write!(f, "  {}: {text:?}", who.0),
            Said::Reply { to, who, text } => write!(f, "  {} to {}: {text:?}", who.0, to.0),
            Said::Edit { message, text } => write!(f, "  edit of {}: {text:?}", message.0),
            Said::Press { who, press } => write!(f, "  {} presses {press:?}", who.0),
        }
    }
}

const NAMES: [&str; 6] = [
    "lentil dal",
    "beef chilli",
    "slaw",
    "tomato sauce",
    "chicken stew",
    "brown gravy",
];

/// What these numbers say here; nothing if there is nothing to say it about.
pub fn speak(home: &Home, (kind, a, b, c): Step) -> Option<Said> {
    let who = if a % 3 == 0 { ANA } else { ROBIN };
    let text = match kind % 56 {
        0..=3 => new_batch(home, a, b, c),
        4..=9 => portion(home, a, b, c)?,
        10 => add(home, a, b)?,
        11 | 12 => amend(home, a, b, c)?,
        13 | 14 => weigh(home, a, b)?,
        15 => pour(home, a, b)?,
        16 => waste(home, a, b)?,
        17 | 18 => recount(home, a, b, c)?,
        19 => teach(a, b),
        20 => "undo".into(),
        21 => "redo".into(),
        22..=25 => return edit(home, a, b, c),
        26 => return press_undo(home, a, b),
        27..=29 => return answer(home, a, b),
        30 => two_at_once(home, a, b, c)?,
        31..=34 => put_right(home, a, b)?,
        36 | 37 => return reply(home, who, a, b),
        40..=43 => put_elsewhere(home, a, b, c)?,
        44 | 45 => take(home, a, b)?,
        46 => claim(home, a, b)?,
        47..=49 => received(a, b, c),
        50 | 51 => told_of(home, a, b)?,
        52..=55 => mixed(home, a, b, c)?,
        38 => return edit_answer(home, a, b),
        _ => ["what's left", "help", "rubbish 12 34 quux", "cancel"][usize::from(b) % 4].into(),
    };
    Some(Said::Message { who, text })
}

/// Grams from a number: mostly plausible, never nothing.
fn grams(number: u16, most: u16) -> u16 {
    1 + number % most
}

fn open(home: &Home, number: u16) -> Option<&Batch> {
    let batches: Vec<&Batch> = home.kitchen.open_batches().collect();
    (!batches.is_empty()).then(|| batches[usize::from(number) % batches.len()])
}

fn any_batch(home: &Home, number: u16) -> Option<&Batch> {
    let batches: Vec<&Batch> = home.kitchen.batches.values().collect();
    (!batches.is_empty()).then(|| batches[usize::from(number) % batches.len()])
}

/// By its whole name, or by its code.
fn called(batch: &Batch, number: u16) -> String {
    match number % 3 {
        0 => batch.code.clone(),
        _ => batch.name.clone(),
    }
}

/// What nobody cooked here: bought, or there before; some of it counted.
fn received(a: u16, b: u16, c: u16) -> String {
    let mass = grams(b, 1500);
    match c % 8 {
        0 => format!("bought {mass} g frozen peas, freezer"),
        1 => format!(
            "bought {mass} g tofu, fridge, use by {} October 2026",
            14 + a % 17
        ),
        2 => format!("bought {} eggs, fridge", 2 + a % 20),
        3 => format!("there was already {} stew in the freezer", mass + 20),
        4 => format!("bought {mass} g minced beef, fridge"),
        5 => format!("{} g frozen peas, freezer", mass + 350),
        6 => format!("bought {mass} g tofu, cellar, like a fridge"),
        _ => format!(
            "there was already {} ragout in the fridge, made yesterday",
            mass + 20
        ),
    }
}

/// How many pieces it is, how long it keeps, what is printed on it, by the piece.
fn told_of(home: &Home, a: u16, b: u16) -> Option<String> {
    let batch = open(home, a)?;
    let name = &batch.name;
    Some(match b % 8 {
        0 => format!("{name} makes {}", 2 + b % 20),
        1 => format!("{name} keeps {} days", 1 + b % 9),
        2 => format!("{name} keeps as the chart says"),
        3 => format!("{name} use by {} October 2026", 14 + b % 17),
        4 => format!("{} pieces {}", 1 + b % 5, batch.code),
        5 => format!("froze {} pieces of {}", 1 + b % 5, batch.code),
        6 => format!("binned 1 piece of {}", batch.code),
        _ => "the cellar is like a freezer".into(),
    })
}

fn new_batch(home: &Home, a: u16, b: u16, c: u16) -> String {
    let name = NAMES[usize::from(a) % NAMES.len()];
    let (one, two, net) = (
        grams(b, 900),
        grams(c, 400),
        300 + grams(b.rotate_left(5) ^ c, 2500),
    );
    let inner = open(home, c).map_or_else(|| "butter".to_owned(), |batch| called(batch, b));
    match (b >> 3) % 12 {
        0 => format!(
            "batch {name}\n{one} g red lentils\n2 tbsp sunflower oil\n{two} g onion\ncooked {net}"
        ),
        1 => format!(
            "batch {name}\n{one} g red lentils\n400 ml coconut milk\ncooked {} in the pot, pot 470\nfreezer",
            net + 470
        ),
        2 => format!("batch {name} raw\n{one} g cabbage\n{two} g carrots\n1 pinch salt"),
        3 => format!("batch {name}\n{one} g beef mince\n{two} g onion"),
        4 => format!("batch {name}; {one} g white rice; {two} g water; cooked {net}"),
        5 => format!(
            "batch {name}\n{one} g chicken thigh\nmarinade:\n{two} g soy sauce\n20 g honey\npoured off {} g marinade\ncooked {net}",
            1 + two / 3
        ),
        6 => format!("batch {name}\n{one} g beef mince\n{two} g {inner}\ncooked {net}"),
        7 => format!(
            "batch {name}\n{one} g potatoes\n{two} g quonkfruit\nsalt\ncooked {net} + 400, bowl 212, 2 bags 9 each"
        ),
        8 => format!("batch {name}\n1 lb 4 oz potatoes\n{two} g {inner}\n3 eggs"),
        9 => format!(
            "batch {name}\n{one} g red lentils\n{one} g red lentils\n12 quonks cumin\ncooked {net}"
        ),
        10 => format!("batch {name} raw, {one} g cucumber, {two} g {inner}, made yesterday"),
        _ => format!("batch {name}\n{one} g white rice\ncooked 3 lb gross, tare 400 g"),
    }
}

fn portion(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let first = called(open(home, a)?, b);
    let second = called(open(home, c)?, a);
    let (one, two) = (grams(b, 500), grams(c, 300));
    Some(match (a >> 4) % 14 {
        0..=3 => format!("{one} {first}"),
        4 => format!("{one} {first}, {two} {second}"),
        5 => format!("{one} {first}, 2 tsp olive oil"),
        6 => format!("half the {first}"),
        7 => format!("rest of the {first}"),
        8 => format!("{one} {first} anyway"),
        9 => format!("40-50 {first}"),
        10 => format!("yesterday {one} {first} for lunch"),
        11 => format!("{one} {first} for Ana"),
        12 => format!("old {first} {one}"),
        _ => format!("{one} {first}\n{two} {second}\n100 g banana"),
    })
}

fn add(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = called(open(home, a)?, b);
    let inner = called(open(home, b)?, a);
    Some(match b % 4 {
        0 => format!("{name} + {} g butter", grams(b, 90)),
        1 => format!("{name} + {} g {inner}", grams(b, 200)),
        2 => format!("{name} + 1 tsp cumin, {} g carrots", grams(a, 200)),
        _ => format!("{name} + 100 g snarkroot"),
    })
}

fn amend(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let batch = open(home, a)?;
    let number = 1 + b % 4;
    let inner = open(home, c)?;
    Some(match c % 4 {
        0 => format!("{} line {number} off", batch.code),
        1 => format!(
            "{} line {number}: {} g {}",
            batch.code,
            grams(c, 200),
            inner.code
        ),
        _ => format!("{} line {number}: {} g carrots", batch.code, grams(c, 600)),
    })
}

fn weigh(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = called(open(home, a)?, b);
    let net = grams(b, 2500);
    Some(match a % 5 {
        0 | 1 => format!("{name} weighed {net}"),
        2 => format!("{name} weighed {net} left"),
        3 => format!("{name} weighed {net} whole"),
        _ => format!("{name} cooked {} in the pot, pot 470", net + 470),
    })
}

fn pour(home: &Home, a: u16, b: u16) -> Option<String> {
    let batch = open(home, a)?;
    let name = called(batch, b);
    let grams = grams(b, 150);
    Some(match a % 4 {
        0 => format!("poured off {grams} g marinade from {name}"),
        1 => format!("drained {grams} g fat from {name}"),
        2 => format!("poured off {grams} g liquid from {name} anyway"),
        _ => format!("drained {grams} g fat"),
    })
}

fn waste(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = called(open(home, a)?, b);
    Some(match a % 4 {
        0 => format!("binned the rest of the {name}, slimy"),
        1 => format!("binned {} {name} anyway", grams(b, 900)),
        _ => format!("binned {} {name}", grams(b, 300)),
    })
}

fn put_elsewhere(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let name = called(open(home, a)?, b);
    let (one, two) = (grams(b, 500), grams(c, 400));
    Some(match a % 12 {
        8 => format!("{one} {name} from the freezer"),
        9 => format!("half the {name} from the garage freezer"),
        10 => format!("binned {two} {name} from the freezer"),
        11 => format!("{one} {name} from the fridge anyway"),
        0 => format!("froze the {name}"),
        1 => format!("froze {name} in two bags, {one} and {two}"),
        2 => format!("moved {one} {name} to the garage freezer"),
        3 => format!("thaw {one} {name}"),
        4 => format!("thawed the {name}"),
        5 => format!("moved {one} {name} from the freezer to the garage freezer"),
        6 => format!("put {one} {name} in the fridge"),
        _ if b.is_multiple_of(4) => "add a place, garage freezer".into(),
        _ => format!("froze {one} {name}"),
    })
}

/// Made of others: topped up, left over, packed.
fn mixed(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let name = called(open(home, a)?, b);
    let other = called(open(home, c)?, a);
    let (one, two) = (grams(b, 300), grams(c, 150));
    Some(match (a >> 3) % 9 {
        0 => format!("topped up {name} with {two} g water"),
        1 => format!("topped up {name} with {two} g {other}, {} now", one + 200),
        2 => format!("topped up {name} by {two}"),
        3 => format!("{one} left over, fridge"),
        4 => format!("{two} left over from dinner, freezer"),
        5 => format!("leftovers off the plates: {one} g"),
        6 => format!("3 boxes of {} {name}, {} {other}", one / 4 + 1, two / 4 + 1),
        7 => format!("3 boxes of {} {name}, 1 in the freezer", one / 4 + 1),
        _ => "ate a box".into(),
    })
}

fn recount(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let batch = any_batch(home, a)?;
    let near = (batch.left().grams() as u16)
        .saturating_add(grams(c, 60))
        .max(31)
        - 30;
    let place = ["fridge", "freezer", "garage freezer"][usize::from(c) % 3];
    Some(match b % 5 {
        3 => format!(
            "recount: {} in the {place} {}",
            called(batch, b),
            grams(c, 600)
        ),
        4 => format!(
            "recount {place}: {} {} anyway",
            called(batch, b),
            grams(c, 600)
        ),
        0 => format!("recount: {} {}", called(batch, c), grams(c, 1500)),
        1 => format!("recount: {} {} anyway", called(batch, c), grams(c, 1500)),
        _ => format!("recount: {} {near}", called(batch, c)),
    })
}

fn take(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = &open(home, a)?.name;
    Some(match b % 4 {
        0 if b.is_multiple_of(8) => format!("{name} cost {}.40", b % 30),
        0 => format!("took some {name} from the freezer"),
        1 => format!("took some {name} yesterday"),
        2 => format!("somebody took a bit of {name}"),
        _ => format!("took some {name}"),
    })
}

fn claim(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = &any_batch(home, a)?.name;
    Some(match b % 4 {
        0 => "that was me".into(),
        1 => "the missing food was mine".into(),
        2 => format!("Ana had the missing {name}"),
        _ => format!("the missing {name} was mine"),
    })
}

fn teach(a: u16, b: u16) -> String {
    match a % 3 {
        0 => format!("1 ladle lentil dal = {} g", grams(b, 300)),
        1 => format!("blue pot is {} g empty", grams(b, 900)),
        _ => format!(
            "packet miso paste per 100 g: {} kcal, 12 protein, 6 fat, 26 carb",
            grams(b, 400)
        ),
    }
}

/// What was just eaten, put right in passing.
fn put_right(home: &Home, a: u16, b: u16) -> Option<String> {
    let name = called(open(home, a)?, 1);
    let grams = grams(b, 300);
    let said = [
        "half of that was ana's",
        "split that with ana",
        "all of that was Robin's",
        "double that",
        "other way round",
        "same for me",
        "same again but half the",
        "make ana's 130",
        "make robin's times 2",
        "forget that",
    ];
    Some(match (a >> 3) % 16 {
        8..=10 => match said[usize::from(b) % said.len()] {
            repeat @ "same again but half the" => format!("{repeat} {name}"),
            other => other.to_owned(),
        },
        11 => format!("gave {grams} of the {name} to ana"),
        12 => format!("the {name} was ana's"),
        13 => format!("put {grams} back"),
        14 => format!("{grams} more"),
        15 => format!("the {name} should be {grams}"),
        0 | 1 => format!("make it {grams}"),
        2 => format!("put back {grams} {name}"),
        3 => format!("take the {name} off"),
        4 => format!("forgot {grams} {name} with that"),
        5 => format!("{grams} {name} each"),
        6 => format!("{grams} {name}, half for Ana"),
        _ => "that was yesterday's lunch".into(),
    })
}

/// A correction of what somebody, perhaps another, has said.
fn reply(home: &Home, who: MemberId, a: u16, b: u16) -> Option<Said> {
    let last = home.last_message().0;
    let to = MessageId(1 + i64::from(a) % last.max(1));
    let text = match b % 5 {
        0 => "undo".into(),
        1 => "that was Ana's".into(),
        _ => put_right(home, a, b)?,
    };
    (last > 0).then_some(Said::Reply { to, who, text })
}

/// An answer to a question, put otherwise.
fn edit_answer(home: &Home, a: u16, b: u16) -> Option<Said> {
    let answers = home.answering();
    if answers.is_empty() {
        return None;
    }
    let message = answers[usize::from(a) % answers.len()];
    let text = ["1", "2", "3", "no", "yes", "see you later"][usize::from(b) % 6];
    let text = text.into();
    Some(Said::Edit { message, text })
}

fn two_at_once(home: &Home, a: u16, b: u16, c: u16) -> Option<String> {
    let one = recount(home, a, 2, c)?;
    let other = portion(home, 0, b, c)?;
    Some(format!("{other}\n{one}"))
}

/// Any earlier message, put otherwise: other figures, other words, a line more or less, or nothing.
fn edit(home: &Home, a: u16, b: u16, c: u16) -> Option<Said> {
    let last = home.last_message().0;
    let message = MessageId(1 + i64::from(a) % last.max(1));
    if last == 0 || home.text_of(message).is_empty() {
        return None;
    }
    let text = home.text_of(message);
    let lines: Vec<&str> = text.lines().collect();
    let edited = match b % 7 {
        0 | 1 => other_figures(text, c),
        2 if lines.len() > 2 => without(&lines, 1 + usize::from(c) % (lines.len() - 1)),
        2 | 3 => format!("{text}\n{} g carrots", grams(c, 300)),
        4 if lines.len() > 2 => {
            let mut turned = lines.clone();
            turned[1..].reverse();
            turned.join("\n")
        }
        4 | 5 => portion(home, a, b, c).unwrap_or_else(|| "never mind".into()),
        _ => "never mind".into(),
    };
    Some(Said::Edit {
        message,
        text: edited,
    })
}

fn without(lines: &[&str], left_out: usize) -> String {
    let kept = lines.iter().enumerate().filter(|(at, _)| *at != left_out);
    let kept: Vec<&str> = kept.map(|(_, line)| *line).collect();
    kept.join("\n")
}

/// The first long number, changed.
fn other_figures(text: &str, number: u16) -> String {
    let digits = |word: &str| word.len() >= 2 && word.chars().all(|c| c.is_ascii_digit());
    let Some(old) = text
        .split(|c: char| !c.is_ascii_digit())
        .find(|word| digits(word))
    else {
        return format!("{text} ");
    };
    text.replacen(old, &grams(number, 900).to_string(), 1)
}

fn press_undo(home: &Home, a: u16, b: u16) -> Option<Said> {
    let last = home.last_message().0;
    if last == 0 {
        return None;
    }
    let message = MessageId(1 + i64::from(a) % last);
    let who = home.sender_of(message);
    let press = match b % 2 {
        0 => Press::Undo { message },
        _ => Press::Redo { message },
    };
    Some(Said::Press { who, press })
}

fn answer(home: &Home, a: u16, b: u16) -> Option<Said> {
    let questions = &home.kitchen.questions;
    if questions.is_empty() {
        return None;
    }
    let question = &questions[usize::from(a) % questions.len()];
    let who = question.member;
    let text = match b % 5 {
        0 => {
            let question: QuestionId = question.id;
            let option = usize::from(b >> 4) % 3;
            let press = Press::Choose { question, option };
            return Some(Said::Press { who, press });
        }
        1 => "1",
        2 => "2",
        3 => "yes",
        _ => "no",
    };
    let text = text.into();
    Some(Said::Message { who, text })
}
