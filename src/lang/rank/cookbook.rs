//! Whether what is said of dishes that were cooked before may be taken unasked.

use crate::lang::command::cookbook::{is_bidden, is_figured};
use crate::lang::lexer::folded_words;
use crate::lang::name::{Familiarity, familiarity};
use crate::lang::syntax::{Cookbook, Pace, Recipe, RecipeBut, Scale};
use crate::lang::tokens::Tokens;
use crate::lang::veto::vetoes_in;
use crate::lang::words::clock;

/// What it is worth, whether it is sure, and whether it looks like a weighing.
pub fn judged(said: &Cookbook, input: Tokens<'_>) -> (i32, bool, bool) {
    // Whatever else forbids booking is a word that has its place here: what will be, what was, a recipe.
    let supposed = vetoes_in(input).contains(&"conditional");
    let body = input.trimmed();
    let asks = |leads: &[&str]| {
        let mut leads = leads.iter().map(|lead| lead.split(' ').enumerate());
        leads.any(|mut words| words.all(|(at, word)| body.norm(at) == word))
    };
    let sure = match said {
        Cookbook::Again(recipe) if is_figured(recipe) => {
            (names_pot(recipe, input) || swaps(recipe)) && names_food(recipe, input)
        }
        Cookbook::Again(recipe) => is_all_said(recipe, input),
        Cookbook::Show(_) => asks(&["recipe", "show", "how do"]),
        // "who ate the dal" is asked among people as well.
        Cookbook::Pace {
            asked: Pace::Who, ..
        } => asks(&["how", "my", "whats my", "what is my", "who eats"]),
        // "are we getting through the chilli" is asked at the table.
        Cookbook::Pace {
            asked: Pace::Fast, ..
        } if input.trimmed().norm(0) == "are" => false,
        // Alone they may mean anything.
        Cookbook::Pace { dish: None, .. } | Cookbook::Spent { .. } => input.trimmed().len() > 2,
        Cookbook::Pace { .. } | Cookbook::Compare { .. } | Cookbook::Cost { .. } => true,
    };
    // "recipe for disaster"; of a dish that nobody has cooked here it is told where it is called as dishes are.
    let ours = said.dish().is_none_or(|dish| {
        let known = familiarity(&dish.text, input) == Familiarity::Household;
        known || asks_of_any(said) && is_a_dish(&dish.text)
    });
    (0, sure && ours && !supposed, false)
}

/// "dal with 150 rice" and "same but no rice" are plates, unless the books know better.
fn names_pot(recipe: &Recipe, input: Tokens<'_>) -> bool {
    let of_pots = ["recipe", "batch", "pot"];
    let again = ["again", "more", "time", "before", "same"];
    let said = |words: &[&str]| {
        input
            .slice
            .iter()
            .any(|token| words.contains(&token.norm()))
    };
    let pot = said(&of_pots);
    // "make a double batch of dal again": people ask each other for that.
    let bidden = is_bidden(input.trimmed());
    match recipe.dish {
        Some(_) if bidden => said(&["recipe"]),
        Some(_) => pot || recipe.scale != Scale::AsItWas || said(&again),
        None => pot,
    }
}

/// "same but ghee for oil": the books tell whether there was oil in it.
fn swaps(recipe: &Recipe) -> bool {
    let mut but = recipe.but.iter();
    recipe.dish.is_none() && but.all(|but| matches!(but, RecipeBut::Instead { .. }))
}

/// "chilli again with 500 mince", "how fast does the lasagne go": nobody says that of what others cook.
fn asks_of_any(said: &Cookbook) -> bool {
    match said {
        Cookbook::Again(recipe) => is_figured(recipe),
        Cookbook::Pace { asked, .. } => *asked == Pace::Fast,
        _ => false,
    }
}

/// It is called as dishes are.
fn is_a_dish(name: &str) -> bool {
    let folded = folded_words(name);
    let last = folded.last();
    last.is_some_and(|last| clock().get(last) == Some("dish"))
}

/// "dal again", and not a mark more: with one, or with another word, it may be sighed.
fn is_all_said(recipe: &Recipe, input: Tokens<'_>) -> bool {
    let name = recipe
        .dish
        .as_ref()
        .map(|dish| folded_words(&dish.text).len());
    let polite = |word: &str| matches!(word, "please" | "pls" | "plz");
    let asked = input.last().is_some_and(|token| polite(token.norm()));
    let said = input.range(0, input.len() - usize::from(asked));
    let last = said.last().is_some_and(|token| token.norm() == "again");
    last && name == Some(said.len() - 1)
}

/// What is different is food: "dal again with 2 hours to go" is none.
fn names_food(recipe: &Recipe, input: Tokens<'_>) -> bool {
    recipe.but.iter().all(|but| {
        let name = match but {
            RecipeBut::With(_, name)
            | RecipeBut::Set(_, name)
            | RecipeBut::Plus(_, name)
            | RecipeBut::Without(name)
            | RecipeBut::Instead { new: name, .. } => name,
        };
        name.text.is_empty() || familiarity(&name.text, input) >= Familiarity::Food
    })
}
