//! A kitchen that speaks of one pot only, in words whose grams are known here as well: whatever befalls the bot, the pot
//! must hold what is left by this reckoning.

use std::collections::HashMap;

use hobside::service::Outgoing;

use crate::chance::Chance;

pub const POT: &str = "batch barley, 20 kg pearl barley, cooked 60000";
const POT_MG: i64 = 60_000_000;

/// What was said, by the channel's id of its message.
struct Told {
    id: String,
    who: usize,
    verb: &'static str,
    mg: i64,
    stands: bool,
    /// What is on its way about it and not yet booked.
    in_flight: Option<InFlight>,
}

#[derive(PartialEq)]
enum InFlight {
    Words,
    Press,
}

#[derive(Default)]
pub struct Plain {
    told: Vec<Told>,
    weights: i64,
    /// The newest button of the answer to a message: what it carries, whether it undoes, and what it stands on.
    buttons: HashMap<String, (String, bool, String)>,
}

/// What somebody does next.
pub enum Says {
    New {
        who: usize,
        text: String,
    },
    Edit {
        who: usize,
        id: String,
        text: String,
    },
    Press {
        who: usize,
        on: String,
        press: String,
    },
}

impl Plain {
    pub fn left_mg(&self) -> i64 {
        let standing = self.told.iter().filter(|told| told.stands);
        POT_MG - standing.map(|told| told.mg).sum::<i64>()
    }

    /// By the channel's id of each message, what it has taken of the pot.
    pub fn taken(&self) -> impl Iterator<Item = (&str, i64)> {
        let told = self.told.iter();
        told.map(|told| (told.id.as_str(), if told.stands { told.mg } else { 0 }))
    }

    /// `id` is what a new message would be known by.
    pub fn speak(&mut self, chance: &mut Chance, id: &str, people: usize) -> Says {
        let who = chance.below(people);
        // No weight comes twice within a while: two plates of one weight may be one that was told twice, which is asked.
        self.weights += 1;
        let mg = 1000 * (12 + self.weights * 37 % 101);
        let lately = self.told.len().saturating_sub(12);
        let one = lately + chance.below(12);
        match (chance.below(10), self.told.get_mut(one)) {
            (0 | 1, Some(told)) if told.stands && told.in_flight != Some(InFlight::Press) => {
                told.mg = mg;
                told.in_flight = Some(InFlight::Words);
                Says::Edit {
                    who: told.who,
                    id: told.id.clone(),
                    text: text(told.verb, told.mg),
                }
            }
            (2 | 3, Some(told)) if told.in_flight.is_none() => match self.buttons.get(&told.id) {
                Some((press, undoes, on)) if *undoes == told.stands => {
                    told.stands = !told.stands;
                    told.in_flight = Some(InFlight::Press);
                    Says::Press {
                        who: told.who,
                        on: on.clone(),
                        press: press.clone(),
                    }
                }
                _ => talk(chance, who),
            },
            (4 | 5, _) => talk(chance, who),
            (kind, _) => {
                let verb = if kind == 6 { "threw away " } else { "" };
                self.told.push(Told {
                    id: id.to_owned(),
                    who,
                    verb,
                    mg,
                    stands: true,
                    in_flight: Some(InFlight::Words),
                });
                Says::New {
                    who,
                    text: text(verb, mg),
                }
            }
        }
    }

    pub fn hears(&mut self, outgoing: &Outgoing, on: &str) {
        let Some(id) = &outgoing.answers else { return };
        let buttons = outgoing.buttons.iter().flatten();
        for (label, press) in buttons.filter(|(label, _)| label == "Undo" || label == "Redo") {
            let on = match self.buttons.get(id) {
                // An edit changes the buttons of the message that stands there.
                Some((.., on)) if outgoing.edits.is_some() => on.clone(),
                _ => on.to_owned(),
            };
            let button = (press.clone(), label == "Undo", on);
            self.buttons.insert(id.clone(), button);
        }
    }

    /// Nothing is on its way any more.
    pub fn all_is_booked(&mut self) {
        for told in &mut self.told {
            told.in_flight = None;
        }
    }
}

fn text(verb: &str, mg: i64) -> String {
    format!("{verb}{} g barley", mg / 1000)
}

fn talk(chance: &mut Chance, who: usize) -> Says {
    let text = chance.one(&[
        "what's left",
        "the bus was late again",
        "@stove_side_bot kcal 100 g parsnip",
        "who is coming on Sunday?",
        "ok",
    ]);
    Says::New {
        who,
        text: text.to_owned(),
    }
}
