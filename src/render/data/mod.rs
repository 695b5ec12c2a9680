//! The same answers for machines: the `data` of the bridge.
//!
//! Numbers are not rounded, units stand in the names, unknown is `null`. Days are `YYYY-MM-DD`, foods
//! are `"NDB 04506"`, batches their codes. Several answers to one message give the first answer's
//! object with the others under `"also"`.
//!
//! `nutrients`, `totals` and `per_100g` are always
//! `{"energy_kcal", "protein_g", "fat_g", "saturated_fat_g", "carbohydrate_g", "sugars_g", "fibre_g",
//! "sodium_mg", "potassium_mg", "calcium_mg", "iron_mg", "cholesterol_mg", "water_g", "alcohol_g"}`;
//! where something in a sum is unknown, `"at_least": ["fibre_g"]` follows and names those that are
//! lower bounds.
//!
//! | kind | what follows it |
//! | --- | --- |
//! | `portion` | `"plates": [{"member", "day", "meal", "lines": [{"name", "batch", "food", "grams", "left_grams", "left_pieces", "nutrients", "lots": [{"place", "grams"}]}], "totals"}]`; the lots that a batch was drawn from, in their order |
//! | `batch` | `"batch": {"code", "name", "origin": "cooked", "bought", "before", "leftover", "boxed" or "topped_up", "state": "weighed" or "estimated", "made", "raw_grams", "net_grams", "yield", "pieces": {"count", "word"} or null, "ingredients": [{"text", "food", "batch", "packet", "grams", "estimated"}], "totals", "per_100g", "allergens": [terms of the US and the EU list], "allergens_unknown": [ingredients that may carry more], "lots": [{"place", "vessel", "grams", "pieces", "use_by"}]}`; with unclear lines also `"pending": [{"line", "code", "candidates"}]` |
//! | `day` | `"member", "day", "plates": [as in `portion`], "totals"` |
//! | `portions` | `"name", "batch", "left_grams", "usual_grams"`, null if nobody has eaten of it yet |
//! | `not_booked` | `"words": [what questions were about that nobody answered]` |
//! | `stock` | `"lots": [{"batch", "name", "place", "vessel", "grams", "pieces", "use_by", "frozen", "best_by", "usual_grams"}]`; for "how much dal", the lots of that name; `best_by` is the first day of a range, null where there is none |
//! | `history` | `"name", "batch", "others": [codes], "lines": [{"at", "what", "grams", "left_grams", "member"}], "left_grams"`; `what` is `made`, `eaten`, `eaten_by_you`, `eaten_unweighed`, `thrown_away`, `used` (with a `"batch"`), `moved` (with a `"place"`), `counted` (with `"counted_grams"`; the grams are the difference) or `difference`; `member` is who wrote it down, and null for what was eaten; `at` is local time |
//! | `food` | `"food", "description", "grams", "nutrients"`; a batch or a packet is named by a further `"batch"` or `"packet"` |
//! | `waste` | `"lines": [{"name", "batch", "grams", "left_grams"}], "reason"` |
//! | `move` | `"thawed": true or false, "packed": true or false, "lots": [], "elsewhere": []`: the new lots, and the other lots of the same batches, each `{"batch", "name", "place", "vessel", "grams", "pieces", "use_by"}` |
//! | `chart` | of a picture: `"chart": "week"`, `"sources"` or `"stock"` and what it shows, unrounded (see the README), `"width", "height"` in pixels |
//! | `label` | `"labels": [{"batch", "name", "place", "grams", "made", "frozen", "use_by", "per_100g", "allergens", "allergens_unknown"}], "width_mm", "height_mm", "page": {"width_mm", "height_mm"} or null, "dpi"`: what one picture shows |
//! | `receive` | `"origin": "bought" or "before", "lots": [each as in `move`]`; with unclear ones also `"pending": [{"batch", "code", "candidates"}]` |
//! | `keeps` | `"name", "kept": [{"storage": "fridge", "thawed" or "freezer", "keeps", "chart"}], "lots": [each as in `move`]`; `keeps` and `chart` are `{"days", "months", "source"}` or null, `chart` where the household keeps it longer |
//! | `use_by` | `"told", "lots": [each as in `move`, with the date that holds]` |
//! | `place` | `"name", "storage": "fridge", "freezer" or "counter"` |
//! | `count` | `"lines": [{"name", "batch", "grams", "difference_grams"}]`, the difference counted less booked |
//! | `packet` | `"name", "per_100g", "serving_grams", "doubt": {"printed_kcal", "low_kcal", "high_kcal", "looks_like_kj"} or null` |
//! | `measure` | `"measure", "name"` (null: of anything)`, "grams"` |
//! | `container` | `"name", "tare_grams", "holds"`: what was taught of the two, the other null |
//! | `tares` | `"vessels": [{"name", "tare_grams", "holds": [{"name", "grams"}]}]`: what vessels weigh empty, null where nobody said, and what stands in them, without grams while it is not weighed |
//! | `good` | `"name", "food"`, and one of `"bought_grams", "trimmed_grams", "refuse", "refuse_by_table"`, `"pack": {"word", "grams"}`, `"price": {"amount", "currency", "grams"}`, `"cupboard": {"grams", "always"}`, `"at_home": {"grams"}` (to be there; null: no more than is used) |
//! | `par` | `"dish", "grams"`, null: none from here on |
//! | `pot` | `"dish"`, null: any, `"grams"`: what it holds, cooked |
//! | `limit` | `"what": "burners", "trays" or "pots_a_day", "count"`, null: none |
//! | `shopping` | `"event": "shown", "needed" (by a plan, on no list yet), "begun", "put", "off", "got" or "done", "list": its number, or null, "things": [names], "from", "until": the days of the plan on it, or null, "lines": [{"id", "name", "food", "need_grams", "buy_grams", "packs": {"count", "word", "grams"} or null, "said": [amounts that are no mass], "cost": {"amount", "currency"} or null, "bought_by"}], "total": [{"amount", "currency"}]`; `things` are those that were put on, taken off or bought, and for a new list what was left on the old one |
//! | `wishes` | `"event": "listed", "wished" or "dropped", "wishes": [{"dish", "from", "until", "grams_a_day", "meal", "people"}], "all_away": [dates]`; of 0 grams: none of it |
//! | `plan` | `"from", "until", "by": "prep_day", "told" or "usual" (a week), "people": as told, or null, "only": [the dishes that were asked for; empty: all], "eaters": [of each day], "pots_a_day", "dishes": [{"dish", "grams_a_day", "days_told", "demand_grams": [of each day], "wished": [of each day], "taken_grams", "par_grams", "there_grams", "past_grams", "eaten_before_grams", "pot_grams", "keeps_days", "keeps_frozen_days", "cook": [{"on", "grams", "pots", "freeze_grams", "ingredients": [{"name", "grams"}] or null, "worth", "portion": {"grams", "worth"} or null}], "freeze", "unmet": [{"on", "grams"}], "thaw": [{"on", "grams", "overnight"}], "short_grams", "spoils_grams", "left_grams"}], "unknown": [{"dish", "grams"}], "worth"`; `there_grams` is what is good on the day `from`, `eaten_before_grams` what goes until then; `thaw` by the day on which it is eaten, out of the freezer in the evening before if `overnight`; `freeze` by the last day for it |
//! | `plan_reason` | `"from", "until", "eaters": [of each day], "asked_grams", "of": {"plan": a dish as in `plan`, or null, "goes_into": {"name", "grams", "dish", "cooked_grams", "as"} or null}`: why the plan comes to so much of it |
//! | `recipe` | `"dish", "as": the pot it was made as, "made", "factor", "lines": [{"name", "grams", "estimated", "ratio", "added", "instead_of"}], "without", "poured_grams", "cooked_grams", "expected"` as of a batch`, "batch"`: the pot that was opened by it, or null; `ratio` is to the main ingredient, 1 for itself |
//! | `compared` | `"dish", "pots": [{"batch", "made", "raw_grams", "main_grams", "net_grams", "state", "kcal_per_100g", "protein_per_100g", "worth", "lasted_days", "left_grams", "thrown_away_grams"}], "unweighed": [codes that are left out], "main", "ratios": [{"name", "ratios": one a pot}]`; `worth` is `{"cost": [{"hundredths", "currency"}], "unpriced_grams"}` |
//! | `pace` | `"dishes": [{"dish", "grams_a_day", "days_known", "left_grams", "days_of_cover", "out_on", "date_passes": {"last_day", "grams"} or null}]` |
//! | `finder` | `"met", "lines": [{"name", "batch", "food", "grams", "told", "left_grams", "use_by", "frozen", "state", "nutrients"}], "totals", "aims": [{"of": "energy_kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g" or "salt_g", "least", "most", "holds", "off"}], "day": {"had": [{"of", "had"}], "low"} or null (what the day has that is to be filled up), "unknown": [names]`: a plate that was looked for, in kcal and grams; `off` is what is too little (negative) or too much, `unknown` what the books know too little of |
//! | `share` | `"dish", "since", "own_grams", "guests": [{"member", "grams"}], "grams"`: what the asker ate of it, guests and children who do not write here, and all together |
//! | `cost` | `"dish", "batch", "net_grams", "worth", "unpriced": [names], "portion", "week"`: each `{"grams", "worth"}` or null |
//! | `spent` | `"from", "until", "worth", "dishes": [{"dish", "worth"}]` |
//! | `steps` | `"dish", "steps": [{"words", "minutes", "uses": "hands", "burner", "oven" or null}]` |
//! | `prep_sheet` | `"ready", "asked": earlier than it can be, or null, "hands_from", "rows": [{"begins", "ends", "dish", "words", "uses", "oven_c"}], "without": [dishes without steps], "burners", "trays"`; times are local |
//! | `choice` | `"words", "food", "description"` |
//! | `settings` | `"timezone", "measures": "us" or "metric" or "australian" or "british", "answers": "full" or "brief" or "reaction", "guidance": "us" or "uk" or "au-nz", "energy": "kcal" or "kj", "decimals": "point" or "comma", "day_turns", "board": true or false, "prep_day": {"weekday", "at", "every_other": a date of it, or null for every week}, "morning", "evening", "put_away": true or false, "quiet": [from, to], "own": {"member", "numbers", "private", "targets", "avoids"} or null` |
//! | `timer` | `"event": "set", "cancelled" or "list", "timers": [{"about": "timer" or "once", "id", "words", "due_at"}]`; times are UTC |
//! | `reminder` | `"about", "id", "words", "due_at", "late_seconds"`: it is time |
//! | `reminder` | of a note, `about` is `morning`, `evening` or `prep_day`, with `"occurrence", "due_at", "late_seconds", "also_for": [dates], "lots": [as in `stock`], "take_out": [{"dish", "grams"}], "on_the_day": [{"dish", "grams"}], "freeze", "finish": lots` |
//! | `reminder` | with `about` `put_away`: `"lots": [as in `stock`]` |
//! | `away` | `"member", "from", "until", "freeze": [], "finish": []`: lots as in `stock`; `member` is null for everybody |
//! | `back` | `"member", "on"` |
//! | `undo` | `"text", "member", "put_back", "left": [{"name", "grams"}], "settings": [keys of `settings`] or null (what it was about)` |
//! | `ask` | `"about", "options": [labels]`, and `"problem"`, the code of what raised the question, if anything did |
//! | `problem` | `"code", "candidates"`: numbers of foods, or names, that may have been meant |
//! | `on_scale` | `"grams"`: an empty vessel stands on the scale, what comes next counts from there |
//! | `dropped` | `"about"`: the question that was dropped |
//! | `help` | `"topic"` |
//! | `why` | `"cautions": [{"code", "about"}]`: what was asked about |
//! | `unchanged` | nothing: an edit that means the same, a press that changes nothing |

