//! What a meal left: "320 left over, fridge", "leftovers from dinner: 320", "put 250 of leftovers in the freezer".
//!
//! ```text
//! left-over := { weighing | left | of | place | name | idle }, one weighing and one `left` among them
//! left      := "left over" | "leftovers" ["of" dish] | ...
//! of        := ("from" | "of" | "off") ["the"] ([day] meal | day | person "plate")
//! place     := ["in"] ["the"] (name of the household's | phrase of data/places.txt) | "froze"
//! name      := ("as" | "called") words
//! ```
//! Its words are in `data/left_over.txt`, and every word of the message is one of them: what was left of a dish
//! alone, on its own, is a count (`left.rs`), and so little that it may have stayed on a plate is a correction's to
//! read (`fix/off.rs`).

use crate::lang::clause;
use crate::lang::date;
use crate::lang::name;
use crate::lang::person::person;
use crate::lang::place::is_place;
use crate::lang::syntax::{Command, Day, LeftOf, LeftOver, Weighing, Words};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens};
use crate::lang::vocabulary::Sense;
use crate::lang::weighing::weighing;
use crate::lang::words::left_over;

/// Less, with nothing said of where it is or what it is of, may have stayed on a plate.
const ALONE_GRAMS_MIN: f64 = 150.0;
/// Nobody keeps less of a meal.
const GRAMS_MIN: f64 = 10.0;
const PLACE_TOKENS_MAX: usize = 6;
const DISH_TOKENS_MAX: usize = 6;
const NAME_TOKENS_MAX: usize = 5;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    match whole(input.trimmed()) {
        Some(said) => Ok((input.after(input.len()), Command::LeftOver(said))),
        None => input.no(),
    }
}

/// What was read so far.
#[derive(Default)]
struct Reader {
    said: LeftOver,
    weighed: Option<Weighing>,
    /// "left over", not only "leftovers".
    over: bool,
    noun: bool,
    stowed: bool,
    /// "leftovers: 320": the label of what follows.
    labelled: bool,
}

fn whole(input: Tokens<'_>) -> Option<LeftOver> {
    let mut reader = Reader::default();
    let mut rest = input;
    while !rest.is_empty() {
        let next = reader.step(rest)?;
        if next.len() == rest.len() {
            return None;
        }
        rest = next;
    }
    reader.finished(input)
}

fn key(key: &'static str, input: Tokens<'_>) -> Option<usize> {
    left_over().longest_of(input.slice, key)
}

