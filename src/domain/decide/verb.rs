//! From a command to the file of its verb.

use super::super::answer::Answer;
use super::super::draft::Draft;
use super::super::ledger::EntryKind;
use super::super::problem::ProblemKind;
use super::{
    Done, Step, again, avoid, batch, boxes, claim, clock, cookbook, count, eaten, fact, find,
    finder, fix, history, keeps, label, left_over, moving, packet, personal, pieces, place_is,
    portion, pour_off, prep, question, receive, reopen, report, scale, set_up, sheet, spread,
    stock, table, take, teach, top_up, undo, use_by, vessel, waste, weigh,
};
use crate::lang::syntax::Command;

/// Carry out one command: each verb has a file.
pub fn carry_out(draft: &mut Draft, command: &Command) -> Step {
    find::which_pot(draft, command)?;
    match command {
        Command::Batch(batch) => batch::open(draft, batch),
        Command::Add { batch, lines } => batch::add(draft, batch, lines),
        Command::Amend {
            batch,
            number,
            line,
        } => batch::amend(draft, batch, *number, line.as_ref()),
        Command::Weigh {
            batch,
            weighing,
            of,
        } => weigh::weigh(draft, batch, weighing, *of),
        Command::PourOff {
            batch,
            poured,
            anyway,
        } => pour_off::pour_off(draft, batch.as_ref(), poured, *anyway),
        Command::Portion(portion) => portion::portion(draft, portion),
        Command::OnScale(reading) => scale::reading(draft, reading),
        Command::Count {
            items,
            rest,
            anyway,
        } => count::count(draft, items, *rest, *anyway),
        Command::Sheet => sheet::sheet(draft),
        Command::Course { dish } => report::course(draft, dish.as_ref()),
        Command::Drift { dish } => report::drift(draft, dish.as_ref()),
        Command::Wasted { period } => report::wasted(draft, *period),
        Command::Price(price) => report::price(draft, price),
        Command::Prep(said) => prep::carry_out(draft, said),
        Command::Cookbook(said) => cookbook::carry_out(draft, said),
        Command::Waste {
            items,
            reason,
            anyway,
        } => waste::waste(draft, items, reason.as_deref(), *anyway),
        Command::Move(moved) => moving::put(draft, moved),
        Command::Spread(said) => spread::spread(draft, said),
        Command::Take(taking) => take::take(draft, taking),
        Command::Claim(claim) => claim::claim(draft, claim),
        Command::Reopen(said) => reopen::reopen(draft, said),
        Command::TopUp(said) => top_up::top_up(draft, said),
        Command::Boxes(said) => boxes::pack(draft, said),
        Command::LeftOver(said) => left_over::left_over(draft, said),
        Command::Label(wanted) => label::label(draft, wanted),
        Command::Receive(receive) => receive::receive(draft, receive),
        Command::Pieces(of) => pieces::count(draft, of),
        Command::Keeps(kept) => keeps::keep(draft, kept),
        Command::UseBy { name, place, on } => use_by::tell(draft, name, place.as_ref(), on),
        Command::PlaceIs { name, kind } => place_is::tell(draft, name, *kind),
        Command::Stock { place } => stock::stock(draft, place.as_ref()),
        Command::History { name } => history::history(draft, name),
        Command::Dates { name } => stock::dates(draft, name),
        Command::HowMuch { name } => stock::how_much(draft, name),
        Command::Whereabouts { name } => stock::whereabouts(draft, name),
        Command::Show { name } => stock::show(draft, name),
        Command::Fact {
            nutrient,
            amount,
            name,
            weight_only,
        } => {
            let asked = fact::Asked {
                nutrient: *nutrient,
                amount: amount.as_ref(),
                name,
                weight_only: *weight_only,
            };
            fact::fact(draft, &asked)
        }
        Command::Help { topic } => Ok(Done::saying(Answer::Help {
            topic: topic.as_ref().map(|words| words.text.clone()),
        })),
        Command::Start { code } => stock::start(draft, code.as_deref()),
        Command::Packet(packet) => packet::packet(draft, packet),
        Command::TeachMeasure {
            count,
            measure,
            name,
            grams,
        } => teach::measure(draft, *count, measure, name.as_ref(), *grams),
        Command::TeachContainer {
            name,
            tare_grams,
            empty,
        } => teach::container(draft, name, *tare_grams, *empty),
        Command::ContainerHolds { container, batch } => vessel::holds(draft, container, batch),
        Command::Tares { name } => vessel::tares(draft, name.as_ref()),
        Command::Setting(setting) => teach::setting(draft, setting),
        Command::SetUp(said) => set_up::set_up(draft, said),
        Command::Settings(part) => Ok(teach::settings(draft, *part)),
        Command::Clock(told) => clock::carry_out(draft, told),
        Command::Avoid(said) => avoid::carry_out(draft, said),
        Command::People(said) => table::carry_out(draft, said),
        Command::Personal(said) => personal::carry_out(draft, said),
        Command::Finder(said) => finder::find(draft, said),
        Command::Undo => undo::undo(draft),
        Command::UndoMove { name } => undo::undo_last(draft, EntryKind::Move, name.as_ref()),
        Command::UndoCount { name } => undo::undo_last(draft, EntryKind::Count, name.as_ref()),
        Command::UndoWaste { name } => undo::undo_last(draft, EntryKind::Waste, name.as_ref()),
        Command::Redo => undo::redo(draft),
        Command::Drop => question::drop(draft),
        // A choice speaks for another message, so it is a decision of its own: see `message`.
        Command::Choose(_) => Err(ProblemKind::NoQuestion.into()),
        Command::Portions { name } => eaten::portions(draft, name),
        Command::Eaten { day, who } => eaten::eaten(draft, day, who.as_ref()),
        Command::Done => eaten::done(draft),
        Command::LastPlate => eaten::last_plate(draft),
        Command::Due => stock::due(draft),
        Command::PastDate => stock::past_date(draft),
        Command::Thawing => stock::thawing(draft),
        // Answered before, where anything was cautioned of.
        Command::Why => Err(ProblemKind::NotUnderstood.into()),
        Command::Fix(fix) => fix::fix(draft, fix),
        Command::Again(again) => again::again(draft, again),
        Command::NotYet { capability } => Err(ProblemKind::NotYet {
            capability: (*capability).into(),
        }
        .into()),
    }
}
