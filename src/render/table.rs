//! Who is at the table, and what was changed of it.

use serde_json::{Value, json};

use crate::domain::table::answer::{SeatView, TableAnswer, TableEvent};
use crate::domain::table::problem::TableProblem;

use super::clean::{capital, clean, name};
use super::page::Page;
use super::problem::Wording;

pub fn page(answer: &TableAnswer) -> Page {
    let mut page = Page::new();
    let Some(about) = &answer.about else {
        listed(&mut page, &answer.members);
        return page;
    };
    page.say(told(&answer.event, about));
    match &answer.event {
        TableEvent::Added => {
            page.say("What they have is written down by others:");
            page.example(&format!("140 dal for {}", name(&about.name)));
        }
        TableEvent::Left | TableEvent::Removed => {
            let who = if about.you { "you" } else { "they" };
            page.say(format!("What {who} ate stays in the books."));
            let keeper = answer.members.iter().find(|member| member.keeper);
            if let Some(keeper) = keeper.filter(|_| about.keeper) {
                page.say(format!("{} keeps the household now.", name(&keeper.name)));
            }
        }
        TableEvent::ToldApart { avoids, .. } => {
            if let Some(other) = avoids {
                let other = name(other);
                page.say(format!(
                    "What {other} cannot have is noted for {other}, not for you. Your own, for example:"
                ));
                page.example("I am allergic to peanuts");
            }
            page.say("Another name:");
            page.example("call me Alex");
        }
        _ => {}
    }
    page
}

fn told(event: &TableEvent, about: &SeatView) -> String {
    let own = about.you;
    let is = capital(&name(&about.name));
    match event {
        TableEvent::Listed => is,
        TableEvent::KeeperTold if own => "You keep the household.".to_owned(),
        TableEvent::KeeperTold => format!("{is} keeps the household."),
        TableEvent::Named { .. } if own => format!("You are {is} here from now on."),
        TableEvent::Named { before } => {
            format!("{} is {is} here from now on.", capital(&name(before)))
        }
        TableEvent::Nicknamed { name: nick } => {
            let who = if own {
                "You are".to_owned()
            } else {
                format!("{is} is")
            };
            format!("{who} {} here as well.", name(nick))
        }
        TableEvent::NicknamesDropped { names } => {
            let names: Vec<String> = names.iter().map(|nick| name(nick)).collect();
            let who = if own {
                "You are".to_owned()
            } else {
                format!("{is} is")
            };
            format!("{who} not {} here any more.", names.join(" or "))
        }
        TableEvent::Added => format!("{is} is at the table."),
        TableEvent::Back if own => "You are back at the table.".to_owned(),
        TableEvent::Back => format!("{is} is back at the table."),
        TableEvent::Left if own => "You have left the table.".to_owned(),
        TableEvent::Left | TableEvent::Removed => format!("{is} has left the table."),
        TableEvent::KeeperMade if own => "You keep the household from now on.".to_owned(),
        TableEvent::KeeperMade => format!("{is} keeps the household from now on."),
        TableEvent::ToldApart { called, .. } => format!(
            "Somebody else here is called {} too: you are {}.",
            name(called),
            name(&about.name)
        ),
    }
}

fn listed(page: &mut Page, members: &[SeatView]) {
    page.say("At the table:");
    for member in members {
        let mut told = vec![capital(&name(&member.name))];
        let nicknames: Vec<String> = member.nicknames.iter().map(|nick| name(nick)).collect();
        if !nicknames.is_empty() {
            told.push(format!("also {}", nicknames.join(", ")));
        }
        if member.keeper {
            told.push("keeper".to_owned());
        }
        if !member.chats {
            told.push("does not chat".to_owned());
        }
        page.item(told.join(", "));
    }
}

pub fn data(answer: &TableAnswer) -> Value {
    let event = match &answer.event {
        TableEvent::Listed => "listed",
        TableEvent::KeeperTold => "keeper_told",
        TableEvent::Named { .. } => "named",
        TableEvent::Nicknamed { .. } => "nicknamed",
        TableEvent::NicknamesDropped { .. } => "nicknames_dropped",
        TableEvent::Added => "added",
        TableEvent::Back => "back",
        TableEvent::Left => "left",
        TableEvent::Removed => "removed",
        TableEvent::KeeperMade => "keeper_made",
        TableEvent::ToldApart { .. } => "told_apart",
    };
    let member = |member: &SeatView| {
        let nicknames: Vec<String> = member.nicknames.iter().map(|nick| clean(nick)).collect();
        json!({
            "member": clean(&member.name),
            "nicknames": nicknames,
            "keeper": member.keeper,
            "chats": member.chats,
        })
    };
    json!({
        "kind": "people",
        "event": event,
        "about": answer.about.as_ref().map(|about| clean(&about.name)),
        "members": answer.members.iter().map(member).collect::<Vec<_>>(),
    })
}

pub fn problem(problem: &TableProblem) -> Wording {
    match problem {
        TableProblem::NameTaken { name: wanted, by } => {
            let (wanted, by) = (name(wanted), name(by));
            let says = match wanted == by {
                true => format!("{wanted} is taken: somebody here is called so."),
                false => format!("{wanted} is taken: {by} is called so."),
            };
            Wording::new(says)
                .lead("Another one, for example:")
                .example(format!("call me {wanted} B"))
        }
        TableProblem::KeeperOnly { keeper } => {
            let keeper = name(keeper);
            Wording::new(format!(
                "{keeper} keeps this household: that is for {keeper} to do."
            ))
        }
        TableProblem::NoNickname { who, name: None } => {
            Wording::new(format!("{} has no nickname here.", name(who)))
        }
        TableProblem::NoNickname {
            who,
            name: Some(nick),
        } => Wording::new(format!("{} is not called {} here.", name(who), name(nick))),
        TableProblem::IsHere { name: who } => {
            Wording::new(format!("{} is at the table already.", name(who)))
        }
        TableProblem::KeepsAlready { name: who } => {
            Wording::new(format!("{} keeps the household already.", name(who)))
        }
        TableProblem::DoesNotChat { name: who } => Wording::new(format!(
            "{} does not chat, so cannot keep the household.",
            name(who)
        )),
        TableProblem::OnlyOne => {
            Wording::new("Nobody else here chats, so the table would be empty.")
        }
        TableProblem::NotAtTable { keeper, removed } => not_at_table(keeper.as_deref(), *removed),
    }
}

fn not_at_table(keeper: Option<&str>, removed: bool) -> Wording {
    match (removed, keeper) {
        (true, Some(keeper)) => Wording::new(format!(
            "You are not at this table any more. {} keeps the household and can add you again.",
            name(keeper)
        )),
        _ => Wording::new("You are not at this table any more.")
            .lead("In the household's own chat:")
            .example("I am back at the table"),
    }
}
