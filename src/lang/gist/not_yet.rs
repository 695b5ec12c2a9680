//! What is asked of the bot in a sentence: a reminder, a label, a target; and a limit on a dish, which is not there yet.
//! Their words are in `data/capabilities.txt`.
//!
//! ```text
//! reminder := "remind me" | "dont let me forget" ..., of a dish, or of what is frozen
//! target   := "target" | "no more than" ..., mine, so much energy or of a nutrient, or of a dish a day
//! label    := ("print" | "need" ...) [article] "label", and a dish
//! ```
//! People say the same to each other: a question, a plan, an errand and a story are left alone.

use super::mark::Mark;
use super::said::{Said, is_dish, is_food};
use super::sentence::Sentence;
use crate::lang::command::clock::remind;
use crate::lang::command::personal::target;
use crate::lang::syntax::{Amount, At, Clock, Command, Label, Personal};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::words::{capabilities, label_fields};

pub fn read(sentence: &Sentence<'_>) -> Option<Command> {
    let said = Said { sentence };
    if said.limits() {
        let aims = target::found_in(sentence.input);
        let capability = "limits on a dish";
        return Some(match aims.is_empty() {
            true => Command::NotYet { capability },
            false => Command::Personal(Personal::Target(aims)),
        });
    }
    let reminder = said.reminder().map(Command::Clock);
    reminder.or_else(|| said.label().map(Command::Label))
}

/// Whether anything of it may stand in the message.
pub fn opens(input: Tokens<'_>) -> bool {
    let said = |key: &&str| capabilities().stand_in(input.slice, key);
    ["limit", "side", "cold", "label"].iter().any(said)
}

impl Said<'_, '_> {
    /// "nudge me tomorrow, defrost the chilli": an errand is a person's, unless it is to the freezer.
    fn reminder(&self) -> Option<Clock> {
        let frozen = self.tells("cold");
        let weighed = self.has(|it| matches!(it, Mark::Amount(Amount::Mass(_))));
        let of_food = self.has(is_dish) || self.has(is_food) && (frozen || weighed);
        let errand = self.tells("errand") && !frozen || self.tells("ready") || self.is_priced();
        let meant = of_food && !errand && !self.is_asked();
        let at = self.opening("nudge").filter(|_| meant)?;
        let input = self.sentence.input;
        let length = self.says(at, "nudge")?;
        let told = remind::reminder(input.after(at + length).without_lead());
        told.filter(|told| !matches!(told, Clock::Remind { at, .. } if *at == At::default()))
    }

    /// Where a phrase of this key opens a clause, behind a word or two that lead up to it.
    fn opening(&self, key: &'static str) -> Option<usize> {
        let marks = &self.sentence.marks;
        let opens = |at: &usize| {
            let at = *at;
            let clause = self.sentence.clause(at);
            let mut before = (0..at)
                .rev()
                .take_while(|&it| self.sentence.clause(it) == clause);
            let leads = |it: usize| {
                let broken = matches!(marks[it].mark, Mark::Break { .. });
                broken
                    || self.sentence.norm(it).is_empty()
                    || self.says(marks[it].from, "lead").is_some()
            };
            self.says(marks[at].from, key).is_some() && before.all(leads)
        };
        (0..marks.len()).find(opens).map(|at| marks[at].from)
    }

    /// "no more than 60 g cheddar a day for me, hold me to it"
    fn limits(&self) -> bool {
        let mut words = self.sentence.input.slice.iter();
        let field = words.any(|token| label_fields().has(token.norm()));
        let daily = self.tells("daily");
        let dished = self.has(is_dish) || self.has(is_food) && self.tells("hold");
        let held = self.tells("hold") || self.tells("set");
        let sided = self.tells("side") && (daily || held);
        let limited = self.tells("limit") || sided || daily && self.tells("hold");
        let supposed = vetoes_in(self.sentence.input).contains(&"conditional");
        let told = self.tells("others") || (self.is_asked() || supposed) && !self.tells("set");
        let number = self.has(|it| matches!(it, Mark::Amount(_) | Mark::Stray));
        limited && number && self.tells("mine") && (field || daily && dished) && !told
    }

    /// "need a label for the parsnips", "print two labels for the soup please"
    fn label(&self) -> Option<Label> {
        let input = self.sentence.input;
        let wanted = |at: usize| {
            let mut length = self.says(at, "want")?;
            while let Some(more) = self.says(at + length, "label article") {
                length += more;
            }
            let number = usize::from(input.get(at + length).is_some_and(Token::is_numeric));
            self.says(at + length + number, "label")
        };
        let mut dishes = self.sentence.marks.iter().filter_map(|it| match &it.mark {
            Mark::Dish(name) => Some(name),
            _ => None,
        });
        let (name, another) = (dishes.next()?, dishes.next());
        let meant = another.is_none() && !self.is_priced();
        (meant && (0..input.len()).any(|at| wanted(at).is_some())).then(|| Label {
            names: vec![name.clone()],
            grams: None,
            place: None,
            size: None,
            page: None,
            copies: 1,
            bags: false,
        })
    }
}
