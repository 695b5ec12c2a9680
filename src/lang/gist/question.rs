//! A question in a sentence: "do we still have soup", "not hungry yet, how much protein have i had so far".
//!
//! A question books nothing, but a reply to one that people ask each other is a nuisance. So one clause of
//! the message must ask: it opens as a question does, behind nothing but words that lead up to it, or it
//! ends with a question mark; and it must ask of the stock, a plate or a fact in words of its own.
//!
//! ```text
//! message  := { clause break } asked { break clause }
//! asked    := [lead] opening { word } | { word } "?"
//! of whom  := nutrient or grams, with an amount and a name      a fact
//!           | what, how much, did; I or a name; had, ate        what was eaten
//!           | how many portions, a dish                         portions
//!           | how much, enough, is there, left, and dishes      how much is left
//!           | going off, use up first | in the fridge, got in   what is due, the stock
//! ```

use super::asked::{Asked, says};
use super::mark::Mark;
use super::pair;
use super::sentence::Sentence;
use crate::foods::Nutrient;
use crate::lang::amount::{Stands, measure_words};
use crate::lang::syntax::{Amount, Command, Day, Words};
use crate::lang::token::Token;
use crate::lang::tokens::Tokens;
use crate::lang::unit::{Unit, unit};
use crate::lang::words::{label_fields, left, measures, questions, sharing};

/// A longer message is talk.
const TOKENS_MAX: usize = 30;
/// Whoever asks of more dishes asks what is left.
const DISHES_MAX: usize = 3;

/// What the message asks: several commands if it asks of several dishes.
pub fn read(sentence: &Sentence<'_>) -> Option<Vec<Command>> {
    let input = sentence.input;
    // "half of what's left" is an amount.
    if input.len() > TOKENS_MAX || sharing().has(input.norm(0)) {
        return None;
    }
    (0..sentence.clause_count()).find_map(|clause| Asked::of(sentence, clause)?.answer())
}

/// Whether a question may stand in the message.
pub fn opens(input: Tokens<'_>) -> bool {
    let said = |key: &&str| questions().stand_in(input.slice, key);
    ["opens", "so far"].iter().any(said)
}

impl Asked<'_, '_> {
    fn answer(&self) -> Option<Vec<Command>> {
        let one = |command: Command| vec![command];
        self.fact()
            .map(one)
            .or_else(|| self.due().then(|| one(Command::Due)))
            .or_else(|| self.eaten().map(one))
            .or_else(|| self.portions().map(one))
            .or_else(|| self.left())
            .or_else(|| self.stock().then(|| one(Command::Stock { place: None })))
    }

    /// "how many grams of protein are in 100 g white beans", "grams in a ladle of dal?"
    fn fact(&self) -> Option<Command> {
        let nutrient = nutrient(self.words);
        let (amount, name) = match self.has_numbers() {
            true => self.amount_and_name()?,
            false => self.measure_and_name()?,
        };
        let counted = matches!(amount, Amount::Pieces { .. } | Amount::Volume { .. });
        let weight_only = nutrient.is_none();
        let asked = !weight_only || counted && self.asks("weight");
        asked.then_some(Command::Fact {
            weight_only,
            nutrient,
            amount: Some(amount),
            name,
        })
    }

    fn amount_and_name(&self) -> Option<(Amount, Words)> {
        let mut pairs = pair::pairs(self.sentence)?;
        let only = (pairs.len() == 1).then(|| pairs.remove(0))?;
        (!only.name.text.is_empty()).then_some((only.amount, only.name))
    }

    /// "cup of brown rice is how many g": one of them, without its article.
    fn measure_and_name(&self) -> Option<(Amount, Words)> {
        (self.from..self.to).find_map(|at| {
            let rest = self.sentence.input.after(self.sentence.marks[at].from);
            let (behind, amount) = one_of(rest)?;
            let behind = self.sentence.input.len() - behind.len();
            let mut marks = self.sentence.marks[at..self.to].iter();
            match &marks.find(|it| it.from == behind)?.mark {
                Mark::Dish(name) | Mark::Food(name) => Some((amount, name.clone())),
                _ => None,
            }
        })
    }

    /// "how much protein have i had so far", "what did ana have for dinner", "did I have 160 or 190 of it"
    fn eaten(&self) -> Option<Command> {
        let own = self.words.slice.iter().any(is_own);
        let mut marks = self.sentence.marks[self.from..self.to].iter();
        let person = marks.find_map(|marked| match &marked.mark {
            Mark::Person(who) => Some(who.clone()),
            _ => None,
        });
        let nutrient = nutrient(self.words).is_some();
        let named = (self.from..self.to).any(|at| self.is_of_a_meal(at));
        let told = self.asks("eaten") && (own || person.is_some()) && !self.asks("owned");
        let asked = if self.has_numbers() {
            own && self.chooses() && (self.dish().is_some() || self.is_measured())
        } else if self.opens_with("what") {
            nutrient || self.is_idle(self.from)
        } else if self.opens_with("whether") {
            own && (nutrient || named && self.is_idle_but(self.from, is_food))
        } else if self.opens_with("how much") {
            nutrient || self.dish().is_some()
        } else {
            nutrient && self.opened
        };
        // "how much rice is left of what I had"
        let of_plates = told && asked && (nutrient || !self.asks("left"));
        let so_far = nutrient && !named && !self.has_numbers() && self.asks("so far");
        (of_plates || so_far && self.is_idle_but(self.from, is_food)).then(|| Command::Eaten {
            day: self.sentence.day().unwrap_or(Day::Today),
            who: person,
        })
    }