mod batch;
pub mod chart;
mod cookbook;
mod count;
mod finder;
mod history;
mod keeping;
pub(super) mod label;
mod plan;
mod plate;
mod prep;
mod report;
mod taught;

use serde_json::{Value, json};

use crate::domain::answer::{Answer, Ask};
use crate::domain::caution::{self, Cautioned};
use crate::domain::mass::Mass;
use crate::domain::nutrients::Totals;
use crate::domain::problem::{Problem, ProblemKind};
use crate::foods::Nutrient;

use super::clean::clean;

pub use batch::{batch, lot};
pub use plate::plate;

/// The data of one message; `null` for silence.
pub fn message(answers: &[Answer]) -> Value {
    let mut objects = answers.iter().map(answer);
    let Some(mut first) = objects.next() else {
        return Value::Null;
    };
    let also: Vec<Value> = objects.collect();
    let cautions: Vec<Value> = caution::of(answers).iter().map(cautioned).collect();
    if let (Some(object), false) = (first.as_object_mut(), also.is_empty()) {
        object.insert("also".to_string(), Value::Array(also));
    }
    if let (Some(object), false) = (first.as_object_mut(), cautions.is_empty()) {
        object.insert("cautions".to_string(), Value::Array(cautions));
    }
    first
}

fn cautioned(cautioned: &Cautioned) -> Value {
    json!({"code": cautioned.caution.word().replace(' ', "_"), "about": clean(&cautioned.about)})
}