impl Reader {
    fn step<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let first = input.first()?;
        if matches!(
            first.kind,
            Kind::Newline | Kind::Symbol(',' | '.' | ';' | ':' | '-' | '!')
        ) {
            self.labelled |= first.is(':') && self.noun && self.weighed.is_none();
            return Some(input.take_one());
        }
        if first.is_numeric() && self.weighed.is_none() {
            let (rest, weighing) = weighing(input).ok()?;
            self.weighed = Some(weighing);
            return Some(rest);
        }
        self.told_of(input)
            .or_else(|| self.put(input))
            .or_else(|| self.left(input))
            .or_else(|| self.dish(input))
            .or_else(|| self.called(input))
            .or_else(|| Some(input.after(key("idle", input)?)))
    }

    /// "off the plates", "from tonight's dinner", "off Ana's plate"
    fn told_of<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        for (of, word) in [
            (LeftOf::Elsewhere, "elsewhere"),
            (LeftOf::Plates, "confirmed"),
            (LeftOf::That, "that"),
        ] {
            if let Some(length) = key(word, input) {
                self.said.of = of;
                return Some(input.after(length));
            }
        }
        let rest = input.after(key("of", input).unwrap_or(0));
        let rest = rest.after(usize::from(matches!(rest.norm(0), "the" | "our" | "last")));
        self.plate(rest)
            .or_else(|| self.meal(rest))
            .or_else(|| self.meal(input))
    }

    fn plate<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let (length, who) = match input.norm(0) {
            "my" => (1, Words::plain("me")),
            _ => person(input)?,
        };
        let rest = input.after(length);
        let plate = key("plate", rest)?;
        self.said.who = Some(who);
        Some(rest.after(plate))
    }

    /// "dinner", "tonight", "last night's dinner", "Sunday lunch"
    fn meal<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        if self.said.day.is_none() && matches!(input.norm(0), "tonights" | "todays") {
            self.said.day = Some(Day::Today);
            let rest = input.take_one();
            return Some(self.meal(rest).unwrap_or(rest));
        }
        if self.said.day.is_none()
            && !input.first()?.is_numeric()
            && let Ok((rest, day)) = date::day(input)
        {
            self.said.day = Some(day);
            return Some(self.meal(rest).unwrap_or(rest));
        }
        let (rest, meal) = date::meal(input).ok()?;
        self.said.meal = Some(meal);
        Some(rest)
    }

    /// Where it was put.
    fn put<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        if let Some(length) = key("frozen", input) {
            self.said.place.get_or_insert(Words::plain("freezer"));
            self.stowed = true;
            return Some(input.after(length));
        }
        if let Some(length) = key("stow", input) {
            self.stowed = true;
            return Some(input.after(length));
        }
        let word = |token: &&Token| matches!(token.kind, Kind::Word(_));
        let longest = input.slice.iter().take_while(word).count();
        let longest = longest.min(PLACE_TOKENS_MAX);
        let (length, place) = (1..=longest)
            .rev()
            .find_map(|length| Some((length, clause::place(input.range(0, length))?)))?;
        self.said.place = Some(place);
        Some(input.after(length))
    }

    fn left<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let (over, noun) = (key("over", input), key("noun", input));
        let length = over.into_iter().chain(noun).max()?;
        // "60 left of that"
        let that = matches!(input.norm(length - 1), "of" | "from")
            && matches!(input.norm(length), "that" | "it" | "those");
        if that {
            self.said.of = LeftOf::That;
        }
        let length = length + usize::from(that);
        self.over |= over == Some(length - usize::from(that)) && noun != Some(length);
        self.noun |= noun == Some(length);
        Some(input.after(length))
    }

    /// "leftovers of the dal", "120 dal left over"
    fn dish<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        if self.said.dish.is_some() {
            return None;
        }
        let lead = usize::from(input.norm(0) == "of");
        let lead = lead + usize::from(matches!(input.norm(lead), "the" | "that" | "our"));
        let rest = input.after(lead);
        // "leftover dal" is the old dal.
        if lead == 0 && self.noun {
            return None;
        }
        let longest = rest.len().min(DISH_TOKENS_MAX);
        let length = (1..=longest).rev().find(|&length| {
            let whole = rest.range(0, length);
            !is_place(whole) && name::of_batch(whole).is_some() && key("noun", whole).is_none()
        })?;
        self.said.dish = name::of_batch(rest.range(0, length));
        Some(rest.after(length))
    }

    fn called<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let rest = input.after(key("as", input)?);
        let ends = |token: &Token| {
            matches!(token.kind, Kind::Newline | Kind::Symbol(_)) || token.is_numeric()
        };
        let length = rest.find(ends).unwrap_or(rest.len());
        let name = name::bare(rest.range(0, length));
        let plain = name.is_wordy() && !name.is_empty() && name.len() <= NAME_TOKENS_MAX;
        self.said.name = plain.then(|| name.words());
        plain.then(|| rest.after(length))
    }

    fn finished(mut self, input: Tokens<'_>) -> Option<LeftOver> {
        let weighing = self.weighed?;
        let grams: f64 = weighing.readings_grams.iter().sum();
        let said = &mut self.said;
        let of_meal = said.meal.is_some() || said.day.is_some() || said.who.is_some();
        let told = of_meal || said.place.is_some() || said.of != LeftOf::Unsaid;
        // "200 leftovers" is eaten of what was left once.
        let known = input.vocabulary.is(Sense::Batch, &["leftovers"]);
        let marked = self.over || self.noun && (self.labelled || !known && (told || self.stowed));
        // "120 dal left over" is what is left of the dal.
        let apart = said.dish.is_none() || told && (self.over || self.labelled);
        let enough = grams
            >= if told || self.noun {
                GRAMS_MIN
            } else {
                ALONE_GRAMS_MIN
            };
        said.weighing = weighing;
        (marked && apart && enough).then_some(self.said)
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Container, "blue tub");
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn leaves(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_none_of_it(text: &str, words: &Vocabulary) {
        is_no(text, words, |it| matches!(it, Command::LeftOver(_)));
    }

    #[test]
    fn many_ways_to_tell_what_was_left() {
        for text in [
            "320 left over, fridge",
            "320 g left over in the fridge",
            "320 left over fridge",
            "320g leftover, fridge",
            "leftovers 320, fridge",
            "leftovers: 320 g in the fridge",
            "fridge: leftovers 320",
            "320 of leftovers in the fridge",
            "put 320 g of leftovers in the fridge",
            "we had 320 left over, put it in the fridge",
            "there was 320 g left over, it's in the fridge",
            "320 leftovers into the fridge",
        ] {
            leaves(text, "leftovers in the fridge: 320 g");
        }
        leaves("320 left over", "leftovers: 320 g");
        leaves("froze 320 leftovers", "leftovers in the freezer: 320 g");
        leaves(
            "froze the 320 g left over",
            "leftovers in the freezer: 320 g",
        );
        leaves("320 left over from dinner", "leftovers from dinner: 320 g");
        leaves("dinner leftovers 320", "leftovers from dinner: 320 g");
        leaves(
            "320 left from tonight's dinner, garage freezer",
            "leftovers from today dinner in the garage freezer: 320 g",
        );
        leaves(
            "last night's leftovers: 320, fridge",
            "leftovers from yesterday in the fridge: 320 g",
        );
        leaves(
            "90 left over off Ana's plate, fridge",
            "leftovers off Ana's plate in the fridge: 90 g",
        );
        leaves(
            "320 left over as curry night, fridge",
            "leftovers in the fridge as curry night: 320 g",
        );
        leaves(
            "360 in the blue tub left over, fridge",
            "leftovers in the fridge: 360 g in the blue tub",
        );
        leaves(
            "120 dal left over from dinner",
            "leftovers of dal from dinner: 120 g",
        );
        leaves(
            "leftovers off the plates: 320 g",
            "leftovers off the plates: 320 g",
        );
        leaves(
            "leftovers of something else: 320 g",
            "leftovers of something else: 320 g",
        );
    }

    #[test]
    fn what_tells_of_no_remainder_is_left_alone() {
        let plain = kitchen();
        for text in [
            "40 left over",
            "3 left over",
            "320 euros left over",
            "is there any left over?",
            "120 dal left over",
            "120 leftover dal",
            "leftover chilli weighs 2340",
            "put the leftovers in the fridge",
            "there might be 320 left over",
            "yesterday's leftovers: me 140 dal today",
            "will have 320 left over for lunch",
        ] {
            is_none_of_it(text, &plain);
        }
        let mut known = kitchen();
        known.add(Sense::Batch, "leftovers");
        for text in [
            "200 leftovers",
            "froze 200 leftovers",
            "200 leftovers for lunch",
        ] {
            is_none_of_it(text, &known);
        }
    }
}
