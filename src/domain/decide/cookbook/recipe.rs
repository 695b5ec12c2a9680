//! A dish as it was made last: scaled, with what is different this time, shown or cooked again.

use super::super::line::{self, Pending, plain_mass};
use super::super::{Done, Step, Stop, batch};
use super::{dish, just_opened, saying};
use crate::domain::answer::BatchEvent;
use crate::domain::assumption::{self, Assumption};
use crate::domain::batch::LineState;
use crate::domain::change::Detail;
use crate::domain::cookbook::answer::{Changed, CookbookAnswer, RecipeAnswer, RecipeRow};
use crate::domain::cookbook::problem::CookbookProblem;
use crate::domain::cookbook::{Recipe, RecipeLine, Thing};
use crate::domain::draft::Draft;
use crate::domain::ids::{BatchId, MessageId};
use crate::domain::ledger::{Account, EntryKind};
use crate::domain::mass::Mass;
use crate::domain::named::contains_all;
use crate::domain::opening::Opening;
use crate::domain::origin::Origin;
use crate::domain::prep::goods::Good;
use crate::domain::problem::ProblemKind;
use crate::domain::quantity::{Meant, Measured, meant};
use crate::domain::resolve::{self, Use, key, resolve_amount};
use crate::lang::syntax::{self, Amount, IngredientLine, LineContent, RecipeBut, Scale, Words};

/// Nobody cooks less or more of a dish than so many times what it was.
const FACTORS: std::ops::RangeInclusive<f64> = 0.02..=25.0;
/// So much of what goes into the pot is no helping beside a plate.
const FILLS_A_POT: f64 = 0.3;

/// A recipe as it is to be made now.
struct Plan {
    recipe: Recipe,
    factor: f64,
    changed: Vec<Changed>,
    without: Vec<String>,
}

pub fn show(draft: &mut Draft, asked: &syntax::Recipe) -> Step {
    // What it takes to tell what a new ingredient is stays out of the books.
    let plan = planned(&mut draft.clone(), asked)?;
    Ok(saying(CookbookAnswer::Recipe(answer(draft, &plan, None))))
}

/// Open a pot by it: what the books then hold is what the recipe says.
pub fn again(draft: &mut Draft, asked: &syntax::Recipe) -> Step {
    let mut plan = planned(draft, asked)?;
    if asked.dish.is_none()
        && let Some(act) = just_opened::act(draft, &plan.recipe.code)
    {
        // "same but ghee for oil" right after the sheet: one pot is cooked, and no two.
        draft.reverse(&act);
    }
    for line in &mut plan.recipe.lines {
        // What is shown is what is weighed out.
        line.mass = line
            .mass
            .and_then(|mass| Mass::from_grams(mass.rounded_grams()));
    }
    let id = draft.open_batch(&Opening {
        name: &plan.recipe.name,
        raw: plan.recipe.raw,
        origin: Origin::Cooked,
        made_at: draft.input.said_at,
        dated: true,
        place: None,
    });
    let mut pending: Vec<Pending> = Vec::new();
    for (number, line) in (1..).zip(&plan.recipe.lines) {
        pending.extend(write(draft, id, number, line));
    }
    draft.settle();
    let opened = draft.kitchen.batch(id);
    plan.recipe.own_yield = opened.own_yield;
    let opened = Some((opened.code.clone(), draft.credit));
    let told = CookbookAnswer::Recipe(answer(draft, &plan, opened));
    let Done { answers, asks } = saying(told);
    let asks = match pending.is_empty() {
        true => asks,
        false => batch::answer(draft, id, BatchEvent::Opened, Vec::new(), pending).asks,
    };
    Ok(Done { answers, asks })
}

/// What goes with the dish is one of its ingredients, and as much as goes into a pot.
pub fn fills_a_pot(draft: &Draft, asked: &syntax::Recipe) -> bool {
    let told = asked.but.iter().find_map(|but| match but {
        RecipeBut::With(amount, name) => Some((amount, name)),
        _ => None,
    });
    let (Some((amount, name)), Ok(recipe)) = (told, base(draft, asked)) else {
        return false;
    };
    let line = line_named(draft, &recipe, name).map(|at| &recipe.lines[at]);
    let masses = line.and_then(|line| Some((line.mass?, mass_of(draft, line, amount).ok()?)));
    masses.is_some_and(|(known, told)| told.grams() >= known.grams() * FILLS_A_POT)
}

