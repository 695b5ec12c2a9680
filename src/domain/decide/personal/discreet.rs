//! What of an answer is not for those who read it. Looked at once, at the end of a decision, so that no verb can forget it.

use super::super::super::answer::{Answer, PlateView};
use super::super::super::cookbook::answer::CookbookAnswer;
use super::super::super::ids::MemberId;
use super::super::super::kitchen::Kitchen;
use super::super::super::personal::answer::{PersonalAnswer, TargetEvent};
use super::super::{Decision, Input};

pub fn keep(kitchen: &Kitchen, input: &Input, decision: &mut Decision) {
    let reader = Reader { kitchen, input };
    for answer in &mut decision.answers {
        if reader.must_not_hear(answer) {
            *answer = Answer::Personal(Box::new(PersonalAnswer::InPrivate));
            continue;
        }
        match answer {
            Answer::Portion(answer) => answer.plates.iter_mut().for_each(|it| reader.plate(it)),
            Answer::Day(answer) => {
                answer.numbers = reader.sees_numbers(answer.of);
                answer.plates.iter_mut().for_each(|it| reader.plate(it));
            }
            // Who is told no numbers is told none of what goes into a pot either.
            Answer::Batch(answer) => answer.view.numbers = kitchen.tells_numbers(input.sender),
            // The weights are what is offered; what they hold would tell what is on the plate once it is booked.
            Answer::Finder(answer) => {
                answer.numbers =
                    reader.sees_numbers(answer.of) && reader.sees_numbers(input.sender);
            }
            Answer::Personal(answer) => {
                if let PersonalAnswer::Targets(answer) = &mut **answer {
                    answer.numbers = reader.sees_numbers(answer.member);
                }
            }
            _ => {}
        }
    }
}

struct Reader<'a> {
    kitchen: &'a Kitchen,
    input: &'a Input,
}

impl Reader<'_> {
    /// The chat is this person's own with the bot.
    fn is_alone(&self, member: MemberId) -> bool {
        self.input.private && self.input.sender == member
    }

    fn sees_totals(&self, of: MemberId) -> bool {
        !self.kitchen.keeps_private(of) || self.is_alone(of)
    }

    fn sees_numbers(&self, of: MemberId) -> bool {
        self.kitchen.tells_numbers(of) && self.sees_totals(of)
    }

    /// What is on a plate is told by grams, if anything; what was told in private stays there.
    fn plate(&self, plate: &mut PlateView) {
        plate.numbers = self.sees_numbers(plate.of);
        if !self.sees_totals(plate.of) {
            plate.lines.retain(|line| !line.told_privately);
        }
    }

    /// It tells what somebody ate over a day or more, and is not for this chat.
    fn must_not_hear(&self, answer: &Answer) -> bool {
        let of = match answer {
            Answer::Day(answer) => answer.of,
            Answer::Cookbook(answer) if matches!(**answer, CookbookAnswer::Share(_)) => {
                self.input.sender
            }
            Answer::Personal(answer) => match &**answer {
                PersonalAnswer::Week(answer) => answer.of,
                PersonalAnswer::Sources(answer) => answer.whose,
                PersonalAnswer::Distance(answer) => answer.member,
                PersonalAnswer::Targets(answer) if answer.event == TargetEvent::Shown => {
                    answer.member
                }
                _ => return false,
            },
            _ => return false,
        };
        !self.sees_totals(of)
    }
}
