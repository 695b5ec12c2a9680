//! A message that changes one plate several times tells of it once, as it is in the end.

use super::super::answer::{Answer, Note};
use super::super::ids::AccountId;

/// Leave out every view of a plate that a later answer shows again; what was noted beside it goes along.
pub fn keep_last(answers: &mut Vec<Answer>) {
    let mut shown: Vec<AccountId> = Vec::new();
    let mut notes: Vec<Note> = Vec::new();
    for at in (0..answers.len()).rev() {
        let Answer::Portion(answer) = &mut answers[at] else {
            continue;
        };
        let again = |id: AccountId| shown.contains(&id);
        let had = answer.plates.len();
        answer.plates.retain(|plate| !again(plate.id));
        shown.extend(answer.plates.iter().map(|plate| plate.id));
        if answer.plates.is_empty() && had > 0 {
            notes.splice(0..0, std::mem::take(&mut answer.notes));
            answers.remove(at);
        }
    }
    let last = answers.iter_mut().find_map(|answer| match answer {
        Answer::Portion(answer) => Some(answer),
        _ => None,
    });
    if let Some(last) = last {
        last.notes.splice(0..0, notes);
    }
}
