//! What is told ahead of cooking, as text.

use std::fmt::{self, Display, Formatter};

use super::Plain;
use crate::lang::syntax::{
    Begins, Buying, GoodTold, Helping, HowMany, Limit, MealName, PlanFor, Prep, Shop, Step, Until,
    Uses, Wish, Words,
};

impl Display for Prep {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Good { name, told } => match told {
                GoodTold::Trimmed { bought, trimmed } => {
                    let (bought, trimmed) = (Plain(*bought), Plain(*trimmed));
                    write!(f, "{name} {bought} g, trimmed {trimmed} g")
                }
                GoodTold::Pack { grams, word } => {
                    write!(f, "{name} come in {} g {word}", Plain(*grams))
                }
                GoodTold::Price {
                    hundredths,
                    currency,
                    grams,
                } => {
                    let money = super::lots::money(*hundredths, currency);
                    write!(f, "{name} cost {money} for {} g", Plain(*grams))
                }
                GoodTold::PerLitre {
                    hundredths,
                    currency,
                } => {
                    let money = super::lots::money(*hundredths, currency);
                    write!(f, "{name} cost {money} a litre")
                }
                GoodTold::InCupboard(grams) => {
                    write!(f, "we have {} g {name} in the cupboard", Plain(*grams))
                }
                GoodTold::Always => write!(f, "always have {name}"),
                GoodTold::Out => write!(f, "out of {name}"),
            },
            Self::Stocked(names) => {
                let names: Vec<&str> = names.iter().map(|name| name.text.as_str()).collect();
                write!(f, "cupboard: {}", names.join(", "))
            }
            Self::Par {
                dish,
                grams: Some(grams),
            } => write!(f, "keep {} g {dish} ready", Plain(*grams)),
            Self::Par { dish, grams: None } => write!(f, "no par for {dish}"),
            Self::PotHolds { dish, grams } => {
                if let Some(dish) = dish {
                    write!(f, "{dish} ")?;
                }
                write!(f, "pot holds {} g", Plain(*grams))
            }
            Self::Limit { what, count } => match (what, count) {
                (Limit::PotsADay, Some(count)) => write!(f, "at most {count} pots a day"),
                (Limit::PotsADay, None) => f.write_str("no limit on pots a day"),
                (what, Some(count)) => write!(f, "we have {count} {}", what.word()),
                (what, None) => write!(f, "no limit on {}", what.word()),
            },
            Self::Shop(said) => shop(f, said),
            Self::Wish(said) => wish(f, said),
            Self::Steps { dish, steps } if steps.is_empty() => write!(f, "no steps for {dish}"),
            Self::Steps { dish, steps } => {
                let steps: Vec<String> = steps.iter().map(step).collect();
                write!(f, "{dish} steps: {}", steps.join(", "))
            }
            Self::Sheet { dishes, at } => {
                f.write_str("prep sheet")?;
                if !dishes.is_empty() {
                    write!(f, " for {}", called(dishes))?;
                }
                at.as_ref().map_or(Ok(()), |at| write!(f, " {at}"))
            }
            Self::StepLasts {
                dish,
                verb,
                minutes,
            } => write!(f, "{dish} {verb} takes {minutes} min"),
            Self::Plan(asked) => write!(f, "plan{}", plan(asked)),
            Self::NoDay { told, .. } => write!(f, "plan until {told}"),
            Self::Why {
                dish,
                grams: Some(grams),
            } => write!(f, "why {} g {dish}", Plain(*grams)),
            Self::Why { dish, grams: None } => write!(f, "why this much {dish}"),
        }
    }
}

