//! A dish as a pot of it was made: its lines by weight, and what they come to.

use chrono::NaiveDate;

use super::OwnYield;
use crate::domain::batch::{Batch, Line, LineState};
use crate::domain::estimate::{self, ComesTo};
use crate::domain::ids::*;
use crate::domain::keeping::kind::is_water;
use crate::domain::kitchen::Kitchen;
use crate::domain::mass::Mass;
use crate::domain::prep::goods::Good;
use crate::domain::resolve::key;
use crate::foods;
use crate::lang::ingredient_line;
use crate::lang::syntax::LineContent;

#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    pub dish: ComponentId,
    pub name: String,
    /// The pot that it was made as.
    pub batch: BatchId,
    pub code: String,
    pub made_on: NaiveDate,
    pub lines: Vec<RecipeLine>,
    /// The place of the line that the others are told in proportion to; `None`: none has a weight.
    pub main: Option<usize>,
    /// What is poured off, drained or left of a marinade.
    pub poured: Mass,
    /// What the pot came to, if it was weighed.
    pub weighed: Option<Mass>,
    /// Put together and not cooked: it weighs what goes in.
    pub raw: bool,
    pub own_yield: Option<OwnYield>,
}

/// One thing that goes in.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeLine {
    /// What it is called there, without its amount.
    pub name: String,
    pub thing: Thing,
    /// As weighed; `None`: a pinch, or nobody knows.
    pub mass: Option<Mass>,
    /// The mass came from a spoon or a count.
    pub estimated: bool,
    /// "marinade", "brine"
    pub part: Option<String>,
    /// What it is bought as.
    pub good: Option<Good>,
}

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Thing {
    /// A plain food of the table, or a packet.
    Food {
        profile: ProfileId,
        /// The table's number of it.
        food: Option<foods::Code>,
    },
    /// Of another dish of the household.
    Dish(ComponentId),
    Unknown,
}

impl Kitchen {
    /// How this pot was made.
    pub fn recipe_of(&self, batch: &Batch) -> Recipe {
        let mut lines: Vec<(u32, RecipeLine)> = Vec::new();
        for line in &batch.lines {
            // What was drawn from two pots of a dish is one line.
            match lines
                .last_mut()
                .filter(|(number, _)| *number == line.number)
            {
                Some((_, known)) => known.mass = sum(known.mass, told_mass(line)),
                None => lines.push((line.number, self.recipe_line(line))),
            }
        }
        let lines: Vec<RecipeLine> = lines.into_iter().map(|(_, line)| line).collect();
        let mut components = self.components.iter();
        let own = components.find(|component| component.id == batch.component);
        Recipe {
            dish: batch.component,
            name: own.map_or_else(|| batch.name.clone(), |own| own.name.clone()),
            batch: batch.id,
            code: batch.code.clone(),
            made_on: batch.made_on,
            main: main(&batch.name, &lines),
            lines,
            poured: batch.poured_mass(),
            weighed: batch.weighed_at().map(|_| batch.net_mass()),
            raw: batch.raw,
            own_yield: self.own_yield(batch.component),
        }
    }

    /// What goes in there, without its amount.
    pub fn line_name(&self, line: &Line) -> String {
        let source = line.source.and_then(|id| self.batches.get(&id));
        source.map_or_else(|| typed_name(line), |source| source.name.clone())
    }

    /// What a line is bought as; `None`: it is another dish, or water.
    /// What plain food on a plate is bought as; `None`: it is water, or its words are not known.
    pub fn good_of_profile(&self, profile: ProfileId) -> Option<Good> {
        let known = self.profiles.get(&profile)?;
        let food = known.food.and_then(|code| foods::table().get(code));
        let bought = !food.is_some_and(is_water);
        bought.then(|| {
            let plain = Good {
                food: known.food,
                key: key(&known.description),
                words: known.description.clone(),
            };
            // By the words by which its price was told.
            let mut told = self.prep.goods.told.iter().rev();
            let named = told.find(|(_, good, _)| good.is(&plain));
            named.map_or(plain, |(_, good, _)| good.clone())
        })
    }

    pub fn good_of(&self, line: &Line) -> Option<Good> {
        let food = self.food_of_line(line);
        let bought = line.source.is_none() && !food.is_some_and(is_water);
        bought.then(|| {
            let name = typed_name(line);
            Good {
                food: food.map(|food| food.code),
                key: key(&name),
                words: name,
            }
        })
    }