fn answer(answer: &Answer) -> Value {
    match answer {
        Answer::Batch(answer) => batch::answer(answer),
        Answer::Portion(answer) => plate::portion(answer),
        Answer::Waste(answer) => plate::waste(answer),
        Answer::Move(answer) => batch::moved(answer),
        Answer::Label(answer) => label::answer(answer),
        Answer::Receive(answer) => keeping::received(answer),
        Answer::Keeps(answer) => keeping::keeps(answer),
        Answer::UseBy(answer) => keeping::told(answer),
        Answer::PlaceTold { name, kind, .. } => keeping::place(name, *kind),
        Answer::Count(answer) => count::count(answer),
        Answer::Taken(answer) => count::taken(answer),
        Answer::Sheet(answer) => count::sheet(answer),
        Answer::Course(answer) => chart::course(answer),
        Answer::Drift(answer) => report::drift(answer),
        Answer::Wasted(answer) => report::wasted(answer),
        Answer::Priced(answer) => report::priced(answer),
        Answer::Prep(answer) => prep::answer(answer),
        Answer::Cookbook(answer) => cookbook::answer(answer),
        Answer::Day(answer) => plate::day(answer),
        Answer::Portions(answer) => plate::portions(answer),
        Answer::NotBooked(words) => {
            let words: Vec<String> = words.iter().map(|words| clean(words)).collect();
            json!({"kind": "not_booked", "words": words})
        }
        Answer::Stock(answer) => batch::stock(&answer.lots),
        Answer::History(answer) => history::answer(answer),
        Answer::HowMuch(answer) => batch::stock(&answer.lots),
        Answer::Food(answer) => plate::food(answer),
        Answer::Packet(answer) => taught::packet(answer),
        Answer::MeasureTaught {
            measure,
            name,
            each,
        } => taught::measure(measure, name.as_deref(), *each),
        Answer::ContainerTaught { name, tare } => taught::container(name, Some(*tare), None),
        Answer::ContainerHolds { container, batch } => {
            taught::container(container, None, Some(batch))
        }
        Answer::Tares(vessels) => taught::tares(vessels),
        Answer::Settings { settings, own, .. } => taught::settings(settings, own.as_deref()),
        Answer::Undone(answer) => taught::undo(answer),
        Answer::Clock(answer) => super::clock::data::data(answer),
        Answer::Avoid(answer) => super::avoid::data(answer),
        Answer::Table(answer) => super::table::data(answer),
        Answer::Personal(answer) => super::personal::data::data(answer),
        Answer::Finder(answer) => finder::answer(answer),
        Answer::Dropped { about } => json!({"kind": "dropped", "about": clean(about)}),
        Answer::Help { topic } => json!({"kind": "help", "topic": topic.as_deref().map(clean)}),
        Answer::OnScale { mass, jar } => {
            json!({"kind": "on_scale", "grams": mass.grams(), "jar": jar.as_deref().map(clean)})
        }
        Answer::Ask(ask) => self::ask(ask),
        Answer::Problem(problem) => self::problem(problem),
        Answer::Why(cautions) => {
            let cautions: Vec<Value> = cautions.iter().map(cautioned).collect();
            json!({"kind": "why", "cautions": cautions})
        }
        Answer::Unchanged => json!({"kind": "unchanged"}),
    }
}

