//! What is said ahead of cooking, for machines.

use chrono::NaiveDateTime;
use serde_json::{Value, json};

use super::clean;
use crate::domain::answer::PrepAnswer;
use crate::domain::batch::Money;
use crate::domain::mass::Mass;
use crate::domain::prep::answer::{
    GoodAnswer, ShoppingAnswer, ShoppingEvent, WishEvent, WishesAnswer,
};
use crate::domain::prep::goods::{Cupboard, GoodFact};
use crate::domain::prep::sheet::{DishStep, SheetRow, WorkSheet};
use crate::domain::prep::shop::ListLineView;
use crate::domain::prep::wish::WishView;
use crate::domain::prep::work::Uses;
use crate::render::portion::meal_word;

pub(super) fn answer(answer: &PrepAnswer) -> Value {
    match answer {
        PrepAnswer::Good(answer) => good(answer),
        PrepAnswer::Par { dish, mass, .. } => {
            json!({"kind": "par", "dish": clean(dish), "grams": mass.map(|mass| mass.grams())})
        }
        PrepAnswer::PotHolds { dish, mass, .. } => {
            json!({"kind": "pot", "dish": dish.as_deref().map(clean), "grams": mass.grams()})
        }
        PrepAnswer::Limit { what, count, .. } => {
            json!({"kind": "limit", "what": what.word(), "count": count})
        }
        PrepAnswer::Shopping(answer) => shopping(answer),
        PrepAnswer::Wishes(answer) => wishes(answer),
        PrepAnswer::Steps { dish, steps, .. } => {
            let step = |known: &DishStep| {
                json!({
                    "words": clean(&known.words),
                    "minutes": known.step.minutes,
                    "uses": uses(known.step.uses),
                })
            };
            let steps: Vec<Value> = steps.iter().map(step).collect();
            json!({"kind": "steps", "dish": clean(dish), "steps": steps})
        }
        PrepAnswer::Sheet(sheet) => work(sheet),
        PrepAnswer::Plan(answer) => super::plan::answer(answer),
        PrepAnswer::Why(answer) => super::plan::why(answer),
    }
}

fn uses(uses: Uses) -> Value {
    match uses {
        Uses::Hands => json!("hands"),
        Uses::Burner => json!("burner"),
        Uses::Oven(_) => json!("oven"),
        Uses::Nothing => Value::Null,
    }
}

fn work(sheet: &WorkSheet) -> Value {
    let time = |moment: NaiveDateTime| moment.format("%Y-%m-%dT%H:%M").to_string();
    let row = |row: &SheetRow| {
        json!({
            "begins": time(row.begins),
            "ends": time(row.ends),
            "dish": clean(&row.dish),
            "words": clean(&row.words),
            "uses": uses(row.uses),
            "oven_c": match row.uses {
                Uses::Oven(heat) => heat,
                _ => None,
            },
        })
    };
    json!({
        "kind": "prep_sheet",
        "ready": time(sheet.ready),
        "asked": sheet.asked.map(time),
        "hands_from": sheet.hands_from.map(time),
        "rows": sheet.rows.iter().map(row).collect::<Vec<_>>(),
        "without": sheet.without.iter().map(|dish| clean(dish)).collect::<Vec<_>>(),
        "burners": sheet.stove.burners,
        "trays": sheet.stove.trays,
    })
}

fn wishes(answer: &WishesAnswer) -> Value {
    let event = match answer.event {
        WishEvent::Listed => "listed",
        WishEvent::Wished => "wished",
        WishEvent::Dropped => "dropped",
    };
    let wish = |wish: &WishView| {
        json!({
            "dish": clean(&wish.dish),
            "from": wish.from.to_string(),
            "until": wish.until.to_string(),
            "grams_a_day": wish.a_day.map_or(0.0, Mass::grams),
            "meal": wish.meal.map(meal_word),
            "people": wish.people,
        })
    };
    let wishes: Vec<Value> = answer.wishes.iter().map(wish).collect();
    let all_away = answer.all_away.iter().map(ToString::to_string);
    let all_away: Vec<String> = all_away.collect();
    json!({"kind": "wishes", "event": event, "wishes": wishes, "all_away": all_away})
}

fn shopping(answer: &ShoppingAnswer) -> Value {
    let (event, things): (_, &[String]) = match &answer.event {
        ShoppingEvent::Shown => ("shown", &[]),
        ShoppingEvent::Needed => ("needed", &[]),
        ShoppingEvent::Begun { left } => ("begun", left),
        ShoppingEvent::Put(things) => ("put", things),
        ShoppingEvent::Off(things) => ("off", things),
        ShoppingEvent::Got(things) => ("got", things),
        ShoppingEvent::Done { .. } => ("done", &[]),
    };
    let things: Vec<String> = things.iter().map(|words| clean(words)).collect();
    let list = answer.list.as_ref();
    let lines: Vec<Value> = list.iter().flat_map(|list| &list.lines).map(line).collect();
    json!({
        "kind": "shopping",
        "list": answer.list.as_ref().map(|list| list.list.0),
        "event": event,
        "things": things,
        "from": list.and_then(|list| list.days).map(|(from, _)| from.to_string()),
        "until": list.and_then(|list| list.days).map(|(_, until)| until.to_string()),
        "lines": lines,
        "total": list.map_or(Vec::new(), |list| list.total.iter().map(money).collect()),
    })
}

fn line(line: &ListLineView) -> Value {
    let buy = &line.buy;
    json!({
        "id": line.id.0,
        "name": clean(&buy.good.words),
        "food": buy.good.food.map(|code| code.to_string()),
        "need_grams": buy.need.map(Mass::grams),
        "buy_grams": buy.buy.map(Mass::grams),
        "packs": buy.packs.as_ref().map(|packs| json!({
            "count": packs.count,
            "word": clean(&packs.word),
            "grams": packs.mass.grams(),
        })),
        "said": line.said.iter().map(|said| clean(said)).collect::<Vec<_>>(),
        "cost": buy.cost.as_ref().map(money),
        "bought_by": line.ticked_by.as_deref().map(clean),
    })
}

fn money(money: &Money) -> Value {
    json!({
        "amount": money.hundredths as f64 / 100.0,
        "currency": clean(&money.currency),
    })
}

fn good(answer: &GoodAnswer) -> Value {
    let mut object = json!({
        "kind": "good",
        "name": clean(&answer.good.words),
        "food": answer.good.food.map(|code| code.to_string()),
    });
    match &answer.fact {
        GoodFact::Trimmed { bought, trimmed } => {
            object["bought_grams"] = json!(bought.grams());
            object["trimmed_grams"] = json!(trimmed.grams());
            object["refuse"] = json!(answer.refuse.share);
            object["refuse_by_table"] = json!(answer.by_table);
        }
        GoodFact::Pack { mass, word } => {
            object["pack"] = json!({"word": clean(word), "grams": mass.grams()});
        }
        GoodFact::Price { money, mass } => {
            object["price"] = json!({
                "amount": money.hundredths as f64 / 100.0,
                "currency": clean(&money.currency),
                "grams": mass.grams(),
            });
        }
        GoodFact::Cupboard(cupboard) => {
            let grams = match cupboard {
                Cupboard::Holds(mass) => Some(mass.grams()),
                Cupboard::Always | Cupboard::Out => None,
            };
            let always = *cupboard == Cupboard::Always;
            object["cupboard"] = json!({"grams": grams, "always": always});
        }
        GoodFact::AtHome(mass) => object["at_home"] = json!({"grams": mass.map(Mass::grams)}),
    }
    object
}