fn wish(f: &mut Formatter<'_>, said: &Wish) -> fmt::Result {
    match said {
        Wish::Of {
            dishes,
            meal,
            people,
            from,
            until,
        } => {
            let people = people.map_or(String::new(), |people| format!(" for {people}"));
            let dishes = helpings(dishes);
            match until {
                Until::Days(count) => {
                    let meals = meal.map_or("meals", meals);
                    write!(f, "{count} {meals}{people} from {from}: {dishes}")
                }
                Until::Day(until) => {
                    let meal = meal.map_or(String::new(), |meal| format!(" for {meal}"));
                    write!(f, "{dishes}{people}{meal} {from} to {until}")
                }
            }
        }
        Wish::None { dish, from, until } => write!(f, "no {dish} {from} to {until}"),
        Wish::AsUsual { dish } => write!(f, "{dish} as usual"),
        Wish::Forget { meal } => f.write_str(match meal {
            Some(MealName::Breakfast) => "forget the breakfasts",
            Some(MealName::Lunch) => "forget the lunches",
            Some(MealName::Dinner) => "forget the dinners",
            Some(MealName::Snack) | None => "forget the wishes",
        }),
        Wish::Listed => f.write_str("wishes"),
    }
}

fn meals(meal: MealName) -> &'static str {
    match meal {
        MealName::Breakfast => "breakfasts",
        MealName::Lunch => "lunches",
        MealName::Dinner => "dinners",
        MealName::Snack => "snacks",
    }
}

fn helpings(dishes: &[Helping]) -> String {
    let one = |helping: &Helping| match helping.grams {
        Some(grams) => format!("{} g {}", Plain(grams), helping.dish),
        None => helping.dish.to_string(),
    };
    dishes.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn shop(f: &mut Formatter<'_>, said: &Shop) -> fmt::Result {
    match said {
        Shop::Show => f.write_str("shopping list"),
        Shop::ForPlan(asked) => write!(f, "shopping list for the plan{}", plan(asked)),
        Shop::ForDishes(dishes) => write!(f, "shopping list for {}", called(dishes)),
        Shop::New(with) if with.is_empty() => f.write_str("new list"),
        Shop::New(with) => write!(f, "new list: {}", things(with)),
        Shop::Put(with) => write!(f, "put {} on the list", things(with)),
        Shop::Off(names) => write!(f, "take {} off the list", called(names)),
        Shop::Got(names) if names.is_empty() => f.write_str("tick everything"),
        Shop::Got(names) => write!(f, "tick {}", called(names)),
        Shop::GotAllBut(names) => write!(f, "got everything but {}", called(names)),
        Shop::Done => f.write_str("done shopping"),
    }
}

pub fn step(step: &Step) -> String {
    let uses = match step.uses {
        Uses::Hands => "by hand".to_owned(),
        Uses::Burner => "on a burner".to_owned(),
        Uses::Oven(None) => "in the oven".to_owned(),
        Uses::Oven(Some(heat)) => format!("in the oven at {heat} C"),
        Uses::Nothing => "by itself".to_owned(),
    };
    match step.minutes {
        0 => format!("{} {uses}", step.words),
        minutes => format!("{} {minutes} min {uses}", step.words),
    }
}

/// " from Sunday until Wednesday for 3 people: dal, rice"
fn plan(asked: &PlanFor) -> String {
    let begins = match &asked.begins {
        None => String::new(),
        Some(Begins::Day(day)) => format!(" from {day}"),
        Some(Begins::PrepDay) => " from the next prep day".to_owned(),
    };
    let until = asked.until.as_ref();
    let until = until.map_or(String::new(), |until| format!(" until {until}"));
    let people = asked.people;
    let people = people.map_or(String::new(), |people| format!(" for {people} people"));
    let dishes = match asked.dishes.is_empty() {
        true => String::new(),
        false => format!(": {}", called(&asked.dishes)),
    };
    format!("{begins}{until}{people}{dishes}")
}

fn things(things: &[Buying]) -> String {
    let thing = |thing: &Buying| match &thing.amount {
        Some(HowMany::Grams(grams)) => format!("{} g {}", Plain(*grams), thing.name),
        Some(HowMany::Said(said)) => format!("{said} {}", thing.name),
        None => thing.name.to_string(),
    };
    things.iter().map(thing).collect::<Vec<_>>().join(", ")
}

fn called(names: &[Words]) -> String {
    let names = names.iter().map(ToString::to_string);
    names.collect::<Vec<_>>().join(", ")
}
