//! The advice to check the scale, when every dish counts to one side of its books.
//!
//! A lean breaks and forms again with every few counts; whoever was told of it has looked, or does not want to. So
//! what was said is kept for a season, and the same lean is not said again in it.

use chrono::Duration;

use super::super::super::answer::Note;
use super::super::super::change::Change;
use super::super::super::draft::Draft;
use super::super::super::ids::QuestionId;
use super::super::super::kitchen::{LEAN, OpenQuestion};

/// So long the same lean is not spoken of again.
const SEASON_DAYS: i64 = 90;

/// With this count all dishes lean one way, which was not said of late.
pub fn noticed(draft: &mut Draft) -> Option<Note> {
    let (dishes, less) = draft.kitchen.leaning(draft.input.said_at)?;
    let way = if less { "less" } else { "more" };
    let now = draft.input.now;
    let mut kept = draft.kitchen.questions.iter().filter(|it| it.about == LEAN);
    if kept.any(|it| it.words == way && it.expires_at >= now) {
        return None;
    }
    let over: Vec<QuestionId> = kept.map(|it| it.id).collect();
    for id in over {
        draft.push(Change::CloseQuestion(id));
    }
    draft.push(Change::Ask(OpenQuestion {
        id: QuestionId(draft.kitchen.next.question),
        member: draft.input.sender,
        message: draft.credit,
        about: LEAN.to_owned(),
        words: way.into(),
        said: None,
        options: Vec::new(),
        said_at: draft.input.said_at,
        expires_at: now + Duration::days(SEASON_DAYS),
        pointed: None,
        mentioned: true,
    }));
    Some(Note::CheckScale { dishes, less })
}
