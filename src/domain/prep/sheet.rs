//! The sheet of a prep day: when each step of some dishes begins, so that all is ready at one time. The order is that of
//! `work.rs`; here minutes before the end become hours of the day.

use chrono::{Duration, NaiveDateTime, NaiveTime};

use super::work::{Step, Stove, Uses, early, order};

/// Burners of a stove of which nobody told. Common practice.
pub const BURNERS: u32 = 4;
/// Trays that go into an oven at once. Common practice.
pub const TRAYS: u32 = 2;

/// A step of a dish, as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct DishStep {
    pub words: String,
    pub step: Step,
}

/// A dish with its steps.
#[derive(Debug, Clone, PartialEq)]
pub struct DishSteps {
    pub dish: String,
    pub steps: Vec<DishStep>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct WorkSheet {
    pub ready: NaiveDateTime,
    /// It was asked for earlier than it can be.
    pub asked: Option<NaiveDateTime>,
    pub rows: Vec<SheetRow>,
    /// From then on somebody has to be at the stove or the board; what stands by itself may begin before.
    pub hands_from: Option<NaiveDateTime>,
    /// Dishes that have no steps.
    pub without: Vec<String>,
    pub stove: Stove,
    pub now: NaiveDateTime,
}

#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    pub begins: NaiveDateTime,
    pub ends: NaiveDateTime,
    pub dish: String,
    pub words: String,
    pub uses: Uses,
}

/// All ready at a time, or as soon as may be.
pub fn sheet(
    dishes: &[DishSteps],
    without: Vec<String>,
    stove: Stove,
    (asked, now): (Option<NaiveDateTime>, NaiveDateTime),
    quiet: Option<(NaiveTime, NaiveTime)>,
) -> WorkSheet {
    let plain: Vec<Vec<Step>> = dishes
        .iter()
        .map(|dish| dish.steps.iter().map(|known| known.step).collect())
        .collect();
    let tasks = order(&plain, stove);
    let early = early(&plain, &tasks);
    let minutes = |minutes: u32| Duration::minutes(i64::from(minutes));
    let soonest = now + minutes(early.all);
    let ready = asked.filter(|asked| *asked >= soonest).unwrap_or(soonest);
    let rows = tasks.iter().map(|task| {
        let dish = &dishes[task.dish];
        let begins = ready - minutes(task.begins);
        let uses = dish.steps[task.step].step.uses;
        // Nobody gets up at four to put beans into water: what begins by itself may begin in the evening before.
        let alone = task.step == 0 && uses == Uses::Nothing;
        let evening = quiet
            .filter(|_| alone)
            .and_then(|quiet| evening_before(begins, quiet));
        SheetRow {
            begins: evening.filter(|evening| *evening >= now).unwrap_or(begins),
            ends: ready - minutes(task.ends),
            dish: dish.dish.clone(),
            words: dish.steps[task.step].words.clone(),
            uses,
        }
    });
    let mut rows: Vec<SheetRow> = rows.collect();
    rows.sort_by_key(|row| row.begins);
    // Somebody puts it on, and stays near what is on the stove.
    let tended = |row: &&SheetRow| row.uses != Uses::Nothing;
    let hands_from = rows.iter().find(tended).map(|row| row.begins);
    WorkSheet {
        rows,
        hands_from,
        asked: asked.filter(|asked| *asked < soonest),
        ready,
        without,
        stove,
        now,
    }
}

/// When the quiet hours begin that a moment is in.
fn evening_before(
    moment: NaiveDateTime,
    (from, to): (NaiveTime, NaiveTime),
) -> Option<NaiveDateTime> {
    let (day, time) = (moment.date(), moment.time());
    match from <= to {
        true => (from..to).contains(&time).then(|| day.and_time(from)),
        false if time >= from => Some(day.and_time(from)),
        false => (time < to)
            .then(|| day.pred_opt())?
            .map(|day| day.and_time(from)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(hour: u32, minute: u32) -> NaiveDateTime {
        let day = chrono::NaiveDate::from_ymd_opt(2026, 10, 14).expect("a day");
        day.and_hms_opt(hour, minute, 0).expect("a time")
    }

    fn dish(name: &str, steps: &[(&str, u32, Uses)]) -> DishSteps {
        let step = |(words, minutes, uses): &(&str, u32, Uses)| DishStep {
            words: (*words).to_owned(),
            step: Step {
                minutes: *minutes,
                uses: *uses,
            },
        };
        DishSteps {
            dish: name.to_owned(),
            steps: steps.iter().map(step).collect(),
        }
    }

    const STOVE: Stove = Stove {
        hands: 1,
        burners: 1,
        trays: 1,
    };

    #[test]
    fn it_goes_backwards_from_when_all_is_ready() {
        let dal = dish(
            "dal",
            &[("soak", 480, Uses::Nothing), ("simmer", 35, Uses::Burner)],
        );
        let sheet = sheet(&[dal], Vec::new(), STOVE, (Some(at(18, 0)), at(8, 0)), None);
        let begins: Vec<NaiveDateTime> = sheet.rows.iter().map(|row| row.begins).collect();
        assert_eq!(begins, [at(9, 25), at(17, 25)]);
        assert_eq!((sheet.asked, sheet.hands_from), (None, Some(at(17, 25))));
    }

    #[test]
    fn what_soaks_overnight_is_put_in_before_the_quiet_hours() {
        let dal = dish(
            "dal",
            &[("soak", 480, Uses::Nothing), ("simmer", 35, Uses::Burner)],
        );
        let time = |hour| chrono::NaiveTime::from_hms_opt(hour, 0, 0).expect("a time");
        let quiet = Some((time(22), time(7)));
        let ready = at(12, 0) + Duration::days(1);
        let sheet = sheet(&[dal], Vec::new(), STOVE, (Some(ready), at(20, 0)), quiet);
        assert_eq!(sheet.rows[0].begins, at(22, 0));
        assert_eq!(sheet.rows[0].ends, at(11, 25) + Duration::days(1));
    }

    #[test]
    fn what_cannot_be_ready_by_then_is_ready_as_soon_as_may_be() {
        let dal = dish(
            "dal",
            &[("chop", 10, Uses::Hands), ("simmer", 35, Uses::Burner)],
        );
        let rice = dish("rice", &[("boil", 20, Uses::Burner)]);
        let sheet = sheet(
            &[dal, rice],
            Vec::new(),
            STOVE,
            (Some(at(8, 30)), at(8, 0)),
            None,
        );
        // One burner: 35 and 20 minutes one after the other; the chopping goes on beside the rice.
        assert_eq!((sheet.ready, sheet.asked), (at(8, 55), Some(at(8, 30))));
    }
}