/// The recipe that is meant, as it was made.
fn base(draft: &Draft, asked: &syntax::Recipe) -> Result<Recipe, Stop> {
    let kitchen = &draft.kitchen;
    let Some(name) = &asked.dish else {
        return spoken_of(draft);
    };
    let code = |code: &str| code.eq_ignore_ascii_case(name.text.trim());
    if let Some(pot) = kitchen.batches.values().find(|pot| code(&pot.code))
        && !pot.lines.is_empty()
    {
        return Ok(kitchen.recipe_of(pot));
    }
    let dish = dish(draft, name, |dish| kitchen.recipe(dish).is_some())?;
    let recipe = kitchen.recipe(dish);
    recipe.ok_or_else(|| {
        let name = draft.kitchen.dish_name(dish);
        CookbookProblem::NoRecipe { name }.into()
    })
}

/// The pot that was spoken of last in the chat, or else the one that was cooked last.
fn spoken_of(draft: &Draft) -> Result<Recipe, Stop> {
    let kitchen = &draft.kitchen;
    if let Some((name, code)) = draft.input.spoken_dish() {
        let mut batches = kitchen.batches.values();
        let pot = batches.find(|pot| code == Some(&pot.code) && !pot.lines.is_empty());
        let pot = pot.map(|pot| kitchen.recipe_of(pot));
        let mut dishes = kitchen.dishes_named(name).into_iter();
        let told = pot.or_else(|| dishes.find_map(|dish| kitchen.recipe(dish)));
        if let Some(recipe) = told {
            return Ok(recipe);
        }
    }
    let pot = kitchen.newest_pot().ok_or(CookbookProblem::WhichDish)?;
    Ok(kitchen.recipe_of(pot))
}

fn planned(draft: &mut Draft, asked: &syntax::Recipe) -> Result<Plan, Stop> {
    let was = base(draft, asked)?;
    let factor = factor(draft, &was, asked)?;
    if !FACTORS.contains(&factor) {
        return Err(CookbookProblem::OddFactor { factor }.into());
    }
    let recipe = was.times(factor);
    let mut plan = Plan {
        changed: vec![Changed::No; recipe.lines.len()],
        without: Vec::new(),
        factor,
        recipe,
    };
    for but in &asked.but {
        differ(draft, &mut plan, but)?;
    }
    plan.recipe.keep_main();
    // What took the place of the main ingredient is it now.
    let main = was.main.map(|main| &was.lines[main].name);
    let instead =
        |changed: &Changed| matches!(changed, Changed::Instead(gone) if Some(gone) == main);
    if let Some(at) = plan.changed.iter().position(instead) {
        plan.recipe.main = Some(at);
    }
    Ok(plan)
}

/// So many times what went in: as it was told, or by how much of its main ingredient it is made with. Of anything else
/// more or less changes no more than that: nobody doubles a dal for the sake of its salt.
fn factor(draft: &Draft, was: &Recipe, asked: &syntax::Recipe) -> Result<f64, Stop> {
    match asked.scale {
        Scale::Times(times) => return Ok(times),
        Scale::Cooked(grams) => {
            let whole = was.comes_to().mass.grams();
            return Ok(if whole > 0.0 { grams / whole } else { 0.0 });
        }
        Scale::AsItWas => {}
    }
    let mut with = None;
    for but in &asked.but {
        let RecipeBut::With(amount, name) = but else {
            continue;
        };
        let at = found(draft, was, name)?;
        if was.main.is_none_or(|main| main == at) {
            with = with.or(Some((amount, at)));
        }
    }
    let Some((amount, at)) = with else {
        return Ok(1.0);
    };
    let line = &was.lines[at];
    let known = line.mass.ok_or_else(|| CookbookProblem::NoWeight {
        dish: was.name.clone(),
        name: line.name.clone(),
    })?;
    Ok(mass_of(draft, line, amount)?.grams() / known.grams())
}