    fn recipe_line(&self, line: &Line) -> RecipeLine {
        let source = line.source.and_then(|id| self.batches.get(&id));
        let food = self.food_of_line(line);
        let thing = match (source, line.profile) {
            (Some(source), _) => Thing::Dish(source.component),
            (None, Some(profile)) => Thing::Food {
                profile,
                food: food.map(|food| food.code),
            },
            (None, None) => Thing::Unknown,
        };
        RecipeLine {
            good: self.good_of(line),
            name: self.line_name(line),
            thing,
            mass: told_mass(line),
            estimated: line.estimated,
            part: line.part.clone(),
        }
    }
}

/// What it was called, without its amount.
fn typed_name(line: &Line) -> String {
    match ingredient_line(&line.text).content {
        LineContent::Ingredient { name, .. } => name.text,
        LineContent::Unclear(_) => line.text.clone(),
    }
}

/// A pinch weighs nothing that a scale shows, and what nobody knows is not nothing.
fn told_mass(line: &Line) -> Option<Mass> {
    let told = matches!(line.state, LineState::Known | LineState::NoFood);
    Some(line.mass).filter(|mass| told && mass.mg() > 0)
}

fn sum(one: Option<Mass>, other: Option<Mass>) -> Option<Mass> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one + other),
        (one, other) => one.or(other),
    }
}

/// Of less than this share of the heaviest line a dish is not made, whatever it is called after.
const MAIN_LEAST: f64 = 0.1;

/// What the dish is called after, or else the heaviest that does not pour.
fn main(dish: &str, lines: &[RecipeLine]) -> Option<usize> {
    let dish = key(dish);
    let named = |line: &RecipeLine| {
        let own = key(&line.name);
        let mut words = own.split(' ');
        words.any(|word| dish.split(' ').any(|part| part == word))
    };
    let pours = |line: &RecipeLine| line.food().is_some_and(foods::Food::is_liquid);
    let solid = lines.iter().filter(|line| !pours(line));
    let most = solid
        .filter_map(|line| line.mass)
        .max()
        .unwrap_or(Mass::ZERO);
    // The chilli powder of a chilli lends it no more than its name.
    let leads = |line: &RecipeLine| {
        let much = line.mass.is_some_and(|mass| mass >= most.share(MAIN_LEAST));
        much && named(line)
    };
    let weight = |at: &usize| {
        let line = &lines[*at];
        (!pours(line), leads(line), line.mass)
    };
    let weighed = (0..lines.len()).filter(|at| lines[*at].mass.is_some());
    // Of two alike the first one leads.
    weighed.rev().max_by_key(weight)
}

impl RecipeLine {
    /// The table's food that it is, if it is one.
    pub fn food(&self) -> Option<&'static foods::Food> {
        match self.thing {
            Thing::Food { food, .. } => foods::table().get(food?),
            Thing::Dish(_) | Thing::Unknown => None,
        }
    }
}

impl Recipe {
    /// Every line, and what is poured off, so many times as much.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let mut scaled = self.clone();
        for line in &mut scaled.lines {
            line.mass = line.mass.map(|mass| mass.share(factor));
        }
        scaled.poured = self.poured.share(factor);
        scaled.weighed = None;
        scaled
    }

    /// So that the line at this place comes to so much; `None`: it has no weight to go by.
    #[must_use]
    pub fn with(&self, at: usize, mass: Mass) -> Option<Self> {
        let known = self.lines.get(at)?.mass?;
        Some(self.times(mass.grams() / known.grams()))
    }

    /// So that so much comes out of it; `None`: nothing tells what it comes to.
    #[must_use]
    pub fn cooking_up(&self, mass: Mass) -> Option<Self> {
        let whole = self.comes_to().mass;
        (whole.mg() > 0).then(|| self.times(mass.grams() / whole.grams()))
    }

    /// What it weighs when it is done.
    pub fn comes_to(&self) -> ComesTo {
        let lines = self.lines.iter();
        let weighed = lines.filter_map(|line| Some((line.food(), line.mass?)));
        if self.raw {
            let mass = weighed.map(|(_, mass)| mass).sum::<Mass>() - self.poured;
            return ComesTo { mass, spread: None };
        }
        estimate::comes_to(weighed, self.own_yield.as_ref()).less(self.poured)
    }

    /// Of what goes in at this place, per unit of the main one.
    pub fn ratio(&self, at: usize) -> Option<f64> {
        let main = self.lines.get(self.main?)?.mass?;
        Some(self.lines.get(at)?.mass?.grams() / main.grams())
    }

    /// After lines came and went: which is the main one is told anew.
    pub fn keep_main(&mut self) {
        self.main = main(&self.name, &self.lines);
    }

    /// All that goes in.
    pub fn raw_mass(&self) -> Mass {
        self.lines.iter().filter_map(|line| line.mass).sum()
    }
}