/// All fourteen nutrients, and which of them are lower bounds.
pub fn nutrients(totals: &Totals) -> Value {
    let mut object = serde_json::Map::new();
    let mut at_least = Vec::new();
    for nutrient in Nutrient::ALL {
        let sum = totals.get(nutrient);
        object.insert(nutrient.key().to_string(), json!(sum.amount));
        if sum.at_least && sum.amount.is_some() {
            at_least.push(json!(nutrient.key()));
        }
    }
    if !at_least.is_empty() {
        object.insert("at_least".to_string(), Value::Array(at_least));
    }
    Value::Object(object)
}

/// The same, and null where numbers are not told.
fn told(totals: &Totals, numbers: bool) -> Value {
    match numbers {
        true => nutrients(totals),
        false => Value::Null,
    }
}

fn ask(ask: &Ask) -> Value {
    let mut object = json!({
        "kind": "ask",
        "about": ask.about.word(),
        "options": super::ask::options(ask),
    });
    if let Some(problem) = &ask.problem {
        object["problem"] = json!(problem.code());
    }
    object
}

fn problem(problem: &Problem) -> Value {
    json!({
        "kind": "problem",
        "code": problem.kind.code(),
        "candidates": candidates(&problem.kind),
    })
}

/// What may have been meant.
fn candidates(kind: &ProblemKind) -> Vec<String> {
    match kind {
        ProblemKind::UnknownFood { near, .. } => near.iter().map(ToString::to_string).collect(),
        ProblemKind::UnknownName { near, .. } => near.iter().map(|name| clean(name)).collect(),
        ProblemKind::UsedUp { food, .. } => food.iter().map(ToString::to_string).collect(),
        _ => Vec::new(),
    }
}

fn grams(mass: Option<Mass>) -> Value {
    json!(mass.map(Mass::grams))
}