/// Make one difference.
fn differ(draft: &mut Draft, plan: &mut Plan, but: &RecipeBut) -> Result<(), Stop> {
    match but {
        RecipeBut::With(amount, name) | RecipeBut::Set(amount, name) => {
            let at = found(draft, &plan.recipe, name)?;
            let told = mass_of(draft, &plan.recipe.lines[at], amount)?;
            let line = &mut plan.recipe.lines[at];
            let same = |mass: Mass| (mass - told).abs().grams() < 0.5;
            if !line.mass.is_some_and(same) {
                plan.changed[at] = Changed::Amount;
            }
            line.mass = Some(told);
        }
        RecipeBut::Plus(amount, name) => {
            let added = new_line(draft, &plan.recipe, Some(amount), name)?;
            plan.recipe.lines.push(added);
            plan.changed.push(Changed::Added);
        }
        RecipeBut::Without(name) => {
            let at = found(draft, &plan.recipe, name)?;
            plan.without.push(plan.recipe.lines.remove(at).name);
            plan.changed.remove(at);
        }
        RecipeBut::Instead { amount, new, old } => {
            let at = found(draft, &plan.recipe, old)?;
            let gone = plan.recipe.lines[at].clone();
            let came = new_line(draft, &plan.recipe, amount.as_ref(), new)?;
            plan.recipe.lines[at] = RecipeLine {
                // Nothing said: as much as of the other.
                mass: if amount.is_some() {
                    came.mass
                } else {
                    gone.mass
                },
                part: gone.part,
                ..came
            };
            plan.changed[at] = Changed::Instead(gone.name);
        }
    }
    Ok(())
}

/// Where a line stands, by its name or by what it is.
fn line_named(draft: &Draft, recipe: &Recipe, name: &Words) -> Option<usize> {
    if name.text.is_empty() {
        return recipe.main;
    }
    let wanted = key(&name.text);
    let own = |line: &RecipeLine| key(&line.name);
    let place = |fits: &dyn Fn(&RecipeLine) -> bool| recipe.lines.iter().position(fits);
    place(&|line| own(line) == wanted)
        .or_else(|| place(&|line| contains_all(&own(line), &wanted)))
        .or_else(|| place(&|line| contains_all(&wanted, &own(line))))
        .or_else(|| {
            let used = Use::Ingredient { dish: &recipe.name };
            let found = resolve::resolve(&draft.kitchen, name, used, draft.today()).ok()?;
            let resolve::Thing::Food(code) = found.thing else {
                return None;
            };
            place(&|line| line.food().is_some_and(|food| food.code == code))
        })
}

fn found(draft: &Draft, recipe: &Recipe, name: &Words) -> Result<usize, Stop> {
    line_named(draft, recipe, name).ok_or_else(|| {
        let kind = ProblemKind::Cookbook(CookbookProblem::NotInRecipe {
            dish: recipe.name.clone(),
            name: name.text.clone(),
            lines: recipe.lines.iter().map(|line| line.name.clone()).collect(),
        });
        Stop::Problem(kind.at(name.span.clone()))
    })
}

/// So much of what a line is.
fn mass_of(draft: &Draft, line: &RecipeLine, amount: &Amount) -> Result<Mass, Stop> {
    let batches = |dish| {
        let open = draft.kitchen.open_batches();
        let of_it = open.filter(|batch| batch.component == dish);
        resolve::Thing::Batches(of_it.map(|batch| batch.id).collect())
    };
    let thing = match line.thing {
        Thing::Food {
            food: Some(code), ..
        } => Some(resolve::Thing::Food(code)),
        Thing::Food {
            profile,
            food: None,
        } => Some(resolve::Thing::Packet(profile)),
        Thing::Dish(dish) => Some(batches(dish)),
        Thing::Unknown => None,
    };
    measured(draft, thing.as_ref(), &line.name, amount)
}

fn measured(
    draft: &Draft,
    thing: Option<&resolve::Thing>,
    name: &str,
    amount: &Amount,
) -> Result<Mass, Stop> {
    let missing = || Stop::from(ProblemKind::MissingAmount { name: name.into() });
    let mass = match thing {
        None | Some(resolve::Thing::Batches(_)) => plain_mass(amount),
        Some(thing) => match meant(&draft.kitchen, amount, &Measured { thing, name })? {
            Meant::Quantity(quantity) => Some(quantity.mass),
            Meant::Share(_) | Meant::Uncounted | Meant::Either(..) => None,
        },
    };
    mass.filter(|mass| mass.mg() > 0).ok_or_else(missing)
}