    /// A dish, a food, a meal; "protein" is none here.
    fn is_of_a_meal(&self, at: usize) -> bool {
        let mark = &self.sentence.marks[at].mark;
        let field = label_fields().has(self.sentence.norm(at));
        matches!(mark, Mark::Meal(_)) || is_food(mark) && !field
    }

    /// "160 or 190 of it"
    fn chooses(&self) -> bool {
        let number = |at: usize| self.words.get(at).is_some_and(Token::is_numeric);
        let or = self.words.find(|token| token.norm() == "or");
        or.is_some_and(|at| (0..at).any(number) && number(at + 1))
    }

    /// "was it 2 ladles i had or 3"
    fn is_measured(&self) -> bool {
        let mut words = self.words.slice.iter();
        words.any(|token| measures().has(token.norm()))
    }

    /// "how many 180s of dal left", "how many ladles would that be"
    fn portions(&self) -> Option<Command> {
        let many = self.opens_with("how much") && self.words.norm(1) == "many";
        let sized = self.words.get(2).is_some_and(Token::is_numeric) || self.is_measured();
        let counted = self.asks("portions") || sized && (self.asks("left") || self.asks("makes"));
        let name = (many && counted).then(|| self.dish()).flatten()?;
        Some(Command::Portions { name })
    }

    /// "do we still have soup", "dal??? how much", "enough rice for 3 x 180?"
    fn left(&self) -> Option<Vec<Command>> {
        let dishes = self.dishes();
        if dishes.is_empty() || dishes.len() > DISHES_MAX {
            return None;
        }
        let open = ["what", "how much", "how"];
        let supposed = self.asks("supposing") && open.iter().any(|key| self.opens_with(key));
        let numbers = self.has_numbers() && !supposed;
        let idle = self.is_idle(self.from);
        let asked = self.asks("left") && !numbers && (self.opened || idle)
            || self.is_enough()
            || self.opens_with("there") && idle && !self.governed
            || self.opens_with("how much") && !numbers && idle && !self.is_priced();
        let how_much = |name| Command::HowMuch { name };
        asked.then(|| dishes.into_iter().map(how_much).collect())
    }

    /// "how much is the rice" asks its price.
    fn is_priced(&self) -> bool {
        matches!(self.words.norm(2), "is" | "are") && !self.asks("there is")
    }

    /// "is there enough rice for 3": of a dish, and not "hot enough".
    fn is_enough(&self) -> bool {
        (self.from..self.to).any(|at| {
            let from = self.sentence.marks[at].from;
            let enough = says(self.sentence.input, from, "enough");
            enough.is_some_and(|length| {
                let of = |at: &usize| matches!(self.sentence.norm(*at), "of" | "the" | "that");
                let next = at + length + (at + length..self.to).take_while(of).count();
                matches!(self.sentence.mark(next), Some(Mark::Dish(_))) && self.is_idle(next)
            })
        })
    }

    fn due(&self) -> bool {
        self.asks("due") && self.is_idle(self.from) && self.is_last()
    }

    /// "whats in the fridge", "wats left"
    fn stock(&self) -> bool {
        let said = |token: &Token| left().get(token.norm()) == Some("left");
        let left = self.opens_with("what") && self.words.slice.iter().any(said);
        let asked = self.opened && (left || self.asks("stock"));
        asked && self.is_idle(self.from) && self.is_last()
    }
}

/// A measure or a unit without its article, and what stands behind it.
fn one_of(rest: Tokens<'_>) -> Option<(Tokens<'_>, Amount)> {
    if let Ok((behind, Unit::Volume(unit))) = unit(rest) {
        let of = usize::from(behind.norm(0) == "of");
        let amount = Amount::Volume {
            count: 1.0,
            unit,
            qualifiers: Vec::new(),
        };
        return Some((behind.after(of), amount));
    }
    let (behind, measure) = measure_words(rest, Stands::BeforeName);
    let count = 1.0;
    (!measure.is_empty()).then_some((behind, Amount::Pieces { count, measure }))
}

fn is_food(mark: &Mark) -> bool {
    matches!(mark, Mark::Dish(_) | Mark::Food(_) | Mark::Foods)
}

fn is_own(token: &Token) -> bool {
    matches!(token.norm(), "i" | "ive" | "my" | "im" | "whatve")
}

fn nutrient(input: Tokens<'_>) -> Option<Nutrient> {
    let named = |token: &Token| label_fields().get(token.norm());
    let key = input.slice.iter().find_map(named)?;
    crate::lang::command::fact::nutrient(key)
}