/// Something that was not in the recipe.
fn new_line(
    draft: &mut Draft,
    recipe: &Recipe,
    amount: Option<&Amount>,
    name: &Words,
) -> Result<RecipeLine, Stop> {
    let used = Use::Ingredient { dish: &recipe.name };
    let today = draft.today();
    let thing = resolve_amount(&draft.kitchen, amount, name, used, today);
    let thing = thing.ok().map(|resolved| resolved.thing);
    let mass = match amount {
        Some(Amount::Uncounted(_)) | None => None,
        Some(amount) => Some(measured(draft, thing.as_ref(), &name.text, amount)?),
    };
    let kind = match &thing {
        Some(resolve::Thing::Food(code)) => Thing::Food {
            profile: draft.profile(*code),
            food: Some(*code),
        },
        Some(resolve::Thing::Packet(profile)) => Thing::Food {
            profile: *profile,
            food: None,
        },
        Some(resolve::Thing::Batches(batches)) => {
            Thing::Dish(draft.kitchen.batch(batches[0]).component)
        }
        None => Thing::Unknown,
    };
    let food = match kind {
        Thing::Food { food, .. } => food,
        Thing::Dish(_) | Thing::Unknown => None,
    };
    let bought = !matches!(kind, Thing::Dish(_));
    let weighed = matches!(amount, None | Some(Amount::Mass(_) | Amount::Bare(_)));
    Ok(RecipeLine {
        name: name.text.clone(),
        thing: kind,
        mass,
        estimated: !weighed,
        part: None,
        good: bought.then(|| Good {
            food,
            key: key(&name.text),
            words: name.text.clone(),
        }),
    })
}

/// Put a line into the new pot.
fn write(draft: &mut Draft, id: BatchId, number: u32, planned: &RecipeLine) -> Option<Pending> {
    let amount = planned.mass.map(|mass| Amount::Mass(mass.grams()));
    let text = match &amount {
        Some(amount) => format!("{amount} {}", planned.name),
        None => planned.name.clone(),
    };
    let (Thing::Food { profile, .. }, Some(mass)) = (planned.thing, planned.mass) else {
        let said = IngredientLine {
            span: 0..0,
            part: planned.part.clone(),
            content: LineContent::Ingredient {
                // What nobody weighed the last time is named again.
                amount: amount.or_else(|| Some(Amount::Uncounted("some".into()))),
                name: Words::plain(planned.name.clone()),
            },
            text,
        };
        return line::write(draft, id, number, &said);
    };
    let detail = Detail::Ingredient {
        number,
        text,
        part: planned.part.clone(),
        state: LineState::Known,
        estimated: planned.estimated,
        note: assumption::encode(&[Assumption::Planned]),
        source: None,
    };
    let ends = (Account::Bought, draft.pot(id));
    let about = (Some(id), Some(profile));
    draft.enter(
        EntryKind::Ingredient,
        ends,
        mass,
        about.0,
        about.1,
        Some(detail),
    );
    None
}

fn answer(draft: &Draft, plan: &Plan, opened: Option<(String, MessageId)>) -> RecipeAnswer {
    let recipe = &plan.recipe;
    let lines = recipe.lines.iter().zip(&plan.changed).enumerate();
    RecipeAnswer {
        name: recipe.name.clone(),
        code: recipe.code.clone(),
        made_on: recipe.made_on,
        today: draft.today(),
        factor: plan.factor,
        lines: lines
            .map(|(at, (line, changed))| RecipeRow {
                name: line.name.clone(),
                part: line.part.clone(),
                mass: line.mass,
                estimated: line.estimated,
                ratio: recipe.ratio(at),
                changed: changed.clone(),
            })
            .collect(),
        without: plan.without.clone(),
        comes_to: recipe.comes_to(),
        raw: recipe.raw,
        poured: recipe.poured,
        opened,
    }
}
